"""How a process of the program is set up before it works: the command's own, and those that it starts."""

from __future__ import annotations

import contextlib
import gc
import os

__all__ = ["set_up"]

# Parameters of `mallopt` (glibc, malloc.h) and what they are set to [bytes].
_MMAP_THRESHOLD, _TRIM_THRESHOLD = -3, -1
_FROM_HEAP, _KEPT_FREE = 32 << 20, 64 << 20

_THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def set_up() -> None:
    """Let linear algebra take one thread, and look for garbage seldom.

    The matrices of a recipe are small, and several processes with several threads each only wait for one another. The
    tables that a process loads are hundreds of thousands of objects that stay, and hardly anything that it makes refers
    to itself, so that searching all of it for garbage as often as Python does takes a quarter of the time. The draws of
    a mixture are a megabyte or more, and every step makes some anew: where the C library can be told so, it keeps that
    memory instead of giving it back and fetching it again, cleared, for every step.
    """
    for name in _THREADS:
        os.environ.setdefault(name, "1")
    gc.set_threshold(1_000_000, 50, 100)
    _keep_memory()


def _keep_memory() -> None:
    """Ask the C library to keep what large arrays leave; nothing happens where it is not glibc."""
    with contextlib.suppress(ImportError, OSError, AttributeError, TypeError):
        import ctypes

        library = ctypes.CDLL(None)
        library.mallopt(_MMAP_THRESHOLD, _FROM_HEAP)
        library.mallopt(_TRIM_THRESHOLD, _KEPT_FREE)
