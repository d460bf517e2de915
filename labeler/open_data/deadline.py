"""A time after which a request is over, whatever the service sends meanwhile: a byte at a time, headers without end.

The timeouts of sockets begin again with each byte. Here every connection is noted as it is opened, and shut when the
time is over, so that whoever reads from it wakes up.
"""

from __future__ import annotations

import contextlib
import socket
import threading
from typing import Any

__all__ = ["Deadline"]


class Deadline:
    """The time of one request.

    Parameters
    ----------
    seconds : float
    """

    def __init__(self, seconds: float) -> None:
        self.passed = False
        self._open: list[socket.socket] = []
        self._lock = threading.Lock()
        self._timer = threading.Timer(seconds, self._end)
        self._timer.daemon = True

    def __enter__(self) -> Deadline:
        self._timer.start()
        return self

    def __exit__(self, *rest: object) -> None:
        self._timer.cancel()
        with self._lock:
            for one in self._open:
                one.close()
            self._open.clear()

    def note(self, opened: socket.socket) -> None:
        """A connection that ends with the time; it is watched through a handle of its own, as TLS takes the first."""
        with self._lock:
            self._open.append(opened.dup())
            if self.passed:
                self._shut()

    def _end(self) -> None:
        with self._lock:
            self.passed = True
            self._shut()

    def _shut(self) -> None:
        for one in self._open:
            with contextlib.suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)

    def watch(self, manager: Any) -> Any:
        """Let every connection of a pool manager of urllib3's be noted; the manager."""
        from urllib3 import HTTPConnectionPool, HTTPSConnectionPool

        deadline = self

        def noting(base: Any) -> Any:
            class Noted(base):  # type: ignore[misc]
                """A connection that is noted before anything is said on it."""

                def _new_conn(self) -> Any:
                    opened = super()._new_conn()
                    deadline.note(opened)
                    return opened

            return Noted

        class Plain(HTTPConnectionPool):
            """Connections without TLS."""

            ConnectionCls = noting(HTTPConnectionPool.ConnectionCls)

        class Secure(HTTPSConnectionPool):
            """Connections with it."""

            ConnectionCls = noting(HTTPSConnectionPool.ConnectionCls)

        manager.pool_classes_by_scheme = {"http": Plain, "https": Secure}
        return manager
