"""What a label lacks in its market, as the check of the label finds it, and the same as data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from labeler.rules.label_elements import Element
from labeler.rules.model import Rule
from labeler.rules.sale import Sale
from labeler.types import Problem

__all__ = ["LabelCheck", "Lack", "check_object"]


@dataclass(frozen=True, slots=True)
class Lack:
    """One thing that a label does not say and should.

    Parameters
    ----------
    element : Element
    message : str
        What lacks, and what to write to mend it.
    rule : Rule
        What asks for it.
    """

    element: Element
    message: str
    rule: Rule


@dataclass(frozen=True, slots=True)
class LabelCheck:
    """What a label lacks in its market, the way the food is sold.

    Parameters
    ----------
    sale : Sale
    lacks : tuple of Lack
        In the order of the market's table.
    questions : tuple of str
        Facts that would settle what is open.
    notes : tuple of str
        What else to know: why no figures are shown, what a date means.
    """

    sale: Sale
    lacks: tuple[Lack, ...]
    questions: tuple[str, ...]
    notes: tuple[str, ...] = ()

    @property
    def says(self) -> str:
        """What lacks, in a line; empty where nothing does."""
        names = tuple(dict.fromkeys(lack.element.value for lack in self.lacks))
        return f"this label lacks: {', '.join(names)}" if names else ""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """The same as problems."""
        lacks = (Problem(f"lacks-{one.element.name.lower()}", _sentence(one)) for one in self.lacks)
        asked = (Problem("sale-question", question) for question in self.questions)
        return (*lacks, *asked, *(Problem("sale-note", note) for note in self.notes))


def check_object(check: LabelCheck) -> dict[str, Any]:
    """A check as data."""
    return {
        "sale": check.sale.kind,
        "sale_assumed": check.sale.assumed,
        "figures": check.sale.figures.value,
        "lacks": [
            {
                "element": one.element.value,
                "message": one.message,
                "paragraph": one.rule.paragraph,
                "reading": one.rule.reading,
            }
            for one in check.lacks
        ],
        "questions": list(check.questions),
        "notes": list(check.notes),
    }


def _sentence(lack: Lack) -> str:
    return f"This label lacks: {lack.element.value}. {lack.message} ({lack.rule.paragraph}; {lack.rule.reading})"
