"""What `labeler.foods` hands on: which food a name means and how many grams a line is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from labeler.types import Interval, Problem

if TYPE_CHECKING:
    from labeler.foods.user_foods import UserFood

    # Naming foods needs none of the reader's start-up.
    from labeler.parsing.ingredient.facts import Facts
    from labeler.parsing.instructions.model import Quantity
    from labeler.parsing.model import Line, Recipe

__all__ = ["Candidate", "Match", "WeighedLine", "WeighedPart", "WeighedRecipe"]


@dataclass(frozen=True, slots=True)
class Candidate:
    """One table food that a name may mean, with a confidence in [0, 1] and the reason in words.

    `read_as` is the name as it was read where a typo was mended; empty where it was read as written.
    """

    food: str
    description: str
    confidence: float
    reason: str
    read_as: str = ""


@dataclass(frozen=True, slots=True)
class Match:
    """The food that a name was taken for.

    Parameters
    ----------
    food : str or None
        Table id, five digits; None where nothing reached the floor.
    description : str
        The table's own words for it; empty where there is no food.
    confidence : float
        In [0, 1].
    reason : str
        Why, in words.
    alternatives : tuple of str
        Table ids of the other candidates, best first.
    own : UserFood or None
        The cook's own food, where the name is one of theirs; `food` is then the table food that it is like.
    read_as : str
        The name as it was read where a typo was mended; empty where it was read as written.
    """

    food: str | None
    description: str
    confidence: float
    reason: str
    alternatives: tuple[str, ...] = ()
    own: UserFood | None = None
    read_as: str = ""


@dataclass(frozen=True, slots=True)
class Kept:
    """What another part keeps of its liquid: "keep the liquid as brine", "reserve the cooking water".

    Parameters
    ----------
    name : str
        What the handling calls it.
    part : str
        Title of the part that it is kept from.
    """

    name: str
    part: str


@dataclass(frozen=True, slots=True)
class WeighedLine:
    """An ingredient line with its food and its grams.

    Parameters
    ----------
    line : Line
        What the cook wrote.
    match : Match or None
        None for a line that names another part of the recipe, or nothing that is food.
    grams : Interval or None
        Edible weight [g] as it enters the pot; None where it could not be settled.
    part : str or None
        Title of the part of the same recipe that the line names.
    also : tuple of WeighedLine
        The other foods of a line that names several ("salt and pepper").
    problems : tuple of Problem
        Everything that rests on a default or could not be settled, the reader's own problems included.
    kept : Kept or None
        What another part keeps of its liquid, where the line takes of that; its grams are worked out in the kitchen.
    facts : Facts or None
        What the line says of the state of its food; None for what `facts_of` reads in it.
    taken : Quantity or None
        The share of the part, or of what one keeps, that words of the line tell ("half of"); None where none does.
    component : bool
        True where it is a part of the food that the line names: the yolks of its eggs.
    """

    line: Line
    match: Match | None
    grams: Interval | None
    part: str | None = None
    also: tuple[WeighedLine, ...] = ()
    problems: tuple[Problem, ...] = ()
    kept: Kept | None = None
    facts: Facts | None = None
    taken: Quantity | None = None
    component: bool = False

    @property
    def names_no_food(self) -> bool:
        """Whether nothing is eaten of it: a heading, a remark, a tool. An amount without a name is of some food."""
        line = self.line
        open_ = line.unreadable or (bool(line.amounts) and not line.name.strip())
        return self.match is None and self.part is None and self.kept is None and not open_


@dataclass(frozen=True, slots=True)
class WeighedPart:
    """One part with its lines weighed."""

    title: str
    lines: tuple[WeighedLine, ...]


@dataclass(frozen=True, slots=True)
class WeighedRecipe:
    """A recipe whose lines all have their food and their grams, or a problem that says why not.

    `market` is the one whose cups and spoons weighed them, and whose the method speaks of; empty for the head's.
    """

    recipe: Recipe
    parts: tuple[WeighedPart, ...]
    problems: tuple[Problem, ...] = ()
    market: str = ""
