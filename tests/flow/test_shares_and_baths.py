"""Halves that are spooned over, marinades that are poured off, fat that runs out, jars and salt crusts.

Shares are what a cook would expect, wide enough for any yield table; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import kept

DISHES = {
    "half of what waits goes over the plates, the other half is for tomorrow": (
        "- 250 g mushrooms\n- 2 tbsp olive oil\n- 200 ml cream\n- 400 g cooked polenta",
        "Fry the mushrooms in the oil for 8 minutes, pour in the cream and simmer for 5 minutes. Put the polenta on "
        "plates, ladle half of it over the polenta and keep the other half in the fridge for tomorrow.",
        {"250 g mushrooms": (0.4, 0.6), "200 ml cream": (0.4, 0.6), "400 g cooked polenta": (0.97, 1.0)},
    ),
    "half of a compote goes over what stands in glasses": (
        "- 400 g plums\n- 90 g sugar\n- 300 g ricotta",
        "Stew the plums with the sugar for 15 minutes. Spread the ricotta in glasses, spoon half of the "
        "compote over the ricotta and chill. Freeze the rest of the compote.",
        {"400 g plums": (0.4, 0.6), "90 g sugar": (0.4, 0.6), "300 g ricotta": (0.97, 1.0)},
    ),
    "a marinade with herbs in it is thrown away, whatever dripped": (
        "- 700 g pork fillet, cut into 3 cm cubes\n- 120 ml white wine vinegar\n- 60 ml olive oil\n- 4 cloves garlic, "
        "minced\n- 2 tsp salt\n- 2 red peppers, in squares",
        "Whisk the vinegar, oil, garlic and salt. Turn the pork in it and leave for 40 minutes, no longer. "
        "Lift the pork out, let it drip and throw the marinade away. Thread onto skewers with the peppers and"
        " grill for 12 minutes.",
        {
            "120 ml white wine vinegar": (0.1, 0.6),
            "60 ml olive oil": (0.03, 0.5),
            "4 cloves garlic": (0.03, 0.6),
            "2 tsp salt": (0.25, 0.8),
            "2 red peppers": (0.95, 1.0),
        },
    ),
    "food is coated with half of a glaze, and what is left of it goes": (
        "- 1 kg pork ribs\n- 120 ml soy sauce\n- 100 g brown sugar",
        "Stir the soy sauce into the sugar. Coat the ribs with half of the marinade and roast for 1 hour at "
        "170C. Throw the rest of the marinade away.",
        {"120 ml soy sauce": (0.3, 0.6), "100 g brown sugar": (0.3, 0.6)},
    ),
    "food is coated with half of a glaze, and served with the rest": (
        "- 1 kg pork ribs\n- 120 ml soy sauce\n- 100 g brown sugar",
        "Stir the soy sauce into the sugar. Coat the ribs with half of the marinade and roast for 1 hour at "
        "170C. Serve with the rest of the marinade.",
        {"120 ml soy sauce": (0.8, 1.0), "100 g brown sugar": (0.8, 1.0)},
    ),
    "flour in hand is what food is tossed in": (
        "- 120 g flour\n- 1 tsp salt\n- 400 g veal, diced\n- 2 tbsp oil",
        "Season the flour with the salt, toss the veal in it and shake off what doesn't stick. Brown in the oil.",
        {"120 g flour": (0.05, 0.7), "400 g veal": (0.8, 1.0)},
    ),
    "boiling vinegar is poured over what waits in the jars": (
        "- 800 g small onions, peeled\n- 3 sprigs tarragon\n- 600 ml malt vinegar\n- 30 g salt",
        "Pack the onions and the tarragon into jars. Boil the vinegar with the salt and pour it over. Seal "
        "and leave for three weeks.",
        {"600 ml malt vinegar": (0.25, 0.75), "30 g salt": (0.25, 0.75)},
    ),
    "herbs stay in the jar where their liquid does": (
        "- 500 g cherries, stoned\n- 4 sprigs lemon thyme\n- 200 g sugar\n- 300 ml water",
        "Boil the water and the sugar for 3 minutes. Pack the cherries and the thyme into jars, pour the "
        "syrup over and close.",
        {"4 sprigs lemon thyme": (0.9, 1.0), "200 g sugar": (0.97, 1.0)},
    ),
    "fat that can be lifted off is, and bones and skin go": (
        "- 1 chicken, about 1.4 kg\n- 2 litres water\n- 100 g rice\n- 1 tsp salt",
        "Simmer the chicken in the water for an hour and a half. Take the chicken out and chill the broth "
        "until the fat can be lifted off. Pull the meat off; bones and skin go. Boil the broth with the salt "
        "and the rice for 15 minutes, then add the meat.",
        {"1 chicken": (0.4, 0.75), "100 g rice": (0.97, 1.0)},
    ),
    "hardly any of a salt crust is eaten": (
        "- 1 whole sea bream, 800 g\n- 1.2 kg coarse salt\n- 3 egg whites",
        "Beat the egg whites into the salt. Lay half of it on a tray, put the bream on top and cover with the"
        " rest. Bake at 210C for 30 minutes. Crack the crust and throw it away.",
        {"1.2 kg coarse salt": (0.0, 0.008), "3 egg whites": (0.0, 0.02)},
    ),
    "on the lowest flame fat runs out of belly pork": (
        "- 1 kg pork belly, in cubes\n- 250 ml rice wine\n- 2 tbsp soy sauce",
        "Put the belly into a pot with the wine and the soy sauce. Cover, leave it over the lowest flame for two hours "
        "and spoon off the fat.",
        {"1 kg pork belly": (0.5, 0.82)},
    ),
    "what a method tells of a time is how long the flame burns": (
        "- 500 g pork belly, in cubes\n- 1 onion, sliced",
        "Lay the belly in a dry pan and put the gas on the lowest flame. Turn the cubes now and then. This will take "
        "around an hour and a half. Lift the belly out. Take out around half of the fat and store it. Fry the onion in "
        "the remaining fat, return the belly and serve.",
        {"500 g pork belly": (0.6, 0.95)},
    ),
    "so much is used as the words behind it say": (
        "- 300 g puff pastry\n- 150 g ham\n- 1 egg, beaten",
        "Lay the ham on the pastry and roll up. Brush with the egg (you will use about half) and bake for 20 minutes.",
        {"1 egg": (0.45, 0.55), "150 g ham": (0.95, 1.0)},
    ),
    "half of the soda is poured off with the soaking water": (
        "- 300 g dried white beans\n- 1 tsp bicarbonate of soda\n- 1 tsp salt",
        "Soak the beans overnight in cold water with half of the bicarbonate. Drain. Cover with fresh water, add the "
        "rest of the bicarbonate and simmer for an hour. Drain and season with the salt.",
        {"1 tsp bicarbonate of soda": (0.0, 0.4), "1 tsp salt": (0.95, 1.0)},
    ),
}


@pytest.mark.parametrize("name", DISHES)
def test_the_share_that_is_eaten_is_what_a_cook_would_expect(name: str) -> None:
    """Halves, marinades, coats, jars, crusts and rendered fat keep and lose what a cook would expect."""
    lines, method, shares = DISHES[name]
    found = kept(lines, method)
    for begins, (least, most) in shares.items():
        share = next(value for text, value in found.items() if text.startswith(begins))
        assert least <= share <= most, (begins, share)
