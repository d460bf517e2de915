"""Dry curing: salt or sugar strewn on food, rubbed in, packed around it.

There is no liquor to begin with. Salt draws juice out of the food, dissolves in it, and goes in as from a brine that
stays near saturation while there is solid salt; what has not gone in leaves with whatever is wiped, rinsed or poured
off.
"""

from __future__ import annotations

import numpy as np

from labeler.cooking.models.immersion import exchange, ratio, soak
from labeler.cooking.models.swelling import DRAWN, PLANTS
from labeler.cooking.state.mixture import Array, Mixture, blank
from labeler.cooking.state.phases import SALT, SUGAR, WATER, Mask, Outcome, Phases, move, sort_pot, together
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.food_class import DISSOLVES
from labeler.types import Interval

__all__ = ["cure", "is_salted"]

# Salt in its water when no more dissolves [g/g at 20 °C: CRC Handbook, 35.9 g per 100 g], and sugar (sucrose, 2.0).
SATURATED, _SATURATED_SUGAR = 0.359, 2.0
# Water that flesh loses for the salt that goes in when it is salted dry [g/g]: common practice, no source. Dry-cured
# bacon and salted fish lose 3 to 15 % of their weight with 3 to 6 % of salt.
_WATER_PER_SALT = Interval(1.5, 0.5, 3.0)
_MOISTENED = 1e-3  # share of its water that wets what is strewn on food
_SALTED = 0.002  # g salt per g food that makes a cure of standing: common practice, no source


def cure(mix: Mixture, *, minutes: Interval, celsius: float, draws: Sampler) -> Outcome:
    """Salt or sugar on food without liquor: it draws water out, dissolves in it, and goes in as from a brine.

    Salt that lies on the food keeps what is on the surface saturated until it is gone, so it counts as a bath of
    saturated brine. Meat, fish, cheese and eggs lose water by the salt that goes in, vegetables and fruit as their
    cells are drawn. Parameters as of `soak`. Where the pot has liquor this is `soak`.
    """
    pot = sort_pot(mix)
    if pot.has_liquor or not pot.food.any():
        return soak(mix, minutes=minutes, celsius=celsius, draws=draws)
    hours = draws.draw(minutes) / 60.0
    loose = _loose(pot)
    food = pot.at(pot.food & ~loose)
    water = pot.water(pot.food & ~loose)
    salt = mix.held[:, loose, SALT] @ mix.weight[loose, SALT]
    sugar = mix.held[:, loose, SUGAR] @ mix.weight[loose, SUGAR]
    strength = ratio(salt + 0.15 * sugar, water)
    if not food or not float(strength[0]) > 0.0:
        return Outcome(mix, account=reckoned("no salt or sugar to draw water out", Ground.NO_LOSS))
    fraction = blank(draws.rows, len(mix.items))
    fraction[:, food, WATER] = _MOISTENED
    for at in food:
        if pot.kinds[at] in PLANTS:
            # Drawn water thins the salt that draws it: share = DRAWN × (strength / share), solved for the share.
            most = draws.draw(DRAWN, Cause.DRAWN_WATER, pot.kinds[at])
            drawn = np.sqrt(most * strength) * (1.0 - np.exp(-hours / 0.5))
            fraction[:, at, WATER] = np.clip(drawn, _MOISTENED, 1.0 / 3.0)
    juice, rest = move(mix, fraction, "dissolved")
    wet = together([rest, juice])
    pot = sort_pot(wet)
    bath = np.maximum(pot.water(pot.liquor), np.maximum(salt / SATURATED, sugar / _SATURATED_SUGAR))
    given = _given_for_salt(pot, draws.draw(minutes), celsius, draws, bath)
    moved = (np.zeros(draws.rows), given)
    outcome = soak(wet, minutes=minutes, celsius=celsius, draws=draws, moved=moved, bath=bath)
    out = juice.total_mass[0] + float((given[0] * wet.held[0, :, WATER] * wet.weight[:, WATER]).sum())
    of_salt = Account(f"salt draws {out:.0f} g of juice out", Ground.SALT_DRAWS)
    return Outcome(outcome.kept, account=(of_salt, *outcome.account))


def _loose(pot: Phases) -> Mask:
    """What lies on the food and dissolves or seasons: salt, sugar, powders, spices."""
    loose: Mask = np.array([kind in DISSOLVES or kind == "seasoning" for kind in pot.kinds], dtype=bool) & ~pot.absorbed
    return loose


def _given_for_salt(pot: Phases, time: Array, celsius: float, draws: Sampler, bath: Array) -> Array:
    """Share of its water that each item gives for the salt that goes into it; plants have been drawn already."""
    given = np.zeros((draws.rows, len(pot.mix.items)))
    places = [at for at in pot.at(pot.food) if pot.kinds[at] not in PLANTS]
    if not places:
        return given
    inward, _ = exchange(pot, time, celsius, draws, given=given, bath=bath)
    salt = (pot.mix.held[:, pot.liquor, SALT] @ pot.mix.weight[pot.liquor, SALT]) * inward[:, SALT]
    all_food = pot.water(pot.food)
    lost = draws.draw(_WATER_PER_SALT, Cause.WATER_FOR_SALT) * ratio(salt, all_food)
    given[:, places] = np.minimum(lost, 0.5)[:, None]
    return given


def is_salted(mix: Mixture) -> bool:
    """Whether salt, or sugar on fruit, lies on food that has no liquor around it: what standing makes a cure of."""
    pot = sort_pot(mix)
    loose = _loose(pot)
    food = pot.food & ~loose
    if pot.has_liquor or not food.any() or "flour" in pot.kinds:
        return False
    kinds = {pot.kinds[at] for at in pot.at(food)}
    if any(kind.endswith(" ground") for kind in kinds):
        return False  # mixed in: there is nothing that lies on it
    salt = float((mix.held[0, loose, SALT] * mix.weight[loose, SALT]).sum())
    sugar = float((mix.held[0, loose, SUGAR] * mix.weight[loose, SUGAR]).sum())
    enough = _SALTED * pot.best(food)
    return salt > enough or ("fruit" in kinds and sugar > 10.0 * enough)
