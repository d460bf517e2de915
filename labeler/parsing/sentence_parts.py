"""What a sentence of the method says of its foods: in the dish, beside it, only compared with, or offered.

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
        What goes into the dish or onto it, without what the sentence only compares with and without its tools.
    beside : str
        What is served beside it; empty for nothing.
    remarks : tuple of Remark
        Swaps, conditions and warnings.
    offers : bool
        True where the whole sentence is one way among others.
    """

    in_it: str
    beside: str = ""
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
        rf"\b(?:{_any('resembles')}|{_any('measured by')} of)\s+(?:[\w-]+\s*){{1,3}}|"
        rf"\b\w+-{_any('compares behind a hyphen')}\b|"
        rf"\b(?!\w+ed )\w+ {_any('tool')}\b",
        re.IGNORECASE,
    )


@cache
def _beside() -> re.Pattern[str]:
    return re.compile(
        rf"\b{_any('serves')}\b(?![^.;]*\b{_any('goes on it')}\b)[^.;]*?\b{_any('stands beside')}\b[^.;]*",
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
    bare = _compared().sub(" ", plain)
    apart = _beside().search(bare)
    return SentenceParts(
        _beside().sub(" ", bare), apart[0] if apart else "", tuple(remarks), _offer().search(plain) is not None
    )
