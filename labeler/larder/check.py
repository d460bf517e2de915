"""What does not agree in a larder food, or should be read again: its bar code, its age, its names and its figures."""

from __future__ import annotations

import datetime

from labeler.foods.user_foods import UserFood
from labeler.larder.complete import complete
from labeler.larder.model import LarderFood
from labeler.types import Problem

__all__ = ["REFUSED", "bar_code_fits", "check_food"]

REFUSED = frozenset({
    "larder-date", "larder-measure", "larder-net", "larder-no-such-like", "panel-basis", "panel-contradiction",
    "panel-figure", "panel-line", "panel-market", "panel-percent", "panel-unit",
})  # fmt: skip
"""Codes of what no package says: a food of which one of these is true was typed wrongly and is not added."""

OLD_DAYS = 365
"""Recipes of packaged foods change without notice; a package read longer ago should be read again. Common practice, no
source."""


def bar_code_fits(code: str) -> bool:
    """Whether a bar code of 8, 12, 13 or 14 digits has the right check digit (GS1 General Specifications, 7.9)."""
    digits = [int(sign) for sign in code if sign.isdigit()]
    if len(digits) not in (8, 12, 13, 14) or len(digits) != len(code.replace(" ", "")):
        return False
    body = digits[-2::-1]
    total = sum(3 * digit if at % 2 == 0 else digit for at, digit in enumerate(body))
    return (10 - total % 10) % 10 == digits[-1]


def check_food(food: LarderFood, *, today: datetime.date) -> tuple[UserFood, tuple[Problem, ...]]:
    """A food completed, with everything about it that the cook should look at.

    Parameters
    ----------
    food : LarderFood
    today : date
        The day against which its age is judged.
    """
    own = complete(food)
    problems = list(own.problems)

    def say(code: str, what: str) -> None:
        problems.append(Problem(code, f"“{food.name}” of the larder {what}.", food.line))

    if food.bar_code and not bar_code_fits(food.bar_code):
        say("larder-bar-code", f"has the bar code {food.bar_code}, whose check digit does not fit; read it again")
    if food.read_on is None:
        say("larder-undated", "does not say when its package was read; write read_on = 2026-03-02")
    elif food.read_on > today:
        say("larder-date", f"was read on {food.read_on.isoformat()}, a day that is still to come")
    elif (today - food.read_on).days > OLD_DAYS:
        say("larder-old", f"was read on {food.read_on.isoformat()}; packages change, so read it again")
    if not food.panel:
        say("larder-no-panel", "has no panel, so all its figures are lent by the food it is like")
    if not food.ingredients:
        say("larder-no-list", "has no ingredient list, so its allergens rest on its name and its statement")
    return own, tuple(problems)
