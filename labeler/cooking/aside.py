"""Food that is lifted out of the pot and waits beside it ("lift out the ribs ... boil the sauce ... return the ribs").

What is boiled down, simmered or strained meanwhile is the pot and not what waits, until a step brings it back.
"""

from __future__ import annotations

import re

from labeler.cooking.models.heating import HEATS
from labeler.cooking.naming import named_items
from labeler.cooking.state.mixture import Mixture
from labeler.cooking.state.phases import sort_pot, together
from labeler.cooking.work import Work
from labeler.foods.words import read_name, words
from labeler.parsing.handling import Step

__all__ = ["note_aside", "without_aside"]

_LEAVES_ALONE = HEATS | {"reduce", "strain"}
_ASIDE = re.compile(r"\b(?:set|put|leave|left|keep|kept) (?:\w+ ){0,4}aside\b", re.IGNORECASE)
_MOVED = re.compile(
    r"\b(?:transfer|move|remove|lift)\w*\b.*\bto (?:a|the|another|your)? ?(?:\w+ )?"
    r"(?:plate|platter|dish|board|bowl|rack|tray)",
    re.IGNORECASE,
)
_BACK = re.compile(r"\b(?:return\w*|back (?:in|into|to)|everything|all together|combine)\b", re.IGNORECASE)
_BRINGS = re.compile(
    r"(?:then |and |,)*\b(?:add|put|place|tip|stir|mix|toss|fold|nestle|lay|slide|pour|serve)\w*\b", re.IGNORECASE
)
_LET_FALL = re.compile(r"\blet(?:ting)?\b", re.IGNORECASE)


def note_aside(work: Work, step: Step) -> None:
    """Remember what a step takes out of the pot, and forget what one brings back."""
    pot = sort_pot(work.pot)
    foods = pot.at(pot.food)
    if work.aside and _comes_back(work, step):
        named = {pot.mix.items[at].line for at in _named(pot.mix, step)}
        work.aside -= named & work.aside or work.aside
        return
    cooked = [at for at in foods if pot.mix.items[at].cooked]
    if step.action == "catch" and not _LET_FALL.search(step.text):
        # A gravy is made of what has dripped, and not with the roast in it.
        work.aside.update(pot.mix.items[at].line for at in pot.at(pot.flesh) if at in cooked)
        return
    lifts = step.action == "lift" and not step.stream
    moves = step.action == "idle" and _MOVED.search(step.text) is not None
    if not (lifts or moves or (step.minutes is None and _ASIDE.search(step.text))):
        return
    named_now = [at for at in named_items(pot.mix, step.objects) if at in cooked]
    if not named_now and not step.objects and work.focus is not None:
        here = {item.line for item in work.focus.items}
        named_now = [at for at in cooked if pot.mix.items[at].line in here]
    work.aside.update(pot.mix.items[at].line for at in named_now)


def _named(mix: Mixture, step: Step) -> list[int]:
    said = set(words(step.text))
    places = set(named_items(mix, step.objects))
    places.update(at for at, item in enumerate(mix.items) if not item.phase and read_name(item.name).head in said)
    return sorted(places)


def _comes_back(work: Work, step: Step) -> bool:
    if _BACK.search(step.text):
        return True
    if step.action not in HEATS and not (step.action in ("idle", "coat") and _BRINGS.match(step.text)):
        return False
    mix = work.pot
    return any(mix.items[at].line in work.aside for at in _named(mix, step))


def without_aside(work: Work, step: Step, focus: Mixture, rest: Mixture) -> tuple[Mixture, Mixture]:
    """What a step is about, without what waits beside the pot and what that has taken up."""
    if not work.aside or step.action not in _LEAVES_ALONE:
        return focus, rest
    pot = sort_pot(focus)
    away = {at for at in pot.at(pot.food) if focus.items[at].line in work.aside}
    if 2.0 * sum(float(focus.mass[0, at]) for at in away) > pot.best(pot.food):
        away.update(pot.at(pot.absorbed))
    stays = [at for at in range(len(focus.items)) if at not in away]
    if not away or not stays:
        return focus, rest
    return focus.select(stays), together([rest, focus.select(sorted(away))])
