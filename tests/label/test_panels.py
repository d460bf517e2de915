"""Official panels, measured from their PDF against the rule that they are drawn by."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest
from label_reading import RELISH, Page, glyphs_by_block, read_page, read_strokes

from labeler.label import DoesNotFit, compose_label
from labeler.label.drawing import MM, Drawing, Text
from labeler.label.panels.content import PanelContent, PanelRow, panel_content, panel_forms
from labeler.label.panels.draw import compose_panel, draw_panel
from labeler.label.pdf import write_pdf
from labeler.rules.declaration import declare
from labeler.types import LabelerError, Status

# One serving of an invented pie, in the table's units (kcal, g, mg, micrograms).
SERVING = {
    "ENERC_KCAL": 412.0, "FAT": 21.4, "FASAT": 8.6, "FATRN": 0.2, "CHOLE": 96.0, "NA": 742.0, "CHOCDF": 33.0,
    "FIBTG": 3.4, "SUGAR": 6.2, "SUGAR_ADDED": 1.2, "PROCNT": 22.6, "VITD": 2.4, "CA": 118.0, "FE": 2.6, "K": 560.0,
    "WATER": 120.0,
}  # fmt: skip
US_ORDER = [
    "Nutrition Facts", "2 servings per container", "Serving size", "1 pie (200g)", "Amount per serving", "Calories",
    "410", "% Daily Value*", "Total Fat", "Saturated Fat", "Trans Fat", "Cholesterol", "Sodium", "Total Carbohydrate",
    "Dietary Fiber", "Total Sugars", "Added Sugars", "Protein", "Vitamin D", "Calcium", "Iron", "Potassium",
    "*The % Daily Value (DV) tells you how much a nutrient in a serving of food contributes to a daily diet."
    " 2,000 calories a day is used for general nutrition advice.",
]  # fmt: skip  # 21 CFR 101.9(c), (d)(3) to (9)


def declared(market: str, factor: float = 1.0):  # type: ignore[no-untyped-def]
    return declare({key: value * factor for key, value in SERVING.items()}, market=market)


def us(form: str, columns: int = 1) -> PanelContent:
    return panel_content(
        [declared("us", factor) for factor in (1.0, 2.0)[:columns]], form=form, serving="1 pie (200g)", servings="2"
    )


def eu(form: str = "panel-table", columns: int = 2) -> PanelContent:
    return panel_content(
        [declared("eu", factor) for factor in (0.5, 1.0)[:columns]], form=form, serving="1 pie (200 g)"
    )


PANELS = {
    "vertical": lambda: us("panel-vertical"),
    "dual": lambda: us("panel-dual-column", 2),
    "tabular": lambda: us("panel-tabular"),
    "tabular small": lambda: us("panel-tabular-small"),
    "linear": lambda: us("panel-linear"),
    "eu table": eu,
    "eu linear": lambda: eu("panel-linear", 1),
}


def read(panel: PanelContent, width_mm: float | None = None) -> tuple[Drawing, Page]:
    drawing = compose_panel(panel, width_mm=width_mm)
    return drawing, read_page(write_pdf(drawing))


def size_of(page: Page, text: str) -> set[float]:
    """Type sizes of the first place where a text is printed."""
    chars = [g for g in page.glyphs if not g.char.isspace()]
    at = "".join(g.char for g in chars).index(re.sub(r"\s", "", text))
    return {round(g.size, 2) for g in chars[at : at + len(re.sub(r"\s", "", text))]}


def fonts_of(page: Page, text: str) -> set[str]:
    chars = [g for g in page.glyphs if not g.char.isspace()]
    at = "".join(g.char for g in chars).index(re.sub(r"\s", "", text))
    return {g.font for g in chars[at : at + len(re.sub(r"\s", "", text))]}


@pytest.mark.parametrize("name", list(PANELS))
def test_a_panel_stands_in_its_box_with_nothing_over_its_edge(name: str) -> None:
    """The page is the box; every glyph is inside it and belongs to the panel; text is embedded; same bytes twice."""
    panel = PANELS[name]()
    drawing, page = read(panel)
    assert page.fonts_embedded and all(page.fonts_embedded.values())
    for g in glyphs_by_block(drawing, page)["nutrition"]:
        assert g.left > 0.5 and g.right < drawing.width - 0.5 and g.top > 0.5 and g.bottom < drawing.height - 0.5
    assert draw_panel(panel) == draw_panel(panel)


@pytest.mark.parametrize("name", list(PANELS))
def test_no_line_of_type_touches_another_or_a_rule(name: str) -> None:
    """Letters never touch (101.9(d)(1)(ii)): no glyph's box overlaps one of another line, and no rule crosses one."""
    drawing, page = read(PANELS[name]())
    glyphs = [g for g in page.glyphs if not g.char.isspace()]
    for one in glyphs:
        for other in glyphs:
            if one.y < other.y - 0.5 and one.left < other.right and other.left < one.right:
                assert one.bottom <= other.top + 0.05, (one, other)
    for stroke in read_strokes(write_pdf(drawing)):
        top, bottom = stroke.y - stroke.weight / 2, stroke.y + stroke.weight / 2
        assert not [
            g
            for g in glyphs
            if g.top < bottom - 0.02 and g.bottom > top + 0.02 and g.right > stroke.left and g.left < stroke.right
        ]


