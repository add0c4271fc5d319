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
from builder.values.quantity import to_places

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
    if top.rung.mass + basis.own <= 0:
        return ()
    lighter = next((wanted for wanted in prescription.sets if wanted.of_top is not None), None)
    following = prescribe(rule, ExposureCount(count.exposure + 1, count.since + 1), basis).sets[0]
    most = MOST_REPS - top.reps
    rows = (_lesson(left, top, lighter, following, basis, lifter) for left in (None, *LEFT) if (left or 0) <= most)
    return tuple(rows)


def _lesson(
    left: Decimal | None, top: PlannedSet, lighter: Wanted | None, following: Wanted, basis: Basis, lifter: Lifter
) -> Lesson:
    assert top.rung is not None and basis.reach is not None
    mass = top.rung.mass + basis.own
    came, aimed = (_shown(reserve, top, mass, basis) for reserve in (left, top.rir))
    belief, curve = basis.reach.belief, basis.reach.curve
    now = _factor(that_day(belief, came, curve, lifter), that_day(belief, aimed, curve, lifter))
    then = _factor(learned(belief, came, curve, lifter), learned(belief, aimed, curve, lifter))
    off = _loaded(lighter, of_top(mass * now, lighter.of_top, basis), basis) if lighter and lighter.of_top else None
    target = following.target
    next_top = None if target is None else _loaded(following, (target + basis.own) * then - basis.own, basis)
    return Lesson(left, off, next_top)


def _shown(left: Decimal | None, top: PlannedSet, mass: Decimal, basis: Basis) -> Shown:
    assert basis.reach is not None
    kind = Kind.MISSED if left is None else Kind.DONE
    return Shown(basis.reach.belief.on, mass, top.reps, left or Decimal(0), kind)


def _factor(came: Belief, aimed: Belief) -> Decimal:
    """How much stronger one belief is than another, at the reps of a top set."""
    return to_places(Decimal(exp(came.log_max - aimed.log_max)), 6)


def _loaded(wanted: Wanted, target: Decimal, basis: Basis) -> Rung | None:
    if basis.ladder is None:
        return None
    target = max(target, Decimal(0))
    return fitted(wanted, target, basis.ladder.pick(target, basis.rounding, basis.ties), basis).rung
