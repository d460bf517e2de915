"""The headings of pasted recipes ("Ingredients", "Method") and what each opens."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

__all__ = ["opens_what"]

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
