"""The nine progression kinds as a coach writes them: one mapping each, no formulas."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema, model_validator

from builder.values import slips
from builder.values.effort import Rated, Rating
from builder.values.scalars import (
    MOST_NAME,
    Amount,
    Cadence,
    Every,
    Load,
    LoadOrShare,
    Number,
    Part,
    Range,
    Reps,
    Rir,
    Seconds,
    Share,
    Text,
    Whole,
    _decimal,
    _text,
    _whole,
    one_of,
    wrong,
)

Sets = Annotated[Whole, Field(ge=1, le=20)]
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


RepCount = Annotated[int, BeforeValidator(_rep_count), Field(ge=1, le=MOST_REP_COUNT)]
Fraction = Annotated[Share, Field(gt=0, le=Decimal("1.3"))]
MOST_RAISE = Decimal("0.5")
MOST_START = Decimal("1.3")


def _raise(value: Amount | Decimal) -> Amount | Decimal:
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
    WithJsonSchema({"type": ["string", "number"], "description": "a load or a share to add: 2.5 kg or 2 %"}),
]
Start = Annotated[
    LoadOrShare,
    AfterValidator(_first),
    WithJsonSchema({"type": ["string", "number"], "description": "a load such as 60 kg or a share such as 75 %"}),
]
RepRange = Annotated[Reps, AfterValidator(_rep_range)]


def _as_list(value: Any) -> Any:
    return tuple(value) if isinstance(value, list | tuple) else (value,)


RirList = Annotated[tuple[Rir, ...], BeforeValidator(_as_list), Field(min_length=1, max_length=60)]
RatingList = Annotated[tuple[Rating, ...], BeforeValidator(_as_list), Field(min_length=1, max_length=60)]
RepList = Annotated[tuple[RepCount, ...], BeforeValidator(_as_list), Field(min_length=1, max_length=60)]


class Stop(Rated):
    """When a rep-out set ends: reps left in reserve, and a cap."""

    rir: Rir = Decimal(1)
    rpe: Rating | None = None
    most: RepCount = 12


class Further(Rated):
    """Sets after the rule's own, with a load of theirs: a share, a reserve, or so much from the set before.

    With none of these the load stays. `stop` makes the last of them an open set.
    """

    reps: RepCount
    sets: Sets = 1
    share: Fraction | None = None
    rir: Rir | None = None
    rpe: Rating | None = None
    up: Raise | None = None
    down: Raise | None = None
    rest: Seconds | None = None
    stop: Stop | None = None

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

    once: Annotated[Literal["repeat", "reduce"], one_of("repeat", "reduce")] = "repeat"
    twice: Annotated[Literal["repeat", "reduce"], one_of("repeat", "reduce")] = "reduce"
    reduce_to: Annotated[Share, Field(ge=Decimal("0.5"), lt=1)] = Decimal("0.9")


class Straight(Rated):
    """What the kinds with straight sets share. Without `start` the first load is what `rir` leaves at these reps."""

    sets: Sets = 3
    start: Start | None = None
    rir: Rir = Decimal(2)
    rpe: Rating | None = None
    misses: Misses = Misses()
    then: Then = ()


class Single(Straight):
    """Sets and reps stay, load is added at each exposure."""

    kind: Literal["single"]
    reps: RepCount
    add: Raise


class Double(Straight):
    """Reps rise through a range, then load is added and they start again at the bottom."""

    kind: Literal["double"]
    reps: RepRange
    add: Raise

    @model_validator(mode="after")
    def _has_range(self) -> Double:
        if self.reps.low == self.reps.high:
            raise wrong(
                "not-a-range",
                f"{self.reps.low} is one number of reps",
                'A double progression needs a range such as "4-6".',
            )
        return self


class WaveWeek(Rated):
    """One entry of a wave: a share of the working max, or reps left in reserve."""

    share: Fraction | None = None
    rir: Rir | None = None
    rpe: Rating | None = None
    sets: Sets
    reps: RepCount
    then: Then = ()
    stress: Annotated[Literal["heavy", "medium", "light"], one_of("heavy", "medium", "light")] | None = None

    @model_validator(mode="after")
    def _has_effort(self) -> WaveWeek:
        if (self.share is None) == (self.rir is None):
            fact = f"a wave entry has {'neither share nor' if self.share is None else 'both share and'} rir"
            raise wrong("wave-entry", fact, 'Give one of the two, "share: 80 %" or "rir: 2" ("rpe: 8").')
        return self


class Wave(Part):
    """A list of entries taken in turn by exposure, and again with `add` on top."""

    kind: Literal["wave"]
    weeks: tuple[WaveWeek, ...] = Field(min_length=1, max_length=52)
    add: Raise | None = None


class BackOff(Part):
    """The sets after the top set: a share of the top set's load, or a drop from it."""

    sets: Sets
    reps: RepCount
    share: Annotated[Share, Field(ge=Decimal("0.4"), le=1)] | None = None
    drop: Annotated[Share, Field(ge=0, le=Decimal("0.6"))] | None = None

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


class TopSet(Rated):
    """One set to a target effort, then back-off sets. Lists are taken in turn by exposure; the last one stays."""

    kind: Literal["top_set"]
    reps: RepList
    rir: RirList
    rpe: RatingList | None = None
    gain: Raise | None = None
    backoff: BackOff | None = None
    then: Then = ()


