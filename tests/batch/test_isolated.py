"""A recipe may break its process and its limits, and nothing else."""

import os

import batch_help
import pytest

from labeler.batch.isolated import Isolated, Limits, name_of
from labeler.batch.work import Task, do
from labeler.types import LabelerError


@pytest.fixture
def isolated():
    """A process for poisoned recipes, ended after the test."""
    made = Isolated(name_of(batch_help.poisoned), Limits(seconds=3.0, memory=1024))
    yield made
    made.close()


def test_recipes_share_a_process_until_one_breaks_it(isolated):
    """The same process does the good ones; after a death another does the next; what is printed is no answer."""
    first, second = (isolated.do(Task(name, name, "x")) for name in ("a", "chatty"))
    assert first["title"] == second["title"] != str(os.getpid())
    dead = isolated.do(Task("deadly", "deadly", "x"))
    assert dead["outcome"] == "fault" and "status 9" in dead["said"] and dead["digest"] == ""
    assert isolated.do(Task("b", "b", "x"))["title"] != first["title"]


def test_a_recipe_that_never_ends_is_a_fault_in_its_time(isolated):
    """It is cut off, says which limit it broke, and the next one is done."""
    entry = isolated.do(Task("endless", "endless", "x"))
    assert entry["outcome"] == "fault" and "longer than 3 s" in entry["said"] and not entry["digest"]
    assert isolated.do(Task("b", "b", "x"))["outcome"] == "done"


def test_an_answer_in_the_last_moment_costs_the_next_recipe_nothing(monkeypatch):
    """The time runs out after the answer was read: the answer counts, and the next recipe gets another process."""
    one = Isolated(name_of(batch_help.plain), Limits(seconds=2.0))
    asked = one._asked

    def late(process, task):
        found = asked(process, task)
        process.wait(30)  # the timer kills it
        return found

    monkeypatch.setattr(one, "_asked", late)
    try:
        first = one.do(Task("a", "a", "x"))
        monkeypatch.undo()
        second = one.do(Task("b", "b", "x"))
    finally:
        one.close()
    assert first["outcome"] == second["outcome"] == "done" and first["title"] != second["title"]


def test_a_recipe_that_takes_all_memory_is_a_fault(isolated):
    """The bound of the address space stops it; the next recipe gets a fresh process."""
    before = isolated.do(Task("a", "a", "x"))["title"]
    entry = isolated.do(Task("greedy", "greedy", "x"))
    assert entry["outcome"] == "fault" and "more than 1,024 MiB" in entry["said"] and not entry["digest"]
    assert isolated.do(Task("b", "b", "x"))["title"] != before


def test_what_is_closed_begins_nothing():
    """A process that cannot start and one that was ended are one line each."""
    none = Isolated("labeler.batch.work:there_is_no_such_work", Limits())
    with pytest.raises(LabelerError, match="before its first one"):
        none.do(Task("a", "a", "x"))
    none.close()
    with pytest.raises(LabelerError, match="stopped"):
        none.do(Task("a", "a", "x"))


def test_a_real_recipe_fits_the_bounds(tmp_path):
    """A recipe whose text is at hand is read as the file is, with figures and its label."""
    data = b"# Quay bun\n- 100 g flour\n- 20 g butter\n> bake 20 minutes\n"
    file = tmp_path / "bun.md"
    file.write_bytes(data)
    one = Isolated(name_of(do), Limits())
    try:
        by_file = one.do(Task("bun", str(file), "x"))
        by_text = one.do(Task("bun", "bun.md", "x", data=data, label="label"))
    finally:
        one.close()
    assert by_file["outcome"] == "done" and by_text.pop("label").startswith("JVBERi")
    assert by_file["per_serving"] == by_text["per_serving"] and by_file["contains"] == ["milk", "wheat"]
