"""The table of actions: its shape, and that it is the only place where actions are listed or told apart."""

from __future__ import annotations

import ast
import csv
from collections.abc import Iterator
from pathlib import Path

import pytest

from labeler.flow.unlisted_amounts import unlisted_amounts
from labeler.parsing.instructions import actions as actions_module
from labeler.parsing.instructions.actions import FILE, Handler, Heat, Trait, action, actions, has, heat_of

LABELER = Path(actions_module.__file__).parents[2]
IDS = frozenset(actions())
COLUMNS = (
    *("id", "heat", "gathers", "takes", "handler", "minutes", "celsius", "as", "amount", "boils off", "drips"),
    *("entries", "traits", "done", "verbs"),
)
PAIRS = LABELER / "cooking" / "data" / "cooked_entries_sr28.csv"
# Words that are written like an action and are something else, where they stand in a list or a comparison.
OTHER_WORDS = {
    "__init__.py": {"cook", "weigh"},  # functions of the package
    "allergens/phrase_verdicts.py": {"mix"},  # a food
    "flow/lifting.py": {"skin"},  # a part of a bird
    "foods/food_class.py": {"skin"},
    "foods/weights/amount_weight.py": {"ladle", "squeeze"},  # units
    "parsing/ingredient/facts.py": {"skin"},
    "parsing/ingredient/name.py": {"cut"},  # words of a line
    "parsing/instructions/fragments.py": {"weigh"},  # a word of a sentence without a verb
    "parsing/instructions/silent_verbs.py": {"heat", "top"},  # "off the heat", "on top"
}


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(line for line in stream if not line.startswith("#")))


def test_every_row_has_every_column_and_stands_once():
    """No row is short or long, no id, trait or verb of a row stands twice, and every column is explained above."""
    rows = _rows(FILE)
    head = " ".join(line for line in FILE.read_text(encoding="utf-8").splitlines() if line.startswith("#"))
    assert len({row["id"] for row in rows}) == len(rows)
    for row in rows:
        assert tuple(row) == COLUMNS and None not in row.values(), row["id"]
        for column in ("traits", "verbs", "entries"):
            words = row[column].split("|")
            assert len(words) == len(set(words)), (row["id"], column)
    assert all(f"{column}:" in head for column in COLUMNS if column not in ("id", "celsius", "verbs"))


def test_figures_are_ordered_and_possible():
    """Low, usual and high stand in order; shares lie between 0 and 1; what brings heat has a time."""
    for row in actions().values():
        for figure in (row.minutes, row.boils_off, row.drips):
            assert figure is None or 0.0 <= figure.low <= figure.best <= figure.high, row.id
        assert row.drips is None or row.drips.high <= 1.0
        assert row.minutes is not None or row.handler is not Handler.HEAT, row.id


def test_an_action_that_cooks_as_another_has_its_handler_and_no_figures_of_its_own():
    """Confit is reckoned as braising: one step, and nothing that would not be asked for."""
    for row in actions().values():
        if row.cooked_as != row.id:
            other = action(row.cooked_as)
            assert (other.cooked_as, other.handler) == (other.id, row.handler), row.id
            assert row.boils_off is None and row.drips is None and not row.entries, row.id


def test_what_stands_for_an_action_is_a_method_of_the_cooked_entries():
    """Methods are those of the file of cooked entries; an action stands for itself first where the file has it."""
    methods = {row["method"] for row in _rows(PAIRS)}
    for row in actions().values():
        assert set(row.entries) <= methods, row.id
        assert not row.entries or row.id not in methods or row.entries[0] == row.id, row.id


def test_usual_amounts_are_those_of_their_file():
    """Every kind of amount that an action takes is one of unlisted_amounts.csv."""
    assert {row.amount for row in actions().values()} <= {use for use, *_ in unlisted_amounts()}


@pytest.mark.parametrize(
    ("narrow", "wide"),
    [
        (Trait.IN_PLENTY, Trait.IN_LIQUID),
        (Trait.GIVES_BROTH, Trait.IN_LIQUID),
        (Trait.ROLLING, Trait.IN_PLENTY),
        (Trait.BELOW_BOIL, Trait.IN_LIQUID),
        (Trait.CLOSED_POT, Trait.IN_LIQUID),
        (Trait.WITH_LIQUID, Trait.IN_TIN),
        (Trait.IN_PAN, Trait.OUT_OF_FAT),
        (Trait.IN_BRINE, Trait.IN_BATH),
        (Trait.IN_WATER, Trait.IN_BATH),
        (Trait.CLOSED_JAR, Trait.IN_BATH),
    ],
)
def test_a_trait_that_is_a_case_of_another_comes_with_it(narrow, wide):
    """What boils in plenty of water lies in liquid, what is brined lies in a bath, and so on."""
    assert all(wide in row.traits for row in actions().values() if narrow in row.traits)


