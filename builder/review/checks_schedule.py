"""Checks of the calendar: who the block is for, days a week, where the squats stand, heavy days running."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Pattern
from builder.plan import Plan, PlannedSession, WeekKind
from builder.review.finding import Finding, Hit, Rule
from builder.review.where import (
    HEAVY,
    PlannedSpot,
    heaviest,
    on_barbell,
    session_place,
    spots,
    weeks_of,
)
from builder.training.norms import (
    SQUATS_A_WEEK,
    TRAINING_DAYS,
)
from builder.values.quantity import plain, to_places

_SUITS = Rule(
    "status-unsuited", "Choose another block, or adapt this one and add the status to suits.", "the block's own suits"
)


def status_unsuited(plan: Plan, _today: date) -> Iterator[Finding]:
    """A block that was written for others."""
    status, suits = plan.client.training.status, plan.block.block.suits
    if status not in suits:
        yield _SUITS.at("", f"the client is {status}, the block suits {' or '.join(suits)}")


_DAYS = {
    status: Rule("training-days", "Spread the work over the usual number of days, or know why not.", usual.source)
    for status, usual in TRAINING_DAYS.items()
}


def training_days(plan: Plan, _today: date) -> Iterator[Finding]:
    """The usual number of sessions in a training week against the position stand."""
    status = plan.client.training.status
    # By the usual week: one with days away says nothing of how the block is made.
    counts = Counter(len(week.sessions) for week in weeks_of(plan, WeekKind.TRAINING))
    usual = TRAINING_DAYS[status]
    if counts and not usual.holds(most := counts.most_common(1)[0][0]):
        days = "training day" if most == 1 else "training days"
        fact = f"{most} {days} a week; {plain(usual.low)} or {plain(usual.high)} are usual for this status"
        yield _DAYS[status].at("", f"{fact} ({status})")


_SQUATS = Rule("squat-frequency", "Squat, or train a variant, on 2 or 3 days a week.")


def squat_frequency(plan: Plan, _today: date) -> Iterator[Finding]:
    """Days with a squat in a training week, on average, where a squat is a tested lift."""
    tested = any(lift.about.pattern is Pattern.SQUAT for lift in plan.lifts)
    weeks = weeks_of(plan, WeekKind.TRAINING)
    if not tested or not weeks:
        return
    days = sum(1 for week in weeks for session in week.sessions if _squats(session))
    average = Decimal(days) / len(weeks)
    if days and not SQUATS_A_WEEK.holds(average):
        yield _SQUATS.at("", f"days with a squat: {plain(to_places(average, 1))} a week on average")


def _squats(session: PlannedSession) -> bool:
    return any(s.about.pattern is Pattern.SQUAT and not s.accessory and s.kind != "hold" for s in session.slots)


_LATE = Rule("squat-late", "Put the first squat of a day among its first two movements.")


def squat_late(plan: Plan, _today: date) -> Iterator[Finding]:
    """A day whose first barbell squat comes after two other movements."""
    yield from _LATE.once(
        Hit(session_place(session), f"{name} comes after {place} other movements", Decimal(place))
        for week in weeks_of(plan, WeekKind.TRAINING)
        for session in week.sessions
        for place, name in _first_squat(session)
        if place > 1
    )


def _first_squat(session: PlannedSession) -> list[tuple[int, str]]:
    work = [slot for slot in session.slots if slot.drill is None]
    squats = [(i, s.movement) for i, s in enumerate(work) if on_barbell(s, Pattern.SQUAT) and not s.accessory]
    return squats[:1]


_HEAVY_DAYS = Rule("heavy-days", "Put a day of rest or a light day between them.")


def heavy_days(plan: Plan, _today: date) -> Iterator[Finding]:
    """The same tested lift, or a variant, heavy on two days running."""
    heavy = [spot for spot in spots(plan, WeekKind.TRAINING) if _heavy(plan, spot)]
    days = {(spot.slot.lift, spot.session.on): spot for spot in heavy}
    pairs = [
        (spot, before)
        for (lift, on), spot in days.items()
        if (before := days.get((lift, on - timedelta(days=1)))) is not None
    ]
    yield from _HEAVY_DAYS.once(
        Hit(spot.place, f"heavy on the day after {before.slot.movement} was heavy") for spot, before in pairs
    )


def _heavy(plan: Plan, spot: PlannedSpot) -> bool:
    slot = spot.slot
    return slot.lift is not None and slot.drill is None and (slot.stress == "heavy" or heaviest(plan, slot) > HEAVY)
