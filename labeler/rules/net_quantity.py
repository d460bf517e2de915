"""Net quantity: what the package holds, in the units and the form of the market, and how tall its type must be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.rounding import exact, plain, to_figures
from labeler.text.stems import find_phrase, head_and_aside, stems
from labeler.types import LabelerError, Problem

__all__ = ["NetQuantity", "net_quantity"]

NET = "net_quantity"
_FLUID = "volume foods"
_FIGURES = 3
_CM2 = {"sq in": Decimal("6.4516"), "cm2": Decimal(1)}
_MM = {"inch": Decimal("25.4"), "mm": Decimal(1)}


@dataclass(frozen=True, slots=True)
class NetQuantity:
    """The statement of net quantity.

    Parameters
    ----------
    text : str
        What the market wants printed, both systems where it wants both.
    both : str
        The same with the other system added where that is allowed only.
    minimum_type_mm : float or None
        Least height of its type [mm]; None where the market sets none or the panel's area is not known.
    rules : tuple of Rule
    problems : tuple of Problem
    liquid : bool
        True for a liquid, whose figures and serving go by millilitres.
    """

    text: str
    both: str
    minimum_type_mm: float | None
    rules: tuple[Rule, ...]
    problems: tuple[Problem, ...] = ()
    liquid: bool = False


def net_quantity(
    *,
    market: str | Path | Market = "us",
    grams: float | None = None,
    millilitres: float | None = None,
    food: str = "",
    liquid: bool = False,
    panel_area_cm2: float | None = None,
    drained_g: float | None = None,
) -> NetQuantity:
    """The net quantity of a package.

    Parameters
    ----------
    market : str or Path
        Market id, or a folder of rule files.
    grams, millilitres : float or None
        What the package holds [g], [mL]; give both where both are known.
    food : str
        Name of the food: some foods are declared by volume by the market's rules (drinks and
        thin sauces; pickles and relishes in the us).
    liquid : bool
        True for a liquid, which is declared by volume.
    panel_area_cm2 : float or None
        Area of the principal display panel [cm²], which settles the height of the type in some markets.
    drained_g : float or None
        Weight without the liquid [g] of a solid food whose liquid is not eaten: it stands beside the net weight, or in
        its place, as the market has it.

    Raises
    ------
    ValueError
        Without any quantity, or for one that is not above zero.
    LabelerError
        For an unknown market.

    Conversions keep three significant figures. A food that must be declared by volume is declared by weight, with a
    problem that says so, where its volume is not known.
    """
    _check_given(grams, millilitres, panel_area_cm2, drained_g)
    rules = load_market(market).rules(NET)
    if "net-weight" not in rules or "net-volume" not in rules:
        raise LabelerError(f"market {load_market(market).id} has no rules for net quantity")
    fluid = next((rule for rule in rules.values() if rule.kind == _FLUID and _by_volume(rule, food)), None)
    by_volume = liquid or fluid is not None
    problems = tuple(_not_known(fluid, by_volume=by_volume, grams=grams, millilitres=millilitres))
    drained = rules.get("net-drained") if drained_g is not None else None
    if drained and drained.data["display"] == "instead" and not by_volume:
        grams = drained_g
    volume = millilitres is not None and (by_volume or grams is None)
    form = rules["net-volume" if volume else "net-weight"]
    quantity = exact(float((millilitres if volume else grams) or 0))
    type_height = rules.get("net-type-height")
    height, notes = _height(type_height, quantity, panel_area_cm2)
    text, both = _words(form, quantity)
    if drained and drained_g is not None and drained.data["display"] == "as well":
        aside = _words(rules["net-weight"], exact(float(drained_g)))
        text, both = (
            f"{words}, {drained.data['words']} {more}" for words, more in zip((text, both), aside, strict=True)
        )
    used = tuple(rule for rule in (fluid, form, type_height, drained) if rule is not None)
    # Pickles stand in fluid measure and are no liquid: their serving is in grams (21 CFR 101.9(b)(7)).
    is_liquid = volume and (liquid if fluid is None else fluid.id == "net-liquids")
    return NetQuantity(text, both, height, used, (*problems, *notes), is_liquid)


def _check_given(grams: float | None, millilitres: float | None, *others: float | None) -> None:
    """Raise ValueError for a quantity that is not above zero, and where neither weight nor volume is given."""
    for value in (grams, millilitres, *others):
        if value is not None and value <= 0:
            raise ValueError(f"a quantity is above zero, not {value}")
    if grams is None and millilitres is None:
        raise ValueError("give the net quantity in grams or in millilitres")


def _not_known(
    fluid: Rule | None, *, by_volume: bool, grams: float | None, millilitres: float | None
) -> Iterator[Problem]:
    """A problem where the quantity that must be declared is not the one that is given."""
    if by_volume and millilitres is None:
        reason = f"{fluid.summary} ({fluid.paragraph})" if fluid is not None else "A liquid is declared by volume."
        yield Problem("net-needs-volume", f"{reason} Measure what the package holds and give millilitres.")
    elif not by_volume and grams is None:
        yield Problem("net-needs-weight", "Food that is no liquid is declared by weight: give grams.")


def _by_volume(rule: Rule, food: str) -> bool:
    """True for a food that the rule declares by volume: by the last words of its name, or a word anywhere in it."""
    head = stems(head_and_aside(food)[0])

    def stated(words: str) -> int | None:
        return find_phrase(stems(words), head)

    if any(stated(words) is not None for words in rule.data["unless"]):
        return False
    return any(stated(words) == len(head) for words in rule.data["ends"]) or any(
        stated(words) is not None for words in rule.data["anywhere"]
    )


def _words(form: Rule, quantity: Decimal) -> tuple[str, str]:
    data = form.data
    lead = f"{data['lead']} " if data["lead"] else ""
    metric = _metric(form, quantity)
    if data["second"] == "none":
        return f"{lead}{metric}", f"{lead}{metric}"
    customary = _customary(form, quantity)
    if data["first"] == "metric":
        both = f"{lead}{metric} ({customary[0]})"
        return (both if data["second"] == "required" else f"{lead}{metric}"), both
    main, aside = customary
    both = f"{lead}{main} ({aside}) {metric}" if aside else f"{lead}{main} ({metric})"
    return (both if data["second"] == "required" else f"{lead}{main}"), both


def _metric(form: Rule, quantity: Decimal) -> str:
    unit = form.data["metric_large" if quantity >= form.data["metric_large"]["size"] else "metric"]
    return f"{plain(to_figures(quantity / unit['size'], _FIGURES))} {unit['unit']}"


def _customary(form: Rule, quantity: Decimal) -> tuple[str, str]:
    """The customary statement, and what stands in parentheses after it: the larger unit, from one of it on."""
    small = form.data["small"]
    count = to_figures(quantity / small["size"], _FIGURES)
    total = f"{plain(count)} {small['unit']}"
    parts: list[str] = []
    rest = count
    for large in (*form.data.get("larger", ()), form.data["large"]):
        each = (large["size"] / small["size"]).quantize(Decimal(1))
        whole, rest = divmod(rest, each)
        if whole:
            parts.append(f"{whole:f} {large['unit']}")
    if not parts:
        return total, ""
    split = " ".join([*parts, f"{plain(rest)} {small['unit']}"] if rest else parts)
    return (split, "") if quantity >= form.data["large_first_from"] else (total, split)


def _height(rule: Rule | None, quantity: Decimal, area: float | None) -> tuple[float | None, tuple[Problem, ...]]:
    if rule is None:
        return None, ()
    size = quantity
    if rule.data["by"] == "panel area":
        if area is None:
            words = "The height of the type follows the area of the principal display panel, which is not known."
            return None, (Problem("net-type-needs-panel-area", f"{words} ({rule.paragraph})"),)
        size = exact(float(area)) / _CM2[rule.data["area_unit"]]
    step = next(step for step in rule.data["steps"] if "up_to" not in step or size <= step["up_to"])
    return float(step["height"] * _MM[rule.data["height_unit"]]), ()
