"""From the text of a recipe to what is on the plate: reading, weighing and cooking together."""

from __future__ import annotations

from pathlib import Path

import pytest
from kitchen_help import amount, imbalance, pot_of

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

DEMO = Path(__file__).parents[2] / "demo"


def cooked(text: str, draws: int = 0):
    return cook(weigh(read_recipe(text)), draws=draws)


ROLLS = """---
makes: 8 rolls
---
## Roast chicken
- 2 litres water
- 120 g fine sea salt
- 60 g sugar
- 1.2 kg boneless skinless chicken breasts
> brine the chicken 2 hours in the fridge, then drain and pat dry
> roast at 200 °C for 30 minutes to 74 °C in the middle
> weighs 900 g
> catch the drippings in the pan sauce
## Pan sauce
- 300 ml low-sodium chicken broth
- 100 ml dry white wine
- 20 g unsalted butter
> simmer until reduced to 200 ml
## Quick pickles
- 500 ml water
- 25 g fine sea salt
- 1 large cucumber, sliced 3 mm
> soak 4 hours, then drain
## One roll
- 1 white bread roll {food 18342, 60 g}
- 100 g Roast chicken
- 1 tablespoon Pan sauce
- 30 g Quick pickles
- 10 g lettuce
"""


def test_brined_roasted_sauced_and_assembled():
    """Every part's account closes, in mass and in every nutrient, and each part is what it should be."""
    dish = cooked(ROLLS, draws=20)
    assert {problem.code for problem in dish.problems} == {"part-left-over"}  # 8 rolls take less than is made
    for ledger in dish.ledgers:
        assert imbalance(ledger) < 1e-9
    chicken, sauce, _, roll = dish.ledgers
    assert chicken.measured.best == 900.0 and float(chicken.kept.total_mass[0]) == pytest.approx(900.0, abs=0.5)
    dripped = next(entry for entry in chicken.streams if entry.stream == "dripped")
    assert dripped.reused == pytest.approx(1.0)
    assert [entry.name for entry in sauce.added if entry.name] == ["drippings"]
    assert dish.served == ("One roll",) and roll.times == 8


def test_handling_is_not_adding_up():
    """The sodium of a roll is a small part of what adding up the ingredients gives: the brines are poured off."""
    weighed = weigh(read_recipe(ROLLS))
    dish = cook(weighed)
    added = 0.0
    for part, times in zip(weighed.parts, (1, 1, 1, 8), strict=True):
        for line in part.lines:
            if line.part is None and line.match is not None and line.grams is not None:
                added += times * amount(pot_of(("it", line.match.food, line.grams.best))[0], "NA")
    factor = added / amount(dish.mix, "NA")
    assert 5.0 < factor < 10.0


@pytest.mark.parametrize("path", sorted(DEMO.glob("*.md")), ids=lambda path: path.stem)
def test_every_demo_adds_up_to_the_gram(path):
    """The account of every part of every demo recipe closes, and nothing in its handling is unread."""
    dish = cooked(path.read_text(encoding="utf-8"), draws=5)
    assert "handling-not-read" not in [problem.code for problem in dish.problems]
    for ledger in dish.ledgers:
        assert imbalance(ledger) < 1e-9


def test_a_recipe_as_cooks_write_it():
    """All lines first, then what is done to them: each step is about what it names."""
    dish = cooked(
        """
        - 500 g spaghetti
        - 1 onion, chopped
        - 2 tablespoons olive oil
        - 400 g canned tomatoes
        - 30 g parmesan, grated
        > fry the onion in the oil for 8 minutes until soft
        > add the tomatoes and simmer the onion and tomatoes, uncovered, 15 minutes
        > boil the spaghetti in salted water for 10 minutes, then drain
        > toss everything together and serve with the cheese
        """.replace("\n        ", "\n")
    )
    (ledger,) = dish.ledgers
    assert imbalance(ledger) < 1e-9
    assert amount(dish.mix, "FAT") > 27.0  # the oil is not drained with the pasta
    names = {item.name for item in dish.mix.items}
    assert "olive oil" in names
    pasta = sum(m for i, m in zip(dish.mix.items, dish.mix.mass[0], strict=True) if "spaghetti" in i.name)
    assert 400.0 < pasta < 500.0
    assert 1300.0 < float(dish.mix.total_mass[0]) < 2000.0


def test_a_measured_pickle():
    """A weight after draining settles a pickle; the method says that it was measured."""
    dish = cooked(
        """
        ## Pickle
        - 1 litre water
        - 40 g salt
        - 700 g cucumber, sliced 3 mm
        > soak 8 hours, then drain
        > weighs 720 g
        """.replace("\n        ", "\n")
    )
    assert float(dish.mix.total_mass[0]) == pytest.approx(720.0)
    assert dish.ledgers[0].stages[-1].method.startswith("measured")


def test_a_bare_list_is_added_up():
    """A list of lines without handling is their sum."""
    dish = cooked("- 200 g flour\n- 100 g sugar\n")
    assert float(dish.mix.total_mass[0]) == pytest.approx(300.0)
