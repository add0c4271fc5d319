"""Sets in print: equal ones grouped, with scheme, load, side, effort, rest and record mark as words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import groupby

from builder.given import Equipment
from builder.plan.model import PlannedSet, PlannedSlot, Role
from builder.training.loading import Rung
from builder.values.measure import Length, shown
from builder.words import NARROW, Words, unbroken


@dataclass(frozen=True, slots=True)
class SetLine:
    """One line of working sets. `load` is empty when the lifter finds it by feel; `pad` is blank, as wide as decimals.

    `effort` has the reserve and the rest, in two lines where the paper is narrow.
    """

    scheme: str
    role: str
    sign: str
    load: str
    pad: str
    unit: str
    side: str
    effort: str
    record: str
    milestone: bool


@dataclass(frozen=True, slots=True)
class SetRun:
    """Equal working sets that follow each other: how many, and one of them."""

    count: int
    one: PlannedSet


def groups(slot: PlannedSlot) -> tuple[SetRun, ...]:
    """The working sets of a slot, equal consecutive ones together."""
    return tuple(SetRun(len(sets), _marked(sets)) for sets in _equal_runs(slot.work))


def scheme_text(group: SetRun, words: Words) -> str:
    """Sets and reps: "4 × 3", "3 × 8–12" where a load is to be found for a range; one time or distance is just that."""
    one = group.one
    if group.count == 1 and one.length is not None and one.role is not Role.HOLD:
        return reps_text(one, words)
    ranged = one.rung is None and one.most_reps is not None and not one.open_ended and one.length is None
    reps = f"{one.reps}–{one.most_reps}" if ranged else reps_text(one, words)
    return words("set.scheme", sets=group.count, reps=reps)


def set_lines(slot: PlannedSlot, words: Words) -> tuple[SetLine, ...]:
    """The working sets of a slot, equal consecutive ones in one line, their decimals aligned."""
    found = groups(slot)
    loads = [load_text(slot, group.one.rung, words) for group in found]
    deepest = max((_fraction(load, words) for load in loads), key=len, default="")
    roles = len({group.one.role for group in found}) > 1 or slot.kind == "top_set"
    rests = [0, *(group.one.rest for group in found)]
    return tuple(
        _line(slot, group, load, deepest[len(_fraction(load, words)) :], roles, before, words)
        for group, load, before in zip(found, loads, rests, strict=False)
    )


def _line(slot: PlannedSlot, group: SetRun, load: str, pad: str, roles: bool, before: int, words: Words) -> SetLine:
    """One line; the rest is told where it is another one than `before`."""
    one = group.one
    rest = rest_text(one.rest, words) if one.rest != before else ""
    return SetLine(
        scheme=scheme_text(group, words),
        role=words(f"set.role.{one.role}") if roles and _told(slot, one) else "",
        sign=words("set.about") if slot.estimated and load else "",
        load=load,
        pad=pad if load else "",
        unit=unit_text(slot, one.rung, words),
        side=side_words(slot, one.rung, words),
        effort="\n".join(filter(None, (effort_text(one, words), rest))),
        record=words("set.record", reps=one.mark.reps) if one.mark else "",
        milestone=one.milestone,
    )


def _told(slot: PlannedSlot, one: PlannedSet) -> bool:
    """Whether the role of a set says something: only after a top set is what is heavier one."""
    return slot.kind == "top_set" or one.role is not Role.WORKING


def ramp_steps(slot: PlannedSlot, words: Words) -> tuple[str, ...]:
    """The warm-up sets in order, each unbroken: "60 × 5 (20)"."""
    return tuple(unbroken(_ramp_step(slot, one, words)) for one in slot.ramp)


def _ramp_step(slot: PlannedSlot, one: PlannedSet, words: Words) -> str:
    side = side_words(slot, one.rung, words)
    step = words("set.ramp", load=load_text(slot, one.rung, words), reps=reps_text(one, words))
    return words("set.ramp.side", step=step, side=side) if side else step


def planned_text(slot: PlannedSlot, one: PlannedSet, words: Words, key: str = "set.planned") -> str:
    """A set in its shortest form: "122.5 × 5"; `key` "set.cell" is the narrow one beside a log cell."""
    load = load_text(slot, one.rung, words)
    if not load:
        return reps_text(one, words) if one.length else words(f"{key}.feel", reps=reps_text(one, words))
    return words(key, load=load, reps=reps_text(one, words))


def reps_text(one: PlannedSet, words: Words) -> str:
    """The reps of a set: "5", "5+" when open-ended; else its time or distance, "8 s" for a hold."""
    if one.length is not None:
        return length_text(one.length)
    return words("reps.open", reps=one.reps) if one.open_ended else str(one.reps)


def length_text(length: Length) -> str:
    """A time or distance, unbroken: "45 s", "20 min", "40 m"."""
    return unbroken(shown(length.low, length.unit))


def effort_text(one: PlannedSet, words: Words) -> str:
    """The reps to be left in reserve: "2 RIR", "≈2.5 RIR" where the load decides, "6+ RIR"; "" where unknown."""
    return _reserve(one, "set.effort", words)


def leave_text(one: PlannedSet, words: Words) -> str:
    """The same as what is to be done, or what will be left: "leave 2", "leaves ≈2.5", "leaves 6+"."""
    return _reserve(one, "set.leave", words)


def _reserve(one: PlannedSet, key: str, words: Words) -> str:
    if one.left is None:
        return ""
    more = not one.aimed and one.reserve is not None and one.reserve.more
    return words(key if one.aimed else f"{key}.more" if more else f"{key}.about", rir=one.left)


def load_text(slot: PlannedSlot, rung: Rung | None, words: Words) -> str:
    """The load as a bare number in the lifter's unit; "" when there is none to name."""
    if rung is None:
        return ""
    if slot.about.equipment is Equipment.BODYWEIGHT:
        return hung_text(rung.mass, words)
    return words.amount(rung.mass)


