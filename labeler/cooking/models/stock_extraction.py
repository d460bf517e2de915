"""What bones, shells and meat that are thrown away have given to the stock they were boiled in.

Nobody can calculate it from raw bones; the stocks of the table (SR28 06170 beef, 06172 chicken, 06174 fish, all home-
prepared) say what there is in one. Bones give what so much stock of the table holds beside its water; meat gives its
juice and fat as other steps say, so that only protein and what else is no juice comes from here. "Only analysis is
right; next best the database row for stock" (foodandnutrition.org, Nov-Dec 2015).
"""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np

from labeler.cooking.models.moist_heat import WET
from labeler.cooking.models.separation import strain
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.food_class import FLESH, kind_of
from labeler.cooking.state.ledger import Entry
from labeler.cooking.state.mixture import Item, Mixture, blank, join
from labeler.cooking.state.phases import SOLIDS, WATER, Outcome, sort_pot
from labeler.cooking.tasks import Task
from labeler.cooking.work import Work
from labeler.knowledge import Interval, Problem, Status

__all__ = ["EXTRACT", "is_bony", "strained", "with_extract"]

EXTRACT = "extract of "
"""How what bones and meat have given to a stock is named, before the name of what gave it."""

# Stock like the table's that bones or meat make [g/g]: 1 kg makes 1 to 1.5 litres, from a thin second boiling to a
# strong reduction. Common practice, no source.
_STOCK_PER_GRAM = Interval(1.2, 0.3, 2.2)
_BONY = re.compile(
    r"\b(?:bones?|carcass(?:es)?|feet|trotters?|knuckles?|shells?|heads?|necks?|backs?|frames?|trimmings)\b",
    re.IGNORECASE,
)
_STOCKS = (
    ("06174", re.compile(r"fish|salmon|cod|prawn|shrimp|lobster|crab|shell", re.IGNORECASE)),
    ("06170", re.compile(r"beef|veal|marrow|ox|lamb|mutton|game|venison|shin", re.IGNORECASE)),
    ("06172", re.compile(r"")),
)


def is_bony(item: Item) -> bool:
    """Whether an item is bones, shells and the like, by its words."""
    return _BONY.search(item.name) is not None


def with_extract(work: Work, before: Mixture, outcome: Outcome, task: Task) -> Outcome:
    """Add to a liquor what the bones and the meat that leave it have given, and say that it is a guess.

    Parameters
    ----------
    work : Work
    before : Mixture
        The pot before they left.
    outcome : Outcome
        With what is thrown away among its streams; nothing is added without bones or flesh that were boiled in liquor.
    task : Task
    """
    gone = [entry.mix for entry in outcome.streams if entry.stream == "discarded" and entry.mix.items]
    if not gone or not sort_pot(before).liquor.any() or not outcome.kept.items:
        return outcome
    thrown = join(gone)
    mass = thrown.mass
    items: list[Mixture] = []
    names: list[str] = []
    simmered = any(stage.action in WET for stage in work.stages)
    for at, item in enumerate(thrown.items):
        boiled = not item.phase and (item.cooked.partition(",")[0] in WET or (bool(item.cooked) and simmered))
        if not boiled or not (is_bony(item) or kind_of(item.food) in FLESH):
            continue
        stock = next(food for food, pattern in _STOCKS if pattern.search(item.name))
        grams = work.draws.draw(_STOCK_PER_GRAM, "stock") * mass[:, at]
        given = mix_of_foods([Item(work.title, item.line, f"{EXTRACT}{item.name}", stock)], grams[:, None])
        fraction = blank(work.draws.rows, 1, fill=1.0)
        if item.food is None:
            fraction[:, :, WATER] = 0.0
        else:
            fraction[:] = 0.0
            fraction[:, :, SOLIDS] = 1.0
        given, _ = given.split(fraction)
        guessed = np.where(given.status == Status.MISSING, given.status, np.uint8(Status.IMPUTED))
        items.append(replace(given, status=guessed, items=(replace(given.items[0], phase="dissolved"),)))
        names.append(item.name)
    if not items:
        return outcome
    extract = join(items)
    problem = Problem(
        "stock-uncertain",
        f"“{task.step.text}”: what {', '.join(dict.fromkeys(names))} give to a stock is not well known; it is taken "
        "from the stocks of the table, and the intervals are wide. A stock of the table in its place, such as "
        "{food 06172}, or a laboratory is surer.",
        task.line,
    )
    return replace(
        outcome,
        kept=join([outcome.kept, extract]),
        added=(*outcome.added, Entry("added", extract, "given by bones and meat, from stocks of the table")),
        problems=(*outcome.problems, problem),
    )


def strained(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Strain a stock: the liquid stays with what the solids have given it."""
    return with_extract(work, mix, strain(mix, draws=work.draws), task)
