"""Draining, rinsing, skimming, straining, discarding."""

from __future__ import annotations

import pytest
from kitchen_help import Put, amount, pot_of, streams, weighed

from labeler.cooking.models.separation import drain, rinse
from labeler.cooking.pipeline import cook


def test_canned_beans_drained_and_rinsed():
    """Draining takes 36 % of a can's sodium, rinsing 41 % (Jones and Mount, Univ. of Tennessee, IFT 2009)."""
    can = Put("red kidney beans", "16034", 439.0)
    whole = amount(pot_of(("beans", "16034", 439.0))[0], "NA")
    drained = cook(weighed({"Beans": [can, "drain"]})).mix
    rinsed = cook(weighed({"Beans": [can, "drain and rinse"]})).mix
    assert amount(drained, "NA") / whole == pytest.approx(0.64, abs=0.01)
    assert amount(rinsed, "NA") / whole == pytest.approx(0.59, abs=0.01)
    assert float(drained.total_mass[0]) / 439.0 == pytest.approx(0.64, abs=0.01)


def test_a_can_is_drained_wherever_its_line_stands():
    """What is poured off beside a can does not change which item is the can."""
    can = Put("red kidney beans", "16034", 439.0)
    others = [Put("water", "14411", 100.0), Put("cucumbers, sliced 3 mm", "11205", 100.0)]
    first, last = (cook(weighed({"Beans": [*rows, "drain"]})).mix for rows in ([can, *others], [*others, can]))
    assert amount(first, "NA") == pytest.approx(amount(last, "NA"))
    assert amount(first, "FIBTG") == pytest.approx(amount(last, "FIBTG"))


def test_a_line_that_says_rinsed_is_rinsed():
    """Beans that a line calls drained and rinsed lose what rinsing takes, 8 % of what drained beans hold."""
    plain = cook(weighed({"Beans": [Put("kidney beans, drained", "16145", 250.0)]})).mix
    rinsed = cook(weighed({"Beans": [Put("kidney beans, drained and rinsed", "16145", 250.0)]})).mix
    assert amount(rinsed, "NA") / amount(plain, "NA") == pytest.approx(0.92, abs=0.005)


@pytest.mark.parametrize(
    ("food", "sodium", "calcium"),
    # J. Am. Diet. Assoc. 1983;82:394: tuna -80 %, cottage cheese -63 % sodium in 3 minutes, calcium about halved.
    [("15121", 0.20, 0.5), ("01012", 0.37, 0.5)],
)
def test_three_minutes_under_water(food, sodium, calcium):
    """Tuna and cottage cheese lose the published share of sodium and calcium."""
    before = pot_of(("it", food, 100.0))[0]
    dish = cook(weighed({"It": [Put("it", food, 100.0), "rinse for 3 minutes"]}))
    assert amount(dish.mix, "NA") / amount(before, "NA") == pytest.approx(sodium, abs=0.01)
    assert amount(dish.mix, "CA") / amount(before, "CA") == pytest.approx(calcium, abs=0.01)


def test_the_bean_figure_is_not_used_on_vegetables():
    """Rinsed canned peas lose 5 % per 100 g (Haytowitz, FASEB J. 2011;25:609.3), not forty."""
    before = pot_of(("peas", "11308", 100.0))[0]
    dish = cook(weighed({"Peas": [Put("peas", "11308", 100.0), "rinse"]}))
    assert amount(dish.mix, "NA") / amount(before, "NA") == pytest.approx(0.95, abs=0.01)


def test_small_pieces_hold_more_of_the_liquid():
    """The film is in proportion to the surface."""

    def clings(words: str) -> float:
        mix, draws = pot_of(("water", "14411", 500.0), (words, "11124", 300.0))
        return float(drain(mix, draws=draws).kept.total_mass[0]) - 300.0

    assert 0.0 < clings("carrots, 3 cm dice") < clings("carrots, 5 mm dice") < 100.0


