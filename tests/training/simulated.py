"""Simulated lifters who train a top set of three with two left once a week: by what is expected, or by a fixed plan.

Run by hand for a larger table: `PYTHONPATH=.:tests .venv/bin/python tests/training/simulated.py 3000`. The lifters are
drawn from published ranges, not from the model: `GROUPS` and `Lifter` name them.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from math import exp, floor, log
from random import Random

from builder.training.curve import Curve, curve_of
from builder.training.estimate import Equation
from builder.training.expected import Belief, Kind, Lifter, Shown, believe, expected, later, reach
from builder.values.lists import TrainingStatus
from builder.values.quantity import WithBody

CURVE: Curve = curve_of(Equation.WATHAN)
BEGINS = date(2027, 1, 4)
REPS, LEFT, WEEKS = 3, 2, 8
NOVICE, INTERMEDIATE, ADVANCED = TrainingStatus


@dataclass(frozen=True, slots=True)
class Group:
    """A kind of lifter: gain a week (mean, spread), form of the day, first test low by, weeks away, share who stall."""

    status: TrainingStatus
    months: int
    gain: tuple[float, float]
    form: float
    low: tuple[float, float] = (0.0, 0.0)
    away: tuple[int, int] = (0, 0)


GROUPS = {
    # 28 +/- 21 % in 12 weeks for beginners (Mayhew 2008), less later (Steele 2023); form 4.2 % (Grgic 2020).
    "novice": Group(NOVICE, 4, (0.006, 0.0045), 0.042),
    # The first test of half the beginners is 7 to 15 % low (J Strength Cond Res 2004;18(1):48-52), here of a third.
    "novice, first test low": Group(NOVICE, 2, (0.010, 0.0075), 0.042, low=(0.07, 0.15)),
    "intermediate": Group(INTERMEDIATE, 26, (0.004, 0.004), 0.025),
    # 0.15 +/- 0.44 kg a day on 513 kg (Latella 2020) has the noise of meets in it; form 2.1 % (Banyard 2017).
    "advanced": Group(ADVANCED, 100, (0.0015, 0.002), 0.021),
    "stalled": Group(INTERMEDIATE, 30, (0.0, 0.001), 0.025),
    # 0 to 3 % are lost in two to four weeks (Hortobagyi 1993; Mujika & Padilla 2001).
    "away for some weeks": Group(INTERMEDIATE, 26, (0.004, 0.004), 0.025, away=(2, 4)),
}


@dataclass(slots=True)
class Person:
    """One lifter as he really is: what the plan does not know."""

    group: Group
    log_max: float
    gain: float
    bend: float
    bias: float
    away_at: int
    away: int
    dice: Random

    def possible(self, load: float) -> float:
        """The reps to failure that he has with a load today."""
        form = self.dice.gauss(0, self.group.form)
        return CURVE.reps((log(load) - self.log_max - form) / self.bend)

    def says(self, left: float) -> Decimal:
        """The reserve that he names: a rep too low on average far from failure (Halperin 2022), a rep or so off.

        Near failure 0.17 +/- 1.0 (Refalo 2024).
        """
        said = left - self.bias * min(max(left, 0.0), 4.0) / 2 - self.dice.gauss(0, 0.5 + 0.2 * max(left, 0.0))
        return Decimal(floor(max(said, 0.0) * 2 + 0.5)) / 2

    def lives(self, weeks: int, *, training: bool = True) -> None:
        """Some weeks go by."""
        self.log_max += self.gain * weeks if training else -0.01 * max(weeks - 2, 0)


def people(group: Group, count: int, dice: Random) -> Iterator[Person]:
    """So many lifters of a group."""
    for _ in range(count):
        yield Person(
            group, log(dice.uniform(60, 220)), dice.gauss(*group.gain), max(dice.gauss(1, 0.21), 0.5),
            dice.gauss(0.2, 0.5), dice.randrange(3, 6), dice.randint(*group.away), dice,
        )  # fmt: skip


@dataclass(slots=True)
class Tally:
    """What came out."""

    inside: int = 0
    asked: int = 0
    sets: int = 0
    missed: int = 0
    off: float = 0.0
    late: int = 0
    beyond: int = 0

    @property
    def covered(self) -> float:
        """How often the true max lay within the 80 % interval."""
        return self.inside / self.asked

    @property
    def misses(self) -> float:
        """The share of top sets that were missed."""
        return self.missed / self.sets

    @property
    def error(self) -> float:
        """How far the true reserve was from the one aimed at, in weeks 5 to 8."""
        return self.off / self.late


@dataclass(slots=True)
class Course:
    """One lifter's block: by the belief, or with a `fixed` gain a week from the test (None: by the belief)."""

    person: Person
    fixed: float | None
    shown: list[Shown] = field(default_factory=list)

    def run(self, tally: Tally) -> None:
        """The test, then eight weeks."""
        group, person = self.person.group, self.person
        lifter = Lifter(group.status, group.months, BEGINS)
        unskilled = person.dice.uniform(*group.low)
        first = round(exp(person.log_max - unskilled + CURVE.at(5)), 1)
        possible = person.possible(first * exp(unskilled))
        reps = max(min(floor(possible - 1), 8), 1)
        said = min(person.says(possible - reps), Decimal(6))
        self.shown.append(Shown(BEGINS - timedelta(7), WithBody(Decimal(str(first))), reps, said))
        begun, day = 0.0, BEGINS
        for week in range(WEEKS):
            if week == person.away_at and person.away:
                person.lives(person.away, training=False)
                day += timedelta(weeks=person.away)
            belief = self.belief(day, lifter)
            begun = begun or exp(belief.load(CURVE.at(REPS + LEFT)))
            self.week(week, day, belief, begun, tally)
            person.lives(1)
            day += timedelta(weeks=1)

    def belief(self, day: date, lifter: Lifter) -> Belief:
        """What is believed on a morning."""
        found = believe(self.shown, CURVE, lifter)
        assert found is not None
        return later(found, day, lifter)

    def week(self, week: int, day: date, belief: Belief, begun: float, tally: Tally) -> None:
        """One top set, and what it shows."""
        likely = expected(belief)
        tally.asked += 1
        tally.inside += likely.low <= Decimal(exp(self.person.log_max)) <= likely.high
        most = float(reach(belief, CURVE, REPS))
        planned = exp(belief.load(CURVE.at(REPS + LEFT))) if self.fixed is None else begun * (1 + self.fixed) ** week
        load = min(planned, most) if self.fixed is None else planned
        tally.beyond += load > most
        left = self.person.possible(load) - REPS
        tally.sets += 1
        tally.missed += left < 0
        if week >= WEEKS // 2:
            tally.late, tally.off = tally.late + 1, tally.off + abs(left - LEFT)
        kind = Kind.MISSED if left < 0 else Kind.DONE
        rir = Decimal(0) if left < 0 else min(self.person.says(left), Decimal(6))
        self.shown.append(Shown(day, WithBody(Decimal(str(round(load, 2)))), REPS, rir, kind))


