"""When things happen: the kind and date of each week, and which day of the block falls on which date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from builder.given import Block, Client
from builder.plan.model import WeekKind
from builder.plan.stretches import stretch_of, stretches

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True)
class Week:
    """A week of the calendar: `days` pairs the index of a day of the block with its date."""

    number: int
    kind: WeekKind
    starts: date
    phase: str | None
    dates: tuple[date, ...]
    days: tuple[tuple[int, date], ...]


def week_kinds(block: Block) -> tuple[WeekKind, ...]:
    """The kind of each week: named deloads, every n-th week, the weeks before the test, and the test itself."""
    head = block.block
    # The later kind overrules the earlier one: a taper takes the place of a deload, and a test that of both.
    kinds = [WeekKind.TRAINING] * head.weeks
    if head.deload is not None:
        every = head.deload.every
        lighter = set(head.deload.weeks) | (set(range(every, head.weeks + 1, every)) if every else set())
        if head.deload.before_test and head.test is not None:
            lighter.add(head.test.week - 1)
        for number in lighter:
            if 1 <= number <= head.weeks:
                kinds[number - 1] = WeekKind.DELOAD
    if head.taper is not None and head.test is not None:
        for number in range(head.test.week - head.taper.weeks, min(head.test.week, head.weeks + 1)):
            kinds[number - 1] = WeekKind.TAPER
    if head.test is not None and head.test.week <= head.weeks:
        kinds[head.test.week - 1] = WeekKind.TEST
    return tuple(kinds)


def calendar(client: Client, block: Block) -> tuple[Week, ...]:
    """Every week with its dates, those of a later stretch from its own first day.

    Days away have no session. Where the block shifts, a week that would lose more than half of its days waits. A
    rolling block goes through its days in turn, whatever the week.
    """
    weeks, turn, parts, late = [], 0, stretches(client), timedelta(0)
    for number, kind in enumerate(week_kinds(block), 1):
        part = stretch_of(parts, number)
        # A stretch after a pause begins on a day that the coach has named, in which all delay before it is contained.
        late = timedelta(0) if part.paused and part.first == number else late
        starts = part.day_of(number) + late
        # It ends, as every time away does. All later weeks move along, so that none of the block is lost.
        while block.block.away == "shift" and _mostly_away(client, starts):
            starts, late = starts + timedelta(weeks=1), late + timedelta(weeks=1)
        dates = tuple(day for day in _training_days(client, starts) if not _away(client, day))
        active = [i for i, day in enumerate(block.days) if day.weeks is None or number in day.weeks]
        if kind is WeekKind.TEST or not active:
            chosen: list[int] = []
        elif block.block.rolling:
            # Only here does the turn go on: a test week has no days of the block, and none of them is skipped for it.
            chosen = [active[(turn + i) % len(active)] for i in range(len(dates))]
            turn += len(dates)
        else:
            chosen = active
        # Not strict: fewer days than dates leave the last dates free, more of them stay untrained this week.
        weeks.append(Week(number, kind, starts, _phase(block, number), dates, tuple(zip(chosen, dates, strict=False))))
    return tuple(weeks)


def _training_days(client: Client, starts: date) -> tuple[date, ...]:
    days = (starts + timedelta(d) for d in range(7))
    return tuple(day for day in days if WEEKDAYS[day.weekday()] in client.training.days)


def _away(client: Client, day: date) -> bool:
    return any(day in span for span in client.training.away)


def _mostly_away(client: Client, starts: date) -> bool:
    """Whether a week has lost more than half of its training days."""
    days = _training_days(client, starts)
    return 2 * sum(_away(client, day) for day in days) > len(days)


def test_dates(dates: tuple[date, ...], sessions: int) -> tuple[date, ...]:
    """`sessions` of the week's training dates, spread out and ending with the last: rest comes before a test."""
    count = min(sessions, len(dates))
    return tuple(dates[round((i + 1) * len(dates) / count) - 1] for i in range(count))


def _phase(block: Block, number: int) -> str | None:
    return next((phase.title for phase in block.block.phases if number in phase.weeks), None)
