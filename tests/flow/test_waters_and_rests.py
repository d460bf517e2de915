"""Water around a vessel, what is left of a sauce, spent things put back; dishes of our own."""

from __future__ import annotations

import pytest
from told_dishes import cooked, grams, kept, made


@pytest.mark.parametrize("where", ["halfway up the tins", "to come two thirds up the ramekins", "up the sides"])
def test_a_water_bath_is_around_the_food_and_not_in_it(where):
    """Water that comes up the outside of a tin makes no pudding heavier."""
    lines = "- 300 g flour\n- 200 g sugar\n- 300 ml milk"
    method = f"Mix the flour, sugar and milk. Fill two tins and put them in a pot. Pour in boiling water {where}. "
    assert float(made(lines, f"{method}Steam 90 minutes.")[1].mix.total_mass[0]) < 900.0


def test_what_is_left_of_a_dressing_is_what_goes_and_not_the_salad():
    """ "Save what is left for another day" is the rest of what was used in part."""
    lines = "- 300 g tuna\n- 200 g beans\n- 80 ml olive oil\n- 30 ml vinegar"
    method = (
        "Shake the oil and vinegar in a jar. Drain the tuna well and flake it. Toss it all with most of the "
        "dressing, "
        "and save "
        "what's left for a salad another day."
    )
    shares = kept(lines, method)
    assert shares["300 g tuna"] > 0.95
    assert 0.5 < shares["80 ml olive oil"] < 0.95


def test_oil_that_is_heated_in_a_dutch_oven_is_heated_and_fried_in():
    """ "Heat the oil in a dutch oven" heats no oven: the bath is there, and stays behind."""
    lines = "- 500 g sausages\n- 200 g flour\n- 250 ml milk\n- 2 litres sunflower oil, for frying"
    method = (
        "Whisk the flour and milk to a batter. Heat the oil to 175 C in a dutch oven. Dip each sausage in the "
        "batter, "
        "let the extra drip off and fry 4 minutes. Drain on a rack."
    )
    assert kept(lines, method)["2 litres sunflower oil, for frying"] < 0.2


def test_bones_that_go_back_into_the_pot_take_no_meat_along_and_solids_that_are_tossed_go():
    """Bones are counted in no figure; the meat waits beside, and what the sieve held is thrown away."""
    lines = "- 1.4 kg chicken\n- 2 l water\n- 2 onions\n- 15 ml fish sauce\n- 300 g rice noodles"
    method = (
        "Simmer the chicken in the water with the onions 40 minutes. Take the chicken out, pull off the meat "
        "and put the "
        "bones and skin back in the pot for another 30 minutes. Strain the broth, toss the solids, and season "
        "it with "
        "the fish sauce. Soak the noodles in warm water for 20 minutes and drain. Divide the noodles and "
        "chicken between "
        "bowls and ladle over the broth."
    )
    shares = kept(lines, method)
    assert shares["15 ml fish sauce"] > 0.9
    assert shares["2 l water"] > 0.5
    assert shares["1.4 kg chicken"] > 0.6
    assert shares["2 onions"] < 0.5


def test_boiling_water_over_raw_onions_is_no_water_of_the_stew():
    """What new water is poured over lies in it by itself, and is drained of nothing else."""
    lines = "- 1 kg pork shoulder\n- 120 ml orange juice\n- 60 g achiote paste\n- 2 red onions"
    method = (
        "Rub the pork with the achiote and juice. Put it all into a slow cooker and cook on low 8 hours. "
        "Meanwhile pour "
        "boiling water over the onions and drain after a minute. Serve the pork in its juices with the onions."
    )
    shares = kept(lines, method)
    assert shares["120 ml orange juice"] > 0.9
    assert shares["60 g achiote paste"] > 0.9
    assert "braise" in [node.action for node in made(lines, method)[1].flow.parts[0].nodes]


PORK = "- 900 g pork shoulder\n- 300 ml cider vinegar\n- 60 g sugar\n- 6 bread rolls"


@pytest.mark.parametrize(
    ("said", "share"),
    [("half of the sauce", 0.5), ("the sauce", 1.0), ("half of the sauce. Serve with the rest of the sauce", 1.0)],
)
def test_the_rest_of_a_stated_share_that_nobody_speaks_of_again_is_left_over(said, share):
    """Half of a sauce goes into the dish, and the other half only where the words bring it."""
    method = f"Roast the pork for 2 hours and shred. Simmer the vinegar and sugar 5 minutes. Mix the pork with {said}."
    assert kept(PORK, method)["60 g sugar"] == pytest.approx(share, abs=0.02)


