"""The headings of a text and what stands under them, found before its rows are sorted."""

from __future__ import annotations

import re
from collections.abc import Callable
from enum import Enum
from functools import cached_property

from labeler.parsing.headings import Opens, prefix_kind, read_heading
from labeler.parsing.ingredient.extraction import derivation_behind
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.ingredient.name import is_preparation
from labeler.parsing.markup import Mark, Row
from labeler.parsing.model import NoteKind
from labeler.parsing.page_rows import is_page_row
from labeler.parsing.paragraphs import ends_method, list_heads
from labeler.parsing.row_classifier import begins_with_action, ends_in_action, opens_with_verb, row_kind
from labeler.parsing.row_looks import has_words, kind_among_steps, like_line, like_step, tells_of_whole, tells_yield
from labeler.parsing.row_phrases import one_of, phrases
from labeler.parsing.row_shapes import ends_with_amount, is_sentence, opens_with_amount, plain_of
from labeler.parsing.title_row import FoundTitle, find_title
from labeler.text.plurals import singular

__all__ = ["Outline", "Title"]

_FOR = re.compile(rf"{one_of('sub_heading')}\b", re.IGNORECASE)
_MOST_WORDS = 8
_PART_WORDS = 3
_KNOWN = re.compile(r"\b(?:the|all|these|your)\b", re.IGNORECASE)


