"""A package's ingredient list as text, taken apart: names in order, shares, and what stands in brackets.

"Ingredients: rapeseed oil, dried chilli (24 %), soy sauce (water, soybeans, WHEAT, salt), contains 2 % or less of:
sugar. Contains: soy, wheat. May contain peanuts." Commas, semicolons and full stops divide, brackets of any kind
nest, and the sentences about allergens behind the list are statements and no ingredients.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from labeler.foods.user_foods import PackIngredient

__all__ = ["PackList", "read_list"]

_OPENS, _CLOSES = "([{", ")]}"
_PERCENT = re.compile(
    r"\(?\s*(?:min\.?|minimum|at least|<|≤|approx\.?|~)?\s*(\d+(?:[.,]\d+)?)\s*%\s*\)?", re.IGNORECASE
)
_HEADING = re.compile(r"^\s*(?:made (?:with|from|of)\s+)?ingredients?(?: list)?\s*[:\-–]\s*", re.IGNORECASE)
_SMALL = re.compile(
    r"(?:and\s+)?(?:(?:contains?|with)\s+)?(?:(?:less than|up to|not more than|<|≤)\s*)?\d+(?:[.,]\d+)?\s*%\s*"
    r"(?:or less\s+|of less\s+)?(?:of(?: each)?(?: of)?(?: the following)?)?\s*:?\s*",
    re.IGNORECASE,
)
_SMALL_WORDS = re.compile(
    r"^(?:(?:and\s+)?contains?\s+)?(?:less than\s+)?\d+(?:[.,]\d+)?\s*%\s*(?:or less\s*)?(?:of\b)", re.I
)
_STATES = re.compile(
    r"(?:^|(?<=[.;\n)\]]))\s*(?:allergy advice|allergens?|contains)\s*(?::|\s(?!\d|less))\s*([^.;\n]+)", re.I
)
_WARNS = re.compile(
    r"(?:^|(?<=[.;,\n)\]]))\s*((?:may (?:also )?contain|may be present|produced in|made (?:in|on)|"
    r"manufactured (?:in|on)|packed in|processed in|not suitable for)\b[^.\n]*)",
    re.IGNORECASE,
)
_DEEPEST = 12
_MOST = 500


@dataclass(frozen=True, slots=True)
class PackList:
    """A list taken apart: its ingredients in order, and the statements that stood behind them."""

    ingredients: tuple[PackIngredient, ...]
    contains: str = ""
    may_contain: str = ""
    broken: bool = False


def read_list(text: str) -> PackList:
    """An ingredient list as printed, taken apart.

    Parameters
    ----------
    text : str
        Any text; brackets that do not match are read as far as they do and `broken` is True.
    """
    written = _HEADING.sub("", " ".join(text.replace("\n", ". ").split()))
    warned = "; ".join(found.strip() for found in _WARNS.findall(written))
    written = _WARNS.sub(" ", written)
    stated = "; ".join(found.strip() for found in _STATES.findall(written))
    written = _STATES.sub(" ", written)
    balanced = all(written.count(one) == written.count(two) for one, two in zip(_OPENS, _CLOSES, strict=True))
    return PackList(_entries(written, 0), stated, warned, not balanced)


def _entries(text: str, depth: int) -> tuple[PackIngredient, ...]:
    found = (_entry(part, depth) for part in _split(text)[:_MOST])
    return tuple(one for one in found if one is not None)


def _split(text: str) -> list[str]:
    """The text at its commas, semicolons and closing full stops, those in brackets and in numbers apart."""
    parts, depth, start = [], 0, 0
    for at, sign in enumerate(text):
        if sign in _OPENS:
            depth += 1
        elif sign in _CLOSES:
            depth = max(depth - 1, 0)
        elif depth == 0 and (sign in ",;•·" or (sign == "." and _ends(text, at))):
            if sign == "," and text[at - 1 : at].isdigit() and text[at + 1 : at + 2].isdigit():
                continue
            parts.append(text[start:at])
            start = at + 1
    parts.append(text[start:])
    return parts


def _ends(text: str, at: int) -> bool:
    """Whether the full stop at `at` ends an ingredient and is not part of a number or a short word ("No. 5")."""
    before, after = text[:at].rsplit(" ", 1)[-1], text[at + 1 : at + 2]
    return after in ("", " ") and len(before) > 2


def _entry(part: str, depth: int) -> PackIngredient | None:
    """One ingredient with its share and what it is made of; None for a part without a word."""
    part = part.strip(" .:*†‡•·-–—")
    small = _SMALL_WORDS.match(part)
    if small is not None:
        part = _SMALL.sub("", part, count=1).strip(" :.")
    name, inner = _unbracketed(part, depth)
    shares = [_share(found[1]) for text in inner if (found := _PERCENT.fullmatch(text.strip())) is not None]
    components = [
        one for text in inner if _PERCENT.fullmatch(text.strip()) is None for one in _entries(text, depth + 1)
    ]
    behind = _PERCENT.search(name) if small is None else None
    if behind is not None:
        shares.append(_share(behind[1]))
        name = name[: behind.start()] + " " + name[behind.end() :]
    percent = next((share for share in shares if share is not None), None)
    head, colon, rest = name.partition(":")
    if colon and rest.strip() and len(head.split()) <= 4:  # "emulsifier: soya lecithin"
        components[:0] = _entries(rest, depth + 1)
        name = head
    return _named(" ".join(name.replace("*", " ").split()).strip(" .:-–—_"), percent, components)


def _unbracketed(part: str, depth: int) -> tuple[str, list[str]]:
    """A part without its brackets, and what stands in each of them."""
    opening = next((at for at, sign in enumerate(part) if sign in _OPENS), None)
    inner: list[str] = []
    while opening is not None and depth < _DEEPEST:
        closing = _closing(part, opening)
        inner.append(part[opening + 1 : closing])
        part = f"{part[:opening]} {part[closing + 1 :]}"
        opening = next((at for at, sign in enumerate(part) if sign in _OPENS), None)
    return part, inner


def _named(name: str, percent: float | None, components: list[PackIngredient]) -> PackIngredient | None:
    """An ingredient under its name, or under that of its first component where it has none of its own."""
    if not name:
        if len(components) == 1:
            return components[0]
        return PackIngredient(components[0].name, percent, tuple(components[1:])) if components else None
    # Capitals are the package's way to set an allergen off, or its typewriter's; what a list sets off is ours to say.
    if name.isupper() and len(name) > 3 and not any(sign.isdigit() for sign in name):
        name = name.lower()
    return PackIngredient(name, percent, tuple(components))


def _share(written: str) -> float | None:
    share = float(written.replace(",", "."))
    return share if share <= 100 else None


def _closing(text: str, opening: int) -> int:
    """Where the bracket at `opening` closes; the end of the text where it never does."""
    depth = 0
    for at in range(opening, len(text)):
        if text[at] in _OPENS:
            depth += 1
        elif text[at] in _CLOSES:
            depth -= 1
            if depth == 0:
                return at
    return len(text)
