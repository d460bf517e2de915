"""Lines made by hand for the tests of weights."""

from __future__ import annotations

from labeler.foods.weights.line_weight import grams
from labeler.parsing.model import Amount, Line


def line(name: str, *amounts: tuple[object, ...], preparation: str = "", **more: object) -> Line:
    """A line with amounts written (amount, unit) or (low, high, unit) or (amount, unit, role)."""
    read = []
    for given_amount in amounts:
        low, *rest = given_amount
        if len(rest) == 2 and isinstance(rest[0], float | int) and not isinstance(rest[0], str):
            read.append(Amount(low, rest[0], rest[1]))  # type: ignore[arg-type]
        else:
            read.append(Amount(low, low, rest[0], rest[1] if len(rest) > 1 else "main"))  # type: ignore[arg-type]
    text = str(more.pop("text", f"{name}, {preparation}" if preparation else name))
    return Line(text=text, amounts=tuple(read), name=name, preparation=preparation, **more)  # type: ignore[arg-type]


def best(written: Line, food: str, *, market: str = "us") -> float:
    weight, _ = grams(written, food, market=market)
    assert weight is not None
    return weight.best
