"""The progression kinds as a coach writes them: one mapping each, no formulas."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal, get_args

from pydantic import ConfigDict, Field, model_validator

from builder.given.drills import Hold, Pins
from builder.given.rules import (
    LOADED,
    BackOff,
    Fraction,
    Lengthened,
    Raise,
    RatingList,
    RepList,
    RepRange,
    RirList,
    SetReps,
    Sets,
    Start,
    Stop,
    Straight,
    Then,
    add_said,
    no_range,
)
from builder.values.effort import Rated, Rating
from builder.values.forms import RISING, one_key
from builder.values.measure import Length
from builder.values.scalars import (
    LISTED,
    Part,
    Range,
    Reps,
    Rir,
    Whole,
    wrong,
)

ONE_REP = Range(1, 1)
"""What stands for the reps of a set that is one time or one distance."""


class Single(Straight):
    """Sets and reps stay, load is added at each exposure."""

    model_config = ConfigDict(json_schema_extra=LOADED)

    kind: Literal["single"] = Field(
        description="Sets and reps stay, load is added at each exposure.", examples=["single"]
    )
    reps: SetReps = Field(
        1,
        description="Reps of each set; this, `time` or `distance`.",
        examples=[5],
        json_schema_extra={"unset": "`time` or `distance` counts"},
    )
    add: Raise | None = Field(
        None,
        description="What is added each time: a load, or a share of the last load.",
        examples=["2.5 kg"],
        json_schema_extra={"unset": "nothing, which is for time and distance alone"},
    )

    @model_validator(mode="after")
    def _rises(self) -> Single:
        no_range(self)
        add_said(self, self.add)
        return self


class Double(Straight):
    """Reps rise through a range, then load is added and they start again at the bottom."""

    model_config = ConfigDict(json_schema_extra=LOADED)

    kind: Literal["double"] = Field(
        description="Reps rise through a range, then load is added and they start again at the bottom.",
        examples=["double"],
    )
    reps: RepRange = Field(
        ONE_REP,
        description="Reps from the bottom of the range to its top; `rir` is that at the top, lower "
        "down there are more.",
        examples=["4-6"],
        json_schema_extra=RISING | {"unset": "`time` or `distance` counts"},
    )
    add: Raise | None = Field(
        None,
        description="What is added at the top: a load, or a share of the last load.",
        examples=["2.5 kg"],
        json_schema_extra={"unset": "nothing, which is for time and distance alone"},
    )

    @model_validator(mode="after")
    def _has_range(self) -> Double:
        add_said(self, self.add)
        if self.length is not None:
            return self._has_lengths(self.length)
        if self.reps.low == self.reps.high:
            raise wrong(
                "not-a-range",
                f"{self.reps.low} is one number of reps",
                'A double progression needs a range such as "4-6".',
            )
        return self

    def _has_lengths(self, length: Length) -> Double:
        key, example = ("time", "30-60 s") if length.unit == "s" else ("distance", "20-40 m")
        if not length.ranges:
            help_ = f'A double progression needs a range such as "{key}: {example}".'
            raise wrong("not-a-range", f"{length} is one {key}", help_, key)
        if self.longer is None:
            help_ = f'Add "longer: 5 {length.unit}", by how much the {key} rises.'
            raise wrong("missing-key", '"longer" is missing here', help_)
        return self


class WaveWeek(Rated):
    """One entry of a wave: a share of the working max, or reps left in reserve."""

    model_config = ConfigDict(json_schema_extra=one_key("share", "rir", "rpe"))

    share: Fraction | None = Field(
        None, description="The load as a share of the working max, at most 130 %; this or `rir`.", examples=["80 %"]
    )
    rir: Rir | None = Field(None, description="Reps in reserve that set the load; this or `share`.", examples=[2])
    rpe: Rating | None = Field(None, description="The same as a rating: 10 for none left, 9 for one.", examples=[8])
    sets: Sets = Field(description="How many sets.", examples=[4])
    reps: SetReps = Field(description="Reps of each set.", examples=[5])
    then: Then = Field(
        (), description="Further sets after these, with loads of their own.", examples=[[{"reps": 8, "down": "10 %"}]]
    )
    stress: Annotated[Literal["heavy", "medium", "light"], LISTED] | None = Field(
        None, description="What kind of day it is, printed beside it.", examples=["heavy"]
    )

    @model_validator(mode="after")
    def _has_effort(self) -> WaveWeek:
        if (self.share is None) == (self.rir is None):
            fact = f"a wave entry has {'neither share nor' if self.share is None else 'both share and'} rir"
            raise wrong("wave-entry", fact, 'Give one of the two, "share: 80 %" or "rir: 2" ("rpe: 8").')
        return self


class Wave(Part):
    """A list of entries taken in turn by exposure, and again with `add` on top."""

    kind: Literal["wave"] = Field(
        description="A list of entries is taken in turn, and again with load added.", examples=["wave"]
    )
    weeks: tuple[WaveWeek, ...] = Field(
        min_length=1,
        max_length=52,
        description="The entries, one an exposure.",
        examples=[[{"share": "75 %", "sets": 4, "reps": 6}, {"share": "80 %", "sets": 4, "reps": 5}]],
    )
    add: Raise | None = Field(
        None,
        description="What every further time through adds: a load, or points of the working max.",
        examples=["2.5 %"],
        json_schema_extra={"unset": "nothing"},
    )


class TopSet(Rated):
    """One set to a target effort, then back-off sets. Lists are taken in turn by exposure; the last one stays."""

    kind: Literal["top_set"] = Field(
        description="One set to a target effort, then back-off sets.", examples=["top_set"]
    )
    reps: RepList = Field(
        description="Reps of the top set, or a list taken in turn whose last stays.", examples=[[5, 3, 2]]
    )
    rir: RirList = Field(
        description="Reps in reserve of the top set, or a list taken in turn whose last stays.", examples=[2]
    )
    rpe: RatingList | None = Field(
        None,
        description="The same as a rating, in place of `rir`: 10 for none left, 9 for one.",
        examples=[8],
        json_schema_extra={"unset": "`rir` counts"},
    )
    gain: Raise | None = Field(
        None,
        description="How much the max is expected to grow with each exposure: a load, or a share of the load.",
        examples=["1 %"],
        json_schema_extra={"unset": "nothing"},
    )
    backoff: BackOff | None = Field(
        None, description="The sets after it.", examples=[{"sets": 3, "reps": 5, "share": "85 %"}]
    )
    then: Then = Field(
        (), description="Further sets after these, with loads of their own.", examples=[[{"reps": 8, "down": "10 %"}]]
    )


class Step(Straight):
    """The load is held for some exposures, then jumps."""

    model_config = ConfigDict(json_schema_extra=LOADED)

    kind: Literal["step"] = Field(description="The load is held for some exposures, then jumps.", examples=["step"])
    reps: SetReps = Field(
        1,
        description="Reps of each set; this, `time` or `distance`.",
        examples=[5],
        json_schema_extra={"unset": "`time` or `distance` counts"},
    )
    hold: Annotated[Whole, Field(ge=2, le=12)] = Field(description="How many exposures at one load.", examples=[3])
    add: Raise | None = Field(
        None,
        description="The jump: a load, or a share of the last load.",
        examples=["5 kg"],
        json_schema_extra={"unset": "nothing, which is for time and distance alone"},
    )

    @model_validator(mode="after")
    def _jumps(self) -> Step:
        no_range(self)
        add_said(self, self.add)
        if self.add is None and self.longer is None:
            unit = self.length.unit if self.length else "s"
            raise wrong("missing-key", '"longer" is missing here', f'Add "longer: 5 {unit}", or "add: 2.5 kg".')
        return self


class Volume(Lengthened):
    """Sets are added at a constant load; at the top of the range the load rises and the sets start again."""

    kind: Literal["volume"] = Field(
        description="Sets are added at a constant load, then the load rises and they start again.", examples=["volume"]
    )
    sets: Reps = Field(
        description="Sets from the fewest to the most, at most 20.", examples=["3-6"], json_schema_extra=RISING
    )
    reps: SetReps = Field(
        1,
        description="Reps of each set; this, `time` or `distance`.",
        examples=[8],
        json_schema_extra={"unset": "`time` or `distance` counts"},
    )
    start: Start | None = Field(
        None,
        description="The first load, or a share of the working max.",
        examples=["65 %"],
        json_schema_extra={"unset": "what `rir` leaves at these reps"},
    )
    rir: Rir = Field(Decimal(3), description="Reps in reserve that set the first load.", examples=[2])
    rpe: Rating | None = Field(
        None,
        description="The same as a rating: 10 for none left, 9 for one.",
        examples=[7],
        json_schema_extra={"unset": "`rir` counts"},
    )
    every: Annotated[Whole, Field(ge=1, le=12)] = Field(
        1, description="How many exposures before a set is added.", examples=[2]
    )
    add: Raise | None = Field(
        None,
        description="The load for the next time through: a load, or a share of the last load.",
        examples=["2.5 kg"],
        json_schema_extra={"unset": "nothing"},
    )
    then: Then = Field(
        (), description="Further sets after these, with loads of their own.", examples=[[{"reps": 12, "down": "10 %"}]]
    )

    @model_validator(mode="after")
    def _has_range(self) -> Volume:
        no_range(self)
        if self.sets.low == self.sets.high or self.sets.high > 20:
            raise wrong("not-a-range", "the sets do not rise", 'Write a range such as "3-6", at most 20 sets.')
        return self


class RepOut(Rated):
    """Straight sets, the last for as many good reps as the stop rule allows."""

    kind: Literal["rep_out"] = Field(
        description="Straight sets, the last for as many good reps as the stop rule allows.", examples=["rep_out"]
    )
    sets: Sets = Field(description="How many sets, the open one included.", examples=[3])
    reps: SetReps = Field(description="Reps of each set, and the least of the last one.", examples=[5])
    start: Start | None = Field(
        None,
        description="The first load, or a share of the working max.",
        examples=["75 %"],
        json_schema_extra={"unset": "what `rir` leaves at these reps"},
    )
    rir: Rir = Field(Decimal(2), description="Reps in reserve of the straight sets.", examples=[3])
    rpe: Rating | None = Field(
        None,
        description="The same as a rating: 10 for none left, 9 for one.",
        examples=[8],
        json_schema_extra={"unset": "`rir` counts"},
    )
    add: Raise | None = Field(
        None,
        description="What is added each time: a load, or a share of the last load.",
        examples=["2.5 kg"],
        json_schema_extra={"unset": "nothing"},
    )
    stop: Stop = Field(Stop(), description="When the last set ends.", examples=[{"rir": 1, "most": 12}])
    then: Then = Field(
        (), description="Further sets after these, with loads of their own.", examples=[[{"reps": 8, "down": "10 %"}]]
    )


Progression = Annotated[
    Single | Double | Wave | TopSet | Step | Volume | RepOut | Hold | Pins,
    Field(discriminator="kind"),
]
PROGRESSIONS: tuple[str, ...] = tuple(
    word for kind in get_args(get_args(Progression)[0]) for word in get_args(kind.model_fields["kind"].annotation)
)
"""The word of every kind."""
