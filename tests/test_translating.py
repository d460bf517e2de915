"""A label in another language says the same: fixed words, names, decimal mark; what the cook wrote stays as it is."""

from pathlib import Path

import pytest

from labeler.knowledge import LabelerError
from labeler.label.words import LANGUAGES, line_name, rows, words
from labeler.parsing import read_recipe
from labeler.printing import make_label

PIE = read_recipe((Path(__file__).parents[1] / "demo/quay-pie.md").read_text(encoding="utf-8"))


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
    assert "haddock" in found["allergens"] and "lait" in found["allergens"]


def test_english_is_unchanged():
    """The language en is the label as it is made."""
    assert said("uk", "en")["nutrition"][0]["name"] == "Energy"
    assert words("en")["ingredients"] == "Ingredients" and line_name("Fat", "en") == "Fat"


def test_an_unknown_language_is_refused_with_those_there_are():
    """A language without words is one clear line."""
    with pytest.raises(LabelerError, match="there are en, fr, es, de, it"):
        said("eu", "tlh")
