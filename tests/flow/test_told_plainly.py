"""What stays in the dish, and which water is new, where a cook tells it in few words; dishes of our own."""

from __future__ import annotations

import pytest
from told_dishes import cooked, grams, kept, made

from labeler.parsing.document import read_recipe
from labeler.parsing.instructions.model import Mood, Role
from labeler.parsing.instructions.parser import read_method


def read(lines: str, method: str):
    """The instructions of a method."""
    return read_method(read_recipe(f"# Dish\n{lines}\n> {method}\n").parts[0], market="us").instructions


TRAY = "- 900 g parsnips, cubed\n- 80 g butter\n- 60 g honey\n- 4 g salt"


@pytest.mark.parametrize("place", ["from the oven", "from the heat", "from heat", "from the tins", "off the stove"])
def test_what_comes_off_the_heat_or_out_of_a_tin_comes_with_what_is_around_it(place):
    """An oven, a flame and a tin are no liquid: nothing is parted from food that is taken from them."""
    method = (
        "Melt the butter with the honey and salt in a pan. Toss the parsnips with the glaze in a dish. Bake for 30 "
    )
    shares = kept(TRAY, f"{method}minutes. Remove {place}. Mash and serve.")
    assert all(share > 0.95 for share in shares.values()), shares


def test_eggs_that_were_whisked_go_through_a_sieve():
    """A custard is strained of its lumps, and keeps its yolks."""
    lines = "- 400 ml cream\n- 5 egg yolks\n- 90 g sugar"
    shares = kept(lines, "Warm the cream. Whisk the yolks with the sugar, pour in the cream and strain into a jug.")
    assert shares["5 egg yolks"] > 0.95


def test_hard_boiled_eggs_do_not_go_through_a_sieve_with_their_water():
    """What was boiled whole is what a sieve holds, and what is eaten."""
    shares = kept("- 6 eggs\n- 1 tsp salt", "Boil the eggs for 9 minutes. Strain.")
    assert shares["6 eggs"] > 0.9


def test_several_changes_of_fresh_water_are_the_bath_and_no_listed_liquid_is():
    """What soaks in water that the words name takes nothing of the list for its bath."""
    lines = "- 400 g salt cod\n- 500 g potatoes\n- 100 ml double cream\n- 60 ml olive oil"
    method = (
        "Soak the cod for a day in several changes of cold water. Drain. Simmer the cod 10 minutes in water, "
        "drain. Boil "
        "the potatoes, drain and mash. Beat in the cod, the oil, followed by the cream."
    )
    assert kept(lines, method)["100 ml double cream"] > 0.9


BOWL = "- 1.5 l water\n- 300 g beef shin\n- 20 g sugar\n- 2 pears\n- 200 g noodles"


def test_a_liquid_that_is_called_after_its_foods_is_the_heap_of_those():
    """The sugar water of the pears is what was stirred together for them, and not the broth."""
    method = (
        "Bring the 1.5 l water to a boil, add the beef and simmer 1 hour. Remove the beef and set the broth "
        "aside. Mix 1 "
        "cup water with the sugar in a bowl. Slice the pears, add them to the sugar water and let sit 2 "
        "minutes. Drain. "
        "Slice the beef. Boil the noodles in plenty of water and drain. Divide the noodles between bowls, pour "
        "over the "
        "broth and top with the beef and pears."
    )
    shares = kept(BOWL, method)
    assert shares["20 g sugar"] < 0.5
    assert shares["1.5 l water"] > 0.5


@pytest.mark.parametrize(
    ("told", "action", "minutes"),
    [
        ("Poach / simmer the fish in the milk for 6 minutes.", "simmer", 6.0),
        ("Simmer the fish in the milk for 6 minutes, longer if frozen.", "simmer", 6.0),
    ],
)
def test_a_deed_of_two_names_and_a_condition_on_its_time_alone_is_done(told, action, minutes):
    """Of two verbs for one deed the first is done; "longer if frozen" bears on the time."""
    (one,) = read("- 400 g haddock\n- 300 ml milk", told)
    assert (one.action, one.mood) == (action, Mood.DO)
    assert one.minutes is not None and one.minutes.best == minutes


def test_a_word_between_things_of_a_list_is_a_thing():
    """ "Add the stock, puree, mustard": no verb stands alone between two foods."""
    lines = "- 300 ml stock\n- 200 g tomato puree\n- 1 tbsp mustard"
    (one,) = read(lines, "Add the stock, puree, mustard.")
    assert [mention.name for mention in one.mentions if mention.role is Role.OBJECT] == ["stock", "puree", "mustard"]


