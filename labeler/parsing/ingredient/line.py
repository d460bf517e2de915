"""One ingredient line in the cook's own words: how much, of what, prepared how.

A line is read from the left: the amount with its sizes and packages (`head`), then the food up to the first comma
(`naming`), then what is done to it and everything else. Nothing that is written is lost: what is neither amount, food
nor preparation is the note, and what does not make sense is a problem.
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import islice

from labeler.parsing.ingredient.amount_checks import check_amounts
from labeler.parsing.ingredient.amounts import read_measures
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.ingredient.extraction import (
    derivation_before,
    derivation_behind,
    derivation_measured,
    derived_name,
)
from labeler.parsing.ingredient.leading_amount import read_head, read_unit_behind
from labeler.parsing.ingredient.line_states import with_states
from labeler.parsing.ingredient.modifiers import other_food, take_parentheses, take_segment
from labeler.parsing.ingredient.name import NamedFood, is_preparation, only_describes, read_name, share_head
from labeler.parsing.ingredient.override import read_pin
from labeler.parsing.ingredient.plainer import plainer
from labeler.parsing.ingredient.remarks import split_remarks
from labeler.parsing.ingredient.restated import specified
from labeler.parsing.ingredient.tail import cut_tail, join_choices, join_foods, list_foods
from labeler.parsing.ingredient.trailing_unit import settle_unit, take_form
from labeler.parsing.ingredient.unreadable import take_unreadable
from labeler.parsing.languages import language_of, plain_numbers, plain_units
from labeler.parsing.line_words import CONTAINERS, QUALITIES, SIZE_OF
from labeler.parsing.model import Amount, Line, Pin
from labeler.parsing.numbers import read_quantity, tidy
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.units import canonical_unit, kind

__all__ = ["read_line"]

# "400 g tin tomatoes x 2" is "2 x 400 g tin tomatoes", "eggs x 3" is "3 eggs".
_TIMES_BEHIND = re.compile(r"[ ,(]+(?:x ?(?=\d)|times )(\d{1,2})\)?$", re.I)
_PLUS = re.compile(r" \+ (?=\d)")
_OPTIONAL = re.compile(r"\boptional(?:ly)?\b ?[:,;]?(?: but\b)?", re.I)
_EMPTY = re.compile(r"\(\s*\)")
_HEADING = re.compile(r"[^:\d]{1,60}:")
# Digits stand anywhere behind a name, numbers in words only behind a mark: "salt - a pinch", "rice (one cup)".
# A hyphen inside a word is no mark: "half-and-half".
_BEHIND_NAME = re.compile(
    r"[\s:,(~-]{1,4}(?=(?:about |approx\.? |~)?[\d.])"
    r"|(?:[\s]{0,2}[:,(~][\s]{0,2}|[\s]{1,2}-[\s]{0,2}|-[\s]{1,2})(?=(?:about |approx\.? )?"
    r"(?:an?|one|two|three|four|five|six|eight|ten|half|several|couple)\b)",
    re.I,
)
_NO_AMOUNT_BEHIND = re.compile(
    r"\b(?:for|with|from|in|into|per|serves|no\.?|to|at|of|see|step|note|page|but)$|\bfor\b|\bfrom\b", re.I
)
_PICTURES = re.compile(r"^[\s☀-➿⬀-⯿\U0001f000-\U0001faff️‍]+(?=\S)")
_LINK = re.compile(r"\[([^\[\]]*)\]\([^()\s]*\)")
_MARKS = re.compile(r"[†‡§]+|(?<=[^\W\d]{3})[¹²³⁰-⁹]+(?!\w)")
"""Marks of a footnote."""
_DESCRIBED = re.compile(
    r"(?P<food>[^\d:]{2,40}?)\s*:\s+(?P<says>(?=.{30,})[^:]*\b(?:is|are|can|should|use|if|works?|gives?)\b.*)$",
    re.I | re.S,
)
_EACH_OF = re.compile(r"each(?: of)?(?: ?-|:)? (?=\w)", re.I)
_ACROSS = re.compile(r"\d[\d/ ]*-?(?:inch|in\.|cm|mm)(?:-(?:thick|long|wide|square))? ", re.I)
_OF = re.compile(r"(?:of (?:the |an? )?|d[eiu] (?:la )?|d'(?=\w))", re.I)
_OF_EGG = frozenset(["yolk", "yolks", "white", "whites"])
_TAKEN = frozenset(["juice", "zest", "rind", "peel", "pulp", "kernels", "fresh juice", "grated zest"])
_TAKEN_FROM = re.compile(r"(?:from|of) (.+)", re.I)
_NO_FOOD = {
    "heading": "a heading", "yield": "how much is made, which stands in the head (“serves: 4”)",
    "time": "how long something takes", "about": "something about the recipe", "prose": "a remark",
}  # fmt: skip
_MOST_FOODS = 8
"""Foods behind one another beyond this are no recipe's."""


