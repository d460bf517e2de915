"""Typos of the pen in the words of a name: what an unknown word surely stands for, and what it may stand for.

A token that no phrase knows is tried as two words run together ("oatmilk"), as a compound of another language and as a
typo of one letter ("parmesean"). What leaves a choice is asked: a short word with another letter in it, a typo between
two foods, a compound with a letter doubled.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache
from itertools import chain

from labeler.allergens.foreign_words import compound, load_tongues
from labeler.allergens.vocabulary import Vocabulary, load_vocabulary
from labeler.foods.matching.name_words import word_kinds
from labeler.foods.matching.search import load_index
from labeler.foods.matching.typos import correct_typos, is_known
from labeler.parsing.line_words import ADJECTIVES, FORMS, PREPARATIONS, SHAPES
from labeler.parsing.units import SPELLINGS
from labeler.text.tokens import fold, tokens

__all__ = [
    "COMMON",
    "HEADS",
    "SHORTEST_JOINED",
    "allergens_near",
    "is_unknown",
    "is_whole",
    "kitchen_words",
    "meant_in_text",
    "meant_perhaps",
    "repaired",
]

SHORTEST_TYPO = 7
"""Letters below which a token that the food table knows is no typo."""
SURE_TYPO = 8
"""Letters from which a typo of one letter leaves no doubt what was meant; of a shorter one it is asked."""
SHORTEST_FOREIGN = 4
"""Letters up to which a word of another language is too short to be told in a typo."""
SHORTEST_STEM = 4
"""Letters from which a word that others are formed of is told."""
COMMON = 3
"""Descriptions of the food table, or phrases, from which a word is a common one and no typo of a rare food's."""
SHORTEST_JOINED = 5
"""Letters below which a token is not two words run together."""
TWO_TYPOS_FROM = 6
"""Letters from which an unknown token may have two letters wrong."""
HEADS = frozenset(
    fold(word)
    for word in (
        "oil milk butter cheese flour bread cake nut nuts sauce cream meat noodle noodles pasta yogurt biscuit cookie "
        "cracker dressing paste seed seeds bean beans starch powder"
    ).split()
)
"""Words that others run together with ("oatmilk", "cheesebread"); no other ending is cut off an unknown token."""


@lru_cache(maxsize=8192)
def repaired(word: str) -> tuple[str, ...]:
    """The known words that an unknown one surely stands for; empty where there is nothing so near."""
    vocabulary = load_vocabulary()
    if len(word) < SHORTEST_JOINED:
        return ()
    for at in range(3, len(word) - 2):
        left, right = word[:at], word[at:]
        if f"{left} {right}" in vocabulary.entries:
            return (left, right)
    for at in range(3, len(word) - 2):
        left, right = word[:at], word[at:]
        if right in HEADS and _is_food(left, vocabulary):
            return (left, right)
    if word not in kitchen_words() and (parts := compound(word)) and (is_whole(parts) or not is_known(word)):
        return parts
    if len(word) < SURE_TYPO or word in kitchen_words():
        return ()
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    pool = _by_first_letter().get(word[0], ())
    near = [known for known, _, _ in process.extract(word, pool, scorer=OSA.distance, score_cutoff=1)]
    of_one_kind = len({vocabulary.entries[known] for known in near}) == 1
    return (near[0],) if of_one_kind else ()  # of two foods it is open which is meant: "macarono"


@cache
def _method_words() -> frozenset[str]:
    """The words of every method, folded: verbs, vessels, small words."""
    from labeler.parsing.instructions.actions import actions
    from labeler.parsing.instructions.lexicon import class_words

    words = chain(*class_words().values(), *(one.verbs for one in actions().values()))
    return frozenset(token for word in words for token in tokens(word)) | kitchen_words()


@cache
def _plain_words() -> frozenset[str]:
    """The words of every method, and those that the vocabulary knows."""
    return _method_words() | load_vocabulary().known_words


@lru_cache(maxsize=8192)
def meant_in_text(word: str) -> tuple[tuple[str, ...], ...]:
    """What an unknown word of a sentence may be a typo of by one letter; empty for a form of a word of every method."""
    plain = _plain_words()
    if len(word) <= SHORTEST_JOINED - 1 or not is_unknown(word) or word in plain:
        return ()
    if any(word.endswith(end) and _stem_known(word.removesuffix(end), plain) for end in ENDINGS):
        return ()
    from rapidfuzz.distance import OSA

    return tuple(_meant(known) for known in _near(word)
                 if OSA.distance(word, known) <= 1 and known[0] == word[0])  # fmt: skip


@lru_cache(maxsize=4096)
def allergens_near(word: str) -> tuple[str, ...]:
    """The allergen's words of one letter more, less or other than a known word of another language: "pasa", "pasta"."""
    from rapidfuzz.distance import OSA

    return tuple(known for known in load_vocabulary().allergen_words
                 if len(known) >= SHORTEST_JOINED and known[0] == word[:1]
                 and OSA.distance(word, known, score_cutoff=1) == 1)  # fmt: skip


ENDINGS = ("r", "er", "st", "est", "ing", "ed", "d", "ly", "s", "y")
"""Endings that English adds to words."""


def _stem_known(stem: str, plain: frozenset[str]) -> bool:
    if len(stem) < SHORTEST_STEM:
        return False
    doubled = stem[-1] == stem[-2]  # "trimming"
    return stem in plain or f"{stem}e" in plain or (doubled and stem[:-1] in plain)


