"""A dish that is made up is the same dish in whatever words, and one word that matters gives another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from dish_models import BRINE, DRESSING, Act, Deed, Dish, Food, dishes, plain, tellings, text_of
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from test_tellings import Figures, figures

MANY = settings(
    max_examples=100,
    deadline=None,
    derandomize=True,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
SAME = 0.03
NEAR = {"weight": 3.0, "energy": 2.0, "fat": 0.1, "sodium": 5.0}
"""What two figures may differ by where 3 % is less: g of the batch; kcal, g, mg of 100 g."""


def of_100_g(found: Figures) -> dict[str, float]:
    """The weight of the batch [g], and the figures of 100 g."""
    weight = found.amounts["weight"]
    return {name: one if name == "weight" else 100.0 * one / weight for name, one in found.amounts.items()}


def apart(one: Figures, other: Figures) -> dict[str, tuple[float, float]]:
    """The figures that differ by more than 3 %."""
    first, second = of_100_g(one), of_100_g(other)
    return {
        name: (first[name], second[name])
        for name, near in NEAR.items()
        if abs(first[name] - second[name]) > max(SAME * max(first[name], second[name]), near)
    }


@MANY
@given(dishes.flatmap(lambda dish: st.tuples(st.just(dish), tellings(dish))))
def test_a_dish_in_other_words_is_the_same_dish(told):
    """Figures agree within 3 %, allergens and cautions are the same, however it is worded, joined, grouped, set out."""
    dish, how = told
    text = text_of(dish, how)
    base, other = figures(text_of(dish, plain(dish))), figures(text)
    assert apart(base, other) == {}, text
    assert (base.allergens, base.cautions) == (other.allergens, other.cautions), text


POTATOES = Food("800 g potatoes, cubed", "potatoes")

PORK = Food("1.5 kg pork loin, boneless", "pork")
BOILED = Dish("Salad", (Act(Deed.BOIL_DRAIN, (POTATOES,), 18), Act(Deed.STIR_IN, DRESSING)))
BRINED = Dish("Roast", (Act(Deed.BRINE, (PORK,), 12, BRINE), Act(Deed.ROAST, (PORK,), 50)))
STEWED = Dish(
    "Stew",
    (
        Act(Deed.FRY, (Food("120 g onions, chopped", "onions"),), 8, (Food("40 g olive oil", "olive oil"),)),
        Act(Deed.SIMMER, (Food("200 g brown lentils", "lentils"), Food("1 litre vegetable stock", "stock")), 40),
    ),
)


@pytest.mark.parametrize(
    ("dish", "word", "other", "figure", "sign"),
    [
        (BOILED, "and drain", "and do not drain", "weight", ">"),
        (BRINED, ", then drain", ", then roast it in its brine", "sodium", ">"),
        (BRINED, "for 12 hours", "for 20 minutes", "sodium", "<"),
        (STEWED, "simmer covered", "simmer uncovered", "weight", "<"),
        (STEWED, "for 40 minutes", "for 40 minutes and drain", "weight", "<"),
        (STEWED, "the stock", "half of the stock, and keep the rest of the stock for another day", "weight", "<"),
        (STEWED, "in the olive oil", "in half of the olive oil, and keep the rest of it for another dish", "fat", "<"),
        (STEWED, "Add the lentils", "Discard the oil. Add the lentils", "fat", "<"),
    ],
)
def test_a_word_that_matters_in_a_dish_that_is_made_up(dish, word, other, figure, sign):
    """The figure that a word decides differs by over 10 %, and to the side where it should."""
    text = text_of(dish, plain(dish))
    assert word in text
    one, two = figures(text).amounts[figure], figures(text.replace(word, other)).amounts[figure]
    assert two > 1.1 * one if sign == ">" else one > 1.1 * two


@settings(MANY, max_examples=30)
@given(st.sampled_from([BOILED, STEWED]).flatmap(lambda dish: st.tuples(st.just(dish), tellings(dish))))
def test_what_is_poured_over_counts_and_what_is_discarded_does_not(told):
    """In any telling, a marinade that is poured over the dish brings its fat, and one that is discarded none."""
    dish, how = told
    text = text_of(dish, replace(how, remark=""))
    marinade = "- 300 g tofu\n- 80 g sesame oil\n"
    lines, _, method = text.partition("\n> ") if "\n> " in text else ("", "", "")
    if not method:
        return
    head = f"{lines}\n{marinade}> Marinate the tofu in the sesame oil for 4 hours. Lift the tofu out"
    poured = figures(f"{head}, keeping the oil.\n> {method}> Add the tofu and pour the sesame oil over.\n")
    gone = figures(f"{head} and discard the sesame oil.\n> {method}> Add the tofu.\n")
    assert poured.amounts["fat"] > gone.amounts["fat"] + 40.0
