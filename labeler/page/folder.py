"""The folder of recipe files: what is in it, reading and writing, and that nothing outside it is ever touched.

A file is written whole beside its place and moved there. What stood there before is kept among the last ten versions.
A file that somebody else has changed since it was read is never overwritten: the writer is told.
"""

from __future__ import annotations

import hashlib
import os
import re
import time
from dataclasses import dataclass
from pathlib import Path

from labeler.files import MAX_RECIPE, as_text, write_whole
from labeler.types import LabelerError

__all__ = ["KEPT_VERSIONS", "Changed", "Folder", "FoundFile", "Version", "digest_of", "plain_text"]

KEPT_VERSIONS = 10
OWN_FOLDER = ".labeler"
"""Hidden folder inside the cook's, for versions."""
BURST_SECONDS = 60.0
"""Saves so soon after a version was kept are one burst of typing, and keep no further version."""
EDITABLE = (".md", ".txt")
FOREIGN = (".html", ".htm", ".json", ".csv")
"""Files from elsewhere, which can be made into a recipe file."""
LARDER_NAME = "larder.toml"
_NAME = re.compile(r"[^\x00-\x1f\\:*?\"<>|]+")


class Changed(Exception):
    """The file is no longer what the writer had read.

    Parameters
    ----------
    text : str
        What stands there now; empty where it is gone.
    """

    def __init__(self, text: str) -> None:
        super().__init__("the file was changed by somebody else")
        self.text = text


@dataclass(frozen=True, slots=True)
class FoundFile:
    """A file of the folder: its name with forward slashes, its time of change [s] and its size [bytes]."""

    name: str
    changed: float
    size: int

    @property
    def foreign(self) -> bool:
        """Whether it is a file from elsewhere and no recipe file of ours."""
        return self.name.lower().endswith(FOREIGN)


@dataclass(frozen=True, slots=True)
class Version:
    """A version that is kept: its id and when it was put aside [s]."""

    id: str
    kept: float


def digest_of(text: str) -> str:
    """SHA-256 of a text, hexadecimal."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def plain_text(text: str) -> str:
    """A text as it is written and read back: line feeds, and no character that UTF-8 cannot hold."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").replace("\0", "\ufffd")
    return text.encode("utf-8", "replace").decode()


