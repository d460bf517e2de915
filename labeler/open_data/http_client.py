"""Asking an open data service: politely, with patience that ends, and never twice for the same thing.

Answers are kept in a cache file of the user's and served from there for a month; then the service is asked whether they
have changed. Every request says who asks, keeps to the service's stated rate over all runs, waits as long as the
service says (up to a limit), tries again a few times, reads at most a few megabytes within a set time, and follows
no redirection to another host. Where the network is not there, or with `offline`, what is kept is served, however
old; what is not kept is one clear line.
"""

from __future__ import annotations

import json
import os
import random
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from labeler import __version__
from labeler.files import write_whole
from labeler.open_data.deadline import Deadline
from labeler.open_data.redirection import elsewhere, redirection_told
from labeler.types import LabelerError

__all__ = ["Answer", "Service", "ask", "cache_folder"]

CACHE_PLACE = "LABELER_CACHE"
"""Environment variable that names the folder of the cache instead of the user's own."""

CONNECT_SECONDS, READ_SECONDS, WHOLE_SECONDS = 5.0, 15.0, 40.0
MAX_BYTES = 4 * 1024 * 1024
TRIES = 3
LONGEST_WAIT = 10.0
KEPT_SECONDS = 30 * 24 * 3600
REDIRECTS = 3
_AGAIN = frozenset({429, 500, 502, 503, 504})
_sleep = time.sleep
_clock = time.monotonic


@dataclass(frozen=True)
class Service:
    """A service and its manners.

    Parameters
    ----------
    name : str
        As the cook reads it.
    address : str
        Its base address; http or https.
    per_window : int
        How many requests it allows ...
    window : float
        ... in how many seconds.
    key : str
        Value of the header ``X-Api-Key``; empty where it needs none. It is never part of an address or a message.
    """

    name: str
    address: str
    per_window: int
    window: float
    key: str = ""


@dataclass(frozen=True)
class Answer:
    """What a service said: its status, its JSON, and from which day it is where it was kept."""

    status: int
    data: Any
    kept_since: str = ""
    stale: bool = False


def cache_folder() -> Path:
    """Where answers are kept."""
    named = os.environ.get(CACHE_PLACE)
    if named:
        return Path(named)
    from platformdirs import user_cache_path

    return user_cache_path("labeler")


def _user_agent() -> str:
    return f"labeler/{__version__} (a cook's own recipe tool, one food at a time)"


def _usable_cache() -> Path:
    """The folder of the cache, made where it is not there."""
    folder = cache_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LabelerError(
            f"{folder}: the cache cannot be kept there ({reason}); name another in {CACHE_PLACE}"
        ) from None
    return folder


def _session(service: Service, folder: Path, worth: Callable[[Any], bool]) -> Any:
    """A session that keeps what is worth keeping and asks with manners; LabelerError where its cache is broken."""
    import sqlite3

    import requests_cache

    base = folder / "opendata.sqlite"
    try:
        session = requests_cache.CachedSession(
            str(base),
            backend="sqlite",
            serializer="json",
            expire_after=KEPT_SECONDS,
            stale_if_error=True,
            allowable_codes=(200,),
            filter_fn=lambda response: (stated := _json(response)) is not None and worth(stated),
            ignored_parameters=["X-Api-Key", "api_key"],
        )
    except sqlite3.DatabaseError as error:
        raise LabelerError(f"{base}: the cache cannot be used ({error}); take it away, and it is made again") from None
    adapter = _adapter(service, folder)
    session.mount("http://", adapter)
    session.mount("https://", adapter)
    return session


