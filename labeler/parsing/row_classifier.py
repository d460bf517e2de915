"""What a row of a recipe's text is where no mark says so: an ingredient, a step, how much it makes, a time, a heading.

The safe mistake is the rule: whatever does not show that it is something else is an ingredient, for an ingredient that
is lost takes its allergens with it. So a step must open with an action in its plain form ("toast the almonds"); a
participle ("toasted almonds") only says in which state a food goes in.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache

from labeler.data_files import data_folder, data_rows
from labeler.parsing.headings import opens_what
from labeler.parsing.instructions.actions import actions
from labeler.parsing.page_rows import is_page_row

__all__ = ["bare_row", "begins_with_action", "ends_in_action", "opens_with_verb", "row_kind", "says_yield"]

_MARKS = re.compile(r"^(?:#{1,6}\s+|[-*+>•·–—▢☐]\s*)+")
_STEP_NUMBER = re.compile(r"^(?:step\s*\d{1,2}\s*[.):-]?|\d{1,2}\s*[.):](?!\d))\s*", re.IGNORECASE)
_NUMBER = r"(?:\d[\d/.,½¼¾ -]*|an?|one|two|three|four|five|six|eight|ten|twelve)"
_PEOPLE = r"(?:servings?|portions?|people|persons?|helpings?|guests)"
_YIELD = re.compile(
    r"^(?:recipe |this )?(?P<word>serves|servings?|makes|yields?|portions?|feeds)\b\s*[:\-–]?\s*(?P<what>.*\w.*)$"
    rf"|^(?P<many>(?:for |enough for )?(?:about )?{_NUMBER}(?:\s*(?:to|or|-|–)\s*\d+)? {_PEOPLE})\.?"
    r"(?:\s*\([^()]*\))?$",
    re.IGNORECASE,
)
_TIME_OF = (
    r"(?:prep(?:aration)?|cook(?:ing)?|total|active|bake|baking|rest(?:ing)?|chill(?:ing)?|inactive|hands[- ]on|"
    r"marinat(?:e|ing)|soak(?:ing)?|standing|rising|proving|ready in|takes)"
)
_DURATION = r"(?:about |under )?\d[\d/.,½¼¾ -]*\s*-?\s*(?:seconds?|secs?|minutes?|mins?|m|hours?|hrs?|h|days?)\b\.?"
_TIMES = re.compile(
    rf"^{_TIME_OF}(?: time)?\s*[:\-–]\s*\S.*$|^{_TIME_OF} time\b.*$"
    rf"|^(?:{_TIME_OF}\s*)?(?:time\s*)?[:\-–]?\s*{_DURATION}(?:[\s,;|/+&]*(?:and )?(?:{_TIME_OF}\s*)?(?:time)?[:\s]*"
    rf"{_DURATION})*(?:\s*(?:{_TIME_OF}|in total))?$",
    re.IGNORECASE,
)
_ABOUT_IT = re.compile(
    r"^(?:course|cuisine|category|keywords?|author|by|difficulty|calories|rating|print|pin|equipment|source|"
    r"credits?|adapted from|see also|original source|from|to|cc|sent|subject|date|"
    r"last updated|updated|published|posted|posted on)\s*[:–]"
    r".{0,80}$|^(?:print|pin(?: it)?|jump to recipe|save recipe|print recipe|pin recipe|rate this recipe|easy|"
    r"https?://\S+)$|^[^\W\d][^:\d]{1,40}:\s*https?://\S+$"
    r"|^\W*\d(?:[.,]\d+)?\s*(?:/\s*5|stars?|from|out of)\b.{0,40}(?:votes?|ratings?|reviews?|stars?)\W*$"
    r"|^(?:[½\d]+\s*x\s*){2,}$|^#?[^\W\d]\w*(?:[\s,]+#[^\W\d]\w*)+$|^#[^\W\d]\w*$"
    r"|^(?:save|share|pin|bookmark|like) (?:this|it)\b.{0,60}$"
    r"|^[^»›]{1,40}(?:\s[»›]\s[^»›]{1,40})+$|^(?:follow|subscribe|tag (?:me|us)|leave a comment)\b.{0,60}$",
    re.IGNORECASE,
)
# What shows that a thing-word is an action, and that nothing is counted behind an action.
_ACTED_ON = re.compile(
    r"(?:the|a|an|your|it|them|this|these|each|both|all|everything|any|some|until|till|well|again|lightly|together|"
    r"through)\b",
    re.IGNORECASE,
)
_WITHOUT_FOOD = re.compile(
    r"(?:in|into|on|onto|over|under|at|to|for|with|without|by|from|through|between|aside|off|out|up|down|back|gently|"
    r"and|then|\w+ly)\b",
    re.IGNORECASE,
)
_IN_PLACE = re.compile(r"(?:in|into|on|onto|over|under) (?:the|a|an|your|its|their)\b")
_OF = re.compile(r"of\b|from\b(?! (?:the|your) )", re.IGNORECASE)
_COUNTED = re.compile(r"[\d½¼¾⅓⅔⅛]")
_CLOCK = re.compile(
    r"(?:for\s+)?(?:about\s+)?(?<![\d.])[\d½¼¾][\d½¼¾/. -]*(?:to\s+\d+\s*)?"
    r"(?:minutes?|mins?|hours?|hrs?|h|seconds?|secs?|days?|°|[cf])(?:\b|(?<=°))",
    re.IGNORECASE,
)
_ABBREVIATED = 4
"""Letters of the longest abbreviation of a time ("mins."), whose full stop ends no sentence."""
_SPEAKS = re.compile(r"\b(?:i|i'm|i've|we|we've)\b", re.IGNORECASE)
_QUOTE = re.compile(r"[“„«\"][^“”„«»\"]{4,}[”“»\"](?:\W*|\s*[-–—(]\s*\w.*)")
"""Somebody's words about the dish: “The best!” – my sister."""
_ADDRESSES = re.compile(r"[^\d½¼¾⅓⅔⅛]{2,}[!?]\s+\w")
"""Somebody speaks: "Hey! Here is the granola"."""
_ASKS = re.compile(r"[^\d½¼¾⅓⅔⅛]{12,}\w\?")
"""Somebody asks the reader."""
_PROSE = re.compile(r"(?:i|we|my|our|this|these|it|it's|you|they|she|he|there|here|that's)\b", re.IGNORECASE)
_HEATED_ROOM = re.compile(r"(?:oven|grill|broiler)\b[^.]{0,24}?\d{2,3}\s*(?:°|degrees|[CF]\b)", re.IGNORECASE)
"""How hot it is to be, without a verb: "oven 180C"."""
_IN_A_BOWL = re.compile(r"(?:in|into|on|to|for|with|as|if) (?:a|an|the|your|another)\b", re.IGNORECASE)


