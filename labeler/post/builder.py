"""From a recipe to what its post says: the label's content in the post's language, with how sure each figure is."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from labeler.allergens import Finding
from labeler.allergens.alternatives import offers
from labeler.allergens.statement import declared_names
from labeler.allergens.vocabulary import allergen_names
from labeler.foods.composition.food_table import TABLE_EDITION
from labeler.foods.model import WeighedLine
from labeler.label.builder import LabelFacts, TableRow, gather, label_content, table_rows
from labeler.label.content import LabelContent, NutritionRow, Run
from labeler.label.words import figure_words, line_name, name_allergen
from labeler.markets import market_of
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.parser import read_method
from labeler.parsing.model import Handling, Part, Recipe
from labeler.post.content import PostContent, PostPart, PostRow
from labeler.post.linked import nutrition_facts
from labeler.post.ranges import likely_ends
from labeler.post.words import words
from labeler.rules.declaration import DeclaredValue
from labeler.rules.market import load_market
from labeler.rules.rounding import exact
from labeler.rules.sale import FiguresShown, sale_of
from labeler.types import Problem, refuse, refused
from labeler.web_addresses import check_web_address

__all__ = ["post_content"]

# What only a package needs, which a post is not.
_OF_THE_PACK = ("no-net", "net-")
_WARNED = (
    "The head does not say how it is sold. A seller who is exempt from the nutrition panel may lose that by figures in "
    "a post: say it, as “sale: packed ahead” or “sale: post only”."
)
# Marks that reorder everything after them up to the end of their paragraph.
_REORDERING = re.compile("[\u202a-\u202e\u2066-\u2069]")
_PIN = re.compile(r"\s*\{[^{}]*\}")


def post_content(
    recipe: Recipe,
    *,
    market: str | None = None,
    language: str = "en",
    address: str = "",
    facts: LabelFacts | None = None,
    figures: bool | None = None,
    anyway: bool = False,
) -> PostContent:
    """What the post of a recipe says.

    Parameters
    ----------
    recipe : Recipe
    market : str or None
        Whose rules round the figures and name the allergens; None takes the head's `market`, else us.
    language : str
        Of the fixed words: en, fr, es, de or it. What the cook wrote stays as written.
    address : str
        Where the post is to stand.
    facts : LabelFacts or None
        What `labelling.gather` found for the same recipe and market; None works it out.
    figures : bool or None
        Whether nutrition figures stand in it; None leaves them out where they would end an exemption of the sale that
        the head says: a post counts as advertising.
    anyway : bool
        Make a draft of a recipe that is refused.

    Raises
    ------
    LabelerError
        For an unknown market or language, for an address that is not one of the web, and for a recipe with a problem
        that refuses it.
    """
    fixed = words(language)
    check_web_address(address)
    place = market_of(recipe, market)
    facts = facts or gather(recipe, market=place)
    sale = sale_of(recipe, place, figures=figures)
    shown = sale.figures is not FiguresShown.NONE or (sale.assumed and figures is None and "figures" not in recipe.head)
    label, _, problems = label_content(recipe, market=place, facts=facts)
    refuse(problems, anyway=anyway, what="post")
    if sale.because:
        problems += (
            Problem("sale-note", sale.because if shown == (sale.figures is not FiguresShown.NONE) else _WARNED),
        )
    rows = () if not shown else tuple(_row(row, printed, facts, language) for row, printed in _paired(facts, label))
    left_out = tuple(_as_written(line) for _, line in facts.nutrition.lines if _uncounted(line))
    servings = facts.nutrition.dish.servings
    return PostContent(
        title=label.title,
        market=place,
        language=language,
        story=label.story,
        maker=label.maker,
        place=label.place,
        storage=label.storage,
        serving=label.serving,
        makes=servings.text if servings is not None else "",
        allergens=_allergens(facts, language),
        package=tuple(_packages(facts, language)),
        unassessed=tuple(_running(name) for name in facts.allergens.unassessed),
        settle=tuple(_to_settle(facts, language)),
        offers=tuple(_offers(facts, language)),
        rows=rows,
        percent_heading=label.percent_heading,
        ingredients=tuple(Run(_running(run.text), run.emphasised) for run in label.ingredients),
        cautions=label.cautions,
        sure=tuple(_sure(label, facts, rows, left_out, language)) if shown else (),
        as_of=fixed["as_of"].format(digest=label.digest, table=TABLE_EDITION, market=fixed[place]),
        parts=tuple(_part(part) for part in recipe.parts),
        facts=() if left_out or not shown else tuple(nutrition_facts(facts)),
        digest=label.digest,
        address=address,
        problems=tuple(problem for problem in problems if not problem.code.startswith(_OF_THE_PACK)),
        draft=fixed["draft"] if refused(problems) else "",
    )


def _running(text: str) -> str:
    """A text that stands in a paragraph beside others, where it may not turn them round."""
    return _REORDERING.sub("", text)


def _paired(facts: LabelFacts, label: LabelContent) -> Iterator[tuple[TableRow, NutritionRow]]:
    return zip(table_rows(facts), label.nutrition, strict=True)


def _row(row: TableRow, printed: NutritionRow, facts: LabelFacts, language: str) -> PostRow:
    line = row.serving[-1]  # kcal where kJ stand beside it
    ends = _ends(line, facts, language)
    return PostRow(
        name=line_name(printed.name, language),
        per_serving=figure_words(printed.per_serving, language),
        per_100g=figure_words(printed.per_100g, language),
        likely=f"{ends[0]}–{ends[1]} {line.unit}".rstrip() if ends else "",
        percent=figure_words(printed.percent, language),
        level=printed.level,
    )


def _ends(line: DeclaredValue, facts: LabelFacts, language: str) -> tuple[str, str] | None:
    """Both ends of a figure's likely range; None where the printed figure says as much, or is not known."""
    if not line.known or line.amount is None or line.low is None or line.high is None:
        return None
    ladder = load_market(facts.market).rules("nutrients")[line.rule].data["ladder"]
    printed = {ladder.apply(exact(value)).text for value in (line.low, line.amount, line.high)}
    if len(printed) == 1 or math.isclose(line.low, line.high, rel_tol=1e-6):
        return None
    finest = Decimal(0) if line.value is None else Decimal(1).scaleb(int(line.value.as_tuple().exponent))
    low, high = likely_ends(max(line.low, 0.0), line.high, finest=finest)
    return figure_words(low, language), figure_words(high, language)


