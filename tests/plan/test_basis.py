"""What loads stand on: the lift's own test, a variant's ratio, equipment where both sides say so, a replacement."""

import pytest
from sources_for_tests import GYM, block, client, loads, plan, plan_of, slot_in, squat, steps

from builder.plan import PlannedSlot

HALF = "kind: single, reps: 5, start: 50 %, add: 1 kg"
"""Half of the max, so that the max itself is twice the target."""


def _lifts(**test: str) -> str:
    more = "".join(f", {key}: {value}" for key, value in test.items())
    return f"lifts: {{back squat: {{tests: [{{date: 2026-12-19, load: 200, reps: 1{more}}}]}}}}\n"


def _first(slot: str, head: str = "", **parts: str) -> PlannedSlot:
    return slot_in(plan(client(**parts), block(slot, weeks=1, head=head)), 1)


def _max(slot: PlannedSlot) -> float:
    """Twice the target, in kg to the gram."""
    target = slot.work[0].target
    assert target is not None
    return round(float(2 * target), 3)


class TestVariants:
    """A share of another lift's max, always called an estimate."""

    @pytest.mark.parametrize(
        ("slot", "full"),
        [
            ("movement: front squat, of: back squat, ratio: 80 %", 160),
            ("movement: high-bar pause squat, of: back squat, ratio: 85 %", 170),
            ("movement: front squat, ratio: 75 %", 150),
        ],
    )
    def test_the_slot_names_the_ratio(self, slot: str, full: int) -> None:
        """85 % of 200 is 170."""
        planned = _first(f"{slot}, progression: {{{HALF}}}")
        assert (_max(planned), planned.estimated, planned.lift) == (full, True, "back squat")
        assert "ratio" in steps(planned.work[0])

    def test_the_library_knows_a_ratio(self) -> None:
        """A high-bar squat carries 93 % of a low-bar one, so that low bar is 5 to 10 % above it (common practice)."""
        planned = _first(f"movement: high-bar squat, progression: {{{HALF}}}")
        assert planned.estimated
        assert 1.05 <= 200 / _max(planned) <= 1.10

    def test_a_variant_that_was_tested_stands_on_its_own_test(self) -> None:
        """A front squat of 150 is no estimate from the back squat."""
        lifts = _lifts().replace("}}\n", "}, front squat: {tests: [{date: 2026-12-19, load: 150, reps: 1}]}}\n")
        lifts = lifts.replace("reps: 1}]}, front", "reps: 1}]}, front")
        planned = _first(f"movement: front squat, progression: {{{HALF}}}", lifts=lifts)
        assert (_max(planned), planned.estimated, planned.lift) == (150, False, "front squat")

    def test_a_ratio_is_taken_of_the_working_max(self) -> None:
        """90 % of 200 is 180, 80 % of it 144."""
        lifts = _lifts().replace("]}", "], working_max: 90 %}")
        assert _max(_first(f"movement: front squat, ratio: 80 %, progression: {{{HALF}}}", lifts=lifts)) == 144

    def test_without_a_ratio_the_load_is_found_by_feel(self) -> None:
        """A hip thrust says nothing of the squat, and the squat nothing of it."""
        planned = _first(f"movement: hip thrust, progression: {{{HALF}}}")
        assert planned.work[0].rung is None
        assert planned.lift is None

    def test_another_name_is_the_same_movement(self) -> None:
        """A squat is the back squat."""
        planned = _first(f"movement: Squat, progression: {{{HALF}}}")
        assert (planned.movement, planned.estimated, _max(planned)) == ("back squat", False, 200)

    def test_variants_carry_no_record_marks(self) -> None:
        """A record of a front squat is not known from back squats."""
        assert all(
            s.mark is None
            for s in _first("movement: front squat, progression: {kind: single, reps: 5, add: 1 kg}").work
        )
        assert any(s.mark for s in _first(squat("kind: single, reps: 5, add: 1 kg")).work)


