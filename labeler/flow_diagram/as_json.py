"""The object of ``labeler method``: the steps as they were read, where each ingredient goes, what is left of it.

Keys and meanings are fixed (DEVELOPERS.md, "The interface").
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from labeler.cooking.account import Carried
from labeler.cooking.kept import Place, kept_shares, part_taken
from labeler.cooking.state.ledger import Dish, interval_of
from labeler.cooking.state.mixture import Mixture, join
from labeler.flow.model import Flow, FromLine, FromNode, FromUnlisted, Node, PartFlow, Portion, Source
from labeler.flow.questions import question_of
from labeler.foods.model import WeighedRecipe
from labeler.json_numbers import json_number
from labeler.parsing.instructions.model import Instruction, Mood
from labeler.types import Interval, Problem

__all__ = ["method_object"]

Object = dict[str, Any]

_DUST = 1e-6  # g


def method_object(
    weighed: WeighedRecipe,
    dish: Dish,
    flow: Flow,
    carried: Iterable[Carried],
    *,
    instructions: Sequence[Instruction] = (),
    problems: Iterable[Problem] = (),
) -> Object:
    """The object of ``labeler method``.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
    flow : Flow
        Of the same recipe, its parts in the order of `weighed`.
    carried : iterable of Carried
        What the arrows of the flow carried.
    instructions : sequence of Instruction
        All that was read, for the mood of each step.
    problems : iterable of Problem
        Those of the recipe and the dish; the flow's own are added.
    """
    record = _Record(weighed, dish, flow, tuple(carried), tuple(instructions))
    own = [problem for part in flow.parts for problem in part.problems]
    return {
        "title": weighed.recipe.title,
        "steps": [
            record.step(at, place, node) for at, part in enumerate(flow.parts) for place, node in enumerate(part.nodes)
        ],
        "ingredients": list(record.ingredients()),
        "unlisted": list(record.unlisted()),
        "streams": list(record.streams()),
        "readings": [
            {
                "probability": json_number(one.probability),
                "question": f"Line {one.choice.question.span.line}: {question_of(one)}",
            }
            for part in flow.parts
            for one in part.readings
        ],
        "unread": [
            {"line": one.span.line, "text": one.text} for part in flow.parts for one in part.unread if not one.mended
        ],
        "problems": [
            {"code": one.code, "message": one.message, "line": one.line} for one in dict.fromkeys((*problems, *own))
        ],
    }


class _Record:
    """What the object is read from."""

    def __init__(
        self,
        weighed: WeighedRecipe,
        dish: Dish,
        flow: Flow,
        carried: tuple[Carried, ...],
        instructions: tuple[Instruction, ...],
    ) -> None:
        self.weighed, self.dish, self.flow, self.carried = weighed, dish, flow, carried
        self.moods = {(one.span, one.action): one.mood for one in instructions}
        self.kept = kept_shares(weighed, dish, flow, carried)
        self.first: list[int] = []
        count = 1
        for part in flow.parts:
            self.first.append(count)
            count += len(part.nodes)

    def id_of(self, part: int, node: int) -> str:
        """The number of a step, counted through all parts."""
        return str(self.first[part] + node)

    def step(self, at: int, place: int, node: Node) -> Object:
        settings = node.settings
        sources = node.selects or tuple(portion.source for portion in node.inputs)
        names = dict.fromkeys(self.name(at, source) for source in sources)
        return {
            "id": self.id_of(at, place),
            "text": node.text,
            "line": node.span.line if node.text else None,
            "action": node.action,
            "mood": self.moods.get((node.span, node.action), Mood.DO).value,
            "acts_on": [name for name in names if name],
            "minutes": _range(settings.minutes),
            "oven_c": _range(settings.celsius),
            "core_c": _range(settings.core),
            "vessel": node.vessel or None,
            "basis": node.basis.value,
        }

    def name(self, at: int, source: Source) -> str:
        if isinstance(source, FromUnlisted):
            return self.flow.parts[at].unlisted[source.index].name
        if isinstance(source, FromNode):
            called = self.flow.parts[at].nodes[source.node].name
            return called or f"step {self.id_of(at, source.node)}"
        lines = self.weighed.parts[at].lines
        if source.index >= len(lines):
            return self.taken(at, source) or ""
        line = lines[source.index]
        line = line.also[source.food - 1] if source.food else line
        return (line.kept.name if line.kept is not None else line.part) or line.line.name or line.line.text

    def taken(self, at: int, source: FromLine) -> str | None:
        mixes = [one.mix for one in self.carried if one.part == at and one.source == source]
        return part_taken(self.weighed, self.flow, at, source.index, mixes)

    def ingredients(self) -> Iterator[Object]:
        for at, part in enumerate(self.weighed.parts):
            for index, line in enumerate(part.lines):
                yield {
                    "line": line.line.number,
                    "text": line.line.text,
                    "name": self.name(at, FromLine(index)),
                    "grams": _grams(self._whole(at, index), line.grams),
                    "enters": self.enters(at, index),
                    "kept": _kept(self.kept.get(Place(at, index))),
                }

    def _whole(self, at: int, index: int) -> Mixture | None:
        mixes = [
            one.mix
            for one in self.carried
            if one.part == at and isinstance(one.source, FromLine) and one.source.index == index
        ]
        return join(mixes) if mixes else None

    def enters(self, at: int, index: int) -> list[Object]:
        """Which steps take how much of a line; what none takes goes straight into the dish."""
        part = self.flow.parts[at]
        whole = self._whole(at, index)
        found: list[Object] = []
        for place, node in enumerate(part.nodes):
            portions = [one for one in node.inputs if _is_line(one.source, index)]
            if portions:
                found.append({"step": self.id_of(at, place), "share": self._share(at, portions, place, whole)})
        if any(_is_line(source, index) for source in part.dish):
            mixes = [one.mix for one in self.carried if one.part == at and one.in_dish and _is_line(one.source, index)]
            found.append({"step": "dish", "share": _part_of(mixes, whole, 1.0)})
        return found

    def _share(self, at: int, portions: list[Portion], place: int, whole: Mixture | None) -> float | None:
        sources = {one.source for one in portions}
        mixes = [one.mix for one in self.carried if one.part == at and one.node == place and one.source in sources]
        told = portions[0].share
        return _part_of(mixes, whole, 1.0 if told is None else told.best)

    def unlisted(self) -> Iterator[Object]:
        for at, part in enumerate(self.flow.parts):
            for index, one in enumerate(part.unlisted):
                mixes = [
                    arrow.mix for arrow in self.carried if arrow.part == at and arrow.source == FromUnlisted(index)
                ]
                yield {
                    "name": one.name,
                    "grams": _grams(join(mixes) if mixes else None, one.grams),
                    "kept": _kept(self.kept.get(Place(at, index, listed=False))),
                }

    def streams(self) -> Iterator[Object]:
        """What goes on from a step, and what leaves a step or a line."""
        for at, part in enumerate(self.flow.parts):
            joined: dict[tuple[str | None, str, str, str | None], list[Mixture]] = {}
            for one in self.carried:
                if one.part != at or (one.node is not None and not isinstance(one.source, FromNode)):
                    continue
                if one.node is None and one.in_dish and not isinstance(one.source, FromNode):
                    continue
                key = (self._from(at, one), self._to(at, one), self._called(at, part, one), _fate(one))
                joined.setdefault(key, []).append(one.mix)
            for (source, to, name, fate), mixes in joined.items():
                grams = interval_of(join(mixes).total_mass)
                if max(abs(grams.low), abs(grams.high)) < _DUST:
                    continue  # heat destroys vitamins, and no weight
                yield {"from": source, "to": to, "name": name, "grams": _interval(grams), "fate": fate}

    def _from(self, at: int, one: Carried) -> str | None:
        if isinstance(one.source, FromNode):
            return self.id_of(at, one.source.node)
        return None if one.from_node is None else self.id_of(at, one.from_node)

    def _to(self, at: int, one: Carried) -> str:
        if one.node is not None:
            return self.id_of(at, one.node)
        if not one.in_dish:
            return "leaves"
        takers = self._takers(self.flow.parts[at].title)
        return "dish" if not takers else takers[0]

    def _takers(self, title: str) -> list[str]:
        """Steps of other parts that take a part as made."""
        return [
            self.id_of(one.part, one.node)
            for one in self.carried
            if isinstance(one.source, FromLine) and one.node is not None and self.taken(one.part, one.source) == title
        ]

    def _called(self, at: int, part: PartFlow, one: Carried) -> str:
        if one.name:
            return one.name
        if one.node is None and not one.in_dish:
            return self.name(at, one.source) if isinstance(one.source, FromLine | FromUnlisted) else one.stream
        return ""


def _is_line(source: Source | None, index: int) -> bool:
    return isinstance(source, FromLine) and source.index == index


def _fate(one: Carried) -> str | None:
    if one.node is not None or one.in_dish:
        return None
    return one.fate.value if one.fate is not None else one.stream


def _part_of(mixes: list[Mixture], whole: Mixture | None, otherwise: float) -> float | None:
    if not mixes or whole is None:
        return json_number(otherwise)
    grams = float(whole.total_mass[0])
    return json_number(sum(float(mix.total_mass[0]) for mix in mixes) / grams if grams > 0 else otherwise)


def _grams(mix: Mixture | None, known: Interval | None) -> Object | None:
    if known is None and (mix is None or float(mix.total_mass[0]) <= 0):
        return None
    return _interval(known if known is not None or mix is None else interval_of(mix.total_mass))


def _kept(share: Interval | None) -> Object:
    """A kept share; its figures are null where nobody can say."""
    if share is None:
        return {"best": None, "low": None, "high": None}
    return _interval(share)


def _interval(value: Interval | None) -> Object:
    assert value is not None
    return {"best": json_number(value.best), "low": json_number(value.low), "high": json_number(value.high)}


def _range(value: Interval | None) -> Object | None:
    return None if value is None else {"low": json_number(value.low), "high": json_number(value.high)}
