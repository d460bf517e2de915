"""Which side of a liquid goes on, which water is meant, and solids that soak; dishes of our own.

Shares and weights are what a cook would expect; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import Told, check

DISHES = {
    "the broth is strained off into a jug": Told(
        "- 500 g beef shin\n- 2 litres water\n- 1 onion\n- 10 g salt",
        "Simmer the beef in the water with the onion and salt for 3 hours. Strain off the broth into a "
        "jug. Season and serve the broth in cups.",
        {"2 litres": (0.3, 1.0), "500 g": (0.0, 0.5), "1 onion": (0.0, 0.4), "10 g": (0.7, 1.0)},
    ),
    "only the liquid is kept": Told(
        "- 1 kg chicken carcass\n- 2 litres water\n- 2 carrots\n- 10 g salt",
        "Simmer everything for 2 hours. Keep only the liquid.",
        {"10 g": (0.8, 1.0), "2 carrots": (0.0, 0.4)},
    ),
    "a liqueur is poured off into bottles": Told(
        "- 500 g plums\n- 300 g sugar\n- 500 ml vodka",
        "Put the plums, sugar and vodka in a jar for 2 months. Pour off the liqueur into bottles.",
        {"500 ml": (0.4, 1.0), "300 g": (0.4, 1.0), "500 g": (0.0, 0.5)},
    ),
    "the meat is lifted out of its water, which is the broth": Told(
        "- 800 g pork belly\n- 1.5 litres water\n- 30 g ginger",
        "Simmer the pork in the water with the ginger for 1 hour. Lift out the meat and keep the broth. "
        "Slice the meat and serve in the broth.",
        {"800 g": (0.9, 1.0), "1.5 litres": (0.6, 1.0)},
    ),
    "the broth is kept": Told(
        "- 800 g pork belly\n- 1.5 litres water\n- 30 g ginger\n- 10 g salt",
        "Simmer the pork in the water with the ginger and salt for 1 hour. Lift out the meat and keep the broth.",
        {"800 g": (0.9, 1.0), "10 g": (0.8, 1.0)},
    ),
    "the stock is poured off lentils": Told(
        "- 300 g lentils\n- 1 litre stock\n- 5 g salt",
        "Simmer the lentils in the stock with the salt for 20 minutes, then pour off the stock. Serve "
        "the lentils warm.",
        {"300 g": (0.9, 1.0), "5 g": (0.1, 0.8)},
    ),
    "shells are strained out": Told(
        "- 1 kg prawn shells\n- 1 litre water\n- 100 g onion\n- 50 g butter\n- 50 g flour",
        "Simmer the shells with the onion in the water for 30 minutes. Strain into a bowl. Melt the "
        "butter, stir in the flour and whisk in the stock.",
        {"100 g onion": (0.0, 0.3), "50 g butter": (0.95, 1.0)},
    ),
    "the juice of salted tomatoes is kept for a soup": Told(
        "- 1 kg tomatoes\n- 10 g salt\n- 200 g mozzarella",
        "Chop the tomatoes, salt them and leave in a sieve for 1 hour. Keep the juice for a soup. Serve "
        "the tomatoes with the mozzarella.",
        {"200 g": (1.0, 1.0), "1 kg": (0.5, 1.0)},
    ),
    "the water the noodles cooked in": Told(
        "- 300 g rice noodles\n- 100 g peanuts",
        "Boil the noodles for 4 minutes. Lift out the noodles. Discard the water the noodles cooked in. "
        "Toss the noodles with the peanuts.",
        {"300 g": (0.9, 1.0), "100 g": (1.0, 1.0)},
        weight=(700.0, 1200.0),
    ),
    "the water in which the beans were soaked": Told(
        "- 250 g dried white beans\n- 1 litre water\n- 200 g onion",
        "Soak the beans in the water overnight. Lift out the beans. Fry the onion. Add the beans and "
        "the water in which the beans were soaked, and simmer for 1 hour.",
        {"250 g": (0.97, 1.0), "1 litre": (0.6, 1.0)},
        weight=(900.0, 1450.0),
    ),
    "the water they were soaked in": Told(
        "- 250 g dried white beans\n- 1 litre water\n- 1 litre stock\n",
        "Soak the beans in the water overnight. Throw away the water they were soaked in and simmer the "
        "beans in the stock for 1 hour.",
        {"250 g": (0.85, 1.0), "1 litre stock": (0.9, 1.0)},
    ),
    "the stock that it was poached in": Told(
        "- 600 g chicken breast\n- 700 ml stock\n- 200 g rice",
        "Poach the chicken in the stock for 15 minutes and take it out. Cook the rice in the stock that "
        "the chicken was poached in. Serve with the chicken.",
        {"700 ml": (0.95, 1.0), "600 g": (0.9, 1.0)},
    ),
    "the liquid they soaked in": Told(
        "- 30 g dried porcini\n- 300 ml boiling water\n- 300 g risotto rice\n- 700 ml stock",
        "Soak the porcini in the boiling water for 20 minutes and drain, keeping the liquid they soaked "
        "in. Cook the rice with the stock, the porcini and the soaking liquid for 18 minutes.",
        {"30 g": (0.95, 1.0), "700 ml": (0.95, 1.0), "300 ml": (0.9, 1.0)},
    ),
    "strained, and the meat is gone on with": Told(
        "- 1 kg chicken thighs\n- 2 litres water\n- 1 onion\n- 150 g mayonnaise",
        "Simmer the chicken in the water with the onion for 1 hour. Strain. Shred the chicken and mix "
        "with the mayonnaise.",
        {"1 kg": (0.75, 1.0), "150 g": (1.0, 1.0)},
        weight=(700.0, 1300.0),
    ),
    "strained, and both are gone on with": Told(
        "- 1 kg chicken thighs\n- 2 litres water\n- 1 onion\n- 150 g rice",
        "Simmer the chicken in the water with the onion for 1 hour. Strain the broth into a clean pot. "
        "Boil the rice in the broth for 15 minutes. Shred the chicken and add it.",
        {"1 kg": (0.8, 1.0), "150 g": (0.97, 1.0), "2 litres": (0.3, 1.0)},
        weight=(1800.0, 3200.0),
    ),
    "only the juice": Told(
        "- 300 g cranberries\n- 500 ml water\n- 200 g sugar",
        "Boil the cranberries in the water for 15 minutes. Pour off the juice into a jug, keep only the "
        "juice. Stir in the sugar and chill.",
        {"200 g": (1.0, 1.0)},
    ),
    "only the solids": Told(
        "- 500 g mushrooms\n- 1 litre stock\n- 100 g noodles",
        "Simmer the mushrooms in the stock for 20 minutes. Strain, keep only the solids and fry them.",
        {"500 g": (0.7, 1.0), "1 litre": (0.0, 0.3)},
    ),
    "the stock is drained off into a bowl": Told(
        "- 1 kg beef bones\n- 2 litres water\n- 2 carrots\n- 10 g salt",
        "Simmer the bones and carrots in the water with the salt for 4 hours. Drain off the stock into "
        "a bowl and chill. Lift off the fat. Reheat the stock.",
        {"10 g": (0.7, 1.0), "2 carrots": (0.0, 0.5)},
    ),
    "cooking water in a jug, a little of it used": Told(
        "- 400 g chickpeas, dried\n- 2 litres water\n- 100 g tahini\n- 50 ml lemon juice",
        "Boil the chickpeas in the water for 90 minutes. Pour off the cooking water into a jug. Blend "
        "the chickpeas with the tahini, the lemon juice and 100 ml of the cooking water.",
        {"400 g": (0.8, 1.0), "100 g": (1.0, 1.0), "2 litres": (0.0, 0.6)},
    ),
    "water that goes down the sink": Told(
        "- 500 g potatoes\n- 20 g butter",
        "Boil the potatoes 20 minutes. Pour the water off into the sink. Mash with the butter.",
        {"500 g": (0.9, 1.0), "20 g": (1.0, 1.0)},
        weight=(480.0, 560.0),
    ),
    "the water you boiled them in": Told(
        "- 500 g potatoes\n- 400 g flour\n- 7 g yeast",
        "Boil the potatoes 20 minutes and drain, keeping the water. Mash them. Knead the flour, the "
        "yeast, the potatoes and 150 ml of the water you boiled the potatoes in. Bake for 40 minutes at "
        "200C.",
        {"500 g": (0.9, 1.0), "400 g": (0.99, 1.0)},
        weight=(850.0, 1050.0),
    ),
    "the milk the fish was poached in": Told(
        "- 800 g cod\n- 600 ml milk\n- 50 g butter\n- 50 g flour",
        "Poach the cod in the milk for 8 minutes. Lift out the cod. Melt the butter, stir in the flour "
        "and whisk in the milk the fish was poached in. Flake the cod and fold it in.",
        {"600 ml": (0.97, 1.0), "800 g": (0.97, 1.0)},
    ),
    "the tea they were soaked in": Told(
        "- 200 g prunes\n- 200 ml black tea\n- 500 g pork",
        "Soak the prunes in the tea for 2 hours. Brown the pork, add the prunes and the tea they were "
        "soaked in and simmer for 30 minutes.",
        {"200 g prunes": (0.98, 1.0), "500 g": (0.9, 1.0)},
        weight=(650.0, 920.0),
    ),
    "bread in milk is squeezed": Told(
        "- 200 g stale bread\n- 300 ml milk\n- 500 g minced beef",
        "Soak the bread in the milk for 10 minutes, squeeze it out and mix with the beef. Fry for 15 minutes.",
        {"300 ml": (0.15, 0.95), "200 g": (0.9, 1.0)},
    ),
    "leaf gelatine holds no more than its own water": Told(
        "- 6 leaves gelatine\n- 500 ml cream\n- 60 g sugar",
        "Soak the gelatine in cold water for 5 minutes. Warm the cream and sugar. Squeeze out the "
        "gelatine and stir it in.",
        {"6 leaves": (0.95, 1.0)},
        weight=(545.0, 670.0),
    ),
    "capers are pieces": Told(
        "- 40 g capers in salt\n- 400 g tomatoes",
        "Soak the capers in water for 10 minutes, drain and mix with the tomatoes.",
        {"40 g": (0.4, 1.0)},
        weight=(410.0, 480.0),
    ),
    "dried mushrooms swell": Told(
        "- 30 g dried porcini\n- 200 g butter",
        "Soak the porcini in boiling water for 20 minutes. Squeeze them dry, chop and mix with the butter.",
        {"30 g": (0.6, 1.0)},
        weight=(250.0, 340.0),
    ),
    "boiling water that nothing pours off is what food drinks": Told(
        "- 250 g couscous\n- 20 g butter",
        "Soak the couscous in boiling water for 10 minutes. Fluff with the butter.",
        {"250 g": (0.97, 1.0)},
        weight=(500.0, 760.0),
    ),
    "noodles under boiling water": Told(
        "- 250 g rice noodles\n- 100 g peanuts",
        "Soak the noodles in boiling water for 8 minutes, drain and mix with the peanuts.",
        {"250 g": (0.95, 1.0)},
        weight=(600.0, 850.0),
    ),
    "couscous": Told(
        "- 250 g couscous\n- 300 ml boiling water\n- 20 g butter",
        "Pour the boiling water over the couscous, cover and leave 5 minutes. Fluff with the butter.",
        {"250 g": (1.0, 1.0), "300 ml": (0.9, 1.0)},
        weight=(540.0, 575.0),
    ),
    "bulgur": Told(
        "- 200 g bulgur wheat\n- 300 g tomatoes",
        "Cover the bulgur with boiling water, leave 20 minutes and drain well. Mix with the tomatoes.",
        {"200 g": (0.93, 1.0)},
        weight=(740.0, 950.0),
    ),
    "oats overnight": Told(
        "- 100 g rolled oats\n- 250 ml milk",
        "Soak the oats in the milk overnight.",
        {"100 g": (1.0, 1.0), "250 ml": (1.0, 1.0)},
        weight=(345.0, 365.0),
    ),
    "dried mushrooms and their water": Told(
        "- 100 g dried mushrooms\n- 500 ml water\n- 300 g rice",
        "Soak the mushrooms in the water for 30 minutes. Drain, keeping the soaking water. Cook the "
        "rice with the mushrooms and the soaking water for 18 minutes.",
        {"100 g": (0.97, 1.0), "300 g": (1.0, 1.0)},
        weight=(750.0, 950.0),
    ),
    "bread is no flour": Told(
        "- 300 g stale white bread\n- 800 g tomatoes\n- 60 ml olive oil",
        "Soak the bread in cold water for 5 minutes and squeeze it out well. Toss with the tomatoes and oil.",
        {"300 g": (0.8, 1.0), "60 ml": (1.0, 1.0)},
        weight=(1150.0, 1500.0),
    ),
    "boiling water poured over noodles": Told(
        "- 200 g glass noodles\n- 100 g carrots",
        "Pour boiling water over the noodles, leave 5 minutes and drain. Mix with the carrots.",
        {"200 g": (0.9, 1.0)},
        weight=(400.0, 900.0),
    ),
    "capers that are rinsed": Told(
        "- 60 g capers\n- 200 g tuna\n- 100 g mayonnaise",
        "Rinse the capers. Mix with the tuna and mayonnaise.",
        {"60 g": (0.4, 1.0), "200 g": (1.0, 1.0)},
        weight=(330.0, 370.0),
    ),
    "bread that lies in milk and is mixed in": Told(
        "- 3 slices white bread\n- 150 ml milk\n- 500 g minced pork\n- 1 egg",
        "Tear the bread into the milk and leave for 10 minutes. Mix it with the pork and egg. Shape "
        "into balls and bake at 200C for 20 minutes.",
        {"3 slices": (1.0, 1.0), "150 ml": (0.9, 1.0)},
        weight=(560.0, 780.0),
    ),
}


@pytest.mark.parametrize("dish", DISHES)
def test_what_soaks_and_what_is_poured_off(dish: str) -> None:
    """The side that the words want goes on, and what soaked keeps what it took up."""
    check(DISHES[dish])
