"""Soaking, brining, marinating, pickling: what goes into food from the liquor around it, and out of it.

Three ways, the surer first. *Measured*: the cook weighed the food or the liquor that is left. *Equilibrium and
absorbed water*: food that swells takes liquor as it is, with what is dissolved in it. *Diffusion*: every solute goes
both ways as Crank's solutions say, towards equal concentration in the water of food and liquor. Fat does not move. The
share of a brine's salt that stays is never a constant: it follows from how much brine, food and time there was.
"""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

import numpy as np

from labeler.cooking.models.diffusion import uptakes
from labeler.cooking.models.swelling import PLANTS, salinity, swell, swells
from labeler.cooking.state.geometry import shape_of
from labeler.cooking.state.mixture import CONSTITUENTS, Array, Mixture, blank
from labeler.cooking.state.phases import SALT, SOLUTES, WATER, Outcome, Phases, move, sort_pot, together
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.data_files import data_folder, data_rows
from labeler.foods.food_class import is_yolk
from labeler.parsing.ingredient.cut import CutStyle
from labeler.parsing.ingredient.facts import Trait
from labeler.types import Interval, Problem

__all__ = [
    "Diffusivity",
    "diffusivity_of",
    "exchange",
    "hard_to_know",
    "ratio",
    "soak",
    "washed_out",
]

DATA = data_folder("labeler.cooking")

# Small molecules other than salt: sugars and vitamins are slower. Half of salt's, as in water (CRC Handbook: NaCl
# 1.6e-9, sucrose 0.52e-9, glucose 0.67e-9 m²/s at 25 °C).
SLOWER = 0.45
# D changes with temperature by an activation energy of 12 (7 to 28) kJ/mol: JPSOS 2025;7:324 and Selman et al. 1983.
ACTIVATION = Interval(12.0, 7.0, 28.0)
_GAS = 8.314e-3  # kJ/(mol K)
# Cells of plants hold back what is in them, cooked or not, unless salt has drawn them: their own solutes leave this
# much slower. It gives what USDA's factors say of boiled and drained vegetables: 85 to 95 % of the potassium stays.
PLANT = Interval(0.15, 0.03, 0.5)
_DRAWING = 0.02  # g salt per g water that draws plant cells: common practice, no source
# How much salt goes in dry lies between a bath that salt leaves and a surface that solid salt keeps saturated: where
# between (0 and 1) hangs on how well it is packed. No source; the whole of it is the interval.
_STAYS_SATURATED = Interval(0.4, 0.0, 1.0)


class Diffusivity(NamedTuple):
    """Diffusivity of salt [1e-10 m²/s at 20 °C] and equilibrium ratio, water to water, of a kind of food."""

    salt: Interval
    equilibrium: Interval


@cache
def _diffusivities() -> dict[str, Diffusivity]:
    found = {}
    for row in data_rows(DATA / "diffusivities.csv"):
        value = Diffusivity(
            Interval(float(row["best"]), float(row["low"]), float(row["high"])),
            Interval(float(row["equilibrium"]), float(row["equilibrium_low"]), float(row["equilibrium_high"])),
        )
        for kind in row["kinds"].split("|"):
            found[kind] = value
    return found


_OTHER = Diffusivity(Interval(4.0, 1.0, 10.0), Interval(0.95, 0.75, 1.1))


def diffusivity_of(kind: str) -> Diffusivity:
    """Diffusivity of a kitchen kind; kinds that the table does not have get a wide interval."""
    return _diffusivities().get(kind, _OTHER)


def _matter(pot: Phases, at: int) -> str:
    """What salt moves through: the kind of an item, but an egg out of its shell is no egg in it."""
    kind, food = pot.kinds[at], pot.mix.items[at].food
    if kind != "egg" or food is None:
        return kind
    return "yolk" if is_yolk(food) or pot.mix.items[at].facts.shelled else kind


