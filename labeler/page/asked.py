"""What the handlers share: the page they serve, questions in JSON, answers in JSON, files that were made."""

from __future__ import annotations

import functools
import itertools
import json
import logging
from collections import OrderedDict
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from typing import Any

from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response

from labeler.page.engine.reading import MARKETS, Text
from labeler.page.folder import Changed, Folder, digest_of
from labeler.page.guard import TooLarge, too_large
from labeler.page.work import Superseded, Work
from labeler.types import LabelerError

__all__ = ["Made", "Page", "answered", "given_text", "json_of", "page_of", "text_of", "word_of"]

_LOG = logging.getLogger(__name__)
KEPT_FILES = 24
Handler = Callable[[Request], Awaitable[Response]]


@dataclass(frozen=True, slots=True)
class Made:
    """A file that was made and waits to be fetched: its name, its kind and its bytes."""

    name: str
    media: str
    data: bytes


@dataclass
class Page:
    """All that the handlers work on.

    Parameters
    ----------
    folder : Folder
    work : Work
    stop : callable
        Ends the server.
    batch : BatchRun
    """

    folder: Folder
    work: Work
    stop: Callable[[], None]
    batch: Any
    _made: OrderedDict[str, Made] = field(default_factory=OrderedDict)
    _numbers: Any = field(default_factory=lambda: itertools.count(1))

    def keep(self, made: Made) -> str:
        """Keep a file for a while; returns the address to fetch it from."""
        number = str(next(self._numbers))
        self._made[number] = made
        while len(self._made) > KEPT_FILES:
            self._made.popitem(last=False)
        return f"/made/{number}"

    def made(self, number: str) -> Made | None:
        """A file that was kept; None where it is too long ago."""
        return self._made.get(number)


def page_of(request: Request) -> Page:
    """The page that a request is for."""
    page: Page = request.app.state.page
    return page


async def json_of(request: Request) -> dict[str, Any]:
    """The object that a request carries; raises LabelerError where it is none."""
    if request.headers.get("content-type", "").partition(";")[0].strip() != "application/json":
        raise LabelerError("this question is not written as JSON")
    try:
        given = json.loads(await request.body())
    except (ValueError, RecursionError):
        raise LabelerError("this question cannot be read as JSON") from None
    if not isinstance(given, dict):
        raise LabelerError("this question is no JSON object")
    return given


def word_of(given: dict[str, Any], key: str, default: str = "") -> str:
    """A text of a question; raises LabelerError where it is none."""
    value = given.get(key, default)
    if not isinstance(value, str):
        raise LabelerError(f"“{key}” of this question is no text")
    return value


def given_text(page: Page, given: dict[str, Any]) -> Text:
    """The recipe's text that a question carries, with its file's name and the market asked for."""
    market = word_of(given, "market")
    if market and market not in MARKETS:
        raise LabelerError(f"there is no market “{market[:20]}” here; write one of {', '.join(MARKETS)}")
    path = page.folder.place(word_of(given, "name"))
    return Text(word_of(given, "text"), str(path), market)


def text_of(page: Page, name: str, market: str = "") -> Text:
    """The recipe's text as it stands in its file."""
    return Text(page.folder.read(name), str(page.folder.place(name)), market)


def answered(handler: Callable[[Request], Awaitable[Any]]) -> Handler:
    """A handler whose answer goes out as JSON, and whose refusals are sentences for the cook."""

    @functools.wraps(handler)
    async def answer(request: Request) -> Response:
        try:
            found = await handler(request)
        except LabelerError as error:
            return JSONResponse({"said": " ".join(str(error).split())}, status_code=400)
        except Changed as changed:
            text = "The file was changed outside this page meanwhile; nothing was overwritten."
            there = {"said": text, "changed": changed.text, "digest": digest_of(changed.text)}
            return JSONResponse(there, status_code=409)
        except Superseded:
            return JSONResponse({"superseded": True}, status_code=409)
        except TooLarge:
            return too_large()
        except ClientDisconnect:
            return Response(status_code=499)
        except Exception as fault:
            _LOG.exception("a question was not answered")
            text = f"This is a fault of the program, not of your recipe ({type(fault).__name__}); please report it."
            return JSONResponse({"said": text}, status_code=500)
        return found if isinstance(found, Response) else JSONResponse(found)

    return answer