@cache
def _words() -> dict[str, frozenset[str]]:
    rows = data_rows(data_folder("labeler.parsing") / "row_words.csv")
    return {row["class"]: frozenset(row["words"].split()) for row in rows}


@cache
def _verbs() -> frozenset[str]:
    """Every verb of one word that the method knows; behind one that is acted on stands a thing: "Pack the jars."."""
    return frozenset(verb for one in actions().values() for verb in one.verbs if verb.isalpha())


def bare_row(row: str) -> str:
    """A row without the mark or the step number that it opens with."""
    return _STEP_NUMBER.sub("", _MARKS.sub("", row.strip())).strip()


def says_yield(row: str) -> str:
    """How much a row says that the recipe makes ("12 rolls", "4 servings"); empty where it says no such thing."""
    stated = bare_row(row)
    found = _YIELD.match(stated) if len(stated) <= 80 else None
    if found is None:
        return ""
    if found["many"]:
        return re.sub(r"^(?:enough )?for\s+", "", found["many"], flags=re.IGNORECASE)
    what, word = found["what"].strip(" ."), found["word"].lower()
    if word in ("serves", "feeds", "servings", "serving", "portions", "portion") and not re.search(
        _PEOPLE, what, re.IGNORECASE
    ):
        return f"{what} servings"
    return what


