"""The estimated max of one lift by day, over all blocks: weeks, the spread as a band, the plan, and the tests."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise

from builder.log.progress import WeekEstimate
from builder.log.report.totals import BlockSpan, Course
from builder.pages.figures.draw import (
    DARK,
    INK,
    LIGHT,
    PAPER,
    Area,
    Box,
    Dot,
    Drawing,
    Label,
    Mark,
    Outline,
    Path,
    Scale,
    around,
    meet,
    wide,
)
from builder.pages.figures.history import cross, month_names
from builder.pages.figures.lines import value_lines
from builder.plan import TestValue
from builder.values.quantity import in_unit
from builder.words import Words

TOP, FOOT = 5.0, 5.0
LEFT, INSET = 11.0, 5.0
BAND = "#dcdcdc"
PAST = 0.36
"""The most of the width that tests before the first block may take."""
PIECE = 0.8
MOST_SAID = 30


@dataclass(frozen=True, slots=True)
class TimeScale:
    """The scale of time. Where the tests reach far back, what lies before `split` has a shorter scale of its own."""

    late: Scale
    early: Scale | None = None
    split: date = date.min

    def at(self, on: date) -> float:
        """The place of a day in mm."""
        scale = self.early if self.early is not None and on < self.split else self.late
        return scale.at(on.toordinal())


def lift_drawing(words: Words, name: str, course: Course, size: tuple[float, float], accent: str) -> Drawing:
    """Dots joined by a line for weeks, rings with an arrow for lower bounds, squares for tests, crosses for missed."""
    width, height = size
    days, up = days_of(course, width), _up(words, course, height)
    # Lower bounds are joined by no line: it would show a fall where only the reserve was not written.
    sure = [one for one in course.points if not one.least]
    marks: list[Mark] = [*value_lines(words, up, LEFT, width, 5)]
    marks += [mark for span in course.spans for mark in _band(words, [p for p in sure if _within(p, span)], days, up)]
    marks += [mark for span in course.spans for mark in _before(words, span, days, up)]
    if days.early is not None:
        split = days.at(days.split)
        marks.append(Path(((split, TOP), (split, height - FOOT)), DARK, 0.25))
    if len(sure) > 1:
        marks.append(Path(tuple((days.at(p.on), _at(words, up, p.estimate)) for p in sure), accent, 0.45))
    marks += [mark for one in course.points for mark in _dot(words, one, days, up, accent)]
    marks += [mark for test in course.tests for mark in _test(words, test, days, up)]
    marks += _values(words, course, days, up, width)
    marks += month_names(words, _months(course), days.at, height - FOOT + 3.8)
    return Drawing(width, height, _title(words, name, course), tuple(marks))


def _months(course: Course) -> tuple[date, ...]:
    """The first day of each month that something is drawn at."""
    told = sorted([*(p.on for p in course.points), *(t.test.day for t in course.tests)], reverse=True)
    return tuple({(on.year, on.month): on for on in told}.values())


def days_of(course: Course, width: float) -> TimeScale:
    """The scale of time of a lift's chart."""
    begin, end = LEFT + INSET, width - INSET
    start = min(course.spans[0].first, course.points[0].on)
    tested = [test.test.day for test in course.tests]
    last = max([*(span.last for span in course.spans), course.points[-1].on, *tested])
    first = min([start, *tested])
    whole = Scale(first.toordinal(), last.toordinal(), begin, end)
    if (start - first).days <= PAST * (last - first).days:
        return TimeScale(whole)
    # Tests of years before would squeeze the weeks that the report is about.
    split = round(begin + PAST * (end - begin), 2)
    early = Scale(first.toordinal(), start.toordinal(), begin, split)
    return TimeScale(Scale(start.toordinal(), last.toordinal(), split, end), early, start)


def _up(words: Words, course: Course, height: float) -> Scale:
    """From a little under the lowest to a little over the highest value that is drawn."""
    values = [*(span.before for span in course.spans), *(p.estimate for p in course.points)]
    values += [edge for p in course.points if not p.least for edge in (p.spread.low, p.spread.high)]
    values += [t.estimate or t.load for t in course.tests if t.estimate is not None or t.test.missed]
    low, high = (float(in_unit(mass, words.unit)) for mass in (min(values), max(values)))
    return Scale(low * 0.97, high * 1.03, height - FOOT, TOP)


def _at(words: Words, up: Scale, mass: Decimal) -> float:
    return up.at(in_unit(mass, words.unit))


def _within(one: WeekEstimate, span: BlockSpan) -> bool:
    return span.first <= one.on <= span.last


def _band(words: Words, points: Sequence[WeekEstimate], days: TimeScale, up: Scale) -> Iterator[Mark]:
    """What all equations make of the weeks of a block, and a stroke at each."""
    ends = [(days.at(p.on), _at(words, up, p.spread.low), _at(words, up, p.spread.high)) for p in points]
    if len(ends) > 1:
        corners = [(x, high) for x, _, high in ends] + [(x, low) for x, low, _ in reversed(ends)]
        yield Outline("M" + " L".join(f"{x:g} {y:g}" for x, y in corners) + " Z", BAND)
    yield from (Path(((x, low), (x, high)), LIGHT, 0.9) for x, low, high in ends)


def _before(words: Words, span: BlockSpan, days: TimeScale, up: Scale) -> Iterator[Mark]:
    y = _at(words, up, span.before)
    yield Path(((days.at(span.first), y), (days.at(span.last), y)), INK, 0.4, "1.6 1")


