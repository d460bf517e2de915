"""Text that comes from a recipe, made fit for a cell: it can be read, it cannot run, and nothing vanishes unseen.

A spreadsheet takes text that begins with an equals sign, a plus, a minus or an at sign for a formula when it is typed
or imported, and its file format cannot hold most control characters.
"""

from __future__ import annotations

import re

__all__ = ["LONGEST", "cell_text", "would_run"]

LONGEST = 32_767
"""Characters that a cell holds at most (ECMA-376 leaves it open; this is the limit of the common programs)."""

_STARTS = "=+-@\t\r\n|%"
_ESCAPE = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_BAD = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


def _seen(match: re.Match[str]) -> str:
    """A control picture for a control character (U+2400 and on), the replacement mark for what has none."""
    code = ord(match[0])
    if code < 0x20:
        return chr(0x2400 + code)
    return "\u2421" if code == 0x7F else "\ufffd"


def cell_text(text: str) -> str:
    """`text` as a cell can hold it.

    Control characters become their visible pictures, what XML cannot hold the replacement mark; ``_x0041_``, which a
    spreadsheet would read as a letter (ECMA-376 part 1, 22.4.2.4), stays as written; text over `LONGEST` characters is
    cut and says so.
    """
    seen = _BAD.sub(_seen, text)
    escaped = _ESCAPE.sub("_x005F_", seen)
    units = len(escaped.encode("utf-16-le")) // 2
    if units <= LONGEST:
        return escaped
    room = LONGEST - 60
    while len(escaped[:room].encode("utf-16-le")) // 2 > LONGEST - 60:
        room -= 1000
    return f"{escaped[:room]} … (cut here: {len(escaped) - room:,} more characters)"


def would_run(text: str) -> bool:
    """True for text that a spreadsheet would take for a formula or a command if somebody typed it."""
    return text.lstrip(" \u00a0")[:1] in _STARTS and text.strip() != ""
