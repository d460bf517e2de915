"""What words of a name, an aside and a handling sentence mean for allergens: one test for each kind of mistake."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from labeler.allergens import (
    EVERY_MARKET,
    MARKETS,
    assess,
    assess_line,
    assess_name,
    assess_written,
    declared_names,
    matrix,
    statement,
)
from labeler.allergens.market_lists import exemptions
from labeler.allergens.vocabulary import DATA, allergen_names, load_vocabulary, rows
from labeler.as_json import allergen_object
from labeler.foods.model import WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.resolve import weigh, weigh_line
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Line, Recipe
from labeler.types import Problem

UNSEEN = Path(__file__).parents[1] / "data" / "allergen_names_unseen.csv"


def unseen() -> list[dict[str, str]]:
    with UNSEEN.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


@pytest.mark.parametrize("row", unseen(), ids=lambda row: row["name"])
def test_names_that_were_written_down_unseen(row: dict[str, str]) -> None:
    """Each holds exactly what us and eu want declared of it, and the package is asked what it must be asked."""
    assert row["basis"]
    for market in ("us", "eu"):
        found = assess_name(row["name"], market=market)
        assert found.allergens == set(row[market].split()), market
        assert not found.unassessed
    assert set(row["package"].split()) <= assess_name(row["name"], market="eu").possible


# --- oils ---


@pytest.mark.parametrize("market", MARKETS)
@pytest.mark.parametrize(
    ("oil", "allergen"),
    [
        ("peanut oil", "peanut"),
        ("groundnut oil", "peanut"),
        ("soybean oil", "soybean"),
        ("vegetable oil (soybean)", "soybean"),
        ("soybean and canola oil", "soybean"),
        ("almond oil", "almond"),
        ("hazelnut oil", "hazelnut"),
        ("walnut oil", "walnut"),
        ("sesame oil", "sesame"),
    ],
)
def test_an_oil_holds_its_plant_unless_the_market_exempts_it(market: str, oil: str, allergen: str) -> None:
    """Only where the law exempts the refined oil is a cooking oil a question; us: all; eu, uk: soybean, no other.

    FD&C Act 201(qq)(2)(A); Reg. (EU) 1169/2011 Annex II point 6(a).
    """
    line = read_line(f"500 ml {oil}, for frying")
    found = assess_written(line, market=market)
    asked_for = allergen in assess_name(allergen, market=market).allergens
    exempt = ("refined-oil", market, allergen) in exemptions() and allergen in ("peanut", "soybean")
    assert (allergen in found.allergens) == (asked_for and not exempt)
    assert (allergen in found.possible) == (asked_for and exempt)
    if "(" not in oil:
        recipe = assess(weigh(read_recipe(f"- 1 kg potatoes\n> deep-fry in {oil}\n")), market=market)
        assert (allergen in recipe.allergens) == (asked_for and not exempt)


@pytest.mark.parametrize("word", ["cold-pressed", "unrefined", "gourmet", "expeller-pressed", "virgin", "toasted"])
def test_an_oil_that_says_it_is_not_refined_is_exempt_nowhere(word: str) -> None:
    """Cold-pressed, expelled and extruded oils keep their protein (FDA; from memory)."""
    assert assess_name(f"{word} peanut oil", market="us").allergens == {"peanut"}
    assert assess_name(f"{word} soybean oil", market="eu").allergens == {"soybean"}


def test_exemptions_are_those_of_the_published_facts() -> None:
    """Refined oils: us all, eu and uk soybean; no other market (standards file of the project's facts)."""
    oils = {(market, allergen) for kind, market, allergen in exemptions() if kind == "refined-oil"}
    assert {pair for pair in oils if pair[0] != "us"} == {("eu", "soybean"), ("uk", "soybean")}


# --- nuts without a name ---

NAMELESS = ("mixed nuts", "nuts", "chopped nuts", "nut butter", "nut flour", "trail mix", "baklava")


@pytest.mark.parametrize("market", MARKETS)
@pytest.mark.parametrize("name", NAMELESS)
def test_nuts_without_a_name_are_asked_about_one_by_one(name: str, market: str) -> None:
    """A class is no entry of any law's list: every listed nut that it may be is asked for by name, none is claimed."""
    found = assess_name(name, market=market)
    published = {row["allergen"] for row in rows("allergens.csv")} - {"tree_nuts"}
    told = allergen_object(found)
    ids = {one["allergen"] for one in (*told["contains"], *told["read_the_package"])}
    assert ids <= published
    assert not {one["allergen"] for one in told["contains"]} & {"almond", "walnut", "hazelnut"}
    assert {"almond", "walnut"} <= found.possible
    assert [finding.allergen for finding in found.unnamed] == ["tree_nuts"]


def test_the_label_of_nuts_without_a_name_still_names_the_class() -> None:
    """The statement and the matrix never lose them, and the cook is told to name each."""
    found = assess_name("mixed nuts", market=EVERY_MARKET)
    said = statement(found, "us")
    assert said.names == ("tree nuts",) and any("Name each nut" in note for note in said.notes)
    table = matrix([("Mixture", found), ("Slaw", assess_name("cabbage", market=EVERY_MARKET))], "uk")
    assert table.marks[0][table.allergens.index("tree_nuts")] == "contains"
    assert "tree_nuts" not in matrix([("Slaw", assess_name("cabbage", market=EVERY_MARKET))], "uk").allergens


def test_an_aside_that_names_the_nuts_settles_them() -> None:
    """The brackets of "nuts (walnuts or pecans)" say which; examples do not."""
    named = assess_written(read_line("100 g nuts (walnuts or pecans)"), market="us")
    assert named.allergens == {"walnut", "pecan"} and not named.unnamed
    assert assess_written(read_line("100 g nuts (such as walnuts)"), market="us").unnamed
    assert assess_written(read_line("nuts; butter pecan ice cream"), market="us").unnamed


@pytest.mark.parametrize(
    ("line", "holds"),
    [
        ("tofu and nut-free pesto, almonds", {"soybean"}),  # no almond tofu
        ("(or flax eggs for vegan), dogfish", {"fish"}),  # the remark ends with its brackets
        ("milk-free bread and butter", {"milk", "wheat"}),
        ("bread and butter", {"milk", "wheat"}),
    ],
)
def test_what_joins_foods_takes_none_of_them(line: str, holds: set[str]) -> None:
    """No index order, no remark and no claim reaches over the word or the bracket that sets its food apart."""
    found = assess_written(read_line(line), market=EVERY_MARKET)
    assert holds <= found.allergens | found.possible


def test_cream_of_tartar_in_index_order_is_no_cream() -> None:
    """A segment that ends in "of" is the first half of a name."""
    assert not assess_written(read_line("tartar, cream of"), market=EVERY_MARKET).contains


@pytest.mark.parametrize(
    "line",
    [
        "a nut of butter",
        "a walnut-sized piece of butter",
        "1 walnut-sized knob of butter",
        "butter the size of a hazelnut",
        "butter, the size of an egg",
        "a lump of butter as big as a walnut",
        "a hazelnut of butter",
        "almond-shaped pats of butter",
    ],
)
def test_a_comparison_is_no_food(line: str) -> None:
    """The size of a walnut, an egg or a hazelnut brings only the butter that has it."""
    found = assess_written(read_line(line), market="eu")
    assert found.allergens == {"milk"} and not found.possible and not found.unnamed


@pytest.mark.parametrize("line", ["2 medium-sized prawns", "12 bite-sized shrimp", "shrimp, size 16/20", "king prawns"])
def test_a_size_of_the_food_itself_hides_nothing(line: str) -> None:
    """A word before "sized" is a comparison only where it is a food."""
    assert "crustaceans" in assess_written(read_line(line), market="eu").allergens


# --- asides ---


@pytest.mark.parametrize(
    ("line", "holds", "asks"),
    [
        ("1 cup cream (Irish)", {"milk"}, set()),
        ("400 g sausages (gluten-free)", set(), {"milk", "soybean", "mustard", "celery", "sulphites"}),
        ("100 g chocolate (70 %, dairy-free)", set(), {"soybean"}),
        ("1 cup milk (oat)", {"oats"}, set()),
        ("200 ml cream (coconut)", set(), set()),
        ("2 cups flour (rice)", set(), set()),
        ("50 g butter (peanut)", {"peanut"}, set()),
        ("100 g noodles (rice)", set(), set()),
        ("2 eggs (quail)", {"egg"}, set()),
        ("1 cup stock (fish)", {"fish"}, {"celery", "crustaceans"}),
        ("1 cup mayonnaise (egg-free)", set(), {"soybean", "mustard"}),
        ("8 slices bread (rye)", {"rye"}, {"wheat", "barley", "milk", "sesame"}),
    ],
)
def test_a_note_in_brackets_is_read_with_its_name(line: str, holds: set[str], asks: set[str]) -> None:
    """What stands in brackets behind a food says of which kind it is, as if it stood before it."""
    found = assess_written(read_line(line), market="eu")
    assert found.allergens == holds and found.possible == asks


# --- handling sentences ---


@pytest.mark.parametrize(
    ("sentence", "allergen"),
    [
        ("dust with flour", "wheat"),
        ("dust the board with flour", "wheat"),
        ("dredge in seasoned flour", "wheat"),
        ("flour the tin", "wheat"),
        ("brush with beaten egg", "egg"),
        ("glaze with milk", "milk"),
        ("top with parmesan", "milk"),
        ("fry in butter", "milk"),
        ("melt the butter", "milk"),
        ("finish with cream", "milk"),
        ("coat in breadcrumbs", "wheat"),
        ("sprinkle breadcrumbs over", "wheat"),
        ("sprinkle with sesame", "sesame"),
        ("scatter over chopped almonds", "almond"),
        ("add a splash of Worcestershire sauce", "fish"),
        ("stir in the soy sauce", "soybean"),
        ("drizzle with tahini", "sesame"),
        ("pass through beer batter", "barley"),
        ("serve topped with grated cheese", "milk"),
        ("marinate in yogurt overnight, then discard the yogurt", "milk"),
        ("fold in walnuts", "walnut"),
    ],
)
def test_every_food_that_handling_names_counts(sentence: str, allergen: str) -> None:
    """Coatings, glazes, toppings, frying fats and marinades are in no line and still in the food."""
    text = f"---\ntitle: Walnut parcels\n---\n- 1 kg pumpkin\n- 1 tsp cream of tartar\n> {sentence}\n"
    assert allergen in assess(weigh(read_recipe(text)), market=EVERY_MARKET).allergens


@pytest.mark.parametrize(("sentence", "allergen"), [("deglaze with white wine", "sulphites"), ("add stock", "celery")])
def test_what_handling_adds_is_asked_about_too(sentence: str, allergen: str) -> None:
    """A wine or a stock that only a sentence names has a package as well."""
    assert allergen in assess(weigh(read_recipe(f"- 2 onions\n> {sentence}\n")), market="eu").possible


@pytest.mark.parametrize(
    "sentence",
    [
        "make a batter and leave it to rest",
        "knead the dough, shape into a loaf",
        "roll out the pastry",
        "bake the bread 20 minutes",
        "sandwich the halves together",
        "cream the margarine and the sugar",
        "boil the noodles",
        "cut into pieces the size of a walnut",
        "rub in until it looks like breadcrumbs",
        "serve with bread and butter",
    ],
)
def test_what_a_recipe_makes_or_has_named_is_no_further_food(sentence: str) -> None:
    """The dough, the loaf and the noodles of a recipe are made of its lines; an action and a comparison are no food."""
    text = f"---\ntitle: Rice bread\n---\n- 500 g rice flour\n- 100 g rice noodles\n- 50 g sugar\n> {sentence}\n"
    assert not assess(weigh(read_recipe(text)), market=EVERY_MARKET).contains


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("rice noodles", "boil the noodles"),
        ("rice noodles", "cook noodles, then drain"),
        ("rice noodles", "add noodles to the pan"),
        ("glass noodles", "soak glass noodles, drain the noodles"),
        ("almond milk", "heat the milk"),
        ("almond milk", "bring milk to the boil"),
        ("coconut cream", "whip the cream"),
        ("coconut cream", "whip cream until stiff"),
        ("vegan butter", "melt butter and add"),
        ("gluten-free flour", "sift the flour"),
        ("gluten-free flour", "sift flour into a bowl"),
        ("gluten-free pasta", "cook pasta until al dente"),
        ("almond flour", "fold in flour"),
        ("rice", "grind to a fine flour"),
    ],
)
def test_handling_that_calls_a_line_by_a_shorter_name_means_that_line(line: str, sentence: str) -> None:
    """The noodles that are boiled are the rice noodles of the list: the sentence neither adds nor asks anything."""
    texts = (f"- 200 g {line}\n{handling}" for handling in ("", f"> {sentence}\n"))
    plain, said = (assess(weigh(read_recipe(text)), market=EVERY_MARKET) for text in texts)
    assert said.allergens == plain.allergens and said.possible == plain.possible


