"""Food that is turned in flour, egg, crumbs or a batter, station by station."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from labeler.flow.gathering import gather
from labeler.flow.heaps import Food, Heap, Nature, settings_of
from labeler.flow.ingredients import Ingredient
from labeler.flow.kind_sets import COATS, SEASONS
from labeler.flow.looking_ahead import ahead
from labeler.flow.model import Basis, FromLine
from labeler.flow.shares import take_of_made
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Handler, Trait, action, has
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Manner, Mark, Quantity, Role

__all__ = ["coat", "is_coating"]


def is_coating(walk: Walk, one: Instruction, targets: list[Target]) -> bool:
    """Whether food is turned in flour, egg or crumbs though the verb does not say it.

    "Turn the slices in the flour"; and behind a coating the next station: "then press into the crumbs".
    """
    row = action(one.action)
    named = [i for t in targets for i in t.fresh if t.mention.role is not Role.OBJECT or i.kind in COATS]
    if row.handler is Handler.COAT or _is_turned_in_it(walk, one, targets):
        return True
    if row.handler not in (Handler.NONE, Handler.MAKE) or one.vessel or not named:
        return False
    if not all(i.kind in COATS for i in named):
        return False
    around = [t for t in targets if t.mention.role in (Role.INTO, Role.WITH) and t.fresh]
    if Manner.TURNS in one.manners and (any(t.mention.role is Role.INTO for t in around) or _flours(walk, targets)):
        return any(t.mention.role is Role.OBJECT and not t.nothing for t in targets)
    focus = walk.live(walk.focus)
    before = walk.instructions[walk.at - 1] if walk.at else None
    goes_on = before is not None and before.sentence == one.sentence and walk.coated_at == walk.at - 1
    return goes_on and focus is not None and not any(t.heaps or (t.fresh and t.fresh[0] not in named) for t in targets)


def _is_turned_in_it(walk: Walk, one: Instruction, targets: list[Target]) -> bool:
    """ "Season the flour and toss the beef in it": what is in hand is nothing but flour or crumbs and seasoning."""
    focus = walk.live(walk.focus)
    if Manner.TURNS not in one.manners or one.vessel or focus is None:
        return False
    kinds = {walk.kind(food) for food in focus.foods}
    if not kinds - SEASONS or not kinds <= {"flour"} | SEASONS:
        return False
    pieces = [i for t in targets for i in t.fresh if t.mention.role is Role.OBJECT and i.kind not in COATS | SEASONS]
    return bool(pieces) and any(t.focus and t.mention.role is Role.INTO for t in targets)


def _flours(walk: Walk, targets: list[Target]) -> bool:
    """ "Toss the cod with the flour": flesh, and nothing but flour and seasoning around it."""
    around = {i.kind for t in targets if t.mention.role is Role.WITH for i in t.fresh}
    objects = [t for t in targets if t.mention.role is Role.OBJECT]
    flesh = any(i.is_flesh for t in objects for i in t.fresh) or any(walk.flesh(h) for t in objects for h in t.heaps)
    return flesh and "flour" in around and around <= {"flour"} | SEASONS


def coat(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """Turn food in flour, egg, crumbs or a batter; what it is turned in is its coat."""
    walk.coated_at = walk.at
    if action(one.action).handler is not Handler.COAT:  # the next station
        for t in targets:
            station = bool(t.fresh) and all(i.kind in COATS for i in t.fresh)
            t.mention = replace(t.mention, role=Role.INTO) if station else t.mention
    objects = [t for t in targets if t.mention.role is Role.OBJECT and not t.nothing]
    around = [t for t in targets if t.mention.role in (Role.INTO, Role.WITH) and not t.nothing]
    stations = [heap for t in around for heap in t.heaps]
    pronoun = any(t.focus for t in around)
    host = next((heap for t in objects for heap in t.heaps if heap not in stations), None)
    fresh = [i for t in objects for i in t.fresh]
    focus = walk.live(walk.focus)
    laid_out = [i for i in walk.last_named if walk.left[i.source] > 0.02] if pronoun else []
    if pronoun and focus is not None and not laid_out:
        stations.append(focus)
    if host is None and fresh:
        host = walk.table.new(vessel=one.vessel)
        _put(walk, host, fresh)
    if host is None:
        others = [
            heap
            for heap in walk.table.open()
            if heap not in stations and heap.nature is Nature.FOOD and walk.solids(heap)
        ]
        host = focus if focus is not None and focus not in stations else others[0] if others else None
    if host is None and walk.last_named and not laid_out:
        host = walk.table.new(vessel=one.vessel)
        _put(walk, host, walk.last_named)
    if host is None:
        taken = {i.source for t in around for i in t.fresh} | {i.source for i in laid_out}
        above = [i for i in walk.unplaced(after=one.after) if i.source not in taken]
        if above:
            host = walk.table.new(vessel=one.vessel)
            _put(walk, host, above)
    if host is None:
        gather(walk, one, targets, use="dust")
        return
    for i in laid_out:
        _turn_in(walk, host, _put(walk, host, [i]), around, one)
    for t in around:
        _turn_in(walk, host, _station(walk, host, t, one), around, one)
    amounts = {heap.number: t.quantity for t in around for heap in t.heaps}
    for heap in stations:
        if heap is not host:
            coats: set[Food] = set(heap.foods)
            take_of_made(walk, host, heap, one, amounts.get(heap.number, Quantity()))
            _turn_in(walk, host, coats, around, one)
    host.last = walk.at
    host.fried_last = False
    walk.last_named = []
    walk.set_focus(host)


def _put(walk: Walk, host: Heap, foods: Iterable[Ingredient], quantity: Quantity | None = None) -> set[Food]:
    """Put foods of the list into a heap; those of which there was something."""
    there: set[Food] = set()
    for i in foods:
        drawn = walk.draw(i, quantity or Quantity())
        if drawn is not None:
            walk.table.put(host, [drawn[0]], [(i.source, drawn[1])])
            there.add(i.source)
    return there


def _station(walk: Walk, host: Heap, target: Target, one: Instruction) -> set[Food]:
    """Put what a mention says that food is turned in onto it."""
    there = _put(walk, host, target.fresh, target.quantity)
    if target.unlisted and not is_class(head_of(target.mention.name), "product"):
        added = walk.add_unlisted(target.mention, "dust", one)
        if added is not None:
            walk.table.put(host, [added[1]], [(added[0], 1.0)])
            there.add(added[0])
    return there


def _turn_in(walk: Walk, host: Heap, coats: set[Food], around: list[Target], one: Instruction) -> None:
    """Make what was put last the coat of a heap, and leave behind what does not cling of it."""
    if not coats:
        return
    host.coat |= coats
    here = sorted(coats, key=str)
    walk.table.node(host, "coat", settings=settings_of(one), coats=here, text=one.text, span=one.span)
    if _stays_in_the_bowl(walk, around, coats):
        why = "what does not cling stays behind"
        off = walk.table.node(host, "shake-off", coats=here, span=one.span, basis=Basis.IMPLIED, why=why)
        walk.table.part(host, off, nature=Nature.COAT, names=("excess",))


def _throws_share_left(one: Instruction) -> bool:
    """ "A third of it is left over; throw that out": so much does not cling."""
    return action(one.action).handler is Handler.DISCARD and Mark.LEFTOVER in one.marks and one.share is not None


def _stays_in_the_bowl(walk: Walk, around: list[Target], coats: set[Food]) -> bool:
    """Whether there may be more of a coating than clings: flour, crumbs, egg or a batter that food is turned in.

    Where the method speaks of it again ("discard the leftover flour", "thicken with the rest"), it says itself what
    becomes of it.
    """
    foods = [walk.by_source[food] for food in coats if isinstance(food, FromLine)]
    kinds = {i.kind for i in foods}
    dusted = "flour" in kinds and kinds <= {"flour"} | SEASONS  # "with the flour": no more clings than of what is in it
    turned_in = bool(around) and all(t.mention.role is Role.INTO or dusted for t in around)
    plain = bool(kinds) and all(kind in COATS or kind in SEASONS for kind in kinds)
    batter = "flour" in kinds and all(i.kind in COATS | LIQUOR | SEASONS or i.is_liquid for i in foods)
    if not turned_in or not (plain or batter):
        return False
    spoken_of = any(walk.binder.named_after(i, walk.at) for i in foods) or any(map(_throws_share_left, ahead(walk)))
    return not spoken_of and not any(has(later.action, Trait.SHAKES) for later in ahead(walk))
