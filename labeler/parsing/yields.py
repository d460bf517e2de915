"""How much a recipe says that it makes, wherever it says so: "Serves 4", "🍽️ Servings: 4-6", "(makes 24, serves 6)".

What is found is a key of the head (`serves` for people, `makes` for things, weights and volumes) and the cook's words.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from labeler.parsing.line_words import CONTAINERS
from labeler.parsing.numbers import tidy
from labeler.parsing.pack_sizes import opening_words, read_packs
from labeler.parsing.row_phrases import first_words, one_of, phrases
from labeler.parsing.units import canonical_unit
from labeler.text.deferred_pattern import DeferredPattern, pattern_when_used

__all__ = [
    "LAST_PIECE", "Yield", "bare_yield", "only_yields", "opening_yield", "without_yields", "yields_in", "yields_of_row",
    "yields_of_sentences",
]  # fmt: skip

_COUNT = rf"(?:\d(?:[\d/.,]*\d)?[½¼¾⅓⅔]?|[½¼¾⅓⅔]|{one_of('number_word')}(?![^\W\d_]))"
_ABOUT = rf"(?:{one_of('about')}\s*)*"
_RANGE = rf"{_ABOUT}{_COUNT}(?:[-\s]*(?:to|or|-|–|—)\s*{_COUNT})?\+?"
_EATERS = one_of("eaters")
_WORDS = rf"(?:\s+{one_of('described')})*"
_SERVES = DeferredPattern(
    rf"\b(?:{one_of('serves_word')}|(?P<for>{one_of('for_word')}))\b\s*[:\-–=]?\s*"
    rf"(?P<what>{_RANGE}(?:{_WORDS}\s+{_EATERS}|(?:\s+[a-z-]+){{1,2}}$)?)(?=[\s.,;:)|!(]|$)",
    needs=first_words("serves_word", "for_word"),
)
_EATEN = DeferredPattern(rf"(?P<what>(?<![\w/.,]){_RANGE}{_WORDS}[ -]{_EATERS})\b", needs=first_words("eaters"))
_NO_STOP = "".join(rf"(?<!\b{word})" for word in phrases()["abbreviation"])
_MAKES = DeferredPattern(
    rf"\b{one_of('makes_word')}\b\s*[:\-–=]?\s*"
    rf"(?P<what>{_RANGE}(?:\([^()]*\)|(?!{_NO_STOP}\.\s|[;|()!\n]|,?\s*(?:and\s+)?(?:serves|makes)\b).)*)",
    needs=first_words("makes_word"),
)
_SIZE = DeferredPattern(
    rf"\bserving(?: size)?\s*[:=]\s*(?P<what>[\d½¼¾⅓⅔].*?{one_of('serving_size')}\b(?:\s*\([^()]*\))?)",
    needs=["serving"],
)
_PER_SERVING = DeferredPattern(
    rf"(?:,|;|\(|\bof)\s*(?:{one_of('about')}\s*)?(?P<what>[\d½¼¾⅓⅔][\d½¼¾⅓⅔/., ]*\s*{one_of('serving_size')})"
    r"\s+(?:each|per (?:serving|portion|person))\b",
    needs=["each", "per"],
)
_MEASURE = rf"[\d½¼¾./]+\s*-?\s*{one_of('size')}\b"
_MEASURED = DeferredPattern(rf"{_RANGE}\s*(?:{one_of('size')}|cups?|tablespoons?|teaspoons?|tbsp|tsp)\b")
_BARE = DeferredPattern(
    rf"(?P<what>{_RANGE}(?:-(?=dozen)|\s*)(?:[x×]\s*{_MEASURE}\s*)?(?:\(?{_MEASURE}\)?\s*)?"
    rf"(?:[a-z][a-z-]*\s+){{0,2}}{one_of('things')})\.?",
)
_FOR = DeferredPattern(rf"(?:[a-z]+\s+){{0,3}}for\s+(?P<what>{_RANGE})\.?", needs=["for"])  # "Supper for two"
_RANGE_ALONE = DeferredPattern(r"(?P<what>\d{1,2}\s*(?:-|–|to)\s*\d{1,2})")  # below a title: how many eat
_WORTH = DeferredPattern(r"(?P<what>\w[^,;:.!?]{0,40}['’]s?\s+worth)", needs=["worth"])
_NOT_FIRST = pattern_when_used(r"^(?:a|an)\s+(?!dozen|loaf|cake|jar|bottle|pie|tart|batch|\d)", re.IGNORECASE)
_NET = DeferredPattern(
    rf"\bnet\s*(?:wt\.?|weight|quantity|contents?|volume)?\s*[:=]?\s*(?P<what>\d[\d.,]*\s*{one_of('size')}\b"
    r"(?:\s*\([^()]*\))?)",
    needs=["net"],
)
_OPENED = pattern_when_used(r"(?:^|[(\[|;•·])\W*$")
_CLOSED = pattern_when_used(r"[\s.*_]*(?:$|[)\]|;•·])")
_BESIDE = pattern_when_used(r",\s+|\s+and\s+|\s*[;/]\s+")
_LONGEST = 80
_FIRST = pattern_when_used(r"[^.!?]*[.!?](?=\s+[^\W\d_])")
_OF_TIME = pattern_when_used(rf"\s{one_of('no_amount')}$(?<!{')(?<!'.join(phrases()['eaters'])})", re.IGNORECASE)
_THINGS = pattern_when_used(rf"\b{one_of('things')}$", re.IGNORECASE)
_FILLER = pattern_when_used(rf"\b{one_of('yield_filler')}\b", re.IGNORECASE)
LAST_PIECE = pattern_when_used(r"(?:[,;|–—]|\.\s|\s-\s)\s*((?:(?!\.\s|\s-\s)[^,;|–—()\[\]])+)$")
_BRACKETED = pattern_when_used(r"[(\[]([^()\[\]]*)[)\]]")
_AS_COURSE = pattern_when_used(
    r"\s+as (?:an?|part of an?) (?:[a-z]+[ -]){0,2}[a-z]+[.!]?$", re.IGNORECASE
)  # "as a light lunch"


class Yield(NamedTuple):
    """What a text says a recipe makes."""

    key: str
    says: str
    start: int
    end: int


def yields_in(text: str) -> list[Yield]:
    """Every yield that a text tells, in order; "for 20 minutes" and "for 2 lbs of meat" are none."""
    return list(_yields_in(text))


@lru_cache(maxsize=1024)
def _yields_in(text: str) -> tuple[Yield, ...]:
    found: list[Yield] = []
    for pattern, key in (
        (_SIZE, "serving"),
        (_PER_SERVING, "serving"),
        (_NET, "net"),
        (_MAKES, "makes"),
        (_SERVES, "serves"),
        (_EATEN, "serves"),
    ):
        for match in pattern.finditer(text):
            words = _stated(match["what"].strip(" .,:;-–"))
            if (
                len(words) > _LONGEST
                or _NOT_FIRST.match(words)
                or any(one.start < match.end() and match.start() < one.end for one in found)
            ):
                continue
            word = match[0].lower()
            if pattern is _NET and not _stands_alone(text, match.start(), match.end()):
                continue
            if pattern is _SERVES and match["for"] and not re.search(rf"{_EATERS}$", words, re.IGNORECASE):
                continue
            if word.startswith("serving") and not word.startswith("servings") and ":" not in word:
                continue
            people = re.search(rf"\b{_EATERS}\b", words, re.IGNORECASE) is not None
            kind = "serves" if key == "makes" and people and "(" not in words else key
            if word.startswith(("enough", "sufficient")) and _THINGS.search(words):
                kind = "makes"  # "enough for a dozen"
            if _OF_TIME.search(words) is None:
                found.append(Yield(kind, words, match.start(), match.end()))
    if not any(one.key == "serves" for one in found):  # "300 g each" is the size of a pack or a piece
        found = [one for one in found if not _PER_SERVING.match(text[one.start : one.end])]
    return tuple(sorted(found, key=lambda one: one.start))


def _stands_alone(text: str, start: int, end: int) -> bool:
    """Whether a row, a bracket in it or a cell of it says nothing else: "(net 190 g)", "Serves 4 | net 190 g".

    Inside a sentence a net quantity is that of something bought: "Tins vary: ours has net 112 g.".
    """
    return _OPENED.search(text[:start]) is not None and _CLOSED.match(text, end) is not None


def bare_yield(text: str) -> Yield | None:
    """What a whole text says a recipe makes without saying so ("6 bowls", "for two"); None where it does not."""
    words = _AS_COURSE.sub("", re.sub(r"^[(\[]([^()\[\]]*)[)\]]$", r"\1", text.strip()))
    for pattern, key in ((_BARE, "makes"), (_FOR, "serves"), (_WORTH, "makes"), (_RANGE_ALONE, "serves")):
        found = pattern.fullmatch(words) if len(words) <= _LONGEST else None
        if found is not None:
            # "Mussel chowder for 4": what stands before is no part of it.
            return Yield(
                key, found["what"].strip(), max(text.lower().rfind(" for "), 0) if pattern is _FOR else 0, len(text)
            )
    if len(words) <= _LONGEST and (_is_packs(words) or _are_bare(words)):
        return Yield("makes", words.strip(" ."), 0, len(text))
    return None


def opening_yield(text: str) -> Yield | None:
    """What the first of several sentences says a recipe makes without saying so: "Six bowls. Start early."."""
    first = _FIRST.match(text)
    told = bare_yield(first[0]) if first is not None else None
    return told if told is not None and not _MEASURED.match(told.says) else None  # "2 lbs. beef"


def _is_packs(words: str) -> bool:
    """Whether words only say how many packs of which size there are: "6 x 190 g", "300 g jars x 5"."""
    packs = read_packs(opening_words(tidy(words)))
    if re.search(r"\bof\s+[^\W\d]", words):
        return False  # "2 x 400 g tins of chickpeas"
    return packs is not None and len(packs.noun.split()) < 2 and canonical_unit(packs.noun) in (None, *CONTAINERS)


def _are_bare(words: str) -> bool:
    """Whether each piece of some words says what is made: "One loaf, 12 slices", "2 litres, in 4 bottles"."""
    pieces = [opening_words(piece) for piece in _BESIDE.split(words)]
    return len(pieces) > 1 and all(_BARE.fullmatch(piece) or _is_packs(piece) for piece in pieces)


def yields_of_row(text: str) -> list[Yield]:
    """The yields of a row, those too that its brackets tell beside another: "For 4 people (8 pancakes)"."""
    found = yields_in(text)
    bare = bare_yield(text.partition("(")[0]) if not found and "(" in text else None
    found += [bare] if bare is not None else []
    for piece in _BRACKETED.finditer(text) if found else ():
        told = bare_yield(piece[1])
        if told is not None and not any(one.start < piece.end() and piece.start() < one.end for one in found):
            found.append(told._replace(start=piece.start(), end=piece.end()))
    return sorted(found, key=lambda one: one.start)


def only_yields(text: str) -> list[Yield]:
    """The yields of a text that says nothing else ("Serves 4 | makes 12 rolls"); empty where it says more."""
    found, rest = yields_of_row(text), text
    if not found:
        return []
    for one in reversed(found):
        rest = rest[: one.start] + rest[one.end :]
    rest = _AS_COURSE.sub("", rest)
    more = re.search(r"\w{2,}", _FILLER.sub("", rest))
    return [] if more else found


def yields_of_sentences(text: str) -> list[Yield]:
    """The yields that stand in a paragraph as sentences of their own: "Chill well. Makes 8 to 10 servings."

    Measures are left out: "Makes 2 cups." in the midst of a method speaks of what was just made.
    """
    words = [one for sentence in re.split(r"(?<=[.!?])\s+", text) for one in only_yields(sentence)]
    return [one for one in words if one.key == "serves" or not _MEASURED.match(one.says)]


def without_yields(text: str) -> str:
    """A text without what it says of how much the recipe makes, and without its brackets."""
    found = yields_in(text)
    bare = bare_yield(text) or _behind(text) if not found else None
    found = [bare] if bare is not None and bare.start else found
    for one in reversed(found):
        text = f"{text[: one.start]} {text[one.end :]}"
    return " ".join(re.sub(r"\([^()]*\)", " ", text).split()).strip(" -–—:;,|")


def _behind(text: str) -> Yield | None:
    """The number of things behind a name: "Leek soup. 4 bowls"; a measure would be how much of it is taken."""
    piece = LAST_PIECE.search(text)
    told = bare_yield(piece[1]) if piece is not None else None
    if piece is None or told is None or _MEASURED.match(told.says):
        return None
    return told._replace(start=piece.start(), end=len(text))


def _stated(text: str) -> str:
    """Without what leads up to it: "enough for 6" is 6; "4/6" is from 4 to 6."""
    plain = re.sub(rf"^(?:{one_of('leading_yield')}\s+)+", "", text, flags=re.IGNORECASE)
    ends = re.match(r"([2-9]|\d\d)/(\d{1,2})(?=\D|$)", plain)
    return f"{ends[1]}-{ends[2]}{plain[ends.end() :]}" if ends is not None and int(ends[1]) < int(ends[2]) else plain
