"""Lines that count one food and use another: "juice of 2 limes", "grated zest of 1 lemon", "kernels from 3 ears corn".

The amount counts what is bought, the name is what goes in ("lime juice"), and `Line.derived` says what is taken.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from labeler.parsing.ingredient.amounts import read_measures
from labeler.parsing.model import Amount
from labeler.parsing.units import kind
from labeler.text.deferred_pattern import pattern_when_used
from labeler.text.plurals import singular_phrase

__all__ = ["Derivation", "derivation_before", "derivation_behind", "derivation_measured", "derived_name"]

_BEFORE = pattern_when_used(
    r"(?:the |about )?(?P<how>(?:(?:freshly|fresh|finely|coarsely|squeezed|grated|strained|minced|chopped|julienned|"
    r"large|thick|thin|little|few|strips?|pieces?|slivered|shredded|extra) )*(?:of )?)"
    r"(?P<what>juice and (?:finely |freshly )?(?:grated )?(?:zest|rind|peel)|(?:zest|rind|peel) and (?:the )?juice|"
    r"juice|zest|rind|peels?|skins?|kernels?|leaves|seeds|yolks?|whites?|flesh|pulp|meat|stems|stalks|fronds|tops|"
    r"greens|cloves|florets)"
    r"(?:,? (?:of|from) | (?=[\d.]|(?:half|an?|one|two|three) ))(?P<rest>.*)",
    re.I,
)
# "1 lemon, juice of", "2 limes, juiced", "1 lemon, zested and juiced", "1/2 lemon (juice only)"
_ACT = (
    r"(?:juiced|(?:freshly )?squeezed for juice|(?:freshly )?(?:juice squeezed|squeezed juice)|juice|"
    r"(?:finely |freshly )?(?:grated )?(?:zested|zest|rind))"
)
_BEHIND = pattern_when_used(
    rf"(?P<one>{_ACT})(?:(?: and|,|,? then| &) (?P<two>{_ACT}))?(?: of| only)?(?: (?:it|them))?", re.I
)
# "2 eggs, whites only", "4 sprigs thyme, leaves picked": only a part of what is counted goes in.
_ONLY = pattern_when_used(
    r"(?:(?P<part>juice|zest|rind|peel|flesh|pulp|kernels?|seeds?|yolks?|whites?|leaves|needles|tops|greens|florets)"
    r" (?:only|alone)|(?P<what>leaves|needles) (?:(?:picked|stripped|plucked|pulled)(?: off)?"
    r"(?: (?:from|off) (?:the )?(?:stems?|stalks?))?|removed(?= and)))(?: and (?P<done>(?:\w+ly )?\w+ed))?",
    re.I,
)
# A part of a vegetable that the table has no entry for: "white part of 3 leeks" is leeks, their white part.
_SHARE_OF = pattern_when_used(
    r"(?:the )?(?P<part>(?:(?:white|green|pale|light|tender|inner|bottom|top|and|only|[a-z]+-green),? )+parts?"
    r"(?: only)?),? (?:of|from) (?P<rest>.*)",
    re.I,
)
# "zest & juice of 1 lime", "juice + zest of 2 lemons"
_AND = pattern_when_used(
    r"^((?:[a-z]+ly |grated |fresh |the )*(?:juice|zest|rind|peel)) ?[&+/] ?"
    r"(?=(?:[a-z]+ly |grated |fresh |the )*(?:juice|zest|rind|peel)\b)",
    re.I,
)
# "1 lemon (2 tbsp juice)", "3 lemons (1 dl of juice + the zest)": what stands behind the measure in the bracket.
_GIVES = pattern_when_used(r"(?:(?:yields?|yielding|gives?|giving|makes?|for) )?", re.I)
_MEASURED = pattern_when_used(
    r"(?:of )?(?:the |its |fresh |freshly squeezed |squeezed )*juice"
    r"(?P<zest>,? ?(?:and|&|\+|plus) ?(?:the |its |some |(?:finely |freshly )?grated )*(?:zest|rind|peel))?"
    r"(?P<rest>(?:\W.*)?)",
    re.I,
)
_SAME = {"rind": "zest", "peels": "peel", "peel": "peel", "skins": "skin", "kernel": "kernels", "yolk": "yolks",
         "white": "whites", "seed": "seeds", "needles": "leaves"}  # fmt: skip
_LEAFY = frozenset(
    "greens kale chard spinach lettuce arugula cabbage sorrel dandelion collards cress watercress".split()
)


class Derivation(NamedTuple):
    """What is taken ("juice", "juice and zest"), how ("freshly squeezed"), and the text that names what is counted."""

    what: str
    how: str
    rest: str


def derivation_before(text: str) -> Derivation | None:
    """What a line takes that begins "Juice of 2 limes", or None.

    Of "white part of 3 leeks" nothing else is made: what is taken is empty, and the part is how it is prepared.
    """
    text = _AND.sub(r"\1 and ", text)
    found = _BEFORE.match(text)
    if found is None:
        share = _SHARE_OF.match(text)
        return Derivation("", share["part"].strip(), share["rest"]) if share is not None else None
    words = found["what"].lower().replace(",", "")
    what = "juice and zest" if " and " in words else _SAME.get(words, words)
    return Derivation(what, found["how"].replace(" of ", " ").strip(), found["rest"])


def derivation_behind(segment: str) -> Derivation | None:
    """What a phrase behind a counted food takes, "juice of", "zested and juiced" or "leaves picked", or None."""
    found = _BEHIND.fullmatch(segment)
    if found is None:
        only = _ONLY.fullmatch(segment)
        if only is None:
            return None
        what = (only["part"] or only["what"]).lower()
        return Derivation(_SAME.get(what, what), only["done"] or "", "")
    acts = [act.lower() for act in (found["one"], found["two"]) if act]
    kinds = sorted({"juice" if "juice" in act else "zest" for act in acts})
    return Derivation(" and ".join(kinds), "", "")


def derivation_measured(note: str) -> tuple[Derivation, tuple[Amount, ...]] | None:
    """What a bracket behind a counted fruit measures of it, "2 tbsp juice", with the measures; or None."""
    measures = read_measures(note, _GIVES.match(note).end())  # type: ignore[union-attr]  # it matches nothing too
    if measures is None or any(kind(one.unit) not in ("mass", "volume") for one in measures.amounts):
        return None
    found = _MEASURED.fullmatch(note[measures.end :].strip())
    if found is None:
        return None
    what = "juice and zest" if found["zest"] else "juice"
    return Derivation(what, "", found["rest"].strip(" +,;&")), measures.amounts


def derived_name(counted: str, what: str) -> str:
    """The name of what is taken: "lime juice" of "limes"; two foods, "lime juice and lime zest", of two."""
    head, _, last = counted.removeprefix("whole ").rpartition(" ")
    if what == "leaves" and last.lower() in _LEAFY:
        return counted  # "collard greens, leaves only"
    food = singular_phrase(f"{head} {last}".strip())
    return " and ".join(f"{food} {part}" for part in what.split(" and "))
