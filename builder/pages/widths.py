"""How wide loads, plates and names are, and how many lines they take; rather too many than too few."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builder.pages.figures.draw import wide

POINT = 0.3528
"""mm."""
_FIGURES = dict.fromkeys("0123456789", 0.5) | {".": 0.23, ",": 0.23, "+": 0.45, "B": 0.5, "K": 0.5, "G": 0.5}
"""Widths in em of what loads are written with, in the bold of the heading face: figures are all as wide."""
_PLATES = {".": 0.212, ",": 0.2, "+": 0.44, "×": 0.39, " ": 0.2, "\N{NARROW NO-BREAK SPACE}": 0.16}
"""Widths in em of what stands between the figures of plates, which are 0.475 wide."""
_CLOSE = dict(zip("0123456789", (0.447, 0.27, 0.42, 0.42, 0.44, 0.42, 0.42, 0.385, 0.43, 0.415), strict=True))
"""Widths in em of the figures of plates where each has its own, in the medium of the heading face."""


def load_width(load: str) -> float:
    """The width in em of a load in the bold of the heading face."""
    return sum(_FIGURES.get(sign, 0.7) for sign in load)


def plate_parts(side: str, size: float) -> Iterator[tuple[float, float]]:
    """The plates of a side, which turn over at a plus only, as `turned` takes them."""
    *firsts, last = side.split(" + ")
    yield from ((_plates_width(f"{part} + ") * size, 0.0) for part in firsts)
    yield _plates_width(last) * size, 0.0


def spaced(text: str, size: float) -> Iterator[tuple[float, float]]:
    """What a text turns over between, each with its width in mm and that of the space behind it."""
    for word in text.split(" "):
        *parts, last = word.replace("-", "- ").split(" ")
        yield from ((wide(part, size), 0.0) for part in parts)
        yield wide(last, size), wide(" ", size)


def turned(parts: Iterable[tuple[float, float]], room: float, start: float = 0.0) -> int:
    """The lines that parts take, each with its width and what parts it from the next; all lines begin at `start`.

    One that is wider than a line is broken.
    """
    lines, used = 1, start
    for width, gap in parts:
        if used > start and used + width > room:
            lines, used = lines + 1, start
        while used + width > room > start:
            lines, width = lines + 1, width - (room - used)
            used = start
        used += width + gap
    return lines


def _plates_width(plates: str) -> float:
    return sum(_PLATES.get(c, 0.475) for c in plates)


def close_plates(side: str, size: float) -> float:
    """mm of plates in one line without spaces, each figure as wide as it is."""
    return sum(_CLOSE.get(sign, _PLATES.get(sign, 0.475)) for sign in side) * size
