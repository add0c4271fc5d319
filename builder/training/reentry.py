"""Coming back after days without training: how much lighter the first week is, and when the load is back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.training.norms import COMMON_PRACTICE
from builder.training.variation import LOST_SOURCE, lost
from builder.values.quantity import to_places

WEEK = 7
CUT_A_WEEK, CUT_AT_MOST = Decimal("0.025"), Decimal("0.10")
"""For each full week away, besides what strength is lost: the legs get sore and the groove is rusty."""
CUT_SOURCE = f"{COMMON_PRACTICE}, and the strength that is likely lost besides. {LOST_SOURCE}"
RETURN_SOURCE = (
    "Half of the time away: what ten weeks without training had cost was back after five. Halonen et al. Scand J Med "
    "Sci Sports 2024;34:e14739."
)


@dataclass(frozen=True, slots=True)
class Pause:
    """Days without training from `first` on; `back` is the first day after them."""

    first: date
    back: date

    @property
    def days(self) -> int:
        """How many they are."""
        return (self.back - self.first).days

    def between(self, begun: date, ended: date) -> Pause | None:
        """The part of it that lies between two days; None where none does."""
        first, back = max(self.first, begun), min(self.back, ended)
        return Pause(first, back) if first < back else None

    def returned(self, on: date) -> float:
        """How much of what it cost is back on a day after it, from 0 to 1 (`RETURN_SOURCE`)."""
        weeks = weeks_back(self.days)
        return min((on - self.back).days / (WEEK * weeks), 1.0) if weeks else 1.0


def first_week_cut(days: int) -> Decimal:
    """The share of the load that is left out in the first week after so many days; nothing under a week."""
    away = min(CUT_A_WEEK * (days // WEEK), CUT_AT_MOST)
    return to_places(away + Decimal(lost(days)), 3) if days >= WEEK else Decimal(0)


def weeks_back(days: int) -> int:
    """In how many weeks the load comes back: half of the time away, rounded up."""
    return -(-days // (2 * WEEK)) if days >= WEEK else 0


def load_share(days: int, week: int) -> Decimal:
    """How much of the load is taken in a week after the return, counted from 0; the cut shrinks evenly."""
    weeks = weeks_back(days)
    if week >= weeks:
        return Decimal(1)
    return to_places(1 - first_week_cut(days) * (weeks - week) / weeks, 3)
