"""Whether a word in its base form is a deed where it stands, or a noun: "butter the dish", "melt the butter".

The rules are asked in turn; the first that knows decides.
"""

from __future__ import annotations

from collections.abc import Sequence

from labeler.parsing.instructions.actions import Gathers, Heat, action
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, verb_entries
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.standing import Standing, after_let, is_adverb, noun_follows
from labeler.text.plurals import singular

__all__ = ["is_base_verb"]


def is_base_verb(here: Standing) -> bool:
    """Whether a word that has a verb's base form is that verb where it stands."""
    known = (rule(here) for rule in _RULES)
    return next((one for one in known if one is not None), False)


def _only_told(here: Standing) -> bool | None:
    """ "So you can stir"; "add stock, puree, tomato paste"."""
    if is_class(here.word, "modal-may") and here.before in grammar("persons"):
        return False
    listed = here.doubtful and here.before == "," and here.behind == ","
    return False if listed and _in_a_list(here.tokens, here.end + 1) else None


def _asked(here: Standing) -> bool | None:
    """ "Do not stir", "you stir", "please stir"."""
    return True if here.before in _NEGATES or here.before in _SUBJECT_OR_PLEA else None


def _behind_auxiliary(here: Standing) -> bool | None:
    """ "You can roast it": no tin."""
    if not is_class(here.before, "aux"):
        return None
    if here.place > 0 and here.earlier in grammar("persons"):
        return True
    return not here.doubtful or not (is_class(here.before, "determiner") or verb_entries(here.before))


def _infinitive(here: Standing) -> bool | None:
    if here.before != "to":
        return None
    return here.place > 0 and not is_class(here.word, "tool") and here.word not in grammar("infinitive no")


def _stays(here: Standing) -> bool | None:
    """ "The pan stays covered"."""
    noun = here.before[:1].isalpha() and not is_class(here.before, "determiner", "preposition", "subordinator")
    return True if noun and here.word in grammar("stays") else None


def _certain(here: Standing) -> bool | None:
    """A word that opens its clause and is no noun, or is one that has a manner: "heat gently", "butter lightly"."""
    if not here.opens:
        return None
    if not here.doubtful or here.end - here.at > 1:
        return True
    return True if here.first and here.following.endswith("ly") and is_adverb(here.following) else None


def _also_food(here: Standing) -> bool | None:
    """A word that opens its clause and names a food of the recipe: "Roast at 200 °C" of a rib roast."""
    if not here.opens or not here.food:
        return None
    if here.first:
        near = here.tokens[here.end : here.end + 4]
        heats = (here.behind in grammar("heat goes on") or here.behind[:1].isdigit()) and _heats(here.word)
        if heats or any(is_class(singular(token.text), "vessel-") for token in near):
            return True
    return noun_follows(here.behind) and here.behind not in _AROUND


def _begins_sentence(here: Standing) -> bool | None:
    """A word that is a noun too, at the start of a sentence or behind a word that begins another clause."""
    if not here.opens or not (here.first or here.before in grammar("new clause")):
        return None
    if not is_class(here.word, "noun-first"):
        return here.behind != "of"
    if is_class(here.behind, "aux"):
        return False  # "bread is good with it"
    two = here.behind in grammar("two deeds") and is_class(here.word, "vessel-")
    if two and _verb_behind(here.tokens, here.end):
        return True  # "pot and cover": a vessel is in no list of foods
    alone = here.end >= len(here.tokens) or here.following in grammar("sentence end")
    return alone or here.behind not in grammar("no verb follows")


def _goes_on(here: Standing) -> bool | None:
    """ "Drain and rinse.", "add the salt, cover and simmer": deeds; "salt, butter and spice": things."""
    if not here.opens:
        return None
    if noun_follows(here.behind) or here.behind[:1].isdigit() or here.behind in grammar("verb follows"):
        return True
    if here.behind == "back" and _puts(here.word):
        return True  # ", place back into the oven"
    if here.behind == ":" and not here.found and is_class(here.tokens[0].text, "preposition"):
        return True  # "In a pot, place: mussels, bacon"
    last = here.found[-1] if here.found else None
    return not is_class(here.word, "noun-first") or (last is not None and last.end >= here.place)


def _lets(here: Standing) -> bool | None:
    """ "Let it bubble", "allow the dough 2 hours"."""
    if not after_let(here.found, here.at):
        return None
    if not here.doubtful:
        return True
    happens = here.behind in grammar("happens") or here.behind[:1].isdigit()
    if here.found[-1].entry.base not in grammar("allows") or not happens:
        return None
    return not is_class(here.before, "determiner", "preposition")


def _behind_opening_phrase(here: Standing) -> bool | None:
    """Behind an opening phrase without a comma: "In a hot wok add oil", "Meanwhile boil the spaghetti"."""
    opening = here.tokens[0].text
    if not (is_class(opening, "preposition", "time-lead", "subordinator", "adverb") or is_adverb(opening)):
        return None
    if is_class(here.before, "determiner", "preposition", "subordinator") or here.before.endswith("-"):
        return None
    if any(verb.opens for verb in here.found):
        return False
    food_behind = singular(here.behind) in here.foods
    if not here.doubtful and (noun_follows(here.behind) or food_behind or here.behind in grammar("nothing")):
        return True
    in_vessel = is_class(singular(here.before), "vessel-")
    if in_vessel and (food_behind or here.behind == ":"):
        return True  # "In a pot place mussels"
    begins = is_class(here.behind, "determiner", "pronoun", "everything") and singular(here.before) not in here.foods
    return here.doubtful and (begins or (in_vessel and here.behind[:1].isdigit()))  # "in a wok heat 2 tbsp oil"


def _in_a_list(tokens: Sequence[Token], at: int) -> bool:
    """Whether another thing follows a comma, and neither a deed nor how or when it is done."""
    word = tokens[at].text if at < len(tokens) else ""
    told = is_class(word, "preposition", "adverb", "subordinator", "time-lead") or word in grammar("conjunction sign")
    return word.isalpha() and not verb_entries(word) and not told and not word.endswith("ly")


def _heats(word: str) -> bool:
    return any(action(entry.action).heat is not Heat.NONE for entry in verb_entries(word))


def _puts(word: str) -> bool:
    return any(action(entry.action).gathers is Gathers.INTO for entry in verb_entries(word))


def _verb_behind(tokens: Sequence[Token], end: int) -> bool:
    """Whether what follows a comma or a conjunction is a verb of its own: "strain, keep the liquid"."""
    at = end + 1
    while at < len(tokens) and (is_adverb(tokens[at].text) or tokens[at].text in grammar("and then")):
        at += 1
    return at < len(tokens) and any(entry.form is WordForm.BASE for entry in verb_entries(tokens[at].text))


_NEGATES, _SUBJECT_OR_PLEA, _AROUND = grammar("negates"), grammar("subject or plea"), grammar("around")
_RULES = (
    _only_told, _asked, _behind_auxiliary, _infinitive, _stays, _certain, _also_food, _begins_sentence, _goes_on, _lets,
    _behind_opening_phrase,
)  # fmt: skip
