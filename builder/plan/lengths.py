"""Sets of time or distance: how long they are at each exposure, what is loaded for them, and what comes next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from builder.given import Double, Equipment, Single, Step, Volume
from builder.given.rules import Lengthened
from builder.plan.basis import Basis
from builder.plan.model import Outcome, Reason, Role, because
from builder.plan.prescribe import ExposureCount, First, Prescription, Wanted, first_load, raised
from builder.training.loading import Rung
from builder.values.measure import Length, LengthUnit, shown
from builder.values.quantity import OnBar
from builder.values.scalars import Amount

Rule = Single | Double | Step | Volume
LONG, LONG_WAY = 300, 400
"""Seconds and metres from which a length is cut in whole minutes and hundreds of metres."""


@dataclass(frozen=True, slots=True)
class _Stage:
    """One exposure: how many sets of how many seconds or metres, and how often the load has gone up."""

    sets: int
    amount: int
    raises: int


def lengthy(rule: Rule, length: Length, count: ExposureCount, basis: Basis) -> Prescription:
    """The sets of one exposure, and the next exposure where all of them were done or not."""
    exposure = count.raises(rule.start, basis)
    first = _first(rule.start, basis)
    now, following = (_stage(rule, length, number) for number in (exposure, exposure + 1))
    target, why = raised(first, rule.add, now.raises, basis)
    wanted = wanted_length(length.unit, now.amount, target, (*why, _told(rule, length, now)))
    return Prescription((wanted,) * now.sets, outcomes=tuple(_outcomes(rule, length, first, now, following, basis)))


def wanted_length(
    unit: LengthUnit, amount: int, target: OnBar | None, why: tuple[Reason, ...]
) -> Wanted:
    """One set of so many seconds or metres."""
    # One rep each, as the manifest of the log has it too (`log.manifest.PlannedRow`).
    if unit == "s":
        return Wanted(Role.WORKING, 1, target=target, seconds=amount, why=why)
    return Wanted(Role.WORKING, 1, target=target, metres=amount, why=why)


def _first(start: Amount | Decimal | None, basis: Basis) -> First:
    if start is None or (isinstance(start, Decimal) and basis.full is None):
        return First(None, None, (no_load(basis),))
    return first_load(start, 1, Decimal(0), basis)


def no_load(basis: Basis) -> Reason:
    """Why a set of time or distance has no load of its own."""
    return because("no-load" if basis.about.equipment is Equipment.BODYWEIGHT else "by-feel-length")


def _stage(rule: Rule, length: Length, exposure: int) -> _Stage:
    longer = rule.longer.low if rule.longer else 0
    if isinstance(rule, Double):
        # The last step to the top may be a short one; without a load to add the set stays at its top.
        rises = -(-(length.high - length.low) // longer) + 1
        cycle, climbed = divmod(exposure, rises) if rule.add is not None else (0, min(exposure, rises - 1))
        return _Stage(rule.sets, min(length.low + longer * climbed, length.high), cycle)
    if isinstance(rule, Volume):
        cycle, added = divmod(exposure // rule.every, rule.sets.high - rule.sets.low + 1)
        if rule.add is None and not longer:
            added, cycle = min(exposure // rule.every, rule.sets.high - rule.sets.low), 0
        return _Stage(rule.sets.low + added, length.low + longer * cycle, cycle)
    jumps = exposure // rule.hold if isinstance(rule, Step) else exposure
    return _Stage(rule.sets, length.low + longer * jumps, jumps)


def raises_of(rule: Rule, length: Length, exposure: int) -> int:
    """How often the load of a rule has gone up at an exposure."""
    return _stage(rule, length, exposure).raises


def _told(rule: Lengthened, length: Length, now: _Stage) -> Reason:
    today = shown(now.amount, length.unit)
    if length.ranges:
        low, high = shown(length.low, length.unit), shown(length.high, length.unit)
        return because("length-rising", today=today, low=low, high=high)
    return because("length", today=today)


def _outcomes(
    rule: Rule, length: Length, first: First, now: _Stage, following: _Stage, basis: Basis
) -> Sequence[Outcome]:
    """The next exposure when every set was done in full, else this one again; nothing where both are the same."""
    if now == following:
        return ()
    load, then = (_rung(raised(first, rule.add, one.raises, basis)[0], basis) for one in (now, following))
    sets, again = (following.sets, now.sets) if following.sets != now.sets else (None, None)
    # As loaded: a rise that the gym's steps swallow is nothing to decide.
    if (then and then.mass, following.amount, sets) == (load and load.mass, now.amount, again):
        return ()
    return (
        Outcome("length-made", then, sets=sets, length=length.at(following.amount)),
        Outcome("length-short", load, sets=again, length=length.at(now.amount)),
    )


def _rung(target: OnBar | None, basis: Basis) -> Rung | None:
    if target is None or basis.ladder is None:
        return None
    return basis.ladder.pick(target, basis.rounding, basis.ties)


def cut(length: Length, share: Decimal) -> int:
    """A part of a length as people set a watch: by five seconds or a minute, by five or a hundred metres."""
    long = length.low >= (LONG if length.unit == "s" else LONG_WAY)
    step = (60 if length.unit == "s" else 100) if long else 5
    return max(int(length.low * share) // step * step, step)


__all__ = ["cut", "lengthy", "no_load", "raises_of", "wanted_length"]