@pytest.mark.parametrize(
    ("line", "sentence", "allergen"),
    [
        ("200 ml almond milk", "brush with milk", "milk"),
        ("60 g vegan butter", "fry in butter", "milk"),
        ("200 g gluten-free flour", "dust with flour", "wheat"),
    ],
)
def test_a_sentence_that_may_mean_the_food_of_the_list_is_a_question(line: str, sentence: str, allergen: str) -> None:
    """Butter beside vegan butter may be that butter or another one: nothing is claimed and nothing is passed over."""
    found = assess(weigh(read_recipe(f"- {line}\n> {sentence}\n")), market=EVERY_MARKET)
    assert allergen not in found.allergens and allergen in found.possible


# --- parts ---


def test_a_line_that_names_a_part_brings_nothing_itself() -> None:
    """What "all of the frosting" holds stands in the lines of the frosting."""
    text = "## Frosting\n- 100 g margarine\n## Cake\n- 200 g rice flour\n- all of the Frosting\n"
    found = assess(weigh(read_recipe(text)), market="us")
    assert not found.contains and found.possible == {"milk", "soybean"}


def test_a_part_that_is_not_there_is_unassessed_and_keeps_what_its_name_spells_out() -> None:
    """Of "the rest of the almond frosting" the almond counts; that frosting is made with milk is only a question."""
    line = Line("the rest of the almond frosting", name="almond frosting")
    problem = Problem("no-such-part", "there is no such part")
    found = assess_line(WeighedLine(line, None, None, problems=(problem,)), market="us")
    assert found.allergens == {"almond"} and "milk" in found.possible and found.unassessed


