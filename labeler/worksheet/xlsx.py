"""The worksheet as a spreadsheet file (ECMA-376) that is the same bytes for the same recipe.

Text is text: whatever a cook wrote is stored as a string with the mark that keeps it one, never as a formula. There are
no links to anywhere, no macros and no times of day in the file. Each live formula is stored with the value that it
gives, so that viewers that do not calculate show it too.
"""

from __future__ import annotations

import io
import math
import re
import zipfile
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from labeler.worksheet.cells import cell_text, would_run
from labeler.worksheet.column import Kind
from labeler.worksheet.grid import FIRST, HEAD, Cell, Live, Row, Sheet, letter
from labeler.worksheet.model import Worksheet
from labeler.worksheet.sheets import sheets

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet as Page

__all__ = ["write_xlsx"]

STAMP = "1980-01-01T00:00:00Z"
"""Stands where the format wants a time; the day on which its zip archives begin."""

_INK, _DEEP, _PALE, _LINE = "1F2A2E", "2B4A52", "EAF0EF", "9FB4B3"
_NUMBERS = frozenset({Kind.GRAMS, Kind.AMOUNT, Kind.SHARE, Kind.WHOLE})
_PAGE_WIDE = 190.0  # characters that a landscape page holds at a size that can be read
_FORMULA = re.compile(rb'(<c r="([A-Z]+[0-9]+)"[^>]*><f>[^<]*</f>)<v\s*(?:/>|></v>)')
_TIMES = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(<)")


