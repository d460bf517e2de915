"""Tables for people at a terminal: the same answers that the JSON interface gives."""

from __future__ import annotations

import math
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING

from labeler.knowledge import Interval, Problem

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from labeler.allergens import Assessment, Finding
    from labeler.duties import Duties
    from labeler.foods.model import Candidate, WeighedLine
    from labeler.nutrition import Figure, Nutrition

__all__ = ["show_allergens", "show_duties", "show_foods", "show_lines", "show_nutrition"]

# What a cook looks at first; every other nutrient is in the JSON.
SHOWN = {
    "ENERC_KCAL": ("Energy", "kcal"),
    "FAT": ("Fat", "g"),
    "FASAT": ("  saturated", "g"),
    "FATRN": ("  trans", "g"),
    "CHOLE": ("Cholesterol", "mg"),
    "NA": ("Sodium", "mg"),
    "CHOCDF": ("Carbohydrate", "g"),
    "FIBTG": ("  fibre", "g"),
    "SUGAR": ("  sugars", "g"),
    "SUGAR_ADDED": ("    added", "g"),
    "PROCNT": ("Protein", "g"),
    "VITD": ("Vitamin D", "µg"),
    "CA": ("Calcium", "mg"),
    "FE": ("Iron", "mg"),
    "K": ("Potassium", "mg"),
}


def _console() -> Console:
    from rich.console import Console

    # Piped into a file or another program the table keeps a fixed width, so that it reads the same everywhere.
    width = None if sys.stdout.isatty() else 118
    return Console(width=width, highlight=False, markup=False, emoji=False)


def _table(*headings: str, numbers: Iterable[int] = (), title: str | None = None) -> Table:
    from rich import box
    from rich.table import Table

    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left", pad_edge=False)
    wanted = set(numbers)
    for place, heading in enumerate(headings):
        table.add_column(heading, justify="right" if place in wanted else "left", overflow="fold")
    return table


def _number(value: float) -> str:
    """Three significant digits, as more would claim too much."""
    if not math.isfinite(value):
        return "not known"
    if value == 0:
        return "0"
    digits = max(0, 2 - math.floor(math.log10(abs(value))))
    return f"{value:,.{min(digits, 3)}f}"


def _between(low: float, high: float) -> str:
    return f"{_number(low)} – {_number(high)}"


def _grams(grams: Interval | None) -> tuple[str, str]:
    return ("—", "") if grams is None else (_number(grams.best), _between(grams.low, grams.high))


def _show_problems(console: Console, problems: Iterable[Problem]) -> None:
    for problem in dict.fromkeys(problems):
        where = f"line {problem.line}: " if problem.line else ""
        console.print(f"! {where}{problem.message} [{problem.code}]", soft_wrap=True)


def show_lines(weighed: Iterable[WeighedLine]) -> None:
    """Ingredient lines with their food, their grams and what is wrong with them."""
    console = _console()
    table = _table("line", "food", "sure", "grams", "between", numbers=(2, 3, 4))
    problems: list[Problem] = []
    for item in weighed:
        for one in (item, *item.also):
            best, between = _grams(one.grams)
            food = one.match.description if one.match and one.match.food else "not found"
            sure = f"{one.match.confidence:.0%}" if one.match else ""
            text = one.line.text if one is item else f"  and {one.line.name}"
            table.add_row(text, food, sure, best, between)
        problems.extend(item.problems)
    console.print(table)
    _show_problems(console, problems)


def show_foods(answers: Iterable[tuple[str, tuple[Candidate, ...]]]) -> None:
    """Candidates of each name, best first."""
    console = _console()
    table = _table("name", "id", "food of the table", "sure", "why", numbers=(3,))
    for query, candidates in answers:
        if not candidates:
            table.add_row(query, "", "nothing fits", "", "")
        for place, candidate in enumerate(candidates):
            name = query if place == 0 else ""
            table.add_row(name, candidate.food, candidate.description, f"{candidate.confidence:.0%}", candidate.reason)
    console.print(table)


def _add_findings(table: Table, text: str, word: str, findings: Iterable[Finding]) -> None:
    for finding in findings:
        table.add_row(text, word, finding.allergen, ", ".join(finding.names), f"{finding.reason} ({finding.from_})")


def show_allergens(found: Iterable[Assessment]) -> None:
    """Allergens with their reasons; what must be read on a package stands apart from what is certain."""
    console = _console()
    table = _table("line", "", "allergen", "name it as", "why")
    unassessed: list[str] = []
    for item in found:
        text = item.text
        _add_findings(table, text, "contains", item.declared)
        _add_findings(table, text, "read the package", item.read_the_package)
        if not item.declared and not item.read_the_package:
            table.add_row(text, "not found", "", "", "")
        unassessed.extend(item.unassessed)
    console.print(table)
    for name in dict.fromkeys(unassessed):
        console.print(f"! “{name}” could not be assessed: read its package or name its ingredients", soft_wrap=True)
    console.print("Not found is not a promise: packages, shared tools and suppliers can bring allergens in.")


def _figure_cells(figure: Figure | None) -> tuple[str, str]:
    if figure is None:
        return "not known", ""
    at_least = "≥ " if figure.lower_bound else ""
    return at_least + _number(figure.best), _between(figure.low, figure.high)


# How the parts of the chart look at a terminal that has colours.
_CHART_STYLES = {
    "name": "",
    "figure": "",
    "beam": "dark_cyan",
    "bead": "bold",
    "open": "bold dark_orange3",
    "track": "dim",
    "scale": "dim",
    "words": "dim",
}