def test_deeds_between_commas_stay_deeds():
    """ "Add the plums, stew, strain and chill" is four deeds."""
    found = read("- 1 kg plums", "Add the plums, stew, strain and chill.")
    assert [one.action for one in found] == ["add", "simmer", "strain", "stand"]


def test_what_the_cook_can_do_then_is_no_deed():
    """ "So you can stir" puts nothing into cans."""
    found = read("- 500 g rice", "Add some water to the rice so you can stir.")
    assert [one.action for one in found] == ["add"]


SAUCE = "- 800 g chickpeas, canned, drained\n- 300 g peppers\n- 200 g onions"


@pytest.mark.parametrize(
    "liquid", ["60 ml soy sauce", "120 ml vegetable stock", "80 ml white wine", "400 g canned tomatoes"]
)
def test_what_simmers_with_a_liquid_that_is_told_gets_no_more_water(liquid):
    """Liquid that the list gives is all the liquid there is: nothing is made heavier by simmering."""
    lines = f"{SAUCE}\n- {liquid}"
    name = liquid.split(" ", 2)[2]
    told = sum(float(line.split(" ")[1]) for line in lines.splitlines())
    method = f"Put the peppers and onions in a pot with the {name}. Add the chickpeas. Simmer for 20 minutes. Serve."
    assert grams(lines, method) <= told * 1.03


def test_a_reduction_brings_no_water():
    """What is reduced loses water; what swells meanwhile drinks of what is there."""
    lines = "- 300 g rice\n- 900 ml stock\n- 200 g peas"
    method = "Simmer the rice in the stock for 10 minutes. Add the peas. Reduce, covered. Serve."
    assert grams(lines, method) <= 1420.0


@pytest.mark.parametrize("flame", ["to low heat", "to a very low heat", "the heat", "the heat to low"])
def test_a_flame_that_is_reduced_boils_nothing_away(flame):
    """It is the flame that gets smaller, and not the stew."""
    found = read("- 300 g lentils\n- 900 ml stock", f"Simmer the lentils in the stock. Reduce {flame} and cover.")
    assert "reduce" not in {one.action for one in found}


def test_a_syrup_that_is_strained_into_tea_is_the_one_with_the_sugar():
    """A liquid is known by what is in it, and goes where the words put it."""
    lines = "- 6 tea bags\n- 1.5 l boiling water\n- 400 g plums\n- 120 g sugar\n- 150 ml water"
    method = (
        "Steep the tea bags in the boiling water 5 minutes and discard them. In a pan simmer the plums with the "
        "sugar and "
        "the 150 ml water for 15 minutes. Strain the syrup into the tea and discard the pulp. Chill."
    )
    shares = kept(lines, method)
    assert shares["120 g sugar"] > 0.5
    assert shares["400 g plums"] < 0.6


def test_a_bowl_that_is_filled_with_water_for_the_fingers_wets_no_dough():
    """Water in a bowl of its own is not in the food."""
    lines = "- 500 g masa harina\n- 600 ml water\n- 200 g cheese"
    method = (
        "Mix the masa harina with the water to a dough. Fill a small bowl with water and set it near your "
        "board. Shape the "
        "dough around the cheese and pan-fry 4 minutes on each side."
    )
    assert grams(lines, method) <= 1310.0


def test_what_is_put_to_the_boiling_water_is_boiled_in_it_and_nothing_else_is_drained():
    """ "It" is the water that the sentence waits for; the sauce keeps its oil."""
    lines = "- 250 g spaghetti\n- 40 ml olive oil\n- 400 g tomatoes, chopped"
    method = (
        "Heat the oil in a pan. Put some water on to boil. Cook the tomatoes in the oil for 10 minutes. When "
        "the water is "
        "boiling, add the pasta to it. When the pasta is ready, drain it. Top the pasta with the sauce."
    )
    shares = kept(lines, method)
    assert shares["40 ml olive oil"] > 0.9
    assert grams(lines, method) > 800.0


def test_the_water_of_a_line_is_not_kept_for_a_bowl_of_ice_water():
    """Ice water is other water: the line goes where the words put it, and the onion lies in no dressing."""
    lines = "- 120 ml water\n- 100 g yogurt\n- 1 avocado\n- 1 onion, sliced\n- 300 g lettuce"
    method = (
        "Blend the avocado, water and yogurt. Soak the onion in a small bowl of ice water for 10 minutes. Drain "
        "the onion. "
        "Toss the lettuce with the onion and the dressing."
    )
    shares = kept(lines, method)
    assert shares["100 g yogurt"] > 0.95
    assert shares["120 ml water"] > 0.95


