"""The skin of birds that is thrown away, from the table's twin entries: the same bird and cut with skin and without.

SR28 states how much of a cut is bone, and for the entry of the meat alone how much of it is skin and the fat that comes
off with it. What that weighs and holds is the difference of the two entries. A cooked bird is compared with the cooked
twins, because much of the fat under the skin has run out by then.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

import numpy as np

from labeler.cooking.models.yield_factors import cooked_entries
from labeler.cooking.state.constituents import food_constituents
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import CONSTITUENTS, Array, Item, Mixture, blank, join
from labeler.cooking.state.phases import WATER, Off, Outcome, PartedPhases, sort_pot, together
from labeler.cooking.state.reckoning import Account, Ground
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import FLESH, MeatOnly, is_raw, kind_of, meat_only, with_skin
from labeler.types import Interval, Problem

__all__ = ["take_skin"]

_SPREAD = Interval(1.0, 0.7, 1.3)  # of how much skin a bird has, and how clean it comes off: common practice, no source


def take_skin(mix: Mixture, places: Collection[int], *, draws: Sampler) -> Outcome | None:
    """Take the skin off the birds of a pot.

    Parameters
    ----------
    mix : Mixture
    places : collection of int
        Which birds; where none of them counts a skin, all that do.
    draws : Sampler

    Returns
    -------
    Outcome or None
        None where no entry in the pot counts a skin; a problem "skin-counted" for each whose skin cannot be told.
    """
    pot = sort_pot(mix)
    skins = [at for at in pot.at(pot.flesh) if _has_skin(mix.items[at])]
    skins = [at for at in skins if at in places] or skins
    if not skins:
        return None
    taken, problems, account = [], [], []
    differences: list[Mixture] = []
    for at in skins:
        item = mix.items[at]
        twin = _twin_of(item)
        if twin is None:
            message = (
                f"the figures of “{item.name}” are of “{load_table().describe(str(item.food))}”, and the table does "
                "not say how much of that is skin, so the skin is still counted. Pin an entry without skin in its "
                "line, as {food ...}."
            )
            problems.append(Problem("skin-counted", message))
            continue
        counted, meat = twin
        gone = (1.0 - meat.share) * draws.draw(_SPREAD, Cause.SKIN)
        mix, skin, difference = _without(mix, at, counted, meat, np.clip(gone, 0.0, 0.9))
        taken.append(skin)
        differences += difference
        text = f"skin and the fat on it are {1.0 - meat.share:.0%} of {item.name}, SR28 {counted} and {meat.food}"
        account.append(Account(text, Ground.PUBLISHED))
    streams = (LedgerEntry("difference of table entries", join(differences)),) if differences else ()
    off = (Off(PartedPhases.PIECES, together(taken).present()),) if taken else ()
    return Outcome(mix, streams, tuple(account), tuple(problems), off=off)


def _has_skin(item: Item) -> bool:
    return item.food is not None and item.own is None and kind_of(item.food) in FLESH and with_skin(item.food)


def _twin_of(item: Item) -> tuple[str, MeatOnly] | None:
    """The entry with skin that stands for an item as it is now, and its twin; the raw ones where no cooked are."""
    food = str(item.food)
    found = [entry for entry in cooked_entries(food) if item.cooked] if is_raw(food) else []
    found.sort(key=lambda entry: entry[1] != item.cooked)
    if not item.cooked:
        found = [(food, ""), *cooked_entries(food)]
    for entry in [*(entry for entry, _ in found), food]:
        twin = meat_only(entry)
        if twin is not None:
            return entry, twin
    return None


def _without(mix: Mixture, at: int, entry: str, meat: MeatOnly, gone: Array) -> tuple[Mixture, Mixture, list[Mixture]]:
    """An item without its skin: what stays, the skin with what it has taken up, and what the entries differ by.

    Of each constituent there stays what the meat alone has of it. A raw item becomes the meat entry, so that it cooks
    as that.
    """
    item = mix.items[at]
    before, after = food_constituents(entry)[0], food_constituents(meat.food)[0]
    stays = np.ones((len(gone), len(CONSTITUENTS)))
    full = before > 0.0
    stays[:, full] = np.clip((1.0 - gone)[:, None] * after[full] / before[full], 0.0, 1.0)
    fraction = blank(len(gone), len(mix.items))
    fraction[:, at] = 1.0 - stays
    pot = sort_pot(mix)
    lost = (1.0 - stays[:, WATER]) * mix.held[:, at, WATER] * mix.weight[at, WATER]
    water = pot.water(pot.food)
    share = np.divide(lost, water, out=np.zeros_like(lost), where=water > 0.0)
    fraction[:, pot.absorbed] = np.minimum(share, 1.0)[:, None, None]
    skin, kept = mix.split(fraction)
    if item.cooked or entry != item.food:
        return kept, skin, []
    weight, composition, status = food_constituents(meat.food)
    one = kept.select([at])
    grams = one.held[:, 0] * one.weight[0]
    held = np.divide(grams, weight, out=np.zeros_like(grams), where=weight > 0.0)
    spare = grams[:, weight <= 0.0].sum(axis=1)
    held[:, WATER] += spare / weight[WATER]
    bare = Mixture(
        (replace(item, food=meat.food),),
        blank(len(gone), 1),
        weight[None, :],
        composition[None, :, :],
        status[None, :],
    )
    bare.held[:, 0] = held
    order = [place for place in range(len(mix.items)) if place != at]
    parts = [one, replace(bare, held=-bare.held)]
    weightless = [replace(part, weight=np.zeros_like(part.weight)) for part in parts]
    joined = join([kept.select(order[:at]), bare, kept.select(order[at:])])
    return joined, skin, weightless
