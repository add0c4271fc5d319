"""The plan: every set of every session of a block for one client, each with the reasons for its load."""

from builder.plan.make import make_plan
from builder.plan.model import (
    LiftNumbers,
    Outcome,
    PinStep,
    Plan,
    PlannedSession,
    PlannedSet,
    PlannedSlot,
    PlannedWeek,
    Reason,
    Role,
    TestValue,
    WeekKind,
)

__all__ = [
    "LiftNumbers",
    "Outcome",
    "PinStep",
    "Plan",
    "PlannedSession",
    "PlannedSet",
    "PlannedSlot",
    "PlannedWeek",
    "Reason",
    "Role",
    "TestValue",
    "WeekKind",
    "make_plan",
]
