"""Impute what labels declare and the bundled table lacks, openly, into a file of its own; measure the errors by hiding.

    python reference/build_imputation.py            builds labeler/foods/composition/data/imputed_sr28.npz
    python reference/build_imputation.py --errors   hides known values and prints the table of errors

The order is that of the FAO/INFOODS guidelines (Greenfield and Southgate 2003; FAO/INFOODS 2012): what must be nothing
is zero; else the same food in another form, per gram of fat, carbohydrate or fat-free solids; else similar foods, else
the group. Which foods are similar is learned: the donors of a value are the foods that share leaves with it in a forest
of extremely randomised trees (Geurts et al. 2006) over composition, group and words, and its interval comes from the
weighted quantiles of the donors (Meinshausen 2006), widened until hidden values are covered. Energy is never imputed.
"""

from __future__ import annotations

import argparse
import zlib
from dataclasses import dataclass, replace

import numpy as np
from archive import write
from imputation_features import BASIS, FATTY, Array, Features, basis, learned_basis, twin_keys
from imputation_rules import hydrogenated, kinds_apart, logical_zero
from numpy.typing import NDArray
from sklearn.ensemble import ExtraTreesRegressor
from sklearn.neighbors import NearestNeighbors

from labeler.foods.composition.food_table import TABLE_FILE, FoodTable
from labeler.foods.composition.imputation import IMPUTED_FILE, ImputationMethod
from labeler.types import Status

ZERO_ONLY = "ALC"  # nothing where no alcohol went in, and else never imputed
KEYS = (*BASIS, ZERO_ONLY)
TREES, LEAF, FOLDS = 40, 1, 3
LEVELS = (0.025, 0.05, 0.075, 0.1)
# One printed step per 100 g (21 CFR 101.9(c)), vitamin D one tenth of a microgram.
STEP = {"SUGAR": 1.0, "FIBTG": 1.0, "CHOLE": 5.0, "VITD": 0.1, "FASAT": 0.5, "FATRN": 0.5, "FAMS": 0.5, "FAPU": 0.5}


@dataclass(frozen=True, slots=True)
class Row:
    """One imputed value: row of the food, key, (best, low, high) per 100 g, method, rows of the donors."""

    food: int
    key: str
    amounts: tuple[float, ...]
    method: ImputationMethod
    donors: tuple[int, ...]


class Forest:
    """Donor weights by shared leaves."""

    def __init__(self, features: NDArray[np.float32], ratio: Array, seed: int = 1) -> None:
        self._ratio = ratio
        self._trees = ExtraTreesRegressor(
            TREES, min_samples_leaf=LEAF, max_features=0.4, n_jobs=2, random_state=seed, bootstrap=False
        ).fit(features, np.sqrt(ratio))
        self._leaves = self._trees.apply(features).astype(np.int32)

    def weights(self, features: NDArray[np.float32]) -> NDArray[np.float32]:
        """Weight of each training food for each asked food, rows sum to 1."""
        asked = self._trees.apply(features).astype(np.int32)
        found = np.zeros((len(asked), len(self._ratio)), dtype=np.float32)
        for tree in range(TREES):
            order = np.argsort(self._leaves[:, tree], kind="stable")
            leaves = self._leaves[order, tree]
            starts = np.searchsorted(leaves, asked[:, tree], "left")
            ends = np.searchsorted(leaves, asked[:, tree], "right")
            for row, (start, end) in enumerate(zip(starts, ends, strict=True)):
                found[row, order[start:end]] += 1.0 / (end - start)
        return found / TREES


def quantiles(weights: NDArray[np.float32], ratio: Array, shares: tuple[float, ...]) -> Array:
    """Weighted quantiles of the donors' ratios for each row, shape (rows, shares)."""
    order = np.argsort(ratio)
    heaped = np.cumsum(weights[:, order], axis=1, dtype=np.float64)
    heaped /= heaped[:, -1:]
    return np.column_stack([ratio[order][np.minimum((heaped < share).sum(axis=1), len(order) - 1)] for share in shares])


def estimate(weights: NDArray[np.float32], ratio: Array) -> Array:
    """Best ratio of each row, then the low ends by `LEVELS` and the high ends: shape (rows, 1 + 2 levels)."""
    return quantiles(weights, ratio, (0.5, *LEVELS, *(1.0 - level for level in LEVELS)))


