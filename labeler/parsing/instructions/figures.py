"""The figures of a handling clause: how long, how hot, how much is left, how many pieces.

Each figure is found where it stands, with the words around it that say what it is: "135 °F in the middle" is the heat
of the food and "375 °F" of the oven; "by a third" and "to a third" are not the same. Spoken times ("overnight") are
intervals: their bounds are common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import NamedTuple

from labeler.data_files import data_rows
from labeler.parsing.ingredient.amounts import Unit, read_unit
from labeler.parsing.instructions.grammar import DATA, grammar
from labeler.parsing.instructions.lexicon import nearest_word
from labeler.parsing.instructions.shares import share_left
from labeler.parsing.numbers import Quantity, read_quantity
from labeler.parsing.units import grams_per, kind, millilitres_per
from labeler.text.plurals import singular
from labeler.types import Interval

__all__ = ["FoundFigures", "find_quantities"]


@dataclass
class FoundFigures:
    """The figures of one clause, as `Instruction` explains them.

    `unexplained` are numbers that nothing says the sense of, each with the word behind it, or "". `impossible` are
    times and temperatures that no kitchen has; they are not used. `mended` are typos of a unit of time with the unit.
    """

    minutes: Interval | None = None
    celsius: Interval | None = None
    core: Interval | None = None
    grams: Interval | None = None
    millilitres: Interval | None = None
    share: Interval | None = None
    pieces: Interval | None = None
    piece: str = ""
    water: Interval | None = None
    salt: Interval | None = None
    unexplained: list[tuple[str, str]] = field(default_factory=list)
    impossible: list[str] = field(default_factory=list)
    mended: list[tuple[str, str]] = field(default_factory=list)


class _Amount(NamedTuple):
    """One weight or volume of a clause, in grams or millilitres, with its unit's size and where it stands."""

    name: str
    value: Interval
    factor: float
    at: int
    end: int


_MINUTES = {
    word: float(row["minutes"])
    for row in data_rows(DATA / "time_units.csv")
    for word in (row["unit"], *filter(None, row["short"].split("|")))
}
_TIME_UNIT = re.compile(
    r"\s*-?\s*(?:more |further |additional |extra |full |whole )?"
    r"(?P<unit>seconds?|secs?|s|minutes?|mins?|m|hours?|hrs?|h|days?|nights?|weeks?|wks?|months?)\b(?!\s*²)"
    r"(?P<more>\s+more|\s+longer)?(?P<side>\s*,?\s*(?:on )?(?:a|per|each|either|every|both)\s+sides?)?",
    re.IGNORECASE,
)
_NO_TIME_BEFORE = re.compile(rf"\b(?:{'|'.join(sorted(grammar('no time before')))})\s+$", re.IGNORECASE)
_NO_TIME_BEHIND = re.compile(rf"\s+(?:{'|'.join(sorted(grammar('no time behind')))})\b", re.IGNORECASE)
_BEFORE_HEAT = re.compile(rf"\b(?:{'|'.join(sorted(grammar('before heat')))})\s+(?:about\s+)?$", re.IGNORECASE)
_SPELT_OUT = 3  # letters of the shortest unit of time that stands behind "a": "day"
# "1 hour 20": minutes behind an hour, where no unit follows.
_MINUTES_BEHIND = re.compile(
    r"(?: and)? ([1-5]\d)(?![\w.,/%°-])"
    r"(?! ?(?:min|m\b|s\b|sec|g\b|kg|ml|l\b|oz|lb|c\b|f\b|deg|°|or(?! so)|to|-))",
    re.IGNORECASE,
)
# "1 hr 20 mins": one time, whatever else stands behind it.
_HOURS_BEFORE = re.compile(r"\d\s*(?:hours?|hrs?|h)\s*(?:,|and|&)?\s*$", re.IGNORECASE)
# "For another 4": minutes, where no unit follows.
_ELIDED = re.compile(r"\bfor (?:another|a further)\s+$", re.IGNORECASE)
_CLOSES = re.compile(r"\s*(?:[,.;)]|$|and\b|until\b|or so\b)", re.IGNORECASE)
_SPOKEN_TIMES = tuple(
    (re.compile(rf"\b(?:{row['words']})\b", re.IGNORECASE), tuple(float(one) for one in row["minutes"].split("|")))
    for row in data_rows(DATA / "spoken_times.csv")
)
_CLOCK_TIME = re.compile(
    r"(?<![\w.,:/])(\d{1,2})(?: ?h ?([0-5]\d)(?: ?min(?:ute)?s?)?|:([0-5]\d) ?(?:hours?|hrs?|h))\b(?!\S\w)"
)
"""Hours and minutes as a clock shows them: "1h30", "1:30 hours"."""
_DEGREES = re.compile(
    r"\s*(?:(?P<deg>°|º|˚|degrees?|deg)\s*(?P<scale1>[CF]\b|celsius|fahrenheit|centigrade)?|(?P<scale2>[CF])(?![\w'])|"
    r"(?P<scale3>celsius|fahrenheit|centigrade))(?P<fan>\s*\(?(?:fan|convection))?",
    re.IGNORECASE,
)
_SAME_HEAT = re.compile(r"\s*[/(,|=]+\s*(?:or\s+)?$")
_GAS = re.compile(r"\bgas(?: mark)?\s*(?P<mark>1/4|1/2|[1-9])(?![\d/])", re.IGNORECASE)
# Gas marks, British domestic ovens: mark 1 is 140 °C and each mark adds about 14 °C. Common practice, no source.
_GAS_CELSIUS = {"1/4": 110.0, "1/2": 120.0} | {str(mark): 125.0 + 13.9 * mark for mark in range(1, 10)}
_MIDDLE = re.compile(
    r"\b(?:in the (?:middle|cent(?:re|er)|thickest part|core)|inside|internal|core|at the bone|thermometer|probe)\b",
    re.IGNORECASE,
)
_TOWARDS = re.compile(
    r"\b(?:to|until(?: it)?(?: reaches| is| reads)?|reach(?:es|ing)?|reads?|registers?)\s+(?:about\s+)?$", re.IGNORECASE
)
_PER = re.compile(r"\b(?:per|each|every)\s+$", re.IGNORECASE)
_WORD_START = re.compile(r"(?<![\w.,/])(?=[\w.~])")
_FROM_TO = re.compile(r"\bfrom\s+", re.IGNORECASE)

