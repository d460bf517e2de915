"""Cooking and nutrition read no English: what they ask of a food or a step is typed, and words are for showing."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from kitchen_help import Put, weighed

from labeler.cooking.models.conditions import Conditions
from labeler.cooking.models.dry_salting import cure
from labeler.cooking.models.evaporation import reduce_to
from labeler.cooking.models.heating import heat
from labeler.cooking.models.immersion import soak
from labeler.cooking.models.oil_uptake import take_up_oil
from labeler.cooking.models.poultry_skin import take_skin
from labeler.cooking.models.separation import discard_items, drain, pat, pour_fat, rinse, squeeze, strain
from labeler.cooking.models.stock_extraction import stock_extract
from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import Mixture, join
from labeler.cooking.state.phases import Outcome
from labeler.cooking.state.sampling import Sampler
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe
from labeler.parsing.ingredient.facts import facts_of
from labeler.parsing.instructions.actions import Handler, actions
from labeler.types import Interval

ROOT = Path(__file__).parents[1]
LABELER = ROOT / "labeler"
# Rooms whose trade is text; every other module of the package is searched.
TEXT_ROOMS = {
    "parsing": "reads English, once, into types",
    "text": "plurals, stems and tokens",
    "importers": "read foreign forms of a recipe",
    "foods": "match names with the food table, and read what a line measures",
    "allergens": "match names and sentences with the vocabulary of allergens",
    "rules": "match names and quote law",
    "larder": "reads packages and matches names",
    "open_data": "reads answers of services",
    "label": "sets and measures printed text",
    "post": "writes and escapes text",
    "page": "answers with text",
    "cli": "reads and prints text",
}
_CLASS = "asks the lexicon for the class of a noun, a vessel or the name of a heap"
_NAMES = "matches words of a phrase with names of foods, lists or parts"
# Modules that read a text all the same, each with the reason; one that no longer does must leave the list.
READS = {
    "__init__.py": "names what the package offers",
    "types.py": "puts numbers of its own messages into words",
    "flow_diagram/builder.py": "takes a joining word off the words that a box shows",
    "cooking/losses.py": "names are keys",
    "cooking/streams.py": "finds by its words what another part keeps",
    **dict.fromkeys(
        [f"flow/{name}.py" for name in (
            "bring_together", "build", "coating", "draining", "gathering", "greasing", "heap_meant",
            "heat",
            "lifting", "looking_ahead", "parting", "removals",
            "portions", "reserving", "shaping", "shares", "sides", "straining", "target", "targets",
        )],
        _CLASS,
    ),
    **dict.fromkeys(
        [f"flow/{name}.py" for name in (
            "bind", "by_products", "closing", "curd", "ingredients", "made_things", "named_food",
            "named_parts", "naming", "needs", "new_water", "phrase", "to_taste",
            "walk",
        )],
        f"{_CLASS}; {_NAMES}",
    ),
    "food_safety/food_kinds.py": "tells kinds by the words of a line and of the table",
    "food_safety/from_flow.py": "matches a mended name, and asks whether a step was written",
    "flow/meant.py": _CLASS,
    "flow/readings.py": "asks parsing/ for the method",
    "flow_diagram/as_json.py": "leaves out a name that is empty",
    "flow_diagram/draw.py": "leaves out a name that is empty",
    "flow_diagram/layout.py": "leaves out a reason that is empty",
    "nutrition/ingredient_weights.py": "names are keys",
    "uncertainty/composition_error.py": "tells by its description whether an entry of the table is made to a recipe",
    "uncertainty/food_identity.py": "compares descriptions of the table to tell which foods a name may mean",
    "uncertainty/measurement_options.py": "puts the line to type into words",
    "uncertainty/monte_carlo.py": "names are keys",
    "uncertainty/next_measurement.py": "puts the line to type into words, and compares descriptions of the table",
    "worksheet/cells.py": "escapes text for cells",
    "worksheet/grid.py": "finds columns by the name of their field",
    "worksheet/sheets.py": "finds columns by the name of their field",
    "worksheet/xlsx.py": "escapes text for cells",
}  # fmt: skip
WORDS = frozenset(
    (
        "text", "name", "note", "preparation", "description", "descriptions", "message", "method", "basis", "why",
        "verb", "particle",
    )
)  # fmt: skip
ASKS = frozenset(
    (
        "startswith", "endswith", "find", "index", "count", "partition", "rpartition", "split", "rsplit", "lower",
        "casefold", "replace", "removeprefix", "removesuffix", "strip", "isdigit", "isalpha",
    )
)  # fmt: skip
READERS = (
    "re",
    "labeler.foods.matching.name_words",
    "labeler.foods.matching.match",
    "labeler.parsing.instructions.parser",
    "labeler.parsing.instructions.lexicon",
    "labeler.parsing.instructions.grammar",
    "labeler.text.tokens",
)
CHECKED = sorted(path for path in LABELER.rglob("*.py") if path.relative_to(LABELER).parts[0] not in TEXT_ROOMS)


def is_words(node: ast.AST) -> bool:
    """Whether an expression is a text of a recipe, a table or a message: `item.name`, `table.describe(food)`."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        return node.func.attr == "describe" or is_words(node.func.value)
    if isinstance(node, ast.Subscript):
        return is_words(node.value)
    return isinstance(node, ast.Attribute) and node.attr in WORDS


