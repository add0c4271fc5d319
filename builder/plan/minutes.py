"""How long a session takes by the clock: a general warm-up, each set and its rest, the bar loaded and cleared.

Why all that passes counts, and not sets and rests alone: the review holds the sum against the minutes that the client
has, and plates, changes of station and warm-up are a good part of them. Tests hold it to a stopwatch that does what a
lifter would do, within a tenth.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import ROUND_CEILING, Decimal
from itertools import groupby, pairwise

from builder.plan.model import PlannedSet, PlannedSlot

GENERAL_WARM_UP, CHANGE_OVER, SET_UP, TURN = 360, 60, 8, 15
"""Seconds; common practice, no source: before the first slot, to the next station, before each set, and from one
movement of a superset to the next."""
WALK, PACE = Decimal(1), Decimal("2.5")
"""Metres a second with a load in the hands, and in conditioning; common practice, no source."""
PLATE = 10
"""Seconds to put a pair of plates on a bar or to take it off; common practice, no source."""


def session_minutes(slots: Iterable[PlannedSlot]) -> int:
    """Whole minutes from the door of the gym floor to the last set. Supersets share their rests."""
    total = Decimal(GENERAL_WARM_UP)
    for letter, group in groupby(slots, key=lambda slot: slot.superset):
        members = list(group)
        total += _superset(members) if letter else sum((_alone(slot) for slot in members), Decimal(0))
    return int((total / 60).quantize(Decimal(1), rounding=ROUND_CEILING))


def _alone(slot: PlannedSlot) -> Decimal:
    """Plates change while the lifter rests, so only what takes longer than the rest counts besides."""
    return CHANGE_OVER + _bar(slot) + _work(slot.sets, slot) + _gaps(slot.sets)


def _superset(members: list[PlannedSlot]) -> Decimal:
    """Each warms up by itself, then all work in turn; a round rests once, as long as its longest rest."""
    ramps = sum((_gaps((*slot.ramp, slot.work[0])) for slot in members), Decimal(0))
    rounds = max(len(slot.work) for slot in members)
    rest = max(s.rest for slot in members for s in slot.work)
    turns = sum(len(slot.work) for slot in members) - rounds
    bars = CHANGE_OVER + sum((_bar(slot) for slot in members), Decimal(0))
    work = sum((_work(slot.sets, slot) for slot in members), Decimal(0))
    # After the last round nobody waits.
    return bars + ramps + work + TURN * turns + rest * (rounds - 1)


def _bar(slot: PlannedSlot) -> Decimal:
    """The first load put on and the last taken off."""
    return Decimal(PLATE * (_plates(slot.sets[0]) + _plates(slot.sets[-1])))


def _plates(planned: PlannedSet) -> int:
    return sum(count for _, count in planned.rung.side) if planned.rung else 0


def _gaps(sets: tuple[PlannedSet, ...]) -> Decimal:
    """From each set to the next: the rest, or the change of plates where that takes longer."""
    gaps = (
        # Sets on the same load share the rung itself, so identity will do; this is asked of every set.
        before.rest if before.rung is after.rung else max(before.rest, PLATE * _moved(before, after))
        for before, after in pairwise(sets)
    )
    return Decimal(sum(gaps))


def _moved(before: PlannedSet, after: PlannedSet) -> int:
    """Pairs of plates that come off or go on between two sets."""
    was = dict(before.rung.side) if before.rung else {}
    will = dict(after.rung.side) if after.rung else {}
    return sum(abs(was.get(label, 0) - will.get(label, 0)) for label in {*was, *will})


def _work(sets: Sequence[PlannedSet], slot: PlannedSlot) -> Decimal:
    reps = sum(one.reps for one in sets if one.length is None)
    lengths = sum((_seconds(one, slot) for one in sets if one.length is not None), Decimal(SET_UP * len(sets)))
    return lengths + reps * _sides(slot) * _per_rep(slot)


def _sides(slot: PlannedSlot) -> int:
    return 2 if slot.about.each_side else 1


def _seconds(planned: PlannedSet, slot: PlannedSlot) -> Decimal:
    """How long a set of time or distance takes."""
    if planned.seconds is not None:
        return Decimal(planned.seconds * (1 if slot.drill else _sides(slot)))
    return (planned.metres or 0) * _sides(slot) / (PACE if slot.conditioning else WALK)


def _per_rep(slot: PlannedSlot) -> Decimal:
    if slot.tempo is None:
        return slot.about.seconds_per_rep
    # X is as fast as possible: about a second.
    return Decimal(sum(1 if part == "X" else int(part) for part in slot.tempo.split("-")))
