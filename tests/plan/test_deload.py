"""A deload week is the same session with less of it: fewer sets or reps, less load, more in reserve, rounded down."""

import pytest
from sources_for_tests import (
    CLIENT,
    block,
    client,
    first_slots,
    loads,
    mass,
    plan,
    plan_of,
    slot_in,
    squat,
    steps,
    tonnage,
    written,
)

FIVES = squat("kind: single, sets: 3, reps: 5, rir: 1, start: 100 kg, add: 5 kg")


def test_sets_load_and_effort_are_cut_and_the_progression_waits() -> None:
    """60 % of 3 sets is 1.8, so 2; 90 % of the last 105 is 94.5, rounded down 92.5; 2 more in reserve. Then 110."""
    made = plan_of(FIVES, weeks=4, head="deload: {weeks: [3]}")
    assert [written(slot) for slot in first_slots(made)] == [
        "3 x 5 x 100 @1",
        "3 x 5 x 105 @1",
        "2 x 5 x 92.5 @3",
        "3 x 5 x 110 @1",
    ]


def test_a_deload_counts_where_the_rule_says_so() -> None:
    """With counts: true it takes its own turn, 90 % of 110 is 99, and the week after goes on from 115."""
    assert loads(plan_of(FIVES, weeks=4, head="deload: {weeks: [3], counts: true}")) == ["100", "105", "97.5", "115"]


@pytest.mark.parametrize(
    ("sets", "share", "left"),
    [(1, "10 %", 1), (2, "60 %", 1), (3, "50 %", 1), (4, "60 %", 2), (5, "60 %", 3), (5, "50 %", 2), (6, "100 %", 6)],
)
def test_sets_are_rounded_to_whole_ones_and_never_to_none(sets: int, share: str, left: int) -> None:
    """The half goes to fewer sets; one always stays."""
    made = plan_of(
        squat(f"kind: single, sets: {sets}, reps: 5, add: 5 kg"), weeks=2, head=f"deload: {{weeks: [2], sets: {share}}}"
    )
    assert len(slot_in(made, 2).work) == left


def test_reps_may_be_cut_instead() -> None:
    """Half of 5 reps is 2.5, so 2; the sets stay; the load, 95 % of 100, is 95."""
    made = plan_of(FIVES, weeks=2, head="deload: {weeks: [2], sets: 100 %, reps: 50 %, load: 95 %, easier: 0}")
    assert written(slot_in(made, 2)) == "3 x 2 x 95 @1"


def test_reserve_ends_at_six() -> None:
    """5 left and 3 easier are 6."""
    made = plan_of(squat("kind: single, reps: 5, rir: 5, add: 5 kg"), weeks=2, head="deload: {weeks: [2], easier: 3}")
    assert slot_in(made, 2).work[0].rir == 6


@pytest.mark.parametrize(("start", "left"), [("5 kg", "2.5"), ("4 kg", "0")])
def test_nothing_smaller_than_two_and_a_half_kilograms_hangs_from_a_belt(start: str, left: str) -> None:
    """Half of 5 kg is hung, half of 4 kg is not; common practice, no source. The bodyweight is not known here."""
    rule = f"movement: pull-up, progression: {{kind: single, reps: 5, start: {start}, add: 1 kg}}"
    lifter = client(client="client: {name: Q, units: kg}\n")
    made = plan(lifter, block(rule, weeks=2, head="deload: {weeks: [2], load: 50 %}"))
    assert loads(made)[1] == left


def test_loads_round_down_even_where_the_gym_rounds_up() -> None:
    """90 % of 101 is 90.9: 90, although this gym rounds up, as 101 to 102.5 a week before."""
    up = client(gym="gym: {bars: {bar: 20}, pairs: {25: 6, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, rounding: up}\n")
    made = plan(
        up, block(squat("kind: single, reps: 5, start: 101 kg, add: 7.5 kg"), weeks=2, head="deload: {weeks: [2]}")
    )
    assert loads(made) == ["102.5", "90"]


