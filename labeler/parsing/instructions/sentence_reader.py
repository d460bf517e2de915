"""The clauses of a sentence, in order, into the instructions of its paragraph.

A clause is an instruction, or evidence of one: an end, a time, a condition, a purpose, an aside. Nothing else happens
to a word, so that every word of the method stands in an instruction, in evidence or in what is told as unread.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.clause_instruction import Sentence, instruction_of
from labeler.parsing.instructions.clauses import Clause, ClauseKind
from labeler.parsing.instructions.conditions import bears_on_what_follows, under_condition
from labeler.parsing.instructions.evidence import (
    awaits_removal,
    called_by_purpose,
    condition_of,
    heat_in_evidence,
    is_only_beside,
    mood_of_condition,
    only_manner,
    with_evidence,
    with_manner,
)
from labeler.parsing.instructions.fragments import fragment
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class
from labeler.parsing.instructions.model import Instruction, Mention, Mood, Role, Span, Unread
from labeler.parsing.instructions.objects import (
    awaited_in,
    drained_there,
    kept_back,
    pressed,
    presses,
    share_objects,
    taken_over,
    thrown_leftovers,
    thrown_when_out,
    title_of,
    told_of,
    used_for,
    with_awaited,
    with_share_used,
    with_verb_food,
)
from labeler.parsing.instructions.settle import stirred_into_hot
from labeler.parsing.instructions.verb_meaning import removes_next

__all__ = ["SentenceReader"]


class SentenceReader:
    """Reads one sentence behind those of its paragraph that were read before.

    Parameters
    ----------
    sentence : Sentence
    instructions, unread, evidence : list
        What the paragraph gave so far; what the sentence gives is added, and the last instruction may learn from it.
    """

    def __init__(
        self, sentence: Sentence, instructions: list[Instruction], unread: list[Unread], evidence: list[Span]
    ) -> None:
        self._sentence = sentence
        self._text, self._tokens, self._market = sentence.text, sentence.tokens, sentence.market
        self._instructions, self._unread, self._evidence = instructions, unread, evidence
        self._before = len(instructions)
        self._parallel = any(is_class(token.text, "time-lead") for token in self._tokens[:3])
        self._condition: str | None = None
        self._chain: Mention | None = None  # the food that participles behind each other tell of
        self._chain_at = 0
        self._title = ""
        self._awaited: tuple[Mention, ...] = ()  # what a clause waits for: "when the pasta is done, drain"
        self._fronted: list[int] = []  # participles before their food: "Drained and rinsed, the beans go in"

    def read(self, clauses: Sequence[Clause]) -> None:
        """Read the clauses of the sentence."""
        for clause in clauses:
            if self._is_evidence(clause, last=clause is clauses[-1]) or not self._is_done(clause):
                self._evidence.append(self._sentence.span(clause))

    @property
    def _any(self) -> bool:
        """Whether the sentence gave an instruction by now."""
        return len(self._instructions) > self._before

    def _is_evidence(self, clause: Clause, *, last: bool) -> bool:
        """Read a clause that is no act; False where it may be one."""
        if clause.kind is ClauseKind.IF:
            self._read_condition(clause, last=last)
            return True
        if clause.kind is ClauseKind.PURPOSE and self._read_use(clause):
            return True
        if clause.kind is ClauseKind.WHEN and not self._any:
            self._awaited = awaited_in(self._text, self._tokens, clause, self._market)
        if clause.kind in _TELLS:
            self._read_evidence(clause)
            return True
        beside = clause.kind is ClauseKind.WHILE and (self._goes_on(clause) or not _heats(clause))
        self._parallel |= beside and not self._any and _time_passes(clause)
        return beside

    def _read_condition(self, clause: Clause, *, last: bool) -> None:
        """A condition bears on the instruction before it, or waits for the one that follows."""
        self._condition = condition_of(self._text, self._tokens, clause)
        if self._any and (last or not bears_on_what_follows(self._tokens, clause)):
            self._instructions[-1] = under_condition(
                self._instructions[-1], self._condition, self._text, self._tokens, clause, self._market
            )
            self._condition = None

    def _read_use(self, clause: Clause) -> bool:
        """A purpose may be what is done: "use the oil to fry the onion"."""
        if not self._any or clause.verb is None:
            return False
        deed = instruction_of(self._sentence, clause, self._unread)
        used = used_for(self._instructions[-1], deed) if deed is not None else None
        if used is None:
            return False
        both = replace(used.span, start=self._instructions[-1].span.start)
        self._instructions[-1] = replace(used, span=both)
        return True

    def _read_evidence(self, clause: Clause) -> None:
        """What a subordinate clause tells of the instruction that it stands beside: its end, its heat, its time."""
        if not self._any and not (clause.kind is ClauseKind.WHEN and self._instructions):
            if clause.kind is ClauseKind.ASIDE and clause.verb is None:
                fragment(self._text, self._tokens, clause, self._market, self._instructions, self._unread)
            return
        lead = not self._any
        at = len(self._instructions) - 1
        while at > self._before and is_only_beside(self._instructions[at], clause):
            at -= 1
        one = with_evidence(self._instructions[at], self._text, self._tokens, clause, self._market, lead=lead)
        one = called_by_purpose(one, self._tokens, clause)
        self._instructions[at] = one
        if not lead and (heated := heat_in_evidence(one, clause)) is not None:
            self._instructions.append(heated)
        elif not lead and (awaits_removal(self._tokens, clause) or removes_next(self._tokens, clause)):
            deed = instruction_of(self._sentence, replace(clause, kind=ClauseKind.MAIN), self._unread)
            self._instructions += [replace(deed, mood=Mood.DO)] if deed is not None else []

    def _goes_on(self, clause: Clause) -> bool:
        """Whether a clause only says that something goes on: "as it bakes"."""
        said = (token.text for run in clause.subject for token in self._tokens[run[0] : run[1]])
        return all(is_class(word, "pronoun", "aux", "adverb") for word in said)

    def _is_done(self, clause: Clause) -> bool:
        """Read a clause that is an act; False where nothing is done by it."""
        made = instruction_of(self._sentence, clause, self._unread)
        if made is None:
            return False
        made = self._in_sentence(made, clause)
        if clause.kind is ClauseKind.REDUCED:
            made, placed = self._of_food_before(made, clause)
            if placed:
                return True
        elif clause.kind is ClauseKind.MAIN:
            self._chain = None
            made = self._with_subject(made, clause)
        if not made.adjunct:
            share_objects(self._instructions, self._before, made, joined=clause.conjunction in _SHARES)
        elif self._any and presses(made, self._instructions[-1]):
            self._instructions[-1] = with_manner(self._instructions[-1], replace(made, marks=pressed(made)))
            return False
        if clause.kind is ClauseKind.MAIN and (title := title_of(self._tokens, clause, made)):
            self._title = title
            return False
        instead = clause.conjunction == "or" or (not self._any and self._tokens[0].text in _INSTEAD)
        made = replace(made, group=self._title, instead=instead and not made.adjunct and made.mood is not Mood.IF)
        if self._any and (used := with_share_used(self._instructions[-1], made)) is not None:
            self._instructions[-1] = used
            return False
        if made.adjunct and self._any and only_manner(made):
            self._instructions[-1] = stirred_into_hot(with_manner(self._instructions[-1], made))
            return False
        made = thrown_leftovers(self._instructions, thrown_when_out(self._instructions, made))
        self._instructions.append(made)
        return True

    def _in_sentence(self, made: Instruction, clause: Clause) -> Instruction:
        """An instruction with what the clauses before it say of it: what it waits for, and under which condition."""
        made = with_awaited(with_verb_food(made, self._sentence.foods), self._awaited)
        self._awaited = ()
        if self._any:
            made = drained_there(kept_back(made, self._instructions[-1]), self._instructions[-1])
        mood = made.mood
        if self._condition is not None and mood is Mood.DO:
            mood = mood_of_condition(self._condition)
        parallel, self._parallel = self._parallel or clause.kind is ClauseKind.WHILE, False
        return replace(made, mood=mood, parallel=parallel)

    def _of_food_before(self, made: Instruction, clause: Clause) -> tuple[Instruction, bool]:
        """A participle with the food before it that it tells of, and whether it was put where that food is used."""
        place, about = told_of(self._instructions, self._before, made, self._chain)
        place = max(place, self._chain_at) if self._chain is not None else place
        self._chain, self._chain_at = taken_over(about) if about is not None else None, place + 1
        if about is None or clause.subject:
            return made, False
        made = replace(made, mentions=(about, *made.mentions))
        if action(made.action).handler is Handler.NONE:
            return made, False
        self._instructions.insert(place, made)
        return made, True

    def _with_subject(self, made: Instruction, clause: Clause) -> Instruction:
        """A main clause with the subject that it shares with the clauses beside it."""
        verb = clause.verb
        if verb is not None and verb.opens and verb.passive and not _objects(made):
            self._fronted.append(len(self._instructions))
        elif verb is not None and verb.passive and not self._has_noun(clause.subject):
            # "is heated and is poured over the fish"
            earlier = (one for one in reversed(self._instructions[self._before :]) if _objects(one))
            subject = _objects(next(earlier, None))[:1]
            made = replace(made, mentions=(*map(taken_over, subject), *made.mentions))
        elif clause.subject:
            told = tuple(map(taken_over, _objects(made)[:1]))
            for at in self._fronted:
                fronted = self._instructions[at]
                self._instructions[at] = replace(fronted, mentions=(*told, *fronted.mentions))
            self._fronted = []
        return made

    def _has_noun(self, runs: Iterable[tuple[int, int]]) -> bool:
        """Whether more than auxiliaries and adverbs stands in some runs of tokens."""
        said = (token.text for run in runs for token in self._tokens[run[0] : run[1]])
        return any(not is_class(word, "aux", "adverb") for word in said)


def _objects(made: Instruction | None) -> tuple[Mention, ...]:
    return tuple(one for one in made.mentions if one.role is Role.OBJECT) if made is not None else ()


def _time_passes(clause: Clause) -> bool:
    """ "While it sits", "while that goes": what follows is done beside it."""
    verb = clause.verb
    if clause.connective == "as" or verb is None or verb.opens or verb.entry.form is not WordForm.S:
        return False
    return verb.entry.base in _GOES or action(verb.entry.action).handler is Handler.LIE or _heats(clause)


def _heats(clause: Clause) -> bool:
    return clause.verb is not None and action(clause.verb.entry.action).heat is not Heat.NONE


_TELLS = (ClauseKind.UNTIL, ClauseKind.WHEN, ClauseKind.PURPOSE, ClauseKind.ASIDE)
_SHARES = ("and", "or")
_GOES = grammar("goes verb")
_INSTEAD = grammar("instead")
