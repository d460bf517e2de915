"""A folder of recipes: the same table whatever happens on the way, nothing done twice, no recipe stops the rest."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

import batch_help
import pytest

from labeler.batch.at_scale import recipes_of_folder, run_at_scale
from labeler.batch.journal import Journal
from labeler.batch.run import recipes_of, run
from labeler.batch.sources import Survey
from labeler.batch.table_run import How
from labeler.batch.work import Task, do
from labeler.cli.main import main
from labeler.types import LabelerError


def stall(folder: Path, count: int) -> list[str]:
    """A folder of small recipes of ours, one of them broken."""
    for number in range(count):
        recipe = f"---\ntitle: Bun {number}\nmakes: {number + 2} buns\n---\n- {100 + number} g flour\n- 20 g butter\n"
        (folder / f"bun-{number:02}.md").write_text(recipe, encoding="utf-8")
    (folder / "broken.md").write_text("---\ntitle: x\n", encoding="utf-8")
    return sorted([f"bun-{number:02}.md" for number in range(count)] + ["broken.md"])


def batch(*arguments, expect=0):
    """The command in this process."""
    with pytest.raises(SystemExit) as left:
        main(["batch", *map(str, arguments)])
    assert left.value.code == expect


def table(folder):
    """The rows of the table."""
    with (folder / "batch" / "recipes.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@pytest.fixture(autouse=True)
def alone(tmp_path, monkeypatch):
    """No larder but the test's own."""
    monkeypatch.setenv("LABELER_LARDER", str(tmp_path / "none" / "larder.toml"))


def test_a_folder_gives_a_table_labels_and_a_report(tmp_path):
    """One row a recipe by name, the broken one refused with its line, a label for each that was done."""
    files = stall(tmp_path, 3)
    batch(tmp_path, "--labels", "--workers", 1)
    rows = table(tmp_path)
    assert [row["file"] for row in rows] == files
    assert Counter(row["outcome"] for row in rows) == {"done": 3, "refused": 1}
    assert "never ends" in rows[0]["said"] and float(rows[1]["ENERC_KCAL"]) > 100 and "wheat" in rows[1]["contains"]
    labels = sorted(path.name for path in (tmp_path / "batch" / "labels").iterdir())
    assert labels == [f"bun-{number:02}.md.pdf" for number in range(3)]
    report = (tmp_path / "batch" / "report.md").read_text(encoding="utf-8")
    assert "- 3 recipes done" in report and "broken.md" in report
    journal = (tmp_path / "batch" / "journal.jsonl").read_bytes()
    batch(tmp_path, "--labels", "--workers", 1)
    assert (tmp_path / "batch" / "journal.jsonl").read_bytes() == journal  # nothing was done again
    (tmp_path / "batch" / "labels" / "bun-01.md.pdf").unlink()
    (tmp_path / "bun-02.md").write_text("- 1 kg flour\n", encoding="utf-8")
    batch(tmp_path, "--labels", "--workers", 1)
    again = [json.loads(row)["file"] for row in (tmp_path / "batch" / "journal.jsonl").read_text().splitlines()[4:]]
    assert sorted(again) == ["bun-01.md", "bun-02.md"]  # the lost label and the changed recipe


def test_whatever_an_answer_depends_on_makes_it_be_done_again(tmp_path, monkeypatch):
    """A changed larder, the user's or the one beside it, a changed market and another edition each do a recipe anew."""
    own = tmp_path / "none" / "larder.toml"
    (tmp_path / "bun.md").write_text("- 100 g house mix\n", encoding="utf-8")
    journal = tmp_path / "batch" / "journal.jsonl"
    panel = '[[food]]\nname = "House mix"\n[food.panel]\nper = "100 g"\nenergy = "{} kcal"\n'

    def energy(*options):
        batch(tmp_path, "--workers", 1, *options)
        return len(journal.read_text(encoding="utf-8").splitlines()), table(tmp_path)[0]["ENERC_KCAL"]

    assert energy()[0] == 1 and energy()[0] == 1
    own.parent.mkdir()
    own.write_text(panel.format(300), encoding="utf-8")
    assert energy() == (2, "300.0")
    own.write_text(panel.format(400), encoding="utf-8")
    assert energy() == (3, "400.0") and energy()[0] == 3
    (tmp_path / "larder.toml").write_text(panel.format(500), encoding="utf-8")
    assert energy() == (4, "500.0")
    assert energy("--market", "eu")[0] == 5
    monkeypatch.setattr("labeler.batch.run.__version__", "another")
    assert energy("--market", "eu")[0] == 6


