"""Ramps: the warm-up sets that lead to the first working set over loads the gym can really make.

A ramp is the cheapest walk up the ladder from the first warm-up load to the working load. A step
costs more the further it lies from the step a coach would take at that height (long ones low
down, short ones near the work), each set costs a little, and so does every plate put on and,
much more, every plate taken off. All weights here are common practice, no source; so is the number of
sets, for which no trial was found. That one or two sets at 40 to 80 % of the working load do for sets of
six at 80 % of the max was measured: Ribeiro B et al. Int J Environ Res Public Health 2020;17(18):6882.

Why a walk and no list of shares: 40, 60 and 80 % of the work come to loads with five small plates a side, or to plates
that come off again on the way up. A coach takes the plain loads nearby, and this finds them for every gym.
"""

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from operator import attrgetter

from builder.training.loading import Ladder, Rung, Side
from builder.values.quantity import Rounding, to_places

LONG_STEP = 0.30
"""The step taken from nothing, as a share of the work; it shrinks by `STEP_SHRINK` per share climbed."""
STEP_SHRINK = 0.20
TOO_LONG_SCALE, TOO_SHORT_SCALE = 0.04, 0.06
"""A step this much longer, or shorter, than it should be costs 1."""
LONGEST_STEP = 0.30
LONGEST_LAST_STEP = 0.13
LEAP = 0.5
"""A step this long is never worth it while a nearer stop is left."""
EXCESS_SCALE = 0.02
"""A step this much over its limit costs 1 more."""
SET_COST = 0.1
PLATE_ON_COST = 0.12
PLATE_OFF_COST = 0.3

START_SHARE, ONLY_SHARE = Decimal("0.5"), Decimal("0.7")
"""Where a ramp without an empty bar begins: about half of the work, higher where it is a single set."""
START_WIDTH = Decimal("0.12")
"""Of the loads so near to that share the one with the fewest plates is the start."""
FLOOR_AT_MOST = Decimal("0.72")
"""A load with full-size plates that is more of the work than this is no start; small plates on blocks are."""
MOST_SETS_OFF_THE_BAR, MOST_SETS_ON_THE_BELT = 2, 2
LONG_WORK_REPS, HIGHEST_BEFORE_LONG, HIGHEST = 5, 0.90, 0.95
"""Before working sets of at least so many reps nothing above the first share, before shorter ones above the other."""
SETS_BY_RATIO = ((1.2, 1), (1.6, 2), (3.4, 3), (6.2, 4))
"""Most sets up to a ratio of the work to the start; above, the caller's limit. A start with plates on
has one set more, since the empty bar is left out."""
PLAIN_WIDTH = Decimal("0.055")
"""A rung is too fiddly for a ramp when fewer plates make a load that differs by no more than this share."""
STOP_WIDTH = Decimal("0.04")
"""Of all plain rungs within this share of the work only the one with the fewest plates is considered."""

_plates = attrgetter("plates")

Walk = tuple[float, tuple[int, ...]]
"""What the steps so far have cost, and the places stopped at."""

FIRST_REPS = ((0.5, 8), (0.9, 5), (1.0, 3))
"""Reps of the first set up to a share of the work: the lifter is cold, so even near the work not one."""
EMPTY_BAR_REPS, EMPTY_BAR_SHARE = 8, 0.7
"""A first set with the empty bar keeps these reps up to this share."""
REPS = ((0.68, 5), (0.80, 3), (0.85, 2), (1.0, 1))
"""Reps of the later sets up to a share of the work."""
ONE_MORE_SHARE = 0.80
"""Before long working sets, one rep more above this share."""
NEAR_WORK_SHARE = 0.7
"""Above this share no ramp set has more reps than the work."""
REST_BY_SHARE = ((0.5, 60), (0.75, 90), (0.85, 120))
LONGEST_REST = 150
BODY_SHARE = 0.65
"""With plates hung from a belt the body counts as this much of the work."""
HELD_FROM, HELD_SECONDS = 0.5, 3
"""Before a walkout the sets above this share of it are held so long and not squatted."""


