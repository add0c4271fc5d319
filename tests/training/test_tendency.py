"""What one lift shows of a lifter's judged reserve helps the next, as far as it is the lifter's and not the lift's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from itertools import permutations
from math import exp, floor, log, sqrt
from random import Random

import pytest
from training.simulated import CURVE, GROUPS, Person

from builder.training.expected import Belief, Lifter, Shown, believe, expected
from builder.training.tendency import BIASES, HEARD, OWN, PERSON, shared
from builder.values.lists import TrainingStatus
from builder.values.quantity import WithBody

DAY = date(2027, 1, 4)
TRAINED = Lifter(TrainingStatus.INTERMEDIATE, 26, DAY)
LIFTERS = 600


def _belief(*sets: tuple[str, int, str]) -> Belief:
    """What is believed after sets of a load, reps and reserve, two days apart."""
    shown = [
        Shown(DAY + timedelta(2 * place), WithBody(Decimal(load)), reps, Decimal(rir))
        for place, (load, reps, rir) in enumerate(sets)
    ]
    found = believe(shown, CURVE, TRAINED)
    assert found is not None
    return found


CAUTIOUS = _belief(("150", 1, "0"), ("130", 3, "0"), ("131", 3, "0"), ("132", 3, "0"), ("131", 3, "1"))
"""Who says none or one is left where about five are."""
ONCE = _belief(("100", 5, "2"))
"""A lift of which one set is known, and so nothing of how it is judged."""


def test_a_lift_alone_is_left_as_it_is() -> None:
    """There is nobody to learn from."""
    assert shared([CAUTIOUS]) == (CAUTIOUS,)
    assert shared([ONCE, ONCE]) == (ONCE, ONCE)
    assert shared([]) == ()


def test_a_tendency_carries_over_in_part() -> None:
    """Some of the bias, and with it a higher max; the lift that showed it moves least."""
    before, after = CAUTIOUS, shared([CAUTIOUS, ONCE])
    assert before.bias > 0.1
    assert 0 < after[1].bias < before.bias
    assert expected(after[1]).about > expected(ONCE).about
    assert after[0] == before


def test_the_order_of_the_lifts_changes_nothing() -> None:
    """Each lift comes out the same."""
    lifts = CAUTIOUS, ONCE, _belief(("60", 1, "0"), ("50", 5, "3"), ("52", 5, "2"))
    want = dict(zip(lifts, shared(lifts), strict=True))
    for order in permutations(lifts):
        found = dict(zip(order, shared(order), strict=True))
        assert all(abs(found[one].bias - want[one].bias) < 1e-12 for one in lifts)


def test_it_is_what_one_model_of_all_lifts_together_gives() -> None:
    """Conditioned by linear algebra (numpy): three biases with one prior; what others say counts half."""
    numpy = pytest.importorskip("numpy")
    lifts = [CAUTIOUS, ONCE, _belief(("60", 1, "0"), ("50", 5, "3"), ("52", 5, "2"), ("54", 4, "1"))]
    prior = PERSON * numpy.ones((3, 3)) + OWN * numpy.eye(3)
    told = [1 / one.doubt[2][2] - 1 / BIASES for one in lifts]
    pulls = [one.bias / one.doubt[2][2] for one in lifts]
    for place, one in enumerate(shared(lifts)):
        heard = [1.0 if other == place else HEARD for other in range(3)]
        after = numpy.linalg.inv(numpy.linalg.inv(prior) + numpy.diag(numpy.multiply(told, heard)))
        assert one.bias == pytest.approx((after @ numpy.multiply(pulls, heard))[place], abs=1e-6)
        assert one.doubt[2][2] == pytest.approx(after[place, place], rel=1e-6)


@dataclass(frozen=True, slots=True)
class Misses:
    """How far bias and max of the second lift are missed on average, and how often the likely range holds it."""

    bias_alone: float
    bias_shared: float
    max_alone: float
    max_shared: float
    inside: float


class TestSimulated:
    """Two lifts of 600 lifters: one with ten weeks of logged sets, every fourth to failure, one with three sets.

    Their biases are 0.2 +/- 0.5 reps at two left, as in `simulated.people`; a part of the spread is the lifter's.
    """

    @staticmethod
    @cache
    def _misses(part: float, hard: bool) -> Misses:
        dice, rows = Random(f"tendency {part} {hard}"), []
        for _ in range(LIFTERS):
            tendency = dice.gauss(0.2, 0.5 * sqrt(part))
            first, second = (_person(tendency + dice.gauss(0, 0.5 * sqrt(1 - part)), dice) for _ in range(2))
            beliefs = [_trained(first, 24, hard=hard), _trained(second, 2, hard=False)]
            alone, learnt = beliefs[1], shared(beliefs)[1]
            likely = expected(learnt)
            off = (abs(one.bias - second.bias) for one in (alone, learnt))
            far = (abs(one.log_max - second.log_max) for one in (alone, learnt))
            rows.append((*off, *far, float(likely.low <= Decimal(exp(second.log_max)) <= likely.high)))
        return Misses(*(sum(column) / LIFTERS for column in zip(*rows, strict=True)))

    @pytest.mark.parametrize("part", [0.5, 1.0])
    def test_the_lift_that_has_shown_little_is_judged_better(self, part: float) -> None:
        """Where the tendency is the lifter's, in half or whole, and some sets went to failure."""
        found = self._misses(part, hard=True)
        assert found.bias_shared < found.bias_alone * 0.95

    @pytest.mark.parametrize(("part", "hard"), [(0.0, True), (0.5, True), (1.0, True), (0.5, False)])
    def test_it_costs_nothing_where_there_is_nothing_to_learn(self, part: float, hard: bool) -> None:
        """Lifts that have nothing in common, and a log without a hard set: the max is missed by as much as before, and
        the likely range goes on holding about four of five."""
        found = self._misses(part, hard)
        assert found.max_shared < found.max_alone * 1.02
        assert found.bias_shared < found.bias_alone * 1.02
        assert 0.74 <= found.inside <= 0.88


def _person(bias: float, dice: Random) -> Person:
    group = GROUPS["intermediate"]
    return Person(group, log(dice.uniform(60, 220)), 0.0, max(dice.gauss(1, 0.21), 0.5), bias, 0, 0, dice)


def _trained(person: Person, sets: int, *, hard: bool) -> Belief:
    """A test, and then a set of three to six with some left every third day; `hard`: every fourth to the end."""
    shown = [_set(person, round(exp(person.log_max + CURVE.at(7)), 1), 4, 0)]
    for number in range(1, sets + 1):
        last = hard and number % 4 == 0
        reps, left = person.dice.randint(3, 6), 0.5 if last else person.dice.randint(1, 4)
        load = round(exp(person.log_max + person.dice.gauss(0, 0.03) + CURVE.at(reps + left)), 1)
        shown.append(_set(person, load, 15 if last else reps, number))
    found = believe(shown, CURVE, TRAINED)
    assert found is not None
    return found


def _set(person: Person, load: float, reps: int, number: int) -> Shown:
    """A set of so many reps or as many as there are; after the last one nothing is left."""
    possible = person.possible(load)
    done = max(min(reps, floor(possible)), 1)
    said = min(person.says(possible - done), Decimal(6)) if done == reps else Decimal(0)
    return Shown(DAY - timedelta(80) + timedelta(3 * number), WithBody(Decimal(str(load))), done, said)
