"""The plan as text for the terminal: each slot with its sets, and below each load the way to it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from builder.pages.reasons import reason_sentence
from builder.pages.setlines import effort_text
from builder.plan import Plan, PlannedSession, PlannedSet, PlannedSlot, PlannedWeek, Role
from builder.training.loading import side_text
from builder.values.measure import shown
from builder.words import Words


def plan_text(plan: Plan, words: Words, week: int | None = None, day: int | None = None) -> Iterator[str]:
    """Lines for every session, or for those of one week or one day of the week."""
    for planned in plan.weeks:
        if week in (None, planned.number):
            yield from _week(planned, words, day)


def _week(week: PlannedWeek, words: Words, day: int | None) -> Iterator[str]:
    kind = words(f"explain.kind.{week.kind}")
    yield words("explain.week", number=week.number, kind=kind, date=words.date(week.starts))
    for session in week.sessions:
        if day in (None, session.day):
            yield ""
            yield from _session(session, words)
    yield ""


def _session(session: PlannedSession, words: Words) -> Iterator[str]:
    title = session.title or words("explain.test")
    yield words("explain.day", number=session.day, date=words.day(session.on), title=title, minutes=session.minutes)
    for slot in session.slots:
        yield from _slot(slot, words)


def _slot(slot: PlannedSlot, words: Words) -> Iterator[str]:
    yield ""
    yield f"  {words.movement(slot.movement)}, {_moves_on(slot, words)}"
    if slot.zone:
        yield f"    {slot.zone}"
    for one in slot.changed:
        told = words(f"note.changed.{one.verb}", replaces=words.movement(one.movement))
        yield f"    {told}{f' ({one.written})' if one.written else ''}{f' {one.why}' if one.why else ''}"
    yield from (f"    {reason_sentence(words, note)}" for note in slot.notes)
    for planned, same in groupby(slot.sets, key=lambda s: s):
        yield _set(planned, len(list(same)), slot, words)
        if planned.role is not Role.RAMP:
            yield from (f"        {reason_sentence(words, reason)}" for reason in planned.why)


def _moves_on(slot: PlannedSlot, words: Words) -> str:
    """How a slot moves on; sets of time or distance have words of their own."""
    key = f"explain.progression.{slot.kind}"
    by_length = slot.work[0].length is not None and words.has(f"{key}.length")
    return words(f"{key}.length" if by_length else key)


def _set(planned: PlannedSet, count: int, slot: PlannedSlot, words: Words) -> str:
    load = words.mass(planned.rung.mass) if planned.rung else "" if slot.unloaded else words("explain.by-feel")
    side = f"  [{words.plates(side_text(planned.rung))}]" if planned.rung and planned.rung.side else ""
    reps = _reps(planned, words)
    rir = "" if planned.left is None else "  " + effort_text(planned, words)
    mark = "  " + words("explain.mark", count=planned.mark.reps) if planned.mark else ""
    star = "  " + words("explain.milestone") if planned.milestone else ""
    times = " × ".join(filter(None, (str(count), reps, load)))
    return f"    {words(f'explain.role.{planned.role}'):<9} {times}{side}{rir}{mark}{star}"


def _reps(planned: PlannedSet, words: Words) -> str:
    """A time or distance, "5+" for an open set, "8–12" where the load is found by feel, else the planned reps."""
    if planned.length is not None:
        return shown(planned.length.low, planned.length.unit)
    if planned.open_ended:
        return f"{planned.reps}+"
    if planned.rung is None and planned.most_reps:
        return f"{planned.reps}–{planned.most_reps}"
    return str(planned.reps)
