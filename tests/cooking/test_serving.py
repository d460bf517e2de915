"""What the head says of the batch, its packs and its servings, held against each other and against what was made."""

import pytest

from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.parsing.declared_servings import counts_in, measured_yield


def of(head, *lines, handling=""):
    """The nutrition of a kilogram of sugar, or of other lines, under a head."""
    written = "\n".join(f"- {line}" for line in lines or ("1 kg sugar {food 19335, 1000 g}",))
    return analyse(read_recipe(f"---\n{head}\n---\n## Mixture\n{written}\n{handling}\n"), draws=0)


def codes(nutrition):
    return {problem.code for problem in nutrition.problems}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1.2 kg", "1.2 kg"),
        ("about 2 litres of soup", "about 2 litres of soup"),
        ("6 jars, 2 litres", "2 litres"),
        ("6 jars, 190 g each", ""),
        ("6 (4-ounce) jars", ""),
        ("2 litre bottles", ""),
        ("12 rolls", ""),
    ],
)
def test_a_weight_or_a_volume_of_the_batch_is_no_count_of_servings(text, said):
    """What the whole comes to is told from what each jar holds; neither is a number of servings."""
    assert measured_yield({"makes": text}) == said
    assert all(count.number in (2, 6, 12) for count in counts_in(text)) and bool(counts_in(text)) != (text == said)


def test_a_weight_that_the_head_makes_is_what_the_batch_weighs():
    """A kilogram of sugar in a litre of water boiled to 1.2 kg is 1.2 kg with all of the sugar in it."""
    lines = ("1 kg sugar {food 19335, 1000 g}", "1 kg water {food 14411, 1000 g}")
    found = of("makes: 1.2 kg\nserving: 30 g", *lines, handling="> simmer 1 hour")
    assert found.servings == pytest.approx(40) and found.portion.packs is None
    assert found.batch["SUGAR"].best == pytest.approx(998, rel=0.001)  # SR28 19335: 99.8 g/100 g
    assert not codes(found)


def test_a_volume_that_the_head_makes_is_what_is_left_after_boiling():
    """Three litres of water boiled down to 2 l weigh 1996 g at 20 °C (998.2 kg/m³, CRC Handbook of Chemistry)."""
    found = of("makes: 2 l\nserving: 200 ml", "3 kg water {food 14411, 3000 g}", handling="> simmer 1 hour")
    assert found.dish.mix.total_mass[0] == pytest.approx(1996.4, rel=0.001)
    assert found.servings == pytest.approx(10, rel=0.01)


@pytest.mark.parametrize(
    ("head", "handling", "code"),
    [
        ("makes: 9 l", "", "volume-not-filled"),
        ("makes: 3 kg", "", "yield-heavier"),
        ("makes: 900 g", "> weighs 1 kg", "yield-twice"),
        ("makes: 1 kg", "## Other\n- 100 g butter", "yield-of-which"),
    ],
)
def test_a_yield_that_cannot_be_or_is_not_clear_says_so(head, handling, code):
    """More than went in, two weights of one thing, and a weight of nobody knows which part are asked about."""
    assert code in codes(of(f"{head}\nserves: 4", handling=handling))


@pytest.mark.parametrize("number", ["0", "-3", "1e9", "1000000", ".nan", "none"])
def test_a_number_that_no_kitchen_makes_is_a_problem_and_not_used(number):
    """Nothing, less than nothing and a thousand million are no numbers of servings."""
    found = of(f"makes: {number}")
    assert found.servings == 1 and codes(found) & {"makes-unread", "head-value"}


@pytest.mark.parametrize("serving", ["0 g", "-5 g", "some"])
def test_a_serving_of_nothing_is_a_problem_and_not_used(serving):
    """The number of servings stands where the serving cannot be read."""
    found = of(f"serves: 4\nserving: {serving}")
    assert found.servings == 4 and "serving-unread" in codes(found)


@pytest.mark.parametrize(
    ("head", "code", "figures"),
    [
        ("makes: 8 jars\nnet: 190 g", "packs-over-batch", ("1520 g", "1000 g")),
        ("makes: 4 jars\nnet: 100 g", "packs-under-batch", ("400 g", "1000 g")),
        ("serves: 4\nserving: 3 kg", "serving-over-batch", ("3000 g", "1000 g")),
        ("makes: 12 cakes\nserving: 2 jars", "serving-noun", ("2 jars", "12 cakes")),
        ("makes: 20 rolls\nserving: 3 rolls\npack: 2 rolls", "serving-over-pack", ("150 g", "100 g")),
        ("makes: 20 rolls\npack: 2 rolls\nnet: 190 g", "net-disagrees", ("190 g", "100 g")),
    ],
)
def test_a_head_that_disagrees_with_itself_or_the_batch_says_so_with_both_figures(head, code, figures):
    """Each contradiction is a problem that names what is said and what follows from the rest."""
    (problem,) = [problem for problem in of(head).problems if problem.code == code]
    assert all(figure in problem.message for figure in figures)


@pytest.mark.parametrize(
    ("head", "count", "packs", "pack_g"),
    [
        ("makes: 24 cookies\npack: 6 cookies", 24, 4, 250),
        ("makes: 24 cookies\npack: box of 6", 24, 4, 250),
        ("makes: 24 cookies\npack: glass jar", 24, 24, 1000 / 24),
        ("makes: 1 cake, 10 slices\nserving: 1/4 cake", 4, 1, 1000),
        ("serves: 10\nserving: 1 slice", 10, None, None),
        ("serves: 10\nserving: 2 cookies", 10, None, None),
        ("makes: 24\nserving: 2 cookies", 12, None, None),
        ("makes: 5 bags\nnet: 195 g", 5, 5, 195),
    ],
)
def test_packs_and_servings_are_counts_of_what_is_made(head, count, packs, pack_g):
    """A pack of six of 24 cookies is a quarter of the batch; a quarter of the cake is no quarter of a slice."""
    found = of(head)
    assert found.servings == pytest.approx(count) and found.portion.packs == packs
    assert found.portion.pack_g == (None if pack_g is None else pytest.approx(pack_g))
    assert not codes(found)


def test_the_hundred_grams_of_a_part_that_alone_is_served_are_the_dishes():
    """One figure has one interval, whichever output prints it."""
    text = "---\nserves: 4\n---\n## Sauce\n- 1 cup milk\n- salt\n## Dish\n- all of the Sauce\n- 2 cups flour\n"
    found = analyse(read_recipe(text), draws=200)
    assert found.parts[-1].per_100g == found.per_100g
    assert found.parts[0].per_100g["NA"] != found.per_100g["NA"]
