"""What each ingredient weighs where it is used: the weights that an ingredient list is ordered by.

The law orders by the weight that goes in. A food counts with what was weighed of it, less what was poured off or
discarded with the liquid it was in; water that only boils away still went in. The brine that pickles lie in is in the
jar that is sold, whether it is eaten or not. A part counts with what its line takes
of it, and so do the foods within it: a sauce of which half goes into one salad and half into another is half in each.
"""

from __future__ import annotations

from labeler.cooking.models.stock_extraction import EXTRACT
from labeler.cooking.state.ledger import Dish, Ledger
from labeler.cooking.state.mixture import CONSTITUENTS, Item, Mixture, Origin, join
from labeler.foods.model import WeighedRecipe

__all__ = ["ingoing"]

# Constituents of an ingredient of which less than this share of its weight is made say nothing about what stayed.
TRACE = 0.005
# A food with so large a share of solids is where its solids are; what a bay leaf that is taken out has left behind
# weighs what it weighs, and the leaf is still an ingredient.
SOLID = 0.15
_SOLIDS = CONSTITUENTS.index("solids")

Place = tuple[int | str, ...]
_Key = tuple[str, int, str]


def ingoing(weighed: WeighedRecipe, dish: Dish) -> dict[Place, float]:
    """Grams of every use of every ingredient in the finished batch.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
        Of the same recipe.

    Returns
    -------
    dict
        By place: the line numbers of the parts it is used through, then its own line number and, for a food, its
        name. A food of which nothing is left in the dish weighs 0. All uses of one line together are never more than
        what the line put in.
    """
    count = _Count(weighed, dish)
    for title in dish.served:
        if title in count.ledgers:
            count.use(count.ledgers[title], count.ledgers[title].times, ())
    return count.limited()


class _Count:
    """The uses of every ingredient as they are found, part by part."""

    def __init__(self, weighed: WeighedRecipe, dish: Dish) -> None:
        self.parts = {part.title: part for part in weighed.parts}
        self.ledgers = {ledger.part: ledger for ledger in dish.ledgers}
        self.served = {_key(item) for item in dish.mix.items}
        self.served |= {_key(item) for ledger in dish.ledgers for mix in _in_jar(ledger) for item in mix.items}
        self.found: dict[Place, float] = {}
        self.uses: dict[_Key, list[Place]] = {}

    def use(self, ledger: Ledger, scale: float, through: tuple[int, ...]) -> None:
        """What a part holds of its own lines, and of the parts and liquids that it takes."""
        stayed = _stayed(join([ledger.kept, *_in_jar(ledger)]))
        part = self.parts[ledger.part]
        poured = {line.line.number for line in part.lines if line.kept is not None}
        for line in part.lines:
            if line.part is None and line.kept is None:
                for one in (line, *line.also):
                    here = (ledger.part, one.line.number, one.line.name or one.line.text)
                    grams = stayed.get(here, 0.0) if here in self.served else 0.0
                    self._add(here, (*through, line.line.number, here[2]), grams * scale)
        for entry in ledger.added:
            if entry.line in poured:
                self.found[(*through, entry.line)] = float(entry.mix.total_mass[0]) * scale
                for here, grams in _stayed(entry.mix).items():
                    self._add(here, (*through, entry.line, here[1], here[2]), grams * scale)
            elif entry.line and entry.name in self.ledgers and entry.line not in through:
                own = self.ledgers[entry.name]
                made = float(own.kept.total_mass[0])
                taken = float(entry.mix.total_mass[0])
                self.found[(*through, entry.line)] = taken * scale
                if made > 0:
                    self.use(own, scale * taken / made, (*through, entry.line))

    def _add(self, key: _Key, place: Place, grams: float) -> None:
        self.found[place] = grams
        self.uses.setdefault(key, []).append(place)

    def limited(self) -> dict[Place, float]:
        """The uses, no line more than it put in; of a part that is taken more often than it is made, so much more."""
        for ledger in self.ledgers.values():
            put_in = _put_in(ledger)
            for key, grams in put_in.items():
                places = self.uses.get(key, [])
                total, most = sum(self.found[place] for place in places), grams * ledger.times * max(1.0, ledger.used)
                if total > most:
                    for place in places:
                        self.found[place] *= most / total
        return self.found


def _in_jar(ledger: Ledger) -> list[Mixture]:
    """What lies around the food of a part as it is sold, and is in none of its figures."""
    return [entry.mix for entry in ledger.streams if entry.in_jar]


def _key(item: Item) -> _Key:
    return item.part, item.line, item.name.removeprefix(EXTRACT)


def _put_in(ledger: Ledger) -> dict[_Key, float]:
    """Grams of each of its own lines that went into a part."""
    found: dict[_Key, float] = {}
    for entry in ledger.added:
        for at, item in enumerate(entry.mix.items):
            if item.part == ledger.part and item.origin is Origin.LISTED:
                key = _key(item)
                found[key] = found.get(key, 0.0) + float(entry.mix.mass[0, at])
    return found


def _stayed(mix: Mixture) -> dict[_Key, float]:
    """Grams as weighed of each ingredient that are still in a mix, whatever water has left it.

    The phases of one ingredient (what lies in the bowl, what went into the liquid, what clings) count together,
    constituent by constituent, so that nothing of it counts twice.
    """
    held: dict[_Key, list[int]] = {}
    found: dict[_Key, float] = {}
    for at, item in enumerate(mix.items):
        if item.origin is Origin.EXTRACT:
            found[_key(item)] = found.get(_key(item), 0.0) + float(mix.held[0, at] @ mix.weight[at])
        else:
            held.setdefault(_key(item), []).append(at)
    for key, places in held.items():
        grams, weight = mix.held[0, places].sum(axis=0), mix.weight[places[0]]
        counts = weight > TRACE
        if counts.any():
            stayed = float(grams[counts].max())
            if weight[_SOLIDS] > SOLID:
                stayed = float(grams[_SOLIDS]) or float(grams @ weight)
            found[key] = found.get(key, 0.0) + stayed
    return found
