"""What the worksheet holds: every figure of a recipe and where it came from, as rows of plain values.

One dataclass is one kind of row. Each field says its heading, its kind and what a reader should know about it in one
place (`labeler.worksheet.column`); the spreadsheet, its list of columns and the JSON all follow from that. Amounts of
nutrients are mappings from INFOODS tagname to a number in the food table's unit, None where nobody knows it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from labeler.worksheet.column import Kind, column, hidden

__all__ = [
    "Advice",
    "AllergenRow",
    "Alternative",
    "Balance",
    "CautionRow",
    "DeclaredFor",
    "DeclaredRow",
    "FoodRow",
    "IngredientRow",
    "Left",
    "LineRow",
    "Nutrient",
    "ProblemRow",
    "RequirementRow",
    "Share",
    "SourceRow",
    "StepRow",
    "Term",
    "Total",
    "Worksheet",
]

Amounts = Mapping[str, float | None]
"""Tagname → amount in the table's unit; None where it is not known."""


@dataclass(frozen=True, slots=True)
class Nutrient:
    """One nutrient of the sheets: INFOODS tagname, plain name, and the table's unit."""

    tag: str
    name: str
    unit: str


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another food of the table that a name may mean."""

    food: str
    description: str


@dataclass(frozen=True, slots=True)
class LineRow:
    """One ingredient line, or one food of a line that names several."""

    line: int = field(metadata=column("line", "line number in the recipe file", Kind.WHOLE))
    part: str = field(metadata=column("part", "the part of the recipe it stands in"))
    text: str = field(metadata=column("as written", "the line, never changed", Kind.LONG, 38))
    name: str = field(metadata=column("name", "the food in the cook's words"))
    amount: str = field(metadata=column("amount", "the amounts as read", Kind.WORDS, 20))
    food: str | None = field(metadata=column("food", "id in the food table", Kind.WORDS, 8))
    description: str = field(metadata=column("food of the table", "the table's own words for it", Kind.LONG, 36))
    confidence: float | None = field(metadata=column("sure", "how sure the match is, 0 to 100 %", Kind.SHARE))
    reason: str = field(metadata=column("why this food", "what the match rests on", Kind.LONG, 34))
    alternatives: tuple[Alternative, ...] = field(
        metadata=column("it may also be", "other foods that fit, best first", Kind.LONG)
    )
    takes: str | None = field(
        metadata=column("takes from", "the part of this recipe that the line names", Kind.WORDS, 16)
    )
    grams: float | None = field(metadata=column("grams", "edible weight as it enters the pot [g]", Kind.GRAMS))
    low: float | None = field(metadata=column("from", "lower end of the 95 % interval [g]", Kind.GRAMS))
    high: float | None = field(metadata=column("to", "upper end of the 95 % interval [g]", Kind.GRAMS))
    basis: str = field(metadata=column("basis of the weight", "what the grams rest on", Kind.LONG, 40))
    problems: tuple[str, ...] = field(
        metadata=column("problems", "what could not be settled, and how to mend it", Kind.LONG)
    )


@dataclass(frozen=True, slots=True)
class StepRow:
    """One entry in the account of a part: what went in, what left by which step, what was kept."""

    part: str = field(metadata=column("part", "the part of the recipe"))
    line: int | None = field(metadata=column("line", "line number of the step in the recipe file", Kind.WHOLE))
    step: str = field(metadata=column("step", "the words that ask for it", Kind.LONG, 30))
    stream: str = field(
        metadata=column("what", "what became of it: put in, poured off, evaporated, kept ...", Kind.WORDS, 24)
    )
    name: str = field(metadata=column("name", "the name it has in the recipe, or what it is"))
    grams_in: float | None = field(metadata=column("in", "weight that goes in, for the whole batch [g]", Kind.GRAMS))
    grams_out: float | None = field(metadata=column("out", "weight that leaves, for the whole batch [g]", Kind.GRAMS))
    grams_kept: float | None = field(
        metadata=column("kept", "weight that is left in the end, for the whole batch [g]", Kind.GRAMS)
    )
    low: float | None = field(metadata=column("from", "lower end of the 95 % interval [g]", Kind.GRAMS))
    high: float | None = field(metadata=column("to", "upper end of the 95 % interval [g]", Kind.GRAMS))
    reused: float | None = field(metadata=column("used again", "share of it that another part takes", Kind.SHARE))
    method: str = field(
        metadata=column("how, and by which source", "tier, formula or table of the step", Kind.LONG, 70)
    )
    amounts: Amounts = field(metadata=hidden("nutrients that go the same way, in the table's units"))


@dataclass(frozen=True, slots=True)
class FoodRow:
    """What the food table says of one food, per 100 g."""

    food: str = field(metadata=column("food", "id in the food table", Kind.WORDS, 8))
    description: str = field(metadata=column("food of the table", "the table's own words for it", Kind.LONG, 40))
    amounts: Amounts = field(metadata=hidden("per 100 g, in the table's units; null where the table has no value"))
    status: Mapping[str, str] = field(metadata=hidden("where each value comes from: analysed, calculated, imputed ..."))


@dataclass(frozen=True, slots=True)
class Left:
    """What one step took of one ingredient."""

    part: str
    line: int
    step: str
    stream: str
    grams: float
    amounts: Amounts


@dataclass(frozen=True, slots=True)
class IngredientRow:
    """One food of the whole batch: what was put in, what left by which step, what is in the dish."""

    line: int = field(metadata=column("line", "line number in the recipe file", Kind.WHOLE))
    part: str = field(metadata=column("part", "the part of the recipe it stands in"))
    name: str = field(metadata=column("ingredient", "the food in the cook's words", Kind.WORDS, 24))
    food: str | None = field(metadata=column("food", "id in the food table", Kind.WORDS, 8))
    put_in_g: float | None = field(
        metadata=hidden("weight that goes into the whole batch [g]; null where nobody could weigh it")
    )
    in_dish_g: float = field(metadata=hidden("weight of it that is in the dish [g]"))
    put_in: Amounts = field(
        metadata=hidden("nutrients put in, in the table's units; null where the table has no value")
    )
    in_dish: Amounts = field(metadata=hidden("nutrients in the dish, in the table's units; null where not known"))
    left: tuple[Left, ...] = field(metadata=hidden("what each step took of it"))


@dataclass(frozen=True, slots=True)
class Total:
    """The figures of one nutrient: batch, 100 g and one serving, each best, low and high, and what they rest on."""

    tag: str
    batch: tuple[float, float, float]
    per_100g: tuple[float, float, float]
    per_serving: tuple[float, float, float]
    status: str


@dataclass(frozen=True, slots=True)
class Balance:
    """Where one nutrient, or the weight, of everything put in has gone.

    `streams` holds what left by each stream and was not used again; `left_over` what was made and nobody took; both in
    the unit of the nutrient, for the whole batch: ``put_in = in_dish + left_over + sum(streams)``.
    """

    tag: str
    put_in: float
    streams: Mapping[str, float]
    left_over: float
    in_dish: float


@dataclass(frozen=True, slots=True)
class Term:
    """One tagname of a declared line with the factor by which it counts."""

    tag: str
    factor: float


@dataclass(frozen=True, slots=True)
class Share:
    """What an ingredient contributes to a declared amount, in the line's unit; where one is missing the least of it."""

    line: int
    name: str
    food: str | None
    amount: float
    at_least: bool


