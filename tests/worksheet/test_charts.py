"""Pictures of a worksheet, and the chart at a terminal: what they show is what the worksheet says."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_worksheet import MARKETS, RECIPES, made

from labeler.charts import draw_pictures, write_pictures
from labeler.charts.shares import ShareBand, bands_of_worksheet, scale_for
from labeler.charts.terminal import chart_lines
from labeler.label.drawing import Drawing, Patch, RuledLine, Text
from labeler.label.paper import fitted, wrapped
from labeler.label.pdf import write_pdf
from labeler.label.preview import preview_svg
from labeler.label.typesetting import text_width
from labeler.types import LabelerError

SVG = "{http://www.w3.org/2000/svg}"
NAMES = ("contributions", "handling", "certainty")


@cache
def drawn(name: str, market: str = "us") -> dict[str, Drawing]:
    return draw_pictures(made(name, market))


def texts(drawing: Drawing) -> str:
    return " ".join(mark.text for mark in drawing.marks if isinstance(mark, Text))


@pytest.mark.parametrize("name", RECIPES)
@pytest.mark.parametrize("market", ["us", "uk", "jp"])
def test_nothing_runs_out_of_the_page(name: str, market: str) -> None:
    """Every bar, line and text of every picture is inside its page."""
    for drawing in drawn(name, market).values():
        for mark in drawing.marks:
            if isinstance(mark, RuledLine):
                ends = (mark.x0, mark.x1, mark.y0, mark.y1)
                right, low = max(ends[:2]), max(ends[2:])
                left, top = min(ends[:2]), min(ends[2:])
            elif isinstance(mark, Patch):
                left, top, right, low = mark.x, mark.y, mark.x + mark.width, mark.y + mark.height
            else:
                left, right = mark.x, mark.x + text_width(mark.text, mark.face) * mark.size
                top, low = mark.y - mark.size, mark.y + 0.3 * mark.size
            assert left >= 0 and top >= 0 and right <= drawing.width + 0.01 and low <= drawing.height


def test_texts_do_not_lie_on_each_other() -> None:
    """No two texts of a picture share a place."""
    for drawing in drawn("brined").values():
        boxes = [
            (mark.x, mark.y - 0.7 * mark.size, mark.x + text_width(mark.text, mark.face) * mark.size, mark.y)
            for mark in drawing.marks
            if isinstance(mark, Text) and mark.text.strip()
        ]
        for at, one in enumerate(boxes):
            for other in boxes[at + 1 :]:
                across = min(one[2], other[2]) - max(one[0], other[0])
                down = min(one[3], other[3]) - max(one[1], other[1])
                assert across <= 0.01 or down <= 0.01


@pytest.mark.parametrize("picture", NAMES)
def test_svg_is_text_with_a_title_and_a_description(picture: str) -> None:
    """The SVG is one document that needs nothing from outside, says its title and in words what it shows."""
    drawing = drawn("brined")[picture]
    text = preview_svg(drawing)
    root = ElementTree.fromstring(text)
    title, described = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None and (title.text or "").startswith("Brined cucumber box")
    assert described is not None and len(described.text or "") > 100
    shown = " ".join("".join(one.itertext()) for one in root.iter(f"{SVG}text"))
    assert "Sodium" in shown and "Brined cucumber box" in shown
    assert not list(root.iter(f"{SVG}script")) and not list(root.iter(f"{SVG}image"))
    assert not re.search(r"(href|src|url\()[=\"']*\(?https?:", text)
    assert text == preview_svg(drawing)


@pytest.mark.parametrize("picture", NAMES)
def test_pdf_is_text_and_the_same_each_time(picture: str) -> None:
    """The PDF has the words of the picture as text, and the same bytes for the same worksheet."""
    data = write_pdf(drawn("brined")[picture])
    assert data == write_pdf(draw_pictures(made("brined"))[picture])
    document = pypdfium2.PdfDocument(data)
    assert "Sodium" in document[0].get_textpage().get_text_range()


def test_contributions_show_the_shares_of_the_worksheet() -> None:
    """Bars of a figure are as long as the ingredients' shares of it, and together as long as the scale."""
    found, drawing = made("brined"), drawn("brined")["contributions"]
    row = next(row for row in found.declared if row.id == "sodium" and row.basis == "one serving")
    name = next(mark for mark in drawing.marks if isinstance(mark, Text) and mark.text == "Sodium")
    bars = [
        mark
        for mark in drawing.marks
        if isinstance(mark, Patch) and mark.y < name.y < mark.y + mark.height and mark.width > 0.4
    ]
    whole = sum(share.amount for share in row.shares)
    longest = max(share.amount for share in row.shares) / whole
    scale = max(mark.x + mark.width for mark in bars) - min(mark.x for mark in bars)
    assert max(mark.width for mark in bars) == pytest.approx(longest * scale, abs=1.5)
    assert row.printed in texts(drawing)
    assert f"{row.shares[0].name} {row.shares[0].amount / whole:.0%}" in drawing.description


