"""What handling does to mass and nutrients: pure functions over a state with a leading axis of draws."""

from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish, Ledger, LedgerEntry, Stage
from labeler.cooking.state.mixture import KEYS, Item, Mixture

__all__ = ["KEYS", "Dish", "Item", "Ledger", "LedgerEntry", "Mixture", "Stage", "cook"]
