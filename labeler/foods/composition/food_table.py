"""The bundled food table: USDA National Nutrient Database for Standard Reference, Release 28 (2015).

8,789 foods by 150 nutrients, with standard errors, sample counts, source and derivation codes, household
weights, refuse, energy factors and LanguaL terms. The file is a compressed NumPy archive that
``reference/build_table.py`` makes from the published ASCII release; each block is read when first asked for.
A value that SR28 does not print is NaN here and `Status.MISSING`, never zero.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, cached_property
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from labeler.types import Status

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["EXTRA_FILE", "TABLE_EDITION", "TABLE_FILE", "FoodTable", "Measure", "Nutrient", "load_table"]

TABLE_EDITION = "USDA SR28 (2015)"
TABLE_FILE = Path(__file__).parents[1].joinpath("data") / "usda_sr28_2015.npz"
EXTRA_FILE = Path(__file__).parents[1] / "composition" / "data" / "extra_foods.npz"

# SR28 source codes (SRC_CD): what kind of knowledge stands behind a value.
_SOURCE_STATUS = {
    1: Status.ANALYSED,
    4: Status.IMPUTED,  # "calculated or imputed": the derivation code says which, see below
    5: Status.CALCULATED,
    6: Status.ANALYSED,
    7: Status.ASSUMED_ZERO,
    8: Status.CALCULATED,
    9: Status.CALCULATED,
    11: Status.CALCULATED,
    12: Status.ANALYSED,
    13: Status.ANALYSED,
}
# Derivation codes that make a source-4 value a calculation from known data and not a guess from a similar food: from
# other nutrients, by recipe, from a cut's analysed parts, from analysed data by a factor, or a standard ("3.25 % fat").
_CALCULATED_DERIVATIONS = (
    *("NC", "NP", "NR", "RC", "RF", "RK", "RKA", "RP", "RPA", "AS", "LC", "MC"),
    *("PAE", "PAK", "DA", "S"),
)
# SR28 never measures these: they follow from other nutrients by formula whatever the code says.
_ALWAYS_CALCULATED = frozenset({"CHOCDF", "ENERC_KCAL", "ENERC_KJ", "VITA_IU", "VITA_RAE", "FOLDFE", "VITD_IU"})


class Nutrient(NamedTuple):
    """One nutrient of the table: INFOODS tagname (or our key where SR28 has none), SR number, unit, decimals."""

    key: str
    number: int
    unit: str
    name: str
    decimals: int


class Measure(NamedTuple):
    """One household weight: `amount` of `text` weighs `grams`, over `samples` weighings with deviation `sd` [g]."""

    amount: float
    text: str
    grams: float
    samples: int
    sd: float | None


def _texts(block: NDArray[np.uint8]) -> list[str]:
    return bytes(block).decode().split("\n")


def _thousandths(block: NDArray[np.int32]) -> NDArray[np.float64]:
    values = block / 1000.0
    values[block < 0] = np.nan
    return values


# Texts of which there is one a food, or one a household weight; other texts are lists of codes, the same in every file.
_TEXTS = frozenset("description common_name manufacturer refuse_description scientific_name measure_text".split())
_CODES = ("nutrient_", "group_", "langual_", "derivation_", "source_")


class _Archives:
    """The members of one or more files of the table's layout, the foods of each behind those of the one before."""

    def __init__(self, *paths: Path) -> None:
        self._files = [np.load(path, allow_pickle=False) for path in paths]
        self._counts = [len(file["food_id"]) for file in self._files]

    def __getitem__(self, name: str) -> NDArray[Any]:
        if len(self._files) == 1 or name.startswith(_CODES):
            first: NDArray[Any] = self._files[0][name]
            return first
        blocks = [file[name] for file, count in zip(self._files, self._counts, strict=True) if count]
        if name in _TEXTS:
            return np.frombuffer(b"\n".join(bytes(block) for block in blocks), dtype=np.uint8)
        if name in ("measure_food", "food_langual_food"):
            before = np.cumsum([0, *self._counts])
            blocks = [block + start for block, start in zip(blocks, before, strict=False)]
        joined: NDArray[Any] = np.concatenate(blocks, axis=-1)
        return joined


