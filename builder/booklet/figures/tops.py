"""The heaviest planned set of every week against the best on record for as many reps."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from builder.booklet.figures.draw import (
    DARK,
    INK,
    LIGHT,
    PALE,
    PAPER,
    Box,
    Dot,
    Drawing,
    Label,
    Mark,
    Path,
    Scale,
    ticks,
)
from builder.booklet.figures.weekly import WeekPoint, week_names
from builder.booklet.words import Words
from builder.plan.model import LiftNumbers, PlannedSet, PlannedWeek, Role, WeekKind
from builder.quantity import in_unit

TOP, END = 9.0, 39.0
HEIGHT = 47.0
LEFT = 9.0


@dataclass(frozen=True, slots=True)
class TopPoint:
    """A week's heaviest set in kg, and the most that was ever lifted for at least as many reps (None: never)."""

    week: WeekPoint
    load: Decimal | None
    reps: int
    record: Decimal | None


def top_points(weeks: tuple[PlannedWeek, ...], numbers: LiftNumbers, points: tuple[WeekPoint, ...]) -> tuple[TopPoint, ...]:
    """The heaviest set of each week, the one of more reps among equals; attempts count, warm-ups and holds do not."""
    best = dict(numbers.best_by_reps)
    found = []
    for week, point in zip(weeks, points, strict=True):
        top = max(_sets(week, numbers.movement), key=lambda s: (s.rung.mass, s.reps) if s.rung else (Decimal(0), 0), default=None)
        if top is None or top.rung is None:
            found.append(TopPoint(point, None, 0, None))
            continue
        done = best.get(top.reps)
        found.append(TopPoint(point, top.rung.mass, top.reps, done.load if done else None))
    return tuple(found)


def _sets(week: PlannedWeek, movement: str) -> list[PlannedSet]:
    return [
        planned
        for session in week.sessions
        for slot in session.slots
        if slot.movement == movement and slot.drill is None
        for planned in slot.sets
        if planned.role not in (Role.RAMP, Role.HOLD) and planned.rung is not None
    ]


def tops_drawing(words: Words, lift: str, tops: tuple[TopPoint, ...], width: float, accent: str) -> Drawing:
    """Valued dots for the planned sets, a bar above or below each for the record at these reps."""
    column = (width - LEFT) / len(tops)
    centres = tuple(round(LEFT + column * (i + 0.5), 2) for i in range(len(tops)))
    values = [float(in_unit(v, words.unit)) for p in tops for v in (p.load, p.record) if v is not None]
    room = (max(values) - min(values)) * 0.12 + 0.01 * max(values)
    scale = Scale(min(values) - room / 2, max(values) + room, END, TOP)
    marks: list[Mark] = [
        *(Box(round(x - column / 2, 2), 4.4, round(column, 2), HEIGHT - 4.4, PALE)
          for p, x in zip(tops, centres, strict=True) if p.week.kind is not WeekKind.TRAINING),
        *_grid(words, scale, width),
        *_records(words, tops, centres, column, scale),
        *_dots(words, tops, centres, column, scale, accent),
        *week_names(words, tuple(p.week for p in tops), centres, column, END),
    ]  # fmt: skip
    said = "; ".join(_said(words, point) for point in tops if point.load is not None)
    return Drawing(width, HEIGHT, words("figure.tops.title", lift=lift, all=said), tuple(marks))


def _grid(words: Words, scale: Scale, width: float) -> list[Mark]:
    marks: list[Mark] = [Label(0, 3.0, words("figure.tops.axis", unit=words.unit), "start", weight=600, colour=DARK)]
    for value in ticks(scale.low, scale.high, 4):
        y = scale.at(value)
        marks.append(Path(((LEFT, y), (width, y)), LIGHT, 0.15))
        marks.append(Label(LEFT - 1.5, round(y + 0.9, 2), words.number(Decimal(str(value)).normalize()), "end", colour=DARK))
    return marks


def _records(
    words: Words, tops: tuple[TopPoint, ...], centres: tuple[float, ...], column: float, scale: Scale
) -> list[Mark]:
    half = min(column * 0.42, 5.0)
    marks: list[Mark] = []
    for point, x in zip(tops, centres, strict=True):
        if point.record is not None:
            y = scale.at(float(in_unit(point.record, words.unit)))
            marks.append(Path(((round(x - half, 2), y), (round(x + half, 2), y)), INK, 0.7))
    return marks


def _dots(
    words: Words, tops: tuple[TopPoint, ...], centres: tuple[float, ...], column: float, scale: Scale, accent: str
) -> list[Mark]:
    marks: list[Mark] = []
    for i, (point, x) in enumerate(zip(tops, centres, strict=True)):
        if point.load is None:
            continue
        y = scale.at(float(in_unit(point.load, words.unit)))
        beats = point.record is None or point.load > point.record
        marks.append(Dot(x, y, 1.3, accent if beats else PAPER, accent, 0.55))
        if column > 7.5 or i % 2 == 0:
            marks.append(Label(x, _label_at(point, y, scale, words), _named(words, point), weight=600))
    return marks


def _label_at(point: TopPoint, y: float, scale: Scale, words: Words) -> float:
    """Above the dot, or below it where the record's bar lies just above."""
    if point.record is not None:
        bar = scale.at(float(in_unit(point.record, words.unit)))
        if -5.0 < bar - y < -0.6:
            return round(y + 4.0, 2)
    return round(y - 2.1, 2)


def _named(words: Words, point: TopPoint) -> str:
    return f"{words.amount(point.load or Decimal(0))}×{point.reps}"


def _said(words: Words, point: TopPoint) -> str:
    record = words.mass(point.record) if point.record is not None else words("figure.none")
    return words("figure.tops.said", number=point.week.number, set=_named(words, point), record=record)
