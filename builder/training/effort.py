"""Effort: reps in reserve, the rating of perceived exertion, and the loads that belong to them.

Zourdos MC et al. Novel resistance training-specific rating of perceived exertion scale measuring repetitions in
reserve. J Strength Cond Res 2016;30(1):267-275.
"""

from decimal import Decimal, localcontext
from typing import NamedTuple

from builder.training.estimate import (
    FORMULA_CONTEXT,
    MOST_REPS,
    NSCA_ROWS,
    Equation,
    Rows,
    reps_to_failure,
    share,
)

MOST_RIR = Decimal(9)
HALF_A_REP = Decimal("0.5")


class Bracket(NamedTuple):
    """The load (kg) expected for a target effort, with the loads half a rep or so easier and harder."""

    low: Decimal
    expected: Decimal
    high: Decimal


def rpe_of(rir: Decimal | int) -> Decimal:
    """The rating for `rir` reps in reserve: 10 - RIR (Zourdos 2016); ValueError outside 0 to 9.

    Below a rating of 7 the published scale has one level for several reps: the rating is only nominal there.
    """
    # The scale begins at 1, so nine left is the most that it can tell.
    if not 0 <= rir <= MOST_RIR:
        raise ValueError(f"{rir} reps in reserve lie outside 0 to {MOST_RIR}")
    return 10 - Decimal(rir)


def load_share(reps: int, rir: Decimal | int, equation: Equation, rows: Rows = NSCA_ROWS) -> Decimal:
    """The share of the max for `reps` with `rir` reps left: the estimate turned round.

    ValueError when reps + rir lie outside 1 to 15.
    """
    return share(reps_to_failure(reps, rir), equation, rows)


def bracket(
    max_kg: Decimal,
    reps: int,
    rir: Decimal | int,
    equation: Equation,
    slack: Decimal = HALF_A_REP,
    rows: Rows = NSCA_ROWS,
) -> Bracket:
    """Loads (kg) for `reps` at `rir` + slack, at `rir`, and at `rir` - slack (not below none left).

    Half a rep is about how far practised lifters miss a target effort: 0.33 +/- 0.28 on the scale (Helms
    et al. J Strength Cond Res 2017;31(10):2938-2943). ValueError when reps + rir + slack exceed 15.
    """
    # Less than nothing cannot be left: beside a set to failure there is no harder side.
    reserves = (rir + slack, Decimal(rir), max(rir - slack, Decimal(0)))
    with localcontext(FORMULA_CONTEXT):
        return Bracket(*(max_kg * load_share(reps, left, equation, rows) for left in reserves))


def effort_table(
    equation: Equation, most_reps: int = 12, most_rir: int = 4, rows: Rows = NSCA_ROWS
) -> tuple[tuple[Decimal | None, ...], ...]:
    """Shares of the max: a row for 1 to `most_reps` reps, in it a column for 0 to `most_rir` reps in reserve.

    None where reps + rir exceed 15.
    """
    return tuple(
        tuple(
            load_share(reps, left, equation, rows) if reps + left <= MOST_REPS else None
            for left in range(most_rir + 1)
        )
        for reps in range(1, most_reps + 1)
    )
