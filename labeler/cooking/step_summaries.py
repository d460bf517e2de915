"""How a step was worked out, in one short sentence of the trade's words; the full account stands in the worksheet."""

from __future__ import annotations

import re

__all__ = ["in_short"]

# What was done, by action.
_DONE = {
    "soak": "soaked", "brine": "brined", "marinate": "marinated", "pickle": "pickled", "cure": "cured",
    "stand": "left to stand",
    "drain": "the liquid is poured off; what clings stays", "rinse": "what clings is rinsed away",
    "pat": "what lies on the food is wiped off", "squeeze": "part of the juice is pressed out",
    "strain": "the solids go, the liquid stays", "skim": "most of the fat is skimmed off",
    "keep": "the liquid is poured off and kept",
    "discard": "it goes with what it has taken up", "lift": "it goes with what it has taken up",
    "reduce": "boiled down as said", "dry": "dried", "thin": "water is added", "weigh": "weighed", "lose": "weighed",
    "left": "what is left was measured",
}  # fmt: skip
_COOKED = {
    "roast": "roasted", "bake": "baked", "broil": "grilled", "toast": "toasted", "smoke": "smoked", "pan-fry": "fried",
    "stir-fry": "stir-fried", "deep-fry": "deep-fried", "boil": "boiled", "simmer": "simmered", "braise": "braised",
    "steam": "steamed", "blanch": "blanched", "microwave": "cooked in the microwave", "heat": "heated",
    "flame": "flamed",
}  # fmt: skip
# Of these nobody asks how it is known, unless it was measured.
_PLAIN = frozenset(["drain", "keep", "rinse", "pat", "strain", "discard", "lift", "thin"])
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


def in_short(action: str, method: str) -> str:
    """One short sentence for a step.

    Parameters
    ----------
    action : str
        One of the actions of handling; empty for what a line itself says.
    method : str
        The full account of it.
    """
    for pattern, words in _FIXED:
        if re.search(pattern, method):
            return words
    done = _DONE.get(action) or _COOKED.get(action, "")
    known = next((words for pattern, words in _KNOWN if re.search(pattern, method)), "")
    if action in _PLAIN and known != "as you measured it":
        known = ""
    return ", ".join(part for part in (done, known) if part) or method
