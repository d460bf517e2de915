"""What one term of a line's amount weighs: a weight, a volume, a number of pieces or packages.

A term is a main amount with its sizes and second tellings. In order: a weight in it, less what is not eaten; the size
of each package or piece times their number; a volume by the food's own measures; a count by the weight of one. Each
weight is linear in the amount.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.can_sizes import piece_of_market
from labeler.foods.weights.drained_weight import Liquid, liquid_of
from labeler.foods.weights.edible_portion import WHOLE, edible_coefficient
from labeler.foods.weights.household_measures import CUP_ML, households, own_basis
from labeler.foods.weights.measure_fullness import fullness
from labeler.foods.weights.measured_form import Forms
from labeler.foods.weights.unit_weights import PieceWeight, piece_weight, taken_weight
from labeler.foods.weights.volume_density import volume_weight
from labeler.parsing.ingredient.amounts import amounts_agree
from labeler.parsing.model import Amount, Line
from labeler.parsing.units import canonical_unit, grams_per, kind, millilitres_per
from labeler.types import Interval

__all__ = ["FINGERS", "METRIC", "Context", "term_weight"]

# How well a written figure is met: a scale and a rounded number 2 %, a package its net weight or a little more,
# "about" 15 %. Common practice, no source.
_SCALE, _NET, _ABOUT = 0.02, 0.03, 0.15
_PACKAGES = frozenset(
    "can jar bottle package packet sleeve envelope box bag carton container tub tube pouch punnet".split()
)
# What fingers and shakers give, by what a spoon of that size would hold. Common practice, no source.
FINGERS = {"pinch": (0.5, 2.5), "dash": (0.5, 2.0), "smidgen": (0.5, 2.5), "drop": (0.6, 1.6)}
# Counted measures that are a volume in truth [mL] and how far they range. Common practice, no source.
_LOOSE_VOLUMES = {
    "glass": (200.0, 0.6, 1.3),
    "mug": (300.0, 0.75, 1.25),
    "spoonful": (15.0, 0.33, 1.5),
    "ladle": (120.0, 0.7, 2.0),
    "scoop": (60.0, 0.5, 2.0),
    "splash": (10.0, 0.4, 2.0),
    "drizzle": (7.5, 0.4, 2.0),
    "squeeze": (5.0, 0.4, 2.0),
    "dollop": (30.0, 0.5, 1.5),
    "spray": (0.4, 0.4, 2.5),
    "sprinkle": (1.5, 0.3, 3.0),
}
# Words for one of a food that say nothing of their own where the figures do not know them.
_ONE_OF = frozenset("whole piece chunk round ball log strand stalk branch thumb bulb head ear fillet link knob".split())
# Pieces that may stand behind their food without being its unit.
_CLOSING = frozenset(
    "loaf leaf sprig wedge slice strip fillet stalk spear clove cube sheet segment ear thread strand".split()
)
# Where a line gives a volume in a unit that differs from land to land and in metric units too, the two may differ by so
# much before the metric one is taken: 240 mL is a US cup, 250 mL is not.
_SAME_VOLUME = 0.03
METRIC = frozenset(["milliliter", "centiliter", "deciliter", "liter"])
_CUT_LIKE = {"wheel": "slice", "wheels": "slice", "half-moon": "slice", "spirals": "strip"}
_DRINKS = frozenset([900, 1100, 1400, 1600])
_FLESH = frozenset([500, 700, 1000, 1300, 1500, 1700])
_USUAL_INCHES, _SPREAD, _MOST_TIMES = 0.75, 1.25, 3.0
"""How thick a steak or chop is cut, how far that differs, and how far it is scaled. Common practice, no source."""
_INCHES = {"inch": 1.0, "centimeter": 1 / 2.54, "millimeter": 1 / 25.4}
Weight = tuple[Interval, bool]
"""A weight [g] and whether it rests on a default."""


class Context(NamedTuple):
    """What the words of a line settle, once for all its amounts."""

    food: str
    name: tuple[str, ...]
    group: int
    forms: Forms
    before: str
    after: str
    text: str
    market: str

    def volume(self, unit_ml: float, unit: str | None = None) -> Weight:
        """What a unit of so many millilitres weighs; its bounds hold the looser reading of the forms too.

        Millilitres are poured in cups and jugs, not in thimbles: they go by cup measures.
        """
        like_ml = CUP_ML if unit in METRIC and unit_ml < CUP_ML else unit_ml
        weight = volume_weight(self.food, like_ml, self.forms.sure, self.name)
        per_ml = weight.per_ml
        if self.forms.loose != self.forms.sure:
            other = volume_weight(self.food, like_ml, self.forms.loose, self.name).per_ml.best
            per_ml = Interval(per_ml.best, min(per_ml.low, other), max(per_ml.high, other), per_ml.basis)
        return per_ml.scaled(unit_ml), weight.default

    @property
    def poured(self) -> bool:
        """Whether an ounce of it is a fluid ounce; one of ice is not."""
        return "ice" not in self.name and is_poured(self.food)

    @property
    def liquid(self) -> Liquid:
        """What of a can or jar of this food goes in."""
        return liquid_of(self.text, self.name, self.group)


def term_weight(line: Line, term: list[Amount], context: Context) -> Weight | None:
    """One term of the sum; None where nothing says what it weighs."""
    main, *rest = term
    same = [amount for amount in rest if amount.role == "same"]
    each = [amount for amount in rest if amount.role == "each"]
    masses = [amount for amount in (main, *same) if grams_per(amount.unit) is not None]
    packed = next((amount for amount in same if amount.unit in ("can", "jar")), None)
    if masses and packed is not None and kind(main.unit) == "mass":
        return _packages(packed, _one_of(packed, main, context), context)  # "15 oz chickpeas, 1 can, drained"
    if masses:
        # Where a line says its weight twice the metric figure is the finer one, unless the two are not the same.
        metric = [amount for amount in masses if amount.unit in ("gram", "kilogram")]
        finer = metric and amounts_agree(masses[:1], metric[:1])
        if not metric and masses[0].unit == "ounce" and context.poured:
            return _times(masses[0], _fluid_ounce(context)), False
        return _mass((metric if finer else masses)[0], main, context), False
    if kind(main.unit) == "count":
        for size in each:
            if kind(size.unit) in ("mass", "volume"):
                return _packages(main, size, context)
        lengths = [size for size in each if kind(size.unit) == "length"]
        thick = "thick" in context.text
        long = _long(main, lengths[0], context) if lengths and not (thick and context.group in _FLESH) else None
        if long:
            return long
        inches = _range(lengths[0]).best * _INCHES[lengths[0].unit or "inch"] if lengths else None
        if thick:
            return _as_thick(_count(line, main, same, context), inches, context)
        return _count(line, main, same, context, inches)
    volume = millilitres_per(main.unit, market=context.market)
    if volume is not None:
        return _volume(*_finer_volume(main, volume, same), context)
    return _long(Amount(1, 1, None), main, context)


def _one_of(packed: Amount, weight: Amount, context: Context) -> Amount:
    """What one package weighs where a line tells a weight and their number: its own, or its share of it.

    "15 oz chickpeas, 2 cans" are two of 15 ounces, "22 oz (2 cans) mandarins" two of 11: whichever is more like a
    usual package of the food.
    """
    each, share = replace(weight, role="each"), 1 / packed.high if packed.high > 0 else 1.0
    usual = piece_of_market(context.food, packed.unit or "can", None, context.name, market=context.market)
    if share == 1 or not usual:
        return each
    one = _range(weight).best * (grams_per(weight.unit) or 0.0)
    nearer = abs(math.log(one * share / usual.grams.best)) < abs(math.log(one / usual.grams.best)) if one > 0 else False
    return replace(each, low=each.low * share, high=each.high * share) if nearer else each


def _finer_volume(main: Amount, volume: float, same: list[Amount]) -> tuple[Amount, float]:
    """The volume to go by [mL]: the metric one where it shows that the unit is another land's ("1 pint (568 ml)")."""
    for amount in same:
        metric = millilitres_per(amount.unit) if amount.unit in METRIC and main.unit not in METRIC else None
        if metric and amount.high > 0 and amounts_agree([main], [amount]):
            told = (amount.low + amount.high) * metric
            if abs((main.low + main.high) * volume / told - 1) > _SAME_VOLUME:
                return amount, metric
    return main, volume


