"""A handling sentence into clauses: each is opened by a verb that ``data/handling_verbs.csv`` knows.

A verb opens a clause only where one can begin: at the start, and after a comma, "then", "and", "to" and the like, with
nothing but small words between. That keeps "the roast" and "as brine" nouns.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

__all__ = ["Clause", "clauses", "verb_actions"]

VERBS_FILE = Path(__file__).with_name("data") / "handling_verbs.csv"


def _forms(verb: str) -> set[str]:
    """A verb with its -s, -ed and -ing forms; of a phrase the first word is bent."""
    first, space, rest = verb.partition(" ")
    if first in ("it", "they", "let", "put", "cut", "set", "cooked", "final", "net", "total", "finished"):
        return {verb}
    stem = first[:-1] if first.endswith("e") and not first.endswith("ee") else first
    if re.search(r"[^aeiou][aeiou][bdgmnpt]$", first):
        stem += first[-1]
    third = first + ("es" if first.endswith(("ch", "sh", "ss", "x", "z")) else "s")
    third = first[:-1] + "ies" if first.endswith("y") and first[-2] not in "aeiou" else third
    past = first[:-1] + "ied" if first.endswith("y") and first[-2] not in "aeiou" else stem + "ed"
    forms = {first, third, past, stem + "ing"}
    if first.endswith(("en", "on", "et", "it")):
        forms |= {first + "ed", first + "ing"}  # "softened": the stress is not on the end
    return {form + space + rest for form in forms}


_IRREGULAR = {
    "make": ("made", "making"),
    "leave": ("left",),
    "keep": ("kept",),
    "freeze": ("frozen",),
    "weigh": ("weighed", "weighing"),
    "catch": ("caught",),
    "lose": ("lost",),
    "sweat": ("sweated",),
    "wring": ("wrung",),
    "strew": ("strewn",),
    "bury": ("buried", "burying"),
}


@cache
def _rows() -> tuple[tuple[str, str], ...]:
    """Action and verbs of each row of the table."""
    with VERBS_FILE.open(encoding="utf-8", newline="") as stream:
        rows = csv.DictReader(line for line in stream if not line.startswith("#"))
        return tuple((row["action"], row["verbs"]) for row in rows)


@cache
def _base_verbs() -> frozenset[str]:
    """First words of the verbs as the table has them, not bent."""
    return frozenset(verb.partition(" ")[0] for _, verbs in _rows() for verb in verbs.split("|"))


@cache
def verb_actions() -> dict[str, str]:
    """Action of each verb form, phrases with single spaces."""
    actions: dict[str, str] = {}
    for action, verbs in _rows():
        for verb in verbs.split("|"):
            for form in (*_forms(verb), *_IRREGULAR.get(verb, ())):
                actions.setdefault(form, action)
    return actions


_TOKEN = re.compile(r"[^\W\d_]+(?:['-][^\W\d_]+)*|\d[\d.,/]*|[,:(&]")
_LONGEST_VERB = 5  # words
# After one of these a clause may begin; and these may stand between it and its verb.
_GAPS = frozenset(", : ( & and then or to but also finally next now so until again after before".split(" "))
_FILLERS = frozenset(
    (
        "it they them the all everything let leave leaving continue allow well very just simply once is are has have "
        "been should will first keep barely a bit little both sides thoroughly together straight away"
    ).split(" ")
)
# Words that make a verb-like word after them a thing and not a deed ("the roast", "as brine").
_ARTICLE = frozenset("the a an this that of as with into in each your some for from any".split(" "))
# "until set", "to taste": how long or how much, not what next.
_ENDS = frozenset("set rise cool rest cover taste serve season thicken reheat warm crisp thaw dress garnish".split(" "))


# What follows a deed and hardly ever a thing.
_DEED_ON = frozenset("the it them each all both a an your every everything this these its their".split())
_DEED_BY = frozenset("with in into on onto over under".split())
# Words that open something other than a deed.
_NO_DEED = frozenset(
    (
        "with in on at for from of until till when while once if as after before using about over under by per into "
        "during without except plus around both half some all not this that these those through like upon off onto "
        "between inside across against it they them the a an each every any your you where which who whose what "
        "there here meanwhile only even more most less than because since unless although though whilst up down out no "
        "nor and or but so then also to twice half such per via always never often now is are was were has have had do "
        "does can could may might must would shall will"
    ).split()
)


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause of a sentence: its action (empty without a verb), its words, where its verb ends, the gap before it."""

    action: str
    words: str
    verb_end: int = 0
    gap: str = ""


