"""What volume, wave and a double by feel print as next time, worked by hand for a 200 kg squat and 2.5 kg steps."""

from __future__ import annotations

from decimal import Decimal

from pages.sample_pages import context
from sources_for_tests import first_slots, plan_of, squat

from builder.pages.decisions import decisions
from builder.plan import PlannedSlot


def slots(progression: str, weeks: int = 4) -> list[PlannedSlot]:
    return list(first_slots(plan_of(squat(progression), weeks=weeks)))


def said(slot: PlannedSlot) -> list[str]:
    spaces = ("\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}")
    lines = [f"{head} {value}" for head, value in decisions(slot, context("intermediate").words)]
    return [line.replace(spaces[0], " ").replace(spaces[1], " ") for line in lines]


def test_volume_adds_a_set_when_all_reps_were_made_and_load_at_the_top() -> None:
    made = slots("kind: volume, sets: 3-4, reps: 5, start: 60 %, add: 5 kg")
    assert [said(slot) for slot in made[:2]] == [
        ["all reps made → 4 × 5 at 120", "else 3 × 5 at 120"],
        ["all reps made → 3 × 5 at 125", "else 4 × 5 at 120"],
    ]
    assert [(len(slot.work), slot.work[0].rung.mass if slot.work[0].rung else 0) for slot in made[1:3]] == [
        (4, 120), (3, 125)
    ]  # fmt: skip


def test_volume_that_only_begins_again_decides_nothing() -> None:
    """Without `add` the fewest sets come back whatever was done; and while sets stay there is nothing to decide."""
    made = slots("kind: volume, sets: 3-4, reps: 5, start: 60 %, every: 2")
    assert [bool(slot.outcomes) for slot in made] == [False, True, False, False]


def test_a_wave_goes_on_as_planned_or_five_percent_lighter() -> None:
    """Next are 85 % of 200 kg, 170 kg; 95 % of that are 161.5 kg, rounded down 160 (common practice, no source)."""
    first = slots("kind: wave, weeks: [{share: 80 %, sets: 3, reps: 5}, {share: 85 %, sets: 3, reps: 3}]")[0]
    assert [(one.after, one.rung.mass if one.rung else 0, one.reps) for one in first.outcomes] == [
        ("wave-made", 170, 3), ("wave-missed", 160, 3)
    ]  # fmt: skip
    assert said(first) == ["all reps made → 170 × 3", "missed → 160 × 3"]


def test_a_hard_day_looks_to_the_next_hard_day_and_a_light_one_decides_nothing() -> None:
    rule = (
        "kind: wave, add: 2.5 kg, weeks: [{share: 85 %, sets: 3, reps: 3, stress: heavy}, "
        "{share: 60 %, sets: 3, reps: 5, stress: light}]"
    )
    heavy, light = slots(rule)[:2]
    assert [one.after for one in heavy.outcomes] == ["wave-hard-made", "wave-hard-missed"]
    assert heavy.outcomes[0].rung is not None and heavy.outcomes[0].rung.mass == Decimal("172.5")
    assert light.outcomes == ()


def test_a_double_by_feel_says_when_more_is_loaded_and_the_body_alone_says_nothing() -> None:
    (felt,) = first_slots(
        plan_of("movement: goblet squat, progression: {kind: double, sets: 2, reps: 8-12, add: 2 kg}", weeks=1)
    )
    assert said(felt) == ["all 12s → about 2 kg more × 8", "else the same load"]
    (body,) = first_slots(plan_of("movement: push-up, progression: {kind: double, reps: 8-12, add: 2 kg}", weeks=1))
    assert body.outcomes == ()


def test_a_deload_prints_no_decision() -> None:
    light = "deload: {weeks: [2], sets: 60 %, load: 90 %}"
    made = first_slots(plan_of(squat("kind: volume, sets: 3-6, reps: 5, start: 60 %, add: 5 kg"), weeks=2, head=light))
    assert [bool(slot.outcomes) for slot in made] == [True, False]