def test_nothing_to_drain():
    """Draining a dry pot changes nothing."""
    mix, draws = pot_of(("carrots", "11124", 300.0))
    assert drain(mix, draws=draws).kept is mix
    assert float(rinse(mix, minutes=None, draws=draws).kept.total_mass[0]) == pytest.approx(300.0)


def test_what_waits_beside_the_pot_is_not_drained():
    """ "Boil the potatoes, then drain" leaves milk and butter for the mash alone."""
    rows = [Put("potatoes", "11352", 1000.0), Put("milk", "01077", 100.0), Put("butter", "01145", 75.0)]
    dish = cook(weighed({"Mash": [*rows, "boil the potatoes 20 minutes, then drain"]}))
    assert sum(m for i, m in zip(dish.mix.items, dish.mix.mass[0], strict=True) if i.name == "milk") == pytest.approx(
        100.0
    )
    assert amount(dish.mix, "FAT") > 60.0


def test_spices_and_bones_are_discarded_and_shells_are_not_mussels():
    """Spices that are thrown out are out; shells were never weighed, and the mussels stay."""
    rows = [Put("cider vinegar", "02048", 500.0), Put("cinnamon", "02010", 5.0), Put("cloves", "02011", 2.0)]
    dish = cook(weighed({"Vinegar": [*rows, "bring to the boil, leave overnight", "discard the cinnamon and cloves"]}))
    gone = sum(entry.grams.best for entry in dish.ledgers[0].streams if entry.stream == "discarded")
    assert gone == pytest.approx(7.0, abs=0.5)
    assert {item.name for item in dish.mix.items} == {"cider vinegar"}
    dish = cook(weighed({"Phases": [Put("mussels in the shell", "15164", 300.0), "discard the shells"]}))
    assert float(dish.mix.total_mass[0]) == pytest.approx(300.0)
    assert not dish.problems


def test_what_is_not_there_cannot_be_discarded():
    """Throwing away what was never put in is a problem with the name."""
    dish = cook(weighed({"Phases": [Put("carrots", "11124", 300.0), "discard the star anise"]}))
    assert [problem.code for problem in dish.problems] == ["nothing-to-discard"]


def test_lifting_a_bird_out_is_not_throwing_it_away():
    """ "Take out the bay leaf" discards it, "take out the chicken" does not."""
    rows = [Put("chicken", "05006", 1000.0), Put("water", "14411", 2000.0), Put("bay leaves", "02004", 1.0)]
    dish = cook(weighed({"Phases": [*rows, "simmer 1 hour", "take out the chicken", "remove the bay leaves"]}))
    names = {item.name for item in dish.mix.items if item.phase == ""}
    assert "chicken" in names and "bay leaves" not in names


def test_straining_keeps_the_liquid():
    """A stock is what is left when the solids are strained out, with what they gave it."""
    rows = [Put("carrots, diced", "11124", 500.0), Put("water", "14411", 1000.0), Put("salt", "02047", 5.0)]
    dish = cook(weighed({"Stock": [*rows, "simmer, covered, 1 hour", "strain"]}))
    assert amount(dish.mix, "PROCNT") == pytest.approx(0.0)
    assert amount(dish.mix, "K") > 200.0
    assert streams(dish)["discarded"].amount("PROCNT").best > 4.0


def test_fat_that_is_poured_off_is_gone_and_named():
    """Browned mince whose fat is poured off has less fat, and the fat is a stream."""
    rows = [Put("ground beef", "23572", 500.0)]
    whole = cook(weighed({"Mince": [*rows, "brown the meat", Put("water", "14411", 50.0), "simmer 5 minutes"]}))
    poured = cook(
        weighed(
            {"Mince": [*rows, "brown the meat and pour off the fat", Put("water", "14411", 50.0), "simmer 5 minutes"]}
        )
    )
    assert amount(whole.mix, "FAT") == pytest.approx(100.0, abs=1.0)
    assert 50.0 < amount(poured.mix, "FAT") < 75.0
