"""The commands of open data; each imports what it needs when it runs."""

from __future__ import annotations

import datetime
import json
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from labeler.open_data.found import FoundFood

__all__ = ["opendata"]

_offline = click.option("--offline", is_flag=True, help="Ask nobody; serve what is kept.")
_as_json = click.option("--json", "as_json", is_flag=True, help="Write JSON instead of text.")
_name = click.option("--name", default="", help="What you call it in recipes, instead of the service's name.")
_keep = click.option("--keep", is_flag=True, help="Put it into the larder without asking.")
_where = click.option("--larder", "place", metavar="FILE", help="The larder file that it goes into.")


@click.group()
def opendata() -> None:
    """Open food data over the network: look a food up, look it over, put it into the larder."""


@opendata.command()
@click.argument("words", nargs=-1, required=True)
@_offline
@_as_json
def search(words: tuple[str, ...], offline: bool, as_json: bool) -> None:
    """Search the foods of FoodData Central (USDA, CC0) by words."""
    from labeler.open_data.fooddata import search as find

    hits = find(" ".join(words), offline=offline)
    if as_json:
        for hit in hits:
            answer = {"id": hit.id, "description": hit.description, "kind": hit.kind, "brand": hit.brand}
            click.echo(json.dumps(answer, ensure_ascii=False))
        return
    if not hits:
        click.echo("nothing found; try fewer words")
    for hit in hits:
        brand = f", {hit.brand}" if hit.brand else ""
        click.echo(f"{hit.id:>8}  {hit.description}{brand} ({hit.kind})")


@opendata.command()
@click.argument("id")
@_name
@_keep
@_offline
@_where
@_as_json
def food(id: str, name: str, keep: bool, offline: bool, place: str | None, as_json: bool) -> None:
    """Look a food of FoodData Central (USDA, CC0) over by its id."""
    from labeler.open_data.fooddata import food as fetch

    _offer(fetch(id, offline=offline), name, keep, place, as_json)


@opendata.command()
@click.argument("bar_code")
@_name
@_keep
@_offline
@_where
@_as_json
def pack(bar_code: str, name: str, keep: bool, offline: bool, place: str | None, as_json: bool) -> None:
    """Look a package of Open Food Facts (ODbL) over by its bar code."""
    from labeler.open_data.foodfacts import package

    _offer(package(bar_code, offline=offline), name, keep, place, as_json)


def _offer(found: FoundFood, name: str, keep: bool, place: str | None, as_json: bool) -> None:
    """Show what was found with all that is odd about it; into the larder only where the cook accepts it."""
    from labeler.cli.larder import food_object, larder_target
    from labeler.larder.check import check_food
    from labeler.larder.file import add_food

    entry = replace(found.food, name=" ".join(name.split()) or found.food.name)
    if name.strip() and found.food.name != entry.name:
        entry = replace(entry, other_names=(found.food.name,))
    own, checked = check_food(entry, today=datetime.date.today())
    problems = (*found.problems, *checked)
    if as_json:
        stated = food_object(entry, own, problems) | {"address": found.address}
        sys.stdout.write(json.dumps(stated, ensure_ascii=False, indent=1) + "\n")
    else:
        from labeler.cli.larder_tables import show_food

        show_food(entry, own, problems)
    if not keep:
        asked = sys.stdin.isatty() and sys.stdout.isatty() and not as_json
        if not asked:
            click.echo("not kept; to put it into the larder run this again with --keep", err=True)
            return
        if not click.confirm("Put it into the larder?", default=False):
            return
    target = larder_target(place)
    add_food(target, entry)
    click.echo(f"{target}: {entry.name} added, from {entry.source}", err=as_json)
