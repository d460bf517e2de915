"""What the food-safety decisions rest on: small typed facts of each food and of how the whole is kept.

Nothing here is a sentence that anybody reads again: texts are carried only to be shown. Who fills these facts from a
recipe is free to do it in any way; `labeler.food_safety.from_flow` does it from the executed flow.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from labeler.parsing.keeping import Keeping

__all__ = [
    "ANIMAL",
    "Caution",
    "Composition",
    "FoodKind",
    "HeatTreatment",
    "Heating",
    "Keeping",
    "PartFacts",
    "SafetyFacts",
]  # fmt: skip


class FoodKind(StrEnum):
    """Kinds of food that a caution knows."""

    POULTRY = "poultry"
    GROUND_MEAT = "ground meat"
    MEAT = "meat"
    GAME = "game"
    EGG = "egg"
    FISH = "fish"
    CRUSTACEANS = "crustaceans"
    MOLLUSCS = "molluscs"
    RAW_MILK = "raw milk"
    RAW_MILK_CHEESE = "raw milk cheese"
    SOFT_DAIRY = "soft dairy"
    TOFU = "tofu"
    SURIMI = "surimi"
    GRAIN = "grain"
    MEAL = "meal of grain"
    BEANS = "beans"
    VEGETABLE = "vegetable"
    LEAFY_GREENS = "leafy greens"
    TOMATO = "tomato"
    MELON = "melon"
    SPROUTS = "sprouts"
    FLOUR = "flour"
    ACID = "acid"
    OIL = "oil"
    FAT = "fat"
    FRESH_AROMATIC = "garlic or herbs"
    LOW_ACID = "low-acid food"
    HONEY = "honey"
    ALCOHOL = "alcohol"
    HOT_CHILLI = "hot chilli"
    KIDNEY_BEANS = "dried kidney beans"
    ELDERBERRIES = "elderberries"
    FORAGED = "foraged mushrooms"
    CASSAVA = "cassava"
    RHUBARB_LEAVES = "rhubarb leaves"
    APRICOT_KERNELS = "apricot kernels"
    LIQUORICE = "liquorice"
    BONES = "bones"
    SHELLS = "shells"
    STONES = "pits"
    CHOKING = "choking"
    ASPARTAME = "aspartame"
    QUININE = "quinine"


ANIMAL = (FoodKind.POULTRY, FoodKind.GROUND_MEAT, FoodKind.MEAT, FoodKind.GAME, FoodKind.EGG, FoodKind.FISH,
          FoodKind.CRUSTACEANS, FoodKind.MOLLUSCS)  # fmt: skip
"""Foods of animals that carry what heat must kill, in the order in which they are named."""


class Heating(StrEnum):
    """How far heat reaches a food."""

    NONE = "not heated"
    POURED = "only a hot liquid poured over it"
    SURFACE = "its surface only"
    WARMED = "warmed or heated briefly"
    COOKED = "cooked"


@dataclass(frozen=True, slots=True)
class HeatTreatment:
    """One food and what is done to it that a caution asks about.

    Parameters
    ----------
    name, text : str
        What to call it, and the line that brings it, to be shown.
    kinds : frozenset of FoodKind
        What it is.
    part : int
        The part of the recipe that it stands in, from 0.
    food : str or None
        Table id; None where no food was matched.
    species : tuple of str
        Of fish, crustaceans and molluscs: "tuna", "salmon roe".
    heating : Heating
        The most that happens to it.
    cooked_before : bool
        True where it is bought cooked, canned, smoked, cured or dried.
    dry_heat : bool
        True where it is roasted, baked, grilled or fried.
    underdone : bool
        True where it is served rare or medium rare on purpose.
    raw_meant : bool
        True where it is bought or served to be eaten raw: of sashimi grade, in a tartare or a ceviche.
    core_c : float or None
        The temperature in the middle that is stated [°C].
    core_text : str
        The words that state it, to be shown.
    simmered : bool
        True where it cooks for long in a hot liquid or in steam.
    stuffed : bool
        True where it is filled before it is heated.
    cut : bool
        True where it is cut, ground, blended or halved: no longer whole.
    removed : frozenset of FoodKind
        Which of bones, shells and stones are taken out.
    steeped : bool
        True where it lies in a liquid, a marinade or a cure.
    grams : float or None
        Its weight as it enters [g].
    juice_raw : bool
        True where a marinade or the like that it lay in raw is served without being boiled.
    """

    name: str
    text: str
    kinds: frozenset[FoodKind]
    part: int = 0
    food: str | None = None
    species: tuple[str, ...] = ()
    heating: Heating = Heating.NONE
    cooked_before: bool = False
    dry_heat: bool = False
    underdone: bool = False
    raw_meant: bool = False
    core_c: float | None = None
    core_text: str = ""
    simmered: bool = False
    stuffed: bool = False
    cut: bool = False
    removed: frozenset[FoodKind] = frozenset()
    steeped: bool = False
    grams: float | None = None
    juice_raw: bool = False

    @property
    def heated(self) -> bool:
        """True where heat reaches all of it; a hot liquid poured over it, or a seared surface, does not."""
        return self.heating in (Heating.WARMED, Heating.COOKED)

    @property
    def raw(self) -> bool:
        """True where neither the cook nor the maker before has heated it."""
        return not self.heated and not self.cooked_before


@dataclass(frozen=True, slots=True)
class PartFacts:
    """One part of the recipe: its title to be shown, and whether it is something kept in oil or in fat."""

    title: str = ""
    kept_in_oil: bool = False
    kept_in_fat: bool = False


@dataclass(frozen=True, slots=True)
class Composition:
    """The whole as it is put together [g]; None where a weight is not known.

    `oven` is True where it is baked or fried, so that it dries.
    """

    total: float
    water: float
    salt: float
    sugar: float
    flour: float
    oven: bool = False


@dataclass(frozen=True, slots=True)
class SafetyFacts:
    """Everything that the cautions rest on; `handled` is False for a bare list, of which nothing is concluded."""

    foods: tuple[HeatTreatment, ...]
    parts: tuple[PartFacts, ...] = (PartFacts(),)
    keeping: Keeping = field(default_factory=Keeping)
    composition: Composition | None = None
    handled: bool = True


@dataclass(frozen=True, slots=True)
class Caution:
    """One food-safety caution.

    Parameters
    ----------
    code : str
        Short and stable, such as ``"raw-fish"``.
    text : str
        The caution in plain sentences, with its deferral to the local code.
    place : str
        ``"label"`` for what a buyer must see, ``"cook"`` for what only the maker needs.
    citation : str
        Where the rule stands.
    because : tuple of str
        The lines or handling sentences that raise it.
    """

    code: str
    text: str
    place: str
    citation: str
    because: tuple[str, ...] = ()
