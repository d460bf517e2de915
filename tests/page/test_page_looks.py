"""Every screen in every light: nothing is wider than the screen, axe has no complaint, and it is quick.

Skipped where no Chromium is installed (Debian: ``apt-get install chromium``).
"""

import re

import pytest
from page_browser import Shown, serving
from page_speed import LINES

VIEWS = [(360, "dark"), (768, "light"), (1440, "dark"), (2560, "light")]
DOUBTS = (
    "---\ntitle: Doubts\nmakes: 4 tubs\nmrket: uk\n---\n- 2 cups flower\n- zzqx\n- 1 tsp cinammon\n> do something odd\n"
)


@pytest.fixture(scope="module", autouse=True)
def files(served):
    """What the folder holds beside the demo's recipes."""
    folder, _ = served
    (folder / "doubts.md").write_text(DOUBTS, encoding="utf-8")
    (folder / "thirty.md").write_text(LINES, encoding="utf-8")
    (folder / "saved page.html").write_text("<html></html>", encoding="utf-8")
    (folder / "larder.toml").write_text('[[food]]\nname = "Chilli crisp"\n', encoding="utf-8")


@pytest.fixture
def window(chromium, served):
    """Opens windows on the page; each is closed, and was without a fault."""
    opened = []

    def open_window(**options):
        opened.append(Shown(chromium, *served, **options))
        return opened[-1]

    yield open_window
    for one in opened:
        one.close()


@pytest.mark.parametrize(("width", "scheme"), VIEWS)
def test_every_screen_fits_and_can_be_used_by_all(window, width, scheme):
    """At each width, light and dark, no screen is wider than its window, and axe finds no violation in any state."""
    shown = window(width=width, scheme=scheme)
    page = shown.page
    for path, ready in [
        ("/", "#recipes .state span"),
        ("/stall", ".matrix"),
        ("/larder", "#foods"),
        ("/lots", "main h1"),
        ("/batch", "#begin:enabled"),
        ("/day/quay-pie.md", "#scaled tbody tr"),
        ("/recipe/nowhere.md", "main h1"),
        ("/recipe/doubts.md", ".wave"),
    ]:
        shown.open(path)
        page.wait_for_selector(ready, state="attached")
        shown.fits()
        shown.axe()
    page.locator(".note").first.click()
    page.wait_for_selector("#panel-line .problems")
    page.click("#panel-line form[role=search] button")
    page.wait_for_selector("#found-foods table")
    shown.fits()
    shown.axe()


@pytest.mark.parametrize(("width", "scheme"), [(360, "light"), (1440, "dark")])
def test_every_panel_fits_and_can_be_used_by_all(window, width, scheme):
    """The plate with its advice, allergens, the method, label and post: none is too wide, and axe finds nothing."""
    shown = window(width=width, scheme=scheme)
    page = shown.open("/recipe/quay-pie.md")
    for tab, ready in [
        ("plate", ".advice li"),
        ("allergens", ".allergen"),
        ("method", "#panel-method svg"),
        ("rules", "#panel-rules .rules"),
        ("label", "#label-picture:not([hidden])"),
        ("post", "#post-file:not([hidden])"),
    ]:
        shown.tab(tab)
        page.wait_for_selector(ready, state="attached")
        shown.fits()
        shown.axe()


def test_large_text_and_reduced_motion(window):
    """With text twice as large nothing is cut off or wider than the screen, and nothing moves for who asks for that."""
    shown = window(width=720)
    page = shown.page
    page.emulate_media(reduced_motion="reduce")
    for path in ("/", "/recipe/quay-pie.md", "/day/quay-pie.md", "/larder"):
        shown.open(path)
        page.add_style_tag(url="/static/base.css")
        page.evaluate("() => { document.documentElement.style.fontSize = '200%' }")
        page.wait_for_timeout(200)
        shown.fits()
    assert page.evaluate("() => getComputedStyle(document.querySelector('button')).transitionDuration") == "0s"


def test_what_is_typed_is_answered(window):
    """In a recipe of 30 lines the food and grams of a line follow what is typed; the figures are not waited for."""
    shown = window()
    page = shown.open("/recipe/thirty.md")
    page.wait_for_selector(".note")
    page.click(".cm-line:has-text('carrots')")
    page.keyboard.press("End")
    page.keyboard.type(" {777 g}")
    page.wait_for_selector(".cm-activeLine .weight:has-text('777 g')")
    assert page.evaluate("() => performance.getEntriesByName('labeler answer').length") >= 1


