"""Steps that take something out of the pot: pour off, drain, wipe, rinse, squeeze, strain, skim, discard, lift, keep.

Whatever a cook calls the liquid ("discard the milk", "pour off the oil", "lift out of the brine"), pouring it off is
one act: what food has taken up is the food's, a film clings to it, and the rest of the liquid goes.
"""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np

from labeler.cooking.adapter import addressed, left, strained, with_extract
from labeler.cooking.models.moist_heat import WET
from labeler.cooking.models.poultry_skin import take_skin
from labeler.cooking.models.separation import SKIMMED, discard_items, drain, drain_can, pat, pour_fat, rinse, squeeze
from labeler.cooking.naming import is_about_skin, named_items, skinned_items
from labeler.cooking.state.density import density
from labeler.cooking.state.ledger import Entry
from labeler.cooking.state.mixture import Array, Item, Mixture, blank
from labeler.cooking.state.phases import FAT, Outcome, Phases, sort_pot
from labeler.cooking.state.sampling import Cause
from labeler.cooking.tasks import Task
from labeler.cooking.work import Work
from labeler.foods.food_class import DISSOLVES, LIQUOR, WATER_TAKERS, is_whole_can, kind_of
from labeler.foods.words import read_name, words
from labeler.knowledge import Interval, Problem
from labeler.parsing.handling import Step

__all__ = ["do_discard", "do_drain", "do_keep", "do_lift", "do_pat", "do_rinse", "do_skim", "do_squeeze", "do_strain"]

_CLINGS = Interval(0.08, 0.03, 0.2)  # of a dry coating per weight of food: common practice, no source
_OFTEN = tuple(
    (re.compile(rf"\b(?:{words})\b", re.IGNORECASE), count)
    for words, count in (("twice|two times|again", 2), ("three times|several times|3 times|thoroughly|very well", 3))
)
_USE_LIQUOR = frozenset(
    ("reduce", "strain", "keep", "skim", "catch", "drain", "discard", "heat", "weigh", "make", "left", "stand")
)
_POT_WORDS = frozenset(
    words("return back pot pan broth stock liquor liquid juices soup stew gravy syrup sauce water everything")
)
_GONE = frozenset(words("bones shells skin peel rind stones pips seeds stalks stems cores carcass trimmings"))
_LIQUIDS = LIQUOR | DISSOLVES | {"fat"}


def _mostly_fat(pot: Phases) -> bool:
    """Whether more than half of what is loose in the pot is fat: the pan after mince was browned."""
    loose = pot.best(pot.fat | pot.liquor)
    fat = pot.best(pot.fat) + float((pot.mix.held[0, pot.liquor, FAT] * pot.mix.weight[pot.liquor, FAT]).sum())
    return loose > 0.0 and fat > 0.5 * loose


def _pour_off(work: Work, mix: Mixture, step: Step, *, name: str = "") -> Outcome:
    """Pour the liquid of the pot off, whatever it is called; the fat alone where it swims on top or is all there is.

    What a part of it is measured as ("all but 2 tbsp of the fat") stays.
    """
    pot = sort_pot(mix)
    if not pot.has_fat_bath and (_mostly_fat(pot) or step.stream in ("fat", "oil", "drippings")):
        stays = None
        if "all but" in step.marks:
            stays = step.grams or (step.millilitres.scaled(0.92) if step.millilitres else None)  # fat: 0.92 g/mL
        free = pot.best(pot.fat) + float(pot.mix.held[0, pot.liquor, FAT].sum())
        return _fat_of_drippings(work, mix) if free <= 0.0 else left(pour_fat(mix, draws=work.draws, left=stays))
    return left(drain(mix, draws=work.draws), name=name)


