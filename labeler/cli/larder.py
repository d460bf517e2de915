"""The commands of the larder; each imports what it needs when it runs."""

from __future__ import annotations

import datetime
import json
import sys
from typing import TYPE_CHECKING, Any

import click

from labeler.json_numbers import json_number
from labeler.types import LabelerError

if TYPE_CHECKING:
    from labeler.foods.user_foods import UserFood
    from labeler.larder.model import LarderFood
    from labeler.types import Problem

__all__ = ["food_object", "larder", "larder_target"]

_where = click.option(
    "--larder",
    "place",
    metavar="FILE",
    help="The larder file; else larder.toml here, else the one in your data folder.",
)
_as_json = click.option("--json", "as_json", is_flag=True, help="Write JSON instead of text.")


@click.group()
def larder() -> None:
    """Your own packaged foods: panel, ingredient list and weight as the package prints them."""


def _foods(place: str | None) -> tuple[LarderFood, ...]:
    from labeler.larder.file import read_larder
    from labeler.larder.find import larder_paths

    if place is not None:
        return read_larder(place)
    paths = [path for path in larder_paths("-") if path.is_file()]
    return tuple(food for path in paths for food in read_larder(str(path)))


def larder_target(place: str | None) -> str:
    """The larder file that a food goes into: the one named, else the one here, else the user's own."""
    from labeler.larder.find import larder_paths, user_larder

    beside = larder_paths("-")[0]
    return place or str(beside if beside.is_file() else user_larder())


def _entry(name: str, place: str | None) -> LarderFood:
    from labeler.larder.file import Larder
    from labeler.rules.loading.reader import nearest

    foods = _foods(place)
    found = Larder(foods).entry(name)
    if found is None:
        hint = nearest(name, (each for food in foods for each in food.names)) if foods else "; the larder is empty"
        raise LabelerError(f"“{name}”: the larder has no such food{hint}")
    return found


def food_object(food: LarderFood, own: UserFood, problems: tuple[Problem, ...]) -> dict[str, Any]:
    """A larder food as JSON: what the package says, and what it was completed to per 100 g."""

    return {
        "id": food.id,
        "name": food.name,
        "other_names": list(food.other_names),
        "like": own.like,
        "per": food.per,
        "rounded_under": food.rounded_under,
        "panel": dict(food.panel),
        "per_100g": {
            key: {
                "best": json_number(one.best),
                "low": json_number(one.low),
                "high": json_number(one.high),
                "status": one.status.words,
            }
            for key, one in own.per_100g.items()
        },
        "ingredients": food.ingredients,
        "contains": own.contains,
        "may_contain": own.may_contain,
        "measures": {unit: json_number(weight.best) for unit, weight in own.measures.items()},
        "bar_code": food.bar_code,
        "read_on": food.read_on.isoformat() if food.read_on else None,
        "source": own.basis,
        "licence": food.licence,
        "problems": [{"code": problem.code, "message": problem.message} for problem in problems],
    }


@larder.command("list")
@_where
@_as_json
def list_foods(place: str | None, as_json: bool) -> None:
    """List the foods of the larder."""
    foods = _foods(place)
    if as_json:
        for food in foods:
            click.echo(json.dumps({"id": food.id, "name": food.name, "file": food.file}, ensure_ascii=False))
        return
    if not foods:
        click.echo(f"the larder is empty; add a food with: labeler larder add --name “...” ({larder_target(place)})")
    for food in foods:
        others = f" ({', '.join(food.other_names)})" if food.other_names else ""
        dated = f", read {food.read_on.isoformat()}" if food.read_on else ""
        panel = f"panel of {food.per}" if food.panel and food.per else "panel" if food.panel else "no panel"
        click.echo(f"{food.name}{others}: {panel}{dated}")


@larder.command()
@click.argument("name")
@_where
@_as_json
def show(name: str, place: str | None, as_json: bool) -> None:
    """Show one food: what its package says, and what is made of it per 100 g."""
    from labeler.larder.check import check_food

    food = _entry(name, place)
    own, problems = check_food(food, today=datetime.date.today())
    if as_json:
        sys.stdout.write(json.dumps(food_object(food, own, problems), ensure_ascii=False, indent=1) + "\n")
    else:
        from labeler.cli.larder_tables import show_food

        show_food(food, own, problems)


