"""Which phrases of the vocabulary a name holds.

A phrase that lies inside a longer one says nothing; phrases that only overlap both count, so that in "almond milk
chocolate" neither the almond nor the milk is lost. A name in index order ("squash, butternut, raw") is read in
plain order too. A token that no phrase knows is tried as two words run together ("oatmilk") and as a slip of one
letter ("parmesean") before it counts as unknown; a short one that may be a slip of an allergen's word is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise

from labeler.allergens.tongues import compound, in_english
from labeler.allergens.vocabulary import Entry, Vocabulary, load_vocabulary
from labeler.allergens.words import BREAK, fold
from labeler.foods.spelling import is_known, respelled
from labeler.foods.words import word_kinds
from labeler.parsing.line_words import ADJECTIVES, FORMS, PREPARATIONS, SHAPES
from labeler.parsing.units import SPELLINGS

__all__ = ["LINKING", "SLIP", "STOPS", "Hit", "hits", "is_unknown", "match", "unread_words", "walk_left"]

SHORTEST_SLIP = 7
"""Letters below which a token that the food table knows is no slip."""
SURE_SLIP = 8
"""Letters from which a slip of one letter leaves no doubt what was meant; of a shorter one it is asked."""
SHORTEST_JOINED = 5
"""Letters below which a token is not two words run together."""
TWO_SLIPS_FROM = 6
"""Letters from which an unknown token may have two letters wrong."""
LONGEST_SEGMENT = 3
LINKING = frozenset(
    {"with", "without", "and", "or", "for", "in", "from", "of", "to", "made", "added", "including", "no"}
)
"""Words that no modifier in index order holds: such a segment is not read before the first."""
HEADS = frozenset(
    fold(word)
    for word in (
        "oil milk butter cheese flour bread cake nut nuts sauce cream meat noodle noodles pasta yogurt biscuit cookie "
        "cracker dressing paste seed seeds bean beans starch powder"
    ).split()
)
"""Words that others run together with ("oatmilk", "cheesebread"); no other ending is cut off an unknown token."""


STOPS = frozenset({"with", "and", "or", "in", "into", "from", "for", "to", "plus", "on", "of", "over"})
"""Words at which what stands before a food ends."""
OPEN = "the name leaves it open"
SLIP = "it may be a slip of spelling"


@dataclass(slots=True)
class Hit:
    """A phrase found in tokens [start, end) of a name.

    `words` are the tokens in the order in which it stands; `doubt` says why it may not be meant; a `muted` phrase says
    no more for certain than another does; `read_as` tells of a slip that was mended; where `added` is false only what
    it certainly holds counts.
    """

    start: int
    end: int
    entry: Entry
    phrase: str
    words: list[str]
    doubt: str = ""
    muted: bool = False
    read_as: str = ""
    added: bool = True


def hits(words: list[str], vocabulary: Vocabulary) -> list[Hit]:
    """All phrases that lie inside no longer one, in order."""
    entries, longest = vocabulary.entries, vocabulary.longest
    found: list[Hit] = []
    reach = 0
    count = len(words)
    for start in range(count):
        first = words[start]
        most = longest.get(first)
        if most is None:
            continue
        for length in range(min(most, count - start), 0, -1):
            if start + length <= reach:
                break
            phrase = first if length == 1 else " ".join(words[start : start + length])
            entry = entries.get(phrase)
            if entry is not None:
                if start < reach and _only_describes(words[found[-1].start : start], entries):
                    found.pop()
                found.append(Hit(start, start + length, entry, phrase, words))
                reach = start + length
                break
    return found


def _only_describes(words: list[str], entries: dict[str, Entry]) -> bool:
    """True for words that leave a food as it is: "fresh spaghetti" gives way to "spaghetti squash"."""
    return all((entry := entries.get(word)) is not None and entry.kind == "modifier" for word in words)


def walk_left(words: list[str], at: int, vocabulary: Vocabulary) -> Iterator[int]:
    """The positions left of token `at` that only words without weight ("organic", "canned") separate from it."""
    yield at
    while at > 0:
        word = words[at - 1]
        if word in STOPS:
            return
        entry = vocabulary.entries.get(word)
        if entry is None or (entry.kind != "modifier" and entry.base != "passes"):
            return
        at -= 1
        yield at


@lru_cache(maxsize=8192)
def _repaired(word: str) -> tuple[str, ...]:
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
    if not is_known(word) and word not in _kitchen_words() and (parts := compound(word)):
        return parts
    if len(word) < SURE_SLIP or word in _kitchen_words():
        return ()
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    near = process.extractOne(word, _by_first_letter().get(word[0], ()), scorer=OSA.distance, score_cutoff=1)
    return () if near is None else (near[0],)


@cache
def _by_first_letter() -> dict[str, tuple[str, ...]]:
    """The vocabulary's single words by their first letter: a slip keeps it."""
    found: dict[str, list[str]] = {}
    for word in load_vocabulary().single_words:
        found.setdefault(word[0], []).append(word)
    return {letter: tuple(several) for letter, several in found.items()}


