"""The food-safety cautions that a recipe calls for, each with its citation and a deferral to who decides.

Only what a buyer must see goes on the label; the rest is for the cook. No caution is ever a permission: where the
recipe is silent nothing is concluded, and where it speaks the local code and a licensed practice have the last word.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache

from labeler.allergens.exposure import Exposure, Food, exposure
from labeler.allergens.model import Caution
from labeler.allergens.vocabulary import rows
from labeler.cooking.state.ledger import Dish
from labeler.foods.model import WeighedRecipe
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.model import Instruction, Mark, Mood

__all__ = ["cautions"]

Raised = tuple[str, str, str, tuple[str, ...]]
"""A caution's code, what it is about, a figure, and the lines that raise it."""

# Safe minimum inner temperatures [°C]: USDA FSIS and foodsafety.gov.
LEAST_CORE = {"poultry": 74.0, "ground meat": 71.0, "egg": 71.0, "meat": 63.0, "fish": 63.0}
FIGURES = {
    "poultry": "74 °C (165 °F)",
    "ground meat": "71 °C (160 °F)",
    "egg": "71 °C (160 °F)",
    "meat": "63 °C (145 °F) and 3 minutes of rest",
    "fish": "63 °C (145 °F), or opaque flesh that flakes",
}
ANIMAL = ("poultry", "ground meat", "meat", "egg", "fish", "crustaceans", "molluscs")
IN_WORDS = {"ground meat": "minced meat", "egg": "eggs", "crustaceans": "crustaceans", "molluscs": "shellfish"}
UNDERDONE = frozenset({Mark.RARE, Mark.MEDIUM_RARE})
_JAR = re.compile(r"\b(?:jars?|bottles?|preserved?|canning|mason)\b", re.IGNORECASE)
_COLD = re.compile(r"\b(?:cold|refrigerat\w*|chill\w*|fridge|frozen|freez\w*|[0-8] ?°? ?c)\b", re.IGNORECASE)
_AFTER_OPENING = re.compile(r"\b(?:once|after|when) open(?:ed|ing)?\b[^.;]*", re.IGNORECASE)
_RAW_DISH = re.compile(
    r"\b(?:ceviche|cebiche|tartare|carpaccio|crudo|sashimi|gravlax|gravad|poke|raw|sushi)\b", re.IGNORECASE
)


_SEALS = frozenset({"bottle", "jar", "can", "seal", "put up"})
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


def _done(one: Instruction) -> bool:
    return one.mood in (Mood.DO, Mood.MAY)


def _named(foods: Iterable[Food]) -> str:
    return ", ".join(dict.fromkeys(food.name for food in foods))


def _because(foods: Iterable[Food]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(food.text for food in foods))


def _with(facts: Exposure, *kinds: str) -> list[Food]:
    return [food for food in facts.foods if food.kinds & set(kinds)]


def _raw_animal(weighed: WeighedRecipe, facts: Exposure) -> Iterator[Raised]:
    """Raw and underdone food of animals, fish parasites, acid that does not cook."""
    says_raw = bool(_RAW_DISH.search(weighed.recipe.title))
    raw = [food for food in _with(facts, *ANIMAL) if food.raw and (facts.handled or says_raw)]
    under = [
        food
        for food in _with(facts, "meat", "ground meat", "poultry")
        if any(node.settings.marks & UNDERDONE for node in food.steps)
    ]
    touched = [*raw, *(food for food in under if food not in raw)]
    if touched:
        kinds = [kind for kind in ANIMAL if any(kind in food.kinds for food in touched)]
        what = ", ".join(IN_WORDS.get(kind, kind) for kind in kinds)
        yield "raw-animal-food", what, "", _because(touched)
        yield "raw-animal-food-cook", _named(touched), "", _because(touched)
    fish = [
        food
        for food in raw
        if "fish" in food.kinds and not all(name == "tuna" or name.endswith("roe") for name in food.species["fish"])
    ]
    if fish:
        yield "raw-fish-parasites", _named(fish), "", _because(fish)
    acid = {food.part for food in _with(facts, "acid")}
    only_acid = [food for food in raw if food.part in acid and food.steeped and "egg" not in food.kinds]
    if only_acid:
        yield "acid-does-not-cook", _named(only_acid), "", _because(only_acid)


def _temperatures(weighed: WeighedRecipe, facts: Exposure) -> Iterator[Raised]:
    """Stated inner temperatures below the safe minimum, and none stated where one is needed."""
    for kind, least in LEAST_CORE.items():
        foods = [food for food in _with(facts, kind) if food.heated and not food.cooked_before]
        stated = [
            (food, step, core) for food in foods for step in food.steps if (core := step.settings.core) is not None
        ]
        for food, step, core in stated:
            if core.best < least - 0.5:
                reached = f"{food.name} is taken to {core.best:.0f} °C in the middle"
                what = f"{reached}; the minimum in the guidance of USDA is {FIGURES[kind]}."
                yield "low-core-temperature", what, "", (food.text, step.text)
        silent = [food for food in foods if kind != "egg" and food.dry_heated
                  and not any(step.settings.core is not None for step in food.steps)]  # fmt: skip
        if silent:
            yield "no-core-temperature", _named(silent), FIGURES[kind], _because(silent)


def _holding(weighed: WeighedRecipe, facts: Exposure) -> Iterator[Raised]:
    """Cold and hot holding, and the laws that leave such food out of home kitchens."""
    foods = _with(facts, "poultry", "ground meat", "meat", "fish", "crustaceans", "molluscs")
    if foods:
        yield "cold-and-hot-holding", "", "", _because(foods)
        yield "home-kitchen", _named(foods), "", _because(foods)
        if not _kept_cold(weighed):
            yield "keep-cold", "", "", _because(foods)


