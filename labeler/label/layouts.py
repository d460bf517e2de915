"""The layouts by name: what each is for, how it is composed, and how it says what size it needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from types import MappingProxyType

from labeler.label.blocks import Style
from labeler.label.card import CARD
from labeler.label.content import LabelContent
from labeler.label.fitting import Fitted, fit, needed
from labeler.label.jar_wrap import WRAP, compose_wrap
from labeler.label.table_signs import SIGN_TEXT, STRIP, compose_tent, needed_tent

__all__ = ["LAYOUTS", "Layout"]


@dataclass(frozen=True, slots=True)
class Layout:
    """One layout.

    Parameters
    ----------
    says : str
        What it is for, in a line.
    compose : callable
        (content, width, height, style, least=, most=) to the fitted label, or None; lengths in points.
    needed : callable
        (content, width, height, style, least=) to the size that would hold it [pt].
    panel : float
        Share of the page that counts as its principal panel, which settles the height of the net quantity. A wrap's
        is 40 % of height by circumference: 21 CFR 101.1(b).
    bleeds : bool
        Whether a ground colour may run over the trimmed edge.
    label : bool
        Whether it goes on the food; a sign does not, and need not say what a label must.
    """

    says: str
    compose: Callable[..., Fitted | None]
    needed: Callable[[LabelContent, float, float, Style, float], tuple[float, float]]
    panel: float = 1.0
    bleeds: bool = False
    label: bool = True


def _needed(plan: object) -> Callable[[LabelContent, float, float, Style, float], tuple[float, float]]:
    def call(content: LabelContent, width: float, height: float, style: Style, least: float) -> tuple[float, float]:
        return needed(plan, content, width, height, style, least=least)  # type: ignore[arg-type]

    return call


def _tent(content: LabelContent, width: float, height: float, style: Style, least: float) -> tuple[float, float]:
    return needed_tent(content, width, height, style, least=least)


def _strip(
    content: LabelContent, width: float, height: float, style: Style, *, least: float, most: float
) -> Fitted | None:
    return fit(STRIP, content, width, height, style, least=least, most=most * SIGN_TEXT)


LAYOUTS: Mapping[str, Layout] = MappingProxyType(
    {
        "card": Layout("everything on one side, for a jar or the table", partial(fit, CARD), _needed(CARD)),
        "wrap": Layout("round a jar, the front in the middle", compose_wrap, _needed(WRAP), panel=0.4, bleeds=True),
        "tent": Layout(
            "folded to stand on the table: a sign in front, the card behind", compose_tent, _tent, panel=0.5
        ),
        "strip": Layout("along a shelf: what it is and what people must know", _strip, _needed(STRIP), label=False),
    }
)
