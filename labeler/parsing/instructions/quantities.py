"""How much of a food a phrase means: a share, an amount, the rest, some, a film, all but so much.

The forms are tried one behind the other, the narrower ones first; each gives a quantity and the phrase without it, or
does not apply.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.parsing import numbers
from labeler.parsing.ingredient.amounts import read_unit
from labeler.parsing.instructions.grammar import fractions, grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Extent, Quantity
from labeler.parsing.units import grams_per, kind, millilitres_per
from labeler.types import Interval

__all__ = ["quantity_of"]

Found = tuple[Quantity, str]
"""A quantity, and the phrase without it."""

_ARTICLE = grammar("article")
_SHARES = fractions("part")
_MANY = {word: many for word, many in fractions("many").items() if word.isalpha()}
_PART = re.compile(
    rf"^(?:(?:about|roughly|around|only|just|another|the|first|last|other)\s+)*(?:(?P<many>{'|'.join(_MANY)})[\s-]+)?"
    rf"(?P<part>{'|'.join(_SHARES)})s?\b"
    r"(?!\s+(?:and half|an?\s+(?:hour|cup|inch|pound|lemon|onion)|of\s+an?\s|-and-half))"
    r"(?:\s+(?:of|each of|each)\b)?\s*(?:each\s+of\s+)?",
    re.IGNORECASE,
)
_FRACTION = re.compile(
    r"^(?:about\s+|the\s+|another\s+)*(?P<num>\d+/\d+|[½¼¾⅓⅔⅛]|\d+(?:[.,]\d+)?\s*%|\d+(?:[.,]\d+)?\s*per\s*cent)\s+(?:of\s+)?(?=(?:the|your|each|it|that|this|these)\b)",
    re.IGNORECASE,
)
_REST = re.compile(
    r"^(?:all\s+)?(?:of\s+)?(?:the\s+|their\s+|its\s+)?(?:what(?:ever)?(?:'s| is| was) left(?:\s+over)?(?:\s+of)?|"
    r"rest(?:\s+of)?|"
    r"remaining|remainder(?:\s+of)?|leftover|other|last of|reserved|others)\b\s*",
    re.IGNORECASE,
)
_IS_LEFT = re.compile(r"\s+left(?:\s+over)?$", re.IGNORECASE)  # "any batter left"
_MOST = re.compile(r"^most(?:\s+of)?\b\s*", re.IGNORECASE)
_SOME = re.compile(
    r"^(?:an?\s+)?(?:some(?:\s+of)?|little(?:\s+of|\s+bit\s+of)?|bit(?:\s+of)?|few(?:\s+of)?|touch of|lot of|lots of|"
    r"couple(?:\s+of)?|handful of|generous amount of|good amount of|several|enough|part of|more|dollop of|spoonful of|"
    r"drizzle of|splash of|drop of|drops of|additional small amount of|small amount of|knob of|glug of|drizzling of|"
    r"sprinkling of|plenty of|equal (?:amount|quantity) of)\b\s*",
    re.IGNORECASE,
)
_FILM = re.compile(r"^(?:a\s+)?(?:film|thin coat|thin layer|light coating|coating|light coat)\s+of\s+", re.IGNORECASE)
_ALL_BUT = re.compile(r"^all but\s+(?:about\s+)?", re.IGNORECASE)
_ALL = re.compile(
    r"^(?:all(?:\s+of)?|both|each(?:\s+of)?|every(?:\s+(?:last\s+)?(?:bit|drop|scrap|grain) of)?|whole of)\b\s*",
    re.IGNORECASE,
)
_ARTICLES = re.compile(
    r"^(?:the|a|an|your|my|our|their|its|this|that|these|those|any|no|same|another|of)\b\s*", re.IGNORECASE
)
_MOST_SHARE = Interval(0.75, 0.6, 0.9, "“most of”: common practice, no source")


def quantity_of(phrase: str, *, market: str = "us") -> Found:
    """How much of what a phrase means, and the phrase without that.

    Parameters
    ----------
    phrase : str
        In lower case, without the preposition before it.
    market : str
        Whose cups and spoons.

    Examples
    --------
    >>> quantity, name = quantity_of("half of the onions")
    >>> quantity.share.best, name
    (0.5, 'onions')
    """
    phrase = phrase.strip(" .,-")
    found = (form(phrase, market) for form in _FORMS)
    return next((one for one in found if one is not None), (Quantity(), _bare(phrase)))


def _made_thing(phrase: str, market: str) -> Found | None:
    """What is named as a whole with a word of quantity in it: "half and half"."""
    plain = _ARTICLES.sub("", phrase, count=1)
    made = next((one for one in (plain, _bare(phrase)) if is_class(one, "made-")), None)
    return (Quantity(), made) if made is not None else None


def _what_is_left(phrase: str, market: str) -> Found | None:
    """ "Any batter left"."""
    hit = _IS_LEFT.search(phrase)
    if hit is None or _REST.match(phrase):
        return None
    food = phrase[: hit.start()]
    inner, name = quantity_of(food, market=market)
    return replace(inner, extent=Extent.REST), name if inner.share is not None else _bare(food)


def _all_but(phrase: str, market: str) -> Found | None:
    hit = _ALL_BUT.match(phrase)
    if hit is None:
        return None
    inner, name = quantity_of(phrase[hit.end() :], market=market)
    return replace(inner, extent=Extent.ALL_BUT), name


def _rest(phrase: str, market: str) -> Found | None:
    """ "The rest of the oil", "the other half"."""
    hit = _REST.match(phrase)
    if hit is None:
        return None
    rest = phrase[hit.end() :]
    if hit[0].strip().endswith("other") and (part := _PART.match(rest)):
        rest = rest[part.end() :]
    inner, name = quantity_of(rest, market=market) if rest else (Quantity(), "rest")
    return replace(inner, extent=Extent.REST), name or "rest"


def _fraction(phrase: str, market: str) -> Found | None:
    """A share in figures: "2/3 of the dough", "30 % of it"."""
    hit = _FRACTION.match(phrase)
    value = numbers.read_quantity(_PERCENT.sub("", hit["num"]).strip(), 0) if hit is not None else None
    if hit is None or value is None:
        return None
    share = value.low / (100.0 if _PERCENT.search(hit["num"]) else 1.0)
    return _share(share, phrase[hit.end() :]) if 0.0 < share <= 1.0 else None


def _part_of_unit(phrase: str, market: str) -> Found | None:
    """ "Half a cup of milk": an amount, and no share."""
    return _amount(phrase, market) if _HALF_A.match(phrase) else None


def _part(phrase: str, market: str) -> Found | None:
    """A share in words: "two thirds of the dough"."""
    hit = _PART.match(phrase)
    if hit is None or phrase[0].isdigit() or _IS_UNIT.match(phrase[hit.end() :]):
        return None
    share = min(1.0, _MANY.get((hit["many"] or "a").lower(), 1) * _SHARES[hit["part"].lower()])
    quantity, name = _share(share, phrase[hit.end() :])
    return replace(quantity, extent=Extent.REST if _OTHER.search(hit[0]) else Extent.SHARE), name or "it"


def _share(share: float, rest: str) -> Found:
    return Quantity(Extent.SHARE, Interval(share, share, share)), _bare(rest)


def _most(phrase: str, market: str) -> Found | None:
    hit = _MOST.match(phrase)
    return (Quantity(Extent.SHARE, _MOST_SHARE), _bare(phrase[hit.end() :])) if hit is not None else None


def _film(phrase: str, market: str) -> Found | None:
    hit = _FILM.match(phrase)
    return (Quantity(Extent.FILM), _bare(phrase[hit.end() :])) if hit is not None else None


def _some(phrase: str, market: str) -> Found | None:
    """An amount that nobody says: "a little oil", "a splash of milk"."""
    hit = _SOME.match(phrase)
    if hit is None:
        return None
    rest = phrase[hit.end() :]
    inner, name = quantity_of(rest, market=market) if rest else (Quantity(), "")
    return (inner if inner.extent is not Extent.ALL else Quantity(Extent.SOME)), name


def _all(phrase: str, market: str) -> Found | None:
    hit = _ALL.match(phrase)
    if hit is None:
        return None
    return Quantity(whole=True), _bare(phrase[hit.end() :]) or "everything"


def _amount(phrase: str, market: str) -> Found | None:
    """A weight, a volume or a count at the head of a phrase."""
    start = _BEFORE_AMOUNT.match(phrase)
    at = start.end() if start is not None else 0
    value = numbers.read_quantity(phrase, at)
    if value is None or value.end <= at:
        return None
    unit = read_unit(phrase, value.end)
    what = kind(unit.name) if unit is not None else None
    if unit is not None and what in ("mass", "volume"):
        return _measured(value, unit.name, _bare(phrase[unit.end :]), market)
    if phrase[at : value.end].strip() in _ARTICLE:
        return (Quantity(Extent.SOME), _bare(phrase[unit.end :])) if unit is not None and what is not None else None
    behind = phrase[value.end :].strip()
    if (side := _SIDE_OF.match(behind)) is not None:
        return Quantity(), _bare(behind[side.end() :])  # "one side of the fish" is the fish
    if not behind or _NO_COUNT.match(behind):
        return Quantity(), ""
    count = Interval((value.low + value.high) / 2.0, value.low, value.high)
    counted = unit.name if unit is not None else ""
    name = _bare(phrase[(unit.end if unit is not None else value.end) :])
    return Quantity(Extent.AMOUNT, count=count, unit=counted), name


def _measured(value: numbers.Quantity, unit: str, name: str, market: str) -> Found | None:
    """A number with a unit of weight or volume as a quantity; None where the unit has no size."""
    weighs = kind(unit) == "mass"
    factor = grams_per(unit) if weighs else _millilitres(unit, market)
    if factor is None:
        return None
    low, high = value.low * factor, value.high * factor
    interval = Interval((low + high) / 2.0, low, high)
    if value.about:
        interval = Interval(interval.best, 0.85 * low, 1.15 * high, "about: common practice, no source")
    name = _MORE.sub("", name, count=1)
    if weighs:
        return Quantity(Extent.AMOUNT, grams=interval), name
    return Quantity(Extent.AMOUNT, millilitres=interval), name


def _millilitres(unit: str, market: str) -> float | None:
    try:
        return millilitres_per(unit, market=market)
    except KeyError:
        return millilitres_per(unit)


_TRAILING = re.compile(
    r"\s+(?:overnight|away|out|back|off|aside|dry|down|up|in|over|apart|again|together|all|well|evenly|too|on|through|right|straight|instead|first|separately|of)$"
)


def _bare(name: str) -> str:
    name = name.strip(" .,-")
    while (short := _TRAILING.sub("", name)) != name:
        name = short
    while (short := _ARTICLES.sub("", name, count=1)) != name:
        name = short
    return name


_PERCENT = re.compile(r"%|per\s*cent")
_OTHER = re.compile(r"\bother\b")
_MORE = re.compile(r"^(?:more|extra)\s+")
_HALF_A = re.compile(r"(?:half an?|an? half|an? quarter|three quarters of an?)(?! of (?!an?\b))\s")
_IS_UNIT = re.compile(
    r"(?:an? |one )?(?:hour|minute|inch|glass|mug|can|jar|stick|cup|teaspoon|tablespoon|pound|pint|lit|dozen|way)"
)
_BEFORE_AMOUNT = re.compile(r"(?:(?:the|your|about|approximately|another|around|roughly|an additional|remaining)\s+)*")
_SIDE_OF = re.compile(r"sides?\s+of\s+")
_NO_COUNT = re.compile(
    r"(?:°|degree|minute|mins?\b|hour|hrs?\b|second|secs?\b|day|week|mm\b|cm\b|inch|c\b|f\b|%|times?\b|x\b|side|batch)"
)
_FORMS = (
    _made_thing, _what_is_left, _all_but, _rest, _fraction, _part_of_unit, _part, _most, _film, _amount, _some, _all,
)  # fmt: skip
