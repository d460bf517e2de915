"""Where the name of the food ends in a line, and the foods and choices that it goes on to list.

"parsley, chopped", "salt, pepper and thyme", "butter, or lard": the tail is cut into phrases, and what is a food or a
choice among them goes back to the name.
"""

from __future__ import annotations

import re
from itertools import islice

from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.ingredient.leading_amount import read_head
from labeler.parsing.ingredient.name import is_preparation, only_describes, share_head
from labeler.parsing.line_words import FORMS
from labeler.parsing.units import canonical_unit, kind

__all__ = [
    "NOTE",
    "PARTICIPLE",
    "TO_TASTE",
    "cut_tail",
    "further_amount",
    "is_food",
    "join_choices",
    "join_foods",
    "list_foods",
]

NOTE = re.compile(
    r"(?:for|to|as|plus|optional|divided|preferably|such as|like|see|or|if|more|extra|additional|depending|about|"
    r"approximately|not|available|recipe|from|with(?:out)?|and|any|homemade|store-bought|your|I|we|you|note|e\.g|i\.e|"
    r"include|including|enough|(?:small|large|generous|good) amount|made|consisting|each|that|which|ideally|a |an |"
    r"the |just|it|this)\b",
    re.I,
)
TO_TASTE = re.compile(
    r"\b(?:or )?(?:more )?(?:(?:according )?to (?:suit )?(?:your (?:own )?)?taste|"
    r"(?:as|if|when) (?:needed|required|desired|necessary|you like|you want)|to your liking|q\.s\.|quantum satis)",
    re.I,
)
_COUNTED_FURTHER = re.compile(r"(?:and|plus) (?=(?:about )?\d)", re.I)
_JOINT = re.compile(r"(?<!\S)(?:and|plus|with|\+) (?=[^\W_])", re.I)
_OR = re.compile(r"\bor,? ", re.I)
_OF_FOOD = re.compile(r" of (?=[^\W\d])", re.I)
PARTICIPLE = re.compile(r"\w{3,}ed\b", re.I)
# Where the name ends: at a comma, a dash, a second sentence, or before words that open a remark.
_TAIL = re.compile(
    r",(?!(?<=\d,)\d)|;| -{1,2} |—|(?<=[a-z]) ?/ ?(?=\d)|(?<=[a-z]{3})\. (?=[A-Z])| (?=(?:for|"
    r"to (?:serve|suit|taste|finish|garnish|coat|cover|season|grease|dust|drizzle|fill|make)|"
    r"(?:as|if) (?:needed|required|desired|necessary|garnish|you)|as a |such as|like|preferably|plus|"
    r"at (?:cool )?room temp\w*|per (?:person|serving|head|portion)|"
    r"(?:cut|torn|sliced|chopped|broken|divided|diced) (?:in|into|on|crosswise|lengthwise|up)|"
    r"see|until|about|approximately|approx|more (?:to|as|for|if)|that|which|who|each|enough (?:to|for)|depending|"
    r"(?:about )?the size of|made (?:with|of|from)|"
    r"(?:mixed|beaten|whisked|dissolved|stirred|blended|combined|seasoned|tossed|thinned|flavou?red) "
    r"(?:with|in|into) |consisting|"
    r"from (?:about )?(?:\d|half|one|two|an? |the |your )|"
    r"in (?:\d+|half|one|large|small|thin|thick|bite|chunks|pieces|strips|slices|wedges|quarters|cubes)|and \d)\b)",
    re.I,
)
_SEGMENT_END = re.compile(r",(?!(?<=\d,)\d)|;|(?<=[a-z]) ?/ ?(?=\d)| —|—| -{1,2} ")
_ENDS_IN_CHOICE = re.compile(r"[\w' -]+ (?:and/or|or) [\w' -]+", re.I)
_GROUND_FOOD = re.compile(r"(?:freshly |coarsely |finely )?ground(?: \w+){1,2}", re.I)
_AND_OR_COMMA = re.compile(r",? and |, ")
_MOST_JOINTS = 20
_WITHOUT = re.compile(r"\b(?:without|no|minus)\b", re.I)


def further_amount(text: str, at: int = 0) -> int | None:
    """Where an amount of a further food begins behind "and", "plus" or "with" at `at`; None where none does.

    A figure is enough behind "and" and "plus"; of words the unit and its "of" tell that they are an amount: "and a cup
    of sugar", "with two cloves of garlic".
    """
    counted = _COUNTED_FURTHER.match(text, at)
    if counted is not None:
        return counted.end()
    joint = _JOINT.match(text, at)
    return joint.end() if joint is not None and _is_measured(text, joint.end()) else None


def _is_measured(text: str, at: int) -> bool:
    """Whether a food told with its unit stands at `at`: "a cup of sugar"."""
    own = LineDraft(0)
    end = at + read_head(text[at:], own) if " of " in text else at
    unit = own.amounts[0].unit if own.amounts else None
    return unit is not None and kind(unit) != "length" and _OF_FOOD.match(text, end) is not None


