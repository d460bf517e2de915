"""What a batch has done: one line of JSON a recipe, written when the recipe is finished and never changed.

A run that was killed leaves at most a broken last line, which is cut off; everything before it is done and is not done
again while the recipe, the settings and the larder are the same. A recipe that broke its limits or its process stands
there without a digest and is tried again.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from labeler.types import LabelerError

__all__ = ["JOURNAL", "Journal"]

JOURNAL = "journal.jsonl"
"""Name of the file, by which the output of a batch is known."""

Entry = dict[str, Any]


class Journal:
    """The journal of one batch.

    Parameters
    ----------
    path : Path
        Made where it is not there; LabelerError where it cannot be written.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._places: dict[str, tuple[int, str]] = {}
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._stream = path.open("a+b")
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise LabelerError(f"{path}: cannot be written ({reason}); check the folder") from None
        self._read()

    def _read(self) -> None:
        self._stream.seek(0)
        at = 0
        for row in self._stream:
            entry = _entry(row)
            if entry is None:
                break
            self._places[entry["file"]] = (at, entry["digest"])
            at += len(row)
        self._stream.truncate(at)
        self._stream.seek(0, os.SEEK_END)

    def has(self, file: str, digest: str) -> bool:
        """Whether a recipe is done as it stands now."""
        return bool(digest) and self._places.get(file, (0, ""))[1] == digest

    def add(self, entry: Entry) -> None:
        """Write down what came of a recipe; `entry` has its ``file`` and its ``digest``."""
        at = self._stream.seek(0, os.SEEK_END)
        self._stream.write(
            json.dumps(entry, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "replace") + b"\n"
        )
        self._stream.flush()
        self._places[entry["file"]] = (at, entry["digest"])

    def entries(self, files: list[str]) -> Iterator[Entry]:
        """The last entry of each of these recipes, in their order, read one by one."""
        for file in files:
            if file in self._places:
                self._stream.seek(self._places[file][0])
                entry = _entry(self._stream.readline())
                if entry is not None:
                    yield entry

    def close(self) -> None:
        """Close the file, whose lines are all on disk."""
        self._stream.flush()
        os.fsync(self._stream.fileno())
        self._stream.close()


def _entry(row: bytes) -> Entry | None:
    """A whole line of the journal; None for one that broke off."""
    if not row.endswith(b"\n"):
        return None
    try:
        entry = json.loads(row)
    except ValueError:
        return None
    whole = isinstance(entry, dict) and isinstance(entry.get("file"), str) and isinstance(entry.get("digest"), str)
    return entry if whole else None