def _amount_behind(text: str, reading: LineDraft) -> str:
    """Read an amount behind the food where none stands before it: "beef stock ~1 pint", "Butter 50 g"."""
    food = read_unit_behind(text, reading)
    if food:
        return food
    for found in islice(_BEHIND_NAME.finditer(text), 20):
        start = found.end()
        before = text[: found.start()].strip(" :,(~-")
        if not before or _NO_AMOUNT_BEHIND.search(before):
            return text
        measures = read_measures(text, start, role="main")
        if measures is not None and kind(measures.amounts[0].unit) != "length":
            end = start + read_head(text[start:], reading)
            rest = text[end:].lstrip(" .)")
            # "cream, 1 cup flour": what stands behind the amount is no part of the name before the comma.
            joint = ", " if found[0].lstrip().startswith(",") and rest[:1].isalpha() else " "
            return f"{before}{joint}{rest}".strip()
        quantity = read_quantity(text, start)
        if quantity is not None and text[quantity.end :].strip(" .)") == "":
            reading.amounts.append(Amount(quantity.low, quantity.high, None, "main", quantity.about))
            return before
    return text


def read_line(text: str, *, number: int = 1, language: str = "") -> Line:
    """One ingredient line, taken apart.

    Parameters
    ----------
    text : str
        The line in the cook's words; any text at all. It is kept unchanged in the answer.
    number : int
        Line number in its file, from 1, for the problems.
    language : str
        The recipe's language ("de"; `labeler.parsing.languages`), which its numbers and units follow; where it is
        empty, the line's own words tell.

    Returns
    -------
    Line
        Its amounts (number and unit as written), name, preparation and note. Where the line gives an amount twice and
        the two differ by more than cooks round (15 %, common practice, no source), the first is taken and a problem
        says so. A line with no food in it ("For the sauce:") has a problem and an empty name. Raises nothing for any
        text.

    Examples
    --------
    >>> line = labeler.read_line("2 cups (240 g) plain flour, sifted")
    >>> line.name, line.preparation
    ('plain flour', 'sifted')
    >>> [(amount.low, amount.unit) for amount in line.amounts]
    [(2.0, 'cup'), (240.0, 'gram')]
    """
    return _read(text, LineDraft(number, language=language), _MOST_FOODS)


def _read(text: str, reading: LineDraft, most: int) -> Line:
    """A line with at most so many foods behind one another."""
    work, pin = _clean(text, reading)
    food = size = ""
    kind_of_row = row_kind(text)
    if (work.endswith(":") and _HEADING.fullmatch(work)) or (reading.optional and not work and pin is None):
        reading.problem("heading", f"“{work or text.strip()}” names no food; a heading of a part begins with ##.")
        reading.notes.append(work)
    elif kind_of_row in _NO_FOOD:
        reading.problem("no-food", f"“{work}” names no food: it reads as {_NO_FOOD[kind_of_row]}.")
        reading.notes.append(work)
    else:
        rest = work if reading.unreadable else _read_amounts(work, reading)
        if "(" in rest or ")" in rest:
            rest = take_parentheses(rest, reading)
        name, tail = _phrases(rest, reading)
        named = read_name(name)
        size = named.size or ""
        food = _sort_phrases(named, tail, reading)
        if reading.amounts:
            food = _settle_amounts(food, len(named.alternatives), reading)
        if not food:
            reading.problem("no-food", "No food is named here; write how much of what, such as “2 cups flour”.")
    further = _further(food, reading, most)
    if further and only_describes(food):
        food = share_head([food, further[0].name])[0]  # "1 red and 1 green pepper"
    line = Line(
        text=text,
        amounts=tuple(reading.amounts),
        name=food,
        preparation=", ".join(reading.preparations),
        note="; ".join(reading.notes),
        optional=reading.optional,
        size=reading.size or size or None,
        to_taste=reading.to_taste,
        alternatives=tuple(option for option in reading.alternatives if option),
        pin=pin,
        number=reading.number,
        problems=tuple(reading.problems),
        derived=reading.derived,
        each=reading.each and " and " in food,
        further=further,
        unreadable=reading.unreadable,
        remarks=reading.remarks,
    )
    return with_states(specified(line))


