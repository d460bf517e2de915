"""Where the larder of a recipe stands; a recipe without one pays nothing for it."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from labeler.files import read_bytes
from labeler.types import LabelerError

if TYPE_CHECKING:
    from labeler.larder.file import Larder

__all__ = ["FILE_NAME", "LarderFile", "find_larder", "larder_files", "larder_paths", "user_larder"]

FILE_NAME = "larder.toml"
PLACE = "LABELER_LARDER"
"""Environment variable that names the user's larder file instead of the one in the data folder."""


def larder_paths(source: str) -> tuple[Path, ...]:
    """Where the larder of a recipe may stand: beside it (in the working folder for ``-``), then the user's own.

    One place where the two are the same file.
    """
    folder = Path(source).parent if source not in ("", "-", "standard input") else Path()
    beside, own = folder / FILE_NAME, user_larder()
    return (beside,) if beside.absolute() == own.absolute() else (beside, own)


@dataclass(frozen=True, slots=True)
class LarderFile:
    """A larder's file as it was taken from the disk.

    Parameters
    ----------
    path : str
        Its name in messages.
    data : bytes
    unread : str
        Why it could not be read; empty where it was.
    """

    path: str
    data: bytes
    unread: str = ""


def larder_files(source: str) -> tuple[LarderFile, ...]:
    """The larders that a recipe sees, as they stand on the disk now, the first before the others."""
    found = []
    for path in larder_paths(source):
        if path.exists():
            try:
                found.append(LarderFile(str(path), read_bytes(str(path))))
            except LabelerError as error:
                found.append(LarderFile(str(path), b"", str(error)))
    return tuple(found)


def user_larder() -> Path:
    """The user's own larder file: what `LABELER_LARDER` names, else in the user's data folder."""
    named = os.environ.get(PLACE)
    if named:
        return Path(named)
    from platformdirs import user_data_path

    return user_data_path("labeler") / FILE_NAME


def find_larder(source: str) -> Larder | None:
    """The larder that stands with a recipe, its foods before those of the user's own.

    Parameters
    ----------
    source : str
        Path of the recipe's file, or ``-`` for standard input, which takes the working folder's.

    Returns
    -------
    Larder or None
        None where there is neither. A file that cannot be used leaves its foods out and is one of the larder's
        `problems`: whoever asks must say so, for a package that is not known may hold an allergen.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     _ = Path(folder, "larder.toml").write_text('[[food]]\\nname = "Chilli crisp"\\nlike = "peanut oil"\\n')
    ...     larder = labeler.find_larder(f"{folder}/soup.md")
    >>> larder.named("chilli crisp").name
    'Chilli crisp'
    """
    files = larder_files(source)
    if not files:
        return None
    from labeler.larder.file import larder_of_files

    return larder_of_files(files)
