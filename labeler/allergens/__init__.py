"""Allergens: what is in the food, what the package must still say, what a market wants declared; and cautions."""

from labeler.allergens.assess import assess, assess_line, assess_name, assess_written
from labeler.allergens.cautions import cautions
from labeler.allergens.markets import MARKETS, for_market
from labeler.allergens.model import Assessment, Caution, Finding
from labeler.allergens.statement import Matrix, Statement, declared_names, matrix, statement, unlisted

__all__ = [
    "MARKETS",
    "Assessment",
    "Caution",
    "Finding",
    "Matrix",
    "Statement",
    "assess",
    "assess_line",
    "assess_name",
    "assess_written",
    "cautions",
    "declared_names",
    "for_market",
    "matrix",
    "statement",
    "unlisted",
]