def fourier(diffusivity: Array, minutes: Array, half: Array, celsius: float, activation: Array) -> Array:
    """Fourier number D t / a².

    Parameters
    ----------
    diffusivity : array
        At 20 °C [1e-10 m²/s].
    minutes, half : array
        Time [min] and half-thickness [mm].
    celsius : float
        Temperature of the bath [°C].
    activation : array
        Activation energy [kJ/mol].
    """
    warm = np.exp(-activation / _GAS * (1.0 / (celsius + 273.15) - 1.0 / 293.15))
    number: Array = diffusivity * 1e-10 * warm * minutes * 60.0 / (half * 1e-3) ** 2
    return number


def exchange(
    pot: Phases, minutes: Array, celsius: float, draws: Sampler, *, given: Array, bath: Array | None = None
) -> tuple[Array, Array]:
    """Shares of the solutes that change places between liquor and food.

    Parameters
    ----------
    pot : Phases
    minutes : array (draws,)
        Time [min].
    celsius : float
        Temperature [°C].
    draws : Sampler
    given : array (draws, items)
        Share of each item's water that it gives to the liquor meanwhile.
    bath : array (draws,) or None
        Water that the liquor's solutes count as dissolved in [g]; None for the water that it has. Where it is more than
        that, part of the salt is solid, and the surface stays saturated for some of the time.

    Returns
    -------
    inward : array (draws, constituents)
        Share of what is dissolved in the liquor that goes into food.
    outward : array (draws, items, constituents)
        Share of each item's own solutes that goes into the liquor; 0 for items of the liquor.
    """
    mix, rows = pot.mix, draws.rows
    inward = np.zeros((len(CONSTITUENTS), rows))
    outward = blank(rows, len(mix.items))
    water = mix.held.transpose(1, 2, 0)[:, WATER]
    places = [at for at in pot.at(pot.food) if mix.weight[at, WATER] > 0.0 and water[at, 0] > 0.0]
    if not places:
        return inward.T, outward
    own = water[places] * mix.weight[places, WATER][:, None] * (1.0 - given.T[places])
    in_food, liquor = own.sum(axis=0), pot.water(pot.liquor) if bath is None else bath
    with_absorbed = 1.0 + ratio(pot.water(pot.absorbed), in_food)
    ratios = [
        draws.draw(diffusivity_of(_matter(pot, at)).equilibrium, Cause.EQUILIBRIUM, _matter(pot, at)) for at in places
    ]
    room = np.stack(ratios) * own * with_absorbed
    share = ratio(room, liquor + room.sum(axis=0))
    fast, slow, held = _approach(pot, places, minutes, celsius, draws, bath=ratio(liquor, room, empty=1e4))
    if bath is not None:
        endless = _approach(pot, places, minutes, celsius, draws, bath=np.full(room.shape, np.inf))[0]
        solid = np.minimum(ratio(endless * room, liquor * share), 1.0)
        lasts = draws.draw(_STAYS_SATURATED, Cause.SOLID_SALT) * (liquor > 1.01 * pot.water(pot.liquor))
        fast = fast + lasts * np.maximum(solid - fast, 0.0)
    inward[SALT] = (fast * share).sum(axis=0)
    inward[[place for place in SOLUTES if place != SALT]] = (slow * share).sum(axis=0)
    leaves = np.zeros((len(CONSTITUENTS), rows))
    for row, at in enumerate(places):
        for place in SOLUTES:
            reached = (
                held[row] if held is not None and pot.kinds[at] in PLANTS else (fast if place == SALT else slow)[row]
            )
            out = reached * (1.0 - share[row])
            outward[:, at, place] = out
            leaves[place] += out * own[row]
    mean = ratio(leaves, in_food)
    outward[:, pot.absorbed] = mean.T[:, None, :]
    return np.minimum(inward, 1.0).T, outward


