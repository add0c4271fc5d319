"""The whole plan as JSON, format 1: loads are decimal strings in the client's unit, shares and RIR numbers."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from builder.given import ChangeMade
from builder.pages.reasons import reason_sentence
from builder.plan import LiftNumbers, Outcome, Plan, PlannedSession, PlannedSet, PlannedSlot, PlannedWeek, Reason
from builder.plan.model import Lesson
from builder.training.expected import Expected, Reserve
from builder.training.loading import Rung
from builder.training.records import RecordMark
from builder.training.volume import VolumeSummary
from builder.values.formats import TOLD_FORMAT
from builder.values.quantity import in_unit, plain, to_places
from builder.words import Words

Json = dict[str, Any]


def plan_json(plan: Plan, words: Words) -> Json:
    """The plan as JSON values; `words` gives the sentences of the reasons."""
    return _PlanTeller(plan, words).plan_()


class _PlanTeller:
    """Writes one plan; it holds the unit and the words that every part needs."""

    def __init__(self, plan: Plan, words: Words) -> None:
        self.plan, self.words, self.unit = plan, words, plan.unit

    def plan_(self) -> Json:
        client, block = self.plan.client, self.plan.block.block
        return {
            "format": TOLD_FORMAT,
            "client": {
                "name": client.client.name,
                "units": str(self.unit),
                "status": client.training.status,
                "cautions": list(self.plan.cautions),
                "lifts": [self.lift(numbers) for numbers in self.plan.lifts],
            },
            "block": {"title": block.title, "weeks": block.weeks, "suits": list(block.suits)},
            "notes": [self.reason(note) for note in self.plan.notes],
            "changes": [self.made(one) for one in self.plan.changes],
            "weeks": [self.week(week) for week in self.plan.weeks],
        }

    def lift(self, numbers: LiftNumbers) -> Json:
        return {
            "movement": numbers.movement,
            "equation": str(numbers.equation),
            "test": {
                "date": numbers.chosen.test.day.isoformat(),
                "load": self.mass(numbers.chosen.load),
                "reps": numbers.chosen.test.reps,
                "rir": _number(numbers.chosen.test.rir),
                "evidence": str(numbers.chosen.evidence),
            },
            "estimate": self.mass(numbers.estimate),
            "spread": [self.mass(numbers.spread.low), self.mass(numbers.spread.high)],
            "expected": self.expected(numbers.expected),
            "working_max": self.mass(numbers.working_max),
        }

    def week(self, week: PlannedWeek) -> Json:
        return {
            "week": week.number,
            "kind": str(week.kind),
            "starts": week.starts.isoformat(),
            "phase": week.phase,
            "volume": self.volume(week.total),
            "by_movement": {name: self.volume(summary) for name, summary in week.by_movement},
            "by_pattern": {name: self.volume(summary) for name, summary in week.by_pattern},
            "sessions": [self.session(session) for session in week.sessions],
        }

    def volume(self, summary: VolumeSummary) -> Json:
        return {
            "sets": summary.sets,
            "lifts": summary.reps,
            "tonnage": self.mass(summary.tonnage),
            "intensity": _number(summary.intensity, 4),
            "seconds": summary.seconds,
            "metres": summary.metres,
        }

    def session(self, session: PlannedSession) -> Json:
        return {
            "day": session.day,
            "date": session.on.isoformat(),
            "title": session.title or self.words("explain.test"),
            "minutes": session.minutes,
            "slots": [self.slot(slot) for slot in session.slots],
        }

    def slot(self, slot: PlannedSlot) -> Json:
        return {
            "movement": slot.movement,
            "kind": slot.kind,
            "drill": slot.drill,
            "lift": slot.lift,
            "implement": slot.implement,
            "exposure": slot.exposure,
            "estimated": slot.estimated,
            "expected": None if slot.expected is None else self.expected(slot.expected),
            "superset": slot.superset,
            "stress": slot.stress,
            "zone": slot.zone,
            "replaces": slot.replaces,
            "changed": [self.made(one) for one in slot.changed],
            "pin": {"hole": slot.pin.hole, "cm": _text(slot.pin.centimetres)} if slot.pin else None,
            "notes": [self.reason(note) for note in slot.notes],
            "lessons": [self.lesson(lesson) for lesson in slot.lessons],
            "next": [self.outcome(outcome) for outcome in slot.outcomes],
            "sets": [self.set_(planned) for planned in slot.sets],
        }

    def made(self, one: ChangeMade) -> Json:
        return {
            "change": one.verb,
            "movement": one.movement,
            "to": one.by or None,
            "with": one.written or None,
            "days": list(one.days),
            "weeks": [one.weeks.low, one.weeks.high] if one.weeks else None,
            "why": one.why,
        }

    def outcome(self, outcome: Outcome) -> Json:
        loads = {"top": self.load(outcome.top), "load": self.load(outcome.rung)}
        return {"after": outcome.after, **loads, "reps": outcome.reps, "at": outcome.at,
                "sets": outcome.sets, "length": str(outcome.length) if outcome.length else None,
                "more": None if outcome.more is None else self.mass(outcome.more, 3),
                "more_share": _number(outcome.more_share, 4)}  # fmt: skip

    def lesson(self, lesson: Lesson) -> Json:
        return {
            "left": _number(lesson.left),
            "back_off": self.load(lesson.off),
            "next_top": self.load(lesson.following),
        }

    def set_(self, planned: PlannedSet) -> Json:
        return {
            "role": str(planned.role),
            "reps": planned.reps,
            "most_reps": planned.most_reps,
            "open_ended": planned.open_ended,
            "seconds": planned.seconds,
            "metres": planned.metres,
            "rir": _number(planned.rir),
            "reserve": None if planned.reserve is None else self.reserve(planned.reserve),
            "reach": None if planned.reach is None else self.mass(planned.reach),
            "held": planned.held,
            "share": _number(planned.share, 4),
            "target": None if planned.target is None else self.mass(planned.target),
            "load": self.load(planned.rung),
            "unit": str(self.unit),
            "side": [[label, count] for label, count in planned.rung.side] if planned.rung else [],
            "bracket": [self.load(rung) for rung in planned.bracket] if planned.bracket else None,
            "rest": planned.rest,
            "milestone": planned.milestone,
            "record_mark": self.mark(planned.mark) if planned.mark else None,
            "why": [self.reason(reason) for reason in planned.why],
        }

    def reserve(self, reserve: Reserve) -> Json:
        return {"reps": _number(reserve.reps), "exact": _number(reserve.exact, 1), "least": reserve.least}

    def expected(self, expected: Expected) -> Json:
        return {
            "about": self.mass(expected.about),
            "low": self.mass(expected.low),
            "high": self.mass(expected.high),
        }

    def mark(self, mark: RecordMark) -> Json:
        beats = mark.beats
        return {
            "reps": mark.reps,
            "basis": mark.basis,
            "beats": {
                "load": self.mass(beats.load),
                "reps": beats.reps,
                "date": beats.on.isoformat() if beats.on else None,
            },
        }

    def reason(self, reason: Reason) -> Json:
        facts = {name: _fact(value) for name, value in reason.facts}
        return {"step": reason.step, "text": reason_sentence(self.words, reason), "facts": facts}

    def load(self, rung: Rung | None) -> str | None:
        return None if rung is None else self.mass(rung.mass, 3)

    def mass(self, kg: Decimal, places: int = 2) -> str:
        """A mass in the client's unit; one that is exact in fewer places keeps them."""
        return plain(to_places(in_unit(kg, self.unit), places))


def _number(value: Decimal | None, places: int = 2) -> float | int | None:
    if value is None:
        return None
    rounded = to_places(value, places)
    return int(rounded) if rounded == rounded.to_integral_value() else float(rounded)


def _text(value: Decimal | None) -> str | None:
    return None if value is None else plain(value)


def _fact(value: object) -> object:
    """Facts keep the plan's own units: kg for `*_kg`, fractions for shares."""
    if isinstance(value, Decimal):
        return plain(to_places(value, 6))
    return value.isoformat() if isinstance(value, date) else value
