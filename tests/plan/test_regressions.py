"""Defects found in sources, intake and plan: each test states what should hold, and fails until it does."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from sources_for_tests import (
    CLIENT,
    GYM,
    IDENTITY,
    LIFTS,
    TRAINING,
    block,
    client,
    codes,
    loads,
    mass,
    plan,
    plan_of,
    problems_of,
    slot_in,
    squat,
    steps,
)

from builder.intake import load
from builder.values.problem import Problem, Span

FIVES = squat("kind: single, reps: 5, rir: 1, add: 5 kg")
WALKOUT = "drill: walkout, of: back squat, progression: {kind: hold, from: 95 %, to: 105 %, every: 1 week}"
UNSAFE = GYM.replace("safeties: true", "safeties: false")


def _pins(rule: str) -> str:
    return f"drill: pin squat, of: back squat, progression: {{kind: pins, {rule}}}"


class TestSafety:
    """What could load someone too heavily or with the wrong thing."""

    def test_a_ratio_does_not_lift_a_hold_past_its_gate(self) -> None:
        """Without safeties no hold is above the 200 kg max, also when the slot has a ratio of 120 %."""
        made = plan(client(gym=UNSAFE), block(WALKOUT + ", ratio: 120 %", weeks=6))
        assert all(Decimal(load) <= 200 for load in loads(made))

    def test_an_expected_belt_does_not_lift_a_hold_past_its_gate(self) -> None:
        """Nor when the belt is worth 5 % more than was tested: 200 is the most that is known."""
        lifts = LIFTS.replace("reps: 1}]", "reps: 1, belt: false}]", 1)
        made = plan(client(gym=UNSAFE, lifts=lifts), block(WALKOUT + ", trained: {belt: true}", weeks=6))
        assert all(Decimal(load) <= 200 for load in loads(made))

    def test_pins_above_the_max_pass_the_gates_too(self) -> None:
        """130 % from the pins is supramaximal, and this gym has no safeties."""
        pins = _pins("from: 110 cm, to: 100 cm, shares: [130 %, 120 %], reps: 1")
        made = plan(client(gym=UNSAFE), block(pins, weeks=1))
        assert all(Decimal(load) <= 200 for load in loads(made))

    def test_high_pin_squats_do_not_raise_the_attempts(self) -> None:
        """Fives from high pins at 100 % say nothing of a full squat: the opener stays near 91 % of 200."""
        pins = _pins("from: 110 cm, to: 105 cm, shares: [100 %, 95 %], reps: 5")
        made = plan(CLIENT, block(pins, weeks=2, head="test: {week: 2, lifts: [back squat]}"))
        target = made.weeks[1].sessions[0].slots[0].work[0].target
        assert target is not None and target <= Decimal(202) * Decimal("0.91")

    def test_pin_squats_carry_no_record_mark_of_the_full_squat(self) -> None:
        """Seven reps from the pins at hip height are no record of the back squat."""
        slot = slot_in(plan_of(_pins("from: 110 cm, to: 105 cm"), weeks=1), 1)
        assert all(s.mark is None for s in slot.work)

    def test_a_replacement_is_not_itself_to_be_avoided(self) -> None:
        """Two limits: the floor press that replaces the bench press for the shoulder hurts the elbow."""
        limits = (
            "limits: [{area: shoulder, avoid: [bench press], instead: {bench press: floor press}}, "
            "{area: elbow, avoid: [floor press]}]\n"
        )
        texts = (
            client(screening=limits),
            block("movement: bench press, progression: {kind: single, reps: 5, add: 1 kg}"),
        )
        assert codes(*texts) == []
        assert not [s for session in plan(*texts).sessions() for s in session.slots if s.movement == "floor press"]

    def test_a_first_load_written_for_one_movement_is_not_given_to_its_replacement(self) -> None:
        """60 kg on the bar for the bench press are not 40 kg, the rack's heaviest, in each hand."""
        gym = GYM.replace("safeties", "dumbbells: {from: 2, to: 40, step: 2}, safeties")
        limits = "limits: [{area: shoulder, avoid: [bench press], instead: {bench press: dumbbell shoulder press}}]\n"
        slot = "movement: bench press, progression: {kind: single, reps: 5, start: 60 kg, add: 5 kg}"
        (first, *_) = slot_in(plan(client(gym=gym, screening=limits), block(slot)), 1).work
        assert mass(first) != "40"

    def test_cues_written_for_one_movement_are_not_printed_on_its_replacement(self) -> None:
        """ "Touch the chest" has no place on a row."""
        limits = "limits: [{area: shoulder, avoid: [bench press], instead: {bench press: barbell row}}]\n"
        slot = "movement: bench press, cues: [Touch the chest.], progression: {kind: single, reps: 5, add: 5 kg}"
        assert "Touch the chest." not in slot_in(plan(client(screening=limits), block(slot)), 1).cues

    def test_a_hold_of_a_lighter_variant_is_gated_at_the_variants_max(self) -> None:
        """A front squat at 85 % of 200 has a max of 170: without safeties no front-squat walkout is above that."""
        walkout = WALKOUT.replace("of: back squat", "of: front squat, ratio: 85 %")
        made = plan(client(gym=UNSAFE), block(walkout, weeks=6))
        assert all(Decimal(load) <= 170 for load in loads(made))

    def test_a_belt_for_one_movement_adds_nothing_to_its_replacement(self) -> None:
        """The deadlift was to be pulled with a belt; the bench press in its place was tested without and stays so."""
        lifts = LIFTS.replace("load: 100, reps: 1", "load: 100, reps: 1, belt: false")
        limits = "limits: [{area: back, avoid: [deadlift], instead: {deadlift: bench press}}]\n"
        slot = "movement: deadlift, trained: {belt: true}, progression: {kind: single, reps: 5, start: 50 %, add: 1 kg}"
        assert slot_in(plan(client(lifts=lifts, screening=limits), block(slot)), 1).work[0].target == 50

    @pytest.mark.parametrize("movement", ["pull-up", "goblet squat"])
    def test_drills_are_of_lifts_with_a_bar(self, movement: str) -> None:
        """Nobody walks out a pull-up."""
        assert codes(CLIENT, block(WALKOUT.replace("back squat", movement))) != []


