"""What the words of a method leave open: which way is taken, and what the other does to the figures."""

from __future__ import annotations

import pytest
from told_dishes import cooked, kept_of

from labeler.cooking.pipeline import cook
from labeler.flow.build import build_flow
from labeler.flow.choices import Choices, Doubt, Question, likely
from labeler.flow.model import Flow, Reading
from labeler.flow.questions import answer_to, asked_of, question_of
from labeler.flow.readings import answers_of, other_ways, read_as, settled
from labeler.flow_diagram import flow_picture
from labeler.food_safety.cautions import cautions
from labeler.foods.resolve import weigh
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe
from labeler.parsing.instructions.model import Span

_FRY = "# Onions\n- 50 ml oil\n- 2 onions\n"
_MILK = "# Potatoes\n- 500 g potatoes\n- 500 ml milk\n"


def _asked(text: str) -> list[Doubt]:
    flow = build_flow(weigh(read_recipe(text)))
    return [one.question.doubt for part in flow.parts for one in part.choices]


def _readings(text: str) -> list[Reading]:
    _, dish = cooked(text)
    assert dish.flow is not None
    return [one for part in dish.flow.parts for one in part.readings]


# --- choices -------------------------------------------------------------------------------------------------------


def test_the_first_option_is_taken_unless_another_is_asked_for() -> None:
    """A choice takes its first option, or the one that was asked for, and is remembered once."""
    question, options = Question(Doubt.SIDE, Span(3)), likely("liquid", "solids", weights=(0.6, 0.4))
    choices = Choices()
    assert [choices.pick(question, options), choices.pick(question, options)] == [0, 0]
    assert len(choices.found) == 1
    assert Choices({question: 1}).pick(question, options) == 1


@pytest.mark.parametrize("doubt", list(Doubt))
def test_every_doubt_has_a_question_and_an_answer(doubt: Doubt) -> None:
    """Every kind of doubt is asked as a question that ends so, and has something to write for an answer."""
    flow = build_flow(weigh(read_recipe(_FRY + "> fry the onions in the oil\n> drain if you like\n")))
    choice = flow.parts[0].choices[0]
    other = type(choice)(Question(doubt, Span(2), "the sauce"), choice.options)
    assert asked_of(other).endswith("?")
    taken, rival = (option.name for option in choice.options)
    assert question_of(Reading(0.5, other, 1)).endswith(f"Taken to be: {taken}. It may be: {rival}.")
    assert answer_to(other)


# --- what is asked -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("method", "doubt"),
    [
        ("Fry the onions in the oil. Drain if you like.", Doubt.OFFERED),
        ("Fry the onions in the oil. You can discard the oil.", Doubt.OFFERED),
        ("Bake the onions for 40 minutes or fry them in the oil.", Doubt.INSTEAD),
        ("Bake the onions for 40 minutes. Alternatively, fry them in the oil.", Doubt.INSTEAD),
        ("Boil or roast the onions.", Doubt.INSTEAD),
    ],
)
def test_what_is_offered_or_has_another_way_is_a_choice(method: str, doubt: Doubt) -> None:
    """What may be left undone and what may be done instead are choices of the flow."""
    assert doubt in _asked(_FRY + f"> {method}\n")


@pytest.mark.parametrize(
    "method",
    [
        "Fry the onions in the oil. Drain.",
        "Fry the onions in the oil until soft or golden.",
        "Fry the onions in the oil for 5 or 6 minutes.",
        "Fry the onions in the oil or butter.",
        "Fry the onions in the oil, 10 minutes or longer if you like.",
    ],
)
def test_an_or_between_ends_times_or_foods_is_no_choice(method: str) -> None:
    """An "or" that offers an end, a time or a food leaves open what is done to nothing."""
    assert _asked(_FRY + f"> {method}\n") == []


@pytest.mark.parametrize(
    "method",
    [
        "Bake the potatoes for 40 minutes or simmer them in the milk.",
        "Bake the potatoes for 40 minutes. Alternatively, simmer them in the milk.",
        "Bake the potatoes for 40 minutes. Or simmer them in the milk.",
    ],
)
def test_of_two_ways_one_is_done(method: str) -> None:
    """Of two ways the first is done, and not both, one after the other."""
    flow = build_flow(weigh(read_recipe(_MILK + f"> {method}\n")))
    assert "bake" in [node.action for node in flow.parts[0].nodes]
    assert "simmer" not in [node.action for node in flow.parts[0].nodes]


