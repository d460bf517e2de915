"""The facts of food safety as the executed flow of a recipe gives them.

A food is as heated as the way into the dish on which least is done to it: eggs of which half are baked and half go raw
into the cream are raw, and what is put into a bowl that hot broth is poured into is not cooked by the broth's own
simmering. What a flow does not say (cutting, stuffing, bones) the words say: `labeler.parsing.handling_words`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from labeler.cooking.passages import Passage, juices_served, passages
from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.flow.model import FromNode, Node
from labeler.food_safety.food_kinds import cooked_in_table, kinds_of, species_of
from labeler.food_safety.model import (
    Composition,
    FoodKind,
    Heating,
    HeatTreatment,
    PartFacts,
    SafetyFacts,
)
from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import words as food_words
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.markets import market_of
from labeler.parsing.food_sentences import told_of_food, told_of_line, told_of_no_other
from labeler.parsing.handling_words import Saying, sayings
from labeler.parsing.instructions.actions import Handler, Heat, Trait, action, has
from labeler.parsing.instructions.model import Instruction, Manner, Mark, Mood
from labeler.parsing.instructions.parser import read_method
from labeler.parsing.keeping import read_keeping
from labeler.parsing.model import Handling, Purpose

__all__ = ["facts_of"]

HOT_SMOKE = 60.0
"""Air of hot smoke [°C] from here on: common practice, no source; cold smoke stays under 30."""
DRY_HEAT = frozenset({Heat.DRY, Heat.FAT, Heat.MICROWAVE})
COOKS = DRY_HEAT | {Heat.WET, Heat.STEAM, Heat.BY_PLACE}
BRIEFLY = 2.0
"""Minutes up to which searing heats the surface only: common practice, no source."""
HOT_AIR = 60.0
"""Air [°C] from which drying heats food. It does not tell how warm the middle gets: USDA FSIS asks of jerky that the
meat reach 71 °C (poultry 74 °C) before it dries."""
LONG = 30.0
"""Minutes of simmering from which no inner temperature needs to be stated: common practice, no source."""
UNDERDONE = frozenset({Mark.RARE, Mark.MEDIUM_RARE})
TAKEN_OUT = {
    FoodKind.BONES: Saying.BONES_OUT,
    FoodKind.SHELLS: Saying.SHELLS_OUT,
    FoodKind.STONES: Saying.STONES_OUT,
}
SET_BY_HEAT = frozenset({Saying.WARMED, Saying.UNTIL_SET})
PACKED = frozenset({"can", "tin", "jar"})
MUCH_OIL = 0.3
"""Share of oil from which raw garlic or herbs lie in oil: pesto (common practice, no source)."""
_SMALL = 4
"""Foods up to which a part that steeps in oil is a flavoured oil."""


@dataclass(frozen=True, slots=True)
class _Food:
    """One line's food, what its words tell of it, and what the flow does to it."""

    line: WeighedLine
    part: int
    name: str
    says: frozenset[Saying]
    kinds: frozenset[FoodKind]
    species: dict[FoodKind, tuple[str, ...]]
    passage: Passage = field(default_factory=Passage)
    juice_raw: bool = False


@dataclass(frozen=True, slots=True)
class _Method:
    """The instructions that are done, by part, what the verb at each place in the text adds, and the executed flow."""

    done: tuple[tuple[Instruction, ...], ...]
    manners: dict[tuple[int, int], frozenset[Manner]]
    dish: Dish

    def nodes_of(self, part: int) -> tuple[Node, ...]:
        """Every node of a part."""
        return self.dish.flow.parts[part].nodes if self.dish.flow is not None else ()

    def manners_of(self, node: Node) -> frozenset[Manner]:
        """What the verb that a node was read from says beyond its action; nothing where it is implied."""
        return self.manners.get((node.span.line, node.span.start), frozenset())


def facts_of(weighed: WeighedRecipe, *, dish: Dish | None = None) -> SafetyFacts:
    """What a recipe's flow, lines, head and notes say of food safety.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish or None
        The recipe as it was cooked; None cooks it.
    """
    dish = dish or cook(weighed)
    method = _method(weighed, dish)
    through = passages(weighed, dish, rank=lambda node: _rank(node, method))
    boiled = _HEATINGS.index(Heating.COOKED)
    juices = juices_served(weighed, dish, rank=lambda node: _rank(node, method), enough=boiled)
    foods = []
    for at, part in enumerate(weighed.parts):
        for line in _lines(part.lines):
            key = (part.title, line.line.number, line.line.name or line.line.text)
            found = replace(_food(line, at), passage=through.get(key, Passage()), juice_raw=key in juices)
            foods.append(found)
    handling = [part.handling for part in weighed.recipe.parts]
    title = sayings(weighed.recipe.title)
    if Saying.BAKED_LATER in title:
        foods = [replace(food, kinds=food.kinds - {FoodKind.FLOUR}) for food in foods]
    told = [_told_of(food, foods, handling[food.part], method.done[food.part]) for food in foods]
    treated = tuple(
        _treatment(food, method, of_it, raw_title=Saying.RAW_DISH in title)
        for food, of_it in zip(foods, told, strict=True)
    )
    parts = tuple(_part(weighed, at, foods, method.done[at]) for at in range(len(weighed.parts)))
    return SafetyFacts(
        treated, parts, read_keeping(weighed.recipe, method.done), _composition(foods, method), any(handling)
    )


