"""Words without their plural ending, so that "eggs" and "egg", "cherries" and "cherry" are found as one."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

__all__ = ["WORD", "find_phrase", "head_and_aside", "stem", "stems"]

WORD = re.compile(r"[^\W\d_]+")
# Words after which a title speaks of what goes with the food and no longer of the food itself.
_ASIDE = re.compile(r"\b(?:with|in|on|over|and a side of|served|topped|for|from)\b|[,;:(–—]")


def stem(word: str) -> str:
    """A word without its plural ending; crude, and the same for both sides of a comparison."""
    word = word.casefold()
    if word.endswith("ie") and len(word) > 4:
        return word[:-2] + "y"
    for ending, least in (("ies", 4), ("ches", 5), ("shes", 5), ("xes", 4), ("oes", 4), ("sses", 5)):
        if word.endswith(ending) and len(word) > least:
            return word[:-3] + "y" if ending == "ies" else word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us")) and len(word) > 3 else word


def stems(text: str) -> tuple[str, ...]:
    """The stems of the words of a text in order, without accents."""
    plain = "".join(mark for mark in unicodedata.normalize("NFKD", text) if not unicodedata.combining(mark))
    return tuple(stem(word) for word in WORD.findall(plain))


def find_phrase(phrase: Sequence[str], words: Sequence[str]) -> int | None:
    """Where the last occurrence of a phrase ends in a list of stems; None where it does not occur."""
    size = len(phrase)
    ends = [at + size for at in range(len(words) - size + 1) if size and tuple(words[at : at + size]) == tuple(phrase)]
    return ends[-1] if ends else None


def head_and_aside(title: str) -> tuple[str, str]:
    """A title in two: the food itself, and what goes with it ("cod cakes", "with brined cucumber")."""
    aside = _ASIDE.search(title.casefold())
    at = aside.start() if aside and aside.start() else len(title)
    return title[:at], title[at:]
