"""One ingredient line in the cook's own words: how much, of what, prepared how.

A line is read from the left: the amount with its sizes and packages (`head`), then the food up to the first comma
(`naming`), then what is done to it and everything else. Nothing that is written is lost: what is neither amount, food
nor preparation is the note, and what does not make sense is a problem.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.recipe.agreement import check_amounts
from labeler.recipe.amounts import read_measures, read_unit
from labeler.recipe.derived import derivation_before, derivation_behind, derived_name
from labeler.recipe.head import Reading, read_head, say_again, take_parenthesis
from labeler.recipe.model import Amount, Line
from labeler.recipe.naming import is_preparation, only_describes, read_name
from labeler.recipe.numbers import read_quantity, tidy
from labeler.recipe.pin import read_pin
from labeler.recipe.units import TRAILING, canonical_unit, kind
from labeler.recipe.words import ADJECTIVES, CONTAINERS, FORMS

__all__ = ["read_line"]

_PAREN = re.compile(r"\(([^()]*)\)")
_OPTIONAL = re.compile(r"\(? ?\boptional(?:ly)?\b ?\)?[:,]?", re.I)
_TO_TASTE = re.compile(
    r"\b(?:or )?(?:more )?(?:(?:according )?to (?:your (?:own )?)?taste|"
    r"(?:as|if|when) (?:needed|required|desired|necessary|you like|you want)|to your liking|q\.s\.|quantum satis)",
    re.I,
)
# Where the name ends although no comma says so.
_TAIL = re.compile(
    r",|;| -{1,2} |—|(?<=[a-z]) ?/ ?(?=\d)|(?<=[a-z]{3})\. (?=[A-Z])| (?=(?:for|to (?:serve|taste|finish|garnish|coat|cover|season|grease|dust|drizzle|fill|make)|"
    r"(?:as|if) (?:needed|required|desired|necessary|garnish|you)|as a |such as|like|preferably|plus|"
    r"at (?:cool )?room temp\w*|(?:cut|torn|sliced|chopped|broken|divided|diced) (?:in|into|on|crosswise|lengthwise|up)|"
    r"see|until|about|approximately|approx|more (?:to|as|for|if)|that|which|who|each|enough (?:to|for)|depending|made (?:with|of|from)|consisting|"
    r"in (?:\d|half|one|large|small|thin|thick|bite|chunks|pieces|strips|slices|wedges|quarters|cubes)|and \d)\b)",
    re.I,
)
_SEGMENT_END = re.compile(r"[,;]|(?<=[a-z]) ?/ ?(?=\d)| —|—| -{1,2} ")
_NOTE = re.compile(
    r"(?:for|to|as|plus|optional|divided|preferably|such as|like|see|or|if|more|"
    r"extra|additional|depending|about|approximately|not|available|recipe|from|with|and|any|homemade|store-bought|"
    r"your|I|we|you|note|e\.g|i\.e|include|including|enough|made|consisting|each|that|which|ideally|a |an |the |just|it|this)\b",
    re.I,
)
_LISTING = re.compile(r"(?:such as|like|preferably|including|include|e\.g|i\.e|made|consisting)\b", re.I)
# "X, Y or Z": what stands between is another food, not a preparation.
_CHOICE = re.compile(r"(?:and/or|or) (.+)", re.I)
_ENDS_IN_CHOICE = re.compile(r"[\w' -]+ (?:and/or|or) [\w' -]+", re.I)
_NO_CHOICE = re.compile(
    r"(?:to|more|other|another|any|less|so|as|a (?:mix|combination|little|bit|few)|whatever|your|if|at|in|until|use|"
    r"substitute|just|for|from|with|without|enough|not|both|either|similar|larger|smaller|equivalent|the)\b",
    re.I,
)
_HEADING = re.compile(r"[^:\d]{1,60}:")
_SIZE_PAREN = re.compile(r"(?:about )?(small|medium|large|extra[ -]large|big)(?:[ -]sized?)?", re.I)
_SIZED = {"small": "small", "medium": "medium", "large": "large", "extra-large": "extra large", "big": "large"}
_BEHIND_NAME = re.compile(r"[\s:,(~-]+(?=(?:about |approx\.? |~)?[\d.])", re.I)
_NO_AMOUNT_BEHIND = re.compile(r"\b(?:for|with|from|in|into|per|serves|no\.?|to|at|of)$|\bfor\b|\bfrom\b", re.I)
_NUMBER_LOST = re.compile(r"[?\ufffd]+ ?(?=[a-z])", re.I)
_EACH_OF = re.compile(r"each(?: of)?(?: -|:)? (?=\w)", re.I)
_ACROSS = re.compile(r"\d[\d/ ]*-?(?:inch|in\.|cm|mm)(?:-(?:thick|long|wide|square))? ", re.I)
_SECOND_FOOD = re.compile(r"and \d")
_OF = re.compile(r"of (?:the |an? )?", re.I)


def _take_segment(segment: str, reading: Reading) -> None:
    """Sort a phrase behind the name: an amount, another food, a preparation, or a note."""
    segment = segment.strip(" .,;:-—)")
    if not segment:
        return
    if _SECOND_FOOD.match(segment) is not None:
        reading.problem("two-foods", f"The line goes on “{segment}”; write the second food on a line of its own.")
        reading.notes.append(segment)
        return
    if _TO_TASTE.search(segment) is not None:
        reading.to_taste = reading.to_taste or not reading.amounts
        reading.notes.append(segment)
        return
    if reading.amounts and _takes_amount(segment, reading):
        return
    if _LISTING.match(reading.notes[-1] if reading.notes else "") and not is_preparation(segment):
        reading.notes[-1] += f", {segment}"  # "such as oyster, maitake and shiitake"
        return
    choice = _CHOICE.match(segment)
    if choice is not None and not is_preparation(choice[1]) and _NO_CHOICE.match(choice[1]) is None:
        reading.alternatives.append(_without_amount(choice[1]))
    elif _NOTE.match(segment) and not is_preparation(segment):
        reading.notes.append(segment)
    else:
        reading.preparations.append(segment)


def _takes_amount(segment: str, reading: Reading) -> bool:
    """Whether a phrase says the amount again ("about 2 cups", "4 pounds each", "2 cups chopped"); taken over if so."""
    measures = read_measures(segment, 0)
    if measures is None or kind(measures.amounts[0].unit) == "length":
        return False
    measured = ("mass", "volume")
    if kind(measures.amounts[0].unit) not in measured and kind(reading.amounts[0].unit) not in measured:
        return False
    rest = segment[measures.end :].strip(" ,")
    if rest and not (is_preparation(rest) or only_describes(rest)):
        return False
    say_again(list(measures.amounts), reading)
    if rest:
        reading.preparations.append(rest)
    return True


def _without_amount(food: str) -> str:
    """The food of an alternative that carries an amount of its own ("1 teaspoon dried thyme")."""
    found = read_measures(food, 0)
    quantity = read_quantity(food) if found is None else None
    end = found.end if found is not None else quantity.end if quantity is not None else 0
    rest = food[end:].strip(" ,") or food
    first, _, behind = rest.partition(" ")
    if behind and canonical_unit(first) in CONTAINERS:
        rest = behind
    return read_name(rest).name.removeprefix("of ")


def _take_parentheses(text: str, reading: Reading) -> str:
    """Take every parenthesis out of the rest of a line and sort what it says."""
    for _ in range(50):
        found = _PAREN.search(text)
        if found is None:
            break
        inside = found[1].strip(" .,;")
        before, behind = text[: found.start()].rstrip(), text[found.end() :].lstrip()
        if before.endswith((" or", " and", " plus")):
            text = f"{before} {inside} {behind}"  # "or (8 ounce) carton": speaks of what comes, not of the main amount
            continue
        text = f"{before}{behind}" if behind[:1] in (",", ";", ".") else f"{before} {behind}".strip()
        if inside and not _take_inside(inside, reading):
            pieces = [piece.strip() for piece in inside.split(",")]
            left = [piece for piece in pieces if not _take_inside(piece, reading)] if len(pieces) > 1 else pieces
            if left:
                said = ", ".join(left)
                reading.to_taste = reading.to_taste or (_TO_TASTE.search(said) is not None and not reading.amounts)
                reading.notes.append(said)
    opening = text.find("(")
    if opening >= 0:
        reading.notes.append(" ".join(text[opening:].replace("(", " ").replace(")", " ").split()))
        text = text[:opening].strip()
    return text.replace(")", " ").strip()


def _take_inside(inside: str, reading: Reading) -> bool:
    """Whether what stands in a parenthesis is a size, an amount, a preparation or another food; taken over if so."""
    size = _SIZE_PAREN.fullmatch(inside)
    if size is not None and reading.size is None:
        reading.size = _SIZED.get(size[1].lower(), "extra large")
        return True
    if reading.amounts and reading.derived is None:
        derived = derivation_behind(inside)
        if derived is not None:
            reading.derived = derived.what
            return True
    if reading.amounts and take_parenthesis(inside, reading):
        return True
    if is_preparation(inside) and "," not in inside:
        reading.preparations.append(inside)
        return True
    choice = _CHOICE.fullmatch(inside)
    if choice is not None and len(inside.split()) <= 5 and "," not in inside and not _NO_CHOICE.match(choice[1]):
        reading.alternatives.append(_without_amount(choice[1]))
        return True
    return False


def _amount_behind(text: str, reading: Reading) -> str:
    """ "beef stock ~1 pint", "Butter 50 g": an amount behind the food, where none stands before it."""
    for found in _BEHIND_NAME.finditer(text):
        start = found.end()
        before = text[: found.start()].strip(" :,(~-")
        if not before or _NO_AMOUNT_BEHIND.search(before):
            return text
        measures = read_measures(text, start, role="main")
        if measures is not None and kind(measures.amounts[0].unit) != "length":
            end = start + read_head(text[start:], reading)
            return f"{before} {text[end:].lstrip(' .)')}".strip()
        quantity = read_quantity(text, start)
        if quantity is not None and text[quantity.end :].strip(" .)") == "":
            reading.amounts.append(Amount(quantity.low, quantity.high, None, "main", quantity.about))
            return before
    return text


def _cut_tail(rest: str) -> tuple[str, list[str]]:
    """The phrase that names the food, and the phrases behind it."""
    start = 0
    while True:
        found = _TAIL.search(rest, start)
        if found is None:
            return rest, []
        name = rest[: found.start()]
        if only_describes(name.replace(",", " ")) and rest[found.end() :].strip():
            start = found.end()  # "boneless, skinless chicken breasts", "peeled, diced tomatoes"
            continue
        break
    tail = []
    position = found.end()
    while True:
        found = _SEGMENT_END.search(rest, position)
        piece = rest[position : found.start()] if found is not None else rest[position:]
        if piece.strip():
            tail.append(piece.strip())
        if found is None:
            return name, tail
        position = found.end()


def _trailing_unit(name: str) -> tuple[str, str] | None:
    """ "garlic cloves", "thyme sprigs": a unit that stands behind its food, as (food, unit)."""
    head, space, last = name.rpartition(" ")
    unit = canonical_unit(last) if space else None
    foods = TRAILING.get(unit) if unit is not None else None
    if unit is None or foods is None:
        return None
    before = head.rsplit(" ", 1)[-1].lower()
    unit = "stalk" if unit == "rib" else unit
    if "*" in foods:
        return None if before in ADJECTIVES else (head, unit)
    return (head, unit) if before in foods else None


def _settle_unit(food: str, reading: Reading) -> str:
    """Settle a count with its unit: one that stands behind the food, or one that is the food ("8 cloves")."""
    main = reading.amounts[0]
    if main.unit is None:
        behind = ""
        stem = food
        for joint in (" with ", " in ", " from "):
            if joint in food:
                stem, _, behind = food.partition(joint)
                behind = f"{joint}{behind}"
                break
        options = [_trailing_unit(stem), *(_trailing_unit(option) for option in reading.alternatives)]
        found = next((option for option in options if option is not None), None)
        if found is None or (options[0] is None and reading.alternatives and not any(options[1:])):
            return food
        reading.amounts[0] = replace(main, unit=found[1])
        reading.alternatives = [
            option[0] if option is not None else name
            for option, name in zip(options[1:], reading.alternatives, strict=True)
        ]
        return f"{options[0][0]}{behind}" if options[0] is not None else food
    if kind(main.unit) == "count" and (not food or only_describes(food)):
        reading.amounts[0] = replace(main, unit=None)
        word = main.unit + ("s" if main.high > 1 else "")
        return f"{food} {word}".strip()
    return food


def _take_form(food: str, reading: Reading) -> str:
    """ "1 cup carrot chunks", "1/2 cup pecan halves": the form of a measured food is how it is prepared."""
    head, space, last = food.rpartition(" ")
    if not space or last.lower() not in FORMS or kind(reading.amounts[0].unit) not in ("mass", "volume"):
        return food
    reading.preparations.append(last)
    return head


def _listed(name: str, tail: list[str]) -> tuple[str, list[str]]:
    """The foods of "1 teaspoon each cumin, coriander and salt" as one name joined by "and", and the tail behind."""
    foods = [name]
    for at, segment in enumerate(tail):
        if is_preparation(segment) or only_describes(segment) or _NOTE.match(segment.removeprefix("and ")):
            return " and ".join(filter(None, foods)), tail[at:]
        foods.append(segment.removeprefix("and "))
    return " and ".join(filter(None, foods)), []


def _choices(name: str, tail: list[str]) -> tuple[str, list[str]]:
    """Join "parsley, basil or cilantro" into one phrase of choices again; returns it and the tail that is left."""
    if not tail or " or " not in " ".join(tail):
        return name, tail
    for at, segment in enumerate(tail[:3]):
        if is_preparation(segment) or _NOTE.match(segment) or any(character.isdigit() for character in segment):
            return name, tail
        if _ENDS_IN_CHOICE.fullmatch(segment):
            words = segment.lower().split()
            if len(words) > 7 or any(is_preparation(word) for word in words) or len(name.split()) > 4:
                return name, tail
            return " or ".join([name, *tail[: at + 1]]), tail[at + 1 :]
    return name, tail


def read_line(text: str, *, number: int = 1) -> Line:
    """One ingredient line, taken apart.

    Parameters
    ----------
    text : str
        The line in the cook's words; any text at all. It is kept unchanged in the answer.
    number : int
        Line number in its file, from 1, for the problems.

    Returns
    -------
    Line
        Where the line says an amount twice and the two differ by more than cooks round (15 %), the first is taken
        and a problem says so. A line with no food in it ("For the sauce:") has a problem and an empty name.
    """
    reading = Reading(number)
    work = tidy(text)
    pin = None
    if "{" in work or "}" in work:
        work, pin = read_pin(work, reading)
    if "ptional" in work or "PTIONAL" in work:
        cleaned = " ".join(_OPTIONAL.sub(" ", work).split()).strip(" ,;:")
        reading.optional = cleaned != work
        work = cleaned
    work = work.replace(" ,", ",").replace(" and or ", " and/or ")
    if work.endswith(":") and _HEADING.fullmatch(work):
        reading.problem("heading", f"“{work}” names no food; a heading of a part begins with ##.")
        return Line(text, note=work, number=number, problems=tuple(reading.problems), pin=pin)
    if work.startswith("-") and work[1:2].isdigit():
        reading.problem("amount-negative", "An amount cannot be less than nothing; the minus sign is not read.")
        work = work[1:]
    lost = _NUMBER_LOST.match(work)
    if lost is not None:
        reading.problem("amount-unreadable", "A sign before the unit is no number; write how much goes in.")
        unit = read_unit(work, lost.end())
        work = _strip_of(work[unit.end if unit is not None else lost.end() :])
    rest = _read_amounts(work, reading)
    if "(" in rest or ")" in rest:
        rest = _take_parentheses(rest, reading)
    counted_word = rest.startswith(",") and reading.amounts and kind(reading.amounts[0].unit) == "count"
    rest = rest.lstrip(" ,.:;").removeprefix("of ")
    name, tail = _cut_tail(rest)
    if counted_word and reading.amounts[0].unit is not None and (is_preparation(name) or only_describes(name)):
        name, tail = "", [name, *tail]  # "2 cloves, crushed"
    each = _EACH_OF.match(name) if reading.amounts else None
    if each is not None:
        name, tail = _listed(name[each.end() :], tail)
    name, tail = _choices(name, tail)
    if reading.prefix:
        name = f"{' '.join(reading.prefix)} {name}".strip()
    named = read_name(name)
    food = named.name
    if named.preparation:
        reading.preparations.append(named.preparation)
    reading.alternatives += [_without_amount(option) for option in named.alternatives]
    for segment in tail:
        derived = derivation_behind(segment) if reading.derived is None and reading.amounts else None
        if derived is not None and kind(reading.amounts[0].unit) == "count":
            reading.derived = derived.what
        else:
            _take_segment(segment, reading)
    if (
        not reading.amounts
        and len(reading.alternatives) == 1
        and " and " in reading.alternatives[0]
        and " and " not in food
    ):
        # "Sea salt or fleur de sel and pepper": the choice is of salt, the pepper goes in whichever it is.
        other, _, further = reading.alternatives[0].partition(" and ")
        food, reading.alternatives = f"{food} and {further}", [other]
    if reading.amounts:
        food = _take_form(_settle_unit(food, reading), reading)
        if reading.derived is not None and food:
            reading.notes.append(f"counted in {food}")
            food = derived_name(food, reading.derived)
        check_amounts(reading)
    if not food:
        reading.problem("no-food", "No food is named here; write how much of what, such as “2 cups flour”.")
    return Line(
        text=text,
        amounts=tuple(reading.amounts),
        name=food,
        preparation=", ".join(reading.preparations),
        note="; ".join(reading.notes),
        optional=reading.optional,
        size=reading.size or named.size,
        to_taste=reading.to_taste,
        alternatives=tuple(option for option in reading.alternatives if option),
        pin=pin,
        number=number,
        problems=tuple(reading.problems),
        derived=reading.derived,
        each=each is not None,
    )


def _read_amounts(work: str, reading: Reading) -> str:
    """Read the amounts of a line wherever they stand; returns the rest of it."""
    derived = derivation_before(work)
    if derived is not None:
        end = read_head(derived.rest, reading)
        if reading.amounts:
            reading.derived = derived.what
            if derived.how:
                reading.preparations.append(derived.how)
            work = derived.rest
            return _strip_of(work[end:])
        reading.notes.clear()
        reading.to_taste = False
    rest = _strip_of(work[read_head(work, reading) :])
    across = _ACROSS.match(rest)
    if across is not None and reading.amounts:
        reading.preparations.append(across[0].strip())  # "1 cup 1/2-inch carrot chunks"
        rest = rest[across.end() :]
    if not reading.amounts and not reading.to_taste:
        rest = _amount_behind(rest, reading)
    return rest


def _strip_of(rest: str) -> str:
    rest = rest.lstrip(" .:;)-")
    of = _OF.match(rest)
    return rest[of.end() :] if of is not None else rest