@lru_cache(maxsize=8192)
def is_poured(food: str) -> bool:
    """Whether the ounces of a food are fluid ounces: drinks, juices, milk and cream, of which SR28 weighed some."""
    table = load_table()
    described = table.describe(food).lower()
    if any(word in described for word in ("powder", " dry", "sweetened condensed", "condensed, sweetened", "yogurt")):
        return False
    group = int(table.group_codes[table.position[food]])
    if group not in _DRINKS and not described.startswith(("milk,", "cream, fluid")):
        return False
    return any("fl oz" in measure.text and measure.millilitres for measure in households(food))


def _fluid_ounce(context: Context) -> Interval:
    """An ounce of what is poured [g]: a fluid one, with bounds that hold an ounce of weight too."""
    volume = millilitres_per("fluid_ounce", market=context.market) or 0.0
    measure = next(one for one in households(context.food) if "fl oz" in one.text and one.millilitres)
    fluid = measure.grams / (measure.millilitres or CUP_ML) * volume
    ounce = grams_per("ounce") or 0.0
    basis = f"a fluid ounce, as of what is poured; {own_basis(measure)}"
    return Interval(fluid, 0.97 * min(fluid, ounce), 1.03 * max(fluid, ounce), basis)


def _mass(amount: Amount, main: Amount, context: Context) -> Interval:
    """A weight in the line, less what is not eaten of it."""
    per = grams_per(amount.unit) or 0.0
    share = edible_coefficient(context.food, context.name, context.before, context.after, counted=main.unit is None)
    basis = f"{_figure(amount)} {amount.unit}{'' if amount.high == 1 else 's'} in the line"
    if share.best < 1:
        basis += f", {share.best:.0%} of it eaten: {share.basis}"
    return _times(amount, share.scaled(per), spread=_SCALE, basis=basis)


