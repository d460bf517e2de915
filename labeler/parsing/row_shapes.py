"""What a row looks like: a sentence, a tip, a word on storage, an amount at its head; and whether it goes on below."""

from __future__ import annotations

import re

from labeler.parsing.row_phrases import one_of
from labeler.parsing.units import kind

__all__ = [
    "ends_with_amount", "is_sentence", "is_storage", "names_itself", "opens_with_amount", "plain_of", "says_measure",
    "still_open", "wraps",
]  # fmt: skip

_FIGURE = r"[\d½¼¾⅓⅔⅛⅜⅝⅞~]"
_AMOUNT = re.compile(rf"\W{{0,2}}(?:{_FIGURE}|{one_of('amount')}\s)", re.IGNORECASE)
_NO_AMOUNT = re.compile(
    rf"\W{{0,2}}(?:[\d½¼¾⅓⅔⅛./\s–-]+(?:to \d+\s*)?(?:{one_of('no_amount')}\b|[°%])"
    rf"|(?:{one_of('amount')}\s+)?of (?:the|them|these)\b|{one_of('amount')}\s+[\w ]{{0,30}}{one_of('about_it')}\b)",
    re.IGNORECASE,
)
_MEASURE_LAST = re.compile(
    rf"[^\W\d][^\W_]{{0,30}}\)?[\s.…:·,_–-]+\(?{_FIGURE}[\d½¼¾⅓⅔⅛./,\s–-]*[^\W\d]{{1,12}}\.?\)?$"
)
_EDGE = re.compile(r"^[^\w(\"'“‘½¼¾⅓⅔⅛~©]+")
_STORAGE = re.compile(rf"^{one_of('storage')}\b", re.IGNORECASE)
_KEEPING = re.compile(rf"\b{one_of('keeping')}\b", re.IGNORECASE)
_ENDS = re.compile(r"[.!?:;)\"'”’]\s*$")
_OPEN_END = re.compile(rf"(?:[,&+/–-]|\b{one_of('open_end')})\s*$", re.IGNORECASE)


def plain_of(text: str) -> str:
    """A row without pictures and signs before its words."""
    return _EDGE.sub("", text.replace("’", "'")).strip()


def opens_with_amount(text: str) -> bool:
    """Whether a row begins with how much of what; times, temperatures and helpings are no amounts of a food."""
    return _AMOUNT.match(text) is not None and _NO_AMOUNT.match(text) is None


def ends_with_amount(text: str) -> bool:
    """Whether a row ends with a weight or a volume of what it names: "Plain flour ..... 225 g", "Milk: 2 dl"."""
    from labeler.parsing.ingredient.line import read_line

    if not _MEASURE_LAST.search(text) or is_sentence(text):
        return False
    line = read_line(text)
    return bool(line.name) and any(one.unit and kind(one.unit) in ("mass", "volume") for one in line.amounts)


def says_measure(text: str) -> bool:
    """Whether a row begins with a weight or a volume of something: "800 g carrots", not "2 sheet pans"."""
    from labeler.parsing.ingredient.amounts import read_measures

    found = read_measures(plain_of(text), 0) if opens_with_amount(text) and not is_sentence(text) else None
    return found is not None and any(one.unit and kind(one.unit) in ("mass", "volume") for one in found.amounts)


def is_sentence(text: str) -> bool:
    """Whether a row is prose rather than a line of a list: several sentences, or one long one with a full stop."""
    words = text.split()
    if re.search(r"[a-z)][.!?]\s+[A-Z\"“]", text) and len(words) > 8 and not opens_with_amount(text):
        return True
    if re.search(r"[a-z)][.!?]\s+[A-Z]\w+.*[a-z][.!?]$", text) and len(words) > 14:
        return True
    ends = re.search(r"[a-z)][.!]+\W*$", text) is not None
    return not opens_with_amount(text) and ((ends and len(words) >= 5) or len(words) > 16)


def is_storage(text: str) -> bool:
    """Whether a row says how long or how to keep the dish."""
    stated = plain_of(text)
    return _STORAGE.match(stated) is not None and _KEEPING.search(stated) is not None and len(stated.split()) <= 30


def names_itself(text: str, kind: str) -> bool:
    """Whether a row of such a kind opens with a word for it and a colon ("Serves: 4"), as no ingredient does."""
    return kind in ("yield", "time", "about") and re.match(r"[^\W\d][^:\d]*:", plain_of(text)) is not None


def still_open(before: str, text: str) -> bool:
    """Whether an ingredient line is not at its end and the next row goes on with it."""
    if before.count("(") > before.count(")"):
        return True
    opens = opens_with_amount(text)
    return not opens and (_OPEN_END.search(before) is not None or bool(re.match(r"(?:and|or|plus)\s", text)))


def wraps(before: str, text: str) -> bool:
    """Whether a sentence of the method is not at its end and the next row goes on with it."""
    if before.count("(") > before.count(")") or _OPEN_END.search(before):
        return True
    if text[:1].islower():
        # Who writes all in lower case begins another step with its verb.
        from labeler.parsing.row_classifier import row_kind

        return not (before[:1].islower() and row_kind(before) == "step" and row_kind(text) in ("step", "time"))
    return _ENDS.search(before) is None and len(before) >= 50
