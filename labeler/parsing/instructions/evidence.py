"""What subordinate clauses and participles say of their instruction: ends, times, manner, conditions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.parsing.instructions.actions import Gathers, Handler, Heat, Trait, action, has
from labeler.parsing.instructions.clauses import Clause, ClauseKind
from labeler.parsing.instructions.figures import FoundFigures, find_quantities
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class, mark_patterns
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Mood, Role
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.vessels import with_pots_so_called
from labeler.text.plurals import singular
from labeler.types import Interval

__all__ = [
    "awaits_removal",
    "called_by_purpose",
    "condition_of",
    "heat_in_evidence",
    "is_amount_of_food",
    "is_only_beside",
    "marks_in",
    "mood_of_condition",
    "only_manner",
    "own_words_of",
    "with_evidence",
    "with_manner",
    "words_of",
]


def only_manner(made: Instruction) -> bool:
    """Whether a participle only tells how the instruction before it is done: ", stirring often", ", turning once"."""
    row = action(made.action)
    return row.handler is Handler.NONE and not any(
        one.role in (Role.OBJECT, Role.WITH) and not _empty(one) for one in made.mentions
    )


def is_only_beside(made: Instruction, clause: Clause) -> bool:
    """Whether a clause of purpose or of an end belongs to what stands before this act: "fry, stirring, until brown"."""
    ends = clause.kind is ClauseKind.UNTIL and clause.verb is not None
    return made.adjunct and action(made.action).heat is Heat.NONE and (ends or clause.kind is ClauseKind.PURPOSE)


def _empty(one: Mention) -> bool:
    return is_class(one.name, "pronoun", "tool", "everything", "mixture") or is_class(
        head_of(one.name), "tool", "vessel-"
    )


def with_manner(one: Instruction, manner: Instruction) -> Instruction:
    return replace(
        one,
        text=f"{one.text}, {manner.text}",
        minutes=one.minutes or manner.minutes,
        core=one.core or manner.core,
        grams=one.grams or manner.grams,
        share=one.share or manner.share,
        marks=one.marks | (manner.marks - {Mark.EACH, Mark.BACK}),
    )


_OFFERS = grammar("offers")
_REDUCES = grammar("reduces")
_A_DAY = 1440.0
"""Minutes: "two days later" tells of no heat, which nobody keeps up so long."""


def condition_of(text: str, tokens: Sequence[Token], clause: Clause) -> str:
    return text[tokens[clause.start].start : tokens[clause.end - 1].end].lower() if clause.end > clause.start else ""


def mood_of_condition(condition: str) -> Mood:
    """ "If you like" offers, and what is offered is taken; "if too thick" corrects, and is not done."""
    return Mood.MAY if any(word in _OFFERS for word in condition.replace(",", " ").split()) else Mood.IF


def with_evidence(
    one: Instruction, text: str, tokens: Sequence[Token], clause: Clause, market: str, *, lead: bool
) -> Instruction:
    """An instruction with what a subordinate clause says of how it ends."""
    words = words_of(text, tokens, clause)
    found = find_quantities(words, market=market)
    marks = marks_in(words)
    if clause.kind is ClauseKind.PURPOSE or (clause.kind is ClauseKind.ASIDE):
        marks &= {Mark.FOR_LATER, Mark.THROWN_AWAY, Mark.IN_ITS_LIQUID}
    if clause.kind is ClauseKind.WHEN:
        marks -= {
            Mark.TO_THE_BOIL,
            Mark.TO_THE_SIMMER,
            Mark.BACK,
            Mark.KEPT,
            Mark.THROWN_AWAY,
            Mark.IN_OVEN,
            Mark.OFF_HEAT,
        }
    heats = action(one.action).heat is not Heat.NONE
    share = found.share if clause.kind is ClauseKind.UNTIL or lead else None
    said = action(clause.verb.entry.action).handler if clause.verb is not None else Handler.NONE
    settles = said in (Handler.LOSE, Handler.REDUCE, Handler.DRY)
    if share is not None and not settles and not any(word in words.lower() for word in _REDUCES):
        share = None
    minutes = one.minutes
    days_later = lead and heats and found.minutes is not None and found.minutes.best >= _A_DAY
    if (
        found.minutes is not None
        and not days_later
        and (heats or action(one.action).handler is Handler.LIE or action(one.action).heat is Heat.NONE)
    ):
        minutes = found.minutes if minutes is None else minutes
    name = one.action
    if has(name, Trait.WARMS) and minutes is not None and Mark.TO_THE_SIMMER in one.marks:
        name = "simmer"
    elif has(name, Trait.WARMS) and minutes is not None and Mark.TO_THE_BOIL in one.marks:
        name = "boil"
    return replace(
        one,
        action=name,
        text=f"{one.text} {words}".strip() if not lead else one.text,
        minutes=minutes,
        core=one.core
        or found.core
        or (
            found.celsius
            if heats and found.celsius is not None and found.celsius.best < 105.0 and clause.kind is ClauseKind.UNTIL
            else None
        ),
        grams=one.grams or (found.grams if clause.kind is ClauseKind.UNTIL else None),
        millilitres=one.millilitres
        or (_boils_down_to(found) if clause.kind is ClauseKind.UNTIL and action(one.action).heat is Heat.WET else None),
        share=one.share or share,
        marks=one.marks | (marks - {Mark.STIRRED, Mark.EACH, Mark.LIGHTLY, Mark.BACK, Mark.KEPT}),
    )


_SAMPLE = 20.0  # mL up to which a volume is a test of the pot, and not what it boils down to: a choice, no source


def _boils_down_to(found: FoundFigures) -> Interval | None:
    """The volume that a pot is boiled down to: "until 500 ml are left"; a drop or a spoon on a cold plate is none."""
    volume = found.millilitres
    return volume if volume is not None and volume.best > _SAMPLE else None


def heat_in_evidence(one: Instruction, clause: Clause) -> Instruction | None:
    """ "Whisk until it has bubbled for 5 minutes": an end that only heat brings, with a time, is heat."""
    verb = clause.verb
    if verb is None or clause.kind is not ClauseKind.UNTIL or one.minutes is None:
        return None
    if action(one.action).handler is not Handler.NONE or action(verb.entry.action).heat is not Heat.WET:
        return None
    return Instruction(verb.entry.action, one.text, one.span, minutes=one.minutes, marks=one.marks, adjunct=True)


def awaits_removal(tokens: Sequence[Token], clause: Clause) -> bool:
    """ "Chill until the fat can be lifted off": what is waited for so that it can be taken away is taken away."""
    verb = clause.verb
    if verb is None or clause.kind is not ClauseKind.UNTIL or not verb.passive:
        return False
    row = action(verb.entry.action)
    before = [token.text for run in clause.subject for token in tokens[run[0] : run[1]]]
    removes = row.handler is Handler.SKIM or row.gathers is Gathers.OUT
    no_food = any(is_class(word, "byproduct-fat", "waste") for word in before)  # a leaf that comes out is only a test
    return removes and no_food and any(is_class(word, "modal-may") for word in before)


def words_of(text: str, tokens: Sequence[Token], clause: Clause) -> str:
    runs = [*clause.subject, *clause.body, *clause.evidence, (clause.start, clause.end)]
    first, last = min(run[0] for run in runs), max(run[1] for run in runs)
    return text[tokens[first].start : tokens[min(last, len(tokens)) - 1].end] if last > first else ""


def called_by_purpose(one: Instruction, tokens: Sequence[Token], clause: Clause) -> Instruction:
    """ "Whisk the eggs and milk to make a wash", "keep it, that's your sauce": it is called so from now on."""
    makes = clause.kind is ClauseKind.PURPOSE and clause.verb is not None and clause.verb.entry.base in grammar("forms")
    made = makes and action(one.action).gathers is Gathers.NEW
    says = clause.connective in grammar("says what it is") and clause.verb is None
    if not made and not (says and action(one.action).handler is Handler.KEEP):
        return one
    said = [singular(tokens[at].text) for run in clause.body for at in range(*run)]
    thing = next((word for word in reversed(said) if is_class(word, "product")), "")
    return replace(one, names=one.names or thing)


def own_words_of(text: str, tokens: Sequence[Token], clause: Clause) -> str:
    """The words of a clause without those of others that stand between them."""
    runs = sorted({*clause.subject, *clause.body, *clause.evidence})
    verb = clause.verb
    if verb is not None:
        runs = sorted({*runs, (verb.at, verb.end)})
    if clause.connective:
        runs = sorted({*runs, (clause.start, clause.start + 1)})
    words, behind = "", None
    for first, last in runs:
        if last > first:
            between = text[behind : tokens[first].start].strip() if behind is not None else ""
            joint = text[behind : tokens[first].start] if between == "(" or between == ")" else " "
            words += (joint if words else "") + text[tokens[first].start : tokens[last - 1].end]
            behind = tokens[last - 1].end
    return words.replace(", ", " ")


def marks_in(words: str) -> frozenset[Mark]:
    places = with_pots_so_called(words)
    found = frozenset(Mark(name) for name, pattern in mark_patterns() if pattern.search(places))
    return found - {Mark.COVERED} if Mark.UNCOVERED in found else found  # "without a lid" names a lid too


def is_amount_of_food(name: str, mentions: Sequence[Mention], found: FoundFigures) -> bool:
    """Whether the amount of a deed of heat is that of a food that it names, and not what is boiled down to."""
    if action(name).heat is Heat.NONE or action(name).handler is Handler.REDUCE:
        return False
    return any(
        one.quantity.extent is Extent.AMOUNT
        and (one.quantity.grams or one.quantity.millilitres) in (found.grams, found.millilitres)
        for one in mentions
    )
