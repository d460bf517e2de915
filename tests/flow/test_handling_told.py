"""How handling is told in running text, and what of each ingredient is in the dish; every reason is common practice."""

from __future__ import annotations

import pytest
from told_dishes import kept_of as kept

SKEWERS = """# Skewers
- 700 g turkey breast, diced
- 150 ml soy sauce
- 100 ml pineapple juice
- 20 g garlic, crushed
> Stir together the soy, juice and garlic, add the turkey and chill for 3 hours.
> {} Lift the turkey out. {} Grill for 10 minutes.
"""
CUTLETS = """# Cutlets
- 500 g pork loin, sliced
- 100 g plain flour
- 2 eggs
- 150 g breadcrumbs
- 4 g salt
- 60 ml oil
> Salt the pork. Turn each slice in the flour and in the egg, {}. {} Heat the oil in a pan, {} Drain on paper.
"""


def test_tools_that_are_soaked_are_not_the_food() -> None:
    """Wooden sticks lie in water while the meat lies in its marinade."""
    plain = kept(SKEWERS.format("", "Discard the marinade."))
    soaked = kept(SKEWERS.format("Soak 8 wooden skewers in cold water for an hour.", "Discard the marinade."))
    assert soaked == pytest.approx(plain)


def test_a_marinade_with_pieces_in_it_goes_when_it_is_thrown_out() -> None:
    """What the meat was lifted out of is the marinade, garlic and all."""
    assert kept(SKEWERS.format("", "Throw the marinade out."))["20 g garlic, crushed"] < 0.3


def test_the_fat_that_meat_was_cooked_in_is_kept_for_another_dish() -> None:
    """Strained while the meat crisps elsewhere, the fat is not what is eaten, and the meat is."""
    found = kept(
        "# Confit\n- 4 duck legs\n- 900 g goose fat\n- 3 cloves garlic\n"
        "> Melt the fat, slide in the legs with the garlic and confit them for 3 hours at 120 C.\n"
        "> Take the legs out of the fat and crisp them in a 220 C oven for 10 minutes. Strain the fat and keep it for"
        " your next batch of potatoes.\n"
    )
    assert found["4 duck legs"] > 0.5
    assert found["900 g goose fat"] < 0.15


@pytest.mark.parametrize("station", ["press into the crumbs", "then into the crumbs", "press on the breadcrumbs"])
def test_the_last_station_of_a_coating_is_one(station: str) -> None:
    """However crumbs come to what lies in flour and egg, they coat it."""
    found = kept(CUTLETS.format(station, "Bin whatever is left over.", "and fry the cutlets 3 minutes a side."))
    assert found["150 g breadcrumbs"] < 0.9
    assert found["100 g plain flour"] < 0.9
    assert found["500 g pork loin, sliced"] > 0.85


def test_salt_stays_on_what_is_fried_and_drained_on_paper() -> None:
    """It dissolves in no fat, though meat juice drips into the pan."""
    assert kept(CUTLETS.format("then into the crumbs", "", "fry 3 minutes a side."))["4 g salt"] > 0.9


@pytest.mark.parametrize("name", ["scaloppini", "cutlets"])
def test_what_is_being_made_may_have_a_name_of_its_own(name: str) -> None:
    """ "The scaloppini", "the cutlets" are the coated slices, and they are fried in the oil."""
    found = kept(CUTLETS.format("then into the crumbs", "", f"and fry the {name} 3 minutes a side."))
    assert found["60 ml oil"] < 0.9
    assert found["500 g pork loin, sliced"] > 0.85


@pytest.mark.parametrize(
    ("purpose", "kept_back"),
    [("for a soup", True), ("for your beans", True), ("for the sauce", False)],
)
def test_what_is_kept_for_another_dish_leaves(purpose: str, kept_back: bool) -> None:
    """Stock that is kept for a soup is in no serving of the meat."""
    found = kept(
        "# Boiled beef\n- 1 kg beef brisket\n- 1.5 l beef stock\n"
        f"> Simmer the beef in the stock for 2 hours. Lift out the beef. Keep the stock {purpose}. Slice the beef.\n"
    )
    assert (found["1.5 l beef stock"] < 0.3) == kept_back


