"""The retest form of a filled booklet as the outcome of a test, ready to go into the profile."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from builder.given import Conditions
from builder.log.model import Log, TestLog
from builder.log.results import DayOutcome, LiftOutcome, Result
from builder.values import fields
from builder.values.fields import ResultField
from builder.values.problem import Cell, Problem
from builder.values.quantity import Unit, in_unit, plain
from builder.values.scalars import Amount


def outcome_of(log: Log, unclear: Sequence[Problem], day: date | None) -> tuple[DayOutcome | None, tuple[Problem, ...]]:
    """What the form says, or every problem of it; `day` counts for lifts whose date was left blank.

    Missed attempts are taken along as such. A lift about which nothing was written stays out.
    """
    # The log around it may be unclear in places; of the test itself nothing may be, or a profile would get half of it.
    problems = [one for one in unclear if isinstance(one.span, Cell) and fields.part_of(one.span.field) == "retest"]
    written = [(number, test) for number, test in enumerate(log.tests, 1) if test.best or test.missed]
    if not written and not problems:
        fact = f"the retest form of the booklet {log.manifest.code} is blank"
        return None, (Problem("form-blank", None, fact, "Fill it in, or say --result."),)
    problems += [_undated(number) for number, test in written if test.on is None and day is None]
    if problems:
        return None, tuple(problems)
    first = min(test.on or day or date.min for _, test in written)
    return DayOutcome(first, tuple(_lift(test, day) for _, test in written)), ()


def _undated(number: int) -> Problem:
    at = Cell("the retest form", 0, fields.write(ResultField(number, "date")))
    return Problem("form-undated", at, "the day of the test is not written", "Write it there, or say --on.")


def _lift(test: TestLog, day: date | None) -> LiftOutcome:
    best = test.best
    made = tuple(_amount(attempt.load) for attempt in test.attempts if attempt.good)
    result = None
    if best is not None:
        load, reps, rir = best
        result = Result(_amount(load), reps, rir)
    return LiftOutcome(
        test.planned.movement,
        result,
        made,
        tuple(_amount(load) for load in test.missed),
        Conditions(),
        # A note in a profile is one line.
        " ".join(test.note.split()) or None,
        test.on or day,
    )


def _amount(kg: Decimal) -> Amount:
    """The mass as it is shorter to write, in kilograms or in pounds."""
    # A log keeps no unit of what was typed; the shorter writing is the likely one.
    return min(
        (Amount(Decimal(plain(in_unit(kg, unit))), unit) for unit in Unit), key=lambda one: len(plain(one.number))
    )