# Least temperature that is written without a sign of degrees [°C]: a choice, no source.
_LEAST_HEAT = 25.0
_MAKES = re.compile(
    r"\b(?:makes?|made|making|into|yields?|cut into|divided? into|shap(?:e|ed|ing))\s+(?:about\s+)?$", re.IGNORECASE
)
# What is made: "12 (3 cm) crab cakes for lunch"; the last word before the phrase ends.
_NOUN = re.compile(
    r"\s*(?:\([^()]*\)\s*)?((?:(?!(?:of|for|in|with|from|to|or|and|about|each|apiece|per)\b)[^\W\d_][\w'-]*\s*)+)"
)
# Numbers that need no explaining: sizes, pages, times of day, "2 spoons", "in 3 batches", "1 side".
_HARMLESS = re.compile(
    r"\s*-?\s*(?:batch\w*|times?|layers?|sides?|spoons?|inch\w*|cm|mm|in\b|centim\w+|millim\w+|\"|″|pans?|pots?|trays?|jars?|bowls?|"
    r"at a time|more|additions?|stages?|turns?|dishes|dish|bottles?|tins?|bags?|ladles?|changes?|lots?|pieces?|slices?|"
    r"racks?|lids?|towels?|hands?|(?:st|nd|rd|th)\b|or\b|x\b|people|minutes? later|of\b|each\b|x\s*\d)",
    re.IGNORECASE,
)


def _interval(quantity: Quantity, factor: float) -> Interval:
    low, high = quantity.low * factor, quantity.high * factor
    best = (low + high) / 2.0
    if quantity.about and low == high:
        low, high = 0.85 * low, 1.15 * high  # "about": common practice, no source
    return Interval(min(low, best), min(low, best), max(high, best)) if best < low else Interval(best, low, high)


def _plus(one: Interval | None, other: Interval) -> Interval:
    return other if one is None else Interval(one.best + other.best, one.low + other.low, one.high + other.high)


