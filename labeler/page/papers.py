"""Paper and post: the label with its picture, the official panel, sheets, the block for a page, the worksheet."""

from __future__ import annotations

import re
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from labeler.page.asked import Made, answered, given_text, json_of, page_of, word_of
from labeler.page.engine import paper, reading
from labeler.types import LabelerError

__all__ = ["fetch", "read_wish", "routes"]

PDF, XLSX = "application/pdf", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
POST_KINDS = {"html": ("html", "text/html"), "markdown": ("md", "text/markdown"), "text": ("txt", "text/plain")}
_WISHES = ("layout", "size", "colour", "panel", "language", "sheet", "paper", "margins", "gaps", "address", "figures")
_COUNTS = ("copies", "start")
_PREVIEW_POLICY = "sandbox; default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'self'"


def read_wish(given: dict[str, Any]) -> dict[str, Any]:
    """The options of a label as the page's form gives them; raises LabelerError for what is none."""
    asked = given.get("wish", {})
    if not isinstance(asked, dict):
        raise LabelerError("the wishes for this label cannot be read")
    wish: dict[str, Any] = {key: word_of(asked, key).strip()[:200] for key in _WISHES if word_of(asked, key).strip()}
    for key in _COUNTS:
        if asked.get(key) not in (None, ""):
            try:
                wish[key] = int(str(asked[key]))
            except ValueError:
                raise LabelerError(f"“{str(asked[key])[:20]}” is no whole number; write one such as 24") from None
    for key in ("count_lots", "crop_marks", "gauge", "attach", "anyway"):
        wish[key] = bool(asked.get(key))
    return wish


def _stem(name: str) -> str:
    return name.rpartition("/")[2].rpartition(".")[0]


@answered
async def label(request: Request) -> Any:
    """A label as the command makes it, with a picture of it and what it still lacks."""
    page, given = page_of(request), await json_of(request)
    text, wish = given_text(page, given), read_wish(given)
    made = await page.work.quick.ask(
        f"label {word_of(given, 'tab')[:40]}", paper.paper, text, wish | {"preview": "png"}
    )
    if "said" in made:
        return JSONResponse(made, status_code=400)
    file = Made(f"{_stem(word_of(given, 'name'))}.pdf", PDF, made["pdf"])
    picture = Made("label.png", "image/png", made["preview"])
    return {
        "pdf": page.keep(file),
        "file": file.name,
        "picture": page.keep(picture),
        "declared": made["declared"],
        "summary": made["summary"],
    }


@answered
async def post(request: Request) -> Any:
    """The block for a page, to copy or to fetch, and what it looks like there."""
    page, given = page_of(request), await json_of(request)
    form = word_of(given, "form", "html")
    if form not in POST_KINDS:
        raise LabelerError(f"a post is written as {', '.join(POST_KINDS)}")
    question = _Post(
        form, word_of(given, "language", "en") or "en", word_of(given, "address"), bool(given.get("whole"))
    )
    made = await page.work.quick.ask(f"post {word_of(given, 'tab')[:40]}", question, given_text(page, given))
    ending, media = POST_KINDS[form]
    kept = page.keep(Made(f"{_stem(word_of(given, 'name'))}.{ending}", media, made["text"].encode()))
    return {"text": made["text"], "file": kept, "name": f"{_stem(word_of(given, 'name'))}.{ending}"}


class _Post:
    """The question for a post, as another process can be asked it."""

    def __init__(self, form: str, language: str, address: str, whole: bool) -> None:
        self.options = {"form": form, "language": language, "address": address, "whole": whole}

    def __call__(self, given: reading.Text) -> Any:
        return paper.post(given, **self.options)  # type: ignore[arg-type]


@answered
async def worksheet(request: Request) -> Any:
    """The workbook of every figure and where it comes from."""
    page, given = page_of(request), await json_of(request)
    data = await page.work.long.ask("", paper.worksheet, given_text(page, given))
    name = f"{_stem(word_of(given, 'name'))}.xlsx"
    return {"file": page.keep(Made(name, XLSX, data)), "name": name}


@answered
async def panels(request: Request) -> Any:
    """The official panels that are held for a market."""
    market = word_of(await json_of(request), "market")
    return {"panels": paper.panels(market) if market in reading.MARKETS else []}


async def fetch(request: Request) -> Response:
    """A file that was made."""
    made = page_of(request).made(request.path_params["number"])
    if made is None:
        return PlainTextResponse("This file is no longer kept; make it again.\n", status_code=404)
    headers = {"content-security-policy": _PREVIEW_POLICY, "x-frame-options": "SAMEORIGIN"}
    if "save" in request.query_params:
        plain = re.sub(r"[^\w. -]", "_", made.name, flags=re.ASCII)
        headers["content-disposition"] = f'attachment; filename="{plain}"'
    return Response(made.data, media_type=made.media, headers=headers)


routes = [
    Route("/api/label", label, methods=["POST"]),
    Route("/api/panels", panels, methods=["POST"]),
    Route("/api/post", post, methods=["POST"]),
    Route("/api/worksheet", worksheet, methods=["POST"]),
    Route("/made/{number}", fetch),
]
