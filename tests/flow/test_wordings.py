"""Wordings that once changed a figure by a factor: what of a line is eaten, and what the dish weighs.

Shares and weights are what a cook would expect, wide enough for any yield table; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import grams, kept, made

from labeler.types import Severity

_CABBAGE = (
    "- 2 kg white cabbage, cut\n- 120 g coarse salt\n- 2 litres water\n- 20 g rice flour\n- 200 ml water\n"
    "- 60 ml fish sauce\n- 60 g chilli flakes"
)
_BRINED = (
    "Toss the cabbage with the salt and the 2 litres of water for 2 hours. Rinse twice and drain. Cook the rice flour "
    "with the 200 ml water, 5 minutes. Stir in the fish sauce and chilli flakes and mix with the cabbage."
)

DISHES = {
    "a drain takes the bath, not the paste that is made afterwards": (
        _CABBAGE,
        _BRINED,
        {"60 ml fish sauce": (0.95, 1.0), "120 g coarse salt": (0.05, 0.5), "20 g rice flour": (0.95, 1.0)},
        (1700.0, 2400.0),
    ),
    "drying the rind is wiping it": (
        "- 2 kg pork belly, rind on\n- 20 g salt",
        "Dry the rind well, rub with the salt and roast for 2 hours at 180C.",
        {"2 kg pork belly": (0.65, 1.0)},  # as fat a cut keeps 0.6 of its fat: SR28 pairs
        (1200.0, 1800.0),
    ),
    "dry bits of flour dry nothing": (
        "- 300 g flour\n- 200 ml milk\n- 2 eggs\n- 100 g sugar",
        "Whisk the eggs, milk and sugar. Stir in the flour until no dry bits of flour are left. Bake for 35 minutes at "
        "180C.",
        {"300 g flour": (0.99, 1.0)},
        (580.0, 700.0),
    ),
    "meanwhile needs no comma": (
        "- 300 g spaghetti\n- 60 ml olive oil\n- 3 garlic cloves",
        "Warm the garlic in the oil. Meanwhile boil the spaghetti and drain. Toss with the oil.",
        {"60 ml olive oil": (0.9, 1.0), "300 g spaghetti": (0.9, 1.0)},
        (650.0, 900.0),
    ),
    "a drain empties nothing that comes later": (
        "- 400 g potatoes\n- 100 g butter\n- 300 ml stock\n- 60 ml cream",
        "Boil the potatoes and drain. Melt the butter, add the stock and cream and simmer for 5 minutes. Mash the "
        "potatoes with the sauce.",
        {"100 g butter": (0.95, 1.0), "300 ml stock": (0.95, 1.0), "60 ml cream": (0.95, 1.0)},
        (750.0, 900.0),
    ),
    "lifted out of the buttermilk, the flour and the oil stay": (
        "- 1 kg chicken pieces\n- 500 ml buttermilk\n- 200 g flour\n- 1.5 litres oil",
        "Soak the chicken in the buttermilk overnight. Lift the chicken out of the buttermilk, dredge in the flour and "
        "fry in the oil for 15 minutes. Drain on a rack.",
        {"500 ml buttermilk": (0.05, 0.4), "200 g flour": (0.3, 0.8), "1.5 litres oil": (0.0, 0.1)},
        (500.0, 1000.0),
    ),
    "fruit is macerated in its own juice": (
        "- 1 kg strawberries\n- 800 g sugar",
        "Macerate the strawberries with the sugar overnight. Boil for 20 minutes.",
        {"1 kg strawberries": (0.97, 1.0), "800 g sugar": (0.97, 1.0)},
        (1200.0, 1800.0),
    ),
    "stock that is reduced by half alone": (
        "- 500 g mushrooms\n- 500 ml stock\n- 300 g chicken breast",
        "Simmer the stock until reduced by half. Add the mushrooms and chicken and cook for 10 minutes.",
        {"500 g mushrooms": (0.97, 1.0), "300 g chicken breast": (0.9, 1.0)},
        (800.0, 1060.0),
    ),
    "a bag is squeezed, not the pot": (
        "- 1 kg seville oranges\n- 2 litres water\n- 2 kg sugar",
        "Juice the oranges and put the pips in a muslin bag. Simmer the peel with the juice, the water and the bag for "
        "2 hours. Squeeze the bag well over the pan and discard the bag. Add the sugar and boil for 20 minutes.",
        {"2 kg sugar": (0.97, 1.0)},
        (2800.0, 5000.0),
    ),
    "a bag that is squeezed over the pan gives it back what it took": (
        "- 1 kg seville oranges\n- 2 litres water\n- 2 kg sugar",
        "Juice the oranges and tie the pips in a muslin bag. Simmer the peel, juice, water and bag for 2 hours. "
        "Squeeze it over the pan and throw it away. Add the sugar and boil for 20 minutes.",
        {"2 kg sugar": (0.97, 1.0), "2 litres water": (0.2, 0.9)},
        (2800.0, 4700.0),
    ),
    "a bag that is lifted out takes no water with it": (
        "- 1 kg seville oranges\n- 2 litres water\n- 2 kg sugar",
        "Juice the oranges and tie the pips in muslin. Simmer the peel, juice, water and pips for 2 hours. Lift out "
        "the bag, squeeze it well and discard it. Add the sugar and boil for 20 minutes.",
        {"2 kg sugar": (0.97, 1.0), "2 litres water": (0.2, 0.9)},
        (2800.0, 4700.0),
    ),
    "shells are boiled for a stock with what goes in with them": (
        "- 1 kg shrimp, in shells\n- 1 litre water\n- 1 onion",
        "Peel the shrimp. Simmer the shells with the onion and the water for 30 minutes, then strain into a bowl. "
        "Poach the shrimp in the stock for 3 minutes.",
        {"1 kg shrimp": (0.5, 1.0), "1 litre water": (0.5, 1.0), "1 onion": (0.0, 0.2)},
        (900.0, 2000.0),
    ),
    "what is lifted out of milk leaves the milk to go on with": (
        "- 500 ml milk\n- 1 onion\n- 40 g butter\n- 40 g flour",
        "Warm the milk with the onion. Remove the onion. Whisk in the butter and flour and simmer 5 minutes.",
        {"500 ml milk": (0.97, 1.0), "1 onion": (0.0, 0.2), "40 g flour": (0.99, 1.0)},
        (480.0, 620.0),
    ),
    "the stock is thickened while the chicken is kept warm": (
        "- 400 g chicken breast\n- 500 ml stock\n- 10 g cornflour",
        "Poach the chicken in the stock for 20 minutes. Lift the chicken out and keep it warm. Stir in the cornflour "
        "and boil. Pour over the chicken.",
        {"400 g chicken": (0.9, 1.0), "500 ml stock": (0.95, 1.0), "10 g cornflour": (0.99, 1.0)},
        (700.0, 920.0),
    ),
    "rice is cooked in what the carrots were taken out of": (
        "- 3 carrots\n- 200 g rice\n- 500 ml stock",
        "Boil the carrots in the stock for 10 minutes. Remove the carrots and cook the rice in it for 15 minutes. "
        "Serve with the carrots.",
        {"500 ml stock": (0.95, 1.0), "3 carrots": (0.9, 1.0), "200 g rice": (0.99, 1.0)},
        (550.0, 900.0),
    ),
    "salted water is salted with the salt of the list": (
        "- 300 g pasta\n- 15 g salt\n- 40 g butter",
        "Cook the pasta in plenty of salted water, drain and toss with the butter.",
        {"15 g salt": (0.05, 0.4), "40 g butter": (1.0, 1.0)},
        (650.0, 850.0),
    ),
    "the water that is thrown away is the last one, and no broth": (
        "- 500 g chicken\n- 2 litres chicken stock\n- 300 g noodles",
        "Simmer the chicken in the stock for 40 minutes. Cook the noodles in boiling water for 5 minutes and lift them "
        "out. Discard the noodle water. Serve the noodles in the stock with the chicken.",
        {"2 litres chicken": (0.95, 1.0), "300 g noodles": (0.9, 1.0)},
        (2200.0, 3500.0),
    ),
    "a brine is poured over what stands in a jar": (
        "- 500 g cucumbers\n- 300 ml cider vinegar\n- 300 ml water\n- 30 g salt",
        "Bring the vinegar, water and salt to the boil, pour over the cucumbers in a jar and leave overnight. Drain.",
        {"30 g salt": (0.1, 0.6), "300 ml water": (0.0, 0.5), "500 g cucumbers": (0.6, 1.0)},
        (400.0, 600.0),
    ),
    "what is lifted out of a brine leaves it, with a fork or a sieve": (
        "- 500 g cucumbers\n- 300 ml cider vinegar\n- 300 ml water\n- 30 g salt",
        "Boil the vinegar, water and salt. Pour the hot brine over the cucumbers and leave 1 hour. Lift the cucumbers "
        "out with a fork.",
        {"30 g salt": (0.05, 0.5), "300 ml cider": (0.0, 0.5), "500 g cucumbers": (0.6, 1.0)},
        (400.0, 600.0),
    ),
    "everything from the tin is what the tin holds": (
        "- 500 g cucumbers\n- 300 ml cider vinegar\n- 300 ml water\n- 30 g salt\n- 1 kg beef brisket\n"
        "- 400 g cooked rice",
        "Bring the vinegar, water and salt to the boil, pour over the cucumbers in a jar and leave overnight. Roast "
        "the brisket at 150C for 4 hours. Pour everything from the tin into a jug and skim off the fat. Serve the "
        "brisket on the rice with the juices and the drained cucumbers.",
        {"30 g salt": (0.1, 0.6), "300 ml water": (0.0, 0.5), "1 kg beef": (0.5, 1.0), "400 g cooked rice": (1.0, 1.0)},
        (1300.0, 1900.0),
    ),
    "fruit is poached in the syrup that was boiled before": (
        "- 4 pears\n- 500 ml water\n- 200 g sugar",
        "Boil the water and sugar. Poach the pears in the syrup for 20 minutes. Serve the pears without the syrup.",
        {"4 pears": (0.8, 1.0), "200 g sugar": (0.05, 0.6)},
        (400.0, 800.0),
    ),
    "nobody serves the salted water that meat was poached in": (
        "- 500 g chicken breast\n- 2 litres water\n- 20 g salt",
        "Poach the chicken in the water with the salt for 20 minutes. Lift it out, slice and serve.",
        {"20 g salt": (0.0, 0.3), "500 g chicken": (0.9, 1.0)},
        (350.0, 520.0),
    ),
    "a day in a brine is a day": (
        "- 1 kg pork chops\n- 2 litres water\n- 100 g salt",
        "Dissolve the salt in the water. Put the pork in it for a day. Rinse and grill for 12 minutes.",
        {"100 g salt": (0.05, 0.45), "1 kg pork": (0.7, 1.0)},
        (600.0, 1050.0),
    ),
    "a pod is taken out, the custard stays": (
        "- 500 ml milk\n- 100 g egg yolks\n- 60 g sugar\n- 1 vanilla pod",
        "Heat the milk with the vanilla pod. Whisk the yolks and the sugar, pour on the milk and stir for 10 minutes "
        "over low heat. Remove the vanilla pod.",
        {"500 ml milk": (0.97, 1.0), "100 g egg yolks": (0.97, 1.0), "1 vanilla pod": (0.0, 0.05)},
        (560.0, 690.0),
    ),
    "hot oil that is poured over is eaten": (
        "- 200 g dried chillies\n- 500 ml oil\n- 20 g salt\n- 4 shallots",
        "Fry the shallots in the oil until crisp and lift them out. Put the chillies and salt in a bowl and pour the "
        "hot oil over. Stir in the shallots.",
        {"500 ml oil": (0.95, 1.0)},
        (650.0, 900.0),
    ),
    "everything but the cherries is baked": (
        "- 200 g flour\n- 100 g butter\n- 100 g sugar\n- 150 g cherries",
        "Mix the flour, butter and sugar. Bake everything but the cherries for 20 minutes. Top with the cherries.",
        {"150 g cherries": (1.0, 1.0)},
        (450.0, 550.0),
    ),
    "soda, steamed rice and dried shrimp are foods": (
        "- 200 g flour\n- 5 g baking soda\n- 300 g steamed rice\n- 20 g dried shrimp",
        "Mix the flour, baking soda, steamed rice and dried shrimp.",
        {"5 g baking soda": (1.0, 1.0), "300 g steamed rice": (1.0, 1.0), "20 g dried shrimp": (1.0, 1.0)},
        (525.0, 525.1),
    ),
    "a batter that fried food wears is not poured off": (
        "- 400 g cod\n- 150 g flour\n- 200 ml beer\n- 1 litre oil",
        "Whisk the flour and beer to a batter. Dip the cod in the batter and fry in the oil for 6 minutes. Drain.",
        {"150 g flour": (0.3, 0.9), "200 ml beer": (0.3, 0.9), "1 litre oil": (0.02, 0.15)},
        (400.0, 620.0),
    ),
    "chips are the potatoes": (
        "- 1 kg potatoes, cut into chips\n- 1 litre oil",
        "Boil the chips for 5 minutes and drain. Fry in the oil for 6 minutes.",
        {"1 kg potatoes": (0.9, 1.0), "1 litre oil": (0.05, 0.25)},
        (550.0, 950.0),
    ),
    "browning too much and the name of a dish are no steps": (
        "- 300 g cauliflower\n- 100 g cheese\n- 200 ml milk",
        "Put all in a gratin or casserole dish and bake for 30 minutes. Cover if it starts to brown too much.",
        {"200 ml milk": (0.97, 1.0)},
        (430.0, 590.0),
    ),
    "acid that is dissolved goes through the sieve": (
        "- 200 g elderflower\n- 1 kg sugar\n- 1 litre water\n- 85 g citric acid",
        "Boil the water and sugar. Add the elderflower and citric acid and leave for 24 hours. Strain into bottles.",
        {"85 g citric acid": (0.7, 1.0), "1 kg sugar": (0.7, 1.0), "200 g elderflower": (0.0, 0.3)},
        (1300.0, 2300.0),
    ),
    "a soup that is strained is there to be eaten": (
        "- 500 g leeks\n- 1 litre stock\n- 300 g potatoes",
        "Simmer everything for 30 minutes. Blend and strain. Ladle into bowls.",
        {"1 litre stock": (0.9, 1.0), "300 g potatoes": (0.5, 1.0)},
        (900.0, 1800.0),
    ),
    "cooked chicken that is toasted is cooked": (
        "- 300 g cooked chicken\n- 4 slices bread\n- 100 g cheese",
        "Pile on the bread and toast under the grill for 20 minutes.",
        {"300 g cooked chicken": (0.99, 1.0)},
        (400.0, 540.0),
    ),
}


@pytest.mark.parametrize("dish", DISHES)
def test_a_wording_takes_what_it_says(dish: str) -> None:
    """The shares of its lines that are eaten, and its weight, are those that a cook would expect."""
    lines, method, shares, (least, most) = DISHES[dish]
    found = kept(lines, method)
    for opening, (low, high) in shares.items():
        share = next(share for line, share in found.items() if line.startswith(opening))
        assert low <= round(share, 3) <= high, opening
    assert least <= grams(lines, method) <= most


@pytest.mark.parametrize("dish", DISHES)
def test_no_ingoing_weight_is_more_than_was_put_in(dish: str) -> None:
    """What of a line is eaten is never more than the whole of it."""
    lines, method, _, _ = DISHES[dish]
    assert all(share <= 1.0 + 1e-9 for share in kept(lines, method).values())


@pytest.mark.parametrize("dish", DISHES)
def test_nothing_large_leaves_in_silence(dish: str) -> None:
    """No food of these dishes leaves without a word that sends it away: the guards have nothing to settle."""
    lines, method, _, _ = DISHES[dish]
    _, cooked = made(lines, method)
    assert [guard for guard in cooked.guards if guard.severity >= Severity.PROBLEM] == []
