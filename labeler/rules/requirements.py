"""What a market asks of one recipe: the serving statement, what the label must carry, claims and tolerances.

`labeler.rules` judges figures that it is given; here it is given those of a recipe. Facts about the sale and the
business come from the recipe's head or from the call; what is not stated stays open and its question is part of the
answer. Nothing here certifies: the answer ends with the authority to ask.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from labeler.cooking.state.density import density
from labeler.markets import market_of
from labeler.nutrition.analysis import Nutrition, analyse
from labeler.parsing import read_line
from labeler.parsing.declared_servings import things_made
from labeler.parsing.model import Recipe
from labeler.parsing.units import grams_per, millilitres_per
from labeler.rules.claims import Claims, claims
from labeler.rules.food_makeup import loose_density, makeup_of
from labeler.rules.loading.schema import SALES
from labeler.rules.market import load_market
from labeler.rules.model import Rule
from labeler.rules.net_quantity import net_quantity
from labeler.rules.obligations import Obligations, obligations, questions
from labeler.rules.sale import known_facts, number_or_word
from labeler.rules.serving import Serving, serving_size
from labeler.rules.tolerance import Tolerance, tolerance
from labeler.text.plurals import singular_phrase
from labeler.types import LabelerError

__all__ = ["Requirements", "read_facts", "requirements", "serving_of"]

# What a batch is sold in, as against pieces that are eaten whole.
_PACKS = frozenset("jar bottle box bag can tin tub pot carton packet pack package container punnet tray".split())


@dataclass(frozen=True, slots=True)
class Requirements:
    """What a market asks of a recipe.

    Parameters
    ----------
    title, market : str
    serving : Serving or None
        None where the market has no rule for it.
    obligations : Obligations or None
        None where the kind of sale is not stated.
    claims : Claims or None
        None where the market's claims are not held.
    tolerances : tuple of Tolerance
        Of each declared value per serving; empty where the market's are not held.
    open : tuple of str
        What is not held or not said, in sentences.
    nutrition : Nutrition
        The figures that were judged.
    by_sale : mapping
        Kind of sale → what it would ask, where the kind is not stated; else empty.
    """

    title: str
    market: str
    serving: Serving | None
    obligations: Obligations | None
    claims: Claims | None
    tolerances: tuple[Tolerance, ...]
    open: tuple[str, ...]
    nutrition: Nutrition
    by_sale: Mapping[str, Obligations] = field(default_factory=dict)


def read_facts(pairs: Iterable[str]) -> dict[str, Any]:
    """Facts as typed, ``employees=2``: yes and no, numbers and words; raises LabelerError for anything else."""
    found: dict[str, Any] = {}
    for pair in pairs:
        name, equals, value = (part.strip() for part in pair.partition("="))
        if not equals or not name or not value:
            raise LabelerError(f"--fact {pair}: write a fact as name=value, such as employees=2")
        found[name.replace(" ", "_")] = number_or_word(value)
    return found


def requirements(recipe: Recipe, *, market: str | None = None, facts: Mapping[str, Any] | None = None) -> Requirements:
    """What a market asks of a recipe, judged from its own figures.

    Parameters
    ----------
    recipe : Recipe
        Its head may say the facts: ``sale: packed at the stall``, ``employees: 2``, ``units: 3000``; and the
        reference amount as ``kind: relishes``.
    market : str or None
        Whose rules; None takes the head's `market`, else us.
    facts : mapping or None
        Facts that win over the head's, by the names of `labeler.rules.obligations.questions`.

    Returns
    -------
    Requirements
        Serving statement, what must stand on the label, claims, tolerances, and the questions that are open. It refers
        to the authority that decides; it never says that a food meets the law.

    Raises
    ------
    LabelerError
        For an unknown market, a fact that it does not ask for, or a reference amount that it does not have.

    Source: the paragraph beside each answer; the rule files of ``labeler/rules/data``.

    Examples
    --------
    >>> recipe = labeler.read_recipe_file("demo/beetroot-relish.md")
    >>> found = labeler.requirements(recipe, facts={"sale": "packed at the stall"})
    >>> found.market, found.serving.unit
    ('uk', 'g')
    """
    place = load_market(market_of(recipe, market))
    nutrition = analyse(recipe, market=place.id)
    wanted = questions(place)
    known = known_facts(recipe, place.id, facts)
    missing: list[str] = []
    owed: Obligations | None = None
    by_sale: dict[str, Obligations] = {}
    if not wanted:
        missing.append("Who must label what is not held for this market.")
    elif "sale" not in known:
        kinds = wanted["sale"].data.get("question", "")
        missing.append(
            f'{kinds} Say it as “sale: packed at the stall” in the head, or --fact "sale=packed at the stall".'
        )
        by_sale = {sale: obligations(known | {"sale": sale}, market=place) for sale in SALES}
    else:
        owed = obligations(known, market=place)
    try:
        serving = serving_of(recipe, nutrition, place.id)
    except LabelerError as error:
        if "kind" in recipe.head:
            raise
        serving = None
        missing.append(f"Serving size: {error}.")
    return Requirements(
        title=nutrition.title,
        market=place.id,
        serving=serving,
        obligations=owed,
        claims=_claims(recipe, nutrition, serving, place.id, missing),
        tolerances=_tolerances(nutrition, place.id, missing),
        open=tuple(missing),
        nutrition=nutrition,
        by_sale=by_sale,
    )


def _per_ml(nutrition: Nutrition) -> float | None:
    found = float(density(nutrition.dish.mix)[0]) if nutrition.dish.mix.items else float("nan")
    return found if found > 0 else None


def serving_of(recipe: Recipe, nutrition: Nutrition, market: str) -> Serving:
    """The serving statement that a market asks for, from what the recipe is, makes and weighs.

    Raises
    ------
    LabelerError
        Where the market has no rule for it, or no reference amount of the head's `kind`.
    """
    divided = nutrition.portion
    unit, each = _piece(recipe, nutrition)
    kind = recipe.head.get("kind")
    return serving_size(
        market=market,
        category=None if kind is None else str(kind),
        title=recipe.title,
        foods=[line.line.name for _, line in nutrition.lines if line.line.name],
        makeup=makeup_of(nutrition),
        package_g=drained_g(recipe) or divided.pack_g or None,
        unit_g=each,
        unit=unit or "piece",
        portion_g=divided.grams or None,
        density=_per_ml(nutrition),
        loose_density=loose_density(nutrition),
        liquid=_flows(recipe, nutrition, market),
        pack=_pack_noun(recipe),
        visual=str(recipe.head.get("visual", "")),
        ready_ml=_volume(str(recipe.head.get("ready", "")), market),
    )


def drained_g(recipe: Recipe) -> float | None:
    """What a pack holds without its liquid [g], as the head says it; None where it does not."""
    for amount in read_line(str(recipe.head.get("drained", ""))).amounts:
        mass = grams_per(amount.unit)
        if mass:
            return amount.low * mass
    return None


def _piece(recipe: Recipe, nutrition: Nutrition) -> tuple[str, float | None]:
    """What one piece of the food is called and weighs [g]: a cookie, or the one cake that a pack holds; else none."""
    divided = nutrition.portion
    if "piece" in recipe.head:
        stated = read_line(str(recipe.head["piece"]))
        masses = [(one.low + one.high) / 2.0 * mass for one in stated.amounts if (mass := grams_per(one.unit))]
        if masses and masses[0] > 0.0:
            return stated.name or "piece", masses[0]
    if divided.pack_ml is not None:  # what is sold by volume is in no pieces: "makes: 4 jugs", "net: 2 litres"
        return "", None
    unit = divided.household.removeprefix("1 ") if divided.household.startswith("1 ") and not divided.by_weight else ""
    if unit and unit not in _PACKS and divided.grams > 0:
        return unit, divided.grams
    if "net" in recipe.head:  # what is made are then the packs
        return "", None
    made = next((count for count in things_made(recipe.head) if count.unit and count.number > 0.0), None)
    batch = float(nutrition.dish.mix.total_mass[0])
    if made is None or batch <= 0.0 or singular_phrase(made.unit).split()[-1] in _PACKS:
        return "", None
    return singular_phrase(made.unit), batch / made.number


def _pack_noun(recipe: Recipe) -> str:
    """What the food is sold in, by what the head says that it makes or is packed in."""
    made = [singular_phrase(count.unit).split()[-1] for count in things_made(recipe.head) if count.unit]
    return next((noun for noun in made if noun in _PACKS), "container")


def _volume(text: str, market: str) -> float | None:
    """A volume of the head [mL]; a weight counts as water does; None where it says neither."""
    for amount in read_line(text).amounts:
        volume = millilitres_per(amount.unit, market=market) or grams_per(amount.unit)
        if volume:
            return (amount.low + amount.high) / 2.0 * volume
    return None


def _claims(
    recipe: Recipe, nutrition: Nutrition, serving: Serving | None, market: str, missing: list[str]
) -> Claims | None:
    reference = serving.reference if serving else None
    density_ = _per_ml(nutrition)
    grams, millilitres = _reference_amount(reference, market, density_)
    try:
        return claims(
            nutrition.per_100g,
            market=market,
            reference_g=grams,
            reference_ml=millilitres,
            serving_g=serving.grams if serving and serving.grams else nutrition.serving_g or None,
            liquid=_flows(recipe, nutrition, market),
            density=density_,
            reference=reference.id if reference else "",
        )
    except LabelerError as error:
        missing.append(f"Claims: {error}.")
        return None


def _flows(recipe: Recipe, nutrition: Nutrition, market: str) -> bool:
    """Whether the food is a drink or another liquid, which goes by millilitres: by its pack or by its name."""
    stated = nutrition.portion.pack_ml is not None
    return net_quantity(market=market, grams=100.0, millilitres=100.0, liquid=stated, food=recipe.title).liquid


def _reference_amount(reference: Rule | None, market: str, per_ml: float | None) -> tuple[float | None, float | None]:
    """A reference amount in grams and in millilitres; None for what is not known of it."""
    if reference is None or reference.data["amount"] is None:
        return None, None
    unit, amount = str(reference.data["unit"]), float(reference.data["amount"])
    if unit == "g":
        return amount, None
    sizes = load_market(market).rule("serving", "household").data["millilitres"]
    millilitres = amount * float(sizes.get(unit, 1))
    return (millilitres * per_ml if per_ml else None), millilitres


def _tolerances(nutrition: Nutrition, market: str, missing: list[str]) -> tuple[Tolerance, ...]:
    try:
        return tolerance(nutrition.per_serving, market=market)
    except LabelerError as error:
        missing.append(f"Tolerances: {error}.")
        return ()
