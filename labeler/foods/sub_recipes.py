"""Which lines of a recipe take another of its parts, and which speak of one that is not there.

"60 g brined cucumber", "all of the filling" and "half the dough" name a part by its title, with or without the words
"For the" that titles and lines carry. A line that speaks of something made before ("the rest of the glaze") but fits
no title is never taken for a food of the table of that name: either an ingredient of another line is meant, which is
counted there, or the title is written otherwise, which only the cook knows.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from labeler.foods.matching.name_words import words
from labeler.foods.model import Kept
from labeler.foods.taken_again import given_step_by_step, taken_again
from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.model import Instruction, Mood, Role
from labeler.parsing.instructions.parser import read_method
from labeler.parsing.model import Line, Part, Recipe
from labeler.types import Problem

__all__ = ["Parts", "Reference", "kept_key", "kept_name"]

_BRACKETS = re.compile(r"\([^()]*\)")
_TITLE = re.compile(
    r"^(?:for|to make|to finish|making|prepare)\s+(?:the\s+|your\s+)?|^(?:the|your|our|my)\s+", re.IGNORECASE
)
_ABOVE = re.compile(
    r"\((?:see )?(?:above|below|recipe[^)]*)\)|,? ?(?:see )?(?:above|below|from above|from earlier|as above)$",
    re.IGNORECASE,
)
_PARTS = r"(?:a|one|two|three|1|2|3)[ -](?:half|thirds?|quarters?|fourths?)"
_SHARE = rf"(?:all|both|the whole|(?:about |roughly )?(?:half|{_PARTS}|[1-3]/[2-9]|[½⅓⅔¼¾]|\d+ ?%)|some|most)"
# These always speak of something that was made or put down before.
_SAYS_SO = re.compile(
    rf"^(?:(?:{_SHARE}|the (?:first|second|other) half)(?: of)? (?:the|your|that|this|it)\b|"
    r"(?:the )?(?:rest|remainder) of\b|what is left of\b)\s*(?:the |your )?",
    re.IGNORECASE,
)
# So do these where no amount makes an ingredient of it: "the glaze", "remaining glaze".
_WITHOUT_AMOUNT = re.compile(
    r"^(?:(?:all )?the (?:remaining )?|(?:all )?remaining )(?!best|finest|freshest|largest|smallest|very)",
    re.IGNORECASE,
)
_OF_THE = re.compile(r"\bof (?:the|your|that|this)\s+", re.IGNORECASE)
# And these may.
_RECIPE = re.compile(
    r"^(?:(?:the|your|our|my|some|all(?: of)?(?: the)?|recipe(?: of| for)?|quantity(?: of)?|prepared|finished|reserved|"
    r"left[- ]?over) )+",
    re.IGNORECASE,
)


# What the method parts from food, or lets drip from it, may be what a line takes: "catch the drippings".
_PARTS_IT = frozenset({Handler.KEEP, Handler.CATCH, Handler.DRAIN, Handler.STRAIN, Handler.SKIM})
_DRIPS = frozenset({Heat.DRY, Heat.FAT})
_RUNS_OFF = frozenset(words("drippings juices liquid liquor water fat oil"))
_SMALL = frozenset(words("reserved kept saved all whole rest remaining warm cold strained hot"))


class Reference(NamedTuple):
    """What a line refers to: a part by its title, an earlier line that has it already, or a problem that says neither.

    Parameters
    ----------
    title : str or None
        Of the part that the line takes.
    line : Line or None
        The ingredient line whose food this one takes a share of.
    problem : Problem or None
        ``no-such-part``, ``part-spelled``, ``counted-already``.
    kept : Kept or None
        What the line takes of the liquid that another part keeps.
    """

    title: str | None = None
    line: Line | None = None
    problem: Problem | None = None
    kept: Kept | None = None


@lru_cache(maxsize=4096)
def _key(text: str) -> tuple[str, ...]:
    plain = _TITLE.sub("", _BRACKETS.sub(" ", text).strip(" :.,")).strip()
    return words(plain) or tuple(plain.casefold().split())


def _parts_something(one: Instruction) -> bool:
    row = action(one.action)
    return one.mood in (Mood.DO, Mood.MAY) and (row.handler in _PARTS_IT or row.heat in _DRIPS)


def kept_name(one: Instruction) -> str:
    """What an instruction calls the liquid that it keeps: "keep it as brine", "save the soaking water"; else empty."""
    handler = action(one.action).handler
    if one.names and handler in _PARTS_IT:
        return one.names
    if handler is not Handler.KEEP:
        return ""
    return next((mention.name for mention in one.mentions if mention.role is Role.OBJECT), "")


@lru_cache(maxsize=4096)
def kept_key(text: str) -> frozenset[str]:
    """The words by which something that was kept is known again, without those that say that it was kept."""
    return frozenset(words(text)) - _SMALL


def _as_written(text: str) -> str:
    return " ".join(text.casefold().split())


class Parts:
    """The titled parts of one recipe, to be asked which of them a line takes.

    Parameters
    ----------
    recipe : Recipe
        As read.
    market : str
        Whose cups and spoons its method speaks of.
    """

    def __init__(self, recipe: Recipe, *, market: str) -> None:
        self._titles: Mapping[tuple[str, ...], str] = {
            key: part.title for part in recipe.parts if part.title.strip() and (key := _key(part.title))
        }
        self._written = {_as_written(part.title): part.title for part in recipe.parts if part.title.strip()}
        self._lines = {
            key: line
            for part in reversed(recipe.parts)
            for line in reversed(part.lines)
            if line.amounts and (key := words(line.name))
        }

        methods = [(part.title, read_method(part, market=market).instructions) for part in recipe.parts]
        parted = [(title, one) for title, each in methods for one in each if _parts_something(one)]
        self._streams = [Kept(name, title) for title, one in parted if (name := kept_name(one))]
        self._kept = frozenset(
            word
            for _, one in parted
            for stated in (one.names, *(mention.name for mention in one.mentions))
            for word in words(stated)
        )
        self._parts_something = bool(parted)

    def reference(self, line: Line, part: Part) -> Reference | None:
        """What a line of `part` refers to; None for an ordinary food."""
        if line.pin is not None and line.pin.food is not None:
            return None
        stated = _part_meant(line)
        above = part.lines[: next((at for at, one in enumerate(part.lines) if one is line), 0)]
        again = taken_again(line, above) if above and given_step_by_step(part) else None
        if again is not None and self._named(line, stated, part.title) is None:
            return _counted(line, again)
        if not self._titles and (stated is None or not _SAYS_SO.match(_text(line))):
            return None
        found = self._named(line, stated, part.title)
        if found is not None:
            return Reference(found)
        kept = self._stream(stated or line.name, part.title)
        if kept is not None:
            return Reference(kept=kept)
        typo = self._misspelled(line, stated or line.name, part.title)
        if typo is not None or stated is None or self._is_kept(stated):
            return typo
        return self._of_another_line(line, stated) or Reference(problem=self._no_such_part(line, stated, part.title))

    def _stream(self, text: str, own: str) -> Kept | None:
        """What another part keeps under this name."""
        key = kept_key(text)
        return next((one for one in self._streams if key and one.part != own and kept_key(one.name) == key), None)

    def _is_kept(self, text: str) -> bool:
        """Whether what is said is something that the method keeps, such as drippings or a brine poured off."""
        last = words(text)[-1:]
        return self._parts_something and bool(last) and (last[0] in self._kept or last[0] in _RUNS_OFF)

    def _named(self, line: Line, text: str | None, own: str) -> str | None:
        name = _ABOVE.sub("", line.name.strip())
        # Titles may differ by an article alone, or be one ("A", "The sauce" beside "Sauce"): as written comes first.
        for title in (self._written.get(_as_written(one)) for one in (name, text or "")):
            if title is not None and title != own:
                return title
        # A word of the title may have been read as preparation, from before the name ("mashed swede") or after it.
        whole = (f"{line.preparation} {name}", f"{name} {line.preparation}")
        keys = (_key(text or name), _key(_RECIPE.sub("", name)), *map(_key, whole))
        for key in keys:
            title = self._titles.get(key)
            if title is not None and title != own:
                return title
        if text is None:
            return None
        fits = [title for key, title in self._titles.items() if title != own and _same_head(keys[0], key)]
        return fits[0] if len(fits) == 1 else None

    def _of_another_line(self, line: Line, text: str) -> Reference | None:
        key = words(text)
        fits = [other for name, other in self._lines.items() if other is not line and _same_head(name, key)]
        other = self._lines.get(key) or (fits[0] if len(fits) == 1 else None)
        if other is None or other is line:
            return None
        return _counted(line, other)

    def _no_such_part(self, line: Line, text: str, own: str) -> Problem:
        titles = [title for title in self._titles.values() if title != own]
        near = _nearest(text, titles)
        listed = ", ".join(f"“{title}”" for title in titles[:4])
        if near:
            mend = f"The nearest is “{near}”; write that, or give the heading this name."
        elif titles:
            mend = f"It has {listed}; write one of them, or how much of what goes in."
        else:
            mend = f"Open one with a heading, “## {text[:40].capitalize()}”, or write how much of what goes in."
        return Problem("no-such-part", f"“{line.text.strip()[:60]}” names no part of this recipe. {mend}", line.number)

    def _misspelled(self, line: Line, text: str, own: str) -> Reference | None:
        from difflib import get_close_matches

        name = " ".join(_key(text))
        titles = {" ".join(key): title for key, title in self._titles.items() if title != own}
        near = get_close_matches(name, titles, 1, 0.92) if len(name) > 5 else []
        if not near:
            return None
        title = titles[near[0]]
        problem = Problem("part-spelled", f"“{text}” is taken for the part “{title}”; spell both alike.", line.number)
        return Reference(title, problem=problem)


@lru_cache(maxsize=4096)
def _words_of_part(text: str, bare: bool) -> str | None:
    """What a text speaks of as made before, without the words that say so; None where it does not."""
    found = _SAYS_SO.match(text)
    if found is not None:
        return text[found.end() :]
    found = _OF_THE.search(text)
    if found is not None and text[:1].isdigit() and not re.search(r"[,;(]", text[: found.start()]):
        return text[found.end() :]  # "60 g of the brined cucumber"
    found = _WITHOUT_AMOUNT.match(text) if bare else None
    return text[found.end() :] if found is not None and found.end() > 0 else None


def _counted(line: Line, other: Line) -> Reference:
    """A line whose food an earlier one counts."""
    problem = Problem(
        "counted-already",
        f"“{line.text.strip()[:60]}” is taken from line {other.number}, “{other.text.strip()[:60]}”, which is "
        "counted there in full; nothing is added here.",
        line.number,
    )
    return Reference(line=other, problem=problem)


def _text(line: Line) -> str:
    return " ".join(line.text.strip(" -–—•*").split())


def _part_meant(line: Line) -> str | None:
    text = _text(line)
    if line.derived is not None or line.optional:
        return None
    if _ABOVE.search(line.name) or _ABOVE.search(line.note):
        return _ABOVE.sub("", line.name).strip()
    stated = _words_of_part(text, not line.amounts)
    if stated is None:
        return None
    stated = re.split(r"[,;({]| (?:for|to|from|plus|and) ", stated, maxsplit=1)[0].strip(" .:")
    return stated or None


def _same_head(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether two names are one with more or fewer words before it: "frosting", "cream cheese frosting"."""
    if not one or not other or one[-1] != other[-1]:
        return False
    return set(one) <= set(other) or set(other) <= set(one)


def _nearest(text: str, titles: Iterable[str]) -> str | None:
    """The title that shares most with what is said; None where none is near."""
    from difflib import SequenceMatcher

    ranked = [
        (len(set(_key(text)) & set(_key(title))), SequenceMatcher(None, text.lower(), title.lower()).ratio(), title)
        for title in titles
    ]
    shared, alike, title = max(ranked, default=(0, 0.0, ""))
    return title if shared or alike >= 0.6 else None
