"""From a flow and what its arrows carried to the picture of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from labeler.cooking.account import Carried
from labeler.cooking.kept import Place, dry_matter, kept_shares, times_of
from labeler.cooking.losses import Key, PutIn, goes_on, leaves_by_trade
from labeler.cooking.state.ledger import Dish, interval_of
from labeler.cooking.state.mixture import Mixture, empty, join
from labeler.flow.model import (
    Basis,
    Departure,
    Fate,
    Flow,
    FromLine,
    FromNode,
    FromUnlisted,
    Node,
    PartFlow,
    Port,
    Portion,
    Source,
)
from labeler.flow.questions import question_of
from labeler.flow_diagram.account import Account
from labeler.flow_diagram.leaving import DUST, kind_of_stream, lost_in
from labeler.flow_diagram.model import (
    Box,
    DishPicture,
    FlowPicture,
    Inflow,
    Kind,
    Load,
    Missing,
    Move,
    Origin,
    Outflow,
    PartPicture,
    Remark,
)
from labeler.flow_diagram.words import details_of, shares_in_words
from labeler.foods.model import WeighedRecipe
from labeler.parsing.instructions.model import Span
from labeler.types import Interval, Status

__all__ = ["flow_picture"]

HEAVIEST = 10
_NAMES, _WORTH_NAMING = 4, 0.04
TOLD = ("ENERC_KCAL", "FAT", "CHOCDF", "PROCNT", "NA")
"""Nutrients that are told of an arrow."""
# An ingredient is said not to be in the dish where so much of it leaves as food, or less than so much is there.
_FOOD_MISSED, _SPENT_MISSED = 0.2, 0.5


def flow_picture(weighed: WeighedRecipe, dish: Dish, flow: Flow, carried: Iterable[Carried]) -> FlowPicture:
    """The picture of a method as it was read and done.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
    flow : Flow
        Of the same recipe, its parts in the order of `weighed`.
    carried : iterable of Carried
        What each arrow of the flow carried; an arrow that is not among them is drawn without figures.
    """
    account = Account(weighed, dish, flow, tuple(carried))
    put_in = _put_in(account)
    parts: list[PartPicture] = []
    first = 1
    for at, part in enumerate(flow.parts):
        parts.append(_part(account, at, part, first, put_in))
        first += len(part.nodes)
    came, served = _all_put_in(account), load_of(dish.mix)
    assert came.grams is not None and served.grams is not None
    grams = max(0.0, came.grams.best - served.grams.best)
    gone = Load(Interval(grams, grams, grams), max(0.0, came.dry - served.dry))
    food = _food_that_leaves(account, put_in)
    return FlowPicture(
        weighed.recipe.title, tuple(parts), _dish(account, put_in), came, gone, food
    )  # fmt: skip


def _food_that_leaves(account: Account, put_in: PutIn) -> float:
    """Weight of the foods that leave, what baths are made of left out [g]."""
    grams = 0.0
    for one in account.carried:
        if _leaves_as_food(account, one, put_in):
            masses, doubted = zip(one.mix.items, one.mix.mass[0], strict=True), account.doubted(one.part, one.source)
            foods = [
                float(mass) for item, mass in masses if (item.part, item.line) in doubted or not leaves_by_trade(item)
            ]
            grams += sum(foods) * times_of(account.dish, account.flow.parts[one.part].title)
    return grams


def _leaves_as_food(account: Account, one: Carried, put_in: PutIn) -> bool:
    """Whether an arrow is food that leaves the recipe, and does not go on into another part."""
    if one.node is not None or one.in_dish:
        return False
    doubted = account.doubted(one.part, one.source)
    if not doubted and kind_of_stream(one.fate, one.stream, one.mix, put_in) is not Kind.FOOD:
        return False
    leaves = account.flow.parts[one.part].leaves
    return all(
        goes_on(account.weighed, account.flow, one.part, told) is None for told in leaves if told.source == one.source
    )


def load_of(mix: Mixture | None) -> Load:
    """What an arrow carries: grams, dry matter and salt, ingredients."""
    if mix is None:
        return Load()
    by_name: dict[str, float] = {}
    for item, grams in zip(mix.items, mix.mass[0], strict=True):
        by_name[item.name] = by_name.get(item.name, 0.0) + float(grams)
    whole = sum(by_name.values())
    ranked = sorted(by_name.items(), key=lambda pair: -pair[1])
    names = [name for name, grams in ranked[:_NAMES] if grams >= _WORTH_NAMING * whole and grams > 0]
    dry = max(0.0, float(dry_matter(mix)[0].sum()))
    return Load(interval_of(mix.total_mass), dry, tuple(names), tuple(_values(mix)))


def _values(mix: Mixture) -> Iterator[tuple[str, float, bool]]:
    """Some nutrients of a mixture: tagname, amount of the best estimate, whether each ingredient's figure is known."""
    total, here = mix.rows(0, 1).total[0], mix.mass[0] > DUST
    for tag in TOLD:
        at = mix.keys.index(tag)
        yield tag, float(total[at]), not bool((mix.status[here, at] == Status.MISSING).any())


