"""What food is baked in, what is taken out and never named again, what cannot be done; dishes of our own.

Shares and weights are what a cook would expect; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import Told, check

DISHES = {
    "a warning of another kind to buy": Told(
        "- 300 g anchovies\n- 400 g potatoes\n- 200 ml cream",
        "Boil the potatoes, drain and slice them. Layer with the anchovies, pour the cream over and bake for 30 min. "
        "Do not use the salted anchovies.",
        {"300 g": (0.95, 1.0)},
    ),
    "tossed in flour, the excess shaken off": Told(
        "- 500 g squid\n- 200 g flour\n- 1 litre oil",
        "Toss the squid in the flour and shake off the excess. Deep-fry in the oil for 2 minutes and drain on paper.",
        {"200 g": (0.05, 0.6), "1 litre": (0.02, 0.15)},
    ),
    "the curds in a cloth": Told(
        "- 2 litres milk\n- 60 ml lemon juice\n- 5 g salt",
        "Heat the milk to a boil, stir in the lemon juice and leave until the curds separate. Line a "
        "sieve with cheesecloth and pour in the curds. Let the liquid run off for 1 hour. Salt the "
        "cheese.",
        {"2 litres": (0.3, 0.66), "5 g": (0.9, 1.0)},
        weight=(200.0, 700.0),
    ),
    "the solids, and the paneer": Told(
        "- 2 litres milk\n- 60 ml vinegar\n- 500 g spinach",
        "Bring the milk to the boil and add the vinegar. When it curdles, strain the solids through "
        "muslin and press for an hour. Cut the paneer in cubes and cook with the spinach for 10 "
        "minutes.",
        {"2 litres": (0.3, 0.65), "500 g": (0.9, 1.0)},
        weight=(500.0, 1100.0),
    ),
    "beans for blind baking are no food": Told(
        "- 200 g flour\n- 100 g butter\n- 50 ml water\n- 500 g dried beans, for blind baking\n- 300 g cheese",
        "Rub the butter into the flour, add the water, roll out and line a tin. Line with paper and "
        "fill with the beans. Bake at 180C for 15 minutes. Remove the paper and beans. Fill with the "
        "cheese and bake 20 minutes.",
        {"300 g": (0.99, 1.0)},
        weight=(520.0, 640.0),
    ),
    "baking beans": Told(
        "- 200 g flour\n- 100 g butter\n- 50 ml water\n- 300 g cheese\n- baking beans",
        "Rub the butter into the flour, add the water, roll out and line a tin. Fill with baking beans "
        "and bake at 180C for 15 minutes. Lift out the beans. Fill with the cheese and bake 20 minutes.",
        {"300 g": (0.99, 1.0)},
        weight=(520.0, 640.0),
    ),
    "fish in a crust of salt and egg white": Told(
        "- 1.5 kg sea bass, whole\n- 2 kg coarse salt\n- 4 egg whites\n- 1 lemon",
        "Mix the salt and egg whites. Spread a third on a tray, lay the fish on it and cover with the "
        "rest. Bake at 200C for 35 minutes. Crack the crust and remove it. Serve the fish with lemon.",
        {"2 kg": (0.0, 0.02), "1.5 kg": (0.4, 1.0), "4 egg": (0.0, 0.1)},
        weight=(500.0, 1500.0),
    ),
    "beetroot buried in salt": Told(
        "- 1 kg beetroot\n- 1 kg rock salt",
        "Bury the beetroot in the salt and bake at 180C for 1 hour. Break the salt crust open and brush "
        "off the salt. Peel the beetroot.",
        {"1 kg rock": (0.0, 0.03), "1 kg beet": (0.8, 1.0)},
        weight=(400.0, 1000.0),
    ),
    "a pod is taken out": Told(
        "- 500 ml cream\n- 1 vanilla pod\n- 80 g sugar\n- 8 g gelatine powder",
        "Warm the cream with the sugar and the split vanilla pod. Take out the pod. Stir in the gelatine and chill.",
        {"500 ml": (0.97, 1.0), "1 vanilla": (0.0, 0.1)},
    ),
    "bay leaves and a bouquet are fished out": Told(
        "- 1 kg beef stew meat\n- 2 bay leaves\n- 1 bouquet garni\n- 1 litre stock",
        "Braise the beef in the stock with the bay leaves and bouquet garni for 2 hours. Fish out the "
        "bay leaves and the bouquet.",
        {"1 litre": (0.95, 1.0), "1 kg": (0.9, 1.0), "2 bay": (0.0, 0.1)},
    ),
    "a hock that nobody speaks of again": Told(
        "- 1 ham hock\n- 500 g split peas\n- 2 litres water",
        "Simmer the hock and peas in the water for 2 hours. Lift out the hock. Blend the soup.",
        {"500 g": (0.97, 1.0)},
        problems=frozenset({"lifted-out"}),
    ),
    "a chicken that nobody speaks of again": Told(
        "- 1 kg chicken\n- 200 g rice\n- 2 litres water",
        "Simmer the chicken in the water for 1 hour. Take out the chicken. Cook the rice in the broth "
        "and serve in bowls.",
        {"200 g": (0.97, 1.0)},
        problems=frozenset({"lifted-out"}),
    ),
    "a bone is removed": Told(
        "- 500 g lamb shoulder, bone in\n- 500 ml stock\n- 200 g barley",
        "Simmer the lamb and barley in the stock for 1 hour. Remove the bone and stir.",
        {"500 g": (0.6, 1.0), "200 g": (0.97, 1.0), "500 ml": (0.95, 1.0)},
    ),
    "drippings in two stages": Told(
        "- 2 kg pork shoulder\n- 500 g potatoes",
        "Roast the pork at 220C for 30 minutes. Pour off the fat from the tin. Roast at 160C for 2 "
        "hours more. Toss the potatoes in the drippings and roast for 30 minutes at 200C. Serve "
        "together.",
        {"2 kg": (0.75, 1.0), "500 g": (0.95, 1.0)},
    ),
    "fat that is kept for another day": Told(
        "- 2 kg duck\n- 500 g potatoes",
        "Roast the duck at 180C for 90 minutes. Keep the fat for another day. Boil the potatoes and serve.",
        {"2 kg": (0.5, 0.95)},
    ),
    "cooked pasta that no step boils": Told(
        "- 300 g pasta\n- 200 g pesto",
        "Toss the cooked pasta with the pesto.",
        {"300 g": (1.0, 1.0)},
        problems=frozenset({"raw-though-cooked"}),
    ),
    "stored in the freezer": Told(
        "- 500 g strawberries\n- 100 g sugar",
        "Mix the strawberries and sugar. Store in the freezer.",
        {"500 g": (0.99, 1.0)},
        weight=(560.0, 605.0),
    ),
    "not drained unless": Told(
        "- 500 g carrots\n- 20 g butter",
        "Steam the carrots 10 minutes. Do not drain unless they are watery. Toss with the butter.",
        {"20 g": (1.0, 1.0), "500 g": (0.9, 1.0)},
    ),
    "added, unless": Told(
        "- 300 g pasta\n- 200 g pesto",
        "Boil the pasta for 10 minutes and drain. Add the pesto, unless you prefer it plain.",
        {"200 g": (0.98, 1.0)},
    ),
    "skin and bones come off the bird, not off the broth": Told(
        "- 1 whole chicken (1.5 kg)\n- 2 l water\n- 10 sprigs dill\n- 200 g noodles",
        "Simmer the chicken in the water for 1 hour. Remove the chicken. Strain the broth. Remove and discard the skin "
        "and bones from the chicken, cut the meat up, and set aside. Chop the dill. Bring the broth to a boil. Add the "
        "chicken, the noodles and the dill and cook 10 minutes.",
        {"1 whole": (0.4, 0.9), "10 sprigs": (0.9, 1.0), "200 g": (0.9, 1.0)},
    ),
    "what is pressed onto the meat is grilled with it": Told(
        "- 1 kg beef brisket\n- 3 tbsp mustard\n- 60 g breadcrumbs\n- 2 litres water",
        "Simmer the brisket in the water for 3 hours. Lift out the brisket and discard the liquid. Spread mustard over "
        "one side of the brisket. Press the breadcrumbs onto the mustard. Grill 3 minutes.",
        {"3 tbsp": (0.95, 1.0), "60 g": (0.95, 1.0), "1 kg": (0.6, 1.0)},
        weight=(600.0, 950.0),
    ),
    "a wash that is made, crumbs pressed on, and one frying told twice": Told(
        "- 1 kg pork loin\n- 2 eggs\n- 200 ml milk\n- 300 g panko\n- 2 litres oil",
        "Combine the eggs and milk to make a wash. Place the flour and panko in separate dishes. Coat the pork in "
        "flour, dip into the egg wash, then press both sides into the panko. Heat the oil in a pan. Fry the pork in "
        "batches. Cook until golden brown, then place onto paper towels to drain the oil.",
        {"300 g": (0.3, 0.9), "2 litres": (0.03, 0.15), "2 eggs": (0.1, 1.0)},
        weight=(900.0, 1450.0),
    ),
    "a roast that rests is in no gravy, its bed is": Told(
        "- 1.5 kg pork shoulder\n- 1 tsp salt\n- 1 carrot, chopped\n- 1 onion, chopped\n- 2 tbsp flour\n- 500 ml stock",
        "Scatter the carrot and onion in a roasting tin. Rub the pork with the salt, sit it on top and roast for 2 "
        "hours at 180 C. Remove the pork from the tin and transfer to a board to rest. Pour off most of the fat "
        "from the tin. Stir in the flour. Pour in the stock and simmer everything for 10 minutes. Strain the gravy "
        "into a jug, pushing as much of the puree as you can through the sieve. Carve the pork and serve with the "
        "gravy.",
        {"1.5 kg": (0.8, 1.0), "1 tsp": (0.7, 1.0), "1 carrot": (0.2, 0.9), "2 tbsp": (0.7, 1.0)},
        weight=(1200.0, 1750.0),
    ),
    "nothing to drain": Told(
        "- 200 g crackers\n- 100 g cheese",
        "Drain. Put the cheese on the crackers.",
        {"200 g": (1.0, 1.0)},
        weight=(299.0, 301.0),
        problems=frozenset({"nothing-runs-off"}),
    ),
    "sauce that was tossed with stays with the meat": Told(
        "- 1 kg pork shoulder\n- 300 ml barbecue sauce\n- 6 bread rolls",
        "Braise the pork for 3 hours, shred it and toss with half of the sauce. Fill the rolls with 600 g of the pork.",
        {"300 ml": (0.2, 0.5), "1 kg": (0.4, 0.99)},
        problems=frozenset({"portion-left-over"}),
    ),
}


@pytest.mark.parametrize("dish", DISHES)
def test_what_is_taken_out_and_what_it_lay_in(dish: str) -> None:
    """A vessel of salt or beans is not eaten, and what nobody speaks of again is told."""
    check(DISHES[dish])
