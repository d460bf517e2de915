"""The head of a file as text: where it stands, and what its YAML or TOML says, with the line of every key.

A value that YAML trips over only because it is not in quotes ("title: Beans: a love story") is read as text and
reported.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from labeler.types import LabelerError, Problem

__all__ = ["Head", "read_head"]

_FENCES = {"---": ("---", "..."), "+++": ("+++",)}
_TOP = re.compile(r"(?P<key>[^\W\d_][\w -]{0,40})\s*:[ \t]+(?P<value>[^\s\[{\"'|>&*!#].*)")
_TOML_KEY = re.compile(
    r"""\s*(?:"(?P<quoted>[^"]+)"|'(?P<single>[^']+)'|(?P<bare>[\w-]+))\s*=|\s*\[(?P<table>[^\[\]]+)\]"""
)
_TOML_LINE = re.compile(r"\(at line (\d+),")

_MOST_VALUES, _DEEPEST = 100_000, 50
"""Values of a head, and how deep they may stand in one another. A choice, no source."""


class Head(NamedTuple):
    """The head of a file as it is written.

    Parameters
    ----------
    values : mapping
        What it says, by its own keys.
    keys : tuple of (str, int)
        Every key at its top with its line number in the file, one that stands twice twice.
    end : int
        Index of the row behind it.
    problems : tuple of Problem
        What was mended.
    """

    values: Mapping[Any, Any]
    keys: tuple[tuple[str, int], ...]
    end: int
    problems: tuple[Problem, ...] = ()


def read_head(rows: list[str], first: int, name: str) -> Head | None:
    """The head of a file; None where it has none.

    Parameters
    ----------
    rows : list of str
        Of the whole file.
    first : int
        Index of the row where it may begin.
    name : str
        The file's, for messages.

    Raises
    ------
    LabelerError
        Where it never ends, cannot be read, or is no mapping.
    """
    fence = rows[first].strip() if first < len(rows) else ""
    if fence not in _FENCES:
        return None
    end = next((at for at in range(first + 1, len(rows)) if rows[at].strip() in _FENCES[fence]), None)
    if end is None:
        raise LabelerError(
            f"{name}:{first + 1}: the head begins with {fence} and never ends; write {fence} on a line below it"
        )
    inner = rows[first + 1 : end]
    if fence == "+++":
        values, keys = _toml(inner, first, name)
        return Head(values, keys, end + 1)
    try:
        values, keys = _yaml(inner, first, name)
    except LabelerError:
        quoted, problems = _in_quotes(inner, first)
        if not problems:
            raise
        values, keys = _yaml(quoted, first, name)
        return Head(values, keys, end + 1, problems)
    return Head(values, keys, end + 1)


def _yaml(inner: list[str], first: int, name: str) -> tuple[Mapping[Any, Any], tuple[tuple[str, int], ...]]:
    import yaml

    loader_class: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        loader = loader_class("\n".join(inner))
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
    if not _ends(values):
        raise LabelerError(
            f"{name}:{first + 2}: the head refers to itself (“&” and “*”) and has no end; write each value out"
        )
    nodes = node.value if node is not None else ()
    return values, tuple((str(getattr(key, "value", "")), first + 2 + key.start_mark.line) for key, _ in nodes)


def _ends(values: object) -> bool:
    """Whether values written with references to each other come to an end, and to no more than a head may say."""
    waiting: list[tuple[object, int]] = [(values, 0)]
    for _ in range(_MOST_VALUES):
        if not waiting:
            return True
        value, depth = waiting.pop()
        if depth > _DEEPEST:
            return False
        inner = value.values() if isinstance(value, Mapping) else value if isinstance(value, (list, tuple, set)) else ()
        waiting += [(one, depth + 1) for one in inner]
    return False


def _in_quotes(inner: list[str], first: int) -> tuple[list[str], tuple[Problem, ...]]:
    """The rows of a YAML head with the plain values that hold a colon in quotes, and what was mended."""
    found, problems = list(inner), []
    for at, row in enumerate(inner):
        told = _TOP.fullmatch(row.rstrip())
        if told is not None and (": " in told["value"] or told["value"].endswith(":")):
            found[at] = f"{told['key']}: {json.dumps(told['value'], ensure_ascii=False)}"
            message = f"“{told['key']}” in the head holds a colon and is read as text. Put it in quotes."
            problems.append(Problem("head-quotes", message, first + 2 + at))
    return found, tuple(problems)


def _toml(inner: list[str], first: int, name: str) -> tuple[Mapping[Any, Any], tuple[tuple[str, int], ...]]:
    import tomllib

    try:
        values = tomllib.loads("\n".join(inner))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        told = _TOML_LINE.search(str(error))
        line = first + 1 + (int(told[1]) if told is not None else 1)
        what = re.sub(r"\s*\(at .*\)$", "", str(error))
        raise LabelerError(
            f'{name}:{line}: the head cannot be read ({what}); write one “key = "value"” a line, as TOML has it'
        ) from None
    lines: dict[str, int] = {}
    for at, row in enumerate(inner):
        key = _TOML_KEY.match(row)
        if key is not None:
            table = (key["table"] or "").split(".")[0].strip(" \"'")
            lines.setdefault(key["quoted"] or key["single"] or key["bare"] or table, first + 2 + at)
    return values, tuple((key, lines.get(key, first + 2)) for key in values)
