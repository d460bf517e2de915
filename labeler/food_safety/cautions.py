"""The food-safety cautions that a recipe calls for, each with its citation and a deferral to who decides.

Only what a buyer must see goes on the label; the rest is for the cook. No caution is ever a permission: where the
recipe is silent nothing is concluded, and where it speaks the local code and a licensed practice have the last word.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache

from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.food_safety import keeping
from labeler.food_safety.food_kinds import rows
from labeler.food_safety.from_flow import facts_of
from labeler.food_safety.model import ANIMAL, Caution, FoodKind, Heating, HeatTreatment, SafetyFacts
from labeler.food_safety.raised import Raised, because, named, with_kinds
from labeler.foods.model import WeighedRecipe
from labeler.markets import market_of

__all__ = ["cautions", "decide"]

K = FoodKind
# Safe minimum inner temperatures [°C]: USDA FSIS and foodsafety.gov; stuffed food as poultry (FDA Food Code
# 3-401.11(A)(3)).
LEAST_CORE = {K.POULTRY: 74.0, K.GAME: 74.0, K.GROUND_MEAT: 71.0, K.EGG: 71.0, K.MEAT: 63.0, K.FISH: 63.0}
STUFFED = 74.0
FIGURES = {
    K.POULTRY: "74 °C (165 °F)",
    K.GAME: "74 °C (165 °F) for wild game, 63 °C (145 °F) and 3 minutes of rest for farmed",
    K.GROUND_MEAT: "71 °C (160 °F)",
    K.EGG: "71 °C (160 °F)",
    K.MEAT: "63 °C (145 °F) and 3 minutes of rest",
    K.FISH: "63 °C (145 °F), or opaque flesh that flakes",
}
IN_WORDS = {K.GROUND_MEAT: "minced meat", K.EGG: "eggs", K.MOLLUSCS: "shellfish"}
EXEMPT_FISH = ("tuna",)
"""Fish that Food Code 3-402.11(B) exempts from freezing, by their start; and every roe."""

_PLACES = {"us": "the United States", "eu;uk": "the European Union"}


@cache
def _texts() -> dict[str, dict[str, dict[str, str]]]:
    """The rows of each code by the market that they are for, "" for one whose market has no row of its own."""
    found: dict[str, dict[str, dict[str, str]]] = {}
    for row in rows("cautions.csv"):
        of_code = found.setdefault(row["code"], {})
        for market in row["law"].split(";"):
            of_code[market] = row
        of_code.setdefault("", row)
    return found


def _row(code: str, market: str) -> dict[str, str]:
    """The row of a caution for a market: its own, one for any market, or another market's as mere guidance."""
    of_code = _texts()[code]
    own = of_code.get(market) or of_code.get("*")
    if own is not None:
        return own
    row = of_code[""]
    place = _PLACES[row["law"]]
    citation = f"guidance of {place}: {row['citation']}; the rule of this market is not held here"
    return row | {"citation": citation}


def _undercooked(food: HeatTreatment) -> bool:
    """True where heat does not reach the middle: rare, seared only, or under hot broth."""
    meat = food.kinds & {K.MEAT, K.GROUND_MEAT, K.POULTRY, K.GAME, K.FISH}
    return bool(meat) and not food.cooked_before and (
        food.underdone or food.heating in (Heating.SURFACE, Heating.POURED)
    )  # fmt: skip


def _raw_animal(facts: SafetyFacts) -> Iterator[Raised]:
    """Raw and underdone food of animals, fish parasites, acid that does not cook."""
    animal = with_kinds(facts, *ANIMAL)
    raw = [food for food in animal if food.raw and not food.heated and (facts.handled or food.raw_meant)]
    touched = raw + [food for food in animal if food not in raw and (_undercooked(food) or food.juice_raw)]
    if touched:
        kinds = [kind for kind in ANIMAL if any(kind in food.kinds for food in touched)]
        what = ", ".join(IN_WORDS.get(kind, kind.value) for kind in kinds)
        yield "raw-animal-food", what, "", because(touched)
        yield "raw-animal-food-cook", named(touched), "", because(touched)
    fish = [food for food in touched if K.FISH in food.kinds and not (_exempt(food) or food.juice_raw)]
    if fish:
        yield "raw-fish-parasites", named(fish), "", because(fish)
    acid = {food.part for food in with_kinds(facts, K.ACID)}
    grain = {food.part for food in with_kinds(facts, K.GRAIN)}  # whose vinegar it is: sushi
    only_acid = [
        food
        for food in raw
        if food.part in acid and food.part not in grain and (food.steeped or food.raw_meant) and K.EGG not in food.kinds
    ]
    if only_acid:
        yield "acid-does-not-cook", named(only_acid), "", because(only_acid)


def _exempt(food: HeatTreatment) -> bool:
    return bool(food.species) and all(name.startswith(EXEMPT_FISH) or name.endswith("roe") for name in food.species)


