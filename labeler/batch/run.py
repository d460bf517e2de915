"""Sharing the recipes of a folder out over processes, and going on whatever one of them does.

Few recipes are under way at a time, so memory does not grow with the folder; each is written down when it is finished.
A process that dies takes nothing along: the recipes that were under way are done again one by one, and the one that
kills its process is written down as a fault.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from labeler import __version__
from labeler.batch.journal import JOURNAL, Journal
from labeler.batch.work import Task, digest_of, do
from labeler.processes import set_up
from labeler.types import LabelerError

__all__ = ["ENDINGS", "recipes_of", "run"]

Done = Callable[[dict[str, Any] | None], None]
Work = Callable[[Task], dict[str, Any]]

ENDINGS = frozenset({".md", ".txt", ".html", ".htm", ".json", ".csv"})
AHEAD = 8
"""Recipes under way for each process."""


def recipes_of(folder: Path, leave_out: Path) -> list[Path]:
    """The files of a folder and the folders in it that may hold a recipe, by name.

    Hidden ones are passed over, and so are `leave_out` and everything that an earlier batch has made.

    Raises LabelerError where it is no folder or holds no such file.
    """
    if not folder.is_dir():
        raise LabelerError(f"{folder}: is no folder; give the folder that holds the recipes")
    outside = {leave_out.resolve()} | {path.parent.resolve() for path in folder.rglob(JOURNAL)}
    found = []
    for path in folder.rglob("*"):
        hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
        if (
            path.suffix.lower() in ENDINGS
            and not hidden
            and path.is_file()
            and outside.isdisjoint(path.resolve().parents)
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
    done : function
        Called after each recipe with its entry, or None for one that was done before.
    work : function
        What is done with a recipe, in another process.
    """
    # Another edition of the program does everything again.
    settings = f"{__version__}|{market}|{labels is not None}|{layout}|{size}"
    waiting = _waiting(folder, journal, paths, settings, (market, labels, layout, size), done)
    count = workers or _processors()
    set_up()
    while under_way := _pool(waiting, journal, count, done, work):
        for task in under_way:  # one of these took its process down: each alone in a fresh one
            entry = _alone(task, work)
            journal.add(entry)
            done(entry)


def _processors() -> int:
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


def _pool(waiting: Iterator[Task], journal: Journal, count: int, done: Done, work: Work) -> list[Task]:
    """Do tasks until there are none; returns those that were under way when a process died."""
    running: dict[Future[dict[str, Any]], Task] = {}
    held: Task | None = None  # taken from the list and not yet handed over
    with ProcessPoolExecutor(count, mp_context=get_context("spawn"), initializer=set_up) as pool:
        try:
            while True:
                while len(running) < count * AHEAD:
                    task = next(waiting, None)
                    if task is None:
                        break
                    held = task
                    running[pool.submit(work, task)] = task
                    held = None
                if not running:
                    return []
                finished, _ = wait(running, return_when=FIRST_COMPLETED)
                for future in finished:
                    entry = future.result()
                    del running[future]
                    journal.add(entry)
                    done(entry)
        except BrokenProcessPool:
            return [*running.values(), *([held] if held is not None else [])]
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _alone(task: Task, work: Work) -> dict[str, Any]:
    """One task in a process of its own."""
    with ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=set_up) as pool:
        try:
            return pool.submit(work, task).result()
        except BrokenProcessPool:
            text = "the process that worked on it died, as it does where memory runs out"
            return {"file": task.file, "digest": task.digest, "outcome": "fault", "said": text}