def test_the_rest_of_a_batch_that_is_fried_in_turns_is_served():
    """Half of the patties go into the pan first; the other half is no left-over of a smaller dish."""
    lines = "- 400 g minced beef\n- 1 onion, grated\n- 2 tbsp oil"
    shares = kept(
        lines, "Mix the beef with the onion and shape into 8 patties. Fry half the patties in the oil, 6 minutes."
    )
    assert shares["400 g minced beef"] > 0.85


DUMPLINGS = "- 500 g flour\n- 250 ml warm water\n- 300 g ricotta\n- 50 g butter"


@pytest.mark.parametrize(
    "boiled",
    [
        "Boil the dumplings in salted water for 4 minutes. Lift out",
        "Drop the dumplings into boiling salted water and cook for 4 minutes. Lift them out",
        "Drop them ten at a time in gently boiling salted water. Lift out when they float,",
    ],
)
def test_what_is_put_into_boiling_water_is_boiled_in_it_and_comes_out_whole(boiled):
    """Filled dough holds together in the water of a pot, and that water is no part of the dish."""
    method = (
        f"Mix the flour and warm water to a dough. Roll out, cut rounds and fill with the ricotta. {boiled} and toss"
    )
    weighed, dish = made(DUMPLINGS, f"{method} with the butter.")
    shares = kept(DUMPLINGS, f"{method} with the butter.")
    assert all(share > 0.95 for line, share in shares.items() if "water" not in line), shares
    assert float(dish.mix.total_mass[0]) < 1.1 * sum(line.grams.best for line in weighed.parts[0].lines if line.grams)


@pytest.mark.parametrize("oil", ["2 tbsp of the oil", "the oil", "30 ml oil"])
def test_the_amount_of_a_fat_that_food_is_cooked_in_is_not_what_the_pot_boils_down_to(oil):
    """Beans that simmer with an onion in some oil keep their water."""
    lines = "- 500 g dried beans\n- 60 ml olive oil\n- 1 onion"
    method = f"Cover the beans with 2 litres water and simmer with the onion and {oil} for 1 hour."
    assert float(made(lines, method)[1].mix.total_mass[0]) > 1200.0


BRISKET = "- 1.5 kg beef brisket\n- 2 onions\n- 2 carrots\n- 10 g salt"
IN_A_POT = "Put everything in a pot. Cover with water and simmer for 3 hours."


@pytest.mark.parametrize(
    "thrown", ["discard everything else", "throw away the rest", "discard the vegetables and the broth"]
)
def test_what_food_was_lifted_out_of_goes_where_the_rest_is_discarded(thrown):
    """The meat is eaten; onions, carrots, most of the salt and the water go."""
    shares = kept(BRISKET, f"{IN_A_POT} Lift out the beef and {thrown}. Slice the beef.")
    assert shares["1.5 kg beef brisket"] > 0.9 and shares["10 g salt"] < 0.4, shares
    assert shares["2 onions"] < 0.05 > shares["2 carrots"]


def test_food_that_is_taken_out_and_comes_back_was_in_the_pot_with_everything():
    """The beef simmers with the rest, and the broth that it comes back to is that of the pot."""
    method = f"{IN_A_POT} Remove the beef to a plate and shred. Strain the broth, discard the vegetables, and return"
    shares = kept(BRISKET, f"{method} the beef to the broth.")
    assert shares["1.5 kg beef brisket"] > 0.9 and shares["10 g salt"] > 0.8, shares
    assert shares["2 onions"] < 0.2


@pytest.mark.parametrize("hours", [1, 2, 4])
def test_a_pot_that_simmers_does_not_boil_dry_by_a_guess(hours):
    """The longer it simmers the less water there is, and there is always some."""
    lines = "- 1.5 kg beef bones\n- 2 litres water"
    left = [
        float(made(lines, f"Simmer the bones in the water for {h} hours.")[1].mix.total_mass[0])
        for h in (hours, 2 * hours)
    ]
    assert 1600.0 < left[1] < left[0] < 3500.0


