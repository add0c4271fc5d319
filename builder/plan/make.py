"""Makes the plan: goes through the calendar week by week and plans every slot of every day.

Why in this order. What comes later stands on what came before: a progression goes on from its last exposure, a warm-up
leaves out what the session has lifted already, a record is what beats the sets before it, and a test opens from what
was trained. So weeks, days and slots are gone through once, by date, and what is carried along (`_State`, `Milestones`,
`Warmth`) is the only thing that changes; it lives as long as one call, so that the same sources give the same plan.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import groupby

from builder.given import Block, Client, Deload, Hold, Movements, Pins, Resume, Slot, Variant
from builder.given.sources import Sources
from builder.plan.basis import Ground
from builder.plan.calendar import Week, calendar
from builder.plan.cautions import cautions
from builder.plan.changes import told_changes
from builder.plan.deload import Easing, Light, Tapering, counts, dropped
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
from builder.plan.outlook import Outlook, lifter_of
from builder.plan.pauses import breaks, pauses, share_of, told
from builder.plan.prescribe import ExposureCount
from builder.plan.ramps import Warmth
from builder.plan.slots import Occasion, lettered, plan_slot, stand_in
from builder.plan.stretches import Stretch, stretch_of, stretches
from builder.plan.testday import test_sessions, untestable
from builder.training.expected import Lifter
from builder.training.reentry import Pause
from builder.training.volume import SetLoad, by_movement, by_pattern, summary

Key = tuple[object, ...]
"""What comes on as one: the slots of a track, the variants of one slot, or a slot alone; each kind by itself."""


@dataclass(slots=True)
class _Track:
    """How far one slot, or the slots of one track, have come; `renewed` of the exposures were before this stretch."""

    exposures: int = 0
    renewed: int = 0
    first_week: int | None = None
    seen: int = 0
    lift: str | None = None


@dataclass(slots=True)
class _State:
    tracks: dict[Key, _Track] = field(default_factory=dict)
    # Not a list: week after week gives the same note, which the page tells once, and in the order of the weeks.
    notes: dict[Reason, None] = field(default_factory=dict)

    def renew(self, lifts: Collection[str]) -> None:
        """The maxes of some lifts are new: what comes from them starts anew, all else goes on where it was."""
        for track in self.tracks.values():
            # One without a lift was found by feel. Where its movement has been tested now, its load comes from that
            # max, and counts its rises from here.
            if track.lift is None or track.lift in lifts:
                track.renewed = track.exposures


def make_plan(sources: Sources) -> Plan:
    """Every set of every session; pure: the same sources give the same plan. ValueError without client or block."""
    client, block = sources.client, sources.block
    if client is None or block is None:
        raise ValueError("a plan needs a client and a block")
    parts = stretches(client)
    every = calendar(client, block)
    # Every pause lowers what is expected of the lifter (`breaks`); loads come back only from those that neither a new
    # max nor the coach's own share has answered (`pauses`).
    until, away = every[-1].starts + timedelta(weeks=1), pauses(client, parts)
    lifter = lifter_of(client, breaks(client, parts))
    grounds = {part.first: _ground(sources, part.client, block, until, lifter) for part in parts}
    state, weeks = _State(), list[PlannedWeek]()
    before: Ground | None = None
    for part, mine in groupby(every, key=lambda week: stretch_of(parts, week.number)):
        ground = grounds[part.first]
        # In the first stretch every lift is new, which renews nothing: no track has begun.
        state.renew(_newly_tested(before, ground))
        weeks += _stretch(ground, state, tuple(mine), away)
        before = ground
    # The pages of numbers show what is known now; sets of earlier weeks keep the maxes that they were trained by.
    last = grounds[parts[-1].first]
    back = told(away, ((week.number, week.starts) for week in every))
    # A caution of any stretch holds for the booklet: its pages are printed once, for all of its weeks.
    codes = dict.fromkeys(code for ground in grounds.values() for code in ground.cautions)
    changes = told_changes(sources.made)
    resumed = (_resumed(part, resume) for part, resume in zip(parts[1:], client.training.resumes, strict=True))
    return Plan(
        client=client, block=block, unit=client.unit, rows=last.rows, lifts=last.lifts, weeks=tuple(weeks),
        cautions=tuple(codes), notes=(*resumed, *_gone(client, every), *back, *changes, *state.notes),
        changes=sources.made,
    )  # fmt: skip


def _newly_tested(before: Ground | None, ground: Ground) -> set[str]:
    """The lifts whose max stands on another test than before."""
    # By the test, not by the max that it gave: the same max once more is a new test all the same, and the coach's share
    # after a pause changes the working max without one.
    known = {} if before is None else {numbers.movement: numbers.chosen.test for numbers in before.lifts}
    return {numbers.movement for numbers in ground.lifts if known.get(numbers.movement) != numbers.chosen.test}


def _resumed(part: Stretch, resume: Resume) -> Reason:
    step = "resumed" if resume.renews else "paused"
    if resume.share is None or resume.share == 1:
        return because(step, week=part.first, day=part.starts)
    return because(f"{step}-lighter", week=part.first, day=part.starts, working_share=resume.share)


def _gone(client: Client, weeks: tuple[Week, ...]) -> Iterator[Reason]:
    """Each time away, told in the week in which it begins or that waits for its end."""
    for span in client.training.away:
        after = (week.number for week in weeks if week.starts + timedelta(weeks=1) > span.first)
        if (number := next(after, None)) is not None and span.last >= weeks[0].starts:
            if span.first == span.last:
                yield because("away-day", week=number, day=span.first)
            else:
                yield because("away", week=number, first=span.first, last=span.last)


def _stretch(ground: Ground, state: _State, weeks: tuple[Week, ...], away: tuple[Pause, ...]) -> list[PlannedWeek]:
    """Weeks that are planned from the same numbers."""
    marks = Milestones(ground.block, ground.client.training.status, ground.lifts, ground.rows)
    made: list[PlannedWeek] = []
    for week in weeks:
        if week.kind is WeekKind.TEST:
            # Of this stretch alone: what was planned from an older max may be worth more than the lifter is now.
            sessions = test_sessions(ground, week, [s for w in made for s in w.sessions])
            state.notes |= dict.fromkeys(untestable(ground, week))
        else:
            sessions = _sessions(ground, state, week, share_of(away, week.starts))
        # Lighter weeks ask for no record: they are there to let the lifter recover.
        if week.kind is WeekKind.TRAINING:
            sessions = tuple(marks.marked(session) for session in sessions)
        made.append(_week(week, sessions, ground))
    return made


def _ground(sources: Sources, client: Client, block: Block, until: date, lifter: Lifter) -> Ground:
    library = sources.movements
    racks = Racks(client)
    machines = _machines(block, library)
    lifts = all_numbers(client, library, racks, machines, lifter)
    return Ground(
        client, block, library, racks, lifts, percent_rows(client), cautions(client, until), machines, Outlook(lifter),
        {each.place: each for each in sources.variants}, sources.made,
    )  # fmt: skip


def _machines(block: Block, library: Movements) -> dict[str, str]:
    """The stack on which the block trains each movement that names one."""
    slots = [slot for day in block.days for slot in day.slots if slot.stack and slot.movement]
    # Reversed, so that the first machine that the block names for a movement is the one that it is tested on.
    return {library.named(slot.movement or "") or "": slot.stack or "" for slot in reversed(slots)}


def _sessions(ground: Ground, state: _State, week: Week, share: Decimal) -> tuple[PlannedSession, ...]:
    """The week's sessions at a share of their loads, counted from 1; a day with nothing left to do is none."""
    easing = _easing(ground.block, week)
    # A deload is not cut a second time by a pause before it; a taper keeps its load and so has to be.
    light = Light(easing, Decimal(1) if isinstance(easing, Deload) else share)
    planned = (_session(ground, state, week, (index, on), light) for index, on in week.days)
    worth_it = [session for session in planned if session.slots]
    # Numbered last: a day of which a deload left nothing has no page, and fields are named by these numbers.
    return tuple(replace(session, day=number) for number, session in enumerate(worth_it, 1))


