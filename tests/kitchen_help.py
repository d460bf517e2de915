"""Hand-made weighed recipes for the kitchen's tests, and what its laws are checked with."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import Dish, Ledger, LedgerEntry
from labeler.cooking.state.mixture import KEYS, Item, Mixture
from labeler.cooking.state.sampling import Sampler
from labeler.foods.model import Kept, Match, WeighedLine, WeighedPart, WeighedRecipe
from labeler.parsing.ingredient.facts import read_facts
from labeler.parsing.ingredient.part_share import share_of_part
from labeler.parsing.model import Amount, Handling, Line, Part, Pin, Recipe
from labeler.types import Interval


@dataclass(frozen=True)
class Put:
    """One ingredient: its words, table id, grams and their bounds; or what it takes of a part, or of what one keeps."""

    words: str
    food: str | None = None
    grams: float | None = None
    spread: float = 0.0
    part: str | None = None
    kept: Kept | None = None
    amount: Amount | None = None
    retention: tuple[str, ...] = ()


def weighed(parts: dict[str, list[Put | str]], *, head: dict[str, object] | None = None) -> WeighedRecipe:
    """A weighed recipe; in a part's list a `Put` is a line and a string is a handling sentence."""
    number = 2
    plain: list[Part] = []
    made: list[WeighedPart] = []
    for title, rows in parts.items():
        lines: list[WeighedLine] = []
        handling: list[Handling] = []
        start = number
        for row in rows:
            number += 1
            if isinstance(row, str):
                handling.append(Handling(row, number, len(lines)))
                continue
            pin = Pin(retention=row.retention) if row.retention else None
            amounts = (row.amount,) if row.amount else ()
            line = Line(
                row.words, amounts, row.words.split(",")[0], row.words.partition(",")[2], number=number, pin=pin
            )
            match = Match(row.food, "", 1.0, "given") if row.part is None and row.kept is None else None
            grams = None
            if row.grams is not None:
                grams = Interval(row.grams, row.grams * (1 - row.spread), row.grams * (1 + row.spread), "given")
            named = row.part or (row.kept.name if row.kept is not None else None)
            taken = share_of_part(line, named) if named else None
            lines.append(WeighedLine(line, match, grams, part=row.part, kept=row.kept, taken=taken))
        plain.append(Part(title, tuple(one.line for one in lines), tuple(handling), start))
        made.append(WeighedPart(title, tuple(lines)))
    return WeighedRecipe(Recipe("test", tuple(plain), head or {}, "abc123"), tuple(made))


def pot_of(*rows: tuple[str, str, float], draws: int = 0, seed: int = 1) -> tuple[Mixture, Sampler]:
    """A mix of (words, table id, grams), and draws to do something with it."""
    source = Sampler(draws, seed=seed)
    items = [
        Item("part", at + 1, words.split(",")[0], food, facts=read_facts(words))
        for at, (words, food, _) in enumerate(rows)
    ]
    grams = np.repeat(np.array([[row[2] for row in rows]]), source.rows, axis=0)
    return mix_of_foods(items, grams), source


def summed(mixes: list[Mixture], rows: int) -> tuple[np.ndarray, np.ndarray]:
    """Mass (draws,) and nutrients (draws, nutrients) of several mixes together."""
    mass, total = np.zeros(rows), np.zeros((rows, len(KEYS)))
    for mix in mixes:
        mass = mass + mix.total_mass
        total = total + mix.total
    return mass, total


def imbalance(ledger: Ledger) -> float:
    """How far a part's account is off, as a share of what went in: the worst of mass and every nutrient and draw."""
    rows = ledger.kept.draws
    mass_in, total_in = summed([entry.mix for entry in ledger.added], rows)
    mass_out, total_out = summed([ledger.kept, *(entry.mix for entry in ledger.streams)], rows)
    scale = np.maximum(np.abs(total_in), 1.0)
    worst = float(np.max(np.abs(total_in - total_out) / scale, initial=0.0))
    return max(worst, float(np.max(np.abs(mass_in - mass_out) / np.maximum(mass_in, 1.0), initial=0.0)))


def amount(mix: Mixture, key: str) -> float:
    """Best amount of one nutrient in a mix."""
    return float(mix.of(key)[0].sum())


def streams(dish: Dish, part: int = 0) -> dict[str, LedgerEntry]:
    """The streams of a part by kind; the last of each."""
    return {entry.stream: entry for entry in dish.ledgers[part].streams}
