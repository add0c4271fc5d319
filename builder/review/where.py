"""Walks over a plan and writes its places, loads and shares as text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from builder.given import Equipment, Pattern
from builder.plan import LiftNumbers, Plan, PlannedSession, PlannedSet, PlannedSlot, PlannedWeek, Role, WeekKind
from builder.values.quantity import in_unit, plain, to_places

HEAVY = Decimal("0.85")
"""Above this share of the max a set is heavy, as the survey of tapers counts (Travis et al. 2021)."""


@dataclass(frozen=True, slots=True)
class PlannedSpot:
    """A slot with the session and the week it stands in."""

    week: PlannedWeek
    session: PlannedSession
    slot: PlannedSlot

    @property
    def place(self) -> str:
        """Such as "week 3, day 2, back squat"."""
        return f"{session_place(self.session)}, {slot_name(self.slot)}"


def session_place(session: PlannedSession) -> str:
    """Such as "week 3, day 2"."""
    return f"week {session.week}, day {session.day}"


def slot_name(slot: PlannedSlot) -> str:
    """The movement; a drill stands before its lift."""
    return f"{slot.drill} ({slot.movement})" if slot.drill else slot.movement


def spots(plan: Plan, *kinds: WeekKind) -> Iterator[PlannedSpot]:
    """Every slot of the weeks of these kinds, of all weeks without any."""
    for week in plan.weeks:
        if not kinds or week.kind in kinds:
            yield from (PlannedSpot(week, session, slot) for session in week.sessions for slot in session.slots)


def weeks_of(plan: Plan, kind: WeekKind) -> tuple[PlannedWeek, ...]:
    """The weeks of one kind."""
    return tuple(week for week in plan.weeks if week.kind is kind)


def main_lift(plan: Plan, slot: PlannedSlot) -> LiftNumbers | None:
    """The numbers of the tested lift that a slot trains itself; None for variants, drills and accessories."""
    return None if slot.drill or slot.accessory else plan.lift(slot.movement)


def derived_lift(plan: Plan, slot: PlannedSlot) -> LiftNumbers | None:
    """The numbers that a slot's loads come from: of its own test, or of the lift that it is a variant of."""
    return None if slot.drill or slot.accessory else plan.lift(slot.lift)


def own_max(plan: Plan, slot: PlannedSlot) -> Decimal | None:
    """Today's max of the slot's own movement in its own conditions (kg): a variant's is its share of the lift's."""
    numbers = plan.lift(slot.lift)
    if numbers is None or not slot.work:
        return None
    # The last `max_kg` that is told is the max after ratio and gear: `plan.basis` tells them in this order.
    told = [value for why in slot.work[0].why for name, value in why.facts if name == "max_kg"]
    full = told[-1] if told and isinstance(told[-1], Decimal) else numbers.working_max
    return full / numbers.working_share


def of_max(plan: Plan, slot: PlannedSlot, planned: PlannedSet) -> Decimal | None:
    """Share of the estimated max, in the slot's own conditions; None when the load is found by feel.

    Holds and attempts are planned from the estimated max, all other sets from the working max.
    """
    numbers = plan.lift(slot.lift)
    if planned.share is None or numbers is None:
        return None
    whole = planned.role in (Role.HOLD, Role.ATTEMPT)
    return planned.share if whole else planned.share * numbers.working_share


def heaviest(plan: Plan, slot: PlannedSlot) -> Decimal:
    """The largest share of the max in a slot; 0 when no set has one."""
    return max((of_max(plan, slot, s) or Decimal(0) for s in slot.work), default=Decimal(0))


def on_barbell(slot: PlannedSlot, pattern: Pattern) -> bool:
    """Whether the slot is a barbell lift of a pattern, a held bar not counted."""
    return slot.about.equipment is Equipment.BARBELL and slot.about.pattern is pattern and slot.kind != "hold"


def load(plan: Plan, kg: Decimal) -> str:
    """A mass in the lifter's unit: "122.5 kg"."""
    return f"{plain(to_places(in_unit(kg, plan.unit), 2))} {plan.unit}"


def percent(share: Decimal) -> str:
    """A share to a tenth of a percent, without a tenth that is nought: "83.4 %"."""
    return f"{plain(to_places(share * 100, 1))} %"


def between(low: Decimal, high: Decimal) -> str:
    """A range of shares: "2 to 10 %"."""
    return f"{plain(low * 100)} to {plain(high * 100)} %"


def listed(words: Iterator[str]) -> str:
    """Each word once, as "a, b and c"."""
    unique = list(dict.fromkeys(words))
    return ", ".join(unique[:-1]) + " and " + unique[-1] if len(unique) > 1 else "".join(unique)
