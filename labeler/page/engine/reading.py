"""Reading: from the text in the editor to what each of its rows is, fast enough to follow the typing."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labeler.markets import market_of
from labeler.types import LabelerError, Problem

if TYPE_CHECKING:
    from labeler.parsing.model import Recipe

__all__ = [
    "MARKETS",
    "Object",
    "Text",
    "bring",
    "foods",
    "known_larder",
    "larder_stamp",
    "problem_object",
    "read_live",
    "recipe_of",
    "state",
    "title_of",
    "without_path",
]

Object = dict[str, Any]
MARKETS = {
    "us": "United States",
    "eu": "European Union",
    "uk": "United Kingdom",
    "ca": "Canada",
    "anz": "Australia and New Zealand",
    "codex": "Codex Alimentarius",
    "jp": "Japan",
}
SURE, DOUBTFUL = 0.9, 0.7
"""From here on a match is shown as sure, and from here on as likely."""
CORE_TAGS = ("ENERC_KCAL", "FAT", "FASAT", "CHOCDF", "SUGAR", "FIBTG", "PROCNT", "NA")
"""What of a food is shown beside others."""


@dataclass(frozen=True, slots=True)
class Text:
    """A recipe's text as it stands in the editor.

    Parameters
    ----------
    text : str
    path : str
        Of its file, beside which its larder stands.
    market : str
        Whose rules hold; empty for the recipe's own.
    """

    text: str
    path: str
    market: str = ""


@lru_cache(maxsize=4)
def known_larder(path: str, stamp: tuple[tuple[str, int, int], ...]) -> Any:
    """The larder that a recipe at a path sees, remembered while its files are the same; None where there is none."""

    from labeler.larder.find import find_larder

    return find_larder(path)


def larder_stamp(path: str) -> tuple[tuple[str, int, int], ...]:
    """What tells the larders that a recipe sees from those it saw: name, time of change [ns] and size of each."""
    found = []
    for place in _larder_places(str(Path(path).parent)):
        try:
            stat = place.stat()
        except OSError:
            continue
        found.append((str(place), stat.st_mtime_ns, stat.st_size))
    return tuple(found)


@lru_cache(maxsize=64)
def _larder_places(folder: str) -> tuple[Path, ...]:
    """Where a larder may stand that the recipes of a folder see."""
    from labeler.larder.find import larder_paths

    return larder_paths(str(Path(folder) / "recipe.md"))


def form_of(given: Text) -> str | None:
    """The form that a file holds which is no text ("page", "json", "table"); None for text of any kind."""
    from labeler.importers.reading import form_of

    form = form_of(given.text.encode("utf-8", "replace"), given.path)
    return None if form == "text" else form


def recipe_of(given: Text) -> Recipe:
    """The recipe of a text with the larder that stands beside its file, as `labeler.importers.read_any.read_any` of it.

    Raises LabelerError as that does.
    """
    from labeler.importers.reading import import_recipe

    recipe = import_recipe(given.text.encode("utf-8", "replace"), form_of(given) or "text", given.path)
    larder = known_larder(str(Path(given.path).parent / "recipe.md"), larder_stamp(given.path))
    unread: tuple[Problem, ...] = larder.problems if larder is not None else ()
    return replace(recipe, larder=larder, problems=(*unread, *recipe.problems))


def problem_object(problem: Problem) -> Object:
    """A problem as the page shows it."""
    severity = problem.severity.name.lower()
    return {"code": problem.code, "message": problem.message, "line": problem.line, "severity": severity}


def read_live(given: Text) -> Object:
    """What the reader makes of each row of a text, in milliseconds.

    Returns
    -------
    dict
        ``title``, ``market``, ``head``, ``rows`` (one for each ingredient line: number, food, grams, how sure, problems
        with their mends), ``parts``, ``steps`` and ``problems``; where the text cannot be used at all ``refused`` says
        why.
    """
    from labeler.foods.resolve import weigh
    from labeler.page.mends import mends_of

    if form_of(given) is not None:
        return {"foreign": "This is text from elsewhere, whose rows are no lines of a recipe file yet."}
    try:
        recipe = recipe_of(given)
    except LabelerError as refused:
        return {"refused": without_path(str(refused), given.path)}
    place = market_of(recipe, given.market)
    weighed = weigh(recipe, market=place)
    rows = [_row(line) | {"mends": mends_of(line, given.text)} for part in weighed.parts for line in part.lines]
    return {
        "title": recipe.title,
        "market": place,
        "head": {key: str(value) for key, value in recipe.head.items()},
        "parts": [{"title": part.title, "line": part.number} for part in recipe.parts],
        "rows": rows,
        "steps": [step.number for part in recipe.parts for step in part.handling],
        "problems": [problem_object(problem) for problem in dict.fromkeys((*recipe.problems, *weighed.problems))],
    }


def without_path(message: str, path: str) -> str:
    """A message that names the file by its name alone: where it stands on this machine helps nobody."""
    return message.replace(path, Path(path).name)


def _row(line: Any) -> Object:
    from labeler.as_json import line_object

    found = line_object(line) | {"line": line.line.number, "part": line.part}
    found["sure"] = _sureness(line)
    found["pinned"] = line.line.pin is not None
    found["alternatives"] = [
        {"id": one, "description": _description(one)} for one in (line.match.alternatives if line.match else ())
    ]
    found["problems"] = [problem_object(problem) for problem in line.problems]
    return found


def _sureness(line: Any) -> str:
    """How sure a line is: ``sure``, ``likely``, ``doubtful`` or ``open``, by its food and the width of its grams."""
    if line.part is not None or line.kept is not None:
        return "sure"
    if line.match is None or (line.match.food is None and line.match.own is None) or line.grams is None:
        return "open"
    grams = line.grams
    spread = (grams.high - grams.low) / grams.best / 2 if grams.best > 0 else 0.0
    if line.match.confidence < DOUBTFUL or spread > 0.5:
        return "doubtful"
    return "sure" if line.match.confidence >= SURE and spread <= 0.15 else "likely"


@lru_cache(maxsize=4096)
def _description(food: str) -> str:
    from labeler.foods.composition.food_table import load_table

    return load_table().describe(food)


def foods(query: str, path: str) -> Object:
    """The foods that a name may mean: of the larder first, then of the table, with a few figures per 100 g."""
    from labeler.as_json import food_object
    from labeler.foods.matching.match import search_foods

    larder = known_larder(str(Path(path).parent / "recipe.md"), larder_stamp(path))
    stated = query.strip()[:200]
    own = [
        {"id": food.id, "name": food.name, "read_on": food.read_on.isoformat() if food.read_on else ""}
        for food in (larder.foods if larder is not None else ())
        if stated and stated.casefold() in " ".join(food.names).casefold()
    ]
    found = food_object(stated, search_foods(stated) if stated else ())
    for candidate in found["candidates"]:
        candidate["per_100g"] = compare_foods((candidate["id"],))[0]["per_100g"]
    return found | {"own": own}


def compare_foods(ids: tuple[str, ...]) -> list[Object]:
    """A few figures per 100 g of each food of the table; None where the table does not know."""
    from labeler.foods.composition.food_table import load_table

    table = load_table()
    found = []
    for food in ids:
        values = {tag: table.value(food, tag) for tag in CORE_TAGS}
        known = {
            tag: None if value is None or value != value else round(float(value), 2) for tag, value in values.items()
        }
        found.append({"id": food, "description": table.describe(food), "per_100g": known})
    return found


def state(given: Text) -> Object:
    """How a recipe stands, in milliseconds: how many rows are to be settled, or why it cannot be read."""
    found = read_live(given)
    if "rows" not in found:
        return {"refused": found.get("refused") or found.get("foreign"), "open": 0}
    lines = {row["line"] for row in found["rows"] if row["problems"]}
    return {"refused": "", "open": len(lines | {one["line"] for one in found["problems"]})}


def bring(data: bytes, name: str) -> Object:
    """Whatever was pasted or dropped, as the text of a recipe file.

    Raises LabelerError where it holds no recipe.
    """
    from labeler.importers.reading import form_of, import_recipe
    from labeler.parsing.own_form import own_form

    found = import_recipe(data, form_of(data, name), name)
    return {
        "text": own_form(found),
        "title": found.title,
        "problems": [problem_object(one) for one in found.problems],
    }


_TITLE = re.compile(r"^title:\s*(.+?)\s*$", re.MULTILINE)


def title_of(text: str) -> str:
    """The title of a recipe's text, for a list: from its head or its first heading; empty where it has none."""
    match = _TITLE.search(text[:4000])
    if match is None:
        match = re.search(r"^#\s+(.+?)\s*$", text[:4000], re.MULTILINE)
    return match[1].strip("\"' ") if match is not None else ""
