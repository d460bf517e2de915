"""What the words of an instruction say of where it goes: into a food, through a sieve; and of the flame."""

from __future__ import annotations

from dataclasses import replace

from labeler.parsing.instructions.actions import Trait, has
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mention, Role
from labeler.text.plurals import singular

__all__ = ["into_its_object", "is_placed", "runs", "through_sieve", "turns_down"]

_SIEVE_NEAR = 4  # words from "through" to the sieve: "a very fine sieve"


def through_sieve(made: Instruction) -> bool:
    """ "Pour it through a sieve", "pass the liquor through a fine sieve into a clean pan"."""
    behind = made.text.lower().partition(" through ")[2].split()[:_SIEVE_NEAR]
    return any(is_class(singular(word.strip(",.;:")), "sieve") for word in behind)


def runs(objects: list[Mention]) -> bool:
    """Whether what is passed through a sieve is called a liquid."""
    return any(is_class(head_of(one.name), "product-liquid", "byproduct-liquid") for one in objects)


def into_its_object(made: Instruction) -> Instruction:
    """Where what was made goes into a food: "pour into the pastry case" pours nothing but what was in hand."""
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    if not has(made.action, Trait.INTO_OBJECT) or made.particle != "into" or made.vessel or len(objects) != 1:
        return made
    (target,) = objects
    if is_class(head_of(target.name), "pronoun", "tool", "vessel-") or not target.definite:
        return made  # "scrape into a bowl", "spoon into moulds"
    mentions = tuple(replace(one, role=Role.INTO) if one is target else one for one in made.mentions)
    return replace(made, action="add", mentions=mentions)


def turns_down(made: Instruction) -> bool:
    """Whether it is the flame that is made smaller, and nothing boiled away."""
    said = made.text.lower()
    told = [one for one in made.mentions if not is_class(one.name, "vessel-")]
    flame = [one for one in told if is_class(head_of(one.name), "heat-source")]
    return (
        bool(flame)
        and len(flame) == len(told)
        and all(one.role is Role.OBJECT or one.text.lower() in said.partition(" to ")[2] for one in flame)
    )


def is_placed(made: Instruction) -> bool:
    """Whether the words say where something goes."""
    return bool(made.vessel or made.particle) or any(one.role is Role.INTO for one in made.mentions)
