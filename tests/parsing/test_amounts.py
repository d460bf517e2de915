"""Numbers, units and amounts: every way in which cooks write them, and what a unit holds."""

import csv

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.parsing.ingredient.amounts import amounts_agree, in_unit, read_measures, read_unit
from labeler.parsing.model import Amount
from labeler.parsing.numbers import read_quantity, tidy
from labeler.parsing.units import (
    MEASURES_FILE,
    SPELLINGS,
    UNITS_FILE,
    canonical_unit,
    grams_per,
    kind,
    kitchen_registry,
    millilitres_per,
)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("2", 2, 2),
        ("1/2", 0.5, 0.5),
        ("½", 0.5, 0.5),
        ("1½", 1.5, 1.5),
        ("1 ½", 1.5, 1.5),
        ("1-½", 1.5, 1.5),
        ("1 1/2", 1.5, 1.5),
        ("1-1/2", 1.5, 1.5),
        ("1 and 1/2", 1.5, 1.5),
        ("1 1⁄2", 1.5, 1.5),
        ("1 / 2", 0.5, 0.5),
        ("2⅔", 8 / 3, 8 / 3),
        ("⅛", 0.125, 0.125),
        ("11/2", 1.5, 1.5),  # run together in print; nobody writes five and a half so
        ("3/2", 1.5, 1.5),
        ("1.5", 1.5, 1.5),
        ("1,5", 1.5, 1.5),
        (".5", 0.5, 0.5),
        ("0,25", 0.25, 0.25),
        ("1,000", 1000, 1000),
        ("1,250.5", 1250.5, 1250.5),
        ("2-3", 2, 3),
        ("2–3", 2, 3),
        ("2 — 3".replace("—", "–"), 2, 3),
        ("6 -8", 6, 8),
        ("2 to 3", 2, 3),
        ("2 or 3", 2, 3),
        ("4- to 5", 4, 5),
        ("3-to-4", 3, 4),
        ("2-2 1/2", 2, 2.5),
        ("1/4 to 1/2", 0.25, 0.5),
        ("½-1", 0.5, 1),
        ("1 to 1 ¼", 1, 1.25),
        ("3-2", 2, 3),
        ("between 2 and 3", 2, 3),
        ("between two and three", 2, 3),
        ("one", 1, 1),
        ("Twelve", 12, 12),
        ("twenty-four", 24, 24),
        ("two or three", 2, 3),
        ("one and a half", 1.5, 1.5),
        ("1 and a half", 1.5, 1.5),
        ("one-half", 0.5, 0.5),
        ("two thirds", 2 / 3, 2 / 3),
        ("three quarters of a", 0.75, 0.75),
        ("half", 0.5, 0.5),
        ("half a", 0.5, 0.5),
        ("half an", 0.5, 0.5),
        ("a half", 0.5, 0.5),
        ("a quarter of a", 0.25, 0.25),
        ("3/4 of a", 0.75, 0.75),
        ("a", 1, 1),
        ("a dozen", 12, 12),
        ("half a dozen", 6, 6),
        ("half-dozen", 6, 6),
        ("two dozen", 24, 24),
        ("2 dozen", 24, 24),
        ("a couple of", 2, 2),
        ("a pair of", 2, 2),
        ("a few", 2, 4),  # common practice, no source
        ("several", 3, 5),  # common practice, no source
    ],
)
def test_numbers_in_every_form(text, low, high):
    """Digits, fractions, decimals with point or comma, ranges and words all read to the same kind of number."""
    quantity = read_quantity(tidy(f"{text} eggs"))
    assert quantity is not None
    assert (quantity.low, quantity.high) == (pytest.approx(low), pytest.approx(high))
    assert tidy(f"{text} eggs")[quantity.end :].strip() == "eggs"


@pytest.mark.parametrize("word", ["about", "approximately", "approx.", "around", "roughly", "~", "ca.", "up to"])
def test_about_words_make_a_quantity_loose(word):
    """What says "about" keeps its number and is marked as loose."""
    quantity = read_quantity(f"{word} 3 eggs")
    assert quantity is not None and quantity.about and quantity.low == quantity.high == 3


@pytest.mark.parametrize(
    "text",
    ["", "salt", "half-and-half", "five-spice powder", "2% milk", "80/20 beef", "00 flour", "the eggs", "a little"],
)
def test_what_is_no_number_is_not_read_as_one(text):
    """Names that begin like numbers are names."""
    assert read_quantity(text) is None


