"""The screens: pages of HTML that the browser opens, written on this side from what is in the folder."""

from __future__ import annotations

import datetime
import re
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from labeler.page.asked import answered, page_of
from labeler.page.engine.paper import sales
from labeler.page.engine.reading import MARKETS, title_of
from labeler.page.folder import digest_of
from labeler.page.guard import nonce_of
from labeler.types import LabelerError

__all__ = ["refused", "routes", "shown", "written"]

TEMPLATES = Path(__file__).with_name("templates")


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=select_autoescape(default=True), undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    made.globals["markets"] = MARKETS
    made.globals["sales"] = sales()
    made.filters["day"] = lambda seconds: f"{datetime.datetime.fromtimestamp(seconds):%-d %B %Y, %H:%M}"
    return made


def written(template: str, **values: Any) -> str:
    """A text from its template."""
    return _environment().get_template(template).render(**values)


def shown(request: Request, template: str, *, status: int = 200, **values: Any) -> HTMLResponse:
    """A screen from its template."""
    folder = page_of(request).folder.path
    text = (
        _environment()
        .get_template(template)
        .render(folder=folder.name or str(folder), nonce=nonce_of(request), **values)
    )
    return HTMLResponse(text, status_code=status)


def refused(request: Request, error: LabelerError) -> Response:
    """A screen that says what cannot be shown, and why."""
    return shown(request, "refused.html", here="", said=str(error), status=404)


async def recipes(request: Request) -> Response:
    """Every recipe of the folder."""
    folder = page_of(request).folder
    rows = []
    for file in folder.files():
        title = file.name
        if not file.foreign:
            try:
                title = title_of(folder.read(file.name)) or re.sub(r"[-_]+", " ", Path(file.name).stem)
            except LabelerError:
                title = file.name
        rows.append({"name": file.name, "title": title, "changed": file.changed, "foreign": file.foreign})
    return shown(request, "recipes.html", here="recipes", rows=rows)


async def recipe(request: Request) -> Response:
    """One recipe: its text, and beside it what the program makes of it."""
    name = request.path_params["name"]
    try:
        text = page_of(request).folder.read(name)
    except LabelerError as error:
        return refused(request, error)
    return shown(
        request, "recipe.html", here="recipe", name=name, text=text, digest=digest_of(text), title=title_of(text)
    )


async def alive(request: Request) -> Response:
    """Whether this is the page of the start whose key is given: asked by a second start."""
    same = request.query_params.get("key", "") == request.app.state.key
    return Response(status_code=204 if same else 403)


@answered
async def stop(request: Request) -> Any:
    """End the server, once this is answered."""
    return JSONResponse({"stopped": True}, background=BackgroundTask(page_of(request).stop))


routes = [
    Route("/", recipes),
    Route("/recipe/{name:path}", recipe),
    Route("/alive", alive),
    Route("/api/stop", stop, methods=["POST"]),
]
