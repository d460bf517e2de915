"""The help of every command ends with an example, and what the example shows is what the command answers."""

import re
import shlex
import shutil
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from labeler.cli.examples import EXAMPLES
from labeler.cli.main import commands

ROOT = Path(__file__).parents[2]
NETWORK_OR_BROWSER = {"opendata", "opendata search", "opendata food", "opendata pack", "page"}
FOLLOWED = sorted(EXAMPLES.keys() - NETWORK_OR_BROWSER)


def every_command(group=commands, above=()):
    """(words, command) of every command and group under a group."""
    for name, command in group.commands.items():
        yield " ".join((*above, name)), command
        if isinstance(command, click.Group):
            yield from every_command(command, (*above, name))


def test_every_command_has_an_example_and_every_example_a_command():
    """The table of examples and the commands have the same names."""
    assert {words for words, _ in every_command()} == set(EXAMPLES)


@pytest.mark.parametrize("words", sorted(EXAMPLES))
def test_the_help_ends_with_its_example(words):
    """Behind the options stands the example, its rows as a terminal of 80 columns shows them."""
    done = CliRunner().invoke(commands, [*words.split(), "--help"], prog_name="labeler", terminal_width=80)
    assert done.exit_code == 0
    shown = "\n".join(row.removeprefix("  ") for row in done.output.splitlines())
    assert shown.endswith(EXAMPLES[words].strip("\n"))
    assert f"labeler {words}" in EXAMPLES[words] and max(map(len, done.output.splitlines())) <= 84


@pytest.fixture
def stall(tmp_path, monkeypatch):
    """A folder with the demo's recipes, a list, a folder of recipes and a larder with one food."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("LABELER_LARDER", str(tmp_path / "larder.toml"))
    recipes = ("beetroot-relish.md", "harbour-box.md", "quay-pie.md")
    Path("stall").mkdir()
    for place in (Path(), Path("stall")):
        for name in recipes:
            shutil.copy(ROOT / "demo" / name, place / name)
    Path("list.txt").write_text("1 cup sugar\n2 garlic cloves\n", encoding="utf-8")
    return tmp_path


def typed(example):
    """The words of an example's command, what it reads from a pipe, and the answer that is shown."""
    rows = example.strip("\n").split("\n")
    last = next(at for at, row in enumerate(rows) if not row.endswith("\\"))
    command = " ".join(row.removesuffix("\\") for row in rows[: last + 1]).removeprefix("$ ")
    echoed, _, command = command.rpartition(" | ")
    stdin = "".join(f"{word}\n" for word in shlex.split(echoed)[1:])
    return shlex.split(command)[1:], stdin, "\n".join(rows[last + 1 :]) + "\n"


def pattern(shown):
    """What an answer must look like: the words as shown, anything in the place of dots, however wide the gaps."""
    return " ?".join(".*?" if word == "..." else re.escape(word).replace(r"\.\.\.", ".*?") for word in shown.split())


@pytest.mark.parametrize("words", FOLLOWED)
def test_an_example_answers_as_it_shows(words, stall):
    """Whoever types the example sees what it promises."""
    if words in ("larder list", "larder show", "larder check"):
        CliRunner().invoke(commands, typed(EXAMPLES["larder add"])[0])
    arguments, stdin, shown = typed(EXAMPLES[words])
    done = CliRunner().invoke(commands, arguments, input=stdin, prog_name="labeler")
    assert done.exit_code == 0, done.output
    assert re.fullmatch(pattern(shown), " ".join(done.output.replace("─", "").split()), re.DOTALL), done.output
