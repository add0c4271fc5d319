"""Walkouts and pin squats: shares and heights by exposure, behind the safety gates.

Why so careful. No trial was found in which walkouts or holds raised a max; one of a hold of ten seconds at 110 % is
reported to have found no gain on the day (registry NCT05988762). They stand in plans because coaches use them, so what
counts here is that none does harm: the first is at or below what was really held or lifted, loads round down, and who
has a gate never goes above the max.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from builder.given import Gym, Hold, Pins
from builder.plan.basis import Basis
from builder.plan.model import LiftNumbers, PinStep, Reason, Role, because
from builder.plan.prescribe import Prescription, Wanted
from builder.values.quantity import HAIR, OnBar, Rounding, WithBody
from builder.values.scalars import Every

SUPRAMAXIMAL = Decimal(1)
"""A share of the max above which a drill is supramaximal."""

GATES = ("no-safeties", "minor", "clinician", "recent-limit")
"""The cautions that forbid a supramaximal drill."""


@dataclass(frozen=True, slots=True)
class Turn:
    """Where a drill stands: which exposure is due (from 0), or none this time."""

    exposure: int
    due: bool


def turn(every: Every, seen: int, weeks_since_first: int) -> Turn:
    """Whether a drill with this cadence is due, by weeks since it first came or by how often its slot came (`seen`)."""
    passed = weeks_since_first if every.of == "weeks" else seen
    return Turn(passed // every.count, passed % every.count == 0)


def hold(rule: Hold, exposure: int, basis: Basis, cautions: tuple[str, ...]) -> Prescription:
    """Walkouts of one exposure. The first starts at or below a load really handled; none is supramaximal past a gate.

    Shares are of the estimated max (of the variant, when the slot has a ratio). The load rounds down.
    """
    best, numbers = _best(basis), _numbers(basis)
    handled = max(numbers.held or Decimal(0), numbers.handled)
    # An estimated max is no bar that was ever stood up with (common practice, no source).
    begin = min(rule.start, handled / best)
    notes = [] if begin == rule.start or exposure else [because("first-hold", handled_kg=handled, share=begin)]
    target, gated = _gated(basis.load_of(best, min(begin + rule.rise * exposure, rule.to)), basis, cautions)
    notes += gated
    share = target / best
    why = (because("hold", share=share, max_kg=best, target_kg=target),)
    wanted = Wanted(Role.HOLD, 1, share=share, target=target, seconds=rule.seconds, why=why)
    return Prescription((wanted,) * rule.sets, notes=tuple(notes), rounding=Rounding.DOWN)


def pins(rule: Pins, exposure: int, basis: Basis, gym: Gym, cautions: tuple[str, ...]) -> Prescription:
    """Pin squats of one exposure: the pins go down step by step, and the share goes down with them."""
    height = max(rule.start.number - rule.lower * exposure, rule.to.number)
    way = rule.start.number - rule.to.number
    done = Decimal(1) if way == 0 else (rule.start.number - height) / way
    high, low = rule.shares
    share = high - (high - low) * done
    target, notes = _gated(basis.load_at(share), basis, cautions)
    # Told as it is loaded: set and reason give the share that the gate has left.
    if notes and basis.full:
        share = target / basis.full
    why = (because("pin-share", share=share, max_kg=basis.full or Decimal(0), target_kg=target),)
    wanted = Wanted(Role.WORKING, rule.reps, share=share, target=target, partial=True, why=why)
    pin = _step(height, rule.start.unit, gym)
    return Prescription((wanted,) * rule.sets, pin=pin, notes=notes, rounding=Rounding.DOWN)


def _gated(target: OnBar, basis: Basis, cautions: tuple[str, ...]) -> tuple[OnBar, tuple[Reason, ...]]:
    """The target, held down to the max (kg) where a gate forbids more, and why.

    The max is the tested lift's, or what a variant is taken to have if that is less.
    """
    # The lesser of both: neither a ratio above 100 % nor the gain of a belt that was not tested may lift a hold past
    # its gate, and a lighter variant is gated at its own max.
    known = basis.load_of(min(_best(basis), _numbers(basis).estimate))
    gates = tuple(because(f"hold-capped-{code}") for code in cautions if code in GATES)
    # The same max worked out in two ways differs in its last digits, which is not to be told as a cut.
    return (known, gates) if target - known > HAIR and gates else (target, ())


def _best(basis: Basis) -> WithBody:
    """The whole max in kg, of which the working max is a share."""
    assert basis.full is not None
    return WithBody(basis.full / _numbers(basis).working_share)


def _numbers(basis: Basis) -> LiftNumbers:
    assert basis.numbers is not None, "a drill needs a tested lift"
    return basis.numbers


def _step(height: Decimal, unit: str, gym: Gym) -> PinStep:
    """The height both ways: by the gym's holes where they are known, and in centimetres."""
    if unit == "hole":
        return PinStep(int(height), gym.pins.height(int(height)) if gym.pins else None)
    if gym.pins is None:
        return PinStep(None, height)
    # The hole below a height that lies between two.
    hole = int((height - gym.pins.first) / gym.pins.spacing) + 1
    hole = min(max(hole, 1), gym.pins.holes)
    return PinStep(hole, gym.pins.height(hole))
