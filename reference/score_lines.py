"""How far the line reader agrees with published labels: ``python reference/score_lines.py LINES.csv [--show CLASS]``.

The file has the columns ``input``, ``name``, ``qty``, ``unit`` and ``comment``, one labelled ingredient line a row.
Such labels are noisy: a field may be short or wrong, of "2 to 3" the label holds one end, and a line without a number
is labelled 0. A quantity agrees where the label is one of the ends of the range that was read, to a hundredth; a unit
agrees where it is the same registry unit. Each disagreement is put into a class, so that those where the reader may
be wrong can be read by eye.
"""

from __future__ import annotations

import argparse
import csv
import re
import sys
import time
from collections import Counter, defaultdict
from pathlib import Path

from labeler.parsing import Line, read_line
from labeler.parsing.numbers import tidy
from labeler.parsing.units import canonical_unit


def _close(label: float, value: float) -> bool:
    return abs(label - value) <= max(0.011, 0.005 * value)


def quantity_class(line: Line, label: float) -> str | None:
    """None where the quantity agrees, else the class of the disagreement."""
    main = line.amounts[0] if line.amounts else None
    if main is None:
        return None if label == 0 else "label has a number, reader none"
    if _close(label, main.low) or _close(label, main.high):
        return None
    text = tidy(line.text)
    if label == 0:
        if re.match(r"\d", text):
            return "line begins with a number, label has none"
        return "line begins with words, label has no number"
    if main.unit is None and _close(12 * label, main.low):
        return "dozens counted"
    if any(_close(label, amount.low) or _close(label, amount.high) for amount in line.amounts[1:]):
        return "label is another amount of the line"
    stated = {float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)}
    return "label is another number of the line" if label in stated else "label is no number of the line"


def unit_class(line: Line, label: str) -> str | None:
    """None where the unit agrees, else the class of the disagreement."""
    main = line.amounts[0] if line.amounts else None
    unit = main.unit if main is not None and main.unit is not None else ""
    wanted = canonical_unit(label) or label
    if unit == wanted:
        return None
    words = tidy(line.text).lower().split()
    if main is None:
        return "label has a unit, reader no amount"
    if wanted == "":
        first = next((canonical_unit(re.sub(r"^[\d./-]+", "", word)) for word in words[:6] if word[:1].isalpha()), None)
        return "label has no unit, line opens with it" if first == unit else "label has no unit"
    if unit == "":
        return "reader has no unit"
    return "both have a unit"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("lines", type=Path, help="CSV of labelled lines")
    parser.add_argument("--show", help="print the lines of this class (a part of its name is enough)")
    parser.add_argument("--most", type=int, default=40, help="how many lines to print")
    options = parser.parse_args()
    with options.lines.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    start = time.perf_counter()
    lines = [read_line(row["input"]) for row in rows]
    seconds = time.perf_counter() - start
    quantities: Counter[str] = Counter()
    units: Counter[str] = Counter()
    shown: dict[str, list[str]] = defaultdict(list)
    numbered = numbered_wrong = 0
    for row, line in zip(rows, lines, strict=True):
        label = float(row["qty"] or 0)
        amounts = ", ".join(f"{a.low:g}-{a.high:g} {a.unit} {a.role}" for a in line.amounts)
        wrong = quantity_class(line, label)
        numbered += label != 0
        numbered_wrong += label != 0 and wrong is not None
        if wrong is not None:
            quantities[wrong] += 1
            shown[f"quantity: {wrong}"].append(f"{row['input']!r} label {label:g} read {amounts}")
        wrong = unit_class(line, row["unit"].strip())
        if wrong is not None:
            units[wrong] += 1
            shown[f"unit: {wrong}"].append(f"{row['input']!r} label {row['unit']!r} read {amounts}")
    count = len(rows)
    print(f"{count} lines, {1e6 * seconds / count:.1f} µs a line")
    print(f"quantity agrees {100 - 100 * quantities.total() / count:.2f} % of all", end="; ")
    print(f"{100 - 100 * numbered_wrong / max(numbered, 1):.2f} % of the {numbered} with a number in the label")
    print(f"unit agrees {100 - 100 * units.total() / count:.2f} %")
    for title, classes in (("quantity", quantities), ("unit", units)):
        for name, number in classes.most_common():
            print(f"  {title}: {name:<50} {number:5d}  {100 * number / count:.2f} %")
    for name, texts in shown.items():
        if options.show and options.show in name:
            print(f"\n{name}")
            print("\n".join(texts[: options.most]))
    return 0


if __name__ == "__main__":
    sys.exit(main())
