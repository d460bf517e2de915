"""Ways to settle an input that is in doubt: what to do, what to type then, and the recipe with it done."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from labeler.cooking.serving import Portion
from labeler.cooking.state.geometry import usual_shape
from labeler.cooking.state.mixture import Array
from labeler.flow.model import Reading, Unlisted
from labeler.flow.questions import answer_to, asked_of
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import kind_of
from labeler.foods.model import Match, WeighedLine, WeighedRecipe
from labeler.foods.resolve import weigh_line
from labeler.foods.user_foods import OwnValue, UserFood
from labeler.parsing import read_line
from labeler.parsing.ingredient.facts import facts_of
from labeler.parsing.model import Handling, Recipe
from labeler.types import Interval, Status

__all__ = [
    "Changes",
    "Way",
    "gain",
    "line_way",
    "list_way",
    "package_way",
    "pinned",
    "rounded",
    "settle_division",
    "settle_reading",
    "thickness_way",
    "weigh_after",
]

# Half the rounding step of a US panel for a serving of 30 g (21 CFR 101.9(c)), per 100 g.
_PANEL = {"ENERC_KCAL": 17.0, "FAT": 0.8, "FASAT": 0.8, "CHOCDF": 1.7, "SUGAR": 1.7, "PROCNT": 1.7, "NA": 17.0}
_UNEVEN = 0.2


class Changes(Enum):
    """What of a run is no longer as it was when something is settled."""

    DIVISION = "what the dish is divided by"
    FOODS = "the weight or the composition of a food that all the same is done to"
    METHOD = "what is done to the foods"
    READING = "which of two ways the method is read"


@dataclass(frozen=True, slots=True)
class Way:
    """A way to settle something: what to do and type, how promising it looks, and the recipe with it done."""

    measure: str
    type: str
    where: str
    promise: Array
    changed: Callable[[], WeighedRecipe]
    changes: Changes


def gain(share: Array) -> Array:
    """Share of an interval that goes away with a share of the variance."""
    gain: Array = 1.0 - np.sqrt(1.0 - np.clip(share, 0.0, 1.0))
    return gain


def line_way(
    weighed: WeighedRecipe,
    place: tuple[int, int],
    measure: str,
    typed: str,
    promise: Array,
    market: str,
    *,
    changes: Changes,
) -> Way:
    def changed() -> WeighedRecipe:
        before = weighed.parts[place[0]].lines[place[1]].line
        read = replace(read_line(typed, number=before.number), group=before.group)
        line = weigh_line(read, market=market, larder=weighed.recipe.larder)
        return _with_line(weighed, place, line)

    return Way(measure, f"“{typed}”", "write it in the line", promise, changed, changes)


def thickness_way(weighed: WeighedRecipe, place: tuple[int, int], line: WeighedLine, share: Array, market: str) -> Way:
    """Measure how thick the pieces of a line are, which rules how fast salt and the like move."""
    food = line.match.food if line.match is not None else None
    shape = usual_shape(facts_of(line.line).cut, kind_of(food))
    text, braces, rest = line.line.text.strip().partition("{")
    word = {"sheet": "thick", "cylinder": "across", "sphere": "pieces"}[shape.form]
    typed = f"{text.rstrip()}, {2 * shape.half.best:.0f} mm {word} {braces}{rest}".strip()
    # What is measured is still uneven by a fifth: the share of the variance that goes away.
    loose = (shape.half.high - shape.half.low) / 2 / shape.half.best
    gone = max(0.0, 1.0 - (_UNEVEN / loose) ** 2) if loose > 0.0 else 0.0
    measure = f"measure how thick the {line.line.name} is"
    return line_way(weighed, place, measure, typed, gain(share * gone), market, changes=Changes.METHOD)


def _with_line(weighed: WeighedRecipe, place: tuple[int, int], line: WeighedLine) -> WeighedRecipe:
    part = weighed.parts[place[0]]
    lines = (*part.lines[: place[1]], line, *part.lines[place[1] + 1 :])
    parts = (*weighed.parts[: place[0]], replace(part, lines=lines), *weighed.parts[place[0] + 1 :])
    return replace(weighed, parts=parts)


def package_way(weighed: WeighedRecipe, place: tuple[int, int], line: WeighedLine, promise: Array) -> Way:
    """Take a food's panel for its composition: the table's values within the panel's rounding."""
    assert line.match is not None and line.match.food is not None
    name, food = line.line.name, line.match.food

    def changed() -> WeighedRecipe:
        table = load_table()
        values = {}
        for nutrient in table.nutrients:
            value = table.value(food, nutrient.key)
            if np.isfinite(value):
                half = _PANEL.get(nutrient.key, 0.0)
                values[nutrient.key] = OwnValue(value, max(value - half, 0.0), value + half, Status.CALCULATED)
        own = UserFood(f"larder:{name}", name, like=food, per_100g=values)
        match = Match(food, name, 1.0, "its package", own=own)
        return _with_line(weighed, place, replace(line, match=match))

    typed = f"labeler larder add --name “{name}” --per “30 g” --value sodium=“… mg” --value total_fat=“… g”"
    return Way(
        f"keep the package of the {name}", typed, "put its panel into your larder", promise, changed, Changes.FOODS
    )


