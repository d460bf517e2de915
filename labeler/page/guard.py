"""What every request must show before it is answered, and what every answer carries.

The page is for one person at one machine. Other sites that the same browser visits must not reach it (Host and Origin
are checked, the key is in a cookie that no other site's request carries), and nothing that a recipe says may run
(a content policy without inline script).
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import MutableMapping
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["MAX_BODY", "Guard", "TooLarge", "nonce_of", "too_large"]

MAX_BODY = 8 * 1024 * 1024
"""What a request may carry [bytes]: a saved web page, a pasted text."""
SAFE_METHODS = frozenset({"GET", "HEAD"})
OPEN_PATHS = frozenset({"/enter", "/alive"})

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'nonce-{nonce}'; img-src 'self' data: blob:; "
    "font-src 'self'; connect-src 'self'; frame-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'; object-src 'none'"
)
_HEADERS = {
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "x-frame-options": "DENY",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=()",
}


def nonce_of(request: Request) -> str:
    """The nonce of this answer's style sheets, which the editor needs for its own."""
    return str(request.scope.get("nonce", ""))


class TooLarge(Exception):
    """A body that goes on beyond `MAX_BODY`."""


class Guard:
    """The outermost layer: refuses what does not come from the page itself, and dresses every answer.

    Parameters
    ----------
    app : ASGI application
    port : int
        The port that is listened on; with the loopback names it is all that a Host may say.
    key : str
        The secret of this start: asked for once in the address, then held in a cookie.
    page : Page or None
        What the application works on, for whoever starts and ends it.
    """

    def __init__(self, app: ASGIApp, *, port: int, key: str, page: Any = None) -> None:
        self._app = app
        self.page = page
        self._key = key
        self._hosts = frozenset({f"127.0.0.1:{port}", f"localhost:{port}"})
        self.cookie = f"labeler-{port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it with a plain sentence."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        scope["nonce"] = secrets.token_urlsafe(16)
        dressed = _dressed(send, scope)
        refusal = self._refusal(scope)
        if refusal is not None:
            await refusal(scope, receive, dressed)
            return
        await self._app(scope, _limited(receive), dressed)

    def _refusal(self, scope: Scope) -> Response | None:
        """The answer to a request that is not let through; None where it is."""
        headers = Headers(scope=scope)
        host, path = headers.get("host", ""), scope["path"]
        if host not in self._hosts:
            return _refused(421, "This address is not the page's. Open the one that the terminal printed.")
        origin = headers.get("origin")
        if origin is not None and origin not in (f"http://{host}",):
            return _refused(403, "This request comes from another site and is not answered.")
        if scope["method"] not in SAFE_METHODS and origin is None:
            return _refused(403, "This request does not say which page it comes from and is not answered.")
        if headers.get("sec-fetch-site") == "cross-site" and scope["method"] not in SAFE_METHODS:
            return _refused(403, "This request comes from another site and is not answered.")
        if int(headers.get("content-length") or 0) > MAX_BODY:
            return too_large()
        request = Request(scope)
        if path == "/enter":
            return self._enter(request)
        if path not in OPEN_PATHS and not self._knows(request.cookies.get(self.cookie, "")):
            return _refused(403, "Open the page by the address that the terminal printed: it holds the key.")
        return None

    def _knows(self, given: str) -> bool:
        return hmac.compare_digest(given.encode(), self._key.encode())

    def _enter(self, request: Request) -> Response:
        """Put the key from the address into the cookie, and take it out of the address."""
        if not self._knows(request.query_params.get("key", "")):
            return _refused(403, "The key in this address is not this start's. Open the one that the terminal printed.")
        answer = RedirectResponse("/", status_code=303)
        answer.set_cookie(self.cookie, self._key, httponly=True, samesite="strict", path="/")
        return answer


def _refused(status: int, sentence: str) -> Response:
    return PlainTextResponse(sentence + "\n", status_code=status)


def too_large() -> Response:
    """The answer to a body over `MAX_BODY`."""
    return _refused(413, f"This is over {MAX_BODY // 2**20} MB, and no recipe is so long. Split it.")


def _limited(receive: Receive) -> Receive:
    """The body, for as long as it is not too large, whatever its length says."""
    seen = 0

    async def limited() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > MAX_BODY:
            raise TooLarge
        return message

    return limited


def _dressed(send: Send, scope: MutableMapping[str, Any]) -> Send:
    """Send with the headers of safety; an answer that brings a policy of its own keeps that."""

    async def dressed(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("content-security-policy", _POLICY.format(nonce=scope["nonce"]))
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return dressed
