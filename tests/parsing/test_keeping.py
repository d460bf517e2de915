"""How a food is kept, as its storage text says it."""

from __future__ import annotations

import pytest

from labeler.parsing.keeping import storage_beside_cold


@pytest.mark.parametrize(
    ("storage", "left"),
    [
        ("Keep cool.", ""),
        ("Keep cool. Eat within 3 days of opening.", "Eat within 3 days of opening."),
        ("Keep cool, at 4 °C.", "Keep cool, at 4 °C."),
        ("Store in a cool dry place.", "Store in a cool dry place."),
    ],
)
def test_merely_cool_does_not_stand_beside_keep_refrigerated(storage: str, left: str) -> None:
    """A sentence that says no more than cool gives way to the caution; one with a temperature stays."""
    assert storage_beside_cold(storage) == left