def simulated(count: int, seed: int, fixed: float | None = None) -> dict[str, Tally]:
    """The tallies of each group, and of `all`; the same lifters for the same seed and number."""
    tallies = {name: Tally() for name in GROUPS}
    for name, group in GROUPS.items():
        for number, person in enumerate(people(group, count, Random(f"{seed} {name}"))):
            person.dice = Random(f"{seed} {name} {number}")
            Course(person, fixed).run(tallies[name])
    every = Tally()
    for tally in tallies.values():
        for part in Tally.__slots__:
            setattr(every, part, getattr(every, part) + getattr(tally, part))
    return {**tallies, "all": every}


def _table(count: int) -> None:
    plans = {"expected max": None, "fixed 1 %": 0.01, "fixed 2 %": 0.02}
    found = {name: simulated(count, 1, fixed) for name, fixed in plans.items()}
    print(f"{count} lifters a group, {WEEKS} weeks, top set {REPS} with {LEFT} left")
    print(f"{'':24}{'within 80 %':>12}" + "".join(f"{name + ' missed':>22}{'error':>7}{'beyond':>8}" for name in plans))
    for group in (*GROUPS, "all"):
        cells = "".join(
            f"{100 * found[name][group].misses:>20.1f} %{found[name][group].error:>7.2f}"
            f"{100 * found[name][group].beyond / found[name][group].sets:>6.1f} %"
            for name in plans
        )
        print(f"{group:24}{100 * found['expected max'][group].covered:>10.1f} %{cells}")


if __name__ == "__main__":
    _table(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
