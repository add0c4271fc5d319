"""The test week: ramps and three attempts per lift with a decision table, or a rep test where a max is not allowed."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from builder.given import Block, Slot, TopSet
from builder.plan.basis import Basis, Ground, basis_for, estimated_max
from builder.plan.calendar import Week, test_dates
from builder.plan.cautions import NO_MAX_TEST
from builder.plan.loaded import planned_sets
from builder.plan.minutes import session_minutes
from builder.plan.model import LiftNumbers, PlannedSession, PlannedSet, PlannedSlot, Reason, Role, because
from builder.plan.prescribe import Prescription, Wanted
from builder.plan.ramps import Warmth, ramp_sets
from builder.plan.slots import avoided
from builder.training.attempts import AttemptShares, Choice, attempt_plan
from builder.training.estimate import MOST_REPS, Rows, estimate
from builder.training.loading import Rung, side_text

REST_BETWEEN_ATTEMPTS = 240
"""Seconds; 2-4 min between trials (NSCA 1RM protocol, Haff & Triplett 2016, ch. 13)."""
REP_TEST_REPS, REP_TEST_RIR = 5, Decimal(2)


def test_sessions(ground: Ground, week: Week, trained: Iterable[PlannedSession]) -> tuple[PlannedSession, ...]:
    """The sessions of the test week. What was planned before lifts the expected best, so that openers are not stale."""
    test = ground.block.block.test
    assert test is not None
    names = [name for word in test.lifts if (name := _testable(ground, word)) is not None]
    days = [names[i : i + test.per_day] for i in range(0, len(names), test.per_day)]
    before = tuple(trained)
    sessions = []
    for number, (lifts, on) in enumerate(zip(days, test_dates(week.dates, len(days)), strict=False), 1):
        slots = tuple(_slot(ground, name, before) for name in lifts)
        sessions.append(PlannedSession(week.number, number, on, "", session_minutes(slots), slots))
    return tuple(sessions)


def untestable(ground: Ground) -> tuple[str, ...]:
    """The lifts of the test that a limit avoids or that cannot be loaded here."""
    test = ground.block.block.test
    return tuple(word for word in (test.lifts if test else ()) if _testable(ground, word) is None)


def expected_best(
    numbers: LiftNumbers, trained: Iterable[PlannedSession], rows: Rows
) -> tuple[Decimal, tuple[Reason, ...]]:
    """The best to plan attempts from, in kg: the estimated max, or what a planned set is worth without reserve."""
    start = estimated_max(numbers)
    planned = max((_worth(s, numbers, rows) for s in _own_sets(numbers, trained)), default=Decimal(0))
    if planned <= numbers.estimate:
        return numbers.estimate, (start,)
    return planned, (start, because("planned-best", estimate_kg=planned))


def _own_sets(numbers: LiftNumbers, trained: Iterable[PlannedSession]) -> Iterable[PlannedSet]:
    """The working sets of the lift itself whose load was wanted: one raised to the empty bar says nothing."""
    for session in trained:
        for slot in session.slots:
            if slot.movement == numbers.movement and slot.drill is None and not slot.estimated:
                yield from (s for s in slot.work if s.role is Role.WORKING and _was_wanted(s))


def _was_wanted(planned: PlannedSet) -> bool:
    steps = [reason.step for reason in planned.why]
    return planned.rung is not None and planned.reps <= MOST_REPS and "under-lightest" not in steps


def _worth(planned: PlannedSet, numbers: LiftNumbers, rows: Rows) -> Decimal:
    assert planned.rung is not None
    return estimate(planned.rung.mass + numbers.own, planned.reps, 0, numbers.equation, rows)


def _testable(ground: Ground, word: str) -> str | None:
    """The lift's name; None when a limit avoids it or it cannot be loaded."""
    name = ground.library.named(word)
    left_out = frozenset[str]().union(*(avoided(limit, ground.library) for limit in ground.client.limits))
    return name if name is not None and name not in left_out and ground.numbers(name) is not None else None


