"""The spreadsheet: formulas that give our totals, text that cannot run, the same bytes each time, how it is set up.

Formulas are worked out anew by a small evaluator here, which knows sums, products, quotients and rounding of cells;
where LibreOffice is installed, by that too.
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import zipfile
from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_worksheet import RECIPES, made

from labeler.parsing import read_recipe
from labeler.worksheet.builder import make_worksheet
from labeler.worksheet.cells import LONGEST, cell_text, would_run
from labeler.worksheet.sheets import sheets
from labeler.worksheet.xlsx import write_xlsx

NASTY = """---
title: "=HYPERLINK(\\"http://a.example/?x\\",\\"win\\")"
makes: 2 boxes
---
## =1+1
- 2 cups =SUM(A1:A9) flour
- +1 cup sugar
- -2+3 | cmd
- 100 g butter @NOW()
- 1 tsp salt _x0041_ \x07 bell
> =bake 20 minutes
"""


@cache
def book(name: str, market: str = "us") -> bytes:
    return write_xlsx(made(name, market))


@cache
def loaded(name: str, market: str = "us", *, values: bool = False) -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(book(name, market)), data_only=values)


def formulas(workbook: openpyxl.Workbook) -> dict[tuple[str, str], str]:
    """Every formula by sheet and cell."""
    return {
        (page.title, cell.coordinate): cell.value
        for page in workbook
        for row in page.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }


_REFERENCE = re.compile(r"(?:(?:'([^']+)'|([A-Za-z]+))!)?\$?([A-Z]+)\$?(\d+)(?::\$?([A-Z]+)\$?(\d+))?")


class Evaluator:
    """Works out the formulas of a workbook: + - * / ( ), SUM of a range and ROUND, over cells of any of its sheets."""

    def __init__(self, workbook: openpyxl.Workbook) -> None:
        self.workbook = workbook
        self.known: dict[tuple[str, str], float] = {}

    def value(self, sheet: str, place: str) -> float:
        """A cell's number; text and nothing count 0, as in a sum."""
        if (sheet, place) not in self.known:
            cell = self.workbook[sheet][place]
            if cell.data_type == "f":
                self.known[sheet, place] = self.formula(cell.value[1:], sheet)
            else:
                self.known[sheet, place] = float(cell.value) if isinstance(cell.value, (int, float)) else 0.0
        return self.known[sheet, place]

    def formula(self, text: str, sheet: str) -> float:
        """The value of a formula that stands on a sheet."""

        def put(found: re.Match[str]) -> str:
            on = found[1] or found[2] or sheet
            first = f"{found[3]}{found[4]}"
            if found[5] is None:
                return repr(self.value(on, first))
            cells = self.workbook[on][f"{first}:{found[5]}{found[6]}"]
            return "[" + ",".join(repr(self.value(on, cell.coordinate)) for row in cells for cell in row) + "]"

        # Names of functions look like cells to the pattern only with digits behind them, which these have not.
        return float(eval(_REFERENCE.sub(put, text), {"__builtins__": {}, "SUM": sum, "ROUND": round}))


def test_the_evaluator_notices_a_wrong_sum() -> None:
    """A sum over the wrong cells does not give the value that stands beside it."""
    workbook = openpyxl.Workbook()
    page = workbook.active
    page.title = "One"
    for row, value in enumerate((1.5, 2.5, "not known", 4.0), start=1):
        page[f"A{row}"] = value
    page["B1"] = "=SUM(A1:A4)/2*-3"
    page["B2"] = "=ROUND('One'!B1+One!$A$1,2)"
    assert Evaluator(workbook).value("One", "B1") == pytest.approx(-12.0)
    assert Evaluator(workbook).value("One", "B2") == pytest.approx(-10.5)
    assert Evaluator(workbook).formula("SUM(A1:A3)", "One") != pytest.approx(8.0)


@pytest.mark.parametrize("name", RECIPES)
@pytest.mark.parametrize("market", ["us", "uk"])
def test_live_formulas_give_our_own_figures(name: str, market: str) -> None:
    """Each formula, worked out from the cells, gives the value that the program found and stored beside it."""
    workbook, values = loaded(name, market), loaded(name, market, values=True)
    evaluator = Evaluator(workbook)
    found = formulas(workbook)
    assert found
    for (sheet, place), _ in found.items():
        stored = values[sheet][place].value
        assert isinstance(stored, (int, float))
        assert evaluator.value(sheet, place) == pytest.approx(stored, rel=1e-9, abs=1e-6), (sheet, place)