class TestEquipment:
    """A belt is worth about 5 %, sleeves 2 to 5, low bar 5 to 10 % (common practice, no source)."""

    @pytest.mark.parametrize(
        ("test", "trained", "low", "high"),
        [
            ({"belt": "false"}, "belt: true", 1.05, 1.05),
            ({"belt": "true"}, "belt: false", 0.952, 0.953),
            ({"sleeves": "false"}, "sleeves: true", 1.02, 1.05),
            ({"sleeves": "true"}, "sleeves: false", 0.952, 0.981),
            ({"bar": "high"}, "bar: low", 1.05, 1.10),
            ({"bar": "low"}, "bar: high", 0.909, 0.953),
        ],
    )
    def test_a_difference_that_both_sides_state_counts(
        self, test: dict[str, str], trained: str, low: float, high: float
    ) -> None:
        """Up with the aid, down without it, and called an estimate."""
        planned = _first(squat(HALF, trained=f"{{{trained}}}"), lifts=_lifts(**test))
        assert low <= _max(planned) / 200 <= high
        assert planned.estimated

    @pytest.mark.parametrize(
        ("test", "trained"),
        [
            ({}, "belt: true, sleeves: true, bar: low"),
            ({"belt": "true", "sleeves": "false", "bar": "high"}, ""),
            ({"belt": "true"}, "sleeves: true"),
            ({"belt": "true", "sleeves": "true", "bar": "low"}, "belt: true, sleeves: true, bar: low"),
            ({"depth": "parallel"}, "depth: below parallel"),
        ],
    )
    def test_what_one_side_leaves_unsaid_changes_nothing(self, test: dict[str, str], trained: str) -> None:
        """Nor does what is the same on both."""
        planned = _first(squat(HALF, trained=f"{{{trained}}}"), lifts=_lifts(**test))
        assert (_max(planned), planned.estimated) == (200, False)

    def test_the_block_may_say_what_they_are_worth(self) -> None:
        """4 % for the belt and 3 % for sleeves: 200 / 1.04 x 1.03."""
        planned = _first(
            squat(HALF, trained="{belt: false, sleeves: true}"),
            head="gear: {belt: 4 %, sleeves: 3 %}",
            lifts=_lifts(belt="true", sleeves="false"),
        )
        assert _max(planned) == round(200 / 1.04 * 1.03, 3)

    def test_an_estimate_from_other_equipment_carries_no_record_mark(self) -> None:
        """A record with a belt is not known from a test without."""
        slot = squat("kind: single, reps: 5, add: 1 kg", trained="{belt: true}")
        assert all(s.mark is None for s in _first(slot, lifts=_lifts(belt="false")).work)
        assert any(s.mark for s in _first(slot, lifts=_lifts(belt="true")).work)

    def test_worth_nothing_is_nothing(self) -> None:
        """0 % is a figure like any other, not a missing one."""
        planned = _first(squat(HALF, trained="{belt: true}"), head="gear: {belt: 0 %}", lifts=_lifts(belt="false"))
        assert _max(planned) == 200

    def test_a_variants_ratio_has_its_bar_position_in_it(self) -> None:
        """A high-bar pause squat at 85 % of a low-bar squat is not lowered a second time for the high bar."""
        slot = "movement: high-bar pause squat, of: back squat, ratio: 85 %, trained: {bar: high}"
        slot += f", progression: {{{HALF}}}"
        assert _max(_first(slot, lifts=_lifts(bar="low"))) == 170


