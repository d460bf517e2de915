"""One clause with a verb into one instruction: its action, what it mentions, its figures and its marks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from labeler.parsing.instructions.actions import Handler, Heat, Trait, action
from labeler.parsing.instructions.clauses import Clause, ClauseKind
from labeler.parsing.instructions.evidence import is_amount_of_food, marks_in, own_words_of, words_of
from labeler.parsing.instructions.figures import FoundFigures, find_quantities
from labeler.parsing.instructions.fragments import A_VERB_FIRST, JOINS, is_unknown_deed
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import classes_of, is_class, nearest_verb, verb_entries
from labeler.parsing.instructions.mentions import head_of, mentions_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Quantity, Role, Span, Unread
from labeler.parsing.instructions.objects import thrown_into, vessel_marks, vessel_of, what_is_held, what_is_loose
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.settle import settled
from labeler.parsing.instructions.standing import Verb
from labeler.parsing.instructions.stretches import with_stretches
from labeler.parsing.instructions.verb_meaning import action_of, goes_in, goes_into_place, mood_of, without_words
from labeler.parsing.instructions.water_below import over_water
from labeler.text.plurals import singular

__all__ = ["Sentence", "instruction_of"]


class Sentence(NamedTuple):
    """A sentence of the method, and what its words are read against.

    Parameters
    ----------
    text : str
        The paragraph that it stands in.
    tokens : sequence of Token
        Its own, with their places in the paragraph.
    market : str
        Whose cups, pints and spoons.
    foods : frozenset of str
        Words that the ingredient list uses for foods.
    """

    text: str
    tokens: Sequence[Token]
    market: str
    foods: frozenset[str]

    def words(self, run: tuple[int, int]) -> str:
        """The words of a run of tokens, as written."""
        return self.text[self.tokens[run[0]].start : self.tokens[run[1] - 1].end]

    def span(self, clause: Clause) -> Span:
        """Where a clause stands in the paragraph."""
        first = clause.start if clause.early is None else min(clause.early, clause.start)
        return Span(0, self.tokens[first].start, self.tokens[min(clause.end, len(self.tokens)) - 1].end)


def instruction_of(sentence: Sentence, clause: Clause, unread: list[Unread]) -> Instruction | None:
    """The instruction of a clause; None where it has no verb. What is not understood is added to `unread`."""
    verb = clause.verb
    if verb is None:
        _tell_unknown_clause(sentence, clause, unread)
        return None
    text, tokens, market = sentence.text, sentence.tokens, sentence.market
    words = words_of(text, tokens, clause)
    marks = over_water(tokens, clause)  # takes the words of the water below out of the clause
    own = own_words_of(text, tokens, clause)
    found = find_quantities(own, market=market)
    at = Span(0, tokens[clause.start].start)
    unread += [Unread(wrong, at, _POSSIBLE) for wrong in found.impossible]
    clause.body = _known_runs(sentence, clause, unread)
    name, gap = action_of(tokens, clause)
    if verb.mended:
        meant = " ".join((verb.entry.base, *verb.entry.rest))
        unread.append(Unread(words.strip(" ,;:()"), at, meant, mended=True))
    mentions = _mentions(
        sentence, clause, verb, name, [run for run in without_words(clause.body, gap) if run[1] > run[0]]
    )
    mentions = with_stretches(mentions, words, sentence.foods)
    mentions = _all_but(mentions, name, words, found)
    _settle_figures(found, name, mentions)
    unread += [Unread(words_left, at, _FIGURE) for words_left in _without_sense(found, name, sentence.foods)]
    for misspelt, meant in found.mended:
        unread.append(Unread(misspelt, at, meant, mended=True))
        mentions = [one for one in mentions if one.text != misspelt]
    marks |= marks_in(own)
    if thrown_into(mentions):
        marks |= {Mark.THROWN_AWAY}
        mentions = [one for one in mentions if not is_class(head_of(one.name), "thrown-place")]
    vessel, mentions = vessel_of(mentions)
    marks |= vessel_marks(vessel)
    if gap is not None and all(tokens[place].text in grammar("goes over") for place in gap):
        marks |= {Mark.OVER_IT}
    made = Instruction(
        name,
        words.strip(" ,;:()"),
        sentence.span(clause),
        mood_of(tokens, clause),
        tuple(what_is_loose(what_is_held(one, vessel), name) for one in mentions),
        minutes=found.minutes,
        celsius=found.celsius,
        core=found.core,
        grams=found.grams,
        millilitres=found.millilitres,
        share=found.share,
        pieces=found.pieces,
        piece=found.piece,
        water=found.water,
        salt=found.salt,
        marks=frozenset(marks),
        vessel=vessel.name if vessel is not None else "",
        adjunct=clause.kind in (ClauseKind.ADJUNCT, ClauseKind.REDUCED),
        verb="" if verb.silent and verb.entry.base in grammar("goes on unsaid") else verb.entry.base,
        particle=" ".join(verb.entry.rest),
    )
    return settled(made, base=verb.entry.base, form=verb.entry.form, opens=verb.opens, denied=verb.negated)


def _tell_unknown_clause(sentence: Sentence, clause: Clause, unread: list[Unread]) -> None:
    """Where a clause without a known verb opens with a word that nothing knows, that is told."""
    inside = range(clause.start, min(clause.end, len(sentence.tokens)))
    at = next((at for at in inside if sentence.tokens[at].text not in JOINS), None)
    if at is not None and is_unknown_deed(sentence.tokens, (at, inside.stop), sentence.foods):
        run = (clause.start, inside.stop)
        nearest = nearest_verb(sentence.tokens[at].text) or A_VERB_FIRST
        unread.append(Unread(sentence.words(run), sentence.span(clause), nearest))


def _known_runs(sentence: Sentence, clause: Clause, unread: list[Unread]) -> list[tuple[int, int]]:
    """The runs of a clause's body without those that an unknown deed opens, which are told."""
    known = []
    for run in clause.body:
        if not is_unknown_deed(sentence.tokens, run, sentence.foods):
            known.append(run)
            continue
        first = sentence.tokens[run[0]]
        unread.append(Unread(sentence.words(run), Span(0, first.start), nearest_verb(first.text) or A_VERB_FIRST))
    return known


