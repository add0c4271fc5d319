"""Loads beyond reach are held, and where the next load is too far away reps move in its place until it is due.

Why hold. A rule adds load whatever the lifter gains: fives with 2.5 kg more three days a week came to 172 % of the max
after twelve weeks. So what is planned ends at the upper end of what is likely on the day (`reach`), unless the block
says `beyond: allow`. And where loads lie far apart a rule of small steps would leap: dumbbells of 12 kg became those of
30. There the reps move until the next load is due, within the 2 to 10 % by which load is usually added (ACSM 2009,
`training.norms.INCREASE`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import floor, log

from builder.given import Pattern
from builder.given.careful import LEAST_LEFT
from builder.plan.basis import Basis
from builder.plan.ladders import without_leap
from builder.plan.model import Fact, PlannedSet, Reason, Role, because
from builder.plan.prescribe import Prescription, Wanted
from builder.training.curve import curve_of
from builder.training.estimate import MOST_REPS
from builder.training.loading import Ladder, Rung, side_text
from builder.training.norms import INCREASE
from builder.values.quantity import HAIR, OnBar

MOST_MORE = 4
"""Reps that are done in place of a load at most; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Fit:
    """The load and reps that a set ends with, and why they are not what the target alone would give."""

    rung: Rung
    reps: int
    why: tuple[Reason, ...] = ()
    held: bool = False


def fitted(wanted: Wanted, target: OnBar, rung: Rung, basis: Basis) -> Fit:
    """The rung of a target (kg), or what is done in its place: a lighter load, or other reps."""
    assert basis.ladder is not None
    # The leap first: a rung that is too far away needs no holding, and its reason is another.
    near = without_leap(basis.ladder, target, rung) if wanted.moves else rung
    fit = _within(wanted, target, near, basis)
    if near is not rung and not fit.held:
        fit = Fit(near, fit.reps, (because("next-too-far", target_kg=target, next_kg=rung.mass, load_kg=near.mass),))
    return _instead(wanted, target, fit, basis)


def reach_of(wanted: Wanted, reps: int, basis: Basis) -> OnBar | None:
    """The heaviest load (kg) that may be planned for so many reps of a set; None where nothing is known of it.

    A hold, and a lift from the pins, is held against the max itself.
    """
    counted = reps if wanted.judged else 1
    if basis.reach is None or counted > MOST_REPS:
        return None
    most = basis.reach.most(counted)
    return min(most, basis.reach.leaving(basis.keeps, reps)) if wanted.judged and basis.keeps else most


def too_heavy(first: Wanted, basis: Basis) -> bool:
    """Whether even the lightest load is beyond reach for a set, so that the lift needs another implement."""
    # The body can be given no lighter implement; there the reps fall instead.
    if basis.ladder is None or basis.beyond or basis.own:
        return False
    most = reach_of(first, first.least_reps or first.reps, basis)
    return most is not None and basis.ladder.lightest.mass > most + HAIR


def settled(prescription: Prescription, work: Sequence[PlannedSet]) -> Prescription:
    """The prescription with what its sets end with in place of what the rule asks for: what a deload cuts from."""
    if not any(one.cut for one in work):
        return prescription
    # A deload cuts from what would really be lifted: from the rule's own load it could be heavier than last week.
    sets = (
        replace(wanted, target=one.rung.mass, share=one.share if wanted.share else None, reps=one.reps, why=one.why)
        if one.cut and one.rung
        else wanted
        for wanted, one in zip(prescription.sets, work, strict=True)
    )
    return replace(prescription, sets=tuple(sets))


def above_held(rung: Rung, ladder: Ladder) -> Rung:
    """The load after a held one: the next, or the same where the next is too far away."""
    above = ladder.next_above(rung.mass)
    return rung if above is None or above.mass > rung.mass * (1 + INCREASE.high) else above


def held_notes(work: Sequence[PlannedSet], basis: Basis) -> tuple[Reason, ...]:
    """What the page says of a slot whose load is held, or whose reps move in place of it."""
    held = next((one for one in work if one.held or _moved(one)), None)
    if held is None or held.rung is None or basis.ladder is None:
        return ()
    if _moved(held):
        return (because("reps-instead-of-load", load_kg=held.rung.mass, reps=held.reps),)
    above = basis.ladder.next_above(held.rung.mass)
    if held.role is Role.HOLD or above is None:
        return (because("held-hold", load_kg=held.rung.mass),)
    add, left = above.mass - held.rung.mass, LEAST_LEFT + basis.keeps
    return (because("held-at", load_kg=held.rung.mass, add_kg=add, left=left),)


