"""Tables for people at a terminal: the same answers that the JSON interface gives."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING

from labeler.cli.terminal import console_of, in_digits, say, say_problems, table_of, width
from labeler.text.plurals import counted
from labeler.types import Interval, Problem

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from labeler.allergens import Assessment, Finding, Matrix
    from labeler.allergens.alternatives import Offer
    from labeler.foods.model import Candidate, WeighedLine
    from labeler.nutrition.analysis import Figure, Nutrition
    from labeler.rules.claims import Claims
    from labeler.rules.model import Rule
    from labeler.rules.obligations import Obligations
    from labeler.rules.requirements import Requirements
    from labeler.rules.serving import Serving
    from labeler.rules.tolerance import Tolerance

__all__ = [
    "show_allergens",
    "show_foods",
    "show_lines",
    "show_matrix",
    "show_nutrition",
    "show_requirements",
    "show_rules",
]

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


def _between(low: float, high: float) -> str:
    return f"{'0' if 0 < low < 0.001 else in_digits(low)}–{in_digits(high)}"


def _grams(grams: Interval | None) -> tuple[str, str]:
    return ("—", "") if grams is None else (in_digits(grams.best), _between(grams.low, grams.high))


def show_lines(weighed: Iterable[WeighedLine]) -> None:
    """Ingredient lines with their food, their grams and what is wrong with them."""
    console = console_of()
    table = table_of("line", "food", "sure", "grams", "between", numbers=(2, 3, 4))
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
    say_problems(problems)


def show_foods(answers: Iterable[tuple[str, tuple[Candidate, ...]]]) -> None:
    """Candidates of each name, best first."""
    console = console_of()
    table = table_of("name", "id", "food of the table", "sure", "why", numbers=(3,))
    for query, candidates in answers:
        if not candidates:
            table.add_row(query, "", "nothing fits", "", "")
        for place, candidate in enumerate(candidates):
            name = query if place == 0 else ""
            table.add_row(name, candidate.food, candidate.description, f"{candidate.confidence:.0%}", candidate.reason)
    console.print(table)


def _places(findings: Iterable[Finding]) -> dict[str, list[str]]:
    """Each reason once, with the lines that it holds for; a line that is said by its food as well is named once."""
    found: dict[str, list[str]] = {}
    for finding in findings:
        line, _, name = finding.from_.rpartition(": ")
        place = line if line and name.casefold() in line.casefold() else finding.from_
        places = found.setdefault(finding.reason, [])
        if place not in places:
            places.append(place)
    return found


def _add_findings(table: Table, text: str, word: str, findings: Iterable[Finding], *, several: bool) -> None:
    """A row for each allergen of one text, whatever number of its lines hold it."""
    by_allergen: dict[str, list[Finding]] = {}
    for finding in findings:
        by_allergen.setdefault(finding.allergen, []).append(finding)
    for allergen, group in by_allergen.items():
        names = ", ".join(dict.fromkeys(name for finding in group for name in finding.names))
        why = [
            reason if places == [text] else f"{reason} ({'; '.join(places)})"
            for reason, places in _places(group).items()
        ]
        called = allergen if names == allergen else f"{allergen}: {names}"
        table.add_row(*([text] if several else []), word, called, "; ".join(why))


def show_allergens(found: Iterable[Assessment], ways: Iterable[Offer] = ()) -> None:
    """Allergens with their reasons; what must be read on a package stands apart from what is certain.

    `ways` are the recipe's own to leave an allergen out; they are offers and no claims.
    """
    answers = list(found)
    several = len(answers) != 1
    console = console_of()
    if several:
        table = table_of("line", "", "allergen", "why", least={0: 14, 1: 8, 2: 10})
    else:
        console.print(answers[0].text, style="bold")
        table = table_of("", "allergen", "why", least={0: 8, 1: 11})
    for item in answers:
        _add_findings(table, item.text, "contains", item.declared, several=several)
        _add_findings(table, item.text, "read the package", item.read_the_package, several=several)
        if not item.declared and not item.read_the_package:
            table.add_row(*([item.text] if several else []), "not found", "", "")
    console.print(table)
    for name in dict.fromkeys(name for item in answers for name in item.unassessed if name):
        say(f"“{name}” could not be assessed: read its package or name its ingredients", mark="!")
    say_problems(problem for item in answers for problem in item.problems)
    for way in ways:
        say(way.text)
    say("Not found is not a promise: packages, shared tools and suppliers can bring allergens in.")


def show_matrix(found: Matrix) -> None:
    """Foods by allergens, allergens down where the foods are few enough to stand side by side, else a food a line."""
    from labeler.allergens.vocabulary import allergen_names

    signs = {"contains": "C", "read the package": "?", "": "·"}
    console = console_of()
    names = allergen_names()
    if 16 + 12 * len(found.titles) <= width():
        table = table_of("", *found.titles)
        for allergen, *marks in zip(found.allergens, *found.marks, strict=True):
            table.add_row(names[allergen], *(signs[mark] for mark in marks))
        console.print(table)
        say("C contains · ? read the package · not found is not a promise")
        _say_open(found)
        return
    table = table_of("", "contains", "read the package", least={0: 16})
    for title, row in zip(found.titles, found.marks, strict=True):
        marked = [
            ", ".join(names[allergen] for allergen, mark in zip(found.allergens, row, strict=True) if mark == wanted)
            for wanted in ("contains", "read the package")
        ]
        table.add_row(title, *marked)
    console.print(table)
    say("Asked about: " + ", ".join(names[allergen] for allergen in found.allergens))
    say("What does not stand here was not found, and that is not a promise.")
    _say_open(found)


def _say_open(found: Matrix) -> None:
    for note in found.notes:
        say(note, mark="!")


def show_rules(rules: Iterable[Rule]) -> None:
    """Every rule of a market by its id, with its paragraph and what it says."""
    for rule in rules:
        say(f"{rule.id}  [{rule.paragraph}]" if rule.paragraph else rule.id)
        say(f"  {rule.summary}")


def _figure_cells(figure: Figure | None) -> tuple[str, str]:
    if figure is None:
        return "not known", ""
    at_least = "≥ " if figure.lower_bound else ""
    return at_least + in_digits(figure.best), _between(figure.low, figure.high)


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

    from labeler.charts.shares import bands_of
    from labeler.charts.terminal import chart_lines
    from labeler.rules.market import load_market

    name = load_market(market).head["name"]
    bands = bands_of(nutrition.per_serving, market=market)
    if not bands:
        say(f"No reference values of a day are held for {name}, so there is no chart.")
        return
    console.print(f"One serving, in per cent of a day's reference values ({name})")
    for line in chart_lines(bands, width=console.width, plain=_ascii_only()):
        console.print(Text.assemble(*((text, _CHART_STYLES[part]) for text, part in line)), soft_wrap=True)
    console.print()


def show_nutrition(nutrition: Nutrition, *, market: str = "us", chart: bool = False) -> None:
    """Figures per serving and per 100 g, the ledger of each part, what to weigh next and every problem.

    `chart` draws a chart below the table.
    """
    console = console_of()
    console.print(nutrition.title, style="bold")
    say(
        f"{counted(nutrition.servings, 'serving')} of {in_digits(nutrition.serving_g)} g; {nutrition.serving_basis}; "
        "the range holds 95 % of what it may be"
    )
    table = table_of("", "a serving", "range", "per 100 g", "range", "from", numbers=(1, 2, 3, 4), least={0: 16})
    from labeler.rules.missing_values import settled

    served = settled(nutrition.per_serving, market)
    for key, (name, unit) in SHOWN.items():
        serving, hundred = served.get(key), nutrition.per_100g.get(key)
        status = serving.status.words if serving else "missing"
        table.add_row(f"{name} [{unit}]", *_figure_cells(serving), *_figure_cells(hundred), status)
    console.print(table)
    if chart:
        _show_chart(console, nutrition, market)
    say(
        "Energy check: protein, carbohydrate, fat and alcohol by 4-4-9-7 give "
        f"{in_digits(nutrition.energy_check)} kcal per serving; the table's own factors are finer."
    )
    _show_stated(console, nutrition)
    for part in nutrition.parts:
        ledger = table_of("step", "stream", "grams", "how", numbers=(2,), title=part.title or "All of it")
        texts: tuple[str, str] | None = None
        for entry in part.ledger:
            # A step's streams share its words and its method: once is enough.
            step, how = ("", "") if texts == (entry.step, entry.basis) else (entry.step, entry.in_short)
            if step or entry.grams > 0:
                ledger.add_row(step, entry.stream, in_digits(entry.grams), how)
            texts = (entry.step, entry.basis)
        console.print(ledger)
    for item in nutrition.weigh_next:
        say(item["message"], mark="→")
    say_problems(nutrition.problems)


def _show_stated(console: Console, nutrition: Nutrition) -> None:
    """What the recipe's page printed beside what is found here; shown to compare, used for nothing."""
    from labeler.parsing.stated_nutrition import StatedOf, stated_nutrition

    figures = {
        StatedOf.SERVING: nutrition.per_serving,
        StatedOf.HUNDRED_GRAMS: nutrition.per_100g,
        StatedOf.BATCH: nutrition.batch,
    }
    table = table_of(
        "printed with the recipe", "of", "printed", "found here", "range", numbers=(2, 3, 4), least={0: 16}
    )
    stated = [one for one in stated_nutrition(nutrition.weighed.recipe) if one.tag in SHOWN]
    for one in stated:
        name, unit = SHOWN[one.tag]
        table.add_row(
            f"{name} [{unit}]", one.of.value, in_digits(one.amount), *_figure_cells(figures[one.of].get(one.tag))
        )
    if stated:
        say("Somebody printed figures with this recipe. They are shown to compare, and nothing is computed from them.")
        console.print(table)


