"""Pictures of the local page in six states, narrow and wide, light and dark, into ``demo/made``.

Needs Chromium and ``playwright``: ``python reference/page_pictures.py [--all FOLDER]``; with ``--all`` every state at
every width, light and dark, into another folder, to look at.
"""

from __future__ import annotations

import argparse
import io
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
MADE = ROOT / "demo" / "made"
COLOURS = 160
SCHEMES = ("light", "dark")


def line(page: Any) -> None:
    """A line with its food, its grams and what else it may be."""
    page.wait_for_selector(".note")
    page.locator(".note:has-text('Parsley')").first.click()
    page.click("#panel-line form[role=search] button")
    page.wait_for_selector("#found-foods table")


def panel(key: str, ready: str) -> Callable[[Any], None]:
    """A panel of the recipe once it has something to show."""

    def show(page: Any) -> None:
        page.wait_for_selector(".note")
        page.click(f"#tab-{key}")
        page.wait_for_selector(ready)

    return show


def today(page: Any) -> None:
    """Today's batch, scaled."""
    page.wait_for_selector("#scaled tbody tr")
    page.fill("#scale-to", "24")


STATES: tuple[tuple[str, str, int, int, str, Callable[[Any], None]], ...] = (
    ("page-line", "/recipe/quay-pie.md", 1440, 900, "light", line),
    ("page-method", "/recipe/harbour-box.md", 1440, 900, "dark", panel("method", "#panel-method svg")),
    ("page-allergens", "/recipe/quay-pie.md", 768, 900, "light", panel("allergens", ".allergen")),
    ("page-label", "/recipe/beetroot-relish.md", 768, 900, "dark", panel("label", "#label-picture:not([hidden])")),
    ("page-day", "/day/beetroot-relish.md", 360, 740, "light", today),
    ("page-stall", "/stall", 360, 740, "dark", lambda page: page.wait_for_selector(".matrix")),
)
"""Name, address, width, height, light or dark, and what brings the page into that state."""
VIEWS = [(width, height, scheme) for width, height in ((360, 740), (768, 1024), (1440, 900)) for scheme in SCHEMES]


def small(data: bytes) -> bytes:
    """A picture in few colours."""
    from PIL import Image

    out = io.BytesIO()
    with Image.open(io.BytesIO(data)) as picture:
        picture.convert("RGB").quantize(COLOURS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE).save(
            out, "PNG", optimize=True
        )
    return out.getvalue()


def main() -> None:
    """Take every picture."""
    from playwright.sync_api import sync_playwright

    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--all", type=Path, metavar="FOLDER", help="every state in every view, into this folder")
    everywhere: Path | None = parser.parse_args().all
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        command = [sys.executable, "-m", "labeler", "page", str(Path(place) / "Quay stall"), "--demo", "--no-browser"]
        server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT)
        try:
            assert server.stdout is not None
            found = re.search(r"http\S+", server.stdout.readline())
            assert found is not None
            path = shutil.which("chromium") or shutil.which("google-chrome")
            browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
            for name, address, width, height, scheme, show in STATES:
                for view in VIEWS if everywhere else [(width, height, scheme)]:
                    taken = picture(browser, found[0], address, show, *view)
                    if everywhere:
                        everywhere.mkdir(parents=True, exist_ok=True)
                        (everywhere / f"{name}-{view[0]}-{view[2]}.png").write_bytes(taken)
                    else:
                        (MADE / f"{name}.png").write_bytes(small(taken))
            browser.close()
        finally:
            server.terminate()
            server.wait(timeout=20)


def picture(
    browser: Any, key: str, address: str, show: Callable[[Any], None], width: int, height: int, scheme: str
) -> bytes:  # fmt: skip
    """One state in one view, once it stands still."""
    page = browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme)
    page.set_default_timeout(90_000)
    page.goto(key)
    page.goto(key.partition("/enter")[0] + address)
    show(page)
    page.wait_for_timeout(700)
    taken: bytes = page.screenshot()
    page.close()
    return taken


if __name__ == "__main__":
    main()
