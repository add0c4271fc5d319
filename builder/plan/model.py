"""The frozen values of a plan; masses are kg as Decimal, shares fractions, times seconds unless a name says minutes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from builder.given import Block, ChangeMade, Client, Equipment, LoggedSet, Movement, Pattern, TestedSet
from builder.training.attempts import AttemptPlan
from builder.training.curve import Curve
from builder.training.effort import HALF_A_REP
from builder.training.estimate import Equation, Evidence, Rows, Spread
from builder.training.expected import Belief, Expected, Reserve, expected
from builder.training.loading import Ladder, Rung
from builder.training.records import Performance, RecordMark
from builder.training.volume import VolumeSummary
from builder.values.measure import Length
from builder.values.quantity import OnBar, Unit, WithBody, on_bar, with_body

Fact = Decimal | int | str | date


@dataclass(frozen=True, slots=True)
class Reason:
    """One step of the way to a load. Facts named `*_kg` are masses, `*_share` shares; the words are elsewhere."""

    step: str
    facts: tuple[tuple[str, Fact], ...] = ()


def because(step: str, **facts: Fact) -> Reason:
    """A reason with its facts in the order given."""
    return Reason(step, tuple(facts.items()))


# As `plan.deload` and `plan.pauses` name them.
LIGHTER = ("deload", "taper", "re-entry-load")
"""The steps that make a set lighter than its exposure is in training."""


class Role(StrEnum):
    """What a set is for."""

    RAMP = "ramp"
    WORKING = "working"
    BACKOFF = "backoff"
    HOLD = "hold"
    ATTEMPT = "attempt"


class WeekKind(StrEnum):
    """What a week is for."""

    TRAINING = "training"
    DELOAD = "deload"
    TAPER = "taper"
    TEST = "test"


@dataclass(frozen=True, slots=True)
class PlannedSet:
    """One set. Without a `rung` the lifter finds the load by the reps in reserve.

    `share` is of the working max; of the estimated max for holds and attempts, of the first working set for ramps.
    `rir` is what the coach aims at, `reserve` what the load leaves by the expected max of the day and `reach` the
    heaviest load (kg) that may be planned for these reps; both None where nothing is known of the lift.
    """

    role: Role
    reps: int
    rir: Decimal | None = None
    share: Decimal | None = None
    target: OnBar | None = None
    rung: Rung | None = None
    rest: int = 0
    seconds: int | None = None
    metres: int | None = None
    most_reps: int | None = None
    open_ended: bool = False
    bracket: tuple[Rung, Rung] | None = None
    mark: RecordMark | None = None
    milestone: bool = False
    why: tuple[Reason, ...] = ()
    reserve: Reserve | None = None
    reach: Decimal | None = None

    @property
    def length(self) -> Length | None:
        """The time or distance that the set is counted in, a hold too; None where it is reps."""
        if self.seconds is not None:
            return Length(self.seconds, self.seconds, "s")
        return None if self.metres is None else Length(self.metres, self.metres, "m")

    @property
    def held(self) -> bool:
        """Whether the rule asks for more than may be planned."""
        # The steps here and below are those that `plan.held` gives.
        return self.eased or self._says("held", "held-reps")

    @property
    def eased(self) -> bool:
        """Whether it is held so that reps stay in reserve, for whom failure is no option."""
        return self._says("held-easier", "held-easier-reps")

    @property
    def kept(self) -> bool:
        """Whether the load or the reps are not the rule's own: beyond reach, or the next load is too far away."""
        return self.cut or self._says("reps-instead")

    @property
    def cut(self) -> bool:
        """Whether the load is less than the rule's own, or its reps are."""
        return self.held or self._says("next-too-far")

    def _says(self, *words: str) -> bool:
        """Whether one of these steps led to the set; what came before a deload and the like was of another week."""
        said = False
        # Asked of the reasons and not of flags beside them: what a page claims is then what its reasons say.
        for reason in self.why:
            said = reason.step not in LIGHTER and (said or reason.step in words)
        return said

    @property
    def aimed(self) -> bool:
        """Whether the reserve to print is the coach's own: it decides over the load, or the load leaves it."""
        if self.rir is None:
            return False
        if self.rung is None or self.bracket is not None or self.open_ended:
            return True
        # Half a rep is the step in which pages tell a reserve.
        return self.reserve is not None and abs(self.reserve.exact - self.rir) <= HALF_A_REP

    @property
    def left(self) -> Decimal | None:
        """The reps in reserve to print: the coach's aim, or what the load is likely to leave; None where unknown."""
        if self.aimed:
            return self.rir
        return None if self.reserve is None else self.reserve.reps


@dataclass(frozen=True, slots=True)
class PinStep:
    """Where the pins stand for this exposure: the hole where the rack is known, and centimetres from the floor."""

    hole: int | None
    centimetres: Decimal | None


