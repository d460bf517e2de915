"""The headings of recipes ("Ingredients", "Method", "For the gravy") and what stands under each."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from enum import StrEnum
from functools import cache
from typing import NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.parsing.model import NoteKind
from labeler.parsing.page_rows import opens_comment
from labeler.parsing.row_phrases import needs, one_of
from labeler.text.deferred_pattern import pattern_when_used

__all__ = [
    "NOTE_OF", "Heading", "Opens", "as_group", "names_appliance", "opens_what", "prefix_kind", "read_heading",
    "split_inline", "subject",
]  # fmt: skip

_ASIDE_WORDS = 5
"""Words behind a comma that a heading may still have."""
_LONGEST = 60
_EDGES = pattern_when_used(r"^[^\w(]+|[^\w)!?]+$")
_BRACKETS = pattern_when_used(r"\s*[(\[]([^()\[\]]*)[)\]]")
_FOR = pattern_when_used(
    r"^(?:ingredients? |preparation |method |directions? |instructions? )?(?:for|of)\s+(?:the\s+|an?\s+|your\s+)?"
    r"(?P<thing>.+)$|^(?:to make|making|make|prepar(?:e|ing))\s+(?:the\s+|an?\s+|your\s+)(?P<made>.+)$",
    re.IGNORECASE,
)
_SPLIT = pattern_when_used(
    r"^(?P<kind>[\w' ]+?)(?:\s+(?:for|of|–|-|/)\s+|\s*:\s*)(?:the\s+|an?\s+)?(?P<thing>\w.*)$", re.IGNORECASE
)
_HOW = pattern_when_used(
    r"how (?:to|i|we) (?:make|prepare|cook|bake|assemble) (?:the |your |my )?(?P<thing>\w.*)$", re.IGNORECASE
)
_NEEDS = pattern_when_used(
    r"(?P<lead>(?:for|to make|to serve|to feed)\s[^:]{1,40}?),?\s+(?P<known>(?:you|we)\b.*)$", re.IGNORECASE
)
_COUNTED = pattern_when_used(
    rf"(?:for|to make|to serve|to feed)\s+(?:a batch of\s+)?(?P<what>(?:about\s+)?(?:\d|{one_of('number_word')}\s).*)$",
    re.IGNORECASE,
)
_PRONOUNS = frozenset("it them this these".split())
_WAY = pattern_when_used(rf"\b{one_of('way')}\b|[-:–—]+$", re.IGNORECASE)
_LISTED = pattern_when_used(r"\s*(?:,|&|\+|/|\band\b)\s*")
_OF_RECIPE = pattern_when_used(r"(?:about|behind|why|on|more on|more about) (?:this|the) recipe", re.IGNORECASE)
_JUMP = pattern_when_used(r"\W*\b(?:jump|skip|go|back|scroll) (?:down )?to \w+\W*$", re.IGNORECASE)
_PREFIX = pattern_when_used(r"\W*(?P<words>[^\W\d][^:;()]{0,40}?)\s*(?:\([^()]*\)\s*)?(?:[:;–—]|\s-\s)\s*\S")
_POSTSCRIPT = pattern_when_used(r"\W*p\.? ?s\.?:?\s+[a-z]\w* \w", re.IGNORECASE)
_JOINED = pattern_when_used(r"[\s,]*(?:&|\+|,|\band)$", re.IGNORECASE)


class Opens(StrEnum):
    """What stands under a heading."""

    INGREDIENTS = "ingredients"
    STEPS = "steps"
    TIPS = "tips"
    NOTES = "notes"
    STORAGE = "storage"
    NUTRITION = "nutrition"
    EQUIPMENT = "equipment"
    ABOUT = "about"


NOTE_OF = {
    Opens.TIPS: NoteKind.TIP, Opens.NOTES: NoteKind.NOTE, Opens.STORAGE: NoteKind.STORAGE,
    Opens.NUTRITION: NoteKind.NUTRITION, Opens.EQUIPMENT: NoteKind.EQUIPMENT, Opens.ABOUT: NoteKind.ABOUT,
}  # fmt: skip
"""What is kept as which note where words open neither ingredients nor steps."""


class Heading(NamedTuple):
    """A heading taken apart: what it opens (None where it does not say), of what, and what its brackets say."""

    opens: Opens | None
    subject: str
    aside: str


@cache
def _headings() -> Mapping[str, Opens]:
    rows = data_rows(data_folder("labeler.parsing") / "headings.csv")
    return {row["words"]: Opens(row["opens"]) for row in rows} | dict.fromkeys(needs(), Opens.INGREDIENTS)


_LIKE = 0.85
_SHORTEST = 6


@cache
def _known(text: str) -> Opens | None:
    """What words open; a typo of a word that opens ingredients or steps ("Ingredents") opens what it means."""
    folded = text.casefold()
    if folded in _headings() or len(folded) < _SHORTEST or not folded.isalpha():
        return _headings().get(folded)
    listed = (Opens.INGREDIENTS, Opens.STEPS)
    long = [
        word
        for word, opens in _headings().items()
        if opens in listed and word.isalpha() and len(word) >= _SHORTEST and word[0] == folded[0]
    ]
    near = get_close_matches(folded, long, n=1, cutoff=_LIKE)
    return _headings()[near[0]] if near else None


def _counted(text: str) -> Opens | None:
    """What a number of them opens, where that is none of the recipe: "3 comments"."""
    number, _, word = text.partition(" ")
    known = _headings().get(word.casefold()) if number.isdigit() else None
    return None if known in (Opens.INGREDIENTS, Opens.STEPS) else known


def _of_page(row: str, stated: str) -> Opens | None:
    """What opens talk beside the recipe: "Erin said...", "Behind this recipe", "Hints, tips and pictures"."""
    if opens_comment(row):
        return Opens.ABOUT
    pieces = [_headings().get(piece) for piece in _LISTED.split(stated.casefold())]
    told = [one for one in pieces if one is not None]
    if len(pieces) > 1 and told and not {Opens.INGREDIENTS, Opens.STEPS} & set(told) and pieces[0] is not None:
        return told[0]
    return Opens.NOTES if _OF_RECIPE.fullmatch(stated) else None


def _bare(row: str) -> str:
    """A heading without brackets and without the signs and pictures around it."""
    stated = _EDGES.sub("", _JUMP.sub("", _BRACKETS.sub("", row)).replace("’", "'").strip())
    return " ".join(stated.split())


def subject(row: str) -> str:
    """What a sub-heading is of: "For the gravy:" is of the "gravy", "To serve" of "To serve"."""
    stated = _bare(row)
    for _ in range(4):  # "For “the top”": quotes and words by turns
        found = _FOR.match(stated)
        inner = _bare(found["thing"] or found["made"]) if found is not None else stated
        if not inner or inner == stated:
            break
        stated = inner
    return stated


def read_heading(row: str) -> Heading:
    """A heading taken apart; any row may be one."""
    aside = "; ".join(found.strip() for found in _BRACKETS.findall(row))
    stated = _bare(row)
    known = _known(stated.rstrip(" ?!")) or _counted(stated)
    if known is not None:
        return Heading(known, "", aside)
    word, comma, rest = stated.partition(",")
    if comma and len(rest.split()) <= _ASIDE_WORDS and _known(word) in (Opens.INGREDIENTS, Opens.STEPS):
        return Heading(_known(word), "", "; ".join(filter(None, (rest.strip(), aside))))  # "Method, such as it is"
    talk = _of_page(row, stated)
    if talk is not None:
        return Heading(talk, stated, aside)
    needs = _NEEDS.match(stated)
    if needs is not None and _known(needs["known"]) is Opens.INGREDIENTS:
        return _as_told(needs["lead"], aside)
    split = _split(stated, aside)
    if split is not None:
        return split
    how = _HOW.match(stated)
    if how is not None:
        return Heading(
            Opens.STEPS, "" if how["thing"].casefold() in _PRONOUNS else subject(f"for {how['thing']}"), aside
        )
    before, _, last = stated.rpartition(" ")
    known = _headings().get(last.casefold()) if before and len(before.split()) <= 4 else None
    joined = _JOINED.search(before)
    if joined is not None and _known(_bare(before[: joined.start()])) is None:
        known = None  # "Wrapping & cooking" tells what is done there, and not which rows stand below
    if known in (Opens.INGREDIENTS, Opens.STEPS):  # "beef tips" are no advice
        return Heading(known, subject(before), aside)
    return Heading(None, subject(row), aside)


def _split(stated: str, aside: str) -> Heading | None:
    """A heading of two pieces that says what it opens and of what: "Ingredients for the pie", "Gravy: method"."""
    split = _SPLIT.match(stated)
    if split is None:
        return None
    for one, other in ((split["kind"], split["thing"]), (split["thing"], split["kind"])):
        known = _headings().get(one.strip().casefold())
        if known is Opens.INGREDIENTS and _COUNTED.match(f"for {other}"):
            return _as_told(f"for {other}", aside)
        if known is not None and len(other.split()) <= 6:
            return Heading(known, subject(other), aside)
    return None


def _as_told(lead: str, aside: str) -> Heading:
    """The heading of a list with what leads up to it: "To make 2 toasts you need" says how many it makes."""
    counted = _COUNTED.match(lead)
    if counted is None:
        return Heading(Opens.INGREDIENTS, subject(lead), aside)
    word = "serves" if re.search(rf"\b{one_of('eaters')}$", counted["what"], re.IGNORECASE) else "makes"
    return Heading(Opens.INGREDIENTS, "", "; ".join(filter(None, (aside, f"{word} {counted['what']}"))))


def as_group(subject: str) -> str:
    """The name of a group of lines or steps; empty for one without words or that would say what stands below it."""
    worded = any(sign.isalnum() for sign in subject)
    return subject if worded and read_heading(subject).opens is None else ""


def names_appliance(row: str) -> bool:
    """Whether a heading only says where the whole dish is cooked: "Slow cooker", "Stove top method", "In the oven"."""
    words = _WAY.sub("", read_heading(row).subject)
    return (
        re.fullmatch(
            rf"(?:(?:in|on|with|using|by)\s+)?(?:(?:the|an?|your)\s+)?{one_of('appliance')}",
            words.strip(),
            re.IGNORECASE,
        )
        is not None
    )


def opens_what(row: str) -> str:
    """What a row opens, where it is a known heading by itself; empty where it is none."""
    if len(row) > _LONGEST:
        return ""
    known = _headings().get(_bare(re.sub(r"^#{1,6}\s*|[*_]+", "", row)).casefold())
    return known.value if known is not None else ""


@cache
def _inline() -> re.Pattern[str]:
    """A heading inside a row, behind a sentence's end: "A relish. Ingredients: 2 onions."."""
    opening = [words for words, opens in _headings().items() if opens in (Opens.INGREDIENTS, Opens.STEPS)]
    words = "|".join(re.escape(one) for one in sorted(opening, key=len, reverse=True) if len(one) >= _SHORTEST)
    of = r"(?:\s+for\s[^:.;]{1,30}|\s*\([^():]{1,30}\))?"
    before = r"(?:^|(?<=[.;!?)])\s+|\s[-–—|•]\s)"
    return re.compile(rf"{before}(?P<head>(?:{words}){of}\s*(?::[-–—]?|[-–—]))\s+(?=\S)", re.IGNORECASE)


def split_inline(row: str) -> list[tuple[str, str]]:
    """A row as headings inside it and what follows each, first ("", what stands before); empty where it has none."""
    found = list(_inline().finditer(row))
    if not found:
        return []
    ends = [one.start() for one in found[1:]] + [len(row)]
    pieces = [(one["head"], row[one.end() : end].strip()) for one, end in zip(found, ends, strict=True)]
    return [("", row[: found[0].start()].strip()), *pieces]


def prefix_kind(row: str) -> NoteKind | None:
    """What a row says that it is ("Tip: ...", "Freeze option: ..."); None where it says no such thing.

    The words that do are those that open such a row as a heading.
    """
    stated = row.replace("’", "'")
    if _POSTSCRIPT.match(stated):
        return NoteKind.NOTE
    found = _PREFIX.match(stated)
    opens = _headings().get(" ".join(found["words"].casefold().split())) if found is not None else None
    return NOTE_OF.get(opens) if opens is not None else None
