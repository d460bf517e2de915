"""The worksheet: every printed figure followed back to a line, and amounts that balance on the way."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache

import pytest

from labeler.data_files import data_rows
from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.values import food_values
from labeler.label.builder import gather
from labeler.nutrition.totals import FIGURE_KEYS
from labeler.parsing import read_recipe
from labeler.rules.market import load_market
from labeler.rules.rounding import exact
from labeler.types import LabelerError
from labeler.worksheet.as_json import worksheet_bytes, worksheet_object
from labeler.worksheet.breakdown import WEIGHT
from labeler.worksheet.builder import make_worksheet
from labeler.worksheet.column import Kind, columns
from labeler.worksheet.model import LineRow, StepRow, Worksheet
from labeler.worksheet.names import DATA, nutrient

BRINED = """---
title: Brined cucumber box
makes: 4 boxes
---
## Brined cucumber
- 1 litre water
- 50 g salt
- 3 cucumbers, sliced 3 mm
> soak 8 hours, then drain

## Cakes
- 400 g cod fillet
- 2 eggs
- 80 g breadcrumbs
- 2 tablespoons chopped parsley
> makes 8 cakes

## One box
- 2 pieces Cakes
- 60 g Brined cucumber
- 1 lemon wedge
"""

MORE_THAN_MADE = """---
serves: 2
---
## Sauce
- 100 g butter
- 10 g flour
## Plate
- 150 g Sauce
- 100 g bread
"""

RECIPES = {
    "brined": BRINED,
    "more than made": MORE_THAN_MADE,
    "bare list": "2 cups flour\n1 tsp salt and pepper\n1 tbsp frobnicated zork\n",
    "nothing known": "some frobnicated zork\n",
}
MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")


@cache
def made(name: str, market: str = "us") -> Worksheet:
    recipe = read_recipe(RECIPES[name], source="box.md")
    return make_worksheet(recipe, market=market, facts=gather(recipe, market=market), advice=False)


@pytest.mark.parametrize("name", RECIPES)
@pytest.mark.parametrize("market", ["us", "uk"])
def test_a_printed_figure_is_the_rule_s_text_of_what_its_ingredients_bring(name: str, market: str) -> None:
    """Shares of the ingredients sum to the unrounded amount, and the rule's ladder makes the printed text of it.

    A lower bound of a line that takes one amount off another may be below what is known of its terms.
    """
    found = made(name, market)
    ladders = load_market(market).rules("nutrients")
    for row in found.declared:
        if row.amount is None:
            assert row.printed == "not known"
            continue
        known = sum(share.amount for share in row.shares)
        if row.status == "missing" and any(term.factor < 0 for term in row.made_of):
            assert known >= row.amount
            continue
        assert known == pytest.approx(row.amount, rel=1e-9, abs=1e-12)
        if row.status != "missing" and "zero_if" not in ladders[row.id].data:
            text = ladders[row.rule].data["ladder"].apply(exact(row.amount)).text
            assert row.printed == f"{text} {row.unit}".rstrip()
        assert row.paragraph and row.rule_says and row.reading


@pytest.mark.parametrize("name", RECIPES)
def test_a_share_leads_to_an_ingredient_and_that_to_a_line_with_food_and_grams(name: str) -> None:
    """Every share names a line of the recipe, and the ingredient of that line holds what the share says."""
    found = made(name)
    lines = {row.line: row for row in found.lines}
    written = RECIPES[name].splitlines()
    for row in found.declared:
        if row.basis != "one serving" or len(row.made_of) != 1:
            continue
        (term,) = row.made_of
        for share in row.shares:
            (one,) = (x for x in found.ingredients if (x.line, x.name, x.food) == (share.line, share.name, share.food))
            amount = one.in_dish[term.tag]
            assert (amount or 0.0) * term.factor / found.servings == pytest.approx(share.amount)
            assert share.at_least == (amount is None)
    for one in found.ingredients:
        assert one.line in lines or one.name == "water in the pot"
        if one.line in lines:
            assert lines[one.line].text in written[one.line - 1]


@pytest.mark.parametrize("name", RECIPES)
def test_what_is_put_in_is_in_the_dish_or_has_left_by_a_named_way(name: str) -> None:
    """Weight and every nutrient: put in = in the dish + left over + every stream, and the same by ingredient."""
    found = made(name)
    for balance in found.balances:
        rest = balance.in_dish + balance.left_over + math.fsum(balance.streams.values())
        assert balance.put_in == pytest.approx(rest, rel=1e-9, abs=1e-9)
    whole = {balance.tag: balance for balance in found.balances}
    assert math.fsum(one.in_dish_g for one in found.ingredients) == pytest.approx(whole[WEIGHT].in_dish)
    assert math.fsum(one.put_in_g or 0.0 for one in found.ingredients) == pytest.approx(whole[WEIGHT].put_in)
    lost = math.fsum(left.grams for one in found.ingredients for left in one.left)
    assert lost == pytest.approx(math.fsum(whole[WEIGHT].streams.values()), abs=1e-6)


@pytest.mark.parametrize("name", RECIPES)
def test_totals_are_the_sums_of_the_ingredients(name: str) -> None:
    """Batch figures are the sums of what the ingredients hold; a serving and 100 g are shares of them."""
    found = made(name)
    for total in found.totals:
        known = math.fsum(one.in_dish[total.tag] or 0.0 for one in found.ingredients)
        assert known == pytest.approx(total.batch[0], rel=1e-9, abs=1e-12)
        assert total.per_serving[0] * found.servings == pytest.approx(total.batch[0], rel=1e-9, abs=1e-12)
        if found.batch_g > 0:
            assert total.per_100g[0] * found.batch_g / 100 == pytest.approx(total.batch[0], rel=1e-9, abs=1e-12)
        assert total.batch[1] <= total.batch[0] <= total.batch[2]


@pytest.mark.parametrize("name", RECIPES)
def test_the_account_of_each_part_closes(name: str) -> None:
    """What goes into a part is what leaves it by its steps and what is kept."""
    found = made(name)
    for part in {row.part for row in found.steps}:
        rows = [row for row in found.steps if row.part == part]
        came = math.fsum(row.grams_in or 0.0 for row in rows)
        gone = math.fsum((row.grams_out or 0.0) + (row.grams_kept or 0.0) for row in rows)
        assert came == pytest.approx(gone, abs=1e-6)


def test_food_rows_are_the_table_s_own_figures() -> None:
    """Per 100 g stands what the table prints or what is imputed, and null for neither; nothing unknown is a zero."""
    table = load_table()
    found = made("brined")
    assert len(found.foods) == len({row.food for row in found.foods})
    for row in found.foods:
        for tag, amount in row.amounts.items():
            if tag == "SUGAR_ADDED":
                continue
            value = float(food_values(row.food).best[table.column[tag]])
            assert (amount is None) == math.isnan(value)
            assert amount is None or amount == pytest.approx(value)
            assert (row.status[tag] == "missing") == (amount is None)


def test_a_brine_that_is_poured_off_takes_its_salt_along() -> None:
    """The salt line says how much of it each step took, and more of it went with the brine than is in the dish."""
    found = made("brined")
    (salt,) = (one for one in found.ingredients if one.name == "salt")
    poured = math.fsum(left.amounts["NA"] or 0.0 for left in salt.left if left.stream == "poured off")
    assert poured > 3 * (salt.in_dish["NA"] or 0.0)
    assert any("drain" in left.step for left in salt.left)


def test_a_part_made_eight_times_counts_eight_times() -> None:
    """Grams of the lines of “One box” stand for all four boxes."""
    found = made("brined")
    (lemon,) = (one for one in found.ingredients if "lemon" in one.name)
    (line,) = (row for row in found.lines if "lemon" in row.name)
    assert lemon.put_in_g == pytest.approx(4 * (line.grams or 0.0))


def test_what_nobody_takes_is_left_over() -> None:
    """Cakes and cucumber that no box takes are left over, not lost; a part that is too small is short by that."""
    (weight,) = (balance for balance in made("brined").balances if balance.tag == WEIGHT)
    assert weight.left_over > 0
    (short,) = (balance for balance in made("more than made").balances if balance.tag == WEIGHT)
    assert short.left_over == pytest.approx(-40.0)


def test_an_unknown_food_stays_unknown() -> None:
    """A line without a food is in the sheet without figures, and what is declared of it is not known or at least so."""
    found = made("nothing known")
    (row,) = found.lines
    assert row.food is None and row.grams is None
    (one,) = found.ingredients
    assert one.put_in_g is None and set(one.in_dish.values()) == {None}
    for line in found.declared:
        assert line.status == "missing" and ("not known" in line.printed or "at least" in line.printed)


@pytest.mark.parametrize("market", MARKETS)
def test_every_market_has_its_worksheet(market: str) -> None:
    """Declared values, allergens and sources of each market, with every nutrient named in plain words."""
    found = made("brined", market)
    assert found.declared and found.allergens and found.sources
    assert {row.basis for row in found.declared} == {"one serving", "100 g"}
    assert all(one.name != one.tag and one.name == nutrient(one.tag).name for one in found.nutrients)
    tags = {one.tag for one in found.nutrients}
    assert all(term.tag in tags for row in found.declared for term in row.made_of)
    assert not any(one.name.isupper() and len(one.name) > 3 for one in found.nutrients)


def test_requirements_stand_there_when_facts_of_the_sale_are_given() -> None:
    """Without facts there are none; with them each requirement has its state and rule."""
    recipe = read_recipe(BRINED, source="box.md")
    assert made("brined").requirements == ()
    sale = {"sale": "packed at the stall", "employees": 2}
    found = make_worksheet(recipe, market="us", sale=sale, advice=False)
    assert {"on the label", "whom to ask"} <= {row.kind for row in found.requirements}
    assert all(row.rule for row in found.requirements if row.kind in ("on the label", "exemption"))
    with pytest.raises(LabelerError):
        make_worksheet(recipe, market="us", sale=sale | {"shoe_size": 44}, advice=False)


def test_advice_is_what_the_nutrition_says_to_weigh() -> None:
    """The worksheet repeats it word for word."""
    recipe = read_recipe(BRINED, source="box.md")
    facts = gather(recipe, market="us")
    found = make_worksheet(recipe, market="us", facts=facts)
    assert [row.message for row in found.advice] == [item["message"] for item in facts.nutrition.weigh_next]


def test_the_json_says_the_same_and_is_the_same_each_time() -> None:
    """The object has every field of the worksheet, holds no figure that JSON cannot hold, and never changes."""
    found = made("brined")
    data = worksheet_bytes(found)
    assert data == worksheet_bytes(make_worksheet(read_recipe(BRINED, source="box.md"), market="us", advice=False))
    read = json.loads(data, parse_constant=lambda name: pytest.fail(name))
    assert read == json.loads(json.dumps(worksheet_object(found)))
    assert {"title", "recipe", "lines", "steps", "ingredients", "declared", "weigh_next", "sources"} <= set(read)
    assert len(read["lines"]) == len(found.lines)
    assert set(read["totals"][0]["per_serving"]) == {"best", "low", "high"}


def test_half_a_character_cannot_break_it() -> None:
    """A surrogate, which a JSON escape can bring into a title, is replaced where UTF-8 is written."""
    found = replace(made("brined"), title="A \ud83c B")
    assert json.loads(worksheet_bytes(found))["title"] == "A \ufffd B"


def test_every_nutrient_that_the_kitchen_follows_and_a_label_names_has_a_plain_name() -> None:
    """The names' file knows the kitchen's tags only, each once, and those of every market's panel."""
    named = {row["tag"]: row["name"] for row in data_rows(DATA / "nutrient_names.csv")}
    assert len(named) == len(data_rows(DATA / "nutrient_names.csv")) == len(set(named.values()))
    assert set(named) <= set(FIGURE_KEYS)
    for market in MARKETS:
        for rule in load_market(market).rules("nutrients").values():
            assert {tag for tag in rule.data.get("formula", ()) if tag in FIGURE_KEYS} <= set(named)
    for row in data_rows(DATA / "sources.csv"):
        assert set(row) == {"word", "used_for", "title", "edition", "kind"} and all(row.values())


def test_every_column_says_what_it_is() -> None:
    """Headings are there and differ within a sheet, and each column has its sentence."""
    for kind in (LineRow, StepRow):
        found = columns(kind)
        assert len({column.heading for column in found}) == len(found)
        assert all(column.says and column.width > 0 and column.kind is not Kind.HIDDEN for column in found)
