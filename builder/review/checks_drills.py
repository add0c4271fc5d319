"""Checks of the drills: walkouts and pin squats against the trade's rules of thumb."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from builder.plan import Plan, PlannedSlot, WeekKind
from builder.review.finding import Finding, Hit, Rule
from builder.review.where import PlannedSpot, between, heaviest, load, main_lift, percent, spots
from builder.training.norms import PIN_SQUAT_SHARE, WALKOUT_SHARE, WALKOUTS_A_MONTH
from builder.values.quantity import to_places

MONTH = timedelta(days=28)


def _drills(plan: Plan, kind: str) -> list[PlannedSpot]:
    return [spot for spot in spots(plan, WeekKind.TRAINING) if spot.slot.kind == kind]


_SHARE = Rule("walkout-share", f"Hold {between(WALKOUT_SHARE.low, WALKOUT_SHARE.high)} of the max.")


def walkout_share(plan: Plan, _today: date) -> Iterator[Finding]:
    """Walkouts far from the max, except where the plan itself began lower for want of a bar really handled."""
    held = [(spot, to_places(heaviest(plan, spot.slot), 3)) for spot in _drills(plan, "hold")]
    lowered = {spot.slot.movement for spot, _ in held for note in spot.slot.notes if note.step == "first-hold"}
    yield from _SHARE.once(
        Hit(spot.place, f"the walkout is {percent(share)} of the max", abs(share - WALKOUT_SHARE.middle))
        for spot, share in held
        if share > WALKOUT_SHARE.high or (share < WALKOUT_SHARE.low and spot.slot.movement not in lowered)
    )


_OFTEN = Rule("walkouts-often", "Once or twice a month is usual: write a cadence of 2 weeks or longer.")


def walkouts_often(plan: Plan, _today: date) -> Iterator[Finding]:
    """More than two walkouts in any four weeks."""
    held = _drills(plan, "hold")
    # Any four weeks, and not months of the calendar, whose ends would hide a third one.
    for first in held:
        near = [s for s in held if timedelta(0) <= s.session.on - first.session.on < MONTH]
        if len(near) > WALKOUTS_A_MONTH.high:
            yield _OFTEN.at(first.place, f"{len(near)} walkouts come within four weeks from here")
            return


_LOW = Rule("walkout-low", "Hold more than the heaviest working set, or leave the walkouts out.")


def walkout_low(plan: Plan, _today: date) -> Iterator[Finding]:
    """Walkouts that in the whole block never pass the working sets of their lift."""
    held = _drills(plan, "hold")
    for lift in dict.fromkeys(spot.slot.lift for spot in held):
        done = [spot for spot in held if spot.slot.lift == lift]
        most = max((s.rung.mass for spot in done for s in spot.slot.work if s.rung), default=None)
        worked = [
            s.rung.mass
            for spot in spots(plan, WeekKind.TRAINING)
            if main_lift(plan, spot.slot) and spot.slot.movement == lift
            for s in spot.slot.work
            if s.rung
        ]
        if most is not None and worked and most <= max(worked):
            yield _LOW.at(
                done[0].place,
                f"the heaviest walkout, {load(plan, most)}, does not pass the sets of {load(plan, max(worked))}",
            )


_LATE = Rule("drill-late", "Put the drill first: it asks for a fresh back.")


def drill_late(plan: Plan, _today: date) -> Iterator[Finding]:
    """A drill after the sets of its own lift or of another main lift of the same region."""
    for spot in spots(plan, WeekKind.TRAINING):
        slots = spot.session.slots
        before = slots[: slots.index(spot.slot)] if spot.slot.drill else ()
        earlier = next((s for s in before if not s.drill and _tires(plan, s, spot.slot)), None)
        if earlier is not None:
            yield _LATE.at(spot.place, f"the drill stands after {earlier.movement}")
            return


def _tires(plan: Plan, slot: PlannedSlot, drill: PlannedSlot) -> bool:
    same_region = main_lift(plan, slot) is not None and slot.about.region == drill.about.region
    return slot.lift == drill.lift or same_region


_PINS = Rule(
    "pin-share",
    f"To parallel, {between(PIN_SQUAT_SHARE.low, PIN_SQUAT_SHARE.high)} of the max is usual, more with higher pins.",
)


def pin_share(plan: Plan, _today: date) -> Iterator[Finding]:
    """The pin squats at the lowest pins, which are taken to be at parallel."""
    done = _drills(plan, "pins")
    lowest = min((_height(spot.slot) for spot in done), default=Decimal(0))
    low = [(spot, to_places(heaviest(plan, spot.slot), 3)) for spot in done if _height(spot.slot) == lowest]
    yield from _PINS.once(
        Hit(spot.place, f"{percent(share)} of the max from the lowest pins", abs(share - PIN_SQUAT_SHARE.middle))
        for spot, share in low
        if not PIN_SQUAT_SHARE.holds(share)
    )


def _height(slot: PlannedSlot) -> Decimal:
    """Centimetres, or the hole where they are not known; one plan has only one rack."""
    assert slot.pin is not None
    return slot.pin.centimetres if slot.pin.centimetres is not None else Decimal(slot.pin.hole or 0)
