"""Water that food is over: in a basket, a bowl or a sieve above a pan of water, and not in it."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.parsing.instructions.clauses import Clause
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Mark
from labeler.parsing.instructions.sentences import Token

__all__ = ["over_water"]

_ABOVE, _HOT = grammar("stands above"), grammar("hot water")


def over_water(tokens: Sequence[Token], clause: Clause) -> frozenset[Mark]:
    """The mark of a clause that sets food over water, whose words for what is below are taken out of it.

    "Put the beans in a basket over a pot of boiling water", "whisk over simmering water". A verb right before the
    preposition pours something over what follows, and nothing is below.
    """
    for runs in (clause.body, clause.evidence):
        for place, (start, end) in enumerate(tuple(runs)):
            for at in range(start, end):
                behind = _behind_water(tokens, clause, at, end)
                if behind is not None:
                    runs[place : place + 1] = [(start, at), (behind, end)]
                    return frozenset([Mark.OVER_WATER])
    return frozenset()


def _behind_water(tokens: Sequence[Token], clause: Clause, at: int, end: int) -> int | None:
    """Place behind the water that the words from a preposition on put food over; None where they do not."""
    water = next((place for place in range(at + 2, end) if tokens[place].text == "water"), None)
    if tokens[at].text not in _ABOVE or water is None:
        return None
    heated = tokens[water - 1].text in _HOT
    held = any(is_class(token.text, "vessel-") for token in tokens[at + 1 : water])
    poured = clause.verb is not None and at == clause.verb.end
    return water + 1 if heated or (held and not poured) else None
