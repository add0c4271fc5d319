"""Makes the plan: goes through the calendar week by week and plans every slot of every day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import groupby

from builder.given import Block, Client, Hold, Movements, Pins, Resume, Slot
from builder.given.sources import Sources
from builder.plan.basis import Ground
from builder.plan.calendar import Week, calendar
from builder.plan.cautions import cautions
from builder.plan.deload import dropped
from builder.plan.drills import turn
from builder.plan.ladders import Racks
from builder.plan.milestones import Milestones
from builder.plan.minutes import session_minutes
from builder.plan.model import (
    LiftNumbers,
    Plan,
    PlannedSession,
    PlannedSet,
    PlannedSlot,
    PlannedWeek,
    Reason,
    WeekKind,
    because,
)
from builder.plan.numbers import all_numbers, percent_rows
from builder.plan.prescribe import Count
from builder.plan.ramps import Warmth
from builder.plan.slots import lettered, plan_slot, stand_in
from builder.plan.stretches import Stretch, stretch_of, stretches
from builder.plan.testday import test_sessions, untestable
from builder.training.volume import SetLoad, by_movement, by_pattern, summary

Key = tuple[int, int] | str


@dataclass(slots=True)
class _Track:
    """How far one slot, or the slots of one track, have come; `renewed` of the exposures were before this stretch."""

    exposures: int = 0
    renewed: int = 0
    first_week: int | None = None
    seen: int = 0


@dataclass(slots=True)
class _State:
    tracks: dict[Key, _Track] = field(default_factory=dict)
    notes: dict[Reason, None] = field(default_factory=dict)

    def renew(self) -> None:
        """A stretch begins: what comes from the max starts from the renewed one."""
        for track in self.tracks.values():
            track.renewed = track.exposures


def make_plan(sources: Sources) -> Plan:
    """Every set of every session; pure: the same sources give the same plan. ValueError without client or block."""
    client, block = sources.client, sources.block
    if client is None or block is None:
        raise ValueError("a plan needs a client and a block")
    parts = stretches(client)
    every = calendar(client, block)
    until = every[-1].starts + timedelta(weeks=1)
    grounds = {part.first: _ground(part.client, block, sources.movements, until) for part in parts}
    state, weeks = _State(), list[PlannedWeek]()
    for part, mine in groupby(every, key=lambda week: stretch_of(parts, week.number)):
        state.renew()
        weeks += _stretch(grounds[part.first], state, tuple(mine))
    last = grounds[parts[-1].first]
    codes = dict.fromkeys(code for ground in grounds.values() for code in ground.cautions)
    resumed = (_resumed(part, resume) for part, resume in zip(parts[1:], client.training.resumes, strict=True))
    return Plan(
        client=client, block=block, unit=client.unit, rows=last.rows, lifts=last.lifts, weeks=tuple(weeks),
        cautions=tuple(codes), notes=(*resumed, *state.notes),
    )  # fmt: skip


def _resumed(part: Stretch, resume: Resume) -> Reason:
    if resume.share == 1:
        return because("resumed", week=part.first, day=part.starts)
    return because("resumed-lighter", week=part.first, day=part.starts, working_share=resume.share)


def _stretch(ground: Ground, state: _State, weeks: tuple[Week, ...]) -> list[PlannedWeek]:
    """Weeks that are planned from the same numbers."""
    marks = Milestones(ground.block, ground.client.training.status, ground.lifts, ground.rows)
    made: list[PlannedWeek] = []
    for week in weeks:
        if week.kind is WeekKind.TEST:
            sessions = test_sessions(ground, week, [s for w in made for s in w.sessions])
            state.notes |= dict.fromkeys(because("left-out", movement=word) for word in untestable(ground))
        else:
            sessions = _sessions(ground, state, week)
        if week.kind is WeekKind.TRAINING:
            sessions = tuple(marks.marked(session) for session in sessions)
        made.append(_week(week, sessions, ground))
    return made


def _ground(client: Client, block: Block, library: Movements, until: date) -> Ground:
    racks = Racks(client)
    machines = _machines(block, library)
    lifts = all_numbers(client, library, racks, machines)
    return Ground(client, block, library, racks, lifts, percent_rows(client), cautions(client, until), machines)


def _machines(block: Block, library: Movements) -> dict[str, str]:
    """The stack on which the block trains each movement that names one."""
    slots = [slot for day in block.days for slot in day.slots if slot.stack and slot.movement]
    return {library.named(slot.movement or "") or "": slot.stack or "" for slot in reversed(slots)}


def _sessions(ground: Ground, state: _State, week: Week) -> tuple[PlannedSession, ...]:
    """The week's sessions, counted from 1; a day with nothing left to do is none."""
    planned = (_session(ground, state, week, index, on) for index, on in week.days)
    worth_it = [session for session in planned if session.slots]
    return tuple(replace(session, day=number) for number, session in enumerate(worth_it, 1))


