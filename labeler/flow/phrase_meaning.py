"""What a noun phrase of the method means, asked of rules in turn.

A phrase is one of a few things (R1): what is in hand, foods of the list, a heap, what a step has parted from food,
waste, a tool, or a food that no line lists. The first rule that settles it decides.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from labeler.flow.by_products import (
    alike,
    has_own_name,
    heaps_parted,
    last_mixed,
    made_instead,
    mixed_of,
    mixture_of,
    named_heap,
)
from labeler.flow.heaps import Heap, Nature
from labeler.flow.ingredients import Ingredient, group_kinds, is_end_of_compound, words_of
from labeler.flow.model import FromLine
from labeler.flow.new_water import is_called, is_from_the_tap, is_other_water, is_part_of
from labeler.flow.same_name import by_head
from labeler.flow.target import Parted, Target
from labeler.foods.food_class import LIQUOR
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.lexicon import classes_of
from labeler.parsing.instructions.model import Extent, Mention, Role
from labeler.text.plurals import singular

if TYPE_CHECKING:
    from labeler.flow.bind import Binder

__all__ = ["Phrase", "meaning_of"]

# By its very name a phrase means an ingredient from here on; it may mean it: choices, no source.
_EXACT, _DOUBT = 0.9, 0.5


@dataclass
class Phrase:
    """A noun phrase at its place in the method.

    Parameters
    ----------
    binder : Binder
        The part's foods and heaps, and what of them is left.
    mention, at, in_force, removal, after, focus
        As in `Binder.resolve`.
    """

    binder: Binder
    mention: Mention
    at: int
    in_force: frozenset[str]
    removal: bool
    after: int
    focus: Heap | None
    target: Target = field(init=False)

    def __post_init__(self) -> None:
        self.target = Target(self.mention)
        self.said, self.head = words_of(self.mention.name)
        self.name = " ".join(singular(word) for word in self.mention.name.split(" "))
        self.last = singular(self.mention.name.rsplit(" ", 1)[-1])
        self.own = classes_of(self.mention.name) | classes_of(self.name)
        self.tail = classes_of(self.last)

    def is_a(self, *classes: str) -> bool:
        """Whether the phrase or its last word is of one of some classes."""
        return bool((self.own | self.tail) & set(classes))

    @cached_property
    def group(self) -> list[Ingredient]:
        """The foods that it means as a class or as the title of a list."""
        return self.binder.group_of(self.said, self.own | self.tail, self.at, self.in_force, self.mention)

    @cached_property
    def is_class(self) -> bool:
        """Whether it is the word for a class of foods: "the vegetables"."""
        return bool(self.own & set(group_kinds()))

    @cached_property
    def heap(self) -> Heap | None:
        """The heap of its name."""
        heap = named_heap(self.binder.table, self.name, self.last, self.own | self.tail, self.mention)
        if heap is not None and heap.nature is not Nature.FOOD:
            return next(iter(alike([heap], self.last, self.focus, self.binder.kind_of_food)), None)
        return heap

    @cached_property
    def by_name(self) -> list[tuple[float, Ingredient]]:
        """The foods of its name, surest first."""
        worked_on = self.focus if self.removal else None
        found = self.binder.surest_of(self.mention, self.said, self.head, self.in_force, self.after, worked_on)
        if self.removal and self.is_bare_liquid:
            found = [pair for pair in found if pair[1].words == self.said or self._is_the_liquid(pair[1])]
        if found and not self.mention.definite and all(one.kind == "water" for _, one in found):
            found = [pair for pair in found if self._is_this_water(pair[1])]
        return by_head(found, (self.head, self.last), is_group=bool(self.group) and self.is_class)

    def _is_this_water(self, one: Ingredient) -> bool:
        """Whether "water" without an article may mean a line of water."""
        if self.in_force and one.group and not one.group & self.in_force:
            return False
        whole = self.mention.quantity.extent is Extent.ALL and not is_other_water(self.mention, one)
        if not (self.removal or self.binder.is_left(one) or whole):
            return False
        if self.mention.role is Role.WITH and not (self.removal or self.binder.is_left(one)):
            return False  # "cover with water": what was drained off is nothing to cook in
        later = self.binder.named_after(one, self.at)
        return not later or is_part_of(self.mention, one) or is_called(self.mention, one)

    @property
    def is_bare_liquid(self) -> bool:
        """Whether it is the bare word for a made liquid: "drain and reserve the sauce" is no soy sauce."""
        return self.said == {self.last} and "product-liquid" in self.tail

    def _is_the_liquid(self, one: Ingredient) -> bool:
        """Whether a line is most of the liquid that it lies in: "drain off the juice" of fish in lime juice."""
        return any(self._is_most_of(heap, one) for heap in self.binder.table.open() if one.source in heap.foods)

    def _is_most_of(self, heap: Heap, one: Ingredient) -> bool:
        listed = [self.binder.by_source[food] for food in heap.foods if isinstance(food, FromLine)]
        liquids = [other for other in listed if other.kind in LIQUOR]
        return one in liquids and one.grams >= 0.5 * sum(other.grams for other in liquids)

    @cached_property
    def parted(self) -> Parted | None:
        """What a step parts from food that it is called like; "the bacon fat" is no bacon."""
        own = next((kind for kind in Parted if kind.value in self.own), None)
        listed = any(self.last in one.words for _, one in self.by_name)
        return own or next((kind for kind in Parted if kind.value in self.tail and not listed), None)

    @cached_property
    def exact(self) -> bool:
        """Whether it is a food's very name."""
        if not self.by_name:
            return False
        surest, first = self.by_name[0]
        part = bool(first.part) and self.said <= frozenset(words(first.part))
        return surest >= _EXACT or is_end_of_compound(first, self.said) or part

    def any_left(self, least: float = 0.02) -> bool:
        """Whether more than a share of a food of its name is not taken yet."""
        return any(self.binder.is_left(one, least) for _, one in self.by_name)

    def is_more_of_it(self, heap: Heap) -> bool:
        """Whether "heat some oil" asks for more of a food that went into something else: into a batter.

        Of a fat, which is needed anew in every pan, and of a line that says that there is more ("plus extra").
        """
        some = self.mention.quantity.extent is Extent.SOME and not self.mention.definite
        if self.removal or not some or self.mention.role not in (Role.OBJECT, Role.WITH, Role.INTO):
            return False
        if not any(one.kind == "fat" or one.line.line.extra is not None for _, one in self.by_name):
            return False
        meant = {one.source for _, one in self.by_name}
        listed = [self.binder.by_source[food] for food in heap.foods if isinstance(food, FromLine)]
        return sum(one.grams for one in listed if one.source in meant) < 0.5 * sum(one.grams for one in listed)

    def parted_heaps(self, *, removal: bool = False) -> list[Heap]:
        """The heaps of what a step has parted that it may mean."""
        assert self.parted is not None
        return heaps_parted(self.binder.table, self.parted, self.focus, self.binder.by_source, removal=removal)


