"""A whole stall at once: which of its foods holds which allergen, as a table and as a page to hang up."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.allergens import Matrix, assess, matrix
from labeler.allergens.vocabulary import allergen_names
from labeler.foods.resolve import weigh
from labeler.parsing.model import Recipe

__all__ = ["draw_stall", "stall_matrix"]


def stall_matrix(recipes: Sequence[Recipe], *, market: str) -> Matrix:
    """Foods by allergens, in the order of the market's own list.

    Parameters
    ----------
    recipes : sequence of Recipe
    market : str
        LabelerError for one that is not known.
    """
    return matrix(((recipe.title, assess(weigh(recipe), market=market)) for recipe in recipes), market)


def draw_stall(
    recipes: Sequence[Recipe], found: Matrix, *, size: tuple[float, float] = (297.0, 210.0), colour: str | None = None
) -> bytes:
    """The matrix as a PDF page.

    Parameters
    ----------
    recipes : sequence of Recipe
        The foods of `found`, in its order; the first that names a maker signs the page.
    found : Matrix
    size : tuple of float
        Width and height [mm].
    colour : str or None
        Of title and rules, "#rrggbb".

    Raises
    ------
    LabelerError
        Where so many foods do not fit; the message says what size would hold them.
    """
    from labeler.label.matrix_page import MatrixContent, MatrixRow, draw_matrix

    signed = next((recipe.head for recipe in recipes if recipe.head.get("maker")), {})
    content = MatrixContent(
        title="Allergens",
        allergens=tuple(allergen_names()[allergen] for allergen in found.allergens),
        rows=tuple(
            MatrixRow(title, marks, recipe.digest[:8])
            for title, marks, recipe in zip(found.titles, found.marks, recipes, strict=True)
        ),
        maker=str(signed.get("maker", "")),
        place=str(signed.get("place", "")),
        notes=found.notes,
    )
    return draw_matrix(content, size=size, colour=colour)
