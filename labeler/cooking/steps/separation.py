"""What parts phases: drain, rinse, squeeze, wipe, strain, skim, lift, ladle; nothing of it decides that food leaves."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from labeler.cooking.models.dry_salting import is_salted
from labeler.cooking.models.poultry_skin import take_skin
from labeler.cooking.models.separation import (
    discard_items,
    drain,
    drain_can,
    film_share,
    pat,
    pour_fat,
    rinse,
    squeeze,
    strain,
)
from labeler.cooking.models.stock_extraction import stock_extract
from labeler.cooking.state.density import density
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Mixture, blank, empty, join
from labeler.cooking.state.phases import Mask, Off, Outcome, PartedPhases, move, sort_pot, together
from labeler.cooking.state.sampling import Cause
from labeler.flow.model import (
    Node,
)
from labeler.foods.food_class import LIQUOR, is_dairy, is_whole_can, kind_of
from labeler.parsing.ingredient.cut import CutStyle
from labeler.parsing.instructions.actions import Trait, has
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun
from labeler.cooking.state.reckoning import Ground, reckoned
from labeler.cooking.steps.coating import bound
from labeler.cooking.steps.places import items_of_lines

__all__ = ["do_drain", "do_pat", "do_rinse", "do_squeeze", "do_strain", "ladle", "lift", "skim", "skin", "whey"]


def _frying_fat(mix: Mixture) -> Mask | None:
    """What lies around fried food: the fat, and what has dripped into it; None where nothing is fried.

    Fried food clings to no more fat than it has taken up. What it is seasoned with dissolves in no fat: it stays on it.
    """
    pot = sort_pot(mix)
    fried = any(item.phase == "absorbed" and kind_of(item.food) == "fat" for item in mix.items)
    if not fried or not pot.fat.any():
        return None
    dripped = np.array([item.phase == "dissolved" for item in mix.items], dtype=bool)
    wet = np.array([kind in LIQUOR and not item.phase for item, kind in zip(mix.items, pot.kinds, strict=True)])
    return pot.fat if wet.any() else pot.fat | dripped


def do_drain(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Pour off the liquid, frying fat for itself, and the liquid of whole cans with it."""
    fat = _frying_fat(mix)
    food = mix if fat is None else mix.select(sort_pot(mix).at(~fat))
    dry = fat is not None and not any(kind_of(item.food) in LIQUOR and not item.phase for item in food.items)
    outcome = drain(food, draws=run.draws) if food.items and not dry else Outcome(food)
    outcome = _cans_drained(run, outcome)
    off = list(outcome.off)
    if fat is not None:
        off.insert(0, Off(PartedPhases.BATH, mix.select(sort_pot(mix).at(fat)).present()))
    return replace(outcome, off=tuple(off))


def _cans_drained(run: PartRun, outcome: Outcome) -> Outcome:
    """An outcome from which the liquid of whole cans has run off, as it does in a sieve."""
    off = list(outcome.off)
    for at, item in enumerate(outcome.kept.items):
        if is_whole_can(item.food) and not item.phase and not item.facts.drained:
            outcome = drain_can(outcome.kept, at, draws=run.draws)
            off += outcome.off
    return replace(outcome, off=tuple(off))