def _further(food: str, reading: LineDraft, most: int) -> tuple[Line, ...]:
    """The foods that the line goes on to: "2 eggs plus 1 yolk", "juice of 1 lemon and 1 lime"."""
    lines = []
    for phrase in reading.further if most else ():
        line = _read(phrase, LineDraft(reading.number, language=reading.language), most - 1)
        if line.derived is None and reading.derived is not None and line.amounts and line.amounts[0].unit is None:
            line = _read(f"{reading.derived} of {phrase}", LineDraft(reading.number, language=reading.language), 0)
        if line.name.lower() in _OF_EGG and "egg" in food.lower():
            line = replace(line, name=f"egg {line.name}")
        lines.append(replace(line, text=phrase))
    return tuple(lines)


def _name_taken(food: str, reading: LineDraft) -> str:
    """The full name of what is measured and said to be taken of a food: "1/4 cup juice from 2 limes"."""
    for note in reading.notes if food.lower() in _TAKEN else ():
        taken = _TAKEN_FROM.match(note)
        if taken is not None:
            source = taken[1][read_head(taken[1], LineDraft(reading.number)) :].strip(" ,.")
            named = read_name(source.removeprefix("of ")).name.split()
            while len(named) > 1 and canonical_unit(named[-1]) in CONTAINERS:
                named.pop()  # "juice from a pickle jar"
            return derived_name(" ".join(named), food.lower()) if named else food
    return food


def _clean(text: str, reading: LineDraft) -> tuple[str, Pin | None]:
    """The tidied text without braces, "optional" and signs that are no numbers, and what the braces settle."""
    text = _PICTURES.sub("", text)
    work = tidy(_LINK.sub(r"\1", text) if "](" in text else text)
    work = " ".join(_MARKS.sub(" ", work).split()) if _MARKS.search(work) else work
    language = reading.language or language_of(work)
    work, reading.unclear = plain_numbers(plain_units(plainer(work), language), language)
    described = _DESCRIBED.match(work)
    if described is not None and not _OPTIONAL.fullmatch(described["food"]):
        reading.notes.append(described["says"].strip())
        work = described["food"]
    pin = None
    if "{" in work or "}" in work:
        work, pin = read_pin(work, reading)
    work, reading.remarks = split_remarks(work)
    if "ptional" in work or "PTIONAL" in work:
        cleaned = " ".join(_EMPTY.sub(" ", _OPTIONAL.sub(" ", work)).split()).strip(" ,;:")
        reading.optional = cleaned != work
        work = cleaned
    work = work.replace(" ,", ",").replace(" and or ", " and/or ")
    if " + " in work:
        work = _PLUS.sub(" plus ", work)
    behind = _TIMES_BEHIND.search(work)
    if behind is not None:
        rest = work[: behind.start()].rstrip(" ,(")
        if rest[:1].isdigit() or not any(map(str.isdigit, rest)):
            work = f"{behind[1]} {'x ' if rest[:1].isdigit() else ''}{rest}"
    work = take_unreadable(work, reading)
    return work, pin


