"""What must be nothing, what may not lend to what, and which fats the law no longer allows: rules of the imputation.

Sources: FAO/INFOODS Guidelines for Checking Food Composition Data (2012) and Greenfield and Southgate (2003) for
logical zeros; where no source is named, common practice.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from labeler.foods.composition.food_table import FoodTable

_PLANT_GROUPS = frozenset({200, 900, 1100, 1200, 1600, 2000})
_FLESH_GROUPS = frozenset({500, 1000, 1300, 1500, 1700})
_ANIMAL = re.compile(
    r"\b(?:milk|cheese|cream|butter|yogurt|whey|egg|eggs|meat|beef|pork|bacon|ham|chicken|turkey|lamb|veal|fish|tuna|"
    r"salmon|sardines?|anchov\w+|shrimp|crab|clam|oyster|lard|tallow|gelatin|sausage|frankfurter|parmesan|cheddar|"
    r"fast foods|au gratin|scalloped|souffle|creamed|pudding|dairy|ranch|bologna)\b",
    re.IGNORECASE,
)
_VEGAN_WORDS = re.compile(r"\b(?:coconut (?:milk|cream)|soy ?milk|peanut butter|almond butter|\w+ butter, plain|"
                          r"butter ?beans?|buttercup|butternut|eggplant|cream of tartar|meatless|meat substitute|"
                          r"butterbur|without (?:milk|butter)|egg-?free)\b", re.IGNORECASE)  # fmt: skip
_FORTIFIED = re.compile(r"\b(?:fortified|added|enriched|with added|vitamin|vit\.|supplement\w*|calcium|tofu|"
                        r"soy ?milk|milk|silk|cereals?)\b", re.IGNORECASE)  # fmt: skip
_ALGAE = re.compile(r"\b(?:seaweed|algae|spirulina|kelp|laver|wakame|irish ?moss|agar)\b", re.IGNORECASE)
_MUSHROOM = re.compile(r"\b(?:mushrooms?|fungi|shiitake|maitake|morel|chanterelle|truffle|enoki|portabella)\b", re.I)
_NOT_SINGLE = re.compile(
    r"\b(?:breaded|batter\w*|stuff\w*|sauce|gravy|flour|patt(?:y|ies)|loaf|roll|salad|nuggets?|tenders?|with noodles|"
    r"pot pie|imitation|surimi|seasoned|marinat\w+|cured|glazed|honey|spread|with vegetables?|creamed|stew|dinner|"
    r"microwaveable|sandwich|sticks|cakes?|coated|extender|vegetable|soup|fast food)\b",
    re.IGNORECASE,
)
_PLAIN_DAIRY = re.compile(r"^(?:milk|cream|butter|cheese|egg|eggs|whey)\b", re.IGNORECASE)
_FLAVOURED = re.compile(
    r"\b(?:chocolate|strawberry|fruit|imitation|substitute|soy|rice|malted|shake|eggnog|food|spread|product|dressing|"
    r"whipped|topping|creamer|dry mix|omelet|pimento|caraway|cocoa|powder|pasteurized process|with)\b",
    re.IGNORECASE,
)
_PURE_SUGAR = re.compile(r"^(?:sugars?,|honey|syrups?, (?:maple|corn|cane|grenadine)|sweeteners?, tabletop)", re.I)
_RAW_PLANT_GROUPS = frozenset({900, 1100})
_ADDED_FAT = re.compile(
    r"\b(?:oil|fried|fries|fat|butter|cheese|cream|milk|sauce|roasted|chips?|pie|dip|spread|margarine|pudding|mix|"
    r"prepared|hash|puffs|souffle|au gratin|rings|burger|refried|au jus|bacon|pork|beef|meat|sweet|candied|creamed)\b",
    re.IGNORECASE,
)


def _plant(table: FoodTable, row: int) -> bool:
    """A plant food with nothing of animals in its name."""
    described = _VEGAN_WORDS.sub(" ", table.descriptions[row])
    return int(table.group_codes[row]) in _PLANT_GROUPS and not _ANIMAL.search(described)


def _plain_flesh(table: FoodTable, row: int) -> bool:
    return int(table.group_codes[row]) in _FLESH_GROUPS and not _NOT_SINGLE.search(table.descriptions[row])


def _oil(table: FoodTable, row: int) -> bool:
    description = table.descriptions[row]
    return int(table.group_codes[row]) == 400 and bool(re.match(r"(?:Oil|Fat|Lard|Shortening)\b", description))


_MAY_HOLD_ALCOHOL = frozenset({1400})
_ALCOHOL = re.compile(r"\b(?:alcohol\w*|wine|beer|rum|liqueur|extract|brandy|whisk\w*|sherry|bourbon|sake)\b", re.I)


def _no_fatty_acid(table: FoodTable, row: int) -> bool:
    return bool(table.values[row][table.column["FAT"]] <= 0.0)


def _no_trans_fat(table: FoodTable, row: int) -> bool:
    """Without fat, or of plants that nobody hydrogenated or fried."""
    plain = _plant(table, row) and not _ADDED_FAT.search(table.descriptions[row])
    return _no_fatty_acid(table, row) or (plain and int(table.group_codes[row]) != 1200)


def _no_carbohydrate(table: FoodTable, row: int) -> bool:
    return bool(table.values[row][table.column["CHOCDF"]] <= 0.0)


def _no_alcohol(table: FoodTable, row: int) -> bool:
    description = table.descriptions[row]
    hidden = _ALCOHOL.search(description) and not description.startswith("Vinegar")
    return int(table.group_codes[row]) not in _MAY_HOLD_ALCOHOL and not hidden


def _oil_but_of_fish(table: FoodTable, row: int) -> bool:
    description = table.descriptions[row]
    named = bool(re.match(r"Oil\b", description)) and "fish" not in description.lower()
    return int(table.group_codes[row]) == 400 and named


def _no_cholesterol(table: FoodTable, row: int) -> bool:
    return _plant(table, row) or _oil_but_of_fish(table, row)


def _no_vitamin_d(table: FoodTable, row: int) -> bool:
    description = table.descriptions[row]
    if _plant(table, row):
        return not (_MUSHROOM.search(description) or _ALGAE.search(description) or _FORTIFIED.search(description))
    return _oil_but_of_fish(table, row)


def _no_fibre(table: FoodTable, row: int) -> bool:
    description = table.descriptions[row]
    if _no_carbohydrate(table, row) or _plain_flesh(table, row) or _oil(table, row) or _PURE_SUGAR.search(description):
        return True
    dairy = int(table.group_codes[row]) == 100 and bool(_PLAIN_DAIRY.search(description))
    return dairy and not _FLAVOURED.search(description)


def _no_sugar(table: FoodTable, row: int) -> bool:
    return _no_carbohydrate(table, row) or _oil(table, row)


_NOTHING_OF: dict[str, Callable[[FoodTable, int], bool]] = {
    **dict.fromkeys(("FASAT", "FAMS", "FAPU"), _no_fatty_acid),
    "FATRN": _no_trans_fat,
    "ALC": _no_alcohol,
    "CHOLE": _no_cholesterol,
    "VITD": _no_vitamin_d,
    "FIBTG": _no_fibre,
    "SUGAR": _no_sugar,
}


def logical_zero(table: FoodTable, row: int, key: str) -> bool:
    """Whether a value must be nothing, or next to it, by what the food is."""
    rule = _NOTHING_OF.get(key)
    return rule is not None and rule(table, row)


_APART = re.compile(
    r"\b(enriched|unenriched|fortified|low ?fat|nonfat|fat free|reduced fat|light|salted|unsalted|low sodium|"
    r"reduced sodium|no salt|in oil|in water|in syrup|brined?|pickled|sweetened|unsweetened|sugar free|dried|"
    r"with salt|without salt|added vitamin d|vitamin d)\b",
    re.IGNORECASE,
)


def kinds_apart(description: str) -> frozenset[str]:
    """Words that keep one form from lending to another: fortified or not, salted or not, levels of fat and of sugar."""
    return frozenset(_APART.findall(description.lower()))


_RUMINANT = re.compile(
    r"\b(?:milk|cheese|cream|butter|buttermilk|yogurt|ghee|beef|lamb|mutton|veal|goat|bison|tallow|dairy|whey|cheddar|"
    r"mozzarella|burger|hamburger|cheeseburger|pizza|taco|burrito|steak|meatball|lasagna)\b",
    re.IGNORECASE,
)
_NO_RUMINANT = re.compile(r"\b(?:peanut butter|cocoa butter|without butter|coconut (?:milk|cream)|margarine[- ]like)\b")
_MADE = frozenset({300, 400, 600, 800, 1100, 1200, 1400, 1600, 1800, 1900, 2000, 2100, 2200, 2500, 3600, 1500, 500})


def hydrogenated(table: FoodTable, row: int, trans: float) -> str:
    """Whether the trans fat of a food of 2015 comes of partly hydrogenated oil: "" for no, "all" or "part" for yes.

    More trans than 2 % of a fat that no ruminant made, or than 6 % of one that has some: more than is natural
    (ruminant fat 2 to 6 %, poultry and pork under 1.5 %, refined oil under 2 %).
    """
    fat = float(table.values[row, table.column["FAT"]])
    if int(table.group_codes[row]) not in _MADE or fat <= 0.0 or not trans > 0.0:
        return ""
    ruminant = bool(_RUMINANT.search(_NO_RUMINANT.sub(" ", table.descriptions[row])))
    if ruminant:
        return "part" if trans > 0.06 * fat else ""
    return "all" if trans > 0.02 * fat else ""
