"""The table of a folder: text of a recipe is text in any spreadsheet."""

import csv

import pytest

from labeler.batch.journal import Journal
from labeler.batch.tables import csv_cell, write_csv, write_report
from labeler.batch.work import Task, do


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


def test_the_report_names_the_recipes_of_each_code(tmp_path):
    """Behind each number stand the first recipes that it counts, and how many more there are."""
    entries = [{"file": f"{at}.md", "outcome": "done", "problems": ["no-servings"]} for at in range(7)]
    write_report(tmp_path / "report.md", entries)
    report = (tmp_path / "report.md").read_text(encoding="utf-8")
    assert "- no-servings: 7 (0.md, 1.md, 2.md, 3.md, 4.md and 2 more)" in report


def test_words_that_are_no_recipe_are_refused():
    """A file without an amount or a food that is known is no recipe that was done."""
    entry = do(Task("words.txt", "words.txt", "", data=b"just some words\n", form="text"))
    assert entry["outcome"] == "refused" and "no recipe" in entry["said"]
    assert do(Task("nuts.md", "nuts.md", "", data=b"# Nuts\n- walnuts\n- salt\n", form="text"))["outcome"] == "done"
