"""The other layouts: wrap, tent and strip, and the square code."""

from __future__ import annotations

import re
from dataclasses import replace

import pypdfium2 as pdfium
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from label_reading import PIE, RELISH, glyphs_by_block, read_page
from test_card import CONTENT, PHASES, SLOW, check, said

from labeler.label import DoesNotFit, LabelContent, Run, compose_label, draw_label
from labeler.label.drawing import MM, Patch, Text
from labeler.label.layouts import LAYOUTS
from labeler.label.pdf import write_pdf
from labeler.label.qr_code import MODULE_MM, QUIET, modules
from labeler.label.table_signs import sign_content
from labeler.types import LabelerError

CONTENTS = {"relish": RELISH, "pie": PIE}
SIZES = {
    "card": [(105.0, 148.0), (148.0, 105.0), (210.0, 99.0)],
    "wrap": [(230.0, 80.0), (260.0, 70.0), (200.0, 110.0)],
    "tent": [(148.0, 210.0), (105.0, 297.0), (210.0, 200.0)],
    "strip": [(210.0, 40.0), (160.0, 60.0), (297.0, 50.0)],
}
CASES = [(layout, size, name) for layout in LAYOUTS for size in SIZES[layout] for name in CONTENTS]


@pytest.mark.parametrize(("layout", "size", "name"), CASES)
def test_every_layout_keeps_its_letters_apart_and_inside(layout: str, size: tuple[float, float], name: str) -> None:
    """Each layout in three sizes with two foods: all it says is there, in order, in the safe area, apart."""
    content = CONTENTS[name]
    drawing = compose_label(content, layout=layout, size=size)
    page = read_page(write_pdf(drawing))
    check(content, size, drawing, page)
    shown = sign_content(content) if layout in {"tent", "strip"} else content
    text = re.sub(r"[\s·]+", "", "".join(m.text for m in drawing.marks if isinstance(m, Text)))
    place = 0
    for wanted in said(shown) + (said(content) if layout == "tent" else []):
        found = text.find(re.sub(r"[\s·]+", "", wanted), place)
        assert found >= 0, wanted
        place = found


@pytest.mark.parametrize("layout", list(LAYOUTS))
def test_every_layout_refuses_with_a_size_that_holds_it(layout: str) -> None:
    """Each layout names a size on which the food fits."""
    with pytest.raises(DoesNotFit) as refusal:
        draw_label(PIE, layout=layout, size=(40, 25))
    size = refusal.value.needed_mm
    check(PIE, size, compose_label(PIE, layout=layout, size=size), read_page(draw_label(PIE, layout=layout, size=size)))


def test_an_unknown_layout_is_refused_with_those_there_are() -> None:
    """The message lists the layouts."""
    with pytest.raises(LabelerError, match="there are card, wrap, tent, strip"):
        draw_label(PIE, layout="poster")


def test_a_wrap_in_colour_bleeds_over_the_trimmed_edge() -> None:
    """The page is 3 mm larger each way, its trim box is the label, and the ground reaches the page's edge."""
    size = (230.0, 80.0)
    drawing = compose_label(RELISH, layout="wrap", size=size, colour="#5b1f3a")
    page = pdfium.PdfDocument(write_pdf(drawing))[0]
    assert page.get_size() == pytest.approx(((230 + 6) * MM, (80 + 6) * MM), abs=0.01)
    assert page.get_trimbox() == pytest.approx((3 * MM, 3 * MM, 233 * MM, 83 * MM), abs=0.01)
    (ground,) = [mark for mark in drawing.marks if isinstance(mark, Patch)]
    assert (ground.y, ground.height) == pytest.approx((-3 * MM, 86 * MM))


def test_the_front_of_a_tent_reads_when_it_is_folded() -> None:
    """Above the fold all text is upside down, below it upright, and neither face crosses the fold."""
    drawing = compose_label(RELISH, layout="tent", size=(148, 210))
    half = drawing.height / 2
    for mark in drawing.marks:
        if isinstance(mark, Text):
            assert (mark.turn, mark.y < half) == ((180, True) if mark.block.startswith("sign-") else (0, False))


def test_a_title_is_made_smaller_before_a_word_is_cut() -> None:
    """A long word stands whole; only one that no lawful size can hold is cut, with hyphens."""
    drawing = compose_label(RELISH, layout="wrap", size=(230, 80))
    words = " ".join(m.text for m in drawing.marks if isinstance(m, Text) and m.block == "title").split()
    assert words == RELISH.title.split()
    drawing = compose_label(replace(RELISH, title="x" * 300), size=(105, 148))
    assert (
        "".join(m.text for m in drawing.marks if isinstance(m, Text) and m.block == "title").replace("-", "")
        == "x" * 300
    )


def test_a_sign_never_sends_its_reader_to_a_list_that_is_not_there() -> None:
    """With a statement of its own a sign prints that; without one it prints the ingredient list as well."""
    content = replace(PIE, allergens=(Run("Allergens: see the ingredients in bold"),))
    own = "".join(m.text for m in compose_label(content, layout="strip", size=(210, 50)).marks if isinstance(m, Text))
    assert "Contains cod, crab" in own and "see the ingredients" not in own and "potatoes" not in own
    content = replace(content, sign_allergens=())
    whole = "".join(m.text for m in compose_label(content, layout="strip", size=(210, 60)).marks if isinstance(m, Text))
    assert "see the ingredients" in whole and "potatoes" in whole


