"""What a theme asks of the pages beyond its style sheet."""

from __future__ import annotations

from dataclasses import dataclass

DEFAULT_THEME = "default"


@dataclass(frozen=True, slots=True)
class Theme:
    """A look by name.

    With `outlined`, figures are drawn in outlines, since areas of tone cost ink. With `enlarged`, pages are designed
    on a smaller sheet and magnified (`sheet.py`).
    """

    name: str = DEFAULT_THEME
    outlined: bool = False
    enlarged: bool = False


DEFAULT = Theme()
_THEMES = {
    "ink-saver": Theme("ink-saver", outlined=True),
    "large-print": Theme("large-print", enlarged=True),
}


def theme(name: str) -> Theme:
    """The theme of a name; one that asks for nothing special needs no entry here."""
    return _THEMES.get(name, Theme(name))
