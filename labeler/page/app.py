"""The page as a web application: which address is answered by what."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import AsyncIterator, Callable
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from labeler.page import batches, day, live, pantry, papers, screens, stall, store
from labeler.page.asked import Page
from labeler.page.folder import Folder
from labeler.page.guard import Guard
from labeler.page.work import Work

__all__ = ["make_app"]

STATIC = Path(__file__).with_name("static")
WARM_AFTER = 0.7  # s
FONTS = Path(__file__).parents[1] / "label" / "data" / "fonts"


def make_app(folder: Folder, *, port: int, key: str, stop: Callable[[], None], warm: bool = True) -> Guard:
    """The application of one folder.

    Parameters
    ----------
    folder : Folder
    port : int
        That it is listened to on.
    key : str
        The secret of this start.
    stop : function
        Ends the server.
    warm : bool
        Load the packages at once in the background, so that the first recipe does not wait.
    """
    work = Work()
    page = Page(folder, work, stop, batches.BatchRun())

    @contextlib.asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        if warm:
            # The first screen goes first: loading the packages would hold it up.
            later = threading.Timer(WARM_AFTER, live.warm)
            later.daemon = True
            later.start()
            work.warm()
        try:
            yield
        finally:
            page.batch.stop()
            work.stop()

    app = Starlette(
        routes=[
            *screens.routes,
            *live.routes,
            *store.routes,
            *papers.routes,
            *stall.routes,
            *day.routes,
            *pantry.routes,
            *batches.routes,
            Mount("/static", StaticFiles(directory=STATIC)),
            Mount("/fonts", StaticFiles(directory=FONTS)),
        ],
        middleware=[Middleware(GZipMiddleware, minimum_size=1024)],
        lifespan=lifespan,
    )
    app.state.page = page
    app.state.key = key
    return Guard(app, port=port, key=key, page=page)
