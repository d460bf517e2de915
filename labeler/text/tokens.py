"""How a name becomes the tokens that the vocabulary knows.

Case, accents, apostrophes, hyphens, plurals and the British or American spelling of a few words are folded away,
in the vocabulary and in the name alike, so that none of them can change a finding. The fold need not be a word
("cookies" and "cookie" both become ``"cooky"``): it only has to be the same for every form of the same word.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache

__all__ = ["BREAK", "fold", "key", "names_additives", "tokens"]

BREAK = ","
"""The token that stands for a comma, bracket, semicolon, slash or full stop: no phrase runs across it."""

_LETTERS = str.maketrans(
    {"œ": "oe", "æ": "ae", "ß": "ss", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "’": "'", "‘": "'"}
)
_OWNER = re.compile(r"(?<=[a-z])'s\b|(?<=s)'(?![a-z])")
_ADDITIVE = re.compile(r"\b(?:e|ins|sin)[ -]?(\d{3,4}[a-z]?)(?:i{1,3}|iv|vi{0,3})?\b")
_NUMBERED = re.compile(
    r"\b(?:preservatives?|antioxidants?|emulsifiers?|colou?r(?:ing|ant)?s?|stabili[sz]ers?|thickeners?|"
    r"(?:flavou?r|acidity|flour|food|gelling|raising|anti-?caking|glazing|firming|bulking|foaming) "
    r"(?:enhancer|regulator|treatment agent|acid|agent|additive)s?|humectants?|sweeteners?|additives?|"
    r"sulphites?|sulfites?)"
    r"[\s:([]*(?:(?:\d{3,4}[a-z]?|i{1,3}|iv|vi{0,3}|and|[,;&()/])[\s,)]*)+",
    re.IGNORECASE,
)
"""A class of additives with numbers behind it, as lists give them without the E: "preservatives (220, 202)"."""
_NUMBER = re.compile(r"(?<![\we.])(\d{3,4}[a-z]?)(?!\w)")
_WITH = re.compile(r"(?<![\w/])w/(o\b)?(?:\s+|(?=[^\W\d])|$)")
_MARKED = re.compile(r"(?<=[a-z]{3})\d{1,2}(?=[^\w.,/-]|$)|[¹²³⁰-⁹*†‡§]+")
"""Marks of a footnote that are glued to a word: "milk1", "milk²", "flour*"."""
_TOKEN = re.compile(r"[a-z0-9%]+|[,;()\[\]{}/:.+|&]|[^\x00-\x7f]+")
_SHORT = {"&": ("and",), "gf": ("gluten", "free"), "df": ("dairy", "free")}
_BREAKS = frozenset(",;()[]{}/:.+|")
_IRREGULAR = {
    "loaves": "loaf", "leaves": "leaf", "halves": "half", "calves": "calf", "knives": "knife", "wolves": "wolf",
    "geese": "goose", "octopi": "octopu", "octopodes": "octopu", "wives": "wife", "chilies": "chili",
    "calzoni": "calzone", "panettoni": "panettone", "mixes": "mix", "boxes": "box",
}  # fmt: skip
_NO_PLURAL = frozenset({"plus", "minus", "thus", "jus"})
_SPELLING = {
    "sulph": "sulf", "flavour": "flavor", "colour": "color", "yoghourt": "yogurt", "yoghurt": "yogurt",
    "yogourt": "yogurt", "fibre": "fiber", "mollusk": "mollusc", "doughnut": "donut", "licorice": "liquorice",
    "whiskey": "whisky", "hydrolyse": "hydrolyze", "pasteurise": "pasteurize", "texturise": "texturize",
    "caviare": "caviar", "caramelise": "caramelize", "sterilise": "sterilize", "chilli": "chili", "omelette": "omelet",
}  # fmt: skip
_BRITISH = re.compile("|".join(_SPELLING))
_MUTE_E = ("she", "che", "xe", "sse", "ze", "oe")


@cache
def fold(token: str) -> str:
    """One lower-case ASCII token with its plural and spelling folded away."""
    if len(token) > 4 and _BRITISH.search(token):
        token = _BRITISH.sub(lambda found: _SPELLING[found[0]], token)
    if token in _IRREGULAR:
        return _IRREGULAR[token]
    if len(token) > 3 and token.endswith("ies"):
        return token[:-3] + "y"
    if len(token) > 2 and token.endswith("ie"):
        return token[:-2] + "y"
    if token.endswith("eaux"):
        return token[:-1]
    if len(token) > 5 and token.endswith("uses") and not token.endswith(("ouses", "auses", "euses")):
        token = token[:-2]
    if len(token) > 3 and token.endswith("s") and not token.endswith("ss") and token not in _NO_PLURAL:
        token = token[:-1]
    if len(token) > 4 and token.endswith(_MUTE_E):
        token = token[:-1]
    return token


def key(phrase: str) -> str:
    """The form under which a phrase is looked up: its folded tokens joined with blanks."""
    return " ".join(tokens(phrase))


def _spelled_out(text: str) -> str:
    """A text in lower-case ASCII, with owners, "w/" and additives by number in the form that the vocabulary has."""
    lowered = _MARKED.sub(" ", text.lower().translate(_LETTERS))
    if not lowered.isascii():
        lowered = "".join(c for c in unicodedata.normalize("NFKD", lowered) if not unicodedata.combining(c))
    if "'" in lowered:
        lowered = _OWNER.sub("", lowered).replace("'", " ")
    if "w/" in lowered:
        lowered = _WITH.sub(lambda found: "without " if found[1] else "with ", lowered)
    if any(map(str.isdigit, lowered)):
        lowered = _with_classes_mended(lowered)
        lowered = _NUMBERED.sub(lambda found: _NUMBER.sub(r"e\1", found[0]), lowered)
    if "e" in lowered or "ins" in lowered:
        lowered = _ADDITIVE.sub(r"e\1", lowered)
    return lowered


def tokens(text: str) -> list[str]:
    """The folded tokens of a text, with `BREAK` wherever its punctuation ends a phrase."""
    return list(_tokens(text))


@lru_cache(maxsize=1024)
def _tokens(text: str) -> tuple[str, ...]:
    """The same, kept: a line is asked for its allergens, its claims and its offers in turn."""
    found: list[str] = []
    for token in _TOKEN.findall(_spelled_out(text)):
        if token in _BREAKS:
            if found and found[-1] != BREAK:
                found.append(BREAK)
        elif token in _SHORT:
            found += _SHORT[token]
        else:
            found.append(fold(token))
    while found and found[-1] == BREAK:
        found.pop()
    return tuple(found)


def names_additives(text: str) -> bool:
    """True for a text that gives additives by number behind their class: its figures are no amounts."""
    return any(map(str.isdigit, text)) and _NUMBERED.search(_with_classes_mended(text.lower())) is not None


CLASSES = (
    "preservative", "antioxidant", "emulsifier", "stabiliser", "stabilizer", "thickener", "humectant", "sweetener",
    "sulphite", "sulfite", "additive", "colouring", "coloring",
)  # fmt: skip
"""The classes of additives whose misspelling is mended."""
_PERHAPS_CLASS = re.compile(r"\b([a-z]{7,16})(?=[\s:([]+\d{3,4}[a-z]?\b(?![./%]| ?(?:g|kg|ml|l|mg|gr|oz|lb)\b))")


def _with_classes_mended(text: str) -> str:
    """The text with a typo in a class of additives mended before a number: "preservatves (220, 202)"."""
    return _PERHAPS_CLASS.sub(lambda found: _class_meant(found[1]), text)


@cache
def _class_meant(word: str) -> str:
    from rapidfuzz.distance import OSA

    for known in CLASSES:
        for form in (known, f"{known}s"):
            if OSA.distance(word, form, score_cutoff=1) <= 1:
                return form
    return word
