"""From a recipe as cooks write it to grams, nutrition, allergens and a printed label, offline.

The way through the house in one line each::

    recipe = read_recipe(text)      # what the cook wrote
    weighed = weigh(recipe)         # which foods, how many grams
    dish = cook(weighed)            # what handling did to them
    nutrition = analyse(recipe)     # all of that, per serving, per 100 g and per batch
    declared = declare(values)      # as the rules of a market print it
    label = make_label(recipe)      # the PDF and what it says
    post = make_post(recipe)        # a block to paste into a page

Each name is fetched from its room when first used, so that a program that only reads lines does not pay for PDF.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_ROOMS = {
    "read_recipe": "labeler.parsing",
    "read_line": "labeler.parsing",
    "find": "labeler.foods.match",
    "match": "labeler.foods.match",
    "weigh": "labeler.foods.weigh",
    "weigh_line": "labeler.foods.weigh",
    "cook": "labeler.cooking.pipeline",
    "analyse": "labeler.nutrition",
    "assess": "labeler.allergens",
    "declare": "labeler.rules.declare",
    "make_label": "labeler.printing",
    "make_post": "labeler.post",
    "load_table": "labeler.foods.table",
    "find_larder": "labeler.larder.find",
    "import_recipe": "labeler.importers.reading",
    "LabelerError": "labeler.knowledge",
}

__all__ = sorted(_ROOMS)


def __getattr__(name: str) -> Any:
    room = _ROOMS.get(name)
    if room is None:
        raise AttributeError(f"labeler has no {name}; it has {', '.join(__all__)}")
    return getattr(import_module(room), name)


def __dir__() -> list[str]:
    return list(__all__)