@pytest.mark.parametrize(
    ("trait", "heats"),
    [
        (Trait.IN_LIQUID, {Heat.WET}),
        (Trait.IN_TIN, {Heat.DRY}),
        (Trait.IN_SMOKE, {Heat.DRY}),
        (Trait.IN_PAN, {Heat.FAT}),
        (Trait.IN_FAT, {Heat.FAT, Heat.WET}),
        (Trait.RENDERS, {Heat.DRY, Heat.FAT}),
        (Trait.OUT_OF_FAT, {Heat.DRY, Heat.FAT}),
        (Trait.WARMS, {Heat.WARM}),
        (Trait.FLAMES, {Heat.WARM}),
        (Trait.IN_BATH, {Heat.NONE}),
        (Trait.STANDS, {Heat.NONE}),
        (Trait.DRY_SALTS, {Heat.NONE}),
    ],
)
def test_traits_of_heat_belong_to_their_heat(trait, heats):
    """No action has a trait that its heat contradicts."""
    assert {row.heat for row in actions().values() if trait in row.traits} <= heats


def test_traits_of_lying_belong_to_what_lies():
    """Baths, jars and dry salt are properties of what the handler of lying does."""
    lying = {Trait.IN_BATH, Trait.IN_BRINE, Trait.IN_WATER, Trait.CLOSED_JAR, Trait.DRY_SALTS, Trait.STANDS}
    assert all(row.handler is Handler.LIE for row in actions().values() if row.traits & lying)


def test_what_boils_off_is_said_of_liquid_that_stays_on_the_fire():
    """Water boils away of what cooks in liquid, unless that is brief."""
    for row in actions().values():
        assert (row.boils_off is not None) == (Trait.IN_LIQUID in row.traits and Trait.BRIEF not in row.traits), row.id


def test_raw_food_has_no_trait_and_no_heat():
    """No action is asked of what nothing has been done to."""
    assert not has("", *Trait) and heat_of("") is Heat.NONE


def _ids(node: ast.AST | None) -> set[str]:
    """The ids among the literals of an expression, its tuples, sets, lists and calls like `frozenset(...)`."""
    if isinstance(node, ast.Constant):
        return {node.value} & IDS if isinstance(node.value, str) else set()
    if isinstance(node, ast.Tuple | ast.Set | ast.List):
        return {word for one in node.elts for word in _ids(one)}
    if isinstance(node, ast.Dict):
        return {word for one in node.keys for word in _ids(one)}
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return {word for one in node.args for word in _ids(one)} if node.func.id in ("frozenset", "set") else set()
    if isinstance(node, ast.Starred):
        return _ids(node.value)
    return set()


def lists_of_actions(source: str) -> Iterator[tuple[int, list[str]]]:
    """Line and ids of every place of a module that compares with an id, matches one, or lists two or more."""
    whole = ast.parse(source)
    whole.body = [one for one in whole.body if not (isinstance(one, ast.Assign) and "__all__" in ast.unparse(one))]
    for node in ast.walk(whole):
        found: set[str] = set()
        if isinstance(node, ast.Compare):
            found = {word for one in (node.left, *node.comparators) for word in _ids(one)}
        elif isinstance(node, ast.MatchValue):
            found = _ids(node.value)
        elif isinstance(node, ast.Tuple | ast.Set | ast.List | ast.Dict) and len(_ids(node)) > 1:
            found = _ids(node)
        elif isinstance(node, ast.Subscript):
            column = isinstance(node.value, ast.Name) and node.value.id in ("row", "Literal")
            found = set() if column else _ids(node.slice)
        if found:
            yield node.lineno, sorted(found)


MODULES = sorted(set(LABELER.rglob("*.py")) - {Path(actions_module.__file__)})


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(LABELER).as_posix())
def test_no_other_module_lists_actions_or_tells_them_apart(path):
    """What is asked of an action is a property that its row states, and no id in code."""
    found = list(lists_of_actions(path.read_text(encoding="utf-8")))
    other = OTHER_WORDS.get(path.relative_to(LABELER).as_posix(), set())
    assert {word for _, words in found for word in words} == other, found


@pytest.mark.parametrize(
    "source",
    [
        'x = node.action == "drain"',
        'x = heap.cooked in ("boil", "simmer")',
        'x = item.cooked not in frozenset({"boil"})',
        'x = name != "cook"',
        'WET = frozenset({"boil", "simmer"})',
        'HEATS = [*("roast", "bake"), "steam"]',
        'RATES = {"boil": 0.7, "simmer": 0.25}',
        'x = rates["boil"]',
        'match name:\n    case "boil":\n        pass',
    ],
)
def test_a_list_of_actions_is_found(source):
    """The search itself finds every way in which actions were told apart before."""
    assert list(lists_of_actions(source))


@pytest.mark.parametrize(
    "source",
    ['node = replace(node, action="boil")', 'walk.table.node(heap, "drain")', 'name = "boil"', 'x = action("cure")'],
)
def test_an_action_may_be_named(source):
    """A step may be made of an action, and one action asked of the table."""
    assert not list(lists_of_actions(source))
