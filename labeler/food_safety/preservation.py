"""What keeps a food without the cold, and how far a recipe's own figures go to say so.

None of these limits is a permission: a food that reaches one is only not asked to be kept cold on account of it.
"""

from __future__ import annotations

from collections.abc import Iterable

from labeler.food_safety.model import Composition, FoodKind, HeatTreatment

__all__ = ["acid_ratio", "keeps_by_itself", "sugar_share"]

DRY = 0.15
"""Share of water under which a food is dry (water activity well below 0.85, the limit of 21 CFR 114.3; common
practice)."""
BAKERY_WATER = 0.42
"""Share of water up to which baked goods of flour keep: bread has 35 to 40 % (SR28)."""
BAKERY_FLOUR = 0.25
"""Share of flour from which a baked food is bread, cake or biscuit and no custard or quiche (common practice)."""
OVEN_LOSS = 0.10
"""Share of the whole that baking dries off (USDA yields of baked goods, 7 to 15 %)."""
SUGAR = 0.60
"""Share of sugar in water and sugar from which a preserve keeps: jams of 60 to 65 % soluble solids (21 CFR 150.160;
the rest common practice)."""
SALT = 0.10
"""Share of salt in water and salt at which the bacteria of botulism do not grow (FDA Fish and Fishery Products
Hazards and
Controls, Appendix 4, from memory)."""
ACID_PH = 4.6
"""pH at or below which a food is acid: 21 CFR 114.3."""


def _dried(whole: Composition) -> tuple[float, float]:
    """Water and total after the oven [g]."""
    loss = min(whole.water, OVEN_LOSS * whole.total) if whole.oven else 0.0
    return whole.water - loss, whole.total - loss


def sugar_share(whole: Composition) -> float:
    """Sugar in sugar and water, after the oven, from 0 to 1."""
    water, _ = _dried(whole)
    return whole.sugar / (whole.sugar + water) if whole.sugar + water else 0.0


def keeps_by_itself(whole: Composition | None, foods: Iterable[HeatTreatment], ph: float | None) -> bool:
    """Whether water, sugar, salt or a measured pH keeps the whole without the cold.

    Parameters
    ----------
    whole : Composition or None
        None where a weight is not known: then nothing is concluded.
    foods : iterable of HeatTreatment
        Those that would need the cold; one that stays unheated in a baked food needs it all the same.
    ph : float or None
        As measured.
    """
    if ph is not None and ph <= ACID_PH:
        return True
    if whole is None:
        return False
    water, total = _dried(whole)
    if total and water / total < DRY:
        return True
    if sugar_share(whole) >= SUGAR or (water and whole.salt / (whole.salt + water) >= SALT):
        return True
    if not whole.oven or whole.flour / whole.total < BAKERY_FLOUR or water / total > BAKERY_WATER:
        return False
    return all(food.heated or food.cooked_before for food in foods)


def acid_ratio(foods: Iterable[HeatTreatment]) -> float | None:
    """Grams of vinegar or acid juice to a gram of low-acid food; None where a weight is not known."""
    acid = low = 0.0
    for food in foods:
        if FoodKind.ACID in food.kinds or FoodKind.LOW_ACID in food.kinds:
            if food.grams is None:
                return None
            acid += food.grams * (FoodKind.ACID in food.kinds)
            low += food.grams * (FoodKind.ACID not in food.kinds)
    return acid / low if low else None
