"""The direction of flow, read off the imports: parsing, foods, flow, cooking, nutrition, rules, what people see."""

import ast
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "labeler"
FLOW = (
    *(
        "data_files",
        "types",
        "problems",
        "text",
        "markets",
        "parsing",
        "foods",
        "flow",
        "cooking",
        "uncertainty",
        "nutrition",
        "rules",
    ),
    *("food_safety", "label", "flow_diagram", "post", "worksheet", "charts"),
)
"""Each may import those before it; the skins behind them import what they show."""
ENTRANCES = {"larder", "open_data", "importers"}
SKINS = {"batch", "cli", "page"} | ENTRANCES


def imports():
    """Room → the rooms that any of its modules imports, also inside functions and for types only.

    The package itself is left out: it names what every room offers and does nothing.
    """
    found = defaultdict(set)
    for path in sorted(set(ROOT.rglob("*.py")) - {ROOT / "__init__.py"}):
        room = path.relative_to(ROOT).with_suffix("").parts[0]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").partition(".")[0] == "labeler":
                names = [node.module] if node.module != "labeler" else [f"labeler.{name.name}" for name in node.names]
            elif isinstance(node, ast.Import):
                names = [name.name for name in node.names if name.name.startswith("labeler.")]
            else:
                continue
            found[room] |= {name.split(".")[1] for name in names} - {room}
    return found


def behind(room, graph):
    """Every room that a room rests on."""
    seen, waiting = set(), [room]
    while waiting:
        for other in graph.get(waiting.pop(), ()):
            if other not in seen:
                seen.add(other)
                waiting.append(other)
    return seen


def test_no_room_rests_on_itself():
    """Following imports never leads back to where one began."""
    graph = imports()
    assert {room for room in graph if room in behind(room, graph)} == set()


@pytest.mark.parametrize("at", range(len(FLOW)))
def test_a_room_rests_on_none_that_comes_after_it(at):
    """Whatever a room imports, by whatever way, stands before it in the flow."""
    assert behind(FLOW[at], imports()).isdisjoint(FLOW[at + 1 :])


def test_only_skins_import_the_entrances():
    """What a recipe is read from (a larder, the network, a page) is no business of the rooms that it goes through."""
    assert {room for room, others in imports().items() if others & ENTRANCES} <= SKINS


def test_no_module_is_longer_than_can_be_read():
    """A module over 400 lines is two modules."""
    every = [*ROOT.rglob("*.py"), *(ROOT.parent / "reference").glob("*.py")]
    lengths = {str(path.relative_to(ROOT.parent)): len(path.read_text(encoding="utf-8").splitlines()) for path in every}
    assert {name: length for name, length in lengths.items() if length > 400} == {}
