"""Wanted loads become plates, with ramps, rests, brackets, record marks and the whole way there."""

from decimal import Decimal

import pytest
from sources_for_tests import (
    CLIENT,
    GYM,
    LIFTS,
    block,
    client,
    fact,
    mass,
    plan,
    plan_of,
    slot_in,
    squat,
    steps,
)

from builder.plan import PlannedSlot, Role
from builder.training.loading import Rung

FIVES = "kind: single, reps: 5, rir: 1, add: 5 kg"


def _first(slot: str, **parts: str) -> PlannedSlot:
    return slot_in(plan(client(**parts), block(slot, weeks=1)), 1)


def test_the_side_of_the_bar_adds_up() -> None:
    """170 on a 20 kg bar: 75 a side, three 25s; with 2.5 kg collars 72.5."""
    (first, *_) = _first(squat(FIVES)).work
    assert first.rung is not None
    assert first.rung.side == (("25", 3),)
    (collared, *_) = _first(squat(FIVES), gym=GYM.replace("safeties", "collars: 2.5, safeties")).work
    assert collared.rung is not None
    assert collared.rung.side == (("25", 2), ("20", 1), ("2.5", 1))


def test_a_bars_own_collars_come_before_the_gyms() -> None:
    """None on this bar: 75 a side again."""
    gym = GYM.replace("{bar: 20}", "{bar: {weight: 20, collars: 0}}").replace("safeties", "collars: 2.5, safeties")
    (first, *_) = _first(squat(FIVES), gym=gym).work
    assert first.rung is not None
    assert first.rung.side == (("25", 3),)


def test_over_the_chest_the_load_leaves_out_collars_that_the_page_takes_off() -> None:
    """Alone: 25 + 5 + 0.25 on a 20 kg bar is 80.5, and the printed load says so; a squat keeps its 5 kg of collars."""
    gym = "gym: {bars: {bar: 20}, collars: 2.5, pairs: {25: 2, 5: 2, 2.5: 1, 1.25: 1, 0.25: 1}, spotter: SPOTTER}\n"
    alone, helped = gym.replace("SPOTTER", "never"), gym.replace("SPOTTER", "sometimes")
    press = "movement: bench press, progression: {kind: single, sets: 3, reps: 5, start: 80.5 kg, add: 2.5 kg}"
    (bare, *_) = _first(press, gym=alone).work
    (collared, *_) = _first(press, gym=helped).work
    (squatted, *_) = _first(press.replace("bench press", "back squat"), gym=alone).work
    assert bare.rung is not None and collared.rung is not None and squatted.rung is not None
    assert (bare.rung.mass, bare.rung.side) == (Decimal("80.5"), (("25", 1), ("5", 1), ("0.25", 1)))
    assert _on_the_bar(collared.rung) == _on_the_bar(squatted.rung) == 25
    assert _on_the_bar(bare.rung) == 20


def _on_the_bar(rung: Rung) -> Decimal:
    """What of a load is no plate: the bar, and its collars where they are on."""
    return rung.mass - 2 * sum((Decimal(label) * count for label, count in rung.side), Decimal(0))


def test_a_set_keeps_the_whole_way_to_its_load() -> None:
    """Tested set, estimate, working max, effort, addition, plates; each with the figures it took."""
    planned = slot_in(plan_of(squat(FIVES)), 3).work[0]
    assert steps(planned) == ["test", "estimate", "working-max", "effort", "raised-by-load", "loadable-nearest"]
    assert fact(planned, "test", "load_kg") == 200
    assert fact(planned, "effort", "share") == Decimal("0.85")
    assert fact(planned, "raised-by-load", "times") == 2
    assert fact(planned, "loadable-nearest", "load_kg") == 180


def test_too_heavy_for_the_gym_is_said() -> None:
    """All that there is lies on the bar, and the reason names it."""
    (first, *_) = _first(squat(FIVES), gym="gym: {bars: {bar: 20}, pairs: {20: 1, 10: 1}}\n").work
    assert mass(first) == "80"
    assert "over-heaviest" in steps(first)


def test_under_the_empty_bar_it_is_the_bar_and_said() -> None:
    """5 % of 200 is 10 kg."""
    (first, *_) = _first(squat("kind: single, reps: 5, start: 5 %, add: 1 kg")).work
    assert (mass(first), steps(first)[-1]) == ("20", "under-lightest")


def test_a_gym_without_the_implement_says_so() -> None:
    """No dumbbells: reps and effort only."""
    slot = _first("movement: dumbbell bench press, progression: {kind: single, reps: 8, start: 20 kg, add: 2 kg}")
    assert slot.work[0].rung is None
    assert [note.step for note in slot.notes] == ["no-equipment"]


def test_dumbbells_are_counted_for_each_hand() -> None:
    """21 kg from a rack in steps of 2 is 20 a hand, and the week's tonnage counts both."""
    gym = GYM.replace("safeties", "dumbbells: {from: 2, to: 40, step: 2}, safeties")
    made = plan(
        client(gym=gym),
        block(
            "movement: dumbbell bench press, progression: {kind: single, sets: 1, reps: 10, start: 21 kg, add: 2 kg}",
            weeks=1,
        ),
    )
    slot = slot_in(made, 1)
    assert (mass(slot.work[0]), slot.per_hand, slot.implement) == ("20", True, "dumbbells")
    assert made.weeks[0].total.tonnage == 400


