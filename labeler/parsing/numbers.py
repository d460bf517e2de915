"""Numbers as cooks write them: "1 1/2", "1½", "2–3", "two or three", "half a dozen", "a few".

`tidy` comes first: it turns vulgar fractions, fraction slashes, odd spaces and dashes into plain ones. The readers
start at a position of a tidied text and answer with what they found and where it ended, or None.
"""

from __future__ import annotations

import html
import re
from typing import NamedTuple

from labeler.parsing.line_words import FILLING_OF
from labeler.parsing.units import SPELLINGS
from labeler.text.deferred_pattern import pattern_when_used

__all__ = ["Quantity", "read_quantity", "tidy"]

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_VULGAR_SIGN = pattern_when_used(r"(?:(\d)\s*)?([½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒])")
_PLAIN = str.maketrans(
    {
        "⁄": "/", "∕": "/", "／": "/", "–": "-", "‐": "-", "‑": "-", "‒": "-", "−": "-", "’": "'", "‘": "'", "ʼ": "'",
        "´": "'", "“": '"', "”": '"', "″": '"', "\u200b": "", "\u00ad": "", "\ufeff": "", "×": "x", "≈": "~",
        "*": " ", "_": " ", "`": "'", "®": "", "™": "", "•": " ", "·": " ", "▢": " ", "☐": " ", "\0": " ",
        "【": "(", "】": ")", "（": "(", "）": ")", "[": "(", "]": ")",
    }
)  # fmt: skip
_TAG = pattern_when_used(r"</?[A-Za-z][^<>]*>")
_ESCAPE = pattern_when_used(r"\\[nrt]")
_MAYBE_SEVERAL = pattern_when_used(r"(?<=[A-Za-z])\((e?s)\)")
_OR_MORE = pattern_when_used(r"^(\d[\d /.-]*) ?\((or|to) (\d[\d /.]*)\)")
_BULLET = pattern_when_used(r"\s*(?:(?:[-+~>]\s+|\([ xX]?\)\s*)+|\d{1,2}[.)]\s+(?=\d))")
_WITH = pattern_when_used(r"(?<![\w/])w/(o\b)?(?:\s+|(?=[^\W\d]))", re.IGNORECASE)


def tidy(text: str) -> str:
    """`text` for reading: tags, entities and bullets gone, fractions as digits, plain dashes and single spaces.

    What brackets leave open is written out: "1 (or 2) clove(s)" is "1 or 2 cloves".
    """
    if "&" in text:
        text = html.unescape(text)
    if "<" in text:
        text = _TAG.sub(" ", text)
    if "\\" in text:
        text = _ESCAPE.sub(" ", text)
    if "w/" in text or "W/" in text:
        text = _WITH.sub(lambda found: f"with{'out' if found[1] else ''} ", text)
    text = text.translate(_PLAIN)
    if not text.isascii():
        text = _VULGAR_SIGN.sub(lambda sign: f"{sign[1]} {_VULGAR[sign[2]]}" if sign[1] else _VULGAR[sign[2]], text)
    bullet = _BULLET.match(text)
    if bullet is not None:
        text = text[bullet.end() :]
    if "(" in text:
        text = _OR_MORE.sub(r"\1 \2 \3", _MAYBE_SEVERAL.sub(r"\1", text))  # "1 (or 2) clove(s)"
    return " ".join(text.split())


class Quantity(NamedTuple):
    """A number or a range without its unit.

    `about` where the words make it loose, `end` where reading stopped, `dashed` where a dash joins the two ends, and
    `joined` (whole, fraction) where the last number is a mixed one: "2 1/2-inch slices" may be two slices of half an
    inch.
    """

    low: float
    high: float
    about: bool
    end: int
    dashed: bool = False
    mixed: tuple[float, float] | None = None
    filling: str = ""


# Denominators that kitchens use: "80/20 ground beef" and "50/50" are no fractions.
_BOTTOM = r"(?:[2-9]|10|12|16|32)"
_NUMBER = pattern_when_used(
    rf"""
    (\d+)(?:\ ?-\ ?|\ and\ |\ &\ |\ )(\d+)\ ?/\ ?({_BOTTOM})(?![\d/%])
    | (\d+)\ ?/\ ?({_BOTTOM})(?![\d/%])
    | (\d{{1,3}}(?:(?:,\d{{3}})+(?:\.\d+)?|\ 000(?=\ ?(?:g|ml)\b)))(?![\d%])
    | (\d+(?:[.,]\d+)?|\.\d+)(?![\d%]|\ ?/\ ?\d)
    """,
    re.VERBOSE,
)
_WORD = pattern_when_used(r"[A-Za-z]+")
_SMALL_NUMBERS = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen twenty"
)
_NUMBER_WORDS = {word: float(value) for value, word in enumerate(_SMALL_NUMBERS.split(), start=1)}
_NUMBER_WORDS |= {"thirty": 30.0, "forty": 40.0, "fifty": 50.0, "sixty": 60.0, "hundred": 100.0}
_PARTS = {"half": 0.5, "halves": 0.5, "third": 1 / 3, "thirds": 1 / 3, "quarter": 0.25, "quarters": 0.25,
          "fourth": 0.25, "fourths": 0.25, "eighth": 0.125, "eighths": 0.125}  # fmt: skip