def ratio(part: Array, whole: Array, *, empty: float = 0.0) -> Array:
    """Part over whole, or `empty` where there is no whole."""
    part, whole = np.broadcast_arrays(part, whole)
    result: Array = np.divide(part, whole, out=np.full(part.shape, empty), where=whole > 0.0)
    return result


def _approach(
    pot: Phases, places: list[int], minutes: Array, celsius: float, draws: Sampler, *, bath: Array
) -> tuple[Array, Array, Array | None]:
    """How far salt, slower solutes, and what plant cells hold back have come, each of shape (places, draws).

    The last is None where the liquor draws the cells.
    """
    shapes = [shape_of(pot.mix.items[at]) for at in places]
    half = np.stack([
        draws.draw(shape.half, Cause.HALF_THICKNESS, pot.mix.items[at].part, pot.mix.items[at].place)
        for shape, at in zip(shapes, places, strict=True)
    ])  # fmt: skip
    salt = np.stack(
        [draws.draw(diffusivity_of(_matter(pot, at)).salt, Cause.DIFFUSIVITY, _matter(pot, at)) for at in places]
    )
    activation = draws.draw(ACTIVATION, Cause.ACTIVATION)
    number = fourier(salt, minutes, np.maximum(half, 0.1), celsius, activation)
    weak = float(salinity(pot)[0]) < _DRAWING and any(pot.kinds[at] in PLANTS for at in places)
    speeds: list[Array | float] = [1.0, SLOWER, *([SLOWER * draws.draw(PLANT, Cause.PLANT_CELLS)] if weak else [])]
    reached = [np.zeros(number.shape) for _ in speeds]
    for form in sorted({shape.form for shape in shapes}):
        rows = [row for row, shape in enumerate(shapes) if shape.form == form]
        for result, share in zip(reached, uptakes(form, number[rows], speeds, bath=bath[rows]), strict=True):
            result[rows] = share
    return reached[0], reached[1], reached[2] if weak else None


TAP = 15.0  # °C of the water that food is rinsed under: common practice, no source


def washed_out(pot: Phases, minutes: Array, draws: Sampler) -> Array:
    """Share of the salt that running water takes out of each item of food, shape (draws, items): an endless bath."""
    lost = np.zeros((draws.rows, len(pot.mix.items)))
    places = pot.at(pot.food)
    if places:
        endless = np.full((len(places), draws.rows), np.inf)
        lost[:, places] = _approach(pot, places, minutes, TAP, draws, bath=endless)[0].T
    return lost


CHANGES = Interval(4.0, 2.0, 6.0)
"""Baths that soaking water which is changed amounts to: common practice, no source."""


def soak(
    mix: Mixture,
    *,
    minutes: Interval,
    celsius: float,
    draws: Sampler,
    hot: bool = False,
    moved: tuple[Array, Array] | None = None,
    bath: Array | None = None,
) -> Outcome:
    """Let food lie in the liquor of its pot.

    Parameters
    ----------
    mix : Mixture
        Food and liquor together; without liquor nothing moves.
    minutes : Interval
        How long [min].
    celsius : float
        How warm [°C].
    draws : Sampler
    hot : bool
        Whether the liquor was poured on boiling hot.
    moved : (array (draws,), array (draws, items)) or None
        Water that the food takes up in all [g], and the share of its water that each item gives, where boiling settles
        them; None for what cold soaking does.
    bath : array (draws,) or None
        As of `exchange`.

    Returns
    -------
    Outcome
        The same mass in the same pot: what food took up is its "absorbed" items, what left it the "dissolved" ones.
    """
    pot = sort_pot(mix)
    if not pot.liquor.any() or not pot.food.any() or not float(pot.water(pot.liquor)[0]) > 0.0:
        return Outcome(mix, account=reckoned("no liquid to soak in: nothing moves", Ground.NOTHING))
    time = draws.draw(minutes)
    gained, given = swell(pot, time, draws, hot=hot) if moved is None else moved
    inward, outward = exchange(pot, time, celsius, draws, given=given, bath=bath)
    outward[:, :, WATER] = given
    if pot.has_liquor:
        outward[:, pot.clinging] = 1.0  # a film of what food lay in before mixes with the liquor that it comes into
    water = pot.water(pot.liquor)
    taken = np.minimum(np.divide(gained, water, out=np.zeros(draws.rows), where=water > 0.0), 0.97)
    inward[:, WATER] = taken
    # Food that swells takes the liquor as it is: solutes at least in the share of the water.
    for place in SOLUTES:
        inward[:, place] = np.maximum(inward[:, place], taken)
    liquor, others = pot.at(pot.liquor), pot.at(~pot.liquor)
    absorbed, liquid = move(mix, inward[:, None, :], "absorbed", of=liquor)
    dissolved, food = move(mix, outward[:, others], "dissolved", of=others)
    return Outcome(together([food, liquid, absorbed, dissolved]), account=(_account(pot, minutes, celsius),))


