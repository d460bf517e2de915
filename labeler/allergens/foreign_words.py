"""Food words of other languages in English: "chapelure" is breadcrumbs, "Dinkelvollkornmehl" spelt wholemeal flour.

``tongues.csv`` gives the commonest words of ten languages, and of some romanised ones, with the English words to read
in their place. A phrase that the vocabulary has itself is never replaced, nor a single word that its phrases hold. The
Germanic languages run their words together; a compound is taken apart where its parts are words of the table.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

from labeler.allergens.vocabulary import load_vocabulary
from labeler.data_files import data_folder, data_rows
from labeler.text.tokens import BREAK, tokens

__all__ = ["Tongues", "compound", "in_english", "load_tongues"]

DATA = data_folder("labeler.allergens") / "tongues.csv"
ROMANISED = "asia"
"""The column whose words are written apart or together: "hua sheng", "huasheng"."""
SHORTEST_TOGETHER = 5
"""Letters from which words written apart are read as one."""
MOST_APART = 3
"""Words up to which a romanised one may be written apart."""
GERMANIC = ("de", "nl", "sv", "da", "no")
LINKS = ("", "s", "n", "en", "e", "er", "es")
"""What stands between the parts of a compound."""
SHORTEST_STEM = 3
SHORTEST_NAMED = 4
"""Letters from which a first part alone says what may be in the food."""
SHORTEST_HEAD = 4
"""Letters from which a last part alone says what the food is, whatever the part before it means."""
JOINING = frozenset({"with", "and", "of", "in"})
"""English of the small words that are read only beside another word of a foreign language."""
HOMOGRAPHS = frozenset(
    "blanch bouquet boudoir clara colin file papa pastel rape sale tara bolo alla coque couteau".split()
)
"""Words of the table that English has as well, with another meaning."""
ALONE = frozenset({"agg", "ail", "riz", "ost", "ryz", "kex", "noz", "uyu", "eau", "lok"})
"""Short words that no other language has."""
PARTICLES = frozenset(
    {"di", "de", "d", "da", "del", "della", "dei", "du", "des", "al", "au", "aux", "alla", "con", "w", "z"}
)
"""Small words by which a phrase of known words is looked up as one of another language: "pasta di acciughe"."""


@dataclass(frozen=True)
class Tongues:
    """The table by its folded phrases.

    `phrases` gives the English tokens of a phrase; `longest` the most tokens of a phrase by its first; `stems` the
    English tokens of the single words of the Germanic languages; `together` those of romanised words by their letters
    without a space.
    """

    phrases: dict[str, tuple[str, ...]]
    longest: dict[str, int]
    stems: dict[str, tuple[str, ...]]
    together: dict[str, tuple[str, ...]]


@cache
def load_tongues() -> Tongues:
    """The table, read once, when the first word comes that the vocabulary does not know."""
    phrases: dict[str, tuple[str, ...]] = {}
    longest: dict[str, int] = {}
    stems: dict[str, tuple[str, ...]] = {}
    together: dict[str, tuple[str, ...]] = {}
    known = load_vocabulary().entries
    for row in data_rows(DATA):
        english = tuple(tokens(row.pop("english")))
        for language, cell in row.items():
            for phrase in filter(None, cell.split("|")):
                words = tokens(phrase.removesuffix("-"))
                found = " ".join(words)
                if len(words) == 1 and language in GERMANIC and len(found) >= 2 and english[0] not in JOINING:
                    stems.setdefault(found, english)
                    if phrase.endswith("s") and not found.endswith("s"):
                        stems.setdefault(f"{found}s", english)  # "laks" is no plural
                if found not in known and not phrase.endswith("-"):
                    phrases.setdefault(found, english)
                    longest[words[0]] = max(longest.get(words[0], 0), len(words))
                if language == ROMANISED:
                    together.setdefault("".join(words), english)
    return Tongues(phrases, longest, stems, together)


def in_english(words: list[str]) -> tuple[list[str], tuple[tuple[str, str], ...]]:
    """The tokens with the foreign phrases among them in English, and each phrase with what is read in its place."""
    vocabulary = load_vocabulary()
    known = vocabulary.entries
    if PARTICLES.isdisjoint(words) and all(word in known or not word.isalpha() for word in words if word != BREAK):
        return words, ()
    table = load_tongues()
    spans: list[tuple[int, int, tuple[str, ...]]] = []
    at = 0
    while at < len(words):
        for length in range(min(table.longest.get(words[at], 0), len(words) - at), 0, -1):
            english = table.phrases.get(" ".join(words[at : at + length]))
            if english is not None and not _inside_phrase(words, at, at + length):
                spans.append((at, at + length, english))
                at += length - 1
                break
        else:
            apart = _written_apart(words, at)
            if apart is not None:
                spans.append(apart)
                at = apart[1] - 1
        at += 1
    if all(_needs_company(words, span) for span in spans):
        return words, ()
    texts: list[str] = []
    read: list[tuple[str, str]] = []
    reach = 0
    for start, end, english in spans:
        texts += [*words[reach:start], *english]
        read.append((" ".join(words[start:end]), " ".join(english)))
        reach = end
    return [*texts, *words[reach:]], tuple(read)


def _written_apart(words: list[str], at: int) -> tuple[int, int, tuple[str, ...]] | None:
    """A romanised word of which token `at` is the first syllable, in English: "hua sheng", "dou ban jiang"."""
    vocabulary, together = load_vocabulary(), load_tongues().together
    for length in range(min(MOST_APART, len(words) - at), 1, -1):
        several = words[at : at + length]
        joined = "".join(several)
        unknown = sum(word not in vocabulary.known_words for word in several)
        least = SHORTEST_TOGETHER if unknown == length else SHORTEST_TOGETHER + 2
        if not unknown or len(joined) < least or BREAK in several or _inside_phrase(words, at, at + length):
            continue
        if joined in together:
            return at, at + length, together[joined]
        if joined in vocabulary.entries:
            return at, at + length, (joined,)
    return None


def _inside_phrase(words: list[str], first: int, end: int) -> bool:
    """True for tokens of a longer phrase that the vocabulary has: the "polvo" of "leche en polvo"."""
    vocabulary = load_vocabulary()
    for start in range(max(0, first - 3), first + 1):
        for length in range(end - first + 1, vocabulary.longest.get(words[start], 1) + 1):
            if start + length >= end and " ".join(words[start : start + length]) in vocabulary.entries:
                return True
    return False


def _needs_company(words: list[str], span: tuple[int, int, tuple[str, ...]]) -> bool:
    """True for a word that is read as foreign only beside another: a small one, or one that English has as well."""
    start, end, english = span
    word = words[start]
    if english[0] in JOINING:
        return True
    if end - start > 1:
        return False
    return word in HOMOGRAPHS or (len(word) <= SHORTEST_STEM and word not in ALONE)


@lru_cache(maxsize=4096)
def compound(word: str) -> tuple[str, ...]:
    """The English tokens of a compound; empty where it is none.

    Where only the last part is known, what stands before it is kept as it is: an unknown kind of that food.
    """
    stems = load_tongues().stems
    whole = _parts(word) or _parts(f"{word}s")  # a token has lost the "s" of "senapssås"
    if whole:
        return tuple(token for part in whole for token in part)
    for start in range(SHORTEST_STEM, len(word) - SHORTEST_HEAD + 1):
        head = word[start:]
        if head in stems and len(head) >= SHORTEST_HEAD:
            return (*_first_known(word[:start]), *stems[head])
    return _named_first(word)


def _named_first(word: str) -> tuple[str, ...]:
    """The allergen's word that a word begins with, and the rest of it: "tintenfisch" of "Tintenfischringe"."""
    vocabulary, stems = load_vocabulary(), load_tongues().stems
    for end in range(len(word) - SHORTEST_HEAD, SHORTEST_NAMED - 1, -1):
        entry = vocabulary.entries.get(word[:end])
        if word[:end] in stems or (entry is not None and entry.kind == "source" and entry.contains):
            return (*stems.get(word[:end], (word[:end],)), word[end:])
    return ()


def _first_known(word: str) -> tuple[str, ...]:
    """The stem that an unknown first part begins with, and the rest of it: the rye of "Roggenmischbrot"."""
    stems = load_tongues().stems
    for end in range(len(word) - 1, SHORTEST_HEAD - 1, -1):
        if word[:end] in stems:
            return (*stems[word[:end]], word[end:])
    return (word,)


def _parts(word: str, *, first: bool = True) -> list[tuple[str, ...]] | None:
    """The parts of a word that are all stems, longest first; None where it is no such compound."""
    stems = load_tongues().stems
    if not first and word in stems:
        return [stems[word]]
    for end in range(len(word) - 2, SHORTEST_STEM - 2, -1):
        left = word[:end]
        if left not in stems:
            continue
        for link in LINKS:
            rest = word[end:]
            if rest.startswith(link) and len(rest) - len(link) >= 2:
                behind = _parts(rest[len(link) :], first=False)
                if behind is not None:
                    return [stems[left], *behind]
    return None
