"""The cautions that handling and ingredients call for, and where each of them belongs."""

from __future__ import annotations

import re

import pytest

from labeler.allergens import MARKETS
from labeler.food_safety import Caution, cautions
from labeler.food_safety.food_kinds import rows
from labeler.foods.model import Match, WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

UNKNOWN = Match(None, "", 0.0, "")
"""Of a food that the table lacks, so that its words decide."""


def raised(text: str, market: str = "us") -> dict[str, Caution]:
    recipe = read_recipe(text)
    titles = {part.title for part in recipe.parts if part.title}
    parts = tuple(
        WeighedPart(
            part.title,
            tuple(
                WeighedLine(line, UNKNOWN, None, part=next((t for t in titles if line.name.endswith(t)), None))
                for line in part.lines
            ),
        )
        for part in recipe.parts
    )
    return {caution.code: caution for caution in cautions(WeighedRecipe(recipe, parts), market=market)}


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("raw-animal-food", "- 300 g beef fillet\n- 1 egg yolk\n> chop and season\n"),
        ("raw-animal-food", "- 6 oysters in the shell\n- 1 lemon\n> open and serve\n"),
        ("raw-animal-food", "- 2 egg whites\n- 100 g sugar\n> whisk to a foam\n"),
        ("raw-animal-food-cook", "- 600 g duck breast\n> roast until rare\n"),
        ("raw-fish-parasites", "- 400 g salmon fillet\n- 60 g salt\n> cure 24 hours\n"),
        ("raw-fish-parasites", "- 300 g mackerel fillets\n> cold-smoke 8 hours\n"),
        (
            "acid-does-not-cook",
            "- 300 g sea bass\n- 150 ml lime juice\n> marinate the sea bass in the lime juice 30 minutes\n",
        ),
        ("low-core-temperature", "- 1 chicken\n> roast at 200 °C to 68 °C in the middle\n"),
        ("low-core-temperature", "- 500 g minced beef\n> grill to 60 °C in the middle\n"),
        ("no-core-temperature", "- 1 kg pork loin\n> roast at 180 °C for 90 minutes\n"),
        ("cold-and-hot-holding", "- 400 g cooked prawns\n- 1 lettuce\n> toss\n"),
        ("home-kitchen", "- 400 g cod\n> bake 20 minutes\n"),
        ("keep-cold", "- 400 g cod\n> bake 20 minutes\n"),
        ("flavoured-oil", "---\ntitle: Garlic oil\n---\n- 4 cloves garlic\n- 300 ml olive oil\n> infuse 2 days\n"),
        (
            "flavoured-oil-label",
            "---\ntitle: Basil oil\n---\n- 1 bunch basil\n- 300 ml olive oil\n> blend and strain\n",
        ),
        (
            "low-acid-jar",
            "---\ntitle: Beans\nmakes: 6 jars\n---\n- 1 kg green beans\n- 1 litre water\n> boil 10 minutes\n",
        ),
        (
            "acidified-jar",
            "---\ntitle: Pickle\nmakes: 4 jars\n---\n- 1 kg cucumbers\n- 500 ml cider vinegar\n> pickle\n",
        ),
        ("raw-milk-label", "- 1 litre raw milk\n> strain\n"),
        ("raw-milk", "- 1 litre unpasteurised milk\n> strain\n"),
        ("honey-infants", "- 200 g honey\n- 100 g oats\n> mix\n"),
        ("raw-flour", "- 200 g plain flour\n- 100 g sugar\n> mix to a dough and serve\n"),
        ("raw-sprouts", "- 100 g alfalfa sprouts\n> toss\n"),
        ("alcohol-left", "- 200 ml red wine\n- 1 kg pears\n> simmer 30 minutes\n"),
        ("alcohol-label", "- 50 ml dark rum\n- 500 ml whipping cream\n> whisk\n"),
        ("hot-chilli", "- 10 scotch bonnet chillies\n> chop\n"),
        ("hot-chilli-label", "- 3 habaneros\n> chop\n"),
        ("bones-label", "- 6 bone-in chicken thighs\n> roast 40 minutes\n"),
        ("bones-label", "- 1 kg mussels in the shell\n> steam 5 minutes\n"),
        ("choking", "- 100 g whole hazelnuts\n- 200 g grapes\n> mix\n"),
        ("kidney-beans", "- 200 g dried red kidney beans\n> simmer 2 hours\n"),
        ("foraged", "- 300 g chanterelles\n> fry 5 minutes\n"),
    ],
)
def test_a_recipe_raises_its_caution(code: str, text: str) -> None:
    """Each hazard of the list is raised by a recipe that shows it, with the line that raises it and a citation."""
    found = raised(text)
    assert code in found
    assert found[code].because and found[code].citation


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("raw-animal-food", "- 500 g chicken thighs\n> roast at 200 °C for 40 minutes to 80 °C in the middle\n"),
        ("raw-animal-food", "- 3 eggs\n- 200 g flour\n> mix\n> bake at 180 °C for 30 minutes\n"),
        ("raw-animal-food", "- 500 g chicken thighs\n- 2 eggs\n"),  # nothing is said of handling: nothing is concluded
        ("raw-animal-food", "- 1 can tuna\n- 100 ml mayonnaise\n> mix\n"),
        ("raw-animal-food", "- 1 litre chicken stock\n- 200 g noodles\n> simmer 5 minutes\n"),
        ("raw-fish-parasites", "- 300 g yellowfin tuna\n> slice thin\n"),  # exempt: Food Code 3-402.11(B)
        ("raw-fish-parasites", "- 12 scallops\n> slice thin\n"),
        ("low-core-temperature", "- 1 chicken\n> roast at 200 °C to 75 °C in the middle\n"),
        ("low-core-temperature", "- 1 kg beef sirloin\n> roast to 63 °C in the middle\n"),
        ("no-core-temperature", "- 1 kg pork loin\n> roast at 180 °C to 65 °C in the middle\n"),
        ("flavoured-oil", "- 1 clove garlic\n- 30 ml olive oil\n- 1 kg potatoes\n- 3 onions\n- 1 carrot\n> roast\n"),
        ("flavoured-oil", "---\ntitle: Dip\n---\n- 1 clove garlic\n- 100 ml oil\n- 50 ml vinegar\n> leave 1 hour\n"),
        ("acidified-jar", "---\ntitle: Jam\nmakes: 6 jars\n---\n- 1 kg strawberries\n- 1 kg sugar\n> boil 9 minutes\n"),
        (
            "acidified-jar",
            "---\nmakes: 4 jars\nstorage: Keep refrigerated.\n---\n- 1 cabbage\n- 200 ml vinegar\n> mix\n",
        ),
        ("keep-cold", "---\ntitle: Pie\nstorage: Keep below 5 °C.\n---\n- 400 g cod\n> bake 20 minutes\n"),
        ("alcohol-left", "- 100 ml red wine vinegar\n- 1 kg pears\n> simmer\n"),
        ("raw-flour", "- 200 g flour\n- 100 g butter\n> bake 20 minutes\n"),
        ("bones-label", "- 1 kg mussels in the shell\n> steam 5 minutes, then discard the shells\n"),
        ("bones-label", "- 500 g boneless chicken thighs\n> roast 40 minutes\n"),
        ("honey-infants", "- 1 tablespoon honey mustard\n> mix\n"),
        ("raw-milk", "- 1 litre milk\n> heat\n"),
        ("kidney-beans", "- 1 can red kidney beans\n> heat\n"),
    ],
)
def test_a_caution_is_not_raised_without_cause(code: str, text: str) -> None:
    """A caution that is not called for is noise, and noise is not read."""
    assert code not in raised(text)


