"""A time or a heat that is told without a verb: it goes on with the heat that is in force, or the food stands.

"Bring to a simmer. 20 minutes, lid on." simmers; "Close. Two weeks in the dark." stands, whatever was hot before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from enum import Enum

from labeler.parsing.instructions.actions import Handler, Heat, Trait, action, has
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark, Mention, Mood, Role
from labeler.parsing.instructions.vessels import VesselKind

__all__ = ["with_heat_in_force"]

_DAY = 1440.0  # min from which on nothing is kept on a heat without saying so: common practice, no source


class _Force(Enum):
    """The heat that food stands in at a place of the method."""

    NONE = "none"
    OVEN = "oven"
    FLAME = "flame"


def with_heat_in_force(instructions: Sequence[Instruction]) -> tuple[Instruction, ...]:
    """The instructions of a part, with what is told without a verb settled by what was done before it."""
    found: list[Instruction] = []
    force = _Force.NONE
    for one in instructions:
        if (not one.verb or _keeps_on(one, force)) and one.mood is Mood.DO:
            before = found[-1] if found else None
            if before is not None and _wants_a_time(before, one):
                found[-1] = _timed(before, one)
                continue
            one = _settled(_without_tools(one), force)
        elif force is not _Force.NONE and _tells_how_long(one):
            heated = next((at for at in reversed(range(len(found))) if _is_heat(found[at])), None)
            if heated is not None and found[heated].minutes is None:
                found[heated] = replace(found[heated], minutes=one.minutes)
            elif heated is None:
                found.append(_settled(replace(one, mood=Mood.DO, mentions=()), force))
            continue
        elif force is _Force.FLAME and _same_water(one) is not None:
            one = replace(one, action="boil")
        found.append(one)
        force = _after(one, force)
    return tuple(found)


def _is_heat(one: Instruction) -> bool:
    return one.mood is Mood.DO and action(one.action).heat not in (Heat.NONE, Heat.WARM)


def _tells_how_long(one: Instruction) -> bool:
    """ "This will take about an hour" of what is on the heat."""
    says = one.mood is Mood.SAYS and one.verb in grammar("takes time") and one.minutes is not None
    named = [m for m in one.mentions if m.role is Role.OBJECT and not is_class(m.name, "pronoun", "tool")]
    return says and not named and action(one.action).heat is Heat.NONE


def _keeps_on(one: Instruction, force: _Force) -> bool:
    """ "Keep it there for an hour" of what is hot: it is not set aside."""
    if force is _Force.NONE or one.verb not in grammar("keeps on") or one.minutes is None or one.minutes.best >= _DAY:
        return False
    named = [m for m in one.mentions if m.role is Role.OBJECT and not is_class(m.name, "pronoun", "tool")]
    return not named and not one.vessel and _is_plain(one) and action(one.action).heat is Heat.NONE


def _same_water(one: Instruction) -> Mention | None:
    """The water that food goes into which boils already: "the fusilli goes into the same water"."""
    if not has(one.action, Trait.JOINS) or one.mood is not Mood.DO or not _is_plain(one):
        return None
    into = (m for m in one.mentions if m.role is Role.INTO and head_of(m.name) in grammar("bath"))
    return next((m for m in into if grammar("same") & set(m.text.lower().split())), None)


def _is_plain(one: Instruction) -> bool:
    return not {Mark.FRIDGE, Mark.OFF_HEAT, Mark.STANDING, Mark.FOR_LATER} & one.marks


def _wants_a_time(before: Instruction, one: Instruction) -> bool:
    """Whether what is told is how long what stands before it takes: "Simmer. 20 minutes." """
    row = action(before.action)
    lasts = row.heat not in (Heat.NONE, Heat.WARM) or row.handler in (Handler.LIE, Handler.BIND)
    named = any(m.role is Role.OBJECT and not is_class(head_of(m.name), "tool", "pronoun") for m in one.mentions)
    same_place = _is_plain(one) or row.handler is Handler.LIE
    told = one.minutes is not None and before.minutes is None
    return lasts and told and before.mood is Mood.DO and not named and same_place and not one.verb


def _timed(before: Instruction, one: Instruction) -> Instruction:
    return replace(
        before,
        text=f"{before.text}. {one.text}",
        minutes=one.minutes,
        celsius=before.celsius or one.celsius,
        core=before.core or one.core,
        marks=before.marks | one.marks,
    )


def _settled(one: Instruction, force: _Force) -> Instruction:
    if one.verb == "" and action(one.action).heat is not Heat.BY_PLACE:
        return one
    if not _is_plain(one) or (one.minutes is not None and one.minutes.best >= _DAY):
        return replace(one, action="stand")
    if force is _Force.OVEN and not {Mark.FLAME, Mark.TO_THE_BOIL, Mark.TO_THE_SIMMER} & one.marks:
        return replace(one, action="bake")
    told = one.celsius is not None or Mark.FLAME in one.marks or any(m.role is Role.OBJECT for m in one.mentions)
    if force is _Force.NONE and not told:
        return replace(one, action="stand")
    if force is not _Force.NONE:
        one = replace(one, mentions=tuple(_joining(m) for m in one.mentions))
    return replace(one, action="cook", verb="")


def _joining(one: Mention) -> Mention:
    """ "Honey butter, 1 minute" behind onions that fry: it comes to them."""
    joins = one.role is Role.OBJECT and not one.definite and not is_class(one.name, "pronoun", "everything", "rest")
    return replace(one, role=Role.WITH) if joins else one


def _without_tools(one: Instruction) -> Instruction:
    """Without the lid and the flame that words beside a time name: marks and the heat in force say them."""
    tools = [m for m in one.mentions if m.role is Role.OBJECT and is_class(head_of(m.name), "tool", "heat-level")]
    return replace(one, mentions=tuple(m for m in one.mentions if m not in tools), marks=one.marks - {Mark.KEPT})


def _after(one: Instruction, force: _Force) -> _Force:
    """The heat in force behind an instruction."""
    row = action(one.action)
    if one.mood in (Mood.NOT, Mood.IF, Mood.SAYS) or one.parallel:
        return force
    if {Mark.OFF_HEAT, Mark.FRIDGE, Mark.STANDING} & one.marks:
        return _Force.NONE
    if row.handler is Handler.VESSEL:
        return force  # an oven that is heated has nothing in it yet
    if row.heat is Heat.DRY or Mark.IN_OVEN in one.marks:
        return _Force.OVEN
    if row.heat is not Heat.NONE or Mark.FLAME in one.marks:
        return _Force.FLAME
    if VesselKind.CLOSED in one.vessel_kinds:
        return _Force.FLAME  # a slow cooker is heat and vessel
    plated = VesselKind.PLATE in one.vessel_kinds
    return _Force.NONE if row.handler in _ENDS or has(one.action, Trait.COOLS) or plated else force


_ENDS = (Handler.LIE, Handler.SERVE, Handler.BIND, Handler.RINSE, Handler.DRAIN, Handler.SQUEEZE, Handler.MAKE)
"""After these food is off the heat."""
