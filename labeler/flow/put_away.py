"""What is put away for another day: servings of the finished dish that are eaten later, or food for another dish.

Keeping is not leaving: who freezes half of a stew that serves eight serves eight all the same. Half of a dough that is
frozen before the rest is baked is most likely for another time, and whether the servings count it is asked.
"""

from __future__ import annotations

from labeler.flow.choices import Doubt, Question, likely
from labeler.flow.heaps import Heap, Nature
from labeler.flow.looking_ahead import ahead
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Handler, Heat, Trait, action, has
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Role

__all__ = ["is_all_there_is", "is_of_the_servings"]

_NEARLY_ALL = 0.9  # share of the food on the table from which a heap is the dish: a choice, no source
_ELSEWHERE = 0.7  # how likely what is put away of something unfinished is not of the servings: a choice, no source
_LEAVES_AS_IT_IS = frozenset((Handler.SERVE, Handler.KEEP, Handler.LIE))


def is_all_there_is(walk: Walk, heap: Heap) -> bool:
    """Whether nearly all food on the table is in one heap."""
    food = sum(walk.grams(one) for one in walk.table.open() if one.nature is Nature.FOOD)
    return walk.grams(heap) > _NEARLY_ALL * food


def is_of_the_servings(walk: Walk, one: Instruction, target: Target) -> bool:
    """Whether what an instruction puts away is eaten as part of the recipe's servings, on whatever day.

    Parameters
    ----------
    walk : Walk
    one : Instruction
    target : Target
        What it keeps.
    """
    heap = _put_away(walk, one, target)
    if heap is None:
        return False
    if _is_finished(walk, heap):
        return True
    if target.quantity.extent is not Extent.SHARE:
        return False
    options = likely("they do not", "they do", weights=(_ELSEWHERE, 1.0 - _ELSEWHERE))
    return bool(walk.pick(one, Question(Doubt.PUT_AWAY, one.span, walk.called(heap)), options))


def _put_away(walk: Walk, one: Instruction, target: Target) -> Heap | None:
    """The food that was made and is put away, or a share of it; None for lines, liquids and what only waits beside."""
    away = has(one.action, Trait.PUTS_AWAY) or Mark.FOR_LATER in one.marks
    if not away or one.names or target.fresh or target.within or target.parted is not None or target.nothing:
        return None
    if target.mention.role is Role.OUT_OF or any(heap.taken_of for heap in walk.table.open()):
        return None
    rest = target.rest or target.quantity.extent is Extent.REST
    if rest and (any(0.02 < left < 0.98 for left in walk.left.values()) or not _shared_before(walk, one)):
        return None
    heap = target.heaps[0] if target.heaps else walk.live(walk.focus)
    return heap if heap is not None and heap.nature is Nature.FOOD and walk.live(heap) is not None else None


def _shared_before(walk: Walk, one: Instruction) -> bool:
    """Whether the sentence gives a share away before it speaks of the rest: "serve half and freeze the rest"."""
    before = [other for other in walk.instructions[: walk.at] if other.sentence == one.sentence]
    return any(mention.quantity.extent is Extent.SHARE for other in before for mention in other.mentions)


def _is_finished(walk: Walk, heap: Heap) -> bool:
    """Whether a heap is the dish, and nothing is done to it any more but that it waits, is warmed up and is served."""
    if not is_all_there_is(walk, heap):
        return False
    for later in ahead(walk):
        row = action(later.action)
        again = bool(heap.cooked) and row.heat is not Heat.NONE
        if not (row.handler in _LEAVES_AS_IT_IS or again) or _brings(walk, later):
            return False
    return True


def _brings(walk: Walk, one: Instruction) -> bool:
    """Whether an instruction names food that is not in anything yet."""
    named = (food for mention in one.mentions for food in walk.binder.foods_named(mention))
    return any(walk.binder.is_left(food) for food in named)
