"""Which heap a name means that was never given: "the sauce", "the filling", "the beast"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from labeler.flow.choices import Doubt, Question, likely
from labeler.flow.heaps import Heap, Nature
from labeler.flow.kind_sets import SEASONS_OR_SWEETENS
from labeler.flow.named_food import known_food
from labeler.flow.target import Target
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mention, Role
from labeler.text.plurals import singular
from labeler.types import Problem

if TYPE_CHECKING:
    from labeler.flow.walk import Walk

__all__ = [
    "is_rest_of_nothing",
    "is_result",
    "is_what_is_made",
    "made_thing",
    "part_of_food_meant",
    "rest_of_nothing",
]

_LIKER = 0.1  # of a heap, by which another must hold more of what a name tells: a choice, no source
_TOLD, _NEAREST = 0.85, 0.6  # how likely what is spoken of is meant, with and without its kind telling: no source
_HALF = 0.5
_SMALL = 0.2  # of what is spoken of, below which a heap beside it is only a seasoning: a choice, no source


def is_what_is_made(walk: Walk, mention: Mention, one: Instruction) -> bool:
    """Whether a known thing that is neither a food of the list nor of the table is what is being made."""
    if not mention.definite or action(one.action).heat is Heat.NONE or walk.live(walk.focus) is None:
        return False
    return known_food(mention.name) is None


def is_rest_of_nothing(walk: Walk, target: Target) -> bool:
    """Whether words speak of the rest of a food that is used up, and that is the lesser part of what it went into."""
    if target.quantity.extent is not Extent.REST or not target.within or len(target.heaps) != 1:
        return False
    heap = target.heaps[0]
    holding = [one for one in walk.table.open() if any(food in one.foods for food in target.within)]
    own = sum(walk.grams_of(food) * heap.foods.get(food, 0.0) for food in target.within)
    return len(holding) == 1 and heap.nature is Nature.FOOD and own < _HALF * walk.grams(heap)


def rest_of_nothing(text: str, phrase: str, line: int) -> Problem:
    """What tells that words speak of a rest where nothing is left."""
    message = (
        f"“{text}”: nothing is left of “{phrase}”, as no step before took a part of it, so it changes nothing. Say in "
        "the step before how much of it goes in."
    )
    return Problem("rest-of-nothing", message, line)


def is_result(target: Target) -> bool:
    """Whether words tell what a food is made into, and not what it goes into: "roll the dough into balls"."""
    mention = target.mention
    pieces = is_class(singular(head_of(mention.name)), "product-pieces")
    unknown = target.focus and target.confidence < 1.0
    return unknown and pieces and mention.role is Role.INTO and not mention.definite


def part_of_food_meant(walk: Walk, mention: Mention) -> Target | None:
    """The food in hand, where something goes onto a part of it: "rub the salt into the skin", "between the leaves"."""
    part = is_class(head_of(mention.name), "food-part") or is_class(singular(head_of(mention.name)), "food-part")
    if mention.role is not Role.INTO or not part or walk.binder.foods_named(mention):
        return None
    fresh = [one for one in walk.last_named if walk.left[one.source] > 0.02]
    if fresh:
        return Target(mention, fresh=fresh)
    return Target(mention, focus=True) if walk.live(walk.focus) is not None else None


def made_thing(walk: Walk, target: Target, mention: Mention, one: Instruction) -> None:
    """Settle "the sauce", "the dough" on the heap that is most like it, where none goes by that name."""
    word = head_of(mention.name)
    kinds = (
        LIQUOR
        if is_class(word, "product-liquid")
        else frozenset({"flour"})
        if is_class(word, "product-flour")
        else SEASONS_OR_SWEETENS
        if is_class(word, "product-strewn")
        else frozenset[str]()
    )
    made_liquid = is_class(word, "product-liquid")  # food was cooked in it: it is broth, and no water any more
    there = [
        heap
        for heap in walk.table.open()
        if heap is not walk.focus
        and (heap.nature is Nature.FOOD or (made_liquid and heap.nature is Nature.BATH and heap.cooked))
    ]
    focus = walk.live(walk.focus)
    if not there and focus is not None and mention.definite and (mention.role is Role.WITH or _is_kept(one)):
        _call(walk, one, focus, word)  # "set the sauce aside", "coat with half of the marinade": there is no other
    if not there or (mention.role is Role.INTO and not mention.definite):
        return

    moved = mention.role is Role.INTO and all(m.role is not Role.OBJECT for m in one.mentions)
    if moved and not any(word in heap.names for heap in (walk.focus,) if heap is not None):
        target.focus, target.heaps = False, [there[0]]  # "stir into the porridge": that which was made before
        _call(walk, one, there[0], word)
        return

    def likeness(heap: Heap) -> float:
        if made_liquid and heap.wet:
            return 1.0  # the water that no line lists is around the food
        if made_liquid and walk.has_liquid(heap) and not walk.solids(heap):
            return 1.0  # a dressing, whatever of it is oil
        total = walk.grams(heap)
        return walk.grams(heap, *kinds) / total if total > 0.0 and kinds else 0.0

    if walk.focus is None or walk.only_medium(walk.focus):
        made = [heap for heap in there if walk.solids(heap)]
        if made:
            target.focus, target.heaps = False, [made[0]]
            _call(walk, one, made[0], word)
            return
    own = likeness(walk.focus) if walk.focus is not None else 0.0
    best = max(there, key=likeness)
    other = bool(kinds) and likeness(best) > own + _LIKER
    if walk.focus is not None:
        told = bool(kinds) and abs(likeness(best) - own) > _LIKER
        largest = max(there, key=walk.grams)
        best = best if kinds else largest
        if walk.grams(best) >= _SMALL * walk.grams(walk.focus):
            weight = _TOLD if told else _NEAREST
            first, second = (best, walk.focus) if other else (walk.focus, best)
            names = (walk.called(first), walk.called(second))
            question = Question(Doubt.MEANT, one.span, mention.text)
            if walk.pick(one, question, likely(*names, weights=(weight, 1.0 - weight))):
                other = not other
    if other:
        target.focus, target.heaps = False, [best]
        _call(walk, one, best, word)


def _is_kept(one: Instruction) -> bool:
    return action(one.action).handler is Handler.KEEP


def _call(walk: Walk, one: Instruction, heap: Heap, word: str) -> None:
    """Give a heap a name, where the instruction is done that calls it so."""
    if walk.acts(one):
        heap.names.add(word)
