"""The cells of a log row: where load, reps, reps in reserve and the tick lie, in mm and as shares of the row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from builder.pages.model import Paper
from builder.pages.sheet import BAND_GAP, Sheet

NOTE_GAP = 2.0
ROWS = (8.0, 9.0, 10.0, 11.0)
"""Heights in mm that a writing row may have; none is below 8."""


class Shape(StrEnum):
    """One set to a row with the note beside the rows, or two sets to a row."""

    SINGLE = "single"
    PAIRED = "paired"


@dataclass(frozen=True, slots=True)
class Grid:
    """The unit of one set in mm: the planned set as a label, then three cells and a tick."""

    shape: Shape
    unit: float
    cell: float
    tick: float

    @property
    def label(self) -> float:
        """Width of the label before the cells."""
        return self.unit - 3 * self.cell - self.tick

    def edges(self) -> tuple[float, ...]:
        """Where the four cells begin and end, as shares of the unit."""
        ends = [self.label + self.cell * i for i in range(4)]
        return tuple(round(x / self.unit, 5) for x in (*ends, self.unit))

    def marks(self, names: tuple[str, str, str, str]) -> str:
        """The field mark of a row for the press: "NAME@x0,x1;…"."""
        edges = self.edges()
        spans = zip(names, edges, edges[1:], strict=False)
        # No edge beyond the row, which the press refuses: the rounding of shares may lead there.
        return ";".join(f"{name}@{x0:g},{min(x1, 1):g}" for name, x0, x1 in spans)


# No cell is narrower than 14 mm in print, so that a load can be written with a blunt pencil and chalk on the hands
# (common practice, no source).
_GRIDS = {
    (Paper.A5, False): (Grid(Shape.SINGLE, 76.0, 15.5, 8.0), Grid(Shape.PAIRED, 62.0, 14.0, 7.0)),
    (Paper.HALF_LETTER, False): (Grid(Shape.SINGLE, 72.7, 15.0, 8.0), Grid(Shape.PAIRED, 58.85, 14.0, 6.0)),
    (Paper.A4, True): (Grid(Shape.SINGLE, 60.0, 14.0, 6.0),),
    (Paper.LETTER, True): (Grid(Shape.SINGLE, 61.0, 14.2, 6.2),),
    (Paper.A4, False): (Grid(Shape.SINGLE, 112.0, 24.0, 10.0), Grid(Shape.PAIRED, 90.0, 19.0, 9.0)),
    (Paper.LETTER, False): (Grid(Shape.SINGLE, 114.0, 24.0, 10.0), Grid(Shape.PAIRED, 91.95, 19.0, 9.0)),
}

# In the mm of the design: cells of 14 mm in print are 11.2 mm on the small papers and 8.75 mm on the large.
_ENLARGED = {
    Paper.A5: (Grid(Shape.SINGLE, 64.0, 14.0, 7.0),),
    Paper.HALF_LETTER: (Grid(Shape.SINGLE, 61.0, 13.0, 7.0),),
    Paper.A4: (Grid(Shape.SINGLE, 70.0, 15.0, 8.0), Grid(Shape.PAIRED, 56.2, 12.0, 6.0)),
    Paper.LETTER: (Grid(Shape.SINGLE, 71.0, 15.0, 8.0), Grid(Shape.PAIRED, 57.45, 12.0, 6.0)),
}


@dataclass(frozen=True, slots=True)
class SetColumns:
    """Widths in mm of a line of sets on a plan with room; the record mark has what is left. `points` is of plates."""

    scheme: float
    load: float
    unit: float
    side: float
    effort: float
    # Plates are read at arm's length by who loads the bar: 12 points in print at the least.
    points: float = 12.0


_SETS = {
    Paper.A5: SetColumns(15.5, 24.5, 10.5, 33.0, 23.0),
    Paper.HALF_LETTER: SetColumns(15.5, 24.5, 10.0, 29.5, 22.2),
    Paper.A4: SetColumns(13.0, 24.5, 10.0, 28.0, 10.5),
    Paper.LETTER: SetColumns(13.0, 24.5, 10.0, 30.0, 10.5),
}
# Points of the design: 10 come out at 12.5 on the small papers and at 16 on the large.
_SETS_ENLARGED = {
    Paper.A5: SetColumns(14.5, 20.3, 10.0, 26.0, 13.0, 10.0),
    Paper.HALF_LETTER: SetColumns(14.5, 20.3, 9.5, 22.5, 12.5, 10.0),
    Paper.A4: SetColumns(15.0, 20.3, 11.0, 35.5, 13.0, 10.0),
    Paper.LETTER: SetColumns(15.0, 20.3, 11.0, 37.5, 13.0, 10.0),
}


def set_columns(page: Sheet) -> SetColumns:
    """The columns of the lines of sets on a sheet."""
    return (_SETS_ENLARGED if page.enlarged else _SETS)[page.paper]


Asked = tuple[tuple[float, float], ...]


def asked_cells(page: Sheet) -> Asked:
    """mm for the caption and the cell of the date, the bodyweight and the sleep."""
    return ((8.0, 16.0), (19.0, 12.5), (12.5, 12.5)) if page.enlarged else ((8.0, 19.0), (20.5, 17.0), (14.0, 17.0))


def asked_width(page: Sheet) -> float:
    """mm for all that is asked once a session."""
    return sum(caption + cell for caption, cell in asked_cells(page))


def asked_marks(page: Sheet, names: Sequence[str]) -> str:
    """The field mark of the line asked once a session."""
    marks, x, width = [], 0.0, asked_width(page)
    for name, (caption, cell) in zip(names, asked_cells(page), strict=True):
        marks.append(f"{name}@{(x + caption) / width:.5f},{min((x + caption + cell) / width, 1):.5f}")
        x += caption + cell
    return ";".join(marks)


def grids(page: Sheet, shared: bool) -> tuple[Grid, ...]:
    """The grids of a sheet, the roomier first; `shared` when the log stands beside its plan."""
    return _ENLARGED[page.paper] if page.enlarged else _GRIDS[page.paper, shared]


def note_width(page: Sheet, grid: Grid, shared: bool) -> float:
    """Width in mm that is left for the note beside single rows."""
    taken = page.plan + BAND_GAP if shared else 0.0
    return round(page.width - taken - grid.unit - NOTE_GAP, 2)
