"""What a paste does to a text, mended before it is read: letters of a wrong encoding, signs that nobody sees.

ftfy mends a row whose letters were read in a wrong encoding ("crÃ¨me"), and a letter written as its number in JSON
("350\\u00b0") becomes the letter; every row that is changed is reported. A text
with every word on a row of its own, as some PDF readers copy it, cannot be put together again and is refused.
"""

from __future__ import annotations

import re

from labeler.types import LabelerError, Problem

__all__ = ["mend", "without_unseen"]

# What UTF-8 looks like when it was read as Latin-1 or Windows-1252; without one of these nothing is mended.
_SUSPECT = re.compile("[ÂÃÅÐâð][\u0080-\u00bf€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ¡-¿]")
_ESCAPED = re.compile(r"\\u[0-9a-fA-F]{4}")
_UNSEEN = re.compile("[\u00ad\u200b\u200c\u2060\ufeff]")
_BLANKS = re.compile("[\u00a0\u2000-\u200a\u202f\u205f\u3000]")
_FEWEST = 16
_ONE_WORD = 0.85
_FIGURES = 0.15


def mend(text: str, source: str) -> tuple[str, list[Problem]]:
    """A text with its letters put right and unseen signs taken out, and a problem for each row that was mended.

    Parameters
    ----------
    text : str
        With line feeds at its line ends.
    source : str
        The file's name, for messages.

    Raises
    ------
    LabelerError
        Where every word stands on a row of its own.
    """
    problems: list[Problem] = []
    if _SUSPECT.search(text) or _ESCAPED.search(text):
        rows = text.split("\n")
        for at, row in enumerate(rows):
            fixed = _with_letters(row)
            if fixed != row and "\n" not in fixed:
                words = f"“{row.strip()[:40]}” was saved in a wrong encoding and is read as “{fixed.strip()[:40]}”."
                problems.append(Problem("encoding-mended", f"{words} Save the file as UTF-8.", at + 1))
                rows[at] = fixed
        text = "\n".join(rows)
    text = without_unseen(text)
    _refuse_single_words(text, source)
    return text, problems


def _with_letters(row: str) -> str:
    """A row with the letters that it was meant to have."""
    if _SUSPECT.search(row):
        import ftfy

        row = ftfy.fix_encoding(row)
    return _ESCAPED.sub(_letter, row)


def _letter(escaped: re.Match[str]) -> str:
    letter = chr(int(escaped[0][2:], 16))
    return letter if letter.isprintable() else escaped[0]


def without_unseen(text: str) -> str:
    """A text without signs that nobody sees, its blanks of any width as spaces."""
    return _BLANKS.sub(" ", _UNSEEN.sub("", text))


def _refuse_single_words(text: str, source: str) -> None:
    """Raise for a copy of a PDF in which every word, figures too, has a row of its own."""
    rows = [row.split() for row in text.split("\n") if row.strip()]
    single = [row[0] for row in rows if len(row) == 1]
    if len(rows) < _FEWEST or len(single) < _ONE_WORD * len(rows):
        return
    figures = sum(bool(re.fullmatch(r"[\d½¼¾⅓⅔./-]+", word)) for word in single)
    if figures >= _FIGURES * len(rows):
        raise LabelerError(
            f"{source or 'recipe'}:1: every word stands on a row of its own, as a copy from a PDF has it; copy it "
            "again as plain text, one ingredient a row"
        )
