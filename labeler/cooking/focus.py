"""Which of the pot a step is about, and what it leaves alone.

The pot is in two: what the last step was about (*focus*), and the rest. "Boil the potatoes, then drain" drains the
potatoes and not the milk that waits beside them; the next step that names nothing is about everything again.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from labeler.cooking.models.dry_salting import is_salted
from labeler.cooking.models.heating import HEATS
from labeler.cooking.models.immersion import PLANTS
from labeler.cooking.naming import named_items
from labeler.cooking.state.mixture import Item, Mixture, empty
from labeler.cooking.state.phases import Phases, sort_pot
from labeler.cooking.tasks import SOAKS, Task
from labeler.cooking.work import Work
from labeler.foods.food_class import DISSOLVES, FLESH, LIQUOR, kind_of
from labeler.foods.table import load_table
from labeler.foods.words import read_name, words
from labeler.parsing.handling import Step

__all__ = ["focus_of", "is_water", "parted"]

# Steps that go on with what the step before them was about.
_FOLLOWS = frozenset(["drain", "rinse", "squeeze", "pat", "skim", "strain", "keep", "left", "catch", "discard", "lift"])
# What is done to food before anything else is: to the food alone, and not to what waits beside it.
_WASHES = frozenset(["rinse", "pat", "squeeze"])
_AROUND = LIQUOR | DISSOLVES | {"seasoning", "fat"}
_WITH_LIQUOR = frozenset(["soak", "brine", "marinate", "pickle", "cure", "simmer", "braise", "reduce", "stand"])
_WITH_FAT = frozenset(["pan-fry", "stir-fry", "deep-fry", "simmer", "braise", "coat"])
_SOME_WATER = re.compile(
    r"\bin(?:to)? (?:(?:a|an|some|plenty|lots|large|big|pot|pan|of|boiling|simmering|salted|lightly|well|rapidly|"
    r"unsalted|hot|cold|clean|fresh)[ -])*water\b",
    re.IGNORECASE,
)


def focus_of(work: Work, task: Task) -> tuple[Mixture, Mixture]:
    """What a step is about, and what it leaves alone."""
    step, whole = task.step, work.pot
    objects = step.objects or (work.about if step.action in SOAKS else ())
    places = set(named_items(whole, objects))
    going_on = _goes_on(work, task, places, objects)
    if going_on is not None:
        return going_on
    if step.action in _WASHES:
        return parted(whole, places or _can_lie(whole) or set(range(len(whole.items))))
    if step.action in ("weigh", "make", "lose"):
        return whole, empty(work.draws.rows)
    ready = _ready(whole, task)
    if step.action in HEATS and (others := _claimed(work, whole, task)):
        ready, places = ready - others, places - others
    if step.action in ("stand", "cure") and work.salting and not work.lain:
        under = _under_salt(work, whole, places & ready or ready)
        if under:
            return parted(whole, under)
    if step.action in _FOLLOWS:
        foods = {at for at in places if sort_pot(whole).food[at]}
        return parted(whole, foods if foods and not work.said else ready)
    around = (step.action in SOAKS or _is_around(step, whole)) and all(
        kind_of(whole.items[at].food) in _AROUND for at in places
    )
    bones = step.action in _WITH_LIQUOR and bool(places) and all(whole.items[at].facts.bones for at in places)
    # "Leave in the brine": what lies in it is all the rest; and bones are boiled with whatever is there.
    if not places or around or bones:
        return _with_everything(work, task, whole, ready, around=around and bool(places))
    places |= _joining(work, step, whole, places)
    return parted(whole, places & ready or places)


def _goes_on(work: Work, task: Task, places: set[int], objects: Sequence[str]) -> tuple[Mixture, Mixture] | None:
    """The pot of a step that goes on with what the step before was about; None for one that begins anew."""
    step, whole = task.step, work.pot
    if work.focus is None:
        return None
    if step.action in ("drain", "strain", "keep") and work.rest is not None:
        # Pasta that boils while bacon is fried is what is drained, and not the bacon.
        pot, beside = sort_pot(work.focus), sort_pot(work.rest)
        wet = {at for at in beside.at(beside.food) if beside.mix.items[at].line in work.holders}
        if wet and beside.has_liquor and not pot.has_liquor and step.stream not in ("fat", "oil", "drippings"):
            return parted(whole, {at for at in _ready(whole, task) if whole.items[at].line not in _lines(pot)})
    if step.action == "keep" and not sort_pot(work.focus).has_liquor:
        return parted(whole, _ready(whole, task))  # the liquid that is kept stands beside what was last done
    if step.action not in _FOLLOWS or not work.focus.items:
        return None
    if step.action in _WASHES and places and not named_items(work.focus, objects):
        return parted(whole, places)
    return work.focus, work.rest if work.rest is not None else empty(work.draws.rows)


def _with_everything(
    work: Work, task: Task, whole: Mixture, ready: set[int], *, around: bool
) -> tuple[Mixture, Mixture]:
    """The pot of a step that names nothing, or only what the rest lies in."""
    if task.step.action in HEATS and around:
        waits = task.claimed - work.said - set(words(task.step.text))  # what a later step cooks first
        ready = {at for at in ready if whole.items[at].phase or read_name(whole.items[at].name).head not in waits}
    dry = task.step.action in SOAKS and _is_dry(whole, ready)
    return parted(whole, ready & (_can_lie(whole) | _strewn(whole)) if dry else ready)


def _joining(work: Work, step: Step, whole: Mixture, places: set[int]) -> set[int]:
    """What goes with named food: the liquor or the fat it cooks in, what is dissolved there, and what it took up."""
    pot = sort_pot(whole)
    watery = any(is_water(whole.items[at]) for at in pot.at(pot.liquor))
    holding = any(whole.items[at].line in work.holders for at in places)
    boils = step.action in ("boil", "blanch")
    apart = _stands_apart(work, pot, places, boils=boils)
    in_liquor = step.action in _WITH_LIQUOR
    found = set()
    for at, item in enumerate(whole.items):
        joins = (
            item.phase == "dissolved"
            or (pot.liquor[at] and (in_liquor or (boils and watery)))
            or (in_liquor and pot.kinds[at] in DISSOLVES | {"seasoning"})
            or (pot.fat[at] and step.action in _WITH_FAT)
        )
        if (pot.absorbed[at] and holding) or (joins and at not in apart):
            found.add(at)
    return found


def _claimed(work: Work, whole: Mixture, task: Task) -> set[int]:
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


def _stands_apart(work: Work, pot: Phases, places: set[int], *, boils: bool) -> set[int]:
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


def _is_around(step: Step, whole: Mixture) -> bool:
    """Whether what a step of heat names is what food lies in ("cook in the fat", not "melt the fat").

    Names of no ingredient ("fry the patties in the oil") are what was made of the ingredients.
    """
    inside = re.search(r"\b(?:in|under|with)\b(.*)", step.text, re.IGNORECASE)
    return (
        step.action in HEATS
        and inside is not None
        and all(name in inside[1] or not named_items(whole, (name,)) for name in step.objects)
    )


def _ready(whole: Mixture, task: Task) -> set[int]:
    """What is in the pot by now: everything but what a later step says that it adds."""
    ready = {
        at
        for at, item in enumerate(whole.items)
        if item.phase or item.cooked or not task.later or read_name(item.name).head not in task.later
    }
    return ready if any(sort_pot(whole).food[at] for at in ready) else set(range(len(whole.items)))


def _can_lie(whole: Mixture) -> set[int]:
    """Food that is washed, salted or squeezed, with what it has taken up: meat, fish, plants, cheese, tofu, eggs."""
    pot = sort_pot(whole)
    lies = FLESH | PLANTS | {"cheese", "tofu", "egg", "grain", "canned legume", "pickle", "olives", "unknown"}
    return {at for at in range(len(whole.items)) if pot.absorbed[at] or (pot.food[at] and pot.kinds[at] in lies)}


def _under_salt(work: Work, whole: Mixture, places: set[int]) -> set[int]:
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


def _lines(pot: Phases) -> set[int]:
    """Lines of the food in a pot."""
    return {pot.mix.items[at].line for at in pot.at(pot.food)}


def _strewn(whole: Mixture) -> set[int]:
    """What is strewn on food, and the juice that it drew."""
    kinds = DISSOLVES | {"seasoning"}
    return {at for at, item in enumerate(whole.items) if item.phase == "dissolved" or kind_of(item.food) in kinds}


def _is_dry(whole: Mixture, places: set[int]) -> bool:
    """Whether food lies under salt or sugar there, without a liquor."""
    return (
        is_salted(whole.select(sorted(places & (_can_lie(whole) | _strewn(whole)))))
        and not sort_pot(whole.select(sorted(places))).has_liquor
    )


def parted(whole: Mixture, places: set[int]) -> tuple[Mixture, Mixture]:
    """The items at some places, and the others."""
    return whole.select(sorted(places)), whole.select([at for at in range(len(whole.items)) if at not in places])


def is_water(item: Item) -> bool:
    """Whether an item is what food is boiled in: water or broth, and not the milk that waits for the mash."""
    if kind_of(item.food) == "water":
        return True
    table = load_table()
    return item.food is not None and int(table.group_codes[table.position[item.food]]) == 600