# Words that stand for a number, loose ones as (low, high). Common practice, no source.
_LOOSE = {"few": (2.0, 4.0), "several": (3.0, 5.0), "couple": (2.0, 2.0), "pair": (2.0, 2.0),
          "dozen": (12.0, 12.0), "doz": (12.0, 12.0)}  # fmt: skip
_NO_ONE = frozenset(["little", "bit", "lot", "touch", "mix", "mixture", "combination", "selection", "choice"])
_PART_WORD = pattern_when_used(
    r"[ -](half|halves|thirds?|quarters?|fourths?|eighths?)\b(?! ?-)(?: of an?\b| of\b| an?\b)?", re.I
)
_AND_PART = pattern_when_used(
    r" (?:and|&) (?:an? |one |three )?(half|third|quarter|fourth)\b(?: of an?\b| an?\b)?", re.I
)
_DOZEN = pattern_when_used(r"[ -]?(?:dozen\b|(?:doz|dz)\b\.?)(?: of\b)?", re.I)
_OF = pattern_when_used(r" of\b", re.I)
_OF_ONE = pattern_when_used(r"(?: of)? an?\b", re.I)
_OF_A = pattern_when_used(r"(?: of)?(?: an?\b)?(?: of\b)?", re.I)
_ABOUT = pattern_when_used(
    r"(?:about|approximately|approx\b\.?|around|roughly|circa|ca\b\.?|c\.(?= \d)|~|"
    r"(?:a |an )?(?P<full>scant|heap(?:ing|ed)|generous|"
    r"rounded|good)(?= \d)|nearly|almost|up to|at least|(?:just )?(?:over|under|shy of)|"
    r"(?:slightly |a (?:little|bit) )?(?:less|more) than|no more than|maximum|max\.?|minimum|min\.?|use|say)"
    r"(?: ?~ ?| |(?=\d)|(?<=~))",
    re.I,
)
_RANGE = pattern_when_used(r"(?: ?- ?(?:to|or) ?-? ?| ?- ?| to (?:about )?| or | through | ?~ ?)(?=[\w.])", re.I)
_BETWEEN = pattern_when_used(r"(?:between|from) (?=\w)", re.I)
_BETWEEN_AND = pattern_when_used(r" ?(?:and|to|-) ?(?=\w)", re.I)
_OR_SO = pattern_when_used(
    r"(?: (?:or|and) (?:so|more|fewer|less|thereabouts|two|a half)\b(?! (?:as|if|to taste))| ?\+(?! ?\d))", re.I
)


class _Number(NamedTuple):
    low: float
    high: float
    end: int
    mixed: tuple[float, float] | None = None


# What a longer run of digits is read as, so that weights in grams and their squares stay numbers; whoever takes an
# amount tells that it is beyond any kitchen. A choice, no source.
_LARGEST = 1e12


def _number(digits: str) -> float:
    return min(float(digits), _LARGEST)


def _digits(found: re.Match[str]) -> tuple[float, tuple[float, float] | None]:
    whole, top, bottom, over, under, thousands, plain = found.groups()
    if plain is not None:
        return _number(plain.replace(",", ".")), None
    if whole is not None:
        parts = _number(whole), _number(top) / _number(bottom)
        return sum(parts), parts
    if over is not None:
        divisor = _number(under)
        if len(over) > 1 and divisor in (2, 3, 4, 8) and 0 < float(over[-1]) < divisor:
            # "11/2" is "1 1/2" run together: no cook measures five and a half halves.
            return _number(over[:-1]) + float(over[-1]) / divisor, None
        return _number(over) / divisor, None
    return _number(thousands.replace(",", "").replace(" ", "")), None


def _times_dozen(text: str, low: float, high: float, end: int) -> _Number:
    dozen = _DOZEN.match(text, end)
    return _Number(low, high, end) if dozen is None else _Number(12 * low, 12 * high, dozen.end())


