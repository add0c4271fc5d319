"""One client, one change: slots of a shared block swapped, dropped, altered and added by name and by weeks."""

from __future__ import annotations

from decimal import Decimal

import pytest
from sources_for_tests import CLIENT, HEAD, block, plan, problems_of, sources, squat

from builder.plan import Plan, PlannedSlot

FIVES = squat("kind: single, sets: 3, reps: 5, start: 100 kg, add: 2.5 kg", name="main squat", cues="[Brace.]")
CURL = "movement: leg curl, progression: {kind: double, sets: 3, reps: 8-10, start: 20 kg, add: 2 kg}, accessory: true"
BENCH = "movement: bench press, progression: {kind: single, sets: 3, reps: 5, rir: 2, add: 2.5 kg}"
BLOCK = block(FIVES, BENCH, CURL)


def changed(*changes: str) -> str:
    """An overlay with these changes, each the inside of a flow mapping."""
    return HEAD + "changes:\n" + "".join(f"  - {{{one}}}\n" for one in changes)


def planned(*changes: str, shared: str = BLOCK) -> Plan:
    return plan(CLIENT, shared, changed(*changes))


def names(made: Plan) -> list[list[str]]:
    """What is trained in each week."""
    return [[slot.movement for session in week.sessions for slot in session.slots] for week in made.weeks]


def slots(made: Plan, movement: str) -> list[PlannedSlot]:
    return [slot for session in made.sessions() for slot in session.slots if slot.movement == movement]


def loads(made: Plan, movement: str) -> list[Decimal | None]:
    return [slot.work[0].rung.mass if slot.work[0].rung else None for slot in slots(made, movement)]


def test_a_block_without_changes_is_the_same_plan() -> None:
    assert sources(CLIENT, BLOCK).variants == sources(CLIENT, BLOCK).made == ()
    assert names(plan(CLIENT, BLOCK)) == [["back squat", "bench press", "leg curl"]] * 4


def test_a_swap_for_some_weeks_keeps_the_progress_of_the_slot() -> None:
    """The squat goes on after it as if nothing had been: 2.5 kg a week, as the rule says."""
    made = planned("swap: main squat, to: front squat, weeks: 2-3, why: Her wrists.")
    swapped = ("back squat", "front squat", "front squat", "back squat")
    assert names(made) == [[one, "bench press", "leg curl"] for one in swapped]
    assert loads(made, "back squat") == [Decimal(100), Decimal("107.5")]
    (change,) = slots(made, "front squat")[0].changed
    assert (change.verb, change.movement, change.by, change.why) == ("swap", "back squat", "front squat", "Her wrists.")
    assert not any(slot.changed for slot in slots(made, "back squat"))


def test_a_swapped_movement_takes_over_neither_first_load_nor_cues() -> None:
    """100 kg was chosen for the back squat; the front squat comes from its share of it, 82 % in the library."""
    made = planned("swap: main squat, to: front squat")
    first = slots(made, "front squat")[0]
    assert first.cues == first.about.cues
    assert first.estimated and first.work[0].why[-2].step == "effort"


def test_a_swap_may_have_values_of_its_own() -> None:
    made = planned("swap: main squat, to: front squat, with: {progression: {start: 60 kg, reps: 6}}")
    assert [slot.work[0].reps for slot in slots(made, "front squat")] == [6] * 4
    assert loads(made, "front squat") == [Decimal(60), Decimal("62.5"), Decimal(65), Decimal("67.5")]


def test_a_slot_without_a_name_goes_by_its_movement() -> None:
    assert names(planned("drop: leg curl, weeks: 3")) == [
        ["back squat", "bench press", *([] if week == 3 else ["leg curl"])] for week in (1, 2, 3, 4)
    ]
    assert names(planned("drop: Leg Curl")) == [["back squat", "bench press"]] * 4


def test_a_slot_with_a_name_may_go_by_its_movement_too() -> None:
    assert names(planned("swap: back squat, to: front squat"))[0][0] == "front squat"


def test_an_alteration_joins_key_by_key() -> None:
    made = planned("alter: bench press, with: {rest: 5 min, progression: {sets: 4}}, weeks: 1-2")
    told = [(len(slot.work), slot.work[0].reps, slot.work[0].rest) for slot in slots(made, "bench press")]
    assert told[:2] == [(4, 5, 300)] * 2 and all(count == 3 and rest != 300 for count, _, rest in told[2:])
    assert loads(made, "bench press") == loads(planned("drop: leg curl"), "bench press")


def test_another_kind_of_progression_begins_anew() -> None:
    other = "{kind: double, reps: 6-8, start: 80 kg, add: 5 kg}"
    made = planned(f"alter: main squat, with: {{progression: {other}}}, weeks: 3-4")
    assert [(slot.kind, slot.work[0].reps, slot.exposure) for slot in slots(made, "back squat")] == [
        ("single", 5, 1), ("single", 5, 2), ("double", 6, 1), ("double", 7, 2)
    ]  # fmt: skip


def test_rpe_takes_the_place_of_rir() -> None:
    made = planned("alter: bench press, with: {progression: {rpe: 7}}")
    assert slots(made, "bench press")[0].work[0].rir == 3


@pytest.mark.parametrize(
    ("where", "order"),
    [
        ("after: main squat", ["back squat", "push-up", "bench press", "leg curl"]),
        ("day: The day", ["back squat", "bench press", "leg curl", "push-up"]),
        ("day: The day, first: true", ["push-up", "back squat", "bench press", "leg curl"]),
    ],
)
def test_a_slot_is_added_where_it_is_asked_for(where: str, order: list[str]) -> None:
    added = "add: {movement: push-up, progression: {kind: double, reps: 8-10, add: 1 kg}}"
    made = planned(f"{added}, {where}, weeks: 2-4")
    assert names(made) == [[name for name in order if name != "push-up"], order, order, order]
    assert all(slot.changed[0].verb == "add" for slot in slots(made, "push-up"))


