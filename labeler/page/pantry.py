"""The larder's screen: the packages of this folder, adding and changing one."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from labeler.page.asked import answered, json_of, page_of, word_of
from labeler.page.engine import larder
from labeler.page.engine.reading import MARKETS
from labeler.page.folder import LARDER_NAME, digest_of
from labeler.page.screens import shown
from labeler.types import LabelerError

__all__ = ["routes"]


def _state(request: Request) -> tuple[Any, str]:
    """The larder of the folder and the digest of its file; empty where there is none."""
    path = page_of(request).folder.path / LARDER_NAME
    try:
        text = path.read_text(encoding="utf-8") if path.is_file() else None
    except (OSError, UnicodeDecodeError):
        text = ""
    return larder.larder_object(path), "" if text is None else digest_of(text)


async def screen(request: Request) -> Response:
    """The foods of the larder, and the form for one."""
    found, digest = _state(request)
    lines = {market: larder.panel_lines(market) for market in ("none", *MARKETS)}
    name = request.query_params.get("name", "")[:120]
    return shown(request, "larder.html", here="larder", found=found, digest=digest, lines=lines, asked=name)


@answered
async def write(request: Request) -> Any:
    """Add a food, or change one, where the larder is still the one that was read."""
    given, folder = await json_of(request), page_of(request).folder
    food = given.get("food")
    if not isinstance(food, dict):
        raise LabelerError("the food cannot be read")
    text, problems = larder.changed_larder(folder.path / LARDER_NAME, food, word_of(given, "replaces"))
    folder.write_larder(text, base=word_of(given, "base") or None)
    return {"digest": digest_of(text), "problems": problems}


@answered
async def package_read(request: Request) -> Any:
    """Put into the larder what a package was read to say: the allergens it names and its list of ingredients."""
    given, folder = await json_of(request), page_of(request).folder
    named = given.get("contains", [])
    if not isinstance(named, list) or not all(isinstance(one, str) for one in named):
        raise LabelerError("the allergens that the package names cannot be read")
    food = {
        "name": word_of(given, "food")[:120],
        "contains": ", ".join(one[:60] for one in named[:40]),
        "ingredients": word_of(given, "ingredients")[:4000],
    }
    if not food["contains"] and not food["ingredients"].strip():
        raise LabelerError("type the list as the package prints it: where it names nothing, only the list can tell")
    _, digest = _state(request)
    text, problems = larder.changed_larder(folder.path / LARDER_NAME, food, "")
    folder.write_larder(text, base=digest or None)
    return {"digest": digest_of(text), "problems": problems}


routes = [
    Route("/larder", screen),
    Route("/api/larder", write, methods=["POST"]),
    Route("/api/package", package_read, methods=["POST"]),
]
