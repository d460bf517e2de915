"""Yolks and whites of a line of whole eggs, where the method takes only one of the two.

"6 eggs" and "whisk the yolks with the sugar": what is eaten is the yolks. Such a line is weighed as whites and yolks,
so that the flow can tell where each goes; where the method takes both, or the eggs whole, the line stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import words
from labeler.foods.model import Match, WeighedLine
from labeler.parsing.instructions.actions import Gathers, Handler, Trait, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Instruction, Manner, Mark, Mention, Mood, Role
from labeler.parsing.instructions.parser import read_method
from labeler.parsing.model import Part
from labeler.types import Interval

__all__ = ["with_egg_parts"]

_WHOLE, _WHITE, _YOLK = "01123", "01124", "01125"  # ids of SR28: whole, white and yolk, raw, fresh
# Part of a shelled egg that is white. SR28 weighs a large egg 50 g, its white 33 g and its yolk 17 g.
_WHITE_SHARE = Interval(0.66, 0.62, 0.69, "white of a shelled egg, household weights of SR28")
_GOES = frozenset({Handler.DISCARD, Handler.KEEP, Handler.SEPARATE})


def with_egg_parts(lines: Sequence[WeighedLine], part: Part, *, market: str) -> list[WeighedLine]:
    """The lines of a part, whole eggs as whites and yolks where its method takes one of the two alone."""
    whole = [line for line in lines if _is_whole(line)]
    told = any(_names(one.line.name, "yolk", "white") for line in lines for one in (line, *line.also))
    if len(whole) != 1 or told:
        return list(lines)
    instructions = read_method(part, market=market).instructions
    if any(_takes_whole(one) for one in instructions):
        return list(lines)
    taken = list(_taken(instructions))
    yolks = any(_names(mention.name, "yolk") for mention in taken)
    whites = any(_is_white(mention) for mention in taken)
    eggs = any(_names(mention.name, "egg") and not _names(mention.name, "yolk", "white") for mention in taken)
    if yolks == whites or eggs:
        return list(lines)
    return [_parted(line) if line is whole[0] else line for line in lines]


def _takes_whole(one: Instruction) -> bool:
    """Whether an act may take the eggs as they are, with all else or opened: "mix all the ingredients", "crack them".

    What names only a yolk then brushes or dips with it, and leaves the eggs where they went.
    """
    names = [mention.name for mention in one.mentions if mention.role is not Role.EVIDENCE]
    opened = Manner.OPENS_EGGS in one.manners and all(is_class(name, "pronoun") for name in names)
    return opened or any(is_class(name, "everything", "rest") for name in names)


def _is_whole(line: WeighedLine) -> bool:
    found = line.match
    alone = found is not None and found.food == _WHOLE and found.own is None and not line.also
    return alone and line.grams is not None and not (line.line.pin and line.line.pin.food)


def _names(name: str, *heads: str) -> bool:
    return bool(frozenset(heads) & frozenset(words(name)))


def _is_white(mention: Mention) -> bool:
    """Whether a phrase means whites of eggs: the plural, or with the word for it; "the white" may be that of a leek."""
    return mention.name.endswith("whites") or (_names(mention.name, "white") and _names(mention.name, "egg"))


def _taken(instructions: Sequence[Instruction]) -> Iterator[Mention]:
    """What the method brings in, and neither only cuts or parts nor takes away."""
    for one in instructions:
        row = action(one.action)
        away = row.handler in _GOES or Trait.PUTS_AWAY in row.traits or Mark.FOR_LATER in one.marks
        if one.mood not in (Mood.DO, Mood.MAY) or row.gathers is Gathers.APART or away:
            continue
        for mention in one.mentions:
            if mention.role not in (Role.EVIDENCE, Role.EXCEPT) and not is_class(mention.name, "pronoun"):
                yield mention


def _parted(line: WeighedLine) -> WeighedLine:
    """A line of whole eggs as whites with yolks; both weigh what the eggs do."""
    grams = line.grams
    assert grams is not None
    yolk_share = Interval(1.0 - _WHITE_SHARE.best, 1.0 - _WHITE_SHARE.high, 1.0 - _WHITE_SHARE.low, _WHITE_SHARE.basis)
    yolk = replace(
        line,
        line=replace(line.line, name="egg yolks", problems=()),
        match=_match(_YOLK),
        grams=_times(grams, yolk_share),
        problems=(),
        component=True,
    )
    white = replace(line.line, name="egg whites")
    return replace(
        line, line=white, match=_match(_WHITE), grams=_times(grams, _WHITE_SHARE), also=(yolk,), component=True
    )


def _match(food: str) -> Match:
    return Match(food, load_table().describe(food), 1.0, "the method takes yolks or whites alone")


def _times(grams: Interval, share: Interval) -> Interval:
    return Interval(grams.best * share.best, grams.low * share.low, grams.high * share.high, grams.basis)