@pytest.mark.parametrize(
    ("word", "unit"),
    [
        ("T", "tablespoon"), ("t", "teaspoon"), ("Tbsp", "tablespoon"), ("tbsp.", "tablespoon"), ("TBS", "tablespoon"),
        ("tbs", "tablespoon"), ("tsp", "teaspoon"), ("Tsp.", "teaspoon"), ("c", "cup"), ("c.", "cup"), ("Cups", "cup"),
        ("lb", "pound"), ("lbs.", "pound"), ("oz", "ounce"), ("oz.", "ounce"), ("g", "gram"), ("gr", "gram"),
        ("grams", "gram"), ("grammes", "gram"), ("kg", "kilogram"), ("ml", "milliliter"), ("dl", "deciliter"),
        ("cl", "centiliter"), ("l", "liter"), ("L", "liter"), ("litres", "liter"), ("qt", "quart"), ("pt", "pint"),
        ("gal", "gallon"), ("table-spoonfuls", "tablespoon"), ("pinches", "pinch"), ("dashes", "dash"),
        ("tins", "can"), ("leaves", "leaf"), ("loaves", "loaf"), ("bunches", "bunch"), ("pkg.", "package"),
        ("sachet", "envelope"), ("inches", "inch"), ("handfuls", "handful"), ("fillets", "fillet"),
    ],
)  # fmt: skip
def test_spellings_reach_their_unit(word, unit):
    """Abbreviations, plurals and old spellings are the same unit."""
    assert canonical_unit(word) == unit


@pytest.mark.parametrize("text", ["fl oz", "fl. oz.", "fluid ounces", "fluid-ounce", "Fl Oz"])
def test_units_of_two_words_are_read_whole(text):
    """A fluid ounce is no ounce."""
    unit = read_unit(f" {text} milk", 0)
    assert unit is not None and unit.name == "fluid_ounce"


@pytest.mark.parametrize("text", [" eggs", " T-bone steak", " head-on shrimp", " in the pod", " cupcakes", ""])
def test_words_that_only_look_like_units_are_none(text):
    """A unit is a whole word."""
    assert read_unit(text, 0) is None


def test_measures_are_those_of_the_law_books():
    """US measures are those of NIST Handbook 44 appendix C, imperial ones of the Weights and Measures Act 1985."""
    assert grams_per("ounce") == 28.349523125  # NIST Handbook 44 appendix C
    assert grams_per("pound") == 453.59237  # the same
    assert millilitres_per("cup") == pytest.approx(236.5882365)  # 1/16 US gallon of 231 cubic inches, the same
    assert millilitres_per("tablespoon") == pytest.approx(236.5882365 / 16)
    assert millilitres_per("pint", market="uk") == pytest.approx(568.26125)  # Weights and Measures Act 1985, schedule 1
    assert millilitres_per("fluid_ounce", market="uk") == pytest.approx(568.26125 / 20)
    assert millilitres_per("cup", market="uk") == 250  # metric cup, common practice
    assert millilitres_per("cup", market="imperial") == pytest.approx(568.26125 / 2)
    assert millilitres_per("tablespoon", market="anz") == 20  # AS 1325
    assert millilitres_per("cup", market="jp") == 200  # common practice
    assert grams_per("cup") is None and millilitres_per("gram") is None and grams_per(None) is None


@pytest.mark.parametrize("market", ["us", "uk", "ca", "anz", "eu", "codex", "jp", "metric", "imperial"])
def test_every_volume_has_a_size_in_every_market(market):
    """No market leaves a unit of volume without millilitres, and every unit of mass has grams."""
    for unit in set(SPELLINGS.values()):
        volume, mass = millilitres_per(unit, market=market), grams_per(unit)
        assert (volume is not None) == (kind(unit) == "volume") and (volume is None or volume > 0)
        assert (mass is not None) == (kind(unit) == "mass")


def test_figures_agree_with_pint():
    """Where pint has a unit of its own, US customary or metric, it is the same size as here."""
    registry = kitchen_registry()
    for unit in ("gram", "ounce", "pound", "kilogram"):
        assert registry(f"1 {unit}").to("gram").magnitude == pytest.approx(grams_per(unit))
    for unit in ("cup", "tablespoon", "teaspoon", "pint", "quart", "gallon", "fluid_ounce", "liter", "gill", "bushel"):
        assert registry(f"1 {unit}").to("milliliter").magnitude == pytest.approx(millilitres_per(unit))
    assert registry("2 cup_metric").to("milliliter").magnitude == pytest.approx(500)


