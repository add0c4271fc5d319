"""Targets that can be loaded exactly are loaded exactly, and what no equation covers is not worked out."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sources_for_tests import block, client, plan, plan_of, slot_in, squat, steps

from builder.training.estimate import Equation, estimate, share
from builder.training.loading import dumbbells
from builder.values.quantity import Rounding, WithBody

LOADS = st.integers(8, 120).map(lambda n: Decimal(n) * Decimal("2.5"))
SETS = st.integers(1, 12).flatmap(lambda reps: st.tuples(st.just(reps), st.integers(0, min(6, 15 - reps))))


@given(LOADS, SETS, st.sampled_from(list(Equation)), st.sampled_from(list(Rounding)), st.sampled_from(["1", "0.97"]))
@settings(max_examples=300)
def test_planned_as_tested(
    load: Decimal, done: tuple[int, int], equation: Equation, rounding: Rounding, working: str
) -> None:
    """The reps and reserve of the test, planned from it, give its load in every rounding mode: no noise between."""
    reps, rir = done
    part = share(reps + rir, equation) * Decimal(working)
    target = estimate(WithBody(load), reps, rir, equation) * part
    wanted = load * Decimal(working)
    ladder = dumbbells([wanted - Decimal("2.5"), wanted, wanted + Decimal("2.5")])
    assert ladder.pick(target, rounding).mass == wanted


@pytest.mark.parametrize("rounding", list(Rounding))
@pytest.mark.parametrize(("load", "reps", "rir"), [("90", 5, 1), ("87.5", 6, 2), ("102.5", 8, 3)])
@pytest.mark.parametrize("equation", ["wathan", "epley", "brzycki", "mayhew", "lombardi"])
def test_the_plan_s_first_set_is_the_tested_one(
    load: str, reps: int, rir: int, equation: str, rounding: Rounding
) -> None:
    """Through the whole plan; 90 kg x 5 once came out as 87.5 "next load down"."""
    lifts = f"lifts: {{back squat: {{tests: [{{date: 2026-12-19, load: {load}, reps: {reps}, rir: {rir}}}]}}}}\n"
    rule = squat(f"kind: single, reps: {reps}, rir: {rir}, add: 2.5 kg", rounding=rounding)
    slot = slot_in(plan(client(lifts=lifts, equation=f"equation: {equation}\n"), block(rule)), 1)
    assert slot.work[0].rung is not None
    assert slot.work[0].rung.mass == Decimal(load)


@pytest.mark.parametrize(("reps", "rir"), [(20, 2), (30, 0), (10, 6)])
def test_past_fifteen_reps_to_failure_a_load_is_found_by_feel(reps: int, rir: int) -> None:
    """No equation reaches that far; the sentence says so, and a start that the coach gives is taken."""
    by_feel = slot_in(plan_of(squat(f"kind: single, sets: 2, reps: {reps}, rir: {rir}, add: 2.5 kg")), 1)
    assert [s.rung for s in by_feel.work] == [None, None]
    assert "by-feel-long" in steps(by_feel.work[0])
    started = slot_in(plan_of(squat(f"kind: single, reps: {reps}, rir: {rir}, start: 60 kg, add: 2.5 kg")), 1)
    assert started.work[0].rung is not None
    assert started.work[0].rung.mass == 60
