"""Foods and handlings with the cautions that they call for, decided beforehand, read from a file of cases."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from labeler.food_safety import cautions
from labeler.food_safety.food_kinds import rows
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe
from labeler.parsing.handling_words import Saying, sayings, words_of

CASES: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "data" / "handling_cases.yaml").read_text(encoding="utf-8")
)
CODES = {row["code"] for row in rows("cautions.csv")}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_handling_has_its_cautions_and_no_others(case: dict[str, Any]) -> None:
    """Each case raises every caution that it must and none that it must not; its authority stands in the file."""
    found = {caution.code for caution in cautions(weigh(read_recipe(case["recipe"])), market="us")}
    assert set(case["must"]) <= found
    assert found.isdisjoint(case["not"])


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_every_case_names_known_cautions_and_its_authority(case: dict[str, Any]) -> None:
    """A case that judges a caution nobody raises would hold whatever the program does."""
    assert {*case["must"], *case["not"]} <= CODES
    assert case["why"] and set(case) == {"name", "recipe", "must", "not", "why"}


def test_a_case_that_must_fail_fails() -> None:
    """The runner is no rubber stamp: a roast calls for no caution on jars."""
    found = {caution.code for caution in cautions(weigh(read_recipe("- 1 kg pork loin\n> roast 1 hour\n")))}
    assert "low-acid-jar" not in found and "no-core-temperature" in found


@pytest.mark.parametrize(
    ("text", "saying"),
    [
        ("until slightly pink in the middle", Saying.LEFT_PINK),
        ("stir over simmering water", Saying.WARMED),
        ("ladle into sterilised jars", Saying.CLOSED),
        ("store in a cool, dark place", Saying.ROOM),
        ("keep at 5 °C", Saying.COLD),
        ("discard the bones", Saying.BONES_OUT),
    ],
)
def test_what_words_tell_is_typed(text: str, saying: Saying) -> None:
    """Whoever decides asks for a member of the enumeration and reads no text."""
    assert saying in sayings(text)


def test_what_is_no_longer_pink_is_not_left_pink() -> None:
    """A word right before denies it."""
    assert Saying.LEFT_PINK not in sayings("until no longer pink inside")
    assert words_of("once opened keep cold", Saying.AFTER_OPENING) == "once opened"
