"""Scores against official sheets, published rows and independent arithmetic."""

from decimal import Decimal

import mpmath
import pytest

from builder.training.scores import (
    GL,
    Event,
    LiftingKit,
    gl_points,
    relative,
)
from builder.values.lists import Sex

M, F = Sex.MALE, Sex.FEMALE
RAW, EQUIPPED = LiftingKit.RAW, LiftingKit.EQUIPPED
TOTAL, BENCH = Event.TOTAL, Event.BENCH
CLASSIC = "official sheet, World Classic 2022"
BENCH_SHEET = "official sheet, World Bench 2022"
COMPUTED = "computed independently (mpmath, 30 digits) from the printed formula"


@pytest.mark.parametrize(
    ("sex", "gear", "event", "bodyweight", "result", "points", "tolerance", "source"),
    [
        (M, RAW, TOTAL, "92.1", "878.5", "115.4736", "0.001", CLASSIC),
        (M, RAW, TOTAL, "73.55", "790", "116.348", "0.001", CLASSIC),
        (M, RAW, TOTAL, "174.7", "1022.5", "102.81", "0.005", CLASSIC),
        (F, RAW, TOTAL, "46.9", "426.5", "118.48", "0.005", CLASSIC),
        (F, RAW, TOTAL, "83.3", "615", "116.53", "0.005", CLASSIC),
        (M, RAW, BENCH, "72.3", "220", "118.7872", "0.001", BENCH_SHEET),
        (F, RAW, BENCH, "75.05", "141.5", "109.1539", "0.001", BENCH_SHEET),
        (M, EQUIPPED, BENCH, "73.6", "292.5", "114.4386", "0.001", BENCH_SHEET),
        (F, EQUIPPED, BENCH, "75.55", "177.5", "96.9915", "0.001", BENCH_SHEET),
        (M, EQUIPPED, TOTAL, "92.04", "1035", "112.85", "0.01", "example of the 2020 sheet, from memory"),
    ],
)
def test_gl_points_match_official_sheets(
    sex: Sex, gear: LiftingKit, event: Event, bodyweight: str, result: str, points: str, tolerance: str, source: str
) -> None:
    ours = gl_points(Decimal(result), Decimal(bodyweight), sex, gear, event)
    assert abs(ours - Decimal(points)) <= Decimal(tolerance), source


@pytest.mark.parametrize("sex", Sex)
@pytest.mark.parametrize("bodyweight", ["45", "60.35", "82.5", "104.9", "140"])
def test_mpmath_agrees_to_thirty_digits(sex: Sex, bodyweight: str) -> None:
    with mpmath.workdps(40):
        x = mpmath.mpf(bodyweight)
        pairs = []
        for gear in LiftingKit:
            for event in Event:
                a, b, c = (mpmath.mpf(str(number)) for number in GL[sex, gear, event])
                ours = gl_points(Decimal(500), Decimal(bodyweight), sex, gear, event)
                pairs.append((100 * 500 / (a - b * mpmath.exp(-c * x)), ours))
        for theirs, number in pairs:
            assert abs(mpmath.mpf(str(number)) / theirs - 1) < mpmath.mpf("1e-30")


@pytest.mark.parametrize(
    ("sex", "a", "b", "c"),
    [
        # IPF GL coefficients from 1 May 2020; no official sheet was found for the two equipped totals.
        (M, "1236.25115", "1449.21864", "0.01644"),
        (F, "758.63878", "949.31382", "0.02435"),
    ],
)
def test_equipped_totals_follow_the_published_coefficients(sex: Sex, a: str, b: str, c: str) -> None:
    with mpmath.workdps(40):
        theirs = 60000 / (mpmath.mpf(a) - mpmath.mpf(b) * mpmath.exp(-mpmath.mpf(c) * 80))
        ours = gl_points(Decimal(600), Decimal(80), sex, EQUIPPED, TOTAL)
        assert abs(mpmath.mpf(str(ours)) - theirs) < mpmath.mpf("1e-25")


def test_relative_strength_is_load_over_bodyweight() -> None:
    assert relative(Decimal(150), Decimal(75)) == 2


@pytest.mark.parametrize("bodyweight", [Decimal(0), Decimal(-70)])
def test_impossible_bodyweights_are_refused_by_every_score(bodyweight: Decimal) -> None:
    with pytest.raises(ValueError, match="impossible"):
        gl_points(Decimal(500), bodyweight, M)
    with pytest.raises(ValueError, match="impossible"):
        relative(Decimal(150), bodyweight)


def test_a_bodyweight_below_the_formula_is_refused_rather_than_scored_negative() -> None:
    with pytest.raises(ValueError, match="no meaning"):
        gl_points(Decimal(50), Decimal(20), F, RAW, BENCH)
