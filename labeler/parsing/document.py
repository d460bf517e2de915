"""A recipe's text and the `Recipe` it holds: a recipe file, a Markdown page, pasted text, or a bare list of lines.

`labeler.parsing.markup` gives the rows, `labeler.parsing.sorting` sorts them, and here they become parts. A page with
a list and a method is one part by the recipe's title, its sub-headings the groups of its lines and steps. What has its
own list and its own steps under each heading is a part for each, and so is a recipe file of ours.
"""

from __future__ import annotations

import hashlib
import itertools
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import PurePath
from typing import Any

from labeler.parsing.declared_servings import contradicting
from labeler.parsing.front_matter import read_front
from labeler.parsing.head_lists import rows_of_head
from labeler.parsing.headings import NOTE_OF, Opens, read_heading
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.languages import language_of
from labeler.parsing.markup import Mark, Row, rows_of
from labeler.parsing.model import Handling, Line, Note, NoteKind, Part, Recipe
from labeler.parsing.own_form import own_form
from labeler.parsing.row_classifier import ends_in_action
from labeler.parsing.sections import Section, SectionEntry, Sorted
from labeler.parsing.several_recipes import split_recipes
from labeler.parsing.sorting import sort_rows
from labeler.parsing.text_repair import mend
from labeler.parsing.told_yields import take_title
from labeler.types import LabelerError, Problem

__all__ = ["has_marks", "read_recipe", "read_recipes", "recipe_of_rows"]

_UNTITLED = "Untitled recipe"
_YIELD_KEYS = {
    "serves": ("serves", "servings"), "makes": ("makes", "yield", "yields"), "serving": ("serving",),
    "net": ("net",),
}  # fmt: skip


def has_marks(text: str) -> bool:
    """Whether a text is a recipe and no list of lines: a head, a heading above bullets, or "Ingredients" or "Method".

    What a list of lines may hold by chance, such as one bullet or ``>``, makes no recipe of it.
    """
    from labeler.parsing.headings import opens_what

    rows = text.split("\n")
    first = next((at for at, row in enumerate(rows) if row.strip()), len(rows))
    if rows[first : first + 1] in (["---"], ["+++"]) and rows[first] in rows[first + 1 :]:
        return True
    if any(opens_what(row.strip()) in ("ingredients", "steps") for row in rows):
        return True
    heads = [at for at, row in enumerate(rows) if re.match(r"#{1,6}\s+\S", row)]
    return bool(heads) and any(re.match(r"\s*(?:[-*+]\s+|[•▢☐])\S", row) for row in rows[heads[0] :])


def read_recipe(text: str, *, source: str = "", names_food: Callable[[str], bool] | None = None) -> Recipe:
    """A recipe's text as a `Recipe`.

    Parameters
    ----------
    text : str
        A recipe file (``##`` opens a part, ``-`` is an ingredient line, ``>`` is handling), a Markdown page, pasted
        text, or a bare list, one ingredient a line; each with or without a YAML head, any bullet and any line ending.
    source : str
        The file's name, for messages and for the title where the text has none.
    names_food : callable or None
        Whether a few words may be a food, to tell a title from an ingredient in the first row of a text.

    Returns
    -------
    Recipe
        Its head, parts, lines and method in the order of the text. Rows that could not be sorted are among its
        problems; no row is dropped.

    Raises
    ------
    LabelerError
        Where the text holds no ingredient line, its head cannot be read or names a market that there is not; the
        message names file and line.

    Examples
    --------
    >>> recipe = labeler.read_recipe("# Slaw\\n- 1 cabbage\\n- 2 tbsp vinegar\\n> shred and mix\\n")
    >>> recipe.title
    'Slaw'
    >>> [line.name for part in recipe.parts for line in part.lines]
    ['cabbage', 'vinegar']
    """
    found = read_recipes(text, source=source, names_food=names_food)
    return max(found, key=lambda one: sum(len(part.lines) for part in one.parts))


