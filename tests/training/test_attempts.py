"""Attempts against IPF rules and meet facts, and the NSCA's way to a 1RM (references, sections 5 and 7)."""

from collections.abc import Iterator
from decimal import Decimal
from statistics import mean

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.training.attempts import (
    OUTCOMES,
    AttemptPlan,
    AttemptShares,
    attempt_plan,
)
from builder.training.loading import Ladder, Plate, Rung, barbell
from builder.values.quantity import OnBar, Unit, to_kg

D = Decimal


def bar(name: str, pairs: dict[str, int], mass: Decimal, unit: Unit = Unit.KG) -> Ladder:
    return barbell(
        name, mass, D(0), [(Plate(label, to_kg(D(label), unit)), count) for label, count in pairs.items()]
    )


IPF_BAR = bar(
    "bar with collars",
    {"25": 7, "20": 1, "15": 1, "10": 1, "5": 1, "2.5": 1, "1.25": 1},
    D(25),
)
FINE_BAR = bar(
    "fractional",
    {"25": 5, "20": 1, "15": 1, "10": 1, "5": 1, "2.5": 1, "1.25": 1, "0.5": 2, "0.25": 1},
    D(20),
)
POUND_BAR = bar("pounds", {"45": 4, "25": 1, "10": 2, "5": 1, "2.5": 1}, to_kg(D(45), Unit.LB), Unit.LB)
COARSE_BAR = bar("coarse", {"20": 4, "10": 1, "5": 1}, D(20))
LADDERS = [IPF_BAR, FINE_BAR, POUND_BAR, COARSE_BAR]


def paths(plan: AttemptPlan) -> Iterator[tuple[str, str, Rung, Rung, Rung]]:
    """Every way through the table: the outcomes of the first two attempts, and the three loads."""
    for second in plan.second:
        for third in plan.third_after(second):
            yield second.after, third.after, plan.opener, second.rung, third.rung


maxes = st.decimals(40, 240, places=1)
ladders = st.sampled_from(LADDERS)
steps = st.sampled_from([D(0), D(1), D("2.5"), D(5)])


# IPF rules: attempts rise or stay (from memory); real lifters repeat only after a miss (World Classic 2022)


@settings(max_examples=200, deadline=None)
@given(best=maxes, ladder=ladders, step=steps)
def test_loads_never_go_down_and_are_all_loadable(best: Decimal, ladder: Ladder, step: Decimal) -> None:
    for _, _, first, second, third in paths(attempt_plan(best, ladder, least_step=step)):
        assert first.mass <= second.mass <= third.mass
        assert {first, second, third} <= set(ladder.rungs)


@settings(max_examples=200, deadline=None)
@given(best=maxes, ladder=ladders, step=steps)
def test_a_load_is_repeated_after_every_miss_and_otherwise_only_where_no_heavier_one_may_be_tried(
    best: Decimal, ladder: Ladder, step: Decimal
) -> None:
    plan = attempt_plan(best, ladder, least_step=step)
    for after_first, after_second, first, second, third in paths(plan):
        for outcome, before, after in ((after_first, first, second), (after_second, second, third)):
            if outcome == "missed":
                assert after == before
            elif after == before or after.mass - before.mass < step:
                assert plan.capped
                assert after == max((r for r in ladder.rungs if r.mass <= best * D("1.10")), key=lambda r: r.mass)


@settings(max_examples=200, deadline=None)
@given(best=maxes, ladder=ladders, step=steps)
def test_nothing_more_than_a_tenth_above_the_max_is_ever_tried(best: Decimal, ladder: Ladder, step: Decimal) -> None:
    """Common practice, no source; however far apart the loads of the gym lie, and however easy it went."""
    for *_, first, second, third in paths(attempt_plan(best, ladder, least_step=step)):
        assert all(rung.mass <= best * D("1.10") or rung == ladder.lightest for rung in (first, second, third))


def test_where_loads_lie_far_apart_the_last_one_within_reach_stands() -> None:
    """A max of 90.4 on 67 and 87 kg, then 107 (118 %): 87 is lifted twice, and the plan says that it is capped."""
    far = Ladder("far apart", tuple(Rung(OnBar(D(mass))) for mass in (67, 87, 107, 127)))
    plan = attempt_plan(D("90.4"), far)
    assert [row.rung.mass for row in plan.second] == [87, 87, 87, 67]
    assert max(row.rung.mass for row in plan.third) == 87
    assert plan.capped


