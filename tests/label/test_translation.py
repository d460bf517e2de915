"""A label in another language says the same: fixed words, names, decimal mark; what the cook wrote stays as it is."""

from functools import cache
from pathlib import Path

import pytest

from labeler.allergens.vocabulary import allergen_names
from labeler.label.builder import gather, label_content
from labeler.label.make import make_label
from labeler.label.panels.builder import with_fitting_panel
from labeler.label.panels.content import panel_forms
from labeler.label.translation import translated
from labeler.label.words import LANGUAGES, line_name, name_allergen, rows, words
from labeler.parsing import read_recipe
from labeler.rules.sale import sale_of
from labeler.types import LabelerError

PIE = read_recipe((Path(__file__).parents[2] / "demo/quay-pie.md").read_text(encoding="utf-8"))


def said(market, language):
    return make_label(PIE, market=market, language=language, size="110x200").declared


def test_every_fixed_word_is_there_in_every_language():
    """Each row of the label's words and names has all five languages."""
    for name in ("words.csv", "line_names.csv"):
        for row in rows(name):
            assert all(row[language] for language in LANGUAGES), row


@pytest.mark.parametrize(
    ("language", "fat", "salt"),
    [("fr", "Matières grasses", "Sel"), ("es", "Grasas", "Sal"), ("de", "Fett", "Salz"), ("it", "Grassi", "Sale")],
)
def test_the_table_speaks_the_words_of_annex_xv(language, fat, salt):
    """Names of the lines are those of Reg. (EU) 1169/2011 Annex XV in its language versions (from memory)."""
    found = said("eu", language)
    names = [row["name"] for row in found["nutrition"]]
    assert fat in names and salt in names
    assert next(row for row in found["nutrition"] if row["name"] == salt)["per_100g"].count(",") == 1
    assert found["title"] == "Quay pie" and "smoked haddock" in found["ingredients"]
    assert "not-translated" in {problem["code"] for problem in found["problems"]}


def test_two_languages_stand_side_by_side():
    """Canada asks for English and French (FDR B.01.012): each fixed word in both, the allergens in both."""
    found = said("ca", "en+fr")
    names = [row["name"] for row in found["nutrition"]]
    assert "Protein / Protéines" in names and "Sodium" in names
    assert "Contains: " in found["allergens"] and "Contient : " in found["allergens"]
    assert "Haddock" in found["allergens"] and "Lait" in found["allergens"]  # capitals: B.01.010.3(1)(c)


def test_english_is_unchanged():
    """The language en is the label as it is made."""
    assert said("uk", "en")["nutrition"][0]["name"] == "Energy"
    assert words("en")["ingredients"] == "Ingredients" and line_name("Fat", "en") == "Fat"


def test_an_unknown_language_is_refused_with_those_there_are():
    """A language without words is one clear line."""
    with pytest.raises(LabelerError, match="there are en, fr, es, de, it"):
        said("eu", "tlh")


@cache
def gathered(market):
    return gather(PIE, market=market)


@pytest.mark.parametrize("market", ["eu", "uk", "anz"])
@pytest.mark.parametrize("language", ["fr", "es", "de", "it", "en+fr"])
def test_the_list_names_every_allergen_in_the_language_of_the_label(market, language):
    """In a list in other words the allergens stand set apart by name: Reg. (EU) 1169/2011 Art. 15."""
    facts = gathered(market)
    content, _, _ = label_content(PIE, market=market, facts=facts)
    spoken, _ = translated(content, PIE, facts, language)
    bold = " ".join(run.text for run in spoken.ingredients if run.emphasised)
    for one in language.split("+"):
        for finding in facts.allergens.declared:
            if one != "en":
                (name,) = name_allergen(finding.allergen, (allergen_names()[finding.allergen],), one)
                assert name in bold
    assert "smoked haddock fillet" in "".join(run.text for run in spoken.ingredients)


def panel_in(market, form, language):
    """The official panel of a market on a label in a language."""
    facts = gathered(market)
    content, _, _ = label_content(PIE, market=market, facts=facts)
    spoken, _ = translated(content, PIE, facts, language)
    found, _ = with_fitting_panel(spoken, PIE, facts, sale_of(PIE, market), form, {})
    return found.panel


@pytest.mark.parametrize(
    ("language", "heading", "fat"),
    [("de", "Nährwertdeklaration", "Fett"), ("fr", "Déclaration nutritionnelle", "Matières grasses"),
     ("it", "Dichiarazione nutrizionale", "Grassi")],
)  # fmt: skip
def test_the_panel_of_the_union_stands_in_the_language_of_the_label(language, heading, fat):
    """Regulation (EU) 1169/2011 Article 15 and the language versions of Annex XV, from memory."""
    panel = panel_in("eu", "panel-table", language)
    assert panel.data["heading"] == heading and fat in [row.name for row in panel.rows]
    assert panel.decimal == "," and panel.headings[0].endswith("100 g")
    assert not any("." in amount for row in panel.rows for amount in row.amounts)


def test_a_panel_whose_words_the_law_lays_down_stays_as_it_is():
    """The panel of Australia and New Zealand keeps its English words in every label."""
    form = next(iter(panel_forms("anz")))
    assert panel_in("anz", form, "de").language == "en"


def test_a_date_has_day_month_and_year_in_each_language():
    """Annex X of (EU) 1169/2011: day, month and year in that order, the month in words, as each language writes it."""
    recipe = read_recipe(
        "---\ntitle: Mint tea\nbest before: 2027-03-01\nnet: 500 ml\n---\n- 500 ml water\n- 5 g mint\n"
    )
    dates = {
        "de": "1. März 2027",
        "es": "1 de marzo de 2027",
        "it": "1 marzo 2027",
        "fr": "1 mars 2027",
        "en+fr": "1 March / mars 2027",
        "en+de": "1 March 2027 / 1. März 2027",
    }
    for language, date in dates.items():
        assert make_label(recipe, market="eu", language=language, size="150x150").declared["best_before"] == date
