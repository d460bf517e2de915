"""A food of the larder as the cook wrote it down, every figure still as printed."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["LarderFood", "slug_of"]


@dataclass(frozen=True)
class LarderFood:
    """One entry of the larder file.

    Parameters
    ----------
    name : str
        As the cook calls it in recipes.
    other_names : tuple of str
        Other names for it.
    per : str
        What the panel is of, as printed: "100 g", "1 tablespoon (14 g)", "100 ml".
    rounded_under : str
        Market whose rounding the panel was printed under; "none" where it was not rounded by a rule.
    panel : mapping
        Line of the panel → figure as printed: ``{"total_fat": "0 g"}``.
    ingredients : str
        The list as printed; empty where it is not known.
    contains, may_contain : str
        The allergen statement and the warning as printed.
    net : str
        Net weight as printed.
    measures : mapping
        Unit → weight of one: ``{"can": "400 g"}``.
    density : float or None
        Grams of a millilitre.
    like : str
        Table id or name of the food that it resembles; empty to have it found.
    bar_code : str
        Digits of the bar code.
    read_on : date or None
        Day on which the package was read.
    source, licence : str
        Where the entry comes from, and under which licence, where it is not the package in the cook's hand.
    note : str
        Anything else.
    file : str
        Where it stands, for messages.
    line : int or None
        Line of that file.
    """

    name: str
    other_names: tuple[str, ...] = ()
    per: str = ""
    rounded_under: str = "none"
    panel: Mapping[str, str] = field(default_factory=dict)
    ingredients: str = ""
    contains: str = ""
    may_contain: str = ""
    net: str = ""
    measures: Mapping[str, str] = field(default_factory=dict)
    density: float | None = None
    like: str = ""
    bar_code: str = ""
    read_on: datetime.date | None = None
    source: str = ""
    licence: str = ""
    note: str = ""
    file: str = ""
    line: int | None = None

    @property
    def id(self) -> str:
        """``"larder:"`` and the name in plain letters."""
        return f"larder:{slug_of(self.name)}"

    @property
    def names(self) -> tuple[str, ...]:
        """Every name that it goes by."""
        return (self.name, *self.other_names)


def slug_of(name: str) -> str:
    """A name in plain letters: ``"Jalapeño salsa"`` is ``"jalapeno-salsa"``; other alphabets stay as they are."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    return re.sub(r"[^\w]+", "-", plain).strip("-_") or "food"
