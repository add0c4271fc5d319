"""For whom failure is no option: by the same rule for what a block asks and for what its plan comes to."""

from __future__ import annotations

from builder.given.lifter import Client
from builder.given.movements import Equipment, Movement

LEAST_LEFT = 1
"""Reps in reserve that a rule must leave, for whom failure is no option; common practice, no source."""

LIKELY_LEFT = {"minor": 1, "clinician": 1, "no-safeties": 2}
"""Reps that a planned load must be likely to leave, by caution; common practice, no source.

Two where nothing catches the bar, since a judged reserve is wrong by about one (see `builder.training.norms`).
"""


def careful(client: Client, movement: Movement | None) -> str | None:
    """The caution that keeps a client from failure in a movement, the first of them; None where nothing does."""
    if client.unsupervised(client.training.starts):
        return "minor"
    if client.waits_for_clinician:
        return "clinician"
    under_the_bar = movement is not None and movement.overhead_risk and movement.equipment is Equipment.BARBELL
    return "no-safeties" if under_the_bar and not client.gym.safeties else None
