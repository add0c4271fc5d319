"""The norms against the figures of their sources, and the rules that use them."""

from decimal import Decimal

import pytest

from builder.training import norms
from builder.training.norms import (
    COMMON_PRACTICE,
    Norm,
    zone_of,
)
from builder.values.lists import TrainingStatus


def ends(norm: Norm) -> list[str]:
    """Both ends as text without trailing zeros."""
    return [format(end.normalize(), "f") for end in (norm.low, norm.high)]


@pytest.mark.parametrize(
    ("share", "low"),
    [
        ("0.55", "0.55"),
        ("0.6999", "0.55"),
        ("0.70", "0.70"),
        ("0.7999", "0.70"),
        ("0.80", "0.80"),
        ("0.8999", "0.80"),
        ("0.90", "0.90"),
        ("1.20", "0.90"),
    ],
)
def test_zones_are_half_open(share: str, low: str) -> None:
    # Copies of the table differ at the edges; half-open zones are this project's stated choice.
    zone = zone_of(Decimal(share))
    assert zone is not None
    assert zone.low == Decimal(low)


def test_zones_join_without_gap_and_hold_their_optimum() -> None:
    for lower, upper in zip(norms.ZONES, norms.ZONES[1:], strict=False):
        assert lower.high == upper.low
    assert norms.ZONES[-1].high is None
    for zone in norms.ZONES:
        assert zone.total[0] < zone.total[1]


def test_below_the_table_there_is_no_zone() -> None:
    assert zone_of(Decimal("0.5499")) is None


def test_surveyed_deload_intervals_are_mean_and_one_deviation() -> None:
    # Rogerson et al. 2024: 5.6 +/- 2.3 weeks; Bell et al. 2022: 4-6; Bell et al. 2023: 4-8 (from memory)
    assert [ends(norm) for norm in norms.DELOAD_EVERY] == [["3.3", "7.9"], ["4", "6"], ["4", "8"]]


def test_taper_cuts_leave_the_arithmetic_remainder() -> None:
    pritchard, travis, trials = norms.TAPER_CUT
    # 10,000 kg cut by 58.9 % leaves 4,110; by 41-50 % leaves 5,900-5,000 (arithmetic on the surveys)
    assert (1 - pritchard.middle) * 10000 == 4110
    assert travis.of(Decimal(10000)) == (Decimal(4100), Decimal(5000))
    assert ends(pritchard) == ["0.505", "0.673"]
    # Bosquet et al. 2007: 41 to 60 % less; Pritchard et al. 2019: 70 % less for one week
    assert ends(trials) == ["0.41", "0.7"]


@pytest.mark.parametrize(
    ("norm", "expected"),
    [
        # every row: common practice, no source
        (norms.WALKOUT_SHARE, ["0.95", "1.05"]),
        (norms.WALKOUTS_A_MONTH, ["1", "2"]),
        (norms.PIN_SQUAT_SHARE, ["0.65", "0.75"]),
        (norms.SQUATS_A_WEEK, ["2", "3"]),
        (norms.LOW_BAR_RANGE, ["0.05", "0.1"]),
        (norms.BELT_RANGE, ["0.05", "0.05"]),
        (norms.SLEEVES_RANGE, ["0.02", "0.05"]),
    ],
)
def test_rules_of_thumb_say_that_they_have_no_source(norm: Norm, expected: list[str]) -> None:
    assert ends(norm) == expected
    assert norm.source == COMMON_PRACTICE


def test_gains_of_technique_and_gear_are_the_middle_of_their_ranges() -> None:
    # common practice, no source
    gains = (norms.LOW_BAR_GAIN, norms.BELT_GAIN, norms.SLEEVES_GAIN)
    assert gains == (Decimal("0.075"), Decimal("0.05"), Decimal("0.035"))


def test_milestones_space_out_with_training_age() -> None:
    # common practice, no source
    spacing = {status: m.every_weeks for status, m in norms.MILESTONES.items()}
    assert spacing == {
        TrainingStatus.NOVICE: None,
        TrainingStatus.INTERMEDIATE: 2,
        TrainingStatus.ADVANCED: 2,
    }
    assert {m.source for m in norms.MILESTONES.values()} == {COMMON_PRACTICE}


def test_training_days_and_heavy_rest_follow_the_position_stand() -> None:
    # ACSM position stand 2009: 2-3, 3-4, 4-5 days; 3-5 min rest at 1-6 RM
    assert [ends(norms.TRAINING_DAYS[status]) for status in TrainingStatus] == [
        ["2", "3"],
        ["3", "4"],
        ["4", "5"],
    ]
    assert ends(norms.HEAVY_REST) == ["3", "5"]


def test_a_norm_includes_both_its_ends() -> None:
    norm = norms.SQUATS_A_WEEK
    assert [norm.holds(days) for days in (1, 2, 3, 4)] == [False, True, True, False]


def test_every_norm_in_the_module_names_a_source() -> None:
    found = [value for value in vars(norms).values() if isinstance(value, Norm)]
    assert len(found) > 10
    assert all(norm.source and norm.unit and norm.low <= norm.high for norm in found)
