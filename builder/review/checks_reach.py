"""Checks of what the plan asks for against what is expected of the lifter on each day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from builder.plan import Plan, PlannedSet, Role, WeekKind
from builder.review.finding import Finding, Gravity, Hit, Rule
from builder.review.likely import shown
from builder.review.where import PlannedSpot, load, spots
from builder.training.expected import chance
from builder.training.norms import COMMON_PRACTICE
from builder.values.quantity import plain

_HELD = Rule(
    "load-held",
    "Add less, start lower, test half-way, or allow it in the slot: beyond: allow.",
    gravity=Gravity.CAUTION,
)

_EASIER = Rule(
    "load-easier",
    "Add less, start lower, or end the caution in the profile.",
    COMMON_PRACTICE,
    Gravity.CAUTION,
)


def load_held(plan: Plan, _today: date) -> Iterator[Finding]:
    """Sets whose rule asks for more than the lifter is likely to have on that day, or to do with a rep left."""
    for rule, eased in ((_HELD, False), (_EASIER, True)):
        yield from rule.once(
            max((_hit(plan, spot.place, planned) for planned in held), key=lambda hit: hit.size)
            for spot in spots(plan, WeekKind.TRAINING)
            if (held := [one for one in spot.slot.work if one.held and one.rung and one.target and one.eased == eased])
        )


def _hit(plan: Plan, place: str, planned: PlannedSet) -> Hit:
    assert planned.target is not None and planned.rung is not None
    more = planned.target / planned.rung.mass if planned.rung.mass else Decimal(0)
    return Hit(place, _asked(plan, planned), more)


def _asked(plan: Plan, planned: PlannedSet) -> str:
    assert planned.target is not None and planned.rung is not None and planned.reach is not None
    asked, held = shown(planned.target, plan.unit), load(plan, planned.rung.mass)
    fault = "which is likely to leave too little in reserve" if planned.eased else "more than is likely"
    return f"the rule asks for {asked}, {fault}; {held} x {planned.reps} is planned"


_APART = Rule("reserve-apart", "Start lower, add less, or write the reserve that you mean.")


def reserve_apart(plan: Plan, _today: date) -> Iterator[Finding]:
    """Sets that leave over a rep less than the coach says, or more where the coach says nothing that explains it."""
    yield from _APART.once(
        Hit(spot.place, _both(planned), abs(_apart(planned)))
        for spot in spots(plan, WeekKind.TRAINING)
        if spot.slot.drill is None
        for planned in _told_apart(spot.slot.work)
        if planned.reserve is not None and planned.rir is not None and _tells(plan, spot, planned)
    )


def _told_apart(work: tuple[PlannedSet, ...]) -> list[PlannedSet]:
    """One of each kind of set that a slot has."""
    # Five sets that are alike are one thing to mend, and would be counted as five.
    found = {(one.rung.mass, one.reps, one.rir): one for one in reversed(work) if one.rung is not None}
    return list(found.values())


def _tells(plan: Plan, spot: PlannedSpot, planned: PlannedSet) -> bool:
    """Whether the figures contradict each other; a working max or a start of the coach's own is easier on purpose."""
    if planned.role is not Role.WORKING or planned.held or planned.bracket is not None:
        return False
    if planned.most_reps is not None and planned.reps < planned.most_reps:
        return False  # In a range the coach's figure is that of the top.
    apart, numbers = _apart(planned), plan.lift(spot.slot.lift)
    lighter = numbers is None or numbers.working_share < 1 or any(r.step.startswith("start") for r in planned.why)
    return apart > 1 or (apart < -1 and not lighter)


def _apart(planned: PlannedSet) -> Decimal:
    """The coach's reserve less the expected one."""
    assert planned.reserve is not None and planned.rir is not None
    return planned.rir - planned.reserve.exact


def _both(planned: PlannedSet) -> str:
    assert planned.reserve is not None and planned.rir is not None
    left = planned.reserve.exact
    found = "none" if left < 0 else f"about {plain(planned.reserve.reps)}"
    return f"the block says {plain(planned.rir)} in reserve, and the load is likely to leave {found}"


UNLIKELY = 0.6
_UNLIKELY = Rule("week-unlikely", "Start lower, add less, or test half-way.")


def week_unlikely(plan: Plan, _today: date) -> Iterator[Finding]:
    """Weeks in which a lift's sets are all made with less than three chances in five."""
    status = plan.client.training.status
    hits: dict[tuple[int, str], Hit] = {}
    for spot in spots(plan, WeekKind.TRAINING):
        numbers = plan.lift(spot.slot.lift)
        if numbers is None or spot.slot.movement != numbers.movement or spot.slot.estimated or spot.slot.drill:
            continue
        for planned in _told_apart(spot.slot.work):
            if planned.rung is None or spot.slot.belief is None or planned.reserve is None:
                continue
            sure = chance(spot.slot.belief, numbers.curve, numbers.whole(planned.rung.mass), planned.reps, status)
            if sure < UNLIKELY:
                percents = round(sure * 100)
                fact = f"{load(plan, planned.rung.mass)} x {planned.reps} is made in {percents} of 100 cases"
                hit, key = Hit(spot.place, fact, Decimal(100 - percents)), (spot.week.number, numbers.movement)
                hits[key] = max(hits.get(key, hit), hit, key=lambda one: one.size)
    yield from _UNLIKELY.once(hits.values())
