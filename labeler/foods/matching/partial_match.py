"""What the lexicon makes of a name that is not in it word for word.

Words of form are left out ("large garlic cloves, minced"), a kind after the thing is left out ("harissa sauce"), the
weightiest part that holds the head is taken ("purple eggplant"), the first of two foods offered is taken ("lemon or
lime juice"), and a cook's remarks after the food are cut off ("zucchini, sliced paper-thin").
"""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import read_name, word_kinds
from labeler.foods.matching.search import FOOD_WEIGHT, load_index
from labeler.foods.matching.synonyms import LexiconEntry, load_lexicon
from labeler.text.plurals import singular

if TYPE_CHECKING:
    from collections.abc import Sequence

    from labeler.foods.matching.name_words import Name

__all__ = ["Meaning", "first_offered", "is_form", "leafy", "meaning", "part_meaning", "turned", "without_remarks"]

_MOST_FORM_WORDS = 5  # of more, only all are left out, not some
_LONGEST_PART = 9
_WIDEST_PART = 5
_STATE_SHARE = 0.3  # a word of state says less of which food it is than a word for a food
_REMARK = re.compile(
    r"[,;(){}\[\]]|\bsuch as\b|\bplus\b|\bpreferably\b|\bfrom\b|\bfor\b|\bif\b|\s[-–—]\s", re.IGNORECASE
)
LEAFY_FILE = Path(__file__).parents[1].joinpath("data") / "leafy_words.csv"
_HERBS = 200  # SR28 food group of spices and herbs
_COLOURS = frozenset("white green red yellow orange pale black brown pink".split())


class Meaning(NamedTuple):
    """What the lexicon takes a name for.

    Parameters
    ----------
    entry : LexiconEntry
        The meaning; its food is empty for a name that is known to be in no row of the table.
    words : frozenset of str
        The words of the name that it explains.
    left_out : tuple of str
        Words of the name that it does not.
    share : float
        How much of the name it explains, by weight, in [0, 1]; 1 where only words of form are left out.
    """

    entry: LexiconEntry
    words: frozenset[str]
    left_out: tuple[str, ...] = ()
    share: float = 1.0


def is_form(word: str) -> bool:
    """Whether a word says only in what form or measure a food comes ("large", "sliced", "clove", a number)."""
    return word[0].isdigit() or word_kinds().get(word) in ("plain", "part")


@cache
def leafy(food: str) -> bool:
    """Whether a table food is a leaf, or comes in leaves, so that "leaves" behind its name say nothing new."""
    table = load_table()
    row = table.position[food]
    return int(table.group_codes[row]) == _HERBS or not _leafy_words().isdisjoint(
        singular(word) for word in re.findall(r"[a-z-]+", table.descriptions[row].lower())
    )


@cache
def _leafy_words() -> frozenset[str]:
    lines = LEAFY_FILE.read_text(encoding="utf-8").splitlines()
    return frozenset(singular(word) for line in lines[1:] if not line.startswith("#") for word in line.split("|"))


def meaning(name: Name) -> Meaning | None:
    """The lexicon's meaning of a whole name, words of form apart; None where it has none.

    As few words as can be are left out: "hot" may belong to the name ("hot red pepper, crushed").
    """
    words = tuple(sorted(set(name.words)))
    if not words:
        return None
    lexicon = load_lexicon()
    form = tuple(word for word in words if is_form(word))
    for count in range(len(form) + 1):
        if len(form) > _MOST_FORM_WORDS and 0 < count < len(form):
            continue
        for out in combinations(form, count):
            kept = [word for word in words if word not in out]
            entry = lexicon.find(kept, name.head) if kept else None
            if entry is not None:
                return Meaning(entry, frozenset(kept), out)
    return _without_kind(name)


