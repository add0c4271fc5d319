"""What is known of a lift: tested sets and how they were done, records, logged sets, the heaviest walkout."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from builder.training.estimate import Equation
from builder.values.days import Day
from builder.values.effort import Rated, Rating
from builder.values.scalars import (
    LISTED,
    Load,
    Part,
    Rir,
    Seconds,
    Share,
    Text,
    Whole,
    YesNo,
)

EquationWord = Annotated[Equation, LISTED]
Depth = Literal["above parallel", "parallel", "below parallel"]


class Conditions(Part):
    """How a set was, or is to be, lifted; what is not stated is not known."""

    bar: Annotated[Literal["high", "low"], LISTED] | None = Field(
        None, description="Where the bar lies on the back.", examples=["low"], json_schema_extra={"unset": "not known"}
    )
    depth: Annotated[Depth, LISTED] | None = Field(
        None,
        description="How deep the squat goes; it is printed, and nothing is worked out from it.",
        examples=["below parallel"],
        json_schema_extra={"unset": "not known"},
    )
    belt: YesNo | None = Field(
        None, description="Whether a belt is worn.", examples=[True], json_schema_extra={"unset": "not known"}
    )
    sleeves: YesNo | None = Field(
        None, description="Whether knee sleeves are worn.", examples=[True], json_schema_extra={"unset": "not known"}
    )


class AttemptsDone(Part):
    """The single attempts of a test day, for the memory only: the max is estimated from the tested set."""

    made: tuple[Load, ...] = Field(
        default=(), max_length=12, description="Attempts that were good.", examples=[["110 kg", "116 kg"]]
    )
    missed: tuple[Load, ...] = Field(
        default=(), max_length=12, description="Attempts that were not.", examples=[["122 kg"]]
    )


class TestedSet(Conditions, Rated):
    """One honest set: load, reps done and reps left in reserve.

    `attempts` and `bodyweight` say how the day went and change no number; `revision` is that of the booklet which
    this test led to.
    """

    day: Day = Field(alias="date", description="The day of the test; the latest one counts.", examples=["2026-12-19"])
    load: Load = Field(
        description="What was lifted; for bodyweight movements what hung from the belt.", examples=["120 kg"]
    )
    reps: Annotated[Whole, Field(ge=1, le=30)] = Field(
        description="How many good reps: with `rir` at most 15, better 3 to 10.", examples=[3]
    )
    rir: Rir = Field(Decimal(0), description="How many more reps would have been good.", examples=[1])
    rpe: Rating | None = Field(
        None,
        description="The same as a rating: 10 for none left, 9 for one.",
        examples=[9],
        json_schema_extra={"unset": "`rir` counts"},
    )
    missed: YesNo = Field(
        False, description="Whether the set was not made; it is kept and does not count.", examples=[True]
    )
    attempts: AttemptsDone | None = Field(
        None,
        description="The single attempts of a test day; they are kept and change no number.",
        examples=[{"made": ["110 kg", "116 kg"], "missed": ["122 kg"]}],
    )
    bodyweight: Load | None = Field(
        None, description="The bodyweight of that day; it is kept and changes no number.", examples=["71.4"]
    )
    revision: Annotated[Whole, Field(ge=1, le=9999)] | None = Field(
        None, description="The revision of the booklet that this test led to; `retest` writes it.", examples=[2]
    )
    note: Text | None = Field(None, description="Anything that matters later.", examples=["slept badly"])


class BestSet(Part):
    """A set out of the lifter's own log that was the best at its reps."""

    day: Day | None = Field(
        alias="date",
        default=None,
        description="The day on which it was lifted.",
        examples=["2026-10-02"],
        json_schema_extra={"unset": "not known"},
    )
    load: Load = Field(description="What was lifted.", examples=["110 kg"])
    # `log.shown` writes no record of more (`MOST_RECORD_REPS`).
    reps: Annotated[Whole, Field(ge=1, le=30)] = Field(description="For how many reps.", examples=[5])


class LoggedSet(Part):
    """A set out of the log: what it shows of the max, beside tests and records. Without `rir` it was at least that."""

    day: Day = Field(alias="date", description="The day on which it was lifted.", examples=["2027-02-03"])
    load: Load = Field(description="What was lifted.", examples=["105 kg"])
    reps: Annotated[Whole, Field(ge=1, le=30)] = Field(
        description="For how many reps; of a miss, how many were to be done.", examples=[5]
    )
    rir: Rir | None = Field(
        None,
        description="How many more reps would have been good.",
        examples=[2],
        json_schema_extra={"unset": "the set was at least that good"},
    )
    missed: YesNo = Field(False, description="Whether the reps were not made.", examples=[True])


class Held(Part):
    """The heaviest bar stood up with and held."""

    day: Day | None = Field(
        alias="date",
        default=None,
        description="The day on which it was held.",
        examples=["2026-12-12"],
        json_schema_extra={"unset": "not known"},
    )
    load: Load = Field(description="What was stood up with.", examples=["130 kg"])
    seconds: Seconds = Field(5, description="For how long it was held.", examples=["6 s"])


class Lift(Part):
    """What is known of one movement."""

    tests: tuple[TestedSet, ...] = Field(
        min_length=1,
        max_length=200,
        description="Tested sets; keep them all and add the new ones below.",
        examples=[[{"date": "2026-12-19", "load": "120 kg", "reps": 3, "rir": 1}]],
    )
    working_max: Annotated[Share, Field(ge=Decimal("0.5"), le=1)] = Field(
        Decimal(1),
        description="The share of the estimated max that all shares of the block are taken of.",
        examples=["95 %"],
    )
    equation: EquationWord | None = Field(
        None,
        description="The equation that estimates the max of this lift alone.",
        examples=["epley"],
        json_schema_extra={"unset": "that of the profile"},
    )
    records: tuple[BestSet, ...] = Field(
        (),
        max_length=200,
        description="The best sets out of the lifter's own log; `retest --form` adds the new ones.",
        examples=[[{"load": "110 kg", "reps": 5}]],
    )
    logged: tuple[LoggedSet, ...] = Field(
        (),
        # `log.resume` writes no more (`MOST_LOGGED`).
        max_length=400,
        description="Sets out of a filled booklet, which count for the expected max alone; `retest --form` and "
        "`build --from-week --log` write them.",
        examples=[[{"date": "2027-02-03", "load": "105 kg", "reps": 5}]],
    )
    held: Held | None = Field(
        None, description="The heaviest walkout so far.", examples=[{"load": "130 kg", "seconds": "6 s"}]
    )
