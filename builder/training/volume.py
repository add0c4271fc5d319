"""Volume and intensity: sets, lifts, tonnage and mean share of the max, by movement and by pattern."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal

from builder.training.estimate import FORMULA_CONTEXT


@dataclass(frozen=True, slots=True)
class SetLoad:
    """What volume needs to know of one planned or logged set.

    `load` is in kg, None when nothing is weighed; `share` is a fraction of the max, None when there is none;
    `working` is false for warm-ups and for conditioning. What is counted in `seconds` or `metres` has no reps, and so
    no part in the tonnage.
    """

    pattern: str
    movement: str
    load: Decimal | None
    reps: int
    share: Decimal | None
    working: bool
    seconds: int = 0
    metres: int = 0


@dataclass(frozen=True, slots=True)
class VolumeSummary:
    """Working sets, reps, tonnage (kg x reps) and mean intensity (share of the max, None when unknown).

    `seconds` and `metres` count apart what is done for time or distance, conditioning too.
    """

    sets: int
    reps: int
    tonnage: Decimal
    intensity: Decimal | None
    seconds: int = 0
    metres: int = 0


def sets(loads: Iterable[SetLoad]) -> int:
    """The number of working sets."""
    return sum(1 for done in loads if done.working)


def lifts(loads: Iterable[SetLoad]) -> int:
    """The number of reps in working sets."""
    return sum(done.reps for done in loads if done.working)


def tonnage(loads: Iterable[SetLoad]) -> Decimal:
    """Load times reps over working sets, in kg; a set without a load adds nothing."""
    # In a context of its own: the sums of a plan must not hang on the precision of whoever asks for it.
    total, add, times = Decimal(0), FORMULA_CONTEXT.add, FORMULA_CONTEXT.multiply
    for done in loads:
        if done.working and done.load is not None:
            total = add(total, times(done.load, done.reps))
    return total


def average_intensity(loads: Iterable[SetLoad]) -> Decimal | None:
    """Mean share of the max over working sets that have one, each rep counting once; None without any."""
    total, reps, add, times = Decimal(0), 0, FORMULA_CONTEXT.add, FORMULA_CONTEXT.multiply
    for done in loads:
        if done.working and done.share is not None:
            total, reps = add(total, times(done.share, done.reps)), reps + done.reps
    return FORMULA_CONTEXT.divide(total, reps) if reps else None


def summary(loads: Iterable[SetLoad]) -> VolumeSummary:
    """All figures; the first four over the working sets."""
    done = tuple(loads)
    lengths = sum(one.seconds for one in done), sum(one.metres for one in done)
    return VolumeSummary(sets(done), lifts(done), tonnage(done), average_intensity(done), *lengths)


def by_pattern(loads: Iterable[SetLoad]) -> tuple[tuple[str, VolumeSummary], ...]:
    """(movement pattern, its summary) for each pattern with a working set, in order of first appearance."""
    return _grouped(loads, lambda done: done.pattern)


def by_movement(loads: Iterable[SetLoad]) -> tuple[tuple[str, VolumeSummary], ...]:
    """(movement, its summary) for each movement with a working set, in order of first appearance."""
    return _grouped(loads, lambda done: done.movement)


def _grouped(
    loads: Iterable[SetLoad], name: Callable[[SetLoad], str]
) -> tuple[tuple[str, VolumeSummary], ...]:
    groups: dict[str, list[SetLoad]] = {}
    for done in loads:
        if done.working:
            groups.setdefault(name(done), []).append(done)
    return tuple((group, summary(members)) for group, members in groups.items())
