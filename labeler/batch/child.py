"""The process that works on recipes, one after another; `isolated` starts it as ``labeler.batch.child WORK MIB``.

It reads pickled tasks on standard input and writes each entry as JSON behind its length. Memory is bounded where the
system can bound it (Linux, most of Unix). It ends with its input, or when the process that started it has died.
"""

from __future__ import annotations

import json
import os
import pickle
import signal
import struct
import sys
import threading
import time
from collections.abc import Callable
from importlib import import_module
from typing import Any

from labeler.processes import set_up

__all__ = ["ANSWER", "GOES_ON", "READY", "main", "out_of_memory"]

ANSWER = struct.Struct(">cI")
"""What stands before an entry: whether the process goes on after it, and the length of the entry [bytes]."""
READY = GOES_ON = b"+"
_LEAVES = b"-"
_LOOK_SECONDS = 1.0


def out_of_memory(entry: dict[str, Any]) -> bool:
    """Whether a recipe took all the memory that it may take."""
    return entry.get("outcome") == "fault" and str(entry.get("said", "")).startswith("MemoryError")


def _bound_memory(mib: int) -> None:
    """Let this process have so much address space [MiB]; 0 for no bound."""
    try:
        import resource
    except ImportError:  # Windows
        return
    if mib:
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        wanted = mib << 20
        resource.setrlimit(resource.RLIMIT_AS, (wanted if hard < 0 else min(wanted, hard), hard))


def _leave_with(parent: int) -> None:
    """Leave when the process that started this one has died, whatever is under way."""
    while os.getppid() == parent:
        time.sleep(_LOOK_SECONDS)
    os._exit(1)


def _called(name: str) -> Callable[[Any], dict[str, Any]]:
    module, _, function = name.partition(":")
    home = import_module(module)
    getattr(home, "warm_up", lambda: None)()
    found: Callable[[Any], dict[str, Any]] = getattr(home, function)
    return found


def main() -> None:
    """Work until the input ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started this process decides when it ends
    set_up()
    threading.Thread(target=_leave_with, args=(os.getppid(),), daemon=True).start()
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library prints is no answer
    work = _called(sys.argv[1])
    _bound_memory(int(sys.argv[2]))
    answers.write(READY)
    answers.flush()
    while True:
        try:
            task = pickle.load(sys.stdin.buffer)
        except EOFError:
            return
        entry = work(task)
        full = out_of_memory(entry)
        data = json.dumps(entry, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "surrogatepass")
        answers.write(ANSWER.pack(_LEAVES if full else GOES_ON, len(data)) + data)
        answers.flush()
        if full:  # a heap in pieces is no place for the next recipe
            return


if __name__ == "__main__":
    main()
