"""Options of `label` that would change nothing, and names that are no files."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from labeler.cli.main import commands
from labeler.types import LabelerError

RECIPE = "# Slaw\n- 1 kg cabbage\n- 2 tbsp vinegar\n> mix\n"


def _label(folder: Path, *options: str):
    file = folder / "slaw.md"
    file.write_text(RECIPE)
    return CliRunner().invoke(commands, ["label", str(file), "-o", str(folder / "slaw.pdf"), *options])


@pytest.mark.parametrize("options", [("--copies", "4"), ("--gaps", "5"), ("--crop-marks",)])
def test_options_of_sheets_are_refused_without_sheets(options, tmp_path):
    """What speaks of sheets is never passed over in silence where none are printed."""
    found = _label(tmp_path, *options)
    assert found.exit_code == 2 and "--sheet" in found.output and not (tmp_path / "slaw.pdf").exists()


@pytest.mark.parametrize(
    "options",
    [("--sheet", "2x2", "--copies", "-4"), ("--sheet", "2x2", "--copies", "100000"), ("--address", "javascript:x")],
)
def test_numbers_and_addresses_that_no_label_has_are_refused(options, tmp_path):
    """A print has at least one copy and not a hundred thousand, and a code leads to an address of the web."""
    assert isinstance(_label(tmp_path, *options).exception, LabelerError)


def test_a_name_of_any_length_is_a_name():
    """`foods` takes a word that is too long for a file's name as a name of a food."""
    found = CliRunner().invoke(commands, ["foods", "x" * 5000, "--json"])
    assert found.exit_code == 0 and found.stdout.count("\n") == 1
