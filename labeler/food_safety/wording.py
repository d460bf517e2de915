"""What only the words of a recipe tell of food safety: patterns for raw dishes, cutting, jars, cold, room, filling.

`from_flow` alone reads a recipe's words with them; everything that a flow tells is taken from there.
"""

from __future__ import annotations

import re

from labeler.food_safety.model import FoodKind

__all__ = [
    "AFTER_OPENING",
    "BAKED_LATER",
    "COLD",
    "CUTTING",
    "FERMENTS",
    "IN_FAT",
    "IN_OIL",
    "JAR",
    "KEEPING",
    "OVER_HEAT",
    "PINK",
    "RAW_MEANT",
    "RAW_TITLE",
    "ROOM",
    "STUFFED",
    "TAKEN_OUT",
    "UNTIL_IT_SETS",
    "VACUUM",
]

PINK = re.compile(
    r"(?<!no longer )(?<!not )\b(?:(?:still|slightly|just|barely|a little) pink|"
    r"pink (?:inside|in the (?:middle|cent)))\b",
    re.IGNORECASE,
)
"""Words by which a food is left underdone."""
OVER_HEAT = re.compile(
    r"\b(?:over|in)\b[^.;]*\b(?:simmering|boiling|hot) water\b|\bover (?:an? )?(?:very )?(?:low|gentle|medium) heat\b|"
    r"\bheat(?:ed)? (?:very )?(?:gently|slowly|through)\b|\bgently heat(?:ed)?\b|\bdouble boiler\b|\bbain[- ]marie\b",
    re.IGNORECASE,
)
UNTIL_IT_SETS = re.compile(r"\b(?:until|till)\b[^.;]*\b(?:thick\w*|coats?|sets?|boils?|8[2-9])\b", re.IGNORECASE)
"""Beside words of heat: an egg that has thickened what it is in is cooked (73 to 82 °C; common practice, no source)."""
RAW_MEANT = re.compile(
    r"\b(?:sashimi|sushi|tartare?|carpaccio|crudo|ceviche|cebiche|tiradito|gravad\w*|gravlax|poke|kitfo|yukhoe|"
    r"kibbeh nayyeh|mett)\b",
    re.IGNORECASE,
)
RAW_TITLE = re.compile(
    r"\b(?:tartare?|carpaccio|crudo|ceviche|cebiche|tiradito|sashimi|sushi|nigiri|maki|poke|gravad\w*|gravlax|raw)\b",
    re.IGNORECASE,
)
CUTTING = re.compile(
    r"\b(?:chop|blend|blitz|pur[eé]e|process|grind|mash|crush|slice|halve|quarter|dice|mince|grate|shred|pulse|"
    r"li[qQ]uidi[sz]e|pound|flake|cut|tear|cube|wedge|break)\w*\b|\bhalv\w+\b",
    re.IGNORECASE,
)
TAKEN_OUT = {
    FoodKind.BONES: re.compile(
        r"\b(?:bone|debone|bon(?:ed|ing)|fillet|shred|pull(?:ed)?|pick)\b|"
        r"\b(?:discard|remove|strain|lift|take|pull)\w*\b[^.;]*\b(?:bones?|carcass|solids|them|it)\b|\bstrain\w*\b|\bsieve\b",
        re.IGNORECASE,
    ),
    FoodKind.SHELLS: re.compile(
        r"\b(?:shell(?:ed|ing)?|shuck\w*|peel\w*|pick(?:ed)?)\b|"
        r"\b(?:discard|remove|strain|lift|take|throw)\w*\b[^.;]*\b(?:shells?|them)\b|\bout of (?:the|their) shells?\b|"
        r"\bshells? (?:is|are) (?:discarded|removed|taken off|thrown away)\b",
        re.IGNORECASE,
    ),
    FoodKind.STONES: re.compile(
        r"\b(?:pit|pitt?ed|stone|stoned|stoning|de-?stone\w*|destone\w*)\b|"
        r"\b(?:discard|remove|strain|sieve|take|lift)\w*\b[^.;]*\b(?:stones?|pits?|kernels?)\b|\bsieve\b",
        re.IGNORECASE,
    ),
}  # fmt: skip
JAR = re.compile(
    r"\b(?:jars?|bottles?|bottled|bottling|preserved?|canning|canner|mason|kilner|sterili[sz]ed|hermetically|"
    r"water[- ]bath (?=can)|process\w* (?:in|for)\b[^.;]*\bwater[- ]bath|"
    r"(?:hot[- ])?fill(?:ed)? and seal|for the (?:cupboard|pantry|shelf|larder)|shelf[- ]stable|pot up|cans)\b|"
    r"\bseal(?:ed)?\b(?=[^.;]*\b(?:jars?|bottles?|lids?|tight\w*|airtight|hot)\b)|\b(?:fill|pot|lid)\w* and seal\b",
    re.IGNORECASE,
)
COLD = re.compile(r"\b(?:cold|refrigerat\w*|chill\w*|fridge|frozen|freez\w*|[0-8] ?°? ?c)\b", re.IGNORECASE)
KEEPING = re.compile(
    r"\b(?:keep|keeps|kept|store|stored|storage|lasts?|up to|weeks?|months?|days|serve (?:cold|chilled))\b",
    re.IGNORECASE,
)
ROOM = re.compile(
    r"\b(?:room temperature|ambient|cupboard|pantry|larder|cool,? (?:and )?(?:dry|dark)|dry,? (?:and )?(?:cool|dark)|"
    r"dark place|on the (?:shelf|counter|worktop|table)|unrefrigerated|no need to refrigerate|shelf[- ]stable)\b",
    re.IGNORECASE,
)
AFTER_OPENING = re.compile(r"\b(?:once|after|when) open(?:ed|ing)?\b[^.;]*", re.IGNORECASE)
FERMENTS = re.compile(r"\b(?:ferment\w*|lacto\w*|sauerkraut|kimchi|kraut)\b", re.IGNORECASE)
VACUUM = re.compile(r"\b(?:vacuum|vac)[- ]?(?:pack|seal|bag)\w*|\bvacuum\b", re.IGNORECASE)
IN_OIL = re.compile(r"\b(?:oil|confit|chilli crisp|chili crisp)\b", re.IGNORECASE)
IN_FAT = re.compile(r"\b(?:butter|ghee|dripping|lard|rillettes|potted)\b", re.IGNORECASE)
STUFFED = re.compile(r"\b(?:stuff(?:ed|ing)?|fill (?:the|each))\b", re.IGNORECASE)
BAKED_LATER = re.compile(r"\b(?:starter|levain|poolish|biga|sourdough culture)\b", re.IGNORECASE)
"""Titles of what is made of raw flour and eaten only when something has been baked of it."""
