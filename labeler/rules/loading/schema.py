"""What each kind of rule must hold: the keys of a rule file and the check of every value.

A market is a folder of files that follow this schema; a new kind of rule is a new entry of `KINDS`.
"""

from __future__ import annotations

from typing import Any

from labeler.rules.label_elements import Condition, Element
from labeler.rules.loading.reader import Fields, Where
from labeler.rules.loading.value_checks import (
    amount,
    cell_fraction,
    cell_number,
    count,
    day,
    fields_of,
    fraction,
    list_of,
    map_of,
    number,
    one_of,
    positive,
    separated,
    text,
    truth,
    words,
)
from labeler.rules.makeup import conditions
from labeler.rules.model import READINGS
from labeler.rules.rounding import Band, Ladder

__all__ = ["CITATION", "KINDS", "MARKET", "SALES", "SOURCE", "STATES", "TABLES"]

# The courses that a band may choose; serving.py carries them out.
COURSES = (
    "closest units",
    "one or two units",
    "one unit",
    "closest amount and a column per unit",
    "closest amount",
    "one serving",
    "two columns",
    "ordinary",
)

BAND: Fields = {
    "below": (number, False),
    "up_to": (number, False),
    "step": (positive, False),
    "figures": (count, False),
    "print": (text, False),
    "choose": (one_of(*COURSES), False),
    "verb": (one_of("shall", "may"), False),
    "also": (list_of(text), False),
}


def ladder(value: Any, where: Where) -> tuple[Band, ...]:
    """Bands in ascending order: each with one way out, each but the last with one upper end."""
    found = list_of(fields_of(BAND))(value, where)
    if not found:
        where.fail("a rule in bands needs at least one band")
    bands: list[Band] = []
    for place, keys in enumerate(found):
        here = where.at(place)
        ends = [keys[name] for name in ("below", "up_to") if name in keys]
        ways = [name for name in ("step", "figures", "print", "choose") if name in keys]
        if len(ways) != 1:
            here.fail("a band has one of step, figures, print or choose")
        if len(ends) != (1 if place < len(found) - 1 else 0):
            here.fail("every band but the last has one of below or up_to, and the last has neither")
        upper = ends[0] if ends else None
        if bands and upper is not None and bands[-1].upper is not None and upper <= bands[-1].upper:
            here.fail(f"bands stand in ascending order: {upper} after {bands[-1].upper}")
        bands.append(
            Band(
                upper=upper,
                inclusive="up_to" in keys,
                step=keys.get("step"),
                figures=keys.get("figures"),
                prints=keys.get("print"),
                verb=keys.get("verb", ""),
                also=keys.get("also", ()),
                choose=keys.get("choose", ""),
            )
        )
    return tuple(bands)


def rounding(keys: dict[str, Any]) -> dict[str, Any]:
    """The finished payload of a rounding rule: its ladder."""
    return {"ladder": Ladder(keys["bands"], keys.get("zeros", False))}


PERCENT: Fields = {
    "of": (text, True),
    "rounding": (text, True),
    "from": (one_of("unrounded", "declared"), True),
    "zero_with_amount": (truth, False),
}
LIMIT: Fields = {"of": (text, True), "below": (positive, True)}

NUTRIENT: Fields = {
    "label": (text, True),
    "formula": (map_of(number), True),
    "assume_none": (list_of(text), False),
    "unit": (words, True),
    "rounding": (text, True),
    "indent": (count, False),
    "requirement": (one_of("mandatory", "voluntary"), True),
    "display": (one_of("amount and percent", "amount", "percent"), False),
    "percent": (fields_of(PERCENT), False),
    "zero_if": (list_of(fields_of(LIMIT)), False),
    "insignificant_below": (positive, False),
    "significant_from_percent": (positive, False),
    "same_line_as": (text, False),
    "mandatory_if": (text, False),
    "omit_if": (text, False),
}

UNIT: Fields = {"unit": (text, True), "size": (positive, True)}

CLAIM_LIMIT: Fields = {
    "of": (text, True),
    "per": (
        one_of(
            "reference amount",
            "serving",
            "small reference",
            "100 g",
            "100 g of a solid",
            "100 mL of a liquid",
            "energy",
        ),
        True,
    ),
    "below": (positive, False),
    "at_most": (amount, False),
    "at_least": (positive, False),
    "at_least_percent": (positive, False),
    "below_percent": (positive, False),
    "kcal_each": (positive, False),
}

SALES = ("post only", "made to order", "packed at the stall", "packed ahead", "by mail", "to shops")

