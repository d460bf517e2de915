"""What a name says without meaning it: what it leaves out, and what it only compares with.

A claim ("egg-free", "without nuts", "no flour", "vegan", "meatless") takes away only what a food of that name usually
contains, never a food that the name spells out, and only of its own noun phrase: "cheese on a vegan burger" is
cheese. In its phrase it is about what follows it; at the end, about what stands before. A phrase that is nothing but
claims ("flour, gluten-free") is about the one before it. A claim on a condition or a denied one ("if vegan", "not
gluten-free") says nothing. A comparison ("a walnut-sized piece of butter", "the size of an egg", "almond-shaped") is
of no food at all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from labeler.allergens.vocabulary import Vocabulary, VocabularyEntry
from labeler.text.tokens import BREAK

__all__ = ["FreeFromClaims", "read_claims"]

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
ENDS = frozenset({"with", "plus", "containing", "and", "or", "in", "into", "from", "for", "on", "onto", "over", "to"})
"""Words at which a noun phrase ends."""
NEGATORS = frozenset({"without", "no", "non", "minus", "omit", "zero"})
ADDED = frozenset({"added", "any", "the", "add", "contain", "use", "include", "containing"})
VOIDING = frozenset({"if", "unless", "not", "isn", "isnt", "aren", "arent", "check", "skip", "optional", "preferred",
                     "otherwise", "instead", "needed", "allergic", "coeliac", "celiac", "friendly", "suitable", "never",
                     "option"})  # fmt: skip
"""Words by which a claim of their phrase is made on a condition, denied, or an offer."""
FILLERS = frozenset({"certified", "brand", "version", "variety", "labelled", "labeled", "one", "kind", "and", "or"})
"""Words that leave a phrase of claims one of nothing but claims."""
AS_BIG = frozenset({"big", "large", "small", "thick", "round", "fat", "fine"})
LUMPS = frozenset({"piece", "ball", "lump", "knob", "chunk", "nugget", "bit", "dollop", "pat"})


@dataclass(slots=True)
class _Claim:
    """One claim: the tokens it stands in, the allergens it is about, whether it leaves the animal food out or denies
    an allergen, and whether its words promise anything ("non-dairy" creamer often holds caseinate).
    """

    start: int
    end: int
    allergens: frozenset[str]
    animal: bool = False
    weak: bool = False
    forward: bool = False


@dataclass(slots=True)
class FreeFromClaims:
    """The claims of one name, by the tokens that they are about.

    `denied` gives the allergens that are denied of each token, `weakly` those in words that promise nothing,
    `left_out` the animal foods that "vegan" or "vegetarian" leaves out of it; `masked` are the tokens of the claims
    themselves, `unsure` the tokens that a claim may or may not cover; `denies` is true where an allergen is denied at
    all, so that a name of nothing else is assessed.
    """

    denied: dict[int, set[str]] = field(default_factory=dict)
    weakly: dict[int, set[str]] = field(default_factory=dict)
    left_out: dict[int, set[str]] = field(default_factory=dict)
    masked: set[int] = field(default_factory=set)
    unsure: set[int] = field(default_factory=set)
    denies: bool = False

    def covers(self, start: int, end: int) -> bool:
        """True where the tokens [start, end) are part of a claim."""
        return bool(self.masked) and all(at in self.masked for at in range(start, end))

    def doubts(self, allergen: str, entry: VocabularyEntry, at: int) -> bool:
        """True where a claim may be about token `at`, or is one that promises nothing."""
        weak = entry.kind != "derivative" and allergen in self.weakly.get(at, ())
        return weak or at in self.unsure

    def takes_away(self, allergen: str, entry: VocabularyEntry, at: int, *, spelt: bool = False) -> bool:
        """True where a claim takes the allergen away from the food at token `at`, unless it is `spelt` out there."""
        if allergen in self.left_out.get(at, ()) and entry.kind != "derivative":
            return True
        implied = not spelt and (entry.kind in ("standard", "common") or bool(entry.base))
        return implied and allergen in self.denied.get(at, ())

    def stand_ins(self, allergen: str, at: int) -> tuple[tuple[str, str], ...]:
        """What may stand in for an animal food that a claim leaves out of the food at token `at`."""
        if allergen not in self.left_out.get(at, ()):
            return ()
        return tuple(pair for pair in STAND_INS.get(allergen, ()) if pair[0] not in self.denied.get(at, ()))


def _term(words: list[str], at: int, vocabulary: Vocabulary) -> tuple[frozenset[str], int, bool] | None:
    """What the term that starts at token `at` covers, how many tokens it has, and whether it is of a whole class.

    A part of a food ("yolk-free", "whey-free") says nothing of the rest of it; one food of a class ("prawn-free") or
    one that is made of several ("mayonnaise-free") nothing for certain.
    """
    for length in (3, 2, 1):
        phrase = " ".join(words[at : at + length])
        if at + length > len(words):
            continue
        if phrase in vocabulary.denials:
            return vocabulary.denials[phrase], length, True
        entry = vocabulary.entries.get(phrase)
        if entry is not None and entry.contains:
            whole = entry.kind != "derivative" and phrase not in PARTS
            return frozenset(allergen for allergen, _ in entry.contains) if whole else frozenset(), length, False
    return None


PARTS = frozenset({"yolk", "egg yolk", "egg white", "white", "whey", "casein", "curd", "lecithin", "roe", "tomalley"})
"""Parts of a food that others of its parts may be without."""


def _weak(words: list[str], start: int, end: int) -> bool:
    """True beside an "or", which leaves a choice ("egg-free or plain pasta")."""
    return "or" in words[max(start - 1, 0) : start] or "or" in words[end : end + 2]


def _forward(words: list[str], at: int, vocabulary: Vocabulary) -> Iterator[_Claim | range]:
    """The terms that follow "without", "no", "free from"; a range for what "and" joins to them."""
    while at < len(words) and words[at] in ADDED:
        at += 1
    joined = ""
    while at < len(words):
        term = _term(words, at, vocabulary)
        if term is None or not (not joined or term[2] or joined in ("or", "nor")):
            return  # "without garlic and noodles": the noodles may be there
        end = at + term[1]
        if joined == "and":
            yield range(at, end)  # "without garlic and tahini": the tahini may be there
        else:
            yield _Claim(at, end, term[0], weak=not term[2] or _weak(words, at, end), forward=True)
        joined = words[end] if end < len(words) else ""
        at = end
        if at >= len(words) or words[at] not in LINKS:
            return
        at += 1


def _backward(words: list[str], at: int, vocabulary: Vocabulary) -> Iterator[_Claim | range]:
    """The term before "free"; a range for what "and" joins to it, which may or may not be meant."""
    stop, first = at, True
    while at > 0:
        length = next(
            (n for n in (3, 2, 1) if at >= n and (t := _term(words, at - n, vocabulary)) is not None and t[1] == n), 0
        )
        if not length:
            return
        term = _term(words, at - length, vocabulary)
        if first and term is not None:
            weak = not term[2] or _weak(words, at - length, stop + 1)
            yield _Claim(at - length, stop + 1, term[0], weak=weak)
        else:
            yield range(at - length, at)
        at -= length
        if at > 1 and words[at - 1] in LINKS:
            at -= 1
            first = False
        else:
            return


_COMPARING = frozenset({"size", "sized", "shaped", "as", "colored", *AS_BIG})


def _compare(words: list[str], claims: FreeFromClaims, vocabulary: Vocabulary) -> None:
    """Mask the foods that give only a size, a shape or a colour, or what an animal was fed."""
    for at, word in enumerate(words):
        follows = words[at + 1] if at + 1 < len(words) else ""
        if word in COMPARED or (word == "size" and follows in LUMPS):
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


COMPARED = frozenset({"sized", "shaped", "colored", "fed", "finished"})
"""Words behind what a food is only compared with, or what its animal ate."""


_MEATLESS = ("vegetarian", "veggy", "meatless")


def _found(words: list[str], claims: FreeFromClaims, vocabulary: Vocabulary) -> Iterator[_Claim]:
    """Every claim of the name, in order; those that are voided at once only mask their words."""
    for at, word in enumerate(words):
        following = words[at + 1] if at + 1 < len(words) else ""
        claim = _diet(words, at, following) or _denial(words, at, following, vocabulary)
        if claim is not None:
            yield claim
        elif word == "free" and following in ("from", "of"):
            yield from _sure(_forward(words, at + 2, vocabulary), claims)
        elif word == "free" and following not in ("range", "run"):
            yield from _sure(_backward(words, at, vocabulary), claims)
        elif _negates(words, at):
            yield from _sure(_forward(words, at + 1, vocabulary), claims)


def _diet(words: list[str], at: int, following: str) -> _Claim | None:
    """What "vegan", "plant-based" or "vegetarian" claims; "non-vegan" claims nothing."""
    word = words[at]
    if word not in ("vegan", *_MEATLESS) and not (word == "plant" and following == "based"):
        return None
    if word in ("vegan", "vegetarian") and words[max(at - 1, 0) : at] == ["non"]:
        return None
    end = at + 2 if word == "plant" else at + 1
    return _Claim(at, end, FLESH if word in _MEATLESS else ANIMAL, animal=True, weak=_weak(words, at, end))


def _denial(words: list[str], at: int, following: str, vocabulary: Vocabulary) -> _Claim | None:
    """What "non-dairy", "nondairy" or "eggless" denies."""
    word, denials = words[at], vocabulary.denials
    if word == "non" and following in denials:
        return _Claim(at, at + 2, denials[following], weak=True)
    if _negates(words, at):
        return None
    if word.startswith("non") and word[3:] in denials:
        return _Claim(at, at + 1, denials[word[3:]], weak=True)
    if word.endswith("less") and word[:-4] in denials:
        return _Claim(at, at + 1, denials[word[:-4]], weak=_weak(words, at, at + 1))
    return None


def _sure(found: Iterable[_Claim | range], claims: FreeFromClaims) -> Iterator[_Claim]:
    """The claims among what was found; the tokens that may or may not be meant are noted."""
    for one in found:
        if isinstance(one, range):
            claims.unsure.update(one)
        else:
            yield one


def _negates(words: list[str], at: int) -> bool:
    """True for a word that denies what follows it: "without", "not"; for none in "do not omit"."""
    if words[at] == "not":
        return not _promised(words, at)
    return words[at] in NEGATORS and words[max(at - 1, 0) : at] not in (["not"], ["never"])


def _promised(words: list[str], at: int) -> bool:
    """True where what "not" stands before is a claim itself: "not gluten-free", "not sugarless"."""
    return any(word in ("free", "vegan", "vegetarian") or word.endswith("less") for word in words[at + 1 : at + 4])


def _phrases(words: list[str]) -> tuple[list[range], list[int]]:
    """The noun phrases of a name as ranges of tokens, and the number of the segment between marks of each."""
    ranges: list[range] = []
    segments: list[int] = []
    start = segment = 0
    for at, word in enumerate([*words, BREAK]):
        if word == BREAK or (word in ENDS and at > start):
            if at > start:
                ranges.append(range(start, at))
                segments.append(segment)
            start = at + 1 if word == BREAK else at
            segment += word == BREAK
    return ranges, segments


def read_claims(words: list[str], vocabulary: Vocabulary) -> FreeFromClaims:
    """The claims that the tokens of one name make."""
    claims = FreeFromClaims()
    if not _COMPARING.isdisjoint(words) or not COMPARED.isdisjoint(words):
        _compare(words, claims, vocabulary)
    found = list(_found(words, claims, vocabulary))
    if not found:
        return claims
    for claim in found:
        claims.masked.update(range(claim.start, claim.end))
    ranges, segments = _phrases(words)
    bare = [_is_bare(words, tokens, claims, vocabulary) for tokens in ranges]
    for claim in found:
        own = next(number for number, tokens in enumerate(ranges) if claim.start in tokens)
        segment = segments[own]
        stated = (at for number, tokens in enumerate(ranges) if segments[number] == segment for at in tokens)
        if any(words[at] in VOIDING for at in stated) and not claim.forward:
            continue
        claims.denies = claims.denies or not claim.animal
        if bare[own]:
            targets, sure = _beside(own, ranges, segments, bare, words)
            if claim.forward:
                targets = [tokens for tokens in targets if tokens.start < claim.start]
            for tokens in targets:
                _apply(claim, tokens, claims, weak=not sure)
        else:
            _apply(claim, ranges[own], claims)
    return claims


def _is_bare(words: list[str], tokens: range, claims: FreeFromClaims, vocabulary: Vocabulary) -> bool:
    """True for a phrase of nothing but claims and words that leave a food as it is."""
    return all(at in claims.masked or words[at] in FILLERS or words[at] == "free" or words[at] in NEGATORS
               or not words[at].isalpha() or vocabulary.only_describes(words[at]) for at in tokens)  # fmt: skip


def _beside(
    own: int, ranges: list[range], segments: list[int], bare: list[bool], words: list[str]
) -> tuple[Iterable[range], bool]:
    """The noun phrases that a phrase of nothing but claims is about, and whether there is no doubt of it."""
    after = own + 1
    while after < len(ranges) and segments[after] == segments[own]:
        if words[ranges[after].start] not in LINKS:
            break
        if not bare[after]:
            return [ranges[after]], True  # "dairy-free and gluten-free pancakes"
        after += 1
    before = [at for at in range(own) if segments[at] < segments[own] and not bare[at]]
    if any(segments[at] == segments[own] and not bare[at] for at in range(own)):
        return [ranges[own - 1]], False  # "cheese and vegan": of which is open
    if before:
        last = [at for at in before if segments[at] == segments[before[-1]]]
        return [ranges[at] for at in last], len(last) == 1
    behind = [at for at in range(own + 1, len(ranges)) if segments[at] > segments[own] and not bare[at]]
    return [ranges[behind[0]]] if behind else [], True


def _apply(claim: _Claim, tokens: range, claims: FreeFromClaims, *, weak: bool = False) -> None:
    """Let a claim say of a noun phrase what it says: of what follows it there, or of all of it where nothing does."""
    inside = claim.start in tokens
    behind = [at for at in tokens if at >= claim.end] if inside and not claim.forward else []
    follows = any(at not in claims.masked for at in behind)
    about = behind if follows else list(tokens)
    for at in about:
        if claim.weak or weak:
            claims.weakly.setdefault(at, set()).update(claim.allergens)
        elif claim.animal:
            claims.left_out.setdefault(at, set()).update(claim.allergens)
        else:
            claims.denied.setdefault(at, set()).update(claim.allergens)
