"""Saturday morning: today's batch with its label and its line in the log, the lots that were, and the test page."""

from __future__ import annotations

import datetime
import hashlib
import re
from typing import Any

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Route

from labeler.page.asked import Made, answered, json_of, page_of, text_of, word_of
from labeler.page.edits import changes, lot_of
from labeler.page.engine import day
from labeler.page.engine.reading import Text, title_of
from labeler.page.folder import digest_of
from labeler.page.gauge import gauge_page
from labeler.page.lots import Lots
from labeler.page.papers import PDF, read_wish
from labeler.page.screens import refused, shown
from labeler.types import LabelerError

__all__ = ["routes"]

_KEEPS = re.compile(r"\s*(\d+)\s*(day|week)s?\b", re.IGNORECASE)
_HEAD = re.compile(r"^(net|makes|serving|keeps):\s*(.+?)\s*$", re.MULTILINE)


async def screen(request: Request) -> Response:
    """Today's batch of a recipe."""
    page, name = page_of(request), request.path_params["name"]
    try:
        text = page.folder.read(name)
    except LabelerError as error:
        return refused(request, error)
    today, entries = datetime.date.today(), Lots(page.folder).of(name)
    title = title_of(text) or name
    head = dict(_HEAD.findall(text[:4000]))
    return shown(
        request, "day.html", here="day", name=name, text=text, title=title, head=head, today=today.isoformat(),
        keeps=_days(head.get("keeps", "")), lot=lot_of(title, today.isoformat()), entries=entries[:5],
        changed=changes(entries[0].get("source", ""), text) if entries else [],
    )  # fmt: skip


def _days(keeps: str) -> int | str:
    """How many days a recipe says that it keeps; empty where it says none, since no label may guess it."""
    match = _KEEPS.match(keeps.strip("\"'"))
    return "" if match is None else int(match[1]) * (7 if match[2].lower() == "week" else 1)


def _number(given: dict[str, Any], key: str, what: str) -> float:
    """A number of the form, 0 where it is empty; raises LabelerError for anything else."""
    words = str(given.get(key) or "").strip().replace(",", ".")
    try:
        number = float(words) if words else 0.0
    except ValueError:
        number = -1.0
    if not 0.0 <= number < 1e7:
        raise LabelerError(f"{what}: “{words[:20]}” is no number such as 24")
    return number


def _date(given: dict[str, Any], key: str, what: str) -> str:
    """A date of the form, empty where it is empty; raises LabelerError for anything else."""
    words = word_of(given, key).strip()
    try:
        return datetime.date.fromisoformat(words).isoformat() if words else ""
    except ValueError:
        raise LabelerError(f"{what}: “{words[:20]}” is no date such as 2026-11-03") from None


def _batch(given: dict[str, Any]) -> dict[str, Any]:
    return {
        "packs": int(_number(given, "packs", "packs made")),
        "grams": _number(given, "grams", "weight got"),
        "made": _date(given, "made", "made on"),
        "best_before": _date(given, "best_before", "best before"),
        "lot": " ".join(word_of(given, "lot").split())[:40],
    }


@answered
async def preview(request: Request) -> Any:
    """Today's label as it would be printed; nothing is logged."""
    page, given = page_of(request), await json_of(request)
    made = await _made(request, given)
    if "said" in made:
        return JSONResponse({"said": made["said"], "fits": made["fits"]}, status_code=400)
    picture = page.keep(Made("label.png", "image/png", made["preview"]))
    return {"picture": picture, "summary": made["summary"], "declared": made["declared"], "text": made["text"]}


async def _made(request: Request, given: dict[str, Any]) -> Any:
    page = page_of(request)
    source = text_of(page, word_of(given, "name"))
    wish = read_wish(given) | {"preview": "png", "gauge": True}
    return await page.work.quick.ask(f"day {word_of(given, 'tab')[:40]}", day.day_label, source, _batch(given), wish)


@answered
async def printed(request: Request) -> Any:
    """Make today's labels, keep them as printed, and write the line of the log."""
    page, given = page_of(request), await json_of(request)
    batch, name = _batch(given), word_of(given, "name")
    if not batch["lot"]:
        raise LabelerError("the batch needs a lot, by which it is found again; write one such as BR-1103")
    source = page.folder.read(name)
    made = await _made(request, given)
    if "said" in made:
        return JSONResponse({"said": made["said"], "fits": made["fits"]}, status_code=400)
    entry = {
        "lot": batch["lot"],
        "name": name,
        "title": title_of(source),
        "logged": datetime.datetime.now().astimezone().isoformat(timespec="seconds"),
        "packs": batch["packs"],
        "grams": batch["grams"],
        "made": batch["made"],
        "best_before": batch["best_before"],
        "recipe": digest_of(made["text"]),
        "source": source,
        "text": made["text"],
        "packages": made["packages"],
        "packages_sha256": hashlib.sha256(repr(made["packages"]).encode()).hexdigest(),
        "wish": {key: value for key, value in read_wish(given).items() if value},
    }
    logged = Lots(page.folder).add(entry, made["pdf"])
    return {"pdf": f"/printed/{logged['pdf']}", "file": logged["pdf"], "lot": logged["lot"], "summary": made["summary"]}


async def lots(request: Request) -> Response:
    """Every lot that was printed."""
    return shown(request, "lots.html", here="lots", entries=Lots(page_of(request).folder).all())


async def lot(request: Request) -> Response:
    """What went into one lot, and what has changed since."""
    page = page_of(request)
    entries = Lots(page.folder).lot(request.path_params["lot"])
    if not entries:
        return refused(request, LabelerError(f"no lot “{request.path_params['lot'][:60]}” was printed here"))
    shown_entries = []
    for entry in entries:
        try:
            since = changes(entry.get("source", ""), page.folder.read(entry.get("name", "")))
        except LabelerError:
            since = ["the recipe file is gone"]
        shown_entries.append(entry | {"since": since})
    return shown(request, "lot.html", here="lots", lot=entries[0]["lot"], entries=shown_entries)


async def pdf(request: Request) -> Response:
    """A label as it was printed."""
    try:
        path = Lots(page_of(request).folder).file(request.path_params["file"])
    except LabelerError as error:
        return refused(request, error)
    return FileResponse(path, media_type=PDF)


async def gauge(request: Request) -> Response:
    """The test page of the printer."""
    return Response(gauge_page(), media_type=PDF)


@answered
async def scaled(request: Request) -> Any:
    """The lines of a recipe with their grams, for the scale of today's batch."""
    from labeler.page.engine.reading import read_live

    given = text_of(page_of(request), word_of(await json_of(request), "name"))
    return read_live(Text(given.text, given.path))


routes = [
    Route("/day/{name:path}", screen),
    Route("/lots", lots),
    Route("/lots/{lot:path}", lot),
    Route("/printed/{file}", pdf),
    Route("/gauge", gauge),
    Route("/api/day", preview, methods=["POST"]),
    Route("/api/day-print", printed, methods=["POST"]),
    Route("/api/day-lines", scaled, methods=["POST"]),
]
