"""The method as a drawing that can be asked: what each arrow carries, and what a removal is said to be."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from labeler.flow.model import Reading
from labeler.flow.questions import question_of
from labeler.page.engine.figures import analysed
from labeler.page.engine.reading import Object, Text, recipe_of
from labeler.types import Interval, LabelerError

# What cooks and draws is imported where it is used: the page is to be there at once.
if TYPE_CHECKING:
    from labeler.flow_diagram.draw import Drawn
    from labeler.flow_diagram.model import Arrow, FlowPicture, Outflow
    from labeler.label.drawing import Mark
    from labeler.nutrition.analysis import Nutrition

__all__ = ["Removal", "method", "settled"]

KEPT = ("serve with the {}", "keep the {} in the dish", "add the {} back", "put the {} back into the pan")
THROWN_AWAY = ("throw the {} away", "discard the {}")
"""Sentences that say of something what becomes of it; which of them holds is tried on the recipe."""
PLAIN_NAMES = ("liquid", "drippings", "solids")
"""What something without a name of its own is called in them."""
_NAME = re.compile(r"[a-z][a-z -]{2,40}")
_LESS, _AS_BEFORE = 0.1, 0.02
"""Share of a removal that may still leave where it is kept; of a dish that may differ where it is thrown away."""


@dataclass(frozen=True, slots=True)
class Removal:
    """A removal of a drawing: place of its part, of its box in it, its name, and what the cook says became of it."""

    part: int
    box: int
    name: str
    kept: bool


def method(given: Text) -> Object:
    """The drawing of a method as marks, with what can be asked of it.

    Parameters
    ----------
    given : Text

    Returns
    -------
    dict
        ``width``, ``height`` [pt], ``told`` (all of it in words), ``marks`` (each ``[kind, block, ...]``), ``parts``
        (title, top and bottom) and ``arrows`` (by block: words, grams, nutrients, line of the text, removal).
    """
    from labeler.flow_diagram.draw import draw_whole

    nutrition = analysed(given)
    picture = _picture(nutrition)
    drawn = draw_whole(picture)
    return {
        "width": round(drawn.drawing.width, 1),
        "height": round(drawn.drawing.height, 1),
        "told": drawn.drawing.description,
        "marks": [_mark(mark) for mark in drawn.drawing.marks],
        "parts": [
            {"title": part.title, "top": round(top, 1), "bottom": round(bottom, 1), "made": _range(part.made.grams)}
            for part, (top, bottom) in zip(picture.parts, drawn.parts, strict=True)
        ],
        "arrows": dict(_arrows(drawn, nutrition)),
        "boxes": {
            f"box {at}.{place}": node.span.line
            for at, part in enumerate(_parts(nutrition))
            for place, node in enumerate(part.nodes)
            if node.text
        },
        "unread": [{"line": one.span.line, "text": one.text} for part in _parts(nutrition) for one in part.unread],
        "questions": [_asked(one) for part in _parts(nutrition) for one in part.readings],
    }


def _asked(reading: Reading) -> str:
    return f"Line {reading.choice.question.span.line}: {question_of(reading)}"


def settled(given: Text, removal: Removal) -> Object:
    """The text with a sentence that says of a removal that it was kept, or thrown away.

    Each of a few sentences is tried; the first by which the program reads it so is written.

    Raises
    ------
    LabelerError
        Where no such sentence is understood here, or the removal is not there any more.
    """
    before = _now(given)
    gone = _leaving(before.picture, removal)
    if gone is None:
        raise LabelerError("the recipe has changed meanwhile, and nothing leaves here now")
    line = _line(before.nutrition, removal.part, removal.box)
    if line is None:
        raise LabelerError("no step of the text stands here to write it behind; say it in words of your own")
    for text in _tries(given.text, line, removal):
        tried = replace(given, text=text)
        try:
            after = _now(tried)
        except LabelerError:
            continue
        if _holds(before, after, removal, gone):
            row = next((row for row in text.split("\n") if row not in given.text.split("\n")), "")
            return {"text": text, "row": row.strip()}
    became = "kept" if removal.kept else "thrown away"
    raise LabelerError(
        f"the program knows no sentence that says here that “{removal.name}” was {became}; say it in line {line}"
    )


@dataclass(frozen=True, slots=True)
class _Now:
    nutrition: Nutrition
    picture: FlowPicture
    dish_g: float


def _now(given: Text) -> _Now:
    from labeler.nutrition.analysis import analyse

    nutrition = analyse(recipe_of(given), market=given.market or None, draws=0)
    return _Now(nutrition, _picture(nutrition), float(nutrition.dish.mix.total_mass[0]))


def _picture(nutrition: Nutrition) -> FlowPicture:
    from labeler.flow_diagram import flow_picture

    dish = nutrition.dish
    if dish.flow is None:
        raise LabelerError("this recipe has no method to draw")
    return flow_picture(nutrition.weighed, dish, dish.flow, dish.carried)


def _parts(nutrition: Nutrition) -> Any:
    return nutrition.dish.flow.parts if nutrition.dish.flow is not None else ()


def _leaving(picture: FlowPicture, removal: Removal) -> Outflow | None:
    """The removal in a picture; of several of its step the heaviest where none has its name."""
    if removal.part >= len(picture.parts):
        return None
    found = [one for one in picture.parts[removal.part].outflows if one.source == removal.box]
    named = [one for one in found if one.name == removal.name]
    return max(named or found, key=lambda one: one.load.grams.best if one.load.grams else 0.0, default=None)


def _line(nutrition: Nutrition, part: int, box: int) -> int | None:
    """Number of the row where the words of a step stand, or of the last step before that has words."""
    nodes = _parts(nutrition)[part].nodes[: box + 1]
    return next((int(node.span.line) for node in reversed(nodes) if node.text and node.span.line), None)


def _tries(text: str, line: int, removal: Removal) -> Iterator[str]:
    """Texts with a sentence behind the step that says what became of it: in a row of its own, or at the row's end."""
    from labeler.cooking.state.ledger import STREAMS

    own = [removal.name] if _NAME.fullmatch(removal.name) and removal.name not in STREAMS else []
    names = dict.fromkeys((*own, *PLAIN_NAMES))
    rows = text.split("\n")
    row = rows[line - 1]
    for name in names:
        for sentence in KEPT if removal.kept else THROWN_AWAY:
            words = sentence.format(name)
            if row.lstrip().startswith(">"):
                made = [*rows[:line], f"> {words}", *rows[line:]]
            else:
                ends = row.rstrip()
                joined = f"{ends} " if ends.endswith((".", "!", "?")) else f"{ends}. "
                made = [*rows[: line - 1], f"{joined}{words[0].upper()}{words[1:]}.", *rows[line:]]
            yield "\n".join(made)


