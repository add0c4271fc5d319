"""Where a new best is at stake: milestones, which make one when done as planned, and one mark a slot to go beyond.

Why so few. Of 346 marks that were once printed 131 fell by doing as planned, which tells a lifter nothing, and others
lay beyond what was likely. So a mark stands where something is to be won: once a slot, above what was demonstrated,
what is planned before counted as done, and within reach of the day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal

from builder.given import Block
from builder.plan.model import LiftNumbers, PlannedSession, PlannedSet, PlannedSlot, Role
from builder.training.estimate import MOST_REPS, Rows, estimate
from builder.training.expected import reach
from builder.training.norms import MILESTONES
from builder.training.records import Best, Performance, RecordMark, best_demonstrated, goal_mark
from builder.values.lists import TrainingStatus
from builder.values.quantity import HAIR, WithBody

NEAR = Decimal("0.97")
"""A set is near a record when its reps and reserve are worth this share of the best estimate; common practice, no
source."""
MOST_MARK = 12
"""Marks of more reps than these are none."""
MOST_BEYOND = 3
"""So many reps more than planned may a mark ask for; common practice, no source."""


@dataclass(slots=True)
class _Way:
    """What has been planned of one lift so far."""

    numbers: LiftNumbers
    rows: Rows
    done: list[Performance]
    best: Best | None
    seen: set[tuple[Decimal, int, Decimal]] = field(default_factory=set)
    last: date | None = None
    sessions: int = 0
    # Long before the first session, so that the first set that is worth it is due.
    marked_at: int = field(default=-99)

    def add(self, load: WithBody, reps: int, rir: Decimal, on: date) -> None:
        """One more set, if it is the first of its kind: what is planned again beats nothing that was not beaten."""
        if (load, reps, rir) not in self.seen:
            self.seen.add((load, reps, rir))
            one = Performance(load, reps, rir, on, "plan")
            self.done.append(one)
            # Of the two that can win, not of all again: this is asked for every set of a block.
            rivals = (one,) if self.best is None else (self.best[1], one)
            self.best = best_demonstrated(rivals, self.numbers.equation, self.rows)

    def goal(self, planned: PlannedSet) -> RecordMark | None:
        """What a set would have to beat: the best that was demonstrated, what is planned before it as done."""
        assert planned.rung is not None
        load = self.numbers.whole(planned.rung.mass)
        return goal_mark(load, self.done, self.numbers.equation, self.rows, self.best)


def _begun(numbers: LiftNumbers, rows: Rows) -> _Way:
    done = list(numbers.performances)
    return _Way(numbers, rows, done, best_demonstrated(done, numbers.equation, rows))


class Milestones:
    """Marks milestones and records session by session, in order of date."""

    def __init__(self, block: Block, status: str, lifts: Sequence[LiftNumbers], rows: Rows) -> None:
        self.lifts = {numbers.movement: numbers for numbers in lifts}
        self.ways = {numbers.movement: _begun(numbers, rows) for numbers in lifts}
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
        self.novice = TrainingStatus(status) is TrainingStatus.NOVICE

    def marked(self, session: PlannedSession) -> PlannedSession:
        """The session with at most one milestone a lift, where one is due and a set is worth it; one mark a slot."""
        return replace(session, slots=tuple(self._slot(slot, session.on) for slot in session.slots))

    def _slot(self, slot: PlannedSlot, on: date) -> PlannedSlot:
        numbers = self.lifts.get(slot.movement)
        if numbers is None or slot.estimated or slot.drill is not None or slot.stress == "light" or _back(slot):
            return slot
        # Time and distance have no max that a record could be worth.
        if any(one.length for one in slot.work):
            return slot
        way = self.ways[slot.movement]
        way.sessions += 1
        loaded = tuple(i for i, s in enumerate(slot.sets) if s.role is Role.WORKING and s.rung is not None)
        chosen = next((i for i in loaded if self._worthy(slot.sets[i], numbers, way)), None)
        if chosen is not None and self._due(way, on):
            way.last, way.marked_at = on, way.sessions
            slot = _with(slot, chosen, milestone=True, mark=way.goal(slot.sets[chosen]))
        elif loaded:
            slot = self._with_mark(slot, max(loaded, key=lambda i: _invites(slot.sets[i], i)), numbers, way)
        # Only now: a set must not stand among what it is to beat.
        for planned in slot.work:
            if planned.rung is not None:
                way.add(numbers.whole(planned.rung.mass), planned.reps, planned.rir or Decimal(0), on)
        return slot

    def _with_mark(self, slot: PlannedSlot, place: int, numbers: LiftNumbers, way: _Way) -> PlannedSlot:
        """The slot with one mark, where a set can reach it and the plan alone does not."""
        planned = slot.sets[place]
        goal = way.goal(planned)
        if goal is None or not planned.reps < goal.reps <= self._asked(planned):
            return slot
        return _with(slot, place, mark=goal) if _possible(slot, planned, goal.reps, numbers) else slot

    def _asked(self, planned: PlannedSet) -> int:
        """How far a mark may lie: an open set ends where its rule ends it; a novice leaves all others as planned."""
        if planned.open_ended:
            return planned.most_reps or MOST_MARK
        return 0 if self.novice else min(planned.reps + MOST_BEYOND, MOST_MARK)

    def _due(self, way: _Way, on: date) -> bool:
        if self.exposures:
            return way.sessions - way.marked_at >= self.exposures
        return way.last is None or on - way.last >= self.apart

    def _worthy(self, planned: PlannedSet, numbers: LiftNumbers, way: _Way) -> bool:
        if planned.rung is None or planned.reps > MOST_REPS:
            return False
        load = numbers.whole(planned.rung.mass)
        # Kept within what the equations reach; it only makes the set worth less.
        rir = min(planned.rir or Decimal(0), Decimal(MOST_REPS - planned.reps))
        # By effort first, with the reserve; then by what is really done, without it: five easy reps are near no record.
        worth = estimate(load, planned.reps, rir, numbers.equation, self.rows)
        if worth < numbers.estimate * NEAR:
            return False
        goal = way.goal(planned)
        return goal is not None and goal.reps <= planned.reps


def _possible(slot: PlannedSlot, planned: PlannedSet, reps: int, numbers: LiftNumbers) -> bool:
    """Whether so many reps lie within what is likely of the lift on the day."""
    assert planned.rung is not None and slot.belief is not None
    return numbers.whole(planned.rung.mass) <= reach(slot.belief, numbers.curve, reps) + HAIR


def _with(slot: PlannedSlot, place: int, *, milestone: bool = False, mark: RecordMark | None = None) -> PlannedSlot:
    changed = replace(slot.sets[place], milestone=milestone, mark=mark)
    return replace(slot, sets=(*slot.sets[:place], changed, *slot.sets[place + 1 :]))


def _invites(planned: PlannedSet, place: int) -> tuple[bool, Decimal, int]:
    """The set to go beyond: the open one, else the last of the heaviest."""
    return planned.open_ended, planned.rung.mass if planned.rung else Decimal(0), place


def _back(slot: PlannedSlot) -> bool:
    """Whether the slot is lightened after a pause."""
    return any(reason.step == "re-entry-load" for one in slot.work for reason in one.why)
