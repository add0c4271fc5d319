"""A block: its weeks, days and slots, when it deloads and how it ends in a test."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from builder.given.conditions import Conditions
from builder.given.gym import Step
from builder.given.progressions import Progression
from builder.values.effort import Effort, effort_words
from builder.values.quantity import Rounding
from builder.values.scalars import (
    Cadence,
    Format,
    Part,
    Prose,
    Rir,
    Seconds,
    Share,
    Status,
    Text,
    Weeks,
    Whole,
    YesNo,
    one_of,
    wrong,
)

Drop = Literal["drills", "accessories"]


class Deload(Part):
    """When weeks get lighter, and how. At least one of the four reductions must reduce."""

    every: Annotated[Whole, Field(ge=2, le=16)] | None = None
    weeks: tuple[Annotated[Whole, Field(ge=1, le=52)], ...] = Field((), max_length=52)
    before_test: YesNo = False
    sets: Annotated[Share, Field(gt=0, le=1)] = Decimal("0.6")
    reps: Annotated[Share, Field(gt=0, le=1)] = Decimal(1)
    load: Annotated[Share, Field(ge=Decimal("0.4"), le=1)] = Decimal("0.9")
    easier: Rir = Decimal(2)
    drop: tuple[Annotated[Drop, one_of("drills", "accessories")], ...] = Field(("drills",), max_length=2)
    counts: YesNo = False

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

    weeks: Annotated[Whole, Field(ge=1, le=3)] = 1
    sets: Annotated[Share, Field(ge=Decimal("0.3"), le=Decimal("0.8"))] = Decimal("0.5")
    drop: tuple[Annotated[Drop, one_of("drills", "accessories")], ...] = Field(("drills", "accessories"), max_length=2)

    def share(self, weeks_left: int) -> Decimal:
        """How many of the sets stay so many weeks before the test."""
        return 1 - (1 - self.sets) * (self.weeks - weeks_left + 1) / self.weeks


class Attempts(Part):
    """Shares of the estimated max for the three attempts of a test."""

    opener: Annotated[Share, Field(ge=Decimal("0.8"), le=Decimal("0.95"))] = Decimal("0.91")
    second: Annotated[Share, Field(ge=Decimal("0.85"), le=1)] = Decimal("0.96")
    third: Annotated[Share, Field(ge=Decimal("0.9"), le=Decimal("1.1"))] = Decimal("1.005")

    @model_validator(mode="after")
    def _rises(self) -> Attempts:
        if not self.opener < self.second < self.third:
            raise wrong("attempts", "the attempts do not rise", "Write opener below second below third.")
        return self


class Test(Part):
    """The week and the lifts that are tested at the end: by three attempts each, or by a set of reps."""

    week: Annotated[Whole, Field(ge=1, le=52)]
    lifts: tuple[Text, ...] = Field(min_length=1, max_length=6)
    per_day: Annotated[Whole, Field(ge=1, le=3)] = 1
    kind: Annotated[Literal["attempts", "reps"], one_of("attempts", "reps")] = "attempts"
    reps: Annotated[Whole, Field(ge=3, le=5)] = 5
    attempts: Attempts = Attempts()


class Phase(Part):
    """A named stretch of the block."""

    title: Text
    weeks: Weeks
    aim: Text | None = None


class Gear(Part):
    """What each condition is worth on the bar, where the coach wants another figure than the trade's rule of thumb."""

    belt: Annotated[Share, Field(ge=0, le=Decimal("0.2"))] | None = None
    sleeves: Annotated[Share, Field(ge=0, le=Decimal("0.2"))] | None = None
    low_bar: Annotated[Share, Field(ge=0, le=Decimal("0.2"))] | None = None


class Head(Part):
    """What the block is, for whom, and how long."""

    title: Text
    weeks: Annotated[Whole, Field(ge=1, le=52)]
    suits: tuple[Status, ...] = Field(min_length=1, max_length=3)
    about: Prose | None = None
    phases: tuple[Phase, ...] = Field((), max_length=52)
    deload: Deload | None = None
    taper: Taper | None = None
    test: Test | None = None
    milestones: Cadence | None = None
    gear: Gear = Gear()
    rolling: YesNo = False
    effort: Effort | None = None
    away: Annotated[Literal["shift", "thin"], one_of("shift", "thin")] = "shift"

    @model_validator(mode="after")
    def _one_way_to_the_test(self) -> Head:
        if self.taper is not None and self.test is None:
            raise wrong("taper", "a taper leads to a test, and there is none", 'Add "test:", or take "taper:" out.')
        if self.taper is not None and self.test is not None and self.taper.weeks >= self.test.week:
            fact = f"{self.taper.weeks} weeks of taper do not fit before a test in week {self.test.week}"
            raise wrong("taper", fact, "Test later, or taper for fewer weeks.")
        if self.taper is not None and self.deload is not None and self.deload.before_test:
            fact = "the week before the test is to be both a deload and a taper"
            raise wrong("taper", fact, 'Take "before_test: true" out of the deload; the taper comes before the test.')
        return self


class Slot(Part):
    """One line of a session. `track` joins slots on several days into one progression."""

    name: Text | None = None
    movement: Text | None = None
    drill: Annotated[Literal["walkout", "pin squat"], one_of("walkout", "pin squat")] | None = None
    of: Text | None = None
    ratio: Annotated[Share, Field(gt=0, le=2)] | None = None
    progression: Progression
    track: Text | None = None
    weeks: Weeks | None = None
    trained: Conditions = Conditions()
    rest: Seconds | None = None
    tempo: Annotated[Text, Field(pattern=r"^[0-9X](-[0-9X]){2,3}$")] | None = None
    cues: tuple[Text, ...] = Field((), max_length=12)
    superset: Annotated[Text, Field(pattern=r"^[A-Z]$")] | None = None
    barbell: Text | None = None
    stack: Text | None = None
    step: Step | None = None
    rounding: Annotated[Rounding, one_of(*Rounding)] | None = None
    beyond: Annotated[Literal["hold", "allow"], one_of("hold", "allow")] = "hold"
    accessory: YesNo = False

    @property
    def called(self) -> str:
        """What is trained, as the block writes it."""
        return self.movement or self.drill or ""

    @model_validator(mode="after")
    def _movement_or_drill(self) -> Slot:
        if (self.movement is None) == (self.drill is None):
            raise wrong(
                "slot",
                "a slot is either a movement or a drill",
                'Write "movement: back squat" or "drill: walkout".',
            )
        if (self.progression.kind in ("hold", "pins")) != (self.drill is not None):
            raise wrong(
                "drill-kind",
                f'"{self.progression.kind}" does not fit here',
                "Drills take the kinds hold and pins, movements the other seven.",
            )
        return self


class Day(Part):
    """One training day of the week, or of the rotation when the block is rolling."""

    title: Text
    weeks: Weeks | None = None
    note: Prose | None = None
    slots: tuple[Slot, ...] = Field(min_length=1, max_length=40)


class Block(Part):
    """One block of rules."""

    format: Format
    block: Head
    days: tuple[Day, ...] = Field(min_length=1, max_length=60)

    @property
    def rates_only(self) -> bool:
        """Whether it writes effort, and every time as a rating."""
        rules = (slot.progression for day in self.days for slot in day.slots)
        written = {word for rule in rules for word in effort_words(rule)}
        return written == {"rpe"}
