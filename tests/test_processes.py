"""How a process of the program is set up before it works."""

import ctypes
import gc
import os
from types import SimpleNamespace

import pytest

from labeler.processes import set_up


def test_linear_algebra_takes_one_thread_unless_the_user_says_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    """The number of threads is 1 where nothing is said, and what is said is left as it is."""
    monkeypatch.delenv("OMP_NUM_THREADS", raising=False)
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "3")
    set_up()
    assert (os.environ["OMP_NUM_THREADS"], os.environ["OPENBLAS_NUM_THREADS"]) == ("1", "3")
    assert gc.get_threshold()[0] >= 1_000_000


@pytest.mark.parametrize("library", [SimpleNamespace(), None])
def test_a_c_library_that_cannot_be_told_to_keep_memory_is_left_alone(
    monkeypatch: pytest.MonkeyPatch, library: object
) -> None:
    """Where there is no `mallopt`, or no library can be opened, a process is set up all the same."""

    def opened(_: object) -> object:
        if library is None:
            raise OSError("no such library")
        return library

    monkeypatch.setattr(ctypes, "CDLL", opened)
    set_up()
