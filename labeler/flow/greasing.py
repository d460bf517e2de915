"""A film of fat on a tin, which goes into the dish with what is put there."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Quantity, Role

__all__ = ["grease"]


def grease(walk: Walk, one: Instruction, targets: Sequence[Target]) -> None:
    """Grease a tin: a film of fat that goes into the dish with what is put there."""
    heap = None
    for target in targets:
        if target.mention.role in (Role.WITH,):
            for i in target.fresh:
                drawn = walk.draw(i, target.quantity, film=True)
                if drawn is not None:
                    heap = heap or walk.table.new(vessel=one.vessel or "tin", last=walk.at, film=True)
                    walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            if target.unlisted:
                heap = heap or walk.table.new(vessel=one.vessel or "tin", last=walk.at, film=True)
                added = walk.add_unlisted(target.mention, "grease", one)
                if added is not None:
                    walk.table.put(heap, [added[1]], [(added[0], 1.0)])
    lined = any(t.mention.role is Role.WITH for t in targets)  # "line a sieve with muslin", "a tin with paper"
    if heap is None and not lined and any(is_class(head_of(t.mention.name), "vessel-") for t in targets):
        fats = [i for i in walk.unplaced(after=one.after, spare_named=False) if i.kind == "fat"]
        if fats:
            drawn = walk.draw(fats[0], Quantity(Extent.FILM), film=True)
            if drawn is not None:
                heap = walk.table.new(vessel=one.vessel or "tin", last=walk.at, film=True)
                walk.table.put(heap, [drawn[0]], [(fats[0].source, drawn[1])])
