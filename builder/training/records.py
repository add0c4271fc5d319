"""Records: what a lifter has done, what would beat it, and by how much.

Why two rules. `record_mark` says which set of a log beat what, by estimates that count the judged reserve. `goal_mark`
says what a page may ask a lifter to go for, and counts only the reps that were done: what was thought to be left is off
by about a rep near failure, and by more far from it (see `variation.judged_reps`).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Literal

from builder.training.estimate import MOST_REPS, NSCA_ROWS, Equation, Rows, estimate
from builder.values.quantity import WithBody


@dataclass(frozen=True, slots=True)
class Performance:
    """One set that was really done: load in kg, reps, reps in reserve, when, and where it is written down."""

    load: WithBody
    reps: int
    rir: Decimal
    on: date | None
    source: str


@dataclass(frozen=True, slots=True)
class RecordMark:
    """The least reps at some load that make a record, on which basis, and the performance that falls.

    `margin` is the estimated max at the mark less the best estimate, in kg: above zero on the basis
    "estimate", of either sign on the basis "load", None when there is no estimate on one side.
    """

    reps: int
    basis: Literal["estimate", "load"]
    beats: Performance
    margin: Decimal | None


def best_by_reps(
    performances: Sequence[Performance], most: int = MOST_REPS
) -> tuple[tuple[int, Performance], ...]:
    """For each count from 1 to the most reps done (at most `most`): the heaviest set of at least that many.

    Of equal loads the one with more reps, then with more in reserve, then the first given.
    """
    # A longer set counts for fewer reps too: who did five with a load did three with it.
    longest = max((done.reps for done in performances), default=0)
    return tuple(
        (reps, max((done for done in performances if done.reps >= reps), key=_weight))
        for reps in range(1, min(longest, most) + 1)
    )


Best = tuple[Decimal, Performance]
"""An estimated max (kg) and the set that it comes from."""


def best_estimate(
    performances: Sequence[Performance], equation: Equation, rows: Rows = NSCA_ROWS
) -> Best | None:
    """The highest estimated max (kg) and the set it comes from (of equals, the first given).

    Sets of more than 15 reps to failure are passed over; None when no other is left.
    """
    estimates = [
        (estimate(done.load, done.reps, done.rir, equation, rows), done)
        for done in performances
        if done.reps + done.rir <= MOST_REPS
    ]
    return max(estimates, key=lambda pair: pair[0], default=None)


def record_mark(
    load: WithBody,
    performances: Sequence[Performance],
    equation: Equation,
    most: int = MOST_REPS,
    rows: Rows = NSCA_ROWS,
) -> RecordMark | None:
    """The least reps with `load` kg that beat the best estimate, or the best at that load outright.

    Outright means more reps than any set with at least that load; one rep when there is no such set. The
    basis that needs fewer reps counts, on a tie the estimate. None when there is nothing to beat or more than
    `most` reps are needed.
    """
    if not performances:
        return None
    best = best_estimate(performances, equation, rows)
    by_load, falls = _outright(load, performances)
    if best is not None:
        by_estimate = _reps_beyond(best[0], load, equation, rows)
        if by_estimate is not None and by_estimate <= min(by_load, most):
            margin = _margin(load, by_estimate, best[0], equation, rows)
            return RecordMark(by_estimate, "estimate", best[1], margin)
    if by_load > most:
        return None
    margin = None if best is None else _margin(load, by_load, best[0], equation, rows)
    return RecordMark(by_load, "load", falls, margin)


NEAR_FAILURE = Decimal(2)
"""A set with no more left than this was near failure."""
FEWER_AT_MOST = 2
"""So many reps may a record at the load lack to one by estimate, and be worth going for; common practice, no source."""


def best_demonstrated(
    performances: Sequence[Performance], equation: Equation, rows: Rows = NSCA_ROWS
) -> Best | None:
    """The best of the reps that were done: what a lifter thought was left proves nothing."""
    return best_estimate([replace(done, rir=Decimal(0)) for done in performances], equation, rows)


def goal_mark(
    load: WithBody,
    performances: Sequence[Performance],
    equation: Equation,
    rows: Rows = NSCA_ROWS,
    best: Best | None = None,
) -> RecordMark | None:
    """The least reps with `load` kg that are worth going for: they beat the `best_demonstrated` (`best` where known).

    More reps than a set near failure of at least that load count too, where they are nearly as good. None when there is
    nothing to beat.
    """
    best = best or best_demonstrated(performances, equation, rows)
    by_estimate = None if best is None else _reps_beyond(best[0], load, equation, rows)
    if best is None or by_estimate is None:
        return None
    # Only sets near failure: one more rep than in an easy set is no feat.
    hard = [done for done in performances if done.load >= load and done.rir <= NEAR_FAILURE]
    if hard:
        by_load, falls = _outright(load, hard)
        # More reps than an easy set has had already: at that load those were done, however much was left.
        outright = max(by_load, 1 + max(done.reps for done in performances if done.load >= load))
        if by_estimate - FEWER_AT_MOST <= outright == by_load < by_estimate:
            return RecordMark(by_load, "load", falls, _margin(load, by_load, best[0], equation, rows))
    return RecordMark(by_estimate, "estimate", best[1], _margin(load, by_estimate, best[0], equation, rows))


def _weight(done: Performance) -> tuple[Decimal, int, Decimal]:
    return done.load, done.reps, done.rir


def _outright(load: WithBody, performances: Sequence[Performance]) -> tuple[int, Performance]:
    as_heavy = [done for done in performances if done.load >= load]
    if not as_heavy:
        return 1, max(performances, key=_weight)
    longest = max(as_heavy, key=lambda done: (done.reps, done.load))
    return longest.reps + 1, longest


def _reps_beyond(best: Decimal, load: WithBody, equation: Equation, rows: Rows) -> int | None:
    counts = range(1, MOST_REPS + 1)
    # More, not as much: to equal a best is no record.
    return next((reps for reps in counts if estimate(load, reps, 0, equation, rows) > best), None)


def _margin(load: WithBody, reps: int, best: Decimal, equation: Equation, rows: Rows) -> Decimal | None:
    if reps > MOST_REPS:
        return None
    return estimate(load, reps, 0, equation, rows) - best
