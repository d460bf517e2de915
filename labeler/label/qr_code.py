"""The square code (QR, ISO/IEC 18004) that carries the post's address, with its quiet zone.

The encoder is reportlab's own. The address is put into the code as text and is never opened.
"""

from __future__ import annotations

from functools import lru_cache

from labeler.label.boxes import EMPTY, Block
from labeler.label.drawing import MM, Patch
from labeler.types import LabelerError

__all__ = ["MODULE_MM", "QUIET", "code_block", "modules"]

MODULE_MM = 0.45
"""Side of one module [mm]; phones read 0.4 mm and more from a label without trouble (common practice)."""

QUIET = 4
"""Modules of white on each side: ISO/IEC 18004, quiet zone."""

LONGEST = 300
"""Bytes of an address beyond which the code would be larger than a label has room for."""


@lru_cache(maxsize=64)
def modules(address: str) -> tuple[tuple[bool, ...], ...]:
    """The modules of the code by row, dark ones True, at error correction level M.

    Raises
    ------
    LabelerError
        The address is too long.
    """
    from reportlab.graphics.barcode.qrencoder import QR8bitByte, QRCode, QRErrorCorrectLevel

    data = address.encode("utf-8")
    if len(data) > LONGEST:
        raise LabelerError(f"the address for the square code has {len(data)} bytes; give one of at most {LONGEST}")
    code = QRCode(None, QRErrorCorrectLevel.M)
    code.addData(QR8bitByte(data))
    code.make()
    count = range(code.getModuleCount())
    return tuple(tuple(bool(code.isDark(row, column)) for column in count) for row in count)


def code_block(address: str) -> Block:
    """The code in black with its quiet zone around it, as wide as it is high; empty without an address."""
    if not address:
        return EMPTY
    rows = modules(address)
    side = MODULE_MM * MM
    marks: list[Patch] = []
    for number, row in enumerate(rows):
        start = 0
        while start < len(row):
            end = start
            while end < len(row) and row[end]:
                end += 1
            if end > start:
                x, y = (QUIET + start) * side, (QUIET + number) * side
                marks.append(Patch(x, y, (end - start) * side, side, "#000000", "code"))
            start = max(end, start + 1)
    whole = (len(rows) + 2 * QUIET) * side
    return Block(whole, whole, tuple(marks))
