"""Which row of a text is the recipe's title: a first heading, a first row that may be one, one behind a letter."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from labeler.parsing.front_matter import is_key_of
from labeler.parsing.headings import Opens, prefix_kind, read_heading
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.markup import Mark, Row
from labeler.parsing.paragraphs import list_heads
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_looks import like_line, tells_of_whole
from labeler.parsing.row_shapes import is_sentence, opens_with_amount, plain_of
from labeler.parsing.yields import bare_yield, only_yields, without_yields, yields_in
from labeler.text.plurals import singular

__all__ = ["FoundTitle", "find_title", "told_title"]

_JOINING = frozenset("and with in on of the a an".split())
_TITLE_ROWS = 3
"""Rows of the longest title."""
_TOLD_WITHIN = 4
"""Among how many rows at the top "Title: ..." is looked for."""


def told_title(row: Row) -> str:
    """What a row says that the title is ("Title: Oat milk"); empty where it does not."""
    key, colon, rest = row.text.partition(":")
    named = row.mark in (Mark.NONE, Mark.HEADING) and colon and is_key_of(key.strip(" *_"), "title")
    return rest.strip(" *_") if named else ""


def _in_capitals(text: str) -> bool:
    """Whether every longer word of a row of two to eight opens with a capital, as those of a title do."""
    words = re.findall(r"[^\W\d_]+", without_yields(text))
    long = [word for word in words if len(word) > 3 and word.casefold() not in _JOINING]
    return 2 <= len(words) <= 8 and bool(long) and all(word[0].isupper() for word in long)


def _only_tells(text: str) -> bool:
    """Whether a row says nothing but how much the recipe makes, how long it takes and the like."""
    plain = plain_of(text)
    return row_kind(plain) in ("yield", "time", "about") or bool(only_yields(plain)) or bare_yield(plain) is not None


class FoundTitle(NamedTuple):
    """Where the title stands, None where no row is one, whether only its looks say so, and what goes on with it."""

    at: int | None
    guessed: bool
    more: tuple[int, ...] = ()


def find_title(rows: Sequence[Row], content: list[int], names_food: Callable[[str], bool] | None) -> FoundTitle:
    """The title of a text.

    Parameters
    ----------
    rows : sequence of Row
        Of the whole text.
    content : list of int
        Those of them that have words and are no comments.
    names_food : callable or None
        Whether a few words may be a food.
    """
    finder = _Finder(rows, names_food)
    several = finder.of_several_rows(content)
    if several:
        return FoundTitle(several[0], True, tuple(several[1:]))
    return FoundTitle(finder.find(content), finder.guessed)


class _Finder:
    def __init__(self, rows: Sequence[Row], names_food: Callable[[str], bool] | None) -> None:
        self.rows = rows
        self.names_food = names_food
        self.heads = {rows[at].number for at in list_heads(rows)}
        self.real = [at for at, row in enumerate(rows) if row.mark is Mark.HEADING]
        self.guessed = False

    def find(self, content: list[int]) -> int | None:
        """Which row is the recipe's title: a first heading that opens nothing, else a first row that may be one."""
        told = next((at for at in content[:_TOLD_WITHIN] if told_title(self.rows[at])), None)
        first = next((at for at in content if not self._is_aside(at)), None)
        if told is not None or first is None:
            return told
        row = self.rows[first]
        if row.mark is Mark.HEADING:
            if read_heading(row.text).opens is not None and len(row.text.split()) < 4:
                return None
            deeper = [at for at in self.real[1:] if self.rows[at].level > row.level]
            below = deeper or any(self._opens(one) or one.bold for one in self.rows[first + 1 :])
            alone = row.level == 1 or (len(deeper) == len(self.real) - 1 and below and not self._direct(first))
            listed = len(self.real) > 1 and read_heading(self.rows[self.real[1]].text).opens is Opens.INGREDIENTS
            return first if alone or (listed and not self._direct(first)) else None
        heads = [at for at in content if self.rows[at].mark is Mark.HEADING and self.rows[at].level == 1]
        if heads and not any(like_line(self.rows[at]) for at in content if at < heads[0]):
            return heads[0] if read_heading(self.rows[heads[0]].text).opens is None else None
        near = self._title_near_list(first, content)
        if near is not None:
            return near
        behind = self._title_behind_words(first, content)
        speaks = row_kind(plain_of(row.text)) == "prose" and behind is not None  # "Here's my aunt's bun recipe"
        return first if not speaks and self._may_be_title(first, content[content.index(first) :]) else behind

    def of_several_rows(self, content: list[int]) -> list[int]:
        """The rows of a first paragraph all written as titles, where a list stands apart from it; empty for none.

        "Aunt Ro's Sunday" above "Leek & Barley Pot" is no list of two foods: the first names none.
        """
        rows = self.rows
        first = content[0] if content else 0
        together = [at for at in content if rows[at].block == rows[first].block]
        listed = next((at for at in content if self._begins_list(at)), None)
        if self.names_food is None or not 2 <= len(together) <= _TITLE_ROWS or listed is None or listed in together:
            return []
        named = all(
            self._like_title(rows[at]) and _in_capitals(rows[at].text) and not _only_tells(rows[at].text)
            for at in together
        )
        return together if named and not self.names_food(rows[first].text) else []

    def _title_near_list(self, first: int, content: list[int]) -> int | None:
        """The row right above the list that is written as a title, below talk or the name of the whole page.

        Every longer word of it is a capitalised one, or the first row says it too ("Quay buns | Tern & Tide"), and no
        row like it stands among the ingredients, where it would be the name of a part.
        """
        listed = next((at for at in content if self._begins_list(at)), None)
        above = [at for at in content if first < at < listed] if listed is not None else []
        while above and (
            _only_tells(self.rows[above[-1]].text)
            or self._is_aside(above[-1])
            or self.rows[above[-1]].number in self.heads
        ):
            above.pop()
        if listed is None or not above or not self._like_title(self.rows[above[-1]]):
            return None
        row, before = self.rows[above[-1]], self.rows[above[-1] - 1]
        starts = row.block != before.block or before.text[-1:] in ".!?…" or self._is_aside(above[-1] - 1)
        talk = any(self._is_talk(self.rows[at]) for at in (first, *above[:-1]))
        named = plain_of(row.text).casefold() in self.rows[first].text.casefold()
        peers = any(
            _in_capitals(self.rows[at].text) and self._like_title(self.rows[at]) for at in content if at > listed
        )
        if not starts or not (named or (talk and _in_capitals(row.text) and not peers)):
            return None
        self.guessed = not named
        return above[-1]

    def _begins_list(self, at: int) -> bool:
        """Whether a row opens the first list: a heading that says what follows, or an ingredient beside another."""
        row = self.rows[at]
        if read_heading(row.text).opens is not None and row_kind(plain_of(row.text)) != "about":
            return True
        below = next((one for one in self.rows[at + 1 :] if one.text), None)
        lines = like_line(row) and not tells_of_whole(row.text)
        return lines and below is not None and (like_line(below) or below.mark is row.mark is not Mark.NONE)

    def _is_line(self, at: int) -> bool:
        return like_line(self.rows[at])

    def _is_talk(self, row: Row) -> bool:
        return row_kind(plain_of(row.text)) == "prose" or is_sentence(row.text)

    def _title_behind_words(self, first: int, content: list[int]) -> int | None:
        """The title that stands right above the list where a letter or the like opens the text; None for none."""
        text = self.rows[first].text
        opened = self.rows[first].mark is Mark.NONE and (text[-1:] in ",.!?" or row_kind(plain_of(text)) == "prose")
        listed = next((at for at in content if like_line(self.rows[at]) and not tells_of_whole(self.rows[at].text)), 0)
        if not opened or any(self.rows[at].mark is not Mark.NONE for at in content if at < listed):
            return None
        starts = [
            at
            for at in content
            if first < at < listed
            and self.rows[at].block != self.rows[at - 1].block
            and not self._heads_list(self.rows[at])
        ]
        if not starts:
            return None
        below = [at for at in content if starts[-1] < at < listed and not self._heads_list(self.rows[at])]
        if (
            below
            and all(tells_of_whole(self.rows[at].text) for at in below)
            and self._like_title(self.rows[starts[-1]])
        ):
            return starts[-1]
        return (
            starts[-1]
            if self._may_be_title(starts[-1], [starts[-1], *below, *content[content.index(listed) :]])
            else None
        )

    def _heads_list(self, row: Row) -> bool:
        """Whether a row is a heading above ingredients: "You need:", "For the brine:"."""
        return row.number in self.heads or read_heading(row.text).opens is not None or row.text.endswith(":")

    def _is_aside(self, at: int) -> bool:
        """Whether a row above the title speaks of the page or of time: "Jump to recipe", "Prep time: 5 min"."""
        row = self.rows[at]
        if row.mark is not Mark.NONE:
            return False
        text = row.text.strip()
        bracketed = text[:1] in ("(", "[") and text[-1:] in (")", "]")  # "(adapted from a neighbour)"
        return bracketed or "://" in text or row_kind(plain_of(text)) in ("about", "time")

    def _opens(self, row: Row) -> bool:
        """Whether a plain row is a heading of a list or a method."""
        return row.mark is Mark.NONE and read_heading(row.text).opens in (Opens.INGREDIENTS, Opens.STEPS)

    def _direct(self, at: int) -> bool:
        """Whether anything that looks like a list stands right under a heading."""
        for row in self.rows[at + 1 :]:
            if row.mark is Mark.HEADING or self._opens(row) or (row.bold and row.mark is Mark.NONE):
                return False
            if like_line(row) or row.mark is Mark.QUOTE:
                return True
        return False

    def _like_title(self, row: Row) -> bool:
        """Whether a row is no heading, line, step or sentence by itself."""
        text = row.text
        plain, named = plain_of(text), without_yields(text)
        told = yields_in(text)
        ends = text if not told or told[-1].end < len(text) - 1 else text.rstrip(".")  # "Leek risotto, serves 4."
        if row.mark is not Mark.NONE or len(text.split()) > 14 or ends[-1:] in ".:,;" or text.endswith("..."):
            return False
        if re.search(r"[!?]\s+\w", text):
            return False  # "Hey! Here is the granola": somebody speaks
        if (
            read_heading(text).opens is not None
            or row_kind(plain) not in ("ingredient", "prose", "step")
            or prefix_kind(text)
        ):
            return False
        if row_kind(plain) == "step" and text.endswith("."):
            return False
        shouted = named.isupper() and not opens_with_amount(named)  # "SALADS 101"
        return shouted or not read_line(named or text).amounts

    def _may_be_title(self, at: int, content: list[int]) -> bool:
        row, text = self.rows[at], self.rows[at].text
        if not self._like_title(row):
            return False
        plain = plain_of(text)
        if len(content) < 2:
            return False
        below = self.rows[content[1]]
        past = next((one for one in content[1:] if not tells_of_whole(self.rows[one].text)), content[1])
        if row.bold or any(read_heading(self.rows[one].text).opens is Opens.INGREDIENTS for one in content):
            return True
        if yields_in(text) or (row_kind(plain_of(below.text)) in ("yield", "time", "about", "heading")):
            return True
        self.guessed = True
        listed = next((one for one in content[1:] if like_line(self.rows[one])), None)
        apart = self.rows[past].block != row.block
        if listed is not None and (apart or not plain[:1].islower()) and self._set_apart(at, listed):
            return True
        if apart and text[:1] != text[:1].lower() and self._lists(content[1:]):
            return True
        if self._names_its_foods(plain, content[1:]):
            return True
        headed = any(read_heading(self.rows[one].text).opens is Opens.STEPS for one in content)
        if self.names_food is not None and not (headed and apart):
            return not self.names_food(text) and (apart or below.mark is Mark.BULLET)
        if below.mark is Mark.BULLET or apart:
            return not plain[:1].islower() or len(plain.split()) > 2
        return False

    def _names_its_foods(self, text: str, below: list[int]) -> bool:
        """Whether a row names what the list below it holds and a dish of it: "Smoked haddock and leek tart".

        An ingredient does not come again; every word but the last must, and the last names the dish.
        """
        words = [singular(word) for word in re.findall(r"[^\W\d_]+", without_yields(text).casefold())]
        words = [word for word in words if word not in _JOINING]
        lines = [self.rows[at].text for at in below if like_line(self.rows[at])]
        listed = {singular(word) for line in lines for word in re.findall(r"[^\W\d_]+", line.casefold())}
        return len(words) > 1 and len(lines) > 1 and all(word in listed for word in words[:-1])

    def _set_apart(self, at: int, listed: int) -> bool:
        """Whether a row is written otherwise than the list below it: without its bullets, or alone in capitals."""
        row, line = self.rows[at], self.rows[listed]
        if line.mark is Mark.BULLET:
            return all(self.rows[one].mark is not Mark.BULLET for one in range(at, listed))
        return row.text.isupper() and not line.text.isupper() and len(row.text.split()) > 1

    def _lists(self, below: list[int]) -> bool:
        """Whether a list of ingredients that stand together follows, past yields, times, talk and its heading."""
        for place, at in enumerate(below):
            row = self.rows[at]
            if row.mark is Mark.NONE and (tells_of_whole(row.text) or self._is_talk(row) or self._heads_list(row)):
                continue
            if like_line(row) or (row.mark is Mark.BULLET and row_kind(plain_of(row.text)) == "ingredient"):
                together = [one for one in below[place:] if self.rows[one].block == row.block]
                spaced = len(together) == 1 and like_line(row) and all(map(self._is_line, below[place : place + 3]))
                return spaced or sum(like_line(self.rows[one]) for one in together) > 1
            return False
        return False