def _fat_of_drippings(work: Work, mix: Mixture) -> Outcome:
    """Pour the fat off what a roast has dripped: what is left of the drippings can still go into a gravy."""
    for at in range(len(work.stages) - 1, -1, -1):
        stage = work.stages[at]
        for place, entry in enumerate(stage.streams):
            if entry.stream == "dripped":
                fat = blank(work.draws.rows, len(entry.mix.items))
                fat[:, :, FAT] = work.draws.draw(SKIMMED, Cause.SKIMMED, most=1.0)[:, None]
                poured, rest = entry.mix.split(fat)
                streams = (*stage.streams[:place], replace(entry, mix=rest), *stage.streams[place + 1 :])
                work.stages[at] = replace(stage, streams=streams)
                told = f"{SKIMMED.best:.0%} ({SKIMMED.low:.0%}–{SKIMMED.high:.0%}) of the fat of the drippings"
                return Outcome(mix, (Entry("poured off", poured.present()),), told)
    return Outcome(mix, method="nothing to pour off")


def _liquid_meant(mix: Mixture, step: Step) -> bool:
    """Whether a step is about the liquid of the pot: by a word for it, or by what the lines call it."""
    if step.stream in ("liquid", "cure"):
        return True
    named = [at for at in named_items(mix, step.objects) if not mix.items[at].phase]
    return bool(named) and all(kind_of(mix.items[at].food) in _LIQUIDS for at in named)