def _widest(one: Interval | None, other: Interval) -> Interval:
    if one is None:
        return other
    return Interval((one.best + other.best) / 2.0, min(one.low, other.low), max(one.high, other.high))


# A dash before a number is a sign where no number stands before it: "-20 minutes", but "15 -20 minutes".
_NEGATIVE = re.compile(r"(?<![\w.,/°])(?<!\d )-(?=\d)")
_LONGEST_MINUTES = 3 * 365 * 1440.0
"""Beyond what hams and cheeses lie; common practice, no source."""
_COLDEST, _HOTTEST = -80.0, 650.0
"""From dry ice to a wood-fired oven [°C]; common practice, no source."""


def _negatives(words: str, found: FoundFigures) -> str:
    """Take out what is less than nothing: a time, a weight, a volume. Cold is not ("freeze at -18 C")."""
    for sign in list(_NEGATIVE.finditer(words)):
        quantity = read_quantity(words, sign.end())
        if quantity is None:
            continue
        degrees = _DEGREES.match(words, quantity.end)
        if degrees is not None:
            if quantity.high > -_COLDEST:
                found.impossible.append(words[sign.start() : degrees.end()])
            words = _blank(words, sign.start(), degrees.end())
            continue
        unit = _TIME_UNIT.match(words, quantity.end) or read_unit(words, quantity.end)
        if unit is not None:
            end = unit.end() if isinstance(unit, re.Match) else unit.end
            found.impossible.append(words[sign.start() : end])
            words = _blank(words, sign.start(), end)
    return words


def find_quantities(words: str, *, market: str = "us") -> FoundFigures:
    """Every figure of a clause; any text is allowed."""
    found = FoundFigures()
    rest = _spoken_times(_negatives(words, found) if "-" in words else words, found)
    rest = _CLOCK_TIME.sub(lambda time: f"{int(time[1]) * 60 + int(time[2] or time[3])} minutes", rest)
    share, rest = share_left(rest)
    found.share = share if share is not None else found.share
    gas = _GAS.search(rest)
    if gas is not None:
        heat = _GAS_CELSIUS[gas["mark"]]
        found.celsius = Interval(heat, heat - 10.0, heat + 10.0, "gas mark")
        rest = _blank(rest, gas.start(), gas.end())
    amounts: list[_Amount] = []
    at = 0
    while (start := _WORD_START.search(rest, at)) is not None:
        at = start.start()
        quantity = read_quantity(rest, at)
        if quantity is not None and rest[at : at + 2].lower() in ("a ", "an"):
            unit = read_unit(rest, quantity.end)  # "a cup of the water" is an amount, "a pan" is not
            measured = unit is not None and kind(unit.name) in ("mass", "volume")
            quantity = quantity if measured or _is_a_time(rest, at, quantity) else None
        if quantity is None:
            at = _next_word(rest, at)
            continue
        end = _one_figure(rest, at, quantity, found, amounts, market)
        at = max(end, at + 1)
    _settle_amounts(words, amounts, found)
    return found


def _next_word(text: str, at: int) -> int:
    word = re.compile(r"\S+").match(text, at)
    return word.end() if word else at + 1


def _blank(text: str, start: int, end: int) -> str:
    return text[:start] + " " * (end - start) + text[end:]


def _spoken_times(words: str, found: FoundFigures) -> str:
    for pattern, (low, best, high) in _SPOKEN_TIMES:
        while hit := pattern.search(words):
            before = words[max(0, hit.start() - 12) : hit.start()]
            value = Interval(best, low, high, hit[0])
            if re.search(r"\bor\s+$", before) and found.minutes is not None:
                found.minutes = _widest(found.minutes, value)
            else:
                found.minutes = _plus(found.minutes, value) if "and" in before else value
            words = _blank(words, hit.start(), hit.end())
    return words


