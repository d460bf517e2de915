"""The skin of birds that is thrown away, from the table's twin entries: the same bird and cut with skin and without.

SR28 states how much of a cut is bone, and for the entry of the meat alone how much of it is skin and the fat that comes
off with it. What that weighs and holds is the difference of the two entries. A cooked bird is compared with the cooked
twins, because much of the fat under the skin has run out by then.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from labeler.cooking.models.yield_factors import cooked_entries
from labeler.cooking.state.constituents import food_constituents
from labeler.cooking.state.food_class import FLESH, is_raw, kind_of
from labeler.cooking.state.ledger import Entry
from labeler.cooking.state.mixture import CONSTITUENTS, Array, Item, Mixture, blank, join
from labeler.cooking.state.phases import WATER, Outcome, named_items, sort_pot, together
from labeler.cooking.state.sampling import Sampler
from labeler.foods.table import load_table
from labeler.knowledge import Interval, Problem

__all__ = ["is_about_skin", "take_skin"]

_WITH = re.compile(r"\b(?:meat and skin|with skin|skin eaten)\b", re.IGNORECASE)
_WORD = re.compile(r"[a-z]+")
# What one entry of a pair may say and the other not: the broilers of one are the broiler of the other.
_SKIN_WORDS = frozenset("meat and skin only giblets cooked boneless skinless from whole retail parts".split())
_MORE_WORDS = _SKIN_WORDS | {"dark", "light"}
_FIGURE = r"(\d+(?:\.\d+)?)\s*%"
_PEEL = re.compile(rf"{_FIGURE} (?:skin|sepe?a?rable fat)|(?:skin|fat)[^,%]*?{_FIGURE}", re.IGNORECASE)
_SPREAD = Interval(1.0, 0.7, 1.3)  # of how much skin a bird has, and how clean it comes off: common practice, no source


@dataclass(frozen=True, slots=True)
class _Twin:
    """The entry of the meat alone, and the share of the weight with skin that it is."""

    food: str
    share: float


def is_about_skin(names: Sequence[str]) -> bool:
    """Whether a step names the skin of something."""
    return any(set(_WORD.findall(name.lower())) & {"skin", "skins"} for name in names)


def take_skin(mix: Mixture, names: Sequence[str], *, text: str, line: int, draws: Sampler) -> Outcome | None:
    """Take the skin off the birds of a pot, all or those that are named ("the duck skin").

    Parameters
    ----------
    mix : Mixture
    names : sequence of str
        The objects of the step.
    text, line : str, int
        The step, for its problems.
    draws : Sampler

    Returns
    -------
    Outcome or None
        None where no entry in the pot counts a skin; a problem "skin-counted" for each whose skin cannot be told.
    """
    bare = [re.sub(r"\bskins?\b|\bcrackling\b", "", name, flags=re.IGNORECASE).strip() for name in names]
    named = named_items(mix, [name for name in bare if name])
    pot = sort_pot(mix)
    skins = [at for at in pot.at(pot.flesh) if _has_skin(mix.items[at])]
    skins = [at for at in skins if at in named] or skins
    if not skins:
        return None
    table, streams, problems, told = load_table(), [], [], []
    differences: list[Mixture] = []
    for at in skins:
        item = mix.items[at]
        twin = _twin_of(item)
        if twin is None:
            described = table.describe(str(item.food))
            message = (
                f"“{text}”: the figures of “{item.name}” are of “{described}”, and the table does not say how much of "
                "that is skin, so the skin is still counted. Pin an entry without skin in its line, as {food ...}."
            )
            problems.append(Problem("skin-counted", message, line))
            continue
        with_skin, meat = twin
        gone = (1.0 - meat.share) * draws.draw(_SPREAD, "skin")
        mix, skin, difference = _without(mix, at, with_skin, meat, np.clip(gone, 0.0, 0.9))
        streams.append(skin)
        differences += difference
        told.append(
            f"skin and the fat on it are {1.0 - meat.share:.0%} of {item.name}, SR28 {with_skin} and {meat.food}"
        )
    entries = [Entry("discarded", together(streams).present())] if streams else []
    if differences:
        entries.append(Entry("difference of table entries", join(differences)))
    return Outcome(mix, tuple(entries), "; ".join(told), tuple(problems))


def _has_skin(item: Item) -> bool:
    if item.food is None or item.own is not None or kind_of(item.food) not in FLESH:
        return False
    return _WITH.search(load_table().describe(item.food)) is not None


def _twin_of(item: Item) -> tuple[str, _Twin] | None:
    """The entry with skin that stands for an item as it is now, and its twin; the raw ones where no cooked are."""
    food = str(item.food)
    found = [entry for entry in cooked_entries(food) if item.cooked] if is_raw(food) else []
    ways = item.cooked.partition(",")[0]
    found.sort(key=lambda entry: entry[1] != ways)
    if not item.cooked:
        found = [(food, ""), *cooked_entries(food)]
    for entry in [*(entry for entry, _ in found), food]:
        twin = _twin(entry)
        if twin is not None:
            return entry, twin
    return None


@cache
def _twin(food: str) -> _Twin | None:
    """The entry of the same bird and cut, meat only, by the words of the descriptions."""
    table = load_table()
    own = _words(table.describe(food))
    group = table.group_codes[table.position[food]]
    best: tuple[int, str] | None = None
    for row in np.flatnonzero(table.group_codes == group):
        other = _words(table.descriptions[row])
        if "only" not in other or own - other - _SKIN_WORDS or other - own - _MORE_WORDS or "skin" in other:
            continue
        rank = len(other ^ own)
        if (best is None or rank < best[0]) and _share(table.ids[row], food) is not None:
            best = rank, table.ids[row]
    if best is None:
        return None
    share = _share(best[1], food)
    return _Twin(best[1], share) if share is not None else None


def _words(description: str) -> frozenset[str]:
    return frozenset(
        word.removesuffix("s") if word.startswith(("broiler", "fryer")) else word
        for word in _WORD.findall(description.lower())
    )


def _share(meat: str, whole: str) -> float | None:
    """Meat in the weight of meat and skin, from what the table says is skin and what is refuse; None if it does not."""
    table = load_table()
    row, own = table.position[meat], table.position[whole]
    left = 100.0 - float(table.refuse_percent[row])
    peel = sum(float(hit[1] or hit[2]) for hit in _PEEL.finditer(table.refuse_descriptions[row]))
    edible = left + peel if peel else 100.0 - float(table.refuse_percent[own])
    share = left / edible if edible > 0.0 else 1.0
    return share if 0.4 < share < 0.98 else None


def _without(mix: Mixture, at: int, entry: str, meat: _Twin, gone: Array) -> tuple[Mixture, Mixture, list[Mixture]]:
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
