"""One slot on one day: substitution, basis, progression or drill, deload, loads and ramp."""

from __future__ import annotations

from dataclasses import dataclass

from builder.movements import Equipment
from builder.plan.basis import Basis, Ground, basis_for
from builder.plan.deload import lightened
from builder.plan.drills import hold, pins
from builder.plan.loaded import Warmth, planned_sets, ramp_sets, remember
from builder.plan.model import PlannedSlot, Reason, because
from builder.plan.prescribe import Prescription, prescribe
from builder.rules import Deload, Hold, Pins, Slot


@dataclass(frozen=True, slots=True)
class Stand:
    """What a slot trains for this client: the movement, and what it replaces and why when it does."""

    movement: str
    replaces: str | None = None
    area: str | None = None


def stand_in(ground: Ground, slot: Slot) -> Stand | None:
    """The movement to train: the slot's own, its replacement, or None when it is to be avoided and nothing replaces it."""
    word = slot.movement or slot.of or ""
    name = ground.library.named(word) or word
    for limit in ground.client.limits:
        if name not in [ground.library.named(avoided) for avoided in limit.avoid]:
            continue
        instead = next((new for old, new in limit.instead.items() if ground.library.named(old) == name), None)
        if instead is None or slot.drill is not None:
            return None
        return Stand(ground.library.named(instead) or instead, name, limit.area)
    return Stand(name)


def plan_slot(
    ground: Ground, slot: Slot, stand: Stand, exposure: int, warmth: Warmth, deload: Deload | None
) -> PlannedSlot | None:
    """The slot with every load; None for a drill whose lift has no tested set, which cannot be gated."""
    basis = basis_for(ground, slot, stand.movement, replaced=stand.replaces is not None)
    if slot.drill is not None and basis.numbers is None:
        return None
    prescription = _prescription(ground, slot, exposure, basis)
    if deload is not None:
        prescription = lightened(prescription, deload, basis.own)
    work = planned_sets(prescription, basis, slot.rest)
    warm = ramp_sets(work[0], basis, ground.racks, warmth, most=_most_ramps(slot, basis))
    remember(work, basis, warmth)
    return PlannedSlot(
        movement=stand.movement, about=basis.about, kind=slot.progression.kind, sets=(*warm, *work),
        implement=basis.ladder.name if basis.ladder else "", per_hand=bool(basis.ladder and basis.ladder.per_hand),
        lift=basis.numbers.movement if basis.numbers else None, drill=slot.drill, exposure=exposure + 1, tempo=slot.tempo,
        cues=slot.cues or basis.about.cues, superset=slot.superset, stress=prescription.stress, estimated=basis.estimated,
        accessory=slot.accessory, replaces=stand.replaces, replaced_for=stand.area, pin=prescription.pin,
        outcomes=prescription.outcomes, notes=(*prescription.notes, *_notes(basis)),
    )  # fmt: skip


def _prescription(ground: Ground, slot: Slot, exposure: int, basis: Basis) -> Prescription:
    if isinstance(slot.progression, Hold):
        return hold(slot.progression, exposure, basis, ground.cautions)
    if isinstance(slot.progression, Pins):
        return pins(slot.progression, exposure, basis, ground.client.gym)
    return prescribe(slot.progression, exposure, basis)


def _most_ramps(slot: Slot, basis: Basis) -> int:
    """Main lifts ramp in full; accessories take one warm-up set at most."""
    if basis.about.equipment is Equipment.BODYWEIGHT:
        return 0
    return 1 if slot.accessory else 5


def _notes(basis: Basis) -> tuple[Reason, ...]:
    if basis.ladder is None:
        return (because("no-equipment", equipment=str(basis.about.equipment)),)
    return ()
