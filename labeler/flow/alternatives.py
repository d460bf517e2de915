"""R9: of several ways to do something the first is done, and the others are left out."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.flow.choices import Choices, Doubt, Option, Question
from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.instructions.model import Instruction

__all__ = ["one_way_of_each"]

_FIRST = 0.55  # what is named first is what the recipe is for, a little more likely: a choice, no source


def one_way_of_each(
    instructions: Sequence[Instruction], choices: Choices
) -> tuple[tuple[Instruction, ...], tuple[Instruction, ...]]:
    """The instructions without those that are done instead of others, and those.

    "Bake the potatoes or fry them in the oil" is one or the other; "Alternatively, ..." is in place of the whole
    sentence before it. "Chill for an hour, or fry at once" are no two ways to do one thing: what heats is done.
    """
    left_out: set[int] = set()
    for at, one in enumerate(instructions):
        if not one.instead or at in left_out:
            continue
        ways = [way for way in _ways(instructions, at) if way and not left_out.intersection(way)]
        if len(ways) < 2 or not _do_the_same([[instructions[place] for place in way] for way in ways]):
            continue
        rest = (1.0 - _FIRST) / (len(ways) - 1)
        options = [Option(instructions[way[0]].text, rest if place else _FIRST) for place, way in enumerate(ways)]
        taken = choices.pick(Question(Doubt.INSTEAD, one.span), options)
        left_out.update(place for number, way in enumerate(ways) if number != taken for place in way)
    taken_ways = tuple(one for at, one in enumerate(instructions) if at not in left_out)
    return taken_ways, tuple(instructions[at] for at in sorted(left_out))


def _do_the_same(ways: Sequence[Sequence[Instruction]]) -> bool:
    """Whether all ways heat, or none does and all begin with an act of one kind: one of them can stand for another."""
    heated = {any(action(one.action).heat is not Heat.NONE for one in way) for way in ways}
    return heated == {True} or (heated == {False} and len({action(way[0].action).handler for way in ways}) == 1)


def _ways(instructions: Sequence[Instruction], at: int) -> list[list[int]]:
    """Places of what is done first, and of each thing that may be done instead."""
    one = instructions[at]
    sentence = [place for place, other in enumerate(instructions) if other.sentence == one.sentence]
    before = [place for place in sentence if place < at]
    if not before:
        said = instructions[at - 1].sentence if at else -1
        return [[place for place in range(at) if instructions[place].sentence == said], sentence]
    start = next((place for place in reversed(before) if not instructions[place].adjunct), before[0])
    end = next((place for place in sentence if place > at and not instructions[place].adjunct), sentence[-1] + 1)
    ways = [list(range(start, at)), list(range(at, end))]
    while start > before[0] and _is_one_more(instructions[start - 1], one):
        start -= 1
        ways.insert(0, [start])  # "boil, steam or roast the beets"
    return ways


def _is_one_more(before: Instruction, one: Instruction) -> bool:
    """Whether two heats share their objects, so that they stand in one list of ways."""
    heated = action(before.action).heat is not Heat.NONE and action(one.action).heat is not Heat.NONE
    return heated and before.mentions == one.mentions
