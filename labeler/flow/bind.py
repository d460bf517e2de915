"""What a noun phrase of the method means: foods of the list, a heap, what a step has parted from food, or nothing.

Rules R1, R4 and R12 of the flow: a phrase is one of a few things; every line is given out once; where several lines
have the same name, the list in force, then what is not yet used, then the order of the list decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from labeler.flow.by_products import alike, has_own_name, heaps_parted, made_instead, mixed_of, mixture_of, named_heap
from labeler.flow.heaps import Food, Heap, Nature, State, Table
from labeler.flow.ingredients import Ingredient, group_kinds, is_end_of_compound, score, with_amount, words_of
from labeler.flow.model import FromLine, FromUnlisted
from labeler.flow.new_water import is_called, is_from_the_tap, is_other_water, is_part_of
from labeler.flow.same_name import by_head, fullest, in_common
from labeler.flow.target import Parted, Target
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.lexicon import classes_of, is_class
from labeler.parsing.instructions.model import Extent, Mention, Role
from labeler.text.plurals import singular

__all__ = ["Binder"]

# From here on a phrase means an ingredient; by its very name; may mean it: choices, no source.
_SURE, _EXACT, _DOUBT = 0.72, 0.9, 0.5


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
        self.taken_out: dict[FromLine, list[int]] = {}
        self.named_alone: set[FromLine] = set()  # by words that mean no other line
        self.named_by_class: dict[FromLine, list[int]] = {}
        self.unlisted: list[tuple[frozenset[str], str]] = []  # words and kind of each food that only the method names
        self._scores: dict[tuple[frozenset[str], str], list[tuple[float, Ingredient]]] = {}
        self.groups = tuple(dict.fromkeys(frozenset(one.group) for one in ingredients if one.group))  # as they stand

    # --- the whole method first -------------------------------------------------------------------------------------

    def note(self, mentions: Iterable[Mention], at: int, *, out: bool = False) -> None:
        """Remember which foods an instruction names by themselves; `out` where it takes them out again."""
        for mention in mentions:
            if mention.role in (Role.EVIDENCE, Role.EXCEPT):
                continue
            named = [one for one in self.foods_named(mention) if not is_other_water(mention, one)]
            for one in named:
                (self.taken_out if out else self.named_by).setdefault(one.source, []).append(at)
            if not out and len(named) == 1 and score(named[0], *words_of(mention.name)) >= 0.9:
                self.named_alone.add(named[0].source)

    def note_groups(self, mentions: Iterable[Mention], at: int) -> None:
        """Remember which foods that no instruction names an instruction brings in by their class: "the vegetables"."""
        for mention in mentions:
            if mention.role is not Role.OBJECT or self.foods_named(mention):
                continue
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

    def never_named(self, one: Ingredient) -> bool:
        """Whether no instruction names a food by itself."""
        return one.source not in self.named_by and one.source not in self.named_by_class

    def _scored(self, said: frozenset[str], head: str) -> list[tuple[float, Ingredient]]:
        """How surely some words mean each food; the same words are asked about again and again."""
        if (said, head) not in self._scores:
            self._scores[said, head] = [(score(one, said, head), one) for one in self.ingredients]
        return self._scores[said, head]

    def _surest(self, said: frozenset[str], head: str) -> list[tuple[float, Ingredient]]:
        """The foods that some words surely mean, in the order of the lines."""
        scored = self._scored(said, head)
        best = max((value for value, _ in scored), default=0.0)
        return [(value, one) for value, one in scored if value >= best - 0.03] if best >= _SURE else []

    def foods_named(self, mention: Mention) -> list[Ingredient]:
        """The foods that a phrase surely names by their own words."""
        said, head = words_of(mention.name)
        if not said or is_class(mention.name, "pronoun", "everything", "rest", "mixture", "vessel-", "tool"):
            return []
        return [one for _, one in self._surest(said, head)]

    def _words_of(self, food: Food) -> frozenset[str]:
        return self.unlisted[food.index][0] if isinstance(food, FromUnlisted) else self.by_source[food].words

    def _kind_of(self, food: Food) -> str:
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
        name = " ".join(singular(word) for word in mention.name.split(" "))
        said, head = words_of(mention.name)
        target = Target(mention)
        own = classes_of(mention.name) | classes_of(name)
        last = singular(mention.name.rsplit(" ", 1)[-1])
        tail = classes_of(last)
        if "pronoun" in own:
            target.focus = True
            return target
        if "rest" in own or (mention.quantity.extent is Extent.REST and own & {"everything", "mixture"}):
            target.rest = True
            return target
        if "everything" in own:
            target.everything = True
            return target
        if mention.water_in_vessel and not (mention.definite or removal) and mention.role in (Role.OBJECT, Role.INTO):
            target.nothing = True  # "bring a pot of water to the boil": what is new and no line lists
            return target
        group = self._group(said, own | tail, at, in_force, mention)
        heap = named_heap(self.table, name, last, own | tail, mention)
        if heap is not None and heap.nature is not Nature.FOOD:
            heap = next(iter(alike([heap], last, focus, self._kind_of)), None)
        by_name = self._best(mention, said, head, in_force, after, focus if removal else None)
        if by_name and not mention.definite and all(one.kind == "water" for _, one in by_name):
            by_name = [
                (value, one)
                for value, one in by_name
                if not (in_force and one.group and not one.group & in_force)
                and (
                    removal
                    or self.left.get(one.source, 0.0) > 0.02
                    or (mention.quantity.extent is Extent.ALL and not is_other_water(mention, one))
                )
                and (not self.named_after(one, at) or is_part_of(mention, one) or is_called(mention, one))
            ]
        by_name = by_head(by_name, (head, last), is_group=bool(group) and bool(own & set(group_kinds())))
        product = bool((own | tail) & {"product"})
        parted = next((kind for kind in Parted if kind.value in own), None) or next(
            (kind for kind in Parted if kind.value in tail and not any(last in one.words for _, one in by_name)), None
        )  # "the bacon fat" is no bacon
        exact = bool(by_name) and (
            by_name[0][0] >= _EXACT
            or is_end_of_compound(by_name[0][1], said)
            or bool(by_name[0][1].part and said <= frozenset(words(by_name[0][1].part)))
        )
        if mention.definite and not exact and (mixed := mixed_of(self.table, said, self._words_of)) is not None:
            target.heaps = [mixed]  # "the sugar water"
            return target
        if listed := self._titled(said, by_name):
            target.fresh = listed
            return target
        if "waste" in own | tail and not any(one.head in (head, last) or "bone" in one.words for _, one in by_name):
            target.waste = target.nothing = True
            return target
        water = parted is Parted.LIQUID and last == "water"
        if water and not removal and not by_name and is_from_the_tap(mention, heap):
            a_little = mention.quantity.extent is Extent.SOME and mention.role is Role.OBJECT
            target.unlisted = mention.quantity.extent is Extent.AMOUNT or a_little
            target.nothing = not target.unlisted
            return target
        if (
            parted is Parted.FAT
            and not removal
            and not by_name
            and not mention.definite
            and mention.role in (Role.OBJECT, Role.WITH, Role.INTO)
            and not heaps_parted(self.table, parted, focus, self.by_source)
        ):
            target.unlisted = True  # "heat some oil": new, where nothing has been rendered or fried in
            return target
        if (
            parted is Parted.LIQUID
            and not removal
            and not by_name
            and heap is None
            and mention.role is not Role.WITH
            and not alike(heaps_parted(self.table, parted, focus, self.by_source), last, focus, self._kind_of)
        ):
            target.focus, target.confidence = True, 0.6  # "the brine" that was stirred together before
            return target
        listed_water = bool(by_name) and last == "water" and not mention.definite and not removal
        if (
            parted is not None
            and not listed_water
            and (removal or not by_name or not any(self.left.get(one.source, 0) > 0.02 for _, one in by_name))
        ):
            there = heaps_parted(self.table, parted, focus, self.by_source, removal=removal)
            there = made_instead(self.table, alike(there, last, focus, self._kind_of), mention, self._kind_of, removal)
            fresh_exact = exact and any(self.left.get(one.source, 0) > 0.5 for _, one in by_name) and not removal
            own_name = heap is not None and has_own_name(heap, (name, last), there, self._kind_of)
            if heap is not None and own_name and not (heap.reserved and removal):
                target.heaps = [heap]
                return target
            if not fresh_exact and (there or removal or not by_name):
                target.parted = parted
                target.heaps = there
                target.within = [one.source for _, one in by_name if self.left.get(one.source, 0) <= 0.02]
                return target
        if heap is not None and not (exact and any(self.left.get(one.source, 0) > 0.5 for _, one in by_name)):
            target.heaps = [heap]
            return target
        if product and group and not exact:
            return self._with_foods(target, [(1.0, one) for one in group], mention)
        if group and own & set(group_kinds()) and not exact:
            target.fresh = [one for one in group if self.left.get(one.source, 0) > 0.02]
            if target.fresh:
                return target
        if by_name and not (product and not exact and focus is not None):
            return self._with_foods(target, by_name, mention)
        if group:
            target.fresh = [one for one in group if self.left.get(one.source, 0) > 0.02]
            if target.fresh:
                return target
            return self._with_foods(target, [(0.8, one) for one in group], mention)
        if own & {"mixture"} or tail & {"mixture"}:
            mixed = mixture_of(self.table, said - {last}, focus, self._kind_of)
            target.heaps, target.focus = ([mixed], False) if mixed is not None else ([], True)
            return target
        if "waste" in own or "waste" in tail:
            target.waste = True
            target.nothing = True
            return target
        if own & {"spent"} or tail & {"spent"}:
            target.spent = True
        if parted is not None:
            target.parted = parted
            return target
        if tail & {"product-strewn"} or own & {"product-strewn"}:
            strewn = [
                one
                for one in self.ingredients
                if one.kind in ("salt", "sugar", "seasoning")
                and self.left.get(one.source, 0) > 0.02
                and one.source.index < after
            ]
            lists = [one.group for one in strewn if not in_force or one.group & in_force]
            target.fresh = [one for one in strewn if one.group == lists[0]] if lists else strewn
            if target.fresh:
                return target
        if product:
            target.focus, target.confidence = True, 0.6
            return target
        tool = own & {"tool", "adverb", "preposition", "aux"} or tail & {"tool"}
        if tool or any(one.startswith("vessel-") for one in own | tail):
            target.nothing = True
            return target
        doubtful = [(value, one) for value, one in self._scored(said, head) if value >= _DOUBT]
        if doubtful and mention.definite:
            best = max(value for value, _ in doubtful)
            target.confidence = best
            return self._with_foods(target, [pair for pair in doubtful if pair[0] >= best - 0.03][:2], mention)
        target.unlisted = True
        return target

    def _best(
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
        if len(found) <= 1:
            return found
        amount = with_amount(mention, [one for _, one in found], self.market)
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

    def _with_foods(self, target: Target, found: Sequence[tuple[float, Ingredient]], mention: Mention) -> Target:
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
            target.heaps = sorted(holding, key=lambda heap: heap.nature is not Nature.FOOD)[:1]
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

    def _titled(self, said: frozenset[str], by_name: Sequence[tuple[float, Ingredient]]) -> list[Ingredient]:
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

    def _group(
        self, said: frozenset[str], own: frozenset[str], at: int, in_force: frozenset[str], mention: Mention
    ) -> list[Ingredient]:
        """The foods that a class word or the title of a list means (R1)."""
        plain = said - frozenset(("ingredient", "mixture", "mix"))
        for group in self.groups:
            if plain and plain <= group:
                listed = [one for one in self.ingredients if one.group == group]
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
        return placed if mention.definite else []
