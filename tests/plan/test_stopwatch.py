"""A session's minutes against a stopwatch that goes through the day in order, on every sample day and many made-up.

The watch is a model of its own: common practice, no source. The lifter has a general warm-up of six minutes. He takes
a minute to the next station and eight seconds to get ready for a set. He walks a metre a second with a load, and goes
two and a half in conditioning. A pair of plates takes ten seconds on or off, all of it while he rests if the rest is
long enough; in a superset it is a quarter of a minute from one movement to the next. What is left on a bar comes off
before he goes on. The watch stops after the last rep.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from itertools import pairwise

import pytest
from made.cases import Case, for_each_case
from test_samples import sources_of

from builder.plan import Plan, PlannedSession, PlannedSet, PlannedSlot, make_plan


@dataclass
class Stopwatch:
    """The clock of one session, in seconds, with what hangs on the bar at hand."""

    clock: float = 360
    resting_since: float = 0
    plates: Counter[str] = field(default_factory=Counter)

    def walk(self, slot: PlannedSlot) -> None:
        """To a slot's station, where its first load is put on."""
        self.clock += 60
        self.put_on(slot.sets[0])

    def put_on(self, one: PlannedSet) -> None:
        wanted = Counter(dict(one.rung.side if one.rung else ()))
        moved = (wanted - self.plates).total() + (self.plates - wanted).total()
        self.clock += 10 * moved
        self.plates = wanted

    def lift(self, slot: PlannedSlot, one: PlannedSet) -> None:
        self.clock += 8
        sides = 2 if slot.about.each_side else 1
        if one.seconds is not None:
            self.clock += one.seconds * (1 if slot.drill else sides)
            return
        if one.metres is not None:
            self.clock += one.metres * sides / (2.5 if slot.conditioning else 1)
            return
        tempo = [1 if beat == "X" else int(beat) for beat in slot.tempo.split("-")] if slot.tempo else None
        for _ in range(one.reps * sides):
            self.clock += sum(tempo) if tempo else float(slot.about.seconds_per_rep)

    def rest(self, seconds: int, following: PlannedSet | None) -> None:
        """The plates of the next set go on meanwhile."""
        ends = self.clock + seconds
        if following is not None:
            self.put_on(following)
        self.clock = max(self.clock, ends)

    def alone(self, slot: PlannedSlot) -> None:
        self.walk(slot)
        for one, following in zip(slot.sets, [*slot.sets[1:], None], strict=True):
            self.lift(slot, one)
            if following is not None:
                self.rest(one.rest, following)
        self.clear()

    def together(self, slots: list[PlannedSlot]) -> None:
        self.clock += 60
        loaded = []
        for slot in slots:
            self.put_on(slot.sets[0])
            for one, following in pairwise([*slot.ramp, slot.work[0]]):
                self.lift(slot, one)
                self.rest(one.rest, following)
            loaded.append(self.plates)
            self.plates = Counter()
        rounds = max(len(slot.work) for slot in slots)
        for turn in range(rounds):
            now = [slot for slot in slots if turn < len(slot.work)]
            for place, slot in enumerate(now):
                self.clock += 15 if place else 0
                self.lift(slot, slot.work[turn])
            if turn + 1 < rounds:
                self.clock += max(s.rest for slot in slots for s in slot.work)
        for plates in loaded:
            self.clock += 10 * plates.total()

    def clear(self) -> None:
        self.clock += 10 * self.plates.total()
        self.plates = Counter()


def _by_stopwatch(session: PlannedSession) -> float:
    watch, slots = Stopwatch(), list(session.slots)
    while slots:
        letter = slots[0].superset
        count = 1
        while letter and count < len(slots) and slots[count].superset == letter:
            count += 1
        group, slots = slots[:count], slots[count:]
        watch.together(group) if letter else watch.alone(group[0])
    return watch.clock / 60


def _off(plan: Plan) -> list[str]:
    return [
        f"{session.on}: {session.minutes} min, {_by_stopwatch(session):.1f} by the stopwatch"
        for session in plan.sessions()
        if not -0.1 < session.minutes / _by_stopwatch(session) - 1 < 0.1 + 1 / _by_stopwatch(session)
    ]


@pytest.mark.parametrize("lifter", ["novice", "intermediate", "advanced"])
def test_a_sample_day_takes_as_long_as_the_stopwatch_says(lifter: str) -> None:
    """Within a tenth, every session."""
    found = sources_of(lifter).sources
    assert found is not None
    assert _off(make_plan(found)) == []


@for_each_case
def test_a_made_up_day_takes_as_long_as_the_stopwatch_says(case: Case) -> None:
    """Within a tenth, every session of every case; a plan's minutes are rounded up to a whole one."""
    assert _off(case.plan) == []
