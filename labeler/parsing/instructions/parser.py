"""The method of a part, read once: sentences into typed instructions, and what could not be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from labeler.parsing.instructions.actions import Handler, Heat, Trait, action
from labeler.parsing.instructions.clauses import Clause, ClauseKind, clauses_of
from labeler.parsing.instructions.conditions import bears_on_what_follows, under_condition
from labeler.parsing.instructions.contact_clauses import without_contact_clauses
from labeler.parsing.instructions.evidence import (
    condition_of,
    heat_in_evidence,
    is_amount_of_food,
    is_only_beside,
    marks_in,
    mood_of_condition,
    only_manner,
    own_words_of,
    with_evidence,
    with_manner,
    words_of,
)
from labeler.parsing.instructions.figures import FoundFigures, find_quantities
from labeler.parsing.instructions.food_words import food_words
from labeler.parsing.instructions.fragments import A_VERB_FIRST, JOINS, fragment, is_unknown_deed
from labeler.parsing.instructions.goes_on import with_heat_in_force
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import classes_of, is_class, nearest_verb, verb_entries
from labeler.parsing.instructions.mentions import head_of, mentions_of
from labeler.parsing.instructions.model import Instruction, Mark, Mention, Mood, Role, Span, Unread
from labeler.parsing.instructions.objects import (
    awaited_in,
    kept_back,
    pressed,
    presses,
    share_objects,
    taken_over,
    thrown_into,
    thrown_when_out,
    title_of,
    told_of,
    used_for,
    vessel_marks,
    vessel_of,
    what_is_held,
    with_awaited,
    with_verb_food,
)
from labeler.parsing.instructions.opening_times import with_opening_time_apart
from labeler.parsing.instructions.sentences import Token, sentences, tokens_of
from labeler.parsing.instructions.settle import settled, stirred_into_hot
from labeler.parsing.instructions.silent_verbs import with_silent_verbs
from labeler.parsing.instructions.tokens import find_verbs
from labeler.parsing.instructions.verb_meaning import action_of, goes_in, goes_into_place, mood_of, without_words
from labeler.parsing.instructions.water_below import over_water
from labeler.parsing.instructions.wrapped_rows import joined_rows
from labeler.parsing.model import Part
from labeler.parsing.numbers import tidy
from labeler.text.plurals import singular

__all__ = ["Method", "read_method", "read_sentences"]


class Method(NamedTuple):
    """What the method of a part says: instructions in the order of the words, and what could not be read."""

    instructions: tuple[Instruction, ...]
    unread: tuple[Unread, ...] = ()


def read_method(part: Part, *, market: str) -> Method:
    """The instructions of a part.

    Parameters
    ----------
    part : Part
        Its ingredient names tell foods from verbs ("brown sugar").
    market : str
        Whose cups, pints and spoons.
    """
    foods, pairs = food_words(part.lines)
    instructions: list[Instruction] = []
    unread: list[Unread] = []
    count = 0
    for row in joined_rows(part.handling):
        found = read_sentences(row.text, foods=foods, pairs=pairs, market=market)
        instructions += [
            replace(
                one,
                span=replace(one.span, line=row.number),
                sentence=one.sentence + count,
                after=row.after,
                group=one.group or row.group,
            )
            for one in found.instructions
        ]
        count += max((one.sentence for one in found.instructions), default=0) + 1
        unread += [replace(one, span=replace(one.span, line=row.number)) for one in found.unread]
    return Method(with_heat_in_force(instructions), tuple(unread))


# Characters of a paragraph beyond which nothing is read, and that is told: a choice, no source.
_LONGEST = 6000
_SHORTER = "the same in several paragraphs"
_SIGNS = str.maketrans({"º": "°", "˚": "°", "+": "&"})


@lru_cache(maxsize=2048)
def read_sentences(text: str, *, foods: frozenset[str], pairs: frozenset[tuple[str, str]], market: str) -> Method:
    """The instructions of one paragraph; any text is allowed, and none raises."""
    whole = tidy(text).translate(_SIGNS)
    text, more = whole[:_LONGEST], whole[_LONGEST:].strip()
    instructions: list[Instruction] = []
    unread: list[Unread] = [Unread(more, Span(0, _LONGEST, len(whole)), _SHORTER)] if more else []
    number, goes_on = -1, False
    for offset, sentence in sentences(text):
        number, goes_on = number + (not goes_on), sentence.rstrip().endswith(";")  # "boil the rice; throw in the peas"
        before = len(instructions)
        _read_sentence(text, offset, sentence, foods, pairs, market, instructions, unread)
        instructions[before:] = [replace(one, sentence=number) for one in instructions[before:]]
    if not instructions and not unread and text.strip():
        unread.append(Unread(text, Span(0, 0, len(text)), A_VERB_FIRST))
    return Method(tuple(instructions), tuple(unread))


def _read_sentence(
    text: str,
    offset: int,
    sentence: str,
    foods: frozenset[str],
    pairs: frozenset[tuple[str, str]],
    market: str,
    instructions: list[Instruction],
    unread: list[Unread],
) -> None:
    tokens = without_contact_clauses(with_opening_time_apart(tokens_of(sentence, offset)))
    if not any(token.is_word for token in tokens):
        return
    parts = clauses_of(tokens, with_silent_verbs(tokens, find_verbs(tokens, foods, pairs), foods))
    parallel = any(is_class(token.text, "time-lead") for token in tokens[:3])
    condition: str | None = None
    before = len(instructions)
    chain: Mention | None = None
    chain_at, titled = 0, ""
    awaited: tuple[Mention, ...] = ()  # what a clause waits for: "when the pasta is done, drain"
    fronted: list[int] = []  # participles before the food that they tell of: "Drained and rinsed, the beans go in"
    for clause in parts:
        if clause.kind is ClauseKind.IF:
            condition = condition_of(text, tokens, clause)
            if len(instructions) > before and (clause is parts[-1] or not bears_on_what_follows(tokens, clause)):
                instructions[-1] = under_condition(instructions[-1], condition, text, tokens, clause, market)
                condition = None
            continue
        if clause.kind is ClauseKind.PURPOSE and len(instructions) > before and clause.verb is not None:
            deed = _instruction(text, tokens, clause, market, foods, unread)
            if deed is not None and (used := used_for(instructions[-1], deed)) is not None:
                instructions[-1] = used
                continue
        if clause.kind is ClauseKind.WHEN and len(instructions) == before:
            awaited = awaited_in(text, tokens, clause, market)
        if clause.kind in (ClauseKind.UNTIL, ClauseKind.WHEN, ClauseKind.PURPOSE, ClauseKind.ASIDE):
            if len(instructions) > before or (clause.kind is ClauseKind.WHEN and instructions):
                lead = len(instructions) == before
                at = len(instructions) - 1
                while at > before and is_only_beside(instructions[at], clause):
                    at -= 1
                instructions[at] = with_evidence(instructions[at], text, tokens, clause, market, lead=lead)
                if not lead and (heated := heat_in_evidence(instructions[at], clause)) is not None:
                    instructions.append(heated)
            elif clause.kind is ClauseKind.ASIDE and clause.verb is None:
                fragment(text, tokens, clause, market, instructions, unread)
            continue
        if clause.kind is ClauseKind.WHILE and all(
            is_class(token.text, "pronoun", "aux", "adverb")
            for run in clause.subject
            for token in tokens[run[0] : run[1]]
        ):
            continue  # "as it bakes"
        if clause.kind is ClauseKind.WHILE and (
            clause.verb is None or action(clause.verb.entry.action).heat is Heat.NONE
        ):
            continue
        made = _instruction(text, tokens, clause, market, foods, unread)
        if made is None:
            continue
        made = with_awaited(with_verb_food(made, foods), awaited)
        awaited = ()
        if len(instructions) > before:
            made = kept_back(made, instructions[-1])
        mood = made.mood
        if condition is not None and mood is Mood.DO:
            mood = mood_of_condition(condition)
        made = replace(made, mood=mood, parallel=parallel or clause.kind is ClauseKind.WHILE)
        parallel = False
        if clause.kind is ClauseKind.REDUCED:
            place, about = told_of(instructions, before, made, chain)
            place = max(place, chain_at) if chain is not None else place
            chain, chain_at = taken_over(about) if about is not None else None, place + 1
            if about is not None and not clause.subject:
                made = replace(made, mentions=(about, *made.mentions))
                if action(made.action).handler is not Handler.NONE:
                    instructions.insert(place, made)
                    continue
        elif clause.kind is ClauseKind.MAIN:
            chain = None
            if clause.verb is not None and clause.verb.opens and clause.verb.passive and not _objects(made):
                fronted.append(len(instructions))
            elif clause.verb is not None and clause.verb.passive and not _nouns(tokens, clause.subject):
                earlier = next((one for one in reversed(instructions[before:]) if _objects(one)), None)
                subject = _objects(earlier)[:1] if earlier is not None else ()
                made = replace(
                    made, mentions=(*map(taken_over, subject), *made.mentions)
                )  # "is heated and is poured over the fish"
            elif clause.subject:
                told = tuple(map(taken_over, _objects(made)[:1]))
                for at in fronted:
                    instructions[at] = replace(instructions[at], mentions=(*told, *instructions[at].mentions))
                fronted = []
        if not made.adjunct:
            share_objects(instructions, before, made, joined=clause.conjunction in _SHARES)
        if made.adjunct and len(instructions) > before and presses(made, instructions[-1]):
            instructions[-1] = with_manner(instructions[-1], replace(made, marks=pressed(made)))
            continue
        if clause.kind is ClauseKind.MAIN and (title := title_of(tokens, clause, made)):
            titled = title
            continue
        instead = clause.conjunction == "or" or (len(instructions) == before and tokens[0].text in _INSTEAD)
        made = replace(made, group=titled, instead=instead and not made.adjunct and mood is not Mood.IF)
        if made.adjunct and len(instructions) > before and only_manner(made):
            instructions[-1] = stirred_into_hot(with_manner(instructions[-1], made))
            continue
        instructions.append(thrown_when_out(instructions, made))


def _nouns(tokens: Sequence[Token], runs: Iterable[tuple[int, int]]) -> bool:
    """Whether more than auxiliaries and adverbs stands in some runs of tokens."""
    return any(not is_class(token.text, "aux", "adverb") for run in runs for token in tokens[run[0] : run[1]])


def _objects(made: Instruction) -> tuple[Mention, ...]:
    return tuple(one for one in made.mentions if one.role is Role.OBJECT)


def _instruction(
    text: str, tokens: Sequence[Token], clause: Clause, market: str, foods: frozenset[str], unread: list[Unread]
) -> Instruction | None:
    verb = clause.verb
    if verb is None:
        inside = range(clause.start, min(clause.end, len(tokens)))
        at = next((at for at in inside if tokens[at].text not in JOINS), None)
        if at is not None and is_unknown_deed(tokens, (at, inside.stop), foods):
            span = Span(0, tokens[clause.start].start, tokens[inside.stop - 1].end)
            unread.append(Unread(text[span.start : span.end], span, nearest_verb(tokens[at].text) or A_VERB_FIRST))
        return None
    words = words_of(text, tokens, clause)
    marks = over_water(tokens, clause)
    own = own_words_of(text, tokens, clause)
    marks |= marks_in(own)
    found = find_quantities(own, market=market)
    for wrong in found.impossible:
        unread.append(
            Unread(
                wrong,
                Span(0, tokens[clause.start].start),
                "a time or a temperature that can be, such as “20 minutes” or “180 C”",
            )
        )
    for run in clause.body:
        if is_unknown_deed(tokens, run, foods):
            said = text[tokens[run[0]].start : tokens[run[1] - 1].end]
            unread.append(
                Unread(said, Span(0, tokens[run[0]].start), nearest_verb(tokens[run[0]].text) or A_VERB_FIRST)
            )
    clause.body = [run for run in clause.body if not is_unknown_deed(tokens, run, foods)]
    name, gap = action_of(tokens, clause)
    if verb.mended:
        meant = " ".join((verb.entry.base, *verb.entry.rest))
        unread.append(Unread(words.strip(" ,;:()"), Span(0, tokens[clause.start].start), meant, mended=True))
    body = [run for run in without_words(clause.body, gap) if run[1] > run[0]]
    mentions = mentions_of(text, tokens, clause.subject, Role.OBJECT, market=market)
    dips = Trait.DIPS in action(name).traits and verb.entry.rest == ("in",)
    out_of = verb.entry.rest[-1:] == ("out",) and verb.end < len(tokens) and tokens[verb.end].text == "of"
    role = Role.INTO if dips else Role.OUT_OF if out_of else Role.OBJECT
    if goes_in(tokens, verb, name, body):  # "lower in the bird"
        body[0] = (body[0][0] + 1, body[0][1])
    goes_on = frozenset({Role.WITH, Role.INTO} if action(name).handler is Handler.COAT else {Role.WITH})
    if clause.subject and body and body[0][0] == verb.end and goes_into_place(verb):
        mentions += mentions_of(text, tokens, body[:1], Role.INTO, market=market)
        body = body[1:]
    mentions += mentions_of(text, tokens, body, role, market=market, goes_on=goes_on)
    around = mentions_of(text, tokens, clause.evidence, Role.INTO, market=market)
    mentions += [one for one in around if one.role in (Role.INTO, Role.WITH)]
    if any(one.quantity.share is not None for one in mentions) and action(name).handler not in _TAKES_SHARE:
        found.share = None
    if is_amount_of_food(name, mentions, found):
        found.grams = found.millilitres = None  # "cook in 2 tbsp of the oil": nothing is boiled down to that
    for said in _without_sense(found, name, foods):
        unread.append(Unread(said, Span(0, tokens[clause.start].start), "a time, a temperature or an amount"))
    for said, meant in found.mended:
        unread.append(Unread(said, Span(0, tokens[clause.start].start), meant, mended=True))
        mentions = [one for one in mentions if one.text != said]
    mood = mood_of(tokens, clause)
    if thrown_into(mentions):
        marks |= {Mark.THROWN_AWAY}
        mentions = [one for one in mentions if not is_class(head_of(one.name), "thrown-place")]
    vessel, mentions = vessel_of(mentions)
    marks |= vessel_marks(vessel)
    mentions = [what_is_held(one, vessel) for one in mentions]
    made = Instruction(
        name,
        words.strip(" ,;:()"),
        Span(0, tokens[clause.start].start, tokens[min(clause.end, len(tokens)) - 1].end),
        mood,
        tuple(mentions),
        found.minutes,
        None,
        found.celsius,
        found.core,
        found.grams,
        found.millilitres,
        found.share,
        found.pieces,
        found.piece,
        found.water,
        found.salt,
        frozenset(marks),
        "",
        vessel.name if vessel is not None else "",
        adjunct=clause.kind in (ClauseKind.ADJUNCT, ClauseKind.REDUCED),
        verb="" if verb.silent and verb.entry.base in grammar("goes on unsaid") else verb.entry.base,
        particle=" ".join(verb.entry.rest),
    )
    return settled(made, base=verb.entry.base, form=verb.entry.form, opens=verb.opens, denied=verb.negated)


def _without_sense(found: FoundFigures, name: str, foods: frozenset[str]) -> Iterable[str]:
    """The numbers of a clause that say neither a time, a heat, a weight nor how many of a food."""
    row = action(name)
    if row.handler in (Handler.SERVE, Handler.MAKE, Handler.VESSEL, Handler.DIVIDE):
        return
    timed = row.heat is not Heat.NONE or row.handler is Handler.LIE
    for said, noun in found.unexplained:
        if not noun or (timed and not (singular(noun) in foods or classes_of(noun) or verb_entries(noun))):
            yield said


_SHARES = ("and", "or")
_INSTEAD = grammar("instead")
_TAKES_SHARE = (Handler.REDUCE, Handler.LOSE, Handler.DRY)
