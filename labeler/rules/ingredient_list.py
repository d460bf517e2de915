"""The ingredient list: names in descending order of weight, parts in parentheses, allergens set apart.

The order is by the weight that went in. What the market says of added water, of small amounts, of capitals and of
the form in which an allergen shows stands in its ``ingredients.yaml``; the allergens themselves come from the
allergen package, as names by line number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labeler.foods.model import Kept, WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.user_foods import PackIngredient
from labeler.rules.common_names import common_name
from labeler.rules.grouped_ingredients import grouped
from labeler.rules.ingredient_list_text import TextSpan, list_spans
from labeler.rules.ingredient_quantities import Quantities, with_quantities
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.text.stems import stems
from labeler.types import Problem

__all__ = ["IngredientList", "ListedIngredient", "TextSpan", "ingredient_list"]

INGREDIENTS = "ingredients"

Place = tuple[int | str, ...]
"""Where an ingredient is used: line numbers from the part that is served down to its own, then its name."""


@dataclass(frozen=True, slots=True)
class ListedIngredient:
    """One ingredient as the list names it.

    Parameters
    ----------
    name : str
        Common name, with the additive's function where the law wants it.
    grams : float or None
        Weight that counts for the order [g]; None where it is not known.
    share : float or None
        Its share of all ingredients at the top of the list [%].
    components : tuple of ListedIngredient
        What it is made of, in descending order.
    allergens : tuple of str
        Names of its allergens.
    lines : tuple of int
        Line numbers of the recipe that it stands for.
    quantity : str
        What is printed of its quantity ("63%"); empty where nothing is.
    food : str or None
        Table id of what it was matched to; None for a compound and for a food of the cook's own.
    """

    name: str
    grams: float | None
    share: float | None = None
    components: tuple[ListedIngredient, ...] = ()
    allergens: tuple[str, ...] = ()
    lines: tuple[int, ...] = ()
    quantity: str = ""
    food: str | None = None


@dataclass(frozen=True, slots=True)
class IngredientList:
    """The list as a market wants it.

    Parameters
    ----------
    heading : str
        "Ingredients:".
    items : tuple of ListedIngredient
        In the order printed, the small amounts left out.
    small : tuple of ListedIngredient
        The ingredients that stand last under `small_words`.
    small_words : str
        "contains 2% or less of"; empty where there is no such group.
    spans : tuple of TextSpan
        The printed list without its heading.
    rules : tuple of Rule
        What it follows.
    problems : tuple of Problem
        Weights that are not known and the like.
    emphasised : tuple of ListedIngredient
        Those whose quantity the market asks for, as the name of the food emphasises them or they are meat.
    """

    heading: str
    items: tuple[ListedIngredient, ...]
    small: tuple[ListedIngredient, ...]
    small_words: str
    spans: tuple[TextSpan, ...]
    rules: tuple[Rule, ...]
    problems: tuple[Problem, ...] = ()
    emphasised: tuple[ListedIngredient, ...] = ()

    @property
    def text(self) -> str:
        """The list in one line, heading included."""
        return f"{self.heading} {''.join(span.text for span in self.spans)}"


@dataclass(frozen=True, slots=True)
class _Given:
    """What the other packages know of the lines."""

    parts: Mapping[str, WeighedPart]
    allergens: Mapping[int, Iterable[str]]
    grams: Mapping[Place, float]
    functions: Mapping[str, str]
    by_name: Mapping[str, Iterable[str]]
    usual: Mapping[str, str]


def ingredient_list(
    weighed: WeighedRecipe,
    allergens: Mapping[int, Iterable[str]] | None = None,
    *,
    market: str | Path | Market = "us",
    grams: Mapping[Place, float] | None = None,
    finished_g: float | None = None,
    by_name: Mapping[str, Iterable[str]] | None = None,
    quantities: Quantities | None = None,
    usual: Mapping[str, str] | None = None,
    further: Sequence[ListedIngredient] = (),
) -> IngredientList:
    """The ingredient list of a recipe.

    Parameters
    ----------
    weighed : WeighedRecipe
        Lines with their foods and grams; a line that names another part stands for it with its components.
    allergens : mapping or None
        Line number → names of the allergens in it, as the market calls them.
    market : str or Path
        Market id, or a folder of rule files.
    grams : mapping or None
        Weight [g] that counts instead of the weighed one, by place: the line numbers of the parts that it is used
        through, its own line number and, for a food, its name. What weighs 0 is no ingredient of the finished food.
    finished_g : float or None
        Weight of the finished food [g], for markets that count added water by what stays of it.
    by_name : mapping or None
        Names of allergens in each name of a package's own ingredient list, for the foods that have one.
    quantities : Quantities or None
        Of which ingredients the quantity is printed; None for none.
    usual : mapping or None
        Name in lower case → the name with what it usually holds, for ingredients without a package's own list.
    further : sequence of ListedIngredient
        What goes into the finished food beside its lines: foods that only the method names.

    Raises
    ------
    LabelerError
        For an unknown market or one without rules for the list.
    """
    place = load_market(market)
    rules = place.rules(INGREDIENTS)
    style = place.rule(INGREDIENTS, "ingredient-list")
    functions = rules["ingredient-functions"].data["functions"] if "ingredient-functions" in rules else {}
    given = _Given(
        parts={part.title: part for part in weighed.parts},
        allergens=allergens or {},
        grams=grams or {},
        functions=functions,
        by_name=by_name or {},
        usual=usual or {},
    )
    problems: list[Problem] = []
    items = _ordered((*_top(weighed, given), *further))
    if "ingredient-water" in rules:
        items = _ordered(_count_water(items, rules["ingredient-water"], finished_g, problems))
    if "ingredient-sugars" in rules:
        items = grouped(items, rules["ingredient-sugars"], _foods_by_line(weighed))
    problems += [_not_weighed(item) for item in items if item.grams is None]
    total = _sum(items)
    if total:
        items = tuple(replace(item, share=100 * item.grams / total) if item.grams else item for item in items)
    emphasised: tuple[ListedIngredient, ...] = ()
    if quantities is not None:
        items, emphasised = with_quantities(items, quantities, finished_g)
    small_rule = rules.get("ingredient-small-amounts")
    small = _small(items, small_rule)
    items = tuple(item for item in items if item not in small)
    words = small_rule.data["words"] if small_rule and small else ""
    spans = list_spans(items, small, words, style)
    return IngredientList(
        style.data["heading"], items, small, words, spans, tuple(rules.values()), tuple(problems), emphasised
    )


def _foods_by_line(weighed: WeighedRecipe) -> Mapping[int, str]:
    """The table food of each line that has one."""
    lines = [line for part in weighed.parts for line in part.lines]
    return {line.line.number: line.match.food for line in lines if line.match is not None and line.match.food}


def _not_weighed(item: ListedIngredient) -> Problem:
    return Problem(
        "ingredient-not-weighed",
        f"'{item.name}' has no weight, so it stands last in the ingredient list; write how much of it goes in.",
        item.lines[0] if item.lines else None,
    )


def _top(weighed: WeighedRecipe, given: _Given) -> Iterator[ListedIngredient]:
    """The ingredients of the dish: the lines of the part that no other part takes.

    Where several are taken by none, each stands as a compound under its own title, unless it has none or has that of
    the recipe.
    """
    taken = {line.part for part in weighed.parts for line in part.lines if line.part}
    tops = [part for part in weighed.parts if part.title not in taken] or list(weighed.parts[-1:])
    for part in tops:
        own = tuple(_of_part(part, given, ()))
        if len(tops) == 1 or not part.title or part.title == weighed.recipe.title:
            yield from own
        elif own:
            yield ListedIngredient(part.title, _sum(own), components=_ordered(own))


def _of_part(part: WeighedPart, given: _Given, through: tuple[int, ...]) -> Iterator[ListedIngredient]:
    for line in part.lines:
        for each in (line, *line.also):
            found = _of_line(each, given, through, number=line.line.number)
            if found is not None:
                yield found


def _of_line(line: WeighedLine, given: _Given, through: tuple[int, ...], *, number: int) -> ListedIngredient | None:
    weighed = line.grams.best if line.grams else None
    part = given.parts.get(line.part) if line.part else None
    if line.kept is not None:
        return _of_kept(line.kept, given, (*through, number))
    if part is not None:
        if number in through:  # a part that takes itself; the kitchen reports the circle
            return None
        components = _ordered(_of_part(part, given, (*through, number)))
        grams = given.grams.get((*through, number), weighed)
        return ListedIngredient(
            part.title, grams if grams is not None else _sum(components), components=components, lines=(number,)
        )
    grams = given.grams.get((*through, number, line.line.name or line.line.text), weighed)
    if grams == 0.0 and weighed:
        return None
    name = common_name(line)
    if not name:
        return None
    name = given.functions.get(name.casefold(), name)
    if line.match is None or line.match.own is None:
        name = given.usual.get(name.casefold(), name)
    allergens = tuple(given.allergens.get(number, ()))
    own = line.match.own if line.match is not None else None
    components = _of_package(own.ingredients, given) if own is not None else ()
    if components:
        words = {allergen for component in components for allergen in _allergens_in(component)}
        allergens = tuple(allergen for allergen in allergens if allergen not in words)
    food = line.match.food if line.match is not None and own is None else None
    return ListedIngredient(name, grams, components=components, allergens=allergens, lines=(number,), food=food)


def _of_kept(kept: Kept, given: _Given, here: Place) -> ListedIngredient | None:
    """The liquid that another part keeps, made of what is in it: a brine of its vinegar, water and salt."""
    grams = given.grams.get(here)
    part = given.parts.get(kept.part)
    lines = [each for line in part.lines for each in (line, *line.also)] if part is not None else []
    found: list[ListedIngredient] = []
    for line in lines:
        name = line.line.name or line.line.text
        weight = given.grams.get((*here, line.line.number, name), 0.0)
        if weight > 0.0:
            own = _of_line(line, replace(given, grams={(line.line.number, name): weight}), (), number=line.line.number)
            found += [own] if own is not None else []
    return ListedIngredient(kept.name, grams, components=_ordered(found), lines=()) if grams and found else None


def _of_package(listed: Iterable[PackIngredient], given: _Given) -> tuple[ListedIngredient, ...]:
    """What a package says that it is made of, in its own order."""
    return tuple(
        ListedIngredient(
            one.name,
            None,
            components=_of_package(one.components, given),
            allergens=tuple(given.by_name.get(one.name, ())),
        )
        for one in listed
    )


def _allergens_in(item: ListedIngredient) -> Iterator[str]:
    yield from item.allergens
    for component in item.components:
        yield from _allergens_in(component)


def _sum(items: Iterable[ListedIngredient]) -> float | None:
    known = [item.grams for item in items if item.grams is not None]
    return sum(known) if known else None


def _ordered(items: Iterable[ListedIngredient]) -> tuple[ListedIngredient, ...]:
    """Ingredients of one name as one, heaviest first, equal weights by name; without a weight last, as they come."""
    merged: dict[str, ListedIngredient] = {}
    for item in items:
        key = item.name.casefold()
        other = merged.get(key)
        merged[key] = item if other is None else _merge(other, item)
    return tuple(sorted(_named_once(merged.values()), key=_place))


def _named_once(items: Iterable[ListedIngredient]) -> Iterator[ListedIngredient]:
    """Ingredients of one table food as one, where one name only says more than the other: "pepper", "black pepper".

    The shorter name holds of both.
    """
    left = sorted(items, key=lambda item: len(item.name.split()))
    while left:
        one = left.pop(0)
        words = set(stems(one.name))
        for other in [item for item in left if one.food is not None and item.food == one.food]:
            if words <= set(stems(other.name)) and set(one.allergens) == set(other.allergens):
                left.remove(other)
                one = _merge(one, other)
        yield one


def _merge(one: ListedIngredient, other: ListedIngredient) -> ListedIngredient:
    weights = [item.grams for item in (one, other) if item.grams is not None]
    return replace(
        one,
        grams=sum(weights) if weights else None,
        components=_ordered((*one.components, *other.components)),
        allergens=tuple(dict.fromkeys((*one.allergens, *other.allergens))),
        lines=one.lines + other.lines,
    )


def _place(item: ListedIngredient) -> tuple[bool, float, str]:
    # A microgram decides nothing: sums of the same weights in another order are the same weight.
    return (item.grams is None, -round(item.grams or 0.0, 6), item.name if item.grams is not None else "")


def _count_water(
    items: Sequence[ListedIngredient], rule: Rule, finished_g: float | None, problems: list[Problem]
) -> Iterator[ListedIngredient]:
    """Added water by the weight that the market counts, left out where it may be."""
    waters = [item for item in items if item.name.casefold() == "water"]
    others = _sum(item for item in items if item not in waters) or 0.0
    for item in items:
        if item not in waters:
            yield item
            continue
        grams = item.grams
        if rule.data["weighed"] == "in the finished product":
            if finished_g is None:
                problems.append(
                    Problem(
                        "water-by-what-went-in",
                        "Added water should stand by its weight in the finished food, which is not known; it stands by "
                        f"what went in. Weigh the finished food and write it down ({rule.paragraph}).",
                        item.lines[0] if item.lines else None,
                    )
                )
            else:
                grams = max(0.0, finished_g - others)
        base = finished_g if finished_g is not None else others + (grams or 0.0)
        least = rule.data.get("omit_to_percent")
        if least is None or grams is None or grams * 100 > float(least) * base:
            yield replace(item, grams=grams)


def _small(items: Sequence[ListedIngredient], rule: Rule | None) -> tuple[ListedIngredient, ...]:
    """The ingredients that may stand last as small amounts, where the market has such a group and it is worth it."""
    if rule is None or rule.kind != "small amounts":
        return ()
    most = float(rule.data["percent"])
    found = tuple(item for item in items if item.share is not None and item.share <= most)
    return found if len(found) >= rule.data["least"] and len(found) < len(items) else ()
