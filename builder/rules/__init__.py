"""The block rules: days, slots, progressions, deloads and the test, the same for every client."""

from builder.rules.block import Block, Day, Deload, Drop, Phase, Slot, Taper, Test
from builder.rules.progressions import (
    Double,
    Hold,
    Pins,
    Progression,
    RepOut,
    Single,
    Step,
    TopSet,
    Volume,
    Wave,
    WaveWeek,
)

__all__ = [
    "Block",
    "Day",
    "Deload",
    "Double",
    "Drop",
    "Hold",
    "Phase",
    "Pins",
    "Progression",
    "RepOut",
    "Single",
    "Slot",
    "Step",
    "Taper",
    "Test",
    "TopSet",
    "Volume",
    "Wave",
    "WaveWeek",
]