def _session(ground: Ground, state: _State, week: Week, index: int, on: date) -> PlannedSession:
    day, warmth = ground.block.days[index], Warmth()
    slots = [_slot(ground, state, week, (index, place), slot, warmth) for place, slot in enumerate(day.slots)]
    planned = lettered([slot for slot in slots if slot is not None])
    return PlannedSession(week.number, 0, on, day.title, session_minutes(planned), planned, day.note)


def _slot(
    ground: Ground, state: _State, week: Week, place: tuple[int, int], slot: Slot, warmth: Warmth
) -> PlannedSlot | None:
    if slot.weeks is not None and week.number not in slot.weeks:
        return None
    deload = ground.block.block.deload if week.kind is WeekKind.DELOAD else None
    if deload is not None and dropped(slot, deload):
        return None
    track = state.tracks.setdefault(slot.track or place, _Track())
    exposure = _exposure(slot, track, week, counts=deload is None or deload.counts)
    if exposure is None:
        return None
    stand = stand_in(ground, slot)
    if stand is None:
        state.notes[because("left-out", movement=slot.movement or slot.drill or "")] = None
        return None
    planned = plan_slot(ground, slot, stand, Count(exposure, max(exposure - track.renewed, 0)), warmth, deload)
    if planned is None:
        state.notes[because("drill-untested", movement=stand.movement)] = None
    elif stand.replaces is not None:
        state.notes[because("replaced", movement=stand.replaces, by=stand.movement, area=stand.area or "")] = None
    return planned


def _exposure(slot: Slot, track: _Track, week: Week, *, counts: bool) -> int | None:
    """The exposure due today, counted from 0; None when a drill's cadence skips it.

    A deload that does not count repeats the last exposure, so that it cuts from what has really been lifted.
    """
    track.first_week = track.first_week or week.number
    if isinstance(slot.progression, Hold | Pins):
        now = turn(slot.progression.every, track.seen, week.number - track.first_week)
        track.seen += 1
        if not now.due:
            return None
    if not counts:
        return max(track.exposures - 1, 0)
    track.exposures += 1
    return track.exposures - 1


def _week(week: Week, sessions: tuple[PlannedSession, ...], ground: Ground) -> PlannedWeek:
    loads = tuple(_set_loads(sessions, ground))
    return PlannedWeek(
        week.number,
        week.kind,
        week.starts,
        week.phase,
        sessions,
        by_movement(loads),
        by_pattern(loads),
        summary(loads),
    )


def _set_loads(sessions: Iterable[PlannedSession], ground: Ground) -> Iterable[SetLoad]:
    """Each working set as volume counts it: both hands' bells, both sides' reps, intensity on the lift's own max."""
    for session in sessions:
        for slot in session.slots:
            hands, sides = (2 if slot.per_hand else 1), (2 if slot.about.each_side else 1)
            numbers = ground.numbers(slot.lift)
            for planned in slot.work:
                load = None if planned.rung is None else planned.rung.mass * hands
                share = _of_max(planned, numbers) if numbers and slot.movement == numbers.movement else None
                reps = 0 if planned.seconds is not None else planned.reps * sides
                yield SetLoad(str(slot.about.pattern), slot.movement, load, reps, share, True)


def _of_max(planned: PlannedSet, numbers: LiftNumbers) -> Decimal | None:
    return None if planned.rung is None else (planned.rung.mass + numbers.own) / numbers.estimate


__all__ = ["make_plan"]