def _read_number(text: str, at: int) -> _Number | None:
    """A single number at `at` in digits or in words; loose words ("a few") give a range."""
    found = _NUMBER.match(text, at)
    if found is None:
        return _read_words(text, at)
    value, mixed = _digits(found)
    end = found.end()
    if mixed is None and value == 0 and text.startswith("00", at):
        return None  # "00 flour" is a kind of flour
    if text.startswith((" and ", " & "), end):
        part = _AND_PART.match(text, end)
        if part is not None:
            value, end = value + _PARTS[part[1].lower()], part.end()
    if _DOZEN.match(text, end) is not None:
        return _times_dozen(text, value, value, end)
    if value < 1 or mixed is not None:
        of = _OF_ONE.match(text, end)  # "3/4 of a cup", "1/2 an onion"
        end = of.end() if of is not None else end
    return _Number(value, value, end, mixed)


def _joined_to_food(text: str, end: int) -> bool:
    """Whether a number word is joined to something that no unit is: "five-spice", "half-and-half"."""
    if not text.startswith("-", end):
        return False
    word = _WORD.match(text, end + 1)
    return word is None or (word[0].lower() not in SPELLINGS and word[0].lower() not in ("dozen", "to", "or"))


def _read_words(text: str, at: int) -> _Number | None:
    found = _WORD.match(text, at)
    if found is None:
        return None
    word, end = found[0].lower(), found.end()
    if word in ("a", "an"):
        if not text.startswith(" ", end):
            return None
        after = _WORD.match(text, end + 1)
        if after is None:
            return _Number(1.0, 1.0, end) if text[end + 1 : end + 2].isdigit() else None
        following = after[0].lower()
        if following not in _LOOSE and following not in _PARTS:
            return None if following in _NO_ONE else _Number(1.0, 1.0, end)
        word, end = following, after.end()
    if word in _LOOSE:
        of = _OF.match(text, end)
        return _Number(*_LOOSE[word], of.end() if of is not None else end)
    value = _NUMBER_WORDS.get(word)
    if value is not None:
        if value >= 20 and text.startswith("-", end):
            ones = _WORD.match(text, end + 1)
            digit = _NUMBER_WORDS.get(ones[0].lower(), 0.0) if ones is not None else 0.0
            if ones is not None and 0 < digit < 10:
                value, end = value + digit, ones.end()
        part = _PART_WORD.match(text, end)
        if part is not None:
            value *= _PARTS[part[1].lower()]
            return _Number(value, value, part.end())
        part = _AND_PART.match(text, end)
        if part is not None:
            value, end = value + _PARTS[part[1].lower()], part.end()
        elif _joined_to_food(text, end):
            return None
        return _times_dozen(text, value, value, end)
    if word in ("half", "quarter", "third"):
        if _joined_to_food(text, end) or text.startswith((" and half", " & half", " 'n"), end):
            return None
        of = _OF_A.match(text, end)
        return _times_dozen(text, _PARTS[word], _PARTS[word], of.end() if of is not None else end)
    return None


def read_quantity(text: str, at: int = 0) -> Quantity | None:
    """A number or a range at `at` ("about 2", "1-1/2", "2 to 3", "between two and three"), or None."""
    filling = ""
    about = False
    if not text[at : at + 1].isdigit():
        for _ in range(3):  # "just about ~ 2"
            found = _ABOUT.match(text, at)
            if found is None:
                break
            about = True
            filling = filling or (FILLING_OF.get(found["full"].lower(), "") if found["full"] else "")
            at = found.end()
        between = _BETWEEN.match(text, at)
        if between is not None:
            low = _read_number(text, between.end())
            joint = _BETWEEN_AND.match(text, low.end) if low is not None else None
            high = _read_number(text, joint.end()) if joint is not None else None
            if low is None or high is None:
                return None
            return Quantity(min(low.low, high.low), max(low.high, high.high), about, high.end, filling=filling)
    number = _read_number(text, at)
    if number is None:
        return None
    joint = _RANGE.match(text, number.end)
    if joint is not None and not text.startswith(("a ", "an ", "A "), joint.end()):
        second = _read_number(text, joint.end())
        if second is not None:
            low_end, high_end = min(number.low, second.low), max(number.high, second.high)
            return Quantity(low_end, high_end, about, second.end, joint[0].strip() == "-", second.mixed, filling)
    end = number.end
    more = _OR_SO.match(text, end)
    if more is not None:
        about, end = True, more.end()
    return Quantity(number.low, number.high, about or number.low != number.high, end, False, number.mixed, filling)