class Title(Enum):
    """What kind of heading a row is."""

    RECIPE = "recipe"
    SUBTITLE = "subtitle"
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
        self.own_form = any(row.mark is Mark.QUOTE for row in rows)
        self.bulleted = any(row.mark is Mark.BULLET for row in rows)
        self.real = [at for at, row in enumerate(rows) if row.mark is Mark.HEADING]
        words = [row.text for row in rows if row.mark in (Mark.NONE, Mark.BULLET) and any(map(str.isalpha, row.text))]
        self.shouted = len(words) > 2 and sum(text.isupper() for text in words) > len(words) / 2
        self.heads = list_heads(rows, names_food)
        self.titles: dict[int, Title] = {}
        content = [at for at, row in enumerate(rows) if has_words(row) and row.mark is not Mark.COMMENT]
        found = FoundTitle(None, False) if titled else find_title(rows, content, names_food)
        self.title_at, self.title_guessed, more = found
        self.titles |= dict.fromkeys(more, Title.SUBTITLE)
        if self.title_at is not None:
            self.titles[self.title_at] = Title.RECIPE
        for at in content:
            if at != self.title_at and at not in self.titles:
                kind = Title.LOOSE if self._repeats_title(at) else self._kind(at)
                if kind is not None:
                    self.titles[at] = kind
        known = {at: read_heading(rows[at].text).opens for at in self.titles if at not in (self.title_at, *more)}
        self.misnamed = {at for at, opens in known.items() if opens is Opens.STEPS and self._lists_food(at)}
        self._opened = {at: opens for at, opens in known.items() if at not in self.misnamed}
        self._known = set(self._opened.values()) - {None}
        self._of_lists = [at for at, opens in known.items() if opens is Opens.INGREDIENTS]
        self._first_list = next((at for at, opens in known.items() if opens is Opens.INGREDIENTS), None)

    # --- questions --------------------------------------------------------------------------------------------------

    def has(self, opens: Opens) -> bool:
        """Whether any heading says that such things stand under it."""
        return opens in self._known

    def comes(self, at: int, opens: Opens) -> bool:
        """Whether a heading that says that such things stand under it comes below a row."""
        return any(self._opened.get(one) is opens for one in self._opened if one > at)

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
        """Whether a row stands before every ingredient; the row that opens the block of a list is one itself."""
        if self._first_list is not None:
            return row.number < self.rows[self._first_list].number
        lines = (
            one
            for one in self.rows
            if one.mark is Mark.BULLET
            or ((opens_with_amount(one.text) or ends_with_amount(one.text)) and not tells_yield(one.text))
        )
        first = next(lines, None)
        if first is None or row.number >= first.number:
            return False
        return row.block != first.block or any(
            one.block == row.block for one in self.rows if has_words(one) and one.number < row.number
        )

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
            if self.titles.get(below) is Title.NESTED:
                continue
            if below in self.titles or self.rows[below].mark is Mark.HEADING:
                break
            if has_words(self.rows[below]) and self.rows[below].mark is not Mark.COMMENT:
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

    def is_part_of_step(self, at: int) -> bool:
        """Whether an item below a numbered step says what is done there and names no food: "bring the stock to a boil".

        Such items need not be nested as Markdown asks.
        """
        row, above = self.rows[at], at - 1
        while above >= 0 and (self.rows[above].mark is Mark.BULLET or not has_words(self.rows[above])):
            above -= 1
        if above < 0 or self.rows[above].mark is not Mark.NUMBER or opens_with_amount(row.text):
            return False
        plain = plain_of(row.text)
        if plain.endswith(":"):
            return False
        told = kind_among_steps(row) == "step" or opens_with_verb(plain)
        return told or (self.names_food is not None and not self.names_food(plain))

    def opens_list(self, at: int) -> bool:
        """Whether a plain row right above bullets says what is done with them: "Whisk together:", "To a pot, add"."""
        row = self.rows[at]
        below = next((one for one in self.rows[at + 1 :] if has_words(one)), None)
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
        return any(like_line(row) for row in self.rows[at + 1 :])

    def words_after(self, at: int) -> bool:
        """Whether any row with words stands below one."""
        return any(has_words(row) for row in self.rows[at + 1 :])

    def in_numbered_list(self, at: int, kind: str) -> bool:
        """Whether a numbered row that is no step goes on with a numbered list of ingredients: "2. rosemary"."""
        row, above = self.rows[at], self.rows[at - 1 : at]
        listed = [one for one in above if one.mark is Mark.NUMBER and one.block == row.block and like_line(one)]
        return bool(listed) and kind == "ingredient" and not is_sentence(row.text)

    def is_prose(self, at: int, kind: str) -> bool:
        """Whether an unmarked row of a list is a sentence, and not among ingredients: "The whites of six eggs."."""
        row = self.rows[at]
        if kind == "prose" or not is_sentence(row.text) or opens_with_amount(row.text):
            return kind == "prose" or (kind == "step" and not opens_with_amount(row.text) and self._ends_list(at))
        beside = [one for one in self.rows if one.block == row.block and has_words(one)]
        return kind == "step" or sum(like_line(one) for one in beside) * 2 <= len(beside)

    def _ends_list(self, at: int) -> bool:
        """Whether no ingredient stands below a row before the next heading."""
        return not any(like_line(self.rows[one]) for one in self.under(at))

    def steps_block(self, at: int) -> bool:
        """Whether the paragraph or list that a row stands in is one of steps: half of it is, and none is a line.

        A row that only may open with a verb ("Slice potatoes thin") is one beside another that surely does.
        """
        block = self.rows[at].block
        rows = [
            row for one, row in enumerate(self.rows) if row.block == block and one not in self.titles and has_words(row)
        ]
        if any(like_line(row) and row_kind(plain_of(row.text)) != "step" for row in rows):
            return False
        sure = sum(like_step(row) for row in rows)
        may_be = sum(not like_step(row) and self._may_be_step(row) for row in rows)
        return (sure + may_be) * 2 >= len(rows) and (sure > 0 or not may_be)

    def in_steps(self, at: int) -> bool:
        """Whether a row stands in a paragraph of steps, or opens those that end the block of a list."""
        return self.steps_block(at) or self._ends_block_with_steps(at) or ends_method(self.rows, at)

    def _ends_block_with_steps(self, at: int) -> bool:
        block = self.rows[at].block
        tail = [row for row in self.rows[at:] if row.block == block and has_words(row)]
        if not self._may_be_step(tail[0]) or not self._names_listed(tail[0]):
            return False
        return len(tail) > 1 and not any(map(like_line, tail)) and any(map(like_step, tail))

    def _may_be_step(self, row: Row) -> bool:
        return row.mark in (Mark.NONE, Mark.BULLET) and (
            opens_with_verb(plain_of(row.text)) or kind_among_steps(row) == "step"
        )

    def _names_listed(self, row: Row) -> bool:
        """Whether a row speaks of a food that a line with an amount lists."""
        words = {singular(word) for word in re.findall(r"[^\W\d_]+", row.text.casefold())}
        return bool(words & self._listed_words)

    @cached_property
    def _listed_words(self) -> set[str]:
        names = (read_line(row.text).name.casefold() for row in self.rows if like_line(row))
        return {singular(word) for name in names for word in re.findall(r"[^\W\d_]+", name)}

    def counts(self, at: int) -> tuple[int, int]:
        """How many rows under a heading look like ingredients, and how many like steps."""
        rows = [self.rows[one] for one in self.under(at)]
        lines = sum(like_line(row) for row in rows)
        steps = sum(like_step(row) for row in rows)
        plain = sum(row.mark in (Mark.BULLET, Mark.NONE, Mark.TABLE) for row in rows) - lines - steps
        return lines + max(plain, 0) * (not steps), steps

    def _lists_food(self, at: int) -> bool:
        """Whether the first list of the text stands under a heading of the method: "Directions" above "2 eggs"."""
        if any(like_line(row) for one, row in enumerate(self.rows[:at]) if one != self.title_at):
            return False
        lines = [like_line(self.rows[one]) for one in self.under(at)]
        return len(lines) > 1 and lines[0] and lines[1]

    # --- headings ---------------------------------------------------------------------------------------------------

    def _repeats_title(self, at: int) -> bool:
        """Whether a row by itself says the title once more, as pages do above the method."""
        row = self.rows[at]
        if self.title_at is None or at < self.title_at or row.mark is not Mark.NONE:
            return False
        alone = not any(one.block == row.block for one in self.rows[at + 1 : at + 2] if has_words(one))
        named = plain_of(self.rows[self.title_at].text).casefold().strip(" .:")
        return alone and plain_of(row.text).casefold().strip(" .:") == named

    def is_greeting(self, at: int) -> bool:
        """Whether a row without amount stands above the title or above talk and names no food, as in a letter."""
        if self.rows[at].mark is not Mark.NONE or opens_with_amount(self.rows[at].text):
            return False
        if self.title_at is not None and at < self.title_at:
            return True
        return (
            self._above_talk(at)
            and self.names_food is not None
            and not self.names_food(self.rows[at].text.partition(",")[0])
        )

    def _above_talk(self, at: int) -> bool:
        """Whether prose stands between a row and the first ingredient: the names above a letter's greeting."""
        first = next((one for one, row in enumerate(self.rows) if like_line(row)), 0)
        rows = (self.rows[one] for one in range(at + 1, first) if one not in self.titles)
        return any(row_kind(plain_of(row.text)) == "prose" or is_sentence(row.text) for row in rows if has_words(row))

    def goes_on_with_note(self, at: int) -> bool:
        """Whether a plain row without amount stands in one block below one that says it is a note ("PS buy ice")."""
        block = self.rows[at].block
        for above in reversed(self.rows[:at]):
            if above.mark is not Mark.NONE or above.block != block or opens_with_amount(self.rows[at].text):
                return False
            if prefix_kind(above.text) is NoteKind.NOTE:
                return True
        return False

    def _heads_part(self, at: int) -> bool:
        """Whether a row between ingredients with amounts is the name of a part, and no food: "Marinade", "Filling"."""
        row, words = self.rows[at], read_heading(self.rows[at].text).subject.split()  # without what brackets say
        words = words[len(words) > 1 and words[0].casefold() == "the" :]
        if not words or len(words) > _PART_WORDS or row.mark is not Mark.NONE or not row.text[:1].isupper():
            return False
        if singular(words[-1].casefold()) not in phrases()["part"]:
            return False
        below = [one for one in self.rows[at + 1 : at + 3] if one.mark in (Mark.NONE, Mark.BULLET)]
        if len(below) < 2 or not all(like_line(one) for one in below):
            return False
        return len(words) == 1 or (self.names_food is not None and not self.names_food(" ".join(words)))

    def _listed(self, at: int) -> bool:
        """Whether a heading of ingredients stands above a row."""
        return any(read_heading(row.text).opens is Opens.INGREDIENTS for row in self.rows[:at])

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
        if at in self.heads or prefix_kind(text) is not None or len(text.split()) > _MOST_WORDS or below is None:
            return Title.LOOSE if at in self.heads and below is not None else None
        heading = read_heading(text)
        if is_page_row(text) and heading.opens in (Opens.INGREDIENTS, Opens.STEPS):
            return None  # "Filed under: cooking"
        if heading.opens is not None and heading.subject and _orders(text):
            return None  # "Mix the dry ingredients."
        if heading.opens is not None:
            # "Author: Jo" is a row by itself, "Ingredients for the sauce" and "Notes:" are headings.
            alone = ":" not in text.rstrip(" :*") or heading.opens in (Opens.INGREDIENTS, Opens.STEPS)
            return Title.LOOSE if alone else None
        if tells_of_whole(text) or opens_with_amount(text):
            return None
        if row.bold and text[-1:] not in ".!?," and below.mark is not Mark.HEADING:
            return Title.LOOSE
        if row.italic and text[-1:] not in ".!?," and below.mark in (Mark.BULLET, Mark.NUMBER) and self._listed(at):
            return Title.LOOSE
        if text.endswith(":"):
            # "Stir in until smooth:" above a list is a step; "Make the gravy:" says what the list is of.
            opens_with_verb = begins_with_action(plain_of(text)) and heading.subject == text.rstrip(" :")
            return None if opens_with_verb and below.mark is Mark.BULLET else Title.LOOSE
        whole = plain_of(text).casefold() in _WHOLE and below.mark is not Mark.BULLET
        if self._heads_part(at) or whole:
            return Title.LOOSE
        if text.isupper() and sum(map(str.isalpha, text)) > 2 and not self.shouted and not below.text.isupper():
            return Title.LOOSE
        if (
            _FOR.match(text)
            and "," not in text
            and ":" not in text
            and text[-1:] not in ".!?"
            and len(text.split()) <= 6
        ):
            apart = at > 0 and self.rows[at - 1].block != row.block == below.block
            whole = _FOR.fullmatch(text) is not None  # "To serve"
            return Title.LOOSE if whole or apart or like_line(below) or like_step(below) else None
        return None


_WHOLE = frozenset(phrases()["whole_recipe"])


def _orders(text: str) -> bool:
    """Whether a row that ends in the word of a heading is a sentence that tells what to do with known food."""
    return begins_with_action(plain_of(text)) and (text[-1:] in ".!" or _KNOWN.search(text) is not None)
