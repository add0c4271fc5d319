"""The sets after those of a rule: each with a share or a reserve of its own, or a step from the set before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from builder.given.progressions import Double, RepOut, Single, Step, TopSet, Volume, Wave
from builder.given.rules import Further, Lengthened
from builder.plan.basis import Basis
from builder.plan.lengths import lengthy, raises_of
from builder.plan.model import Reason, Role, because
from builder.plan.prescribe import (
    ExposureCount,
    First,
    Prescription,
    Wanted,
    first_load,
    gained,
    prescribe,
    raised,
    waved,
)
from builder.values.quantity import OnBar
from builder.values.scalars import Amount

Ruled = Single | Double | Wave | TopSet | Step | Volume | RepOut


def prescribed(rule: Ruled, count: ExposureCount, basis: Basis) -> Prescription:
    """The prescription of a rule with the sets that it has besides its own."""
    length = rule.length if isinstance(rule, Lengthened) else None
    made = prescribe(rule, count, basis) if length is None else lengthy(rule, length, count, basis)  # type: ignore[arg-type]
    then = rule.weeks[count.exposure % len(rule.weeks)].then if isinstance(rule, Wave) else rule.then
    more = [wanted for each in then for wanted in _wanted(each, rule, count, basis)]
    return replace(made, sets=(*made.sets, *more)) if more else made


def _wanted(each: Further, rule: Ruled, count: ExposureCount, basis: Basis) -> Iterator[Wanted]:
    """One entry as sets; those that step are told apart, since each steps from the one before it."""
    one = _own(each, rule, count, basis) if _has_own(each) else _stepping(each, basis)
    for left in range(each.sets, 0, -1):
        last = each.stop is not None and left == 1
        # A copy for each set that steps: `planned_sets` takes the same object twice for the same load twice.
        yield _opened(one, each) if last else replace(one) if one.of_last is not None else one


def _has_own(each: Further) -> bool:
    return each.share is not None or each.rir is not None


def _counted(wanted: Wanted, each: Further) -> Wanted:
    """A set of reps, or of time or distance where that is written."""
    length = each.length
    if length is None:
        return wanted
    return replace(
        wanted,
        seconds=length.low if length.unit == "s" else None,
        metres=length.low if length.unit == "m" else None,
    )


def _own(each: Further, rule: Ruled, count: ExposureCount, basis: Basis) -> Wanted:
    """A load of its own, which rises as the rule's own does."""
    first = first_load(each.share, each.reps, each.rir or Decimal(0), basis)
    target, why = _risen(first, rule, count, basis)
    return _counted(Wanted(Role.WORKING, each.reps, each.rir, target=target, rest=each.rest, why=why), each)


def _stepping(each: Further, basis: Basis) -> Wanted:
    step, sign = (each.up, 1) if each.up is not None else (each.down, -1)
    share, more = Decimal(1), Decimal(0)
    if isinstance(step, Amount):
        more = sign * step.kg(basis.unit)
    elif step is not None:
        share = 1 + sign * step
    role = Role.WORKING if each.down is None else Role.BACKOFF
    one = Wanted(role, each.reps, of_last=share, more=more, rest=each.rest, why=(because("further"),))
    return _counted(one, each)


def _opened(one: Wanted, each: Further) -> Wanted:
    assert each.stop is not None
    stop = because("rep-out", rir=each.stop.rir, most=each.stop.most)
    most = max(each.stop.most, each.reps)
    return replace(one, rir=each.stop.rir, most_reps=most, open_ended=True, why=(*one.why, stop))


def _risen(first: First, rule: Ruled, count: ExposureCount, basis: Basis) -> tuple[OnBar | None, tuple[Reason, ...]]:
    """As often, and by as much, as the load of the rule has gone up."""
    if isinstance(rule, Wave):
        # As in `prescribe._entry`: times through a wave before the max was renewed are in the new max already.
        cycle = count.exposure // len(rule.weeks) - (count.exposure - count.since) // len(rule.weeks)
        return waved(first, rule.add, cycle, basis)
    if isinstance(rule, TopSet):
        return gained(first, rule.gain, count.since, basis)
    # By each rule's own count, which `prescribe` and `lengths` have too: the further load rises when the first does.
    times = count.raises(rule.start, basis)
    if isinstance(rule, Lengthened) and rule.length is not None:
        times = raises_of(rule, rule.length, times)
    elif isinstance(rule, Step):
        times //= rule.hold
    elif isinstance(rule, Double):
        times //= rule.reps.high - rule.reps.low + 1
    elif isinstance(rule, Volume):
        times = times // rule.every // (rule.sets.high - rule.sets.low + 1)
    return raised(first, rule.add, times, basis)