class Folder:
    """A folder of recipes.

    Parameters
    ----------
    path : Path
        LabelerError where it is no folder.
    """

    def __init__(self, path: Path) -> None:
        if not path.is_dir():
            raise LabelerError(f"{path}: is no folder; give the folder that holds the recipes")
        self.path = path.resolve()

    def files(self) -> tuple[FoundFile, ...]:
        """Every recipe file and every file from elsewhere, by name; hidden ones and output of a batch left out."""
        made = {path.parent for path in self.path.rglob("journal.jsonl")}
        found = []
        for path in sorted(self.path.rglob("*")):
            name = path.relative_to(self.path).as_posix()
            hidden = any(part.startswith(".") for part in name.split("/"))
            if hidden or not name.lower().endswith(EDITABLE + FOREIGN) or made.intersection(path.parents):
                continue
            try:
                if path.is_file() and self._inside(path):
                    stat = path.stat()
                    found.append(FoundFile(name, stat.st_mtime, stat.st_size))
            except OSError:
                continue
        return tuple(found)

    def place(self, name: str, endings: tuple[str, ...] = EDITABLE) -> Path:
        """The path of a file of the folder.

        Parameters
        ----------
        name : str
            With forward slashes, relative to the folder.
        endings : tuple of str
            It must have one of these.

        Raises
        ------
        LabelerError
            Where the name leads out of the folder, is hidden, has another ending, or is none.
        """
        parts = name.split("/")
        if not name or len(name) > 200 or not all(_NAME.fullmatch(part) for part in parts):
            raise LabelerError(f"“{name[:80]}” is no file name; use letters, digits, spaces and hyphens")
        if any(part.startswith(".") or part != part.strip() for part in parts):
            raise LabelerError(f"“{name[:80]}”: a name may not begin with a dot or lead out of the folder")
        if not name.lower().endswith(endings):
            raise LabelerError(f"“{name[:80]}”: a recipe's name ends in {' or '.join(endings)}")
        path = self.path.joinpath(*parts)
        if not self._inside(path):
            raise LabelerError(f"“{name[:80]}” leads out of the folder and is not opened")
        return path

    def _inside(self, path: Path) -> bool:
        """Whether a path stays in the folder when links in it are followed."""
        try:
            return path.resolve().is_relative_to(self.path)
        except (OSError, RuntimeError):
            return False

    def read(self, name: str) -> str:
        """The text of a recipe file, as it stands; an empty file is an empty text.

        Raises LabelerError where there is none or it is no text.
        """
        return self._text(self.place(name), name)

    def read_bytes(self, name: str) -> bytes:
        """The bytes of any file that the list shows; raises LabelerError where it cannot be read."""
        from labeler.files import read_bytes

        return read_bytes(str(self.place(name, EDITABLE + FOREIGN)))

    def _text(self, path: Path, name: str) -> str:
        try:
            with path.open("rb") as stream:
                data = stream.read(MAX_RECIPE + 1)
        except FileNotFoundError:
            raise LabelerError(f"{name}: there is no such file in this folder") from None
        except OSError as error:
            raise LabelerError(f"{name}: cannot be read ({(error.strerror or str(error)).lower()})") from None
        return as_text(data, name, most=MAX_RECIPE) if data.decode("utf-8", "replace").strip() else ""

    def write(self, name: str, text: str, *, base: str | None) -> str:
        """Write a recipe file; returns the digest of what stands there then.

        Parameters
        ----------
        name : str
        text : str
        base : str or None
            Digest of the text that the writer had read; None for a file that is not to be there yet.

        Raises
        ------
        Changed
            Where the file is another one by now; nothing is written.
        LabelerError
            Where it cannot be written; what stood there stands there still.
        """
        path, text = self.place(name), plain_text(text)
        if text.strip():
            as_text(text.encode(), name, most=MAX_RECIPE)  # what could not be read back is not written
        before = self._text(path, name) if path.exists() else None
        if before != text:
            if (None if before is None else digest_of(before)) != base:
                raise Changed(before or "")
            if before is not None:
                self._keep(path, before)
            elif not path.parent.is_dir():
                path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(str(path), text.encode())
        return digest_of(text)

    def write_larder(self, text: str, *, base: str | None) -> None:
        """Write the larder that stands in the folder; raises as `write`."""
        path = self.path / LARDER_NAME
        before = path.read_text(encoding="utf-8") if path.is_file() else None
        if (None if before is None else digest_of(before)) != base:
            raise Changed(before or "")
        if before is not None:
            self._keep(path, before)
        write_whole(str(path), text.encode())

    def free_name(self, title: str) -> str:
        """A name for a new recipe file by its title, that no file has yet."""
        plain = re.sub(r"[^\w]+", "-", title.casefold()).strip("-_")[:60] or "recipe"
        for number in range(1, 10_000):
            name = f"{plain}{'' if number == 1 else f'-{number}'}.md"
            if not (self.path / name).exists():
                return name
        raise LabelerError(f"there are too many recipes called “{title[:60]}”; give it another title")

    def versions(self, name: str) -> tuple[Version, ...]:
        """The versions of a file that are kept, the newest first."""
        folder = self._versions(self.place(name))
        found = [Version(path.name, _when(path)) for path in folder.iterdir()] if folder.is_dir() else []
        return tuple(sorted(found, key=lambda one: one.id, reverse=True))

    def version(self, name: str, which: str) -> str:
        """The text of a version; raises LabelerError where there is none of that id."""
        if which not in {one.id for one in self.versions(name)}:
            raise LabelerError(f"{name}: there is no such version of it")
        return (self._versions(self.place(name)) / which).read_text(encoding="utf-8")

    def _versions(self, path: Path) -> Path:
        return self.path / OWN_FOLDER / "versions" / path.relative_to(self.path)

    def _keep(self, path: Path, text: str) -> None:
        """Put a text aside as the newest version; what cannot be put aside is not overwritten."""
        folder = self._versions(path)
        try:
            folder.mkdir(parents=True, exist_ok=True)
            kept = sorted(folder.iterdir())
            if kept and 0 <= time.time() - _when(kept[-1]) < BURST_SECONDS:
                return
            write_whole(str(folder / f"{time.time():017.3f}"), text.encode())
            for old in kept[: max(len(kept) + 1 - KEPT_VERSIONS, 0)]:
                os.unlink(old)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise LabelerError(
                f"{path.name}: its version before cannot be kept ({reason}); it is left as it is"
            ) from None


def _when(path: Path) -> float:
    """When a version was put aside [s]: its name says so."""
    try:
        return float(path.name)
    except ValueError:
        return 0.0