def _names(finding: Finding, facts: LabelFacts, language: str) -> tuple[str, ...]:
    """What a finding is called: the name of the law's own list, and beside it the kind that it is."""
    declared = declared_names(finding, market=facts.market)
    if language != "en":
        names = name_allergen(finding.allergen, finding.names, language)
    elif set(finding.names) <= set(declared):
        names = declared
    else:
        names = (f"{', '.join(declared)} ({', '.join(finding.names)})",)
    return tuple(_running(name) for name in names)


def _allergens(facts: LabelFacts, language: str) -> tuple[Run, ...]:
    """The allergen line; where none was found while a line is open it says so, and names the line."""
    fixed, found = words(language), facts.allergens
    names = dict.fromkeys(name for finding in found.declared for name in _names(finding, facts, language))
    if names:
        return Run(fixed["contains"] + " "), Run(", ".join(names), True)
    asked = (_place(finding) for finding in found.read_the_package)
    open_ = dict.fromkeys((*asked, *map(_running, found.unassessed), *_open_lines(facts)))
    if open_:
        return (Run(f"{fixed['not_settled']} {'; '.join(open_)}."),)
    return (Run(fixed["none_found"]),)


def _place(finding: Finding) -> str:
    """The words of the line that a finding is about."""
    return _running(finding.from_.rpartition(": ")[2])


