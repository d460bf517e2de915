"""Build how far foods of one name differ: labeler/foods/data/composition_spread_sr28.csv and .npy.

    python reference/build_spread.py [FOLDER]

The CSV file has three kinds of spread, each a coefficient of variation by nutrient and food group, all from SR28
itself (public domain):

``sample``
    Between samples of one food. SR28 prints a standard error and a number n of analyses: SD = SE x sqrt(n), for n >= 3.
    Logarithms of the variances are pooled with their degrees of freedom (Smyth 2004, Stat Appl Genet Mol Biol 3:3,
    section 6): a typical variance for the group and prior degrees of freedom that say how much foods differ in it.
``product``
    Between products of one description: entries of one group whose descriptions are the same words when makers'
    names (words in capitals) are left out. Deviations of the logarithms from their mean.
``similar``
    Between an analysed food and the analysed food of the group whose description is nearest: what an imputed value,
    which SR28 takes from a similar food, may be wrong by. Deviation of the logarithms over the root of 2.

A coefficient is of the scale r (v / r)^b (1 - p) at a value v. Deviations grow slower than values, so b is fitted
within groups, between 1/2 and 1 (for analyses of one sample in many laboratories Horwitz found 0.85: 1982, Anal Chem
54:67A, from memory); r is the nutrient's median; p is the mass fraction of the constituent (sodium as salt), as a food
that is nearly all of one thing leaves little room. Pooling is robust (Huber); each group is shrunk to the nutrient-wide
value by as much as groups are alike (empirical Bayes); and for products the result is widened to hold 96 % of the
deviations, so that products which are not among them are held by 95 % or little less. ``floor`` is the SD that is left
at the bottom of the scale, per 100 g in the table's unit. Nutrients that SR28 sums up itself take the figures of their
main term, and carbohydrate by difference, of which it has no samples, those of products.

The NPY file has the standard deviation of each food and nutrient that follows, per 100 g in the table's unit, foods
in table order by the nutrients of the kitchen, as 16-bit floats (`food_deviations`). Energy has none of its own.
"""

from __future__ import annotations

import csv
import re
import sys
from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from spread_statistics import (
    Z95,
    digamma,
    mass_fraction,
    scale_at,
    shrunk,
    t_factor,
    trigamma,
    trigamma_inverse,
)

from labeler.cooking.state.mixture import KEYS
from labeler.foods.composition.food_table import FoodTable
from labeler.foods.composition.imputation import base_table
from labeler.types import Status
from labeler.uncertainty.composition_error import SPREAD_FILE, made_up

Array = NDArray[np.float64]
KINDS = ("sample", "product", "similar")

# Sums that SR28 calculates have next to no standard errors of their own: they vary as their main term does.
MAIN_TERM = {
    "FASAT": "F16D0",
    "FAMS": "F18D1",
    "FAPU": "F18D2",
    "VITA_RAE": "CARTB",
    "FOLDFE": "FOL",
    "FOLAC": "FOL",
    "VITB12_ADDED": "VITB12",
    "TOCPHA_ADDED": "TOCPHA",
    "F18D4": "F20D5",
}
ENOUGH = 20
# Pairs of foods that differ by less than a factor of two say little of how the deviation grows.
APART = np.log(2.0)
PRIOR_FREEDOM = (4.0, 30.0)
LONGEST_TAIL = 2.0
SMALLEST_CV = 0.005
LARGEST_CV = 1.5


# Words that change what the food is even where a maker prints them in capitals.
CLAIMS = frozenset("FREE LIGHT LITE LOW REDUCED LESS DIET FAT NONFAT SUGAR SODIUM SALT LACTOSE HEALTHY LEAN".split())

# Capitals that name nobody.
ABBREVIATED = frozenset("USDA US BBQ ARA DHA NFS NS USDA's FDA EDTA RTE MSG XL II III".split())


