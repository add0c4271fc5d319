"""The heaviest planned set of every week against the best on record for as many reps."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from builder.pages.figures.draw import (
    DARK,
    INK,
    PALE,
    PAPER,
    Box,
    Dot,
    Drawing,
    Label,
    Mark,
    Path,
    Scale,
    around,
    meet,
    wide,
)
from builder.pages.figures.lines import value_lines
from builder.pages.figures.weekly import WeekPoint, week_names
from builder.plan.model import LiftNumbers, PlannedSet, PlannedWeek, Role, WeekKind
from builder.values.quantity import in_unit, on_bar
from builder.words import Words

TOP, LOW, END = 5.5, 20.6, 24.2
"""Where the highest and the lowest value stand, and the base line below with room for a label between."""
HEIGHT = 31.6
LEFT, RIGHT = 11.0, 1.5
DOT = 1.3


@dataclass(frozen=True, slots=True)
class TopPoint:
    """A week's heaviest set in kg, and the most that was ever lifted for at least as many reps (None: never).

    It `beats` when it is a record once it is done as planned: a milestone of its session, or an attempt.
    """

    week: WeekPoint
    load: Decimal | None
    reps: int
    record: Decimal | None
    beats: bool = False


def top_points(
    weeks: tuple[PlannedWeek, ...], numbers: LiftNumbers, points: tuple[WeekPoint, ...], own: Decimal = Decimal(0)
) -> tuple[TopPoint, ...]:
    """The heaviest set of each week, the one of more reps among equals; attempts count, warm-ups and holds do not.

    `own` is the bodyweight in kg that the records of a bodyweight lift include and its planned loads do not.
    """
    best = dict(numbers.best_by_reps)
    found = []
    for week, point in zip(weeks, points, strict=True):
        top = max(
            _sets(week, numbers.movement),
            key=lambda s: (s.rung.mass, s.reps, s.milestone) if s.rung else (Decimal(0), 0, False),
            default=None,
        )
        if top is None or top.rung is None:
            found.append(TopPoint(point, None, 0, None))
            continue
        done = best.get(top.reps)
        record = on_bar(done.load, own) if done else None
        beyond = top.role is Role.ATTEMPT and record is not None and top.rung.mass > record
        found.append(TopPoint(point, top.rung.mass, top.reps, record, top.milestone or beyond))
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


def tops_drawing(
    words: Words, lift: str, tops: tuple[TopPoint, ...], width: float, accent: str, more: float = 0.0
) -> Drawing:
    """Valued dots for the planned sets, a bar above or below each for the record at these reps.

    `more` is mm of height beyond the least.
    """
    height, base = round(HEIGHT + more, 2), round(END + more, 2)
    column = (width - LEFT - RIGHT) / len(tops)
    centres = tuple(round(LEFT + column * (i + 0.5), 2) for i in range(len(tops)))
    half = min(column * 0.42, 5.0)
    values = [float(in_unit(v, words.unit)) for p in tops for v in (p.load, p.record) if v is not None]
    room = (max(values) - min(values)) * 0.12 + 0.01 * max(values)
    scale = Scale(min(values), max(values) + room / 2, LOW + more, TOP)
    marks: list[Mark] = [
        *(Box(round(x - column / 2, 2), 0, round(column, 2), height, PALE)
          for p, x in zip(tops, centres, strict=True) if p.week.kind is not WeekKind.TRAINING),
        *_grid(words, scale, width, base),
        *_records(words, tops, centres, half, scale),
        *_dots(words, tops, centres, scale, accent),
        *_labels(words, tops, centres, half, scale, base),
        *week_names(words, tuple(p.week for p in tops), centres, column, base),
    ]  # fmt: skip
    said = "; ".join(_said(words, point) for point in tops if point.load is not None)
    return Drawing(width, height, words("figure.tops.title", lift=words.movement(lift), all=said), tuple(marks))


def _grid(words: Words, scale: Scale, width: float, base: float) -> list[Mark]:
    return [Path(((LEFT, base), (width, base)), DARK, 0.3), *value_lines(words, scale, LEFT, width, 4)]


def _records(
    words: Words, tops: tuple[TopPoint, ...], centres: tuple[float, ...], half: float, scale: Scale
) -> list[Mark]:
    marks: list[Mark] = []
    for point, x in zip(tops, centres, strict=True):
        if point.record is not None:
            y = scale.at(in_unit(point.record, words.unit))
            marks.append(Path(((round(x - half, 2), y), (round(x + half, 2), y)), INK, 0.7))
    return marks


def _dots(
    words: Words, tops: tuple[TopPoint, ...], centres: tuple[float, ...], scale: Scale, accent: str
) -> list[Mark]:
    return [
        Dot(x, scale.at(in_unit(point.load, words.unit)), DOT, accent if point.beats else PAPER, accent, 0.55)
        for point, x in zip(tops, centres, strict=True)
        if point.load is not None
    ]


def _labels(
    words: Words, tops: tuple[TopPoint, ...], centres: tuple[float, ...], half: float, scale: Scale,
    base: float,
) -> list[Mark]:  # fmt: skip
    """A value above or below each dot where it is clear of all else; records first, then the last week."""
    taken = [around(x, scale.at(in_unit(v, words.unit)), w, h)
             for point, x in zip(tops, centres, strict=True)
             for v, w, h in ((point.load, DOT, DOT), (point.record, half, 0.4)) if v is not None]  # fmt: skip
    shown = [(point, x) for point, x in zip(tops, centres, strict=True) if point.load is not None]
    marks: list[Mark] = []
    # Places are taken in this order, so what matters most has its value whatever else finds no room.
    for point, x in sorted(shown, key=lambda one: (not one[0].beats, one[0] is not tops[-1])):
        y, text = scale.at(in_unit(point.load or Decimal(0), words.unit)), _named(words, point)
        half = wide(text, weight=600) / 2 + 0.3
        places = ((round(y + dy, 2), around(x, y + dy - 0.9, half, 1.0)) for dy in (-2.1, 4.0))
        clear = (spot for spot in places if spot[1][0] >= LEFT and not any(meet(spot[1], other) for other in taken))
        free = next(clear, None)
        if free is not None and free[0] < base - 0.5:
            taken.append(free[1])
            marks.append(Label(x, free[0], text, weight=600))
    return marks


def _named(words: Words, point: TopPoint) -> str:
    return f"{words.amount(point.load or Decimal(0))}×{point.reps}"


def _said(words: Words, point: TopPoint) -> str:
    record = words.mass(point.record) if point.record is not None else words("figure.none")
    return words("figure.tops.said", number=point.week.number, set=_named(words, point), record=record)
