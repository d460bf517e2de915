"""What a noun phrase of the method means: foods of the list, a heap, what a step has parted from food, or nothing.

Rules R1, R4 and R12 of the flow: a phrase is one of a few things; every line is given out once; where several lines
have the same name, the list in force, then what is not yet used, then the order of the list decides.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from labeler.flow.heaps import Food, Heap, Nature, State, Table
from labeler.flow.ingredients import Ingredient, group_kinds, score, with_amount, words_of
from labeler.flow.model import FromLine, FromUnlisted
from labeler.flow.new_water import is_other_water
from labeler.flow.phrase import Phrase
from labeler.flow.phrase_meaning import meaning_of
from labeler.flow.same_name import fullest, in_common
from labeler.flow.target import Target
from labeler.parsing.instructions.lexicon import classes_of, is_class
from labeler.parsing.instructions.model import Extent, Mention, Role
from labeler.text.plurals import singular

__all__ = ["Binder"]

# From here on a phrase means an ingredient; by its very name: choices, no source.
_SURE, _EXACT = 0.72, 0.9
_BARELY = 0.2  # share of a food under which a heap has no more than its drippings: a choice, no source


class Binder:
    """Solves the noun phrases of one part.

    Parameters
    ----------
    ingredients : sequence of Ingredient
    table : Table
    left : dict
        Share of each food that nothing has taken yet.
    """

    def __init__(
        self, ingredients: Sequence[Ingredient], table: Table, left: dict[FromLine, float], market: str
    ) -> None:
        self.ingredients, self.table, self.market = ingredients, table, market
        self.left = left
        self.by_source = {one.source: one for one in ingredients}
        self.named_by: dict[FromLine, list[int]] = {}
        self.brought_in: dict[FromLine, list[int]] = {}  # where words add them to what is there
        self.taken_out: dict[FromLine, list[int]] = {}
        self.named_alone: set[FromLine] = set()  # by words that mean no other line
        self.named_by_class: dict[FromLine, list[int]] = {}
        self.unlisted: list[tuple[frozenset[str], str]] = []  # words and kind of each food that only the method names
        self._scores: dict[tuple[frozenset[str], str], list[tuple[float, Ingredient]]] = {}
        self._named: dict[str, tuple[Ingredient, ...]] = {}
        self.groups = tuple(dict.fromkeys(frozenset(one.group) for one in ingredients if one.group))  # as they stand

    # --- the whole method first -------------------------------------------------------------------------------------

    def note(self, mentions: Iterable[Mention], at: int, *, out: bool = False, adds: Collection[Role] = ()) -> None:
        """Remember which foods an instruction names by themselves.

        `out` where it takes them out again; `adds` are the roles of what it brings to the food that is there.
        """
        for mention in mentions:
            if mention.role in (Role.EVIDENCE, Role.EXCEPT) or is_class(mention.name.rsplit(" ", 1)[-1], "mixture"):
                continue  # "the yoghurt mixture" is all that lies with it
            named = [one for one in self.foods_named(mention) if not is_other_water(mention, one)]
            for one in named:
                if mention.role in adds:
                    self.brought_in.setdefault(one.source, []).append(at)
                (self.taken_out if out else self.named_by).setdefault(one.source, []).append(at)
            if not out and len(named) == 1 and score(named[0], *words_of(mention.name)) >= 0.9:
                self.named_alone.add(named[0].source)

    def note_groups(self, mentions: Iterable[Mention], at: int) -> None:
        """Remember which foods that no instruction names an instruction brings in by their class: "the vegetables"."""
        for mention in mentions:
            if mention.role is not Role.OBJECT or self.foods_named(mention):
                continue
            if mention.definite and is_class(mention.name, "byproduct-liquid"):
                continue  # "catch the liquid": what a step parts, and no line
            own = classes_of(mention.name) | classes_of(" ".join(singular(word) for word in mention.name.split(" ")))
            surely = frozenset(kind for name in own if name in group_kinds() for kind in group_kinds()[name][0])
            for one in self.ingredients:
                if one.kind in surely and one.source not in self.named_by:
                    self.named_by_class.setdefault(one.source, []).append(at)

    def named_after(self, one: Ingredient, at: int) -> bool:
        """Whether a later instruction names a food by itself, before one takes it out of where it then lies."""
        places = (*self.named_by.get(one.source, ()), *self.named_by_class.get(one.source, ()))
        out = min((place for place in self.taken_out.get(one.source, ()) if place > at), default=None)
        return any(place > at and (out is None or place < out) for place in places)

    def added_after(self, one: Ingredient, at: int) -> bool:
        """Whether a later instruction brings a food to what is there: "roll in the seeds", and not "brown the pork"."""
        return any(place > at for place in self.brought_in.get(one.source, ()))

    def never_named(self, one: Ingredient) -> bool:
        """Whether no instruction names a food by itself."""
        return one.source not in self.named_by and one.source not in self.named_by_class

    def scored(self, said: frozenset[str], head: str) -> list[tuple[float, Ingredient]]:
        """How surely some words mean each food; the same words are asked about again and again."""
        if (said, head) not in self._scores:
            self._scores[said, head] = [(score(one, said, head), one) for one in self.ingredients]
        return self._scores[said, head]

    def _surest(self, said: frozenset[str], head: str) -> list[tuple[float, Ingredient]]:
        """The foods that some words surely mean, in the order of the lines."""
        scored = self.scored(said, head)
        best = max((value for value, _ in scored), default=0.0)
        return [(value, one) for value, one in scored if value >= best - 0.03] if best >= _SURE else []

    def foods_named(self, mention: Mention) -> list[Ingredient]:
        """The foods that a phrase surely names by their own words."""
        if mention.name not in self._named:
            self._named[mention.name] = self._foods_of_name(mention.name)
        return list(self._named[mention.name])

    def _foods_of_name(self, name: str) -> tuple[Ingredient, ...]:
        said, head = words_of(name)
        if not said or is_class(name, "pronoun", "everything", "rest", "mixture", "vessel-", "tool"):
            return ()
        return tuple(one for _, one in self._surest(said, head))

    def words_of_food(self, food: Food) -> frozenset[str]:
        return self.unlisted[food.index][0] if isinstance(food, FromUnlisted) else self.by_source[food].words

    def kind_of_food(self, food: Food) -> str:
        return self.unlisted[food.index][1] if isinstance(food, FromUnlisted) else self.by_source[food].kind

    def resolve(
        self, mention: Mention, at: int, *, in_force: frozenset[str], removal: bool, after: int, focus: Heap | None
    ) -> Target:
        """What a mention means at its place in the method.

        Parameters
        ----------
        mention : Mention
        at : int
            Place of its instruction.
        in_force : frozenset of str
            Words of the list that the instruction is about.
        removal : bool
            True where the instruction takes something away: "the oil" is then what food lies in.
        after : int
            Lines above the instruction; those below can only be named.
        focus : Heap or None
        """
        return meaning_of(Phrase(self, mention, at, in_force, removal, after, focus))

    def is_left(self, one: Ingredient, least: float = 0.02) -> bool:
        """Whether more than a share of a food is not taken yet."""
        return self.left.get(one.source, 0.0) > least

    def surest_of(
        self,
        mention: Mention,
        said: frozenset[str],
        head: str,
        in_force: frozenset[str],
        after: int,
        worked_on: Heap | None = None,
    ) -> list[tuple[float, Ingredient]]:
        """The foods that a phrase names, surest first; one of them where they differ only by place (R12)."""
        found = self._surest(said, head)
        if len({one.source.index for _, one in found}) == 1:  # "the pepper" of the line "salt and pepper"
            found = [pair for pair in found if pair[1].words == said] or found
        if found and not mention.definite and not any(self.is_left(one) for _, one in found):
            found = self._left_to_taste(said, head) or found
        if len(found) <= 1:
            return found
        unplaced = [one for _, one in found if self.is_left(one)]
        amount = with_amount(mention, unplaced or [one for _, one in found], self.market)
        if amount is not None:
            return [(max(value for value, _ in found), amount)]
        near = [worked_on] if worked_on is not None else []
        near += [self.table.heaps[heap.rest_of] for heap in near if heap.rest_of is not None]
        held = [pair for pair in found if any(pair[1].source in heap.foods for heap in near)]
        if held and mention.definite:
            return held[:1]  # "rinse the duck": that which was salted, and not the duck fat
        if not mention.definite:
            found = [pair for pair in found if self.left.get(pair[1].source, 0.0) > 0.02] or found
        if len({one.words for _, one in found}) == 1:
            found = fullest(found, self.table, self.by_source, self.left)
        there = [pair for pair in found if in_force and pair[1].group & in_force]
        found = there or found
        unused = [pair for pair in found if self.left.get(pair[1].source, 0.0) > 0.02]
        found = unused or found
        same = len({one.words for _, one in found}) == 1
        plural = mention.name.rsplit(" ", 1)[-1] != singular(mention.name.rsplit(" ", 1)[-1])
        if len(found) > 1 and (same or not plural):
            own_list = [pair for pair in found if pair[1].source.index < after]
            found = own_list or found
            if same or not in_common(mention, [one for _, one in found], self.named_alone):
                found = found[:1]
        return found

    def _left_to_taste(self, said: frozenset[str], head: str) -> list[tuple[float, Ingredient]]:
        """What of lines "to taste" some words may mean: "season with salt" where that of the brine is used up."""
        scored = self.scored(said, head)
        return [
            (value, one) for value, one in scored if value >= _SURE and one.line.line.to_taste and self.is_left(one)
        ]

    def with_foods(self, target: Target, found: Sequence[tuple[float, Ingredient]], mention: Mention) -> Target:
        target.confidence = found[0][0]
        target.fresh = [one for _, one in found if self.left.get(one.source, 0.0) > 0.02]
        if not target.fresh:
            sources = [one.source for _, one in found]
            holding = [heap for heap in self.table.open() if any(source in heap.foods for source in sources)]
            if mention.quantity.extent is Extent.REST and len(holding) > 1:
                # "the remaining onions": what was kept back of them, and not what is in the dish already
                holding.sort(key=lambda heap: len(heap.foods))
            target.within = list(sources)
            if len(sources) > 1:  # a kind of food: where there is most of it
                holding.sort(key=lambda heap: -sum(self.by_source[one].grams for one in sources if one in heap.foods))
            most = {heap.number: max(heap.foods.get(source, 0.0) for source in sources) for heap in holding}
            holding.sort(key=lambda heap: (heap.nature is not Nature.FOOD, most[heap.number] < _BARELY))
            target.heaps = holding[:1]
            if (
                mention.role is Role.INTO
                and found[0][0] < _EXACT
                and target.heaps
                and target.heaps[0].nature is Nature.BATH
            ):
                target.heaps, target.within = [], []  # nothing is put into a bath by the name of a spice in it
                target.focus = True
                return target
            if not holding:
                gone = [
                    heap
                    for heap in self.table.heaps
                    if any(source in heap.foods for source in sources) and heap.state is not State.GONE
                ]
                target.heaps = gone[-1:]
                if not target.heaps:
                    target.unlisted = mention.quantity.extent in (Extent.AMOUNT, Extent.SOME)
                    target.nothing = not target.unlisted
        return target

    def titled(self, said: frozenset[str], by_name: Sequence[tuple[float, Ingredient]]) -> list[Ingredient]:
        """The foods of the list whose title a phrase gives, where none of them is used and no food has just that name.

        "The sauce" is the list "For the dipping sauce" and not its fish sauce; "the lamb" of the list "For the lamb" is
        the meat.
        """
        named = [one for _, one in by_name]
        for group in self.groups:
            listed = [one for one in self.ingredients if one.group == group]
            if not said or not said <= group or any(self.left.get(one.source, 0) < 0.98 for one in listed):
                continue
            if not named or (all(one in listed for one in named) and all(said != one.words for one in named)):
                return listed if named and is_class(" ".join(said), "product") else []
        return []

    def listed_under(self, group: frozenset[str], at: int) -> list[Ingredient]:
        """The foods of a list by its title, asked at a place in the method.

        Where one title stands above every line of the recipe, what a later step names by itself is no part of what
        the title means: "mix the brine ingredients", and the butter comes in at the end.
        """
        listed = [one for one in self.ingredients if one.group == group]
        if len(listed) < len(self.ingredients):
            return listed
        return [one for one in listed if not self.named_after(one, at)] or listed

    def group_of(
        self, said: frozenset[str], own: frozenset[str], at: int, in_force: frozenset[str], mention: Mention
    ) -> list[Ingredient]:
        """The foods that a class word or the title of a list means (R1)."""
        plain = said - frozenset(("ingredient", "mixture", "mix"))
        for group in self.groups:
            if plain and plain <= group:
                listed = self.listed_under(group, at)
                if any(self.left.get(one.source, 0) > 0.02 for one in listed):
                    return listed
        kinds = [kind for kind in group_kinds() if kind in own]
        if not kinds:
            return []
        surely, maybe = group_kinds()[kinds[0]]
        for allowed in (surely, maybe):
            found = [
                one
                for one in self.ingredients
                if one.kind in allowed
                and self.left.get(one.source, 0) > 0.02
                and not self.named_after(one, at)
                and not (in_force and one.group and not one.group & in_force)
            ]
            if found:
                return found
        placed = [one for one in self.ingredients if one.kind in surely]
        placed = placed or [one for one in self.ingredients if one.kind in maybe]
        if mention.definite:
            return placed
        bare = mention.role is not Role.WITH and mention.quantity.extent is Extent.ALL  # "brown meat on all sides"
        return [one for one in placed if bare and self.left.get(one.source, 0) <= 0.02]
