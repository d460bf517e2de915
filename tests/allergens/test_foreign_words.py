"""Words of other languages, typos of one letter, marks glued to a word, additives by number, and words nobody knows."""

from __future__ import annotations

import csv

import pytest

from labeler.allergens import EVERY_MARKET, assess_name, assess_written
from labeler.allergens.foreign_words import DATA, compound, in_english
from labeler.parsing import read_line
from labeler.text.tokens import tokens


def found_in(line: str) -> frozenset[str]:
    """Everything that is told or asked of a line in the market that lists most."""
    found = assess_written(read_line(line), market="eu")
    return found.allergens | found.possible


def test_every_english_cell_of_the_table_means_something_here() -> None:
    """A word is read in English only where English knows what it is, and every row has all its columns."""
    with DATA.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    assert len(rows) >= 160 and not any(None in row or None in row.values() for row in rows)
    known = [row["english"] for row in rows if not assess_name(row["english"], market=EVERY_MARKET).unassessed]
    assert len(known) >= 140


@pytest.mark.parametrize(
    ("line", "allergens"),
    [
        ("250 g Magerquark", {"milk"}), ("100 g Dinkelvollkornmehl", {"wheat"}), ("50 g chapelure", {"wheat"}),
        ("2 łyżki masła", {"milk"}), ("massa com amêijoas", {"molluscs", "wheat"}), ("3 msk vetemjöl", {"wheat"}),
        ("Salat mit Nordseekrabben", {"crustaceans"}), ("150 ml Weißwein", {"sulphites"}),
        ("1 dl matfløte", {"milk"}), ("70 g grof tarwemeel", {"wheat"}), ("dado vegetale", {"celery"}),
        ("pasta di acciughe", {"fish"}), ("200 g handskalade räkor", {"crustaceans"}), ("Kokosmilch", set()),
        ("Erdnussbutter", {"peanut"}), ("Kartoffelmehl", set()), ("leche en polvo", {"milk"}),
    ],
)  # fmt: skip
def test_food_words_of_other_languages(line: str, allergens: set[str]) -> None:
    """The commonest words for food are told or asked in ten languages, compounds of the Germanic ones among them."""
    assert found_in(line) >= allergens
    assert allergens or not assess_written(read_line(line), market="eu").allergens


@pytest.mark.parametrize("text", ["not salted peanuts", "pan drippings", "my pie", "1 cup rice", "blanched almonds"])
def test_english_stays_english(text: str) -> None:
    """No English word is read as a word of another language that looks like it."""
    assert in_english(tokens(text)) == (tokens(text), ())


def test_a_compound_is_taken_apart_into_known_words_only() -> None:
    """An unknown first part stays as it is, and a word with no known last part is no compound."""
    assert compound("dinkelvollkornmehl") == ("spelt", "wholemeal", "flour")
    assert compound("xyzzymehl") == ("xyzzy", "flour")
    assert compound("breadcrums") == ()


@pytest.mark.parametrize(
    ("line", "allergen"),
    [("2 tbsp soy sause", "wheat"), ("100 g selery", "celery"), ("200 g prauns", "crustaceans"), ("3 egss", "egg"),
     ("50 g hazlenutts", "hazelnut"), ("1 cup yoghhurt", "milk"), ("2 tbsp woostershire sauce", "fish"),
     ("orange rougy", "fish"), ("Queenslan nuts", "macadamia"), ("cooike butter", "wheat")],
)  # fmt: skip
def test_a_slip_is_told_or_asked_or_said_to_be_unknown(line: str, allergen: str) -> None:
    """One wrong letter loses no allergen in silence."""
    assert allergen in found_in(line) or assess_written(read_line(line), market="eu").unassessed


@pytest.mark.parametrize("line", ["1 cup milk¹", "1 cup milk*", "1 cup milk2", "1 cup milk†", "1 cup milk, warm**"])
def test_a_mark_of_a_footnote_hides_nothing(line: str) -> None:
    """A mark that is glued to a word is not part of it."""
    assert found_in(line) == {"milk"}


@pytest.mark.parametrize(
    ("line", "allergens"),
    [
        ("preservative 223", {"sulphites"}), ("preservatives (220, 202)", {"sulphites"}),
        ("emulsifier (322)", {"soybean"}), ("apricots, preservative (220)", {"sulphites"}),
        ("flour treatment agent (E920)", set()), ("preservative 202", set()),
    ],
)  # fmt: skip
def test_additives_by_their_number(line: str, allergens: set[str]) -> None:
    """A number behind the class of an additive is its E-number, with or without the E."""
    assert found_in(line) >= allergens and (allergens or not found_in(line))


def test_a_word_that_no_list_knows_is_reported_beside_a_known_one() -> None:
    """A known food beside it does not hide it."""
    assert assess_name("pasta with zorblat").unassessed == ("zorblat",)
    assert not assess_name("pasta with garlic butter").unassessed


@pytest.mark.parametrize(
    ("name", "listed"),
    [("lobster", True), ("crayfish", True), ("scampi", True), ("krill", False), ("mantis shrimp", False)],
)  # fmt: skip
def test_what_counts_as_shrimp_in_japan(name: str, listed: bool) -> None:
    """Lobsters and crayfish count as shrimp by the annex of species (from memory); krill and mantis shrimp do not."""
    found = assess_name(name, market="jp")
    assert ("crustaceans" in found.allergens) is listed


@pytest.mark.parametrize(
    ("word", "english"),
    [("räksoppa", ("shrimp", "soup")), ("senapssås", ("mustard", "sauce")), ("roomsaus", ("cream", "sauce")),
     ("laksesuppe", ("salmon", "soup"))],
)  # fmt: skip
def test_a_first_part_that_stands_in_compounds_alone(word: str, english: tuple[str, ...]) -> None:
    """A form that only compounds have, and one whose "s" a token has lost, are parts of a compound."""
    assert compound(tokens(word)[0]) == english


@pytest.mark.parametrize(
    ("written", "meant"),
    [("hua sheng", "peanut"), ("dou ban jiang", "soybean"), ("you tiao", "wheat"), ("xia jiao", "crustaceans")],
)
def test_a_romanised_word_is_read_apart_and_together(written: str, meant: str) -> None:
    """A space between its syllables hides nothing, and English words beside each other are no syllables."""
    assert meant in found_in(written) and meant in found_in(written.replace(" ", ""))
    assert in_english(["you", "room"]) == (["you", "room"], ())
