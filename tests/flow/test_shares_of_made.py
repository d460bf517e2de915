"""Shares of what was made: half of the sauce, the rest of it; dishes of our own.

Shares and weights are what a cook would expect; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import Told, check, kept

DISHES = {
    "half of the sauce goes with the noodles": Told(
        "- 400 g egg noodles\n- 100 ml soy sauce\n- 60 g sugar\n- 100 ml rice vinegar",
        "Whisk the soy sauce, sugar and vinegar to a sauce. Boil the noodles for 5 minutes and drain. "
        "Mix half of the sauce with the noodles. Serve.",
        {"60 g": (0.45, 0.55), "400 g": (0.9, 1.0)},
        problems=frozenset({"portion-left-over"}),
    ),
    "half with the noodles, the rest on the side": Told(
        "- 400 g egg noodles\n- 100 ml soy sauce\n- 60 g sugar\n- 100 ml rice vinegar",
        "Whisk the soy sauce, sugar and vinegar to a sauce. Boil the noodles for 5 minutes and drain. "
        "Mix half of the sauce with the noodles and serve the rest on the side.",
        {"60 g": (0.98, 1.0), "400 g": (0.9, 1.0)},
    ),
    "half of it, and the rest of it": Told(
        "- 400 g egg noodles\n- 100 ml soy sauce\n- 60 g sugar\n- 100 ml rice vinegar",
        "Stir the soy sauce, sugar and vinegar together. Cook the noodles in boiling water, drain, and "
        "toss them with half of it. Serve with the rest of it.",
        {"60 g": (0.98, 1.0)},
    ),
    "half of it is not of the food in hand": Told(
        "- 400 g egg noodles\n- 100 ml soy sauce\n- 60 g sugar\n- 100 ml rice vinegar",
        "Stir the soy sauce, sugar and vinegar together. Cook the noodles in boiling water, drain, and "
        "toss them with half of it.",
        {"60 g": (0.45, 0.55)},
        problems=frozenset({"portion-left-over"}),
    ),
    "so many grams of the sauce": Told(
        "- 400 g egg noodles\n- 100 ml soy sauce\n- 60 g sugar\n- 100 ml rice vinegar",
        "Stir the soy sauce, sugar and vinegar into a sauce. Cook the noodles in boiling water, drain "
        "and toss with 130 g of the sauce.",
        {"60 g": (0.4, 0.6)},
        problems=frozenset({"portion-left-over"}),
    ),
    "two thirds of the dressing over the leaves": Told(
        "- 500 g salad leaves\n- 120 ml olive oil\n- 60 ml vinegar\n- 20 g mustard",
        "Shake the oil, vinegar and mustard to a dressing. Pour two thirds of the dressing over the leaves and toss.",
        {"120 ml": (0.62, 0.72)},
        problems=frozenset({"portion-left-over"}),
    ),
    "the rest is served beside": Told(
        "- 500 g salad leaves\n- 120 ml olive oil\n- 60 ml vinegar\n- 20 g mustard",
        "Shake the oil, vinegar and mustard to a dressing. Pour two thirds of the dressing over the "
        "leaves and toss. Serve the rest beside.",
        {"120 ml": (0.98, 1.0)},
    ),
    "the remainder is passed at the table": Told(
        "- 500 g salad leaves\n- 120 ml olive oil\n- 60 ml vinegar\n- 20 g mustard",
        "Shake the oil, vinegar and mustard in a jar. Toss the leaves with about a third of the "
        "dressing and pass the remainder at the table.",
        {"120 ml": (0.98, 1.0)},
    ),
    "the remaining glaze": Told(
        "- 1 kg chicken wings\n- 100 g honey\n- 100 ml soy sauce\n- 20 g ginger",
        "Mix the honey, soy sauce and ginger. Brush the wings with half of the glaze and roast at 200C "
        "for 40 minutes. Brush with the remaining glaze and roast 5 minutes more.",
        {"100 g honey": (0.9, 1.0)},
    ),
    "half of a marinade has touched meat, the other half is a sauce": Told(
        "- 1 kg chicken thighs\n- 200 g yogurt\n- 20 g garlic\n- 10 g salt",
        "Mix the yogurt, garlic and salt. Marinate the chicken in half the mixture for 2 hours. Drain "
        "and grill for 20 minutes. Serve with the other half.",
        {"200 g": (0.5, 0.9)},
    ),
    "the other half of the dough is frozen": Told(
        "- 500 g flour\n- 300 ml water\n- 10 g salt\n- 7 g yeast\n- 400 g tomatoes",
        "Knead the flour, water, salt and yeast to a dough. Leave to rise for 1 hour. Roll out half of "
        "the dough, top with the tomatoes and bake at 250C for 10 minutes. Freeze the other half.",
        {"500 g": (0.48, 0.52), "400 g": (0.95, 1.0)},
    ),
    "grams of a crumble": Told(
        "- 200 g butter\n- 200 g sugar\n- 200 g flour\n- 500 g apples",
        "Rub the butter, sugar and flour to a crumble. Put the apples in a dish, scatter over 300 g of "
        "the crumble and bake at 180C for 40 minutes.",
        {"200 g butter": (0.47, 0.53)},
        problems=frozenset({"portion-left-over"}),
    ),
    "the rest of the butter": Told(
        "- 500 g mushrooms\n- 60 g butter\n- 4 slices bread",
        "Melt half of the butter and fry the mushrooms for 8 minutes. Spread the toast with the rest of "
        "the butter and pile the mushrooms on.",
        {"60 g": (0.95, 1.0)},
    ),
    "half the butter, and nobody speaks of the rest": Told(
        "- 500 g mushrooms\n- 60 g butter",
        "Melt half the butter in a pan and fry the mushrooms for 8 minutes.",
        {"60 g": (0.45, 0.55)},
        problems=frozenset({"portion-left-over"}),
    ),
    "drizzled with the rest": Told(
        "- 200 g tahini\n- 100 ml lemon juice\n- 100 ml water\n- 1 kg cauliflower",
        "Whisk the tahini with the lemon juice and water. Roast the cauliflower for 30 minutes at 220C. "
        "Spoon half of the tahini sauce onto a plate and put the cauliflower on top. Drizzle with the "
        "rest.",
        {"200 g": (0.98, 1.0)},
    ),
    "half of a soup is blended and goes back": Told(
        "- 1 kg leeks\n- 500 ml stock\n- 300 g potatoes",
        "Simmer the leeks and potatoes in the stock for 30 minutes. Blend half of the soup and return it to the pot.",
        {"500 ml": (0.98, 1.0), "1 kg": (0.98, 1.0)},
    ),
    "half of a soup is stirred back into the rest": Told(
        "- 1 kg leeks\n- 500 ml stock\n- 300 g potatoes",
        "Simmer the leeks and potatoes in the stock for 30 minutes. Blend half of the soup until smooth "
        "and stir it back into the rest.",
        {"500 ml": (0.98, 1.0), "1 kg": (0.98, 1.0)},
    ),
    "batches are no shares": Told(
        "- 200 g flour\n- 300 ml milk\n- 2 eggs\n- 30 g butter",
        "Whisk the flour, milk and eggs to a batter. Melt half of the butter, add half of the batter "
        "and cook for 2 minutes a side. Repeat with the remaining butter and batter.",
        {"200 g": (0.98, 1.0), "30 g": (0.98, 1.0)},
    ),
    "layers": Told(
        "- 500 g potatoes\n- 300 g cheese\n- 300 ml cream",
        "Layer half of the potatoes in a dish, scatter with half the cheese, add the remaining "
        "potatoes, pour over the cream and top with the rest of the cheese. Bake for 1 hour at 180C.",
        {"500 g": (0.98, 1.0), "300 g": (0.98, 1.0), "300 ml": (0.98, 1.0)},
    ),
    "half of the fruit is mashed": Told(
        "- 500 g strawberries\n- 80 g sugar\n- 400 ml cream",
        "Macerate the strawberries with the sugar for 30 minutes. Whip the cream. Mash half of the "
        "strawberries and fold them into the cream. Top with the rest.",
        {"500 g": (0.98, 1.0), "400 ml": (0.98, 1.0)},
    ),
    "one half of each roll": Told(
        "- 6 bread rolls\n- 100 g mayonnaise\n- 300 g ham",
        "Cut the rolls in half. Spread one half of each with mayonnaise, lay the ham on and close.",
        {"6 bread": (0.98, 1.0), "100 g": (0.98, 1.0)},
    ),
    "three quarters of a dressing": Told(
        "- 300 g couscous\n- 400 ml stock\n- 100 g apricots\n- 50 ml olive oil\n- 30 ml lemon juice",
        "Pour the hot stock over the couscous and leave 10 minutes. Shake the oil with the lemon juice. "
        "Stir about three quarters of the dressing and the apricots into the couscous. Serve with the "
        "remaining dressing.",
        {"50 ml": (0.98, 1.0)},
    ),
    "the rest is kept for another salad": Told(
        "- 300 g couscous\n- 400 ml stock\n- 50 ml olive oil\n- 30 ml lemon juice",
        "Pour the hot stock over the couscous and leave 10 minutes. Shake the oil with the lemon juice. "
        "Stir 40 ml of the dressing into the couscous. Keep the rest for another salad.",
        {"50 ml": (0.4, 0.7)},
    ),
    "two thirds of a dough": Told(
        "- 250 g butter\n- 100 g sugar\n- 300 g flour\n- 200 g jam",
        "Cream the butter and sugar and work in the flour. Press two thirds of the dough into a tin, "
        "spread with the jam and crumble the remaining dough over the top. Bake for 35 minutes at 180C.",
        {"250 g": (0.98, 1.0), "200 g": (0.98, 1.0)},
    ),
    "grams of a line, and the rest of it": Told(
        "- 500 g chickpeas, canned, drained\n- 60 g tahini\n- 40 ml lemon juice",
        "Blend 400 g of the chickpeas with the tahini and lemon juice. Top with the rest.",
        {"500 g": (0.98, 1.0)},
    ),
    "a third, then the rest": Told(
        "- 300 ml milk\n- 200 g chocolate\n- 400 ml cream",
        "Heat the milk, pour a third of it over the chocolate and stir until melted. Stir in the "
        "remaining milk. Whip the cream and fold in a third, then the rest.",
        {"300 ml": (0.98, 1.0), "400 ml": (0.98, 1.0)},
    ),
    "spoons of a sauce": Told(
        "- 400 g egg noodles\n- 100 ml soy sauce\n- 60 g sugar\n- 100 ml rice vinegar",
        "Simmer the soy sauce, sugar and vinegar for 5 minutes. Boil the noodles and drain. Toss the "
        "noodles with 3 tablespoons of the sauce.",
        {"60 g": (0.1, 0.3)},
        problems=frozenset({"portion-left-over"}),
    ),
    "half of the filling": Told(
        "- 400 g flour\n- 250 ml water\n- 500 g lamb mince\n- 1 onion",
        "Knead the flour and water to a dough. Mix the lamb with the onion. Divide the dough in two. "
        "Roll out one half and spread it with half of the filling. Roll out the second half and use up "
        "the rest of the filling. Bake at 220C for 20 minutes.",
        {"400 g": (0.98, 1.0), "500 g": (0.98, 1.0)},
    ),
    "served with grams of a chutney": Told(
        "- 500 g tomatoes\n- 100 g sugar\n- 100 ml vinegar\n- 300 g cheese",
        "Simmer the tomatoes, sugar and vinegar for an hour to a chutney. Serve the cheese with 150 g of the chutney.",
        {"300 g": (1.0, 1.0), "100 g": (0.15, 0.6)},
        problems=frozenset({"portion-left-over"}),
    ),
    "what is left of a paste": Told(
        "- 100 g miso\n- 50 ml mirin\n- 2 aubergines",
        "Stir the miso and mirin together. Grill the aubergines for 15 minutes. Brush them with half of "
        "the paste, grill for 3 minutes, brush with what is left and grill for 3 minutes more.",
        {"100 g": (0.9, 1.0)},
    ),
}


@pytest.mark.parametrize("dish", DISHES)
def test_a_share_of_what_was_made_is_that_share(dish: str) -> None:
    """So much of a sauce, a dough or a dressing goes in, the rest where the words put it, and what is left is told."""
    check(DISHES[dish])


def test_a_share_of_a_syrup_goes_over_what_was_baked():
    """The syrup is the liquid in hand and the cake what was made before: a quarter goes on, the rest is kept."""
    lines = "- 200 g flour\n- 4 eggs\n- 100 g butter\n- 300 g sugar\n- 200 ml water"
    method = (
        "Beat the butter, eggs and flour and bake for 35 minutes. Boil the sugar with the water for 2 minutes. "
        "Brush a quarter of the syrup over the cake and keep the rest of the syrup for drinks."
    )
    found = kept(lines, method)
    assert found["4 eggs"] > 0.95 and found["200 g flour"] > 0.95
    assert 0.2 < found["300 g sugar"] < 0.3


def test_what_food_is_basted_with_is_in_the_tin_while_it_roasts():
    """Butter that a bird is basted with leaves with the drippings, and stays where these are poured over."""
    lines = "- 1 kg turkey breast\n- 120 g butter\n- 6 g salt"
    method = "Salt the turkey, roast for 50 minutes, basting often with the butter. "
    thrown = kept(lines, f"{method}Lift out the turkey, discard the butter and drippings in the tin.")
    poured = kept(lines, f"{method}Slice the turkey, pour all of the butter and drippings in the tin over it.")
    assert thrown["120 g butter"] < 0.85 < 0.97 < poured["120 g butter"]
