"""The headings of a text and what stands under them, found before its rows are sorted."""

from __future__ import annotations

import re
from collections.abc import Callable
from enum import Enum

from labeler.parsing.front_matter import is_key_of
from labeler.parsing.headings import Opens, read_heading
from labeler.parsing.ingredient.extraction import derivation_behind
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.ingredient.name import is_preparation
from labeler.parsing.markup import Mark, Row
from labeler.parsing.row_classifier import begins_with_action, ends_in_action, row_kind
from labeler.parsing.row_phrases import one_of
from labeler.parsing.row_shapes import ends_with_amount, is_sentence, opens_with_amount, plain_of, prefix_kind
from labeler.parsing.yields import bare_yield, without_yields, yields_in

__all__ = ["Outline", "Title", "told_title"]

_FOR = re.compile(rf"{one_of('sub_heading')}\b", re.IGNORECASE)
_MOST_WORDS = 8
_TOLD_WITHIN = 4
"""Among how many rows at the top "Title: ..." is looked for."""


def told_title(row: Row) -> str:
    """What a row says that the title is ("Title: Oat milk"); empty where it does not."""
    key, colon, rest = row.text.partition(":")
    named = row.mark in (Mark.NONE, Mark.HEADING) and colon and is_key_of(key.strip(" *_"), "title")
    return rest.strip(" *_") if named else ""


class Title(Enum):
    """What kind of heading a row is."""

    RECIPE = "recipe"
    REAL = "real"
    LOOSE = "loose"
    NESTED = "nested"


