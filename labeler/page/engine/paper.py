"""Paper: labels, official panels, posts, worksheets and the stall's matrix, as the commands make them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labeler.markets import market_of
from labeler.page.engine.reading import Object, Text, recipe_of, without_path
from labeler.types import LabelerError

if TYPE_CHECKING:
    from labeler.label.make import MadeLabel
    from labeler.parsing.model import Recipe

__all__ = ["made_label", "matrix", "matrix_pdf", "panels", "paper", "post", "requirements", "worksheet"]


def made_label(given: Text, wish: Mapping[str, Any]) -> MadeLabel:
    """The label of a text as the command makes it; `wish` has the command's options by name."""
    from labeler.label.make import make_label, read_sheet
    from labeler.worksheet.builder import attachment

    sheet = {
        key: wish[key]
        for key in ("sheet", "paper", "margins", "gaps", "copies", "start", "count_lots", "crop_marks", "gauge")
        if key in wish
    }
    return make_label(
        recipe_of(given),
        layout=wish.get("layout") or "card",
        size=wish.get("size") or "a6",
        market=given.market or None,
        colour=wish.get("colour") or None,
        panel=wish.get("panel") or None,
        address=wish.get("address") or "",
        language=wish.get("language") or "en",
        sheet=read_sheet(**{"sheet": None, **sheet}),
        preview=wish.get("preview"),
        worksheet=attachment if wish.get("attach") else None,
        figures={"yes": True, "no": False}.get(wish.get("figures", "")),
        anyway=bool(wish.get("anyway")),
    )


def paper(given: Text, wish: Mapping[str, Any]) -> Object:
    """A label as plain data; where it does not fit, ``said`` and the sizes that would hold it, ``fits``."""
    from labeler.label.compose import DoesNotFit

    try:
        made = made_label(given, wish)
    except DoesNotFit as error:
        sizes = [size for size in (error.needed_mm, error.proportional_mm) if size is not None]
        return {"said": str(error), "fits": [f"{math.ceil(width)}x{math.ceil(height)}" for width, height in sizes]}
    return {"pdf": made.pdf, "preview": made.preview, "declared": made.declared, "summary": made.summary}


def panels(market: str) -> list[Object]:
    """The official panels that are held for a market: id and format of each, the standard one first."""
    from labeler.rules.market import load_market

    rules = load_market(market).rules("panel").values()
    return [{"id": rule.id, "format": str(rule.data["format"])} for rule in rules if rule.kind == "panel"]


def sales() -> tuple[str, ...]:
    """The ways of selling that rules tell apart."""
    from labeler.rules.loading.schema import SALES

    return SALES


def requirements(given: Text) -> Object:
    """The object of ``labeler requirements``: what the market asks, and what is still to be said."""
    from labeler.as_json import requirements_object
    from labeler.rules.requirements import requirements as judge

    return requirements_object(judge(recipe_of(given), market=given.market or None))


def post(given: Text, *, form: str, language: str = "en", address: str = "", whole: bool = False) -> Object:
    """The block for a page, as ``labeler post`` writes it."""
    from labeler.post.builder import post_content
    from labeler.post.forms import check_form, render

    check_form(form, 2)
    content = post_content(recipe_of(given), market=given.market or None, language=language, address=address)
    return {"text": render(content, form=form, whole=whole), "title": content.title}


def worksheet(given: Text) -> bytes:
    """The workbook of ``labeler worksheet``."""
    from labeler.worksheet.builder import make_worksheet
    from labeler.worksheet.xlsx import write_xlsx

    return write_xlsx(make_worksheet(recipe_of(given), market=given.market or None))


def matrix(texts: tuple[Text, ...], market: str = "") -> Object:
    """The object of ``labeler matrix`` over the recipes that can be read, with those that cannot."""
    from labeler.allergens.vocabulary import allergen_names
    from labeler.as_json import matrix_object
    from labeler.label.allergen_matrix import stall_matrix

    recipes, refused = _readable(texts)
    if not recipes:
        return {"market": market or "us", "allergens": [], "foods": [], "refused": refused, "names": {}}
    place = market_of(recipes[0], market)
    found = matrix_object(stall_matrix(recipes, market=place))
    names = allergen_names()
    return found | {"refused": refused, "names": {one: names[one] for one in found["allergens"]}}


def matrix_pdf(texts: tuple[Text, ...], market: str = "", size: str = "297x210") -> bytes:
    """The page of ``labeler matrix`` to hang up."""
    from labeler.label.allergen_matrix import draw_stall, stall_matrix
    from labeler.label.make import read_size

    recipes, _ = _readable(texts)
    if not recipes:
        raise LabelerError("no recipe of this folder can be read, so there is nothing to hang up")
    found = stall_matrix(recipes, market=market_of(recipes[0], market))
    return draw_stall(recipes, found, size=read_size(size))


def _readable(texts: tuple[Text, ...]) -> tuple[list[Recipe], list[Object]]:
    recipes, refused = [], []
    for text in texts:
        try:
            recipes.append(recipe_of(text))
        except LabelerError as error:
            refused.append({"name": Path(text.path).name, "said": without_path(str(error), text.path)})
    return recipes, refused
