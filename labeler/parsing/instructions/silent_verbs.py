"""The verb that a sentence leaves out: "Peas in", "In with the honey", "Leeks in the pan", "Lid on, 20 minutes".

A stretch of words between two marks that has no verb tells what is done by a particle, by a place, or by a time and a
heat. The verb that such words stand for is put at their first word, and the sentence is read as if it were written.
"""

from __future__ import annotations

from collections.abc import Sequence

from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.instructions.figures import find_quantities
from labeler.parsing.instructions.fragments import is_unknown_deed
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import VerbEntry, WordForm, is_class, verb_entries
from labeler.parsing.instructions.listed_foods import PutIn, Stretch, foods_put_in
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.standing import Verb
from labeler.text.plurals import singular

__all__ = ["with_silent_verbs"]

_MARK, _JOINS, _NEGATES = grammar("mark"), grammar("joins clause"), grammar("negates")
_KEYS = grammar("until") | grammar("while") | grammar("when") | grammar("if") | grammar("aside")
_COMES_IN, _COMES_OUT, _GOES = grammar("particle in"), grammar("particle out"), grammar("goes verb")
_PLACES, _DIRECTED, _DEFINITE = grammar("places unsaid"), grammar("directed"), grammar("definite")


def with_silent_verbs(tokens: Sequence[Token], verbs: Sequence[Verb], foods: frozenset[str]) -> list[Verb]:
    """The verbs of a sentence with those that it leaves out.

    Parameters
    ----------
    tokens : sequence of Token
    verbs : sequence of Verb
        Those that stand there.
    foods : frozenset of str
        Words of the recipe's ingredient names: what is placed without a verb is a food, or a word for several.
    """
    found = list(verbs)
    stretches = _stretches(tokens)
    alone = foods_put_in(tokens, stretches, found, foods)
    if alone is not None:
        return _with_foods_put_in(stretches, found, alone)
    for at, stretch in enumerate(stretches):
        found = [verb for verb in found if not _is_thing_in_a_place(tokens, stretch, verb)]
        silent = _inverted(tokens, stretch)
        if silent is not None:  # "in it goes": its "goes" is part of it
            found = [
                verb for verb in found if not stretch.start <= verb.at < stretch.end or verb.entry.base not in _GOES
            ]
        if silent is None and (silent := _there_is_left(tokens, stretch)) is not None:
            found = [verb for verb in found if not _within(verb, stretch)]
        silent = silent or _left_out(tokens, stretches, at, found, foods)
        if silent is not None:
            found = sorted([*found, silent], key=lambda verb: verb.at)
    return found


def _with_foods_put_in(stretches: Sequence[Stretch], verbs: Sequence[Verb], alone: PutIn) -> list[Verb]:
    """The verbs of a sentence that opens with foods alone: they are cooked or put in before what else is done."""
    ends = {one.first for one in stretches}
    gone = [verb for verb in verbs if verb.passive and verb.opens and verb.at in ends]  # "cider, gone"
    silent = _silent(alone.at, "cook" if alone.cooked else "add")
    return sorted([silent, *(verb for verb in verbs if verb not in gone)], key=lambda verb: verb.at)


def _within(verb: Verb, stretch: Stretch) -> bool:
    return stretch.start <= verb.at < stretch.end


def _silent(at: int, verb: str, end: int | None = None) -> Verb:
    return Verb(at, at if end is None else end, _entry(verb), silent=True)


def _stretches(tokens: Sequence[Token]) -> list[Stretch]:
    found, start = [], 0
    for at in range(len(tokens) + 1):
        mark = tokens[at].text if at < len(tokens) else "."
        if at < len(tokens) and mark not in _MARK and not (mark == "then" and at > start):
            continue
        first = start
        while first < at and _leads(tokens[first].text):
            first += 1
        if first < at:
            found.append(Stretch(start, at, first, mark))
        start = at + (mark != "then")
    return found


def _leads(word: str) -> bool:
    """Whether a word stands before what a stretch tells: "and", "now", but not "overnight"."""
    return word in _JOINS or (is_class(word, "adverb") and word not in grammar("begins time"))


def _words(tokens: Sequence[Token], start: int, end: int) -> list[str]:
    return [token.text for token in tokens[start:end]]


def _entry(verb: str) -> VerbEntry:
    first, *rest = verb.split(" ")
    return next(one for one in verb_entries(first) if one.rest == tuple(rest) and one.form is WordForm.BASE)


def _is_thing_in_a_place(tokens: Sequence[Token], stretch: Stretch, verb: Verb) -> bool:
    """Whether what looks like a verb is a thing that a place follows: "fish on the plate", "plate in the steamer"."""
    behind = _words(tokens, verb.end, stretch.end)
    return (
        verb.at == stretch.first
        and verb.entry.form is WordForm.BASE
        and is_class(tokens[verb.at].text, "group-", "vessel-plate")
        and behind[:1] != []
        and behind[0] in _PLACES
        and not (is_class(tokens[verb.at].text, "sieve") and behind[0] in grammar("directed"))  # "sieve into a jug"
        and any(is_class(singular(word), "vessel-") for word in behind[1:4])
    )


