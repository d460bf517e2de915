"""Which items of a mixture are those of some lines."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from labeler.cooking.state.mixture import Mixture
from labeler.flow.model import (
    FromLine,
    FromUnlisted,
    Source,
)

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun

__all__ = ["items_of_lines"]


def items_of_lines(mix: Mixture, run: PartRun, sources: Sequence[Source]) -> list[int]:
    """Items of some lines or unlisted foods, as they were put in or turned in a coat."""
    wanted: set[tuple[str, int, str]] = set()
    for source in sources:
        if isinstance(source, FromLine | FromUnlisted) and source in run.stores:  # a part in a circle brings nothing
            wanted |= {(item.part, item.line, item.name) for item in run.stores[source].mix.items}
    return [
        at
        for at, item in enumerate(mix.items)
        if (item.part, item.line, item.name) in wanted and item.phase in ("", "coating", "bound")
    ]
