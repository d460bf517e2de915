"""The state of the walk through a method: what lies where, what is left of each line, what the last step was about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from labeler.flow.bind import Binder
from labeler.flow.choices import Choices, Option, Question
from labeler.flow.heaps import Food, Heap, Nature, State, Table
from labeler.flow.ingredients import Ingredient
from labeler.flow.kind_sets import NO_PIECES, SEASONS
from labeler.flow.made_things import curd_of, goes_by_title, mixed_before, rolled_out
from labeler.flow.meant import (
    is_rest_of_nothing,
    is_result,
    is_what_is_made,
    made_thing,
    part_of_food_meant,
    rest_of_nothing,
)
from labeler.flow.model import Departure, FromLine, FromUnlisted, Portion, Unlisted
from labeler.flow.named_food import known_food
from labeler.flow.named_sets import set_meant
from labeler.flow.portions import done_in_batches, share_of_amount
from labeler.flow.target import Target
from labeler.flow.unlisted_amounts import grams_added
from labeler.foods.food_class import FLESH, LIQUOR, WATER_TAKERS, is_raw, kind_of
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Quantity, Role
from labeler.text.plurals import singular
from labeler.types import Interval, Problem

__all__ = ["Walk"]

_COOKED_IN = ("vessel-pan", "vessel-pot", "vessel-oven")
_OF_A_FOOD = frozenset({Handler.DISCARD, Handler.SQUEEZE})


@dataclass
class Walk:
    """What the walk through the method of one part carries along.

    Parameters
    ----------
    title : str
    ingredients : tuple of Ingredient
    instructions : sequence of Instruction
    left : dict
        Share of each line's food that nothing has taken yet.
    focus : Heap or None
        What the last step was about.
    before_aside : Heap or None
        What it was about before something was done meanwhile.
    oven : Interval or None
        Heat of the oven [°C].
    last_named : list of Ingredient
        What was cut or washed just before, and nothing has happened to yet.
    """

    title: str
    ingredients: tuple[Ingredient, ...]
    instructions: Sequence[Instruction]
    market: str
    table: Table = field(default_factory=Table)
    left: dict[FromLine, float] = field(default_factory=dict)
    unlisted: list[Unlisted] = field(default_factory=list)
    leaves: list[Departure] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    choices: Choices = field(default_factory=Choices)
    focus: Heap | None = None
    bath_at: int = -2  # place of the instruction that has set new water on
    water_on: bool = False  # new water was set on, and nothing is in it yet
    waiting: Heap | None = None
    it: Heap | None = None  # the by-product that was just poured off: what "it" means next
    oven: Interval | None = None
    last_named: list[Ingredient] = field(default_factory=list)
    cut: set[FromLine] = field(default_factory=set)  # what was cut up: no sprig of it is taken out
    last_amounts: dict[FromLine, Quantity] = field(default_factory=dict)  # how much of each the words have just cut
    stated: set[FromLine] = field(default_factory=set)  # the words have taken a share or an amount of them
    swollen: set[Food] = field(default_factory=set)  # what was dry and has boiled
    beaten: set[Food] = field(default_factory=set)  # eggs that were whisked or stirred: they go through a sieve
    sets: dict[str, tuple[Ingredient, ...]] = field(default_factory=dict)  # foods that the method gives a name
    other_way: frozenset[FromLine] = frozenset()  # foods that only a way names that is not taken
    opened: bool = False  # they were cut open, and what is named next goes in there
    at: int = 0
    coated_at: int = -1  # the instruction by which food was last turned in a coat
    binder: Binder = field(init=False)

    def __post_init__(self) -> None:
        self.left = {one.source: 1.0 for one in self.ingredients}
        self.by_source = {one.source: one for one in self.ingredients}
        self.binder = Binder(self.ingredients, self.table, self.left, self.market)

    # --- what there is ----------------------------------------------------------------------------------------------

    def grams(self, heap: Heap, *kinds: str) -> float:
        """What a heap weighs, roughly, of some kinds or of all [g]: as put in.

        Liquid and fat that are kneaded or shaped into a food are not counted as liquid and fat.
        """
        return sum(
            self.grams_of(food) * share
            for food, share in heap.foods.items()
            if not kinds
            or (self.kind(food) in kinds and not (food in heap.bound and self.kind(food) in LIQUOR | NO_PIECES))
        )

    def grams_of(self, food: Food) -> float:
        """What a food weighs as put in [g]."""
        if isinstance(food, FromUnlisted):
            weight = self.unlisted[food.index].grams
            return weight.best if weight is not None else 0.0
        return self.by_source[food].grams

    def kind(self, food: Food) -> str:
        """Kitchen kind of a food."""
        if isinstance(food, FromUnlisted):
            return kind_of(self.unlisted[food.index].food)
        return self.by_source[food].kind

    def table_id(self, food: Food) -> str | None:
        """Table id of a food."""
        if isinstance(food, FromUnlisted):
            return self.unlisted[food.index].food
        return found.food if (found := self.by_source[food].line.match) is not None else None

    def liquid_share(self, heap: Heap) -> float:
        """Part of a heap that surrounds the rest, roughly."""
        total = self.grams(heap)
        return self.grams(heap, *LIQUOR) / total if total > 0.0 else 0.0

    def has_liquid(self, heap: Heap) -> bool:
        """Whether food lies in liquid."""
        if heap.wet:
            return True
        if any(
            isinstance(food, FromLine) and (self.by_source[food].part or self.by_source[food].line.kept is not None)
            for food in heap.foods
        ):
            return True  # what another part made may be liquid
        liquor = self.grams(heap, *LIQUOR)
        return liquor > 0.1 * (self.grams(heap) - liquor) and liquor > 0.0

    def only_medium(self, heap: Heap) -> bool:
        """Whether nothing but fat is in a heap."""
        return bool(heap.foods) and all(self.kind(food) == "fat" or self.kind(food) in SEASONS for food in heap.foods)

    def flesh(self, heap: Heap) -> list[Food]:
        """The meat, fish and poultry of a heap."""
        return [food for food in heap.foods if self.kind(food) in FLESH]

    def dry_takers(self, heap: Heap) -> list[Food]:
        """Raw pasta, grain and pulses of a heap."""
        return [
            food
            for food in heap.foods
            if self.kind(food) in WATER_TAKERS - {"dried fruit"}
            and is_raw(self.table_id(food))
            and food not in heap.bound
        ]

    def thirsty(self, heap: Heap) -> list[Food]:
        """Those of a heap's pasta, grain and pulses that have not boiled yet."""
        return [food for food in self.dry_takers(heap) if food not in self.swollen]

    def solids(self, heap: Heap) -> list[Food]:
        """Foods of a heap that are pieces: neither liquid, fat, nor what dissolves."""
        return [food for food in heap.foods if not self.is_loose(heap, food)]

    def is_loose(self, heap: Heap, food: Food) -> bool:
        """Whether a food of a heap lies around the rest: liquid, fat, what dissolves, and not kneaded or shaped in."""
        return self.kind(food) in LIQUOR | NO_PIECES and food not in heap.bound

    def called(self, heap: Heap) -> str:
        """A heap by the name it has, or by the two foods that there is most of, to show."""
        most = sorted(heap.foods, key=lambda food: -self.grams_of(food) * heap.foods[food])[:2]
        return heap.named or " and ".join(f"the {self.name_of(food)}" for food in most)

    def name_of(self, food: Food) -> str:
        """A food in the cook's words."""
        if isinstance(food, FromUnlisted):
            return self.unlisted[food.index].name
        line = self.by_source[food].line.line
        return line.name or line.text

    # --- drawing from lines -----------------------------------------------------------------------------------------

    def draw(self, one: Ingredient, quantity: Quantity, *, film: bool = False) -> tuple[Portion, float] | None:
        """Take a portion of a line (R4); None where nothing is left of it."""
        left = self.left[one.source]
        if left <= 0.02:
            return None
        share: float | None = None
        interval: Interval | None = None
        told = self.instructions[self.at] if self.at < len(self.instructions) else None
        if one.line.part and told is not None and one.line.line.number == told.span.line:
            pass  # the line was made of these words, with their share
        elif quantity.extent is Extent.SHARE and done_in_batches(self.instructions[self.at + 1 :], one, self.binder):
            pass  # "fry half of the fish; repeat with the rest"
        elif quantity.extent is Extent.SHARE and quantity.share is not None:
            share, interval = quantity.share.best, quantity.share
        elif quantity.extent is Extent.AMOUNT and one.grams > 0.0:
            share = share_of_amount(one, quantity, self.market)
        elif (quantity.extent is Extent.FILM or film) and one.grams > 30.0:
            share = min(1.0, 5.0 / one.grams)
            interval = Interval(share, share * 0.3, min(1.0, share * 3.0))
        elif quantity.extent is Extent.SOME and self.binder.named_after(one, self.at):
            times = 1 + sum(place > self.at for place in self.binder.named_by.get(one.source, ()))
            share = left / times
            interval = Interval(share, 0.3 * share, min(left, 1.8 * share))
        if share is not None and share < left - 0.02:
            self.left[one.source] = left - share
            if quantity.extent in (Extent.SHARE, Extent.AMOUNT):
                self.stated.add(one.source)
            return Portion(one.source, interval or Interval(share, share, share)), share
        self.left[one.source] = 0.0
        return Portion(one.source), left

    def unplaced(
        self, *, after: int, group: frozenset[str] = frozenset(), spare_named: bool = True, spare_added: bool = False
    ) -> list[Ingredient]:
        """Foods that nothing has taken, of the lines above, without those that a later step names, or only adds."""
        found = []
        for one in self.ingredients:
            if self.left[one.source] <= 0.02 or one.source.index >= after or one.source in self.other_way:
                continue
            later = spare_named and self.binder.named_after(one, self.at)
            added = spare_added and self.binder.added_after(one, self.at)
            if later or added or (group and one.group and not one.group & group):
                continue
            found.append(one)
        return found

    # --- foods that no line lists -----------------------------------------------------------------------------------

    def add_unlisted(
        self, mention: Mention, use: str, one: Instruction, *, comes_to: float = 0.0
    ) -> tuple[FromUnlisted, Portion] | None:
        """A food that only the method names, with what is assumed of it; None where the words name no food."""
        found = known_food(mention.name)
        if found is None or found.food is None:
            return None
        if (kind := kind_of(found.food)) == "water" and mention.quantity.extent not in (Extent.AMOUNT, Extent.SOME):
            return None
        use = "bath" if kind == "fat" and Mark.DEEP_FAT in one.marks else use
        grams, reason = grams_added(mention, found.food, use, comes_to, self.market)
        self.unlisted.append(Unlisted(mention.name, found.food, grams, one.span, reason))
        self.binder.unlisted.append((frozenset(words(mention.name)), kind))
        source = FromUnlisted(len(self.unlisted) - 1)
        return source, Portion(source)

    def resolve(self, mention: Mention, one: Instruction, *, removal: bool = False) -> Target:
        """What a mention of an instruction means."""
        if (named := set_meant(self, mention) or part_of_food_meant(self, mention)) is not None:
            return named
        if self.is_other_vessel(mention):
            return Target(mention, nothing=True)
        target = self.binder.resolve(
            mention, self.at, in_force=self.in_force(one), removal=removal, after=one.after, focus=self.focus
        )
        if not removal and is_rest_of_nothing(self, target):
            target.heaps, target.within, target.nothing = [], [], True
            if self.acts(one):
                self.problems.append(rest_of_nothing(one.text, mention.text, one.span.line))
        if is_result(target):
            target.focus, target.nothing, target.result = False, True, True
        if mixed := mixed_before(mention, self.table, self.grams):
            return Target(mention, heaps=list(mixed))
        vessel = mention.name.rsplit(" ", 1)[-1]
        if target.nothing and mention.role is Role.OBJECT and is_class(singular(vessel), "vessel-"):
            held = self.table.with_vessel(vessel)
            if held is not None and mention.definite:
                target.nothing, target.heaps = False, [held]
        if (
            target.unlisted
            and mention.definite
            and self.main_flesh()
            and frozenset(words(mention.name)) <= frozenset(words(self.title))
        ):
            target.unlisted, target.fresh = False, self.main_flesh()  # what the part is called after
        if target.unlisted and mention.definite and self.live(self.focus) is None and known_food(mention.name) is None:
            target.fresh = self.main_flesh()  # "put the beast in a pot": what there is to cook
            target.unlisted = not target.fresh
        if target.unlisted and (made := goes_by_title(mention, self.table, self.title)) is not None:
            target.unlisted, target.heaps = False, [made]
        if target.unlisted and mention.definite and (curd := curd_of(mention, self.table)) is not None:
            target.unlisted, target.heaps = False, [curd]
        if target.unlisted and mention.definite and (dough := rolled_out(mention, self.table)) is not None:
            target.unlisted, target.heaps = False, [dough]
        if target.unlisted and mention.role is Role.OBJECT and is_what_is_made(self, mention, one):
            target.unlisted, target.focus, target.confidence = False, True, 0.5
        if mention.says_it and target.focus and target.confidence >= 1.0 and self.live(self.it):
            target.focus, target.heaps = False, [self.it] if self.it is not None else []
        if removal and target.focus and action(one.action).handler in _OF_A_FOOD:
            self._last_object(target, one)
        if target.focus and target.confidence < 1.0:
            made_thing(self, target, mention, one)
        return target

    def _last_object(self, target: Target, one: Instruction) -> None:
        """ "Steep the bags in the water, squeeze and bin them": not the water; what the sentence has put in there."""
        for before in reversed(self.instructions[: self.at]):
            if before.sentence != one.sentence:
                return
            objects = [m for m in before.mentions if m.role is Role.OBJECT and not is_class(m.name, "pronoun")]
            for mention in objects:
                known = self.binder.resolve(
                    mention, self.at, in_force=frozenset(), removal=True, after=one.after, focus=self.focus
                )
                if known.within and known.heaps and any(m.role is Role.INTO for m in before.mentions):
                    target.focus, target.heaps = False, known.heaps
                    target.within = [*target.within, *known.within]
            if objects:
                if target.focus and all(is_class(head_of(mention.name), "wrapping") for mention in objects):
                    target.focus, target.nothing = False, True  # "lift out the bag, squeeze it"
                return

    def named_only_in(self, left_out: Sequence[Instruction]) -> frozenset[FromLine]:
        """Foods that some instructions name which are not done, and none of those that are."""
        named = [
            {one.source for step in steps for mention in step.mentions for one in self.binder.foods_named(mention)}
            for steps in (left_out, self.instructions)
        ]
        return frozenset(named[0] - named[1])

    def pick(self, one: Instruction, question: Question, options: Sequence[Option]) -> int:
        """Which of several options an instruction takes; one that is only looked ahead to asks nothing yet."""
        if not self.acts(one):
            return min(self.choices.answers.get(question, 0), len(options) - 1)
        return self.choices.pick(question, options)

    def acts(self, one: Instruction) -> bool:
        """Whether an instruction is the one that is being done, and not one that is looked ahead to."""
        return self.at < len(self.instructions) and one.span == self.instructions[self.at].span

    def is_other_vessel(self, mention: Mention) -> bool:
        """Whether a phrase is the name of what one cooks in after what it is for: "the water pan", but no "tea bag"."""
        before, _, vessel = mention.name.rpartition(" ")
        compound = bool(before) and " of " not in f" {mention.name} " and is_class(singular(vessel), *_COOKED_IN)
        listed = any(singular(vessel) in one.words for one in self.ingredients)
        return compound and not listed and not is_class(mention.name, "vessel-") and known_food(before) is not None

    def in_force(self, one: Instruction) -> frozenset[str]:
        """Words of the list that an instruction is about: its sub-heading's, else that of what its neighbours name."""
        said = frozenset(words(one.group))
        for group in self.binder.groups:
            if said and said & group:
                return group
        near: dict[frozenset[str], int] = {}
        for mention in one.mentions:
            for found in self.binder.foods_named(mention)[:2]:
                if found.group and len(self.binder.foods_named(mention)) == 1:
                    near[found.group] = near.get(found.group, 0) + 1
        if near:
            return max(near, key=lambda group: near[group])
        if self.focus is not None:
            groups = [self.by_source[food].group for food in self.focus.foods if isinstance(food, FromLine)]
            groups = [group for group in groups if group]
            if groups:
                return max(groups, key=groups.count)
        return frozenset()

    def list_named(self, one: Instruction) -> frozenset[str]:
        """The title of the one list that an instruction speaks of: "all the ingredients for the sauce"."""
        said = frozenset(word for mention in one.mentions for word in words(mention.name))
        named = [group for group in self.binder.groups if said & group]
        return named[0] if len(named) == 1 else frozenset()

    def set_focus(self, heap: Heap | None) -> None:
        """What is spoken of now."""
        if heap is not None:
            heap.last = self.at
            self.focus = heap

    def live(self, heap: Heap | None) -> Heap | None:
        """A heap where it is still there."""
        return heap if heap is not None and heap.state in (State.OPEN, State.ASIDE) and not heap.is_empty else None

    def leave(self, heap: Heap, departure: Departure) -> None:
        """Let a heap go."""
        heap.state = State.GONE
        self.leaves.append(departure)

    def binder_named_first(self, foods: Sequence[Ingredient]) -> bool:
        """Whether nothing but removals names some foods."""
        return all(self.binder.never_named(one) for one in foods)

    def main_flesh(self) -> list[Ingredient]:
        """The piece of meat, fish or poultry that there is most of, where nothing has taken it."""
        there = [one for one in self.ingredients if one.is_flesh and self.left[one.source] > 0.02]
        return [max(there, key=lambda one: one.grams)] if there else []

    def drippings(self) -> Heap | None:
        """What the last roast has dripped, where nothing has taken it."""
        found = [heap for heap in self.table.open() if heap.nature is Nature.DRIPPINGS]
        return found[0] if found else None