def _phrases(rest: str, reading: LineDraft) -> tuple[str, list[str]]:
    """The phrase that names the food and the phrases behind it, lists and choices of foods put together again."""
    unit = reading.amounts[0].unit if reading.amounts else None
    behind_unit = rest.startswith(",") and unit is not None and kind(unit) == "count"
    rest = rest.lstrip(" ,.:;").removeprefix("of ").replace(" & ", " and ")
    each = _EACH_OF.match(rest) if reading.amounts else None
    if each is not None:
        reading.each = True
        return list_foods(*cut_tail(rest[each.end() :]))
    name, tail = cut_tail(rest)
    if behind_unit and (is_preparation(name) or only_describes(name) or read_measures(name, 0) is not None):
        return "", [name, *tail]  # "2 cloves, crushed", "4 fillets, 6 ounces each"
    name, tail = join_choices(name, tail)
    if tail and not reading.amounts and len(name.split()) <= 3 and not is_preparation(name):
        name, tail = join_foods(name, tail, reading)
    return f"{' '.join(reading.prefix)} {name}".strip(), tail


def _sort_phrases(named: NamedFood, tail: list[str], reading: LineDraft) -> str:
    """Find the place of everything that the name and the phrases behind it say; returns the food."""
    food = reading.food = named.name
    counted = bool(reading.amounts) and kind(reading.amounts[0].unit) == "count"
    taken = derivation_behind(named.preparation) if counted and reading.derived is None else None
    if taken is not None:
        reading.derived = taken.what  # "1 orange zested"
    elif named.preparation:
        reading.preparations.append(named.preparation)
    reading.alternatives[:0] = [other_food(option, reading) for option in named.alternatives]
    for segment in tail:
        words = segment.lower().split()
        derived = derivation_behind(segment) if counted else None
        if derived is not None and {derived.what, reading.derived} == {"juice", "zest"}:
            reading.derived = "juice and zest"  # "1 lemon, zested, juiced"
        elif derived is not None and reading.derived is None:
            reading.derived = derived.what
            if derived.how:
                reading.preparations.append(derived.how)
        elif food and all(word in QUALITIES for word in words):
            food = f"{segment} {food}"  # "salmon, canned"
        elif len(words) == 1 and words[0] in SIZE_OF and reading.size is None:
            reading.size = SIZE_OF[words[0]]
        else:
            take_segment(segment, reading)
    if counted and reading.derived is None:
        _take_measured(reading)
    if not reading.amounts and len(reading.alternatives) == 1 and " and " not in food:
        # "Sea salt or fleur de sel and pepper": the choice is of salt, the pepper goes in whichever it is.
        other, joint, further = reading.alternatives[0].partition(" and ")
        if joint:
            food, reading.alternatives = f"{food} and {further}", [other]
    if not food and reading.notes and not reading.optional:
        food = reading.notes.pop(0)  # "6 rashers (streaky bacon)"
    return _name_taken(food, reading)


def _take_measured(reading: LineDraft) -> None:
    """Take the part of a counted fruit that its bracket measures: "1 lemon (2 tbsp juice)"."""
    for at, note in enumerate(reading.notes):
        found = derivation_measured(note)
        if found is not None:
            (reading.derived, _, rest), amounts = found
            reading.amounts += amounts
            reading.notes[at : at + 1] = [rest] if rest else []
            return


def _settle_amounts(food: str, choices: int, reading: LineDraft) -> str:
    """Settle what the amounts count and whether they agree; returns the food."""
    food = take_form(settle_unit(food, choices, reading), reading)
    if reading.derived in ("whites", "yolks") and "egg" not in food.lower():
        reading.preparations.append(f"{reading.derived} only")  # of leeks and scallions
        reading.derived = None
    if reading.derived is not None and food:
        counted = reading.amounts[0].unit
        reading.notes.append(f"counted in {food}" if counted is None else f"counted by the {counted} of {food}")
        food = derived_name(food, reading.derived)
    check_amounts(reading)
    return food


def _read_amounts(work: str, reading: LineDraft) -> str:
    """Read the amounts of a line wherever they stand; returns the rest of it."""
    derived = None if work[:1].isdigit() else derivation_before(work)
    if derived is not None:
        end = read_head(derived.rest, reading)
        if reading.amounts:
            reading.derived = derived.what or None
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
