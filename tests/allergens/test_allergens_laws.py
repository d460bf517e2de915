"""Laws of the allergen room, on recipes and names made at random: what must never change a finding."""

from __future__ import annotations

import csv
import string

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from labeler.allergens import EVERY_MARKET, MARKETS, Assessment, assess, assess_line, assess_name, for_market, statement
from labeler.allergens.vocabulary import DATA
from labeler.foods.model import WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.resolve import weigh_line
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Line, Part, Recipe

FOODS = (
    "cod",
    "prawns",
    "mussels",
    "milk",
    "butter",
    "coconut milk",
    "rice noodles",
    "spaghetti",
    "walnuts",
    "peanut butter",
    "soy sauce",
    "tahini",
    "Dijon mustard",
    "celery",
    "oats",
    "rye flour",
    "malt vinegar",
    "eggs",
    "egg-free mayonnaise",
    "vegan butter",
    "butternut squash",
    "carrots",
    "oyster sauce",
    "Worcestershire sauce",
    "white wine",
    "lupin flour",
    "peanut oil",
    "dark chocolate",
    "stock cube",
    "zorblat",
    "buckwheat flour",
    "gluten-free oats",
    "lecithin",
)
ADJECTIVES = ("fresh", "organic", "large", "frozen", "chopped", "finely chopped", "good-quality", "local", "ripe")
foods = st.lists(st.sampled_from(FOODS), min_size=1, max_size=8)
quick = settings(deadline=None, max_examples=60)


def found(*parts: list[str]) -> Assessment:
    """The market-independent assessment of a recipe with these foods in these parts."""
    read = tuple(
        Part(f"Part {at}", tuple(Line(name, name=name, number=number) for number, name in enumerate(names, 1)))
        for at, names in enumerate(parts)
    )
    weighed = tuple(
        WeighedPart(part.title, tuple(WeighedLine(line, None, None) for line in part.lines)) for part in read
    )
    return assess(WeighedRecipe(Recipe("Random", read), weighed), market=EVERY_MARKET)


def summary(assessment: Assessment) -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    return assessment.allergens, assessment.possible, frozenset(assessment.unassessed)


@quick
@given(foods, st.sampled_from(FOODS), st.sampled_from(MARKETS))
def test_adding_an_ingredient_never_removes_an_allergen(names: list[str], more: str, market: str) -> None:
    """What a recipe holds it holds with one more line; what must be asked stays asked or is found."""
    before, after = for_market(found(names), market), for_market(found([*names, more]), market)
    assert before.allergens <= after.allergens
    assert before.possible <= after.possible | after.allergens


@quick
@given(foods.flatmap(lambda names: st.tuples(st.just(names), st.permutations(names))))
def test_order_changes_nothing(both: tuple[list[str], list[str]]) -> None:
    """The same lines in another order give the same allergens."""
    one, other = both
    assert summary(found(one)) == summary(found(list(other)))


@quick
@given(foods, st.integers(min_value=0, max_value=8), st.integers(min_value=0, max_value=8))
def test_splitting_into_parts_changes_nothing(names: list[str], first: int, second: int) -> None:
    """One part or three, the food is the same."""
    cuts = sorted((first, second))
    parts = [part for part in (names[: cuts[0]], names[cuts[0] : cuts[1]], names[cuts[1] :]) if part]
    assert summary(found(*parts)) == summary(found(names))


@quick
@given(st.sampled_from([name for name in FOODS if name != "zorblat"]), st.sampled_from(["lower", "upper", "title"]))
def test_case_changes_nothing(name: str, case: str) -> None:
    """Capitals are no evidence."""
    changed = {"lower": name.lower(), "upper": name.upper(), "title": name.title()}[case]
    assert summary(assess_name(changed, market=EVERY_MARKET)) == summary(assess_name(name, market=EVERY_MARKET))


@quick
@given(st.sampled_from([name for name in FOODS if name != "zorblat"]), st.sampled_from(ADJECTIVES))
def test_adjectives_change_nothing(name: str, adjective: str) -> None:
    """Fresh and chopped food holds what the food holds; a word may add a question, as of egg in fresh pasta."""
    plain = assess_name(name, market=EVERY_MARKET)
    for changed in (f"{adjective} {name}", f"{name}, {adjective}"):
        found = assess_name(changed, market=EVERY_MARKET)
        assert found.allergens == plain.allergens
        assert plain.possible <= found.possible


REAL_WORDS = frozenset({"four"})
"""Words that a typo turns into and that are words of their own."""
ALLERGEN_WORDS = (
    "milk butter cream cheese yogurt ghee whey casein egg mayonnaise cod salmon tuna anchovy prawn shrimp crab lobster "
    "mussel oyster squid clam almond walnut cashew hazelnut pecan pistachio macadamia peanut soy tofu sesame tahini "
    "wheat flour barley rye oats mustard celery lupin bread pasta semolina couscous trout"
).split()


@st.composite
def typos(draw: st.DrawFn) -> str:
    """An allergen's word with one letter dropped, doubled or changed with the next one."""
    word = draw(st.sampled_from(ALLERGEN_WORDS))
    at = draw(st.integers(min_value=0, max_value=len(word) - 1))
    kind = draw(st.sampled_from(("drop", "double", "swap")))
    if kind == "drop":
        return word[:at] + word[at + 1 :]
    if kind == "double":
        return word[:at] + word[at] + word[at:]
    return word[:at] + word[at : at + 2][::-1] + word[at + 2 :]


