"""From a recipe as cooks write it to grams, nutrition, allergens and a printed label, offline.

The way from text to label in one line each::

    recipe = read_recipe(text)          # what the cook wrote; read_recipe_file(path) for a file of any form
    weighed = weigh(recipe)             # which foods, how many grams of the edible portion
    flow = build_flow(weighed)          # what the method brings together and what leaves
    dish = cook(weighed)                # what that does to mass and nutrients
    nutrition = analyse(recipe)         # all of it: per serving, per 100 g, per batch, with intervals
    assessment = assess(weighed)        # the allergens, each with its reason
    declared = declare(values)          # as the rules of a market print the figures
    label = make_label(recipe)          # the PDF and what it says
    post = make_post(recipe)            # a block to paste into a page
    worksheet = make_worksheet(recipe)  # every figure and where it came from

Each name is imported when it is first used, so that a program that only reads lines does not wait for the rest.
`market` is "us", "uk", "eu", "ca", "anz", "codex" or "jp" everywhere; None, where there is a recipe, takes the one that
it was weighed for, else what its head says, else "us". Input that cannot be used raises `LabelerError`; everything else
that is wrong is a `Problem` in the answer.
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
    from labeler.foods.composition.food_table import FoodTable, load_table
    from labeler.foods.matching.match import match_food, search_foods
    from labeler.foods.model import Candidate, Match, WeighedLine, WeighedRecipe
    from labeler.foods.resolve import weigh, weigh_line
    from labeler.foods.user_foods import UserFood
    from labeler.importers.read_any import read_recipe_file
    from labeler.importers.reading import import_recipe
    from labeler.label.make import MadeLabel, make_label
    from labeler.larder.file import Larder, read_larder
    from labeler.larder.find import find_larder
    from labeler.markets import MARKETS
    from labeler.nutrition.analysis import Nutrition, analyse
    from labeler.nutrition.totals import Figure
    from labeler.parsing.document import read_recipe
    from labeler.parsing.ingredient.line import read_line
    from labeler.parsing.model import Line, Recipe
    from labeler.post import make_post
    from labeler.rules.declaration import Declaration, DeclaredValue, declare
    from labeler.rules.requirements import Requirements, requirements
    from labeler.types import Interval, LabelerError, Problem, Status
    from labeler.worksheet.builder import make_worksheet
    from labeler.worksheet.model import Worksheet

__version__ = "0.1.0"

# Where each name is imported from; a test holds the list above to it.
_HOME = {
    "Assessment": "labeler.allergens.model",
    "Candidate": "labeler.foods.model",
    "Caution": "labeler.food_safety.model",
    "Declaration": "labeler.rules.declaration",
    "DeclaredValue": "labeler.rules.declaration",
    "Dish": "labeler.cooking.state.ledger",
    "Figure": "labeler.nutrition.totals",
    "Finding": "labeler.allergens.model",
    "Flow": "labeler.flow.model",
    "FoodTable": "labeler.foods.composition.food_table",
    "Interval": "labeler.types",
    "LabelerError": "labeler.types",
    "Larder": "labeler.larder.file",
    "Line": "labeler.parsing.model",
    "MARKETS": "labeler.markets",
    "MadeLabel": "labeler.label.make",
    "Match": "labeler.foods.model",
    "Nutrition": "labeler.nutrition.analysis",
    "UserFood": "labeler.foods.user_foods",
    "Problem": "labeler.types",
    "Recipe": "labeler.parsing.model",
    "Requirements": "labeler.rules.requirements",
    "Status": "labeler.types",
    "WeighedLine": "labeler.foods.model",
    "WeighedRecipe": "labeler.foods.model",
    "Worksheet": "labeler.worksheet.model",
    "analyse": "labeler.nutrition.analysis",
    "assess": "labeler.allergens.assess",
    "build_flow": "labeler.flow.build",
    "cautions": "labeler.food_safety.cautions",
    "cook": "labeler.cooking.pipeline",
    "declare": "labeler.rules.declaration",
    "search_foods": "labeler.foods.matching.match",
    "find_larder": "labeler.larder.find",
    "import_recipe": "labeler.importers.reading",
    "load_table": "labeler.foods.composition.food_table",
    "make_label": "labeler.label.make",
    "make_post": "labeler.post",
    "make_worksheet": "labeler.worksheet.builder",
    "match_food": "labeler.foods.matching.match",
    "read_larder": "labeler.larder.file",
    "read_line": "labeler.parsing.ingredient.line",
    "read_recipe": "labeler.parsing.document",
    "read_recipe_file": "labeler.importers.read_any",
    "requirements": "labeler.rules.requirements",
    "weigh": "labeler.foods.resolve",
    "weigh_line": "labeler.foods.resolve",
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
    "Problem",
    "Recipe",
    "Requirements",
    "Status",
    "UserFood",
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
    "find_larder",
    "import_recipe",
    "load_table",
    "make_label",
    "make_post",
    "make_worksheet",
    "match_food",
    "read_larder",
    "read_line",
    "read_recipe",
    "read_recipe_file",
    "requirements",
    "search_foods",
    "weigh",
    "weigh_line",
]


if not TYPE_CHECKING:  # a type checker knows every name, and that there is no other

    def __getattr__(name: str) -> Any:
        home = _HOME.get(name)
        if home is None:
            raise AttributeError(f"labeler has no {name}; it has {', '.join(__all__)}")
        return getattr(import_module(home), name)


def __dir__() -> list[str]:
    return list(__all__)
