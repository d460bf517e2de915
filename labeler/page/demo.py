"""A folder to look around in: the recipes of an invented stall."""

from __future__ import annotations

from pathlib import Path

from labeler.files import write_whole
from labeler.types import LabelerError

__all__ = ["examples", "make_demo"]


def examples() -> tuple[Path, ...]:
    """The demo's recipes: beside this module where it is installed, in the repository's ``demo`` where it is not."""
    packed = Path(__file__).with_name("examples")
    return tuple(sorted((packed if packed.is_dir() else Path(__file__).parents[2] / "demo").glob("*.md")))


def make_demo(folder: Path) -> None:
    """Put the demo's recipes into a folder, which is made where it is not there; files that are there stay.

    Raises LabelerError where it cannot be made.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LabelerError(f"{folder}: cannot be made ({reason})") from None
    for path in examples():
        if not (folder / path.name).exists():
            write_whole(str(folder / path.name), path.read_bytes())