def hung_text(kg: Decimal, words: Words) -> str:
    """What hangs from a lifter: "+5", or that nothing does."""
    return words("load.plus", load=words.amount(kg)) if kg else words("load.bodyweight")


def unit_text(slot: PlannedSlot, rung: Rung | None, words: Words) -> str:
    """What stands after the number: the unit, and "each" for a bell in either hand."""
    if rung is None or (slot.about.equipment is Equipment.BODYWEIGHT and not rung.mass):
        return ""
    return words("unit.each", unit=words.unit) if slot.per_hand else str(words.unit)


def side_words(slot: PlannedSlot, rung: Rung | None, words: Words) -> str:
    """The plates on one end as loaded, the inner first; "" for anything that is not a bar."""
    if rung is None or slot.about.equipment is not Equipment.BARBELL:
        return ""
    if not rung.side:
        return words("side.empty")
    return words.plates(" + ".join(_plates(label, count) for label, count in rung.side))


def each_words(slot: PlannedSlot, rung: Rung | None, words: Words) -> str:
    """What the plates beside a load are for: each side of the bar; "" without plates."""
    plated = bool(rung and rung.side) and slot.about.equipment is Equipment.BARBELL
    return words("side.each") if plated else ""


def rest_text(seconds: int, words: Words) -> str:
    """A rest in whole minutes where it is one, else in seconds up to two minutes, else as 2:30."""
    if seconds <= 0:
        return ""
    minutes, left = divmod(seconds, 60)
    if not left:
        return words("rest.minutes", minutes=minutes)
    if seconds <= 120:
        return words("rest.seconds", seconds=seconds)
    return f"{minutes}:{left:02d}"


def _plates(label: str, count: int) -> str:
    return label if count == 1 else f"{label}{NARROW}×{NARROW}{count}"


def _fraction(load: str, words: Words) -> str:
    """The decimal sign and what follows it."""
    head, sign, tail = load.partition(words("decimal"))
    return f"{sign}{tail}" if head else ""


def _equal_runs(sets: tuple[PlannedSet, ...]) -> Iterator[tuple[PlannedSet, ...]]:
    for _, run in groupby(sets, key=_looks):
        yield tuple(run)


def _marked(sets: tuple[PlannedSet, ...]) -> PlannedSet:
    """One of equal sets, with the record mark that any of them has."""
    return replace(sets[0], mark=next((one.mark for one in sets if one.mark), None))


def _looks(one: PlannedSet) -> tuple[object, ...]:
    """All of a set that print shows but its mark, of which a slot has one; sets that agree in it share a line."""
    mass = one.rung.mass if one.rung else None
    most, role = one.most_reps, Role(one.role)
    return role, one.reps, one.left, one.aimed, mass, one.rest, one.length, most, one.open_ended, one.milestone


def told_alike(found: tuple[SetRun, ...], words: Words) -> Iterator[SetRun]:
    """Groups that differ in their record marks alone are told in one line, with the mark; their boxes are apart."""
    for _, alike in groupby(found, key=lambda group: _tells(group, words)):
        members = list(alike)
        marked = next((m.one for m in members if m.one.mark), members[0].one)
        milestone = any(m.one.milestone for m in members)
        yield SetRun(sum(m.count for m in members), replace(marked, milestone=milestone))


def _tells(group: SetRun, words: Words) -> tuple[object, ...]:
    one = group.one
    mass = one.rung.mass if one.rung else None
    return one.role, reps_text(one, words), leave_text(one, words), mass, one.rest
