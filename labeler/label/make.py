"""From what a label says to paper: one label, sheets of labels, an official panel, a picture before printing."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from labeler.label.builder import (
    LabelFacts,
    declared_of,
    gather,
    label_content,
    net_of,
)
from labeler.label.compose import SIZES_MM, compose_label
from labeler.label.front_symbol_choice import front_symbol
from labeler.label.ingredient_list import listed_of
from labeler.label.lacks import LabelCheck, check_object
from labeler.label.layouts import LAYOUTS
from labeler.label.market_statements import market_statements
from labeler.label.named_foods import named_statements
from labeler.label.panels.builder import with_fitting_panel
from labeler.label.self_check import check_of
from labeler.label.translation import translated
from labeler.markets import market_of
from labeler.parsing.model import Recipe
from labeler.rules.market import load_market
from labeler.rules.sale import FiguresShown, sale_of
from labeler.types import LabelerError, Problem, refuse, refused
from labeler.web_addresses import check_web_address

__all__ = ["MadeLabel", "SheetWish", "make_label", "read_sheet", "read_size"]

_LEAST_MM, _MOST_MM = 1.0, 5000.0
"""Sides that are taken for sizes at all; PDF's own limit is 14,400 pt, a little over five metres (ISO 32000-1, C.2)."""
_SIZE = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(?:x|×)\s*(\d+(?:\.\d+)?)\s*(?:mm)?\s*", re.IGNORECASE)


MOST_COPIES = 10_000
"""Labels of one print; more make no file that a printer takes. A choice, no source."""


@dataclass(frozen=True, slots=True)
class SheetWish:
    """Labels on sheets.

    Parameters
    ----------
    rows, columns : int
        How many down and across; 1 and 1 with `paper` "roll" for a roll of labels.
    paper : str
        A name of `labeler.label.sheets.PAPERS_MM`, "roll", or a size as `read_size` takes it.
    left, top : float or None
        Margins [mm]; None sets the labels in the middle.
    gap_x, gap_y : float
        Between labels [mm].
    copies : int
        How many labels.
    start : int
        First free place on the first sheet, from 1.
    count_lots : bool
        Give each label its own lot, counted up from the recipe's.
    crop_marks : bool
    gauge : bool
        A line of 50 mm beside the labels.
    """

    rows: int
    columns: int
    paper: str = "a4"
    left: float | None = None
    top: float | None = None
    gap_x: float = 0.0
    gap_y: float = 0.0
    copies: int = 1
    start: int = 1
    count_lots: bool = False
    crop_marks: bool = False
    gauge: bool = False


@dataclass(frozen=True, slots=True)
class MadeLabel:
    """A label and what it says.

    Parameters
    ----------
    pdf : bytes
    preview : bytes
        The same drawing as a PNG or SVG picture; empty where none was asked for.
    declared : dict
        The declared values and statements as printed.
    summary : str
        What was made, in a line.
    problems : tuple of Problem
        What the cook should settle before printing.
    check : LabelCheck
        What the label lacks.
    """

    pdf: bytes
    preview: bytes
    declared: dict[str, Any]
    summary: str
    problems: tuple[Problem, ...]
    check: LabelCheck


def read_size(
    text: str, named: Mapping[str, tuple[float, float]] = SIZES_MM, *, least: float = _LEAST_MM
) -> tuple[float, float]:
    """Width and height [mm] of a size as typed: a name, or ``100x70``, each side `least` or more.

    Raises LabelerError for anything else.
    """
    known = named.get(text.strip().lower())
    if known is not None:
        return known
    sides = _SIZE.fullmatch(text)
    if sides is None:
        names = f"{', '.join(named)}, or " if named else ""
        raise LabelerError(f"{text}: is no size; give {names}two numbers as 100x70")
    width, height = float(sides[1]), float(sides[2])
    if not all(least <= side <= _MOST_MM for side in (width, height)):
        raise LabelerError(f"{text}: nothing of that size is printed; a side has {least:g} to {_MOST_MM:,.0f} mm")
    return width, height


