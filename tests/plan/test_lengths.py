"""Sets of time and of distance, and conditioning: how they rise, what a deload makes of them, and how they count."""

from __future__ import annotations

import pytest
from pages.sample_pages import context
from sources_for_tests import CLIENT, block, plan_of, problems_of

from builder.pages.planview import slot_notes
from builder.pages.setlines import planned_text, set_lines
from builder.pages.sheet import Density
from builder.plan import Plan, PlannedSlot
from builder.values.measure import Length, shown


def slots(made: Plan) -> list[PlannedSlot]:
    return [slot for session in made.sessions() for slot in session.slots]


def told(made: Plan) -> list[str]:
    """The first working set of each session as pages print it, with plain spaces."""
    words = context("intermediate").words
    texts = (planned_text(slot, slot.work[0], words) for slot in slots(made))
    return [text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ") for text in texts]


def slot(movement: str, rule: str, **other: str) -> str:
    more = "".join(f", {key}: {value}" for key, value in other.items())
    return f"movement: {movement}, progression: {{{rule}}}{more}"


def test_a_time_rises_through_its_range_and_stays_at_the_top() -> None:
    made = plan_of(slot("plank", "kind: double, sets: 3, time: 30-45 s, longer: 5 s"), weeks=6)
    assert told(made) == ["30 s", "35 s", "40 s", "45 s", "45 s", "45 s"]


def test_a_distance_at_its_top_takes_more_load_and_starts_again() -> None:
    rule = "kind: double, sets: 3, distance: 20-40 m, longer: 10 m, start: 60 kg, add: 5 kg"
    made = plan_of(slot("back squat", rule), weeks=5)
    assert told(made) == ["60 × 20 m", "60 × 30 m", "60 × 40 m", "65 × 20 m", "65 × 30 m"]


def test_the_last_step_to_the_top_may_be_a_short_one() -> None:
    made = plan_of(slot("plank", "kind: double, time: 30-40 s, longer: 7 s"), weeks=4)
    assert told(made) == ["30 s", "37 s", "40 s", "40 s"]


def test_the_other_kinds_rise_as_they_do_in_load() -> None:
    step = plan_of(slot("plank", "kind: step, time: 20 s, hold: 2, longer: 10 s"), weeks=5)
    assert told(step) == ["20 s", "20 s", "30 s", "30 s", "40 s"]
    assert told(plan_of(slot("plank", "kind: single, time: 1 min"), weeks=3)) == ["60 s"] * 3
    assert told(plan_of(slot("plank", "kind: single, time: 1 min, longer: 30 s"), weeks=3)) == ["60 s", "90 s", "2 min"]
    sets = plan_of(slot("plank", "kind: volume, sets: 2-4, time: 30 s"), weeks=4)
    assert [len(one.work) for one in slots(sets)] == [2, 3, 4, 4]


def test_a_deload_takes_sets_or_where_there_is_one_its_length() -> None:
    """60 % of 3 sets are 2; 60 % of 30 min are 18 (the deload's own share)."""
    light = "deload: {weeks: [2], sets: 60 %, load: 90 %}"
    plank = slots(plan_of(slot("plank", "kind: single, sets: 3, time: 40 s"), weeks=2, head=light))
    assert [(len(one.work), one.work[0].seconds) for one in plank] == [(3, 40), (2, 40)]
    bike = slots(plan_of("conditioning: bike, progression: {kind: single, time: 30 min}", weeks=2, head=light))
    assert [(len(one.work), one.work[0].seconds) for one in bike] == [(1, 1800), (1, 1080)]


def test_the_body_alone_says_nothing_of_a_load() -> None:
    """Neither on the line, nor in a note: a plank has no load to choose and none to write down."""
    ctx = context("intermediate")
    for text in (slot("plank", "kind: single, time: 40 s"), slot("push-up", "kind: double, reps: 8-12, add: 1 kg")):
        (one,) = slots(plan_of(text, weeks=1))
        assert one.unloaded and one.work[0].rung is None
        notes = " ".join(note.text for note in slot_notes(ctx, one, Density.NORMAL))
        assert not [word for word in ("load", "By feel", "by feel") if word in notes], notes
        assert set_lines(one, ctx.words)[0].load == ""


def test_a_carry_without_a_start_is_found_by_feel() -> None:
    (one,) = slots(plan_of(slot("suitcase carry", "kind: single, distance: 20 m"), weeks=1))
    assert not one.unloaded
    assert one.work[0].why[-2].step == "by-feel-length"


def test_a_length_leaves_no_reps_in_reserve_and_sets_no_record() -> None:
    rule = "kind: single, sets: 2, distance: 20 m, start: 190 kg, longer: 5 m"
    for one in slots(plan_of(slot("back squat", rule), weeks=4)):
        assert all(planned.left is None and planned.mark is None and not planned.milestone for planned in one.work)


def test_a_loaded_length_is_warmed_up_once_with_half_of_it() -> None:
    (one,) = slots(plan_of(slot("back squat", "kind: single, distance: 40 m, start: 100 kg"), weeks=1))
    assert [(ramp.metres, ramp.reps) for ramp in one.ramp] == [(20, 1)]


def test_time_and_distance_count_apart_and_each_side_for_itself() -> None:
    """Side planks 2 × 30 s each side are 120 s; a carry of 2 × 20 m on either side 80 m. Neither is a tonnage."""
    texts = (
        slot("side plank", "kind: single, sets: 2, time: 30 s"),
        slot("suitcase carry", "kind: single, sets: 2, distance: 20 m"),
        "conditioning: bike, progression: {kind: single, time: 10 min}",
    )
    total = plan_of(*texts, weeks=1).weeks[0].total
    assert (total.seconds, total.metres, total.tonnage, total.reps, total.sets) == (720, 80, 0, 0, 4)


def test_conditioning_is_one_piece_with_its_zone_and_may_have_sets() -> None:
    made = slots(
        plan_of(
            "conditioning: easy bike, zone: you can talk, progression: {kind: double, time: 20-30 min, longer: 5 min}",
            "conditioning: rower, rest: 2 min, progression: {kind: single, sets: 6, distance: 500 m}",
            weeks=1,
        )
    )
    assert [(one.movement, len(one.work), one.zone) for one in made] == [
        ("easy bike", 1, "you can talk"), ("rower", 6, None)
    ]  # fmt: skip
    assert all(one.conditioning and one.unloaded for one in made)
    assert [one.work[0].rest for one in made] == [0, 120]


def test_what_comes_next_is_told_for_lengths() -> None:
    rule = "kind: double, sets: 3, distance: 20-30 m, longer: 10 m, start: 60 kg, add: 5 kg"
    first, second = slots(plan_of(slot("back squat", rule), weeks=2))
    length = [(row.after, row.rung.mass if row.rung else None, row.length) for row in first.outcomes]
    assert length == [("length-made", 60, Length(30, 30, "m")), ("length-short", 60, Length(20, 20, "m"))]
    assert [(row.rung.mass if row.rung else None, str(row.length)) for row in second.outcomes] == [
        (65, "20 m"), (60, "30 m")
    ]  # fmt: skip
    assert slots(plan_of(slot("plank", "kind: single, time: 40 s"), weeks=1))[0].outcomes == ()


def test_further_sets_may_be_lengths() -> None:
    rule = "kind: single, sets: 1, time: 60 s, then: [{time: 30 s, sets: 2}]"
    (one,) = slots(plan_of(slot("plank", rule), weeks=1))
    assert [planned.seconds for planned in one.work] == [60, 30, 30]


@pytest.mark.parametrize(
    ("amount", "unit", "text"),
    [(45, "s", "45 s"), (60, "s", "60 s"), (90, "s", "90 s"), (120, "s", "2 min"), (150, "s", "2:30 min"),
     (1200, "s", "20 min"), (20, "m", "20 m"), (1000, "m", "1 km"), (1500, "m", "1500 m")],
)  # fmt: skip
def test_a_length_is_told_as_people_write_it(amount: int, unit: str, text: str) -> None:
    assert shown(amount, unit) == text  # type: ignore[arg-type]


WRONG = [
    ("movement: plank, progression: {kind: double, time: 30 s, longer: 5 s}", "not-a-range", "30-60 s"),
    ("movement: plank, progression: {kind: double, time: 30-60 s}", "missing-key", 'Add "longer: 5 s"'),
    ("movement: plank, progression: {kind: single, time: 30-60 s}", "not-a-range", "kind: double, time: 30-60 s"),
    ("movement: plank, progression: {kind: single, time: 30}", "not-a-length", 'Write "30 s" or'),
    ("movement: plank, progression: {kind: single, time: 1:30}", "clock-time", 'Write "90 s"'),
    ("movement: plank, progression: {kind: single, time: 30 s, rir: 2}", "measure", 'Take "rir:" out'),
    ("movement: plank, progression: {kind: single, time: 30 s, reps: 5}", "measure", "Keep one of them"),
    ("movement: plank, progression: {kind: single, time: 30 s, longer: 5 m}", "measure", 'Write "longer: 5 s".'),
    ("movement: plank, progression: {kind: single, reps: 5, add: 1 kg, longer: 5 s}", "measure", "time: …"),
    ("movement: plank, progression: {kind: step, time: 30 s, hold: 2}", "missing-key", 'Add "longer: 5 s"'),
    # A yard is 0.9144 m exactly (international yard and pound agreement, 1959): 40 yd are 36.58 m.
    ("movement: plank, progression: {kind: single, distance: 40 yd}", "not-a-length", 'Write "37 m".'),
    ("conditioning: bike, progression: {kind: single, reps: 5, add: 1 kg}", "measure", "time: 20 min"),
    ("movement: plank, zone: easy, progression: {kind: single, time: 30 s}", "measure", 'Take "zone:" out'),
    ("movement: plank, conditioning: bike, progression: {kind: single, time: 30 s}", "slot", "conditioning: easy bike"),
    ("movement: back squat, progression: {kind: single, reps: 5}", "missing-key", 'Add "add: …"'),
]


@pytest.mark.parametrize(("text", "code", "help_"), WRONG, ids=[text for text, _, _ in WRONG])
def test_what_does_not_go_together_is_told_with_what_to_type(text: str, code: str, help_: str) -> None:
    found = problems_of(CLIENT, block(text))
    assert [problem.code for problem in found] == [code], [problem.as_text() for problem in found]
    assert help_ in found[0].help, found[0].help
