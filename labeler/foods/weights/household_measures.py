"""SR28's household weights, taken apart: "cup, chopped", "large (3-1/4\" dia)", "oz (23 whole kernels)".

SR28 writes each measure as an amount, a free text and a weight. Here the text becomes a volume or a piece, a form
("chopped", "packed"), a size and the words that name the piece, so that a recipe's "2 cups chopped" or "1 large"
finds it. Each food is read when it is first asked for, once.
"""

from __future__ import annotations

import re
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from labeler.foods.composition.food_table import Measure, load_table
from labeler.text.plurals import singular

__all__ = ["CUP_ML", "SIZES", "Household", "form_of", "forms_in", "households", "own_basis"]

CUP_ML = 236.5882365
"""The US customary cup that SR28's measures use [mL]."""

# SR28's own volume words, in US customary measure [mL].
_VOLUMES = MappingProxyType(
    {
        "cup": CUP_ML,
        "tbsp": CUP_ML / 16,
        "tablespoon": CUP_ML / 16,
        "tsp": CUP_ML / 48,
        "teaspoon": CUP_ML / 48,
        "fl oz": CUP_ML / 8,
        "pint": CUP_ML * 2,
        "quart": CUP_ML * 4,
        "liter": 1000.0,
        "ml": 1.0,
        "milliliter": 1.0,
    }
)
_MASS = frozenset({"oz", "lb", "gram", "g"})

SIZES = ("extra small", "small", "medium", "large", "extra large", "jumbo")
_SIZE = re.compile(r"\b(extra small|extra large|small|medium|large|jumbo)\b")

# Words of form, brought to one word each. What a cook cuts and what SR28 weighed seldom use the same word.
_FORMS = MappingProxyType(
    {
        "chopped": "chopped diced dice cube cubed chunk piece bit minced mince crumb-sized cut hashed",
        "sliced": "sliced slice slivered-thin julienne julienned strip ring rounds shaved",
        "grated": "grated shredded",
        "mashed": "mashed pureed puree pulp",
        "whole": "whole",
        "halves": "halved",
        "quartered": "quartered quarter wedge section segment",
        "slivered": "slivered sliver",
        "ground": "ground powdered powder meal",
        "crumbled": "crumbled crumble",
        "melted": "melted",
        "sifted": "sifted",
        "whipped": "whipped",
        "leaves": "leaf",
        "sprigs": "sprig",
        "crumbs": "crumb",
        "crushed": "crushed",
        "drained": "drained",
        "cooked": "cooked boiled",
        "balls": "ball",
        "flakes": "flaked flake",
        "thawed": "thawed",
        "prepared": "prepared yield reconstituted",
    }
)
_FORM_OF = MappingProxyType({word: form for form, text in _FORMS.items() for word in text.split()})
_WHOLE_KIND = re.compile(r"\bwhole[- ](?:grain|wheat|milk|meal|fat|egg)")
_UNPACKED = re.compile(r"\b(?:not packed|unpacked|loosely packed|loose)\b")
_PACKED = re.compile(r"\bpacked\b")
_UNSIFTED = re.compile(r"\bunsifted\b")

_FRACTION = r"(\d+/\d+|\d+(?:\.\d+)?)"
_SERVED_VOLUME = re.compile(rf"\b(?:serving|portion)s?\b.*?{_FRACTION}\s*(cup|tbsp|tsp|fl oz)\b")
_UNIT = re.compile(
    r"^(fl oz|cups?|tbsp|tablespoons?|tsp|teaspoons?|pints?|quarts?|liters?|milliliters?|ml|oz|lbs?|grams?|g)\b"
)
_LENGTH = re.compile(r'(?<![-\d/])(\d+)(?:[+ -]*-(\d+)/(\d+))?"')
_BETWEEN = re.compile(r'(\d+)-(\d+)"')
_KERNELS = re.compile(r"\((?:approx )?(\d+)(?:-(\d+))?\s*(?:whole\s+|medium\s+)?[a-z]+\)")
_SHARE = re.compile(r"\b1/\d+ of\b")
_WITHOUT = re.compile(r"\b(?:with|without)\b.*|,[^,]* removed\b")
_YIELDS = re.compile(r"\((?:yields|makes) [^()]*\)")
_BRACKETS = re.compile(r"\([^()]*\)|\(.*$")
_WORD = re.compile(r"[a-z]+")
# What names no piece that a cook would count out.
_NO_PIECE = frozenset({"serving", "nlea", "portion", "unit-yield", "recipe", "order"})


class Household(NamedTuple):
    """One household weight of one food, per one of its unit.

    Parameters
    ----------
    grams : float
        Weight of one [g].
    millilitres : float or None
        Volume of one [mL], None for a piece.
    forms : frozenset of str
        What was done to it, as `form_of` names it; empty where the text says nothing.
    size : str or None
        One of `SIZES`, for a piece.
    noun : frozenset of str
        The words that name the piece, singular: ``{"stalk"}``, ``{"plum", "tomato"}``; empty for a bare size.
    text : str
        SR28's own words with its amount, such as ``"1 cup, chopped"``.
    inches : float or None
        Its length or diameter [in] where the text gives one, for a piece.
    """

    grams: float
    millilitres: float | None
    forms: frozenset[str]
    size: str | None
    noun: frozenset[str]
    text: str
    inches: float | None = None