def test_the_vertical_panel_reads_in_the_order_of_the_rule() -> None:
    """Every line is there, in order, with the footnote word for word."""
    _, page = read(us("panel-vertical"))
    text = re.sub(r"\s", "", "".join(g.char for g in page.glyphs))
    place = 0
    for wanted in US_ORDER:
        found = text.find(re.sub(r"\s", "", wanted), place)
        assert found >= 0, wanted
        place = found


def test_the_vertical_panel_has_the_type_sizes_of_the_rule() -> None:
    """101.9(d): serving lines 10 points, Calories 16 and 22, lines of nutrients 8, % Daily Value and footnote 6."""
    _, page = read(us("panel-vertical"))
    assert size_of(page, "2 servings per container") == {10.0}
    assert size_of(page, "Serving size") == size_of(page, "1 pie (200g)") == {10.0}
    assert size_of(page, "Calories") == {16.0}
    assert size_of(page, "410") == {22.0}
    assert size_of(page, "% Daily Value*") == {6.0}
    assert size_of(page, "Total Carbohydrate") == size_of(page, "Vitamin D") == {8.0}
    assert size_of(page, "*The % Daily Value (DV) tells you") == {6.0}
    (heading,) = size_of(page, "Nutrition Facts")
    assert heading >= 16.0  # no smaller than any other type but the number of Calories


def test_the_vertical_panel_has_bold_where_the_rule_wants_it_and_nowhere_else() -> None:
    """101.9(d)(1)(iv): heading, serving size, Calories, main nutrients; not the indented lines, vitamins, footnote."""
    _, page = read(us("panel-vertical"))
    for text in ("Nutrition Facts", "Serving size", "Amount per serving", "Calories", "410", "% Daily Value*",
                 "Total Fat", "Cholesterol", "Sodium", "Total Carbohydrate", "Protein"):  # fmt: skip
        assert all("Bold" in name for name in fonts_of(page, text)), text
    for text in ("2 servings per container", "Saturated Fat", "Dietary Fiber", "Total Sugars",
                 "Includes 1 g Added Sugars", "Vitamin D", "Potassium", "*The % Daily Value"):  # fmt: skip
        assert not any("Bold" in name for name in fonts_of(page, text)), text


