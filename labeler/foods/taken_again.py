"""Lines of a list that is given step by step which name again what an earlier line counts: "Browned beef", "Chicken".

Where each step has its own list, the lists say what goes in, new or made before. What is new has an amount; a line
without one that speaks of food that was done to ("shredded chicken"), of the flesh that an earlier line weighs, or of
what is left of it ("shrimp shells") is the same food again.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.match import match_food
from labeler.foods.matching.name_words import words
from labeler.parsing.line_words import ADVERBS, PREPARATIONS
from labeler.parsing.model import Line, Part

__all__ = ["given_step_by_step", "taken_again"]

_FEWEST_LISTS = 3
_FLESH = frozenset([500, 700, 1000, 1300, 1500, 1700])  # SR28 food groups
_LEFT = frozenset(words("shells bones peels skins trimmings heads rinds"))
_DONE = re.compile(r"\w{3,}ed")
_RAW = frozenset(["salted", "unsalted", "dried", "canned", "smoked", "cured", "sweetened", "unsweetened", "pickled"])


def given_step_by_step(part: Part) -> bool:
    """Whether several steps of a part open a list of its lines: "Brown in a pan: chicken, butter"."""
    names = {line.name for line in part.lines}
    lists = [step.text.partition(": ")[2].rstrip(".").split(", ") for step in part.handling]
    return sum(names.issuperset(one) for one in lists) >= _FEWEST_LISTS


def taken_again(line: Line, above: Sequence[Line]) -> Line | None:
    """The earlier line that counts the food of one without an amount; None where it is new.

    Parameters
    ----------
    line : Line
    above : sequence of Line
        Those before it, in order.
    """
    if line.amounts or line.to_taste or line.optional or line.purpose is not None or not line.name.strip():
        return None
    written = f"{line.preparation} {line.name}".lower().split()
    done = {word for word in written if _is_done(word.strip(",;"))}
    key = set(words(" ".join(word for word in line.name.split() if word.lower() not in done)))
    left = key & _LEFT
    if not key - left or not (done or left or _is_flesh(line.name)):
        return None
    return next((one for one in above if one.amounts and key - left <= set(words(one.name))), None)


def _is_done(word: str) -> bool:
    """Whether a word says that something was done to the food before this step."""
    return word not in _RAW and word not in ADVERBS and (word in PREPARATIONS or _DONE.fullmatch(word) is not None)


def _is_flesh(name: str) -> bool:
    food = match_food(name).food
    table = load_table()
    return food is not None and int(table.group_codes[table.position[food]]) in _FLESH
