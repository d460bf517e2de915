"""What mends a problem, as an edit of the text that the cook can take with one key.

A mend is chosen by the problem's code and by what was found out about the line, never by the words of a message.
The page applies it to the row in the editor, so that the file stays the truth.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from labeler.foods.model import WeighedLine
    from labeler.nutrition.analysis import Nutrition

__all__ = ["HEAD_FOR", "mend_of_advice", "mends_of"]

Mend = dict[str, Any]

CHOOSE = frozenset({"no-such-food", "weak-match", "two-foods", "one-or-all", "second-food-lost", "salt-type"})
"""Codes of lines whose food is to be chosen."""
WEIGH = frozenset({
    "no-weight", "default-weight", "amount-absurd", "amount-zero", "amounts-disagree", "volume-not-filled",
    "drained-or-not", "pieces-unknown", "shared-amount",
})  # fmt: skip
"""Codes of lines that a number from the scale settles."""
SPELLED = frozenset({"respelled", "part-spelled"})
HEAD_FOR = {
    "no-title": "title",
    "no-net": "net",
    "net-unread": "net",
    "serving-unread": "serving",
    "serving-noun": "serving",
    "serving-over-batch": "serving",
    "serving-over-pack": "serving",
    "packs-over-batch": "makes",
    "packs-under-batch": "makes",
    "makes-unread": "makes",
}
"""Key of the head that a problem asks for."""

_NUMBER = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?)(?=\s*g\b)")


def mends_of(line: WeighedLine, text: str) -> list[Mend]:
    """What may mend the problems of one line, the most likely first; each with its words for a button.

    Parameters
    ----------
    line : WeighedLine
    text : str
        The recipe as it stands in the editor.
    """
    from labeler.foods.composition.food_table import load_table

    codes = {problem.code for problem in line.problems}
    found: list[Mend] = []
    match = line.match
    if codes & SPELLED and match is not None and match.read_as and match.read_as != line.line.name:
        found.append({"kind": "word", "from": line.line.name, "to": match.read_as, "label": f"Write “{match.read_as}”"})
    if "mark-missing" in codes:
        found.append({"kind": "prefix", "prefix": "- ", "label": "It is an ingredient"})
        found.append({"kind": "prefix", "prefix": "> ", "label": "It is a step"})
    if match is not None and codes & CHOOSE:
        table = load_table()
        ids = [one for one in (match.food, *match.alternatives) if one is not None]
        found += [{"kind": "pin", "food": one, "label": table.describe(one)} for one in ids[:4]]
    if codes & CHOOSE:
        found.append({"kind": "find", "label": "Find another food"})
    if codes & WEIGH:
        best = f"{line.grams.best:.3g}" if line.grams is not None else ""
        found.append({"kind": "weigh", "grams": best, "label": "Weigh it"})
    if "optional-counted" in codes:
        found.append({"kind": "remove", "label": "Leave it out"})
    return found


def mend_of_advice(item: Mapping[str, Any], nutrition: Nutrition, text: str) -> Mend:
    """How a measurement is written into the text.

    Returns
    -------
    dict
        ``kind``: ``line`` (a row takes the place of another), ``step`` (a sentence behind another), ``head`` (a key of
        the head) or ``package`` (a food for the larder). Where a scale gives the number, ``number`` is the best
        estimate that stands in the text to be written, for the cook's own to take its place.
    """
    typed = str(item["type"]).strip("“”")
    number = _NUMBER.search(typed)
    mend: Mend = {"kind": "line", "type": typed, "number": number[1] if number and "{food" not in typed else None}
    if typed.startswith("labeler larder add"):
        name = re.search(r"--name “([^”]*)”", typed)
        return {"kind": "package", "name": name[1] if name else "", "number": None}
    if typed.startswith("serving:"):
        return mend | {"kind": "head", "key": "serving"}
    recipe = nutrition.weighed.recipe
    if typed.startswith(">"):
        steps = [step for part in recipe.parts for step in part.handling if step.text and step.text in item["measure"]]
        last = max((step.number for part in recipe.parts for step in part.handling), default=None)
        return mend | {"kind": "step", "line": max(steps, key=lambda one: len(one.text)).number if steps else last}
    bare = " ".join(typed.partition("{")[0].split())
    lines = [line for part in recipe.parts for line in part.lines]
    same = [line for line in lines if " ".join(line.text.partition("{")[0].split()) == bare]
    return mend | {"line": same[0].number if same else None, "from": same[0].text if same else ""}