def write_xlsx(found: Worksheet) -> bytes:
    """The worksheet as the bytes of an .xlsx file.

    Parameters
    ----------
    found : Worksheet

    Returns
    -------
    bytes
        The same for the same worksheet, on any day and any machine with the same releases of Python and openpyxl.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    book.properties.creator = "labeler"
    book.properties.title = cell_text(found.title)
    _styles(book)
    values: list[Mapping[str, float]] = []
    for number, sheet in enumerate(sheets(found), start=1):
        page = book.create_sheet(sheet.name)
        values.append(_fill(page, sheet))
        _set_up(page, sheet, found, number)
    return _packed(book, values)


def _styles(book: Workbook) -> None:
    """Add the styles of the workbook: title, about, head, and each role with each kind of value."""
    from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

    def style(name: str, font: Font, align: Alignment, *, line: str = "", fill: str = "") -> None:
        made = NamedStyle(name=name, font=font, alignment=align)
        if fill:
            made.fill = PatternFill("solid", start_color=fill)
        if line:
            made.border = Border(**{line: Side(style="hair" if line == "bottom" else "thin", color=_LINE)})
        book.add_named_style(made)

    def font(size: int, colour: str = _INK, **more: bool) -> Font:
        return Font(name="Calibri", size=size, color=colour, **more)

    left = Alignment(vertical="top", horizontal="left", wrap_text=True, indent=1)
    right = Alignment(vertical="top", horizontal="right")
    style("sheet title", font(16, _DEEP, bold=True), Alignment(vertical="center"))
    style("sheet about", font(10, italic=True), Alignment(vertical="top"))
    style(
        "column words",
        font(10, "FFFFFF", bold=True),
        Alignment(vertical="center", horizontal="left", wrap_text=True, indent=1),
        fill=_DEEP,
    )
    style(
        "column numbers",
        font(10, "FFFFFF", bold=True),
        Alignment(vertical="center", horizontal="right", wrap_text=True),
        fill=_DEEP,
    )
    for kind in Kind:
        align = right if kind in _NUMBERS else left
        style(f"row {kind.value}", font(10), align, line="bottom")
        style(f"total {kind.value}", font(10, bold=True), align, line="top", fill=_PALE)


def _format(kind: Kind, value: float) -> str:
    """Three figures or more of any amount; a format with conditions would hide the sign in some programs."""
    if kind in (Kind.SHARE, Kind.WHOLE):
        return "0%" if kind is Kind.SHARE else "0"
    size = abs(value)
    if size == 0:
        return "0"
    return "0.000" if size < 1 else "0.00" if size < 10 else "#,##0.0"


def _put(page: Page, place: str, value: Cell, *, style: str, kind: Kind = Kind.WORDS) -> None:
    """Write one value in a style; text stays text whatever it begins with."""
    cell = page[place]
    cell.style = style
    if isinstance(value, str):
        cell.value = cell_text(value)
        cell.data_type = "s"
        if would_run(value):
            cell.quotePrefix = 1
    elif isinstance(value, Live):
        cell.value = f"={value.formula}"
        cell.number_format = _format(kind, value.value)
    elif value is not None:
        cell.value = value
        cell.number_format = _format(kind, value)


def _fill(page: Page, sheet: Sheet) -> Mapping[str, float]:
    """Write the cells of a sheet; returns the value of each formula by its place."""
    _put(page, "A1", sheet.name, style="sheet title")
    _put(page, "A2", sheet.about, style="sheet about")
    for at, column in enumerate(sheet.head):
        page.column_dimensions[letter(at)].width = column.width
        if column.heading:
            style = "column numbers" if column.kind in _NUMBERS else "column words"
            _put(page, f"{letter(at)}{HEAD}", column.heading, style=style)
    values: dict[str, float] = {}
    for down, row in enumerate(sheet.rows):
        for at, value in enumerate(row.cells):
            place = f"{letter(at)}{FIRST + down}"
            kind = sheet.head[at].kind
            role = "row" if row.role in ("row", "note") else "total"
            _put(page, place, value, style=f"{role} {kind.value}", kind=kind)
            if isinstance(value, Live):
                values[place] = value.value
    return values


def _height(sheet: Sheet, row: Row) -> float:
    """Room for the longest wrapped text of a row [pt]: not every program works it out when it opens a file."""
    most = 1
    for column, value in zip(sheet.head, row.cells, strict=False):
        if isinstance(value, str) and column.kind not in _NUMBERS:
            most = max(most, sum(math.ceil(1.02 * len(part) / (column.width - 1)) for part in value.split("\n")))
    return min(13.0 * most + 1.0, 400.0)


def _set_up(page: Page, sheet: Sheet, found: Worksheet, number: int) -> None:
    """Panes, list, and how the sheet prints."""
    from openpyxl.worksheet.table import Table, TableStyleInfo

    headed = any(column.heading for column in sheet.head)
    page.freeze_panes = f"{letter(sheet.fixed)}{FIRST}" if headed else None
    page.row_dimensions[1].height = 24
    if headed:
        page.row_dimensions[HEAD].height = 44 if any(len(c.heading) > c.width for c in sheet.head) else 20
    for down, row in enumerate(sheet.rows):
        page.row_dimensions[FIRST + down].height = _height(sheet, row)
    plain = sum(row.role == "row" for row in sheet.rows)
    if sheet.listed and plain:
        area = f"A{HEAD}:{letter(len(sheet.head) - 1)}{HEAD + plain}"
        table = Table(displayName=f"sheet_{number}", ref=area)
        table.tableStyleInfo = TableStyleInfo(name="TableStyleLight1", showRowStripes=False)
        page.add_table(table)
    page.sheet_view.showGridLines = False
    page.sheet_properties.tabColor = _DEEP if sheet.name in ("Read me", "Declared") else _LINE
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = 9  # A4
    wide = sum(column.width for column in sheet.head)
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = max(1, round(wide / _PAGE_WIDE)), 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
    if headed:
        page.print_title_rows = f"{HEAD}:{HEAD}"
        if wide > 1.5 * _PAGE_WIDE:
            page.print_title_cols = f"A:{letter(max(sheet.fixed - 1, 0))}"
    page.oddFooter.left.text = f"labeler · recipe {found.digest[:8]}"
    page.oddFooter.center.text = "&A"
    page.oddFooter.right.text = "&P / &N"
    page.page_margins.left = page.page_margins.right = page.page_margins.top = 0.4
    page.page_margins.header = 0.2


def _packed(book: Workbook, values: Sequence[Mapping[str, float]]) -> bytes:
    """The file with the value of every formula beside it, and nothing in it that changes from day to day."""
    raw = io.BytesIO()
    book.save(raw)
    made = io.BytesIO()
    with zipfile.ZipFile(raw) as loose, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
        for name in sorted(loose.namelist(), key=lambda name: (name != "[Content_Types].xml", name)):
            data = loose.read(name)
            page = re.fullmatch(r"xl/worksheets/sheet(\d+)\.xml", name)
            if page:
                data = _with_values(data, values[int(page[1]) - 1])
            elif name == "docProps/core.xml":
                data = _TIMES.sub(rb"\g<1>" + STAMP.encode() + rb"\g<2>", data)
            entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system, entry.external_attr = 0, 0
            packed.writestr(entry, data)
    return made.getvalue()


def _with_values(page: bytes, values: Mapping[str, float]) -> bytes:
    return _FORMULA.sub(lambda found: found[1] + b"<v>" + repr(values[found[2].decode()]).encode() + b"</v>", page)
