"""The exercise library: each movement with its pattern, equipment, cues and cautions."""

from builder.movements.model import Equipment, Movement, Movements, Pattern

__all__ = ["Equipment", "Movement", "Movements", "Pattern"]