class FoodTable:
    """The bundled table, read block by block on first use.

    Parameters
    ----------
    path : Path
        A file made by ``reference/build_table.py``.
    more : Path
        Files of the same layout, whose foods come behind.
    """

    def __init__(self, path: Path = TABLE_FILE, *more: Path) -> None:
        self._archive = _Archives(path, *more)

    def __len__(self) -> int:
        return len(self.ids)

    def __contains__(self, food: object) -> bool:
        return food in self.position

    @cached_property
    def ids(self) -> list[str]:
        """Table ids in table order, five digits each."""
        return [f"{number:05d}" for number in self._archive["food_id"].tolist()]

    @cached_property
    def position(self) -> Mapping[str, int]:
        """Row of each table id."""
        return MappingProxyType({food: row for row, food in enumerate(self.ids)})

    @cached_property
    def descriptions(self) -> list[str]:
        """SR28's long description of each food."""
        return _texts(self._archive["description"])

    @cached_property
    def common_names(self) -> list[str]:
        """Other names of each food, as SR28 lists them; mostly empty."""
        return _texts(self._archive["common_name"])

    @cached_property
    def scientific_names(self) -> list[str]:
        """Scientific name of each food; empty where SR28 gives none."""
        return _texts(self._archive["scientific_name"])

    @cached_property
    def manufacturers(self) -> list[str]:
        """Maker of each food; empty where it has none."""
        return _texts(self._archive["manufacturer"])

    @cached_property
    def refuse_descriptions(self) -> list[str]:
        """What the refuse of each food is ("Bone and connective tissue"); empty where SR28 says nothing."""
        return _texts(self._archive["refuse_description"])

    @cached_property
    def refuse_percent(self) -> NDArray[np.float64]:
        """Inedible share of the food as purchased [%], NaN where SR28 says nothing."""
        raw: NDArray[np.float64] = self._archive["refuse_percent"].astype(float)
        raw[raw < 0] = np.nan
        return raw

    @cached_property
    def survey_uses(self) -> NDArray[np.int32]:
        """How many foods of the US survey FNDDS 2015-16 use each food as an ingredient: a prior for plain names."""
        uses: NDArray[np.int32] = self._archive["survey_uses"]
        return uses

    @cached_property
    def group_codes(self) -> NDArray[np.int16]:
        """SR28 food group code of each food (100 dairy and egg, 200 spices and herbs, ...)."""
        codes: NDArray[np.int16] = self._archive["food_group"]
        return codes

    @cached_property
    def group_names(self) -> Mapping[int, str]:
        """Name of each food group code."""
        codes = self._archive["group_code"].tolist()
        return MappingProxyType(dict(zip(codes, _texts(self._archive["group_name"]), strict=True)))

    @cached_property
    def energy_factors(self) -> NDArray[np.float32]:
        """Per food: nitrogen-to-protein factor, then kcal per g of protein, fat and carbohydrate; NaN where unknown."""
        names = ("nitrogen_factor", "protein_kcal", "fat_kcal", "carbohydrate_kcal")
        return np.stack([self._archive[name] for name in names], axis=1)

    @cached_property
    def nutrients(self) -> tuple[Nutrient, ...]:
        """The columns of `values`, in order of SR number."""
        columns = zip(
            _texts(self._archive["nutrient_key"]),
            self._archive["nutrient_number"].tolist(),
            _texts(self._archive["nutrient_unit"]),
            _texts(self._archive["nutrient_name"]),
            self._archive["nutrient_decimals"].tolist(),
            strict=True,
        )
        return tuple(Nutrient(*column) for column in columns)

    @cached_property
    def column(self) -> Mapping[str, int]:
        """Column of each nutrient key in `values`."""
        return MappingProxyType({nutrient.key: at for at, nutrient in enumerate(self.nutrients)})

    @cached_property
    def values(self) -> NDArray[np.float64]:
        """Amount of each nutrient per 100 g edible portion, shape (foods, nutrients); NaN is missing."""
        return _thousandths(self._archive["value"]).T

    @cached_property
    def standard_errors(self) -> NDArray[np.float64]:
        """Standard error of each value, shape (foods, nutrients); NaN where SR28 gives none."""
        return _thousandths(self._archive["standard_error"]).T

    @cached_property
    def derivation_codes(self) -> list[str]:
        """SR28's derivation codes, in the order in which the file numbers them."""
        return _texts(self._archive["derivation_code"])

    @cached_property
    def samples(self) -> NDArray[np.int32]:
        """Number of analyses behind each value, shape (foods, nutrients); 0 where calculated, imputed or missing."""
        block: NDArray[np.int32] = self._archive["samples"]
        return block.T

    @cached_property
    def status(self) -> NDArray[np.uint8]:
        """`Status` of each value as a small integer, shape (foods, nutrients)."""
        by_source = np.full(256, Status.MISSING, dtype=np.uint8)
        for code, kind in _SOURCE_STATUS.items():
            by_source[code] = kind
        source = self._archive["value_source"]
        status: NDArray[np.uint8] = by_source[source]
        calculated = np.array([code in _CALCULATED_DERIVATIONS for code in self.derivation_codes])
        always = np.array([nutrient.key in _ALWAYS_CALCULATED for nutrient in self.nutrients])
        by_formula = calculated[self._archive["value_derivation"]] | always[:, None]
        status[(source == 4) & by_formula] = Status.CALCULATED
        return status.T

    @cached_property
    def _measure_columns(self) -> tuple[NDArray[np.int64], list[float], list[str], list[int], list[int], list[int]]:
        """Where each food's measures begin, and the columns of all measures; a `Measure` is made when asked for."""
        starts = np.searchsorted(self._archive["measure_food"], np.arange(len(self.ids) + 1))
        return (
            starts,
            self._archive["measure_amount"].astype(float).round(4).tolist(),
            _texts(self._archive["measure_text"]),
            self._archive["measure_grams"].tolist(),
            self._archive["measure_samples"].tolist(),
            self._archive["measure_sd"].tolist(),
        )

    def measures(self, food: str) -> tuple[Measure, ...]:
        """Household weights of one food, in SR28's order; raises KeyError for an id that is not in the table."""
        row = self.position[food]
        starts, amounts, texts, grams, samples, deviations = self._measure_columns
        return tuple(
            Measure(
                amounts[at],
                texts[at],
                grams[at] / 1000,
                samples[at],
                None if deviations[at] < 0 else deviations[at] / 1000,
            )
            for at in range(int(starts[row]), int(starts[row + 1]))
        )

    @cached_property
    def _langual(self) -> list[tuple[tuple[str, str], ...]]:
        terms = list(zip(_texts(self._archive["langual_code"]), _texts(self._archive["langual_term"]), strict=True))
        lists: list[list[tuple[str, str]]] = [[] for _ in self.ids]
        pairs = zip(
            self._archive["food_langual_food"].tolist(), self._archive["food_langual_term"].tolist(), strict=True
        )
        for row, term in pairs:
            lists[row].append(terms[term])
        return [tuple(found) for found in lists]

    def langual(self, food: str) -> tuple[tuple[str, str], ...]:
        """LanguaL codes and terms of one food; raises KeyError for an id that is not in the table."""
        return self._langual[self.position[food]]

    def describe(self, food: str) -> str:
        """SR28's long description of one food; raises KeyError for an id that is not in the table."""
        return self.descriptions[self.position[food]]

    def value(self, food: str, nutrient: str) -> float:
        """Amount of one nutrient per 100 g, NaN where missing; raises KeyError for an unknown id or key."""
        return float(self.values[self.position[food], self.column[nutrient]])

    def frame(self) -> pd.DataFrame:
        """The values as a pandas frame, ids down and nutrient keys across, for work at a desk."""
        import pandas as pd

        return pd.DataFrame(self.values, index=self.ids, columns=[nutrient.key for nutrient in self.nutrients])


@cache
def load_table() -> FoodTable:
    """The bundled food table, with the foods that it lacks behind it, opened once.

    Returns
    -------
    FoodTable
        Composition per 100 g of edible portion by INFOODS tagname, with the status of each value; household measures,
        refuse and descriptions. A value that is not known is NaN, never 0.

    Source: USDA National Nutrient Database for Standard Reference, Release 28 (2016); every food that is added has its
    source beside it in ``labeler/foods/data``.

    Examples
    --------
    >>> table = labeler.load_table()
    >>> table.descriptions[table.position["11352"]]
    'Potatoes, flesh and skin, raw'
    >>> table.value("11352", "NA")  # mg of sodium in 100 g
    6.0
    """
    return FoodTable(TABLE_FILE, EXTRA_FILE)
