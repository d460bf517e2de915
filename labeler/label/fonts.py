"""The label's type family and its measures, read from the font files in data/fonts.

Widths, kerning, the heights of single letters and the x-height are taken from the file that is embedded, so a type
size that a rule asks for ("a lower-case o of 1/16 inch") is measured and not assumed. Lengths are in ems unless
said otherwise.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise
from pathlib import Path
from typing import Any

from labeler.label.drawing import MM

__all__ = ["FONTS", "Face", "face"]

FONTS = Path(__file__).parent / "data" / "fonts"


@dataclass(frozen=True)
class Face:
    """One face of the family: its measures and the reportlab font made of it."""

    name: str
    font: Any

    @property
    def pdf_name(self) -> str:
        """The name under which reportlab knows the face."""
        return str(self.font.fontName)

    @cached_property
    def _units(self) -> float:
        return float(struct.unpack(">H", self._table("head")[18:20])[0])

    def _table(self, tag: str) -> bytes:
        return bytes(self.font.face.get_table(tag))

    @cached_property
    def _advances(self) -> dict[int, float]:
        # reportlab scales advances to 1000 units an em.
        return {code: width / 1000 for code, width in self.font.face.charWidths.items()}

    @cached_property
    def _pairs(self) -> dict[int, float]:
        """Kerning by glyph pair (left * 65536 + right), from the classic kern table, format 0."""
        data = self._table("kern")
        count = struct.unpack(">H", data[10:12])[0]
        return {key: value / self._units for key, value in struct.iter_unpack(">Ih", data[18 : 18 + 6 * count])}

    @cached_property
    def _boxes(self) -> list[tuple[float, float, float, float]]:
        """Left, bottom, right and top of every glyph's outline, from the headers in the glyf table."""
        long_offsets = struct.unpack(">h", self._table("head")[50:52])[0]
        loca, glyf = self._table("loca"), self._table("glyf")
        if long_offsets:
            offsets = [o for (o,) in struct.iter_unpack(">I", loca)]
        else:
            offsets = [2 * o for (o,) in struct.iter_unpack(">H", loca)]
        boxes = []
        for start, end in pairwise(offsets):
            if start == end:
                boxes.append((0.0, 0.0, 0.0, 0.0))
            else:
                left, bottom, right, top = struct.unpack(">hhhh", glyf[start + 2 : start + 10])
                boxes.append((left / self._units, bottom / self._units, right / self._units, top / self._units))
        return boxes

    def has(self, char: str) -> bool:
        """Whether the face can print the character."""
        return ord(char) in self.font.face.charToGlyph

    def width(self, text: str) -> float:
        """Set width of `text`, kerning included [em]."""
        total = 0.0
        glyphs = self.font.face.charToGlyph
        before = 0
        for char in text:
            code = ord(char)
            glyph = glyphs.get(code, 0)
            total += self._advances.get(code, 0.0) + self._pairs.get(before << 16 | glyph, 0.0)
            before = glyph
        return total

    def kerned(self, text: str) -> list[tuple[float, str]]:
        """`text` cut where a pair is kerned: the place of each piece from the start [em] and the piece."""
        pieces: list[tuple[float, str]] = []
        glyphs = self.font.face.charToGlyph
        place, start, piece, before = 0.0, 0.0, "", 0
        for char in text:
            code = ord(char)
            glyph = glyphs.get(code, 0)
            kern = self._pairs.get(before << 16 | glyph, 0.0)
            if kern and piece:
                pieces.append((start, piece))
                place += kern
                start, piece = place, ""
            piece += char
            place += self._advances.get(code, 0.0)
            before = glyph
        if piece:
            pieces.append((start, piece))
        return pieces

    def ink(self, text: str) -> tuple[float, float]:
        """How far the letters of `text` reach below (negative) and above the baseline [em]."""
        boxes = [self._boxes[self.font.face.charToGlyph.get(ord(char), 0)] for char in text]
        return min((box[1] for box in boxes), default=0.0), max((box[3] for box in boxes), default=0.0)

    def overhang(self, char: str) -> tuple[float, float]:
        """How far a letter's outline reaches out of its set width, to the left and to the right [em, not negative]."""
        left, _, right, _ = self._boxes[self.font.face.charToGlyph.get(ord(char), 0)]
        return max(-left, 0.0), max(right - self._advances.get(ord(char), 0.0), 0.0)

    @cached_property
    def x_height(self) -> float:
        """Height of the lower-case x, a flat letter without overshoot [em]."""
        return self.ink("x")[1]

    @cached_property
    def cap_height(self) -> float:
        """Height of the capital H [em]."""
        return self.ink("H")[1]

    def size_for(self, x_height_mm: float) -> float:
        """The type size [pt] at which the lower-case x is `x_height_mm` high."""
        return x_height_mm * MM / self.x_height


@cache
def face(name: str) -> Face:
    """The face called `name` ("text", "text-bold", ...: data/fonts/faces.csv lists them), loaded once."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(f"Label-{name}", str(FONTS / f"{name}.ttf"), asciiReadable=0, shapable=False)
    pdfmetrics.registerFont(font)
    return Face(name, font)
