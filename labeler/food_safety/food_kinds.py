"""Which kinds of food that a caution knows a line brings: by the matched table entry, else by the words of its name.

Where a name was matched with confidence, the table's group and description decide what animal, grain or vegetable it
is: rump is beef though it does not say so, and beef dripping is fat though it does. Words decide only where nothing was
matched, and for the few kinds that no table entry tells (honey, scotch bonnets, whole nuts).
"""

from __future__ import annotations

from functools import cache

from labeler.allergens.detect import assess_text
from labeler.data_files import data_folder, data_rows
from labeler.food_safety.model import FoodKind
from labeler.foods.composition.food_table import load_table
from labeler.foods.model import Match
from labeler.text.tokens import BREAK, tokens

__all__ = ["cooked_in_table", "kinds_by_table", "kinds_by_words", "kinds_of", "rows", "species_of"]

DATA = data_folder("labeler.food_safety")
SURE = 0.6
"""Confidence from which the table entry decides."""
SEAFOOD = (FoodKind.FISH, FoodKind.CRUSTACEANS, FoodKind.MOLLUSCS)
FISH_GROUP, SAUSAGES = 1500, 700
BY_TABLE = frozenset(
    {FoodKind.POULTRY, FoodKind.GROUND_MEAT, FoodKind.MEAT, FoodKind.GAME, FoodKind.EGG, FoodKind.SOFT_DAIRY,
     FoodKind.TOFU, FoodKind.SURIMI, FoodKind.GRAIN, FoodKind.BEANS, FoodKind.VEGETABLE, FoodKind.LEAFY_GREENS,
     FoodKind.TOMATO, FoodKind.MELON, FoodKind.FLOUR}
)  # fmt: skip
"""Kinds that a confident match settles, for or against."""
_RAW = frozenset({"raw", "uncooked", "unheated", "unprepared", "fresh"})
_DONE = frozenset({"cooked", "roasted", "canned", "heated", "dried", "baked", "boiled", "fried", "broiled", "braised",
                   "smoked", "simmered", "stewed", "poached", "microwaved", "jerky", "cured", "surimi",
                   "imitation"})  # fmt: skip


def rows(name: str) -> list[dict[str, str]]:
    """The rows of one data file, comment lines left out."""
    return data_rows(DATA / name)


def _padded(cell: str) -> tuple[str, ...]:
    return tuple(f" {' '.join(word for word in tokens(part) if word != BREAK)} " for part in cell.split("|") if part)


@cache
def _by_words() -> tuple[tuple[FoodKind, tuple[str, ...], tuple[str, ...]], ...]:
    return tuple(
        (FoodKind(row["kind"]), _padded(row["words"]), _padded(row["unless"])) for row in rows("food_kinds.csv")
    )


@cache
def _by_entry() -> tuple[tuple[FoodKind, frozenset[int], tuple[frozenset[str], ...], tuple[str, ...]], ...]:
    return tuple(
        (
            FoodKind(row["kind"]),
            frozenset(int(group) for group in row["groups"].split("|")),
            tuple(frozenset(tokens(phrase)) for phrase in row["words"].split("|") if phrase),
            _padded(row["unless"]),
        )
        for row in rows("table_kinds.csv")
    )


def kinds_by_words(text: str, mended: str = "") -> frozenset[FoodKind]:
    """Which foods the words of a text name, unless the text or its mended spelling denies it."""
    stated = f" {' '.join(word for word in tokens(text) if word != BREAK)} "
    meant = f"{stated}{' '.join(tokens(mended))} "
    return frozenset(
        kind
        for kind, words, unless in _by_words()
        if any(word in stated for word in words) and not any(word in meant for word in unless)
    )


@cache
def kinds_by_table(food: str) -> frozenset[FoodKind]:
    """What a table entry is, by its group and its description."""
    table = load_table()
    at = table.position[food]
    group = int(table.group_codes[at])
    words = [word for word in tokens(table.descriptions[at]) if word != BREAK]
    joined = f" {' '.join(words)} "
    found = {
        kind
        for kind, groups, phrases, unless in _by_entry()
        if group in groups
        and (not phrases or any(phrase.issubset(words) for phrase in phrases))
        and not any(word in joined for word in unless)
    }
    return frozenset(found)


def species_of(name: str, food: str | None) -> dict[FoodKind, tuple[str, ...]]:
    """The species of the fish and shellfish that a name, or the table entry it was matched to, is."""
    table = load_table()
    if "oil" in tokens(name):
        return {}
    texts = [name]
    if food is not None and int(table.group_codes[table.position[food]]) == FISH_GROUP:
        texts.append(table.descriptions[table.position[food]])
    for text in texts:
        found = {
            FoodKind(finding.allergen): finding.names
            for finding in assess_text(text).contains
            if finding.allergen in SEAFOOD and finding.rule in ("source", "species")
        }
        if found:
            return found
    return {}


def kinds_of(name: str, beside: str, match: Match | None, mended: str) -> frozenset[FoodKind]:
    """What a line brings.

    Parameters
    ----------
    name, beside : str
        The name of the food, and everything else that the line says of it.
    match : Match or None
    mended : str
        The name in normal words, its spelling mended.
    """
    words = kinds_by_words(f"{name}, {beside}", mended) | kinds_by_words(mended)
    food = match.food if match is not None and match.confidence >= SURE else None
    if food is None or food not in load_table():
        return words
    return (words - BY_TABLE) | kinds_by_table(food)


def cooked_in_table(match: Match | None) -> bool:
    """True where the matched entry is one that is sold cooked, canned, cured or dried."""
    if match is None or match.food is None or match.confidence < SURE or match.food not in load_table():
        return False
    table = load_table()
    if int(table.group_codes[table.position[match.food]]) == SAUSAGES:
        return not kinds_by_table(match.food)  # a fresh sausage stands in the table cooked, and is bought raw
    words = set(tokens(match.description))
    return words.isdisjoint({*_RAW}) and not words.isdisjoint(_DONE)
