"""Advice on what to weigh, and what following it does."""

from pathlib import Path

import numpy as np
import pytest

from labeler.foods.resolve import weigh
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.uncertainty.measurement_options import Changes, line_way

DEMO = Path(__file__).parents[2] / "demo"


def follow(text, advice):
    """The recipe with one piece of advice followed as its words say."""
    typed = advice["type"].strip("“”")
    lines = text.split("\n")
    if typed.startswith("serving:"):
        at = 1 + lines[1:].index("---") if lines[0] == "---" else 0
        return "\n".join(
            [line for line in [*lines[:at], typed, *lines[at:]] if line == typed or line[:8] != "serving:"]
        )
    if typed.startswith(">"):
        sentence = advice["measure"].split("after “", 1)[1].rstrip("”")
        at = next(at for at, line in enumerate(lines) if sentence in line)
        return "\n".join([*lines[: at + 1], typed, *lines[at + 1 :]])
    said = (typed, typed.replace("table salt", "salt"))
    begun = [
        at
        for at, line in enumerate(lines)
        if (text := line.removeprefix("- ")) and any(one.startswith(text.split("{")[0].strip()) for one in said)
    ]
    at = max(begun, key=lambda at: len(lines[at]))
    mark = "- " if lines[at].startswith("- ") else ""
    return "\n".join([*lines[:at], mark + typed, *lines[at + 1 :]])


def width(nutrition, key):
    figure = nutrition.per_serving[key]
    return figure.high - figure.low


RECIPES = {path.stem: path.read_text(encoding="utf-8") for path in sorted(DEMO.glob("*.md"))}
RECIPES["cups"] = (
    "---\nserves: 4\n---\n- 2 cups flour\n- 1 cup cheese, grated\n- 2 teaspoons salt\n- 3 tablespoons oil\n"
    "- 1 cup milk\n"
)
RECIPES["boiled down"] = (
    "---\nserving: 30 g\n---\n- 1 kg tomatoes\n- 200 g sugar\n- 2 teaspoons salt\n> simmer 1 hour\n"
)


@pytest.mark.parametrize("name", RECIPES)
def test_advice_followed_does_what_it_promises(name):
    """Typing the measured value leaves the interval within 10 % of what was promised to be left of it."""
    text = RECIPES[name]
    before = analyse(read_recipe(text))
    assert before.weigh_next
    for advice in before.weigh_next:
        if advice["type"].startswith("labeler"):
            continue  # a package is read, not weighed
        after = analyse(read_recipe(follow(text, advice)))
        left = width(after, advice["nutrient"]) / width(before, advice["nutrient"])
        assert left == pytest.approx(1 - advice["removes"], rel=0.1), advice["message"]


def test_advice_says_what_to_do_what_to_type_and_what_it_brings():
    """One to three pieces, the most useful first; each with its share between 0 and 1 and a sentence of it all."""
    found = analyse(read_recipe(RECIPES["cups"])).weigh_next
    assert 1 <= len(found) <= 3
    for advice in found:
        assert set(advice) == {"measure", "type", "nutrient", "removes", "message"}
        assert 0.05 <= advice["removes"] <= 1.0
        assert advice["type"] in advice["message"] and "%" in advice["message"]


def test_a_roast_that_is_boiled_down_is_to_be_weighed():
    """What boils away unmeasured rules the figures per 100 g, and the scale settles it."""
    found = analyse(read_recipe(RECIPES["boiled down"])).weigh_next
    assert any(advice["type"].strip("“”").startswith("> weighs") for advice in found)


def test_a_brined_joint_is_to_be_measured():
    """How thick the piece is rules how much salt gets in; the line that says it is read."""
    text = "---\nserves: 4\n---\n- 3 litres water\n- 180 g salt\n- 1.4 kg pork loin {food 10020, 1400 g}\n"
    found = analyse(read_recipe(text + "> brine the pork 12 hours in the fridge, then drain\n")).weigh_next
    thick = [advice for advice in found if "thick" in advice["measure"]]
    assert thick and thick[0]["nutrient"] == "NA" and "mm across" in thick[0]["type"]


def test_what_no_line_lists_is_to_be_weighed():
    """Butter that only the method names is the doubt about the fat, and a line for it settles that."""
    text = "---\nserves: 4\n---\n- 500 g carrots {food 11124, 500 g}\n> Steam 10 minutes. Fry in butter 5 minutes.\n"
    found = [advice for advice in analyse(read_recipe(text)).weigh_next if "no line lists" in advice["measure"]]
    assert found and found[0]["type"].strip("“”").endswith("butter")


def test_nothing_is_advised_where_nothing_is_in_doubt():
    """Water by weight has no figure to make surer; and without draws there is no advice."""
    assert analyse(read_recipe("---\nserving: 100 g\n---\n- 100 g water {food 14411, 100 g}\n")).weigh_next == ()
    assert analyse(read_recipe(RECIPES["cups"]), draws=0).weigh_next == ()


def test_the_same_recipe_gets_the_same_advice():
    """Draws come from the text alone."""
    one, two = (analyse(read_recipe(RECIPES["cups"])).weigh_next for _ in range(2))
    assert one == two


@pytest.mark.parametrize(
    "line", ["1 pinch saffron", "1 pinch salt", "2 sprigs thyme", "1 dash hot sauce", "1 bay leaf"]
)
def test_nobody_is_told_to_weigh_what_no_kitchen_scale_shows(line):
    """A pinch or a sprig is less than a scale tells from nothing, whatever share of the doubt it has."""
    found = analyse(read_recipe(f"---\nserves: 1\n---\n- {line}\n- 100 g water {{food 14411, 100 g}}\n")).weigh_next
    assert not [advice for advice in found if advice["measure"].startswith("weigh the")]


def test_advice_reads_as_a_sentence_where_nothing_has_a_name():
    """A part without a title is what you have, and one serving is one serving."""
    found = analyse(read_recipe(RECIPES["boiled down"])).weigh_next
    said = " ".join(advice["message"] for advice in found)
    assert "Weigh what you have after" in said and "the what" not in said and "narrower" in said


def test_a_line_that_is_settled_stays_in_its_list():
    """A salt that is weighed is still the salt of the brine, so that what is promised is of the same dish."""
    weighed = weigh(
        read_recipe(
            "# Pickle\n\n## Ingredients\nFor the brine:\n- 1 l water\n- 4 tbsp salt\n\nFor the dressing:\n"
            "- 200 g yogurt\n- 1 tsp salt\n\n## Method\n1. Heat the brine.\n2. Mix the dressing.\n"
        )
    )
    before = weighed.parts[0].lines[1].line
    way = line_way(weighed, (0, 1), "weigh it", "4 tbsp salt {68 g}", np.zeros(7), "us", changes=Changes.FOODS)
    after = way.changed().parts[0].lines[1].line
    assert before.group == after.group == "brine"
    assert after.number == before.number
