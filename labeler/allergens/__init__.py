"""Allergens: what is in the food, what the package must still say, and what a market wants declared."""

from labeler.allergens.assess import assess, assess_line, assess_name, assess_written
from labeler.allergens.market_lists import EVERY_MARKET, MARKETS, for_market
from labeler.allergens.model import Assessment, Finding
from labeler.allergens.statement import Matrix, Statement, declared_names, matrix, statement, unlisted

__all__ = [
    "EVERY_MARKET",
    "MARKETS",
    "Assessment",
    "Finding",
    "Matrix",
    "Statement",
    "assess",
    "assess_line",
    "assess_name",
    "assess_written",
    "declared_names",
    "for_market",
    "matrix",
    "statement",
    "unlisted",
]
