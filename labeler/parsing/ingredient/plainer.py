"""Amounts in a cook's shorthand put into the words that the reader of amounts knows, before a line is taken apart."""

from __future__ import annotations

import re

from labeler.parsing.units import canonical_unit

__all__ = ["plainer"]

_RANGE_OF_PIECES = re.compile(r"^([1-9])(?P<gap> )? ?/ ?([1-9]) (?P<noun>[^\W\d]+)")
# "1 No. 2 can": what cans of a number hold, in ounces of tomatoes and the like (from memory).
_CAN_NUMBER = re.compile(r"(?:#|no\.? ?|number )(10|2 1/2|2\.5|2|300|303|1)(?: size)?[ -](cans?)\b", re.I)
_CAN_OUNCES = {"1": 11.0, "300": 15.0, "303": 16.0, "2": 20.0, "2.5": 29.0, "10": 105.0}
_WORTH = re.compile(r"^(\d[\d./ -]*)[^\W\d]+['’]? worth of ", re.I)
_NO_OR = re.compile(r"^(?:no|none|zero) or (?:very )?(?=little |only )", re.I)
_SALT_AND_PEPPER = re.compile(r"\bs ?(?:&|\+|/|n|and) ?p\b", re.I)
_SLASHED_UNITS = re.compile(r"^(can|tin|bottle|jar|handful|bunch) ?/ ?(?:can|tin|bottle|jar|handful|bunch) of\b", re.I)


def plainer(text: str) -> str:
    """A line with ranges of pieces, choices of units, "no or little", "S&P" and numbered cans in plainer words."""
    text = _RANGE_OF_PIECES.sub(_as_range, text)
    text = _WORTH.sub(r"\1", text)
    text = _SALT_AND_PEPPER.sub("salt and pepper", text)
    text = _SLASHED_UNITS.sub(r"\1 of", _NO_OR.sub("", text))
    return _CAN_NUMBER.sub(_can_of_size, text) if "can" in text else text


def _as_range(found: re.Match[str]) -> str:
    """ "5/6 bayleaves" and "3 / 4 lemons" as the range that they are: nobody counts five sixths of a leaf."""
    low, high, noun = int(found[1]), int(found[3]), found["noun"]
    loose = low >= 4 or found["gap"] is not None
    return f"{low}-{high} {noun}" if high == low + 1 and loose and canonical_unit(noun) is None else found[0]


def _can_of_size(found: re.Match[str]) -> str:
    return f"({_CAN_OUNCES[found[1].replace(' 1/2', '.5')]:g}-ounce) {found[2]}"
