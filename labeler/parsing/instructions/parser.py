"""The method of a part, read once: sentences into typed instructions, and what could not be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from labeler.parsing.instructions.actions import Gathers, Handler, Heat, action
from labeler.parsing.instructions.clauses import Clause, Kind, clauses_of
from labeler.parsing.instructions.figures import Found, find_quantities
from labeler.parsing.instructions.lexicon import Form, classes_of, is_class, mark_patterns, nearest_verb, verb_entries
from labeler.parsing.instructions.mentions import head_of, mentions_of
from labeler.parsing.instructions.model import Instruction, Mark, Mention, Mood, Role, Span, Unread
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
        place = {"after": row.after, "group": getattr(row, "group", "")}
        instructions += [
            replace(one, span=replace(one.span, line=row.number), sentence=one.sentence + count, **place)
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
        pairs.update((first, singular(second)) for first, second in zip(plain, plain[1:], strict=False))
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
    for clause in parts:
        if clause.kind is Kind.IF:
            condition = _condition(text, tokens, clause)
            if len(instructions) > before and clause is parts[-1]:
                instructions[-1] = replace(instructions[-1], mood=_mood_of_condition(condition, instructions[-1]))
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
                instructions[at] = _with_evidence(instructions[at], text, tokens, clause, market, lead=lead)
                if not lead and (heated := _heat_in_evidence(instructions[at], clause)) is not None:
                    instructions.append(heated)
            elif clause.kind is Kind.ASIDE and clause.verb is None:
                _fragment(text, tokens, clause, market, instructions, unread)
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
            mood = _mood_of_condition(condition, made)
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
        if made.adjunct and len(instructions) > before and _only_manner(made):
            instructions[-1] = _with_manner(instructions[-1], made)
            continue
        instructions.append(made)
    if len(instructions) == before and not any(clause.verb for clause in parts):
        return


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


def _only_manner(made: Instruction) -> bool:
    """Whether a participle only tells how the instruction before it is done: ", stirring often", ", turning once"."""
    row = action(made.action)
    return row.handler is Handler.NONE and not any(
        one.role in (Role.OBJECT, Role.WITH) and not _empty(one) for one in made.mentions
    )


def _empty(one: Mention) -> bool:
    return is_class(one.name, "pronoun", "tool", "everything", "mixture") or is_class(
        head_of(one.name), "tool", "vessel-"
    )


def _with_manner(one: Instruction, manner: Instruction) -> Instruction:
    return replace(
        one,
        text=f"{one.text}, {manner.text}",
        minutes=one.minutes or manner.minutes,
        core=one.core or manner.core,
        grams=one.grams or manner.grams,
        share=one.share or manner.share,
        marks=one.marks | (manner.marks - {Mark.EACH, Mark.BACK}),
    )


def _with_verb_food(made: Instruction, foods: frozenset[str]) -> Instruction:
    """ "Salt the fish", "butter the dish": the verb names what comes to it."""
    if made.verb not in foods or not is_class(made.verb, "noun-first"):
        return made
    if any(made.verb in one.name.split(" ") for one in made.mentions):
        return made
    return replace(made, mentions=(*made.mentions, Mention(made.verb, made.verb, Role.WITH, definite=True)))


_OFFERS = frozenset("using like wish want desired wanted liked preferred prefer have available fancy".split())


def _condition(text: str, tokens: Sequence[Token], clause: Clause) -> str:
    return text[tokens[clause.start].start : tokens[clause.end - 1].end].lower() if clause.end > clause.start else ""


def _mood_of_condition(condition: str, made: Instruction) -> Mood:
    """ "If you like" offers, and what is offered is taken; "if too thick" corrects, and is not done."""
    return Mood.MAY if any(word in _OFFERS for word in condition.replace(",", " ").split()) else Mood.IF


def _with_evidence(
    one: Instruction, text: str, tokens: Sequence[Token], clause: Clause, market: str, *, lead: bool
) -> Instruction:
    """An instruction with what a subordinate clause says of how it ends."""
    words = _words(text, tokens, clause)
    found = find_quantities(words, market=market)
    marks = _marks(words)
    if clause.kind is Kind.PURPOSE or (clause.kind is Kind.ASIDE):
        marks &= {Mark.FOR_LATER, Mark.THROWN_AWAY, Mark.IN_ITS_LIQUID}
    if clause.kind is Kind.WHEN:
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
    share = found.share if clause.kind is Kind.UNTIL or lead else None
    if share is not None and not any(
        word in words.lower() for word in ("reduc", "left", "evaporat", "volume", "down", "size", "gone")
    ):
        share = None
    minutes = one.minutes
    if found.minutes is not None and (
        heats or action(one.action).handler is Handler.LIE or action(one.action).heat is Heat.NONE
    ):
        minutes = found.minutes if minutes is None else minutes
    name = one.action
    if name == "heat" and minutes is not None and Mark.TO_THE_SIMMER in one.marks:
        name = "simmer"
    elif name == "heat" and minutes is not None and Mark.TO_THE_BOIL in one.marks:
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
            if heats and found.celsius is not None and found.celsius.best < 105.0 and clause.kind is Kind.UNTIL
            else None
        ),
        grams=one.grams or (found.grams if clause.kind is Kind.UNTIL else None),
        millilitres=one.millilitres
        or (found.millilitres if clause.kind is Kind.UNTIL and action(one.action).heat is Heat.WET else None),
        share=one.share or share,
        marks=one.marks | (marks - {Mark.STIRRED, Mark.EACH, Mark.LIGHTLY, Mark.BACK, Mark.KEPT}),
    )


def _heat_in_evidence(one: Instruction, clause: Clause) -> Instruction | None:
    """ "Whisk until it has bubbled for 5 minutes": an end that only heat brings, with a time, is heat."""
    verb = clause.verb
    if verb is None or clause.kind is not Kind.UNTIL or one.minutes is None:
        return None
    if action(one.action).handler is not Handler.NONE or action(verb.entry.action).heat is not Heat.WET:
        return None
    return Instruction(verb.entry.action, one.text, one.span, minutes=one.minutes, marks=one.marks, adjunct=True)


def _words(text: str, tokens: Sequence[Token], clause: Clause) -> str:
    runs = [*clause.subject, *clause.body, *clause.evidence, (clause.start, clause.end)]
    first, last = min(run[0] for run in runs), max(run[1] for run in runs)
    return text[tokens[first].start : tokens[min(last, len(tokens)) - 1].end] if last > first else ""


def _own_words(text: str, tokens: Sequence[Token], clause: Clause) -> str:
    """The words of a clause without those of others that stand between them."""
    runs = sorted({*clause.subject, *clause.body, *clause.evidence})
    verb = clause.verb
    if verb is not None:
        runs = sorted({*runs, (verb.at, verb.end)})
    if clause.connective:
        runs = sorted({*runs, (clause.start, clause.start + 1)})
    return ", ".join(text[tokens[first].start : tokens[last - 1].end] for first, last in runs if last > first).replace(
        ", ", " "
    )


def _marks(words: str) -> frozenset[Mark]:
    return frozenset(Mark(name) for name, pattern in mark_patterns() if pattern.search(words))


def _is_unknown_deed(tokens: Sequence[Token], run: tuple[int, int], foods: frozenset[str]) -> bool:
    """Whether a run opens with a word that nothing knows where a verb would stand: ", then zorch the lot"."""
    start, end = run
    if end - start < 2 or start == 0 or not tokens[start].is_word:
        return False
    word, following = tokens[start].text, tokens[start + 1].text
    opens = tokens[start - 1].text in (",", "then", "and", ";", ":")
    unknown = (
        not verb_entries(word) and not classes_of(word) and singular(word) not in foods and not word.endswith("ly")
    )
    return opens and unknown and is_class(following, "determiner", "pronoun") and len(word) > 3


def _instruction(
    text: str, tokens: Sequence[Token], clause: Clause, market: str, foods: frozenset[str], unread: list[Unread]
) -> Instruction | None:
    verb = clause.verb
    if verb is None:
        return None
    words = _words(text, tokens, clause)
    own = _own_words(text, tokens, clause)
    marks = _marks(own)
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
        if _is_unknown_deed(tokens, run, foods):
            said = text[tokens[run[0]].start : tokens[run[1] - 1].end]
            unread.append(Unread(said, Span(0, tokens[run[0]].start), nearest_verb(tokens[run[0]].text)))
    clause.body = [run for run in clause.body if not _is_unknown_deed(tokens, run, foods)]
    name, gap = _action_of(tokens, clause)
    body = [run for run in _without(clause.body, gap) if run[1] > run[0]]
    mentions = mentions_of(text, tokens, clause.subject, Role.OBJECT, market=market)
    dips = name in ("coat", "fill") and verb.entry.rest == ("in",)
    mentions += mentions_of(text, tokens, body, Role.INTO if dips else Role.OBJECT, market=market)
    mentions += [
        replace(one, role=Role.INTO if one.role is Role.OBJECT else one.role)
        for one in mentions_of(text, tokens, clause.evidence, Role.INTO, market=market)
        if one.role in (Role.INTO, Role.WITH)
    ]
    if any(one.quantity.share is not None for one in mentions) and action(name).handler not in (
        Handler.REDUCE,
        Handler.LOSE,
        Handler.DRY,
    ):
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
    return _settled(made, found, base=verb.entry.base, form=verb.entry.form, opens=verb.opens)


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
                parts_fat = other.rest == ("off",) and verb.entry.base in (
                    "pour",
                    "tip",
                    "drain",
                    "spoon",
                    "skim",
                    "take",
                    "ladle",
                )
                if parts_fat:
                    return other.action, range(at, at + size)
                if at > verb.end or not is_class(behind, "determiner"):
                    if (
                        not behind
                        or is_class(behind, "preposition", "adverb", "subordinator")
                        or not behind[0].isalpha()
                    ):
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
        if is_class(one.name, "vessel-") or is_class(head, "vessel-"):
            vessel = vessel if vessel is not None and one.role is not Role.INTO else one
            if one.role is Role.OBJECT:
                rest.append(one)
        else:
            rest.append(one)
    return vessel, rest


_NEW = frozenset("another separate second clean small fresh different".split())


def _vessel_marks(vessel: Mention | None) -> frozenset[Mark]:
    if vessel is None:
        return frozenset()
    words = vessel.text.lower().split()
    if "same" in words:
        return frozenset([Mark.SAME_VESSEL])
    if _NEW & set(words) or words[0] in ("a", "an", "another"):
        return frozenset([Mark.NEW_VESSEL])
    return frozenset([Mark.SAME_VESSEL]) if vessel.definite else frozenset()


def _settled(made: Instruction, found: Found, *, base: str, form: Form, opens: bool) -> Instruction | None:
    """An instruction whose action follows from its verb together with its marks, figures and objects (R8, R14)."""
    row = action(made.action)
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    marks = made.marks
    name = made.action
    if Mark.LAST in marks and made.minutes is not None and row.heat is Heat.NONE:
        made = replace(made, last_minutes=made.minutes, minutes=None)
    if base in ("leave", "be") and form is Form.ED and (made.grams or made.millilitres or made.share) and objects:
        name = "left"
    elif Mark.THROWN_AWAY in marks and base in ("go", "be", "do", "have", "give", "toss", "put", "use"):
        name = "discard"
    elif row.heat is Heat.BY_PLACE or row.handler in (
        Handler.NONE,
        Handler.LIE,
        Handler.SERVE,
        Handler.KEEP,
        Handler.MAKE,
        Handler.DRY,
    ):
        name = _heated(made, name, base)
    if name == "heat" and Mark.TO_THE_SIMMER in marks and made.minutes is not None:
        name = "simmer"
    elif name == "heat" and Mark.TO_THE_BOIL in marks and made.minutes is not None:
        name = "boil"
    placed = [one for one in made.mentions if one.role is Role.INTO and not is_class(one.name, "pronoun")]
    if name == "stand" and base in ("sit", "stand", "rest", "set") and objects and placed and made.minutes is None:
        name = "add"
    if name == "pat" and base == "pat" and placed and not is_class(head_of(placed[0].name), "tool", "vessel-"):
        name = "rub"
    if name in ("stand", "keep") and Mark.PAPER in marks:
        name = "drain"
    if (
        base in ("have", "get")
        and (made.grams is not None or made.millilitres is not None)
        and row.handler is not Handler.WEIGH
    ):
        return replace(made, action="weigh", mood=Mood.DO, mentions=())
    if name == "dry" and objects and all(is_class(head_of(one.name), "waste") for one in objects):
        name = "pat"
    if name == "keep" and base == "keep" and not opens:
        name = "store"
    if (
        name == "keep"
        and base == "keep"
        and made.minutes is not None
        and not any(one.role is Role.OBJECT for one in made.mentions)
    ):
        name = "store"
    if name == "make" and made.pieces is None and made.grams is None and made.millilitres is None and objects:
        thing = next((one for one in objects if is_class(head_of(one.name), "product")), None)
        if thing is not None and base in ("make", "form", "shape"):
            rest = tuple(
                replace(one, role=Role.OBJECT if one.role in (Role.OUT_OF, Role.WITH, Role.OBJECT) else one.role)
                for one in made.mentions
                if one is not thing
            )
            return replace(
                made,
                action="mix" if base == "make" else "make",
                mentions=rest if base == "make" else made.mentions,
                names=head_of(thing.name),
            )
    as_name = next(
        (one for one in made.mentions if one.role is Role.EVIDENCE and f"as {one.text.lower()}" in made.text.lower()),
        None,
    )
    if as_name is not None and name in ("keep", "drain", "strain", "discard", "lift"):
        made = replace(made, names=as_name.name)
    return replace(made, action=name)


def _heated(made: Instruction, name: str, base: str) -> str:
    """What heats food without saying so: "put it in the oven for 20 minutes", "keep it at a simmer", "give it 5 minutes"."""
    marks, timed = made.marks, made.minutes is not None or made.core is not None
    if not timed and Mark.DRY not in marks:
        return (
            "heat"
            if (Mark.TO_THE_BOIL in marks or Mark.TO_THE_SIMMER in marks)
            and base in ("let", "put", "set", "place", "allow", "add", "keep", "leave")
            else name
        )
    if Mark.OFF_HEAT in marks or Mark.FRIDGE in marks:
        return name
    if Mark.GRILL in marks:
        return "broil"
    if Mark.IN_OVEN in marks or (made.celsius is not None and made.celsius.best > 90.0 and base not in ("keep",)):
        return name if name == "dry" and made.celsius is None and base == "leave" else "bake"
    if Mark.TO_THE_SIMMER in marks:
        return "simmer"
    if Mark.TO_THE_BOIL in marks:
        return "boil"
    if Mark.FLAME in marks or (Mark.GENTLE in marks and base in ("keep", "leave", "let", "put")):
        return "cook"
    if base == "give":
        return "cook"
    return name


def _fragment(
    text: str,
    tokens: Sequence[Token],
    clause: Clause,
    market: str,
    instructions: list[Instruction],
    unread: list[Unread],
) -> None:
    """A sentence without a verb: a figure ("120 g of oil left"), seasoning ("salt and pepper to taste"), a time."""
    words = _words(text, tokens, clause).strip(" ,.;:()")
    if not words:
        return
    found = find_quantities(words, market=market)
    marks = _marks(words)
    span = Span(0, tokens[clause.start].start, tokens[clause.end - 1].end)
    mentions = tuple(mentions_of(text, tokens, clause.body, Role.OBJECT, market=market))
    name = ""
    lowered = words.lower()
    if found.grams is not None and ("weigh" in lowered or "weight" in lowered):
        name = "weigh"
    elif (found.grams or found.millilitres or found.share) and any(
        word in lowered.split() for word in ("left", "remain", "remains", "over")
    ):
        name = "left"
    elif Mark.THROWN_AWAY in marks and mentions:
        name = "discard"
    elif Mark.TO_TASTE in marks and mentions:
        name = "season"
    elif found.minutes is not None and not mentions:
        name = "stand"
    if not name:
        if instructions and found.minutes is not None and instructions[-1].minutes is None:
            instructions[-1] = replace(
                instructions[-1],
                minutes=found.minutes,
                marks=instructions[-1].marks | marks,
                water=instructions[-1].water or found.water,
            )
        elif (mentions and (found.grams or found.millilitres) is not None) or len(words.split()) > 2:
            unread.append(Unread(words, span, "a verb first, such as “simmer 20 minutes”, “drain” or “weighs 1.4 kg”"))
        return
    instructions.append(
        Instruction(
            name, words, span, Mood.DO, mentions, found.minutes, None, found.celsius, found.core, found.grams,
            found.millilitres, found.share, found.pieces, found.piece, found.water, found.salt, marks,
        )
    )  # fmt: skip