def test_changes_of_one_slot_that_fit_are_both_made() -> None:
    made = planned("swap: main squat, to: front squat, weeks: 2", "alter: main squat, with: {rest: 5 min}, weeks: 1-2")
    rested = [session.slots[0].work[0].rest == 300 for session in made.sessions()]
    assert rested == [True, True, False, False]
    assert len(slots(made, "front squat")[0].changed) == 2


def test_slots_of_a_track_may_differ_for_one_client() -> None:
    """Both days share a progression; one of them is another lift for this client, and counts on with the other."""
    shared = block(f"{BENCH}, track: press").replace("days:", "days: &days").replace("suits", "rolling: true, suits")
    second = "  - title: Second\n    slots:\n      - {" + f"{BENCH}, track: press" + "}\n"
    made = plan(CLIENT, shared + second, changed("swap: bench press, to: push-up, day: Second"))
    assert [slot.movement for s in made.sessions() for slot in s.slots][:4] == ["bench press", "push-up"] * 2
    assert [slot.exposure for s in made.sessions() for slot in s.slots][:4] == [1, 2, 3, 4]


def test_a_day_that_loses_all_its_slots_is_not_trained() -> None:
    second = "  - title: Second\n    slots:\n      - {" + CURL.replace("leg curl", "lateral raise") + "}\n"
    made = planned("drop: lateral raise", shared=BLOCK + second)
    assert all(len(week.sessions) == 1 for week in made.weeks)


def test_the_plan_tells_every_change_with_its_reason() -> None:
    made = planned("swap: main squat, to: front squat, weeks: 2-3, why: Her wrists.", "drop: leg curl")
    assert [(note.step, dict(note.facts).get("by")) for note in made.notes] == [
        ("changed-swap-weeks", "front squat"), ("changed-why", None), ("changed-drop", None)
    ]  # fmt: skip


WRONG = [
    ("swap: main sqat, to: front squat", "unknown-slot", 'Did you mean "main squat"?'),
    ("drop: zebra", "unknown-slot", "Slots of this block: main squat, bench press or leg curl."),
    ("drop: leg curl, day: The dey", "unknown-day", 'Did you mean "The day"?'),
    ("drop: leg curl, weeks: 9", "change-nothing", 'Write "weeks: 1-4" or fewer.'),
    ("swap: main squat, to: back squat", "change-nothing", "Write what is to be otherwise"),
    ("alter: bench press, with: {progression: {sets: 3}}", "change-nothing", "Write what is to be otherwise"),
    ("swap: main squat", "change", 'Add "to:": "swap: main squat, to: …".'),
    ("alter: main squat", "change", 'Add "with:"'),
    ("add: {movement: push-up, progression: {kind: double, reps: 8-10, add: 1 kg}}", "change", 'Add "after:"'),
    ("drop: leg curl, to: leg extension", "change", 'take "to:" out'),
    ("drop: leg curl, swap: main squat, to: front squat", "change", "Write one of"),
    ("why: I feel like it", "change", "Write one of"),
    ("alter: main squat, with: {movement: front squat}", "change", 'Write "swap: …, to: …".'),
    ("alter: main squat, with: {rset: 4 min}", "unknown-key", 'Did you mean "rest"?'),
    ("alter: main squat, with: {rest: 1:30}", "clock-time", 'Write "90 s"'),
    ("swap: main squat, to: frnt squat", "unknown-movement", 'Did you mean "front squat"?'),
]  # fmt: skip


@pytest.mark.parametrize(("change", "code", "help_"), WRONG, ids=[change for change, _, _ in WRONG])
def test_a_wrong_change_is_told_where_it_stands(change: str, code: str, help_: str) -> None:
    """In the client's file, with what to type."""
    found = problems_of(CLIENT, BLOCK, changed(change))
    assert [problem.code for problem in found] == [code], [problem.as_text() for problem in found]
    (problem,) = found
    assert problem.span is not None and getattr(problem.span, "file", "") == "file-3.yaml"
    assert help_ in problem.help, problem.help


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("swap: main squat, to: front squat", "swap: main squat, to: leg press, weeks: 2"),
        ("drop: main squat, weeks: 1-2", "alter: main squat, with: {rest: 5 min}, weeks: 2-3"),
        ("alter: main squat, with: {rest: 5 min}", "alter: main squat, with: {rest: 4 min}"),
        (
            "alter: main squat, with: {progression: {sets: 4}}",
            "swap: main squat, to: front squat, with: {progression: {sets: 5}}",
        ),
    ],
)  # fmt: skip
def test_two_changes_that_clash_are_told_with_the_other_line(one: str, other: str) -> None:
    (problem,) = problems_of(CLIENT, BLOCK, changed(one, other))
    assert problem.code == "changes-clash" and "the change in line 3" in problem.fact
    assert problem.help == 'Keep one of the two, or give them different "weeks:".'


def test_two_changes_in_different_weeks_do_not_clash() -> None:
    made = planned("swap: main squat, to: front squat, weeks: 1-2", "swap: main squat, to: leg press, weeks: 3-4")
    assert [week[0] for week in names(made)] == ["front squat"] * 2 + ["leg press"] * 2


def test_dropping_everything_is_no_plan() -> None:
    (problem,) = problems_of(CLIENT, BLOCK, changed("drop: main squat", "drop: bench press", "drop: leg curl"))
    assert problem.code == "change-nothing" and "leave no slot" in problem.fact