ALL_AT_ONCE = (
    "---\ntitle: Raw oil jars\nmakes: 6 jars\n---\n- 300 g salmon\n- 6 oysters in the shell\n- 1 litre raw milk\n"
    "- 4 cloves garlic\n- 300 ml olive oil\n- 100 g alfalfa sprouts\n- 1 kg green beans\n> slice raw\n"
    "## Roast\n- 1 chicken\n- 1 kg pork loin\n- 50 ml tonic water\n- 20 g liquorice\n"
    "> roast the chicken to 68 °C in the middle\n> roast the pork at 180 °C for 90 minutes\n"
)
OF_THE_US = re.compile(r"\b(?:CFR|FDA|USDA|WAC|National Center for Home|Extension)\b")


@pytest.mark.parametrize("market", [market for market in MARKETS if market != "us"])
def test_no_market_is_cited_the_law_of_another(market: str) -> None:
    """What only US sources say is marked as guidance elsewhere, and no label elsewhere carries words of a US law."""
    for caution in raised(ALL_AT_ONCE, market).values():
        if OF_THE_US.search(caution.citation):
            assert caution.citation.startswith("guidance of") and "not held here" in caution.citation, caution.code
        if caution.place == "label":
            assert "Consuming raw or undercooked" not in caution.text and "WARNING" not in caution.text
        assert "FDA" not in caution.text, caution.code


def test_each_market_has_its_own_figures_where_they_are_held() -> None:
    """Cold holding: 41 °F by the FDA Food Code 3-501.16, 8 °C by Schedule 4 of the English regulations, 5 and 60 °C by
    Standard 3.2.2; fish for raw eating 24 hours at -20 °C by Reg. (EC) 853/2004 (the last three from memory)."""
    held = {market: raised("- 400 g salmon\n> slice raw\n", market) for market in MARKETS}
    assert "41 °F" in held["us"]["cold-and-hot-holding"].text and "7 days" in held["us"]["raw-fish-parasites"].text
    assert "8 °C" in held["uk"]["cold-and-hot-holding"].text and "24 hours" in held["uk"]["raw-fish-parasites"].text
    assert "60 °C" in held["anz"]["cold-and-hot-holding"].text
    assert held["jp"]["cold-and-hot-holding"].citation.startswith("guidance of the United States")


