"""Sets of one lift with loads of their own: one slot, whose loads rise together. Loads are worked by hand."""

from __future__ import annotations

import pytest
from sources_for_tests import CLIENT, block, codes, plan_of, slot_in, squat, steps, written

FIVES = "kind: single, sets: 1, reps: 5, start: 70 kg, add: 2.5 kg"
LADDER = "kind: top_set, reps: 3, rir: 1, then: [{down: 10 %, reps: 5, sets: 3}]"


def _weeks(rule: str, weeks: int = 3, head: str = "") -> list[str]:
    made = plan_of(squat(rule), weeks=weeks, head=head)
    return [written(slot_in(made, week)) for week in range(1, weeks + 1)]


def test_steps_up_from_the_set_before_keep_their_distance_as_the_load_rises() -> None:
    """70 x 5, 80 x 3, 90 x 1+ and 2.5 kg more each time."""
    rule = f"{FIVES}, then: [{{up: 10 kg, reps: 3}}, {{up: 10 kg, reps: 1, stop: {{most: 5}}}}]"
    assert _weeks(rule, 2) == [
        "1 x 5 x 70 @2, 1 x 3 x 80, 1 x 1 x 90 @1",
        "1 x 5 x 72.5 @2, 1 x 3 x 82.5, 1 x 1 x 92.5 @1",
    ]
    last = slot_in(plan_of(squat(rule)), 1).work[-1]
    assert (last.open_ended, last.most_reps) == (True, 5)
    assert "from-last" in steps(last)


def test_shares_and_reserves_of_their_own_rise_with_the_rule() -> None:
    """70, 80 and 90 % of 200 kg; 8 with 2 left is 75 % (10 reps to failure: Haff & Triplett 2016, table 17.7)."""
    further = "then: [{share: 80 %, reps: 3}, {share: 90 %, reps: 1}]"
    rule = f"kind: single, sets: 1, reps: 5, start: 70 %, add: 5 kg, {further}"
    assert _weeks(rule, 2) == ["1 x 5 x 140 @2, 1 x 3 x 160, 1 x 1 x 180", "1 x 5 x 145 @2, 1 x 3 x 165, 1 x 1 x 185"]
    back = "kind: double, sets: 1, reps: 4-5, start: 100 kg, add: 5 kg, then: [{rir: 2, reps: 8}]"
    assert _weeks(back) == [
        "1 x 4 x 100 @3, 1 x 8 x 150 @2",
        "1 x 5 x 100 @2, 1 x 8 x 150 @2",
        "1 x 4 x 105 @3, 1 x 8 x 155 @2",
    ]


def test_every_step_of_a_ladder_is_from_the_set_before() -> None:
    """A triple with one left is 180 kg (90 % of 200, table 17.7); 162, 146.25 and 130.5 to the nearest 2.5 kg."""
    assert _weeks(LADDER, 1) == ["1 x 3 x 180 @1, 1 x 5 x 162.5, 1 x 5 x 145, 1 x 5 x 130"]


def test_a_wave_has_its_own_further_sets_in_each_entry_and_adds_to_all() -> None:
    """65, 75, 85 % and 70, 80, 90 % of 200 kg, then all of them with 5 kg more."""
    one = "{share: 65 %, sets: 1, reps: 5, then: [{share: 75 %, reps: 5}, {share: 85 %, reps: 5}]}"
    two = "{share: 70 %, sets: 1, reps: 3, then: [{share: 80 %, reps: 3}, {share: 90 %, reps: 3}]}"
    assert _weeks(f"kind: wave, add: 5 kg, weeks: [{one}, {two}]") == [
        "1 x 5 x 130, 1 x 5 x 150, 1 x 5 x 170",
        "1 x 3 x 140, 1 x 3 x 160, 1 x 3 x 180",
        "1 x 5 x 135, 1 x 5 x 155, 1 x 5 x 175",
    ]


def test_a_cluster_rests_before_each_of_its_sets() -> None:
    """20 s between the doubles, the slot's own rest after the last."""
    rule = "kind: single, sets: 1, reps: 2, start: 150 kg, add: 5 kg, then: [{reps: 2, sets: 3, rest: 20 s}]"
    slot = slot_in(plan_of(squat(rule, rest="3 min")), 1)
    assert written(slot) == "1 x 2 x 150 @2, 3 x 2 x 150"
    assert [one.rest for one in slot.work] == [20, 20, 20, 180]


def test_a_deload_keeps_the_first_sets_and_the_steps() -> None:
    """60 % of 4 sets are 2; 90 % of the triple's 180 is 162, rounded down to 160, and 10 % less 144, 142.5."""
    assert _weeks(LADDER, 2, "deload: {weeks: [2], sets: 60 %, load: 90 %}")[1] == "1 x 3 x 160 @3, 1 x 5 x 142.5"


@pytest.mark.parametrize(
    "rule",
    [
        "kind: step, sets: 1, reps: 5, start: 100 kg, hold: 2, add: 10 kg, then: [{share: 60 %, reps: 5}]",
        "kind: rep_out, sets: 1, reps: 5, start: 100 kg, add: 5 kg, then: [{share: 60 %, reps: 5}]",
        "kind: volume, sets: 1-2, reps: 5, start: 100 kg, add: 10 kg, then: [{share: 60 %, reps: 5}]",
    ],
)
def test_the_further_load_rises_when_the_rule_does(rule: str) -> None:
    """60 % of 200 kg from the start, and above it by what the rule has added."""
    made = plan_of(squat(rule), weeks=4)
    for week in range(1, 5):
        work = slot_in(made, week).work
        assert work[0].rung is not None and work[-1].rung is not None
        assert work[-1].rung.mass - 120 == work[0].rung.mass - 100


def test_where_the_load_is_found_by_feel_so_are_the_further_ones() -> None:
    """No test, no start: nothing to step from."""
    slot = "movement: leg press, progression: {kind: single, sets: 1, reps: 8, add: 5 kg, then: [{up: 10 kg, reps: 5}]}"
    assert all(one.rung is None for one in slot_in(plan_of(slot), 1).work)


def test_two_loads_in_one_entry_are_a_problem() -> None:
    """Which of them counts?"""
    wrong = f"{FIVES}, then: [{{up: 10 kg, share: 80 %, reps: 3}}]"
    assert codes(CLIENT, block(squat(wrong))) == ["further-load"]
    assert codes(CLIENT, block(squat(f"{FIVES}, then: [{{up: 10 kg, rpe: 8, reps: 3}}]"))) == ["further-load"]
