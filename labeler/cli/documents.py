"""Commands that make something to print, to hang up or to paste."""

from __future__ import annotations

import sys
from typing import Any

import click

from labeler.cli.shared import json_option, market_option, recipe_of, which_option, write_object
from labeler.files import check_ending
from labeler.markets import market_of

__all__ = ["label", "matrix", "post", "worksheet"]


@click.command()
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
@click.option("--gauge", is_flag=True, help="A line of 50 mm on every sheet, to see a shrunk print by.")
@click.option("--preview", metavar="FILE.png|FILE.svg", help="The same drawing as a picture.")
@click.option("--attach", is_flag=True, help="Attach the worksheet to the PDF; it holds the whole recipe.")
@click.option("--figures/--no-figures", default=None, help="Nutrition figures; else as the sale asks.")
@click.option("--fact", "facts", multiple=True, metavar="NAME=VALUE", help="A fact of the sale, as employees=2.")
@click.option("--final", is_flag=True, help="Refuse a label that lacks something, in place of marking it as a draft.")
@click.option("--anyway", is_flag=True, help="Print a draft even where the recipe's reading is refused.")
@which_option
@market_option
@json_option
def label(
    recipe: str,
    output: str | None,
    preview: str | None,
    market: str | None,
    facts: tuple[str, ...],
    as_json: bool,
    **wish: Any,
) -> None:
    """Print the label of a recipe as a PDF; --json writes the declared values and statements as printed."""
    from labeler.cli.terminal import say, say_problems
    from labeler.files import write_whole
    from labeler.label.make import make_label, read_sheet
    from labeler.rules.requirements import read_facts
    from labeler.worksheet.builder import attachment

    if output is None and preview is None and not as_json:
        raise click.UsageError("say where the PDF goes: -o FILE.pdf")
    check_ending(output, (".pdf",), what="a label")
    check_ending(preview, (".png", ".svg"), what="a preview", option="--preview")
    if wish["sheet"] is None and wish["paper"] != "roll":
        idle = [f"--{name.replace('_', '-')}" for name in _SHEET_OPTIONS if _is_given(name)]
        if idle:
            raise click.UsageError(f"{' and '.join(idle)} speak of sheets; add --sheet ROWSxCOLUMNS, as --sheet 8x3")
    kind = None if preview is None else preview.rpartition(".")[2].lower()
    made = make_label(
        recipe_of(recipe, tells=True),
        layout=wish["layout"],
        size=wish["size"],
        market=market,
        colour=wish["colour"],
        panel=wish["panel"],
        address=wish["address"],
        language=wish["language"],
        sheet=read_sheet(**{key: wish[key] for key in _SHEET_OPTIONS}),
        preview=kind,
        worksheet=attachment if wish["attach"] else None,
        figures=wish["figures"],
        sale_facts=read_facts(facts),
        final=wish["final"],
        anyway=wish["anyway"],
    )
    for path, data in ((output, made.pdf), (preview, made.preview)):
        if path is not None:
            write_whole(path, data)
    if as_json:
        write_object(made.declared)
    else:
        click.echo(f"{output or preview}: {made.summary}")
        if made.check.lacks:
            say(f"{made.check.says[0].upper()}{made.check.says[1:]}.")
        say_problems(made.problems)


def _is_given(option: str) -> bool:
    """Whether an option of the running command was typed."""
    source = click.get_current_context().get_parameter_source(option)
    return source not in (None, click.core.ParameterSource.DEFAULT)


_SHEET_OPTIONS = ("sheet", "paper", "margins", "gaps", "copies", "start", "count_lots", "crop_marks", "gauge")


@click.command()
@click.argument("recipes", nargs=-1, required=True, metavar="RECIPE...")
@click.option("-o", "--output", metavar="FILE.pdf", help="Where a page to hang up goes.")
@click.option("--size", default="297x210", show_default=True, help="Of the page, WIDTHxHEIGHT in millimetres.")
@market_option
@json_option
def matrix(recipes: tuple[str, ...], output: str | None, size: str, market: str | None, as_json: bool) -> None:
    """Show which food of a stall holds which allergen, as a table and as a page."""
    from labeler.label.allergen_matrix import draw_stall, stall_matrix
    from labeler.label.make import read_size

    check_ending(output, (".pdf",), what="a page")
    read = [recipe_of(recipe) for recipe in recipes]
    found = stall_matrix(read, market=market_of(read[0], market))
    if output is not None:
        from labeler.files import write_whole

        write_whole(output, draw_stall(read, found, size=read_size(size)))
    if as_json:
        from labeler.as_json import matrix_object

        write_object(matrix_object(found))
    else:
        from labeler.cli.tables import show_matrix

        show_matrix(found)


