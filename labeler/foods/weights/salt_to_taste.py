"""How much "salt", without an amount, a recipe takes: what a dish of its weight is salted with, less what is salty.

A pinch for a sauce and what a roast is rubbed with differ by a factor of ten, so that no figure fits a line by itself.
The lines of a whole recipe that give no amount share what the dish lacks. The weights are known only when all lines
are weighed, so this comes last.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import kind_of
from labeler.foods.model import WeighedLine, WeighedPart
from labeler.types import Interval, Problem

__all__ = ["salted_to_taste"]

TABLE = data_folder("labeler.foods") / "salt_to_taste.csv"
_SALT_OF_SODIUM = 2.54  # g of salt for each g of sodium: molar masses 58.44 and 22.99
_SWEET = 0.15  # share of sugar in a recipe from which on it is salted as a sweet one: a choice, no source
_BRINE = 0.015  # share of salt in a recipe from which on it is for a brine or a cure: a choice, no source
_SALTY = (
    250.0  # sodium in 100 g from which on a food is a salted one [mg]: above meat, milk and eggs; a choice, no source
)
_HALF = 0.5


class _Row(NamedTuple):
    dish: Interval
    least: Interval


@cache
def _rows() -> dict[str, _Row]:
    return {
        row["kind"]: _Row(
            Interval(float(row["best"]), float(row["low"]), float(row["high"])),
            Interval(float(row["least"]), float(row["least_low"]), float(row["least_high"])),
        )
        for row in data_rows(TABLE)
    }


def salted_to_taste(parts: Sequence[WeighedPart], *, cold: bool = False) -> tuple[WeighedPart, ...]:
    """The parts of a recipe with salt that gives no amount weighed by what the recipe weighs.

    Parameters
    ----------
    parts : sequence of WeighedPart
        All lines weighed; salt without an amount stands at a default.
    cold : bool
        Whether there is a method and it heats nothing.

    Returns
    -------
    tuple of WeighedPart
        The same parts. Each open line has an even share of ``max(s M - S, l M)``, with the weight M of all other
        lines [g], the salt S of salty foods and of measured salt [g], and the shares s and l of the table. Measured
        salt of more than 1.5 % is for a brine and is not counted. Without any other line nothing is changed.
    """
    every = [one for part in parts for line in part.lines for one in (line, *line.also)]
    open_lines = [one for one in every if _is_open(one)]
    others = [one for one in every if not _is_open(one) and one.grams is not None and one.match is not None]
    mass = sum(one.grams.best for one in others if one.grams is not None)
    if not open_lines or mass <= 0.0:
        return tuple(parts)
    salty = _salt(others, mass)
    sweet = not salty and _sugar(others) > _SWEET * mass
    row = _rows()["sweet" if sweet else "cold" if cold else "savoury"]
    each = 1.0 / len(open_lines)
    grams = Interval(
        each * max(row.dish.best / 100.0 * mass - salty, row.least.best / 100.0 * mass),
        each * max(row.dish.low / 100.0 * mass - salty, row.least.low / 100.0 * mass),
        each * max(row.dish.high / 100.0 * mass - _HALF * salty, row.least.high / 100.0 * mass),
        f"no amount given: a dish of this weight is salted with {row.dish.best:g} g in 100 g, what is salty by itself "
        "taken off (a default, no source)",
    )
    return tuple(replace(part, lines=tuple(_with(line, grams) for line in part.lines)) for part in parts)


def _is_open(one: WeighedLine) -> bool:
    line = one.line
    pinned = line.pin is not None and line.pin.grams is not None
    return (
        not line.amounts
        and not pinned
        and (line.purpose is None or line.to_taste)
        and one.grams is not None
        and one.grams.best > 0.0
        and one.match is not None
        and one.match.own is None
        and kind_of(one.match.food) == "salt"
    )


def _sugar(lines: Iterable[WeighedLine]) -> float:
    return sum(
        one.grams.best
        for one in lines
        if one.grams is not None and one.match is not None and kind_of(one.match.food) in ("sugar", "sweet")
    )


def _salt(lines: Iterable[WeighedLine], mass: float) -> float:
    """Salt of what is salty by itself, and of salt that is measured unless it is for a brine [g]."""
    foods = measured = 0.0
    for one in lines:
        if one.grams is None or one.match is None:
            continue
        sodium = _sodium(one)
        salt = one.grams.best / 100.0 * sodium * _SALT_OF_SODIUM / 1000.0
        if kind_of(one.match.food) == "salt":
            measured += salt
        elif sodium >= _SALTY:
            foods += salt
    return foods + (measured if measured <= _BRINE * mass else 0.0)


def _sodium(one: WeighedLine) -> float:
    """Sodium of a food [mg in 100 g], 0 where nobody has measured it."""
    assert one.match is not None
    if one.match.own is not None and "NA" in one.match.own.per_100g:
        return one.match.own.per_100g["NA"].best
    value = load_table().value(one.match.food, "NA") if one.match.food is not None else None
    return value if value is not None and value == value else 0.0


def _with(line: WeighedLine, grams: Interval) -> WeighedLine:
    also = tuple(_with(one, grams) for one in line.also)
    if not _is_open(line):
        told = _told(line.problems, line, grams) if any(_is_open(one) for one in line.also) else line.problems
        return replace(line, also=also, problems=told)
    return replace(line, grams=grams, also=also, problems=_told(line.problems, line, grams))


def _told(problems: tuple[Problem, ...], line: WeighedLine, grams: Interval) -> tuple[Problem, ...]:
    message = (
        f"“{line.line.text.strip()[:60]}” gives no amount; its salt is counted as {grams.best:.2g} g "
        f"({grams.low:.1g}–{grams.high:.2g}), what such a dish is salted with. Write an amount, or pin the grams: "
        f"{{{grams.best:.2g} g}}."
    )
    return tuple(
        Problem(one.code, message, one.line, one.severity) if one.code == "default-weight" else one for one in problems
    )
