"""Laws of every flow, whatever is written: order, shares, where everything ends, and that nothing large is silent."""

from __future__ import annotations

from collections.abc import Iterator

from any_methods import any_method, recipes
from hypothesis import HealthCheck, Phase, given, settings
from kitchen_help import imbalance

from labeler.cooking.kept import Place, kept_shares
from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import Mixture
from labeler.flow.build import build_flow
from labeler.flow.guards import BATH_KINDS
from labeler.flow.model import Fate, Flow, FromLine, FromNode, FromUnlisted, PartFlow, Port, Source
from labeler.foods.food_class import kind_of
from labeler.foods.model import WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.nutrition.ingredient_weights import ingoing
from labeler.parsing.document import read_recipe

LAW = settings(
    max_examples=120,
    deadline=None,
    derandomize=True,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
NEAR = 1e-6
Key = tuple[str, int, str]
ANY = "# Dish\n- 500 g chicken\n- 2 onions\n- 1 l stock\n- 50 g butter\n- 10 g salt\n- 2 bay leaves\n> {}\n"


def made(text: str) -> tuple[WeighedRecipe, Dish, Flow]:
    """A recipe weighed and cooked, with the flow as it was executed."""
    weighed = weigh(read_recipe(text))
    dish = cook(weighed)
    assert dish.flow is not None
    return weighed, dish, dish.flow


def in_one_row(method: str) -> str:
    """A text as the one paragraph of a method."""
    return ANY.format(" ".join(method.split()))


def sources(part: PartFlow) -> Iterator[tuple[int, Source]]:
    """Everything that a node refers to, with the node's place."""
    for at, node in enumerate(part.nodes):
        yield from ((at, portion.source) for portion in node.inputs)
        yield from ((at, source) for source in (*node.selects, *node.coats))


def check_order(weighed: WeighedRecipe, flow: Flow) -> None:
    """No node takes from itself or a later one, and everything that is referred to is there."""
    for at, part in enumerate(flow.parts):
        ends = [(len(part.nodes), source) for source in (*part.dish, *(one.source for one in part.leaves))]
        for place, source in (*sources(part), *ends):
            if isinstance(source, FromNode):
                assert 0 <= source.node < place
            elif isinstance(source, FromUnlisted):
                assert 0 <= source.index < len(part.unlisted)
            elif at < len(weighed.parts) and source.index < len(weighed.parts[at].lines):
                assert 0 <= source.food <= len(weighed.parts[at].lines[source.index].also)


def check_ends(flow: Flow) -> None:
    """What a node has made goes into a node, is in the dish or leaves; nothing does twice."""
    for part in flow.parts:
        whole: list[Source] = [*part.dish, *(one.source for one in part.leaves)]
        used_up = {portion.source for node in part.nodes for portion in node.inputs if portion.takes_all}
        assert not used_up & set(whole)
        assert len(set(part.dish)) == len(part.dish)
        assert not set(part.dish) & {one.source for one in part.leaves}
        taken = {portion.source for node in part.nodes for portion in node.inputs}
        for at in range(len(part.nodes)):
            assert FromNode(at) in taken or FromNode(at) in whole, part.nodes[at]
        for at in range(len(part.unlisted)):
            assert FromUnlisted(at) in taken or FromUnlisted(at) in whole


def check_shares(flow: Flow) -> None:
    """The stated shares of a source are in order and not more than all of it; what takes the rest takes it last."""
    for part in flow.parts:
        drawn: dict[Source, float] = {}
        used_up: set[Source] = set()
        for node in part.nodes:
            for portion in node.inputs:
                assert portion.source not in used_up
                used_up |= {portion.source} if portion.takes_all else set()
                if portion.share is not None:
                    assert 0.0 <= portion.share.low <= portion.share.best <= portion.share.high
                    drawn[portion.source] = drawn.get(portion.source, 0.0) + portion.share.best
        assert all(share <= 1.0 + NEAR for share in drawn.values())


def foods_of(mix: Mixture) -> Iterator[tuple[Key, float]]:
    """Each item of a mixture as the food that it is, with its weight in the best estimate [g]."""
    for item, grams in zip(mix.items, mix.mass[0], strict=True):
        yield (item.part, item.line, item.name), float(grams)


def check_lines_go_out_once(dish: Dish) -> None:
    """What all arrows carry of a line is what was put in of it, none of it less than nothing."""
    left: dict[Key, float] = {}
    for ledger in dish.ledgers:
        listed = {
            (item.part, item.line, item.name)
            for entry in ledger.added
            for item in entry.mix.items
            if item.part == ledger.part and item.place and not item.phase
        }
        entered = [found for entry in ledger.added for found in foods_of(entry.mix)]
        before = [entry for stage in ledger.stages if not stage.action for entry in stage.streams]
        lost = [found for entry in before for found in foods_of(entry.mix)]  # its line says that it was soaked, rinsed
        for sign, found in ((1.0, entered), (-1.0, lost)):
            for key, grams in found:
                if key in listed:
                    left[key] = left.get(key, 0.0) + sign * grams
    most = dict(left)
    for one in dish.carried:
        assert float(one.mix.mass.min(initial=0.0)) >= -NEAR
        for key, grams in foods_of(one.mix) if isinstance(one.source, FromLine) else ():
            if key in left and key[0] == dish.ledgers[one.part].part:
                left[key] -= grams
    for key, grams in left.items():
        assert abs(grams) <= 1e-6 * most[key] + NEAR, key


def check_mass(dish: Dish) -> None:
    """Each part's account is even, and what is served is no more than what entered and what is told beside it."""
    for ledger in dish.ledgers:
        assert imbalance(ledger) < 1e-6
    entered = sum(
        float(entry.mix.total_mass[0]) * ledger.times
        for ledger in dish.ledgers
        for entry in ledger.added
        if not entry.line
    )
    assert float(dish.mix.total_mass[0]) <= entered + NEAR or any(one.code == "part-too-small" for one in dish.problems)


def check_what_leaves(weighed: WeighedRecipe, dish: Dish, flow: Flow) -> None:
    """What leaves by its name has words that name it, and a main food that leaves by none of them has a guard."""
    told = {food for guard in dish.guards for food in guard.foods}
    for at, part in enumerate(flow.parts):
        outlets = {one.source for one in part.leaves}
        for one in part.leaves:
            assert one.fate is not Fate.NAMED or (one.span is not None and one.span.line > 0)
        for arrow in dish.carried:
            if arrow.part == at and arrow.fate is not None and isinstance(arrow.source, FromNode):
                assert arrow.source in outlets or arrow.source.port is Port.OFF
    if len(weighed.parts) > 1 or any(one.kept or one.fate is Fate.NAMED for one in flow.parts[0].leaves):
        return
    shares = kept_shares(weighed, dish, flow, dish.carried)
    for index, line in enumerate(weighed.parts[0].lines):
        share = shares.get(Place(0, index))
        if line.grams is None or line.match is None or line.also or share is None or share.best > 0.2:
            continue
        main = kind_of(line.match.food) not in BATH_KINDS and line.grams.best > 0.3 * weight_of(weighed)
        assert not main or (0, FromLine(index)) in told, line.line.text


def weight_of(weighed: WeighedRecipe) -> float:
    """What all lines weigh [g]."""
    return sum(line.grams.best for part in weighed.parts for line in part.lines if line.grams is not None)


def check_ingoing(weighed: WeighedRecipe, dish: Dish) -> None:
    """No line weighs more in the ingredient list than was put in of it."""
    times = {ledger.part: ledger.times * max(1.0, ledger.used) for ledger in dish.ledgers}
    most: dict[int, float] = {}
    for part in weighed.parts:
        for line in part.lines:
            for one in (line, *line.also):
                if one.grams is not None and line.part is None and line.kept is None:
                    number = one.line.number
                    most[number] = most.get(number, 0.0) + one.grams.best * times.get(part.title, 1.0)
    found: dict[int, float] = {}
    for place, grams in ingoing(weighed, dish).items():
        assert grams >= -NEAR
        number = next((one for one in reversed(place) if isinstance(one, int)), 0)
        if isinstance(place[-1], str):
            found[number] = found.get(number, 0.0) + grams
    for number, grams in found.items():
        if number in most:
            assert grams <= most[number] * (1.0 + 1e-6) + NEAR, number


def check_all(text: str) -> None:
    """Every law of one recipe."""
    weighed, dish, flow = made(text)
    check_order(weighed, flow)
    check_ends(flow)
    check_shares(flow)
    check_lines_go_out_once(dish)
    check_mass(dish)
    check_what_leaves(weighed, dish, flow)
    check_ingoing(weighed, dish)
    assert repr(build_flow(weighed)) == repr(build_flow(weigh(read_recipe(text))))


@LAW
@given(recipes())
def test_the_flow_of_any_recipe_keeps_its_laws(text: str) -> None:
    """Acyclic, shares whole, every end told, mass and ingoing weights even, whatever actions meet whatever foods."""
    check_all(text)


@LAW
@given(any_method)
def test_the_flow_of_any_text_keeps_its_laws(method: str) -> None:
    """A method of any characters or kitchen words crashes nothing and breaks no law."""
    check_all(in_one_row(method))
