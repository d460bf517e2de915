"""The table of a folder: text of a recipe is text in any spreadsheet."""

import csv

import pytest

from labeler.batch.journal import Journal
from labeler.batch.tables import csv_cell, write_csv


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "|x", "%x", " =1", "\t=1"])
def test_a_title_that_would_run_gets_an_apostrophe(tmp_path, text):
    """What a spreadsheet takes for a formula is told to it as text; numbers and other texts stay as they are."""
    assert csv_cell(text) == f"'{text}" and csv_cell(-1.5) == -1.5 and csv_cell("1 egg") == "1 egg"
    journal = Journal(tmp_path / "journal.jsonl")
    journal.add({"file": "a.md", "digest": "d", "outcome": "done", "title": text, "said": "\ud800"})
    write_csv(tmp_path / "recipes.csv", journal, ["a.md"])
    journal.close()
    with (tmp_path / "recipes.csv").open(encoding="utf-8", newline="") as stream:
        (row,) = csv.DictReader(stream)
    assert row["title"] == f"'{text}"
