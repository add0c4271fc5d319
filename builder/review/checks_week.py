"""Checks of the week and of the whole block: neighbouring days, hard sets and their balance, falling loads, fatigue."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Equipment, Pattern
from builder.plan import Plan, PlannedSet, PlannedSlot, PlannedWeek, WeekKind
from builder.review.finding import Finding, Hit, Rule
from builder.review.where import heaviest, load, spots, weeks_of
from builder.training.norms import (
    HARD_SETS,
    INDIRECT,
    LEAST_SETS,
    RECOVERY_DAYS,
    REGION_SETS,
    REGIONS,
)
from builder.values.quantity import plain, to_places

HARD_FROM = Decimal("0.80")
_HINGE = Rule("hinge-before-squat", "Move one of the two, or make one of them light: the back needs the day.")


def hinge_before_squat(plan: Plan, _today: date) -> Iterator[Finding]:
    """A heavy hinge on the day before a heavy squat."""
    heavy = [spot for spot in spots(plan, WeekKind.TRAINING) if _hard(plan, spot.slot)]
    hinges = {spot.session.on: spot for spot in heavy if spot.slot.about.pattern is Pattern.HINGE}
    yield from _HINGE.once(
        Hit(spot.place, f"heavy on the day after heavy {before.slot.movement}", heaviest(plan, spot.slot))
        for spot in heavy
        if spot.slot.about.pattern is Pattern.SQUAT
        if (before := hinges.get(spot.session.on - timedelta(days=1))) is not None
    )


def _hard(plan: Plan, slot: PlannedSlot) -> bool:
    barbell = slot.about.equipment is Equipment.BARBELL and slot.drill is None and not slot.accessory
    return barbell and (slot.stress == "heavy" or heaviest(plan, slot) >= HARD_FROM) and slot.stress != "light"


EASY_FROM = 5
"""Reps in reserve from which a set is no hard one; common practice, no source."""


def _hard_sets(week: PlannedWeek) -> Counter[Pattern]:
    """Working sets with fewer than five reps in reserve, by pattern; drills and conditioning are none."""
    found: Counter[Pattern] = Counter()
    for session in week.sessions:
        for slot in session.slots:
            if slot.drill is None and not slot.conditioning:
                found[slot.about.pattern] += sum(1 for planned in slot.work if _near_limit(planned))
    return found


def _near_limit(planned: PlannedSet) -> bool:
    """A rep range is judged by its top, which a good day may reach."""
    climbed = (planned.most_reps or planned.reps) - planned.reps
    return planned.rir is None or planned.rir - climbed < EASY_FROM


_MANY = Rule("sets-many", "Take out sets, the last slot of the pattern first, unless the lifter is known to bear it.")
_FEW = Rule("sets-few", "Give the lift three sets a week or more.", LEAST_SETS.source)


def sets_many(plan: Plan, _today: date) -> Iterator[Finding]:
    """More hard sets a week than is usual for the status, of a pattern or of a region of the body."""
    most = HARD_SETS[plan.client.training.status].high
    most_of = REGION_SETS[plan.client.training.status].high
    hits = []
    for week in weeks_of(plan, WeekKind.TRAINING):
        counted = _hard_sets(week)
        regions = {name: _of_region(counted, parts) for name, parts in REGIONS.items()}
        every = [(str(p), Decimal(n), most) for p, n in counted.items()] + [(r, n, most_of) for r, n in regions.items()]
        hits += [
            Hit(
                f"week {week.number}",
                f"{plain(n)} hard sets for the {name}; {plain(usual)} at most are usual",
                n / usual,
            )
            for name, n, usual in every
            if n > usual
        ]
    yield from _MANY.once(hits)


def _of_region(counted: Counter[Pattern], parts: dict[str, bool]) -> Decimal:
    """Direct sets whole, indirect ones by half."""
    return sum((counted[Pattern(p)] * (Decimal(1) if direct else INDIRECT) for p, direct in parts.items()), Decimal(0))


def sets_few(plan: Plan, _today: date) -> Iterator[Finding]:
    """A tested lift with fewer hard sets of its pattern a week, on average, than keep it rising."""
    weeks = weeks_of(plan, WeekKind.TRAINING)
    # Reversed, so that the profile's first lift of a pattern gives it its name.
    patterns = {lift.about.pattern: lift.movement for lift in reversed(plan.lifts)}
    total = sum((_hard_sets(week) for week in weeks), Counter[Pattern]())
    averages = {movement: Decimal(total[p]) / len(weeks) for p, movement in patterns.items() if weeks}
    yield from _FEW.once(
        Hit(
            movement,
            f"{plain(to_places(n, 1))} hard sets a week of its pattern; {plain(LEAST_SETS.low)} keep it rising",
            -n,
        )
        for movement, n in averages.items()
        if 0 < n < LEAST_SETS.low
    )


LOPSIDED = Decimal(2)
LOPSIDED_LEGS = Decimal(3)
"""How many times as many sets one side may have as the other; common practice, no source."""
_PUSH = Rule("push-pull", "Even the two out: about as many sets of rows and pull-ups as of presses.")
_LEGS = Rule("squat-hinge", "Add sets to the smaller side, or take some from the larger.")
_PUSHES, _PULLS = ("horizontal push", "vertical push"), ("horizontal pull", "vertical pull")


def push_pull(plan: Plan, _today: date) -> Iterator[Finding]:
    """Twice as much pressing as pulling, or the other way round, over the whole block."""
    yield from _balance(plan, _PUSH, ("pushing", _PUSHES), ("pulling", _PULLS), LOPSIDED)


def squat_hinge(plan: Plan, _today: date) -> Iterator[Finding]:
    """Three times as much squatting as hinging, or the other way round, over the whole block."""
    yield from _balance(plan, _LEGS, ("squatting", ("squat",)), ("hinging", ("hinge",)), LOPSIDED_LEGS)


def _balance(
    plan: Plan, rule: Rule, one: tuple[str, tuple[str, ...]], other: tuple[str, tuple[str, ...]], most: Decimal
) -> Iterator[Finding]:
    total = sum((_hard_sets(week) for week in weeks_of(plan, WeekKind.TRAINING)), Counter[Pattern]())
    sides = sorted(((sum(total[Pattern(p)] for p in parts), name) for name, parts in (one, other)), reverse=True)
    (more, name), (less, rest) = sides
    if less and Decimal(more) / less > most:
        yield rule.at("", f"{more} hard sets of {name} and {less} of {rest} in the block")


FALL = Decimal("0.02")
_FALL = Rule("loads-fall", "Let the loads rise over the block: put the heavier weeks last, lighter ones before a test.")


def loads_fall(plan: Plan, _today: date) -> Iterator[Finding]:
    """A lift whose heaviest set of the later training weeks is lighter than that of the earlier ones."""
    weeks = [week.number for week in weeks_of(plan, WeekKind.TRAINING)]
    middle = len(weeks) // 2
    hits = []
    for movement in dict.fromkeys(spot.slot.movement for spot in spots(plan, WeekKind.TRAINING)):
        early, late = (_top(plan, movement, part) for part in (weeks[:middle], weeks[middle:]))
        if early and late and late < early * (1 - FALL):
            fact = (
                f"the heaviest set falls from {load(plan, early)} in the first half to {load(plan, late)} in the second"
            )
            hits.append(Hit(movement, fact, early / late))
    yield from _FALL.once(hits)


def _top(plan: Plan, movement: str, weeks: list[int]) -> Decimal | None:
    masses = [
        planned.rung.mass
        for spot in spots(plan, WeekKind.TRAINING)
        if spot.week.number in weeks and spot.slot.movement == movement and spot.slot.drill is None
        if spot.slot.lift is not None and not spot.slot.accessory
        for planned in spot.slot.work
        if planned.rung is not None and planned.rung.mass > 0
    ]
    return max(masses, default=None)


_TIRED = Rule(
    "test-tired", "Leave three days before a test without hard sets of the same region.", RECOVERY_DAYS.source
)


def tired_test(plan: Plan, _today: date) -> Iterator[Finding]:
    """Hard sets of the same region in the three days before attempts."""
    tests = [spot for spot in spots(plan, WeekKind.TEST) if spot.slot.kind in ("attempts", "rep_test")]
    done = [s for s in spots(plan, WeekKind.TRAINING, WeekKind.DELOAD) if s.slot.drill is None and _hard(plan, s.slot)]
    yield from _TIRED.once(
        Hit(test.slot.movement, f"{before.slot.movement} is heavy {days} before its test", -Decimal(gap))
        for test in tests
        for before in done
        if before.slot.about.region == test.slot.about.region
        if 0 < (gap := (test.session.on - before.session.on).days) <= RECOVERY_DAYS.high
        for days in ["1 day" if gap == 1 else f"{gap} days"]
    )
