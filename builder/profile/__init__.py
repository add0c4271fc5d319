"""The client profile: who the lifter is, what was tested, what the gym has, what to avoid."""

from builder.profile.gym import Bar, Gym, PinRack, Steps
from builder.profile.lifter import (
    AttemptsDone,
    Client,
    Conditions,
    Held,
    Identity,
    Lift,
    Limit,
    Screening,
    TestedSet,
    Training,
)

__all__ = [
    "AttemptsDone",
    "Bar",
    "Client",
    "Conditions",
    "Gym",
    "Held",
    "Identity",
    "Lift",
    "Limit",
    "PinRack",
    "Screening",
    "Steps",
    "TestedSet",
    "Training",
]
