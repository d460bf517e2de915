"""The head of a recipe file: which keys it may have, and what it says.

The keys are a list (``data/head_keys.csv``): what is on none of its lines is read by nobody, and most often a typo of
the fingers, so it is reported with the key that it is nearest to.
"""

from __future__ import annotations

import datetime
import json
import math
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from labeler.data_files import data_folder, data_rows
from labeler.markets import MARKETS
from labeler.parsing.head_syntax import read_head
from labeler.parsing.headings import read_heading
from labeler.types import LabelerError, Problem

__all__ = ["KEYS_FILE", "head_keys", "is_key_of", "read_front"]

DATA = data_folder("labeler.parsing")
KEYS_FILE = DATA / "head_keys.csv"
ALIASES_FILE = DATA / "head_aliases.csv"

_NEAR = 0.78
"""How alike a key must be to a known one to be taken for a typo; chosen so that usual keys of pages are none."""
_PLAIN_VALUES = (str, int, float, bool, datetime.date)


def _folded(key: str) -> str:
    """A key without case and accents, and with one sign between its words: "Best_Before" is "best before"."""
    plain = unicodedata.normalize("NFKD", re.sub(r"[\s_-]+", " ", key).strip().casefold())
    return "".join(sign for sign in plain if not unicodedata.combining(sign))


@cache
def head_keys() -> Mapping[str, str]:
    """Every key that a head may have, with what it says."""
    return MappingProxyType({row["key"]: row["says"] for row in data_rows(KEYS_FILE)})


@cache
def _by_folded() -> Mapping[str, str]:
    return MappingProxyType({_folded(key): key for key in head_keys()})


def _is_plain(value: object) -> bool:
    """Whether a head's value is one that a label can print: text, a number that is one, a date."""
    return isinstance(value, _PLAIN_VALUES) and not (isinstance(value, float) and not math.isfinite(value))


def read_front(rows: list[str], first: int, name: str) -> tuple[dict[str, Any], int, list[Problem]]:
    """The head of a recipe file, in YAML between ``---`` or in TOML between ``+++``.

    Parameters
    ----------
    rows : list of str
        Of the whole file.
    first : int
        Index of the row where it may begin.
    name : str
        The file's, for messages.

    Returns
    -------
    tuple
        What it says, by the keys of `head_keys` where it is one of them however it is written; the index of the row
        behind it; and what is strange about it.

    Raises
    ------
    LabelerError
        Where it never ends, cannot be read, is no mapping, or names a market that there is not.
    """
    found = read_head(rows, first, name)
    if found is None:
        return {}, first, []
    head: dict[str, Any] = {}
    problems: list[Problem] = list(found.problems)
    lines: dict[str, int] = {}
    told: dict[str, str] = {}
    behind = [*(line for _, line in found.keys), found.end][1:]
    written_at: dict[str, str] = {}
    for (written, line), end in zip(found.keys, behind, strict=True):
        key, folded = _known(written), _folded(written)
        if folded in written_at or (key in lines and folded not in _aliases()):
            other = written_at.get(folded, told.get(key, ""))
            message = f"“{key}” stands twice in the head; the last one counts, not “{other}”."
            problems.append(Problem("head-twice", message, line))
        stated = " ".join(" ".join(rows[line - 1 : max(end - 1, line)]).split())
        told[key] = written_at[folded] = stated.partition(":")[2].strip()
        lines[key] = line
    for key, value in _of_dish(found.values).items():
        text = _known(str(key)) if _is_plain(key) else ""
        line = lines.get(text, first + 2)
        if not text:
            problems.append(Problem("head-key", "A key in the head is no word; it is left out.", line))
            continue
        if text not in head_keys():
            problems += _typo(text, line)
            if value in (None, [], {}, ""):
                head[text] = ""
            else:
                plain = _is_plain(value) or (isinstance(value, list) and all(_is_plain(item) for item in value))
                head[text] = value if plain else json.dumps(value, ensure_ascii=False, default=str)
            continue
        if text in head and _folded(str(key)) in _aliases():
            head[str(key)] = value  # "title" and "name": the first is the key's own
        elif value is None or value == [] or value == "":
            problems.append(Problem("head-empty", f"“{text}” in the head says nothing; it is left out.", line))
        elif text == "market":
            head[text] = _market(value, f"{name}:{line}")
        elif _is_plain(value) or (isinstance(value, list) and all(_is_plain(item) for item in value)):
            head[text] = value
        else:
            problems.append(
                Problem(
                    "head-value",
                    f"“{text}” in the head is neither text, a number, a date nor a list of them; it is left out: "
                    f"{json.dumps(value, ensure_ascii=False, default=str)[:400]}. Write “{text}: ...” on one line.",
                    line,
                )
            )
    return head, found.end, problems


def _of_dish(values: Mapping[Any, Any]) -> Mapping[Any, Any]:
    """What a head says, with what it says of the dish one level deeper ("recipe:" with "servings: 4" below it)."""
    deeper = {key: value for key, value in values.items() if isinstance(value, Mapping) and _known(str(key)) == "title"}
    if not deeper:
        return values
    found = {key: value for key, value in values.items() if key not in deeper}
    known = {_known(str(key)) for key in found}
    for key, inner in deeper.items():
        for name, value in inner.items():
            twice = name in found or _known(str(name)) in known
            found[f"{key} {name}" if twice else name] = value
    return found


@cache
def _aliases() -> Mapping[str, str]:
    """Other names of keys, folded."""
    rows = data_rows(ALIASES_FILE)
    return MappingProxyType({_folded(row["alias"]): row["key"] for row in rows})


def _known(key: str) -> str:
    """A key as the list has it, whatever it is called; one that it does not have stays as written."""
    folded = _folded(key)
    return _by_folded().get(folded) or _aliases().get(folded, key)


def is_key_of(written: str, key: str) -> bool:
    """Whether a word is a key of the head, or another name of it: "Titel" is "title"."""
    return _known(written) == key


def _nearest(word: str, known: Iterable[str]) -> str:
    """The known word that a word is a typo of; empty where none is near."""
    import difflib

    return next(iter(difflib.get_close_matches(word, list(known), n=1, cutoff=_NEAR)), "")


def _typo(key: str, line: int) -> Iterator[Problem]:
    """A problem for a key that is most likely a typo of a known one; any other key is the page's own and kept."""
    if read_heading(key.replace("_", " ")).opens is not None:
        return  # "ingredients" holds the list itself (`labeler.parsing.head_lists`)
    near = _by_folded().get(_nearest(_folded(key), _by_folded()))
    if near:
        yield Problem(
            "unknown-key",
            f"“{key}” in the head is no key that anything reads. Write “{near}: ...” if that is meant.",
            line,
        )


def _market(value: object, where: str) -> str:
    """The market that a head asks for; raises LabelerError for one that there is not."""
    text = str(value).strip().casefold()
    if text in MARKETS:
        return text
    near = _nearest(text, MARKETS)
    hint = f"did you mean “market: {near}”?" if near else f"write one of {', '.join(MARKETS)}"
    raise LabelerError(f"{where}: there is no market “{value}” here; {hint}")