def _ascii_only() -> bool:
    """True where the terminal was set up for another encoding than UTF-8, whatever we write."""
    import locale
    import os

    asked = os.environ.get("PYTHONIOENCODING", "").partition(":")[0] or locale.getencoding()
    return sys.platform != "win32" and not asked.lower().replace("-", "").startswith("utf")


def _show_chart(console: Console, nutrition: Nutrition, market: str) -> None:
    """One serving against the market's reference values of a day; a sentence where the market has none."""
    from rich.text import Text

    from labeler.pictures.shares import bands_of
    from labeler.pictures.terminal import chart_lines
    from labeler.rules.market import load_market

    name = load_market(market).head["name"]
    bands = bands_of(nutrition.per_serving, market=market)
    if not bands:
        console.print(f"No reference values of a day are held for {name}, so there is no chart.", soft_wrap=True)
        return
    console.print(f"One serving, in per cent of a day's reference values ({name})")
    for line in chart_lines(bands, width=console.width, plain=_ascii_only()):
        console.print(Text.assemble(*((text, _CHART_STYLES[part]) for text, part in line)), soft_wrap=True)
    console.print()


def show_nutrition(nutrition: Nutrition, *, market: str = "us", chart: bool = False) -> None:
    """Figures per serving and per 100 g, the ledger of each part, what to weigh next and every problem.

    At a terminal a chart stands below the table; `chart` draws it wherever the answer goes.
    """
    console = _console()
    console.print(nutrition.title, style="bold")
    console.print(
        f"{_number(nutrition.servings)} servings of {_number(nutrition.serving_g)} g; {nutrition.serving_basis}"
    )
    table = _table("", "per serving", "95 % between", "per 100 g", "95 % between", "from", numbers=(1, 2, 3, 4))
    for key, (name, unit) in SHOWN.items():
        serving, hundred = nutrition.per_serving.get(key), nutrition.per_100g.get(key)
        status = serving.status.words if serving else "missing"
        table.add_row(f"{name} [{unit}]", *_figure_cells(serving), *_figure_cells(hundred), status)
    console.print(table)
    if chart or sys.stdout.isatty():
        _show_chart(console, nutrition, market)
    console.print(
        f"Energy check: protein, carbohydrate, fat and alcohol by 4-4-9-7 give {_number(nutrition.energy_check)} kcal "
        "per serving; the table's own factors are finer.",
        soft_wrap=True,
    )
    for part in nutrition.parts:
        ledger = _table("step", "stream", "grams", "how", numbers=(2,), title=part.title or "All of it")
        said: tuple[str, str] | None = None
        for entry in part.ledger:
            # A step's streams share its words and its method: once is enough.
            step, how = ("", "") if said == (entry.step, entry.basis) else (entry.step, entry.in_short)
            if step or entry.grams > 0:
                ledger.add_row(step, entry.stream, _number(entry.grams), how)
            said = (entry.step, entry.basis)
        console.print(ledger)
    for item in nutrition.weigh_next:
        console.print(f"→ {item['message']}", soft_wrap=True)
    _show_problems(console, nutrition.problems)


# A declared value with a smaller risk than this of falling outside its tolerance needs no second look.
RISK_SHOWN = 0.05


def show_duties(found: Duties) -> None:
    """What a market asks of a recipe, ending with whom to ask."""
    console = _console()
    console.print(f"{found.title}, market {found.market}", style="bold")
    if found.serving is not None:
        serving = found.serving
        console.print(f"Serving: {serving.statement}; {serving.servings or 'one'} in the pack", soft_wrap=True)
        for reason in serving.because:
            console.print(f"  because {reason}", soft_wrap=True)
        _show_problems(console, serving.problems)
    if found.obligations is not None:
        table = _table("on the label", "", "why")
        for duty in found.obligations.duties:
            table.add_row(duty.what, duty.state, duty.because)
            for one in duty.exemptions:
                ended = f"; ended by {', '.join(one.ended_by)}" if one.ended_by and one.state == "applies" else ""
                table.add_row("", f"  exemption {one.state}", f"{one.rule.says} ({one.because}){ended}")
        console.print(table)
        for question in found.obligations.questions:
            console.print(f"? {question}", soft_wrap=True)
    if found.claims is not None:
        table = _table("claim", "", "figures")
        for claim in (*found.claims.offered, *found.claims.withheld):
            state = "the figures would meet it" if claim.offered else "not sure enough"
            table.add_row(claim.words, state, "; ".join((*claim.because, *claim.asks)))
        console.print(table)
        if found.claims.disclosure:
            console.print(f"With any claim: “{found.claims.disclosure}”", soft_wrap=True)
        for rule in found.claims.consequences:
            console.print(f"A claim has consequences: {rule.says} ({rule.paragraph})", soft_wrap=True)
    for value in found.tolerances:
        if value.risk >= RISK_SHOWN:
            safer = f"; {value.safer} would keep it under 5 %" if value.safer else ""
            console.print(
                f"! {value.label} {value.declared}: an analysis would fall outside the tolerance in {value.risk:.0%} "
                f"of cases{safer}",
                soft_wrap=True,
            )
    for sentence in found.open:
        console.print(f"! {sentence}", soft_wrap=True)
    if found.obligations is not None:
        console.print(found.obligations.ask.says, soft_wrap=True)