def test_a_list_of_ways_has_as_many_options() -> None:
    """Boil, steam or roast: three ways of which one is done."""
    flow = build_flow(weigh(read_recipe("# Beets\n- 500 g beets\n> Boil, steam or roast the beets.\n")))
    assert [len(one.options) for one in flow.parts[0].choices] == [3]
    assert [node.action for node in flow.parts[0].nodes if node.text] == ["boil"]


# --- other readings ------------------------------------------------------------------------------------------------


def test_an_answer_changes_the_flow_and_is_remembered() -> None:
    """A flow read another way says so among its choices, and read back the first way is the first flow."""
    weighed = weigh(read_recipe(_FRY + "> Fry the onions in the oil. Drain if you like.\n"))
    flow = build_flow(weighed, market="us")
    ((at, reading),) = other_ways(flow)
    other = read_as(weighed, flow, at, reading, market="us")
    assert other != flow
    assert answers_of(other.parts[0]) == {reading.choice.question: 1}
    assert build_flow(weighed, market="us", answers=[answers_of(other.parts[0])]) == other
    back = read_as(weighed, other, 0, Reading(0.5, other.parts[0].choices[0], 0), market="us")
    assert back == flow


def test_a_flow_without_readings_asks_nothing() -> None:
    """Where everything is settled there is no other way."""
    flow = build_flow(weigh(read_recipe(_FRY + "> Fry the onions in the oil. Drain if you like.\n")))
    assert list(other_ways(settled(flow, flow.parts[0].choices[0].question))) == []


def test_a_reading_that_moves_no_figure_is_not_told() -> None:
    """Another way that moves neither the weight nor one of five values by a twentieth is no reading."""
    assert _readings(_FRY + "> Fry the onions in the oil. You can stir again.\n") == []


def test_a_reading_widens_the_interval_and_leaves_the_best_estimate() -> None:
    """Oil that may be poured off: as much as without the offer at best, and the interval holds what draining leaves."""
    plain = analyse(read_recipe(_FRY + "> Fry the onions in the oil.\n"), draws=400).batch["FAT"]
    drained = analyse(read_recipe(_FRY + "> Fry the onions in the oil. Drain.\n"), draws=400).batch["FAT"]
    offered = analyse(read_recipe(_FRY + "> Fry the onions in the oil. Drain if you like.\n"), draws=400)
    fat = offered.batch["FAT"]
    assert fat.best == pytest.approx(plain.best)
    assert fat.low is not None and fat.high is not None
    assert fat.low <= drained.best < plain.best <= fat.high


def test_what_the_method_leaves_open_is_what_to_settle_first() -> None:
    """Where a reading has the largest share of the doubt, the advice is to say which way is meant."""
    offered = analyse(read_recipe(_FRY + "> Fry the onions in the oil. Drain if you like.\n"))
    assert "leaves open" in offered.weigh_next[0]["measure"]
    assert offered.weigh_next[0]["removes"] > 0.3


def test_best_estimates_do_not_depend_on_the_draws() -> None:
    """Readings are found with and without draws, and row 0 is the same."""
    weighed = weigh(read_recipe(_FRY + "> Fry the onions in the oil. Drain if you like.\n"))
    without, with_draws = cook(weighed), cook(weighed, draws=50)
    assert without.flow == with_draws.flow
    assert float(without.mix.total_mass[0]) == float(with_draws.mix.total_mass[0])
    assert len(without.others) == len(with_draws.others) == 1


def test_each_reading_has_its_share_of_the_draws() -> None:
    """The share of draws in which the oil is gone is the chance of that reading."""
    weighed = weigh(read_recipe(_FRY + "> Fry the onions in the oil. Drain if you like.\n"))
    dish = cook(weighed, draws=400)
    assert dish.spread is not None
    fat = dish.spread.of("FAT").sum(axis=1)
    best = float(dish.mix.of("FAT").sum())
    assert float((fat < 0.5 * best).mean()) == pytest.approx(0.5, abs=0.03)


def test_where_a_reading_would_empty_a_main_food_the_other_is_taken_and_told() -> None:
    """Potatoes simmered in milk and strained: the sieve's side is kept, as the milk alone would be no dish."""
    text = _MILK + "> Simmer the potatoes in the milk for 30 minutes.\n> Strain.\n"
    _, dish = cooked(text)
    assert "read-otherwise" in {problem.code for problem in dish.problems}
    assert kept_of(text)["500 g potatoes"] > 0.9
    assert all(guard.severity.name != "REFUSE" for guard in dish.guards)


