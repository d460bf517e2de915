"""From a recipe to what its label says: joins what the packages know, as text for the layouts and as data."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from labeler.allergens import (
    Assessment,
    Statement,
    assess,
    statement,
)
from labeler.cooking.state.density import density
from labeler.food_safety import Caution, cautions
from labeler.label.content import LabelContent, NutritionRow, Run
from labeler.label.dates import date_text, date_words
from labeler.label.ingredient_list import listed_of
from labeler.label.serving_words import serving_words, servings_words
from labeler.nutrition.analysis import DRAWS, Nutrition, analyse
from labeler.parsing import read_line
from labeler.parsing.keeping import storage_beside_cold
from labeler.parsing.model import Recipe
from labeler.parsing.units import grams_per
from labeler.rules.declaration import Declaration, DeclaredValue, declare
from labeler.rules.market import load_market
from labeler.rules.missing_values import open_values
from labeler.rules.net_quantity import NetQuantity, net_quantity
from labeler.rules.sale import Sale
from labeler.types import Problem

__all__ = [
    "KEEP_COLD",
    "LabelFacts",
    "TableRow",
    "declared_of",
    "gather",
    "is_liquid",
    "label_content",
    "net_of",
    "table_rows",
]


KEEP_COLD = "keep-cold"
"""The caution that prints how the food is kept: what the head says less strictly does not stand beside it."""


@dataclass(frozen=True, slots=True)
class LabelFacts:
    """What the packages know of a recipe in one market, worked out once for everything that is printed of it.

    Parameters
    ----------
    market : str
    nutrition : Nutrition
    allergens : Assessment
        Sorted for the market.
    serving, hundred : Declaration
        The market's declared values of one serving and of 100 g.
    """

    market: str
    nutrition: Nutrition
    allergens: Assessment
    serving: Declaration
    hundred: Declaration


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of the nutrition table: the declared lines that stand on it, kJ and kcal side by side.

    Parameters
    ----------
    serving, hundred : tuple of DeclaredValue
        One line or two; the first names the row.
    """

    serving: tuple[DeclaredValue, ...]
    hundred: tuple[DeclaredValue, ...]

    @property
    def name(self) -> str:
        """The words of the row."""
        return " ".join(self.serving[0].label.replace("{amount}", "").split())


def gather(recipe: Recipe, *, market: str, draws: int = DRAWS) -> LabelFacts:
    """Work out what a recipe holds, and what its market declares of it.

    Parameters
    ----------
    recipe : Recipe
    market : str
        LabelerError for one that is not known.
    draws : int
        Draws for the intervals; 0 for best estimates alone, which is all that a label prints.
    """
    load_market(market)
    nutrition = analyse(recipe, market=market, draws=draws)
    return LabelFacts(
        market=market,
        nutrition=nutrition,
        allergens=assess(nutrition.weighed, market=market),
        serving=declare(nutrition.per_serving, market=market),
        hundred=declare(nutrition.per_100g, market=market),
    )


def table_rows(facts: LabelFacts) -> tuple[TableRow, ...]:
    """The rows of the nutrition table in order: the market's mandatory lines, and fibre where it is known."""
    joined: dict[str, list[DeclaredValue]] = {}
    for line in facts.serving:
        if line.same_line_as:
            joined.setdefault(line.same_line_as, []).append(line)
    rows: list[TableRow] = []
    for line in facts.serving:
        shown = line.requirement == "mandatory" or line.tagname == "FIBTG"
        if not shown or line.same_line_as or line.display == "percent":
            continue
        serving = (line, *joined.get(line.id, ()))
        hundred = tuple(facts.hundred[one.id] for one in serving if one.id in facts.hundred)
        rows.append(TableRow(serving, hundred))
    return tuple(rows)


def label_content(
    recipe: Recipe,
    *,
    market: str,
    area_cm2: float | None = None,
    facts: LabelFacts | None = None,
    figures: bool = True,
    sale: Sale | None = None,
) -> tuple[LabelContent, dict[str, Any], tuple[Problem, ...]]:
    """What the label of a recipe says, as layouts read it and as data, with every problem on the way.

    Parameters
    ----------
    recipe : Recipe
    market : str
    area_cm2 : float or None
        Area of the panel [cm²], which settles the type size of the net quantity.
    facts : LabelFacts or None
        What `gather` found for the same recipe and market; None works it out.
    figures : bool
        Whether nutrition figures stand on it.
    sale : Sale or None
        How it is sold, which settles whether quantities of ingredients are asked for; None for no label.
    """
    facts = facts or gather(recipe, market=market)
    nutrition, found = facts.nutrition, facts.allergens
    listed = listed_of(recipe, nutrition, market, sale)
    rows = tuple(_row(row) for row in table_rows(facts)) if figures else ()
    net, net_problems = _net(recipe, nutrition, market, area_cm2)
    head = {key: date_text(value, market) for key, value in recipe.head.items()}
    stated = statement(
        found,
        market,
        also_handled=_list(recipe.head.get("also handles")),
        set_apart=(span.text for span in listed.spans if span.emphasised),
    )
    warned = cautions(nutrition.weighed, market=market, dish=nutrition.dish)
    kept = head.get("storage", "")
    if any(caution.code == KEEP_COLD for caution in warned):
        kept = storage_beside_cold(kept)
    content = LabelContent(
        title=recipe.title,
        story=head.get("story", ""),
        serving=serving_words(recipe, nutrition, market),
        servings=servings_words(nutrition),
        nutrition=rows,
        nutrition_notes=("Calculated from the recipe, not analysed.",) if figures else (),
        ingredients=tuple(Run(span.text, span.emphasised) for span in listed.spans),
        allergens=tuple(_allergen_runs(stated)),
        sign_allergens=tuple(_sign_runs(stated)),
        cautions=tuple(caution.text for caution in warned if caution.place == "label"),
        net=net,
        maker=head.get("maker", ""),
        place=head.get("place", ""),
        made=head.get("made", ""),
        best_before=head.get("best before", ""),
        use_by=head.get("use by", ""),
        date_words=date_words(recipe, market),
        origin=head.get("origin", ""),
        lot=head.get("lot", ""),
        storage=kept,
        sign_price=head.get("price", ""),
        digest=recipe.digest[:8],
    )
    problems = tuple(
        dict.fromkeys(
            (
                *nutrition.problems,
                *open_values(nutrition, facts.serving, nutrition.per_serving),
                *listed.problems,
                *net_problems,
                *_to_settle(stated),
                *_to_the_cook(warned),
            )
        )
    )
    return content, declared_of(content, market, problems), problems


