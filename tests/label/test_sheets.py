"""Labels on sheets and rolls, read back; and the previews."""

from __future__ import annotations

import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from dataclasses import replace
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from label_reading import PIE, RELISH, read_page

from labeler.label import compose_label
from labeler.label.drawing import MM, Patch, RuledLine, Text
from labeler.label.preview import preview_png, preview_svg
from labeler.label.sheets import PAPERS_MM, Grid, draw_sheets, roll, serial_lots
from labeler.types import LabelerError

EIGHT = Grid(4, 2, (100, 70), gap_x=3)


def text_of(data: bytes, page: int = 0) -> str:
    return "".join(pdfium.PdfDocument(data)[page].get_textpage().get_text_range().split())


def test_copies_fill_the_sheet_from_the_first_free_place() -> None:
    """Ten copies from the seventh place of eight take two places, then a full sheet; each stands on its grid."""
    data = draw_sheets(RELISH, EIGHT, copies=10, start=7)
    assert len(pdfium.PdfDocument(data)) == 2
    assert [text_of(data, page).count("Horseradish") for page in (0, 1)] == [2, 8]
    drawing = compose_label(RELISH, size=(100, 70))
    first = min(g.x for g in read_page(data).glyphs)
    inner = min(m.x for m in drawing.marks if isinstance(m, Text))
    assert first == pytest.approx(EIGHT.corner(6)[0] * MM + inner, abs=0.1)
    assert min(g.y for g in read_page(data).glyphs) > EIGHT.corner(6)[1] * MM


@pytest.mark.parametrize("paper", list(PAPERS_MM))
def test_a_sheet_is_exactly_its_paper(paper: str) -> None:
    """A4, A5 and Letter pages have their nominal size."""
    data = draw_sheets(RELISH, Grid(1, 1, (100, 70), PAPERS_MM[paper]))
    width, height = PAPERS_MM[paper]
    assert pdfium.PdfDocument(data)[0].get_size() == pytest.approx((width * MM, height * MM), abs=0.01)


def test_a_roll_has_one_label_a_page() -> None:
    """On a roll the page is the label."""
    data = draw_sheets(RELISH, roll((100, 70)), copies=3)
    document = pdfium.PdfDocument(data)
    assert len(document) == 3
    assert document[2].get_size() == pytest.approx((100 * MM, 70 * MM), abs=0.01)


def test_each_label_has_its_own_lot() -> None:
    """Lots are counted up, every one is printed once, and all else is the same on each label."""
    lots = serial_lots("B-0502-098", 4)
    assert lots == ("B-0502-098", "B-0502-099", "B-0502-100", "B-0502-101")
    text = text_of(draw_sheets(RELISH, EIGHT, lots=lots))
    assert [text.count(lot) for lot in lots] == [1, 1, 1, 1]
    assert text.count("Horseradish") == 4


def test_lots_of_other_widths_are_laid_out_anew() -> None:
    """Lots need not look alike: a label whose lot is wider is composed for itself."""
    text = text_of(draw_sheets(RELISH, EIGHT, lots=["A", "a much longer lot 17", "B-3"]))
    assert all(f"Lot{lot}" in text for lot in ("A", "amuchlongerlot17", "B-3"))


@pytest.mark.parametrize(("first", "count"), [("no digits", 2), ("B-99", 2)])
def test_a_lot_that_cannot_be_counted_up_is_refused(first: str, count: int) -> None:
    """The message says how to write it."""
    with pytest.raises(LabelerError, match="digits"):
        serial_lots(first, count)


