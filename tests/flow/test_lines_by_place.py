"""Lines that the method names by where they stand go in where it says so."""

from __future__ import annotations

from labeler.flow.build import build_flow
from labeler.flow.model import FromLine
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

LINES = "# Harbour ham\n- 1.5 kg gammon\n- 3 litres water\n- 1 onion\n- 2 carrots\n- 6 peppercorns\n- 1 kg potatoes\n"


def lines_of(method, action):
    """The places of the lines that the first node of an action takes."""
    flow = build_flow(weigh(read_recipe(f"{LINES}> {method}\n")), market="us").parts[0]
    node = next(one for one in flow.nodes if one.action == action)
    return [one.source.index for one in node.inputs if isinstance(one.source, FromLine)]


def test_the_next_lines_are_those_behind_the_last_that_was_named():
    """The water of the list is one of them, and no soak; the potatoes wait until they are named."""
    told = "Put the gammon in a pot; add water and next 3 ingredients (water through peppercorns). Simmer 2 hours. "
    told += "Boil the potatoes."
    assert lines_of(told, "simmer") == [0, 1, 2, 3, 4]
    assert lines_of("Put the first 5 ingredients in a pot. Simmer 2 hours. Boil the potatoes.", "simmer") == [
        0,
        1,
        2,
        3,
        4,
    ]
    assert lines_of("Put the gammon in a pot. Add the next 2 ingredients. Simmer 2 hours.", "simmer")[:3] == [0, 1, 2]


def test_water_that_covers_is_new_where_that_of_the_list_is_used():
    """What was drained off is nothing to boil potatoes in."""
    told = (
        "Put the gammon in a pot; add water and next 3 ingredients. Simmer 2 hours. Lift out the gammon and drain. Put "
        "the potatoes in a pan. Cover with water. Boil 20 minutes. Drain."
    )
    assert lines_of(told, "add") == [5]
