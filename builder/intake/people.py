"""Rules against the people they are for: no set to failure and no load above the max where a caution forbids it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from builder.given import Block, Client, Slot
from builder.given.careful import LEAST_LEFT, careful
from builder.given.sources import Sources
from builder.values.problem import Problem

_WHO = {
    "minor": ("under 18 without a supervisor", 'name the professional who is present under "supervisor:"'),
    "clinician": ("while a clinician is waited for", 'write the day on which the clinician agreed under "cleared:"'),
    "no-safeties": ("in a gym without safeties", 'write "safeties: true" where the gym has them'),
}
"""For each caution whom it holds for, and what in the profile would end it."""

Way = tuple[str | int, ...]


def forbidden(sources: Sources, client: Client, block: Block) -> Iterator[Problem]:
    """Each rule of the block that asks this client for failure, or for more than the max; the first caution is told."""
    for day, slots in enumerate(one.slots for one in block.days):
        for place, slot in enumerate(slots):
            # By movement: without safeties a curl may fail, and nothing falls on anybody.
            code = careful(client, sources.movements.movements.get(sources.movements.named(slot.movement or "") or ""))
            if code is not None:
                at: Way = ("days", day, "slots", place)
                yield from (_problem(sources, (*at, *way), fact, help_, code) for way, fact, help_ in _asks(slot))


def _asks(slot: Slot) -> Iterator[tuple[Way, str, str]]:
    """What of a slot is too much: where it stands, the fact, and what to write."""
    if slot.beyond == "allow":
        yield ("beyond",), "this slot may go beyond what the lifter is likely to have", 'Take "beyond: allow" out'
    for way, part in _parts(slot.progression, ("progression",)):
        rir, stop, start, share = (getattr(part, key, None) for key in ("rir", "stop", "start", "share"))
        for i, left in enumerate(rir if isinstance(rir, tuple) else () if rir is None else (rir,)):
            if left < LEAST_LEFT:
                key, help_ = _written(part)
                yield (*way, key, *((i,) if isinstance(rir, tuple) else ())), _failure(left), help_
        if stop is not None and stop.rir < LEAST_LEFT:
            key, help_ = _written(stop)
            yield (*way, "stop", key), _failure(stop.rir), help_
        # A drill above the max is held down by the plan itself (`GATES` in `plan/drills.py`).
        if slot.drill is None and isinstance(start, Decimal) and start >= 1:
            yield (*way, "start"), "this set is at the max or above it", "Start below 100 %"
        if share is not None and share >= 1:
            yield (*way, "share"), "this set is at the max or above it", "Write a share below 100 %"


def _written(part: Any) -> tuple[str, str]:
    """The word in which a part has its effort, and what to write there."""
    if "rpe" in part.model_fields_set:
        return "rpe", 'Write "rpe: 9" or less'
    return "rir", 'Write "rir: 1" or more'


def _parts(part: Any, way: Way) -> Iterator[tuple[Way, Any]]:
    """A rule with the entries of a wave and all further sets, each with its place."""
    yield way, part
    for key in ("weeks", "then"):
        for i, each in enumerate(getattr(part, key, ())):
            yield from _parts(each, (*way, key, i))


def _failure(left: Decimal) -> str:
    return "this set goes to failure" if left == 0 else "this set leaves less than one rep"


def _problem(sources: Sources, path: Way, fact: str, help_: str, code: str) -> Problem:
    who, way_out = _WHO[code]
    told = f"{fact}, which is not for a lifter {who}"
    return Problem("forbidden", sources.at(*path), told, f"{help_}, or {way_out}.")