class DeclaredFor(StrEnum):
    """What a declared amount is of, in the words of the worksheet."""

    HUNDRED_GRAMS = "100 g"
    SERVING = "one serving"


@dataclass(frozen=True, slots=True)
class DeclaredRow:
    """One declared value: from the unrounded amount by the rule to the printed text."""

    basis: DeclaredFor = field(metadata=column("of", "what the amount is of"))
    id: str = field(metadata=column("line of the panel", "the rule that defines the line", Kind.WORDS, 20))
    label: str = field(metadata=column("words", "how the market words the line", Kind.WORDS, 24))
    made_of: tuple[Term, ...] = field(
        metadata=column("made of", "tagnames with the factors by which they count", Kind.WORDS, 24)
    )
    amount: float | None = field(metadata=column("unrounded", "the amount before rounding", Kind.AMOUNT))
    low: float | None = field(metadata=column("from", "lower end of the 95 % interval", Kind.AMOUNT))
    high: float | None = field(metadata=column("to", "upper end of the 95 % interval", Kind.AMOUNT))
    unit: str = field(metadata=column("unit", "unit of the line; empty for calories", Kind.WORDS, 7))
    printed: str = field(metadata=column("printed", "the text that is printed", Kind.WORDS, 18))
    also: tuple[str, ...] = field(metadata=column("also lawful", "other texts that the law allows", Kind.WORDS, 14))
    percent: str | None = field(metadata=column("printed %", "the percentage that is printed", Kind.WORDS, 10))
    reference: float | None = field(
        metadata=column("reference", "the day's value that the percentage is of", Kind.AMOUNT)
    )
    on_label: bool = field(metadata=column("on the label", "whether the label's table carries the line", Kind.WORDS, 9))
    requirement: str = field(metadata=column("asked", "mandatory or voluntary", Kind.WORDS, 11))
    status: str = field(metadata=column("rests on", "the least trusted value behind it", Kind.WORDS, 13))
    rule: str = field(metadata=column("rounded by", "the rule that rounds it", Kind.WORDS, 18))
    rule_says: str = field(metadata=column("the rule", "the rule in our own words", Kind.LONG, 48))
    paragraph: str = field(metadata=column("paragraph", "where the rule stands in the law", Kind.LONG, 30))
    since: str = field(metadata=column("in force", "from when, and how that is known", Kind.LONG, 30))
    reading: str = field(
        metadata=column("how it was read", "how well the text of the rule could be read", Kind.LONG, 26)
    )
    shares: tuple[Share, ...] = field(
        metadata=hidden("what each ingredient contributes, in the line's unit, largest first")
    )


