"""The head of an ingredient line: its amounts with their sizes, packages and second tellings.

"2 (28-ounce) cans", "one 4- to 5-pound chicken", "2 x 400g tins", "1 cup plus 2 tablespoons/290 grams",
"3 heaped tbsp", "Pinch of": what stands before the food.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.parsing.ingredient.amounts import ACROSS, Measures, read_measures
from labeler.parsing.ingredient.counted_unit import BEFORE_UNIT, NEXT_WORD, Ahead, look_ahead, note_passed
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.ingredient.equivalent_amounts import read_more
from labeler.parsing.line_words import CONTAINERS, FILLINGS, SHAPES, SIZE_OF
from labeler.parsing.model import Amount
from labeler.parsing.numbers import Quantity, read_quantity
from labeler.parsing.units import BARE, TRAILING, canonical_unit, kind
from labeler.text.deferred_pattern import pattern_when_used

__all__ = ["read_head", "read_unit_behind"]


_LOOSE = pattern_when_used(
    r"(?:(?:just )?an? (?:(?:little|tiny|teensy|teeny|wee|small|good) (?:bit|touch|lick|hint) of|little|bit of|bit|"
    r"lot of|(?:touch|hint|lick|whisper|suspicion|trace) of)|some|plenty of|lots of|"
    r"(?:an? |the )?(?:ample|small|large|generous) amounts? of|as much|enough|additional|"
    r"extra(?! ?-|.virgin| large| lean| sharp| firm| fine| light| dry)) ",
    re.I,
)
_WORD_JOINED = pattern_when_used(r" (?:one|two|three|four|five|six|seven|eight|nine|ten|twelve|half|quarter)-", re.I)
_BEFORE_UNIT = frozenset(["a", "an", "the", *FILLINGS, *SIZE_OF, *SHAPES])
_MOST_BEFORE_UNIT = 6
_NEVER_A_SIZE = frozenset(["cup", "tablespoon", "teaspoon", "pinch", "dash", "drop"])
_TIMES = pattern_when_used(r" ?[xX] ?(?=\d)")
_SLASH = pattern_when_used(r" ?[/|=] ?(?=[~\d.])")
# "2 fat or 3 smaller garlic cloves", "1 large or 2 small onions"
_OTHER_COUNT = pattern_when_used(r"((?: [a-z-]+){1,2}) or (\d[\d/ ]*)((?: [a-z-]+){1,2}?)(?= [a-z])", re.I)


def read_head(text: str, reading: LineDraft) -> int:
    """Read the amounts at the head of a line into `reading`; returns where the rest begins, 0 where there are none."""
    loose = _LOOSE.match(text)
    if loose is not None and not text[0].isdigit():
        reading.notes.append(loose[0].strip())
        reading.to_taste = True
        return loose.end()
    quantity = read_quantity(text)
    if quantity is None:
        return _read_bare_unit(text, reading)
    end = quantity.end
    if text[end : end + 1] not in ("", " ", "-", "(", "/", ",", ".", "x", "X", '"', ":", ";", ")", "|") and not (
        text[end].isalpha()
    ):
        return 0
    each, at = _read_each(text, end)
    ahead = look_ahead(text, at)
    if not each and ahead.unit is None:
        # "1 small (14.5 ounce) can", "4 large 1/2-inch-thick slices", "2 large (8-ounce) chicken breasts"
        word = NEXT_WORD.match(text, end)
        while word is not None and not each and word[1].lower() in BEFORE_UNIT:
            each, at = _read_each(text, word.end())
            if each:
                ahead = look_ahead(text, at)
                ahead.passed[:0] = text[end : word.end()].lower().split()
                if ahead.unit is None:
                    _keep_words(ahead.passed, reading)
            word = NEXT_WORD.match(text, word.end())
    unit = ahead.unit
    if unit is None:
        if not each and (text[end : end + 1] == "-" or text[end : end + 1].isalpha()):
            return 0  # "5-spice powder", "7up"
        if each and each[0].unit in _NEVER_A_SIZE and text.startswith(" ", end) and text[end + 1 : end + 2].isdigit():
            reading.problem(
                "amount-twice",
                f"“{text[:at].strip()}” gives two numbers for one amount; it is read as the first times the second. "
                "Write the one that goes in.",
            )
        reading.amounts += [Amount(quantity.low, quantity.high, None, "main", quantity.about), *each]
        return read_more(text, _other_count(text, at if each else end, reading), reading)
    if not each and kind(unit.name) != "count":
        sized = _read_sized_piece(text, quantity, ahead, reading)
        if sized is not None:
            return read_more(text, sized, reading)
    about, filling = note_passed(ahead, reading)
    if each and kind(unit.name) != "count":
        each[0] = replace(each[0], role="same")  # "4.5 (650 g) cups flour"
    filling = filling or quantity.filling
    main = Amount(quantity.low, quantity.high, unit.name, "main", quantity.about or about, filling)
    reading.amounts += [main, *each]
    return read_more(text, unit.end, reading)


def _keep_words(words: list[str], reading: LineDraft) -> None:
    for word in words:
        if word in SIZE_OF:
            reading.size = reading.size or SIZE_OF[word]
        elif word not in SIZE_OF:
            reading.prefix.append(word)


def _other_count(text: str, at: int, reading: LineDraft) -> int:
    """Of "1 large or 2 small onions" keep the first count and note the other; returns where the food begins."""
    other = _OTHER_COUNT.match(text, at)
    if other is None or not all(word.lower() in BEFORE_UNIT or word.lower() in ("smaller", "larger", "bigger")
                                for word in (other[1] + other[3]).split()):  # fmt: skip
        return at
    _keep_words(other[1].lower().split(), reading)
    reading.notes.append(f"or {other[2]}{other[3]}")
    return other.end()


def _read_each(text: str, at: int) -> tuple[list[Amount], int]:
    """The size of one piece that stands between a count and its unit: "(14.5 oz)", "15-ounce", "x 400g"."""
    times = _TIMES.match(text, at)
    if times is not None:
        inner = read_measures(text, times.end(), role="each")
        if inner is not None and kind(inner.amounts[0].unit) in ("mass", "volume"):
            return list(inner.amounts), inner.end
    elif text.startswith(" (", at) or text.startswith("(", at):
        opening = text.index("(", at)
        closing = text.find(")", opening)
        inner = read_measures(text, opening + 1, role="each") if closing > 0 else None
        if (
            inner is not None
            and text[inner.end : closing].strip(" .-") == ""
            and (kind(inner.amounts[0].unit) != "count")
        ):
            return list(inner.amounts), closing + 1
    elif text.startswith(" ", at) and (text[at + 1 : at + 2].isdigit() or _WORD_JOINED.match(text, at)):
        inner = read_measures(text, at + 1, role="each")
        if inner is not None and kind(inner.amounts[0].unit) != "count":
            return list(inner.amounts), inner.end
    return [], at


def _read_sized_piece(text: str, quantity: Quantity, ahead: Ahead, reading: LineDraft) -> int | None:
    """A measure that is the size of a piece: "15-ounce can", "400g tin", "1-inch piece", "2-15 ounce cans".

    Returns where the food begins, or None where the measure is the amount itself ("400 g beans").
    """
    unit = ahead.unit
    if unit is None or ahead.passed or unit.name in _NEVER_A_SIZE:
        return None
    joined = text[quantity.end : quantity.end + 1] == "-" or unit.joined
    measures = _chain(text, unit.end, Amount(quantity.low, quantity.high, unit.name, "each", quantity.about))
    end = measures.end
    piece = look_ahead(text, end)
    what = kind(unit.name)
    if piece.unit is not None and kind(piece.unit.name) == "count":
        word = text[: piece.unit.end].rsplit(" ", 1)[-1].rstrip(".")
        plural = word.endswith("s")
        contained = piece.unit.name in CONTAINERS
        if not (
            contained or what == "length" or (what == "mass" and (joined or text.startswith(" of ", piece.unit.end)))
        ):
            return None
        if what == "mass" and not joined and not contained:
            # "15 ounce block of tofu": the weight is the amount, the block is what it looks like.
            if plural:
                return None
            reading.amounts += [replace(measures.amounts[0], role="main"), *measures.amounts[1:]]
            reading.amounts.append(Amount(1.0, 1.0, piece.unit.name, "same"))
            return piece.unit.end
        counted = (1.0, 1.0)
        first = measures.amounts[0]
        if contained and quantity.dashed and (plural or quantity.low == 1) and quantity.low <= 12:
            counted = (quantity.low, quantity.low)  # "2-15 ounce cans"
            first = replace(first, low=quantity.high)
        elif what == "length" and plural and quantity.mixed is not None and quantity.mixed[0] > 1:
            # "2 1/2-inch slices" are two, half an inch thick; "2 to 4 1/2-inch slices" two to four
            counted = (quantity.mixed[0] if quantity.low == quantity.high else quantity.low, quantity.mixed[0])
            first = replace(first, low=quantity.mixed[1], high=quantity.mixed[1])
        about, filling = note_passed(piece, reading)
        reading.amounts += [Amount(*counted, piece.unit.name, "main", about, filling), first, *measures.amounts[1:]]
        return piece.unit.end
    across = ACROSS.match(text, end) if what == "length" else None
    if across is not None:
        # "1-inch-thick steak" is one; "4 1/4 inch thick steaks" are four
        counted, first = (1.0, 1.0), measures.amounts[0]
        if quantity.mixed is not None and quantity.mixed[0] > 1:
            counted = (quantity.mixed[0], quantity.mixed[0])
            first = replace(first, low=quantity.mixed[1], high=quantity.mixed[1])
        reading.amounts += [Amount(*counted, None, "main"), first, *measures.amounts[1:]]
        return across.end()
    if joined and what == "mass" and not text[:end].endswith("s"):
        reading.amounts += [Amount(1.0, 1.0, None, "main"), *measures.amounts]  # "5-pound chicken"
        return end
    return None


def _chain(text: str, at: int, first: Amount) -> Measures:
    """`first` with the amounts that follow it behind slashes ("15-ounce/425-gram can")."""
    found = [first]
    slash = _SLASH.match(text, at)
    while slash is not None:
        more = read_measures(text, slash.end())
        if more is None:
            break
        found += more.amounts
        at = more.end
        slash = _SLASH.match(text, at)
    return Measures(tuple(found), at)


def read_unit_behind(text: str, reading: LineDraft) -> str:
    """The food of a line that ends in a unit with no number, which is one of it: "Butter big knob"; else empty.

    Only where cooks use the unit without a number ("a pinch"), or where it is one of that food ("garlic bulb").
    """
    words = text.replace(",", " ").split()
    unit = canonical_unit(words[-1]) if 1 < len(words) <= _MOST_BEFORE_UNIT else None
    if unit is None or any(map(str.isdigit, text)) or "(" in text or words[-1].endswith("s"):
        return ""
    del words[-1]
    while len(words) > 1 and words[-1].lower() in _BEFORE_UNIT:
        del words[-1]
    if unit not in BARE and words[-1].lower() not in TRAILING.get(unit, ()):
        return ""
    reading.amounts.append(Amount(1.0, 1.0, unit, "main", True))
    return " ".join(words)


def _read_bare_unit(text: str, reading: LineDraft) -> int:
    """A unit with no number, which is one of it: "Pinch of salt", "Strip of orange peel"; 0 where there is none."""
    ahead = look_ahead(f" {text}", 0)
    unit = ahead.unit
    if unit is None:
        return 0
    end = unit.end - 1
    word = text[:end].rsplit(" ", 1)[-1].lower()
    if (word.endswith("s") and word != unit.name) or not text.startswith(" ", end):
        return 0
    filled = any(word in FILLINGS for word in ahead.passed)
    if unit.name not in BARE and not filled and not text.startswith(" of ", end):
        return 0
    about, filling = note_passed(ahead, reading)
    reading.amounts.append(Amount(1.0, 1.0, unit.name, "main", about, filling))
    return read_more(text, end, reading)
