"""Keeping something back: a liquid that would go, half of a sauce, food that waits beside the pan."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.draining import BATH_NAMES, move_loose
from labeler.flow.heaps import Heap, Nature, State
from labeler.flow.ingredients import Ingredient
from labeler.flow.lifting import after_lift
from labeler.flow.looking_ahead import ahead, removed_next
from labeler.flow.meant import rest_of_nothing
from labeler.flow.model import Basis, Departure, Fate, Portion, Settings
from labeler.flow.parting import split_off, sticks_to_fried
from labeler.flow.put_away import is_all_there_is, is_of_the_servings
from labeler.flow.removal_objects import whole_heap
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Handler, Trait, action, has
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Quantity, Role
from labeler.types import Interval

__all__ = ["keep"]


def keep(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Reserve: a bath that would go, an amount of it, half of a heap; or food that waits beside."""
    elsewhere = _for_another_dish(walk, one)
    if elsewhere:
        one = replace(one, marks=one.marks | {Mark.FOR_LATER})
    for target in objects:
        if not elsewhere and is_of_the_servings(walk, one, target):
            walk.set_focus(walk.live(walk.focus))
        elif (kept := _kept_just_now(walk, one, target)) is not None:
            kept.names |= {one.names} - {""}
        elif has(one.action, Trait.PUTS_AWAY):
            _put_away(walk, one, _with_share_before(walk, one, target))
        elif target.mention.role is not Role.OUT_OF:
            _keep(walk, one, _with_share_before(walk, one, target), stored=Mark.FOR_LATER in one.marks)


def _kept_just_now(walk: Walk, one: Instruction, target: Target) -> Heap | None:
    """ "Take out 50 ml and keep it in the fridge": what the deed before it, of the same sentence, has kept."""
    before = walk.instructions[walk.at - 1] if walk.at else None
    if before is None or before.sentence != one.sentence or not target.mention.says_it or walk.live(walk.focus) is None:
        return None
    kept = [heap for heap in walk.table.heaps if heap.kept_back and heap.last == walk.at - 1]
    return kept[-1] if kept and action(before.action).handler is Handler.KEEP else None


def _put_away(walk: Walk, one: Instruction, target: Target) -> None:
    """ "Freeze one half", "freeze the rest"."""
    later = Mark.FOR_LATER in one.marks
    whole = target.heaps[0] if target.heaps else walk.live(walk.focus)
    of_rest = target.rest and not target.heaps and not _partly_used(walk)
    if of_rest and whole is not None and not whole.taken_of and not walk.unplaced(after=one.after):
        walk.problems.append(rest_of_nothing(one.text, target.mention.text, one.span.line))
        return
    if target.quantity.extent is Extent.SHARE and whole is not None and not target.fresh:
        _keep_share(walk, one, whole, target, stored=True)
        return
    _keep_line(walk, one, target, stored=later)
    if later or any(heap.taken_of for heap in target.heaps):  # "freeze the other half"
        for other in target.heaps or _focus_of_several(walk, target):
            _store(walk, other, one)


def _keep(walk: Walk, one: Instruction, target: Target, *, stored: bool) -> None:
    """Keep what a phrase means: a line, a liquid, some foods of a heap, a share of it, or all of it."""
    if (target.fresh and not target.heaps) or (target.rest and _partly_used(walk)):
        _keep_line(walk, one, target, stored=stored)
        return
    if target.rest and (rest := next((heap for heap in walk.table.open() if heap.taken_of), None)) is not None:
        if stored:
            _store(walk, rest, one)  # "most of the dressing, and keep what is left for another day"
        return
    heap = target.heaps[0] if target.heaps else walk.live(walk.focus)
    if target.parted in (Parted.LIQUID, Parted.FAT, Parted.DRIPPINGS):
        _keep_parted(walk, one, target, stored=stored)
    elif heap is not None and target.parted is not Parted.SOLIDS:
        _keep_of_heap(walk, one, heap, target, stored=stored)


def _keep_of_heap(walk: Walk, one: Instruction, heap: Heap, target: Target, *, stored: bool) -> None:
    if target.within and not whole_heap(walk, heap, [food for food in target.within if food in heap.foods]):
        _keep_foods(walk, one, heap, target, stored=stored)
        return
    quantity = target.quantity
    told = quantity.share or quantity.grams or quantity.millilitres
    if told and quantity.extent in (Extent.SHARE, Extent.REST, Extent.AMOUNT):
        _keep_share(walk, one, heap, target, stored=stored)
        return
    of_rest = target.rest or quantity.extent is Extent.REST
    if of_rest and stored and not heap.taken_of and is_all_there_is(walk, heap):
        walk.problems.append(rest_of_nothing(one.text, target.mention.text, one.span.line))
    elif stored or one.names:
        heap.named = one.names or heap.named
        _store(walk, heap, one)
    else:
        _set_aside(walk, one, heap, target)


