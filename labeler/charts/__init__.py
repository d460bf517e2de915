"""Pictures of a worksheet: what brings what, before and after handling, how sure each figure is of the day's value.

Each is a `labeler.label.drawing.Drawing`, written as SVG and as PDF; the terminal has its own form of the last.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labeler.label.drawing import Drawing
    from labeler.worksheet.model import Worksheet

__all__ = ["draw_pictures", "write_pictures"]


def draw_pictures(found: Worksheet) -> dict[str, Drawing]:
    """The pictures of a worksheet by the name of their file; one that would show nothing is left out."""
    from labeler.charts.certainty import draw_certainty
    from labeler.charts.contributions import draw_contributions
    from labeler.charts.handling import draw_handling

    made = {
        "contributions": draw_contributions(found),
        "handling": draw_handling(found),
        "certainty": draw_certainty(found),
    }
    return {name: drawing for name, drawing in made.items() if drawing is not None}


def write_pictures(found: Worksheet, folder: str) -> list[str]:
    """Write each picture as SVG and PDF into a folder, which is made where it is missing; returns the files.

    Raises
    ------
    LabelerError
        Where the folder cannot be made or written.
    """
    from pathlib import Path

    from labeler.files import write_whole
    from labeler.label.pdf import write_pdf
    from labeler.label.preview import preview_svg
    from labeler.types import LabelerError

    place = Path(folder)
    try:
        place.mkdir(exist_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LabelerError(f"{folder}: the folder cannot be made ({reason}); give another place") from None
    written = []
    for name, drawing in draw_pictures(found).items():
        for ending, data in (("svg", preview_svg(drawing).encode()), ("pdf", write_pdf(drawing))):
            file = str(place / f"{name}.{ending}")
            write_whole(file, data)
            written.append(file)
    return written
