"""One recipe of a batch, in a process of its own: its figures, its allergens, its label, or why there are none."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labeler.json_numbers import json_number
from labeler.markets import market_of
from labeler.types import LabelerError, refused

if TYPE_CHECKING:
    from labeler.foods.model import WeighedLine
    from labeler.larder.file import Larder
    from labeler.larder.find import LarderFile
    from labeler.nutrition.analysis import Nutrition
    from labeler.parsing import Recipe
    from labeler.types import Problem

__all__ = ["TAGS", "Task", "broken", "digest_of", "digest_of_pieces", "do", "do_with_lines", "warm_up"]

TAGS = ("ENERC_KCAL", "FAT", "FASAT", "FATRN", "CHOLE", "NA", "CHOCDF", "FIBTG", "SUGAR", "SUGAR_ADDED", "PROCNT",
        "VITD", "CA", "FE", "K")  # fmt: skip
"""Nutrients of the table, by tagname."""


@dataclass(frozen=True, slots=True)
class Task:
    """A recipe to do.

    Parameters
    ----------
    file : str
        Relative to the folder, with forward slashes; of a table the id of the row.
    path : str
        Where it stands; for a recipe whose text is at hand its name in messages.
    digest : str
        Of the recipe, the settings and the larder.
    market : str or None
        Whose rules hold; None for the recipe's own.
    label : str or None
        Where its label goes; None for no label.
    layout, size : str
        Of the label.
    data : bytes or None
        The recipe itself, for a process that may not see the file; its label is then part of the entry.
    form : str
        Of `data`, as `labeler.importers.reading.FORMS` names it; empty for what its first signs tell.
    larders : tuple of LarderFile
        That a recipe at hand sees, the first before the others.
    """

    file: str
    path: str
    digest: str
    market: str | None = None
    label: str | None = None
    layout: str = "card"
    size: str = "a6"
    data: bytes | None = None
    form: str = ""
    larders: tuple[LarderFile, ...] = ()


def warm_up() -> None:
    """Load what every recipe needs, so that the time of the first one is its own."""
    from labeler.foods.composition.food_table import load_table

    for name in ("labeler.importers.read_any", "labeler.nutrition.analysis"):
        import_module(name)
    load_table()


def broken(task: Task, reason: str) -> dict[str, Any]:
    """The entry of a recipe that broke its limits or its process: a fault without a digest, so that it is tried again.

    Another limit or a machine with more memory may be enough for it.
    """
    return {"file": task.file, "digest": "", "outcome": "fault", "said": reason}


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
    return digest_of_pieces(pieces)


def digest_of_pieces(pieces: list[bytes]) -> str:
    """SHA-256 of pieces, each told from the next by its length."""
    found = hashlib.sha256()
    for piece in pieces:
        found.update(f"{len(piece)}:".encode() + piece)
    return found.hexdigest()


def do(task: Task) -> dict[str, Any]:
    """Do one recipe; whatever it holds, the answer is an entry for the journal."""
    return _entry(task, lines=False)


def do_with_lines(task: Task) -> dict[str, Any]:
    """As `do`, with the lines of the recipe, each with its food and its grams."""
    return _entry(task, lines=True)


def _entry(task: Task, *, lines: bool) -> dict[str, Any]:
    entry: dict[str, Any] = {"file": task.file, "digest": task.digest}
    try:
        return entry | {"outcome": "done"} | _figures(task, lines=lines)
    except LabelerError as refused:
        return entry | {"outcome": "refused", "said": " ".join(str(refused).split())}
    except Exception as fault:
        return entry | {"outcome": "fault", "said": f"{type(fault).__name__}: {' '.join(str(fault).split())[:300]}"}


@lru_cache(maxsize=8)
def _larder(larders: tuple[LarderFile, ...]) -> Larder | None:
    from labeler.larder.file import larder_of_files

    return larder_of_files(larders)


def _read(task: Task) -> Recipe:
    if task.data is None:
        from labeler.importers.read_any import read_any

        return read_any(task.path)
    from labeler.importers.reading import form_of, import_recipe

    recipe = import_recipe(task.data, task.form or form_of(task.data, ""), task.path)
    larder = _larder(task.larders)
    unread: tuple[Problem, ...] = larder.problems if larder is not None else ()
    return replace(recipe, larder=larder, problems=(*unread, *recipe.problems))


def _figures(task: Task, *, lines: bool) -> dict[str, Any]:
    from labeler.allergens import assess
    from labeler.nutrition.analysis import analyse
    from labeler.rules.missing_values import needed_for, settled

    recipe = _read(task)
    market = market_of(recipe, task.market)
    nutrition = analyse(recipe, market=market, nutrients=needed_for(TAGS, market))
    if not any(_is_of_food(line) for part in nutrition.weighed.parts for line in part.lines):
        raise LabelerError("holds no line with an amount or with a food that is known, and is no recipe")
    found, per_serving = assess(nutrition.weighed, market=market), settled(nutrition.per_serving, market)
    problems = list(nutrition.problems)
    held_back = [problem.code for problem in refused(problems)]
    lacks: list[str] = []
    more: dict[str, Any] = {"lines": _lines(nutrition)} if lines else {}
    if task.label is not None and not held_back:
        from labeler.label.make import make_label

        made = make_label(recipe, layout=task.layout, size=task.size, market=market)
        if task.data is None:
            _write_label(task.label, made.pdf)
        else:
            more["label"] = base64.b64encode(made.pdf).decode("ascii")
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
    } | more


def _is_of_food(line: WeighedLine) -> bool:
    """Whether a line says how much, or takes a food that is known or another part."""
    return bool(line.line.amounts) or line.part is not None or (line.match is not None and line.match.food is not None)


def _write_label(path: str, pdf: bytes) -> None:
    from labeler.files import write_whole

    Path(path).parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, pdf)


def _lines(nutrition: Nutrition) -> list[dict[str, Any]]:
    """The lines of a recipe as rows of the table of lines; a line that names several foods has a row for each."""
    from labeler.as_json import line_object

    rows = []
    for part, weighed in nutrition.lines:
        for place, one in enumerate((weighed, *weighed.also)):
            told = line_object(one)
            grams, food = told["grams"] or {}, told["food"] or {}
            rows.append(
                {
                    "part": part,
                    "line": weighed.line.number,
                    "place": place,
                    "text": weighed.line.text,
                    "name": told["name"],
                    "food": food.get("id"),
                    "description": food.get("description"),
                    "confidence": told["match"]["confidence"],
                    "grams": grams.get("best"),
                    "grams_low": grams.get("low"),
                    "grams_high": grams.get("high"),
                    "basis": grams.get("basis"),
                    "problems": [problem["code"] for problem in told["problems"]],
                }
            )
    return rows