@pytest.mark.parametrize(
    "told",
    [
        "Pour off all but a spoonful of the fat.",
        "Pour all but 1 tablespoon of the fat away.",
        "Tip away all but 15 ml of the fat.",
    ],
)
def test_what_is_cooked_in_the_fat_of_bacon_has_no_bacon_fat_that_was_poured_off(told: str) -> None:
    """The rashers come back; of the fat only what was left in the pan, and no water is taken out of it."""
    found = kept(
        "# Beans with bacon\n- 250 g streaky bacon\n- 300 g green beans\n- 200 g orzo\n- 10 g garlic\n"
        f"> Fry the bacon for 10 minutes. Lift it out onto kitchen paper. {told}\n"
        "> Meanwhile boil the orzo in salted water; throw the beans in for the last 3 minutes. Save half a cup of the"
        " cooking water, drain.\n"
        "> Cook the garlic in the bacon fat for 1 minute. Add the orzo, beans, bacon and the saved water.\n"
    )
    assert 0.35 < found["250 g streaky bacon"] < 0.85
    assert found["200 g orzo"] > 0.9
    assert found["300 g green beans"] > 0.8


@pytest.mark.parametrize(
    "told",
    [
        "Heat the milk to 85 C, stir in the vinegar until it curdles, strain through muslin.",
        "Bring the milk to a simmer. Add the vinegar; when it has curdled, pour it into a cloth-lined sieve and drain.",
        "Scald the milk, stir in the vinegar and leave 10 minutes. Discard the whey.",
    ],
)
def test_curd_stays_in_the_cloth(told: str) -> None:
    """Of milk that has curdled the whey runs off, with the sugar of the milk, and the fat and protein stay."""
    found = kept(
        f"# Fresh cheese\n- 3 litres whole milk\n- 90 ml white vinegar\n- 5 g salt\n> {told} Mix in the salt.\n"
    )
    assert 0.35 < found["3 litres whole milk"] < 0.7
    assert found["90 ml white vinegar"] < 0.4
    assert found["5 g salt"] > 0.9


def test_custard_goes_through_a_sieve() -> None:
    """Milk that has not curdled is no curd, though eggs have thickened it."""
    found = kept(
        "# Custard\n- 500 ml whole milk\n- 5 egg yolks\n- 60 g sugar\n"
        "> Heat the milk. Whisk in the yolks and sugar, stir over a low heat until thick and strain.\n"
    )
    assert found["500 ml whole milk"] > 0.9


def test_what_was_just_grated_is_salted_and_squeezed() -> None:
    """ "Toss with the salt" is about what the sentence grates, and not about what waits in the fridge."""
    found = kept(
        "# Dip\n- 500 g sour cream\n- 300 g courgette\n- 6 g salt\n- 30 ml olive oil\n"
        "> Whip the sour cream. Grate the courgette, toss with the salt, leave 30 minutes, then squeeze out the liquid."
        " Fold the courgette into the cream with the oil.\n"
    )
    assert found["500 g sour cream"] > 0.97
    assert found["30 ml olive oil"] > 0.97
    assert 0.2 < found["6 g salt"] < 0.9


def test_vegetables_fished_out_and_never_named_again_are_done_with() -> None:
    """An onion that flavoured the pot is not eaten; the one that is named later is."""
    recipe = (
        "# Chickpeas\n- 400 g dried chickpeas\n- 1 carrot, halved\n- 1 onion, quartered\n- 50 ml olive oil\n"
        "> Soak the chickpeas overnight, drain. Cover with water with the carrot and onion and simmer for an hour."
        " Drain and fish out the carrot and onion. While they are still hot stir in the oil{}.\n"
    )
    assert kept(recipe.format(""))["1 carrot, halved"] < 0.1
    assert kept(recipe.format(" and the carrot, chopped"))["1 carrot, halved"] > 0.7
    assert kept(recipe.format(""))["50 ml olive oil"] > 0.9


def test_a_clause_after_a_state_is_a_deed() -> None:
    """Without a comma too: "once cool peel", "while still warm dress"."""
    text = "# Beets\n- 500 g beetroot\n- 40 ml olive oil\n- 4 g salt\n> Boil the beets for 40 minutes and drain. {}\n"
    plain = kept(text.format("Dress with the oil and salt."))
    assert kept(text.format("While they're still warm dress with the oil and salt.")) == pytest.approx(plain)