def _told_joint(rest: str) -> int | None:
    """Where a phrase goes on to a further food whose amount is told with its unit: "milk | and a cup of sugar"."""
    for found in islice(_JOINT.finditer(rest), _MOST_JOINTS) if " of " in rest else ():
        start, before = found.start(), rest[: found.start()].rstrip(" ,")
        last = before.rsplit(" ", 1)[-1]
        mixed = found[0].lower() == "with " and (is_preparation(last) or PARTICIPLE.fullmatch(last))
        if not before or mixed or _COUNTED_FURTHER.match(rest, start) or not _is_measured(rest, found.end()):
            continue  # "beaten with a cup of milk" is what is done to it
        if any(_is_measured(rest, one.end()) for one in islice(_OR.finditer(before), _MOST_JOINTS)):
            return None  # "cream, or a cup of milk and a knob of butter": the butter goes with the milk
        return start
    return None


def cut_tail(rest: str) -> tuple[str, list[str]]:
    """The phrase that names the food, and the phrases behind it."""
    joint = _told_joint(rest)
    if joint is not None:
        name, tail = cut_tail(rest[:joint].rstrip(" ,"))
        return name, [*tail, *_segments(rest, joint)]
    start = 0
    while True:
        found = _TAIL.search(rest, start)
        if found is None:
            return rest, []
        name = rest[: found.start()]
        if _COUNTED_FURTHER.match(rest, found.end()):
            break  # "1 red and 1 green pepper"
        if only_describes(name.replace(",", " ")) and rest[found.end() :].strip():
            start = found.end()  # "boneless, skinless chicken breasts", "peeled, diced tomatoes"
            continue
        break
    return name, _segments(rest, found.end())


def _segments(rest: str, position: int) -> list[str]:
    """The phrases from `position` on."""
    tail: list[str] = []
    while True:
        found = _SEGMENT_END.search(rest, position)
        while found is not None and "/" in found[0] and canonical_unit(rest[: found.start()].rsplit(" ", 1)[-1]):
            found = _SEGMENT_END.search(rest, found.end())  # "2 tablespoons/30 ml cream" is one amount
        piece = rest[position : found.start()] if found is not None else rest[position:]
        if piece.strip():
            tail.append(piece.strip())
        if found is None:
            return tail
        position = found.end()


def list_foods(name: str, tail: list[str]) -> tuple[str, list[str]]:
    """The foods of "1 teaspoon each cumin, coriander and salt" as one name joined by "and", and the tail behind.

    A noun that only the last of them carries is theirs too: "1 each red and green pepper".
    """
    words = [name]
    for at, segment in enumerate(tail):
        if is_preparation(segment) or only_describes(segment) or NOTE.match(segment.removeprefix("and ")):
            tail = tail[at:]
            break
        words.append(segment.removeprefix("and "))
    else:
        tail = []
    foods = [food for phrase in words for food in _AND_OR_COMMA.split(phrase) if food]
    if len(foods) > 1 and not any(is_preparation(food) and only_describes(food) for food in foods):
        foods = share_head(foods)
    return " and ".join(foods), tail


def join_foods(name: str, tail: list[str], reading: LineDraft) -> tuple[str, list[str]]:
    """Of a line without an amount that lists foods ("paprika, salt and pepper to taste") the foods as one name.

    Returns the foods joined by "and" and the tail that is left; the phrase unchanged where it is no such list.
    """
    foods = [name]
    if _WITHOUT.search(name):
        return name, tail  # "hummus without garlic, salt": the salt is there
    for at, segment in enumerate(tail):
        bare = TO_TASTE.sub("", segment).strip()
        words = bare.removeprefix("and ").split(" and ")
        if not all(1 <= len(food.split()) <= 3 and is_food(food) for food in words):
            return " and ".join(foods), tail[at:]
        if bare != segment:
            reading.to_taste = True
            reading.notes.append(segment[len(bare) :].strip(" ,") if segment.startswith(bare) else segment)
        foods += words
    return " and ".join(foods), []


def is_food(phrase: str) -> bool:
    """Whether a short phrase may be a food of its own: neither a preparation nor a remark, a quality or a form."""
    if _GROUND_FOOD.fullmatch(phrase):
        return True
    last = phrase.rsplit(" ", 1)[-1].lower()
    described = is_preparation(phrase) or only_describes(phrase) or NOTE.match(phrase) or PARTICIPLE.match(phrase)
    return not described and last not in FORMS and not any(character.isdigit() for character in phrase)


def join_choices(name: str, tail: list[str]) -> tuple[str, list[str]]:
    """Join "parsley, basil or cilantro" into one phrase of choices again; returns it and the tail that is left."""
    if not tail or " or " not in " ".join(tail):
        return name, tail
    for at, segment in enumerate(tail[:3]):
        if is_preparation(segment) or NOTE.match(segment) or any(character.isdigit() for character in segment):
            return name, tail
        if _ENDS_IN_CHOICE.fullmatch(segment):
            words = segment.lower().split()
            if len(words) > 7 or any(is_preparation(word) for word in words) or len(name.split()) > 4:
                return name, tail
            return " or ".join([name, *tail[: at + 1]]), tail[at + 1 :]
    return name, tail
