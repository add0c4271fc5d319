"""The measures of each paper in millimetres: what the style sheets draw and what the pages are filled by."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from builder.booklet.model import Paper


class Density(StrEnum):
    """How much air a plan page has, loosest first."""

    AIRY = "airy"
    NORMAL = "normal"
    SNUG = "snug"
    DENSE = "dense"


@dataclass(frozen=True, slots=True)
class Lines:
    """Heights in mm at one density; `cues` is how many cues a main lift and an accessory may print."""

    head: float
    name: float
    ramp: float
    work: float
    note: float
    gap: float
    cues: tuple[int, int]


SMALL_LINES = {
    Density.AIRY: Lines(head=19.0, name=8.5, ramp=5.4, work=11.0, note=4.4, gap=7.0, cues=(3, 3)),
    Density.NORMAL: Lines(head=19.0, name=6.6, ramp=4.8, work=8.0, note=3.9, gap=4.4, cues=(1, 1)),
    Density.SNUG: Lines(head=19.0, name=6.2, ramp=4.6, work=7.4, note=3.8, gap=3.6, cues=(0, 0)),
    Density.DENSE: Lines(head=16.0, name=5.6, ramp=4.4, work=6.4, note=3.6, gap=1.8, cues=(0, 0)),
}
LARGE_LINES = {
    Density.AIRY: Lines(head=19.0, name=8.5, ramp=5.4, work=11.0, note=4.4, gap=7.0, cues=(3, 3)),
    Density.NORMAL: Lines(head=19.0, name=6.6, ramp=4.8, work=8.6, note=3.9, gap=4.6, cues=(1, 1)),
    Density.SNUG: Lines(head=19.0, name=6.2, ramp=4.6, work=8.0, note=3.8, gap=3.6, cues=(0, 0)),
    Density.DENSE: Lines(head=16.0, name=5.6, ramp=4.4, work=7.6, note=3.6, gap=2.0, cues=(0, 0)),
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """The type area of a paper. `plan` and `note` are the widths of a plan and of the note beside a log."""

    paper: Paper
    width: float
    height: float
    plan: float
    note: float

    @property
    def small(self) -> bool:
        """Whether plan and log take facing pages."""
        return self.paper.small

    def lines(self, density: Density) -> Lines:
        """The heights of a plan's parts."""
        return (SMALL_LINES if self.small else LARGE_LINES)[density]


_SHEETS = {
    Paper.A5: Sheet(Paper.A5, width=124.0, height=188.0, plan=124.0, note=46.0),
    Paper.HALF_LETTER: Sheet(Paper.HALF_LETTER, width=117.7, height=193.9, plan=117.7, note=43.0),
    Paper.A4: Sheet(Paper.A4, width=180.0, height=271.0, plan=86.0, note=28.0),
    Paper.LETTER: Sheet(Paper.LETTER, width=183.9, height=253.4, plan=88.0, note=28.9),
}

BAND_GAP = 4.0
"""mm between a plan and the log beside it on the large papers."""


def sheet(paper: Paper) -> Sheet:
    """The measures of a paper."""
    return _SHEETS[paper]


def text_lines(text: str, width: float, points: float) -> int:
    """The lines that `text` takes in `width` mm, set in the text family at `points`; rather too many than too few."""
    em = points * 0.3528
    if not text:
        return 0
    # Measured on Source Sans 3: English prose runs at 0.42 em a letter, and ragged ends cost a tenth more.
    return 1 if len(text) * em * 0.44 <= width else ceil(len(text) * em * 0.47 / width)