@larder.command()
@_where
@_as_json
def check(place: str | None, as_json: bool) -> None:
    """Check every food of the larder: figures that cannot stand together, old packages, what was completed."""
    from labeler.cli.terminal import say_problems
    from labeler.larder.check import check_food

    for food in _foods(place):
        _, problems = check_food(food, today=datetime.date.today())
        if as_json:
            words = [{"code": problem.code, "message": problem.message} for problem in problems]
            click.echo(json.dumps({"id": food.id, "name": food.name, "problems": words}, ensure_ascii=False))
            continue
        click.echo(f"{food.name}: {'to settle' if problems else 'nothing to settle'}")
        say_problems(problems)


@larder.command()
@click.option("--name", required=True, help="As you call it in recipes.")
@click.option("--also", "other_names", multiple=True, metavar="NAME", help="Another name for it.")
@click.option("--per", default="", help="What the panel is of: “100 g”, “1 tablespoon (14 g)”.")
@click.option("--rounded-under", default="none", show_default=True, help="Market whose rounding it was printed under.")
@click.option(
    "--value", "values", multiple=True, metavar="LINE=FIGURE", help="A line of the panel, as total_fat=“7 g”."
)
@click.option("--ingredients", default="", help="The ingredient list as printed.")
@click.option("--contains", default="", help="The allergen statement as printed.")
@click.option("--may-contain", default="", help="The warning of traces as printed.")
@click.option("--net", default="", help="Net weight as printed.")
@click.option("--measure", "measures", multiple=True, metavar="UNIT=WEIGHT", help="What one weighs, as slice=“28 g”.")
@click.option("--like", default="", help="The table food that it is like, by id or name.")
@click.option("--bar-code", default="", help="Its bar code.")
@click.option("--read-on", default=None, metavar="DATE", help="When you read the package; else today.")
@_where
@_as_json
def add(
    name: str,
    other_names: tuple[str, ...],
    per: str,
    rounded_under: str,
    values: tuple[str, ...],
    ingredients: str,
    contains: str,
    may_contain: str,
    net: str,
    measures: tuple[str, ...],
    like: str,
    bar_code: str,
    read_on: str | None,
    place: str | None,
    as_json: bool,
) -> None:
    """Add a food to the larder, its figures as the package prints them."""
    from labeler.larder.check import REFUSED, check_food
    from labeler.larder.file import add_food
    from labeler.larder.model import LarderFood

    today = datetime.date.today()
    try:
        day = datetime.date.fromisoformat(read_on) if read_on else today
    except ValueError:
        raise LabelerError(f"--read-on {read_on}: is no date such as 2026-03-02") from None
    if not name.strip():
        raise LabelerError("--name: the food needs a name, as you call it in recipes")
    food = LarderFood(
        " ".join(name.split()),
        other_names,
        per=per,
        rounded_under=rounded_under.lower(),
        panel=_pairs(values, "--value", "total_fat=“7 g”"),
        ingredients=" ".join(ingredients.split()),
        contains=contains,
        may_contain=may_contain,
        net=net,
        measures=_pairs(measures, "--measure", "slice=“28 g”"),
        like=like,
        bar_code=bar_code,
        read_on=day,
    )
    own, problems = check_food(food, today=today)
    wrong = [problem.message.rstrip(".") for problem in problems if problem.code in REFUSED]
    if wrong:
        raise LabelerError(f"not added: {'; '.join(wrong)}")
    target = larder_target(place)
    add_food(target, food)
    if as_json:
        sys.stdout.write(json.dumps(food_object(food, own, problems), ensure_ascii=False, indent=1) + "\n")
    else:
        from labeler.cli.terminal import say_problems

        click.echo(f"{target}: {food.name} added")
        say_problems(problems)


def _pairs(given: tuple[str, ...], option: str, example: str) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for pair in given:
        key, equals, value = pair.partition("=")
        if not equals or not key.strip() or not value.strip():
            raise LabelerError(f"{option} {pair}: write {example}")
        pairs[key.strip()] = value.strip()
    return pairs
