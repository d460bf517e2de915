"""A recipe in a process that it may break: bounded in time and memory, and replaced where the recipe broke it."""

from __future__ import annotations

import json
import os
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from labeler.batch.child import ANSWER, GOES_ON, READY, out_of_memory
from labeler.batch.work import Task, broken
from labeler.types import LabelerError

__all__ = ["USUAL", "Isolated", "Limits", "name_of"]

START_SECONDS = 120.0
"""How long a process may take to load its tables on a busy machine."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What a recipe may take.

    Parameters
    ----------
    seconds : float
        Of the clock on the wall.
    memory : int
        Address space of its process [MiB]; 0 for no bound.
    """

    seconds: float = 60.0
    memory: int = 2048


USUAL = Limits()
"""What a recipe may take where nobody says: about a thousand times what one takes (``reference/scale.md``)."""


def name_of(work: Callable[[Task], dict[str, Any]]) -> str:
    """A function of a module as another process finds it."""
    return f"{work.__module__}:{work.__qualname__}"


class Isolated:
    """A process that does recipes one after another.

    Parameters
    ----------
    work : str
        What is done with a recipe, as `name_of` gives it.
    limits : Limits
    """

    def __init__(self, work: str, limits: Limits) -> None:
        self._work = work
        self._limits = limits
        self._process: subprocess.Popen[bytes] | None = None
        self._closed = False

    def do(self, task: Task) -> dict[str, Any]:
        """The entry of a recipe; a fault with its reason where it broke its limits or its process.

        Raises LabelerError where no process can be started.
        """
        process = self._process or self._start()
        late, over, lock = threading.Event(), threading.Event(), threading.Lock()

        def stop() -> None:
            with lock:
                if not over.is_set():
                    late.set()
                    process.kill()

        timer = threading.Timer(self._limits.seconds, stop)
        timer.daemon = True
        timer.start()
        try:
            found = self._asked(process, task)
        finally:
            with lock:
                over.set()  # a timer that is just running out kills nothing any more
            timer.cancel()
        if found is not None:
            if late.is_set():  # it answered in its last moment: the next recipe gets a process that is alive
                self._drop()
            return self._told(task, found)
        self._drop()
        if late.is_set():
            reason = f"took longer than {self._limits.seconds:g} s, which a recipe may take (--seconds)"
        else:
            reason = f"the process that worked on it died (status {process.returncode}), as where memory runs out"
        return broken(task, reason)

    def _asked(self, process: subprocess.Popen[bytes], task: Task) -> dict[str, Any] | None:
        """What the process answers; None where it died over it."""
        assert process.stdin is not None and process.stdout is not None
        try:
            pickle.dump(task, process.stdin)
            process.stdin.flush()
        except OSError:
            return None
        head = process.stdout.read(ANSWER.size)
        if len(head) < ANSWER.size:
            return None
        goes_on, length = ANSWER.unpack(head)
        data = process.stdout.read(length)
        if len(data) < length:
            return None
        if goes_on != GOES_ON:
            self._drop()
        entry: dict[str, Any] = json.loads(data.decode("utf-8", "surrogatepass"))
        return entry

    def _told(self, task: Task, entry: dict[str, Any]) -> dict[str, Any]:
        if out_of_memory(entry):
            return broken(task, f"needs more than {self._limits.memory:,} MiB, which a recipe may take (--memory)")
        return entry

    def _start(self) -> subprocess.Popen[bytes]:
        if self._closed:
            raise LabelerError("the batch was stopped")
        command = [sys.executable, "-m", "labeler.batch.child", self._work, str(self._limits.memory)]
        environment = os.environ | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
        process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment
        )
        self._process = process
        timer = threading.Timer(START_SECONDS, process.kill)
        timer.daemon = True
        timer.start()
        try:
            assert process.stdout is not None
            ready = process.stdout.read(len(READY))
        finally:
            timer.cancel()
        if ready != READY:
            with suppress(subprocess.TimeoutExpired):
                process.wait(1.0)  # it ends by itself, and its own status says more than that it was killed
            self._drop()
            raise LabelerError(
                f"a process for the recipes ended before its first one (status {process.returncode}); give it more "
                f"than {self._limits.memory:,} MiB with --memory, and see whether labeler runs and memory is left there"
            )
        return process

    def close(self) -> None:
        """End the process, whatever is under way; nothing is begun afterwards."""
        self._closed = True
        self._drop()

    def _drop(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                with suppress(OSError):
                    stream.close()
        process.wait()