def list_way(weighed: WeighedRecipe, at: int, one: Unlisted, promise: Array, market: str) -> Way:
    """Weigh what only the method names, and give it a line."""
    assert one.grams is not None
    typed = f"{rounded(one.grams.best)} g {one.name}"

    def changed() -> WeighedRecipe:
        part, weighed_part = weighed.recipe.parts[at], weighed.parts[at]
        line = read_line(typed, number=part.number)
        handling = tuple(replace(row, after=row.after + 1) for row in part.handling)
        parts = weighed.recipe.parts
        listed = replace(part, lines=(line, *part.lines), handling=handling)
        recipe = replace(weighed.recipe, parts=(*parts[:at], listed, *parts[at + 1 :]))
        lines = (weigh_line(line, market=market, larder=weighed.recipe.larder), *weighed_part.lines)
        done = (*weighed.parts[:at], replace(weighed_part, lines=lines), *weighed.parts[at + 1 :])
        return replace(weighed, recipe=recipe, parts=done)

    measure = f"weigh the {one.name}, which no line lists,"
    return Way(measure, f"“- {typed}”", "write it as the first line", promise, changed, Changes.METHOD)


def weigh_after(weighed: WeighedRecipe, at: int, number: int, grams: Interval, promise: Array) -> Way:
    """Weigh what is there after a handling sentence."""
    part = weighed.recipe.parts[at]
    sentence = next((one for one in part.handling if one.number == number), None)
    typed = f"weighs {rounded(grams.best)} g"

    def changed() -> WeighedRecipe:
        if sentence is None:
            return weighed
        after = part.handling.index(sentence) + 1
        weighing = Handling(typed, sentence.number, sentence.after)
        handling = (*part.handling[:after], weighing, *part.handling[after:])
        parts = weighed.recipe.parts
        recipe = replace(weighed.recipe, parts=(*parts[:at], replace(part, handling=handling), *parts[at + 1 :]))
        return replace(weighed, recipe=recipe)

    what = f"the {part.title}" if part.title else "what you have"
    done = f"weigh {what} after “{sentence.text if sentence else ''}”"
    return Way(done, f"“> {typed}”", "write it under that", promise, changed, Changes.METHOD)


def settle_reading(weighed: WeighedRecipe, reading: Reading, promise: Array) -> Way:
    """Say in the method which way it is meant."""
    choice = reading.choice
    asked = asked_of(choice)
    measure = f"settle what line {choice.question.span.line} leaves open ({asked[0].lower()}{asked[1:]})"
    return Way(measure, answer_to(choice), "write it there", promise, lambda: weighed, Changes.READING)


def settle_division(weighed: WeighedRecipe, divided: Portion, promise: Array) -> Way:
    """Weigh one serving."""
    typed = f"serving: {rounded(divided.grams)} g"

    def changed() -> WeighedRecipe:
        recipe: Recipe = replace(weighed.recipe, head={**weighed.recipe.head, "serving": f"{rounded(divided.grams)} g"})
        return replace(weighed, recipe=recipe)

    one = divided.household or "serving"
    named = "one " + one.removeprefix("1 ") if one.startswith("1 ") or not one[0].isdigit() else one
    return Way(f"weigh {named}", f"“{typed}”", "write it in the head", promise, changed, Changes.DIVISION)


def pinned(text: str, item: str) -> str:
    """A line with one item more in its braces."""
    if "}" in text:
        return text.replace("}", f", {item}}}", 1)
    return f"{text} {{{item}}}"


def rounded(grams: float) -> str:
    """Grams as a kitchen scale shows them."""
    return f"{grams:.1f}" if grams < 20 else f"{grams:.0f}"