@cache
def _by_first_letter() -> dict[str, tuple[str, ...]]:
    """The vocabulary's single words by their first letter: a typo keeps it."""
    found: dict[str, list[str]] = {}
    for word in load_vocabulary().single_words:
        found.setdefault(word[0], []).append(word)
    return {letter: tuple(several) for letter, several in found.items()}


@cache
def _typo_candidates() -> dict[int, list[str]]:
    """The words that a typo may be meant for, by their letters: the vocabulary's and those of other languages."""
    pool = {length: list(several) for length, several in load_vocabulary().words_by_length.items()}
    for word in load_tongues().phrases:
        if len(word) > SHORTEST_FOREIGN and word.isalpha() and word.isascii():
            pool.setdefault(len(word), []).append(word)
    return pool


@cache
def _candidates_about(letters: int, typos: int) -> tuple[str, ...]:
    """Those of so many letters, or of as many more or less as there may be typos."""
    pool = _typo_candidates()
    return tuple(known for length in range(letters - typos, letters + typos + 1) for known in pool.get(length, ()))


def _meant(word: str) -> tuple[str, ...]:
    """The English tokens of a word of the pool."""
    return (word,) if word in load_vocabulary().known_words else load_tongues().phrases[word]


@lru_cache(maxsize=8192)
def meant_perhaps(word: str, *, of_what: bool = False) -> tuple[tuple[str, ...], ...]:
    """The tokens of the known words that an unknown one may be a typo of; empty for a word that other packages know.

    One letter is enough in a short word; a longer one may have two, but not where a plain food is nearer. Where the
    word tells `of_what` the next one is ("sesemi seeds"), one that only describes is no plain food.
    """
    return (*map(_meant, _near(word, of_what=of_what)), *(_compounds_near(word) if is_unknown(word) else ()))


def _compounds_near(word: str) -> Iterator[tuple[str, ...]]:
    """The compounds that an unknown word is with one letter doubled, or with a double one single."""
    if len(word) < SHORTEST_TYPO:
        return
    spots = range(1, len(word) - 1)
    doubled = (word[:at] + word[at] + word[at:] for at in spots)
    single = (word[:at] + word[at + 1 :] for at in spots if word[at] == word[at - 1])
    for typo in (*doubled, *single):
        parts = compound(typo)
        if parts and parts != compound(word) and is_whole(parts):
            yield parts


def _near(word: str, *, of_what: bool = False) -> tuple[str, ...]:
    if (len(word) < SHORTEST_TYPO and is_known(word)) or word in kitchen_words():
        return ()
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    forms = (word, word.removesuffix("s")) if word.endswith("s") else (word,)
    typos = 1 if len(word) < TWO_TYPOS_FROM else 2
    near: dict[str, float] = {}
    for form in forms:
        close = _candidates_about(len(form), typos)
        for known, distance, _ in process.extract(form, close, scorer=OSA.distance, score_cutoff=typos, limit=None):
            if distance > 1 and known not in load_vocabulary().known_words:
                continue  # of another language: one letter at most
            if (0 < distance <= 1 and _begins_alike(form, known)) or (distance > 1 and form[0] == known[0]):
                near[known] = min(near.get(known, distance), distance)
    if not near:
        return ()
    mended = correct_typos([word]).get(word)
    if mended is not None and fold(mended) not in load_vocabulary().allergen_words and _is_plain(fold(mended)):
        # "brown suger" is sugar and no sauger; "anchoies" may be anchovies as well as anchos, "hareg" herring
        rare = mended not in load_index().number or len(load_index().rows_of(mended)) < COMMON
        return tuple(known for known, distance in near.items()
                     if distance <= 1 and (rare or is_known(known) or sorted(known) == sorted(word)))  # fmt: skip
    plain = min((distance for known, distance in near.items() if _is_plain(known, of_what)), default=typos + 1)
    return tuple(known for known, distance in near.items() if distance <= max(1, plain - 1) or distance < plain)


@cache
def kitchen_words() -> frozenset[str]:
    """Cuts, actions, forms and measures, folded: words of every recipe, and typos of no food."""
    every = (*PREPARATIONS, *FORMS, *SHAPES, *ADJECTIVES, *SPELLINGS, *word_kinds())
    return frozenset(fold(word.lower()) for word in every if word.isalpha())


def _is_plain(word: str, of_what: bool = False) -> bool:
    """True for a word that names a food without an allergen; of what something is no describing word tells."""
    entries = [load_vocabulary().entries.get(one) for one in (word, *load_tongues().phrases.get(word, ()))]
    known = [entry for entry in entries if entry is not None and not (of_what and entry.kind == "modifier")]
    return bool(known) and not any(entry.contains or entry.possible for entry in known)


def _begins_alike(word: str, meant: str) -> bool:
    """True where both begin with one letter, or the first one was lost, doubled, misheard or changed places."""
    return (
        word[0] == meant[0]
        or word in (meant[1:], f"{meant[0]}{meant}")
        or word[:2] == meant[1::-1]
        or word[1:] == meant
        or (len(word) >= SHORTEST_JOINED and word[1:] == meant[1:])
    )


def _is_food(word: str, vocabulary: Vocabulary) -> bool:
    entry = vocabulary.entries.get(word)
    return entry is not None and entry.kind not in ("modifier", "generic")


def is_unknown(word: str) -> bool:
    """True for a token that neither the vocabulary nor the food table knows."""
    return len(word) > 2 and word.isalpha() and word not in load_vocabulary().known_words and not is_known(word)


def is_whole(parts: tuple[str, ...]) -> bool:
    """True where every part of a mended word is a known one."""
    return all(part in load_vocabulary().known_words or is_known(part) for part in parts)
