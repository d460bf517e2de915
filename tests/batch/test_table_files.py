"""Tables of recipes: the same rows from JSON Lines, CSV and Parquet, and one line for whatever is wrong with one."""

import csv
import json

import pytest

from labeler.batch.table_files import READERS
from labeler.types import LabelerError

ROWS = [
    {"id": "a", "text": '# Bun\n- 1 egg, "fresh"\n', "stars": 4},
    {"id": "b", "text": "", "stars": None},
    {"id": "ü 7", "text": "- ½ cup flour", "stars": 2},
]


def read(path, id_column="id", text_column="text"):
    """The rows of a file."""
    return list(READERS[path.suffix](path, id_column, text_column).rows())


def test_three_forms_of_one_table_are_the_same_recipes(tmp_path):
    """Ids, texts with line ends, and the column that is carried through, by name and by number."""
    lines, table, parquet = (tmp_path / f"t.{ending}" for ending in ("jsonl", "csv", "parquet"))
    lines.write_text("".join(json.dumps(row) + "\n" for row in ROWS) + "\n", encoding="utf-8")
    with table.open("w", encoding="utf-8-sig", newline="") as stream:
        writer = csv.DictWriter(stream, ["id", "stars", "text"])
        writer.writeheader()
        writer.writerows(ROWS)
    found = {path.suffix: read(path) for path in (lines, table)}
    arrow = pytest.importorskip("pyarrow")
    pytest.importorskip("pyarrow.parquet").write_table(arrow.Table.from_pylist(ROWS), parquet)
    found[".parquet"] = read(parquet)
    for rows in found.values():
        assert [(row.id, row.data.decode()) for row in rows] == [(row["id"], row["text"]) for row in ROWS]
    assert (
        [row.given["stars"] for row in found[".jsonl"]]
        == [row.given["stars"] for row in found[".parquet"]]
        == [4, None, 2]
    )


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("t.jsonl", b'{"id": 1, "recipe": "x"}\n', r"t\.jsonl:1: there is no .* “text” \(there are: id, recipe\)"),
        ("t.jsonl", b'{"text": "x"}\n', "no column “id”.*--id"),
        ("t.jsonl", b'{"id": 1, "text": "x"}\n{"id": ', r":2: is no JSON"),
        ("t.jsonl", b"[1]\n", ":1: is JSON, but no object"),
        ("t.jsonl", b"[" * 100_000, ":1: is no JSON"),
        ("t.jsonl", b'{"id": 1, "text": "\xff"}\n', ":1: is not UTF-8"),
        ("t.jsonl", b'{"id": null, "text": "x"}\n', "“id” is empty"),
        ("t.jsonl", b'{"id": true, "text": "x"}\n', "“id” is empty or neither"),
        ("t.jsonl", b'{"id": " ", "text": "x"}\n', "“id” is empty"),
        ("t.jsonl", b'{"id": "a\\u0000", "text": "x"}\n', "cannot be printed"),
        ("t.jsonl", b'{"id": "\\ud800", "text": "x"}\n', "cannot be printed"),
        ("t.jsonl", b'{"id": 1, "text": ["x"]}\n', "“text” is a list, not text"),
        ("t.csv", b"id,text\n1,a,b\n", r":2: the row has 3 cells and the table 2"),
        ("t.csv", b"id,id,text\n", "“id” stands twice"),
        ("t.csv", b"id,text\n1,\xff\n", "is not UTF-8"),
        ("t.csv", b'id,text\n1,"a"b\n', ":2: is no CSV"),
        ("t.csv", b"name,words\n1,a\n", "no column “id”"),
        ("t.parquet", b"PAR1 and no more", "is no Parquet that can be read"),
        ("t.parquet", b"", "is no Parquet that can be read"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_table_is_one_line(tmp_path, name, data, told):
    """The file, the row, what is wrong and what to do."""
    if name.endswith("parquet"):
        pytest.importorskip("pyarrow")
    (tmp_path / name).write_bytes(data)
    with pytest.raises(LabelerError, match=told) as error:
        read(tmp_path / name)
    assert "\n" not in str(error.value)


def test_a_table_that_cannot_be_opened_is_one_line(tmp_path):
    """A folder of that name, or a file that has gone."""
    with pytest.raises(LabelerError, match="cannot be read"):
        read(tmp_path / "gone.jsonl")