@dataclass(frozen=True, slots=True)
class RampSet:
    """One warm-up set: its load, reps, share of the working load, and rest afterwards in seconds.

    With `seconds` it is held so long and not repeated.
    """

    rung: Rung
    reps: int
    share: Decimal
    rest_seconds: int
    seconds: int | None = None


@dataclass(frozen=True, slots=True)
class Begin:
    """Where a ramp begins: on a bar with the empty one, unless the lift starts from the `floor` (kg) or is `warm`.

    What has been `lifted` (kg) of the same lift today is not repeated.
    """

    floor: Decimal | None = None
    warm: bool = False
    lifted: Decimal = Decimal(0)


@lru_cache(maxsize=4096)
def ramp(
    work: Decimal, work_reps: int, ladder: Ladder, *, begin: Begin = Begin(), most_sets: int = 5
) -> tuple[RampSet, ...]:
    """The warm-up sets before `work_reps` reps at `work` kg: loads rise, reps never do.

    On a bar the ramp begins with the empty bar; lifts from the floor begin with the first load of at least
    `begin.floor` kg, or where that is too near the work with smaller plates. A warm lifter begins near half of the
    work, and so does who lifts no bar. Every load is a rung of `ladder` below the work that needs no add-on pieces;
    where there is none far enough below, the first working set is its own warm-up and the result is empty.
    """
    way = _way(work, ladder, begin, most_sets, work_reps >= LONG_WORK_REPS)
    return tuple(
        _ramp_set(rung, effort, work, work_reps, ladder, first=place == 0) for place, (rung, effort) in enumerate(way)
    )


def hold_ramp(work: Decimal, ladder: Ladder, *, most_sets: int = 5) -> tuple[RampSet, ...]:
    """The way to a walkout: squatted while the load is light, then held for short, never a heavy single."""
    way = _way(work, ladder, Begin(), most_sets, True)
    sets = (_ramp_set(rung, effort, work, LONG_WORK_REPS, ladder, first=not i) for i, (rung, effort) in enumerate(way))
    return tuple(replace(one, reps=1, seconds=HELD_SECONDS) if one.share > HELD_FROM else one for one in sets)


def _way(
    work: Decimal, ladder: Ladder, begin: Begin, most_sets: int, long_sets: bool
) -> tuple[tuple[Rung, float], ...]:
    """The loads of the ramp, each with how much of the work it is."""
    goal = ladder.pick(work)
    ceiling = min(work, goal.mass)
    plain = _plain_rungs(ladder)
    highest = HIGHEST_BEFORE_LONG if long_sets else HIGHEST
    lowest = (plain.next_above(begin.lifted) or plain.heaviest) if begin.lifted else plain.lightest
    if most_sets < 1 or lowest.mass >= ceiling or _effort(lowest, work, ladder) > highest:
        return ()
    start = _start(ceiling, ladder, plain, begin, most_sets)
    # So near to the work that it is a working set; further down there may still be a start.
    if _effort(start, work, ladder) > highest:
        start = lowest
    # Only one load of each narrow band is a stop: with every rung of a fine gym the walks would be too many to weigh.
    stops = (*_stops(start, ceiling, plain, lambda rung: _effort(rung, work, ladder) <= highest), goal)
    limit = _most_sets(start, work, ladder, len(stops) - 2, most_sets)
    # The work is the whole way, whatever rung the gym has for it.
    efforts = [_effort(stop, work, ladder) for stop in stops[:-1]] + [1.0]
    walk = _cheapest_walk(stops, efforts, limit)
    return tuple((stops[place], efforts[place]) for place in walk)