def test_a_side_that_the_words_name_is_no_choice() -> None:
    """Strain and keep the liquid: nothing is open."""
    text = _MILK + "> Simmer the potatoes in the milk for 30 minutes.\n> Strain, keeping the potatoes.\n"
    assert Doubt.SIDE not in _asked(text)


def test_cautions_of_either_reading_are_told() -> None:
    """What may be left raw is told as raw, though it is cooked by the likelier reading and no figure moves."""
    text = "# Tuna\n- 300 g fresh tuna steak\n- 30 ml oil\n> {0}\n> Serve.\n"
    codes = {
        method: {one.code for one in cautions(weigh(read_recipe(text.format(method))))}
        for method in ("You can fry the tuna in the oil for 8 minutes.", "Fry the tuna in the oil for 8 minutes.")
    }
    offered, done = codes.values()
    assert done <= offered
    assert "raw-animal-food" in offered - done


@pytest.mark.parametrize(
    "method",
    ["Chill the patties for an hour, or fry them in the oil.", "Chill the patties for an hour, or fry them at once."],
)
def test_a_wait_is_no_way_to_do_what_heats(method: str) -> None:
    """ "Chill, or fry at once": whatever else is done, they are fried."""
    flow = build_flow(weigh(read_recipe(f"# Patties\n- 500 g minced beef\n- 30 ml oil\n> {method}\n")))
    assert "pan-fry" in [node.action for node in flow.parts[0].nodes]


def test_a_food_of_the_way_that_is_not_taken_is_in_no_figure_and_told() -> None:
    """Oil that only frying needs is not eaten with what is baked."""
    text = (
        "# Potatoes\n- 1 kg potatoes\n- 400 ml vegetable oil\n> Bake the potatoes, or fry them in the vegetable oil.\n"
    )
    _, dish = cooked(text)
    assert kept_of(text)["400 ml vegetable oil"] == 0.0
    assert "other-way" in {problem.code for problem in dish.problems}


def test_two_offers_are_drawn_each_by_itself() -> None:
    """Of two drains that may be left undone a quarter of the draws has both, and a quarter neither."""
    text = "# Two\n- 50 ml oil\n- 2 onions\n- 500 g minced beef, 30 % fat\n"
    text += "> Fry the onions in the oil. Drain if you like.\n> Brown the mince. Drain off the fat if you like.\n"
    dish = cook(weigh(read_recipe(text)), draws=400)
    assert dish.flow is not None and dish.spread is not None
    if len(dish.flow.parts[0].readings) == 2:
        fat, best = dish.spread.of("FAT").sum(axis=1), float(dish.mix.of("FAT").sum())
        assert 0.15 < float((fat > 0.9 * best).mean()) < 0.4


def test_what_a_cook_may_choose_is_not_chosen_by_a_guard() -> None:
    """A guard takes another reading only of words that may be misread, and never the way that is left raw."""
    text = "# Trout\n- 500 g trout\n- 500 ml stock\n> Poach the trout in the stock for 40 minutes, or serve it raw.\n"
    _, dish = cooked(text)
    assert dish.flow is not None
    assert "simmer" in [node.action for node in dish.flow.parts[0].nodes]


def test_looking_ahead_asks_and_names_nothing() -> None:
    """A sieve that looks at what comes next leaves the names of other pots as they are."""
    text = "# Oats\n- 100 g oats\n- 50 g hazelnuts\n- 2 onions\n- 30 ml oil\n- 500 ml stock\n"
    ways = [
        build_flow(weigh(read_recipe(text + f"> Fry the onions in the oil. {told}Toast the hazelnuts.\n")))
        for told in ("", "Simmer the oats in the stock. ")
    ]
    assert [one.question.doubt for flow in ways for part in flow.parts for one in part.choices] == []


def test_readings_of_two_parts_stand_in_their_parts() -> None:
    """Each part of a recipe has its own open questions."""
    text = "# Two\n## A\n" + _FRY.split("\n", 1)[1] + "> Fry the onions in the oil. Drain if you like.\n"
    text += "## B\n- 400 g chicken thighs\n> Roast the chicken for 40 minutes.\n"
    flow: Flow = build_flow(weigh(read_recipe(text)))
    assert [len(part.choices) for part in flow.parts] == [1, 0]


def test_the_drawing_asks_what_the_words_leave_open() -> None:
    """A question stands beside the boxes, where its words stand."""
    weighed, dish = cooked(_FRY + "> Fry the onions in the oil. Drain if you like.\n")
    assert dish.flow is not None
    (part,) = flow_picture(weighed, dish, dish.flow, dish.carried).parts
    assert [(one.asks, "left undone" in one.text) for one in part.remarks] == [(True, True)]
