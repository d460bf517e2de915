"""Amounts as cooks write them: a quantity with its unit, and the same amount said again ("250 g/9 oz").

The readers start at a position of a tidied text (`labeler.parsing.numbers.tidy`) and answer with what they found and
where it ended, or None.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from labeler.parsing.model import Amount
from labeler.parsing.numbers import read_quantity
from labeler.parsing.units import SPELLINGS, canonical_unit, foods_named_so, grams_per, kind, millilitres_per

__all__ = ["ACROSS", "Measures", "Unit", "amounts_agree", "in_unit", "read_measures", "read_unit"]


class Unit(NamedTuple):
    """A unit of a line: its registry name, whether a hyphen joins it to its number, and where reading stopped."""

    name: str
    joined: bool
    end: int


# The first words of units of several words and the most words of one ("fl oz", "bar spoon", "c. à s.").
_OF_SEVERAL: dict[str, int] = {}
for _words in (spelling.lower().split(" ") for spelling in SPELLINGS if " " in spelling):
    _OF_SEVERAL[_words[0]] = max(len(_words), _OF_SEVERAL.get(_words[0], 0))
# What stands between the words of such a unit: "c. à s.", "c/s", "colher (sopa)".
_FURTHER_WORD = re.compile(r"(?:\.?[ /-]?|\.? ?\()([^\W\d_]+)")
_UNIT = re.compile(r"( ?-? ?)(\"|[^\W\d_]+(?:-[^\W\d_]+)*\.?)")
_SECOND_WORD = re.compile(r"[ -]([^\W\d_]+)\.?")
# What may hang on a length: "8-inch-square", "1/2-inch thick", "4 inches long".
ACROSS = re.compile(r"[ -](?:thick|long|wide|square|round|diameter|deep|high|in (?:length|diameter))\b", re.I)


def read_unit(text: str, at: int) -> Unit | None:
    """A unit at `at`, or None."""
    found = _UNIT.match(text, at)
    if found is None:
        return None
    word = found[2]
    joined = "-" in found[1]
    bare = word.rstrip(".").lower()
    several = _read_several_words(text, found.start(2), joined)
    if several is not None:
        return several
    unit = canonical_unit(word)
    if unit is not None:
        if bare == "in" and found[1] == " " and word[-1] != ".":
            return None  # "in" is an inch only where nothing else can be meant
        following = _SECOND_WORD.match(text, found.end())
        foods = foods_named_so().get(unit)
        if foods is not None and (following is None or following[1].lower() in foods):
            return None
        return Unit(unit, joined, found.end())
    if joined and "-" in word:
        # "8-inch-square" and "2-to-3-pound" carry more behind the unit; "T-bone" and "head-on" do not begin one.
        first = word.partition("-")[0]
        unit = canonical_unit(first)
        if unit is not None and kind(unit) != "count":
            return Unit(unit, joined, found.start(2) + len(first))
    return None


def _read_several_words(text: str, at: int, joined: bool) -> Unit | None:
    """The longest unit of several words at `at`, however they are joined, or None."""
    word = _FURTHER_WORD.match(text, at)
    most = _OF_SEVERAL.get(word[1].lower(), 0) if word is not None else 0
    words: list[str] = []
    best = None
    while word is not None and len(words) < most:
        words.append(word[1].lower())
        unit = canonical_unit(" ".join(words)) if len(words) > 1 else None
        if unit is not None:
            end = word.end() + text.startswith(".", word.end())
            best = Unit(unit, joined, end + (text.startswith(")", end) and "(" in text[at:end]))
        word = _FURTHER_WORD.match(text, word.end())
    return best


class Measures(NamedTuple):
    """One amount with its unit and every other way in which the text says it; `end` is where reading stopped."""

    amounts: tuple[Amount, ...]
    end: int


_SMALLER_UNITS = {
    "pound": ("ounce",), "kilogram": ("gram",), "liter": ("milliliter",), "pint": ("fluid_ounce",),
    "quart": ("pint", "cup", "fluid_ounce"), "gallon": ("quart", "pint"),
}  # fmt: skip
_SLASH = re.compile(r" ?[/|=] ?(?=[~\d.])")
_EACH = re.compile(r",? (?:each|apiece|per (?:piece|person|serving|can|fillet))\b", re.I)
_TOTAL = re.compile(r",? (?:in total|total weight|total|in all|altogether|by weight)\b", re.I)


def read_measures(text: str, at: int, *, role: str = "same") -> Measures | None:
    """Amounts with units at `at`, such as "about 3 1/2 pounds" or "2 1/4 teaspoons/7 grams"; the first takes `role`."""
    quantity = read_quantity(text, at)
    unit = read_unit(text, quantity.end) if quantity is not None else None
    if quantity is None or unit is None:
        return None
    first, end = _with_smaller(text, unit.end, Amount(quantity.low, quantity.high, unit.name, role, quantity.about))
    found = [first]
    while True:
        slash = _SLASH.match(text, end)
        quantity = read_quantity(text, slash.end()) if slash is not None else None
        unit = read_unit(text, quantity.end) if quantity is not None else None
        if quantity is None or unit is None:
            break
        other, end = _with_smaller(
            text, unit.end, Amount(quantity.low, quantity.high, unit.name, "same", quantity.about)
        )
        found.append(other)
    if kind(found[0].unit) == "length":
        across = ACROSS.match(text, end)
        end = across.end() if across is not None else end
    each = _EACH.match(text, end)
    if each is not None:
        found[0] = Amount(found[0].low, found[0].high, found[0].unit, "each", found[0].about)
        end = each.end()
    else:
        total = _TOTAL.match(text, end)
        end = total.end() if total is not None else end
    return Measures(tuple(found), end)


def _with_smaller(text: str, at: int, amount: Amount) -> tuple[Amount, int]:
    """An amount with what a smaller unit beside it adds ("2 lb 11 oz" in pounds), and where reading stopped."""
    smaller = _SMALLER_UNITS.get(amount.unit or "")
    if smaller is None or text[at + 1 : at + 2] not in "0123456789" or not text.startswith(" ", at):
        return amount, at
    quantity = read_quantity(text, at + 1)
    unit = read_unit(text, quantity.end) if quantity is not None else None
    if quantity is None or unit is None or unit.name not in smaller:
        return amount, at
    added = in_unit(Amount(quantity.low, quantity.high, unit.name), amount.unit or "")
    if added is None or added.high >= 1:
        return amount, at
    return Amount(amount.low + added.low, amount.high + added.high, amount.unit, amount.role, amount.about), unit.end


def in_unit(amount: Amount, unit: str) -> Amount | None:
    """An amount in another unit of the same kind (mass or volume); None where the kinds differ."""
    per = grams_per if kind(unit) == "mass" else millilitres_per
    own, other = per(amount.unit), per(unit)
    if own is None or other is None:
        return None
    return Amount(amount.low * own / other, amount.high * own / other, unit, amount.role, amount.about)


# How far two statements of one amount may lie apart: 25 g for an ounce (-12 %) and 500 g for a pound (+10 %) are what
# cooks write. Common practice, no source.
_TOLERANCE = 0.15
_VAGUE = frozenset(["pinch", "dash", "smidgen", "drop"])
_MARKETS = ("us", "metric", "imperial", "anz", "jp")


def _sizes(unit: str | None) -> list[float]:
    """Grams or millilitres in a unit, once per market where they differ; empty for counts and lengths."""
    grams = grams_per(unit)
    if grams is not None:
        return [grams]
    volumes = {millilitres_per(unit, market=market) for market in _MARKETS}
    return [size for size in volumes if size is not None]


def amounts_agree(one: list[Amount], other: list[Amount]) -> bool:
    """Whether two sums say the same: within cooks' rounding where both are masses or both volumes, else always."""
    if any(amount.unit in _VAGUE for amount in (*one, *other)):
        return True
    kinds = {kind(amount.unit) for amount in (*one, *other)}
    if kinds not in ({"mass"}, {"volume"}):
        return True
    for market in range(len(_MARKETS)):
        bounds = []
        slack = 0.0
        for side in (one, other):
            sizes = [_sizes(amount.unit) for amount in side]
            each = [size[min(market, len(size) - 1)] for size in sizes]
            bounds.append(
                (
                    sum(amount.low * size for amount, size in zip(side, each, strict=True)),
                    sum(amount.high * size for amount, size in zip(side, each, strict=True)),
                )
            )
            if len(side) == 1 and side[0].unit in ("gram", "milliliter") and side[0].low == int(side[0].low):
                slack = 0.5
        (low, high), (other_low, other_high) = bounds
        gap = max(low, other_low) - min(high, other_high)
        if gap <= max(slack, _TOLERANCE * max(low, other_low)):
            return True
    return False
