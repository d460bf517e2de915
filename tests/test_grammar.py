"""The small words of the method's English, and the sets of kinds of the flow: data files and their shape."""

from __future__ import annotations

import ast
import csv
from pathlib import Path

import pytest

from labeler.flow import kind_sets
from labeler.foods.food_class import RULES_FILE
from labeler.parsing.instructions import grammar as grammar_module
from labeler.parsing.instructions.actions import Trait, actions
from labeler.parsing.instructions.grammar import grammar_sets
from labeler.parsing.instructions.manner import Manner

CODE = Path(grammar_module.__file__).parent
FLOW = Path(kind_sets.__file__).parent
SAFETY = FLOW.parent / "food_safety"
FOODS = FLOW.parent / "foods"
HELD = [*CODE.glob("*.py"), FLOW / "walk.py", FLOW / "gathering.py", FLOW / "new_water.py"]
KINDS_OF_UNIT = frozenset({"mass", "volume"})


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(line for line in stream if not line.startswith("#")))


@pytest.mark.parametrize(
    "path",
    [
        *(grammar_module.DATA / name for name in ("method_grammar.csv", "spoken_times.csv", "fraction_words.csv")),
        *(kind_sets.DATA / name for name in ("kind_sets.csv", "kind_densities.csv")),
    ],
)
def test_each_row_is_whole_and_stands_once(path):
    """Every column of every row is filled, none has more, and no name stands twice."""
    rows = _rows(path)
    names = [next(iter(row.values())) for row in rows]
    assert rows and len(set(names)) == len(names)
    assert all(None not in row and all(value and value == value.strip() for value in row.values()) for row in rows)


def test_the_words_of_a_set_stand_once():
    """No word stands twice in its set."""
    for row in _rows(grammar_module.FILE):
        words = row["words"].split()
        assert len(words) == len(set(words)), row["set"]


def test_every_set_is_used_and_every_set_that_is_used_is_there():
    """The names of sets in code are those of the file."""
    named = {
        node.args[0].value
        for path in (*CODE.glob("*.py"), *FLOW.glob("*.py"), *SAFETY.glob("*.py"), *FOODS.rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and getattr(node.func, "id", "") == "grammar"
        and isinstance(node.args[0], ast.Constant)
    }
    listed = {
        element.elts[0].value
        for path in CODE.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.comprehension) and isinstance(node.iter, ast.Tuple)
        for element in node.iter.elts
        if isinstance(element, ast.Tuple) and isinstance(element.elts[0], ast.Constant)
    }
    assert named | listed | {one.value for one in Manner} == set(grammar_sets())


def test_spoken_times_and_units_have_ordered_bounds():
    """Low, usual and high stand in order, and longer units are longer."""
    for row in _rows(grammar_module.DATA / "spoken_times.csv"):
        low, usual, high = (float(value) for value in row["minutes"].split("|"))
        assert 0.0 < low <= usual <= high, row["words"]
    sizes = [float(row["minutes"]) for row in _rows(grammar_module.DATA / "time_units.csv") if row["unit"] != "night"]
    assert sizes == sorted(sizes)


def test_the_kinds_of_the_sets_are_kinds_of_food():
    """What the flow calls a kind is one of the kinds that table foods have."""
    kinds = {row["kind"] for row in _rows(RULES_FILE)}
    named = {kind for row in _rows(kind_sets.DATA / "kind_sets.csv") for kind in row["kinds"].split("|")}
    assert named | {row["kind"] for row in _rows(kind_sets.DATA / "kind_densities.csv")} <= kinds


def test_every_trait_is_that_of_an_action():
    """No trait is left that no action has."""
    assert {trait for one in actions().values() for trait in one.traits} == set(Trait)


@pytest.mark.parametrize("path", HELD, ids=lambda path: path.name)
def test_no_list_of_words_stands_in_code(path):
    """Three words in a row or more, or a text that is split into words, are data and no code."""
    found = []
    whole = ast.parse(path.read_text(encoding="utf-8"))
    whole.body = [one for one in whole.body if not (isinstance(one, ast.Assign) and "__all__" in ast.unparse(one))]
    for node in ast.walk(whole):
        if isinstance(node, (ast.Tuple, ast.Set, ast.List)) and not isinstance(getattr(node, "ctx", None), ast.Store):
            words = [one.value for one in node.elts if isinstance(one, ast.Constant) and isinstance(one.value, str)]
            kept = [word for word in words if word[:1].islower() and word.isalpha() and word not in KINDS_OF_UNIT]
            if len(kept) > 2 and len(kept) == len(node.elts):
                found.append(node.lineno)
        split = isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "split"
        if split and isinstance(node.func.value, ast.Constant):
            found.append(node.lineno)
    assert found == []
