"""Checks of what the plan starts from and how it moves on: tests, estimates, steps of load, promised progress."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Equipment
from builder.plan import LiftNumbers, Plan, PlannedSet, PlannedSlot, WeekKind
from builder.plan.ladders import Racks
from builder.plan.numbers import carried
from builder.review.finding import Finding, Hit, Rule
from builder.review.where import PlannedSpot, derived_lift, load, own_max, percent, spots
from builder.training.estimate import MOST_REPS, Evidence, estimate
from builder.training.norms import ACSM, INCREASE
from builder.values.lists import TrainingStatus
from builder.values.quantity import OnBar, to_places, with_body

_FUTURE = Rule("test-in-future", "Correct the date.", "the calendar")


def future_test(plan: Plan, today: date) -> Iterator[Finding]:
    """A test, a record or a logged set that has not been done yet."""
    yield from _FUTURE.once(
        Hit(lift.movement, f"a {what} is dated {day}, after today, {today}", Decimal((day - today).days))
        for lift in plan.lifts
        for what, day in _dated(lift)
        if day is not None and day > today
    )


def _dated(lift: LiftNumbers) -> Iterator[tuple[str, date | None]]:
    """What the profile says was done, and when."""
    yield from (("test", value.test.day) for value in lift.tests)
    yield from (("record", done.on) for done in lift.performances if done.source == "record")
    yield from (("logged set", one.day) for one in lift.logged)


STALE = timedelta(weeks=12)
_STALE = Rule("test-stale", "Test again before the block, or lower the working max.")


def stale_test(plan: Plan, _today: date) -> Iterator[Finding]:
    """Numbers that stand on a test of more than twelve weeks before the block."""
    starts = plan.client.training.starts
    ages = [(lift.movement, starts - lift.chosen.test.day) for lift in plan.lifts]
    yield from _STALE.once(
        Hit(movement, f"the test is {age.days // 7} weeks old when the block starts", Decimal(age.days))
        for movement, age in ages
        if age > STALE
    )


_WEAK = Rule(
    "test-weak",
    "Test with 3 to 10 reps to failure.",
    "Mayhew JL et al. J Sports Med Phys Fitness 1995;35(2):108-113.",
)


def weak_test(plan: Plan, _today: date) -> Iterator[Finding]:
    """An estimate from more than ten reps to failure."""
    weak = [lift for lift in plan.lifts if lift.chosen.evidence is Evidence.WEAK]
    yield from _WEAK.once(
        Hit(lift.movement, f"the max is estimated from {_reps(lift)} reps to failure", _reps(lift)) for lift in weak
    )


def _reps(lift: LiftNumbers) -> Decimal:
    return lift.chosen.test.reps + lift.chosen.test.rir


WIDE = Decimal("0.08")
_WIDE = Rule("estimate-wide", "Trust the number less: start with a smaller working max, or test with fewer reps.")


def estimate_wide(plan: Plan, _today: date) -> Iterator[Finding]:
    """Equations that disagree about a test of ten reps or fewer; a weak test has its own finding."""
    spread = [(lift, (lift.spread.high - lift.spread.low) / lift.estimate) for lift in plan.lifts]
    yield from _WIDE.once(
        Hit(lift.movement, f"the equations disagree by {percent(wide)} of the estimate", wide)
        for lift, wide in spread
        if wide > WIDE and lift.chosen.evidence is Evidence.GOOD
    )


_LARGE = Rule("step-large", "Add less at once, add reps first, or get smaller plates.", ACSM)
_SMALL = Rule("step-small", "Add more once the reps are there, or move on with fewer exposures.", ACSM)
_STEPPED = ("single", "double", "step", "volume", "rep_out")


def step_large(plan: Plan, _today: date) -> Iterator[Finding]:
    """A load that rises by more than 10 % at once.

    Where nothing lies between, a rep range is no fault, nor a load that the lifter has grown into by then.
    """
    racks = Racks(plan.client)
    yield from _LARGE.once(_large(plan, racks))


def _large(plan: Plan, racks: Racks) -> Iterator[Hit]:
    for rise in _rises(plan):
        spot, own = rise.spot, carried(plan.client, rise.spot.slot.about)
        share = _rise(plan, spot.slot, rise.before, rise.after)
        possible = _between(racks, spot.slot, rise.before, INCREASE.of(with_body(rise.before, own)))
        bridged = spot.slot.kind == "double" or _grown_into(spot.slot.work[0])
        if share <= INCREASE.high or (possible is None and bridged):
            continue
        could = "nothing lies between" if possible is None else f"{load(plan, possible)} can be made"
        fact = f"the load rises by {percent(share)}, {_from_to(plan, rise)}; {could}"
        yield Hit(spot.place, fact, share)


def _grown_into(planned: PlannedSet) -> bool:
    """Whether a set is likely to leave the reserve that the coach asks for."""
    return planned.reserve is not None and planned.rir is not None and planned.reserve.exact >= planned.rir


def step_small(plan: Plan, _today: date) -> Iterator[Finding]:
    """A load that rises by less than 2 % though the reps were earned: in a rep range, or for a novice.

    What the plates take from a rise that the rule asks for, they give back at the next.
    """
    novice = plan.client.training.status is TrainingStatus.NOVICE
    judged = [
        (rise, _rise(plan, rise.spot.slot, rise.before, rise.after))
        for rise in _rises(plan)
        if novice or rise.spot.slot.kind == "double"
    ]
    yield from _SMALL.once(
        Hit(rise.spot.place, f"the load rises by {percent(share)}, {_from_to(plan, rise)}", -share)
        for rise, share in judged
        if max(share, _rise(plan, rise.spot.slot, *rise.asked)) < INCREASE.low
    )


def _from_to(plan: Plan, rise: _Rise) -> str:
    return f"{load(plan, rise.before)} to {load(plan, rise.after)}"


def _rise(plan: Plan, slot: PlannedSlot, before: Decimal, after: Decimal) -> Decimal:
    """The rise as a share of all that is lifted, to a tenth of a percent as it is shown."""
    return to_places((after - before) / (before + carried(plan.client, slot.about)), 3)


@dataclass(frozen=True, slots=True)
class _Rise:
    """A slot where its rule adds load: the load (kg) of the exposure before, the new one, and what the rule asked."""

    spot: PlannedSpot
    before: OnBar
    after: OnBar
    asked: tuple[OnBar, OnBar]


def _rises(plan: Plan) -> Iterator[_Rise]:
    # Each exposure beside the next and not week beside week: a track over two days rises twice a week.
    stepped = [s for s in spots(plan, WeekKind.TRAINING) if _is_stepped(plan, s.slot) and s.slot.work]
    for spot in stepped:
        if (following := _following(spot, stepped)) is None:
            continue
        last, first = spot.slot.work[0], following.slot.work[0]
        if last.rung is None or first.rung is None or first.rung.mass <= last.rung.mass:
            continue
        before, after = last.rung.mass, first.rung.mass
        yield _Rise(following, before, after, (last.target or before, first.target or after))


def _is_stepped(plan: Plan, slot: PlannedSlot) -> bool:
    """Not for accessories, nor where the bodyweight that is lifted is not known."""
    weighed = slot.about.equipment is not Equipment.BODYWEIGHT or carried(plan.client, slot.about) > 0
    return slot.kind in _STEPPED and not slot.accessory and weighed


def _following(spot: PlannedSpot, stepped: list[PlannedSpot]) -> PlannedSpot | None:
    """The next exposure of a slot, within three weeks; on the same day of the block unless a track joins several."""
    later = [
        other
        for other in stepped
        if other.slot.movement == spot.slot.movement
        and other.slot.kind == spot.slot.kind
        and other.slot.exposure == spot.slot.exposure + 1
        # Room for a deload between the two; past it the load had other reasons than the rule.
        and timedelta(0) < other.session.on - spot.session.on <= timedelta(weeks=3)
    ]
    return next((other for other in later if other.session.title == spot.session.title), next(iter(later), None))


def _between(racks: Racks, slot: PlannedSlot, load_now: Decimal, usual: tuple[Decimal, Decimal]) -> Decimal | None:
    """The heaviest load within the usual rise, if the implement has one."""
    ladder = racks.ladder(slot.movement, slot.about, slot.implement, slot.implement)
    rung = ladder.at_most(load_now + usual[1]) if ladder else None
    return rung.mass if rung is not None and rung.mass >= load_now + usual[0] else None


MOST_PROGRESS = {
    TrainingStatus.NOVICE: Decimal("0.35"),
    TrainingStatus.INTERMEDIATE: Decimal("0.10"),
    TrainingStatus.ADVANCED: Decimal("0.05"),
}
"""How far above today's estimate a block may reach: common practice, no source; novices gain fastest."""
VARIANT_SLACK = Decimal("0.05")
"""A variant's ratio is a rule of thumb, so it may reach further: common practice, no source."""
_PROGRESS = Rule("progress-steep", "Add less, start lower, or write the working max anew on the way.")


