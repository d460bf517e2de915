"""Whole jobs in a real browser, each ending in a file that is compared with the command's own.

Skipped where no Chromium is installed (Debian: ``apt-get install chromium``).
"""

import io
import json
import re
import shutil
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path

import pypdfium2
import pytest
from openpyxl import load_workbook
from page_browser import DEMO, Shown

POST_PAGE = """<!doctype html><html><head><title>Blog</title><script type="application/ld+json">
{"@context": "https://schema.org", "@type": "Recipe", "name": "Seed crackers", "recipeYield": "24 crackers",
 "recipeIngredient": ["150 g rye flour", "2 tbsp sesame seeds", "40 ml olive oil", "1 tsp salt", "1 tsp cinammon"],
 "recipeInstructions": [{"@type": "HowToStep", "text": "Mix everything and bake at 180 °C for 20 minutes."}]}
</script></head><body><h1>Seed crackers</h1></body></html>"""
MARKDOWN_POST = """---
title: Peanut noodles
servings: 4
---
## Ingredients
- 300 g wheat noodles
- 100 g peanut butter
- 2 tbsp soy sauce
- 1 tbsp sesame oil
## Directions
1. Boil the noodles in water for 8 minutes, then drain.
2. Stir in everything else.
"""


@pytest.fixture
def shown(chromium, served):
    """A window on the page; a fault, a refused script or a request to elsewhere fails the test."""
    folder, address = served
    opened = []

    @contextmanager
    def closing(**options):
        window = Shown(chromium, folder, address, **options)
        opened.append(window)
        yield window

    window = Shown(chromium, folder, address)
    opened.append(window)
    window.another = closing
    yield window
    for one in opened:
        one.close()


def command(*arguments, folder):
    """What a command writes to standard output."""
    done = subprocess.run(
        [sys.executable, "-m", "labeler", *map(str, arguments)], capture_output=True, cwd=folder, check=False
    )
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout


def words_of(pdf):
    """The text of a PDF's first page."""
    return pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_bounded()


def test_a_page_is_pasted_mended_and_labelled(shown):
    """A web page is pasted, a slip is mended with one key, and the label is the command's own, byte by byte."""
    page = shown.open("/")
    page.fill("#pasted", POST_PAGE)
    page.click("text=Make a recipe of it")
    page.wait_for_selector(".note")
    assert "Seed crackers" in page.inner_text("#title")
    shown.cursor_on("cinammon")
    page.wait_for_selector("#panel-line .problems")
    page.keyboard.press("Control+.")
    shown.text_holds("cinnamon")
    shown.saved()
    path = shown.folder / "seed-crackers.md"
    shown.tab("label")
    data = shown.label()
    command("label", path, "-o", shown.folder / "own.pdf", folder=shown.folder)
    assert data == (shown.folder / "own.pdf").read_bytes()


def test_a_markdown_post_shows_its_allergens(shown):
    """A Markdown post is read as it stands, and its allergens are those of the command, each with its line."""
    (shown.folder / "noodles.md").write_text(MARKDOWN_POST, encoding="utf-8")
    page = shown.open("/recipe/noodles.md")
    shown.tab("allergens")
    page.wait_for_selector(".allergen")
    told = {one.split()[0].lower() for one in page.locator(".allergen h3").all_inner_texts()}
    answer = json.loads(command("allergens", "noodles.md", "--json", folder=shown.folder))
    assert told == {one["allergen"] for one in answer["contains"]} and {"peanut", "wheat"} <= told
    page.locator(".allergen >> text=line 6").first.click()
    assert "300 g wheat noodles" in page.inner_text("#panel-line .said")