def _slot(ground: Ground, name: str, trained: tuple[PlannedSession, ...]) -> PlannedSlot:
    numbers = ground.numbers(name)
    assert numbers is not None
    basis = basis_for(ground, _as_slot(name, ground.machines.get(name)), name)
    best, why = expected_best(numbers, trained, ground.rows)
    forbidden = any(code in ground.cautions for code in NO_MAX_TEST)
    if forbidden or basis.own:
        return _rep_test(ground, basis, forbidden)
    return _attempts(ground, basis, numbers, best, why)


def _attempts(
    ground: Ground, basis: Basis, numbers: LiftNumbers, best: Decimal, why: tuple[Reason, ...]
) -> PlannedSlot:
    rule = _rule(ground.block)
    assert basis.ladder is not None
    table = attempt_plan(best, basis.ladder, rule)
    planned = (table.opener, _after(table.second, "solid"), _after(table.third, "solid"))
    shares = (rule.opener, rule.second, rule.third)
    attempts = tuple(_attempt(best, share, rung, why) for share, rung in zip(shares, planned, strict=True))
    warm = ramp_sets(attempts[0], basis, ground.racks, Warmth(), most=6)
    notes = [
        because(code) for code, holds in (("attempts-capped", table.capped), ("opener-heavy", table.too_heavy)) if holds
    ]
    return PlannedSlot(
        numbers.movement, numbers.about, "attempts", (*warm, *attempts), numbers.ladder.name, lift=numbers.movement,
        cues=numbers.about.cues, attempts=table, notes=tuple(notes),
    )  # fmt: skip


def _after(choices: Iterable[Choice], outcome: str) -> Rung:
    return next(c.rung for c in choices if c.after == outcome and c.follows in ("", outcome))


def _rule(block: Block) -> AttemptShares:
    assert block.block.test is not None
    attempts = block.block.test.attempts
    return AttemptShares(attempts.opener, attempts.second, attempts.third)


def _attempt(best: Decimal, share: Decimal, rung: Rung, why: tuple[Reason, ...]) -> PlannedSet:
    reason = because("attempt", max_kg=best, share=share, load_kg=rung.mass, side=side_text(rung))
    return PlannedSet(
        Role.ATTEMPT, 1, share=share, target=best * share, rung=rung, rest=REST_BETWEEN_ATTEMPTS, why=(*why, reason)
    )


def _rep_test(ground: Ground, basis: Basis, forbidden: bool) -> PlannedSlot:
    """A set of five that stops with two in reserve, from which the max is estimated."""
    share = basis.effort_share(REP_TEST_REPS, REP_TEST_RIR)
    target = basis.load_at(share)
    why = because(
        "effort", reps=REP_TEST_REPS, rir=REP_TEST_RIR, share=share, max_kg=basis.full or Decimal(0), target_kg=target,
        **basis.body,
    )
    wanted = Wanted(Role.WORKING, REP_TEST_REPS, REP_TEST_RIR, target=target, why=(why,))
    work = planned_sets(Prescription((wanted,)), basis, REST_BETWEEN_ATTEMPTS)
    warm = ramp_sets(work[0], basis, ground.racks, Warmth(), most=5)
    notes = tuple(because(f"rep-test-{code}") for code in NO_MAX_TEST if forbidden and code in ground.cautions)
    return PlannedSlot(
        basis.movement, basis.about, "rep_test", (*warm, *work), basis.ladder.name if basis.ladder else "",
        lift=basis.movement, cues=basis.about.cues, notes=notes,
    )  # fmt: skip


def _as_slot(name: str, machine: str | None) -> Slot:
    """A slot that stands for a tested lift under the conditions of its test, on the machine that the block trains."""
    return Slot(movement=name, stack=machine, progression=TopSet(kind="top_set", reps=(1,), rir=(Decimal(0),)))
