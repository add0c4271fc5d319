"""What reps cost in load, as logarithms: an equation as a row of floats, for formulas that ask it often.

Why not the equations themselves: they work in 34 decimal digits, and the expected max asks thousands of times in one
plan. Straight pieces of half a rep lie within a quarter of a percent of the max from them. And why logarithms: what a
set shows is a sum in them, of the max and of what the reps cost.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from math import log

from builder.training.estimate import MOST_REPS, NSCA_ROWS, Equation, Rows, share

STEP = 0.5


@dataclass(frozen=True, slots=True)
class Curve:
    """The logarithm of the share of the max at 1, 1.5, 2 … 15 reps to failure; straight between, and past both ends."""

    logs: tuple[float, ...]
    _falls: tuple[float, ...] = field(init=False, repr=False, compare=False)
    _rises: tuple[float, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        # Made once: shares fall with the reps, and a search needs values that rise.
        object.__setattr__(self, "_falls", tuple(-value for value in self.logs))
        object.__setattr__(self, "_rises", tuple((after - before) / STEP for before, after in pairwise(self.logs)))

    def at(self, reps: float) -> float:
        """The logarithm of the share for so many reps to failure."""
        place = self._place(reps)
        return self.logs[place] + self._rises[place] * (reps - 1 - place * STEP)

    def slope(self, reps: float) -> float:
        """What one rep more costs there; below zero."""
        return self._rises[self._place(reps)]

    def reps(self, log_share: float) -> float:
        """The reps to failure at a logarithm of the share: the inverse of `at`; under 1 above the max."""
        place = bisect_left(self._falls, -log_share)
        place = min(max(place - 1, 0), len(self._rises) - 1)
        return 1 + place * STEP + (log_share - self.logs[place]) / self._rises[place]

    def _place(self, reps: float) -> int:
        """The piece in which so many reps lie."""
        place = int((reps - 1) / STEP)
        return 0 if place < 0 else min(place, len(self._rises) - 1)


@lru_cache(maxsize=32)
def curve_of(equation: Equation, rows: Rows = NSCA_ROWS) -> Curve:
    """The curve of an equation or of a handbook table."""
    counts = (1 + Decimal(half) / 2 for half in range(2 * MOST_REPS - 1))
    return Curve(tuple(log(share(count, equation, rows)) for count in counts))