class TestNothingIsLostInSilence:
    """What cannot be done is said: a problem, or a note of the plan."""

    def test_a_third_lift_to_test_on_two_training_days_is_said(self) -> None:
        """One a day on two days leaves one over."""
        lifts = LIFTS + "  deadlift: {tests: [{date: 2026-12-19, load: 220, reps: 1}]}\n"
        texts = (
            client(lifts=lifts, training=TRAINING.replace("[mon, wed, fri]", "[mon, fri]")),
            block(FIVES, head="test: {week: 4, lifts: [back squat, bench press, deadlift]}"),
        )
        assert codes(*texts) == ["too-many-days"]

    def test_a_test_that_a_limit_forbids_is_said(self) -> None:
        """The bench press was to be tested and is not."""
        limits = "limits: [{area: shoulder, avoid: [bench press]}]\n"
        texts = (client(screening=limits), block(FIVES, head="test: {week: 4, lifts: [back squat, bench press]}"))
        (note,) = plan(*texts).notes
        assert (note.step, note.facts) == ("left-out", (("movement", "bench press"),))

    def test_a_test_of_pull_ups_without_a_bodyweight_is_said(self) -> None:
        """Without it nothing can be worked out, and the profile is where to say so."""
        lifts = "lifts: {pull-up: {tests: [{date: 2026-12-19, load: 10, reps: 5}]}}\n"
        texts = (
            client(client="client: {name: Q, units: kg}\n", lifts=lifts),
            block(FIVES.replace("back squat", "pull-up"), head="test: {week: 4, lifts: [pull-up]}"),
        )
        assert codes(*texts) == ["no-bodyweight"]

    def test_a_tested_machine_lift_is_loaded_on_the_machine_that_the_slot_names(self) -> None:
        """A leg press tested at 200 for one, 80 % of it, on the stack called leg machine: 160."""
        gym = GYM.replace("safeties", "stacks: {leg machine: {from: 10, to: 300, step: 10}}, safeties")
        lifts = "lifts: {leg press: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}}\n"
        own = "format: 1\nmovements: {leg press: {pattern: squat, equipment: stack}}\n"
        slot = "movement: leg press, stack: leg machine, progression: {kind: single, reps: 5, start: 80 %, add: 10 kg}"
        assert loads(plan(client(gym=gym, lifts=lifts), block(slot, weeks=1), own)) == ["160"]

    @pytest.mark.parametrize(("born", "kind"), [("1990", "attempts"), ("2011", "rep_test")])
    def test_a_lift_trained_on_a_machine_of_another_name_is_tested_on_it(self, born: str, kind: str) -> None:
        """The leg press goes by the stack called leg machine in training, and on the test day too."""
        gym = GYM.replace("safeties", "stacks: {leg machine: {from: 10, to: 300, step: 10}}, safeties")
        lifts = "lifts: {leg press: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}}\n"
        slot = "movement: leg press, stack: leg machine, progression: {kind: single, reps: 5, start: 50 %, add: 10 kg}"
        identity = IDENTITY.replace("1990", born)
        head = "test: {week: 2, lifts: [leg press]}"
        made = plan(client(client=identity, gym=gym, lifts=lifts), block(slot, weeks=2, head=head))
        tested = slot_in(made, 2)
        assert (tested.kind, tested.implement) == (kind, "leg machine")
        assert all(planned.rung is not None for planned in tested.sets)

    def test_a_day_with_nothing_left_to_do_is_no_session(self) -> None:
        """In a deload that drops accessories a day of accessories has no slots, so no page."""
        row = "movement: barbell row, accessory: true, progression: {kind: single, reps: 8, start: 60 kg, add: 1 kg}"
        made = plan(CLIENT, block(row, weeks=2, head="deload: {weeks: [2], drop: [accessories]}"))
        assert [(session.week, len(session.slots)) for session in made.sessions()] == [(1, 1)]

    def test_the_same_lift_under_two_names_is_a_problem(self) -> None:
        """squat and back squat are one; which test counts must not hang on the order of keys."""
        lifts = LIFTS + "  squat: {tests: [{date: 2026-12-20, load: 150, reps: 1}]}\n"
        assert codes(client(lifts=lifts), block(FIVES)) != []

    def test_a_rest_of_nothing_is_kept(self) -> None:
        """ "rest: 0 s" is not the usual rest of two and a half minutes."""
        text = block(squat("kind: single, reps: 5, add: 1 kg", rest="0 s"))
        assert slot_in(plan(CLIENT, text), 1).work[0].rest == 0


