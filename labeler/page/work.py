"""The longer questions, each answered in another process, so that what is typed is answered at once meanwhile.

Two processes are enough for one cook: one for the figures on the screen, one for what takes long (advice, whole
stalls, worksheets). Of several questions of one kind only the newest is answered; a process that dies or takes too
long is replaced, and the question that did it is refused.
"""

from __future__ import annotations

import asyncio
import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from typing import Any, TypeVar

from labeler.processes import set_up
from labeler.types import LabelerError

__all__ = ["Superseded", "Work"]

Answer = TypeVar("Answer")
MOST_SECONDS = 120.0
"""No recipe that a kitchen cooks takes nearly so long."""


class Superseded(Exception):
    """A newer question of the same kind has been asked meanwhile."""


def _begin() -> None:
    """A process of ours is stopped by its parent, not by the key that stops the page, and ends where that is killed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()
    set_up()


def _end_with(sentinel: int) -> None:
    """End this process once another one is gone."""
    wait([sentinel])
    os._exit(1)


def _warm() -> None:
    """Load what the first question needs."""
    import labeler.nutrition.analysis  # noqa: F401
    from labeler.foods.matching.match import search_foods

    search_foods("flour")


class _Line:
    """One process and those who wait for it."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None
        self._turn = asyncio.Lock()
        self._newest: dict[str, int] = {}

    def start(self) -> ProcessPoolExecutor:
        if self._pool is None:
            set_up()
            self._pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=_begin)
        return self._pool

    def stop(self) -> None:
        pool, self._pool = self._pool, None
        if pool is not None:
            processes = list((getattr(pool, "_processes", None) or {}).values())
            pool.shutdown(wait=False, cancel_futures=True)
            for process in processes:
                process.terminate()

    async def ask(self, kind: str, question: Callable[..., Answer], *given: Any) -> Answer:
        number = self._newest.get(kind, 0) + 1
        self._newest[kind] = number
        async with self._turn:
            if kind and self._newest[kind] != number:
                raise Superseded
            asked = asyncio.wrap_future(self.start().submit(question, *given))
            try:
                return await asyncio.wait_for(asyncio.shield(asked), MOST_SECONDS)
            except BrokenProcessPool:
                self.stop()
                raise LabelerError(
                    "the process that worked on this died, as it does where memory runs out; make the recipe smaller"
                ) from None
            except TimeoutError:
                self.stop()
                raise LabelerError(
                    f"this was stopped after {MOST_SECONDS:.0f} seconds; make the recipe smaller"
                ) from None


class Work:
    """The processes of one page."""

    def __init__(self) -> None:
        self.quick, self.long = _Line(), _Line()

    def warm(self) -> None:
        """Start the process of the figures, so that the first recipe does not wait for it."""
        self.quick.start().submit(_warm)

    def stop(self) -> None:
        """Stop both processes, whatever they are at."""
        self.quick.stop()
        self.long.stop()
