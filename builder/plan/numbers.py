"""The lifter's numbers: each tested set's worth, the estimated max, the working max and the records of a lift."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from builder.given import Client, Equipment, Lift, Movement, Movements, TestedSet
from builder.plan.ladders import Racks
from builder.plan.model import LiftNumbers, TestValue
from builder.plan.outlook import evidence_of
from builder.training.curve import Curve, curve_of
from builder.training.estimate import DEFAULT, NSCA_ROWS, Equation, Evidence, Rows, estimate, evidence, spread
from builder.training.expected import Belief, Lifter, believe, expected, later
from builder.training.loading import Ladder
from builder.training.records import Performance, best_by_reps
from builder.training.tendency import shared
from builder.values.quantity import WithBody, with_body


def percent_rows(client: Client) -> Rows:
    """The table from percent to reps: the handbook's, or the client's own where the profile gives one."""
    return tuple(sorted(client.percent_table.items())) if client.percent_table else NSCA_ROWS


def all_numbers(
    client: Client, library: Movements, racks: Racks, machines: Mapping[str, str], lifter: Lifter
) -> tuple[LiftNumbers, ...]:
    """The numbers of every lift in the profile that can be loaded in this gym, in the profile's order.

    `machines` names the stack of a movement that the block trains on one.
    """
    found = []
    for word, lift in client.lifts.items():
        name = library.named(word) or word
        about = library.movements[name]
        ladder = racks.ladder(name, about, None, machines.get(name))
        # In the steps in which the load table is printed.
        ladder = racks.stepped(ladder, racks.usual_step()) if ladder else None
        # Without the bodyweight nobody knows what was lifted; the cross-checks of the profile say so.
        if ladder is not None and (about.equipment is not Equipment.BODYWEIGHT or client.client.bodyweight):
            found.append(_Known(name, about, lift, ladder))
    # All lifts before any: what one shows of judged reserve speaks of the others too.
    beliefs = shared([_belief(client, one, lifter) for one in found])
    return tuple(_numbers(client, one, belief, lifter) for one, belief in zip(found, beliefs, strict=True))


@dataclass(frozen=True, slots=True)
class _Known:
    """A lift of the profile, the movement that it is, and the loads that it is done with."""

    name: str
    about: Movement
    lift: Lift
    ladder: Ladder


def carried(client: Client, about: Movement) -> Decimal:
    """The bodyweight in kg that a movement lifts besides its load: all of it for bodyweight movements, else none."""
    weight = client.client.bodyweight
    return weight.kg(client.unit) if weight and about.equipment is Equipment.BODYWEIGHT else Decimal(0)


def _belief(client: Client, one: _Known, lifter: Lifter) -> Belief:
    """What the sets of the lift itself say."""
    shown = evidence_of(client, one.lift, carried(client, one.about))
    belief = believe(shown, _curve(client, one.lift), lifter)
    assert belief is not None, "the chosen test is evidence"
    return belief


def _numbers(client: Client, one: _Known, belief: Belief, lifter: Lifter) -> LiftNumbers:
    about, lift = one.about, one.lift
    equation, own = _equation(client, lift), carried(client, about)
    values = test_values(client, about, lift)
    # The newest test and not the best: a max of long ago says little of today. Of one day the better one counts.
    chosen = max((v for v in values if v.estimate is not None), key=lambda v: (v.test.day, v.estimate))
    assert chosen.estimate is not None and chosen.spread is not None
    # What was lifted was stood up with, too: so it counts as handled, whatever the reps.
    done = _performances(client, lift, own)
    return LiftNumbers(
        movement=one.name, about=about, tests=values, chosen=chosen, equation=equation,
        estimate=chosen.estimate, spread=chosen.spread,
        working_share=lift.working_max, working_max=WithBody(chosen.estimate * lift.working_max),
        performances=done, logged=lift.logged, best_by_reps=best_by_reps(done), handled=max(p.load for p in done),
        held=lift.held.load.kg(client.unit) if lift.held else None,
        own=own, ladder=one.ladder, belief=belief, curve=_curve(client, lift),
        expected=expected(later(belief, client.training.starts, lifter)),
    )  # fmt: skip


def _equation(client: Client, lift: Lift) -> Equation:
    return lift.equation or client.equation or DEFAULT


def _curve(client: Client, lift: Lift) -> Curve:
    return curve_of(_equation(client, lift), percent_rows(client))


def test_values(client: Client, about: Movement, lift: Lift) -> tuple[TestValue, ...]:
    """Each test of a lift with what it is worth, in the profile's order."""
    equation, rows, own = _equation(client, lift), percent_rows(client), carried(client, about)
    return tuple(_worth(test, with_body(test.load.kg(client.unit), own), equation, rows) for test in lift.tests)


def _worth(test: TestedSet, load: WithBody, equation: Equation, rows: Rows) -> TestValue:
    grade = evidence(test.reps + test.rir)
    if test.missed or grade is Evidence.REFUSED:
        return TestValue(test, load, None, None, grade)
    worth = estimate(load, test.reps, test.rir, equation, rows)
    return TestValue(test, load, worth, spread(load, test.reps, test.rir, rows), grade)


def _performances(client: Client, lift: Lift, own: Decimal) -> tuple[Performance, ...]:
    tests = (
        Performance(with_body(test.load.kg(client.unit), own), test.reps, test.rir, test.day, "test")
        for test in lift.tests
        if not test.missed
    )
    records = (
        Performance(with_body(best.load.kg(client.unit), own), best.reps, Decimal(0), best.day, "record")
        for best in lift.records
    )
    return (*tests, *records)
