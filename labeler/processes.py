"""How a process of the program is set up before it works: the command's own, and those that it starts."""

from __future__ import annotations

import gc
import os

__all__ = ["set_up"]

_THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def set_up() -> None:
    """Let linear algebra take one thread, and look for garbage seldom.

    The matrices of a recipe are small, and several processes with several threads each only wait for one another. The
    tables that a process loads are hundreds of thousands of objects that stay, and hardly anything that it makes refers
    to itself, so that searching all of it for garbage as often as Python does takes a quarter of the time.
    """
    for name in _THREADS:
        os.environ.setdefault(name, "1")
    gc.set_threshold(1_000_000, 50, 100)
