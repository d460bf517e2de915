"""Kitchen figures: weights and shares that the food table does not hold, in CSV files, found by the words of a food.

Each file says at its head what its columns mean and where its figures come from; each row carries its own basis.
The row with the most words in common with the food's name wins; of equals the one whose word stands first, which in
English tells the kind ("romaine lettuce"). A word that makes another food of it must stand in the row: a figure for
corn says nothing of corn syrup.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache, cached_property
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.foods.matching.name_words import words
from labeler.types import Interval

__all__ = ["ReferenceWeight", "ReferenceWeights", "best_figure", "load_figures"]

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

DATA = data_folder("labeler.foods")

# Behind another food's name these make a new food of it.
_MADE_OF = frozenset(
    words(
        "syrup starch flour oil juice sauce paste powder broth stock soup milk butter cream vinegar wine chip jam "
        "jelly preserve marmalade cake cracker tortilla noodle liqueur extract seasoning dressing ketchup spread puree "
        "peel zest bouillon meal bran pie sausage salad candy crust crumb dip spray soda beer concentrate relish curd "
        "yogurt bun roll muffin cookie biscuit cereal water tea coffee brandy vodka rum cider seed cube mix filling "
        "nectar essence schnapps base gravy custard pudding sorbet sherbet"
    )
)


class ReferenceWeight(NamedTuple):
    """One row of a figures file.

    Parameters
    ----------
    key : str
        What the figure is of: a piece ("bunch"), a form ("chopped"), a purpose ("frying").
    wanted, barred : frozenset of str
        Words that the food's name must all have, and must not have.
    groups : frozenset of int
        SR28 food groups that it holds for; empty for any.
    size : str
        Size of the piece; empty for any.
    value : Interval
        The figure with its bounds and its basis, in the unit that the file's head states.
    inches : float or None
        Length or diameter of the piece [in], where the file gives it.
    """

    key: str
    wanted: frozenset[str]
    barred: frozenset[str]
    groups: frozenset[int]
    size: str
    value: Interval
    inches: float | None = None


class ReferenceWeights(tuple[ReferenceWeight, ...]):
    """The rows of one key in the order of the file, with the way to those that may fit a name."""

    @cached_property
    def _by_word(self) -> Mapping[str, tuple[tuple[int, ReferenceWeight], ...]]:
        by_word: dict[str, list[tuple[int, ReferenceWeight]]] = {}
        for at, row in enumerate(self):
            by_word.setdefault(min(row.wanted, default=""), []).append((at, row))
        return {word: tuple(rows) for word, rows in by_word.items()}

    def near(self, texts: Iterable[str]) -> Iterable[ReferenceWeight]:
        """The rows that want one of these words, and those that want none, in the order of the file."""
        by_word = self._by_word
        found = [place for word in texts for place in by_word.get(word, ())]
        found += by_word.get("", ())
        found.sort(key=itemgetter(0))
        return [row for _, row in found]


class _FiguresFile(Mapping[str, ReferenceWeights]):
    """The rows of one file by key; the words of a row are made when its key is first asked for."""

    def __init__(self, path: Traversable) -> None:
        self._rows: dict[str, list[dict[str, str]]] = {}
        self._made: dict[str, ReferenceWeights] = {}
        for row in data_rows(path):
            for key in row["key"].split("|"):
                self._rows.setdefault(key, []).append(row)

    def __getitem__(self, key: str) -> ReferenceWeights:
        if key not in self._made:
            self._made[key] = ReferenceWeights(figure for row in self._rows[key] for figure in _figures(row))
        return self._made[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)


def _figures(row: Mapping[str, str]) -> Iterator[ReferenceWeight]:
    value = Interval(float(row["best"]), float(row["low"]), float(row["high"]), row["basis"])
    groups = frozenset(int(code) for code in row.get("groups", "").split())
    inches = float(row["inches"]) if row.get("inches") else None
    for name in row["food"].split("|"):
        plain = name.split()
        wanted = frozenset(words(" ".join(word for word in plain if word[0] != "-")))
        barring = " ".join(word[1:] for word in plain if word[0] == "-")
        barred = frozenset(words(barring)) - wanted if barring else frozenset()
        yield ReferenceWeight(row["key"], wanted, barred, groups, row.get("size") or "", value, inches)


@cache
def load_figures(file: str) -> Mapping[str, ReferenceWeights]:
    """The rows of one figures file of the package's data folder, by key."""
    return _FiguresFile(DATA / file)


def best_figure(
    rows: Iterable[ReferenceWeight], name: Sequence[str], group: int | None, size: str | None = None
) -> ReferenceWeight | None:
    """The row that fits a food best, None where none fits.

    Parameters
    ----------
    rows : iterable of ReferenceWeight
        Rows of one key.
    name : sequence of str
        Normal words of the food's name, in order.
    group : int or None
        Its SR28 food group; rows that are for certain groups fit only these.
    size : str or None
        Size of the piece; a row of that size beats one of any size, and a row of another size does not fit.
    """
    stated = frozenset(name)
    made_of = stated & _MADE_OF if len(stated) > 1 else frozenset()
    best, best_score = None, (-1, -99, False, False)
    for row in rows.near(stated) if isinstance(rows, ReferenceWeights) else rows:
        if not row.wanted <= stated or row.barred & stated or (row.groups and group not in row.groups):
            continue
        if (row.size and row.size != size) or (row.wanted and not made_of <= row.wanted):
            continue
        first = min((at for at, word in enumerate(name) if word in row.wanted), default=99)
        score = (len(row.wanted), -first, bool(row.size), bool(row.groups))
        if score > best_score:
            best, best_score = row, score
    return best
