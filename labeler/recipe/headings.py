"""The headings of pasted recipes, and whether a text has them: asked of every recipe that is read, so it is quick."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

__all__ = ["has_headings", "opens_what"]

_LONGEST = 40


@cache
def _headings() -> Mapping[str, str]:
    """What each heading opens: ``ingredients``, ``steps``, ``notes``, ``skip``."""
    with (Path(__file__).with_name("data") / "headings.csv").open(encoding="utf-8", newline="") as stream:
        rows = csv.DictReader(line for line in stream if not line.startswith("#"))
        return {row["words"]: row["opens"] for row in rows}


def opens_what(row: str) -> str:
    """What a row opens, where it is a heading; empty where it is none."""
    if len(row) > _LONGEST:
        return ""
    words = re.sub(r"^#{1,6}\s*|[*_#]+|\s*[:\-–.]+\s*$", "", row).strip().casefold()
    return _headings().get(words, "")


def has_headings(text: str) -> bool:
    """Whether a text is pasted from elsewhere: a heading for its ingredients or its method, and none of our marks."""
    rows = [row.strip() for row in text.split("\n")]
    ours = any(row.startswith((">", "---")) for row in rows)
    return not ours and any(opens_what(row) in ("ingredients", "steps") for row in rows)