PASTA = "- 500 g pasta\n- 100 g butter\n- 20 g salt"


@pytest.mark.parametrize(
    "told",
    [
        "Bring 4 litres of water to the boil with the salt. Cook the pasta for 10 minutes.",
        "Bring 4 litres of water to the boil. Add the salt and the pasta and cook for 10 minutes.",
        "Put your largest pot on with 4 litres of water and the salt. Boil the pasta for 10 minutes.",
        "In a pot bring 4 litres of water and the salt to the boil and cook the pasta for 10 minutes.",
        "Boil the pasta in 4 litres of water with the salt for 10 minutes.",
    ],
)
def test_water_that_is_set_on_by_its_amount_is_what_food_is_boiled_in(told):
    """Four litres of water are drained off, and most of the salt with them; none of it is served beside the pasta."""
    method = f"{told} Drain and toss with the butter."
    assert float(made(PASTA, method)[1].mix.total_mass[0]) < 1700.0
    assert kept(PASTA, method)["20 g salt"] < 0.4


CHIPS = "- 1 kg potatoes\n- 1 litre oil"


@pytest.mark.parametrize(
    "fried",
    [
        "Fry in the oil for 6 minutes.",
        "Heat the oil to 180 °C and fry for 6 minutes.",
        "Heat the oil to 180 °C, add the potatoes and fry for 6 minutes.",
        "Deep-fry until golden.",
    ],
)
def test_a_litre_of_oil_that_food_is_fried_in_is_not_eaten(fried):
    """Parboiled potatoes go into the oil, whether the words name them again or not, and come out of it."""
    shares = kept(CHIPS, f"Parboil the potatoes for 5 minutes and drain. {fried}")
    assert shares["1 litre oil"] < 0.15 and shares["1 kg potatoes"] > 0.95, shares


def test_oil_that_is_flavoured_is_eaten_whole():
    """Oil in which garlic turns golden, and which chillies are stirred into, is what is made."""
    lines = "- 500 ml oil\n- 200 g dried chillies\n- 20 g garlic"
    shares = kept(lines, "Heat the oil, add the garlic and fry gently until golden. Stir in the chillies and cool.")
    assert all(share > 0.95 for share in shares.values()), shares


def test_a_puree_goes_through_a_sieve_but_for_skins_and_seeds():
    """Four fifths of blended tomatoes are there, and their oil and salt with them."""
    lines = "- 1 kg tomatoes\n- 50 ml oil\n- 5 g salt"
    shares = kept(
        lines, "Roast the tomatoes with the oil at 200 °C for 40 minutes. Blend with the salt and push through a sieve."
    )
    assert shares["1 kg tomatoes"] == pytest.approx(0.8, abs=0.05)


@pytest.mark.parametrize(
    ("told", "most"),
    [
        ("Add half a glass of water so that it is well covered.", 150.0),
        ("Cover with 300 ml water.", 301.0),
        ("Add 1/2 cup water to cover.", 130.0),
    ],
)
def test_water_that_covers_is_as_much_as_the_words_say(told: str, most: float) -> None:
    """Where the words say how much water covers the food, no more is taken to be there."""
    text = (
        f"# Kidney\n- 500 g beef kidney\n- 60 g butter\n> Brown the kidney in the butter. {told} Simmer 30 minutes.\n"
    )
    _, dish = cooked(text)
    water = sum(float(entry.mix.total_mass[0]) for ledger in dish.ledgers for entry in ledger.added) - 560.0
    assert 50.0 < water <= most


@pytest.mark.parametrize(
    "words",
    [
        "Bring a large pot of water to the boil, add the potatoes and cook for 18 minutes. Drain.",
        "Add the potatoes to boiling water and cook for 18 minutes. Drain.",
        "When a big pan of water boils, add the potatoes, cook for 18 minutes and drain well.",
    ],
)
def test_what_is_added_once_the_water_boils_is_boiled(words):
    """Potatoes that go into water that was set on are boiled there, and are not fried in a dry pan."""
    lines = "- 800 g potatoes, cubed\n- 50 g olive oil"
    plain = grams(lines, "Boil the potatoes in plenty of water for 18 minutes and drain. Toss with the oil.")
    assert grams(lines, f"{words} Toss with the oil.") == pytest.approx(plain, rel=0.02)
