"""Methods of a small recipe of our own, read into instructions."""

from __future__ import annotations

from labeler.parsing import read_recipe
from labeler.parsing.instructions.model import Instruction, Mood
from labeler.parsing.instructions.parser import Method, read_method
from labeler.parsing.model import Handling, Part

__all__ = ["deeds", "method_of", "only", "read", "steps"]

LISTED = """- 1 kg lamb shoulder
- 2 leeks
- 3 parsnips
- 1 tbsp oil
- 1 tsp salt
- 400 g fusilli
- 1 litre stock
- 200 g kale
- 50 g feta
- 100 g honey
- 1 chilli
- 2 sprigs rosemary
- 300 g prawns
- 50 g butter
- 100 ml cream
"""


def method_of(text: str, listed: str = LISTED) -> Method:
    """A method, with the foods of a list that stands above it."""
    recipe = read_recipe(f"---\ntitle: A trial\nserves: 2\n---\n{listed}\n## Method\n{text}\n")
    return read_method(recipe.parts[0], market="us")


def deeds(text: str, listed: str = LISTED) -> list[Instruction]:
    """What is done, where everything was read."""
    method = method_of(text, listed)
    assert not method.unread, method.unread
    return [one for one in method.instructions if one.mood in (Mood.DO, Mood.MAY)]


def read(text: str, *, market: str = "us") -> Method:
    """A method of which no list of foods is known."""
    return read_method(Part("", (), (Handling(text, 1, 0),), 1), market=market)


def steps(text: str) -> list[Instruction]:
    """What is done, or may be, in a method that is read whole."""
    method = read(text)
    assert not method.unread, method.unread
    return [one for one in method.instructions if one.mood in (Mood.DO, Mood.MAY)]


def only(text: str) -> Instruction:
    """The one thing that is done."""
    (step,) = steps(text)
    return step
