"""Holds what every command says of a recipe as it was posted against what it says of the recipe file made of it.

Usage::

    python reference/check_import.py FOLDER... [--lines LINES.csv] [--count 500] [--from 0] [--seconds 280]

Each FOLDER holds recipes in any form that the program reads. LINES.csv has the columns `file` and `text`, an ingredient
line a row; the lines of one file are written as a page with stars for bullets. Every recipe is put through `import`,
then every command that answers in JSON is asked of both files, in one process. Where a thing stands in its file is no
part of an answer, and neither is what only tells how the file is written, as `import` has told it. Prints each
difference with its place in the answer, and how many recipes had none; ends after `--seconds` with the number to go
on `--from`.
"""

from __future__ import annotations

import json
import re
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from click.testing import CliRunner
from recipe_files import options_of, recipe_paths, texts_of_lines

from labeler.cli.main import commands

COMMANDS = (
    ("lines",), ("nutrition",), ("method",), ("allergens",), ("requirements",), ("label", "--anyway"),
    ("worksheet",), ("post", "--anyway"),
)  # fmt: skip
OF_THE_FORM = frozenset(
    "taken-for-title mark-missing several-recipes another-way encoding-mended head-title not-a-step not-an-ingredient"
    .split()
)  # fmt: skip
"""Problems of how a file is written, which `import` tells and whose cause is gone in what it writes."""
_ROW = re.compile(r"\b(line) \d+\b", re.IGNORECASE)
PLACES = frozenset({"line", "number"})
"""Keys of an answer that say in which row of the file a thing stands."""


def answer(command: tuple[str, ...], path: Path) -> Any:
    """What a command says of a file, as data; of one that is refused the reason without the file's name."""
    found = CliRunner().invoke(commands, [command[0], str(path), *command[1:], "--json"])
    if found.exception is not None and not isinstance(found.exception, SystemExit):
        return f"{type(found.exception).__name__}: {found.exception}".replace(str(path), "the file")
    if command[0] == "lines":
        return [json.loads(row) for row in found.stdout.splitlines()]
    return json.loads(found.stdout) if found.stdout else found.stderr.replace(str(path), "the file")


def differences(one: Any, other: Any, where: str = "") -> Iterator[str]:
    """Where two answers differ."""
    if isinstance(one, list) and isinstance(other, list):
        one, other = _lasting(one), _lasting(other)
    if isinstance(one, str) and isinstance(other, str):
        one, other = (_ROW.sub(r"\1", text) for text in (one, other))
    if isinstance(one, dict) and isinstance(other, dict):
        for key in dict.fromkeys((*one, *other)):
            if key not in PLACES:
                yield from differences(one.get(key), other.get(key), f"{where}.{key}")
    elif isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        for at, (left, right) in enumerate(zip(one, other, strict=True)):
            yield from differences(left, right, f"{where}[{at}]")
    elif one != other:
        yield f"{where or 'whole'}: {str(one)[:90]!r} is {str(other)[:90]!r}"


def _lasting(found: list[Any]) -> list[Any]:
    """A list of an answer without the problems of the file's form."""
    return [one for one in found if not (isinstance(one, dict) and one.get("code") in OF_THE_FORM)]


def compared(path: Path, folder: Path) -> list[str]:
    """Every difference between a file and its import; written into a folder."""
    again = folder / "again.md"
    made = CliRunner().invoke(commands, ["import", str(path), "-o", str(again)])
    if made.exit_code or made.exception is not None:
        return [f"import: {made.exception or made.stderr}"]
    found: list[str] = []
    for command in COMMANDS:
        told = list(differences(answer(command, path), answer(command, again)))
        found += [f"{command[0]} {one}" for one in told[:4]]
    return found


def files_of(folders: list[Path], lines: Path | None, folder: Path) -> Iterator[Path]:
    """Every file to compare, those of the folders first; pages of the lines of a table are written into a folder."""
    yield from recipe_paths(folders)
    for at, texts in enumerate(texts_of_lines(lines).values() if lines is not None else ()):
        path = folder / f"lines-{at:03}.md"
        path.write_text("# Lines\n\nServes 4\n\n## Ingredients\n\n" + "".join(f"* {text}\n" for text in texts))
        yield path


def main() -> int:
    """Print every difference and the count; 1 where there are any."""
    options = options_of(__doc__, count=500).parse_args()
    end, done, differing = time.monotonic() + options.seconds, 0, 0
    with tempfile.TemporaryDirectory() as made:
        files = list(files_of(options.folders, options.lines, Path(made)))
        for path in files[options.first : options.first + options.count]:
            if time.monotonic() > end:
                print(f"go on with --from {options.first + done}")
                break
            found = compared(path, Path(made))
            done, differing = done + 1, differing + bool(found)
            for one in found:
                print(f"{path.name}: {one}", flush=True)
    print(f"{done} recipes of {len(files)}, {differing} with a difference", flush=True)
    return 1 if differing else 0


if __name__ == "__main__":
    sys.exit(main())