def _without_kind(name: Name) -> Meaning | None:
    """The meaning of a name whose head only says the kind of the food before it: "harissa sauce"."""
    before = [word for word in dict.fromkeys(name.words) if word != name.head and not is_form(word)]
    if not before or name.first < len(name.words) or name.head not in name.words:
        return None
    entry = load_lexicon().find(before, before[-1])
    if entry is None or not entry.food or not load_index().carries(load_table().position[entry.food], name.head):
        return None
    kept = frozenset(before) | {name.head}
    return Meaning(entry, kept, tuple(word for word in name.words if word not in kept))


def part_meaning(name: Name) -> Meaning | None:
    """The lexicon's meaning of the weightiest part of a name that holds its head; None where there is none.

    A name with words for foods after its first comma is worded by a table: its parts are not names of their own.
    """
    if any(word not in word_kinds() for word in name.words[name.first :]):
        return None
    words = [word for word in dict.fromkeys(name.words) if not is_form(word)]
    first = [word for word in words if word in name.words[: name.first]]
    if name.head not in first or len(first) > _LONGEST_PART:
        return None
    # A word of form may be one of the name: "hot" in "Cajun hot sauce".
    forms = [word for word in dict.fromkeys(name.words[: name.first]) if is_form(word) and not word[0].isdigit()]
    others = [word for word in (*first, *forms) if word != name.head][:_LONGEST_PART]
    weight_of = load_index().weight_of
    for size in range(min(len(others), _WIDEST_PART - 1), -1, -1):
        parts = [(name.head, *chosen) for chosen in combinations(others, size)]
        known = [(part, entry) for part in parts if (entry := load_lexicon().find(part, name.head)) and entry.food]
        if known:
            part, entry = max(known, key=lambda pair: sum(map(weight_of, pair[0])))
            if all(is_form(word) for word in part if word != name.head) and size and len(first) == 1:
                continue
            return Meaning(
                entry, frozenset(part), tuple(word for word in words if word not in part), _share(part, words)
            )
    return None


def _share(part: Sequence[str], texts: Sequence[str]) -> float:
    kinds, index = word_kinds(), load_index()
    weights = {
        word: index.weight_of(word, unknown=FOOD_WEIGHT) * (_STATE_SHARE if kinds.get(word) == "state" else 1.0)
        for word in texts
    }
    # Words that no name of the table has are together one name, of a maker or a place: "Acini di Pepe pasta".
    unheard = [word for word in texts if word not in index.number and word not in part]
    for word in unheard[1:]:
        weights[word] = 0.0
    return sum(weights.get(word, 0.0) for word in part) / sum(weights.values())


def turned(text: str) -> str:
    """A name of two parts with its first part last, as cooks say it ("baking soda" for "soda, baking"); else empty."""
    first, comma, second = text.partition(",")
    return f"{second} {first}" if comma and "," not in second else ""


def first_offered(text: str) -> str:
    """The first of the foods that a name offers ("lemon juice" of "lemon or lime juice"); empty where it is none."""
    parts = text.split(" or ")
    if len(parts) < 2 or "," in parts[0]:
        return ""
    last = parts[-1].split()[-1:]
    for first in (" ".join([parts[0], *last]), parts[0]):
        if meaning(read_name(first)) is not None:
            return first
    return ""


def without_remarks(text: str) -> str:
    """A name up to the cook's remarks ("zucchini" of "zucchini, sliced paper-thin"); empty where there are none.

    Remarks are mostly words of form and state; what names other foods is a table's way of naming one.
    """
    kinds, number = word_kinds(), load_index().number
    parts = [part for part in _REMARK.split(text) if part.strip()]
    for at, part in enumerate(parts):
        if all(word in kinds or word[0].isdigit() for word in read_name(part).words):
            continue
        rest = read_name(" , ".join(parts[at + 1 :])).words
        foods = sum(word in number and word not in kinds and word not in _COLOURS for word in rest)
        return part if len(rest) + at > 0 and foods * 4 <= len(rest) else ""
    return ""