@settings(deadline=None, max_examples=400)
@given(typos(), st.sampled_from(("{}", "200 g {}", "chopped {}", "unsalted {}", "50 g {}, chilled", "salt and {}")))
def test_a_slip_of_one_letter_never_hides_an_allergen(word: str, line: str) -> None:
    """A misspelt allergen is named, or its line is open; it never passes for a food in which nothing was found."""
    assume(word not in REAL_WORDS)
    found = assess_line(weigh_line(read_line(line.format(word))), market="eu")
    assert found.contains or found.read_the_package or found.unassessed or found.problems


@pytest.mark.parametrize(
    ("typed", "allergen", "meant"),
    [
        ("buter", "milk", "butter"),
        ("cachews", "cashew", "cashew"),
        ("almnds", "almond", "almond"),
        ("shrmp", "crustaceans", "shrimp"),
        ("prwans", "crustaceans", "shrimp"),
        ("wlnuts", "walnut", "walnut"),
        ("unsalted buter", "milk", "butter"),
    ],
)
def test_the_food_that_a_slip_is_corrected_to_is_declared(typed: str, allergen: str, meant: str) -> None:
    """Where the food of a misspelt line is settled its allergen is too, and the finding says how it was read."""
    found = assess_line(weigh_line(read_line(f"100 g {typed}")), market="us")
    (finding,) = found.contains
    assert finding.allergen == allergen
    assert f"read as “{meant}" in finding.reason or f"read as “unsalted {meant}" in finding.reason
    assert [problem.code for problem in found.problems] in (["respelled"], ["weak-match"])


@pytest.mark.parametrize("word", ["pesta", "rezo", "mulk", "tima"])
def test_a_word_that_may_be_another_is_asked_and_not_claimed(word: str) -> None:
    """A short word with another letter in it may be a food of another tongue."""
    found = assess_line(weigh_line(read_line(f"100 g {word}")), market="eu")
    assert not found.contains and found.unassessed


def test_a_slip_beside_another_food_takes_nothing_away() -> None:
    """What a name certainly says it still says when another of its words is misspelt."""
    assert "peanut" in assess_name("peanut buter", market=EVERY_MARKET).allergens


SINGULAR = sorted(
    phrase
    for file in (DATA / "vocabulary").glob("*.csv")
    for row in csv.reader(line for line in file.read_text(encoding="utf-8").splitlines() if not line.startswith("#"))
    for phrase in row[0].split("|")
    if row[3] in ("source", "derivative", "standard", "common")
    and phrase.isascii()
    and phrase.replace(" ", "").isalpha()
    and phrase[-1] not in "sxz"
    and len(phrase.split()[-1]) > 3
)


def plural(phrase: str) -> str:
    if phrase.endswith("y") and phrase[-2] not in "aeiou":
        return f"{phrase[:-1]}ies"
    return phrase + ("es" if phrase.endswith(("ch", "sh")) else "s")


def test_the_plural_changes_nothing() -> None:
    """One or many, the food is the same: every phrase of the vocabulary whose plural is regular."""
    changed = [
        phrase
        for phrase in SINGULAR
        if summary(assess_name(plural(phrase), market=EVERY_MARKET))[:2]
        != summary(assess_name(phrase, market=EVERY_MARKET))[:2]
    ]
    assert changed == []


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("gateau", "gateaus"),
        ("gateau", "gateaux"),
        ("kofu", "kofus"),
        ("tiramisu", "tiramisus"),
        ("octopus", "octopuses"),
        ("octopus", "octopi"),
        ("hummus", "hummus"),
        ("anchovy", "anchovies"),
        ("chilli sauce", "chillies sauce"),
        ("pancake mix", "pancake mixes"),
        ("radish sandwich", "radishes sandwiches"),
        ("choux bun", "choux buns"),
        ("panino", "panini"),
        ("raviolo", "ravioli"),
        ("cannolo", "cannoli"),
        ("biscotto", "biscotti"),
    ],
)
def test_plurals_of_every_make_change_nothing(one: str, many: str) -> None:
    """Words in -u, -eau, -us, -y, -ch and the Italian ones have the allergens of their singular."""
    assert assess_name(one, market=EVERY_MARKET).allergens == assess_name(many, market=EVERY_MARKET).allergens


@settings(deadline=None, max_examples=200)
@given(st.text(alphabet=string.ascii_letters + string.digits + " ,.-()/&%'éöœß½\n\t¼×", max_size=80))
def test_any_text_is_assessed_and_comes_back_as_written(text: str) -> None:
    """No text raises, none is lost, and a finding always says why, where and by which source."""
    assessment = assess_name(text, market=EVERY_MARKET)
    assert assessment.text == text
    for finding in (*assessment.contains, *assessment.read_the_package):
        assert finding.names and finding.reason and finding.from_ == text and finding.source and finding.rule


@quick
@given(foods, st.sampled_from(MARKETS))
def test_a_statement_names_every_allergen_that_its_market_requires(names: list[str], market: str) -> None:
    """A statement is complete: as many entries as there are allergens to name, and never a word of promise."""
    whole = found(names)
    said = statement(whole, market)
    sorted_out = for_market(whole, market)
    asked = {finding.allergen for finding in sorted_out.contains} - ({"molluscs"} if market == "us" else set())
    assert bool(said.text) == bool(asked)
    assert len(said.names) >= len(asked) - 3 * (market == "anz")  # barley, rye and oats are one entry there: gluten
    assert not any(word in said.text.lower() for word in ("free", "safe", "compliant"))


def test_a_slip_that_a_doubtful_match_mends_stays_open() -> None:
    """ "Salt and casin" is taken for salt with little confidence: what "casin" is stays a question."""
    assert assess_line(weigh_line(read_line("salt and casin")), market="eu").unassessed
