"""What the allergen room finds in a name, by which evidence, and what the words around it change."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from labeler.allergens import EVERY_MARKET, MARKETS, assess_line, assess_name, for_market, statement
from labeler.allergens.evidence import assess_food
from labeler.foods.model import Match, WeighedLine
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Line

NAMES = Path(__file__).parents[1] / "data" / "allergen_names.csv"


def names() -> list[dict[str, str]]:
    with NAMES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


# --- names ---


@pytest.mark.parametrize("row", names(), ids=lambda row: row["name"])
def test_a_name_holds_what_us_and_eu_want_declared_and_nothing_else(row: dict[str, str]) -> None:
    """Each name gives exactly its allergens in both markets, and the package is asked what it must be asked."""
    for market in ("us", "eu"):
        assert assess_name(row["name"], market=market).allergens == set(row[market].split()), market
    assert set(row["package"].split()) <= assess_name(row["name"], market="eu").possible


@pytest.mark.parametrize(
    "name",
    [
        "coconut milk",
        "butter beans",
        "butternut squash",
        "nutmeg",
        "water chestnuts",
        "cream of tartar",
        "cocoa butter",
        "oyster mushroom",
        "crab apple",
        "eggplant",
        "lobster mushroom",
        "buttercup squash",
        "butterfly pea flower",
        "milk thistle",
        "creamed coconut",
        "rice cream",
        "fish mint",
        "oyster plant",
        "crabapple jelly",
        "almond mushroom",
        "chestnut mushroom",
        "romano beans",
        "scallop squash",
        "candlenuts",
        "kola nut",
        "ginger beer",
        "root beer",
    ],
)
def test_words_that_mislead_do_not(name: str) -> None:
    """A name that only looks like an allergen holds none in any market and asks for no package."""
    found = assess_name(name, market=EVERY_MARKET)
    assert not found.contains and not found.read_the_package and not found.unassessed


@pytest.mark.parametrize(
    ("name", "allergen"),
    [
        ("casein", "milk"),
        ("whey", "milk"),
        ("ghee", "milk"),
        ("albumen", "egg"),
        ("semolina", "wheat"),
        ("seitan", "wheat"),
        ("tahini", "sesame"),
        ("dashi", "fish"),
        ("surimi", "fish"),
        ("anchovy", "fish"),
        ("bonito", "fish"),
        ("marzipan", "almond"),
        ("praline", "hazelnut"),
        ("malt", "barley"),
        ("gadus morhua", "fish"),
        ("penaeus vannamei", "crustaceans"),
        ("mytilus edulis", "molluscs"),
        ("triticum durum", "wheat"),
        ("E322 (soya)", "soybean"),
        ("E-1105", "egg"),
        ("beurre", "milk"),
        ("Weizenmehl", "wheat"),
        ("gamberi", "crustaceans"),
    ],
)
def test_words_that_reveal_do(name: str, allergen: str) -> None:
    """A derivative, a definition, a scientific or a foreign name gives its allergen."""
    assert allergen in assess_name(name, market=EVERY_MARKET).allergens


@pytest.mark.parametrize(
    ("market", "name", "called"),
    [
        ("us", "smoked haddock", "haddock"),
        ("us", "king prawns", "shrimp"),
        ("us", "filberts", "hazelnut"),
        ("us", "quail eggs", "quail egg"),
        ("us", "goat milk yogurt", "goat milk"),
        ("us", "pecorino", "sheep milk"),
        ("us", "spelt flour", "wheat (spelt)"),
        ("ca", "lox", "salmon"),
        ("jp", "prawns", "shrimp"),
    ],
)
def test_species_are_named(market: str, name: str, called: str) -> None:
    """Fish, crustacean and nut by species; bird and animal of other eggs and milks; the wheat's own name."""
    (finding,) = assess_name(name, market=market).contains
    assert called in finding.names


def test_molluscs_are_shown_in_the_us_with_the_reason_that_the_law_does_not_list_them() -> None:
    """Not a US major allergen (FD&C Act 201(qq)), and yet never hidden; the Contains line leaves them out."""
    found = assess_name("mussels", market="us")
    (finding,) = found.contains
    assert finding.names == ("mussel",) and "US law does not list" in finding.reason
    assert statement(found, "us").text == ""
    assert "molluscs" in statement(assess_name("mussels", market="eu"), "eu").text


