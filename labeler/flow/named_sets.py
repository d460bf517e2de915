"""R1: a name that the method gives to several foods of the list: "the trinity (onion, pepper, celery)"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from labeler.flow.ingredients import Ingredient
from labeler.flow.target import Target
from labeler.parsing.instructions.model import Mention

if TYPE_CHECKING:
    from labeler.flow.walk import Walk

__all__ = ["defines_set", "set_meant"]


def defines_set(walk: Walk, mention: Mention) -> bool:
    """Whether a phrase names what its bracket lists, which is remembered; its members are mentions of their own."""
    if len(mention.members) < 2 or walk.binder.foods_named(mention):
        return False
    found: list[Ingredient] = []
    for member in mention.members:
        meant = walk.binder.foods_named(member)
        if not meant:
            return False
        found += [one for one in meant if one not in found]
    walk.sets[mention.name] = tuple(found)
    return True


def set_meant(walk: Walk, mention: Mention) -> Target | None:
    """What a phrase means that is the name of such a set; None for any other, and where its foods are mixed in."""
    foods = walk.sets.get(mention.name, ())
    fresh = [one for one in foods if walk.left[one.source] > 0.02]
    if fresh:
        return Target(mention, fresh=fresh)
    sources = {one.source for one in foods}
    together = next((heap for heap in walk.table.open() if heap.foods and set(heap.foods) <= sources), None)
    return Target(mention, heaps=[together]) if together is not None else None
