"""The generic label, read back from its PDF: text, type, places, and what happens when it does not fit."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from label_reading import PIE, RELISH, Page, box_of, glyphs_by_block, read_page

from labeler.label import DoesNotFit, LabelContent, NutritionRow, Run, compose_label, draw_label
from labeler.label.compose import contrast
from labeler.label.drawing import MM, Drawing, RuledLine, Text
from labeler.label.fonts import face
from labeler.label.pdf import write_pdf
from labeler.types import LabelerError

CONTENTS = {"relish": RELISH, "pie": PIE}
SIZES = [(100.0, 70.0), (105.0, 148.0), (148.0, 105.0), (210.0, 99.0)]
CASES = [(name, size) for name in CONTENTS for size in SIZES if (name, size) != ("pie", (100.0, 70.0))]
LEAST = 25.4 / 16 * MM  # 1/16 inch, 21 CFR 101.2(c) [pt]


def drawn(content: LabelContent, size: tuple[float, float], colour: str | None = None) -> tuple[Drawing, Page, bytes]:
    drawing = compose_label(content, size=size, colour=colour)
    data = write_pdf(drawing)
    return drawing, read_page(data), data


def said(content: LabelContent) -> list[str]:
    """Everything a content says, in the order in which a label must be read."""
    rows = [text for r in content.nutrition for text in (r.name, r.per_serving, r.percent, r.per_100g)]
    texts = [content.title, content.story, content.serving, content.servings, *rows, *content.nutrition_notes]
    texts += ["".join(r.text for r in content.ingredients), "".join(r.text for r in content.allergens)]
    texts += [content.storage, *content.cautions, content.net, content.maker, content.place, content.made]
    texts += [content.best_before, content.lot, content.digest, content.as_of]
    return [" ".join(text.split()) for text in texts if text.strip()]


def check(content: LabelContent, size: tuple[float, float], drawing: Drawing, page: Page) -> None:
    """What must hold for every label that was drawn at all."""
    assert page.width == pytest.approx(size[0] * MM, abs=0.01)
    assert page.height == pytest.approx(size[1] * MM, abs=0.01)
    assert all(page.fonts_embedded.values())
    blocks = glyphs_by_block(drawing, page)
    left, top, right, bottom = drawing.safe
    for glyph in (g for block in blocks.values() for g in block):
        assert left - 0.05 <= glyph.left and glyph.right <= right + 0.05, glyph
        assert top - 0.05 <= glyph.top and glyph.bottom <= bottom + 0.05, glyph
    for (_, one), (_, other) in combinations(blocks.items(), 2):
        a, b = box_of(one), box_of(other)
        apart = a[2] <= b[0] + 0.3 or b[2] <= a[0] + 0.3 or a[3] <= b[1] + 0.05 or b[3] <= a[1] + 0.05
        assert apart, (a, b)
    for glyph in page.glyphs:
        if glyph.char == "x":
            assert glyph.bottom - glyph.top >= LEAST - 0.01
    # Where there is no x to measure, the size decides: the family's faces share one x-height.
    assert all(m.size >= LEAST / 0.5362 for m in drawing.marks if isinstance(m, Text))


@pytest.mark.parametrize(("name", "size"), CASES)
def test_label_reads_back_whole_and_in_order(name: str, size: tuple[float, float]) -> None:
    """Everything the content says stands in the PDF as text, in reading order."""
    content = CONTENTS[name]
    _, page, _ = drawn(content, size)
    text = re.sub(r"[\s·]+", "", "".join(g.char for g in page.glyphs))
    place = 0
    for wanted in said(content):
        found = text.find(re.sub(r"[\s·]+", "", wanted), place)
        assert found >= 0, wanted
        place = found


@pytest.mark.parametrize(("name", "size"), CASES)
@pytest.mark.parametrize("colour", [None, "#1f4e46"])
def test_every_glyph_is_in_the_safe_area_and_no_block_touches_another(
    name: str, size: tuple[float, float], colour: str | None
) -> None:
    """Page box, embedded faces, least letters, safe area and blocks hold, measured from the PDF."""
    content = CONTENTS[name]
    drawing, page, _ = drawn(content, size, colour)
    assert page.fonts_embedded
    check(content, size, drawing, page)


@pytest.mark.parametrize(("name", "size"), CASES)
def test_rules_never_strike_through_letters(name: str, size: tuple[float, float]) -> None:
    """No hairline crosses a letter's outline."""
    drawing, page, _ = drawn(CONTENTS[name], size)
    for rule in (m for m in drawing.marks if isinstance(m, RuledLine)):
        half = rule.weight / 2
        box = (min(rule.x0, rule.x1) - half, min(rule.y0, rule.y1) - half,
               max(rule.x0, rule.x1) + half, max(rule.y0, rule.y1) + half)  # fmt: skip
        for g in page.glyphs:
            if g.char.isspace():
                continue
            assert g.right < box[0] or g.left > box[2] or g.bottom < box[1] or g.top > box[3], (g, rule)


