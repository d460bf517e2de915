"""The public Python API: its names are typed, lazy and complete, and the examples in its pages are true."""

import ast
import doctest
import inspect
import os
import statistics
import subprocess
import sys
from pathlib import Path

import pytest

import labeler

ROOT = Path(__file__).parents[1]
FUNCTIONS = sorted(name for name in labeler._HOME if name.islower())
HEAVY = ("numpy", "pandas", "reportlab", "pint", "yaml", "click", "lxml", "requests", "importlib.metadata")


def typed_names():
    """Name → module, of the imports that only a type checker sees."""
    tree = ast.parse(Path(labeler.__file__).read_text(encoding="utf-8"))
    block = next(node for node in tree.body if isinstance(node, ast.If))
    imports = [node for node in block.body if node.module != "typing"]
    return {alias.name: node.module for node in imports for alias in node.names}


def test_what_a_type_checker_sees_is_what_runs():
    """The typed imports, the table of homes and `__all__` name the same things, and each is there."""
    assert typed_names() == labeler._HOME
    assert set(labeler.__all__) == {*labeler._HOME, "__version__"} == set(dir(labeler))
    for name in labeler.__all__:
        assert getattr(labeler, name) is not None


def test_a_wrong_name_says_what_there_is():
    """An attribute that is not there is an AttributeError with the names that are."""
    with pytest.raises(AttributeError, match="read_recipe_file"):
        _ = labeler.read_recipes_file


def test_no_public_name_is_that_of_a_room():
    """A room that is imported becomes an attribute of the package and would stand in the place of the name."""
    rooms = {path.stem for path in Path(labeler.__file__).parent.iterdir()}
    assert not rooms & set(labeler.__all__)


def test_a_market_means_the_same_everywhere():
    """A function of a recipe takes `market` by name, None for the recipe's own; one without a recipe takes us."""
    without_recipe = {"declare", "weigh_line"}
    for name in FUNCTIONS:
        market = inspect.signature(getattr(labeler, name)).parameters.get("market")
        if market is not None:
            assert market.kind is inspect.Parameter.KEYWORD_ONLY, name
            assert market.default == ("us" if name in without_recipe else None), name


def test_what_is_weighed_for_a_market_is_assessed_for_it():
    """Nobody has to name the market twice: the recipe carries the one that it was weighed for."""
    weighed = labeler.weigh(labeler.read_recipe("- 1 stick celery\n"), market="eu")
    assert {found.allergen for found in labeler.assess(weighed).contains} == {"celery"}
    assert not labeler.assess(weighed, market="us").contains


def test_importing_the_package_imports_nothing_heavy():
    """`import labeler` is quick: at most 40 ms over bare Python in the best of nine starts, and no library with it."""
    code = f"import sys, labeler; print([name for name in {HEAVY} if name in sys.modules])"
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-X", "importtime", "-c", code]
    took = []
    for _ in range(9):
        done = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
        assert done.stdout == "[]\n"
        took.append(next(int(row.split("|")[1]) for row in done.stderr.splitlines() if row.endswith("| labeler")))
    assert min(took) < 40_000, f"{statistics.median(took)} µs"


def test_the_example_of_readme_runs(monkeypatch):
    """README's Python example gives what it shows."""
    monkeypatch.chdir(ROOT)
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    example = text.partition("```python\n")[2].partition("```")[0]
    found = doctest.DocTestParser().get_doctest(example, {}, "README.md", "README.md", 0)
    report = []
    runner = doctest.DocTestRunner(verbose=False)
    runner.run(found, out=report.append)
    assert runner.tries > 5 and not runner.failures, "".join(report)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_every_public_function_has_an_example_that_runs(name, monkeypatch, tmp_path):
    """Each docstring shows its function at work, and what it shows is true."""
    monkeypatch.chdir(ROOT)
    function = getattr(labeler, name)
    finder = doctest.DocTestFinder(recurse=False)
    tests = [found for found in finder.find(function, name, globs={"labeler": labeler}) if found.examples]
    assert tests, f"{name} has no example"
    page = function.__doc__
    assert "Returns\n" in page and ("Parameters\n" in page or not inspect.signature(function).parameters)
    report = []
    runner = doctest.DocTestRunner(verbose=False, optionflags=doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE)
    for test in tests:
        runner.run(test, out=report.append)
    assert not runner.failures, "".join(report)


def test_a_recipe_file_is_read_with_the_larder_that_is_given():
    """A larder as an argument wins over the files beside the recipe."""

    class Nothing:
        def named(self, name):
            return None

    larder = Nothing()
    assert labeler.read_recipe_file(ROOT / "demo" / "quay-pie.md", larder=larder).larder is larder
