"""Measures that settle what a heap weighs."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from labeler.cooking.models.evaporation import (
    evaporate_to,
    lose_water,
)
from labeler.cooking.models.weights_stated import BRINGS_WATER, heavier
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.density import density, volume, water_density
from labeler.cooking.state.ledger import LedgerEntry, Stage, interval_of
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, blank, join
from labeler.cooking.state.phases import Off, Outcome, PartedPhases, sort_pot, together
from labeler.cooking.state.sampling import Cause
from labeler.flow.model import (
    FromNode,
    Node,
    Port,
    Settings,
)
from labeler.parsing.declared_servings import Count
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.model import Span
from labeler.types import Interval, Problem

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.steps.coating import bound
from labeler.cooking.steps.places import items_of_lines
from labeler.cooking.steps.watering import TAP_WATER

__all__ = ["cannot", "dry", "left", "lose", "make", "regain", "weigh", "weigh_heap"]


def regain(run: PartRun, mix: Mixture, missing: Array) -> Mixture:
    """A heap measured heavier than guessed boiling leaves it: that much of the guess has not boiled away."""
    missing = np.maximum(missing, 0.0)
    for one in reversed(run.done):
        drained = one.parted is PartedPhases.LIQUID and action(one.node.action).handler is Handler.DRAIN
        if not missing.any() or drained:
            break
        for at, entry in enumerate(one.streams):
            if entry.stream != "evaporated water" or not one.outcome.guessed:
                continue
            pool = entry.mix.total_mass
            share = np.clip(np.divide(missing, pool, out=np.zeros_like(pool), where=pool > 0.0), 0.0, 1.0)
            back, stays = entry.mix.split(share[:, None, None])
            one.streams[at] = replace(entry, mix=stays)
            one.outcome = replace(one.outcome, streams=tuple(stream for stream in one.streams))
            mix, missing = together([mix, back]), missing - back.total_mass
    return mix


def cannot(before: Mixture, kept: Mixture, short: Array) -> tuple[Problem, ...]:
    """A problem where a measured weight cannot be reached by water alone.

    Parameters
    ----------
    before, kept : Mixture
        What went in, and what is left of it.
    short : array (draws,)
        Grams missing to the goal; negative where it cannot be reached [g].
    """
    if float(short[0]) > -0.5:
        return ()
    return (
        Problem(
            "lighter-than-dry",
            f"of the {before.total_mass[0]:.0f} g that went in, {kept.total_mass[0]:.0f} g are not water, so it cannot "
            "weigh that little. Check the weight, or say what was poured off or discarded.",
        ),
    )


def weigh(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """A measured weight, or a volume, settles what the heap weighs: the difference is water."""
    settings = node.settings
    if settings.grams is None and settings.millilitres is None:
        return Outcome(mix)
    if settings.grams is None:
        return _measure_volume(run, node, mix)
    weight = settings.grams
    run.measured = weight
    goal = run.draws.draw(weight)
    returned = _from_poured(run, node, mix, goal)
    if returned is not None:
        return returned
    mix = regain(run, mix, goal - mix.total_mass)
    if float(goal[0]) > _ROUNDED * float(mix.total_mass[0]) and not _may_hold_water(run):
        return Outcome(mix, problems=(heavier(mix, float(goal[0])),))
    kept, water, short = evaporate_to(mix, goal)
    gained = np.maximum(short, 0.0)
    added: tuple[LedgerEntry, ...] = ()
    if float(gained[0]) > 1e-6 and mix.items:
        item = Item(run.flow.title, node.span.line, "water taken up", TAP_WATER, origin=Origin.WATER_TAKEN_UP)
        added = (LedgerEntry("added", mix_of_foods([item], gained[:, None]), "water taken up"),)
        kept = join([kept, added[0].mix])
    account = Account(f"measured: {weight.best:.4g} g; the difference is water", Ground.MEASURED)
    return Outcome(
        kept, (LedgerEntry("evaporated water", water.present()),), (account,), cannot(mix, kept, short), added
    )


def _may_hold_water(run: PartRun) -> bool:
    """Whether food may have taken up water that no line lists: it was boiled, steamed, soaked or rinsed."""
    rows = [action(one.node.action) for one in run.done]
    return not rows or any(row.heat in BRINGS_WATER or row.handler in _WETS for row in rows)


_ROUNDED = 1.005  # of what is there, up to which a stated weight is the same
_WETS = frozenset((Handler.LIE, Handler.RINSE, Handler.DRAIN, Handler.THIN))


def _measure_volume(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    measured = node.settings.millilitres
    assert measured is not None
    goal = run.draws.draw(measured)
    mix = regain(run, mix, (goal - volume(mix)) * float(water_density(20.0)) / 1000.0)
    room = volume(mix)
    if float(goal[0]) > 1.02 * float(room[0]):
        problem = Problem(
            "volume-not-filled",
            f"the ingredients fill {float(room[0]):.4g} mL, so {float(goal[0]):.4g} mL hold air or water that no line "
            "has, and the volume is not used. Weigh the batch and write “> weighs 1.2 kg” under its part.",
        )
        return Outcome(mix, problems=(problem,))
    lost = np.maximum(room - goal, 0.0) * float(water_density(20.0)) / 1000.0
    kept, water, short = evaporate_to(mix, mix.total_mass - lost)
    if problems := cannot(mix, kept, short):
        return Outcome(mix, problems=problems)
    run.measured = interval_of(kept.total_mass, "by volume")
    account = Account(f"measured: {measured.best:.4g} mL; the difference is water", Ground.MEASURED)
    return Outcome(kept, (LedgerEntry("evaporated water", water.present()),), (account,))


def _from_poured(run: PartRun, node: Node, mix: Mixture, goal: Array) -> Outcome | None:
    """After draining, a weight says how much liquid went in or clings: settle it with what was poured off."""
    if not run.done or not any(item.phase in ("absorbed", "clinging") for item in mix.items):
        return None
    at = next((one for one in range(len(run.done) - 1, -1, -1) if run.done[one].parted is PartedPhases.LIQUID), None)
    since = run.done[(at or 0) + 1 :]
    if at is None or any(action(one.node.action).handler not in (Handler.PAT, Handler.RINSE) for one in since):
        return None
    store = run.stores.get(FromNode(at, Port.OFF))
    if store is None or not bool(np.any(store.left > 1e-9)):
        return None
    store.mix, store.left = store.mix.scaled(store.left), np.ones(run.draws.rows)
    missing = goal - mix.total_mass
    pool = store.mix.total_mass
    share = np.clip(np.divide(missing, pool, out=np.zeros_like(pool), where=pool > 0.0), 0.0, 1.0)
    back, stays = store.mix.split(share[:, None, None])
    back = back.renamed([replace(item, phase="absorbed") for item in back.items])
    pot = sort_pot(mix)
    held = pot.mass_of(pot.absorbed)
    less = np.clip(np.divide(-missing, held, out=np.zeros_like(held), where=held > 0.0), 0.0, 1.0)
    out, kept = mix.split(np.where(pot.absorbed[None, :, None], less[:, None, None], 0.0))
    out = out.renamed([replace(item, phase="") for item in out.items]).present()
    store.mix = together([stays, out]) if out.items else stays
    kept, water = lose_water(together([kept, back]), kept.total_mass + back.total_mass - goal)
    streams = (LedgerEntry("evaporated water", water),) if water.items else ()
    return Outcome(
        kept, streams, reckoned("measured: what it weighs more than the food is liquid it took up", Ground.MEASURED)
    )


def lose(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Lose a stated share or weight, all of it water; nothing where neither is stated."""
    share, grams = node.settings.share, node.settings.grams
    if share is None and grams is None:
        return Outcome(mix)
    total = mix.total_mass
    goal = total * run.draws.draw(share) if share is not None else total - run.draws.draw(grams or Interval(0, 0, 0))
    kept, water, short = evaporate_to(mix, goal)
    return Outcome(
        kept,
        (LedgerEntry("evaporated water", water.present()),),
        reckoned("loss as stated, all of it water", Ground.STATED),
        cannot(mix, kept, short),
    )


