"""Plant one misreading at a time in the flow of a recipe, and count what is caught, what is seen and what is missed.

    python reference/plant_misreadings.py [FILE or FOLDER...] [--show]

Without an argument the demo's recipes are taken, and those of the folder that LABELER_PUBLISHED names. A misreading is
caught where a guard tells a problem or refuses; seen where the drawing shows it and no guard does: in the colour of
warning food that leaves or that no step takes, or another food than before that is most of the dish. Misreadings that
change less than a twentieth of weight, energy, fat, carbohydrate, protein and sodium are not counted, lost additions
apart. What guards tell of the flows as they are read is counted too: where those are right, each is a false alarm.
"""

from __future__ import annotations

import argparse
import os
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import column
from labeler.flow.model import Basis, Departure, Fate, Flow, FromLine, FromNode, Node, PartFlow, Port, Portion, Source
from labeler.flow.named_parts import with_parts_named
from labeler.flow_diagram import flow_picture
from labeler.flow_diagram.model import Kind
from labeler.foods.model import WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.importers.read_any import read_any
from labeler.markets import market_of
from labeler.types import LabelerError, Severity

DEMO = Path(__file__).resolve().parents[1] / "demo"
ENDINGS = (".md", ".txt", ".html")
SITES = 2  # of one kind in one recipe: those that move most
CHANGED = 0.05
TAGS = ("ENERC_KCAL", "FAT", "CHOCDF", "PROCNT", "NA")
PARTING = ("drain", "strain", "lift", "skim", "ladle")


class Misreading(Enum):
    """What is planted."""

    WRONG_FOOD = "a removal takes another food"
    WRONG_SIDE = "a removal takes the other side"
    GONE_WITH_BATH = "a lift-out is lost: the food leaves with its bath"
    BATH_STAYS = "a lift-out is lost: the bath is eaten"
    NOT_BACK = "a return is lost"
    NOT_ADDED = "an addition is lost"
    VANISHED = "an addition is lost, and the food with it"
    TOO_EARLY = "a drain takes a food that comes later"
    OTHER_VESSEL = "a drain takes what lies in another vessel"


class Verdict(Enum):
    """What became of a misreading."""

    REFUSED = "refused"
    PROBLEM = "told as a problem"
    SEEN = "seen in the drawing"
    MISSED = "missed"


@dataclass(frozen=True)
class Planted:
    """A flow with one misreading; `grams` is what it moves."""

    kind: Misreading
    flow: Flow
    where: str
    grams: float


# --- planting --------------------------------------------------------------------------------------------------------


def planted(weighed: WeighedRecipe, dish: Dish) -> Iterator[Planted]:
    """Flows with one misreading, at most `SITES` of a kind."""
    found: dict[Misreading, list[Planted]] = defaultdict(list)
    assert dish.flow is not None
    for at, part in enumerate(dish.flow.parts):
        for kind, changed, where, grams in _sites(_Part(weighed, dish, at, part)):
            parts = (*dish.flow.parts[:at], changed, *dish.flow.parts[at + 1 :])
            found[kind].append(Planted(kind, Flow(parts), where, grams))
    for sites in found.values():
        yield from sorted(sites, key=lambda one: -one.grams)[:SITES]


@dataclass(frozen=True)
class _Part:
    weighed: WeighedRecipe
    dish: Dish
    at: int
    part: PartFlow

    def grams(self, source: Source, node: int | None = None) -> float:
        """What an arrow carries, or all arrows of a source [g]."""
        return sum(
            float(one.mix.total_mass[0])
            for one in self.dish.carried
            if one.part == self.at and one.source == source and node in (None, one.node)
        )

    def foods_in(self, node: int) -> dict[FromLine, float]:
        """Foods of the part's own lines that a node works on [g]."""
        found: dict[FromLine, float] = {}
        for one in self.dish.carried:
            if one.part == self.at and one.node == node:
                for item, grams in zip(one.mix.items, one.mix.mass[0], strict=True):
                    if item.part == self.part.title and item.place:
                        food = FromLine(item.place - 1)
                        found[food] = found.get(food, 0.0) + float(grams)
        return found

    def takers(self, source: Source) -> list[int]:
        return [at for at, node in enumerate(self.part.nodes) if any(one.source == source for one in node.inputs)]

    def name(self, source: Source) -> str:
        if isinstance(source, FromLine):
            line = self.weighed.parts[self.at].lines[source.index].line
            return line.name or line.text
        return f"what step {source.node + 1} made" if isinstance(source, FromNode) else "an unlisted food"