class Step(Straight):
    """The load is held for some exposures, then jumps."""

    kind: Literal["step"]
    reps: RepCount
    hold: Annotated[Whole, Field(ge=2, le=12)]
    add: Raise


class Volume(Rated):
    """Sets are added at a constant load; at the top of the range the load rises and the sets start again."""

    kind: Literal["volume"]
    sets: Reps
    reps: RepCount
    start: Start | None = None
    rir: Rir = Decimal(3)
    rpe: Rating | None = None
    every: Annotated[Whole, Field(ge=1, le=12)] = 1
    add: Raise | None = None
    then: Then = ()

    @model_validator(mode="after")
    def _has_range(self) -> Volume:
        if self.sets.low == self.sets.high or self.sets.high > 20:
            raise wrong("not-a-range", "the sets do not rise", 'Write a range such as "3-6", at most 20 sets.')
        return self


class RepOut(Rated):
    """Straight sets, the last for as many good reps as the stop rule allows."""

    kind: Literal["rep_out"]
    sets: Sets
    reps: RepCount
    start: Start | None = None
    rir: Rir = Decimal(2)
    rpe: Rating | None = None
    add: Raise | None = None
    stop: Stop = Stop()
    then: Then = ()


class Hold(Part):
    """Walkouts: the bar is stood up with and held, a rising share of the best."""

    kind: Literal["hold"]
    start: Annotated[Share, Field(ge=Decimal("0.3"), le=Decimal("1.3"))] = Field(alias="from")
    to: Annotated[Share, Field(ge=Decimal("0.3"), le=Decimal("1.3"))]
    rise: Annotated[Share, Field(gt=0, le=Decimal("0.2"))] = Decimal("0.02")
    every: Cadence = Every(2, "weeks")
    sets: Sets = 1
    seconds: Annotated[Seconds, Field(ge=2, le=30)] = 8

    @model_validator(mode="after")
    def _rises(self) -> Hold:
        if self.to < self.start:
            raise wrong("holds-fall", "the holds fall", "Write from at or below to.")
        return self


HIGHEST_PIN = 250
_HEIGHT_HELP = '"hole 12" or "95 cm"'


class Height(Part):
    """A pin height: a hole number of the gym's rack, or centimetres from the floor."""

    number: Number
    unit: Literal["hole", "cm"]


def _height(value: Any) -> Any:
    if isinstance(value, Height):
        return value
    text = _text(value, _HEIGHT_HELP)
    words = text.lower().split()
    if len(words) == 2 and words[0] == "hole" and re.fullmatch(r"\d{1,3}", words[1]):
        return Height(number=Decimal(words[1]), unit="hole")
    if len(words) == 2 and words[1] == "cm":
        number = _decimal(words[0], _HEIGHT_HELP)
        if not 0 < number <= HIGHEST_PIN:
            raise wrong("out-of-range", f"a pin height of {value} is out of range", f"Write at most {HIGHEST_PIN} cm.")
        return Height(number=number, unit="cm")
    meant = slips.height(text)
    help_ = f'Write "{meant}".' if meant else f"Write {_HEIGHT_HELP}."
    raise wrong("not-a-height", f'"{text}" is not a pin height', help_)


PinHeight = Annotated[
    Height,
    BeforeValidator(_height),
    WithJsonSchema({"type": "string", "pattern": r"^(hole \d+|\d+(\.\d+)? cm)$"}),
]


class Pins(Part):
    """Lifts that start from the safety pins: the height falls over exposures and the share falls with it."""

    kind: Literal["pins"]
    start: PinHeight = Field(alias="from")
    to: PinHeight
    lower: Annotated[Number, Field(gt=0, le=40)] = Decimal(1)
    shares: tuple[Fraction, Fraction] = (Decimal("0.8"), Decimal("0.65"))
    sets: Sets = 3
    reps: RepCount = 5
    every: Cadence = Every(2, "weeks")

    @model_validator(mode="after")
    def _falls(self) -> Pins:
        heights = (self.start.number, self.to.number, self.lower)
        if self.start.unit == "hole" and any(height % 1 for height in heights):
            raise wrong("half-hole", "there are no half holes", "Write whole holes, and lower by whole holes.")
        if self.start.unit != self.to.unit:
            raise wrong("pin-units", "the pin heights mix holes and centimetres", f"Write both as {_HEIGHT_HELP}.")
        if self.to.number > self.start.number or self.shares[1] > self.shares[0]:
            raise wrong(
                "pins-rise",
                "the pins or the shares rise",
                "Both fall: the first height and share are the largest.",
            )
        return self


Progression = Annotated[
    Single | Double | Wave | TopSet | Step | Volume | RepOut | Hold | Pins,
    Field(discriminator="kind"),
]

__all__ = [
    "Amount",
    "BackOff",
    "Double",
    "Height",
    "Hold",
    "Load",
    "Misses",
    "Pins",
    "Progression",
    "Raise",
    "Range",
    "RepOut",
    "Single",
    "Step",
    "Stop",
    "Straight",
    "Text",
    "TopSet",
    "Volume",
    "Wave",
    "WaveWeek",
]
