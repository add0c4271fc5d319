"""The expected max: what a lift is likely worth on a day, and what follows from that for reserve, reach and chance.

How to use it. `believe` makes a `Belief` of what was shown (tests, records, log lines, misses) in any order; `later`
moves it on to a day, `rested` over a pause, `shifted` to a movement that is taken as a share of the lift. Then ask:
`expected(belief)` for "about 154, likely 148 to 160"; `reserve(belief, curve, load, reps)` for what a load leaves;
`reach(belief, curve, reps)` for the heaviest load that may be planned for reps to failure; `chance` for how sure it is;
`demonstrated` for the best that was really done. The curve of a lift is `curve_of(numbers.equation, rows)`. Loads
count the body where the movement lifts it. Everything is pure and a value; floats do not leave this room as masses.

The state is two numbers: the logarithm of the max on an ordinary day, and the bend, which is how many times the
equation's loss a rep really costs this lifter. What is shown is straight in both (ln load = max + bend x curve), so
each piece of evidence is one step of a Kalman filter. Kolossa et al. Int J Comput Sci Sport 2017;16(2):117-129 follow
performance in this way; that the spread between lifters belongs into the curve: Mitter et al. PLoS One
2022;17(5):e0268074.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import IntEnum
from math import erf, exp, log, pi, sqrt

from builder.training.curve import Curve
from builder.training.estimate import MOST_REPS, NSCA_ROWS, Equation, Rows, estimate
from builder.training.norms import TrainingStatus
from builder.training.records import Performance
from builder.training.variation import CURVE_SPREAD, DAY_FORM, WALK, gained, judged_reps, lost
from builder.values.quantity import to_places

EIGHTY = 1.2815515655446004
"""Standard deviations to either side that hold 80 % of a normal distribution."""
TOGETHER = 14
"""Days between two pieces of evidence, up to which the time between them counts as trained."""
OLD_WEEKS = 26.0
"""How old an undated record counts as."""
MOST_DOUBT = 0.15
"""The widest that time alone makes the doubt of a max."""
MOST_RESERVE = 6
_HALVES = tuple((Decimal(half) / 2).normalize() for half in range(2 * MOST_RESERVE + 1))


class Kind(IntEnum):
    """What a set says of the max, in the order in which those of one day are taken."""

    DONE = 0
    """Done with a known reserve: so much it was."""
    MISSED = 1
    """The reps were not made: less than that."""
    LEAST = 2
    """Done, the reserve unknown: at least that."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One set as evidence: load in kg with the body where it counts, reps, reserve, and what it says."""

    on: date | None
    load: Decimal
    reps: int
    rir: Decimal = Decimal(0)
    kind: Kind = Kind.DONE

    @property
    def doubt(self) -> float:
        """How far its reps to failure may be off: one deviation; a count of reps is exact."""
        return judged_reps(self.reps, float(self.rir)) if self.kind is Kind.DONE else 0.0


