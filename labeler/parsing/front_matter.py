"""The YAML head of a recipe file: which keys it may have, and what it says.

The keys are a list (``data/head_keys.csv``): what is on none of its lines is read by nobody, and most often a slip of
the fingers, so it is reported with the key that it is nearest to.
"""

from __future__ import annotations

import csv
import datetime
import json
import math
import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from labeler.knowledge import LabelerError, Problem
from labeler.markets import MARKETS

__all__ = ["KEYS_FILE", "head_keys", "read_front"]

KEYS_FILE = Path(__file__).with_name("data") / "head_keys.csv"
ALIASES_FILE = KEYS_FILE.with_name("head_aliases.csv")

_NEAR = 0.78
"""How alike a key must be to a known one to be taken for a slip; chosen so that usual keys of pages are none."""
_PLAIN_VALUES = (str, int, float, bool, datetime.date)


def _folded(key: str) -> str:
    """A key without case, and with one sign between its words: "Best_Before" is "best before"."""
    return re.sub(r"[\s_-]+", " ", key).strip().casefold()


@cache
def head_keys() -> Mapping[str, str]:
    """Every key that a head may have, with what it says."""
    with KEYS_FILE.open(encoding="utf-8", newline="") as file:
        return MappingProxyType({row["key"]: row["says"] for row in csv.DictReader(file)})


@cache
def _by_folded() -> Mapping[str, str]:
    return MappingProxyType({_folded(key): key for key in head_keys()})


def _is_plain(value: object) -> bool:
    """Whether a head's value is one that a label can print: text, a number that is one, a date."""
    return isinstance(value, _PLAIN_VALUES) and not (isinstance(value, float) and not math.isfinite(value))


def read_front(rows: list[str], first: int, name: str) -> tuple[dict[str, Any], int, list[Problem]]:
    """The YAML head of a recipe file.

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
        Where it never ends, is not YAML, is no mapping, or names a market that there is not.
    """
    if first >= len(rows) or rows[first].strip() != "---":
        return {}, first, []
    end = next((at for at in range(first + 1, len(rows)) if rows[at].strip() in ("---", "...")), None)
    if end is None:
        raise LabelerError(f"{name}:{first + 1}: the head begins with --- and never ends; write --- on a line below it")
    import yaml

    loader_class: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        loader = loader_class("\n".join(rows[first + 1 : end]))
        node = loader.get_single_node()
        values = loader.construct_document(node) if node is not None else {}
    except (yaml.YAMLError, ValueError, RecursionError) as error:
        mark = getattr(error, "problem_mark", None)
        line = first + 2 + (mark.line if mark is not None else 0)
        what = getattr(error, "problem", None) or getattr(error, "reason", None) or "it is not YAML"
        raise LabelerError(
            f"{name}:{line}: the head cannot be read ({what}); write one “key: value” a line, and put a value that "
            "holds a colon in quotes"
        ) from None
    if not isinstance(values, dict):
        raise LabelerError(
            f"{name}:{first + 2}: the head is no list of “key: value” lines; write for example “makes: 8 boxes”"
        )
    head: dict[str, Any] = {}
    problems: list[Problem] = []
    lines: dict[str, int] = {}
    told: dict[str, str] = {}
    for key_node, _ in node.value if node is not None else ():
        key, line = _known(str(getattr(key_node, "value", ""))), first + 2 + key_node.start_mark.line
        if key in lines and _folded(str(getattr(key_node, "value", ""))) not in _aliases():
            said = f"“{key}” stands twice in the head; the last one counts, not “{told.get(key, '')}”."
            problems.append(Problem("head-twice", said, line))
        told[key] = rows[line - 1].partition(":")[2].strip()
        lines[key] = line
    for key, value in values.items():
        text = _known(str(key)) if _is_plain(key) else ""
        line = lines.get(text, first + 2)
        if not text:
            problems.append(Problem("head-key", "A key in the head is no word; it is left out.", line))
            continue
        if text not in head_keys():
            problems += _slip(text, line)
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
                    f"“{text}” in the head is neither text, a number, a date nor a list of them; it is left out. "
                    f"Write “{text}: ...” on one line.",
                    line,
                )
            )
    return head, end + 1, problems


@cache
def _aliases() -> Mapping[str, str]:
    """Other names of keys, folded."""
    with ALIASES_FILE.open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return MappingProxyType({_folded(row["alias"]): row["key"] for row in rows})


def _known(key: str) -> str:
    """A key as the list has it, whatever it is called; one that it does not have stays as written."""
    folded = _folded(key)
    return _by_folded().get(folded) or _aliases().get(folded, key)


def _nearest(word: str, known: Iterable[str]) -> str:
    """The known word that a word is a slip of; empty where none is near."""
    import difflib

    return next(iter(difflib.get_close_matches(word, list(known), n=1, cutoff=_NEAR)), "")


def _slip(key: str, line: int) -> Iterator[Problem]:
    """A problem for a key that is most likely a slip of a known one; any other key is the page's own and kept."""
    near = _by_folded().get(_nearest(_folded(key), _by_folded()))
    if near:
        yield Problem(
            "unknown-key",
            f"“{key}” in the head is no key that anything reads. Write “{near}: ...” if that is meant.",
            line,
        )


def _market(value: object, where: str) -> str:
    """The market that a head asks for; raises LabelerError for one that there is not."""
    said = str(value).strip().casefold()
    if said in MARKETS:
        return said
    near = _nearest(said, MARKETS)
    hint = f"did you mean “market: {near}”?" if near else f"write one of {', '.join(MARKETS)}"
    raise LabelerError(f"{where}: there is no market “{value}” here; {hint}")