# --- what the vocabulary may ask and hide ---


def test_no_compound_asks_for_more_than_its_kind_commonly_hides() -> None:
    """At most six questions for a compound that has a name, and fewer than three on the average."""
    counts = [
        (entry.phrase, len(entry.possible))
        for entry in set(load_vocabulary().entries.values())
        if entry.possible and entry.kind != "generic"
    ]
    assert [phrase for phrase, count in counts if count > 6] == []
    assert sum(count for _, count in counts) / len(counts) < 3


MISLEADING_INSIDE = re.compile(
    r"\b(?:free|non|vegan|vegetarian|veggy|plant|alternative|replacer|replacement|substitute|seasoning|spice|rub|"
    r"coating|breading|mix|of butter|of ghee|de beurre|malt|malted|semolina|semola|farin[ae]|harina|noix|noce|nuece|"
    r"orech|orzechy|nuss|nut|noir|sarraceno|easter|chocolate|kinder|just|flax|flaxseed|chia|curd|roe|caviar|tarator|"
    r"mani|steak|sepia|tofu|gravlax|durum|lupini|bass|beurre|amande|cream|cocktail|crisp|mushroom oyster|"
    r"oyster cracker|(?:fish|trout|salmon|lumpfish) egg|orange|banana|apple|chicken)\b"
)