def _holds(before: _Now, after: _Now, removal: Removal, gone: Outflow) -> bool:
    """Whether a text is read as the cook meant it."""
    weight = gone.load.grams.best if gone.load.grams is not None else 0.0
    still = _leaving(after.picture, removal)
    if len(after.picture.parts) != len(before.picture.parts):
        return False
    if removal.kept:
        left = still.load.grams.best if still is not None and still.load.grams is not None else 0.0
        same = still is not None and still.name == gone.name
        return (left <= _LESS * weight or not same) and after.dish_g >= before.dish_g + (1 - _LESS) * weight
    told = [one for one in after.picture.parts[removal.part].outflows if one.source is not None and not one.implied]
    leaves = any(one.load.grams is not None and one.load.grams.best >= (1 - _LESS) * weight for one in told)
    return leaves and abs(after.dish_g - before.dish_g) <= _AS_BEFORE * before.dish_g


def _arrows(drawn: Drawn, nutrition: Nutrition) -> Iterator[tuple[str, Object]]:
    blocks = {mark.block for mark in drawn.drawing.marks}
    for block, arrow in drawn.arrows.items():
        if block not in blocks:
            continue
        line = None if arrow.box is None else _line(nutrition, arrow.part, arrow.box)
        yield (
            block,
            {
                "words": arrow.words,
                "grams": _range(arrow.load.grams),
                "dry_g": round(arrow.load.dry, 2),
                "names": list(arrow.load.names),
                "values": [
                    {"tag": tag, "amount": round(amount, 3), "known": known} for tag, amount, known in arrow.load.values
                ],
                "line": line,
                "removal": _removal(arrow),
            },
        )


def _removal(arrow: Arrow) -> Object | None:
    """What a removal that the cook can speak of is; None for what goes into the air and for what is none."""
    from labeler.flow_diagram.model import Kind

    out = arrow.outflow
    if out is None or out.source is None or out.kind is Kind.ONWARD or out.name.startswith("evaporated"):
        return None
    return {
        "part": arrow.part, "box": out.source, "name": out.name, "food": out.kind is Kind.FOOD, "of": out.of,
        "taken_to_be": out.implied,
    }  # fmt: skip


def _range(grams: Interval | None) -> Object | None:
    return None if grams is None else {"best": grams.best, "low": grams.low, "high": grams.high}


def _mark(mark: Mark) -> list[Any]:
    """A mark as the page's script draws it."""
    from labeler.label.drawing import Patch, RuledLine, Shape, Text

    if isinstance(mark, Text):
        return ["text", mark.block, round(mark.x, 1), round(mark.y, 1), mark.face, mark.size, mark.colour, mark.text]
    if isinstance(mark, RuledLine):
        ends = [round(one, 1) for one in (mark.x0, mark.y0, mark.x1, mark.y1)]
        return ["line", mark.block, *ends, mark.weight, mark.colour, mark.dash]
    if isinstance(mark, Shape):
        return ["shape", mark.block, [[round(x, 1), round(y, 1)] for x, y in mark.points], mark.colour]
    assert isinstance(mark, Patch)
    box = [round(one, 2) for one in (mark.x, mark.y, mark.width, mark.height)]
    return ["patch", mark.block, *box, mark.colour]
