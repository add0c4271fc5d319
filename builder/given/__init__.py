"""What is given: the models of client, gym, block, brand and movements, and all of them as the sources of a plan."""

from builder.given.block import Block, Day, Phase, Slot
from builder.given.brand import Brand, BrandFile, Colours, Contact, FontFile, Legal
from builder.given.changes import Change, ChangeMade, Variant
from builder.given.drills import Hold, Pins
from builder.given.gym import Bar, Gym, PinRack, Steps
from builder.given.lifter import Client, Identity, Limit, Resume, Screening, Training
from builder.given.lifts import AttemptsDone, BestSet, Conditions, Held, Lift, LoggedSet, TestedSet
from builder.given.movements import Equipment, Movement, Movements, Pattern
from builder.given.progressions import (
    Double,
    Progression,
    RepOut,
    Single,
    Step,
    TopSet,
    Volume,
    Wave,
    WaveWeek,
)
from builder.given.sources import Sources
from builder.given.weeks import Deload, Drop, Taper, Test

__all__ = [
    "AttemptsDone",
    "Bar",
    "BestSet",
    "Block",
    "Brand",
    "BrandFile",
    "Change",
    "ChangeMade",
    "Client",
    "Colours",
    "Conditions",
    "Contact",
    "Day",
    "Deload",
    "Double",
    "Drop",
    "Equipment",
    "FontFile",
    "Gym",
    "Held",
    "Hold",
    "Identity",
    "Legal",
    "Lift",
    "Limit",
    "LoggedSet",
    "Movement",
    "Movements",
    "Pattern",
    "Phase",
    "PinRack",
    "Pins",
    "Progression",
    "RepOut",
    "Resume",
    "Screening",
    "Single",
    "Slot",
    "Sources",
    "Step",
    "Steps",
    "Taper",
    "Test",
    "TestedSet",
    "TopSet",
    "Training",
    "Variant",
    "Volume",
    "Wave",
    "WaveWeek",
]