class TestReplacements:
    """A movement to avoid is never planned."""

    AVOID = "limits: [{area: shoulder, avoid: [bench press], instead: {bench press: floor press}}]\n"

    def test_the_replacement_stands_in_and_says_why(self) -> None:
        """Its load comes from its own relation to the tested lift, not from the slot's ratio."""
        made = plan(
            client(screening=self.AVOID),
            block(
                "movement: bench press, of: back squat, ratio: 30 %, progression: {kind: single, reps: 5, add: 1 kg}",
                weeks=1,
            ),
        )
        planned = slot_in(made, 1)
        assert (planned.movement, planned.replaces, planned.replaced_for) == ("floor press", "bench press", "shoulder")
        assert planned.lift in ("bench press", None)
        assert [n.step for n in made.notes] == ["replaced"]

    def test_without_a_replacement_the_slot_is_left_out_and_said(self) -> None:
        """The rest of the session stays."""
        made = plan(
            client(screening="limits: [{area: shoulder, avoid: [bench press]}]\n"),
            block("movement: bench press, progression: {kind: single, reps: 5, add: 1 kg}", squat(HALF), weeks=1),
        )
        assert [s.movement for s in made.weeks[0].sessions[0].slots] == ["back squat"]
        assert [(n.step, dict(n.facts)["movement"]) for n in made.notes] == [("left-out", "bench press")]

    @pytest.mark.parametrize("word", ["bench press", "Bench Press"])
    def test_any_name_of_a_movement_to_avoid_counts(self, word: str) -> None:
        """Whatever the profile and the block call it."""
        made = plan(
            client(screening=f"limits: [{{area: shoulder, avoid: [{word}]}}]\n"),
            block("movement: BENCH PRESS, progression: {kind: single, reps: 5, add: 1 kg}", weeks=1),
        )
        assert not any(session.slots for session in made.sessions())

    def test_a_replacement_is_not_loaded_on_the_slots_bar(self) -> None:
        """The bar was chosen for the other movement."""
        gym = GYM.replace("{bar: 20}", "{bar: 20, thick bar: 30}")
        slot = "movement: bench press, barbell: thick bar, progression: {kind: single, reps: 5, rir: 1, add: 1 kg}"
        assert slot_in(plan(client(gym=gym), block(slot, weeks=1)), 1).implement == "thick bar"
        assert slot_in(plan(client(gym=gym, screening=self.AVOID), block(slot, weeks=1)), 1).implement == "bar"


class TestSteps:
    """How finely a bar is loaded."""

    FINE = GYM.replace("1.25: 1", "1.25: 1, 0.5: 2, 0.25: 1")

    def test_the_gyms_step_is_kept_above_the_empty_bar(self) -> None:
        """102 kg in a gym with small plates is 102, but 100 in steps of 5."""
        slot = squat("kind: single, reps: 5, start: 102 kg, add: 5 kg")
        assert loads(plan(client(gym=self.FINE), block(slot, weeks=1))) == ["102"]
        by_five = self.FINE.replace("safeties", "step: 5, safeties")
        assert loads(plan(client(gym=by_five), block(slot, weeks=1))) == ["100"]

    def test_steps_count_from_the_empty_bar(self) -> None:
        """In steps of 5 a bar of 8 kg carries 98 and 103, never 100: what is put on is 90 or 95."""
        light = self.FINE.replace("safeties", "step: 5, safeties").replace("{bar: 20}", "{bar: 8}")
        slot = squat("kind: single, reps: 5, start: 100 kg, add: 5 kg")
        assert loads(plan(client(gym=light), block(slot, weeks=2))) == ["98", "103"]

    def test_a_rule_that_adds_finer_is_loaded_finer(self) -> None:
        """1 kg a time is meant to be seen on the bar: 100, 101, 102."""
        by_five = self.FINE.replace("safeties", "step: 5, safeties")
        slot = squat("kind: single, reps: 5, start: 100 kg, add: 1 kg")
        assert loads(plan(client(gym=by_five), block(slot, weeks=3))) == ["100", "101", "102"]

    def test_a_slots_own_step_comes_first(self) -> None:
        """10 kg steps for one slot."""
        slot = squat("kind: single, reps: 5, start: 112 kg, add: 1 kg", step="10 kg")
        assert loads(plan(client(gym=self.FINE), block(slot, weeks=1))) == ["110"]

    def test_the_slots_rounding_comes_before_the_gyms(self) -> None:
        """151 kg up and down in 2.5 kg steps."""
        found = [
            loads(plan_of(squat("kind: single, reps: 5, start: 151 kg, add: 1 kg", rounding=word), weeks=1))[0]
            for word in ("up", "down", "nearest")
        ]
        assert found == ["152.5", "150", "150"]

    def test_ties_go_to_the_lighter_load_unless_the_gym_says_otherwise(self) -> None:
        """101.25 lies between 100 and 102.5."""
        slot = squat("kind: single, reps: 5, start: 101.25 kg, add: 1 kg")
        assert loads(plan(client(), block(slot, weeks=1))) == ["100"]
        heavier = GYM.replace("safeties", "ties: heavier, safeties")
        assert loads(plan(client(gym=heavier), block(slot, weeks=1))) == ["102.5"]
