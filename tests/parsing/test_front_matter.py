"""What the head of a recipe may say: known keys however they are written, markets that there are, typos reported."""

import re
from pathlib import Path

import pytest

import labeler
from labeler.parsing import read_recipe
from labeler.parsing.front_matter import MARKETS, head_keys
from labeler.rules.market import market_ids
from labeler.rules.obligations import questions
from labeler.types import LabelerError

ROOM = Path(labeler.__file__).parent


def head_of(text):
    """A recipe with such a head."""
    return read_recipe(f"---\n{text}\n---\n- 1 egg\n", source="stall.md")


@pytest.mark.parametrize(
    ("written", "key", "near"),
    [
        ("makse: 4 boxes", "makse", "makes"),
        ("Best befor: 2026-05-01", "Best befor", "best before"),
        ("sevres: 4", "sevres", "serves"),
        ("employes: 2", "employes", "employees"),
    ],
)
def test_a_key_that_nothing_reads_is_reported_with_the_nearest(written, key, near):
    """A typo of the fingers in the head is no silence."""
    (problem,) = head_of(written).problems
    assert problem.code == "unknown-key" and problem.line == 2 and f"“{key}”" in problem.message
    assert ("Write “" in problem.message) == bool(near) and near in problem.message


def test_keys_of_a_page_are_kept_and_not_complained_of():
    """Whatever a page has in its head stays, lists and nested values too."""
    recipe = head_of("date: 2021-03-25\ntags: [a, b]\nauthor: x\nslug: pie\ndraft: false\nmacros: {kcal: 200}\nimage:")
    assert recipe.problems == () and recipe.head["tags"] == ["a", "b"] and "200" in recipe.head["macros"]


@pytest.mark.parametrize(
    ("written", "key", "value"),
    [
        ("Portions: 4", "serves", 4),
        ("Portionen: 4", "serves", 4),
        ("name: Pie", "title", "Pie"),
        ("Recipe_Yield: 2 loaves", "makes", "2 loaves"),
        ("Serving size: 30 g", "serving", "30 g"),
    ],
)
def test_another_name_of_a_key_counts_as_that_key(written, key, value):
    """Pages call servings and titles by many names."""
    recipe = head_of(written)
    assert recipe.head == {key: value} and recipe.problems == ()


@pytest.mark.parametrize(
    ("written", "key"),
    [("Makes: 4 boxes", "makes"), ("best_before: soon", "best before"), ("Made on site: yes", "made_on_site")],
)
def test_a_known_key_counts_however_it_is_written(written, key):
    """Capital letters, spaces and low lines are no difference."""
    recipe = head_of(written)
    assert set(recipe.head) == {key} and recipe.problems == ()
    (problem,) = head_of(f"{written}\n{key}: 5").problems
    assert problem.code == "head-twice"


@pytest.mark.parametrize(("said", "market"), [("uk", "uk"), ("US", "us"), (" Codex ", "codex")])
def test_a_market_is_one_of_those_that_there_are(said, market):
    """Case does not matter."""
    assert head_of(f"market: {said}").head["market"] == market


@pytest.mark.parametrize(
    ("said", "hint"), [("mars", "write one of us, eu"), ("codx", "codex"), ("no", "us"), ("[us, eu]", "write one of")]
)
def test_a_market_that_there_is_not_is_refused_with_file_and_line(said, hint):
    """The message names the file, the line, and what to write."""
    with pytest.raises(LabelerError, match=r"^stall\.md:3: there is no market ") as caught:
        head_of(f"title: One\nmarket: {said}")
    assert hint in str(caught.value)


def test_the_list_has_every_key_that_the_program_reads():
    """What a room asks the head for, and every fact that a market asks about, is known."""
    asked = {fact for market in market_ids() for fact in questions(market)}
    for file in ROOM.rglob("*.py"):
        if file.parent.name != "rules":
            asked |= set(re.findall(r"""\bhead\.get\("([^"]+)\"""", file.read_text(encoding="utf-8")))
    assert len(asked) > 30
    # As an older hand writes it: the reader brings it to the known one.
    assert asked - {"best_before"} <= set(head_keys())
    assert set(MARKETS) == set(market_ids())


def test_what_a_head_says_of_the_recipe_one_level_deeper_counts():
    """ "recipe:" with "servings: 4" below it tells of the dish; keys without their accents are the same keys."""
    recipe = read_recipe("---\nrecipe:\n  titulo: Chowder\n  raciones: 4\n---\n- 450 g potatoes\n")
    assert (recipe.title, recipe.head["serves"]) == ("Chowder", 4)


@pytest.mark.parametrize("value", ["&a [*a, *a]", "&a {b: *a}"])
def test_a_head_that_refers_to_itself_is_refused(value):
    """Values that hold themselves have no end, and are refused with the line of the head."""
    with pytest.raises(LabelerError, match="refers to itself"):
        read_recipe(f"---\ntitle: {value}\n---\n- 1 cup milk\n")
