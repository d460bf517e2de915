"""The same method, read otherwise where its words leave something open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from labeler.flow.build import build_part
from labeler.flow.choices import Question
from labeler.flow.model import Flow, PartFlow, Reading
from labeler.foods.model import WeighedRecipe
from labeler.parsing.instructions.parser import read_method

__all__ = ["answers_of", "other_ways", "read_as", "settled"]


def answers_of(part: PartFlow) -> Mapping[Question, int]:
    """How the open questions of a part were answered, where that is not by the first option."""
    return {one.question: one.taken for one in part.choices if one.taken}


def other_ways(flow: Flow, *, least: float = 0.0) -> Iterator[tuple[int, Reading]]:
    """Every other way to read a flow that changes one answer: the place of its part, and the reading.

    Parameters
    ----------
    flow : Flow
    least : float
        The ways of a question that are less likely than that together are left out; the likeliest come first.
    """
    ways = [
        (at, Reading(option.weight, choice, number))
        for at, part in enumerate(flow.parts)
        for choice in part.choices
        for number, option in enumerate(choice.options)
        if number != choice.taken and 1.0 - choice.options[choice.taken].weight >= least
    ]
    yield from sorted(ways, key=lambda way: -way[1].probability)


def settled(flow: Flow, question: Question) -> Flow:
    """The flow as if one question were answered as it is read."""
    return Flow(
        tuple(
            replace(
                part,
                choices=tuple(one for one in part.choices if one.question != question),
                readings=tuple(one for one in part.readings if one.choice.question != question),
            )
            for part in flow.parts
        )
    )


def read_as(weighed: WeighedRecipe, flow: Flow, at: int, reading: Reading, *, market: str) -> Flow:
    """The flow with the part at a place read another way; equal to `flow` where that changes nothing of it.

    Parameters
    ----------
    weighed : WeighedRecipe
        As the flow was built for it.
    flow : Flow
    at : int
        Place of the part.
    reading : Reading
    market : str
        Whose cups and spoons.
    """
    part = flow.parts[at]
    answers = {**answers_of(part), reading.choice.question: reading.option}
    method = read_method(weighed.recipe.parts[at], market=market)
    built = build_part(weighed.parts[at], method, market=market, dish=weighed.recipe.title, answers=answers)
    same = replace(built, choices=part.choices, readings=part.readings, namings=part.namings) == part
    built = replace(built, readings=part.readings)
    return flow if same else Flow((*flow.parts[:at], built, *flow.parts[at + 1 :]))
