"""Guards: what leaves in silence, never comes back or enters nowhere is told, and right flows are left alone."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.batch.work import Task, do
from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.flow.guards import BATH_KINDS, Guard, GuardKind, Leaving, Loss, guards
from labeler.flow.model import (
    Basis,
    Departure,
    Fate,
    Flow,
    FromLine,
    FromNode,
    Naming,
    Node,
    PartFlow,
    Port,
    Portion,
    Source,
)
from labeler.flow_diagram import flow_picture
from labeler.flow_diagram.model import Kind
from labeler.foods.model import WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.label.make import make_label
from labeler.parsing import read_recipe
from labeler.parsing.instructions.model import Span
from labeler.post.builder import post_content
from labeler.types import LabelerError, Severity

HERE, DISCARDS, ADDS = Span(5, 0, 10), Span(5, 11, 30), Span(6, 0, 10)
ONE, OTHER = FromLine(0), FromLine(1)
OFF, KEPT = FromNode(0, Port.OFF), FromNode(0)
SHARES = st.floats(0.0, 1.0)


def parted(
    action: str = "strain",
    *namings: Naming,
    fate: Fate = Fate.TRADE,
    kept: bool = False,
    outlet: FromNode = OFF,
    span: Span | None = None,
) -> Flow:
    """A part of one node that parts something from food, which leaves."""
    node = Node(action, (Portion(ONE), Portion(OTHER)), text="strain it", span=HERE)
    away = Departure(outlet, fate, span=span, kept=kept)
    stays: tuple[Source, ...] = (KEPT if outlet == OFF else OFF,)
    return Flow((PartFlow("Soup", (node,), dish=stays, leaves=(away,), namings=namings),))


def told(flow: Flow, *losses: Loss, outlet: FromNode = OFF, **about: bool) -> tuple[Guard, ...]:
    """What guards tell of what leaves."""
    return tuple(
        one for one in guards(flow, [Leaving(0, outlet, 100.0, losses, **about)], {}) if one.kind is GuardKind.LEAVES
    )


def loss(share: float, of_batch: float = 0.5, kind: str = "root", food: FromLine = ONE) -> Loss:
    return Loss(0, food, share, of_batch, kind)


# --- laws of one loss ------------------------------------------------------------------------------------------------


@given(SHARES, SHARES)
def test_a_loss_that_no_word_names_is_told_by_how_much_of_a_food_it_is(share: float, of_batch: float) -> None:
    """Silent below a fifth of a food and for a pinch of the batch; refused where a main food is emptied."""
    found = told(parted(), loss(share, of_batch))
    if share < 0.2 or of_batch < 0.02:
        assert found == ()
    elif share >= 0.8 and of_batch >= 0.1:
        assert [one.severity for one in found] == [Severity.REFUSE]
    else:
        assert [one.severity for one in found] == [Severity.PROBLEM]


@given(SHARES, SHARES, st.sampled_from(["strain", "drain", "lift", "simmer"]))
def test_what_the_words_throw_away_is_a_note_at_most(share: float, of_batch: float, action: str) -> None:
    """ "Discard the onion" names it: shown, and no problem, whatever parted it."""
    flow = parted(action, Naming(DISCARDS, 1, frozenset({ONE}), removes=True), span=DISCARDS)
    assert all(one.severity is Severity.NOTE for one in told(flow, loss(share, of_batch)))


@given(SHARES, SHARES, st.sampled_from(sorted(BATH_KINDS)))
def test_a_bath_that_was_parted_from_food_leaves_in_silence(share: float, of_batch: float, kind: str) -> None:
    """Brine, cooking water and frying fat leave by trade."""
    assert told(parted("drain"), loss(share, of_batch, kind)) == ()


@given(st.floats(0.2, 1.0), st.sampled_from(["liquid", "fat", "sugar", "salt", "sauce"]))
def test_a_bath_that_is_named_only_later_was_not_there(share: float, kind: str) -> None:
    """What a later step puts in by its name, an earlier drain cannot have poured away."""
    drains, adds = Naming(HERE, 0), Naming(ADDS, 1, frozenset({ONE}), brings=True)
    assert told(parted("drain", drains, adds), loss(share, 0.3, kind))
    first = Naming(ADDS, 0, frozenset({ONE}), brings=True)
    assert told(parted("drain", first, replace(drains, place=1)), loss(share, 0.3, kind)) == ()


@given(st.floats(0.0, 1.0), st.sampled_from(["liquid", "dairy", "sugar", "fat"]))
def test_words_that_name_a_food_take_no_bath_along(share: float, kind: str) -> None:
    """ "Discard the vanilla pod" does not pour the custard off; what clings to it goes along."""
    flow = parted("lift", Naming(DISCARDS, 1, frozenset({OTHER}), removes=True), fate=Fate.NAMED, span=DISCARDS)
    assert bool(told(flow, loss(share, 0.6, kind))) == (share >= 0.5)


def test_a_sieve_holds_back_all_but_the_liquid_that_the_words_keep() -> None:
    """ "Strain the broth", "strain, keeping the broth": what stays in the sieve is said by what is kept."""
    strains, keeps = Naming(HERE, 0), Naming(DISCARDS, 1, keeps_liquid=True)
    assert [one.severity for one in told(parted("strain", strains), loss(1.0))] == [Severity.REFUSE]
    for namings in ((strains, keeps), (replace(strains, keeps_liquid=True),)):
        assert [one.severity for one in told(parted("strain", *namings), loss(1.0))] == [Severity.NOTE]
    assert [one.severity for one in told(parted("drain", strains, keeps), loss(1.0))] == [Severity.REFUSE]


def test_a_food_that_the_dish_is_called_after_is_not_strained_out_of_it() -> None:
    """ "Strain the braising liquid" of lamb shanks throws no shanks away in silence; of a lamb stock it may."""
    told = (
        "- 4 lamb shanks\n- 1 onion\n- 750 ml stock\n> Simmer 2 hours. Strain the braising liquid and reduce by half.\n"
    )
    dish = cook(weigh(read_recipe(f"# Harbour lamb shanks\n{told}")))
    assert "read-otherwise" in {problem.code for problem in dish.problems}
    stock = cook(weigh(read_recipe(f"# Lamb stock\n{told}")))
    assert "read-otherwise" not in {problem.code for problem in stock.problems}


def test_what_is_lifted_out_is_named_only_where_it_is_thrown_away() -> None:
    """ "Lift out the bacon" and never see it again is a loss; "lift out the bay leaf" is thrown away."""
    lifts = Naming(HERE, 0, frozenset({ONE}))
    lost = told(parted("lift", lifts, outlet=KEPT), loss(1.0), outlet=KEPT)
    assert [one.severity for one in lost] == [Severity.REFUSE]
    away = told(parted("lift", lifts, outlet=KEPT, fate=Fate.NAMED, span=HERE), loss(1.0), outlet=KEPT)
    assert [one.severity for one in away] == [Severity.NOTE]


def test_a_coating_leaves_for_the_most_part_and_not_whole() -> None:
    """What is left in the dredging bowl leaves by trade; all of the flour does not."""
    assert told(parted("shake-off"), loss(0.7, 0.2, "flour"), coat=True) == ()
    assert told(parted("shake-off"), loss(1.0, 0.2, "flour"), coat=True) != ()


def test_nobody_boils_food_in_butter_and_water_to_pour_it_off() -> None:
    """Listed fat, cream and sauce in cooking water were put into the wrong pot."""
    assert told(parted("drain"), loss(0.9, 0.1, "fat"), watered=True) != ()
    assert told(parted("drain"), loss(0.9, 0.1, "salt"), watered=True) == ()


def test_what_is_kept_for_another_use_is_no_loss() -> None:
    """Half of the sauce for another day: the words say where it is."""
    assert told(parted("divide", fate=Fate.NAMED, kept=True, span=HERE), loss(1.0)) == ()


# --- portions and lines ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("fate", "count"), [(Fate.TRADE, 1), (Fate.NAMED, 0)])
def test_a_portion_that_was_set_aside_comes_back_or_is_for_something_else(fate: Fate, count: int) -> None:
    """A cup of cooking water that nothing takes is a problem; one that is kept for tomorrow is none."""
    found = guards(parted("ladle", fate=fate, kept=True), [Leaving(0, OFF, 200.0, ())], {})
    assert [one.kind for one in found] == [GuardKind.NOT_BACK] * count


@pytest.mark.parametrize("lost", ["in the dish", "nowhere"])
def test_a_food_that_a_step_names_and_none_takes_is_a_problem(lost: str) -> None:
    """ "Fold in the flour" that does nothing is told; so is a line that is not even in the dish."""
    stirs = Node("mix", (Portion(OTHER),), text="mix", span=HERE)
    alone = Node("add", (Portion(ONE),), basis=Basis.ASSUMED)
    nodes = (stirs, alone) if lost == "in the dish" else (stirs,)
    namings = (Naming(HERE, 0, frozenset({OTHER}), brings=True), Naming(ADDS, 1, frozenset({ONE}), brings=True))
    flow = Flow((PartFlow("Cake", nodes, dish=tuple(FromNode(at) for at in range(len(nodes))), namings=namings),))
    found = guards(flow, [], {(0, ONE): 0.4, (0, OTHER): 0.6})
    assert [(one.kind, one.severity, one.span) for one in found] == [(GuardKind.NOT_ADDED, Severity.PROBLEM, ADDS)]


@pytest.mark.parametrize(("action", "count"), [("drain", 1), ("lift", 0), ("squeeze", 0)])
def test_what_the_words_drain_off_is_not_served(action: str, count: int) -> None:
    """A first brine that was drained is no part of the jar; a broth that food was lifted out of may be."""
    node = Node(action, (Portion(ONE),), text="drain", span=HERE)
    flow = Flow((PartFlow("Jar", (node,), dish=(KEPT, OFF)),))
    assert [one.kind for one in guards(flow, [], {})] == [GuardKind.SERVED] * count


# --- whole recipes ---------------------------------------------------------------------------------------------------

RIGHT = {
    "potatoes": "- 800 g potatoes\n- 40 g butter\n- 100 ml milk\n- 5 g salt\n"
    "> Boil the potatoes for 20 minutes and drain. Mash with the butter, the milk and the salt.\n",
    "chicken": "- 1 kg chicken thighs\n- 1 litre water\n- 50 g salt\n- 20 ml olive oil\n"
    "> Soak the chicken in the water and the salt for 4 hours. Drain. Roast with the oil at 200 °C for 40 minutes.\n",
    "stock": "- 1 kg beef bones\n- 2 litres water\n- 100 g carrots\n- 2 bay leaves\n"
    "> Simmer everything for 3 hours. Strain and discard the solids.\n",
    "broth": "- 1 kg chicken wings\n- 2 litres water\n- 100 g carrots\n- 100 g celery\n"
    "> Simmer everything for 2 hours. Strain through a sieve, keeping only the broth.\n",
    "custard": "- 500 ml milk\n- 100 g egg yolks\n- 60 g sugar\n- 1 vanilla pod\n"
    "> Heat the milk with the vanilla pod. Whisk the egg yolks and the sugar, pour the milk over and cook gently for "
    "10 minutes. Remove the vanilla pod.\n",
    "salad": "- 400 g canned chickpeas\n- 200 g tomatoes\n- 30 ml olive oil\n- 2 g salt\n"
    "> Rinse and drain the chickpeas. Mix with the tomatoes, the oil and the salt.\n",
}


@cache
def cooked(name: str) -> tuple[WeighedRecipe, Dish]:
    weighed = weigh(read_recipe(f"---\ntitle: Dish\nserves: 4\n---\n{RIGHT[name]}"))
    return weighed, cook(weighed)


def loud(dish: Dish) -> list[Guard]:
    return [one for one in dish.guards if one.severity >= Severity.PROBLEM]


def changed(dish: Dish, part: PartFlow) -> Flow:
    assert dish.flow is not None
    return Flow((part, *dish.flow.parts[1:]))


def the_part(dish: Dish) -> PartFlow:
    assert dish.flow is not None
    return dish.flow.parts[0]


@pytest.mark.parametrize("name", RIGHT)
def test_a_right_recipe_is_left_alone(name: str) -> None:
    """No false alarm."""
    assert loud(cooked(name)[1]) == []


def leaves_whole(part: PartFlow, at: int) -> PartFlow:
    """What a node keeps leaves with what it parts."""
    nodes = tuple(
        replace(node, inputs=tuple(one for one in node.inputs if one.source != FromNode(at))) for node in part.nodes
    )
    dish = tuple(one for one in part.dish if one != FromNode(at))
    return replace(part, nodes=nodes, dish=dish, leaves=(*part.leaves, Departure(FromNode(at), Fate.TRADE)))


@pytest.mark.parametrize("name", ["potatoes", "chicken", "salad"])
def test_food_that_leaves_with_its_bath_is_refused(name: str) -> None:
    """A lift-out that is lost empties a main food."""
    weighed, right = cooked(name)
    part = the_part(right)
    drains = next(at for at, node in enumerate(part.nodes) if node.action in ("drain", "rinse"))
    assert Severity.REFUSE in [
        one.severity for one in cook(weighed, flow=changed(right, leaves_whole(part, drains))).guards
    ]


@pytest.mark.parametrize("name", RIGHT)
def test_a_line_that_is_lost_is_told(name: str) -> None:
    """Whatever heavy line a step forgets, the cook hears of it."""
    weighed, right = cooked(name)
    part = the_part(right)
    lost = max(
        (food for food in (one.source for node in part.nodes for one in node.inputs) if isinstance(food, FromLine)),
        key=lambda food: weighed.parts[0].lines[food.index].grams.best,  # type: ignore[union-attr]
    )
    nodes = tuple(
        replace(node, inputs=tuple(one for one in node.inputs if one.source != lost)) for node in part.nodes
    )  # fmt: skip
    wrong = cook(weighed, flow=changed(right, replace(part, nodes=nodes)))
    assert {"named-not-taken"} <= {problem.code for problem in wrong.problems}


def test_butter_that_goes_into_the_cooking_water_is_told() -> None:
    """A drain takes what a later step puts in."""
    weighed, right = cooked("potatoes")
    part = the_part(right)
    drains = next(at for at, node in enumerate(part.nodes) if node.action == "drain")
    butter = Portion(FromLine(1))
    nodes = [
        replace(node, inputs=tuple(one for one in node.inputs if one.source != butter.source)) for node in part.nodes
    ]
    nodes[drains] = replace(nodes[drains], inputs=(*nodes[drains].inputs, butter))
    assert loud(cook(weighed, flow=changed(right, replace(part, nodes=tuple(nodes))))) != []


def test_what_is_refused_is_made_as_a_draft_only_and_marked_in_a_batch(tmp_path: Path) -> None:
    """A soup that is strained to nothing makes no label and no post; `anyway` makes a draft; a batch holds it back."""
    text = (
        "---\ntitle: Onion soup\nserves: 4\n---\n- 1 kg onions\n- 50 g butter\n- 1 litre water\n- 10 g salt\n"
        "> Fry the onions in the butter for 20 minutes. Add the water and the salt and simmer for 30 minutes. Strain.\n"
    )
    recipe = read_recipe(text)
    assert [one.severity for one in loud(cook(weigh(recipe)))] == [Severity.REFUSE]
    with pytest.raises(LabelerError, match="onions"):
        make_label(recipe, size="a6")
    with pytest.raises(LabelerError, match="onions"):
        post_content(recipe)
    assert make_label(recipe, size="a6", anyway=True).declared["draft"]
    assert post_content(recipe, anyway=True).draft
    (tmp_path / "soup.md").write_text(text, encoding="utf-8")
    label = tmp_path / "soup.pdf"
    assert do(Task("soup.md", str(tmp_path / "soup.md"), "", label=str(label)))["held_back"] == ["food-leaves-unnamed"]
    assert not label.exists()


@settings(deadline=None)
@given(st.permutations(range(4)))
def test_guards_do_not_hang_on_the_order_of_lines(order: list[int]) -> None:
    """The same food listed otherwise is guarded alike."""
    lines = ["- 800 g potatoes", "- 40 g butter", "- 100 ml milk", "- 5 g salt"]
    handling = "> Boil the potatoes for 20 minutes and drain. Mash with the butter, the milk and the salt.\n"
    text = "\n".join(lines[at] for at in order) + f"\n{handling}"
    assert loud(cook(weigh(read_recipe(text)))) == []


def test_the_drawing_shows_what_a_guard_doubts_in_its_colour_of_warning() -> None:
    """Potatoes that leave with their water are food that leaves, at their step, at the head and at the foot."""
    weighed, right = cooked("potatoes")
    drains = next(at for at, node in enumerate(the_part(right).nodes) if node.action == "drain")
    wrong = cook(weighed, flow=changed(right, leaves_whole(the_part(right), drains)))
    before, after = (flow_picture(weighed, one, changed(one, the_part(one)), one.carried) for one in (right, wrong))
    doubted = [one for one in after.parts[0].outflows if one.why]
    assert [(one.kind, one.implied) for one in doubted] == [(Kind.FOOD, True)]
    assert after.food_leaves > 500.0 > before.food_leaves
    assert ("potatoes", Kind.FOOD) in {(one.name, one.kind) for one in after.dish.missing}
    assert not before.dish.missing or all(one.kind is Kind.SPENT for one in before.dish.missing)


def test_the_drawing_shows_what_no_step_takes() -> None:
    """A line that nothing names is in the dish, and the foot of the drawing says so."""
    weighed = weigh(read_recipe(f"{RIGHT['salad'].replace('> Rinse', '- 80 g walnuts' + chr(10) + '> Rinse')}"))
    made = cook(weighed)
    assert made.flow is not None
    assert flow_picture(weighed, made, made.flow, made.carried).dish.unplaced == ("walnuts",)
    assert {one.severity for one in made.problems if one.code == "in-no-step"} == {Severity.NOTE}


@pytest.mark.parametrize(
    ("method", "told"),
    [
        ("Fry the onions in the oil. Add the rice and stock and simmer 20 minutes. Serve with the chicken.", True),
        ("Fry the onions and chicken in the oil. Add the rice and stock and simmer 20 minutes.", False),
        ("Mix all the ingredients.", False),
    ],
)
def test_meat_that_no_step_heats_is_told_where_something_else_is_heated(method: str, told: bool) -> None:
    """A misread pot leaves its chicken raw; a dish of which nothing is heated is raw as its cook means it."""
    lines = "- 400 g chicken thighs\n- 200 g rice\n- 600 ml stock\n- 2 onions\n- 2 tbsp oil\n"
    dish = cook(weigh(read_recipe(f"# Rice\n{lines}> {method}\n")))
    assert ("raw-in-dish" in {one.code for one in dish.problems}) is told