def test_a_brined_roast_is_weighed_for_a_narrower_range(shown):
    """A line is weighed on the page; the range of what it brings is narrower, and the figures are the command's."""
    text = (DEMO / "harbour-box.md").read_text(encoding="utf-8").replace("1 teaspoon fine sea salt", "some sea salt")
    (shown.folder / "box.md").write_text(text, encoding="utf-8")
    page = shown.open("/recipe/box.md")
    shown.tab("plate")
    page.wait_for_selector("#panel-plate .values")
    before, told = shown.sodium_range(), page.inner_text("#panel-plate .values tr:has-text('Sodium') .span")
    page.click("text=Compare changes from here")
    shown.tab("line")
    shown.cursor_on("some sea salt")
    page.fill("#weighed", "6")
    page.click("#panel-line >> text=Write it in")
    shown.text_holds("some sea salt {6 g}")
    shown.saved()
    shown.tab("plate")
    page.wait_for_selector("#panel-plate .values th:has-text('Change')")
    row = "[...document.querySelectorAll('#panel-plate .values tr')].find((one) => /^Sodium/.test(one.innerText))"
    page.wait_for_function(f"before => {row}.querySelector('.span').innerText !== before", arg=told)
    after = shown.sodium_range()
    assert after[1] - after[0] < before[1] - before[0]
    sodium = json.loads(command("nutrition", "box.md", "--json", folder=shown.folder))["per_serving"]["NA"]
    assert after == pytest.approx((sodium["low"], sodium["high"]), rel=0.01)


def test_a_removal_is_said_to_be_kept(shown):
    """An arrow says what it carries; said to be kept, a sentence stands in the file, and the command reads it so."""
    (shown.folder / "belly.md").write_text(
        "---\ntitle: Belly\n---\n- 1 kg pork belly\n> roast 2 hours at 180 °C\n", "utf-8"
    )
    page = shown.open("/recipe/belly.md")
    shown.tab("method")
    page.locator("#panel-method text:has-text('drippings')").first.wait_for()
    page.locator("#panel-method .flow summary:has-text('as a list')").click()
    page.click("#panel-method .arrows button:has-text('drippings')")
    assert re.search(r"\d+ g.*sodium", page.inner_text("#panel-method .arrow"), re.DOTALL)
    page.click("#panel-method .arrow button:has-text('It was kept')")
    shown.text_holds("serve with the drippings")
    shown.saved()
    page.wait_for_function("() => !document.querySelector('#panel-method .gone')")
    streams = json.loads(command("method", "belly.md", "--json", folder=shown.folder))["streams"]
    assert not [one for one in streams if one["to"] == "leaves" and one["name"] == "drippings"]
    page.click("#undo")
    page.wait_for_selector("#panel-method .gone button")
    shown.saved()


def test_a_package_goes_into_the_larder_and_onto_the_label(shown):
    """What a package says is typed once, and the line that names it carries its ingredients onto the label."""
    (shown.folder / "dip.md").write_text(
        "---\ntitle: Crisp dip\nmakes: 4 tubs\nnet: 100 g\nmarket: uk\n---\n- 300 g yoghurt\n- 100 g chilli crisp\n",
        encoding="utf-8",
    )
    page = shown.open("/recipe/dip.md")
    shown.cursor_on("chilli crisp")
    page.click("text=It comes in a package")
    assert page.input_value("[name=name]") == "chilli crisp"
    page.fill("[name=ingredients]", "Rapeseed oil, dried chilli (24 %), fermented soybeans, salt")
    page.fill("[name=contains]", "soybeans")
    page.fill("[name=per]", "100 g")
    page.select_option("[name=rounded_under]", "uk")
    page.fill("[data-lines]:not([hidden]) [name='panel energy_kcal']", "600")
    page.fill("[data-lines]:not([hidden]) [name='panel fat']", "60 g")
    page.click("text=Put it into the larder")
    page.wait_for_url("**/recipe/dip.md")
    shown.tab("label")
    data = shown.label()
    assert "fermented soybeans" in " ".join(words_of(data).split())
    command("label", shown.folder / "dip.md", "-o", shown.folder / "dip.pdf", folder=shown.folder)
    assert data == (shown.folder / "dip.pdf").read_bytes()


