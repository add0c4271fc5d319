"""The measures of each paper in millimetres: what the style sheets draw and what the pages are filled by."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from math import floor

from builder.pages.model import Paper
from builder.pages.theme import DEFAULT, Theme
from builder.pages.widths import Advances


class Density(StrEnum):
    """How much air a plan page has, loosest first."""

    AIRY = "airy"
    NORMAL = "normal"
    SNUG = "snug"
    DENSE = "dense"


@dataclass(frozen=True, slots=True)
class Prose:
    """Running text: the size of its letters in points and the height of its lines in mm."""

    points: float
    mm: float

    def height(self, face: Advances, text: str, width: float) -> float:
        """mm that `text` takes in `width` mm."""
        return face.lines(text, self.points, width) * self.mm


@dataclass(frozen=True, slots=True)
class Lines:
    """A plan at one density: heights in mm, of a name and a load also the letters in points.

    `words` are the points of what stands beside a load. `cues` is how many cues a main lift and an accessory may print.
    """

    head: float
    name: Prose
    ramp: float
    work: float
    load: float
    words: float
    note: Prose
    gap: float
    cues: tuple[int, int]


# In the order of the table above: head, name, ramp, work, load, words, note, gap, cues.
SMALL_LINES = {
    Density.AIRY: Lines(19.0, Prose(17.0, 8.5), 5.4, 11.0, 27.0, 13.0, Prose(9.0, 4.4), 7.0, (3, 3)),
    Density.NORMAL: Lines(19.0, Prose(13.0, 6.6), 4.8, 8.8, 27.0, 12.0, Prose(8.5, 3.9), 4.4, (1, 1)),
    Density.SNUG: Lines(19.0, Prose(13.0, 6.2), 4.6, 8.4, 27.0, 12.0, Prose(8.5, 3.8), 3.6, (0, 0)),
    Density.DENSE: Lines(16.0, Prose(12.0, 5.6), 4.4, 6.4, 20.0, 12.0, Prose(8.5, 3.6), 1.8, (0, 0)),
}
LARGE_LINES = {
    Density.AIRY: Lines(19.0, Prose(17.0, 8.5), 5.4, 11.0, 27.0, 13.0, Prose(9.0, 4.4), 7.0, (3, 3)),
    Density.NORMAL: Lines(19.0, Prose(13.0, 6.6), 4.8, 8.6, 27.0, 12.0, Prose(8.5, 3.9), 4.6, (1, 1)),
    Density.SNUG: Lines(19.0, Prose(13.0, 6.2), 4.6, 8.4, 27.0, 12.0, Prose(8.5, 3.8), 3.6, (0, 0)),
    Density.DENSE: Lines(16.0, Prose(12.0, 5.6), 4.4, 8.0, 27.0, 12.0, Prose(8.5, 3.6), 2.0, (0, 0)),
}
# Points of the design: loads of 22 come out at 27.5 on the small papers and at 35 on the large.
ENLARGED_LINES = {
    Density.AIRY: Lines(19.0, Prose(17.0, 8.5), 5.4, 11.0, 22.0, 13.0, Prose(10.0, 4.4), 6.0, (2, 2)),
    Density.NORMAL: Lines(19.0, Prose(13.0, 6.8), 4.8, 8.8, 22.0, 12.0, Prose(9.0, 4.1), 4.4, (1, 1)),
    Density.SNUG: Lines(19.0, Prose(13.0, 6.4), 4.6, 8.2, 22.0, 12.0, Prose(9.0, 4.1), 3.4, (0, 0)),
    Density.DENSE: Lines(16.0, Prose(12.0, 6.0), 4.6, 7.8, 22.0, 12.0, Prose(9.0, 4.1), 2.0, (0, 0)),
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """The type area of a paper in the mm of its design, which is printed `zoom` times as large.

    `plan` is the width of a plan. With `facing`, plan and log take pages that face each other. `about` is the
    coach's note over a plan, `caution` what holds for a whole session.
    """

    paper: Paper
    width: float
    height: float
    plan: float
    facing: bool
    zoom: float = 1.0
    about: Prose = Prose(9.0, 4.2)
    caution: Prose = Prose(8.5, 3.9)

    @property
    def enlarged(self) -> bool:
        """Whether the design is printed larger than it is."""
        return self.zoom > 1

    def lines(self, density: Density) -> Lines:
        """The heights of a plan's parts."""
        if self.enlarged:
            return ENLARGED_LINES[density]
        return (SMALL_LINES if self.facing else LARGE_LINES)[density]


MARGINS = {Paper.A5: (14.0, 10.0), Paper.HALF_LETTER: (14.0, 8.0), Paper.A4: (18.0, 12.0), Paper.LETTER: (19.0, 13.0)}
"""mm beside the type area, at the binding and outside, of a booklet of few pages."""
TOP_AND_FOOT = {True: (12.0, 10.0), False: (14.0, 12.0)}
"""mm above and below the type area, on small papers and on large."""
_PLANS = {Paper.A4: 97.0, Paper.LETTER: 99.0}
"""mm of a plan that shares its page with the log."""
RULED = 8.0
"""mm from one line to the next where a page is ruled for notes, as high as a cell to write in."""
THICK = ((160, 2.0), (120, 1.5), (80, 1.0))
"""From so many pages on, so many mm more go to the binding, where a thick booklet does not open flat."""
ZOOM = {Paper.A5: 1.25, Paper.HALF_LETTER: 1.25, Paper.A4: 1.6, Paper.LETTER: 1.6}
"""How much large print magnifies: running text of 10 pt becomes 12.5 pt on the small papers and 16 pt on the large."""



def margins(paper: Paper, pages: int) -> tuple[float, float]:
    """mm at the binding and outside: the type area moves outwards as the booklet gets thicker."""
    inner, outer = MARGINS[paper]
    more = next((mm for least, mm in THICK if pages >= least), 0.0)
    return inner + more, outer - more


BAND_GAP = 4.0
"""mm between a plan and the log beside it on the large papers."""


@lru_cache(maxsize=16)
def sheet(paper: Paper, theme: Theme = DEFAULT) -> Sheet:
    """The measures of a paper in a theme."""
    (width, height), small = paper.millimetres, paper.small
    width, height = round(width - sum(MARGINS[paper]), 1), round(height - sum(TOP_AND_FOOT[small]), 1)
    usual = Sheet(paper, width, height, plan=_PLANS.get(paper, width), facing=small)
    return _enlarged(usual, ZOOM[paper]) if theme.enlarged else usual


def _enlarged(usual: Sheet, zoom: float) -> Sheet:
    """A sheet that fills the same type area once it is magnified; plan and log face each other on every paper."""
    # Rounded down: magnified, it must not be larger than the type area that the style sheets leave.
    width, height = floor(usual.width / zoom * 10) / 10, floor(usual.height / zoom * 10) / 10
    about, caution = Prose(10.0, 4.6), Prose(9.0, 4.1)
    return Sheet(usual.paper, width, height, plan=width, facing=True, zoom=zoom, about=about, caution=caution)
