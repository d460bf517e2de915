"""The three forms of a post: a fragment of HTML, Markdown and plain text, each from its template in data/.

The same content gives the same bytes: nothing of the clock, the machine or the reader is in them.
"""

from __future__ import annotations

import re
import textwrap
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labeler.post.content import PostContent
from labeler.post.escaping import for_html, for_markdown, for_text, over
from labeler.post.linked import linked_text
from labeler.post.words import words
from labeler.types import LabelerError

if TYPE_CHECKING:
    from jinja2 import Environment

__all__ = ["FORMS", "check_form", "render"]

FORMS = ("html", "markdown", "text")
WIDTH = 72  # characters of a line of plain text, common practice, no source
DEEPEST = 6


def check_form(form: str, heading: int) -> None:
    """Raise LabelerError for a form or a level of heading that `render` would refuse."""
    if form not in FORMS:
        raise LabelerError(f"no form of a post is called {form!r}; there are {', '.join(FORMS)}")
    if not 1 <= heading < DEEPEST:
        raise LabelerError(f"a heading of level {heading} is not possible; give 1 to {DEEPEST - 1}")


def render(content: PostContent, *, form: str = "html", heading: int = 2, whole: bool = False) -> str:
    """A post in one of its forms.

    Parameters
    ----------
    content : PostContent
    form : str
        "html", "markdown" or "text".
    heading : int
        Level of the title's heading, 1 to 5; the headings under it are one deeper. Plain text has none.
    whole : bool
        True for the recipe itself too, its ingredient lines and its handling.

    Raises
    ------
    LabelerError
        For an unknown form or a level that leaves no room below it.
    """
    check_form(form, heading)
    given: dict[str, Any] = {"heading": heading, "under": heading + 1, "whole": whole}
    fixed = words(content.language)
    if form == "html":
        from markupsafe import Markup

        def escaped(text: str) -> str:
            return Markup(for_html(text))

        given["linked"] = Markup(linked_text(content))
    else:
        escaped = for_markdown if form == "markdown" else for_text
    given |= {"post": over(content, escaped), "fixed": {key: escaped(text) for key, text in fixed.items()}}
    return _environment(form).get_template(f"post.{_ENDINGS[form]}").render(given).strip("\n") + "\n"


_ENDINGS = {"html": "html", "markdown": "md", "text": "txt"}


@cache
def _environment(form: str) -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(Path(__file__).with_name("data")),
        autoescape=form == "html",
        undefined=StrictUndefined,
        trim_blocks=form != "html",
        lstrip_blocks=form != "html",
        keep_trailing_newline=True,
    )
    environment.filters |= {"bold": _bold, "fill": _fill, "columns": _columns, "unbroken": _unbroken}
    return environment


_NUMBER = re.compile(r"((?:&lt;)?\d[\d.,]*(?:–\d[\d.,]*| [^\s/]+)?)")


def _unbroken(text: str) -> list[tuple[str, bool]]:
    """The pieces of a figure, with True for a number and its unit, which stay on one line."""
    pieces = enumerate(_NUMBER.split(text))
    return [(type(text)(piece), at % 2 == 1) for at, piece in pieces if piece]


def _bold(text: str) -> str:
    """Strong type in Markdown, where the edges of the text allow it: next to a space or a sign it would not be read."""
    return f"**{text}**" if text[:1].isalnum() and text[-1:].isalnum() else text


def _fill(text: str, opening: str = "") -> str:
    """A paragraph of plain text; words longer than a line stay whole, as an address would not survive a cut."""
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=opening,
        subsequent_indent=" " * len(opening),
        break_long_words=False,
        break_on_hyphens=False,
    )


def _columns(content: PostContent, fixed: dict[str, str]) -> str:
    """The nutrition table in plain characters, its figures flush right."""
    heads = ["", fixed["per_serving"], fixed["likely_range"], content.percent_heading, fixed["per_100g"]]
    rows = [
        ["  " * row.level + row.name, row.per_serving, row.likely, row.percent, row.per_100g] for row in content.rows
    ]
    used = [at for at in range(len(heads)) if any(row[at] for row in rows)]
    widths = {at: max(len(row[at]) for row in (heads, *rows)) for at in used}
    return "\n".join(
        "  ".join(row[at].rjust(widths[at]) if at else row[at].ljust(widths[at]) for at in used).rstrip()
        for row in (heads, *rows)
    )
