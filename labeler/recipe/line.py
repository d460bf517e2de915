"""One ingredient line in the cook's own words: how much, of what, prepared how.

A line is read from the left: the amount with its sizes and packages, then the food up to the first comma, then what
is done to it and everything else. Nothing that is written is lost: what is neither amount, food nor preparation is
the note, and what does not make sense is a problem.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.knowledge import Problem
from labeler.recipe.amounts import (
    Measures,
    amounts_agree,
    read_measures,
    read_quantity,
    read_unit,
    tidy,
)
from labeler.recipe.model import Amount, Line, Pin
from labeler.recipe.naming import is_preparation, only_describes, read_name
from labeler.recipe.units import BARE, TRAILING, canonical_unit, kind
from labeler.recipe.words import ADJECTIVES, CONTAINERS, SIZES

__all__ = ["read_line"]

ABSURD = 1e6
"""An amount beyond this is no kitchen's [in the line's own unit]."""

_BRACES = re.compile(r"\{([^{}]*)\}")
_PAREN = re.compile(r"\(([^()]*)\)")
_OPTIONAL = re.compile(r"\(?\boptional(?:ly)?\b\)?[:,]?", re.IGNORECASE)
_TO_TASTE = re.compile(
    r"\b(?:or )?(?:more )?(?:(?:according )?to (?:your )?taste|as (?:needed|required|desired|necessary|you like)|"
    r"if (?:needed|desired)|to your liking|q\.s\.|quantum satis)\b",
    re.IGNORECASE,
)
_LOOSE = re.compile(r"(?:(?:just )?an? (?:little|bit of|bit|lot of|touch of|little bit of)|some|plenty of|lots of|extra) ",
                    re.IGNORECASE)  # fmt: skip
# Where the name ends although no comma says so.
_TAIL = re.compile(
    r",|;| -{1,2} | — |—| (?=(?:for|to (?:serve|taste|finish|garnish|coat|cover|season|grease|dust|drizzle)|"
    r"(?:as|if) (?:needed|required|desired|necessary|garnish)|such as|like|preferably|plus (?:more|extra|additional)|"
    r"plus|at (?:cool )?room temp\w*|cut (?:in|into|on|crosswise|lengthwise|up)|torn (?:in|into)|see|until|about|approximately|"
    r"approx|optional|sliced (?:in|into)|chopped (?:in|into)|broken (?:in|into)|more (?:to|as|for|if)|"
    r"(?:that|which|who) |each|enough (?:to|for)|depending|in (?:\d|half|one|large|small|thin|thick|bite))\b)",
    re.IGNORECASE,
)
_NOTE = re.compile(
    r"(?:for|to serve|to taste|to finish|to garnish|as (?:needed|required|desired|necessary|a|garnish)|plus|optional|"
    r"divided|preferably|such as|like|see|or|if|more|extra|additional|depending|about|approximately|not|available|"
    r"recipe|from|with|and|any|homemade|store-bought|your|I |we |you |note|e\.g|i\.e|include|including|enough)\b",
    re.IGNORECASE,
)
_DERIVED = re.compile(
    r"(?P<before>(?:(?:freshly|fresh|finely|coarsely|squeezed|grated|strained|minced|chopped|the|a|large|thick|thin|"
    r"little|few|strip|strips|of) )*)"
    r"(?P<what>juice and (?:grated |finely grated )?(?:zest|rind|peel)|(?:zest|rind|peel) and juice|juice|zest|rind|"
    r"peels?|kernels|leaves|seeds|yolks?|whites?|flesh|pulp|meat|stems|fronds|tops|greens)"
    r" (?:of|from) (?P<rest>.*)",
    re.IGNORECASE,
)
# "1 lemon, juice of", "2 limes, juiced", "1 lemon, zested and juiced", "1/2 lemon (juice only)"
_DERIVED_AFTER = re.compile(
    r"(?:(?:finely |freshly )?(?P<one>juiced?|zested|zest|rind|grated zest|grated rind)"
    r"(?: and (?:finely )?(?P<two>juiced?|zested|zest|rind|grated zest))?)(?: of| only)?",
    re.IGNORECASE,
)
_DERIVED_KIND = {"juice": "juice", "juiced": "juice", "zest": "zest", "zested": "zest", "rind": "zest",
                 "grated zest": "zest", "grated rind": "zest"}  # fmt: skip
_ONE_OF = {"peels": "peel", "yolk": "yolks", "white": "whites"}
_PLUS = re.compile(r"(?:,? (?:plus|and)|,? ?[+&]) ", re.IGNORECASE)
_LESS = re.compile(r",? (?:less|minus) ", re.IGNORECASE)
_OR_SAME = re.compile(r",? or (?=[\d.~a])", re.IGNORECASE)
_TIMES = re.compile(r" ?[xX] ?(?=\d)")
_OF = re.compile(r" of (?:the )?| ", re.IGNORECASE)
_NEXT_WORD = re.compile(r" ([A-Za-z]+(?:-[A-Za-z]+)*)")
_HEAVY = {"heaping": "", "heaped": "", "scant": "", "generous": "", "rounded": "", "level": "level", "good": "",
          "full": "", "packed": "packed", "firmly": "firmly", "loosely": "loosely", "lightly": "lightly",
          "tightly": "tightly", "well-packed": "well packed", "firmly-packed": "firmly packed", "overflowing": "",
          "brimming": "", "slightly": "slightly", "very": "", "well": "well"}  # fmt: skip
_LOOSELY = frozenset({"heaping", "heaped", "scant", "generous", "rounded", "good", "overflowing", "big", "small"})
_BEFORE_UNIT = (
    ADJECTIVES | SIZES | frozenset(_HEAVY) | {"broad", "wide", "square", "round", "decent", "leafy", "lovely"}
)
# "1 strip steak", "2 cube steaks", "1 rib roast": here the unit word is part of the food.
_NOT_A_UNIT_BEFORE = frozenset("steak steaks roast eye eyes".split())
_NEEDS_OF = frozenset({"round", "rounds", "pot", "pots", "log", "leaf"})
_HEADING = re.compile(r"[^:\d]*:\s*")
_SIZED = {"small": "small", "medium": "medium", "large": "large", "extra-large": "extra large", "big": "large",
          "extra large": "extra large", "medium-size": "medium", "medium-sized": "medium"}  # fmt: skip
_SIZE_PAREN = re.compile(r"(?:about )?(small|medium|large|extra[ -]large|big)(?:[ -]sized?)?", re.IGNORECASE)
_COLON_AMOUNT = re.compile(r"[\s:,(~-]+(?=(?:about |approx\.? |~)?[\d.])")
_MAIN_KINDS = ("mass", "volume")


class _Reading:
    """What has been made out of a line so far."""

    def __init__(self, number: int) -> None:
        self.number = number
        self.amounts: list[Amount] = []
        self.preparations: list[str] = []
        self.notes: list[str] = []
        self.problems: list[Problem] = []
        self.prefix: list[str] = []
        self.size: str | None = None
        self.optional = False
        self.to_taste = False
        self.derived: str | None = None

    def problem(self, code: str, message: str) -> None:
        self.problems.append(Problem(code, message, self.number))


def _read_pin(text: str, reading: _Reading) -> tuple[str, Pin | None]:
    """Take the braces out of a line and read what they settle."""
    found = _BRACES.search(text)
    if found is None:
        reading.problem(
            "pin-unreadable",
            "A brace has no partner; write for example “{food 15028, 454 g}”.",
        )
        return text.replace("{", " ").replace("}", " "), None
    food = grams = None
    retention: list[str] = []
    for item in re.split(r"[,;]", found[1]):
        words = item.split()
        if not words:
            continue
        key = words[0].lower().rstrip(":")
        measures = read_measures(item.strip(), 0)
        if key == "food" and len(words) == 2 and re.fullmatch(r"\d{1,5}", words[1]):
            food = words[1].zfill(5)
        elif key == "retention" and len(words) > 1:
            codes = [code for word in words[1:] for code in word.split("*") if code]
            if all(re.fullmatch(r"\d{1,4}", code) for code in codes):
                retention.extend(code.zfill(4) for code in codes)
            else:
                reading.problem("pin-unreadable", f"“{item.strip()}” is no retention code; it has up to four digits.")
        elif re.fullmatch(r"\d{1,4}(?:\*\d{1,4})*", words[0]) and len(words) == 1 and retention:
            retention.extend(code.zfill(4) for code in words[0].split("*"))
        elif measures is not None and measures.end == len(item.strip()) and kind(measures.amounts[0].unit) == "mass":
            from labeler.recipe.units import grams_per

            first = measures.amounts[0]
            grams = first.low * (grams_per(first.unit) or 0.0)
        else:
            reading.problem(
                "pin-unreadable",
                f"“{item.strip()}” in braces is not understood; write “food 15028”, “454 g” or “retention 0801”.",
            )
    rest = f"{text[: found.start()]} {text[found.end() :]}"
    if "{" in rest or "}" in rest:
        reading.problem("pin-unreadable", "Only the first pair of braces is read; put everything into one pair.")
        rest = rest.replace("{", " ").replace("}", " ")
    return " ".join(rest.split()), Pin(
        food, grams, tuple(retention)
    ) if food or grams is not None or retention else None


def _unit_ahead(text: str, at: int, reading: _Reading) -> tuple[str | None, bool, int]:
    """A unit at `at`, sizes and heaps before it allowed; what was passed over is noted. (None, False, at) if none."""
    unit = read_unit(text, at)
    if unit is not None and _is_unit_here(text, unit):
        return unit
    passed: list[str] = []
    position = at
    while len(passed) < 4:
        word = _NEXT_WORD.match(text, position)
        if word is None or word[1].lower() not in _BEFORE_UNIT:
            return None, False, at
        passed.append(word[1].lower())
        position = word.end()
        if text.startswith((",", " or ", " to ", " and "), position):
            return None, False, at
        unit = read_unit(text, position)
        if unit is not None and _is_unit_here(text, unit):
            break
    else:
        return None, False, at
    packed = []
    about = False
    for word in passed:
        if word in SIZES and word in _SIZED and kind(unit[0]) == "count":
            reading.size = _SIZED[word]
        elif word in _HEAVY:
            about = about or word in _LOOSELY
            if _HEAVY[word]:
                packed.append(_HEAVY[word])
        elif word in SIZES:
            about = True
        elif word in ("thick", "thin", "long", "short"):
            packed.append(word)
        elif word not in ("fat", "plump", "nice", "decent", "lovely", "broad", "wide", "square", "round", "leafy"):
            reading.prefix.append(word)
    if packed:
        reading.preparations.append(" ".join(packed))
    return unit[0], about, unit[2]


def _is_unit_here(text: str, unit: tuple[str, bool, int]) -> bool:
    """Whether the word that spells a unit is one here: "1 strip steak" has none."""
    name, _, end = unit
    if kind(name) != "count":
        return True
    following = _NEXT_WORD.match(text, end)
    if following is not None and following[1].lower() in _NOT_A_UNIT_BEFORE:
        return False
    word = text[:end].rsplit(" ", 1)[-1].lower()
    return not (word in _NEEDS_OF and not text.startswith(" of ", end))


def _read_head(text: str, reading: _Reading) -> int:
    """Read the amounts at the head of a line into `reading`; returns where the rest begins, 0 where there are none."""
    loose = _LOOSE.match(text)
    if loose is not None and (read_quantity(text) is None or not text[0].isdigit()):
        word = loose[0].strip()
        reading.notes.append(word)
        reading.to_taste = True
        return loose.end()
    quantity = read_quantity(text)
    if quantity is None:
        return _read_bare_unit(text, reading)
    end = quantity.end
    if end < len(text) and text[end] not in ' -(/,.xX|":;' and not text[end].isalpha():
        return 0
    each: list[Amount] = []
    low, high = quantity.low, quantity.high
    times = _TIMES.match(text, end)
    if times is not None:
        inner = read_measures(text, times.end(), role="each")
        if inner is not None and kind(inner.amounts[0].unit) in _MAIN_KINDS:
            each.append(inner.amounts[0])
            each += [replace(amount, role="same") for amount in inner.amounts[1:]]
            end = inner.end
    elif text.startswith(" (", end):
        closing = text.find(")", end)
        inner = read_measures(text, end + 2, role="each") if closing > 0 else None
        if inner is not None and inner.end >= closing - 1 and text[inner.end : closing].strip(" .") == "":
            each += [replace(amount, role="each" if at == 0 else "same") for at, amount in enumerate(inner.amounts)]
            end = closing + 1
    elif end < len(text) and text[end] == " ":
        inner = read_measures(text, end + 1, role="each") if text[end + 1 : end + 2].isdigit() else None
        if inner is None and text[end + 1 : end + 2].isalpha():
            word_size = read_measures(text, end + 1, role="each")
            if word_size is not None and text[word_size.end - 1].isalpha() and "-" in text[end + 1 : word_size.end]:
                inner = word_size
        if inner is not None and kind(inner.amounts[0].unit) != "count":
            each += [replace(amount, role="each" if at == 0 else "same") for at, amount in enumerate(inner.amounts)]
            end = inner.end
    if text.startswith("-", end) and each:
        end += 0
    unit, about, after = _unit_ahead(text, end, reading)
    joined = unit is not None and text[end : end + 1] == "-"
    if unit is not None and not each and kind(unit) != "count":
        # "15-ounce can", "400g tin", "1-inch piece": a size of one piece, not the amount.
        measures = _same_chain(text, after, Amount(low, high, unit, "each", quantity.about))
        piece, _, piece_end = _unit_ahead(text, measures.end, reading)
        holds = piece is not None and kind(piece) == "count"
        counted = 1.0
        if holds and quantity.dashed and low <= 6 and high / max(low, 0.1) > 3 and kind(unit) == "mass":
            counted, measures = (
                low,
                measures._replace(amounts=(replace(measures.amounts[0], low=high), *measures.amounts[1:])),
            )  # "2-15 ounce cans"
        if holds or (joined and after == measures.end and text[after - 1] != "s" and kind(unit) == "mass"):
            each += measures.amounts
            low = high = counted
            unit, after = piece, piece_end if holds else measures.end
    if unit is None:
        main = Amount(low, high, None, "main", quantity.about)
    else:
        main = Amount(low, high, unit, "main", quantity.about or about)
        end = after
    reading.amounts.append(main)
    reading.amounts += each
    return _read_more(text, end, reading)


def _same_chain(text: str, at: int, first: Amount) -> Measures:
    """`first` with the amounts that follow it behind slashes ("15-ounce/425-gram can")."""
    found = [first]
    while at < len(text) and text[at] == "/":
        more = read_measures(text, at + 1)
        if more is None:
            break
        found += more.amounts
        at = more.end
    return Measures(tuple(found), at)


def _read_bare_unit(text: str, reading: _Reading) -> int:
    """ "Pinch of salt", "Large handful of basil": a unit with no number is one of it. 0 where there is none."""
    before = (len(reading.preparations), len(reading.prefix), reading.size)
    unit, about, end = _unit_ahead(f" {text}", 0, reading)
    if unit is None or unit not in BARE or end - 1 >= len(text) or not text[: end - 1].lower().endswith(unit):
        del reading.preparations[before[0] :], reading.prefix[before[1] :]
        reading.size = before[2]
        return 0
    if not text.startswith(" ", end - 1):
        return 0
    reading.amounts.append(Amount(1.0, 1.0, unit, "main", about))
    return _read_more(text, end - 1, reading)


def _read_more(text: str, at: int, reading: _Reading) -> int:
    """What follows the main amount and speaks of it: the same again, what is added, what is taken off."""
    while at < len(text):
        main = reading.amounts[0]
        slash = re.compile(r" ?[/|=] ?(?=[~\d.])").match(text, at)
        if slash is not None:
            measures = read_measures(text, slash.end())
            if measures is None:
                return at
            reading.amounts += measures.amounts
            at = measures.end
            continue
        if text.startswith((" (", "("), at):
            opening = text.index("(", at)
            closing = text.find(")", opening)
            inside = text[opening + 1 : closing] if closing > 0 else text[opening + 1 :]
            if main.unit is None or not _take_parenthesis(inside, reading):
                return at
            at = closing + 1 if closing > 0 else len(text)
            continue
        plus = _PLUS.match(text, at)
        if plus is not None:
            measures = read_measures(text, plus.end(), role="plus")
            first = measures.amounts[0] if measures is not None else None
            if (
                measures is None
                or first is None
                or main.unit is None
                or (kind(first.unit) != kind(main.unit) and not (main.unit == "stick" and kind(first.unit) == "volume"))
                or ("and" in plus[0].lower() and kind(first.unit) == "count")
            ):
                return at
            reading.amounts.append(replace(first, role="plus"))
            reading.amounts += [replace(amount, role="same") for amount in measures.amounts[1:]]
            at = measures.end
            continue
        less = _LESS.match(text, at)
        if less is not None:
            measures = read_measures(text, less.end())
            if measures is None or len(reading.amounts) != 1 or not _take_off(measures.amounts[0], reading):
                return at
            at = measures.end
            continue
        either = _OR_SAME.match(text, at)
        if either is not None:
            measures = read_measures(text, either.end())
            if measures is None or main.unit is None:
                return at
            first = measures.amounts[0]
            if first.unit == main.unit and first.low > main.low:
                reading.amounts[0] = replace(main, high=first.high)
            elif {kind(first.unit), kind(main.unit)} == {"mass"} and not amounts_agree([main], [first]):
                return at
            elif kind(first.unit) != kind(main.unit) or amounts_agree([main], [first]):
                reading.amounts += measures.amounts
            else:
                return at
            at = measures.end
            continue
        range_end = re.compile(r" ?(?:-|to) (?=\d)").match(text, at)
        if range_end is not None and len(reading.amounts) == 1:
            measures = read_measures(text, range_end.end())
            if measures is not None and _widen(measures.amounts[0], reading):
                reading.amounts += measures.amounts[1:]
                at = measures.end
                continue
        if re.compile(r",? (?=\d)").match(text, at) and main.unit in ("pound", "kilogram", "cup", "quart", "pint"):
            start = at + 2 if text[at] == "," else at + 1
            measures = read_measures(text, start, role="plus")
            if measures is not None and kind(measures.amounts[0].unit) == kind(main.unit):
                reading.amounts.append(replace(measures.amounts[0], role="plus"))
                at = measures.end
                continue
        return at
    return at


def _in_unit(amount: Amount, unit: str) -> Amount | None:
    """An amount in another unit of the same kind; None where the kinds differ."""
    from labeler.recipe.units import grams_per, millilitres_per

    per = grams_per if kind(unit) == "mass" else millilitres_per
    own, other = per(amount.unit), per(unit)
    if own is None or other is None:
        return None
    return replace(amount, low=amount.low * own / other, high=amount.high * own / other, unit=unit)


def _widen(upper: Amount, reading: _Reading) -> bool:
    """ "1 cup to 1 1/2 cups", "250g-300g": let the main amount reach to `upper`."""
    main = reading.amounts[0]
    if main.unit is None:
        return False
    same = upper if upper.unit == main.unit else _in_unit(upper, main.unit)
    if same is None or same.high < main.low:
        return False
    reading.amounts[0] = replace(main, high=same.high)
    return True


def _take_off(off: Amount, reading: _Reading) -> bool:
    """ "1 cup less 2 tablespoons": lower the main amount by `off`."""
    main = reading.amounts[0]
    same = _in_unit(off, main.unit) if main.unit is not None else None
    if same is None or same.high >= main.low:
        return False
    reading.amounts[0] = replace(main, low=main.low - same.low, high=main.high - same.high)
    return True


def _take_parenthesis(inside: str, reading: _Reading) -> bool:
    """Whether a parenthesis behind the main amount is wholly made of amounts; they are taken over if so."""
    inside = inside.strip()
    measures = read_measures(inside, 0)
    if measures is None:
        return False
    rest = inside[measures.end :].strip(" .,;")
    amounts = list(measures.amounts)
    while rest:
        rest = re.sub(r"^(?:or|and|to|=|;|,|/)\s+", "", rest)
        more = read_measures(rest, 0)
        if more is None:
            return False
        amounts += more.amounts
        rest = rest[more.end :].strip(" .,;")
    _say_again(amounts, reading)
    return True


def _say_again(amounts: list[Amount], reading: _Reading) -> None:
    """Add amounts that repeat the main one; behind a container they are its size."""
    main = reading.amounts[0] if reading.amounts else None
    sized = any(amount.role == "each" for amount in reading.amounts)
    for at, amount in enumerate(amounts):
        role = amount.role
        if role == "same" and main is not None and main.unit in CONTAINERS and not sized and at == 0 and kind(
            amount.unit
        ) in _MAIN_KINDS:  # fmt: skip
            role = "each"
        elif role == "each" and at > 0:
            role = "same"
        reading.amounts.append(replace(amount, role=role))


def _trailing_unit(name: str, reading: _Reading) -> str:
    """ "6 garlic cloves", "2 thyme sprigs": a counted unit that stands behind its food; returns the name without it."""
    head, space, last = name.rpartition(" ")
    if not space:
        return name
    unit = canonical_unit(last)
    if unit is None:
        return name
    foods = TRAILING.get(unit)
    if foods is None:
        return name
    before = head.rsplit(" ", 1)[-1].lower()
    if before in ADJECTIVES or ("*" not in foods and before not in foods):
        return name
    main = reading.amounts[0]
    reading.amounts[0] = replace(main, unit=unit)
    return head


def _take_segment(segment: str, reading: _Reading) -> None:
    """Sort a phrase behind the name: an amount, a preparation, or a note."""
    segment = segment.strip(" .,;:-—")
    if not segment:
        return
    taste = _TO_TASTE.search(segment)
    if taste is not None:
        if not reading.amounts:
            reading.to_taste = True
        reading.notes.append(segment)
        return
    if reading.amounts:
        measures = read_measures(segment, 0)
        if measures is not None and kind(measures.amounts[0].unit) != "length":
            rest = segment[measures.end :].strip(" ,")
            main = reading.amounts[0]
            useful = kind(measures.amounts[0].unit) in _MAIN_KINDS or kind(main.unit) in _MAIN_KINDS
            if useful and (not rest or is_preparation(rest)) and "thick" not in rest:
                _say_again(list(measures.amounts), reading)
                if rest:
                    reading.preparations.append(rest)
                return
    if _NOTE.match(segment) and not is_preparation(segment):
        reading.notes.append(segment)
    else:
        reading.preparations.append(segment)


def _take_parentheses(text: str, reading: _Reading) -> str:
    """Take every parenthesis out of the rest of a line and sort what it says."""
    for _ in range(20):
        found = _PAREN.search(text)
        if found is None:
            break
        inside = found[1].strip()
        text = f"{text[: found.start()].rstrip()} {text[found.end() :].lstrip()}".strip()
        text = text.replace(" ,", ",")
        size = _SIZE_PAREN.fullmatch(inside)
        if not inside:
            continue
        if size is not None and reading.size is None:
            reading.size = _SIZED[size[1].lower().replace("extra ", "extra-")]
        elif reading.amounts and _take_parenthesis(inside, reading):
            pass
        elif is_preparation(inside):
            reading.preparations.append(inside)
        else:
            if _TO_TASTE.search(inside) and not reading.amounts:
                reading.to_taste = True
            reading.notes.append(inside)
    if "(" in text or ")" in text:
        opening = text.find("(")
        if opening >= 0:
            reading.notes.append(text[opening + 1 :].replace("(", " ").replace(")", " ").strip())
            text = text[:opening].strip()
        text = text.replace(")", " ").strip()
    return text


def _amount_behind(text: str, reading: _Reading) -> str:
    """ "beef stock ~1 pint", "Butter 50 g": an amount behind the food, where none stands before it."""
    for found in _COLON_AMOUNT.finditer(text):
        start = found.end()
        before = text[: found.start()].strip(" :,(~-")
        if not before:
            return text
        if re.search(r"\b(?:for|with|from|in|into|per|serves|no\.?)$|\bfor\b", before, re.IGNORECASE):
            return text
        measures = read_measures(text, start, role="main")
        if measures is not None and kind(measures.amounts[0].unit) != "length":
            first, *others = measures.amounts
            reading.amounts.append(replace(first, role="main"))
            reading.amounts += [replace(amount, role="same") for amount in others]
            end = _read_more(text, measures.end, reading)
            return f"{before} {text[end:].strip(' .)')}".strip()
        quantity = read_quantity(text, start)
        if quantity is not None and text[quantity.end :].strip(" .)") == "":
            reading.amounts.append(Amount(quantity.low, quantity.high, None, "main", quantity.about))
            return before
    return text


def _check(reading: _Reading) -> None:
    """Report what the amounts say that cannot be: nothing, less than nothing, too much, two things at once."""
    for amount in reading.amounts:
        if amount.low <= 0:
            reading.problem("amount-zero", "An amount of zero weighs nothing; write how much goes in.")
        if not amount.high <= ABSURD:
            reading.problem("amount-absurd", f"An amount of {amount.high:g} is beyond any kitchen; check the number.")
    same = [amount for amount in reading.amounts if amount.role == "same"]
    if not same:
        return
    main = reading.amounts[0]
    stated = [amount for amount in reading.amounts if amount.role in ("main", "plus")]
    each = [amount for amount in reading.amounts if amount.role == "each"]
    sums = [[amount] for amount in same]
    if not any(amounts_agree(stated, other) for other in sums):
        _disagree(stated, sums[0], reading)
    elif each and main.unit in (None, *CONTAINERS):
        packed = [replace(each[0], low=each[0].low * main.low, high=each[0].high * main.high)]
        bad = [other for other in sums if not amounts_agree(packed, other) and not amounts_agree(each[:1], other)]
        if bad:
            _disagree(packed, bad[0], reading)
    else:
        for other in sums:
            if not amounts_agree(stated, other):
                _disagree(stated, other, reading)
                return


def _say(amounts: list[Amount]) -> str:
    texts = []
    for amount in amounts:
        number = f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g}–{amount.high:g}"
        texts.append(f"{number} {amount.unit or ''}".strip().replace("_", " "))
    return " plus ".join(texts)


def _disagree(one: list[Amount], other: list[Amount], reading: _Reading) -> None:
    reading.problem(
        "amounts-disagree",
        f"The line says both {_say(one)} and {_say(other)}, which are not the same; the first is taken. "
        "Keep the one that you weigh or measure.",
    )


def _read_derived(text: str, reading: _Reading) -> str | None:
    """ "Juice of 2 limes", "grated zest and juice of 1 lemon": read the amount behind; returns the name, or None."""
    found = _DERIVED.match(text)
    if found is None:
        return None
    what = found["what"].lower()
    rest = found["rest"]
    start = len(reading.amounts)
    end = _read_head(rest, reading)
    if end == 0 and not rest[:1].isalpha():
        return None
    if len(reading.amounts) == start:
        return None
    kinds = "juice and zest" if "juice and" in what or "and juice" in what else what.split()[-1]
    kinds = {"rind": "zest", "peels": "peel", "yolk": "yolks", "white": "whites"}.get(kinds, kinds)
    reading.derived = kinds
    if found["before"].strip():
        reading.preparations.append(found["before"].strip())
    return rest[end:].strip()


def _derive_name(name: str, derived: str) -> str:
    """ "limes" and "juice" make "lime juice"; two things make two foods."""
    head, _, last = name.rpartition(" ")
    singular = last
    if last.endswith("ies") and len(last) > 4:
        singular = last[:-3] + "y"
    elif last.endswith("oes"):
        singular = last[:-2]
    elif last.endswith("s") and not last.endswith(("ss", "us")) and len(last) > 3:
        singular = last[:-1]
    if last.lower() in ("thyme", "asparagus", "citrus"):
        singular = last
    food = f"{head} {singular}".strip()
    return " and ".join(f"{food} {part}" for part in derived.split(" and "))


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
    reading = _Reading(number)
    work = tidy(text)
    pin = None
    if "{" in work or "}" in work:
        work, pin = _read_pin(work, reading)
    if "ptional" in work or "PTIONAL" in work:
        cleaned = _OPTIONAL.sub(" ", work)
        if cleaned != work:
            reading.optional = True
            work = " ".join(cleaned.split()).strip(" ,;:")
    work = work.replace(" ,", ",")
    if work.endswith(":") and _HEADING.fullmatch(work):
        reading.problem("heading", f"“{work}” names no food; a heading of a part begins with ##.")
        return Line(text, note=work, number=number, problems=tuple(reading.problems), pin=pin)
    if work.startswith("-") and work[1:2].isdigit():
        reading.problem("amount-negative", "An amount cannot be less than nothing; the minus sign is not read.")
        work = work[1:]
    rest = _read_derived(work, reading)
    if rest is None:
        rest = work[_read_head(work, reading) :]
    rest = rest.lstrip(" ,.:;)-")
    if rest[:3].lower() == "of ":
        rest = rest[3:]
    if not reading.amounts and not reading.to_taste:
        rest = _amount_behind(rest, reading)
    if "(" in rest or ")" in rest:
        rest = _take_parentheses(rest, reading)
    rest = rest.lstrip(" ,.:;")
    name, tail = _cut_tail(rest)
    if reading.prefix:
        name = f"{' '.join(reading.prefix)} {name}"
    named = read_name(name)
    food = named.name
    if named.preparation:
        reading.preparations.append(named.preparation)
    for segment in tail:
        derived = _DERIVED_AFTER.fullmatch(segment) if reading.derived is None and reading.amounts else None
        if derived is not None and kind(reading.amounts[0].unit) == "count":
            kinds = sorted({_DERIVED_KIND[part.lower()] for part in (derived["one"], derived["two"]) if part})
            reading.derived = " and ".join(kinds)
        else:
            _take_segment(segment, reading)
    if reading.amounts:
        food = _settle_unit(food, reading)
        if reading.derived is not None and food:
            counted = food
            food = _derive_name(food, reading.derived)
            reading.notes.append(f"counted in {counted}")
        _check(reading)
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
        alternatives=named.alternatives,
        pin=pin,
        number=number,
        problems=tuple(reading.problems),
        derived=reading.derived,
    )


def _settle_unit(food: str, reading: _Reading) -> str:
    """Settle a count with its unit: one that stands behind the food, or one that is the food ("8 cloves")."""
    main = reading.amounts[0]
    if main.unit is None:
        return _trailing_unit(food, reading)
    if not food and kind(main.unit) == "count":
        reading.amounts[0] = replace(main, unit=None)
        return main.unit + ("s" if main.high > 1 else "")
    return food


def _cut_tail(rest: str) -> tuple[str, list[str]]:
    """The phrase that names the food, and the phrases behind it."""
    start = 0
    while True:
        found = _TAIL.search(rest, start)
        if found is None:
            return rest, []
        name = rest[: found.start()]
        if found[0].strip() in (",", "") and only_describes(name.replace(",", " ")) and rest[found.end() :].strip():
            start = found.end()  # "boneless, skinless chicken breasts", "peeled, diced tomatoes"
            continue
        break
    tail = []
    position = found.end()
    while position <= len(rest):
        found = re.compile(r"[,;]| — |—| -{1,2} ").search(rest, position)
        piece = rest[position : found.start()] if found is not None else rest[position:]
        if piece.strip():
            tail.append(piece.strip())
        if found is None:
            break
        position = found.end()
    return name, tail
