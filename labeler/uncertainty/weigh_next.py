"""Which few measurements in the kitchen would make the label surer, and by how much.

Every input that is in doubt has a way to be settled: weigh the line, say which food it is or how thick, weigh what is
left after a step, weigh a serving, read the package. The ways that look best by their shares of the variance are tried
in earnest: the recipe is changed as its cook would change it, run again with the same draws, and the intervals are
compared. What is promised is what typing the measured value does.

Figures count by what they are of a day: 2,000 kcal, fat 78 g, saturated fat 20 g, carbohydrate 275 g, protein 50 g and
sodium 2,300 mg (21 CFR 101.9(c)(8)(iii) and (9)), sugars 90 g (Regulation (EU) 1169/2011, annex XIII, part B).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.run import cook
from labeler.cooking.state.food_class import kind_of
from labeler.cooking.state.geometry import usual_shape
from labeler.cooking.state.ledger import Dish, Ledger
from labeler.cooking.state.mixture import Array, column
from labeler.cooking.state.sampling import Cause, DrawKey
from labeler.foods.model import Match, WeighedLine, WeighedRecipe
from labeler.foods.own import OwnFood, OwnValue
from labeler.foods.table import load_table
from labeler.foods.weigh import weigh_line
from labeler.knowledge import Interval, Status
from labeler.parsing import read_line
from labeler.parsing.ingredient.facts import facts_of
from labeler.parsing.model import Handling, Recipe
from labeler.portion import Portion, portion
from labeler.uncertainty.amounts import with_rounding
from labeler.uncertainty.choice import Candidates
from labeler.uncertainty.composition import made_up
from labeler.uncertainty.propagate import Drawn, chosen_food, draw_dish, inverse

__all__ = ["KEY_FIGURES", "Advice", "weigh_next"]

KEY_FIGURES = {
    "ENERC_KCAL": ("energy", 2000.0),
    "FAT": ("fat", 78.0),
    "FASAT": ("saturated fat", 20.0),
    "CHOCDF": ("carbohydrate", 275.0),
    "SUGAR": ("sugars", 90.0),
    "PROCNT": ("protein", 50.0),
    "NA": ("sodium", 2300.0),
}
"""Figures that advice goes by: name, and how much of it a day has."""

# Half the rounding step of a US panel for a serving of 30 g (21 CFR 101.9(c)), per 100 g.
_PANEL = {"ENERC_KCAL": 17.0, "FAT": 0.8, "FASAT": 0.8, "CHOCDF": 1.7, "SUGAR": 1.7, "PROCNT": 1.7, "NA": 17.0}
_UNEVEN = 0.2
_PACKAGED = ("canned", "smoked", "cured", "pickled", "cheese", "yogurt", "tofu", "soy sauce", "bacon", "peanut butter")
_DRAWS = 1000
_TRIED, _GIVEN = 4, 3
_WORTH = 0.05
# A kitchen scale shows whole grams, so that less than this is not told from nothing [g]. Common practice, no source.
_ON_A_SCALE = 2.0
_DIVISION = DrawKey(Cause.DIVISION)
# What a cook settles by weighing, looking or measuring; everything else that is drawn is handling.
_INPUTS = frozenset({Cause.GRAMS, Cause.FOOD, Cause.DIVISION, Cause.HALF_THICKNESS})
_COLUMNS = [column(key) for key in KEY_FIGURES]
_DAY = np.array([day for _, day in KEY_FIGURES.values()])


@dataclass(frozen=True, slots=True)
class Advice:
    """One measurement that is worth its trouble.

    Parameters
    ----------
    measure : str
        What to do.
    type : str
        What to type then, with the best estimate in place of what the scale will say.
    nutrient : str
        INFOODS tagname of the figure that gains most.
    removes : float
        Share of its interval per serving that goes away, 0 to 1.
    message : str
        All of it in a sentence.
    """

    measure: str
    type: str
    nutrient: str
    removes: float
    message: str


@dataclass(frozen=True, slots=True)
class _Way:
    """A way to settle something: what to do and type, how promising it looks, and the recipe with it done."""

    measure: str
    type: str
    where: str
    promise: Array
    changed: Callable[[], WeighedRecipe]


def weigh_next(
    weighed: WeighedRecipe, dish: Dish, divided: Portion, drawn: Drawn, *, market: str
) -> tuple[Advice, ...]:
    """The one to three measurements that cut the doubt about a serving most.

    Parameters
    ----------
    weighed, dish, divided, drawn : WeighedRecipe, Dish, Portion, Drawn
        The recipe as it was run.
    market : str
        Whose cups and spoons.

    Returns
    -------
    tuple of Advice
        Best first; fewer or none where nothing would take away a twentieth of any interval.
    """
    weight = _widths(drawn) / _DAY
    if not weight.any():
        return ()
    # Against a run of as many draws, so that what chance does is the same in both.
    before = _run_again(weighed, market)
    ways = sorted(_ways(weighed, dish, divided, drawn, market), key=lambda way: -float(way.promise @ weight))
    found: list[tuple[float, _Way, int, float]] = []
    for way in ways[:_TRIED]:
        if len(found) >= _GIVEN and float(way.promise @ weight) < min(gain for gain, *_ in found):
            break
        after = _run_again(way.changed(), market)
        gained = np.where(before > 0.0, 1.0 - after / np.maximum(before, 1e-12), 0.0)
        best = int(np.argmax(gained * weight))
        if gained[best] >= _WORTH:
            found.append((float(gained @ weight), way, best, float(gained[best])))
    found.sort(key=lambda one: -one[0])
    return tuple(_advice(way, best, removes) for _, way, best, removes in found[:_GIVEN])


def _widths(drawn: Drawn) -> Array:
    """Width of the interval of each key figure per serving."""
    low, high = drawn.propagated.interval(drawn.servings, _COLUMNS)
    return high - low


def _run_again(weighed: WeighedRecipe, market: str) -> Array:
    """Widths of the key figures of a changed recipe, with the draws of the first one."""
    dish = cook(with_rounding(weighed), draws=_DRAWS)
    drawn = draw_dish(weighed, dish, portion(weighed.recipe, dish, market=market))
    assert drawn is not None
    return _widths(drawn)


def _advice(way: _Way, best: int, removes: float) -> Advice:
    key = list(KEY_FIGURES)[best]
    name = KEY_FIGURES[key][0]
    share = f"{removes:.0%}".replace("%", " %")
    message = (
        f"{way.measure[0].upper()}{way.measure[1:]} and {way.where}: {way.type}. "
        f"That would make the range of {name} some {share} narrower."
    )
    return Advice(way.measure, way.type, key, round(removes, 3), message)


# --- ways to settle something ----------------------------------------------------------------------------------------


def _ways(weighed: WeighedRecipe, dish: Dish, divided: Portion, drawn: Drawn, market: str) -> Iterator[_Way]:
    """Every way there is, with the share of each key interval that it looks like taking away."""
    totals = drawn.propagated.totals[_COLUMNS] * inverse(drawn.servings)
    variance = np.maximum(totals.var(axis=1), 1e-30)
    parts = np.square(drawn.inputs.linear(totals)).T / variance
    shares = dict(zip(drawn.inputs.keys, parts, strict=True))
    places = {key: row for row, key in enumerate(drawn.inputs.keys)}
    for (_, _, food), choice in drawn.choices.items():
        normals = drawn.inputs.normals[places[choice.key]]
        shares[choice.key] = _between(totals, chosen_food(food, choice.foods, normals))
    nothing = np.zeros(len(_COLUMNS))
    handled = sum((share for key, share in shares.items() if key.cause not in _INPUTS), nothing)

    for at, part in enumerate(weighed.parts):
        for place, line in enumerate(part.lines):
            if line.also or line.match is None or line.match.food is None or line.grams is None:
                continue
            yield from _settle_line(weighed, (at, place), line, shares, drawn, market)
    loose = [(ledger, stage) for ledger in dish.ledgers for stage in _weighable(ledger)]
    total = sum(_looseness(stage.grams) for _, stage in loose)
    for ledger, stage in loose:
        promise = _gain(handled * (_looseness(stage.grams) / total))
        at = [part.title for part in weighed.parts].index(ledger.part)
        yield _weigh_after(weighed, at, stage.line, stage.grams, promise)
    if _DIVISION in shares:
        yield _settle_division(weighed, divided, _gain(shares[_DIVISION]))


def _between(totals: Array, group: NDArray[np.intp]) -> Array:
    """Share of the variance of totals (totals, draws) between groups of draws, less what chance puts there."""
    sizes = np.bincount(group)
    member = (group[None] == np.flatnonzero(sizes)[:, None]).astype(totals.dtype)
    means = totals @ member.T / member.sum(axis=1)
    between = np.square(means - totals.mean(axis=1, keepdims=True)) @ member.sum(axis=1) / len(group)
    share: Array = between / np.maximum(totals.var(axis=1), 1e-30) - len(member) / len(group)
    return np.maximum(share, 0.0)


def _gain(share: Array) -> Array:
    """Share of an interval that goes away with a share of the variance."""
    gain: Array = 1.0 - np.sqrt(1.0 - np.clip(share, 0.0, 1.0))
    return gain


def _settle_line(
    weighed: WeighedRecipe,
    place: tuple[int, int],
    line: WeighedLine,
    shares: dict[DrawKey, Array],
    drawn: Drawn,
    market: str,
) -> Iterator[_Way]:
    """Weigh a line, say which food it is, or read its package."""
    assert line.match is not None and line.match.food is not None and line.grams is not None
    name = line.line.name or line.line.text
    text = line.line.text.strip()
    weight = shares.get(DrawKey(Cause.GRAMS, (line.match.food, line.grams.basis)))
    if weight is not None and not (line.line.pin and line.line.pin.grams) and line.grams.best >= _ON_A_SCALE:
        if any(problem.code == "salt-type" for problem in line.problems):
            typed = re.sub(r"\bsalt\b", "table salt", text, count=1, flags=re.IGNORECASE)
            measure = f"look which salt goes in (“{text}”)"
            yield _line_way(weighed, place, measure, typed, _gain(weight), market)
        typed = _pinned(text, f"{_rounded(line.grams.best)} g")
        yield _line_way(weighed, place, f"weigh the {name} (“{text}”)", typed, _gain(weight), market)
    half = shares.get(DrawKey(Cause.HALF_THICKNESS, (weighed.parts[place[0]].title, line.line.number)))
    if half is not None:
        yield _thickness_way(weighed, place, line, half, market)
    choice = drawn.choices.get((weighed.parts[place[0]].title, line.line.number, line.match.food))
    if choice is not None:
        typed = _pinned(text, f"food {line.match.food}")
        other = _telling(line.match.food, choice.foods)
        described = f"“{line.match.description}” ({line.match.food})"
        measure = f"say which {name} you use, {described} or for example “{load_table().describe(other)}” ({other}),"
        yield _line_way(weighed, place, measure, typed, _gain(shares[choice.key]), market)
    composition = drawn.propagated.composition
    if line.match.own is None and line.match.food in composition.foods and _has_package(line.match.food):
        own = composition.by_food[composition.foods.index(line.match.food), _COLUMNS]
        whole = composition.sd[_COLUMNS]
        spread = drawn.propagated.totals[_COLUMNS].std(axis=1)
        share = np.square(np.divide(own, spread, out=np.zeros_like(own), where=(spread > 0.0) & (whole > 0.0)))
        yield _package_way(weighed, place, line, _gain(share))


def _telling(food: str, foods: Candidates) -> str:
    """The other candidate that does most: by its weight and by how far its key figures are from the matched food's."""
    table = load_table()

    def difference(other: str) -> float:
        steps = [table.value(other, key) - table.value(food, key) for key in KEY_FIGURES]
        return float(np.abs(np.nan_to_num(steps) / _DAY).sum())

    return max((pair for pair in foods if pair[0] != food), key=lambda pair: pair[1] * difference(pair[0]))[0]