def test_killed_in_the_middle_it_goes_on_without_loss_or_repeat(tmp_path):
    """SIGKILL after a few, a broken last line: the rest is done, what was done is not, the table is the same."""
    files = stall(tmp_path, 12)
    journal = tmp_path / "batch" / "journal.jsonl"
    command = [sys.executable, "-m", "labeler", "batch", str(tmp_path), "--workers", "1"]
    process = subprocess.Popen(command, start_new_session=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    until = time.monotonic() + 60
    while time.monotonic() < until and (not journal.exists() or journal.read_bytes().count(b"\n") < 3):
        time.sleep(0.02)
    os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    before = [json.loads(row)["file"] for row in journal.read_bytes().splitlines(keepends=True) if row.endswith(b"\n")]
    with journal.open("ab") as stream:
        stream.write(b'{"file": "bun-1')
    batch(tmp_path, "--workers", 2)
    done = Counter(json.loads(row)["file"] for row in journal.read_text(encoding="utf-8").splitlines())
    assert len(before) >= 3 and set(done) == set(files) and set(done.values()) == {1}
    resumed = table(tmp_path)
    whole = tmp_path / "whole"
    batch(tmp_path, "-o", whole, "--workers", 1)
    with (whole / "recipes.csv").open(encoding="utf-8", newline="") as stream:
        assert resumed == list(csv.DictReader(stream))


PLACES = [".", "batch", "made/deep", "..", "../beside"]


@pytest.mark.parametrize("output", PLACES)
def test_output_that_stands_among_the_recipes_is_not_read(tmp_path, output):
    """In the source folder itself, below it, above it and beside it: every run finds the same recipes."""
    source = tmp_path / "stall"
    source.mkdir()
    files = stall(source, 2)
    target = source / output
    for _ in range(2):
        batch(source, "-o", target, "--workers", 1)
        with (target / "recipes.csv").open(encoding="utf-8", newline="") as stream:
            assert [row["file"] for row in csv.DictReader(stream)] == files
    (target / "journal.jsonl").unlink()  # what is left of a batch is still no recipe
    assert [path.name for path in recipes_of(source, source / "batch")] == files


@pytest.mark.parametrize("output", PLACES)
def test_output_of_the_table_path_is_not_read_either(tmp_path, output):
    """A folder on a cluster whose tables stand in it, below it, above it and beside it; labels and columns too."""
    pytest.importorskip("pyarrow")
    source = tmp_path / "stall"
    source.mkdir()
    files = stall(source, 2)
    target = source / output
    for _ in range(2):
        paths = recipes_of(source, target)
        assert [path.name for path in paths] == files
        recipes = lambda paths=paths: recipes_of_folder(source, paths)  # noqa: E731
        run_at_scale(recipes, Survey(3), target, How(), engine=lambda: batch_help.Here(batch_help.quick))
    assert (target / "columns.csv").is_file()
    (target / "note.md").write_text("- 1 egg\n", encoding="utf-8")
    names = {path.name for path in recipes_of(source, source / "other")}
    assert names == set(files) | ({"note.md"} if output == "." else set())  # a folder with such a journal is output
    (target / "note.md").unlink()
    (target / "journal.sqlite").unlink()
    assert [path.name for path in recipes_of(source, source / "other")] == files


def test_a_folder_is_done_without_dask_and_a_table_says_what_it_needs(tmp_path):
    """The light path imports neither Dask nor pyarrow; where they are not installed a table is refused in one line."""
    stall(tmp_path, 1)
    rows = batch_help.write_table(tmp_path / "t.jsonl", 1)
    code = """
import sys
from labeler.cli.main import main
for name in ("dask", "distributed", "pyarrow"):
    sys.modules[name] = None  # an import of it is an error
try:
    main(sys.argv[1:])
finally:
    loaded = {name.split(".")[0] for name, module in sys.modules.items() if module is not None}
    assert loaded.isdisjoint({"dask", "distributed", "pyarrow"})
"""

    def run(*arguments):
        command = [sys.executable, "-c", code, "batch", *map(str, arguments)]
        return subprocess.run(command, capture_output=True, text=True)

    assert run(tmp_path, "--workers", 1).returncode == 0 and len(table(tmp_path)) == 2
    for arguments in ((rows, "-o", tmp_path / "made", "--workers", 1), (tmp_path, "--cluster", "tcp://127.0.0.1:9")):
        left = run(*arguments)
        assert left.returncode == 2 and "labeler[cluster]" in left.stderr and left.stderr.count("\n") == 1


def test_files_that_a_pattern_names_are_done_as_a_folder_is(tmp_path):
    """Those alone, with their names under the folder that holds them all."""
    stall(tmp_path, 3)
    batch(tmp_path / "bun-0[12].md", "--workers", 1)
    assert [row["file"] for row in table(tmp_path)] == ["bun-01.md", "bun-02.md"]


def test_a_recipe_that_kills_its_process_is_a_fault_and_the_rest_is_done(tmp_path):
    """What was under way beside it is done again, only it is a fault, and the next run tries only it again."""
    for number in range(6):
        (tmp_path / f"{number}.md").write_text("- 1 egg\n", encoding="utf-8")
    (tmp_path / "2-deadly.md").write_text("- 1 egg\n", encoding="utf-8")
    journal = Journal(tmp_path / "batch" / "journal.jsonl")
    run(tmp_path, journal, recipes_of(tmp_path, tmp_path / "batch"), workers=2, work=batch_help.deadly)
    files = [path.name for path in recipes_of(tmp_path, tmp_path / "batch")]
    outcomes = {entry["file"]: entry["outcome"] for entry in journal.entries(files)}
    assert outcomes == {name: "fault" if "deadly" in name else "done" for name in files}
    again = []
    run(
        tmp_path, journal, recipes_of(tmp_path, tmp_path / "batch"), workers=1, work=batch_help.plain,
        done=lambda entry: again.append(entry and entry["file"]),
    )  # fmt: skip
    assert [one for one in again if one] == ["2-deadly.md"]
    assert next(journal.entries(["2-deadly.md"]))["outcome"] == "done"
    journal.close()


def test_the_table_as_parquet_is_the_table(tmp_path):
    """The same rows and figures, with numbers as numbers."""
    parquet = pytest.importorskip("pyarrow.parquet")
    stall(tmp_path, 2)
    batch(tmp_path, "--parquet", "--workers", 1)
    rows = parquet.read_table(tmp_path / "batch" / "recipes.parquet").to_pylist()
    assert [row["file"] for row in rows] == [row["file"] for row in table(tmp_path)]
    assert rows[1]["ENERC_KCAL"] == float(table(tmp_path)[1]["ENERC_KCAL"]) and rows[0]["ENERC_KCAL"] is None


def test_any_fault_of_one_recipe_is_an_entry(tmp_path, monkeypatch):
    """A fault of the program is written down with its kind, and is no exception of the batch."""
    monkeypatch.setattr("labeler.nutrition.analysis.analyse", lambda *arguments, **options: 1 / 0)
    (tmp_path / "a.md").write_text("- 1 egg\n", encoding="utf-8")
    entry = do(Task("a.md", str(tmp_path / "a.md"), "x"))
    assert entry["outcome"] == "fault" and entry["said"].startswith("ZeroDivisionError")


def test_wrong_folders_and_settings_are_refused(tmp_path, capsys):
    """No folder, no such size, no such market: one line, nothing begun."""
    batch(tmp_path / "nowhere", expect=2)
    batch(tmp_path, "--size", "huge", expect=2)
    batch(tmp_path, "--market", "moon", expect=2)
    assert not (tmp_path / "batch").exists()
    with pytest.raises(LabelerError):
        Journal(Path("/proc/nowhere/journal.jsonl"))


@pytest.mark.parametrize(
    ("source", "options"),
    [
        ("t.jsonl", ["--parquet"]),
        (".", ["--parquet", "--cluster", "tcp://127.0.0.1:9"]),
        (".", ["--workers", 2, "--cluster", "tcp://127.0.0.1:9"]),
        ("t.jsonl", ["--workers", 2, "--cluster", "tcp://127.0.0.1:9"]),
        (".", ["--rows", 1000]),
        ("bun-0*.md", ["--rows", 10]),
        (".", ["--id", "dish"]),
        (".", ["--text", "recipe"]),
    ],
)
def test_an_option_that_would_change_nothing_is_refused(tmp_path, capsys, source, options):
    """It is named in one line, whether its value is the usual one or not, and nothing is begun."""
    stall(tmp_path, 1)
    batch_help.write_table(tmp_path / "t.jsonl", 1)
    batch(tmp_path / source, *options, expect=2)
    told = capsys.readouterr().err
    assert options[0] in told and told.count("\n") == 1
    assert not (tmp_path / "batch").exists()


def test_a_file_name_is_no_folder_for_a_batch(tmp_path):
    """A batch that is told a file to write into says what it writes, and makes no folder of that name."""
    (tmp_path / "slaw.md").write_text("# Slaw\n- 1 cabbage\n", encoding="utf-8")
    target = tmp_path / "table.csv"
    batch(tmp_path, "-o", target, expect=2)
    assert not target.exists()
