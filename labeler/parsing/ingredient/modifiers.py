"""What stands behind the name of the food: preparations, notes, other foods, the amount said again.

"parsley, chopped", "(about 2 cups)", "or thyme", "plus more for dusting": each phrase finds its place in the reading.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.parsing.ingredient.amounts import read_measures
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.ingredient.equivalent_amounts import say_again, take_parenthesis
from labeler.parsing.ingredient.extraction import derivation_behind
from labeler.parsing.ingredient.leading_amount import read_head
from labeler.parsing.ingredient.name import is_preparation, only_describes, read_name
from labeler.parsing.ingredient.tail import NOTE, PARTICIPLE, TO_TASTE, further_amount, is_food
from labeler.parsing.line_words import FILLING_OF, FORMS, PREPARATIONS, SIZE_OF
from labeler.parsing.numbers import read_quantity
from labeler.parsing.units import kind

__all__ = ["other_food", "take_parentheses", "take_segment"]

_PAREN = re.compile(r"\(([^()]*)\)")
_SIZE_PAREN = re.compile(r"(?:about )?(small|medium|large|extra[ -]large|big)(?:[ -]sized?)?", re.I)
_POURED = ("ml", "dl", "cl", "l", "litre", "liter", "cup", "mug", "pint", "quart", "fl oz", "tablespoon", "tbsp")
_LISTING = re.compile(r"(?:such as|like|preferably|including|include|e\.g|i\.e|made|consisting)\b", re.I)
# "X, Y or Z": what stands between is another food, not a preparation.
_CHOICE = re.compile(r"(?:and/or|or) (.+)", re.I)
_NO_CHOICE = re.compile(
    r"(?:to|more|other|another|any|less|so|as|a (?:mix|combination|little|bit|few)|whatever|your|if|at|in|until|use|"
    r"substitute|just|for|from|with|without|enough|not|both|either|similar|larger|smaller|equivalent|the)\b",
    re.I,
)
_OTHER_AMOUNT = re.compile(r"\b(?:or|and|plus)(?: \d[\d /.-]*)?$", re.I)
_OR_COUNTED = re.compile(r" or (?=(?:about )?\d)", re.I)
_AND_FOOD = re.compile(r"and (?:[^\W\d]+ ?){1,3}", re.I)
# "plus 2 tablespoons for dusting" is more of the same; "plus 2 tablespoons more if needed" may never go in.
_MORE_OF_IT = re.compile(
    r"(?:more |extra |additional )?(?:for|to) (?!taste)(?!.*\b(?:if|needed|desired|optional)\b)", re.I
)
_SAYS_SIZE = re.compile(
    r"(?:each |apiece )?(?:weigh(?:s|ing|ed) |of )?(?=(?:about |approx\.? |approximately |around |~ ?)?\d)", re.I
)
_CUT_SIZE = re.compile(r"\b(?:cut|chopped|sliced|diced|torn|broken)\b[^,]*$", re.I)
_LENGTH = re.compile(r"(?:about )?[\d./ -]+(?:cm|mm|inch(?:es)?|in\.|\")(?!\w)", re.I)
_FORM_AGAIN = FORMS | frozenset(["leaves", "kernels", "chunks", "flesh", "meat", "juice"])
# "1 egg beaten with 2 tablespoons milk", "1 tablespoon cornflour dissolved in 2 tablespoons water"
_MADE_WITH = re.compile(r"(\w+ed|beaten) (?:with|in(?:to)?|(?<=added )to) (?=(?:about )?(?:\d|an? |one |half ))", re.I)
# "1 stock cube in 500 ml water", but "2 carrots in 1 inch pieces"
_IN_LIQUID = re.compile(rf"^()in (?=(?:about )?[\d./ -]+(?:{'|'.join(_POURED)})s?\b)", re.I)
_WEIGHING = re.compile(r"\b(?:each )?weigh(?:s|ing|ed)? (?=(?:about |approx\.? |around |~ ?)?\d)", re.I)
_GOES_ON = re.compile(r" (?:and|plus) (?=\d)")


def take_segment(segment: str, reading: LineDraft) -> None:
    """Sort a phrase behind the name: an amount, another food, a preparation, or a note."""
    segment = segment.strip(" .,;:-—)")
    if not segment or _takes_filling(segment, reading):
        return
    if _takes_thickness(segment, reading):
        reading.notes.append(segment)
        return
    other = _OR_COUNTED.search(segment)
    if other is not None and is_preparation(segment):
        take_segment(segment[: other.start()], reading)  # "2 shallots, minced or 1 small onion"
        segment = segment[other.start() :].strip()
    if any(takes(segment, reading) for takes in _TAKES):
        return
    weighing = _WEIGHING.search(segment) if reading.amounts else None
    if weighing is not None and _takes_amount(segment[weighing.start() :], reading):
        segment = segment[: weighing.start()].strip().removesuffix("and").strip()  # "4 inches thick and weighing 5 lbs"
    if segment:
        _take_words(segment, reading)


def _takes_filling(segment: str, reading: LineDraft) -> bool:
    """ "1 tbsp flour, heaped"."""
    filling = FILLING_OF.get(segment.lower())
    if filling is None or not reading.amounts or kind(reading.amounts[0].unit) != "volume":
        return False
    reading.amounts[0] = replace(reading.amounts[0], about=True, filling=filling)
    return True


def _takes_more(segment: str, reading: LineDraft) -> bool:
    """ "Salt and a pinch of sugar" says enough of the sugar; "the juice of 3 pomelos and 1 lemon" not what of it."""
    return (bool(reading.amounts) or " of " in segment) and _takes_further(segment, reading)


def _takes_mixed(segment: str, reading: LineDraft) -> bool:
    """ "Cornflour, dissolved in 2 tablespoons water"."""
    made = _MADE_WITH.search(segment) or _IN_LIQUID.search(segment)
    if made is None or not _takes_food(segment[made.end() :], reading):
        return False
    reading.preparations.extend(filter(None, [segment[: made.end(1)]]))
    return True


def _takes_taste(segment: str, reading: LineDraft) -> bool:
    if TO_TASTE.search(segment) is None:
        return False
    reading.to_taste = reading.to_taste or not reading.amounts
    reading.notes.append(segment)
    return True


def _takes_amount_or_food(segment: str, reading: LineDraft) -> bool:
    return bool(reading.amounts) and (_takes_amount(segment, reading) or _takes_food(segment, reading))


def _takes_each(segment: str, reading: LineDraft) -> bool:
    """ "4 fillets, 6 ounces each"; "1 teaspoon salt and pepper each"."""
    if segment.lower().removeprefix("of ") != "each" or not reading.amounts:
        return False
    last = reading.amounts[-1]
    if last.role == "same" and kind(reading.amounts[0].unit) == "count" != kind(last.unit):
        reading.amounts[-1] = replace(last, role="each")
    else:
        reading.each = True
    return True


_TAKES = (_takes_more, _takes_mixed, _takes_taste, _takes_amount_or_food, _takes_each)


def _take_words(segment: str, reading: LineDraft) -> None:
    """Sort a phrase without an amount: a list that goes on, what is offered instead, a note or a preparation."""
    listing = bool(reading.notes) and _LISTING.match(reading.notes[-1]) is not None
    if listing and not is_preparation(segment) and not PARTICIPLE.match(segment):
        reading.notes[-1] += f", {segment}"  # "such as oyster, maitake and shiitake"
        return
    choice = _CHOICE.match(segment)
    if choice is not None and not is_preparation(choice[1]) and _NO_CHOICE.match(choice[1]) is None:
        reading.alternatives.append(other_food(choice[1], reading))
    elif (NOTE.match(segment) or segment[0].isdigit()) and not is_preparation(segment):
        reading.notes.append(segment)
    else:
        reading.preparations.append(segment)


def _takes_thickness(segment: str, reading: LineDraft) -> bool:
    """Whether a phrase says how thick each of the counted pieces is: "4 chops, cut 1 inch thick"."""
    plain = segment.lower().removeprefix("each ").removeprefix("cut ")
    measures = read_measures(plain, 0) if plain.endswith("thick") and reading.amounts else None
    sized = any(amount.role == "each" for amount in reading.amounts)
    if measures is None or sized or kind(reading.amounts[0].unit) != "count" or plain[measures.end :].strip(" -"):
        return False
    length = measures.amounts[0]
    if kind(length.unit) != "length":
        return False
    reading.amounts.append(replace(length, role="each"))
    return True


def _takes_further(segment: str, reading: LineDraft) -> bool:
    """Whether a phrase goes on with an amount behind "plus", "and" or "with": more of the food, or a second food.


    "2 cups flour, plus 2 tablespoons" is more of it; "2 eggs plus 1 egg yolk" is two foods.
    """
    start = further_amount(segment)
    if start is None:
        return False
    measures = read_measures(segment, start, role="plus")
    quantity = read_quantity(segment, start) if measures is None else None
    end = measures.end if measures is not None else quantity.end if quantity is not None else len(segment)
    rest = segment[end:].strip(" ,.")
    main = kind(reading.amounts[0].unit) if reading.amounts else "unknown"
    alike = measures is not None and kind(measures.amounts[0].unit) == main != "count"
    if measures is not None and not rest and alike:
        reading.amounts += measures.amounts
        return True
    reading.notes.append(segment)
    if _chooses(reading):
        return True
    if measures is not None and alike and (_MORE_OF_IT.match(rest) or _only_done(rest)):
        reading.amounts += measures.amounts  # "plus 2 tablespoons for dusting"
        return True
    if rest and not NOTE.match(rest) and not is_preparation(rest):
        _take_food(segment[start:], reading)
    return True


def _only_done(phrase: str) -> bool:
    """Whether a phrase is nothing but what is done to the food: "melted", "whipped"."""
    return (is_preparation(phrase) and only_describes(phrase)) or PARTICIPLE.fullmatch(phrase) is not None


def _take_food(phrase: str, reading: LineDraft) -> None:
    """Put down a second food with its amount, and say that it was read as one."""
    reading.further.append(phrase)
    reading.problem("two-foods", f"“{phrase}” is read as a second food; write it on a line of its own to be sure.")


def _chooses(reading: LineDraft) -> bool:
    """Whether the line offers another food with its own amount: what follows may belong to that one."""
    return any(note == "or" or _OR_COUNTED.match(f" {note}") for note in reading.notes)


def _takes_food(segment: str, reading: LineDraft) -> bool:
    """Whether a phrase is a second food with a weight or a volume of its own: "1/2 tsp salt, 1/4 tsp pepper"."""
    measures = read_measures(segment, 0)
    if measures is None or kind(measures.amounts[0].unit) not in ("mass", "volume"):
        return False
    rest = _GOES_ON.split(segment[measures.end :].strip(" ,.").removeprefix("of "))[0]
    if measures.amounts[0].role == "each" or ":" in rest or _chooses(reading):
        return False
    water = rest.lower().rsplit(" ", 1)[-1] == "water"  # boiling, chilled: it is a food however it is
    if not water and (not is_food(rest) or any(word.lower() in PREPARATIONS for word in rest.split())):
        return False  # "1 pound bacon, 2 tablespoons fat reserved"
    reading.notes.append(segment)
    _take_food(segment, reading)
    return True


def _takes_amount(segment: str, reading: LineDraft) -> bool:
    """Whether a phrase says the amount again ("about 2 cups", "each about 4 pounds", "2 cups chopped"); taken if so."""
    opening = _SAYS_SIZE.match(segment)
    start = opening.end() if opening is not None else 0
    role = "each" if opening is not None and "each" in opening[0].lower() else "same"
    measures = read_measures(segment, start, role=role)
    if measures is None or kind(measures.amounts[0].unit) == "length":
        return False
    measured = ("mass", "volume")
    if kind(measures.amounts[0].unit) not in measured and kind(reading.amounts[0].unit) not in measured:
        return False
    rest = segment[measures.end :].strip(" ,").removeprefix("of ")
    if not rest or is_preparation(rest) or only_describes(rest) or rest.rsplit(" ", 1)[-1].lower() in _FORM_AGAIN:
        reading.preparations += [rest] if rest else []
    elif segment.lower().startswith("about ") or rest.lower().endswith(reading.food.lower().rsplit(" ", 1)[-1] or "-"):
        reading.notes.append(rest)  # "12 drumsticks, about 3 pounds chicken", "2 cups flour/250 g plain flour"
    else:
        return False
    say_again(list(measures.amounts), reading)
    return True


def other_food(phrase: str, reading: LineDraft) -> str:
    """The food that a phrase behind "or" offers; an amount of its own ("or 1 teaspoon dried thyme") is noted."""
    own = LineDraft(reading.number)
    rest = phrase[read_head(phrase, own) :].strip(" ,")
    if own.amounts:
        reading.notes.append(f"or {phrase}")
    return read_name(rest.removeprefix("of ")).name if rest else ""


def take_parentheses(text: str, reading: LineDraft) -> str:
    """Take every parenthesis out of the rest of a line and sort what it says."""
    for _ in range(50):
        found = _PAREN.search(text)
        if found is None:
            break
        inside = found[1].strip(" .,;")
        before, behind = text[: found.start()].rstrip(), text[found.end() :].lstrip()
        choice = _CHOICE.fullmatch(inside)
        if choice is not None and behind[:1].isalpha() and only_describes(choice[1]):
            text = f"{before} {inside} {behind}"  # "fresh (or dried) bay leaves"
            continue
        if _OTHER_AMOUNT.search(before) or (_AND_FOOD.fullmatch(inside) and not is_preparation(inside[4:])):
            text = f"{before} {inside} {behind}"  # "or 2 (28-ounce) cans": speaks of the other food
            continue
        text = f"{before}{behind}" if behind[:1] in (",", ";", ".") else f"{before} {behind}".strip()
        if _CUT_SIZE.search(before) and _LENGTH.match(inside):
            reading.preparations.append(inside)  # "chopped in 3/4-inch (2 cm) pieces"
            continue
        if inside and not _take_inside(inside, reading):
            pieces = [piece.strip() for piece in inside.split(",")]
            left = [piece for piece in pieces if not _take_inside(piece, reading)] if len(pieces) > 1 else pieces
            if left:
                words = ", ".join(left)
                reading.to_taste = reading.to_taste or (TO_TASTE.search(words) is not None and not reading.amounts)
                reading.notes.append(words)
    opening = text.find("(")
    if opening >= 0:
        reading.notes.append(" ".join(text[opening:].replace("(", " ").replace(")", " ").split()))
        text = text[:opening].strip()
    return text.replace(")", " ").strip()


def _take_inside(inside: str, reading: LineDraft) -> bool:
    """Whether what stands in a parenthesis is a size, an amount, a preparation or another food; taken over if so."""
    size = _SIZE_PAREN.fullmatch(inside)
    if size is not None and reading.size is None:
        reading.size = SIZE_OF[size[1].lower().replace(" ", "-")]
        return True
    if reading.amounts and reading.derived is None:
        derived = derivation_behind(inside)
        if derived is not None:
            reading.derived = derived.what
            return True
    if reading.amounts and take_parenthesis(inside, reading):
        return True
    if is_preparation(inside) and "," not in inside:
        take_segment(inside, reading)
        return True
    choice = _CHOICE.fullmatch(inside)
    if choice is not None and len(inside.split()) <= 5 and "," not in inside and not _NO_CHOICE.match(choice[1]):
        reading.alternatives.append(other_food(choice[1], reading))
        return True
    return False