def _has_package(food: str) -> bool:
    """Whether a food comes in a package whose panel says what is in it, and not by the piece or the weight."""
    table = load_table()
    described = table.describe(food).lower()
    return made_up(table.position[food]) or any(word in described for word in _PACKAGED)


def _line_way(
    weighed: WeighedRecipe, place: tuple[int, int], measure: str, typed: str, promise: Array, market: str
) -> _Way:
    def changed() -> WeighedRecipe:
        number = weighed.parts[place[0]].lines[place[1]].line.number
        line = weigh_line(read_line(typed, number=number), market=market, larder=weighed.recipe.larder)
        return _with_line(weighed, place, line)

    return _Way(measure, f"“{typed}”", "write it in the line", promise, changed)


def _thickness_way(
    weighed: WeighedRecipe, place: tuple[int, int], line: WeighedLine, share: Array, market: str
) -> _Way:
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
    return _line_way(weighed, place, measure, typed, _gain(share * gone), market)


def _with_line(weighed: WeighedRecipe, place: tuple[int, int], line: WeighedLine) -> WeighedRecipe:
    part = weighed.parts[place[0]]
    lines = (*part.lines[: place[1]], line, *part.lines[place[1] + 1 :])
    parts = (*weighed.parts[: place[0]], replace(part, lines=lines), *weighed.parts[place[0] + 1 :])
    return replace(weighed, parts=parts)


