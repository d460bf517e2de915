"""What handling does to mass and nutrients: pure functions over a state with a leading axis of draws."""

from labeler.kitchen.ledger import Dish, Entry, Ledger, Servings, Stage
from labeler.kitchen.mix import KEYS, Item, Mix
from labeler.kitchen.run import cook

__all__ = ["KEYS", "Dish", "Entry", "Item", "Ledger", "Mix", "Servings", "Stage", "cook"]
