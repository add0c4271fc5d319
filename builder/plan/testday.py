"""The test week: ramps and three attempts per lift with a decision table, or a rep test where a max is not allowed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal

from builder.given import Block, Pattern, Slot, TopSet
from builder.plan.basis import Basis, Ground, basis_for, estimated_max
from builder.plan.calendar import Week, test_dates
from builder.plan.cautions import NO_MAX_TEST
from builder.plan.held import too_heavy
from builder.plan.loaded import planned_sets
from builder.plan.minutes import session_minutes
from builder.plan.model import LiftNumbers, PlannedSession, PlannedSet, PlannedSlot, Reason, Role, because
from builder.plan.prescribe import Prescription, Wanted
from builder.plan.ramps import Warmth, ramp_sets
from builder.plan.slots import avoided, by_feel
from builder.training.attempts import AttemptShares, Choice, attempt_plan
from builder.training.estimate import MOST_REPS, Rows, estimate
from builder.training.expected import Expected, demonstrated, expected
from builder.training.loading import Rung, side_text
from builder.training.norms import likely_gain
from builder.values.lists import TrainingStatus
from builder.values.quantity import NOTHING, OnBar, WithBody, to_places

REST_BETWEEN_ATTEMPTS = 240
"""Seconds; 2-4 min between trials (NSCA 1RM protocol, Haff & Triplett 2016, ch. 13)."""
REP_TEST_RIR = Decimal(2)
LATELY = 3
"""The last weeks before a test, below whose loads no rep test goes."""


def test_sessions(ground: Ground, week: Week, trained: Iterable[PlannedSession]) -> tuple[PlannedSession, ...]:
    """The sessions of the test week. What was planned before lifts the expected best, so that openers are not stale."""
    test = ground.block.block.test
    assert test is not None
    found = (_testable(ground, word) for word in test.lifts)
    names = [name for name in found if name is not None and not _too_light(ground, name, _last_day(week))]
    days = [names[i : i + test.per_day] for i in range(0, len(names), test.per_day)]
    before = tuple(trained)
    sessions = []
    # Not strict: where days away leave fewer days than lifts, the review tells what found none (`untested_lift`).
    for number, (lifts, on) in enumerate(zip(days, test_dates(week.dates, len(days)), strict=False), 1):
        slots = tuple(_slot(ground, name, before, on) for name in lifts)
        sessions.append(PlannedSession(week.number, number, on, "", session_minutes(slots), slots))
    return tuple(sessions)


def untestable(ground: Ground, week: Week) -> tuple[Reason, ...]:
    """Why lifts of the test are not tested: a limit avoids them, or the gym has no load that is light enough."""
    test = ground.block.block.test
    reasons = []
    for word in test.lifts if test else ():
        name = _testable(ground, word)
        if name is None:
            reasons.append(because("left-out", movement=word))
        elif _too_light(ground, name, _last_day(week)):
            lightest = basis_for(ground, _as_slot(name, ground.machines.get(name)), name, _last_day(week)).ladder
            assert lightest is not None
            reasons.append(because("untestable-here", movement=name, load_kg=lightest.lightest.mass))
    return tuple(reasons)


def _last_day(week: Week) -> date:
    """The last training day of the test week; one that is away for all of it has none, and is judged by its start."""
    return week.dates[-1] if week.dates else week.starts


def _too_light(ground: Ground, name: str, on: date) -> bool:
    """Whether even the lightest load of the gym is more than the lift is likely to be worth."""
    basis = basis_for(ground, _as_slot(name, ground.machines.get(name)), name, on)
    return basis.ladder is not None and basis.reach is not None and basis.ladder.lightest.mass > basis.reach.most(1)


def expected_best(basis: Basis, trained: Iterable[PlannedSession]) -> tuple[WithBody, tuple[Reason, ...]]:
    """The best to plan a test from, in kg: the expected max of the day, or what a planned set is worth if that is more.

    What is planned counts without reserve, and never beyond the likely range of the day.
    """
    assert basis.reach is not None and basis.numbers is not None
    day = expected(basis.reach.belief)
    why = (estimated_max(basis.numbers), because("expected-max", about_kg=day.about, low_kg=day.low, high_kg=day.high))
    worths = (_worth(s, basis.numbers, basis.rows) for s in _own_sets(basis.numbers, trained))
    planned = min(max(worths, default=WithBody(NOTHING)), day.high)
    if planned <= day.about:
        return day.about, why
    return planned, (*why, because("planned-best", estimate_kg=planned))


def most_to_try(basis: Basis, on: date, status: TrainingStatus) -> Decimal:
    """The heaviest attempt in kg: the end of the likely range, or what was really shown and a likely gain since."""
    assert basis.reach is not None and basis.numbers is not None
    numbers, high = basis.numbers, expected(basis.reach.belief).high
    shown = demonstrated(numbers.performances, numbers.equation, basis.rows)
    if shown is None:
        return high
    days = (on - min(numbers.chosen.test.day, on)).days
    gain, _ = likely_gain(shown, days, status, squat=numbers.about.pattern is Pattern.SQUAT)
    return min(high, shown + gain)


def _own_sets(numbers: LiftNumbers, trained: Iterable[PlannedSession]) -> Iterable[PlannedSet]:
    """The working sets of the lift itself whose load was wanted: one raised to the empty bar says nothing."""
    for session in trained:
        for slot in session.slots:
            # Fives from high pins at the max say nothing of a full squat, nor does a max that is taken as a share.
            if slot.movement == numbers.movement and slot.drill is None and not slot.estimated:
                yield from (s for s in slot.work if s.role is Role.WORKING and _was_wanted(s))


def _was_wanted(planned: PlannedSet) -> bool:
    steps = [reason.step for reason in planned.why]
    return planned.rung is not None and planned.reps <= MOST_REPS and "under-lightest" not in steps


def _worth(planned: PlannedSet, numbers: LiftNumbers, rows: Rows) -> WithBody:
    assert planned.rung is not None
    return estimate(numbers.whole(planned.rung.mass), planned.reps, 0, numbers.equation, rows)


def _testable(ground: Ground, word: str) -> str | None:
    """The lift's name; None when a limit avoids it or it cannot be loaded."""
    name = ground.library.named(word)
    left_out = frozenset[str]().union(*(avoided(limit, ground.library) for limit in ground.client.limits))
    return name if name is not None and name not in left_out and ground.numbers(name) is not None else None


