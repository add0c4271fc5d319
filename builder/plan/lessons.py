"""What a top set teaches on paper: what came out, the back-off load of today, and the top set of next time."""

from __future__ import annotations

from decimal import Decimal
from math import exp

from builder.given import Progression, TopSet
from builder.plan.basis import Basis
from builder.plan.held import fitted
from builder.plan.loaded import of_top
from builder.plan.model import Lesson, PlannedSet
from builder.plan.prescribe import ExposureCount, Prescription, Wanted, prescribe
from builder.training.estimate import MOST_REPS
from builder.training.expected import Belief, Kind, Lifter, Shown, learned, that_day
from builder.training.loading import Rung
from builder.values.quantity import NOTHING, OnBar, WithBody, to_places

LEFT = tuple(Decimal(number) for number in range(5))
"""The reserves that are told apart."""


def lessons(
    rule: Progression, prescription: Prescription, work: tuple[PlannedSet, ...], basis: Basis, count: ExposureCount,
    lifter: Lifter,
) -> tuple[Lesson, ...]:  # fmt: skip
    """A row for a miss and for each reserve: the same update of what is believed as the program makes.

    What came out as aimed leads to what is planned. Nothing where no load or no max is known, or nothing is lifted.
    """
    top = work[0]
    if not isinstance(rule, TopSet) or top.rung is None or top.rir is None or basis.reach is None:
        return ()
    if basis.whole(top.rung.mass) <= 0:
        return ()
    lighter = next((wanted for wanted in prescription.sets if wanted.of_top is not None), None)
    following = prescribe(rule, ExposureCount(count.exposure + 1, count.since + 1), basis).sets[0]
    most = MOST_REPS - top.reps
    # No equation says what more reps than `MOST_REPS` to failure would mean.
    shown = [left for left in (None, *LEFT) if (left or 0) <= most]
    after = {left: _after(left, top, basis, lifter) for left in dict.fromkeys((*shown, top.rir))}
    return tuple(_lesson(left, after[left], after[top.rir], top, lighter, following, basis) for left in shown)


def _after(left: Decimal | None, top: PlannedSet, basis: Basis, lifter: Lifter) -> tuple[Belief, Belief]:
    """What is believed after a top set that left so much: on the same day, and the next time."""
    assert top.rung is not None and basis.reach is not None
    belief, curve = basis.reach.belief, basis.reach.curve
    shown = _shown(left, top, basis.whole(top.rung.mass), basis)
    return that_day(belief, shown, curve, lifter), learned(belief, shown, curve, lifter)


def _lesson(
    left: Decimal | None, came: tuple[Belief, Belief], aimed: tuple[Belief, Belief], top: PlannedSet,
    lighter: Wanted | None, following: Wanted, basis: Basis,
) -> Lesson:  # fmt: skip
    assert top.rung is not None
    # Measured against a set that went as aimed, not against today: the plan's next load expects that already.
    now, then = map(_factor, came, aimed)
    moved = WithBody(basis.whole(top.rung.mass) * now)
    off = _loaded(lighter, of_top(moved, lighter.of_top, basis), basis) if lighter and lighter.of_top else None
    target = following.target
    next_top = None if target is None else _loaded(following, basis.load_of(basis.whole(target), then), basis)
    return Lesson(left, off, next_top)


def _shown(left: Decimal | None, top: PlannedSet, mass: WithBody, basis: Basis) -> Shown:
    assert basis.reach is not None
    kind = Kind.MISSED if left is None else Kind.DONE
    return Shown(basis.reach.belief.on, mass, top.reps, left or Decimal(0), kind)


def _factor(came: Belief, aimed: Belief) -> Decimal:
    """How much stronger one belief is than another, at the reps of a top set."""
    return to_places(Decimal(exp(came.log_max - aimed.log_max)), 6)


def _loaded(wanted: Wanted, target: OnBar, basis: Basis) -> Rung | None:
    if basis.ladder is None:
        return None
    target = max(target, NOTHING)
    return fitted(wanted, target, basis.ladder.pick(target, basis.rounding, basis.ties), basis).rung
