"""The official panel of a label: which form its market and its size ask for, and the figures of each column."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from labeler.cooking.state.density import density
from labeler.label.builder import LabelFacts, is_liquid
from labeler.label.compose import DoesNotFit, compose_label
from labeler.label.content import LabelContent
from labeler.label.serving_words import servings_in
from labeler.nutrition.analysis import Nutrition
from labeler.parsing.model import Recipe
from labeler.rules.declaration import Declaration, declare
from labeler.rules.market import load_market
from labeler.rules.missing_values import open_values
from labeler.rules.requirements import serving_of
from labeler.rules.sale import FiguresShown, Sale
from labeler.rules.serving import Serving
from labeler.types import LabelerError, Problem

__all__ = ["panels_for", "with_fitting_panel"]


def with_fitting_panel(
    content: LabelContent, recipe: Recipe, facts: LabelFacts, sale: Sale, panel: str | None, options: Mapping[str, Any]
) -> tuple[LabelContent, tuple[Problem, ...]]:
    """The content with the panel that is asked for, else with the first that its sale needs and that fits."""
    if panel is not None:
        return _with_panel(content, recipe, facts, panel)
    if sale.figures is not FiguresShown.PANEL:
        return content, ()
    forms = panels_for(
        facts.market,
        columns=2 if _second_column(recipe, facts) else 1,
        language=content.language,
        height_mm=options["size"][1],
        surface_cm2=_surface_cm2(sale),
    )
    refusal: LabelerError | None = None
    for form in forms:
        found, more = _with_panel(content, recipe, facts, form)
        try:
            compose_label(found, **options)
        except DoesNotFit as error:
            refusal = refusal or error
            continue
        return found, more
    if refusal is not None:
        raise refusal
    return content, ()


_TABULAR_BELOW_MM = 76.2
"""Three inches of continuous vertical space: 21 CFR 101.9(d)(11)(iii)."""


def panels_for(
    market: str,
    *,
    columns: int = 1,
    language: str = "en",
    height_mm: float | None = None,
    surface_cm2: float | None = None,
) -> tuple[str, ...]:
    """The panels of a market that a label may take of itself, the standard one first.

    Parameters
    ----------
    market : str
    columns : int
        2 where the market asks for a second column for the whole pack.
    language : str
        Of the label.
    height_mm : float or None
        Of the label [mm]: forms for want of height are for low ones only.
    surface_cm2 : float or None
        Surface of the pack that could bear a label [cm²]; forms for small packs are left out where it is not known.
    """
    found = []
    for key, rule in load_market(market).rules("panel").items():
        if rule.kind != "panel" or rule.data.get("languages", language) != language:
            continue
        most = rule.data.get("surface_up_to_cm2")
        if most is not None and (surface_cm2 is None or surface_cm2 > float(most)):
            continue
        if rule.data["format"] == "tabular" and (height_mm is None or height_mm >= _TABULAR_BELOW_MM):
            continue
        if (rule.data["format"] == "dual column") == (columns == 2):
            found.append(key)
    return tuple(found)


def _surface_cm2(sale: Sale) -> float | None:
    """The surface of the pack that could bear a label [cm²], as the head says it."""
    if "surface_sq_in" in sale.facts:
        return float(sale.facts["surface_sq_in"]) * 6.4516
    return float(sale.facts["surface_cm2"]) if "surface_cm2" in sale.facts else None


def _second_column(recipe: Recipe, facts: LabelFacts) -> str:
    """What a second column of figures is of, "per container" or "per unit"; empty where the market asks for none."""
    try:
        columns = serving_of(recipe, facts.nutrition, facts.market).columns
    except LabelerError:
        return ""
    return columns[1] if len(columns) > 1 else ""


def _with_panel(
    content: LabelContent, recipe: Recipe, facts: LabelFacts, form: str
) -> tuple[LabelContent, tuple[Problem, ...]]:
    """The content with an official panel: a column for each basis of its form, by the market's serving statement."""
    from labeler.label.panels.content import panel_content, panel_forms

    nutrition, market = facts.nutrition, facts.market
    forms = panel_forms(market)
    bases = forms[form].data["bases"] if form in forms else ("per serving",)
    try:
        serving = serving_of(recipe, nutrition, market)
    except LabelerError as error:
        raise LabelerError(f"the panel needs a serving: {error}") from None
    per_serving = serving.grams or nutrition.serving_g
    weights = {"per serving": per_serving, "per container": nutrition.portion.pack_g or per_serving}
    if len(bases) == 2 and "per unit" in serving.columns and serving.unit_g:
        bases, weights["per unit"] = (bases[0], "per unit"), serving.unit_g
    declared, headings, problems = [], [], list(serving.problems)
    for basis in bases:
        grams = weights.get(basis, 100.0)
        shown = basis
        if basis == "per 100 g" and is_liquid(recipe, nutrition, market):
            shown, grams = "per 100 mL", 100.0 * float(density(nutrition.dish.mix)[0])
        values = {key: figure.scaled(grams / 100.0) for key, figure in nutrition.per_100g.items()}
        column = declare(values, market=market)
        problems += _panel_problems(nutrition, column, values)
        declared.append(column)
        headings.append(shown)
    words = {**forms[form].data["words"], **forms[form].data.get("headings", {})} if form in forms else {}
    drawn = panel_content(
        declared,
        form=form,
        serving=content.serving if serving.reference is None or serving.amount is None else serving.statement,
        servings=serving.servings or _servings(serving, nutrition),
        headings=[words.get(one, one).format(unit=serving.unit_noun, portion=serving.statement) for one in headings]
        if any(one in words for one in headings)
        else (),
    )
    return replace(content, panel=drawn.in_language(content.language)), tuple(dict.fromkeys(problems))


def _servings(serving: Serving, nutrition: Nutrition) -> str:
    """How many servings, where the serving does not count them: a pack of which it is the whole holds one."""
    return "1" if serving.reference is not None and nutrition.portion.pack_g else servings_in(nutrition)[0]


def _panel_problems(nutrition: Nutrition, declared: Declaration, values: Mapping[str, Any]) -> tuple[Problem, ...]:
    """What is wrong with a panel; of a value that is not known, which line leaves it open."""
    others = (problem for problem in declared.problems if problem.code != "value-not-known")
    return (*others, *open_values(nutrition, declared, values))