def test_a_finding_says_where_by_which_rule_and_on_whose_authority() -> None:
    """Mayonnaise contains egg by 21 CFR 169.140, and the finding says so."""
    (egg,) = assess_name("light mayonnaise", market="us").contains
    assert egg.rule == "standard-of-identity" and egg.certainty == "certain"
    assert (
        "21 CFR 169.140" in egg.reason and egg.source.startswith("21 CFR 169.140") and egg.from_ == "light mayonnaise"
    )
    (common,) = assess_name("tzatziki", market="us").contains
    assert common.source


@pytest.mark.parametrize("market", MARKETS)
def test_sorting_for_a_market_loses_nothing(market: str) -> None:
    """What a market does not list stands aside; sorting twice changes nothing, and another market is refused."""
    for row in names():
        whole = assess_name(row["name"], market=EVERY_MARKET)
        kept = for_market(whole, market)
        seen = {f.allergen for f in (*kept.contains, *kept.elsewhere, *kept.unnamed, *kept.read_the_package)}
        assert {f.allergen for f in whole.contains} <= seen
        assert for_market(kept, market) == kept
    with pytest.raises(ValueError, match="assess again"):
        for_market(kept, "us" if market != "us" else "eu")


# --- the words around ---


@pytest.mark.parametrize(
    ("name", "holds", "holds_not"),
    [
        ("bread without nuts", "wheat", "tree_nuts"),
        ("dairy-free chocolate", "", "milk"),
        ("milk-free margarine", "", "milk"),
        ("lactose-free milk", "milk", ""),
        ("fat-free milk", "milk", ""),
        ("eggless pasta", "wheat", "egg"),
        ("gluten-free oat flakes", "oats", "wheat"),
        ("gluten free wheat starch", "wheat", ""),
        ("free range eggs", "egg", ""),
        ("nut-free granola", "oats", "tree_nuts"),
        ("no-boil lasagne sheets", "wheat", ""),
        ("milk free from hormones", "milk", ""),
        ("vegan parmesan", "", "milk"),
        ("vegan fish sauce", "", "fish"),
        ("vegan casein", "milk", ""),
        ("cheese (not vegan)", "milk", ""),
        ("plant-based tuna", "", "fish"),
        ("vegetarian sausage", "", "pork"),
        ("almonds, skin-free", "almond", ""),
    ],
)
def test_a_claim_takes_away_what_is_only_implied(name: str, holds: str, holds_not: str) -> None:
    """Words like "egg-free" and "vegan" take away what a food usually holds, never what the name spells out."""
    found = assess_name(name, market=EVERY_MARKET).allergens
    assert (not holds or holds in found) and (not holds_not or holds_not not in found)


@pytest.mark.parametrize("name", ["vegan or dairy butter", "gluten-free or plain flour", "non-dairy creamer"])
def test_a_claim_that_leaves_a_choice_is_a_question(name: str) -> None:
    """Words like "vegan or dairy", "gluten-free or plain" and "non-dairy" take nothing away for certain."""
    found = assess_name(name, market="us")
    assert {"milk", "wheat"} & (found.allergens | found.possible)


def test_what_vegan_leaves_out_is_replaced_by_a_question() -> None:
    """A shop-bought vegan food is never nothing: soy, nuts and wheat stand in for milk, egg and fish."""
    for name in ("vegan cheese", "vegan mayonnaise", "vegan tuna", "plant-based burger"):
        found = assess_name(name, market="us")
        assert not found.contains and "soybean" in found.possible, name


@pytest.mark.parametrize(
    ("name", "sure", "asked"),
    [
        ("natural salmon flavouring", "fish", ""),
        ("lobster flavour", "crustaceans", ""),
        ("butter flavour popcorn", "", "milk"),
        ("artificial crab extract", "", "crustaceans"),
        ("hazelnut flavouring", "", "hazelnut"),
        ("celery flavouring", "celery", ""),
        ("butter replacement", "", "milk"),
    ],
)
def test_flavourings_and_substitutes(name: str, sure: str, asked: str) -> None:
    """A natural flavouring comes from its source (Reg. (EC) 1334/2008 Art. 16(4), from memory); others are asked."""
    found = assess_name(name, market=EVERY_MARKET)
    assert (not sure or sure in found.allergens) and (not asked or asked in found.possible - found.allergens)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("almond milk chocolate", {"almond", "milk"}),
        ("peanut butter cookies", {"peanut", "wheat"}),
        ("butter chicken in cream", {"milk"}),
        ("salt and pepper squid", {"molluscs", "wheat"}),
        ("milk and butter", {"milk"}),
        ("cheese and crackers", {"milk", "wheat"}),
    ],
)
def test_phrases_that_overlap_both_count(name: str, expected: set[str]) -> None:
    """Of "almond milk chocolate" neither the almond nor the milk is lost."""
    assert expected <= assess_name(name, market=EVERY_MARKET).allergens


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Squash, butternut, raw", set()),
        ("Mushrooms, oyster, raw", set()),
        ("Nuts, coconut milk, canned", set()),
        ("Nuts, almonds, blanched", {"almond"}),
        ("Fish, cod, Atlantic, raw", {"fish"}),
        ("Oil, sesame", {"sesame"}),
        ("Noodles, egg, dry", {"egg", "wheat"}),
        ("Cheese, cottage, creamed, with fruit", {"milk"}),
        ("Beans, butter, dried", set()),
        ("Egg, duck, whole, raw", {"egg"}),
    ],
)
def test_names_in_index_order(name: str, expected: set[str]) -> None:
    """A table's own way of writing names ("squash, butternut") is read in plain order too."""
    assert assess_name(name, market=EVERY_MARKET).allergens - {"chicken", "beef", "pork"} == expected


