"""The pages for people: every file that they name is there, and every source of data is listed."""

import ast
import importlib
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PAGES = ("README.md", "DEVELOPERS.md", "reference/README.md")
NAMED = re.compile(r"`((?:labeler|tests|reference|demo)/[\w./-]+)`")


@pytest.mark.parametrize("page", PAGES)
def test_every_file_that_a_page_names_is_there(page):
    """A path in a page is one of the repository."""
    named = NAMED.findall((ROOT / page).read_text(encoding="utf-8"))
    assert named and [path for path in named if not (ROOT / path).exists()] == []


def test_every_script_of_reference_is_listed():
    """reference/README.md names each script that stands beside it, or the module of a script that uses it says so."""
    text = (ROOT / "reference" / "README.md").read_text(encoding="utf-8")
    texts = text + "".join(path.read_text(encoding="utf-8") for path in (ROOT / "reference").glob("*.py"))
    for path in (ROOT / "reference").glob("*.py"):
        assert path.name in text or f"import {path.stem}" in texts or f"from {path.stem} import" in texts, path.name


def test_the_questions_of_a_newcomer_have_their_answers():
    """Each file of "Where is …?" holds what the page says to look for there."""
    section = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Where is …?")[2].partition("\n## ")[0]
    answers = re.findall(r"^\| .* \| `([^`]+)` \| `([^`]+)` \|$", section, re.MULTILINE)
    assert len(answers) == 20
    assert [path for path, words in answers if words not in (ROOT / path).read_text(encoding="utf-8")] == []


@pytest.mark.parametrize("script", sorted((ROOT / "reference").glob("*.py")), ids=lambda script: script.name)
def test_a_script_of_reference_finds_what_it_imports(script: Path) -> None:
    """Each name that a script takes from the package is there."""
    for node in ast.walk(ast.parse(script.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("labeler"):
            module = importlib.import_module(node.module or "")
            for name in node.names:
                if not hasattr(module, name.name):
                    importlib.import_module(f"{node.module}.{name.name}")
