"""What one phrase of a name says of the allergens: in the food, in doubt, replaced, or taken away by a claim."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field, replace

from labeler.allergens.free_from import FreeFromClaims
from labeler.allergens.method_sentences import names_no_kind
from labeler.allergens.model import Finding
from labeler.allergens.phrases import PhraseHit, walk_left
from labeler.allergens.vocabulary import Swap, Vocabulary, VocabularyEntry
from labeler.text.tokens import BREAK

__all__ = ["CRUDE", "NUTS", "SEAFOOD", "SEVERAL", "UNNAMED", "UNNAMED_ALONE", "FoundAllergen", "judge"]

COMMON = "common practice, no source"
SEAFOOD = frozenset({"fish", "crustaceans", "molluscs"})
NUTS = frozenset(
    {"almond", "brazil_nut", "cashew", "hazelnut", "macadamia", "pecan", "pine_nut", "pistachio", "walnut", "tree_nuts"}
)
# Plants whose flavourings are the plant itself in practice (celery seed oil, mustard oil).
FLAVORS_THAT_ARE = SEAFOOD | {"celery", "mustard", "soybean", "wheat", "barley", "rye", "oats", "peanut", "sesame"}
FLAVOR = frozenset({"flavor", "flavoring", "flavored", "aroma", "essence", "taste", "tasting", "style", "type", "like"})
NOT_THE_THING = frozenset({"mock", "imitation", "faux", "fake", "artificial", "synthetic", "identical", "substitute"})
# What a finding is called while the species is not known: a species named beside it takes its place. Of milk and egg
# that holds only where the name is of one food ("manchego cheese").
UNNAMED = {"fish": "fish", "crustaceans": "crustaceans", "molluscs": "molluscs"}
UNNAMED_ALONE = {"milk": "milk", "egg": "egg"}
SEVERAL = frozenset({"and", "or", "with", "plus", BREAK})
MILKERS = {
    "goat": "goat milk", "sheep": "sheep milk", "ewe": "sheep milk", "buffalo": "buffalo milk", "camel": "camel milk",
    "mare": "mare milk", "donkey": "donkey milk", "yak": "yak milk", "reindeer": "reindeer milk",
}  # fmt: skip
BUFFALO_DAIRY = frozenset({"milk", "mozzarella", "yogurt", "ghee", "curd", "cheese", "butter", "ricotta"})
LAYERS = frozenset({"duck", "goose", "quail", "turkey", "ostrich", "emu", "pheasant", "pigeon", "gull", "plover"})
# Words by which an oil is known not to be highly refined, or to be.
CRUDE = frozenset(
    {"pressed", "unrefined", "expeller", "expelled", "extruded", "virgin", "crude", "roasted", "toasted", "raw",
     "gourmet"}
)  # fmt: skip
REFINED = frozenset({"refined", "rbd"})
# What cooking oils are highly refined of.
OILY = frozenset({"soy", "soya", "soybean", "soya bean", "soy bean", "peanut", "groundnut"})
BLENDED = OILY | {"canola", "rapeseed", "sunflower", "palm", "corn", "cottonseed", "safflower", "vegetable", "maize"}
_RULES = {
    "source": "source",
    "derivative": "derivative",
    "standard": "standard-of-identity",
    "common": "common-composition",
    "generic": "common-composition",
}
_NOUNS = {"fish": "a fish", "crustaceans": "a crustacean", "molluscs": "a mollusc"}


@dataclass(slots=True)
class FoundAllergen:
    """Findings of one name as they gather: allergen and exemption give the finding."""

    certain: dict[tuple[str, str], Finding] = field(default_factory=dict)
    possible: dict[tuple[str, str], Finding] = field(default_factory=dict)


def before(words: list[str], at: int, known: Collection[str]) -> str | None:
    """The longest phrase of `known`, up to three tokens, that ends right before token `at`."""
    for length in (3, 2, 1):
        if at >= length:
            phrase = words[at - 1] if length == 1 else " ".join(words[at - length : at])
            if phrase in known:
                return phrase
    return None


WHEAT = frozenset({"wheat"})
OTHER_FLOUR = Swap(WHEAT, "drops", ())
UNKNOWN_FLOUR = Swap(WHEAT, "doubts", ())
NO_SWAP = Swap(frozenset(), "", ())


def _swap(hit: PhraseHit, matched: list[PhraseHit], claims: FreeFromClaims, vocabulary: Vocabulary) -> Swap:
    """What the words before a base do to it; those of a claim or a comparison ("walnut-sized butter") do nothing."""
    words, base = hit.words, hit.entry.base
    if not base:
        return NO_SWAP
    swaps = vocabulary.swaps.get(base, {})
    for at in walk_left(words, hit.start, vocabulary):
        word = before(words, at, swaps)
        if word is not None:
            return NO_SWAP if at - 1 in claims.masked else swaps[word]
        if base == "flour" and at > 0:
            other = next((other for other in matched if other.end == at and other.words is words), None)
            if other is not None and other.entry.kind in ("plant", "source", "misleads"):
                return OTHER_FLOUR
            word_before = words[at - 1]
            unread = word_before not in vocabulary.entries and word_before.isalpha()
            if other is None and unread and not names_no_kind(word_before):
                return UNKNOWN_FLOUR
    return NO_SWAP


def _name(allergen: str, name: str, hit: PhraseHit) -> str:
    """The name with the animal of a milk or an egg that is not the cow's or the hen's."""
    if allergen == "milk" and name == "milk":
        for word in hit.words[max(hit.start - 2, 0) : hit.end]:
            if word in MILKERS and (word != "buffalo" or not BUFFALO_DAIRY.isdisjoint(hit.phrase.split(" "))):
                return MILKERS[word]
    elif allergen == "egg" and name == "egg" and hit.start and hit.words[hit.start - 1] in LAYERS:
        return f"{hit.words[hit.start - 1]} egg"
    return name


def _doubt(allergen: str, hit: PhraseHit, vocabulary: Vocabulary) -> str:
    """Why a word that names an allergen leaves doubt whether the food holds it; empty where it leaves none."""
    words = hit.words
    if hit.doubt:
        return hit.doubt
    follows = words[hit.end] if hit.end < len(words) else ""
    for at in walk_left(words, hit.start, vocabulary):
        if at > 0 and words[at - 1] in NOT_THE_THING:
            return "made to resemble it"
    if follows in FLAVOR and hit.entry.kind != "misleads":
        natural = "natural" in words[: hit.start] and follows in ("flavor", "flavoring", "aroma")
        if allergen not in FLAVORS_THAT_ARE and not (natural and allergen != "almond"):
            return "a flavouring need not be made from it"
    if follows == "mix" and allergen == "egg" and hit.entry.kind in ("common", "standard"):
        return "a dry mix may leave it to the cook"
    if follows in ("substitute", "replacer", "replacement", "alternative"):
        return "a substitute for it"
    return ""


def _reason(phrase: str, allergen: str, name: str, entry: VocabularyEntry, source: str) -> str:
    """Why a phrase means that the food contains an allergen, in a sentence."""
    noun = _NOUNS.get(allergen, "a tree nut" if allergen in NUTS else "")
    if entry.kind == "source":
        same = name == phrase or name in phrase.split(" ")
        text = f'"{phrase}" is {noun}' if noun and same else f'"{phrase}" is {name}' + (f", {noun}" if noun else "")
    elif entry.kind == "derivative":
        text = f'"{phrase}" comes from {name}'
    elif entry.kind == "standard":
        same = name in phrase.split(" ")
        text = f'"{phrase}" is {name}' if same else f'"{phrase}" by its standard or definition is made with {name}'
        if source != COMMON:
            text += f" ({source})"
    else:
        text = f'"{phrase}" is made with {name} in common practice'
    return f"{text} ({entry.note})" if entry.note else text


def _is_spelt(allergen: str, hit: PhraseHit, vocabulary: Vocabulary) -> bool:
    """True where a compound names the allergenic food among its words: the egg of "egg noodles"."""
    words = hit.phrase.split(" ")
    named = (vocabulary.entries.get(word) for word in words if len(words) > 1)
    return any(
        entry is not None and entry.kind == "source" and allergen in (found for found, _ in entry.contains)
        for entry in named
    )


def _of_an_oil(hit: PhraseHit) -> bool:
    """True where a bean or a nut is one of those that a blended oil is made of ("soybean and canola oil")."""
    words, at = hit.words, hit.end
    while words[at : at + 1] and words[at] in ("and", "or") and words[at + 1 : at + 2] and words[at + 1] in BLENDED:
        at += 2
        if words[at : at + 1] == ["oil"]:
            return True
    return False


def _exemption(hit: PhraseHit) -> str:
    """The exemption that the finding may fall under, by what the words around an oil say of its refining."""
    exemption = hit.entry.exemption
    if hit.entry.kind == "source" and hit.phrase in OILY and _of_an_oil(hit):
        exemption = "perhaps-refined-oil"
    if exemption not in ("refined-oil", "perhaps-refined-oil"):
        return exemption
    if not CRUDE.isdisjoint(hit.words):
        return ""
    if not REFINED.isdisjoint(hit.words):
        return "refined-oil"
    return exemption if exemption == "perhaps-refined-oil" else ""


def judge(
    text: str,
    hit: PhraseHit,
    matched: list[PhraseHit],
    claims: FreeFromClaims,
    vocabulary: Vocabulary,
    found: FoundAllergen,
) -> None:
    """Add what one phrase says to `found`."""
    entry = hit.entry
    phrase = vocabulary.written.get(hit.phrase, hit.phrase)
    source = vocabulary.sources.get(entry.source, entry.source)
    if hit.read_as:
        phrase = f"{phrase} ({hit.read_as})"
    swap = _swap(hit, matched, claims, vocabulary)
    judged = _Phrase(text, phrase, source, hit, claims, vocabulary)
    for allergen, plain_name in () if hit.muted else entry.contains:
        effect = swap.effect if allergen in swap.swapped else ""
        _judge_contained(judged, allergen, plain_name, effect, found)
    kept = entry.possible
    if swap.effect == "drops":
        kept = tuple(pair for pair in kept if pair[0] not in swap.swapped)
    for allergen, name in kept + swap.possible if hit.added else ():
        if claims.takes_away(allergen, entry, hit.start):
            continue
        reason = f'"{phrase}" often holds {name}: the pack must say'
        if entry.note and not entry.contains:
            reason += f" ({entry.note})"
        finding = Finding(allergen, (name,), reason, text, "possible", "read-the-package", source, entry.exemption)
        _add(found.possible, finding)


@dataclass(frozen=True, slots=True)
class _Phrase:
    """A phrase of a text with what is needed to judge it."""

    text: str
    written: str
    source: str
    hit: PhraseHit
    claims: FreeFromClaims
    vocabulary: Vocabulary


def _judge_contained(phrase: _Phrase, allergen: str, plain_name: str, effect: str, found: FoundAllergen) -> None:
    """Add an allergen that a phrase holds: as certain, as a question where a claim, a swap or a typo leaves it open,
    or, where a claim takes it away, what may stand in for it."""
    hit, claims, text = phrase.hit, phrase.claims, phrase.text
    entry = hit.entry
    spelt = _is_spelt(allergen, hit, phrase.vocabulary)
    if effect == "drops" or claims.takes_away(allergen, entry, hit.start, spelt=spelt):
        for other, other_name in claims.stand_ins(allergen, hit.start):
            reason = f'the pack must say what stands in for {plain_name} in "{phrase.written}"'
            _add(found.possible, Finding(other, (other_name,), reason, text, "possible", "stand-in", COMMON))
        return
    name, exemption = _name(allergen, plain_name, hit), _exemption(hit)
    doubt = "the words before it may replace it" if effect == "doubts" else _doubt(allergen, hit, phrase.vocabulary)
    if not doubt and claims.doubts(allergen, entry, hit.start):
        doubt = "the claim in the name may be about it"
    if doubt:
        reason = f'"{phrase.written}" may hold {name} ({doubt}): the pack must say'
        _add(found.possible, Finding(allergen, (name,), reason, text, "possible", "doubtful-name", COMMON, exemption))
        return
    rule, reason = _RULES[entry.kind], _reason(phrase.written, allergen, name, entry, phrase.source)
    certainty = "likely" if entry.kind in ("common", "generic") or hit.read_as else "certain"
    _add(found.certain, Finding(allergen, (name,), reason, text, certainty, rule, phrase.source, exemption))


def _add(found: dict[tuple[str, str], Finding], finding: Finding) -> None:
    """Add a finding, or its name and reason to the one of the same allergen that is there."""
    key = (finding.allergen, finding.exemption)
    known = found.get(key)
    if known is None:
        found[key] = finding
        return
    (name,) = finding.names
    if name not in known.names:
        found[key] = replace(known, names=(*known.names, name), reason=f"{known.reason}; {finding.reason}")
