"""Wet heat: boiling, simmering, braising, blanching and steaming.

Food in liquor exchanges solutes with it, dry food takes it up, meat gives its juice and fat to it, and it boils away
by time. Water that no line lists is added where food cannot boil without it.
"""

from __future__ import annotations

import numpy as np

from labeler.cooking.models.conditions import Conditions, minutes_of
from labeler.cooking.models.evaporation import boil_off, take_constituent
from labeler.cooking.models.immersion import soak
from labeler.cooking.models.meat_losses import cook_dry, shrink
from labeler.cooking.models.yield_factors import cooked_entry, prior
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, join
from labeler.cooking.state.phases import WATER, Outcome, Phases, sort_pot
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.food_class import JUICY, WATER_TAKERS, is_raw
from labeler.parsing.instructions.actions import Trait
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval

__all__ = ["cook_in_liquor", "steam", "with_water"]

_POT_WATER = Interval(3.0, 1.5, 6.0)  # water that no line lists, per weight of food: common practice, no source
_JUICY = 0.5  # share of fruit, tomato and sugar from which a pot boils in its own juice: common practice, no source
_COVERS = Interval(1.5, 0.8, 3.0)  # water that just covers food and stays with it: common practice, no source
_MUCH_WATER = Interval(8.0, 4.0, 12.0)  # for pasta, grain and dry legumes
_SALTED = Interval(8.0, 3.0, 15.0)  # g salt per litre of "salted water": common practice, no source
_MOST_BOILED = 0.9  # of the water around food, and in fruit: it would burn with less: common practice, no source
BOILING = 95.0  # °C of what boils or simmers
TAP_WATER, TABLE_SALT = "14411", "02047"


def with_water(mix: Mixture, conditions: Conditions, draws: Sampler) -> tuple[Mixture, list[LedgerEntry]]:
    """Add the water that boiling needs and no line lists, and the salt that is said."""
    pot = sort_pot(mix)
    dry = [
        at
        for at in pot.at(pot.food)
        if pot.kinds[at] in WATER_TAKERS and is_raw(mix.items[at].food) and not mix.items[at].cooked
    ]
    told = conditions.watered or Mark.WATER in conditions.marks
    needs = Trait.ROLLING in conditions.row.traits or conditions.drained or bool(dry) or told
    needs = needs and not conditions.reduces and not (pot.has_fat_bath and not dry)
    water, salt = conditions.water, conditions.salt
    if water is None and (pot.has_liquor or not needs or not pot.food.any() or not (told or _boils(pot, conditions))):
        return mix, []
    usual, fed = (_MUCH_WATER if dry else _POT_WATER), pot.food_mass
    if conditions.eaten:
        usual = _POT_WATER if dry else _COVERS
        fed = mix.mass[:, dry].sum(axis=1) if dry else fed  # what swells drinks it, not what lies beside
    grams = draws.draw(water) if water is not None else fed * draws.draw(usual, Cause.POT_WATER)
    part, line = conditions.part, conditions.line
    items, weights = [Item(part, line, "water in the pot", TAP_WATER, origin=Origin.POT_WATER)], [grams]
    salted = Item(part, line, "salt in the water", TABLE_SALT, origin=Origin.POT_SALT)
    if salt is not None:
        items.append(salted)
        weights.append(draws.draw(salt))
    elif Mark.SALTED_WATER in conditions.marks:
        items.append(salted)
        weights.append(grams / 1000.0 * draws.draw(_SALTED, Cause.SALTED_WATER))
    put_in = mix_of_foods(items, np.stack(weights, axis=1))
    return join([mix, put_in]), [LedgerEntry("added", put_in, "water in the pot, not listed")]


def _boils(pot: Phases, conditions: Conditions) -> bool:
    """Whether food without liquor boils in water, and not in its own juice as fruit with sugar does."""
    juicy = np.array([kind in ("fruit", "tomato", "sugar", "sauce") for kind in pot.kinds], dtype=bool)
    in_juice = float(np.mean(pot.mass_of(juicy))) > _JUICY * float(np.mean(pot.mix.total_mass))
    return conditions.drained or not in_juice


def _takes(mix: Mixture, pot: Phases, action: str, draws: Sampler) -> tuple[Array, list[Account]]:
    """Water that dry food takes up when it boils [g], and how that is known."""
    gained = -pot.water(pot.absorbed)  # what soaking has brought in counts
    told = []
    for at in pot.at(pot.food):
        item, kind = mix.items[at], pot.kinds[at]
        if kind not in WATER_TAKERS or item.cooked or not is_raw(item.food):
            continue
        entry = cooked_entry(item.food, action, traits=item.facts.traits) if item.food else None
        usual = prior(kind, "moist")
        weight = entry.weight if entry is not None else usual.weight if usual is not None else Interval(2.0, 1.5, 2.6)
        swollen = draws.draw(weight, Cause.YIELD, kind, action) * mix.mass[:, at]
        gained += np.maximum(swollen - mix.mass[:, at], 0.0)
        ground = Ground.PUBLISHED if entry is not None else usual.ground if usual is not None else Ground.PLAIN
        text = f"{item.name} swells {weight.best:.2f} ({weight.low:.2f}–{weight.high:.2f}) times, {weight.basis}"
        told.append(Account(text, ground))
    return np.maximum(gained, 0.0), told