class TestMessages:
    """What the person reads who made the slip."""

    def test_a_decimal_comma_within_braces_is_called_one(self) -> None:
        """`{add: 2,5 kg}` is a load and an empty key for YAML; for the coach it is a decimal comma."""
        (problem,) = problems_of(CLIENT, block(squat("kind: single, reps: 5, add: 2,5 kg")))
        assert problem.code == "decimal-comma"
        assert "2.5 kg" in problem.help

    def test_a_list_for_a_pin_height_is_not_shown_as_the_program_sees_it(self) -> None:
        """No brackets with inner quotes."""
        slot = _pins("from: [95], to: 80 cm")
        assert all("['" not in problem.fact for problem in problems_of(CLIENT, block(slot)))

    def test_a_comma_for_thousands_is_not_turned_into_a_small_number(self) -> None:
        """1,200 with three digits after the comma may be 1200: the help does not tell to write 1.200."""
        (problem,) = problems_of(CLIENT.replace("load: 200", 'load: "1,200"'), block(FIVES))
        assert '"1.200"' not in problem.help

    def test_a_mapping_without_entries_is_not_called_a_list(self) -> None:
        """`bars: {}`."""
        (problem,) = problems_of(client(gym=GYM.replace("{bar: 20}", "{}")), block(FIVES))
        assert "list" not in problem.fact

    def test_a_misspelt_key_is_one_problem_not_two(self) -> None:
        """ "titel" is too much and "title" is wanting: one slip, one message."""
        assert len(problems_of(CLIENT, block(FIVES).replace("title: A block", "titel: A block"))) == 1

    def test_the_caret_is_seen_whole_in_a_long_line(self) -> None:
        """The value at column 98 is shown with all its signs."""
        line = "x" * 97 + "HEREITIS" + "y" * 50
        shown = Problem("c", Span("a", 1, 98, 8, line), "f", "H.").as_text().split("\n")
        assert shown[2].count("^") == 8


