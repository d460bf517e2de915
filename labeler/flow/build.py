"""From the method as read and the foods of its lines to a flow: what enters where, what leaves and why.

The walk goes through the instructions in order and keeps a table of heaps (`heaps`). Each instruction is about the heap
that it names, else about the one in focus; foods join it, something is done to it, something is parted from it. At the
end every heap that is open is the dish (R7), baths and drippings that nothing took leave by trade, and lines that
nothing has placed go in where the recipe takes them for granted (R5).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from labeler.flow.alternatives import one_way_of_each
from labeler.flow.bring_together import MEASURES, bring_together
from labeler.flow.choices import Choices, Doubt, Question, likely
from labeler.flow.closing import close
from labeler.flow.greasing import grease
from labeler.flow.heaps import Nature, State, settings_of
from labeler.flow.heat import goes_on_as, heat
from labeler.flow.ingredients import ingredients_of
from labeler.flow.lines_by_place import with_lines
from labeler.flow.looking_ahead import heated_next
from labeler.flow.model import Flow, FromLine, PartFlow, Settings
from labeler.flow.naming import namings_of
from labeler.flow.new_water import BACK_TO_BOIL, fills_vessel, goes_into_water, sets_water_on, told_water
from labeler.flow.removals import remove
from labeler.flow.shaping import hold_filling, hold_together
from labeler.flow.shares import apart_from_rest, is_part_of_made
from labeler.flow.target import Target, only_utensils
from labeler.flow.targets import targets_of
from labeler.flow.to_taste import with_seasoning
from labeler.flow.walk import Walk
from labeler.foods.food_class import FLESH
from labeler.foods.matching.name_words import words
from labeler.foods.model import WeighedPart, WeighedRecipe
from labeler.markets import market_of
from labeler.parsing.instructions.actions import Action, Gathers, Handler, Heat, Trait, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Extent, Instruction, Manner, Mark, Mood, Role
from labeler.parsing.instructions.parser import Method, read_method

__all__ = ["build_flow", "build_part"]

_REMOVES = frozenset(
    [
        *(Handler.DRAIN, Handler.RINSE, Handler.SQUEEZE, Handler.PAT, Handler.STRAIN, Handler.SKIM, Handler.LIFT),
        *(Handler.DISCARD, Handler.KEEP),
    ]
)
_TELLS = frozenset([Handler.WEIGH, Handler.MAKE, Handler.LEFT])  # a figure counts even where it is only told


def build_flow(
    weighed: WeighedRecipe, *, market: str | None = None, answers: Sequence[Mapping[Question, int]] = ()
) -> Flow:
    """The flow of a recipe: what its method brings together, in which shares, and what leaves.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str or None
        Whose cups and spoons the method speaks of; None takes the market that the recipe was weighed for, else the
        head's, else us.
    answers : sequence of mappings of Question to int
        For each part, ways to read what is left open, by their place among the options; the first where none is given.

    Returns
    -------
    Flow
        One `PartFlow` for each part: nodes in the order of the method, what is in the dish, what leaves and why, and
        what of the method was not read. Raises nothing for any method.

    Examples
    --------
    >>> recipe = labeler.read_recipe("# Pasta\\n- 100 g pasta\\n- 1 l water\\n> boil the pasta\\n> drain\\n")
    >>> flow = labeler.build_flow(labeler.weigh(recipe))
    >>> [node.action for node in flow.parts[0].nodes]
    ['boil', 'drain']
    """
    market = market_of(weighed.recipe, market or weighed.market)
    parts = []
    for at, part in enumerate(weighed.parts):
        method = read_method(weighed.recipe.parts[at], market=market) if at < len(weighed.recipe.parts) else Method(())
        given = answers[at] if at < len(answers) else MappingProxyType({})
        parts.append(build_part(part, method, market=market, dish=weighed.recipe.title, answers=given))
    return Flow(tuple(parts))


def _basted_first(instructions: tuple[Instruction, ...]) -> tuple[Instruction, ...]:
    """The same, with what food is basted with while it cooks before the heat: "roast for an hour, basting with ..."."""
    found = list(instructions)
    for at in range(1, len(found)):
        one, before = found[at], found[at - 1]
        bastes = one.adjunct and action(one.action).handler is Handler.GREASE and one.sentence == before.sentence
        if bastes and action(before.action).heat is not Heat.NONE:
            found[at - 1 : at + 1] = [one, before]
    return tuple(found)


def build_part(
    part: WeighedPart,
    method: Method,
    *,
    market: str,
    dish: str = "",
    answers: Mapping[Question, int] = MappingProxyType({}),
) -> PartFlow:
    """The flow of one part.

    Parameters
    ----------
    part : WeighedPart
    method : Method
        Its instructions.
    market : str
    dish : str
        What the recipe is called, which a part without a title goes by.
    answers : mapping of Question to int
        Ways to read what is left open, by their place among the options; the first, where none is given.
    """
    choices = Choices(answers)
    instructions, left_out = one_way_of_each(method.instructions, choices)
    ingredients = ingredients_of(part.lines)
    instructions = tuple(with_seasoning(with_lines(instructions, ingredients), ingredients))
    instructions = _basted_first(instructions)
    walk = Walk(part.title or dish, ingredients, instructions, market, choices=choices)
    walk.other_way = walk.named_only_in(left_out)
    _note_names(walk, instructions)
    sentence = -1
    for at, one in enumerate(instructions):
        walk.at, walk.table.now = at, (one.span, one.text)
        if one.sentence != sentence:
            _new_sentence(walk, one)
            sentence = one.sentence
        spoken_of, focus = walk.it, walk.live(walk.focus)
        _do(walk, one)
        if focus is not None and _prepares(one, instructions[at + 1 :]):
            walk.focus = walk.live(focus) or walk.focus
        if walk.it is spoken_of:
            walk.it = None
    return replace(
        close(walk, part, method),
        namings=namings_of(walk.ingredients, instructions),
        called_after=_called_after(walk),
    )


def _called_after(walk: Walk) -> frozenset[FromLine]:
    """Meat, fish and poultry that the dish is called after; none of a broth or a sauce, which are strained."""
    told = frozenset(words(walk.title))
    if any(is_class(word, "product-liquid") for word in told):
        return frozenset()
    lines = (one for one in walk.ingredients if one.kind in FLESH)
    return frozenset(one.source for one in lines if told & frozenset(words(one.line.line.name)))


def _roles_added(row: Action) -> frozenset[Role]:
    """In which roles an action names what comes to the food: "add the peas", "roll in the seeds"."""
    if row.handler is Handler.COAT:
        return frozenset({Role.INTO, Role.WITH})
    return frozenset({Role.OBJECT, Role.WITH} if row.gathers is Gathers.INTO else {Role.WITH})


def _note_names(walk: Walk, instructions: Sequence[Instruction]) -> None:
    """Remember which foods the method names, and where, before it is walked through."""
    made: set[str] = set()
    for at, one in enumerate(instructions):
        row = action(one.action)
        mentions = [m for m in one.mentions if m.name not in made]
        gathers = row.gathers is not Gathers.APART and row.handler not in _REMOVES | MEASURES | {Handler.SEPARATE}
        waits = row.handler is Handler.KEEP and Mark.FOR_LATER in one.marks  # it goes into nothing before
        kept_out = row.handler is Handler.DISCARD and Manner.KEEPS_OUT in one.manners
        if gathers and one.mood in (Mood.DO, Mood.MAY):
            walk.binder.note(mentions, at, adds=_roles_added(row))
        elif row.handler is Handler.LIFT and one.mood is Mood.DO:
            walk.binder.note([m for m in one.mentions if m.role is Role.OBJECT], at, out=True)
        elif waits or kept_out:
            walk.binder.note(one.mentions, at)
        if row.handler is Handler.KEEP:  # "reserve the sauce": from here on it is called so, and not the soy sauce
            made |= {m.name for m in one.mentions if m.role is Role.OBJECT and is_class(m.name, "product-liquid")}
            made |= {one.names} - {""}
    for at, one in enumerate(instructions):
        if one.mood is Mood.DO and action(one.action).gathers is Gathers.INTO:
            walk.binder.note_groups(one.mentions, at)


def _prepares(one: Instruction, later: Sequence[Instruction]) -> bool:
    """Whether it tells what was done before to a food that its sentence goes on to use: "add the rice, boiled, ..."."""
    names = {mention.name for mention in one.mentions if mention.role is Role.OBJECT}
    return one.adjunct and any(
        not other.adjunct and names & {mention.name for mention in other.mentions}
        for other in later
        if other.sentence == one.sentence
    )


def _new_sentence(walk: Walk, one: Instruction) -> None:
    """R3: after what was done meanwhile, the heap that waited is spoken of again."""
    if walk.waiting is not None:
        waited = walk.live(walk.waiting)
        walk.waiting = None
        if waited is not None and not one.parallel:
            walk.focus = waited
    if one.parallel:
        walk.waiting = walk.live(walk.focus)


# R9: what is offered is done, but removes no food. How likely: choices, no source.
_LEFT_UNDONE = likely("left undone", "done", weights=(0.5, 0.5))
_DONE_TOO = likely("done", "left undone", weights=(0.6, 0.4))


def _offered(one: Instruction) -> Question:
    return Question(Doubt.OFFERED, one.span)


def _do(walk: Walk, one: Instruction) -> None:
    """One instruction: nothing, where it is only told or offered and left; else what its action does."""
    if one.mood is Mood.NOT:
        _stays_in(walk, one)
    if not _is_done(walk, one):
        return
    if action(one.action).handler is Handler.VESSEL:
        walk.oven = one.celsius if one.celsius is not None else walk.oven
        return
    one, targets = told_water(one, targets_of(walk, one))
    row = action(one.action)
    brings = row.heat is not Heat.NONE or any(target.unlisted for target in targets)
    if one.mood is Mood.MAY and brings and walk.choices.pick(_offered(one), _DONE_TOO):
        return
    if _is_only_set_up(walk, one, targets):
        return
    one, targets = _into_boiling_water(walk, one, targets)
    row = action(one.action)
    if row.heat is Heat.NONE and (only_utensils(one, targets) or fills_vessel(one, targets)):
        return  # "soak the skewers", "fill a bowl with water"
    if _softens_cold(walk, one, targets):
        one = replace(one, action="stand")
        row = action(one.action)
    makes = row.handler is Handler.MAKE
    if makes and targets and not any(t.fresh or t.heaps or t.focus or t.rest for t in targets):
        targets = []  # "roll into ropes": what is in hand becomes that
    if not makes:
        hold_together(walk, one, targets)
    _act(walk, one, targets)


def _is_done(walk: Walk, one: Instruction) -> bool:
    """Whether an instruction is one to follow: no denial, no correction, no remark without a figure, no offer left."""
    row = action(one.action)
    if one.mood is Mood.SAYS:
        return row.handler in _TELLS and settings_of(one) != Settings(marks=one.marks)
    if one.mood is Mood.MAY and row.handler in _REMOVES:
        return bool(walk.choices.pick(_offered(one), _LEFT_UNDONE))
    return one.mood not in (Mood.NOT, Mood.IF)


def _is_only_set_up(walk: Walk, one: Instruction, targets: list[Target]) -> bool:
    """What is done to a vessel or to water of no line: "heat a large pan", "bring a pot of water to the boil"."""
    row = action(one.action)
    around = Mark.AROUND in one.marks and row.handler is Handler.NONE
    if around and not any(t.fresh for t in targets):
        return True  # "pour in water to come halfway up the tins": it is around them
    if row.heat is Heat.NONE:
        return False
    only_vessel = bool(one.vessel) and one.minutes is None and all(t.nothing for t in targets)
    if only_vessel and any(m.role is Role.OBJECT for m in one.mentions):
        return True
    if not sets_water_on(targets):
        return False
    walk.bath_at, walk.water_on = walk.at, True  # what is named next goes in there
    return True


def _into_boiling_water(walk: Walk, one: Instruction, targets: list[Target]) -> tuple[Instruction, list[Target]]:
    """What is added to water that was set on is boiled in it."""
    row = action(one.action)
    adds, just_now = row.gathers is Gathers.INTO, walk.bath_at == walk.at - 1
    into_water = goes_into_water(targets, water_on=walk.water_on, adds=adds, just_now=just_now)
    if row.heat is not Heat.NONE or not into_water:
        return one, targets
    walk.water_on = False
    timed = replace(one, minutes=one.minutes or BACK_TO_BOIL) if heated_next(walk) else one
    boiled = replace(timed, action="boil", marks=one.marks | {Mark.WATER})
    return boiled, [t for t in targets if t.mention.role is not Role.INTO]


def _act(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """What an action does: it removes, it parts, or it gathers."""
    row = action(one.action)
    if row.handler in _REMOVES and _stays_in_its_liquid(walk, one):
        return
    if row.handler in _REMOVES or Trait.SHAKES in row.traits:
        remove(walk, one, targets)
    elif row.gathers is Gathers.APART:
        _apart(walk, one, targets)
        over_vessel = Trait.CUTS in row.traits and Mark.SAME_VESSEL in one.marks
        if over_vessel and walk.table.with_vessel(one.vessel) is not None:
            bring_together(walk, replace(one, action="add"), targets)  # "grate the tomatoes over the pan"
    else:
        bring_together(walk, one, targets)
        hold_filling(walk, one)


def _stays_in(walk: Walk, one: Instruction) -> None:
    """ "Boil the potatoes, and do not drain": the water that food was boiled in is eaten."""
    focus = walk.live(walk.focus)
    if action(one.action).handler is Handler.DRAIN and focus is not None and focus.wet:
        focus.covered_with_water = focus.kept_in_liquid = True


def _softens_cold(walk: Walk, one: Instruction, targets: Sequence[Target]) -> bool:
    """R8: "let it wilt for 2 hours" of salted cabbage: what softens under salt or in vinegar needs no heat."""
    focus = walk.live(walk.focus)
    if Manner.SOFTENS not in one.manners or focus is None or focus.hot or one.celsius is not None:
        return False
    if one.vessel or {Mark.FLAME, Mark.GENTLE, Mark.IN_OVEN} & one.marks or any(t.fresh or t.unlisted for t in targets):
        return False
    fat = walk.grams(focus, "fat") > 0.0
    return not fat and (walk.has_liquid(focus) or walk.grams(focus, "salt", "sugar") > 0.005 * walk.grams(focus))


def _stays_in_its_liquid(walk: Walk, one: Instruction) -> bool:
    """ "Leave the fat in", "keep them in the liquid": nothing is parted."""
    focus = walk.live(walk.focus)
    if action(one.action).handler is Handler.KEEP and Mark.IN_ITS_LIQUID in one.marks:
        if focus is not None:
            focus.kept_in_liquid = True
        return True
    return False


def _apart(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """What joins nothing: cutting, greasing; in a hot pan its time is time of heat (R8)."""
    focus = walk.live(walk.focus)
    timed = one.minutes is not None and focus is not None and focus.hot and not one.parallel
    if action(one.action).handler is Handler.GREASE:
        grease(walk, one, targets)
        return
    if timed and focus is not None and focus.cooked and not any(t.fresh for t in targets):
        again = replace(one, action=goes_on_as(walk, focus), mentions=())
        heat(walk, again, focus, [])
        return
    named = [i for t in targets if t.mention.role is Role.OBJECT for i in t.fresh]
    if not named and focus is None and any(t.waste for t in targets):
        named = walk.main_flesh()
    opened = [i for t in targets if t.mention.role is Role.INTO for i in t.fresh]
    if opened and not named:
        walk.last_named, walk.opened = opened, True  # "cut slits in the joint": what follows goes in there
    elif named:
        walk.last_named = named
        walk.cut |= {i.source for i in named if Trait.CUTS in action(one.action).traits}
        amounts = ((i.source, t.quantity) for t in targets for i in t.fresh if t.quantity.extent is Extent.AMOUNT)
        walk.last_amounts = dict(amounts)
    else:
        held = next((t.heaps[0] for t in targets if t.heaps and t.mention.role is Role.OBJECT), None)
        if held is not None and held.nature is Nature.SOLIDS and held.state is not State.GONE and not one.parallel:
            held.nature = Nature.FOOD  # what is cut up after a sieve has held it back is food
        if held is not None and held.state in (State.OPEN, State.ASIDE) and held.nature is Nature.FOOD:
            walk.last_named = []
            part = next((t for t in targets if is_part_of_made(t) and held in t.heaps), None)
            walk.set_focus((apart_from_rest(walk, one, part) if part is not None else None) or held)