def test_no_compound_hides_what_its_own_words_say() -> None:
    """A longer phrase keeps the allergens of the foods that it spells out, or its words are known to mislead."""
    entries = load_vocabulary().entries
    hidden = []
    for phrase, entry in entries.items():
        words = phrase.split(" ")
        if len(words) < 2 or entry.kind not in ("common", "standard", "derivative", "source"):
            continue
        held = {allergen for allergen, _ in (*entry.contains, *entry.possible)}
        for length in range(1, len(words)):
            for start in range(len(words) - length + 1):
                part = entries.get(" ".join(words[start : start + length]))
                if part is not None and part.kind in ("source", "derivative"):
                    missing = {allergen for allergen, _ in part.contains} - held
                    if missing and not MISLEADING_INSIDE.search(phrase):
                        hidden.append((phrase, part.phrase, missing))
    assert hidden == []


def test_no_phrase_has_lost_its_apostrophe() -> None:
    """A phrase written "shepherd s pie" would never be found in "shepherd's pie"."""
    written = " ".join(file.read_text(encoding="utf-8") for file in (DATA / "vocabulary").glob("*.csv"))
    assert re.findall(r"[a-z]+ s(?=[| ,])[^|,]*", written) == []


# --- brackets and rows, markets and labels ---


@pytest.mark.parametrize(
    "text",
    [
        "2 cups flour, sifted",
        "1 lb cod or hake, dredged in flour",
        "salt and pepper",
        "1 cup peanut butter and 2 tbsp jam",
        "2 eggs plus 1 egg yolk",
        "500 g gluten-free pasta",
        "1 zorblat",
        "100 g fish {food 15015}",
        "soy milk or cow's milk",
    ],
)
def test_a_line_alone_holds_what_it_holds_when_weighed(text: str) -> None:
    """Assessing a line without weighing it changes nothing but the speed."""
    alone, weighed = (
        assess_written(read_line(text), market=EVERY_MARKET),
        assess_line(weigh_line(read_line(text)), market=EVERY_MARKET),
    )
    assert alone.allergens == weighed.allergens and alone.possible == weighed.possible
    assert alone.unassessed == weighed.unassessed


