"""Estimated one-repetition maxima: seven published equations and a handbook table, in both directions.

Why so many. None is right for everybody: all of seven fell short in the deadlift, and one alone agreed in the squat
(LeSuer et al. 1997, as quoted by others and from memory). So each lift may name its own, and pages show how far they
lie apart.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Context, Decimal, localcontext
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise

from builder.values.quantity import WithBody

FORMULA_CONTEXT = Context(prec=34)
"""Every formula is worked out in 34 decimal digits, so that the last printed digit is the same everywhere."""

ESTIMATE_CONTEXT = Context(prec=28)
"""Estimates drop the last digits of the working, so that two sets that are worth the same compare equal."""

MOST_REPS = 15
"""The most reps to failure from which a max is estimated at all."""

GOOD_REPS = 10
"""The most reps to failure that count as good evidence (the equations' own range; see `evidence`)."""

Rows = tuple[tuple[int, Decimal], ...]
"""A handbook table: (reps to failure, share of the max), reps rising and shares falling."""


class Equation(StrEnum):
    """A way from reps to failure to a share of the max; `FORMULAS` has each formula and citation."""

    EPLEY = "epley"
    BRZYCKI = "brzycki"
    LANDER = "lander"
    LOMBARDI = "lombardi"
    MAYHEW = "mayhew"
    OCONNER = "oconner"
    WATHAN = "wathan"
    TABLE = "table"
    """The handbook table: see `NSCA_ROWS`."""


DEFAULT = Equation.WATHAN
"""The only one of seven not different from actual squats in LeSuer et al., J Strength Cond Res
1997;11(4):211-213 (67 untrained students, up to 10 reps; quoted from memory)."""


@dataclass(frozen=True, slots=True)
class Formula:
    """One published equation: as printed, whence, and solved for the share of the max."""

    printed: str
    citation: str
    share: Callable[[Decimal], Decimal]


FORMULAS: dict[Equation, Formula] = {
    Equation.EPLEY: Formula(
        # Also printed with 0.033 and 0.0333; 225 x 10 is then 299.25 or 299.925, and 300 here.
        "1RM = w × (1 + r/30)",
        "Epley B. Poundage chart. In: Boyd Epley Workout. Lincoln, NE: Body Enterprises, 1985, p. 86.",
        lambda r: 30 / (30 + r),
    ),
    Equation.BRZYCKI: Formula(
        # Some copies print a plus sign in the denominator; others round the constants to 36/(37 - r).
        "1RM = w / (1.0278 − 0.0278 r)",
        "Brzycki M. Strength testing: predicting a one-rep max from reps-to-fatigue. "
        "JOPERD 1993;64(1):88-90.",
        lambda r: Decimal("1.0278") - Decimal("0.0278") * r,
    ),
    Equation.LANDER: Formula(
        "1RM = 100 w / (101.3 − 2.67123 r)",
        "Lander J. Maximums based on reps. NSCA J 1985;6(6):60-61.",
        lambda r: (Decimal("101.3") - Decimal("2.67123") * r) / 100,
    ),
    Equation.LOMBARDI: Formula(
        "1RM = w × r^0.10",
        "Lombardi VP. Beginning Weight Training. Dubuque, IA: W.C. Brown, 1989, p. 201.",
        # exp and ln are correctly rounded by every Decimal library; a fractional power is not.
        lambda r: (r.ln() / -10).exp(),
    ),
    Equation.MAYHEW: Formula(
        "1RM = 100 w / (52.2 + 41.9 e^(−0.055 r))",
        "Mayhew JL, Ball TE, Arnold MD, Bowen JC. Relative muscular endurance performance as a predictor of "
        "bench press strength in college men and women. J Appl Sport Sci Res 1992;6(4):200-206.",
        lambda r: (Decimal("52.2") + Decimal("41.9") * (Decimal("-0.055") * r).exp()) / 100,
    ),
    Equation.OCONNER: Formula(
        "1RM = w × (1 + 0.025 r)",
        "O'Conner B, Simmons J, O'Shea P. Weight Training Today. St Paul, MN: West Publishing, 1989, "
        "pp. 26-33.",
        lambda r: 40 / (40 + r),
    ),
    Equation.WATHAN: Formula(
        "1RM = 100 w / (48.8 + 53.8 e^(−0.075 r))",
        "Wathen D. Load assignment. In: Baechle TR (ed). Essentials of Strength Training and Conditioning. "
        "Champaign, IL: Human Kinetics, 1994, pp. 435-446.",
        lambda r: (Decimal("48.8") + Decimal("53.8") * (Decimal("-0.075") * r).exp()) / 100,
    ),
}

NSCA_ROWS: Rows = tuple(
    (reps, Decimal(percent) / 100)
    for reps, percent in (
        *((1, 100), (2, 95), (3, 93), (4, 90), (5, 87), (6, 85), (7, 83)),
        *((8, 80), (9, 77), (10, 75), (11, 70), (12, 67), (15, 65)),
    )
)
"""The textbook table; the same body's one-page chart has 12 reps at 70 % and no row for 11."""

NSCA_CITATION = (
    "Haff GG, Triplett NT (eds). Essentials of Strength Training and Conditioning, 4th ed. Champaign, IL: "
    "Human Kinetics, 2016, table 17.7 (table number from memory)."
)


def citation(equation: Equation) -> str:
    """The publication that `equation` comes from."""
    return NSCA_CITATION if equation is Equation.TABLE else FORMULAS[equation].citation


def rows_fault(rows: Rows) -> str | None:
    """What keeps `rows` from serving as a handbook table, or None when nothing does."""
    if not rows or rows[0] != (1, Decimal(1)):
        return "the first row must be 1 rep at 100 %"
    if any(later[0] <= earlier[0] for earlier, later in pairwise(rows)):
        return "the reps must rise from row to row"
    if any(later[1] >= earlier[1] for earlier, later in pairwise(rows)):
        return "the shares must fall from row to row"
    # Everyone may ask for up to `MOST_REPS`: a shorter table would fail in the middle of a plan.
    if rows[-1][0] < MOST_REPS or rows[-1][1] <= 0:
        return f"the last row must have at least {MOST_REPS} reps and a share above 0 %"
    return None


def reps_to_failure(reps: int, rir: Decimal | int) -> Decimal:
    """Reps done plus reps in reserve; ValueError for less than one rep or a negative reserve."""
    if reps < 1 or rir < 0:
        raise ValueError(f"{reps} reps with {rir} in reserve is no set")
    return reps + Decimal(rir)


def share(n: Decimal | int, equation: Equation, rows: Rows = NSCA_ROWS) -> Decimal:
    """The fraction of the max that can be lifted for `n` reps to failure: 1 at n = 1, falling with n.

    Several equations miss 1 at one rep (Mayhew would add 9 % to a true single). A single is the max itself,
    so these run in a straight line from 1 at n = 1 to their own value at n = 2. ValueError outside 1 to 15.
    """
    if not 1 <= n <= MOST_REPS:
        raise ValueError(f"{n} reps to failure lie outside 1 to {MOST_REPS}")
    reps = Decimal(n).normalize()
    return _between_rows(reps, rows) if equation is Equation.TABLE else _formula_share(reps, equation)


def estimate(
    load: WithBody, reps: int, rir: Decimal | int, equation: Equation, rows: Rows = NSCA_ROWS
) -> WithBody:
    """The max (kg, 28 digits) that `load` kg for `reps` with `rir` in reserve implies.

    ValueError when reps + rir lie outside 1 to 15.
    """
    fraction = share(reps_to_failure(reps, rir), equation, rows)
    return WithBody(ESTIMATE_CONTEXT.plus(FORMULA_CONTEXT.divide(load, fraction)))


class Evidence(StrEnum):
    """How far a tested set can be trusted as an estimate of the max."""

    GOOD = "good"
    WEAK = "weak"
    REFUSED = "refused"


def evidence(n: Decimal | int) -> Evidence:
    """Good to 10 reps to failure, weak to 15, refused above.

    Above 10 reps all six equations compared were significantly off (Mayhew JL et al. J Sports Med Phys
    Fitness 1995;35(2):108-113); the limit of 15 is this project's own.
    """
    if n > MOST_REPS:
        return Evidence.REFUSED
    return Evidence.WEAK if n > GOOD_REPS else Evidence.GOOD


@dataclass(frozen=True, slots=True)
class Spread:
    """The lowest and highest max (kg) that the equations read from one set, and what each of them reads."""

    low: Decimal
    high: Decimal
    by_equation: tuple[tuple[Equation, Decimal], ...]

    @property
    def width(self) -> Decimal:
        """High minus low as a share of the middle between them."""
        with localcontext(FORMULA_CONTEXT):
            return 2 * (self.high - self.low) / (self.high + self.low)


def spread(load: WithBody, reps: int, rir: Decimal | int, rows: Rows = NSCA_ROWS) -> Spread:
    """What all equations and the table make of one set; ValueError when reps + rir lie outside 1 to 15."""
    every = tuple((equation, estimate(load, reps, rir, equation, rows)) for equation in Equation)
    maxes = [estimated for _, estimated in every]
    return Spread(min(maxes), max(maxes), every)


# Asked of the formula and not listed, so that a new equation is right without a second place that knows it.
def _gives_one(formula: Formula) -> bool:
    return formula.share(Decimal(1)) == 1


# A plan asks thousands of times for a few dozen shares. Normalised reps keep the answer's digits independent
# of which of 2 and 2.0 was asked for first.
@lru_cache(maxsize=512)
def _formula_share(reps: Decimal, equation: Equation) -> Decimal:
    formula = FORMULAS[equation]
    with localcontext(FORMULA_CONTEXT):
        if reps >= 2 or _gives_one(formula):
            return formula.share(reps)
        # Half a rep in reserve counts too, so there must be no jump between one rep and two.
        return 1 - (reps - 1) * (1 - formula.share(Decimal(2)))


def _between_rows(reps: Decimal, rows: Rows) -> Decimal:
    for (fewer, heavier), (more, lighter) in pairwise(rows):
        # Straight between: the handbook has no rows for 13 and 14 reps, nor for half ones.
        if fewer <= reps <= more:
            with localcontext(FORMULA_CONTEXT):
                return heavier - (heavier - lighter) * (reps - fewer) / (more - fewer)
    raise ValueError(f"the table has no row at or above {reps} reps")
