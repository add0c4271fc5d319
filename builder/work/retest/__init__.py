"""The way back: a test day is judged, appended to the profile, and the booklet is made again."""

from builder.log.results import DayOutcome, LiftOutcome, Result
from builder.work.retest.run import Applied, Job, apply
from builder.work.retest.spoken import Typed, understood_outcome

__all__ = ["Applied", "DayOutcome", "Job", "LiftOutcome", "Result", "Typed", "apply", "understood_outcome"]
