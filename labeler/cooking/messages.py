"""What a run of the kitchen tells the cook: sentences nobody understood, foods no line lists, parts nothing takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from labeler.cooking.state.ledger import Ledger
from labeler.flow.guards import Guard, GuardKind
from labeler.flow.model import Flow, FromLine, Reading, Unlisted
from labeler.flow.questions import answer_to, asked_of
from labeler.foods.model import WeighedRecipe
from labeler.parsing.instructions.model import Unread
from labeler.parsing.units import plural
from labeler.types import Problem, Severity

__all__ = [
    "guard_problems",
    "left_over",
    "no_such_retention",
    "not_listed",
    "not_read",
    "nothing_left",
    "read_otherwise",
    "too_small",
]

_NOTHING = 0.02  # share of what went in below which no dish is left: common practice, no source


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


def too_small(ledger: Ledger, taken: float) -> Problem:
    """More of a part is taken than the recipe makes of it.

    Parameters
    ----------
    ledger : Ledger
    taken : float
        As a share of what is made, above 1.
    """
    return Problem(
        "part-too-small",
        f"the recipe takes {taken * ledger.grams.best:.0f} g of “{ledger.part}” but makes {ledger.grams.best:.0f} g of "
        "it; the figures count what is taken. Make more of it or take less.",
    )


def no_such_retention(code: str, line: int) -> Problem:
    """A line states a code of the retention table that this does not have."""
    return Problem(
        "no-such-retention",
        f"{code} is no code of the USDA retention table, Release 6; codes have four digits, such as 0805.",
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


def read_otherwise(reading: Reading) -> Problem:
    """A method is not read in the likeliest way where that would empty a main food."""
    choice = reading.choice
    likeliest, taken = choice.options[choice.taken].name, choice.options[reading.option].name
    message = (
        f"{asked_of(choice)} Taken to be: {taken}. Read as “{likeliest}”, a main food would be gone. "
        f"To be sure, write {answer_to(choice)}."
    )
    return Problem("read-otherwise", message, choice.question.span.line)


def not_read(unread: Unread) -> Problem:
    """Words of the method were not understood, or read as a typo of others."""
    if unread.mended:
        message = f"“{unread.text}” is read as “{unread.nearest}”. Write it so if that is meant."
        return Problem("handling-respelled", message, unread.span.line)
    nearest = unread.nearest or "a sentence with a verb"
    message = f"“{unread.text}” is not understood and changes nothing. The nearest that is: {nearest}."
    return Problem("handling-not-read", message, unread.span.line)


def not_listed(title: str, one: Unlisted) -> Problem:
    """The method names a food that no line lists.

    Parameters
    ----------
    title : str
        Of the part; empty where the recipe has but one.
    one : Unlisted
    """
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


_TOLD = 4  # foods of one message


def guard_problems(weighed: WeighedRecipe, flow: Flow, guards: Sequence[Guard]) -> Iterator[Problem]:
    """What guards tell the cook; that a food leaves as the words say is shown, and no problem."""
    for one in guards:
        names = [_food_name(weighed, at, food) for at, food in one.foods]
        foods = ", ".join(names[:_TOLD]) + (f" and {len(names) - _TOLD} more" if len(names) > _TOLD else "")
        node = None if one.node is None else flow.parts[one.part].nodes[one.node]
        step = f"“{node.text or node.why}”: " if node is not None and (node.text or node.why) else ""
        line = one.span.line if one.span is not None else None
        if one.kind is GuardKind.LEAVES and one.severity > Severity.NOTE:
            share = "all" if one.share >= _ALL else f"{100.0 * one.share:.0f} %"
            message = (
                f"{step}as the method is read, this takes {share} of the {foods} out of the dish, and no word says so. "
                f"If that is meant, write “discard the {names[0]}”; else say what is poured off or lifted out, and "
                "what is kept."
            )
            yield Problem("food-leaves-unnamed", message, line, one.severity)
        elif one.kind is GuardKind.NOT_BACK:
            message = (
                f"{step}what is set aside here never comes back, so it is in no figure. Say which step takes it, or "
                "that it is kept for something else."
            )
            yield Problem("portion-not-back", message, line, one.severity)
        elif one.kind is GuardKind.LEFT_OVER:
            message = (
                f"when all that the words take is taken, {one.grams:.0f} g ({foods}) are left over and count in no "
                "figure. Take all of it, or make less, if that is not meant."
            )
            yield Problem("portion-left-over", message, line, one.severity)
        elif one.kind is GuardKind.SERVED:
            message = (
                f"{step}what is poured off here counts as served with the dish. Write “discard the liquid” behind it, "
                "or say which step takes it."
            )
            yield Problem("drained-and-served", message, line, one.severity)
        elif one.kind is GuardKind.NOT_ADDED:
            message = f"no step takes the {foods} that the method names. Write the step as “add the {names[0]}”."
            yield Problem("named-not-taken", message, line, one.severity)
        elif one.kind is GuardKind.OTHER_WAY:
            message = (
                f"the {foods} is needed only for a way to cook it that is not taken, and counts in no figure. Write "
                "only the way that is done."
            )
            yield Problem("other-way", message, line, one.severity)
        elif one.kind is GuardKind.RAW:
            message = (
                f"the {foods} is in the dish as it was put in, and no step that heats something is about it. Name it "
                f"in the step that cooks it: “brown the {names[0]}”, “add the {names[0]} and simmer”."
            )
            yield Problem("raw-in-dish", message, line, one.severity)
        elif one.kind is GuardKind.IN_NO_STEP:
            message = f"no step names the {foods}: served as they are, they count in full. Name them where they go in."
            yield Problem("in-no-step", message, line, one.severity)


_ALL = 0.98


def _food_name(weighed: WeighedRecipe, at: int, food: FromLine) -> str:
    line = weighed.parts[at].lines[food.index]
    line = line.also[food.food - 1] if food.food else line
    return line.line.name or line.line.text