def read_recipes(text: str, *, source: str = "", names_food: Callable[[str], bool] | None = None) -> list[Recipe]:
    """Every recipe of a text, in order, at least one: a text may hold several, each under a heading of its own.

    Parameters and errors as those of `read_recipe`.
    """
    text, mended = mend(text.replace("\r\n", "\n").replace("\r", "\n"), source)
    rows = text.split("\n")
    first = next((at for at, row in enumerate(rows) if row.strip()), len(rows))
    head, start, problems = read_front(rows, first, source or "recipe")
    remarks = list(_remarks(rows[first:start], first, head))
    found = []
    body = rows_of(rows[start:], start)
    of_head = rows_of_head(head, rows[first:start], first, body)
    pieces = split_recipes([*of_head, *body])
    if len(pieces) > 1 and head.get("title"):
        remarks.append(Note(NoteKind.DESCRIPTION, " ".join(str(head["title"]).split()), first + 1))
    for piece in pieces:
        own = head if len(pieces) == 1 else {key: value for key, value in head.items() if key != "title"}
        recipe, posted = recipe_of_rows(piece, head=own, source=source, names_food=names_food)
        recipe = replace(recipe, problems=(*mended, *problems, *recipe.problems), notes=(*remarks, *recipe.notes))
        stamp = own_form(recipe) if posted or remarks or of_head or len(pieces) > 1 else text
        found.append(replace(recipe, digest=hashlib.sha256(stamp.encode("utf-8", "surrogatepass")).hexdigest()))
    return found


def _remarks(rows: list[str], first: int, head: Mapping[str, Any]) -> Iterator[Note]:
    """The comments of a head, on rows of their own and behind its values."""
    values = " ".join(map(str, head.values()))
    for at, row in enumerate(rows, start=first + 1):
        before, sign, remark = f" {row}".partition(" #")
        text = remark.strip("# ")
        if sign and text and text not in values and before.count('"') % 2 == 0 and before.count("'") % 2 == 0:
            yield Note(NoteKind.COMMENT, text, at)


def recipe_of_rows(
    rows: list[Row],
    *,
    head: Mapping[str, Any],
    source: str,
    names_food: Callable[[str], bool] | None = None,
) -> tuple[Recipe, bool]:
    """Rows as a `Recipe` without its stamp, and whether they are written otherwise than in a recipe file of ours.

    Raises
    ------
    LabelerError
        Where they hold no ingredient line.
    """
    sorted_ = sort_rows(rows, titled=bool(str(head.get("title", "")).strip()), names_food=names_food)
    named = head.get("title", "")
    if isinstance(named, str) and named.rstrip()[-1:] in (")", "]"):
        named = take_title(sorted_, named, 1)  # "Turnovers (makes 8)"
    head, notes, problems = dict(head), list(sorted_.notes), list(sorted_.problems)
    problems += _add_yields(head, sorted_, notes)
    if not isinstance(named, str):
        problems.append(Problem("head-title", f"The title “{named}” in the head is read as text.", 2))
    title = " ".join(str(named).split()) or sorted_.title
    parts = _parts(sorted_.sections, title or _title_of_file(source), sorted_.as_posted)
    if not any(part.lines for part in parts):
        raise LabelerError(
            f"{source or 'recipe'}: holds no ingredient line; write one a line, such as “- 2 cups flour”"
        )
    problems += _parts_twice(parts)
    notes += [*_bare_headings(sorted_.sections, parts), *_asides(sorted_.sections, parts, notes)]
    titles = [part.title for part in parts if part.title]
    title = title or (titles[0] if len(titles) == 1 else "") or _title_of_file(source)
    if title == _UNTITLED:
        problems.append(
            Problem("no-title", f"The recipe has no title and is called “{_UNTITLED}”. Write “title: …” in its head.")
        )
    notes = sorted((replace(note, text=" ".join(note.text.split())) for note in notes), key=lambda note: note.number)
    recipe = Recipe(
        title=title, parts=tuple(parts), head=head, source=source, problems=tuple(problems), notes=tuple(notes)
    )
    return recipe, sorted_.as_posted


def _bare_headings(sections: list[Section], parts: list[Part]) -> Iterator[Note]:
    """A note for each heading that nothing stands under and that no part or group goes by."""
    named = {part.title for part in parts}
    named |= {line.group for part in parts for line in part.lines}
    named |= {step.group for part in parts for step in part.handling}
    used = False
    for section in reversed(sections):
        used = used or bool(section.lines or section.steps)
        bare = not (used if section.known else section.lines or section.steps) and section.opens not in NOTE_OF
        if bare and section.title and not {section.title, section.subject} & (named - {""}):
            yield Note(NoteKind.DESCRIPTION, section.title, section.number)
        used = used and not section.known


