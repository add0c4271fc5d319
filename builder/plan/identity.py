"""What tells one plan from any other: the values that a lifter trains by, without words, language or layout."""

from __future__ import annotations

import base64
import hashlib
import json
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from builder.plan.model import Plan, PlannedSession, PlannedSet, PlannedSlot
from builder.values.quantity import plain, to_places


@dataclass(frozen=True, slots=True)
class PlanIdentity:
    """`digest` is the SHA-256 of a plan's values; `code`, its beginning in base 32, is printed on every log page."""

    digest: str
    code: str


def identity(plan: Plan, *, rated: bool = False) -> PlanIdentity:
    """The same for every copy that one log belongs to: each edition, language, paper and look of a plan.

    Copies that are `rated` ask for effort in another unit, so that the same number in a cell would say another thing.
    """
    # Compact and in one order, since every byte counts: another way of writing the same values is another booklet.
    told = json.dumps([*values(plan), *(["rpe"] if rated else [])], ensure_ascii=False, separators=(",", ":")).encode()
    digest = hashlib.sha256(told)
    return PlanIdentity(digest.hexdigest(), base64.b32encode(digest.digest())[:8].decode())


def values(plan: Plan) -> list[Any]:
    """Whose plan it is, and every set of it. How a load came about, and what is said of it, is not part of it.

    A log is tied to its booklet by these values: what is added here, or written otherwise, parts booklets that were
    made before from those that are made afterwards.
    """
    sessions = [_session(session) for session in plan.sessions()]
    # No key, no word of a reason and no equation: a mended sentence once parted a log from its booklet.
    return [plan.client.client.name, plan.block.block.title, str(plan.unit), sessions]


def _session(session: PlannedSession) -> list[Any]:
    return [session.week, session.day, session.on.isoformat(), [_slot(slot) for slot in session.slots]]


def _slot(slot: PlannedSlot) -> list[Any]:
    pin = [slot.pin.hole, _number(slot.pin.centimetres)] if slot.pin else None
    return [slot.movement, slot.lift, slot.drill, slot.implement, pin, [_set(planned) for planned in slot.sets]]


def _set(planned: PlannedSet) -> list[Any]:
    """A distance is told only where there is one, so that plans without any stay what they were."""
    way = [] if planned.metres is None else [planned.metres]
    return [
        str(planned.role), planned.reps, planned.most_reps, planned.open_ended, planned.seconds,
        _number(planned.rir), _number(planned.rung.mass if planned.rung else None), planned.rest, *way,
    ]  # fmt: skip


def _number(value: Decimal | None) -> str | None:
    # To the gram: how a load was worked out may change its last digits, and not what was trained.
    return None if value is None else plain(to_places(value, 3))


__all__ = ["PlanIdentity", "identity", "values"]