POST_ENDINGS = {"html": (".html", ".htm"), "markdown": (".md", ".markdown"), "text": (".txt",)}


@click.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("-o", "--output", metavar="FILE", help="Where it goes: .html, .md or .txt; else to standard output.")
@click.option("--form", help="html (a fragment to paste), markdown or text; else as FILE ends, else html.")
@click.option("--language", default="en", show_default=True, help="Of the fixed words: en, fr, es, de or it.")
@click.option("--address", default="", help="Where the post is to stand, as https://example.org/my-post.")
@click.option("--heading", default=2, show_default=True, help="Level of the title's heading, 1 to 5.")
@click.option("--whole", is_flag=True, help="The recipe itself too, its ingredient lines and its handling.")
@click.option("--figures/--no-figures", default=None, help="Nutrition figures; else as the sale asks.")
@click.option("--anyway", is_flag=True, help="Make a draft even where the recipe's reading is refused.")
@which_option
@market_option
@json_option
def post(
    recipe: str,
    output: str | None,
    form: str | None,
    language: str,
    address: str,
    heading: int,
    whole: bool,
    figures: bool | None,
    anyway: bool,
    market: str | None,
    as_json: bool,
) -> None:
    """Make a block to paste into a page: allergens, nutrition, how sure it is, and the same for programs."""
    from labeler.post.builder import post_content
    from labeler.post.forms import check_form, render

    if form is None:
        form = next((one for one, endings in POST_ENDINGS.items() if (output or "").lower().endswith(endings)), "html")
    check_form(form, heading)
    check_ending(output, POST_ENDINGS[form], what=f"a post as {form}")
    content = post_content(
        recipe_of(recipe), market=market, language=language, address=address, figures=figures, anyway=anyway
    )
    text = render(content, form=form, heading=heading, whole=whole)
    if output is not None:
        from labeler.files import write_whole

        write_whole(output, text.encode())
    if as_json:
        from labeler.as_json import post_object

        write_object(post_object(content))
    elif output is None:
        sys.stdout.write(text)
    else:
        click.echo(f"{output}: {content.title}, {form}, market {content.market}")


@click.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("-o", "--output", metavar="FILE.xlsx", help="Where the workbook goes.")
@click.option("--pictures", metavar="FOLDER", help="Where pictures of the figures go, as SVG and PDF.")
@click.option("--fact", "facts", multiple=True, metavar="NAME=VALUE", help="A fact of the sale, as employees=2.")
@which_option
@market_option
@json_option
def worksheet(
    recipe: str,
    output: str | None,
    pictures: str | None,
    facts: tuple[str, ...],
    market: str | None,
    as_json: bool,
) -> None:
    """Trace every figure of the label: line, food, grams, step, nutrient, rule, printed text."""
    from labeler.files import write_whole
    from labeler.rules.requirements import read_facts
    from labeler.worksheet.as_json import worksheet_object
    from labeler.worksheet.builder import make_worksheet

    if output is None and pictures is None and not as_json:
        raise click.UsageError("say where it goes: -o FILE.xlsx, --pictures FOLDER or --json")
    check_ending(output, (".xlsx",), what="a worksheet")
    read = recipe_of(recipe)
    sale = read_facts(facts) if facts or "sale" in read.head else None
    made = make_worksheet(read, market=market, sale=sale)
    written: list[str] = []
    if output is not None:
        from labeler.worksheet.xlsx import write_xlsx

        write_whole(output, write_xlsx(made))
        written.append(output)
    if pictures is not None:
        from labeler.charts import write_pictures

        written += write_pictures(made, pictures)
    if as_json:
        write_object(worksheet_object(made))
    else:
        for name in written:
            click.echo(f"{name}: {made.title}, market {made.market}")