def clauses(sentence: str) -> list[Clause]:
    """Cut a sentence before every verb that opens a clause."""
    actions = verb_actions()
    tokens = [(hit[0].lower(), hit.start(), hit.end()) for hit in _TOKEN.finditer(sentence)]
    starts: list[tuple[int, int, str, str]] = []
    gap, gap_at, can_begin, before = "", 0, True, ""
    skip = 0
    for at, (word, begin, _) in enumerate(tokens):
        if at < skip:
            continue
        if word in _GAPS:
            if not can_begin or not gap:
                gap_at = begin
            gap, can_begin, before = word, True, ""
            continue
        found = _verb_at(tokens, at, actions) if can_begin else None
        if found is not None and not _is_thing(found[0], word, gap, before, bool(starts), actions):
            form, skip = found
            starts.append((_behind(sentence, gap_at) if starts else 0, tokens[skip - 1][2], actions[form], gap))
            can_begin, gap = False, ""
            continue
        if can_begin and not before and _is_unknown_deed(tokens, at, gap, actions):
            starts.append((_behind(sentence, gap_at) if starts else 0, tokens[at][2], "", gap))
            can_begin, gap = False, ""
            continue
        can_begin = can_begin and (word in _FILLERS or word.endswith("ly"))
        before = word
        if not can_begin:
            gap = ""
    if not starts:
        return [Clause("", sentence)]
    bounds = [start for start, *_ in starts[1:]] + [len(sentence)]
    return [
        Clause(action, sentence[start:end].rstrip(" ,:(&"), verb_end - start, gap)
        for (start, verb_end, action, gap), end in zip(starts, bounds, strict=True)
    ]


def _is_unknown_deed(tokens: list[tuple[str, int, int]], at: int, gap: str, actions: dict[str, str]) -> bool:
    """Whether a word that no verb of the table is stands where one would: "zorch the lot", "then zorch"."""
    word = tokens[at][0]
    if word in _NO_DEED or word in _FILLERS or word in actions or word.endswith("ly") or not word.isalpha():
        return False
    if gap == "then":
        return True
    behind = [token[0] for token in tokens[at + 1 : at + 3]] + ["", ""]
    return behind[0] in _DEED_ON or (gap in ("", ",") and behind[0] in _DEED_BY and behind[1] in _DEED_ON)


def _behind(sentence: str, at: int) -> int:
    """The place behind any commas and blanks at `at`."""
    while at < len(sentence) and sentence[at] in " ,:(&":
        at += 1
    return at


def _verb_at(tokens: list[tuple[str, int, int]], at: int, actions: dict[str, str]) -> tuple[str, int] | None:
    """The longest verb form at a token, and the token behind it."""
    for length in range(min(_LONGEST_VERB, len(tokens) - at), 0, -1):
        form = " ".join(token[0] for token in tokens[at : at + length])
        if form in actions:
            return form, at + length
    return None


def _is_thing(form: str, word: str, gap: str, before: str, later: bool, actions: dict[str, str]) -> bool:
    """Whether a verb form here is a noun, a manner or a mark of doneness and opens no clause."""
    if " " in form and actions[form] != "idle":
        return False
    if before in _ARTICLE and gap != ",":
        return True
    if later and gap in ("until", "to", "or") and word in _ENDS:
        return True
    # "simmer, stirring often, 20 minutes", "bake, covered, 1 hour": manner of the step before.
    manner = word.endswith(("ing", "ed")) and word not in _base_verbs()  # "shred" and "bring" are deeds
    return later and actions[form] == "idle" and gap in (",", "until", "(", "or") and manner
