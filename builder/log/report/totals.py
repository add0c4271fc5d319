"""What some blocks add up to so far, and how each tested lift went over them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.given import Client, Equipment, Movements
from builder.log.progress import (
    Effort,
    Lengths,
    SetCount,
    WeekEstimate,
    WeekProgress,
    count,
    effort,
    lengths,
    past_sessions,
    tonnage,
)  # fmt: skip
from builder.log.report.series import BlockLog
from builder.plan import TestValue
from builder.plan.numbers import test_values


@dataclass(frozen=True, slots=True)
class Totals:
    """Sums over the sessions that were due: those up to the last one of each block that anything was written about.

    Tonnages are kg × reps of known loads. `effort` is None when no set has both a planned and a written reserve.
    """

    sessions_done: int
    sessions_due: int
    sessions_planned: int
    sets: SetCount
    tonnage_planned: Decimal
    tonnage_done: Decimal
    lengths: Lengths
    effort: Effort | None
    records: int
    best_records: int
    unread: int


@dataclass(frozen=True, slots=True)
class WeekTotals:
    """One week of one block; `begun` when a session of it was due."""

    block: int
    sums: WeekProgress
    begun: bool


@dataclass(frozen=True, slots=True)
class BlockSpan:
    """A block as a lift's chart knows it: its days, and the estimated max (kg) that it began with."""

    first: date
    last: date
    before: Decimal


@dataclass(frozen=True, slots=True)
class Course:
    """How the estimated max of a lift went, by day. Masses (kg) count `own`, the bodyweight that is lifted along.

    `tests` are those of the profile, where one was given.
    """

    movement: str
    own: Decimal
    spans: tuple[BlockSpan, ...]
    points: tuple[WeekEstimate, ...]
    tests: tuple[TestValue, ...]


def totals(blocks: Sequence[BlockLog]) -> Totals:
    """The sums of all blocks together."""
    # What is still to come is no session that was missed.
    due = [session for block in blocks for session in past_sessions(block.log)]
    entries = [entry for session in due for entry in session.entries]
    records = [record for block in blocks for record in block.sums.records]
    return Totals(
        sum(block.sums.sessions_done for block in blocks),
        len(due),
        sum(block.sums.sessions_planned for block in blocks),
        count(entries),
        *tonnage(entries),
        lengths(entries),
        effort(0, entries),
        len(records),
        sum(record.best for record in records),
        sum(len(block.unread) for block in blocks),
    )


def skipped(blocks: Sequence[BlockLog]) -> tuple[date, ...]:
    """The planned days of sessions that were due and of which no set was done."""
    due = (session for block in blocks for session in past_sessions(block.log))
    return tuple(session.on for session in due if not any(entry.state == "done" for entry in session.entries))


def weeks(blocks: Sequence[BlockLog]) -> tuple[WeekTotals, ...]:
    """Every week of every block, in order."""
    found = []
    for number, block in enumerate(blocks):
        begun = {session.week for session in past_sessions(block.log)}
        found += [WeekTotals(number, week, week.week in begun) for week in block.sums.weeks]
    return tuple(found)


def courses(blocks: Sequence[BlockLog], tests: Sequence[tuple[str, tuple[TestValue, ...]]]) -> tuple[Course, ...]:
    """The lifts that the logs have estimates of, those of the newest block first."""
    # The newest block says what is trained now, so its lifts come first.
    names = dict.fromkeys(lift.movement for block in reversed(blocks) for lift in block.log.manifest.lifts)
    every = (_course(name, blocks, dict(tests).get(name, ())) for name in names)
    return tuple(course for course in every if course.points)


def _course(name: str, blocks: Sequence[BlockLog], tests: tuple[TestValue, ...]) -> Course:
    known = [(block, lift) for block in blocks if (lift := block.log.manifest.lift(name)) is not None]
    spans = tuple(BlockSpan(block.first, block.last, lift.estimate) for block, lift in known)
    points = [one for block, _ in known for one in block.sums.estimates if one.movement == name]
    # One bodyweight for the whole chart, the newest: a scale that moved with the body would show it as strength.
    return Course(name, known[-1][1].own, spans, tuple(sorted(points, key=lambda one: one.on)), tests)


def profile_tests(client: Client, library: Movements) -> tuple[tuple[str, tuple[TestValue, ...]], ...]:
    """The tests of each lift of a profile with what they are worth; without a bodyweight none of bodyweight lifts."""
    found = []
    for word, lift in client.lifts.items():
        name = library.named(word)
        about = library.movements[name] if name else None
        if name and about and (about.equipment is not Equipment.BODYWEIGHT or client.client.bodyweight):
            found.append((name, test_values(client, about, lift)))
    return tuple(found)
