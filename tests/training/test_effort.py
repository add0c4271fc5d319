"""Effort against the handbook table, and the loads it implies against the estimate."""

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.training.effort import bracket, effort_table, load_share, rpe_of
from builder.training.estimate import Equation, estimate, reps_to_failure
from builder.values.quantity import WithBody


@pytest.mark.parametrize(
    ("reps", "rating", "rir", "to_failure", "percent"),
    [
        # reps + (10 - RPE) read in the NSCA table (derivation; scale: Zourdos et al. 2016)
        (5, 8, 2, 7, 83),
        (3, 9, 1, 4, 90),
        (8, 8, 2, 10, 75),
        (1, 8, 2, 3, 93),
    ],
)
def test_a_rating_reads_in_the_handbook_table(
    reps: int, rating: int, rir: int, to_failure: int, percent: int
) -> None:
    assert rpe_of(rir) == rating
    assert reps_to_failure(reps, rir) == to_failure
    assert load_share(reps, rir, Equation.TABLE) * 100 == percent


@pytest.mark.parametrize("rir", ["-0.5", "9.5"])
def test_reserves_off_the_scale_are_refused(rir: str) -> None:
    with pytest.raises(ValueError, match="outside 0 to 9"):
        rpe_of(Decimal(rir))


HALVES = st.integers(0, 8).map(lambda halves: Decimal(halves) / 2)


@given(st.sampled_from(Equation), st.decimals("0.25", 500, places=3), st.integers(1, 11), HALVES)
def test_the_estimate_of_the_expected_load_returns_the_max(
    equation: Equation, max_kg: Decimal, reps: int, rir: Decimal
) -> None:
    expected = bracket(max_kg, reps, rir, equation, slack=Decimal(0)).expected
    assert estimate(WithBody(expected), reps, rir, equation) == max_kg


@given(st.sampled_from(Equation), st.integers(1, 10), HALVES)
def test_the_bracket_frames_its_expected_load(equation: Equation, reps: int, rir: Decimal) -> None:
    around = bracket(Decimal(200), reps, rir, equation)
    assert around.low < around.expected
    assert around.expected < around.high or rir == 0
    assert around.low == bracket(Decimal(200), reps, rir + Decimal("0.5"), equation).expected


def test_with_nothing_left_the_bracket_has_no_harder_side() -> None:
    around = bracket(Decimal(200), 5, 0, Equation.TABLE)
    # 87 % for 5 and 85 % for 6 reps: handbook table
    assert around == (Decimal(172), Decimal(174), Decimal(174))


def test_a_bracket_beyond_fifteen_reps_is_refused() -> None:
    with pytest.raises(ValueError, match="outside 1 to 15"):
        bracket(Decimal(100), 12, 3, Equation.WATHAN)


def test_the_effort_table_reads_across_and_down() -> None:
    table = effort_table(Equation.TABLE)
    assert [len(row) for row in table] == [5] * 12
    # NSCA table: 100, 95, 93, 90, 87 % for 1 to 5 reps; 65 % for 15
    assert table[0] == tuple(Decimal(percent) / 100 for percent in (100, 95, 93, 90, 87))
    assert table[11][3] == Decimal("0.65")
    assert table[11][4] is None


@pytest.mark.parametrize("equation", Equation)
def test_the_effort_table_falls_both_ways(equation: Equation) -> None:
    table = effort_table(equation)
    for line in (*table, *zip(*table, strict=True)):
        shares = [fraction for fraction in line if fraction is not None]
        assert all(heavier > lighter for heavier, lighter in pairwise(shares))
