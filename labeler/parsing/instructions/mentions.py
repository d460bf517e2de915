"""The noun phrases of a clause: what is acted on, what comes to it, where it goes; and how much of each.

"Stir half of the onions and 2 tbsp flour into the sauce" mentions three: half of the onions and two spoons of flour as
objects, the sauce as where they go.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from labeler.parsing.ingredient.amounts import read_unit
from labeler.parsing.instructions.grammar import fractions, grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, verb_entries
from labeler.parsing.instructions.model import Extent, Mention, Quantity, Role
from labeler.parsing.instructions.places import is_made_of, leaves_free
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.numbers import read_quantity
from labeler.parsing.units import grams_per, kind, millilitres_per
from labeler.text.plurals import singular
from labeler.types import Interval

__all__ = ["mentions_of", "quantity_of"]

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


@dataclass
class _Open:
    role: Role
    words: list[Token]
    alternative: bool = False
    purpose: bool = False


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
        more = _run(text, tokens[start:end], going_on, market)
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


def _run(text: str, tokens: Sequence[Token], role: Role, market: str) -> list[Mention]:
    found: list[Mention] = []
    now = _Open(role, [])

    def flush() -> None:
        if now.words:
            mention = _mention(text, now.words, now.role, market)
            if mention is not None:
                found.append(replace(mention, alternative=now.alternative, purpose=now.purpose))
        now.words = []

    left_free = 0
    for at, token in enumerate(tokens):
        word = token.text
        left_free = max(left_free, at + leaves_free(tokens[at : at + 4]))
        if at < left_free:
            continue  # "the fat of your choice" is the fat
        ahead = tokens[at - 1].text if at else ""
        following = tokens[at + 1].text if at + 1 < len(tokens) else ""
        if word in _ENDS and not (word == "-" and now.words):
            flush()
            now.alternative = word == "or"
            continue
        if word in _VARIETY or (word == "such" and following == "as"):
            flush()
            now.alternative = True  # "oil, preferably peanut", "greens such as kale": no further food
            continue
        if word == "as" and ahead == "such":
            continue
        if word == "but" and ahead == "all" and not _names_whole(tokens[at + 1 : at + 3]):
            now.words.append(token)  # "all but 2 tbsp of the fat"
            continue
        if word == "of":
            if is_made_of(now.words):
                flush()
            else:
                now.words.append(token)
            continue
        if word == "to" and (following == "taste" or is_class(following, "purpose-verb")):
            flush()
            now.role = Role.EVIDENCE  # "to taste", "to improve browning"
            continue
        if (word, following) in _ADDS or (ahead, word) in _ADDS:
            flush()  # "the wine followed by the stock"
            continue
        if word == "about" and (following[:1].isdigit() or following in grammar("counted")):
            flush()  # "balls about 1 inch across", "about half the wine"
            continue
        if not following and now.words and is_class(word, "preposition"):
            continue  # "serve the rest beside": nothing follows that it would put the food to
        if word in _ROLES:
            if word == "out" and following != "of":
                continue
            flush()
            now.role, now.purpose = _ROLES[word], word in _PURPOSE
            now.alternative = False
            continue
        if is_class(word, "adverb") or (word.endswith("ly") and len(word) > 4 and not is_class(word, "product")):
            if now.words and not is_class(now.words[-1].text, "determiner") and word not in _KEEPS:
                flush()
            continue
        if word in _NEGATES:
            flush()
            continue
        if _begins_anew(now.words, word, following):
            flush()
        if now.words and is_class(following, "preposition") and following != "of" and _was_done(now.words, word):
            flush()  # "balls | placed on a plate"
            continue
        if following == "at" and tokens[at + 3 : at + 4] and tokens[at + 3].text in grammar("at a time"):
            flush()  # "to the pot | one at a time"
            continue
        if is_class(word, "aux") and ahead not in _RELATIVE:
            flush()
            continue
        if is_class(word, "aux"):
            now.words.append(token)
            continue
        now.words.append(token)
    flush()
    return found


def _names_whole(tokens: Sequence[Token]) -> bool:
    """Whether a food follows that is left out whole, and no amount of it: "all but the rum"."""
    if len(tokens) < 2 or tokens[0].text in _ARTICLE or not is_class(tokens[0].text, "determiner"):
        return False
    return tokens[1].text not in grammar("counted") and not tokens[1].text[0].isdigit() and tokens[1].text != "last"


def _was_done(words: Sequence[Token], word: str) -> bool:
    """Whether a participle behind a noun tells what was done to it."""
    noun = words[-1].text.isalpha() and not is_class(words[-1].text, "determiner", "adverb", "preposition")
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


_SHARES = fractions("part")
_MANY = {word: many for word, many in fractions("many").items() if word.isalpha()}
_PART = re.compile(
    rf"^(?:(?:about|roughly|around|only|just|another|the|first|last|other)\s+)*(?:(?P<many>{'|'.join(_MANY)})[\s-]+)?"
    rf"(?P<part>{'|'.join(_SHARES)})s?\b"
    r"(?!\s+(?:and half|an?\s+(?:hour|cup|inch|pound|lemon|onion)|of\s+an?\s|-and-half))"
    r"(?:\s+(?:of|each of|each)\b)?\s*(?:each\s+of\s+)?",
    re.IGNORECASE,
)
_FRACTION = re.compile(
    r"^(?:about\s+|the\s+|another\s+)*(?P<num>\d+/\d+|[½¼¾⅓⅔⅛]|\d+(?:[.,]\d+)?\s*%|\d+(?:[.,]\d+)?\s*per\s*cent)\s+(?:of\s+)?(?=(?:the|your|each|it|that|this|these)\b)",
    re.IGNORECASE,
)
_REST = re.compile(
    r"^(?:all\s+)?(?:of\s+)?(?:the\s+|their\s+|its\s+)?(?:what(?:ever)?(?:'s| is| was) left(?:\s+over)?(?:\s+of)?|"
    r"rest(?:\s+of)?|"
    r"remaining|remainder(?:\s+of)?|leftover|other|last of|reserved|others)\b\s*",
    re.IGNORECASE,
)
_IS_LEFT = re.compile(r"\s+left(?:\s+over)?$", re.IGNORECASE)  # "any batter left"
_MOST = re.compile(r"^most(?:\s+of)?\b\s*", re.IGNORECASE)
_SOME = re.compile(
    r"^(?:an?\s+)?(?:some(?:\s+of)?|little(?:\s+of|\s+bit\s+of)?|bit(?:\s+of)?|few(?:\s+of)?|touch of|lot of|lots of|"
    r"couple(?:\s+of)?|handful of|generous amount of|good amount of|several|enough|part of|more|dollop of|spoonful of|"
    r"drizzle of|splash of|drop of|drops of|additional small amount of|small amount of|knob of|glug of|drizzling of|"
    r"sprinkling of|plenty of|equal (?:amount|quantity) of)\b\s*",
    re.IGNORECASE,
)
_FILM = re.compile(r"^(?:a\s+)?(?:film|thin coat|thin layer|light coating|coating|light coat)\s+of\s+", re.IGNORECASE)
_ALL_BUT = re.compile(r"^all but\s+(?:about\s+)?", re.IGNORECASE)
_ALL = re.compile(
    r"^(?:all(?:\s+of)?|both|each(?:\s+of)?|every(?:\s+(?:last\s+)?(?:bit|drop|scrap|grain) of)?|whole of)\b\s*",
    re.IGNORECASE,
)
_ARTICLES = re.compile(
    r"^(?:the|a|an|your|my|our|their|its|this|that|these|those|any|no|same|another|of)\b\s*", re.IGNORECASE
)
_MOST_SHARE = Interval(0.75, 0.6, 0.9, "“most of”: common practice, no source")
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


def quantity_of(phrase: str, *, market: str = "us") -> tuple[Quantity, str]:
    """How much of what a phrase means, and the phrase without that.

    Parameters
    ----------
    phrase : str
        In lower case, without the preposition before it.
    market : str
        Whose cups and spoons.
    """
    phrase = phrase.strip(" .,-")
    plain = _ARTICLES.sub("", phrase, count=1)
    if (made := next((one for one in (plain, _bare(phrase)) if is_class(one, "made-")), None)) is not None:
        return Quantity(), made
    if (hit := _IS_LEFT.search(phrase)) and not _REST.match(phrase):
        return replace(quantity_of(phrase[: hit.start()], market=market)[0], extent=Extent.REST), _bare(
            phrase[: hit.start()]
        )
    if hit := _ALL_BUT.match(phrase):
        inner, name = quantity_of(phrase[hit.end() :], market=market)
        return replace(inner, extent=Extent.ALL_BUT), name
    if hit := _REST.match(phrase):
        rest = phrase[hit.end() :]
        if hit[0].strip().endswith("other") and (part := _PART.match(rest)):
            rest = rest[part.end() :]
        inner, name = quantity_of(rest, market=market) if rest else (Quantity(), "rest")
        return replace(inner, extent=Extent.REST), name or "rest"
    if (hit := _FRACTION.match(phrase)) is not None:
        value = read_quantity(hit["num"].replace("%", "").replace("per cent", "").strip(), 0)
        if value is not None:
            share = value.low / (100.0 if "%" in hit["num"] or "cent" in hit["num"] else 1.0)
            if 0.0 < share <= 1.0:
                return Quantity(Extent.SHARE, Interval(share, share, share)), _bare(phrase[hit.end() :])
    if (
        re.match(r"(?:half an?|an? half|an? quarter|three quarters of an?)\s", phrase)
        and (some := _amount(phrase, market)) is not None
    ):
        return some
    if (hit := _PART.match(phrase)) is not None and not re.match(r"\d", phrase):
        share = min(1.0, _MANY.get((hit["many"] or "a").lower(), 1) * _SHARES[hit["part"].lower()])
        rest = phrase[hit.end() :]
        if not re.match(
            r"(?:an? |one )?(?:hour|minute|inch|glass|mug|can|jar|stick|cup|teaspoon|tablespoon|pound|pint|lit|dozen|"
            r"way)",
            rest,
        ):
            extent = Extent.REST if re.search(r"\bother\b", hit[0]) else Extent.SHARE
            return Quantity(extent, Interval(share, share, share)), _bare(rest) or "it"
    if hit := _MOST.match(phrase):
        return Quantity(Extent.SHARE, _MOST_SHARE), _bare(phrase[hit.end() :])
    if hit := _FILM.match(phrase):
        return Quantity(Extent.FILM), _bare(phrase[hit.end() :])
    amount = _amount(phrase, market)
    if amount is not None:
        return amount
    if hit := _SOME.match(phrase):
        inner, name = quantity_of(phrase[hit.end() :], market=market) if phrase[hit.end() :] else (Quantity(), "")
        return (inner if inner.extent is not Extent.ALL else Quantity(Extent.SOME)), name
    if hit := _ALL.match(phrase):
        rest = phrase[hit.end() :]
        return Quantity(Extent.ALL, Interval(1.0, 1.0, 1.0)), _bare(rest) or "everything"
    return Quantity(), _bare(phrase)


_TRAILING = re.compile(
    r"\s+(?:overnight|away|out|back|off|aside|dry|down|up|in|over|apart|again|together|all|well|evenly|too|on|through|right|straight|instead|first|separately|of)$"
)


def _bare(name: str) -> str:
    name = name.strip(" .,-")
    while (short := _TRAILING.sub("", name)) != name:
        name = short
    while (short := _ARTICLES.sub("", name, count=1)) != name:
        name = short
    return name


def _amount(phrase: str, market: str) -> tuple[Quantity, str] | None:
    """A weight, a volume or a count at the head of a phrase."""
    start = re.match(r"(?:(?:the|your|about|approximately|another|around|roughly|an additional|remaining)\s+)*", phrase)
    at = start.end() if start is not None else 0
    value = read_quantity(phrase, at)
    if value is None or value.end <= at:
        return None
    unit = read_unit(phrase, value.end)
    what = kind(unit.name) if unit is not None else None
    word = phrase[at : value.end].strip()
    if unit is not None and what in ("mass", "volume"):
        factor = grams_per(unit.name) if what == "mass" else _millilitres(unit.name, market)
        if factor is None:
            return None
        low, high = value.low * factor, value.high * factor
        interval = Interval((low + high) / 2.0, low, high)
        if value.about:
            interval = Interval(interval.best, 0.85 * low, 1.15 * high, "about: common practice, no source")
        name = _bare(phrase[unit.end :])
        rest = re.match(r"(?:more|extra)\s+", name)
        name = name[rest.end() :] if rest else name
        if what == "mass":
            return Quantity(Extent.AMOUNT, grams=interval), name
        return Quantity(Extent.AMOUNT, millilitres=interval), name
    if word in _ARTICLE:
        return (Quantity(Extent.SOME), _bare(phrase[unit.end :])) if unit is not None and what is not None else None
    behind = phrase[value.end :].strip()
    if (
        re.match(
            r"(?:°|degree|minute|mins?\b|hour|hrs?\b|second|secs?\b|day|week|mm\b|cm\b|inch|c\b|f\b|%|times?\b|x\b|side|batch)",
            behind,
        )
        or not behind
    ):
        return Quantity(), ""
    count = Interval((value.low + value.high) / 2.0, value.low, value.high)
    return Quantity(Extent.AMOUNT, count=count), _bare(phrase[(unit.end if unit is not None else value.end) :])


def _millilitres(unit: str, market: str) -> float | None:
    try:
        return millilitres_per(unit, market=market)
    except KeyError:
        return millilitres_per(unit)


def head_of(name: str) -> str:
    """The last word of a phrase, in the singular."""
    return singular(name.rsplit(" ", 1)[-1])