def _figure(amount: Amount) -> str:
    return f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g} to {amount.high:g}"


def _packages(main: Amount, size: Amount, context: Context) -> Weight:
    """A number of packages or pieces of a stated size."""
    per = grams_per(size.unit)
    basis = f"{_figure(main)} of {_figure(size)} {(size.unit or '').replace('_', ' ')} each"
    default = False
    if per is None:
        one, default = context.volume(millilitres_per(size.unit, market=context.market) or 0.0, size.unit)
        basis += f"; {one.basis}"
    elif size.unit == "ounce" and context.poured:
        one = _fluid_ounce(context)
        basis += f"; {one.basis}"
    else:
        one = Interval(per, per, per)
    one = _product(one, _range(size), "")
    if main.unit in _PACKAGES:
        share = context.liquid.share if main.unit in ("can", "jar") else WHOLE
        one = _product(one, share, "")
        basis += f", {share.best:.0%} of it without its liquid: {share.basis}" if share.best < 1 else ""
    elif per is not None:
        share = edible_coefficient(context.food, context.name, context.before, context.after, counted=main.unit is None)
        one = _product(one, share, "")
        basis += f", {share.best:.0%} of it eaten: {share.basis}" if share.best < 1 else ""
    return _times(main, one, spread=_NET, basis=basis), default


def _volume(amount: Amount, volume: float, context: Context) -> Weight:
    """A volume by what it weighs of this food; pinches and dashes by finger."""
    unit = amount.unit or ""
    if unit not in FINGERS:
        one, default = context.volume(volume, unit)
        return _times(amount, one), default
    found = piece_weight(context.food, unit, None, context.name)
    if found and not found.default:
        return _times(amount, found.grams), False
    one, _ = context.volume(volume)
    low, high = FINGERS[unit]
    basis = f"a {unit} is some {volume:g} mL; {one.basis}"
    return _times(amount, Interval(one.best, one.low * low, one.high * high, basis)), False


def _long(main: Amount, length: Amount, context: Context) -> Weight | None:
    """A number of pieces of a stated length, where the weight of an inch is known."""
    found = piece_weight(context.food, "inch", None, context.name)
    if not found:
        return None
    one = _product(found.grams, _range(length), "").scaled(_INCHES[length.unit or "inch"])
    return _times(main, one, basis=found.grams.basis), found.default