def bare_words(description: str) -> tuple[str, ...]:
    """The words of a description without makers' names, which SR28 writes in capitals."""
    words = []
    for word in re.findall(r"[A-Za-z0-9%'&.-]+", re.sub(r"\([^)]*\)", " ", description)):
        named = re.fullmatch(r"[A-Z0-9'&.-]*[A-Z][A-Z0-9'&.-]+|Mc[A-Z]+.*", word) and not word[0].isdigit()
        if named and word not in CLAIMS:
            continue
        plain = word.lower().strip(".'-")
        if plain and plain not in ("brand", "brands", "with", "and", "the", "of", "or", "in", "a", "inc", "all"):
            words.append(plain.rstrip("s"))
    return tuple(sorted(set(words)))


def maker_named(row: int) -> bool:
    """Whether a row is of one maker: SR28 names it, or its description has a word in capitals."""
    table = base_table()
    words = re.findall(r"\b(?:Mc)?[A-Z][A-Z'&.-]+\b", re.sub(r"\([^)]*\)", " ", table.descriptions[row]))
    return bool(table.manufacturers[row]) or any(word not in CLAIMS and word not in ABBREVIATED for word in words)


def mostly_named(description: str) -> bool:
    """Whether a description says what the food is in no fewer words than who makes it and what they call it."""
    bare = len(bare_words(description))
    names = len(re.findall(r"\b(?:Mc)?[A-Z][A-Z'&.-]+\b", re.sub(r"\([^)]*\)", " ", description)))
    return bare >= max(names, 2)


def twin_sets(table: FoodTable) -> list[list[int]]:
    """Rows of the table that are the same group and the same words, makers aside; sets of two and more."""
    sets: dict[tuple[int, tuple[str, ...]], list[int]] = defaultdict(list)
    for row, description in enumerate(table.descriptions):
        if not mostly_named(description):
            continue
        sets[int(table.group_codes[row]), bare_words(description)].append(row)
    return [rows for rows in sets.values() if len(rows) > 1]


def nearest_pairs(table: FoodTable) -> list[tuple[int, int]]:
    """For each row, the row of its group whose description shares most words with it; each pair once."""
    words = [frozenset(bare_words(description)) for description in table.descriptions]
    pairs = set()
    for group in np.unique(table.group_codes):
        rows = np.flatnonzero(table.group_codes == group).tolist()
        for row in rows:
            best, best_row = 0.0, -1
            for other in rows:
                if other != row and words[other] != words[row]:
                    both = len(words[row] & words[other])
                    likeness = both / (len(words[row]) + len(words[other]) - both)
                    if likeness > best:
                        best, best_row = likeness, other
            if best >= 0.5:
                pairs.add((min(row, best_row), max(row, best_row)))
    return sorted(pairs)


def floor_of(values: Array, deviations: Array, decimals: int) -> float:
    """SD at the bottom of the scale: the median of the lowest tenth, at least what rounding hides."""
    hidden = 10.0**-decimals / np.sqrt(12.0)
    if len(values) < 50:
        return float(hidden)
    bottom = values <= np.quantile(values, 0.1)
    return float(max(hidden, np.median(deviations[bottom])))


def growth(values: Array, deviations: Array, groups: NDArray[np.int16]) -> float:
    """The exponent b by which deviations grow with values: median slope over pairs of one group, between 1/2 and 1."""
    random = np.random.default_rng(28)
    slopes, weights = [], []
    logs, log_deviations = np.log(values), np.log(deviations)
    for group in np.unique(groups):
        here = np.flatnonzero(groups == group)
        if len(here) < 30:
            continue
        one, two = here[random.integers(0, len(here), (2, 4000))]
        apart = logs[one] - logs[two]
        far = np.abs(apart) > APART
        if far.sum() > 100:
            slopes.append(float(np.median((log_deviations[one] - log_deviations[two])[far] / apart[far])))
            weights.append(len(here))
    return float(np.clip(np.average(slopes, weights=weights), 0.5, 1.0)) if slopes else 0.85


