"""Typed sources and plans from short YAML texts, without files, for a lifter whose loads can be worked by hand."""

from __future__ import annotations

from decimal import Decimal

from builder.given import Sources
from builder.intake import cross_check
from builder.intake.compose import compose
from builder.intake.load import assemble
from builder.intake.merge import merged
from builder.plan import Plan, PlannedSession, PlannedSet, PlannedSlot, make_plan
from builder.values.nodes import Mapping
from builder.values.problem import Problem, in_order
from builder.values.quantity import in_unit, plain, to_places

HEAD = "format: 1\n"
IDENTITY = "client: {name: Quill, units: kg, bodyweight: 80, born: 1990}\n"
TRAINING = (
    "training: {status: intermediate, months: 24, days: [mon, wed, fri], session_minutes: 90, starts: 2027-01-04}\n"
)
TABLE = "equation: table\n"
LIFTS = """lifts:
  back squat: {tests: [{date: 2026-12-19, load: 200, reps: 1}]}
  bench press: {tests: [{date: 2026-12-19, load: 100, reps: 1}]}
"""
GYM = (
    "gym: {bars: {bar: 20}, pairs: {25: 6, 20: 1, 15: 1, 10: 1, 5: 1, 2.5: 1, 1.25: 1}, "
    "safeties: true, spotter: always}\n"
)
SCREENED = "screening: {answered: 2027-01-01}\n"
CLIENT = HEAD + IDENTITY + TRAINING + TABLE + LIFTS + GYM + SCREENED
"""Squats 200 kg and benches 100 kg as true singles, so that both are the max; the handbook table turns effort into
shares (5 reps to failure 87 %, 6 85 %, 7 83 %, 10 75 %: Haff & Triplett 2016, table 17.7); the bar goes by 2.5 kg."""


def client(**parts: str) -> str:
    """The usual profile with some of its sections (`gym`, `lifts`, …) written otherwise; "" leaves one out."""
    usual = {
        "client": IDENTITY, "training": TRAINING, "equation": TABLE, "lifts": LIFTS, "gym": GYM,
        "screening": SCREENED,
    }  # fmt: skip
    return HEAD + "".join((usual | parts).values())


def block(*slots: str, weeks: int = 4, head: str = "", after: str = "") -> str:
    """A block of one day a week with these slots, each the inside of a flow mapping."""
    lines = [f"block: {{title: A block, weeks: {weeks}, suits: [intermediate]{', ' if head else ''}{head}}}"]
    lines += ["days:", "  - title: The day", "    slots:", *(f"      - {{{slot}}}" for slot in slots)]
    return HEAD + "\n".join(lines) + "\n" + after


def squat(progression: str, **other: str) -> str:
    """A slot of back squats with a progression, and other keys."""
    return ", ".join(
        ["movement: back squat", f"progression: {{{progression}}}", *(f"{k}: {v}" for k, v in other.items())]
    )


def tree(*texts: str) -> Mapping:
    """The merged tree of texts that are sound YAML."""
    trees = []
    for number, text in enumerate(texts, 1):
        composed, problems = compose(text, f"file-{number}.yaml")
        assert not problems, problems[0].as_text()
        assert isinstance(composed, Mapping)
        trees.append(composed)
    return merged(trees)


def assembled(*texts: str) -> tuple[Sources, tuple[Problem, ...]]:
    """Typed sources of texts that are sound YAML, with every problem in order."""
    made, problems = assemble(tree(*texts))
    return made, in_order((*problems, *(() if problems else cross_check(made))))


def sources(*texts: str) -> Sources:
    """Typed sources of texts that have no problem."""
    made, problems = assembled(*texts)
    assert not problems, "\n".join(problem.as_text() for problem in problems)
    return made


def problems_of(*texts: str) -> tuple[Problem, ...]:
    """Every problem of texts that are sound YAML, in order."""
    return assembled(*texts)[1]


def codes(*texts: str) -> list[str]:
    """The codes of `problems_of`."""
    return [problem.code for problem in problems_of(*texts)]


def plan(*texts: str) -> Plan:
    """The plan of texts that have no problem."""
    return make_plan(sources(*texts))


def plan_of(*slots: str, weeks: int = 4, head: str = "") -> Plan:
    """The usual lifter's plan of a block of one day a week with these slots."""
    return plan(CLIENT, block(*slots, weeks=weeks, head=head))


def slot_in(made: Plan, week: int, place: int = 0, session: int = 0) -> PlannedSlot:
    """A slot of a week (from 1), by its place in a session."""
    return made.weeks[week - 1].sessions[session].slots[place]


def first_slots(made: Plan) -> list[PlannedSlot]:
    """The first slot of each session that has one, in order of date."""
    return [session.slots[0] for session in made.sessions() if session.slots]


def mass(planned: PlannedSet, made: Plan | None = None) -> str:
    """The load of a set as written, in kg or in the plan's unit; "-" without one."""
    if planned.rung is None:
        return "-"
    return plain(to_places(in_unit(planned.rung.mass, made.unit), 4) if made else planned.rung.mass)


def written(slot: PlannedSlot) -> str:
    """The working sets in short: `3 x 5 x 170 @1`, one such group for each run of equal sets."""
    groups: list[tuple[int, str]] = []
    for planned in slot.work:
        rir = "" if planned.rir is None else f" @{plain(planned.rir)}"
        text = f"{planned.reps} x {mass(planned)}{rir}"
        if groups and groups[-1][1] == text:
            groups[-1] = (groups[-1][0] + 1, text)
        else:
            groups.append((1, text))
    return ", ".join(f"{count} x {text}" for count, text in groups)


def loads(made: Plan, place: int = 0) -> list[str]:
    """The load of the first working set of a slot, session by session."""
    return [mass(session.slots[place].work[0]) for session in made.sessions() if len(session.slots) > place]


def steps(planned: PlannedSet) -> list[str]:
    """The names of the reasons of a set, in order."""
    return [reason.step for reason in planned.why]


def fact(planned: PlannedSet, step: str, name: str) -> object:
    """A fact of a set's reason."""
    return dict(next(reason for reason in planned.why if reason.step == step).facts)[name]


def tonnage(session: PlannedSession) -> Decimal:
    """Kilograms times reps over the working sets, holds left out."""
    return sum(
        (s.rung.mass * s.reps for slot in session.slots for s in slot.work if s.rung and s.seconds is None), Decimal(0)
    )
