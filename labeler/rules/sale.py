"""How a food is sold, and what follows for its label and its post: what must stand there, and whether figures do.

The kind of sale and the facts of the business come from the recipe's head or from the call. What is not stated stays
open: the label carries what is asked for in any case, and the question is part of the answer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Any

from labeler.parsing.model import Recipe
from labeler.rules.label_elements import Element
from labeler.rules.market import load_market
from labeler.rules.obligations import Exemption, Obligations, Requirement, obligations, questions
from labeler.types import LabelerError

__all__ = ["ASSUMED", "FiguresShown", "Sale", "known_facts", "number_or_word", "sale_of"]

ASSUMED = "packed ahead"
"""What is taken where the head does not say how a food is sold: a pack that the maker sells asks for most of what any
sale asks for."""

_LOOSE = ("post only", "made to order")
_SHOWN = "nutrition_shown"


class FiguresShown(Enum):
    """Which nutrition figures a label shows."""

    NONE = "none"
    TABLE = "a plain table"
    PANEL = "the market's panel"


@dataclass(frozen=True, slots=True)
class Sale:
    """How a food is sold in a market.

    Parameters
    ----------
    market : str
    kind : str
        One of `labeler.rules.loading.schema.SALES`.
    assumed : bool
        True where nothing says how it is sold and `ASSUMED` was taken.
    facts : mapping
        What is known of the sale and the business.
    obligations : Obligations
    figures : FiguresShown
        Which figures the label shows.
    because : str
        Why these, where that needs saying; else empty.
    """

    market: str
    kind: str
    assumed: bool
    facts: Mapping[str, Any]
    obligations: Obligations
    figures: FiguresShown
    because: str = ""

    @property
    def packed(self) -> bool:
        """Whether the buyer gets it in a pack that was closed before he chose it."""
        return self.kind not in _LOOSE

    def requirement(self, element: Element) -> Requirement | None:
        """What the market asks of one element; None where it has no rule for it."""
        return next((one for one in self.obligations.requirements if one.what is element), None)


def number_or_word(value: Any) -> Any:
    """A fact as typed: yes and no as truth, numbers as numbers, anything else as it stands."""
    if not isinstance(value, str):
        return value
    answer = {"yes": True, "true": True, "no": False, "false": False}.get(value.strip().lower())
    if answer is not None:
        return answer
    try:
        return float(value.replace(",", ""))
    except ValueError:
        return value.strip()


def known_facts(recipe: Recipe, market: str, given: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The facts of the sale that the head of a recipe says, and those that are given, which win over them."""
    head = {key.replace(" ", "_"): number_or_word(value) for key, value in recipe.head.items()}
    return {name: head[name] for name in questions(market) if name in head} | dict(given or {})


def sale_of(
    recipe: Recipe, market: str, *, figures: bool | None = None, facts: Mapping[str, Any] | None = None
) -> Sale:
    """How a recipe is sold, by its head and the facts given.

    Parameters
    ----------
    recipe : Recipe
    market : str
    figures : bool or None
        Whether figures are asked for; None takes the head's `figures`, else what the sale asks for.
    facts : mapping or None
        Facts that win over the head's.

    Raises
    ------
    LabelerError
        For an unknown market, kind of sale or value of a fact.
    """
    place = load_market(market)
    known = known_facts(recipe, market, facts)
    assumed = "sale" not in known
    known.setdefault("sale", ASSUMED)
    if figures is None and "figures" in recipe.head:
        figures = _yes_or_no(recipe.head["figures"])
    silent = obligations(known, market=place)
    if figures and _SHOWN in questions(place):
        known[_SHOWN] = True
    owed = obligations(known, market=place)
    shown, because = _figures(owed, silent, str(known["sale"]), figures)
    return Sale(place.id, str(known["sale"]), assumed, known, owed, shown, because)


def _yes_or_no(value: Any) -> bool:
    answer = number_or_word(value)
    if not isinstance(answer, bool):
        raise LabelerError(f"figures: “{value}” is neither yes nor no")
    return answer


def _figures(owed: Obligations, silent: Obligations, kind: str, asked: bool | None) -> tuple[FiguresShown, str]:
    """Which figures a label shows, and why.

    `silent` is what is owed as long as nothing is shown: an exemption that figures would end is seen there.
    """
    state = owed[Element.NUTRITION].state
    ended = [one for one in silent[Element.NUTRITION].exemptions if _SHOWN in one.rule.data.get("lost_by", ())]
    frees = [one for one in ended if one.state == "applies"]
    may_free = [one for one in ended if one.state == "open"]
    if asked is False:
        return FiguresShown.NONE, ""
    loose = kind in _LOOSE
    if asked:
        cost = f"Figures on label, post or advertisement end the exemption: {_cited(frees)}" if frees else ""
        return (FiguresShown.TABLE if loose else FiguresShown.PANEL), cost
    if state == "mandatory":
        return FiguresShown.PANEL, ""
    if frees and not loose:
        return FiguresShown.NONE, (
            f"No nutrition figures are shown, as they would end the exemption: {_cited(frees)} Ask for them with "
            "“figures: yes” in the head."
        )
    if state == "mandatory unless" and may_free and kind != "to shops" and not loose:
        return FiguresShown.NONE, (
            "No nutrition figures are shown, as they would end an exemption that may free you from the panel; answer "
            "the questions, or ask for figures with “figures: yes” in the head."
        )
    return (FiguresShown.TABLE if loose else FiguresShown.PANEL), ""


def _cited(exemptions: list[Exemption]) -> str:
    one = exemptions[0]
    return f"{one.rule.summary} ({one.rule.paragraph}; {one.rule.reading})"