# A declared value with a smaller risk than this of falling outside its tolerance needs no second look.
RISK_SHOWN = 0.05


def _show_by_sale(console: Console, found: Requirements) -> None:
    """What must stand on the label as the food is sold, each requirement with the kinds of sale that ask it."""
    say("How it is sold is not stated, and what must stand on the label depends on it:")
    table = table_of("on the label", "", "where it is sold", least={0: 18, 1: 16})
    for at, requirement in enumerate(next(iter(found.by_sale.values())).requirements):
        states: dict[str, list[str]] = {}
        for sale, asked in found.by_sale.items():
            states.setdefault(asked.requirements[at].state, []).append(sale)
        for place, (state, sales) in enumerate(states.items()):
            table.add_row("" if place else requirement.what, state, "any way" if len(states) == 1 else ", ".join(sales))
    console.print(table)


def _show_serving(serving: Serving) -> None:
    say(f"Serving: {serving.statement}; {serving.servings or 'one'} in the pack")
    for reason in serving.because:
        say(f"because {reason}", mark=" ")
    say_problems(serving.problems)


def _show_obligations(console: Console, owed: Obligations) -> None:
    """What must stand on the label, what frees from it and what ends that, and what is not known of the seller."""
    table = table_of("on the label", "", "why")
    for requirement in owed.requirements:
        table.add_row(requirement.what, requirement.state, requirement.because)
        for one in requirement.exemptions:
            ended = f"; ended by {', '.join(one.ended_by)}" if one.ended_by and one.state == "applies" else ""
            table.add_row("", f"  exemption {one.state}", f"{one.rule.summary} ({one.because}){ended}")
    console.print(table)
    for question in owed.questions:
        say(question, mark="?")


