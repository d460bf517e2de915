"""Sharing chunks of recipes out over a cluster of Dask's: a running one by its address, or one of this machine.

Each worker keeps a process for the recipes (`isolated`), so that a recipe breaks neither the worker nor its chunk. A
chunk whose worker dies is given to another; where the scheduler goes away, it is waited for, and what was under way is
handed over again. Whoever takes the answers (`table_run`) writes each down once.
"""

from __future__ import annotations

import logging
import queue
import tempfile
import threading
import time
import uuid
from collections.abc import Sequence
from concurrent.futures import CancelledError
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from labeler import __version__
from labeler.batch.isolated import Isolated, Limits
from labeler.batch.store import Packed, pack
from labeler.batch.work import Task, broken
from labeler.types import LabelerError

__all__ = ["DaskEngine", "do_chunk"]

PATIENCE_SECONDS = 300.0
"""How long a scheduler that went away, or a first worker, is waited for."""
CONNECT_SECONDS = 10.0
_LOOK_SECONDS = 0.5
_COUNT_SECONDS = 5.0
_FETCH_SECONDS = 60.0

_free: list[tuple[str, Limits, Isolated]] = []
_lock = threading.Lock()


def do_chunk(version: str, work: str, limits: Limits, tasks: Sequence[Task]) -> list[Packed]:
    """Do the recipes of a chunk on a worker; raises LabelerError where it has another edition of the program."""
    if version != __version__:
        raise LabelerError(
            f"a worker of the cluster has labeler {__version__} and this is {version}; install the same on both"
        )
    with _lock:
        mine = next((one for one in _free if one[:2] == (work, limits)), None)
        if mine is not None:
            _free.remove(mine)
    mine = mine or (work, limits, Isolated(work, limits))
    try:
        return [pack(mine[2].do(task)) for task in tasks]
    finally:
        with _lock:
            _free.append(mine)