def test_totals_and_declared_amounts_are_live() -> None:
    """Batch, 100 g and a serving are formulas, the unrounded amounts follow from them, and the ends are our totals."""
    found, workbook = made("brined"), loaded("brined")
    values = loaded("brined", values=True)
    page, count = workbook["In the dish"], len(found.ingredients)
    for at, total in enumerate(found.totals):
        batch, hundred, serving = (page.cell(5 + count + row, 6 + at) for row in range(3))
        assert batch.value == f"=SUM({batch.column_letter}5:{batch.column_letter}{4 + count})"
        for cell, figure in ((batch, total.batch), (hundred, total.per_100g), (serving, total.per_serving)):
            assert cell.data_type == "f"
            assert values["In the dish"][cell.coordinate].value == pytest.approx(figure[0], rel=1e-9, abs=1e-12)
    declared = workbook["Declared"]
    heads = {cell.value: cell.column for cell in declared[4]}
    live = [declared.cell(5 + at, heads["unrounded"]).data_type == "f" for at in range(len(found.declared))]
    known = [row.status != "missing" for row in found.declared]
    assert all(is_live for is_live, is_known in zip(live, known, strict=True) if is_known)


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
def test_a_spreadsheet_program_gives_the_same(tmp_path: Path) -> None:
    """LibreOffice, given the file without any stored value, works out what the program found."""
    bare = openpyxl.load_workbook(io.BytesIO(book("brined")))
    bare.save(tmp_path / "bare.xlsx")  # openpyxl keeps formulas and drops their values
    command = ["soffice", f"-env:UserInstallation=file://{tmp_path}/profile", "--headless", "--convert-to", "ods:calc8"]
    subprocess.run([*command, "--outdir", tmp_path, tmp_path / "bare.xlsx"], check=True, capture_output=True)
    back = ["soffice", f"-env:UserInstallation=file://{tmp_path}/profile", "--headless", "--convert-to", "xlsx"]
    (tmp_path / "out").mkdir()
    subprocess.run([*back, "--outdir", tmp_path / "out", tmp_path / "bare.ods"], check=True, capture_output=True)
    worked_out = openpyxl.load_workbook(tmp_path / "out" / "bare.xlsx", data_only=True)
    values = loaded("brined", values=True)
    for sheet, place in formulas(loaded("brined")):
        stored = values[sheet][place].value
        assert worked_out[sheet][place].value == pytest.approx(stored, rel=1e-9, abs=1e-6), (sheet, place)


def test_text_of_a_recipe_is_text_and_cannot_run() -> None:
    """What begins like a formula is stored as a string with the mark that keeps it one; only our cells are formulas."""
    found = make_worksheet(read_recipe(NASTY, source="=cmd.md"), market="us", advice=False)
    found = replace(
        found, title="@SUM(1)", problems=(replace(found.lines and made("bare list").problems[0], message="=2+2"),)
    )
    data = write_xlsx(found)
    workbook = openpyxl.load_workbook(io.BytesIO(data))
    ours = re.compile(r"=[-+*/().,:!$'0-9A-Z a-z]+")
    strange = 0
    for page in workbook:
        for row in page.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    assert ours.fullmatch(cell.value) and "SUM(A1:A9)" not in cell.value
                elif isinstance(cell.value, str) and would_run(cell.value):
                    strange += 1
                    assert cell.data_type == "s" and cell.quotePrefix
    assert strange >= 4
    words = " ".join(
        cell.value for page in workbook for row in page.iter_rows() for cell in row if cell.data_type == "s"
    )
    assert "=SUM(A1:A9) flour" in words and "\u2407 bell" in words and "\x07" not in words


