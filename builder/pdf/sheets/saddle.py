"""The arithmetic of a saddle-stitched booklet: which pages share a sheet, on what paper, and how far they creep."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

SHEETS = {
    "A4": (297.0, 210.0),
    "Letter": (279.4, 215.9),
    "A3": (420.0, 297.0),
    "Tabloid": (431.8, 279.4),
    "SRA4": (320.0, 225.0),
    "SRA3": (450.0, 320.0),
}
"""Width and height in mm, lying: A sizes from ISO 216, SRA sizes from ISO 217, the others from ANSI/ASME Y14.1."""
EVERYDAY = ("A4", "Letter")
"""The sheets that are chosen without asking: those that most printers take."""
MOST_STAPLED = 20
"""Sheets that a stapler folds together cleanly; common practice, no source."""
PLAY = 0.3
"""Millimetres by which a page may be too large for half a sheet: page sizes are rounded to whole points."""
MOST_CREEP = 5.0
"""Millimetres that the innermost pages may move; more would push the text into the fold."""

Size = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a sheet. Sheets count from 0 at the outside of their signature, pages from 0 at the front; None is
    a blank page.
    """

    sheet: int
    back: bool
    left: int | None
    right: int | None


def sides(pages: int, sheets: int | None = None, *, back_cover: bool = False) -> tuple[Side, ...]:
    """The sides in printing order, front before back; the back lies as a turn on the short edge leaves it.

    The sheets of a signature are laid one into the other, folded together and stapled or sewn through the fold.
    With `sheets` a signature has so many, the last one what is left; without, there is one for all. Blank pages
    fill up the last sheet: they stand at the end, or before a back cover.
    """
    # A folded sheet has four pages.
    whole = -(-pages // 4) * 4
    numbers: list[int | None] = [*range(pages), *[None] * (whole - pages)]
    if back_cover and whole > pages:
        numbers = [*numbers[: pages - 1], *[None] * (whole - pages), pages - 1]
    each = 4 * sheets if sheets else max(whole, 1)
    return tuple(side for start in range(0, whole, each) for side in _signature(numbers[start : start + each]))


def _signature(numbers: Sequence[int | None]) -> Iterator[Side]:
    for sheet in range(len(numbers) // 4):
        first, last = 2 * sheet, len(numbers) - 1 - 2 * sheet
        yield Side(sheet, False, numbers[last], numbers[first])
        yield Side(sheet, True, numbers[first + 1], numbers[last - 1])


def shift(sheet: int, creep: float) -> float:
    """How far towards the fold the pages of a sheet move, in the unit of `creep`, which is per sheet.

    Folded into each other, inner sheets stick out by the thickness of the paper around them, and the trim
    takes that off their outer edge. Moved inwards by as much, their pages keep the same outer margin.
    """
    return sheet * creep


def fits(sheet: str, page: Size) -> bool:
    """Whether two pages of a size in mm find room on the sheet, side by side and at full size."""
    width, height = SHEETS[sheet]
    return 2 * page[0] <= width + PLAY and page[1] <= height + PLAY


def fitting(page: Size, sheets: tuple[str, ...] = tuple(SHEETS)) -> tuple[str, ...]:
    """The sheets that two pages fit on, the smallest first."""
    return tuple(sorted((s for s in sheets if fits(s, page)), key=lambda s: SHEETS[s][0] * SHEETS[s][1]))