def _slot(ground: Ground, name: str, trained: tuple[PlannedSession, ...], on: date) -> PlannedSlot:
    test = ground.block.block.test
    assert test is not None
    basis = basis_for(ground, _as_slot(name, ground.machines.get(name)), name, on)
    forbidden = any(code in ground.cautions for code in NO_MAX_TEST)
    # Where the body is the greater part of the load, singles on a belt are no plan.
    if forbidden or basis.own or test.kind == "reps":
        return _rep_test(ground, basis, trained, forbidden)
    return _attempts(ground, basis, trained, on)


def _attempts(ground: Ground, basis: Basis, trained: tuple[PlannedSession, ...], on: date) -> PlannedSlot:
    numbers = basis.numbers
    assert basis.ladder is not None and basis.reach is not None and numbers is not None
    best, why = expected_best(basis, trained)
    most = most_to_try(basis, on, ground.client.training.status)
    # Only the opener has to be nearly sure; it comes down where little is known, the other two stay the block's.
    rule = _nearly_sure(_rule(ground.block), expected(basis.reach.belief))
    table = attempt_plan(best, basis.ladder, rule, most=most)
    # Printed as if all goes as planned; every other way stands in the table.
    planned = (table.opener, _after(table.second, "solid"), _after(table.third, "solid"))
    shares = (rule.opener, rule.second, rule.third)
    attempts = tuple(
        _attempt(best, share, rung, why, basis) for share, rung in zip(shares, planned, strict=True)
    )
    warm = ramp_sets(attempts[0], basis, ground.racks, Warmth(), most=6)
    notes = [
        because(code) for code, holds in (("attempts-capped", table.capped), ("opener-heavy", table.too_heavy)) if holds
    ]
    return PlannedSlot(
        numbers.movement, numbers.about, "attempts", (*warm, *attempts), numbers.ladder.name, lift=numbers.movement,
        cues=numbers.about.cues, attempts=table, notes=tuple(notes), belief=basis.reach.belief,
    )  # fmt: skip