class DaskEngine:
    """A cluster that chunks are handed to and answers are taken from.

    Parameters
    ----------
    address : str or None
        Of a running scheduler; None starts workers on this machine.
    workers : int
        How many to start.
    work : str
        What is done with a recipe, as `labeler.batch.isolated.name_of` gives it.
    limits : Limits
        Of a recipe.
    """

    def __init__(self, address: str | None, *, workers: int, work: str, limits: Limits) -> None:
        try:
            self._dask, self._distributed = import_module("dask"), import_module("distributed")
        except ImportError:
            raise LabelerError(
                "a table of recipes and --cluster are done on Dask, which is not installed; install it with: "
                "pip install 'labeler[cluster]'"
            ) from None
        logging.getLogger("distributed").setLevel(logging.CRITICAL)
        self._address = address
        self._call = (__version__, work, limits)
        self._answers: queue.SimpleQueue[tuple[int, _Piece, Any]] = queue.SimpleQueue()
        self._under_way: set[_Piece] = set()
        self._suspects: list[_Piece] = []  # single recipes whose workers died, to be tried with nothing beside them
        self._alone: _Piece | None = None  # the one of them that is tried
        self._held: list[_Piece] = []  # what is handed over when they have been
        self._generation = 0
        self._batch = uuid.uuid4().hex
        """Two batches on one scheduler never give their chunks the same names."""
        self._names = 0
        # A connection that is broken or closed (such a client has no scheduler, hence AttributeError; older editions of
        # Dask have no name for it), an answer that stays away or was lost.
        closed = getattr(self._distributed.client, "ClosedClientError", RuntimeError)
        self._gone = (OSError, RuntimeError, AttributeError, CancelledError, closed, self._distributed.KilledWorker)
        self._count, self._counted = 1, -_COUNT_SECONDS
        self._cluster: Any = None
        self._scratch: Any = None
        if address is None:
            self._start(workers)
        self._client = self._connect(CONNECT_SECONDS)
        self._wait_for_a_worker()

    def _start(self, workers: int) -> None:
        self._scratch = tempfile.TemporaryDirectory(prefix="labeler-batch-", ignore_cleanup_errors=True)
        with self._dask.config.set({"distributed.worker.daemon": False}):
            self._cluster = self._distributed.LocalCluster(
                n_workers=workers,
                threads_per_worker=1,
                processes=True,
                host="127.0.0.1",
                dashboard_address="127.0.0.1:0",
                scheduler_kwargs={"dashboard": False},
                local_directory=self._scratch.name,
                silence_logs=logging.CRITICAL,
            )

    def _connect(self, seconds: float) -> Any:
        where = self._cluster if self._cluster is not None else self._address
        try:
            return self._distributed.Client(where, timeout=seconds, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as error:
            first = str(error).partition("\n")[0][:160]
            raise LabelerError(
                f"{self._address}: no scheduler answers there ({first}); start one with “dask scheduler” and workers "
                "with “dask worker ADDRESS”, and give its address, such as tcp://192.0.2.7:8786"
            ) from None

    def _wait_for_a_worker(self) -> None:
        try:
            self._client.wait_for_workers(1, timeout=PATIENCE_SECONDS)
        except TimeoutError:
            raise LabelerError(
                f"{self._address}: the scheduler has no worker; start some with “dask worker {self._address}”"
            ) from None

    def workers(self) -> int:
        """How many recipes the cluster does at a time, as it was a few seconds ago; at least 1."""
        if time.monotonic() > self._counted + _COUNT_SECONDS:
            try:
                self._count = max(sum(self._client.nthreads().values()), 1)
            except self._gone:  # the scheduler is away; it is waited for where answers are taken
                self._count = max(self._count, 1)
            self._counted = time.monotonic()
        return self._count

    def submit(self, number: int, tasks: Sequence[Task]) -> None:
        """Hand a chunk over under a number of its own."""
        piece = _Piece(_Chunk(number, tasks), 0, len(tasks))
        if self._alone is None and not self._suspects:
            self._hand_over(piece)
        else:
            self._held.append(piece)

    def _hand_over(self, piece: _Piece) -> None:
        self._under_way.add(piece)
        self._names += 1
        try:
            future = self._client.submit(
                do_chunk,
                *self._call,
                piece.chunk.tasks[piece.start : piece.stop],
                key=f"labeler-{self._batch}-{self._names}",
                pure=False,
            )
        except self._gone:
            # The scheduler has just gone: whoever waits for answers hands everything over again.
            self._answers.put((self._generation, piece, None))
            return
        generation = self._generation
        future.add_done_callback(lambda one: self._answers.put((generation, piece, one)))

    def take(self) -> tuple[int, list[Packed]]:
        """The next chunk that is done, by its number, however long that takes.

        Raises
        ------
        LabelerError
            Where the scheduler stays away, or a worker cannot do the work at all.
        """
        while True:
            try:
                generation, piece, future = self._answers.get(timeout=_LOOK_SECONDS)
            except queue.Empty:
                if self._client.status not in ("running", "connecting"):
                    self._recover()
                continue
            if generation == self._generation:
                self._settle(piece, future)
                self._try_suspect()
                if not piece.chunk.left:
                    return piece.chunk.number, [one for one in piece.chunk.done if one is not None]

    def _settle(self, piece: _Piece, future: Any) -> None:
        """Take what a future holds, or hand its piece over again."""
        status = "lost" if future is None else future.status
        if status == "error":
            self._under_way.discard(piece)
            fault = future.exception(timeout=_FETCH_SECONDS)
            if not isinstance(fault, self._distributed.KilledWorker):
                raise _unusable(fault)
            if piece is self._alone:
                piece.fill([pack(_killed(piece.chunk.tasks[piece.start]))])
            elif piece.stop - piece.start == 1:
                self._suspects.append(piece)
            else:
                for at in range(piece.start, piece.stop):
                    self._hand_over(_Piece(piece.chunk, at, at + 1))
            return
        try:
            answer = future.result(timeout=_FETCH_SECONDS) if status == "finished" else None
        except self._gone:  # done, and lost before it was fetched
            answer = None
        if answer is None:
            self._recover()
        else:
            self._under_way.discard(piece)
            piece.fill(answer)

    def _try_suspect(self) -> None:
        """Try a recipe whose workers died with nothing beside it, which may have been what killed them.

        A scheduler blames every recipe that a dead worker was given, whether that one had begun it or not.
        """
        if self._alone is not None and self._alone not in self._under_way:
            self._alone = None
            held, self._held = self._held, []
            if not self._suspects:
                for piece in held:
                    self._hand_over(piece)
            else:
                self._held = held
        if self._suspects and not self._under_way:
            self._alone = self._suspects.pop(0)
            self._hand_over(self._alone)

    def _recover(self) -> None:
        """Wait for a scheduler, and hand everything over again that is under way."""
        self._generation += 1
        waiting, self._under_way = list(self._under_way), set()
        self._leave()
        until = time.monotonic() + PATIENCE_SECONDS
        while True:
            try:
                self._client = self._connect(CONNECT_SECONDS)
                break
            except LabelerError:
                if self._cluster is not None or time.monotonic() > until:
                    raise LabelerError(
                        f"{self._address or 'this machine'}: the scheduler has gone and stays away; start it, then "
                        "the same command again: what is done stays done"
                    ) from None
                time.sleep(_LOOK_SECONDS)
        self._wait_for_a_worker()
        for piece in sorted(waiting, key=lambda one: (one.chunk.number, one.start)):
            self._hand_over(piece)

    def _leave(self) -> None:
        try:
            self._client.close(timeout=CONNECT_SECONDS)
        except self._gone:  # a connection that is gone cannot be closed in order, and need not be
            return

    def close(self) -> None:
        """Leave the cluster, and end the workers that were started here."""
        self._generation += 1
        self._leave()
        if self._cluster is not None:
            self._cluster.close(timeout=CONNECT_SECONDS)
        if self._scratch is not None:
            self._scratch.cleanup()


class _Chunk:
    """Recipes that are done together, and their entries so far."""

    def __init__(self, number: int, tasks: Sequence[Task]) -> None:
        self.number = number
        self.tasks = list(tasks)
        self.done: list[Packed | None] = [None] * len(self.tasks)

    @property
    def left(self) -> int:
        """How many are not done."""
        return self.done.count(None)


@dataclass(frozen=True, eq=False, slots=True)
class _Piece:
    """What is handed over at once: a chunk, or one recipe of one that took its worker down."""

    chunk: _Chunk
    start: int
    stop: int

    def fill(self, packed: Sequence[Packed]) -> None:
        """Put the entries where they belong."""
        self.chunk.done[self.start : self.stop] = packed


def _killed(task: Task) -> dict[str, Any]:
    return broken(task, "every worker that it was given to died, as where memory runs out")


def _unusable(fault: BaseException) -> LabelerError:
    """Why a cluster cannot do the work."""
    if isinstance(fault, LabelerError):
        return fault
    first = " ".join(str(fault).split())[:300]
    return LabelerError(
        f"the cluster cannot do a recipe ({type(fault).__name__}: {first}); install labeler of this edition with all "
        "it needs where the workers run"
    )
