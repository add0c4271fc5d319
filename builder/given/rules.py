"""What the kinds of progression share: how reps and loads are written, further sets, misses, back-off sets."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, ConfigDict, Field, model_validator
from pydantic.config import JsonDict

from builder.values import slips
from builder.values.effort import Rated, Rating
from builder.values.forms import Or, one_key
from builder.values.measure import Distance, Length, More, Time
from builder.values.scalars import (
    LISTED,
    MOST_NAME,
    Amount,
    LoadOrShare,
    Part,
    Range,
    Reps,
    Rir,
    Seconds,
    Share,
    Whole,
    _whole,
    wrong,
)


def _set_count(value: Any) -> Any:
    """A number of sets; a range of them is a kind of its own."""
    rising = slips.spread(", ".join(map(str, value)) if isinstance(value, list) else str(value)[:MOST_NAME])
    if rising is None or "-" not in rising:
        return _whole(value)
    help_ = f'Write "{rising.split("-")[1]}"; for sets that rise, "kind: volume, sets: {rising}".'
    raise wrong("not-a-whole-number", f'"{rising}" is not one number of sets', help_)


Sets = Annotated[Whole, BeforeValidator(_set_count), Field(ge=1, le=20)]
MOST_REP_COUNT = 50


def _rep_count(value: Any) -> Any:
    """A number of reps; what says more than a number is answered with the keys that say it."""
    text = value if isinstance(value, str) and len(value) <= MOST_NAME else ""
    meant = slips.reps(text)
    if meant is None and (low_high := re.fullmatch(r"\s*(\d+)\s*[-–]\s*(\d+)\s*", text)):
        meant = f"kind: double, reps: {low_high[1]}-{low_high[2]}" if int(low_high[1]) < int(low_high[2]) else None
    if meant is not None:
        raise wrong("not-a-whole-number", f'"{text}" is not one number of reps', f'Write "{meant}".')
    return _whole(value)


def _set_reps(value: Any) -> Any:
    """The same for a kind that takes further sets; reps that differ from set to set are those."""
    text = ", ".join(map(str, value)) if isinstance(value, list) else str(value)
    meant = slips.listed_reps(text[:MOST_NAME]) if slips.reps(text[:MOST_NAME]) is None else None
    if meant is None:
        return _rep_count(value)
    raise wrong("not-a-whole-number", f'"{text}" is not one number of reps', f'Write "{meant}".')


def _further_count(value: Any) -> Any:
    """The same for sets that are opened by a key of their own."""
    opened = re.fullmatch(r"kind: rep_out, reps: (\d+)", slips.reps(value) or "") if isinstance(value, str) else None
    if opened is None:
        return _rep_count(value)
    help_ = f'Write "reps: {opened[1]}, stop: {{most: {int(opened[1]) + 5}}}".'
    raise wrong("not-a-whole-number", f'"{value}" is not one number of reps', help_)


RepCount = Annotated[Whole, BeforeValidator(_rep_count), Field(ge=1, le=MOST_REP_COUNT)]
SetReps = Annotated[Whole, BeforeValidator(_set_reps), Field(ge=1, le=MOST_REP_COUNT)]
FurtherCount = Annotated[Whole, BeforeValidator(_further_count), Field(ge=1, le=MOST_REP_COUNT)]
Fraction = Annotated[Share, Field(gt=0, le=Decimal("1.3"))]
# Beyond these it is a slip of the hand: a rule that multiplies by six, or a start at 999 % of the max.
MOST_RAISE = Decimal("0.5")
MOST_START = Decimal("1.3")


def _raise(value: Amount | Decimal) -> Amount | Decimal:
    if isinstance(value, Decimal) and -MOST_RAISE <= value < 0:
        fact = "this raise is below nothing"
        raise wrong("out-of-range", fact, f'Write "{(-value * 100).normalize():f} %", without the minus.')
    if isinstance(value, Decimal) and not 0 < value <= MOST_RAISE:
        raise wrong(
            "out-of-range", "this raise is out of range", "Write a share above 0 % and of at most 50 %, or a load."
        )
    return value


def _first(value: Amount | Decimal) -> Amount | Decimal:
    if isinstance(value, Decimal) and not 0 < value <= MOST_START:
        raise wrong("out-of-range", "this share is out of range", "Write a share above 0 % and of at most 130 %.")
    return value


def _rep_range(value: Range) -> Range:
    if value.high > MOST_REP_COUNT:
        raise wrong("out-of-range", f"{value.high} reps are out of range", f"Write at most {MOST_REP_COUNT}.")
    return value


Raise = Annotated[
    LoadOrShare,
    AfterValidator(_raise),
]
Start = Annotated[
    LoadOrShare,
    AfterValidator(_first),
]
RepRange = Annotated[Reps, AfterValidator(_rep_range)]


def _as_list(value: Any) -> Any:
    return tuple(value) if isinstance(value, list | tuple) else (value,)


RirList = Annotated[tuple[Rir, ...], BeforeValidator(_as_list), Or(Rir), Field(min_length=1, max_length=60)]
RatingList = Annotated[tuple[Rating, ...], BeforeValidator(_as_list), Or(Rating), Field(min_length=1, max_length=60)]
RepList = Annotated[tuple[RepCount, ...], BeforeValidator(_as_list), Or(RepCount), Field(min_length=1, max_length=60)]


class Stop(Rated):
    """When a rep-out set ends: reps left in reserve, and a cap."""

    rir: Rir = Field(Decimal(1), description="How many reps stay in reserve.", examples=[2])
    rpe: Rating | None = Field(
        None,
        description="The same as a rating: 10 for none left, 9 for one.",
        examples=[9],
        json_schema_extra={"unset": "`rir` counts"},
    )
    most: RepCount = Field(12, description="The reps at which it ends in any case.", examples=[15])


_COUNTS = ("reps", "time", "distance")
COUNTED = one_key(*_COUNTS)
"""What an editor is told of sets that are counted in one of these."""
LOADED: JsonDict = COUNTED | {"dependentRequired": {"reps": ["add"]}}
"""The same where reps rise in load."""


class Counted(Rated):
    """A part whose sets are counted in reps, in time or in distance: exactly one of the three is written.

    Where it is time or distance, `reps` is 1: a set is one length.
    """

    model_config = ConfigDict(json_schema_extra=COUNTED)

    time: Time | None = Field(
        None, description="How long each set lasts, in place of `reps`.", examples=["45 s"]
    )
    distance: Distance | None = Field(
        None, description="How far each set goes, in place of `reps`.", examples=["20 m"]
    )

    @property
    def length(self) -> Length | None:
        """The time or distance of a set, None where it is counted in reps."""
        return self.time or self.distance

    @model_validator(mode="after")
    def _counted_once(self) -> Counted:
        said = [key for key in _COUNTS if key in self.model_fields_set and getattr(self, key) is not None]
        if not said:
            raise wrong("missing-key", '"reps" is missing here', 'Add "reps: …", "time: …" or "distance: …".')
        if len(said) > 1:
            fact = f"these sets are counted in {' and in '.join(said)}"
            raise wrong("measure", fact, f'Keep one of them, such as "{said[-1]}: …".', said[-1])
        if self.length is not None:
            _no_reserve(self, said[0])
        return self


def _no_reserve(part: Counted, counted: str) -> None:
    for key in ("rir", "rpe"):
        if key in part.model_fields_set and (key == "rpe" or "rpe" not in part.model_fields_set):
            help_ = f'Take "{key}:" out: a set of {counted} leaves no reps in reserve.'
            raise wrong("measure", f'"{key}" does not go with "{counted}"', help_, key)


class Lengthened(Counted):
    """A part whose time or distance gets `longer`, as loads rise by `add`."""

    longer: More | None = Field(
        None, description="How much time or distance is added; only beside `time` or `distance`.", examples=["5 s"]
    )

    @model_validator(mode="after")
    def _one_unit(self) -> Lengthened:
        if self.longer is None:
            return self
        if self.length is None:
            help_ = 'Take it out, or write "time: …" or "distance: …" in place of "reps:".'
            raise wrong("measure", '"longer" is for sets of time or distance', help_, "longer")
        if self.longer.unit != self.length.unit:
            fact = f'"{self.longer}" is no {"time" if self.length.unit == "s" else "distance"}'
            raise wrong("measure", fact, f'Write "longer: 5 {self.length.unit}".', "longer")
        return self


def no_range(part: Lengthened) -> None:
    """ValueError where a kind without a range is given one."""
    if part.length is not None and part.length.ranges:
        key = "time" if part.time else "distance"
        help_ = f'Write "kind: double, {key}: {part.length}, longer: 5 {part.length.unit}", or one {key}.'
        raise wrong("not-a-range", f"{part.length} is a range, and this kind takes one {key}", help_, key)


def add_said(part: Lengthened, add: object) -> None:
    """ValueError where reps are to rise in load, and by how much is not said."""
    if part.length is None and add is None:
        raise wrong("missing-key", '"add" is missing here', 'Add "add: …", what is added to the load: "add: 2.5 kg".')


class Further(Counted):
    """Sets after the rule's own, with a load of theirs: a share, a reserve, or so much from the set before.

    With none of these the load stays. `stop` makes the last of them an open set.
    """

    model_config = ConfigDict(
        json_schema_extra={"allOf": [one_key("share", "rir", "rpe", "up", "down", none=True), COUNTED]}
    )

    reps: FurtherCount = Field(
        1,
        description="Reps of each set; this, `time` or `distance`.",
        examples=[8],
        json_schema_extra={"unset": "`time` or `distance` counts"},
    )
    sets: Sets = Field(1, description="How many sets.", examples=[2])
    share: Fraction | None = Field(
        None,
        description="The load as a share of the working max; it rises as the load of the rule does.",
        examples=["75 %"],
    )
    rir: Rir | None = Field(
        None, description="Reps in reserve that set the load; it rises as that of the rule does.", examples=[3]
    )
    rpe: Rating | None = Field(None, description="The same as a rating: 10 for none left, 9 for one.", examples=[7])
    up: Raise | None = Field(
        None,
        description="How much more than the set before, as a load or a share; each of these sets steps.",
        examples=["5 kg"],
    )
    down: Raise | None = Field(
        None,
        description="How much less than the set before, as a load or a share; each of these sets steps.",
        examples=["10 %"],
    )
    rest: Seconds | None = Field(
        None,
        description="The rest before each of them, in place of the slot's.",
        examples=["2 min"],
        json_schema_extra={"unset": "that of the slot"},
    )
    stop: Stop | None = Field(
        None,
        description="Makes the last of them an open set, which ends like one of `rep_out`.",
        examples=[{"rir": 1, "most": 15}],
    )

    @model_validator(mode="after")
    def _one_load(self) -> Further:
        said = [key for key in ("share", "rir", "up", "down") if getattr(self, key) is not None]
        if len(said) > 1:
            fact = f"these sets have {' and '.join(said)}, which are loads of their own"
            raise wrong("further-load", fact, f'Keep one of them, such as "{said[0]}: …".')
        return self


Then = Annotated[tuple[Further, ...], Field(max_length=12)]
"""The sets after those of the rule, in order."""


class Misses(Part):
    """What to do when the reps are not made: once, and twice running."""

    once: Annotated[Literal["repeat", "reduce"], LISTED] = Field(
        "repeat", description="What to do after one miss.", examples=["reduce"]
    )
    twice: Annotated[Literal["repeat", "reduce"], LISTED] = Field(
        "reduce", description="What to do after two misses running.", examples=["repeat"]
    )
    reduce_to: Annotated[Share, Field(ge=Decimal("0.5"), lt=1)] = Field(
        Decimal("0.9"), description="How much of the load is kept then, rounded down.", examples=["85 %"]
    )


class Straight(Lengthened):
    """What the kinds with straight sets share. Without `start` the first load is what `rir` leaves at these reps."""

    sets: Sets = Field(3, description="How many sets.", examples=[5])
    start: Start | None = Field(
        None,
        description="The first load, or a share of the working max.",
        examples=["70 %"],
        json_schema_extra={"unset": "what `rir` leaves at these reps"},
    )
    rir: Rir = Field(Decimal(2), description="Reps in reserve that set the first load.", examples=[3])
    rpe: Rating | None = Field(
        None,
        description="The same as a rating: 10 for none left, 9 for one.",
        examples=[8],
        json_schema_extra={"unset": "`rir` counts"},
    )
    misses: Misses = Field(
        Misses(), description="What to do when the reps are not made.", examples=[{"once": "repeat", "twice": "reduce"}]
    )
    then: Then = Field(
        (), description="Further sets after these, with loads of their own.", examples=[[{"reps": 8, "down": "10 %"}]]
    )


class BackOff(Part):
    """The sets after the top set: a share of the top set's load, or a drop from it."""

    model_config = ConfigDict(json_schema_extra=one_key("share", "drop"))

    sets: Sets = Field(description="How many sets.", examples=[3])
    reps: RepCount = Field(description="Reps of each set.", examples=[5])
    share: Annotated[Share, Field(ge=Decimal("0.4"), le=1)] | None = Field(
        None, description="The load as a share of the top set's, from 40 %; this or `drop`.", examples=["85 %"]
    )
    drop: Annotated[Share, Field(ge=0, le=Decimal("0.6"))] | None = Field(
        None, description="How much less than the top set, at most 60 %; this or `share`.", examples=["10 %"]
    )

    @model_validator(mode="after")
    def _one_of_two(self) -> BackOff:
        if (self.share is None) == (self.drop is None):
            fact = f"the back-off sets have {'neither share nor' if self.share is None else 'both share and'} drop"
            raise wrong("back-off", fact, 'Give one of the two, "share: 85 %" or "drop: 10 %".')
        return self

    @property
    def of_top(self) -> Decimal:
        """Share of the top set's load."""
        return self.share if self.share is not None else 1 - (self.drop or Decimal(0))
