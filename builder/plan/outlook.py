"""What each lift is expected to be worth on each day of the plan, and the limits that this puts on its sets.

Why here. `training.expected` knows days, loads with the body and floats; a plan asks in loads of an implement, often
and for the same day. So this asks it once for each day of a lift and each count of reps, and gives masses.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from math import exp

from builder.given import Client, Lift, LoggedSet
from builder.plan.model import LiftNumbers
from builder.training.curve import Curve
from builder.training.expected import EIGHTY, Belief, Kind, Lifter, Reserve, Shown, later, likely, reach, reserve
from builder.training.reentry import Pause
from builder.values.quantity import OnBar, on_bar, to_places, with_body


def lifter_of(client: Client, away: tuple[Pause, ...]) -> Lifter:
    """What decides how the client's maxes move in a block with these pauses."""
    training = client.training
    return Lifter(training.status, training.months, training.starts, away)


def evidence_of(client: Client, lift: Lift, own: Decimal) -> tuple[Shown, ...]:
    """Tests, records and logged sets of a lift as evidence; `own` (kg) is the bodyweight that it lifts besides.

    A record that was also tested or logged counts once, with its reserve.
    """
    tests = (
        Shown(
            test.day, with_body(test.load.kg(client.unit), own), test.reps, Decimal(0) if test.missed else test.rir,
            Kind.MISSED if test.missed else Kind.DONE, tested=True,
        )
        for test in lift.tests
    )  # fmt: skip
    logged = (
        Shown(one.day, with_body(one.load.kg(client.unit), own), one.reps, one.rir or Decimal(0), _kind(one))
        for one in lift.logged
    )
    known = (*tests, *logged)
    # A record beside a logged set of unknown reserve says the same as that, and `training.expected` takes equal sets
    # once.
    told = {(one.on, one.load, one.reps) for one in known if one.kind is Kind.DONE}
    records = (
        Shown(best.day, with_body(best.load.kg(client.unit), own), best.reps, kind=Kind.LEAST) for best in lift.records
    )
    return (*known, *(one for one in records if (one.on, one.load, one.reps) not in told))


def _kind(one: LoggedSet) -> Kind:
    if one.missed:
        return Kind.MISSED
    return Kind.LEAST if one.rir is None else Kind.DONE


@dataclass(frozen=True, slots=True)
class Outlook:
    """The beliefs of a plan by lift and day, each worked out once."""

    lifter: Lifter
    _days: dict[tuple[str, date], Belief] = field(default_factory=dict)

    def on(self, numbers: LiftNumbers, day: date) -> Belief:
        """What is believed of a lift on a day of the block."""
        key = numbers.movement, day
        if key not in self._days:
            self._days[key] = later(numbers.belief, day, self.lifter)
        return self._days[key]


@dataclass(frozen=True, slots=True)
class Reach:
    """The belief of one slot on its day, asked in loads of its implement: the body (`own`, kg) is added here."""

    belief: Belief
    curve: Curve
    own: Decimal
    _most: dict[int, OnBar] = field(default_factory=dict, compare=False)

    def left(self, load: OnBar, reps: int) -> Reserve | None:
        """What a load leaves after so many reps."""
        return reserve(self.belief, self.curve, with_body(load, self.own), reps)

    def factor(self, reps: Decimal) -> Decimal:
        """How much heavier than expected a load for so many reps to failure may turn out: the 80 % interval's end."""
        return to_places(Decimal(exp(EIGHTY * self.belief.deviation(self.curve.at(float(reps))))), 6)

    def most(self, reps: int) -> OnBar:
        """The heaviest load for so many reps that may be planned."""
        if reps not in self._most:
            self._most[reps] = on_bar(reach(self.belief, self.curve, reps), self.own)
        return self._most[reps]

    def leaving(self, left: int, reps: int) -> OnBar:
        """The heaviest load that is expected to leave so many after these reps."""
        return on_bar(likely(self.belief, self.curve, reps + left), self.own)