def _start(ceiling: Decimal, ladder: Ladder, plain: Ladder, begin: Begin, most_sets: int) -> Rung:
    """The first load of the ramp; always below `ceiling`."""
    if begin.floor is not None:
        standing = plain.pick(begin.floor, Rounding.UP)
        # Small plates let the bar lie too low, so a lift from the floor begins with full-size ones while there is room.
        if begin.lifted < standing.mass <= ceiling * FLOOR_AT_MOST:
            return standing
    cold = not begin.warm and not begin.lifted
    if ladder.lightest.mass == 0 or (ladder.plated and begin.floor is None and cold and most_sets > 1):
        return ladder.lightest
    # What was lifted already is the beginning of this way, and the sets that are left share the rest evenly.
    halfway = begin.lifted + (ceiling - begin.lifted) / (most_sets + 1)
    wanted = max(ceiling * (ONLY_SHARE if most_sets == 1 else START_SHARE), halfway)
    around = plain.between(wanted * (1 - START_WIDTH), wanted * (1 + START_WIDTH)) or (plain.pick(wanted),)
    start = min(around, key=lambda rung: (rung.plates, abs(rung.mass - wanted)))
    return start if start.mass < ceiling else plain.lightest


def _most_sets(start: Rung, work: Decimal, ladder: Ladder, between: int, most_sets: int) -> int:
    """How many sets the way from `start` deserves; off the bar, not every bell on the rack."""
    if ladder.lightest.mass == 0:
        deserved = MOST_SETS_ON_THE_BELT
    elif not ladder.plated:
        deserved = min(MOST_SETS_OFF_THE_BAR, 1 + (between + 1) // 2)
    else:
        ratio = work / start.mass
        deserved = next((sets for top, sets in SETS_BY_RATIO if ratio <= top), most_sets)
        deserved += start is not ladder.lightest
    return min(deserved, most_sets)


def _stops(start: Rung, ceiling: Decimal, plain: Ladder, low_enough: Callable[[Rung], bool]) -> Iterator[Rung]:
    """The start, then from each narrow band of plain loads below `ceiling` the one with the fewest plates."""
    yield start
    width = ceiling * STOP_WIDTH
    left = [rung for rung in plain.between(start.mass, ceiling) if rung.mass > start.mass and low_enough(rung)]
    while left:
        end = left[0].mass + width
        band = next((place for place, rung in enumerate(left) if rung.mass >= end), len(left))
        yield min(left[:band], key=_plates)
        left = left[band:]


@lru_cache(maxsize=64)
def _plain_rungs(ladder: Ladder) -> Ladder:
    """The rungs that are worth a warm-up's trouble; what is left is never empty."""
    if not ladder.plated and ladder.lightest.mass:
        # Nobody hangs an add-on piece on a stack for a warm-up set (common practice, no source).
        return Ladder(ladder.name, tuple(rung for rung in ladder.rungs if rung.plates == 0))
    fewest = _fewest_plates_near(ladder.rungs)
    plain = (rung for rung, least in zip(ladder.rungs, fewest, strict=True) if rung.plates <= least)
    return Ladder(ladder.name, tuple(plain))


def _fewest_plates_near(rungs: Sequence[Rung]) -> Iterator[int]:
    """For each rung the fewest plates of those within `PLAIN_WIDTH` of it.

    Both ends of that window only rise, so `near` holds, in its order, those that may still be the least: a gym with
    plates in kg and lb has a hundred thousand rungs, and thousands in each window.
    """
    ahead, near = 0, deque[Rung]()
    for rung in rungs:
        width = rung.mass * PLAIN_WIDTH
        while ahead < len(rungs) and (rungs[ahead].mass < rung.mass + width or rungs[ahead] is rung):
            while near and near[-1].plates >= rungs[ahead].plates:
                near.pop()
            near.append(rungs[ahead])
            ahead += 1
        while near[0].mass < rung.mass - width:
            near.popleft()
        yield near[0].plates


def _effort(rung: Rung, work: Decimal, ladder: Ladder) -> float:
    """How much of the working load a rung is; with hung plates the body carries its part."""
    share = float(rung.mass / work)
    return BODY_SHARE + (1 - BODY_SHARE) * share if ladder.lightest.mass == 0 else share


def _cheapest_walk(stops: Sequence[Rung], efforts: Sequence[float], most_sets: int) -> tuple[int, ...]:
    """Places of the stops, from the first and without the last (the work), whose walk costs least.

    Walks grow one set at a time, the cheapest to every place kept, and each may end at the work.
    """
    goal = len(stops) - 1
    ends = [_cost(stops, efforts, here, goal, is_last=True) for here in range(goal)]
    onward = [_onward(stops, efforts, here) for here in range(goal)] if most_sets > 1 else []
    # Step by step forward: what a step costs hangs on its two ends alone, so the cheapest way to a stop is all that has
    # to be kept of it.
    walks: dict[int, Walk] = {0: (0.0, (0,))}
    finished: list[Walk] = []
    for left in reversed(range(most_sets)):
        finished += [(paid + ends[here], walk) for here, (paid, walk) in walks.items()]
        walks = _one_set_longer(walks, onward) if left else {}
    # Of equal costs the one with lower stops, so that the same question always has the same ramp.
    return min(finished)[1]


def _onward(stops: Sequence[Rung], efforts: Sequence[float], here: int) -> list[tuple[int, float]]:
    """Where a walk may go from a stop, short of the work, and what it costs; leaps that never pay are left out."""
    leap = max(efforts[here] + LEAP, efforts[here + 1])
    return [
        (there, _cost(stops, efforts, here, there, is_last=False))
        for there in range(here + 1, len(stops) - 1)
        if efforts[there] <= leap
    ]


def _one_set_longer(walks: dict[int, Walk], onward: Sequence[Sequence[tuple[int, float]]]) -> dict[int, Walk]:
    longer: dict[int, Walk] = {}
    for here, (paid, walk) in walks.items():
        for there, cost in onward[here]:
            known = longer.get(there)
            if known is None or paid + cost < known[0]:
                longer[there] = (paid + cost, (*walk, there))
    return longer


def _cost(stops: Sequence[Rung], efforts: Sequence[float], here: int, there: int, *, is_last: bool) -> float:
    return _step_cost(efforts[here], efforts[there], is_last) + _handling_cost(stops[here].side, stops[there].side)


def _step_cost(here: float, there: float, is_last: bool) -> float:
    """What one step up costs: unlike the step a coach would take, over the limit, one more set."""
    step = there - here
    wanted = LONG_STEP - STEP_SHRINK * here
    # Squared, so that one bad step costs more than two that are half as bad.
    off = (step - wanted) / (TOO_LONG_SCALE if step > wanted else TOO_SHORT_SCALE)
    over = (step - (LONGEST_LAST_STEP if is_last else LONGEST_STEP)) / EXCESS_SCALE
    return SET_COST + off * off + (over * over if over > 0 else 0.0)


@lru_cache(maxsize=1 << 16)
def _handling_cost(before: Side, after: Side) -> float:
    """What changing the plates of one end costs; those that stay cost nothing."""
    # One end is enough: both ends change alike.
    there = dict(after)
    stays = off = 0
    for label, count in before:
        kept = min(count, there.get(label, 0))
        stays += kept
        off += count - kept
    on = sum(there.values()) - stays
    return PLATE_ON_COST * on + PLATE_OFF_COST * off


def _ramp_set(rung: Rung, effort: float, work: Decimal, work_reps: int, ladder: Ladder, *, first: bool) -> RampSet:
    empty_bar = ladder.plated and rung is ladder.lightest
    reps = _first_reps(effort, empty_bar) if first else _later_reps(effort, work_reps)
    if effort > NEAR_WORK_SHARE:
        reps = min(reps, work_reps)
    rest = next((seconds for share, seconds in REST_BY_SHARE if effort <= share), LONGEST_REST)
    return RampSet(rung, reps, to_places(rung.mass / work, 4), rest)


def _first_reps(effort: float, empty_bar: bool) -> int:
    if empty_bar and effort <= EMPTY_BAR_SHARE:
        return EMPTY_BAR_REPS
    return next(reps for share, reps in FIRST_REPS if effort <= share)


def _later_reps(effort: float, work_reps: int) -> int:
    one_more = work_reps >= LONG_WORK_REPS and effort > ONE_MORE_SHARE
    return next(reps for share, reps in REPS if effort <= share) + one_more
