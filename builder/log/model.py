"""A log that has been read: what was planned beside what was done, set by set. Masses are kg."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from builder.log.manifest import Manifest, PlannedRow, PlannedTest
from builder.values.quantity import OnBar

State = Literal["done", "left out", "blank", "unclear", "absent"]


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of the log. `reps` counts seconds for a hold; `rir` is None when it was not written.

    An "absent" row stands on a page that the file does not have. Of an "unclear" one `written` has what stands in its
    cells, part by part.

    `as_planned` when load and count are the printed ones because nothing else was written. `at_least` when there may
    have been more reps, `failed` when a further rep was tried and missed. `today` is a load that overruled the print.
    """

    row: PlannedRow
    state: State
    load: OnBar | None = None
    reps: int | None = None
    rir: Decimal | None = None
    as_planned: bool = False
    at_least: bool = False
    failed: bool = False
    today: Decimal | None = None
    written: tuple[tuple[str, str], ...] = ()

    @property
    def planned_count(self) -> int:
        """The reps, seconds or metres that were planned."""
        return self.row.planned

    @property
    def missed(self) -> bool:
        """Whether fewer reps were done than planned."""
        return self.state == "done" and (self.failed or (self.reps is not None and self.reps < self.planned_count))


@dataclass(frozen=True, slots=True)
class SessionLog:
    """One session. `on` is the day that was planned, `done_on` the day that was written, if any."""

    week: int
    day: int
    on: date
    entries: tuple[Entry, ...]
    done_on: date | None = None
    bodyweight: Decimal | None = None
    sleep: Decimal | None = None
    note: str = ""
    notes: tuple[tuple[int, str], ...] = ()

    @property
    def when(self) -> date:
        """The day it was done, as far as is known."""
        return self.done_on or self.on

    @property
    def written(self) -> bool:
        """Whether anything was written about its sets."""
        return any(entry.state not in ("blank", "absent") for entry in self.entries)


@dataclass(frozen=True, slots=True)
class Attempt:
    """One attempt on test day."""

    number: int
    load: OnBar
    good: bool


@dataclass(frozen=True, slots=True)
class TestLog:
    """What was written on the test page of one lift."""

    planned: PlannedTest
    attempts: tuple[Attempt, ...] = ()
    load: OnBar | None = None
    reps: int | None = None
    rir: Decimal | None = None
    on: date | None = None
    note: str = ""

    @property
    def written(self) -> bool:
        """Whether anything was written."""
        return bool(self.attempts or self.note or self.load is not None or self.reps is not None or self.on)

    @property
    def when(self) -> date:
        """The day it was done, as far as is known."""
        return self.on or self.planned.on

    @property
    def best(self) -> tuple[OnBar, int, Decimal] | None:
        """Load, reps and reserve of the result: as written, or the heaviest good attempt; None without either.

        A load without reps is a single where attempts were planned.
        """
        reps = self.reps or (1 if self.planned.opener is not None else None)
        if self.load is not None and reps is not None:
            return self.load, reps, self.rir or Decimal(0)
        # A load without reps says nothing where several reps were the test, and attempts do not stand in for it.
        good = [attempt.load for attempt in self.attempts if attempt.good]
        return (max(good), 1, Decimal(0)) if good and self.load is None else None

    @property
    def missed(self) -> tuple[Decimal, ...]:
        """The loads of the missed attempts."""
        return tuple(attempt.load for attempt in self.attempts if not attempt.good)


@dataclass(frozen=True, slots=True)
class RecordLog:
    """A record written into the record table: at least `reps` with `load`."""

    movement: str
    reps: int
    load: OnBar | None
    on: date | None


@dataclass(frozen=True, slots=True)
class TrendLog:
    """What the lifter took the max of a lift to be in a week."""

    movement: str
    week: int
    load: Decimal


@dataclass(frozen=True, slots=True)
class WeekLog:
    """What was written on the opener of a week when it was over."""

    week: int
    bodyweight: Decimal | None = None
    sleep: Decimal | None = None
    good: str = ""
    mend: str = ""


@dataclass(frozen=True, slots=True)
class RawCell:
    """A cell that counts for nothing, with all that was written there and why it does not count."""

    page: int
    field: str
    text: str
    why: str


@dataclass(frozen=True, slots=True)
class Log:
    """A whole booklet's log. `others` has the remaining fields as written: trials, screening, signatures.

    `unclear` has every cell that cannot be read, and every filled field that the booklet does not have.
    """

    manifest: Manifest
    sessions: tuple[SessionLog, ...]
    tests: tuple[TestLog, ...]
    records: tuple[RecordLog, ...]
    others: tuple[tuple[str, str], ...]
    note: str = ""
    unclear: tuple[RawCell, ...] = ()
    weeks: tuple[WeekLog, ...] = ()
    trend: tuple[TrendLog, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every row, in the order of the pages."""
        return tuple(entry for session in self.sessions for entry in session.entries)