@dataclass(frozen=True, slots=True)
class AllergenRow:
    """One allergen in one place, with its evidence; or a name that could not be assessed."""

    state: str = field(
        metadata=column("state", "contains, read the package, not declarable here, or not assessed", Kind.WORDS, 20)
    )
    allergen: str = field(metadata=column("allergen", "id of the allergen"))
    declared_as: tuple[str, ...] = field(metadata=column("name it as", "what the market calls it", Kind.WORDS, 22))
    names: tuple[str, ...] = field(metadata=column("kind", "species or nut", Kind.WORDS, 20))
    reason: str = field(metadata=column("why", "the evidence in a sentence", Kind.LONG, 44))
    place: str = field(metadata=column("where", "the words or the table food it was found in", Kind.LONG, 40))
    certainty: str = field(metadata=column("certainty", "certain, likely or possible", Kind.WORDS, 11))
    rule: str = field(metadata=column("by", "kind of rule that found it"))
    source: str = field(metadata=column("source", "authority of the rule", Kind.LONG, 44))


@dataclass(frozen=True, slots=True)
class CautionRow:
    """One food-safety caution."""

    code: str = field(metadata=column("code", "short and stable name"))
    place: str = field(
        metadata=column("for", "label: the buyer must see it; cook: only the maker needs it", Kind.WORDS, 8)
    )
    text: str = field(metadata=column("caution", "what it says", Kind.LONG, 80))
    citation: str = field(metadata=column("where it stands", "the rule behind it", Kind.LONG, 36))
    because: tuple[str, ...] = field(metadata=column("because of", "the lines or steps that raise it", Kind.LONG, 40))


