"""Sharing the recipes of a folder out over processes, and going on whatever one of them does.

Few recipes are under way at a time, so memory does not grow with the folder; each is written down when it is finished.
Each process is bounded in time and memory (`isolated`): a recipe that breaks it is written down as a fault, and the
next recipe gets a new one.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from pathlib import Path
from queue import SimpleQueue
from typing import Any

from labeler import __version__
from labeler.batch.isolated import USUAL, Isolated, Limits, name_of
from labeler.batch.journal import JOURNAL, Journal
from labeler.batch.output import is_output
from labeler.batch.store import STORE
from labeler.batch.work import Task, digest_of, do
from labeler.types import LabelerError

__all__ = ["ENDINGS", "processors", "recipes_of", "run"]

Done = Callable[[dict[str, Any] | None], None]
Work = Callable[[Task], dict[str, Any]]

ENDINGS = frozenset({".md", ".txt", ".html", ".htm", ".json", ".csv"})
AHEAD = 2
"""Recipes that are read and wait for each process."""


def recipes_of(folder: Path, leave_out: Path) -> list[Path]:
    """The files of a folder and the folders in it that may hold a recipe, by name.

    Hidden ones are passed over, and so is everything that this batch or an earlier one has made: the folder
    `leave_out` where it is another, other folders with a journal, and by name and head where it stands among recipes.

    Raises LabelerError where it is no folder or holds no such file.
    """
    if not folder.is_dir():
        raise LabelerError(f"{folder}: is no folder; give the folder that holds the recipes")
    inside = folder.resolve()
    outside = {path.parent.resolve() for name in (JOURNAL, STORE) for path in folder.rglob(name)}
    outside.add(leave_out.resolve())
    outside -= {inside, *inside.parents}
    found = []
    for path in folder.rglob("*"):
        hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
        if (
            path.suffix.lower() in ENDINGS
            and not hidden
            and path.is_file()
            and outside.isdisjoint(path.resolve().parents)
            and not is_output(path)
        ):
            found.append(path)
    if not found:
        raise LabelerError(f"{folder}: holds no recipe, which is a file that ends in {', '.join(sorted(ENDINGS))}")
    return sorted(found, key=lambda path: path.relative_to(folder).as_posix())


def run(
    folder: Path,
    journal: Journal,
    paths: list[Path],
    *,
    market: str | None = None,
    labels: Path | None = None,
    layout: str = "card",
    size: str = "a6",
    workers: int = 0,
    limits: Limits = USUAL,
    done: Done = lambda entry: None,
    work: Work = do,
) -> None:
    """Do every recipe that the journal does not have yet.

    Parameters
    ----------
    folder : Path
    journal : Journal
    paths : list of Path
        As `recipes_of` gives them.
    market : str or None
        Whose rules hold for all; None for each recipe's own.
    labels : Path or None
        Folder for the labels; None for none.
    layout, size : str
        Of the labels.
    workers : int
        Processes; 0 takes as many as there are processors.
    limits : Limits
        What a recipe may take.
    done : function
        Called after each recipe with its entry, or None for one that was done before.
    work : function
        What is done with a recipe, in another process: a function of a module.
    """
    # Another edition of the program does everything again.
    settings = f"{__version__}|{market}|{labels is not None}|{layout}|{size}"
    waiting = _waiting(folder, journal, paths, settings, (market, labels, layout, size), done)
    _share_out(waiting, journal, workers or processors(), done, name_of(work), limits)


def processors() -> int:
    """How many processors this process may use."""
    allowed = getattr(os, "sched_getaffinity", None)
    return len(allowed(0)) if allowed is not None else os.cpu_count() or 1


def _waiting(
    folder: Path,
    journal: Journal,
    paths: list[Path],
    settings: str,
    how: tuple[str | None, Path | None, str, str],
    done: Done,
) -> Iterator[Task]:
    market, labels, layout, size = how
    for path in paths:
        file = path.relative_to(folder).as_posix()
        digest = digest_of(path, settings)
        label = None if labels is None else str(labels / f"{file}.pdf")
        if digest and journal.has(file, digest) and (label is None or not _missing(journal, file, label)):
            done(None)
            continue
        yield Task(file, str(path), digest, market, label, layout, size)


def _missing(journal: Journal, file: str, label: str) -> bool:
    """Whether a recipe that was done has lost its label."""
    entry = next(journal.entries([file]), {})
    return entry.get("outcome") == "done" and not Path(label).is_file()


def _share_out(waiting: Iterator[Task], journal: Journal, count: int, done: Done, work: str, limits: Limits) -> None:
    """Do tasks until there are none, each in the first process that is free."""
    children = [Isolated(work, limits) for _ in range(count)]
    free: SimpleQueue[Isolated] = SimpleQueue()
    for child in children:
        free.put(child)

    def one(task: Task) -> dict[str, Any]:
        child = free.get()
        try:
            return child.do(task)
        finally:
            free.put(child)

    running: set[Future[dict[str, Any]]] = set()
    with ThreadPoolExecutor(count) as pool:
        try:
            while True:
                while len(running) < count * (1 + AHEAD) and (task := next(waiting, None)) is not None:
                    running.add(pool.submit(one, task))
                if not running:
                    return
                finished, running = wait(running, return_when=FIRST_COMPLETED)
                for future in finished:
                    entry = future.result()
                    journal.add(entry)
                    done(entry)
        finally:
            pool.shutdown(wait=False, cancel_futures=True)
            for child in children:
                child.close()
