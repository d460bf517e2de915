"""The command line: each command reads its input, makes one library call and shows the answer.

Exit status 0 with an answer; 2 for bad usage or unreadable input, with one line on standard error.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import click

from labeler.batch.commands import batch
from labeler.elsewhere.commands import bring
from labeler.knowledge import LabelerError
from labeler.larder.commands import larder
from labeler.opendata.commands import opendata

__all__ = ["main"]

MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")
_as_json = click.option("--json", "as_json", is_flag=True, help="Write JSON instead of a table.")
_market = click.option(
    "--market",
    type=click.Choice(MARKETS),
    default=None,
    help="Whose rules hold; else the recipe's own `market`, else us.",
)


def _write_object(item: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(item, ensure_ascii=False, indent=1) + "\n")


def _recipe(source: str) -> Any:
    from labeler.elsewhere.bringing import read_any

    return read_any(source)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="labeler")
def commands() -> None:
    """From a recipe as cooks write it to grams, nutrition, allergens and a printed label."""


@commands.command()
@click.argument("source", metavar="FILE|-")
@_as_json
def lines(source: str, as_json: bool) -> None:
    """Read ingredient lines, one a row: amounts, food and grams of each."""
    from labeler.files import read_rows

    rows = read_rows(source)
    if as_json:
        from labeler.rows import line_answers

        sys.stdout.writelines(line_answers(rows, source))
    else:
        from labeler.foods.weigh import weigh_line
        from labeler.larder.find import find_larder
        from labeler.recipe import read_line
        from labeler.screen import show_lines

        own = find_larder(source)
        show_lines(weigh_line(read_line(row, number=number), larder=own) for number, row in enumerate(rows, start=1))


@commands.command()
@click.argument("names", nargs=-1, required=True, metavar="FILE|-|NAME...")
@_as_json
def foods(names: tuple[str, ...], as_json: bool) -> None:
    """Find which foods of the table a name may mean, best first."""
    from labeler.files import FOOD_NAME, read_rows

    wanted: Sequence[str] = names
    if len(names) == 1 and (names[0] == "-" or Path(names[0]).exists() or _looks_like_a_file(names[0])):
        wanted = read_rows(names[0], row=FOOD_NAME)
    if as_json:
        from labeler.rows import food_answers

        sys.stdout.writelines(food_answers(wanted))
    else:
        from labeler.foods.match import find
        from labeler.screen import show_foods

        show_foods((name, find(name)) for name in wanted)


def _looks_like_a_file(name: str) -> bool:
    """A name with a folder or a text ending is meant as a file even where it is missing."""
    return os.sep in name or name.lower().endswith((".txt", ".md", ".csv"))


@commands.command()
@click.argument("recipe", required=False, metavar="[RECIPE]")
@click.option("--lines", "rows", metavar="FILE|-", help="Ingredient lines, one a row, instead of a recipe.")
@_market
@_as_json
def allergens(recipe: str | None, rows: str | None, market: str | None, as_json: bool) -> None:
    """Name the allergens of ingredient lines or of a recipe, each with its reason."""
    from labeler.allergens import assess, assess_written

    if (recipe is None) == (rows is None):
        raise click.UsageError("give either a RECIPE or --lines FILE")
    if rows is not None:
        from labeler.files import read_rows

        given = read_rows(rows)
        if as_json:
            from labeler.rows import allergen_answers

            sys.stdout.writelines(allergen_answers(given, rows, market=market or "us"))
            return
        from labeler.larder.find import find_larder
        from labeler.recipe import read_line

        own = find_larder(rows)
        lines = (read_line(row, number=number) for number, row in enumerate(given, start=1))
        found = [assess_written(line, larder=own, market=market or "us") for line in lines]
    else:
        from labeler.foods.weigh import weigh

        assert recipe is not None
        read = _recipe(recipe)
        found = [assess(weigh(read), market=market or read.head.get("market") or "us")]
    if as_json:
        from labeler.interface import allergen_object
        from labeler.rows import encoded

        sys.stdout.writelines(encoded(allergen_object(item)) for item in found)
    else:
        from labeler.screen import show_allergens

        show_allergens(found)


@commands.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("--chart", is_flag=True, help="Draw the intervals against a day's values, also into a file or a pipe.")
@_market
@_as_json
def nutrition(recipe: str, chart: bool, market: str | None, as_json: bool) -> None:
    """Work out what is in a serving, in 100 g and in the batch, and how sure that is."""
    from labeler.interface import nutrition_object
    from labeler.nutrition import analyse

    read = _recipe(recipe)
    result = analyse(read, market=market)
    if as_json:
        _write_object(nutrition_object(result))
    else:
        from labeler.screen import show_nutrition

        show_nutrition(result, market=market or str(read.head.get("market") or "us"), chart=chart)


@commands.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("-o", "--output", metavar="FILE.pdf", help="Where the PDF goes.")
@click.option("--layout", default="card", show_default=True, help="card, wrap (round a jar), tent or strip.")
@click.option("--size", default="a6", show_default=True, help="jar (100 × 70 mm), a6, or WIDTHxHEIGHT in millimetres.")
@click.option("--colour", metavar="#RRGGBB", help="Colour of title and rules; else black only.")
@click.option("--panel", metavar="ID", help="An official panel of the market in place of the generic table.")
@click.option("--address", default="", help="Web address of the post, printed as a square code.")
@click.option("--language", default="en", show_default=True, help="en, fr, es, de, it, or two side by side as en+fr.")
@click.option("--sheet", metavar="ROWSxCOLUMNS", help="Print sheets of labels.")
@click.option("--paper", default="a4", show_default=True, help="Of the sheets: a4, letter, roll, or WIDTHxHEIGHT.")
@click.option("--margins", metavar="LEFTxTOP", help="Of the sheets, in millimetres; else in the middle.")
@click.option("--gaps", default="0x0", show_default=True, metavar="ACROSSxDOWN", help="Between labels, in millimetres.")
@click.option("--copies", default=1, show_default=True, help="How many labels on sheets.")
@click.option("--start", default=1, show_default=True, help="First free place of a begun sheet.")
@click.option("--count-lots", is_flag=True, help="Each label its own lot, counted up from the recipe's.")
@click.option("--crop-marks", is_flag=True, help="Fine lines that show where to cut.")
@click.option("--preview", metavar="FILE.png|FILE.svg", help="The same drawing as a picture.")
@click.option("--bare", is_flag=True, help="Attach no worksheet to the PDF; the worksheet holds the whole recipe.")
@_market
@_as_json
def label(
    recipe: str, output: str | None, preview: str | None, market: str | None, bare: bool, as_json: bool, **wish: Any
) -> None:
    """Print the label of a recipe as a PDF; --json writes the declared values and statements as printed."""
    from labeler.files import write_whole
    from labeler.printing import make_label, read_sheet

    if output is None and preview is None and not as_json:
        raise click.UsageError("say where the PDF goes: -o FILE.pdf")
    kind = None if preview is None else preview.rpartition(".")[2].lower()
    if kind not in (None, "png", "svg"):
        raise click.UsageError(f"--preview {preview}: the name ends in .png or .svg")
    made = make_label(
        _recipe(recipe),
        layout=wish["layout"],
        size=wish["size"],
        market=market,
        colour=wish["colour"],
        panel=wish["panel"],
        address=wish["address"],
        language=wish["language"],
        sheet=read_sheet(**{key: wish[key] for key in _SHEET_OPTIONS}),
        preview=kind,
        worksheet=not bare,
    )
    for path, data in ((output, made.pdf), (preview, made.preview)):
        if path is not None:
            write_whole(path, data)
    if as_json:
        _write_object(made.declared)
    else:
        click.echo(f"{output or preview}: {made.summary}")
        for problem in made.problems:
            where = f"line {problem.line}: " if problem.line else ""
            click.echo(f"! {where}{problem.message} [{problem.code}]")


_SHEET_OPTIONS = ("sheet", "paper", "margins", "gaps", "copies", "start", "count_lots", "crop_marks")


@commands.command()
@click.argument("recipes", nargs=-1, required=True, metavar="RECIPE...")
@click.option("-o", "--output", metavar="FILE.pdf", help="Where a page to hang up goes.")
@click.option("--size", default="297x210", show_default=True, help="Of the page, WIDTHxHEIGHT in millimetres.")
@_market
def matrix(recipes: tuple[str, ...], output: str | None, size: str, market: str | None) -> None:
    """Show which food of a stall holds which allergen, as a table and as a page."""
    from labeler.printing import read_size
    from labeler.stall import draw_stall, stall_matrix

    read = [_recipe(recipe) for recipe in recipes]
    found = stall_matrix(read, market=market or str(read[0].head.get("market") or "us"))
    if output is not None:
        from labeler.files import write_whole

        write_whole(output, draw_stall(read, found, size=read_size(size)))
    click.echo(found.to_text())


@commands.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("-o", "--output", metavar="FILE", help="Where it goes; else to standard output.")
@click.option("--form", default="html", show_default=True, help="html (a fragment to paste), markdown or text.")
@click.option("--language", default="en", show_default=True, help="Of the fixed words: en, fr, es, de or it.")
@click.option("--address", default="", help="Where the post is to stand, as https://example.org/my-post.")
@click.option("--heading", default=2, show_default=True, help="Level of the title's heading, 1 to 5.")
@click.option("--whole", is_flag=True, help="The recipe itself too, its ingredient lines and its handling.")
@_market
@_as_json
def post(
    recipe: str,
    output: str | None,
    form: str,
    language: str,
    address: str,
    heading: int,
    whole: bool,
    market: str | None,
    as_json: bool,
) -> None:
    """Make a block to paste into a page: allergens, nutrition, how sure it is, and the same for programs."""
    from labeler.post.forms import render
    from labeler.post.gather import post_content

    content = post_content(_recipe(recipe), market=market, language=language, address=address)
    text = render(content, form=form, heading=heading, whole=whole)
    if output is not None:
        from labeler.files import write_whole

        write_whole(output, text.encode())
    if as_json:
        from labeler.interface import post_object

        _write_object(post_object(content))
    elif output is None:
        sys.stdout.write(text)
    else:
        click.echo(f"{output}: {content.title}, {form}, market {content.market}")


@commands.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("-o", "--output", metavar="FILE.xlsx", help="Where the workbook goes.")
@click.option("--pictures", metavar="FOLDER", help="Where pictures of the figures go, as SVG and PDF.")
@click.option("--fact", "facts", multiple=True, metavar="NAME=VALUE", help="A fact of the sale, as employees=2.")
@_market
@_as_json
def worksheet(
    recipe: str,
    output: str | None,
    pictures: str | None,
    facts: tuple[str, ...],
    market: str | None,
    as_json: bool,
) -> None:
    """Trace every figure of the label: line, food, grams, step, nutrient, rule, printed text."""
    from labeler.duties import read_facts
    from labeler.files import write_whole
    from labeler.worksheet.as_json import worksheet_object
    from labeler.worksheet.build import worksheet as trace

    if output is None and pictures is None and not as_json:
        raise click.UsageError("say where it goes: -o FILE.xlsx, --pictures FOLDER or --json")
    read = _recipe(recipe)
    sale = read_facts(facts) if facts or "sale" in read.head else None
    made = trace(read, market=market, sale=sale)
    written: list[str] = []
    if output is not None:
        from labeler.worksheet.xlsx import write_xlsx

        write_whole(output, write_xlsx(made))
        written.append(output)
    if pictures is not None:
        from labeler.pictures import write_pictures

        written += write_pictures(made, pictures)
    if as_json:
        _write_object(worksheet_object(made))
    else:
        for name in written:
            click.echo(f"{name}: {made.title}, market {made.market}")


@commands.command()
@click.argument("rule", required=False, metavar="[ID]")
@_market
def rules(rule: str | None, market: str | None) -> None:
    """Print a rule of a market with its paragraph, date and status, or the list of all its rules."""
    from labeler.rules.catalogue import describe, list_rules
    from labeler.rules.catalogue import rule as find_rule

    place = market or "us"
    if rule is not None:
        click.echo(describe(find_rule(rule, place)))
        return
    for each in list_rules(place):
        click.echo(f"{each.id:<34} {each.paragraph:<44} {each.says}")


@commands.command()
@click.argument("recipe", metavar="RECIPE")
@_market
@click.option("--fact", "facts", multiple=True, metavar="NAME=VALUE", help="A fact of the sale, as employees=2.")
@_as_json
def duties(recipe: str, market: str | None, facts: tuple[str, ...], as_json: bool) -> None:
    """Say what a market asks of a recipe: serving statement, what must stand on it, claims, tolerances."""
    from labeler.duties import duties as judge
    from labeler.duties import read_facts
    from labeler.interface import duties_object

    found = judge(_recipe(recipe), market=market, facts=read_facts(facts))
    if as_json:
        _write_object(duties_object(found))
    else:
        from labeler.screen import show_duties

        show_duties(found)


commands.add_command(batch)
commands.add_command(bring)
commands.add_command(larder)
commands.add_command(opendata)


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with status 0, or 2 after one line on standard error."""
    # The matrices of a recipe are small: threads of the algebra library would cost more than they bring.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for stream in (sys.stdout, sys.stderr):
        reconfigure: Callable[..., None] | None = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    try:
        status = commands.main(args=arguments, prog_name="labeler", standalone_mode=False)
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message())
        sys.exit(2)
    except click.ClickException as error:
        context = getattr(error, "ctx", None)
        help_with = f"; see {context.command_path} --help" if context else ""
        _complain(error.format_message().rstrip(".") + help_with)
        sys.exit(2)
    except LabelerError as error:
        _complain(str(error))
        sys.exit(2)
    except (KeyboardInterrupt, click.Abort):
        _complain("stopped")
        sys.exit(130)
    except BrokenPipeError:
        # The reader of our output went away, as `head` does: nothing is wrong with the input.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except Exception as error:
        # A fault of the program is no reason to throw its insides at a cook; whoever mends it asks for them.
        if os.environ.get("LABELER_DEBUG"):
            raise
        _complain(
            f"this is a fault of the program, not of your input ({type(error).__name__}: {error}); "
            "please report it with the input; LABELER_DEBUG=1 shows where it happened"
        )
        sys.exit(1)
    sys.exit(status if isinstance(status, int) else 0)


def _complain(message: str) -> None:
    click.echo("labeler: " + " ".join(message.split()), err=True)


if __name__ == "__main__":
    main()
