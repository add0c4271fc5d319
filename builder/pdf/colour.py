"""The accent colour: its contrast with what it stands on by WCAG 2.2, and the nearest darker one that can be read."""

from __future__ import annotations

LEAST = 4.5
"""Contrast of text with its ground (WCAG 2.2, success criterion 1.4.3)."""
GROUND = "#ececec"
"""The darkest ground that text in the accent stands on: the tint of deload heads, `--wash` in the style sheets."""


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two "#rrggbb" colours, from 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def readable(colour: str, ground: str = GROUND, least: float = LEAST) -> str:
    """`colour`, darkened in even steps until text in it can be read on `ground`; itself when it can be already."""
    channels = _channels(colour)
    for step in range(101):
        darker = "#" + "".join(f"{round(c * (100 - step) / 100):02x}" for c in channels)
        if contrast(darker, ground) >= least:
            return darker
    raise ValueError(f"no shade of {colour} reaches a contrast of {least} with {ground}")


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, from sRGB)."""
    parts = [c / 255 for c in _channels(colour)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
