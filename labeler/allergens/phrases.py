"""Which phrases of the vocabulary a name holds.

A phrase that lies inside a longer one says nothing; phrases that only overlap both count, so that in "almond milk
chocolate" neither the almond nor the milk is lost. A name in index order ("squash, butternut, raw") is read in
plain order too. A token that no phrase knows is tried as two words run together ("oatmilk") and as a typo of one
letter ("parmesean") before it counts as unknown; a short one that may be a typo of an allergen's word is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from labeler.allergens.compound_typos import completed
from labeler.allergens.foreign_words import compound, in_english
from labeler.allergens.typos import (
    COMMON,
    HEADS,
    SHORTEST_JOINED,
    allergens_near,
    is_unknown,
    is_whole,
    kitchen_words,
    meant_in_text,
    meant_perhaps,
    repaired,
)
from labeler.allergens.vocabulary import Vocabulary, VocabularyEntry, load_vocabulary
from labeler.foods.matching.typos import is_known
from labeler.text.tokens import BREAK

__all__ = ["LINKING", "STOPS", "TYPO", "PhraseHit", "hits", "is_unknown", "match", "unread_words", "walk_left"]

LONGEST_SEGMENT = 3
LINKING = frozenset(
    {"with", "without", "and", "or", "for", "in", "from", "of", "to", "made", "added", "including", "no"}
)
"""Words that no modifier in index order holds: such a segment is not read before the first."""
STOPS = frozenset({"with", "and", "or", "in", "into", "from", "for", "to", "plus", "on", "of", "over"})
"""Words at which what stands before a food ends."""
JOINS = frozenset({"and", "or", "with", "plus"})
"""Words that join several foods."""
OPEN = "the name leaves it open"
TYPO = "it may be a typo"


@dataclass(slots=True)
class PhraseHit:
    """A phrase found in tokens [start, end) of a name.

    `words` are the tokens in the order in which it stands; `doubt` says why it may not be meant; a `muted` phrase says
    no more for certain than another does; `read_as` tells of a typo that was mended; where `added` is false only what
    it certainly holds counts.
    """

    start: int
    end: int
    entry: VocabularyEntry
    phrase: str
    words: list[str]
    doubt: str = ""
    muted: bool = False
    read_as: str = ""
    added: bool = True


def hits(words: list[str], vocabulary: Vocabulary) -> list[PhraseHit]:
    """All phrases that lie inside no longer one, in order."""
    entries, longest = vocabulary.entries, vocabulary.longest
    found: list[PhraseHit] = []
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
                found.append(PhraseHit(start, start + length, entry, phrase, words))
                reach = start + length
                break
    return found


def _only_describes(words: list[str], entries: dict[str, VocabularyEntry]) -> bool:
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


def _unknown(words: list[str], found: list[PhraseHit], vocabulary: Vocabulary) -> list[int]:
    covered = {at for hit in found for at in range(hit.start, hit.end)}
    return [
        at
        for at, word in enumerate(words)
        if at not in covered and word not in vocabulary.known_words and len(word) > 2 and word.isalpha()
    ]


_Perhaps = tuple[int, str, tuple[str, ...]]
"""Where a token stands that may be a typo, the token, and the tokens that it may be meant for."""


@dataclass(slots=True)
class _Repairs:
    """The words of a name as they are read, with what was mended in them and what may be meant by others."""

    words: list[str]
    mended: list[tuple[str, str]]
    perhaps: list[_Perhaps]

    def mend(self, at: int, better: tuple[str, ...]) -> None:
        """Put the tokens that a word is read as in its place."""
        self.mended.append((self.words[at], " ".join(better)))
        self.words = [*self.words[:at], *better, *self.words[at + 1 :]]
        self.perhaps = [(other + len(better) - 1, typo, meant) for other, typo, meant in self.perhaps]


def _with_repairs(words: list[str], vocabulary: Vocabulary, aside: bool) -> tuple[list[str], list[PhraseHit]]:
    """The words as they are read in the end, and their hits.

    Words of other languages are read in English; a mended token gives its hits in place of the typo where it is sure,
    else beside it in doubt.
    """
    words, read = in_english(words)
    repairs = _Repairs(words, list(read), [])
    found = hits(words, vocabulary)
    if len(read) == 1 and not aside:  # one foreign word among English ones
        ((word, stated),) = read
        repairs.perhaps += [(words.index(stated.split(" ")[0]), word, (near,)) for near in allergens_near(word)]
    for at in reversed(_unknown(words, found, vocabulary)):
        _repair(repairs, at, aside)
    words = repairs.words
    if not aside:
        repairs.perhaps += [
            (at, typo, meant) for at, typo in _known_in_phrases(words, found) for meant in meant_perhaps(typo)
        ]
    if repairs.mended:
        found = hits(words, vocabulary)
        _note_mended(found, repairs.mended)
    return words, [*found, *_doubtful(repairs, vocabulary, aside)]


def _repair(repairs: _Repairs, at: int, aside: bool) -> None:
    """Mend an unknown word where it is sure what was meant, and note what it may be meant for where it is not."""
    word = repairs.words[at]
    better = repaired(word)
    in_name = not better or compound(word) == better
    typos = (
        ()
        if not in_name
        else meant_in_text(word)
        if aside
        else meant_perhaps(word, of_what=_tells_of_what(repairs.words, at))
    )
    if better and not aside and not is_whole(better) and typos:
        better = ()  # a typo in a compound rather than an unknown kind of its last part
    if better:
        repairs.mend(at, better)
    repairs.perhaps += [(at, word, meant) for meant in typos]
    if not better and not aside:
        repairs.perhaps += [(at, word, (token,)) for token in completed(repairs.words, at)]


def _tells_of_what(words: list[str], at: int) -> bool:
    """True before a word that is of something: the seeds of "sesame seeds"."""
    return words[at + 1 : at + 2] != [] and words[at + 1] in HEADS


def _note_mended(found: list[PhraseHit], mended: list[tuple[str, str]]) -> None:
    """Let the hits in mended words tell what was written there."""
    for word, stated in mended:
        for hit in found:
            if stated in hit.phrase or hit.phrase in stated:
                hit.read_as = f"{word} read as {stated}"
                if not is_whole(tuple(stated.split(" "))):
                    hit.doubt = OPEN  # an unknown kind of what its last part names


def _doubtful(repairs: _Repairs, vocabulary: Vocabulary, aside: bool) -> Iterator[PhraseHit]:
    """The allergens that words may be meant for, each as a question."""
    words = repairs.words
    for at, typo, meant in repairs.perhaps:
        for hit in hits([*words[:at], *meant, *words[at + 1 :]], vocabulary):
            touches = hit.start < at + len(meant) and at < hit.end
            if touches and (hit.entry.contains or (hit.entry.possible and not aside)):
                hit.read_as, hit.doubt = f"{typo} read as {' '.join(meant)}", TYPO
                yield hit


def _known_in_phrases(words: list[str], found: list[PhraseHit]) -> Iterator[tuple[int, str]]:
    """The tokens that only longer phrases know, and none of them is here: the "barely" of "barely buzzed"."""
    vocabulary = load_vocabulary()
    covered = {at for hit in found for at in range(hit.start, hit.end)}
    for at, word in enumerate(words):
        seldom = 0 < vocabulary.phrases_with.get(word, 0) < COMMON and word not in vocabulary.entries
        if at not in covered and seldom and len(word) >= SHORTEST_JOINED and not is_known(word):
            yield at, word


def unread_words(words: list[str]) -> tuple[str, ...]:
    """The tokens of a name that no list knows, and that no typo and no other language explains."""
    vocabulary = load_vocabulary()
    words, _ = in_english(words)
    left = (words[at] for at in _unknown(words, hits(words, vocabulary), vocabulary))
    return tuple(
        word for word in left
        if is_unknown(word) and word not in kitchen_words() and not ((parts := repaired(word)) and is_whole(parts))
    )  # fmt: skip


def _straddles(inside: set[int], other: PhraseHit) -> bool:
    """True where a phrase of the name lies partly in and partly out of the tokens `inside`."""
    shared = sum(at in inside for at in range(other.start, other.end))
    return 0 < shared < other.end - other.start


def _is_food_of(segment: range, inside: set[int], other: PhraseHit) -> bool:
    """True where a segment names a food of its own beside the tokens `inside`."""
    return other.entry.kind != "modifier" and other.start in segment and other.start not in inside


def _index_order(words: list[str], found: list[PhraseHit], vocabulary: Vocabulary) -> list[PhraseHit]:
    """The hits with those that a later segment gives when it is read before the first ("squash, butternut").

    A first segment of several foods is in no such order: "tofu and pesto, almonds" holds no almond tofu.
    """
    cuts = [-1, *(at for at, word in enumerate(words) if word == BREAK), len(words)]
    segments = [range(start + 1, end) for start, end in pairwise(cuts) if end > start + 1]
    if segments and not JOINS.isdisjoint(words[at] for at in segments[0]):
        return found
    for segment in segments[1:]:
        inside = segment[:-1] if words[segment[-1]] == "of" else segment  # "tartar, cream of"
        if len(segment) > LONGEST_SEGMENT or not LINKING.isdisjoint(words[at] for at in inside):
            continue
        order = [*segment, *segments[0]]
        view = [words[at] for at in order]
        for other_segment in segments[1:]:
            if other_segment is not segment:
                view += [BREAK, *(words[at] for at in other_segment)]
        for hit in hits(view, vocabulary):
            if hit.start < len(segment) < hit.end:
                found = _with_turned(hit, {order[at] for at in range(hit.start, hit.end)}, segment, words, found)
    return found


def _with_turned(
    hit: PhraseHit, inside: set[int], segment: range, words: list[str], found: list[PhraseHit]
) -> list[PhraseHit]:
    """The hits with one that stands across the seam of two segments, on the tokens `inside` of the name."""
    own = [other for other in found if other.words is words]
    if any(_straddles(inside, other) or _is_food_of(segment, inside, other) for other in own):
        return found  # "butter, sesame seeds" is no seed butter
    says = {allergen for allergen, _ in hit.entry.contains}
    kept = []
    for other in found:
        if other.words is not words or not inside.issuperset(range(other.start, other.end)):
            kept.append(other)
        elif hit.entry.contains:
            other.muted = says.issuperset(allergen for allergen, _ in other.entry.contains)
            other.doubt = "" if other.muted else OPEN
            kept.append(other)
    return [*kept, hit]


def match(words: list[str], vocabulary: Vocabulary, *, aside: bool = False) -> tuple[list[str], list[PhraseHit]]:
    """Everything that the tokens of one name hold; in an aside, which is not of food alone, a short typo is none.

    Returns the tokens as they are read, with typos mended and other languages in English, and the phrases in them.
    """
    words, found = _with_repairs(words, vocabulary, aside)
    return words, _index_order(words, found, vocabulary) if BREAK in words else found
