"""Cold and hot holding, jars, oils and vacuum packs: what lies between the kitchen and the eating.

A food needs time and temperature control where it is one in which bacteria grow (FDA Food Code 1-201.10(B)) and
nothing else keeps it: see `preservation`.
"""

from __future__ import annotations

from collections.abc import Iterator

from labeler.food_safety.model import FoodKind, HeatTreatment, SafetyFacts
from labeler.food_safety.preservation import SUGAR, acid_ratio, keeps_by_itself, sugar_share
from labeler.food_safety.raised import Raised, because, named, with_kinds

__all__ = ["holding", "jars", "oils", "packing", "perishable"]

K = FoodKind
ALWAYS = frozenset({K.POULTRY, K.GROUND_MEAT, K.MEAT, K.GAME, K.FISH, K.CRUSTACEANS, K.MOLLUSCS, K.SOFT_DAIRY, K.TOFU,
                    K.SURIMI, K.SPROUTS, K.RAW_MILK, K.EGG})  # fmt: skip
"""Foods that need the cold raw or cooked."""
OF_ANIMALS = (K.POULTRY, K.GROUND_MEAT, K.MEAT, K.GAME, K.FISH, K.CRUSTACEANS, K.MOLLUSCS)
OF_ANIMAL_ORIGIN = frozenset({*OF_ANIMALS, K.SURIMI, K.SOFT_DAIRY, K.RAW_MILK, K.EGG})
ONCE_COOKED = frozenset({K.GRAIN, K.BEANS, K.VEGETABLE})
"""Plant foods that need the cold once heat has opened them."""
ONCE_BOILED = frozenset({K.MEAL})
"""Plant foods that need the cold once they have swollen in hot liquid; baked they are bread or cake (common
practice)."""
ONCE_CUT = frozenset({K.LEAFY_GREENS, K.TOMATO, K.MELON})
"""Plant foods that need the cold once they are cut: Food Code 1-201.10(B)."""
NOT_ACID = (K.LOW_ACID, K.BEANS, K.GRAIN, K.VEGETABLE, K.SOFT_DAIRY, K.POULTRY, K.MEAT, K.GROUND_MEAT, K.GAME, K.FISH,
            K.CRUSTACEANS, K.MOLLUSCS)  # fmt: skip
ACID_KEEPS = 0.3
"""Grams of vinegar to 1 g of low-acid food from which a closed jar is meant to keep by acid (common practice)."""
SWEET = 0.2
"""Share of sugar in the whole from which it is a preserve: dried tomatoes in oil are none (common practice)."""
SMALL = 0.02
"""Share of the whole up to which a cooked vegetable seasons it and is not what spoils."""


def perishable(facts: SafetyFacts) -> list[HeatTreatment]:
    """The foods in which bacteria grow if the whole is not kept cold, whatever else keeps it."""
    total = sum(food.grams or 0.0 for food in facts.foods)
    found = []
    for food in facts.foods:
        shared = food.grams is None or not total or food.grams / total > SMALL
        cooked = food.kinds & ONCE_COOKED and (food.heated or food.cooked_before) and shared
        swollen = food.kinds & ONCE_BOILED and food.heated and not food.dry_heat and shared
        cut = food.kinds & ONCE_CUT and (food.cut or food.heated) and shared
        if (food.kinds & ALWAYS and not _only_binds(food, shared)) or cooked or swollen or cut:
            found.append(food)
    return found


def _only_binds(food: HeatTreatment, shared: bool) -> bool:
    """True for a little egg or milk that is cooked through: it makes no food perishable by itself."""
    return not shared and food.heated and not food.kinds & set(OF_ANIMALS)


