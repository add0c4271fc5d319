"""A lifter's tendency in judging reserve: who holds back in one lift is likely to do so in the next, but not surely.

The bias of each lift is the person's tendency and a part of its own; the sets of one lift tell of the tendency as
surely as they tell of its own bias, less that part. What the other lifts say so takes the place of the prior of a lift
that has shown little itself, and hardly moves one that has shown much. The order of the lifts changes nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

from builder.training.expected import Belief, leant
from builder.training.variation import JUDGE_SPREAD, PERSONS_PART

BIASES = JUDGE_SPREAD**2
PERSON, OWN = BIASES * PERSONS_PART, BIASES * (1 - PERSONS_PART)
"""Variances: of the tendency between people, and of a lift around the tendency of its lifter."""
HEARD = 0.3
"""How much of what a lift says counts for the others: a bias that was learned from sets with several left is less sure
than the straight model has it. In simulation this much betters the bias of a lift with a short log by 7 to 9 % and
misses its max by 1 to 3 % more; all of it would make the max worse by more than it betters the bias."""


def shared(beliefs: Sequence[Belief]) -> tuple[Belief, ...]:
    """The beliefs of one lifter's lifts, each with what the others say of his tendency."""
    told = [_told(belief) for belief in beliefs]
    sure, sum_ = 1 / PERSON + sum(weight for weight, _ in told), sum(said for _, said in told)
    return tuple(
        _leant(belief, sure - weight, sum_ - said) for belief, (weight, said) in zip(beliefs, told, strict=True)
    )


def _told(belief: Belief) -> tuple[float, float]:
    """What a lift says of the tendency: how surely (one through the variance), and that times how much."""
    variance = belief.doubt[2][2]
    # Only what it has learned: the prior that each lift began with is no word of its own, and would count once a lift.
    shown = HEARD * max(1 / variance - 1 / BIASES, 0.0)
    blurred = 1 + shown * OWN
    return shown / blurred, HEARD * belief.bias / variance / blurred


def _leant(belief: Belief, sure: float, sum_: float) -> Belief:
    """A belief whose prior bias is the tendency that others show, in place of none."""
    # The new prior takes the place of the old one, which is part of the belief already and so is taken out.
    spread = 1 / sure + OWN
    more = 1 / spread - 1 / BIASES
    # Where the others have shown nothing, the prior stays; its variance would be without end here.
    return leant(belief, sum_ / sure / spread / more, 1 / more) if more > 1e-9 else belief
