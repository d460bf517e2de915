"""Numbers and amounts as cooks write them: "1 1/2", "2–3", "half a dozen", "two 15-ounce cans", "250 g/9 oz".

Everything here reads from a position of a tidied text and answers with what it found and where it ended, or None.
`tidy` comes first: it turns vulgar fractions, fraction slashes, odd spaces and dashes into plain ones.
"""

from __future__ import annotations

import html
import re
from typing import NamedTuple

from labeler.recipe.model import Amount
from labeler.recipe.units import SPELLINGS, canonical_unit, grams_per, kind, millilitres_per

__all__ = [
    "Measures",
    "Quantity",
    "amounts_agree",
    "read_measures",
    "read_quantity",
    "read_unit",
    "tidy",
]

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_VULGAR_SIGN = re.compile(r"(\d?)\s*([½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒])")
_PLAIN = str.maketrans(
    {
        "⁄": "/", "∕": "/", "／": "/", "–": "-", "‐": "-", "‑": "-", "‒": "-", "−": "-", "’": "'", "‘": "'", "ʼ": "'",
        "“": '"', "”": '"', "″": '"', "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u200b": "", "\ufeff": "",
        "×": "x", "≈": "~", "*": " ", "_": " ", "®": "", "™": "", "•": " ", "·": " ", "▢": " ", "☐": " ",
    }
)  # fmt: skip
_TAG = re.compile(r"<[^<>]*>")
_ESCAPE = re.compile(r"\\[nrt]")
_BULLET = re.compile(r"\s*(?:[-+~>]\s+|\[[ xX]?\]\s*)+")


def tidy(text: str) -> str:
    """`text` for reading: tags, entities and bullets gone, fractions as digits, plain dashes and single spaces."""
    if "&" in text:
        text = html.unescape(text)
    if "<" in text:
        text = _TAG.sub(" ", text)
    if "\\" in text:
        text = _ESCAPE.sub(" ", text)
    text = text.translate(_PLAIN)
    if not text.isascii():
        text = _VULGAR_SIGN.sub(
            lambda found: f"{found[1]} {_VULGAR[found[2]]}" if found[1] else _VULGAR[found[2]], text
        )
    bullet = _BULLET.match(text)
    if bullet is not None:
        text = text[bullet.end() :]
    return " ".join(text.split())


class Quantity(NamedTuple):
    """A number or a range without its unit; `end` is where reading stopped."""

    low: float
    high: float
    about: bool
    end: int
    dashed: bool = False


_NUMBER = re.compile(
    r"""
    (?P<whole>\d+)(?:\ ?-\ ?|\ and\ |\ &\ |\ )(?P<top>\d+)\ ?/\ ?(?P<bottom>\d+)(?![\d/%])
    | (?P<over>\d+)\ ?/\ ?(?P<under>\d+)(?![\d/%])
    | (?P<thousands>\d{1,3}(?:,\d{3})+(?:\.\d+)?)(?![\d%])
    | (?P<plain>\d+(?:[.,]\d+)?|\.\d+)(?![\d%])
    """,
    re.VERBOSE,
)
_WORD = re.compile(r"[A-Za-z]+")
_SMALL_NUMBERS = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen twenty"
)
_NUMBER_WORDS = {word: float(value) for value, word in enumerate(_SMALL_NUMBERS.split(), start=1)}
_NUMBER_WORDS |= {"thirty": 30.0, "forty": 40.0, "fifty": 50.0, "hundred": 100.0}
_PARTS = {"half": 0.5, "halves": 0.5, "third": 1 / 3, "thirds": 1 / 3, "quarter": 0.25, "quarters": 0.25,
          "fourth": 0.25, "fourths": 0.25, "eighth": 0.125, "eighths": 0.125}  # fmt: skip
