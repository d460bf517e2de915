"""Every recipe of the folder in one go, as ``labeler batch`` does it: begun, watched, stopped and gone on with."""

from __future__ import annotations

import threading
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from labeler.batch.pace import Pace
from labeler.page.asked import answered, json_of, page_of
from labeler.page.folder import Folder
from labeler.page.screens import refused, shown
from labeler.types import LabelerError

__all__ = ["BatchRun", "routes"]

FILES = ("recipes.csv", "report.md")
OUTPUT = "batch"
UNDER_WAY = "under way"


class _Stopped(Exception):
    """The cook has stopped the batch."""


@dataclass
class BatchRun:
    """The batch of one folder while the page runs."""

    state: str = "not begun"
    total: int = 0
    done: int = 0
    outcomes: Counter[str] = field(default_factory=Counter)
    message: str = ""
    pace: Pace = field(default_factory=lambda: Pace(0))
    _stop: threading.Event = field(default_factory=threading.Event)
    _thread: threading.Thread | None = None

    def begin(self, folder: Folder, *, labels: bool) -> None:
        """Begin, or go on where it was stopped; nothing where it is under way."""
        if self.state == UNDER_WAY:
            return
        self._stop.clear()
        self.state, self.done, self.message, self.outcomes = UNDER_WAY, 0, "", Counter()
        self._thread = threading.Thread(target=self._run, args=(folder, labels), daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Stop after the recipe that is under way."""
        self._stop.set()

    def _run(self, folder: Folder, labels: bool) -> None:
        from labeler.batch.journal import JOURNAL, Journal
        from labeler.batch.run import recipes_of, run
        from labeler.batch.tables import write_csv, write_report

        target = folder.path / OUTPUT

        def step(entry: dict[str, Any] | None) -> None:
            self.done += 1
            self.pace.count(worked=entry is not None)
            self.outcomes[str(entry["outcome"]) if entry is not None else "done before"] += 1
            if self._stop.is_set():
                raise _Stopped

        try:
            paths = recipes_of(folder.path, target)
            self.total = len(paths)
            self.pace = Pace(self.total)
            journal = Journal(target / JOURNAL)
            try:
                run(folder.path, journal, paths, labels=target / "labels" if labels else None, workers=1, done=step)
                files = [path.relative_to(folder.path).as_posix() for path in paths]
                write_csv(target / FILES[0], journal, files)
                write_report(target / FILES[1], journal.entries(files))
            finally:
                journal.close()
            self.state = "finished"
        except _Stopped:
            self.state = "stopped"
        except LabelerError as error:
            self.state, self.message = "refused", str(error)
        except Exception as fault:
            self.state, self.message = "refused", f"a fault of the program ({type(fault).__name__})"

    def answer(self) -> dict[str, Any]:
        """How far it is."""
        return {
            "state": self.state,
            "total": self.total,
            "done": self.done,
            "outcomes": dict(self.outcomes),
            "said": self.message,
            "pace": self.pace.text() if self.state == UNDER_WAY else "",
        }


async def screen(request: Request) -> Response:
    """The batch's screen."""
    return shown(request, "batch.html", here="batch", files=_files(request))


def _files(request: Request) -> list[str]:
    place = page_of(request).folder.path / OUTPUT
    return [name for name in FILES if (place / name).is_file()]


@answered
async def begin(request: Request) -> Any:
    """Begin the batch, or go on with it."""
    page, given = page_of(request), await json_of(request)
    page.batch.begin(page.folder, labels=bool(given.get("labels")))
    return page.batch.answer()


@answered
async def stop(request: Request) -> Any:
    """Stop the batch; what is done stays done."""
    page_of(request).batch.stop()
    return page_of(request).batch.answer()


@answered
async def state(request: Request) -> Any:
    """How far the batch is, and which files it has written."""
    return page_of(request).batch.answer() | {"files": _files(request)}


async def file(request: Request) -> Response:
    """A file that the batch wrote."""
    name = request.path_params["file"]
    if name not in _files(request):
        return refused(request, LabelerError("the batch has written no such file"))
    return FileResponse(
        page_of(request).folder.path / OUTPUT / name, media_type="text/plain; charset=utf-8", filename=name
    )


routes = [
    Route("/batch", screen),
    Route("/api/batch", begin, methods=["POST"]),
    Route("/api/batch-stop", stop, methods=["POST"]),
    Route("/api/batch-state", state),
    Route("/batch/{file}", file),
]
