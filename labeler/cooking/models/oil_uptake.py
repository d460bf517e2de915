"""Frying: how much oil food takes up, by kind and coating, or by the oil that is left."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np

from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, blank, join
from labeler.cooking.state.phases import FAT, Off, Outcome, PartedPhases, Phases, move, sort_pot, together
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.data_files import data_folder, data_rows
from labeler.foods.food_class import DISSOLVES, LIQUOR, described, kind_of
from labeler.parsing.ingredient.cut import CutStyle
from labeler.parsing.ingredient.facts import Coat
from labeler.parsing.instructions.actions import Trait, has
from labeler.types import Interval

__all__ = ["coating_of", "oil_uptake", "take_up_oil"]

TABLE = data_folder("labeler.cooking") / "frying.csv"
FRYING_OIL = "04518"  # corn oil stands for an oil that no line names

# Of food that no row fits: a tenth of food and coating, 15 % where that is thick (kumitasu.com 3565, second-hand).
_OF_ALL = Interval(0.1, 0.03, 0.17)
# Flour in butter is a roux, and so is butter that is browned by itself: there is nothing to lift out of the fat.
_THICKENS = DISSOLVES | {"flour", "seasoning"}


class _Row(NamedTuple):
    way: str
    coat: str
    cuts: frozenset[CutStyle]
    foods: str
    kinds: frozenset[str]
    grams: Interval


@cache
def _rows() -> tuple[_Row, ...]:
    return tuple(
        _Row(
            row["way"],
            row["coat"],
            frozenset(CutStyle(cut) for cut in row["cuts"].split("|") if cut),
            row["foods"],
            frozenset(row["kinds"].split("|")) if row["kinds"] else frozenset(),
            Interval(float(row["best"]), float(row["low"]), float(row["high"])),
        )
        for row in data_rows(TABLE)
    )


def coating_of(pot: Phases) -> str:
    """The coating of what is in a pot, from its other ingredients: "crumbed", "battered", "dusted" or "plain"."""
    coats = {item.facts.coat for item in pot.mix.items}
    flour = "flour" in pot.kinds
    around = [item.phase != "dissolved" for item in pot.mix.items]  # juices that ran out of food make no batter
    liquor = (pot.liquor & np.array(around, dtype=bool)).any()
    wet = any(item.phase == "coating" and kind in LIQUOR for item, kind in zip(pot.mix.items, pot.kinds, strict=True))
    if Coat.CRUMBS in coats:
        return "crumbed"
    if Coat.BATTER in coats or (flour and ("egg" in pot.kinds or liquor or wet)):
        return "battered"
    return "dusted" if flour else "plain"


def oil_uptake(food: str | None, cuts: frozenset[CutStyle], *, way: str, coat: str) -> Interval | None:
    """Oil taken up [g per 100 g of raw food] by a food.

    Parameters
    ----------
    food : str or None
        Table id.
    cuts : frozenset of CutStyle
        How it is cut.
    way : str
        "deep-fry" or "pan-fry".
    coat : str
        As `coating_of` says.

    Returns
    -------
    Interval or None
        None where the oil of a pan is eaten with what is in it.
    """
    kind = kind_of(food)
    for row in _rows():
        if (
            row.way == way
            and row.coat in ("", coat)
            and (not row.kinds or kind in row.kinds)
            and (not row.cuts or row.cuts & cuts)
            and (not row.foods or (food is not None and described(food, row.foods)))
        ):
            return row.grams
    return None


# Flesh with more fat than this gives fat to the pan and takes none up: the table's pork that did was lean. A choice.
_GIVES_FAT = 0.2

_EATEN = "the fat of the pan is eaten with what is in it"


def take_up_oil(mix: Mixture, *, way: str, draws: Sampler, left: Interval | None, part: str, line: int) -> Outcome:
    """Let food take up the free fat of the pot, and part the rest of it from the food.

    Parameters
    ----------
    mix : Mixture
    way : str
        "deep-fry" or "pan-fry".
    draws : Sampler
    left : Interval or None
        Oil that was left, as weighed [g]: it settles the uptake.
    part, line : str, int
        Where the step stands, for oil that no line lists.

    Returns
    -------
    Outcome
        What the food took up is "absorbed"; where the pot has no fat, deep-frying adds what was taken up. The rest of
        the fat is `PartedPhases.BATH` after deep-frying and `PartedPhases.PAN_FAT` after frying in a pan.
    """
    pot = sort_pot(mix)
    if not any(pot.food[at] and kind not in _THICKENS for at, kind in enumerate(pot.kinds)):
        return Outcome(mix, account=reckoned(f"no loss is known for this: {_EATEN}", Ground.NO_LOSS))
    coat, floats = coating_of(pot), has(way, Trait.IN_FAT)
    mass = mix.mass
    taken = np.zeros(draws.rows)
    known = False
    for at in pot.at(pot.food):
        per = oil_uptake(mix.items[at].food, mix.items[at].facts.cut.styles, way=way, coat=coat)
        if per is not None:
            known = True
            if not floats and pot.flesh[at] and float(mix.weight[at, FAT]) > _GIVES_FAT:
                continue
            taken += draws.draw(per, Cause.OIL_TAKEN_UP, way, pot.kinds[at], coat) * mass[:, at] / 100.0
    if not known and floats:
        known, taken = True, draws.draw(_OF_ALL, Cause.OIL_TAKEN_UP) * pot.food_mass
    held = [at for at, item in enumerate(mix.items) if item.phase == "absorbed" and pot.kinds[at] == "fat"]
    taken = np.maximum(taken - mass[:, held].sum(axis=1), 0.0)  # what it took up in an earlier step of the frying
    oil = mass[:, pot.fat].sum(axis=1)
    if not known and left is None:
        return Outcome(mix, account=reckoned(_EATEN))
    account = Account(f"oil taken up by kind and coating ({coat}), second-hand table", Ground.USUAL)
    if left is not None:
        taken = np.maximum(oil - draws.draw(left), 0.0)
        account = Account(f"measured: {left.best:.4g} g of oil is left", Ground.MEASURED)
    if not pot.fat.any():
        if not floats:
            return Outcome(mix, account=reckoned("no fat in the pan"))
        item = Item(part, line, "frying oil taken up", FRYING_OIL, phase="absorbed", origin=Origin.FRYING_OIL)
        entry = LedgerEntry("added", mix_of_foods([item], taken[:, None]), "frying oil, not listed")
        return Outcome(join([mix, entry.mix]), (), (account,), added=(entry,))
    share: Array = np.minimum(np.divide(taken, oil, out=np.zeros(draws.rows), where=oil > 0.0), 1.0)
    fraction = blank(draws.rows, len(mix.items))
    fraction[:, pot.fat] = share[:, None, None]
    absorbed, rest = move(mix, fraction, "absorbed")
    sticking = rest.select(pot.at(pot.fat)).present()
    kept = together([rest.select(pot.at(~pot.fat)), absorbed])
    parted = PartedPhases.BATH if floats else PartedPhases.PAN_FAT
    return Outcome(kept, account=(account,), off=(Off(parted, sticking),))
