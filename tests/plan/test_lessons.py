"""What a top set teaches on paper agrees with the program, and what came out as aimed leads to what is planned."""

from __future__ import annotations

from decimal import Decimal

import pytest
from sources_for_tests import block, client, plan, plan_of, slot_in, squat

from builder.plan import PlannedSlot
from builder.training.expected import Kind, Lifter, Shown, learned
from builder.values.lists import TrainingStatus

TOP = "kind: top_set, reps: 3, rir: 2, gain: 1 %, backoff: {sets: 3, reps: 5, share: 80 %}"


def _slot(rule: str = TOP, week: int = 1) -> PlannedSlot:
    return slot_in(plan_of(squat(rule), weeks=3), week)


def test_as_aimed_leads_to_what_is_planned() -> None:
    """Two left of two aimed at: the planned back-off sets, and the top set of the next week's page."""
    first, second = _slot(), _slot(week=2)
    (row,) = [one for one in first.lessons if one.left == 2]
    assert row.off == first.work[1].rung
    assert row.following == second.work[0].rung


@pytest.mark.parametrize("reps", [1, 3, 6])
def test_more_left_never_leads_to_less(reps: int) -> None:
    """From a miss over none left to four, for today and for next time; and it does lead to more somewhere."""
    rows = _slot(TOP.replace("reps: 3, rir", f"reps: {reps}, rir")).lessons
    assert [row.left for row in rows] == [None, 0, 1, 2, 3, 4]
    for masses in (
        [row.off.mass for row in rows if row.off],
        [row.following.mass for row in rows if row.following],
    ):
        assert len(masses) == len(rows)
        assert masses == sorted(masses)
        assert masses[0] < masses[-1]


def test_pen_and_program_agree() -> None:
    """The next top set of the table is the planned one times what the program learns from the same set in a log."""
    made = plan_of(squat(TOP), weeks=3)
    slot, following, numbers = slot_in(made, 1), slot_in(made, 2).work[0], made.lifts[0]
    top = slot.work[0]
    assert slot.belief is not None and top.rung is not None and following.target is not None
    lifter = Lifter(TrainingStatus.INTERMEDIATE, 24, made.client.training.starts)
    for row in slot.lessons:
        kind = Kind.MISSED if row.left is None else Kind.DONE
        mass = numbers.whole(top.rung.mass)
        came, aimed = (
            learned(slot.belief, Shown(slot.belief.on, mass, 3, left, how), numbers.curve, lifter).log_max
            for left, how in ((row.left or Decimal(0), kind), (Decimal(2), Kind.DONE))
        )
        target = following.target * Decimal(came - aimed).exp()
        assert row.following is not None
        assert abs(row.following.mass - target) <= Decimal("1.26")


def test_nothing_is_taught_where_nothing_is_known_or_in_a_deload() -> None:
    """By feel there is no load to move; a light week decides nothing."""
    untested = "movement: barbell row, progression: {kind: top_set, reps: 5, rir: 2}"
    assert slot_in(plan_of(untested), 1).lessons == ()
    made = plan(client(), block(squat(TOP), weeks=2, head="deload: {weeks: [2]}"))
    assert [bool(slot_in(made, week).lessons) for week in (1, 2)] == [True, False]
    assert _slot("kind: single, reps: 5, add: 2.5 kg").lessons == ()


def test_a_top_set_that_lifts_nothing_teaches_nothing() -> None:
    """A plank at 1 % of a front squat, the bodyweight unknown: nothing hangs from the belt, and nothing is moved."""
    lifts = "lifts: {front squat: {tests: [{date: 2026-12-19, load: 40, reps: 5, rir: 1}]}}\n"
    nameless = client(client="client: {name: Q, units: kg}\n", lifts=lifts)
    slot = slot_in(plan(nameless, block(f"movement: plank, of: front squat, ratio: 1 %, progression: {{{TOP}}}")), 1)
    assert slot.work[0].rung is not None and slot.work[0].rung.mass == 0
    assert slot.lessons == ()
