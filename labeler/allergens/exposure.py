"""What happens to each food of a recipe: is it heated, how hot, does only acid touch it, does it end up in a jar.

The cautions rest on these facts. They are read from the handling sentences with the recipe room's own grammar; a
step that names its objects speaks of those foods alone, one that names none of everything that stands above it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

from labeler.allergens.detect import assess_text
from labeler.allergens.vocabulary import rows
from labeler.allergens.words import BREAK, tokens
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.words import words as food_words
from labeler.parsing.handling import Step, read_handling

__all__ = ["Exposure", "Food", "exposure"]

HOT_SMOKE = 60.0
"""Air of hot smoke [°C] from here on: common practice, no source; cold smoke stays under 30."""
_ADDING = re.compile(r"\badd(?:ing)?\b(.*)", re.IGNORECASE)
HEATING = frozenset(
    {"roast", "bake", "broil", "pan-fry", "stir-fry", "deep-fry", "boil", "simmer", "braise", "steam", "microwave",
     "reduce"}
)  # fmt: skip
DRY_HEAT = frozenset({"roast", "bake", "broil", "pan-fry", "stir-fry", "deep-fry", "microwave"})
STEEPING = frozenset({"soak", "marinate", "brine", "pickle", "cure", "stand"})
ALREADY_COOKED = frozenset(
    {"canned", "tinned", "cooked", "precooked", "smoked", "dried", "salted", "paste", "powder", "stock", "extract",
     "boiled", "roasted", "roast", "grilled", "fried", "poached", "steamed", "baked", "kippered", "kipper", "jarred",
     "potted", "sauce", "jerky", "flake", "cured"}
)  # fmt: skip
PACKED = frozenset({"can", "tin", "jar"})
SEAFOOD = ("fish", "crustaceans", "molluscs")


@dataclass(slots=True)
class Food:
    """One line's food and what the recipe does to it."""

    line: WeighedLine
    part: int
    name: str
    kinds: frozenset[str]
    species: dict[str, tuple[str, ...]]
    cooked_before: bool
    steps: list[Step] = field(default_factory=list)

    @property
    def heated(self) -> bool:
        """True where a step that can cook it acts on it."""
        return any(step.action in HEATING or _hot_smoke(step) for step in self.steps)

    @property
    def raw(self) -> bool:
        """True where neither the cook nor the maker before has heated it."""
        return not self.heated and not self.cooked_before

    @property
    def text(self) -> str:
        """The line as written."""
        return self.line.line.text.strip()


@dataclass(frozen=True, slots=True)
class Exposure:
    """The foods of a recipe, its steps by part, and whether it says anything of handling at all."""

    foods: tuple[Food, ...]
    steps: tuple[tuple[Step, ...], ...]
    handled: bool


@cache
def _kinds() -> tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...]:
    def padded(cell: str) -> tuple[str, ...]:
        return tuple(f" {' '.join(tokens(word))} " for word in cell.split("|") if word)

    return tuple((row["kind"], padded(row["words"]), padded(row["unless"])) for row in rows("caution_foods.csv"))


def kinds_of(text: str, mended: str = "") -> frozenset[str]:
    """Which foods that a caution knows the words of a text name, unless the text or its mended spelling denies it."""
    said = f" {' '.join(word for word in tokens(text) if word != BREAK)} "
    meant = f"{said}{' '.join(tokens(mended))} "
    return frozenset(
        kind
        for kind, words, unless in _kinds()
        if any(word in said for word in words) and not any(word in meant for word in unless)
    )


def _food(line: WeighedLine, part: int) -> Food:
    written = line.line
    name = written.name or written.text
    said = f"{name}, {written.preparation}" if written.preparation else name
    words = set(tokens(said))
    species: dict[str, tuple[str, ...]] = {}
    for finding in assess_text(name).contains:
        if finding.allergen in SEAFOOD and finding.rule == "source" and "oil" not in words:
            species[finding.allergen] = finding.names
    # "Cider vinagar" is matched as vinegar, so it is no cider here either.
    meant = " ".join(food_words(line.match.read_as if line.match is not None and line.match.read_as else name))
    kinds = set(kinds_of(f"{said} {written.note}" if written.note else said, meant)) | kinds_of(meant) | set(species)
    packed = any(amount.unit in PACKED for amount in written.amounts)
    return Food(line, part, name, frozenset(kinds), species, packed or bool(words & ALREADY_COOKED))


def _lines(part: tuple[WeighedLine, ...]) -> Iterator[WeighedLine]:
    for line in part:
        if line.part is None:
            yield line
            yield from line.also


def _hot_smoke(step: Step) -> bool:
    """Whether smoking cooks: said to be hot, to a core temperature, or in air that no cold smoke has."""
    if step.action != "smoke":
        return False
    hot = step.celsius is not None and step.celsius.best >= HOT_SMOKE
    return hot or step.core is not None or "hot" in tokens(step.text)


def _names_it(step: Step, name: str) -> bool:
    """True where an object of the step is the food of this name."""
    words = set(tokens(name)) - {BREAK}
    return any(words & set(tokens(thing)) for thing in step.objects)


def _adds_it(step: Step, name: str) -> bool:
    """True where a step takes the food of this name in as it goes ("simmer the stock, adding the prawns")."""
    adding = _ADDING.search(step.text)
    return adding is not None and bool((set(tokens(name)) - {BREAK}) & set(tokens(adding[1])))


def _acts_on(step: Step, food: Food, beside: list[Food]) -> bool:
    if not step.objects or _names_it(step, food.name) or _adds_it(step, food.name):
        return True
    return not any(_names_it(step, other.name) for other in beside if other is not food)


def exposure(weighed: WeighedRecipe, *, market: str = "us") -> Exposure:
    """What the handling of a recipe does to each of its foods.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str
        Whose cups and pints the handling speaks of.
    """
    parts = weighed.parts
    foods = [_food(line, at) for at, part in enumerate(parts) for line in _lines(part.lines)]
    handling = [part.handling for part in weighed.recipe.parts]
    read = [[(said.after, step) for said in each for step in read_handling(said.text, market=market).steps]
            for each in handling]  # fmt: skip
    used_by = {at: [to for to, other in enumerate(parts) if any(line.part == part.title for line in other.lines)]
               for at, part in enumerate(parts)}  # fmt: skip
    for food in foods:
        beside = [other for other in foods if other.part == food.part]
        place = _place(parts[food.part].lines, food.line)
        food.steps += [step for after, step in read[food.part] if after > place and _acts_on(step, food, beside)]
        for at in _later(food.part, used_by):
            others = [other for other in foods if other.part == at]
            food.steps += [step for _, step in read[at] if _acts_on(step, food, others)]
    return Exposure(
        tuple(foods), tuple(tuple(step for _, step in each) for each in read), any(each for each in handling)
    )


def _place(lines: tuple[WeighedLine, ...], wanted: WeighedLine) -> int:
    for at, line in enumerate(lines):
        if line is wanted or any(other is wanted for other in line.also):
            return at
    return 0


def _later(part: int, used_by: dict[int, list[int]]) -> list[int]:
    """The parts that a part goes into, at any depth, each once."""
    found: list[int] = []
    waiting = list(used_by.get(part, ()))
    while waiting:
        at = waiting.pop(0)
        if at not in found and at != part:
            found.append(at)
            waiting += used_by.get(at, ())
    return found
