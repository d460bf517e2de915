"""Which words of a sentence of the method are verbs.

Whether a word is a verb or a noun is settled here once, by where it stands: "butter the dish" and "melt the butter",
"salt it" and "the salt", "drained beans" and "the beans are drained".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.parsing.instructions.base_verbs import is_base_verb
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import (
    VerbEntry,
    WordForm,
    classes_of,
    is_class,
    is_unchanging,
    nearest_verb,
    verb_entries,
)
from labeler.parsing.instructions.places import is_vessel_phrase
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.standing import Standing, Verb, after_let, standing
from labeler.parsing.line_words import ADJECTIVES, TEMPERATURES
from labeler.text.plurals import singular

__all__ = ["find_verbs"]

_OPENERS, _NEGATES, _PRONOUN_SUBJECTS = grammar("opens"), grammar("negates"), grammar("subject")
_GOES = grammar("goes verb")


def find_verbs(tokens: Sequence[Token], foods: frozenset[str], pairs: frozenset[tuple[str, str]]) -> list[Verb]:
    """The verbs of a sentence, in order.

    Parameters
    ----------
    tokens : sequence of Token
    foods : frozenset of str
        Words of the recipe's ingredient names: among them a word is a food where a verb is not certain.
    pairs : frozenset of (str, str)
        Words that follow each other in an ingredient's name ("brown", "sugar"): together they are a food.
    """
    found: list[Verb] = []
    at = 0
    while at < len(tokens):
        verb = _verb_at(tokens, at, foods, pairs, found)
        if verb is not None:
            found.append(verb := _first_of_two(tokens, verb))
            at = max(verb.end, at + 1)
        else:
            at += 1
    return found


def _first_of_two(tokens: Sequence[Token], verb: Verb) -> Verb:
    """ "Poach / simmer the fish": of two verbs for one deed the first is done."""
    if verb.end + 1 >= len(tokens) or tokens[verb.end].text != "/":
        return verb
    other = _entry_at(tokens, verb.end + 1)
    return replace(verb, end=other[1]) if other is not None and other[0].form is verb.entry.form else verb


def _entry_at(tokens: Sequence[Token], at: int) -> tuple[VerbEntry, int] | None:
    """The longest verb whose words stand here side by side, and the place behind it.

    An "in" with a vessel behind it tells where, unless the verb says nothing without it: "goes in | the blender".
    """
    for entry in verb_entries(tokens[at].text):
        words = [token.text for token in tokens[at + 1 : at + 1 + len(entry.rest)]]
        end = at + 1 + len(entry.rest)
        tells_where = entry.rest == ("in",) and entry.base not in _GOES and is_vessel_phrase(tokens, end)
        if tuple(words) == entry.rest and not tells_where:
            return entry, end
    return None


def _verb_at(
    tokens: Sequence[Token], at: int, foods: frozenset[str], pairs: frozenset[tuple[str, str]], found: Sequence[Verb]
) -> Verb | None:
    if verb_entries(tokens[at].text):
        return _known_verb_at(tokens, at, foods, pairs, found)
    opening = at == 0 or tokens[at - 1].text in _OPENERS
    if opening and _takes_out(tokens, at, foods):
        out = next(one for one in verb_entries("take") if one.rest == ("out",) and one.form is WordForm.BASE)
        return Verb(at, at + 2, out)
    meant = nearest_verb(tokens[at].text) if opening and singular(tokens[at].text) not in foods else ""
    if not meant:
        return None
    tokens = [*tokens[:at], Token(meant, tokens[at].start, tokens[at].end), *tokens[at + 1 :]]
    verb = _known_verb_at(tokens, at, foods, pairs, found)
    return replace(verb, mended=True) if verb is not None else None


def _takes_out(tokens: Sequence[Token], at: int, foods: frozenset[str]) -> bool:
    """Whether a word that nothing knows stands where a verb does before "out": "hoick out the rosemary"."""
    word, behind = tokens[at].text, [token.text for token in tokens[at + 1 : at + 3]]
    known = not tokens[at].is_word or bool(classes_of(word)) or singular(word) in foods
    return not known and behind[:1] == ["out"] and len(behind) > 1 and is_class(behind[1], "determiner", "pronoun")


def _known_verb_at(
    tokens: Sequence[Token], at: int, foods: frozenset[str], pairs: frozenset[tuple[str, str]], found: Sequence[Verb]
) -> Verb | None:
    """The verb at a place whose word can be one; None where it names a thing or tells how one is."""
    if _is_in_a_name(tokens, at, pairs) or (found and _describes(tokens, at, found[-1], foods)):
        return None
    hit = _entry_at(tokens, at) or _parted_entry_at(tokens, at)
    if hit is None:
        return None
    entry, end = hit
    here = standing(tokens, at, end, foods, found)
    if here.word in grammar("cover state") and not is_class(here.before, "aux"):
        return None  # how it is cooked: "simmer, covered, 20 minutes"
    if is_class(here.told, "aux") and here.earlier in grammar("free relative"):
        return None  # "what is left of the sugar"
    forms = {one.form for one in verb_entries(here.word) if one.rest == entry.rest}
    return next((verb for form in _FORMS if (verb := form(here, entry, forms)) is not None), None)


def _is_in_a_name(tokens: Sequence[Token], at: int, pairs: frozenset[tuple[str, str]]) -> bool:
    """Whether a word belongs to a noun beside it ("brown sugar", "roasting tin"), or only denies a verb ("do not")."""
    word = tokens[at].text
    following = tokens[at + 1].text if at + 1 < len(tokens) else ""
    ahead = tokens[at - 1].text if at else ""
    if at > 0 and is_class(singular(following), "vessel-") and is_class(word, "noun-too"):
        return True
    if (word, singular(following)) in pairs or (ahead, singular(word)) in pairs:
        return True
    return word in grammar("did") and following in _NEGATES


def _parted_entry_at(tokens: Sequence[Token], at: int) -> tuple[VerbEntry, int] | None:
    """A verb of one word, or one of several words that have others between them."""
    entries = [entry for entry in verb_entries(tokens[at].text) if not entry.rest]
    entries = entries or _gapped(tokens, at, verb_entries(tokens[at].text))
    return (entries[0], at + 1) if entries else None


# In which form a word is a verb where it stands; the first that it can be decides.


def _is_done_to(here: Standing, entry: VerbEntry, forms: set[WordForm]) -> Verb | None:
    """ "The beans are drained", "the legs are put in"."""
    if WordForm.ED in forms and is_class(here.told, "aux") and here.told not in grammar("did"):
        same = (one for one in verb_entries(here.word) if one.form is WordForm.ED and one.rest == entry.rest)
        return Verb(here.at, here.end, next(same, entry), passive=True, opens=False, negated=here.negated)
    if WordForm.BASE in forms and here.told in grammar("passive with") and is_unchanging(entry.base):
        return Verb(here.at, here.end, entry, passive=True, opens=False, negated=here.negated)
    return None


def _is_commanded(here: Standing, entry: VerbEntry, forms: set[WordForm]) -> Verb | None:
    if WordForm.BASE not in forms or not is_base_verb(here):
        return None
    return Verb(
        here.at,
        here.end,
        entry,
        after_let=after_let(here.found, here.at),
        infinitive=here.before == "to",
        negated=here.negated,
        opens=here.opens or here.negated,
    )


def _goes_with(here: Standing, entry: VerbEntry, forms: set[WordForm]) -> Verb | None:
    """ ", stirring often"."""
    participle = WordForm.ING in forms and here.word.endswith("ing") and _is_participle(here)
    return Verb(here.at, here.end, entry, negated=here.negated, opens=True) if participle else None


def _was_done(here: Standing, entry: VerbEntry, forms: set[WordForm]) -> Verb | None:
    """ "The rice, boiled and drained"."""
    if WordForm.ED not in forms or not here.opens or not _is_reduced(here):
        return None
    return Verb(here.at, here.end, entry, passive=True, opens=True, negated=here.negated)


def _is_done_too(here: Standing, entry: VerbEntry, forms: set[WordForm]) -> Verb | None:
    """ "The salt is rinsed off and the leeks pressed dry": a second passive without its auxiliary."""
    last = here.found[-1] if here.found else None
    if WordForm.ED not in forms or last is None or not last.passive or last.opens or here.opens:
        return None
    between = [token.text for token in here.tokens[last.end : here.at]]
    joins = [at for at, word in enumerate(between) if word in grammar("conjunction")]
    subject = between[joins[-1] + 1 :] if joins else []
    named = bool(subject) and is_class(subject[0], "determiner") and len(subject) > 1
    plain = named and not any(word in _OPENERS or is_class(word, "subordinator", "preposition") for word in subject)
    ends = _closes(here.tokens, here.end)
    return Verb(here.at, here.end, entry, passive=True, opens=False, negated=here.negated) if plain and ends else None


def _does(here: Standing, entry: VerbEntry, forms: set[WordForm]) -> Verb | None:
    """ "The broth simmers"."""
    if here.found and here.found[-1].end == here.at:
        return None
    if WordForm.S not in forms or WordForm.BASE in forms or _in_a_command(here) or not _is_third_person(here):
        return None
    goes_on = here.before == "," and bool(here.found) and here.found[-1].passive
    return Verb(here.at, here.end, entry, opens=here.opens and not goes_on, negated=here.negated)


_FORMS = (_is_done_to, _is_done_too, _is_commanded, _goes_with, _was_done, _does)


def _describes(tokens: Sequence[Token], at: int, last: Verb, foods: frozenset[str]) -> bool:
    """Whether a word that is both says how a food is: one without an article, joined to one that has it."""
    if tokens[at].text not in ADJECTIVES | TEMPERATURES or tokens[at - 1].text not in grammar("conjunction"):
        return False
    articles = any(is_class(token.text, "determiner") for token in tokens[last.end : at])
    behind = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return articles and (singular(behind) in foods or is_class(behind, "everything"))


def _in_a_command(here: Standing) -> bool:
    """Whether a command goes on here, so that no verb in the third person can stand: "layer the plum slices with"."""
    if not here.found or here.found[-1].entry.form is not WordForm.BASE or not here.found[-1].opens:
        return False
    between = [token.text for token in here.tokens[here.found[-1].end : here.at]]
    return bool(between) and not any(
        word in _OPENERS or is_class(word, "subordinator", "aux") or word in grammar("relative") for word in between
    )


def _gapped(tokens: Sequence[Token], at: int, entries: Sequence[VerbEntry]) -> list[VerbEntry]:
    """The verbs of several words whose last word stands later, that which comes first first: "throw the beef in"."""
    later = [token.text for token in tokens[at + 1 : at + 12]]
    there = [entry for entry in entries if entry.rest and entry.rest[-1] in later]
    return sorted(there, key=lambda entry: later.index(entry.rest[-1]))


def _is_participle(here: Standing) -> bool:
    """Whether a word in -ing is a deed that goes with another, and no thing: "the cream and remaining salt"."""
    if is_class(here.word, "rest"):
        return False
    two = is_class(f"{here.word} {here.behind}", "byproduct-", "vessel-")
    if two or is_class(here.word, "product", "noun-too"):
        thing = here.word in grammar("thing in -ing")
        return here.opens and is_class(here.behind, "determiner", "pronoun") and not thing
    ahead = here.tokens[here.at - 1].text if here.at else ""  # "before" may be an adverb too
    return here.opens or bool({here.before, ahead} & grammar("before participle"))


def _is_reduced(here: Standing) -> bool:
    """Whether a participle behind a comma or bracket says what was done to the food before it."""
    closes = _closes(here.tokens, here.at + 1) or _closes(here.tokens, here.end)
    if here.before in grammar("conjunction sign"):
        return closes and bool(here.found) and here.found[-1].passive
    return closes and here.before in grammar("opens participle")


def _closes(tokens: Sequence[Token], at: int) -> bool:
    """Whether a participle ends at a place, or what tells how, when or where it was done begins there."""
    following = tokens[at].text if at < len(tokens) else ""
    return (
        following in grammar("closes participle")
        or is_class(following, "preposition", "adverb")
        or following[:1].isdigit()
        or following.endswith("ly")
        or following in grammar("time adverb")
    )


def _is_counted(here: Standing) -> bool:
    """ "Two gentle stirs": a number stands before it, with at most a word between."""
    ahead = [token.text for token in here.tokens[max(here.place - 1, 0) : here.at]]
    return any(word in grammar("counts") or word[:1].isdigit() for word in ahead)


def _is_third_person(here: Standing) -> bool:
    """Whether a word in -s tells what a food does, and is no plural."""
    noun = is_class(singular(here.word), "noun-first") and not here.opens
    if _is_counted(here):
        return False
    if here.before in grammar("free relative") or here.food or noun:
        return False
    if here.before == "," and here.found and here.found[-1].passive and here.found[-1].opens:
        # "The rice, boiled, goes in."
        return here.behind in grammar("nothing") or _more_follows(here.behind)
    if here.opens:
        return (here.first and not is_class(singular(here.word), "noun-too")) or here.word in grammar("third person")
    if here.before in _PRONOUN_SUBJECTS:
        return True
    subject = here.before[:1].isalpha() and not is_class(here.before, "determiner", "preposition", "subordinator")
    more = _more_follows(here.behind) or here.behind in grammar("particle") or here.behind[:1].isdigit()
    return subject and more and not is_class(singular(here.word), "vessel-")


def _more_follows(word: str) -> bool:
    return is_class(word, "preposition", "determiner", "adverb", "subordinator")