def cook_in_liquor(mix: Mixture, conditions: Conditions, draws: Sampler, goal: Array | None) -> Outcome:
    """In liquor: exchange, swelling, shrinking of meat, and water that boils away."""
    pot, action = sort_pot(mix), conditions.action
    minutes = minutes_of(conditions)
    guessed = False
    account: list[Account] = []
    streams: list[LedgerEntry] = []
    under_fat = pot.has_fat_bath and not pot.has_liquor  # nothing boils away
    if conditions.row.boils_off is not None and not under_fat:
        marks = conditions.marks
        gone = boil_off(
            mix, way=action, minutes=minutes, covered=Mark.COVERED in marks, draws=draws, hard=Mark.HARD in marks
        )
        if goal is not None:
            gone = np.maximum(mix.total_mass - goal, 0.0)
        mix, water = take_constituent(mix, WATER, _boiled_away(pot, gone, guessed=goal is None))
        streams.append(LedgerEntry("evaporated water", water))
        if goal is None:
            guessed = True
            told_off = f"{float(water.total_mass[0]):.0f} g boils off in {minutes.best:.0f} min, a wide guess"
            account.append(Account(told_off, Ground.USUAL))
        pot = sort_pot(mix)
    if pot.liquor.any() and pot.food.any():
        gained, told = _takes(mix, pot, action, draws)
        gained = np.minimum(gained, 0.97 * pot.water(pot.liquor))
        moved = (gained, _wilting(pot, action, draws))
        outcome = soak(mix, minutes=minutes, celsius=BOILING, draws=draws, moved=moved)
        mix = outcome.kept
        account += told or outcome.account
    pot = sort_pot(mix)
    flesh = shrink(mix, pot.at(pot.flesh), conditions, draws)
    if pot.flesh.any():
        first, *more = flesh.account or reckoned("")
        account += [first._replace(text=f"juice and fat go into the pot: {first.text}"), *more]
    return Outcome(flesh.kept, tuple(streams), tuple(account), guessed=guessed)


def _boiled_away(pot: Phases, gone: Array, *, guessed: bool) -> Array:
    """Share of its water that each item loses as `gone` grams boil away, shape (draws, items).

    What lies around the food goes first. Juicy fruit gives its water to the pot as it falls apart, so that a splash of
    liquid beside it never holds back what leaves; where there is no liquid at all, everything gives.
    """
    liquor = pot.liquor
    juicy = np.array([kind in JUICY for kind in pot.kinds], dtype=bool) & ~liquor
    if not liquor.any():
        juicy = np.ones(len(pot.kinds), dtype=bool)
    around, inside = pot.water(liquor), pot.water(juicy)
    held = around + inside
    share = np.divide(gone, held, out=np.zeros_like(gone), where=held > 0.0)
    if guessed:
        # The flame is turned down as the pot gets empty, so that a guess never boils it dry: common practice.
        share = 1.0 - np.exp(-share)
    most = _MOST_BOILED if pot.food.any() else 1.0
    grams = np.clip(share, 0.0, most) * held
    first = np.minimum(grams, most * around)
    of_liquor = np.divide(first, around, out=np.zeros_like(gone), where=around > 0.0)
    of_juice = np.divide(grams - first, inside, out=np.zeros_like(gone), where=inside > 0.0)
    shares: Array = of_liquor[:, None] * liquor + of_juice[:, None] * juicy
    return shares


def _wilting(pot: Phases, action: str, draws: Sampler) -> Array:
    """Share of its water that each vegetable gives to the liquor, by its kind, shape (draws, items)."""
    share = np.zeros((draws.rows, len(pot.mix.items)))
    for at in pot.at(pot.food & ~pot.flesh):
        kind, usual = pot.kinds[at], prior(pot.kinds[at], "moist")
        water = float(pot.mix.weight[at, WATER])
        if usual is None or kind in WATER_TAKERS or pot.mix.items[at].cooked or water <= 0.0:
            continue
        left = draws.draw(usual.weight, Cause.YIELD, kind, action, most=1.0)
        share[:, at] = np.minimum((1.0 - left) / water, 0.9)
    return share


def steam(mix: Mixture, conditions: Conditions, draws: Sampler, goal: Array | None) -> Outcome:
    """Over steam: meat and shellfish drip, vegetables keep what they have."""
    pot = sort_pot(mix)
    flesh = pot.at(pot.flesh)
    if flesh and not pot.has_liquor:
        return cook_dry(mix, flesh, conditions, draws, goal=goal)
    return Outcome(mix, account=reckoned("steamed: weight and what is dissolved stay", Ground.NO_LOSS))
