"""Checks of what comes lighter: deloads, the taper, the last heavy sets and the test itself."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from builder.given import Pattern
from builder.plan import Plan, PlannedWeek, WeekKind
from builder.review.finding import Finding, Hit, Rule
from builder.review.where import HEAVY, PlannedSpot, between, heaviest, main_lift, percent, spots, weeks_of
from builder.training.norms import DELOAD_EVERY, LAST_HEAVY_DAYS, TAPER_CUT, TAPER_LOAD
from builder.values.quantity import plain, to_places

SURVEY = DELOAD_EVERY[0]
_INTERVAL = Rule("deload-interval", "Four to seven weeks between deloads are usual.", SURVEY.source)
_NONE = Rule("deload-none", 'Add a deload, such as "deload: {every: 5}".', SURVEY.source)
LONGEST = 8


def deload_interval(plan: Plan, _today: date) -> Iterator[Finding]:
    """Weeks from one deload to the next against the survey; the one before a test is part of the taper."""
    tested = [week.number for week in weeks_of(plan, WeekKind.TEST)]
    last = 0
    hits = []
    for number in [week.number for week in weeks_of(plan, WeekKind.DELOAD)]:
        every, last = number - last, number
        # The one before a test comes when the test does, whatever the cadence.
        tapers = number + 1 in tested and every < SURVEY.low
        if not SURVEY.holds(every) and not tapers:
            low, high = plain(SURVEY.low), plain(SURVEY.high)
            hits.append(Hit(f"week {number}", f"a deload after {every} weeks; {low} to {high} are usual"))
    yield from _INTERVAL.once(hits)


def deload_none(plan: Plan, _today: date) -> Iterator[Finding]:
    """More than eight training weeks to the end of the block without a deload."""
    deloads = [week.number for week in weeks_of(plan, WeekKind.DELOAD)]
    after = [w for w in weeks_of(plan, WeekKind.TRAINING) if w.number > max(deloads, default=0)]
    if len(after) > LONGEST:
        yield _NONE.at(f"week {after[0].number}", f"{len(after)} training weeks follow without a deload")


_LIGHTER = Rule("deload-not-lighter", "Cut the sets or the load of the deload further.", DELOAD_EVERY[2].source)


def deload_not_lighter(plan: Plan, _today: date) -> Iterator[Finding]:
    """A deload week with as much tonnage, or as many sets, as the training week before it."""
    hits = []
    for before, week in zip(plan.weeks, plan.weeks[1:], strict=False):
        if week.kind is not WeekKind.DELOAD or before.kind is not WeekKind.TRAINING:
            continue
        if week.total.tonnage >= before.total.tonnage > 0:
            hits.append(Hit(f"week {week.number}", "the deload moves as much weight as the week before"))
        # Sets decide only where no tonnage does: a deload may keep them all and cut the load.
        elif week.total.sets >= before.total.sets and before.total.tonnage == 0:
            hits.append(Hit(f"week {week.number}", "the deload has as many sets as the week before"))
    yield from _LIGHTER.once(hits)


CUT = TAPER_CUT[2]
RECENT_WEEKS = 3
_TAPER = Rule(
    "taper-volume", f"Cut the volume by {between(CUT.low, CUT.high)} in the week before the test.", CUT.source
)


def taper_volume(plan: Plan, _today: date) -> Iterator[Finding]:
    """Tonnage of the week before the test against the mean of the last three training weeks before that."""
    for last, test in zip(plan.weeks, plan.weeks[1:], strict=False):
        if test.kind is not WeekKind.TEST or last.kind is WeekKind.TEST:
            continue
        usual = _usual_tonnage(plan, last)
        # Where nothing was weighed before there is nothing to judge.
        cut = to_places(1 - last.total.tonnage / usual, 3) if usual else CUT.middle
        if not CUT.holds(cut):
            more = f"{percent(cut)} less" if cut >= 0 else f"{percent(-cut)} more"
            yield _TAPER.at(f"week {last.number}", f"the week before the test has {more} volume than the weeks before")


_KEEP = Rule(
    "deload-before-test",
    'Write "taper: {weeks: 1, sets: 50 %}" in place of it: a taper cuts sets and keeps the load.',
    TAPER_LOAD,
)


def deload_before_test(plan: Plan, _today: date) -> Iterator[Finding]:
    """A deload in the week before the test takes load off just when it should stay."""
    for last, test in zip(plan.weeks, plan.weeks[1:], strict=False):
        if test.kind is WeekKind.TEST and last.kind is WeekKind.DELOAD:
            yield _KEEP.at(f"week {last.number}", "the week before the test is a deload, with lighter loads")


def _usual_tonnage(plan: Plan, last: PlannedWeek) -> Decimal:
    # Training weeks only: beside a deload every taper would look like none.
    before = [w.total.tonnage for w in weeks_of(plan, WeekKind.TRAINING) if w.number < last.number][-RECENT_WEEKS:]
    return sum(before, Decimal(0)) / len(before) if before else Decimal(0)


_LAST = Rule(
    "last-heavy",
    f"Train the last set above {percent(HEAVY)} 7 to 10 days before the test, in a taper week with little volume.",
    LAST_HEAVY_DAYS.source,
)


def last_heavy(plan: Plan, _today: date) -> Iterator[Finding]:
    """The last squat and deadlift above 85 % before their attempts: neither in the last week nor long gone."""
    tests = [t for t in spots(plan, WeekKind.TEST) if t.slot.attempts and t.slot.about.pattern in _LEGS]
    yield from _LAST.once(hit for test in tests for hit in _long_or_short(plan, test))


NEVER = Decimal(99)
_LEGS = (Pattern.SQUAT, Pattern.HINGE)


def _long_or_short(plan: Plan, test: PlannedSpot) -> Iterator[Hit]:
    before = [
        days
        for spot in spots(plan, WeekKind.TRAINING, WeekKind.DELOAD, WeekKind.TAPER)
        if spot.slot.movement == test.slot.movement and (days := (test.session.on - spot.session.on).days) > 0
        if main_lift(plan, spot.slot) and heaviest(plan, spot.slot) > HEAVY
    ]
    days = min(before, default=0)
    if not before:
        yield Hit(test.slot.movement, f"no set above {percent(HEAVY)} of the max comes before its test", NEVER)
    elif not LAST_HEAVY_DAYS.holds(days):
        fact = f"the last set above {percent(HEAVY)} comes {days} days before its test"
        yield Hit(test.slot.movement, fact, abs(days - LAST_HEAVY_DAYS.middle))


_MISSING = Rule(
    "test-missing",
    "Leave days of the test week free, or take the lift out of the test, or of the limits once it may be tested.",
    "the block's own test",
)


def untested_lift(plan: Plan, _today: date) -> Iterator[Finding]:
    """Lifts that the block tests and the plan does not, such as one that a limit avoids."""
    wanted = plan.block.block.test
    done = sum(len(session.slots) for week in weeks_of(plan, WeekKind.TEST) for session in week.sessions)
    if wanted is not None and done < len(wanted.lifts):
        fact = f"{done} of the {len(wanted.lifts)} lifts to test ({', '.join(wanted.lifts)}) found a place"
        yield _MISSING.at(f"week {wanted.week}", fact)
