"""The JSON interface: what each command writes, object by object, however the packages look inside.

Keys and meanings are fixed (DEVELOPERS.md, "The interface"); a change here is a change for every program that reads
labeler's output.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from labeler.foods.model import Candidate, Match, WeighedLine
from labeler.json_numbers import json_number
from labeler.parsing.model import Amount
from labeler.parsing.stated_nutrition import stated_nutrition
from labeler.types import Interval, Problem

if TYPE_CHECKING:
    from labeler.allergens import Assessment, Finding, Matrix
    from labeler.allergens.alternatives import Offer
    from labeler.cooking.serving import Portion
    from labeler.nutrition.analysis import Figure, Nutrition, PartFigures
    from labeler.post.content import PostContent
    from labeler.rules.model import Rule
    from labeler.rules.requirements import Requirements

__all__ = [
    "allergen_object",
    "food_object",
    "line_object",
    "matrix_object",
    "nutrition_object",
    "post_object",
    "requirements_object",
    "rule_object",
]

Object = dict[str, Any]


def _amount(amount: Amount) -> Object:
    return {"low": json_number(amount.low), "high": json_number(amount.high), "unit": amount.unit}


def _interval(interval: Interval | None) -> Object | None:
    if interval is None:
        return None
    return {
        "best": json_number(interval.best),
        "low": json_number(interval.low),
        "high": json_number(interval.high),
        "basis": interval.basis,
    }


def _problems(problems: Iterable[Problem]) -> list[Object]:
    return [{"code": problem.code, "message": problem.message} for problem in problems]


def _food(match: Match | None) -> Object | None:
    if match is None or (match.food is None and match.own is None):
        return None
    return {"id": match.own.id if match.own is not None else match.food, "description": match.description}


def line_object(weighed: WeighedLine) -> Object:
    """One object of ``labeler lines``."""
    line, match = weighed.line, weighed.match
    found: Object = {
        "text": line.text,
        "amounts": [_amount(amount) for amount in line.amounts],
        "name": line.name,
        "preparation": line.preparation,
        "note": "; ".join(filter(None, (line.note, *(remark.text for remark in line.remarks)))),
        "optional": line.optional,
        "food": _food(match),
        "match": {
            "confidence": json_number(match.confidence if match else 0.0),
            "reason": match.reason if match else "the line names no food of the table",
            "alternatives": list(match.alternatives) if match else [],
        },
        "grams": _interval(weighed.grams),
        "problems": _problems(weighed.problems),
    }
    if weighed.also:
        found["also"] = [
            {"name": other.line.name, "food": _food(other.match), "grams": _interval(other.grams)}
            for other in weighed.also
        ]
    return found


def food_object(query: str, candidates: Iterable[Candidate]) -> Object:
    """One object of ``labeler foods``."""
    return {
        "query": query,
        "candidates": [
            {
                "id": candidate.food,
                "description": candidate.description,
                "confidence": json_number(candidate.confidence),
                "reason": candidate.reason,
            }
            for candidate in candidates
        ],
    }


def _findings(findings: Iterable[Finding]) -> list[Object]:
    return [
        {
            "allergen": finding.allergen,
            "names": list(finding.names),
            "reason": finding.reason,
            "from": finding.from_,
        }
        for finding in findings
    ]


def allergen_object(assessment: Assessment, ways: Iterable[Offer] = ()) -> Object:
    """One object of ``labeler allergens``; `ways` are the recipe's own to leave an allergen out."""
    return {
        "text": assessment.text,
        "contains": _findings(assessment.contains),
        "read_the_package": _findings(assessment.read_the_package),
        "unassessed": list(assessment.unassessed),
        "offers": [{"without": list(one.without), "line": one.line, "remark": one.remark} for one in ways],
        "problems": _problems(assessment.problems),
    }


def _figure(figure: Figure) -> Object:
    return {
        "best": json_number(figure.best),
        "low": json_number(figure.low),
        "high": json_number(figure.high),
        "status": figure.status.words,
    }


def _figures(figures: dict[str, Figure]) -> Object:
    return {key: _figure(figure) for key, figure in figures.items()}


def _part(part: PartFigures) -> Object:
    return {
        "title": part.title,
        "grams_in": json_number(part.grams_in),
        "grams_kept": json_number(part.grams_kept),
        "ledger": [
            {"step": entry.step, "stream": entry.stream, "grams": json_number(entry.grams), "basis": entry.basis}
            for entry in part.ledger
        ],
        "per_100g": _figures(part.per_100g),
    }


def _printed(figures: dict[str, Figure], market: str) -> Object:
    """Figures of a serving or of 100 g, with what the market's label prints all the same marked as bounded."""
    from labeler.rules.missing_values import settled

    return _figures(settled(figures, market))


def _stated_servings(portion: Portion) -> Object | None:
    """Both ends of how many servings the recipe says it makes; None where it says no number of them."""
    if portion.low is None or portion.high is None:
        return None
    return {"low": json_number(portion.low), "high": json_number(portion.high), "text": portion.said}


