"""What a flow may have got wrong, found on what it did to each food: nothing large leaves a recipe in silence.

A food that leaves is named, leaves by trade, or was inferred. Named: the words that take it away name it. By trade: it
is what baths, brines and marinades are made of, the coat that was left over, bones, the pressed fruit. All else was
inferred by the walk from words that do not name it, and the more of a food goes so, the more it matters. Guards ask
`Naming`, which is read apart from the walk, so that a misreading does not vouch for itself.

Numbers here are choices of this project, without a source; reference/plant_misreadings.py measures what they catch.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from labeler.flow.kind_sets import FLAVOURED
from labeler.flow.model import Basis, Departure, Fate, Flow, FromLine, FromNode, Naming, Node, PartFlow, Port, Source
from labeler.foods.food_class import DISSOLVES, LIQUOR
from labeler.parsing.instructions.actions import Handler, Trait, action, has
from labeler.parsing.instructions.model import Span
from labeler.types import Severity

__all__ = ["BATH_KINDS", "Guard", "GuardKind", "Leaving", "Loss", "guards"]

BATH_KINDS = LIQUOR | DISSOLVES | {"fat", "seasoning"}
"""Kinds that baths, brines, marinades and frying fats are made of."""

_LARGE = 0.2  # share of a food whose loss is told
_EMPTIED = 0.8  # share from which nothing worth the name is left of it
_MAIN = 0.1  # share of the weight of all foods from which one is a main food, and no aromatic of a bath
_NOTED = 0.02  # share of the weight of all foods below which a loss is none of note
_POURED = 0.5  # share of a liquid from which it is poured off, and does not cling to what is thrown away
_COAT = 0.95  # share of a coating that may be left on the plate
_IN_TAP_WATER = frozenset(("fat", "dairy", "sauce"))  # what nobody boils food in together with water, to pour it off
_POURS = frozenset((Handler.DRAIN, Handler.RINSE, Handler.PAT))
_SIDES = _POURS | {Handler.STRAIN, Handler.SKIM, Handler.LADLE, Handler.SQUEEZE}
_PORTION = 5.0  # g, below which a portion that was set aside is none of note


class GuardKind(Enum):
    """What was found."""

    LEAVES = "leaves"  # a food leaves
    NOT_BACK = "not back"  # what was set aside never comes back
    NOT_ADDED = "not added"  # a step names a food, and no step takes it
    IN_NO_STEP = "in no step"  # no step names a food or takes it
    LEFT_OVER = "left over"  # more was made than the pieces take
    SERVED = "served"  # what the words drain off is served
    OTHER_WAY = "other way"  # a food that only a way needs which is not taken
    RAW = "raw"  # meat that no step heats, in a dish of which something is heated


@dataclass(frozen=True, slots=True)
class Loss:
    """What one thing that leaves takes of one food.

    Parameters
    ----------
    part : int
        Place of the part whose line the food stands on.
    food : FromLine
    share : float
        Of what does not dissolve of it, 0 to 1; of its dry matter or weight where it is part of a bath.
    of_batch : float
        Its weight as put in, of the weight of all foods that are no part of a bath.
    kind : str
        Kitchen kind.
    bony : bool
        True for bones, which are counted in no figure.
    """

    part: int
    food: FromLine
    share: float
    of_batch: float
    kind: str
    bony: bool = False


@dataclass(frozen=True, slots=True)
class Leaving:
    """One thing that leaves the recipe, and what it takes along.

    Parameters
    ----------
    part : int
        Place of the part that it leaves.
    outlet : Source
        The result of a node, or the line, whose rest it is.
    grams : float
        Weight [g].
    takes : tuple of Loss
    coat : bool
        True for what is left of a coating.
    watered : bool
        True where water that no line lists is in it: food was boiled or soaked in it.
    """

    part: int
    outlet: Source
    grams: float
    takes: tuple[Loss, ...]
    coat: bool = False
    watered: bool = False


@dataclass(frozen=True, slots=True)
class Guard:
    """Something to tell of a flow.

    Parameters
    ----------
    kind : GuardKind
    severity : Severity
        A note for what is named; a problem for what was inferred; refused where that empties a main food.
    part : int
        Place of the part in the flow.
    foods : tuple of (int, FromLine)
        The foods it is about: place of their part, and where they stand in it.
    span : Span or None
        The words that did it; None where no words did.
    node : int or None
        The node that did it.
    share : float
        The largest share of one of the foods that is lost, 0 to 1.
    outlet : Source or None
        What leaves.
    grams : float
        Weight of what leaves [g], where it is told.
    """

    kind: GuardKind
    severity: Severity
    part: int
    foods: tuple[tuple[int, FromLine], ...] = ()
    span: Span | None = None
    node: int | None = None
    share: float = 0.0
    outlet: Source | None = None
    grams: float = 0.0


def guards(
    flow: Flow,
    leaving: Iterable[Leaving],
    weights: Mapping[tuple[int, FromLine], float],
    other_parts: Collection[tuple[int, FromLine]] = (),
    raw: Mapping[tuple[int, FromLine], float] | None = None,
) -> tuple[Guard, ...]:
    """Everything to tell of a flow.

    Parameters
    ----------
    flow : Flow
        As it was executed.
    leaving : iterable of Leaving
        What left the recipe, what goes on into another part left out.
    weights : mapping
        Of each food of each part, its share of the weight of all foods.
    other_parts : collection
        Lines that take another part.
    raw : mapping or None
        Raw meat that is in the dish as it was put in though something else there was heated: its share of the weight of
        the dish.
    """
    found: list[Guard] = []
    for one in leaving:
        found += _losses(flow, one)
        found += _not_back(flow.parts[one.part], one)
    for at, part in enumerate(flow.parts):
        own = {food: weight for (place, food), weight in weights.items() if place == at}
        found += _served(part, at)
        found += _not_placed(part, at, own, {food for place, food in other_parts if place == at})
    for (at, food), share in (raw or {}).items():
        if share >= _MAIN:
            found.append(Guard(GuardKind.RAW, Severity.PROBLEM, at, ((at, food),)))
    return tuple(found)


def _losses(flow: Flow, one: Leaving) -> Iterator[Guard]:
    part = flow.parts[one.part]
    departure, node = _why(part, one)
    if departure is not None and departure.fate is Fate.OTHER_WAY:
        yield Guard(GuardKind.OTHER_WAY, Severity.PROBLEM, one.part, _foods(list(one.takes)), outlet=one.outlet)
        return
    if departure is not None and departure.kept and departure.fate in (Fate.NAMED, Fate.LEFT_OVER):
        return  # kept for another use, as the words say
    span = departure.span if departure is not None and departure.span is not None else node.span if node else None
    said = _said(part, departure, node)
    if _is_crust(one):
        return
    inferred: list[Loss] = []
    noted: list[Loss] = []
    for loss in one.takes:
        if loss.share < _LARGE:
            continue
        naming = [other for other in said if _names(other, loss, one, departure, node)]
        by_name = any(loss.food in other.foods for other in naming)
        vanishes = loss.food in flow.parts[loss.part].called_after and not by_name
        if naming and not (vanishes and loss.share >= _EMPTIED):  # lamb shanks strained out of their sauce by no name
            noted.append(loss)
        elif vanishes or not _by_trade(part, one, loss, said, node):
            inferred.append(loss)
    at = one.outlet.node if isinstance(one.outlet, FromNode) else None
    if noted:
        yield Guard(GuardKind.LEAVES, Severity.NOTE, one.part, _foods(noted), span, at, _most(noted), one.outlet)
    if inferred:
        emptied = any(loss.share >= _EMPTIED and loss.of_batch >= _MAIN for loss in inferred)
        severity = Severity.REFUSE if emptied else Severity.PROBLEM
        yield Guard(GuardKind.LEAVES, severity, one.part, _foods(inferred), span, at, _most(inferred), one.outlet)


def _is_crust(one: Leaving) -> bool:
    """Whether what leaves is mostly salt: a crust that food was baked in, with the egg white that bound it."""
    salt = sum(loss.of_batch * loss.share for loss in one.takes if loss.kind == "salt")
    return salt > sum(loss.of_batch * loss.share for loss in one.takes if loss.kind != "salt") > 0.0


def _why(part: PartFlow, one: Leaving) -> tuple[Departure | None, Node | None]:
    departure = next((other for other in part.leaves if other.source == one.outlet), None)
    return departure, part.nodes[one.outlet.node] if isinstance(one.outlet, FromNode) else None


def _said(part: PartFlow, departure: Departure | None, node: Node | None) -> list[Naming]:
    """What the words name that take something away, and those that part it from food before."""
    spans = {departure.span} if departure is not None and departure.span is not None else set()
    if node is not None and node.basis is Basis.WRITTEN and node.text:
        spans.add(node.span)
    said = [naming for naming in part.namings if naming.span in spans]
    behind = {naming.place + 1 for naming in said}  # "strain, keeping the broth"
    return said + [naming for naming in part.namings if naming.place in behind and naming.keeps_liquid]


def _names(naming: Naming, loss: Loss, one: Leaving, departure: Departure | None, node: Node | None) -> bool:
    """Whether words name a food as what goes: "discard the onion", "lift out the bay leaves"."""
    if naming.removes and naming.solids and loss.kind not in BATH_KINDS:
        return isinstance(one.outlet, FromNode) and one.outlet.port is Port.OFF
    if naming.keeps_liquid and loss.kind not in BATH_KINDS:
        return node is not None and action(node.action).handler is Handler.STRAIN and _port(one) is Port.OFF
    if loss.part != one.part or loss.food not in naming.foods:
        return False
    thrown_out = departure is not None and departure.fate is Fate.NAMED
    lifted = thrown_out and node is not None and action(node.action).handler is Handler.LIFT and _port(one) is Port.KEPT
    return naming.removes or lifted


def _port(one: Leaving) -> Port | None:
    return one.outlet.port if isinstance(one.outlet, FromNode) else None


def _by_trade(part: PartFlow, one: Leaving, loss: Loss, said: list[Naming], node: Node | None) -> bool:
    """Whether a food leaves as what it is: part of a bath, of a coat, a pressed fruit, an aromatic."""
    if one.coat:
        return loss.share < _COAT
    handler = action(node.action).handler if node is not None else Handler.NONE
    if loss.bony and handler in _SIDES | {Handler.LIFT}:
        return True
    if handler is Handler.SKIN or (handler is Handler.SQUEEZE and loss.kind == "fruit"):
        return True
    kept = handler in _SIDES and _port(one) is Port.KEPT  # it is what should have stayed
    liquid = any(naming.removes and naming.liquid for naming in said) and not kept
    if loss.kind in BATH_KINDS:
        return not (
            not (loss.kind == "seasoning" or any(one.removes for one in said) or _was_parted(part, one.outlet))
            or _before_it_is_named(part, one, loss, said)
            or _by_title_alone(part, loss)
            or (loss.share >= _POURED and any(_names_pieces(naming) for naming in said))
            or (one.watered and loss.kind in _IN_TAP_WATER and handler is Handler.DRAIN)
        )
    return loss.of_batch < (_MAIN if liquid else _NOTED)


def _names_pieces(naming: Naming) -> bool:
    """Whether words throw pieces of food away, and nothing that is poured."""
    return naming.removes and bool(naming.foods) and not naming.solids and not naming.liquid


def _was_parted(part: PartFlow, outlet: Source) -> bool:
    """Whether something is, or holds, what a step has parted from food: a brine is, butter that was melted is not."""
    waiting, seen = [outlet], {outlet}
    while waiting:
        source = waiting.pop()
        if not isinstance(source, FromNode):
            continue
        if source.port is Port.OFF:
            return True
        for portion in part.nodes[source.node].inputs:
            if portion.source not in seen:
                seen.add(portion.source)
                waiting.append(portion.source)
    return False


def _before_it_is_named(part: PartFlow, one: Leaving, loss: Loss, said: list[Naming]) -> bool:
    """Whether a food leaves before any step has put it in by its name."""
    if loss.part != one.part or not said:
        return False
    named = [naming.place for naming in part.namings if naming.brings and loss.food in naming.foods]
    return bool(named) and min(named) > max(naming.place for naming in said)


def _by_title_alone(part: PartFlow, loss: Loss) -> bool:
    """Whether a fat or a liquid went in by nothing but a title that stands above every line, and is no brine's own."""
    if loss.kind not in FLAVOURED | {"fat"} or not any(naming.titled for naming in part.namings):
        return False
    return not any(naming.brings and loss.food in naming.foods for naming in part.namings)


