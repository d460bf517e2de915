"""What stays in a pan and what leaves it: fat that is eaten, flour that clings, water that nobody lists."""

import pytest

from labeler.food_safety import cautions
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe


def run(text, head="makes: 4 tubs"):
    """Figures of one part without a heading."""
    return analyse(read_recipe(f"---\ntitle: Test\n{head}\n---\n{text}\n", source="test.md"), draws=0)


def left(nutrition, *streams):
    rows = [row for part in nutrition.parts for row in part.ledger]
    return sum(row.grams for row in rows if row.stream in streams and row.step not in ("in", "kept"))


@pytest.mark.parametrize("deed", ["melt the butter", "brown the butter, leave to cool", "fry the flour in the butter"])
def test_butter_that_is_browned_or_takes_flour_is_eaten(deed):
    """Nothing is lifted out of a roux or of brown butter, so the fat is in the dish."""
    lines = "- 250 g unsalted butter\n- 120 g icing sugar\n- 350 g plain flour\n"
    found = run(f"{lines}> {deed}\n> bake 15 minutes at 180 °C")
    assert left(found, "poured off", "stuck to the pan") == pytest.approx(0.0, abs=0.5)
    assert found.batch["FAT"].best > 200.0


def test_of_a_coating_that_is_left_over_what_clings_stays():
    """Dredged food keeps some of the flour when the rest is thrown away, and the share is said to be a guess."""
    lines = "- 1 kg chicken thighs, boned\n- 300 g plain flour\n- 2 litres sunflower oil\n"
    found = run(f"{lines}> dredge in the flour, discard the leftover flour\n> deep-fry to 75 °C, drain")
    assert 100.0 < left(found, "left on the plate") < 290.0
    assert found.batch["CHOCDF"].best > 10.0
    assert "coating-assumed" in {problem.code for problem in found.problems}


def test_what_is_boiled_already_needs_no_second_water():
    """Rice that was boiled and drained is wet: what simmers with it afterwards is not washed."""
    lines = "- 2 tbsp soy sauce\n- 480 g canned chickpeas, drained\n- 250 g basmati rice\n"
    found = run(f"{lines}> boil the rice 12 minutes, drain\n> simmer 20 minutes")
    water = sum(row.grams for row in found.parts[0].ledger if row.stream == "water in the pot, not listed")
    assert water == pytest.approx(2000.0, rel=0.01)
    assert found.batch["NA"].best > 2500.0


def test_meat_that_is_cooked_in_a_named_fat_gives_it_juice_and_fat():
    """ "Cook in the lard" is about what lies in it; a confit weighs less than what went in."""
    lines = "- 800 g pork belly\n- 1 kg lard\n"
    found = run(f"{lines}> cook in the lard at 130 °C for 3 hours, lift out, discard the fat")
    assert sum(part.grams_kept for part in found.parts) < 700.0
    assert left(found, "poured off") > 1050.0
    assert "nothing-to-discard" not in {problem.code for problem in found.problems}


def test_water_that_a_sentence_names_is_in_the_pot_and_is_poured_off():
    """Prawns poached in water that no line lists give their juice to it, and are lifted out."""
    found = run("- 500 g raw prawns, peeled\n> poach in simmering water 2 minutes")
    assert left(found, "poured off") > 1000.0
    assert sum(part.grams_kept for part in found.parts) < 470.0


def test_an_amount_in_a_sentence_does_not_hide_the_food_that_it_adds():
    """ "Add half a pound of crab at the end" is a food among no line, and counts (SR28 15139: 18 % protein)."""
    found = run("- 200 g lettuce\n> Add half a pound of crab at the end.")
    assert "not-among-lines" in {problem.code for problem in found.problems}
    assert found.batch["PROCNT"].best > 0.18 * 226.0


@pytest.mark.parametrize(
    ("said", "raw"), [("smoke at 110 °C to 95 °C", False), ("hot-smoke 4 hours", False), ("smoke 12 hours", True)]
)
def test_hot_smoke_cooks_and_cold_smoke_does_not(said, raw):
    """Meat is called raw after smoke that is not said to be hot, and not after smoke that cooks it."""
    recipe = run(f"- 2 kg beef brisket\n> {said}", head="makes: 8 plates")
    told = " ".join(one.text for one in cautions(recipe.weighed, market="us"))
    assert ("raw or undercooked" in told) is raw


def test_oil_that_food_took_up_counts_when_it_is_fried_again():
    """Frying told in three steps leaves as much oil in the food as frying told in one."""
    lines = "- 900 g chicken pieces\n- 80 g flour\n- 1 l oil, for frying\n> coat the chicken in the flour\n> "
    once = run(lines + "fry in the hot oil for 30 minutes, drain on paper")
    thrice = run(
        lines + "fry in the hot oil for 5 minutes\n> cover and fry 20 minutes\n> fry for 5 minutes, drain on paper"
    )
    fat = [found.per_100g["FAT"].best for found in (once, thrice)]
    assert abs(fat[0] - fat[1]) < 1.0, fat
