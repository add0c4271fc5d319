"""Whether a result can be what was meant: dates, units, and jumps beyond what equations and time make likely."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from builder.given import Client, Movements, TestedSet
from builder.log.results import DayOutcome, FromLog, LiftOutcome, ProfileSet, Result, amount_text
from builder.plan import LiftNumbers, Plan
from builder.plan.numbers import carried, percent_rows
from builder.review.likely import Likely, leap, likely, shown, worth_range
from builder.training.estimate import MOST_REPS
from builder.values.problem import Problem, Severity
from builder.values.quantity import OnBar, Unit, plain, to_kg, with_body

SURE = "Look at it again. If it is right, say --yes."


def judge(outcome: DayOutcome, former: Plan, library: Movements, today: date) -> tuple[Problem, ...]:
    """Every doubt about an outcome, as errors, and remarks, as warnings; pure.

    `former` is the plan of the profile before it. Nothing is doubted of a lift that was never tested, but its date.
    """
    days = dict.fromkeys(outcome.day_of(one) for one in outcome.lifts)
    found: list[Problem] = [problem for day in days for problem in _future(day, today)]
    for one in outcome.lifts:
        name = library.named(one.movement) or one.movement
        numbers = former.lift(name)
        if numbers is not None:
            found += _of_lift(outcome, one, numbers, former.client)
        found += _attempts(one, name, former.unit)
    for told in outcome.shown:
        numbers = former.lift(library.named(told.movement))
        if numbers is not None:
            found += _of_log(told, numbers, former.client, today)
    return (*found, *_bodyweight(outcome, former.client), *_starts(outcome.day, former.client))


def _of_lift(outcome: DayOutcome, one: LiftOutcome, numbers: LiftNumbers, client: Client) -> Iterator[Problem]:
    yield from _dates(outcome.day_of(one), numbers.movement, [value.test for value in numbers.tests])
    yield from _loadable(one, numbers, client.unit)
    if one.result is not None:
        yield from _worth(one.result, likely(numbers, client, outcome.day_of(one)), numbers, client)


def _future(day: date, today: date) -> Iterator[Problem]:
    if day > today:
        yield Problem("test-future", None, f"the test is dated {day}, which is after today, {today}", SURE)


def _dates(day: date, name: str, tests: Iterable[TestedSet]) -> Iterator[Problem]:
    days = [test.day for test in tests]
    if day in days:
        yield Problem("test-twice", None, f"{name} has a test of {day} already", SURE)
    elif day < max(days):
        fact = f"{name} has a later test, of {max(days)}, which goes on counting"
        yield Problem("test-order", None, fact, f"{day} is older. {SURE}")


def _worth(result: Result, expected: Likely, numbers: LiftNumbers, client: Client) -> Iterator[Problem]:
    # So many reps say nothing of a max.
    if result.reps + result.rir > MOST_REPS:
        return
    unit, own, rows = client.unit, carried(client, numbers.about), percent_rows(client)
    low, high = worth_range(with_body(result.load.kg(unit), own), result.reps, result.rir, rows)
    if low <= expected.high and high >= expected.low:
        return
    said = result.load.unit or unit
    # The wrong unit may explain a jump, so that is tried before a jump is spoken of.
    other = Unit.LB if said is Unit.KG else Unit.KG
    meant = worth_range(with_body(OnBar(to_kg(result.load.number, other)), own), result.reps, result.rir, rows)
    number = plain(result.load.number)
    written, span = f"{number} {said}", f"{shown(low, unit)} to {shown(high, unit)}"
    if meant[0] <= expected.high and meant[1] >= expected.low:
        fact = f"{numbers.movement}: {written} is not likely, {number} {other} is"
        yield Problem("other-unit", None, fact, f'If so, write "{number} {other}". If it is right as it is, say --yes.')
    elif low > expected.high:
        fact = f"{numbers.movement}: {written} x {result.reps} means a max of {span}, a large jump"
        yield Problem("unlikely-rise", None, fact, f"The last test was worth {expected.why}. {SURE}")
    else:
        fact = f"{numbers.movement}: {written} x {result.reps} means a max of {span}, a large drop"
        yield Problem("unlikely-fall", None, fact, f"The last test was worth {expected.why}. {SURE}")


def _of_log(told: FromLog, numbers: LiftNumbers, client: Client, today: date) -> Iterator[Problem]:
    """One doubt for the sets of a log that cannot be what was meant, so that no slip of the pen moves the max."""
    odd = [(line, why) for line in told.logged if (why := _odd(line, numbers, client, today))]
    if odd:
        line, why = odd[0]
        others = f", and so {len(odd) - 1} more" if len(odd) > 1 else ""
        done = f"{shown(line.load, client.unit)} x {line.reps} on {line.on}"
        fact = f"{numbers.movement}: the log has {done}, which {why}{others}"
        help_ = "Mend it in the PDF, or leave the log out with --no-log. If it is right, say --yes."
        yield Problem("log-unlikely", None, fact, help_)


def _odd(line: ProfileSet, numbers: LiftNumbers, client: Client, today: date) -> str:
    """What is not likely about a set, "" where nothing is."""
    if line.on is None or line.on > today:
        return f"is after today, {today}"
    load = with_body(line.load, carried(client, numbers.about))
    return leap(numbers, client, line.on, load, line.reps, line.rir, missed=line.missed)


def _loadable(one: LiftOutcome, numbers: LiftNumbers, unit: Unit) -> Iterator[Problem]:
    """A remark: a test may have been done in another gym."""
    done = (*((one.result.load,) if one.result else ()), *one.made, *one.missed)
    for load in dict.fromkeys(done):
        if not numbers.ladder.holds(load.kg(unit)):
            near = shown(numbers.ladder.pick(load.kg(unit)).mass, unit)
            fact = f"{numbers.movement}: {amount_text(load)} cannot be loaded in this gym; the nearest is {near}"
            help_ = "Nothing to do if it was lifted elsewhere or with other plates."
            yield Problem("not-loadable", None, fact, help_, Severity.WARNING)


def _attempts(one: LiftOutcome, name: str, unit: Unit) -> Iterator[Problem]:
    if one.result is None:
        return
    best = one.result.load.kg(unit)
    for load in one.made:
        if load.kg(unit) > best:
            result = amount_text(one.result.load)
            fact = f"{name}: the attempt at {amount_text(load)} was made, and the result is only {result}"
            yield Problem("attempts-differ", None, fact, f"The result should be the best of the day. {SURE}")


def _bodyweight(outcome: DayOutcome, client: Client) -> Iterator[Problem]:
    """A remark: a retest adds tests only, and numbers count the bodyweight of the profile."""
    known = client.client.bodyweight
    if outcome.bodyweight is None or known is None or outcome.bodyweight.kg(client.unit) == known.kg(client.unit):
        return
    fact = f"the profile goes on counting with a bodyweight of {amount_text(known)}"
    help_ = f'For the new one, write "bodyweight: {amount_text(outcome.bodyweight)}" under "client:" yourself.'
    yield Problem("bodyweight-differs", None, fact, help_, Severity.WARNING)


def _starts(day: date, client: Client) -> Iterator[Problem]:
    """A remark: the block is planned from its old first day until someone sets another."""
    starts = client.training.starts
    if starts <= day:
        fact = f"the block starts on {starts}, which is not after the test of {day}"
        help_ = 'For the next block, set "starts:" under "training:" to its first day, and build again.'
        yield Problem("starts-before", None, fact, help_, Severity.WARNING)