STATES = ("mandatory", "optional", "told on request", "must be told", "nothing")

CONDITION: Fields = {
    "fact": (text, True),
    "is": (one_of("yes", "no", *SALES), False),
    "one_of": (list_of(one_of(*SALES)), False),
    "below": (positive, False),
    "at_most": (positive, False),
}

# How far an analysis may lie from a declared amount; a side that is not given is free.
ALLOWANCE: Fields = {
    "below": (positive, False),
    "up_to": (positive, False),
    "minus": (amount, False),
    "plus": (amount, False),
    "minus_percent": (amount, False),
    "plus_percent": (amount, False),
}

STEP: Fields = {
    "below": (positive, False),
    "unit": (text, True),
    "every": (list_of(fraction), False),
    "only": (list_of(fraction), False),
}

PROPOSAL: Fields = {
    "reference": (text, True),
    "confidence": (positive, True),
    "all": (list_of(list_of(text)), True),
    "none": (list_of(text), False),
}

TABLES: dict[str, Fields] = {
    "reference values": {
        "id": (text, True),
        "label": (text, True),
        "unit": (text, True),
        "amount": (cell_number, True),
        "type": (text, True),
        "paragraph": (text, True),
        "status": (one_of(*READINGS), True),
        "sources": (separated, True),
        "note": (words, True),
    },
    "label elements": {
        "id": (text, True),
        "element": (one_of(*(element.value for element in Element)), True),
        **{sale: (one_of(*STATES), True) for sale in SALES},
        "if": (one_of("", *(condition.value for condition in Condition)), True),
        "paragraph": (text, True),
        "status": (one_of(*READINGS), True),
        "sources": (separated, True),
        "summary": (text, True),
    },
    "reference amounts": {
        "id": (text, True),
        "group": (text, True),
        "category": (text, True),
        "amount": (cell_fraction, True),
        "unit": (one_of("", "g", "mL", "cup", "tbsp", "tsp"), True),
        "note": (words, True),
        "measures": (separated, True),
        "topping": (cell_fraction, True),
        "drained": (one_of("", "yes"), True),
        "earlier": (words, True),
        "status": (one_of(*READINGS), True),
        "sources": (separated, True),
        "loose": (one_of("", "yes"), True),
        "makes": (cell_fraction, True),
        "words": (separated, True),
    },
    "home kitchens": {
        "id": (text, True),
        "state": (text, True),
        "statement": (text, True),
        "type": (words, True),
        "paragraph": (text, True),
        "status": (one_of(*READINGS), True),
        "sources": (separated, True),
        "summary": (text, True),
    },
    "reference makeup": {
        "id": (text, True),
        "role": (one_of("needs", "name", "composition"), True),
        "reference": (text, True),
        "ends": (separated, True),
        "fits": (conditions, True),
        "confidence": (cell_number, True),
        "summary": (text, True),
    },
}

