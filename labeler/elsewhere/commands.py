"""The command that brings a recipe in from elsewhere."""

from __future__ import annotations

import sys

import click

__all__ = ["bring"]


@click.command()
@click.argument("source", metavar="FILE|-")
@click.option("-o", "--output", metavar="FILE.md", help="Where the recipe file goes; else to standard output.")
@click.option("--form", default=None, help="page, json, text or table, where the file does not show it.")
@click.option("--which", type=int, default=None, metavar="N", help="Of several recipes in the file, which.")
def bring(source: str, output: str | None, form: str | None, which: int | None) -> None:
    """Turn a saved web page, JSON, pasted text or a table into a recipe file of your own."""
    from labeler.elsewhere.reading import FORMS, carry, form_of
    from labeler.elsewhere.write import recipe_text
    from labeler.files import check_ending, read_bytes, write_whole

    if form is not None and form not in FORMS:
        raise click.UsageError(f"--form {form}: is none of {', '.join(FORMS)}")
    check_ending(output, (".md", ".txt"), what="a recipe")
    name = "standard input" if source == "-" else source
    data = read_bytes(source)
    found = carry(data, form or form_of(data, source) or "text", name, which=which)
    text = recipe_text(found)
    for problem in found.problems:
        click.echo(f"! {problem.message} [{problem.code}]", err=True)
    if output is None:
        sys.stdout.write(text)
    else:
        write_whole(output, text.encode())
        click.echo(f"{output}: {found.title or 'a recipe without a title'}, {found.size} ingredients")
