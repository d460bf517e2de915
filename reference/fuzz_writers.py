"""What writes output, for `fuzz.py`: any text goes in where a cook's text goes, and comes out as text alone."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from dataclasses import replace
from functools import cache
from typing import Any

from fuzz_readers import READERS, Target, text_of

from labeler.as_json import line_object
from labeler.batch.tables import csv_cell, table_row
from labeler.foods.resolve import weigh_line
from labeler.importers.reading import as_recipe_file, import_recipe
from labeler.label.drawing import Drawing, Text
from labeler.label.fonts import face
from labeler.label.pdf import write_pdf
from labeler.label.preview import preview_svg
from labeler.label.printable_text import plain_text
from labeler.label.typesetting import text_marks
from labeler.larder.file import as_text, larder_of_files
from labeler.larder.find import LarderFile
from labeler.larder.model import LarderFood
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.post.builder import post_content
from labeler.post.escaping import for_html, for_markdown, for_text
from labeler.post.forms import render
from labeler.worksheet.cells import cell_text, would_run

__all__ = ["WRITERS"]

RECIPE = "---\ntitle: Quay bun\nmakes: 4 buns\nmarket: uk\n---\n- 200 g flour\n- 50 g butter\n> bake 20 minutes\n"
FACE = "text"


def _html_text(data: bytes) -> None:
    import html5lib

    text = text_of(data)
    tree = html5lib.parseFragment(f'<p title="{for_html(text)}">{for_html(text)}</p>', namespaceHTMLElements=False)
    assert [one.tag for one in tree.iter()] == ["DOCUMENT_FRAGMENT", "p"], "text has opened an element"
    (told,) = list(tree)
    assert (told.text or "") == for_text(text) == told.get("title"), "text was changed"


def _markdown_text(data: bytes) -> None:
    from markdown_it import MarkdownIt

    text = text_of(data)
    reader = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
    kinds = {token.type for token in reader.parse(for_markdown(text))}
    for token in reader.parse(for_markdown(text)):
        kinds |= {child.type for child in token.children or ()}
    assert kinds <= {"paragraph_open", "inline", "paragraph_close", "text", "text_special"}, f"mark-up: {kinds}"


@cache
def _content() -> Any:
    return post_content(read_recipe(RECIPE))


@cache
def _elements_of_post() -> Counter[str]:
    import html5lib

    page = render(_content(), form="html", whole=True)
    return Counter(str(one.tag) for one in html5lib.parse(page, namespaceHTMLElements=False).iter())


def _post(data: bytes) -> None:
    import html5lib

    text = text_of(data)[:400] or "x"
    content = replace(_content(), title=text, makes=text)
    page = render(content, form="html", whole=True)
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    assert Counter(str(one.tag) for one in tree.iter()) == _elements_of_post(), "the post has other elements"
    for script in tree.iter("script"):
        json.loads(script.text or "")
    render(content, form="markdown", whole=True)
    render(content, form="text", whole=True)


def _csv(data: bytes) -> None:
    text = text_of(data)
    entry = {"file": text, "outcome": "done", "title": text, "said": text, "market": "uk"}
    stream = io.StringIO()
    row = {name: csv_cell(value) for name, value in table_row(entry).items()}
    writer = csv.DictWriter(stream, list(row))
    writer.writeheader()
    writer.writerow(row)
    _, back = list(csv.reader(io.StringIO(stream.getvalue(), newline="")))
    running = [cell for cell in back if would_run(cell)]
    assert not running, f"a cell would run: {running[0][:20]!r}"


def _cell(data: bytes) -> None:
    from lxml import etree

    made = cell_text(text_of(data))
    element = etree.Element("t")
    element.text = made
    again = etree.fromstring(etree.tostring(element)).text or ""
    assert again.replace("\r", "\n") == made.replace("\r", "\n"), "a cell is not what was written"


@cache
def _worksheet() -> Any:
    from labeler.worksheet.builder import make_worksheet

    return make_worksheet(read_recipe(RECIPE))


def _workbook(data: bytes) -> None:
    from openpyxl import load_workbook

    from labeler.worksheet.xlsx import write_xlsx

    text = text_of(data)[:300]
    found = replace(_worksheet(), title=text, lines=tuple(replace(one, text=text) for one in _worksheet().lines))
    book = load_workbook(io.BytesIO(write_xlsx(found)))
    for page in book.worksheets:
        for row in page.iter_rows():
            for cell in row:
                assert cell.hyperlink is None, "a cell has become a link"
                assert cell.data_type != "f" or str(cell.value) != text, "a text has become a formula"


def _drawing(text: str) -> Drawing:
    printed, _ = plain_text(text[:200], face(FACE).has)
    marks = text_marks(printed, FACE, x=5, y=20, size=8, colour="#000000", block="x") if printed else []
    return Drawing(200.0, 60.0, (0, 0, 200, 60), tuple(marks), text[:200], "en", description=text[:200])


def _svg(data: bytes) -> None:
    from lxml import etree

    tree = etree.fromstring(preview_svg(_drawing(text_of(data))).encode("utf-8"))
    tags = {etree.QName(one).localname for one in tree.iter()}
    assert tags <= {"svg", "title", "desc", "style", "rect", "text", "tspan"}, f"other elements: {tags}"


def _pdf(data: bytes) -> None:
    import pypdfium2

    drawing = _drawing(text_of(data))
    book = pypdfium2.PdfDocument(write_pdf(drawing))
    try:
        assert len(book) == 1, "more than a page"
        if any(isinstance(mark, Text) and mark.text.strip() for mark in drawing.marks):
            assert book[0].get_textpage().get_text_bounded().strip(), "the text has gone"
    finally:
        book.close()


def _json(data: bytes) -> None:
    told = line_object(weigh_line(read_line(text_of(data))))
    assert json.loads(json.dumps(told, ensure_ascii=False, allow_nan=False)) == told, "JSON reads back otherwise"


def _larder(data: bytes) -> None:
    words = " ".join(text_of(data).split())[:300].strip() or "x"
    text = as_text(LarderFood(words, ingredients=words, contains=words, panel={"fat": words}, per=words))
    larder = larder_of_files((LarderFile("larder.toml", text.encode()),))
    assert larder is not None and not larder.problems, f"the larder is refused: {larder and larder.problems}"
    (food,) = larder.foods
    assert (food.name, food.ingredients, food.panel["fat"]) == (words, words, words), "a larder reads back otherwise"


def _recipe_file(data: bytes) -> None:
    recipe = import_recipe(data, "text", "document")
    again = read_recipe(as_recipe_file(data, "text", recipe))
    before, after = ([line.text for part in one.parts for line in part.lines] for one in (recipe, again))
    assert before == after, f"lines read back otherwise: {set(before) ^ set(after)}"


_TEXTS = tuple(
    text.encode()
    for text in (
        "Quay pie", "=HYPERLINK(\"http://example.org\")", "+1+cmd|' /C calc'!A0", "@SUM(A1)", "</script><b>x</b>",
        "<img src=x onerror=y>", "[a](javascript:b)", "]]>", "| a | b |", "_x0041_", "&amp;&lt;", "``` x", "\u202eabc",
        "a\x00b", "1. one", "# head", "* * *", "http://example.org", "(\\) endstream", "${x}{{ y }}", "\ud83c",
    )
    for text in [text.encode("utf-8", "replace").decode()]
)  # fmt: skip


@cache
def _texts() -> list[bytes]:
    return [*_TEXTS, *READERS["line"].seeds()]


WRITERS: dict[str, Target] = {
    "text in HTML": Target(_html_text, _texts, 3),
    "text in Markdown": Target(_markdown_text, _texts, 3),
    "post, all forms": Target(_post, _texts, 60),
    "CSV cell": Target(_csv, _texts),
    "XLSX cell": Target(_cell, _texts),
    "workbook": Target(_workbook, _texts, 600),
    "SVG": Target(_svg, _texts, 20),
    "PDF": Target(_pdf, _texts, 60),
    "JSON of a line": Target(_json, _texts, 4),
    "larder file": Target(_larder, _texts, 10),
    "recipe file": Target(_recipe_file, READERS["recipe and Markdown"].seeds, 60),
}
