"""Build the foods that the bundled table lacks from their list, into an archive of the table's own layout.

    python reference/build_extra_foods.py [--show]

Reads ``labeler/foods/composition/data/extra_foods.csv`` (whose head explains its columns) and writes
``extra_foods.npz`` beside it. A recipe is the sum of table foods, imputed where the table lacks a value, over what is
left after its loss of water; stoichiometry states what there is and the rest is nothing; other values are as the list
gives them. Run it after any change of the list, of the table or of the imputed values. ``--show`` prints each food
with its main values.
"""

from __future__ import annotations

import argparse

import numpy as np
from archive import write

from labeler.foods.composition.extra_foods import EXTRA_FILE, ExtraFood, read_extra_foods
from labeler.foods.composition.food_table import TABLE_FILE, FoodTable
from labeler.foods.composition.values import food_values
from labeler.types import Status

# SR28 source codes that stand for a status: calculated by recipe, assumed zero, imputed.
SOURCE = {Status.CALCULATED: 8, Status.ASSUMED_ZERO: 7, Status.IMPUTED: 4}
ENERGY = {"PROCNT": 4.0, "FAT": 9.0, "CHOCDF": 4.0, "ALC": 6.93}
NOTHING_UNLESS_STATED = ("FAT", "FASAT", "FAMS", "FAPU", "FATRN", "CHOLE", "SUGAR", "FIBTG", "VITD", "ALC", "PROCNT",
                         "CHOCDF", "NA", "CA", "FE", "K")  # fmt: skip
CUP_PARTS = (("cup", 1), ("tbsp", 16), ("tsp", 48))


class Builder:
    """Composition of extra foods by key."""

    def __init__(self, foods: tuple[ExtraFood, ...]) -> None:
        self.listed = {food.id: food for food in foods}
        self.table = FoodTable(TABLE_FILE)
        self.keys = [nutrient.key for nutrient in self.table.nutrients]
        self.made: dict[str, tuple[np.ndarray, np.ndarray]] = {}

    def _of(self, food: str) -> tuple[np.ndarray, np.ndarray]:
        if food in self.listed:
            return self.made[food] if food in self.made else self.build(self.listed[food])
        values = food_values(food, "us")
        return values.best, values.status.astype(int)

    def recipe(self, food: ExtraFood) -> tuple[np.ndarray, np.ndarray]:
        """Values per 100 g and status of a sum of table foods."""
        put_in = sum(grams for _, grams in food.made_of)
        total, status = np.zeros(len(self.keys)), np.zeros(len(self.keys), dtype=int)
        for part, grams in food.made_of:
            values, known = self._of(part)
            total += values * grams / 100.0
            status = np.maximum(status, np.where(known == Status.ASSUMED_ZERO, 0, known))
        kept = put_in - food.loss
        for key, share in food.shares.items():
            total[self.keys.index(key)] *= share
        total *= 100.0 / kept
        solids = sum(total[self.keys.index(key)] for key in ("PROCNT", "FAT", "CHOCDF", "ASH"))
        if food.loss or food.shares:
            total[self.keys.index("WATER")] = max(100.0 - np.nan_to_num(solids), 0.0)
        if food.shares:  # what drains off takes its minerals and energy along
            self._energy(total, {})
        status[status < Status.CALCULATED] = Status.CALCULATED
        return total, status

    def _energy(self, values: np.ndarray, stated: dict[str, float]) -> None:
        if "ENERC_KCAL" not in stated:
            known = {key: np.nan_to_num(values[self.keys.index(key)]) for key in ENERGY}
            values[self.keys.index("ENERC_KCAL")] = round(sum(ENERGY[key] * known[key] for key in ENERGY), 0)
        values[self.keys.index("ENERC_KJ")] = round(values[self.keys.index("ENERC_KCAL")] * 4.184, 0)

    def build(self, food: ExtraFood) -> tuple[np.ndarray, np.ndarray]:
        """Values per 100 g (NaN where not known) and their status."""
        if food.made_of:
            values, status = self.recipe(food)
            values = values.copy()
        else:
            values, status = np.full(len(self.keys), np.nan), np.full(len(self.keys), int(Status.MISSING))
        stated = dict(food.values)
        if food.kind == "stoichiometry":
            values[:], status[:] = 0.0, int(Status.ASSUMED_ZERO)
        elif food.kind == "values":
            for key in NOTHING_UNLESS_STATED:
                values[self.keys.index(key)], status[self.keys.index(key)] = 0.0, int(Status.ASSUMED_ZERO)
            fat, saturated = stated.get("FAT", 0.0), stated.get("FASAT", 0.0)
            if fat and "FAMS" not in stated:
                stated |= {"FAMS": 0.45 * (fat - saturated), "FAPU": 0.45 * (fat - saturated)}
        known = Status.CALCULATED if food.kind == "stoichiometry" else Status.IMPUTED
        for key, value in stated.items():
            values[self.keys.index(key)], status[self.keys.index(key)] = value, int(known)
        if not food.made_of or stated:
            self._energy(values, stated)
            status[self.keys.index("ENERC_KCAL")] = status[self.keys.index("ENERC_KJ")] = int(Status.CALCULATED)
        if "ASH" not in stated and not food.made_of:
            solids = ("WATER", "PROCNT", "FAT", "CHOCDF", "ALC")
            rest = 100.0 - sum(np.nan_to_num(values[self.keys.index(key)]) for key in solids)
            values[self.keys.index("ASH")] = max(rest, 0.0) if food.kind == "values" else 0.0
            status[self.keys.index("ASH")] = int(Status.IMPUTED if food.kind == "values" else Status.ASSUMED_ZERO)
        self.made[food.id] = values, status
        return values, status

    def show(self, food: ExtraFood) -> None:
        """Print a food with its main values and what it is made of."""
        values, _ = self.made[food.id]
        keys = ("WATER", "ENERC_KCAL", "PROCNT", "FAT", "CHOCDF", "SUGAR", "NA", "FATRN")
        shown = " ".join(f"{key} {values[self.keys.index(key)]:.4g}" for key in keys)
        told = ", ".join(f"{grams:g} {self.table.describe(part)[:28]}" for part, grams in food.made_of
                         if part in self.table)  # fmt: skip
        print(f"{food.id} {food.description}: {shown} | {told}")