def test_crop_marks_stand_outside_the_labels() -> None:
    """With marks there is more ink on the sheet than without, none of it on a label."""
    plain, marked = (
        pdfium.PdfDocument(draw_sheets(RELISH, EIGHT, copies=8, crop_marks=marks))[0].render(scale=2).to_numpy()
        for marks in (False, True)
    )
    changed = (plain != marked).any(axis=2)
    assert changed.sum() > 200
    for place in range(EIGHT.count):
        x, y = EIGHT.corner(place)
        left, top, right, bottom = (round(side * MM * 2) for side in (x, y, x + 100, y + 70))
        assert not changed[top + 1 : bottom - 1, left + 1 : right - 1].any()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"rows": 5, "columns": 2, "label": (100, 70)}, "too high"),
        ({"rows": 2, "columns": 3, "label": (100, 70)}, "too wide"),
        ({"rows": 0, "columns": 2, "label": (100, 70)}, "1 to 100 rows"),
        ({"rows": 1, "columns": 1, "label": (-1, 70)}, "between 0 and 5000"),
        ({"rows": 4, "columns": 2, "label": (100, 70), "top": 20.0}, "too high"),
    ],
)
def test_a_grid_that_is_no_grid_is_refused(arguments: dict[str, object], message: str) -> None:
    """The message says by how much, and what to change."""
    with pytest.raises(LabelerError, match=message):
        Grid(**arguments)  # type: ignore[arg-type]


def test_a_place_that_is_not_on_the_sheet_is_refused() -> None:
    """Places are counted from 1 to the last."""
    with pytest.raises(LabelerError, match="1 to 8"):
        draw_sheets(RELISH, EIGHT, start=9)


def test_a_ground_that_bleeds_stays_off_its_neighbours() -> None:
    """Between wraps without a gap nothing is printed over the trimmed edge."""
    grid = Grid(3, 1, (200, 90), left=5, top=13)
    page = pdfium.PdfDocument(draw_sheets(RELISH, grid, copies=2, layout="wrap", colour="#5b1f3a"))[0]
    third = page.render(scale=2).to_numpy()[round((13 + 180) * MM * 2) + 1 : round((13 + 185) * MM * 2)]
    assert (third == 255).all()


def test_sheets_are_the_same_bytes_each_time() -> None:
    """Nothing in the file depends on when it was written."""
    assert draw_sheets(RELISH, EIGHT, copies=3) == draw_sheets(RELISH, EIGHT, copies=3)


MANY = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from label_reading import RELISH
from labeler.label.sheets import Grid, draw_sheets, serial_lots
data = draw_sheets(RELISH, Grid(4, 2, (100, 70)), lots=serial_lots("B-0502-001", 500))
# The peak of this process alone; what getrusage says counts the parent's from before it began.
peak = next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith("VmHWM"))
print(int(peak.split()[1]) / 1024, len(data))
"""


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="this system does not tell a process its peak")
def test_five_hundred_labels_are_small() -> None:
    """500 labels with lots of their own, a process of their own: within 200 MB and 400 kB of file."""
    command = [sys.executable, "-c", MANY, str(Path(__file__).parents[1])]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    megabytes, size = map(float, done.stdout.split())
    assert megabytes < 200
    assert size < 400_000


def test_the_svg_preview_says_the_same_as_the_drawing() -> None:
    """It is well-formed, holds every text as text and every mark, and asks for nothing from outside."""
    drawing = compose_label(replace(PIE, title="A <b> & 'c' Pie"), layout="tent", size=(120, 240), colour="#123a5a")
    svg = preview_svg(drawing)
    root = ElementTree.fromstring(svg)
    names = [element.tag.rpartition("}")[2] for element in root.iter()]
    assert names.count("text") == sum(isinstance(mark, Text) for mark in drawing.marks)
    assert names.count("line") == sum(isinstance(mark, RuledLine) for mark in drawing.marks)
    assert names.count("rect") == 1 + sum(isinstance(mark, Patch) for mark in drawing.marks)
    assert "".join(root.itertext()).count("A <b> & 'c' Pie") >= 1
    assert "http" not in svg.replace("http://www.w3.org/2000/svg", "") and svg == preview_svg(drawing)


def test_the_png_preview_is_a_picture_of_the_label() -> None:
    """It has the label's proportions and ink on it."""
    data = preview_png(compose_label(RELISH), dots_per_inch=100)
    assert data.startswith(b"\x89PNG") and len(data) > 5000
