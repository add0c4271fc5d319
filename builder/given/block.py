"""A block: its weeks, days and slots, when it deloads and how it ends in a test."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, model_validator

from builder.given.gym import Step
from builder.given.lifts import Conditions
from builder.given.progressions import Progression
from builder.given.weeks import Deload, Gear, Taper, Test
from builder.values.effort import Effort, effort_words
from builder.values.quantity import Rounding
from builder.values.scalars import (
    LISTED,
    Cadence,
    Format,
    MovementName,
    Part,
    Prose,
    Seconds,
    Share,
    Status,
    Text,
    Weeks,
    Whole,
    YesNo,
    wrong,
)


class Phase(Part):
    """A named stretch of the block."""

    title: Text = Field(description="The name of the stretch.", examples=["Groundwork"])
    weeks: Weeks = Field(description="From which week to which.", examples=["1-4"])
    aim: Text | None = Field(None, description="What it is for.", examples=["more sets at the same load"])


class Head(Part):
    """What the block is, for whom, and how long."""

    title: Text = Field(description="The name of the block.", examples=["Twelve weeks to a squat"])
    weeks: Annotated[Whole, Field(ge=1, le=52)] = Field(description="How many weeks it has.", examples=[12])
    suits: tuple[Status, ...] = Field(
        min_length=1, max_length=3, description="For whom it is written.", examples=[["intermediate", "advanced"]]
    )
    about: Prose | None = Field(
        None, description="A few words to the lifter.", examples=["Three days a week, the squat first."]
    )
    phases: tuple[Phase, ...] = Field(
        (),
        max_length=52,
        description="Names for stretches of weeks.",
        examples=[[{"title": "Groundwork", "weeks": "1-4"}]],
    )
    deload: Deload | None = Field(
        None, description="When weeks get lighter, and how.", examples=[{"every": 4, "sets": "60 %"}]
    )
    taper: Taper | None = Field(
        None, description="How the last weeks before the test get shorter.", examples=[{"weeks": 1, "sets": "50 %"}]
    )
    test: Test | None = Field(
        None, description="What is tested, and when.", examples=[{"week": 12, "lifts": ["back squat"]}]
    )
    milestones: Cadence | None = Field(
        None,
        description="How far apart records are planned.",
        examples=["2 weeks"],
        json_schema_extra={"unset": "nearly every session for a novice, else every second week"},
    )
    gear: Gear = Field(
        Gear(), description="What belt, sleeves and low bar are worth on the bar.", examples=[{"belt": "4 %"}]
    )
    rolling: YesNo = Field(
        False,
        description="Whether the days are gone through in turn, on however many days the client trains.",
        examples=[True],
    )
    effort: Effort | None = Field(
        None,
        description="How effort is printed: as reps in reserve or as ratings.",
        examples=["rpe"],
        json_schema_extra={"unset": "as the brand says, else as the block is written"},
    )
    away: Annotated[Literal["shift", "thin"], LISTED] = Field(
        "shift",
        description="What time away does: a week that would lose more than half of its days waits, "
        "or days are left out.",
        examples=["thin"],
    )

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


_DRILLS = {"properties": {"progression": {"properties": {"kind": {"enum": ["hold", "pins"]}}}}}
_MOVEMENTS = {"properties": {"progression": {"properties": {"kind": {"not": {"enum": ["hold", "pins"]}}}}}}
_MOVEMENT_OR_DRILL: dict[str, Any] = {
    "oneOf": [{"required": ["movement"]}, {"required": ["drill"]}, {"required": ["conditioning"]}],
    "if": {"required": ["drill"]},
    "then": _DRILLS,
    "else": _MOVEMENTS,
}


class Slot(Part):
    """One line of a session. `track` joins slots on several days into one progression."""

    model_config = ConfigDict(json_schema_extra=_MOVEMENT_OR_DRILL)

    name: Text | None = Field(
        None,
        description="What the slot is called in the `changes` of a client; several slots may share a name.",
        examples=["main squat"],
        json_schema_extra={"unset": "it goes by its movement"},
    )
    movement: MovementName | None = Field(
        None, description="What is trained; this or `drill`.", examples=["back squat"]
    )
    drill: Annotated[Literal["walkout", "pin squat"], LISTED] | None = Field(
        None, description="A drill before the day's work; this or `movement`.", examples=["walkout"]
    )
    conditioning: Text | None = Field(
        None,
        description="Conditioning, in your own words; this, `movement` or `drill`. Its progression counts time or "
        "distance, in one set where it names none.",
        examples=["easy bike"],
    )
    zone: Text | None = Field(
        None,
        description="How hard conditioning is, in words.",
        examples=["easy: you can still talk"],
    )
    of: MovementName | None = Field(
        None,
        description="The tested lift that the load comes from; a drill needs it.",
        examples=["back squat"],
        json_schema_extra={"unset": "the movement's own"},
    )
    ratio: Annotated[Share, Field(gt=0, le=2)] | None = Field(
        None,
        description="How much of that lift the movement carries, at most 200 %.",
        examples=["85 %"],
        json_schema_extra={"unset": "the movement's own"},
    )
    progression: Progression = Field(
        description="How it moves on: one mapping whose `kind` says which rule.",
        examples=[{"kind": "single", "sets": 3, "reps": 5, "add": "2.5 kg"}],
    )
    track: Text | None = Field(
        None,
        description="Joins slots on several days into one progression; they have the same movement and progression.",
        examples=["squat"],
    )
    weeks: Weeks | None = Field(
        None, description="Only in these weeks.", examples=["1-4"], json_schema_extra={"unset": "in every week"}
    )
    trained: Conditions = Field(
        Conditions(), description="How it is lifted here: bar, depth, belt, sleeves.", examples=[{"belt": True}]
    )
    rest: Seconds | None = Field(
        None,
        description="The rest between the working sets.",
        examples=["3 min"],
        json_schema_extra={"unset": "by the load"},
    )
    tempo: Annotated[Text, Field(pattern=r"^[0-9X](-[0-9X]){2,3}$")] | None = Field(
        None, description="Seconds down, held, up and at the top; `X` is as fast as possible.", examples=["3-1-X"]
    )
    cues: tuple[Text, ...] = Field(
        (),
        max_length=12,
        description="What to think of.",
        examples=[["Knees out"]],
        json_schema_extra={"unset": "the movement's own"},
    )
    superset: Annotated[Text, Field(pattern=r"^[A-Z]$")] | None = Field(
        None,
        description="Slots that follow each other with the same letter are done in turn and share their rests.",
        examples=["A"],
    )
    barbell: Text | None = Field(
        None,
        description="The name of the bar to use.",
        examples=["power bar"],
        json_schema_extra={"unset": "the usual bar of the gym"},
    )
    stack: Text | None = Field(
        None,
        description="The name of the machine to use.",
        examples=["cable tower"],
        json_schema_extra={"unset": "the movement's name"},
    )
    step: Step | None = Field(
        None,
        description="How finely this slot is loaded.",
        examples=["5 kg"],
        json_schema_extra={"unset": "as the gym says"},
    )
    rounding: Annotated[Rounding, LISTED] | None = Field(
        None,
        description="Which neighbour of a target is taken in this slot.",
        examples=["down"],
        json_schema_extra={"unset": "as the gym says"},
    )
    beyond: Annotated[Literal["hold", "allow"], LISTED] = Field(
        "hold",
        description="What happens with a load that is more than the lifter is likely to have: it is "
        "held back, or allowed.",
        examples=["allow"],
    )
    accessory: YesNo = Field(
        False, description="Whether it may be dropped in a deload; it has one warm-up set at most.", examples=[True]
    )

    @property
    def trains(self) -> str | None:
        """The movement or the conditioning; None for a drill."""
        return self.movement or self.conditioning

    @property
    def called(self) -> str:
        """What is trained, as the block writes it."""
        return self.trains or self.drill or ""

    @model_validator(mode="before")
    @classmethod
    def _once(cls, written: Any) -> Any:
        """Conditioning is done in one piece, unless it is written in sets."""
        rule = written.get("progression") if isinstance(written, dict) else None
        if not isinstance(rule, dict) or "conditioning" not in written or "sets" in rule:
            return written
        return {**written, "progression": {**rule, "sets": "1"}}

    @model_validator(mode="after")
    def _movement_or_drill(self) -> Slot:
        said = [key for key in ("movement", "drill", "conditioning") if getattr(self, key) is not None]
        if len(said) != 1:
            raise wrong(
                "slot",
                "a slot is either a movement, a drill or conditioning",
                'Write "movement: back squat", "drill: walkout" or "conditioning: easy bike".',
            )
        if self.conditioning is not None and getattr(self.progression, "length", None) is None:
            help_ = 'Write "progression: {kind: single, time: 20 min}", or "distance: 5 km".'
            raise wrong("measure", "conditioning is counted in time or distance", help_)
        if self.zone is not None and self.conditioning is None:
            help_ = 'Take "zone:" out; a lift has "rir:" or "rpe:".'
            raise wrong("measure", '"zone" is for conditioning alone', help_, "zone")
        if (self.progression.kind in ("hold", "pins")) != (self.drill is not None):
            raise wrong(
                "drill-kind",
                f'"{self.progression.kind}" does not fit here',
                "Drills take the kinds hold and pins, movements the others.",
            )
        return self


class Day(Part):
    """One training day of the week, or of the rotation when the block is rolling."""

    title: Text = Field(description="The name of the day.", examples=["Squat, heavy"])
    weeks: Weeks | None = Field(
        None, description="Only in these weeks.", examples=["1-4"], json_schema_extra={"unset": "in every week"}
    )
    note: Prose | None = Field(
        None, description="A word for the top of the page.", examples=["Take your time with the warm-up."]
    )
    slots: tuple[Slot, ...] = Field(
        min_length=1,
        max_length=40,
        description="The lines of the session, in order.",
        examples=[
            [{"movement": "back squat", "progression": {"kind": "single", "sets": 3, "reps": 5, "add": "2.5 kg"}}]
        ],
    )


class Block(Part):
    """One block of rules."""

    format: Format = Field(description="The version of the file format.", examples=[1])
    block: Head = Field(
        description="What the block is.",
        examples=[{"title": "Twelve weeks to a squat", "weeks": 12, "suits": ["intermediate"]}],
    )
    days: tuple[Day, ...] = Field(
        min_length=1,
        max_length=60,
        description="Its training days, in order.",
        examples=[
            [
                {
                    "title": "Squat, heavy",
                    "slots": [
                        {
                            "movement": "back squat",
                            "progression": {"kind": "single", "sets": 3, "reps": 5, "add": "2.5 kg"},
                        }
                    ],
                }
            ]
        ],
    )

    @property
    def rates_only(self) -> bool:
        """Whether it writes effort, and every time as a rating."""
        rules = (slot.progression for day in self.days for slot in day.slots)
        written = {word for rule in rules for word in effort_words(rule)}
        # One effort written as reserve is enough for reserves: a page can have only one of the two.
        return written == {"rpe"}