def _session(ground: Ground, state: _State, week: Week, turn: tuple[int, date], light: Light) -> PlannedSession:
    index, on = turn
    day, occasion = ground.block.days[index], Occasion(on, light, Warmth())
    slots = [_slot(ground, state, week, (index, place), slot, occasion) for place, slot in enumerate(day.slots)]
    planned = lettered([slot for slot in slots if slot is not None])
    return PlannedSession(week.number, 0, on, day.title, session_minutes(planned), planned, day.note)


def _slot(
    ground: Ground, state: _State, week: Week, place: tuple[int, int], slot: Slot, occasion: Occasion
) -> PlannedSlot | None:
    if slot.weeks is not None and week.number not in slot.weeks:
        return None
    if occasion.light.easing is not None and dropped(slot, occasion.light.easing):
        return None
    variant = ground.variants.get(place)
    track = state.tracks.setdefault(_key(slot, place, variant), _Track())
    exposure = _exposure(slot, track, week, counts=counts(occasion.light.easing))
    if exposure is None:
        return None
    stand = stand_in(ground, slot)
    if stand is None:
        state.notes[because("left-out", movement=slot.called)] = None
        return None
    planned = plan_slot(ground, slot, stand, ExposureCount(exposure, max(exposure - track.renewed, 0)), occasion)
    if planned is None:
        state.notes[because("drill-untested", movement=stand.movement)] = None
    elif stand.replaces is not None:
        state.notes[because("replaced", movement=stand.replaces, by=stand.movement, area=stand.area or "")] = None
    track.lift = planned.lift if planned else track.lift
    if planned is None or variant is None:
        return planned
    return replace(planned, changed=tuple(ground.made[number] for number in variant.made))


def _key(slot: Slot, place: tuple[int, int], variant: Variant | None) -> Key:
    """By what a slot's progress is counted: a change of the kind of progression begins anew."""
    if slot.track is not None:
        return slot.track, slot.progression.kind
    if variant is not None and variant.origin is not None:
        return "origin", variant.origin, slot.progression.kind
    return "place", place, slot.progression.kind


def _easing(block: Block, week: Week) -> Easing | None:
    """How a week comes lighter, if it does."""
    head = block.block
    if week.kind is WeekKind.DELOAD:
        return head.deload
    if week.kind is WeekKind.TAPER and head.taper is not None and head.test is not None:
        return Tapering(head.taper, head.taper.share(head.test.week - week.number))
    return None


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
        # Before the first exposure there is nothing to repeat: such a deload cuts from the first.
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
                # Not of a variant: its max is only taken as a share, and would blur the mean of what was tested.
                share = _of_max(planned, numbers) if numbers and slot.movement == numbers.movement else None
                reps = planned.reps * sides if planned.length is None else 0
                held = 0 if slot.drill else (planned.seconds or 0) * sides
                way, working = (planned.metres or 0) * sides, not slot.conditioning
                yield SetLoad(str(slot.about.pattern), slot.movement, load, reps, share, working, held, way)


def _of_max(planned: PlannedSet, numbers: LiftNumbers) -> Decimal | None:
    return None if planned.rung is None else numbers.whole(planned.rung.mass) / numbers.estimate


__all__ = ["make_plan"]