@lru_cache(maxsize=8192)
def _perhaps(word: str) -> tuple[str, ...]:
    """The known words that an unknown one may be a slip of; empty for a word that other rooms know.

    One letter is enough in a short word; a longer one may have two, but not where a plain food is nearer.
    """
    if (len(word) < SHORTEST_SLIP and is_known(word)) or word in _kitchen_words():
        return ()
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    forms = (word, word.removesuffix("s")) if word.endswith("s") else (word,)
    slips = 1 if len(word) < TWO_SLIPS_FROM else 2
    near: dict[str, float] = {}
    for form in forms:
        pool = load_vocabulary().words_by_length
        close = [known for length in range(len(form) - slips, len(form) + slips + 1) for known in pool.get(length, ())]
        for known, distance, _ in process.extract(form, close, scorer=OSA.distance, score_cutoff=slips, limit=None):
            if (distance <= 1 and _begins_alike(form, known)) or (distance > 1 and form[0] == known[0]):
                near[known] = min(near.get(known, distance), distance)
    if not near:
        return ()
    mended = respelled([word]).get(word)
    if mended is not None and fold(mended) not in load_vocabulary().allergen_words and _is_plain(fold(mended)):
        # "brown suger" is sugar and no sauger; "anchoies" may be anchovies as well as anchos
        return tuple(known for known, distance in near.items() if distance <= 1 and is_known(known))
    plain = min((distance for known, distance in near.items() if _is_plain(known)), default=slips + 1)
    return tuple(known for known, distance in near.items() if distance <= max(1, plain - 1) or distance < plain)


@cache
def _kitchen_words() -> frozenset[str]:
    """Cuts, deeds, forms and measures, folded: words of every recipe, and slips of no food."""
    every = (*PREPARATIONS, *FORMS, *SHAPES, *ADJECTIVES, *SPELLINGS, *word_kinds())
    return frozenset(fold(word.lower()) for word in every if word.isalpha())


def _is_plain(word: str) -> bool:
    """True for a word that the vocabulary knows as a food without an allergen."""
    entry = load_vocabulary().entries.get(word)
    return entry is not None and not entry.contains and not entry.possible


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


def _unknown(words: list[str], found: list[Hit], vocabulary: Vocabulary) -> list[int]:
    covered = {at for hit in found for at in range(hit.start, hit.end)}
    return [
        at
        for at, word in enumerate(words)
        if at not in covered and word not in vocabulary.known_words and len(word) > 2 and word.isalpha()
    ]


