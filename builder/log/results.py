"""What a test day gave: the date, and for each lift the result with the attempts made and missed."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from builder.given import Conditions
from builder.values.quantity import plain
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
class Outcome:
    """All of one test, each lift once; `day` is the first day of it."""

    day: date
    lifts: tuple[LiftOutcome, ...]
    bodyweight: Amount | None = None

    def day_of(self, one: LiftOutcome) -> date:
        """The day on which a lift was tested."""
        return one.day or self.day


def amount_text(amount: Amount) -> str:
    """A load as a profile writes it: `147.5`, or `325 lb` where the unit was said."""
    return f"{plain(amount.number)} {amount.unit}" if amount.unit else plain(amount.number)
