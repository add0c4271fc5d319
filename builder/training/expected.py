"""The expected max: what a lift is likely worth on a day, and what follows from that for reserve, reach and chance.

How to use it. `believe` makes a `Belief` of what was shown (tests, records, log lines, misses) in any order; `later`
moves it on to a day and over the lifter's pauses, `shifted` to a movement that is taken as a share of the lift. Ask:
`expected(belief)` for "about 154, likely 148 to 160"; `reserve(belief, curve, load, reps)` for what a load leaves;
`reach(belief, curve, reps)` for the heaviest load that may be planned for reps to failure; `chance` for how sure it is;
`demonstrated` for the best that was really done. The curve of a lift is `curve_of(numbers.equation, rows)`. Loads
count the body where the movement lifts it. Everything is pure and a value; floats do not leave this room as masses.

The state is three numbers: the logarithm of the max on an ordinary day; the bend, which is how many times the
equation's loss a rep really costs this lifter; and the bias, the reps that are left beyond what is said. What is shown
is straight in them (ln load = max + bend x curve + bias x slope), so each piece of evidence is one step of a Kalman
filter. Kolossa et al. Int J Comput Sci Sport 2017;16(2):117-129 follow
performance in this way; that the spread between lifters belongs into the curve: Mitter et al. PLoS One
2022;17(5):e0268074.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import IntEnum
from math import exp, log, sqrt

from builder.training.curve import Curve
from builder.training.estimate import MOST_REPS, NSCA_ROWS, Equation, Rows, estimate
from builder.training.normal import below, mean_above
from builder.training.records import Performance
from builder.training.reentry import Pause
from builder.training.variation import (
    CURVE_SPREAD,
    DAY_FORM,
    GREEN_DOUBT,
    GREEN_WEEKS,
    JUDGE_SPREAD,
    JUDGED_AT,
    WALK,
    gained,
    judged_reps,
    lost,
)
from builder.values.lists import TrainingStatus
from builder.values.quantity import WithBody

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
_TENTHS = tuple(Decimal(tenth).scaleb(-1) for tenth in range(10 * MOST_REPS + 1))


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
    """One set as evidence: load in kg with the body where it counts, reps, reserve, and what it says.

    `tested`: the set was a test, and its reserve the point of it.
    """

    on: date | None
    load: WithBody
    reps: int
    rir: Decimal = Decimal(0)
    kind: Kind = Kind.DONE
    tested: bool = False


@dataclass(frozen=True, slots=True)
class Lifter:
    """What decides how a max moves: training status, months of training when the block begins, that day, and pauses."""

    status: TrainingStatus
    months: int
    begins: date
    away: tuple[Pause, ...] = ()

    def age(self, on: date) -> float:
        """The training age on a day, in weeks."""
        return max(self.months * 52 / 12 + (on - self.begins).days / 7, 0.0)


Triple = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of a lift on a day: logarithm of the max (kg), bend, bias, and their covariances, row by row."""

    on: date
    log_max: float
    bend: float
    bias: float
    doubt: tuple[Triple, Triple, Triple]

    def load(self, log_share: float) -> float:
        """The logarithm of the load that goes with a logarithm of the share."""
        return self.log_max + self.bend * log_share

    def deviation(self, log_share: float) -> float:
        """How unsure that is: one standard deviation, on an ordinary day."""
        (own, shared, _), (_, bent, _), _ = self.doubt
        return sqrt(own + log_share * (2 * shared + log_share * bent))

    def wider(self, variance: float, log_gain: float = 0.0, on: date | None = None) -> Belief:
        """The same with a max that is higher by a logarithm, and less sure."""
        (own, shared, biased), second, third = self.doubt
        return Belief(
            on or self.on, self.log_max + log_gain, self.bend, self.bias,
            ((own + variance, shared, biased), second, third),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Expected:
    """A max in kg: about this much, and the ends of its 80 % interval."""

    about: WithBody
    low: WithBody
    high: WithBody


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
    # Misses and sets of unknown reserve are one-sided: they move a middle, but give none to begin with.
    first = next((one for one in dated if one.kind is Kind.DONE), None)
    if first is None:
        return None
    belief = _begun(first, curve, lifter)
    belief_on = first.on
    for one in dated:
        if one is first or one.on is None or belief_on is None:
            continue
        # Before the first set of known reserve: taken late, and the time since makes it say less.
        if one.on < belief_on:
            belief = _shown(belief, one, curve, lifter, weeks=(belief_on - one.on).days / 7)
        else:
            belief = _shown(_between(belief, one.on, lifter), one, curve, lifter)
    for one in _telling(shown):
        if one.on is None:
            belief = _shown(belief, one, curve, lifter, weeks=OLD_WEEKS)
    return belief


def later(belief: Belief, on: date, lifter: Lifter) -> Belief:
    """The belief on a later day: from the first day of the block on the max rises as is likely; the doubt grows.

    In a pause nothing is won, and some is lost.
    """
    from_day = max(belief.on, min(on, lifter.begins))
    moved = _moved(belief, on, lifter, trained_from=from_day)
    for pause in lifter.away:
        part = pause.between(belief.on, on)
        if part is not None:
            moved = rested(_unwon(moved, part.between(from_day, on), lifter), part.days, part.returned(on))
    return moved


def rested(belief: Belief, days: int, returned: float = 0.0) -> Belief:
    """The belief after a pause, and after a part of what it cost has `returned`.

    What is likely to be lost, and the doubt of it, which is as large as three quarters.
    """
    gone = lost(days) * (1 - returned)
    return belief.wider((0.75 * gone) ** 2, log(1 - gone))


def learned(belief: Belief, one: Shown, curve: Curve, lifter: Lifter) -> Belief:
    """The belief after one more set of its day: what it says for the next time."""
    return _shown(belief, one, curve, lifter)


def that_day(belief: Belief, one: Shown, curve: Curve, lifter: Lifter) -> Belief:
    """The belief of this very day after a set of it: the form of the day, which stays until evening, is part of it."""
    form = DAY_FORM[lifter.status] ** 2
    return _shown(belief.wider(form), one, curve, lifter, known_form=form)


def leant(belief: Belief, bias: float, variance: float) -> Belief:
    """The belief after the bias of its judged reserve was told from elsewhere, with a variance."""
    along = belief.doubt[2]
    deviation = sqrt(along[2] + variance)
    return _pulled(belief, along, deviation, (bias - belief.bias) / deviation, 1.0)


def shifted(belief: Belief, factor: float, doubt: float) -> Belief:
    """The belief of a movement that is taken as `factor` times the lift, with a doubt of its own."""
    return belief.wider(doubt**2, log(factor))


# What follows


def expected(belief: Belief) -> Expected:
    """The max on an ordinary day: about, and the ends of the 80 % interval."""
    way = EIGHTY * belief.deviation(0.0)
    return Expected(_kg(exp(belief.log_max)), _kg(exp(belief.log_max - way)), _kg(exp(belief.log_max + way)))


def reach(belief: Belief, curve: Curve, reps: float) -> WithBody:
    """The heaviest load (kg) that may be planned for so many reps to failure: the upper end of the 80 % interval."""
    cost = curve.at(reps)
    return _kg(exp(belief.load(cost) + EIGHTY * belief.deviation(cost)))


def likely(belief: Belief, curve: Curve, reps: float) -> WithBody:
    """The load (kg) that is expected to be lifted for so many reps to failure."""
    return _kg(exp(belief.load(curve.at(reps))))


def reserve(belief: Belief, curve: Curve, load: WithBody, reps: int) -> Reserve | None:
    """What `load` kg leaves after `reps`; None for nothing, and for sets longer than any equation reaches."""
    if load <= 0 or reps > MOST_REPS or belief.bend <= 0:
        return None
    possible = curve.reps((log(load) - belief.log_max) / belief.bend)
    exact = min(possible, float(MOST_REPS)) - reps
    halves, tenths = min(max(round(2 * exact), 0), 2 * MOST_RESERVE), round(10 * exact)
    told = _TENTHS[tenths] if tenths >= 0 else Decimal(tenths).scaleb(-1)
    return Reserve(_HALVES[halves], told, possible > MOST_REPS)


def chance(belief: Belief, curve: Curve, load: WithBody, reps: int, status: TrainingStatus) -> float:
    """How likely `reps` are made with `load` kg on one day, its form included."""
    cost = curve.at(reps)
    deviation = sqrt(belief.deviation(cost) ** 2 + DAY_FORM[status] ** 2)
    return below((belief.load(cost) - log(load)) / deviation)


def demonstrated(done: Sequence[Performance], equation: Equation, rows: Rows = NSCA_ROWS) -> Decimal | None:
    """The best max (kg) that was really shown: the reps that were done, without any reserve that was only judged."""
    maxes = (estimate(one.load, one.reps, 0, equation, rows) for one in done if one.reps <= MOST_REPS)
    return max(maxes, default=None)


# The steps of the filter


def _telling(shown: Iterable[Shown]) -> list[Shown]:
    """In order of date, undated ones last; of one day the heaviest set that was done, and the lightest miss.

    Not the surest: which of its sets a lifter was sure of must not decide what he is thought to have.
    """
    best: dict[object, Shown] = {}
    for one in shown:
        if one.reps + one.rir > MOST_REPS or one.load <= 0:
            continue
        key = one if one.on is None or one.kind is Kind.LEAST else (one.on, one.kind)
        best[key] = max(best.get(key, one), one, key=_weighs)
    return sorted(best.values(), key=lambda one: (one.on or date.max, one.kind, _weighs(one)))


def _weighs(one: Shown) -> tuple[Decimal, Decimal]:
    sign = -1 if one.kind is Kind.MISSED else 1
    return sign * one.load, sign * (one.reps + one.rir)


def _begun(one: Shown, curve: Curve, lifter: Lifter) -> Belief:
    """The belief of nothing but one set: its estimate."""
    assert one.on is not None
    left = float(one.rir)
    (_, cost, judged), noise = _said(one, curve, lifter, left)
    bends, biases = CURVE_SPREAD**2, JUDGE_SPREAD**2
    green = GREEN_DOUBT**2 if lifter.status is TrainingStatus.NOVICE and lifter.age(one.on) < GREEN_WEEKS else 0.0
    own = green + noise + cost * cost * bends + judged * judged * biases
    doubt = ((own, -cost * bends, -judged * biases), (-cost * bends, bends, 0.0), (-judged * biases, 0.0, biases))
    return Belief(one.on, log(one.load) - cost, 1.0, 0.0, doubt)


def _said(one: Shown, curve: Curve, lifter: Lifter, left: float) -> tuple[Triple, float]:
    """What one set says of the three, and the variance of it.

    One max, the curve's cost of its reps, and the slope there for what is judged; the form of the day, and the judged
    reserve times what a rep costs.
    """
    slope = curve.slope(one.reps + left) if one.kind is Kind.DONE else 0.0
    judged = judged_reps(one.reps, left) * slope
    row = 1.0, curve.at(one.reps + left), slope * min(left / JUDGED_AT, 2.0)
    return row, DAY_FORM[lifter.status] ** 2 + judged * judged


def _likely_left(belief: Belief, one: Shown, curve: Curve, log_load: float) -> float:
    """The reserve that was to be expected of a set, 0 to 6; a test is taken at its word.

    How sure a set is goes by this and not by what was said: else a hard day would count for more than an easy one.
    """
    if one.tested:
        return float(one.rir)
    # A bend near nothing would make of any light load endless reps.
    possible = curve.reps((log_load - belief.log_max) / max(belief.bend, 0.2))
    return min(max(possible - one.reps, 0.0), float(MOST_RESERVE))


def _shown(
    belief: Belief, one: Shown, curve: Curve, lifter: Lifter, weeks: float = 0.0, known_form: float = 0.0
) -> Belief:
    """The belief after one more set; `weeks` is how long before it was, where it comes late."""
    log_load = log(one.load)
    left = _likely_left(belief, one, curve, log_load) if one.kind is Kind.DONE else 0.0
    row, noise = _said(one, curve, lifter, left)
    noise += WALK[lifter.status] ** 2 * weeks - known_form
    off = log_load - belief.load(curve.at(float(one.reps + one.rir))) - belief.bias * row[2]
    first, second, third = belief.doubt
    along = _dot(first, row), _dot(second, row), _dot(third, row)
    deviation = sqrt(_dot(along, row) + noise)
    if one.kind is Kind.DONE:
        return _pulled(belief, along, deviation, off / deviation, 1.0)
    if one.kind is Kind.LEAST and off <= 0:
        # A set that was to be expected says nothing; taken as evidence, a row of easy sets would raise the max.
        return belief
    side = 1.0 if one.kind is Kind.LEAST else -1.0
    at = off / deviation
    pull = side * mean_above(side * at)
    return _pulled(belief, along, deviation, pull, pull * (pull - at))


def _dot(one: Triple, other: Triple) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def _pulled(belief: Belief, along: Triple, deviation: float, pull: float, shrink: float) -> Belief:
    """Mean and doubt moved along what was seen: by `pull` deviations, and narrower by the part `shrink`."""
    a, b, c = along[0] / deviation, along[1] / deviation, along[2] / deviation
    (aa, ab, ac), (_, bb, bc), (_, _, cc) = belief.doubt
    ab, ac, bc = ab - a * b * shrink, ac - a * c * shrink, bc - b * c * shrink
    return Belief(
        belief.on, belief.log_max + a * pull, belief.bend + b * pull, belief.bias + c * pull,
        ((aa - a * a * shrink, ab, ac), (ab, bb - b * b * shrink, bc), (ac, bc, cc - c * c * shrink)),
    )  # fmt: skip


def _between(belief: Belief, on: date, lifter: Lifter) -> Belief:
    """From one piece of evidence to the next: who shows two within a fortnight has trained between them."""
    if (on - belief.on).days <= TOGETHER:
        return _moved(belief, on, lifter, trained_from=belief.on)
    return later(belief, on, lifter)


def _unwon(belief: Belief, pause: Pause | None, lifter: Lifter) -> Belief:
    """Without the gain that training would have brought in a pause."""
    if pause is None:
        return belief
    return belief.wider(0.0, -gained(lifter.status, lifter.age(pause.first), lifter.age(pause.back)))


def _moved(belief: Belief, on: date, lifter: Lifter, trained_from: date) -> Belief:
    weeks = max((on - belief.on).days, 0) / 7
    gain = gained(lifter.status, lifter.age(trained_from), lifter.age(on)) if on > trained_from else 0.0
    # However old a test is, a lifter of that strength was seen: the doubt does not grow without end.
    room = max(MOST_DOUBT**2 - belief.doubt[0][0], 0.0)
    return belief.wider(min(WALK[lifter.status] ** 2 * weeks, room), gain, max(on, belief.on))


def _kg(value: float) -> WithBody:
    # To a gram; several times as fast as quantizing the fifty digits of a binary fraction.
    return WithBody(Decimal(round(1000 * value)).scaleb(-3))