@pytest.mark.parametrize(
    ("screen", "script", "field"),
    [
        ("/larder", "larder.js", "text=Put it into the larder"),
        ("/", "recipes.js", "#pasted"),
        ("/day/shore.md", "day.js", "text=Make the labels"),
        ("/stall", "stall.js", "#phone"),
        ("/batch", "batch.js", "#begin"),
    ],
)
def test_no_field_can_be_used_before_the_screen_listens(shown, screen, script, field):
    """What is typed before a screen's script has come would be lost, so its fields wait for it."""
    (shown.folder / "shore.md").write_text("# Shore dip\n- 300 g yoghurt\n", encoding="utf-8")
    held = []
    shown.page.route(f"**/static/{script}", lambda route: held.append(route))
    shown.page.goto(shown.address + screen, wait_until="commit")
    waiting = shown.page.locator(field)
    waiting.wait_for()
    assert waiting.is_disabled()
    for _ in range(200):
        if held:
            break
        shown.page.wait_for_timeout(50)
    held.pop().continue_()
    shown.page.wait_for_function("() => !document.querySelector('fieldset[data-waits]').disabled")
    assert waiting.is_enabled()


def test_a_package_that_was_read_is_ticked(shown):
    """What only a package can settle is ticked and typed beside the recipe, stands in the larder, and is settled."""
    (shown.folder / "cider.md").write_text(
        "---\ntitle: Cider pot\nmarket: uk\n---\n- 400 ml dry cider\n- 300 g leeks\n", encoding="utf-8"
    )
    page = shown.open("/recipe/cider.md")
    shown.tab("allergens")
    asked = page.locator("#panel-allergens .ticks form")
    asked.get_by_role("button", name="I have read it").click()
    page.wait_for_selector("#panel-allergens .ticks .notice")
    asked.get_by_label("sulphites").check()
    asked.get_by_label("Ingredients as printed").fill("apple juice, sugar, sulphites")
    asked.get_by_role("button", name="I have read it").click()
    page.wait_for_selector("#panel-allergens .allergen h3:has-text('sulphites')")
    assert asked.count() == 0
    answer = json.loads(command("allergens", "cider.md", "--json", folder=shown.folder))
    assert "sulphites" in {one["allergen"] for one in answer["contains"]} and not answer["read_the_package"]
    shown.tab("rules")
    page.wait_for_selector("#panel-rules .rules li")
    told = json.loads(command("requirements", "cider.md", "--json", folder=shown.folder))
    shown_names = page.locator("#panel-rules .rules summary strong").all_inner_texts()
    assert set(shown_names) == {one["what"] for one in told["requirements"]} or told["by_sale"]


def test_the_stall_is_shown_and_hung_up(shown):
    """The matrix over the folder shows what the command shows, and the page to hang up names every food."""
    page = shown.open("/stall")
    page.wait_for_selector(".matrix")
    pie = page.locator(".matrix tr:has-text('Quay pie')").inner_text()
    assert pie.count("yes") >= 5
    answer = json.loads(command("matrix", "quay-pie.md", "--market", "uk", "--json", folder=shown.folder))
    assert len(answer["foods"][0]["contains"]) == pie.count("yes")
    assert "Quay pie" in words_of(shown.download("#hang"))


def test_a_sheet_of_labels(shown):
    """Twenty-four labels on sheets with cutting marks are the command's, byte by byte."""
    page = shown.open("/recipe/beetroot-relish.md")
    shown.tab("label")
    page.select_option("#label-form [name=size]", "jar")
    page.click("text=Sheets of labels")
    page.fill("#label-form [name=sheet]", "4x2")
    page.fill("#label-form [name=copies]", "24")
    page.check("#label-form [name=crop_marks]")
    data = shown.label()
    assert "24 on sheets" in page.inner_text("#label-summary")
    arguments = ("--size", "jar", "--sheet", "4x2", "--copies", "24", "--crop-marks", "--gauge")
    path = shown.folder / "beetroot-relish.md"
    command("label", path, *arguments, "-o", shown.folder / "sheet.pdf", folder=shown.folder)
    assert data == (shown.folder / "sheet.pdf").read_bytes() and len(pypdfium2.PdfDocument(data)) == 3


