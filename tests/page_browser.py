"""A window of a real browser on a page that is served, and what tests do in it again and again."""

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path

DEMO = Path(__file__).parents[1] / "demo"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
WAIT = 60_000
"""Milliseconds that an answer may take on a loaded machine; the speed itself has a test of its own."""

# Every element that reaches over the right edge of the screen and stands in no box that scrolls.
WIDER = """() => {
  const scrolls = (one) => { for (; one; one = one.parentElement) { const how = getComputedStyle(one);
    if (/auto|scroll|hidden/.test(how.overflowX) || how.clipPath !== 'none') return true; } return false; };
  const out = document.documentElement.scrollWidth > innerWidth ? ['the page'] : [];
  for (const one of document.body.querySelectorAll('*')) {
    const box = one.getBoundingClientRect();
    if (box.width && box.right > innerWidth + 1 && !scrolls(one)) out.push(one.outerHTML.slice(0, 90));
  }
  return out;
}"""


@contextmanager
def serving(folder, port="0"):
    """A page over a folder, in a process of its own; gives its address with the key."""
    with tempfile.TemporaryDirectory() as notes:
        process = subprocess.Popen(
            [sys.executable, "-m", "labeler", "page", str(folder), "--no-browser", "--port", port],
            stdout=subprocess.PIPE,
            text=True,
            env=os.environ | {"LABELER_PAGE_NOTES": notes, "PYTHONUNBUFFERED": "1"},
        )
        try:
            yield re.search(r"http\S+", process.stdout.readline())[0]
        finally:
            process.send_signal(signal.SIGINT)
            try:
                process.communicate(timeout=20)
            except subprocess.TimeoutExpired:
                process.kill()


class Shown:
    """A window on the page.

    Parameters
    ----------
    browser : Browser
    folder : Path
    address : str
        With the key.
    width, height : int
    scheme : str
        "light" or "dark".
    touch, offline : bool
    """

    def __init__(self, browser, folder, address, *, width=1280, height=900, scheme="light", touch=False, offline=False):
        self.folder, self.address = Path(folder), address.partition("/enter")[0]
        self.context = browser.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme, has_touch=touch, accept_downloads=True
        )
        self.context.set_default_timeout(WAIT)
        self.page = self.context.new_page()
        self.faults = []
        own = self.address
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("console", self._console)
        self.page.on(
            "request",
            lambda one: None if one.url.startswith((own, "data:", "blob:", "file:")) else self.faults.append(one.url),
        )
        if offline:
            self.context.set_offline(True)
        else:
            self.page.goto(address)

    def _console(self, message):
        if message.type == "error" and "the server responded with a status of 4" not in message.text:
            self.faults.append(message.text)

    def close(self):
        self.context.close()
        assert self.faults == []

    def open(self, path):
        self.page.goto(self.address + path)
        return self.page

    def tab(self, key):
        self.page.click(f"#tab-{key}")

    def cursor_on(self, words):
        """Put the cursor on the row of the editor that holds these words."""
        self.page.wait_for_selector(".note")
        row = self.page.locator(f".cm-line:has-text('{words}')").first
        row.scroll_into_view_if_needed()
        self.settled()
        row.click(position={"x": 40, "y": 10})
        self.page.wait_for_selector(f"#panel-line .said:has-text('{words}')", state="attached")

    def settled(self):
        """Wait until two frames have been drawn, in which the page answers a scroll or a change of its size."""
        self.page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")

    def text_holds(self, words):
        """Wait until the editor's text holds these words."""
        self.page.wait_for_function(
            "words => document.querySelector('.cm-content').innerText.includes(words)", arg=words
        )

    def type_text(self, text):
        """Put a whole text into the editor in place of what stands there, as pasting does."""
        self.page.click(".cm-content")
        self.page.keyboard.press("Control+a")
        self.page.keyboard.insert_text(text)

    def saved(self):
        """Wait until what was typed stands in the file."""
        self.page.wait_for_function(
            "() => document.querySelector('#saved').textContent === 'Saved' && !Object.keys(localStorage)"
            ".some((key) => key.startsWith('labeler ') && key.endsWith('.md') && !key.startsWith('labeler day'))"
        )

    def sodium_range(self):
        """Both ends of the sodium of a serving, as shown."""
        said = self.page.locator("#panel-plate .values tr:has-text('Sodium') .span").inner_text()
        return tuple(float(one.replace(",", "")) for one in re.findall(r"[\d,.]+", said))

    def label(self):
        """Wait until the label of what stands in the editor and the form is drawn; gives the bytes of its PDF."""
        self.page.wait_for_selector("#label-picture:not([hidden])")
        return self.download("#label-pdf[href]")

    def download(self, selector):
        """The bytes that a button or link gives."""
        with self.page.expect_download() as waiting:
            self.page.click(selector)
        return Path(waiting.value.path()).read_bytes()

    def press_until(self, key, selector, words="", most=60):
        """Press a key until the element that a selector and its words mean has the focus."""
        self.page.wait_for_selector(selector)
        there = """([one, words]) => document.activeElement?.matches(one)
            && document.activeElement.textContent.includes(words)"""
        for _ in range(most):
            self.page.keyboard.press(key)
            if self.page.evaluate(there, [selector, words]):
                return
        raise AssertionError(f"{selector} was not reached by {key}")

    def fits(self):
        """Nothing is wider than the screen."""
        assert self.page.evaluate(WIDER) == []

    def axe(self):
        """The accessibility checker has no complaint in any of its rules."""
        from axe_playwright_python.sync_playwright import Axe

        found = Axe().run(self.page).response["violations"]
        told = [(one["id"], [node["html"][:120] for node in one["nodes"]][:3]) for one in found]
        assert told == []
