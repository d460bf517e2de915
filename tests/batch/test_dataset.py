"""The tables at scale: every column typed and documented, the same bytes for the same answers, whole or not there."""

import io
import zipfile

import pytest

from labeler.batch.dataset import Dataset, column_names, columns_text
from labeler.batch.sources import Survey
from labeler.batch.work import TAGS
from labeler.data_files import data_folder, data_rows
from labeler.types import LabelerError

parquet = pytest.importorskip("pyarrow.parquet")
ENTRY = {
    "file": "bun", "digest": "d", "outcome": "done", "title": "Bun", "servings": 2.0, "contains": ["egg"],
    "per_serving": {"FAT": [1.5, 1.0, 2.0, "analysed"]}, "label": "JVBERi0=",
    "lines": [{"part": "", "line": 1, "place": 0, "text": "1 egg", "name": "egg", "grams": 50.0, "problems": []}],
}  # fmt: skip
NONE = {"file": "bad", "digest": "d", "outcome": "refused", "said": "is empty"}


def test_the_columns_are_a_table_with_types_and_meanings():
    """Each has a type that is known and a meaning; four for each nutrient; the copy for the reader has all of them."""
    rows = data_rows(data_folder("labeler.batch") / "columns.csv")
    assert {row["type"] for row in rows} == {"text", "number", "whole", "texts"} and all(row["meaning"] for row in rows)
    assert {row["table"] for row in rows} == {"recipes", "lines"}
    names = column_names("recipes")
    assert len(set(names)) == len(names) and {f"{tag}_status" for tag in TAGS} < set(names)
    assert columns_text().count("\n") == 1 + len(names) + len(column_names("lines"))


def test_a_part_has_the_documented_schema_and_what_is_not_known_is_null(tmp_path):
    """Names, types and meanings in the file; a refused recipe has no figures; carried columns keep their type."""
    survey = Survey(2, {"stars": "int", "title": "text", "odd": "text"})
    dataset = Dataset(tmp_path, survey, labels=False)
    dataset.write(0, [(ENTRY, {"stars": 4, "title": "mine", "odd": [1, "\ud800"]}), (NONE, {})])
    table = parquet.read_table(dataset.paths(0)["recipes"])
    assert tuple(table.column_names) == (*column_names("recipes"), "stars", "given_title", "odd")
    assert table.schema.field("FAT").metadata[b"meaning"] == b"best estimate in one serving"
    first, second = table.to_pylist()
    assert (first["FAT"], first["FAT_high"], first["K"], first["stars"], first["given_title"]) == (
        1.5,
        2.0,
        None,
        4,
        "mine",
    )
    assert first["contains"] == ["egg"] and first["odd"] == '[1, "?"]'
    assert second["said"] == "is empty" and second["FAT"] is second["stars"] is second["servings"] is None
    (line,) = parquet.read_table(dataset.paths(0)["lines"]).to_pylist()
    assert line["id"] == "bun" and line["grams"] == 50.0 and line["food"] is None


def test_labels_go_into_an_archive_that_is_the_same_on_any_day(tmp_path):
    """One for each recipe that has one, under a name that no system stumbles over."""
    odd = ENTRY | {"file": "../ü/bun:1"}
    for day in ("one", "two"):
        Dataset(tmp_path / day, Survey(), labels=True).write(0, [(ENTRY, {}), (NONE, {}), (odd, {})])
    one, two = ((tmp_path / day / "labels" / "part-000000.zip").read_bytes() for day in ("one", "two"))
    assert one == two
    with zipfile.ZipFile(io.BytesIO(one)) as archive:
        assert archive.namelist() == ["000000-bun.pdf", "000002-.._ü_bun_1.pdf"]
        assert archive.read("000000-bun.pdf") == b"%PDF-"


def test_a_part_that_cannot_be_written_leaves_the_old_one(tmp_path, monkeypatch):
    """No room on the disk: one line, the file of before, nothing half-written beside it."""
    dataset = Dataset(tmp_path, Survey(), labels=False)
    dataset.write(0, [(ENTRY, {})])
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}

    def full(descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(LabelerError, match="no space left"):
        dataset.write(0, [(NONE, {})])
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before