class TestInput:
    """Values that are accepted and should not be, or that bring the plan down."""

    def test_every_file_must_have_a_format_that_is_known(self, tmp_path: Path) -> None:
        """ "format: 2" in the first file is not hidden by "format: 1" in the second."""
        (tmp_path / "a.yaml").write_text(CLIENT.replace("format: 1", "format: 2"))
        (tmp_path / "b.yaml").write_text(block(FIVES))
        assert load([tmp_path]).problems

    def test_one_lift_is_tested_once(self) -> None:
        """squat and back squat in one test week are the same three attempts twice."""
        assert codes(CLIENT, block(FIVES, head="test: {week: 4, lifts: [back squat, squat]}")) != []

    @pytest.mark.parametrize("starts", ["9999-12-28", "0001-01-01"])
    def test_a_start_outside_living_memory_is_a_problem(self, starts: str) -> None:
        """Not an exception when the calendar ends."""
        training = TRAINING.replace("2027-01-04", starts)
        limits = "limits: [{area: back, avoid: [good morning], since: 2026-12-20}]\n"
        assert codes(client(training=training, screening=limits), block(FIVES)) != []

    def test_plates_of_no_weight_are_a_problem(self) -> None:
        """0 kg plates are not plates."""
        assert codes(client(gym=GYM.replace("25: 6", "0: 6")), block(FIVES)) != []

    @pytest.mark.parametrize(
        "table",
        [
            "{1: 100 %, 5: 87 %}",
            "{1: 95 %, 15: 60 %}",
            "{1: 100 %, 5: 87 %, 10: 90 %, 15: 65 %}",
            "{5: 87 %, 15: 65 %}",
            "{1: 100 %, 15: 150 %}",
        ],
    )
    def test_a_table_that_cannot_serve_is_a_problem(self, table: str) -> None:
        """It starts with 100 % for one rep, falls, and reaches 15 reps: see training.estimate.rows_fault."""
        lifts = LIFTS.replace("load: 200, reps: 1", "load: 150, reps: 9")
        assert codes(client(lifts=lifts) + f"percent_table: {table}\n", block(FIVES)) != []

    @pytest.mark.parametrize("add", ["-5 %", "500 %", "-150 %"])
    def test_an_addition_is_above_nothing_and_below_absurd(self, add: str) -> None:
        """A progression that takes away, or that multiplies by six, is a slip of the hand."""
        assert codes(CLIENT, block(squat(f"kind: single, reps: 5, add: {add}"))) != []

    @pytest.mark.parametrize("start", ["-10 %", "999 %"])
    def test_a_first_share_is_a_share_that_can_be_lifted(self, start: str) -> None:
        """999 % of the max puts every plate of the gym on the bar."""
        assert codes(CLIENT, block(squat(f"kind: single, reps: 5, start: {start}, add: 1 kg"))) != []

    def test_reps_of_a_range_have_the_same_bound_as_others(self) -> None:
        """50, as elsewhere; 900-999 is a slip."""
        assert codes(CLIENT, block(squat("kind: double, reps: 900-999, add: 1 kg"))) != []

    @pytest.mark.parametrize("rule", ["from: 60 cm, to: -5 cm", "from: 900 cm, to: 60 cm"])
    def test_pins_are_somewhere_between_the_floor_and_the_ceiling(self, rule: str) -> None:
        """In centimetres as in holes."""
        gym = GYM.replace("safeties", "pins: {first: 30, spacing: 5, holes: 24}, safeties")
        assert codes(client(gym=gym), block(_pins(rule))) != []

    def test_holds_do_not_fall(self) -> None:
        """from 105 % to 95 % would be 95 % for ever, without a word."""
        assert (
            codes(CLIENT, block("drill: walkout, of: back squat, progression: {kind: hold, from: 105 %, to: 95 %}"))
            != []
        )

    def test_the_three_weights_of_a_rack_share_a_unit(self) -> None:
        """from 5 lb to 20 kg in steps of 2.5 lb is not a rack from 5 to 20 lb."""
        gym = GYM.replace("safeties", "dumbbells: {from: 5 lb, to: 20 kg, step: 2.5 lb}, safeties")
        texts = (
            client(gym=gym),
            block("movement: dumbbell curl, progression: {kind: single, reps: 8, start: 20 kg, add: 1 kg}"),
        )
        assert codes(*texts) == ["mixed-units"]

    def test_a_movement_to_avoid_and_its_replacement_may_be_written_in_any_case(self) -> None:
        """Avoid "Dip" and replace "dip": the same movement."""
        assert (
            codes(client(screening="limits: [{area: elbow, avoid: [Dip], instead: {dip: push-up}}]\n"), block(FIVES))
            == []
        )


