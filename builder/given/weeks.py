"""What changes the weeks of a block: deload, taper, the test at the end, and what gear is worth."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from builder.values.scalars import (
    LISTED,
    MovementName,
    Part,
    Rir,
    Share,
    Whole,
    YesNo,
    wrong,
)

Drop = Literal["drills", "accessories"]


class Deload(Part):
    """When weeks get lighter, and how. At least one of the four reductions must reduce."""

    every: Annotated[Whole, Field(ge=2, le=16)] | None = Field(
        None,
        description="Every so many weeks of the block: with 4, the weeks 4, 8, 12 and so on.",
        examples=[4],
        json_schema_extra={"unset": "no cadence"},
    )
    weeks: tuple[Annotated[Whole, Field(ge=1, le=52)], ...] = Field(
        (), max_length=52, description="These weeks.", examples=[[4, 9]]
    )
    before_test: YesNo = Field(False, description="Whether the week before the test is one.", examples=[True])
    sets: Annotated[Share, Field(gt=0, le=1)] = Field(
        Decimal("0.6"), description="How many of the sets stay; at least one does.", examples=["50 %"]
    )
    reps: Annotated[Share, Field(gt=0, le=1)] = Field(
        Decimal(1), description="How many of the reps stay.", examples=["80 %"]
    )
    load: Annotated[Share, Field(ge=Decimal("0.4"), le=1)] = Field(
        Decimal("0.9"), description="How much of the load stays, from 40 %.", examples=["85 %"]
    )
    easier: Rir = Field(Decimal(2), description="How many more reps in reserve than usual.", examples=[3])
    drop: tuple[Annotated[Drop, LISTED], ...] = Field(
        ("drills",), max_length=2, description="What is left out.", examples=[["drills", "accessories"]]
    )
    counts: YesNo = Field(False, description="Whether a deload counts as an exposure.", examples=[True])

    @model_validator(mode="after")
    def _reduces(self) -> Deload:
        if self.sets == 1 and self.reps == 1 and self.load == 1:
            raise wrong(
                "no-deload",
                "this deload reduces neither sets, reps nor load",
                'Give at least one below 100 %, such as "sets: 60 %".',
            )
        return self


class Taper(Part):
    """How the last weeks before the test get shorter at the same load; over several weeks the cut grows evenly."""

    weeks: Annotated[Whole, Field(ge=1, le=3)] = Field(
        1, description="How many weeks before the test get shorter.", examples=[2]
    )
    sets: Annotated[Share, Field(ge=Decimal("0.3"), le=Decimal("0.8"))] = Field(
        Decimal("0.5"),
        description="How many of the sets stay in the last of them; at least one does.",
        examples=["40 %"],
    )
    drop: tuple[Annotated[Drop, LISTED], ...] = Field(
        ("drills", "accessories"), max_length=2, description="What is left out.", examples=[["drills"]]
    )

    def share(self, weeks_left: int) -> Decimal:
        """How many of the sets stay so many weeks before the test."""
        return 1 - (1 - self.sets) * (self.weeks - weeks_left + 1) / self.weeks


class Attempts(Part):
    """Shares of the estimated max for the three attempts of a test."""

    # As `training.attempts.AttemptShares`, with the same shares and `OPENER_NEVER_ABOVE` as the bound of the first.
    opener: Annotated[Share, Field(ge=Decimal("0.8"), le=Decimal("0.95"))] = Field(
        Decimal("0.91"), description="The first attempt, as a share of the estimated max.", examples=["90 %"]
    )
    second: Annotated[Share, Field(ge=Decimal("0.85"), le=1)] = Field(
        Decimal("0.96"), description="The attempt after a solid first.", examples=["95 %"]
    )
    third: Annotated[Share, Field(ge=Decimal("0.9"), le=Decimal("1.1"))] = Field(
        Decimal("1.005"), description="The attempt after a solid second.", examples=["102 %"]
    )

    @model_validator(mode="after")
    def _rises(self) -> Attempts:
        if not self.opener < self.second < self.third:
            raise wrong("attempts", "the attempts do not rise", "Write opener below second below third.")
        return self


class Test(Part):
    """The week and the lifts that are tested at the end: by three attempts each, or by a set of reps."""

    week: Annotated[Whole, Field(ge=1, le=52)] = Field(
        description="The week of the test; it has no other sessions.", examples=[12]
    )
    lifts: tuple[MovementName, ...] = Field(
        min_length=1,
        max_length=6,
        description="What is tested; each needs a tested set in the profile.",
        examples=[["back squat"]],
    )
    per_day: Annotated[Whole, Field(ge=1, le=3)] = Field(
        1,
        description="How many lifts on one day; one that finds no training day is not tested, and `check` says so.",
        examples=[2],
    )
    kind: Annotated[Literal["attempts", "reps"], LISTED] = Field(
        "attempts",
        description="Three attempts at a max, or one set of reps that stops with two in reserve.",
        examples=["reps"],
    )
    reps: Annotated[Whole, Field(ge=3, le=5)] = Field(
        5, description="The reps of that set, also where a caution takes the place of attempts.", examples=[3]
    )
    attempts: Attempts = Field(
        Attempts(),
        description="What the three attempts aim at.",
        examples=[{"opener": "90 %", "second": "95 %", "third": "102 %"}],
    )


class Gear(Part):
    """What each condition is worth on the bar, where the coach wants another figure than the trade's rule of thumb."""

    belt: Annotated[Share, Field(ge=0, le=Decimal("0.2"))] | None = Field(
        None, description="What a belt adds, at most 20 %.", examples=["4 %"], json_schema_extra={"unset": "5 %"}
    )
    sleeves: Annotated[Share, Field(ge=0, le=Decimal("0.2"))] | None = Field(
        None, description="What knee sleeves add, at most 20 %.", examples=["2 %"], json_schema_extra={"unset": "3.5 %"}
    )
    low_bar: Annotated[Share, Field(ge=0, le=Decimal("0.2"))] | None = Field(
        None,
        description="What low bar adds to high bar, at most 20 %.",
        examples=["6 %"],
        json_schema_extra={"unset": "7.5 %"},
    )
