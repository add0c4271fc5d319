"""How a set is lifted: bar position, depth, belt and sleeves."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.values.scalars import Part, YesNo, one_of


class Conditions(Part):
    """How a set was, or is to be, lifted; what is not stated is not known."""

    bar: Annotated[Literal["high", "low"], one_of("high", "low")] | None = None
    depth: (
        Annotated[
            Literal["above parallel", "parallel", "below parallel"],
            one_of("above parallel", "parallel", "below parallel"),
        ]
        | None
    ) = None
    belt: YesNo | None = None
    sleeves: YesNo | None = None