def test_the_file_holds_no_links_macros_or_times() -> None:
    """Nothing points out of the file, nothing in it runs, and the only times in it are those of an empty clock."""
    with zipfile.ZipFile(io.BytesIO(book("brined"))) as packed:
        names = packed.namelist()
        assert not [name for name in names if "external" in name.lower() or name.endswith((".bin", ".vml"))]
        for entry in packed.infolist():
            assert entry.date_time == (1980, 1, 1, 0, 0, 0)
            text = packed.read(entry)
            assert b'TargetMode="External"' not in text and b"<hyperlink" not in text
            ElementTree.fromstring(text)
        core = packed.read("docProps/core.xml").decode()
    assert set(re.findall(r"\d{4}-\d\d-\d\dT[\d:]+Z", core)) == {"1980-01-01T00:00:00Z"}


@pytest.mark.parametrize("name", ["brined", "nothing known"])
def test_the_same_recipe_gives_the_same_bytes(name: str) -> None:
    """Reading, cooking and writing anew changes nothing in the file."""
    again = make_worksheet(read_recipe(RECIPES[name], source="box.md"), market="us", advice=False)
    assert write_xlsx(again) == book(name)


def test_sheets_are_set_up_to_be_read_and_printed() -> None:
    """Headings stay in sight and repeat on paper, pages fit in width, numbers have formats, lists can be filtered."""
    workbook = loaded("brined")
    assert workbook.sheetnames[0] == "Read me"
    assert {"Lines", "Foods", "Put in", "Parts", "In the dish", "Where it went", "Declared", "Allergens"} <= set(
        workbook.sheetnames
    )
    assert {"Cautions", "Weigh next", "Problems", "Sources"} <= set(workbook.sheetnames)
    for page in workbook:
        assert page.sheet_properties.pageSetUpPr.fitToPage and page.page_setup.orientation == "landscape"
        if page.title == "Read me":
            continue
        assert page.freeze_panes.endswith("5") and page.print_title_rows == "$4:$4"
        heads = [cell.value for cell in page[4]]
        assert None not in heads and len({head.casefold() for head in heads}) == len(heads)
        for table in page.tables.values():
            assert [one.name for one in table.tableColumns] == heads
    assert workbook["Lines"].tables and workbook["Declared"].tables
    numbers = [
        cell
        for page in workbook
        for row in page.iter_rows(min_row=5)
        for cell in row
        if isinstance(cell.value, (int, float)) or cell.data_type == "f"
    ]
    # One section and no condition, as some programs drop the sign of a number that a condition takes in.
    assert all(cell.number_format != "General" and not set("[;") & set(cell.number_format) for cell in numbers)
    assert isinstance(workbook["Lines"]["L5"].value, (int, float))


def test_read_me_explains_every_column() -> None:
    """Each column of each sheet has its sentence on the first sheet, nutrients once for all sheets."""
    found = made("brined")
    read_me, *others = sheets(found)
    told = {(row.cells[0], row.cells[1]) for row in read_me.rows}
    tags = {one.tag for one in found.nutrients}
    for sheet in others:
        assert (sheet.name, sheet.about) in told
        for column in sheet.head:
            where = column.name if column.name in tags else sheet.name
            assert (where, column.heading) in told


@given(st.text(max_size=200))
@settings(deadline=None, max_examples=150)
def test_any_text_fits_into_a_cell(text: str) -> None:
    """Every text becomes one that XML can hold, that changes no more when done again, and that keeps what it can."""
    done = cell_text(text)
    ElementTree.fromstring(f"<t>{done.replace('&', '&amp;').replace('<', '&lt;')}</t>")
    assert len(done) >= len(text) and cell_text(done.replace("_x005F_", "_")) == done
    plain = text.isprintable() and "_x" not in text
    assert not plain or done == text


def test_a_text_too_long_for_a_cell_is_cut_and_says_so() -> None:
    """At most 32,767 UTF-16 units, with the number of characters that are missing."""
    for text in ("a" * 40_000, "\U0001f35e" * 30_000):
        done = cell_text(text)
        assert len(done.encode("utf-16-le")) // 2 <= LONGEST
        kept = re.search(r"cut here: ([\d,]+) more", done)
        assert kept is not None
        assert int(kept[1].replace(",", "")) + len(done.partition(" … (cut")[0]) == len(text)


@pytest.mark.parametrize(
    ("text", "runs"),
    [("=1", True), (" +1", True), ("-", True), ("@a", True), ("\t=1", True), ("a=1", False), ("", False)],
)
def test_what_would_run(text: str, runs: bool) -> None:
    """Signs that begin a formula, also behind spaces and tabs."""
    assert would_run(text) is runs