def sample_spread(table: FoodTable, key: str) -> tuple[dict[str, float], float, dict[int, float]] | None:
    """Scale, prior degrees of freedom, floor and number of foods; then log variance of all groups and by group."""
    at = table.column[key]
    values, errors, counts = table.values[:, at], table.standard_errors[:, at], table.samples[:, at]
    good = np.isfinite(errors) & (counts >= 3) & (values > 0) & (errors > 0)
    if good.sum() < ENOUGH:
        return None
    values, groups, freedom = values[good], table.group_codes[good], np.minimum(counts[good] - 1.0, 30.0)
    deviation = errors[good] * np.sqrt(counts[good])
    floor = floor_of(values, deviation, table.nutrients[at].decimals)
    above = values >= 3.0 * floor
    values, groups, freedom, deviation = values[above], groups[above], freedom[above], deviation[above]
    if len(values) < ENOUGH:
        return None
    power, reference = growth(values, deviation, groups), float(np.median(values))
    ratio = np.maximum(deviation / scale_at(key, values, power=power, reference=reference), SMALLEST_CV)
    centred = 2.0 * np.log(ratio) - digamma(freedom / 2) + np.log(freedom / 2)
    by_group = {int(group): centred[groups == group] for group in np.unique(groups)}
    whole, shrunk_logs = shrunk(by_group)
    residual = np.concatenate([found - np.median(found) for found in by_group.values() if len(found) > 4])
    excess = float((1.4826 * np.median(np.abs(residual))) ** 2 - trigamma(freedom / 2).mean())
    prior = 2.0 * trigamma_inverse(excess) if excess > 0.02 else 30.0
    scale = {"foods": len(values), "prior_df": float(np.clip(prior, *PRIOR_FREEDOM)), "floor": floor}
    return scale | {"power": power, "reference": reference}, whole, shrunk_logs


def pooled_deviations(
    table: FoodTable, key: str, sets: Iterable[Iterable[int]], scale: dict[str, float], *, analysed: bool
) -> tuple[float, dict[int, float], int] | None:
    """Log variance of the deviations within sets of rows: of all groups, by group, and how many there are."""
    at = table.column[key]
    values, status = table.values[:, at], table.status[:, at]
    by_group: dict[int, list[float]] = defaultdict(list)
    for rows in sets:
        known = [
            row
            for row in rows
            if values[row] >= 10.0 * scale["floor"]
            and (not analysed or status[row] == Status.ANALYSED)
            and status[row] not in (Status.IMPUTED, Status.ASSUMED_ZERO)
        ]
        if len(known) < 2 or len({values[row] for row in known}) < 2:
            continue
        logs = np.log(values[known])
        middle = np.exp(logs.mean())
        room = scale_at(key, middle, power=scale["power"], reference=scale["reference"]) / middle
        deviations = (logs - logs.mean()) * np.sqrt(len(known) / (len(known) - 1.0)) / room
        by_group[int(table.group_codes[known[0]])].extend(deviations.tolist())
    count = sum(map(len, by_group.values()))
    if count < ENOUGH:
        return None
    # The logarithm of a squared standard normal has mean psi(1/2) + ln 2 = -1.2704 (Abramowitz and Stegun 6.3.3).
    logs_by_group = {
        group: np.log(np.maximum(np.square(found), SMALLEST_CV**2)) + 1.2704 for group, found in by_group.items()
    }
    whole, shrunk_logs = shrunk(logs_by_group)
    if analysed:
        return whole, shrunk_logs, count
    # Some descriptions hide more than others, so products have longer tails than a normal: widen to where 96 % lie,
    # as a fit holds less of what is not in it.
    ratios = [np.abs(found) / np.exp(shrunk_logs[group] / 2) for group, found in by_group.items()]
    tail = 2.0 * np.log(np.clip(np.quantile(np.concatenate(ratios), 0.96) / Z95, 1.0, LONGEST_TAIL))
    return whole + tail, {group: value + tail for group, value in shrunk_logs.items()}, count


def rows_of(key: str, kind: str, found: tuple[float, dict[int, float]], scale: dict[str, float]) -> dict[str, object]:
    """One row of the file."""
    whole, by_group = found
    row: dict[str, object] = {"key": key, "kind": kind}
    row |= {name: text(value) for name, value in scale.items()}
    row["all"] = cv_text(whole)
    return row | {str(group): cv_text(value) for group, value in by_group.items()}


