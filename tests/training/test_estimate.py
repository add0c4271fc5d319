"""The estimates against published and independently computed values, and against their own inverse."""

from decimal import Decimal, localcontext
from itertools import pairwise

import mpmath
import pytest

from builder.training.estimate import (
    FORMULAS,
    NSCA_ROWS,
    Equation,
    Evidence,
    citation,
    estimate,
    evidence,
    reps_to_failure,
    rows_fault,
    share,
    spread,
)
from builder.values.quantity import WithBody

E = Equation
COMPUTED = "computed independently (mpmath, 30 digits) from the printed formula"

ESTIMATES = [
    # equation, load, reps, estimated max, tolerance, source
    (E.EPLEY, "100", 5, "116.6667", "0.0005", COMPUTED),
    (E.EPLEY, "180", 3, "198.0", "0.0005", COMPUTED),
    (E.EPLEY, "315", 5, "367.5", "0.0005", COMPUTED),
    (E.EPLEY, "225", 10, "300.0", "1e-9", "225 x 10 is 300.0 with 1/30 (note on the printed variants)"),
    (E.BRZYCKI, "100", 5, "112.5113", "0.0005", COMPUTED),
    (E.BRZYCKI, "100", 10, "133.3689", "0.0005", COMPUTED),
    (E.BRZYCKI, "180", 3, "190.5972", "0.0005", COMPUTED),
    (E.BRZYCKI, "100", 1, "100.0", "1e-9", COMPUTED),
    (E.LANDER, "100", 5, "113.7089", "0.0005", COMPUTED),
    (E.LANDER, "100", 10, "134.0704", "0.0005", COMPUTED),
    (E.LANDER, "180", 3, "192.9544", "0.0005", COMPUTED),
    (E.LOMBARDI, "100", 5, "117.4619", "0.0005", COMPUTED),
    (E.LOMBARDI, "100", 10, "125.8925", "0.0005", COMPUTED),
    (E.LOMBARDI, "100", 1, "100.0", "1e-9", COMPUTED),
    (E.MAYHEW, "100", 5, "119.0107", "0.0005", COMPUTED),
    (E.MAYHEW, "100", 10, "130.9343", "0.0005", COMPUTED),
    (E.MAYHEW, "140", 5, "166.615", "0.0005", COMPUTED),
    (E.OCONNER, "100", 5, "112.5", "1e-9", COMPUTED),
    (E.OCONNER, "100", 10, "125.0", "1e-9", COMPUTED),
    (E.OCONNER, "180", 3, "193.5", "1e-9", COMPUTED),
    (E.WATHAN, "100", 5, "116.5825", "0.0005", COMPUTED),
    (E.WATHAN, "100", 10, "134.7467", "0.0005", COMPUTED),
    (E.WATHAN, "180", 3, "196.1635", "0.0005", COMPUTED),
    (E.TABLE, "100", 5, "114.9425", "0.0005", "100 / 0.87, handbook table"),
]


@pytest.mark.parametrize(("equation", "load", "reps", "expected", "tolerance", "source"), ESTIMATES)
def test_each_equation_gives_its_check_values(
    equation: Equation, load: str, reps: int, expected: str, tolerance: str, source: str
) -> None:
    estimated = estimate(WithBody(Decimal(load)), reps, 0, equation)
    assert abs(estimated - Decimal(expected)) <= Decimal(tolerance), source


@pytest.mark.parametrize(
    ("load", "reps", "constant", "printed", "source"),
    [
        ("225", 10, "0.033", "299.25", "worked example, Cedarville University textbook (3rd ed.), p. 202"),
        ("140", 5, "0.0333", "163.31", COMPUTED),
    ],
)
def test_epley_with_a_thirtieth_differs_from_the_rounded_variants_by_the_constant_alone(
    load: str, reps: int, constant: str, printed: str, source: str
) -> None:
    gain = estimate(WithBody(Decimal(load)), reps, 0, E.EPLEY) - Decimal(load)
    variant = Decimal(load) + gain * 30 * Decimal(constant)
    assert abs(variant - Decimal(printed)) <= Decimal("0.005"), source


def test_brzycki_as_printed_stays_within_a_twentieth_of_the_rounded_fraction() -> None:
    # 315 x 5 with 36/(37 - r) is 354.375: computed independently (mpmath, 30 digits)
    estimated = estimate(WithBody(Decimal(315)), 5, 0, E.BRZYCKI)
    assert abs(estimated - Decimal("354.375")) < Decimal("0.05")
    assert abs(estimated * Decimal("0.8888") * 36 / 32 - Decimal("354.375")) < Decimal("0.0005")


