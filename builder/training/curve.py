"""What reps cost in load, as logarithms: an equation as a row of floats, for formulas that ask it often."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from math import log

from builder.training.estimate import MOST_REPS, NSCA_ROWS, Equation, Rows, share

STEP = 0.5


@dataclass(frozen=True, slots=True)
class Curve:
    """The logarithm of the share of the max at 1, 1.5, 2 … 15 reps to failure; straight between, and past both ends."""

    logs: tuple[float, ...]
    _falls: tuple[float, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_falls", tuple(-value for value in self.logs))

    def at(self, reps: float) -> float:
        """The logarithm of the share for so many reps to failure."""
        place = min(max(int((reps - 1) / STEP), 0), len(self.logs) - 2)
        return self.logs[place] + self._rise(place) * (reps - 1 - place * STEP)

    def slope(self, reps: float) -> float:
        """What one rep more costs there; below zero."""
        return self._rise(min(max(int((reps - 1) / STEP), 0), len(self.logs) - 2))

    def reps(self, log_share: float) -> float:
        """The reps to failure at a logarithm of the share: the inverse of `at`; under 1 above the max."""
        place = bisect_left(self._falls, -log_share)
        place = min(max(place - 1, 0), len(self.logs) - 2)
        return 1 + place * STEP + (log_share - self.logs[place]) / self._rise(place)

    def _rise(self, place: int) -> float:
        return (self.logs[place + 1] - self.logs[place]) / STEP


@lru_cache(maxsize=32)
def curve_of(equation: Equation, rows: Rows = NSCA_ROWS) -> Curve:
    """The curve of an equation or of a handbook table."""
    counts = (1 + Decimal(half) / 2 for half in range(2 * MOST_REPS - 1))
    return Curve(tuple(log(share(count, equation, rows)) for count in counts))
