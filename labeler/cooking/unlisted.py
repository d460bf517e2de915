"""Foods that a sentence puts in and no line lists ("stir in 2 tbsp honey", "fry in oil").

Nobody knows how much of it there is, so it is put in as an ingredient that was not weighed: it counts nothing, and the
figures that it can raise are lower bounds.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from labeler.cooking.naming import named_items
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import Entry
from labeler.cooking.state.mixture import Item, Mixture, Origin
from labeler.cooking.tasks import brought
from labeler.cooking.work import Work
from labeler.foods.food_class import kind_of
from labeler.foods.match import match
from labeler.foods.model import Match, WeighedRecipe
from labeler.foods.words import read_name, words
from labeler.knowledge import Problem
from labeler.parsing.handling import Step
from labeler.parsing.ingredient.facts import read_facts
from labeler.parsing.ingredient.line import read_line

__all__ = ["unlisted"]

_SURE = 0.55  # confidence in a food below which a word of a sentence is not taken for one: a choice, no source
_PIECES = re.compile(r",|\band\b|&|\bwith\b|\bplus\b|\bor\b")
# Words before a food that no amount is made of; amounts are read as those of a line.
_BEFORE = re.compile(
    r"^(?:(?:little|bit|few|some|more|extra|plenty|lots?|the|a|an|of|your|chopped|freshly|fresh|warm|hot|cold)\s+)*",
    re.IGNORECASE,
)
_MANNER = re.compile(r"\s+(?:all|both|well|evenly|generously|liberally|lightly|together|again|too)$", re.IGNORECASE)
_FRIES = frozenset(["pan-fry", "stir-fry", "deep-fry"])
# What is made of food and is no food to add; the rest of what a sentence may name has no surest food anyway.
_MADE = frozenset(
    words(
        "mixture rest dough batter filling dressing sauce marinade brine liquid juices drippings cure rub paste cake "
        "pie bread soup stew salad dish pan oven heat fat vegetables meat ingredients crumble topping base spices herbs"
    )
)
_FORMS = frozenset(words("juice zest peel leaf white yolk slice wedge cube strip sprig clove piece floret stalk seed"))
_STOCKS = frozenset({"liquid", "water"})


@lru_cache(maxsize=1024)
def _food_of(name: str) -> Match | None:
    """The food of a name, or of its head word where the whole name is no sure food ("lump crab")."""
    for wanted in dict.fromkeys((name, read_name(name).head)):
        found = match(wanted) if wanted else None
        if found is not None and found.food is not None and found.confidence >= _SURE:
            return found
    return None


def _names(step: Step) -> list[str]:
    """What a step puts in, in the recipe's words, without its amount."""
    said = brought(step)
    if step.action in _FRIES and (
        in_what := re.search(r"\bin (?:the |some |a little |hot |plenty of )*(.*)", step.text)
    ):
        said = re.sub(r"\b(?:for|until|at|on|over|batches)\b.*|\d.*", "", in_what[1])
    pieces = (
        _BEFORE.sub("", _without_amount(piece.strip(" .,:;()"))) for piece in _PIECES.split(said) if piece.strip()
    )
    return [name for piece in pieces if (name := _MANNER.sub("", piece).strip())]


def _without_amount(piece: str) -> str:
    """The food of "half a pound of crab"; the words as they stand where no amount is among them."""
    line = read_line(piece)
    return line.name if line.amounts else piece


def unlisted(
    work: Work, steps: Sequence[tuple[Step, int]], recipe: WeighedRecipe, pot: Mixture, streams: Sequence[str]
) -> None:
    """Put in, unweighed, what the sentences of a part add and no line of the recipe lists; each is a problem.

    Parameters
    ----------
    work : Work
    steps : sequence of (Step, line number)
    recipe : WeighedRecipe
        Its lines and titles are what is known.
    pot : Mixture
        What was put into the part.
    streams : sequence of str
        Names of liquids that were kept.
    """
    known: set[str] = set().union(*(words(text) for text in streams))
    for part in recipe.parts:
        known.update(words(part.title))
        for line in part.lines:
            for one in (line, *line.also):
                known.update(words(one.line.text))
                known.update(words(one.match.description) if one.match is not None and one.match.food else ())
    kinds = {kind_of(item.food) for item in pot.items}
    told: set[str] = set()
    for step, number in steps:
        for name in _names(step):
            head = read_name(name).head
            own = set(read_name(name).words)
            if not head or head in told or own & _MADE or head in known or named_items(pot, (name,)):
                continue
            if head in _FORMS and own & known:
                continue
            food = _food_of(name)
            if food is None or food.food is None or kind_of(food.food) == "water":
                continue  # water has nothing that counts, and boiling brings its own
            if kind_of(food.food) == "liquid" and kinds & _STOCKS:
                continue
            told.add(head)
            item = Item(
                work.title, number, name, food.food, weighed=False, facts=read_facts(name), origin=Origin.UNLISTED
            )
            work.add(Entry("added", mix_of_foods([item], np.zeros((work.draws.rows, 1))), "not among the lines"))
            work.problems.append(
                Problem(
                    "not-among-lines",
                    f"“{step.text}” names “{name}”, which is not among the lines of “{work.title}”, so it counts "
                    f"nothing and the figures are at least that. Write a line for it, such as “- 100 g {name}”.",
                    number,
                )
            )