def _one_figure(
    text: str,
    at: int,
    quantity: Quantity,
    found: FoundFigures,
    amounts: list[_Amount],
    market: str,
) -> int:
    """Read what stands behind one number and put it in its place; the end of what was read."""
    time = _TIME_UNIT.match(text, quantity.end)
    if time is not None:
        unit = time["unit"].lower().rstrip("s") or "s"
        sides = 2.0 if time["side"] else 1.0
        value = _interval(quantity, _MINUTES[unit] * sides)
        if value.high > _LONGEST_MINUTES:
            found.impossible.append(text[at : time.end()])
            return time.end()
        either = re.search(r"\b(?:or|to)\s+(?:about\s+)?$", text[:at]) or re.match(
            r"\s+or\s*(?:\s{4}|$)", text[time.end() :]
        )
        end = time.end()
        if unit.startswith("h") and (more := _MINUTES_BEHIND.match(text, end)) is not None:
            value = _plus(value, Interval(float(more[1]), float(more[1]), float(more[1])))
            end = more.end()
        goes_on = unit.startswith("m") and _HOURS_BEFORE.search(text[:at]) is not None
        alternative = either is not None and found.minutes is not None and not goes_on
        found.minutes = _widest(found.minutes, value) if alternative else _plus(found.minutes, value)
        return end
    degrees = _DEGREES.match(text, quantity.end)
    if degrees is not None and not (degrees["scale2"] == "c" and _is_cups(text[:at], quantity)):
        _temperature(text, at, quantity, degrees, found)
        return degrees.end()
    if _ELIDED.search(text[:at]) and _CLOSES.match(text, quantity.end):
        found.minutes = _plus(found.minutes, _interval(quantity, 1.0))
        return quantity.end
    unit_read = read_unit(text, quantity.end)
    if unit_read is not None and kind(unit_read.name) in ("mass", "volume"):
        mass = grams_per(unit_read.name)
        factor = mass if mass is not None else _millilitres(unit_read.name, market)
        name = "millilitres" if mass is None else "grams"
        if not _PER.search(text[:at]):
            amounts.append(_Amount(name, _interval(quantity, factor), factor, at, unit_read.end))
        return unit_read.end
    if _MAKES.search(text[:at]) and quantity.low > 0.0:
        found.pieces = _interval(quantity, 1.0)
        noun = _NOUN.match(text, quantity.end)
        found.piece = singular(noun[1].lower().split()[-1]) if noun is not None else ""
        return noun.start(1) if noun is not None else quantity.end  # a size in brackets is that of one piece
    if quantity.low >= 100.0 and found.celsius is None and re.search(r"\b(?:at|oven|to)\s+$", text[:at]):
        _temperature(text, at, quantity, None, found)
        return quantity.end
    if amounts and unit_read is None and re.search(r"\bto\s+(?:about\s+)?$", text[:at]):
        last = amounts[-1]  # "from 5 pints to 2": the second number takes the unit of the first
        amounts.append(_Amount(last.name, _interval(quantity, last.factor), last.factor, at, quantity.end))
        return quantity.end
    return _other_figure(text, at, quantity, found, unit_read)


def _is_a_time(text: str, at: int, quantity: Quantity) -> bool:
    """ "For a day" is a time; "once a day", "within a week" and "a day ahead" are not."""
    unit = _TIME_UNIT.match(text, quantity.end)
    if unit is None or len(unit["unit"]) < _SPELT_OUT or _NO_TIME_BEFORE.search(text[:at]):
        return False
    return _NO_TIME_BEHIND.match(text, unit.end()) is None


def _is_cups(before: str, quantity: Quantity) -> bool:
    """ "3 c water": so little is no heat that anything is cooked at, unless a place for a temperature is before it."""
    return quantity.high < _LEAST_HEAT and _BEFORE_HEAT.search(before) is None


def _other_figure(text: str, at: int, quantity: Quantity, found: FoundFigures, unit: Unit | None) -> int:
    """A number behind which no unit of time, heat or weight stands; the end of what was read."""
    if not text[at].isdigit() or _HARMLESS.match(text, quantity.end):
        return quantity.end
    word = _WORD.match(text, quantity.end)
    meant = nearest_word(word[1].lower(), _TIME_WORDS) if word is not None else ""
    if word is not None and meant:
        found.minutes = _plus(found.minutes, _interval(quantity, _MINUTES[meant.rstrip("s")]))
        found.mended.append((text[at : word.end()], f"{text[at : quantity.end].strip()} {meant}"))
        return word.end()
    if not text[quantity.end :].strip(" .,;:!") and _FOR.search(text[:at]):
        found.minutes = _plus(found.minutes, _interval(quantity, 1.0))  # "4 minutes on one side, for another 4 after"
    elif unit is None:
        found.unexplained.append((text[at : word.end() if word else quantity.end], word[1].lower() if word else ""))
    return quantity.end


