"""What stands around a food never takes an allergen from it: remarks, prefixes, suffixes, typos, marks, line-ups."""

from __future__ import annotations

import os

from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.allergens import EVERY_MARKET, assess_written
from labeler.allergens.foreign_words import in_english
from labeler.allergens.phrases import is_unknown
from labeler.allergens.vocabulary import load_vocabulary
from labeler.parsing import read_line
from labeler.text.tokens import tokens

PHRASES = """
200 g prawns | 2 cooked lobsters | 1 kg mussels, debearded | 6 scallops | 2 squid tubes
400 g salmon fillet | 4 anchovies | 1 tbsp fish sauce | 2 tbsp Worcestershire sauce | 1 tbsp oyster sauce
1 tsp shrimp paste | 1 cup milk | 100 g butter, melted | 1/2 cup grated parmesan | 100 g feta, crumbled
200 ml double cream | 150 g Greek yogurt | 2 eggs | 3 egg yolks, beaten | 4 tbsp mayonnaise
2 cups plain flour | 300 g spaghetti | 1 cup panko | 4 flour tortillas | 1 sheet puff pastry
2 slices sourdough bread | 1 cup couscous | 50 g rye flour | 1 cup pearl barley | 1 cup rolled oats
2 tbsp soy sauce | 200 g tofu | 2 tbsp white miso | 1/4 cup peanut butter | 50 g roasted peanuts
100 g ground almonds | 50 g walnuts, chopped | 30 g pine nuts | 1/4 cup pesto | 2 tbsp tahini
1 tbsp sesame seeds | 1 tbsp wholegrain mustard | 2 celery stalks, diced | 1 celeriac | 50 g lupin flour
150 g milk chocolate | 250 g fresh egg pasta | 1 pack gyoza wrappers | 200 g halloumi
1 cup cookie butter | 200 g cookie dough | 4 rice paper wrappers with fish sauce | 6 graham crackers
cod fillets in beer batter | ham and cheese on brioche | prawn and egg fried rice | tuna mayonnaise
""".replace("\n", " | ").split(" | ")
FOODS = [phrase.strip() for phrase in PHRASES if phrase.strip()]
"""Lines of our own invention, each with an allergen that its name tells."""

DIETS = ["vegan", "vegetarian", "dairy-free", "gluten-free", "egg-free", "nut-free", "soy-free", "fish-free",
         "shellfish-free", "plant-based", "GF", "coeliac-safe"]  # fmt: skip
PEOPLE = ["vegans", "vegetarians", "coeliacs", "those with allergies", "a vegan version", "dairy-free guests", "vegan"]
REMARKS = [
    "({diet} if needed)", "({diet} if preferred)", ", {diet} if you like", "(use a {diet} one if needed)",
    "(or {diet} alternative)", "(use {diet} for {people})", "(omit for {people})", "(leave out for {people})",
    ", omit if {diet}", "(skip if making it {diet})", "(replace with something {diet} if needed)",
    "(substitute a {diet} brand)", "(swap for a {diet} kind to make it {diet})", " - not {diet}", "(not {diet})",
    "(isn't {diet})", "(not suitable for {people})", ", unsuitable for {people}", "(check it is {diet})",
    "(make sure it's {diet})", "(many are {diet}, check the label)", "(some brands are {diet})", "({diet} works too)",
    "({diet} is fine)", "({diet} optional)", "(for {people} use something else)", "({diet} version: leave it out)",
    ", or use {diet}", "; {diet} at a pinch", "(the rest of the recipe is {diet})", "(otherwise this is {diet})",
    "(so not {diet})", "(which is not {diet})", "(unless {diet})", " if not {diet}", " (regular or {diet})",
    ", {diet} or otherwise", "(do not use {diet})", "(never {diet})", "(contains it, so not {diet})",
    "(ideally not {diet})", " use {diet} if needed", " {diet} if needed", "*", "¹", " †", "(see note)", "(optional)",
]  # fmt: skip
BESIDE = [
    "{food} in {diet} butter", "{food} in {diet} sauce", "{food} with {diet} cheese", "{food} on {diet} toast",
    "{food} and {diet} mayonnaise", "{food}, fried in {diet} butter", "{food} plus {diet} cream",
    "not {diet}: {food}", "{diet} if needed: {food}", "{food} over {diet} noodles", "{food} from {diet} brand x or not",
    "{food} for {diet} cake", "{diet} butter and {food}", "{food} topped with {diet} cheese",
]  # fmt: skip