def own_basis(measure: Household) -> str:
    """The reason for a weight in words: "1 cup, chopped = 160 g in the table's own measure (SR28)"."""
    amount = float(measure.text.split(" ", 1)[0])
    return f"{measure.text} = {measure.grams * amount:.4g} g in the table's own measure (SR28)"


def form_of(word: str) -> str | None:
    """The form that one singular word names, such as ``"chopped"`` for "diced"; None for any other word."""
    return _FORM_OF.get(word)


def forms_in(text: str) -> frozenset[str]:
    """Every form that a lower-case text names, packing included: "loosely packed leaves" → unpacked, leaves."""
    found = {form for word in _WORD.findall(text) if (form := _FORM_OF.get(singular(word)))}
    if _WHOLE_KIND.search(text):
        found.discard("whole")
    if "halves" in text:
        found.add("halves")
    if _UNPACKED.search(text):
        found.add("unpacked")
    elif _PACKED.search(text):
        found.add("packed")
    if _UNSIFTED.search(text):
        found.discard("sifted")
    return frozenset(found)


def _number(text: str) -> float:
    above, _, below = text.partition("/")
    return float(above) / float(below or 1)


def _read(measure: Measure) -> list[Household]:
    """One SR28 measure as none, one or two household weights."""
    text = measure.text.lower()
    amount = measure.amount or 1.0
    label = f"{measure.amount:g} {measure.text}"
    served = _SERVED_VOLUME.search(text)
    if served:
        volume = amount * _number(served[1]) * _VOLUMES[served[2]]
        return [Household(measure.grams / volume * CUP_ML, CUP_ML, frozenset(), None, frozenset(), label)]
    plain = _BRACKETS.sub(" ", text)
    unit = _UNIT.match(text)
    each = measure.grams / amount
    if unit:
        name = unit[1].rstrip("s") if unit[1] not in _VOLUMES else unit[1]
        if name in _MASS or name not in _VOLUMES:
            kernels = _KERNELS.search(text)
            if not kernels or name != "oz":
                return []
            count = (int(kernels[1]) + int(kernels[2] or kernels[1])) / 2
            return [Household(each / count, None, frozenset(), None, frozenset({"whole"}), label)]
        # A bracket after a volume tells its form ('1/2" pieces', "not packed") or says it again in another unit.
        forms = forms_in(_YIELDS.sub(" ", text[unit.end() :]))
        noun = frozenset(word for word in _nouns(plain[unit.end() :]) if word not in _FORM_OF and word != "half")
        return [Household(each, _VOLUMES[name], forms, None, noun, label)]
    size = _SIZE.search(plain)
    noun = _nouns(_SIZE.sub(" ", _WITHOUT.sub(" ", plain)))
    inches = None if _SHARE.search(text) else _inches(text)
    if _SHARE.search(text) and noun <= {"piece"}:
        noun = frozenset({"slice"})
    if noun & _NO_PIECE or ("yield from" in text and "raw meat" in text):
        return []
    return [Household(each, None, forms_in(plain), size[1] if size else None, noun, label, inches)]


def _inches(text: str) -> float | None:
    """The first length of a text in inches, in the middle of its range: '7-1/4" to 8-1/2"' is 7.9."""
    found = [
        float(whole) + (float(above) / float(below) if above else 0.0) for whole, above, below in _LENGTH.findall(text)
    ]
    if not found:
        between = _BETWEEN.search(text)
        return (float(between[1]) + float(between[2])) / 2 if between else None
    return sum(found[:2]) / len(found[:2]) if " to " in text else found[0]


def _nouns(text: str) -> frozenset[str]:
    found = {singular(word) for word in _WORD.findall(text)}
    return frozenset(word for word in found if len(word) > 2 and word not in _STOP and word not in _FORM_NOT_PIECE)


_STOP = frozenset(
    "and the with without each about approx includes include yields yield from dia inch long thick thin only "
    "medium large small regular size packed not loosely firmly unpacked unsifted total contents high diameter refuse "
    "removed bone skin single".split()
)
# "slice", "half", "leaf", "piece" are forms of a cup and pieces of their own; past participles are forms only.
_FORM_NOT_PIECE = frozenset(word for word in _FORM_OF if word.endswith(("ed", "d")) and word not in ("seed", "bread"))


@lru_cache(maxsize=16384)
def households(food: str) -> tuple[Household, ...]:
    """The household weights of one food, in SR28's order; raises KeyError for an id that is not in the table."""
    return tuple(found for measure in load_table().measures(food) for found in _read(measure))
