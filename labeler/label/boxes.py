"""A block: a rectangle of marks that may hold other blocks, set from its own top left corner."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from labeler.label.drawing import Mark, moved

__all__ = ["EMPTY", "Block", "stack"]


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle of marks; one with no height is empty, one of infinite height cannot be set in its width.

    Parameters
    ----------
    width, height : float
        [pt].
    marks : tuple of Mark, or callable
        Its own, set from (0, 0), or what makes them when they are wanted: most blocks are only measured.
    parts : tuple of (x, y, Block)
        The blocks that it is made of.
    first, last : float
        Baselines of the first and last line of a paragraph [pt].
    reach : float
        Right end of the longest line of a paragraph [pt].
    """

    width: float = 0.0
    height: float = 0.0
    marks: tuple[Mark, ...] | Callable[[], Iterable[Mark]] = ()
    parts: tuple[tuple[float, float, Block], ...] = ()
    first: float = 0.0
    last: float = 0.0
    reach: float = 0.0

    def at(self, x: float, y: float) -> list[Mark]:
        """All marks with the block's top left corner at (x, y)."""
        own = self.marks() if callable(self.marks) else self.marks
        flat = [moved(mark, x, y) for mark in own]
        for dx, dy, part in self.parts:
            flat.extend(part.at(x + dx, y + dy))
        return flat


EMPTY = Block()


def stack(blocks: list[Block], gap: float, width: float) -> Block:
    """Blocks one below the other, `gap` points apart; empty ones are left out."""
    parts: list[tuple[float, float, Block]] = []
    y = 0.0
    for block in (b for b in blocks if b.height):
        y += gap if parts else 0.0
        parts.append((0.0, y, block))
        y += block.height
    return Block(width, y, parts=tuple(parts))