EXAMPLES = int(os.environ.get("LABELER_EXAMPLES", "150"))


def held(line: str) -> frozenset[str]:
    """What a line is told to hold."""
    return assess_written(read_line(line), market=EVERY_MARKET).allergens


def kept(line: str) -> frozenset[str]:
    """What a line is told or asked to hold."""
    found = assess_written(read_line(line), market=EVERY_MARKET)
    return found.allergens | found.possible


def _long(word: str) -> bool:
    return len(word) > 4 and word.isalpha()


foods = st.sampled_from(FOODS)
compounds = st.sampled_from(
    sorted(
        load_vocabulary().written.get(phrase, phrase)
        for phrase, entry in load_vocabulary().entries.items()
        if " " in phrase and entry.contains and any(map(_long, phrase.split(" ")))
    )
)
"""Every name of several words that tells an allergen."""
diets = st.sampled_from(DIETS)


@settings(max_examples=EXAMPLES, deadline=None)
@given(foods, st.sampled_from(REMARKS), diets, st.sampled_from(PEOPLE))
def test_no_remark_takes_an_allergen_away(food: str, remark: str, diet: str, people: str) -> None:
    """An offer, a condition, an omission, a check or a warning leaves the food as it is."""
    line = f"{food} {remark}" if not remark.startswith((",", ";", "*", "¹")) else f"{food}{remark}"
    assert held(food) <= kept(line.format(diet=diet, people=people)), line.format(diet=diet, people=people)


@settings(max_examples=EXAMPLES, deadline=None)
@given(foods, st.sampled_from(BESIDE), diets)
def test_no_claim_of_a_food_beside_it_takes_an_allergen_away(food: str, frame: str, diet: str) -> None:
    """A claim is of its own phrase."""
    line = frame.format(food=food, diet=diet)
    assert held(food) <= kept(line), line


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(foods, min_size=2, max_size=4, unique=True), st.sampled_from([", ", "; ", " and ", " with ", " plus "]))
def test_a_line_up_loses_nothing(several: list[str], joint: str) -> None:
    """Foods beside one another hold what each of them holds, or the line says what could not be read."""
    bare = [food.split(" ", 2)[-1] if food[0].isdigit() else food for food in several]
    line = joint.join(bare)
    lost = frozenset().union(*map(held, bare)) - kept(line)
    assert not lost or assess_written(read_line(line), market=EVERY_MARKET).unassessed, line


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.sampled_from([food for food in FOODS if any(map(_long, food.split(" ")))]), st.data())
def test_a_slip_loses_nothing_in_silence(food: str, data: st.DataObject) -> None:
    """One letter lost, doubled or changing places: told, asked, or said to be unknown, unless it is another word."""
    slipped(food, data)


@settings(max_examples=EXAMPLES, deadline=None)
@given(compounds, st.data())
def test_a_slip_in_a_compound_loses_nothing_in_silence(compound: str, data: st.DataObject) -> None:
    """A typo in any word of a compound leaves its allergen told, asked, or the word said to be unknown."""
    slipped(compound, data)


def slipped(food: str, data: st.DataObject) -> None:
    """Hold that a typo in one word of a food loses nothing in silence."""
    words = food.split(" ")
    long = [number for number, word in enumerate(words) if _long(word)]
    if not long:
        return
    at = data.draw(st.sampled_from(long))
    spot = data.draw(st.integers(1, len(words[at]) - 2))
    word = words[at]
    typo = data.draw(
        st.sampled_from(
            [word[:spot] + word[spot + 1 :], word[:spot] + word[spot] + word[spot:],
             word[:spot] + word[spot + 1] + word[spot] + word[spot + 2 :]]
        )
    )  # fmt: skip
    if not any(map(is_unknown, tokens(typo))) or in_english(tokens(typo))[1]:
        return  # it is another word
    line = " ".join((*words[:at], typo, *words[at + 1 :]))
    found = assess_written(read_line(line), market=EVERY_MARKET)
    assert held(food) <= found.allergens | found.possible or found.unassessed, line
