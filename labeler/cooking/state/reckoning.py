"""How a step was worked out: in words for the full account, and on what ground, by which it is told in short."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import NamedTuple

__all__ = ["Account", "Ground", "reckoned", "written"]


class Ground(Enum):
    """What a figure of a step rests on."""

    MEASURED = "measured by the cook"
    STATED = "stated by the recipe"
    ABSORBED = "liquid that is taken up"
    SALT_DRAWS = "salt or sugar draws water out"
    DIFFUSION = "diffusion"
    PUBLISHED = "published tables"
    USUAL = "common practice"
    NOTHING = "there is nothing to take"
    NO_LOSS = "nothing is lost that counts"
    PLAIN = "needs no ground"


class Account(NamedTuple):
    """One sentence of how a step was worked out.

    Parameters
    ----------
    text : str
        Tier, formula or table, and source, to show.
    ground : Ground
        What it rests on.
    """

    text: str
    ground: Ground = Ground.PLAIN


def reckoned(text: str, ground: Ground = Ground.PLAIN) -> tuple[Account, ...]:
    """An account of one sentence."""
    return (Account(text, ground),)


def written(account: Iterable[Account]) -> str:
    """The full account in one line, to show."""
    return "; ".join(one.text for one in account if one.text)
