"""What a sentence of the method says of its foods: in the dish, beside it, perhaps in it, compared with, offered.

Allergens ask this of every sentence and every note, whether or not it is understood as an instruction. The words
stand in ``data/sentence_parts.csv``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.parsing.ingredient.remarks import Remark, split_remarks

__all__ = ["SentenceParts", "sentence_parts"]

_DATA = data_folder("labeler.parsing") / "sentence_parts.csv"


@dataclass(frozen=True, slots=True)
class SentenceParts:
    """The parts of a sentence by what they say of their foods.

    Parameters
    ----------
    in_it : str
        What goes into the dish or onto it, without what the sentence only compares with and its tools.
    beside : str
        What is served beside it, and what it or its leftovers may be eaten in another time; empty for nothing.
    perhaps : str
        What it names as an example ("a spread like tahini") or by a container that may hold it ("the anchovy tin");
        empty for nothing.
    remarks : tuple of Remark
        Swaps, conditions and warnings.
    offers : bool
        True where the whole sentence is one way among others.
    """

    in_it: str
    beside: str = ""
    perhaps: str = ""
    remarks: tuple[Remark, ...] = ()
    offers: bool = False


@cache
def _any(part: str) -> str:
    """The words of a part as a choice of a pattern, longest first."""
    (words,) = (row["words"].split("|") for row in data_rows(_DATA) if row["part"] == part)
    each = (re.escape(word).replace(r"\*", r"\w*") for word in sorted(words, key=len, reverse=True))
    return f"(?:{'|'.join(each)})"


@cache
def _compared() -> re.Pattern[str]:
    return re.compile(
        rf"\b(?:{_any('resembles')}|{_any('is only like it')},? {_any('example')}|{_any('measured by')} of)\s+"
        rf"(?:[\w-]+\s*){{1,3}}|"
        rf"\b\w+-{_any('compares behind a hyphen')}\b|"
        rf"\b(?!\w+ed )\w+ {_any('tool')}\b|"
        rf"\b{_any('is baked in one')} {_any('container')}\b",
        re.IGNORECASE,
    )


@cache
def _example() -> re.Pattern[str]:
    return re.compile(rf"(?:\b(?P<likes>{_any('likes')}) |\b){_any('example')}\s+(?:[\w-]+\s*){{1,3}}", re.IGNORECASE)


@cache
def _in_container() -> re.Pattern[str]:
    """A container with what it is named after, and the words that empty it."""
    return re.compile(
        rf"(?P<empties>\b{_any('empties it')} (?:(?!(?:in|into|to|on|onto|over)\b)\w+ ){{0,3}}?)?"
        rf"\b(?!\w+ed )(?P<food>(?:\w+ )?\w+) {_any('container')}\b",
        re.IGNORECASE,
    )


def _perhaps(text: str) -> tuple[str, str]:
    """The words without what may be in it or not, and that."""
    apart: list[str] = []

    def example(found: re.Match[str]) -> str:
        if found["likes"]:
            return found[0]
        apart.append(found[0])
        return " "

    def held(found: re.Match[str]) -> str:
        if found["empties"]:
            return found[0]
        apart.append(found["food"])
        first, _, last = found["food"].rpartition(" ")
        return f"{first} " if last else " "

    plain = _in_container().sub(held, _example().sub(example, text))
    return plain, ". ".join(apart)


@cache
def _beside() -> re.Pattern[str]:
    """What is served beside the dish, what a dish is praised in, and what its leftovers are for."""
    onto = rf"{_any('goes with another dish')}\b(?! (?!making\b)\w+ing\b| the\b)(?:(?!,? then\b)[^.;])*"
    subject = (
        rf"(?:(?:it|this|that|they|these)(?: is| are|['’]s|['’]re| will be| tastes?)? )?{_any('may open praise')}?"
    )
    opens = rf"(?:^|(?<=[.;:!(-]))\W*(?![^.;!]*\b{_any('goes on it')}\b)"
    return re.compile(
        rf"\b{_any('serves')}\b(?![^.;]*\b{_any('goes on it')}\b)[^.;]*?\b{_any('stands beside')}\b[^.;]*"
        rf"|{opens}{subject}{_any('praises')} (?:\w+ )??{onto}"
        rf"|{opens}{_any('puts by')} (?:\w+ ){{0,2}}?{_any('left over')}\b(?: (?!{_any('serves')}\b)\w+){{0,4}}? {onto}"
        rf"|{opens}{_any('uses up')} leftovers {onto}"
        rf"|{opens}{_any('left over')}(?: \w+){{0,2}}? {_any('may become')}\b[^.;]*",
        re.IGNORECASE,
    )


@cache
def _offer() -> re.Pattern[str]:
    diet = rf"(?:\w+[ -]free|{_any('diet')})"
    return re.compile(
        rf"^\W*(?:{_any('opens an offer')} (?:it |this |an? |the )?{diet}|"
        rf"{_any('opens a condition')} (?:\w+ )?{diet}|{_any('another way')}\b)",
        re.IGNORECASE,
    )


def sentence_parts(text: str) -> SentenceParts:
    """The parts of a sentence of the method or of a note.

    Parameters
    ----------
    text : str
        As written.
    """
    plain, remarks = split_remarks(text)
    bare, perhaps = _perhaps(_compared().sub(" ", plain))
    apart = _beside().search(bare)
    return SentenceParts(
        _beside().sub(" ", bare),
        apart[0] if apart else "",
        perhaps,
        tuple(remarks),
        _offer().search(plain) is not None,
    )
