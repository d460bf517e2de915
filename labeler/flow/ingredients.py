"""The ingredients of a part as the method may mention them: their words, their kind, how much there is of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from rapidfuzz import fuzz

from labeler.data_files import data_folder, data_rows
from labeler.flow.model import FromLine
from labeler.flow.named_food import is_food_word
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import FLESH, LIQUOR, kind_of
from labeler.foods.matching.name_words import read_name, words
from labeler.foods.model import WeighedLine
from labeler.parsing.instructions.lexicon import classes_of, is_class
from labeler.parsing.instructions.model import Mention
from labeler.parsing.units import millilitres_per

__all__ = ["Ingredient", "group_kinds", "ingredients_of", "is_end_of_compound", "score", "with_amount", "words_of"]

DATA = data_folder("labeler.flow")

_FRESH = 60.0  # g of water in 100 g from which on a herb is a fresh one: a choice, no source
_TYPO = 88.0  # likeness above which one word is taken for a typo of another [0–100]: a choice, no source
_COMPOUND = 4  # letters from which on a word may be the end of a compound: a choice, no source


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One food of an ingredient line.

    Parameters
    ----------
    source : FromLine
    line : WeighedLine
    words : frozenset of str
        Words of its name.
    head : str
    more : frozenset of str
        Every other word of the line.
    table : frozenset of str
        Words of its table entry's first two names.
    kind : str
        Kitchen kind.
    grams : float
        Best estimate [g], 0 where it is not known.
    group : frozenset of str
        Words of the sub-heading that its line stands under.
    part : str
        Title of the part that the line takes; empty for a food.
    """

    source: FromLine
    line: WeighedLine
    words: frozenset[str]
    head: str
    more: frozenset[str]
    table: frozenset[str]
    kind: str
    grams: float
    group: frozenset[str]
    part: str

    @property
    def is_liquid(self) -> bool:
        """Whether it surrounds other food."""
        return self.kind in LIQUOR

    @property
    def is_flesh(self) -> bool:
        """Whether it is meat, fish or poultry."""
        return self.kind in FLESH

    @property
    def is_fresh_leaf(self) -> bool:
        """Whether it is a fresh soft herb, which comes to food late or raw; what is tied in sprigs cooks along."""
        found = self.line.match
        if self.kind != "seasoning" or found is None or found.food is None:
            return False
        table = load_table()
        water = table.values[table.position[found.food], table.column["WATER"]]
        return bool(water > _FRESH) and all(amount.unit != "sprig" for amount in self.line.line.amounts)


@cache
def group_kinds() -> dict[str, tuple[frozenset[str], frozenset[str]]]:
    """Kinds that a class word takes in: surely, and where none of those is there."""
    rows = data_rows(DATA / "group_kinds.csv")
    return {
        row["group"]: (frozenset(row["surely"].split("|")), frozenset(row["maybe"].split("|")) - {""}) for row in rows
    }


def ingredients_of(lines: Sequence[WeighedLine]) -> tuple[Ingredient, ...]:
    """Every food of the lines of a part, in order."""
    found = []
    for index, line in enumerate(lines):
        for place, one in enumerate((line, *line.also)):
            found.append(_ingredient(FromLine(index, place), one, line))
    return tuple(found)


def _ingredient(source: FromLine, one: WeighedLine, line: WeighedLine) -> Ingredient:
    name = read_name(one.line.name or one.line.text)
    own = frozenset(name.words)
    part = line.part or ""
    if part:
        own |= frozenset(words(part))
    if line.kept is not None:
        own |= frozenset(words(line.kept.name))
    food = one.match.food if one.match is not None else None
    described = frozenset[str]()
    if food is not None:
        described = frozenset(words(" ".join(load_table().describe(food).split(",")[:2])))
    return Ingredient(
        source,
        one,
        own,
        name.head or (words(part)[-1] if part and words(part) else ""),
        frozenset(words(one.line.text)) - own,
        described,
        _kind(one, food),
        one.grams.best if one.grams is not None else 0.0,
        frozenset(words(line.line.group)),
        part,
    )