def _open_lines(facts: LabelFacts) -> Iterator[str]:
    """The lines of which it is open what food they are, as written."""
    numbers = {problem.line for problem in facts.allergens.problems}
    for _, line in facts.nutrition.lines:
        if line.line.number in numbers:
            yield _as_written(line)


def _to_settle(facts: LabelFacts, language: str) -> Iterator[str]:
    """Nuts without a name, and lines of which it is open what food they are."""
    fixed = words(language)
    if facts.allergens.unnamed:
        yield f"{fixed['name_nuts']} {'; '.join(dict.fromkeys(map(_place, facts.allergens.unnamed)))}."
    lines = dict.fromkeys(_open_lines(facts))
    if lines:
        yield f"{fixed['to_settle']} {'; '.join(lines)}."


def _offers(facts: LabelFacts, language: str) -> Iterator[str]:
    """What the cook names a way to leave out, with the line and the cook's own words."""
    fixed, plain = words(language), allergen_names()
    for offer in offers(facts.nutrition.weighed, facts.allergens):
        names = dict.fromkeys(name for one in offer.without for name in name_allergen(one, (plain[one],), language))
        yield fixed["offer"].format(names=", ".join(names), line=offer.line, remark=offer.remark)


def _packages(facts: LabelFacts, language: str) -> Iterator[str]:
    """What only a package can settle: the words of the line, and what they may hold beyond what is there anyway."""
    held: dict[str, dict[str, None]] = {}
    for finding in facts.allergens.read_the_package:
        if finding.allergen in facts.allergens.possible:
            held.setdefault(_place(finding), {}).update(dict.fromkeys(_names(finding, facts, language)))
    for named, names in held.items():
        yield f"{named} ({', '.join(names)})"


def _uncounted(line: WeighedLine) -> bool:
    """Whether a line is in no figure: no other part, and no food or no weight."""
    if line.part is not None:
        return False
    alone = line.grams is None or line.match is None or line.match.food is None
    return alone or any(_uncounted(other) for other in line.also)


def _as_written(line: WeighedLine) -> str:
    return _running(_PIN.sub("", line.line.text).strip())


def _sure(
    label: LabelContent, facts: LabelFacts, rows: tuple[PostRow, ...], left_out: tuple[str, ...], language: str
) -> Iterator[str]:
    """How the figures were made and how sure they are, in sentences."""
    fixed = words(language)
    for note in label.nutrition_notes:
        yield line_name(note, language)
    for row in table_rows(facts)[:1]:
        line = row.serving[-1]
        ends = _ends(line, facts, language)
        if ends is not None:
            low, high = ends[0], f"{ends[1]} {line.unit}".rstrip()
            best = figure_words(line.text, language)
            yield fixed["sure_energy"].format(name=line_name(row.name, language), best=best, low=low, high=high)
    if any(row.likely for row in rows):
        yield fixed["sure_ranges"]
    if not all(line.known for row in table_rows(facts) for line in row.serving):
        yield fixed["sure_least"]
    if left_out:
        yield f"{fixed['left_out']} {'; '.join(left_out)}."


def _part(part: Part) -> PostPart:
    """A part as the cook wrote it, without the notes to the program: pins in braces, and what a batch once weighed."""
    return PostPart(
        title=part.title,
        lines=tuple(_PIN.sub("", line.text).strip() for line in part.lines),
        steps=tuple(row.text for row in part.handling if not _only_weighs(row, part)),
    )


def _only_weighs(row: Handling, part: Part) -> bool:
    """Whether a row of the method only notes what a batch once weighed; whose cups it speaks of does not matter."""
    method = read_method(replace(part, handling=(row,)), market="us")
    only = all(action(one.action).handler is Handler.WEIGH for one in method.instructions)
    return bool(method.instructions) and all(one.mended for one in method.unread) and only
