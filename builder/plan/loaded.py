"""From wanted sets to planned sets: plates on the bar, brackets and rests."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from operator import attrgetter

from builder.plan.basis import Basis
from builder.plan.held import Fit, fitted, reach_of
from builder.plan.model import Outcome, PlannedSet, Reason, Role, because
from builder.plan.prescribe import Prescription, Wanted
from builder.training.estimate import MOST_REPS
from builder.training.expected import Reserve
from builder.training.loading import Rung, side_text
from builder.values.quantity import HAIR, NOTHING, OnBar, Rounding, WithBody

_mass = attrgetter("mass")
HEAVY_SHARE, HEAVY_REST, USUAL_REST, LIGHT_REST = Decimal("0.85"), 240, 150, 90
"""Rests in seconds by share of the max: 3-5 min for 1-6RM loads (ACSM 2009), less below (ACSM, from memory)."""


def planned_sets(prescription: Prescription, basis: Basis, rest: int | None) -> tuple[PlannedSet, ...]:
    """The working sets with real loads. `rest` (s) is the slot's own; without it the load decides."""
    made: list[PlannedSet] = []
    last: Wanted | None = None
    for wanted in prescription.sets:
        if made and wanted.rest is not None:
            # A rule names the rest before a set, a planned set has the one after it.
            made[-1] = replace(made[-1], rest=wanted.rest)
        # The same object is the same set (`further` makes copies where it is not); nothing is worked out twice.
        if wanted is last:
            made.append(made[-1])
            continue
        last = wanted
        fit, why, target = _loaded(wanted, basis, prescription.rounding or basis.rounding, made)
        rung, reps = (fit.rung, fit.reps) if fit else (None, wanted.reps)
        share = _share(wanted, target, fit, basis)
        made.append(
            PlannedSet(
                role=wanted.role,
                reps=reps,
                rir=wanted.rir,
                share=share,
                target=target,
                rung=rung,
                # Not `rest or`: no rest at all is a rest of the coach's own.
                rest=_rest(share) if rest is None else rest,
                seconds=wanted.seconds,
                metres=wanted.metres,
                most_reps=wanted.most_reps,
                open_ended=wanted.open_ended,
                bracket=_bracket(wanted, target, fit, basis),
                why=why,
                reserve=_reserve(wanted, rung, reps, basis),
                reach=reach_of(wanted, reps, basis),
            )
        )
    return tuple(made)


def _reserve(wanted: Wanted, rung: Rung | None, reps: int, basis: Basis) -> Reserve | None:
    """What a loaded set leaves; a hold or a way is no reps, and from the pins the lift is another."""
    if rung is None or basis.reach is None or not wanted.judged:
        return None
    return basis.reach.left(rung.mass, reps)


def back_offs(prescription: Prescription, work: tuple[PlannedSet, ...], basis: Basis) -> tuple[Outcome, ...]:
    """The back-off load after each end of the top set's bracket and after its own load, the lightest first.

    Nothing where they do not differ.
    """
    lighter = next((wanted for wanted in prescription.sets if wanted.of_top is not None), None)
    top = work[0]
    if lighter is None or lighter.of_top is None or top.bracket is None or top.rung is None or basis.ladder is None:
        return ()
    rows = []
    for rung in sorted({top.bracket[0], top.rung, top.bracket[1]}, key=lambda one: one.mass):
        target = of_top(basis.whole(rung.mass), lighter.of_top, basis)
        picked = basis.ladder.pick(target, basis.rounding, basis.ties)
        rows.append(Outcome("top-set", fitted(lighter, target, picked, basis).rung, top=rung))
    return tuple(rows) if len({row.rung for row in rows}) > 1 else ()


def of_top(moved: WithBody, share: Decimal, basis: Basis) -> OnBar:
    """The target (kg) of a back-off set: a share of the mass that the top set moved, the body included."""
    return basis.load_of(moved, share)


