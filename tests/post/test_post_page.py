"""The post's fragment opened in a browser, narrow and wide, light and dark: it fits, it can be read, nothing runs.

Skipped where no Chromium is installed (Debian: ``apt-get install chromium``).
"""

import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from post_reading import HOSTILE, sample

from labeler import read_recipe
from labeler.label.content import Run
from labeler.label.words import LANGUAGES
from labeler.post.builder import post_content
from labeler.post.escaping import for_text
from labeler.post.forms import render

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
DEMO = Path(__file__).parents[2] / "demo"
VIEWS = [(width, scheme) for width in (360, 1200) for scheme in ("light", "dark")]

# The page of a blog: its own headings, its own colours for both schemes, and a style sheet that is in the way.
PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>A post</title>
<style>
:root { color-scheme: light dark }
body { margin: 12px; font: 17px/1.6 sans-serif }
td, th { border: 1px solid #888; background: #eee; text-align: center; padding: 12px }
h2, h3 { color: #888 }
</style>
</head>
<body><main><h1>A page of a blog</h1><p>What is said before.</p>
FRAGMENT
<p>What is said after.</p></main></body>
</html>"""

# Every element that is wider than its own box or that reaches out of the post.
OVERFLOW = """() => {
  const post = document.querySelector('.labeler-post'), edge = post.getBoundingClientRect();
  const out = [];
  if (document.documentElement.scrollWidth > innerWidth) out.push('the page');
  for (const one of post.querySelectorAll('*')) {
    const box = one.getBoundingClientRect();
    if (box.width && (box.right > edge.right + 0.5 || box.left < edge.left - 0.5)) out.push(one.outerHTML.slice(0, 80));
    if (one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display === 'block')
      out.push('inside ' + one.outerHTML.slice(0, 80));
  }
  return out;
}"""

# WCAG 2.2, relative luminance and contrast ratio, of every text against the nearest ground that is painted.
CONTRAST = """() => {
  const parts = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const light = (colour) => {
    const [r, g, b] = parts(colour).slice(0, 3).map((v) => v / 255)
      .map((v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = (one) => {
    for (; one; one = one.parentElement) {
      const colour = getComputedStyle(one).backgroundColor, [, , , alpha] = parts(colour);
      if (alpha === undefined || alpha === 1) return colour;
    }
    return 'rgb(255, 255, 255)';
  };
  const found = [];
  const walk = document.createTreeWalker(document.querySelector('.labeler-post'), NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const one = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || one.tagName === 'SCRIPT') continue;
    const [a, b] = [light(getComputedStyle(one).color), light(ground(one))].sort((x, y) => y - x);
    found.push({text: walk.currentNode.data.trim().slice(0, 40), ratio: (a + 0.05) / (b + 0.05)});
  }
  return found;
}"""


@pytest.fixture(scope="module")
def browser():
    """Chromium without a window, driven by Playwright; it fetches nothing."""
    api = pytest.importorskip("playwright.sync_api")
    with api.sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield started
        started.close()


@pytest.fixture
def opened(browser):
    """Opens a fragment in a page of a width and a colour scheme; fails on a request, an error or a dialogue."""
    contexts = []
    faults = []

    def open_page(fragment, width, scheme):
        context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme)
        contexts.append(context)
        page = context.new_page()
        page.on("request", lambda request: faults.append(request.url))
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("dialog", lambda dialog: (faults.append(dialog.message), dialog.dismiss()))
        page.set_content(PAGE.replace("FRAGMENT", fragment))
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert faults == []


@cache
def post(name, market, language):
    path = DEMO / f"{name}.md"
    made = read_recipe(path.read_text(encoding="utf-8"), source=str(path))
    return post_content(made, market=market, language=language)


POSTS = {
    "the pie, en, uk": lambda: render(post("quay-pie", "uk", "en"), whole=True),
    "the pie, de, us": lambda: render(post("quay-pie", "us", "de")),
    "the relish, es, codex": lambda: render(post("beetroot-relish", "codex", "es"), whole=True),
    "every field": lambda: render(sample(), whole=True),
    "nothing but a title": lambda: render(
        replace(sample(), story="", rows=(), ingredients=(), cautions=(), package=(), allergens=(Run("None."),))
    ),
}


@pytest.mark.parametrize(("width", "scheme"), VIEWS)
@pytest.mark.parametrize("what", POSTS)
def test_it_fits_and_can_be_read(opened, what, width, scheme):
    """No part reaches out of the post or the page, and every text has a contrast of 4.5 or more."""
    page = opened(POSTS[what](), width, scheme)
    assert page.evaluate(OVERFLOW) == []
    texts = page.evaluate(CONTRAST)
    assert len(texts) > 5
    assert [one for one in texts if one["ratio"] < 4.5] == []


@pytest.mark.parametrize(("width", "scheme"), VIEWS)
def test_dark_is_dark_and_light_is_light(opened, width, scheme):
    """The post's ground follows what the reader's system asks for."""
    page = opened(render(sample()), width, scheme)
    red = page.evaluate(
        "getComputedStyle(document.querySelector('.labeler-post')).backgroundColor.match(/\\d+/)[0] | 0"
    )
    assert red < 60 if scheme == "dark" else red > 200


@pytest.mark.parametrize(("width", "scheme"), [(360, "light"), (1200, "dark")])
@pytest.mark.parametrize("what", POSTS)
def test_axe_finds_nothing(opened, what, width, scheme):
    """The accessibility checker axe-core has no complaint, in any of its rules."""
    api = pytest.importorskip("axe_playwright_python.sync_playwright")
    results = api.Axe().run(opened(POSTS[what](), width, scheme))
    assert [(one["id"], [node["html"] for node in one["nodes"]]) for one in results.response["violations"]] == []


@pytest.mark.parametrize("width", (360, 1200))
@pytest.mark.parametrize("title", HOSTILE.values(), ids=HOSTILE)
def test_hostile_titles_come_out_as_text(opened, title, width):
    """Whatever the title, it is seen as written, nothing of it runs, and the post still fits."""
    part = replace(sample().parts[0], title=title, lines=(title,), steps=(title,))
    content = sample(title, story=title, maker=title, makes=title, parts=(part, sample().parts[1]))
    page = opened(render(content, whole=True), width, "light")
    assert page.evaluate("window.struck") is None
    assert page.evaluate("document.querySelectorAll('img, a, iframe').length") == 0
    shown = page.evaluate("document.querySelector('.labeler-post h2').textContent")
    assert shown == " ".join(for_text(title).split(" "))
    assert page.evaluate(OVERFLOW) == []
    data = page.evaluate("JSON.parse(document.querySelector('.labeler-post script').textContent)")
    assert data["name"] == title


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_fits_a_narrow_page(opened, language):
    """At 360 px each language's words and names of lines keep inside the post."""
    page = opened(render(post("quay-pie", "us", language)), 360, "light")
    assert page.evaluate(OVERFLOW) == []
    assert page.evaluate("document.querySelector('.labeler-post').lang") == language
