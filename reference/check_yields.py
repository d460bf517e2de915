"""Hold derived cooking yields against stated ones.

    python reference/check_yields.py YIELDS.csv

YIELDS.csv has columns `raw` and `cooked` (SR28 ids), `yield_ref` (cooked per raw weight, as SR28's own weight table
states it) and `cooked_desc`. Rows of muscle meat (beef, lamb, veal, game, pork, poultry) count; organs, skin, separable
fat and "meat only" necks and backs, where SR28 weighs what comes off the bone, do not. Prints
bias, how many are within 10 %, and how many the stated 95 % interval holds; ends with status 1 if the bias is over
2 points or fewer than 90 % are within 10 % or the interval holds less than 90 %.
"""

from __future__ import annotations

import csv
import re
import sys
from pathlib import Path

import numpy as np

from labeler.cooking.models.yield_factors import conserved_yield

NOT_MUSCLE = re.compile(
    r"variety meats|giblets|skin only|separable fat|(?:neck|back), meat only|liver|heart|gizzard|brain|kidney|tongue",
    re.I,
)


def check(path: Path) -> tuple[int, float, float, float]:
    """Rows checked, bias in points, share within 10 %, share inside the stated interval."""
    errors, relative, inside = [], [], []
    with path.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            if not row["raw"] or NOT_MUSCLE.search(row["cooked_desc"]):
                continue
            derived = conserved_yield(f"{int(float(row['raw'])):05d}", f"{int(float(row['cooked'])):05d}")
            if derived is None:
                continue
            stated = float(row["yield_ref"])
            errors.append(100.0 * (derived.best - stated))
            relative.append(abs(derived.best / stated - 1.0) <= 0.10)
            inside.append(derived.low <= stated <= derived.high)
    return len(errors), float(np.mean(errors)), float(np.mean(relative)), float(np.mean(inside))


def main() -> int:
    """Run the check on one file."""
    if len(sys.argv) != 2:
        print(__doc__)
        return 2
    count, bias, within, held = check(Path(sys.argv[1]))
    print(
        f"{count} pairs of muscle meat: bias {bias:+.2f} points, {within:.1%} within 10 %, {held:.1%} in the interval"
    )
    return 0 if abs(bias) <= 2.0 and within >= 0.9 and held >= 0.9 else 1


if __name__ == "__main__":
    sys.exit(main())
