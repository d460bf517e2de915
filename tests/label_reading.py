"""Reading a label back from its PDF, glyph by glyph, with pypdfium2; and the contents that the label tests print."""

from __future__ import annotations

import ctypes
from collections import Counter
from dataclasses import dataclass

import pypdfium2 as pdfium
import pypdfium2.raw as raw

from labeler.label import LabelContent, NutritionRow, Run
from labeler.label.drawing import Drawing, Text
from labeler.label.typesetting import text_width


@dataclass(frozen=True)
class Glyph:
    """One printed character: its outline's box and its origin from the page's top left corner, its type size [pt]."""

    char: str
    left: float
    top: float
    right: float
    bottom: float
    x: float
    y: float
    size: float
    font: str


@dataclass(frozen=True)
class Page:
    """What a page of a PDF holds."""

    width: float
    height: float
    glyphs: tuple[Glyph, ...]
    text: str
    fonts_embedded: dict[str, bool]


def read_page(data: bytes, number: int = 0) -> Page:
    """Read one page back."""
    document = pdfium.PdfDocument(data)
    page = document[number]
    width, height = page.get_size()
    text_page = page.get_textpage()
    glyphs: list[Glyph] = []
    for index in range(text_page.count_chars()):
        if raw.FPDFText_IsGenerated(text_page, index) == 1:
            continue
        char = chr(raw.FPDFText_GetUnicode(text_page, index)).replace("\x02", "-")  # pdfium's hyphen at a line's end
        left, right, bottom, top = (ctypes.c_double() for _ in range(4))
        raw.FPDFText_GetCharBox(text_page, index, left, right, bottom, top)
        x, y = ctypes.c_double(), ctypes.c_double()
        raw.FPDFText_GetCharOrigin(text_page, index, x, y)
        name = ctypes.create_string_buffer(128)
        flags = ctypes.c_int()
        raw.FPDFText_GetFontInfo(text_page, index, name, 128, flags)
        size = raw.FPDFText_GetFontSize(text_page, index)
        box = (left.value, height - top.value, right.value, height - bottom.value)
        glyphs.append(Glyph(char, *box, x.value, height - y.value, size, name.value.decode()))
    embedded: dict[str, bool] = {}
    for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], max_depth=5):
        font = raw.FPDFTextObj_GetFont(thing)
        name = ctypes.create_string_buffer(128)
        raw.FPDFFont_GetBaseFontName(font, name, 128)
        embedded[name.value.decode()] = raw.FPDFFont_GetIsEmbedded(font) == 1
    return Page(width, height, tuple(glyphs), text_page.get_text_range(), embedded)


@dataclass(frozen=True)
class Stroke:
    """One straight line as the PDF draws it [pt], `y` of its middle from the top of the page."""

    left: float
    y: float
    right: float
    weight: float


def read_strokes(data: bytes) -> list[Stroke]:
    """The horizontal lines of the first page, from its top."""
    page = pdfium.PdfDocument(data)[0]
    height = page.get_height()
    strokes = []
    for path in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        weight = ctypes.c_float()
        raw.FPDFPageObj_GetStrokeWidth(path, weight)
        left, bottom, right, top = path.get_bounds()
        if right - left > top - bottom:
            w = round(weight.value, 3)  # pdfium's bounds are wider than the line by its weight on each side
            strokes.append(Stroke(left + w, height - (top + bottom) / 2, right - w, w))
    return sorted(strokes, key=lambda stroke: (stroke.y, stroke.left))


def _starts_on(glyph: Glyph, mark: Text, length: float) -> bool:
    """Whether the glyph's origin lies on the baseline of a text of that length [pt], turned or not."""
    dx, dy = glyph.x - mark.x, mark.y - glyph.y
    along, off = {0: (dx, dy), 90: (dy, dx), 180: (-dx, dy)}[mark.turn]
    return abs(off) < 0.02 and -0.02 <= along <= length + 0.02


def glyphs_by_block(drawing: Drawing, page: Page) -> dict[str, list[Glyph]]:
    """The glyphs of each block of a drawing that the page was written from, by where each letter starts.

    Every glyph must belong to a text of the drawing, and all the drawing's letters must be on the page.
    """
    texts = [mark for mark in drawing.marks if isinstance(mark, Text)]
    lengths = [text_width(mark.text, mark.face) * mark.size for mark in texts]
    blocks: dict[str, list[Glyph]] = {}
    for glyph in page.glyphs:
        if glyph.char.isspace():
            continue
        owner = next(
            mark
            for mark, length in zip(texts, lengths, strict=True)
            if glyph.char in mark.text and _starts_on(glyph, mark, length)
        )
        blocks.setdefault(owner.block, []).append(glyph)
    written = Counter(char for mark in texts for char in mark.text if not char.isspace())
    assert Counter(glyph.char for glyphs in blocks.values() for glyph in glyphs) == written
    return blocks


