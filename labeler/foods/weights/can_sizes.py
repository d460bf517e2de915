"""What a can of no stated size holds: that of the market's shelf, as metric cans are others than those of the US."""

from __future__ import annotations

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.reference_weights import best_figure, load_figures
from labeler.foods.weights.unit_weights import PieceWeight, piece_weight

__all__ = ["piece_of_market"]

_FILE = "metric_cans.csv"
_OUNCES = ("us", "ca")
"""Markets whose cans go by ounces, as those of pieces.csv do."""


def piece_of_market(
    food: str, piece: str, size: str | None, name: tuple[str, ...], inches: float | None = None, *, market: str
) -> PieceWeight | None:
    """What one piece weighs, a can as the market sells it.

    Parameters
    ----------
    food, piece, size, name, inches
        As `labeler.foods.weights.unit_weights.piece_weight` takes them.
    market : str
        Whose shelf.

    Source: ``data/metric_cans.csv``.
    """
    figures = {} if market in _OUNCES else load_figures(_FILE)
    if piece in figures:
        table = load_table()
        figure = best_figure(figures[piece], name, int(table.group_codes[table.position[food]]))
        if figure is not None and figure.wanted:
            return PieceWeight(figure.value, False)
    return piece_weight(food, piece, size, name, inches)
