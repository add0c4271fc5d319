"""How wide figures may be on each paper."""

from __future__ import annotations

from builder.booklet.model import Paper

GUTTER = 6.0

_MEASURES = {Paper.A4: 180.0, Paper.LETTER: 183.9, Paper.A5: 124.0, Paper.HALF_LETTER: 117.7}


def measure(paper: Paper) -> float:
    """Width in mm of a figure that fills the type area."""
    return _MEASURES[paper]


def half(paper: Paper) -> float:
    """Width in mm of one of two figures side by side; the whole measure on small paper."""
    return measure(paper) if paper.small else (measure(paper) - GUTTER) / 2
