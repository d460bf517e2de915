"""The command line: answers with status 0, one clear line with status 2, never a traceback."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

DEMO = Path(__file__).parents[2] / "demo"
RECIPES = sorted(DEMO.glob("*.md"))


def run(*arguments, stdin=b"", columns=100):
    """A whole `labeler` process, away from the developer's terminal and locale."""
    environment = os.environ | {"PYTHONIOENCODING": "ascii", "COLUMNS": str(columns)}
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
        "problems", "servings_stated", "weigh_next",
    }  # fmt: skip
    assert set(found) == keys
    wanted = "ENERC_KCAL PROCNT FAT FASAT FATRN CHOLE NA CHOCDF FIBTG SUGAR SUGAR_ADDED VITD CA FE K".split()
    for basis in ("per_serving", "per_100g", "batch"):
        assert set(wanted) <= set(found[basis])
        for figure in found[basis].values():
            assert figure["low"] <= figure["best"] <= figure["high"]
            assert figure["status"] in {"analysed", "calculated", "assumed zero", "imputed", "bounded", "missing"}
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
        ("1 cup flour".encode("utf-16"), "UTF-16"),
        (b"1 cup flour\n" * 1_700_000, "MB"),
        (b"1 cup " + b"x" * 1_000_000, "characters long"),
    ],
    ids=["empty", "binary", "latin-1", "UTF-16", "20 MB", "1 MB line"],
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
    from labeler.cli.main import commands

    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    for name in commands.commands:
        assert f"`labeler {name} " in readme, name


PRINTS_DATA = {
    "lines": ["-"], "foods": ["aubergine"], "allergens": [RECIPES[0]], "nutrition": [RECIPES[0]],
    "matrix": RECIPES, "requirements": [RECIPES[0]], "rules": [], "post": [RECIPES[0]],
}  # fmt: skip


@pytest.mark.parametrize("command", PRINTS_DATA)
def test_whatever_prints_data_writes_it_as_json_too(command):
    """Each such command takes --json and writes one object, or one a line."""
    done = run(command, *PRINTS_DATA[command], "--json", stdin=b"2 cups flour")
    assert done.returncode == 0, done.stderr.decode()
    text = done.stdout.decode()
    found = [json.loads(text)] if text.startswith("{\n") else [json.loads(line) for line in text.splitlines()]
    assert found and all(isinstance(item, dict) and item for item in found)


@pytest.mark.parametrize("command", PRINTS_DATA)
def test_no_answer_is_wider_than_a_narrow_terminal(command):
    """80 columns hold every answer for people; no figure is cut and no word is broken."""
    done = run(command, *PRINTS_DATA[command], stdin=b"2 cups flour", columns=80)
    text = done.stdout.decode()
    if command == "post":
        return  # text to paste: whoever shows it breaks its lines
    assert done.returncode == 0 and text
    wide = [line for line in text.splitlines() if len(line) > 80]
    assert not wide and "…\n" not in text
    if command == "nutrition":
        rows = [line for line in text.splitlines() if "[g]" in line or "[mg]" in line or "[kcal]" in line]
        assert len(rows) == 14 and all(line.split()[-1].isalpha() for line in rows)


def test_the_matrix_of_many_foods_is_a_list(tmp_path):
    """Ten foods do not stand side by side in 80 columns: each then has a row with the names of what it holds."""
    recipes = []
    for number in range(10):
        recipes.append(tmp_path / f"dish number {number}.md")
        recipes[-1].write_text("1 egg\n100 g plain flour\n", encoding="utf-8")
    text = run("matrix", *recipes, columns=80).stdout.decode()
    assert text.count("egg, wheat") == 10 and max(map(len, text.splitlines())) <= 80


def test_an_allergen_of_several_lines_is_said_once():
    """Milk of two lines of milk and two of butter is one row, with each reason once and all its lines."""
    text = run("allergens", DEMO / "quay-pie.md").stdout.decode()
    rows = [line.split()[1] for line in text.splitlines() if line.strip().startswith("contains ")]
    assert len(rows) == len(set(rows)) and "milk" in rows
    joined = " ".join(text.split())
    assert joined.count("21 CFR 131.110") == 1 and "60 g unsalted butter; 75 g unsalted butter" in joined


@pytest.mark.parametrize(
    ("arguments", "endings"),
    [
        (["label", "missing.md", "-o", "label.txt"], ".pdf"),
        (["label", "missing.md", "-o", "a.pdf", "--preview", "a.gif"], ".png or .svg"),
        (["matrix", "missing.md", "-o", "page.png"], ".pdf"),
        (["post", "missing.md", "-o", "post.pdf"], ".html or .htm"),
        (["post", "missing.md", "--form", "markdown", "-o", "post.html"], ".md or .markdown"),
        (["worksheet", "missing.md", "-o", "sheet.csv"], ".xlsx"),
        (["import", "missing.html", "-o", "recipe.pdf"], ".md or .txt"),
    ],
)
def test_a_wrong_ending_is_refused_before_any_work(arguments, endings):
    """The recipe is not even looked for; the line says which endings can be written."""
    assert f"is written as {endings}" in complaint(run(*arguments))


def test_a_post_is_in_the_form_that_its_file_ends_in(tmp_path):
    """A name that ends in .md makes Markdown without being asked."""
    assert run("post", RECIPES[0], "-o", tmp_path / "post.md").returncode == 0
    assert not (tmp_path / "post.md").read_text(encoding="utf-8").startswith("<")


@pytest.mark.parametrize("name", ["", "  "])
def test_an_empty_name_is_asked_for(name):
    """An empty food name and an empty file name each get a line of their own."""
    assert "food name is empty" in complaint(run("foods", name))
    for command in (["lines"], ["nutrition"], ["allergens", "--lines"]):
        assert "no file is named" in complaint(run(*command, name))


def test_a_recipe_beside_a_broken_larder_is_answered_and_the_larder_named(tmp_path):
    """Every command on a recipe goes on with status 0 and says, once, which larder line to mend."""
    (tmp_path / "larder.toml").write_text('[[food]]\nname = "a\n', encoding="utf-8")
    recipe = tmp_path / "dish.md"
    recipe.write_text("- 1 egg\n", encoding="utf-8")
    for command in (["nutrition"], ["allergens"], ["requirements"], ["matrix"], ["lines"], ["post"]):
        done = run(*command, recipe)
        said = " ".join((done.stdout + done.stderr).decode().split())
        assert done.returncode == 0 and said.count("[larder-unreadable]") == 1, command
        assert f"{tmp_path / 'larder.toml'}:2" in said.replace(" ", "") or "larder.toml:2" in said


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
