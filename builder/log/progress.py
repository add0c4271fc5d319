"""What a log adds up to: adherence, missed sets, estimated maxes by week, records as they fell, effort."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from builder.log.manifest import LiftBefore
from builder.log.model import Entry, Log, SessionLog, TestLog
from builder.training.estimate import MOST_REPS, Equation, Rows, Spread, estimate, spread
from builder.training.records import Performance, RecordMark, best_estimate, record_mark
from builder.values.measure import LengthUnit
from builder.values.quantity import WithBody

LOG = "log"
"""The source of performances that come from a log."""
MISSED_TOGETHER, LIGHTER_TOGETHER = 2, 3
"""Movements of one week that speak of a tired lifter; common practice, no source."""


@dataclass(frozen=True, slots=True)
class SetCount:
    """How many sets were planned, and what became of them; `missed` ones are among the done."""

    planned: int
    done: int
    missed: int
    left_out: int
    blank: int
    unclear: int

    @property
    def adherence(self) -> Decimal | None:
        """Done of planned, None when nothing was planned."""
        return Decimal(self.done) / self.planned if self.planned else None


@dataclass(frozen=True, slots=True)
class WeekEstimate:
    """The best estimated max (kg) of a lift in a week, with what all equations read from the same set.

    `least` when it is a lower bound: the reps in reserve were not written, or there may have been more reps.
    """

    movement: str
    week: int
    on: date
    estimate: WithBody
    spread: Spread
    load: WithBody
    reps: int
    rir: Decimal | None
    least: bool


@dataclass(frozen=True, slots=True)
class NewRecord:
    """A record set in the log: the set, and what it beat by the rule of the printed record marks.

    `best` when its estimated max beats every one before. Loads (kg) count the bodyweight that was lifted.
    """

    movement: str
    week: int
    on: date
    load: WithBody
    reps: int
    mark: RecordMark
    best: bool


@dataclass(frozen=True, slots=True)
class Effort:
    """Mean of done less planned reps in reserve over a week's sets that have both; below zero it was harder."""

    week: int
    sets: int
    drift: Decimal


@dataclass(frozen=True, slots=True)
class Lengths:
    """What counts apart from the tonnage: time and distance, and `by_feel` the kg × reps of loads that none planned."""

    by_feel: Decimal = Decimal(0)
    planned_seconds: int = 0
    done_seconds: int = 0
    planned_metres: int = 0
    done_metres: int = 0


@dataclass(frozen=True, slots=True)
class Stalled:
    """The movements of a week with a set that was missed, and those with one that was done lighter than planned."""

    missed: tuple[str, ...] = ()
    lighter: tuple[str, ...] = ()

    @property
    def tired(self) -> bool:
        """Whether the next week should be a light one, by the rule that a week's opener prints (`pages.weeks`)."""
        return len(self.missed) >= MISSED_TOGETHER or len(self.lighter) >= LIGHTER_TOGETHER

    @property
    def told(self) -> tuple[str, ...]:
        """The movements that say so."""
        return self.missed if len(self.missed) >= MISSED_TOGETHER else self.lighter


@dataclass(frozen=True, slots=True)
class WeekProgress:
    """One week: its sets, the tonnage (kg × reps, known loads only) planned and done, and the effort."""

    week: int
    count: SetCount
    planned_tonnage: Decimal
    done_tonnage: Decimal
    effort: Effort | None
    lengths: Lengths = Lengths()
    stalled: Stalled = Stalled()


@dataclass(frozen=True, slots=True)
class Progress:
    """All that a log adds up to. `so_far` counts the sets up to the last session with anything written."""

    weeks: tuple[WeekProgress, ...]
    total: SetCount
    so_far: SetCount
    sessions_done: int
    sessions_planned: int
    estimates: tuple[WeekEstimate, ...]
    records: tuple[NewRecord, ...]
    missed: tuple[Entry, ...]


def progress(log: Log) -> Progress:
    """The sums of a whole log."""
    return Progress(
        weeks=tuple(_week(week, list(sessions)) for week, sessions in groupby(log.sessions, key=lambda s: s.week)),
        total=count(log.entries),
        so_far=count([entry for session in past_sessions(log) for entry in session.entries]),
        sessions_done=sum(any(e.state == "done" for e in session.entries) for session in log.sessions),
        sessions_planned=len(log.sessions),
        estimates=tuple(_estimates(log)),
        records=tuple(_records(log)),
        missed=tuple(entry for entry in log.entries if entry.missed),
    )


def past_sessions(log: Log) -> tuple[SessionLog, ...]:
    """The sessions up to the last one with anything written; what comes after may still be to come."""
    # By what was written and not by the calendar: nothing here knows today, and a log may be filled in late.
    written = [number for number, session in enumerate(log.sessions) if session.written]
    return log.sessions[: written[-1] + 1] if written else ()


def count(entries: Sequence[Entry]) -> SetCount:
    """What became of some sets, those on pages that are not there left out."""
    # A page that was taken out says nothing of the lifter.
    entries = [entry for entry in entries if entry.state != "absent"]
    states = [entry.state for entry in entries]
    return SetCount(
        planned=len(entries),
        done=states.count("done"),
        missed=sum(entry.missed for entry in entries),
        left_out=states.count("left out"),
        blank=states.count("blank"),
        unclear=states.count("unclear"),
    )


def _week(week: int, sessions: Sequence[SessionLog]) -> WeekProgress:
    entries = [entry for session in sessions for entry in session.entries]
    sums = (count(entries), *tonnage(entries), effort(week, entries), lengths(entries))
    return WeekProgress(week, *sums, _stalled([entry for entry in entries if entry.row.unit is None]))


