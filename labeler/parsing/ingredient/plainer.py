"""Amounts in a cook's shorthand put into the words that the reader of amounts knows, before a line is taken apart."""

from __future__ import annotations

import re

from labeler.parsing.units import canonical_unit
from labeler.text.deferred_pattern import pattern_when_used

__all__ = ["plainer"]

_RANGE_OF_PIECES = pattern_when_used(r"^([1-9])(?P<gap> )? ?/ ?([1-9]) (?P<noun>[^\W\d]+)")
# "1 No. 2 can": what cans of a number hold, in ounces of tomatoes and the like (from memory).
_CAN_NUMBER = pattern_when_used(r"(?:#|no\.? ?|number )(10|2 1/2|2\.5|2|300|303|1)(?: size)?[ -](cans?)\b", re.I)
_CAN_OUNCES = {"1": 11.0, "300": 15.0, "303": 16.0, "2": 20.0, "2.5": 29.0, "10": 105.0}
_WORTH = pattern_when_used(r"^(\d[\d./ -]*)[^\W\d]+['’]? worth of ", re.I)
_NO_OR = pattern_when_used(r"^(?:no|none|zero) or (?:very )?(?=little |only )", re.I)
_SALT_AND_PEPPER = pattern_when_used(r"\bs ?(?:&|\+|/|n|and) ?p\b", re.I)
_SLASHED_UNITS = pattern_when_used(
    r"^(can|tin|bottle|jar|handful|bunch) ?/ ?(?:can|tin|bottle|jar|handful|bunch) of\b", re.I
)

_TAKEN = r"(?:juice|zest|rind)"
_TAKEN_BEHIND = pattern_when_used(
    rf"^(?P<food>[^\d,;:()]{{2,40}}?)\s*(?:[,;:(]|\s-)\s*(?:the )?(?P<taken>{_TAKEN}(?: ?(?:and|&|\+) ?{_TAKEN})?) of "
    r"(?P<number>half|an?|one|two|three|four|\d[\d/ .-]*?)\s*\)?$",
    re.I,
)
_NUMBER_IN_BRACKETS = pattern_when_used(
    r"^(?P<food>[^\d,;:()]{2,40}?)\s*\(\s*(?P<number>\d[\d/ .-]*?)(?P<size>\s+(?:small|medium|large))?\s*"
    r"(?:,\s*(?P<rest>[^()\d]+))?\)\s*$",
    re.I,
)
_WITH_ITS_PEEL = pattern_when_used(r" (?:and|&|\+|plus) (?=(?:its|their) (?:zest|peel|rind|skin)\b)", re.I)
_STOP_AFTER_FIGURE = pattern_when_used(r"^(\d+)\.(?=\s+[^\W\d]{1,2}\b)")


def plainer(text: str) -> str:
    """A line with ranges, choices of units, "no or little", "S&P", numbered cans, amounts behind, in plainer words."""
    text = _STOP_AFTER_FIGURE.sub(r"\1", _RANGE_OF_PIECES.sub(_as_range, text))
    text = _WITH_ITS_PEEL.sub(", with ", text)  # "a lemon and its zest" is one lemon
    if " of " in text:
        text = _TAKEN_BEHIND.sub(_taken_first, text)
    if text.endswith(")"):
        text = _NUMBER_IN_BRACKETS.sub(_number_first, text)
    text = _WORTH.sub(r"\1", text)
    text = _SALT_AND_PEPPER.sub("salt and pepper", text)
    text = _SLASHED_UNITS.sub(r"\1 of", _NO_OR.sub("", text))
    return _CAN_NUMBER.sub(_can_of_size, text) if "can" in text else text


def _as_range(found: re.Match[str]) -> str:
    """ "5/6 bayleaves" and "3 / 4 lemons" as the range that they are: nobody counts five sixths of a leaf."""
    low, high, noun = int(found[1]), int(found[3]), found["noun"]
    loose = low >= 4 or found["gap"] is not None
    return f"{low}-{high} {noun}" if high == low + 1 and loose and canonical_unit(noun) is None else found[0]


def _taken_first(found: re.Match[str]) -> str:
    """ "lemon, juice of half" in the order of "juice of 1/2 lemon"."""
    number = "1/2" if found["number"].lower() == "half" else found["number"]
    return f"{found['taken']} of {number} {found['food']}"


def _number_first(found: re.Match[str]) -> str:
    """ "Onion (1 large, chopped)" in the order of "1 large onion, chopped"."""
    rest = f", {found['rest'].strip()}" if found["rest"] else ""
    return f"{found['number']}{found['size'] or ''} {found['food']}{rest}"


def _can_of_size(found: re.Match[str]) -> str:
    return f"({_CAN_OUNCES[found[1].replace(' 1/2', '.5')]:g}-ounce) {found[2]}"
