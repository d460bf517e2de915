"""The allergen matrix of a stall, read back from its PDF."""

from __future__ import annotations

from itertools import combinations

import pytest
from label_reading import box_of, glyphs_by_block, read_page

from labeler.label.compose import DoesNotFit
from labeler.label.drawing import MM, Text
from labeler.label.matrix_page import CONTAINS, READ_THE_PACKAGE, MatrixContent, MatrixRow, compose_matrix, draw_matrix
from labeler.label.pdf import write_pdf
from labeler.types import LabelerError

ALLERGENS = ("milk", "egg", "fish", "crustaceans", "molluscs", "wheat", "mustard", "celery", "sulphites")


def dish(name: str, *contains: str, ask: tuple[str, ...] = ()) -> MatrixRow:
    states = tuple(CONTAINS if a in contains else READ_THE_PACKAGE if a in ask else "" for a in ALLERGENS)
    return MatrixRow(name, states, "58e706f8")


STALL = MatrixContent(
    "Allergens at the Quay Market stall",
    ALLERGENS,
    (
        dish("Quay pie of cod, crab and mussel", "milk", "fish", "crustaceans", "molluscs", "wheat", ask=("celery",)),
        dish("Beetroot and horseradish relish", "mustard", ask=("sulphites",)),
        dish("Brown shrimp roll", "crustaceans", "wheat", "egg", "milk"),
    ),
    "Tern & Tide Kitchen",
    "Stall 14, Quay Market",
    "12 April 2026",
)


@pytest.mark.parametrize("size", [(297.0, 210.0), (210.0, 297.0), (148.0, 105.0)])
def test_the_matrix_stays_inside_and_its_parts_apart(size: tuple[float, float]) -> None:
    """Every glyph is in the safe area, no part touches another, and letters are 1/16 inch or more."""
    drawing = compose_matrix(STALL, size=size)
    page = read_page(write_pdf(drawing))
    assert (page.width, page.height) == pytest.approx((size[0] * MM, size[1] * MM), abs=0.01)
    blocks = glyphs_by_block(drawing, page)
    left, top, right, bottom = drawing.safe
    for glyph in (g for block in blocks.values() for g in block):
        assert left - 0.05 <= glyph.left and glyph.right <= right + 0.05 and glyph.bottom <= bottom + 0.05
        assert glyph.top >= top - 0.05
    for one, other in combinations(map(box_of, blocks.values()), 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    assert all(m.size * 0.5362 >= 25.4 / 16 * MM - 0.005 for m in drawing.marks if isinstance(m, Text))


def test_each_sign_stands_under_its_allergen_and_beside_its_dish() -> None:
    """A sign is in the column of the allergen's name and on the line of the dish."""
    drawing = compose_matrix(STALL)
    texts = [m for m in drawing.marks if isinstance(m, Text)]
    heads = {m.text: m.x for m in texts if m.block == "heads"}
    assert list(heads) == list(ALLERGENS) and list(heads.values()) == sorted(heads.values())
    assert all(m.turn == 90 for m in texts if m.block == "heads")
    for row in STALL.rows:
        line = next(m.y for m in texts if m.text.startswith(row.name))
        signs = {a: m.text for m in texts for a, x in heads.items()
                 if m.text in "●?" and abs(m.y - line) < 0.01 and abs(m.x - x) < 12}  # fmt: skip
        wanted = {a: {CONTAINS: "●", READ_THE_PACKAGE: "?"}[s] for a, s in zip(ALLERGENS, row.states, strict=True) if s}
        assert signs == wanted


def test_the_matrix_says_that_an_empty_field_promises_nothing() -> None:
    """The legend is printed, whole, in the language of the matrix."""
    text = " ".join(read_page(draw_matrix(STALL)).text.split())
    assert "● contains · ? read the package · an empty field: not found in the recipe" in text
    assert "does not mean that there is none" in text


def test_a_stall_with_too_many_dishes_is_told_what_page_would_hold_them() -> None:
    """The refusal names a size, and the matrix fits on it."""
    many = MatrixContent(STALL.title, ALLERGENS, STALL.rows * 30)
    with pytest.raises(DoesNotFit) as refusal:
        compose_matrix(many)
    compose_matrix(many, size=refusal.value.needed_mm)


def test_a_line_without_a_state_for_each_allergen_is_refused() -> None:
    """The message names the dish and the states there are."""
    with pytest.raises(LabelerError, match=r"Soup.*read the package"):
        MatrixContent("A", ALLERGENS, (MatrixRow("Soup", ("yes",)),))


def test_the_matrix_is_the_same_bytes_each_time_and_reports_what_it_cannot_print() -> None:
    """Names are text like any other."""
    odd = MatrixContent("A\x00 <b>&", ALLERGENS, STALL.rows)
    assert draw_matrix(odd) == draw_matrix(odd)
    assert [p.code for p in compose_matrix(odd).problems] == ["cannot-print"]


def test_the_page_says_where_an_ingredient_could_not_be_assessed():
    """An empty field beside an ingredient that nobody knows is no answer, and the page says so."""
    content = MatrixContent(
        "Allergens", ("milk",), (MatrixRow("Slaw", ("",)),), notes=("Slaw: “zorblat” not assessed.",)
    )
    marks = compose_matrix(content).marks
    assert "zorblat" in " ".join(mark.text for mark in marks if isinstance(mark, Text))


def test_the_size_that_a_refusal_names_holds_the_matrix():
    """The page that is asked for instead holds what did not fit, with the margins of that page."""
    rows = tuple(MatrixRow(f"Dish {number}", ("contains",) * 30) for number in range(40))
    content = MatrixContent("Allergens", tuple(f"allergen {number}" for number in range(30)), rows)
    with pytest.raises(DoesNotFit) as refused:
        compose_matrix(content, size=(120.0, 80.0))
    assert compose_matrix(content, size=refused.value.needed_mm).marks
