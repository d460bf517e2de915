"""The command line: answers with status 0, one clear line with status 2, never a traceback."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

DEMO = Path(__file__).parents[1] / "demo"
RECIPES = sorted(DEMO.glob("*.md"))


def run(*arguments, stdin=b""):
    """A whole `labeler` process, away from the developer's terminal and locale."""
    environment = os.environ | {"PYTHONIOENCODING": "ascii", "COLUMNS": "100"}
    return subprocess.run(
        [sys.executable, "-m", "labeler", *map(str, arguments)],
        input=stdin,
        capture_output=True,
        env=environment,
        check=False,
    )


def rows(done):
    """The JSON Lines that a command wrote."""
    assert done.returncode == 0, done.stderr.decode()
    return [json.loads(line) for line in done.stdout.decode().splitlines()]


def complaint(done):
    """The one line that a command complained with."""
    assert done.returncode == 2, (done.returncode, done.stdout, done.stderr)
    assert done.stdout == b""
    text = done.stderr.decode()
    assert text.startswith("labeler: ") and text.count("\n") == 1 and "Traceback" not in text
    return text


def test_lines_answers_every_row_in_order():
    """One object a row with the keys of the interface; a blank row keeps its place."""
    found = rows(run("lines", "-", "--json", stdin="2 cups flour\r\n\r\n½ tsp salt".encode()))
    assert [item["text"] for item in found] == ["2 cups flour", "", "½ tsp salt"]
    keys = {"text", "amounts", "name", "preparation", "note", "optional", "food", "match", "grams", "problems"}
    for item in found:
        assert keys <= set(item) <= keys | {"also"}
        assert set(item["match"]) == {"confidence", "reason", "alternatives"}
    assert found[0]["amounts"] == [{"low": 2.0, "high": 2.0, "unit": "cup"}]
    assert found[0]["grams"]["low"] <= found[0]["grams"]["best"] <= found[0]["grams"]["high"]
    assert found[0]["food"]["id"] == "20081"
    assert found[1]["food"] is None and found[1]["grams"] is None


def test_foods_answers_names_and_files(tmp_path):
    """Names on the command line and rows of a file get the same answer, at most five candidates."""
    path = tmp_path / "names.txt"
    path.write_text("aubergine\nqzxv\n", encoding="utf-8")
    by_file, by_name = rows(run("foods", path, "--json")), rows(run("foods", "aubergine", "qzxv", "--json"))
    assert by_file == by_name
    assert by_file[0]["candidates"][0]["description"].startswith("Eggplant, raw")
    assert all(0 < len(item["candidates"]) <= 5 for item in by_file[:1])
    assert set(by_file[0]["candidates"][0]) == {"id", "description", "confidence", "reason"}
    assert by_file[1] == {"query": "qzxv", "candidates": []}


def test_allergens_of_lines_and_of_a_recipe():
    """Lines get an object each; a recipe gets one, with fish, crustacean and mollusc named by species."""
    first, second = rows(run("allergens", "--lines", "-", "--json", stdin=b"1 lb cod\n2 lemons"))
    assert [finding["allergen"] for finding in first["contains"]] == ["fish"]
    assert first["contains"][0]["names"] == ["cod"]
    assert set(first["contains"][0]) == {"allergen", "names", "reason", "from"}
    assert second["contains"] == []
    (whole,) = rows(run("allergens", DEMO / "quay-pie.md", "--json"))
    found = {finding["allergen"]: finding["names"] for finding in whole["contains"]}
    assert {"fish", "crustaceans", "molluscs", "milk", "wheat"} <= set(found)
    assert "haddock" in " ".join(found["fish"])


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda path: path.stem)
def test_nutrition_of_the_demo(recipe):
    """Every demo recipe gives the keys of the interface, with each figure between its bounds."""
    done = run("nutrition", recipe, "--json")
    assert done.returncode == 0, done.stderr.decode()
    found = json.loads(done.stdout)
    keys = {
        "title", "servings", "serving_g", "per_serving", "per_100g", "batch", "energy_check", "parts", "lines",
        "problems", "weigh_next",
    }  # fmt: skip
    assert set(found) == keys
    wanted = "ENERC_KCAL PROCNT FAT FASAT FATRN CHOLE NA CHOCDF FIBTG SUGAR SUGAR_ADDED VITD CA FE K".split()
    for basis in ("per_serving", "per_100g", "batch"):
        assert set(wanted) <= set(found[basis])
        for figure in found[basis].values():
            assert figure["low"] <= figure["best"] <= figure["high"]
            assert figure["status"] in {"analysed", "calculated", "assumed zero", "imputed", "missing"}
    assert found["batch"]["PROCNT"]["best"] == pytest.approx(
        found["per_serving"]["PROCNT"]["best"] * found["servings"], rel=1e-4
    )


