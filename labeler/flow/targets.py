"""What all the phrases of an instruction mean together."""

from __future__ import annotations

from labeler.flow.heaps import Nature
from labeler.flow.ingredients import Ingredient, words_of
from labeler.flow.named_sets import defines_set
from labeler.flow.shares import spoken_of_again
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import WATER_TAKERS, is_raw
from labeler.parsing.ingredient.line_states import states_of
from labeler.parsing.instructions.actions import Gathers, Handler, Trait, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Manner, Role
from labeler.parsing.model import LineState
from labeler.types import Problem

__all__ = ["targets_of"]

_COOKED = frozenset({LineState.COOKED, LineState.BOILED, LineState.SOAKED})


def targets_of(walk: Walk, one: Instruction) -> list[Target]:
    """What the mentions of an instruction mean, without tools and the like."""
    row = action(one.action)
    turned_in = row.handler is Handler.COAT and Trait.SHAKES not in row.traits  # what it takes goes onto the food
    removal = (row.takes.value != "" or row.gathers is Gathers.OUT) and not turned_in
    found: list[Target] = []
    for mention in one.mentions:
        if mention.role is Role.EVIDENCE or defines_set(walk, mention):
            continue
        waits_in_line = Manner.KEEPS_OUT in one.manners or (
            row.handler is Handler.KEEP and mention.quantity.extent is Extent.REST
        )
        target = walk.resolve(mention, one, removal=removal and mention.role is not Role.INTO and not waits_in_line)
        if mention.alternative and target.unlisted:
            continue
        if (
            mention.possessive
            and mention.role is not Role.INTO
            and target.parted is not None
            and target.heaps
            and found
        ):
            _of_its_own(target, found[-1])
        if removal and mention.role is not Role.INTO and _lies_around_food(walk, target):
            target.parted, target.heaps = Parted.LIQUID, []
        found.append(target)
    _of_its_vessel(walk, found)
    _of_its_list(walk, found)
    for target in found:
        if len(target.fresh) == 1 and any(_names_it_alone(other, target) for other in found if other is not target):
            target.fresh, target.unlisted = [], True  # "some cooking oil and 1 tsp of sesame oil": two oils
    for heap in (heap for target in found for heap in target.heaps):
        heap.shared_at = -1  # it is spoken of again: the rest of it has a use
    walk.problems += [_is_dry_yet(one, i) for t in found for i in t.fresh if _called_cooked(walk, t, i)]
    if removal and row.handler not in (Handler.KEEP, Handler.COAT):
        return found
    return spoken_of_again(walk, found)


def _lies_around_food(walk: Walk, target: Target) -> bool:
    """ "Make a brine ... leave the turkey in it ... throw the brine away": not what went in there."""
    word = head_of(target.mention.name)
    focus = walk.live(walk.focus)
    if target.focus and target.mention.name == word and is_class(word, "product-liquid") and focus is not None:
        return bool(walk.solids(focus)) and walk.has_liquid(focus)  # "simmer the pork ... drain, reserve the sauce"
    if len(target.heaps) != 1 or target.within or not is_class(word, "product-liquid"):
        return False
    (heap,) = target.heaps
    later = [food for food in walk.solids(heap) if food not in heap.made_of]
    return word in heap.names and bool(heap.made_of) and bool(later) and heap.nature is Nature.FOOD


def _called_cooked(walk: Walk, target: Target, one: Ingredient) -> bool:
    """Whether words call a dry food cooked that no step has put anywhere, and whose line does not say so."""
    dry = one.kind in WATER_TAKERS and is_raw(walk.table_id(one.source)) and not one.line.line.states & _COOKED
    return dry and bool(states_of(target.mention.text) & _COOKED)


def _is_dry_yet(one: Instruction, food: Ingredient) -> Problem:
    name = food.line.line.name
    return Problem(
        "raw-though-cooked",
        f"“{one.text}”: no step before boils the {name}, so it counts dry as its line gives it. Write the step that "
        f"boils it, or “cooked {name}” in the line.",
        one.span.line,
    )


def _names_it_alone(one: Target, other: Target) -> bool:
    """Whether a phrase gives a food its own name, and another of the same sentence means the same food by less."""
    line = other.fresh[0]
    other_words, _ = words_of(other.mention.name)
    return (
        [i.source for i in one.fresh] == [line.source]
        and words_of(one.mention.name)[0] == line.words
        and bool(other_words - line.words)
        and other.mention.quantity.extent is Extent.AMOUNT
    )


def _of_its_vessel(walk: Walk, found: list[Target]) -> None:
    """ "Everything from the tin": what is in there, not all that the recipe has; the tin itself is no food."""
    out_of = [t for t in found if t.mention.role is Role.OUT_OF and is_class(head_of(t.mention.name), "vessel-")]
    for vessel in out_of:
        held = walk.table.with_vessel(head_of(vessel.mention.name)) or walk.live(walk.focus)
        for target in found:
            if target.everything and held is not None:
                target.everything, target.heaps = False, [held]
        found.remove(vessel)


def _of_its_list(walk: Walk, found: list[Target]) -> None:
    """ "Everything under VEAL": the list of that title, and no veal that it goes into."""
    if not any(target.everything for target in found):
        return
    for target in found:
        if target.mention.role in (Role.INTO, Role.OUT_OF) and not target.heaps:
            named = words_of(target.mention.name)[0]
            target.nothing |= bool(named) and named in walk.binder.groups


def _of_its_own(target: Target, owner: Target) -> None:
    """ "The clams, their liquid": only what was parted from that food; where nothing was, it is with the food still."""
    if not owner.heaps:
        return
    numbers = {heap.number for heap in owner.heaps}
    target.heaps = [heap for heap in target.heaps if heap.parted_from in numbers]
    target.nothing = not target.heaps
