"""One recipe of a batch, in a process of its own: its figures, its allergens, its label, or why there are none."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeler.json_numbers import json_number
from labeler.markets import market_of
from labeler.types import LabelerError, refused

__all__ = ["TAGS", "Task", "digest_of", "do"]

TAGS = ("ENERC_KCAL", "FAT", "FASAT", "FATRN", "CHOLE", "NA", "CHOCDF", "FIBTG", "SUGAR", "SUGAR_ADDED", "PROCNT",
        "VITD", "CA", "FE", "K")  # fmt: skip
"""Nutrients of the table, by tagname."""


@dataclass(frozen=True, slots=True)
class Task:
    """A recipe to do.

    Parameters
    ----------
    file : str
        Relative to the folder, with forward slashes.
    path : str
        Where it stands.
    digest : str
        Of the recipe, the settings and the larder.
    market : str or None
        Whose rules hold; None for the recipe's own.
    label : str or None
        Where its label goes; None for no label.
    layout, size : str
        Of the label.
    """

    file: str
    path: str
    digest: str
    market: str | None = None
    label: str | None = None
    layout: str = "card"
    size: str = "a6"


def digest_of(path: Path, settings: str) -> str:
    """SHA-256 of a recipe's bytes, of the settings and of each larder that it sees; empty where it cannot be read.

    Each is told from the next by its length, and no larder from an empty one.
    """
    from labeler.larder.find import larder_paths

    try:
        pieces = [settings.encode(), path.read_bytes()]
        pieces += [larder.read_bytes() if larder.is_file() else b"no larder" for larder in larder_paths(str(path))]
    except OSError:
        return ""
    found = hashlib.sha256()
    for piece in pieces:
        found.update(f"{len(piece)}:".encode() + piece)
    return found.hexdigest()


def do(task: Task) -> dict[str, Any]:
    """Do one recipe; whatever it holds, the answer is an entry for the journal."""
    entry: dict[str, Any] = {"file": task.file, "digest": task.digest}
    try:
        return entry | {"outcome": "done"} | _figures(task)
    except LabelerError as refused:
        return entry | {"outcome": "refused", "said": " ".join(str(refused).split())}
    except Exception as fault:
        return entry | {"outcome": "fault", "said": f"{type(fault).__name__}: {' '.join(str(fault).split())[:300]}"}


def _figures(task: Task) -> dict[str, Any]:
    from labeler.allergens import assess
    from labeler.importers.read_any import read_any
    from labeler.nutrition.analysis import analyse
    from labeler.rules.missing_values import needed_for, settled

    recipe = read_any(task.path)
    market = market_of(recipe, task.market)
    nutrition = analyse(recipe, market=market, nutrients=needed_for(TAGS, market))
    found, per_serving = assess(nutrition.weighed, market=market), settled(nutrition.per_serving, market)
    problems = list(nutrition.problems)
    held_back = [problem.code for problem in refused(problems)]
    lacks: list[str] = []
    if task.label is not None and not held_back:
        from labeler.files import write_whole
        from labeler.label.make import make_label

        made = make_label(recipe, layout=task.layout, size=task.size, market=market)
        Path(task.label).parent.mkdir(parents=True, exist_ok=True)
        write_whole(task.label, made.pdf)
        problems = list(made.problems)
        lacks = [lack.element.value for lack in made.check.lacks]
    return {
        "title": recipe.title,
        "market": market,
        "servings": json_number(nutrition.servings),
        "serving_g": json_number(nutrition.serving_g),
        "per_serving": {
            tag: [json_number(one.best), json_number(one.low), json_number(one.high), one.status.words]
            for tag in TAGS
            if (one := per_serving.get(tag)) is not None
        },
        "contains": sorted(found.allergens),
        "read_the_package": sorted(found.possible),
        "problems": [problem.code for problem in problems],
        "held_back": held_back,
        "label_lacks": lacks,
    }