def _keep_foods(walk: Walk, one: Instruction, heap: Heap, target: Target, *, stored: bool) -> None:
    """ "Set half of the onions aside", out of what they lie among."""
    lifted = split_off(walk, heap, target.within, one, basis=Basis.WRITTEN)
    after_lift(walk, heap, lifted, one)
    if stored:
        _store(walk, lifted, one)
        walk.set_focus(heap)
    else:
        lifted.state = State.ASIDE


def _set_aside(walk: Walk, one: Instruction, heap: Heap, target: Target) -> None:
    """Food that waits beside: out of the broth that it gave, or of the fat that it was fried in."""
    solids = walk.solids(heap)
    fat = walk.grams(heap, "fat") > 0.0 or heap.fat_bath
    if solids and has(heap.cooked, Trait.GIVES_BROTH) and walk.has_liquid(heap) and target.within:
        split_off(walk, heap, solids, one).state = State.ASIDE
        walk.set_focus(heap)
    elif solids and fat and heap.hot and has(heap.cooked, Trait.OUT_OF_FAT):
        lifted = split_off(walk, heap, list(dict.fromkeys([*solids, *sticks_to_fried(walk, heap)])), one)
        lifted.state = State.ASIDE
        heap.vessel = heap.vessel or "pan"
        heap.nature = Nature.BATH
        walk.set_focus(heap)
        heap.hot = True
    else:
        heap.state = State.ASIDE
        if walk.waiting is not None:
            walk.focus = walk.live(walk.waiting) or walk.focus


def _with_share_before(walk: Walk, one: Instruction, target: Target) -> Target:
    """ "Wrap one half and freeze it": so much of the heap as the sentence speaks of before."""
    if not target.focus or target.quantity.extent is not Extent.ALL:
        return target
    for before in reversed(walk.instructions[: walk.at]):
        if before.sentence != one.sentence:
            break
        for mention in before.mentions:
            if (
                mention.role is Role.OBJECT
                and mention.quantity.extent is Extent.SHARE
                and is_class(mention.name, "pronoun")
            ):
                return replace(target, mention=replace(target.mention, quantity=mention.quantity))
    return target


def _for_another_dish(walk: Walk, one: Instruction) -> bool:
    """Whether what is kept is kept for a dish that this recipe does not make: "for your potatoes", "for a soup"."""
    wanted = [mention for mention in one.mentions if mention.purpose]
    if not wanted or any(later.sentence > one.sentence and _takes_it(later, one) for later in walk.instructions):
        return False
    return any(
        mention.yours or (is_class(head_of(mention.name), "product") and not mention.definite) for mention in wanted
    )


def _takes_it(later: Instruction, one: Instruction) -> bool:
    """Whether a later instruction speaks of what is kept, or of what it is kept for."""
    kept = {head_of(mention.name) for mention in one.mentions}
    return any(head_of(mention.name) in kept for mention in later.mentions)


def _keep_line(walk: Walk, one: Instruction, target: Target, *, stored: bool) -> None:
    """Food that is in nothing yet waits in its line; for another day, or the rest that nothing takes, it stays out."""
    for i in target.fresh or (_partly_used(walk) if target.rest else []):
        rest = target.quantity.extent is Extent.REST and not walk.binder.named_after(i, walk.at)
        drawn = walk.draw(i, target.quantity if target.fresh else Quantity()) if stored or rest else None
        if drawn is not None:
            heap = walk.table.new(last=walk.at)
            walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            _store(walk, heap, one)


def _partly_used(walk: Walk) -> list[Ingredient]:
    """Lines of which a share is in the dish and that no later step names: what "the other half" is of."""
    return [
        one
        for one in walk.ingredients
        if 0.02 < walk.left[one.source] < 0.98 and not walk.binder.named_after(one, walk.at)
    ]


def _focus_of_several(walk: Walk, target: Target) -> list[Heap]:
    """The heap in focus where there is other food besides: the gravy of a roast, and not the whole dish."""
    focus = walk.live(walk.focus)
    others = [heap for heap in walk.table.open() if heap is not focus and heap.nature is Nature.FOOD]
    return [focus] if target.focus and focus is not None and others else []


def _store(walk: Walk, heap: Heap, one: Instruction) -> None:
    walk.table.settle(heap, text=one.text, span=one.span)
    assert heap.source is not None
    heap.state = State.STORED
    walk.leaves.append(Departure(heap.source, Fate.NAMED, span=one.span, name=one.names or heap.named, kept=True))


