"""Shares of what was made: so much of a heap goes on, and the rest waits until it is spoken of again (R4)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.flow.heaps import Heap, Nature, State
from labeler.flow.looking_ahead import ahead
from labeler.flow.model import FromLine, Portion
from labeler.flow.parting import merge_in
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Gathers, Trait, action, has
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Quantity, Role

__all__ = [
    "apart_from_rest",
    "is_part_of_made",
    "is_weighed",
    "part_of",
    "share_of_each",
    "spoken_of_again",
    "take_of_made",
]

_OF_SOMETHING = frozenset({Extent.SHARE, Extent.AMOUNT, Extent.REST})


def is_part_of_made(target: Target) -> bool:
    """Whether words take a stated share or amount of what was made, and not of a line: "half of the sauce"."""
    if target.fresh or target.parted is not None or not (target.heaps or target.focus):
        return False
    return _share(target.quantity) or is_weighed(target.quantity)


def _share(quantity: Quantity) -> bool:
    return quantity.extent is Extent.SHARE and quantity.share is not None and quantity.share.best < 0.999


def is_weighed(quantity: Quantity) -> bool:
    """Whether a quantity is a weight or a volume."""
    return quantity.extent is Extent.AMOUNT and (quantity.grams or quantity.millilitres) is not None


def share_of_each(target: Target) -> Quantity:
    """How much of each food of a phrase it takes: a share is of each, an amount of one alone."""
    quantity = target.quantity
    if len(target.fresh) == 1 or quantity.extent is Extent.SHARE:
        return quantity
    return Quantity(quantity.extent if quantity.extent is not Extent.AMOUNT else Extent.ALL, quantity.share)


def spoken_of_again(walk: Walk, targets: Sequence[Target]) -> list[Target]:
    """The same targets, where "the rest" is the rest of what was made and "half of it" is not what it is put to."""
    targets = _liquid_beside_food(walk, targets)
    return [_rest_of_made(walk, _other_than_focus(walk, target, targets)) for target in targets]


def _liquid_beside_food(walk: Walk, targets: Sequence[Target]) -> Sequence[Target]:
    """ "Brush a quarter of the syrup over the cake": the syrup is the liquid in hand, and the cake another heap.

    The other is what was last worked on and is no liquid.
    """
    focus = walk.live(walk.focus)
    if focus is None or walk.solids(focus) or not walk.has_liquid(focus):
        return targets
    in_hand = [t for t in targets if t.focus and t.mention.role in (Role.OBJECT, Role.WITH, Role.INTO)]
    liquids = [t for t in in_hand if is_class(head_of(t.mention.name), "product-liquid", "byproduct-liquid")]
    others = (heap for heap in walk.table.open() if heap.nature is Nature.FOOD and heap is not focus)
    foods = [heap for heap in others if walk.solids(heap)]
    if not liquids or len(liquids) == len(in_hand) or not foods:
        return targets
    other = max(foods, key=lambda heap: heap.last)
    found = []
    for target in targets:
        if target in liquids:
            found.append(replace(target, focus=False, heaps=[focus]))
        elif target in in_hand:
            found.append(replace(target, focus=False, heaps=[other]))
        else:
            found.append(target)
    return found


def _rest_of_made(walk: Walk, target: Target) -> Target:
    """ "The remaining glaze", "the other half": of the heap that a share was taken of, the last one."""
    if not target.rest or target.fresh or target.heaps:
        return target
    rests = [heap for heap in walk.table.open() if heap.taken_of and heap.nature in (Nature.FOOD, Nature.LIQUID)]
    partly = any(0.02 < walk.left[i.source] < 0.98 and walk.binder.never_named(i) for i in walk.ingredients)
    if not rests or partly:
        return target
    rests[0].shared_at = -1
    return replace(target, rest=False, heaps=[rests[0]])


def _other_than_focus(walk: Walk, target: Target, targets: Sequence[Target]) -> Target:
    """ "Toss them with half of it": not of the food in hand, but of what was made before."""
    focus = walk.live(walk.focus)
    if not target.focus or focus is None or target.quantity.extent not in _OF_SOMETHING:
        return target
    beside = [t for t in targets if t is not target and (t.focus or focus in t.heaps)]
    if not is_class(target.mention.name, "pronoun") and not any(t.mention.role is Role.INTO for t in beside):
        others = any(t is not target and not t.nothing for t in targets)
        return replace(target, focus=False, heaps=[focus]) if others and is_part_of_made(target) else target
    if not beside and target.mention.role is Role.OBJECT:
        return target
    taken = target.quantity.extent is Extent.REST
    for heap in walk.table.open():
        if heap is not focus and heap.nature in (Nature.FOOD, Nature.LIQUID) and (heap.taken_of or not taken):
            heap.shared_at = -1
            return replace(target, focus=False, heaps=[heap])
    return target


def part_of(quantity: Quantity) -> Portion:
    """So much of a heap as a weight or a volume takes; `Table.merge` knows of which."""
    return Portion(FromLine(0), None, quantity.grams, quantity.millilitres)


def apart_from_rest(walk: Walk, one: Instruction, target: Target) -> Heap | None:
    """The share of what was made that an instruction works on by itself, where a later one works on the rest.

    None where nobody speaks of the rest, or only to do the same with it: then the shares are batches.
    """
    heap = target.heaps[0] if target.heaps else walk.live(walk.focus)
    if heap is None or not _share(target.quantity) or not _rest_is_used(walk):
        return None
    part = walk.table.new(last=walk.at, vessel=one.vessel, names=set(heap.names), cooked=heap.cooked, wet=heap.wet)
    walk.table.merge(part, heap, share=target.quantity.share)
    walk.table.node(part, "divide", text=one.text, span=one.span)
    if heap.state is State.ASIDE:
        heap.state = State.OPEN
    return part


def _rest_is_used(walk: Walk) -> bool:
    """Whether the next that is said of a rest is more than to do the same with it."""
    for later in ahead(walk):
        spoken = [m for m in later.mentions if m.quantity.extent is Extent.REST or is_class(m.name, "rest")]
        if spoken:
            apart = action(later.action).gathers is Gathers.APART and not has(later.action, Trait.PUTS_AWAY)
            return not has(later.action, Trait.AGAIN) and not apart
    return False


def take_of_made(walk: Walk, heap: Heap, other: Heap, one: Instruction, quantity: Quantity) -> None:
    """Put a heap into another one, or so much of it as the words state; nobody may speak of the rest again."""
    if is_weighed(quantity):
        walk.table.merge(heap, other, amount=part_of(quantity))
        other.taken_of = other.taken_in_grams = True
    elif quantity.extent is Extent.SHARE and quantity.share is not None:
        merge_in(walk, heap, other, one, share=quantity.share)
    else:
        merge_in(walk, heap, other, one)
        return
    other.shared_at = walk.at
