"""What follows the main amount and speaks of it: "1 cup plus 2 tablespoons/290 grams", "250 g (9 oz)", "1 lb 2 oz".

Each step below looks for one way of saying so at a position and answers where it ended, or None.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.parsing.ingredient.amounts import amounts_agree, in_unit, read_measures
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.ingredient.name import is_preparation
from labeler.parsing.line_words import CONTAINERS, FILLING_OF, FILLINGS, PACKINGS
from labeler.parsing.model import Amount
from labeler.parsing.units import kind

__all__ = ["read_more", "say_again", "take_parenthesis"]

# Nothing that follows the amount speaks of it unless it begins so.
_SPEAKS_ON = re.compile(r",? ?(?:[/|=(+&-]|\d|(?:plus|and|less|minus|or|to) )", re.I)
_PLUS = re.compile(r"(?:,? (?:plus|and)|,? ?[+&]) (?!more\b)", re.I)
_LESS = re.compile(r",? (?:less|minus) ", re.I)
_OR = re.compile(r",? or (?=[\d.~a-])", re.I)
_SLASH = re.compile(r" ?[/|=] ?(?=[~\d.])")
_TO = re.compile(r" ?(?:-|to) (?=\d)|-(?=\d)", re.I)
_BESIDE = re.compile(r",? (?=\d)")
_OPENING = re.compile(
    r"(?:(?:from|use|or|equals?|=|i\.e\.,?|which is|weighing|total|(?:each|apiece)(?: one)?)(?: of| weighing)?:? ?)"
    r"(?=\d|about|approx|~)",
    re.I,
)
_SPLIT = re.compile(r"^(?:or|and|to|[-–]|=|;|,|/|about|~)\s*", re.I)
_REACHES = re.compile(r"(?:to\b|[-–])", re.I)


def read_more(text: str, at: int, reading: LineDraft) -> int:
    """What follows the main amount and speaks of it: the same again, what is added, what is taken off."""
    while _SPEAKS_ON.match(text, at) is not None:
        for step in (_again, _in_parenthesis, _added, _taken_off, _or_restated, _up_to, _beside):
            end = step(text, at, reading)
            if end is not None:
                at = end
                break
        else:
            break
    return at


def _again(text: str, at: int, reading: LineDraft) -> int | None:
    """The amount in other units behind a slash: "250 g/9 oz"."""
    slash = _SLASH.match(text, at)
    measures = read_measures(text, slash.end()) if slash is not None else None
    if measures is None:
        return None
    reading.amounts += measures.amounts
    return measures.end


def _in_parenthesis(text: str, at: int, reading: LineDraft) -> int | None:
    """The amount in other units in parentheses: "1 cup (240 ml)"."""
    if not text.startswith((" (", "("), at) or reading.amounts[0].unit is None:
        return None
    opening = text.index("(", at)
    closing = text.find(")", opening)
    inside = text[opening + 1 : closing] if closing > 0 else text[opening + 1 :]
    word = inside.strip().lower()
    if word in FILLINGS:
        reading.amounts[0] = replace(reading.amounts[0], about=True, filling=FILLING_OF.get(word, ""))
    elif word in PACKINGS:
        reading.preparations.append(word)
    elif not take_parenthesis(inside, reading):
        return None
    return closing + 1 if closing > 0 else len(text)


def _added(text: str, at: int, reading: LineDraft) -> int | None:
    """What is added, and the sum behind a slash: "1 cup plus 2 tablespoons/290 g"."""
    plus = _PLUS.match(text, at)
    measures = read_measures(text, plus.end(), role="plus") if plus is not None else None
    main = reading.amounts[0]
    if plus is None or measures is None or main.unit is None:
        return None
    first = measures.amounts[0]
    what = kind(first.unit)
    if what not in ("mass", "volume") or not (what == kind(main.unit) or (main.unit == "stick" and what == "volume")):
        return None
    reading.amounts += [replace(first, role="plus"), *measures.amounts[1:]]
    return measures.end


def _taken_off(text: str, at: int, reading: LineDraft) -> int | None:
    """What is taken off, which lowers the main amount: "1 cup less 2 tablespoons"."""
    less = _LESS.match(text, at)
    measures = read_measures(text, less.end()) if less is not None else None
    main = reading.amounts[0]
    if measures is None or main.unit is None or len(reading.amounts) != 1:
        return None
    off = in_unit(measures.amounts[0], main.unit)
    if off is None or off.high >= main.low:
        return None
    reading.amounts[0] = replace(main, low=main.low - off.low, high=main.high - off.high)
    return measures.end


def _or_restated(text: str, at: int, reading: LineDraft) -> int | None:
    """The amount said otherwise ("1 stick or 8 tablespoons"), or the end of a range ("1 cup or 2 cups")."""
    either = _OR.match(text, at)
    measures = read_measures(text, either.end()) if either is not None else None
    main = reading.amounts[0]
    if measures is None or main.unit is None:
        return None
    first = measures.amounts[0]
    following = text[measures.end : measures.end + 1]
    if first.unit == main.unit:
        if following == "," or first.high < main.low:
            return None
        reading.amounts[0] = replace(main, high=first.high)
    elif kind(first.unit) == "length" or (kind(first.unit) == kind(main.unit) and not amounts_agree([main], [first])):
        return None
    else:
        reading.amounts += measures.amounts
    return measures.end


def _up_to(text: str, at: int, reading: LineDraft) -> int | None:
    """The end of a range with a unit of its own: "1 cup to 1 1/2 cups", "250g-300g"."""
    to = _TO.match(text, at)
    measures = read_measures(text, to.end()) if to is not None else None
    main = reading.amounts[0]
    if measures is None or main.unit is None or len(reading.amounts) != 1:
        return None
    upper = measures.amounts[0] if measures.amounts[0].unit == main.unit else in_unit(measures.amounts[0], main.unit)
    if upper is None or upper.high < main.low:
        return None
    reading.amounts[0] = replace(main, high=upper.high)
    reading.amounts += measures.amounts[1:]
    return measures.end


def _beside(text: str, at: int, reading: LineDraft) -> int | None:
    """A smaller unit beside the larger, which is added: "1 lb 2 oz"."""
    beside = _BESIDE.match(text, at)
    measures = read_measures(text, beside.end(), role="plus") if beside is not None else None
    main = reading.amounts[0]
    if measures is None or main.unit is None or kind(measures.amounts[0].unit) != kind(main.unit):
        return None
    one, other = in_unit(Amount(1, 1, main.unit), "gram" if kind(main.unit) == "mass" else "milliliter"), None
    if one is not None:
        other = in_unit(measures.amounts[0], main.unit)
    if other is None or other.high >= 1:
        return None
    reading.amounts += measures.amounts
    return measures.end


def take_parenthesis(inside: str, reading: LineDraft) -> bool:
    """Take over a parenthesis that is wholly made of amounts; False, with nothing taken, where it is not."""
    inside = inside.strip(" ?")
    opening = _OPENING.match(inside)
    if opening is not None and opening[0].lower().startswith(("from", "or ")):
        return False
    inside = inside[opening.end() :] if opening is not None else inside
    role = "each" if opening is not None and "each" in opening[0].lower() else "same"
    found: list[Amount] = []
    reaches = False
    while True:
        measures = read_measures(inside, 0, role=role)
        if measures is None:
            return False
        ranged = reaches and found and found[-1].unit == measures.amounts[0].unit
        if ranged and found[-1].low <= measures.amounts[0].high:
            found[-1] = replace(found[-1], high=measures.amounts[0].high)  # "283 g to 397 g"
        else:
            found += measures.amounts
        inside = inside[measures.end :].strip(" .,;")
        if not inside:
            break
        if is_preparation(inside) and not any(character.isdigit() for character in inside):
            if reading.amounts and kind(found[0].unit) == kind(reading.amounts[0].unit):
                return False  # "2 tablespoons lentils (1/4 cup soaked)": two states, each with its measure
            reading.preparations.append(inside)  # "1 onion (about 1 cup chopped)"
            break
        reaches = _REACHES.match(inside) is not None
        inside = _SPLIT.sub("", inside)
    if found[-1].role == "each":
        found = [replace(amount, role="each") for amount in found]  # "about 12 ounces; 340 g each"
    if any(kind(amount.unit) == "length" for amount in found):
        # "1 piece (2 inches) ginger": a length is the size of one piece, and no second telling of anything else.
        counted = reading.amounts and kind(reading.amounts[0].unit) == "count" and len(found) == 1
        if not counted or any(amount.role == "each" for amount in reading.amounts):
            return False
        found = [replace(found[0], role="each")]
    say_again(found, reading)
    return True


def say_again(amounts: list[Amount], reading: LineDraft) -> None:
    """Add amounts that repeat the main one; behind a container the first of them is its size."""
    main = reading.amounts[0] if reading.amounts else None
    sized = any(amount.role == "each" for amount in reading.amounts)
    for at, amount in enumerate(amounts):
        holds = main is not None and main.unit in CONTAINERS and not sized and at == 0
        if holds and amount.role == "same" and kind(amount.unit) in ("mass", "volume"):
            amount = replace(amount, role="each")
        reading.amounts.append(amount)
