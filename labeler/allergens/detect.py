"""Finding the allergens of one ingredient name.

The name's tokens are matched against the vocabulary; a phrase inside a longer one says nothing; what is left is
bent by the words around it: what a "rice" before "noodles" replaces, what "vegan" or "egg-free" takes away from
foods that only usually contain it, what "flavouring" makes doubtful. A word that names the allergenic food
itself is never taken away by a claim: gluten-free oats stay oats.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise

from labeler.allergens.claims import Claims, read_claims
from labeler.allergens.match import SLIP, STOPS, Hit, match, walk_left
from labeler.allergens.model import Assessment, Finding, merge
from labeler.allergens.sentence import Spoken, refers_back
from labeler.allergens.vocabulary import Entry, Swap, Vocabulary, load_vocabulary
from labeler.allergens.words import BREAK, tokens
from labeler.foods.words import word_kinds
from labeler.parsing.ingredient.remarks import Remark, split_remarks

__all__ = ["assess_text", "offered"]

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
class _Found:
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


def _swap(hit: Hit, matched: list[Hit], claims: Claims, vocabulary: Vocabulary) -> Swap:
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
            if other is None and words[at - 1] not in vocabulary.entries and words[at - 1].isalpha():
                return UNKNOWN_FLOUR
    return NO_SWAP


def _name(allergen: str, name: str, hit: Hit) -> str:
    """The name with the animal of a milk or an egg that is not the cow's or the hen's."""
    if allergen == "milk" and name == "milk":
        for word in hit.words[max(hit.start - 2, 0) : hit.end]:
            if word in MILKERS and (word != "buffalo" or not BUFFALO_DAIRY.isdisjoint(hit.phrase.split(" "))):
                return MILKERS[word]
    elif allergen == "egg" and name == "egg" and hit.start and hit.words[hit.start - 1] in LAYERS:
        return f"{hit.words[hit.start - 1]} egg"
    return name


def _doubt(allergen: str, hit: Hit, vocabulary: Vocabulary) -> str:
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


def _reason(phrase: str, allergen: str, name: str, entry: Entry, source: str) -> str:
    """Why a phrase means that the food contains an allergen, in a sentence."""
    noun = _NOUNS.get(allergen, "a tree nut" if allergen in NUTS else "")
    if entry.kind == "source":
        same = name == phrase or name in phrase.split(" ")
        said = f'"{phrase}" is {noun}' if noun and same else f'"{phrase}" is {name}' + (f", {noun}" if noun else "")
    elif entry.kind == "derivative":
        said = f'"{phrase}" comes from {name}'
    elif entry.kind == "standard":
        same = name in phrase.split(" ")
        said = f'"{phrase}" is {name}' if same else f'"{phrase}" by its standard or definition is made with {name}'
        if source != COMMON:
            said += f" ({source})"
    else:
        said = f'"{phrase}" is made with {name} in common practice'
    return f"{said} ({entry.note})" if entry.note else said


def _is_spelt(allergen: str, hit: Hit, vocabulary: Vocabulary) -> bool:
    """True where a compound names the allergenic food among its words: the egg of "egg noodles"."""
    words = hit.phrase.split(" ")
    named = (vocabulary.entries.get(word) for word in words if len(words) > 1)
    return any(
        entry is not None and entry.kind == "source" and allergen in (found for found, _ in entry.contains)
        for entry in named
    )


def _of_an_oil(hit: Hit) -> bool:
    """True where a bean or a nut is one of those that a blended oil is made of ("soybean and canola oil")."""
    words, at = hit.words, hit.end
    while words[at : at + 1] and words[at] in ("and", "or") and words[at + 1 : at + 2] and words[at + 1] in BLENDED:
        at += 2
        if words[at : at + 1] == ["oil"]:
            return True
    return False


def _exemption(hit: Hit) -> str:
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


def _judge(text: str, hit: Hit, matched: list[Hit], claims: Claims, vocabulary: Vocabulary, found: _Found) -> None:
    """Add what one phrase says to `found`."""
    entry = hit.entry
    phrase = vocabulary.written.get(hit.phrase, hit.phrase)
    source = vocabulary.sources.get(entry.source, entry.source)
    if hit.read_as:
        phrase = f"{phrase} ({hit.read_as})"
    swap = _swap(hit, matched, claims, vocabulary)
    exemption = _exemption(hit)
    for allergen, plain_name in () if hit.muted else entry.contains:
        effect = swap.effect if allergen in swap.swapped else ""
        spelt = _is_spelt(allergen, hit, vocabulary)
        if effect == "drops" or claims.takes_away(allergen, entry, hit.start, spelt=spelt):
            for other, other_name in claims.stand_ins(allergen, hit.start):
                reason = f'the pack must say what stands in for {plain_name} in "{phrase}"'
                _add(found.possible, Finding(other, (other_name,), reason, text, "possible", "stand-in", COMMON))
            continue
        name = _name(allergen, plain_name, hit)
        doubt = "the words before it may replace it" if effect == "doubts" else _doubt(allergen, hit, vocabulary)
        if not doubt and claims.doubts(allergen, entry, hit.start):
            doubt = "the claim in the name may be about it"
        if doubt:
            reason = f'"{phrase}" may hold {name} ({doubt}): the pack must say'
            _add(
                found.possible, Finding(allergen, (name,), reason, text, "possible", "doubtful-name", COMMON, exemption)
            )
            continue
        rule, reason = _RULES[entry.kind], _reason(phrase, allergen, name, entry, source)
        certainty = "likely" if entry.kind in ("common", "generic") or hit.read_as else "certain"
        _add(found.certain, Finding(allergen, (name,), reason, text, certainty, rule, source, exemption))
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


def _well_named(finding: Finding, one_food: bool) -> Finding:
    """The finding without the plain name of its kind where it has a better one."""
    if len(finding.names) == 1:
        return finding
    plain = UNNAMED.get(finding.allergen) or (UNNAMED_ALONE.get(finding.allergen) if one_food else None)
    return replace(finding, names=tuple(name for name in finding.names if name != plain))


def _without_category(words: list[str], speaking: list[Hit]) -> list[Hit]:
    """The hits without a leading "nuts" that the rest of the name makes plain ("nuts, almonds")."""
    if BREAK not in words:
        return speaking
    first = words.index(BREAK)
    rest = [hit for hit in speaking if hit.entry.base != "category"]
    plain = any(
        hit.entry.kind == "misleads" or not NUTS.isdisjoint(allergen for allergen, _ in hit.entry.contains)
        for hit in rest
    )
    if not plain:
        return speaking
    return [hit for hit in speaking if hit.entry.base != "category" or (hit.words is words and hit.end > first)]


def _names_another(dish: Hit, speaking: list[Hit]) -> bool:
    """True where a name says of what else than fish a dish of raw fish is: "shrimp ceviche", "vegetable sushi"."""
    held = [allergen for hit in speaking if hit is not dish for allergen, _ in hit.entry.contains]
    if "fish" in held:
        return False
    before_it = [hit for hit in speaking if hit.end == dish.start and hit.words is dish.words]
    return not SEAFOOD.isdisjoint(held) or any(hit.entry.kind in ("plant", "misleads") for hit in before_it)


def _is_head(hit: Hit, words: list[str]) -> bool:
    """True for a vague word that is the noun of the name: the tart of "lemon tart", not of "apples, tart"."""
    ends = hit.end >= len(words) or words[hit.end] == BREAK or words[hit.end] in STOPS
    told = " " in hit.phrase or (hit.start > 0 and words[hit.start - 1] != BREAK)
    return hit.entry.base == "head" and hit.words is words and ends and told


JOINING = frozenset({"and", "plus"})


def _unread(words: list[str], matched: list[Hit], vocabulary: Vocabulary) -> Iterator[str]:
    """Of a name that joins several foods, those that say nothing: "salt and od"."""
    if JOINING.isdisjoint(words):
        return
    said = {at for hit in matched if hit.entry.kind != "modifier" for at in range(hit.start, hit.end)}
    cuts = [-1, *(at for at, word in enumerate(words) if word in JOINING), len(words)]
    for start, end in pairwise(cuts):
        inside = range(start + 1, end)
        if said.isdisjoint(inside) and any(_may_be_food(words[at], vocabulary) for at in inside):
            yield " ".join(words[at] for at in inside)


def _may_be_food(word: str, vocabulary: Vocabulary) -> bool:
    """True for a word that is none of those that only say how a food is, nor a small one."""
    return word.isalpha() and not vocabulary.only_describes(word) and word not in word_kinds() and word not in STOPS


def assess_text(text: str, *, aside: bool = False, recipe: Spoken | None = None) -> Assessment:
    """The allergens that the words of one ingredient name speak of.

    Parameters
    ----------
    text : str
        One name in a cook's or a label's words; a name of several foods gives all that they contain.
    aside : bool
        True for a text that is not a name (a preparation, a note, a handling sentence): words that say little
        on their own ("sauce", "toast") then say nothing.
    recipe : Spoken or None
        For a handling sentence: what its recipe has named already, so that "boil the noodles" speaks of the rice
        noodles that are there.
    """
    plain, remarks = split_remarks(text)
    said = _assess(text, plain, aside, recipe)
    return said if not remarks else offered(said, remarks)


def offered(said: Assessment, remarks: Iterable[Remark]) -> Assessment:
    """What is said of a food, with what the remarks beside it would bring as a question; nothing is taken away."""
    instead = tuple(
        replace(finding, certainty="possible", reason=f"{finding.reason}, if “{remark.text}” is followed")
        for remark in remarks
        for found in (_assess(remark.text, remark.text, True, None),)
        for finding in (*found.contains, *found.read_the_package)
        if finding.allergen not in said.allergens
    )
    return merge(said.text, (said, Assessment(said.text, read_the_package=instead)))


def _assess(text: str, plain: str, aside: bool, recipe: Spoken | None) -> Assessment:
    """The allergens of a text whose remarks are taken out."""
    vocabulary = load_vocabulary()
    words = tokens(plain)
    found = _Found()
    matched = match(words, vocabulary, aside=aside)
    speaking = [hit for hit in matched if hit.entry.kind != "modifier"]
    if aside or any(hit.entry.kind != "generic" for hit in speaking):
        speaking = [hit for hit in speaking if hit.entry.kind != "generic" or (not aside and _is_head(hit, words))]
    speaking = _without_category(words, speaking)
    for hit in speaking:
        if hit.entry.base == "seafood" and _names_another(hit, speaking):
            hit.doubt = "of the food that is named beside it"
    if recipe is not None:
        speaking = [hit for hit in speaking if not refers_back(hit, recipe, vocabulary)]
    claims = {id(words): read_claims(words, vocabulary)}
    for hit in speaking:
        if not hit.entry.contains and not hit.entry.possible:
            continue
        claimed = claims.get(id(hit.words))
        if claimed is None:
            claimed = claims[id(hit.words)] = read_claims(hit.words, vocabulary)
        if not claimed.covers(hit.start, hit.end):
            _judge(text, hit, matched, claimed, vocabulary, found)
    one_food = SEVERAL.isdisjoint(words)
    open_ = not (speaking or claims[id(words)].denies) or any(hit.doubt == SLIP for hit in speaking)
    unread = (text,) if open_ else () if aside else tuple(_unread(words, matched, vocabulary))
    return Assessment(
        text,
        tuple(_well_named(finding, one_food) for finding in found.certain.values()),
        tuple(finding for key, finding in found.possible.items() if key not in found.certain),
        unread,
    )