def _put_in(account: Account) -> PutIn:
    """What each line of the recipe brought."""
    found = PutIn()
    for one in account.carried:
        if isinstance(one.source, FromLine | FromUnlisted) and not _borrowed(account, one):
            found.add(one.mix)
    return found


def _borrowed(account: Account, one: Carried) -> bool:
    """Whether an arrow comes from a line that takes from another part."""
    return isinstance(one.source, FromLine) and account.taken(one.part, one.source) is not None


def _other_part(account: Account, at: int, brought: Mixture) -> int | None:
    """Place of the part whose ingredients a node got from nowhere, where they are of another part."""
    titles = [part.title for part in account.flow.parts]
    parts = {item.part for item in brought.items} - {titles[at]}
    return next((titles.index(title) for title in titles if title in parts), None)


def _all_put_in(account: Account) -> Load:
    """Everything that was put in, what nobody listed too."""
    mixes = [
        one.mix.rows(0, 1).scaled(times_of(account.dish, account.flow.parts[one.part].title))
        for one in account.carried
        if (one.source is None and one.node is not None and _other_part(account, one.part, one.mix) is None)
        or (isinstance(one.source, FromLine | FromUnlisted) and not _borrowed(account, one))
    ]
    return load_of(join(mixes) if mixes else empty(1))


def _part(account: Account, at: int, part: PartFlow, first: int, put_in: PutIn) -> PartPicture:
    inflows: list[Inflow] = []
    moves: list[Move] = []
    for node, told in enumerate(part.nodes):
        implied = told.basis is not Basis.WRITTEN
        for portion in _once(told.inputs):
            mix = account.arrow(at, portion.source, node=node)
            dashed = implied or portion.basis is not Basis.WRITTEN
            if isinstance(portion.source, FromNode):
                moves.append(_move(part, portion.source, node, mix, dashed))
            else:
                inflows.append(_inflow(account, at, portion, portion.source, node, mix, dashed))
        brought = account.arrow(at, None, node=node)
        if brought is not None:
            name = ", ".join(dict.fromkeys(item.name for item in brought.items))
            stated = told.settings.water is not None or told.settings.salt is not None
            other = _other_part(account, at, brought)
            origin = Origin.UNLISTED if stated else Origin.TAKEN_FOR_GRANTED
            origin = origin if other is None else Origin.PART
            dashed = other is None and not stated
            inflows.append(Inflow(node, name, load_of(brought), origin=origin, part=other, implied=dashed))
    for source in part.dish:
        mix = account.arrow(at, source, node=None, in_dish=True)
        if isinstance(source, FromNode):
            moves.append(_move(part, source, None, mix, False))
        else:
            inflows.append(_inflow(account, at, Portion(source), source, None, mix, False))
    outflows = [_outflow(account, at, one, put_in) for one in _departures(account, at, part)]
    made = [one.mix for one in account.carried if one.part == at and one.in_dish]
    return PartPicture(
        title=part.title,
        boxes=tuple(_box(told, first + node) for node, told in enumerate(part.nodes)),
        inflows=tuple(inflows),
        moves=tuple(moves),
        outflows=(*outflows, *_into_the_air(account, at, put_in)),
        made=load_of(join(made) if made else None),
        remarks=tuple(_remarks(part)),
        served=not account.dish.served or part.title in account.dish.served,
        times=times_of(account.dish, part.title),
        left_over=next((one.left_over for one in account.dish.ledgers if one.part == part.title), 0.0),
    )