class TestNumbers:
    """Loads that do not follow the stated meaning."""

    def test_no_ratio_is_taken_of_a_lift_that_was_tested_itself(self) -> None:
        """ "ratio: 80 %" means of the back squat; a front squat that was tested at 150 has a max of 150, not of 120."""
        lifts = LIFTS + "  front squat: {tests: [{date: 2026-12-19, load: 150, reps: 1}]}\n"
        slot = "movement: front squat, ratio: 80 %, progression: {kind: single, reps: 5, start: 50 %, add: 1 kg}"
        assert slot_in(plan(client(lifts=lifts), block(slot)), 1).work[0].target == 75

    def test_the_profiles_own_table_counts_in_the_expected_best(self) -> None:
        """5 reps at 80 % by this lifter's own table: 5 x 165 planned is worth 206.25, not 165 / 87 % = 189.7."""
        table = "percent_table: {1: 100 %, 5: 80 %, 15: 50 %}\n"
        slot = squat("kind: single, reps: 5, start: 165 kg, add: 1 kg")
        made = plan(client() + table, block(slot, weeks=2, head="test: {week: 2, lifts: [back squat]}"))
        first = made.weeks[1].sessions[0].slots[0].work[0]
        assert "planned-best" in steps(first)
        assert first.target == Decimal("206.25") * Decimal("0.91")

    def test_short_of_the_top_of_a_range_is_no_miss(self) -> None:
        """4 of 4-6 reps were made: next time the same load, also where a miss takes load off."""
        slot = slot_in(plan_of(squat("kind: double, reps: 4-6, rir: 1, add: 5 kg, misses: {once: reduce}")), 1)
        row = next(o for o in slot.outcomes if o.after == "short-of-top")
        assert row.rung == slot.work[0].rung

    def test_milestones_of_a_pull_up_count_the_body(self) -> None:
        """5 x 20 kg on the belt after a test of 3 x 10 is a record like any other."""
        lifts = "lifts: {pull-up: {tests: [{date: 2026-12-19, load: 10, reps: 3}]}}\n"
        made = plan(
            client(lifts=lifts, training=TRAINING.replace("intermediate", "novice")),
            block("movement: pull-up, progression: {kind: single, reps: 5, rir: 0, start: 20 kg, add: 1 kg}"),
        )
        assert any(session.milestone for session in made.sessions())

    def test_half_holes_are_not_trained(self) -> None:
        """Lowering by half a hole leaves the pins in the same hole at two shares."""
        gym = GYM.replace("safeties", "pins: {first: 30, spacing: 5, holes: 24}, safeties")
        slot = _pins("from: hole 12, to: hole 10, lower: 0.5, every: 1 week")
        texts = (client(gym=gym), block(slot, weeks=4))
        if not codes(*texts):
            seen: dict[object, set[object]] = {}
            for session in plan(*texts).sessions():
                seen.setdefault(session.slots[0].pin, set()).add(session.slots[0].work[0].share)
            assert all(len(shares) == 1 for shares in seen.values())

    def test_the_usual_bar_does_not_hang_on_the_order_of_keys(self) -> None:
        """Two bars in either order, a slot that names none: the same load and bar."""
        found = []
        for bars in ("{light bar: 15, heavy bar: 25}", "{heavy bar: 25, light bar: 15}"):
            made = plan(client(gym=GYM.replace("{bar: 20}", bars)), block(FIVES, weeks=1))
            found.append(slot_in(made, 1).implement)
        assert found[0] == found[1]

    def test_the_bar_that_the_gym_calls_usual_is_taken(self) -> None:
        """Of two bars of 20 kg the first by name would be, which is not the one that is pressed with."""
        bars = "{deadlift bar: 20, power bar: 20}"
        for named, taken in (("", "deadlift bar"), (", usual_bar: power bar", "power bar")):
            made = plan(client(gym=GYM.replace("{bar: 20}", bars + named)), block(FIVES, weeks=1))
            assert slot_in(made, 1).implement == taken