def test_what_is_put_in_while_something_simmers_is_added_to_it() -> None:
    """ "Simmer 10 minutes, then the rice": into the same pot."""
    text = "# Broth\n- 1 litre chicken stock\n- 100 g rice\n- 4 g salt\n> Add the salt to the stock, {}\n"
    plain = kept(text.format("simmer 10 minutes, add the rice and simmer another 15 minutes."))
    assert kept(text.format("simmer 10 minutes, then the rice and simmer another 15 minutes.")) == pytest.approx(plain)


def test_tea_stays_when_its_bags_are_squeezed_and_thrown_away() -> None:
    """ "Them" are the bags and not the water that they lie in."""
    found = kept(
        "# Tea\n- 6 tea bags\n- 1.5 litres boiling water\n- 100 g sugar\n"
        "> Steep the tea bags in the boiling water for 5 minutes, squeeze and bin them. Stir in the sugar.\n"
    )
    assert found["1.5 litres boiling water"] > 0.9
    assert found["6 tea bags"] < 0.4


def test_oil_that_is_infused_takes_up_no_water() -> None:
    """What steeps in fat is covered with nothing else; whole spices stay in the sieve."""
    found = kept(
        "# Oil\n- 400 ml sunflower oil\n- 3 cinnamon sticks\n- 30 g dried chillies\n- 2 star anise\n"
        "> Warm the oil with the cinnamon and star anise for 20 minutes, add the chillies and let it infuse overnight."
        " Strain.\n"
    )
    assert found["400 ml sunflower oil"] > 0.85
    assert max(found["3 cinnamon sticks"], found["2 star anise"], found["30 g dried chillies"]) < 0.2


@pytest.mark.parametrize(
    ("told", "low", "high"), [("pressing on the fruit", 0.0, 0.35), ("pushing it through", 0.3, 0.8)]
)
def test_juice_is_pressed_out_and_pulp_is_pressed_through(told: str, low: float, high: float) -> None:
    """Pressing on what a sieve holds gives its juice; what is pushed through is a purée."""
    found = kept(
        f"# Syrup\n- 600 g plums\n- 300 ml water\n> Simmer the plums in the water 20 minutes. Strain, {told}.\n"
    )
    assert low <= found["600 g plums"] <= high


def test_a_spiced_syrup_goes_over_the_fruit_without_its_peel() -> None:
    """Peel that is fished out of a syrup is spent, and the syrup is what goes over the fruit."""
    found = kept(
        "# Quinces\n- 500 g quinces\n- 500 ml white wine\n- 150 g sugar\n- 3 strips lemon zest\n- 1 cinnamon stick\n"
        "> Simmer the wine, sugar, zest and cinnamon for 5 minutes, add the quinces and poach for 40 minutes. Lift"
        " out the quinces. Boil the syrup down by half, fish out the zest and cinnamon and spoon it over the quinces.\n"
    )
    assert found["3 strips lemon zest"] < 0.3
    assert found["150 g sugar"] > 0.9


def test_salted_cabbage_wilts_cold() -> None:
    """ "Let it wilt" of what lies in salt is no frying; what is rinsed afterwards has lost most of that salt."""
    text = (
        "# Cabbage\n- 900 g white cabbage\n- 60 g salt\n- 20 ml vinegar\n"
        "> Toss the cabbage with the salt. Let it {} for 2 hours.\n"
        "> Rinse twice and leave to drain for 20 minutes. Add the vinegar.\n"
    )
    assert kept(text.format("wilt")) == pytest.approx(kept(text.format("stand")))
    assert kept(text.format("wilt"))["60 g salt"] < 0.6


def test_what_is_whizzed_is_stirred_into_what_was_cooked_before() -> None:
    """ "And stir into the porridge": what the sentence has just made goes there, and both are the paste."""
    found = kept(
        "# Paste\n- 200 g daikon\n- 20 g rice flour\n- 200 ml water\n- 30 g garlic\n- 20 g chili flakes\n"
        "> Cut the daikon in sticks. Simmer the flour and water for 5 minutes and let it cool.\n"
        "> Whizz the garlic and stir into the porridge with the chili flakes. Discard the paste.\n"
    )
    assert found["30 g garlic"] == pytest.approx(found["20 g chili flakes"], abs=0.05)


