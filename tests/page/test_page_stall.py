"""Larder, stall, lots and batch over the page: what is written is what the commands read, and nothing is lost."""

import io
import json
import re
import time
from pathlib import Path
from urllib.parse import quote

import pypdfium2
import pytest
from openpyxl import load_workbook
from page_help import RECIPE, Asked

from labeler.label.make import make_label, read_sheet
from labeler.larder.file import read_larder
from labeler.page.edits import changes, lot_of, with_count, with_head, with_weight
from labeler.page.gauge import gauge_page
from labeler.parsing import read_recipe

DEMO = Path(__file__).parents[2] / "demo"
FOOD = {
    "name": "Copper Pan chilli crisp",
    "other_names": "chilli crisp",
    "per": "100 g",
    "rounded_under": "uk",
    "panel": {"energy_kcal": "600", "fat": "60 g", "salt": "2.1 g", "sugars": ""},
    "ingredients": "Rapeseed oil, dried chilli (24 %), fermented soybeans, salt",
    "contains": "soybeans",
    "read_on": "2026-03-02",
}


@pytest.fixture
def page(tmp_path):
    (tmp_path / "oats.md").write_text(RECIPE + "- 20 g chilli crisp\n", encoding="utf-8")
    made = Asked(tmp_path)
    yield made
    made.close()


def put(page, food, replaces="", base=""):
    return page.ask("/api/larder", {"food": food, "replaces": replaces, "base": base})