def nutrition_object(nutrition: Nutrition, *, quick: bool = False) -> Object:
    """The object of ``labeler nutrition``; `stated_elsewhere` only where the recipe's page printed figures.

    `quick` leaves out what takes longest: the advice, and the intervals of each part.
    """
    other = replace(nutrition, drawn=None) if quick else nutrition
    stated = [
        {"tag": one.tag, "amount": json_number(one.amount), "of": one.of.value, "text": one.text}
        for one in stated_nutrition(nutrition.weighed.recipe)
    ]
    return {
        "title": nutrition.title,
        "servings": json_number(nutrition.servings),
        "servings_stated": _stated_servings(nutrition.portion),
        "serving_g": json_number(nutrition.serving_g),
        "per_serving": _printed(nutrition.per_serving, nutrition.market),
        "per_100g": _printed(nutrition.per_100g, nutrition.market),
        "batch": _figures(nutrition.batch),
        "energy_check": {"factors": "4-4-9-7", "kcal": json_number(nutrition.energy_check)},
        "parts": [_part(part) for part in other.parts],
        "lines": [{"part": title} | line_object(line) for title, line in nutrition.lines],
        "problems": [_problems([problem])[0] | {"line": problem.line} for problem in nutrition.problems],
        "weigh_next": [dict(item) for item in other.weigh_next],
        **({"stated_elsewhere": stated} if stated else {}),
    }


def requirements_object(found: Requirements) -> Object:
    """The object of ``labeler requirements``."""
    serving, owed, claimed = found.serving, found.obligations, found.claims
    return {
        "title": found.title,
        "market": found.market,
        "serving": None
        if serving is None
        else {
            "statement": serving.statement,
            "grams": json_number(serving.grams),
            "servings": serving.servings,
            "columns": list(serving.columns),
            "reference": serving.reference.id if serving.reference else None,
            "confidence": json_number(serving.confidence),
            "because": list(serving.because),
            "problems": _problems(serving.problems),
        },
        "requirements": []
        if owed is None
        else [
            {
                "what": requirement.what,
                "state": requirement.state,
                "because": requirement.because,
                "exemptions": [
                    {"rule": one.rule.id, "state": one.state, "because": one.because, "ended_by": list(one.ended_by)}
                    for one in requirement.exemptions
                ],
            }
            for requirement in owed.requirements
        ],
        "by_sale": [
            {
                "sale": sale,
                "requirements": [
                    {"what": requirement.what, "state": requirement.state} for requirement in asked.requirements
                ],
            }
            for sale, asked in found.by_sale.items()
        ],
        "questions": [] if owed is None else list(owed.questions),
        "ask": "" if owed is None else owed.ask.summary,
        "claims": []
        if claimed is None
        else [
            {
                "words": claim.words,
                "offered": claim.offered,
                "because": list(claim.because),
                "asks": list(claim.asks),
                "rule": claim.rule.id,
            }
            for claim in (*claimed.offered, *claimed.withheld)
        ],
        "disclosure": claimed.disclosure if claimed else "",
        "tolerances": [
            {
                "line": one.id,
                "declared": one.declared,
                "risk": json_number(one.risk),
                "safer": one.safer,
                "rule": one.rule.id,
            }
            for one in found.tolerances
        ],
        "open": list(found.open),
    }


def matrix_object(found: Matrix) -> Object:
    """The object of ``labeler matrix``: for each food what it holds, what its packages must say, what was asked."""
    return {
        "market": found.market,
        "allergens": list(found.allergens),
        "foods": [
            {
                "title": title,
                "contains": [one for one, mark in zip(found.allergens, row, strict=True) if mark == "contains"],
                "read_the_package": [
                    one for one, mark in zip(found.allergens, row, strict=True) if mark == "read the package"
                ],
            }
            for title, row in zip(found.titles, found.marks, strict=True)
        ],
    }


def rule_object(rule: Rule) -> Object:
    """One object of ``labeler rules``; its figures as the text shows them, as they are of many shapes."""
    from labeler.rules.catalogue import figures_of

    return {
        "id": rule.id,
        "market": rule.market,
        "kind": rule.kind,
        "says": rule.summary,
        "quote": rule.quote,
        "figures": list(figures_of(rule)),
        "paragraph": rule.paragraph,
        "since": rule.since.isoformat() if rule.since else None,
        "date": rule.dated,
        "status": rule.status,
        "read_in": rule.cited,
        "note": rule.note,
    }


def post_object(content: PostContent) -> Object:
    """The object of ``labeler post``: what the post says, and its linked data."""
    from labeler.post.linked import linked_data

    return {
        "title": content.title,
        "market": content.market,
        "language": content.language,
        "serving": content.serving,
        "makes": content.makes,
        "allergens": "".join(run.text for run in content.allergens),
        "read_the_package": list(content.package),
        "unassessed": list(content.unassessed),
        "settle": list(content.settle),
        "offers": list(content.offers),
        "nutrition": [
            {
                "name": row.name,
                "per_serving": row.per_serving,
                "likely": row.likely,
                "percent": row.percent,
                "per_100g": row.per_100g,
                "level": row.level,
            }
            for row in content.rows
        ],
        "ingredients": "".join(run.text for run in content.ingredients),
        "cautions": list(content.cautions),
        "sure": list(content.sure),
        "as_of": content.as_of,
        "recipe": content.digest,
        "linked_data": linked_data(content),
        "problems": [_problems([problem])[0] | {"line": problem.line} for problem in content.problems],
    }
