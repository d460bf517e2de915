"""What a post says, as plain text in one language: the one type that every form of it is made from."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.label.content import Run
from labeler.types import Problem

__all__ = ["PostContent", "PostPart", "PostRow"]


@dataclass(frozen=True, slots=True)
class PostRow:
    """One line of the nutrition table.

    Parameters
    ----------
    name : str
    per_serving, per_100g : str
        As the label prints them, in the words of the post's language.
    likely : str
        The range in which the figure per serving should lie nineteen times out of twenty ("2.4–3.3 g"); empty where it
        is no wider than the printed figure itself, or not known.
    percent : str
        Percentage of the reference value; empty where there is none.
    level : int
        0 for a main line, 1 for a line that belongs to the one above, 2 for one below that.
    """

    name: str
    per_serving: str
    per_100g: str
    likely: str = ""
    percent: str = ""
    level: int = 0


@dataclass(frozen=True, slots=True)
class PostPart:
    """One part of the recipe: its heading, its ingredient lines and its handling as the cook wrote them."""

    title: str
    lines: tuple[str, ...]
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PostContent:
    """Everything a post says. An empty field is left out.

    Parameters
    ----------
    title, story, maker, place, storage : str
        As the recipe's head gives them.
    market, language : str
        Whose rules round the figures; whose fixed words are used.
    serving : str
        What one serving is ("1 pie (458 g)").
    makes : str
        What the batch makes ("6 pies").
    allergens : tuple of Run
        The allergen line, whole.
    package : tuple of str
        What a package must say, each with what it may hold ("stock (celery, milk)").
    unassessed : tuple of str
        Names that could not be assessed for allergens.
    settle : tuple of str
        What else of the allergens is open, in sentences: a misspelt line, a choice, nuts that are not named.
    offers : tuple of str
        What the cook's own remarks say the recipe can be made without, each with its line: an offer, never a claim.
    rows : tuple of PostRow
        The lines of the label's nutrition table.
    percent_heading : str
        Heading of the percentages; used where a row has one.
    ingredients : tuple of Run
        The ingredient list of the label.
    cautions : tuple of str
    sure : tuple of str
        How the figures were made and how sure they are, a sentence or two each.
    as_of : str
        The recipe's hash, the edition of the food table and the market: no time of the clock.
    parts : tuple of PostPart
        The recipe itself.
    facts : tuple of (str, str)
        Properties of schema.org's NutritionInformation with their values; known ones only.
    digest : str
        Short hash of the recipe.
    address : str
        Where the post is to stand, http or https; empty where that is not known.
    problems : tuple of Problem
        What the cook should settle before posting; no form prints them.
    draft : str
        The words that mark it as a draft; empty where it is none.
    """

    title: str
    market: str
    language: str
    story: str = ""
    maker: str = ""
    place: str = ""
    storage: str = ""
    serving: str = ""
    makes: str = ""
    allergens: tuple[Run, ...] = ()
    package: tuple[str, ...] = ()
    unassessed: tuple[str, ...] = ()
    settle: tuple[str, ...] = ()
    offers: tuple[str, ...] = ()
    rows: tuple[PostRow, ...] = ()
    percent_heading: str = ""
    ingredients: tuple[Run, ...] = ()
    cautions: tuple[str, ...] = ()
    sure: tuple[str, ...] = ()
    as_of: str = ""
    parts: tuple[PostPart, ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    digest: str = ""
    address: str = ""
    problems: tuple[Problem, ...] = ()
    draft: str = ""