@pytest.mark.parametrize(
    "command", [["lines"], ["foods"], ["allergens", "--lines"], ["allergens"], ["nutrition"], ["label"]]
)
@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (bytes(range(256)) * 8, "zero byte"),
        (b"caf\xe9 au lait", "not UTF-8"),
        (b"1 cup " + b"x" * 1_000_000, "characters long"),
    ],
    ids=["empty", "binary", "latin-1", "1 MB line"],
)
def test_strange_files_get_one_clear_line(tmp_path, command, data, words):
    """Empty, binary, wrongly encoded and endless files: status 2 and one line that says where and how to mend."""
    path = tmp_path / "strange.txt"
    path.write_bytes(data)
    output = ["-o", tmp_path / "label.pdf"] if command == ["label"] else []
    assert words in complaint(run(*command, path, *output))
    assert [entry.name for entry in tmp_path.iterdir()] == ["strange.txt"]


@pytest.mark.parametrize(
    "command", [["lines"], ["foods"], ["allergens", "--lines"], ["allergens"], ["nutrition"], ["label"]]
)
def test_a_missing_file_gets_one_clear_line(tmp_path, command):
    """A file that is not there is named, with its nearest neighbour."""
    (tmp_path / "relish.md").write_text("1 egg\n", encoding="utf-8")
    output = ["-o", tmp_path / "label.pdf"] if command == ["label"] else []
    words = complaint(run(*command, tmp_path / "relsh.md", *output))
    assert "no such file" in words and "did you mean" in words


@pytest.mark.parametrize("row", ["3 blorps flour", "-2 cups flour", "0 cups flour", "9e99 cups flour", "½½½ /// 2--3"])
def test_strange_lines_are_problems_and_not_crashes(row):
    """An unknown unit, a negative, zero or absurd amount is answered, with a problem that says so."""
    (found,) = rows(run("lines", "-", "--json", stdin=row.encode()))
    assert found["text"] == row
    assert found["problems"] and all(problem["message"] for problem in found["problems"])


@pytest.mark.parametrize(
    "arguments",
    [[], ["nonsense"], ["lines"], ["foods"], ["allergens"], ["nutrition", "--frobnicate", "x"], ["label", "x.md"],
     ["allergens", "x.md", "--lines", "y.txt"], ["allergens", "x.md", "--market", "mars"]],
)  # fmt: skip
def test_bad_usage_is_one_line_and_status_2(arguments):
    """Wrong words on the command line: status 2; no words at all: the help."""
    done = run(*arguments)
    assert done.returncode == 2 and b"Traceback" not in done.stderr
    if arguments:
        complaint(done)


def test_help_names_every_command_and_option_in_the_readme():
    """A command that README does not name does not exist."""
    from labeler.cli import commands

    readme = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
    for name in commands.commands:
        assert f"`labeler {name} " in readme, name


def test_the_tables_are_for_people():
    """Without --json each command prints a table with the answer in it."""
    shown = run("nutrition", DEMO / "beetroot-relish.md").stdout.decode()
    assert "Energy" in shown and "per 100 g" in shown and "kept" in shown
    assert "Eggplant" in run("foods", "aubergine").stdout.decode()
    assert "haddock" in run("allergens", DEMO / "quay-pie.md").stdout.decode()
    assert "flour" in run("lines", "-", stdin=b"2 cups flour").stdout.decode()


def test_the_label_is_written_and_declared(tmp_path):
    """`label` writes a PDF, the same bytes twice, and --json says what stands on it."""
    first, second = tmp_path / "one.pdf", tmp_path / "two.pdf"
    assert run("label", DEMO / "beetroot-relish.md", "-o", first).returncode == 0
    declared = json.loads(run("label", DEMO / "beetroot-relish.md", "-o", second, "--json").stdout)
    assert first.read_bytes() == second.read_bytes()
    assert first.read_bytes().startswith(b"%PDF-")
    assert declared["title"] == "Beetroot and apple relish"


def test_a_label_that_does_not_fit_says_what_size_it_needs(tmp_path):
    """Too small a size is refused with the size that would hold it, and no file is left."""
    words = complaint(run("label", DEMO / "quay-pie.md", "--size", "50x30", "-o", tmp_path / "label.pdf"))
    assert "does not fit" in words and "needs" in words and not list(tmp_path.iterdir())