def progress_steep(plan: Plan, _today: date) -> Iterator[Finding]:
    """Sets that need a much higher max than today's, by their reps and their reserve."""
    most = MOST_PROGRESS[plan.client.training.status]
    judged = [(spot, hit) for spot in spots(plan, WeekKind.TRAINING) for hit in _needed(plan, spot)]
    yield from _PROGRESS.once(
        hit for spot, hit in judged if hit.size > most + (VARIANT_SLACK if _is_variant(spot.slot) else 0)
    )


def _is_variant(slot: PlannedSlot) -> bool:
    return slot.lift != slot.movement


def _needed(plan: Plan, spot: PlannedSpot) -> Iterator[Hit]:
    """How far above today's max each loaded set of a tested lift, or of a variant by ratio, reaches."""
    numbers, full = derived_lift(plan, spot.slot), own_max(plan, spot.slot)
    if numbers is None or full is None or spot.slot.about.equipment is not numbers.about.equipment:
        return
    for planned in spot.slot.work:
        if planned.rung is not None and planned.reps <= MOST_REPS:
            rise = _worth(plan, spot.slot, planned, numbers) / full - 1
            done = f"{load(plan, planned.rung.mass)} for {planned.reps}"
            yield Hit(spot.place, f"{done} needs a max {percent(rise)} above today's estimate", rise)


def _worth(plan: Plan, slot: PlannedSlot, planned: PlannedSet, numbers: LiftNumbers) -> Decimal:
    """The max in kg that a planned set needs; a set without a stated reserve counts as having none."""
    assert planned.rung is not None
    # Twelve with five in reserve count as fifteen, as far as the equations reach.
    rir = min(planned.rir or Decimal(0), Decimal(MOST_REPS - planned.reps))
    own = carried(plan.client, slot.about)
    return estimate(with_body(planned.rung.mass, own), planned.reps, rir, numbers.equation, plan.rows)
