"""Addresses of the web that a label or a post may lead to."""

from __future__ import annotations

from urllib.parse import urlsplit

from labeler.types import LabelerError

__all__ = ["check_web_address"]


def check_web_address(address: str) -> None:
    """Refuse what is no address of the web: only http and https with a host lead a buyer to a page.

    Parameters
    ----------
    address : str
        As typed; empty for none.

    Raises
    ------
    LabelerError
    """
    if not address:
        return
    try:
        parts = urlsplit(address)
    except ValueError:
        parts = urlsplit("")
    if parts.scheme not in ("http", "https") or not parts.hostname or any(sign.isspace() for sign in address):
        raise LabelerError(f"the address {address!r} is not one of the web; write it as https://example.org/my-post")
