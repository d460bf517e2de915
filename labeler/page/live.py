"""Answers while somebody types: what each line is, at once; then figures, allergens and advice as they are found."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.routing import Route

from labeler.page.asked import answered, given_text, json_of, page_of, text_of, word_of
from labeler.page.engine import figures, method, paper, reading
from labeler.types import LabelerError

__all__ = ["routes", "warm"]


def warm() -> None:
    """Load the packages of reading and matching."""
    reading.read_live(reading.Text("- 1 cup flour\n- 2 large eggs", "recipe.md"))


@answered
async def read(request: Request) -> Any:
    """What the reader makes of each row."""
    given = given_text(page_of(request), await json_of(request))
    return await run_in_threadpool(reading.read_live, given)


def _heavy(kind: str, question: Any, *, long: bool = False) -> Any:
    """A handler that asks another process about a text; `kind` groups the questions of which the newest counts."""

    @answered
    async def ask(request: Request) -> Any:
        page, given = page_of(request), await json_of(request)
        line = page.work.long if long else page.work.quick
        tab = word_of(given, "tab")[:40]
        return await line.ask(f"{kind} {tab}", question, given_text(page, given))

    return ask


@answered
async def foods(request: Request) -> Any:
    """Which foods a name may mean, and how they differ."""
    page, given = page_of(request), await json_of(request)
    path = str(page.folder.place(word_of(given, "name")))
    return await run_in_threadpool(reading.foods, word_of(given, "query"), path)


@answered
async def state(request: Request) -> Any:
    """How a recipe of the folder stands."""
    page, given = page_of(request), await json_of(request)
    return await run_in_threadpool(lambda: reading.state(text_of(page, word_of(given, "name"))))


@answered
async def removal(request: Request) -> Any:
    """The text with a sentence that says of a removal that it was kept, or thrown away."""
    page, given = page_of(request), await json_of(request)
    part, box = given.get("part"), given.get("box")
    if not isinstance(part, int) or not isinstance(box, int) or part < 0 or box < 0:
        raise LabelerError("this question does not say which removal is meant")
    asked = method.Removal(part, box, word_of(given, "what")[:80], bool(given.get("kept")))
    return await page.work.quick.ask("", method.settled, given_text(page, given), asked)


routes = [
    Route("/api/state", state, methods=["POST"]),
    Route("/api/read", read, methods=["POST"]),
    Route("/api/figures", _heavy("figures", figures.figures), methods=["POST"]),
    Route("/api/allergens", _heavy("allergens", figures.allergens), methods=["POST"]),
    Route("/api/method", _heavy("method", method.method), methods=["POST"]),
    Route("/api/removal", removal, methods=["POST"]),
    Route("/api/requirements", _heavy("requirements", paper.requirements, long=True), methods=["POST"]),
    Route("/api/advice", _heavy("advice", figures.advice, long=True), methods=["POST"]),
    Route("/api/brings", _heavy("brings", figures.brings, long=True), methods=["POST"]),
    Route("/api/foods", foods, methods=["POST"]),
]