def _nearly_sure(rule: AttemptShares, day: Expected) -> AttemptShares:
    """The shares of the block, the opener no higher than the low end of what is likely."""
    return replace(rule, opener=min(rule.opener, to_places(day.low / day.about, 4)))


def _after(choices: Iterable[Choice], outcome: str) -> Rung:
    return next(c.rung for c in choices if c.after == outcome and c.follows in ("", outcome))


def _rule(block: Block) -> AttemptShares:
    assert block.block.test is not None
    attempts = block.block.test.attempts
    return AttemptShares(attempts.opener, attempts.second, attempts.third)


def _attempt(best: WithBody, share: Decimal, rung: Rung, why: tuple[Reason, ...], basis: Basis) -> PlannedSet:
    reason = because("attempt", max_kg=best, share=share, load_kg=rung.mass, side=side_text(rung))
    return PlannedSet(
        Role.ATTEMPT, 1, share=share, target=basis.load_of(best, share), rung=rung, rest=REST_BETWEEN_ATTEMPTS,
        why=(*why, reason), reach=basis.reach.most(1) if basis.reach else None,
    )  # fmt: skip


def _rep_test(
    ground: Ground, basis: Basis, trained: tuple[PlannedSession, ...], forbidden: bool
) -> PlannedSlot:
    """A set of reps that stops with two in reserve, from which the max is estimated; none lighter than was trained."""
    test, numbers = ground.block.block.test, basis.numbers
    assert test is not None and numbers is not None
    best, why = expected_best(basis, trained)
    share = basis.effort_share(test.reps, REP_TEST_RIR)
    target = max(basis.load_of(best, share), NOTHING)
    effort = because(
        "effort", reps=test.reps, rir=REP_TEST_RIR, share=share, max_kg=best, target_kg=target, **basis.body
    )
    before = _trained_lately(numbers, trained, test.reps)
    # The tested set, which `basis` puts first; the working max is no step on this way.
    reasons = (basis.why[0], *why, effort)
    if before > target:
        target, reasons = before, (*reasons, because("as-trained", target_kg=before))
    part = basis.whole(target) / best
    wanted = Wanted(Role.WORKING, test.reps, REP_TEST_RIR, share=part, target=target, why=reasons)
    heavy: tuple[Reason, ...] = ()
    if too_heavy(wanted, basis):
        basis, heavy = by_feel(basis)
    # Its reasons are told already.
    work = planned_sets(Prescription((wanted,)), replace(basis, why=()), REST_BETWEEN_ATTEMPTS)
    warm = ramp_sets(work[0], basis, ground.racks, Warmth(), most=5)
    notes = [because(f"rep-test-{code}") for code in NO_MAX_TEST if forbidden and code in ground.cautions]
    if not notes and test.kind == "reps":
        notes = [because("rep-test-chosen")]
    return PlannedSlot(
        basis.movement, basis.about, "rep_test", (*warm, *work), basis.ladder.name if basis.ladder else "",
        lift=basis.movement, cues=basis.about.cues, notes=(*notes, *heavy),
        belief=basis.reach.belief if basis.reach else None,
    )  # fmt: skip


def _trained_lately(numbers: LiftNumbers, trained: tuple[PlannedSession, ...], reps: int) -> OnBar:
    """The heaviest load (kg) that the last weeks plan for at least so many reps; 0 without any."""
    last = max((session.week for session in trained), default=0)
    lately = [session for session in trained if session.week > last - LATELY]
    loads = [s.rung.mass for s in _own_sets(numbers, lately) if s.rung is not None and s.reps >= reps]
    return max(loads, default=NOTHING)


def _as_slot(name: str, machine: str | None) -> Slot:
    """A slot that stands for a tested lift under the conditions of its test, on the machine that the block trains."""
    return Slot(movement=name, stack=machine, progression=TopSet(kind="top_set", reps=(1,), rir=(Decimal(0),)))