def test_schedule_9_names_the_cereal_in_the_list_and_gluten_in_the_summary() -> None:
    """anz: "wheat" and "barley" in the ingredient list, "wheat, gluten" beside it (Standard 1.2.3, Schedule 9)."""
    whole = assess_name("wheat flour and barley malt", market=EVERY_MARKET)
    for name, listed in (("wheat flour", "wheat"), ("pearl barley", "barley")):
        (finding,) = assess_name(name, market="anz").contains
        assert declared_names(finding, market="anz") == (listed,)
    assert statement(whole, "anz").names == ("wheat", "gluten")


def test_molluscs_are_found_everywhere_and_declared_where_the_law_lists_them() -> None:
    """us and codex leave them out of the statement; jp lists abalone and squid; eu, uk, ca and anz all molluscs."""
    recipe = Recipe("Pie", ())
    lines = tuple(WeighedLine(Line(name, name=name), None, None) for name in ("cod", "prawns", "mussels"))
    found = assess(WeighedRecipe(recipe, (WeighedPart("", lines),)), market=EVERY_MARKET)
    said = {market: statement(found, market).text for market in MARKETS}
    assert said["us"] == "Contains: cod, shrimp"
    assert said["eu"] == said["uk"] == "Contains: fish, crustaceans, molluscs"
    assert said["ca"] == "Contains: Cod, Shrimp, Mussel"
    assert said["anz"] == "Contains: fish, crustacean, mollusc"
    assert said["codex"] == "Contains: fish, crustaceans"
    assert said["jp"] == "Contains: shrimp"
    assert "molluscs" in assess(WeighedRecipe(recipe, (WeighedPart("", lines),)), market="us").allergens


@pytest.mark.parametrize(
    ("name", "allergen"),
    [("chicken stock", "chicken"), ("beef stew", "beef"), ("pork pie", "pork"), ("apple pie", "apple")],
)
def test_a_compound_holds_the_meat_and_fruit_of_its_words_in_japan(name: str, allergen: str) -> None:
    """Recommended items of Appended Table 14 are found inside compounds as well, and not in "vegan chicken"."""
    assert allergen in assess_name(name, market="jp").allergens
    assert "chicken" not in assess_name("vegan chicken", market="jp").allergens


def test_every_allergen_that_is_given_out_is_one_of_the_list() -> None:
    """Whatever the name, ids in and out of `contains` are those of allergens.csv without the class of nuts."""
    published = set(allergen_names()) - {"tree_nuts"}
    for row in unseen():
        for market in MARKETS:
            found = assess_name(row["name"], market=market)
            assert {one.allergen for one in (*found.contains, *found.read_the_package)} <= published