def left(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """What is left of fat, liquid or a coating, as measured, does not go on."""
    settings = node.settings
    places = items_of_lines(mix, run, node.coats) if node.coats else []
    pot = sort_pot(mix)
    if not places:
        places = pot.at(pot.fat) if pot.has_fat_bath or not pot.liquor.any() else pot.at(pot.liquor)
    if not places:
        return Outcome(mix)
    some = mix.select(places)
    total = some.total_mass
    if settings.grams is not None:
        goal = run.draws.draw(settings.grams)
    elif settings.millilitres is not None:
        goal = run.draws.draw(settings.millilitres) * np.nan_to_num(density(some))
    else:
        return Outcome(mix)
    share = np.clip(np.divide(goal, total, out=np.zeros_like(total), where=total > 0.0), 0.0, 1.0)
    fraction = blank(run.draws.rows, len(mix.items))
    fraction[:, places] = share[:, None, None]
    lost, kept = mix.split(fraction)
    gone = set(places)
    kept = kept.renamed(
        [
            replace(item, phase="absorbed") if at in gone and not item.phase else item
            for at, item in enumerate(kept.items)
        ]
    )
    return Outcome(
        kept,
        account=reckoned("measured: what is left", Ground.MEASURED),
        off=(Off(PartedPhases.COAT if node.coats else PartedPhases.BATH, lost.present()),),
    )


def dry(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Dry to a weight or share, else to what dried food usually holds."""
    settings = node.settings
    if settings.grams is not None:
        return weigh(run, node, mix)
    if settings.share is not None:
        return lose(run, node, mix)
    if settings.minutes is None and settings.celsius is None:
        return Outcome(mix)
    pot = sort_pot(mix)
    solid = mix.total_mass - pot.water(np.ones(len(mix.items), dtype=bool))
    kept, water, _ = evaporate_to(mix, solid / (1.0 - run.draws.draw(Interval(0.18, 0.08, 0.3), Cause.DRIED)))
    return Outcome(
        kept,
        (LedgerEntry("evaporated water", water.present()),),
        reckoned("dried to 18 % (8–30) water, common practice", Ground.USUAL),
    )


def make(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Make pieces: their number is kept for whoever takes some of them; a weight or volume settles the whole."""
    pieces = node.settings.pieces
    if pieces is not None and pieces.best > 0.0:
        run.pieces = Count(pieces.best, node.settings.piece)
    outcome = weigh(run, node, mix)
    return (
        replace(outcome, kept=bound(outcome.kept))
        if node.settings.grams is None and node.settings.millilitres is None
        else outcome
    )


def weigh_heap(
    run: PartRun, *, grams: Interval | None, millilitres: Interval | None, text: str, line: int
) -> list[Stage]:
    """Let a measure settle what a part weighs when everything is done; the stages that it adds."""
    node = Node("weigh", (), Settings(grams=grams, millilitres=millilitres), text=text, span=Span(line))
    before = run.kept
    outcome = weigh(run, node, before)
    run.kept = outcome.kept
    run.added += outcome.added
    run.problems += [replace(one, line=line) if one.line is None else one for one in outcome.problems]
    streams = tuple(entry for entry in outcome.streams if entry.mix.items)
    return (
        [Stage(text, line, outcome.account, streams, interval_of(run.kept.total_mass), "weigh")]
        if outcome.kept is not before
        else []
    )
