"""What a retest changed: the plan of the profile without its last tests beside the plan with them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Generic, TypeVar

from builder.given import Lift, TestedSet
from builder.given.sources import Sources
from builder.plan.model import LiftNumbers, Plan, PlannedSet, PlannedSlot, Role, WeekKind
from builder.training.estimate import Evidence, evidence
from builder.training.expected import Expected

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Both(Generic[T]):
    """One thing before the last retest and after it; None where there is none."""

    before: T | None
    now: T | None


@dataclass(frozen=True, slots=True)
class TopLoad:
    """The heaviest working set of a week: kg on the bar, bell or belt."""

    week: int
    load: Decimal
    reps: int


@dataclass(frozen=True, slots=True)
class LiftChange:
    """One tested lift, before and now: its maxes in kg, and the top loads of its first and last training week.

    A lift that was only tested now has nothing before; one that the block does not train by load has no top loads.
    """

    movement: str
    estimate: Both[Decimal]
    expected: Both[Expected]
    working: Both[Decimal]
    first: Both[TopLoad]
    last: Both[TopLoad]

    @property
    def worse(self) -> bool:
        """Whether the estimated max is lower than before."""
        before, now = self.estimate.before, self.estimate.now
        return before is not None and now is not None and now < before


def earlier(sources: Sources) -> Sources | None:
    """The sources as they were before the tests of the highest revision; None for a first booklet."""
    client = sources.client
    if client is None or client.revision == 1:
        return None
    trimmed = {word: _before(lift, client.revision) for word, lift in client.lifts.items()}
    # A lift first tested now has no numbers before, and would stop the earlier plan.
    lifts = {word: lift for word, lift in trimmed.items() if any(_counts(test) for test in lift.tests)}
    return replace(sources, client=client.model_copy(update={"lifts": lifts}))


def compare(before: Plan, now: Plan) -> tuple[LiftChange, ...]:
    """Every tested lift of `now` beside what it was in `before`, in the profile's order; pure."""
    return tuple(_change(before, now, numbers) for numbers in now.lifts)


def _before(lift: Lift, revision: int) -> Lift:
    """A lift as it was; what was logged after its last earlier test came with the booklet that led to the new ones."""
    tests = tuple(test for test in lift.tests if (test.revision or 1) < revision)
    last = max((test.day for test in tests), default=date.min)
    logged = tuple(one for one in lift.logged if one.day <= last)
    records = tuple(one for one in lift.records if one.day is None or one.day <= last)
    return lift.model_copy(update={"tests": tests, "logged": logged, "records": records})


def _counts(test: TestedSet) -> bool:
    """Whether a max can be estimated from a test, without which a lift has no numbers."""
    return not test.missed and evidence(test.reps + test.rir) is not Evidence.REFUSED


def _change(before: Plan, now: Plan, numbers: LiftNumbers) -> LiftChange:
    name, then = numbers.movement, before.lift(numbers.movement)
    tops_then, tops_now = (tuple(_tops(plan, name)) for plan in (before, now))
    return LiftChange(
        movement=name,
        estimate=Both(then.estimate if then else None, numbers.estimate),
        expected=Both(then.expected if then else None, numbers.expected),
        working=Both(then.working_max if then else None, numbers.working_max),
        first=Both(next(iter(tops_then), None), next(iter(tops_now), None)),
        last=Both(next(reversed(tops_then), None), next(reversed(tops_now), None)),
    )


def _tops(plan: Plan, movement: str) -> Iterator[TopLoad]:
    """The heaviest set of each training week in which the lift itself is done with a planned load."""
    for week in plan.weeks:
        # A deload or a test says nothing of how training moved.
        if week.kind is not WeekKind.TRAINING:
            continue
        slots = [s for session in week.sessions for s in session.slots if s.movement == movement and s.drill is None]
        best = max((top for slot in slots for top in _loads(slot, week.number)), key=_heavier, default=None)
        if best is not None:
            yield best


def _loads(slot: PlannedSlot, week: int) -> Iterator[TopLoad]:
    yield from (TopLoad(week, s.rung.mass, s.reps) for s in slot.work if s.rung and _lifted(s))


def _lifted(planned: PlannedSet) -> bool:
    return planned.role in (Role.WORKING, Role.BACKOFF)


def _heavier(top: TopLoad) -> tuple[Decimal, int]:
    return top.load, top.reps