def do_rinse(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Rinse as often as the words say: the liquid of whole cans first, then what water washes off."""
    marks = node.settings.marks
    times = 3 if Mark.SEVERAL_TIMES in marks else 2 if Mark.TWICE in marks else 1
    without_liquid = _cans_drained(run, Outcome(mix))
    rinsed = rinse(without_liquid.kept, minutes=node.settings.minutes, draws=run.draws, times=times)
    return replace(rinsed, off=(*without_liquid.off, *rinsed.off), account=(*without_liquid.account, *rinsed.account))


def do_squeeze(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Squeeze out a share of the water: what is stated, else what is usual."""
    return squeeze(mix, draws=run.draws, share=node.settings.share)


def do_pat(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Wipe dry: what lies loose on cured or wet food goes, and most of what clings."""
    pot = sort_pot(mix)
    if pot.food.any() and (pot.liquor.any() or is_salted(mix)) and run.done:
        first = drain(mix, draws=run.draws)
        wiped = pat(first.kept, draws=run.draws)
        return replace(wiped, off=(*first.off, *wiped.off))
    return pat(mix, draws=run.draws)


def do_strain(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Strain: the liquid goes on, the solids are parted; of a purée a share of the pulp goes through."""
    share = node.settings.share
    if share is not None:
        pot = sort_pot(mix)
        fraction = blank(run.draws.rows, len(mix.items))
        through = run.draws.draw(share, most=1.0)
        fraction[:, pot.food] = (1.0 - through)[:, None, None]
        fraction[:, :, 0] *= 0.7  # pulp that is pressed is drier than what went through: common practice, no source
        held, kept = mix.split(fraction)
        return Outcome(
            kept,
            account=reckoned("part of the pulp is pressed through"),
            off=(Off(PartedPhases.SOLIDS, held.present()),),
        )
    passing = items_of_lines(mix, run, node.selects)
    return _with_extract(run, node, mix, strain(mix, draws=run.draws, through=passing))


def _with_extract(run: PartRun, node: Node, before: Mixture, outcome: Outcome) -> Outcome:
    """Add to a liquor what the bones and the meat that leave it have given, and say that it is a guess."""
    gone = [one.mix for one in outcome.off if one.mix.items]
    if not gone or not outcome.kept.items:
        return outcome
    simmered = any(has(item.cooked, Trait.IN_LIQUID) for item in before.items)
    found = stock_extract(before, join(gone), simmered=simmered, part=run.flow.title, draws=run.draws)
    if found is None:
        return outcome
    entry = LedgerEntry("added", found.mix, "given by bones and meat, from stocks of the table")
    return replace(
        outcome,
        kept=join([outcome.kept, found.mix]),
        added=(*outcome.added, entry),
        problems=(*outcome.problems, found.problem),
    )


def skim(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Take the free fat off, all but a stated weight."""
    return pour_fat(mix, draws=run.draws, left=node.settings.grams)


def lift(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Lift some foods out of what is around them: a film of it clings, what they took up is theirs."""
    places = items_of_lines(mix, run, node.selects)
    if not places:
        return Outcome(empty(run.draws.rows), off=(Off(PartedPhases.LIQUID, mix),))
    first = discard_items(mix, places)
    lifted, rest = first.off_mix or empty(run.draws.rows), first.kept
    fat = _frying_fat(join([rest, lifted])) if rest.items else None
    pot = sort_pot(rest)
    loose = pot.liquor | (pot.fat if fat is None else np.zeros(len(rest.items), dtype=bool))
    if pot.liquor.any():
        loose = loose | _fine(rest)
    if loose.any() and lifted.items:
        share = film_share(sort_pot(lifted), pot.mass_of(loose), draws=run.draws)
        fraction = blank(run.draws.rows, len(rest.items))
        fraction[:, loose] = share[:, None, None]
        film, rest = move(rest, fraction, "clinging")
        lifted = together([lifted, film])
    outcome = Outcome(
        lifted,
        account=reckoned("what is lifted out takes along what it has taken up and what clings to it"),
        off=(Off(PartedPhases.LIQUID, rest),) if rest.items else (),
    )
    if rest.items and sort_pot(rest).liquor.any():
        extract = (
            stock_extract(
                mix,
                lifted,
                simmered=any(has(item.cooked, Trait.IN_LIQUID) for item in mix.items),
                part=run.flow.title,
                draws=run.draws,
            )
            if _bony(lifted)
            else None
        )
        if extract is not None:
            entry = LedgerEntry("added", extract.mix, "given by bones and meat, from stocks of the table")
            outcome = replace(
                outcome,
                off=(Off(PartedPhases.LIQUID, join([rest, extract.mix])),),
                added=(entry,),
                problems=(extract.problem,),
            )
    return outcome


_FINE = frozenset({CutStyle.GRATED, CutStyle.MINCED, CutStyle.FINELY_CHOPPED})


def _fine(mix: Mixture) -> Mask:
    """What is cut so fine that it clings to what is lifted out as the liquid does that it is in: crushed garlic."""
    return np.array([not item.phase and bool(item.facts.cut.styles & _FINE) for item in mix.items], dtype=bool)


def _bony(mix: Mixture) -> bool:
    return any(item.facts.bones for item in mix.items)


def ladle(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Take so much of the liquid out."""
    pot = sort_pot(mix)
    loose = pot.liquor | pot.fat
    if not loose.any():
        return Outcome(mix)
    liquid = mix.select(pot.at(loose))
    total = liquid.total_mass
    settings = node.settings
    if settings.share is not None:
        share = run.draws.draw(settings.share, most=1.0)
    else:
        goal = (
            run.draws.draw(settings.grams)
            if settings.grams is not None
            else run.draws.draw(settings.millilitres or Interval(0, 0, 0)) * np.nan_to_num(density(liquid))
        )
        share = np.clip(np.divide(goal, total, out=np.zeros_like(total), where=total > 0.0), 0.0, 1.0)
    fraction = blank(run.draws.rows, len(mix.items))
    fraction[:, loose] = share[:, None, None]
    taken, rest = mix.split(fraction)
    return Outcome(
        rest, account=reckoned("so much of the liquid is taken out"), off=(Off(PartedPhases.LIQUID, taken.present()),)
    )


def skin(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Take the skin off birds; nothing where no entry of the table counts one."""
    return take_skin(mix, items_of_lines(mix, run, node.selects), draws=run.draws) or Outcome(mix)


_WHEY = Interval(0.55, 0.4, 0.65)  # of the water that hung yogurt or curd gives: common practice, no source
_CURD_HOLDS = Interval(2.2, 1.4, 3.0)  # g of water per g of fat and protein of drained curd: fresh cheeses of SR28


def whey(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Let whey run off: water, and what is dissolved in it. The curd of milk holds water by its fat and protein."""
    if Mark.CURDLED in node.settings.marks:
        holds = run.draws.draw(_CURD_HOLDS, Cause.WHEY)
        water = np.maximum(mix.constituent("water"), 1e-9).sum(axis=1)
        curd = (mix.constituent("fat") + mix.constituent("solids")).sum(axis=1)
        share = np.clip(1.0 - holds * curd / water, 0.0, 0.95)
    else:
        share = run.draws.draw(_WHEY, Cause.WHEY, most=0.9)
    fraction = blank(run.draws.rows, len(mix.items))
    for place in (0, 3, 4, 5):
        fraction[:, :, place] = share[:, None]
    thin = [kind_of(item.food) in LIQUOR and not is_dairy(item.food) for item in mix.items]  # lemon juice, no milk
    fraction[:, np.array(thin, dtype=bool)] = share[:, None, None]
    whey, kept = mix.split(fraction)
    return Outcome(
        bound(kept),
        account=reckoned("whey runs off; how much is common practice", Ground.USUAL),
        off=(Off(PartedPhases.LIQUID, whey.present()),),
    )
