"""The estimated max over all tests so far, and the weeks of the block left blank for the lifter's own dots."""

from __future__ import annotations

from decimal import Decimal

from builder.pages.figures.draw import DARK, INK, LIGHT, MID, PAPER, Box, Dot, Drawing, Label, Mark, Path, Scale, wide
from builder.pages.figures.lines import value_lines
from builder.plan.model import LiftNumbers, TestValue
from builder.values.quantity import in_unit
from builder.words import Words

TOP = 4.0
FOOT = 5.0
LEFT = 11.0
ABOVE, BELOW = 2.1, 4.2
"""mm from a dot to the foot of its value."""
APART = 4.6
"""mm from one value line to the next, at the least."""
PAST = 0.34
"""The part of the width that the tests so far take."""


def trend_drawing(words: Words, numbers: LiftNumbers, weeks: int, size: tuple[float, float], accent: str) -> Drawing:
    """Left the tests, a dot each with date and value; right an empty grid, a column a week."""
    width, height = size
    end = height - FOOT
    tests = sorted((t for t in numbers.tests if t.estimate is not None), key=lambda t: t.test.day)[-4:]
    values = [float(in_unit(t.estimate or Decimal(0), words.unit)) for t in tests]
    # Most air above: the lifter's own dots are still to come.
    scale = Scale(min(values) * 0.92, max(values) * 1.12, end, TOP)
    split = round(LEFT + (width - LEFT) * PAST, 2)
    marks: list[Mark] = [Box(split, TOP, round(width - split, 2), end - TOP, PAPER, MID, 0.2)]
    marks += value_lines(words, scale, LEFT, width, int((end - TOP) / APART))
    step = (split - LEFT) / len(tests)
    places = tuple((round(LEFT + step * (i + 0.5), 2), scale.at(value)) for i, value in enumerate(values))
    marks.append(Path(places, accent, 0.45))
    for i, ((x, y), test) in enumerate(zip(places, tests, strict=True)):
        rises = i + 1 < len(places) and places[i + 1][1] < y
        marks += [Dot(x, y, 1.2, accent), _value(words, test, x, y, rises=rises, end=end)]
    marks += _days(words, tuple(zip((x for x, _ in places), tests, strict=True)), end)
    marks += _weeks(weeks, split, width, end)
    said = "; ".join(f"{words.date(t.test.day)}: {words.mass(t.estimate or Decimal(0))}" for t in tests)
    return Drawing(
        width,
        height,
        words("figure.trend.title", lift=words.movement(numbers.movement), all=said, weeks=weeks),
        tuple(marks),
    )


def _value(words: Words, test: TestValue, x: float, y: float, *, rises: bool, end: float) -> Label:
    """The value over its dot; where the line rises from it below, or to the left where the days stand there."""
    text = words.amount(test.estimate or Decimal(0))
    if rises and y + BELOW > end:
        return Label(round(x + 0.8, 2), round(y - ABOVE, 2), text, "end", weight=600)
    return Label(x, round(y + (BELOW if rises else -ABOVE), 2), text, weight=600)


def _days(words: Words, tests: tuple[tuple[float, TestValue], ...], end: float) -> list[Mark]:
    """The months of the tests; where two would touch, the later is printed."""
    marks: list[Mark] = []
    free = float("inf")
    for x, test in reversed(tests):
        day = test.test.day
        text = words("figure.trend.month", month=words.month(day), year=f"{day.year % 100:02d}")
        half = wide(text) / 2
        if x + half < free:
            marks.append(Label(x, end + 3.3, text, colour=DARK))
            free = x - half - 1.0
    return marks


def _weeks(weeks: int, split: float, width: float, end: float) -> list[Mark]:
    column = (width - split) / weeks
    every = max(1, round(4.0 / column + 0.49))
    marks: list[Mark] = []
    for week in range(1, weeks + 1):
        x = round(split + column * (week - 0.5), 2)
        marks.append(Path(((x, TOP), (x, end)), LIGHT, 0.15))
        if week % every == 0 or every == 1:
            marks.append(Label(x, end + 3.3, str(week), colour=INK))
    return marks
