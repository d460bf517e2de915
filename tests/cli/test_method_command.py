"""The command that shows how a method was read."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner

from labeler.cli.main import commands

RECIPE = """---
title: Brined pork <& crackling>
serves: 4
---
## Ingredients
- 2 litres water
- 100 g salt
- 1 kg pork loin
- 20 g butter

## Method
1. Dissolve the salt in the water and soak the pork in it overnight.
2. Drain, pat dry and roast at 180 °C for 70 minutes.
3. Flummox the gribbles.
"""


@pytest.fixture
def recipe(tmp_path: Path) -> str:
    file = tmp_path / "pork.md"
    file.write_text(RECIPE, encoding="utf-8")
    return str(file)


def test_the_object_says_what_was_done_to_each_line(recipe: str) -> None:
    """`--json` writes one object: steps, ingredients with what of them is kept, streams."""
    done = CliRunner().invoke(commands, ["method", recipe, "--json"])
    assert done.exit_code == 0, done.output
    found = json.loads(done.stdout)
    kept = {one["text"]: one["kept"]["best"] for one in found["ingredients"]}
    assert kept["1 kg pork loin"] > 0.8 and kept["100 g salt"] < 0.4
    assert any(one["to"] == "leaves" for one in found["streams"])
    assert [one["text"] for one in found["unread"]] or found["problems"]


def test_the_table_names_steps_and_ingredients(recipe: str) -> None:
    """Without options it is a table of steps and one of ingredients."""
    done = CliRunner().invoke(commands, ["method", recipe])
    assert done.exit_code == 0, done.output
    for words in ("as written", "pork loin", "in the dish", "roast"):
        assert words in done.stdout


@pytest.mark.parametrize("ending", ["svg", "pdf"])
def test_a_drawing_is_written_whole_and_the_same_each_time(recipe: str, tmp_path: Path, ending: str) -> None:
    """`-o` writes the drawing; the same recipe gives the same bytes."""
    files = [tmp_path / f"{at}.{ending}" for at in (1, 2)]
    for file in files:
        assert CliRunner().invoke(commands, ["method", recipe, "-o", str(file)]).exit_code == 0
    assert files[0].read_bytes() == files[1].read_bytes()
    if ending == "pdf":
        assert "Brined pork <& crackling>" in pypdfium2.PdfDocument(files[0])[0].get_textpage().get_text_range()
    else:
        assert "Brined pork &lt;&amp; crackling&gt;" in files[0].read_text(encoding="utf-8")


def test_other_endings_are_refused(recipe: str, tmp_path: Path) -> None:
    """A drawing is .svg or .pdf, and the refusal says so."""
    done = CliRunner().invoke(commands, ["method", recipe, "-o", str(tmp_path / "flow.gif")])
    assert done.exit_code != 0 and not (tmp_path / "flow.gif").exists()