def box_of(glyphs: list[Glyph]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all the glyphs together [pt]."""
    return (
        min(g.left for g in glyphs),
        min(g.top for g in glyphs),
        max(g.right for g in glyphs),
        max(g.bottom for g in glyphs),
    )


def row(name: str, per_serving: str, per_100g: str, level: int = 0, percent: str = "") -> NutritionRow:
    """A nutrition line."""
    return NutritionRow(name, per_serving, per_100g, level, percent)


RELISH = LabelContent(
    title="Beetroot & Horseradish Relish",
    story="Grated raw, simmered slowly",
    serving="1 tablespoon (17 g)",
    servings="about 20 servings",
    nutrition=(
        row("Energy", "18 kcal", "105 kcal"),
        row("Total fat", "0.1 g", "0.6 g"),
        row("Saturated fat", "0 g", "0.1 g", 1),
        row("Sodium", "64 mg", "376 mg"),
        row("Carbohydrate", "4 g", "23 g"),
        row("Fibre", "<1 g", "1.9 g", 1),
        row("Sugars", "4 g", "21 g", 1),
        row("of which added", "2.4 g", "14 g", 2),
        row("Protein", "0.2 g", "1.1 g"),
    ),
    ingredients=(
        Run("beetroot, cider vinegar, cane sugar, onion, horseradish, sea salt, brown "),
        Run("mustard", True),
        Run(" seed, black pepper"),
    ),
    allergens=(Run("Contains: "), Run("mustard", True), Run(".")),
    storage="Keep cold once open; eat within 4 weeks.",
    net="Net wt 12 oz (340 g)",
    maker="Saltmarsh Stall",
    place="4 Quay Lane, Fairhaven, ME 04011",
    made="2 May 2026",
    best_before="2 Nov 2026",
    lot="B-0502",
    digest="9f3c2a1b",
    as_of="2 May 2026",
)

PIE = LabelContent(
    title="Quay Pie of Cod, Crab and Mussel",
    story="Baked on the morning of the market",
    serving="1 pie (265 g)",
    servings="1 serving",
    nutrition=(
        row("Energy", "410 kcal", "155 kcal"),
        row("Total fat", "21 g", "7.9 g", 0, "27 %"),
        row("Saturated fat", "3.5 g", "1.3 g", 1, "18 %"),
        row("Trans fat", "0 g", "0 g", 1),
        row("Cholesterol", "145 mg", "55 mg", 0, "48 %"),
        row("Sodium", "1,120 mg", "423 mg", 0, "49 %"),
        row("Carbohydrate", "28 g", "11 g", 0, "10 %"),
        row("Fibre", "2 g", "0.8 g", 1, "7 %"),
        row("Sugars", "4 g", "1.5 g", 1),
        row("of which added", "0 g", "0 g", 2, "0 %"),
        row("Protein", "27 g", "10.2 g", 0, "54 %"),
    ),
    percent_heading="% daily value",
    nutrition_notes=("Worked out from the recipe, not analysed; sodium may be 35 % off.",),
    ingredients=(
        Run("cod ("),
        Run("fish", True),
        Run("), potatoes, "),
        Run("milk", True),
        Run(", "),
        Run("crab", True),
        Run(", "),
        Run("mussels", True),
        Run(", butter ("),
        Run("milk", True),
        Run("), "),
        Run("wheat", True),
        Run(" flour, leeks, lemon juice, parsley, salt, white pepper"),
    ),
    allergens=(Run("Contains: "), Run("cod, crab, mussel, milk, wheat", True), Run(".")),
    sign_allergens=(Run("Contains "), Run("cod, crab, mussel, milk, wheat", True)),
    cautions=("Picked crab may hold pieces of shell.",),
    storage="Keep at or below 4 °C. Eat within 2 days.",
    net="Net wt 9.3 oz (265 g)",
    maker="Saltmarsh Stall",
    place="4 Quay Lane, Fairhaven, ME 04011",
    made="2 May 2026",
    best_before="4 May 2026",
    lot="Q-0502",
    digest="77ab01d4",
    as_of="2 May 2026",
)