def _inverted(tokens: Sequence[Token], stretch: Stretch) -> Verb | None:
    """ "In go the peas", "in with the honey", "out it comes": the particle comes first."""
    at = stretch.first
    words = _words(tokens, at, stretch.end)
    into = words[0] in _DIRECTED | _COMES_IN and len(words) > 3 and is_class(words[1], "pronoun") and _goes(words[2])
    if into:
        return _silent(at, "add", at + 3)  # "into that go the leeks"
    goes_back = words[0] == "back" and len(words) > 1 and _goes(words[1])
    size = 1 + (words[0] == "back" and len(words) > 1 and not goes_back)
    particle = "in" if goes_back else words[size - 1]  # "back goes the ham", "back in go the peas"
    if particle not in _COMES_IN | _COMES_OUT or len(words) < size + 2:
        return None
    verb = "add" if particle in _COMES_IN else "take out"
    before = at - (at > stretch.start and tokens[at - 1].text == "so")
    if _goes(words[size]) or words[size] == "with":
        return _silent(before, verb, at + size + 1)
    if is_class(words[size], "pronoun") and any(one.base in _GOES for one in verb_entries(words[size + 1])):
        return _silent(before, verb, at + size)
    return None


def _there_is_left(tokens: Sequence[Token], stretch: Stretch) -> Verb | None:
    """ "There is always some flour left over": how much of it is left."""
    words = _words(tokens, stretch.first, stretch.end)
    size = 1 + (words[0] == "there")
    says = words[0] in grammar("there is") or (words[0] == "there" and is_class(words[1] if words[1:] else "", "aux"))
    if not says or not grammar("is left") & set(words[size:]):
        return None
    return _silent(stretch.first, "be left", stretch.first + size)


def _goes(word: str) -> bool:
    return any(one.base in _GOES and not one.rest for one in verb_entries(word))


def _left_out(
    tokens: Sequence[Token], stretches: Sequence[Stretch], at: int, verbs: Sequence[Verb], foods: frozenset[str]
) -> Verb | None:
    """The verb that a stretch without one stands for, or None."""
    stretch = stretches[at]
    first = stretch.first
    end = next((i for i in range(first, stretch.end) if tokens[i].text in _KEYS), stretch.end)
    words = _words(tokens, first, end)
    inside = [verb for verb in verbs if stretch.start <= verb.at < end and not verb.infinitive]
    if inside or not words or _NEGATES & set(words) or any(is_class(word, "aux") for word in words):
        return None
    if (
        stretch.mark == ":"
        or is_unknown_deed(tokens, (first, end), foods)
        or not _may_stand_alone(tokens, stretches, at, verbs)
    ):
        return None
    told = [
        verb for verb in verbs if verb.at < first and not verb.silent and not _goes_on_beside(tokens, stretches, verb)
    ]
    thing = _thing(words, foods)
    timed = find_quantities(" ".join(words))
    if words[0] in grammar("heated room") and timed.celsius is not None:
        return None if told else _silent(first, "preheat")
    placed = thing > 0 and _place(words, thing)
    if placed and (not told or (words[-1] in _COMES_IN and not _waits_for(told[-1], words[-1]))):
        return _silent(first, "add")
    goes_on = any(verb.silent and verb.at < first and verb.entry.base in grammar("goes on unsaid") for verb in verbs)
    if told or (goes_on and thing == 0):
        return None
    if thing == 0 and is_class(singular(_head(words)), "vessel-plate", "vessel-bowl", "tool") and _ends_on(words):
        later = _timed_later(tokens, stretches, at)
        return _silent(first, "cook" if later else "cover")
    if (timed.minutes is not None or timed.celsius is not None) and (thing > 0 or _begins_time(words, verbs)):
        return None if grammar("displaces time") & set(words) else _for_heat(first, words)
    if thing > 0 and (_comes_out(words[thing:]) or (end < stretch.end and tokens[end].text in grammar("until"))):
        return _silent(first, "take out" if _comes_out(words[thing:]) else "cook")
    return None if verbs else _goes_there(first, words)


def _goes_there(first: int, words: Sequence[str]) -> Verb | None:
    """ "Into the pot", "back in the pan", "onto a plate", where what was cooked is lifted out."""
    back = words[0] == "back" and len(words) > 1 and words[1] in _PLACES
    if not (back or words[0] in _DIRECTED) or not any(is_class(singular(word), "vessel-") for word in words):
        return None
    if back:
        return _silent(first, "put back", first + 1)
    lifted = any(is_class(singular(word), "vessel-plate") or word == "rack" for word in words)
    return _silent(first, "transfer" if lifted else "add")