def _keep_share(walk: Walk, one: Instruction, heap: Heap, target: Target, *, stored: bool) -> None:
    walk.table.settle(heap, text=one.text, span=one.span)
    assert heap.source is not None
    quantity = target.quantity
    share = quantity.share
    if quantity.extent is Extent.REST and share is None:
        share = Interval(1.0, 1.0, 1.0)
    part = walk.table.new(last=walk.at, vessel="", kept_back=True)
    part.names = set(heap.names) | {"reserved", one.names} - {""}
    part.pending.append(Portion(heap.source, share, quantity.grams, quantity.millilitres))
    held = share.best if share is not None else 0.5
    for food, amount in heap.foods.items():
        part.foods[food] = amount * held
        heap.foods[food] = amount * (1.0 - held)
    part.state = State.ASIDE
    heap.taken_of |= quantity.extent is Extent.SHARE  # "the rest" is what stays of it
    walk.table.settle(part, text=one.text, span=one.span)
    if part.source == heap.source:
        walk.table.node(part, "divide", text=one.text, span=one.span)
    if stored:
        _store(walk, part, one)
    walk.set_focus(heap)


def _holding(walk: Walk, target: Target) -> Heap | None:
    """The heap of the food that a liquid is called after: "half a cup of the pasta water"."""
    return next(
        (heap for heap in walk.table.open() if heap.wet and any(food in heap.foods for food in target.within)), None
    )


def _is_amount(quantity: Quantity) -> bool:
    return quantity.grams is not None or quantity.millilitres is not None or quantity.share is not None


def _keep_parted(walk: Walk, one: Instruction, target: Target, *, stored: bool) -> None:
    """Keep a liquid: what was poured off, or what is still in the pot."""
    name = one.names or target.mention.name
    if target.heaps:
        holds = (heap for heap in target.heaps if any(food in heap.foods for food in target.within))
        bath = next(holds, target.heaps[0])  # of two liquids that of the food it is called after
        kept = _kept_of_bath(walk, one, bath, target.quantity, name, stored=stored)
        if kept is not None and stored:
            _store(walk, kept, one)
        return
    if not stored and _stays(walk, one):
        return
    heap = _holding(walk, target) or walk.live(walk.focus)
    if heap is not None and heap.pureed and _is_amount(target.quantity) and heap.parted_from is None:
        _keep_share(walk, one, heap, target, stored=stored)
    elif heap is not None and (_has_liquor(walk, heap) or walk.flesh(heap)):
        _keep_liquor(walk, one, heap, target, name, stored=stored)


def _stays(walk: Walk, one: Instruction) -> bool:
    """Whether a liquid is only said to stay where it is ("keep the juice"): no later step speaks of it."""
    if one.verb not in grammar("keeps there") or one.particle or one.names or _is_amount(one.mentions[0].quantity):
        return False
    return not any(later.mentions and _takes_it(later, one) for later in ahead(walk))


def _has_liquor(walk: Walk, heap: Heap) -> bool:
    return walk.has_liquid(heap) or heap.wet or heap.soaked or walk.grams(heap, "fat") > 0


def _kept_of_bath(
    walk: Walk, one: Instruction, bath: Heap, quantity: Quantity, name: str, *, stored: bool
) -> Heap | None:
    """What is kept of a liquid that was parted before; None for drippings that only wait to be eaten."""
    if _is_amount(quantity):
        part = walk.table.new(last=walk.at, nature=Nature.LIQUID)
        assert bath.source is not None
        part.pending.append(Portion(bath.source, quantity.share, quantity.grams, quantity.millilitres))
        walk.table.node(part, "divide", text=one.text, span=one.span, name=name)
        part.names = set(bath.names) | {"reserved", name}
        part.foods = dict(bath.foods)
        part.named = name
        bath.names = set()
        return part
    if bath.nature is Nature.DRIPPINGS and not one.names and not stored:
        bath.state = State.ASIDE
        return None
    bath.nature = Nature.LIQUID if bath.nature is Nature.BATH else bath.nature
    bath.named = name
    bath.names.add(name)
    return bath


def _keep_liquor(walk: Walk, one: Instruction, heap: Heap, target: Target, name: str, *, stored: bool) -> None:
    """Keep what food lies in: all of it, or an amount."""
    quantity, amount = target.quantity, _is_amount(target.quantity)
    if not amount and removed_next(walk, heap):
        heap.named = name
        return
    strained = action(walk.instructions[walk.at - 1].action).handler is Handler.STRAIN
    if not amount and Mark.KEPT in one.marks and one.adjunct and strained:
        return
    if not amount and not walk.solids(heap):
        heap.names |= {name, "liquid"}
        heap.nature, heap.wet = Nature.FOOD, False
        if one.names or stored:
            heap.named = name
            _store(walk, heap, one)
        return
    fat = target.parted is Parted.FAT
    settings = Settings(grams=quantity.grams, millilitres=quantity.millilitres, share=quantity.share)
    verb = "skim" if fat else "ladle" if amount else "drain"
    off = walk.table.node(heap, verb, settings=Settings() if fat else settings, text=one.text, span=one.span)
    part = walk.table.part(heap, off, nature=Nature.LIQUID, names=("reserved", name, *BATH_NAMES))
    part.named = name
    if not amount:
        move_loose(walk, heap, part)
        heap.wet = heap.fat_bath = False
    if stored:
        _store(walk, part, one)
    walk.set_focus(heap)