def test_a_click_means_what_it_was_aimed_at(window, served):
    """A row that is scrolled to and clicked at once is the row meant, and new content waits for a click on the old."""
    folder, _ = served
    rows = "".join(
        f"## Part {part}\n- {part}1 g flour\n- {part}2 g butter\n- {part}3 g sugar\n" for part in range(1, 13)
    )
    (folder / "long.md").write_text(f"---\ntitle: Long\n---\n{rows}", encoding="utf-8")
    shown = window()
    page = shown.open("/recipe/long.md")
    page.wait_for_selector(".note")
    page.locator(".cm-line:has-text('112 g butter')").click(position={"x": 40, "y": 10})
    page.wait_for_selector("#panel-line .said:has-text('112 g butter')")
    page.evaluate("""async () => {
      const { fill, h } = await import("/static/dom.js");
      const place = document.body.appendChild(h("div", { id: "tried" }));
      Object.assign(place.style, { position: "fixed", inset: "0", zIndex: "99" });
      const button = (word) => h("button", { type: "button", click: () => { window.hit = word; } }, word);
      window.again = () => fill(place, button("new"));
      fill(place, button("old"));
    }""")
    page.locator("#tried button").hover()
    page.mouse.down()
    page.evaluate("() => window.again()")
    page.mouse.up()
    page.wait_for_selector("#tried >> text=new")
    assert page.evaluate("() => window.hit") == "old"


def test_it_is_light_and_stands_still(window):
    """A recipe's first sight takes at most 600 kB, and nothing that is there moves while the rest comes."""
    shown = window()
    page = shown.page
    sizes = []
    page.on("requestfinished", lambda one: sizes.append(one.sizes()["responseBodySize"]))
    page.add_init_script(
        "window.shift = 0; new PerformanceObserver((list) => { for (const one of list.getEntries())"
        " if (!one.hadRecentInput) window.shift += one.value; }).observe({type: 'layout-shift', buffered: true});"
    )
    shown.open("/recipe/quay-pie.md")
    page.wait_for_selector(".note")
    page.wait_for_selector("[data-count=allergens]:not([hidden])")
    page.wait_for_timeout(300)
    assert sum(sizes) <= 600_000
    assert page.evaluate("() => window.shift") < 0.02


def test_two_windows_never_overwrite_each_other(window, served):
    """What one window saved is not overwritten by another: it is told, and can keep its text as a copy."""
    folder, _ = served
    (folder / "two.md").write_text("---\ntitle: Two\n---\n- 100 g flour\n", encoding="utf-8")
    one, other = window(), window()
    for shown in (one, other):
        shown.open("/recipe/two.md").wait_for_selector(".note")
    one.type_text("---\ntitle: Two\n---\n- 200 g flour\n")
    one.saved()
    other.page.locator(".cm-line").last.click()
    other.type_text("---\ntitle: Two\n---\n- 300 g flour\n")
    other.page.wait_for_selector("#conflict:not([hidden])")
    assert "200 g flour" in (folder / "two.md").read_text(encoding="utf-8")
    asked = []
    other.page.on("dialog", lambda one: (asked.append(one.type), one.accept()))
    other.page.click("text=Keep mine as a copy")
    other.page.wait_for_url("**/recipe/two-my-copy*.md")
    other.page.wait_for_selector(".note")
    kept = other.page.evaluate("() => Object.keys(localStorage)")
    assert not asked and not [key for key in kept if "two" in key]
    copies = [path for path in folder.glob("two-my-copy*.md") if "300 g flour" in path.read_text(encoding="utf-8")]
    assert len(copies) == 1 and "200 g flour" in (folder / "two.md").read_text(encoding="utf-8")


def test_a_killed_server_loses_nothing_that_was_typed(chromium, tmp_path):
    """What is typed while the server is gone is kept in the browser and stands there again with the next start."""
    folder = tmp_path / "stall"
    folder.mkdir()
    (folder / "a.md").write_text("- 100 g flour\n", encoding="utf-8")
    with serving(folder) as address:
        shown = Shown(chromium, folder, address)
        shown.open("/recipe/a.md").wait_for_selector(".note")
        port = re.search(r":(\d+)", address)[1]
    shown.type_text("- 100 g flour\n- 2 eggs\n")
    shown.page.wait_for_selector("#told.hurt")
    assert (folder / "a.md").read_text(encoding="utf-8") == "- 100 g flour\n"
    shown.faults.clear()
    with serving(folder, port=port) as address:
        shown.page.on("dialog", lambda one: one.accept())
        shown.page.goto(address)
        shown.open("/recipe/a.md")
        shown.text_holds("2 eggs")
        shown.saved()
        assert (folder / "a.md").read_text(encoding="utf-8") == "- 100 g flour\n- 2 eggs\n"
        shown.faults.clear()
        shown.close()


@pytest.mark.parametrize(
    "title", ["<img src=x onerror='window.struck=1'>", "</textarea><script>window.struck=1</script>"]
)
def test_nothing_that_a_recipe_says_runs(window, served, title):
    """Markup in a title, a line, a head or a food's name is seen as text in every panel, and nothing of it runs."""
    folder, _ = served
    text = f"# {title}\n## {title}\n- 100 g flour {title}\n- {title}\n> mix {title}\n"
    (folder / "odd.md").write_text(text, encoding="utf-8")
    shown = window()
    page = shown.open("/recipe/odd.md")
    page.wait_for_selector(".note")
    for tab in ("plate", "allergens", "method", "line"):
        shown.tab(tab)
        page.wait_for_timeout(150)
    shown.open("/").wait_for_selector("#recipes")
    assert page.evaluate("() => window.struck") is None
    assert page.evaluate("() => document.querySelectorAll('main img').length") == 0
    (folder / "odd.md").unlink()