def _asides(sections: list[Section], parts: list[Part], notes: list[Note]) -> Iterator[Note]:
    """A note for what the brackets of a sub-heading say, as lines and steps go by the rest of it."""
    whole = {part.title for part in parts}
    known = {(note.number, note.text) for note in notes}
    for section in sections:
        aside = read_heading(section.title).aside if section.lines or section.steps else ""
        if aside and section.title not in whole and (section.number, aside) not in known:
            yield Note(NoteKind.DESCRIPTION, aside, section.number)


def _add_yields(head: dict[str, Any], found: Sorted, notes: list[Note]) -> Iterator[Problem]:
    """What the text tells of servings goes into the head where that does not say it; else it is kept as a note.

    Yields a problem for each that says otherwise than what counts.
    """
    other_key = contradicting({"serves": head.get("serves", "")}, "servings", str(head.get("servings", "")))
    if other_key:
        yield _differing_servings(other_key, f"servings: {head['servings']}", None)
    for told, number in sorted(found.yields, key=lambda one: one[1]):
        known = [str(head[key]) for key in _YIELD_KEYS[told.key] if key in head]
        note = Note(NoteKind.YIELD, f"{told.key}: {told.says}", number)
        if told.says in known or note.text in {one.text for one in notes}:
            continue
        counts = contradicting(head, told.key, told.says) if told.key in ("serves", "makes") else ""
        if counts:
            yield _differing_servings(counts, note.text, number)
        if known:
            notes.append(note)
        else:
            head[told.key] = told.says


def _differing_servings(counts: str, other: str, number: int | None) -> Problem:
    where = "" if number is None else f" (line {number})"
    return Problem(
        "servings-twice",
        f"The recipe says both “{counts}” and “{other}”{where}; “{counts}” is taken. Keep the one that you sell.",
        number,
    )


@dataclass(slots=True)
class _OpenPart:
    """A part while its sections are joined."""

    title: str
    number: int
    level: int = 0
    lines: list[Line] = field(default_factory=list)
    handling: list[Handling] = field(default_factory=list)
    late: list[Handling] = field(default_factory=list)
    language: str = ""

    def take(self, section: Section, *, group: str, behind: bool) -> None:
        """Add what stands under a heading; `behind` for a method that stands after the whole list.

        Steps below a list are not of the sub-heading of that list alone, nor are lines that stand apart from it.
        """
        before, headed = len(self.lines), section.headed_lines()
        of_steps = "" if section.lines else group
        for at, entry in enumerate(section.lines):
            line = read_line(entry.text, number=entry.number, language=self.language)
            self.lines.append(replace(line, group=group if at < headed else ""))
        for entry, text, after in _with_their_lists(section):
            self.handling.append(Handling(text, entry.number, -1 if behind else before + after, of_steps))

    def closed(self) -> Part:
        """The part; steps that stand after the list know how long it is."""
        handling = tuple(replace(step, after=len(self.lines)) if step.after < 0 else step for step in self.handling)
        return Part(self.title, tuple(self.lines), handling, self.number)


def _with_their_lists(section: Section) -> Iterator[tuple[SectionEntry, str, int]]:
    """The steps of a section, their words and how many lines stand above: "Stir in:" names what is listed below it."""
    steps = section.steps
    for entry, following in itertools.zip_longest(steps, steps[1:]):
        end = following.after if following is not None else len(section.lines)
        opens = entry.mark is Mark.NONE and (entry.text.endswith(":") or ends_in_action(entry.text))
        names = [read_line(line.text).name for line in section.lines[entry.after : end]] if opens else []
        if any(names):
            yield entry, f"{entry.text.rstrip(' :')}: {', '.join(filter(None, names))}.", end
        else:
            yield entry, entry.text, entry.after


