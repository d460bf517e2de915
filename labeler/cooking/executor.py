"""One part of a recipe, executed: each node of its flow is done to what its portions bring.

A model parts phases; only the flow lets anything leave. Row 0 of every array is the best estimate and the rows after it
are draws, so one pass gives both.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from labeler.cooking.account import Carried
from labeler.cooking.models.conditions import Conditions
from labeler.cooking.models.dry_salting import cure, is_salted
from labeler.cooking.models.evaporation import (
    HOT,
    alcohol_kept,
    evaporate_to,
    has_alcohol,
    lose_alcohol,
    lose_water,
    reduce_to,
)
from labeler.cooking.models.heating import heat
from labeler.cooking.models.immersion import CHANGES, PLANTS, hard_to_know, soak
from labeler.cooking.models.moist_heat import WET
from labeler.cooking.models.poultry_skin import take_skin
from labeler.cooking.models.separation import (
    discard_items,
    drain,
    drain_can,
    film_share,
    pat,
    pour_fat,
    rinse,
    squeeze,
    strain,
)
from labeler.cooking.models.stock_extraction import stock_extract
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.density import density, volume, water_density
from labeler.cooking.state.ledger import Count, Entry, Stage, interval_of
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, blank, empty, join
from labeler.cooking.state.phases import Off, Outcome, Parted, move, sort_pot, together
from labeler.cooking.state.sampling import Cause, Sampler
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
    Settings,
    Source,
)
from labeler.foods.food_class import DISSOLVES, is_whole_can, kind_of
from labeler.knowledge import Interval, Problem
from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.model import Mark, Span

__all__ = ["PartRun", "Stock", "weigh_heap"]

TAP_WATER = "14411"
_FRIDGE = 5.0
_STEEPING = 60.0  # °C of what was just cooked and left to stand: common practice, no source
_CLINGS = Interval(0.08, 0.03, 0.2)  # of a dry coating per weight of food: common practice, no source
_WET_CLINGS = Interval(0.25, 0.1, 0.45)  # of a batter, a marinade or egg per weight of food: common practice, no source
_CRUST = Interval(0.5, 0.3, 0.7)  # of the water of a coating that frying drives out: common practice, no source
_DRIES = frozenset({Heat.DRY, Heat.FAT})


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
    streams: list[Entry]
    grams: Interval
    parted: Parted | None = None


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
    added: list[Entry] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    carried: list[Carried] = field(default_factory=list)
    pieces: Count | None = None
    measured: Interval | None = None
    departed: list[tuple[Departure, Entry]] = field(default_factory=list)
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
        handler = _HANDLERS.get(action(node.action).handler)
        outcome = handler(self, node, mix) if handler is not None and mix.items else Outcome(mix)
        self.added += outcome.added
        for entry in outcome.added:
            self.carried.append(Carried(self.place, None, at, None, False, None, "added", entry.name, entry.mix))
        self.problems += [
            problem
            if problem.line is not None
            else replace(problem, message=f"“{node.text}”: {problem.message}", line=node.span.line)
            for problem in outcome.problems
        ]
        off = outcome.off_mix
        self.stores[FromNode(at)] = _Store(outcome.kept, np.ones(self.draws.rows))
        if off is not None:
            self.stores[FromNode(at, Port.OFF)] = _Store(off, np.ones(self.draws.rows))
        parted = outcome.off[0].parted if outcome.off else None
        streams = [entry for entry in outcome.streams if entry.mix.items]
        self.done.append(_Done(node, outcome, streams, interval_of(outcome.kept.total_mass), parted))

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
            node.action if node.action not in ("confit", "sous-vide", "cook") else _SAME_AS[node.action],
            minutes=settings.minutes or row.minutes,
            celsius=settings.celsius,
            core=settings.core,
            grams=settings.grams,
            share=settings.share,
            water=settings.water,
            salt=settings.salt,
            marks=settings.marks,
            watered=water and not node.drained,
            drained=node.drained or water,
            drip_stays=row.heat is Heat.FAT,
            from_fat=row.heat is Heat.FAT,
            oil_left=settings.left,
            part=self.flow.title,
            line=node.span.line,
        )

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
            if store.mix.items and bool(np.any(store.left > 1e-9)) and not isinstance(source, FromLine | FromUnlisted):
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
        entry = Entry(stream, mix, departure.name)
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
            if one.streams or one.outcome.method:
                found.append(
                    Stage(
                        one.node.text or one.node.why,
                        one.node.span.line,
                        one.outcome.method,
                        tuple(one.streams),
                        one.grams,
                        one.node.action,
                    )
                )
        return found

    def put_in(self) -> list[Entry]:
        """What went in: what the lines and the method name, and what the nodes brought."""
        named = [store.mix for source, store in self.stores.items() if isinstance(source, FromLine) and store.mix.items]
        entries = [Entry("added", join(named))] if named else []
        entries += [
            Entry("added", self.stores[FromUnlisted(at)].mix, f"{one.name}, not among the lines")
            for at, one in enumerate(self.flow.unlisted)
            if self.stores[FromUnlisted(at)].mix.items
        ]
        return entries + self.added


_SAME_AS = {"confit": "braise", "sous-vide": "steam", "cook": "pan-fry"}
_STREAMS = {
    Parted.LIQUID: "poured off",
    Parted.RINSINGS: "poured off",
    Parted.JUICE: "poured off",
    Parted.FAT: "poured off",
    Parted.BATH: "poured off",
    Parted.PAN_FAT: "stuck to the pan",
    Parted.DRIPPINGS: "dripped",
    Parted.FILM: "discarded",
    Parted.SOLIDS: "discarded",
    Parted.PIECES: "discarded",
    Parted.COAT: "left on the plate",
}


def _places(mix: Mixture, run: PartRun, sources: Sequence[Source]) -> list[int]:
    """Items of some lines or unlisted foods, as they were put in or turned in a coat."""
    wanted: set[tuple[str, int, str]] = set()
    for source in sources:
        if isinstance(source, FromLine | FromUnlisted):
            wanted |= {(item.part, item.line, item.name) for item in run.stores[source].mix.items}
    return [
        at
        for at, item in enumerate(mix.items)
        if (item.part, item.line, item.name) in wanted and item.phase in ("", "coating", "bound")
    ]


# --- handlers --------------------------------------------------------------------------------------------------------


def _heat(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Heat: what drips is parted; fat that is left in the pan stays there until something happens to it."""
    settings = node.settings
    if action(node.action).heat is Heat.WET and settings.millilitres is not None:
        return _reduce(run, replace(node, settings=replace(settings, grams=None, share=None)), mix)
    conditions = run.conditions(node)
    outcome = heat(mix, conditions, run.draws)
    drips = tuple(
        replace(one, mix=one.mix.renamed([replace(item, phase="dissolved") for item in one.mix.items]))
        for one in outcome.off
        if one.parted is Parted.DRIPPINGS
    )
    stays = [one.mix for one in outcome.off if one.parted is not Parted.DRIPPINGS]
    kept = together([outcome.kept, *stays]) if stays else outcome.kept
    streams = outcome.streams
    if action(node.action).heat in _DRIES:
        kept, crust = _dry_crust(kept, run.draws)
        streams = (*streams, *crust)
    if node.settings.grams is not None:
        run.measured = node.settings.grams
    return replace(outcome, kept=kept, off=drips, streams=streams)


