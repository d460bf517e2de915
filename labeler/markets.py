"""The markets whose measures and rules are known, and which of them a recipe is for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Protocol

__all__ = ["MARKETS", "market_of"]

MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")


class _HasHead(Protocol):
    @property
    def head(self) -> Mapping[str, Any]: ...


def market_of(recipe: _HasHead, given: str | None = None) -> str:
    """The market of a recipe: what is asked for, else what its head says, else us.

    Parameters
    ----------
    recipe : Recipe
    given : str or None
        What the caller asks for.

    A head that says something else than a market is reported where the recipe is read and does not count here.
    """
    text = str(recipe.head.get("market") or "").strip().lower()
    return given or (text if text in MARKETS else "us")
