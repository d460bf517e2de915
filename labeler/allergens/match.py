"""Which phrases of the vocabulary a name holds.

A phrase that lies inside a longer one says nothing; phrases that only overlap both count, so that in "almond milk
chocolate" neither the almond nor the milk is lost. A name in index order ("squash, butternut, raw") is read in
plain order too. A token that no phrase knows is tried as two words run together ("oatmilk") and as a slip of one
letter ("parmesean") before it counts as unknown.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from labeler.allergens.vocabulary import Entry, Vocabulary, load_vocabulary
from labeler.allergens.words import BREAK, fold

__all__ = ["LINKING", "STOPS", "Hit", "hits", "match", "walk_left"]

SHORTEST_SLIP = 7
"""Letters below which a token is too short to be taken for a slip of another."""
SURE_SLIP = 8
"""Letters from which a slip of one letter leaves no doubt what was meant."""
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
    """The known words that an unknown one may stand for; empty where there is nothing near."""
    vocabulary = load_vocabulary()
    for at in range(3, len(word) - 2):
        left, right = word[:at], word[at:]
        if f"{left} {right}" in vocabulary.entries:
            return (left, right)
    for at in range(3, len(word) - 2):
        left, right = word[:at], word[at:]
        if right in HEADS and _is_food(left, vocabulary):
            return (left, right)
    if len(word) < SHORTEST_SLIP:
        return ()
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    near = process.extractOne(word, vocabulary.single_words, scorer=OSA.distance, score_cutoff=1)
    return () if near is None or near[0][0] != word[0] else (near[0],)


def _is_food(word: str, vocabulary: Vocabulary) -> bool:
    entry = vocabulary.entries.get(word)
    return entry is not None and entry.kind not in ("modifier", "generic")


def _unknown(words: list[str], found: list[Hit], vocabulary: Vocabulary) -> list[int]:
    covered = {at for hit in found for at in range(hit.start, hit.end)}
    return [
        at
        for at, word in enumerate(words)
        if at not in covered and word not in vocabulary.known_words and len(word) > 4 and word.isalpha()
    ]


def _with_repairs(words: list[str], found: list[Hit], vocabulary: Vocabulary) -> list[Hit]:
    """The hits with those that a repaired token gives."""
    slips: list[tuple[str, str, bool]] = []
    for at in reversed(_unknown(words, found, vocabulary)):
        better = _repaired(words[at])
        if not better:
            continue
        slips.append((words[at], " ".join(better), len(better) == 1 and len(words[at]) < SURE_SLIP))
        words = [*words[:at], *better, *words[at + 1 :]]
    if not slips:
        return found
    found = hits(words, vocabulary)
    for slip, meant, doubtful in slips:
        for hit in found:
            if meant in hit.phrase or hit.phrase in meant:
                hit.read_as = f"{slip} read as {meant}"
                hit.doubt = OPEN if doubtful else ""
    return found


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


def match(words: list[str], vocabulary: Vocabulary) -> list[Hit]:
    """Everything that the tokens of one name hold."""
    found = _with_repairs(words, hits(words, vocabulary), vocabulary)
    return _index_order(words, found, vocabulary) if BREAK in words else found