def declared_of(content: LabelContent, market: str, problems: tuple[Problem, ...]) -> dict[str, Any]:
    """What a label says as printed, as data."""
    return {
        "title": content.title,
        "market": market,
        "serving": content.serving,
        "servings": content.servings,
        "nutrition": [
            {"name": row.name, "per_serving": row.per_serving, "per_100g": row.per_100g, "level": row.level}
            for row in content.nutrition
        ],
        "ingredients": "".join(run.text for run in content.ingredients),
        "allergens": "".join(run.text for run in content.allergens),
        "cautions": list(content.cautions),
        "net": content.net,
        "maker": content.maker,
        "place": content.place,
        "made": content.made,
        "best_before": content.best_before,
        "use_by": content.use_by,
        "origin": content.origin,
        "lot": content.lot,
        "storage": content.storage,
        "price": content.sign_price,
        "recipe": content.digest,
        "problems": [{"code": p.code, "message": p.message, "line": p.line} for p in problems],
    }


def _row(row: TableRow) -> NutritionRow:
    """A row as it is printed, per serving and per 100 g."""
    per_serving, per_100g = (" / ".join(line.text for line in lines) for lines in (row.serving, row.hundred))
    return NutritionRow(row.name, per_serving, per_100g, level=row.serving[0].indent)


def _allergen_runs(stated: Statement) -> Iterator[Run]:
    """The statement beside the ingredient list.

    Where the market wants none there: where to look in the list, and what of the allergens the list does not hold.
    """
    if stated.names and stated.beside_list:
        title, _, names = stated.text.partition(": ")
        yield Run(f"{title}: ")
        yield Run(names, True)
    elif stated.names:
        in_list = set(stated.names) > set(stated.unlisted)
        if in_list:
            yield Run("Allergens: see the ingredients set in ")
            yield Run("bold", True)
        if stated.unlisted:
            yield Run(". Contains also: " if in_list else "Contains: ")
            yield Run(", ".join(stated.unlisted), True)
    if stated.precaution:
        yield Run(f" {stated.precaution}" if stated.names else stated.precaution)


def _sign_runs(stated: Statement) -> Iterator[Run]:
    """The statement of a sign, which has no ingredient list to look in: every allergen by its name."""
    if stated.names:
        yield Run("Contains: ")
        yield Run(", ".join(stated.names), True)
    if stated.precaution:
        yield Run(f" {stated.precaution}" if stated.names else stated.precaution)


def _to_settle(stated: Statement) -> Iterator[Problem]:
    """What the cook must settle before the statement is whole."""
    for note in stated.notes:
        yield Problem("allergens-open", note)


def _to_the_cook(warned: Iterable[Caution]) -> Iterator[Problem]:
    """Cautions that the maker needs and the buyer does not."""
    for caution in warned:
        if caution.place != "label":
            yield Problem(f"caution-{caution.code}", f"{caution.text} ({caution.citation})")


def _list(value: Any) -> tuple[str, ...]:
    """A list of the head, written as one or with commas."""
    if value is None:
        return ()
    items = value if isinstance(value, list) else str(value).split(",")
    return tuple(str(item).strip() for item in items if str(item).strip())


def net_of(recipe: Recipe, nutrition: Nutrition, market: str, area_cm2: float | None = None) -> NetQuantity | None:
    """The net quantity of a pack; None where the recipe does not say what a pack holds.

    Parameters
    ----------
    recipe, nutrition
    market : str
    area_cm2 : float or None
        Area of the principal panel [cm²], which settles the height of its type in some markets.
    """
    grams, millilitres = nutrition.portion.pack_g, nutrition.portion.pack_ml
    if not grams:
        return None
    per_ml = float(density(nutrition.dish.mix)[0])
    if millilitres is None and not nutrition.portion.pack_stated and per_ml > 0:
        millilitres = grams / per_ml
    drained = read_line(str(recipe.head["drained"])).amounts if "drained" in recipe.head else ()
    mass = grams_per(drained[0].unit) if drained else None
    return net_quantity(
        market=market,
        grams=grams,
        millilitres=millilitres,
        liquid=nutrition.portion.pack_ml is not None,
        food=recipe.title,
        panel_area_cm2=area_cm2,
        drained_g=drained[0].low * mass if mass else None,
    )


def is_liquid(recipe: Recipe, nutrition: Nutrition, market: str) -> bool:
    """Whether the food is a liquid, whose figures go by millilitres: the cook measured it so, or its name is of one."""
    found = net_of(recipe, nutrition, market)
    return found is not None and found.liquid


def _net(recipe: Recipe, nutrition: Nutrition, market: str, area_cm2: float | None) -> tuple[str, tuple[Problem, ...]]:
    found = net_of(recipe, nutrition, market, area_cm2)
    if found is None:
        message = "the label needs what a pack holds; add “net: 190 g” or “makes: 8 boxes” to the head"
        return "", (Problem("no-net", message),)
    return found.both, found.problems