def _kind(one: WeighedLine, food: str | None) -> str:
    """Kitchen kind; tea in a bag and vanilla in its pod are no liquids, though the table's entries are."""
    kind = kind_of(food)
    bagged = any(amount.unit == "bag" for amount in one.line.amounts)
    return "seasoning" if kind in LIQUOR and (bagged or is_class(one.line.name.lower(), "spent-whole")) else kind


def score(one: Ingredient, said: frozenset[str], head: str) -> float:
    """How surely some words mean an ingredient, 0 to 1.

    Parameters
    ----------
    one : Ingredient
    said : frozenset of str
        The words of the mention, in normal form.
    head : str
        The word of it that says what the thing is.
    """
    if not said:
        return 0.0
    own = one.words
    if said == own:
        return 1.0
    if head == one.head:
        extra = said - own - one.more - {word.removesuffix("ly") for word in one.more}  # "roughly": the rough ones
        return 0.97 if not extra else 0.9 - 0.05 * min(len(extra), 3)
    if one.is_flesh and head in one.table:
        return 0.86  # "the beef" is the flank steak, and not the beef broth
    if said == {head} and _is_other_kind(one, head):
        return 0.0
    if _only_qualifies(one, said):
        return 0.0
    if said <= own:
        return 0.82
    if one.head and one.head in said and not classes_of(one.head) & {"tool"}:
        return 0.78
    if head in own:
        return 0.74
    if own & said and head not in one.table:
        return 0.5
    if head in one.table and not _runs_from_food(one, head):
        return 0.72
    if is_end_of_compound(one, said):
        return 0.73
    if head in one.more:
        return 0.6
    if len(head) > 4 and any(len(word) > 4 and fuzz.ratio(head, word) >= _TYPO for word in own):
        return 0.7
    return 0.0


def _is_other_kind(one: Ingredient, word: str) -> bool:
    """Whether a word for a class of foods only tells what another food is of: "vegetable" of vegetable oil."""
    meant = [kinds for name in classes_of(word) if (kinds := group_kinds().get(name)) is not None]
    return bool(meant) and bool(one.kind) and all(one.kind not in surely | maybe for surely, maybe in meant)


def _only_qualifies(one: Ingredient, said: frozenset[str]) -> bool:
    """Whether all that a phrase shares with a food's name is no food's name: "brown bits" and brown sugar."""
    shared = one.words & said
    if not shared or said <= one.words | one.more or one.head in shared:
        return False
    return not any(is_food_word(word) for word in shared)


def _runs_from_food(one: Ingredient, word: str) -> bool:
    """Whether a word is for what runs out of food, and a liquid of the list is another: "juices" beside cider."""
    return one.kind in LIQUOR - {"water"} and "byproduct-liquid" in classes_of(word)


def is_end_of_compound(one: Ingredient, said: frozenset[str]) -> bool:
    """Whether one word is the end of the word for an ingredient: "the slaw" for coleslaw, "the milk" for buttermilk."""
    word = next(iter(said), "")
    return len(said) == 1 and len(word) >= _COMPOUND and one.head != word and one.head.endswith(word)


@lru_cache(maxsize=4096)
def words_of(name: str) -> tuple[frozenset[str], str]:
    """The words of a phrase in normal form, and its head."""
    read = read_name(name)
    head = read.head
    return frozenset(read.words), head


def with_amount(mention: Mention, candidates: Sequence[Ingredient], market: str) -> Ingredient | None:
    """The line whose own amount a mention repeats ("the 1/4 cup sugar")."""
    quantity = mention.quantity
    for one in candidates:
        if quantity.grams is not None and one.grams and abs(quantity.grams.best - one.grams) < 0.05 * one.grams:
            return one
        for amount in one.line.line.amounts[:1]:
            volume = millilitres_per(amount.unit, market=market) if amount.unit else None
            if (
                quantity.millilitres is not None
                and volume
                and abs(volume * amount.low - quantity.millilitres.best) < 0.06 * quantity.millilitres.best
            ):
                return one
    return None
