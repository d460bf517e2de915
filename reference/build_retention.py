"""Make the kitchen's retention table from USDA's Table of Nutrient Retention Factors, Release 6 (2007).

    python reference/build_retention.py PUBLISHED.csv labeler/cooking/data/usda_retention_r6_2007.csv

PUBLISHED.csv is the release in long form: a row for each code and nutrient with columns `code4`, `description`,
`nutr_no` (SR nutrient number) and `percent`. The release is public domain: Nutrient Data Laboratory, Agricultural
Research Service, US Department of Agriculture, December 2007. The table made has one row for each code and one column
for each nutrient, in per cent kept, named by INFOODS tagname; vitamin A (RE) is VITA_RE.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

TAGNAMES = {
    "221": "ALC",
    "301": "CA",
    "303": "FE",
    "304": "MG",
    "305": "P",
    "306": "K",
    "307": "NA",
    "309": "ZN",
    "312": "CU",
    "318": "VITA_IU",
    "321": "CARTB",
    "322": "CARTA",
    "334": "CRYPX",
    "337": "LYCPN",
    "338": "LUT+ZEA",
    "392": "VITA_RE",
    "401": "VITC",
    "404": "THIA",
    "405": "RIBF",
    "406": "NIA",
    "415": "VITB6A",
    "417": "FOL",
    "418": "VITB12",
    "421": "CHOLN",
    "431": "FOLAC",
    "432": "FOLFD",
}

HEADER = """\
# USDA Table of Nutrient Retention Factors, Release 6 (December 2007), per cent of each nutrient kept; public domain.
# Nutrient Data Laboratory, Agricultural Research Service, US Department of Agriculture.
# Made by reference/build_retention.py; VITA_RE is the factor of retinol and of vitamin A in RAE.
"""


def build(source: Path, target: Path) -> int:
    """Write the wide table and return how many codes it has."""
    rows: dict[str, dict[str, str]] = {}
    with source.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            wide = rows.setdefault(row["code4"], {"code": row["code4"], "description": row["description"].strip()})
            wide[TAGNAMES[row["nutr_no"]]] = row["percent"]
    with target.open("w", encoding="utf-8", newline="") as stream:
        stream.write(HEADER)
        writer = csv.DictWriter(stream, ["code", "description", *TAGNAMES.values()], lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows[code] for code in sorted(rows))
    return len(rows)


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    print(f"{build(Path(sys.argv[1]), Path(sys.argv[2]))} codes")