def _kept_cold(weighed: WeighedRecipe) -> bool:
    """True where the head's storage says that the food is kept cold, and not only once it is open."""
    return bool(_COLD.search(_AFTER_OPENING.sub("", str(weighed.recipe.head.get("storage") or ""))))


def _in_jars(weighed: WeighedRecipe, facts: Exposure) -> bool:
    head = weighed.recipe.head
    said = " ".join(str(head.get(key, "")) for key in ("title", "makes", "net", "pack", "container"))
    sealed = any(one.verb in _SEALS and _done(one) for each in facts.methods for one in each)
    return bool((_JAR.search(said) or sealed) and not _kept_cold(weighed))


def _jars(weighed: WeighedRecipe, facts: Exposure) -> Iterator[Raised]:
    """Closed jars of low-acid and acidified food."""
    low = _with(facts, "low-acid food", "poultry", "meat", "ground meat", "fish")
    if not low or not _in_jars(weighed, facts):
        return
    if not _with(facts, "acid"):
        yield "low-acid-jar", _named(low), "", _because(low)
    elif not any(str(key).lower() == "ph" for key in weighed.recipe.head):
        yield "acidified-jar", _named(low), "", _because(low)


def _oils(weighed: WeighedRecipe, facts: Exposure) -> Iterator[Raised]:
    """Garlic, herbs and the like kept in oil."""
    for at, part in enumerate(weighed.parts):
        here = [food for food in facts.foods if food.part == at]
        oil = [food for food in here if "oil" in food.kinds]
        fresh = [food for food in here if "garlic or herbs" in food.kinds and "oil" not in food.kinds]
        title = part.title or weighed.recipe.title
        kept = re.search(r"\b(?:oil|confit)\b", title, re.IGNORECASE) or (
            len(here) <= 4 and any(action(one.action).handler is Handler.LIE for one in facts.methods[at] if _done(one))
        )
        if oil and fresh and kept and not any("acid" in food.kinds for food in here):
            yield "flavoured-oil", _named(fresh), "", _because([*fresh, *oil])
            yield "flavoured-oil-label", "", "", _because([*fresh, *oil])


_ALWAYS = (
    ("raw milk", ("raw-milk-label", "raw-milk")),
    ("raw milk cheese", ("raw-milk",)),
    ("honey", ("honey-infants",)),
    ("hot chilli", ("hot-chilli-label", "hot-chilli")),
    ("dried kidney beans", ("kidney-beans",)),
    ("foraged mushrooms", ("foraged",)),
    ("rhubarb leaves", ("rhubarb-leaves",)),
    ("apricot kernels", ("apricot-kernels",)),
    ("liquorice", ("liquorice",)),
    ("choking", ("choking",)),
    ("aspartame", ("aspartame-label",)),
    ("quinine", ("quinine-label",)),
)
_UNHEATED = (
    ("flour", "raw-flour"),
    ("sprouts", "raw-sprouts"),
    ("elderberries", "raw-elderberries"),
    ("cassava", "cassava"),
)


def _by_food(weighed: WeighedRecipe, facts: Exposure) -> Iterator[Raised]:
    """What a food calls for by itself, or where nothing heats it."""
    for kind, codes in _ALWAYS:
        foods = _with(facts, kind)
        for code in codes if foods else ():
            yield code, _named(foods), "", _because(foods)
    for kind, code in _UNHEATED:
        unheated = [food for food in _with(facts, kind) if facts.handled and food.raw]
        if unheated:
            yield code, _named(unheated), "", _because(unheated)
    alcohol = _with(facts, "alcohol")
    if alcohol:
        yield "alcohol-left", _named(alcohol), "", _because(alcohol)
        if facts.handled and not all(food.heated for food in alcohol):
            yield "alcohol-label", "", "", _because(alcohol)


def _hard_bits(weighed: WeighedRecipe, facts: Exposure) -> Iterator[Raised]:
    """Bones, shells and stones that may stay in what is sold."""
    gone = frozenset(
        kind
        for each in facts.methods
        for one in each
        if action(one.action).handler in (Handler.DISCARD, Handler.LIFT) and _done(one)
        for kind, words in (("bones", "bone"), ("shells", "shell"), ("pits", "stone pit"))
        if any(word in mention.name.lower() for mention in one.mentions for word in words.split())
    )
    for kind, what in (("bones", "bones"), ("shells", "pieces of shell"), ("pits", "stones")):
        foods = _with(facts, kind)
        if foods and kind not in gone:
            yield "bones-label", what, "", _because(foods)


_RULES: tuple[Callable[[WeighedRecipe, Exposure], Iterator[Raised]], ...] = (
    _raw_animal, _temperatures, _holding, _jars, _oils, _by_food, _hard_bits,
)  # fmt: skip


def cautions(weighed: WeighedRecipe, market: str = "us", *, dish: Dish | None = None) -> tuple[Caution, ...]:
    """The cautions that a recipe calls for, those of the label first.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str
        Whose law is cited; what is not held of it is another's guidance.
    dish : Dish or None
        The recipe as it was cooked; None cooks it.
    """
    facts = exposure(weighed, dish=dish)
    found: dict[tuple[str, str], Caution] = {}
    for rule in _RULES:
        for code, what, figure, because in rule(weighed, facts):
            row = _row(code, market)
            text = row["text"].replace("{what}", what).replace("{figure}", figure)
            text = text[:1].upper() + text[1:]
            if row["deferral"]:
                text = f"{text} {row['deferral']}"
            found.setdefault((code, text), Caution(code, text, row["place"], row["citation"], because))
    return tuple(sorted(found.values(), key=lambda caution: caution.place != "label"))
