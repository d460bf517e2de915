"""From a recipe as cooks write it to grams, nutrition, allergens and a printed label, offline.

The way through the rooms in one line each::

    recipe = read_recipe(text)          # what the cook wrote; read_recipe_file(path) for a file of any form
    weighed = weigh(recipe)             # which foods, how many grams of the edible portion
    flow = build_flow(weighed)          # what the method brings together and what leaves
    dish = cook(weighed)                # what that does to mass and nutrients
    nutrition = analyse(recipe)         # all of it: per serving, per 100 g, per batch, with intervals
    assessment = assess(weighed)        # the allergens, each with its reason
    declared = declare(values)          # as the rules of a market print the figures
    label = make_label(recipe)          # the PDF and what it says
    post = make_post(recipe)            # a block to paste into a page

Each name is imported when it is first used, so that a program that only reads lines does not wait for the rest.
`market` is "us", "uk", "eu", "ca", "anz", "codex" or "jp" everywhere; None takes what the head of the recipe says,
else "us". Input that cannot be used raises `LabelerError`; everything else that is wrong is a `Problem` in the answer.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # as in typing, without the time that importing it takes
if TYPE_CHECKING:
    from typing import Any

    from labeler.allergens.assess import assess
    from labeler.allergens.model import Assessment, Finding
    from labeler.cooking.pipeline import cook
    from labeler.cooking.state.ledger import Dish
    from labeler.flow.build import build_flow
    from labeler.flow.model import Flow
    from labeler.food_safety.cautions import cautions
    from labeler.food_safety.model import Caution
    from labeler.foods.match import find, match
    from labeler.foods.model import Candidate, Match, WeighedLine, WeighedRecipe
    from labeler.foods.own import OwnFood
    from labeler.foods.table import FoodTable, load_table
    from labeler.foods.weigh import weigh, weigh_line
    from labeler.importers.read_any import read_recipe_file
    from labeler.importers.reading import import_recipe
    from labeler.knowledge import Interval, LabelerError, Problem, Status
    from labeler.larder.file import Larder, read_larder
    from labeler.larder.find import find_larder
    from labeler.markets import MARKETS
    from labeler.nutrition import Nutrition, analyse
    from labeler.parsing.document import read_recipe
    from labeler.parsing.ingredient.line import read_line
    from labeler.parsing.model import Line, Recipe
    from labeler.post import make_post
    from labeler.printing import MadeLabel, make_label
    from labeler.requirements import Requirements, requirements
    from labeler.rules.declare import Declaration, DeclaredValue, declare
    from labeler.totals import Figure
    from labeler.worksheet.build import worksheet
    from labeler.worksheet.model import Worksheet

__version__ = "0.1.0"

# Where each name is imported from; a test holds the list above to it.
_HOME = {
    "Assessment": "labeler.allergens.model",
    "Candidate": "labeler.foods.model",
    "Caution": "labeler.food_safety.model",
    "Declaration": "labeler.rules.declare",
    "DeclaredValue": "labeler.rules.declare",
    "Dish": "labeler.cooking.state.ledger",
    "Figure": "labeler.totals",
    "Finding": "labeler.allergens.model",
    "Flow": "labeler.flow.model",
    "FoodTable": "labeler.foods.table",
    "Interval": "labeler.knowledge",
    "LabelerError": "labeler.knowledge",
    "Larder": "labeler.larder.file",
    "Line": "labeler.parsing.model",
    "MARKETS": "labeler.markets",
    "MadeLabel": "labeler.printing",
    "Match": "labeler.foods.model",
    "Nutrition": "labeler.nutrition",
    "OwnFood": "labeler.foods.own",
    "Problem": "labeler.knowledge",
    "Recipe": "labeler.parsing.model",
    "Requirements": "labeler.requirements",
    "Status": "labeler.knowledge",
    "WeighedLine": "labeler.foods.model",
    "WeighedRecipe": "labeler.foods.model",
    "Worksheet": "labeler.worksheet.model",
    "analyse": "labeler.nutrition",
    "assess": "labeler.allergens.assess",
    "build_flow": "labeler.flow.build",
    "cautions": "labeler.food_safety.cautions",
    "cook": "labeler.cooking.pipeline",
    "declare": "labeler.rules.declare",
    "find": "labeler.foods.match",
    "find_larder": "labeler.larder.find",
    "import_recipe": "labeler.importers.reading",
    "load_table": "labeler.foods.table",
    "make_label": "labeler.printing",
    "make_post": "labeler.post",
    "match": "labeler.foods.match",
    "read_larder": "labeler.larder.file",
    "read_line": "labeler.parsing.ingredient.line",
    "read_recipe": "labeler.parsing.document",
    "read_recipe_file": "labeler.importers.read_any",
    "requirements": "labeler.requirements",
    "weigh": "labeler.foods.weigh",
    "weigh_line": "labeler.foods.weigh",
    "worksheet": "labeler.worksheet.build",
}

__all__ = [
    "MARKETS",
    "Assessment",
    "Candidate",
    "Caution",
    "Declaration",
    "DeclaredValue",
    "Dish",
    "Figure",
    "Finding",
    "Flow",
    "FoodTable",
    "Interval",
    "LabelerError",
    "Larder",
    "Line",
    "MadeLabel",
    "Match",
    "Nutrition",
    "OwnFood",
    "Problem",
    "Recipe",
    "Requirements",
    "Status",
    "WeighedLine",
    "WeighedRecipe",
    "Worksheet",
    "__version__",
    "analyse",
    "assess",
    "build_flow",
    "cautions",
    "cook",
    "declare",
    "find",
    "find_larder",
    "import_recipe",
    "load_table",
    "make_label",
    "make_post",
    "match",
    "read_larder",
    "read_line",
    "read_recipe",
    "read_recipe_file",
    "requirements",
    "weigh",
    "weigh_line",
    "worksheet",
]


if not TYPE_CHECKING:  # a type checker knows every name, and that there is no other

    def __getattr__(name: str) -> Any:
        home = _HOME.get(name)
        if home is None:
            raise AttributeError(f"labeler has no {name}; it has {', '.join(__all__)}")
        return getattr(import_module(home), name)


def __dir__() -> list[str]:
    return list(__all__)