def ask(
    service: Service,
    path: str,
    *,
    worth: Callable[[Any], bool],
    offline: bool = False,
    parameters: dict[str, str] | None = None,
) -> Answer:
    """One question to a service.

    Parameters
    ----------
    service : Service
    path : str
        Under its address, with a leading slash.
    worth : function
        Whether the JSON of an answer is worth keeping.
    offline : bool
        True serves what is kept and sends nothing.
    parameters : dict or None
        Of the query.

    Raises
    ------
    LabelerError
        Where nothing can be had: no network and nothing kept, too slow, too large, too often, no JSON, moved elsewhere.
        Statuses of the service, other than "too often" and its own failures, are the caller's to read.
    """
    import requests
    from requests.exceptions import InvalidURL, MissingSchema

    parts = urlsplit(service.address)
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise LabelerError(f"{service.name}: “{service.address}” is no address of a service; it begins with https://")
    folder = _usable_cache()
    session = _session(service, folder, worth)
    session.trust_env = False if parts.hostname in ("127.0.0.1", "localhost", "::1") else session.trust_env
    headers = {"User-Agent": _user_agent(), "Accept": "application/json"}
    if service.key:
        headers["X-Api-Key"] = service.key
    address = service.address.rstrip("/") + path
    try:
        with session:
            for _ in range(REDIRECTS + 1):
                with redirection_told(service.name):
                    response = session.get(
                        address,
                        params=parameters,
                        headers=headers,
                        timeout=(CONNECT_SECONDS, READ_SECONDS),
                        allow_redirects=False,
                        only_if_cached=offline,
                    )
                    target = session.get_redirect_target(response)
                if target is None:
                    return _answer(service, response, offline)
                address, parameters = elsewhere(service.name, response.url, target), None
            raise LabelerError(f"{service.name}: sends from one address to the next without end; try another day")
    except (requests.ConnectionError, requests.Timeout) as error:
        slow = isinstance(error, requests.Timeout) and not isinstance(error, requests.ConnectTimeout)
        what = "did not answer in time" if slow else "cannot be reached"
        raise LabelerError(
            f"{service.name}: {what} ({parts.hostname}); check the network, or type the package in with: "
            "labeler larder add"
        ) from None
    except (InvalidURL, MissingSchema):
        raise LabelerError(f"{service.name}: “{service.address}” is no address of a service") from None
    except requests.RequestException as error:
        raise LabelerError(f"{service.name}: its answer broke off ({type(error).__name__}); try again") from None
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LabelerError(
            f"{folder}: the cache cannot be used ({reason}); name another folder in {CACHE_PLACE}"
        ) from None


def _answer(service: Service, response: Any, offline: bool) -> Answer:
    kept = bool(getattr(response, "from_cache", False))
    if offline and response.status_code == 504:
        raise LabelerError(f"{service.name}: nothing is kept of this; ask once without --offline")
    if response.status_code == 429:
        raise LabelerError(f"{service.name}: was asked too often; it wants a pause, so try again later")
    if response.status_code >= 500:
        raise LabelerError(f"{service.name}: has a fault of its own (status {response.status_code}); try again later")
    data = _json(response)
    if data is None and response.status_code == 200:
        raise LabelerError(f"{service.name}: answered with something that is no JSON; try again later")
    since = response.created_at.date().isoformat() if kept else ""
    return Answer(response.status_code, data, since, kept and bool(response.is_expired))


def _json(response: Any) -> Any:
    """The JSON of an answer; None where it has none."""
    try:
        return json.loads((response.content or b"").decode("utf-8-sig"))
    except (UnicodeDecodeError, ValueError, RecursionError):
        return None


def _pause_before_next(response: Any, attempt: int) -> float | None:
    """How long to wait before the request is sent again [s]; None where the answer stands."""
    if response.status_code not in _AGAIN or attempt == TRIES - 1:
        return None
    wait = _told(response.headers.get("Retry-After")) or _backoff(attempt)
    return wait if wait <= LONGEST_WAIT else None


def _too_slow(service: Service) -> LabelerError:
    return LabelerError(f"{service.name}: is too slow; try again later")


def _bounded(service: Service, raw: Any) -> bytes:
    """The body of a response, decoded.

    Raises
    ------
    LabelerError
        Where it is larger or takes longer than an answer may.
    """
    chunks, size, begun = [], 0, _clock()
    for chunk in raw.stream(65536, decode_content=True):
        size += len(chunk)
        if size > MAX_BYTES:
            raise LabelerError(f"{service.name}: answered with more than {MAX_BYTES >> 20} MiB; nothing is read")
        if _clock() - begun > WHOLE_SECONDS:
            raise _too_slow(service)
        chunks.append(chunk)
    return b"".join(chunks)


