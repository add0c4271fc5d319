"""A session on one page: where the parts of a lift and its set boxes lie, in mm, on each paper."""

from __future__ import annotations

from dataclasses import dataclass

from builder.pages.model import Paper
from builder.pages.sheet import BAND_GAP, Density, Sheet

TICK = 8.0
"""mm of the tick in a set box; in the mm of the design where pages are magnified, less."""
TICK_ENLARGED = 7.0
ASKED, ASKED_ENLARGED = (17.0, 19.5, 14.4), (16.4, 15.6, 11.5)
"""mm of the boxes for the date, the bodyweight and the sleep, and `ASKED_GAP` between them."""
ASKED_GAP = 1.6


@dataclass(frozen=True, slots=True)
class Columns:
    """Left edges in mm but for `axis`, the right edge of every load of the page.

    `width` is that of a plan; its log begins at `log`, `log_width` mm wide, beside it or, where `log` is 0, below.
    A row has `boxes` set boxes, `gap` mm apart.
    """

    width: float
    # One for the whole page: who looks up between sets finds the next load below the last.
    axis: float
    unit: float
    plates: float
    today: float
    log: float
    log_width: float
    boxes: int
    gap: float
    tick: float
    # The heaviest thing on the page, its title included: a lifter looks for it between two sets, from some way off.
    load_points: float
    plates_points: float

    @property
    def beside(self) -> bool:
        """Whether the log stands beside its plan."""
        return self.log > 0

    @property
    def box(self) -> float:
        """Width of a set box."""
        return round((self.log_width - (self.boxes - 1) * self.gap) / self.boxes, 3)

    @property
    def plates_width(self) -> float:
        """What plates may take in one line."""
        return (self.width if self.beside else self.today - 1.5) - self.plates

    def across(self, count: int) -> float:
        """Width of so many boxes with the gaps between them."""
        return round(count * self.box + (count - 1) * self.gap, 3)


@dataclass(frozen=True, slots=True)
class Heights:
    """Heights in mm at one density: a line with its load, the line of sets and reserve, a set box, what is below it.

    `small` is a line of the ramp and of a note.
    """

    line: float
    scheme: float
    box: float
    under: float
    small: float
    gap: float


HEAD_UP = 5.0
"""mm by which the head of a page stands in the upper margin, which has no running head here: it would say the same."""
HEAD, NOTE_LEAST, NOTE_GAP = 14.6, 8.0, 1.1
"""mm for the head of a page, for the note at its foot and for what keeps it apart."""
NOTE_MOST, NOTE_MOST_LARGE = 60.0, 90.0
"""mm that the note may be high on small paper and on large, where a page has nothing else."""
BETWEEN = 3.0
"""mm above the head of a session that begins further down."""

_HEIGHTS = {
    Density.NORMAL: Heights(line=10.4, scheme=5.4, box=9.0, under=1.2, small=3.7, gap=3.4),
    Density.SNUG: Heights(line=10.0, scheme=5.0, box=9.0, under=0.8, small=3.7, gap=2.2),
    # No box is lower than 8 mm, however much a page has to hold: it is written in with a pencil.
    Density.DENSE: Heights(line=8.9, scheme=4.4, box=8.0, under=0.2, small=3.4, gap=0.4),
}
DENSITIES = tuple(_HEIGHTS)


def heights(density: Density) -> Heights:
    """The heights of a density; only those of `DENSITIES` have some."""
    return _HEIGHTS[density]


def columns(page: Sheet) -> Columns:
    """The columns of a sheet."""
    return _magnified(page) if page.enlarged else _usual(page)


def _usual(page: Sheet) -> Columns:
    if page.facing:
        return Columns(
            width=page.width, axis=68.0, unit=69.0, plates=75.0, today=page.width - 14.0, log=0.0,
            log_width=page.width, boxes=4, gap=2.4, tick=TICK, load_points=27.0, plates_points=13.0,
        )  # fmt: skip
    plan = 96.0
    return Columns(
        width=plan, axis=66.0, unit=67.0, plates=40.0, today=plan - 14.0, log=plan + BAND_GAP,
        log_width=page.width - plan - BAND_GAP, boxes=2, gap=2.4, tick=TICK, load_points=30.0, plates_points=15.0,
    )  # fmt: skip


def _magnified(page: Sheet) -> Columns:
    """Loads and plates as large in the design as in usual print, so that they grow with all the rest."""
    large = page.paper in (Paper.A4, Paper.LETTER)
    return Columns(
        width=page.width, axis=57.0 if large else 52.0, unit=58.0 if large else 53.0, plates=64.0 if large else 59.0,
        today=page.width - (14.0 if large else 11.6), log=0.0, log_width=page.width, boxes=4,
        gap=1.6, tick=TICK_ENLARGED, load_points=27.0 if large else 24.0, plates_points=13.0,
    )  # fmt: skip


__all__ = ["DENSITIES", "Columns", "Heights", "columns", "heights"]
