"""The lifter: name and age, training age and days, tested sets, records, limits, screening."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from pydantic import AfterValidator, Field, field_validator

from builder.given.changes import Change
from builder.given.gym import Gym
from builder.given.lifts import EquationWord, Lift
from builder.training.estimate import rows_fault
from builder.values.days import Day, DaySpan, Weekday, each_once
from builder.values.forms import offered
from builder.values.lists import Sex
from builder.values.quantity import Unit
from builder.values.scalars import (
    LISTED,
    Format,
    Load,
    MovementName,
    Part,
    Share,
    Status,
    Text,
    Whole,
    YesNo,
    wrong,
)

ADULT_AGE = 18
OLDER_AGE = 65
UnitWord = Annotated[Unit, LISTED]
Avoided = Annotated[Text, offered("movements", "groups")]
Percent = Annotated[Share, Field(gt=0, le=Decimal("1.5"))]


class Identity(Part):
    """Who the lifter is; `supervisor` names the professional who is present when a minor tests."""

    name: Text = Field(description="The lifter's name, as it stands on the cover.", examples=["Mara Example"])
    units: UnitWord = Field(description="The unit of loads without one, and of all that is printed.", examples=["kg"])
    bodyweight: Load | None = Field(
        None,
        description="What the lifter weighs: needed for pull-ups, dips and the like, and for points.",
        examples=["71.4"],
    )
    born: Annotated[Whole, Field(ge=1900, le=2100)] | None = Field(
        None, description="The year of birth; ages are counted on the safe side, under 18 as over 65.", examples=[1991]
    )
    sex: Annotated[Sex, LISTED] | None = Field(
        None, description="Only for the points beside a total.", examples=["female"]
    )
    supervisor: Text | None = Field(
        None,
        description="The professional who is present when a lifter under 18 tests or holds heavy loads.",
        examples=["Dr Vane"],
    )

    def age(self, on: date) -> int | None:
        """Full years that are certain on a day: only the year of birth is known, so the birthday is to come."""
        return None if self.born is None else on.year - self.born - 1


class Resume(Part):
    """A block goes on from a week: after a pause, or planned anew.

    `on` is its first day after a pause, None when the calendar goes on. `renew` takes the newest tests; without it a
    pause keeps the progress. `share` is how much of the working maxes is taken from then.
    """

    week: Annotated[Whole, Field(ge=2, le=52)] = Field(description="The first week that is planned anew.", examples=[5])
    on: Day | None = Field(
        None,
        description="The first day of that week after a pause, on the weekday on which weeks begin.",
        examples=["2027-02-22"],
        json_schema_extra={"unset": "the calendar goes on"},
    )
    renew: YesNo | None = Field(
        None,
        description="Whether it is planned from the newest tests.",
        examples=[True],
        json_schema_extra={"unset": "yes without `on`, no with it"},
    )
    share: Annotated[Share, Field(ge=Decimal("0.5"), le=1)] | None = Field(
        None,
        description="How much of the working maxes is taken from then on.",
        examples=["95 %"],
        json_schema_extra={"unset": "all of them; after a pause lighter at first"},
    )

    @property
    def renews(self) -> bool:
        """Whether the newest tests count from here on: as asked, else wherever there is no pause."""
        # A pause brings no new max by itself, and what was won stays won; where there was none, a test is why.
        return self.on is None if self.renew is None else self.renew


class Training(Part):
    """How long the lifter has trained, and when the block can be trained."""

    status: Status = Field(description="How far the lifter has come.", examples=["intermediate"])
    months: Annotated[Whole, Field(ge=0, le=900)] = Field(
        description="How many months the lifter has trained.", examples=[30]
    )
    days: Annotated[tuple[Weekday, ...], AfterValidator(each_once)] = Field(
        min_length=1,
        max_length=7,
        description="The days of the week that can be trained.",
        examples=[["mon", "wed", "fri"]],
        json_schema_extra={"uniqueItems": True},
    )
    session_minutes: Annotated[Whole, Field(ge=15, le=300)] = Field(
        description="The minutes that one session may take.", examples=[75]
    )
    starts: Day = Field(
        description="The first day of week 1; each week runs seven days from it.", examples=["2027-01-11"]
    )
    resumes: tuple[Resume, ...] = Field(
        default=(),
        max_length=20,
        description="Weeks from which the block goes on, or is planned anew.",
        examples=[[{"week": 5, "on": "2027-02-22"}]],
    )
    away: tuple[DaySpan, ...] = Field(
        default=(),
        max_length=20,
        description="Days that cannot be trained, singly or from one to another.",
        examples=[["2027-02-08 to 2027-02-14"]],
    )


class Screening(Part):
    """The answer to a pre-exercise screening form, not its questions."""

    answered: Day = Field(
        description="The day on which the health screening form was answered.", examples=["2026-12-20"]
    )
    clinician_advised: YesNo = Field(False, description="Whether its answers asked for a clinician.", examples=[False])
    cleared: Day | None = Field(
        None,
        description="The day on which the clinician agreed.",
        examples=["2027-01-04"],
        json_schema_extra={"unset": "not cleared"},
    )


class Limit(Part):
    """Something that hurts, the movements to leave out for it and what to do in their place."""

    area: Text = Field(description="What hurts.", examples=["left shoulder"])
    avoid: tuple[Avoided, ...] = Field(
        min_length=1,
        max_length=60,
        description='What to leave out: movements, patterns such as "vertical push" or regions such as "upper body".',
        examples=[["overhead press"]],
    )
    instead: dict[Avoided, MovementName] = Field(
        default_factory=dict,
        max_length=60,
        description="What is done in place of one avoided movement, or of all of a pattern.",
        examples=[{"overhead press": "dumbbell row"}],
    )
    since: Day | None = Field(
        None,
        description="When it began; within six weeks before the block no hold goes above the max.",
        examples=["2026-12-01"],
    )
    note: Text | None = Field(None, description="Anything that matters.", examples=["fine below the chin"])


class Client(Part):
    """One client profile."""

    format: Format = Field(description="The version of the file format.", examples=[1])
    client: Identity = Field(description="Who the lifter is.", examples=[{"name": "Mara Example", "units": "kg"}])
    training: Training = Field(
        description="How long the lifter has trained, when and how often.",
        examples=[
            {
                "status": "intermediate",
                "months": 30,
                "days": ["mon", "wed", "fri"],
                "session_minutes": 75,
                "starts": "2027-01-11",
            }
        ],
    )
    gym: Gym = Field(
        description="What can be lifted in the lifter's gym.",
        examples=[{"bars": {"power bar": 20}, "pairs": {"20": 2, "10": 1, "5": 1, "2.5": 1, "1.25": 1}}],
    )
    lifts: dict[MovementName, Lift] = Field(
        default_factory=dict,
        max_length=60,
        description="What is known of each tested lift, by movement.",
        examples=[{"back squat": {"tests": [{"date": "2026-12-19", "load": "120 kg", "reps": 3, "rir": 1}]}}],
    )
    equation: EquationWord | None = Field(
        None,
        description="The equation that estimates the max of every lift.",
        examples=["epley"],
        json_schema_extra={"unset": "`wathan` is used"},
    )
    percent_table: dict[Annotated[Whole, Field(ge=1, le=15)], Percent] | None = Field(
        None,
        description="Your own table of reps to failure and shares of the max, for the equation `table`.",
        examples=[{"1": "100 %", "3": "93 %", "5": "87 %"}],
        json_schema_extra={"unset": "the handbook's is used"},
    )
    limits: tuple[Limit, ...] = Field(
        (),
        max_length=30,
        description="What hurts and what is left out for it.",
        examples=[[{"area": "left shoulder", "avoid": ["overhead press"]}]],
    )
    screening: Screening | None = Field(
        None, description="The answer to a health screening form.", examples=[{"answered": "2026-12-20"}]
    )
    changes: tuple[Change, ...] = Field(
        (),
        max_length=60,
        description="What this lifter does otherwise than the block has it.",
        examples=[[{"swap": "back squat", "to": "front squat", "weeks": "3-6"}]],
    )

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

    def unsupervised(self, on: date) -> bool:
        """Whether the lifter may be under 18 on a day, and no professional is named who is there."""
        return self.minor(on) and self.client.supervisor is None

    def older(self, on: date) -> bool:
        """Whether the lifter is over 65 on a day, the birthday counted as past."""
        return self.client.born is not None and on.year - self.client.born > OLDER_AGE