@pytest.mark.parametrize(
    "rule",
    [
        "kind: single, sets: 4, reps: 5, add: 2.5 kg",
        "kind: double, sets: 4, reps: 5-6, add: 2.5 kg",
        "kind: wave, weeks: [{share: 70 %, sets: 4, reps: 5}, {share: 72 %, sets: 4, reps: 5}]",
        "kind: top_set, reps: 3, rir: 2, backoff: {sets: 3, reps: 5, share: 85 %}",
        "kind: step, sets: 4, reps: 5, hold: 2, add: 2.5 kg",
        "kind: volume, sets: 4-6, reps: 5",
        "kind: rep_out, sets: 4, reps: 5, add: 2.5 kg",
    ],
)
def test_every_kind_is_lighter_in_volume_than_the_week_before(rule: str) -> None:
    """Kilograms times reps fall, nothing is open-ended or at stake, and no table of outcomes is printed."""
    made = plan_of(squat(rule), weeks=3, head="deload: {weeks: [2]}")
    before, lighter, _ = (week.sessions[0] for week in made.weeks)
    assert tonnage(lighter) < tonnage(before)
    slot = lighter.slots[0]
    assert slot.outcomes == ()
    assert not any(s.open_ended or s.bracket or s.milestone or s.most_reps for s in slot.work)


def test_back_offs_are_taken_from_the_lighter_top_set_once() -> None:
    """The top 175 becomes 174 x 90 % = 156.6, so 155; 80 % of that is 124, rounded down 122.5, not 90 % of it again."""
    made = plan_of(
        squat("kind: top_set, reps: 3, rir: 2, backoff: {sets: 3, reps: 5, share: 80 %}"),
        weeks=2,
        head="deload: {weeks: [2]}",
    )
    assert written(slot_in(made, 2)) == "1 x 3 x 155 @4, 1 x 5 x 122.5"


def test_the_bar_is_the_lightest_deload() -> None:
    """90 % of an empty bar is the empty bar, and the reason says so."""
    made = plan_of(squat("kind: single, reps: 5, start: 20 kg, add: 2.5 kg"), weeks=1, head="deload: {weeks: [1]}")
    (first, *_) = slot_in(made, 1).work
    assert mass(first) == "20"
    assert steps(first)[-1] == "under-lightest"


WALKOUT = "drill: walkout, of: back squat, progression: {kind: hold, from: 90 %, to: 95 %, every: 1 week}"
ROW = "movement: barbell row, accessory: true, progression: {kind: single, reps: 8, start: 60 kg, add: 1 kg}"


@pytest.mark.parametrize(
    ("drop", "kept"),
    [
        ("", ["back squat", "barbell row"]),
        (", drop: [accessories]", ["back squat", "back squat"]),
        (", drop: [drills, accessories]", ["back squat"]),
        (", drop: []", ["back squat", "back squat", "barbell row"]),
    ],
)
def test_drills_and_accessories_may_be_dropped_and_the_order_stays(drop: str, kept: list[str]) -> None:
    """Drills are dropped unless the rule says otherwise."""
    made = plan_of(WALKOUT, FIVES, ROW, weeks=2, head=f"deload: {{weeks: [2]{drop}}}")
    assert [slot.movement for slot in made.weeks[1].sessions[0].slots] == kept
    assert [slot.movement for slot in made.weeks[0].sessions[0].slots] == ["back squat", "back squat", "barbell row"]


def test_the_reason_for_less_is_kept() -> None:
    """Each lighter set says by how much."""
    made = plan_of(FIVES, weeks=2, head="deload: {weeks: [2], load: 85 %}")
    assert all("deload" in steps(s) for s in slot_in(made, 2).work)
    assert not any("deload" in steps(s) for s in slot_in(made, 1).work)


def test_a_deload_before_the_first_exposure_cuts_from_the_first() -> None:
    """Week 1: 90 % of 100; week 2 is then the first exposure, at 100."""
    assert loads(plan_of(FIVES, weeks=3, head="deload: {weeks: [1]}")) == ["90", "100", "105"]


def test_intensity_may_be_cut_alone_and_the_week_is_still_lighter() -> None:
    """With all sets and reps kept the reps do not climb in a deload: 3 x 4 x 165 becomes 3 x 4 x 147.5."""
    made = plan_of(
        squat("kind: double, sets: 3, reps: 4-6, rir: 1, add: 5 kg"), weeks=3, head="deload: {weeks: [2], sets: 100 %}"
    )
    assert [written(slot) for slot in first_slots(made)] == ["3 x 4 x 165 @3", "3 x 4 x 147.5 @5", "3 x 5 x 165 @2"]


def test_only_deload_weeks_are_lighter() -> None:
    """A block without deloads has none."""
    with_none = plan(CLIENT, block(FIVES, weeks=4))
    assert loads(with_none) == ["100", "105", "110", "115"]