def meaning_of(phrase: Phrase) -> Target:
    """What a phrase means; a food that no line lists, where no rule settles it."""
    if not any(rule(phrase) for rule in _RULES):
        phrase.target.unlisted = True
    return phrase.target


# Each rule fills the phrase's target and says whether that settles it.


def _in_hand(phrase: Phrase) -> bool:
    """ "It", "the rest", "everything"."""
    target, left_over = phrase.target, phrase.mention.quantity.extent is Extent.REST
    if "pronoun" in phrase.own:
        target.focus = True
    elif "rest" in phrase.own or (left_over and phrase.own & {"everything", "mixture"}):
        target.rest = True
    elif "everything" in phrase.own:
        target.nothing = phrase.mention.quantity.count is not None and phrase.is_a("batch")  # "in two lots": how often
        target.everything = not target.nothing
    return target.focus or target.rest or target.everything or target.nothing


def _water_in_vessel(phrase: Phrase) -> bool:
    """ "Bring a pot of water to the boil": what is new and no line lists."""
    mention = phrase.mention
    known = mention.definite or phrase.removal
    phrase.target.nothing = mention.water_in_vessel and not known and mention.role in (Role.OBJECT, Role.INTO)
    return phrase.target.nothing


def _mixed(phrase: Phrase) -> bool:
    """ "The sugar water"."""
    if not phrase.mention.definite or phrase.exact:
        return False
    mixed = mixed_of(phrase.binder.table, phrase.said, phrase.binder.words_of_food)
    phrase.target.heaps = [mixed] if mixed is not None else []
    return mixed is not None