def test_a_package_is_added_and_changed(page, tmp_path):
    """What the form says stands in the larder file as the program reads it; a remark of the cook's stays."""
    first = put(page, FOOD)
    assert first.status_code == 200, first.json()
    path = tmp_path / "larder.toml"
    path.write_text("# mine\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    shown = page.get("/larder").text
    base = re.search(r'data-digest="(\w+)"', shown)[1]
    second = put(page, FOOD | {"name": "Salt flakes", "panel": {}, "other_names": ""}, base=base)
    third = put(page, FOOD | {"net": "210 g"}, "larder:copper-pan-chilli-crisp", second.json()["digest"])
    assert third.status_code == 200, third.json()
    foods = read_larder(str(path))
    assert [food.name for food in foods] == ["Copper Pan chilli crisp", "Salt flakes"]
    assert foods[0].net == "210 g" and foods[0].panel == {"energy_kcal": "600", "fat": "60 g", "salt": "2.1 g"}
    assert path.read_text(encoding="utf-8").startswith("# mine\n")


def test_what_no_package_says_is_refused(page, tmp_path):
    """A figure that is none, a name that is taken and a larder that was changed meanwhile are said, and not written."""
    assert "figure" in put(page, FOOD | {"panel": {"fat": "lots"}}).json()["said"]
    digest = put(page, FOOD).json()["digest"]
    assert "already" in put(page, FOOD, base=digest).json()["said"]
    assert put(page, FOOD | {"name": "Another"}, base="0" * 64).status_code == 409
    assert len(read_larder(str(tmp_path / "larder.toml"))) == 1


def test_a_package_reaches_the_lines(page):
    """A line that names a package takes its food, and its allergens and figures with it."""
    put(page, FOOD)
    text = (RECIPE + "- 20 g chilli crisp\n").replace("market: uk", "market: us")
    rows = page.ask("/api/read", {"name": "oats.md", "text": text}).json()["rows"]
    assert rows[-1]["food"]["id"] == "larder:copper-pan-chilli-crisp"
    found = page.ask("/api/allergens", {"name": "oats.md", "text": text}).json()
    assert "soybean" in {one["allergen"] for one in found["contains"]}


@pytest.mark.parametrize("title", ["=1+1", "@SUM(A1)", "<script>alert(1)</script>", "A & B “C”", "a: b # c", "'\"\\"])
def test_any_title_becomes_a_recipe(page, title):
    """A new recipe of any title is made, can be read, and carries the title as text."""
    name = page.ask("/api/new", {"title": title}).json()["name"]
    text = page.get(f"/api/text?name={name}").json()["text"]
    assert read_recipe(text + "- 1 egg\n").title
    assert page.get(f"/recipe/{name}").status_code == 200 and page.get(f"/day/{name}").status_code == 200


def test_the_stall_and_its_file_for_a_phone(tmp_path):
    """The file for a phone holds every food with its allergens, no script, and no address to fetch from."""
    for path in DEMO.glob("*.md"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    (tmp_path / "broken.md").write_text("nothing", encoding="utf-8")
    (tmp_path / "odd.md").write_text("# <img src=x onerror=alert(1)>\n- 1 cup milk\n", encoding="utf-8")
    page = Asked(tmp_path)
    try:
        made = page.ask("/api/phone", {"market": "uk"}).json()
        text = page.get(made["file"]).text
        assert "Quay pie" in text and "haddock" in text and "mustard" in text and "<img" not in text
        assert not re.search(r"<script|https?://|src=(?!x)|<link|@import|url\(", text)
        sheet = page.ask("/api/matrix-sheet", {"market": "uk"}).json()
        assert page.get(sheet["file"]).content.startswith(b"%PDF-")
    finally:
        page.close()


def test_a_batch_is_logged_and_found_again(tmp_path):
    """Today's label is kept as printed, its line says recipe, packages and lot, and what changed since is shown."""
    (tmp_path / "relish.md").write_bytes((DEMO / "beetroot-relish.md").read_bytes())
    page = Asked(tmp_path)
    batch = {
        "name": "relish.md",
        "packs": "8",
        "grams": "1400",
        "made": "2026-11-28",
        "best_before": "2026-12-19",
        "lot": "BR-1128",
        "wish": {"size": "a6", "layout": "card", "sheet": "1x1", "copies": "8"},
    }
    try:
        made = page.ask("/api/day-print", batch).json()
        assert made["lot"] == "BR-1128", made
        entry = json.loads((tmp_path / "printed" / "log.jsonl").read_text(encoding="utf-8"))
        assert "makes: 8 jars" in entry["text"] and "> weighs 1400 g" in entry["text"] and entry["packs"] == 8
        pdf = pypdfium2.PdfDocument((tmp_path / "printed" / entry["pdf"]).read_bytes())
        words = pdf[0].get_textpage().get_text_bounded()
        assert "BR-1128" in words and "19 December 2026" in words and len(pdf) == 8
        assert page.get(made["pdf"]).content == (tmp_path / "printed" / entry["pdf"]).read_bytes()
        path = tmp_path / "relish.md"
        path.write_text(path.read_text(encoding="utf-8").replace("900 g", "950 g"), encoding="utf-8")
        lot = page.get("/lots/BR-1128").text
        assert "2 rows" in lot and "950 g cooked beetroot" in lot
        again = page.ask("/api/day-print", batch).json()
        assert again["file"] != made["file"]
        assert page.get("/printed/..%2Frelish.md").status_code == 404
        refused = page.ask("/api/day-print", batch | {"lot": " "}).json()["said"]
        assert "lot" in refused
    finally:
        page.close()


def test_a_batch_that_cannot_weigh_so_much_is_said(page):
    """A weight or a number that is none is refused in words."""
    for wrong in ({"packs": "many"}, {"grams": "-1"}, {"made": "yesterday"}):
        answer = page.ask("/api/day", {"name": "oats.md", "lot": "A-1"} | wrong)
        assert answer.status_code == 400 and answer.json()["said"]


@pytest.mark.parametrize("said", ["<img src=x onerror=alert(1)>", '=HYPERLINK("http://a.example")', "{{ 7 * 7 }}"])
def test_what_is_typed_into_any_field_is_text(tmp_path, said):
    """Markup, a formula or a template in a package, a lot or a step is text on screen, phone and in the workbook."""
    (tmp_path / "oats.md").write_text(RECIPE + "- 400 ml dry cider\n", encoding="utf-8")
    page = Asked(tmp_path)
    try:
        assert (
            page.ask("/api/package", {"food": "dry cider", "contains": [said], "ingredients": said}).status_code == 200
        )
        assert put(page, FOOD | {"name": said, "ingredients": said, "contains": said}, base="").status_code == 409
        digest = re.search(r'data-digest="(\w+)"', page.get("/larder").text)[1]
        put(page, FOOD | {"name": said, "ingredients": said, "contains": said, "other_names": said}, base=digest)
        wish = {"size": "148x210", "anyway": True}
        batch = {"name": "oats.md", "packs": "1", "lot": said, "made": "2026-11-28", "best_before": "", "wish": wish}
        made = page.ask("/api/day-print", batch).json()
        assert "file" in made, made
        phone = page.get(page.ask("/api/phone", {"market": "uk"}).json()["file"]).text
        texts = [page.get(path).text for path in ("/larder", "/lots", f"/lots/{quote(made['lot'], safe='')}")]
        for text in (*texts, phone):
            assert "<img src=x" not in text and " 49" not in text
        assert "/" not in made["file"] and (tmp_path / "printed" / made["file"]).is_file()
        text = (tmp_path / "oats.md").read_text(encoding="utf-8")
        sheet = page.ask("/api/worksheet", {"name": "oats.md", "text": f"{text}> mix {said}\n", "market": "uk"}).json()
        book = load_workbook(io.BytesIO(page.get(sheet["file"]).content))
        formulas = [cell.value for one in book for row in one.iter_rows() for cell in row if cell.data_type == "f"]
        assert not [one for one in formulas if "HYPERLINK" in one]
    finally:
        page.close()


def test_the_whole_folder_is_done_and_gone_on_with(tmp_path):
    """The batch runs beside the page, says how far it is, and does not do again what is done."""
    (tmp_path / "oats.md").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "broken.md").write_text("---\nmarket: mars\n---\n- 1 egg\n", encoding="utf-8")
    page = Asked(tmp_path)
    for expected in ({"done": 1, "refused": 1}, {"done before": 2}):
        page.ask("/api/batch", {})
        for _ in range(600):
            now = page.get("/api/batch-state").json()
            if now["state"] != "under way":
                break
            time.sleep(0.1)
        assert (now["state"], now["outcomes"]) == ("finished", expected)
    assert "Oat biscuits" in page.get("/batch/recipes.csv").text


def test_edits_of_a_text():
    """A head gets its key, a count its number, a last part its weight; rows that differ are named."""
    text = "---\ntitle: A\nlot: B-1\n---\n## One\n- 1 egg\n> weighs 50 g\n## Two\n- all of the One\n"
    assert "lot: C-2\n" in with_head(text, "lot", "C-2") and with_head("- 1 egg", "lot", "C").startswith("---\nlot: C")
    assert read_recipe(with_head(text, "storage", "cold: at 5 #1")).head["storage"] == "cold: at 5 #1"
    assert with_count("7 jars", 9) == "9 jars" and with_count("", 9) == "9 packs"
    assert with_weight(text, 99.5).endswith("- all of the One\n> weighs 99.5 g\n")
    assert "> weighs 60 g\n## Two" not in with_weight(text, 60)
    assert changes("a\nb\n", "a\nc\n") == ["- b", "+ c"]
    assert lot_of("Beetroot and apple relish", "2026-11-03") == "BR-1103"


def test_every_sheet_has_a_gauge_where_there_is_room():
    """A line of 50 mm stands beside the labels of each sheet, clear of them and of the paper's edge."""
    recipe = read_recipe((DEMO / "beetroot-relish.md").read_text(encoding="utf-8"))
    for sheet, size, room in (("4x2", "100x70", True), ("4x2", "100x74", False)):
        wish = read_sheet(sheet=sheet, copies=9, gauge=True)
        for page in pypdfium2.PdfDocument(make_label(recipe, size=size, sheet=wish).pdf):
            words = page.get_textpage().get_text_bounded()
            assert ("50 mm when printed" in words) is room


def test_the_gauge_is_fifty_millimetres():
    """The test page holds a line that is 50 mm long, from 0 to 50 by its own numbers."""
    page = pypdfium2.PdfDocument(gauge_page())[0]
    text = page.get_textpage()
    assert "100 %" in text.get_text_bounded()
    longest = max(
        (box[2] - box[0] for box in (one.get_bounds() for one in page.get_objects()) if box[3] - box[1] < 2), default=0
    )
    assert longest / 72 * 25.4 == pytest.approx(50, abs=0.5)
