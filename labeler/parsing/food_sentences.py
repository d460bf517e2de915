"""What the words of a line and of the method tell of one food: cooked when it is bought, cut, its bones taken out.

Food safety asks this beside what the flow says; it gets members of `Saying` and reads no text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from labeler.parsing.handling_words import Saying, sayings
from labeler.parsing.instructions.model import Instruction, Role
from labeler.text.stems import head_and_aside
from labeler.text.tokens import BREAK, tokens

__all__ = ["told_of_food", "told_of_line", "told_of_no_other"]

Says = frozenset[Saying]


def told_of_line(name: str, beside: str) -> Says:
    """What the words of an ingredient line tell of its food.

    Parameters
    ----------
    name : str
        Of the food. A name that ends in "roast" is that of a joint; a sauce is no dish of raw food.
    beside : str
        Everything else that the line says of it; empty for nothing.
    """
    words = tokens(name)
    told = sayings(f"{name}, {beside}" if beside else name)
    if words[-1:] == [_JOINT]:
        kind, _, _ = name.rpartition(" ")
        told = (told - {Saying.COOKED_BEFORE}) | (sayings(f"{kind}, {beside}") & {Saying.COOKED_BEFORE})
    if not _stands_whole(name, beside):
        told -= {Saying.WHOLE}
    return told - {Saying.EATEN_RAW} if _SAUCE in words else told


def _stands_whole(name: str, beside: str) -> bool:
    """Whether the food itself is whole: by its name, or by a clause that says no more of it ("left whole").

    "Poached in whole milk" and "1 whole pack" speak of the milk and of the pack.
    """
    if Saying.WHOLE in sayings(head_and_aside(name)[0]):
        return True
    clauses = (head_and_aside(one.strip())[0] for one in _CLAUSES.split(beside))
    return any(Saying.WHOLE in sayings(" ".join(one.split()[-1:])) for one in clauses)


_CLAUSES = re.compile(r"[,;()]|\band\b")

_JOINT, _SAUCE = "roast", "sauce"


def told_of_food(name: str, sentences: Iterable[str]) -> tuple[Says, ...]:
    """What each sentence of a part tells that names a food, or bones, shells and stones.

    Parameters
    ----------
    name : str
        Of the food.
    sentences : iterable of str
        Of the method of its part.
    """
    named = frozenset(tokens(name)) - {BREAK}
    told = ((tokens(sentence), sayings(sentence)) for sentence in sentences)
    return tuple(tells for words, tells in told if Saying.REMAINS in tells or not named.isdisjoint(words))


def told_of_no_other(names: Iterable[str], done: Sequence[Instruction]) -> tuple[Says, ...]:
    """What each instruction of a part tells whose object is none of some other foods: it may be about any.

    Parameters
    ----------
    names : iterable of str
        Of the other foods of the part.
    done : sequence of Instruction
    """
    others = {word for name in names for word in tokens(name)} - {BREAK}
    return tuple(
        sayings(one.text)
        for one in done
        if others.isdisjoint(
            word for stated in one.mentions if stated.role is Role.OBJECT for word in tokens(stated.name)
        )
    )
