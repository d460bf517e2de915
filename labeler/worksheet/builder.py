"""From what the packages know of a recipe to its worksheet: every figure of the label traced back to a line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from labeler import __version__
from labeler.allergens import Assessment, declared_names, statement
from labeler.food_safety import cautions
from labeler.foods.composition.food_table import TABLE_EDITION, load_table
from labeler.foods.model import WeighedLine
from labeler.label.builder import LabelFacts, gather, label_content, table_rows
from labeler.markets import market_of
from labeler.nutrition.analysis import Figure, Nutrition
from labeler.parsing.model import Amount, Recipe
from labeler.rules.claims import Claims
from labeler.rules.declaration import Declaration
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.obligations import Obligations
from labeler.types import Problem
from labeler.worksheet.breakdown import balances, food_rows, ingredient_rows, step_rows
from labeler.worksheet.model import (
    Advice,
    AllergenRow,
    Alternative,
    CautionRow,
    DeclaredFor,
    DeclaredRow,
    IngredientRow,
    LineRow,
    ProblemRow,
    RequirementRow,
    Share,
    SourceRow,
    Term,
    Total,
    Worksheet,
)
from labeler.worksheet.names import nutrient, standing_sources

__all__ = ["attachment", "make_worksheet"]


def attachment(recipe: Recipe, facts: LabelFacts) -> bytes:
    """What a label carries inside its PDF: the worksheet of the same recipe as JSON, without advice; UTF-8.

    Parameters
    ----------
    recipe : Recipe
    facts : LabelFacts
        What the label was made of.
    """
    from labeler.worksheet.as_json import worksheet_bytes

    return worksheet_bytes(make_worksheet(recipe, market=facts.market, facts=facts, advice=False))


def make_worksheet(
    recipe: Recipe,
    *,
    market: str | None = None,
    sale: Mapping[str, Any] | None = None,
    facts: LabelFacts | None = None,
    advice: bool = True,
) -> Worksheet:
    """Everything that stands behind the label of a recipe.

    Parameters
    ----------
    recipe : Recipe
    market : str or None
        Whose rules hold; None takes the head's `market`, else us.
    sale : mapping or None
        Facts of the sale, as `labeler.rules.requirements.requirements` takes them; None leaves the requirements out.
    facts : LabelFacts or None
        What `labeler.label.builder.gather` found for the same recipe and market; None works it out.
    advice : bool
        Say what to weigh next, which takes as long as all the rest, as it runs the recipe again.

    Returns
    -------
    Worksheet
        Every figure with where it came from, as rows: grams, and nutrients in the food table's units.

    Raises
    ------
    LabelerError
        For an unknown market, and for a fact that the market does not ask for.

    Source: each row names its own: food, model, rule and paragraph.

    Examples
    --------
    >>> found = labeler.make_worksheet(labeler.read_recipe("# Dip\\n- 1 cup sugar\\n- 250 g butter\\n"), advice=False)
    >>> [(row.text, row.grams) for row in found.lines]  # g
    [('1 cup sugar', 200.0), ('250 g butter', 250.0)]
    """
    place = load_market(market_of(recipe, market))
    facts = facts or gather(recipe, market=place.id)
    nutrition = facts.nutrition
    _, _, problems = label_content(recipe, market=place.id, facts=facts)
    tags = _tags(facts, place)
    ingredients = ingredient_rows(nutrition.dish, tags)
    steps, foods = step_rows(nutrition.dish, tags), food_rows(nutrition.dish, tags)
    rows = (*_declared(facts, facts.serving, place, ingredients), *_declared(facts, facts.hundred, place, ingredients))
    warned = tuple(
        CautionRow(one.code, one.place, one.text, one.citation, one.because)
        for one in cautions(nutrition.weighed, market=place.id, dish=nutrition.dish)
    )
    allergens = tuple(_allergens(facts.allergens, place.id))
    return Worksheet(
        title=recipe.title,
        digest=recipe.digest,
        market=place.id,
        market_name=place.head["name"],
        made_by=f"labeler {__version__}",
        table=TABLE_EDITION,
        servings=nutrition.servings,
        serving_g=nutrition.serving_g,
        batch_g=float(nutrition.dish.mix.total_mass[0]),
        serving_basis=nutrition.serving_basis,
        statement=statement(facts.allergens, place.id).text,
        nutrients=tuple(nutrient(tag) for tag in tags),
        lines=tuple(_lines(nutrition)),
        steps=steps,
        foods=foods,
        ingredients=ingredients,
        totals=tuple(_total(tag, nutrition) for tag in tags),
        balances=balances(nutrition.dish, tags),
        declared=rows,
        allergens=allergens,
        cautions=warned,
        requirements=() if sale is None else tuple(_requirements(recipe, place.id, sale)),
        sources=(
            *standing_sources(tags, (row.method for row in steps)),
            *(SourceRow("one food", row.description, "", "package") for row in foods if not row.food.isdigit()),
            *_sources(rows, place, allergens, warned),
        ),
        problems=tuple(_problem(one, recipe) for one in problems if not one.code.startswith("caution-")),
        advice=tuple(Advice(**item) for item in nutrition.weigh_next) if advice else (),
    )


def _take(rules: Mapping[str, Rule], name: str) -> dict[str, float]:
    """A line of the panel as factors of tagnames, sums of sums multiplied out."""
    if name not in rules or "formula" not in rules[name].data:
        return {name: 1.0}
    found: dict[str, float] = {}
    for inner, factor in rules[name].data["formula"].items():
        for tag, times in _take(rules, inner).items():
            found[tag] = found.get(tag, 0.0) + times * float(factor)
    return found


def _tags(facts: LabelFacts, place: Market) -> tuple[str, ...]:
    """The nutrients that the declared lines are made of and the kitchen follows, in the order of the panel."""
    rules = place.rules("nutrients")
    wanted = [tag for line in facts.serving for tag in _take(rules, line.id)]
    wanted += [tag for line in facts.hundred for tag in _take(rules, line.id)]
    return tuple(tag for tag in dict.fromkeys(("ENERC_KCAL", *wanted)) if tag in facts.nutrition.batch)


def _ends(figure: Figure) -> tuple[float, float, float]:
    return figure.best, figure.low, figure.high


def _total(tag: str, nutrition: Nutrition) -> Total:
    batch = nutrition.batch[tag]
    hundred, serving = nutrition.per_100g[tag], nutrition.per_serving[tag]
    return Total(tag, _ends(batch), _ends(hundred), _ends(serving), batch.status.words)


# Lines


def _amount(amount: Amount) -> str:
    """An amount as read: "2–3 cup", "each 15 ounce"."""
    number = f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g}–{amount.high:g}"
    role = {"each": "each ", "same": "= ", "plus": "+ "}.get(amount.role, "")
    return f"{role}{'about ' if amount.about else ''}{number} {amount.unit or ''}".strip()


def _lines(nutrition: Nutrition) -> Iterator[LineRow]:
    for part, weighed in nutrition.lines:
        for one in (weighed, *weighed.also):
            yield _line(part, one)


def _line(part: str, one: WeighedLine) -> LineRow:
    match, grams, table = one.match, one.grams, load_table()
    own = match.own if match else None
    return LineRow(
        line=one.line.number,
        part=part,
        text=one.line.text,
        name=one.line.name,
        amount=", ".join(_amount(amount) for amount in one.line.amounts),
        food=own.id if own else match.food if match else None,
        description=own.name if own else match.description if match else "",
        confidence=match.confidence if match else None,
        reason=match.reason if match else "",
        alternatives=tuple(Alternative(food, table.describe(food)) for food in match.alternatives) if match else (),
        takes=one.part,
        grams=grams.best if grams else None,
        low=grams.low if grams else None,
        high=grams.high if grams else None,
        basis=grams.basis if grams else "",
        problems=tuple(f"{problem.message} [{problem.code}]" for problem in one.problems),
    )


# Declared values


def _declared(
    facts: LabelFacts, declaration: Declaration, place: Market, ingredients: Sequence[IngredientRow]
) -> Iterator[DeclaredRow]:
    rules = place.rules("nutrients")
    shown = {line.id for row in table_rows(facts) for line in row.serving}
    nutrition = facts.nutrition
    mass = float(nutrition.dish.mix.total_mass[0])
    hundred = declaration is facts.hundred
    over = mass / 100.0 if hundred else nutrition.servings
    for line in declaration:
        ladder = rules[line.rule]
        percent = rules[line.id].data.get("percent")
        day = rules[percent["of"]].data["amount"] if percent else None
        take = {tag: factor for tag, factor in _take(rules, line.id).items() if tag in nutrition.batch}
        yield DeclaredRow(
            basis=DeclaredFor.HUNDRED_GRAMS if hundred else DeclaredFor.SERVING,
            id=line.id,
            label=line.words,
            made_of=tuple(Term(tag, factor) for tag, factor in take.items()),
            amount=line.amount,
            low=line.low,
            high=line.high,
            unit=line.unit,
            printed=line.text,
            also=line.also,
            percent=line.percent,
            reference=None if day is None else float(day),
            on_label=line.id in shown,
            requirement=line.requirement,
            status=line.status.words,
            rule=line.rule,
            rule_says=ladder.summary,
            paragraph=line.paragraph,
            since=ladder.dated,
            reading=ladder.reading,
            shares=tuple(_shares(take, ingredients, over)),
        )


def _shares(take: Mapping[str, float], ingredients: Sequence[IngredientRow], over: float) -> Iterator[Share]:
    """What each ingredient contributes, largest first; they sum to the amount, which a missing figure leaves short."""
    found: list[Share] = []
    for row in ingredients:
        terms = [(row.in_dish[tag], factor) for tag, factor in take.items()]
        amount = sum(value * factor for value, factor in terms if value is not None) / over if over > 0 else 0.0
        here = row.in_dish_g > 0 or row.put_in_g is None
        at_least = here and any(value is None for value, _ in terms)
        if amount or at_least:
            found.append(Share(row.line, row.name, row.food, amount, at_least))
    yield from sorted(found, key=lambda share: (-share.amount, share.line))


# Allergens, requirements, sources, problems


def _allergens(found: Assessment, market: str) -> Iterator[AllergenRow]:
    states = (
        ("contains", found.declared),
        ("read the package", found.read_the_package),
        ("not declarable here", found.elsewhere),
    )
    for state, findings in states:
        for one in findings:
            yield AllergenRow(
                state=state,
                allergen=one.allergen,
                declared_as=declared_names(one, market=market) if state != "not declarable here" else (),
                names=one.names,
                reason=one.reason,
                place=one.from_,
                certainty=one.certainty,
                rule=one.rule,
                source=one.source,
            )
    for name in found.unassessed:
        why = "the vocabulary does not know the name: read its package or name its ingredients"
        yield AllergenRow("not assessed", "", (), (), why, name, "", "", "")


def _requirements(recipe: Recipe, market: str, sale: Mapping[str, Any]) -> Iterator[RequirementRow]:
    from labeler.rules.requirements import requirements

    found = requirements(recipe, market=market, facts=sale)
    serving = found.serving
    if serving is not None:
        kind = serving.reference.id if serving.reference else ""
        yield RequirementRow("serving", serving.statement, serving.servings or "", "; ".join(serving.because), kind)
    if found.obligations is not None:
        yield from _obligations(found.obligations)
    if found.claims is not None:
        yield from _claims(found.claims)
    for one in found.tolerances:
        safer = f"; {one.safer} would keep it under 5 %" if one.safer else ""
        because = f"an analysis would fall outside in {one.risk:.0%} of cases{safer}"
        yield RequirementRow("tolerance", f"{one.label} {one.declared}", "", because, one.rule.id)
    for sentence in found.open:
        yield RequirementRow("open", sentence, "open", "", "")
    if found.obligations is not None:
        ask = found.obligations.ask
        yield RequirementRow("whom to ask", ask.summary, "", "", ask.id)


def _obligations(owed: Obligations) -> Iterator[RequirementRow]:
    """What must stand on the label, what frees from it and what ends that, and the questions that are open."""
    for requirement in owed.requirements:
        yield RequirementRow(
            "on the label", requirement.what, requirement.state, requirement.because, requirement.rule.id
        )
        for freed in requirement.exemptions:
            ended = f"; ended by {', '.join(freed.ended_by)}" if freed.ended_by else ""
            yield RequirementRow("exemption", freed.rule.summary, freed.state, freed.because + ended, freed.rule.id)
    for question in owed.questions:
        yield RequirementRow("question", question, "open", "", "")


def _claims(claimed: Claims) -> Iterator[RequirementRow]:
    """Claims whose figures would do or nearly do, and what must stand beside any."""
    for claim in (*claimed.offered, *claimed.withheld):
        state = "the figures would meet it" if claim.offered else "not sure enough"
        yield RequirementRow("claim", claim.words, state, "; ".join((*claim.because, *claim.asks)), claim.rule.id)
    if claimed.disclosure:
        yield RequirementRow("claim", claimed.disclosure, "with any claim", "", "")


def _sources(
    declared: Iterable[DeclaredRow], place: Market, allergens: Iterable[AllergenRow], warned: Iterable[CautionRow]
) -> Iterator[SourceRow]:
    """The works behind the rules, the allergens and the cautions of the worksheet."""
    rules = place.rules("nutrients")
    used: dict[str, Rule] = {}
    for row in declared:
        percent = rules[row.id].data.get("percent")
        names = (row.id, row.rule, *((percent["of"], percent["rounding"]) if percent else ()))
        used |= {name: rules[name] for name in names}
    works = dict.fromkeys(source for rule in used.values() for source in rule.sources)
    for work in works:
        yield SourceRow("declared values: lines, rounding, reference values", work.title, work.edition, work.kind)
    for title in dict.fromkeys(row.source for row in allergens if row.source):
        yield SourceRow("allergens", title, "", "")
    for title in dict.fromkeys(row.citation for row in warned if row.citation):
        yield SourceRow("cautions", title, "", "")


def _problem(problem: Problem, recipe: Recipe) -> ProblemRow:
    texts = {line.number: line.text for part in recipe.parts for line in part.lines}
    texts |= {step.number: step.text for part in recipe.parts for step in part.handling}
    return ProblemRow(problem.code, problem.line, texts.get(problem.line or 0, ""), problem.message)
