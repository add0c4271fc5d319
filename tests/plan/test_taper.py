"""A taper keeps the load and cuts the sets (Bosquet et al. 2007; Pritchard et al. 2015); a deload is really lighter."""

from __future__ import annotations

import pytest
from sources_for_tests import (
    block,
    client,
    first_slots,
    mass,
    plan,
    plan_of,
    problems_of,
    slot_in,
    squat,
    steps,
    written,
)

from builder.plan import WeekKind

TEST = "test: {week: 4, lifts: [back squat]}"
FIVES = squat("kind: single, sets: 4, reps: 5, rir: 1, start: 100 kg, add: 5 kg")
PULL_UPS = "lifts: {pull-up: {tests: [{date: 2026-12-19, load: 20, reps: 5}]}}\n"


def test_the_load_goes_on_as_planned_and_half_of_the_sets_stay() -> None:
    """Week 3 of a test in week 4: 4 sets become 2, and the load rises as in any week."""
    made = plan_of(FIVES, weeks=4, head=f"taper: {{}}, {TEST}")
    assert [week.kind for week in made.weeks][-2:] == [WeekKind.TAPER, WeekKind.TEST]
    assert [written(slot) for slot in first_slots(made)][:3] == ["4 x 5 x 100 @1", "4 x 5 x 105 @1", "2 x 5 x 110 @1"]
    taper = slot_in(made, 3)
    assert taper.outcomes == () and not any(s.mark or s.milestone or s.open_ended for s in taper.work)


@pytest.mark.parametrize(("weeks", "sets"), [(1, [8, 8, 4]), (2, [8, 6, 4]), (3, [7, 5, 4])])
def test_over_several_weeks_the_cut_grows_evenly(weeks: int, sets: list[int]) -> None:
    """8 sets to the half: in three weeks by a sixth each, to 6.7, 5.3 and 4."""
    rule = squat("kind: single, sets: 8, reps: 5, start: 100 kg, add: 5 kg")
    made = plan_of(rule, weeks=4, head=f"taper: {{weeks: {weeks}}}, {TEST}")
    assert [len(slot.work) for slot in first_slots(made)][:3] == sets


def test_a_deload_gives_way_to_the_taper_and_accessories_and_drills_go() -> None:
    """Every third week is a deload, and week 3 the taper."""
    row = "movement: barbell row, accessory: true, progression: {kind: single, reps: 8, start: 60 kg, add: 1 kg}"
    made = plan_of(FIVES, row, weeks=4, head=f"deload: {{every: 3}}, taper: {{}}, {TEST}")
    assert made.weeks[2].kind is WeekKind.TAPER
    assert [slot.movement for slot in made.weeks[2].sessions[0].slots] == ["back squat"]


def test_the_last_open_set_is_closed() -> None:
    """No set goes on as long as it can in the week before a test."""
    rule = squat("kind: rep_out, sets: 2, reps: 5, start: 100 kg, stop: {rir: 1, most: 9}")
    made = plan_of(rule, weeks=4, head=f"taper: {{sets: 80 %}}, {TEST}")
    assert [s.open_ended for s in slot_in(made, 2).work] == [False, True]
    assert [s.open_ended for s in slot_in(made, 3).work] == [False, False]


@pytest.mark.parametrize(
    ("head", "says"),
    [
        ("taper: {}", "there is none"),
        ("taper: {weeks: 3}, test: {week: 3, lifts: [back squat]}", "do not fit"),
        (f"taper: {{}}, deload: {{before_test: true}}, {TEST}", "both a deload and a taper"),
    ],
)
def test_a_taper_that_leads_nowhere_is_a_problem(head: str, says: str) -> None:
    """Each with what to do."""
    (problem,) = problems_of(client(), block(FIVES, weeks=4, head=head))
    assert problem.code == "taper" and says in problem.fact and problem.help


class TestDeloads:
    """A deload is lighter for every kind: what cannot be lighter is shorter."""

    def test_a_capped_load_falls_from_what_the_gym_has(self) -> None:
        """The plates end at 40 kg, the plan wants 100: 90 % of 40 is 36, not 90."""
        gym = "gym: {bars: {bar: 20}, pairs: {10: 1}, safeties: true}\n"
        made = plan(client(gym=gym), block(FIVES, weeks=2, head="deload: {weeks: [2]}"))
        assert [mass(slot_in(made, week).work[0]) for week in (1, 2)] == ["40", "20"]
        assert "deload-from" in steps(slot_in(made, 2).work[0])

    @pytest.mark.parametrize(("start", "hung"), [("9 kg", "0"), ("10 kg", "0"), ("20 kg", "10")])
    def test_little_is_not_hung_from_a_belt(self, start: str, hung: str) -> None:
        """80 kg of body: 90 % of 90 kg would leave 1 kg to hang, so nothing; of 100 kg it leaves 10."""
        rule = f"movement: pull-up, progression: {{kind: single, reps: 5, start: {start}, add: 1 kg}}"
        made = plan(client(lifts=PULL_UPS), block(rule, weeks=2, head="deload: {weeks: [2]}"))
        assert mass(slot_in(made, 2).work[0]) == hung

    def test_where_nothing_is_lighter_the_reps_stop_short(self) -> None:
        """Pull-ups with nothing hung, and the empty bar: 2 reps fewer, by the 2 more in reserve."""
        light = squat("kind: single, sets: 4, reps: 5, start: 20 kg, add: 2.5 kg")
        made = plan_of(light, weeks=2, head="deload: {weeks: [1]}")
        assert written(slot_in(made, 1)) == "2 x 3 x 20 @4"
        rule = "movement: pull-up, progression: {kind: single, reps: 5, start: 0 kg, add: 1 kg}"
        made = plan(client(lifts=PULL_UPS), block(rule, weeks=2, head="deload: {weeks: [2]}"))
        assert [s.reps for s in slot_in(made, 2).work] == [3, 3]