def _method(weighed: WeighedRecipe, dish: Dish) -> _Method:
    place = market_of(weighed.recipe, weighed.market)
    read = [read_method(part, market=place).instructions for part in weighed.recipe.parts]
    done = tuple(tuple(one for one in each if one.mood in (Mood.DO, Mood.MAY)) for each in read)
    manners = {(one.span.line, one.span.start): one.manners for each in done for one in each}
    return _Method(done, manners, dish)


_HEATINGS = (Heating.NONE, Heating.POURED, Heating.SURFACE, Heating.WARMED, Heating.COOKED)


def _rank(node: Node, method: _Method) -> int:
    return _HEATINGS.index(_node_heating(node, method))


def _node_heating(node: Node, method: _Method) -> Heating:
    """How far the heat of one node reaches."""
    heat, settings = action(node.action).heat, node.settings
    if has(node.action, Trait.IN_SMOKE):
        hot = settings.celsius is not None and settings.celsius.best >= HOT_SMOKE
        hot = hot or settings.core is not None or Manner.SMOKES_HOT in method.manners_of(node)
        return Heating.COOKED if hot else Heating.NONE
    if _dries_hot(node):
        return Heating.COOKED
    if heat is Heat.WARM or has(node.action, Trait.BRIEF):
        return Heating.COOKED if Mark.TO_THE_BOIL in settings.marks else Heating.WARMED
    if heat not in COOKS:
        return Heating.NONE
    short = settings.minutes is not None and settings.minutes.best <= BRIEFLY
    seconds = settings.minutes is not None and settings.minutes.best < 1.5
    seared = Manner.SEARS in method.manners_of(node) and heat is Heat.FAT
    return Heating.SURFACE if seconds and (seared or heat in DRY_HEAT) and short else Heating.COOKED


def _food(line: WeighedLine, part: int) -> _Food:
    written = line.line
    name = written.name or written.text
    beside = f"{written.preparation} {written.note}".strip()
    # "Cider vinagar" is matched as vinegar, so it is no cider here either.
    mended = " ".join(food_words(line.match.read_as if line.match is not None and line.match.read_as else name))
    species = species_of(name, line.match.food if line.match is not None and line.match.confidence >= 0.8 else None)
    kinds = kinds_of(name, beside, line.match, mended) | set(species)
    says = told_of_line(name, beside)
    if FoodKind.FISH in kinds and Saying.WHOLE in says and Saying.BONES_OUT not in says:
        kinds |= {FoodKind.BONES}
    return _Food(line, part, name, says, frozenset(kinds), species)


def _lines(part: Sequence[WeighedLine]) -> Iterator[WeighedLine]:
    for line in part:
        if line.part is None:
            yield line
            yield from line.also


_Says = frozenset[Saying]


def _told_of(
    food: _Food, foods: Sequence[_Food], handling: Sequence[Handling], done: Sequence[Instruction]
) -> tuple[_Says, ...]:
    """What the sentences of its part tell of a food: those that name it, and those that name no other."""
    others = [other.name for other in foods if other.part == food.part and other is not food]
    return (*told_of_food(food.name, (one.text for one in handling)), *told_of_no_other(others, done))


def _treatment(food: _Food, method: _Method, told_of_it: tuple[_Says, ...], *, raw_title: bool) -> HeatTreatment:
    packed = any(amount.unit in PACKED for amount in food.line.line.amounts)
    raw_meant = Saying.EATEN_RAW in food.says
    table_cooked = cooked_in_table(food.line.match) and not (raw_meant or raw_title)
    cooked_before = packed or Saying.COOKED_BEFORE in food.says or table_cooked
    nodes = food.passage.nodes
    core = next((node for node in nodes if node.settings.core is not None), None)
    told = _Says().union(*(sayings(node.text) for node in nodes), *told_of_it)
    grams = food.line.grams.best if food.line.grams is not None else None
    match = food.line.match
    told_in_all = told | sayings(f"{food.line.line.preparation} {food.line.line.note}")
    return HeatTreatment(
        food.name,
        food.line.line.text.strip(),
        food.kinds,
        food.part,
        match.food if match is not None else None,
        tuple(name for names in food.species.values() for name in names),
        _heating(food, method, told_of_it),
        cooked_before and (packed or Saying.RAW not in food.says),  # "cooked or raw": the careful reading
        any(map(_is_dry_heat, nodes)),
        any(node.settings.marks & UNDERDONE for node in nodes) or Saying.LEFT_PINK in told,
        raw_meant or raw_title,
        core.settings.core.best if core is not None and core.settings.core is not None else None,
        core.text if core is not None else "",
        any(map(_simmers_long, nodes)),
        Saying.STUFFED in told,
        Saying.CUT in told_in_all,
        frozenset(kind for kind, saying in TAKEN_OUT.items() if saying in told_in_all),
        any(action(node.action).handler is Handler.LIE for node in nodes),
        grams,
        food.juice_raw,
    )


