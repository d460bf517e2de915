"""The command that shows how the method was read: what happens to each ingredient, as table, data or drawing."""

from __future__ import annotations

from typing import Any

import click

from labeler.cli.shared import json_option, market_option, recipe_of, which_option, write_object
from labeler.files import check_ending

__all__ = ["method"]

DRAWS = 300
"""Draws behind the intervals of kept shares: enough for their two digits."""

DUST = 0.5
"""Weight below which the table does not say that something leaves [g]."""


@click.command()
@click.argument("recipe", metavar="RECIPE")
@click.option("-o", "--output", metavar="FILE.svg|FILE.pdf", help="Where a drawing of it goes.")
@which_option
@market_option
@json_option
def method(recipe: str, output: str | None, market: str | None, as_json: bool) -> None:
    """Show what happens to each ingredient, step by step: what enters where, what leaves, what is in the dish."""
    from labeler.flow_diagram import flow_pdf, flow_picture, flow_svg
    from labeler.flow_diagram.as_json import method_object
    from labeler.nutrition.analysis import analyse

    check_ending(output, (".svg", ".pdf"), what="a drawing of the method")
    made = analyse(recipe_of(recipe, tells=True), market=market, draws=DRAWS)
    dish = made.dish
    assert dish.flow is not None
    if output is not None:
        from labeler.files import write_whole

        picture = flow_picture(made.weighed, dish, dish.flow, dish.carried)
        write_whole(output, flow_svg(picture).encode() if output.lower().endswith(".svg") else flow_pdf(picture))
    found = method_object(made.weighed, dish, dish.flow, dish.carried, problems=made.problems)
    if as_json:
        write_object(found)
    elif output is not None:
        click.echo(f"{output}: {found['title']}")
    else:
        show_method(found)


def show_method(found: dict[str, Any]) -> None:
    """The steps with what they take and what leaves, and the ingredients with what of them is in the dish."""
    from labeler.cli.terminal import console_of, say, table_of
    from labeler.flow_diagram.words import grams_in_words, percent

    console = console_of()
    names = {(one["line"], at): one["name"] for at, one in enumerate(found["ingredients"])}
    steps = table_of("step", "as written", "takes", "leaves", numbers=(0,), least={1: 20, 2: 14, 3: 12})
    for step in found["steps"]:
        takes = [
            _of(share, names[one["line"], at])
            for at, one in enumerate(found["ingredients"])
            for share in [entry["share"] for entry in one["enters"] if entry["step"] == step["id"]]
        ]
        takes += [
            f"step {stream['from']}" + (f" ({stream['name']})" if stream["name"] else "")
            for stream in found["streams"]
            if stream["to"] == step["id"]
        ]
        leaves = [
            f"{stream['name']} {grams_in_words(stream['grams']['best'])}"
            for stream in found["streams"]
            if stream["to"] == "leaves" and stream["from"] == step["id"] and abs(stream["grams"]["best"]) >= DUST
        ]
        mark = "" if step["basis"] == "written" else " (taken to be)"
        steps.add_row(step["id"], f"{step['text'] or step['action']}{mark}", ", ".join(takes), ", ".join(leaves))
    console.print(steps)
    kept = table_of("ingredient", "grams", "enters step", "in the dish", "between", numbers=(1, 3, 4))
    for one in (*found["ingredients"], *(entry | {"enters": None} for entry in found["unlisted"])):
        share = one["kept"]
        grams = "—" if one["grams"] is None else grams_in_words(one["grams"]["best"])
        if one["enters"] is None:
            enters = "in no line"
        else:
            enters = ", ".join(entry["step"] for entry in one["enters"]) or "none"
        if share["best"] is None:
            kept.add_row(one["name"], grams, enters, "—", "")
        else:
            between = f"{percent(share['low'])} – {percent(share['high'])}"
            kept.add_row(one["name"], grams, enters, percent(share["best"]), between)
    console.print(kept)
    for reading in found["readings"]:
        say(f"{reading['question']} (That is {percent(reading['probability'])} likely.)", mark="?")
    for unread in found["unread"]:
        say(f"line {unread['line']}: not read: “{unread['text']}”", mark="!")
    for problem in found["problems"]:
        where = f"line {problem['line']}: " if problem["line"] else ""
        say(f"{where}{problem['message']} [{problem['code']}]", mark="!")


def _of(share: float | None, name: str) -> str:
    from labeler.flow_diagram.words import percent

    return name if share is None or share > 0.995 else f"{percent(share)} of {name}"
