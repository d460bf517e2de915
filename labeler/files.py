"""Reading what the cook gives and writing what the cook gets: UTF-8 text in, whole files out or none."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from labeler.types import LabelerError

__all__ = [
    "FOOD_NAME",
    "INGREDIENT_LINE",
    "as_text",
    "check_ending",
    "check_is_text",
    "read_bytes",
    "read_rows",
    "read_text",
    "write_whole",
]

MAX_BYTES = 32 * 1024 * 1024
"""What a saved page or a table may have."""
MAX_TEXT = 8 * 1024 * 1024
"""What lines and names may have: some 200,000 of them."""
MAX_RECIPE = 1024 * 1024
"""What a recipe may have: thousands of lines."""
MAX_ROW = 20_000


def _source_name(source: str) -> str:
    return "standard input" if source == "-" else source


def read_bytes(source: str) -> bytes:
    """The bytes of a file, or of standard input for ``-``.

    Raises
    ------
    LabelerError
        Where no file is named, there is no such file, it is a folder, cannot be read or is over 32 MiB.
    """
    if not source.strip():
        raise LabelerError("no file is named; give the name of one, or - for standard input")
    name = _source_name(source)
    try:
        data = sys.stdin.buffer.read(MAX_BYTES + 1) if source == "-" else _bytes(Path(source))
    except FileNotFoundError:
        raise LabelerError(f"{name}: there is no such file{_nearest(Path(source))}") from None
    except IsADirectoryError:
        raise LabelerError(f"{name}: this is a folder; give the file inside it") from None
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise LabelerError(f"{name}: cannot be read ({reason}); check the name and your permissions") from None
    if len(data) > MAX_BYTES:
        raise LabelerError(f"{name}: is over {MAX_BYTES / 1e6:.0f} MB, and no more is read; split the file")
    return data


def _coded_otherwise(data: bytes) -> str:
    """The encoding of text that is UTF-16 by its mark or by a zero in every other byte; empty where it is not."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "UTF-16"
    head = data[:200]
    odd, even = head[1::2], head[::2]
    return "UTF-16" if len(head) > 3 and ((all(even) and not any(odd)) or (all(odd) and not any(even))) else ""


_NO_TEXT = (
    (b"%PDF-", "a PDF"), (b"PK\x03\x04", "a ZIP, as word processors and spreadsheets save"), (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"), (b"GIF8", "a picture"), (b"\xd0\xcf\x11\xe0", "a file of a word processor"),
    (b"{\\rtf", "a file of a word processor"),
)  # fmt: skip
"""First bytes of files that people take for text, and what they are."""


def check_is_text(data: bytes, name: str) -> None:
    """Refuse a file whose first bytes are those of a PDF, a picture or an office document; raises LabelerError."""
    what = next((what for begins, what in _NO_TEXT if data[:64].lstrip()[: len(begins)] == begins), "")
    if what:
        raise LabelerError(f"{name}: is {what} and no text; copy the recipe's words into a text file")


INGREDIENT_LINE = "ingredient line, such as “2 cups flour”"
FOOD_NAME = "food name, such as “cheddar cheese”"


def read_text(source: str, *, row: str = INGREDIENT_LINE, most: int = MAX_TEXT) -> str:
    """The text of a file, or of standard input for ``-``, with every line ending turned into a line feed.

    Parameters
    ----------
    source : str
        The file's name.
    row : str
        What a row of it is, for the message where there is none.
    most : int
        How large it may be [bytes].

    Raises
    ------
    LabelerError
        As `read_bytes` and `as_text`; the message names the file, the line and how to mend it.
    """
    return as_text(read_bytes(source), source, row=row, most=most)


def as_text(data: bytes, source: str, *, row: str = INGREDIENT_LINE, most: int = MAX_TEXT) -> str:
    """Bytes as text, with every line ending turned into a line feed; `row` and `most` as in `read_text`.

    Raises
    ------
    LabelerError
        Where they hold no text, are too many, are not UTF-8, or have a line that no recipe has.
    """
    name = _source_name(source)
    if len(data) > most:
        what = "no recipe is so long" if most == MAX_RECIPE else "no more is read at once"
        raise LabelerError(
            f"{name}: is {len(data) / 1e6:.1f} MB large, and {what} (at most {most / 1e6:.1f} MB); split the file"
        )
    check_is_text(data, name)
    other = _coded_otherwise(data)
    if other:
        raise LabelerError(f"{name}: is {other} text; save it as UTF-8 (“encoding” in the editor's “save as”)")
    if b"\0" in data:
        line = data.count(b"\n", 0, data.index(b"\0")) + 1
        raise LabelerError(f"{name}:{line}: holds a zero byte, so it is not text; save it as plain UTF-8 text")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise LabelerError(
            f"{name}:{line}: byte 0x{data[error.start]:02x} is not UTF-8; save the file as UTF-8 text"
        ) from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not text.strip():
        raise LabelerError(f"{name}: is empty; write at least one {row}")
    for number, written in enumerate(text.split("\n"), start=1):
        if len(written) > MAX_ROW:
            raise LabelerError(
                f"{name}:{number}: the line is {len(written):,} characters long and at most {MAX_ROW:,} are read; "
                "break it up"
            )
    return text


def _bytes(path: Path) -> bytes:
    with path.open("rb") as handle:
        return handle.read(MAX_BYTES + 1)


def _nearest(path: Path) -> str:
    """The name in the same folder that the cook may have meant, as a half sentence; empty where none is near."""
    from rapidfuzz import fuzz, process

    try:
        names = [entry.name for entry in path.parent.iterdir()]
    except (OSError, ValueError):
        return ""
    found = process.extractOne(path.name, names, scorer=fuzz.ratio, score_cutoff=75)
    return f"; did you mean {path.with_name(found[0])}?" if found else ""


def read_rows(source: str, *, row: str = INGREDIENT_LINE) -> list[str]:
    """The rows of a text, blank ones too, so that answers stay in step with questions; raises as `read_text`."""
    rows = read_text(source, row=row).split("\n")
    if rows[-1] == "":
        rows.pop()
    return rows


def check_ending(path: str | None, endings: tuple[str, ...], *, what: str, option: str = "-o") -> None:
    """Refuse a file name whose ending is not that of what would be written into it.

    Parameters
    ----------
    path : str or None
        As typed; None for no file.
    endings : tuple of str
        With their dots, in lower case.
    what : str
        What is written: "a label".
    option : str
        How the file is given.

    Raises
    ------
    LabelerError
        With the endings that can be written.
    """
    if path is not None and not path.lower().endswith(endings):
        raise LabelerError(f"{option} {path}: {what} is written as {' or '.join(endings)}; end the name so")


def write_whole(path: str, data: bytes) -> None:
    """Write a file beside its place and move it there, so that nobody ever sees half of it.

    Raises
    ------
    LabelerError
        Where the folder is missing or cannot be written.
    """
    target = Path(path)
    try:
        handle, beside = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LabelerError(f"{path}: cannot be written ({reason}); check the folder") from None
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())  # the name must not outlive a power cut that its bytes do not
        umask = os.umask(0)
        os.umask(umask)
        os.chmod(beside, 0o666 & ~umask)
        os.replace(beside, target)
    except OSError as error:
        Path(beside).unlink(missing_ok=True)
        reason = (error.strerror or str(error)).lower()
        raise LabelerError(f"{path}: cannot be written ({reason}); check the folder") from None
