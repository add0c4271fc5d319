"""A deload makes any prescription lighter: fewer sets or reps, less load, more in reserve, rounded down."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_HALF_DOWN, Decimal

from builder.given import Deload, Slot
from builder.plan.model import because
from builder.plan.prescribe import Prescription, Wanted
from builder.values.quantity import Rounding

MOST_RIR = Decimal(6)


def dropped(slot: Slot, deload: Deload) -> bool:
    """Whether a slot is left out of a deload week."""
    return (slot.drill is not None and "drills" in deload.drop) or (slot.accessory and "accessories" in deload.drop)


def lightened(prescription: Prescription, deload: Deload, own: Decimal) -> Prescription:
    """The same slot in a deload week: the first sets stay, at least one; nothing is open-ended.

    The load share counts the bodyweight (`own`, kg) that the movement lifts besides its load.
    """
    count = _part(len(prescription.sets), deload.sets)
    sets = tuple(_lighter(wanted, deload, own) for wanted in prescription.sets[:count])
    return replace(prescription, sets=sets, outcomes=(), stress=None, rounding=Rounding.DOWN)


def _lighter(wanted: Wanted, deload: Deload, own: Decimal) -> Wanted:
    rir = None if wanted.rir is None else min(wanted.rir + deload.easier, MOST_RIR)
    target = None if wanted.target is None else max((wanted.target + own) * deload.load - own, Decimal(0))
    after = {"target_kg": target} | ({"own_kg": own} if own else {}) if target is not None else {}
    reason = because("deload", load_share=deload.load, **after)
    return replace(
        wanted,
        share=None if wanted.share is None else wanted.share * deload.load,
        reps=_part(wanted.reps, deload.reps),
        rir=rir,
        target=target,
        most_reps=None,
        open_ended=False,
        bracketed=False,
        why=(*wanted.why, reason),
    )


def _part(count: int, share: Decimal) -> int:
    """A share of a count to the nearest whole, the half to the lower one, at least 1."""
    return max(1, int((count * share).quantize(Decimal(1), rounding=ROUND_HALF_DOWN)))
