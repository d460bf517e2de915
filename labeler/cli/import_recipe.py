"""The command that writes any recipe as a recipe file."""

from __future__ import annotations

import sys

import click

__all__ = ["import_file"]


@click.command("import")
@click.argument("source", metavar="FILE|-")
@click.option("-o", "--output", metavar="FILE.md", help="Where the recipe file goes; else to standard output.")
@click.option("--form", default=None, help="page, json, text or table, where the file does not show it.")
@click.option("--which", type=int, default=None, metavar="N", help="Of several recipes in the file, which.")
def import_file(source: str, output: str | None, form: str | None, which: int | None) -> None:
    """Write a web page, JSON, pasted text, Markdown or a table as a recipe file."""
    from labeler.files import check_ending, read_bytes, write_whole
    from labeler.importers.reading import FORMS, as_recipe_file, form_of, import_recipe

    if form is not None and form not in FORMS:
        raise click.UsageError(f"--form {form}: is none of {', '.join(FORMS)}")
    check_ending(output, (".md", ".txt"), what="a recipe")
    name = "standard input" if source == "-" else source
    data = read_bytes(source)
    form = form or form_of(data, source)
    recipe = import_recipe(data, form, name, which=which)
    text = as_recipe_file(data, form, recipe)
    for problem in recipe.problems:
        click.echo(f"! {problem.message} [{problem.code}]", err=True)
    if output is None:
        sys.stdout.write(text)
    else:
        write_whole(output, text.encode())
        count = sum(len(part.lines) for part in recipe.parts)
        click.echo(f"{output}: {recipe.title or 'a recipe without a title'}, {count} ingredients")
