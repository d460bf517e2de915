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


MORE = NAMES.with_name("kitchen_names_more.csv")


def rows(path=NAMES):
    """Kitchen, expression and name of every row."""
    with path.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(line for line in stream if not line.startswith("#")):
            for name in row["names"].split("|"):
                yield row["kitchen"], row["must_say"], name


KITCHENS = sorted({kitchen for kitchen, _, _ in rows()})
KITCHENS_MORE = sorted({kitchen for kitchen, _, _ in rows(MORE)})
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


@pytest.mark.parametrize("kitchen", KITCHENS_MORE)
def test_names_of_eight_more_kitchens_are_right_or_asked(kitchen):
    """At least 200 names a kitchen, 99 % right or asked about."""
    names = [(must_say, name) for other, must_say, name in rows(MORE) if other == kitchen]
    wrong = [name for must_say, name in names if not right_or_asked(must_say, name)]
    assert len(names) >= 200 and len(wrong) <= 0.01 * len(names), wrong


def right_or_asked(must_say, name):
    """Whether a name is taken for what the expression says, or not surely for anything."""
    found = match_food(name)
    sure = found.food is not None and found.confidence > SURE and not found.read_as
    return not sure or bool(re.search(must_say, found.description, re.IGNORECASE))


# In which SR28 groups a thing of a kind may stand; what is not here may stand in any.
GROUPS_OF = {
    "meat": {*ANIMALS, 600, 3500}, "fish": {1500, 600, 200, 3500}, "egg": {100}, "dairy": {100, 1400, 1900, 3500},
    "legume": {1600, 1100, 1200, 1900, 600, 2000, 400}, "nut": {1200}, "seed": {1200, 200, 1600, 2000},
    "fungus": {1100}, "mushroom": {1100}, "seaweed": {1100}, "grain": {2000, 800, 1100}, "rice": {2000},
    "bread": {1800, 2000, 1600, 2500},
    "fruit": {900, 1100, 1200, 400, 200, 600, 1900, 3500, 100}, "sweet": {1900, 900, 1800, 200, 100, 1200},
    "veg": {1100, 2000, 1600, 900, 1200, 200}, "leaf": {1100, 200, 900, 2000},
    "spice": {200, 1100, 1800, 1400, 600, 900, 1900},
    "fat": {400, 100, 1000, 2500}, "salt": {200}, "root": {1100, 200}, "flower": {1100, 200},
}  # fmt: skip


# Plain English for another food than the kitchen's: spare ribs, lima beans.
ENGLISH_FIRST = {"ribs", "limas"}


def kinds():
    """Kind and name of every row of the eight more kitchens."""
    with MORE.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(line for line in stream if not line.startswith("#")):
            for name in row["names"].split("|"):
                yield row["kind"], name


def test_no_name_of_them_is_of_another_kingdom():
    """No meat for a plant, no sweet for a savoury: the group is one of the kind, or the name is asked about."""
    other = [
        (kind, name, match_food(name).description)
        for kind, name in kinds()
        if kind in GROUPS_OF
        and group(name) is not None
        and group(name) not in GROUPS_OF[kind]
        and name not in ENGLISH_FIRST
    ]
    assert other == []


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
