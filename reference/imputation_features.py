"""What the imputation knows of a food: its composition, its group, the words of its description, its twins.

Used by `build_imputation.py` alone. A food's *twins* are the other forms of the same food: entries whose descriptions
differ only in words of form, state, size, cut or trim.
"""

from __future__ import annotations

import re

import numpy as np
from numpy.typing import NDArray
from sklearn.decomposition import TruncatedSVD
from sklearn.feature_extraction.text import TfidfVectorizer

from labeler.foods.composition.food_table import FoodTable

Array = NDArray[np.float64]

FATTY = ("FASAT", "FAMS", "FAPU", "FATRN")
# What each value is taken per gram of: fat for fatty acids and fat-soluble vitamins, carbohydrate for its parts, else
# solids without fat (FAO/INFOODS Guidelines for Checking Food Composition Data, 2012; Schakel et al. 1997).
BASIS = {
    **dict.fromkeys((*FATTY, "VITD", "VITA_RAE"), "FAT"),
    "CHOLE": "ANIMAL",
    **dict.fromkeys(("SUGAR", "FIBTG"), "CHOCDF"),
    **dict.fromkeys(("NA", "K", "CA", "FE", "VITC"), "SOLIDS"),
}
_COMPOSITION = (
    "WATER PROCNT FAT CHOCDF ASH ENERC_KCAL FIBTG SUGAR CA FE MG P K NA ZN CU SE VITC THIA RIBF NIA VITB6A FOL VITB12"
    " VITA_RAE RETOL CHOLE TOCPHA VITK1 VITD FASAT FAMS FAPU FATRN F4D0 F12D0 F14D0 F16D0 F18D0 F18D1 F18D2 F18D3 ALC"
).split()
# Words that tell a target itself, or that are filled in wherever it is.
_NOT_FOR = {
    "SUGAR": {"SUGAR"},
    "FATRN": {"FATRN"},
    "VITD": {"VITD"},
}
_FORM = re.compile(
    r"\b(?:raw|cooked|boiled|drained|solids|canned|frozen|unprepared|prepared|dried|dry|fresh|heated|unheated|roasted|"
    r"baked|broiled|braised|grilled|fried|pan|steamed|simmered|stewed|microwaved|toasted|blanched|dehydrated|powder|"
    r"choice|select|prime|grade|all|grades|trimmed|to|separable|lean|only|and|fat|with|without|salt|salted|unsalted|"
    r"skin|bone|boneless|pack|packed|liquid|regular|large|small|medium|whole|sliced|slices|chopped|commercial|"
    r"home|homemade|ready|eat|serve|heat|mature|seeds|sprouted|includes?|of|the|in|or|for|added|enriched|unenriched|"
    r"bleached|unbleached|calcium|fortified|usda|new|retail|cuts?|inch|domestic|imported|composite|meat|\d\S*)\b"
)


def twin_keys(table: FoodTable) -> list[str]:
    """What the forms of one food have in common: its first two segments without words of form, and its group."""
    keys = []
    for description, group in zip(table.descriptions, table.group_codes.tolist(), strict=True):
        segments = [segment.strip() for segment in description.lower().split(",")]
        told = [" ".join(_FORM.sub(" ", re.sub(r"[()\"]", " ", segment)).split()) for segment in segments]
        told = [one for one in told if one]
        keys.append(f"{group} {' '.join(sorted(' '.join(told[:3]).split()))}")
    return keys


def basis(table: FoodTable, key: str) -> Array:
    """Grams per 100 g that a nutrient is taken per, for each food; at least 0.05 so that nothing is divided by 0."""
    get = {name: table.values[:, table.column[name]] for name in ("WATER", "FAT", "CHOCDF", "PROCNT")}
    kind = BASIS[key]
    if kind == "SOLIDS":
        whole = 100.0 - np.nan_to_num(get["WATER"], nan=50.0) - get["FAT"]
    elif kind == "ANIMAL":
        whole = get["PROCNT"] + get["FAT"]
    else:
        whole = get[kind]
    found: Array = np.maximum(np.nan_to_num(whole), 0.05)
    return found


# Fortified foods hold what their maker put in by the serving, flesh what its kind holds: neither goes with the gram of
# fat. What stores vitamin D in its fat does: oils, pork, fish. Hidden values chose (imputation.md).
_STORED_IN_FAT = (400, 1000, 1500)


def learned_basis(table: FoodTable, key: str) -> Array:
    """What a nutrient is taken per, for each food, where other foods lend it; `basis` where its own other forms do."""
    if key not in ("VITD", "CHOLE"):
        return basis(table, key)
    whole = np.ones(len(table.ids))
    return (
        np.where(np.isin(table.group_codes, _STORED_IN_FAT), basis(table, key) / 50.0, whole)
        if key == "VITD"
        else whole
    )


class Features:
    """Columns by food: composition, group, words; those of one nutrient are asked for by `of`."""

    def __init__(self, table: FoodTable) -> None:
        self.table = table
        values = table.values
        column = table.column
        fat = np.maximum(values[:, column["FAT"]], 0.05)
        solids = np.maximum(100.0 - np.nan_to_num(values[:, column["WATER"]], nan=50.0), 1.0)
        self.names: list[str] = []
        columns: list[Array] = []
        for name in _COMPOSITION:
            amount = values[:, column[name]]
            share = amount / fat if name in FATTY or re.fullmatch(r"F\d+D\d", name) else amount / solids
            self.names += [name, f"{name}/"]
            columns += [np.log1p(amount), np.log1p(share)]
        groups = sorted(set(table.group_codes.tolist()))
        for group in groups:
            self.names.append(f"group {group}")
            columns.append((table.group_codes == group).astype(float))
        texts = [
            f"{one} {other} {maker}"
            for one, other, maker in zip(table.descriptions, table.common_names, table.manufacturers, strict=True)
        ]
        words = TfidfVectorizer(min_df=4, token_pattern=r"[a-z]{3,}", sublinear_tf=True).fit_transform(
            [text.lower() for text in texts]
        )
        meaning = TruncatedSVD(70, random_state=1).fit_transform(words)
        head = TfidfVectorizer(min_df=2, token_pattern=r"[a-z]{3,}").fit_transform(
            [" ".join(text.lower().split(",")[:2]) for text in table.descriptions]
        )
        headed = TruncatedSVD(50, random_state=1).fit_transform(head)
        self.names += [f"word {at}" for at in range(meaning.shape[1] + headed.shape[1])]
        self.columns = np.column_stack([*columns, meaning, headed]).astype(np.float32)

    def of(self, key: str) -> NDArray[np.float32]:
        """The columns for one nutrient: never the nutrient itself, nor what is mostly unknown where it is."""
        lacking = np.isnan(self.table.values[:, self.table.column[key]])
        taken = []
        for at, name in enumerate(self.names):
            nutrient = name.rstrip("/")
            if nutrient == key or nutrient in _NOT_FOR.get(key, ()):
                continue
            known = 1.0 if not lacking.any() else float(np.isfinite(self.columns[lacking, at]).mean())
            if known >= 0.5:
                taken.append(at)
        return self.columns[:, taken]
