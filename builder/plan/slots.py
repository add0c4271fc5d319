"""One slot on one day: substitution, basis, progression or drill, deload, loads and ramp."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from string import ascii_uppercase

from builder.given import Hold, Limit, Movements, Pins, Progression, Slot
from builder.plan.basis import Basis, Ground, basis_for
from builder.plan.deload import Light, eased
from builder.plan.drills import hold, pins
from builder.plan.further import prescribed
from builder.plan.held import above_held, held_notes, settled, too_heavy
from builder.plan.lessons import lessons
from builder.plan.loaded import back_offs, planned_sets
from builder.plan.model import Outcome, PlannedSet, PlannedSlot, Reason, because
from builder.plan.pauses import lightened
from builder.plan.prescribe import ExposureCount, Prescription, outcomes_at
from builder.plan.ramps import Warmth, most_ramps, ramp_sets, small_plates
from builder.values.scalars import Amount


@dataclass(frozen=True, slots=True)
class Occasion:
    """The day of a slot: its date, how it comes lighter, and what its session has done so far."""

    on: date
    light: Light
    warmth: Warmth


@dataclass(frozen=True, slots=True)
class Stand:
    """What a slot trains for this client: the movement, and what it replaces and why when it does."""

    movement: str
    replaces: str | None = None
    area: str | None = None


def stand_in(ground: Ground, slot: Slot) -> Stand | None:
    """The movement to train: the slot's own, or what replaces it; None when all of these are to be avoided.

    A drill is never replaced.
    """
    word = slot.trains or slot.of or ""
    name = ground.library.named(word) or word
    stand, seen = Stand(name), {name}
    # A replacement for one limit may be what another avoids; `seen` ends a circle of them.
    while (limit := _against(ground, stand.movement)) is not None:
        # A drill goes with its lift: nobody walks out the bench press that replaces a squat.
        instead = _instead(ground, limit, stand.movement)
        if instead is None or instead in seen or slot.drill is not None:
            return None
        stand = Stand(instead, name, stand.area or limit.area)
        seen.add(instead)
    return stand


def _against(ground: Ground, movement: str) -> Limit | None:
    """The first limit that avoids a movement."""
    return next((limit for limit in ground.client.limits if movement in avoided(limit, ground.library)), None)


def avoided(limit: Limit, library: Movements) -> frozenset[str]:
    """The movements that a limit leaves out; what it names as a replacement stays, whatever its pattern or region."""
    single = {name for word in limit.avoid if (name := library.named(word)) is not None}
    grouped = {name for word in limit.avoid if library.named(word) is None for name in library.group(word)}
    kept = {library.named(word) for word in limit.instead.values()}
    return frozenset(single | (grouped - kept))


def _instead(ground: Ground, limit: Limit, movement: str) -> str | None:
    """What replaces a movement: what is named for it, else what is named for its whole group."""
    library = ground.library
    own = (library.named(new) for old, new in limit.instead.items() if library.named(old) == movement)
    grouped = (library.named(new) for old, new in limit.instead.items() if movement in library.group(old))
    return next(own, None) or next(grouped, None)


def plan_slot(
    ground: Ground, slot: Slot, stand: Stand, count: ExposureCount, occasion: Occasion
) -> PlannedSlot | None:
    """The slot with every load; None for a drill whose lift has no tested set, which cannot be gated."""
    basis = basis_for(ground, slot, stand.movement, occasion.on, replaced=stand.replaces is not None)
    if slot.drill is not None and basis.numbers is None:
        return None
    rule = slot.progression if stand.replaces is None else _without_start(slot.progression)
    light, warmth, notes = occasion.light, occasion.warmth, _notes(basis)
    prescription = _eased(ground, slot, rule, count, basis, light)
    if too_heavy(prescription.sets[0], basis):
        # Made anew, and not only its loads taken out: what comes next would go on naming loads of the implement.
        basis, notes = by_feel(basis)
        prescription = _eased(ground, slot, rule, count, basis, light)
    work = planned_sets(prescription, basis, slot.rest)
    if slot.conditioning is not None and slot.rest is None and len(work) == 1:
        # One piece has no sets to rest between.
        work = (replace(work[0], rest=0),)
    warm = ramp_sets(work[0], basis, ground.racks, warmth, most=most_ramps(slot, work, basis, warmth))
    sets = (*warm, *work)
    # After its own ramp is made: a slot is warm from those before it.
    warmth.remember(sets, basis)
    return PlannedSlot(
        movement=stand.movement,
        about=basis.about,
        kind=slot.progression.kind,
        sets=sets,
        implement=basis.ladder.name if basis.ladder else "",
        per_hand=bool(basis.ladder and basis.ladder.per_hand) and not basis.about.one_bell,
        lift=basis.numbers.movement if basis.numbers else None,
        drill=slot.drill,
        exposure=count.exposure + 1,
        tempo=slot.tempo,
        cues=_cues(slot, stand, basis),
        superset=slot.superset,
        stress=prescription.stress,
        estimated=basis.estimated,
        accessory=slot.accessory,
        replaces=stand.replaces,
        replaced_for=stand.area,
        belief=basis.reach.belief if basis.reach else None,
        pin=prescription.pin,
        zone=slot.zone,
        outcomes=_outcomes(rule, prescription, work, basis, light),
        lessons=lessons(rule, prescription, work, basis, count, ground.outlook.lifter) if light == Light() else (),
        notes=(
            *prescription.notes, *notes, *held_notes(work, basis), *small_plates(sets, basis, ground.racks)
        ),
    )


def _eased(
    ground: Ground, slot: Slot, rule: Progression, count: ExposureCount, basis: Basis, light: Light
) -> Prescription:
    """What the rule asks for on a day, made lighter where the day is."""
    # The order matters: held first, then lighter. Cut from the rule's own load, a held set would hardly get lighter.
    prescription = _prescription(ground, rule, count, basis)
    if light != Light():
        prescription = settled(prescription, planned_sets(prescription, basis, slot.rest))
    if light.share < 1:
        prescription = lightened(prescription, light.share, basis)
    if light.easing is not None:
        prescription = eased(prescription, light.easing, basis)
    return prescription


def _outcomes(
    rule: Progression, prescription: Prescription, work: tuple[PlannedSet, ...], basis: Basis, light: Light
) -> tuple[Outcome, ...]:
    """What comes next: as the rule has it, from the held load where it is held, or the back-off loads of today."""
    first = work[0]
    if first.kept and prescription.outcomes and first.rung is not None and basis.ladder is not None:
        return outcomes_at(rule, first.reps, first.rung, above_held(first.rung, basis.ladder), basis)
    return prescription.outcomes or (back_offs(prescription, work, basis) if light == Light() else ())


def lettered(slots: Sequence[PlannedSlot]) -> tuple[PlannedSlot, ...]:
    """Supersets named A, B and on as the day goes; slots whose partners are not trained today stand alone."""
    groups = [(letter, list(group)) for letter, group in groupby(slots, key=lambda slot: slot.superset)]
    letters = iter(ascii_uppercase)
    named: list[PlannedSlot] = []
    for letter, group in groups:
        name = next(letters) if letter and len(group) > 1 else None
        named += [slot if slot.superset == name else replace(slot, superset=name) for slot in group]
    return tuple(named)


def _without_start(rule: Progression) -> Progression:
    """A first load was chosen for the movement that is replaced; what replaces it starts from its max, or by feel."""
    return rule.model_copy(update={"start": None}) if isinstance(getattr(rule, "start", None), Amount) else rule


def _prescription(ground: Ground, rule: Progression, count: ExposureCount, basis: Basis) -> Prescription:
    if isinstance(rule, Hold):
        return hold(rule, count.exposure, basis, ground.cautions)
    if isinstance(rule, Pins):
        return pins(rule, count.exposure, basis, ground.client.gym, ground.cautions)
    return prescribed(rule, count, basis)


def _cues(slot: Slot, stand: Stand, basis: Basis) -> tuple[str, ...]:
    """The coach's cues for the slot, else the movement's; a walkout is no squat and takes none of its cues."""
    if slot.cues and not stand.replaces:
        return slot.cues
    return () if isinstance(slot.progression, Hold) else basis.about.cues


def by_feel(basis: Basis) -> tuple[Basis, tuple[Reason, ...]]:
    """The basis without the implement that is too heavy, and the note that says so."""
    assert basis.ladder is not None
    note = because("implement-too-heavy", load_kg=basis.ladder.lightest.mass, implement=basis.ladder.name)
    return replace(basis, ladder=None), (note,)


def _notes(basis: Basis) -> tuple[Reason, ...]:
    if basis.ladder is None:
        return (because("no-equipment", equipment=str(basis.about.equipment)),)
    return ()
