"""One part of a recipe, executed: each node of its flow is done to what its portions bring.

A model parts phases; only the flow lets anything leave. Row 0 of every array is the best estimate and the rows after it
are draws, so one pass gives both.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from labeler.cooking.account import Carried
from labeler.cooking.models.conditions import Conditions
from labeler.cooking.state.density import density
from labeler.cooking.state.ledger import LedgerEntry, Stage, interval_of
from labeler.cooking.state.mixture import Array, Mixture, empty, join
from labeler.cooking.state.phases import Outcome, PartedPhases, together
from labeler.cooking.state.sampling import Sampler
from labeler.cooking.steps.handlers import HANDLERS
from labeler.flow.model import (
    Departure,
    Fate,
    FromLine,
    FromNode,
    FromUnlisted,
    Node,
    PartFlow,
    Port,
    Portion,
    Source,
)
from labeler.parsing.declared_servings import Count
from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval, Problem

__all__ = ["PartRun", "Stock"]


@dataclass
class Stock:
    """What lies ready before a part is made: the mixtures of its lines and of what only its method names."""

    lines: dict[FromLine, Mixture]
    names: dict[FromLine, str] = field(default_factory=dict)
    unlisted: list[Mixture] = field(default_factory=list)


@dataclass
class _Store:
    """What a source holds, and the share of it that nothing has taken yet."""

    mix: Mixture
    left: Array


@dataclass
class _Done:
    """What a node has done, until the account is closed."""

    node: Node
    outcome: Outcome
    streams: list[LedgerEntry]
    parted: PartedPhases | None = None


@dataclass
class PartRun:
    """Executes the flow of one part.

    Parameters
    ----------
    flow : PartFlow
    stock : Stock
    draws : Sampler
    place : int
        Place of the part in the recipe.
    """

    flow: PartFlow
    stock: Stock
    draws: Sampler
    place: int = 0
    stores: dict[Source, _Store] = field(default_factory=dict)
    done: list[_Done] = field(default_factory=list)
    added: list[LedgerEntry] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    carried: list[Carried] = field(default_factory=list)
    pieces: Count | None = None
    measured: Interval | None = None
    departed: list[tuple[Departure, LedgerEntry]] = field(default_factory=list)
    kept: Mixture = field(init=False)

    def run(self) -> None:
        """Do every node, then close the account."""
        for source, mix in self.stock.lines.items():
            self.stores[source] = _Store(mix, np.ones(self.draws.rows))
        for at, mix in enumerate(self.stock.unlisted):
            self.stores[FromUnlisted(at)] = _Store(mix, np.ones(self.draws.rows))
        for at, node in enumerate(self.flow.nodes):
            self._do(at, node)
        self._close()

    # --- sources ----------------------------------------------------------------------------------------------------

    def _take(self, portion: Portion) -> Mixture:
        store = self.stores.get(portion.source)
        if store is None:
            return empty(self.draws.rows)
        share = self._share(portion, store)
        store.left = np.maximum(store.left - share, 0.0)
        if bool(np.all(share >= 1.0 - 1e-12)):
            return store.mix
        return store.mix.scaled(share)

    def _share(self, portion: Portion, store: _Store) -> Array:
        if portion.share is not None:
            return np.minimum(self.draws.draw(portion.share, most=1.0), store.left)
        if portion.grams is not None or portion.millilitres is not None:
            total = store.mix.total_mass
            if portion.grams is not None:
                goal = self.draws.draw(portion.grams)
            else:
                goal = self.draws.draw(portion.millilitres or Interval(0, 0, 0)) * np.nan_to_num(density(store.mix))
            share = np.divide(goal, total, out=np.zeros_like(total), where=total > 0.0)
            if portion.all_but:
                share = 1.0 - share
            return np.clip(share, 0.0, store.left)
        return store.left

    # --- one node ---------------------------------------------------------------------------------------------------

    def _do(self, at: int, node: Node) -> None:
        parts = []
        for portion in node.inputs:
            mix = self._take(portion)
            if mix.items:
                parts.append(mix)
                self.carried.append(
                    Carried(self.place, portion.source, at, None, False, None, "added", self._name(portion.source), mix)
                )
        mix = together(parts) if parts else empty(self.draws.rows)
        handler = HANDLERS.get(action(node.action).handler)
        outcome = handler(self, node, mix) if handler is not None and mix.items else Outcome(mix)
        self.added += outcome.added
        for entry in outcome.added:
            self.carried.append(Carried(self.place, None, at, None, False, None, "added", entry.name, entry.mix))
        self.problems += [
            problem
            if problem.line is not None
            else replace(problem, message=f"{_said(node)}{problem.message}", line=node.span.line)
            for problem in outcome.problems
        ]
        off = outcome.off_mix
        self.stores[FromNode(at)] = _Store(outcome.kept, np.ones(self.draws.rows))
        if off is not None:
            self.stores[FromNode(at, Port.OFF)] = _Store(off, np.ones(self.draws.rows))
        parted = outcome.off[0].parted if outcome.off else None
        streams = [entry for entry in outcome.streams if entry.mix.items]
        self.done.append(_Done(node, outcome, streams, parted))

    def _name(self, source: Source) -> str:
        if isinstance(source, FromLine):
            return self.stock.names.get(source, "")
        if isinstance(source, FromUnlisted):
            return self.flow.unlisted[source.index].name
        return self.flow.nodes[source.node].name

    def conditions(self, node: Node) -> Conditions:
        """What a model is told of a node."""
        settings = node.settings
        row = action(node.action)
        water = Mark.WATER in settings.marks
        return Conditions(
            row.cooked_as,
            minutes=settings.minutes or row.minutes,
            celsius=settings.celsius,
            core=settings.core,
            grams=settings.grams,
            share=settings.share,
            water=settings.water,
            salt=settings.salt,
            marks=settings.marks,
            watered=water and not node.drained,
            drained=node.drained,
            drip_stays=row.heat is Heat.FAT,
            from_fat=row.heat is Heat.FAT,
            again=self._again(node),
            oil_left=settings.left,
            part=self.flow.title,
            line=node.span.line,
        )

    def _again(self, node: Node) -> bool:
        """Whether a node only goes on with the dry heat of the node before it, with nothing put in between."""
        source = node.inputs[0].source if len(node.inputs) == 1 else None
        if not isinstance(source, FromNode) or source.port is not Port.KEPT:
            return False
        before = self.flow.nodes[source.node]
        return before.action == node.action and Mark.COVERED not in before.settings.marks

    # --- the account ------------------------------------------------------------------------------------------------

    def _close(self) -> None:
        """What nothing has taken is the dish or leaves."""
        dish = []
        for source in self.flow.dish:
            store = self.stores.get(source)
            if store is None or not store.mix.items:
                continue
            mix = store.mix.scaled(store.left)
            store.left = np.zeros(self.draws.rows)
            dish.append(mix)
            self.carried.append(Carried(self.place, source, None, None, True, None, "added", self._name(source), mix))
        self.kept = together(dish) if dish else empty(self.draws.rows)
        for departure in self.flow.leaves:
            self._leave(departure)
        for source, store in self.stores.items():
            if store.mix.items and bool(np.any(store.left > 1e-9)) and not isinstance(source, FromLine):
                self._leave(Departure(source, Fate.TRADE))
        for at, one in enumerate(self.done):
            for entry in one.outcome.streams:
                if entry.mix.items:
                    self.carried.append(
                        Carried(self.place, None, None, at, False, Fate.TRADE, entry.stream, entry.name, entry.mix)
                    )

    def _leave(self, departure: Departure) -> None:
        store = self.stores.get(departure.source)
        if store is None or not store.mix.items or not bool(np.any(store.left > 1e-9)):
            return
        mix = store.mix.scaled(store.left).present()
        store.left = np.zeros(self.draws.rows)
        stream = self._stream(departure.source)
        entry = LedgerEntry(stream, mix, departure.name, in_jar=departure.in_jar)
        if isinstance(departure.source, FromNode):
            self.done[departure.source.node].streams.append(entry)
        self.departed.append((departure, entry))
        self.carried.append(
            Carried(self.place, departure.source, None, None, False, departure.fate, stream, departure.name, mix)
        )

    def _stream(self, source: Source) -> str:
        if not isinstance(source, FromNode):
            return "discarded"
        parted = self.done[source.node].parted if source.port is Port.OFF else None
        return _STREAMS.get(parted, "discarded") if parted is not None else "discarded"

    def stages(self) -> list[Stage]:
        """What was done, in order, with what left."""
        found = []
        for one in self.done:
            if one.streams or one.outcome.account:
                found.append(
                    Stage(
                        one.node.text or one.node.why,
                        one.node.span.line,
                        one.outcome.account,
                        tuple(one.streams),
                        interval_of(one.outcome.kept.total_mass),
                        one.node.action,
                    )
                )
        return found

    def put_in(self) -> list[LedgerEntry]:
        """What went in: what the lines and the method name, and what the nodes brought."""
        named = [store.mix for source, store in self.stores.items() if isinstance(source, FromLine) and store.mix.items]
        entries = [LedgerEntry("added", join(named))] if named else []
        entries += [
            LedgerEntry("added", self.stores[FromUnlisted(at)].mix, f"{one.name}, not among the lines")
            for at, one in enumerate(self.flow.unlisted)
            if self.stores[FromUnlisted(at)].mix.items
        ]
        return entries + self.added


_STREAMS = {
    PartedPhases.LIQUID: "poured off",
    PartedPhases.RINSINGS: "poured off",
    PartedPhases.JUICE: "poured off",
    PartedPhases.FAT: "poured off",
    PartedPhases.BATH: "poured off",
    PartedPhases.PAN_FAT: "stuck to the pan",
    PartedPhases.DRIPPINGS: "dripped",
    PartedPhases.FILM: "discarded",
    PartedPhases.SOLIDS: "discarded",
    PartedPhases.PIECES: "discarded",
    PartedPhases.COAT: "left on the plate",
}


def _said(node: Node) -> str:
    """The words of a node before what is told of it, or why it is taken for granted; nothing where it has neither."""
    words = node.text or node.why
    return f"“{words}”: " if words else ""
