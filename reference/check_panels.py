"""How many recipes give a panel without a hole, market by market, and what leaves the others open.

    python reference/check_panels.py LINES.csv FOLDER... [--market us eu uk ca anz] [--show]

LINES.csv has the columns `file` and `text`, an ingredient line a row; the lines of one file are taken as one recipe of
four servings. Each FOLDER holds recipes in any form that the program reads. A panel is complete where every mandatory
line prints a figure: none "not known", none "at least". Counted among the recipes whose foods are all matched, and
among all. ``--show`` names what leaves a panel open, most frequent first.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from recipe_files import recipes_of

from labeler.nutrition.analysis import Nutrition, analyse
from labeler.rules.declaration import Declaration, declare
from labeler.rules.missing_values import open_values
from labeler.types import Status

MARKETS = ("us", "eu", "uk", "ca", "anz")


def all_matched(nutrition: Nutrition) -> bool:
    """Whether every line that names a food has one."""
    every = [one for _, line in nutrition.lines if line.part is None for one in (line, *line.also)]
    return all(one.match is None or one.match.food is not None or one.match.own is not None for one in every)


def reasons(name: str, nutrition: Nutrition, declared: Declaration) -> Iterator[str]:
    """What leaves a panel open, printed with the recipe's name."""
    yield from (line.id for line in declared.mandatory if line.status is Status.MISSING)
    for problem in open_values(nutrition, declared, nutrition.per_serving):
        print(name, problem.message[:200])
        yield problem.message[:160]


def main() -> int:
    """Print complete panels by market."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("lines", type=Path)
    parser.add_argument("folders", type=Path, nargs="*")
    parser.add_argument("--market", nargs="*", default=MARKETS)
    parser.add_argument("--show", action="store_true")
    options = parser.parse_args()
    whole: Counter[str] = Counter()
    whole_matched: Counter[str] = Counter()
    statuses: Counter[str] = Counter()
    why: Counter[str] = Counter()
    count = matched = 0
    for name, recipe in recipes_of(options.folders, options.lines):
        known = None
        for market in options.market:
            nutrition = analyse(recipe, market=market, draws=0)
            if known is None:
                known = all_matched(nutrition)
                count, matched = count + 1, matched + known
            declared = declare(nutrition.per_serving, market=market)
            full = all(line.known for line in declared.mandatory)
            whole[market] += full
            whole_matched[market] += full and known
            statuses.update(f"{market} {line.status.words}" for line in declared.mandatory)
            if options.show and market == options.market[0] and not full and known:
                why.update(reasons(name, nutrition, declared))
    print(f"{count} recipes, {matched} with all foods matched")
    for market in options.market:
        all_share = 100 * whole[market] / max(count, 1)
        shares = ", ".join(
            f"{key.partition(' ')[2]} {n}" for key, n in statuses.items() if key.startswith(f"{market} ")
        )
        print(
            f"{market:4} complete {100 * whole_matched[market] / max(matched, 1):5.1f} % of those "
            f"({whole_matched[market]}), {all_share:5.1f} % of all ({whole[market]}); {shares}"
        )
    for said, times in why.most_common(60):
        print(f"{times:5} {said}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
