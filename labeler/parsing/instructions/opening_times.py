"""Times that open a sentence and tell when its deed is done: "in the morning", "the next day", "half an hour later".

They end before the verb whether a comma stands there or not. One that says how long something else has gone on by then
("after an hour", "an hour later") is told of what was done before, like "after an hour,"; a time of the day says
nothing more and is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, verb_entries
from labeler.parsing.instructions.sentences import Token
from labeler.text.plurals import singular

__all__ = ["with_opening_time_apart"]

_TIMES_OF_DAY, _WHICH = grammar("time of day"), grammar("which day")
_HOW_MANY = grammar("begins time") | grammar("few") | grammar("how many times")
_JOINS = grammar("joins clause")


@cache
def _units() -> frozenset[str]:
    rows = data_rows(data_folder("labeler.parsing") / "time_units.csv")
    return frozenset(word for row in rows for word in (row["unit"], *row["short"].split("|")) if word)


def with_opening_time_apart(tokens: Sequence[Token]) -> list[Token]:
    """The tokens of a sentence with the time that opens it set apart from its verb."""
    first = next((at for at, token in enumerate(tokens) if token.text not in _JOINS), len(tokens))
    words = [token.text for token in tokens]
    day = _time_of_day(words, first)
    if day > first and _deed_follows(words, day):
        return [*tokens[:first], *tokens[day + (words[day] == ",") :]]
    ahead = _before_serving(words, _span(words, first))
    if ahead > first and _deed_follows(words, ahead):
        return [*tokens[:first], *tokens[ahead + (words[ahead] == ",") :]]
    since = words[first : first + 1] == ["after"]
    end = _span(words, first + since)
    later = words[end : end + 1] == ["later"]
    behind = end + later
    if end == first + since or since is later or not _deed_follows(words, behind):
        return list(tokens)
    opens = Token("after", tokens[first].start, tokens[first].start)
    ends = Token(",", tokens[behind - 1].end, tokens[behind - 1].end)
    return [
        *tokens[:first],
        *([] if since else [opens]),
        *tokens[first:end],
        *([] if words[behind] == "," else [ends]),
        *tokens[behind:],
    ]


def _time_of_day(words: Sequence[str], at: int) -> int:
    """The place behind a time of the day that begins here ("in the morning", "the next day"); `at` for none."""
    start = at
    at += words[at : at + 1] in (["in"], ["on"])
    at += words[at : at + 1] == ["the"]
    which = words[at : at + 1] != [] and words[at] in _WHICH
    at += which
    named = words[at : at + 1] != [] and words[at] in _TIMES_OF_DAY
    return at + 1 if named and (which or words[start] == "in") else start


def _span(words: Sequence[str], at: int) -> int:
    """The place behind a length of time that begins here: "half an hour", "2 to 3 days", "an hour or two"."""
    start, named = at, False
    while at < len(words) and (words[at] in _HOW_MANY or words[at][0].isnumeric() or singular(words[at]) in _units()):
        named = named or singular(words[at]) in _units()
        at += 1
    return at if named else start


def _before_serving(words: Sequence[str], at: int) -> int:
    """The place behind "before serving" behind a length of time; 0 where something else stands there."""
    behind = words[at : at + 2]
    serves = len(behind) == 2 and any(
        action(one.action).handler is Handler.SERVE and one.form is WordForm.ING for one in verb_entries(behind[1])
    )
    return at + 2 if serves and behind[0] == "before" else 0


def _deed_follows(words: Sequence[str], at: int) -> bool:
    """Whether a verb stands here, behind a comma or none."""
    at += words[at : at + 1] == [","]
    while at < len(words) and is_class(words[at], "adverb"):
        at += 1
    return at < len(words) and bool(verb_entries(words[at]))
