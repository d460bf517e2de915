"""Remarks on a food: offers, conditions, omissions, warnings.

"(dairy-free if needed)", "use flax eggs if vegan", "omit for vegetarians", "not suitable for coeliacs" speak of a diet
and leave the food of the line as it is: what is named stays named. They are taken out of the words of the food and
kept as what they are, so that no reader of the name takes an offer for a property.

A claim that is part of a food's name ("vegan butter", "flour, gluten-free") is no remark and stays where it is. A
phrase that speaks of a diet is a claim only where it says nothing else; with any word of a condition, a choice, a
check or a denial beside it, it is a remark.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from functools import cache
from itertools import pairwise

from labeler.data_files import data_folder, data_rows
from labeler.parsing.ingredient.name import only_describes
from labeler.text.deferred_pattern import DeferredPattern, pattern_when_used

__all__ = ["Remark", "RemarkKind", "split_remarks"]

_WORDS = data_folder("labeler.parsing") / "remark_words.csv"


class RemarkKind(Enum):
    """What a remark does."""

    SWAP = "swap"
    """It offers another food: "use flax eggs if vegan"."""
    OMISSION = "omission"
    """It offers to leave the food out: "omit for vegetarians"."""
    CONDITION = "condition"
    """It says what the food may be on a condition: "dairy-free if needed"."""
    CHECK = "check"
    """It asks the cook to look: "check it is gluten-free"."""
    WARNING = "warning"
    """It says what the food is not, or what is in it: "not suitable for vegetarians"."""
    PURPOSE = "purpose"
    """It says for whom or for what: "for a vegan version"."""


@dataclass(frozen=True, slots=True)
class Remark:
    """One remark on the food of a line.

    Parameters
    ----------
    kind : RemarkKind
    text : str
        As written, without the brackets around it.
    about : tuple of str
        The words of diet that it speaks of ("dairy-free", "vegans"), as written.
    """

    kind: RemarkKind
    text: str
    about: tuple[str, ...] = ()


@cache
def _classes() -> dict[str, str]:
    """Pattern of the words of each class."""
    rows = data_rows(_WORDS)
    return {
        row["class"]: "|".join(re.escape(word) for word in sorted(row["words"].split("|"), key=len, reverse=True))
        for row in rows
    }


def _pattern(*classes: str) -> DeferredPattern:
    text = "|".join(_classes()[name] for name in classes)
    return DeferredPattern(rf"(?<![\w-])(?:{text})(?![\w-])")


_FREE = r"(?!feel|range)[^\W\d]+(?:[ -]free|free)(?![\w]|[ -](?:range|run|flowing)\b)|free (?:from|of) [^\W\d]+"
_DIET = DeferredPattern(rf"(?<![\w-])(?:{_FREE}|{_classes()['diet']}|{_classes()['people']})(?![\w-])")
_PEOPLE = _pattern("people")
_OMITS = _pattern("omission")
_SWAPS = _pattern("swap")
_CHECKS = _pattern("check")
_ON_CONDITION = _pattern("condition")
_DENIES = _pattern("negation")
_FOR_WHAT = _pattern("purpose")
_WARNS = _pattern("warning")
_FOR_DIET = DeferredPattern(
    rf"(?<![\w-])for (?:an? |the |our |your |any |those |people |guests |school)?(?:\w+ )?(?=(?:{_DIET.pattern}))"
)
_NEVERTHELESS = pattern_when_used(
    r"\b(?:do not|don't|dont|never) (?:omit|skip|leave|drop|swap|replace|substitute|use)\b", re.I
)
_QUICK = pattern_when_used(r"free|veg|plant|meatless|eggless|dairy|celiac|coeliac|allerg|intoleran|omit|skip|lea?[vf]|"
                    r"\b[gd]f\b|diet|halal|kosher|guest|avoid", re.I)  # fmt: skip
_MARKS = pattern_when_used(r"[¹²³⁰-⁹†‡§]+")
"""Marks of a footnote, which are letters to a pattern."""
_BRACKETS = pattern_when_used(r"[(\[]([^()\[\]]*)[)\]]")
_BREAKS = pattern_when_used(r",(?!\d)|;| [-\u2013\u2014]+ |\u2014|(?<=[^\W\d]{3})\.(?=\s)|(?<=[^\W\d]):(?=\s)|!|\*+")
# Where a remark begins that no mark sets apart from its food: "butter use vegan if needed", "prawns or tofu if vegan".
_ONSET = DeferredPattern(
    rf"(?<=\w) (?=(?:or |but )?(?:{_classes()['omission']}|use|using|swap|sub|substitute|replace|check|ensure|"
    rf"make sure|if|unless|when|instead|alternatively|not|isn't|never)\b)",
)
_ONSET_FOR = DeferredPattern(rf"(?<=\w) (?={_FOR_DIET.pattern})")
_ONSET_OR = pattern_when_used(r"(?<=\w) (?=or )", re.I)
_CLAIM_ON_CONDITION = DeferredPattern(
    rf"(?:(?<=^)|(?<=\s))(?:{_DIET.pattern})(?: (?:and |or |& )?(?:{_DIET.pattern}))*"
    rf"(?P<noun>(?: (?!(?:{_DIET.pattern}))\w+){{0,2}}?)"
    r" (?:if|when|where|unless|optional|preferred|works?|version|option|is fine|ok|okay|also)\b"
    rf"(?: (?:needed|required|preferred|desired|possible|wanted|avoiding|too|you (?:like|wish|want|prefer)))?",
)


_SWAPPING = pattern_when_used(r"(?<=\w) (?:use|using|try|take|choose)$", re.I)
_FOR_WHOM = DeferredPattern(rf"(?:for )?(?:an? |the )?(?:{_DIET.pattern})(?: \w+)?:")
"""Before a colon, whose food follows: "vegan: 2 flax eggs"."""


def _kind_of(phrase: str) -> RemarkKind | None:
    """Which remark a phrase is; None where it is a claim, a food, or anything else."""
    if _NEVERTHELESS.search(phrase):
        return RemarkKind.WARNING
    about = _DIET.search(phrase)
    leaves_out = _OMITS.search(phrase)
    if about is None:
        conditional = leaves_out and (_ON_CONDITION.search(phrase) or re.search(r"\bfor\b", phrase))
        return RemarkKind.OMISSION if conditional else None
    if _FOR_WHOM.match(phrase):
        return RemarkKind.SWAP
    if _DENIES.search(phrase):
        return RemarkKind.WARNING
    if leaves_out:
        return RemarkKind.OMISSION
    if _SWAPS.search(phrase):
        return RemarkKind.SWAP
    if _CHECKS.search(phrase):
        return RemarkKind.CHECK
    if _ON_CONDITION.search(phrase):
        return RemarkKind.CONDITION
    if _FOR_DIET.search(phrase) or _PEOPLE.search(phrase) or _FOR_WHAT.search(phrase):
        return RemarkKind.PURPOSE
    return RemarkKind.WARNING if _WARNS.search(phrase) else None


def _remark(phrase: str) -> Remark | None:
    kind = _kind_of(phrase)
    return None if kind is None else Remark(kind, phrase, tuple(found[0] for found in _DIET.finditer(phrase)))


def split_remarks(text: str) -> tuple[str, tuple[Remark, ...]]:
    """The words of a line or a sentence without the remarks in it, and the remarks.

    Parameters
    ----------
    text : str
        As written. Brackets around a remark and the mark before it go with it.

    Returns
    -------
    (str, tuple of Remark)
        The text unchanged where it holds none. Where nothing but remarks is written the first phrase stays.
    """
    if not _QUICK.search(text):
        return text, ()
    remarks: list[Remark] = []
    rest = _MARKS.sub("", text)
    for found in reversed(list(_BRACKETS.finditer(rest))):
        remark = _remark(found[1].strip(" ,.;"))
        if remark is not None and rest[: found.start()].strip(" -*"):
            remarks.insert(0, remark)
            rest = _joined(rest[: found.start()], rest[found.end() :])
    kept, behind = _phrases(rest)
    remarks += behind
    if len(kept) == len(rest) and not remarks and not _inside(kept)[1]:
        return text, ()
    kept, inside = _inside(kept)
    return kept, (*remarks, *inside)


def _joined(before: str, behind: str) -> str:
    before, behind = before.rstrip(), behind.lstrip()
    return f"{before}{behind}" if not before or behind[:1] in ("", ",", ";", ".", ")", "]") else f"{before} {behind}"


def _phrases(text: str) -> tuple[str, list[Remark]]:
    """The text without those of its phrases between marks that are remarks."""
    opened = [text.count("(", 0, found.start()) > text.count(")", 0, found.start()) for found in _BREAKS.finditer(text)]
    cuts = [found for found, inside in zip(_BREAKS.finditer(text), opened, strict=True) if not inside]
    if not cuts:
        return text, []
    bounds = [0, *(found.start() for found in cuts), len(text)]
    pieces = _with_whom([text[start:end] for start, end in pairwise(bounds)])
    remarks: list[Remark] = []
    kept: list[str] = []
    for piece in pieces:
        phrase = _BREAKS.sub("", piece, count=1).strip() if piece is not pieces[0] else piece.strip()
        remark = _remark(phrase) if phrase else None
        whole = remark is not None and not _speaks_first(phrase)
        if remark is not None and whole and (kept or _is_prefix(piece, pieces)):
            remarks.append(remark)
        else:
            kept.append(piece)
    return ("".join(kept).strip(" ,;:"), remarks) if remarks else (text, [])


def _with_whom(pieces: list[str]) -> list[str]:
    """The pieces with one that says for whom and the one behind its colon as one, but at the start of the line."""
    joined = pieces[:1]
    for piece in pieces[1:]:
        whom = len(joined) > 1 and piece.startswith(":") and _FOR_WHOM.match(joined[-1].strip(" ,;.-(") + ":")
        joined = [*joined[:-1], joined[-1] + piece] if whom else [*joined, piece]
    return joined


def _speaks_first(phrase: str) -> bool:
    """True where a phrase begins with something else than its remark: "grated parmesan or vegan cheese"."""
    onset = min(
        (found.start() for found in (_DIET.search(phrase), *(pattern.search(phrase) for pattern in _OPENERS)) if found),
        default=0,
    )
    return onset > 0 and len(phrase[:onset].split()) > _LEAD


_LEAD = 3
"""Words before the first word of a remark: "many of them are dairy-free"."""
_OPENERS = (_OMITS, _SWAPS, _CHECKS, _ON_CONDITION, _DENIES, _FOR_WHAT, _WARNS)


def _is_prefix(piece: str, pieces: list[str]) -> bool:
    """True for a remark that stands before its food: "not vegan: 100 g butter"."""
    return piece is pieces[0] and len(pieces) > 1 and pieces[1].startswith(":") and len(piece.split()) <= _LEAD + 1


def _inside(text: str) -> tuple[str, tuple[Remark, ...]]:
    """The text without a remark that follows its food with no mark between them."""
    found = _CLAIM_ON_CONDITION.search(text)
    if found is not None:
        remark = _remark(found[0])
        before = _SWAPPING.sub("", text[: found.start()].rstrip())
        if before.endswith(" or") and only_describes(before.removesuffix(" or")):
            before = f"{before.removesuffix(' or')}{found['noun']}"  # "plain or gluten-free flour if needed"
        rest = _joined(before, text[found.end() :])
        if remark is not None and re.search(r"[^\W\d]{3}", rest):
            further, more = _inside(rest)
            return further, (remark, *more)
    for pattern in (_ONSET, _ONSET_FOR, _ONSET_OR):
        for onset in pattern.finditer(text):
            end = _closing(text, onset.end())
            phrase = text[onset.end() : end]
            if not _DIET.search(phrase) or not re.search(r"[^\W\d]{3}", text[: onset.start()]):
                continue
            if pattern is _ONSET_OR and not (_FOR_DIET.search(phrase) or re.search(r"\b(?:if|when)\b", phrase)):
                continue
            remark = _remark(phrase.strip(" ,.;"))
            if remark is not None:
                return _joined(text[: onset.start()].rstrip(" ,;"), text[end:]).rstrip(" ,;"), (remark,)
    return text, ()


def _closing(text: str, start: int) -> int:
    """Where the brackets close that were open at `start`; the end of the text where none were."""
    depth = 0
    for at in range(start, len(text)):
        depth += (text[at] in "([") - (text[at] in ")]")
        if depth < 0:
            return at
    return len(text)