def _parts(sections: list[Section], title: str, as_posted: bool) -> list[Part]:
    """Sections as parts: one for a page, one a heading where each has its own list and steps."""
    used = [
        section
        for section in sections
        if section.lines or section.steps or (section.level < 50 and not section.known and section.title)
    ]
    whole = [one for one in used if one.lines and one.steps]
    language = language_of(" ".join([title, *(entry.text for one in used for entry in (*one.lines, *one.steps))]))
    known = any(one.known for one in sections if one.opens in (Opens.INGREDIENTS, Opens.STEPS))
    real = [one for one in used if 0 < one.level < 50 and not one.known]
    headed = [one for one in whole if one.level and not one.known]
    listed = [one for one in used if one.lines]
    apart = [one for one in used if one.steps and not one.lines]
    quoted = any(step.mark is Mark.QUOTE for one in used for step in one.steps)
    shared = not quoted and _method_of_all(listed, whole, apart)
    own = bool(real) and not known and not (apart and not quoted and not whole and listed) and not shared
    if own or len(headed) >= 2:
        return _several(used, title, language)
    if not used:
        return []
    posted = as_posted and (
        bool(title) and (known or bool(apart) or any(one.level for one in used) or bool(whole and not quoted))
    )
    part = _OpenPart(title if posted else "", used[0].number, language=language)
    for section in used:
        part.take(section, group=section.subject if section.level else "", behind=not quoted or known)
    return [part.closed()]


def _method_of_all(listed: list[Section], whole: list[Section], apart: list[Section]) -> bool:
    """Whether the only method stands below the last of several lists, and no list names another as an ingredient."""
    if len(listed) < 2 or apart or [id(one) for one in whole] != [id(listed[-1])]:
        return False
    lines = {read_line(entry.text).name.casefold() for one in listed for entry in one.lines}
    return not any(one.subject.casefold() in line for one in listed if one.subject for line in lines)


def _several(used: list[Section], title: str, language: str) -> list[Part]:
    """A part for each heading; a deeper one is a group of the one above, unless several of those have list and steps.

    Parameters
    ----------
    used : list of Section
        What stands under the headings, in order.
    title : str
        The recipe's.
    language : str
        The language of its lines and steps.
    """
    parts: list[_OpenPart] = []
    split = False
    for at, section in enumerate(used):
        inner = bool(parts) and 0 < parts[-1].level < section.level
        if inner and not (split and section.lines and section.steps):
            parts[-1].take(section, group=section.subject, behind=False)
            continue
        if not inner:
            split = section.level > 0 and _split_below(used[at + 1 :], section.level)
        named = "" if not section.level else title if section.known else section.title
        level = section.level if not (inner and split) else parts[-1].level
        parts.append(_OpenPart(named, section.number, level, language=language))
        parts[-1].take(section, group="", behind=False)
    return [part.closed() for part in parts if part.lines or part.handling or part.title]


def _split_below(sections: list[Section], level: int) -> bool:
    """Whether several deeper headings below one have a list and steps of their own.

    In a recipe file, whose steps are quoted, a deeper heading is a group: its parts stand under ``##``.
    """
    below = itertools.takewhile(lambda one: one.level > level, sections)
    whole = [one for one in below if one.lines and one.steps]
    return len(whole) > 1 and any(step.mark is not Mark.QUOTE for one in whole for step in one.steps)


def _title_of_file(source: str) -> str:
    """A title from the file's name ("leek-soup.md"); standard input has none, and a text without a source neither.

    A name that is a heading of recipes ("notes.md") is none: above a list it would say that no list stands there.
    """
    if source in ("-", "standard input"):
        return _UNTITLED
    named = re.sub(r"[-_]+", " ", PurePath(source).stem).strip() if source else ""
    return _UNTITLED if read_heading(named).opens is not None else named


def _parts_twice(parts: list[Part]) -> list[Problem]:
    """A problem for each part whose title another has before it."""
    seen: dict[str, int] = {}
    problems = []
    for part in parts:
        key = part.title.casefold()
        if key and key in seen:
            problems.append(
                Problem(
                    "part-twice",
                    f"Two parts are called “{part.title}” (the other on line {seen[key]}), so a line that names it may "
                    "mean either. Give one of them another name.",
                    part.number,
                )
            )
        seen.setdefault(key, part.number)
    return problems
