"""What a run of the kitchen tells the cook: sentences nobody understood, foods no line lists, parts nothing takes."""

from __future__ import annotations

from labeler.cooking.state.ledger import Ledger
from labeler.flow.model import Unlisted
from labeler.parsing.instructions.model import Unread
from labeler.parsing.units import plural
from labeler.types import Problem, Severity

__all__ = ["left_over", "not_listed", "not_read", "nothing_left"]

_NOTHING = 0.005  # share of what went in below which no dish is left: common practice, no source


def left_over(ledger: Ledger, taken: float, *, line: int | None) -> Problem:
    """What is made and not taken is said: it is in no figure."""
    made, over = ledger.grams.best, (1.0 - taken) * ledger.grams.best
    pieces = ""
    if ledger.pieces is not None:
        unit = ledger.pieces.unit or "piece"
        pieces = f", {taken * ledger.pieces.number:.3g} of {ledger.pieces.number:g} {plural(unit)}"
    return Problem(
        "part-left-over",
        f"the recipe makes {made:.0f} g of “{ledger.part}” and takes {taken * made:.0f} g{pieces}; {over:.0f} g are "
        "left over and count in no figure. Take all of it, or make less, if that is not meant.",
        line,
    )


def nothing_left(put_in: float, kept: float) -> tuple[Problem, ...]:
    """A dish of which nothing is left was misread: no label or post is made of it."""
    if put_in <= 0.0 or kept >= _NOTHING * put_in:
        return ()
    message = (
        f"{put_in:.0f} g went in and {kept:.0f} g are left in the dish, as the method is read. Say what is poured off "
        "or thrown away, and what is kept."
    )
    return (Problem("nothing-left", message, severity=Severity.REFUSE),)


def not_read(unread: Unread) -> Problem:
    if unread.mended:
        message = f"“{unread.text}” is read as “{unread.nearest}”. Write it so if that is meant."
        return Problem("handling-respelled", message, unread.span.line)
    nearest = unread.nearest or "a sentence with a verb"
    message = f"“{unread.text}” is not understood and changes nothing. The nearest that is: {nearest}."
    return Problem("handling-not-read", message, unread.span.line)


def not_listed(title: str, one: Unlisted) -> Problem:
    counts = (
        "it counts nothing and the figures are at least that"
        if one.grams is None
        else f"{one.grams.best:.3g} g ({one.grams.low:.3g}–{one.grams.high:.3g}) are counted"
    )
    where = f"“{title}”" if title else "the recipe"
    message = (
        f"the method names “{one.name}”, which is not among the lines of {where}: {counts}. Write a line for it, such "
        f"as “- 100 g {one.name}”."
    )
    return Problem("not-among-lines", message, one.span.line)