@settings(max_examples=200, deadline=None)
@given(best=maxes, ladder=ladders)
def test_a_better_outcome_never_leads_to_a_lighter_load(best: Decimal, ladder: Ladder) -> None:
    plan = attempt_plan(best, ladder)
    for rows in (plan.second, *(plan.third_after(row) for row in plan.second)):
        assert tuple(row.after for row in rows) == OUTCOMES
        loads = [row.rung.mass for row in rows]
        assert loads == sorted(loads, reverse=True)


@pytest.mark.parametrize("best", ["97.3", "120", "142", "183.6", "200", "247.5", "310"])
def test_attempts_are_multiples_of_2_5_kg_where_the_smallest_pair_is_1_25_kg(best: str) -> None:
    plan = attempt_plan(D(best), IPF_BAR, least_step=D("2.5"))  # IPF technical rules: 2.5 kg steps
    loads = {rung.mass for path in paths(plan) for rung in path[2:]}
    assert len(loads) >= 5
    assert all(load % D("2.5") == 0 for load in loads)


def opener_to_best(plan: AttemptPlan, outcomes: set[str]) -> list[Decimal]:
    """Opener over third load on every path of these outcomes only, as if the third were lifted."""
    return [first.mass / third.mass for a, b, first, _, third in paths(plan) if {a, b} <= outcomes]


@pytest.mark.parametrize("best", ["120", "142", "160", "183.6", "200", "221", "247.5", "310"])
def test_openers_stand_to_the_best_lift_as_at_the_world_classic_2022(best: str) -> None:
    """There 90.1 to 100 %; a 2.5 kg step is allowed for, since the best is not known beforehand.

    After an easy attempt the max was thought too low, and the opener with it: not under 88 %.
    """
    plan = attempt_plan(D(best), IPF_BAR)
    step = D("2.5") / D(best)
    assert all(D("0.901") - step <= ratio <= 1 for ratio in opener_to_best(plan, {"solid", "hard"}))
    assert all(D("0.88") <= ratio <= 1 for ratio in opener_to_best(plan, {"easy", "solid", "hard"}))


def test_over_many_maxes_the_mean_opener_is_near_the_95_percent_of_the_world_classic_2022() -> None:
    """Every path counts alike here, so within 2.5 points; the lifters' own mean was 95.0 %."""
    plans = [attempt_plan(D(best), IPF_BAR) for best in range(120, 320, 7)]
    ratios = [first.mass / third.mass for plan in plans for _, _, first, _, third in paths(plan)]
    assert abs(mean(ratios) - D("0.95")) <= D("0.025")


def test_solid_attempts_rise_about_as_much_as_at_the_world_classic_2022() -> None:
    """There 5.0 % from first to second and 3.5 % from second to third; here within 1.5 points."""
    firsts, seconds = [], []
    for best in range(120, 320, 7):
        plan = attempt_plan(D(best), IPF_BAR)
        first, second, third = next(path[2:] for path in paths(plan) if path[:2] == ("solid", "solid"))
        firsts.append(second.mass / first.mass - 1)
        seconds.append(third.mass / second.mass - 1)
    assert abs(mean(firsts) - D("0.050")) <= D("0.015")
    assert abs(mean(seconds) - D("0.035")) <= D("0.015")


# the opener: 90 to 93 % of the max (common practice, no source)


@settings(max_examples=200, deadline=None)
@given(best=maxes, ladder=ladders)
def test_the_opener_lies_between_90_and_93_percent_where_a_rung_does_and_never_above_95(
    best: Decimal, ladder: Ladder
) -> None:
    plan = attempt_plan(best, ladder)
    band = [rung for rung in ladder.rungs if best * D("0.90") <= rung.mass <= best * D("0.93")]
    if band:
        assert plan.opener in band
    if ladder.lightest.mass <= best * D("0.95"):
        assert plan.opener.mass <= best * D("0.95")
        assert not plan.too_heavy


def test_the_opener_is_rounded_down_when_that_stays_in_the_band() -> None:
    assert attempt_plan(D(200), IPF_BAR).opener.mass == 180  # 182 wanted; 182.5 is nearer
    assert attempt_plan(D("97.3"), IPF_BAR).opener.mass == 90  # 87.5 would be 89.9 %


