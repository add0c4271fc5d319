"""How wide figures may be on each paper, and how a theme has them drawn."""

from __future__ import annotations

from builder.booklet.figures.draw import Drawing
from builder.booklet.figures.outlined import outlined
from builder.booklet.model import Paper
from builder.booklet.theme import Theme

GUTTER = 6.0

_MEASURES = {Paper.A4: 180.0, Paper.LETTER: 183.9, Paper.A5: 124.0, Paper.HALF_LETTER: 117.7}


def measure(paper: Paper) -> float:
    """Width in mm of a figure that fills the type area."""
    return _MEASURES[paper]


def half(paper: Paper) -> float:
    """Width in mm of one of two figures side by side; the whole measure on small paper."""
    return measure(paper) if paper.small else (measure(paper) - GUTTER) / 2


def drawn(drawing: Drawing, theme: Theme) -> Drawing:
    """A figure as the theme has it drawn."""
    return outlined(drawing) if theme.outlined else drawing