def read_sheet(
    *,
    sheet: str | None,
    paper: str = "a4",
    margins: str | None = None,
    gaps: str = "0x0",
    copies: int = 1,
    start: int = 1,
    count_lots: bool = False,
    crop_marks: bool = False,
    gauge: bool = False,
) -> SheetWish | None:
    """Sheets as typed: ``sheet`` "8x3" rows by columns, margins and gaps "10x12" in millimetres; None for no sheets.

    Raises
    ------
    LabelerError
        For anything that is not two numbers, and for copies and places that no print has.
    """
    if not (1 <= copies <= MOST_COPIES and 1 <= start <= MOST_COPIES):
        raise LabelerError(f"--copies and --start are from 1 to {MOST_COPIES:,}, not {copies} and {start}")
    if sheet is None and paper != "roll":
        return None
    rows, columns = read_size(sheet or "1x1", {})
    left, top = (None, None) if margins is None else read_size(margins, {}, least=0.0)
    gap_x, gap_y = read_size(gaps, {}, least=0.0)
    if rows != int(rows) or columns != int(columns):
        raise LabelerError(f"--sheet {sheet}: rows and columns are whole numbers, as 8x3")
    marks = {"count_lots": count_lots, "crop_marks": crop_marks, "gauge": gauge}
    return SheetWish(int(rows), int(columns), paper, left, top, gap_x, gap_y, copies, start, **marks)


def make_label(
    recipe: Recipe,
    *,
    layout: str = "card",
    size: str = "a6",
    market: str | None = None,
    colour: str | None = None,
    panel: str | None = None,
    sheet: SheetWish | None = None,
    address: str = "",
    language: str = "en",
    preview: str | None = None,
    worksheet: Callable[[Recipe, LabelFacts], bytes] | None = None,
    figures: bool | None = None,
    sale_facts: Mapping[str, Any] | None = None,
    final: bool = False,
    anyway: bool = False,
    facts: LabelFacts | None = None,
) -> MadeLabel:
    """The label of a recipe as a PDF, with everything that stands on it as data.

    Parameters
    ----------
    recipe : Recipe
    layout : str
        A layout of `labeler.label.layouts.LAYOUTS`.
    size : str
        Of one label, as `read_size` takes it.
    market : str or None
        Whose rules hold; None takes the head's `market`, else us.
    colour : str or None
        Of title and rules, "#rrggbb"; None for black only.
    panel : str or None
        An official panel of the market by its id ("panel-vertical"); None takes what the sale asks for.
    sheet : SheetWish or None
        Print sheets of labels.
    address : str
        Of the post, for the square code.
    language : str
        Of the fixed words: en, fr, es, de, it, or two side by side as "en+fr".
    preview : str or None
        "png" or "svg": a picture of the label beside the PDF.
    worksheet : callable or None
        Makes what is attached to the PDF as ``worksheet.json``, every figure and where it comes from:
        `labeler.worksheet.builder.attachment`. It holds the whole recipe.
    figures : bool or None
        Whether nutrition figures stand on it; None shows what the sale asks for.
    sale_facts : mapping or None
        Facts of the sale that win over the head's.
    final : bool
        Refuse a label that lacks something, in place of marking it as a draft.
    anyway : bool
        Print a draft of a recipe that is refused.
    facts : LabelFacts or None
        What `labeler.label.builder.gather` found of the same recipe in the same market, for several labels of it; None
        works it out.

    Returns
    -------
    MadeLabel
        The PDF (lengths in mm, type in points), what it declares as data, what it lacks, and the problems. A label that
        lacks something compulsory carries a draft mark. That nothing lacks is no approval by an authority.

    Raises
    ------
    LabelerError
        For an unknown market, layout, size or panel; where the content does not fit (the message says what would);
        for a `final` label that lacks something; and for a recipe with a problem that refuses it.

    Source: the rule files of ``labeler/rules/data``, by paragraph.

    Examples
    --------
    >>> label = labeler.make_label(labeler.read_recipe_file("demo/beetroot-relish.md"), size="jar")
    >>> label.pdf[:5]
    b'%PDF-'
    """
    from labeler.label.pdf import write_pdf
    from labeler.label.sheets import draw_sheets, serial_lots

    place = market_of(recipe, market)
    sides = read_size(size)
    area = sides[0] * sides[1] / 100
    facts = facts or gather(recipe, market=place)
    sale = sale_of(recipe, place, figures=True if panel else figures, facts=sale_facts)
    table = sale.figures is not FiguresShown.NONE
    content, _, problems = label_content(recipe, market=place, area_cm2=area, facts=facts, figures=table, sale=sale)
    refuse(problems, anyway=anyway, what="label")
    check_web_address(address)
    content, untranslated = translated(replace(content, address=address), recipe, facts, language, sale)
    problems += untranslated
    options = {"layout": layout, "size": sides, "colour": colour} | _net_type(recipe, facts, area)
    content = replace(content, symbol=front_symbol(recipe, facts, sale))
    content, more = with_fitting_panel(content, recipe, facts, sale, panel, options)
    if sale.packed:
        listed = listed_of(recipe, facts.nutrition, place, sale)
        food_statements = named_statements(recipe, facts, listed, figures=content.panel is not None)
        wanted = market_statements(recipe, facts, sale).printed
        content = replace(content, cautions=(*food_statements, *wanted, *content.cautions))
    check = check_of(content, recipe, facts, sale)
    signed = LAYOUTS[layout].label if layout in LAYOUTS else True
    draft = bool(refused(problems)) or (signed and bool(check.lacks))
    if final and draft:
        raise LabelerError(f"{check.says or 'the recipe is refused'}; {_first(check, problems)}")
    problems += (*more, *check.problems)
    content = replace(content, draft=DRAFT if draft else "")
    drawing = compose_label(content, **options)
    attached = worksheet(recipe, facts) if worksheet else None
    if sheet is None:
        pdf = write_pdf(drawing, worksheet=attached)
    else:
        lots = serial_lots(content.lot, sheet.copies) if sheet.count_lots else ()
        pdf = draw_sheets(
            content,
            _grid(sheet, sides),
            copies=sheet.copies,
            start=sheet.start,
            lots=lots,
            crop_marks=sheet.crop_marks,
            gauge=sheet.gauge,
            worksheet=attached,
            **{key: value for key, value in options.items() if key != "size"},
        )
    problems += drawing.problems
    declared = declared_of(content, place, problems)
    declared |= {"layout": layout, "size_mm": list(sides), "language": language}
    declared |= {"panel": content.panel.form if content.panel else None, "draft": draft} | check_object(check)
    copies = f", {sheet.copies} on sheets" if sheet else ""
    marked = ", a draft" if draft else ""
    summary = f"{content.title}, {sides[0]:g} × {sides[1]:g} mm{copies}, market {place}, {sale.kind}{marked}"
    return MadeLabel(pdf, _picture(drawing, preview), declared, summary, tuple(dict.fromkeys(problems)), check)


