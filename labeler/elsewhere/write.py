"""A recipe from elsewhere written down as a recipe file of ours.

Groups of ingredients become parts; a group of steps that goes by the name of a group of ingredients is the handling of
that part, and everything else is that of the dish, which takes all of each part. Braces, which settle things in our
files, become brackets.
"""

from __future__ import annotations

import json
import re

from labeler.elsewhere.model import Carried, Section
from labeler.foods.words import words

__all__ = ["recipe_text"]

_SERVED = re.compile(r"\b(?:servings?|portions?|people|persons?|helpings?|serves)\b", re.IGNORECASE)
_FOR = re.compile(r"^(?:for|to make|making|make|prepare)\s+(?:the\s+|an?\s+)?", re.IGNORECASE)
_MARKS = re.compile(r"^[#>\-*+\s]+")


def recipe_text(recipe: Carried) -> str:
    """The text of a recipe file, which `labeler.read_recipe` reads."""
    title = _plain(recipe.title)
    out = ["---"]
    if title:
        out.append(f"title: {_value(title)}")
    if recipe.makes:
        out.append(_makes(recipe.makes))
    if recipe.source:
        out.append(f"source: {_value(recipe.source)}")
    out = [*out, "---"] if len(out) > 1 else []
    out += [f"<!-- {_comment(note)} -->" for note in recipe.notes]
    main = [section for section in recipe.ingredients if not _name(section.title)]
    parts = [section for section in recipe.ingredients if _name(section.title)]
    steps = list(recipe.steps)
    if len(parts) == 1 and not main:
        main, parts = parts, []
    taken: list[str] = []
    for part in parts:
        name = _name(part.title)
        own = [section for section in steps if section.title and _same(section.title, name)]
        steps = [section for section in steps if section not in own]
        out += [f"## {name}", *_lines(part), *_handling(own)]
        taken.append(name)
    if parts or title:
        clash = not title or title.casefold() in {name.casefold() for name in taken}
        out.append("## All together" if clash else f"## {title}")
    out += [row for section in main for row in _lines(section)]
    out += [f"- all of the {name}" for name in taken]
    out += _handling(steps)
    return "\n".join(out) + "\n"


def _makes(said: str) -> str:
    stripped = re.sub(
        r"^(?:serves|makes|yields?|servings?|portions?)\s*[:\-–]?\s*", "", said, flags=re.IGNORECASE
    ).strip()
    for_people = _SERVED.search(said) is not None or stripped.replace(".", "", 1).isdigit()
    return f"{'serves' if for_people else 'makes'}: {_value(stripped or said)}"


def _value(text: str) -> str:
    """A value of the head: as it is where YAML takes it for that very text, else in quotes."""
    if (
        re.fullmatch(r"[A-Za-z][A-Za-z0-9 ,.'’()/&-]*", text)
        and text.strip() == text
        and not re.fullmatch(r"(?i)true|false|yes|no|on|off|null|none", text)
    ):
        return text
    return text if re.fullmatch(r"[1-9]\d{0,4}", text) else json.dumps(text, ensure_ascii=False)


def _name(title: str) -> str:
    """A part's name from the heading of its ingredients: "For the sauce:" is "Sauce"."""
    found = _FOR.sub("", _plain(title)).strip(" :#")
    return found[:1].upper() + found[1:]


def _plain(text: str) -> str:
    return " ".join(text.replace("{", "(").replace("}", ")").split()).strip(" #")


def _same(one: str, other: str) -> bool:
    """Whether two headings are of the same thing: the words of the shorter are all in the longer."""
    first, second = set(words(_FOR.sub("", one))), set(words(other))
    return bool(first and second) and (first <= second or second <= first)


def _lines(section: Section) -> list[str]:
    return [f"- {_MARKS.sub('', _plain(row))}" for row in section.rows if _MARKS.sub("", _plain(row))]


def _handling(sections: list[Section]) -> list[str]:
    return [f"> {_MARKS.sub('', _plain(row))}" for section in sections for row in section.rows if _plain(row)]


def _comment(note: str) -> str:
    return _plain(note).replace("--", "–")
