"""What later steps of the method say of a heap: whether its liquid goes, whether all that is left joins it."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.flow.heaps import Heap
from labeler.flow.target import Parted
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Action, Gathers, Handler, Heat, Trait, action, heat_of
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mood, Role

__all__ = [
    "ahead",
    "carved_later",
    "heated_next",
    "just_touched",
    "lists_taken_later",
    "removed_next",
    "strained_next",
    "takes_rest_later",
    "tastes",
]


def ahead(walk: Walk) -> Sequence[Instruction]:
    """The instructions after this one that are done."""
    return [one for one in walk.instructions[walk.at + 1 :] if one.mood in (Mood.DO, Mood.MAY)]


def just_touched(walk: Walk, heap: Heap | None) -> bool:
    """Whether the instruction before this one is about a heap: "drain the beans and add to the pan".

    What changes nothing counts as no instruction: "flour the fish, wasting none, and lower it in".
    """
    done = (at for at in range(walk.at - 1, -1, -1) if _touches(walk.instructions[at]))
    return heap is not None and walk.at > 0 and heap.last >= next(done, 0)


def _touches(one: Instruction) -> bool:
    """Whether an instruction is about food in a vessel, and not about a tool, a word of care or what is only cut."""
    row = action(one.action)
    return row.gathers is not Gathers.APART or row.handler is not Handler.NONE


def takes_rest_later(walk: Walk) -> bool:
    """Whether a later step takes all that is left: "stir in everything else"."""
    return any(
        is_class(mention.name, "rest")
        or (is_class(mention.name, "everything") and row.gathers not in (Gathers.OUT, Gathers.SAME))
        or (mention.quantity.extent is Extent.REST and is_class(mention.name, "everything", "mixture"))
        for one in ahead(walk)
        if (row := action(one.action)).handler is not Handler.SERVE
        for mention in one.mentions
        if mention.role in (Role.OBJECT, Role.WITH)
    )


def carved_later(walk: Walk, heap: Heap) -> bool:
    """Whether a roast waits to be carved, so that "simmer everything" does not mean it."""
    if heat_of(heap.cooked) is not Heat.DRY:
        return False
    for one in ahead(walk):
        row = action(one.action)
        named = (food.source for mention in one.mentions for food in walk.binder.foods_named(mention))
        if (Trait.CUTS in row.traits or row.gathers is Gathers.OUT) and any(food in heap.foods for food in named):
            return Trait.CUTS in row.traits
    return False


def heated_next(walk: Walk) -> bool:
    """Whether the next instruction is heat that names no food: "and cook for 4 minutes"."""
    following = next(iter(ahead(walk)), None)
    return following is not None and action(following.action).heat is not Heat.NONE and not following.mentions


def lists_taken_later(walk: Walk) -> set[frozenset[str]]:
    """The titles of the lists that a later step takes as a whole: "mix all the ingredients for the sauce"."""
    return {
        group
        for one in ahead(walk)
        if any(is_class(mention.name, "everything") for mention in one.mentions) and (group := walk.list_named(one))
    }


def strained_next(walk: Walk) -> bool:
    """Whether what comes first of all that takes something away is a sieve: what is in it gives its taste."""
    for one in ahead(walk):
        handler = action(one.action).handler
        if handler in (Handler.DRAIN, Handler.RINSE, Handler.SQUEEZE, Handler.LIFT, Handler.DISCARD):
            return False
        if handler is Handler.STRAIN:
            return True
    return False


def removed_next(walk: Walk, heap: Heap) -> bool:
    """Whether the liquid of a heap goes before anything else is cooked in it or put into it."""
    for one in ahead(walk):
        row = action(one.action)
        if row.handler in (
            Handler.DRAIN,
            Handler.RINSE,
            Handler.SQUEEZE,
            Handler.STRAIN,
            Handler.LIFT,
            Handler.DISCARD,
        ):
            if row.handler in (Handler.LIFT, Handler.DISCARD) and not _about(walk, one, heap):
                continue
            return not _goes_through(walk, one, heap)
        if row.heat not in (Heat.NONE, Heat.WARM) or row.handler in (Handler.REDUCE, Handler.SERVE):
            return False
        if Trait.JOINS in row.traits and one.mentions:
            return False
    return False


def _goes_through(walk: Walk, one: Instruction, heap: Heap) -> bool:
    """Whether juicy food goes through a food mill with its juice: "push the tomatoes through"."""
    pressed = action(one.action).handler is Handler.STRAIN and Mark.PRESSED in one.marks
    return pressed and walk.grams(heap, "fruit", "tomato") > 0.5 * walk.grams(heap)


def _about(walk: Walk, one: Instruction, heap: Heap) -> bool:
    """Whether a removal is about most of a heap or about its liquid."""
    objects = [mention for mention in one.mentions if mention.role in (Role.OBJECT, Role.OUT_OF)]
    if not objects:
        return True
    for mention in objects:
        target = walk.resolve(mention, one, removal=True)
        if target.focus or target.everything or target.parted in (Parted.LIQUID,):
            return True
        named = [food for food in target.within if food in heap.foods]
        if named and sum(walk.grams_of(food) for food in named) > 0.3 * max(walk.grams(heap), 1.0):
            return True
    return False


def tastes(walk: Walk, heap: Heap, row: Action) -> bool:
    """Whether what only seasons belongs into a heap that is cooked or steeped: not into water that is poured away.

    What a sieve parts from food that lay without water is the food's own juice, and that is kept.
    """
    if removed_next(walk, heap):
        return strained_next(walk) and (row.handler is Handler.LIE or walk.has_liquid(heap))
    liquids = [i for i in walk.ingredients if i.is_liquid and i.kind != "water" and walk.left[i.source] > 0.02]
    plain_bath = row.heat is Heat.WET and not heap.cooked and not walk.has_liquid(heap)
    return not (plain_bath and liquids)
