"""The bar that a lift is trained on, which need not be the one it was tested on."""

from __future__ import annotations

from collections import Counter

from builder.plan.ladders import Racks
from builder.plan.model import LiftNumbers, Plan
from builder.training.loading import Ladder


def training_ladder(plan: Plan, numbers: LiftNumbers) -> Ladder:
    """The loads of the bar that the block trains a lift on most often; of its own ladder when it is not on a bar."""
    trained = Counter(
        slot.implement
        for session in plan.sessions()
        for slot in session.slots
        if slot.movement == numbers.movement and slot.drill is None and slot.attempts is None
    )
    bars = [name for name, _ in trained.most_common() if name in plan.client.gym.bars]
    if not (numbers.ladder.plated and bars):
        return numbers.ladder
    racks = Racks(plan.client)
    return racks.stepped(racks.bar(bars[0], numbers.about), racks.usual_step())
