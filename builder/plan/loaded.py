"""From wanted sets to planned sets: plates on the bar, brackets, record marks and rests."""

from __future__ import annotations

from decimal import Decimal

from builder.plan.basis import Basis
from builder.plan.model import Outcome, PlannedSet, Reason, Role, because
from builder.plan.prescribe import Prescription, Wanted
from builder.training.effort import bracket
from builder.training.estimate import MOST_REPS
from builder.training.loading import Rung, side_text
from builder.training.records import RecordMark, record_mark
from builder.values.quantity import HAIR, Rounding

MARK_MOST_REPS = 12
HEAVY_SHARE, HEAVY_REST, USUAL_REST, LIGHT_REST = Decimal("0.85"), 240, 150, 90
"""Rests in seconds by share of the max: 3-5 min for 1-6RM loads (ACSM 2009), less below (ACSM, from memory)."""


def planned_sets(prescription: Prescription, basis: Basis, rest: int | None) -> tuple[PlannedSet, ...]:
    """The working sets with real loads. `rest` (s) is the slot's own; without it the load decides."""
    made: list[PlannedSet] = []
    marks: dict[Decimal, RecordMark | None] = {}
    for wanted in prescription.sets:
        rung, why, target = _loaded(wanted, basis, prescription.rounding or basis.rounding, made)
        share = _share(wanted, target, basis)
        made.append(
            PlannedSet(
                role=wanted.role,
                reps=wanted.reps,
                rir=wanted.rir,
                share=share,
                target=target,
                rung=rung,
                rest=_rest(share) if rest is None else rest,
                seconds=wanted.seconds,
                most_reps=wanted.most_reps,
                open_ended=wanted.open_ended,
                bracket=_bracket(wanted, target, basis),
                mark=_mark(wanted, rung, basis, marks),
                why=why,
            )
        )
    return tuple(made)


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
        target = _of_top(rung, lighter.of_top, basis)
        rows.append(Outcome("top-set", basis.ladder.pick(target, basis.rounding, basis.ties), top=rung))
    return tuple(rows) if len({row.rung for row in rows}) > 1 else ()


def _of_top(top: Rung, share: Decimal, basis: Basis) -> Decimal:
    """The target (kg) of a back-off set: a share of the mass that the top set moved."""
    return (top.mass + basis.own) * share - basis.own


def _loaded(
    wanted: Wanted, basis: Basis, rounding: Rounding, made: list[PlannedSet]
) -> tuple[Rung | None, tuple[Reason, ...], Decimal | None]:
    target, why = wanted.target, wanted.why
    if wanted.of_top is not None and made and made[0].rung is not None:
        target = _of_top(made[0].rung, wanted.of_top, basis)
        facts = {"top_kg": made[0].rung.mass, "of_top_share": wanted.of_top, "target_kg": target} | basis.body
        why = (*why, because("of-top", **facts))
    elif wanted.role is not Role.BACKOFF:
        why = (*basis.why, *why)
    if target is None or basis.ladder is None:
        return None, why, None
    rung = basis.ladder.pick(target, rounding, basis.ties)
    return rung, (*why, *_loadable(target, rung, basis, rounding)), target


def _loadable(target: Decimal, rung: Rung, basis: Basis, rounding: Rounding) -> tuple[Reason, ...]:
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


def _share(wanted: Wanted, target: Decimal | None, basis: Basis) -> Decimal | None:
    if wanted.share is not None:
        return wanted.share
    return (target + basis.own) / basis.full if target is not None and basis.full else None


def _rest(share: Decimal | None) -> int:
    if share is None:
        return LIGHT_REST
    return HEAVY_REST if share >= HEAVY_SHARE else USUAL_REST


def _bracket(wanted: Wanted, target: Decimal | None, basis: Basis) -> tuple[Rung, Rung] | None:
    """The rungs within half a rep of the target effort, where the equations reach that far."""
    slack = Decimal("0.5")
    if not wanted.bracketed or target is None or wanted.rir is None or basis.full is None or basis.ladder is None:
        return None
    if wanted.reps + wanted.rir + slack > MOST_REPS:
        return None
    # Around the target rather than the max, so that an expected gain moves the bracket along.
    full = (target + basis.own) / basis.effort_share(wanted.reps, wanted.rir)
    ends = bracket(full, wanted.reps, wanted.rir, basis.equation, slack, basis.rows)
    low = basis.ladder.pick(ends.low - basis.own, Rounding.UP)
    high = basis.ladder.pick(ends.high - basis.own, Rounding.DOWN)
    return (low, high) if low.mass < high.mass else None


def _mark(
    wanted: Wanted, rung: Rung | None, basis: Basis, known: dict[Decimal, RecordMark | None]
) -> RecordMark | None:
    """The least reps that make a record: only on the tested lift itself, and only on working sets."""
    numbers = basis.numbers
    if (
        wanted.role is not Role.WORKING
        or not wanted.recordable
        or rung is None
        or numbers is None
        or basis.estimated
        or numbers.movement != basis.movement
    ):
        return None
    if rung.mass not in known:
        known[rung.mass] = record_mark(
            rung.mass + basis.own, numbers.performances, numbers.equation, MARK_MOST_REPS, basis.rows
        )
    return known[rung.mass]
