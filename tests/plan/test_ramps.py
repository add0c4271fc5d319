"""How much warm-up a slot gets, by how heavy its work is and by what the session has done; common practice."""

from __future__ import annotations

from sources_for_tests import block, client, mass, plan, slot_in, squat

from builder.plan import Plan, PlannedSlot

LIFTS = """lifts:
  back squat: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}
  front squat: {tests: [{date: 2026-12-19, load: 150, reps: 1}]}
  deadlift: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}
"""
BELLS = (
    "gym: {bars: {bar: 20}, pairs: {25: 3, 20: 1, 15: 1, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, "
    "dumbbells: {from: 2, to: 40, step: 2}, stacks: {cable: {from: 5, to: 80, step: 5, add: [1.25, 2.5]}}, "
    "safeties: true, spotter: always}\n"
)


def plan_of(*slots: str, **parts: str) -> Plan:
    """A week of one day with these slots, for a lifter with some sections of the profile written otherwise."""
    return plan(client(**parts), block(*slots, weeks=1))


def _ramp(slot: PlannedSlot) -> list[str]:
    return [f"{mass(s)}x{s.reps}" for s in slot.ramp]


def test_heavy_work_ramps_in_full_and_light_work_in_two_sets_and_the_empty_bar() -> None:
    """At 85 % four sets; at 70 %, or with four left, the bar and two."""
    assert len(slot_in(plan_of(squat("kind: single, reps: 4, start: 85 %, add: 1 kg")), 1).ramp) >= 4
    light = slot_in(plan_of(squat("kind: single, reps: 6, start: 70 %, add: 1 kg")), 1)
    assert _ramp(light) == ["20x8", "70x5", "120x2"]
    assert len(slot_in(plan_of(squat("kind: single, reps: 3, rir: 4, add: 1 kg")), 1).ramp) == 3


def test_a_split_squat_after_squats_needs_a_single_set() -> None:
    """Never 8x8, 5x12, 2x16 before two sets."""
    lunge = "movement: Bulgarian split squat, progression: {kind: double, sets: 2, reps: 7-10, start: 18 kg, add: 2 kg}"
    heavy = squat("kind: single, reps: 5, start: 80 %, add: 1 kg")
    assert len(slot_in(plan_of(heavy, lunge, gym=BELLS), 1, 1).ramp) == 1
    assert len(slot_in(plan_of(lunge, gym=BELLS), 1).ramp) == 2


def test_a_second_tested_lift_of_the_pattern_leaves_out_the_bar_and_has_two_sets() -> None:
    """Front squats after back squats."""
    second = "movement: front squat, progression: {kind: single, reps: 3, start: 85 %, add: 1 kg}"
    made = plan_of(squat("kind: single, reps: 5, start: 80 %, add: 1 kg"), second, lifts=LIFTS)
    assert _ramp(slot_in(made, 1, 1)) == ["60x8", "100x3"]


def test_an_accessory_that_is_warm_already_has_no_warm_up() -> None:
    """The second curl of the day."""
    curl = "movement: {}, accessory: true, progression: {{kind: single, reps: 10, start: 12 kg, add: 2 kg}}"
    made = plan_of(curl.format("dumbbell curl"), curl.format("hammer curl"), gym=BELLS)
    assert (len(slot_in(made, 1).ramp), len(slot_in(made, 1, 1).ramp)) == (1, 0)


def test_a_machine_is_warmed_up_without_add_on_plates() -> None:
    """Work at 47.5, which has one; warm-up at whole steps of 5."""
    pull = "movement: lat pull-down, stack: cable, progression: {kind: single, reps: 10, start: 47.5 kg, add: 2.5 kg}"
    assert _ramp(slot_in(plan_of(pull, gym=BELLS), 1)) == ["25x5", "40x3"]


def test_a_light_pull_from_the_floor_begins_with_small_plates_and_says_so() -> None:
    """A row at 67.5 has no 60 or 65 before it."""
    row = "movement: row from the floor, progression: {kind: double, reps: 7-9, start: 67.5 kg, add: 2.5 kg}"
    slot = slot_in(plan_of(row), 1)
    assert _ramp(slot) == ["30x8", "55x3"]
    assert [note.step for note in slot.notes] == ["small-plates"]
    pull = "movement: deadlift, progression: {kind: single, reps: 3, start: 80 %, add: 1 kg}"
    heavy = slot_in(plan_of(pull, lifts=LIFTS), 1)
    assert _ramp(heavy)[0].startswith("60x") and heavy.notes == ()
