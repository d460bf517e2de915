"""One part of a recipe: which step is about what, and what it leaves alone.

The pot is in two: what the last step was about (*focus*), and the rest. "Boil the potatoes, then drain" drains the
potatoes and not the milk that waits beside them; the next step that names nothing is about everything again.
"""

from __future__ import annotations

from collections.abc import Callable

from labeler.foods.table import load_table
from labeler.kitchen import measured, steps
from labeler.kitchen.cook import HEATS
from labeler.kitchen.kinds import DISSOLVES, kind_of
from labeler.kitchen.ledger import Stage, interval_of
from labeler.kitchen.mix import Item, Mix, empty
from labeler.kitchen.pot import Outcome, named_items, sort_pot
from labeler.kitchen.tasks import SOAKS, Task
from labeler.kitchen.work import Work
from labeler.recipe.handling import Step

__all__ = ["do"]

# Steps that go on with what the step before them was about.
_FOLLOWS = frozenset(["drain", "rinse", "squeeze", "pat", "skim", "strain", "keep", "left", "catch", "discard", "lift"])
_WITH_LIQUOR = frozenset(["soak", "brine", "marinate", "pickle", "cure", "simmer", "braise", "reduce", "stand"])
_WITH_FAT = frozenset(["pan-fry", "stir-fry", "deep-fry", "simmer", "braise", "coat"])

_ACTIONS: dict[str, Callable[[Work, Mix, Task], Outcome | None]] = {
    **dict.fromkeys(HEATS, steps.do_heat),
    **dict.fromkeys(SOAKS, steps.do_soak),
    "drain": steps.do_drain,
    "rinse": steps.do_rinse,
    "squeeze": steps.do_squeeze,
    "pat": steps.do_pat,
    "strain": steps.do_strain,
    "skim": steps.do_skim,
    "reduce": steps.do_reduce,
    "dry": steps.do_dry,
    "thin": steps.do_thin,
    "make": steps.do_make,
    "discard": steps.do_discard,
    "lift": steps.do_lift,
    "keep": steps.do_keep,
    "weigh": measured.do_weigh,
    "lose": measured.do_lose,
    "left": measured.do_left,
}


def do(work: Work, task: Task) -> None:
    """Do one step."""
    step = task.step
    action = _ACTIONS.get(step.action)
    if action is None:
        return
    focus, rest = _split(work, step)
    outcome = action(work, focus, task)
    if outcome is None:
        work.focus, work.rest = focus, rest
        return
    work.added += outcome.added
    work.problems += outcome.problems
    work.focus, work.rest = outcome.kept, rest
    streams = tuple(entry for entry in outcome.streams if entry.mix.items)
    if streams or outcome.method:
        grams = interval_of(outcome.kept.total_mass + rest.total_mass)
        work.stages.append(Stage(step.text, task.line, outcome.method, streams, grams))
    work.hot = step.action in HEATS or (work.hot and step.action in ("idle", "stand", "cover"))


def _split(work: Work, step: Step) -> tuple[Mix, Mix]:
    """What a step is about, and what it leaves alone."""
    nothing = empty(work.draws.rows)
    if step.action in _FOLLOWS and work.focus is not None and work.focus.items:
        return work.focus, work.rest if work.rest is not None else nothing
    whole = work.pot
    if not step.objects or step.action in _FOLLOWS or step.action in ("weigh", "make", "lose"):
        return whole, nothing
    places = set(named_items(whole, step.objects))
    if not places:
        return whole, nothing
    pot = sort_pot(whole)
    watery = any(_is_water(whole.items[at]) for at in pot.at(pot.liquor))
    for at in range(len(whole.items)):
        around = step.action in _WITH_LIQUOR or (step.action in ("boil", "blanch") and watery)
        if (
            pot.absorbed[at]
            or whole.items[at].phase == "dissolved"
            or (pot.liquor[at] and around)
            or (step.action in _WITH_LIQUOR and pot.kinds[at] in DISSOLVES | {"seasoning"})
            or (pot.fat[at] and step.action in _WITH_FAT)
        ):
            places.add(at)
    chosen = sorted(places)
    return whole.select(chosen), whole.select([at for at in range(len(whole.items)) if at not in places])


def _is_water(item: Item) -> bool:
    """Whether an item is what food is boiled in: water or broth, and not the milk that waits for the mash."""
    if kind_of(item.food) == "water":
        return True
    table = load_table()
    return item.food is not None and int(table.group_codes[table.position[item.food]]) == 600
