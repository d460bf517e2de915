"""How the head of a recipe divides the dish: ``makes: 8 boxes``, ``serves: 4``, ``makes: 7 jars``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from labeler.kitchen.ledger import Servings

__all__ = ["number_in", "per_unit", "read_servings"]

# In order of preference: what a serving is comes before what the batch makes.
_HEAD_KEYS = ("serves", "servings", "makes")
_NUMBER = re.compile(
    r"(?P<whole>\d+(?:[.,]\d+)?)?(?:\s*(?P<glyph>[¼½¾⅓⅔⅛])|[\s-]+(?P<up>\d+)\s*[/⁄]\s*(?P<down>\d+))?"
    r"(?:\s*(?:-|–|to|or)\s*(?P<to>\d+(?:[.,]\d+)?))?"
)
_GLYPHS = {"¼": 0.25, "½": 0.5, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125}
_DOZEN = re.compile(r"\s*dozen\b\s*", re.IGNORECASE)
_EACH = re.compile(r"^(?:one|an?|each|per|every|1)\s+(?P<noun>.+)$", re.IGNORECASE)
_ABOUT = re.compile(r"^(?:about|around|roughly|approximately|approx\.?|ca?\.)\s+", re.IGNORECASE)


def number_in(text: str) -> tuple[float, str] | None:
    """The number that a text opens with and what follows it; a range gives its middle; None without a number."""
    text = _ABOUT.sub("", text.strip())
    found = _NUMBER.match(text)
    if found is None or not (found["whole"] or found["glyph"]):
        return None
    value = float((found["whole"] or "0").replace(",", "."))
    if found["glyph"]:
        value += _GLYPHS[found["glyph"]]
    elif found["up"] and float(found["down"]) > 0.0:
        value += float(found["up"]) / float(found["down"])
    if found["to"]:
        value = (value + float(found["to"].replace(",", "."))) / 2.0
    rest = text[found.end() :]
    dozen = _DOZEN.match(rest)
    if dozen:
        value, rest = value * 12.0, rest[dozen.end() :]
    return value, rest.strip()


def read_servings(head: Mapping[str, Any]) -> Servings | None:
    """Servings from the head; None where it gives no count above zero."""
    for key in _HEAD_KEYS:
        if head.get(key) is None:
            continue
        text = str(head[key])
        counted = number_in(text)
        if counted is not None and counted[0] > 0.0:
            count, unit = counted
            return Servings(count, "" if key != "makes" and unit in ("people", "persons") else unit, text)
    return None


def per_unit(title: str, servings: Servings | None, head: Mapping[str, Any]) -> float:
    """How often a part is made for the whole recipe: 8 for "One box" where the head makes 8 boxes, else 1."""
    each = _EACH.match(title.strip())
    if each is None:
        return 1.0
    noun = each["noun"].strip().lower()
    for key in ("makes", "serves", "servings"):
        counted = number_in(str(head.get(key, "")))
        if counted is None or counted[0] <= 0.0:
            continue
        unit = counted[1].lower()
        if _same_noun(noun, unit) or (key != "makes" and _same_noun(noun, "servings")) or _same_noun(noun, "portions"):
            return counted[0]
    return servings.count if servings is not None and not servings.unit else 1.0


def _same_noun(one: str, many: str) -> bool:
    """Whether "box" is what "boxes" are several of; the last word counts ("lunch box", "lunch boxes")."""
    if not one or not many:
        return False
    single, plural = one.split()[-1], many.split()[-1]
    return plural in (single, single + "s", single + "es") or (single.endswith("y") and plural == single[:-1] + "ies")