def _once(inputs: Iterable[Portion]) -> Iterator[Portion]:
    """Portions by source: two of one source are one arrow."""
    seen: set[Source] = set()
    for portion in inputs:
        if portion.source not in seen:
            seen.add(portion.source)
            yield portion


_JOINS_ON = re.compile(r"^(?:[\s,;:&–-]+|(?:and|then|or|but|also)\b)+", re.IGNORECASE)


def _as_sentence(text: str) -> str:
    """The words of a step without what joined them to the words before it: "and refrigerate" is "Refrigerate"."""
    whole = _JOINS_ON.sub("", text)
    return f"{whole[:1].upper()}{whole[1:]}"


def _box(node: Node, number: int) -> Box:
    implied = node.basis is not Basis.WRITTEN
    words = _as_sentence(node.text) or node.why or node.action.replace("-", " ")
    return Box(str(number), words, details_of(node), node.vessel, implied, node.why)


def _inflow(
    account: Account,
    at: int,
    portion: Portion,
    source: FromLine | FromUnlisted,
    node: int | None,
    mix: Mixture | None,
    implied: bool,
) -> Inflow:
    whole = [one.mix for one in account.carried if one.part == at and one.source == source]
    share = None if portion.share is None else portion.share.best
    if mix is not None and len(whole) > 1:
        all_of_it = sum(float(one.total_mass[0]) for one in whole)
        share = float(mix.total_mass[0]) / all_of_it if all_of_it > 0 else share
    origin, other = Origin.UNLISTED, None
    if isinstance(source, FromLine):
        title = account.taken(at, source)
        titles = [one.title for one in account.flow.parts]
        other = titles.index(title) if title in titles else None
        origin = Origin.LINE if other is None else Origin.PART
    return Inflow(node, account.name(at, source), load_of(mix), share, origin, other, implied)


def _move(part: PartFlow, source: FromNode, node: int | None, mix: Mixture | None, implied: bool) -> Move:
    off = source.port is Port.OFF
    called = "" if off else part.nodes[source.node].name
    if off:
        called = next((one.name for one in part.leaves if one.source == source and one.name), "")
    return Move(source.node, off, node, load_of(mix), called, implied)


def _outflow(account: Account, at: int, one: Departure, put_in: PutIn) -> Outflow:
    mix = account.arrow(at, one.source, node=None)
    node = one.source.node if isinstance(one.source, FromNode) else None
    name = one.name
    if not name and isinstance(one.source, FromLine | FromUnlisted):
        name = account.name(at, one.source)
    streams = dict.fromkeys(
        carried.stream
        for carried in account.carried
        if carried.part == at and carried.source == one.source and carried.node is None and not carried.in_dish
    )
    name = name or ", ".join(stream for stream in streams if stream) or "left behind"
    other = goes_on(account.weighed, account.flow, at, one)
    why = account.doubt(at, one.source)
    return Outflow(
        node,
        name,
        load_of(mix),
        Kind.ONWARD
        if other is not None
        else Kind.FOOD
        if why
        else kind_of_stream(one.fate, next(iter(streams), ""), mix, put_in),
        shares_in_words(lost_in(mix, put_in)),
        bool(why) or one.fate is Fate.INFERRED or one.basis is Basis.ASSUMED,
        other,
        why,
    )


