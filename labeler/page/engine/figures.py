"""Figures: what is in a serving, how sure that is, what to measure next, allergens and the account of the method."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from labeler.markets import market_of
from labeler.page.engine.reading import Object, Text, larder_stamp, recipe_of

if TYPE_CHECKING:
    from labeler.nutrition.analysis import Nutrition

__all__ = ["advice", "allergens", "analysed", "brings", "figures"]


@lru_cache(maxsize=6)
def _analysed(given: Text, stamp: tuple[tuple[str, int, int], ...]) -> Nutrition:
    from labeler.nutrition.analysis import analyse

    return analyse(recipe_of(given), market=given.market or None)


def analysed(given: Text) -> Nutrition:
    """The nutrition of a text, remembered for what is asked next of the same text."""
    return _analysed(given, larder_stamp(given.path))


def figures(given: Text) -> Object:
    """The object of ``labeler nutrition`` without its advice, which takes longer, and with what brings each figure."""
    from labeler.as_json import nutrition_object

    nutrition = analysed(given)
    found = nutrition_object(nutrition, quick=True)
    found["serving_basis"] = nutrition.serving_basis
    found["household"] = nutrition.portion.household
    found["pack_g"] = nutrition.portion.pack_g
    found["packs"] = nutrition.portion.packs
    found["market"] = nutrition.market
    found["batch_g"] = float(nutrition.dish.mix.total_mass[0])
    return found


def advice(given: Text) -> list[Object]:
    """What to measure next for surer figures, each with what to type and where."""
    from labeler.page.mends import mend_of_advice

    nutrition = analysed(given)
    return [dict(item) | {"mend": mend_of_advice(dict(item), nutrition, given.text)} for item in nutrition.weigh_next]


def allergens(given: Text) -> Object:
    """The object of ``labeler allergens`` with the line of each finding, the statement of a label, and the cautions."""
    from labeler.allergens import assess, statement
    from labeler.as_json import allergen_object
    from labeler.food_safety import cautions
    from labeler.foods.resolve import weigh

    recipe = recipe_of(given)
    place = market_of(recipe, given.market)
    weighed = weigh(recipe, market=place)
    found = assess(weighed, market=place)
    lines = [line for part in recipe.parts for line in part.lines]
    answer = allergen_object(found) | {"market": place, "statement": statement(found, place).text}
    for finding in (*answer["contains"], *answer["read_the_package"]):
        at = next((line for line in lines if finding["from"].startswith(line.text)), None)
        finding["line"] = at.number if at is not None else None
        finding["food"] = at.name if at is not None else ""
    answer["cautions"] = [
        {
            "code": one.code,
            "text": one.text,
            "place": one.place,
            "citation": one.citation,
            "because": list(one.because),
        }
        for one in cautions(weighed, market=place)
    ]
    return answer


BROUGHT = ("ENERC_KCAL", "FAT", "FASAT", "CHOCDF", "SUGAR", "FIBTG", "PROCNT", "NA")
"""Nutrients of which is shown what brings them."""


def brings(given: Text) -> list[Object]:
    """What each ingredient puts in and what of it is on the plate, in grams and by nutrient, of the whole batch."""
    from labeler.worksheet.as_json import worksheet_object
    from labeler.worksheet.builder import make_worksheet

    rows = worksheet_object(make_worksheet(recipe_of(given), market=given.market or None, advice=False))["ingredients"]
    return [
        {key: row[key] for key in ("line", "part", "name", "put_in_g", "in_dish_g")}
        | {side: {tag: row[side].get(tag) for tag in BROUGHT} for side in ("put_in", "in_dish")}
        for row in rows
    ]