@pytest.mark.parametrize("size", SIZES[:2])
def test_figures_stand_on_their_decimal_mark(size: tuple[float, float]) -> None:
    """In each column the decimal marks, and the ends of whole numbers, stand one under the other."""
    drawing, _, _ = drawn(RELISH, size)
    rows: dict[float, list[float]] = {}
    for mark in drawing.marks:
        if isinstance(mark, Text) and mark.block == "nutrition" and not mark.face.endswith("bold"):
            found = re.fullmatch(r"(<?\d+)(\.\d+)?", mark.text)
            if found:
                rows.setdefault(round(mark.y, 3), []).append(mark.x + face(mark.face).width(found[1]) * mark.size)
    assert len(rows) == len(RELISH.nutrition) - 1  # the first row, energy, is on a scale of its own
    for column in zip(*(sorted(ends) for ends in rows.values()), strict=True):
        assert max(column) - min(column) < 0.3


def test_net_quantity_letters_are_as_high_as_the_panel_asks() -> None:
    """100 × 70 mm is 10.9 square inches, so the lower-case letters are 1/8 inch: 21 CFR 101.7(h)."""
    drawing, page, _ = drawn(replace(RELISH, net="Net x 12 oz (340 g)"), (100.0, 70.0))
    letters = [g for g in glyphs_by_block(drawing, page)["net"] if g.char == "x"]
    assert letters and all(g.bottom - g.top >= 25.4 / 8 * MM - 0.02 for g in letters)


@pytest.mark.parametrize(("name", "size"), CASES)
def test_the_net_quantity_stands_in_the_bottom_thirty_per_cent(name: str, size: tuple[float, float]) -> None:
    """21 CFR 101.7(e): all of it is in the bottom 30 % of the panel."""
    drawing, page, _ = drawn(CONTENTS[name], size)
    assert min(g.top for g in glyphs_by_block(drawing, page)["net"]) >= 0.7 * page.height


@pytest.mark.parametrize("size", SIZES[1:])
def test_the_net_quantity_is_kept_clear_where_that_is_asked_for(size: tuple[float, float]) -> None:
    """21 CFR 101.7(f): white of its letters' height above and below, of twice the width of its N on both sides."""
    drawing = compose_label(RELISH, size=size, clear_net=True)
    blocks = glyphs_by_block(drawing, read_page(write_pdf(drawing)))
    left, top, right, bottom = box_of(blocks.pop("net"))
    mark = next(m for m in drawing.marks if isinstance(m, Text) and m.block == "net")
    set_face = face(mark.face)
    high, wide = set_face.cap_height * mark.size, 2 * set_face.width("N") * mark.size
    for g in (g for block in blocks.values() for g in block):
        if g.right > left and g.left < right:
            assert g.bottom <= top - high + 2.5 or g.top >= bottom + high - 4.5, g  # less ascenders and descenders
        elif g.bottom > top and g.top < bottom:
            assert g.left >= right + wide - 1.0 or g.right <= left - wide + 1.0, g


def test_the_same_content_gives_the_same_bytes() -> None:
    """Nothing in the file depends on when or in what order labels are drawn."""
    first = draw_label(RELISH)
    draw_label(PIE, size=(105, 148))
    assert draw_label(RELISH) == first


def test_the_file_names_its_title_and_language() -> None:
    """A reader of the file, or a screen reader, learns the label's title and language."""
    import pypdfium2

    data = draw_label(replace(RELISH, language="fr"))
    assert pypdfium2.PdfDocument(data).get_metadata_value("Title") == RELISH.title
    assert b"/Lang (fr)" in data


def test_what_does_not_fit_says_what_size_would() -> None:
    """The refusal names a size, and the label fits on that size."""
    with pytest.raises(DoesNotFit, match=r"does not fit on 60 × 40 mm .* needs \d+ × \d+ mm") as refusal:
        draw_label(PIE, size=(60, 40))
    for size in (refusal.value.needed_mm, refusal.value.proportional_mm):
        assert size is not None
        drawing, page, _ = drawn(PIE, size)
        check(PIE, size, drawing, page)
    assert refusal.value.proportional_mm[0] / refusal.value.proportional_mm[1] == pytest.approx(1.5, rel=0.02)


def test_what_does_not_fit_says_what_could_be_left_out() -> None:
    """Where leaving out what no law asks for would do, the refusal names the least of it, and it does."""
    content = replace(RELISH, story="A story told at such length that it leaves no room for what must be said. " * 9)
    with pytest.raises(DoesNotFit, match="would fit without the story line") as refusal:
        draw_label(content)
    assert refusal.value.fits_without == ("the story line",)
    draw_label(replace(content, story=""))