def level_of(true: Array, found: dict[str, Array]) -> int:
    """The narrowest level that still covers 95 % of the hidden values that are not zero."""
    above = np.isfinite(true) & (true > 0)
    for at in reversed(range(len(LEVELS))):
        inside = (found[f"low{at}"] <= true + 1e-9) & (true <= found[f"high{at}"] + 1e-9)
        if inside[above & np.isfinite(found["best"])].mean() >= 0.95:
            return at
    return 0


def fold_of(keys: list[str]) -> NDArray[np.intp]:
    """A fold for each food; forms of one food share theirs."""
    return np.array([zlib.crc32(key.encode()) % FOLDS for key in keys])


def hide(table: FoodTable, features: Features, key: str, twins: list[str], *, first: int = FOLDS) -> dict[str, Array]:
    """Each known value of the first folds as the others would impute it; foods of one key of `twins` share a fold."""
    values = table.values[:, table.column[key]]
    known = np.flatnonzero(np.isfinite(values))
    per = learned_basis(table, key)
    columns, folds = features.of(key), fold_of(twins)
    names = ("best", *(f"low{at}" for at in range(len(LEVELS))), *(f"high{at}" for at in range(len(LEVELS))))
    into = {name: np.full(len(values), np.nan) for name in (*names, "near")}
    zero = np.array([logical_zero(table, row, key) for row in range(len(values))])
    plain = table.values[:, [table.column[name] for name in ("WATER", "PROCNT", "FAT", "CHOCDF", "ENERC_KCAL")]]
    plain = np.nan_to_num(plain / plain.std(axis=0, where=np.isfinite(plain)))
    for fold in range(first):
        train, test = known[folds[known] != fold], known[folds[known] == fold]
        ratio = values[train] / per[train]
        forest = Forest(columns[train], ratio)
        found = estimate(forest.weights(columns[test]), ratio)
        for at, name in enumerate(names):
            into[name][test] = found[:, at] * per[test]
        if first == FOLDS:
            alike = NearestNeighbors(n_neighbors=5).fit(plain[train]).kneighbors(plain[test], return_distance=False)
            into["near"][test] = values[train][alike].mean(axis=1)
    for name in names:
        into[name][zero] = 0.0
    level = level_of(values, into)
    return into | {"true": values, "zero": zero.astype(float), "low": into[f"low{level}"],
                   "high": into[f"high{level}"], "level": np.array([float(level)])}  # fmt: skip


def share(hits: Array, where: Array, weight: Array | None = None) -> str:
    """Per cent of hits among some values, weighted; a dash where there are none."""
    if not where.any():
        return "–"
    return f"{100 * np.average(hits[where], weights=None if weight is None else weight[where] + 1e-9):.0f}"


def errors(table: FoodTable, features: Features, twins: list[str], keys: tuple[str, ...]) -> None:
    """Print the table of errors."""
    print("| value | hidden | always zero | five nearest | imputed | above one step: n | always zero | five nearest |"
          " imputed | analysed | used by surveys | covered, non-zero | wrong zero |")  # fmt: skip
    print("|---|---|---|---|---|---|---|---|---|---|---|---|---|")
    for key in keys:
        found = hide(table, features, key, twins)
        known = np.isfinite(found["true"]) & np.isfinite(found["best"])
        true = found["true"][known]
        step = np.full(len(true), STEP.get(key, 0.0))
        if key in FATTY:
            step = np.where(true >= 5.0, 1.0, step)
        if key not in STEP:
            step = np.maximum(0.1 * true, 5.0 if key in ("NA", "K", "CA") else 0.2)
        uses = table.survey_uses[known].astype(float)
        analysed = table.status[known, table.column[key]] == Status.ANALYSED

        guesses = {name: found[name][known] for name in ("near", "best")} | {"none": np.zeros(len(true))}
        hits = {name: (np.abs(guess - true) <= step).astype(float) for name, guess in guesses.items()}
        above = true > step

        covered = (found["low"][known] <= true + 1e-9) & (true <= found["high"][known] + 1e-9)
        wrong = (found["zero"][known] > 0) & above
        ones = np.ones(len(true), dtype=bool)
        cells = (
            key,
            len(true),
            *(share(hits[name], ones) for name in ("none", "near", "best")),
            int(above.sum()),
            *(share(hits[name], above) for name in ("none", "near", "best")),
            share(hits["best"], above & analysed),
            share(hits["best"], above & (uses > 0), uses),
            share(covered.astype(float), true > 0),
            int(wrong.sum()),
        )
        print("|", " | ".join(map(str, cells)), "|", flush=True)