@pytest.mark.parametrize(
    "told",
    [
        "Cut the dough in half; wrap one half and put it in the freezer for another day.",
        "Put half of the dough in the freezer for another night.",
        "Halve the dough. Freeze one half for later.",
    ],
)
def test_half_of_a_dough_is_kept_for_another_day(told: str) -> None:
    """What goes in the freezer is not baked today."""
    found = kept(
        "# Flatbreads\n- 400 g flour\n- 250 ml water\n- 8 g salt\n- 100 g cheddar\n"
        f"> Knead the flour, water and salt to a dough. {told}\n"
        "> Roll out the rest, scatter with the cheddar and bake for 10 minutes at 240 C.\n"
    )
    assert found["400 g flour"] == pytest.approx(0.5, abs=0.06)
    assert found["100 g cheddar"] > 0.9


def test_it_whole_is_it() -> None:
    """ "Boil it whole" is about what was just trimmed, whatever a table calls whole."""
    found = kept(
        "# Cauliflower\n- 1 cauliflower\n- 1 egg\n"
        "> Trim the cauliflower and boil it whole for 15 minutes. Drain. Add the egg.\n"
    )
    assert 0.7 < found["1 cauliflower"] < 0.99
    assert found["1 egg"] > 0.99


def test_slices_in_a_command_are_a_noun() -> None:
    """ "Layer the courgette slices with the salt" lays them in salt."""
    found = kept(
        "# Courgettes\n- 600 g courgettes, sliced\n- 30 g salt\n- 20 ml olive oil\n"
        "> Layer the courgette slices with the salt in a colander and leave for an hour.\n"
        "> Rinse well. Add the oil.\n"
    )
    assert found["30 g salt"] < 0.8
    assert found["600 g courgettes, sliced"] > 0.7


def test_what_is_used_for_frying_comes_to_it() -> None:
    """ "Use the oil to fry the onions" fries them in it."""
    text = "# Onions\n- 300 g onions, sliced\n- 60 ml olive oil\n- 100 g feta\n> {} Scatter with the feta.\n"
    plain = kept(text.format("Fry the onions in the oil for 10 minutes."))
    assert kept(text.format("Use the oil to fry the onions for 10 minutes.")) == pytest.approx(plain)


def test_wine_is_poured_over_what_is_in_the_pot() -> None:
    """ "Pour on the wine": over the meat that was browned."""
    found = kept(
        "# Beef\n- 800 g stewing beef\n- 500 ml red wine\n- 20 g flour\n- 30 ml oil\n"
        "> Marinate the beef in the wine overnight. Lift out the beef. Brown it in the oil.\n"
        "> Stir in the flour, pour on the wine and simmer for 2 hours.\n"
    )
    assert found["500 ml red wine"] > 0.85
    assert found["20 g flour"] > 0.9


def test_the_soaking_liquid_is_what_food_was_soaked_in() -> None:
    """And not the little that was squeezed out of it when it was lifted."""
    found = kept(
        "# Barley\n- 30 g dried porcini\n- 400 ml hot water\n- 200 g pearl barley\n- 600 ml chicken stock\n"
        "> Pour the water over the porcini and leave 30 minutes. Lift them out, squeeze and chop.\n"
        "> Strain the soaking liquid and add it to the stock. Simmer the barley in the stock for 40 minutes.\n"
    )
    assert found["400 ml hot water"] > 0.3


def test_what_is_left_in_a_sieve_is_what_it_holds() -> None:
    """ "Compost what is left" leaves the syrup."""
    found = kept(
        "# Cordial\n- 500 g gooseberries\n- 700 ml water\n- 400 g sugar\n"
        "> Simmer the gooseberries in the water with the sugar for 15 minutes.\n"
        "> Strain, compost what is left and funnel the syrup into bottles.\n"
    )
    assert found["400 g sugar"] > 0.8
    assert found["500 g gooseberries"] < 0.4
