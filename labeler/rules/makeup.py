"""What a food is made of, as far as a rule may ask: shares of what went in, and a few figures of the finished food.

A condition is written as it is read, ``fruit+sugar >= 50``: the names are those of `MAKEUP_SHARES` (per cent of the
weight that went in) and `MAKEUP_FIGURES` (grams per 100 g of the finished food).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labeler.foods.makeup_class import makeup_classes
from labeler.rules.loading.reader import Where, nearest

__all__ = ["MAKEUP_FIGURES", "Makeup", "MakeupCondition", "conditions"]

MAKEUP_FIGURES: Mapping[str, str] = {
    "moisture": "WATER",
    "total_fat": "FAT",
    "total_sugar": "SUGAR",
    "sodium": "NA",
    "caffeine": "CAFFN",
    "alcohol": "ALC",
}
"""Names of figures in conditions and the tagname of each, of 100 g; sodium and caffeine in milligrams, else grams."""

_MILLIGRAMS = frozenset({"sodium", "caffeine"})

_CONDITION = re.compile(r"(?P<names>[a-z_]+(?:\+[a-z_]+)*)\s*(?P<sense>>=|<=)\s*(?P<figure>\d+(?:\.\d+)?)")


@dataclass(frozen=True, slots=True)
class Makeup:
    """What a food is made of.

    Parameters
    ----------
    shares : mapping
        Class of `labeler.foods.makeup_class` → per cent of the weight that went in; one that is left out is none.
    per_100g : mapping
        Name of `MAKEUP_FIGURES` → amount in 100 g of the finished food; one that is left out is not known.
    """

    shares: Mapping[str, float]
    per_100g: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class MakeupCondition:
    """One condition: the sum of what it names is at least, or at most, a figure."""

    names: tuple[str, ...]
    at_least: bool
    figure: float

    def holds(self, makeup: Makeup) -> bool:
        """Whether a food meets it; a figure that is not known meets nothing."""
        if self.names[0] in MAKEUP_FIGURES:
            found = makeup.per_100g.get(self.names[0])
            if found is None:
                return False
        else:
            found = sum(makeup.shares.get(name, 0.0) for name in self.names)
        return found >= self.figure if self.at_least else found <= self.figure

    def __str__(self) -> str:
        words = " and ".join(name.replace("_", " ") for name in self.names)
        unit = " %"
        if self.names[0] in MAKEUP_FIGURES:
            unit = f"{' mg' if self.names[0] in _MILLIGRAMS else ' g'} in 100 g"
        return f"{words} {'at least' if self.at_least else 'at most'} {self.figure:g}{unit}"


def conditions(value: Any, where: Where) -> tuple[MakeupCondition, ...]:
    """The conditions of a table's cell, parted by semicolons; fails with the nearest name for one that is unknown."""
    found = []
    for text in (part.strip() for part in str(value).split(";") if part.strip()):
        read = _CONDITION.fullmatch(text)
        if read is None:
            where.fail(f"a condition such as “fruit+sugar >= 50” is wanted here, not {text!r}")
        names = tuple(read["names"].split("+"))
        known: Iterable[str] = MAKEUP_FIGURES if names[0] in MAKEUP_FIGURES else makeup_classes()
        for name in names:
            if name not in known:
                where.fail(f"{name!r} is not known here{nearest(name, [*makeup_classes(), *MAKEUP_FIGURES])}")
        if names[0] in MAKEUP_FIGURES and len(names) > 1:
            where.fail("figures of the finished food are not added up")
        found.append(MakeupCondition(names, read["sense"] == ">=", float(read["figure"])))
    return tuple(found)
