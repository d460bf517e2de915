"""The one reader of the package's tables."""

from __future__ import annotations

import ast
import csv
from pathlib import Path

import pytest

import labeler
from labeler.data_files import data_folder, data_rows

ROOT = Path(labeler.__file__).parent
TABLES = sorted(ROOT.rglob("*.csv"))
# What is no table of the package, or one whose errors are told by their line.
OTHER_READERS = {
    "allergens/vocabulary.py",
    "batch/dataset.py",
    "batch/table_files.py",
    "batch/tables.py",
    "data_files.py",
    "importers/table.py",
    "rules/loading/reader.py",
}


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_every_table_reads_as_the_standard_library_reads_it(path):
    """The rows are those of csv.DictReader, and what a row lacks is empty."""
    with path.open(encoding="utf-8", newline="") as stream:
        known = list(csv.DictReader((line for line in stream if not line.startswith("#")), restval=""))
    assert data_rows(path) == known


def test_remarks_and_empty_lines_are_no_rows(tmp_path):
    """Remarks may stand anywhere; a short row is filled up; letters outside ASCII stay."""
    file = tmp_path / "table.csv"
    file.write_text('# a remark\nword,says\njamón,"ham, dry"\n# another\n\nham\n', encoding="utf-8")
    assert data_rows(file) == [{"word": "jamón", "says": "ham, dry"}, {"word": "ham", "says": ""}]


def test_a_cell_too_many_is_refused(tmp_path):
    """A comma that nobody quoted moves no figure into another column."""
    file = tmp_path / "table.csv"
    file.write_text("word,says\nham,dry,salted\n", encoding="utf-8")
    with pytest.raises(ValueError):
        data_rows(file)


def test_a_room_has_its_folder():
    """Data are opened as resources of the package."""
    assert (data_folder("labeler.parsing") / "actions.csv").is_file()


@pytest.mark.parametrize("path", sorted(ROOT.rglob("*.py")), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_no_other_module_reads_a_table_by_itself(path):
    """One reader: the same remarks, the same encoding, the same check of the columns."""
    imports = [node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.Import)]
    reads = any(one.name == "csv" for node in imports for one in node.names)
    assert not reads or path.relative_to(ROOT).as_posix() in OTHER_READERS
