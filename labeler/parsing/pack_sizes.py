"""What each of the things that a batch is packed in holds: "5 x 300 g jars", "4 jars of 300 g", "a 500 ml bottle".

A phrase tells how many, what they are called and what one holds, in any order that cooks write: the size before the
noun ("four 5-oz bottles"), behind it ("6 jars at 190 g", "3 tubs (5 oz / 140 g)"), or with the noun left out
("6 x 190 g"). A size in brackets behind a noun is that of each, as it is in an ingredient line; one behind a comma is
the whole batch's unless the words say "each".
"""

from __future__ import annotations

import re
from typing import NamedTuple

from labeler.parsing.ingredient.amounts import read_unit
from labeler.parsing.line_words import CONTAINERS
from labeler.parsing.numbers import Quantity, read_quantity
from labeler.parsing.row_phrases import one_of, phrases
from labeler.parsing.units import kind
from labeler.text.plurals import singular

__all__ = ["Packs", "opening_words", "read_packs", "size_of_each"]

_OPENS = re.compile(
    rf"^(?:{one_of('leads_up')}[: ]+)+",
    re.IGNORECASE,
)
_TIMES = re.compile(r"\s*[x×]\s*(?=[\d½¼¾(])", re.IGNORECASE)
_BEHIND = re.compile(r"\s*[x×]\s*(?P<number>\d{1,3})\s*$", re.IGNORECASE)
_ABOUT = one_of("size_about")
_JOINS = re.compile(rf"\s*(?:\b{one_of('size_joint')}\b|@)(?:\s+(?:{_ABOUT}|each))*\s*")
_ALSO = re.compile(r"\s*(?:/|\bor\b|=|≈)\s*(?=[\d½¼¾.])")
_NOUN = re.compile(
    r"\.?[\s-]*(?P<noun>[^\W\d_][^\d,;(]*?)(?=\s*(?:[x×]\s*\d|[,;(]|$|\b(?:of|at|with|each|for|in|from|to|plus)\b|\+|@))",
    re.IGNORECASE,
)
_EACH = re.compile(r"\b(?:each|apiece|per \w+)\b", re.IGNORECASE)
_LOOSE = re.compile(rf"^(?:{_ABOUT}|~)\s*", re.IGNORECASE)
_FLUID_IN = frozenset(phrases()["fluid_pack"])
_LARGE = frozenset(phrases()["large_unit"])
"""Units of which a count of packs may stand before: "2 litre bottles" are two of one litre."""
_LOAVES = frozenset(phrases()["whole_piece"])


class Packs(NamedTuple):
    """So many things and what one of them holds, as written; ends of the number are equal where it is no range."""

    low: float
    high: float
    noun: str
    size: str


class _Measure(NamedTuple):
    quantity: Quantity | None
    unit: str
    words: str
    end: int


def opening_words(text: str) -> str:
    """A phrase without what leads up to its number: "Makes", "enough for", "in"."""
    return _OPENS.sub("", text.strip(), count=1)


def read_packs(phrase: str) -> Packs | None:
    """The packs that a tidied phrase tells with their size; None where it tells no size of each."""
    return _size_first(phrase) or _counted(phrase)


def size_of_each(phrase: str, *, bracketed: bool) -> str:
    """What a phrase by itself says that each of the things before it holds: "190 g each", "(5 oz / 140 g)"."""
    plain = _EACH.sub(" ", phrase)
    measure = _measure(_LOOSE.sub("", re.sub(r"^\s*(?:of|at)\b", "", plain).strip()))
    if measure is None or not (bracketed or plain != phrase):
        return ""
    return measure.words if not plain[measure.end :].strip(" .,").startswith(("in all", "total", "altogether")) else ""


def _measure(text: str) -> _Measure | None:
    """A weight or a volume that a text opens with; others that say the same again belong to it."""
    quantity = read_quantity(text)
    unit = read_unit(text, quantity.end) if quantity is not None else read_unit(f" {text}", 0)
    if unit is None or kind(unit.name) not in ("mass", "volume"):
        return None
    end = unit.end if quantity is not None else unit.end - 1
    words = text[:end].replace("-", " ").strip(" .")
    while (also := _ALSO.match(text, end)) is not None:
        more = read_quantity(text, also.end())
        behind = read_unit(text, more.end) if more is not None else None
        if behind is None:
            break
        end = behind.end
        words = text[:end].strip(" .")
    return _Measure(quantity, unit.name, words if quantity is not None else f"1 {words}", end)


def _noun(text: str, at: int) -> str:
    found = _NOUN.match(text, at)
    return found["noun"].strip(" .,-)") if found is not None else ""


def _named(noun: str) -> str:
    return singular(noun.lower().split()[-1]) if noun else ""


def _held(measure: _Measure, noun: str) -> str:
    """The size as it is meant: a bottle is filled by volume, so its ounces are fluid; common practice, no source."""
    if _named(noun) in _FLUID_IN and measure.unit == "ounce" and measure.quantity is not None:
        return f"{measure.quantity.low:g} fl oz"
    return measure.words


def _size_first(phrase: str) -> Packs | None:
    """ "a 500 ml bottle", "300 g jars x 5", "2 litre bottles"."""
    article = re.match(r"(?:an?|one)\s+(?=[\d½¼¾])", phrase, re.IGNORECASE)
    text = phrase[article.end() :] if article is not None else phrase
    measure = _measure(text)
    if measure is None or measure.quantity is None:
        return None
    noun = _noun(text, measure.end)
    name = _named(noun)
    if name not in CONTAINERS | _LOAVES:
        return None
    behind = _BEHIND.search(text)
    if behind is not None:
        return Packs(float(behind["number"]), float(behind["number"]), noun, _held(measure, noun))
    if name == noun.lower().split()[-1]:
        return Packs(1.0, 1.0, noun, _held(measure, noun))
    if measure.unit in _LARGE:
        low, high = measure.quantity.low, measure.quantity.high
        return Packs(low, high, noun, f"1 {measure.unit}")
    return None


def _counted(phrase: str) -> Packs | None:
    """ "5 x 300 g jars", "four 5-oz bottles", "6 half-pint jars", "6 x 190 g", "4 jars of 300 g"."""
    counted = read_quantity(phrase)
    if counted is None:
        return None
    rest = phrase[counted.end :]
    times = _TIMES.match(rest)
    rest = rest[times.end() if times is not None else 0 :].strip(" -(")
    measure = _measure(rest)
    if measure is not None:
        noun = _noun(rest.replace(")", " "), measure.end)
        bare = measure.quantity is None and _named(noun) not in CONTAINERS
        if bare or (not noun and times is None):
            return None
        return Packs(counted.low, counted.high, noun, _held(measure, noun))
    noun = _noun(f" {rest}", 0)
    joins = _JOINS.match(rest, len(noun)) if noun else None
    measure = _measure(rest[joins.end() :]) if joins is not None else None
    if measure is None or measure.quantity is None:
        return None
    return Packs(counted.low, counted.high, noun, _held(measure, noun))