@pytest.mark.parametrize(
    ("storage", "raises"),
    [
        ("Keep refrigerated.", False),
        ("Store in a cool dry place.", True),
        ("Once opened keep in the fridge.", True),
        ("", True),
    ],
)
def test_one_rule_says_whether_a_food_is_kept_cold(storage: str, raises: bool) -> None:
    """Only a storage that is cold from the start settles it, for the label's line and for jars alike."""
    head = f"---\ntitle: Cod\nmakes: 4 jars\nstorage: {storage}\n---\n"
    found = raised(f"{head}- 400 g cod\n- 100 ml vinegar\n> bake 20 minutes\n")
    assert ("keep-cold" in found) is raises and ("acidified-jar" in found) is raises


def test_a_part_that_another_cooks_is_not_raw() -> None:
    """Heat that comes later, in the part that takes this one, counts; heat that is for another food does not."""
    cooked = "## Filling\n- 300 g minced lamb\n> season\n## Pasty\n- Filling\n- 200 g flour\n> bake 40 minutes\n"
    assert "raw-animal-food" not in raised(cooked)
    beside = "## Salad\n- 300 g tuna steak\n- 500 g potatoes\n> boil the potatoes 20 minutes\n> slice the tuna raw\n"
    assert "raw-animal-food" in raised(beside)


def test_the_consumer_advisory_has_both_parts() -> None:
    """Disclosure and reminder, FDA Food Code 3-603.11: one without the other is not an advisory."""
    advisory = raised("- 12 oysters\n> open and serve raw\n")["raw-animal-food"]
    assert advisory.place == "label"
    assert advisory.text.startswith("Contains raw or undercooked shellfish.")
    assert "may increase your risk of foodborne illness" in advisory.text


def test_the_parasite_rule_gives_its_figures_and_says_that_a_home_freezer_does_not_reach_them() -> None:
    """-20 °C for 7 days or -35 °C and 15 hours: FDA Food Code 3-402.11."""
    text = raised("- 300 g bream fillet\n- 100 ml lemon juice\n> cure 1 hour\n")["raw-fish-parasites"].text
    assert all(figure in text for figure in ("-20 °C", "7 days", "-35 °C", "15 hours", "-18 °C"))


def test_only_what_belongs_there_goes_on_the_label() -> None:
    """Labels carry what a buyer must see; every caution for the cook defers to who decides, and none certifies."""
    for row in rows("cautions.csv"):
        assert row["place"] in ("label", "cook") and row["citation"], row["code"]
        words = f"{row['text']} {row['deferral']}".lower()
        if row["place"] == "cook":
            deferral = row["deferral"].lower()
            decides = ("local", "code", "authority", "licen", "law", "rules", "limit", "do not sell")
            assert any(word in deferral for word in decides), row["code"]
        else:
            assert not row["deferral"], row["code"]
        assert "compliant" not in words and "is safe" not in words and "free from" not in words


def test_the_label_comes_first_and_nothing_is_said_twice() -> None:
    """What goes on the label leads, and one caution stands once however many lines raise it."""
    text = "- 2 habaneros\n- 3 scotch bonnet\n- 2 tablespoons honey\n- 300 g salmon\n> blend raw\n"
    recipe = read_recipe(text)
    weighed = WeighedRecipe(
        recipe, (WeighedPart("", tuple(WeighedLine(x, None, None) for x in recipe.parts[0].lines)),)
    )
    found = cautions(weighed)
    places = [caution.place for caution in found]
    assert places == sorted(places, key=lambda place: place != "label")
    assert len({(caution.code, caution.text) for caution in found}) == len(found)


def _of_weighed(text: str, market: str) -> dict[str, str]:
    return {one.code: one.text for one in cautions(weigh(read_recipe(text)), market=market)}


@pytest.mark.parametrize("market", ["eu", "uk"])
def test_a_plant_is_not_called_of_animal_origin(market: str) -> None:
    """What is said of food of animal origin names only such food, and nothing is said of it where there is none."""
    plants = _of_weighed("- 500 g carrots\n- 200 g romaine lettuce, chopped\n> boil the carrots 20 minutes\n", market)
    assert "animal" not in plants["home-kitchen"] and "registered" in plants["home-kitchen"]
    mixed = _of_weighed("- 500 g carrots\n- 300 g pork mince\n> boil 30 minutes\n", market)["home-kitchen"]
    assert re.search(r"animal origin is [^.:]*pork", mixed, re.IGNORECASE) and "Carrot" in mixed.partition(".")[0]


@pytest.mark.parametrize(
    ("line", "told"),
    [("4 flour tortillas", False), ("200 g plain flour", True), ("200 g rye flour", True), ("50 g besan", True)],
)
def test_only_flour_is_a_raw_food(line: str, told: bool) -> None:
    """What has been baked of flour is no raw flour, whatever its name says."""
    assert ("raw-flour" in _of_weighed(f"- {line}\n- 100 g butter\n> mix and serve\n", "us")) is told
