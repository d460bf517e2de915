"""Where a service sends to: followed on the same host only, and an address that is none is told in one line."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import urljoin, urlsplit

from labeler.types import LabelerError

__all__ = ["elsewhere", "redirection_told"]


@contextmanager
def redirection_told(service: str) -> Iterator[None]:
    """Say in one line what comes of an address in an answer that is none: requests looks at it before it is asked to.

    What requests has a name for is left to the caller; for the rest `urllib` has no error but ValueError.
    """
    from requests import RequestException

    try:
        yield
    except RequestException:
        raise
    except ValueError:
        raise _no_address(service) from None


def elsewhere(service: str, here: str, target: str) -> str:
    """The address that a redirection names, on the same host only and never from https to http."""
    try:
        there = urljoin(here, target)
        one, two = urlsplit(here), urlsplit(there)
        ports = (one.port, two.port)
    except ValueError:
        raise _no_address(service) from None
    if (
        two.scheme not in ("http", "https")
        or (one.hostname, ports[0]) != (two.hostname, ports[1])
        or (one.scheme, two.scheme) == ("https", "http")
    ):
        raise LabelerError(f"{service}: sends to another host ({two.hostname}), which is not followed")
    return there


def _no_address(service: str) -> LabelerError:
    return LabelerError(f"{service}: sends to something that is no address, which is not followed")