Site = tuple[Misreading, PartFlow, str, float]


def _sites(about: _Part) -> Iterator[Site]:
    part = about.part
    for at, node in enumerate(part.nodes):
        off, kept = FromNode(at, Port.OFF), FromNode(at)
        gone = {one.source for one in part.leaves}
        if node.action in PARTING and gone & {off, kept}:
            said = node.text or node.why
            if node.action == "lift" and kept in gone:
                yield from _wrong_food(about, at, node)
            yield Misreading.WRONG_SIDE, _swapped(part, at), said, max(about.grams(off), about.grams(kept))
            if off in gone and (about.takers(kept) or kept in part.dish):
                yield Misreading.GONE_WITH_BATH, _leaving(part, kept, Fate.TRADE), said, about.grams(kept)
                yield Misreading.BATH_STAYS, _joined(part, at), said, about.grams(off)
                yield from _taken_too(about, at, node)
        heaps = [one for one in node.inputs if isinstance(one.source, FromNode)]
        if len(heaps) > 1 or (heaps and any(isinstance(one.source, FromNode) and _is_off(one.source) for one in heaps)):
            for one in heaps if len(heaps) > 1 else ():
                assert isinstance(one.source, FromNode)
                set_aside = _is_off(one.source) or part.nodes[one.source.node].action in ("divide", "ladle")
                less = _leaving(part, one.source, Fate.TRADE, kept=set_aside, only=at)
                yield Misreading.NOT_BACK, less, f"{node.text}: {about.name(one.source)}", about.grams(one.source, at)
        if node.text or node.basis is not Basis.ASSUMED:
            for one in node.inputs:
                if isinstance(one.source, FromLine):
                    yield from _not_added(about, at, one)


def _is_off(source: FromNode) -> bool:
    return source.port is Port.OFF


def _wrong_food(about: _Part, at: int, node: Node) -> Iterator[Site]:
    """ "Discard the bay leaf" takes the heaviest other food of the pot."""
    others = {food: grams for food, grams in about.foods_in(at).items() if food not in node.selects}
    if others:
        food = max(others, key=lambda one: others[one])
        changed = _with_node(about.part, at, replace(node, selects=(food,)))
        yield Misreading.WRONG_FOOD, changed, f"{node.text}: {about.name(food)}", others[food]


def _not_added(about: _Part, at: int, one: Portion) -> Iterator[Site]:
    node = about.part.nodes[at]
    rest = tuple(other for other in node.inputs if other is not one)
    less = _with_node(about.part, at, replace(node, inputs=rest))
    grams, where = about.grams(one.source, at), f"{node.text}: {about.name(one.source)}"
    yield Misreading.VANISHED, less, where, grams
    alone = Node("add", (one,), basis=Basis.ASSUMED)
    served = replace(less, nodes=(*less.nodes, alone), dish=(*less.dish, FromNode(len(less.nodes))))
    yield Misreading.NOT_ADDED, served, where, grams


def _taken_too(about: _Part, at: int, node: Node) -> Iterator[Site]:
    """The drain takes a line that a later step puts in, or a heap that waits elsewhere."""
    mine = _before(about.part, at)
    for later in range(at + 1, len(about.part.nodes)):
        for one in about.part.nodes[later].inputs:
            if isinstance(one.source, FromNode) and (one.source.node >= at or one.source.node in mine):
                continue
            kind = Misreading.TOO_EARLY if isinstance(one.source, FromLine) else Misreading.OTHER_VESSEL
            rest = tuple(other for other in about.part.nodes[later].inputs if other is not one)
            changed = _with_node(about.part, later, replace(about.part.nodes[later], inputs=rest))
            changed = _with_node(changed, at, replace(node, inputs=(*node.inputs, one)))
            yield kind, changed, f"{node.text or node.why}: {about.name(one.source)}", about.grams(one.source, later)