def is_member(node: ast.AST) -> bool:
    """Whether an expression is a member of an enum, by its spelling: `Basis.WRITTEN`."""
    return isinstance(node, ast.Attribute) and node.attr.isupper()


def readings(source: str) -> Iterator[tuple[int, str]]:
    """Line and reason of every place of a module where a text decides something."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, one.name) for one in node.names if one.name in READERS)
        elif isinstance(node, ast.ImportFrom) and node.module in READERS:
            yield node.lineno, f"imports {node.module}"
        elif isinstance(node, ast.Compare):
            sides = (node.left, *node.comparators)
            if any(map(is_words, sides)) and not any(map(is_member, sides)):
                yield node.lineno, "compares a text"
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            if node.func.attr in ASKS and is_words(node.func.value):
                yield node.lineno, f"asks a text by {node.func.attr}"
        elif isinstance(node, ast.If | ast.IfExp | ast.While) and is_words(node.test):
            yield node.lineno, "decides by a text"


@pytest.mark.parametrize("path", CHECKED, ids=lambda path: str(path.relative_to(LABELER)))
def test_what_decides_reads_no_text(path: Path) -> None:
    """No module compares, searches or takes apart a text, nor imports what reads one, but those with a reason."""
    found = list(readings(path.read_text(encoding="utf-8")))
    if path.relative_to(LABELER).as_posix() in READS:
        assert found, "it reads no text any more: take it off the list"
    else:
        assert found == []


def test_the_exceptions_are_there() -> None:
    """Every room and module that may read text is one of the package."""
    assert all((LABELER / room).is_dir() for room in TEXT_ROOMS)
    assert all((LABELER / name).is_file() for name in READS)


@pytest.mark.parametrize(
    "source",
    [
        "import re",
        "from labeler.foods.matching.name_words import read_name",
        'x = item.name == "water in the pot"',
        'x = "cook" in step.text.lower()',
        'x = "drained" not in item.note',
        'x = item.preparation.startswith("sliced")',
        'x = "yolk" in load_table().describe(food)',
        "x = GUESSED not in stage.method",
        "x = 1 if line.note else 2",
        'x = mention.text.split(" ", 1)[0] == "your"',
        'x = mention.name.rsplit(" ", 1)[-1] == "water"',
        'x = problem.message[:4] == "salt"',
        'x = one.particle != "over"',
        "x = one.verb in VERBS",
        "from labeler.parsing.instructions.grammar import grammar",
        "from labeler.parsing.instructions.lexicon import is_class",
    ],
)
def test_a_text_that_is_read_is_found(source: str) -> None:
    """The search itself finds every way in which texts were read before."""
    assert list(readings(source))


def test_a_text_that_is_shown_is_allowed() -> None:
    """A text may stand in a message and go on as it is."""
    assert list(readings('told = f"{item.name}: {basis}"\nadded = Item(part, line, item.name)')) == []
    assert list(readings("x = one.basis is Basis.WRITTEN")) == []


DEMOS = sorted((ROOT / "demo").glob("*.md"))


@cache
def demo(path: Path) -> tuple[WeighedRecipe, Dish]:
    recipe = weigh(read_recipe(path.read_text(encoding="utf-8")))
    return recipe, cook(recipe)


def reworded(mix: Mixture) -> Mixture:
    """The same food, called otherwise; what had one name has one name again."""
    called = {key: f"zorch {at}" for at, key in enumerate({(item.part, item.name) for item in mix.items})}
    return mix.renamed([replace(item, name=called[item.part, item.name], part="elsewhere") for item in mix.items])


USUAL = Interval(30.0, 20.0, 45.0)
HEATS = {row.id for row in actions().values() if row.handler is Handler.HEAT and row.cooked_as == row.id}
ACTS: dict[str, Callable[[Mixture, Sampler], Outcome | None]] = {
    **{
        action: lambda mix, draws, action=action: heat(mix, Conditions(action, minutes=USUAL, from_fat=True), draws)  # type: ignore[misc]
        for action in sorted(HEATS)
    },
    "soak": lambda mix, draws: soak(mix, minutes=USUAL, celsius=5.0, draws=draws),
    "cure": lambda mix, draws: cure(mix, minutes=USUAL, celsius=5.0, draws=draws),
    "drain": lambda mix, draws: drain(mix, draws=draws),
    "pat": lambda mix, draws: pat(mix, draws=draws),
    "rinse": lambda mix, draws: rinse(mix, minutes=None, draws=draws),
    "squeeze": lambda mix, draws: squeeze(mix, draws=draws),
    "strain": lambda mix, draws: strain(mix, draws=draws),
    "skim": lambda mix, draws: pour_fat(mix, draws=draws),
    "discard": lambda mix, _: discard_items(mix, [0]),
    "skin": lambda mix, draws: take_skin(mix, (), draws=draws),
    "fry": lambda mix, draws: take_up_oil(mix, way="deep-fry", draws=draws, left=None, part="", line=1),
    "reduce": lambda mix, draws: reduce_to(mix, draws=draws, share=Interval(0.5, 0.4, 0.6))[0],
}


def figures(outcome: Outcome | None) -> list[object]:
    """Everything of an outcome that is counted, without a word of it."""
    if outcome is None:
        return []
    mixes = [outcome.kept, *(one.mix for one in outcome.off), *(entry.mix for entry in outcome.streams)]
    return [
        [one.parted for one in outcome.off],
        [entry.stream for entry in outcome.streams],
        [problem.code for problem in outcome.problems],
        *(np.concatenate([mix.total.ravel(), mix.mass.ravel()]).tolist() for mix in mixes),
    ]


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_rewording_the_food_leaves_every_model_as_it_is(path: Path) -> None:
    """What is put into each part of the demos comes out of every model alike, whatever the food is called."""
    _, dish = demo(path)
    for ledger in dish.ledgers:
        pot = join([entry.mix for entry in ledger.added])
        for act, does in ACTS.items():
            as_written = figures(does(pot, Sampler(0)))
            assert figures(does(reworded(pot), Sampler(0))) == as_written, (ledger.part, act)


def test_rewording_bones_leaves_the_stock_as_it_is() -> None:
    """What bones give follows from what their line said once, and not from what they are called."""
    pot = cook(weighed({"Stock": [Put("fish bones", None, 500.0), Put("water", "14411", 1000.0), "simmer 1 hour"]})).mix
    thrown = pot.select([at for at, item in enumerate(pot.items) if item.facts.bones])
    first = stock_extract(pot, thrown, simmered=True, part="", draws=Sampler(0))
    other = stock_extract(reworded(pot), reworded(thrown), simmered=True, part="", draws=Sampler(0))
    assert first is not None and other is not None
    assert first.mix.total.tolist() == other.mix.total.tolist() and other.mix.items[0].food == "06174"


def reworded_lines(recipe: WeighedRecipe) -> WeighedRecipe:
    """A weighed recipe with every text of its lines replaced; what was read in them stays."""

    def other(one: WeighedLine) -> WeighedLine:
        line = replace(one.line, text="x", name="zorch", preparation="y", note="z")
        return replace(one, line=line, facts=one.facts or facts_of(one.line), also=tuple(map(other, one.also)))

    parts = tuple(replace(part, lines=tuple(map(other, part.lines))) for part in recipe.parts)
    return replace(recipe, parts=parts)


@pytest.mark.parametrize(
    "rows",
    [
        [Put("cucumbers, sliced 3 mm", "11205", 600.0), Put("salt", "02047", 20.0), "leave 2 hours, drain and squeeze"],
        [Put("potatoes, cut into 2 cm cubes", "11352", 800.0), "boil 20 minutes, drain"],
        [Put("canned beans, drained and rinsed", "16050", 400.0), Put("oil", "04053", 30.0), "simmer 10 minutes"],
        [Put("beef patties", "23572", 500.0), "grill 8 minutes"],
        [Put("chicken breast, breaded", "05062", 500.0), Put("oil", "04053", 900.0), "deep-fry 8 minutes"],
        [Put("chicken bones", None, 900.0), Put("water", "14411", 2000.0), "simmer 3 hours, strain"],
    ],
    ids=lambda rows: rows[0].words,
)
def test_rewording_the_lines_leaves_the_dish_as_it_is(rows: list[Put | str]) -> None:
    """Once a recipe is weighed, its lines may say anything: a method that names no food makes the same of them."""
    recipe = weighed({"Dish": rows})
    first, other = cook(recipe), cook(reworded_lines(recipe))
    assert first.mix.total.tolist() == other.mix.total.tolist()
    assert [problem.code for problem in first.problems] == [problem.code for problem in other.problems]
