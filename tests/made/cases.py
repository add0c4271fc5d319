"""A pool of made-up clients with blocks, drawn once and planned once, that every invariant is held against.

`LOADLEAF_EXAMPLES=2000 LOADLEAF_SEED=7 pytest tests/invariants` tries more of them, and others.
"""

from __future__ import annotations

import inspect
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache, wraps

from hypothesis import HealthCheck, Phase, given, seed, settings
from kept import once_a_run
from made.blocks import made
from made.masses import Data, Made
from sources_for_tests import assembled

from builder.given import Sources
from builder.pages.explain import plan_json
from builder.plan import Plan, PlannedSession, PlannedSet, PlannedSlot, PlannedWeek, make_plan
from builder.values.problem import Problem
from builder.work.texts import load_words

FIRST = (
    ("single", "kettlebell swing"), ("double", "goblet squat"), ("wave", "back squat"), ("top_set", "pull-up"),
    ("step", "leg press"), ("volume", "bench press"), ("rep_out", "deadlift"), ("hold", ""), ("pins", ""),
)  # fmt: skip
"""What the pool has as many cases of as of each other; all else is drawn."""
USUAL = 117
COUNT = int(os.environ.get("LOADLEAF_EXAMPLES", USUAL))
SEED = int(os.environ.get("LOADLEAF_SEED", "0"))


@dataclass(frozen=True, eq=False)
class Case:
    """A client and a block, and what comes of them; each stage is worked out once."""

    made: Made

    @property
    def profile(self) -> Data:
        """The client as data."""
        return self.made.profile

    @property
    def block(self) -> Data:
        """The block as data."""
        return self.made.block

    @cached_property
    def _read(self) -> tuple[Sources, tuple[Problem, ...]]:
        return assembled(*self.made.texts)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What intake has against them."""
        return self._read[1]

    @property
    def sources(self) -> Sources:
        """The typed files."""
        assert not self.problems
        return self._read[0]

    @cached_property
    def plan(self) -> Plan:
        """The plan, by way of the YAML."""
        return make_plan(self.sources)

    @cached_property
    def json(self) -> Data:
        """The plan as `explain --json` prints it."""
        return plan_json(self.plan, load_words("en", self.plan.unit))

    @cached_property
    def rules(self) -> dict[str, Data]:
        """Each slot of the block by its cue, which the plan hands on."""
        return {slot["cues"][0]: slot for day in self.block["days"] for slot in day["slots"]}

    def rule(self, slot: PlannedSlot) -> Data | None:
        """The slot of the block that a planned one comes from; None for a replacement, which has its own cues."""
        return self.rules.get(slot.cues[0]) if slot.cues else None

    def slots(self) -> Iterator[tuple[PlannedWeek, PlannedSession, PlannedSlot]]:
        """Every slot of the plan with its week and session."""
        for week in self.plan.weeks:
            for session in week.sessions:
                yield from ((week, session, slot) for slot in session.slots)

    def sets(self) -> Iterator[tuple[PlannedSlot, PlannedSet]]:
        """Every set of the plan with its slot."""
        yield from ((slot, planned) for _, _, slot in self.slots() for planned in slot.sets)


@lru_cache(maxsize=1)
def drawn() -> tuple[Case, ...]:
    """The pool, sound or not."""
    return tuple(map(Case, _pool()))


@once_a_run
def _pool() -> tuple[Made, ...]:
    found: list[Made] = []

    for kind, movement in FIRST:
        _draw(kind, movement, found)
    return tuple(found)


def _draw(kind: str, movement: str, found: list[Made]) -> None:
    """Adds what is made up from one beginning."""

    @seed(SEED)
    @settings(
        max_examples=max(COUNT // len(FIRST), 1), database=None, phases=[Phase.generate], derandomize=False,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(made(kind, movement))
    def collect(one: Made) -> None:
        found.append(one)

    collect()


def for_each_case(check: Callable[[Case], None]) -> Callable[[], None]:
    """Runs a test on every case that intake takes; one that fails shows its files."""
    return _over(check, 1)


def for_some_cases(check: Callable[[Case], None]) -> Callable[[], None]:
    """The same on every third case, for tests that read the files anew."""
    return _over(check, 3)


def _over(check: Callable[[Case], None], every: int) -> Callable[[], None]:
    @wraps(check)
    def run() -> None:
        for case in drawn()[::every]:
            if case.problems:
                continue
            try:
                check(case)
            except BaseException as fault:
                fault.add_note("\n---\n".join(case.made.texts))
                raise

    run.__signature__ = inspect.Signature()  # type: ignore[attr-defined]
    return run
