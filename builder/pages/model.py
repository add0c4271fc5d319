"""The booklet as frozen values: sections in order, each with what its template places, and every form field."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from builder.values.fields import FieldSpec


class Paper(StrEnum):
    """A page size; each has its own design."""

    A4 = "A4"
    LETTER = "Letter"
    A5 = "A5"
    HALF_LETTER = "half-letter"

    @property
    def small(self) -> bool:
        """Whether plan and log take facing pages instead of sharing one."""
        return self in (Paper.A5, Paper.HALF_LETTER)

    @property
    def millimetres(self) -> tuple[float, float]:
        """Width and height of the trimmed page."""
        return _SIZES[self]


_SIZES = {
    Paper.A4: (210.0, 297.0),
    Paper.LETTER: (215.9, 279.4),
    Paper.A5: (148.0, 210.0),
    Paper.HALF_LETTER: (139.7, 215.9),
}


class Edition(StrEnum):
    """Which pages a booklet has: the lifter's, those and all that a coach needs, the texts that are read once, the
    session pages, or the log pages alone.
    """

    PERSONAL = "personal"
    COACH = "coach"
    HANDBOOK = "handbook"
    POCKET = "pocket"
    LOG = "log"

    @property
    def whole(self) -> bool:
        """Whether the block stands in it week by week, with all that belongs before and after."""
        return self in (Edition.PERSONAL, Edition.COACH)


class Layout(StrEnum):
    """How a session is laid out: plan and log on one page where they fit, or with room, each on its own."""

    PAGE = "page"
    SPREAD = "spread"


@dataclass(frozen=True, slots=True)
class Section:
    """One run of pages. `template` names a file in templates/pages, which gets `data` as `it`.

    `side` says on which side of the open booklet it starts; `label` is how its first page is numbered
    ("" goes on counting). `title` stands in the outline and the contents unless `listed` is false. `fields`
    are the form fields that its template marks, in reading order. `code` is printed small at the foot of its
    pages, so that a copy without fields is still known.
    """

    anchor: str
    title: str
    template: str
    data: object
    level: int = 1
    side: Literal["any", "left", "right"] = "any"
    tone: Literal["plain", "training", "deload", "taper", "test", "milestone"] = "plain"
    running: str = ""
    listed: bool = True
    code: str = ""
    fields: tuple[FieldSpec, ...] = ()


@dataclass(frozen=True, slots=True)
class Booklet:
    """Everything that is printed. `fields` has each form field by its name; `code` ties pages to their plan.

    `brand` stands at the foot of every page, `stamp`, which says whose copy it is, at the head; `theme` is the name of
    a folder of style sheets. With `facing`, plan and log take pages of their own. Pages are printed `zoom` times as
    large as they are designed.
    """

    title: str
    author: str
    subject: str
    brand: str
    language: str
    paper: Paper
    edition: Edition
    theme: str
    facing: bool
    zoom: float
    code: str
    sections: tuple[Section, ...]
    fields: tuple[FieldSpec, ...]
    stamp: str = ""
