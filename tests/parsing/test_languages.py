"""What the language of a line makes of its numbers and its units."""

import pytest

import labeler
from labeler.parsing import read_line
from labeler.parsing.languages import language_of


def _amount(text: str, **of: str) -> tuple[float, str | None]:
    (first, *_) = read_line(text, **of).amounts
    return first.low, first.unit


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("1.250 g Mehl", 1250, "gram"),
        ("1.000 ml Wasser", 1000, "milliliter"),
        ("1.000 ml acqua", 1000, "milliliter"),
        ("1 250 g de farine", 1250, "gram"),
        ("1,250 kg Mehl", 1.25, "kilogram"),
        ("1.250 kg Mehl", 1.25, "kilogram"),
        ("0.250 g salt", 0.25, "gram"),
        ("1,250 g flour", 1250, "gram"),
    ],
)
def test_three_digits_are_read_as_the_language_groups_them(text, number, unit):
    """Thousands of grams where the line's words group so; thousandths of a kilogram anywhere."""
    assert _amount(text) == (number, unit)
    assert not read_line(text).problems


@pytest.mark.parametrize("text", ["1.000 g flour", "1.250 g flour", "2 bowls (1.500 ml) stock"])
def test_three_decimals_of_a_small_unit_are_asked_about(text):
    """Where the words do not tell, the number stays as it stands and the line asks which is meant."""
    assert [problem.code for problem in read_line(text).problems] == ["amount-thousands"]
    assert max(amount.low for amount in read_line(text).amounts) < 3


def test_the_recipe_tells_for_a_line_whose_own_words_do_not():
    """A line of a German recipe is German, whatever its own food is called."""
    recipe = labeler.read_recipe(
        "# Brot mit Quark\n## Zutaten\n- 1.250 g Quinoa\n- 500 g Mehl\n## Zubereitung\n1. Mehl mit Wasser mischen.\n"
    )
    assert recipe.parts[0].lines[0].amounts[0].low == 1250
    assert not recipe.parts[0].lines[0].problems


def test_an_english_recipe_with_foreign_names_groups_by_commas():
    """One foreign word among many English ones tells nothing of the numbers."""
    assert (
        language_of("Stir the farina into the boiling stock until it is thick and smooth, then let it cool down") == ""
    )
    assert language_of("") == ""


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("1 c. à s. moutarde", 1, "metric_tablespoon"),
        ("1 C. À SOUPE de sucre", 1, "metric_tablespoon"),
        ("2 c. à café sel", 2, "metric_teaspoon"),
        ("½ c.à.c. de curcuma", 0.5, "metric_teaspoon"),
        ("1 c.s. olive oil", 1, "metric_tablespoon"),
        ("1 cc sel", 1, "metric_teaspoon"),
        ("15 cc water", 15, "milliliter"),
        ("1 c/s sal", 1, "metric_tablespoon"),
        ("1 cdta. sal", 1, "metric_teaspoon"),
        ("3 colheres (sopa) de açúcar", 3, "metric_tablespoon"),
        ("1 cucchiaino da tè di sale", 1, "metric_teaspoon"),
        ("2 cuillères à soupe de crème", 2, "metric_tablespoon"),
        ("1 KL Salz", 1, "metric_teaspoon"),
        ("2 c. sugar", 2, "cup"),
    ],
)
def test_spoons_of_other_languages_are_spoons(text, number, unit):
    """A unit of several words is read whole however it is joined, so that its first letter makes no cup of it."""
    assert _amount(text) == (number, unit)
    assert read_line(text).name and not read_line(text).name.startswith(("de ", "di ", "à "))


@pytest.mark.parametrize("line", ["1 cat eye chilli", "1 cas bread", "1 cac 40 sauce"])
def test_a_short_french_form_is_no_spoon_in_an_english_recipe(line):
    """Abbreviations that are words elsewhere are units of their own language alone."""
    assert all(amount.unit is None for amount in read_line(line).amounts)