def holding(facts: SafetyFacts) -> Iterator[Raised]:
    """Cold and hot holding, the line of the label, and the laws that leave such food out of home kitchens."""
    foods = perishable(facts)
    animal = [food for food in foods if food.kinds & set(OF_ANIMALS)]
    raw_egg = [food for food in foods if K.EGG in food.kinds and food.raw]
    others = [food for food in foods if food not in animal]
    if not facts.handled:
        others = []
    if others and facts.keeping.sealed and not facts.keeping.cold and (acid_ratio(facts.foods) or 0) >= ACID_KEEPS:
        others = [food for food in others if K.EGG in food.kinds]  # the caution on acidified jars speaks of them
    if others and keeps_by_itself(facts.composition, others, facts.keeping.measured_ph):
        others = [food for food in others if food in raw_egg]
    foods = [food for food in foods if food in animal or food in others]
    if not foods:
        return
    yield "cold-and-hot-holding", "", "", because(foods)
    yield "home-kitchen", named(foods), _approval(foods), because(foods)
    if not facts.keeping.cold_on_label:
        yield "keep-cold", "", "", because(foods)
    if facts.keeping.room and not facts.keeping.cold:
        yield "storage-conflict", named(foods), facts.keeping.room, because(foods)


def _approval(foods: list[HeatTreatment]) -> str:
    """What is said besides of the foods of animal origin among some; empty where there are none."""
    animal = [food for food in foods if food.kinds & OF_ANIMAL_ORIGIN]
    return f" Of animal origin is {named(animal)}: some such food needs an approval besides." if animal else ""


def jars(facts: SafetyFacts) -> Iterator[Raised]:
    """Closed jars by what keeps them: acid, sugar, or neither."""
    eggs = [food for food in with_kinds(facts, K.EGG) if food.heated or food.cooked_before]
    acid = with_kinds(facts, K.ACID)
    if eggs and acid and (facts.keeping.sealed or any(food.steeped for food in eggs)):
        yield "pickled-eggs", named(eggs), "", because(eggs)
    else:
        eggs = []
    low = [food for food in with_kinds(facts, *NOT_ACID) if food not in eggs]
    if not facts.keeping.sealed or facts.keeping.cold:
        return
    whole = facts.composition
    if whole is not None and whole.sugar >= SWEET * whole.total and sugar_share(whole) >= SUGAR / 2:
        sweet = [food for food in facts.foods if food.grams is not None and food.grams > 0.2 * whole.total]
        share = f"{100 * sugar_share(whole):.0f} %"
        if not low or sugar_share(whole) >= SUGAR:
            yield "sugar-jar", named(sweet), share, because(sweet)
            return
    if not low:
        return
    if facts.keeping.fermented and not acid:
        yield "fermented-jar", named(low), "", because(low)
    elif not acid:
        yield "low-acid-jar", named(low), "", because(low)
    elif facts.keeping.measured_ph is None:
        ratio = acid_ratio(facts.foods)
        text = "The recipe does not settle how much acid that is." if ratio is None else (
            f"It holds {ratio:.1f} g of vinegar or acid juice to 1 g of low-acid food; "
            "tested recipes for pickles mostly have 1 or more.")  # fmt: skip
        yield "acidified-jar", named(low), text, because(low)


def oils(facts: SafetyFacts) -> Iterator[Raised]:
    """Garlic, herbs and the like kept in oil or in butter."""
    for at, part in enumerate(facts.parts):
        here = [food for food in facts.foods if food.part == at]
        fresh = [food for food in here if K.FRESH_AROMATIC in food.kinds and not food.kinds & {K.OIL, K.FAT}]
        if not fresh or any(K.ACID in food.kinds for food in here):
            continue
        oil = [food for food in here if K.OIL in food.kinds]
        fat = [food for food in here if K.FAT in food.kinds]
        if oil and part.kept_in_oil:
            yield "flavoured-oil", named(fresh), "", because([*fresh, *oil])
            yield "flavoured-oil-label", "", "", because([*fresh, *oil])
        elif fat and part.kept_in_fat:
            yield "flavoured-butter", named(fresh), "", because([*fresh, *fat])


def packing(facts: SafetyFacts) -> Iterator[Raised]:
    """Packs without air."""
    foods = perishable(facts)
    if facts.keeping.vacuum and foods:
        yield "vacuum-pack", named(foods), "", because(foods)