def test_the_weeks_figures_are_those_of_its_sets() -> None:
    """3 x 5 x 170: 3 sets, 15 lifts, 2550 kg at 85 % of the max."""
    total = plan_of(squat(FIVES), weeks=1).weeks[0].total
    assert (total.sets, total.reps, total.tonnage, total.intensity) == (3, 15, Decimal(2550), Decimal("0.85"))


class TestRamps:
    """Warm-ups rise to the work, over loads that the gym has."""

    def test_loads_rise_and_reps_fall_to_the_work(self) -> None:
        """From the empty bar, and below the work."""
        slot = _first(squat(FIVES))
        loads = [s.rung.mass for s in slot.ramp if s.rung]
        assert loads[0] == 20
        assert loads == sorted(set(loads)) and loads[-1] < 170
        assert [s.reps for s in slot.ramp] == sorted((s.reps for s in slot.ramp), reverse=True)
        assert all(s.role is Role.RAMP for s in slot.ramp)

    def test_an_accessory_has_one_warm_up_set_at_most(self) -> None:
        """A main lift has more."""
        assert len(_first(squat(FIVES)).ramp) > 1
        assert len(_first(squat(FIVES, accessory="true")).ramp) <= 1

    def test_a_lift_from_the_floor_never_ramps_with_small_plates(self) -> None:
        """The bar starts with a pair of the smallest full-size plates, 20 kg: 60."""
        lifts = "lifts: {deadlift: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}}\n"
        ramp = _first(f"movement: deadlift, progression: {{{FIVES}}}", lifts=lifts).ramp
        assert min(s.rung.mass for s in ramp if s.rung) == 60

    def test_the_second_slot_of_a_lift_ramps_on_from_the_first(self) -> None:
        """After fives at 100, singles at 180 need only what lies between."""
        made = plan_of(
            squat("kind: single, reps: 5, start: 100 kg, add: 1 kg"),
            squat("kind: single, reps: 1, start: 180 kg, add: 1 kg"),
        )
        second = slot_in(made, 1, 1)
        assert second.ramp
        assert all(s.rung and 100 < s.rung.mass < 180 for s in second.ramp)

    def test_another_lift_ramps_from_the_bar(self) -> None:
        """What the legs did does not warm up the press."""
        made = plan_of(squat(FIVES), f"movement: bench press, progression: {{{FIVES}}}")
        assert mass(slot_in(made, 1, 1).ramp[0]) == "20"


class TestRest:
    """The slot's own, else longer for heavier sets."""

    def test_the_slots_own_rest_holds_for_every_working_set(self) -> None:
        """150 s."""
        assert {s.rest for s in _first(squat(FIVES, rest="150 s")).work} == {150}

    def test_heavy_sets_rest_three_to_five_minutes(self) -> None:
        """1-6 RM loads (ACSM 2009, Med Sci Sports Exerc 41(3):687-708); light ones less."""
        heavy = _first(squat("kind: single, reps: 3, rir: 1, add: 1 kg")).work[0].rest
        light = _first(squat("kind: single, reps: 10, rir: 2, add: 1 kg")).work[0].rest
        unknown = _first("movement: barbell curl, progression: {kind: single, reps: 10, add: 1 kg}").work[0].rest
        assert 180 <= heavy <= 300
        assert unknown <= light < heavy


class TestMarks:
    """The least reps that make a record."""

    def test_a_mark_beats_the_best_that_was_demonstrated(self) -> None:
        """At 170 (85 %: 6 to failure) the single of 200 is beaten by 7: 170 / 83 % = 204.8."""
        mark = _first(squat(FIVES)).work[-1].mark
        assert mark is not None
        assert (mark.reps, mark.basis) == (7, "estimate")

    def test_a_mark_respects_the_lifters_log(self) -> None:
        """With 6 reps at 172.5 on record, worth 202.9, 7 are needed at 170 still."""
        lifts = LIFTS.replace("reps: 1}]}", "reps: 1}], records: [{load: 172.5, reps: 6}]}", 1)
        mark = _first(squat(FIVES), lifts=lifts).work[-1].mark
        assert mark is not None
        assert (mark.reps, mark.basis) == (7, "estimate")

    def test_back_offs_and_warm_ups_carry_none(self) -> None:
        """Only the top set can be a record here."""
        slot = _first(squat("kind: top_set, reps: 3, rir: 2, backoff: {sets: 2, reps: 5, drop: 10 %}"))
        assert [s.mark is not None for s in slot.work] == [True, False, False]
        assert not any(s.mark for s in slot.ramp)


@pytest.mark.parametrize("bodyweight", [80, 100])
def test_a_pull_up_counts_the_body(bodyweight: int) -> None:
    """One rep with 20 kg on the belt is a max of the body and 20; 90 % of it less the body hangs on the belt."""
    made = plan(
        client(
            client=f"client: {{name: Q, units: kg, bodyweight: {bodyweight}}}\n",
            lifts="lifts: {pull-up: {tests: [{date: 2026-12-19, load: 20, reps: 1}]}}\n",
        ),
        block("movement: pull-up, progression: {kind: single, reps: 3, start: 90 %, add: 1 kg}", weeks=1),
    )
    assert made.lifts[0].estimate == bodyweight + 20
    target = slot_in(made, 1).work[0].target
    assert target == Decimal("0.9") * (bodyweight + 20) - bodyweight


def test_the_plan_is_the_same_twice() -> None:
    """Same sources, same plan."""
    text = block(squat(FIVES), weeks=3)
    assert [w.total for w in plan(CLIENT, text).weeks] == [w.total for w in plan(CLIENT, text).weeks]
