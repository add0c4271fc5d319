"""How wide figures may be on each paper, and how a theme has them drawn."""

from __future__ import annotations

from builder.pages.figures.draw import Drawing
from builder.pages.figures.outlined import outlined
from builder.pages.sheet import Sheet
from builder.pages.theme import Theme

GUTTER = 6.0


def half(page: Sheet) -> float:
    """Width in mm of one of two figures side by side; the whole measure where plan and log face each other."""
    return page.width if page.facing else (page.width - GUTTER) / 2


def drawn(drawing: Drawing, theme: Theme) -> Drawing:
    """A figure as the theme has it drawn."""
    return outlined(drawing) if theme.outlined else drawing
