"""The noun phrases of a clause: what is acted on, what comes to it, where it goes; and how much of each.

"Stir half of the onions and 2 tbsp flour into the sauce" mentions three: half of the onions and two spoons of flour as
objects, the sauce as where they go.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, verb_entries
from labeler.parsing.instructions.model import Mention, Quantity, Role
from labeler.parsing.instructions.places import is_made_of, is_spoken_time, leaves_free
from labeler.parsing.instructions.quantities import quantity_of
from labeler.parsing.instructions.sentences import Token
from labeler.text.plurals import singular

__all__ = ["head_of", "mentions_of"]

_ROLES = {
    word: role
    for name, role in (
        ("comes with", Role.WITH),
        ("goes into", Role.INTO),
        ("comes out of", Role.OUT_OF),
        ("left out", Role.EXCEPT),
        ("tells", Role.EVIDENCE),
    )
    for word in grammar(name)
}
_BEGINS, _GOES_ON, _NO_NOUN = grammar("begins phrase"), grammar("goes on"), grammar("no noun")
_RELATIVE, _KEEPS, _ARTICLE = grammar("relative"), grammar("keeps phrase"), grammar("article")
_NEGATES, _POSSESSIVE, _ENDS = grammar("negates"), grammar("possessive"), grammar("closes mention")
_PLAIN_PRONOUN = grammar("plain pronoun")
_PURPOSE, _VARIETY, _HOT = grammar("purpose"), grammar("gives a variety"), grammar("hot")
_EACH, _YOURS, _IT = grammar("each of several"), grammar("of the cook"), grammar("one thing")
_ADDS = {(word, "by") for word in grammar("adds to a list")}


def mentions_of(
    text: str,
    tokens: Sequence[Token],
    runs: Iterable[tuple[int, int]],
    role: Role,
    *,
    market: str,
    goes_on: frozenset[Role] = frozenset(),
) -> list[Mention]:
    """The noun phrases in some runs of tokens of a clause.

    Parameters
    ----------
    text : str
        The paragraph.
    tokens : sequence of Token
    runs : iterable of (int, int)
        Places of first and behind-last token.
    role : Role
        Of a phrase that no preposition opens.
    market : str
        Whose cups and spoons.
    goes_on : frozenset of Role
        Roles in which a list goes on behind a comma.
    """
    found: list[Mention] = []
    going_on, owner, behind = role, -1, 0
    for start, end in runs:
        going_on = role if start > 0 and tokens[start - 1].text == ":" else going_on
        more = _Phrases(text, tokens[start:end], going_on, market).mentions()
        if start > 0 and tokens[start - 1].text == "(" and behind == start - 1:
            owner = len(found) - 1
        elif any(token.text == ")" for token in tokens[behind:start]):
            owner = -1
        if owner >= 0:  # "the spices (cumin, coriander)"
            found[owner] = replace(found[owner], members=(*found[owner].members, *more))
        behind = end
        if more:  # "with the oil, the vinegar and salt": a list goes on as it began
            going_on = more[-1].role if more[-1].role in goes_on else role
        found += more
    return found


class _Phrases:
    """Cuts a run of tokens into noun phrases, each with its role.

    Each token is tried by the rules in turn; the first that takes it decides, and one that none takes is a word of the
    phrase that is open.
    """

    def __init__(self, text: str, tokens: Sequence[Token], role: Role, market: str) -> None:
        self._text, self._tokens, self._market = text, tokens, market
        self._role = self._begun_as = role
        self._words: list[Token] = []
        self._alternative = self._purpose = False
        self._found: list[Mention] = []

    def mentions(self) -> list[Mention]:
        """The mentions of the run, in order."""
        left_free = 0
        for at, token in enumerate(self._tokens):
            more = self._tokens[at : at + 4]
            left_free = max(left_free, at + leaves_free(more), at + is_spoken_time(more))
            if at < left_free:
                continue  # "the fat of your choice" is the fat, and "an hour and a half" no half of it
            ahead, following = self._word(at - 1), self._word(at + 1)
            if not any(rule(self, at, token.text, ahead, following) for rule in _PHRASE_RULES):
                self._words.append(token)
        self._close()
        return self._found

    def _word(self, at: int) -> str:
        return self._tokens[at].text if 0 <= at < len(self._tokens) else ""

    def _close(self) -> None:
        mention = _mention(self._text, self._words, self._role, self._market) if self._words else None
        if mention is not None:
            self._found.append(replace(mention, alternative=self._alternative, purpose=self._purpose))
        self._words = []

    def _ends(self, at: int, word: str, ahead: str, following: str) -> bool:
        if word not in _ENDS or (word == "-" and self._words):
            return False
        self._close()
        self._alternative = word == "or"
        if word in grammar("conjunction sign") and self._leaves_place(at):
            self._role = self._begun_as
        return True

    def _leaves_place(self, at: int) -> bool:
        """ "The rice out of the bowl and the broth": behind a vessel another thing is named, and no other vessel."""
        placed = bool(self._found) and self._role in (Role.INTO, Role.OUT_OF) and self._found[-1].role is self._role
        if not placed or not is_class(head_of(self._found[-1].name), "vessel-"):
            return False
        behind = [token.text for token in self._tokens[at + 1 : at + 4]]
        return is_class(self._word(at + 1), "determiner") and not any(
            is_class(singular(one), "vessel-") for one in behind
        )

    def _varies(self, at: int, word: str, ahead: str, following: str) -> bool:
        """ "Oil, preferably peanut", "greens such as kale": no further food."""
        if word in _VARIETY or (word == "such" and following == "as"):
            self._close()
            self._alternative = True
            return True
        return word == "as" and ahead == "such"

    def _leaves_some(self, at: int, word: str, ahead: str, following: str) -> bool:
        """ "All but 2 tbsp of the fat" is one phrase."""
        if word != "but" or ahead != "all" or _names_whole(self._tokens[at + 1 : at + 3]):
            return False
        self._words.append(self._tokens[at])
        return True

    def _is_of(self, at: int, word: str, ahead: str, following: str) -> bool:
        if word != "of":
            return False
        if is_made_of(self._words):
            self._close()
        else:
            self._words.append(self._tokens[at])
        return True

    def _tells(self, at: int, word: str, ahead: str, following: str) -> bool:
        """ "To taste", "to improve browning"."""
        if word != "to" or not (following == "taste" or is_class(following, "purpose-verb")):
            return False
        self._close()
        self._role = Role.EVIDENCE
        return True

    def _parts(self, at: int, word: str, ahead: str, following: str) -> bool:
        """ "The wine followed by the stock", "balls about 1 inch across", "about half the wine"."""
        adds = (word, following) in _ADDS or (ahead, word) in _ADDS
        if not adds and not (
            word in grammar("approximately") and (following[:1].isdigit() or following in grammar("counted"))
        ):
            return False
        self._close()
        return True

    def _dangles(self, at: int, word: str, ahead: str, following: str) -> bool:
        """ "Serve the rest beside": nothing follows that it would put the food to."""
        return not following and bool(self._words) and is_class(word, "preposition")

    def _opens_role(self, at: int, word: str, ahead: str, following: str) -> bool:
        if word not in _ROLES:
            return False
        if word != "out" or following == "of":
            self._close()
            self._role, self._purpose, self._alternative = _ROLES[word], word in _PURPOSE, False
        return True

    def _is_manner(self, at: int, word: str, ahead: str, following: str) -> bool:
        in_ly = word.endswith("ly") and len(word) > 4 and not is_class(word, "product")
        two = is_class(f"{word} {following}", "adverb")  # "brown all over"
        if not in_ly and not two and not is_class(word, "adverb"):
            return False
        if self._words and not is_class(self._words[-1].text, "determiner") and word not in _KEEPS:
            self._close()
        return True

    def _denies(self, at: int, word: str, ahead: str, following: str) -> bool:
        if word in _NEGATES:
            self._close()
        return word in _NEGATES

    def _begins_another(self, at: int, word: str, ahead: str, following: str) -> bool:
        """A determiner or a number closes what is open, and is itself tried further: "the peas | 3 minutes"."""
        if _begins_anew(self._words, word, following):
            self._close()
        return False

    def _closes_behind(self, at: int, word: str, ahead: str, following: str) -> bool:
        """ "Balls | placed on a plate", "to the pot | one at a time"."""
        done = is_class(following, "preposition") and following != "of" and _was_done(self._words, word)
        if not done and not (following == "at" and self._word(at + 3) in grammar("at a time")):
            return False
        self._close()
        return True

    def _is_aux(self, at: int, word: str, ahead: str, following: str) -> bool:
        if not is_class(word, "aux") or ahead in _RELATIVE:
            return False
        self._close()
        return True


_PHRASE_RULES = (
    _Phrases._ends, _Phrases._varies, _Phrases._leaves_some, _Phrases._is_of, _Phrases._tells, _Phrases._parts,
    _Phrases._dangles, _Phrases._opens_role, _Phrases._is_manner, _Phrases._denies, _Phrases._begins_another,
    _Phrases._closes_behind, _Phrases._is_aux,
)  # fmt: skip


def _names_whole(tokens: Sequence[Token]) -> bool:
    """Whether a food follows that is left out whole, and no amount of it: "all but the rum"."""
    if len(tokens) < 2 or tokens[0].text in _ARTICLE or not is_class(tokens[0].text, "determiner"):
        return False
    return tokens[1].text not in grammar("counted") and not tokens[1].text[0].isdigit() and tokens[1].text != "last"


def _was_done(words: Sequence[Token], word: str) -> bool:
    """Whether a participle behind a noun tells what was done to it."""
    noun = (
        bool(words) and words[-1].text.isalpha() and not is_class(words[-1].text, "determiner", "adverb", "preposition")
    )
    return noun and word.endswith("ed") and any(one.form is WordForm.ED for one in verb_entries(word))


def _begins_anew(words: Sequence[Token], word: str, following: str) -> bool:
    """Whether a determiner or a number begins another phrase: "the peas | 3 minutes"."""
    nouns = [
        one.text
        for one in words
        if one.text[0].isalpha() and not is_class(one.text, "determiner") and one.text not in _NO_NOUN
    ]
    if not nouns or words[-1].text in _GOES_ON:
        return False
    return word in _BEGINS or (word[0].isdigit() and following[:1].isalpha() and not is_class(nouns[-1], "rest"))


_DEFINITE = grammar("definite")


def _mention(text: str, words: Sequence[Token], role: Role, market: str) -> Mention | None:
    """The mention that a phrase makes, or None for one without a noun."""
    said = text[words[0].start : words[-1].end]
    quantity, name = quantity_of(" ".join(token.text for token in words), market=market)
    if not any(letter.isalpha() for letter in name) and is_class(words[-1].text, "vessel-"):
        quantity, name = Quantity(), words[-1].text  # "in a cup"
    if not any(letter.isalpha() for letter in name) and len(words) > 1 and is_class(words[-1].text, "pronoun"):
        name = words[-1].text  # "a cup of that"
    if (not name and len(words) == 1 and is_class(words[0].text, "pronoun")) or words[0].text in _PLAIN_PRONOUN:
        name = words[0].text  # "scatter this over the fruit", "boil it whole"
    if not any(letter.isalpha() for letter in name) or is_class(name, "adverb", "preposition"):
        return None
    definite = any(token.text in _DEFINITE for token in words[:4])
    vessel, _, held = name.partition(" of ")
    return Mention(
        said,
        name,
        role,
        quantity,
        definite=definite,
        possessive=any(one.text in _POSSESSIVE for one in words[:-1]),
        water_in_vessel=held.rsplit(" ", 1)[-1] == "water" and is_class(head_of(vessel), "vessel-"),
        each=words[0].text in _EACH,
        yours=words[0].text in _YOURS,
        says_it=name in _IT and any(token.text in _IT for token in words),
        hot=any(token.text in _HOT for token in words),
    )


def head_of(name: str) -> str:
    """The last word of a phrase, in the singular."""
    return singular(name.rsplit(" ", 1)[-1])