HOSTILE = [
    "<b>bold</b> &amp; <img src='file:///etc/passwd'/>",
    "<para><font size=99>x</font></para>",
    "$(rm -rf /) `id` %s {0} \\n \\(",
    "https://example.org/?q=<script>alert(1)</script>",
    ") Tj ET q 1 0 0 RG 0 0 500 500 re f Q BT (",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_user_text_is_printed_as_it_is_written(text: str) -> None:
    """Nothing in a text is read as markup, as a file, as an address or as the page's own language."""
    content = replace(RELISH, title=text, story=text, maker=text, cautions=(text,), ingredients=(Run(text, True),))
    drawing, page, data = drawn(content, (148, 210))
    check(content, (148, 210), drawing, page)
    squeezed = re.sub(r"\s", "", "".join(g.char for g in page.glyphs))
    assert squeezed.count(re.sub(r"\s", "", text)) == 5
    assert b"/URI" not in data and b"/Annots" not in data and b"/Subtype /Image" not in data


def test_characters_that_cannot_be_printed_are_seen_and_reported() -> None:
    """Control characters and letters without a glyph print as a mark, direction marks vanish, and all are reported."""
    content = replace(RELISH, title="A\x07b\u202ec \u6f22 \u017f\ufb01n", story="½ ¼ é µ ≥ ° ok")
    drawing = compose_label(content, size=(105, 148))
    title = "".join(m.text for m in drawing.marks if isinstance(m, Text) and m.block == "title")
    assert title.replace(" ", "").startswith("A�bc�")
    assert "fin" in title.replace("ſ", "") or "ﬁn" in title
    story = "".join(m.text for m in drawing.marks if isinstance(m, Text) and m.block == "story")
    assert story == "½ ¼ é µ ≥ ° ok"
    (problem,) = drawing.problems
    assert problem.code == "cannot-print"
    assert "title" in problem.message and "U+202E" in problem.message and "U+0007" in problem.message


def test_a_colour_must_read_on_white() -> None:
    """A pale colour is refused with its contrast; the default ones pass WCAG AA."""
    assert contrast("#1f4e46", "#ffffff") >= 4.5
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # WCAG's own borderline grey
    with pytest.raises(LabelerError, match="contrast of 1"):
        draw_label(RELISH, colour="#ffee00")
    with pytest.raises(LabelerError, match="#rrggbb"):
        draw_label(RELISH, colour="red")


@pytest.mark.parametrize("size", [(0, 50), (100, 3000), (float("nan"), 50)])
def test_a_size_that_is_no_size_is_refused(size: tuple[float, float]) -> None:
    """A label has a width and a height within reason."""
    with pytest.raises(LabelerError, match="measures"):
        draw_label(RELISH, size=size)


PHASES = [phase for phase in Phase if phase is not Phase.shrink]  # shrinking whole labels takes minutes
SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
TEXT = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cs"]) | st.sampled_from("aeioubcdst ,()½é"), max_size=60
)
FIGURE = st.sampled_from(["", "0 g", "<0.5 g", "12 mg", "1,240 mg", "7.25 g", "less than 1 g", "?"])
ROWS = st.lists(
    st.builds(NutritionRow, TEXT, FIGURE, FIGURE, st.integers(0, 2), st.sampled_from(["", "5 %"])), max_size=18
)
RUNS = st.lists(st.builds(Run, TEXT, st.booleans()), max_size=12)
CONTENT = st.builds(
    LabelContent,
    title=TEXT,
    story=TEXT,
    serving=TEXT,
    servings=TEXT,
    nutrition=ROWS.map(tuple),
    percent_heading=st.sampled_from(["%", "% daily value"]),
    nutrition_notes=st.lists(TEXT, max_size=2).map(tuple),
    ingredients=RUNS.map(tuple),
    allergens=RUNS.map(tuple),
    sign_allergens=RUNS.map(tuple),
    cautions=st.lists(TEXT, max_size=3).map(tuple),
    net=TEXT,
    maker=TEXT,
    place=TEXT,
    made=TEXT,
    best_before=TEXT,
    lot=TEXT,
    storage=TEXT,
    digest=TEXT,
    as_of=TEXT,
    language=st.sampled_from(["en", "fr", "es", "de", "it"]),
)


@settings(max_examples=25, deadline=None, phases=PHASES, suppress_health_check=SLOW)
@given(content=CONTENT, size=st.sampled_from([(100, 70), (105, 148), (60, 40), (210, 297)]))
def test_any_content_fits_or_is_refused_with_a_size_that_holds_it(
    content: LabelContent, size: tuple[float, float]
) -> None:
    """Whatever the text, the label keeps all its promises, or names a size on which it does."""
    try:
        drawing = compose_label(content, size=size)
    except DoesNotFit as refusal:
        size = refusal.needed_mm
        if size[1] > 2000:  # longer than any label: the refusal stands
            return
        drawing = compose_label(content, size=size)
    check(content, size, drawing, read_page(write_pdf(drawing)))
