"""A sound plan as text, ways to lay something over it, and what a case of the design review holds."""

from __future__ import annotations

from dataclasses import dataclass

from builder.review import Check

CLIENT = """format: 1
client: {name: Quill, units: kg, bodyweight: 80, born: 1990}
training: {status: intermediate, months: 24, days: [mon, wed, fri], session_minutes: 90, starts: 2027-01-04}
equation: table
lifts:
  back squat: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}
  bench press: {tests: [{date: 2026-12-19, load: 100, reps: 1}]}
  deadlift: {tests: [{date: 2026-12-19, load: 240, reps: 1}]}
gym: {bars: {bar: 20}, pairs: {25: 6, 20: 1, 15: 1, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, safeties: true, spotter: always}
"""
BELLS = """format: 1
gym: {dumbbells: {from: 2, to: 40, step: 2}, stacks: {tower: {from: 5, to: 100, step: 5}}}
"""
SCREENED = "format: 1\nscreening: {answered: 2027-01-01}\n"
SQUAT = "movement: back squat, progression: {kind: single, sets: 3, reps: 5, start: 70 %, rir: 3, add: 5 kg}"
ROW = "movement: row from the floor, progression: {kind: double, sets: 3, reps: 6-8, start: 60 kg, add: 2.5 kg}"
BENCH = "movement: bench press, progression: {kind: single, sets: 3, reps: 5, start: 70 %, rir: 3, add: 2.5 kg}"
PAUSE = "movement: pause back squat, progression: {kind: single, sets: 3, reps: 4, start: 60 %, rir: 4, add: 5 kg}"
PULL = "movement: deadlift, progression: {kind: single, sets: 3, reps: 4, start: 70 %, rir: 3, add: 5 kg}"
PRESS = "movement: overhead press, progression: {kind: double, sets: 3, reps: 6-8, start: 30 kg, add: 2.5 kg}"
MON, WED, FRI = (SQUAT, ROW), (BENCH, PAUSE), (PULL, PRESS)


def days(*each: tuple[str, ...]) -> str:
    """The days of a block, each a few slots written as the inside of a flow mapping."""
    lines = ["days:"]
    for number, slots in enumerate(each, 1):
        lines += [f"  - title: Day {number}", "    slots:", *(f"      - {{{slot}}}" for slot in slots)]
    return "\n".join(lines) + "\n"


def monday(*slots: str) -> str:
    """The sound block with other slots on its first day."""
    return days(slots, WED, FRI)


def squats(progression: str, movement: str = "back squat", **other: str) -> str:
    """The sound block with another progression of its squat, and other keys of that slot."""
    more = "".join(f", {key}: {value}" for key, value in other.items())
    return monday(f"movement: {movement}, progression: {{{progression}}}{more}", ROW)


def presses(progression: str) -> str:
    """The sound block with another progression of its bench press."""
    return days(MON, (f"movement: bench press, progression: {{{progression}}}", PAUSE), FRI)


def pulls(progression: str) -> str:
    """The sound block with another progression of its deadlift."""
    return days(MON, WED, (f"movement: deadlift, progression: {{{progression}}}", PRESS))


def drill(kind: str, rest: str) -> str:
    """A drill on the back squat."""
    return f"drill: {kind}, of: back squat, progression: {{{rest}}}"


BLOCK = "format: 1\nblock: {title: Sound, weeks: 6, suits: [intermediate], deload: {every: 4}}\n" + days(MON, WED, FRI)
SOUND = (CLIENT, BLOCK, SCREENED)
TEST = "block: {test: {week: 6, lifts: [back squat]}}\n"
HELD = drill("walkout", "kind: hold, from: 100 %, to: 103 %")
TAPERED = "block: {test: {week: 6, lifts: [back squat]}, deload: {before_test: true"
SINGLE = "movement: back squat, progression: {kind: wave, weeks: [{share: 90 %, sets: 1, reps: 1}]}"
HEAVY = "kind: single, sets: 3, reps: 3, start: 86 %, rir: 1, add: 2.5 kg"
LIFT = "lifts: {{bench press: {{tests: [{{date: {}, load: {}, reps: {}, rir: {}}}]}}}}\n"


def bench_test(day: str = "2026-12-19", load: int = 100, reps: int = 1, rir: int = 0) -> str:
    """Another test of the bench press."""
    return LIFT.format(day, load, reps, rir)


@dataclass(frozen=True, slots=True)
class Case:
    """Laid over the sound plan `fires` gives a finding `code` that `says` something, `silent` gives none of it."""

    check: Check
    code: str
    fires: str
    says: str
    silent: str = ""
