"""What a source names, and what is wrong with it before anything is begun."""

import json

import batch_help
import pytest

from labeler.batch.sources import Names, given_names, rows_of, survey, tables_of
from labeler.types import LabelerError


def lines(path, *rows):
    """A file of JSON Lines."""
    path.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
    return path


def test_a_source_is_a_folder_a_table_or_a_pattern(tmp_path):
    """Tables by name and in their order; recipes as files are no tables; both at once are refused."""
    batch_help.write_table(tmp_path / "b.jsonl", 1)
    batch_help.write_table(tmp_path / "a.jsonl", 1)
    (tmp_path / "bun.md").write_text("- 1 egg\n", encoding="utf-8")
    assert tables_of(str(tmp_path)) is None and tables_of(str(tmp_path / "*.md")) is None
    assert [path.name for path in tables_of(str(tmp_path / "*.jsonl"))] == ["a.jsonl", "b.jsonl"]
    for source, told in (("*", "one kind"), ("none", "no such file"), ("*.csv", "no file is called so")):
        with pytest.raises(LabelerError, match=told):
            tables_of(str(tmp_path / source))


def test_two_ids_alike_are_told_with_both_places(tmp_path):
    """In one table or in two; the number 7 and the text “7” are the same id."""
    one = lines(tmp_path / "one.jsonl", {"id": 7, "text": "x"}, {"id": 8, "text": "x"})
    two = lines(tmp_path / "two.jsonl", {"id": "7", "text": "y"})
    with pytest.raises(LabelerError, match=r"two\.jsonl:1: the id “7” .* \(first in .*one\.jsonl:1\)"):
        survey([one, two], Names())
    assert survey([one], Names()).count == 2
    with pytest.raises(LabelerError, match="no row"):
        survey([lines(tmp_path / "empty.jsonl")], Names())


def test_carried_columns_have_the_widest_kind_of_their_values(tmp_path):
    """Whole numbers, decimals, texts, mixtures, nothing at all, and numbers that no table holds."""
    rows = [
        {"id": 1, "text": "", "n": 1, "x": 1, "t": "a", "m": 1, "e": None, "b": True, "big": 2**70, "list": [1]},
        {"id": 2, "text": "", "n": None, "x": 0.5, "t": None, "m": "a", "e": None, "b": False, "big": 1, "list": None},
    ]
    kinds = survey([lines(tmp_path / "t.jsonl", *rows)], Names()).kinds
    assert kinds == {
        "n": "int", "x": "float", "t": "text", "m": "text", "e": "nothing", "b": "bool", "big": "text", "list": "text",
    }  # fmt: skip


def test_a_carried_column_never_takes_the_place_of_an_answer():
    """One of the same name is called given_..., and once more where that is taken."""
    called = given_names(dict.fromkeys(("title", "stars", "given_title"), "text"), frozenset({"title"}))
    assert called == {"title": "given_title", "stars": "stars", "given_title": "given_given_title"}


def test_columns_have_the_names_that_are_given(tmp_path):
    """--id and --text name them."""
    file = lines(tmp_path / "t.jsonl", {"number": 3, "recipe": "- 1 egg", "text": "of another thing"})
    (row,) = rows_of([file], Names("number", "recipe"))
    assert (row.id, row.data, row.given) == ("3", b"- 1 egg", {"text": "of another thing"})
