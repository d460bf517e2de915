"""The label's fixed words in each language, from data/words.csv. The wordings are the project's own."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from labeler.knowledge import LabelerError

__all__ = ["words"]


@cache
def words(language: str) -> Mapping[str, str]:
    """The fixed words by key.

    Raises
    ------
    LabelerError
        There is no such language in the file.
    """
    with (Path(__file__).parent / "data" / "words.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    languages = [name for name in rows[0] if name != "key"]
    if language not in languages:
        raise LabelerError(f"no label words in the language {language!r}; there are {', '.join(languages)}")
    return MappingProxyType({row["key"]: row[language] for row in rows})
