"""Titles of sessions and covers: in large type where there is room, else smaller in two lines, cut at a word."""

from __future__ import annotations

from dataclasses import dataclass

from builder.pages.grid import asked_width
from builder.pages.sheet import Sheet
from builder.pages.widths import Advances, shortened

LINES = 2
"""What a long title of a session may take, and the title of a cover in large letters."""
BESIDE = 56.0
"""mm beside a long title on the page of plan and log, for what is asked once a session."""
TINTED = 4.0
"""mm that a tinted head stands in, on both sides together."""
ASKED_GAP = 2.0
"""mm between a title and what is asked beside it."""
FRAME = 12.0
"""mm beside the title of a cover in a frame; the other layouts have more room."""


@dataclass(frozen=True, slots=True)
class Title:
    """A title as it is printed, `long` in the smaller letters."""

    text: str
    long: bool


@dataclass(frozen=True, slots=True)
class TitleRoom:
    """Points of a title and mm that it has, then those of one that takes two lines."""

    points: float
    room: float
    long: float
    long_room: float

    def fitted(self, face: Advances, title: str) -> Title:
        """The title in the larger letters if it fits in a line."""
        if face.width(title, self.points) <= self.room:
            return Title(title, long=False)
        return Title(
            next(one for one in shortened(title) if face.lines(one, self.long, self.long_room) <= LINES), long=True
        )

    def roomy(self, face: Advances, title: str) -> bool:
        """Whether the larger letters have lines enough for a title, and no word of it is broken."""
        words = max(face.width(word, self.points) for word in title.split())
        return words <= self.room and face.lines(title, self.points, self.room) <= LINES

    def whole(self, face: Advances, title: str) -> bool:
        """Whether nothing of a title has to be cut."""
        return self.fitted(face, title).text == title


def on_plan(page: Sheet) -> TitleRoom:
    """Over a plan that faces its log, or stands beside it with what is asked at the right."""
    room = round(page.width - TINTED - (0 if page.facing else asked_width(page) + ASKED_GAP), 2)
    # Smaller than the loads, which are what the page is read for.
    return TitleRoom(17.0, room, 12.0, room)


def on_log(page: Sheet) -> TitleRoom:
    """Over a log that stands by itself."""
    return TitleRoom(13.0, page.width - TINTED, 10.0, page.width - TINTED)


def on_page(page: Sheet, asked: float = 0.0, *, tinted: bool = False) -> TitleRoom:
    """Over plan and log on one page, where what is asked takes so many mm."""
    return TitleRoom(17.0, page.width - asked - (TINTED if tinted else 0.0), 12.0, round(page.width - BESIDE, 2))


def on_cover(page: Sheet) -> TitleRoom:
    """On the cover, in two lines of either kind or in more of the smaller letters."""
    room = page.width - FRAME
    if page.enlarged:
        return TitleRoom(32.0, room, 20.0, room)
    return TitleRoom(44.0 if page.facing else 66.0, room, 27.0, room)