DRAFT = "DRAFT"


def _first(check: LabelCheck, problems: tuple[Problem, ...]) -> str:
    """What to mend first, of a label that may not be final."""
    return next((lack.message for lack in check.lacks if lack.message), "") or next(iter(refused(problems))).message


def _picture(drawing: Any, kind: str | None) -> bytes:
    from labeler.label.preview import preview_png, preview_svg

    if kind is None:
        return b""
    return preview_png(drawing) if kind == "png" else preview_svg(drawing).encode()


def _net_type(recipe: Recipe, facts: LabelFacts, area_cm2: float) -> dict[str, Any]:
    """Least height of the net quantity's type, and whether the market wants it clear of everything else."""
    found = net_of(recipe, facts.nutrition, facts.market, area_cm2)
    if found is None:
        return {}
    clear = "net-place" in load_market(facts.market).rules("net_quantity")
    if found.minimum_type_mm is None:
        return {"clear_net": clear}

    @lru_cache(maxsize=256)
    def height(width_mm: float, height_mm: float) -> float | None:
        of_size = net_of(recipe, facts.nutrition, facts.market, width_mm * height_mm / 100)
        return None if of_size is None else of_size.minimum_type_mm

    return {"net_height_mm": height, "clear_net": clear}


def _grid(sheet: SheetWish, label: tuple[float, float]) -> Any:
    from labeler.label.sheets import PAPERS_MM, Grid, roll

    if sheet.paper == "roll":
        return roll(label)
    paper = read_size(sheet.paper, PAPERS_MM)
    return Grid(sheet.rows, sheet.columns, label, paper, sheet.left, sheet.top, sheet.gap_x, sheet.gap_y)
