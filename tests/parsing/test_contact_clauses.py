"""Clauses that only tell which thing is meant are left out; those that tell what was done stay."""

import pytest
from method_help import deeds


@pytest.mark.parametrize(
    ("sentence", "wanted"),
    [
        ("The liquor that has gathered is tipped away.", [("drain", ["liquor"])]),
        ("Pour off the juice that has run out and fry the leeks.", [("drain", ["juice"]), ("pan-fry", ["leeks"])]),
        ("Lower it into a tin that just holds it.", [("add", ["it"])]),
    ],
)
def test_a_clause_that_tells_which_names_nothing(sentence, wanted):
    """What identifies a thing neither ends the deed nor adds another."""
    found = [(one.action, [m.name for m in one.mentions if m.role.value == "object"]) for one in deeds(sentence)]
    assert found == wanted


def test_a_rest_is_still_a_rest():
    """ "That is left" counts how much is meant."""
    (one,) = deeds("Throw away the dressing that is left.")
    assert one.mentions[0].quantity.extent.value == "rest"


def test_what_was_done_before_is_still_read():
    """ "That was soaked overnight" is a soak, and no way of telling the rice."""
    assert deeds("Add the rice that was soaked overnight.")[0].minutes is not None
