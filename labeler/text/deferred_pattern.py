"""Regular expressions that are compiled when a text first needs them.

Most recipes hold no word of most lists of phrases, and a list takes longer to compile than a recipe to be searched.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any, cast

__all__ = ["DeferredPattern", "needed_by_any", "pattern_when_used", "phrase_pattern", "words_in"]

_WORD = re.compile(r"\w+")
_WHOLE_WORD = re.compile(r"(?<![\w*])\w+(?![\w*])")


@lru_cache(maxsize=512)
def words_in(text: str) -> frozenset[str]:
    """The words of a text in lower case; most texts are asked about by many patterns in a row."""
    return frozenset(_WORD.findall(text.lower()))


class DeferredPattern:
    """A pattern that is compiled at its first use.

    Parameters
    ----------
    pattern : str
    flags : int
        Of `re`.
    needs : iterable of str or None
        Words in lower case, one of which stands in every text that the pattern is found in; a text without any is not
        searched. None where no word is sure to.

    Examples
    --------
    >>> for_dipping = DeferredPattern(r"\\bfor dipping\\b", needs=["for"])
    >>> for_dipping.search("500 g flour") is None, for_dipping.search("oil, for dipping")[0]
    (True, 'for dipping')
    """

    __slots__ = ("_compiled", "_flags", "_needs", "pattern")

    def __init__(self, pattern: str, flags: int = re.IGNORECASE, *, needs: Iterable[str] | None = None) -> None:
        self.pattern = pattern
        self._flags = flags
        self._needs = None if needs is None else frozenset(needs)
        self._compiled: re.Pattern[str] | None = None

    def may_match(self, text: str) -> bool:
        """Whether a text holds one of the words without which nothing is found."""
        return self._needs is None or not self._needs.isdisjoint(words_in(text))

    @property
    def needs(self) -> frozenset[str] | None:
        """The words, one of which stands in every text that it is found in; None where no word is sure to."""
        return self._needs

    @property
    def compiled(self) -> re.Pattern[str]:
        """The pattern itself."""
        if self._compiled is None:
            self._compiled = re.compile(self.pattern, self._flags)
        return self._compiled

    def search(self, text: str) -> re.Match[str] | None:
        """As `re.search`."""
        return self.compiled.search(text) if self.may_match(text) else None

    def match(self, text: str) -> re.Match[str] | None:
        """As `re.match`."""
        return self.compiled.match(text) if self.may_match(text) else None

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """As `re.fullmatch`."""
        return self.compiled.fullmatch(text) if self.may_match(text) else None

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """As `re.finditer`."""
        return self.compiled.finditer(text) if self.may_match(text) else iter(())


class _WhenUsed:
    """Stands for a pattern until something is asked of it, and hands on from then on."""

    def __init__(self, pattern: str, flags: int) -> None:
        self._of = pattern, flags

    def __getattr__(self, name: str) -> Any:
        if name not in _OF_PATTERN:
            raise AttributeError(name)
        compiled = re.compile(*self._of)
        vars(self).update({each: getattr(compiled, each) for each in _OF_PATTERN})
        return getattr(compiled, name)


_OF_PATTERN = frozenset(
    [
        *("search", "match", "fullmatch", "finditer", "findall", "split", "sub", "subn"),
        *("pattern", "flags", "groups", "groupindex"),
    ]
)


def pattern_when_used(pattern: str, flags: int = 0) -> re.Pattern[str]:
    """As `re.compile`, but it is compiled when something is first asked of it: of a large module few patterns are.

    Examples
    --------
    >>> pattern_when_used("(plums|pears)", re.IGNORECASE).findall("Pears, plums")
    ['Pears', 'plums']
    """
    return cast("re.Pattern[str]", _WhenUsed(pattern, flags))


def needed_by_any(patterns: Iterable[DeferredPattern]) -> frozenset[str] | None:
    """The words, one of which stands in every text that any of some patterns is found in; None where none is sure to.

    Examples
    --------
    >>> needed = needed_by_any([phrase_pattern(["to serve"]), phrase_pattern(["in the oven"])])
    >>> sorted(needed), needed.isdisjoint(words_in("500 g flour"))
    (['oven', 'serve'], True)
    """
    needs = [pattern.needs for pattern in patterns]
    return None if None in needs else frozenset(word for words in needs if words is not None for word in words)


def phrase_pattern(phrases: Iterable[str], *, between: str = " ", wildcard: str = "") -> DeferredPattern:
    """Any of some phrases as whole words, the longest first, in any case.

    Parameters
    ----------
    phrases : iterable of str
        "*" stands for `wildcard`, where there is one.
    between : str
        What a space of a phrase is taken for, as a pattern.
    wildcard : str
        Pattern of what "*" stands for.

    Examples
    --------
    >>> phrase_pattern(["in the oven", "oven"]).search("Back in the oven!")[0]
    'in the oven'
    """
    ordered = sorted(phrases, key=len, reverse=True)
    written = []
    for phrase in ordered:
        text = re.escape(phrase).replace(r"\ ", between)
        written.append(text.replace(r"\*", wildcard) if wildcard else text)
    sure = [_sure_word(phrase) for phrase in ordered]
    whole = rf"(?<![\w-])(?:{'|'.join(written)})(?![\w-])"
    return DeferredPattern(whole, needs=None if None in sure else [word for word in sure if word])


def _sure_word(phrase: str) -> str | None:
    """The longest word that stands as it is in whatever a phrase is found in; None where none does."""
    found = [word.lower() for word in _WHOLE_WORD.findall(phrase)]
    return max(found, key=len, default=None)