# Words that stand for a loose number: (low, high). Common practice, no source.
_LOOSE = {"few": (2.0, 4.0), "several": (3.0, 5.0), "couple": (2.0, 2.0), "dozen": (12.0, 12.0)}
_PART_WORD = re.compile(r"[ -](half|halves|thirds?|quarters?|fourths?|eighths?)\b(?: (?:of|an?) )*", re.IGNORECASE)
_AND_PART = re.compile(r" (?:and|&) (?:an? |one |three )?(half|third|quarter|fourth)\b", re.IGNORECASE)
_DOZEN = re.compile(r"[ -]dozen\b(?: of\b)?", re.IGNORECASE)
_OF_A = re.compile(r"(?: of)?(?: an?\b)?(?: of\b)?", re.IGNORECASE)
_ABOUT = re.compile(
    r"(?:about|approximately|approx\b\.?|around|roughly|circa|ca\b\.?|~|scant|heap(?:ing|ed)|generous|rounded|nearly|"
    r"almost|up to|at least|over|just (?:over|under)|a scant|a generous|a good|a heap(?:ing|ed)|good|less than|"
    r"more than|no more than|maximum|minimum)(?: ?~| (?=\S)|(?=\d))\s*",
    re.IGNORECASE,
)
_RANGE = re.compile(r"(?: ?- ?to ?-? ?| ?- ?| to (?:about )?| or | through | ?~ ?|-or-)(?=[\w.])", re.IGNORECASE)
_BETWEEN = re.compile(r"(?:between|from) (?=\w)", re.IGNORECASE)
_BETWEEN_AND = re.compile(r" (?:and|to|-) (?=\w)", re.IGNORECASE)


def _digits(found: re.Match[str]) -> float | None:
    whole, top, bottom, over, under, thousands, plain = found.groups()
    if plain is not None:
        return float(plain.replace(",", "."))
    if whole is not None:
        divisor = float(bottom)
        return None if divisor == 0 else float(whole) + float(top) / divisor
    if over is not None:
        divisor = float(under)
        if divisor == 0:
            return None
        if len(over) > 1 and divisor in (2, 3, 4, 8) and 0 < float(over[-1]) < divisor:
            return float(over[:-1]) + float(over[-1]) / divisor  # "11/2" is "1 1/2" run together, never 5.5
        return float(over) / divisor
    return float(thousands.replace(",", ""))


def _read_number(text: str, at: int) -> tuple[float, float, int] | None:
    """A single number at `at`, in digits or in words, as (low, high, end); loose words ("a few") give a range."""
    found = _NUMBER.match(text, at)
    if found is not None:
        value = _digits(found)
        if value is None:
            return None
        end = found.end()
        if text.startswith(" and ", end):
            part = _AND_PART.match(text, end)
            if part is not None:
                value, end = value + _PARTS[part[1].lower()], part.end()
        dozen = _DOZEN.match(text, end) if text.startswith(("dozen", "Dozen"), end + 1) else None
        return (value, value, end) if dozen is None else (12 * value, 12 * value, dozen.end())
    found = _WORD.match(text, at)
    if found is None:
        return None
    word, end = found[0].lower(), found.end()
    if word in ("a", "an", "the"):
        after = _WORD.match(text, end + 1) if text.startswith(" ", end) else None
        if after is None:
            return None
        following = after[0].lower()
        if following in _LOOSE or following in _PARTS:
            word, end = following, after.end()
        elif word == "the" or following in ("little", "bit", "lot", "touch", "mix", "mixture", "combination"):
            return None
        else:
            return 1.0, 1.0, end
    if word in _LOOSE:
        low, high = _LOOSE[word]
        if word == "few" or word == "several" or word == "couple" or word == "dozen":
            more = _OF_A.match(text, end)
            end = more.end() if more is not None and more[0].startswith(" of") else end
        return low, high, end
    value = _NUMBER_WORDS.get(word)
    if value is not None:
        if text.startswith("-", end) and (one := _WORD.match(text, end + 1)) and value >= 20:
            units = _NUMBER_WORDS.get(one[0].lower())
            if units is not None and units < 10:
                value, end = value + units, one.end()
        part = _PART_WORD.match(text, end)
        if part is not None:
            return value * _PARTS[part[1].lower()], value * _PARTS[part[1].lower()], part.end() - (part[0][-1] == " ")
        part = _AND_PART.match(text, end)
        if part is not None:
            value, end = value + _PARTS[part[1].lower()], part.end()
        dozen = _DOZEN.match(text, end)
        return (value, value, end) if dozen is None else (12 * value, 12 * value, dozen.end())
    if word in ("half", "quarter", "third"):
        if text.startswith(("-", " and "), end):
            return None  # "half-and-half"
        part = _OF_A.match(text, end)
        end = part.end() if part is not None else end
        dozen = _DOZEN.match(text, end)
        value = _PARTS[word]
        return (value, value, end) if dozen is None else (12 * value, 12 * value, dozen.end())
    return None


