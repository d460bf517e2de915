"""R11: what a line says was done to its food before it enters: soaked, rinsed, cooked with stated retention."""

from __future__ import annotations

from labeler.cooking.models.immersion import soak
from labeler.cooking.models.retention_factors import retain
from labeler.cooking.models.separation import drain, rinse
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import LedgerEntry, Stage, interval_of
from labeler.cooking.state.mixture import Item, Mixture, Origin, join
from labeler.cooking.state.reckoning import Account, Ground
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.food_class import WATER_TAKERS, is_raw, kind_of
from labeler.foods.model import WeighedLine
from labeler.parsing.model import LineState
from labeler.types import Interval

__all__ = ["prepared"]

_PINNED = Account("retention as stated in the lines", Ground.MEASURED)
_SOAKING_TIME = Interval(720.0, 480.0, 1440.0, "soaked overnight: common practice, no source")
_SOAKING_WATER = Interval(3.0, 2.0, 5.0, "soaking water per weight of food: common practice, no source")


def _soaked(draws: Sampler, one: WeighedLine, mix: Mixture, ready: list[Stage], added: list[LedgerEntry]) -> Mixture:
    """Dry pulses or grain that the line says were soaked: what they took up, without the water they lay in."""
    item = Item(mix.items[0].part, one.line.number, "soaking water", "14411", origin=Origin.POT_WATER)
    grams = mix.total_mass * draws.draw(_SOAKING_WATER, Cause.POT_WATER)
    bath = LedgerEntry("added", mix_of_foods([item], grams[:, None]), "soaking water, not listed")
    added.append(bath)
    lain = soak(join([mix, bath.mix]), minutes=_SOAKING_TIME, celsius=20.0, draws=draws)
    drained = drain(lain.kept, draws=draws)
    streams = tuple(LedgerEntry("poured off", off.mix) for off in drained.off if off.mix.items)
    ready.append(Stage(one.line.text, one.line.number, lain.account, streams, interval_of(drained.kept.total_mass)))
    return drained.kept


def prepared(
    draws: Sampler,
    one: WeighedLine,
    mix: Mixture,
    codes: tuple[str, ...],
    ready: list[Stage],
    added: list[LedgerEntry],
) -> Mixture:
    """A food as it enters its part.

    Parameters
    ----------
    draws : Sampler
    one : WeighedLine
    mix : Mixture
        The food as weighed.
    codes : tuple of str
        USDA retention codes that the line states.
    ready, added : list
        Take what was done to it, and what came to it.
    """
    if codes:
        mix, destroyed = retain(mix, {0: codes})
        lost = LedgerEntry("destroyed by heat", destroyed.present())
        ready.append(Stage("{retention}", one.line.number, (_PINNED,), (lost,), interval_of(mix.total_mass)))
    item = mix.items[0]
    outcome = None
    if LineState.SOAKED in one.line.states and kind_of(item.food) in WATER_TAKERS and is_raw(item.food):
        mix = _soaked(draws, one, mix, ready, added)
    if item.facts.rinsed:
        outcome = rinse(mix, minutes=None, draws=draws)
    if outcome is not None:
        streams = tuple(LedgerEntry("poured off", off.mix) for off in outcome.off if off.mix.present().items)
        ready.append(
            Stage(one.line.text, one.line.number, outcome.account, streams, interval_of(outcome.kept.total_mass))
        )
        mix = outcome.kept
    return mix