def _count(
    line: Line, main: Amount, same: list[Amount], context: Context, inches: float | None = None
) -> Weight | None:
    """A count by the weight of one, or by the volume that the line gives beside it."""
    piece = main.unit or _piece_in_name(line.name) or "whole"
    derived = line.derived or _squeezed(line.preparation.lower(), context.group)
    volumes = [(amount, volume) for amount in same if (volume := millilitres_per(amount.unit, market=context.market))]
    if line.derived and volumes:
        return _volume(*volumes[0], context)  # "1 lemon (2 tbsp juice)"
    if derived:
        taken = taken_weight(derived, piece, context.food, context.name)
        if taken:
            return _times(main, taken.grams, basis=f"{derived} of one: {taken.grams.basis}"), taken.default
    size = line.size or ("jumbo" if "jumbo" in line.name.lower() else None)
    found = piece_of_market(context.food, piece, size, context.name, inches, market=context.market)
    if found and piece in ("can", "jar"):
        found = _without_liquid(piece, found, context)
    if volumes and (main.unit is None or not found or found.default):
        return _volume(*volumes[0], context)
    if found and not found.default:
        return _times(main, found.grams), False
    if piece in _LOOSE_VOLUMES:
        volume, low, high = _LOOSE_VOLUMES[piece]
        one, _ = context.volume(volume)
        basis = f"a {piece} of some {volume:g} mL; {one.basis}"
        return _times(main, Interval(one.best, one.low * low, one.high * high, basis)), True
    if (not found or found.default) and piece in _ONE_OF:
        found = piece_weight(context.food, "whole", size, context.name) or found
    return (_times(main, found.grams), True) if found else None


def _as_thick(weight: Weight | None, inches: float | None, context: Context) -> Weight | None:
    """The weight of pieces of meat or fish that are cut so thick; a steak or chop of the figures is a usual one."""
    if weight is None or not inches or context.group not in _FLESH:
        return weight
    value, default = weight
    times = min(max(inches / _USUAL_INCHES, 1 / _MOST_TIMES), _MOST_TIMES)
    basis = f"{value.basis}, times {times:.2g} for {inches:g} inches against a usual {_USUAL_INCHES:g}"
    return Interval(value.best * times, value.low * times / _SPREAD, value.high * times * _SPREAD, basis), default


def _squeezed(preparation: str, group: int) -> str | None:
    """What is taken of a fruit that is juiced though its name is the fruit's."""
    if group != 900 or "juiced" not in preparation:
        return None
    return "juice and zest" if "zest" in preparation else "juice"


def _is_drained(whole: PieceWeight, food: str) -> bool:
    """Whether the weight of a can is SR28's own of drained solids."""
    return "table's own" in whole.grams.basis and "drained" in load_table().describe(food).lower()


def _without_liquid(piece: str, whole: PieceWeight, context: Context) -> PieceWeight:
    """A can or jar of no stated size less the liquid that does not go in."""
    share = context.liquid.share
    drained = f"{piece} drained"
    known = None
    if share.low < 1:
        known = piece_of_market(context.food, drained, None, context.name, market=context.market)
    if known is not None and not known.default:
        high = whole.grams.high if share.high == 1 else known.grams.high
        return PieceWeight(replace(known.grams, high=max(high, known.grams.high)), False)
    if share.low == 1 or _is_drained(whole, context.food):
        return whole
    basis = f"{whole.grams.basis}; {share.best:.0%} of it without its liquid: {share.basis}"
    return PieceWeight(_product(whole.grams, share, basis), whole.default)


@lru_cache(maxsize=16384)
def _piece_in_name(name: str) -> str | None:
    """The piece that closes a name: "romaine lettuce leaves" are counted by the leaf."""
    last = name.lower().rsplit(None, 1)[-1] if name.strip() else ""
    unit = _CUT_LIKE.get(last) or canonical_unit(last)
    return unit if unit in _CLOSING else None


def _product(one: Interval, two: Interval, basis: str) -> Interval:
    return Interval(one.best * two.best, one.low * two.low, one.high * two.high, basis)


def _range(amount: Amount) -> Interval:
    """The written number as an interval: its range, best in the middle, wider where the line says "about"."""
    low, high = sorted((max(amount.low, 0.0), max(amount.high, 0.0)))
    best = (low + high) / 2
    if amount.filling:
        share, least, most = fullness(amount)
        return Interval(best * share, low * least, high * most)
    loose = _ABOUT if amount.about else 0.0
    return Interval(best, low * (1 - loose), high * (1 + loose))


def _times(amount: Amount, one: Interval, *, spread: float = 0.0, basis: str = "") -> Interval:
    """The amount times the weight of one [g]."""
    loose = Interval(one.best, one.low * (1 - spread), one.high * (1 + spread))
    basis = basis or one.basis
    if amount.filling:
        share, least, most = fullness(amount)
        basis = f"{basis}; {amount.filling}: {share:g} ({least:g}-{most:g}) of a level one, common practice"
    return _product(_range(amount), loose, basis)