def _show_claims(console: Console, claims: Claims) -> None:
    """Claims whose figures would do or nearly do, those of the same figures in one row, and what any claim brings."""
    table = table_of("claim", "", "figures")
    alike: dict[tuple[str, str], list[str]] = {}
    for claim in (*claims.offered, *claims.withheld):
        state = "the figures would meet it" if claim.offered else "not sure enough"
        why = "; ".join(dict.fromkeys((*claim.because, *claim.asks)))
        alike.setdefault((state, why), []).append(claim.words)
    for (state, why), words in alike.items():
        table.add_row(", ".join(words), state, why)
    console.print(table)
    if claims.disclosure:
        say(f"With any claim: “{claims.disclosure}”")
    for rule in claims.consequences:
        say(f"A claim has consequences: {rule.summary} ({rule.paragraph})")


def _show_tolerances(values: Iterable[Tolerance]) -> None:
    """Declared values that an analysis may well contradict, with one that it would not."""
    for value in values:
        if value.risk < RISK_SHOWN:
            continue
        safer = f"; {value.safer} would keep it under 5 %" if value.safer else ""
        say(
            f"{value.label} {value.declared}: an analysis would fall outside the tolerance in {value.risk:.0%} "
            f"of cases{safer}",
            mark="!",
        )


def show_requirements(found: Requirements) -> None:
    """What a market asks of a recipe, ending with whom to ask."""
    console = console_of()
    console.print(f"{found.title}, market {found.market}", style="bold")
    if found.serving is not None:
        _show_serving(found.serving)
    if found.obligations is not None:
        _show_obligations(console, found.obligations)
    if found.by_sale:
        _show_by_sale(console, found)
    if found.claims is not None and (found.claims.offered or found.claims.withheld):
        _show_claims(console, found.claims)
    _show_tolerances(found.tolerances)
    for sentence in found.open:
        say(sentence, mark="!")
    if found.obligations is not None:
        say(found.obligations.ask.summary)
