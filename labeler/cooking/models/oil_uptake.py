"""Frying: how much oil food takes up, by kind and coating, or by the oil that is left."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.food_class import DISSOLVES
from labeler.cooking.state.ledger import Entry
from labeler.cooking.state.mixture import Array, Item, Mixture, blank, join
from labeler.cooking.state.phases import Outcome, Phases, move, sort_pot, together
from labeler.cooking.state.sampling import Sampler
from labeler.knowledge import Interval

__all__ = ["coating_of", "oil_uptake", "take_up_oil"]

TABLE = Path(__file__).parents[1].joinpath("data") / "frying.csv"
FRYING_OIL = "04518"  # corn oil stands for an oil that no line names

# Of food that no row fits: a tenth of food and coating, 15 % where that is thick (kumitasu.com 3565, second-hand).
_OF_ALL = Interval(0.1, 0.03, 0.17)
# Flour in butter is a roux, and so is butter that is browned by itself: there is nothing to lift out of the fat.
_THICKENS = DISSOLVES | {"flour", "seasoning"}
_CRUMBS = re.compile(r"crumb|panko|breaded|cornflake|crushed", re.IGNORECASE)
_BATTER = re.compile(r"batter|tempura", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Row:
    way: str
    coat: str
    pattern: re.Pattern[str] | None
    kinds: frozenset[str]
    grams: Interval


@cache
def _rows() -> tuple[_Row, ...]:
    with TABLE.open(encoding="utf-8", newline="") as stream:
        return tuple(
            _Row(
                row["way"],
                row["coat"],
                re.compile(row["pattern"], re.IGNORECASE) if row["pattern"] else None,
                frozenset(row["kinds"].split("|")) if row["kinds"] else frozenset(),
                Interval(float(row["best"]), float(row["low"]), float(row["high"])),
            )
            for row in csv.DictReader(line for line in stream if not line.startswith("#"))
        )


def coating_of(pot: Phases) -> str:
    """The coating of what is in a pot, from its other ingredients: "crumbed", "battered", "dusted" or "plain"."""
    names = " ".join(item.name + " " + item.text for item in pot.mix.items)
    flour = "flour" in pot.kinds
    if _CRUMBS.search(names):
        return "crumbed"
    if _BATTER.search(names) or (flour and ("egg" in pot.kinds or pot.liquor.any())):
        return "battered"
    return "dusted" if flour else "plain"


def oil_uptake(kind: str, text: str, *, way: str, coat: str) -> Interval | None:
    """Oil taken up [g per 100 g of raw food] by a kitchen kind.

    Parameters
    ----------
    kind, text : str
        The kind, and the words of the line ("sliced").
    way : str
        "deep-fry" or "pan-fry".
    coat : str
        As `coating_of` says.

    Returns
    -------
    Interval or None
        None where the oil of a pan is eaten with what is in it.
    """
    for row in _rows():
        if (
            row.way == way
            and row.coat in ("", coat)
            and (not row.kinds or kind in row.kinds)
            and (row.pattern is None or row.pattern.search(text))
        ):
            return row.grams
    return None


def take_up_oil(mix: Mixture, *, way: str, draws: Sampler, left: Interval | None, part: str, line: int) -> Outcome:
    """Let food take up the free fat of the pot, and leave the rest of it in the pan.

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
        What the food took up is "absorbed"; where the pot has no fat, deep-frying adds what was taken up.
    """
    pot = sort_pot(mix)
    if not any(pot.food[at] and kind not in _THICKENS for at, kind in enumerate(pot.kinds)):
        return Outcome(mix, method="no loss is known for this: the fat of the pan is eaten with what is in it")
    coat = coating_of(pot)
    mass = mix.mass
    taken = np.zeros(draws.rows)
    known = False
    for at in pot.at(pot.food):
        per = oil_uptake(pot.kinds[at], mix.items[at].text, way=way, coat=coat)
        if per is not None:
            known = True
            taken += draws.draw(per, ("oil", way, pot.kinds[at], coat)) * mass[:, at] / 100.0
    if not known and way == "deep-fry":
        known, taken = True, draws.draw(_OF_ALL, "oil") * pot.food_mass
    oil = mass[:, pot.fat].sum(axis=1)
    if not known and left is None:
        return Outcome(mix, method="the fat of the pan is eaten with what is in it")
    method = f"oil taken up by kind and coating ({coat}), second-hand table"
    if left is not None:
        taken = np.maximum(oil - draws.draw(left), 0.0)
        method = f"measured: {left.best:.4g} g of oil is left"
    if not pot.fat.any():
        if way != "deep-fry":
            return Outcome(mix, method="no fat in the pan")
        item = Item(part, line, "frying oil taken up", FRYING_OIL, phase="absorbed")
        entry = Entry("added", mix_of_foods([item], taken[:, None]), "frying oil, not listed")
        return Outcome(join([mix, entry.mix]), (), method, added=(entry,))
    share: Array = np.minimum(np.divide(taken, oil, out=np.zeros(draws.rows), where=oil > 0.0), 1.0)
    fraction = blank(draws.rows, len(mix.items))
    fraction[:, pot.fat] = share[:, None, None]
    absorbed, rest = move(mix, fraction, "absorbed")
    sticking = rest.select(pot.at(pot.fat)).present()
    kept = together([rest.select(pot.at(~pot.fat)), absorbed])
    return Outcome(kept, (Entry("poured off" if way == "deep-fry" else "stuck to the pan", sticking, "oil"),), method)
