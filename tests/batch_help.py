"""Work for a batch in other processes that breaks what recipes may break, and an engine that does chunks here."""

from __future__ import annotations

import json
import os
import time
from collections import deque

from labeler.batch.store import pack
from labeler.batch.work import Task, do_with_lines


def deadly(task: Task) -> dict:
    """An entry for every recipe but one that kills its process, as memory that runs out does."""
    if "deadly" in task.file:
        os._exit(9)
    return plain(task)


def plain(task: Task) -> dict:
    """An entry that says whose process made it."""
    return {"file": task.file, "digest": task.digest, "outcome": "done", "title": str(os.getpid())}


def poisoned(task: Task) -> dict:
    """Recipes that never end, take all memory, print, or break their process; every other one is done."""
    if "endless" in task.file:
        time.sleep(600)
    if "greedy" in task.file:
        try:
            return {"file": task.file, "kept": len(bytearray(64 << 30))}
        except MemoryError as fault:
            return {"file": task.file, "digest": task.digest, "outcome": "fault", "said": f"MemoryError: {fault}"}
    if "chatty" in task.file:
        print("a library has something to tell" * 1000)
        os.write(1, b"\x00\xff" * 1000)
    return deadly(task)


def worker_killer(task: Task) -> dict:
    """A recipe that takes the worker itself down, over the process that is there for it."""
    if "deadly" in task.file:
        os.kill(os.getppid(), 9)
        time.sleep(60)
    return plain(task)


class Here:
    """An engine in this process that answers in the wrong order, the first answer twice, and dies after so many."""

    def __init__(self, work=do_with_lines, *, dies_after=10**9):
        self.work, self.dies_after = work, dies_after
        self.waiting, self.did, self.closed = deque(), [], False
        self.again, self.repeated = None, 0

    def workers(self):
        return 2

    def submit(self, number, tasks):
        self.waiting.appendleft((number, tasks))

    def take(self):
        if self.dies_after <= 0:
            raise KeyboardInterrupt
        if self.again is not None and not self.repeated:
            self.repeated += 1
            return self.again
        self.dies_after -= 1
        number, tasks = self.waiting.popleft()
        self.did += [task.file for task in tasks]
        self.again = self.again or (number, [pack(self.work(task)) for task in tasks])
        return self.again if self.again[0] == number else (number, [pack(self.work(task)) for task in tasks])

    def close(self):
        self.closed = True


def quick(task: Task) -> dict:
    """An entry made of the task alone, for what is not about figures."""
    if not task.data:
        return {"file": task.file, "digest": task.digest, "outcome": "refused", "said": "is empty"}
    line = {"part": "", "line": 1, "place": 0, "text": task.data.decode(), "name": "x", "problems": []}
    figures = {"ENERC_KCAL": [float(len(task.data)), 0.0, 9.0, "analysed"]}
    return {
        "file": task.file, "digest": task.digest, "outcome": "done", "title": task.file, "per_serving": figures,
        "lines": [line], "contains": ["egg"],
    }  # fmt: skip


def write_table(path, count, **more):
    """JSON Lines of small recipes of ours."""
    rows = [{"id": f"bun-{n:03}", "text": f"# Bun {n}\n- {n + 1} eggs\n", **more} for n in range(count)]
    path.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
    return path


def slow(task: Task) -> dict:
    """An entry after a moment."""
    time.sleep(0.3)
    return plain(task)
