"""A batch over tables of recipes: chunks are handed to a cluster, each answer is written down once, parts are written.

A part is a fixed number of rows in the order of the source. It is written when all its recipes are in the journal, so
that the tables are the same bytes however the work went; where recipes of it broke their limits or their process, the
next run tries those again and writes it anew. Few parts are open at a time: memory does not grow with the
source.
"""

from __future__ import annotations

import json
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Protocol

from labeler import __version__
from labeler.batch.dataset import Dataset
from labeler.batch.store import Packed, Store, pack
from labeler.batch.work import Task, digest_of_pieces
from labeler.larder.find import LarderFile

__all__ = ["CHUNK_ROWS", "PART_ROWS", "Engine", "How", "Recipe", "run_table"]

PART_ROWS = 1000
"""Recipes in one file."""
CHUNK_ROWS = 16
"""Recipes that are handed over at a time: about a second of work (``reference/scale.md``)."""
AHEAD = 3
"""Chunks under way for each worker."""
MOST_OPEN = 4
"""Parts that may be open beside those that a full cluster needs."""


class Engine(Protocol):
    """What does chunks somewhere else (`labeler.batch.cluster.DaskEngine`)."""

    def workers(self) -> int:
        """How many recipes are done at a time."""

    def submit(self, number: int, tasks: Sequence[Task]) -> None:
        """Hand a chunk over under a number of its own."""

    def take(self) -> tuple[int, list[Packed]]:
        """The next chunk that is done; one that comes again is passed over."""

    def close(self) -> None:
        """End what was begun."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """A recipe of the source.

    Parameters
    ----------
    id : str
    data : bytes
        Empty where the source has none, which is refused as an empty recipe.
    given : dict of str to object
        What is carried through.
    form : str
        Of `data`; empty for what its first signs tell.
    larders : tuple of LarderFile
        That it sees, the first before the others.
    unread : str
        Why it could not be read; empty where it was.
    """

    id: str
    data: bytes
    given: dict[str, Any] = field(default_factory=dict)
    form: str = ""
    larders: tuple[LarderFile, ...] = ()
    unread: str = ""


@dataclass(frozen=True, slots=True)
class How:
    """The settings of a batch.

    Parameters
    ----------
    market : str or None
        Whose rules hold for all; None for each recipe's own.
    labels : bool
        Whether labels go into an archive of each part.
    layout, size : str
        Of the labels.
    part_rows, chunk_rows : int
    """

    market: str | None = None
    labels: bool = False
    layout: str = "card"
    size: str = "a6"
    part_rows: int = PART_ROWS
    chunk_rows: int = CHUNK_ROWS

    def task(self, recipe: Recipe) -> Task:
        """A recipe of the source as it is handed over."""
        settings = f"{__version__}|{self.market}|{self.labels}|{self.layout}|{self.size}"
        pieces = [settings.encode(), recipe.form.encode(), recipe.unread.encode("utf-8", "replace"), recipe.data]
        pieces += [one.data or one.unread.encode("utf-8", "replace") for one in recipe.larders]
        return Task(
            recipe.id, recipe.id, digest_of_pieces(pieces), self.market, "label" if self.labels else None, self.layout,
            self.size, recipe.data, recipe.form, recipe.larders,
        )  # fmt: skip


@dataclass(slots=True)
class _Part:
    number: int
    digest: str
    given: dict[str, dict[str, Any]]
    left: int = 0
    whole: bool = True


Done = Callable[[dict[str, Any] | None], None]


def run_table(
    recipes: Iterable[Recipe],
    store: Store,
    dataset: Dataset,
    engine: Callable[[], Engine],
    how: How,
    done: Done = lambda entry: None,
) -> int:
    """Do every recipe that the journal does not have yet, and write every part that is not written; how many parts.

    Parameters
    ----------
    recipes : iterable of Recipe
        In the order of the source; each id once.
    store : Store
    dataset : Dataset
    engine : function
        Begins what does the work; not called where all is done.
    how : How
    done : function
        Called for each recipe with its id and digest, or None for one that was done before.
    """
    run = _Run(store, dataset, engine, how, done)
    try:
        run.work(iter(recipes))
    finally:
        run.close()
    dataset.drop_from(run.parts)
    store.forget_parts(run.parts)
    return run.parts


class _Run:
    """One run, as far as it is."""

    def __init__(self, store: Store, dataset: Dataset, begin: Callable[[], Engine], how: How, done: Done) -> None:
        self._store, self._dataset, self._begin, self._how, self._done = store, dataset, begin, how, done
        self._engine: Engine | None = None
        self.parts = 0
        self._chunks = 0
        self._open: dict[int, _Part] = {}
        self._waiting: deque[tuple[int, list[Task]]] = deque()
        self._under_way: dict[int, int] = {}

    def work(self, recipes: Iterator[Recipe]) -> None:
        """Until nothing is left."""
        more = True
        while more or self._under_way or self._waiting:
            most = AHEAD * (self._engine.workers() if self._engine is not None else 1)
            open_most = MOST_OPEN + most * self._how.chunk_rows // self._how.part_rows
            while more and len(self._waiting) + len(self._under_way) < most and len(self._open) < open_most:
                more = self._open_part(recipes)
            if self._waiting and self._engine is None:
                self._engine = self._begin()
            if self._engine is not None:
                self._hand_over(self._engine, most)
                self._take(self._engine)

    def _hand_over(self, engine: Engine, most: int) -> None:
        while self._waiting and len(self._under_way) < most:
            part, tasks = self._waiting.popleft()
            self._chunks += 1
            self._under_way[self._chunks] = part
            engine.submit(self._chunks, tasks)

    def close(self) -> None:
        """End what does the work, where it was begun."""
        if self._engine is not None:
            self._engine.close()

    def _open_part(self, recipes: Iterator[Recipe]) -> bool:
        """Read the rows of the next part and see which are to be done; False where there are none."""
        rows = list(islice(recipes, self._how.part_rows))
        if not rows:
            return False
        tasks = [self._how.task(row) for row in rows]
        given = {row.id: row.given for row in rows}
        told = (json.dumps(list(given.values()), default=str) + self._dataset.signature).encode()
        digest = digest_of_pieces([*(f"{task.file} {task.digest}".encode() for task in tasks), told])
        part = _Part(self.parts, digest, given)
        self.parts += 1
        sizes = self._dataset.sizes(part.number)
        if sizes and self._store.part(part.number) == (digest, sizes):
            for _ in rows:
                self._done(None)
            return True
        known = self._store.digests(list(given))
        left = [task for task in tasks if known.get(task.file) != task.digest]
        for _ in range(len(rows) - len(left)):
            self._done(None)
        left = self._without_unread({row.id: row.unread for row in rows if row.unread}, left)
        part.left = len(left)
        self._open[part.number] = part
        size = self._how.chunk_rows
        self._waiting.extend((part.number, left[at : at + size]) for at in range(0, len(left), size))
        if not left:
            self._close_part(part)
        return True

    def _without_unread(self, unread: dict[str, str], tasks: list[Task]) -> list[Task]:
        """Write down as refused what could not be read; the other tasks."""
        entries = [
            {"file": task.file, "digest": task.digest, "outcome": "refused", "said": unread[task.file]}
            for task in tasks
            if task.file in unread
        ]
        self._store.add(pack(entry) for entry in entries)
        for entry in entries:
            self._done(entry)
        return [task for task in tasks if task.file not in unread]

    def _take(self, engine: Engine) -> None:
        if not self._under_way:
            return
        number, packed = engine.take()
        place = self._under_way.pop(number, None)
        if place is None:  # an answer that came before
            return
        self._store.add(packed)
        part = self._open[place]
        part.left -= len(packed)
        part.whole = part.whole and all(one.digest for one in packed)
        for one in packed:
            self._done({"file": one.id, "digest": one.digest})
        if not part.left:
            self._close_part(part)

    def _close_part(self, part: _Part) -> None:
        """Write the files of a part whose recipes are all done."""
        entries = self._store.entries(list(part.given))
        sizes = self._dataset.write(part.number, [(entries[one], given) for one, given in part.given.items()])
        self._store.set_part(part.number, part.digest if part.whole else "", sizes)
        del self._open[part.number]