def test_the_opener_stays_low_when_the_only_rung_above_is_over_the_band() -> None:
    assert attempt_plan(D(95), COARSE_BAR).opener.mass == 80  # 84 %; 90 kg would be 94.7 %


def test_a_max_near_the_empty_bar_is_marked_as_too_heavy_an_opener() -> None:
    plan = attempt_plan(D(21), FINE_BAR)
    assert plan.opener.mass == 20
    assert plan.too_heavy


def test_a_coach_may_open_lighter() -> None:
    shares = AttemptShares(opener=D("0.88"), second=D("0.94"), third=D("1.0"))
    plan = attempt_plan(D(200), IPF_BAR, shares)
    assert plan.opener.mass == D(175)
    assert [row.rung.mass for row in plan.second] == [D(190), D("187.5"), D("182.5"), D(175)]


def test_an_opener_may_be_just_95_percent() -> None:
    # common practice, no source
    assert AttemptShares(opener=D("0.95"), second=D("0.98")).opener == D("0.95")


@pytest.mark.parametrize(
    "bad", [{"opener": D("0.96"), "second": D("0.98")}, {"second": D("0.90")}, {"third": D("0.95")}]
)
def test_shares_that_do_not_rise_or_open_above_95_percent_are_refused(bad: dict[str, Decimal]) -> None:
    with pytest.raises(ValueError, match=r"rise|opener"):
        AttemptShares(**bad)


# the table


def test_the_table_for_200_kg_reads_as_a_coach_would_write_it() -> None:
    """Common practice, no source: judged by eye."""
    plan = attempt_plan(D(200), IPF_BAR)
    seconds = {row.after: row.rung.mass for row in plan.second}
    assert seconds == {"easy": 195, "solid": D("192.5"), "hard": D("187.5"), "missed": 180}
    thirds = {(row.follows, row.after): row.rung.mass for row in plan.third}
    assert len(thirds) == 16
    assert thirds["solid", "easy"] == D("202.5")
    assert thirds["solid", "solid"] == 200
    assert thirds["solid", "hard"] == D("197.5")
    assert thirds["solid", "missed"] == D("192.5")
    assert thirds["missed", "solid"] == 190
    assert not plan.capped


def test_a_share_is_the_loaded_one_not_the_one_aimed_at() -> None:
    plan = attempt_plan(D("97.3"), IPF_BAR)
    for row in (*plan.second, *plan.third):
        assert abs(row.share * D("97.3") - row.rung.mass) <= D("0.01")


def test_the_third_rows_of_a_second_are_those_that_follow_its_outcome() -> None:
    plan = attempt_plan(D(142), IPF_BAR)
    for row in plan.second:
        assert {third.follows for third in plan.third_after(row)} == {row.after}


def test_where_the_plates_run_out_the_heaviest_load_stands_and_the_plan_says_so() -> None:
    small = bar("few plates", {"20": 2, "10": 1}, D(20))
    plan = attempt_plan(D(124), small)
    assert plan.capped
    assert {row.rung.mass for row in plan.third if row.after != "missed"} == {120}


def test_a_last_rise_shorter_than_the_least_step_counts_as_plates_run_out() -> None:
    short = barbell("short", D(20), D(0), [(Plate("5", D(5)), 9), (Plate("0.5", D("0.5")), 10)])
    assert short.heaviest.mass == 120
    assert not attempt_plan(D(118), short, least_step=D(1)).capped  # nothing above 119.8 kg is wanted
    plan = attempt_plan(D(118), short, least_step=D(10))
    assert plan.capped
    assert {row.rung.mass for row in plan.third if (row.follows, row.after) == ("solid", "solid")} == {120}


def test_a_least_step_is_kept_in_a_gym_with_finer_plates() -> None:
    plan = attempt_plan(D(60), FINE_BAR, least_step=D("2.5"))
    made = [path for path in paths(plan) if "missed" not in path[:2]]
    assert all(second.mass - first.mass >= D("2.5") for _, _, first, second, _ in made)
    assert all(third.mass - second.mass >= D("2.5") for _, _, _, second, third in made)


# NSCA 1RM protocol: references, section 7 (Haff & Triplett 2016, figure 13.1)