def _before(part: PartFlow, at: int) -> set[int]:
    """Nodes that a node rests on."""
    found: set[int] = set()
    waiting = [at]
    while waiting:
        for one in part.nodes[waiting.pop()].inputs:
            if isinstance(one.source, FromNode) and one.source.node not in found:
                found.add(one.source.node)
                waiting.append(one.source.node)
    return found


def _with_node(part: PartFlow, at: int, node: Node) -> PartFlow:
    return replace(part, nodes=(*part.nodes[:at], node, *part.nodes[at + 1 :]))


def _swapped(part: PartFlow, at: int) -> PartFlow:
    """What a node parts goes on, and what it keeps goes the way of what it parts."""

    def other(source: Source) -> Source:
        if isinstance(source, FromNode) and source.node == at:
            return FromNode(at, Port.KEPT if _is_off(source) else Port.OFF)
        return source

    nodes = [
        replace(node, inputs=tuple(replace(one, source=other(one.source)) for one in node.inputs))
        for node in part.nodes
    ]
    leaves = tuple(replace(one, source=other(one.source)) for one in part.leaves)
    return replace(part, nodes=tuple(nodes), dish=tuple(map(other, part.dish)), leaves=leaves)


def _leaving(
    part: PartFlow, source: Source, fate: Fate, *, kept: bool = False, only: int | None = None
) -> PartFlow:  # fmt: skip
    """A source leaves; no node takes it (or, with `only`, that one does not)."""
    nodes = [
        node
        if only not in (None, at)
        else replace(node, inputs=tuple(one for one in node.inputs if one.source != source))
        for at, node in enumerate(part.nodes)
    ]
    dish = tuple(one for one in part.dish if one != source)
    leaves = tuple(one for one in part.leaves if one.source != source)
    away = Departure(source, fate, Basis.IMPLIED, kept=kept)
    return replace(part, nodes=tuple(nodes), dish=dish, leaves=(*leaves, away))


def _joined(part: PartFlow, at: int) -> PartFlow:
    """What a node parts goes where what it keeps goes."""
    off, kept = FromNode(at, Port.OFF), FromNode(at)
    nodes = [
        replace(node, inputs=(*node.inputs, Portion(off))) if any(one.source == kept for one in node.inputs) else node
        for node in part.nodes
    ]
    dish = (*part.dish, off) if kept in part.dish else part.dish
    return replace(
        part, nodes=tuple(nodes), dish=dish, leaves=tuple(one for one in part.leaves if one.source != off)
    )  # fmt: skip


# --- judging ---------------------------------------------------------------------------------------------------------


def told(dish: Dish) -> set[tuple[str, str]]:
    """Problems that keep nobody from asking."""
    return {(one.code, one.message) for one in dish.problems if one.severity >= Severity.PROBLEM}


def seen(weighed: WeighedRecipe, dish: Dish) -> set[str]:
    """What the drawing shows in its colour of warning, what no step takes, what most of the dish is."""
    assert dish.flow is not None
    picture = flow_picture(weighed, dish, dish.flow, dish.carried)
    found = {f"not in the dish: {one.name}" for one in picture.dish.missing if one.kind is Kind.FOOD}
    found |= {f"no step: {one}" for one in picture.dish.unplaced}
    for at, part in enumerate(picture.parts):
        found |= {f"leaves: {at}.{one.source}.{one.of or one.name}" for one in part.outflows if one.kind is Kind.FOOD}
    if picture.dish.heaviest:
        found.add(f"most of it: {picture.dish.heaviest[0][0]}")
    return found