def test_unit_tables_have_the_shape_that_is_read():
    """Each unit stands once with a known kind, no spelling means two units, and each figure names its source."""
    with UNITS_FILE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    names = [row["unit"] for row in rows]
    assert len(names) == len(set(names)) == 106
    assert {row["kind"] for row in rows} == {"mass", "volume", "length", "count"}
    owners: dict[str, str] = {}
    for row in rows:
        for spelling in row["spellings"].split():
            assert owners.setdefault(spelling, row["unit"]) == row["unit"]
            assert spelling not in names
    with MEASURES_FILE.open(encoding="utf-8", newline="") as file:
        measures = list(csv.DictReader(file))
    assert all(row["source"] and float(row["size"]) > 0 and row["unit"] in names for row in measures)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("about 3 1/2 pounds", [(3.5, 3.5, "pound")]),
        ("2 1/4 teaspoons/7 grams", [(2.25, 2.25, "teaspoon"), (7, 7, "gram")]),
        ("250g / 9oz", [(250, 250, "gram"), (9, 9, "ounce")]),
        ("350ml | 1 1/2 cup", [(350, 350, "milliliter"), (1.5, 1.5, "cup")]),
        ("6- to 8-ounce", [(6, 8, "ounce")]),
        ("9-ounce/255-gram", [(9, 9, "ounce"), (255, 255, "gram")]),
        ("1/2-inch-thick", [(0.5, 0.5, "inch")]),
    ],
)
def test_measures_with_second_tellings(text, expected):
    """One amount in several units is read as a whole."""
    measures = read_measures(text, 0)
    assert measures is not None and measures.end == len(text)
    assert [(amount.low, amount.high, amount.unit) for amount in measures.amounts] == expected


def test_each_marks_the_size_of_one_piece():
    """ "4 pounds each" is the size of a piece, "4 pounds total" is not."""
    each, total = read_measures("4 pounds each", 0), read_measures("4 pounds total", 0)
    assert each is not None and total is not None
    assert each.amounts[0].role == "each" and total.amounts[0].role == "same"


@pytest.mark.parametrize(
    ("one", "other", "agree"),
    [
        ((250, "gram"), (9, "ounce"), True),
        ((25, "gram"), (1, "ounce"), True),  # common practice in British recipes
        ((500, "gram"), (1, "pound"), True),
        ((1, "cup"), (240, "milliliter"), True),
        ((1, "cup"), (250, "milliliter"), True),
        ((1, "pint"), (568, "milliliter"), True),  # an imperial pint
        ((1, "tablespoon"), (15, "milliliter"), True),
        ((0.25, "teaspoon"), (1, "milliliter"), True),  # to the next millilitre
        ((250, "gram"), (12, "ounce"), False),
        ((1, "cup"), (400, "milliliter"), False),
        ((1, "pound"), (250, "gram"), False),
        ((2, "cup"), (250, "gram"), True),  # needs a density, so nothing is said here
    ],
)
def test_two_tellings_agree_within_what_cooks_round(one, other, agree):
    """An amount said twice may differ by rounding and by market, not by more."""
    assert amounts_agree([Amount(one[0], one[0], one[1])], [Amount(other[0], other[0], other[1])]) is agree


amounts = st.floats(0.01, 1e4, allow_nan=False)
volumes = st.sampled_from(sorted(unit for unit in set(SPELLINGS.values()) if kind(unit) == "volume"))


@given(amounts, volumes, volumes)
@settings(deadline=None, max_examples=100)
def test_conversion_there_and_back_is_the_same_amount(value, unit, other):
    """An amount in another unit and back again is itself."""
    there = in_unit(Amount(value, value * 2, unit), other)
    assert there is not None
    back = in_unit(there, unit)
    assert back is not None and (back.low, back.high) == (pytest.approx(value), pytest.approx(2 * value))


@given(st.text(max_size=40))
@settings(deadline=None, max_examples=300)
def test_any_text_can_be_asked_for_an_amount(text):
    """Readers of numbers, units and measures answer for any text and never read past its end."""
    work = tidy(text)
    assert tidy(work) == work or "<" in text or "&" in text or work[:1] in "-+~>(0123456789"
    for found in (read_quantity(work), read_unit(work, 0), read_measures(work, 0)):
        assert found is None or 0 < found.end <= len(work)
