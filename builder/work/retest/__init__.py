"""The way back: a test day is judged, appended to the profile, and the booklet is made again."""

from builder.log.results import LiftOutcome, Outcome, Result
from builder.work.retest.run import Applied, Job, apply
from builder.work.retest.spoken import Typed, understood_outcome

__all__ = ["Applied", "Job", "LiftOutcome", "Outcome", "Result", "Typed", "apply", "understood_outcome"]