def texts(values: list[str]) -> np.ndarray:
    """Many texts as one UTF-8 block of bytes, a line feed between them."""
    return np.frombuffer("\n".join(values).encode(), dtype=np.uint8)


def measures(foods: tuple[ExtraFood, ...]) -> dict[str, np.ndarray]:
    """Household weights in the table's layout."""
    rows = []
    for at, food in enumerate(foods):
        stated = [(piece, grams) for piece, grams in food.pieces if piece not in ("teaspoon", "tablespoon")]
        spoons = {piece: grams for piece, grams in food.pieces if piece in ("teaspoon", "tablespoon")}
        for unit, parts in CUP_PARTS:
            long = {"tbsp": "tablespoon", "tsp": "teaspoon"}.get(unit, "")
            grams = spoons.get(long, food.cup / parts)
            rows.append((at, unit, grams))
        rows += [(at, piece, grams) for piece, grams in stated]
    return {
        "measure_food": np.array([row[0] for row in rows], dtype=np.int16),
        "measure_amount": np.ones(len(rows), dtype=np.float32),
        "measure_text": texts([row[1] for row in rows]),
        "measure_grams": np.array([round(row[2] * 1000) for row in rows], dtype=np.int32),
        "measure_samples": np.zeros(len(rows), dtype=np.int16),
        "measure_sd": np.full(len(rows), -1, dtype=np.int32),
    }


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--show", action="store_true")
    options = parser.parse_args()
    foods = read_extra_foods()
    if not EXTRA_FILE.exists():  # the table is read with its extra foods, so there must be some file of them
        write(members_of((), {}), EXTRA_FILE)
    builder = Builder(foods)
    made = {food.id: builder.build(food) for food in foods}
    if options.show:
        for food in foods:
            builder.show(food)
    write(members_of(foods, made), EXTRA_FILE)
    print(f"{EXTRA_FILE}: {EXTRA_FILE.stat().st_size:,} bytes, {len(foods)} foods")


def members_of(foods: tuple[ExtraFood, ...], made: dict[str, tuple[np.ndarray, np.ndarray]]) -> dict[str, np.ndarray]:
    """Every member of the archive, by name."""
    table = FoodTable(TABLE_FILE)
    by_recipe = table.derivation_codes.index("RC")
    value = np.full((len(table.nutrients), len(foods)), -1, dtype=np.int32)
    source = np.zeros(value.shape, dtype=np.uint8)
    derivation = np.zeros(value.shape, dtype=np.uint8)
    for at, food in enumerate(foods):
        values, status = made[food.id]
        known = np.isfinite(values)
        value[known, at] = np.round(values[known] * 1000.0)
        for kind, code in SOURCE.items():
            source[known & (status == kind), at] = code
        derivation[known & (status == Status.CALCULATED), at] = by_recipe
    nothing = np.zeros(len(foods), dtype=np.float32)
    return {
        "food_id": np.array([int(food.id) for food in foods], dtype=np.int32),
        "food_group": np.array([food.group for food in foods], dtype=np.int16),
        "description": texts([food.description for food in foods]),
        **{name: texts([""] * len(foods)) for name in
           ("common_name", "manufacturer", "refuse_description", "scientific_name")},
        "refuse_percent": np.full(len(foods), -1, dtype=np.int16),
        **dict.fromkeys(("nitrogen_factor", "protein_kcal", "fat_kcal", "carbohydrate_kcal"), nothing * np.nan),
        "survey_uses": np.zeros(len(foods), dtype=np.int32),
        "value": value,
        "standard_error": np.full(value.shape, -1, dtype=np.int32),
        "samples": np.zeros(value.shape, dtype=np.int32),
        "value_source": source,
        "value_derivation": derivation,
        "food_langual_food": np.zeros(0, dtype=np.int16),
        "food_langual_term": np.zeros(0, dtype=np.int16),
        **measures(foods),
    }  # fmt: skip


if __name__ == "__main__":
    main()
