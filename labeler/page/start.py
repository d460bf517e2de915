"""Starting and stopping the page: a free port of the loopback address, one page a folder, the browser.

What a second start needs to find the first (its port and key) stands in the user's own data folder, readable by nobody
else, and not among the recipes, which may be shared.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import secrets
import socket
import threading
import urllib.request
import webbrowser
from collections.abc import Callable
from pathlib import Path

from labeler.files import write_whole
from labeler.types import LabelerError

__all__ = ["Running", "listen", "note_of", "running", "serve"]

LOOPBACK = "127.0.0.1"


class Running:
    """A page that runs: its port and its key.

    Parameters
    ----------
    port : int
    key : str
    """

    def __init__(self, port: int, key: str) -> None:
        self.port, self.key = port, key

    @property
    def address(self) -> str:
        """What to open in the browser."""
        return f"http://{LOOPBACK}:{self.port}/enter?key={self.key}"


def note_of(folder: Path) -> Path:
    """Where a page of a folder writes down that it runs."""
    from platformdirs import user_data_path

    name = hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:24]
    place = os.environ.get("LABELER_PAGE_NOTES")
    return (Path(place) if place else user_data_path("labeler") / "pages") / f"{name}.json"


def running(folder: Path) -> Running | None:
    """The page that already runs for a folder; None where none answers."""
    try:
        stated = json.loads(note_of(folder).read_text(encoding="utf-8"))
        found = Running(int(stated["port"]), str(stated["key"]))
        opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        with opener.open(f"http://{LOOPBACK}:{found.port}/alive?key={found.key}", timeout=2) as answer:
            return found if answer.status == 204 else None
    except (OSError, ValueError, KeyError, TypeError):
        return None


def listen(port: int) -> socket.socket:
    """A socket that listens on the loopback address only; `port` 0 takes a free one.

    Raises LabelerError where the port is taken.
    """
    opened = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name != "nt":
        opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        opened.bind((LOOPBACK, port))
        # Whoever opens the address as soon as it is printed waits in line.
        opened.listen(128)
    except OSError as error:
        opened.close()
        reason = (error.strerror or str(error)).lower()
        raise LabelerError(
            f"--port {port}: cannot be listened on ({reason}); leave it out to take a free one"
        ) from None
    return opened


def serve(folder: Path, *, port: int, browser: bool, say: Callable[[str], None]) -> None:
    """Serve a folder until Ctrl-C or the page's own stop.

    Parameters
    ----------
    folder : Path
    port : int
        0 takes a free one.
    browser : bool
        Whether to open the browser.
    say : function
        Prints a line.
    """
    already = running(folder)
    if already is not None:
        say(f"the page of {folder} runs already: {already.address}")
        if browser:
            webbrowser.open(already.address)
        return
    import uvicorn

    from labeler.page.app import make_app
    from labeler.page.folder import Folder

    opened = listen(port)
    here = Running(opened.getsockname()[1], secrets.token_urlsafe(24))
    note = note_of(folder)
    _write_note(note, here)
    server: uvicorn.Server | None = None

    def stop() -> None:
        if server is not None:
            server.should_exit = True

    app = make_app(Folder(folder), port=here.port, key=here.key, stop=stop)
    config = uvicorn.Config(
        app, log_level="critical", access_log=False, server_header=False, timeout_keep_alive=30,
        timeout_graceful_shutdown=3, lifespan="on", ws="none",
    )  # fmt: skip
    server = uvicorn.Server(config)
    say(f"labeler shows {folder}: {here.address}\nstop with Ctrl-C, or with “Stop” on the page")
    if browser:
        threading.Timer(0.3, webbrowser.open, [here.address]).start()
    try:
        server.run(sockets=[opened])
    finally:
        opened.close()
        with contextlib.suppress(OSError):
            note.unlink()


def _write_note(note: Path, here: Running) -> None:
    """Write down where the page runs; without that note a second start opens a page of its own."""
    with contextlib.suppress(OSError, LabelerError):
        note.parent.mkdir(parents=True, exist_ok=True)
        write_whole(str(note), json.dumps({"port": here.port, "key": here.key}).encode())
        note.chmod(0o600)
