"""What the cooks of eight kitchens call their foods is understood or asked about, and no name turns into nonsense."""

import csv
import re
from pathlib import Path

import pytest

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.match import match_food
from labeler.foods.resolve import SURE

NAMES = Path(__file__).parents[1] / "data" / "kitchen_names.csv"
TABLE = load_table()


def rows():
    """Kitchen, expression and name of every row."""
    with NAMES.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(line for line in stream if not line.startswith("#")):
            for name in row["names"].split("|"):
                yield row["kitchen"], row["must_say"], name


KITCHENS = sorted({kitchen for kitchen, _, _ in rows()})
PLANTS = {900, 1100, 1200, 1600, 2000}
ANIMALS = {500, 700, 1000, 1300, 1500, 1700}


def group(name):
    """SR28 group of the food that a name is surely taken for; None where it is asked about."""
    found = match_food(name)
    if found.food is None or found.confidence <= SURE or found.read_as:
        return None
    return int(TABLE.group_codes[TABLE.position[found.food]])


@pytest.mark.parametrize("kitchen", KITCHENS)
def test_names_of_a_kitchen_are_right_or_asked(kitchen):
    """At least 200 names a kitchen, 95 % right, none silently wrong."""
    count = right = 0
    wrong = []
    for other, must_say, name in rows():
        if other != kitchen:
            continue
        found = match_food(name)
        count += 1
        if found.food is not None and re.search(must_say, found.description, re.IGNORECASE):
            right += 1
        elif found.food is not None and found.confidence > SURE and not found.read_as:
            wrong.append((name, found.description))
    assert count >= 200 and wrong == []
    assert right >= 0.95 * count


@pytest.mark.parametrize(
    "name",
    ["cassava leaves", "drumstick leaves", "sweet potato leaves", "kohlrabi leaves", "pumpkin leaves", "chilli leaves",
     "fenugreek leaves", "curry leaves", "moringa leaves", "tomato leaves"],
)  # fmt: skip
def test_a_leaf_is_not_the_root_or_fruit_of_its_plant(name):
    """Told as a leaf or a green, or asked about."""
    found = match_food(name)
    leaf = re.search(r"lea(?:f|ves)|green|herb", found.description, re.IGNORECASE)
    assert leaf or found.food is None or found.confidence <= SURE


@pytest.mark.parametrize(
    ("name", "never"),
    [
        ("ground nuts", {1200}), ("soy nuts", {1200}), ("tiger nuts", ANIMALS), ("drumstick vegetable", ANIMALS),
        ("black pudding", {1900}), ("ground nuts paste", {1900}), ("banana blossom", {900}), ("mock duck", {500}),
        ("bombay duck", {500}), ("jackfruit", {1500}), ("lady's finger", {1800}), ("butter beans", {100}),
        ("coconut cream", {100}), ("peanut milk", {100}), ("oyster mushrooms", {1500}), ("chicken of the woods", {500}),
        ("elephant foot yam", ANIMALS), ("goat cheese", {1700}), ("orange squash", {1100}), ("lemon curd", {100}),
        ("buffalo mozzarella", {1700}), ("crab apples", {1500}), ("horse gram", ANIMALS), ("duck sauce", {500}),
        ("fish mint", {1500}), ("pork floss", PLANTS), ("kidney beans", ANIMALS), ("toad in the hole", {1500}),
    ],
)  # fmt: skip
def test_no_name_turns_into_another_kingdom(name, never):
    """Nut for legume, animal for plant, sweet for savoury: never in silence."""
    assert group(name) not in never
