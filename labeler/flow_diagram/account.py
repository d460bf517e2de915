"""All that is known of one recipe: what its picture reads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from labeler.cooking.account import Carried
from labeler.cooking.kept import part_taken
from labeler.cooking.losses import Key
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import Mixture, join
from labeler.flow.guards import Guard, GuardKind
from labeler.flow.model import Flow, FromLine, FromUnlisted, Source
from labeler.foods.model import WeighedRecipe
from labeler.types import Severity

__all__ = ["Account"]

_DOUBTS = {GuardKind.LEAVES: "no word says that it goes", GuardKind.NOT_BACK: "set aside, and never comes back"}


@dataclass(frozen=True)
class Account:
    """All that is known of one recipe: what its pictures read."""

    weighed: WeighedRecipe
    dish: Dish
    flow: Flow
    carried: tuple[Carried, ...]

    def arrow(self, part: int, source: Source | None, *, node: int | None, in_dish: bool = False) -> Mixture | None:
        """What the arrow from a source to a node, the part as made (`in_dish`) or away carried."""
        found = [
            one.mix
            for one in self.carried
            if one.part == part and one.source == source and one.node == node and one.in_dish == in_dish
        ]
        return join(found) if found else None

    def taken(self, part: int, source: FromLine) -> str | None:
        """Title of the part that a line takes from; None for an ingredient."""
        mixes = [one.mix for one in self.carried if one.part == part and one.source == source]
        return part_taken(self.weighed, self.flow, part, source.index, mixes)

    def name(self, part: int, source: FromLine | FromUnlisted) -> str:
        """A line or an unlisted food in the cook's words."""
        if isinstance(source, FromUnlisted):
            return self.flow.parts[part].unlisted[source.index].name
        lines = self.weighed.parts[part].lines
        if source.index >= len(lines):
            return self.taken(part, source) or "another part"
        line = lines[source.index]
        if source.food:
            return line.also[source.food - 1].line.name
        if line.kept is not None:
            return line.kept.name
        return line.part or line.line.name or line.line.text

    def doubt(self, part: int, outlet: Source) -> str:
        """What a guard has against something that leaves; empty for nothing."""
        return next((_DOUBTS[one.kind] for one in self._against(part, outlet)), "")

    def doubted(self, part: int, outlet: Source | None) -> frozenset[Key]:
        """The foods that leave with it though no word says so."""
        lost = [food for one in self._against(part, outlet) if one.kind is GuardKind.LEAVES for food in one.foods]
        titles = [one.title for one in self.flow.parts]
        return frozenset((titles[at], self.weighed.parts[at].lines[food.index].line.number) for at, food in lost)

    def _against(self, part: int, outlet: Source | None) -> Iterator[Guard]:
        for one in self.dish.guards:
            about = one.part == part and one.outlet == outlet and outlet is not None
            if about and one.severity >= Severity.PROBLEM and one.kind in _DOUBTS:
                yield one

    def unplaced(self) -> Iterator[str]:
        """Foods that are in the dish though no step takes them."""
        there = {(one.part, one.source) for one in self.carried}
        for one in self.dish.guards:
            if one.kind in (GuardKind.NOT_ADDED, GuardKind.IN_NO_STEP):
                yield from (self.name(at, food) for at, food in one.foods if (at, food) in there)
