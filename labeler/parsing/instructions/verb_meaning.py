"""What the verb of a clause means: its action, whether it is done, and whether a place follows it."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.parsing.instructions.actions import Gathers, Handler, Heat, Takes, Trait, action
from labeler.parsing.instructions.clauses import Clause
from labeler.parsing.instructions.fragments import KEEPS_OUT
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, verb_entries
from labeler.parsing.instructions.model import Mood
from labeler.parsing.instructions.places import is_vessel_phrase
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.standing import Verb

__all__ = ["action_of", "goes_in", "goes_into_place", "mood_of", "removes_next", "without_words"]


def goes_into_place(verb: Verb) -> bool:
    """ "The lamb goes in a bag", "the cod is drawn through the batter": what follows is where it goes."""
    goes = verb.passive or verb.entry.base in grammar("goes verb")
    return goes and verb.entry.rest[-1:] != () and verb.entry.rest[-1] in _GOES_INTO


def goes_in(tokens: Sequence[Token], verb: Verb, name: str, body: Sequence[tuple[int, int]]) -> bool:
    """ "Lower in the bird": what stands right behind "in" is what goes in, unless it is a vessel or lies there."""
    if verb.entry.rest or verb.passive or not verb.opens or not body or body[0][0] != verb.end:
        return False
    row = action(name)
    brings = row.gathers is Gathers.INTO and Trait.JOINS in row.traits and verb.entry.base not in grammar("lies in")
    named = verb.end + 1 < len(tokens) and is_class(tokens[verb.end + 1].text, "determiner", "rest")
    return brings and named and tokens[verb.end].text == "in" and not is_vessel_phrase(tokens, verb.end + 1)


def without_words(runs: Sequence[tuple[int, int]], gap: range | None) -> list[tuple[int, int]]:
    """Token runs without the words of a verb that stand among them ("take the bones *out*")."""
    if gap is None:
        return list(runs)
    found = []
    for start, end in runs:
        if start <= gap.start < end:
            found += [(start, gap.start), (gap.stop, end)]
        else:
            found.append((start, end))
    return found


def action_of(tokens: Sequence[Token], clause: Clause) -> tuple[str, range | None]:
    """The action of a clause, by its verb and the words of it that stand behind the object."""
    verb = clause.verb
    assert verb is not None
    entry = verb.entry
    if verb.silent or (entry.rest and verb.end - verb.at > 1):
        return entry.action, None
    own = tokens[verb.at].text
    for other in verb_entries(own):
        if not other.rest:
            continue
        size = len(other.rest)
        for start, end in clause.body:
            # what stands before the verb is no particle of it: "the rice out of the bowl, and toss"
            for at in range(max(start, verb.at), end - size + 1):
                if tuple(token.text for token in tokens[at : at + size]) != other.rest:
                    continue
                cooks = action(other.action).heat is not Heat.NONE
                if cooks and is_class(other.rest[-1], "vessel-") and at > verb.end:
                    continue  # "boil the oil in a pot" heats no pot
                if is_class(f"{tokens[at - 1].text} {other.rest[0]}", "vessel-"):
                    continue  # "heat the oil in a dutch oven" heats no oven
                if other.rest == ("out",) and at + 1 < end and tokens[at + 1].text == "of":
                    return other.action, None
                between = size == 1 and is_class(other.rest[0], "preposition") and other.rest[0] not in _PARTS
                behind = tokens[at + size].text if at + size < end else ""
                if between and other.rest == ("in",) and verb.entry.base in _COATS:
                    return other.action, None  # "roll it in the crumbs"
                if between and (at == verb.end or (behind and not is_class(behind, "preposition"))):
                    continue  # but "throw the peas in", "add the rice in for the last minute"
                if other.rest == ("off",) and verb.entry.base in _POURS_OFF:
                    return other.action, range(at, at + size)
                apart = at > verb.end or not is_class(behind, "determiner")
                closes = not behind or is_class(behind, "preposition", "adverb", "subordinator")
                if apart and (closes or not behind[0].isalpha()):
                    return other.action, range(at, at + size)
    return entry.action, None


def removes_next(tokens: Sequence[Token], clause: Clause) -> bool:
    """ "Let it cool before lifting the joint out": a removal that something is done before is what is done next."""
    verb = clause.verb
    if verb is None or clause.connective not in grammar("then removed"):
        return False
    said = [tokens[at].text for run in clause.subject for at in range(*run)]
    by_cook = verb.entry.form is WordForm.BASE and bool(said) and said[-1] in grammar("persons")  # "before you bin it"
    if verb.entry.form is not WordForm.ING and not by_cook:
        return False
    row = action(action_of(tokens, clause)[0])
    named = (tokens[at].text for run in clause.body[:1] for at in range(*run))
    first = next((word for word in named if not is_class(word, "adverb")), "")
    if row.handler is Handler.LIFT and (not first or is_class(first, "preposition")):
        return False  # "before taking from the tin": nothing is parted
    return (verb.opens or by_cook) and not verb.negated and row.takes is not Takes.NOTHING


def mood_of(tokens: Sequence[Token], clause: Clause) -> Mood:
    verb = clause.verb
    assert verb is not None
    if verb.silent and action(verb.entry.action).handler is Handler.LEFT:
        return Mood.SAYS
    if verb.negated:
        return Mood.DO if verb.entry.base in KEEPS_OUT else Mood.NOT
    first = max(clause.start, verb.at - 4)
    near = [token.text for token in tokens[first : verb.at]]
    if any(is_class(word, "modal-may") for word in near):
        # "The skins can be binned": what is of no use is thrown away.
        thrown = verb.passive and action(verb.entry.action).handler is Handler.DISCARD
        return Mood.DO if thrown and not clause.connective else Mood.MAY
    if any(word in _SAYS for word in near) and not verb.opens:
        return Mood.SAYS
    if verb.passive and near and near[-1] in _PERFECT and not any(word in _PERSONS for word in near):
        return Mood.SAYS  # "enough gluten has formed"
    return Mood.DO


_GOES_INTO = grammar("goes into")
_COATS = grammar("coats in")
_POURS_OFF = grammar("pours off")
_PARTS = grammar("parts")
_SAYS = grammar("says")
_PERFECT, _PERSONS = grammar("perfect"), grammar("persons")
