"""How handling is told in running text, and what of each ingredient is in the dish; every reason is common practice."""

from __future__ import annotations

from functools import cache

import pytest

from labeler.cooking.kept import Place, kept_shares
from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


@cache
def kept(recipe: str) -> dict[str, float]:
    """Best share of each line that is in the dish, by the line's text."""
    weighed = weigh(read_recipe(recipe))
    dish = cook(weighed)
    assert dish.flow is not None
    found = kept_shares(weighed, dish, dish.flow, dish.carried)
    return {
        line.line.text: share.best
        for at, part in enumerate(weighed.parts)
        for index, line in enumerate(part.lines)
        if (share := found.get(Place(at, index))) is not None
    }


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
