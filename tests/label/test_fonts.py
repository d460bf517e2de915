"""The bundled typefaces: where they come from, what they cover, and that their measures are those of the files."""

from __future__ import annotations

import csv
import hashlib

import pytest

from labeler.label.compose import can_print
from labeler.label.drawing import MM
from labeler.label.fonts import FONTS, face

with (FONTS / "faces.csv").open(encoding="utf-8", newline="") as file:
    FACES = list(csv.DictReader(file))
NAMES = [row["face"] for row in FACES]


def test_every_face_is_the_file_that_the_list_records() -> None:
    """Each font file has its row with edition, source and licence, and its checksum; the whole stays small."""
    assert {path.name for path in FONTS.glob("*.ttf")} == {row["file"] for row in FACES}
    for row in FACES:
        assert hashlib.sha256((FONTS / row["file"]).read_bytes()).hexdigest() == row["sha256"]
        assert (
            row["cut_from"].startswith(("Noto", "Mplus"))
            and row["edition"].startswith("Version ")
            and len(row["source_sha256"]) == 64
        )
    assert "SIL OPEN FONT LICENSE Version 1.1" in (FONTS / "OFL.txt").read_text(encoding="utf-8")
    assert sum(path.stat().st_size for path in FONTS.iterdir()) < 1_500_000


@pytest.mark.parametrize("name", [n for n in NAMES if n not in {"signs", "symbols", "japanese"}])
def test_each_face_has_the_letters_a_label_needs(name: str) -> None:
    """Latin letters of Western, Central and Northern Europe and of Turkish, figures, fractions, units and dashes."""
    wanted = "ABCXYZabcxyz0123456789½¼¾⅓⅔⅛éèüßøåæœŁłřşğıİąęčžőűñçµμ°%×·•–—‘’“”†€£ẞȘțộ\ufffd"
    assert [char for char in wanted if not face(name).has(char)] == []


def test_the_family_prints_the_signs_that_kitchens_use() -> None:
    """Some face of the family has each of them."""
    assert [char for char in "≥≤≈−→●½¼éµ°" if not can_print(char)] == []


@pytest.mark.parametrize("name", [n for n in NAMES if n not in {"signs", "symbols", "japanese"}])
def test_no_face_has_a_lower_x_than_the_text_face(name: str) -> None:
    """A size that is right for the text face is right for all: 0.536 em, a little more in bold, measured on the x."""
    assert 0.535 <= face("text").x_height <= face(name).x_height + 0.0005 <= 0.55
    assert face(name).size_for(25.4 / 16) == pytest.approx(25.4 / 16 * MM / face(name).x_height)
    low, high = face(name).ink("o")
    assert low < 0 < face(name).x_height <= high  # a round letter overshoots both ways


def test_kerning_closes_the_gap_between_slanting_letters() -> None:
    """AV is set closer than its letters' widths, and the pieces of a kerned text are the text."""
    set_face = face("title")
    assert set_face.width("AV") < set_face.width("A") + set_face.width("V") - 0.02
    pieces = set_face.kerned("Tomato & AVA")
    assert "".join(piece for _, piece in pieces) == "Tomato & AVA"
    assert [place for place, _ in pieces] == sorted(place for place, _ in pieces)


def test_accents_reach_above_capitals() -> None:
    """The measured height of a letter is its own, accent included."""
    set_face = face("text")
    assert set_face.ink("É")[1] > set_face.ink("E")[1] + 0.1
    assert set_face.ink("g")[0] < -0.15
