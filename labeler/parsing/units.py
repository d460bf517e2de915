"""The kitchen's own registry of units: which word is which unit, and what a unit holds.

Reading a word is a look-up in a table (``data/kitchen_units.csv``); what a unit holds is a figure with its source in
another (``data/kitchen_measures.csv``), by market where cups and spoons differ: a US cup is 236.6 mL, a metric cup
250 mL, an imperial half pint 284.1 mL. `kitchen_registry` puts the same figures into pint, whose own cups and spoons
are US customary only, for work at a desk; reading a recipe does not wait for it.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from labeler.data_files import data_folder, data_rows
from labeler.text import plurals

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = [
    "BARE",
    "SPELLINGS",
    "TRAILING",
    "canonical_unit",
    "foods_named_so",
    "grams_per",
    "kind",
    "kitchen_registry",
    "millilitres_per",
    "plural",
]

DATA = data_folder("labeler.parsing")
UNITS_FILE = DATA / "kitchen_units.csv"
MEASURES_FILE = DATA / "kitchen_measures.csv"

# Whose measures each market's recipes use, the nearest first; "us" and "all" close every list.
_MARKETS: Mapping[str, tuple[str, ...]] = {
    "us": ("us", "all"),
    "metric": ("metric", "us", "all"),
    "eu": ("metric", "us", "all"),
    "codex": ("metric", "us", "all"),
    "uk": ("metric", "imperial", "us", "all"),
    "ca": ("metric", "imperial", "us", "all"),
    "anz": ("anz", "metric", "imperial", "us", "all"),
    "imperial": ("imperial", "metric", "us", "all"),
    "jp": ("jp", "metric", "us", "all"),
}


def _plurals(word: str) -> tuple[str, ...]:
    """The spellings of an English plural that a longer word may take; abbreviations list theirs in the file."""
    if len(word) < 3 or word.endswith(("s", ".")):
        return ()
    return (word + "es",) if word.endswith(("ch", "sh", "x")) else (word + "s",)


def _typos(word: str) -> tuple[str, ...]:
    """A long word with two letters changed over or one left out: what fingers make of "teaspoon"."""
    if len(word) < 8 or not word.isalpha():
        return ()
    places = range(1, len(word) - 1)
    swapped = (word[:at] + word[at + 1] + word[at] + word[at + 2 :] for at in places)
    return (*swapped, *(word[:at] + word[at + 1 :] for at in places))


def _read_file() -> tuple[dict[str, str], dict[str, str], dict[str, frozenset[str]], frozenset[str]]:
    spellings: dict[str, str] = {}
    kinds: dict[str, str] = {}
    after: dict[str, frozenset[str]] = {}
    bare: set[str] = set()
    for row in data_rows(UNITS_FILE):
        unit = row["unit"]
        kinds[unit] = row["kind"]
        words = [unit, unit.replace("_", " "), *row["spellings"].split()]
        for word in words:
            for spelling in (word, *_plurals(word)):
                spellings.setdefault(spelling, unit)
                if "-" in spelling:
                    spellings.setdefault(spelling.replace("-", " "), unit)
        for spelling in (unit, f"{unit}s") if row["kind"] in ("mass", "volume") else ():
            for typo in _typos(spelling):
                spellings.setdefault(typo, unit)
        if row["after"]:
            after[unit] = frozenset(row["after"].split())
        if row["bare"]:
            bare.add(unit)
    return spellings, kinds, after, frozenset(bare)


SPELLINGS, _KINDS, TRAILING, BARE = _read_file()
"""Every spelling and its unit; units that may stand behind their food and behind which foods (``*`` any); and those
that mean one of themselves where no number stands before them ("pinch of salt")."""


def canonical_unit(word: str) -> str | None:
    """The registry's name of the unit that `word` spells, or None.

    Case matters only where it does in kitchens ("T" is a tablespoon, "t" a teaspoon); a closing full stop is
    ignored; a hyphen joins as a space does ("fl-oz").
    """
    found = SPELLINGS.get(word)
    if found is not None:
        return found
    if word and word[-1] == ".":
        word = word[:-1]
        found = SPELLINGS.get(word)
        if found is not None:
            return found
    return SPELLINGS.get(word.lower())


def kind(unit: str | None) -> str:
    """``"mass"``, ``"volume"``, ``"length"`` or ``"count"`` of a registry unit; a bare count (None) is a count.

    Raises KeyError for a unit that the registry does not have.
    """
    return "count" if unit is None else _KINDS[unit]


def plural(unit: str) -> str:
    """How people write several of a unit ("cups", "leaves", "fluid ounces")."""
    return plurals.plural(unit.replace("_", " "))


@cache
def foods_named_so() -> Mapping[str, frozenset[str]]:
    """Units whose word is also a food, with the words behind it that show it ("pav buns")."""
    return {row["unit"]: frozenset(row["not_before"].split()) for row in data_rows(UNITS_FILE) if row["not_before"]}


@cache
def _measures() -> dict[tuple[str, str], float]:
    return {(row["unit"], row["market"]): float(row["size"]) for row in data_rows(MEASURES_FILE)}


@cache
def grams_per(unit: str | None) -> float | None:
    """Grams in one `unit`; None where it is no unit of mass."""
    if unit is None or kind(unit) != "mass":
        return None
    return _measures()[unit, "all"]


@cache
def millilitres_per(unit: str | None, *, market: str = "us") -> float | None:
    """Millilitres in one `unit` [mL]; None where it is no unit of volume.

    Parameters
    ----------
    unit : str or None
        Canonical name of the registry.
    market : str
        Whose cups, spoons, pints and fluid ounces: us, uk, ca, anz, eu, codex, jp, or ``"metric"`` and
        ``"imperial"`` by themselves. Raises KeyError for any other.
    """
    markets = _MARKETS[market]
    if unit is None or kind(unit) != "volume":
        return None
    sizes = _measures()
    return next(sizes[unit, whose] for whose in markets if (unit, whose) in sizes)


@cache
def kitchen_registry() -> Any:
    """A pint registry with every measure of the kitchen, named as here with the market behind ("cup_metric").

    Units that pint has of its own keep pint's definition; what the tests hold is that the two agree.
    """
    import pint

    registry: Any = pint.UnitRegistry(cache_folder=None)
    for row in data_rows(MEASURES_FILE):
        name = row["unit"] if row["market"] == "all" else f"{row['unit']}_{row['market']}"
        if name not in registry:
            registry.define(f"{name} = {row['size']} {row['of']}")
    return registry
