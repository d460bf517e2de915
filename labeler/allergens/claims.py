"""What a name says without meaning it: what it leaves out, and what it only compares with.

A claim ("egg-free", "without nuts", "no flour", "vegan", "meatless") takes away only what a food of that name usually
contains, never a food that the name spells out. A comparison ("a walnut-sized piece of butter", "the size of an egg",
"almond-shaped") is of no food at all.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from labeler.allergens.vocabulary import Entry, Vocabulary
from labeler.allergens.words import BREAK

__all__ = ["Claims", "read_claims"]

ANIMAL = frozenset({"milk", "egg", "fish", "crustaceans", "molluscs", "gelatin", "beef", "chicken", "pork"})
FLESH = ANIMAL - {"milk", "egg"}
# What stands in for the animal food that a vegan product leaves out (common practice, no source).
STAND_INS = {
    "milk": (("soybean", "soy"), ("cashew", "cashew"), ("almond", "almond")),
    "egg": (("soybean", "soy"),),
    "fish": (("soybean", "soy"), ("wheat", "wheat")),
    "crustaceans": (("soybean", "soy"), ("wheat", "wheat")),
    "molluscs": (("soybean", "soy"), ("wheat", "wheat")),
}
LINKS = frozenset({"and", "or", "nor"})
CLAUSE = frozenset({"with", "plus", "containing", "and"})
NEGATORS = frozenset({"without", "no", "non", "minus", "omit", "zero"})
ADDED = frozenset({"added", "any", "the"})
AS_BIG = frozenset({"big", "large", "small", "thick", "round", "fat", "fine"})
LUMPS = frozenset({"piece", "ball", "lump", "knob", "chunk", "nugget", "bit", "dollop", "pat"})


@dataclass(slots=True)
class Claims:
    """The claims of one name.

    `denied` gives the allergens that each clause denies, `weakly` those that it denies in words that promise nothing
    ("non-dairy" creamer often holds caseinate), `masked` the tokens of the claims themselves, `left_out` the animal
    foods that "vegan" or "vegetarian" leaves out of each clause, `unsure` the tokens that a claim may or may not
    cover.
    """

    clause: list[int]
    denied: dict[int, set[str]] = field(default_factory=dict)
    weakly: dict[int, set[str]] = field(default_factory=dict)
    left_out: dict[int, frozenset[str]] = field(default_factory=dict)
    masked: set[int] = field(default_factory=set)
    unsure: set[int] = field(default_factory=set)

    def covers(self, start: int, end: int) -> bool:
        """True where the tokens [start, end) are part of a claim."""
        return bool(self.masked) and all(at in self.masked for at in range(start, end))

    def doubts(self, allergen: str, entry: Entry, at: int) -> bool:
        """True where a claim may be about token `at`, or is one that promises nothing."""
        weak = entry.kind != "derivative" and allergen in self.weakly.get(self.clause[at], ())
        return weak or at in self.unsure

    def takes_away(self, allergen: str, entry: Entry, at: int) -> bool:
        """True where a claim takes the allergen away from the food at token `at`."""
        clause = self.clause[at]
        if allergen in self.left_out.get(clause, ()) and entry.kind != "derivative":
            return True
        implied = entry.kind in ("standard", "common") or bool(entry.base)
        return implied and allergen in self.denied.get(clause, ())

    def stand_ins(self, allergen: str, at: int) -> tuple[tuple[str, str], ...]:
        """What may stand in for an animal food that the clause of token `at` leaves out."""
        clause = self.clause[at]
        if allergen not in self.left_out.get(clause, ()):
            return ()
        return tuple(pair for pair in STAND_INS.get(allergen, ()) if pair[0] not in self.denied.get(clause, ()))


def _term(words: list[str], at: int, vocabulary: Vocabulary) -> tuple[frozenset[str], int] | None:
    """What the term that starts at token `at` covers and how many tokens it has."""
    for length in (3, 2, 1):
        phrase = " ".join(words[at : at + length])
        if at + length > len(words):
            continue
        if phrase in vocabulary.denials:
            return vocabulary.denials[phrase], length
        entry = vocabulary.entries.get(phrase)
        if entry is not None and entry.contains and entry.kind in ("source", "derivative"):
            return frozenset(allergen for allergen, _ in entry.contains), length
    return None


def _deny(words: list[str], claims: Claims, allergens: frozenset[str], span: range) -> None:
    """Deny the allergens in the clause of the span; weakly where "or" leaves a choice ("egg-free or plain pasta")."""
    clause = claims.clause[span.start]
    weak = "or" in words[max(span.start - 1, 0) : span.start] or "or" in words[span.stop : span.stop + 2]
    claims.masked.update(span)
    (claims.weakly if weak else claims.denied).setdefault(clause, set()).update(allergens)


def _leave_out(words: list[str], at: int, allergens: frozenset[str], claims: Claims) -> None:
    """Leave animal foods out of the clause of token `at`; weakly beside an "or", not at all after "not"."""
    before, after = words[max(at - 1, 0) : at], words[at + 1 : at + 3]
    if "not" in before or "non" in before:
        return
    if "or" in before or "or" in after:
        claims.weakly.setdefault(claims.clause[at], set()).update(allergens)
    else:
        claims.left_out[claims.clause[at]] = claims.left_out.get(claims.clause[at], frozenset()) | allergens


def _forward(words: list[str], at: int, claims: Claims, vocabulary: Vocabulary) -> None:
    """Deny the terms that follow "without", "no", "free from"."""
    while at < len(words) and words[at] in ADDED:
        at += 1
    while at < len(words):
        term = _term(words, at, vocabulary)
        if term is None:
            return
        _deny([], claims, term[0], range(at, at + term[1]))
        at += term[1]
        if at >= len(words) or words[at] not in LINKS:
            return
        at += 1


def _backward(words: list[str], at: int, claims: Claims, vocabulary: Vocabulary) -> None:
    """Deny the term before "free"; what "and" joins to it is left in doubt."""
    first = True
    while at > 0:
        for length in (3, 2, 1):
            if at < length:
                continue
            term = _term(words, at - length, vocabulary)
            if term is not None and term[1] == length:
                span = range(at - length, at)
                if "not" in words[max(span.start - 1, 0) : span.start]:
                    claims.masked.update(span)
                elif first:
                    _deny(words, claims, term[0], span)
                else:
                    claims.unsure.update(span)
                at -= length
                break
        else:
            return
        if at > 1 and words[at - 1] in LINKS:
            at -= 1
            first = False
        else:
            return


_COMPARING = frozenset({"size", "sized", "shaped", "as", *AS_BIG})


def _compare(words: list[str], claims: Claims, vocabulary: Vocabulary) -> None:
    """Mask the foods that give only a size or a shape."""
    for at, word in enumerate(words):
        follows = words[at + 1] if at + 1 < len(words) else ""
        if word in ("sized", "shaped") or (word == "size" and follows in LUMPS):
            for length in (3, 2, 1):
                if at >= length and " ".join(words[at - length : at]) in vocabulary.entries:
                    claims.masked.update(range(at - length, at))
                    break
        elif (
            (word == "size" and follows == "of")
            or (word in AS_BIG and follows == "as")
            or (word == "as" and follows in ("a", "an") and (at == 0 or words[at - 1] == BREAK))
        ):
            start = at + 2
            while start < len(words) and vocabulary.only_describes(words[start]):
                start += 1
            length = next((n for n in (3, 2, 1) if " ".join(words[start : start + n]) in vocabulary.entries), 0)
            claims.masked.update(range(start, start + length))


def read_claims(words: list[str], vocabulary: Vocabulary) -> Claims:
    """The claims that the tokens of one name make."""
    clause = [0] * len(words)
    current = 0
    for at, word in enumerate(words):
        if word in CLAUSE:
            current += 1
        clause[at] = current
    claims = Claims(clause)
    if not _COMPARING.isdisjoint(words):
        _compare(words, claims, vocabulary)
    for at, word in enumerate(words):
        following = words[at + 1] if at + 1 < len(words) else ""
        if word == "vegan" or (word == "plant" and following == "based"):
            _leave_out(words, at, ANIMAL, claims)
        elif word in ("vegetarian", "veggy", "meatless"):
            _leave_out(words, at, FLESH, claims)
        elif word == "free" and following in ("from", "of"):
            _forward(words, at + 2, claims, vocabulary)
        elif word == "free" and following not in ("range", "run"):
            _backward(words, at, claims, vocabulary)
        elif word == "non" and following in vocabulary.denials:
            _promise_nothing(claims, clause[at], vocabulary.denials[following], (at, at + 1))
        elif word in NEGATORS or (word == "not" and not _promised(words, at)):
            _forward(words, at + 1, claims, vocabulary)
        elif word.startswith("non") and word[3:] in vocabulary.denials:
            _promise_nothing(claims, clause[at], vocabulary.denials[word[3:]], (at,))
        elif word.endswith("less") and word[:-4] in vocabulary.denials:
            _deny(words, claims, vocabulary.denials[word[:-4]], range(at, at + 1))
    return claims


def _promised(words: list[str], at: int) -> bool:
    """True where what "not" stands before is a claim itself: "not gluten-free", "not sugarless"."""
    return any(word == "free" or word.endswith("less") for word in words[at + 1 : at + 4])


def _promise_nothing(claims: Claims, clause: int, allergens: frozenset[str], masked: tuple[int, ...]) -> None:
    claims.weakly.setdefault(clause, set()).update(allergens)
    claims.masked.update(masked)