def _goes_on_beside(tokens: Sequence[Token], stretches: Sequence[Stretch], verb: Verb) -> bool:
    """Whether a verb only says what goes on at the same time: "while that simmers: the lard in a pan"."""
    own = next(one for one in stretches if verb.at < one.end)
    return own.mark in (":", ",") and tokens[own.first].text in grammar("while") | grammar("when")


def _for_heat(first: int, words: Sequence[str]) -> Verb:
    """The verb of a time: what it is for, where that is heat ("5 minutes to warm through"), else cooking."""
    behind = list(words[words.index("to") + 1 :]) if "to" in words else []
    meant = [
        entry
        for entry in (verb_entries(behind[0]) if behind else ())
        if entry.form is WordForm.BASE
        and tuple(behind[1 : 1 + len(entry.rest)]) == entry.rest
        and action(entry.action).heat is not Heat.NONE
    ]
    return Verb(first, first, meant[0], silent=True) if meant else _silent(first, "cook")


def _may_stand_alone(tokens: Sequence[Token], stretches: Sequence[Stretch], at: int, verbs: Sequence[Verb]) -> bool:
    """Whether no verb behind takes the stretch as its subject or as what stands before it: "in a bowl, mix"."""
    following = next((verb for verb in verbs if verb.at >= stretches[at].end and not verb.infinitive), None)
    if following is None or following.entry.form is WordForm.ING:
        return True
    theirs = next((one for one in stretches if following.at < one.end), stretches[-1])
    if theirs.start and tokens[theirs.start - 1].text == "(":
        return True
    before = _words(tokens, theirs.start, following.at)
    if any(word in _KEYS for word in before):
        return True
    if following.opens:
        thing = stretches[at].first
        return before[:1] == ["then"] or "and" in before or not is_class(tokens[thing].text, "preposition")
    return bool(before) and (is_class(before[0], "pronoun") or following.silent)


def _thing(words: Sequence[str], foods: frozenset[str]) -> int:
    """How many words at the head of a stretch are a food or a word for several; 0 for none."""
    size = 0
    while size < len(words) and not (
        (is_class(words[size], "preposition") and words[size] != "of")
        or words[size] in ("back", "straight")
        or (size > 0 and words[size][0].isdigit())
    ):
        size += 1
    known = [
        word
        for word in words[:size]
        if singular(word) in foods
        or word in foods
        or is_class(singular(word), "group-", "product", "rest", "everything", "curd", "byproduct-", "spent", "waste")
        or word in grammar("plain pronoun")
    ]
    return size if known else 0


def _place(words: Sequence[str], thing: int) -> bool:
    """Whether a particle or a place follows a thing: "in", "back in the pan", "into the bowl", "off the heat"."""
    behind = list(words[thing:])
    while behind and (behind[0] in ("back", "straight") or is_class(behind[0], "adverb")):
        behind = behind[1:]
    if not behind:
        return len(words) > thing and words[thing] == "back"
    if behind[0] in ("together", *_DIRECTED):
        return len(behind) > 1 or behind[0] == "together"
    if behind[0] in _COMES_OUT:
        return "heat" in behind[1:3]
    if behind[0] not in _PLACES:
        return False
    if len(behind) == 1 or behind[1] in _JOINS or is_class(behind[1], "preposition", "adverb"):
        return behind[0] in _COMES_IN
    rest = [singular(word) for word in behind[1:]]
    return (
        behind[1] in _DEFINITE or behind[1] in grammar("top or bottom") or any(is_class(one, "vessel-") for one in rest)
    )


def _comes_out(behind: Sequence[str]) -> bool:
    """Whether a thing is taken out: "wings out", "plaice out onto a plate"; "off the heat" is only where it goes."""
    if behind[:1] != ["out"]:
        return False
    return len(behind) == 1 or behind[1] in grammar("of what or where")


def _waits_for(verb: Verb, particle: str) -> bool:
    """Whether a verb before may wait for a particle: "put the leeks, kale in"."""
    return any(one.rest[-1:] == (particle,) for one in verb_entries(verb.entry.base))


def _begins_time(words: Sequence[str], verbs: Sequence[Verb]) -> bool:
    """Whether a stretch begins with a time or a heat: "20 minutes", "another hour", "low for 9 hours", "at 180 C"."""
    first = words[0]
    if is_class(first, "preposition"):
        return first in grammar("heat place") and not any(not verb.silent for verb in verbs)
    return first[0].isdigit() or first in grammar("begins time")


def _head(words: Sequence[str]) -> str:
    """The last word before a preposition."""
    at = next((at for at, word in enumerate(words) if is_class(word, "preposition")), len(words))
    return words[at - 1] if at else ""


def _ends_on(words: Sequence[str]) -> bool:
    return words[-1] in _COMES_IN or words[-2:] in (["on", "top"], ["over", "top"])


def _timed_later(tokens: Sequence[Token], stretches: Sequence[Stretch], at: int) -> bool:
    """Whether a time follows in the same sentence: "lid on, 20 minutes"."""
    return any(find_quantities(" ".join(_words(tokens, one.start, one.end))).minutes for one in stretches[at + 1 :])