ADDRESS = "https://ternandtide.example/beetroot-relish?lot=é"


@pytest.mark.parametrize(("layout", "size"), [("card", (105, 148)), ("wrap", (230, 80)), ("tent", (148, 210))])
def test_the_square_code_is_read_back(layout: str, size: tuple[float, float]) -> None:
    """A reader of codes finds the address in the printed label."""
    zxingcpp = pytest.importorskip("zxingcpp")
    data = draw_label(replace(RELISH, address=ADDRESS), layout=layout, size=size)
    picture = pdfium.PdfDocument(data)[0].render(scale=4).to_numpy()
    found = {code.text for code in zxingcpp.read_barcodes(picture)}
    assert found == {ADDRESS}


def test_the_square_code_keeps_its_quiet_zone() -> None:
    """Nothing is printed within four modules of the code: ISO/IEC 18004."""
    drawing = compose_label(replace(RELISH, address=ADDRESS), size=(105, 148))
    dark = [m for m in drawing.marks if isinstance(m, Patch) and m.block == "code"]
    quiet = QUIET * MODULE_MM * MM
    left, top = min(m.x for m in dark) - quiet, min(m.y for m in dark) - quiet
    right, bottom = max(m.x + m.width for m in dark) + quiet, max(m.y + m.height for m in dark) + quiet
    assert right - left == pytest.approx((len(modules(ADDRESS)) + 8) * MODULE_MM * MM)
    for block in glyphs_by_block(drawing, read_page(write_pdf(drawing))).values():
        for g in block:
            assert g.right <= left or g.left >= right or g.bottom <= top or g.top >= bottom


def test_an_address_that_is_too_long_for_a_code_is_refused() -> None:
    """The message says how long it may be."""
    with pytest.raises(LabelerError, match="at most 300"):
        draw_label(replace(RELISH, address="https://x.example/" + "a" * 300), size=(210, 297))


def test_the_worksheet_travels_inside_the_file() -> None:
    """The attached JSON comes out as it went in, and the same input still gives the same bytes."""
    worksheet = '{"title": "Relish – é", "grams": 340}'.encode()
    data = draw_label(RELISH, worksheet=worksheet)
    (attachment,) = [pdfium.PdfDocument(data).get_attachment(0)]
    assert attachment.get_name() == "worksheet.json"
    assert bytes(attachment.get_data()) == worksheet
    assert draw_label(RELISH, worksheet=worksheet) == data


@settings(max_examples=8, deadline=None, phases=PHASES, suppress_health_check=SLOW)
@given(content=CONTENT, case=st.sampled_from([("wrap", (180, 60)), ("tent", (100, 150)), ("strip", (120, 30))]))
def test_any_content_fits_any_layout_or_is_refused(
    content: LabelContent, case: tuple[str, tuple[float, float]]
) -> None:
    """What holds for the card holds for the other layouts: all promises kept, or a size on which they are."""
    layout, size = case
    content = replace(content, address="https://ternandtide.example")
    try:
        drawing = compose_label(content, layout=layout, size=size)
    except DoesNotFit as refusal:
        size = refusal.needed_mm
        if size[1] > 2000:  # longer than any label: the refusal stands
            return
        drawing = compose_label(content, layout=layout, size=size)
    check(content, size, drawing, read_page(write_pdf(drawing)))


@pytest.mark.parametrize("layout", ["card", "wrap", "tent"])
@pytest.mark.parametrize("content", [PIE, RELISH, replace(PIE, language="fr")])
def test_no_name_in_the_nutrition_table_is_cut(content: LabelContent, layout: str) -> None:
    """However narrow the page, each word of each row stands whole, or the label is refused with a size that does so."""
    for wide in range(36, 130, 11):
        size = (float(wide), 240.0)
        try:
            drawing = compose_label(content, layout=layout, size=size)
        except DoesNotFit as refused:
            drawing = compose_label(content, layout=layout, size=refused.needed_mm)
        words = {
            word for m in drawing.marks if isinstance(m, Text) and m.block == "nutrition" for word in m.text.split()
        }
        wanted = {word for row in content.nutrition for word in row.name.replace("-", "- ").split()}
        assert wanted <= words, (size, wanted - words)


@pytest.mark.parametrize("layout", list(LAYOUTS))
def test_a_price_stands_on_signs_alone(layout: str) -> None:
    """The tent's front and the strip say what it costs; no package label does."""
    priced = replace(RELISH, sign_price="£3.50 a jar")
    texts = [
        mark.block
        for mark in compose_label(priced, layout=layout, size=SIZES[layout][0]).marks
        if isinstance(mark, Text) and "3.50" in mark.text
    ]
    assert texts == {"tent": ["sign-price"], "strip": ["price"]}.get(layout, [])