def _title(phrase: Phrase) -> bool:
    """ "The dipping sauce" of a list with that title."""
    phrase.target.fresh = phrase.binder.titled(phrase.said, phrase.by_name)
    return bool(phrase.target.fresh)


def _waste(phrase: Phrase) -> bool:
    """Peel, bones and the like that no line names."""
    named = any(one.head in (phrase.head, phrase.last) or "bone" in one.words for _, one in phrase.by_name)
    if not phrase.is_a("waste") or named:
        return False
    phrase.target.waste = phrase.target.nothing = True
    return True


def _tap_water(phrase: Phrase) -> bool:
    """Water that no line lists: an amount of it, or none that is weighed."""
    water = phrase.parted is Parted.LIQUID and phrase.last == "water"
    if not water or phrase.removal or phrase.by_name or not is_from_the_tap(phrase.mention, phrase.heap):
        return False
    extent = phrase.mention.quantity.extent
    a_little = extent is Extent.SOME and phrase.mention.role is Role.OBJECT
    phrase.target.unlisted = extent is Extent.AMOUNT or a_little
    phrase.target.nothing = not phrase.target.unlisted
    return True


def _new_fat(phrase: Phrase) -> bool:
    """ "Heat some oil": new, where nothing has been rendered or fried in."""
    if phrase.parted is not Parted.FAT or phrase.removal or phrase.by_name or phrase.mention.definite:
        return False
    comes = phrase.mention.role in (Role.OBJECT, Role.WITH, Role.INTO)
    phrase.target.unlisted = comes and not phrase.parted_heaps()
    return phrase.target.unlisted


def _liquor_in_hand(phrase: Phrase) -> bool:
    """ "The brine" that was stirred together before."""
    if phrase.parted is not Parted.LIQUID or phrase.removal or phrase.by_name or phrase.heap is not None:
        return False
    there = alike(phrase.parted_heaps(), phrase.last, phrase.focus, phrase.binder.kind_of_food)
    shared = phrase.is_a("product") and phrase.mention.quantity.extent is Extent.SHARE  # "with half of the marinade"
    if (phrase.mention.role is Role.WITH and not shared) or there:
        return False
    phrase.target.focus, phrase.target.confidence = True, 0.6
    return True


def _parted_from_food(phrase: Phrase) -> bool:
    """What a step has parted: "the drippings", "the cooking water"."""
    listed_water = bool(phrase.by_name) and phrase.last == "water" and not (phrase.mention.definite or phrase.removal)
    if phrase.parted is None or listed_water or (not phrase.removal and phrase.any_left()):
        return False
    binder, target = phrase.binder, phrase.target
    there = alike(phrase.parted_heaps(removal=phrase.removal), phrase.last, phrase.focus, binder.kind_of_food)
    there = made_instead(binder.table, there, phrase.mention, binder.kind_of_food, phrase.removal)
    heap = phrase.heap
    own_name = heap is not None and has_own_name(heap, (phrase.name, phrase.last), there, binder.kind_of_food)
    if heap is not None and own_name and not (heap.reserved and phrase.removal):
        target.heaps = [heap]
        return True
    fresh = phrase.exact and phrase.any_left(0.5) and not phrase.removal
    if fresh or not (there or phrase.removal or not phrase.by_name):
        return False
    target.parted, target.heaps = phrase.parted, there
    target.within = [one.source for _, one in phrase.by_name if not binder.is_left(one)]
    return True


def _heap_of_its_name(phrase: Phrase) -> bool:
    if phrase.heap is None or (phrase.exact and phrase.any_left(0.5)):
        return False
    phrase.target.heaps = [phrase.heap]
    return True


def _made_of_class(phrase: Phrase) -> bool:
    """A product with a word for a class of foods in it: "the fruit mixture"."""
    if not phrase.is_a("product") or not phrase.group or phrase.exact:
        return False
    phrase.binder.with_foods(phrase.target, [(1.0, one) for one in phrase.group], phrase.mention)
    return True


