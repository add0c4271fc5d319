"""What a theme asks of the pages beyond its style sheet."""

from __future__ import annotations

from dataclasses import dataclass

DEFAULT_THEME = "default"


@dataclass(frozen=True, slots=True)
class Theme:
    """A look by name; with `outlined`, figures are drawn in outlines, since areas of tone cost ink."""

    name: str = DEFAULT_THEME
    outlined: bool = False


DEFAULT = Theme()
_THEMES = {"ink-saver": Theme("ink-saver", outlined=True)}


def theme(name: str) -> Theme:
    """The theme of a name; one that asks for nothing special needs no entry here."""
    return _THEMES.get(name, Theme(name))
