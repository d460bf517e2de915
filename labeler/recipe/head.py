"""The head of an ingredient line: its amounts with their sizes, packages and second tellings.

"2 (28-ounce) cans", "one 4- to 5-pound chicken", "2 x 400g tins", "1 cup plus 2 tablespoons/290 grams",
"3 heaped tbsp", "Pinch of": what stands before the food.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from labeler.knowledge import Problem
from labeler.recipe.amounts import Measures, Unit, amounts_agree, in_unit, read_measures, read_unit
from labeler.recipe.model import Amount
from labeler.recipe.naming import is_preparation
from labeler.recipe.numbers import Quantity, read_quantity
from labeler.recipe.units import BARE, kind
from labeler.recipe.words import ADJECTIVES, CONTAINERS, SIZES

__all__ = ["Reading", "read_head", "say_again", "take_parenthesis"]


@dataclass
class Reading:
    """What has been made out of a line so far; `prefix` holds words of the name that stand before the unit."""

    number: int
    amounts: list[Amount] = field(default_factory=list)
    preparations: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    prefix: list[str] = field(default_factory=list)
    alternatives: list[str] = field(default_factory=list)
    size: str | None = None
    optional: bool = False
    to_taste: bool = False
    derived: str | None = None

    def problem(self, code: str, message: str) -> None:
        """Report a problem on this line."""
        self.problems.append(Problem(code, message, self.number))


# Words before a unit that say how full it is: what they leave as preparation, and whether they make it loose.
_FILLING = {
    "heaping": ("", True), "heaped": ("", True), "scant": ("", True), "generous": ("", True), "rounded": ("", True),
    "good": ("", True), "overflowing": ("", True), "brimming": ("", True), "loose": ("loose", True),
    "level": ("level", False), "full": ("", False), "packed": ("packed", False), "firmly": ("firmly", False),
    "loosely": ("loosely", False), "lightly": ("lightly", False), "tightly": ("tightly", False),
    "well-packed": ("well packed", False), "firmly-packed": ("firmly packed", False),
    "loosely-packed": ("loosely packed", False), "lightly-packed": ("lightly packed", False),
    "slightly": ("slightly", False), "very": ("", False), "well": ("well", False), "thick": ("thick", False),
    "thin": ("thin", False), "long": ("", False), "short": ("", False), "fat": ("", False), "plump": ("", False),
    "nice": ("", False), "decent": ("", False), "broad": ("", False), "wide": ("", False), "square": ("", False),
    "overfilled": ("", True), "round": ("", False), "leafy": ("", False), "whole": ("", False), "light": ("", False), "more": ("", False),
}  # fmt: skip
_BEFORE_UNIT = ADJECTIVES | SIZES | frozenset(_FILLING)
_SIZE_OF = {"small": "small", "medium": "medium", "large": "large", "extra-large": "extra large", "big": "large",
            "medium-size": "medium", "medium-sized": "medium", "good-size": "large", "good-sized": "large",
            "large-size": "large", "small-size": "small", "large-sized": "large", "small-sized": "small",
            "tiny": "small", "little": "small", "huge": "extra large", "xl": "extra large",
            "smallish": "small", "largish": "large"}  # fmt: skip
_LIKENED = re.compile(r" ([a-z0-9]+-(?:sized?|finger|length)|extra large)\b", re.I)
_NEXT_WORD = re.compile(r" ([A-Za-z]+(?:-[A-Za-z]+)*)")
# "1 strip steak", "2 cube steaks", "2 square slices": here the unit word is no unit.
_NOT_A_UNIT_BEFORE = frozenset("steak steaks roast roasts eye eyes slice slices piece pieces".split(" "))
_NEEDS_OF = frozenset(["round", "rounds", "pot", "pots", "log", "leaf"])
_RIB_FOODS = frozenset(["celery", "chard", "fennel", "rhubarb", "romaine"])
_LOOSE = re.compile(
    r"(?:(?:just )?an? (?:(?:little|tiny) bit of|little|bit of|bit|lot of|touch of)|some|plenty of|lots of|"
    r"enough|additional|extra(?! ?-|.virgin| large| lean| sharp| firm| fine| light| dry)) ",
    re.I,
)
_TIMES = re.compile(r" ?[xX] ?(?=\d)")
_PLUS = re.compile(r"(?:,? (?:plus|and)|,? ?[+&]) (?!more\b)", re.I)
_LESS = re.compile(r",? (?:less|minus) ", re.I)
_OR = re.compile(r",? or (?=[\d.~a-])", re.I)
_SLASH = re.compile(r" ?[/|=] ?(?=[~\d.])")
_TO = re.compile(r" ?(?:-|to) (?=\d)|-(?=\d)", re.I)
_BESIDE = re.compile(r",? (?=\d)")
_SPLIT = re.compile(r"^(?:or|and|to|=|;|,|/|about|~)\s*", re.I)
# "2 fat or 3 smaller garlic cloves", "1 large or 2 small onions"
_OTHER_COUNT = re.compile(r"((?: [a-z-]+){1,2}) or (\d[\d/ ]*)((?: [a-z-]+){1,2}?)(?= [a-z])", re.I)


def _is_unit_here(text: str, unit: Unit) -> bool:
    """Whether the word that spells a unit is one here: "1 strip steak" has none."""
    if kind(unit.name) != "count":
        return True
    following = _NEXT_WORD.match(text, unit.end)
    if following is not None and following[1].lower() in _NOT_A_UNIT_BEFORE:
        return False
    word = text[: unit.end].rsplit(" ", 1)[-1].lower()
    return not (word in _NEEDS_OF and not text.startswith(" of ", unit.end))


def _stalk(text: str, unit: Unit) -> Unit | None:
    """A rib is a stalk of celery and the like, and no unit of anything else ("8 short ribs")."""
    if unit.name != "rib":
        return unit
    rest = text[unit.end :].lower().replace(",", " ").split()[:4]
    return unit._replace(name="stalk") if any(word in _RIB_FOODS for word in rest) else None


class _Ahead:
    """A unit ahead of a position, and the words that were passed over to reach it."""

    __slots__ = ("passed", "unit")

    def __init__(self, unit: Unit | None, passed: list[str]) -> None:
        self.unit = unit
        self.passed = passed


def _look_ahead(text: str, at: int) -> _Ahead:
    """The unit at `at`, with at most four words of size or filling before it."""
    passed: list[str] = []
    while True:
        unit = read_unit(text, at)
        if unit is not None and _is_unit_here(text, unit):
            unit = _stalk(text, unit)
            return _Ahead(unit, passed if unit is not None else [])
        if len(passed) == 4:
            return _Ahead(None, [])
        word = _NEXT_WORD.match(text, at)
        if word is not None and (lowered := word[1].lower()) in _BEFORE_UNIT:
            end = word.end()
        else:
            likened = _LIKENED.match(text, at)
            if likened is None:
                return _Ahead(None, [])
            lowered, end = likened[1].lower().replace(" ", "-"), likened.end()
        passed.append(lowered)
        at = end
        if text.startswith((",", " or ", " to ", " and "), at):
            if not text.startswith((" to ", " or "), at):
                return _Ahead(None, [])
            other = _NEXT_WORD.match(text, at + 3)
            if other is None or other[1].lower() not in SIZES:
                return _Ahead(None, [])
            at = other.end()


def _note_passed(ahead: _Ahead, reading: Reading) -> bool:
    """Put away the words that stood before a unit; returns whether they make the amount loose."""
    if ahead.unit is None:
        return False
    counted = kind(ahead.unit.name) == "count"
    loose = False
    packed = []
    for word in ahead.passed:
        if word in _FILLING:
            says, makes_loose = _FILLING[word]
            loose = loose or makes_loose
            if says:
                packed.append(says)
        elif word in _SIZE_OF:
            if counted:
                reading.size = reading.size or _SIZE_OF[word]
            else:
                loose = True
        elif "-" in word and word.endswith(("size", "sized", "finger", "length")):
            reading.notes.append(word)
        elif word not in SIZES:
            reading.prefix.append(word)
    if packed:
        reading.preparations.append(" ".join(packed))
    return loose


def read_head(text: str, reading: Reading) -> int:
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
    ahead = _look_ahead(text, at)
    if not each and ahead.unit is None:
        # "1 small (14.5 ounce) can", "4 large 1/2-inch-thick slices", "2 large (8-ounce) chicken breasts"
        word = _NEXT_WORD.match(text, end)
        while word is not None and not each and word[1].lower() in _BEFORE_UNIT:
            each, at = _read_each(text, word.end())
            if each:
                ahead = _look_ahead(text, at)
                ahead.passed[:0] = text[end : word.end()].lower().split()
                if ahead.unit is None:
                    _keep_words(ahead.passed, reading)
            word = _NEXT_WORD.match(text, word.end())
    unit = ahead.unit
    if unit is None:
        if not each and (text[end : end + 1] == "-" or text[end : end + 1].isalpha()):
            return 0  # "5-spice powder", "7up"
        reading.amounts += [Amount(quantity.low, quantity.high, None, "main", quantity.about), *each]
        return _read_more(text, _other_count(text, at if each else end, reading), reading)
    if not each and kind(unit.name) != "count":
        sized = _read_sized_piece(text, quantity, ahead, reading)
        if sized is not None:
            return _read_more(text, sized, reading)
    about = _note_passed(ahead, reading)
    if each and kind(unit.name) != "count":
        each[0] = replace(each[0], role="same")  # "4.5 (650 g) cups flour"
    reading.amounts += [Amount(quantity.low, quantity.high, unit.name, "main", quantity.about or about), *each]
    return _read_more(text, unit.end, reading)


def _keep_words(words: list[str], reading: Reading) -> None:
    for word in words:
        if word in _SIZE_OF:
            reading.size = reading.size or _SIZE_OF[word]
        elif word not in SIZES:
            reading.prefix.append(word)


def _other_count(text: str, at: int, reading: Reading) -> int:
    """ "1 large or 2 small onions": keep the first count, note the other; returns where the food begins."""
    other = _OTHER_COUNT.match(text, at)
    if other is None or not all(word.lower() in _BEFORE_UNIT or word.lower() in ("smaller", "larger", "bigger")
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
    elif text.startswith(" ", at):
        start = at + 1
        inner = read_measures(text, start, role="each")
        if inner is not None and kind(inner.amounts[0].unit) != "count":
            wordy = not text[start].isdigit()
            if not wordy or ("-" in text[start : inner.end] and read_quantity(text, start) is not None):
                return list(inner.amounts), inner.end
    return [], at


def _read_sized_piece(text: str, quantity: Quantity, ahead: _Ahead, reading: Reading) -> int | None:
    """ "15-ounce can", "400g tin", "1-inch piece", "2-15 ounce cans": a measure that is the size of a piece.

    Returns where the food begins, or None where the measure is the amount itself ("400 g beans").
    """
    unit = ahead.unit
    if unit is None or ahead.passed:
        return None
    joined = text[quantity.end : quantity.end + 1] == "-" or unit.joined
    measures = _chain(text, unit.end, Amount(quantity.low, quantity.high, unit.name, "each", quantity.about))
    end = measures.end
    piece = _look_ahead(text, end)
    what = kind(unit.name)
    if piece.unit is not None and kind(piece.unit.name) == "count":
        word = text[: piece.unit.end].rsplit(" ", 1)[-1].rstrip(".")
        plural = word.endswith("s")
        contained = piece.unit.name in CONTAINERS and unit.name not in ("cup", "tablespoon", "teaspoon")
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
        about = _note_passed(piece, reading)
        reading.amounts += [Amount(*counted, piece.unit.name, "main", about), first, *measures.amounts[1:]]
        return piece.unit.end
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


def _read_bare_unit(text: str, reading: Reading) -> int:
    """ "Pinch of salt", "Large handful of basil", "Strip of orange peel": a unit with no number is one of it, or 0."""
    ahead = _look_ahead(f" {text}", 0)
    unit = ahead.unit
    if unit is None:
        return 0
    end = unit.end - 1
    word = text[:end].rsplit(" ", 1)[-1].lower()
    if (word.endswith("s") and word != unit.name) or not text.startswith(" ", end):
        return 0
    filled = any(word in _FILLING and _FILLING[word][1] for word in ahead.passed)
    if unit.name not in BARE and not filled and not text.startswith(" of ", end):
        return 0
    about = _note_passed(ahead, reading)
    reading.amounts.append(Amount(1.0, 1.0, unit.name, "main", about))
    return _read_more(text, end, reading)


def _read_more(text: str, at: int, reading: Reading) -> int:
    """What follows the main amount and speaks of it: the same again, what is added, what is taken off."""
    while at < len(text) and text[at] in " (,/|=+-&":
        for step in (_again, _in_parenthesis, _added, _taken_off, _or_said, _up_to, _beside):
            end = step(text, at, reading)
            if end is not None:
                at = end
                break
        else:
            break
    return at


def _again(text: str, at: int, reading: Reading) -> int | None:
    """ "250 g/9 oz"."""
    slash = _SLASH.match(text, at)
    measures = read_measures(text, slash.end()) if slash is not None else None
    if measures is None:
        return None
    reading.amounts += measures.amounts
    return measures.end


def _in_parenthesis(text: str, at: int, reading: Reading) -> int | None:
    """ "1 cup (240 ml)"."""
    if not text.startswith((" (", "("), at) or reading.amounts[0].unit is None:
        return None
    opening = text.index("(", at)
    closing = text.find(")", opening)
    inside = text[opening + 1 : closing] if closing > 0 else text[opening + 1 :]
    if inside.strip().lower() in _FILLING:
        if _FILLING[inside.strip().lower()][1]:
            reading.amounts[0] = replace(reading.amounts[0], about=True)
        else:
            reading.preparations.append(inside.strip())
    elif not take_parenthesis(inside, reading):
        return None
    return closing + 1 if closing > 0 else len(text)


def _added(text: str, at: int, reading: Reading) -> int | None:
    """ "1 cup plus 2 tablespoons", with what the sum is behind a slash."""
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


def _taken_off(text: str, at: int, reading: Reading) -> int | None:
    """ "1 cup less 2 tablespoons": the main amount is lowered."""
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


def _or_said(text: str, at: int, reading: Reading) -> int | None:
    """ "1 stick or 8 tablespoons" says the same again, "1 tablespoon or 2 tablespoons" is a range."""
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


def _up_to(text: str, at: int, reading: Reading) -> int | None:
    """ "1 cup to 1 1/2 cups", "250g-300g": the main amount reaches up."""
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


def _beside(text: str, at: int, reading: Reading) -> int | None:
    """ "1 lb 2 oz": the smaller unit beside the larger is added."""
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


def take_parenthesis(inside: str, reading: Reading) -> bool:
    """Take over a parenthesis that is wholly made of amounts; False, with nothing taken, where it is not."""
    inside = inside.strip()
    if text_first := re.match(r"(?:from|use|or|equals?|=|i\.e\.,?|which is|weighing|total) (?=\d|about)", inside, re.I):
        if text_first[0].lower().startswith(("from", "or ")):
            return False
        inside = inside[text_first.end() :]
    found: list[Amount] = []
    while True:
        measures = read_measures(inside, 0)
        if measures is None:
            return False
        found += measures.amounts
        inside = inside[measures.end :].strip(" .,;")
        if not inside:
            break
        if is_preparation(inside) and not any(character.isdigit() for character in inside):
            reading.preparations.append(inside)  # "(about 1 cup chopped)"
            break
        inside = _SPLIT.sub("", inside)
    if any(kind(amount.unit) == "length" for amount in found):
        # "1 piece (2 inches) ginger": a length is the size of one piece, and no second telling of anything else.
        counted = reading.amounts and kind(reading.amounts[0].unit) == "count" and len(found) == 1
        if not counted or any(amount.role == "each" for amount in reading.amounts):
            return False
        found = [replace(found[0], role="each")]
    say_again(found, reading)
    return True


def say_again(amounts: list[Amount], reading: Reading) -> None:
    """Add amounts that repeat the main one; behind a container the first of them is its size."""
    main = reading.amounts[0] if reading.amounts else None
    sized = any(amount.role == "each" for amount in reading.amounts)
    for at, amount in enumerate(amounts):
        holds = main is not None and main.unit in CONTAINERS and not sized and at == 0
        if holds and amount.role == "same" and kind(amount.unit) in ("mass", "volume"):
            amount = replace(amount, role="each")
        reading.amounts.append(amount)
