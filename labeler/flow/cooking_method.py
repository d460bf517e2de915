"""R8: what a general verb of cooking means, by vessel, medium and content.

The rules are asked in turn; the first that knows names the action.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from labeler.flow.heaps import Heap
from labeler.flow.parting import BATH
from labeler.flow.walk import Walk
from labeler.foods.food_class import JUICY, LIQUOR
from labeler.parsing.instructions.actions import Action, Heat, Trait, action
from labeler.parsing.instructions.model import Instruction, Manner, Mark
from labeler.parsing.instructions.vessels import VesselKind, vessel_kinds

__all__ = ["cooking_method"]

_SWIMS = 0.12  # share of liquid from which on food cooks in it: a choice, no source
_FRIES = 150.0  # °C of the oven from which on fat in it fries: a choice, no source
_MOSTLY = 0.5  # share of juicy fruit and sugar from which on food boils in their juice: a choice, no source
_SOUP = 0.9  # share of liquid from which on grain in a dish is no dish of grain: a choice, no source


def cooking_method(walk: Walk, one: Instruction, heap: Heap) -> str:
    """The id of the action that an instruction of heat is."""
    asked = _HeatQuestion(walk, one, heap)
    return next(name for rule in _RULES if (name := rule(asked)) is not None)


@dataclass
class _HeatQuestion:
    """What the rules are asked of."""

    walk: Walk
    one: Instruction
    heap: Heap

    @cached_property
    def row(self) -> Action:
        return action(self.one.action)

    @cached_property
    def fat(self) -> float:
        """Grams of fat."""
        return self.walk.grams(self.heap, "fat")

    @cached_property
    def liquid(self) -> bool:
        return self.walk.has_liquid(self.heap)

    @cached_property
    def told_water(self) -> bool:
        """Whether the words bring water."""
        return bool({Mark.WATER, Mark.SALTED_WATER} & self.one.marks) or self.one.water is not None

    @property
    def wet(self) -> bool:
        return self.liquid or self.told_water

    @property
    def general(self) -> bool:
        """Whether the verb says no more than that it cooks."""
        return Manner.COOKS in self.one.manners

    def in_vessel(self, kind: VesselKind) -> bool:
        """Whether the vessel named is of a kind."""
        return kind in self.one.vessel_kinds


def _confit(asked: _HeatQuestion) -> str | None:
    """Food that lies in fat below the boil, or in a cool oven."""
    if asked.wet or asked.fat <= BATH:
        return None
    if Trait.BELOW_BOIL in asked.row.traits and not asked.walk.dry_takers(asked.heap):
        return "confit"
    cool = asked.one.celsius is None or asked.one.celsius.best < _FRIES
    return "confit" if asked.general and Trait.IN_TIN in asked.row.traits and cool else None


def _only_fat(asked: _HeatQuestion) -> str | None:
    """Fat that is alone in the pan is heated."""
    pot, pan = Trait.CLOSED_POT in asked.row.traits, Trait.IN_PAN in asked.row.traits
    if (pot or pan) and asked.walk.only_medium(asked.heap):
        return "heat"
    return "heat" if pan and not asked.heap.foods else None


def _under_lid(asked: _HeatQuestion) -> str | None:
    """ "Cover with a lid and cook in the oven at 150 °C"."""
    covered = asked.heap.covered or Mark.COVERED in asked.one.marks
    general = asked.row.heat is Heat.BY_PLACE or asked.general
    if not covered or not general or not asked.wet or not asked.walk.flesh(asked.heap):
        return None
    return "braise" if asked.walk.liquid_share(asked.heap) > _SWIMS else None


def _as_named(asked: _HeatQuestion) -> str | None:
    general = asked.row.heat is Heat.BY_PLACE or (asked.general and Trait.BELOW_BOIL in asked.row.traits)
    return None if general else asked.row.id


def _by_vessel(asked: _HeatQuestion) -> str | None:
    heap, one = asked.heap, asked.one
    if VesselKind.CLOSED in vessel_kinds(heap.vessel) or VesselKind.CLOSED in one.vessel_kinds:
        return "braise"
    if (Mark.OVER_WATER in one.marks or (heap.over_water and not one.vessel)) and not asked.wet:
        return "steam"
    stays = heap.in_oven and Mark.FLAME not in one.marks
    if stays or Mark.IN_OVEN in one.marks or asked.in_vessel(VesselKind.OVEN):
        return "bake"
    return "broil" if Mark.GRILL in one.marks else None


def _in_liquid(asked: _HeatQuestion) -> str | None:
    share = asked.walk.liquid_share(asked.heap)
    toasted = asked.heap.hot and bool(asked.fat) and not asked.wet
    if asked.walk.thirsty(asked.heap) and share < _SOUP and not toasted:
        return "simmer" if asked.liquid else "boil"
    if asked.told_water:
        return "boil"
    return "simmer" if asked.heap.wet or (asked.wet and share > _SWIMS) else None


def _in_its_juice(asked: _HeatQuestion) -> str | None:
    """Fruit with sugar boils in the juice that it gives: a jam, a compote, a chutney."""
    walk, heap = asked.walk, asked.heap
    if asked.fat > 0.0 or not walk.grams(heap, "sugar"):
        return None
    return "simmer" if walk.grams(heap, *JUICY, "sugar", *LIQUOR) > _MOSTLY * walk.grams(heap) else None


def _in_fat(asked: _HeatQuestion) -> str:
    if not asked.liquid and asked.fat > BATH and Mark.GENTLE in asked.one.marks:
        return "confit"
    fries = asked.fat > 0.0 or asked.walk.flesh(asked.heap) or asked.in_vessel(VesselKind.PAN)
    return "pan-fry" if fries or not asked.liquid else "simmer"


_RULES = (_confit, _only_fat, _under_lid, _as_named, _by_vessel, _in_liquid, _in_its_juice, _in_fat)
