"""What movements, drills and sessions are called in print."""

from __future__ import annotations

import re

from builder.pages.faces import SHIPPED
from builder.pages.widths import shortened
from builder.plan.model import PlannedSession, PlannedSlot, PlannedWeek, WeekKind
from builder.words import Words

RUNNING = 9.0
"""Points of a running head, which is set in our own fonts whatever a brand has."""


DRILLS = "drills"
"""Where links to the drills lead."""


def title_case(name: str) -> str:
    """A name with a capital first letter, the rest as the library writes it."""
    return name[:1].upper() + name[1:]


def movement_title(name: str, words: Words) -> str:
    """A movement as a heading or the start of a line."""
    return title_case(words.movement(name))


def slot_name(slot: PlannedSlot, words: Words) -> str:
    """The movement, or the drill with its lift: "Walkout: back squat"."""
    if slot.drill is None:
        return movement_title(slot.movement, words)
    drill = words(f"drill.{slot.drill.replace(' ', '-')}")
    return words("drill.name", drill=drill, movement=words.movement(slot.movement))


def session_title(session: PlannedSession, words: Words) -> str:
    """The coach's title of the day; a test day has its own."""
    return session.title or words("test.title")


def week_anchor(week: int) -> str:
    """Where links to a week lead."""
    return f"week-{week}"


def session_anchor(session: PlannedSession) -> str:
    """Where links to a session lead."""
    return f"week-{session.week}-day-{session.day}"


_TRAINED = re.compile(r"week-(\d+)(?:-day-(\d+))?(?=-|$)")


def trained(anchor: str) -> tuple[int | None, int | None]:
    """The week and the day that an anchor of openers, sessions and test pages begins with, as far as it does."""
    found = _TRAINED.match(anchor)
    week, day = found.groups() if found else (None, None)
    return int(week) if week else None, int(day) if day else None


# By this a copy that lost its fields, or one of two booklets in one file, is known again (`pdf/forms/form.py`).
PRINTED_CODE = re.compile(r"\b([A-Z2-7]{8}) · w[0-9]{2}\.d[1-7][0-9.]*")
"""How `code.page` prints a booklet's code before that of a page, in every language."""


def page_code(session: PlannedSession) -> str:
    """The code of a session's log in small print: "w03.d2"."""
    return f"w{session.week:02d}.d{session.day}"


def session_tone(week: PlannedWeek, session: PlannedSession) -> str:
    """What kind of session it is, known at a glance: training, deload, test or milestone."""
    # Each has a word and a mark besides its tone, since no meaning may rest on a tone alone.
    if week.kind is not WeekKind.TRAINING:
        return str(week.kind)
    return "milestone" if session.milestone else "training"


def running_head(session: PlannedSession, words: Words, room: float) -> str:
    """The head of the session's pages; of a title that is too long for a line of `room` mm the end is cut."""
    told = (
        words("running.session", week=session.week, day=words.day(session.on), title=title)
        for title in shortened(session_title(session, words))
    )
    return next(one for one in told if SHIPPED.semibold.width(one, RUNNING) <= room)
