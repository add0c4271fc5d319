"""A web address as a QR code that a phone reads from the page."""

from __future__ import annotations

import segno

from builder.pages.figures.draw import PAPER, Box, Drawing, Outline
from builder.words import Words

QUIET = 4
"""Modules of white around the code (ISO/IEC 18004)."""
MODULES = (0.5, 0.45, 0.4, 0.35)
"""Sides of a module in mm; a phone 20 cm away still tells modules of a third of a millimetre apart."""
ROOM = 20.0


def qr_drawing(words: Words, address: str) -> Drawing:
    """The code of an address with its quiet zone, with modules as large as fit 20 mm and never under 0.35 mm."""
    # A full code always: few phones read the micro ones, which the library would choose for a short address.
    matrix = segno.make_qr(address, error="m").matrix
    across = len(matrix) + 2 * QUIET
    module = next((side for side in MODULES if across * side <= ROOM), MODULES[-1])
    dark = "".join(
        _bar(start, row, length, module) for row, line in enumerate(matrix) for start, length in _runs(line)
    )
    width = round(across * module, 2)
    marks = (Box(0, 0, width, width, PAPER), Outline(dark))
    return Drawing(width, width, words("figure.qr.title", address=address), marks)


def _runs(line: bytearray) -> tuple[tuple[int, int], ...]:
    """First module and length of every dark run of a row."""
    # A bar for each run of a row, not for each module: there are fewer of them, and viewers show seams between marks
    # that touch.
    edges = [i for i, (left, right) in enumerate(zip((0, *line), (*line, 0), strict=True)) if left != right]
    return tuple((start, end - start) for start, end in zip(edges[::2], edges[1::2], strict=True))


def _bar(start: int, row: int, length: int, module: float) -> str:
    x, y, width = ((n * module) for n in (start + QUIET, row + QUIET, length))
    return f"M{x:g} {y:g}h{width:g}v{module:g}h{-width:g}z"