def _departures(account: Account, at: int, part: PartFlow) -> tuple[Departure, ...]:
    """What leaves by the flow, and what it leaves unsaid and was left behind when it was done."""
    words = {one.source for one in part.leaves}
    rest = {
        one.source: Departure(one.source, one.fate or Fate.TRADE, name=one.name)
        for one in account.carried
        if one.part == at
        and one.node is None
        and not one.in_dish
        and one.source is not None
        and one.source not in words
    }
    carried = {one.source for one in account.carried if one.part == at and one.node is None and not one.in_dish}
    # Where the flow was executed, what carried nothing is none.
    return (*(one for one in part.leaves if one.source in carried or not account.carried), *rest.values())


def _into_the_air(account: Account, at: int, put_in: PutIn) -> Iterator[Outflow]:
    """What a node loses that is no portion of the flow: steam, alcohol, what sticks to the pan."""
    found: dict[tuple[int, str], list[Mixture]] = {}
    for one in account.carried:
        if one.part == at and one.source is None and one.node is None and one.from_node is not None:
            found.setdefault((one.from_node, one.name or one.stream), []).append(one.mix)
    for (node, name), mixes in sorted(found.items()):
        mix = join(mixes)
        if abs(float(mix.total_mass[0])) >= DUST:
            yield Outflow(node, name, load_of(mix), Kind.SPENT, shares_in_words(lost_in(mix, put_in)))


def _remarks(part: PartFlow) -> Iterator[Remark]:
    """Words that were not read, and questions that words leave open, before the first box that stands after them."""
    for one in part.unread:
        yield Remark(_box_after(part, one.span), one.text)
    for reading in part.readings:
        yield Remark(_box_after(part, reading.choice.question.span), question_of(reading), asks=True)


def _box_after(part: PartFlow, span: Span) -> int:
    """Place of the first box whose words stand behind some words."""
    place = (span.line, span.start)
    later = (at for at, node in enumerate(part.nodes) if node.text and (node.span.line, node.span.start) > place)
    return next(later, len(part.nodes))


def _dish(account: Account, put_in: PutIn) -> DishPicture:
    mix = account.dish.mix
    by_name: dict[str, float] = {}
    for item, grams in zip(mix.items, mix.mass[0], strict=True):
        by_name[item.name] = by_name.get(item.name, 0.0) + float(grams)
    ranked = sorted(((name, grams) for name, grams in by_name.items() if grams > 0), key=lambda pair: -pair[1])
    missing = tuple(_missing(account, put_in))
    more = max(0, len(ranked) - HEAVIEST)
    return DishPicture(load_of(mix.rows(0, 1)), tuple(ranked[:HEAVIEST]), more, missing, tuple(account.unplaced()))


def _missing(account: Account, put_in: PutIn) -> Iterator[Missing]:
    kept = kept_shares(account.weighed, account.dish, account.flow, account.carried)
    food = _lost_as_food(account, put_in)
    for at, part in enumerate(account.weighed.parts):
        for index, line in enumerate(part.lines):
            if line.part is not None or line.kept is not None or (line.match is None and line.grams is None):
                continue
            name, place = account.name(at, FromLine(index)), Place(at, index)
            if place not in kept:
                yield Missing(name, None, Kind.FOOD)
                continue
            share = kept[place]
            if share is None:
                continue
            key = (account.flow.parts[at].title, line.line.number)
            if put_in.dry.get(key, 0.0) > DUST and food.get(key, 0.0) >= _FOOD_MISSED * put_in.dry[key]:
                yield Missing(name, share.best, Kind.FOOD)
            elif share.best < _SPENT_MISSED:
                yield Missing(name, share.best, Kind.SPENT)


def _lost_as_food(account: Account, put_in: PutIn) -> dict[Key, float]:
    """Dry matter and salt of each line that leaves as food [g]; what is part of a bath that leaves by trade is not."""
    found: dict[Key, float] = {}
    for one in account.carried:
        if not _leaves_as_food(account, one, put_in):
            continue
        doubted = account.doubted(one.part, one.source)
        for item, dry in zip(one.mix.items, dry_matter(one.mix)[0], strict=True):
            key = (item.part, item.line)
            by_trade = item.facts.bones or (one.fate is Fate.TRADE and leaves_by_trade(item))
            if key in doubted or not by_trade:
                found[key] = found.get(key, 0.0) + max(0.0, float(dry))
    return found