def do_drain(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Pour the liquid off, or the fat where that is what is said; a whole can is drained of its liquid."""
    name = task.step.name or _waiting_name(work)
    outcome = _pour_off(work, mix, task.step, name=name)
    streams = list(outcome.streams)
    for at, item in enumerate(outcome.kept.items):
        if _is_whole_can(item):
            more = left(drain_can(outcome.kept, at, draws=work.draws), name=name)
            outcome = replace(more, method=more.method)
            streams += more.streams
    return _keep_waiting(work, replace(outcome, streams=tuple(streams)))


def do_rinse(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Rinse under water, once or more."""
    often = next((count for pattern, count in _OFTEN if pattern.search(task.step.text)), 1)
    return left(rinse(mix, minutes=task.step.minutes, draws=work.draws, times=often))


def do_squeeze(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Squeeze or press the liquid out."""
    return left(squeeze(mix, draws=work.draws))


def do_pat(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Pat, wipe or brush dry: what lies loose around the food goes, and most of what clings."""
    pot = sort_pot(mix)
    if not pot.liquor.any() or work.stages == []:
        return left(pat(mix, draws=work.draws))
    poured = left(drain(mix, draws=work.draws), name=_waiting_name(work))
    wiped = left(pat(poured.kept, draws=work.draws))
    streams = (*_keep_waiting(work, poured).streams, *wiped.streams)
    return Outcome(wiped.kept, streams, "what lies loose on the food goes, and most of what clings")


def do_strain(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Strain: the liquid stays and the solids go, unless the food is what is strained or the liquid is thrown away."""
    pot, step, aside = sort_pot(mix), task.step, task.aside
    foods = [at for at in named_items(mix, step.objects) if pot.food[at]]
    out = step.text.lower().startswith(("strain out", "filter out")) or " out " in f" {step.text.lower()} "
    if aside is not None and _liquid_meant(mix, aside):
        return do_drain(work, mix, replace(task, step=aside))
    if foods and out:
        return with_extract(work, mix, left(discard_items(mix, foods)), task)
    swollen = sum(pot.mix.mass[0, at] for at in pot.at(pot.food) if pot.kinds[at] in WATER_TAKERS)
    if aside is None and (foods or (not step.objects and not step.stream and swollen > 0.5 * pot.best(pot.food))):
        return do_drain(work, mix, task)
    return strained(work, mix, task)


def do_skim(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Skim the fat off."""
    return _pour_off(work, mix, replace(task.step, stream="fat"))


def do_discard(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Throw something away: ingredients, the solids, the liquid or the fat; each by its own way."""
    step = task.step
    if step.stream == "coating" and step.grams is None and (rest := named_items(mix, step.objects)):
        return _shake_off(work, mix, rest, task)
    if step.stream == "solids":
        pot = sort_pot(mix)
        return strained(work, mix, task) if pot.food.any() else None
    places = _to_discard(mix, step)
    if not places and (skinned := _skin(work, mix, task)) is not None:
        return skinned
    first = with_extract(work, mix, left(discard_items(mix, places)), task) if places else None
    if _liquid_meant(mix, step) or step.stream in ("fat", "oil", "drippings"):
        kept = mix if first is None else first.kept
        poured = do_pat(work, kept, task) if step.stream == "cure" else do_drain(work, kept, task)
        if first is None:
            return poured
        told = f"{first.method}; {poured.method}"
        problems, added = (*first.problems, *poured.problems), (*first.added, *poured.added)
        return Outcome(poured.kept, (*first.streams, *poured.streams), told, problems, added)
    if first is None:
        _not_there(work, mix, task)
    return first


def _shake_off(work: Work, mix: Mixture, places: list[int], task: Task) -> Outcome | None:
    """Throw away what is left of a coating: what clings to the food that was turned in it stays."""
    pot = sort_pot(mix)
    foods = [at for at in pot.at(pot.food) if at not in places and pot.kinds[at] != "seasoning"]
    if not foods:
        return None
    mass = mix.select(places).total_mass
    clings = work.draws.draw(_CLINGS) * mix.select(foods).total_mass
    fraction = blank(work.draws.rows, len(mix.items))
    fraction[:, places] = np.clip(1.0 - clings / np.maximum(mass, 1e-9), 0.0, 1.0)[:, None, None]
    lost, kept = mix.split(fraction)
    said = f"“{task.step.text}” does not say how much: weigh what is left and write “120 g of flour is left”."
    streams = (Entry("left on the plate", lost.present()),)
    return Outcome(
        kept, streams, "what clings of the coating stays; a guess", (Problem("coating-assumed", said, task.line),)
    )


def do_lift(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """ "Take out the bay leaf" discards it; "lift out the chicken" sets it aside; "remove the salt" wipes it off."""
    step = task.step
    if not step.objects and not step.stream:
        return _left_behind(work, mix, task)  # "lift out" is about the food itself, and that stays
    if _liquid_meant(mix, step):
        return do_pat(work, mix, task)
    places = _to_discard(mix, step)
    if not places and (skinned := _skin(work, mix, task)) is not None:
        return skinned
    if not places and step.stream == "fat":
        return left(pour_fat(mix, draws=work.draws))
    if not places:
        _not_there(work, mix, task)
        return None
    taken = float(mix.select(places).total_mass[0])
    spices = all(kind_of(mix.items[at].food) == "seasoning" for at in places)
    if not spices and taken > 0.12 * float(mix.total_mass[0]):
        return _left_behind(work, mix, task)
    return with_extract(work, mix, left(discard_items(mix, places)), task)


def _skin(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Take the skin of birds off, where that is what the step names."""
    step = task.step
    if not is_about_skin(step.objects):
        return None
    outcome = take_skin(mix, skinned_items(mix, step.objects), draws=work.draws)
    return None if outcome is None else replace(left(outcome), problems=addressed(outcome.problems, task))


def _left_behind(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Leave the liquor in the pot that food is lifted out of, where nothing that comes after speaks of it."""
    pot, ahead = sort_pot(mix), task.ahead
    said = set(words(" ".join(step.text for step in ahead)))
    foods = pot.at(pot.food)
    lifted = named_items(mix, task.step.objects) or foods
    boiled = any(mix.items[at].cooked in WET for at in lifted)
    all_of_it = 2.0 * sum(float(mix.mass[0, at]) for at in foods if at in lifted) > pot.best(pot.food)
    heads = {read_name(mix.items[at].name).head for at in pot.at(pot.liquor)}
    beside = {read_name(item.name).head for item in work.rest.items} if work.rest is not None else set()
    spoken_of = said & (heads | _POT_WORDS) - beside
    if not (ahead and boiled and all_of_it and pot.has_liquor) or spoken_of:
        return None
    if any(step.action in _USE_LIQUOR or step.action in WET for step in ahead):
        return None
    poured = do_drain(work, mix, task)
    message = (
        f"“{task.step.text}”: nothing that follows speaks of the liquid, so it is taken to be left behind. Write "
        "“return to the pot” where it is eaten, or “discard the liquid” where it is not."
    )
    return replace(poured, problems=(*poured.problems, Problem("liquid-left-assumed", message, task.line)))


def _to_discard(mix: Mixture, step: Step) -> list[int]:
    """Places of the food that a step throws away, as it was put in: "the shells" are not the mussels in the shell.

    What it gave to the liquor and to other food meanwhile is not thrown away with it.
    """
    pot = sort_pot(mix)
    found = []
    for name in step.objects:
        wanted = read_name(name)
        for at in named_items(mix, (name,)):
            own = read_name(mix.items[at].name)
            given = mix.items[at].phase in ("absorbed", "dissolved")
            loose = given or pot.kinds[at] in _LIQUIDS or pot.fat[at]
            if not loose and (not _GONE.issuperset(wanted.words) or own.head in wanted.words):
                found.append(at)
    return sorted(set(found))


def _not_there(work: Work, mix: Mixture, task: Task) -> None:
    if any(word in _GONE for name in task.step.objects for word in words(name)):
        return  # weights are edible weights: bones, shells and peel were never counted
    if named_items(mix, task.step.objects):
        return  # it is there, but all of it is in the liquor
    names = ", ".join(task.step.objects) or task.step.text
    work.problems.append(
        Problem(
            "nothing-to-discard",
            f"“{task.step.text}”: “{names}” is no ingredient of “{work.title}” so far. Name it as its line does.",
            task.line,
        )
    )


def do_keep(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Name a stream for use elsewhere: what has just been poured off, or the liquid still in the pot.

    That liquid is poured off for it at once where nothing drains it later.
    """
    for at in range(len(work.stages) - 1, -1, -1):
        stage = work.stages[at]
        wanted = ("dripped",) if task.step.stream == "drippings" else ("poured off", "discarded")
        for place, entry in enumerate(stage.streams):
            if entry.stream in wanted and not sort_pot(mix).has_liquor:
                kept = _kept_of(work, entry, task.step)
                streams = (*stage.streams[:place], *kept, *stage.streams[place + 1 :])
                work.stages[at] = replace(stage, streams=streams)
                return None
    work.waiting.append(task.step)
    whole = task.step.grams is None and task.step.millilitres is None and task.step.share is None
    if whole and not task.drained and task.step.stream == "liquid" and sort_pot(mix).has_liquor:
        return do_drain(work, mix, task)
    return None


def _waiting_name(work: Work) -> str:
    return work.waiting[-1].name if work.waiting else ""


def _keep_waiting(work: Work, outcome: Outcome) -> Outcome:
    """Divide what is poured off into what the cook keeps (a cup of it) and the rest."""
    if not work.waiting:
        return outcome
    step = work.waiting.pop()
    streams: list[Entry] = []
    for entry in outcome.streams:
        streams += _kept_of(work, entry, step)
    return replace(outcome, streams=tuple(streams))


def _kept_of(work: Work, entry: Entry, step: Step) -> list[Entry]:
    """What was poured off as what the cook keeps of it, all or an amount, and the rest."""
    total = entry.mix.total_mass
    share: Array | None = None
    if step.grams is not None:
        share = work.draws.draw(step.grams) / np.maximum(total, 1e-9)
    elif step.millilitres is not None:
        share = work.draws.draw(step.millilitres) * np.nan_to_num(density(entry.mix)) / np.maximum(total, 1e-9)
    elif step.share is not None:
        share = work.draws.draw(step.share)
    if share is None:
        return [replace(entry, name=step.name or entry.name)]
    held, lost = entry.mix.split(np.minimum(share, 1.0)[:, None, None])
    return [replace(entry, mix=held, name=step.name), replace(entry, mix=lost, name="")]


def _is_whole_can(item: Item) -> bool:
    """Whether an item is a can whose table entry is solids and liquid together, not drained yet."""
    return not item.phase and is_whole_can(item.food) and not item.facts.drained