class Outline:
    """Which rows of a text are headings, of what, and the few facts of the whole that settle its rows.

    Parameters
    ----------
    rows : list of Row
        Of the whole text.
    titled : bool
        True where the head has a title, so that no row is one.
    names_food : callable or None
        Whether a few words may be a food.
    """

    def __init__(self, rows: list[Row], *, titled: bool, names_food: Callable[[str], bool] | None = None) -> None:
        self.rows = rows
        self.titled = titled
        self.names_food = names_food
        self.title_guessed = False
        self.own_form = any(row.mark is Mark.QUOTE for row in rows)
        self.bulleted = any(row.mark is Mark.BULLET for row in rows)
        self.real = [at for at, row in enumerate(rows) if row.mark is Mark.HEADING]
        words = [row.text for row in rows if row.mark in (Mark.NONE, Mark.BULLET) and any(map(str.isalpha, row.text))]
        self.shouted = len(words) > 2 and sum(text.isupper() for text in words) > len(words) / 2
        self.titles: dict[int, Title] = {}
        content = [at for at, row in enumerate(rows) if _has_words(row) and row.mark is not Mark.COMMENT]
        self.title_at = None if titled else self._title(content)
        if self.title_at is not None:
            self.titles[self.title_at] = Title.RECIPE
        for at in content:
            if at != self.title_at:
                kind = self._kind(at)
                if kind is not None:
                    self.titles[at] = kind
        known = {at: read_heading(rows[at].text).opens for at in self.titles if at != self.title_at}
        self._known = set(known.values()) - {None}
        self._of_lists = [at for at, opens in known.items() if opens is Opens.INGREDIENTS]
        self._first_list = next((at for at, opens in known.items() if opens is Opens.INGREDIENTS), None)

    # --- questions --------------------------------------------------------------------------------------------------

    def has(self, opens: Opens) -> bool:
        """Whether any heading says that such things stand under it."""
        return opens in self._known

    def is_equipment(self, at: int) -> bool:
        """Whether "What you need" lists tools: another heading says "Ingredients", and few rows below have amounts."""
        text = self.rows[at].text.casefold()
        if "need" not in text or read_heading(text).opens is not Opens.INGREDIENTS or "ingredient" in text:
            return False
        named = any(one != at and "need" not in self.rows[one].text.casefold() for one in self._of_lists)
        measured = [one for one in self.under(at) if re.match(r"\W*[\d½¼¾⅓⅔]", self.rows[one].text)]
        return named and len(measured) * 2 < len(self.under(at))

    def before_list(self, at: int) -> bool:
        """Whether a row stands before the heading of the ingredients, where there is one."""
        return self._first_list is not None and at < self._first_list

    def before_list_anyhow(self, row: Row) -> bool:
        """Whether a row stands before every ingredient."""
        if self._first_list is not None:
            return row.number < self.rows[self._first_list].number
        lines = (
            one.number
            for one in self.rows
            if one.mark is Mark.BULLET
            or ((opens_with_amount(one.text) or ends_with_amount(one.text)) and not _tells_yield(one.text))
        )
        return row.number < next(lines, 0)

    def whose_list(self, at: int) -> str:
        """What "Ingredients" and "Method" below a heading of a part are of, where several parts have them."""
        if len(self._of_lists) < 2 or self.rows[at].mark is not Mark.HEADING:
            return ""
        level = self.rows[at].level
        above = next((one for one in reversed(self.real) if one < at and self.rows[one].level < level), self.title_at)
        if above is None or above == self.title_at or read_heading(self.rows[at].text).opens is None:
            return ""
        heading = read_heading(self.rows[above].text)
        return heading.subject if heading.opens is None else ""

    def under(self, at: int) -> list[int]:
        """The rows below a heading, down to the next one."""
        found = []
        for below in range(at + 1, len(self.rows)):
            if below in self.titles or self.rows[below].mark is Mark.HEADING:
                break
            if _has_words(self.rows[below]) and self.rows[below].mark is not Mark.COMMENT:
                found.append(below)
        return found

    def in_list_of_bullets(self, at: int) -> bool:
        """Whether the rows beside this one have bullets."""
        start = max((one for one in self.titles if one <= at), default=-1)
        return any(self.rows[one].mark is Mark.BULLET for one in self.under(start))

    def under_step(self, at: int) -> bool:
        """Whether a nested row stands under a step, and not under a heading of steps."""
        for above in range(at - 1, -1, -1):
            if self.rows[above].level and self.rows[above].level < self.rows[at].level and not self.rows[above].goes_on:
                return above not in self.titles
        return False

    def opens_list(self, at: int) -> bool:
        """Whether a plain row right above bullets says what is done with them: "Whisk together:", "To a pot, add"."""
        row = self.rows[at]
        below = next((one for one in self.rows[at + 1 :] if _has_words(one)), None)
        if row.mark is not Mark.NONE or below is None or below.mark is not Mark.BULLET or at in self.titles:
            return False
        return ends_in_action(row.text) or (row.text.endswith(":") and begins_with_action(plain_of(row.text)))

    def says_use(self, row: Row) -> bool:
        """Whether a nested item says what is done with the ingredient above it: "zest" below "1 lemon"."""
        if row.level < 2 or opens_with_amount(row.text):
            return False
        other = row.text.lower().startswith("or ")
        if not (other or is_preparation(row.text) or derivation_behind(row.text) is not None):
            return False
        at = next(at for at, one in enumerate(self.rows) if one.number == row.number)
        above = next((one for one in range(at - 1, -1, -1) if 0 < self.rows[one].level < row.level), None)
        return above is not None and above not in self.titles and opens_with_amount(self.rows[above].text)

    def behind_numbers(self, at: int) -> bool:
        """Whether a plain row stands behind numbered steps of the same section."""
        for above in range(at - 1, -1, -1):
            if above in self.titles:
                return False
            if self.rows[above].mark is Mark.NUMBER:
                return True
        return False

    def lines_after(self, at: int) -> bool:
        """Whether rows that look like ingredients stand below a row."""
        return any(_like_line(row) for row in self.rows[at + 1 :])

    def words_after(self, at: int) -> bool:
        """Whether any row with words stands below one."""
        return any(_has_words(row) for row in self.rows[at + 1 :])

    def steps_block(self, at: int) -> bool:
        """Whether the paragraph or list that a row stands in is one of steps: half of it is, and none is a line."""
        block = self.rows[at].block
        rows = [
            row
            for one, row in enumerate(self.rows)
            if row.block == block and one not in self.titles and _has_words(row)
        ]
        if any(_like_line(row) and row_kind(plain_of(row.text)) != "step" for row in rows):
            return False
        return sum(_like_step(row) for row in rows) * 2 >= len(rows)

    def counts(self, at: int) -> tuple[int, int]:
        """How many rows under a heading look like ingredients, and how many like steps."""
        rows = [self.rows[one] for one in self.under(at)]
        lines = sum(_like_line(row) for row in rows)
        steps = sum(_like_step(row) for row in rows)
        plain = sum(row.mark in (Mark.BULLET, Mark.NONE, Mark.TABLE) for row in rows) - lines - steps
        return lines + max(plain, 0) * (not steps), steps

    # --- headings ---------------------------------------------------------------------------------------------------

    def _title(self, content: list[int]) -> int | None:
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
            alone = row.level == 1 or (len(deeper) == len(self.real) - 1 and deeper and not self._direct(first))
            listed = len(self.real) > 1 and read_heading(self.rows[self.real[1]].text).opens is Opens.INGREDIENTS
            return first if alone or (listed and not self._direct(first)) else None
        heads = [at for at in content if self.rows[at].mark is Mark.HEADING and self.rows[at].level == 1]
        if heads and not any(_like_line(self.rows[at]) for at in content if at < heads[0]):
            return heads[0] if read_heading(self.rows[heads[0]].text).opens is None else None
        if self._may_be_title(first, content[content.index(first) :]):
            return first
        return self._title_behind_words(first, content)

    def _title_behind_words(self, first: int, content: list[int]) -> int | None:
        """The title that stands right above the list where a letter or the like opens the text; None for none."""
        text = self.rows[first].text
        opened = self.rows[first].mark is Mark.NONE and (text[-1:] in ",.!?" or row_kind(plain_of(text)) == "prose")
        listed = next(
            (at for at in content if _like_line(self.rows[at]) and not _tells_of_whole(self.rows[at].text)), 0
        )
        if not opened or any(self.rows[at].mark is not Mark.NONE for at in content if at < listed):
            return None
        starts = [at for at in content if first < at < listed and self.rows[at].block != self.rows[at - 1].block]
        if not starts:
            return None
        below = [at for at in content if starts[-1] < at < listed]
        if (
            below
            and all(_tells_of_whole(self.rows[at].text) for at in below)
            and self._like_title(self.rows[starts[-1]])
        ):
            return starts[-1]
        return (
            starts[-1]
            if self._may_be_title(starts[-1], [starts[-1], *below, *content[content.index(listed) :]])
            else None
        )

    def is_greeting(self, at: int) -> bool:
        """Whether a row without amount stands above the title, as the words of a letter do."""
        if self.rows[at].mark is not Mark.NONE or opens_with_amount(self.rows[at].text):
            return False
        return self.title_at is not None and at < self.title_at

    def _is_aside(self, at: int) -> bool:
        """Whether a row above the title speaks of the page or of time: "Jump to recipe", "Prep time: 5 min"."""
        row = self.rows[at]
        if row.mark is not Mark.NONE:
            return False
        text = row.text.strip()
        bracketed = text[:1] in ("(", "[") and text[-1:] in (")", "]")  # "(adapted from a neighbour)"
        return bracketed or "://" in text or row_kind(plain_of(text)) in ("about", "time")

    def _direct(self, at: int) -> bool:
        """Whether anything that looks like a list stands right under a heading."""
        for row in self.rows[at + 1 :]:
            if row.mark is Mark.HEADING:
                return False
            if _like_line(row) or row.mark is Mark.QUOTE:
                return True
        return False

    def _like_title(self, row: Row) -> bool:
        """Whether a row is no heading, line, step or sentence by itself."""
        text = row.text
        plain, named = plain_of(text), without_yields(text)
        if row.mark is not Mark.NONE or len(text.split()) > 14 or text[-1:] in ".:,;" or text.endswith("..."):
            return False
        if (
            read_heading(text).opens is not None
            or row_kind(plain) not in ("ingredient", "prose", "step")
            or prefix_kind(text)
        ):
            return False
        if row_kind(plain) == "step" and text.endswith("."):
            return False
        return not read_line(named or text).amounts

    def _may_be_title(self, at: int, content: list[int]) -> bool:
        row, text = self.rows[at], self.rows[at].text
        if not self._like_title(row):
            return False
        plain = plain_of(text)
        if len(content) < 2:
            return False
        below = self.rows[content[1]]
        past = next((one for one in content[1:] if not _tells_of_whole(self.rows[one].text)), content[1])
        if row.bold or any(read_heading(self.rows[one].text).opens is Opens.INGREDIENTS for one in content):
            return True
        if yields_in(text) or (row_kind(plain_of(below.text)) in ("yield", "time", "about", "heading")):
            return True
        self.title_guessed = True
        apart = self.rows[past].block != row.block
        if apart and text[:1] != text[:1].lower() and self._lists(content[1:]):
            return True
        headed = any(read_heading(self.rows[one].text).opens is Opens.STEPS for one in content)
        if self.names_food is not None and not (headed and apart):
            return not self.names_food(text) and (apart or below.mark is Mark.BULLET)
        if below.mark is Mark.BULLET or apart:
            return not plain[:1].islower() or len(plain.split()) > 2
        return False

    def _lists(self, below: list[int]) -> bool:
        """Whether rows open with a list of ingredients that stand together, past what they say of yield and time."""
        for place, at in enumerate(below):
            row = self.rows[at]
            if row.mark is Mark.NONE and _tells_of_whole(row.text):
                continue
            if _like_line(row) or (row.mark is Mark.BULLET and row_kind(plain_of(row.text)) == "ingredient"):
                together = [one for one in below[place:] if self.rows[one].block == row.block]
                return sum(_like_line(self.rows[one]) for one in together) > 1
            return False
        return False

    def _kind(self, at: int) -> Title | None:
        row, text = self.rows[at], self.rows[at].text
        if row.mark is Mark.HEADING:
            return Title.REAL
        if row.goes_on or row.mark not in (Mark.NONE, Mark.BULLET, Mark.NUMBER):
            return None
        below = self.rows[at + 1] if at + 1 < len(self.rows) else None
        if row.mark in (Mark.BULLET, Mark.NUMBER):
            nests = below is not None and below.level > row.level and below.mark in (Mark.BULLET, Mark.NUMBER)
            if row_kind(plain_of(text)) in ("time", "yield", "about"):
                return None
            few = len(text.split()) <= _MOST_WORDS and not opens_with_amount(text) and text[-1:] not in ".!?"
            colon = text.endswith(":") or row_kind(plain_of(text)) != "step"
            return Title.NESTED if nests and few and colon else None
        if prefix_kind(text) is not None or len(text.split()) > _MOST_WORDS or below is None:
            return None
        heading = read_heading(text)
        if heading.opens is not None:
            # "Author: Jo" is a row by itself, "Ingredients for the sauce" and "Notes:" are headings.
            alone = ":" not in text.rstrip(" :*") or heading.opens in (Opens.INGREDIENTS, Opens.STEPS)
            return Title.LOOSE if alone else None
        if _tells_of_whole(text) or opens_with_amount(text):
            return None
        if row.bold and text[-1:] not in ".!?," and below.mark is not Mark.HEADING:
            return Title.LOOSE
        if text.endswith(":"):
            # "Stir in until smooth:" above a list is a step; "Make the gravy:" says what the list is of.
            opens_with_verb = begins_with_action(plain_of(text)) and heading.subject == text.rstrip(" :")
            return None if opens_with_verb and below.mark is Mark.BULLET else Title.LOOSE
        if text.isupper() and sum(map(str.isalpha, text)) > 2 and not self.shouted and not below.text.isupper():
            return Title.LOOSE
        if _FOR.match(text) and "," not in text and text[-1:] not in ".!?" and len(text.split()) <= 6:
            return Title.LOOSE if _like_line(below) or _like_step(below) else None
        return None


