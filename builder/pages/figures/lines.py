"""The light lines of a chart with the values that they stand for."""

from __future__ import annotations

from decimal import Decimal

from builder.pages.figures.draw import DARK, LIGHT, SMALL, Label, Mark, Path, Scale, ticks
from builder.words import NARROW, Words


def value_lines(words: Words, scale: Scale, left: float, right: float, most: int) -> list[Mark]:
    """At most `most` + 1 lines at round loads in the lifter's unit, the height of a letter apart or more.

    They are valued on the left, the top one with its unit.
    """
    values = ticks(scale.low, scale.high, most)
    while len(values) > 1 and most > 1 and abs(scale.at(values[1]) - scale.at(values[0])) < SMALL:
        values, most = ticks(scale.low, scale.high, most - 1), most - 1
    marks: list[Mark] = []
    for value in values:
        y = scale.at(value)
        text = words.number(Decimal(str(value)).normalize())
        named = f"{text}{NARROW}{words.unit}" if value == values[-1] else text
        marks.append(Path(((left, y), (right, y)), LIGHT, 0.15))
        marks.append(Label(left - 1.2, round(y + 0.9, 2), named, "end", colour=DARK))
    return marks
