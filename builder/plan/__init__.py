"""The plan: every set of every session of a block for one client, each with the reasons for its load."""

from builder.plan.change import LiftChange, compare, earlier
from builder.plan.identity import PlanIdentity, identity
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
    "LiftChange",
    "LiftNumbers",
    "Outcome",
    "PinStep",
    "Plan",
    "PlanIdentity",
    "PlannedSession",
    "PlannedSet",
    "PlannedSlot",
    "PlannedWeek",
    "Reason",
    "Role",
    "TestValue",
    "WeekKind",
    "compare",
    "earlier",
    "identity",
    "make_plan",
]