def _not_back(part: PartFlow, one: Leaving) -> Iterator[Guard]:
    departure, _ = _why(part, one)
    if departure is None or not departure.kept or departure.fate is Fate.NAMED or departure.into:
        return
    if one.grams >= _PORTION:
        at = one.outlet.node if isinstance(one.outlet, FromNode) else None
        span = part.nodes[at].span if at is not None else None
        foods = _foods([loss for loss in one.takes if loss.share > 0.0])
        kind = GuardKind.LEFT_OVER if departure.fate is Fate.LEFT_OVER else GuardKind.NOT_BACK
        yield Guard(kind, Severity.PROBLEM, one.part, foods, span, at, 0.0, one.outlet, one.grams)


def _served(part: PartFlow, at: int) -> Iterator[Guard]:
    """What the words drain off and nothing takes is no part of the dish."""
    for source in part.dish:
        if isinstance(source, FromNode) and source.port is Port.OFF:
            node = part.nodes[source.node]
            if action(node.action).handler in _POURS and node.basis is Basis.WRITTEN:
                yield Guard(
                    GuardKind.SERVED, Severity.PROBLEM, at, span=node.span, node=source.node, outlet=source
                )  # fmt: skip


def _not_placed(part: PartFlow, at: int, weights: Mapping[FromLine, float], made: set[FromLine]) -> Iterator[Guard]:
    """Foods and other parts that no step takes: named and lost on the way, or never named at all."""
    taken = {portion.source for node in part.nodes if not _is_left_over(node) for portion in node.inputs}
    if not part.namings or not any(food in taken for food in weights):
        return  # it has no method, or none that is about its foods: they are put together as they are
    served = {portion.source for node in part.nodes for portion in node.inputs} | set(part.dish)
    nowhere: list[FromLine] = []
    for food in sorted(weights.keys() | made, key=lambda one: (one.index, one.food)):
        weight = weights.get(food, 1.0)
        if food in taken or weight <= 0.0:
            continue
        naming = next((naming for naming in part.namings if naming.brings and food in naming.foods), None)
        if naming is not None or food not in served:
            severity = Severity.PROBLEM if weight >= _NOTED else Severity.NOTE
            span = None if naming is None else naming.span
            yield Guard(GuardKind.NOT_ADDED, severity, at, ((at, food),), span)
        elif weight >= _NOTED:
            nowhere.append(food)
    if nowhere:
        yield Guard(GuardKind.IN_NO_STEP, Severity.NOTE, at, tuple((at, food) for food in nowhere))


def _is_left_over(node: Node) -> bool:
    """Whether a node is what `closing` makes of a line that no step took."""
    return has(node.action, Trait.JOINS) and node.basis is Basis.ASSUMED


def _foods(losses: list[Loss]) -> tuple[tuple[int, FromLine], ...]:
    most = sorted(losses, key=lambda loss: -loss.share * loss.of_batch)
    return tuple((loss.part, loss.food) for loss in most)


def _most(losses: list[Loss]) -> float:
    return max(loss.share for loss in losses)
