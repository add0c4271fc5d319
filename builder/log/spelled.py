"""What was done of a set, written out again: in one field, or in a cell for each part."""

from __future__ import annotations

from decimal import Decimal

from builder.log.model import Entry
from builder.values.fields import SetPart
from builder.values.quantity import Unit, in_unit, plain, to_places

LEFT_OUT = "x"


def in_one(entry: Entry, unit: Unit) -> str:
    """A set that was done or left out, as its one field takes it."""
    if entry.state == "left out":
        return LEFT_OUT
    load = _load(entry, unit)
    rir = f" rir {plain(entry.rir)}" if entry.rir is not None and not entry.failed else ""
    if not load and entry.row.unit:
        return f"{_count(entry)}{rir}"
    return f"{load}{' ' if load else ''}x {_count(entry)}{rir}"


def cells(entry: Entry, unit: Unit) -> dict[SetPart, str]:
    """A set that was done or left out, as its cells take it."""
    if entry.state == "left out":
        return {"reps": LEFT_OUT}
    parts: dict[SetPart, str] = {"load": _load(entry, unit), "reps": _count(entry)}
    if entry.rir is not None and not entry.failed:
        # With its word, since the next booklet may ask for ratings, where a bare number means another thing.
        parts["rir"] = f"{plain(entry.rir)} rir"
    return {part: text for part, text in parts.items() if text}


def _load(entry: Entry, unit: Unit) -> str:
    """The load with its unit, so that none is taken for a slip; "" for one that nobody named."""
    if entry.load is None:
        return ""
    number = in_unit(entry.load, unit)
    mass = f"{plain(to_places(number, 3) if len(plain(number)) > 8 else number)} {unit}"
    if not entry.row.bodyweight:
        return mass
    return f"bw+{mass}" if entry.load > Decimal(0) else "bw"


def _count(entry: Entry) -> str:
    # As `typed.reps` reads it back: the reps that were good, and that one more was tried or may have been there.
    sign = "x" if entry.failed else "+" if entry.at_least else ""
    return f"{entry.reps}{f' {entry.row.unit}' if entry.row.unit else ''}{sign}"
