"""How a step was worked out, in one short sentence of the trade's words; the full account stands in the worksheet."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.cooking.state.reckoning import Account, Ground, written
from labeler.parsing.instructions.actions import Trait, actions

__all__ = ["in_short"]

# How that is known, the surest first.
_KNOWN = {
    Ground.MEASURED: "as you measured it",
    Ground.STATED: "as the recipe says",
    Ground.ABSORBED: "by the liquid it takes up",
    Ground.SALT_DRAWS: "salt goes in by time and thickness, and juice comes out; a wide guess",
    Ground.DIFFUSION: "by the strength of the liquid, the time and the size of the pieces",
    Ground.PUBLISHED: "by published losses",
    Ground.USUAL: "by what is usual; a guess",
}
# What says all that there is to say where the account begins with it.
_ALL_THERE_IS = {
    Ground.NOTHING: "there was nothing to take",
    Ground.NO_LOSS: "nothing is lost that counts",
}


def in_short(name: str, account: Sequence[Account]) -> str:
    """One short sentence for a step.

    Parameters
    ----------
    name : str
        Id of an action; empty for what a line itself says.
    account : sequence of Account
        How it was worked out, in full.
    """
    if account and account[0].ground in _ALL_THERE_IS:
        return _ALL_THERE_IS[account[0].ground]
    grounds = {one.ground for one in account}
    row = actions().get(name)
    if row is not None and Trait.PLAIN in row.traits:
        grounds &= {Ground.MEASURED}
    known = next((words for ground, words in _KNOWN.items() if ground in grounds), "")
    return ", ".join(part for part in (row.done if row is not None else "", known) if part) or written(account)
