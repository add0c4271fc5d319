"""The lifter: name and age, training age and days, tested sets, records, limits, screening."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, field_validator

from builder.given.changes import Change
from builder.given.conditions import Conditions
from builder.given.gym import Gym
from builder.training.estimate import Equation, rows_fault
from builder.values.effort import Rated, Rating
from builder.values.quantity import Unit
from builder.values.scalars import (
    Day,
    DaySpan,
    Format,
    Load,
    Part,
    Rir,
    Seconds,
    Share,
    Status,
    Text,
    Weekday,
    Whole,
    YesNo,
    one_of,
    wrong,
)

ADULT_AGE = 18
OLDER_AGE = 65
UnitWord = Annotated[Unit, one_of(*Unit)]
EquationWord = Annotated[Equation, one_of(*Equation)]
Percent = Annotated[Share, Field(gt=0, le=Decimal("1.5"))]


class Identity(Part):
    """Who the lifter is; `supervisor` names the professional who is present when a minor tests."""

    name: Text
    units: UnitWord
    bodyweight: Load | None = None
    born: Annotated[Whole, Field(ge=1900, le=2100)] | None = None
    sex: Annotated[Literal["female", "male"], one_of("female", "male")] | None = None
    supervisor: Text | None = None

    def age(self, on: date) -> int | None:
        """Full years that are certain on a day: only the year of birth is known, so the birthday is to come."""
        return None if self.born is None else on.year - self.born - 1


class Resume(Part):
    """A block goes on from a week: after a pause, or planned anew.

    `on` is its first day after a pause, None when the calendar goes on. `renew` takes the newest tests; without it a
    pause keeps the progress. `share` is how much of the working maxes is taken from then.
    """

    week: Annotated[Whole, Field(ge=2, le=52)]
    on: Day | None = None
    renew: YesNo | None = None
    share: Annotated[Share, Field(ge=Decimal("0.5"), le=1)] | None = None

    @property
    def renews(self) -> bool:
        """Whether the newest tests count from here on: as asked, else wherever there is no pause."""
        return self.on is None if self.renew is None else self.renew


class Training(Part):
    """How long the lifter has trained, and when the block can be trained."""

    status: Status
    months: Annotated[Whole, Field(ge=0, le=900)]
    days: tuple[Weekday, ...] = Field(min_length=1, max_length=7)
    session_minutes: Annotated[Whole, Field(ge=15, le=300)]
    starts: Day
    resumes: tuple[Resume, ...] = Field(default=(), max_length=20)
    away: tuple[DaySpan, ...] = Field(default=(), max_length=20)


class Screening(Part):
    """The answer to a pre-exercise screening form, not its questions."""

    answered: Day
    clinician_advised: YesNo = False
    cleared: Day | None = None


class AttemptsDone(Part):
    """The single attempts of a test day, for the memory only: the max is estimated from the tested set."""

    made: tuple[Load, ...] = Field(default=(), max_length=12)
    missed: tuple[Load, ...] = Field(default=(), max_length=12)


class TestedSet(Conditions, Rated):
    """One honest set: load, reps done and reps left in reserve.

    `attempts` and `bodyweight` say how the day went and change no number; `revision` is that of the booklet which
    this test led to.
    """

    day: Day = Field(alias="date")
    load: Load
    reps: Annotated[Whole, Field(ge=1, le=30)]
    rir: Rir = Decimal(0)
    rpe: Rating | None = None
    missed: YesNo = False
    attempts: AttemptsDone | None = None
    bodyweight: Load | None = None
    revision: Annotated[Whole, Field(ge=1, le=9999)] | None = None
    note: Text | None = None


class BestSet(Part):
    """A set out of the lifter's own log that was the best at its reps."""

    day: Day | None = Field(alias="date", default=None)
    load: Load
    reps: Annotated[Whole, Field(ge=1, le=30)]


class LoggedSet(Part):
    """A set out of the log: what it shows of the max, beside tests and records. Without `rir` it was at least that."""

    day: Day = Field(alias="date")
    load: Load
    reps: Annotated[Whole, Field(ge=1, le=30)]
    rir: Rir | None = None
    missed: YesNo = False


class Held(Part):
    """The heaviest bar stood up with and held."""

    day: Day | None = Field(alias="date", default=None)
    load: Load
    seconds: Seconds = 5


class Lift(Part):
    """What is known of one movement."""

    tests: tuple[TestedSet, ...] = Field(min_length=1, max_length=200)
    working_max: Annotated[Share, Field(ge=Decimal("0.5"), le=1)] = Decimal(1)
    equation: EquationWord | None = None
    records: tuple[BestSet, ...] = Field((), max_length=200)
    logged: tuple[LoggedSet, ...] = Field((), max_length=400)
    held: Held | None = None


class Limit(Part):
    """Something that hurts, the movements to leave out for it and what to do in their place."""

    area: Text
    avoid: tuple[Text, ...] = Field(min_length=1, max_length=60)
    instead: dict[Text, Text] = Field(default_factory=dict, max_length=60)
    since: Day | None = None
    note: Text | None = None


class Client(Part):
    """One client profile."""

    format: Format
    client: Identity
    training: Training
    gym: Gym
    lifts: dict[Text, Lift] = Field(default_factory=dict, max_length=60)
    equation: EquationWord | None = None
    percent_table: dict[Annotated[Whole, Field(ge=1, le=15)], Percent] | None = None
    limits: tuple[Limit, ...] = Field((), max_length=30)
    screening: Screening | None = None
    changes: tuple[Change, ...] = Field((), max_length=60)

    @field_validator("percent_table")
    @classmethod
    def _falls(cls, table: dict[int, Decimal] | None) -> dict[int, Decimal] | None:
        fault = rows_fault(tuple(sorted(table.items()))) if table is not None else None
        if fault is not None:
            raise wrong(
                "percent-table", f"this table will not do: {fault}", "Write reps to failure with falling shares."
            )
        return table

    @property
    def unit(self) -> Unit:
        """The unit of every bare load in the profile."""
        return self.client.units

    @property
    def revision(self) -> int:
        """The revision of the booklet: the highest that a test led to, 1 where none names one."""
        return max((test.revision or 1 for lift in self.lifts.values() for test in lift.tests), default=1)

    @property
    def waits_for_clinician(self) -> bool:
        """Whether a clinician was advised and has not agreed."""
        screening = self.screening
        return screening is not None and screening.clinician_advised and screening.cleared is None

    def minor(self, on: date) -> bool:
        """Whether the lifter may be under 18 on a day."""
        age = self.client.age(on)
        return age is not None and age < ADULT_AGE

    def older(self, on: date) -> bool:
        """Whether the lifter is over 65 on a day, the birthday counted as past."""
        return self.client.born is not None and on.year - self.client.born > OLDER_AGE
