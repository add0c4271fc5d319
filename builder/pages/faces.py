"""The faces that pages and figures are set in, with the widths of their signs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from builder.pages import advances
from builder.pages.widths import Advances


@dataclass(frozen=True, slots=True)
class Faces:
    """The text family in weight 400 and, `strong`, 700; the heading family in 500, 600 and 700.

    Figures are all as wide, but in `close`, which is 500 again.
    """

    text: Advances
    strong: Advances
    medium: Advances
    semibold: Advances
    bold: Advances
    close: Advances


def told(face: Advances) -> tuple[str, str]:
    """The widths of a face as text: a line for each that is found, in thousandths of an em, and what has it."""
    return _told(face.signs), _told(face.pairs)


def read(signs: str, pairs: str) -> Advances:
    """The widths of a face from their text."""
    return Advances(dict(_read(signs, 1)), dict(_read(pairs, 2)))


def _told(widths: Mapping[str, float]) -> str:
    found: dict[int, list[str]] = {}
    for sign, em in widths.items():
        found.setdefault(round(em * 1000), []).append(sign)
    return "\n".join(f"{width}:{''.join(found[width])}" for width in sorted(found))


def _read(lines: str, letters: int) -> Iterator[tuple[str, float]]:
    for line in lines.split("\n"):
        width, _, signs = line.partition(":")
        yield from ((signs[at : at + letters], int(width) / 1000) for at in range(0, len(signs), letters))


DRAWN = {500: read(*advances.DRAWN_500), 600: read(*advances.DRAWN_600)}
"""The heading family in drawings, by weight; it is ours there whatever a brand has, and its figures differ in width."""
SHIPPED = Faces(
    text=read(*advances.TEXT_400),
    strong=read(*advances.TEXT_700),
    medium=read(*advances.HEADING_500),
    semibold=read(*advances.HEADING_600),
    bold=read(*advances.HEADING_700),
    close=DRAWN[500],
)
"""The families that come along."""
