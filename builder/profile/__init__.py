"""The client profile: who the lifter is, what was tested, what the gym has, what to avoid."""

from builder.profile.gym import Bar, Gym, PinRack, Steps
from builder.profile.lifter import Client, Held, Identity, Lift, Limit, Screening, TestedSet, Training

__all__ = [
    "Bar",
    "Client",
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
