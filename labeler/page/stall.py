"""The stall as a whole: its matrix of allergens, the page to hang up, and one file for a phone without network."""

from __future__ import annotations

import datetime
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from labeler.page.asked import Made, Page, answered, json_of, page_of, text_of, word_of
from labeler.page.engine import paper, stall
from labeler.page.engine.reading import MARKETS, Text
from labeler.page.papers import PDF
from labeler.page.screens import shown, written
from labeler.types import LabelerError

__all__ = ["routes"]


def texts_of(page: Page) -> tuple[Text, ...]:
    """Every recipe file of the folder that can be read."""
    found = []
    for file in page.folder.files():
        if not file.foreign:
            try:
                found.append(text_of(page, file.name))
            except LabelerError:
                continue
    return tuple(found)


async def screen(request: Request) -> Response:
    """The stall's screen, which asks for its matrix."""
    return shown(request, "stall.html", here="stall")


def _market(given: dict[str, Any]) -> str:
    market = word_of(given, "market")
    if market and market not in MARKETS:
        raise LabelerError(f"there is no market “{market[:20]}” here; write one of {', '.join(MARKETS)}")
    return market


@answered
async def matrix(request: Request) -> Any:
    """Which food of the stall holds which allergen."""
    page, market = page_of(request), _market(await json_of(request))
    return await page.work.long.ask("matrix", stall.stall_object, texts_of(page), market)


@answered
async def sheet(request: Request) -> Any:
    """The page to hang up."""
    page, market = page_of(request), _market(await json_of(request))
    data = await page.work.long.ask("", paper.matrix_pdf, texts_of(page), market)
    return {"file": page.keep(Made("allergens.pdf", PDF, data)), "name": "allergens.pdf"}


@answered
async def phone(request: Request) -> Any:
    """One file that shows the stall's allergens on any phone: no script, nothing to fetch."""
    page, market = page_of(request), _market(await json_of(request))
    found = await page.work.long.ask("", stall.stall_object, texts_of(page), market)
    held = [
        one
        for one in found["allergens"]
        if any(one in food[kind] for food in found["foods"] for kind in ("contains", "read_the_package"))
    ]
    others = [found["names"][one] for one in found["allergens"] if one not in held]
    text = written(
        "phone.html",
        found=found,
        held=held,
        others=others,
        stall=page.folder.path.name,
        today=f"{datetime.date.today():%-d %B %Y}",
    )
    return {"file": page.keep(Made("allergens.html", "text/html", text.encode())), "name": "allergens.html"}


routes = [
    Route("/stall", screen),
    Route("/api/matrix", matrix, methods=["POST"]),
    Route("/api/matrix-sheet", sheet, methods=["POST"]),
    Route("/api/phone", phone, methods=["POST"]),
]
