"""Answers to many rows as JSON Lines: one object on a line, in order, over the cores of the machine where that pays."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache, partial
from typing import Any

__all__ = ["allergen_answers", "encoded", "food_answers", "line_answers"]

# Below this many rows a second process costs more than it brings.
WORTH_SHARING = 1500
_CHUNK = 250

Row = tuple[int, str]


_ENCODER = json.JSONEncoder(ensure_ascii=False, check_circular=False)


def encoded(item: dict[str, Any]) -> str:
    """One object as one line."""
    return _ENCODER.encode(item) + "\n"


def line_answers(rows: Sequence[str], source: str) -> Iterator[str]:
    """What ``labeler lines`` writes of each row; the larder that lies beside `source` is at hand."""
    return _shared(partial(_line, source), list(enumerate(rows, start=1)))


def food_answers(names: Sequence[str]) -> Iterator[str]:
    """What ``labeler foods`` writes of each name."""
    return _shared(_food, list(enumerate(names, start=1)))


def allergen_answers(rows: Sequence[str], source: str, *, market: str) -> Iterator[str]:
    """What ``labeler allergens --lines`` writes of each row."""
    return _shared(partial(_allergens, source, market), list(enumerate(rows, start=1)))


def _cores() -> int:
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def _shared(work: Callable[[Row], str], rows: Sequence[Row]) -> Iterator[str]:
    """The answers in the order of the rows; an exception of `work` is raised here."""
    workers = min(_cores(), 1 + len(rows) // WORTH_SHARING)
    if workers == 1:
        yield from map(work, rows)
        return
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(workers) as pool:
        yield from pool.map(work, rows, chunksize=_CHUNK)


@lru_cache(maxsize=1)
def _larder(source: str) -> Any:
    from labeler.larder.find import find_larder

    return find_larder(source)


def _line(source: str, row: Row) -> str:
    from labeler.as_json import line_object
    from labeler.foods.resolve import weigh_line
    from labeler.parsing import read_line

    number, text = row
    return encoded(line_object(weigh_line(read_line(text, number=number), larder=_larder(source))))


def _food(row: Row) -> str:
    from labeler.as_json import food_object
    from labeler.foods.matching.match import search_foods

    return encoded(food_object(row[1], search_foods(row[1])))


def _allergens(source: str, market: str, row: Row) -> str:
    from labeler.allergens import assess_written
    from labeler.as_json import allergen_object
    from labeler.parsing import read_line

    number, text = row
    found = assess_written(read_line(text, number=number), larder=_larder(source), market=market)
    return encoded(allergen_object(found))
