"""The rows of a text put in their places: which are ingredients, which are steps, and what is neither.

Headings say most: Markdown's own, a bold row, a row in capitals, "For the gravy:". Under a heading that is known
("Ingredients", "Method", "Notes") its rows are what it says; under one that is not, what they look like settles it.
Where nothing settles a row, it is an ingredient: one that is lost takes its allergens with it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from labeler.parsing.headings import NOTE_OF, Heading, Opens, as_group, names_appliance, prefix_kind, read_heading
from labeler.parsing.markup import Mark, Row
from labeler.parsing.model import Note, NoteKind
from labeler.parsing.outline import Outline, Title
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_looks import ends_line, has_footnote, is_talk, kind_among_steps
from labeler.parsing.row_shapes import (
    is_sentence,
    is_storage,
    names_itself,
    opens_with_amount,
    plain_of,
    says_measure,
    wraps,
)
from labeler.parsing.sections import Section, SectionEntry, Sorted, note_of_comment, taken_apart
from labeler.parsing.step_numbers import with_step_numbers
from labeler.parsing.title_row import told_title
from labeler.parsing.told_yields import take_row, take_sentences, take_title, take_yields
from labeler.types import Problem

__all__ = ["sort_rows"]

_SIGNED = 6
_KIND_NOTE = {"time": NoteKind.TIME, "about": NoteKind.ABOUT, "yield": NoteKind.YIELD}


def sort_rows(rows: list[Row], *, titled: bool, names_food: Callable[[str], bool] | None = None) -> Sorted:
    """Sort the rows of a text.

    Parameters
    ----------
    rows : list of Row
        As `labeler.parsing.markup.rows_of` gives them.
    titled : bool
        True where the head of the file has a title.
    names_food : callable or None
        Whether a few words may be a food, for a first row that may be a title or an ingredient.
    """
    rows = list(taken_apart(with_step_numbers(rows)))
    sorter = _Sorter(rows, titled, names_food)
    for at in range(len(rows)):
        sorter.take(at)
    for section in sorter.found.sections:
        for step in section.steps:
            take_sentences(sorter.found, step.text, step.number)
    return sorter.found


class _Sorter:
    def __init__(self, rows: list[Row], titled: bool, names_food: Callable[[str], bool] | None) -> None:
        self.rows = rows
        self.outline = Outline(rows, titled=titled, names_food=names_food)
        self.found = Sorted()
        self.section = Section("", "", rows[0].number if rows else 1)
        self.found.sections.append(self.section)
        self.context: Opens | None = None
        self.level = 0
        self.way: int | None = None
        self.nesting: tuple[int, Section] | None = None
        self.last: SectionEntry | None = None

    def take(self, at: int) -> None:
        """Put one row in its place."""
        row = self.rows[at]
        self.aside(row)
        if row.mark is Mark.HEADING and not row.text and self.section.level:
            self.begin(Section("", "", row.number, level=row.level), row.number)
            return
        if row.mark is Mark.RULE or not any(sign.isalnum() for sign in row.text):
            return
        if row.mark is Mark.COMMENT:
            self.found.notes.append(note_of_comment(row))
            return
        title = self.outline.titles.get(at)
        if title in (Title.RECIPE, Title.SUBTITLE):
            self.name(row) if title is Title.RECIPE else self.describe(row)
            return
        if title is not None:
            self.open(at, row, title)
            return
        if self.nesting is not None and not (row.level > self.nesting[0] or row.goes_on):
            self.begin(replace(self.nesting[1], lines=[], steps=[]), row.number)
            self.nesting = None
        kind = prefix_kind(row.text)
        if self.context in NOTE_OF:
            take_sentences(self.found, row.text, row.number)
            self.note(NOTE_OF[self.context], row)
        elif kind is not None:
            self.note(kind, row)
            self.found.as_posted = True
        elif self.context is Opens.STEPS:
            self.step_row(at, row)
        elif self.context is Opens.INGREDIENTS:
            self.list_row(at, row)
        else:
            self.loose_row(at, row)

    def name(self, row: Row) -> None:
        """The recipe's title, without what its brackets say of servings."""
        self.found.title = text = take_title(self.found, told_title(row) or row.text, row.number)
        self.found.as_posted |= row.mark is not Mark.HEADING or row.level != 1
        if self.outline.title_guessed and not self.outline.has(Opens.INGREDIENTS):
            message = f"“{text.strip()[:60]}” is taken for the title. If it is an ingredient, begin it with -."
            self.found.problems.append(Problem("taken-for-title", message, row.number))

    def open(self, at: int, row: Row, title: Title) -> None:
        """Go on under another heading."""
        heading = read_heading(row.text)
        told = heading.aside and take_yields(self.found, heading.aside, row.number, bare=True)
        if heading.aside and (told or heading.opens is not None):
            self.found.notes.append(Note(NoteKind.DESCRIPTION, heading.aside, row.number))
        self.last = None
        self.found.as_posted |= row.mark is not Mark.HEADING or heading.opens is not None
        under = row.level if row.mark is Mark.HEADING else 50 if heading.opens is not None else 60
        whose = as_group(heading.subject or self.outline.whose_list(at))
        section = Section(row.text.strip(" :"), whose, row.number, level=under, known=heading.opens is not None)
        if title is Title.NESTED:
            self.nesting = (row.level, self.nesting[1] if self.nesting is not None else self.section)
        else:
            self.nesting = None
            known = Opens.EQUIPMENT if self.outline.is_equipment(at) else heading.opens
            known = None if at in self.outline.misnamed else known
            before, self.context = self.context, self.opens(at, known, under)
            inherited = under > self.level and before is self.context is Opens.NOTES
            if self.is_other_way(row, heading, under):
                self.context, inherited = Opens.NOTES, False
            if heading.opens is not None or (self.context is Opens.NOTES and not inherited):
                self.level = under
        self.begin(section, row.number)
        if self.context in NOTE_OF and (heading.opens is None or heading.subject):
            self.note(NOTE_OF[self.context], row)

    def is_other_way(self, row: Row, heading: Heading, under: int) -> bool:
        """Whether a heading of the method tells how to make the whole dish again in another appliance."""
        if self.context is not Opens.STEPS or not names_appliance(row.text):
            return False
        again = heading.opens is Opens.STEPS and any(section.steps for section in self.found.sections)
        beside, self.way = self.way == under, under
        if again or beside:
            message = f"“{row.text.strip(' :')[:60]}” is another way of making the dish and is kept as a note."
            self.found.problems.append(Problem("another-way", message, row.number))
        return again or beside

    def opens(self, at: int, known: Opens | None, under: int) -> Opens | None:
        """What the rows under a heading are: what it says, else what stands above it unless they look otherwise."""
        if known is not None:
            return known
        lines, steps = self.outline.counts(at)
        inner = self.context is not None and under > self.level
        if inner and self.context in NOTE_OF and not (under >= 50 and (lines > 1 or steps > 1) and self.level >= 50):
            return self.context
        if lines and steps:
            return None
        if self.outline.has(Opens.INGREDIENTS) or self.outline.has(Opens.STEPS):
            if not lines and not steps:
                return self.context if inner else Opens.NOTES
            return Opens.INGREDIENTS if lines else Opens.STEPS
        return self.context if inner else None

    def begin(self, section: Section, number: int) -> None:
        """Start another section of the text."""
        section.opens, section.number = self.context, number
        self.section = section
        self.found.sections.append(section)

    # --- rows -------------------------------------------------------------------------------------------------------

    def list_row(self, at: int, row: Row) -> None:
        """A row under a heading of ingredients."""
        if ends_line(self.last, row):
            self.go_on(row)
            return
        kind = row_kind(plain_of(row.text))
        if row.mark is Mark.QUOTE:
            self.step(row) if kind == "step" or self.outline.own_form else self.note(NoteKind.TIP, row)
        elif row.mark is Mark.NONE and self.section.lines and is_storage(row.text):
            self.note(NoteKind.STORAGE, row)
        elif self.told(row, kind):
            return
        elif row.mark is Mark.BULLET and is_sentence(row.text) and has_footnote(self.section.lines):
            self.note(NoteKind.NOTE, row)
        elif row.mark in (Mark.BULLET, Mark.TABLE, Mark.TERM):
            self.step(row) if self.begins_steps(at, row) else self.line(row)
        elif row.mark is Mark.NUMBER:
            bulleted = any(entry.mark is Mark.BULLET for entry in self.section.lines)
            steps = not self.outline.comes(at, Opens.STEPS) and (
                kind == "step" or (bulleted and not opens_with_amount(row.text))
            )
            self.step(row) if steps else self.line(row)
        elif self.outline.in_list_of_bullets(at):
            lost = opens_with_amount(row.text) and not is_sentence(row.text)
            if lost:
                self.lost(row)
            elif not self.outline.comes(at, Opens.STEPS) and self.section.lines and self.outline.steps_block(at):
                self.step(row)
            else:
                self.describe(row)
        elif self.outline.is_prose(at, kind):
            if self.section.lines and not self.outline.comes(at, Opens.STEPS):
                self.step(row)
            else:
                self.describe(row)
        elif not self.outline.comes(at, Opens.STEPS) and self.section.lines and self.outline.steps_block(at):
            self.step(row)
        else:
            self.line(row)

    def step_row(self, at: int, row: Row) -> None:
        """A row under a heading of the method."""
        last = self.last
        if last is not None and (
            row.goes_on
            or (
                row.mark is Mark.NONE
                and row.block == last.block
                and last.mark is not Mark.QUOTE
                and wraps(last.text, row.text)
            )
        ):
            self.go_on(row)
            return
        kind = kind_among_steps(row)
        if is_storage(row.text):
            self.note(NoteKind.STORAGE, row)
        elif kind != "step" and self.told(row, kind):
            return
        elif row.mark is Mark.BULLET and row.level > 1 and self.outline.under_step(at):
            self.step(row) if kind == "step" else self.note(NoteKind.TIP, row)
        elif row.mark is Mark.QUOTE and not self.outline.own_form and kind != "step":
            self.note(NoteKind.TIP, row)
        elif row.mark is Mark.NONE and kind != "step" and (self.outline.behind_numbers(at) or self.is_talk(row, kind)):
            self.note(NoteKind.NOTE, row)
        else:
            self.step(row)

    def begins_steps(self, at: int, row: Row) -> bool:
        """Whether an item of a list below the ingredients is a step, where none of its rows is an ingredient."""
        begun = self.section.lines[-1:]  # one list is not of both
        if not begun or begun[0].block == row.block or row.mark is not Mark.BULLET or self.outline.has(Opens.STEPS):
            return False
        return self.outline.steps_block(at)

    def loose_row(self, at: int, row: Row) -> None:
        """A row that no known heading says anything of."""
        text, kind = row.text, kind_among_steps(row) if self.section.steps else row_kind(plain_of(row.text))
        before = self.outline.before_list(at)
        if self.last is not None and (row.goes_on or (self.last in self.section.lines and ends_line(self.last, row))):
            self.go_on(row)
        elif row.mark is Mark.QUOTE:
            # Handling acts on the lines above it; where there are none, a page quotes what it says of the dish.
            above = not before and any(section.lines for section in self.found.sections)
            if above or kind == "step" or not self.told(row, kind):
                self.step(row) if above or kind == "step" or self.outline.titled else self.describe(row)
        elif before:
            if not self.told(row, kind):
                self.lost(row) if row.mark is Mark.BULLET and says_measure(row.text) else self.describe(row)
        elif row.mark is Mark.TABLE or row.mark is Mark.TERM:
            self.line(row)
        elif row.mark is Mark.BULLET:
            if self.outline.own_form:
                self.line(row)
            elif self.outline.is_part_of_step(at):
                self.step(row)
            elif not (self.found.as_posted or names_itself(row.text, kind)) or not self.told(row, kind):
                self.step(row) if self.begins_steps(at, row) else self.line(row)
        elif row.mark is Mark.NUMBER and (self.outline.bulleted or any(s.lines for s in self.found.sections)):
            amount = opens_with_amount(text) and kind != "step" and not is_sentence(text)
            if amount or self.outline.in_numbered_list(at, kind):
                self.lost(row) if self.outline.bulleted else self.line(row)
            elif not self.told(row, kind):
                self.step(row)
        elif (
            self.last is not None
            and self.last in self.section.steps
            and row.mark is Mark.NONE
            and (row.block == self.last.block and self.last.mark is not Mark.QUOTE and wraps(self.last.text, text))
        ):
            self.go_on(row)
        elif self.told(row, kind):
            return
        else:
            self.unmarked(at, row, kind)

    def unmarked(self, at: int, row: Row, kind: str) -> None:
        """A row without any mark, where no heading says what it is."""
        text = row.text
        begun = any(section.lines for section in self.found.sections)
        beside = self.signs_off(at, row) or self.is_talk(row, kind)
        if is_storage(text) and begun:
            self.note(NoteKind.STORAGE, row)
        elif self.outline.is_greeting(at) or self.outline.goes_on_with_note(at) or beside:
            self.describe(row)
        elif kind == "step" or self.outline.opens_list(at) or (begun and self.outline.in_steps(at)):
            self.step(row)
        elif opens_with_amount(text) and not is_sentence(text):
            self.lost(row) if self.outline.bulleted else self.line(row)
        elif kind == "prose" or is_sentence(text):
            if begun and not self.outline.own_form and not self.outline.lines_after(at):
                self.step(row)
            else:
                self.describe(row)
        elif row.italic and not begun:
            self.describe(row)  # tags, a source: what stands above a list in italics is set apart from it
        elif len(text.split()) <= 6 and text[-1:] not in ".!?:":
            self.lost(row) if self.outline.bulleted else self.line(row)
        elif self.outline.bulleted or text.endswith(":"):
            self.describe(row)
        else:
            self.line(row)

    def is_talk(self, row: Row, kind: str) -> bool:
        """Whether a paragraph of somebody's own words stands apart behind steps."""
        apart = self.last is not None and self.last in self.section.steps and self.last.block != row.block
        return apart and kind == "prose" and is_talk(row.text, [step.text for step in self.section.steps])

    def signs_off(self, at: int, row: Row) -> bool:
        """Whether a last row, apart from the steps above it, names no food: "Enjoy!", "Love, Ada"."""
        last, names_food = self.last, self.outline.names_food
        begun = last in self.section.steps if last is not None else bool(self.section.steps)
        if not begun or (last is not None and last.block == row.block) or names_food is None:
            return False
        named = row.text.partition(",")[0]
        return not self.outline.lines_after(at) and len(row.text.split()) <= _SIGNED and not names_food(named)

    # --- where a row goes -------------------------------------------------------------------------------------------

    def go_on(self, row: Row) -> None:
        """A row that goes on with the one before it."""
        if self.last is not None:
            listed = self.last in self.section.lines
            self.last.text = f"{self.last.text} {(row.linked if listed else '') or row.text}".strip()
            self.last.ends = row.number
        self.found.as_posted = True

    def line(self, row: Row) -> None:
        text = row.linked or row.text
        if self.last in self.section.lines and self.outline.says_use(row):
            self.section.lines[-1].text += f", {text}"
        else:
            self.last = SectionEntry(text, row.number, row.block, row.mark)
            self.section.lines.append(self.last)
        self.found.as_posted |= row.mark is not Mark.BULLET

    def lost(self, row: Row) -> None:
        """An ingredient among bullets that lost its own."""
        text = row.text if len(row.text) <= 60 else f"{row.text[:59]}…"
        what = f"“{text}” is read as an ingredient, as nothing shows that it is something else."
        problem = Problem("mark-missing", f"{what} Begin it with -, or with > if it is handling.", row.number)
        self.found.problems.append(problem)
        self.line(row)

    def step(self, row: Row) -> None:
        self.last = SectionEntry(row.text, row.number, row.block, row.mark, len(self.section.lines))
        self.section.steps.append(self.last)
        self.found.as_posted |= row.mark is not Mark.QUOTE

    def describe(self, row: Row) -> None:
        """Words about the dish; what they tell of servings counts."""
        take_yields(self.found, row.text, row.number)
        self.note(NoteKind.DESCRIPTION, row)
        self.found.as_posted = True

    def note(self, kind: NoteKind, row: Row) -> None:
        self.last = None
        self.found.notes.append(Note(kind, row.text, row.number))

    def aside(self, row: Row) -> None:
        """Links and pictures are kept beside the text."""
        for kind, addresses in ((NoteKind.LINK, row.links), (NoteKind.IMAGE, row.images)):
            self.found.notes.extend(Note(kind, address, row.number) for address in addresses if address)
            self.found.as_posted |= bool(addresses)

    def told(self, row: Row, kind: str) -> bool:
        """Whether a row is taken up by a yield, a time or the like."""
        plain = plain_of(row.text)
        if kind in ("time", "about"):
            take_yields(self.found, row.text, row.number)
            self.note(_KIND_NOTE[kind], row)
        elif kind in ("yield", "step", "ingredient", "prose") and take_row(
            self.found, plain, row, bare=self.outline.before_list_anyhow(row)
        ):
            self.last = None
        else:
            return False
        self.found.as_posted = True
        return True
