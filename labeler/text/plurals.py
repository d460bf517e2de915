"""English nouns in the singular and behind a number: one rule for food words, for what is taken of a food, for what a
batch makes, and for whatever is counted in an answer.

Endings by rule, with short lists of what the rules get wrong. The words are those of kitchens; the lists are common
knowledge of English, no source.
"""

from __future__ import annotations

from functools import lru_cache
from types import MappingProxyType

__all__ = ["counted", "plural", "singular", "singular_phrase"]

_KEEP_S = frozenset(
    "anis as asparagus basis bass bitters brussels calvados cassis chablis citrus cos coulis couscous cress debris"
    " demerara floss gas glass grass greens haas haggis hibiscus hummus iris is jus lens molasses octopus orris pastis"
    " plus press schnapps shellfish swiss texas this watercress".split()
)
_SAME = frozenset("biscotti cannoli gnocchi panini ravioli tortellini arancini blini gyoza mochi shortbread".split())
"""Nouns that are counted as they stand."""
_IE_WORDS = frozenset("brie brownie cookie pie smoothie calorie veggie pixie birdie genie sweetie tie die lie".split())
_CHE_WORDS = frozenset("brioche cache ceviche cloche douche ganache moustache niche panache pastiche quiche".split())
_ODD_PLURALS = MappingProxyType(
    {
        "leaves": "leaf",
        "loaves": "loaf",
        "halves": "half",
        "calves": "calf",
        "knives": "knife",
        "geese": "goose",
        "feet": "foot",
        "mice": "mouse",
        "radii": "radius",
        "fungi": "fungus",
        "fillets": "fillet",
        "filets": "fillet",
        "filet": "fillet",
        "species": "species",
        "series": "series",
        "lees": "lees",
        "swedes": "swede",
        "matzos": "matzo",
        "roes": "roe",
    }
)


@lru_cache(maxsize=65536)
def singular(word: str) -> str:
    """One word in lower case in the singular: "berries" → "berry", "tomatoes" → "tomato", "leaves" → "leaf".

    English plural endings by rule, with short lists of exceptions; a word that is no plural comes back unchanged.
    """
    if word in _ODD_PLURALS:
        return _ODD_PLURALS[word]
    if len(word) < 4 or word[-1] != "s" or word in _KEEP_S or word.endswith(("ss", "us")):
        return word
    if word.endswith("ies"):
        return word[:-1] if word[:-1] in _IE_WORDS else word[:-3] + "y"
    if word.endswith(("leaves", "loaves")):
        return f"{word[:-3]}f"  # "bayleaves"
    if word.endswith("ves"):
        return word[:-1]
    if word.endswith(("oes", "ches", "shes", "sses", "xes", "zzes")):
        return word[:-1] if word[:-1] in _CHE_WORDS else word[:-2]
    return word[:-1]


def singular_phrase(text: str) -> str:
    """A phrase with its last word in the singular: "Lunch boxes" → "Lunch box"; capital letters stay."""
    head, space, last = text.rpartition(" ")
    one = singular(last.lower())
    kept = next((at for at, letter in enumerate(one) if last[at : at + 1].lower() != letter), len(one))
    return f"{head}{space}{last[:kept]}{one[kept:]}"


def plural(noun: str) -> str:
    """A noun of the kitchen in the plural, its last word changed: "box" → "boxes", "lunch box" → "lunch boxes"."""
    if noun.split()[-1:] and noun.split()[-1] in _SAME:
        return noun
    if noun.endswith(("ch", "sh", "s", "x", "z")):
        return f"{noun}es"
    if noun.endswith("y") and noun[-2:-1] not in "aeiou":
        return f"{noun[:-1]}ies"
    if noun.endswith(("loaf", "half", "leaf")):
        return f"{noun[:-1]}ves"
    return f"{noun}s"


def counted(number: float, noun: str) -> str:
    """A number with its noun: "1 serving", "2.5 hours", "0 faults", "10,000 recipes"; half of one is "0.5 hour".

    Parameters
    ----------
    number : float
        Not negative; whole numbers are written whole, others with three significant digits.
    noun : str
        In the singular.
    """
    written = f"{number:,.0f}" if number == int(number) or number >= 1000 else f"{number:.3g}"
    return f"{written} {noun if 0 < float(written.replace(',', '')) <= 1 else plural(noun)}"