def test_a_marinade_that_the_words_take_for_made_is_the_listed_liquids():
    """ "Soak in the marinade" where nothing was stirred together: what is listed for one is it, and no tap "
    "water."""
    lines = "- 300 g tofu, cubed\n- 120 ml water\n- 30 ml soy sauce\n- 20 g miso\n- 15 ml rice vinegar"
    method = "Soak the tofu in the marinade for 15 minutes. Transfer to a pan and simmer for 5 minutes."
    shares = kept(lines, method)
    assert shares["20 g miso"] > 0.9
    assert grams(lines, method) < 500.0


def test_a_pot_that_is_rinsed_is_empty():
    """What was in it lies elsewhere: the bacon is fried by itself, and the broth comes back by its name."""
    lines = "- 1 kg cockles\n- 120 g bacon\n- 300 g potatoes\n- 200 ml cream"
    method = (
        "Put the cockles in a pot with 500 ml water, cover and cook 5 minutes. Strain the broth and reserve. "
        "Take the "
        "cockles from their shells. Rinse the pot and return it to the stove. Add the bacon and cook until "
        "brown. Add "
        "the potatoes and the cockle broth and simmer 15 minutes. Stir in the cream and cockles, then remove "
        "from heat."
    )
    dish = made(lines, method)[1]
    assert dish.flow is not None
    assert "pan-fry" in [node.action for node in dish.flow.parts[0].nodes]
    assert all(share > 0.9 for share in kept(lines, method).values())


def test_food_that_is_cut_up_after_a_sieve_has_held_it_back_is_eaten():
    """The breasts are boned for the pie, the thighs are kept for another day, the noodles are the dough."""
    lines = "- 900 g chicken breasts\n- 400 g chicken thighs\n- 1 l water\n- 400 g flour\n- 150 g butter"
    method = (
        "In a 5 quart pot, place the chicken breasts, thighs and water. Simmer 40 minutes. Strain the broth and "
        "return "
        "to the pot. Debone the breasts and cut the meat into pieces. Reserve the thighs for another use. Knead "
        "the "
        "flour with the butter to a dough. Roll it out and cut into squares. Add the noodles to the boiling "
        "broth one at "
        "a time. Simmer 20 minutes. Stir in the meat."
    )
    shares = kept(lines, method)
    assert shares["900 g chicken breasts"] > 0.9
    assert shares["400 g flour"] > 0.9
    assert shares["400 g chicken thighs"] < 0.5
    assert grams(lines, method) < 2600.0


PIE = "- 500 g potatoes\n- 60 ml milk\n- 30 g butter\n- 400 g cod\n- 240 ml milk\n- 1 onion\n- 10 g flour"


def test_the_milk_that_fish_was_poached_in_is_not_the_milk_of_the_mash():
    """Of two lines of one name the phrase means that which is the liquid; the mash is made of drained potatoes."""
    method = (
        "Boil the potatoes and mash with the 60 ml milk and half the butter. Poach the cod in the milk for 5 "
        "minutes. "
        "Remove the fish and reserve the milk. Fry the onion in the rest of the butter and add the flour. Use the "
        "poaching milk to deglaze and simmer until thick. Layer the fish, sauce and potatoes. Bake 20 minutes "
        "at 190 C."
    )
    assert all(share > 0.85 for share in kept(PIE, method).values())
    assert grams(PIE, method) < 1350.0


def test_what_is_squeezed_into_balls_gives_no_juice_and_goes_by_the_name_of_the_dish():
    """A shape is made by squeezing; "the koftas" are what the recipe is called after."""
    lines = "- 400 g lentils, cooked\n- 60 g parsley\n- 8 g salt"
    _, dish = cooked(
        f"# Lentil koftas\n{lines}\n> Blend the lentils, parsley and salt. Squeeze with your hands into balls placed "
        "on a plate. Heat some oil in a pan. Put the koftas into the pan and cook until brown.\n"
    )
    assert dish.flow is not None
    assert [node.action for node in dish.flow.parts[0].nodes if node.action in ("squeeze", "make")] == ["make"]
    fried = next(node for node in dish.flow.parts[0].nodes if node.action in ("pan-fry", "deep-fry"))
    assert len(fried.inputs) == 2
