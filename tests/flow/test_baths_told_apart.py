"""Water that is poured off is none of the list; what is boiled, hung or fried is all that lies together."""

from told_dishes import grams, kept


def test_water_of_the_list_is_not_what_fish_was_boiled_in():
    """Fish is boiled in water of its own, and the water of the list goes into the batter with all the rest."""
    shares = kept(
        "- 250 g cod fillet\n- 1 onion, chopped\n- 185 g flour\n- 1 egg\n- 125 ml milk\n- 90 ml water",
        "Place the cod in a saucepan with 1.4 litres of water. Bring to the boil for 3 minutes, pour off the first set "
        "of water, and bring it to the boil a second time in 1 litre of water, for 30 minutes. Shred the fish with a "
        "fork. Blend all ingredients in a mixing bowl to a batter. Deep fry teaspoonfuls until golden. Drain on paper.",
    )
    assert shares["250 g cod fillet"] > 0.6
    assert all(shares[line] > 0.95 for line in ("185 g flour", "125 ml milk", "1 egg", "1 onion, chopped")), shares


def test_what_hangs_is_all_that_was_mixed():
    """Salt that was stirred into yoghurt runs off with the whey: "the yoghurt mixture" is not the yoghurt alone."""
    shares = kept(
        "- 1 kg Greek yogurt\n- 10 g salt\n- 30 ml olive oil",
        "Mix the yogurt and salt. Pour into a colander lined with muslin. Hang the yogurt mixture for 2 days, with a "
        "bowl underneath to catch the liquid. Roll into balls and cover with the olive oil.",
    )
    assert 0.2 < shares["10 g salt"] < 0.9, shares


def test_a_sticky_glaze_is_boiled_down():
    """A litre of stock and sugar that ends as a sticky glaze is a syrup, however long nobody says that it takes."""
    lines = "- 300 g pork ribs\n- 1 litre water\n- 100 g sugar\n- 50 ml vinegar"
    told = "Simmer the ribs in the water with the sugar and vinegar for 30 minutes. Stir-fry over low heat"
    assert grams(lines, f"{told} until sticky and syrupy.") < 550.0 < grams(lines, f"{told}.")


def test_fat_that_roast_potatoes_have_taken_up_does_not_run_off():
    """Two spoons of fat on a tray of potatoes are eaten, also where the excess is drained off on paper."""
    shares = kept(
        "- 1 kg potatoes\n- 2 tbsp goose fat",
        "Part boil the potatoes in salted water for 7 minutes and drain. Toss with the goose fat and roast for 40 "
        "minutes. Transfer to a plate lined with kitchen paper to drain off some of the excess fat.",
    )
    assert shares["2 tbsp goose fat"] > 0.8


def test_what_is_squeezed_is_the_food_that_a_weight_came_off():
    """The salted cucumber is squeezed, and not the syrup that was boiled meanwhile, to which the dill belongs."""
    shares = kept(
        "- 300 g cucumber\n- 6 g salt\n- 100 ml water\n- 40 g sugar\n- 8 g dill",
        "Place the sliced cucumber in a colander and coat with the salt. Let it drain for 1 hour. Boil the water and "
        "stir in the sugar. Leave to cool and add the dill. Remove the weight from the cucumber and squeeze it. "
        "Transfer the cucumber to a bowl and pour the mixture of water, sugar and dill over it.",
    )
    assert shares["40 g sugar"] > 0.95 and shares["8 g dill"] > 0.95, shares
    assert shares["6 g salt"] < 0.8, shares
