"""Tests see neither the larder nor the cache of whoever runs them; those of the page share a browser and a server."""

import os
import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

from labeler.processes import set_up

set_up()  # as the command does: before numpy is loaded, or its threads wait for one another
_NOWHERE = Path(tempfile.gettempdir()) / "labeler-tests-have-no-larder"
os.environ["LABELER_LARDER"] = str(_NOWHERE / "larder.toml")
os.environ["LABELER_CACHE"] = str(_NOWHERE / "cache")

# One change gives one answer: the same examples every time. HYPOTHESIS_PROFILE=search looks for new ones.
settings.register_profile("steady", derandomize=True)
settings.register_profile("search", derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))

_SHORTFALLS = Path(__file__).with_name("known_shortfalls.txt")


def pytest_collection_modifyitems(items):
    """Mark the tests that state what is not reached yet; one that passes is an error, unless it fails "sometimes"."""
    rows = [line for line in _SHORTFALLS.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    reasons = dict(line.split("\t") for line in rows)
    for item in items:
        if item.nodeid in reasons:
            reason = reasons[item.nodeid]
            item.add_marker(pytest.mark.xfail(reason=reason, strict=not reason.startswith("sometimes:")))


@pytest.fixture(scope="module")
def chromium():
    """One real browser for all tests of a module; they are skipped where none is installed."""
    from page_browser import CHROMIUM

    api = pytest.importorskip("playwright.sync_api")
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine")
    with api.sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield started
        started.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """A folder with the demo's recipes and the address of a page over it, one for all tests of a module."""
    from page_browser import DEMO, serving

    folder = tmp_path_factory.mktemp("page") / "stall"
    folder.mkdir()
    for path in DEMO.glob("*.md"):
        shutil.copy(path, folder)
    with serving(folder) as address:
        yield folder, address
