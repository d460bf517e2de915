"""Whether solid food is sold in a liquid that is not its point: cucumbers in vinegar, olives in brine.

The flow tells it: pieces and a liquid of their own (water, brine, vinegar, juice, with what dissolves in it) come
together for the pack, and nothing cooks, whips or pours them apart afterwards. A chutney, a soup or a dressed salad
is a food whose liquid has been cooked into it, or is no such medium.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from labeler.flow.model import FromLine, FromNode, Node, PartFlow
from labeler.foods.food_class import DISSOLVES, FLESH, kind_of
from labeler.foods.model import WeighedLine, WeighedPart
from labeler.nutrition.analysis import Nutrition
from labeler.parsing.declared_servings import things_made
from labeler.parsing.instructions.actions import Handler, Heat, Trait, action, has
from labeler.parsing.instructions.vessels import VesselKind, vessel_kinds
from labeler.parsing.line_words import CONTAINERS
from labeler.text.plurals import singular

__all__ = ["sold_in_liquid"]

_MEDIUM = frozenset({"water", "liquid"})
_BESIDE = DISSOLVES | {"seasoning"}
"""What may be in the medium without being a food in it."""
_PIECES = FLESH | {"vegetable", "root", "fruit", "olive", "mushroom", "egg", "cheese", "tofu", "pickle", "tomato",
                   "dry legume", "canned legume", "legume", "greens", "potato"}  # fmt: skip
_LEAST_LIQUID = 0.2
"""Share of liquid in the pack from which the pieces lie in it and are not only dressed. A choice, no source."""
_KEEPS_APART = frozenset({Handler.NONE, Handler.LIE, Handler.LADLE, Handler.THIN})
"""What leaves pieces and liquid in one pack as two."""


def sold_in_liquid(nutrition: Nutrition) -> tuple[str, ...]:
    """The solid foods that are sold in a liquid medium, by their names; empty where none is.

    Parameters
    ----------
    nutrition : Nutrition
        Of a recipe whose method was read; a bare list tells nothing.
    """
    flow = nutrition.dish.flow
    if flow is None or not flow.parts:
        return ()
    parts = dict(zip(flow.parts, nutrition.weighed.parts, strict=False))
    last = flow.parts[-1]
    in_packs = any(
        singular(made.unit.lower().split()[-1]) in CONTAINERS for made in things_made(nutrition.weighed.recipe.head)
    )
    for node in _last_nodes(last):
        if in_packs or VesselKind.JAR in vessel_kinds(node.vessel):
            found = _pieces_in_liquid(node, last, parts[last])
            if found:
                return found
    return ()


def _last_nodes(part: PartFlow) -> Iterator[Node]:
    """The nodes from the dish backwards behind which nothing cooks and nothing is poured off."""
    open_ = [source.node for source in part.dish if isinstance(source, FromNode)]
    while open_:
        node = part.nodes[open_.pop()]
        row = action(node.action)
        if (
            row.handler not in _KEEPS_APART
            or row.heat is not Heat.NONE
            or has(node.action, Trait.BEATS)
            or node.drained
        ):
            continue
        yield node
        open_ += [portion.source.node for portion in node.inputs if isinstance(portion.source, FromNode)]


def _pieces_in_liquid(node: Node, part: PartFlow, weighed: WeighedPart) -> tuple[str, ...]:
    """The names of the pieces that a node puts together with a liquid; empty where it does not."""
    liquid = pieces = other = 0.0
    names: list[str] = []
    for portion in node.inputs:
        lines = _lines_of(portion.source, part, weighed)
        kinds = {_kind(line): line for line in lines}
        grams = sum(line.grams.best for line in lines if line.grams is not None)
        if kinds.keys() & _MEDIUM and kinds.keys() <= _MEDIUM | _BESIDE:
            liquid += grams
        elif kinds.keys() & _PIECES and not kinds.keys() & _MEDIUM:
            pieces += grams
            names += [line.line.name for line in lines if _kind(line) in _PIECES]
        elif not kinds.keys() <= _BESIDE:
            other += grams
    total = liquid + pieces + other
    return tuple(dict.fromkeys(names)) if total and liquid >= _LEAST_LIQUID * total and other < liquid else ()


def _kind(line: WeighedLine) -> str:
    return kind_of(line.match.food) if line.match is not None else "unknown"


def _lines_of(source: object, part: PartFlow, weighed: WeighedPart) -> Sequence[WeighedLine]:
    """The lines that a source comes from."""
    if isinstance(source, FromLine):
        line = weighed.lines[source.index]
        return (line.also[source.food - 1] if source.food else line,)
    if isinstance(source, FromNode):
        node = part.nodes[source.node]
        return [line for portion in node.inputs for line in _lines_of(portion.source, part, weighed)]
    return ()
