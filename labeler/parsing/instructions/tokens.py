"""Which words of a sentence of the method are verbs.

Whether a word is a verb or a noun is settled here once, by where it stands: "butter the dish" and "melt the butter",
"salt it" and "the salt", "drained beans" and "the beans are drained".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from labeler.parsing.instructions.actions import Heat, action
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
from labeler.parsing.line_words import ADJECTIVES, TEMPERATURES
from labeler.text.plurals import singular

__all__ = ["Verb", "find_verbs"]


@dataclass(frozen=True, slots=True)
class Verb:
    """A token that is a verb: its place, the place behind its last word, the entry, and how it stands."""

    at: int
    end: int
    entry: VerbEntry
    passive: bool = False
    after_let: bool = False
    infinitive: bool = False
    negated: bool = False
    opens: bool = True  # begins its clause, and has no subject before it
    mended: bool = False  # written otherwise: a typo of it
    silent: bool = False  # not written: "peas in"


_OPENERS, _NEGATES, _AROUND = grammar("opens"), grammar("negates"), grammar("around")
_PRONOUN_SUBJECTS, _SUBJECT_OR_PLEA = grammar("subject"), grammar("subject or plea")


def _adverb(word: str) -> bool:
    return is_class(word, "adverb") or (word.endswith("ly") and len(word) > 4)


def _behind(tokens: Sequence[Token], at: int) -> str:
    """The next token that is no adverb, or ""."""
    while at < len(tokens) and _adverb(tokens[at].text) and tokens[at].text not in grammar("no adverb"):
        at += 1
    return tokens[at].text if at < len(tokens) else ""


def _before(tokens: Sequence[Token], at: int) -> tuple[int, str]:
    """The token before that is no adverb, and its place; (-1, "") at the start."""
    at -= 1
    while at >= 0 and _adverb(tokens[at].text) and tokens[at].text != "then":
        at -= 1
    return (at, tokens[at].text) if at >= 0 else (-1, "")


def _noun_follows(word: str) -> bool:
    """Whether a word is what an object begins with."""
    return (
        is_class(word, "determiner", "pronoun", "everything", "rest")
        or word[:1].isdigit()
        or (word[:1] != "" and word[:1] in "½¼¾⅓⅔⅛")
        or word in grammar("object begins")
    )


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
    """The longest verb whose words stand here side by side, and the place behind it."""
    for entry in verb_entries(tokens[at].text):
        words = [token.text for token in tokens[at + 1 : at + 1 + len(entry.rest)]]
        end = at + 1 + len(entry.rest)
        if tuple(words) == entry.rest and not (entry.rest == ("in",) and is_vessel_phrase(tokens, end)):
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
    word = tokens[at].text
    following = tokens[at + 1].text if at + 1 < len(tokens) else ""
    ahead = tokens[at - 1].text if at else ""
    if at > 0 and is_class(singular(following), "vessel-") and is_class(word, "noun-too"):
        return None
    if (word, singular(following)) in pairs or (ahead, singular(word)) in pairs:
        return None
    if word in grammar("did") and following in _NEGATES:
        return None  # "do not drain"
    if found and _describes(tokens, at, found[-1], foods):
        return None  # "mix the flour and warm milk"
    hit = _entry_at(tokens, at)
    place, before = _before(tokens, at)
    if word in grammar("cover state") and not is_class(before, "aux"):
        return None  # how it is cooked: "simmer, covered, 20 minutes"
    behind = _behind(tokens, hit[1] if hit is not None else at + 1)
    if hit is None:  # a verb of several words that have others between them
        entries = [entry for entry in verb_entries(word) if not entry.rest]
        entries = entries or _gapped(tokens, at, verb_entries(word))
        if not entries:
            return None
        entry, end = entries[0], at + 1
    else:
        entry, end = hit
    forms = {one.form for one in verb_entries(word) if one.rest == entry.rest}
    negated = before in _NEGATES or (
        before in grammar("negated through") and place > 0 and tokens[place - 1].text in _NEGATES
    )
    opens = place < 0 or before in _OPENERS
    told = tokens[place - 1].text if denied_passive(tokens, place) else before
    if is_class(told, "aux") and place > 0 and tokens[place - 1].text in grammar("free relative"):
        return None  # "what is left of the sugar"
    if WordForm.ED in forms and is_class(told, "aux") and told not in grammar("did"):
        chosen = next((one for one in verb_entries(word) if one.form is WordForm.ED and one.rest == entry.rest), entry)
        return Verb(at, end, chosen, passive=True, opens=False, negated=negated)
    if WordForm.BASE in forms and told in grammar("passive with") and is_unchanging(entry.base):
        return Verb(at, end, entry, passive=True, opens=False, negated=negated)  # "the legs are put in"
    if WordForm.BASE in forms and _is_base_verb(tokens, at, end, place, before, behind, foods, found):
        after_let = _after_let(found, at)
        infinitive = before == "to"
        return Verb(at, end, entry, after_let=after_let, infinitive=infinitive, negated=negated, opens=opens or negated)
    if WordForm.ING in forms and word.endswith("ing") and _is_participle(tokens, at, before, behind, opens):
        return Verb(at, end, entry, negated=negated, opens=True)
    if WordForm.ED in forms and opens and _is_reduced(tokens, at, end, before, found):
        return Verb(at, end, entry, passive=True, opens=True, negated=negated)
    if found and found[-1].end == at:
        return None
    if (
        WordForm.S in forms
        and WordForm.BASE not in forms
        and not _in_a_command(tokens, at, found)
        and _is_third_person(word, place, before, behind, foods, opens, found)
    ):
        goes_on = before == "," and bool(found) and found[-1].passive
        return Verb(at, end, entry, opens=opens and not goes_on, negated=negated)
    return None


def _describes(tokens: Sequence[Token], at: int, last: Verb, foods: frozenset[str]) -> bool:
    """Whether a word that is both says how a food is: one without an article, joined to one that has it."""
    if tokens[at].text not in ADJECTIVES | TEMPERATURES or tokens[at - 1].text not in grammar("conjunction"):
        return False
    articles = any(is_class(token.text, "determiner") for token in tokens[last.end : at])
    behind = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return articles and (singular(behind) in foods or is_class(behind, "everything"))


def _in_a_command(tokens: Sequence[Token], at: int, found: Sequence[Verb]) -> bool:
    """Whether a command goes on here, so that no verb in the third person can stand: "layer the plum slices with"."""
    if not found or found[-1].entry.form is not WordForm.BASE or not found[-1].opens:
        return False
    between = [token.text for token in tokens[found[-1].end : at]]
    return bool(between) and not any(
        word in _OPENERS or is_class(word, "subordinator", "aux") or word in grammar("relative") for word in between
    )


def denied_passive(tokens: Sequence[Token], place: int) -> bool:
    """Whether a denial stands behind an auxiliary: "the oil is not used"."""
    return place > 0 and tokens[place].text == "not" and is_class(tokens[place - 1].text, "aux")


def _gapped(tokens: Sequence[Token], at: int, entries: Sequence[VerbEntry]) -> list[VerbEntry]:
    """The verbs of several words whose last word stands later, that which comes first first: "throw the beef in"."""
    later = [token.text for token in tokens[at + 1 : at + 12]]
    there = [entry for entry in entries if entry.rest and entry.rest[-1] in later]
    return sorted(there, key=lambda entry: later.index(entry.rest[-1]))


def _after_let(found: Sequence[Verb], at: int) -> bool:
    """Whether the last verb before lets something happen to a food: "let it bubble", "leave to drain"."""
    return bool(found) and found[-1].entry.base in grammar("lets happen") and at - found[-1].end <= 6


def _is_base_verb(
    tokens: Sequence[Token],
    at: int,
    end: int,
    place: int,
    before: str,
    behind: str,
    foods: frozenset[str],
    found: Sequence[Verb],
) -> bool:
    word = tokens[at].text
    doubtful = is_class(word, "noun-too") or singular(word) in foods
    if is_class(word, "modal-may") and before in grammar("persons"):
        return False  # "so you can stir"
    if doubtful and before == "," and behind == "," and _in_a_list(tokens, end + 1):
        return False  # "add stock, puree, tomato paste"
    if before in _NEGATES or before in _SUBJECT_OR_PLEA:
        return True
    if is_class(before, "aux"):
        said = place > 0 and tokens[place - 1].text in grammar("persons")  # "you can roast it": no tin
        return said or not doubtful or not (is_class(before, "determiner") or verb_entries(before))
    if before == "to":
        return place > 0 and not is_class(word, "tool") and word not in grammar("infinitive no")
    if (
        word in grammar("stays")
        and before[:1].isalpha()
        and not is_class(before, "determiner", "preposition", "subordinator")
    ):
        return True
    if place < 0 or before in _OPENERS:
        if not doubtful or end - at > 1:
            return True
        if place < 0 and tokens[end : end + 1] and tokens[end].text.endswith("ly") and _adverb(tokens[end].text):
            return True  # "heat gently", "butter lightly": a noun has no manner
        if singular(word) in foods:
            if place < 0 and any(is_class(singular(token.text), "vessel-") for token in tokens[end : end + 4]):
                return True
            if place < 0 and (behind in grammar("heat goes on") or behind[:1].isdigit()) and _heats(word):
                return True  # "Roast at 200 °C" of a rib roast
            return _noun_follows(behind) and behind not in _AROUND
        if place < 0 or before in grammar("new clause"):
            if not is_class(word, "noun-first"):
                return behind != "of"
            if is_class(behind, "aux"):
                return False  # "bread is good with it"
            alone = end >= len(tokens) or tokens[end].text in grammar("sentence end")
            if behind in grammar("two deeds") and is_class(word, "vessel-") and _verb_behind(tokens, end):
                return True  # "pot and cover": a vessel is in no list of foods
            return alone or behind not in grammar("no verb follows")
        if _noun_follows(behind) or behind[:1].isdigit() or behind in grammar("verb follows"):
            return True
        # "drain and rinse.", "add the salt, cover and simmer": deeds; "salt, butter and spice": things.
        if behind == ":" and not found and is_class(tokens[0].text, "preposition"):
            return True  # "In a pot, place: mussels, bacon"
        last = found[-1] if found else None
        return not is_class(word, "noun-first") or (last is not None and last.end >= place)
    if _after_let(found, at) and not doubtful:
        return True
    if (
        _after_let(found, at)
        and found[-1].entry.base in grammar("allows")
        and (behind in grammar("happens") or behind[:1].isdigit())
    ):
        return not is_class(before, "determiner", "preposition")
    # Behind an opening phrase without a comma: "In a hot wok add oil", "Meanwhile boil the spaghetti".
    opening = tokens[0].text
    fronted = is_class(opening, "preposition", "time-lead", "subordinator", "adverb") or _adverb(opening)
    if fronted and not is_class(before, "determiner", "preposition", "subordinator") and not before.endswith("-"):
        early = not any(verb.opens for verb in found)
        if (
            early
            and not doubtful
            and (_noun_follows(behind) or singular(behind) in foods or behind in grammar("nothing"))
        ):
            return True
        if is_class(singular(before), "vessel-") and (singular(behind) in foods or behind == ":"):
            return early  # "In a pot place mussels"
        in_vessel = is_class(singular(before), "vessel-") and behind[:1].isdigit()
        begins = is_class(behind, "determiner", "pronoun", "everything") and singular(before) not in foods
        return early and doubtful and (begins or in_vessel)  # "in a wok heat 2 tbsp oil"
    return False


def _in_a_list(tokens: Sequence[Token], at: int) -> bool:
    """Whether another thing follows a comma, and neither a deed nor how or when it is done."""
    word = tokens[at].text if at < len(tokens) else ""
    told = is_class(word, "preposition", "adverb", "subordinator", "time-lead") or word in grammar("conjunction sign")
    return word.isalpha() and not verb_entries(word) and not told and not word.endswith("ly")


def _heats(word: str) -> bool:
    return any(action(entry.action).heat is not Heat.NONE for entry in verb_entries(word))


def _verb_behind(tokens: Sequence[Token], end: int) -> bool:
    """Whether what follows a comma or a conjunction is a verb of its own: "strain, keep the liquid"."""
    at = end + 1
    while at < len(tokens) and (_adverb(tokens[at].text) or tokens[at].text in grammar("and then")):
        at += 1
    return at < len(tokens) and any(entry.form is WordForm.BASE for entry in verb_entries(tokens[at].text))


def _is_participle(tokens: Sequence[Token], at: int, before: str, behind: str, opens: bool) -> bool:
    word = tokens[at].text
    if is_class(word, "rest"):
        return False  # "the cream and remaining salt"
    if is_class(word, "product", "noun-too") or (
        f"{word} {behind}" and is_class(f"{word} {behind}", "byproduct-", "vessel-")
    ):
        return opens and is_class(behind, "determiner", "pronoun") and word not in grammar("thing in -ing")
    if before in grammar("before participle"):
        return True
    return opens


def _is_reduced(tokens: Sequence[Token], at: int, end: int, before: str, found: Sequence[Verb]) -> bool:
    """Whether a participle behind a comma or bracket says what was done to the food before it."""
    closes = _closes(tokens, at + 1) or _closes(tokens, end)
    if before in grammar("conjunction sign"):
        return closes and bool(found) and found[-1].passive
    return closes and before in grammar("opens participle")


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


def _is_third_person(
    word: str, place: int, before: str, behind: str, foods: frozenset[str], opens: bool, found: Sequence[Verb]
) -> bool:
    if (
        before in grammar("free relative")
        or singular(word) in foods
        or (is_class(singular(word), "noun-first") and not opens)
    ):
        return False
    if before == "," and found and found[-1].passive and found[-1].opens:
        # "The rice, boiled, goes in."
        return behind in grammar("nothing") or is_class(behind, "preposition", "determiner", "adverb", "subordinator")
    if opens:
        return (place < 0 and not is_class(singular(word), "noun-too")) or word in grammar("third person")
    return before in _PRONOUN_SUBJECTS or (
        before[:1].isalpha()
        and not is_class(before, "determiner", "preposition", "subordinator")
        and (
            is_class(behind, "preposition", "determiner", "adverb", "subordinator")
            or behind in grammar("particle")
            or behind[:1].isdigit()
        )
        and not is_class(singular(word), "vessel-")
    )
