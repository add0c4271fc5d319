"""Colours for a print shop: greys and black in one ink, so that no text is printed in three that must lie exactly."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from builder.pdf.fast.patches import replaced

NEAR_BLACK = 0.12
"""The theme's ink and all that is darker is printed as black: a tint of 91 % would be made of dots."""


@contextmanager
def greys_as_one_ink() -> Iterator[None]:
    """While this lasts, colours of equal red, green and blue are written as DeviceGray (ISO 32000-1, 8.6.4.2)."""
    import pydyf

    usual = pydyf.Stream.set_color_rgb

    def set_color(stream: Any, red: float, green: float, blue: float, stroke: bool = False) -> None:
        # Three inks that make a grey must lie exactly on each other, and thin letters show it when they do not.
        if red == green == blue:
            level = 0.0 if red < NEAR_BLACK else round(float(red), 4)
            stream.stream.append(f"{level:g} {'G' if stroke else 'g'}".encode())
        else:
            usual(stream, red, green, blue, stroke)

    with replaced(pydyf.Stream, {"set_color_rgb": set_color}):
        yield