def figures(dish: Dish) -> list[float]:
    total = dish.mix.total[0]
    return [float(dish.mix.total_mass[0]), *(float(total[column(tag)]) for tag in TAGS)]


def differs(one: Dish, other: Dish) -> bool:
    return any(
        abs(a - b) > CHANGED * max(abs(a), 1e-9) for a, b in zip(figures(one), figures(other), strict=True) if a or b
    )


def judge(weighed: WeighedRecipe, right: Dish, wrong: Dish) -> tuple[Verdict, str]:
    """What became of a misreading, and what tells it."""
    new = [
        one for one in wrong.problems if one.severity >= Severity.PROBLEM and (one.code, one.message) not in told(right)
    ]
    for verdict, least in ((Verdict.REFUSED, Severity.REFUSE), (Verdict.PROBLEM, Severity.PROBLEM)):
        by = next((one.code for one in new if one.severity >= least), None)
        if by is not None:
            return verdict, by
    shown = sorted(seen(weighed, wrong) - seen(weighed, right))
    return (Verdict.SEEN, shown[0]) if shown else (Verdict.MISSED, "")


# --- recipes ---------------------------------------------------------------------------------------------------------


def files(given: list[str]) -> list[Path]:
    published = os.environ.get("LABELER_PUBLISHED")
    places = [Path(one) for one in given] or [DEMO, *([Path(published)] if published else [])]
    found: list[Path] = []
    for place in places:
        found += sorted(one for one in place.iterdir() if one.suffix in ENDINGS) if place.is_dir() else [place]
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("places", nargs="*", metavar="FILE or FOLDER")
    parser.add_argument("--show", action="store_true", help="what is missed, and what is told of the flows as read")
    wish = parser.parse_args()
    counts: dict[Misreading, Counter[Verdict]] = defaultdict(Counter)
    alarms, refused, recipes = 0, 0, 0
    for path in files(wish.places):
        try:
            weighed = weigh(read_any(str(path)))
        except LabelerError:
            continue
        weighed = with_parts_named(weighed, market=market_of(weighed.recipe, weighed.market))
        right = cook(weighed)
        if right.flow is None or not any(part.nodes for part in right.flow.parts):
            continue
        recipes += 1
        loud = [one for one in right.guards if one.severity >= Severity.PROBLEM]
        alarms += bool(loud)
        refused += any(one.severity is Severity.REFUSE for one in loud)
        if wish.show:
            for one in loud:
                print(f"as read: {path.name}: {one.kind.value} {one.severity.name} {one.foods}")
        for plant in planted(weighed, right):
            wrong = cook(weighed, flow=plant.flow)
            lost = plant.kind in (Misreading.NOT_ADDED, Misreading.VANISHED) and plant.grams >= 0.02 * figures(right)[0]
            if not lost and not differs(right, wrong):
                continue
            verdict, by = judge(weighed, right, wrong)
            counts[plant.kind][verdict] += 1
            if wish.show and verdict in (Verdict.MISSED, Verdict.SEEN):
                print(f"{verdict.value}: {path.name}: {plant.kind.value} | {plant.where} | {plant.grams:.0f} g | {by}")
    width = max(len(one.value) for one in Misreading)
    print(f"{'':{width}}  {'  '.join(f'{one.value:>19}' for one in Verdict)}")
    for kind in Misreading:
        print(f"{kind.value:{width}}  {'  '.join(f'{counts[kind][one]:19}' for one in Verdict)}")
    whole = sum((counts[kind] for kind in Misreading), start=Counter[Verdict]())
    number = max(sum(whole.values()), 1)
    caught = whole[Verdict.REFUSED] + whole[Verdict.PROBLEM]
    print(f"{number} planted: {100 * caught / number:.1f} % told or refused", end="; ")
    print(f"{100 * (caught + whole[Verdict.SEEN]) / number:.1f} % with what is seen in the drawing")
    print(f"{recipes} recipes as read: {alarms} with a problem told by a guard, {refused} refused")


if __name__ == "__main__":
    main()