def _dry_crust(mix: Mixture, draws: Sampler) -> tuple[Mixture, tuple[Entry, ...]]:
    """A wet coating becomes a crust: part of its water goes."""
    coat = np.array([item.phase == "coating" and not item.cooked for item in mix.items], dtype=bool)
    if not coat.any():
        return mix, ()
    fraction = blank(draws.rows, len(mix.items))
    fraction[:, coat, 0] = draws.draw(_CRUST, Cause.CRUST, most=0.95)[:, None]
    steam, kept = mix.split(fraction)
    kept = kept.renamed([replace(item, cooked="bake") if item.phase == "coating" else item for item in kept.items])
    return kept, (Entry("evaporated water", steam.present()),)


def _lie(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Let food lie in what is around it: in liquor it soaks, under salt or sugar it cures."""
    settings, row = node.settings, action(node.action)
    pot, salted = sort_pot(mix), is_salted(mix)
    problems: tuple[Problem, ...] = ()
    raw = any(not mix.items[at].cooked for at in pot.at(pot.food) if pot.kinds[at] != "salt")
    lies = pot.has_liquor or (salted and raw) or node.action not in ("stand", "cure") or Mark.WATER in settings.marks
    if not lies:
        return Outcome(mix)
    usual = action("cure").minutes if salted and node.action == "stand" else row.minutes
    time = settings.minutes or usual or Interval(30.0, 10.0, 60.0)
    if settings.minutes is None:
        problems = (
            Problem(
                "time-assumed",
                f"“{node.text}” does not say how long; {time.best / 60.0:.3g} hours ({time.low / 60.0:.3g}–"
                f"{time.high / 60.0:.3g}) are assumed. Write “{node.action} 4 hours”.",
                node.span.line,
            ),
        )
    warm = row.celsius if row.celsius is not None else 20.0
    celsius = (
        settings.celsius.best if settings.celsius is not None else _FRIDGE if Mark.FRIDGE in settings.marks else warm
    )
    if salted and settings.celsius is None:
        plants = all(pot.kinds[at] in PLANTS for at in pot.at(pot.food) if pot.kinds[at] not in DISSOLVES)
        celsius = 20.0 if plants else _FRIDGE  # meat, fish and eggs are cured cold, whatever is said
    short = settings.minutes is not None and settings.minutes.best <= 120.0
    if node.action == "stand" and any(item.cooked in WET for item in mix.items) and short and settings.celsius is None:
        celsius = _STEEPING
    added: tuple[Entry, ...] = ()
    if Mark.WATER in settings.marks and not pot.has_liquor and pot.food.any():
        usual_water = pot.food_mass * run.draws.draw(Interval(3.0, 1.5, 6.0), Cause.POT_WATER)
        grams = run.draws.draw(settings.water) if settings.water is not None else usual_water
        item = Item(run.flow.title, node.span.line, "water in the pot", TAP_WATER, origin=Origin.POT_WATER)
        added = (Entry("added", mix_of_foods([item], grams[:, None]), "soaking water, not listed"),)
        mix = join([mix, added[0].mix])
    streams: list[Entry] = []
    if time.best >= 360.0 and has_alcohol(mix) and Mark.COVERED not in settings.marks and node.action != "pickle":
        mix, gone = lose_alcohol(mix, alcohol_kept("stored", time.best), run.draws)
        streams.append(Entry("evaporated alcohol", gone))
    if Mark.CHANGED_WATER in settings.marks and not salted:
        fresh = sort_pot(mix)
        bath = fresh.water(fresh.liquor) * run.draws.draw(CHANGES, Cause.FRESH_BATHS)
        outcome = soak(mix, minutes=time, celsius=celsius, draws=run.draws, bath=bath)
    else:
        does = cure if salted or node.action == "cure" else soak
        outcome = does(mix, minutes=time, celsius=celsius, draws=run.draws)
    problems = (*problems, *hard_to_know(mix, asked=node.text, line=node.span.line))
    return replace(outcome, streams=(*streams, *outcome.streams), problems=(*problems, *outcome.problems), added=added)


def _without_frying_fat(mix: Mixture) -> tuple[Mixture, Mixture | None]:
    """Fried food clings to no more fat than it has taken up: the fat around it goes whole."""
    pot = sort_pot(mix)
    fried = any(item.phase == "absorbed" and kind_of(item.food) == "fat" for item in mix.items)
    if not fried or not pot.fat.any():
        return mix, None
    return mix.select(pot.at(~pot.fat)), mix.select(pot.at(pot.fat)).present()


def _drain(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    food, fat = _without_frying_fat(mix)
    outcome = drain(food, draws=run.draws) if food.items else Outcome(food)
    off = list(outcome.off)
    for at, item in enumerate(outcome.kept.items):
        if is_whole_can(item.food) and not item.phase and not item.facts.drained:
            more = drain_can(outcome.kept, at, draws=run.draws)
            outcome = replace(more, method=more.method)
            off += more.off
    if fat is not None and fat.items:
        off.insert(0, Off(Parted.BATH, fat))
    return replace(outcome, off=tuple(off))


def _rinse(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    marks = node.settings.marks
    times = 3 if Mark.SEVERAL_TIMES in marks else 2 if Mark.TWICE in marks else 1
    return rinse(mix, minutes=node.settings.minutes, draws=run.draws, times=times)


def _squeeze(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    return squeeze(mix, draws=run.draws)


def _pat(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    return pat(mix, draws=run.draws)


def _strain(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Strain: the liquid goes on, the solids are parted; of a purée a share of the pulp goes through."""
    share = node.settings.share
    if share is not None:
        pot = sort_pot(mix)
        fraction = blank(run.draws.rows, len(mix.items))
        through = run.draws.draw(share, most=1.0)
        fraction[:, pot.food] = (1.0 - through)[:, None, None]
        fraction[:, :, 0] *= 0.7  # pulp that is pressed is drier than what went through: common practice, no source
        held, kept = mix.split(fraction)
        return Outcome(kept, method="part of the pulp is pressed through", off=(Off(Parted.SOLIDS, held.present()),))
    return _with_extract(run, node, mix, strain(mix, draws=run.draws))


def _with_extract(run: PartRun, node: Node, before: Mixture, outcome: Outcome) -> Outcome:
    """Add to a liquor what the bones and the meat that leave it have given, and say that it is a guess."""
    gone = [one.mix for one in outcome.off if one.mix.items]
    if not gone or not outcome.kept.items:
        return outcome
    simmered = any(item.cooked in WET for item in before.items)
    found = stock_extract(before, join(gone), simmered=simmered, part=run.flow.title, draws=run.draws)
    if found is None:
        return outcome
    entry = Entry("added", found.mix, "given by bones and meat, from stocks of the table")
    return replace(
        outcome,
        kept=join([outcome.kept, found.mix]),
        added=(*outcome.added, entry),
        problems=(*outcome.problems, found.problem),
    )


def _skim(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    return pour_fat(mix, draws=run.draws, left=node.settings.grams)


def _lift(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Lift some foods out of what is around them: a film of it clings, what they took up is theirs."""
    places = _places(mix, run, node.selects)
    if not places:
        return Outcome(empty(run.draws.rows), off=(Off(Parted.LIQUID, mix),))
    first = discard_items(mix, places)
    lifted, rest = first.off_mix or empty(run.draws.rows), first.kept
    fried, fat = _without_frying_fat(join([rest, lifted])) if rest.items else (rest, None)
    del fried
    pot = sort_pot(rest)
    loose = pot.liquor | (pot.fat if fat is None else np.zeros(len(rest.items), dtype=bool))
    if loose.any() and lifted.items:
        share = film_share(sort_pot(lifted), pot.mass_of(loose), draws=run.draws)
        fraction = blank(run.draws.rows, len(rest.items))
        fraction[:, loose] = share[:, None, None]
        film, rest = move(rest, fraction, "clinging")
        lifted = together([lifted, film])
    outcome = Outcome(
        lifted,
        method="what is lifted out takes along what it has taken up and what clings to it",
        off=(Off(Parted.LIQUID, rest),) if rest.items else (),
    )
    if rest.items and sort_pot(rest).liquor.any():
        extract = (
            stock_extract(
                mix,
                lifted,
                simmered=any(item.cooked in WET for item in mix.items),
                part=run.flow.title,
                draws=run.draws,
            )
            if _bony(lifted)
            else None
        )
        if extract is not None:
            entry = Entry("added", extract.mix, "given by bones and meat, from stocks of the table")
            outcome = replace(
                outcome,
                off=(Off(Parted.LIQUID, join([rest, extract.mix])),),
                added=(entry,),
                problems=(extract.problem,),
            )
    return outcome


def _bony(mix: Mixture) -> bool:
    return any(item.facts.bones for item in mix.items)


def _coat(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Turn food in a coat; shaken off, only what clings of it stays."""
    places = _places(mix, run, node.coats)
    if node.action != "shake-off":
        coat = set(places)
        return Outcome(
            mix.renamed(
                [
                    replace(item, phase="coating") if at in coat and not item.phase else item
                    for at, item in enumerate(mix.items)
                ]
            )
        )
    if not places:
        return Outcome(mix)
    pot = sort_pot(mix)
    foods = [at for at in pot.at(pot.food) if at not in places and pot.kinds[at] not in ("seasoning", "salt", "sugar")]
    mass = mix.select(places).total_mass
    wet = any(kind_of(mix.items[at].food) in ("egg", "dairy", "liquid", "water", "sauce") for at in places)
    clings = run.draws.draw(_WET_CLINGS if wet else _CLINGS, Cause.COATING) * (
        mix.select(foods).total_mass if foods else 0.0
    )
    fraction = blank(run.draws.rows, len(mix.items))
    fraction[:, places] = np.clip(1.0 - clings / np.maximum(mass, 1e-9), 0.0, 1.0)[:, None, None]
    lost, kept = mix.split(fraction)
    problem = Problem(
        "coating-assumed",
        "it does not say how much is left of the coating: weigh it and write “120 g of flour is left”.",
    )
    return Outcome(
        kept,
        method="what clings of the coating stays; a guess",
        problems=(problem,),
        off=(Off(Parted.COAT, lost.present()),),
    )


def _ladle(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Take so much of the liquid out."""
    pot = sort_pot(mix)
    loose = pot.liquor | pot.fat
    if not loose.any():
        return Outcome(mix)
    liquid = mix.select(pot.at(loose))
    total = liquid.total_mass
    settings = node.settings
    if settings.share is not None:
        share = run.draws.draw(settings.share, most=1.0)
    else:
        goal = (
            run.draws.draw(settings.grams)
            if settings.grams is not None
            else run.draws.draw(settings.millilitres or Interval(0, 0, 0)) * np.nan_to_num(density(liquid))
        )
        share = np.clip(np.divide(goal, total, out=np.zeros_like(total), where=total > 0.0), 0.0, 1.0)
    fraction = blank(run.draws.rows, len(mix.items))
    fraction[:, loose] = share[:, None, None]
    taken, rest = mix.split(fraction)
    return Outcome(rest, method="so much of the liquid is taken out", off=(Off(Parted.LIQUID, taken.present()),))


def _skin(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    return take_skin(mix, _places(mix, run, node.selects), draws=run.draws) or Outcome(mix)


def _regain(run: PartRun, mix: Mixture, missing: Array) -> Mixture:
    """A heap measured heavier than guessed boiling leaves it: that much of the guess has not boiled away."""
    missing = np.maximum(missing, 0.0)
    for one in reversed(run.done):
        if not missing.any() or (one.parted is Parted.LIQUID and one.node.action == "drain"):
            break
        for at, entry in enumerate(one.streams):
            if entry.stream != "evaporated water" or not one.outcome.guessed:
                continue
            pool = entry.mix.total_mass
            share = np.clip(np.divide(missing, pool, out=np.zeros_like(pool), where=pool > 0.0), 0.0, 1.0)
            back, stays = entry.mix.split(share[:, None, None])
            one.streams[at] = replace(entry, mix=stays)
            one.outcome = replace(one.outcome, streams=tuple(stream for stream in one.streams))
            mix, missing = together([mix, back]), missing - back.total_mass
    return mix


def _cannot(before: Mixture, kept: Mixture, short: Array) -> tuple[Problem, ...]:
    if float(short[0]) > -0.5:
        return ()
    return (
        Problem(
            "lighter-than-dry",
            f"of the {before.total_mass[0]:.0f} g that went in, {kept.total_mass[0]:.0f} g are not water, so it cannot "
            "weigh that little. Check the weight, or say what was poured off or discarded.",
        ),
    )


def _weigh(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """A measured weight, or a volume, settles what the heap weighs: the difference is water."""
    settings = node.settings
    if settings.grams is None and settings.millilitres is None:
        return Outcome(mix)
    if settings.grams is None:
        return _measure_volume(run, node, mix)
    weight = settings.grams
    run.measured = weight
    goal = run.draws.draw(weight)
    returned = _from_poured(run, node, mix, goal)
    if returned is not None:
        return returned
    mix = _regain(run, mix, goal - mix.total_mass)
    kept, water, short = evaporate_to(mix, goal)
    gained = np.maximum(short, 0.0)
    added: tuple[Entry, ...] = ()
    if float(gained[0]) > 1e-6 and mix.items:
        item = Item(run.flow.title, node.span.line, "water taken up", TAP_WATER, origin=Origin.WATER_TAKEN_UP)
        added = (Entry("added", mix_of_foods([item], gained[:, None]), "water taken up"),)
        kept = join([kept, added[0].mix])
    method = f"measured: {weight.best:.4g} g; the difference is water"
    return Outcome(kept, (Entry("evaporated water", water.present()),), method, _cannot(mix, kept, short), added)


def _measure_volume(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    measured = node.settings.millilitres
    assert measured is not None
    goal = run.draws.draw(measured)
    mix = _regain(run, mix, (goal - volume(mix)) * float(water_density(20.0)) / 1000.0)
    room = volume(mix)
    if float(goal[0]) > 1.02 * float(room[0]):
        problem = Problem(
            "volume-not-filled",
            f"the ingredients fill {float(room[0]):.4g} mL, so {float(goal[0]):.4g} mL hold air or water that no line "
            "has, and the volume is not used. Weigh the batch and write “> weighs 1.2 kg” under its part.",
        )
        return Outcome(mix, problems=(problem,))
    lost = np.maximum(room - goal, 0.0) * float(water_density(20.0)) / 1000.0
    kept, water, short = evaporate_to(mix, mix.total_mass - lost)
    if problems := _cannot(mix, kept, short):
        return Outcome(mix, problems=problems)
    run.measured = interval_of(kept.total_mass, "by volume")
    method = f"measured: {measured.best:.4g} mL; the difference is water"
    return Outcome(kept, (Entry("evaporated water", water.present()),), method)


def _from_poured(run: PartRun, node: Node, mix: Mixture, goal: Array) -> Outcome | None:
    """After draining, a weight says how much liquid went in or clings: settle it with what was poured off."""
    if not run.done or not any(item.phase in ("absorbed", "clinging") for item in mix.items):
        return None
    at = next((one for one in range(len(run.done) - 1, -1, -1) if run.done[one].parted is Parted.LIQUID), None)
    since = run.done[(at or 0) + 1 :]
    if at is None or any(action(one.node.action).handler not in (Handler.PAT, Handler.RINSE) for one in since):
        return None
    store = run.stores.get(FromNode(at, Port.OFF))
    if store is None:
        return None
    missing = goal - mix.total_mass
    pool = store.mix.total_mass
    share = np.clip(np.divide(missing, pool, out=np.zeros_like(pool), where=pool > 0.0), 0.0, 1.0)
    back, stays = store.mix.split(share[:, None, None])
    back = back.renamed([replace(item, phase="absorbed") for item in back.items])
    pot = sort_pot(mix)
    held = pot.mass_of(pot.absorbed)
    less = np.clip(np.divide(-missing, held, out=np.zeros_like(held), where=held > 0.0), 0.0, 1.0)
    out, kept = mix.split(np.where(pot.absorbed[None, :, None], less[:, None, None], 0.0))
    out = out.renamed([replace(item, phase="") for item in out.items]).present()
    store.mix = together([stays, out]) if out.items else stays
    kept, water = lose_water(together([kept, back]), kept.total_mass + back.total_mass - goal)
    streams = (Entry("evaporated water", water),) if water.items else ()
    return Outcome(kept, streams, "measured: what it weighs more than the food is liquid it took up")


def _lose(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    share, grams = node.settings.share, node.settings.grams
    if share is None and grams is None:
        return Outcome(mix)
    total = mix.total_mass
    goal = total * run.draws.draw(share) if share is not None else total - run.draws.draw(grams or Interval(0, 0, 0))
    mix = _regain(run, mix, np.zeros(run.draws.rows))
    kept, water, short = evaporate_to(mix, goal)
    return Outcome(
        kept,
        (Entry("evaporated water", water.present()),),
        "loss as stated, all of it water",
        _cannot(mix, kept, short),
    )


def _left(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """What is left of fat, liquid or a coating, as measured, does not go on."""
    settings = node.settings
    places = _places(mix, run, node.coats) if node.coats else []
    pot = sort_pot(mix)
    if not places:
        places = pot.at(pot.fat) if pot.has_fat_bath or not pot.liquor.any() else pot.at(pot.liquor)
    if not places:
        return Outcome(mix)
    some = mix.select(places)
    total = some.total_mass
    if settings.grams is not None:
        goal = run.draws.draw(settings.grams)
    elif settings.millilitres is not None:
        goal = run.draws.draw(settings.millilitres) * np.nan_to_num(density(some))
    else:
        return Outcome(mix)
    share = np.clip(np.divide(goal, total, out=np.zeros_like(total), where=total > 0.0), 0.0, 1.0)
    fraction = blank(run.draws.rows, len(mix.items))
    fraction[:, places] = share[:, None, None]
    lost, kept = mix.split(fraction)
    gone = set(places)
    kept = kept.renamed(
        [
            replace(item, phase="absorbed") if at in gone and not item.phase else item
            for at, item in enumerate(kept.items)
        ]
    )
    return Outcome(
        kept, method="measured: what is left", off=(Off(Parted.COAT if node.coats else Parted.BATH, lost.present()),)
    )


def _reduce(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Boil down to a weight, a volume or a share; without a goal, boil by time."""
    settings = node.settings
    if settings.grams is None and settings.millilitres is None and settings.share is None:
        return _heat(run, replace(node, action="boil"), mix)
    warmed = heat(mix, replace(run.conditions(replace(node, action="heat")), grams=None, share=None), run.draws)
    pot = warmed.kept
    if settings.grams is not None:
        pot = _regain(run, pot, run.draws.draw(settings.grams) - pot.total_mass)
    elif settings.millilitres is not None:
        missing = run.draws.draw(settings.millilitres) - volume(pot, temperature=HOT)
        pot = _regain(run, pot, missing * float(water_density(HOT)) / 1000.0)
    outcome, short = reduce_to(
        pot, draws=run.draws, grams=settings.grams, millilitres=settings.millilitres, share=settings.share
    )
    if settings.grams is not None:
        run.measured = settings.grams
    return replace(outcome, streams=(*warmed.streams, *outcome.streams), problems=_cannot(pot, outcome.kept, short))


def _dry(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Dry to a weight or share, else to what dried food usually holds."""
    settings = node.settings
    if settings.grams is not None:
        return _weigh(run, node, mix)
    if settings.share is not None:
        return _lose(run, node, mix)
    if settings.minutes is None and settings.celsius is None:
        return Outcome(mix)
    pot = sort_pot(mix)
    solid = mix.total_mass - pot.water(np.ones(len(mix.items), dtype=bool))
    kept, water, _ = evaporate_to(mix, solid / (1.0 - run.draws.draw(Interval(0.18, 0.08, 0.3), Cause.DRIED)))
    return Outcome(kept, (Entry("evaporated water", water.present()),), "dried to 18 % (8–30) water, common practice")


def _thin(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Add water up to a weight or a volume, or so much of it."""
    settings = node.settings
    if settings.grams is not None:
        grams = np.maximum(run.draws.draw(settings.grams) - mix.total_mass, 0.0)
    elif settings.millilitres is not None:
        grams = np.maximum(run.draws.draw(settings.millilitres) - volume(mix), 0.0)
    elif settings.water is not None:
        grams = run.draws.draw(settings.water)
    else:
        return Outcome(mix)
    return _watered(run, node, mix, grams, Origin.WATER_ADDED, "water added")


def _watered(run: PartRun, node: Node, mix: Mixture, grams: Array, origin: Origin, name: str) -> Outcome:
    item = Item(run.flow.title, node.span.line, name, TAP_WATER, origin=origin)
    entry = Entry("added", mix_of_foods([item], grams[:, None]), "water, not listed")
    return Outcome(join([mix, entry.mix]), method="water is added", added=(entry,))


_COVERS = Interval(1.5, 0.8, 3.0)  # water that just covers food, per weight of it: common practice, no source


def _gather(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Put together; where food is covered with water that no line lists, that water comes to it."""
    if Mark.WATER not in node.settings.marks or node.action != "add":
        return Outcome(mix)
    water = node.settings.water
    grams = (
        run.draws.draw(water)
        if water is not None
        else sort_pot(mix).food_mass * run.draws.draw(_COVERS, Cause.POT_WATER)
    )
    return _watered(run, node, mix, grams, Origin.POT_WATER, "water in the pot")


def _make(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    pieces = node.settings.pieces
    if pieces is not None and pieces.best > 0.0:
        run.pieces = Count(pieces.best, node.settings.piece)
    outcome = _weigh(run, node, mix)
    return (
        replace(outcome, kept=_bound(outcome.kept))
        if node.settings.grams is None and node.settings.millilitres is None
        else outcome
    )


def _bind(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    return Outcome(_bound(mix))


def _bound(mix: Mixture) -> Mixture:
    """What was kneaded or shaped holds together: nothing of it lies loose in a bath any more."""
    return mix.renamed([item if item.phase else replace(item, phase="bound") for item in mix.items])


_WHEY = Interval(0.55, 0.4, 0.65)  # of the water that hung yogurt or curd gives: common practice, no source


def _whey(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Let whey run off: water, and what is dissolved in it."""
    share = run.draws.draw(_WHEY, Cause.WHEY, most=0.9)
    fraction = blank(run.draws.rows, len(mix.items))
    for place in (0, 3, 4, 5):
        fraction[:, :, place] = share[:, None]
    whey, kept = mix.split(fraction)
    return Outcome(kept, method="whey runs off; how much is common practice", off=(Off(Parted.LIQUID, whey.present()),))


_HANDLERS: dict[Handler, Callable[[PartRun, Node, Mixture], Outcome]] = {
    Handler.NONE: _gather,
    Handler.HEAT: _heat,
    Handler.LIE: _lie,
    Handler.DRAIN: _drain,
    Handler.RINSE: _rinse,
    Handler.SQUEEZE: _squeeze,
    Handler.PAT: _pat,
    Handler.STRAIN: _strain,
    Handler.SKIM: _skim,
    Handler.LIFT: _lift,
    Handler.COAT: _coat,
    Handler.LADLE: _ladle,
    Handler.BIND: _bind,
    Handler.WHEY: _whey,
    Handler.SKIN: _skin,
    Handler.WEIGH: _weigh,
    Handler.LOSE: _lose,
    Handler.LEFT: _left,
    Handler.REDUCE: _reduce,
    Handler.DRY: _dry,
    Handler.THIN: _thin,
    Handler.MAKE: _make,
}


def weigh_heap(
    run: PartRun, *, grams: Interval | None, millilitres: Interval | None, text: str, line: int
) -> list[Stage]:
    """Let a measure settle what a part weighs when everything is done; the stages that it adds."""
    node = Node("weigh", (), Settings(grams=grams, millilitres=millilitres), text=text, span=Span(line))
    outcome = _weigh(run, node, run.kept)
    run.kept = outcome.kept
    run.added += outcome.added
    run.problems += [replace(one, line=line) if one.line is None else one for one in outcome.problems]
    streams = tuple(entry for entry in outcome.streams if entry.mix.items)
    return (
        [Stage(text, line, outcome.method, streams, interval_of(run.kept.total_mass), "weigh")]
        if outcome.method
        else []
    )
