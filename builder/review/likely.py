"""What a test of a lift is likely to be worth after another: by the spread of equations, judged reserve and time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.given import Client, Pattern
from builder.plan.model import LiftNumbers, TestValue
from builder.plan.numbers import percent_rows
from builder.training.estimate import MOST_REPS, Rows, spread
from builder.training.norms import LIKELY_LOSS, RIR_ERROR, likely_gain
from builder.values.quantity import Unit, WithBody, in_unit, plain, to_places


@dataclass(frozen=True, slots=True)
class Likely:
    """What a retest of one lift is likely to be worth, in kg, and why."""

    low: Decimal
    high: Decimal
    why: str


def likely(numbers: LiftNumbers, client: Client, day: date, last: TestValue | None = None) -> Likely:
    """From the lowest to the highest max that is no surprise on a day after a test of the lift, by default the chosen.

    The test is taken with the spread of all equations and a rep of error in its reserve (`RIR_ERROR`), then
    `LIKELY_LOSS` is taken off and `likely_gain` put on.
    """
    known = last or numbers.chosen
    low, high = worth_range(known.load, known.test.reps, known.test.rir, percent_rows(client))
    # A record may be older than the test; it is as far from it either way.
    days = abs((day - known.test.day).days)
    status, squat = client.training.status, numbers.about.pattern is Pattern.SQUAT
    gain, source = likely_gain(high, days, status, squat=squat)
    why = (
        f"{shown(low, client.unit)} to {shown(high, client.unit)} on {known.test.day}; "
        f"likely after {days} days: a rise of {shown(gain, client.unit)} ({source.rstrip('.')}), "
        f"a fall of {plain(LIKELY_LOSS.high * 100)} % ({LIKELY_LOSS.source})"
    )
    return Likely(low * (1 - LIKELY_LOSS.high), high + gain, why)


FAR_BELOW = Decimal("0.8")
"""A set that is worth less than this share of the least that is likely is doubted; above, it was a bad day. Common
practice, no source."""


def leap(
    numbers: LiftNumbers, client: Client, on: date, load: WithBody, reps: int, rir: Decimal | None, *,
    missed: bool = False, most: Decimal = Decimal(1),
) -> str:  # fmt: skip
    """How a set that is no test lies outside what is likely, "" where it does not; `most` times that is no jump.

    One without a reserve (None) may be as light as it likes.
    """
    left = rir or Decimal(0)
    if reps + left > MOST_REPS:
        return ""
    expected = likely(numbers, client, on)
    low, high = worth_range(load, reps, left, percent_rows(client))
    span = f"means a max of {shown(low, client.unit)} to {shown(high, client.unit)}"
    if low > expected.high * most and not missed:
        return f"{span}, a large jump"
    if high < expected.low * FAR_BELOW and (missed or rir is not None):
        return f"{span}, a large drop"
    return ""


def worth_range(load: WithBody, reps: int, rir: Decimal, rows: Rows) -> tuple[Decimal, Decimal]:
    """The lowest and highest max (kg) of a set by all equations, were its reserve a rep smaller or larger."""
    # Nobody has less than nothing left.
    error = min(RIR_ERROR.high, rir)
    most = min(rir + error, Decimal(MOST_REPS - reps))
    return spread(load, reps, rir - error, rows).low, spread(load, reps, most, rows).high


def shown(mass: Decimal, unit: Unit) -> str:
    """A mass in the lifter's unit, to a tenth."""
    return f"{plain(to_places(in_unit(mass, unit), 1))} {unit}"