# A value whose interval is wider than this per 100 g stays missing, unless another form of the same food lent it.
WIDEST = {**dict.fromkeys((*FATTY, "SUGAR", "FIBTG"), 65.0), "CHOLE": 150.0, "VITD": 20.0, "NA": 3000.0, "K": 3000.0,
          "CA": 800.0, "FE": 25.0, "VITA_RAE": 1000.0, "VITC": 100.0}  # fmt: skip
SPAN = 0.15  # forms of one food agree this well, on either side of what they span


def impute(table: FoodTable, features: Features, key: str, twins: list[str]) -> list[Row]:
    """Every missing value of one nutrient that can be had, in table order."""
    values = table.values[:, table.column[key]]
    lacking = np.flatnonzero(np.isnan(values))
    if key == "FATRN":  # what partly hydrogenated oil made is lawful no more, and lends to nothing
        values = np.where([bool(hydrogenated(table, row, value)) for row, value in enumerate(values)], np.nan, values)
    if key == ZERO_ONLY:
        return [Row(row, key, (0.0, 0.0, 0.0), ImputationMethod.LOGICAL_ZERO, ()) for row in lacking.tolist()
                if logical_zero(table, row, key)]  # fmt: skip
    known = np.flatnonzero(np.isfinite(values))
    per = learned_basis(table, key)
    by_form = basis(table, key)
    ratio, columns = values[known] / per[known], features.of(key)
    weights = Forest(columns[known], ratio).weights(columns[lacking])
    level = int(hide(table, features, key, twins, first=1)["level"][0])
    guesses = estimate(weights, ratio)
    apart = [kinds_apart(description) for description in table.descriptions]
    by_twin: dict[str, list[int]] = {}
    for at, row in enumerate(known.tolist()):
        by_twin.setdefault(twins[row], []).append(at)
    rows: list[Row] = []
    for place, row in enumerate(lacking.tolist()):
        if logical_zero(table, row, key):
            rows.append(Row(row, key, (0.0, 0.0, 0.0), ImputationMethod.LOGICAL_ZERO, ()))
            continue
        forms = [at for at in by_twin.get(twins[row], ()) if apart[known[at]] == apart[row]]
        if forms:
            lent = values[known[forms]] / by_form[known[forms]]
            amounts = np.array([np.median(lent), lent.min() * (1 - SPAN), lent.max() * (1 + SPAN)]) * by_form[row]
            heaviest = sorted(forms, key=lambda at: -float(weights[place, at]))[:3]
            method = ImputationMethod.SAME_FOOD
        else:
            amounts = guesses[place, [0, 1 + level, 1 + len(LEVELS) + level]] * per[row]
            heaviest = np.argsort(-weights[place], kind="stable")[:3].tolist()
            first = table.descriptions[row].split(",")[0]
            alike = [table.descriptions[known[at]].split(",")[0] == first for at in heaviest]
            method = ImputationMethod.SIMILAR_FOODS if sum(alike) >= 2 else ImputationMethod.GROUP
            if amounts[2] - amounts[1] > WIDEST[key]:
                continue
        rows.append(Row(row, key, tuple(amounts.tolist()), method, tuple(int(known[at]) for at in heaviest)))
    return rows


def kept(table: FoodTable) -> list[Row]:
    """The rows of the file as it stands."""
    with np.load(IMPUTED_FILE, allow_pickle=False) as archive:
        place = {int(food): at for at, food in enumerate(table.ids)}
        keys = bytes(archive["keys"]).decode().split("\n")
        columns = (archive[name].tolist() for name in ("food", "key", "amounts", "method", "donors"))
        return [
            Row(
                place[food],
                keys[key],
                tuple(amounts),
                ImputationMethod(method),
                tuple(place[one] for one in donors if one),
            )
            for food, key, amounts, method, donors in zip(*columns, strict=True)
        ]


