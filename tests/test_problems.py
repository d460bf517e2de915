"""The table of problem codes and the code agree: each code that is raised is explained, and no other is."""

import ast
import re
from pathlib import Path

import pytest

import labeler
from labeler.problems import CODES_FILE, problem_code, problem_codes

ROOT = Path(labeler.__file__).parent
MAKERS = {"Problem", "problem", "_problem", "say"}
CODE = re.compile(r"[a-z]+(?:-[a-z]+)*")


def raised():
    """Every code that some module makes a problem of; a family as "name-*"."""
    found = set()
    for path in ROOT.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or len(node.args) < 2:
                continue
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            first = node.args[0]
            if name == "Problem" and isinstance(first, ast.JoinedStr):
                found.add(f"{first.values[0].value}*")
            elif isinstance(first, ast.IfExp) and name == "Problem":
                found |= {first.body.value, first.orelse.value}
            elif name in MAKERS - {"Problem"} and path.parent.name.startswith("open"):
                continue  # the services put their family before the code in one place each
            elif name in MAKERS and isinstance(first, ast.Constant) and CODE.fullmatch(str(first.value)):
                found.add(first.value)
    return found


def test_every_code_that_is_raised_is_explained_and_no_other():
    """The table has the codes of the modules: add a row to labeler/data/problem_codes.csv for a new one."""
    assert raised() - set(problem_codes()) == set(), "codes without a row"
    assert set(problem_codes()) - raised() == set(), "rows that no module raises"


def test_every_row_says_what_and_how_to_mend():
    """Each row has a meaning and a way to mend, and the rows are in alphabetical order, each once."""
    rows = [row for row in CODES_FILE.read_text(encoding="utf-8").splitlines() if not row.startswith("#")][1:]
    codes = [row.partition(",")[0] for row in rows]
    assert codes == sorted(set(codes))
    for one in problem_codes().values():
        assert re.fullmatch(r"[a-z]+(?:-[a-z]+)*(?:-\*)?", one.code)
        assert len(one.meaning) > 10 and len(one.mend) > 3


def test_a_member_of_a_family_is_explained_by_it():
    """The code of a single caution is found; one that is none is a KeyError."""
    assert problem_code("caution-raw-milk").code == "caution-*"
    with pytest.raises(KeyError):
        problem_code("no-such-code")
