"""Where the next load depends on the result, the plan says what each result leads to, in the lifter's own loads."""

from __future__ import annotations

from decimal import Decimal

from sources_for_tests import first_slots, plan_of, slot_in, squat

from builder.plan import PlannedSlot


def rows(slot: PlannedSlot) -> list[tuple[str, Decimal | None, Decimal | None]]:
    """Outcome, load of the top set where there is one, and load that follows, in kg."""
    return [(o.after, o.top.mass if o.top else None, o.rung.mass if o.rung else None) for o in slot.outcomes]


def test_an_open_set_moves_on_when_it_reached_its_reps() -> None:
    """Reached: 2.5 kg more, which is what the next week is planned with. Short: the same once more."""
    made = plan_of(squat("kind: rep_out, sets: 2, reps: 5, start: 150 kg, add: 2.5 kg"), weeks=2)
    first, second = first_slots(made)
    assert rows(first) == [("reps-reached", None, Decimal("152.5")), ("reps-short", None, Decimal(150))]
    assert {outcome.reps for outcome in first.outcomes} == {5}
    assert second.work[0].rung == first.outcomes[0].rung


def test_back_off_sets_follow_the_top_set_that_was_lifted() -> None:
    """Three reps with two left are five to failure, 87 % of 200 kg (Haff & Triplett 2016, table 17.7): 174, so 175 kg.

    Below and above it lie the ends of what is likely; of each 80 % are taken, to the nearest 2.5 kg.
    """
    slot = slot_in(plan_of(squat("kind: top_set, reps: 3, rir: 2, backoff: {sets: 2, reps: 5, share: 80 %}")), 1)
    found = rows(slot)
    assert ("top-set", Decimal(175), Decimal(140)) in found
    tops = [top for _, top, _ in found if top is not None]
    assert tops[0] < Decimal(175) < tops[-1]
    assert all(abs(load - top * Decimal("0.8")) <= Decimal("1.25") for _, top, load in found if top and load)
    assert slot.work[1].rung in [outcome.rung for outcome in slot.outcomes]


def test_a_top_set_without_back_off_sets_decides_nothing() -> None:
    assert slot_in(plan_of(squat("kind: top_set, reps: 3, rir: 2")), 1).outcomes == ()


def test_a_deload_decides_nothing() -> None:
    backoff = "kind: top_set, reps: 3, rir: 2, backoff: {sets: 2, reps: 5, share: 80 %}"
    made = plan_of(squat(backoff), weeks=2, head="deload: {weeks: [2]}")
    assert [bool(slot.outcomes) for slot in first_slots(made)] == [True, False]
