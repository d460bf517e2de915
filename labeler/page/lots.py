"""The log of what was printed: a line a batch, with the recipe and the packages as they were, and the PDF beside it.

One step back is what a stall must be able to go: what went into this lot, and by which packages was it read?
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from labeler.files import write_whole
from labeler.page.folder import Folder
from labeler.types import LabelerError

__all__ = ["Lots"]

FOLDER, LOG = "printed", "log.jsonl"


class Lots:
    """The lots of one folder of recipes, in its folder ``printed``.

    Parameters
    ----------
    folder : Folder
    """

    def __init__(self, folder: Folder) -> None:
        self._place = folder.path / FOLDER

    def all(self) -> list[dict[str, Any]]:
        """Every entry, the newest first; a line that broke off is passed over."""
        log = self._place / LOG
        found = []
        if log.is_file():
            for row in log.read_text(encoding="utf-8").split("\n"):
                try:
                    entry = json.loads(row)
                except ValueError:
                    continue
                if isinstance(entry, dict) and isinstance(entry.get("lot"), str):
                    found.append(entry)
        return found[::-1]

    def of(self, name: str) -> list[dict[str, Any]]:
        """The entries of one recipe, the newest first."""
        return [entry for entry in self.all() if entry.get("name") == name]

    def lot(self, lot: str) -> list[dict[str, Any]]:
        """The entries of one lot, the newest first."""
        return [entry for entry in self.all() if entry["lot"] == lot]

    def file(self, name: str) -> Path:
        """The path of a PDF that was printed; raises LabelerError where there is none of that name."""
        if name not in {entry.get("pdf") for entry in self.all()} or not (self._place / name).is_file():
            raise LabelerError(f"“{name[:80]}” is no label that was printed here")
        return self._place / name

    def add(self, entry: Mapping[str, Any], pdf: bytes) -> dict[str, Any]:
        """Keep a label as printed and write its line; returns the line.

        Raises LabelerError where the folder cannot be written; then nothing is logged.
        """
        try:
            self._place.mkdir(exist_ok=True)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise LabelerError(f"{FOLDER}: cannot be made ({reason}); the batch is not logged") from None
        stem = re.sub(r"[^\w.-]+", "-", entry["lot"]).strip("-.") or "lot"
        number = 1
        while (self._place / (name := f"{stem}{'' if number == 1 else f'-{number}'}.pdf")).exists():
            number += 1
        whole = dict(entry) | {"pdf": name, "pdf_sha256": hashlib.sha256(pdf).hexdigest()}
        write_whole(str(self._place / name), pdf)
        log = self._place / LOG
        before = log.read_bytes() if log.is_file() else b""
        if before and not before.endswith(b"\n"):
            before += b"\n"
        write_whole(str(log), before + json.dumps(whole, ensure_ascii=False).encode() + b"\n")
        return whole