def test_the_post_is_copied_as_the_command_writes_it(shown):
    """The post's HTML is what the command writes, is shown without running, and Markdown comes too."""
    page = shown.open("/recipe/quay-pie.md")
    shown.tab("post")
    page.wait_for_function("() => document.querySelector('#post-text').value.includes('labeler-post')")
    written = command("post", "quay-pie.md", folder=shown.folder).decode()
    assert page.input_value("#post-text") == written
    assert page.frame_locator("#post-shown").locator("h2").first.inner_text() == "Quay pie"
    page.click("#post-copy")
    page.wait_for_selector("#told >> text=clipboard")
    page.select_option("#post-form [name=form]", "markdown")
    page.wait_for_function("() => !document.querySelector('#post-text').value.includes('<section')")
    assert (
        page.input_value("#post-text")
        == command("post", "quay-pie.md", "--form", "markdown", folder=shown.folder).decode()
    )


def test_a_recipe_with_errors_is_led_to_its_end(shown):
    """A head that cannot be read is said at once; mended, the lines are there, and the worksheet is the command's."""
    (shown.folder / "soup.md").write_text(
        "---\ntitle: Leek soup\nmarket: mars\n---\n- 2 leeks\n- zzqx\n", encoding="utf-8"
    )
    page = shown.open("/recipe/soup.md")
    page.wait_for_selector("#refused:not([hidden])")
    assert "mars" in page.inner_text("#refused") and str(shown.folder) not in page.inner_text("#refused")
    page.select_option("#market", "us")
    page.wait_for_selector(".note")
    assert page.locator("#refused").is_hidden()
    page.click(".cm-content")
    page.keyboard.press("Control+Home")
    page.keyboard.press("Alt+ArrowDown")
    page.wait_for_selector("#panel-line .said:has-text('zzqx')")
    page.fill("#food-query", "butter")
    page.click("text=Search")
    page.click("#found-foods tbody button >> nth=0")
    shown.text_holds("zzqx {food ")
    shown.saved()
    shown.tab("label")
    with page.expect_download() as waiting:
        page.click("#worksheet")
    own = shown.folder / "soup.xlsx"
    command("worksheet", shown.folder / "soup.md", "-o", own, folder=shown.folder)
    ours, theirs = (load_workbook(io.BytesIO(Path(one).read_bytes())) for one in (waiting.value.path(), own))
    assert ours.sheetnames == theirs.sheetnames
    for name in ours.sheetnames:
        assert list(ours[name].values) == list(theirs[name].values)


def test_the_job_on_a_phone(shown):
    """At 360 px a recipe is begun, typed, looked at and labelled by taps alone; nothing is wider than the screen."""
    with shown.another(width=360, height=740, touch=True) as phone:
        page = phone.open("/")
        page.fill("#title", "Lemon biscuits")
        page.tap("button:has-text('Begin')")
        page.wait_for_selector(".cm-content")
        phone.type_text(
            "---\ntitle: Lemon biscuits\nmakes: 20 biscuits\nmarket: uk\n---\n"
            "- 200 g flour\n- 100 g butter\n- 1 lemon\n"
        )
        page.wait_for_selector(".note")
        phone.fits()
        page.locator(".note").nth(1).tap()
        page.wait_for_selector("#panel-line .said:has-text('100 g butter')")
        for tab in ("plate", "allergens", "method", "rules", "post", "label"):
            page.tap(f"#tab-{tab}")
            page.wait_for_selector(f"#panel-{tab}:not([hidden])")
            phone.fits()
        phone.saved()
        data = phone.label()
        command("label", phone.folder / "lemon-biscuits.md", "-o", phone.folder / "b.pdf", folder=phone.folder)
        assert data == (phone.folder / "b.pdf").read_bytes()


