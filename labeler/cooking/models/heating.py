"""One step of heat over the whole pot: roast, bake, broil, fry, boil, simmer, steam, braise, microwave.

What happens depends on what is in the pot. Meat by itself drips and shrinks; in a mixed dish its juice stays in it,
and the dish loses water as dishes of its kind do. Food in liquor exchanges solutes with it and the liquor boils
away by time; dry food takes liquor up. Heat destroys nutrients by the USDA factor of each ingredient's kind, and
alcohol leaves by the USDA table. A measured weight settles all of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np

from labeler.cooking.models.conditions import Conditions, minutes_of
from labeler.cooking.models.dry_heat import cook_in_dry_heat
from labeler.cooking.models.evaporation import alcohol_kept, evaporate_to, has_alcohol, lose_alcohol
from labeler.cooking.models.moist_heat import cook_in_liquor, steam, with_water
from labeler.cooking.models.retention_factors import HEAT_SENSITIVE, choose_code, describe, retain
from labeler.cooking.models.separation import drain
from labeler.cooking.models.weights_stated import BRINGS_WATER, heavier
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, join
from labeler.cooking.state.phases import WATER, Outcome, Phases, sort_pot, together
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import JUICY, WATER_TAKERS, is_raw, kind_of
from labeler.parsing.instructions.actions import Heat, Trait, action, has
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval, Problem

__all__ = ["action_meant", "heat", "one_of_each"]

TAP_WATER = "14411"
# Solids of fruit and sugar at their setting point: jam is boiled to 68 % (Practical Action, jam sheet), and has 60 %
# or more (Codex CXS 296-2009, from memory); the interval is common practice, no source. Less sugar than a third of
# the pot is no jam.
# Dry matter of a syrup that coats a spoon, and the least that is left of a thin liquid: common practice, no source.
_SYRUP, _LEAST_GLAZE = Interval(0.6, 0.45, 0.75), 0.08
_SET, _JAM = Interval(0.67, 0.62, 0.71), 1.0 / 3.0
_BATH = 150.0  # g of fat in a pan that food swims in, and that is not eaten with it: common practice, no source


def heat(mix: Mixture, conditions: Conditions, draws: Sampler) -> Outcome:
    """Do one step of heat.

    Parameters
    ----------
    mix : Mixture
        Everything in the pot.
    conditions : Conditions
        With an action that has figures of its own and brings heat; its `grams` is the measured weight when done.
    draws : Sampler

    Returns
    -------
    Outcome
        Raises nothing for any mix; an empty pot stays empty. `off` is what has dripped, the fat that fried food leaves,
        and the water that no line lists and that food was boiled in, where it neither stays nor is drained later.
    """
    if not mix.items or not float(mix.rows(0, 1).total_mass[0]) > 0.0:
        return Outcome(mix, account=reckoned("nothing in the pot", Ground.NOTHING))
    added: list[LedgerEntry] = []
    streams: list[LedgerEntry] = []
    account: list[Account] = []
    said, row = conditions, action(action_meant(mix, conditions))
    in_liquid = Trait.IN_LIQUID in row.traits
    conditions = replace(said, action=row.id, minutes=minutes_of(said), timed=said.minutes is not None)
    if in_liquid:
        mix, more = with_water(mix, conditions, draws)
        added += more
    mix, alcohol, note = _alcohol(mix, said, draws)
    streams += alcohol
    account += note
    codes = _codes(mix, row.id, minutes_of(said).best)
    goal = _goal(mix, said, draws) if row.heat is not Heat.WARM else None
    if in_liquid:
        outcome = cook_in_liquor(mix, conditions, draws, goal)
    elif row.heat is Heat.STEAM:
        outcome = steam(mix, conditions, draws, goal)
    elif row.heat is Heat.WARM:
        outcome = Outcome(mix, account=reckoned("brought to heat: no weight is lost that counts", Ground.NO_LOSS))
    else:
        outcome = cook_in_dry_heat(mix, conditions, draws, goal)
    cooked = outcome.kept if row.heat is Heat.WARM else _mark(outcome.kept, row.id)
    kept, destroyed, told = _destroy(cooked, codes)
    streams += outcome.streams
    if destroyed is not None:
        streams.append(LedgerEntry("destroyed by heat", destroyed))
    account += [*outcome.account, *told]
    problems, off = outcome.problems, outcome.off
    if goal is not None:
        kept, settled, gained, problem = _settle(kept, goal, conditions)
        streams += settled
        added += gained
        problems += problem
        ground = Ground.MEASURED if conditions.grams is not None else Ground.STATED
        ground = Ground.PLAIN if conditions.grams is None and conditions.share is None else ground
        words = _SYRUPY if ground is Ground.PLAIN and Mark.GLAZE in conditions.marks else _GOALS[ground]
        account.insert(0, Account(f"{words}: {goal[0]:.4g} g when done", ground))
    implied = any(item.origin is Origin.POT_WATER for item in kept.items)
    if implied and conditions.eaten and added:
        problems += (_WATER_ASSUMED,)
    if added and implied and not conditions.drained and not conditions.eaten and not _all_absorbed(kept):
        poured = drain(kept, draws=draws)
        kept = poured.kept
        off += poured.off
    return Outcome(kept, one_of_each(streams), tuple(account), problems, (*added, *outcome.added), off, outcome.guessed)


_GOALS = {Ground.MEASURED: "measured", Ground.STATED: "as stated", Ground.PLAIN: "at its setting point"}
_SYRUPY = "boiled down to a syrup"
_WATER_ASSUMED = Problem(
    "water-assumed",
    "how much water covers the food is a guess, and all of it counts as eaten. Write a line for it, such as “- 1.5 "
    "litres water”; where it is poured off, write “drain” after it.",
)


def _goal(mix: Mixture, conditions: Conditions, draws: Sampler) -> Array | None:
    """What the pot weighs when done [g], where the recipe says so: by weight, or by the share that is left of it."""
    if conditions.grams is not None:
        return draws.draw(conditions.grams)
    if conditions.share is not None:
        return mix.total_mass * draws.draw(conditions.share, most=1.0)
    if Mark.SETTING_POINT in conditions.marks and has(conditions.action, Trait.IN_LIQUID):
        total = mix.total_mass
        dry = total - mix.held[:, :, WATER] @ mix.weight[:, WATER]
        sweet = float(mix.constituent("sugar")[0].sum()) > _JAM * float(total[0]) or _is_jam(mix)
        return np.minimum(dry / draws.draw(_SET, Cause.SETTING_POINT), total) if sweet else None
    if Mark.GLAZE in conditions.marks:
        return _glazed(mix, draws)
    return None


def _is_jam(mix: Mixture) -> bool:
    """Whether fruit lies with at least half its weight of sugar, whatever water they are boiled in."""
    pot = sort_pot(mix)
    grams = mix.mass[0]
    fruit = sum(float(grams[at]) for at, kind in enumerate(pot.kinds) if kind in JUICY)
    sugar = sum(float(grams[at]) for at, kind in enumerate(pot.kinds) if kind == "sugar")
    return 0.0 < fruit <= 2.0 * sugar


def _glazed(mix: Mixture, draws: Sampler) -> Array | None:
    """What a pot weighs when the liquid around its food has boiled down to a syrup; None where there is no liquid."""
    pot = sort_pot(mix)
    if not pot.liquor.any():
        return None
    loose = mix.mass[:, pot.liquor].sum(axis=1)
    water = (mix.held[:, :, WATER] * mix.weight[:, WATER])[:, pot.liquor].sum(axis=1)
    left = np.maximum((loose - water) / draws.draw(_SYRUP, Cause.SETTING_POINT, "syrup"), _LEAST_GLAZE * loose)
    goal: Array = mix.total_mass - np.maximum(loose - left, 0.0)
    return goal


def one_of_each(streams: Sequence[LedgerEntry]) -> tuple[LedgerEntry, ...]:
    """Streams of the same kind and name as one."""
    grouped: dict[tuple[str, str], list[Mixture]] = {}
    for entry in streams:
        if entry.mix.items:
            grouped.setdefault((entry.stream, entry.name), []).append(entry.mix)
    return tuple(LedgerEntry(stream, together(mixes), name) for (stream, name), mixes in grouped.items())


def action_meant(mix: Mixture, conditions: Conditions) -> str:
    """The action that is meant: cooking and frying fit the pot that they are said of."""
    pot, traits = sort_pot(mix), conditions.row.traits
    dry = not pot.has_liquor and not any(kind in WATER_TAKERS for kind in pot.kinds)
    if Trait.BELOW_BOIL in traits and dry and pot.has_fat_bath and pot.best(pot.fat) > _BATH:
        return "braise"  # a confit
    if Trait.BELOW_BOIL in traits and dry and pot.fat.any() and conditions.general:
        return "pan-fry"
    if Trait.IN_PAN in traits and pot.has_fat_bath and pot.best(pot.fat) > _BATH and not _is_butter(pot):
        return "deep-fry"
    return conditions.action


def _is_butter(pot: Phases) -> bool:
    """Whether the free fat holds water, as butter and spreads do: nothing is fried afloat in it."""
    fat = pot.best(pot.fat)
    water = float((pot.mix.held[0, pot.fat, WATER] * pot.mix.weight[pot.fat, WATER]).sum())
    return water > 0.05 * fat


def _alcohol(mix: Mixture, conditions: Conditions, draws: Sampler) -> tuple[Mixture, list[LedgerEntry], list[Account]]:
    if not has_alcohol(mix):
        return mix, [], []
    minutes, row = minutes_of(conditions).best, conditions.row
    if Trait.FLAMES in row.traits:
        way = "flamed"
    elif Trait.IN_TIN in row.traits and Mark.STIRRED not in conditions.marks:
        way = "not stirred" if minutes <= 25.0 else "stirred"
    else:
        way = "stirred"
    if Trait.WARMS in row.traits and conditions.minutes is None:
        minutes = 0.0
    kept = alcohol_kept(way, minutes)
    mix, gone = lose_alcohol(mix, kept, draws)
    text = f"{kept.best:.0%} of the alcohol stays (USDA table, {way}, {minutes:.0f} min)"
    return mix, [LedgerEntry("evaporated alcohol", gone.present())], [Account(text, Ground.PUBLISHED)]


def _codes(mix: Mixture, action: str, minutes: float) -> dict[Item, str]:
    """Retention code of each item that heat meets; what is pinned in its line has been done already."""
    codes: dict[Item, str] = {}
    for item in mix.items:
        if item.pinned or item.food is None or item.phase in ("absorbed", "clinging"):
            continue
        kind = kind_of(item.food)
        if kind == "liquid" and int(load_table().group_codes[load_table().position[item.food]]) != 100:
            continue
        again = bool(item.cooked) or (not is_raw(item.food) and kind not in ("liquid", "sauce", "dairy", "cheese"))
        code = choose_code(kind, "reheat" if again else action, minutes=minutes)
        if code is not None:
            codes[item] = code
    return codes


def _destroy(kept: Mixture, codes: dict[Item, str]) -> tuple[Mixture, Mixture | None, tuple[Account, ...]]:
    """Apply retention to everything whose composition is still that of the raw food."""
    chains = {}
    for at, item in enumerate(kept.items):
        if item.table_entry:
            continue
        code = codes.get(item)
        if code is None and (item.phase or item.cooked):
            code = codes.get(_without(item, cooked=True)) or codes.get(_without(item, cooked=False))
        if code is not None:
            chains[at] = [code]
    if not chains:
        return kept, None, ()
    kept, destroyed = retain(kept, chains, only=HEAT_SENSITIVE)
    used = sorted({code for chain in chains.values() for code in chain})
    told = "retention " + ", ".join(f"{code} {describe(code).lower()}" for code in used[:3])
    told += " …" if len(used) > 3 else ""
    return kept, destroyed if destroyed.composition.any() else None, reckoned(told)


@lru_cache(maxsize=4096)
def _without(item: Item, *, cooked: bool) -> Item:
    """An item as it was before it was parted, and before it was cooked."""
    return replace(item, phase="", cooked="" if cooked else item.cooked)


def _mark(mix: Mixture, action: str) -> Mixture:
    """Everything that was food is now cooked."""
    return mix.renamed([item if item.phase or item.cooked else replace(item, cooked=action) for item in mix.items])


def _settle(
    kept: Mixture, goal: Array, conditions: Conditions
) -> tuple[Mixture, list[LedgerEntry], list[LedgerEntry], tuple[Problem, ...]]:
    """A measured weight: what is still more is water that left; what is less, dry food has taken up."""
    kept, water, short = evaporate_to(kept, goal)
    streams = [LedgerEntry("evaporated water", water)] if water.items else []
    missing = float(short[0])
    if abs(missing) <= 0.005 * float(goal[0]) + 0.5:
        return kept, streams, [], ()
    if missing < 0.0:
        problem = Problem(
            "lighter-than-dry",
            f"{kept.total_mass[0]:.0f} g of what is in the pot are not water, so it cannot weigh "
            f"{goal[0]:.0f} g. Check the weight, or say what was poured off or discarded.",
        )
        return kept, streams, [], (problem,)
    takes_up = conditions.watered or action(conditions.action).heat in BRINGS_WATER
    if takes_up and any(kind_of(item.food) in WATER_TAKERS for item in kept.items):
        item = Item(conditions.part, conditions.line, "water taken up", TAP_WATER, origin=Origin.WATER_TAKEN_UP)
        gained = mix_of_foods([item], np.maximum(short, 0.0)[:, None])
        return join([kept, gained]), streams, [LedgerEntry("added", gained, "water taken up")], ()
    return kept, streams, [], (heavier(kept, float(goal[0])),)


def _all_absorbed(kept: Mixture) -> bool:
    pot = sort_pot(kept)
    return pot.best(pot.liquor) < 0.02 * pot.best(pot.food | pot.absorbed)