def cv_text(log_variance: float) -> str:
    return f"{float(np.clip(np.exp(log_variance / 2), SMALLEST_CV, LARGEST_CV)):.4f}"


HEAD = """\
# How far foods of one name differ: coefficients of variation by nutrient (INFOODS tagname) and SR28 food group.
# Estimated from USDA SR28 (2015, public domain) by reference/build_spread.py, which says how.
# kind: sample = between samples of one food; product = between products of one description; similar = between a food
# and the nearest other one. A coefficient is of the scale r (v/r)^b (1 - mass fraction) at a value v, with r =
# reference and b = power. foods: how many it rests on. prior_df: prior degrees of freedom of a food's variance. floor:
# SD at the bottom of the scale, per 100 g. An empty group takes the column "all".
"""


def text(value: float) -> str:
    return f"{value:.4g}"


def build(twins: list[list[int]] | None = None) -> list[dict[str, object]]:
    """All rows of the file; from some sets of twins only where they are given."""
    table = base_table()
    pairs = nearest_pairs(table)
    twins = twin_sets(table) if twins is None else twins
    rows: list[dict[str, object]] = []
    for key in KEYS:
        if key == "ENERC_KCAL":
            continue
        column = table.column[key]
        hidden = 10.0 ** -table.nutrients[column].decimals / np.sqrt(12.0)
        known = table.values[:, column]
        median = float(np.median(known[known > 0]))
        scale = {"foods": 0, "prior_df": 30.0, "floor": hidden, "power": 0.85, "reference": median}
        source = MAIN_TERM.get(key, key)
        sample = sample_spread(table, source)
        if sample is not None:
            scale = sample[0] | {"floor": max(sample[0]["floor"], hidden)}
            rows.append(rows_of(key, "sample", sample[1:], scale))
        for kind, sets, analysed in (("product", twins, False), ("similar", pairs, True)):
            found = pooled_deviations(table, key, sets, scale, analysed=analysed)
            if found is not None:
                own = scale | {"foods": found[2]}
                if sample is None and kind == "product":
                    rows.append(rows_of(key, "sample", found[:2], own))
                rows.append(rows_of(key, kind, found[:2], own))
    return rows


def food_deviations(rows: list[dict[str, object]]) -> NDArray[np.float16]:
    """Standard deviation of every food and nutrient, per 100 g in the table's unit, shape (foods, nutrients).

    For a food with n >= 3 samples the variance is (d0 s0² + (n - 1) s²) / (d0 + n - 1), with s = SE sqrt(n) its own
    and s0, d0 the pooled one (Smyth 2004, equation 6), widened by Student's t for as many degrees of freedom and by
    1 + 1/n as the mean itself is of n samples. Without samples s0 and d0 stand alone. A
    product that stands for others of its description, and a value imputed from a similar food, add the variances of
    their kinds. An analysed zero may be
    what the bottom of the scale is, an assumed one what rounding hides; a missing value has none.
    """
    table = base_table()
    made = np.array([made_up(row) for row in range(len(table))])
    named = made & np.array([maker_named(row) for row in range(len(table))])
    codes = np.array(bytes(table._archive["derivation_code"]).decode().split("\n"))
    derivations = table._archive["value_derivation"]
    found = np.zeros((len(table), len(KEYS)), dtype=np.float16)
    by_key = {(str(row["key"]), str(row["kind"])): row for row in rows}
    for place, key in enumerate(KEYS):
        if (key, "sample") not in by_key:
            continue
        at = table.column[key]
        values, status = np.nan_to_num(table.values[:, at]), table.status[:, at]
        scale = {name: float(str(by_key[key, "sample"][name])) for name in ("prior_df", "floor", "power", "reference")}
        units = scale_at(key, values, power=scale["power"], reference=scale["reference"])
        sample, product, similar = (
            units * np.array([pooled_cv(by_key.get((key, kind)), int(group)) for group in table.group_codes])
            for kind in KINDS
        )
        errors, counts = np.nan_to_num(table.standard_errors[:, at]), table.samples[:, at].astype(float)
        own = (counts >= 3) & (errors > 0.0)
        # One maker's product for another's is two products apart; a food sampled over makers has them in its own SD.
        products = np.where(named, 2.0, np.where(made & ~own, 1.0, 0.0))
        freedom = np.where(own, np.minimum(counts - 1.0, 30.0), 0.0)
        total = scale["prior_df"] + freedom
        variance = (scale["prior_df"] * sample**2 + freedom * errors**2 * counts) / total * t_factor(total) ** 2
        variance *= np.where(own, 1.0 + 1.0 / np.maximum(counts, 1.0), 1.0)
        variance += products * product**2 + np.where(status == Status.IMPUTED, similar**2, 0.0)
        variance = np.minimum(variance, (LARGEST_CV * values) ** 2)
        hidden = 10.0 ** -table.nutrients[at].decimals / np.sqrt(12.0)
        # A standard sets the value ("3.25 % milkfat"), and makers keep to it: within 5 %, common practice, no source.
        by_standard = codes[derivations[at]] == "S"
        variance = np.where(by_standard, np.minimum(variance, (0.025 * values) ** 2), variance)
        bottom = np.where(status == Status.ASSUMED_ZERO, hidden, max(scale["floor"], hidden))
        # What fills a food has no bottom of the scale either: refined sugar is not 99.6 to 100.4 % sugar.
        variance += (bottom * (1.0 - mass_fraction(key, values))) ** 2
        found[:, place] = np.where(status == Status.MISSING, 0.0, np.sqrt(variance))
    return balanced(table, found)