def _mentions(sentence: Sentence, clause: Clause, verb: Verb, name: str, body: list[tuple[int, int]]) -> list[Mention]:
    """What a clause mentions, each with its role: subject, what stands behind the verb, and where it happens."""
    text, tokens, market = sentence.text, sentence.tokens, sentence.market
    subjects = mentions_of(text, tokens, clause.subject, Role.OBJECT, market=market)
    mentions = [one for one in subjects if one.name not in grammar("the cook")]
    dips = Trait.DIPS in action(name).traits and verb.entry.rest == ("in",)
    out_of = verb.entry.rest[-1:] == ("out",) and verb.end < len(tokens) and tokens[verb.end].text == "of"
    role = Role.INTO if dips else Role.OUT_OF if out_of else Role.OBJECT
    if goes_in(tokens, verb, name, body):  # "lower in the bird"
        body[0] = (body[0][0] + 1, body[0][1])
    goes_on = frozenset({Role.WITH, Role.EXCEPT, *((Role.INTO,) if action(name).handler is Handler.COAT else ())})
    if clause.subject and body and body[0][0] == verb.end and goes_into_place(verb):
        mentions += mentions_of(text, tokens, body[:1], Role.INTO, market=market)
        body = body[1:]
    mentions += mentions_of(text, tokens, body, role, market=market, goes_on=goes_on)
    around = mentions_of(text, tokens, clause.evidence, Role.INTO, market=market)
    return [*mentions, *(one for one in around if one.role in (Role.INTO, Role.WITH))]


def _all_but(mentions: list[Mention], name: str, words: str, found: FoundFigures) -> list[Mention]:
    """ "Pour off the fat except for a tablespoon": the amount is what stays of it."""
    amount = found.grams or found.millilitres
    poured = [one for one in mentions if one.role is Role.OBJECT and is_class(head_of(one.name), "byproduct-")]
    leaves = action(name).handler in (Handler.DRAIN, Handler.SKIM) and grammar("left out") & set(words.lower().split())
    measured = any((one.quantity.grams or one.quantity.millilitres) is not None for one in mentions)
    if not leaves or amount is None or measured or len(poured) != 1 or poured[0].quantity.extent is not Extent.ALL:
        return mentions  # "without touching the 200 ml cream": that is the cream's
    quantity = Quantity(Extent.ALL_BUT, grams=found.grams, millilitres=found.millilitres)
    return [
        replace(one, quantity=quantity) if one is poured[0] else one for one in mentions if one.role is not Role.EXCEPT
    ]


def _settle_figures(found: FoundFigures, name: str, mentions: Sequence[Mention]) -> None:
    """Take out of a clause's figures what belongs to a food that it mentions."""
    if any(one.quantity.share is not None for one in mentions) and action(name).handler not in _TAKES_SHARE:
        found.share = None
    if is_amount_of_food(name, mentions, found):
        found.grams = found.millilitres = None  # "cook in 2 tbsp of the oil": nothing is boiled down to that


def _without_sense(found: FoundFigures, name: str, foods: frozenset[str]) -> Iterable[str]:
    """The numbers of a clause that say neither a time, a heat, a weight nor how many of a food."""
    row = action(name)
    if row.handler in (Handler.SERVE, Handler.MAKE, Handler.VESSEL, Handler.DIVIDE):
        return
    timed = row.heat is not Heat.NONE or row.handler is Handler.LIE
    for said, noun in found.unexplained:
        if not noun or (timed and not (singular(noun) in foods or classes_of(noun) or verb_entries(noun))):
            yield said


_TAKES_SHARE = (Handler.REDUCE, Handler.LOSE, Handler.DRY)
_POSSIBLE = "a time or a temperature that can be, such as “20 minutes” or “180 C”"
_FIGURE = "a time, a temperature or an amount"
