"""Volume and mean intensity of one lift, week by week, with deloads, milestones and the test named below."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from builder.pages.figures.draw import (
    DARK,
    INK,
    MID,
    PALE,
    PAPER,
    Box,
    Dot,
    Drawing,
    Label,
    Mark,
    Path,
    Scale,
    Star,
    wide,
)
from builder.plan.model import PlannedWeek, WeekKind
from builder.words import Words

INTENSITY_TOP, INTENSITY_END = 6.3, 10.0
BARS_TOP, BARS_END = 16.2, 24.2
HEIGHT = 31.6
MARGIN = 1.0
BAND = 3.4
"""Where the bands behind the weeks begin."""
CLEAR, SHORT = 0.3, 2.4
"""mm that a name keeps free on either side, and mm of a short name."""


@dataclass(frozen=True, slots=True)
class WeekPoint:
    """What a week asks of one lift; `intensity` is a share of the max, None in a week without the lift."""

    number: int
    kind: WeekKind
    milestone: bool
    reps: int
    intensity: Decimal | None


def week_points(weeks: tuple[PlannedWeek, ...], movement: str) -> tuple[WeekPoint, ...]:
    """The points of one movement, a week each, whether it is trained in it or not."""
    points = []
    for week in weeks:
        sums = dict(week.by_movement).get(movement)
        tried = any(
            planned.milestone
            for session in week.sessions
            for slot in session.slots
            if slot.movement == movement
            for planned in slot.sets
        )
        points.append(
            WeekPoint(week.number, week.kind, tried, sums.reps if sums else 0, sums.intensity if sums else None)
        )
    return tuple(points)


def weekly_drawing(
    words: Words, lift: str, points: tuple[WeekPoint, ...], width: float, accent: str, more: float = 0.0
) -> Drawing:
    """Intensity as a line of valued dots above, reps as valued bars below, the kind of each week in words.

    `more` is mm of height beyond the least: a third for the line, the others for the bars.
    """
    column, third = (width - 2 * MARGIN) / len(points), round(more / 3, 2)
    centres = tuple(round(MARGIN + column * (i + 0.5), 2) for i in range(len(points)))
    marks: list[Mark] = [
        *_grounds(points, centres, column, more),
        Label(MARGIN, 2.4, words("figure.weekly.intensity"), "start", weight=600, colour=DARK),
        Label(MARGIN, round(BARS_TOP - 3.6 + third, 2), words("figure.weekly.reps"), "start", weight=600, colour=DARK),
        *_line(words, points, centres, column, accent, third),
        *_bars(points, centres, column, more),
        *week_names(words, points, centres, column, BARS_END + more),
    ]
    said = "; ".join(_said(words, point) for point in points)
    height = round(HEIGHT + more, 2)
    return Drawing(width, height, words("figure.weekly.title", lift=words.movement(lift), all=said), tuple(marks))


def _grounds(
    points: tuple[WeekPoint, ...], centres: tuple[float, ...], column: float, more: float
) -> list[Mark]:
    """A pale band behind every week that is not a plain training week."""
    return [
        Box(round(x - column / 2, 2), BAND, round(column, 2), round(HEIGHT + more - BAND, 2), PALE)
        for point, x in zip(points, centres, strict=True)
        if point.kind is not WeekKind.TRAINING
    ]


def _line(
    words: Words, points: tuple[WeekPoint, ...], centres: tuple[float, ...], column: float, accent: str, more: float
) -> list[Mark]:
    rated = [(x, point.intensity) for x, point in zip(centres, points, strict=True) if point.intensity is not None]
    if not rated:
        return []
    shares = [share for _, share in rated]
    scale = Scale(float(min(shares)), float(max(shares)), INTENSITY_END + more, INTENSITY_TOP)
    # In narrow columns the values of neighbours would run into each other.
    step = 1 if column > 6.5 else 2
    places = tuple((x, scale.at(share)) for x, share in rated)
    dots = [Dot(x, y, 0.9, accent) for x, y in places]
    values = [
        Label(x, round(y - 1.7, 2), words.share(share) if column >= 8 else words.number(share * 100, 0), colour=INK)
        for i, ((x, y), share) in enumerate(zip(places, shares, strict=True))
        if i % step == 0
    ]
    return [Path(places, accent, 0.45), *dots, *values]


def _bars(points: tuple[WeekPoint, ...], centres: tuple[float, ...], column: float, more: float) -> list[Mark]:
    base = round(BARS_END + more, 2)
    # From nought, or the lengths of bars would not be as their numbers; a line of shares need not.
    scale = Scale(0, max(1, *(point.reps for point in points)), base, BARS_TOP + more / 3)
    wide_bar = round(min(column * 0.62, 9.0), 2)
    marks: list[Mark] = []
    for point, x in zip(points, centres, strict=True):
        top = scale.at(point.reps)
        plain = point.kind is WeekKind.TRAINING
        if point.reps:
            bar = Box(
                round(x - wide_bar / 2, 2), top, wide_bar, round(base - top, 2), MID if plain else PAPER, DARK
            )
            marks += [bar, Label(x, round(top - 0.9, 2), str(point.reps), weight=600)]
    end = round(centres[-1] + column / 2, 2)
    return [*marks, Path(((MARGIN, base), (end, base)), DARK, 0.3)]


def week_names(
    words: Words, points: tuple[WeekPoint, ...], centres: tuple[float, ...], column: float, base: float
) -> list[Mark]:
    """Below the base line: the week's number, and what it is when it is no plain training week."""
    names, marks = tuple(_kind(words, point) for point in points), list[Mark]()
    for place, (point, x) in enumerate(zip(points, centres, strict=True)):
        marks.append(Label(x, base + 3.3, str(point.number), weight=600))
        if names[place] and _room(names, place, column):
            marks.append(Label(x, base + 6.6, names[place], colour=DARK))
        elif _code(point) == "milestone":
            marks.append(Star(x, base + 5.6))
        elif names[place]:
            marks.append(Label(x, base + 6.6, words(f"figure.short.{point.kind}"), colour=DARK))
    return marks


def _room(names: tuple[str, ...], place: int, column: float) -> bool:
    """Whether a week's name stands clear of its neighbours'; of two that meet the longer is shortened."""
    mine, beside = wide(names[place]), [*names[max(0, place - 1) : place], *names[place + 1 : place + 2]]
    most = column * 2 - CLEAR * 2 if len(beside) == 2 else column + CLEAR
    others = [wide(name) if mine >= wide(name) else min(wide(name), SHORT) for name in beside if name]
    return mine <= min((most, *(column * 2 - CLEAR * 2 - other for other in others)))


def _code(point: WeekPoint) -> str:
    return "milestone" if point.milestone and point.kind is WeekKind.TRAINING else str(point.kind)


def _kind(words: Words, point: WeekPoint) -> str:
    code = _code(point)
    return "" if code == WeekKind.TRAINING else words(f"figure.week.{code}")


def _said(words: Words, point: WeekPoint) -> str:
    """A week of the alternative text."""
    name = _kind(words, point)
    share = words.share(point.intensity) if point.intensity is not None else words("figure.none")
    text = words("figure.weekly.said", number=point.number, reps=point.reps, share=share)
    return f"{text} ({name})" if name else text
