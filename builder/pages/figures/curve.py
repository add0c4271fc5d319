"""The load curve of the block for the cover: week by week, from one edge of the page and its bleed to the other."""

from __future__ import annotations

from decimal import Decimal

from builder.pages.figures.draw import Drawing, Mark, Outline, Path, Scale
from builder.plan.model import Plan, PlannedSet, PlannedWeek, Role

PAST = 3.0
"""mm past the cut on each side, as far as a print shop's bleed goes."""
LOWEST = 0.6
"""The height of the lightest week, as a share of the heaviest, so that words stand on the ground below."""


def block_curve(plan: Plan, movement: str | None) -> tuple[float, ...]:
    """A value for each week: the heaviest load of the lift, the reps of the week where no lift has loads."""
    loads = [_heaviest(week, movement) for week in plan.weeks]
    if not any(loads):
        return tuple(float(week.total.reps) for week in plan.weeks)
    known = [load for load in loads if load]
    values, last = [], known[0]
    for load in loads:
        # A week without the lift stays as high as the one before: the curve shows how heavy it gets, not what is left
        # out.
        last = load or last
        values.append(float(last))
    return tuple(values)


def _heaviest(week: PlannedWeek, movement: str | None) -> Decimal:
    sets = (one for session in week.sessions for slot in session.slots if slot.movement == movement
            and slot.drill is None for one in slot.work)  # fmt: skip
    return max((one.rung.mass for one in sets if _counts(one) and one.rung), default=Decimal(0))


def _counts(planned: PlannedSet) -> bool:
    return planned.role is not Role.HOLD


def curve_drawing(
    values: tuple[float, ...], width: float, height: float, accent: str, said: str, *, filled: bool, past: float = PAST
) -> Drawing:
    """The curve over `width` mm and what lies `past` the cut on both sides: a filled ground, or a line."""
    whole = round(width + 2 * past, 2)
    top = 1.0
    scale = Scale(min(values), max(values), height * (1 - LOWEST), top)
    step = width / len(values)
    points = tuple((round(past + step * (i + 0.5), 2), scale.at(value)) for i, value in enumerate(values))
    line = ((0.0, points[0][1]), *points, (whole, points[-1][1]))
    edge = Path(line, accent, 1.0)
    marks: tuple[Mark, ...] = (edge,)
    if filled:
        marks = (Outline("M" + "L".join(f"{x:g} {y:g}" for x, y in line) + f"V{height:g}H0z", accent), edge)
    return Drawing(whole, height, said, marks)