@pytest.mark.parametrize(
    ("typed", "allergen"),
    [
        ("parmesean", "milk"),
        ("worcestshire sauce", "fish"),
        ("mayonaise", "egg"),
        ("oatmilk", "oats"),
        ("walnutoil", "walnut"),
        ("hazlenuts", "hazelnut"),
    ],
)
def test_slips_of_the_pen_and_joined_words(typed: str, allergen: str) -> None:
    """A typo of a letter or two words run together are found or at least asked about."""
    found = assess_name(typed, market=EVERY_MARKET)
    assert allergen in found.allergens | found.possible


def test_a_vague_word_speaks_only_alone() -> None:
    """The word "sauce" alone must be asked about; "raspberry sauce" must not."""
    assert assess_name("sauce", market="us").possible
    assert not assess_name("raspberry sauce", market="us").possible


def test_a_name_that_means_nothing_is_unassessed() -> None:
    """Not found and not known are two things."""
    assert assess_name("zorblat", market="us").unassessed == ("zorblat",)
    assert not assess_name("carrots", market="us").unassessed


# --- evidence of the table ---


@pytest.mark.parametrize(
    ("food", "allergen", "words"),
    [
        ("15015", "fish", "gadus"),
        ("05007", "milk", "milk added"),
        ("20081", "wheat", "wheat"),
        ("12061", "almond", "almond"),
    ],
)
def test_the_table_food_is_evidence_of_its_own(food: str, allergen: str, words: str) -> None:
    """Scientific name and LanguaL codes of the table food give findings that name the food."""
    found = [f for f in assess_food(food).contains if f.allergen == allergen]
    assert found and all(food in f.from_ for f in found)
    assert any(words in f.reason.lower() for f in found)


def test_a_pinned_food_speaks_for_a_name_that_is_not_known() -> None:
    """The pin "{food 15015}" says cod whatever the line calls it, and a weak match says nothing."""
    pinned = read_line("1 lb catch of the day {food 15015, 454 g}")
    assert pinned.pin is not None
    assert "fish" in assess_line(WeighedLine(pinned, None, None), market="us").allergens
    weak = WeighedLine(Line("zorblat", name="zorblat"), Match("15015", "Fish, cod", 0.4, "far"), None)
    assert not assess_line(weak, market="us").contains
    for confidence, holds in ((0.95, True), (0.7, False)):
        match = Match("01010", "Cheese, cheshire", confidence, "near")
        found = assess_line(WeighedLine(Line("cheshire", name="cheshire"), match, None), market="us")
        assert ("milk" in found.allergens) == holds and bool(found.unassessed) != holds


def test_a_food_that_only_stands_in_says_nothing() -> None:
    """What a table row is made of is no evidence of a food that it stands in for, however sure the match is."""
    for name, food, description in (
        ("zorblat", "15015", "Fish, cod, Atlantic, raw"),
        ("oat milk", "14639", "Beverages, rice milk, unsweetened"),
        ("zorblat crumbs", "18079", "Bread crumbs, dry, grated, plain"),
    ):
        line = WeighedLine(Line(name, name=name), Match(food, description, 0.95, "stands in"), None)
        assert assess_line(line, market=EVERY_MARKET).allergens == assess_name(name, market=EVERY_MARKET).allergens
        assert not any(food in finding.reason for finding in assess_line(line, market=EVERY_MARKET).contains)
