"""Commands that answer with figures: of lines, of names, of a recipe."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from labeler.cli.shared import json_option, larder_of, market_option, recipe_of, which_of, which_option, write_object
from labeler.markets import market_of

if TYPE_CHECKING:
    from labeler.allergens.alternatives import Offer

__all__ = ["allergens", "foods", "lines", "nutrition"]


@click.command()
@click.argument("source", metavar="FILE|-")
@json_option
def lines(source: str, as_json: bool) -> None:
    """Read ingredient lines, one a row, or those of a recipe file: amounts, food and grams of each."""
    from labeler.importers.read_any import read_lines

    rows = read_lines(source)
    own = larder_of(source)
    if as_json:
        from labeler.cli.json_lines import line_answers

        sys.stdout.writelines(line_answers([row for _, row in rows], source))
    else:
        from labeler.cli.tables import show_lines
        from labeler.foods.resolve import weigh_line
        from labeler.parsing import read_line

        numbered = (read_line(row, number=number) for number, row in rows if row.strip())
        show_lines(weigh_line(line, larder=own) for line in numbered)


@click.command()
@click.argument("names", nargs=-1, required=True, metavar="FILE|-|NAME...")
@json_option
def foods(names: tuple[str, ...], as_json: bool) -> None:
    """Find which foods of the table a name may mean, best first."""
    from labeler.files import FOOD_NAME, read_rows

    wanted: Sequence[str] = names
    if not all(name.strip() for name in names):
        raise click.UsageError("a food name is empty; write one such as “cheddar cheese”")
    if len(names) == 1 and (names[0] == "-" or os.path.exists(names[0]) or _looks_like_a_file(names[0])):
        wanted = read_rows(names[0], row=FOOD_NAME)
    if as_json:
        from labeler.cli.json_lines import food_answers

        sys.stdout.writelines(food_answers(wanted))
    else:
        from labeler.cli.tables import show_foods
        from labeler.foods.matching.match import search_foods

        show_foods((name, search_foods(name)) for name in wanted if name.strip())


def _looks_like_a_file(name: str) -> bool:
    """A name with a folder or a text ending is meant as a file even where it is missing."""
    return os.sep in name or name.lower().endswith((".txt", ".md", ".csv"))


@click.command()
@click.argument("recipe", required=False, metavar="[RECIPE]")
@click.option("--lines", "rows", metavar="FILE|-", help="Ingredient lines, one a row, instead of a recipe.")
@which_option
@market_option
@json_option
def allergens(recipe: str | None, rows: str | None, market: str | None, as_json: bool) -> None:
    """Name the allergens of ingredient lines or of a recipe, each with its reason."""
    from labeler.allergens import assess, assess_written

    if (recipe is None) == (rows is None):
        raise click.UsageError("give either a RECIPE or --lines FILE")
    if rows is not None and which_of() is not None:
        raise click.UsageError("--which takes one of several recipes; --lines reads every line")
    ways: tuple[Offer, ...] = ()
    if rows is not None:
        from labeler.importers.read_any import read_lines

        given = read_lines(rows)
        own = larder_of(rows)
        if as_json:
            from labeler.cli.json_lines import allergen_answers

            sys.stdout.writelines(allergen_answers([row for _, row in given], rows, market=market or "us"))
            return
        from labeler.parsing import read_line

        lines = (read_line(row, number=number) for number, row in given if row.strip())
        found = [assess_written(line, larder=own, market=market or "us") for line in lines]
    else:
        from labeler.allergens.alternatives import offers
        from labeler.foods.resolve import weigh

        assert recipe is not None
        read = recipe_of(recipe)
        weighed = weigh(read)
        found = [assess(weighed, market=market_of(read, market))]
        ways = offers(weighed, found[0])
    if as_json:
        from labeler.as_json import allergen_object
        from labeler.cli.json_lines import encoded

        sys.stdout.writelines(encoded(allergen_object(item, ways)) for item in found)
    else:
        from labeler.cli.tables import show_allergens

        show_allergens(found, ways)


@click.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("--chart", is_flag=True, help="Draw the intervals against a day's values, also into a file or a pipe.")
@which_option
@market_option
@json_option
def nutrition(recipe: str, chart: bool, market: str | None, as_json: bool) -> None:
    """Work out what is in a serving, in 100 g and in the batch, and how sure that is."""
    from labeler.nutrition.analysis import analyse

    read = recipe_of(recipe, tells=True)
    if as_json:
        from labeler.as_json import nutrition_object

        write_object(nutrition_object(analyse(read, market=market)))
    else:
        from labeler.cli.tables import SHOWN, show_nutrition
        from labeler.rules.missing_values import needed_for

        place = market_of(read, market)
        chart = chart or sys.stdout.isatty()
        # A chart draws all that the market has reference values for.
        nutrients = None if chart else needed_for(SHOWN, place)
        show_nutrition(analyse(read, market=place, nutrients=nutrients), market=place, chart=chart)
