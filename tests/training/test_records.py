"""Record marks: the least reps that would beat what was done, found again by trying every count."""

from datetime import date
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from builder.training.estimate import Equation, estimate
from builder.training.records import (
    Performance,
    best_by_reps,
    best_estimate,
    goal_mark,
    record_mark,
)
from builder.values.quantity import WithBody

WATHAN = Equation.WATHAN


def done(load: int | str, reps: int, rir: int | str = 0) -> Performance:
    """A performance on one fixed day."""
    return Performance(WithBody(Decimal(load)), reps, Decimal(rir), date(2026, 12, 19), "test")


loads = st.integers(40, 400).map(lambda halves: Decimal(halves) / 2)
performances = st.builds(
    Performance,
    load=loads,
    reps=st.integers(1, 20),
    rir=st.integers(0, 6).map(lambda halves: Decimal(halves) / 2),
    on=st.none(),
    source=st.just("log"),
)
histories = st.lists(performances, max_size=8)


def test_the_best_for_a_count_may_be_a_longer_set() -> None:
    triple, five, eight = done(140, 3), done(120, 5), done(125, 8)
    assert best_by_reps([five, triple, eight]) == (
        *((reps, triple) for reps in (1, 2, 3)),
        *((reps, eight) for reps in (4, 5, 6, 7, 8)),
    )


def test_of_equal_loads_the_longer_set_counts_and_of_equal_sets_the_first() -> None:
    first, again, longer = done(100, 3), done(100, 3), done(100, 4)
    assert best_by_reps([first, again, longer])[0][1] is longer
    assert best_by_reps([first, again])[0][1] is first


@given(histories)
def test_best_loads_never_rise_with_the_count(history: list[Performance]) -> None:
    best = best_by_reps(history)
    assert [reps for reps, _ in best] == list(range(1, len(best) + 1))
    heaviest = [performance.load for _, performance in best]
    assert heaviest == sorted(heaviest, reverse=True)
    assert all(performance.reps >= reps for reps, performance in best)


def test_the_best_estimate_counts_reps_in_reserve() -> None:
    # O'Conner: 120 x (1 + 0.025 x 5) = 135 beats 125 x (1 + 0.025 x 3) = 134.375
    reserve, harder = done(120, 3, 2), done(125, 3)
    assert best_estimate([harder, reserve], Equation.OCONNER) == (Decimal(135), reserve)


def test_sets_beyond_fifteen_reps_give_no_estimate() -> None:
    assert best_estimate([done(60, 16), done(60, 14, "1.5")], WATHAN) is None
    assert best_estimate([], WATHAN) is None
    assert best_estimate([done(60, 14, 1)], WATHAN) is not None


def test_a_mark_by_estimate_names_what_falls_and_the_gain() -> None:
    # O'Conner: 140 x 1 is 140; 120 needs 1 + 0.025 r > 7/6, so 7 reps, worth 141.
    single = done(140, 1)
    longest = done(120, 6)
    mark = record_mark(WithBody(Decimal(120)), [single, longest, done(130, 6)], Equation.OCONNER)
    assert mark is not None
    # 130 x 6 is worth 149.5, out of reach before 10 reps, but nobody did 7 with 120 or more.
    assert (mark.reps, mark.basis, mark.beats) == (7, "load", done(130, 6))
    assert mark.margin == Decimal("-8.5")

    mark = record_mark(WithBody(Decimal(120)), [single, longest], Equation.OCONNER)
    assert mark is not None
    assert (mark.reps, mark.basis, mark.beats, mark.margin) == (7, "estimate", single, Decimal(1))


def test_an_estimate_that_only_equals_the_best_is_no_record() -> None:
    # Epley: 125 x 2 is worth exactly 100 x 10, so a double at 125 is a record by load alone.
    history = [done(100, 10), done(130, 1)]
    mark = record_mark(WithBody(Decimal(125)), history, Equation.EPLEY)
    assert mark is not None
    assert (mark.reps, mark.basis) == (2, "load")
    assert mark.margin == 0


def test_a_load_never_lifted_is_a_record_for_one_rep() -> None:
    heaviest = done(120, 6)
    mark = record_mark(WithBody(Decimal("122.5")), [done(100, 8), heaviest], WATHAN)
    assert mark is not None
    assert (mark.reps, mark.basis, mark.beats) == (1, "load", heaviest)
    assert mark.margin is not None
    assert mark.margin < 0


def test_a_light_load_has_no_mark_within_reach() -> None:
    assert record_mark(WithBody(Decimal(60)), [done(150, 1), done(70, 20)], WATHAN) is None
    history = [done(150, 1), done(100, 9)]
    assert record_mark(WithBody(Decimal(100)), history, WATHAN, most=9) is None
    within = record_mark(WithBody(Decimal(100)), history, WATHAN, most=10)
    assert within is not None
    assert (within.reps, within.basis) == (10, "load")


def test_nothing_done_leaves_nothing_to_beat() -> None:
    assert record_mark(WithBody(Decimal(100)), [], WATHAN) is None


def test_without_an_estimate_a_mark_has_no_margin() -> None:
    mark = record_mark(WithBody(Decimal(70)), [done(60, 20)], WATHAN)
    assert mark is not None
    assert (mark.reps, mark.basis, mark.margin) == (1, "load", None)


@given(loads, histories, st.sampled_from(Equation))
def test_the_mark_is_the_least_count_that_beats_either_best(
    load: Decimal, history: list[Performance], equation: Equation
) -> None:
    best = best_estimate(history, equation)

    def outright(reps: int) -> bool:
        return not any(one.load >= load and one.reps >= reps for one in history)

    def beats(reps: int) -> bool:
        by_estimate = best is not None and estimate(WithBody(load), reps, 0, equation) > best[0]
        return by_estimate or outright(reps)

    least = next((reps for reps in range(1, 16) if beats(reps)), None) if history else None
    mark = record_mark(WithBody(load), history, equation)
    assert (mark.reps if mark else None) == least
    if mark and mark.basis == "estimate":
        assert mark.margin is not None
        assert mark.margin > 0
    if mark and mark.basis == "load":
        assert outright(mark.reps)


def test_a_goal_beats_the_reps_that_were_done_and_no_judged_reserve() -> None:
    """100 x 5 with 3 left shows 116.7 by Epley (1 + 5/30), not the 126.7 of 8: at 105 four reps, 119, beat it."""
    goal = goal_mark(WithBody(Decimal(105)), [done(100, 5, 3)], Equation.EPLEY)
    assert goal is not None and (goal.reps, goal.basis) == (4, "estimate")


def test_a_goal_counts_more_reps_than_a_set_near_failure_where_they_are_nearly_as_good() -> None:
    """Epley: 110 x 5 is 128.3 and 100 x 7 is 123.3. At 100 nine reps, 130, beat it; eight beat the seven and count."""
    hard, easy = done(100, 7, 1), done(100, 7, 4)
    goal = goal_mark(WithBody(Decimal(100)), [done(110, 5), hard], Equation.EPLEY)
    assert goal is not None and (goal.reps, goal.basis, goal.beats) == (8, "load", hard)
    goal = goal_mark(WithBody(Decimal(100)), [done(110, 5), easy], Equation.EPLEY)
    assert goal is not None and (goal.reps, goal.basis) == (9, "estimate")


def test_without_anything_shown_there_is_no_goal() -> None:
    assert goal_mark(WithBody(Decimal(100)), [], WATHAN) is None