def _within(wanted: Wanted, target: OnBar, rung: Rung, basis: Basis) -> Fit:
    """What is within reach: the rung, in a range with fewer reps if need be, or else a lighter one.

    Of the body alone less cannot be lifted: where a rep must stay, its reps fall, to one at the least.
    """
    most = None if basis.beyond else reach_of(wanted, wanted.reps, basis)
    if most is None or rung.mass <= most + HAIR or basis.ladder is None:
        return Fit(rung, wanted.reps)
    facts: dict[str, Fact] = {"target_kg": target, "reps": wanted.reps, "most_kg": max(most, Decimal(0))}
    least, held = wanted.least_reps or wanted.reps, "held"
    if basis.keeps and wanted.judged:
        held, facts["left"] = "held-easier", basis.keeps
        if basis.own and not _fits(basis.ladder.lightest, wanted, least, basis):
            reps = next((n for n in range(least, 1, -1) if _fits(basis.ladder.lightest, wanted, n, basis)), 1)
            why = because(f"{held}-reps", **facts, load_kg=basis.ladder.lightest.mass, held_reps=reps)
            return Fit(basis.ladder.lightest, reps, (why,), held=True)
    for reps in range(wanted.reps - 1, least - 1, -1):
        if _fits(rung, wanted, reps, basis):
            return Fit(rung, reps, (because(f"{held}-reps", **facts, load_kg=rung.mass, held_reps=reps),), held=True)
    lighter = basis.ladder.at_most(reach_of(wanted, least, basis) or most) or basis.ladder.lightest
    if lighter is rung:
        return Fit(rung, wanted.reps)
    return Fit(lighter, least, (because(held, **facts, load_kg=lighter.mass, side=side_text(lighter)),), held=True)


def _fits(rung: Rung, wanted: Wanted, reps: int, basis: Basis) -> bool:
    """Whether a load may be planned for so many reps."""
    most = reach_of(wanted, reps, basis)
    return most is not None and rung.mass <= most + HAIR


def _instead(wanted: Wanted, target: OnBar, fit: Fit, basis: Basis) -> Fit:
    """More reps where the load falls short of the target because the next one is too far.

    In a range not fewer than its top, which was made with this load before the next one was due.
    """
    assert basis.ladder is not None
    above = basis.ladder.next_above(fit.rung.mass)
    wide = above is None or above.mass > fit.rung.mass * (1 + INCREASE.high)
    # Reps of a carry are ways, which the curve of a lift says nothing of.
    if basis.about.pattern is Pattern.CARRY:
        return fit
    if not (wanted.moves and wide and 0 < fit.rung.mass * (1 + INCREASE.high) < target):
        return fit
    curve, left = curve_of(basis.equation, basis.rows), float(wanted.rir or 0)
    begun = min(wanted.reps + left, float(MOST_REPS))
    # As many reps as the missing load is worth by the equation, so that the effort stays what it was.
    cost = curve.at(begun) + log(basis.whole(fit.rung.mass) / basis.whole(target))
    top = wanted.most_reps or fit.reps
    most = min(top + MOST_MORE, MOST_REPS - max(int(left) - (top - fit.reps), 0))
    reps = min(max(floor(curve.reps(cost) - left), top), most)
    # More reps with a load go beyond reach as a heavier load does.
    while reps > fit.reps and not basis.beyond and fit.rung.mass > (reach_of(wanted, reps, basis) or fit.rung.mass):
        reps -= 1
    if reps <= max(fit.reps, wanted.reps):  # Of a held range up to what the rule asks, which is no more than that.
        return replace(fit, reps=max(reps, fit.reps))
    reason = because("reps-instead", load_kg=fit.rung.mass, reps=reps, rule_reps=wanted.reps)
    return Fit(fit.rung, reps, (*fit.why, reason), fit.held)


def _moved(planned: PlannedSet) -> bool:
    return any(reason.step == "reps-instead" for reason in planned.why)
