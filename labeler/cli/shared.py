"""What the commands share: their options, how a recipe and a larder are read, how answers are written."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from labeler.markets import MARKETS

if TYPE_CHECKING:
    from labeler.larder.file import Larder
    from labeler.parsing.model import Recipe

__all__ = ["json_option", "larder_of", "market_option", "recipe_of", "which_of", "which_option", "write_object",
           "write_rows"]  # fmt: skip

json_option = click.option("--json", "as_json", is_flag=True, help="Write JSON instead of a table.")
market_option = click.option(
    "--market",
    type=click.Choice(MARKETS),
    default=None,
    help="Whose rules hold; else the recipe's own `market`, else us.",
)

_WHICH = "labeler.which"


def _keep_which(context: click.Context, _: click.Parameter, value: int | None) -> None:
    context.meta[_WHICH] = value


which_option = click.option(
    "--which",
    type=click.IntRange(min=1),
    metavar="N",
    expose_value=False,
    callback=_keep_which,
    help="Of several recipes in the file, which; else the longest.",
)
"""For every command that reads one recipe: `recipe_of` takes that one."""


def which_of() -> int | None:
    """Which of several recipes the running command was asked for."""
    context = click.get_current_context(silent=True)
    return context.meta.get(_WHICH) if context is not None else None


def write_object(item: dict[str, Any]) -> None:
    """One answer as JSON on standard output."""
    sys.stdout.write(json.dumps(item, ensure_ascii=False, indent=1) + "\n")


def write_rows(items: Iterable[dict[str, Any]]) -> None:
    """Answers as JSON Lines on standard output."""
    sys.stdout.writelines(json.dumps(item, ensure_ascii=False) + "\n" for item in items)


def recipe_of(source: str, *, tells: bool = False) -> Recipe:
    """The recipe in a file or on standard input, with the larder that stands with it.

    Parameters
    ----------
    source : str
    tells : bool
        True where the answer lists the recipe's problems; else a larder that could not be read is said here.
    """
    from labeler.importers.read_any import read_any

    recipe = read_any(source, which=which_of())
    if not tells:
        _say_unread(recipe.larder)
    return recipe


def larder_of(source: str) -> Larder | None:
    """The larder that stands with a file of lines; what of it could not be read is said on standard error."""
    from labeler.larder.find import find_larder

    larder = find_larder(source)
    _say_unread(larder)
    return larder


def _say_unread(larder: Any) -> None:
    from labeler.cli.terminal import say_problems

    say_problems(getattr(larder, "problems", ()), err=True)
