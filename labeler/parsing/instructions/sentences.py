"""A paragraph of the method into sentences, and a sentence into words, numbers and marks with their place."""

from __future__ import annotations

import re
from typing import NamedTuple

from labeler.parsing.instructions.lexicon import WordForm, is_class, verb_entries

__all__ = ["Token", "sentences", "tokens_of"]

_TOKEN = re.compile(r"\d+(?:[.,/:]\d+)*(?:[½¼¾⅓⅔⅛])?|[½¼¾⅓⅔⅛]|[^\W\d_]+(?:['’-][^\W\d_]+)*|[^\s\w]")
_DASH = "–"
_ABBREVIATED = re.compile(
    r"\b(min|mins|hr|hrs|approx|oz|lb|lbs|tbsp|tsp|temp|deg|ca|no|qt|pt|fl|ml|cm|mm|kg|g|c|f|e\.g|i\.e|in|pkg|med|lg|sm)\.$",
    re.IGNORECASE,
)


class Token(NamedTuple):
    """One word, number or mark: its text in lower case and its place in the paragraph."""

    text: str
    start: int
    end: int

    @property
    def is_word(self) -> bool:
        """Whether it is a word."""
        return self.text[0].isalpha()


def sentences(text: str) -> list[tuple[int, str]]:
    """The sentences of a paragraph with where each begins; every character is in one."""
    found, start, depth = [], 0, 0
    for at, letter in enumerate(text):
        if letter == "(":
            depth += 1
        elif letter == ")":
            depth = max(0, depth - 1)
        ends = letter in "!?\n;" or (
            letter == "."
            and not (text[at - 1 : at].isdigit() and text[at + 1 : at + 2].isdigit())
            and not (_ABBREVIATED.search(text[start : at + 1]) and not _sentence_begins(text, at + 1))
            and (at + 1 == len(text) or text[at + 1].isspace() or text[at + 1] in ")\"'”’")
        )
        if ends and (depth == 0 or letter == "\n"):
            found.append((start, text[start : at + 1]))
            start, depth = at + 1, 0
    if text[start:].strip():
        found.append((start, text[start:]))
    return found


def _sentence_begins(text: str, at: int) -> bool:
    """Whether a sentence begins behind a short form: with a capital, or "30 mins. put the eggs" in small letters."""
    if text[at:].lstrip()[:1].isupper():
        return True
    words = [hit[0].lower() for hit in _TOKEN.finditer(text, at, at + 60)][:2]
    deed = any(entry.form is WordForm.BASE for entry in verb_entries(words[0])) if words else False
    return deed and len(words) > 1 and is_class(words[1], "determiner", "pronoun")


def tokens_of(text: str, offset: int = 0) -> list[Token]:
    """The tokens of a sentence."""
    return [
        Token(
            _DASH if _is_dash(text, hit) else hit[0].lower().replace("’", "'"), offset + hit.start(), offset + hit.end()
        )
        for hit in _TOKEN.finditer(text)
    ]


def _is_dash(text: str, hit: re.Match[str]) -> bool:
    """Whether a hyphen stands by itself between words: "stir in the shrimp - put back into the oven"."""
    alone = text[hit.start() - 1 : hit.start()].isspace() and text[hit.end() : hit.end() + 1].isspace()
    return hit[0] == "-" and alone and not text[hit.end() :].lstrip()[:1].isdigit()