@dataclass(frozen=True, slots=True)
class RequirementRow:
    """One thing that the market asks, or a question that is still open."""

    kind: str = field(
        metadata=column("kind", "serving, on the label, exemption, claim, tolerance, question", Kind.WORDS, 14)
    )
    what: str = field(metadata=column("what", "what is asked or allowed", Kind.LONG, 50))
    state: str = field(metadata=column("state", "whether it holds for the facts given", Kind.WORDS, 22))
    because: str = field(metadata=column("because", "the facts and figures that settle it", Kind.LONG, 60))
    rule: str = field(metadata=column("rule", "id of the rule, as `labeler rules` prints it", Kind.WORDS, 22))


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One work that figures or rules of this worksheet rest on."""

    used_for: str = field(metadata=column("used for", "what rests on it", Kind.LONG, 36))
    title: str = field(metadata=column("source", "title of the work", Kind.LONG, 70))
    edition: str = field(metadata=column("edition", "edition, date or licence", Kind.LONG, 40))
    kind: str = field(metadata=column("kind", "law, regulator, secondary, table ...", Kind.WORDS, 14))


@dataclass(frozen=True, slots=True)
class ProblemRow:
    """Something that the cook should settle."""

    code: str = field(metadata=column("code", "short and stable name", Kind.WORDS, 22))
    line: int | None = field(metadata=column("line", "line number in the recipe file", Kind.WHOLE))
    text: str = field(metadata=column("as written", "the line that it is about", Kind.LONG, 34))
    message: str = field(metadata=column("problem", "what, why and how to mend it", Kind.LONG, 90))


@dataclass(frozen=True, slots=True)
class Advice:
    """One measurement that would make the figures surer, by running the recipe again with it settled."""

    measure: str = field(metadata=column("what to weigh or settle", "what to do", Kind.LONG))
    type: str = field(metadata=column("what to type then", "with the best estimate in place of yours", Kind.LONG))
    nutrient: str = field(metadata=column("figure that gains most", "INFOODS tagname", Kind.WORDS, 16))
    removes: float = field(
        metadata=column("of its interval", "share of its 95 % interval that goes away", Kind.SHARE, 12)
    )
    message: str = field(metadata=column("in a sentence", "all of it", Kind.LONG, 80))


@dataclass(frozen=True, slots=True)
class Worksheet:
    """Everything that stands behind a label.

    Parameters
    ----------
    title : str
    digest : str
        SHA-256 of the recipe's text.
    market : str
    market_name : str
    made_by : str
        Program and version.
    table : str
        Edition of the food table.
    servings, serving_g, batch_g : float
        Number of servings, weight of one [g], weight of the dish [g].
    serving_basis : str
        Where the division comes from.
    statement : str
        What the label says of allergens.
    nutrients : tuple of Nutrient
        The nutrients of every sheet, in the order of the market's panel.
    lines, steps, foods, ingredients, totals, balances, declared, allergens, cautions, requirements, sources, \
problems, advice : tuples
        The rows. `balances` begins with the weight, tag ``"g"``; without facts of the sale there are no `requirements`.
    """

    title: str
    digest: str
    market: str
    market_name: str
    made_by: str
    table: str
    servings: float
    serving_g: float
    batch_g: float
    serving_basis: str
    statement: str
    nutrients: tuple[Nutrient, ...]
    lines: tuple[LineRow, ...]
    steps: tuple[StepRow, ...]
    foods: tuple[FoodRow, ...]
    ingredients: tuple[IngredientRow, ...]
    totals: tuple[Total, ...]
    balances: tuple[Balance, ...]
    declared: tuple[DeclaredRow, ...]
    allergens: tuple[AllergenRow, ...]
    cautions: tuple[CautionRow, ...]
    requirements: tuple[RequirementRow, ...]
    sources: tuple[SourceRow, ...]
    problems: tuple[ProblemRow, ...]
    advice: tuple[Advice, ...]