def _account(pot: Phases, minutes: Interval, celsius: float) -> Account:
    main = max(pot.at(pot.food), key=lambda at: float(pot.mix.held[0, at].max()))
    item = pot.mix.items[main]
    shape = shape_of(item)
    kind = pot.kinds[main]
    span = _span(minutes)
    if swells(kind):
        return Account(f"concentration × absorbed water: {item.name} swells for {span}", Ground.ABSORBED)
    salt = diffusivity_of(_matter(pot, main)).salt
    return Account(
        f"diffusion, Crank's {shape.form} in a limited bath: {item.name}, half-thickness {shape.half.best:.3g} mm "
        f"({shape.half.low:.3g}–{shape.half.high:.3g}), D {salt.best:.2g} ({salt.low:.2g}–{salt.high:.2g}) 1e-10 m²/s "
        f"at 20 °C; {span} at {celsius:.0f} °C",
        Ground.DIFFUSION,
    )


def _span(minutes: Interval) -> str:
    """A time in words."""
    if minutes.best < 90.0:
        return f"{minutes.best:.3g} min"
    if minutes.best < 2880.0:
        text = f"{minutes.best / 60.0:.3g} h"
        return (
            text
            if math.isclose(minutes.low, minutes.high)
            else (f"{text} ({minutes.low / 60.0:.3g}–{minutes.high / 60.0:.3g})")
        )
    return f"{minutes.best / 1440.0:.3g} days"


# Half of the thickness from which on a piece is thick [mm], and share of salt from which on it is salted: common
# practice, no source.
_THICK, _SALTED = 12.5, 0.004


def hard_to_know(mix: Mixture, *, asked: str, line: int) -> tuple[Problem, ...]:
    """A warning where diffusion is known not to describe what salt does: thick, whole, skin-on or bone-in meat.

    Parameters
    ----------
    mix : Mixture
        What lies together.
    asked : str
        The words that ask for it, to show.
    line : int
        Their line number.
    """
    pot = sort_pot(mix)
    if float(mix.held[0, :, SALT] @ mix.weight[:, SALT]) < _SALTED * float(mix.total_mass[0]):
        return ()
    hard = set()
    for at in pot.at(pot.flesh):
        facts = mix.items[at].facts
        whole = CutStyle.WHOLE in facts.cut.styles or facts.skin_on or Trait.BONE_IN in facts.traits or facts.injected
        if whole or shape_of(mix.items[at]).half.best > _THICK:
            hard.add(mix.items[at].name)
    if not hard:
        return ()
    message = (
        f"“{asked}”: how much salt {', '.join(sorted(hard))} takes up is not well known for thick, whole, skin-on or "
        "bone-in pieces. Weigh the food before and after, or measure the brine that is left; for a claim about sodium "
        "only a laboratory will do."
    )
    return (Problem("uptake-uncertain", message, line),)