_WORD = re.compile(r"\s*([^\W\d_][\w'-]*)")
_FOR = re.compile(r"\bfor\s+(?:about\s+)?(?:another|a further)\s+$", re.IGNORECASE)
_TIME_WORDS = tuple(word for unit in _MINUTES if len(unit) > 3 for word in (unit, f"{unit}s"))


def _millilitres(unit: str, market: str) -> float:
    try:
        return millilitres_per(unit, market=market) or 0.0
    except KeyError:
        return millilitres_per(unit) or 0.0


def _temperature(text: str, at: int, quantity: Quantity, degrees: re.Match[str] | None, found: FoundFigures) -> None:
    """One temperature: of the oven, of the middle, or the other scale of the one before."""
    scale = ""
    if degrees is not None:
        scale = (degrees["scale1"] or degrees["scale2"] or degrees["scale3"] or "").lower()[:1]
    if not scale:
        scale = "f" if quantity.high > 260.0 else "c"
    low, high = quantity.low, quantity.high
    if scale == "f":
        low, high = (low - 32.0) / 1.8, (high - 32.0) / 1.8
    if degrees is not None and degrees["fan"]:
        low, high = low + 20.0, high + 20.0  # a fan oven cooks as one 20 °C hotter: common practice, no source
    value = Interval((low + high) / 2.0, min(low, high), max(low, high))
    end = degrees.end() if degrees is not None else quantity.end
    if value.high > _HOTTEST:
        found.impossible.append(text[at:end])
        return
    after = re.split(r"[\d,;]|\b(?:at|to|until|then)\b", text[end : end + 30])[0]
    ahead = re.split(r"[\d,;]", text[max(0, at - 40) : at])[-1]
    middle = _MIDDLE.search(after) or _MIDDLE.search(ahead)
    towards = _TOWARDS.search(text[:at])
    if middle or (towards and (found.celsius is not None or value.best < 100.0)):
        found.core = found.core or value
    elif found.celsius is None:
        found.celsius = value
    elif abs(found.celsius.best - value.best) > 12.0 and not _SAME_HEAT.search(text[:at]):
        found.celsius = Interval(
            found.celsius.best, min(found.celsius.low, value.low), max(found.celsius.high, value.high)
        )


_WATER_AFTER = re.compile(r"\s*(?:of\s+)?(?:\w+\s+){0,2}water\b", re.IGNORECASE)
_SALT_AFTER = re.compile(r"\s*(?:of\s+)?(?:\w+\s+)?salt\b", re.IGNORECASE)
# What is in or with an amount does not end at it: "bring to the boil in 1 litre of water".
_ENDS_AT = re.compile(
    r"\b(?:to|until|is|are|left|keep|reserve|save|weigh\w*|weight|makes?)\b(?!.*\b(?:in|into|with)\s+$)", re.IGNORECASE
)


def _settle_amounts(words: str, amounts: list[_Amount], found: FoundFigures) -> None:
    """Weights and volumes: water and salt that are added; "from A to B" is a share; else the last is the end."""
    ends: list[_Amount] = []
    for amount in amounts:
        after, ahead = words[amount.end :], words[: amount.at]
        if _SALT_AFTER.match(after) and amount.name == "grams" and not _ENDS_AT.search(ahead):
            found.salt = amount.value
        elif _WATER_AFTER.match(after) and amount.name == "millilitres" and not _ENDS_AT.search(ahead):
            found.water = amount.value
        else:
            ends.append(amount)
    if len(ends) >= 2 and ends[0].name == ends[-1].name and _FROM_TO.search(words):
        first, last = ends[0].value, ends[-1].value
        if 0.0 < last.best <= first.best:
            ratio = last.best / first.best
            low, high = min(ratio, last.low / first.high), min(1.0, max(ratio, last.high / first.low))
            found.share = Interval(ratio, low, high, "from … to …")
            return
    for amount in ends:
        setattr(found, amount.name, amount.value)
