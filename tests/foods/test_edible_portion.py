"""What of a bought weight is eaten: shells, bones, peel and rind by SR28's refuse (2015), and what the line says."""

from __future__ import annotations

import pytest
from measure_help import best, line

from labeler.foods.resolve import weigh_line
from labeler.foods.weights.line_weight import grams
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Amount, Line
from labeler.parsing.units import grams_per


@pytest.mark.parametrize(
    ("written", "food", "share"),
    [
        (line("chicken", (1, None), (4.0, 5.0, "pound")), "05006", None),
        (line("mussels in shell", (1, "pound")), "15164", 0.30),  # AH-102, from memory
        (line("clams", (1, "pound")), "15157", 0.17),  # SR28: 1 lb with shell yields 68 g, 15 %
        (line("carrots", (1, "pound"), preparation="peeled"), "11124", 0.89),  # SR28 refuse 11 %
        (line("carrots", (1, "pound"), text="1 pound peeled carrots"), "11124", 1.0),
        (line("bananas", (1, "pound")), "09040", 0.64),  # SR28 refuse 36 %
        (line("ground beef", (1, "pound")), "23572", 1.0),
        (line("chicken thighs", (1, "pound"), text="1 pound bone-in chicken thighs"), "05091", 0.82),
        (line("boneless chicken thighs", (1, "pound")), "05096", 1.0),
        (line("walnuts", (1, "pound")), "12155", 1.0),  # shelled, though SR28 has the refuse of whole nuts
        (line("cod fillets", (1, "pound")), "15019", 1.0),
        (line("avocados", (1, "pound")), "09037", 0.74),  # SR28 refuse 26 %
        (line("crabmeat", (1, "pound"), preparation="picked over"), "15139", 1.0),
    ],
)
def test_a_bought_weight_is_less_what_is_not_eaten(written: Line, food: str, share: float | None) -> None:
    """Bones, shells and peels come off a weight as bought, and not off what the words call bare."""
    if share is None:
        pounds = line("chicken", (1, None), preparation="")
        sized = Line(text="one 4- to 5-pound chicken", name="chicken",
                     amounts=(pounds.amounts[0], Amount(4, 5, "pound", "each")))  # fmt: skip
        weight, _ = grams(sized, food)
        # SR28 05006: 32 % of a whole bird is bone
        assert weight is not None
        assert weight.best == pytest.approx(4.5 * 453.59 * 0.68, rel=0.02)
        assert weight.low < 4 * 453.59 * 0.68 < weight.high
    else:
        assert best(written, food) == pytest.approx(453.59 * share, rel=0.02)


@pytest.mark.parametrize(
    ("text", "share"),
    [
        # What the line calls clean, ready, trimmed or young is weighed bare.
        ("500 g cleaned squid", 1.0),
        ("500 g squid, cleaned", 1.0),
        ("500 g baby spinach leaves", 1.0),
        ("500 g baby carrots", 1.0),
        ("500 g trimmed green beans", 1.0),
        ("500 g ready-to-eat avocado", 1.0),
        ("500 g pitted cherries", 1.0),
        ("500 g stoned cherries", 1.0),
        ("500 g shelled mussels", 1.0),
        ("500 g peeled and deveined shrimp", 1.0),
        ("500 g cooked mussel meat", 1.0),
        ("500 g podded broad beans", 1.0),
        # What is done behind the name was bought whole.
        ("500 g cherries, pitted", 0.90),  # SR28 09070 refuse 10 %, 09063 10 %
        # Clean outside or cooked, a shell is a shell (shares as in the test above and as_bought.csv).
        ("1 kg cleaned mussels", 0.30),
        ("1 kg mussels, scrubbed and debearded", 0.30),
        ("1 kg cooked mussels in the shell", 0.30),
        ("1 kg cooked prawns, shell on", 0.87),  # SR28 15270 refuse 13 %
        ("3 lb whole cooked crab", 0.24),
        ("1 kg crab claws", 0.45),
        ("1 kg cooked crab meat", 1.0),
        ("1 whole cleaned snapper (900 g)", 0.47),  # SR28 15274 refuse 53 %
        ("900 g snapper fillets", 1.0),
    ],
)
def test_what_the_line_says_of_its_state_decides_what_is_eaten(text: str, share: float) -> None:
    """Refuse comes off what is bought as it grew, and not off what the line says somebody has cleaned already."""
    line = weigh_line(read_line(text))
    written = next(amount for amount in line.line.amounts if grams_per(amount.unit))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(share * written.low * (grams_per(written.unit) or 0), rel=0.02)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        # 150 g of meat of a lobster of about 570 g (SR28 15147); a quarter of a large crab (common practice, no source)
        ("2 cooked lobsters (about 1 1/2 lb each)", 280, 450),
        ("1 cooked lobster (1 1/2 pounds)", 140, 225),
        ("2 cooked crabs (about 2 lb each)", 300, 600),
        ("2 roast chickens (about 3 lb each)", 1500, 2050),  # 32 % bone, SR28 05006 refuse
    ],
)
def test_cooked_animals_that_are_counted_have_their_shells_and_bones(text: str, low: float, high: float) -> None:
    """The weight of a whole cooked crab, lobster or bird is that of the animal, not of its meat."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert low <= line.grams.best <= high


def test_cups_and_pieces_are_edible_as_they_stand() -> None:
    """SR28 weighs its pieces without refuse, so none comes off a count."""
    assert best(line("avocado", (1, None)), "09038") == pytest.approx(150, rel=0.1)  # SR28: 136 g California
    assert best(line("chicken breast halves", (4, None)), "05062") > 4 * 118  # SR28 05314: half = 118 g


def test_a_word_that_flavours_a_made_food_takes_nothing_off_it():
    """Cheese with garlic has no skin of garlic to throw away; the garlic itself has."""
    assert weigh_line(read_line("150 g garlic and herb soft cheese")).grams.best == 150
    assert weigh_line(read_line("150 g garlic")).grams.best < 150