KINDS: dict[str, Fields] = {
    "rounding": {"bands": (ladder, True), "zeros": (truth, False)},
    "choice": {"bands": (ladder, True)},
    "nutrient": NUTRIENT,
    "fractions": {"allowed": (list_of(fraction), True)},
    "measures": {
        "millilitres": (map_of(positive), True),
        "ounce": (fields_of({"grams": (positive, True), "step": (positive, True)}), False),
        "steps": (list_of(fields_of(STEP)), True),
    },
    "proposals": {"proposals": (list_of(fields_of(PROPOSAL)), True)},
    "ingredient list": {
        "heading": (text, True),
        "capitals": (one_of("none", "first letter"), True),
        "allergens": (one_of("emphasised", "source in parentheses"), True),
    },
    "small amounts": {"percent": (positive, True), "words": (text, True), "least": (count, True)},
    "added water": {
        "weighed": (one_of("as added", "in the finished product"), True),
        "omit_to_percent": (positive, False),
    },
    "claim": {
        "claim": (text, True),
        "each_of": (list_of(text), False),
        "limits": (list_of(fields_of(CLAIM_LIMIT)), True),
        "only": (list_of(text), False),
        "dish_limits": (list_of(fields_of(CLAIM_LIMIT)), False),
        "asks": (list_of(text), False),
    },
    "disclosure": {
        "levels": (map_of(map_of(positive)), True),
        "statement": (text, True),
    },
    "small reference": {"grams": (positive, True), "millilitres": (positive, True), "tested_on_g": (positive, True)},
    "consequence": {"loses": (list_of(text), False)},
    "panel": {
        "format": (text, True),
        "columns": (count, True),
        "surface_up_to_cm2": (positive, False),
        "heading": (words, True),
        "sequence": (list_of(text), True),
        "points": (map_of(positive), True),
        "leading_points": (map_of(positive), False),
        "weights_points": (map_of(positive), False),
        "bold": (list_of(text), False),
        "words": (map_of(text), True),
        "short": (map_of(text), False),
        "footnote": (text, False),
        "bases": (list_of(text), True),
        "names": (map_of(text), False),
        "headings": (map_of(text), False),
        "vitamins_after": (text, False),
        "between": (text, False),
        "rules_above": (one_of("every line", "main lines"), False),
        "percents": (truth, False),
        "languages": (one_of("en", "en+fr"), False),
    },
    "tolerance": {
        "of": (list_of(text), True),
        "source": (one_of("any", "natural", "added"), True),
        "bands": (list_of(fields_of(ALLOWANCE)), True),
    },
    "fact": {"question": (text, True), "answer": (one_of("number", "yes or no", "sale"), True)},
    "exemption": {
        "from": (list_of(text), True),
        "when": (list_of(fields_of(CONDITION)), True),
        "lost_by": (list_of(text), False),
    },
    "authority": {},
    "address": {"countries": (list_of(text), True), "pattern": (text, True)},
    "net quantity": {
        "of": (one_of("weight", "volume"), True),
        "lead": (words, True),
        "first": (one_of("customary", "metric"), True),
        "second": (one_of("required", "allowed", "none"), True),
        "small": (fields_of(UNIT), False),
        "large": (fields_of(UNIT), False),
        "larger": (list_of(fields_of(UNIT)), False),
        "large_first_from": (positive, False),
        "metric": (fields_of(UNIT), True),
        "metric_large": (fields_of(UNIT), True),
    },
    "drained weight": {"display": (one_of("as well", "instead"), True), "words": (text, True)},
    "volume foods": {"ends": (list_of(text), True), "anywhere": (list_of(text), True), "unless": (list_of(text), True)},
    "type height": {
        "by": (one_of("panel area", "net quantity"), True),
        "area_unit": (one_of("sq in", "cm2"), False),
        "height_unit": (one_of("inch", "mm"), True),
        "steps": (list_of(fields_of({"up_to": (positive, False), "height": (positive, True)})), True),
    },
    "functions": {"functions": (map_of(text), True)},
    "grouped ingredients": {"name": (text, True), "class": (text, True), "alone": (text, True)},
    "table": {"file": (text, True), "holds": (one_of(*TABLES), True)},
    "named food": {
        "ends": (list_of(text), True),
        "soluble_solids": (positive, False),
        "fruit_g_per_kg": (positive, False),
    },
    "front symbol": {
        "words": (map_of(text), True),
        "bars": (map_of(text), True),
        "x_height_mm": (positive, True),
    },
    "statement": {
        "ends": (list_of(text), False),
        "unless": (list_of(text), False),
        "fits": (conditions, False),
        "unheated": (truth, False),
        "place": (one_of("label", "cook"), True),
        "text": (words, True),
        "drink": (truth, False),
        "needs": (one_of(*(element.value for element in Element)), False),
        "frees": (list_of(one_of(*(element.value for element in Element))), False),
    },
    "names": {"ends": (list_of(text), True), "whole": (list_of(text), True)},
    "words": {},
    "figures": {"unit": (words, False), "figures": (map_of(number), True)},
}

CITATION: Fields = {
    "kind": (one_of(*KINDS), True),
    "summary": (text, True),
    "paragraph": (text, True),
    "since": (day, True),
    "since_basis": (text, True),
    "status": (one_of(*READINGS), True),
    "sources": (list_of(text), True),
    "quote": (text, False),
    "note": (text, False),
}

SOURCE: Fields = {
    "title": (text, True),
    "edition": (text, True),
    "kind": (one_of("law", "regulator", "secondary", "memory"), True),
}

MARKET: Fields = {
    "name": (text, True),
    "law": (text, True),
    "based_on": (text, False),
    "bases": (list_of(text), False),
    "words": (
        fields_of({"unknown": (text, True), "at_least": (text, True)}),
        False,
    ),
    "date_words": (fields_of({"best_before": (text, True), "use_by": (text, True)}), False),
    "date_months": (list_of(text), False),
    "percent_heading": (text, False),
    "missing": (list_of(text), True),
    "sources": (map_of(fields_of(SOURCE)), False),
}
