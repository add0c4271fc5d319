"""How long a session takes: work, rest, plate changes and a general warm-up, counted honestly."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_CEILING, Decimal
from itertools import groupby

from builder.plan.model import PlannedSet, PlannedSlot, Role

GENERAL_WARM_UP, CHANGE_OVER, PLATE_CHANGE, SET_UP = 360, 60, 25, 8
"""Seconds; common practice, no source: before the first slot, between slots, between ramp sets, before each set."""


def session_minutes(slots: Iterable[PlannedSlot]) -> int:
    """Whole minutes from the door of the gym floor to the last set. Supersets share their rests."""
    total = Decimal(GENERAL_WARM_UP)
    for letter, group in groupby(slots, key=lambda slot: slot.superset):
        members = list(group)
        total += _superset(members) if letter else sum((_alone(slot) for slot in members), Decimal(0))
    return int((total / 60).quantize(Decimal(1), rounding=ROUND_CEILING))


def _alone(slot: PlannedSlot) -> Decimal:
    rests = sum(s.rest for s in slot.sets[:-1])
    return CHANGE_OVER + _work(slot) + rests


def _superset(members: list[PlannedSlot]) -> Decimal:
    """All the work, but each round rests once: as long as the longest rest of its members."""
    rounds = max(len(slot.work) for slot in members)
    rest = max(s.rest for slot in members for s in slot.work)
    ramps = sum(s.rest for slot in members for s in slot.ramp)
    return CHANGE_OVER + sum((_work(slot) for slot in members), Decimal(0)) + ramps + rest * (rounds - 1)


def _work(slot: PlannedSlot) -> Decimal:
    return sum((_seconds(s, slot) for s in slot.sets), Decimal(0))


def _seconds(planned: PlannedSet, slot: PlannedSlot) -> Decimal:
    handling = PLATE_CHANGE if planned.role is Role.RAMP else SET_UP
    if planned.seconds is not None:
        return Decimal(handling + planned.seconds)
    sides = 2 if slot.about.each_side else 1
    return handling + planned.reps * sides * _per_rep(slot)


def _per_rep(slot: PlannedSlot) -> Decimal:
    if slot.tempo is None:
        return slot.about.seconds_per_rep
    # X is as fast as possible: about a second.
    return Decimal(sum(1 if part == "X" else int(part) for part in slot.tempo.split("-")))
