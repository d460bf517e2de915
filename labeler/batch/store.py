"""What a batch over a table of recipes has done: a file of SQLite's, whole after any death, one entry for each id.

An entry is written with its whole chunk or not at all; one that comes a second time under the same digest changes
nothing. A recipe that broke its limits or its process stands there without a digest, which no recipe has: it is tried
again. Nothing here looks at a clock.
"""

from __future__ import annotations

import json
import sqlite3
import zlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeler.types import LabelerError

__all__ = ["STORE", "Packed", "Store", "pack", "unpack"]

STORE = "journal.sqlite"
_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class Packed:
    """An entry on its way: id, digest, the entry as compressed JSON."""

    id: str
    digest: str
    entry: bytes


def pack(entry: dict[str, Any]) -> Packed:
    """An entry, made small."""
    text = json.dumps(entry, ensure_ascii=False, separators=(",", ":"))
    return Packed(entry["file"], entry["digest"], zlib.compress(text.encode("utf-8", "replace"), 1))


def unpack(entry: bytes) -> dict[str, Any]:
    """The entry that `pack` made small."""
    found: dict[str, Any] = json.loads(zlib.decompress(entry))
    return found


class Store:
    """The journal of one batch; no other process has it open meanwhile.

    Raises LabelerError where it cannot be written, is damaged, or another batch works on it.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise LabelerError(f"{path.parent}: cannot be made ({reason}); check the folder") from None
        with self._told():
            self._base = sqlite3.connect(path, timeout=0.5, isolation_level=None)
            self._base.execute("PRAGMA locking_mode = EXCLUSIVE")
            self._base.execute("PRAGMA journal_mode = WAL")
            self._base.execute("PRAGMA synchronous = FULL")
            self._base.execute("CREATE TABLE IF NOT EXISTS done (id TEXT PRIMARY KEY, digest TEXT, entry BLOB)")
            self._base.execute("CREATE TABLE IF NOT EXISTS parts (number INTEGER PRIMARY KEY, digest TEXT, sizes TEXT)")

    @contextmanager
    def _told(self) -> Iterator[None]:
        """What SQLite says as one line."""
        try:
            yield
        except sqlite3.Error as error:
            stated = str(error)
            mend = "make room or check the folder, then start the same command again: what is done stays done"
            if "locked" in stated:
                mend = "another batch works on this folder; wait for it, or give another with -o"
            elif "malformed" in stated or "not a database" in stated:
                mend = "the file is damaged; take it away, and everything is done again"
            raise LabelerError(f"{self.path}: {stated}; {mend}") from None

    def add(self, packed: Iterable[Packed]) -> int:
        """Write down what is done, all of it or nothing; how many were new."""
        new = 0
        with self._told():
            self._base.execute("BEGIN IMMEDIATE")
            try:
                for one in packed:
                    new += self._base.execute(
                        "INSERT INTO done VALUES (?, ?, ?) ON CONFLICT (id) DO UPDATE SET digest = excluded.digest, "
                        "entry = excluded.entry WHERE digest <> excluded.digest OR digest = ''",
                        (one.id, one.digest, one.entry),
                    ).rowcount
                self._base.execute("COMMIT")
            except BaseException:
                if self._base.in_transaction:
                    self._base.execute("ROLLBACK")
                raise
        return new

    def digests(self, ids: Sequence[str]) -> dict[str, str]:
        """The digest under which each of these was done; those that were not are left out."""
        return {one: digest for one, digest, _ in self._of(ids, "''")}

    def entries(self, ids: Sequence[str]) -> dict[str, dict[str, Any]]:
        """What was written down of each of these."""
        return {one: unpack(entry) for one, _, entry in self._of(ids, "entry")}

    def _of(self, ids: Sequence[str], column: str) -> Iterator[tuple[str, str, bytes]]:
        for at in range(0, len(ids), _AT_ONCE):
            asked = ids[at : at + _AT_ONCE]
            signs = ",".join("?" * len(asked))
            with self._told():
                yield from self._base.execute(f"SELECT id, digest, {column} FROM done WHERE id IN ({signs})", asked)

    def part(self, number: int) -> tuple[str, str] | None:
        """Digest and sizes of the files of a part that was written; None where it was not."""
        with self._told():
            found: tuple[str, str] | None = self._base.execute(
                "SELECT digest, sizes FROM parts WHERE number = ?", (number,)
            ).fetchone()
        return found

    def set_part(self, number: int, digest: str, sizes: str) -> None:
        """Write down that the files of a part are whole."""
        with self._told():
            self._base.execute("INSERT OR REPLACE INTO parts VALUES (?, ?, ?)", (number, digest, sizes))

    def forget_parts(self, number: int) -> None:
        """Forget the parts from a number on, which a shorter source no longer has."""
        with self._told():
            self._base.execute("DELETE FROM parts WHERE number >= ?", (number,))

    def close(self) -> None:
        """Close the file."""
        with self._told():
            self._base.close()