@dataclass(frozen=True, slots=True)
class Outcome:
    """One row of a slot's decision table: what happened (a stable code) and the load of the next exposure.

    For back-off sets it is the load of the same day, after a top set with the load `top`. In a range of reps, `at` is
    its top, which every set must reach for the load to rise. `sets` and `length` are those of next time, where they
    change. Where the lifter finds the load, `more` (kg) or `more_share` is what it rises by.
    """

    after: str
    rung: Rung | None
    reps: int | None = None
    top: Rung | None = None
    at: int | None = None
    sets: int | None = None
    length: Length | None = None
    more: Decimal | None = None
    more_share: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a top set that left so many reps (None: missed) says: the back-offs of today, the top set of next time."""

    left: Decimal | None
    off: Rung | None
    following: Rung | None


@dataclass(frozen=True, slots=True)
class PlannedSlot:
    """One line of a session. `lift` is the tested lift that the load comes from, None when found by feel.

    `belief` is what is believed of the movement on the day; None where nothing is known of it.
    `changed` is what this client does otherwise than the block has it; `zone` says how hard conditioning is.
    """

    movement: str
    about: Movement
    kind: str
    sets: tuple[PlannedSet, ...]
    implement: str
    per_hand: bool = False
    lift: str | None = None
    drill: str | None = None
    exposure: int = 1
    tempo: str | None = None
    cues: tuple[str, ...] = ()
    superset: str | None = None
    stress: str | None = None
    estimated: bool = False
    accessory: bool = False
    replaces: str | None = None
    replaced_for: str | None = None
    belief: Belief | None = None
    pin: PinStep | None = None
    outcomes: tuple[Outcome, ...] = ()
    lessons: tuple[Lesson, ...] = ()
    attempts: AttemptPlan | None = None
    notes: tuple[Reason, ...] = ()
    changed: tuple[ChangeMade, ...] = ()
    zone: str | None = None

    @property
    def expected(self) -> Expected | None:
        """The max of the movement on the day; None where nothing is known of it."""
        return None if self.belief is None else expected(self.belief)

    @property
    def unloaded(self) -> bool:
        """Whether it is the body alone, so that there is no load to speak of."""
        return self.about.equipment is Equipment.BODYWEIGHT and all(one.rung is None for one in self.work)

    @property
    def conditioning(self) -> bool:
        """Whether it is conditioning, which is no lifting."""
        return self.about.pattern is Pattern.CONDITIONING

    @property
    def ramp(self) -> tuple[PlannedSet, ...]:
        """The warm-up sets."""
        return tuple(s for s in self.sets if s.role is Role.RAMP)

    @property
    def work(self) -> tuple[PlannedSet, ...]:
        """Every set that is not a warm-up."""
        return tuple(s for s in self.sets if s.role is not Role.RAMP)


@dataclass(frozen=True, slots=True)
class PlannedSession:
    """One training day; `day` counts the sessions of the week from 1."""

    week: int
    day: int
    on: date
    title: str
    minutes: int
    slots: tuple[PlannedSlot, ...]
    note: str | None = None

    @property
    def milestone(self) -> bool:
        """Whether a set of the day is planned at or near a record."""
        return any(s.milestone for slot in self.slots for s in slot.sets)


@dataclass(frozen=True, slots=True)
class PlannedWeek:
    """One week with its sessions and what they add up to, by movement and by movement pattern."""

    number: int
    kind: WeekKind
    starts: date
    phase: str | None
    sessions: tuple[PlannedSession, ...]
    by_movement: tuple[tuple[str, VolumeSummary], ...]
    by_pattern: tuple[tuple[str, VolumeSummary], ...]
    total: VolumeSummary


@dataclass(frozen=True, slots=True)
class TestValue:
    """A tested set and what it is worth; a missed or refused one has no estimate."""

    test: TestedSet
    load: WithBody
    estimate: WithBody | None
    spread: Spread | None
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class LiftNumbers:
    """All that follows from the tests of one lift. `chosen` is the test that the numbers stand on.

    `belief` is what all that was shown says together, `expected` the max that it gives on the first day of the block.

    Masses count the bodyweight that the movement lifts (`own`, kg), which its ladder's rungs do not.
    """

    movement: str
    about: Movement
    tests: tuple[TestValue, ...]
    chosen: TestValue
    equation: Equation
    estimate: WithBody
    spread: Spread
    working_share: Decimal
    working_max: WithBody
    performances: tuple[Performance, ...]
    logged: tuple[LoggedSet, ...]
    best_by_reps: tuple[tuple[int, Performance], ...]
    handled: Decimal
    held: Decimal | None
    own: Decimal
    ladder: Ladder
    belief: Belief
    curve: Curve
    expected: Expected

    def whole(self, load: OnBar) -> WithBody:
        """All that is lifted with a load."""
        return with_body(load, self.own)

    def load_of(self, whole: WithBody) -> OnBar:
        """What of all that is lifted is loaded."""
        return on_bar(whole, self.own)


@dataclass(frozen=True, slots=True)
class Plan:
    """One client's block, complete. `cautions` are stable codes such as "minor" or "no-safeties".

    `changes` is what is otherwise than in the shared block, for this client alone.
    """

    client: Client
    block: Block
    unit: Unit
    rows: Rows
    lifts: tuple[LiftNumbers, ...]
    weeks: tuple[PlannedWeek, ...]
    cautions: tuple[str, ...]
    notes: tuple[Reason, ...]
    changes: tuple[ChangeMade, ...] = ()

    def lift(self, movement: str | None) -> LiftNumbers | None:
        """The numbers of a tested lift, None for any other movement."""
        return next((numbers for numbers in self.lifts if numbers.movement == movement), None)

    def sessions(self) -> tuple[PlannedSession, ...]:
        """Every session in order of date."""
        return tuple(session for week in self.weeks for session in week.sessions)