def test_the_vertical_panel_has_the_rules_of_the_pictures() -> None:
    """Bars of 7 and 3 points and hairlines of 1/4 point, full width, but for the one above Added Sugars."""
    panel = us("panel-vertical")
    drawing, page = read(panel)
    strokes = read_strokes(write_pdf(drawing))
    inner = [s for s in strokes if s.left > 1]
    assert [s.weight for s in inner if s.weight > 1] == [7.0, 3.0, 7.0, 3.0]
    assert {s.weight for s in inner if s.weight < 1} == {0.25}
    indented = [s for s in inner if s.left > 10]
    assert len(indented) == 1
    (added,) = {round(g.y, 1) for g in page.glyphs if g.char == "I" and g.size == 8.0 and g.left > 20}
    assert 0 < added - indented[0].y < 10
    # A hairline above every line of nutrients and vitamins but the first of each group, which has its bar.
    assert sum(s.weight < 1 for s in inner) == len(panel.rows) - 2 + 2  # and those under heading and % Daily Value


def test_percentages_stand_in_a_column_at_the_right() -> None:
    """Every percentage ends at the panel's right margin, beside its own line."""
    panel = us("panel-vertical")
    drawing, _ = read(panel)
    from labeler.label.typesetting import text_width

    texts = [m for m in drawing.marks if isinstance(m, Text)]
    for row in panel.rows:
        if not row.percents[0]:
            continue
        name = next(m for m in texts if m.text == row.name)
        share = next(m for m in texts if m.text == row.percents[0] and abs(m.y - name.y) < 0.01)
        assert share.x + text_width(share.text, share.face) * share.size == pytest.approx(drawing.width - 4, abs=0.01)


def test_lines_of_nutrients_have_four_points_of_leading() -> None:
    """101.9(d)(1)(ii): 8-point lines at least 12 points apart."""
    panel = us("panel-vertical")
    drawing, _ = read(panel)
    names = {row.name for row in panel.rows}
    baselines = sorted(m.y for m in drawing.marks if isinstance(m, Text) and m.text in names)
    assert len(baselines) == len(panel.rows)
    assert all(below - above >= 12.0 for above, below in pairwise(baselines))


def test_two_columns_show_both_amounts_on_every_line() -> None:
    """Per serving and per container stand beside each other, the second twice the first."""
    _, page = read(us("panel-dual-column", 2))
    text = re.sub(r"\s", "", "".join(g.char for g in page.glyphs))
    for wanted in ("PerservingPercontainer", "Calories410820", "TotalFat21g", "43g", "IncludesAddedSugars1g", "2g"):
        assert wanted in text, wanted


def test_small_forms_use_the_abbreviations_that_the_law_allows() -> None:
    """Tabular and linear panels of small packages shorten names; the footnote is the short one."""
    for form in ("panel-tabular-small", "panel-linear"):
        _, page = read(us(form))
        text = "".join(g.char for g in page.glyphs)
        assert "Sat. Fat" in text and "Cholest." in text and "Fiber" in text and "Incl. 1 g Added Sugars" in text
        assert "*% DV = % Daily Value" in text and "tells you" not in text


def test_the_european_table_has_its_lines_in_order_and_letters_of_1_2_mm() -> None:
    """Annex XV of Regulation (EU) 1169/2011: energy in kJ and kcal first; x-height 1.2 mm or more (Article 13(2))."""
    _, page = read(eu())
    text = re.sub(r"\s", "", "".join(g.char for g in page.glyphs))
    place = 0
    for wanted in ("Nutrition declaration", "per 100 g", "Energy", "kJ /", "kcal", "Fat", "of which saturates",
                   "Carbohydrate", "of which sugars", "Protein", "Salt"):  # fmt: skip
        place = text.index(wanted.replace(" ", ""), place)
    assert min(g.size for g in page.glyphs) * 0.536 >= 1.2 * MM - 0.01
    decimals = [g for g in page.glyphs if g.char == "." and g.size < 8]
    assert decimals


