"""The warm-up of a slot: how many sets it deserves after what the session has done already, and their loads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal

from builder.given import Equipment, Pattern, Slot
from builder.plan.basis import Basis
from builder.plan.ladders import Racks
from builder.plan.lengths import cut
from builder.plan.model import PlannedSet, Reason, Role, because
from builder.training.warmup import Begin, RampSet, hold_ramp, ramp

LIGHT_SHARE, LIGHT_RIR = Decimal("0.8"), Decimal(3)
"""Work below this share of the max, or with so many reps left, is reached in about two sets; common practice."""
FULL, LIGHT, WARM, FEELER = 5, 2, 2, 1
EMPTY_BAR_FREE = 3
"""Where light work is more than so many empty bars, a set with the empty bar comes on top."""
HALF = Decimal("0.5")

_TOGETHER = {
    Pattern.LUNGE: Pattern.SQUAT,
    Pattern.VERTICAL_PUSH: Pattern.HORIZONTAL_PUSH,
    Pattern.VERTICAL_PULL: Pattern.HORIZONTAL_PULL,
}
"""Patterns that warm each other; common practice, no source."""


@dataclass(slots=True)
class Warmth:
    """What has been lifted already in this session: the heaviest mass by tested lift, and the patterns trained."""

    heaviest: dict[str, Decimal] = field(default_factory=dict)
    patterns: set[Pattern] = field(default_factory=set)

    def holds(self, pattern: Pattern) -> bool:
        """Whether a slot of this pattern, or of one that warms it, has been done."""
        return _TOGETHER.get(pattern, pattern) in self.patterns

    def lifted(self, basis: Basis) -> Decimal:
        """The heaviest load (kg) of the same tested lift so far."""
        return self.heaviest.get(basis.numbers.movement, Decimal(0)) if basis.numbers else Decimal(0)

    def remember(self, sets: Iterable[PlannedSet], basis: Basis) -> None:
        """Notes the heaviest set of a slot; what was only held has moved nothing and warms no pattern."""
        moved = [s for s in sets if s.role is not Role.HOLD and s.length is None]
        if any(s.role is not Role.RAMP for s in moved):
            self.patterns.add(_TOGETHER.get(basis.about.pattern, basis.about.pattern))
        if basis.numbers is not None:
            loads = [s.rung.mass for s in moved if s.rung]
            self.heaviest[basis.numbers.movement] = max([self.lifted(basis), *loads])


def most_ramps(slot: Slot, work: tuple[PlannedSet, ...], basis: Basis, warmth: Warmth) -> int:
    """How many warm-up sets a slot deserves, a set with the empty bar included.

    Heavy work of a barbell lift ramps in full; light work in about two sets, and what is warm already in one less.
    Nothing but a tested barbell lift has more warm-up than work.
    """
    first = work[0]
    if basis.about.equipment is Equipment.BODYWEIGHT or first.rung is None or basis.ladder is None:
        return 0
    if slot.accessory:
        return 0 if warmth.holds(basis.about.pattern) else FEELER
    # It stands before the day's work and is the heaviest bar of it.
    if first.role is Role.HOLD:
        return FULL
    if first.length is not None:
        return FEELER
    warm, light = warmth.holds(basis.about.pattern), _light(first)
    if not basis.ladder.plated:
        return min(FEELER if warm else LIGHT, len(work))
    most = FEELER if warm and light else WARM if warm or light else FULL
    if light and not warm and not from_floor(basis) and first.rung.mass > basis.ladder.lightest.mass * EMPTY_BAR_FREE:
        most += 1
    # A split squat once had three sets of warm-up before two of work.
    return most if basis.numbers is not None else min(most, len(work))


def _light(first: PlannedSet) -> bool:
    """Whether the first working set is far from the max, or far from failure; of an unknown max only the reps tell."""
    if first.rir is not None and first.rir >= LIGHT_RIR:
        return True
    return first.share is None or first.share < LIGHT_SHARE


def ramp_sets(work: PlannedSet, basis: Basis, racks: Racks, warmth: Warmth, *, most: int) -> tuple[PlannedSet, ...]:
    """The warm-up to the first working set; what the session has lifted of the same lift already is not repeated."""
    if work.rung is None or basis.ladder is None or most == 0:
        return ()
    if work.role is Role.HOLD:
        steps = hold_ramp(work.rung.mass, basis.ladder, most_sets=most)
    else:
        # Without a full-size plate no load lies at its height: the work itself is then too near the work to begin with
        # (`training.warmup.FLOOR_AT_MOST`), and the ramp starts with smaller plates.
        floor = (racks.floor(basis.ladder) or work.rung.mass) if from_floor(basis) else None
        begin = Begin(floor, warmth.holds(basis.about.pattern), warmth.lifted(basis))
        steps = ramp(work.rung.mass, work.reps, basis.ladder, begin=begin, most_sets=most)
    return tuple(_ramp_set(step, work, basis) for step in steps)


def from_floor(basis: Basis) -> bool:
    """Whether the bar of a slot starts from the floor."""
    return basis.about.floor and basis.ladder is not None and basis.ladder.plated


def small_plates(sets: Iterable[PlannedSet], basis: Basis, racks: Racks) -> tuple[Reason, ...]:
    """A note where the bar of a lift from the floor would lie too low: no plate on it has the full diameter."""
    if not from_floor(basis):
        return ()
    full = racks.full_size()
    low = any(s.rung is not None and not full.intersection(label for label, _ in s.rung.side) for s in sets)
    return (because("small-plates"),) if low else ()


def _ramp_set(step: RampSet, work: PlannedSet, basis: Basis) -> PlannedSet:
    """One warm-up set; a carry is never warmed up with more lengths than it has, and a length with half of it."""
    assert work.rung is not None
    half = cut(work.length, HALF) if work.length and work.role is not Role.HOLD else None
    reps = min(step.reps, work.reps) if half or basis.about.pattern is Pattern.CARRY else step.reps
    return PlannedSet(
        Role.RAMP,
        reps,
        share=step.share,
        target=step.rung.mass,
        rung=step.rung,
        rest=step.rest_seconds,
        seconds=half if half and work.seconds else step.seconds,
        metres=half if half and work.metres else None,
        why=(because("ramp", of_work_share=step.share, work_kg=work.rung.mass),),
    )