PRINTED_ROWS = [
    # one max, loads for 2 to 10 reps, source
    (
        250,
        "237.5 232.5 225 217.5 212.5 207.5 200 192.5 187.5",
        "published row of the NSCA chart",
    ),
    (
        300,
        "285 279 270 261 255 249 240 231 225",
        "published row of the NSCA chart",
    ),
]


@pytest.mark.parametrize(("one_max", "row", "source"), PRINTED_ROWS)
def test_handbook_rows_reproduce_the_printed_chart(one_max: int, row: str, source: str) -> None:
    for reps, load in zip(range(2, 11), row.split(), strict=True):
        assert share(reps, E.TABLE) * one_max == Decimal(load), source


def test_rows_of_ones_own_replace_the_handbook_table() -> None:
    one_page = (*NSCA_ROWS[:10], (12, Decimal("0.70")), (15, Decimal("0.65")))
    # One-page NSCA chart, row of a 300 max: 12 reps at 210; the textbook table has 67 % there.
    assert share(12, E.TABLE, one_page) * 300 == 210
    assert share(12, E.TABLE) * 300 == 201
    assert estimate(WithBody(Decimal(210)), 12, 0, E.TABLE, one_page) == 300


def test_exam_guide_example_agrees_before_and_after_rounding_down_to_five_pounds() -> None:
    # Published exam-guide example: 285 lb x 6, then 15 reps; prints 335 and 215.
    one_max = estimate(WithBody(Decimal(285)), 6, 0, E.TABLE)
    fifteen = one_max * share(15, E.TABLE)
    assert abs(one_max - Decimal("335.29")) <= Decimal("0.01")
    assert abs(fifteen - Decimal("217.94")) <= Decimal("0.01")
    assert [load // 5 * 5 for load in (one_max, fifteen)] == [335, 215]


def test_the_table_runs_straight_between_its_rows() -> None:
    assert share(Decimal("1.5"), E.TABLE) == Decimal("0.975")
    assert share(Decimal("4.5"), E.TABLE) == Decimal("0.885")
    assert abs(share(13, E.TABLE) - Decimal("0.66333333")) < Decimal("1e-8")


def oracle(equation: Equation, n: mpmath.mpf) -> mpmath.mpf:
    """The max from a load of 1, written as each formula is printed."""
    number = mpmath.mpf
    match equation:
        case E.EPLEY:
            return 1 + n / 30
        case E.BRZYCKI:
            return 1 / (number("1.0278") - number("0.0278") * n)
        case E.LANDER:
            return 100 / (number("101.3") - number("2.67123") * n)
        case E.LOMBARDI:
            return n ** number("0.10")
        case E.MAYHEW:
            return 100 / (number("52.2") + number("41.9") * mpmath.exp(number("-0.055") * n))
        case E.OCONNER:
            return 1 + number("0.025") * n
        case _:
            return 100 / (number("48.8") + number("53.8") * mpmath.exp(number("-0.075") * n))


@pytest.mark.parametrize("equation", FORMULAS)
def test_mpmath_agrees_to_26_digits_from_two_to_fifteen_reps(equation: Equation) -> None:
    with mpmath.workdps(40):
        for halves in range(4, 31):
            n = Decimal(halves) / 2
            for load in ("42.5", "142.88159655", "317.5"):
                reps = int(n)
                ours = mpmath.mpf(str(estimate(WithBody(Decimal(load)), reps, n - reps, equation)))
                theirs = mpmath.mpf(load) * oracle(equation, mpmath.mpf(str(n)))
                assert abs(ours / theirs - 1) < mpmath.mpf("1e-26")


@pytest.mark.parametrize("equation", Equation)
def test_a_single_to_failure_is_the_max_itself(equation: Equation) -> None:
    assert share(1, equation) == 1
    assert estimate(WithBody(Decimal("102.05828325")), 1, 0, equation) == Decimal("102.05828325")


@pytest.mark.parametrize("equation", Equation)
def test_shares_fall_without_a_jump(equation: Equation) -> None:
    counts = [Decimal(hundredths) / 100 for hundredths in range(100, 1501)]
    shares = [share(n, equation) for n in counts]
    for heavier, lighter in pairwise(shares):
        assert 0 < heavier - lighter < Decimal("0.0012")


@pytest.mark.parametrize("equation", [E.EPLEY, E.LANDER, E.MAYHEW, E.OCONNER, E.WATHAN])
def test_equations_that_miss_one_at_a_single_run_straight_to_two_reps(equation: Equation) -> None:
    assert FORMULAS[equation].share(Decimal(1)) != 1
    middle = (1 + share(2, equation)) / 2
    assert abs(share(Decimal("1.5"), equation) - middle) < Decimal("1e-27")


def test_lombardi_needs_no_straight_part() -> None:
    with mpmath.workdps(40):
        ours = mpmath.mpf(str(share(Decimal("1.5"), E.LOMBARDI)))
        assert abs(ours - mpmath.mpf("1.5") ** mpmath.mpf("-0.1")) < mpmath.mpf("1e-30")


@pytest.mark.parametrize("equation", Equation)
@pytest.mark.parametrize("n", [Decimal(0), Decimal("0.5"), Decimal("15.5"), Decimal(37)])
def test_reps_outside_one_to_fifteen_are_refused(equation: Equation, n: Decimal) -> None:
    with pytest.raises(ValueError, match="outside 1 to 15"):
        share(n, equation)


def test_half_a_rep_in_reserve_counts() -> None:
    assert reps_to_failure(3, Decimal("1.5")) == Decimal("4.5")
    assert estimate(WithBody(Decimal(100)), 3, Decimal("1.5"), E.OCONNER) == Decimal("111.25")


@pytest.mark.parametrize(("reps", "rir"), [(0, 3), (-1, 5), (5, -1)])
def test_no_reps_and_negative_reserves_are_refused(reps: int, rir: int) -> None:
    with pytest.raises(ValueError, match="is no set"):
        estimate(WithBody(Decimal(100)), reps, rir, E.WATHAN)


def test_sets_that_are_worth_the_same_compare_equal() -> None:
    # 100 x (1 + 10/30) = 125 x (1 + 2/30)
    assert estimate(WithBody(Decimal(100)), 10, 0, E.EPLEY) == estimate(WithBody(Decimal(125)), 2, 0, E.EPLEY)


def test_the_ambient_precision_does_not_change_a_digit() -> None:
    plain = [str(estimate(WithBody(Decimal(140)), 5, Decimal(1), equation)) for equation in Equation]
    with localcontext() as context:
        context.prec = 5
        assert [str(estimate(WithBody(Decimal(140)), 5, Decimal(1), equation)) for equation in Equation] == plain


def test_zeros_behind_the_reps_add_none_behind_the_share() -> None:
    # By hand: 1.0278 - 0.0278 x 6.25, four and two places making six
    assert str(share(Decimal("6.2500"), E.BRZYCKI)) == "0.854050"


@pytest.mark.parametrize(
    ("n", "expected"),
    [
        ("1", Evidence.GOOD),
        ("10", Evidence.GOOD),
        ("10.5", Evidence.WEAK),
        ("15", Evidence.WEAK),
        ("15.5", Evidence.REFUSED),
    ],
)
def test_evidence_weakens_above_ten_and_ends_at_fifteen(n: str, expected: Evidence) -> None:
    # Above 10 reps the equations are significantly off: Mayhew et al. 1995; 15 is this project's own limit.
    assert evidence(Decimal(n)) is expected


def test_the_spread_is_framed_by_its_lowest_and_highest_equation() -> None:
    seen = spread(WithBody(Decimal(100)), 5, 0)
    by_equation = dict(seen.by_equation)
    assert tuple(by_equation) == tuple(Equation)
    # At five reps O'Conner is lowest (112.5) and Mayhew highest (119.0107): the check values above.
    assert seen.low == by_equation[E.OCONNER]
    assert seen.high == by_equation[E.MAYHEW]
    assert abs(seen.width - Decimal("6.5107") / Decimal("115.75535")) < Decimal("1e-6")


def test_a_single_has_no_spread() -> None:
    assert spread(WithBody(Decimal(180)), 1, 0).width == 0


FIRST = (1, Decimal(1))
LAST = (15, Decimal("0.65"))


@pytest.mark.parametrize(
    ("rows", "fault"),
    [
        ((), "first row"),
        (((2, Decimal("0.95")), LAST), "first row"),
        (((1, Decimal("0.99")), LAST), "first row"),
        ((FIRST, (5, Decimal("0.87")), (5, Decimal("0.85")), LAST), "reps must rise"),
        ((FIRST, (5, Decimal("0.87")), (6, Decimal("0.87")), LAST), "shares must fall"),
        ((FIRST, (12, Decimal("0.70"))), "at least 15"),
        ((FIRST, (15, Decimal(0))), "above 0"),
    ],
)
def test_a_table_that_cannot_serve_says_why(rows: tuple[tuple[int, Decimal], ...], fault: str) -> None:
    found = rows_fault(rows)
    assert found is not None
    assert fault in found


def test_the_handbook_table_has_no_fault() -> None:
    assert rows_fault(NSCA_ROWS) is None


def test_a_table_that_ends_early_refuses_more_reps() -> None:
    with pytest.raises(ValueError, match="no row at or above"):
        share(15, E.TABLE, NSCA_ROWS[:12])


@pytest.mark.parametrize("equation", Equation)
def test_every_equation_names_a_publication(equation: Equation) -> None:
    assert any(year in citation(equation) for year in ("1985", "1989", "1992", "1993", "1994", "2016"))