def _has_words(row: Row) -> bool:
    return any(sign.isalnum() for sign in row.text) and row.mark is not Mark.RULE


def _tells_yield(text: str) -> bool:
    """Whether a row tells how much the recipe makes, with a word for it or without."""
    return bool(yields_in(text)) or bare_yield(plain_of(text)) is not None


def _tells_of_whole(text: str) -> bool:
    """Whether a row below a title still speaks of the whole dish: how much it makes, how long it takes."""
    return _tells_yield(text) or row_kind(plain_of(text)) in ("yield", "time", "about")


def _like_line(row: Row) -> bool:
    """Whether a row looks like an ingredient by itself."""
    if row.mark in (Mark.HEADING, Mark.QUOTE, Mark.COMMENT, Mark.RULE) or row.goes_on or not _has_words(row):
        return False
    if row.mark in (Mark.TABLE, Mark.TERM):
        return True
    kind = row_kind(plain_of(row.text))
    if kind in ("yield", "time", "about", "heading", "step") or yields_in(row.text):
        return False
    return (opens_with_amount(row.text) and not is_sentence(row.text)) or ends_with_amount(row.text)


def _like_step(row: Row) -> bool:
    """Whether a row looks like a step by itself."""
    if row.mark is Mark.QUOTE:
        return True
    if row.mark not in (Mark.NONE, Mark.NUMBER, Mark.BULLET) or not _has_words(row):
        return False
    kind = row_kind(plain_of(row.text))
    if kind == "step":
        return True
    return kind in ("ingredient", "prose") and (
        is_sentence(row.text) or (row.mark is Mark.NUMBER and not opens_with_amount(row.text))
    )