def test_handling_shows_what_became_of_the_salt() -> None:
    """The bar of sodium is cut where the balance says, and the figures are those of a serving."""
    found, drawing = made("brined"), drawn("brined")["handling"]
    balance = next(one for one in found.balances if one.tag == "NA")
    shares = {"in the dish": balance.in_dish, "poured off": balance.streams["poured off"]}
    for kind, amount in shares.items():
        assert f"{amount / balance.put_in:.0%} {kind}" in drawing.description
    assert f"{balance.in_dish / found.servings:,.0f} mg" in texts(drawing)


def test_certainty_puts_the_best_estimate_within_its_band() -> None:
    """In words each figure stands with its ends; a market without reference values has no such picture."""
    for band in bands_of_worksheet(made("brined")):
        assert band.low <= band.best <= band.high
        assert band.name in drawn("brined")["certainty"].description
    assert "certainty" not in drawn("brined", "jp")


@pytest.mark.parametrize("market", MARKETS)
def test_bands_are_the_printed_percentages_before_rounding(market: str) -> None:
    """Where the market prints a percentage from the unrounded amount, the band's best estimate rounds to it."""
    found = made("brined", market)
    rows = {
        tuple(sorted(term.tag for term in row.made_of)): row
        for row in found.declared
        if row.basis == "one serving" and row.reference and row.amount is not None and row.status != "missing"
    }
    for row in rows.values():
        share = 100 * (row.amount or 0.0) / (row.reference or 1.0)
        if market in ("eu", "uk") and row.percent is not None:
            assert abs(share - float(row.percent.rstrip("%"))) <= 0.5 + 1e-9


def test_words_that_no_face_prints_are_replaced() -> None:
    """A title and names from any script are drawn, with a visible sign for what cannot be printed."""
    found = made("brined")
    odd = replace(found, title="\U0001f35e \u0001 \u202etitle")
    for drawing in draw_pictures(odd).values():
        assert "\ufffd" in drawing.title and "\u202e" not in drawing.title
        write_pdf(drawing)


def test_pictures_are_written_into_a_folder(tmp_path: Path) -> None:
    """Each as SVG and PDF; a folder that cannot be made is refused in words."""
    written = write_pictures(made("brined"), str(tmp_path / "pictures"))
    assert sorted(Path(name).name for name in written) == sorted(f"{n}.{e}" for n in NAMES for e in ("svg", "pdf"))
    assert all(Path(name).stat().st_size > 1000 for name in written)
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(LabelerError, match="folder"):
        write_pictures(made("brined"), str(tmp_path / "file"))


bands = st.builds(
    lambda name, values, least: ShareBand(name, sorted(values)[1], min(values), max(values), least, "1 g"),
    st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z", "M"]), min_size=1, max_size=12),
    st.lists(st.floats(0, 400), min_size=3, max_size=3),
    st.booleans(),
)


@given(st.lists(bands, min_size=1, max_size=6), st.integers(20, 200), st.booleans())
@settings(deadline=None, max_examples=60)
def test_the_chart_keeps_its_width_and_its_order(some: list[ShareBand], width: int, plain: bool) -> None:
    """All tracks are equally long, lines stay within the width, the bead lies on the beam, and ASCII is ASCII."""
    lines = chart_lines(some, width=width, plain=plain)
    assert len(lines) == len(some) + 2
    tracks = ["".join(text for text, part in line if part in ("track", "beam", "bead", "open")) for line in lines[:-2]]
    assert len({len(track) for track in tracks}) == 1
    whole = ["".join(text for text, _ in line) for line in lines[:-2]]
    assert max(map(len, whole)) <= max(width, 60 + 24)
    end = scale_for(some)
    for band, track in zip(some, tracks, strict=True):
        beads = [at for at, sign in enumerate(track) if sign in "●○Oo"]
        assert len(beads) == (1 if band.best <= end else 0)
        beam = [at for at, sign in enumerate(track) if sign in "━╺╸=▶>"] + beads
        assert beam == [] or sorted(beam) == list(range(min(beam), max(beam) + 1))
    if plain:
        assert all("".join(text for text, _ in line).isascii() for line in lines)


def test_no_bands_no_chart() -> None:
    """Where there is nothing to compare with there are no lines."""
    assert chart_lines([], width=80) == []


def test_texts_are_fitted_and_wrapped() -> None:
    """A text that is too wide is cut with a sign, and wrapped lines are no wider than asked."""
    assert fitted("parsley", 1000.0, 8.0) == "parsley"
    short = fitted("a very long name of an ingredient", 60.0, 8.0)
    assert short.endswith("…") and text_width(short, "text") * 8.0 <= 60.0
    for line in wrapped("one two three four five six seven eight nine ten", 60.0, 8.0):
        assert text_width(line, "text") * 8.0 <= 60.0


def test_a_long_title_goes_on_in_a_line_below() -> None:
    """What a picture is of is never cut off: the title takes as many lines as it needs."""
    title = "Slow-roasted shoulder with apples, sage, onion gravy and a tray of roasted roots"
    for drawing in draw_pictures(replace(made("brined"), title=title)).values():
        heading = " ".join(mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.size == 18.0)
        assert heading.startswith(title) and heading == drawing.title and "…" not in heading