@dataclass(frozen=True, slots=True)
class Lifter:
    """What decides how a max moves: training status, months of training when the block begins, and that day."""

    status: TrainingStatus
    months: int
    begins: date

    def age(self, on: date) -> float:
        """The training age on a day, in weeks."""
        return max(self.months * 52 / 12 + (on - self.begins).days / 7, 0.0)


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of a lift on a day: logarithm of the max (kg), bend of the curve, and how sure both are."""

    on: date
    log_max: float
    bend: float
    max_variance: float
    shared: float
    bend_variance: float

    def load(self, log_share: float) -> float:
        """The logarithm of the load that goes with a logarithm of the share."""
        return self.log_max + self.bend * log_share

    def deviation(self, log_share: float) -> float:
        """How unsure that is: one standard deviation, on an ordinary day."""
        return sqrt(self.max_variance + log_share * (2 * self.shared + log_share * self.bend_variance))


@dataclass(frozen=True, slots=True)
class Expected:
    """A max in kg: about this much, and the ends of its 80 % interval."""

    about: Decimal
    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class Reserve:
    """The reps that a load leaves: whole or half, from 0 to 6, and `exact` to a tenth, which may lie beyond both.

    `least` when the set is so light that no equation says more than "at least".
    """

    reps: Decimal
    exact: Decimal
    least: bool = False

    @property
    def more(self) -> bool:
        """Whether there may be more than `reps` says."""
        return self.least or self.exact > MOST_RESERVE


# What is believed


def believe(shown: Iterable[Shown], curve: Curve, lifter: Lifter) -> Belief | None:
    """The belief after everything shown, as of the last day of it; None without a set done with a known reserve.

    The order in which the evidence is given changes nothing, and of one day each kind counts once: the set that says
    most. Without time between, one test gives its own estimate.
    """
    dated = [one for one in _telling(shown) if one.on is not None]
    first = next((one for one in dated if one.kind is Kind.DONE), None)
    if first is None:
        return None
    belief = _begun(first, curve, lifter)
    belief_on = first.on
    for one in dated:
        if one is first or one.on is None or belief_on is None:
            continue
        if one.on < belief_on:
            belief = _shown(belief, one, curve, lifter, weeks=(belief_on - one.on).days / 7)
        else:
            belief = _shown(_between(belief, one.on, lifter), one, curve, lifter)
    for one in _telling(shown):
        if one.on is None:
            belief = _shown(belief, one, curve, lifter, weeks=OLD_WEEKS)
    return belief


def later(belief: Belief, on: date, lifter: Lifter) -> Belief:
    """The belief on a later day: from the first day of the block on the max rises as is likely; the doubt grows."""
    from_day = max(belief.on, min(on, lifter.begins))
    return _moved(belief, on, lifter, trained_from=from_day)


def rested(belief: Belief, days: int) -> Belief:
    """The belief after a pause: what is likely to be lost, and the doubt of it, which is as large as three quarters."""
    gone = lost(days)
    return replace(
        belief, log_max=belief.log_max + log(1 - gone), max_variance=belief.max_variance + (0.75 * gone) ** 2
    )


def shifted(belief: Belief, factor: float, doubt: float) -> Belief:
    """The belief of a movement that is taken as `factor` times the lift, with a doubt of its own."""
    return replace(belief, log_max=belief.log_max + log(factor), max_variance=belief.max_variance + doubt**2)


# What follows


def expected(belief: Belief) -> Expected:
    """The max on an ordinary day: about, and the ends of the 80 % interval."""
    way = EIGHTY * belief.deviation(0.0)
    return Expected(*(_kg(exp(belief.log_max + side)) for side in (0.0, -way, way)))


def reach(belief: Belief, curve: Curve, reps: float) -> Decimal:
    """The heaviest load (kg) that may be planned for so many reps to failure: the upper end of the 80 % interval."""
    cost = curve.at(reps)
    return _kg(exp(belief.load(cost) + EIGHTY * belief.deviation(cost)))


def reserve(belief: Belief, curve: Curve, load: Decimal, reps: int) -> Reserve | None:
    """What `load` kg leaves after `reps`; None for nothing, and for sets longer than any equation reaches."""
    if load <= 0 or reps > MOST_REPS or belief.bend <= 0:
        return None
    possible = curve.reps((log(load) - belief.log_max) / belief.bend)
    exact = min(possible, float(MOST_REPS)) - reps
    halves = min(max(round(2 * exact), 0), 2 * MOST_RESERVE)
    return Reserve(_HALVES[halves], Decimal(round(10 * exact)).scaleb(-1), possible > MOST_REPS)


def chance(belief: Belief, curve: Curve, load: Decimal, reps: int, status: TrainingStatus) -> float:
    """How likely `reps` are made with `load` kg on one day, its form included."""
    cost = curve.at(reps)
    deviation = sqrt(belief.deviation(cost) ** 2 + DAY_FORM[status] ** 2)
    return _below((belief.load(cost) - log(load)) / deviation)


def demonstrated(done: Sequence[Performance], equation: Equation, rows: Rows = NSCA_ROWS) -> Decimal | None:
    """The best max (kg) that was really shown: the reps that were done, without any reserve that was only judged."""
    maxes = (estimate(one.load, one.reps, 0, equation, rows) for one in done if one.reps <= MOST_REPS)
    return max(maxes, default=None)


# The steps of the filter


def _telling(shown: Iterable[Shown]) -> list[Shown]:
    """In order of date; of one day and kind the set that says most, undated records last and each for itself."""
    best: dict[object, Shown] = {}
    for one in shown:
        if one.reps + one.rir > MOST_REPS or one.load <= 0:
            continue
        key = (one.on, one.kind) if one.on is not None else one
        best[key] = min(best.get(key, one), one, key=_says_most)
    return sorted(best.values(), key=lambda one: (one.on or date.max, one.kind, _says_most(one)))


def _says_most(one: Shown) -> tuple[float, Decimal, int]:
    """The surest first; of those equally sure the heaviest, or for a miss the lightest."""
    sign = 1 if one.kind is Kind.MISSED else -1
    return one.doubt, sign * one.load, sign * one.reps


def _begun(one: Shown, curve: Curve, lifter: Lifter) -> Belief:
    """The belief of nothing but one set: its estimate."""
    assert one.on is not None
    cost, bends = curve.at(float(one.reps + one.rir)), CURVE_SPREAD**2
    noise = _noise(one, curve, lifter)
    return Belief(one.on, log(one.load) - cost, 1.0, noise + cost * cost * bends, -cost * bends, bends)


def _noise(one: Shown, curve: Curve, lifter: Lifter) -> float:
    """The variance of one set as evidence: the form of the day, and the judged reserve times what a rep costs."""
    return DAY_FORM[lifter.status] ** 2 + (one.doubt * curve.slope(float(one.reps + one.rir))) ** 2


def _shown(belief: Belief, one: Shown, curve: Curve, lifter: Lifter, weeks: float = 0.0) -> Belief:
    """The belief after one more set; `weeks` is how long before it was, where it comes late."""
    cost = curve.at(float(one.reps + one.rir))
    noise = _noise(one, curve, lifter) + WALK[lifter.status] ** 2 * weeks
    off = log(one.load) - belief.load(cost)
    along = (belief.max_variance + cost * belief.shared, belief.shared + cost * belief.bend_variance)
    deviation = sqrt(along[0] + cost * along[1] + noise)
    if one.kind is Kind.DONE:
        return _pulled(belief, along, deviation, off / deviation, 1.0)
    if one.kind is Kind.LEAST and off <= 0:
        # A set that was to be expected says nothing; taken as evidence, a row of easy sets would raise the max.
        return belief
    side = 1.0 if one.kind is Kind.LEAST else -1.0
    at = off / deviation
    pull = side * _density(at) / max(_below(-side * at), 1e-9)
    return _pulled(belief, along, deviation, pull, pull * (pull - at))


def _pulled(belief: Belief, along: tuple[float, float], deviation: float, pull: float, shrink: float) -> Belief:
    """Mean and doubt moved along what was seen: by `pull` deviations, and narrower by the part `shrink`."""
    by_max, by_bend = along[0] / deviation, along[1] / deviation
    return replace(
        belief,
        log_max=belief.log_max + by_max * pull,
        bend=belief.bend + by_bend * pull,
        max_variance=belief.max_variance - by_max * by_max * shrink,
        shared=belief.shared - by_max * by_bend * shrink,
        bend_variance=belief.bend_variance - by_bend * by_bend * shrink,
    )


def _between(belief: Belief, on: date, lifter: Lifter) -> Belief:
    """From one piece of evidence to the next: who shows two within a fortnight has trained between them."""
    if (on - belief.on).days <= TOGETHER:
        return _moved(belief, on, lifter, trained_from=belief.on)
    return later(belief, on, lifter)


def _moved(belief: Belief, on: date, lifter: Lifter, trained_from: date) -> Belief:
    weeks = max((on - belief.on).days, 0) / 7
    gain = gained(lifter.status, lifter.age(trained_from), lifter.age(on)) if on > trained_from else 0.0
    walked = belief.max_variance + WALK[lifter.status] ** 2 * weeks
    variance = max(belief.max_variance, min(walked, MOST_DOUBT**2))
    return replace(belief, on=max(on, belief.on), log_max=belief.log_max + gain, max_variance=variance)


def _density(at: float) -> float:
    return exp(-at * at / 2) / sqrt(2 * pi)


def _below(at: float) -> float:
    return (1 + erf(at / sqrt(2))) / 2


def _kg(value: float) -> Decimal:
    return to_places(Decimal(value), 3)