@pytest.mark.parametrize("form", ["panel-table", "panel-linear"])
def test_energy_has_its_share_of_the_reference_intake(form: str) -> None:
    """Annex XIII, part B, of Regulation (EU) 1169/2011: energy has a reference intake of 8,400 kJ, as fat has its."""
    panel = eu(form, 1)
    (energy,) = {line.percent for line in declared("eu", 0.5) if line.id == "energy_kj"}
    assert panel.energy_percent == energy
    assert energy == f"{round(100.0 * float(panel.energy[0].split(' kJ')[0]) / 8400.0)}%"
    _, page = read(panel)
    text = re.sub(r"\s", "", "".join(g.char for g in page.glyphs))
    assert re.search(rf"kcal\(?{re.escape(energy)}", text)


def test_a_panel_may_be_made_wider_but_not_narrower() -> None:
    """A panel has a least width, from its least sizes of type."""
    panel = us("panel-vertical")
    least = compose_panel(panel).width
    assert compose_panel(panel, width_mm=10).width == least
    assert compose_panel(panel, width_mm=100).width == pytest.approx(100 * MM)
    _, page = read(panel, 100)
    assert size_of(page, "Total Fat") == {8.0}


def test_a_label_may_carry_the_official_panel() -> None:
    """The card is laid out round the panel, which keeps its sizes."""
    content = replace(RELISH, nutrition=(), panel=us("panel-vertical"))
    drawing = compose_label(content, size=(148, 120))
    page = read_page(write_pdf(drawing))
    blocks = glyphs_by_block(drawing, page)
    assert size_of(page, "% Daily Value*") == {6.0}
    assert {"title", "ingredients", "net", "nutrition"} <= set(blocks)


def test_forms_that_are_not_there_are_refused_with_those_that_are() -> None:
    """The message lists a market's forms, or says that it has none, or how many columns a form has."""
    with pytest.raises(LabelerError, match="panel-vertical"):
        us("panel-round")
    with pytest.raises(LabelerError, match="1 column"):
        us("panel-vertical", 2)
    with pytest.raises(LabelerError, match="no official panel"):
        panel_forms("codex")


def test_words_of_user_text_in_a_panel_are_text() -> None:
    """A serving in words is printed as written."""
    panel = replace(us("panel-vertical"), serving="1 <b>pie</b> & more")
    _, page = read(panel)
    assert "1<b>pie</b>&more" in re.sub(r"\s", "", "".join(g.char for g in page.glyphs))


def test_a_row_is_plain_data() -> None:
    """Rows compare and hash by value, so that panels may be cached."""
    assert PanelRow("a", "A", ("1 g",), ("",)) == PanelRow("a", "A", ("1 g",), ("",))
    assert Status.MISSING  # the status travels with the declaration, not with the panel


@pytest.mark.parametrize("layout", ["card", "wrap", "tent"])
@pytest.mark.parametrize("name", ["vertical", "dual", "tabular", "tabular small", "linear"])
def test_a_panel_on_a_label_keeps_the_margins_or_is_refused_with_a_size_that_holds_it(name: str, layout: str) -> None:
    """Measured from the PDF: no letter and no rule of the label stands in its margins, however narrow the page."""
    content = replace(RELISH, panel=PANELS[name]())
    for wide in (60, 75, 90, 130, 150, 180):
        size = (float(wide), 260.0 if layout == "tent" else 130.0)
        try:
            drawing = compose_label(content, layout=layout, size=size)
        except DoesNotFit as refused:
            drawing = compose_label(content, layout=layout, size=refused.needed_mm)
        data = write_pdf(drawing)
        left, _, right, _ = drawing.safe
        for glyph in read_page(data).glyphs:
            if not glyph.char.isspace():
                assert left - 0.5 <= glyph.left and glyph.right <= right + 0.5, (size, glyph)
        for stroke in read_strokes(data):
            if layout != "tent" or stroke.right - stroke.left > 30:  # a tent's fold is marked at the edge
                assert left - 0.5 <= stroke.left and stroke.right <= right + 0.5, (size, stroke)