def _of_last(last: Rung, wanted: Wanted, basis: Basis) -> tuple[OnBar, Reason]:
    """The target (kg) of a set that steps from the one before it, by a mass or by a share of all that is lifted."""
    assert wanted.of_last is not None
    target = OnBar(max(basis.load_of(basis.whole(last.mass), wanted.of_last) + wanted.more, NOTHING))
    if wanted.more:
        return target, because("from-last", last_kg=last.mass, more_kg=wanted.more, target_kg=target)
    return target, because("of-last", last_kg=last.mass, of_last_share=wanted.of_last, target_kg=target, **basis.body)


def _loaded(
    wanted: Wanted, basis: Basis, rounding: Rounding, made: list[PlannedSet]
) -> tuple[Fit | None, tuple[Reason, ...], OnBar | None]:
    target, why = wanted.target, wanted.why
    if wanted.of_top is not None and made and made[0].rung is not None:
        target = of_top(basis.whole(made[0].rung.mass), wanted.of_top, basis)
        facts = {"top_kg": made[0].rung.mass, "of_top_share": wanted.of_top, "target_kg": target} | basis.body
        why = (*why, because("of-top", **facts))
    elif wanted.of_last is not None and made and (last := made[-1].rung) is not None:
        target, reason = _of_last(last, wanted, basis)
        why = (*basis.why, *why, reason)
    # A back-off set stands on the top set, whose reasons tell the way from the test.
    elif wanted.role is not Role.BACKOFF:
        why = (*basis.why, *why)
    if target is None or basis.ladder is None:
        return None, why, None
    rung = basis.ladder.pick(target, rounding, basis.ties)
    fit = fitted(wanted, target, rung, basis)
    # The reason of a held load names its plates itself.
    loadable = _loadable(target, rung, basis, rounding) if fit.rung is rung else ()
    return fit, (*why, *loadable, *fit.why), target


def _loadable(target: OnBar, rung: Rung, basis: Basis, rounding: Rounding) -> tuple[Reason, ...]:
    assert basis.ladder is not None
    step = f"loadable-{rounding}"
    if target < basis.ladder.lightest.mass - HAIR:
        step = "under-lightest"
    elif target > basis.ladder.heaviest.mass + HAIR:
        step = "over-heaviest"
    elif basis.own and not target:
        step = "body-heavier"
    side, implement = side_text(rung), basis.ladder.name
    return (because(step, target_kg=target, load_kg=rung.mass, side=side, implement=implement),)


def _share(wanted: Wanted, target: OnBar | None, fit: Fit | None, basis: Basis) -> Decimal | None:
    """The share of the max that is asked for; of what is lifted where the load is held below it."""
    share = wanted.share
    if share is None:
        share = basis.whole(target) / basis.full if target is not None and basis.full else None
    if share is None or target is None or fit is None or not fit.held:
        return share
    return share * basis.whole(fit.rung.mass) / basis.whole(target)


def _rest(share: Decimal | None) -> int:
    if share is None:
        return LIGHT_REST
    return HEAVY_REST if share >= HEAVY_SHARE else USUAL_REST


def _bracket(wanted: Wanted, target: OnBar | None, fit: Fit | None, basis: Basis) -> tuple[Rung, Rung] | None:
    """The loads between which the target effort is likely found on the day; the planned one lies among them.

    Around the target rather than what is believed, so that an expected gain moves the bracket along.
    """
    ladder, effort = basis.ladder, wanted.reps + (wanted.rir or Decimal(0))
    if not wanted.bracketed or fit is None or basis.reach is None or ladder is None or effort > MOST_REPS:
        return None
    planned = fit.rung
    middle = basis.whole(planned.mass if fit.held or target is None else target)
    factor = basis.reach.factor(effort)
    low = min(ladder.pick(basis.load_of(WithBody(middle / factor)), Rounding.UP), planned, key=_mass)
    high = max(ladder.pick(basis.load_of(middle, factor), Rounding.DOWN), planned, key=_mass)
    most = None if basis.beyond else reach_of(wanted, wanted.reps, basis)
    if most is not None and high.mass > most:
        high = max(ladder.at_most(most) or planned, planned, key=_mass)
    if low is high:
        low = ladder.below(planned.mass) or planned
    return (low, high) if low.mass < high.mass else None
