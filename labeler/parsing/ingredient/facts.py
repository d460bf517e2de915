"""What an ingredient line says of the state of its food, as typed facts: how it is cut, coated, skinned, drained.

Cooking asks these facts and never the words. They are read once, where a line becomes an ingredient; the words stand in
``data/fact_words.csv``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from enum import Enum
from functools import cache, lru_cache

from labeler.data_files import data_folder, data_rows
from labeler.parsing.ingredient.cut import Cut, CutStyle, read_size
from labeler.parsing.model import Line
from labeler.text.first_letters import FirstLetters

__all__ = ["Animal", "Coat", "Facts", "Trait", "facts_of", "read_facts", "read_traits"]

WORDS_FILE = data_folder("labeler.parsing") / "fact_words.csv"


class Coat(Enum):
    """What surrounds food that is fried, by the words of its line."""

    NONE = ""
    BATTER = "batter"
    CRUMBS = "crumbs"


class Animal(Enum):
    """What bones and shells are of, by their name."""

    OTHER = ""  # poultry, or nothing that is said
    FISH = "fish"
    MAMMAL = "mammal"


class Trait(Enum):
    """What tells apart the entries that the table has of one food, cooked one way."""

    PATTY = "patty"
    CRUMBLES = "crumbles"
    BONE_IN = "bone-in"
    BONELESS = "boneless"
    BLADE = "blade"
    SPARERIBS = "spareribs"
    FRESH = "fresh"
    CURED = "cured"
    PARBOILED = "parboiled"
    ENRICHED = "enriched"
    UNENRICHED = "unenriched"
    FRIED = "fried"
    SCRAMBLED = "scrambled"


@dataclass(frozen=True, slots=True)
class Facts:
    """The state of a food as its line says it; what the line does not say is empty.

    Parameters
    ----------
    cut : Cut
    coat : Coat
        Crumbs or batter that it comes in, or that it is.
    traits : frozenset of Trait
    skin_on : bool
        The line says that the skin is on.
    shelled : bool
        It is out of its shell or skin, or is only the yolk or the white of an egg.
    rinsed, drained : bool
        The line says that it is.
    injected : bool
        Brine was pumped into it, or is drawn in under vacuum.
    bones : bool
        It is bones, shells or the like, which only give to a stock.
    animal : Animal
    """

    cut: Cut = field(default_factory=Cut)
    coat: Coat = Coat.NONE
    traits: frozenset[Trait] = frozenset()
    skin_on: bool = False
    shelled: bool = False
    rinsed: bool = False
    drained: bool = False
    injected: bool = False
    bones: bool = False
    animal: Animal = Animal.OTHER


@cache
def _words() -> tuple[tuple[str, str, bool, re.Pattern[str]], ...]:
    """Fact, value, whether it is read from the name alone, and pattern of each row."""
    rows = data_rows(WORDS_FILE)
    return tuple((row["fact"], row["value"], row["where"] == "name", _pattern(row["words"])) for row in rows)


@cache
def _first_letters() -> FirstLetters:
    """The rows by the first letters of their words; one that fits inside a word may stand anywhere."""
    rows = (row["words"].split("|") for row in data_rows(WORDS_FILE))
    return FirstLetters(["" if word.startswith("*") else word for word in words] for words in rows)


def _pattern(words: str) -> re.Pattern[str]:
    """Words of the table as a pattern: "*word" fits inside a word, "word$" the whole word or its plural."""
    inside = []
    for word in words.split("|"):
        start, end = "" if word.startswith("*") else r"\b", r"s?\b" if word.endswith("$") else ""
        inside.append(start + re.escape(word.strip("*$")) + end)
    return re.compile("|".join(inside), re.IGNORECASE)


@lru_cache(maxsize=2048)
def read_facts(text: str, name: str = "") -> Facts:
    """The facts of a line.

    Parameters
    ----------
    text : str
        Name, preparation and note of the line in one; any text is allowed.
    name : str
        The name alone; empty where `text` is no more than a name.
    """
    name = name or text
    found: dict[str, list[str]] = {}
    rows, letters = _words(), _first_letters()
    for at in letters.of(f"{text} {name}"):
        fact, value, of_name, pattern = rows[at]
        if pattern.search(name if of_name else text):
            found.setdefault(fact, []).append(value)
    size = read_size(text)
    states = found.get("state", ())
    return Facts(
        cut=Cut(frozenset(map(CutStyle, found.get("cut", ()))), *(size or (None, None))),
        coat=Coat(found.get("coat", [""])[0]),
        traits=frozenset(map(Trait, found.get("trait", ()))),
        skin_on="skin" in found,
        shelled="shelled" in states,
        rinsed="rinsed" in states,
        drained="drained" in states,
        injected="injected" in states,
        bones="remains" in found,
        animal=Animal(found.get("animal", [""])[0]),
    )


def facts_of(line: Line) -> Facts:
    """The facts of an ingredient line as read."""
    return read_facts(f"{line.name} {line.preparation} {line.note}".strip() or line.text, line.name or line.text)


@lru_cache(maxsize=4096)
def read_traits(text: str) -> frozenset[Trait]:
    """The traits that a text has words for: a line, an instruction or a description of the table."""
    rows = (_words()[at] for at in _first_letters().of(text))
    return frozenset(Trait(value) for fact, value, _, pattern in rows if fact == "trait" and pattern.search(text))
