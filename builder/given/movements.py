"""What is known of a movement, whoever lifts it."""

from __future__ import annotations

import re
from decimal import Decimal
from enum import StrEnum
from functools import cached_property
from typing import Annotated, Literal

from pydantic import Field

from builder.values.scalars import LISTED, Format, MovementName, Number, Part, Share, Text, Web, YesNo


class Pattern(StrEnum):
    """What a movement trains, as volume is counted."""

    SQUAT = "squat"
    HINGE = "hinge"
    LUNGE = "lunge"
    HORIZONTAL_PUSH = "horizontal push"
    VERTICAL_PUSH = "vertical push"
    HORIZONTAL_PULL = "horizontal pull"
    VERTICAL_PULL = "vertical pull"
    CARRY = "carry"
    TRUNK = "trunk"
    ARMS = "arms"
    CALVES = "calves"
    CONDITIONING = "conditioning"


class Equipment(StrEnum):
    """What a movement is loaded with; it decides which weights can be picked."""

    BARBELL = "barbell"
    DUMBBELL = "dumbbell"
    KETTLEBELL = "kettlebell"
    STACK = "stack"
    BODYWEIGHT = "bodyweight"


class Movement(Part):
    """One exercise. `ratio` says what share of the lift in `of` it usually carries; `rep` what a rep is
    where it is a way or a time.
    """

    pattern: Annotated[Pattern, LISTED] = Field(description="How its volume is counted.", examples=["squat"])
    equipment: Annotated[Equipment, LISTED] = Field(
        Equipment.BARBELL, description="What it is loaded with.", examples=["dumbbell"]
    )
    region: Annotated[Literal["upper", "lower", "trunk"], LISTED] = Field(
        "lower", description="The part of the body.", examples=["upper"]
    )
    of: MovementName | None = Field(
        None, description="The lift that its load can be taken from.", examples=["back squat"]
    )
    ratio: Annotated[Share, Field(gt=0, le=2)] | None = Field(
        None, description="How much of that lift it usually carries, at most 200 %.", examples=["85 %"]
    )
    also: tuple[Text, ...] = Field((), max_length=12, description="Other names.", examples=[["box squat"]])
    floor: YesNo = Field(
        False,
        description="Whether it starts from the floor, so that its ramp starts with full-size plates "
        "where the gym has them.",
        examples=[True],
    )
    each_side: YesNo = Field(False, description="Whether reps are for each side.", examples=[True])
    one_bell: YesNo = Field(
        False, description="Whether one dumbbell or kettlebell is held, not one in each hand.", examples=[True]
    )
    overhead_risk: YesNo = Field(
        False,
        description="Whether the load is over the lifter, or on the back or shoulders: cautions are printed.",
        examples=[True],
    )
    rep: Annotated[str, Field(pattern=r"^[1-9][0-9]{0,2} (m|s)$")] | None = Field(
        None,
        description="What one rep is where it is a way or a time; printed beside the name.",
        examples=["20 m"],
        json_schema_extra={"unset": "reps are counted"},
    )
    seconds_per_rep: Annotated[Number, Field(gt=0, le=60)] = Field(
        Decimal(4), description="How many seconds a rep takes, for the session time.", examples=[6]
    )
    cues: tuple[Text, ...] = Field((), max_length=12, description="What to think of.", examples=[["Knees out"]])
    cautions: tuple[Text, ...] = Field(
        (), max_length=12, description="What to watch for.", examples=[["Set the safeties below the lowest point."]]
    )
    demo: Web | None = Field(
        None,
        description="Where to see it; printed with a QR code on the page of demonstrations.",
        examples=["https://northrack.example/box-squat"],
    )

    @property
    def over_chest(self) -> bool:
        """Whether a bar is pressed over the chest, where plates that slide off are the last way out."""
        barbell = self.equipment is Equipment.BARBELL
        return barbell and self.pattern is Pattern.HORIZONTAL_PUSH and self.overhead_risk


CONDITIONING = Movement(pattern=Pattern.CONDITIONING, equipment=Equipment.BODYWEIGHT, region="lower")
"""What is known of conditioning that the library does not have: the block's own words name it."""


class Movements(Part):
    """A file of movements; a later file replaces an earlier one movement by movement."""

    format: Format = Field(description="The version of the file format.", examples=[1])
    movements: dict[Text, Movement] = Field(
        min_length=1,
        max_length=400,
        description="Movements by name.",
        examples=[{"box squat": {"pattern": "squat", "of": "back squat", "ratio": "90 %"}}],
    )

    def named(self, word: str) -> str | None:
        """The library's name for `word`, which may be one of a movement's other or short names; None when unknown."""
        if word in self.movements:
            return word
        return self._by_word.get(word.lower()) or self._by_word.get(loosely(word))

    @cached_property
    def _by_word(self) -> dict[str, str]:
        """Every name, other name and their loose forms in small letters; names go before other names."""
        found: dict[str, str] = {}
        for form in (str.lower, loosely):
            # Exact before loose, and names before other names: no short form may take the name of another movement.
            for name in self.movements:
                found.setdefault(form(name), name)
            for name, movement in self.movements.items():
                for other in movement.also:
                    found.setdefault(form(other), name)
        return found

    def every_name(self) -> list[str]:
        """All names and other names, for suggestions."""
        return [word for name, movement in self.movements.items() for word in (name, *movement.also)]

    def group(self, word: str) -> tuple[str, ...]:
        """The movements of a pattern ("vertical push") or of a region ("upper body"), none for other words."""
        loose = loosely(word)
        groups = {loosely(other): group for group, others in _GROUP_WORDS.items() for other in (group, *others)}
        meant = groups.get(loose)
        return tuple(name for name, about in self.movements.items() if meant in (str(about.pattern), about.region))


_GROUP_WORDS: dict[str, tuple[str, ...]] = {
    "squat": ("squatting", "squats", "knee dominant"),
    "hinge": ("hinging", "hip dominant"),
    "lunge": ("lunging", "single-leg"),
    "horizontal push": ("horizontal pressing", "horizontal press"),
    "vertical push": ("vertical pressing", "vertical press", "overhead", "overhead pressing"),
    "horizontal pull": ("rowing", "horizontal pulling"),
    "vertical pull": ("vertical pulling",),
    "carry": ("carrying", "carries"),
    "arms": (),
    "calves": (),
    "conditioning": ("cardio",),
    "upper": ("upper body",),
    "lower": ("lower body", "legs"),
    "trunk": ("core",),
}
GROUPS = tuple(word for group, others in _GROUP_WORDS.items() for word in (group, *others))
"""Every word that stands for all movements of a pattern or region."""
_SHORT = {"bb": "barbell", "db": "dumbbell", "kb": "kettlebell", "dl": "deadlift", "rdl": "romanian deadlift",
          "bp": "bench press", "sl": "single leg", "incl": "incline", "cg": "close grip"}  # fmt: skip


def loosely(word: str) -> str:
    """A name without spaces, hyphens and the s of many, short words of the trade written out."""
    words = [_SHORT.get(part, part) for part in re.split(r"[\s_-]+", word.lower().strip())]
    whole = re.sub(r"[^\w+]", "", "".join(words)).replace("_", "")
    return (whole.removesuffix("es") if whole.endswith("sses") else whole).removesuffix("s")