def _with_repairs(words: list[str], vocabulary: Vocabulary, aside: bool) -> tuple[list[str], list[Hit]]:
    """The words as they are read in the end, and their hits.

    Words of other languages are read in English; a mended token gives its hits in place of the slip where it is sure,
    else beside it in doubt.
    """
    words, read = in_english(words)
    mended = list(read)
    found = hits(words, vocabulary)
    perhaps: list[tuple[int, str]] = []
    for at in reversed(_unknown(words, found, vocabulary)):
        better = _repaired(words[at])
        if better and not aside and not is_whole(better) and _perhaps(words[at]):
            better = ()  # a slip in a compound rather than an unknown kind of its last part
        if better:
            mended.append((words[at], " ".join(better)))
            words = [*words[:at], *better, *words[at + 1 :]]
            perhaps = [(other + len(better) - 1, meant) for other, meant in perhaps]
        elif not aside:
            perhaps += [(at, meant) for meant in _perhaps(words[at])]
    if mended:
        found = hits(words, vocabulary)
        for slip, meant in mended:
            for hit in found:
                if meant in hit.phrase or hit.phrase in meant:
                    hit.read_as = f"{slip} read as {meant}"
                    if not is_whole(tuple(meant.split(" "))):
                        hit.doubt = OPEN  # an unknown kind of what its last part names
    doubtful: list[Hit] = []
    for at, meant in perhaps:
        for hit in hits([*words[:at], meant, *words[at + 1 :]], vocabulary):
            if hit.start <= at < hit.end and (hit.entry.contains or hit.entry.possible):
                hit.read_as, hit.doubt = f"{words[at]} read as {meant}", SLIP
                doubtful.append(hit)
    return words, [*found, *doubtful]


def unread_words(words: list[str]) -> tuple[str, ...]:
    """The tokens of a name that no list knows, and that no slip and no other language explains."""
    vocabulary = load_vocabulary()
    words, _ = in_english(words)
    left = (words[at] for at in _unknown(words, hits(words, vocabulary), vocabulary))
    return tuple(
        word for word in left
        if is_unknown(word) and word not in _kitchen_words() and not ((parts := _repaired(word)) and is_whole(parts))
    )  # fmt: skip


def is_whole(parts: tuple[str, ...]) -> bool:
    """True where every part of a mended word is a known one."""
    return all(part in load_vocabulary().known_words or is_known(part) for part in parts)


def _straddles(inside: set[int], other: Hit) -> bool:
    """True where a phrase of the name lies partly in and partly out of the tokens `inside`."""
    shared = sum(at in inside for at in range(other.start, other.end))
    return 0 < shared < other.end - other.start


def _index_order(words: list[str], found: list[Hit], vocabulary: Vocabulary) -> list[Hit]:
    """The hits with those that a later segment gives when it is read before the first ("squash, butternut")."""
    cuts = [-1, *(at for at, word in enumerate(words) if word == BREAK), len(words)]
    segments = [range(start + 1, end) for start, end in pairwise(cuts) if end > start + 1]
    for segment in segments[1:]:
        if len(segment) > LONGEST_SEGMENT or not LINKING.isdisjoint(words[at] for at in segment):
            continue
        order = [*segment, *segments[0]]
        seam = len(segment)
        view = [words[at] for at in order]
        for other_segment in segments[1:]:
            if other_segment is not segment:
                view += [BREAK, *(words[at] for at in other_segment)]
        for hit in hits(view, vocabulary):
            if not hit.start < seam < hit.end:
                continue
            inside = {order[at] for at in range(hit.start, hit.end)}
            if any(_straddles(inside, other) for other in found if other.words is words):
                continue
            says = {allergen for allergen, _ in hit.entry.contains}
            kept = []
            for other in found:
                if other.words is not words or not inside.issuperset(range(other.start, other.end)):
                    kept.append(other)
                elif hit.entry.contains:
                    other.muted = says.issuperset(allergen for allergen, _ in other.entry.contains)
                    other.doubt = "" if other.muted else OPEN
                    kept.append(other)
            found = [*kept, hit]
    return found


def match(words: list[str], vocabulary: Vocabulary, *, aside: bool = False) -> tuple[list[str], list[Hit]]:
    """Everything that the tokens of one name hold; in an aside, which is not of food alone, a short slip is none.

    Returns the tokens as they are read, with slips mended and other languages in English, and the phrases in them.
    """
    words, found = _with_repairs(words, vocabulary, aside)
    return words, _index_order(words, found, vocabulary) if BREAK in words else found