_PARTS = ("WATER", "PROCNT", "FAT", "ASH")
_NO_CARBOHYDRATE = 1.0  # g/100 g, below which carbohydrate by difference is what the other figures leave


def balanced(table: FoodTable, deviations: NDArray[np.float16]) -> NDArray[np.float16]:
    """The deviations of flesh brought under the balance of mass.

    Food without carbohydrate is water, protein, fat and ash, 100 g together in every sample: what one gains the others
    lose, so no standard deviation is above the sum of the other three (the triangle inequality). Where SR28's standard
    error times the root of its number of samples says more, the number of samples is not that of the error: beef shank,
    protein 21.8 g with an error of 3.2 of 11 samples beside 0.3 of water and 0.2 of fat.
    """
    found = deviations.astype(float)
    flesh = np.nan_to_num(table.values[: len(found), table.column["CHOCDF"]], nan=100.0) < _NO_CARBOHYDRATE
    flesh &= np.nan_to_num(table.values[: len(found), table.column["ALC"]]) <= 0.0
    places = [KEYS.index(key) for key in _PARTS]
    parts = found[:, places]
    known = flesh & (parts > 0.0).all(axis=1)
    bounded = np.minimum(parts, parts.sum(axis=1, keepdims=True) - parts)
    found[:, places] = np.where(known[:, None], bounded, parts)
    return found.astype(np.float16)


def pooled_cv(row: dict[str, object] | None, group: int) -> float:
    """The coefficient of a group in one row of the file; 0 where the file has no such row."""
    return 0.0 if row is None else float(str(row.get(str(group), row["all"])))


def main() -> int:
    """Write both files."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else SPREAD_FILE.parent
    rows = build()
    groups = sorted({name for row in rows for name in row if name.isdigit()}, key=int)
    columns = ["key", "kind", "foods", "prior_df", "floor", "power", "reference", "all", *groups]
    with (folder / SPREAD_FILE.with_suffix(".csv").name).open("w", encoding="utf-8", newline="") as stream:
        stream.write(HEAD)
        writer = csv.DictWriter(stream, columns, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    deviations = food_deviations(rows)
    np.save(folder / SPREAD_FILE.name, deviations, allow_pickle=False)
    print(f"{len(rows)} rows of pooled spread, {deviations.shape[0]} foods by {deviations.shape[1]} nutrients")
    return 0


if __name__ == "__main__":
    sys.exit(main())