def _class_of_foods(phrase: Phrase) -> bool:
    """ "The vegetables", of which some are left."""
    if not phrase.group or not phrase.is_class or phrase.exact:
        return False
    phrase.target.fresh = [one for one in phrase.group if phrase.binder.is_left(one)]
    return bool(phrase.target.fresh)


def _food_of_its_name(phrase: Phrase) -> bool:
    made = phrase.is_a("product") and not phrase.exact and phrase.focus is not None
    if not phrase.by_name or made:
        return False
    phrase.binder.with_foods(phrase.target, phrase.by_name, phrase.mention)
    if phrase.target.heaps and phrase.is_more_of_it(phrase.target.heaps[0]):
        phrase.target.heaps, phrase.target.within, phrase.target.unlisted = [], [], True
    return True


def _class_used_up(phrase: Phrase) -> bool:
    """A class of foods of which some, or none, are left."""
    if not phrase.group:
        return False
    phrase.target.fresh = [one for one in phrase.group if phrase.binder.is_left(one)]
    if not phrase.target.fresh:
        phrase.binder.with_foods(phrase.target, [(0.8, one) for one in phrase.group], phrase.mention)
    return True


def _mixture(phrase: Phrase) -> bool:
    """ "The flour mixture"."""
    if not phrase.is_a("mixture"):
        return False
    binder = phrase.binder
    mixed = mixture_of(binder.table, phrase.said - {phrase.last}, phrase.focus, binder.kind_of_food)
    mixed = mixed if mixed is not None else last_mixed(binder.table, phrase.focus)
    phrase.target.heaps, phrase.target.focus = ([mixed], False) if mixed is not None else ([], True)
    return True


def _waste_of_its_name(phrase: Phrase) -> bool:
    if phrase.is_a("waste"):
        phrase.target.waste = phrase.target.nothing = True
    return phrase.target.waste


def _parted_later(phrase: Phrase) -> bool:
    """What a step parts and nothing is there of; spent spices are noted besides."""
    phrase.target.spent = phrase.target.spent or phrase.is_a("spent")
    phrase.target.parted = phrase.parted
    return phrase.parted is not None


def _strewn(phrase: Phrase) -> bool:
    """ "The seasoning", "the cure": what is strewn of the list."""
    if not phrase.is_a("product-strewn"):
        return False
    strewn = [
        one
        for one in phrase.binder.ingredients
        if one.kind in ("salt", "sugar", "seasoning") and phrase.binder.is_left(one) and one.source.index < phrase.after
    ]
    lists = [one.group for one in strewn if not phrase.in_force or one.group & phrase.in_force]
    phrase.target.fresh = [one for one in strewn if one.group == lists[0]] if lists else strewn
    return bool(phrase.target.fresh)


def _made(phrase: Phrase) -> bool:
    """ "The cake": what is in hand, most likely."""
    if phrase.is_a("product"):
        phrase.target.focus, phrase.target.confidence = True, 0.6
    return phrase.target.focus


def _tool(phrase: Phrase) -> bool:
    tool = phrase.own & {"tool", "adverb", "preposition", "aux"} or phrase.tail & {"tool"}
    vessel = any(one.startswith("vessel-") for one in phrase.own | phrase.tail)
    phrase.target.nothing = bool(tool) or vessel
    return phrase.target.nothing


def _doubtful(phrase: Phrase) -> bool:
    """A known thing whose words fit a food somewhat."""
    scored = phrase.binder.scored(phrase.said, phrase.head)
    best = max((value for value, _ in scored), default=0.0)
    if best < _DOUBT or not phrase.mention.definite:
        return False
    near = [pair for pair in scored if pair[0] >= max(best - 0.03, _DOUBT)][:2]
    phrase.binder.with_foods(phrase.target, near, phrase.mention)
    return True


_RULES = (
    _in_hand, _water_in_vessel, _mixed, _title, _waste, _tap_water, _new_fat, _liquor_in_hand, _parted_from_food,
    _heap_of_its_name, _made_of_class, _class_of_foods, _food_of_its_name, _class_used_up, _mixture, _waste_of_its_name,
    _parted_later, _strewn, _made, _tool, _doubtful,
)  # fmt: skip
