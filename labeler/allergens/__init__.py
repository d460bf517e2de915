"""Allergens: what is in the food, what the package must still say, and what a market wants declared."""

from labeler.allergens.assess import assess, assess_line, assess_name
from labeler.allergens.markets import MARKETS, for_market
from labeler.allergens.model import Assessment, Caution, Finding

__all__ = ["MARKETS", "Assessment", "Caution", "Finding", "assess", "assess_line", "assess_name", "for_market"]
