"""What the sets of a log add to a profile, line by line: new records, and of each day what shows the max best.

Why so few lines. Many sets of a session show the same max, and each line goes into a file that people read.
Of a day only that is kept which counts there too (`training.expected` takes of one day the heaviest set that was done
and the lightest miss).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal

from builder.given import BestSet, Lift, LoggedSet, Sources
from builder.log.model import Entry, Log, SessionLog
from builder.log.progress import NewRecord, progress
from builder.log.results import FromLog, ProfileSet
from builder.values.quantity import Unit, on_bar

# As many as a profile takes (`given.lifts.BestSet.reps`).
MOST_RECORD_REPS = 30


def from_log(sources: Sources, log: Log) -> tuple[FromLog, ...]:
    """For each lift of the profile of which the log shows something new: its new records and logged sets."""
    assert sources.client is not None
    new = progress(log).records
    found = (_of_lift(word, lift, sources, log, new) for word, lift in sources.client.lifts.items())
    return tuple(one for one in found if one.records or one.logged)


def record_line(one: BestSet, unit: Unit) -> ProfileSet:
    """A record as the profile has it already."""
    return ProfileSet(one.day, one.load.kg(unit), one.reps)


def logged_line(one: LoggedSet, unit: Unit) -> ProfileSet:
    """A logged set as the profile has it already."""
    return ProfileSet(one.day, one.load.kg(unit), one.reps, one.rir, one.missed)


def _of_lift(word: str, lift: Lift, sources: Sources, log: Log, new: Sequence[NewRecord]) -> FromLog:
    assert sources.client is not None
    name, unit = sources.movements.named(word), sources.client.unit
    before = log.manifest.lift(name) if name else None
    if name is None:
        return FromLog(word)
    own = before.own if before else Decimal(0)
    records = {record_line(one, unit) for one in lift.records}
    logged = {logged_line(one, unit) for one in lift.logged}
    mine = [one for one in new if one.movement == name and one.reps <= MOST_RECORD_REPS]
    return FromLog(
        word,
        tuple(one for one in _records(mine, own) if one not in records),
        tuple(one for one in _heaviest(tuple(_seen(name, log))) if one not in logged),
    )


def _records(new: Sequence[NewRecord], own: Decimal) -> Iterator[ProfileSet]:
    """The sets that beat all before them, without those that another one beat later."""
    mine = [ProfileSet(one.on, on_bar(one.load, own), one.reps) for one in new]
    yield from (one for one in mine if not any(_beats(other, one) for other in mine))


def _beats(one: ProfileSet, other: ProfileSet) -> bool:
    """Whether a set is at least as heavy and as long as another, and not both equal."""
    mine, theirs = (one.load, one.reps), (other.load, other.reps)
    return mine != theirs and mine[0] >= theirs[0] and mine[1] >= theirs[1]


def _seen(name: str, log: Log) -> Iterator[ProfileSet]:
    yield from (_line(entry, session) for session in log.sessions for entry in session.entries if _counts(entry, name))


def _counts(entry: Entry, name: str) -> bool:
    done = entry.state == "done" and bool(entry.load) and bool(entry.reps)
    # Only the lift as it was tested: a variant or a drill says nothing exact of it.
    return done and entry.row.lift == name and entry.row.unit is None


def _line(entry: Entry, session: SessionLog) -> ProfileSet:
    assert entry.load is not None and entry.reps is not None
    # A rep that was tried and failed says exactly how many there were, which is more than that the planned ones were
    # missed.
    if entry.failed:
        return ProfileSet(session.when, entry.load, entry.reps, Decimal(0))
    if entry.missed:
        return ProfileSet(session.when, entry.load, entry.row.reps, missed=True)
    # Where there may have been more reps the reserve is not known: at least so much.
    return ProfileSet(session.when, entry.load, entry.reps, None if entry.at_least else entry.rir)


def _heaviest(seen: Sequence[ProfileSet]) -> list[ProfileSet]:
    """Of each day the heaviest set with a reserve, the heaviest without, and the lightest miss."""
    best: dict[tuple[date | None, bool, bool], ProfileSet] = {}
    for one in seen:
        key = (one.on, one.missed, one.rir is None)
        best[key] = max(best.get(key, one), one, key=_weighs)
    return list(best.values())


def _weighs(one: ProfileSet) -> tuple[Decimal, Decimal]:
    sign = -1 if one.missed else 1
    return sign * one.load, sign * (one.reps + (one.rir or Decimal(0)))
