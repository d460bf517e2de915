"""What a table food counts as where a finished food is judged by what it was made of: flour, fruit, nut, salt.

The classes are those of ``data/makeup_classes.csv``, by the kitchen kind of the food and its description. They
overlap: a tomato is a vegetable too.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache

from labeler.data_files import data_folder, data_rows

__all__ = ["makeup_classes", "makeup_classes_of"]

FILE = data_folder("labeler.foods") / "makeup_classes.csv"


@cache
def _rows() -> tuple[tuple[str, str, re.Pattern[str], str], ...]:
    rows = data_rows(FILE)
    return tuple((row["class"], row["kinds"], re.compile(row["pattern"], re.IGNORECASE), row["unless"]) for row in rows)


@cache
def makeup_classes() -> frozenset[str]:
    """The names of all classes."""
    return frozenset(name for name, *_ in _rows())


@lru_cache(maxsize=4096)
def makeup_classes_of(food: str) -> frozenset[str]:
    """The classes of a table food; raises KeyError for an id that is not in the table."""
    # Whoever only asks for the names of the classes needs no table.
    from labeler.foods.composition.food_table import load_table
    from labeler.foods.food_class import kind_of

    kind, description = kind_of(food), load_table().describe(food)
    found = {
        name: unless
        for name, kinds, pattern, unless in _rows()
        # A kind of two words stands alone in its cell, so that "beef ground" is not read as beef.
        if (not kinds or kind == kinds or (" " not in kind and kind in kinds.split())) and pattern.search(description)
    }
    return frozenset(name for name, unless in found.items() if unless not in found)
