"""Which sets are milestones: planned at or near a record, no oftener than the lifter's training age bears."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Block
from builder.plan.model import LiftNumbers, PlannedSession, PlannedSet, PlannedSlot, Role
from builder.training.estimate import MOST_REPS, Rows, estimate
from builder.training.norms import MILESTONES, TrainingStatus
from builder.training.records import Performance, is_record

NEAR = Decimal("0.97")
"""A set is near a record when its reps and reserve are worth this share of the best estimate; common practice, no
source."""


@dataclass(slots=True)
class _Way:
    """What has been planned of one lift so far."""

    done: list[Performance]
    last: date | None = None
    sessions: int = 0
    marked_at: int = field(default=-99)


class Milestones:
    """Marks milestones session by session, in order of date."""

    def __init__(self, block: Block, status: str, lifts: Sequence[LiftNumbers], rows: Rows) -> None:
        self.lifts = {numbers.movement: numbers for numbers in lifts}
        self.ways = {numbers.movement: _Way(list(numbers.performances)) for numbers in lifts}
        own = block.block.milestones
        self.exposures = own.count if own and own.of == "exposures" else 0
        weeks = (
            own.count
            if own and own.of == "weeks"
            else (MILESTONES[TrainingStatus(status)].every_weeks or 0)
            if own is None
            else 0
        )
        self.apart = timedelta(weeks=weeks)
        self.rows = rows

    def marked(self, session: PlannedSession) -> PlannedSession:
        """The session with at most one milestone a lift, where one is due and a set is worth it."""
        return replace(session, slots=tuple(self._slot(slot, session.on) for slot in session.slots))

    def _slot(self, slot: PlannedSlot, on: date) -> PlannedSlot:
        numbers = self.lifts.get(slot.movement)
        if numbers is None or slot.estimated or slot.drill is not None or slot.stress == "light":
            return slot
        way = self.ways[slot.movement]
        way.sessions += 1
        chosen = next((i for i, s in enumerate(slot.sets) if self._worthy(s, numbers, way)), None)
        if chosen is not None and self._due(way, on):
            way.last, way.marked_at = on, way.sessions
            slot = replace(
                slot,
                sets=tuple(replace(s, milestone=True) if i == chosen else s for i, s in enumerate(slot.sets)),
            )
        way.done += [
            Performance(s.rung.mass + numbers.own, s.reps, Decimal(0), on, "plan")
            for s in slot.work
            if s.rung is not None
        ]
        return slot

    def _due(self, way: _Way, on: date) -> bool:
        if self.exposures:
            return way.sessions - way.marked_at >= self.exposures
        return way.last is None or on - way.last >= self.apart

    def _worthy(self, planned: PlannedSet, numbers: LiftNumbers, way: _Way) -> bool:
        if planned.role is not Role.WORKING or planned.rung is None or planned.reps > MOST_REPS:
            return False
        load = planned.rung.mass + numbers.own
        rir = min(planned.rir or Decimal(0), Decimal(MOST_REPS - planned.reps))
        worth = estimate(load, planned.reps, rir, numbers.equation, self.rows)
        return worth >= numbers.estimate * NEAR and is_record(load, planned.reps, way.done)
