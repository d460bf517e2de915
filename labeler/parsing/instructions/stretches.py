"""Stretches of the ingredient list that the method names by where they stand: "the next 5 ingredients", "(flour
through salt)".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.parsing import numbers
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.model import Mention, Quantity, Stretch
from labeler.text.plurals import singular

__all__ = ["with_stretches"]


def with_stretches(mentions: Sequence[Mention], text: str, foods: frozenset[str]) -> list[Mention]:
    """The mentions of a clause, those that name a stretch of the list as one each.

    Parameters
    ----------
    mentions : sequence of Mention
    text : str
        The words of the clause.
    foods : frozenset of str
        Words that the ingredient list uses for foods.

    Examples
    --------
    "Add water and next 5 ingredients (water through garlic)" names six lines, the first of them the water.
    """
    found: list[Mention] = []
    said = " ".join(text.lower().split())
    for one in mentions:
        before = found[-1] if found else None
        counted, phrase = _counted(one, said)
        if counted is not None:
            begins = before is not None and not counted.first and f"{before.text} and {phrase}".lower() in said
            if before is not None and begins and _is_food(before, foods):
                found[-1] = _named(before, replace(counted, begins=before.name, count=counted.count + 1))
            else:
                found.append(_named(one, counted))
        elif before is not None and _runs_through(before, one, said) and _is_food(one, foods):
            if _is_food(before, foods) and len(found) > 1 and (told := found[-2].stretch) is not None:
                found[-2:] = [_named(found[-2], replace(told, begins=before.name, ends=one.name))]
            elif _is_food(before, foods):
                found[-1] = _named(before, Stretch(before.name, one.name))
            else:
                found.append(one)
        else:
            found.append(one)
    return found


def _counted(one: Mention, said: str) -> tuple[Stretch | None, str]:
    """ "The first 3 ingredients": how many lines, and from where; with the phrase as it stands in the clause."""
    told, place = one.text.lower(), grammar("place in a list")
    if singular(told.rsplit(" ", 1)[-1]) != "ingredient":
        return None, told
    phrase = next((f"{word} {told}" for word in sorted(place) if f"{word} {told}" in said), told)
    words = [word for word in phrase.split() if word not in grammar("definite")]
    count = numbers.read_quantity(" ".join(words[1:-1]), 0) if words[0] in place else None
    if count is None or count.low < 1.0:
        return None, told
    return Stretch(count=round(count.low), first=words[0] in grammar("first in a list")), phrase


def _runs_through(one: Mention, other: Mention, said: str) -> bool:
    return (
        f"({one.text} through {other.text}".lower() in said
    )  # outside a bracket it is "stir the dill through the rice"


def _is_food(one: Mention, foods: frozenset[str]) -> bool:
    return any(singular(word) in foods for word in one.name.lower().split())


def _named(one: Mention, stretch: Stretch) -> Mention:
    return replace(one, stretch=stretch, members=(), quantity=Quantity(), definite=True)
