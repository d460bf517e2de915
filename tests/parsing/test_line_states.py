"""What a line says beside its food: states, purpose, a further use, and the table of the words for them."""

import csv

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.parsing import LineState, Purpose, read_line
from labeler.parsing.ingredient.line_states import STATES_FILE

S, P = LineState, Purpose


def table():
    """The rows of the word list."""
    with STATES_FILE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def test_the_table_has_its_shape():
    """Known classes and values, no phrase twice in one class, every state and purpose but OTHER with words."""
    rows = table()
    assert {row["says"] for row in rows} == {"state", "not", "purpose", "extra", "divided"}
    for says in ("state", "purpose"):
        phrases = [phrase for row in rows if row["says"] == says for phrase in row["phrases"].split("|")]
        assert len(set(phrases)) == len(phrases) and all(phrase == phrase.strip().lower() for phrase in phrases)
    assert {row["value"] for row in rows if row["says"] == "state"} == {state.value for state in S}
    assert {row["value"] for row in rows if row["says"] == "purpose"} == {p.value for p in P} - {"other"}


@pytest.mark.parametrize(
    ("text", "states"),
    [
        ("1 (15-ounce) can black beans, rinsed and drained", {S.RINSED, S.DRAINED}),
        ("1 can corn, undrained", {S.WITH_LIQUID}),
        ("3 (6.5-oz) cans chopped clams, with their juice", {S.WITH_LIQUID}),
        ("250g dried chickpeas, soaked overnight", {S.SOAKED}),
        ("6 bacon slices, cooked and crumbled", {S.COOKED, S.CRUMBLED}),
        ("60 g butter, melted", {S.MELTED}),
        ("1 cup diced chicken (cooked or raw)", set()),
        ("400 g can chickpeas (240 g drained weight)", set()),
        ("2 cups flour", set()),
        ("1 kg potatoes, unpeeled", {S.UNPEELED}),
    ],
)
def test_states_of_a_line(text, states):
    """What was done to the food before it goes in; a choice and a weight are none."""
    assert read_line(text).states == states


@pytest.mark.parametrize(
    ("text", "purpose", "extra", "divided"),
    [
        ("150ml vegetable oil, for frying the onions", P.FRYING, None, False),
        ("2 tbsp salt, for the water", P.COOKING_WATER, None, False),
        ("oyster crackers for serving", P.SERVING, None, False),
        ("icing sugar, for dusting on top", P.DUSTING, None, False),
        ("butter for the tin", P.GREASING, None, False),
        ("500 g flour, plus extra for dusting", None, P.DUSTING, False),
        ("3 3/4 cups flour (plus more for rolling / dusting)", None, P.DUSTING, False),
        ("2 tbsp oil plus more", None, P.OTHER, False),
        ("1 tablespoon salt, divided", None, None, True),
        ("extra virgin olive oil", None, None, False),
        ("2 cups flour", None, None, False),
    ],
)
def test_purpose_further_use_and_division(text, purpose, extra, divided):
    """What the amount is for, what more is taken for, and whether it goes in at several places."""
    line = read_line(text)
    assert (line.purpose, line.extra, line.divided) == (purpose, extra, divided)


@settings(deadline=None, max_examples=100)
@given(st.sampled_from([row for row in table() if row["says"] == "state"]), st.data())
def test_a_state_behind_a_food_is_read_and_changes_neither_food_nor_amount(row, data):
    """Law: any phrase of the table behind "300 g spinach" gives its state and leaves food and amount."""
    phrase = data.draw(st.sampled_from(row["phrases"].split("|")))
    line = read_line(f"300 g spinach, {phrase}")
    assert LineState(row["value"]) in line.states
    assert line.amounts[0].low == 300


@pytest.mark.parametrize(
    ("text", "name", "low", "high", "unit"),
    [
        ("15-20 Kalamon/Kalamata olives", "Kalamon olives", 15, 20, None),
        ("2 bayleaves", "bayleaves", 2, 2, None),
        ("5/6 bayleaves", "bayleaves", 5, 6, None),
        ("3 / 4 lemons", "lemons", 3, 4, None),
        ("3/4 onion", "onion", 0.75, 0.75, None),
        ("3/4 cup milk", "milk", 0.75, 0.75, "cup"),
        ("1lt of cream", "cream", 1, 1, "liter"),
        ("3 msk sugar", "sugar", 3, 3, "metric_tablespoon"),
        ("2 EL honey", "honey", 2, 2, "metric_tablespoon"),
        ("1 tsk salt", "salt", 1, 1, "metric_teaspoon"),
        ("1 katori rice", "rice", 1, 1, "katori"),
        ("250ml of fresh, non-UHT milk", "fresh milk", 250, 250, "milliliter"),
        ("1 cup non-fat milk", "non-fat milk", 1, 1, "cup"),
        ("500g flour (Wholemeal Wheat Flour)", "Wholemeal Wheat Flour", 500, 500, "gram"),
        ("1 cup milk (or oat milk)", "milk", 1, 1, "cup"),
        ("1 chicken stock (added to 3/4 mug boiling water)", "chicken stock cube", 1, 1, "cube"),
        ("100 g fed [sourdough starter](/starter) (levain)", "fed sourdough starter", 100, 100, "gram"),
    ],
)
def test_amounts_and_names_of_other_kitchens(text, name, low, high, unit):
    """Units of Germany, India and the north; ranges of whole pieces; brackets that say the food more exactly."""
    line = read_line(text)
    assert (line.name, line.amounts[0].low, line.amounts[0].high, line.amounts[0].unit) == (name, low, high, unit)
    assert line.text == text


@pytest.mark.parametrize("text", ["50 g butter plus a knob for the pan", "30 g butter, plus a little for greasing"])
def test_a_little_more_for_something_is_an_extra(text):
    """The amount goes into the dish; only what is said beside it is for the tin."""
    line = read_line(text)
    assert (line.purpose, line.extra) == (None, Purpose.GREASING)
