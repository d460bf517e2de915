"""The commands around the worksheet: worksheet, the chart of nutrition, and what a label carries."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import openpyxl
import pypdfium2
import pytest

DEMO = Path(__file__).parents[2] / "demo"
RELISH = DEMO / "beetroot-relish.md"


def run(*arguments: object, encoding: str = "utf-8") -> subprocess.CompletedProcess[bytes]:
    environment = os.environ | {"PYTHONIOENCODING": encoding, "COLUMNS": "100"}
    command = [sys.executable, "-m", "labeler", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, env=environment, check=False)


def test_worksheet_writes_the_workbook_the_json_and_the_pictures(tmp_path: Path) -> None:
    """One run writes all three, and the same again gives the same files."""
    arguments = ("worksheet", RELISH, "-o", tmp_path / "relish.xlsx", "--pictures", tmp_path / "pictures", "--json")
    done = run(*arguments)
    assert done.returncode == 0, done.stderr.decode()
    found = json.loads(done.stdout)
    assert found["market"] == "uk" and found["declared"] and found["weigh_next"]
    first = {path.name: path.read_bytes() for path in tmp_path.rglob("*.*") if path.is_file()}
    assert {"relish.xlsx", "contributions.svg", "contributions.pdf", "handling.svg", "certainty.pdf"} <= set(first)
    workbook = openpyxl.load_workbook(io.BytesIO(first["relish.xlsx"]))
    assert workbook["Read me"]["B5"].value == found["title"]
    assert run(*arguments).stdout == done.stdout
    assert {path.name: path.read_bytes() for path in tmp_path.rglob("*.*") if path.is_file()} == first


def test_worksheet_of_another_market_and_with_facts_of_the_sale(tmp_path: Path) -> None:
    """--market takes another market's rules, --fact adds what it asks of the seller."""
    done = run("worksheet", RELISH, "--market", "us", "--fact", "sale=packed at the stall", "-o", tmp_path / "a.xlsx")
    assert done.returncode == 0, done.stderr.decode()
    workbook = openpyxl.load_workbook(tmp_path / "a.xlsx")
    assert "Requirements" in workbook.sheetnames
    assert "21 CFR" in " ".join(str(row[0].value) for row in workbook["Declared"]["R5:R8"])


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "say where it goes"),
        (("-o", "no/such/folder/a.xlsx"), "cannot be written"),
        (("--pictures", "no/such/folder/pictures"), "cannot be made"),
        (("--market", "mars", "--json"), "mars"),
        (("--fact", "employees", "--json"), "name=value"),
    ],
)
def test_worksheet_complains_in_one_line(tmp_path: Path, arguments: tuple[str, ...], words: str) -> None:
    """Wrong usage and places that cannot be written: status 2 and one line that says how to mend it."""
    done = run("worksheet", RELISH, *(tmp_path / one if one.startswith("no/") else one for one in arguments))
    assert done.returncode == 2 and words in done.stderr.decode()
    assert done.stderr.decode().count("\n") == 1 and not done.stdout


def test_the_chart_stands_below_the_table_where_it_is_asked_for() -> None:
    """Piped output has none; --chart draws it, in plain signs where the terminal has no others."""
    without = run("nutrition", RELISH)
    fine, plain = run("nutrition", RELISH, "--chart"), run("nutrition", RELISH, "--chart", encoding="ascii")
    assert without.returncode == fine.returncode == plain.returncode == 0
    assert "best estimate" not in without.stdout.decode()
    assert "━━━ 95 % interval" in fine.stdout.decode()
    chart = [line for line in plain.stdout.decode().splitlines() if " % (" in line and ":" in line]
    assert len(chart) >= 5 and all(line.isascii() for line in chart)
    assert "United Kingdom" in fine.stdout.decode()


def test_a_market_without_a_day_s_values_says_so() -> None:
    """The chart is a sentence where no reference values are held."""
    done = run("nutrition", RELISH, "--market", "jp", "--chart")
    assert done.returncode == 0 and "No reference values" in done.stdout.decode()


def test_a_label_carries_its_worksheet_only_where_it_is_asked_for(tmp_path: Path) -> None:
    """The recipe stays out of the file; with --attach the PDF holds the worksheet as JSON, the same in every run."""
    for name, more in (("a.pdf", ("--attach",)), ("b.pdf", ("--attach",)), ("bare.pdf", ())):
        assert run("label", RELISH, "-o", tmp_path / name, *more).returncode == 0
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()
    document = pypdfium2.PdfDocument((tmp_path / "a.pdf").read_bytes())
    assert document.count_attachments() == 1
    attached = json.loads(bytes(document.get_attachment(0).get_data()))
    assert attached["title"] == "Beetroot and apple relish" and attached["declared"]
    assert pypdfium2.PdfDocument((tmp_path / "bare.pdf").read_bytes()).count_attachments() == 0