def read_quantity(text: str, at: int = 0) -> Quantity | None:
    """A number or a range at `at` ("about 2", "1-1/2", "2 to 3", "between two and three"), or None."""
    about = False
    first = text[at : at + 1]
    if not first.isdigit():
        found = _ABOUT.match(text, at)
        while found is not None:
            about = True
            at = found.end()
            found = _ABOUT.match(text, at)
        between = _BETWEEN.match(text, at)
        if between is not None:
            low = _read_number(text, between.end())
            joint = _BETWEEN_AND.match(text, low[2]) if low is not None else None
            high = _read_number(text, joint.end()) if joint is not None else None
            if low is not None and high is not None:
                return Quantity(min(low[0], high[0]), max(low[1], high[1]), about, high[2])
            return None
    number = _read_number(text, at)
    if number is None:
        return None
    low_value, high_value, end = number
    joint = _RANGE.match(text, end)
    if joint is not None:
        second = _read_number(text, joint.end())
        if second is not None and not text[joint.end() : joint.end() + 2].lower() in ("a ", "an"):
            dashed = joint[0].strip() == "-"
            return Quantity(low_value, second[1], about, second[2], dashed)
    return Quantity(low_value, high_value, about or low_value != high_value, end)


# The first words of units of two words ("fl oz", "bar spoon").
_TWO_WORDS = {spelling.split(" ")[0] for spelling in SPELLINGS if " " in spelling}
_UNIT = re.compile(r"( ?-? ?)(\"|[A-Za-z]+(?:-[A-Za-z]+)*\.?)")
_SECOND_WORD = re.compile(r"[ -]([A-Za-z]+\.?)")


def read_unit(text: str, at: int) -> tuple[str, bool, int] | None:
    """A unit at `at` as (unit, joined by a hyphen, end), or None."""
    found = _UNIT.match(text, at)
    if found is None:
        return None
    word, end = found[2], found.end()
    joined = "-" in found[1]
    bare = word.rstrip(".").lower()
    if bare in _TWO_WORDS:
        second = _SECOND_WORD.match(text, end)
        if second is not None:
            unit = canonical_unit(f"{bare} {second[1].rstrip('.').lower()}")
            if unit is not None:
                return unit, joined, second.end() - (second[1][-1] == "." and False)
    unit = canonical_unit(word)
    if unit is None and "-" in word:
        head, _, tail = word.partition("-")
        unit = canonical_unit(head)
        # "8-inch-square", "1-inch-thick", "2-to-3-pound" end a unit; "T-bone" and "head-on" do not begin one.
        if unit is None or not joined or kind(unit) == "count":
            return None
        return unit, joined, found.start(2) + len(head)
    if unit is None:
        return None
    if bare == "in" and not joined and word[-1] != ".":
        return None  # "in" is an inch only where nothing else can be meant
    return unit, joined, end


class Measures(NamedTuple):
    """One amount with its unit and every other way in which the text says it; `end` is where reading stopped."""

    amounts: tuple[Amount, ...]
    end: int


_SLASH = re.compile(r" ?[/|=] ?(?=[~\d.])")
_EACH = re.compile(r",? (?:each|apiece|per \w+)\b", re.IGNORECASE)
_TOTAL = re.compile(r",? (?:in total|total weight|total|in all|altogether)\b", re.IGNORECASE)


def read_measures(text: str, at: int, *, role: str = "same") -> Measures | None:
    """Amounts with units at `at`, such as "about 3 1/2 pounds" or "2 1/4 teaspoons/7 grams"; the first takes `role`."""
    quantity = read_quantity(text, at)
    if quantity is None:
        return None
    unit = read_unit(text, quantity.end)
    if unit is None:
        return None
    found = [Amount(quantity.low, quantity.high, unit[0], role, quantity.about)]
    end = unit[2]
    while True:
        slash = _SLASH.match(text, end)
        if slash is None:
            break
        quantity = read_quantity(text, slash.end())
        unit = read_unit(text, quantity.end) if quantity is not None else None
        if quantity is None or unit is None:
            break
        found.append(Amount(quantity.low, quantity.high, unit[0], role, quantity.about))
        end = unit[2]
    each = _EACH.match(text, end)
    if each is not None:
        found = [Amount(a.low, a.high, a.unit, "each", a.about) for a in found]
        end = each.end()
    else:
        total = _TOTAL.match(text, end)
        end = total.end() if total is not None else end
    return Measures(tuple(found), end)


# How far two statements of one amount may lie apart: 25 g for an ounce (-12 %) and 500 g for a pound (+10 %) are what
# cooks write. Common practice, no source.
_TOLERANCE = 0.15
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
