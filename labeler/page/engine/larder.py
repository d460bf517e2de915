"""The larder of the folder: what stands in it, and adding or changing one food of it, as ``labeler larder`` does."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from labeler.page.engine.reading import MARKETS, Object, problem_object
from labeler.types import LabelerError

__all__ = ["PANEL_LINES", "changed_larder", "larder_object", "panel_lines"]

FIELDS = ("name", "per", "net", "ingredients", "contains", "may_contain", "like", "bar_code")
PANEL_LINES = 14
"""Lines that a form offers where a market asks for none."""


def panel_lines(market: str) -> tuple[str, ...]:
    """Ids of the lines that every package of a market prints, in its order; "none" has those of the us."""
    from labeler.rules.market import load_market

    rules = load_market(market if market in MARKETS else "us").rules("nutrients").values()
    lines = [rule for rule in rules if rule.kind == "nutrient"]
    asked = tuple(rule.id for rule in lines if rule.data.get("requirement") == "mandatory")
    return asked or tuple(rule.id for rule in lines[:PANEL_LINES])


def larder_object(path: Path) -> Object:
    """The foods of a larder file, each with what should be looked at; what of the file cannot be read is said.

    Parameters
    ----------
    path : Path
        Of the larder file, which need not be there.
    """
    from labeler.larder.check import check_food
    from labeler.larder.file import read_larder

    try:
        foods = read_larder(str(path)) if path.is_file() else ()
    except LabelerError as error:
        return {"foods": [], "refused": str(error).replace(str(path), path.name)}
    found = []
    for food in foods:
        _, problems = check_food(food, today=datetime.date.today())
        found.append(
            {key: getattr(food, key) for key in FIELDS}
            | {
                "id": food.id,
                "other_names": ", ".join(food.other_names),
                "rounded_under": food.rounded_under,
                "panel": dict(food.panel),
                "measures": ", ".join(f"{unit} = {weight}" for unit, weight in food.measures.items()),
                "read_on": food.read_on.isoformat() if food.read_on else "",
                "problems": [problem_object(one) for one in problems],
            }
        )
    return {"foods": found, "refused": ""}


def changed_larder(path: Path, given: Mapping[str, Any], replaces: str) -> tuple[str, list[Object]]:
    """The text of a larder file with a food added or changed; nothing is written.

    Parameters
    ----------
    path : Path
        Of the larder file, which need not be there.
    given : mapping
        The fields of the form, every one a text; ``panel`` a mapping of texts.
    replaces : str
        Id of the food whose place it takes; empty for a new one.

    Returns
    -------
    tuple
        The text, and what of the food should be looked at.

    Raises
    ------
    LabelerError
        For what no package says, a name that is taken, and a file that could not be read back.
    """
    from labeler.files import read_text
    from labeler.larder.check import REFUSED, check_food
    from labeler.larder.file import as_text, read_larder

    food = _food(given)
    _, problems = check_food(food, today=datetime.date.today())
    wrong = [problem.message.rstrip(".") for problem in problems if problem.code in REFUSED]
    if wrong:
        raise LabelerError(f"not written: {'; '.join(wrong)}")
    there = path.is_file() and path.stat().st_size > 0
    known = read_larder(str(path)) if there else ()
    if any(one.id == food.id and one.id != replaces for one in known):
        raise LabelerError(f"“{food.name}” is in the larder already; change it there, or give this one another name")
    rows = read_text(str(path)).rstrip("\n").split("\n") if there else []
    at = next((place for place, one in enumerate(known) if one.id == replaces), None)
    written = as_text(food).rstrip("\n").split("\n")
    if at is None:
        rows = [*rows, *([""] if rows else []), *written]
    else:
        lines = [one.line for one in known]
        start = lines[at]
        following = lines[at + 1] if at + 1 < len(lines) else len(rows) + 1
        if start is None or following is None:
            raise LabelerError(f"{path.name}: this food is changed in the file itself; begin it with [[food]]")
        end = following - 1
        while end > start and (not rows[end - 1].strip() or rows[end - 1].lstrip().startswith("#")):
            end -= 1  # remarks above the next food stay with it
        rows[start - 1 : end] = written
    return "\n".join(rows) + "\n", [problem_object(one) for one in problems]


def _food(given: Mapping[str, Any]) -> Any:
    from labeler.larder.model import LarderFood

    texts: dict[str, Any] = {key: " ".join(str(given.get(key, "")).split()) for key in FIELDS}
    if not texts["name"]:
        raise LabelerError("the food needs a name, as you call it in recipes")
    day = str(given.get("read_on", "")).strip()
    try:
        read_on = datetime.date.fromisoformat(day) if day else datetime.date.today()
    except ValueError:
        raise LabelerError(f"“{day[:20]}” is no date such as 2026-03-02") from None
    panel = given.get("panel", {})
    if not isinstance(panel, dict):
        raise LabelerError("the panel of this food cannot be read")
    return LarderFood(
        **texts,
        other_names=tuple(one.strip() for one in str(given.get("other_names", "")).split(",") if one.strip()),
        rounded_under=str(given.get("rounded_under") or "none").lower(),
        panel={str(key): " ".join(str(value).split()) for key, value in panel.items() if str(value).strip()},
        measures=_measures(str(given.get("measures", ""))),
        read_on=read_on,
    )


def _measures(text: str) -> dict[str, str]:
    """Units and their weights as typed: “slice = 28 g, can = 400 g”; raises LabelerError for anything else."""
    found = {}
    for pair in filter(None, (one.strip() for one in text.split(","))):
        unit, equals, weight = pair.partition("=")
        if not equals or not unit.strip() or not weight.strip():
            raise LabelerError(f"“{pair[:40]}”: write what one weighs as slice = 28 g")
        found[unit.strip()] = weight.strip()
    return found