@lru_cache(maxsize=1024)
def row_kind(row: str) -> str:
    """What an unmarked row is.

    Parameters
    ----------
    row : str
        One row of a text, with or without a bullet or a step number.

    Returns
    -------
    str
        ``"heading"`` (see `labeler.parsing.headings`), ``"yield"`` ("Serves 4"), ``"time"`` ("Prep time 10 min"),
        ``"about"`` ("Difficulty: easy"), ``"step"`` ("Toast the almonds"), ``"prose"`` ("My aunt made this on
        Sundays."), else ``"ingredient"``.
    """
    stated = bare_row(row)
    if _HEATED_ROOM.match(stated):
        return "step"
    if opens_what(stated):
        return "heading"
    if says_yield(stated):
        return "yield"
    if _TIMES.match(stated):
        return "step" if _bids(stated) or _is_step(stated.partition(":")[2].strip()) else "time"
    if _ABOUT_IT.match(stated) or is_page_row(stated):
        return "about"
    if _is_step(stated):
        return "step"
    if _QUOTE.fullmatch(row.strip()) or _ADDRESSES.match(stated) or _ASKS.fullmatch(stated):
        return "prose"
    if row.strip()[:1] == "(" and row.strip()[-1:] == ")":
        stated = bare_row(row.strip()[1:-1])
    outside = re.sub(r"\([^()]*\)|,.*", " ", stated)
    speaks = _PROSE.match(stated) or (_SPEAKS.search(outside) and not _COUNTED.search(stated))
    return "prose" if speaks and len(stated.split()) >= 4 else "ingredient"


def begins_with_action(row: str) -> bool:
    """Whether several words above a list begin with an action: "Brown on both sides:"; one may be a noun."""
    words = re.findall(r"[^\W\d_]+", row.lower())
    known = _words()
    while words and (words[0] in known["opening"] or words[0].endswith("ly")):
        words = words[1:]
    if len(words) < 2:
        return False
    of_thing = words[0] in known["thing"] and _WITHOUT_FOOD.match(" ".join(words[1:])) is not None
    return of_thing or (words[0] in known["action"] and _OF.match(words[1]) is None)


def opens_with_verb(row: str) -> bool:
    """Whether a row opens with a word that may be a verb and goes on with what it is done to: "Slice potatoes thin".

    "Salt and pepper" and "roast, sliced" do not: what is joined to the word makes it a food.
    """
    words = re.findall(r"[^\W\d_]+(?:[-'’][^\W\d_]+)*|[,&]|\d+", row.lower())
    known = _words()
    while words and (words[0] in known["opening"] or words[0].endswith("ly")):
        words = words[1:]
    if len(words) < 2 or words[0] not in known["action"] | known["thing"] | _verbs():
        return False
    return words[1] not in known["joins"]


def ends_in_action(row: str) -> bool:
    """Whether a row that begins otherwise ends in an action and a list must follow: "To make the dough, combine"."""
    words = re.findall(r"[^\W\d_]+", row.lower())
    opened = re.match(r"\s*(?:to|in|into|for|with|on|then|meanwhile|next)\b", row, re.IGNORECASE) is not None
    return opened and len(words) > 2 and words[-1] in _words()["action"]


def _bids(text: str) -> bool:
    """Whether a row that holds a time is a sentence of the method: "Bake 20 minutes." is, "Bake: 20 min." is not."""
    words = re.findall(r"[^\W\d_]+", text.lower())
    known = _words()
    return (
        bool(words)
        and text.endswith(".")
        and ":" not in text
        and len(words[-1]) > _ABBREVIATED
        and words[0] in (known["action"] | known["thing"])
    )


def _is_step(text: str) -> bool:
    words = re.findall(r"[^\W\d_]+(?:[-'’][^\W\d_]+)*|[\d½¼¾⅓⅔⅛].*|[,:]", text.lower())
    known = _words()
    at = 0
    while at < len(words) and (words[at] in known["opening"] or words[at] in (",", "and") or words[at].endswith("ly")):
        at += 1
    if at == len(words) or _COUNTED.match(text):
        return False
    first, behind = words[at], " ".join(words[at + 1 :])
    if first in known["thing"] or (first in _verbs() and first not in known["action"]):
        ends = text.endswith(".") and _IN_PLACE.match(behind) is not None  # "Cool in the tin."
        return "(" not in text and (ends or _ACTED_ON.match(behind) is not None or _CLOCK.match(behind) is not None)
    rest = behind.lstrip(", ")
    goes_on = _ACTED_ON.match(rest) is not None or _CLOCK.search(rest) is not None
    if first in known["action"]:
        # "slice of ham", "peel 1 lemon" and "cut green beans" speak of a food; "chop onions" may be either.
        tells = goes_on or not rest or _WITHOUT_FOOD.match(rest) is not None or text.endswith(".")
        return tells and not _OF.match(rest) and (not _COUNTED.match(rest) or _CLOCK.match(rest) is not None)
    opened = words[0] in known["opening"] or _IN_A_BOWL.match(text) is not None
    return opened and any(word in known["action"] for word in words[1:])
