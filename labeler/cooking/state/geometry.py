"""How thick a piece of food is: as its line states, or else by the cut that the line names and by its kind."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import NamedTuple

from labeler.cooking.state.mixture import Item
from labeler.data_files import data_folder, data_rows
from labeler.foods.food_class import kind_of
from labeler.parsing.ingredient.cut import Cut, CutForm, CutStyle
from labeler.types import Interval

__all__ = ["PieceShape", "shape_of", "usual_shape"]

DATA = data_folder("labeler.cooking")


class PieceShape(NamedTuple):
    """A shape of diffusion theory and its half-thickness or radius.

    Parameters
    ----------
    form : CutForm
        A cube is a sphere of half its edge: the same surface per volume.
    half : Interval
        Half-thickness of the sheet, or radius [mm].
    """

    form: CutForm
    half: Interval

    @property
    def surface(self) -> float:
        """Surface per volume at the best half-thickness [1/mm]."""
        return {CutForm.SHEET: 1.0, CutForm.CYLINDER: 2.0, CutForm.SPHERE: 3.0}[self.form] / self.half.best


@cache
def _usual() -> tuple[tuple[frozenset[CutStyle], frozenset[str], PieceShape], ...]:
    """Rows of the table: any of these cuts, any of these kinds (empty for all), and the shape."""
    rows = data_rows(DATA / "shapes.csv")
    return tuple(
        (
            frozenset(CutStyle(cut) for cut in row["cuts"].split("|") if cut),
            frozenset(kind for kind in row["kinds"].split("|") if kind),
            PieceShape(
                CutForm(row["shape"]),
                Interval(float(row["best"]), float(row["low"]), float(row["high"]), "usual size, not said in the line"),
            ),
        )
        for row in rows
    )


def shape_of(item: Item) -> PieceShape:
    """Shape of an item's pieces; any item has one."""
    return usual_shape(item.facts.cut, kind_of(item.food))


@lru_cache(maxsize=1024)
def usual_shape(cut: Cut, kind: str) -> PieceShape:
    """Shape of food by its cut and its kitchen kind: the stated size, or what is usual for them."""
    if cut.form is not None and cut.half is not None:
        return PieceShape(cut.form, cut.half)
    for cuts, kinds, shape in _usual():
        if (not cuts or cuts & cut.styles) and (not kinds or kind in kinds):
            return shape
    raise AssertionError("the last row of shapes.csv fits everything")