def _whole(service: Service, response: Any) -> Any:
    """The response with its body read, decoded and bounded in size and time."""
    import io

    from requests.exceptions import ChunkedEncodingError
    from urllib3 import HTTPResponse

    raw = response.raw
    try:
        body = _bounded(service, raw)
    except LabelerError:
        raise
    except Exception as error:  # urllib3 has a family of these, and names differ between its releases
        raise ChunkedEncodingError(str(error)) from error
    finally:
        response.close()
    response.raw = HTTPResponse(
        body=io.BytesIO(body),
        headers={key: value for key, value in raw.headers.items() if key.lower() not in _OF_THE_WIRE},
        status=raw.status,
        version=raw.version,
        reason=raw.reason,
        preload_content=False,
        request_url=response.request.url,
    )
    for name in _OF_THE_WIRE:
        response.headers.pop(name, None)
    return response


def _adapter(service: Service, folder: Path) -> Any:
    """What sends the requests: keeps the pace, tries again, and reads no more than it should."""
    import requests
    from requests.adapters import HTTPAdapter

    class Careful(HTTPAdapter):
        """An adapter with manners and limits."""

        def send(self, request: Any, *arguments: Any, **options: Any) -> Any:
            """Send with pauses between the tries; the last answer or failure stands."""
            options["stream"] = True
            failure: Exception | None = None
            for attempt in range(TRIES):
                _keep_pace(service, folder)
                with Deadline(WHOLE_SECONDS) as deadline:
                    deadline.watch(self.poolmanager).clear()
                    try:
                        response = super().send(request, *arguments, **options)
                        pause = _pause_before_next(response, attempt)
                        if pause is None:
                            whole = _whole(service, response)
                            if not deadline.passed:  # what was cut off then may look like an end
                                return whole
                            raise _too_slow(service)
                        response.close()
                        failure, wait = None, pause
                    except (requests.RequestException, OSError) as error:
                        if deadline.passed:
                            raise _too_slow(service) from None
                        if not isinstance(error, requests.ConnectionError | requests.Timeout):
                            raise
                        failure, wait = error, _backoff(attempt)
                if attempt < TRIES - 1:
                    _sleep(wait)
            assert failure is not None
            raise failure

    return Careful()


_OF_THE_WIRE = ("content-encoding", "content-length", "transfer-encoding")


def _backoff(attempt: int) -> float:
    """Seconds before the next try: half, one, two ..., with a little chance so that many do not come at once."""
    return 0.5 * (1 << attempt) * random.uniform(1.0, 1.3)


def _told(header: str | None) -> float | None:
    """Seconds that a service asks to wait, as a number or a date; None where it says nothing that can be read."""
    if not header:
        return None
    if header.strip().isdigit():
        return float(header.strip()[:9])
    from email.utils import parsedate_to_datetime

    try:
        until = parsedate_to_datetime(header).timestamp()
    except (TypeError, ValueError, OverflowError):
        return None
    return max(until - time.time(), 0.0)


def _keep_pace(service: Service, folder: Path) -> None:
    """Wait a moment, or refuse, where the service was asked as often as it allows; remembered over all runs.

    Raises LabelerError where the wait would be long.
    """
    file = folder / "asked.json"
    host = urlsplit(service.address).netloc
    try:
        asked = json.loads(file.read_text(encoding="utf-8"))
        times = [float(at) for at in asked.get(host, [])]
    except (OSError, ValueError, TypeError, AttributeError):
        asked, times = {}, []
    now = time.time()
    times = [at for at in times if now - service.window < at <= now]
    if len(times) >= service.per_window:
        wait = times[-service.per_window] + service.window - now
        if wait > LONGEST_WAIT:
            raise LabelerError(
                f"{service.name}: allows {service.per_window} questions in {service.window:.0f} s and they are used "
                f"up; try again in {wait:.0f} s"
            )
        _sleep(max(wait, 0.0))
    asked[host] = [*times, time.time()][-service.per_window :]
    try:
        write_whole(str(file), json.dumps(asked).encode())
    except LabelerError:
        return  # without a place to remember it the pace holds within one question only
