"""The client profile: who the lifter is, what was tested, what the gym has, what to avoid."""

from builder.profile.gym import Bar, Gym, PinRack, Steps
from builder.profile.lifter import (
    AttemptsDone,
    BestSet,
    Client,
    Conditions,
    Held,
    Identity,
    Lift,
    Limit,
    Resume,
    Screening,
    TestedSet,
    Training,
)

__all__ = [
    "AttemptsDone",
    "Bar",
    "BestSet",
    "Client",
    "Conditions",
    "Gym",
    "Held",
    "Identity",
    "Lift",
    "Limit",
    "PinRack",
    "Resume",
    "Screening",
    "Steps",
    "TestedSet",
    "Training",
]
