"""A figure in outlines: areas of tone cost ink, so the ink saver draws only their edges."""

from __future__ import annotations

from dataclasses import replace

from builder.pages.figures.draw import DARK, INK, MID, PALE, PAPER, Box, Drawing, Label, Mark

GROUND_DASH = "0.9 0.7"
"""A pale ground becomes a dashed frame."""


def outlined(drawing: Drawing) -> Drawing:
    """The same figure with white areas; what was told by tone alone keeps an edge, and text on it turns dark."""
    return replace(drawing, marks=tuple(_outlined(mark) for mark in drawing.marks))


def _outlined(mark: Mark) -> Mark:
    if isinstance(mark, Label):
        return replace(mark, colour=INK) if mark.colour == PAPER else mark
    if not isinstance(mark, Box) or mark.fill == PAPER:
        return mark
    if mark.stroke != "none":
        return replace(mark, fill=PAPER, stroke=DARK)
    if mark.fill == PALE:
        return replace(mark, fill="none", stroke=MID, line=0.25, dash=GROUND_DASH)
    return replace(mark, fill=PAPER, stroke=DARK)
