"""A noun phrase of the method at its place: its words, their classes, and the foods and heaps of its name."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from labeler.flow.by_products import (
    alike,
    heaps_parted,
    named_heap,
)
from labeler.flow.heaps import Heap, Nature
from labeler.flow.ingredients import Ingredient, group_kinds, is_end_of_compound, words_of
from labeler.flow.model import FromLine
from labeler.flow.new_water import is_called, is_other_water, is_part_of
from labeler.flow.same_name import by_head
from labeler.flow.target import Parted, Target
from labeler.foods.food_class import LIQUOR
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.lexicon import classes_of, is_class
from labeler.parsing.instructions.model import Extent, Mention, Role
from labeler.text.plurals import singular

if TYPE_CHECKING:
    from labeler.flow.bind import Binder

__all__ = ["Phrase"]

_EXACT = 0.9  # from here on a phrase is a food's very name: a choice, no source


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
            others = self.parted_heaps(removal=self.removal) if self.parted is not None else []
            own = [heap] if self._may_be_juice(heap) else []
            return next(iter(alike([*own, *others], self.last, self.focus, self.binder.kind_of_food)), None)
        return heap

    @cached_property
    def by_name(self) -> list[tuple[float, Ingredient]]:
        """The foods of its name, surest first."""
        worked_on = self.focus if self.removal else None
        found = self.binder.surest_of(self.mention, self.said, self.head, self.in_force, self.after, worked_on)
        if self.removal and self.focus is not None:
            found = [pair for pair in found if pair[1].kind != "water" or not self.binder.is_left(pair[1], 0.98)]
        if self.removal and self.is_bare_liquid:
            found = [pair for pair in found if pair[1].words == self.said or self._is_the_liquid(pair[1])]
        if found and not self.mention.definite and all(one.kind == "water" for _, one in found):
            found = [pair for pair in found if self._is_this_water(pair[1])]
        return by_head(found, (self.head, self.last), is_group=bool(self.group) and self.is_class)

    def _is_this_water(self, one: Ingredient) -> bool:
        """Whether "water" without an article may mean a line of water."""
        if self.in_force and one.group and not one.group & self.in_force:
            return False
        if self.mention.quantity.millilitres is not None and is_other_water(self.mention, one):
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

    def just_made(self) -> Heap | None:
        """What the step before made beside what is in hand: "this", behind "meanwhile stir the sauce"."""
        last = [heap for heap in self.binder.table.open() if heap.last == self.at - 1 and heap.nature is Nature.FOOD]
        return last[0] if len(last) == 1 and last[0] is not self.focus else None

    def in_wrapping(self) -> list[Ingredient]:
        """The foods whose line or list says that they are tied in a cloth: those not used yet, or those that are."""
        foods = self.binder.ingredients
        tied = [one for one in foods if any(is_class(word, "wrapping", "tied") for word in one.group | one.more)]
        return [one for one in tied if self.binder.is_left(one) is not self.removal]

    def parted_heaps(self, *, removal: bool = False) -> list[Heap]:
        """The heaps of what a step has parted that it may mean."""
        assert self.parted is not None
        there = heaps_parted(self.binder.table, self.parted, self.focus, self.binder.by_source, removal=removal)
        return [heap for heap in there if self._may_be_juice(heap)]

    def _may_be_juice(self, heap: Heap) -> bool:
        """Whether a liquid may be what is spoken of: "the juices" are of food, and no brine that nothing cooked in."""
        if self.last != "juice" or self.removal or heap.cooked:
            return True
        listed = [self.binder.by_source[food] for food in heap.foods if isinstance(food, FromLine)]
        liquids = [one for one in listed if one.kind in LIQUOR]
        water = sum(one.grams for one in liquids if one.kind == "water")
        return not water or water <= 0.5 * sum(one.grams for one in liquids)
