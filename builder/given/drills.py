"""The two kinds of drill: walkouts, which are held, and lifts that start from the pins."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator

from builder.given.rules import Fraction, RepCount, Sets
from builder.values import slips
from builder.values.forms import schema
from builder.values.scalars import (
    Cadence,
    Every,
    Number,
    Part,
    Seconds,
    Share,
    _decimal,
    one_word,
    wrong,
)


class Hold(Part):
    """Walkouts: the bar is stood up with and held, a rising share of the best."""

    kind: Literal["hold"] = Field(
        description="Walkouts: the bar is stood up with and held, a rising share of the best.", examples=["hold"]
    )
    start: Annotated[Share, Field(ge=Decimal("0.3"), le=Decimal("1.3"))] = Field(
        alias="from",
        description="The first share; it is lower when the lifter has never handled that much.",
        examples=["95 %"],
    )
    to: Annotated[Share, Field(ge=Decimal("0.3"), le=Decimal("1.3"))] = Field(
        description="The last share.", examples=["103 %"]
    )
    rise: Annotated[Share, Field(gt=0, le=Decimal("0.2"))] = Field(
        Decimal("0.02"), description="How much it rises from one exposure to the next, at most 20 %.", examples=["1 %"]
    )
    every: Cadence = Field(
        Every(2, "weeks"),
        description="How often it comes: counted in weeks from the first, or in times that its day comes.",
        examples=["3 exposures"],
    )
    sets: Sets = Field(1, description="How many sets.", examples=[2])
    seconds: Annotated[Seconds, Field(ge=2, le=30)] = Field(
        8, description="How long each is held, 2 s to 30 s.", examples=["10 s"]
    )

    @model_validator(mode="after")
    def _rises(self) -> Hold:
        # From 105 % to 95 % it would be 95 % for ever, without a word.
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
    text = one_word(value, _HEIGHT_HELP)
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
    schema(r"([Hh][Oo][Ll][Ee]\s+\d{1,3}|\d+(\.\d+)?\s+[Cc][Mm])", "a pin height: hole 12 or 95 cm", bare=False),
]


class Pins(Part):
    """Lifts that start from the safety pins: the height falls over exposures and the share falls with it."""

    kind: Literal["pins"] = Field(
        description="Lifts that start from the safety pins, lower from time to time.", examples=["pins"]
    )
    start: PinHeight = Field(alias="from", description="The first and highest pin height.", examples=["hole 16"])
    to: PinHeight = Field(description="The last and lowest, in the same unit.", examples=["hole 12"])
    lower: Annotated[Number, Field(gt=0, le=40)] = Field(
        Decimal(1), description="How much lower each time, in holes or cm.", examples=[2]
    )
    shares: tuple[Fraction, Fraction] = Field(
        (Decimal("0.8"), Decimal("0.65")),
        description="Shares of the working max at the first height and at the last.",
        examples=[["85 %", "70 %"]],
    )
    sets: Sets = Field(3, description="How many sets.", examples=[2])
    reps: RepCount = Field(5, description="Reps of each set.", examples=[3])
    every: Cadence = Field(Every(2, "weeks"), description="How often it comes.", examples=["2 exposures"])

    @model_validator(mode="after")
    def _falls(self) -> Pins:
        heights = (self.start.number, self.to.number, self.lower)
        # Half a hole lower leaves the pins where they are, at another share.
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