def _temperatures(facts: SafetyFacts) -> Iterator[Raised]:
    """Stated inner temperatures below the safe minimum, and none stated where one is needed."""
    for kind, least in LEAST_CORE.items():
        foods = [food for food in with_kinds(facts, kind) if food.heated and not food.cooked_before]
        if kind is K.MEAT:
            foods = [food for food in foods if K.GROUND_MEAT not in food.kinds]
        for food in foods:
            limit = max(least, STUFFED) if food.stuffed and kind is not K.EGG else least
            if food.core_c is not None and food.core_c < limit - 0.5:
                reached = f"{food.name} is taken to {food.core_c:.0f} °C in the middle"
                figure = FIGURES[kind] if limit == least else FIGURES[K.POULTRY] + " for stuffed food"
                what = f"{reached}; the minimum in the guidance of USDA is {figure}."
                yield "low-core-temperature", what, "", (food.text, food.core_text)
        silent = [
            food for food in foods
            if kind is not K.EGG and food.core_c is None and food.dry_heat and not food.simmered
        ]  # fmt: skip
        if silent:
            yield "no-core-temperature", named(silent), FIGURES[kind], because(silent)


_ALWAYS = (
    (K.RAW_MILK, ("raw-milk-label", "raw-milk")),
    (K.RAW_MILK_CHEESE, ("raw-milk",)),
    (K.HONEY, ("honey-infants",)),
    (K.HOT_CHILLI, ("hot-chilli-label", "hot-chilli")),
    (K.KIDNEY_BEANS, ("kidney-beans",)),
    (K.FORAGED, ("foraged",)),
    (K.RHUBARB_LEAVES, ("rhubarb-leaves",)),
    (K.APRICOT_KERNELS, ("apricot-kernels",)),
    (K.LIQUORICE, ("liquorice",)),
    (K.ASPARTAME, ("aspartame-label",)),
    (K.QUININE, ("quinine-label",)),
)
_UNHEATED = (
    (K.FLOUR, "raw-flour"),
    (K.SPROUTS, "raw-sprouts"),
    (K.ELDERBERRIES, "raw-elderberries"),
    (K.CASSAVA, "cassava"),
)


def _by_food(facts: SafetyFacts) -> Iterator[Raised]:
    """What a food calls for by itself, or where nothing heats it."""
    for kind, codes in _ALWAYS:
        foods = with_kinds(facts, kind)
        for code in codes if foods else ():
            yield code, named(foods), "", because(foods)
    whole = [food for food in with_kinds(facts, K.CHOKING) if not food.cut]
    if whole:
        yield "choking", named(whole), "", because(whole)
    for kind, code in _UNHEATED:
        unheated = [food for food in with_kinds(facts, kind) if facts.handled and food.raw]
        if unheated:
            yield code, named(unheated), "", because(unheated)
    alcohol = with_kinds(facts, K.ALCOHOL)
    if alcohol:
        yield "alcohol-left", named(alcohol), "", because(alcohol)
        if facts.handled and not all(food.heated for food in alcohol):
            yield "alcohol-label", "", "", because(alcohol)


def _hard_bits(facts: SafetyFacts) -> Iterator[Raised]:
    """Bones, shells and stones that stay in what is sold."""
    for kind, what in ((K.BONES, "bones"), (K.SHELLS, "pieces of shell"), (K.STONES, "stones")):
        foods = [food for food in with_kinds(facts, kind) if kind not in food.removed]
        if foods:
            yield "bones-label", what, "", because(foods)


_RULES: tuple[Callable[[SafetyFacts], Iterator[Raised]], ...] = (
    _raw_animal, _temperatures, keeping.holding, keeping.jars, keeping.oils, keeping.packing, _by_food, _hard_bits,
)  # fmt: skip


def decide(facts: SafetyFacts, market: str = "us") -> tuple[Caution, ...]:
    """The cautions that typed facts call for, those of the label first.

    Parameters
    ----------
    facts : SafetyFacts
    market : str
        Whose law is cited; what is not held of it is another's guidance.
    """
    found: dict[tuple[str, str], Caution] = {}
    for rule in _RULES:
        for code, what, figure, why in rule(facts):
            row = _row(code, market)
            text = row["text"].replace("{what}", what).replace("{figure}", figure)
            text = text[:1].upper() + text[1:]
            if row["deferral"]:
                text = f"{text} {row['deferral']}"
            found.setdefault((code, text), Caution(code, text, row["place"], row["citation"], _once(why)))
    return tuple(sorted(found.values(), key=lambda caution: caution.place != "label"))


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))


def cautions(weighed: WeighedRecipe, *, market: str | None = None, dish: Dish | None = None) -> tuple[Caution, ...]:
    """The cautions that a recipe calls for by its lines and by what its flow does to them.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str or None
        Whose law is cited; None takes the market that the recipe was weighed for, else the head's, else us.
    dish : Dish or None
        The recipe as it was cooked; None cooks it.

    Returns
    -------
    tuple of Caution
        Those for the label first, each with its citation. None is a permission, and an empty tuple is no sign of
        safety: where the recipe is silent nothing is concluded, and the local code has the last word.

    Source: cited in each row of ``labeler/food_safety/data/cautions.csv``.

    Examples
    --------
    >>> recipe = labeler.read_recipe("# Tartare\\n- 200 g raw minced beef\\n- 1 egg yolk\\n> mix and serve raw\\n")
    >>> "raw-animal-food" in {caution.code for caution in labeler.cautions(labeler.weigh(recipe))}
    True
    """
    dish = dish or cook(weighed)
    place = market_of(weighed.recipe, market or weighed.market)
    found = decide(facts_of(weighed, dish=dish), place)
    for other in dish.others:  # where the method can be read in two ways, what either calls for is told
        told = {caution.code for caution in found}
        found += tuple(one for one in decide(facts_of(weighed, dish=other), place) if one.code not in told)
    return tuple(sorted(found, key=lambda one: one.place != "label"))
