"""What is eaten of a food that is weighed as it is bought: bone, shell, peel and trimmings off.

A weight in the line is the weight in the shop unless its words say that what is weighed is bare already ("peeled
carrots", "boneless", "crabmeat"); cups, spoons and SR28's own pieces are edible as they stand. In order: the line's
own words; the kitchen figures of ``data/as_bought.csv``; SR28's refuse of the matched food. And what is left of a can
when its liquid is poured off.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.reference_weights import ReferenceWeight, best_figure, load_figures
from labeler.text.deferred_pattern import pattern_when_used
from labeler.types import Interval

__all__ = ["WHOLE", "drained_share", "edible_coefficient"]

WHOLE = Interval(1.0, 1.0, 1.0, "")

# Weighed bare: up to the name these words tell the edible part, or that somebody else has made it ready.
_BARE = pattern_when_used(
    r"\b(?:boneless|boned|deboned|off the bone|fillets?|filets?|ground|minced meat|meat|crabmeat|florets?|flowerets?|"
    r"hearts?|kernels|juice|pur[eé]e|paste|sauce|cutlets?|tenders?|tenderloins?|stew(?:ing)? meat|stew beef|steak|"
    r"stock|broth|soup|powder|shelled|shucked|hulled|podded|picked over|ready[- ]to[- ](?:eat|use|cook|serve)|"
    r"ready[- ]prepared|prepared|prepped|pre-?washed|pre-?trimmed|sausages?|bacon|tubes|rings|tentacles|"
    r"baby (?:spinach|arugula|rocket|kale|greens|leaf|leaves|salad|chard|carrots?|corn|lettuces?|potato(?:es)?|lima)|"
    r"chips?|flour|oil|milk|nut butter|pre-?cut|bagged|leaves|tips|concentrate|pulp|extract|flesh)\b"
)
# States in which no peel or core is left, though a bone or a shell may be.
_KEPT = pattern_when_used(r"\b(?:dried|dry|frozen|canned|tinned|jarred|cooked|roasted|smoked|pickled|cured)\b")
# Behind the name only these do; "stemmed, leaves washed" is done to what was weighed whole.
_BARE_AFTER = pattern_when_used(
    r"\b(?:boneless|boned|deboned|off the bone|ground|stew(?:ing)? meat|meat only|picked over|flesh only|"
    r"ready[- ]to[- ](?:eat|use|cook)|prepared weight|(?:peeled|trimmed|cleaned|edible|shelled|net) weight)\b"
)
# Nobody dices a bone.
_CUT_AFTER = pattern_when_used(
    r"\b(?:cubed|diced|sliced|shredded|minced|chopped|julienned|"
    r"cut (?:in|into) [^,;]*(?:cubes?|strips?|dice|slices?|chunks?|bite|inch|cm|mm)[^,;]*)\b"
)
_BONE_IN = pattern_when_used(r"\b(?:bone[- ]?in|on the bone|with bones?|bones? attached|skin[- ]on,? bone)\b")
# Done to the food by the cook when it stands behind the name, done in the shop when it stands before.
_DONE = pattern_when_used(
    r"\b(peeled|pared|cored|seeded|deseeded|pitted|stoned|stemmed|stems? removed|trimmed|topped and tailed|hulled|"
    r"husked|shucked|shelled|cleaned|deveined|scraped|hull|filleted|gutted|scaled)\b"
)
_KEYS = {
    "peeled": "peeled", "pared": "peeled", "scraped": "peeled", "deveined": "peeled", "cored": "cored",
    "seeded": "seeded", "deseeded": "seeded", "pitted": "seeded", "stoned": "seeded", "stemmed": "stemmed",
    "trimmed": "trimmed", "topped and tailed": "trimmed", "husked": "trimmed", "hulled": "trimmed", "hull": "trimmed",
    "cleaned": "trimmed", "shelled": "in shell", "shucked": "in shell", "filleted": "whole animal",
    "gutted": "whole animal", "scaled": "whole animal",
}  # fmt: skip
_CUT_BEFORE = pattern_when_used(
    r"\b(?:chopped|diced|sliced|minced|grated|shredded|cubed|crumbled|mashed|pur[eé]ed|julienned|slivered|ground|flaked|riced|"
    r"spirali[sz]ed|peeled|pared|cored|pitted|stoned|stoneless|de-?stoned|pitless|de-?stemmed|stemmed|trimmed|hulled|husked|"
    r"shelled|shucked|deveined|cleaned|topped and tailed|de-?seeded|seeded|seedless|skinless|skinned)\b"
)
_IN_SHELL = pattern_when_used(
    r"\b(?:in (?:the |their |its )?(?:shells?|pods?)|unshelled|unshucked|unpitted|shells?[- ]on|unpeeled shrimp|"
    r"in-shell|with (?:the )?shells?)\b"
)
_HEAD_ON = pattern_when_used(r"\bheads?[- ]on\b")
# What comes as the animal is, whatever was done to it: scrubbed, gutted, cooked. Nobody eats the rest of it.
_WHOLE_ANIMAL = pattern_when_used(
    r"\b(?:whole|live|entire|clusters?|claws?|legs?|in (?:the |their |its )?shells?|shells?[- ]on|heads?[- ]on)\b"
)
_SCRUBBED = pattern_when_used(r"\b(?:cleaned|scrubbed|de-?bearded|gutted|scaled|dressed|eviscerated)\b")
_SHELLED = pattern_when_used(
    r"\b(?:shelled|shucked|meat|out of (?:the )?shells?|peeled|fillets?|filleted|flesh|picked)\b"
)

_BONE_PERCENT = pattern_when_used(r"(\d+(?:\.\d+)?)\s*%\s*bone|bone[^,;\d]*?(\d+(?:\.\d+)?)\s*%", re.IGNORECASE)

# Foods whose SR28 refuse is a peel or core that no kitchen keeps; elsewhere refuse may be trimming, and the whole
# weight stays possible.
_SHELLS = 1200
# Dairy, fats, sauces, baked food, sweets, dishes: made, so that a word that only flavours one ("garlic soft cheese")
# tells nothing of what is thrown away of it.
_MADE = (100, 300, 400, 600, 700, 800, 1400, 1800, 1900, 2100, 2200, 2500, 3600)
_FLESH = (500, 1000, 1300, 1700)
_SEAFOOD = 1500
_POULTRY = 500
_ANIMALS = (_POULTRY, _SEAFOOD)


@lru_cache(maxsize=8192)
def edible_coefficient(food: str, name: tuple[str, ...], before: str, after: str, *, counted: bool = False) -> Interval:
    """Share of a bought weight that is eaten, in [0, 1].

    Parameters
    ----------
    food : str
        Table id.
    name : tuple of str
        Normal words of the food in the cook's words.
    before, after : str
        What the line says in lower case up to and with the food's name, and behind it: "peeled carrots" are weighed
        bare, "carrots, peeled" are not.
    counted : bool
        Whether the weight is of a number of them: "2 cooked crabs (2 lb each)" are weighed in their shells.

    Returns
    -------
    Interval
        (1, 1, 1) with an empty basis where nothing is taken off.
    """
    table = load_table()
    row = table.position[food]
    group = int(table.group_codes[row])
    rows = load_figures("as_bought.csv")
    animal = _whole_animal(rows, name, group, before, after, counted)
    if animal is not None:
        return animal
    text = f"{before} {after}"
    bone_in = bool(_BONE_IN.search(text))
    shell = bool(_IN_SHELL.search(text))
    if not bone_in and not shell and (_BARE.search(before) or _CUT_BEFORE.search(before) or _BARE_AFTER.search(after)):
        return WHOLE
    keys = ["bone-in"] if bone_in else []
    keys += ["in shell"] if shell else []
    keys += ["head on"] if _HEAD_ON.search(text) else []
    keys += [_KEYS[word] for word in _DONE.findall(after) if word in _KEYS]
    found = [figure for key in keys if (figure := best_figure(rows.get(key, ()), name, group))]
    if not found:
        plain = best_figure(rows["weight"], name, group)
        found = [plain] if plain else []
    if group in _MADE:
        found = [figure for figure in found if figure.wanted & set(name[-1:])]
    if group == _POULTRY and not bone_in and _CUT_AFTER.search(after):
        return WHOLE
    if _KEPT.search(before) and not bone_in and not shell and group not in _FLESH:
        return WHOLE
    if found:
        least = min(found, key=lambda figure: figure.value.best)
        return least.value
    return WHOLE if _KEPT.search(before) else _refuse(row, group)


def _whole_animal(
    rows: Mapping[str, tuple[ReferenceWeight, ...]],
    name: tuple[str, ...],
    group: int,
    before: str,
    after: str,
    counted: bool,
) -> Interval | None:
    """What is eaten of a whole fish, bird or shellfish that was weighed as it is; None where it was not."""
    if group not in _ANIMALS:
        return None
    text = f"{before} {after}"
    shelled = _SHELLED.search(before) or (_SHELLED.search(text) and group != _SEAFOOD)
    if shelled:
        return None
    keys = ["whole animal"] if _WHOLE_ANIMAL.search(text) else []
    keys += ["counted"] if counted else []
    keys += ["scrubbed"] if _SCRUBBED.search(text) else []
    found = (best_figure(rows[key], name, group) for key in keys)
    return next((figure.value for figure in found if figure is not None and figure.wanted), None)


def _refuse(row: int, group: int) -> Interval:
    table = load_table()
    percent = float(table.refuse_percent[row])
    if not percent > 0 or group == _SHELLS:
        return WHOLE
    what = table.refuse_descriptions[row]
    if group in _FLESH:
        # SR28 says some bones twice over: "Bone and cartilage 33%, Bone and connective tissue 33%".
        bone = [float(one or two) for one, two in _BONE_PERCENT.findall(what)]
        percent = sum(set(bone)) if bone else percent if what.lower().startswith("bone") else 0.0
        if not percent:
            return WHOLE
        # Red meat is mostly sold boned and poultry parts both ways, so the bare weight stays possible.
        share = 1 - percent / 100
        likely = share if group == 500 else 1 - percent / 300
        return Interval(
            likely, share, 1.0, f"bone is {percent:g} % of the food as bought (SR28 refuse), if it is bought bone-in"
        )
    share = 1 - percent / 100
    room = min(1.0, share + 0.1)
    return Interval(
        share, max(0.0, share - 0.05), room, f"refuse is {percent:g} % of the food as bought (SR28: {what.lower()})"
    )


@lru_cache(maxsize=2048)
def drained_share(name: tuple[str, ...], group: int) -> Interval:
    """Share of a can's net weight that is left when its liquid is poured off, in [0, 1]."""
    rows = load_figures("drained.csv")
    figure = best_figure(rows["can"], name, group)
    assert figure is not None  # the file ends with a row for any food, which its test holds
    return figure.value
