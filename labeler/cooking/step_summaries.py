"""How a step was worked out, in one short sentence of the trade's words; the full account stands in the worksheet."""

from __future__ import annotations

import re

from labeler.parsing.instructions.actions import Trait, actions

__all__ = ["in_short"]

# How that is known, by what the full account says, the surest first.
_KNOWN = (
    (r"measured|retention as stated", "as you measured it"),
    (r"as stated|loss as stated", "as the recipe says"),
    (r"concentration × absorbed", "by the liquid it takes up"),
    (r"salt draws", "salt goes in by time and thickness, and juice comes out; a wide guess"),
    (r"diffusion", "by the strength of the liquid, the time and the size of the pieces"),
    (r"SR28|USDA|published|Sheard|Jones", "by published losses"),
    (r"common practice|guess|second-hand|boils off|pressed out|free fat", "by what is usual; a guess"),
)
_FIXED = (
    (r"^nothing (?:to pour off|clings)|^no liquid|^nothing in the pot", "there was nothing to take"),
    (r"^no (?:salt or sugar|loss is known)|^brought to heat|^steamed:", "nothing is lost that counts"),
)


def in_short(name: str, method: str) -> str:
    """One short sentence for a step.

    Parameters
    ----------
    name : str
        Id of an action; empty for what a line itself says.
    method : str
        The full account of it.
    """
    for pattern, words in _FIXED:
        if re.search(pattern, method):
            return words
    row = actions().get(name)
    known = next((words for pattern, words in _KNOWN if re.search(pattern, method)), "")
    if row is not None and Trait.PLAIN in row.traits and known != "as you measured it":
        known = ""
    return ", ".join(part for part in (row.done if row is not None else "", known) if part) or method
