"""A sentence of the method into clauses: what is done, by what form of words, and what belongs to it.

A clause is a main one ("fold the rice in"), a participle that goes with it ("stirring often", "letting the excess drip
off"), one that says what was done to a food before ("the rice, boiled and drained"), or a subordinate one, which is
evidence and no act ("until it bubbles", "when the juices run clear").
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import Enum

from labeler.parsing.instructions.actions import Takes, action
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, verb_entries
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.standing import Verb
from labeler.text.plurals import singular

__all__ = ["Clause", "ClauseKind", "Piece", "clauses_of"]


class ClauseKind(Enum):
    """What a clause is."""

    MAIN = "main"
    ADJUNCT = "adjunct"
    REDUCED = "reduced"  # what was done to the food before it: ", boiled for 10 minutes"
    PURPOSE = "purpose"  # "to steam dry"
    UNTIL = "until"
    WHILE = "while"
    WHEN = "when"
    IF = "if"
    ASIDE = "aside"  # why, or where: no act


@dataclass
class Piece:
    """A run of tokens between two boundaries: places of its first and behind-last token."""

    start: int
    end: int
    verb: Verb | None = None
    connective: str = ""
    bracket: bool = False
    conjunction: str = ""
    lasts: bool = False  # "as long as you can wait": how long, and not what else goes on
    let_end: int = 0  # behind "let", where something else is what happens: "let it bubble"
    early: int | None = None  # where the time begins that tells how early: "a minute before the packet says"


@dataclass
class Clause:
    """One clause: its verb, and the token runs that belong to it."""

    kind: ClauseKind
    verb: Verb | None
    start: int
    end: int
    subject: list[tuple[int, int]] = field(default_factory=list)
    body: list[tuple[int, int]] = field(default_factory=list)
    evidence: list[tuple[int, int]] = field(default_factory=list)
    connective: str = ""
    conjunction: str = ""
    bracket: bool = False
    early: int | None = None  # where the time begins that tells how early: "a minute before the packet says"


_PUNCTUATION = grammar("mark")
_BREAKS = grammar("breaks off")
_KINDS = {
    word: kind
    for name, kind in (
        ("until", ClauseKind.UNTIL),
        ("while", ClauseKind.WHILE),
        ("when", ClauseKind.WHEN),
        ("if", ClauseKind.IF),
        ("aside", ClauseKind.ASIDE),
    )
    for word in grammar(name)
} | dict.fromkeys(grammar("tells of it"), ClauseKind.ASIDE)
_SETS_OUT = grammar("sets out")
_LETS = grammar("lets")
_JOINS = grammar("conjunction")
_OPENS_CLAUSE = grammar("opens clause")
_BEFORE_OR_AFTER = grammar("before or after")
_STANDS_ALONE = grammar("stands alone")
_ONCE_ALONE = grammar("once alone")
_STATES = grammar("states")


def _is_subordinator(tokens: Sequence[Token], at: int, verbs: Sequence[Verb]) -> bool:
    word = tokens[at].text
    if word not in _KINDS:
        return False
    following = tokens[at + 1].text if at + 1 < len(tokens) else ""
    ahead = tokens[at - 1].text if at else ""
    if word == "as":
        return following in ("soon", "long") or (
            (is_class(following, "determiner", "pronoun") or following == "you")
            and any(verb.at > at and verb.at - at <= 6 and not verb.opens for verb in verbs)
        )
    if word == "so":
        return following == "that" or is_class(following, "determiner", "pronoun") or following in grammar("persons")
    if word == "that":
        return ahead not in _KINDS and at > 0 and any(verb.at == at + 1 for verb in verbs)
    if word in _BEFORE_OR_AFTER:
        return following not in _STANDS_ALONE
    if word == "once":
        return following not in _ONCE_ALONE and not is_class(ahead, "aux")
    if word in ("where", "that's"):
        return at > 0
    if word in grammar("tells of it"):
        return ahead in _BREAKS
    return True


def _cuts(tokens: Sequence[Token], verbs: Sequence[Verb]) -> list[Piece]:
    """The pieces of a sentence, each with its verb, if it has one."""
    by_place = {verb.at: verb for verb in verbs}
    pieces: list[Piece] = []
    current = Piece(0, 0)
    depth = 0

    def close(end: int) -> None:
        current.end = end
        if current.end > current.start:
            pieces.append(current)

    at = 0
    while at < len(tokens):
        word = tokens[at].text
        if word in _PUNCTUATION and not (word == "." and at + 1 < len(tokens)):
            close(at)
            depth += (word == "(") - (word == ")")
            current = Piece(at + 1, at + 1, bracket=depth > 0)
            at += 1
            continue
        if _is_subordinator(tokens, at, verbs):
            close(early := _without_how_early(tokens, current, at))
            lasts = tokens[at + 1].text == "long" if word == "as" and at + 1 < len(tokens) else False
            current = Piece(at, at, connective=word, bracket=depth > 0, lasts=lasts, early=early)
            at += 3 if lasts else 1
            continue
        if word in _JOINS and current.verb is not None and _another_passive(tokens, verbs, at):
            close(at)
            current = Piece(at + 1, at + 1, conjunction=word, bracket=depth > 0)
            at += 1
            continue
        opener = word in _OPENS_CLAUSE
        ahead = at + 1
        while (
            opener
            and ahead < len(tokens)
            and ahead not in by_place
            and (
                is_class(tokens[ahead].text, "adverb")
                or tokens[ahead].text.endswith("ly")
                or tokens[ahead].text == "then"
            )
        ):
            ahead += 1
        if opener and ahead in by_place and (by_place[ahead].infinitive if word == "to" else by_place[ahead].opens):
            close(at)
            current = Piece(at, at, conjunction=word, bracket=depth > 0)
            at += 1
            continue
        if word == "then" and current.verb is not None and at > current.verb.at:
            close(at)
            current = Piece(at + 1, at + 1, conjunction="then", bracket=depth > 0)
            at += 1
            continue
        verb = by_place.get(at)
        if verb is not None:
            if (
                (current.verb is not None and not verb.after_let and not verb.passive and not (verb.infinitive))
                or (
                    current.verb is None
                    and not verb.passive
                    and not verb.opens
                    and current.end == 0
                    and not verb.after_let
                    and (
                        verb.entry.form is WordForm.BASE
                        and at > current.start
                        and not current.connective
                        and _fronts(tokens, current.start)
                    )
                )
                or (current.connective and current.verb is not None)
                or (verb.entry.form is WordForm.BASE and not verb.infinitive and _tells_a_state(tokens, current, at))
            ):
                close(at)
                current = Piece(at, at, bracket=depth > 0)
            if current.verb is None:
                current.verb = verb
            elif verb.after_let or current.verb.entry.base in _LETS:
                current.let_end = current.verb.end
                current.verb = replace(verb, negated=verb.negated or current.verb.negated)  # "do not let it boil"
            at = max(verb.end, at + 1)
            continue
        at += 1
    close(len(tokens))
    return pieces


def _without_how_early(tokens: Sequence[Token], piece: Piece, at: int) -> int:
    """Where a removal ends before a time that tells how early it is done: "drain | a minute before the packet says"."""
    verb = piece.verb
    if tokens[at].text != "before" or verb is None or at <= verb.end:
        return at
    row = action(verb.entry.action)
    if row.takes is Takes.NOTHING or singular(tokens[at - 1].text) not in grammar("short time"):
        return at
    end = at - 1
    while end > verb.end and (tokens[end - 1].text[0].isdigit() or tokens[end - 1].text in _HOW_LONG):
        end -= 1
    return end


_HOW_LONG = grammar("begins time") | grammar("few") | frozenset("-")


def _tells_a_state(tokens: Sequence[Token], piece: Piece, at: int) -> bool:
    """Whether what a subordinator opens is whole before a verb: "while they're warm | dress", "once cool | peel"."""
    inside = [token.text for token in tokens[piece.start + 1 : at]]
    if not piece.connective or piece.verb is not None or not inside or is_class(inside[-1], "pronoun"):
        return False
    if any(is_class(word, "aux") or word.endswith(("'re", "'s")) for word in inside):
        return not is_class(inside[-1], "aux", "adverb") and not any(is_class(word, "modal-may") for word in inside)
    return all(is_class(word, "adverb") or word in _STATES for word in inside) and inside[-1] in _STATES


def _another_passive(tokens: Sequence[Token], verbs: Sequence[Verb], at: int) -> bool:
    """Whether a passive with its own auxiliary follows a conjunction: "is heated *and* is poured over"."""
    following = next((verb for verb in verbs if verb.at > at), None)
    if following is None or not following.passive or following.opens:
        return False
    between = [token.text for token in tokens[at + 1 : following.at]]
    return not any(word in _JOINS or word in _PUNCTUATION or word in _KINDS for word in between)


def _fronts(tokens: Sequence[Token], at: int) -> bool:
    word = tokens[at].text
    return is_class(word, "preposition", "time-lead", "adverb") or word.endswith("ly")


def clauses_of(tokens: Sequence[Token], verbs: Sequence[Verb]) -> list[Clause]:
    """The clauses of a sentence, in order; every token is in one of them or is a mark between two."""
    clauses: list[Clause] = []
    waiting: list[Piece] = []  # pieces without a verb that belong to what follows
    for at, piece in enumerate(pieces := _cuts(tokens, verbs)):
        verb = piece.verb
        kind = _kind(tokens, piece, clauses, waiting)
        again = next(
            (one.verb for one in reversed(clauses) if one.kind is ClauseKind.MAIN and one.verb is not None), None
        )
        then = piece.start + (tokens[piece.start].text == "then" and _names(tokens, piece.start + 1))
        if verb is None and (piece.conjunction == "then" or then > piece.start) and again is not None:
            # "Beat the butter and sugar, then the eggs": the same is done again; "simmer 10 minutes, then the rice": it
            # is added, as nothing was named before.
            said = _same_or_add(tokens, again, clauses)
            clauses.append(
                Clause(ClauseKind.MAIN, said, piece.start, piece.end, body=[(then, piece.end)], conjunction="then")
            )
            continue
        if verb is None and kind is None:
            later = next(
                (one for one in pieces[at + 1 :] if one.verb is not None and not one.connective and not one.bracket),
                None,
            )
            subject_follows = (
                later is not None
                and later.verb is not None
                and not later.verb.opens
                and not later.bracket
                and (later.verb.at > later.start or later.verb.passive)
            )
            first = (
                not clauses
                or clauses[-1].kind in (ClauseKind.WHEN, ClauseKind.WHILE, ClauseKind.IF)
                or (subject_follows and not any(c.kind is ClauseKind.MAIN for c in clauses))
            )
            if first and not piece.bracket:
                waiting.append(piece)
            elif clauses:
                target = clauses[-1]
                (target.evidence if target.kind is ClauseKind.UNTIL else target.body).append((piece.start, piece.end))
                target.end = max(target.end, piece.end)
            else:
                waiting.append(piece)
            continue
        kind = kind or ClauseKind.MAIN
        clause = Clause(
            kind,
            verb,
            piece.start,
            piece.end,
            connective=piece.connective,
            conjunction=piece.conjunction,
            bracket=piece.bracket,
            early=piece.early,
        )
        if verb is None:
            clause.body.append((piece.start, piece.end))
        else:
            before = (max(piece.start + bool(piece.connective), piece.let_end), verb.at)
            if before[1] > before[0]:
                (clause.subject if not verb.opens else clause.evidence).append(before)
            clause.body.append((verb.end, piece.end))
        if waiting and kind is ClauseKind.REDUCED:
            clause.subject += [(one.start, one.end) for one in waiting]
        elif waiting and kind in (ClauseKind.MAIN, ClauseKind.ADJUNCT):
            takes = not verb.opens if verb is not None else False
            (clause.subject if takes else clause.body)[:0] = [(one.start, one.end) for one in waiting]
            clause.start = min(clause.start, waiting[0].start)
            waiting = []
        clauses.append(clause)
    if waiting:
        clauses.append(
            Clause(
                ClauseKind.ASIDE,
                None,
                waiting[0].start,
                waiting[-1].end,
                body=[(one.start, one.end) for one in waiting],
            )
        )
    return clauses


def _names(tokens: Sequence[Token], at: int) -> bool:
    """Whether a thing follows, and no place or time: "then the eggs", but "then in the egg", "then 1 hour"."""
    return at < len(tokens) and is_class(tokens[at].text, "determiner")


def _same_or_add(tokens: Sequence[Token], again: Verb, clauses: Sequence[Clause]) -> Verb:
    """The verb of "then the rice": the one before where that has an object of its own, else "add"."""
    before = next(one for one in reversed(clauses) if one.verb is again)
    words = [token.text for run in before.body for token in tokens[run[0] : run[1]]]
    first = next(iter(words), "")
    named = first.isalpha() and not is_class(first, "preposition", "adverb", "subordinator", "time-lead")
    if named or (before.subject and again.passive):
        return again
    return replace(again, entry=next(one for one in verb_entries("add") if not one.rest))


def _only_remarks(words: Sequence[Token]) -> bool:
    """Whether a piece says what something is, and nothing is done: ", it's been with raw chicken", ", they are hot"."""
    first, behind = words[0].text, words[1].text if len(words) > 1 else ""
    person, sign, _ = first.partition("'")
    return is_class(person, "pronoun") and bool(sign or is_class(behind, "aux"))


def _kind(
    tokens: Sequence[Token], piece: Piece, clauses: Sequence[Clause], waiting: Sequence[Piece]
) -> ClauseKind | None:
    """What kind of clause a piece opens; None where it opens none."""
    verb = piece.verb
    if piece.connective:
        return ClauseKind.UNTIL if piece.lasts else _KINDS[piece.connective]
    if verb is None:
        denies = piece.bracket and tokens[piece.start].text in grammar("negates")  # "(not overnight, it dries them)"
        remarks = denies or _only_remarks(tokens[piece.start : piece.end])
        return ClauseKind.ASIDE if clauses and remarks else None
    if piece.conjunction == "to" or verb.infinitive:
        last = clauses[-1].verb if clauses else None
        return ClauseKind.ADJUNCT if last is not None and last.entry.base in _SETS_OUT else ClauseKind.PURPOSE
    if verb.passive and verb.opens:
        # "Marinated overnight and drained": where nothing stands before it that it could tell of, it is a deed.
        alone = all(one.kind is ClauseKind.MAIN and one.verb is not None and one.verb.passive for one in clauses)
        return ClauseKind.MAIN if alone and not piece.bracket and not waiting else ClauseKind.REDUCED
    if verb.entry.form is WordForm.ING and verb.opens and not verb.negated:
        return ClauseKind.ADJUNCT
    if (
        piece.conjunction
        and clauses
        and clauses[-1].kind in (ClauseKind.UNTIL, ClauseKind.WHILE, ClauseKind.WHEN, ClauseKind.IF)
        and not verb.opens
    ):
        return clauses[-1].kind
    return ClauseKind.MAIN
