"""Checks of one session: what comes first, what is paired, and whether the rests fit the effort."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from itertools import combinations

from builder.given import Equipment, Pattern
from builder.plan import Plan, PlannedSession, PlannedSlot, WeekKind
from builder.review.finding import Finding, Hit, Rule
from builder.review.where import (
    HEAVY,
    PlannedSpot,
    heaviest,
    main_lift,
    of_max,
    percent,
    session_place,
    spots,
    weeks_of,
)
from builder.training.norms import ACSM, COMMON_PRACTICE, EXERCISE_ORDER, REST_FOR_STRENGTH
from builder.values.lists import TrainingStatus

_ORDER = Rule("order", "Put the main lift first, small muscles and machines after it.", EXERCISE_ORDER)
_SMALL = (Pattern.ARMS, Pattern.CALVES)


def small_first(plan: Plan, _today: date) -> Iterator[Finding]:
    """A main lift that waits for assistance: for small muscles, machines or what the block calls accessory."""
    yield from _ORDER.once(
        Hit(session_place(session), f"{main.movement} comes after {before.movement}")
        for week in weeks_of(plan, WeekKind.TRAINING)
        for session in week.sessions
        for main, before in _waiting(plan, session)
    )


def _waiting(plan: Plan, session: PlannedSession) -> list[tuple[PlannedSlot, PlannedSlot]]:
    """The first barbell main lift of a day with the assistance before it, if there is any."""
    for place, slot in enumerate(session.slots):
        if main_lift(plan, slot) is not None and slot.about.equipment is Equipment.BARBELL:
            before = [other for other in session.slots[:place] if _assists(other)]
            if before:
                return [(slot, before[0])]
    return []


def _assists(slot: PlannedSlot) -> bool:
    return slot.accessory or slot.about.pattern in _SMALL or slot.about.equipment is Equipment.STACK


PAIRED_FROM = Decimal("0.75")
"""Two lifts from this share of their max tire each other; common practice, no source."""
_PAIR = Rule("superset-heavy", "Pair a heavy lift with light work elsewhere, or rest between the two.")
_BIG = (Pattern.SQUAT, Pattern.HINGE, Pattern.HORIZONTAL_PUSH, Pattern.VERTICAL_PUSH)


def superset_heavy(plan: Plan, _today: date) -> Iterator[Finding]:
    """Two heavy barbell lifts in one superset; a row beside a press is none."""
    yield from _PAIR.once(
        Hit(session_place(session), f"{one.movement} and {other.movement} are heavy and share superset {one.superset}")
        for week in weeks_of(plan, WeekKind.TRAINING)
        for session in week.sessions
        for one, other in combinations([slot for slot in session.slots if _paired(plan, slot)], 2)
        if one.superset == other.superset
    )


def _paired(plan: Plan, slot: PlannedSlot) -> bool:
    big = slot.about.equipment is Equipment.BARBELL and slot.about.pattern in _BIG and not slot.drill
    return big and slot.superset is not None and heaviest(plan, slot) >= PAIRED_FROM


NEAR_LIMIT = 8
"""Reps to failure up to which a set is one for strength; common practice, no source."""
LEAST_REST = {TrainingStatus.NOVICE: 60, TrainingStatus.INTERMEDIATE: 120, TrainingStatus.ADVANCED: 120}
CLUSTER_REST, CLUSTER_REPS = 45, 3
"""A set of few reps with a breath before the next is part of a cluster; common practice, no source."""
LEAST_HEAVY_REST = 180
MOST_LIGHT_REST = 300
_SHORT = Rule("rest-short", "Rest 2 min or more between hard sets of a main lift.", REST_FOR_STRENGTH)
_SHORT_HEAVY = Rule("rest-short", "Rest 3 to 5 min between sets this heavy.", ACSM)
_LONG = Rule("rest-long", "Assistance needs 1 to 2 min; keep the long rests for the main lifts.", COMMON_PRACTICE)


def rest_short(plan: Plan, _today: date) -> Iterator[Finding]:
    """Too little rest for the load: 3 min above 85 % of the max, else 2 min, for a novice one."""
    alone = [spot for spot in spots(plan, WeekKind.TRAINING) if not spot.slot.superset and not spot.slot.drill]
    heavy = [hit for spot in alone for hit in _hurried(plan, spot, heavy=True)]
    yield from (
        # Both have one code, which is told once: the graver one then.
        _SHORT_HEAVY.once(heavy)
        if heavy
        else _SHORT.once(hit for spot in alone for hit in _hurried(plan, spot, heavy=False))
    )


def _hurried(plan: Plan, spot: PlannedSpot, *, heavy: bool) -> Iterator[Hit]:
    """The first set of a barbell lift that has too short a rest before the next."""
    status = plan.client.training.status
    slot, least = spot.slot, LEAST_HEAVY_REST if heavy else LEAST_REST[status]
    if slot.accessory or slot.about.equipment is not Equipment.BARBELL or (heavy and status is TrainingStatus.NOVICE):
        return
    for planned in slot.work[:-1]:
        share = of_max(plan, slot, planned)
        hard = share is not None and (
            share > HEAVY if heavy else planned.rir is not None and planned.reps + planned.rir <= NEAR_LIMIT
        )
        cluster = planned.rest <= CLUSTER_REST and planned.reps <= CLUSTER_REPS
        if share is not None and hard and planned.rest < least and not cluster:
            fact = f"{planned.rest} s of rest between sets of {planned.reps} at {percent(share)} of the max"
            yield Hit(spot.place, fact, Decimal(least - planned.rest))
            return


def rest_long(plan: Plan, _today: date) -> Iterator[Finding]:
    """Assistance that rests as long as a max."""
    yield from _LONG.once(
        Hit(spot.place, f"{spot.slot.work[0].rest // 60} min of rest between sets of assistance")
        for spot in spots(plan, WeekKind.TRAINING)
        if len(spot.slot.work) > 1 and _assists(spot.slot) and spot.slot.work[0].rest >= MOST_LIGHT_REST
    )
