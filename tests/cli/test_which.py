"""Of several recipes in a file, every command takes the one that is asked for."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from labeler.cli.main import commands
from labeler.types import LabelerError

TABLE = "title,servings,ingredients,method\nSlaw,4,1 kg cabbage; 2 tbsp vinegar,Mix.\nToast,2,100 g bread,Toast it.\n"
COMMANDS = ["nutrition", "allergens", "method", "requirements", "post", "label", "worksheet"]


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_of_one_recipe_takes_which(command: str, tmp_path: Path) -> None:
    """`--which N` takes the Nth recipe, and a number beyond them is refused in a line."""
    file = tmp_path / "stall.csv"
    file.write_text(TABLE)
    found = CliRunner().invoke(commands, [command, str(file), "--which", "2", "--json", *_more(command)])
    assert found.exit_code == 0, found.output
    assert "cabbage" not in found.stdout and ("bread" in found.stdout or command == "requirements")
    beyond = CliRunner().invoke(commands, [command, str(file), "--which", "3", "--json"])
    assert isinstance(beyond.exception, LabelerError) and "--which 3 is none of them" in str(beyond.exception)


def _more(command: str) -> list[str]:
    return ["--anyway"] if command in ("post", "label") else []


def test_which_of_lines_is_refused(tmp_path: Path) -> None:
    """A list of lines holds no several recipes."""
    file = tmp_path / "lines.txt"
    file.write_text("1 cup milk\n")
    found = CliRunner().invoke(commands, ["allergens", "--lines", str(file), "--which", "2"])
    assert found.exit_code == 2 and "--which" in found.output