def test_the_job_by_the_keyboard_alone(shown):
    """Without a pointer: to the recipe, a food chosen, a line weighed, the panels looked at, the label fetched."""
    page = shown.open("/")
    shown.press_until("Tab", "a.title", "Beetroot")
    page.keyboard.press("Enter")
    page.wait_for_selector(".note")
    shown.press_until("Tab", ".cm-content")
    page.keyboard.press("Control+Home")
    for _ in range(40):
        if "cooked beetroot" in page.inner_text("#panel-line"):
            break
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Control+Enter")
    page.keyboard.type("905")
    page.keyboard.press("Enter")
    shown.text_holds("{905 g}")
    page.keyboard.press("Escape")
    for tab in ("plate", "allergens", "method", "rules", "label"):
        page.keyboard.press("ArrowRight")
        page.wait_for_selector(f"#tab-{tab}[aria-selected=true]")
    shown.saved()
    shown.press_until("Tab", "#label-pdf[href]")
    with page.expect_download() as waiting:
        page.keyboard.press("Enter")
    path = shown.folder / "beetroot-relish.md"
    command("label", path, "-o", shown.folder / "k.pdf", folder=shown.folder)
    assert Path(waiting.value.path()).read_bytes() == (shown.folder / "k.pdf").read_bytes()
    shutil.copy(DEMO / "beetroot-relish.md", path)


def test_todays_batch_to_a_printed_sheet_and_its_log(shown):
    """Packs made and weight got become a sheet of labels and a line of the log, by which the lot is found again."""
    page = shown.open("/day/beetroot-relish.md")
    page.wait_for_selector("#scaled tbody tr")
    page.fill("[name=packs]", "6")
    page.fill("[name=grams]", "1300")
    page.fill("[name=made]", "2026-11-28")
    page.fill("[name=keeps]", "28")
    assert page.input_value("[name=best_before]") == "2026-12-26" and page.input_value("[name=lot]") == "BR-1128"
    page.fill("[name=size]", "70x50")
    page.click("#day-preview")
    page.click("button:has-text('Make it') >> nth=1")
    page.wait_for_selector("#day-picture:not([hidden])")
    page.fill("[name=start]", "3")
    page.click("text=Make the labels and log the batch")
    page.wait_for_selector("#day-pdf")
    entry = json.loads((shown.folder / "printed" / "log.jsonl").read_text(encoding="utf-8"))
    (shown.folder / "today.md").write_text(entry["text"], encoding="utf-8")
    arguments = ("--size", entry["wish"]["size"], "--sheet", "4x2", "--copies", "6", "--start", "3", "--gauge")
    command("label", shown.folder / "today.md", *arguments, "-o", shown.folder / "t.pdf", folder=shown.folder)
    printed, own = (shown.folder / "printed" / entry["pdf"]), (shown.folder / "t.pdf")
    assert words_of(printed.read_bytes()) == words_of(own.read_bytes())
    (shown.folder / "today.md").unlink()
    page.click("text=What went into it")
    assert "1300 g in all" in page.inner_text("main") and "900 g cooked beetroot" in page.inner_text("pre")
    page.goto(shown.address + "/day/beetroot-relish.md")
    page.wait_for_selector("#scaled tbody tr")
    page.fill("#scale-to", "24")
    assert "3.09 kg" in page.inner_text("#scaled tr:has-text('cooked beetroot')")


def test_the_stalls_file_is_opened_offline(shown, tmp_path):
    """The stall's allergens are one file that shows everything on a phone without any network."""
    shown.open("/stall").wait_for_selector(".matrix")
    data = shown.download("#phone")
    (tmp_path / "allergens.html").write_bytes(data)
    with shown.another(width=360, height=740, offline=True) as phone:
        page = phone.page
        page.goto((tmp_path / "allergens.html").as_uri())
        text = page.inner_text("main")
        answer = json.loads(command("allergens", "quay-pie.md", "--json", folder=shown.folder))
        assert "Quay pie" in text and all(re.search(one["allergen"][:5], text) for one in answer["contains"])
        phone.fits()
        phone.axe()