def _stalled(entries: Sequence[Entry]) -> Stalled:
    # By movements and not by sets: one lift that stalls is a matter of its load.
    lighter = [e for e in entries if e.state == "done" and e.load is not None and e.load < (e.row.load or 0)]
    missed = [entry for entry in entries if entry.missed]
    return Stalled(*(tuple(dict.fromkeys(entry.row.movement for entry in found)) for found in (missed, lighter)))


def tonnage(entries: Sequence[Entry]) -> tuple[Decimal, Decimal]:
    """The kg × reps planned and done, of sets whose load was planned; time and distance have none."""
    # Planned and done of the same sets: with loads found by feel on one side only, every week would look like extra
    # work.
    known = [entry for entry in entries if entry.row.load is not None and entry.row.unit is None]
    planned = sum(((e.row.load or Decimal(0)) * e.row.reps for e in known), Decimal(0))
    return planned, _lifted_mass(known)


def lengths(entries: Sequence[Entry]) -> Lengths:
    """What some sets add up to apart from the tonnage."""
    found = _lifted_mass([entry for entry in entries if entry.row.load is None and entry.row.unit is None])
    return Lengths(found, *_of_unit(entries, "s"), *_of_unit(entries, "m"))


def _lifted_mass(entries: Sequence[Entry]) -> Decimal:
    return sum((e.load * e.reps for e in entries if e.state == "done" and e.load and e.reps), Decimal(0))


def _of_unit(entries: Sequence[Entry], unit: LengthUnit) -> tuple[int, int]:
    """The seconds or metres planned and done."""
    mine = [entry for entry in entries if entry.row.unit == unit]
    return sum(e.row.planned for e in mine), sum(e.reps or 0 for e in mine if e.state == "done")


def effort(week: int, entries: Sequence[Entry]) -> Effort | None:
    """How far the reserve lay from the plan, None when no set has both."""
    apart = [e.rir - e.row.rir for e in entries if e.state == "done" and e.rir is not None and e.row.rir is not None]
    return Effort(week, len(apart), sum(apart, Decimal(0)) / len(apart)) if apart else None


@dataclass(frozen=True, slots=True)
class _Lifted:
    """A finished set of a tested lift; `done.load` counts the bodyweight lifted."""

    week: int
    lift: LiftBefore
    done: Performance
    rir: Decimal | None
    least: bool


def _lifted(log: Log) -> list[_Lifted]:
    """Every finished set of a tested lift and every result of a test, in the order in which they were done."""
    found = [(session.when, session.week, one) for session in log.sessions for one in _in_session(log, session)]
    found += [(test.when, test.planned.week, one) for test in log.tests for one in _in_test(log, test)]
    # By the day that was written: sessions are moved, and a record is one against what stood on its day.
    return [one for _, _, one in sorted(found, key=lambda each: each[:2])]


def _in_session(log: Log, session: SessionLog) -> Iterator[_Lifted]:
    for entry in session.entries:
        lift = log.manifest.lift(entry.row.lift) if entry.row.lift else None
        if lift and entry.state == "done" and entry.load is not None and entry.reps:
            done = Performance(lift.whole(entry.load), entry.reps, entry.rir or Decimal(0), session.when, LOG)
            yield _Lifted(session.week, lift, done, entry.rir, entry.rir is None or entry.at_least)


def _in_test(log: Log, test: TestLog) -> Iterator[_Lifted]:
    lift, best = log.manifest.lift(test.planned.movement), test.best
    if lift and best:
        load, reps, rir = best
        yield _Lifted(test.planned.week, lift, Performance(lift.whole(load), reps, rir, test.when, LOG), rir, False)


def _estimates(log: Log) -> Iterator[WeekEstimate]:
    """For each lift and week the set with the highest estimate; sets of more than 15 reps to failure have none."""
    best: dict[tuple[str, int], WeekEstimate] = {}
    for one in _lifted(log):
        done = one.done
        if done.reps + done.rir > MOST_REPS or not done.load:
            continue
        # By equation and table of the booklet, so that the figures go with those that it prints.
        worth = estimate(done.load, done.reps, done.rir, one.lift.equation, log.manifest.table)
        key = (one.lift.movement, one.week)
        if key not in best or worth > best[key].estimate:
            assert done.on is not None
            read = spread(done.load, done.reps, done.rir, log.manifest.table)
            best[key] = WeekEstimate(*key, done.on, worth, read, done.load, done.reps, one.rir, one.least)
    order = [lift.movement for lift in log.manifest.lifts]
    yield from sorted(best.values(), key=lambda one: (order.index(one.movement), one.week))


def _records(log: Log) -> Iterator[NewRecord]:
    """The sets that beat everything before them, each against what stood when it was done."""
    # Begun with what stood before the block, or the first set of every log would be a record.
    known = {lift.movement: [best.performance() for best in lift.bests] for lift in log.manifest.lifts}
    for one in _lifted(log):
        before, done = known[one.lift.movement], one.done
        mark = record_mark(done.load, before, one.lift.equation, rows=log.manifest.table)
        if mark is not None and done.reps >= mark.reps:
            assert done.on is not None
            best = _beats_all(done, before, one.lift.equation, log.manifest.table)
            yield NewRecord(one.lift.movement, one.week, done.on, done.load, done.reps, mark, best)
        # Only now: a set does not beat itself, and what it did stands against all later ones.
        before.append(done)


def _beats_all(done: Performance, before: Sequence[Performance], equation: Equation, rows: Rows) -> bool:
    """Whether a set's estimated max is above every one before; one without an estimate never is."""
    mine, known = (best_estimate(sets, equation, rows) for sets in ([done], before))
    return mine is not None and (known is None or mine[0] > known[0])
