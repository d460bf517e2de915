"""The worksheet for programs: the same rows under the same names, so that every printed figure can be followed.

``declared[].printed`` comes by ``rule`` from ``amount``, that from ``made_of`` over ``shares``, each of them from an
ingredient, whose ``left`` says what each step took of it, and whose ``line`` stands among ``lines`` with its food and
its grams.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from labeler.worksheet.model import Worksheet

__all__ = ["worksheet_bytes", "worksheet_object"]

_NAMES = {"advice": "weigh_next", "digest": "recipe"}


def _value(value: Any) -> Any:
    """A value as JSON holds it: numbers to nine digits, as floating-point dust helps nobody."""
    if isinstance(value, float):
        return float(f"{value:.9g}") if math.isfinite(value) else None
    if isinstance(value, str):
        # Half a character, which a YAML escape can smuggle in, has no UTF-8.
        return value.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    if is_dataclass(value) and not isinstance(value, type):
        return {item.name: _value(getattr(value, item.name)) for item in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): _value(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_value(one) for one in value]
    return value


def worksheet_object(found: Worksheet) -> dict[str, Any]:
    """The object of ``labeler worksheet --json``: the fields of `Worksheet`, by their names."""
    made = {_NAMES.get(item.name, item.name): _value(getattr(found, item.name)) for item in fields(found)}
    made["totals"] = [
        {key: _ends(one) if isinstance(one, list) else one for key, one in total.items()} for total in made["totals"]
    ]
    return made


def _ends(figure: list[float]) -> dict[str, float]:
    return dict(zip(("best", "low", "high"), figure, strict=True))


def worksheet_bytes(found: Worksheet) -> bytes:
    """The same object as compact UTF-8, to be attached to a label; the same bytes for the same worksheet."""
    return json.dumps(worksheet_object(found), ensure_ascii=False, separators=(",", ":")).encode()
