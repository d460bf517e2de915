"""The same tables whatever happens on the way: order, deaths, repeats, a changed row, a shorter source."""

import itertools

import batch_help
import pytest
from batch_help import quick

from labeler.batch.dataset import Dataset
from labeler.batch.sources import Survey
from labeler.batch.store import Store
from labeler.batch.table_run import How, Recipe, run_table
from labeler.batch.work import broken

pytest.importorskip("pyarrow")
SURVEY = Survey(10, {"stars": "int"})


def stall(count=10, **texts):
    """Recipes of ours; some with another text."""
    return [
        Recipe(f"r{n}", texts.get(f"r{n}", f"- {n} eggs").encode(), {"stars": n}) for n in range(count)
    ]  # fmt: skip


def done(folder, recipes, *, how=None, engine=None, survey=SURVEY):
    """Run it; the engine, and the bytes of every file by name."""
    engine = engine or batch_help.Here(batch_help.quick)
    how = how or How(part_rows=4, chunk_rows=2)
    store = Store(folder / "journal.sqlite")
    try:
        parts = run_table(iter(recipes), store, Dataset(folder, survey, labels=how.labels), lambda: engine, how)
    finally:
        store.close()
    assert parts == -(-len(list(recipes)) // how.part_rows)
    return engine, files(folder)


def files(folder):
    """Every file of the tables."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.name.startswith("journal")
    }


def test_a_second_run_does_nothing_and_begins_nothing(tmp_path):
    """An answer that comes twice counts once; then all parts stand: no engine is begun, no byte changes."""
    engine, first = done(tmp_path, stall())
    assert sorted(engine.did) == [f"r{n}" for n in range(10)] and engine.closed and engine.repeated == 1
    again, second = done(tmp_path, stall(), engine=batch_help.Here(batch_help.quick))
    assert again.did == [] and not again.closed and second == first and len(first) == 6


@pytest.mark.parametrize("chunks", range(6))
def test_a_run_that_dies_after_any_chunk_goes_on_to_the_same_bytes(tmp_path, chunks):
    """What is in the journal is not done again; the tables are those of a run that nothing happened to."""
    _, whole = done(tmp_path / "whole", stall())
    dying = batch_help.Here(batch_help.quick, dies_after=chunks)
    try:
        done(tmp_path / "killed", stall(), engine=dying)
    except KeyboardInterrupt:
        assert dying.closed
    engine, resumed = done(tmp_path / "killed", stall())
    assert resumed == whole and not set(engine.did) & set(dying.did[: 2 * chunks])
    assert sorted(dying.did + engine.did) == sorted(f"r{n}" for n in range(10))


def test_bytes_do_not_depend_on_how_the_work_is_shared_out(tmp_path):
    """Chunks of one, of three and of all."""
    made = [
        done(tmp_path / str(size), stall(), how=How(part_rows=4, chunk_rows=size))[1] for size in (1, 3, 100)
    ]  # fmt: skip
    assert made[0] == made[1] == made[2]


def test_only_what_changed_is_done_again(tmp_path):
    """A changed text: one recipe, one part; a changed column that is carried: no recipe, one part."""
    _, first = done(tmp_path, stall())
    engine, second = done(tmp_path, stall(r5="- 1 kg flour"))
    assert engine.did == ["r5"]
    assert {name for name in first if first[name] != second[name]} == {
        "recipes/part-000001.parquet", "lines/part-000001.parquet",
    }  # fmt: skip
    moved = [*stall(r5="- 1 kg flour")[:9], Recipe("r9", b"- 9 eggs", {"stars": 1})]
    engine, third = done(tmp_path, moved)
    assert engine.did == [] and {name for name in third if third[name] != second[name]} == {
        "recipes/part-000002.parquet"
    }


def test_a_part_that_was_lost_or_cut_off_is_written_again(tmp_path):
    """A file that has gone, and one that a power cut left empty, come back from the journal."""
    _, first = done(tmp_path, stall())
    (tmp_path / "recipes" / "part-000000.parquet").unlink()
    (tmp_path / "lines" / "part-000001.parquet").write_bytes(b"")
    engine, second = done(tmp_path, stall())
    assert second == first and engine.did == []


def test_a_shorter_source_leaves_no_part_behind(tmp_path):
    """Rows that went out of the source go out of the tables."""
    done(tmp_path, stall())
    _, left = done(tmp_path, stall(3))
    assert sorted(left) == ["lines/part-000000.parquet", "recipes/part-000000.parquet"]


def test_what_cannot_be_read_is_refused_by_itself(tmp_path):
    """A recipe without text and one whose file failed: the others are done."""
    rows = [*stall(3), Recipe("empty", b""), Recipe("gone", b"", unread="gone: there is no such file")]
    engine, _ = done(tmp_path, rows)
    store = Store(tmp_path / "journal.sqlite")
    entries = store.entries(["empty", "gone"])
    store.close()
    assert entries["gone"]["said"] == "gone: there is no such file" and "gone" not in engine.did
    assert {entry["outcome"] for entry in entries.values()} == {"refused"}


def test_what_broke_its_limits_is_tried_again_and_nothing_else(tmp_path):
    """Two that took too long: the next run does those two alone, and its tables are those of a run without faults."""
    _, whole = done(tmp_path / "whole", stall())
    short = batch_help.Here(lambda task: broken(task, "took too long") if task.file in ("r1", "r5") else quick(task))
    _, first = done(tmp_path / "made", stall(), engine=short)
    engine, second = done(tmp_path / "made", stall())
    assert sorted(engine.did) == ["r1", "r5"] and first != second == whole
    assert done(tmp_path / "made", stall())[0].did == []


def test_few_recipes_are_read_ahead(tmp_path):
    """Of an endless source no more is taken than what is under way and a few parts: memory stays flat."""
    read = itertools.count()
    counted = (one for one in stall(5000) if next(read) >= 0)
    with pytest.raises(KeyboardInterrupt):
        done(tmp_path, counted, engine=batch_help.Here(batch_help.quick, dies_after=10))
    assert next(read) < 60
