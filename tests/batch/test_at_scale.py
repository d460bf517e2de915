"""A whole batch over a table: from the command to tables, columns and report, on Dask and without it."""

import json

import batch_help
import pytest

from labeler.batch.at_scale import recipes_of_folder, recipes_of_tables, run_at_scale
from labeler.batch.sources import Names, Survey, survey
from labeler.batch.table_run import How
from labeler.cli.main import main
from labeler.larder.file import larder_of_files
from labeler.larder.find import find_larder

parquet = pytest.importorskip("pyarrow.parquet")


def table(folder, name="recipes"):
    """The rows of a table."""
    return parquet.read_table(folder / name).to_pylist()


def batch(*arguments, expect=0):
    """The command in this process."""
    with pytest.raises(SystemExit) as left:
        main(["batch", *map(str, arguments)])
    assert left.value.code == expect


@pytest.mark.filterwarnings("ignore")  # Dask's own, which are not ours to mend
def test_a_table_of_recipes_is_done_on_workers_of_this_machine(tmp_path, capsys):
    """Rows in order with figures and what they carry, lines, columns, report; a second time nothing is begun."""
    pytest.importorskip("distributed")
    rows = batch_help.write_table(tmp_path / "t.jsonl", 5, stars=3)
    with rows.open("a", encoding="utf-8") as stream:
        stream.write(json.dumps({"id": "bad", "text": None}) + "\n")
    batch(rows, "--workers", 1, "--rows", 4)
    found = table(tmp_path / "batch")
    assert [row["id"] for row in found] == [*(f"bun-{n:03}" for n in range(5)), "bad"]
    assert found[1]["ENERC_KCAL"] == 2 * found[0]["ENERC_KCAL"] > 100 and found[0]["contains"] == ["egg"]
    assert found[0]["stars"] == 3 and found[5]["stars"] is None and found[5]["outcome"] == "refused"
    assert [line["grams"] for line in table(tmp_path / "batch", "lines")][:2] == [50.0, 100.0]
    assert (tmp_path / "batch" / "columns.csv").is_file()
    assert "- 5 recipes done" in (tmp_path / "batch" / "report.md").read_text(encoding="utf-8")
    assert "5 of 6 recipes done, 1 refused" in capsys.readouterr().out


def test_what_is_wrong_with_a_table_is_told_before_anything_is_begun(tmp_path, capsys):
    """A column that lacks and two ids alike: one line each, no folder made."""
    rows = tmp_path / "t.csv"
    for text, told in (("id,recipe\n1,x\n", "--text"), ("id,text\n1,x\n1,y\n", "stands a second time")):
        rows.write_text(text, encoding="utf-8")
        batch(rows, expect=2)
        assert told in capsys.readouterr().err
    assert not (tmp_path / "batch").exists()


def test_a_recipe_of_a_table_sees_the_larder_beside_it(tmp_path):
    """The larder goes along with the recipe; one that cannot be read is told as for a file."""
    rows = tmp_path / "t.jsonl"
    rows.write_text('{"id": 1, "text": "- 100 g house mix"}\n', encoding="utf-8")
    larder = '[[food]]\nname = "House mix"\ncontains = "mustard"\n[food.panel]\nper = "100 g"\nenergy = "300 kcal"\n'
    for text in (larder, "[[food"):
        folder = tmp_path / str(len(text))
        folder.mkdir()
        (folder / "larder.toml").write_text(text, encoding="utf-8")
        here = rows.rename(folder / "t.jsonl")
        recipes = lambda here=here: recipes_of_tables([here], Names())  # noqa: E731
        run_at_scale(recipes, survey([here], Names()), folder / "made", How(), engine=batch_help.Here)
        (row,) = table(folder / "made")
        assert (row["ENERC_KCAL"] == 300.0) is (text == larder)
        assert ("larder-unreadable" in row["problems"]) is (text != larder)
        rows = here


def test_a_larder_is_told_and_seen_as_it_stands_now(tmp_path, monkeypatch):
    """One in another coding is told in the words of the light path; one that is mended is seen by the next run."""
    monkeypatch.setenv("LABELER_LARDER", str(tmp_path / "none" / "larder.toml"))
    bun, larder = tmp_path / "bun.md", tmp_path / "larder.toml"
    bun.write_text("# Bun\n- 100 g house mix\n", encoding="utf-8")
    panel = '[[food]]\nname = "House mix"\nnote = "Crème"\n[food.panel]\nper = "100 g"\nenergy = "300 kcal"\n'
    larder.write_bytes(panel.encode("latin-1"))
    (sent,) = recipes_of_folder(tmp_path, [bun])
    assert larder_of_files(sent.larders).problems == find_larder(str(bun)).problems != ()
    assert [one.code for one in larder_of_files(sent.larders).problems] == ["larder-unreadable"]
    larder.write_bytes(panel.encode())
    (again,) = recipes_of_folder(tmp_path, [bun])
    assert larder_of_files(again.larders).named("house mix") and not larder_of_files(again.larders).problems
    assert How().task(sent).digest != How().task(again).digest
    larder.unlink()
    larder.mkdir()  # a larder that cannot be read at all
    (sent,) = recipes_of_folder(tmp_path, [bun])
    assert larder_of_files(sent.larders).problems == find_larder(str(bun)).problems != ()


def test_a_folder_on_a_cluster_gives_the_figures_of_the_light_path(tmp_path):
    """The same recipes in the same order with the same figures; a file that is none is refused by itself."""
    for number in range(3):
        (tmp_path / f"bun-{number}.md").write_text(f"# Bun {number}\n- {number + 1} eggs\n", encoding="utf-8")
    (tmp_path / "soup.json").write_text('{"@type": "Recipe", "name": "Soup", "recipeIngredient": ["1 leek"]}')
    (tmp_path / "zero.md").write_bytes(b"")
    paths = sorted(tmp_path.iterdir())
    batch(tmp_path, "-o", tmp_path / "light", "--parquet", "--workers", 1)
    paths.insert(0, tmp_path / "gone.md")
    made = tmp_path / "made"
    how = How(labels=True)
    outcomes = run_at_scale(
        lambda: recipes_of_folder(tmp_path, paths), Survey(6), made, how, engine=batch_help.Here
    )  # fmt: skip
    assert outcomes == {"done": 4, "refused": 2}
    light = {row["file"]: row for row in table(tmp_path / "light", "recipes.parquet")}
    found = table(made)
    assert [row["id"] for row in found] == [path.name for path in paths]
    assert "there is no such file" in found[0]["said"]
    for row in found[1:]:
        assert (row["outcome"], row["ENERC_KCAL"]) == (light[row["id"]]["outcome"], light[row["id"]]["ENERC_KCAL"])
    assert (made / "labels" / "part-000000.zip").stat().st_size > 1000
