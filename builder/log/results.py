"""What a test day gave: the date, each lift's result with its attempts, and what the log before it shows."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from builder.given import Conditions
from builder.log.written import mass_text
from builder.values.quantity import OnBar, plain
from builder.values.scalars import Amount


@dataclass(frozen=True, slots=True)
class Result:
    """The set that counts: the load as written, good reps, and reps that were left."""

    load: Amount
    reps: int
    rir: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class LiftOutcome:
    """One lift of the day. Without a `result` nothing was good, and there is at least one missed attempt.

    `movement` is any name of it, `day` its own day where lifts were tested on several. What `conditions` leaves unsaid
    is carried over from the lift's last test, as far as the block trains it so.
    """

    movement: str
    result: Result | None = None
    made: tuple[Amount, ...] = ()
    missed: tuple[Amount, ...] = ()
    conditions: Conditions = field(default_factory=Conditions)
    note: str | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True)
class ProfileSet:
    """A set as a profile has it under `records` or `logged`: load in kg on the implement, the reserve if known."""

    on: date | None
    load: OnBar
    reps: int
    rir: Decimal | None = None
    missed: bool = False

    @property
    def entry(self) -> dict[str, str]:
        """Keys and values in the order in which they are written."""
        day = {"date": self.on.isoformat()} if self.on else {}
        effort = {} if self.rir is None else {"rir": plain(self.rir)}
        missed = {"missed": "true"} if self.missed else {}
        return {**day, "load": mass_text(self.load), "reps": str(self.reps), **effort, **missed}

    @property
    def text(self) -> str:
        """The same in one line."""
        # A flow mapping of YAML, as it stands in a list of the profile.
        return "{" + ", ".join(f"{key}: {value}" for key, value in self.entry.items()) + "}"


@dataclass(frozen=True, slots=True)
class FromLog:
    """What a log shows of one lift that the profile does not have yet; `movement` is what the profile calls it."""

    movement: str
    records: tuple[ProfileSet, ...] = ()
    logged: tuple[ProfileSet, ...] = ()


@dataclass(frozen=True, slots=True)
class DayOutcome:
    """All of one test, each lift once; `day` is the first day of it, `shown` what the log beside it adds."""

    day: date
    lifts: tuple[LiftOutcome, ...]
    bodyweight: Amount | None = None
    shown: tuple[FromLog, ...] = ()

    def day_of(self, one: LiftOutcome) -> date:
        """The day on which a lift was tested."""
        return one.day or self.day


def amount_text(amount: Amount) -> str:
    """A load as a profile writes it: `147.5`, or `325 lb` where the unit was said."""
    return f"{plain(amount.number)} {amount.unit}" if amount.unit else plain(amount.number)