def _dries_hot(node: Node) -> bool:
    air = node.settings.celsius
    return action(node.action).handler is Handler.DRY and air is not None and air.best >= HOT_AIR


def _is_dry_heat(node: Node) -> bool:
    return (action(node.action).heat in DRY_HEAT and not has(node.action, Trait.IN_SMOKE)) or _dries_hot(node)


def _simmers_long(node: Node) -> bool:
    minutes = node.settings.minutes
    return action(node.action).heat in (Heat.WET, Heat.STEAM) and minutes is not None and minutes.best >= LONG


def _heating(food: _Food, method: _Method, told_of_it: tuple[_Says, ...]) -> Heating:
    """The most heat that reaches a food on the way on which least does."""
    least = food.passage.least
    most = max((_rank(node, method) for node in least), default=0)
    if most == 0 and food.line.line.purpose is Purpose.DUSTING and not any(node.text for node in least):
        least = method.nodes_of(food.part)  # flour for the work surface goes where the dough goes
        most = max((_rank(node, method) for node in least), default=0)
    if most == 0 and any(told >= SET_BY_HEAT for told in told_of_it):
        return Heating.WARMED
    if most == 0 and _meets_hot_liquid(food, method):
        return Heating.POURED
    return _HEATINGS[most]


def _meets_hot_liquid(food: _Food, method: _Method) -> bool:
    """Whether something that was just heated comes to a food that is not heated itself."""
    assert method.dish.flow is not None
    nodes = next((part.nodes for part in method.dish.flow.parts if set(food.passage.least[:1]) <= set(part.nodes)), ())
    before: Node | None = None
    for node in food.passage.least:
        sources = [portion.source for portion in node.inputs if isinstance(portion.source, FromNode)]
        for source in sources:
            at = nodes[source.node] if source.node < len(nodes) else None
            if at is not None and at is not before and _is_hot(at, nodes, method):
                return True
        before = node
    return False


def _is_hot(node: Node, nodes: Sequence[Node], method: _Method) -> bool:
    if _rank(node, method) > 0:
        return True
    sources = [portion.source.node for portion in node.inputs if isinstance(portion.source, FromNode)]
    gathers = action(node.action).handler in (Handler.NONE, Handler.LIFT, Handler.STRAIN, Handler.DRAIN, Handler.LADLE)
    return gathers and any(_is_hot(nodes[at], nodes, method) for at in sources)


def _part(weighed: WeighedRecipe, at: int, foods: list[_Food], done: Sequence[Instruction]) -> PartFacts:
    here = [food for food in foods if food.part == at]
    title = weighed.parts[at].title or weighed.recipe.title
    few = len(here) <= _SMALL
    steeped = few and any(action(one.action).handler is Handler.LIE for one in done)
    oil = [food for food in here if FoodKind.OIL in food.kinds]
    in_oil = Saying.IN_OIL in sayings(title) or (steeped and bool(oil)) or _share(oil, here) >= MUCH_OIL
    return PartFacts(title, in_oil, Saying.IN_FAT in sayings(title) and few)


def _share(some: list[_Food], every: list[_Food]) -> float:
    """Share of the weight, 0 where a weight is not known or where heat reaches one of the foods."""
    grams = [food.line.grams.best if food.line.grams is not None else 0.0 for food in every]
    heated = any(action(node.action).heat in COOKS for food in every for node in food.passage.nodes)
    if heated or not grams or not all(grams):
        return 0.0
    return sum(one for one, food in zip(grams, every, strict=True) if food in some) / sum(grams)


def _composition(foods: list[_Food], method: _Method) -> Composition | None:
    """The whole before it is cooked; None where a food or a weight is not known."""
    table = load_table()
    total = water = salt = sugar = flour = 0.0
    for food in foods:
        match, grams = food.line.match, food.line.grams
        if match is None or match.food is None or match.food not in table or grams is None:
            return None
        values = [table.value(match.food, name) for name in ("WATER", "NA", "SUGAR")]
        total += grams.best
        water += grams.best * _known(values[0]) / 100
        salt += grams.best * _known(values[1]) / 100 * 2.54e-3
        sugar += grams.best * _known(values[2]) / 100
        flour += grams.best * (FoodKind.FLOUR in food.kinds)
    oven = any(_bakes_through(one) for each in method.done for one in each)
    return Composition(total, water, salt, sugar, flour, oven) if total else None


def _bakes_through(one: Instruction) -> bool:
    """Whether it is baked, roasted or fried in deep fat."""
    row = action(one.action)
    return row.heat in DRY_HEAT and has(one.action, Trait.IN_TIN, Trait.IN_FAT)


def _known(value: float) -> float:
    return value if value == value else 0.0
