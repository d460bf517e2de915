"""Tests see neither the larder nor the cache of whoever runs them."""

import os
import tempfile
from pathlib import Path

import pytest

_NOWHERE = Path(tempfile.gettempdir()) / "labeler-tests-have-no-larder"
os.environ["LABELER_LARDER"] = str(_NOWHERE / "larder.toml")
os.environ["LABELER_CACHE"] = str(_NOWHERE / "cache")

_SHORTFALLS = Path(__file__).with_name("known_shortfalls.txt")


def pytest_collection_modifyitems(items):
    """Mark the tests that state what is not reached yet; one that passes is an error, unless it fails "sometimes"."""
    rows = [line for line in _SHORTFALLS.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    reasons = dict(line.split("\t") for line in rows)
    for item in items:
        if item.nodeid in reasons:
            reason = reasons[item.nodeid]
            item.add_marker(pytest.mark.xfail(reason=reason, strict=not reason.startswith("sometimes:")))
