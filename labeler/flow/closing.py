"""The end of a part: what is open is the dish, what leaves by trade, and lines that nothing placed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.flow.choices import Doubt, Question, likely
from labeler.flow.heaps import Food, Heap, Nature, State
from labeler.flow.ingredients import Ingredient
from labeler.flow.kind_sets import COOKING_WATER
from labeler.flow.model import Basis, Departure, Fate, FromLine, FromNode, Node, PartFlow, Port, Source
from labeler.flow.parting import boiled_in_plenty, mark_drained, out_of_frying, split_off, swims_in_fat
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.foods.model import WeighedPart
from labeler.parsing.instructions.actions import Handler, Heat, Trait, action, has
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Quantity, Span
from labeler.parsing.instructions.parser import Method
from labeler.parsing.instructions.vessels import VesselKind, vessel_kinds
from labeler.types import Interval, Problem

__all__ = ["UNPLACED", "close"]


def _is_other_component(walk: Walk, one: Ingredient) -> bool:
    """Whether it is the whites of eggs whose yolks the method takes, or the other way about."""
    others = [other for other in walk.ingredients if other.source.index == one.source.index and other is not one]
    return one.line.component and any(walk.left[other.source] < 0.98 for other in others)


_LARGE = 0.1  # share of the solid food from which it is told: a choice, no source

LEFT = "the words take a part of it, and nobody speaks of the rest"
"""Why what is left of a line is not in the dish."""

UNPLACED = "no step takes it: it is served as it is"
"""Why a food that nothing has placed is in the dish."""


# --- the end ---------------------------------------------------------------------------------------------------------


def close(walk: Walk, part: WeighedPart, method: Method) -> PartFlow:
    """The flow of a part when every instruction is done (R5, R7).

    Lines that nothing has placed go in; what was fried or boiled in plenty leaves its bath; every open heap of food is
    the dish, and baths, drippings and what nobody takes leave.

    Parameters
    ----------
    walk : Walk
        Behind the last instruction; it is changed.
    part : WeighedPart
    method : Method
        As read: what of it was not understood goes along.
    """
    walk.at, walk.table.now = len(walk.instructions), None
    _place_the_rest(walk)
    for heap in list(walk.table.open()):
        if swims_in_fat(walk, heap):
            out_of_frying(walk, heap, _nothing(walk)).last = walk.at
        elif (
            heap.nature is Nature.FOOD
            and heap.wet
            and has(heap.cooked, Trait.IN_PLENTY)
            and not heap.covered_with_water
            and _is_only_boiled(walk, heap)
        ):
            added, heap.pending = heap.pending, []  # what comes to it once it is boiled is not poured off
            boiled_in_plenty(walk, heap)
            off = walk.table.node(heap, "drain", text="", basis=Basis.IMPLIED, why="the cooking water is poured off")
            walk.table.part(heap, off, nature=Nature.BATH, names=("water",))
            heap.pending += added
    for heap in walk.table.open():
        if (
            heap.nature is Nature.BATH
            and heap.lifted is not None
            and has(heap.cooked, Trait.GIVES_BROTH)
            and not heap.wet
        ):
            lifted = walk.table.heaps[heap.lifted]
            untouched = lifted.source is not None and lifted.source.node < heap.lifted_at
            served = lifted.state not in (State.GONE, State.STORED)
            left_behind = served and _is_plain_water(walk, heap)
            if untouched and _was_cooked_in(walk, heap, lifted) and not left_behind:
                question = Question(Doubt.EATEN, _span_of(walk, lifted), walk.called(heap))
                if not walk.choices.pick(question, _BOTH_EATEN):
                    heap.nature = Nature.FOOD  # nothing more was done to either
    for heap in list(walk.table.open()):
        if heap.nature is Nature.FOOD:
            _leave_by_trade(walk, heap)
    walk.problems += _never_named_again(walk)
    dish: list[Source] = []
    leaves = _still_leaving(walk)
    for heap in walk.table.heaps:
        if heap.state in (State.GONE, State.STORED) or heap.is_empty:
            continue
        if heap.nature is Nature.DRIPPINGS and heap.state is State.ASIDE:
            heap.nature = Nature.FOOD
        walk.table.settle(heap)
        assert heap.source is not None
        if heap.nature is Nature.FOOD and (heap.portioned or heap.left_of_line or _stays_over(walk, heap)):
            leaves.append(Departure(heap.source, Fate.LEFT_OVER, Basis.IMPLIED, kept=True))
        elif heap.nature is Nature.FOOD:
            dish.append(heap.source)
        else:
            inferred = heap.nature in (Nature.SOLIDS, Nature.COAT)
            fate = Fate.INFERRED if inferred else Fate.TRADE
            leaves.append(
                Departure(
                    heap.source,
                    fate,
                    Basis.IMPLIED,
                    None,
                    heap.named or ("drippings" if heap.nature is Nature.DRIPPINGS else ""),
                    kept=bool(heap.named) and not heap.taken_of,
                    in_jar=heap.in_jar,
                )
            )
    nodes = _mark_last(_rest_last(walk.table.nodes))
    return PartFlow(
        part.title, tuple(nodes), tuple(walk.unlisted), tuple(dish), tuple(leaves), method.unread,
        problems=tuple(walk.problems), choices=tuple(walk.choices.found),
    )  # fmt: skip


_BOTH_EATEN = likely("it is eaten too", "it is left", weights=(0.6, 0.4))  # choices, no source
_OVER = likely("it is left over", "it is eaten too", weights=(0.6, 0.4))


def _span_of(walk: Walk, heap: Heap) -> Span:
    """The words that a heap was made by."""
    return walk.table.nodes[heap.source.node].span if isinstance(heap.source, FromNode) else Span(1)


def _stays_over(walk: Walk, heap: Heap) -> bool:
    """Whether what a stated share has left is not eaten."""
    if not _is_left_of_a_share(walk, heap):
        return False
    span = walk.instructions[heap.shared_at].span
    return not walk.choices.pick(Question(Doubt.EATEN, span, walk.called(heap)), _OVER)


def _rest_last(nodes: Sequence[Node]) -> list[Node]:
    """R4: what takes all that is left of a line takes it after the stated shares, though its node may come before."""
    found = list(nodes)
    takers: dict[Source, list[tuple[int, int]]] = {}
    for at, node in enumerate(nodes):
        for place, portion in enumerate(node.inputs):
            takers.setdefault(portion.source, []).append((at, place))
    for places in takers.values():
        portions = [nodes[at].inputs[place] for at, place in places]
        early = next((one for one, portion in zip(places, portions, strict=True) if portion.takes_all), places[-1])
        shares = [portion.share for portion in portions if not portion.takes_all]
        if early == places[-1] or len(shares) != len(portions) - 1 or None in shares:
            continue
        rest = max(0.0, 1.0 - sum(share.best for share in shares if share is not None))
        for (at, place), share in ((early, Interval(rest, rest, rest)), (places[-1], None)):
            inputs = list(found[at].inputs)
            inputs[place] = replace(inputs[place], share=share)
            found[at] = replace(found[at], inputs=tuple(inputs))
    return found


def _still_leaving(walk: Walk) -> list[Departure]:
    """What was let go and nothing has taken since; what was put away and is worked on again is food like any other."""
    whole = {portion.source for node in walk.table.nodes for portion in node.inputs if portion.takes_all}
    leaves = [one for one in walk.leaves if one.source not in whole]
    gone = {one.source for one in leaves}
    for heap in walk.table.heaps:
        if heap.state is State.STORED and heap.source is not None and heap.source not in gone | whole:
            heap.state = State.OPEN
    return leaves


def _never_named_again(walk: Walk) -> list[Problem]:
    """Food that the words take out of a pot that is gone on with, and of which nothing more is said."""
    found = []
    solids = sum(walk.grams(one) - walk.grams(one, *LIQUOR) for one in walk.table.open())
    for heap in walk.table.open():
        if heap.nature is not Nature.FOOD or heap.state is not State.OPEN or heap.rest_of is None:
            continue
        pot, source = walk.table.heaps[heap.rest_of], heap.source
        node = walk.table.nodes[source.node] if source is not None and source.port is Port.KEPT else None
        if node is None or node.basis is not Basis.WRITTEN or not node.text or node.vessel or heap.pending:
            continue
        goes_on = pot.last > heap.last and pot.nature is Nature.FOOD and pot in walk.table.open()
        large = walk.grams(heap) > _LARGE * solids
        if action(node.action).handler is Handler.LIFT and goes_on and large:
            names = ", ".join(walk.by_source[one].line.line.name for one in heap.foods if isinstance(one, FromLine))
            found.append(
                Problem(
                    "lifted-out",
                    f"“{node.text}”: nothing more is said of the {names}, so all of it counts as served. Write "
                    f"“discard the {names}”, or the step that takes it.",
                    node.span.line,
                )
            )
    return found


def _is_left_of_a_share(walk: Walk, heap: Heap) -> bool:
    """Whether a stated share of what was made has gone into a larger food and nobody speaks of the rest again."""
    if heap.state is not State.OPEN or heap.shared_at < 0 or heap.last > heap.shared_at:
        return False
    if heap.taken_in_grams:
        return True
    most = max((walk.grams(one) for one in walk.table.open() if one is not heap), default=0.0)
    return walk.grams(heap) < most


_PICKLES = frozenset({"vegetable", "root", "egg", "fruit", "greens", "tomato", "mushroom", "potato", "cheese", "fish"})


def _is_water_beside(walk: Walk, heap: Heap) -> bool:
    """Whether hot water, salted or not, has nothing in it and the food is elsewhere: what it was steamed over."""
    kinds = {walk.kind(food) for food in heap.foods}
    untouched = heap.hot and heap.lifted is None and not heap.named
    if "water" not in kinds or not kinds <= {"water", "salt"} or not untouched:
        return False
    return any(other is not heap and other.nature is Nature.FOOD and walk.solids(other) for other in walk.table.open())


def _leave_by_trade(walk: Walk, heap: Heap) -> None:
    """R6: what is left of a class at the end though no word says so: pickling brine, whole spices, the fat of a pan."""
    if _is_water_beside(walk, heap):
        heap.nature = Nature.BATH
        return
    nothing = _nothing(walk)
    spent: list[Food] = [food for food in heap.foods if isinstance(food, FromLine) and _is_spent(walk, food)]
    pieces = [
        food
        for food in walk.solids(heap)
        if walk.kind(food) in _PICKLES and walk.grams_of(food) * heap.foods[food] > 0.1 * walk.grams(heap, *_PICKLES)
    ]
    liquid = walk.grams(heap, "water", "liquid")
    brine = heap.soaked and not heap.pureed and not heap.kept_in_liquid and not walk.flesh(heap) and heap.steeped
    vinegar = any("vinegar" in walk.by_source[food].words for food in heap.foods if isinstance(food, FromLine))
    sour = vinegar or (walk.grams(heap, "water") > 0.0 and walk.grams(heap, "salt") > 0.01 * walk.grams(heap))
    if brine and sour and pieces and liquid > 0.3 * sum(walk.grams_of(food) * heap.foods[food] for food in pieces):
        lifted = split_off(walk, heap, pieces, nothing, why="what is pickled is eaten without its liquid")
        heap.nature, heap.in_jar = Nature.BATH, True
        lifted.last = walk.at
        return
    jarred = VesselKind.JAR in vessel_kinds(heap.vessel) and walk.has_liquid(heap)
    if spent and len(spent) < len(heap.foods) and not jarred:  # in a jar they stay in what they lie in
        lifted = split_off(walk, heap, spent, nothing, why="whole spices that have given their taste are not eaten")
        lifted.nature = Nature.SOLIDS
        heap.nature = Nature.FOOD
        walk.leave(lifted, Departure(_source(lifted), Fate.TRADE, Basis.IMPLIED))
    solid = walk.solids(heap)
    fat = walk.grams(heap, "fat")
    if (
        has(heap.cooked, Trait.IN_PAN)
        and heap.fried_last
        and fat > 0.0
        and solid
        and (
            heap.shaped
            or sum(walk.grams_of(food) for food in walk.flesh(heap)) > 0.5 * sum(walk.grams_of(food) for food in solid)
        )
    ):
        foods = [food for food in heap.foods if walk.kind(food) != "fat"]
        mark_drained(walk, heap)
        split_off(walk, heap, foods, nothing, why="what was fried is lifted out of the fat of the pan")
        heap.nature = Nature.BATH


def _source(heap: Heap) -> Source:
    assert heap.source is not None
    return heap.source


def _is_spent(walk: Walk, food: FromLine) -> bool:
    line, seasons = walk.by_source[food].line.line, walk.kind(food) == "seasoning"
    if line.derived == "leaves" or food in walk.cut:
        return False  # "1 sprig rosemary, leaves picked"
    if any(amount.unit == "sprig" or (amount.unit == "bag" and seasons) for amount in line.amounts):
        return True
    name = line.name.lower()
    return (
        is_class(name, "spent-whole")
        or is_class(head_of(name), "spent-whole")
        or is_class(" ".join(name.split(" ")[-2:]), "spent-whole")
    )


def _is_plain_water(walk: Walk, heap: Heap) -> bool:
    """Whether nothing but salt and spices is in the water that food was lifted out of: nobody serves that with it."""
    return all(walk.kind(food) in COOKING_WATER for food in heap.foods)


def _was_cooked_in(walk: Walk, heap: Heap, lifted: Heap) -> bool:
    """Whether what was lifted out was in the liquid when it was heated: a brine that is poured over it is no broth."""
    heated = [at for at, node in enumerate(walk.table.nodes) if node.action == heap.cooked]
    came = {portion.source for node in walk.table.nodes[max(heated, default=-1) + 1 :] for portion in node.inputs}
    return not came & set(lifted.foods)


def _is_only_boiled(walk: Walk, heap: Heap) -> bool:
    """Whether the water around food was only there to boil it."""
    return not any(walk.kind(food) in LIQUOR for food in heap.foods)


def _nothing(walk: Walk) -> Instruction:
    return Instruction("lift", "", walk.instructions[-1].span if walk.instructions else Span(1))


def _mark_last(nodes: Sequence[Node]) -> list[Node]:
    last = max(
        (at for at, node in enumerate(nodes) if action(node.action).heat is not Heat.NONE),
        default=-1,
    )
    return [replace(node, served_last=at >= last) for at, node in enumerate(nodes)]


def _place_the_rest(walk: Walk) -> None:
    """R5: lines that nothing has placed."""
    rest = [one for one in walk.ingredients if walk.left[one.source] > 0.02]
    for one in rest:
        drawn = walk.draw(one, Quantity())
        if drawn is None:
            continue
        if one.source in walk.other_way:
            walk.leaves.append(Departure(one.source, Fate.OTHER_WAY, Basis.ASSUMED))
            continue
        heap = walk.table.new(last=-1)
        walk.table.put(heap, [drawn[0]], [(one.source, drawn[1])])
        if (one.source in walk.stated and drawn[1] < 0.98) or _is_other_component(walk, one):
            heap.left_of_line = True
            walk.table.node(heap, "divide", basis=Basis.ASSUMED, why=LEFT)
        else:
            walk.table.node(heap, "add", basis=Basis.ASSUMED, why=UNPLACED)