def lawful(table: FoodTable, rows: list[Row]) -> list[Row]:
    """The imputed values brought under the laws: parts no more than their whole, the known ones left as they are."""
    held = {(row.food, row.key): row for row in rows}
    known = table.values

    def at(food: int, key: str) -> float:
        value = known[food, table.column[key]]
        return held[food, key].amounts[0] if np.isnan(value) and (food, key) in held else float(np.nan_to_num(value))

    for food in sorted({row.food for row in rows}):
        for parts, whole in (
            (("FASAT", "FAMS", "FAPU"), at(food, "FAT")),
            (("SUGAR", "FIBTG"), at(food, "CHOCDF")),
            (("FATRN",), None),
        ):
            limit = at(food, "FAMS") + at(food, "FAPU") if whole is None else whole
            if whole is None and np.isnan(known[food, [table.column[one] for one in ("FAMS", "FAPU")]]).any():
                limit = min(max(limit, 0.0), at(food, "FAT")) if limit > 0 else at(food, "FAT")
            guessed = [one for one in parts if (food, one) in held]
            if not guessed:
                continue
            room = max(limit - sum(at(food, one) for one in parts if one not in guessed), 0.0)
            total = sum(at(food, one) for one in guessed)
            factor = min(1.0, room / total) if total > 0 else 1.0
            for one in guessed:
                best, low, high = (min(amount, room) for amount in held[food, one].amounts)
                best *= factor
                held[food, one] = replace(held[food, one], amounts=(best, min(low, best), max(high, best)))
    return [held[row.food, row.key] for row in rows]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--errors", action="store_true")
    parser.add_argument("--only", nargs="*", default=(), help="these nutrients only; the rest stays as the file has it")
    options = parser.parse_args()
    table = FoodTable(TABLE_FILE)
    features, twins = Features(table), twin_keys(table)
    if options.errors:
        keys = tuple(options.only) or tuple(BASIS)
        print("Share of hidden values within one printed step per 100 g [%]; forms of the same food hidden together.\n")
        errors(table, features, twins, keys)
        print("\nThe same, values hidden at random, so that other forms of the same food may lend.\n")
        errors(table, features, table.ids, keys)
        return
    only = tuple(options.only) or KEYS
    found = [row for row in kept(table) if row.key not in only] if options.only else []
    for key in only:
        found += impute(table, features, key, twins)
        print(key, flush=True)
    rows = lawful(table, found)
    trans = table.values[:, table.column["FATRN"]]
    old = [(int(table.ids[at]), hydrogenated(table, at, float(value))) for at, value in enumerate(trans)]
    members = {
        "keys": np.frombuffer("\n".join(KEYS).encode(), dtype=np.uint8),
        "food": np.array([int(table.ids[row.food]) for row in rows], dtype=np.int32),
        "key": np.array([KEYS.index(row.key) for row in rows], dtype=np.uint8),
        "amounts": np.array([[float(f"{amount:.4g}") for amount in row.amounts] for row in rows], dtype=np.float32),
        "method": np.array([row.method for row in rows], dtype=np.uint8),
        "donors": np.array(
            [[*(int(table.ids[one]) for one in row.donors), 0, 0, 0][:3] for row in rows], dtype=np.int32
        ),
        "hydrogenated": np.array([food for food, kind in old if kind], dtype=np.int32),
        "hydrogenated_whole": np.array([kind == "all" for _, kind in old if kind]),
    }
    write(members, IMPUTED_FILE)
    print(f"{IMPUTED_FILE}: {IMPUTED_FILE.stat().st_size:,} bytes, {len(rows):,} values")
    for key in KEYS:
        lacking = int(np.isnan(table.values[:, table.column[key]]).sum())
        kinds = [row.method for row in rows if row.key == key]
        told = ", ".join(
            f"{method.name.lower()} {kinds.count(method)}" for method in ImputationMethod if kinds.count(method)
        )
        print(f"{key}: {lacking} missing, {lacking - len(kinds)} left so; {told}")


if __name__ == "__main__":
    main()
