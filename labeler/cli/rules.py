"""Commands about the rules of a market: the rules themselves, and what they ask of a recipe."""

from __future__ import annotations

import click

from labeler.cli.shared import json_option, market_option, recipe_of, which_option, write_object, write_rows

__all__ = ["requirements", "rules"]


@click.command()
@click.argument("rule", required=False, metavar="[ID]")
@market_option
@json_option
def rules(rule: str | None, market: str | None, as_json: bool) -> None:
    """Print a rule of a market with its paragraph, date and status, or the list of all its rules."""
    from labeler.as_json import rule_object
    from labeler.cli.tables import show_rules
    from labeler.rules.catalogue import describe, list_rules
    from labeler.rules.catalogue import rule as find_rule

    place = market or "us"
    if rule is not None:
        found = find_rule(rule, place)
        if as_json:
            write_object(rule_object(found))
        else:
            click.echo(describe(found))
    elif as_json:
        write_rows(rule_object(each) for each in list_rules(place))
    else:
        show_rules(list_rules(place))


@click.command()
@click.argument("recipe", metavar="RECIPE")
@which_option
@market_option
@click.option("--fact", "facts", multiple=True, metavar="NAME=VALUE", help="A fact of the sale, as employees=2.")
@json_option
def requirements(recipe: str, market: str | None, facts: tuple[str, ...], as_json: bool) -> None:
    """Say what a market asks of a recipe: serving statement, what must stand on it, claims, tolerances."""
    from labeler.as_json import requirements_object
    from labeler.rules.requirements import read_facts
    from labeler.rules.requirements import requirements as judge

    found = judge(recipe_of(recipe), market=market, facts=read_facts(facts))
    if as_json:
        write_object(requirements_object(found))
    else:
        from labeler.cli.tables import show_requirements

        show_requirements(found)
