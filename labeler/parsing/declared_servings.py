"""How the head of a recipe divides the dish: ``makes: 8 boxes``, ``serves: 4``, ``makes: 1 cake, 12 slices``.

``makes: 1.2 kg`` divides nothing: it says what the batch weighs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, NamedTuple

from labeler.parsing.ingredient.amounts import read_unit
from labeler.parsing.line_words import CONTAINERS
from labeler.parsing.numbers import read_quantity, tidy
from labeler.parsing.pack_sizes import opening_words, read_packs, size_of_each
from labeler.parsing.row_phrases import phrases
from labeler.parsing.units import kind
from labeler.text.plurals import singular, singular_phrase

__all__ = [
    "HEAD_KEYS",
    "MADE",
    "Count",
    "Servings",
    "contradicting",
    "counts_in",
    "measured_yield",
    "number_in",
    "one_or_all",
    "pack_size",
    "per_unit",
    "read_servings",
    "same_noun",
    "things_made",
]

# In order of preference: what a serving is comes before what the batch makes.
HEAD_KEYS = ("serves", "servings", "makes", "yield", "yields")
MADE = ("makes", "yield", "yields")
# More than any kitchen makes in one go, and more than any weighing can divide. Common practice, no source.
_MOST = 100_000.0
_PEOPLE = frozenset((*phrases()["served"], *phrases()["eaters"]))
_BRACKETS = re.compile(r"\(([^()]*)\)")
_SEGMENTS = re.compile(r"[,;](?!\d{3})")
_PIECES = re.compile(r"\((?P<inner>[^()]*)\)|(?:[^(),;]|,(?=\d{3}))+")
_SIZE_AMID = re.compile(r"^([^()]{1,16}?)\s*\(([^()]*)\)\s*(?=[^\W\d])")
"""A size in brackets between the number and the noun: "6 (4-ounce) jars"."""
_OF_EACH = re.compile(r"\b(?:of|with) (?=\d)", re.IGNORECASE)
_EACH_ONE = re.compile(r"\b(?:each|apiece|per \w+)\b", re.IGNORECASE)
_POWER = re.compile(r"\s*[\d.]+e[+-]?\d", re.IGNORECASE)
_UNIT_ENDS = re.compile(r"\s(?:of|for|in|with|from|to|or|about|each|apiece|per|plus)\b.*|\s\+.*", re.IGNORECASE)
_OPEN_END = re.compile(r"\W*[\w./]+(?:\s*\+|\s+(?:or more|and up)\b)", re.IGNORECASE)
_OPEN_TIMES = 1.5
"""How far "6+" and "6 or more" reach: so many servings at most, by the number. Common practice, no source."""
_EACH = re.compile(r"^(?:one|an?|each|per|every|1)\s+(?P<noun>.+)$", re.IGNORECASE)


class Count(NamedTuple):
    """How many of what: ``(12.0, "slices")``; the unit is empty where nothing says it."""

    number: float
    unit: str


@dataclass(frozen=True, slots=True)
class Servings:
    """How the head divides the dish: ``makes: 8 boxes`` or ``serves: 4``.

    Parameters
    ----------
    count : float
        How many servings, above 0.
    unit : str
        What one is called, as written ("boxes", "jars"); empty for "serves".
    text : str
        The head's own words.
    packs : float or None
        How many things the batch makes ("1 cake, 12 slices": 1); None where the head names none.
    low, high : float or None
        Both ends of the count where the head gives a range ("6-8": `count` is the middle, 7); equal for one number;
        None where no head says it.
    """

    count: float
    unit: str
    text: str
    packs: float | None = None
    low: float | None = None
    high: float | None = None


class _Stated(NamedTuple):
    """A count with both ends of what is stated ("6-8 slices" is 7, from 6 to 8), and what each of them holds."""

    made: Count
    low: float
    high: float
    size: str = ""


def _ends_in(text: str) -> tuple[float, float, str] | None:
    """Both ends of the number that a text opens with and what follows it; None without a number."""
    plain = tidy(text)
    quantity = read_quantity(plain)
    if quantity is None or (quantity.high < 1.0 and not plain[0].isdigit()):
        return None
    return quantity.low, quantity.high, plain[quantity.end :].strip()


def number_in(text: str) -> tuple[float, str] | None:
    """The number that a text opens with and what follows it; None without a number.

    A range gives its middle: whoever writes "serves 6-8" names no likelier number, and both ends stay in the interval
    of a serving. Common practice, no source.
    """
    ends = _ends_in(text)
    return None if ends is None else ((ends[0] + ends[1]) / 2.0, ends[2])


def counts_in(text: str) -> list[Count]:
    """Every count of a head's text: "1 cake, 12 slices" has two, "2 loaves of 10 slices each" 2 loaves and 20 slices.

    Weights, volumes and lengths are no counts ("6 (4-ounce) jars", "one 9-inch cake", "1.2 kg"), and neither is a
    number that no kitchen makes.
    """
    return [stated.made for stated in _stated_in(text)]


def _segments(text: str) -> Iterator[tuple[str, bool]]:
    """The pieces of a tidied text between commas, and whether one stands in brackets."""
    plain = _SIZE_AMID.sub(r"\1 \2 ", opening_words(text))
    for piece in _PIECES.finditer(plain):
        bracketed = piece["inner"] is not None
        yield opening_words(piece["inner"] if bracketed else piece[0]).strip(), bracketed


@lru_cache(maxsize=512)
def _stated_in(text: str) -> tuple[_Stated, ...]:
    """As `counts_in`, with both ends of each and what one holds."""
    found: list[_Stated] = []
    for segment, bracketed in _segments(tidy(text)):
        packs = read_packs(segment)
        if packs is not None and packs.low > 0.0 and packs.high <= _MOST:
            made = Count((packs.low + packs.high) / 2.0, packs.noun)
            found.append(_Stated(made, packs.low, packs.high, packs.size))
            continue
        size = size_of_each(segment, bracketed=bracketed) if found and found[-1].made.unit else ""
        if size and not found[-1].size:
            found[-1] = found[-1]._replace(size=size)
            continue
        for at, phrase in enumerate(_OF_EACH.split(segment)):
            stated = _count(phrase.strip())
            if stated is None:
                continue
            each = _EACH_ONE.search(phrase)
            if found and each is not None and not _of_first(each[0], found[0].made.unit):
                continue  # "24 (12 per tray)": trays are not what is made
            if found and (at > 0 or each is not None):
                (number, unit), first = stated.made, found[0]
                stated = _Stated(
                    Count(number * first.made.number, unit), stated.low * first.low, stated.high * first.high
                )
            found.append(stated)
    return tuple(found)


def _of_first(each: str, unit: str) -> bool:
    """Whether "per jar" speaks of the jars made; "each" and "apiece" always do."""
    _, per, noun = each.lower().rpartition("per ")
    return not per or same_noun(noun, unit)


def pack_size(head: Mapping[str, Any]) -> str:
    """What one of the things made holds, where the head says so with their number; empty where it does not.

    "5 x 300 g jars", "4 jars of 300 g", "4 (5-oz) bottles" and "6 jars, 190 g each" do.
    """
    sizes = (one.size for key in HEAD_KEYS for one in _stated_in(str(head.get(key, ""))))
    return next(filter(None, sizes), "")


def _count(phrase: str) -> _Stated | None:
    ends = _ends_in(phrase)
    if ends is None or not 0.0 < ends[0] + ends[1] <= 2.0 * _MOST or _POWER.match(phrase):
        return None
    low, high, rest = ends
    number = (low + high) / 2.0  # of "6+" the number that is named
    if _OPEN_END.match(phrase):
        high = max(high, _OPEN_TIMES * low)
    unit = read_unit(f" {rest}", 0) if rest else None
    measure = unit is not None and kind(unit.name) in ("mass", "volume")
    if rest.startswith("-") or (measure and (unit is None or read_unit(f" {rest}"[unit.end :], 0) is None)):
        return None  # a measure, unless it is the size of a container ("2 litre bottles")
    named = _UNIT_ENDS.sub("", f" {rest}").strip(" .,+")
    eaters = named.rpartition(" ")[2].lower()
    return _Stated(Count(number, eaters if eaters in _PEOPLE else named), low, high)


def measured_yield(head: Mapping[str, Any]) -> str:
    """The weight or the volume that a head says the batch comes to ("1.2 kg", "6 jars, 2 litres"); empty for none.

    A weight of each piece ("6 jars, 190 g each", "6 (4-ounce) jars") is none of the batch.
    """
    for key in MADE:
        plain = opening_words(tidy(str(head.get(key, ""))))
        for segment in _SEGMENTS.split(_BRACKETS.sub(" ", plain)):
            counted = number_in(segment.strip())
            unit = read_unit(f" {counted[1]}", 0) if counted is not None and counted[1] else None
            if counted is None or unit is None or kind(unit.name) not in ("mass", "volume"):
                continue
            behind = f" {counted[1]}"[unit.end :]
            container = read_unit(behind, 0)
            if 0.0 < counted[0] <= _MOST and container is None and not _EACH_ONE.search(behind):
                return segment.strip()
    return ""


def things_made(head: Mapping[str, Any]) -> list[Count]:
    """Every count of things that a head says the batch makes; what is called a serving is none."""
    counts = [count for key in HEAD_KEYS for count in counts_in(str(head.get(key, "")))]
    return [count for count in counts if count.unit and count.unit.lower() not in _PEOPLE]


def read_servings(head: Mapping[str, Any]) -> Servings | None:
    """Servings from the head; None where it gives no count above zero.

    What is called a serving comes first ("24 cookies, 12 servings"), else the largest count of the text: "1 cake, 12
    slices" is twelve slices of one cake, and the cake is what is packed. What holds less than a serving is no pack.
    """
    found: Servings | None = None
    packs: float | None = None
    for key in HEAD_KEYS:
        text = str(head.get(key, ""))
        stated = _stated_in(text)
        if not stated:
            continue
        things = [one.made for one in stated if one.made.unit.lower() not in _PEOPLE]
        if packs is None and things and things[0].unit and (key in MADE or _is_container(things[0].unit)):
            packs = things[0].number
        if found is None:
            served_so = "" if key not in MADE else None  # "servings: 4 (8 pancakes)"
            people = [one for one in stated if one.made.unit.lower() in _PEOPLE or one.made.unit == served_so]
            served = people[0] if people else max(stated, key=lambda one: one.made.number)
            unit = "" if people else served.made.unit
            found = Servings(served.made.number, unit, text, low=served.low, high=served.high)
    if found is None:
        return None
    return replace(found, packs=packs if packs is not None and packs <= found.count else None)


def contradicting(head: Mapping[str, Any], key: str, says: str) -> str:
    """What a head says otherwise than another statement: "serves: 4" where that is "serves", "8"; empty for nothing.

    People are compared with people, and things with things of the same name; ranges that meet do not differ.
    """
    others = [_of_people(one, key) for one in _stated_in(says)]
    for own in HEAD_KEYS:
        for one in (_of_people(stated, own) for stated in _stated_in(str(head.get(own, "")))):
            for other in others:
                same = one.made.unit == other.made.unit == "" or same_noun(one.made.unit, other.made.unit)
                if same and (one.high < other.low or other.high < one.low):
                    return f"{own}: {head[own]}"
    return ""


def _of_people(stated: _Stated, key: str) -> _Stated:
    """A count of servings without its word, whatever they are called; things made that have no name differ from it."""
    unit = stated.made.unit.lower()
    people = unit in _PEOPLE or (not unit and key not in MADE)
    return stated._replace(made=Count(stated.made.number, "" if people else unit or "things"))


def _is_container(unit: str) -> bool:
    """Whether a word names what food is packed in, whatever key it stands under: "servings: 4 jars"."""
    return singular(unit.lower().split()[-1]) in CONTAINERS


def per_unit(title: str, servings: Servings | None, head: Mapping[str, Any]) -> float:
    """How often a part is made for the whole recipe: 8 for "One box" where the head makes 8 boxes, else 1."""
    each = _EACH.match(title.strip())
    if each is None:
        return 1.0
    noun = each["noun"].strip().lower()
    for key in ("makes", "yield", "yields", "serves", "servings"):
        for number, unit in counts_in(str(head.get(key, ""))):
            served = key not in MADE and same_noun(noun, "servings")
            if same_noun(noun, unit.lower()) or served or same_noun(noun, "portions"):
                return number
    return servings.count if servings is not None and not servings.unit else 1.0


def one_or_all(title: str, head: Mapping[str, Any]) -> Count | None:
    """What a head makes several of and a title names one of ("Bowl" of 2 bowls): is the part one of them, or all?"""
    name = title.strip().lower()
    for key in MADE:
        for count in counts_in(str(head.get(key, ""))):
            unit = count.unit.lower()
            if count.number > 1.0 and unit and unit != name and singular_phrase(unit) == name:
                return count
    return None


def same_noun(one: str, many: str) -> bool:
    """Whether "box" is what "boxes" are several of; the last word counts ("lunch box", "Lunch boxes")."""
    if not one or not many:
        return False
    return singular(one.lower().split()[-1]) == singular(many.lower().split()[-1])