def _package_way(weighed: WeighedRecipe, place: tuple[int, int], line: WeighedLine, promise: Array) -> _Way:
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
        own = OwnFood(f"larder:{name}", name, like=food, per_100g=values)
        match = Match(food, name, 1.0, "its package", own=own)
        return _with_line(weighed, place, replace(line, match=match))

    typed = f"labeler larder add --name “{name}” --per “30 g” --value sodium=“… mg” --value total_fat=“… g”"
    return _Way(f"keep the package of the {name}", typed, "put its panel into your larder", promise, changed)


@dataclass(frozen=True, slots=True)
class _Weighable:
    line: int
    grams: Interval


def _weighable(ledger: Ledger) -> Iterator[_Weighable]:
    """The handling of a part after which its weight is in doubt: the last stage of each sentence."""
    last = {stage.line: stage.grams for stage in ledger.stages}
    for line, grams in last.items():
        if grams.best > 0.0 and _looseness(grams) > 0.01:
            yield _Weighable(line, grams)


def _looseness(grams: Interval) -> float:
    return (grams.high - grams.low) / grams.best if grams.best > 0.0 else 0.0


def _weigh_after(weighed: WeighedRecipe, at: int, number: int, grams: Interval, promise: Array) -> _Way:
    """Weigh what is there after a handling sentence."""
    part = weighed.recipe.parts[at]
    sentence = next((one for one in part.handling if one.number == number), None)
    typed = f"weighs {_rounded(grams.best)} g"

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
    return _Way(done, f"“> {typed}”", "write it under that", promise, changed)


def _settle_division(weighed: WeighedRecipe, divided: Portion, promise: Array) -> _Way:
    """Weigh one serving."""
    typed = f"serving: {_rounded(divided.grams)} g"

    def changed() -> WeighedRecipe:
        recipe: Recipe = replace(
            weighed.recipe, head={**weighed.recipe.head, "serving": f"{_rounded(divided.grams)} g"}
        )
        return replace(weighed, recipe=recipe)

    one = divided.household or "serving"
    named = "one " + one.removeprefix("1 ") if one.startswith("1 ") or not one[0].isdigit() else one
    return _Way(f"weigh {named}", f"“{typed}”", "write it in the head", promise, changed)


def _pinned(text: str, item: str) -> str:
    """A line with one item more in its braces."""
    if "}" in text:
        return text.replace("}", f", {item}}}", 1)
    return f"{text} {{{item}}}"


def _rounded(grams: float) -> str:
    """Grams as a kitchen scale shows them."""
    return f"{grams:.1f}" if grams < 20 else f"{grams:.0f}"
