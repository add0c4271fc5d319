"""What is known of a movement, whoever lifts it."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from builder.scalars import Format, Number, Part, Share, Text, Web, YesNo, one_of


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

    pattern: Annotated[Pattern, one_of(*Pattern)]
    equipment: Annotated[Equipment, one_of(*Equipment)] = Equipment.BARBELL
    region: Annotated[Literal["upper", "lower", "trunk"], one_of("upper", "lower", "trunk")] = "lower"
    of: Text | None = None
    ratio: Annotated[Share, Field(gt=0, le=2)] | None = None
    also: tuple[Text, ...] = Field((), max_length=12)
    floor: YesNo = False
    each_side: YesNo = False
    one_bell: YesNo = False
    overhead_risk: YesNo = False
    rep: Annotated[str, Field(pattern=r"^[1-9][0-9]{0,2} (m|s)$")] | None = None
    seconds_per_rep: Annotated[Number, Field(gt=0, le=60)] = Decimal(4)
    cues: tuple[Text, ...] = Field((), max_length=12)
    cautions: tuple[Text, ...] = Field((), max_length=12)
    demo: Web | None = None

    @property
    def over_chest(self) -> bool:
        """Whether a bar is pressed over the chest, where plates that slide off are the last way out."""
        barbell = self.equipment is Equipment.BARBELL
        return barbell and self.pattern is Pattern.HORIZONTAL_PUSH and self.overhead_risk


class Movements(Part):
    """A file of movements; a later file replaces an earlier one movement by movement."""

    format: Format
    movements: dict[Text, Movement] = Field(min_length=1, max_length=400)

    def named(self, word: str) -> str | None:
        """The library's name for `word`, which may be one of a movement's other names; None when unknown."""
        if word in self.movements:
            return word
        low = word.lower()
        return next(
            (n for n, m in self.movements.items() if low == n.lower() or low in [a.lower() for a in m.also]),
            None,
        )

    def every_name(self) -> list[str]:
        """All names and other names, for suggestions."""
        return [word for name, movement in self.movements.items() for word in (name, *movement.also)]
