"""Checks of the profile's own figures: what a retest would doubt is doubted here too, before a plan stands on it.

Why doubts and no refusals: somebody lifts what nobody is likely to, and the coach who knows goes on.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

from builder.given import Pattern
from builder.plan import LiftNumbers, Plan
from builder.plan.model import TestValue
from builder.plan.numbers import percent_rows
from builder.review.finding import Finding, Gravity, Hit, Rule
from builder.review.likely import leap, likely, shown, worth_range
from builder.training.norms import COMMON_PRACTICE
from builder.values.quantity import Unit, plain, to_kg

LEGS = (Pattern.SQUAT, Pattern.HINGE, Pattern.LUNGE)
MOST_OF_THE_BODY = {True: Decimal(5), False: Decimal("3.5")}
MOST_KG = {True: Decimal(500), False: Decimal(350)}
"""A max above so many bodyweights, and above so many kg, with the legs and without, is rather a slip of the pen."""

ONCE_STRONGER = Decimal("1.25")
"""How much better than the tests make likely an old record may be; common practice, no source."""

_UNLIKELY = Rule(
    "test-unlikely",
    "Look at load, unit, reps and date again; a plan from a slip of the pen is too heavy or too light.",
    COMMON_PRACTICE,
    Gravity.CAUTION,
)


def unlikely_test(plan: Plan, _today: date) -> Iterator[Finding]:
    """A set that no one is likely to have done, or a leap from the tests of a lift to another set of it."""
    ways = (_beyond, _leaps, _far_records, _far_logged)
    yield from _UNLIKELY.once(hit for lift in plan.lifts for way in ways for hit in way(plan, lift))


def _beyond(plan: Plan, lift: LiftNumbers) -> Iterator[Hit]:
    legs, body = lift.about.pattern in LEGS, plan.client.client.bodyweight
    bounds = [MOST_KG[legs] + lift.own]
    if body is not None:
        bounds.append(MOST_OF_THE_BODY[legs] * body.kg(plan.unit))
    for value in lift.tests:
        if value.estimate is not None and value.estimate > min(bounds):
            done = f"{_written(value, plan.unit)} x {value.test.reps}"
            yield Hit(lift.movement, f"{done} means a max of {shown(value.estimate, plan.unit)}", value.estimate)


def _leaps(plan: Plan, lift: LiftNumbers) -> Iterator[Hit]:
    known = sorted((one for one in lift.tests if one.estimate is not None), key=lambda one: one.test.day)
    for before, after in pairwise(known):
        expected = likely(lift, plan.client, after.test.day, before)
        low, high = worth_range(after.load, after.test.reps, after.test.rir, percent_rows(plan.client))
        if low > expected.high or high < expected.low:
            span = f"{shown(low, plan.unit)} to {shown(high, plan.unit)}"
            way = "rise" if low > expected.high else "drop"
            fact = f"{_written(after, plan.unit)} x {after.test.reps} on {after.test.day} means a max of {span}"
            fact += f", a large {way} from the test of {before.test.day}"
            yield Hit(lift.movement, fact, abs(low - expected.high))


def _far_records(plan: Plan, lift: LiftNumbers) -> Iterator[Hit]:
    """Records that leave the tests far behind: one may have been stronger once, but hardly by more than a quarter."""
    for best in lift.performances:
        on = best.on or lift.chosen.test.day
        why = leap(lift, plan.client, on, best.load, best.reps, None, most=ONCE_STRONGER)
        if best.source == "record" and why:
            done = f"the record of {shown(lift.load_of(best.load), plan.unit)} x {best.reps}"
            yield Hit(lift.movement, f"{done} {why}", best.load)


def _far_logged(plan: Plan, lift: LiftNumbers) -> Iterator[Hit]:
    for one in lift.logged:
        load = one.load.kg(plan.unit)
        why = leap(lift, plan.client, one.day, lift.whole(load), one.reps, one.rir, missed=one.missed)
        if why:
            yield Hit(lift.movement, f"{shown(load, plan.unit)} x {one.reps}, logged on {one.day}, {why}", load)


_UNIT = Rule(
    "test-unit",
    "Write the unit that was meant, or nothing where it is the profile's.",
    "the client's own profile",
    Gravity.CAUTION,
)


def other_unit(plan: Plan, _today: date) -> Iterator[Finding]:
    """A load written in the other unit that this gym cannot make, where the same number in the profile's it can."""
    yield from _UNIT.once(
        Hit(lift.movement, f"{_written(value, plan.unit)} cannot be loaded here, {plain(said.number)} {plan.unit} can")
        for lift in plan.lifts
        for value in lift.tests
        if (said := value.test.load).unit not in (None, plan.unit)
        and not lift.ladder.holds(said.kg(plan.unit))
        and lift.ladder.holds(to_kg(said.number, plan.unit))
    )


_START = Rule(
    "start-before-tests", 'Look at "starts:" under "training:", and at the dates of the tests.', "the calendar"
)


def start_before_tests(plan: Plan, _today: date) -> Iterator[Finding]:
    """A block that is over before the tests that it is planned from were done."""
    ends = plan.weeks[-1].starts + timedelta(days=6)
    late = [(lift.movement, lift.chosen.test.day) for lift in plan.lifts if lift.chosen.test.day > ends]
    yield from _START.once(
        Hit(movement, f"the block ends on {ends}, and its test was done on {day}", Decimal((day - ends).days))
        for movement, day in late
    )


def _written(value: TestValue, unit: Unit) -> str:
    """A load as the profile writes it."""
    return f"{plain(value.test.load.number)} {value.test.load.unit or unit}"
