"""Print how fast the page answers, as ratios against yardsticks of the same run; needs Chromium and ``playwright``.

Usage::

    python reference/page_speed.py

Milliseconds mean little on a shared machine, so each figure stands beside what else took its time there: a plain
Python process that only imports the web server, and a round trip to the page that reads nothing.
"""

from __future__ import annotations

import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
FOODS = (
    "flour|butter|whole milk|carrots|onions|celery|smoked haddock|prawns|rice|olive oil|cheddar cheese|potatoes|"
    "leeks|frozen peas|chicken thighs|pork loin|tomatoes|garlic|basil|parsley|black pepper|sea salt|brown sugar|"
    "cider vinegar|mustard seed|apples|walnuts|eggs|honey|lemon juice"
)
LINES = "---\ntitle: Thirty lines\nmakes: 10 boxes\n---\n## All\n" + "".join(
    f"- {number + 20} g {food}\n" for number, food in enumerate(FOODS.split("|"))
)
"""A recipe of 30 lines."""
TYPED = " and cream, chopped fine, with 2 tsp salt"
YARDSTICK = "import uvicorn, starlette.applications, jinja2"
EMPTY = """async () => { const begun = performance.now(); await fetch("/alive"); return performance.now() - begun; }"""


def shown(name: str, figure: str, wanted: str) -> None:
    """One row of the report."""
    print(f"{name:<56} {figure:>30}   wanted {wanted}")


def first_answer(folder: Path) -> tuple[subprocess.Popen[str], str, float]:
    """A page that was started, its address, and how long its first screen took [s]."""
    import http.cookiejar
    import urllib.request

    begun = time.perf_counter()
    command = [sys.executable, "-m", "labeler", "page", str(folder), "--no-browser"]
    notes = {"LABELER_PAGE_NOTES": str(folder.parent / "notes"), "PYTHONUNBUFFERED": "1"}
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT, env=os.environ | notes)
    assert server.stdout is not None
    found = re.search(r"http\S+", server.stdout.readline())
    assert found is not None
    jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
    urllib.request.build_opener(jar).open(found[0], timeout=30).read()
    return server, found[0], time.perf_counter() - begun


def typing(page: Any, address: str) -> None:
    """How long the answer takes for each letter, and what the first sight of a recipe takes and moves."""
    sizes: list[int] = []
    page.on("requestfinished", lambda one: sizes.append(one.sizes()["responseBodySize"]))
    page.add_init_script(
        "window.shift = 0; new PerformanceObserver((list) => { for (const one of list.getEntries())"
        " if (!one.hadRecentInput) window.shift += one.value; }).observe({type: 'layout-shift', buffered: true});"
    )
    page.goto(address)
    sizes.clear()
    page.goto(address.partition("/enter")[0] + "/recipe/thirty.md")
    page.wait_for_selector(".note")
    page.wait_for_selector("[data-count=allergens]:not([hidden])")
    page.wait_for_timeout(3000)
    shown("transfer of the first sight of a recipe", f"{sum(sizes) / 1000:.0f} kB", "600 kB at most")
    shown("layout shift meanwhile", f"{page.evaluate('() => window.shift'):.4f}", "under 0.02")
    empty = statistics.median(page.evaluate(EMPTY) for _ in range(15))
    page.click(".cm-line:has-text('carrots')")
    page.keyboard.press("End")
    for letter in TYPED:
        page.keyboard.type(letter)
        page.wait_for_timeout(120)
    page.wait_for_timeout(1000)
    taken = page.evaluate("() => performance.getEntriesByName('labeler answer').map((one) => one.duration)")
    slowest = statistics.quantiles(taken, n=20)[-1]
    name = f"answer while typing, 30 lines, 95 of 100 of {len(taken)}"
    shown(name, f"{slowest:.0f} ms = {slowest / empty:.1f} round trips", "100 ms on an idle machine")


def own_time() -> None:
    """How much of a processor each answer takes by itself, whatever else runs: the figure that a busy machine keeps."""
    from labeler.page.engine.reading import Text, read_live

    read_live(Text(LINES, "recipe.md"))
    taken = []
    for typed in range(1, len(TYPED) + 1):
        text = LINES.replace("carrots\n", f"carrots{TYPED[:typed]}\n")
        begun = time.process_time()
        read_live(Text(text, "recipe.md"))
        taken.append(1000 * (time.process_time() - begun))
    slowest = statistics.quantiles(taken, n=20)[-1]
    shown("processor time of an answer, 95 of 100", f"{slowest:.0f} ms", "well under 100 ms")


def main() -> None:
    """Print the report."""
    from playwright.sync_api import sync_playwright

    own_time()
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-c", YARDSTICK], check=True)
    bare = time.perf_counter() - begun
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        folder = Path(place) / "stall"
        folder.mkdir()
        (folder / "thirty.md").write_text(LINES, encoding="utf-8")
        server, address, first = first_answer(folder)
        shown(
            "first screen after the command", f"{first:.2f} s = {first / bare:.1f} imports", "1.5 s on an idle machine"
        )
        try:
            path = shutil.which("chromium") or shutil.which("google-chrome")
            browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
            typing(browser.new_page(), address)
            browser.close()
        finally:
            server.terminate()
            server.wait(timeout=20)


if __name__ == "__main__":
    main()
