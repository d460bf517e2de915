"""What may have to stand on a label, and on what that depends: the terms of every market's ``label_elements.csv``."""

from __future__ import annotations

from enum import StrEnum

__all__ = ["Condition", "Element"]


class Element(StrEnum):
    """One thing that a label says."""

    NAME = "name of the food"
    INGREDIENTS = "ingredient list"
    ALLERGENS = "allergens"
    PERCENTAGES = "percentages of ingredients"
    NET = "net quantity"
    DRAINED = "drained weight"
    ADDRESS = "name and address"
    DATE = "date"
    STORAGE = "storage"
    LOT = "lot"
    NUTRITION = "nutrition panel"
    SYMBOL = "front-of-package symbol"
    ORIGIN = "country of origin"
    LANGUAGE = "language"
    ALCOHOL = "alcoholic strength"


class Condition(StrEnum):
    """On what of the food or its label it depends whether an element is asked for."""

    EMPHASISED = "an ingredient is emphasised"
    MEAT = "it holds meat"
    IN_LIQUID = "packed in a liquid"
    NO_DAY = "the date has no day"
    KEEPS_SHORT = "it keeps 90 days or less"
    SPECIAL_STORAGE = "it must be kept in a special way"
    STATED = "a statement of its food asks for it"
    HIGH_IN = "it is high in saturated fat, sugars or sodium"