def _dot(words: Words, one: WeekEstimate, days: TimeScale, up: Scale, accent: str) -> Iterator[Mark]:
    x, y = days.at(one.on), _at(words, up, one.estimate)
    if not one.least:
        yield Dot(x, y, 1.1, accent, PAPER, 0.3)
        return
    tip, barb = round(y - 4.2, 2), round(y - 3.1, 2)
    yield Path(((x, round(y - 1, 2)), (x, tip)), accent, 0.35)
    yield Path(((round(x - 0.9, 2), barb), (x, tip), (round(x + 0.9, 2), barb)), accent, 0.35)
    yield Dot(x, y, 1.0, PAPER, accent, 0.45)


def _test(words: Words, test: TestValue, days: TimeScale, up: Scale) -> list[Mark]:
    if test.estimate is None and not test.test.missed:
        return []
    place = (days.at(test.test.day), _at(words, up, test.estimate or test.load))
    if test.estimate is None:
        return cross(place)
    return [Box(round(place[0] - 1.15, 2), round(place[1] - 1.15, 2), 2.3, 2.3, INK, PAPER, 0.3)]


def _values(words: Words, course: Course, days: TimeScale, up: Scale, width: float) -> list[Mark]:
    """Values above or below dots and squares, where they are clear of all else: the best and the last week first."""
    first = [max(course.points, key=lambda p: p.estimate), course.points[-1], course.points[0]]
    rated = [(t.test.day, t.estimate) for t in reversed(course.tests) if t.estimate is not None]
    told = [*((p.on, p.estimate) for p in first), *rated, *((p.on, p.estimate) for p in reversed(course.points))]
    taken = _taken(words, course, days, up)
    marks: list[Mark] = []
    for on, mass in dict.fromkeys(told):
        x, y, text = days.at(on), _at(words, up, mass), words.amount(mass)
        free = _free(x, y, wide(text, weight=600) / 2 + 0.3, taken, (LEFT, width))
        if free is not None:
            taken.append(free[1])
            marks.append(Label(x, free[0], text, weight=600))
    return [*marks, *_plan_values(words, course, days, up, taken, width)]


def _taken(words: Words, course: Course, days: TimeScale, up: Scale) -> list[Area]:
    """Where dots, arrows, squares, crosses and lines lie, the lines in short pieces."""
    weeks = [(days.at(p.on), _at(words, up, p.estimate), p.least) for p in course.points]
    tests = [(days.at(t.test.day), _at(words, up, t.estimate or t.load)) for t in course.tests]
    areas = [around(x, y, 1.1, 1.1) for x, y in [*((x, y) for x, y, _ in weeks), *tests]]
    areas += [around(x, y - 2.6, 0.9, 1.7) for x, y, least in weeks if least]
    sure = [(x, y) for x, y, least in weeks if not least]
    lines = list(pairwise(sure))
    for span in course.spans:
        y = _at(words, up, span.before)
        lines.append(((days.at(span.first), y), (days.at(span.last), y)))
    if days.early is not None:
        x = days.at(days.split)
        lines.append(((x, up.end), (x, up.start)))
    return areas + [area for line in lines for area in _pieces(*line)]


def _pieces(start: tuple[float, float], end: tuple[float, float]) -> Iterator[Area]:
    """A line as a row of small areas."""
    count = max(1, int(max(abs(end[0] - start[0]), abs(end[1] - start[1])) / PIECE))
    for i in range(count + 1):
        part = i / count
        x, y = (a + part * (b - a) for a, b in zip(start, end, strict=True))
        yield around(x, y, 0.2, 0.2)


def _plan_values(
    words: Words, course: Course, days: TimeScale, up: Scale, taken: list[Area], width: float
) -> Iterator[Mark]:
    """The max that each block was planned from, at the end of its line or at its start."""
    for span in course.spans:
        y, text = _at(words, up, span.before), words("report.lift.before", load=words.amount(span.before))
        for x, anchor in ((days.at(span.last), "end"), (days.at(span.first), "start")):
            half = wide(text) / 2
            middle = x - half if anchor == "end" else x + half
            free = _free(middle, y, half + 0.3, taken, (LEFT, width), -1.4, 3.4)
            if free is not None:
                taken.append(free[1])
                yield Label(round(middle, 2), free[0], text, colour=DARK)
                break


def _free(
    x: float, y: float, half: float, taken: Sequence[Area], sides: tuple[float, float], over: float = -2.1,
    under: float = 4.0,
) -> tuple[float, Area] | None:  # fmt: skip
    """The base line over or under a place where a text is clear of what is taken, with the area that it takes."""
    for base in (round(y + over, 2), round(y + under, 2)):
        area = around(x, base - 0.95, half, 1.05)
        inside = area[0] >= sides[0] - 1 and area[2] <= sides[1]
        if inside and not any(meet(area, other) for other in taken):
            return base, area
    return None


def _title(words: Words, name: str, course: Course) -> str:
    parts = [
        words("report.lift.said.span", load=words.mass(s.before), first=words.date(s.first), last=words.date(s.last))
        for s in course.spans
    ]
    # Spoken by a screen reader: a description of a hundred weeks is none.
    parts += [_said(words, one) for one in course.points[-MOST_SAID:]]
    parts += [
        words("report.lift.said.test" if t.estimate is not None else "report.lift.said.missed",
              date=words.date(t.test.day), load=words.mass(t.estimate or t.load))
        for t in course.tests if t.estimate is not None or t.test.missed
    ]  # fmt: skip
    return words("report.lift.title", lift=name, all="; ".join(parts))


def _said(words: Words, one: WeekEstimate) -> str:
    if one.least:
        return words("report.lift.said.least", date=words.date(one.on), load=words.mass(one.estimate))
    low, high = words.mass(one.spread.low), words.mass(one.spread.high)
    return words("report.lift.said", date=words.date(one.on), load=words.mass(one.estimate), low=low, high=high)
