"""The method of a part, read once: sentences into typed instructions, and what could not be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from labeler.parsing.instructions.actions import Gathers, Handler, Heat, action
from labeler.parsing.instructions.clauses import Clause, Kind, clauses_of
from labeler.parsing.instructions.evidence import (
    condition_of,
    heat_in_evidence,
    marks_in,
    mood_of_condition,
    only_manner,
    own_words_of,
    with_evidence,
    with_manner,
    words_of,
)
from labeler.parsing.instructions.figures import find_quantities
from labeler.parsing.instructions.fragments import JOINS, fragment, is_unknown_deed
from labeler.parsing.instructions.lexicon import is_class, nearest_verb, verb_entries
from labeler.parsing.instructions.mentions import head_of, mentions_of
from labeler.parsing.instructions.model import (
    Extent,
    Instruction,
    Mark,
    Mention,
    Mood,
    Quantity,
    Role,
    Span,
    Unread,
)
from labeler.parsing.instructions.settle import settled
from labeler.parsing.instructions.tokens import Token, find_verbs, sentences, tokens_of
from labeler.parsing.model import Handling, Part
from labeler.parsing.numbers import tidy
from labeler.plurals import singular

__all__ = ["Method", "read_method", "read_sentences"]


@dataclass(frozen=True, slots=True)
class Method:
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
    foods, pairs = _vocabulary(line.name or line.text for line in part.lines)
    instructions: list[Instruction] = []
    unread: list[Unread] = []
    count = 0
    for row in _joined(part.handling):
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
    return Method(tuple(instructions), tuple(unread))


def _joined(rows: Sequence[Handling]) -> list[Handling]:
    """Rows of the method with those joined that one sentence runs over."""
    found: list[Handling] = []
    for row in rows:
        text = row.text.strip()
        if found and text and _runs_on(found[-1].text.strip(), text) and found[-1].after == row.after:
            found[-1] = replace(found[-1], text=f"{found[-1].text.rstrip()} {text}")
        else:
            found.append(row)
    return found


def _runs_on(text: str, following: str) -> bool:
    """Whether a row that ends in no mark goes on in the next one."""
    if not text or text[-1] in ".!?:;)" or not (following[0].islower() or following[0].isdigit()):
        return False
    last = text.rsplit(" ", 1)[-1].lower()
    inside = any(mark in text[:-1] for mark in (". ", "! ", "? "))
    return inside or text[-1] == "," or is_class(last, "preposition", "determiner") or last in ("and", "or", "then")


def _vocabulary(names: Iterable[str]) -> tuple[frozenset[str], frozenset[tuple[str, str]]]:
    foods: set[str] = set()
    pairs: set[tuple[str, str]] = set()
    for name in names:
        words = [singular(token.text) for token in tokens_of(name.lower()) if token.is_word]
        foods.update(words)
        plain = [token.text for token in tokens_of(name.lower()) if token.is_word]
        pairs.update((first, singular(second)) for first, second in pairwise(plain))
    return frozenset(foods), frozenset(pairs)


@lru_cache(maxsize=2048)
def read_sentences(text: str, *, foods: frozenset[str], pairs: frozenset[tuple[str, str]], market: str) -> Method:
    """The instructions of one paragraph; any text is allowed, and none raises."""
    text = tidy(text)[:6000]
    instructions: list[Instruction] = []
    unread: list[Unread] = []
    for number, (offset, sentence) in enumerate(sentences(text)):
        before = len(instructions)
        _read_sentence(text, offset, sentence, foods, pairs, market, instructions, unread)
        instructions[before:] = [replace(one, sentence=number) for one in instructions[before:]]
    if not instructions and not unread and any(letter.isalnum() for letter in text):
        unread.append(Unread(text, Span(0, 0, len(text)), nearest_verb("")))
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
    tokens = tokens_of(sentence, offset)
    if not any(token.is_word for token in tokens):
        return
    verbs = find_verbs(tokens, foods, pairs)
    parts = clauses_of(tokens, verbs)
    parallel = any(is_class(token.text, "time-lead") for token in tokens[:3])
    condition: str | None = None
    before = len(instructions)
    chain: Mention | None = None
    chain_at = 0
    titled = ""
    for clause in parts:
        if clause.kind is Kind.IF:
            condition = condition_of(text, tokens, clause)
            if len(instructions) > before and clause is parts[-1]:
                instructions[-1] = _on_condition(instructions[-1], mood_of_condition(condition, instructions[-1]))
            continue
        if clause.kind in (Kind.UNTIL, Kind.WHEN, Kind.PURPOSE, Kind.ASIDE):
            if len(instructions) > before or (clause.kind is Kind.WHEN and instructions):
                lead = len(instructions) == before
                at = len(instructions) - 1
                while (
                    instructions[at].adjunct
                    and at > before
                    and action(instructions[at].action).heat is Heat.NONE
                    and ((clause.kind is Kind.UNTIL and clause.verb is not None) or clause.kind is Kind.PURPOSE)
                ):
                    at -= 1
                instructions[at] = with_evidence(instructions[at], text, tokens, clause, market, lead=lead)
                if not lead and (heated := heat_in_evidence(instructions[at], clause)) is not None:
                    instructions.append(heated)
            elif clause.kind is Kind.ASIDE and clause.verb is None:
                fragment(text, tokens, clause, market, instructions, unread)
            continue
        if clause.kind is Kind.WHILE and all(
            is_class(token.text, "pronoun", "aux", "adverb")
            for run in clause.subject
            for token in tokens[run[0] : run[1]]
        ):
            continue  # "as it bakes"
        if clause.kind is Kind.WHILE and (clause.verb is None or action(clause.verb.entry.action).heat is Heat.NONE):
            continue
        made = _instruction(text, tokens, clause, market, foods, unread)
        if made is None:
            continue
        made = _with_verb_food(made, foods)
        mood = made.mood
        if condition is not None and mood is Mood.DO:
            mood = mood_of_condition(condition, made)
        made = replace(made, mood=mood, parallel=parallel or clause.kind is Kind.WHILE)
        parallel = False
        if clause.kind is Kind.REDUCED:
            place, about = _about(instructions, before, made, chain)
            place = max(place, chain_at) if chain is not None else place
            chain, chain_at = about, place + 1
            if about is not None and not clause.subject:
                made = replace(made, mentions=(about, *made.mentions))
                if action(made.action).handler is not Handler.NONE:
                    instructions.insert(place, made)
                    continue
        elif clause.kind is Kind.MAIN:
            chain = None
        if not made.adjunct:
            _share_objects(instructions, before, made, joined=clause.conjunction == "and")
        if made.adjunct and len(instructions) > before and instructions[-1].action == "strain" and _presses(made):
            pressed = replace(made, marks=frozenset([Mark.PRESSED]))
            instructions[-1] = with_manner(instructions[-1], pressed)
            continue
        if clause.kind is Kind.MAIN and _is_title(tokens, clause, made):
            titled = made.mentions[0].name
            continue
        made = replace(made, group=titled)
        if made.adjunct and len(instructions) > before and only_manner(made):
            instructions[-1] = with_manner(instructions[-1], made)
            continue
        instructions.append(made)
    if len(instructions) == before and not any(clause.verb for clause in parts):
        return


def _presses(made: Instruction) -> bool:
    return made.verb.split(" ", 1)[0] in ("press", "push", "squeeze")


def _is_title(tokens: Sequence[Token], clause: Clause, made: Instruction) -> bool:
    """Whether a clause only says what those behind its colon do: "Cook the porridge: whisk the flour ..."."""
    closes = clause.end < len(tokens) - 1 and tokens[clause.end].text == ":"
    plain = made.minutes is None and made.core is None and made.celsius is None and not made.marks
    return closes and plain and len(made.mentions) == 1 and made.mentions[0].role is Role.OBJECT


def _on_condition(made: Instruction, mood: Mood) -> Instruction:
    """What a condition behind an instruction bears on: "add the juice and more water if it is too thick".

    Where the last of several things is some of what may be wanted and those before it are known, it alone is
    conditional.
    """
    known = [one for one in made.mentions[:-1] if one.role is Role.OBJECT and one.quantity.extent is not Extent.SOME]
    if mood is Mood.IF and known and made.mentions[-1].quantity.extent is Extent.SOME:
        return replace(made, mentions=made.mentions[:-1])
    return replace(made, mood=mood)


def _about(
    instructions: Sequence[Instruction], before: int, made: Instruction, chain: Mention | None
) -> tuple[int, Mention | None]:
    """Which food a participle behind it speaks of, and where it goes: before the instruction that uses that food."""
    own = next((one for one in made.mentions if one.role is Role.OBJECT and not one.alternative), None)
    if own is not None and chain is None and len(instructions) == before:
        return len(instructions), own
    for at in range(len(instructions) - 1, before - 1, -1):
        if instructions[at].mentions and not (instructions[at].adjunct and chain is not None):
            about = chain or replace(instructions[at].mentions[-1], role=Role.OBJECT)
            return at, about
    return len(instructions), chain or own


def _share_objects(instructions: list[Instruction], before: int, made: Instruction, *, joined: bool) -> None:
    """ "Peel, core and slice the apples": verbs without an object of their own take that of the last of them."""
    objects = tuple(one for one in made.mentions if one.role is Role.OBJECT)
    at = len(instructions) - 1
    while (
        objects
        and at >= before
        and not instructions[at].mentions
        and instructions[at].minutes is None
        and not instructions[at].adjunct
    ):
        row = action(instructions[at].action)
        if row.handler is Handler.SERVE or (row.gathers is not Gathers.APART and not joined):
            break
        instructions[at] = replace(instructions[at], mentions=objects)
        at -= 1


def _with_verb_food(made: Instruction, foods: frozenset[str]) -> Instruction:
    """ "Salt the fish", "butter the dish": the verb names what comes to it."""
    seasons = made.action == "season" and is_class(made.verb, "verb-seasoning")
    if not seasons and (made.verb not in foods or not is_class(made.verb, "noun-first")):
        return made
    if any(made.verb in one.name.split(" ") for one in made.mentions):
        return made
    listed = made.verb in foods
    quantity = Quantity() if listed else Quantity(Extent.SOME)
    return replace(made, mentions=(*made.mentions, Mention(made.verb, made.verb, Role.WITH, quantity, definite=listed)))


def _instruction(
    text: str, tokens: Sequence[Token], clause: Clause, market: str, foods: frozenset[str], unread: list[Unread]
) -> Instruction | None:
    verb = clause.verb
    if verb is None:
        inside = range(clause.start, min(clause.end, len(tokens)))
        at = next((at for at in inside if tokens[at].text not in JOINS), None)
        if at is not None and is_unknown_deed(tokens, (at, inside.stop), foods):
            span = Span(0, tokens[clause.start].start, tokens[inside.stop - 1].end)
            unread.append(Unread(text[span.start : span.end], span, nearest_verb(tokens[at].text)))
        return None
    words = words_of(text, tokens, clause)
    own = own_words_of(text, tokens, clause)
    marks = marks_in(own)
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
            unread.append(Unread(said, Span(0, tokens[run[0]].start), nearest_verb(tokens[run[0]].text)))
    clause.body = [run for run in clause.body if not is_unknown_deed(tokens, run, foods)]
    name, gap = _action_of(tokens, clause)
    body = [run for run in _without(clause.body, gap) if run[1] > run[0]]
    mentions = mentions_of(text, tokens, clause.subject, Role.OBJECT, market=market)
    dips = name in ("coat", "fill") and verb.entry.rest == ("in",)
    out_of = verb.entry.rest[-1:] == ("out",) and verb.end < len(tokens) and tokens[verb.end].text == "of"
    role = Role.INTO if dips else Role.OUT_OF if out_of else Role.OBJECT
    mentions += mentions_of(text, tokens, body, role, market=market)
    around = mentions_of(text, tokens, clause.evidence, Role.INTO, market=market)
    mentions += [one for one in around if one.role in (Role.INTO, Role.WITH)]
    if any(one.quantity.share is not None for one in mentions) and action(name).handler not in _TAKES_SHARE:
        found.share = None
    mood = _mood(tokens, clause)
    vessel, mentions = _vessel(mentions)
    marks |= _vessel_marks(vessel)
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
        adjunct=clause.kind in (Kind.ADJUNCT, Kind.REDUCED),
        verb=verb.entry.base,
    )
    return settled(made, found, base=verb.entry.base, form=verb.entry.form, opens=verb.opens)


def _without(runs: Sequence[tuple[int, int]], gap: range | None) -> list[tuple[int, int]]:
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


def _action_of(tokens: Sequence[Token], clause: Clause) -> tuple[str, range | None]:
    """The action of a clause, by its verb and the words of it that stand behind the object."""
    verb = clause.verb
    assert verb is not None
    entry = verb.entry
    if entry.rest and verb.end - verb.at > 1:
        return entry.action, None
    own = tokens[verb.at].text
    for other in verb_entries(own):
        if not other.rest:
            continue
        size = len(other.rest)
        for start, end in clause.body:
            for at in range(start, end - size + 1):
                if tuple(token.text for token in tokens[at : at + size]) != other.rest:
                    continue
                if other.rest == ("out",) and at + 1 < end and tokens[at + 1].text == "of":
                    return other.action, None
                if size == 1 and is_class(other.rest[0], "preposition") and other.rest[0] not in ("off", "out"):
                    continue
                behind = tokens[at + size].text if at + size < end else ""
                if other.rest == ("off",) and verb.entry.base in _POURS_OFF:
                    return other.action, range(at, at + size)
                apart = at > verb.end or not is_class(behind, "determiner")
                closes = not behind or is_class(behind, "preposition", "adverb", "subordinator")
                if apart and (closes or not behind[0].isalpha()):
                    return other.action, range(at, at + size)
    return entry.action, None


def _mood(tokens: Sequence[Token], clause: Clause) -> Mood:
    verb = clause.verb
    assert verb is not None
    if verb.negated:
        return Mood.NOT
    first = max(clause.start, verb.at - 4)
    near = [token.text for token in tokens[first : verb.at]]
    if any(is_class(word, "modal-may") for word in near):
        return Mood.MAY
    if any(word in ("should", "will", "'ll", "would", "must") for word in near) and not verb.opens:
        return Mood.SAYS
    return Mood.DO


def _vessel(mentions: Sequence[Mention]) -> tuple[Mention | None, list[Mention]]:
    """The vessel of a clause, and the mentions without it."""
    vessel, rest = None, []
    for one in mentions:
        head = head_of(one.name)
        contents = one.role is Role.OBJECT and is_class(one.name.split(" ", 1)[0], "everything")
        if (is_class(one.name, "vessel-") or is_class(head, "vessel-")) and not contents:
            vessel = vessel if vessel is not None and one.role is not Role.INTO else one
            if one.role is Role.OBJECT:
                rest.append(one)
        else:
            rest.append(one)
    return vessel, rest


_TAKES_SHARE = (Handler.REDUCE, Handler.LOSE, Handler.DRY)
_POURS_OFF = frozenset("pour tip drain spoon skim take ladle".split())
_NEW = frozenset("another separate second clean small fresh different".split())


def _vessel_marks(vessel: Mention | None) -> frozenset[Mark]:
    if vessel is None:
        return frozenset()
    words = vessel.text.lower().split()
    if "same" not in words and (_NEW & set(words) or words[0] in ("a", "an", "another")):
        return frozenset([Mark.NEW_VESSEL])
    return frozenset([Mark.SAME_VESSEL]) if "same" in words or vessel.definite else frozenset()
