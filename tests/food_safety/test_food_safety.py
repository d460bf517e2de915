"""Foods and handlings against the cautions that they call for, and the decisions as functions of typed facts."""

from __future__ import annotations

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest

import labeler.food_safety
from labeler.food_safety import SafetyFacts, cautions, decide
from labeler.food_safety.food_kinds import kinds_by_table, rows
from labeler.food_safety.model import Composition, FoodKind, Heating, HeatTreatment, Keeping
from labeler.food_safety.preservation import keeps_by_itself
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

CASES = [
    [cell.strip() for cell in line.split("|")]
    for line in (Path(__file__).parents[1] / "data" / "food_safety_cases.txt").read_text(encoding="utf-8").splitlines()
    if line.strip() and not line.startswith("#")
]
"""Title and head, lines, handling, what must be raised, what must not, and the authority: see the file."""


def codes(head: str, lines: str, handling: str) -> set[str]:
    """The cautions of a recipe that a row of the table tells."""
    title, *settings = re.split(r" (?=(?:storage|makes|ph): )", head)
    text = "".join(f"{one}\n" for one in ("---", f"title: {title}", *settings, "---"))
    text += "".join(f"- {one.strip()}\n" for one in lines.split(";"))
    text += "".join(f"> {one.strip()}\n" for one in handling.split(";"))
    return {caution.code for caution in cautions(weigh(read_recipe(text)))}


def test_the_table_is_whole() -> None:
    """At least 150 rows, each with its authority or "common practice", and every code one that can be raised."""
    known = {row["code"] for row in rows("cautions.csv")} | {"home-kitchen-meat"}
    assert len(CASES) >= 150
    for case in CASES:
        assert len(case) == 6 and case[5], case
        assert set(case[3].split()) | set(case[4].split()) <= known, case


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[0][:40])
def test_each_food_and_handling_has_its_cautions(case: list[str]) -> None:
    """What the table asks for is raised, and what it calls a false alarm is not."""
    head, lines, handling, must, never, authority = case
    found = codes(head, lines, handling)
    assert set(must.split()) <= found, authority
    assert found.isdisjoint(never.split()), authority


def beef(**changes: object) -> HeatTreatment:
    """A steak."""
    return replace(HeatTreatment("steak", "1 steak", frozenset({FoodKind.MEAT})), **changes)


NOT_PACKED = Keeping()


def raised(*foods: HeatTreatment, keeping: Keeping = NOT_PACKED) -> set[str]:
    """The cautions of typed facts."""
    return {caution.code for caution in decide(SafetyFacts(foods, keeping=keeping))}


@pytest.mark.parametrize("heating", [Heating.NONE, Heating.POURED, Heating.SURFACE])
def test_heat_that_does_not_reach_the_middle_leaves_meat_undercooked(heating: Heating) -> None:
    """Hot broth poured over it and a seared surface count as undercooked: FDA Food Code 3-603.11."""
    assert "raw-animal-food" in raised(beef(heating=heating))
    assert "raw-animal-food" not in raised(beef(heating=Heating.COOKED))


def test_the_words_of_a_line_decide_nothing() -> None:
    """The same facts under other words raise the same cautions."""
    plain = beef(heating=Heating.COOKED, dry_heat=True)
    assert raised(plain) == raised(replace(plain, name="raw chicken in oil", text="6 jars of raw eggs"))


def test_a_ferment_that_is_kept_cold_is_never_told_of_a_pressure_canner() -> None:
    """Its own acid keeps it, in the cold: no low-acid jar."""
    cabbage = HeatTreatment("cabbage", "1 cabbage", frozenset({FoodKind.LOW_ACID}))
    cold = Keeping(sealed=True, cold=True, fermented=True)
    assert not {"low-acid-jar", "fermented-jar"} & raised(cabbage, keeping=cold)
    assert "fermented-jar" in raised(cabbage, keeping=replace(cold, cold=False))
    assert "low-acid-jar" in raised(cabbage, keeping=Keeping(sealed=True))


def test_what_keeps_a_food_without_the_cold() -> None:
    """Dryness, sugar, salt, baking with flour, a pH: 21 CFR 114.3, 150.160, common practice."""
    wet = Composition(total=100, water=70, salt=1, sugar=5, flour=10)
    assert not keeps_by_itself(wet, (), None) and not keeps_by_itself(None, (), None)
    assert keeps_by_itself(wet, (), 4.6) and not keeps_by_itself(wet, (), 4.7)
    assert keeps_by_itself(replace(wet, water=10), (), None)
    assert keeps_by_itself(replace(wet, water=30, sugar=60), (), None)
    assert keeps_by_itself(replace(wet, water=60, salt=10), (), None)
    baked = Composition(total=100, water=38, salt=1, sugar=5, flour=55, oven=True)
    assert keeps_by_itself(baked, (), None)
    assert not keeps_by_itself(baked, (HeatTreatment("cream", "cream", frozenset({FoodKind.SOFT_DAIRY})),), None)


@pytest.mark.parametrize(
    ("food", "kind", "is_it"),
    [("13970", FoodKind.MEAT, True), ("23572", FoodKind.GROUND_MEAT, True), ("04001", FoodKind.MEAT, False),
     ("01125", FoodKind.EGG, True), ("16427", FoodKind.TOFU, True), ("06172", FoodKind.POULTRY, False),
     ("17164", FoodKind.GAME, True), ("07072", FoodKind.GROUND_MEAT, False)],
)  # fmt: skip
def test_the_table_entry_says_what_a_food_is(food: str, kind: FoodKind, is_it: bool) -> None:
    """SR28: flank steak and minced beef are meat, tallow and stock are none, salami is ready to eat."""
    assert (kind in kinds_by_table(food)) is is_it


def test_only_the_adapter_reads_words_of_a_recipe() -> None:
    """No decision looks into a text: none of these modules imports `re` or the reader of handling."""
    room = Path(labeler.food_safety.__file__).parent
    for path in room.glob("*.py"):
        if path.name in ("from_flow.py", "food_kinds.py", "wording.py"):
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
        froms = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
        assert "re" not in names and "labeler.parsing.instructions.parser" not in froms, path.name


def test_a_part_without_foods_of_its_own_has_its_cautions() -> None:
    """A part of nothing but another part is read like any other."""
    text = "---\ntitle: Box\n---\n## Sauce\n- 100 ml olive oil\n- 1 clove garlic\n> blend\n## Box\n- all of the Sauce\n"
    assert "flavoured-oil" in {caution.code for caution in cautions(weigh(read_recipe(text)))}


def test_meat_of_which_the_line_leaves_open_whether_it_is_raw_counts_as_raw():
    """ "Cooked or raw" that no step heats counts as raw: the careful reading (common practice, no source)."""
    recipe = read_recipe(
        "# Salad\n- 200 g diced chicken (cooked or raw)\n- 200 g rice\n"
        "> boil the rice 15 minutes, drain\n> stir in the chicken\n"
    )
    assert "raw-animal-food" in {caution.code for caution in cautions(weigh(recipe))}
