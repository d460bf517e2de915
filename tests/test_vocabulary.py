"""Names are words of the trade or plain English: what a newcomer would search for."""

import ast
import re
from pathlib import Path

import labeler

ROOT = Path(labeler.__file__).parent
NOT_YET = ("flow", "cooking", "parsing/instructions")
"""Packages whose names are not yet gone through."""
OURS = re.compile(r"(?:^|_)(?:said|unsaid|slips?|deeds?|lain)(?:_|$)", re.IGNORECASE)
"""Words that meant something here alone: stated, typo, action, immersed are what others call these things."""


def names_of(path):
    """Every name that a module gives to something, with its own."""
    yield path.stem
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id
        elif isinstance(node, ast.arg):
            yield node.arg
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name


def test_no_name_is_of_a_private_vocabulary():
    """Variables, functions, classes and modules outside `NOT_YET` are called what others call them."""
    found = {
        f"{path.relative_to(ROOT)}: {name}"
        for path in ROOT.rglob("*.py")
        if not path.relative_to(ROOT).as_posix().startswith(NOT_YET)
        for name in names_of(path)
        if OURS.search(name)
    }
    assert found == set()
