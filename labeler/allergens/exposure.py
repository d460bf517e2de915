"""What happens to each food of a recipe: is it heated, how hot, does only acid touch it, does it end up in a jar.

The cautions rest on these facts. They are read off the flow: a food is as heated as the way into the dish on which
least is done to it, so that eggs of which half are baked and half go raw into the cream are raw.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache

from labeler.allergens.detect import assess_text
from labeler.allergens.vocabulary import rows
from labeler.allergens.words import BREAK, tokens
from labeler.cooking.passages import Passage, passages
from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.flow.model import Node
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.words import words as food_words
from labeler.markets import market_of
from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.model import Instruction
from labeler.parsing.instructions.parser import read_method

__all__ = ["Exposure", "Food", "exposure"]

HOT_SMOKE = 60.0
"""Air of hot smoke [°C] from here on: common practice, no source; cold smoke stays under 30."""
DRY_HEAT = frozenset({Heat.DRY, Heat.FAT, Heat.MICROWAVE})
COOKS = DRY_HEAT | {Heat.WET, Heat.STEAM, Heat.BY_PLACE}
D = frozenset(
    {"canned", "tinned", "cooked", "precooked", "smoked", "dried", "salted", "paste", "powder", "stock", "extract",
     "boiled", "roasted", "roast", "grilled", "fried", "poached", "steamed", "baked", "kippered", "kipper", "jarred",
     "potted", "sauce", "jerky", "flake", "cured"}
)  # fmt: skip
PACKED = frozenset({"can", "tin", "jar"})
SEAFOOD = ("fish", "crustaceans", "molluscs")


ALREADY_COOKED = frozenset(
    {"canned", "tinned", "cooked", "precooked", "smoked", "dried", "salted", "paste", "powder", "stock", "extract",
     "boiled", "roasted", "roast", "grilled", "fried", "poached", "steamed", "baked", "kippered", "kipper", "jarred",
     "potted", "sauce", "jerky", "flake", "cured"}
)  # fmt: skip
PACKED = frozenset({"can", "tin", "jar"})
SEAFOOD = ("fish", "crustaceans", "molluscs")


@dataclass(frozen=True, slots=True)
class Food:
    """One line's food and what the recipe does to it."""

    line: WeighedLine
    part: int
    name: str
    kinds: frozenset[str]
    species: dict[str, tuple[str, ...]]
    cooked_before: bool
    passage: Passage = field(default_factory=Passage)

    @property
    def steps(self) -> tuple[Node, ...]:
        """Everything that is done to it on any way."""
        return self.passage.nodes

    @property
    def heated(self) -> bool:
        """True where a step that can cook it acts on all that is served of it."""
        return any(heats(node) for node in self.passage.least)

    @property
    def dry_heated(self) -> bool:
        """True where it is roasted, baked, grilled or fried."""
        return any(action(node.action).heat in DRY_HEAT and heats(node) for node in self.steps)

    @property
    def steeped(self) -> bool:
        """True where it lies in a liquid, a marinade or a cure."""
        return any(action(node.action).handler is Handler.LIE for node in self.steps)

    @property
    def raw(self) -> bool:
        """True where neither the cook nor the maker before has heated it."""
        return not self.heated and not self.cooked_before

    @property
    def text(self) -> str:
        """The line as written."""
        return self.line.line.text.strip()


@dataclass(frozen=True, slots=True)
class Exposure:
    """The foods of a recipe, the instructions of its parts, and whether it says anything of handling at all."""

    foods: tuple[Food, ...]
    methods: tuple[tuple[Instruction, ...], ...]
    handled: bool


def heats(node: Node) -> bool:
    """Whether a node cooks food: by its heat; smoke where it is hot, warming where it comes to the boil."""
    heat, settings = action(node.action).heat, node.settings
    if node.action == "smoke":
        warm = settings.celsius is not None and settings.celsius.best >= HOT_SMOKE
        return warm or settings.core is not None
    return heat in COOKS and node.action not in ("toast", "blanch")


@cache
def _kinds() -> tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...]:
    def padded(cell: str) -> tuple[str, ...]:
        return tuple(f" {' '.join(tokens(word))} " for word in cell.split("|") if word)

    return tuple((row["kind"], padded(row["words"]), padded(row["unless"])) for row in rows("caution_foods.csv"))


def kinds_of(text: str, mended: str = "") -> frozenset[str]:
    """Which foods that a caution knows the words of a text name, unless the text or its mended spelling denies it."""
    said = f" {' '.join(word for word in tokens(text) if word != BREAK)} "
    meant = f"{said}{' '.join(tokens(mended))} "
    return frozenset(
        kind
        for kind, words, unless in _kinds()
        if any(word in said for word in words) and not any(word in meant for word in unless)
    )


def _food(line: WeighedLine, part: int) -> Food:
    written = line.line
    name = written.name or written.text
    said = f"{name}, {written.preparation}" if written.preparation else name
    words = set(tokens(said))
    species: dict[str, tuple[str, ...]] = {}
    for finding in assess_text(name).contains:
        if finding.allergen in SEAFOOD and finding.rule == "source" and "oil" not in words:
            species[finding.allergen] = finding.names
    # "Cider vinagar" is matched as vinegar, so it is no cider here either.
    meant = " ".join(food_words(line.match.read_as if line.match is not None and line.match.read_as else name))
    kinds = set(kinds_of(f"{said} {written.note}" if written.note else said, meant)) | kinds_of(meant) | set(species)
    packed = any(amount.unit in PACKED for amount in written.amounts)
    return Food(line, part, name, frozenset(kinds), species, packed or bool(words & ALREADY_COOKED))


def _lines(part: tuple[WeighedLine, ...]) -> Iterator[WeighedLine]:
    for line in part:
        if line.part is None:
            yield line
            yield from line.also


def exposure(weighed: WeighedRecipe, *, market: str = "", dish: Dish | None = None) -> Exposure:
    """What the method of a recipe does to each of its foods.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str
        Whose cups and pints the method speaks of; empty for the one that the recipe was weighed for.
    dish : Dish or None
        The recipe as it was cooked; None cooks it.
    """
    dish = dish or cook(weighed)
    place = market_of(weighed.recipe, market or weighed.market)
    through = passages(weighed, dish, rank=heats)
    foods = []
    for at, part in enumerate(weighed.parts):
        for line in _lines(part.lines):
            key = (part.title, line.line.number, line.line.name or line.line.text)
            foods.append(replace(_food(line, at), passage=through.get(key, Passage())))
    methods = tuple(read_method(part, market=place).instructions for part in weighed.recipe.parts)
    return Exposure(tuple(foods), methods, any(part.handling for part in weighed.recipe.parts))
