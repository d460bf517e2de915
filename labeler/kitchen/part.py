"""One part of a recipe: which step is about what, and what it leaves alone.

The pot is in two: what the last step was about (*focus*), and the rest. "Boil the potatoes, then drain" drains the
potatoes and not the milk that waits beside them; the next step that names nothing is about everything again.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from labeler.foods.table import load_table
from labeler.foods.words import read_name, words
from labeler.kitchen import measured, pouring, steps
from labeler.kitchen.aside import note_aside, without_aside
from labeler.kitchen.cook import HEATS
from labeler.kitchen.cure import is_salted
from labeler.kitchen.kinds import DISSOLVES, FLESH, LIQUOR, kind_of
from labeler.kitchen.ledger import Stage, interval_of
from labeler.kitchen.mix import Item, Mix, empty
from labeler.kitchen.pot import Outcome, Pot, named_items, sort_pot, together
from labeler.kitchen.soak import PLANTS
from labeler.kitchen.stock import is_bony
from labeler.kitchen.tasks import SOAKS, Task, brought
from labeler.kitchen.work import Work
from labeler.knowledge import Problem
from labeler.recipe.handling import Step

__all__ = ["do"]

# Steps that go on with what the step before them was about.
_FOLLOWS = frozenset(["drain", "rinse", "squeeze", "pat", "skim", "strain", "keep", "left", "catch", "discard", "lift"])
# What is done to food before anything else is: to the food alone, and not to what waits beside it.
_WASHES = frozenset(["rinse", "pat", "squeeze"])
# Steps that take off what lies on food.
_TAKES_OFF = frozenset(["rinse", "pat", "squeeze", "drain", "discard"])
# Dry heat that nobody does in a brine or a marinade.
_OUT_OF_LIQUOR = frozenset(["broil", "deep-fry", "toast", "smoke", "roast", "pan-fry", "stir-fry"])
_AROUND = LIQUOR | DISSOLVES | {"seasoning", "fat"}
_SALTING = re.compile(r"\b(?:salt|salts|salted|sugar|cure|cures|rub|rubbed|spices?|seasonings?)\b", re.IGNORECASE)
_WITH_LIQUOR = frozenset(["soak", "brine", "marinate", "pickle", "cure", "simmer", "braise", "reduce", "stand"])
_WITH_FAT = frozenset(["pan-fry", "stir-fry", "deep-fry", "simmer", "braise", "coat"])

_ACTIONS: dict[str, Callable[[Work, Mix, Task], Outcome | None]] = {
    **dict.fromkeys(HEATS, steps.do_heat),
    **dict.fromkeys(SOAKS, steps.do_lie),
    "drain": pouring.do_drain,
    "rinse": pouring.do_rinse,
    "squeeze": pouring.do_squeeze,
    "pat": pouring.do_pat,
    "strain": pouring.do_strain,
    "skim": pouring.do_skim,
    "reduce": steps.do_reduce,
    "dry": steps.do_dry,
    "thin": steps.do_thin,
    "make": steps.do_make,
    "discard": pouring.do_discard,
    "lift": pouring.do_lift,
    "keep": pouring.do_keep,
    "weigh": measured.do_weigh,
    "lose": measured.do_lose,
    "left": measured.do_left,
}


def do(work: Work, task: Task) -> None:
    """Do one step, and before it what it takes for granted."""
    _note_salting(work, task.step)
    note_aside(work, task.step)
    if task.step.action in _TAKES_OFF and not work.lain:
        _lie_untimed(work, task)
    if task.step.action in _OUT_OF_LIQUOR:
        _lift_out(work, task)
    _do(work, task)
    work.said.update(words(task.step.text))
    if task.step.action in HEATS:
        work.salting, work.about = "", ()
    if task.poured:
        do(work, replace(task, step=Step("drain", task.step.text), poured=False))


def _do(work: Work, task: Task) -> None:
    step = task.step
    action = _ACTIONS.get(step.action)
    if action is None and step.water is not None and brought(step) and not any(map(_is_water, work.pot.items)):
        action = steps.do_thin  # "add 200 ml water" that no line has
    if action is None:
        _put_in(work, step)
        work.hot = work.hot and "cool" not in words(step.text)
        return
    if step.action == "stand" and work.salting and not work.lain and step.text != work.salting:
        task = replace(task, step=replace(step, text=f"{work.salting}, {step.text}"))
    focus, rest = without_aside(work, step, *_split(work, task))
    outcome = action(work, focus, task)
    if outcome is None:
        work.focus, work.rest = focus, rest
        return
    work.added += outcome.added
    kept = sort_pot(outcome.kept)
    if kept.absorbed.any():
        work.holders.update(kept.mix.items[at].line for at in kept.at(kept.food))
    work.problems += outcome.problems
    work.focus, work.rest = outcome.kept, rest
    streams = tuple(entry for entry in outcome.streams if entry.mix.items)
    if streams or outcome.method:
        grams = interval_of(outcome.kept.total_mass + rest.total_mass)
        work.stages.append(Stage(step.text, task.line, outcome.method, streams, grams, step.action))
    work.hot = step.action in HEATS or (work.hot and step.action in ("idle", "stand", "cover"))


def _note_salting(work: Work, step: Step) -> None:
    """Remember that salt, sugar or a rub was put on food, and on which: it is what lies in it next."""
    if step.action not in ("idle", "coat", "cure", "stand") or not _SALTING.search(step.text):
        return
    pot = sort_pot(work.pot)
    loose = np.array([kind in DISSOLVES | {"seasoning"} for kind in pot.kinds], dtype=bool)
    food = pot.at(pot.food & ~loose)
    said = set(words(step.text))
    about = tuple(pot.mix.items[at].name for at in food if read_name(pot.mix.items[at].name).head in said)
    work.salting, work.about = step.text, about or work.about


def _lie_untimed(work: Work, task: Task) -> None:
    """What is taken off again was on the food for a time that nobody says: it is assumed, and said."""
    if work.salting:
        untimed = replace(task, step=Step("cure", work.salting), freed=True)
        if is_salted(_split(work, untimed)[0]):
            _do(work, untimed)
            return
    if not work.said or not (task.step.action == "drain" or task.step.stream == "liquid"):
        return
    untimed = replace(task, step=Step("stand", f"before “{task.step.text}”"), freed=True)
    here = _split(work, untimed)[0]
    pot = sort_pot(here)
    named = [at for at in named_items(here, task.step.objects) if pot.food[at]]
    if pot.has_liquor and not named and not any(item.cooked or item.phase for item in here.items):
        _do(work, untimed)


def _lift_out(work: Work, task: Task) -> None:
    """Food that goes from a brine or a marinade to dry heat is lifted out of it first; that is said."""
    if not work.lain or work.focus is None or "in its liquid" in task.step.marks:
        return
    pot = sort_pot(work.focus)
    cooked = any(item.cooked for item in pot.mix.items)
    little = pot.best(pot.liquor) < 0.03 * pot.food_mass[0]
    if little or cooked or not pot.flesh.any() or "marinade" in words(task.step.text):
        return
    _do(work, replace(task, step=Step("drain", f"before “{task.step.text}”")))
    work.problems.append(
        Problem(
            "lifted-out-assumed",
            f"“{task.step.text}”: it is taken that the food is lifted out of its liquid and what is left of that is "
            "thrown away. Write “drain” before it, or “in its marinade” if all of it is cooked and eaten.",
            task.line,
        )
    )


def _put_in(work: Work, step: Step) -> None:
    """What a step adds is from then on with what the step before was about ("drain ... toss with the butter")."""
    new = set(words(brought(step)))
    if not new or work.focus is None or work.rest is None or not work.focus.items:
        return
    places = {at for at, item in enumerate(work.rest.items) if not item.phase and read_name(item.name).head in new}
    if places:
        more, work.rest = _parted(work.rest, places)
        work.focus = together([work.focus, more])


def _split(work: Work, task: Task) -> tuple[Mix, Mix]:
    """What a step is about, and what it leaves alone."""
    step, nothing = task.step, empty(work.draws.rows)
    whole = work.pot
    objects = step.objects or (work.about if step.action in SOAKS else ())
    places = set(named_items(whole, objects))
    if step.action in ("drain", "strain", "keep") and work.focus is not None and work.rest is not None:
        # Pasta that boils while bacon is fried is what is drained, and not the bacon.
        pot, beside = sort_pot(work.focus), sort_pot(work.rest)
        wet = {at for at in beside.at(beside.food) if beside.mix.items[at].line in work.holders}
        if wet and beside.has_liquor and not pot.has_liquor and step.stream not in ("fat", "oil", "drippings"):
            return _parted(whole, {at for at in _ready(whole, task) if whole.items[at].line not in _lines(pot)})
    if step.action == "keep" and work.focus is not None and not sort_pot(work.focus).has_liquor:
        return _parted(whole, _ready(whole, task))  # the liquid that is kept stands beside what was last done
    if step.action in _FOLLOWS and work.focus is not None and work.focus.items:
        here = named_items(work.focus, objects)
        if here or not places or step.action not in _WASHES:
            return work.focus, work.rest if work.rest is not None else nothing
        return _parted(whole, places)
    if step.action in _WASHES:
        return _parted(whole, places or _can_lie(whole) or set(range(len(whole.items))))
    if step.action in ("weigh", "make", "lose"):
        return whole, nothing
    ready = _ready(whole, task)
    if step.action in HEATS and (others := _claimed(work, whole, task)):
        ready, places = ready - others, places - others
    if step.action in ("stand", "cure") and work.salting and not work.lain:
        under = _under_salt(work, whole, places & ready or ready)
        if under:
            return _parted(whole, under)
    if step.action in _FOLLOWS:
        foods = {at for at in places if sort_pot(whole).food[at]}
        return _parted(whole, foods if foods and not work.said else ready)
    around = (step.action in SOAKS or _is_around(step, whole)) and all(
        kind_of(whole.items[at].food) in _AROUND for at in places
    )
    bones = bool(places) and all(is_bony(whole.items[at]) for at in places)
    if (
        not places or around or (bones and step.action in _WITH_LIQUOR)
    ):  # bones are boiled with whatever is there  # "leave in the brine": what lies in it is all the rest
        if step.action in HEATS and around and places:
            waits = task.claimed - work.said - set(words(step.text))  # what a later step cooks first
            ready = {at for at in ready if whole.items[at].phase or read_name(whole.items[at].name).head not in waits}
        dry = step.action in SOAKS and _is_dry(whole, ready)
        return _parted(whole, ready & (_can_lie(whole) | _strewn(whole)) if dry else ready)
    pot = sort_pot(whole)
    watery = any(_is_water(whole.items[at]) for at in pot.at(pot.liquor))
    # What was taken up is of the food that took it up, and stays with it.
    holding = any(whole.items[at].line in work.holders for at in places)
    apart = _stands_apart(work, pot, places, boils=step.action in ("boil", "blanch"))
    for at in range(len(whole.items)):
        around = step.action in _WITH_LIQUOR or (step.action in ("boil", "blanch") and watery)
        joins = (
            whole.items[at].phase == "dissolved"
            or (pot.liquor[at] and around)
            or (step.action in _WITH_LIQUOR and pot.kinds[at] in DISSOLVES | {"seasoning"})
            or (pot.fat[at] and step.action in _WITH_FAT)
        )
        if (pot.absorbed[at] and holding) or (joins and at not in apart):
            places.add(at)
    places = places & ready or places
    return _parted(whole, places)


_SOME_WATER = re.compile(
    r"\bin(?:to)? (?:(?:a|an|some|plenty|lots|large|big|pot|pan|of|boiling|simmering|salted|lightly|well|rapidly|"
    r"unsalted|hot|cold|clean|fresh)[ -])*water\b",
    re.IGNORECASE,
)


def _claimed(work: Work, whole: Mix, task: Task) -> set[int]:
    """Liquids and what dissolves that a later step is about, where this one boils in water that is not that of a line.

    "Blanch in boiling water ... bring the vinegar, water and salt to the boil": two waters, of which one is listed.
    """
    if not _SOME_WATER.search(task.step.text) or "water" not in task.claimed:
        return set()
    before = work.said | (set(words(task.step.text)) - {"water", "salt", "salted"})
    return {
        at
        for at, item in enumerate(whole.items)
        if not item.phase
        and kind_of(item.food) in _AROUND
        and read_name(item.name).head in task.claimed
        and read_name(item.name).head not in before
    }


def _stands_apart(work: Work, pot: Pot, places: set[int], *, boils: bool) -> set[int]:
    """What stands by while named food cooks in a liquid that is named, or boils in water.

    That is what comes from other parts, such as a dressing or a kept brine, and where the liquid is named every other
    one; what boils in it is salted, and the herbs wait.
    """
    kinds, items = pot.kinds, pot.mix.items
    said = any(kinds[at] in LIQUOR and not items[at].phase for at in places)
    others = LIQUOR | {"seasoning"} if boils else LIQUOR
    return {
        at
        for at, item in enumerate(items)
        if at not in places
        and (
            ((said or boils) and item.part != work.title)
            or (said and not item.phase and not item.cooked and kinds[at] in others)
        )
    }


def _is_around(step: Step, whole: Mix) -> bool:
    """Whether what a step of heat names is what food lies in ("cook in the fat", not "melt the fat").

    Names of no ingredient ("fry the patties in the oil") are what was made of the ingredients.
    """
    inside = re.search(r"\b(?:in|under|with)\b(.*)", step.text, re.IGNORECASE)
    return (
        step.action in HEATS
        and inside is not None
        and all(name in inside[1] or not named_items(whole, (name,)) for name in step.objects)
    )


def _ready(whole: Mix, task: Task) -> set[int]:
    """What is in the pot by now: everything but what a later step says that it adds."""
    ready = {
        at
        for at, item in enumerate(whole.items)
        if item.phase or item.cooked or not task.later or read_name(item.name).head not in task.later
    }
    return ready if any(sort_pot(whole).food[at] for at in ready) else set(range(len(whole.items)))


def _can_lie(whole: Mix) -> set[int]:
    """Food that is washed, salted or squeezed, with what it has taken up: meat, fish, plants, cheese, tofu, eggs."""
    pot = sort_pot(whole)
    lies = FLESH | PLANTS | {"cheese", "tofu", "egg", "grain", "canned legume", "pickle", "olives", "unknown"}
    return {at for at in range(len(whole.items)) if pot.absorbed[at] or (pot.food[at] and pot.kinds[at] in lies)}


def _under_salt(work: Work, whole: Mix, places: set[int]) -> set[int]:
    """Food with what has been put on it so far; empty where that is a liquid, or nothing that was named."""
    said = work.said | set(words(work.salting))

    def named(at: int) -> bool:
        return read_name(whole.items[at].name).head in said

    pot = sort_pot(whole)
    if any(named(at) and not whole.items[at].phase for at in pot.at(pot.liquor) if pot.kinds[at] in LIQUOR):
        return set()
    strewn = _strewn(whole)
    said_of = {at for at in strewn if named(at)}
    found = (places & _can_lie(whole)) | (said_of or strewn)
    return found if is_salted(whole.select(sorted(found))) else set()


def _lines(pot: Pot) -> set[int]:
    """Lines of the food in a pot."""
    return {pot.mix.items[at].line for at in pot.at(pot.food)}


def _strewn(whole: Mix) -> set[int]:
    """What is strewn on food, and the juice that it drew."""
    kinds = DISSOLVES | {"seasoning"}
    return {at for at, item in enumerate(whole.items) if item.phase == "dissolved" or kind_of(item.food) in kinds}


def _is_dry(whole: Mix, places: set[int]) -> bool:
    """Whether food lies under salt or sugar there, without a liquor."""
    return (
        is_salted(whole.select(sorted(places & (_can_lie(whole) | _strewn(whole)))))
        and not sort_pot(whole.select(sorted(places))).has_liquor
    )


def _parted(whole: Mix, places: set[int]) -> tuple[Mix, Mix]:
    """The items at some places, and the others."""
    return whole.select(sorted(places)), whole.select([at for at in range(len(whole.items)) if at not in places])


def _is_water(item: Item) -> bool:
    """Whether an item is what food is boiled in: water or broth, and not the milk that waits for the mash."""
    if kind_of(item.food) == "water":
        return True
    table = load_table()
    return item.food is not None and int(table.group_codes[table.position[item.food]]) == 600
