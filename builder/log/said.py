"""What people write of a set in one field, load, reps and effort at once: read where it can mean one thing only.

"82.5x3", "82,5 × 3 rir 1" and "82.5*3 @9" are load × reps as pages print them; @ is RPE. What the plan makes impossible
is no meaning of a text, and a text with two meanings left is unclear.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from builder.log import typed
from builder.log.manifest import PlannedRow
from builder.log.typed import Load, TypedCount, Unclear
from builder.values.quantity import Unit, in_unit, plain, to_places

DONE = frozenset({"ok", "✓", "✔", "done", "ja"})
"""A set with one of these was done as printed."""
FAR_ABOVE, FAR_BELOW = Decimal("1.9"), Decimal("0.5")
"""A load without a written unit that is this many times the planned one was meant in the other unit, or is a slip."""
SMALL, NEAR = Decimal(30), Decimal(5)
"""Kilograms; near so small a load, multiples of it mean nothing, and a number alone that is so near may be a load."""
MOST_TIMES, MOST_MORE = 3, 20
"""So many times the planned reps, and so many more, are a slip of the pen."""

MOST_COUNT = 9999
"""More than any set has, of whatever it is counted in."""

_VALUE = r"[0-9]{1,2}(?:[.,][0-9]{1,2})?(?: [1-3]/[24])?(?:\s*[-–]\s*[0-9])?\+?"
_EFFORT = re.compile(
    rf"(?P<body>.*?)(?:[\s,;]*\b(?P<word>rir|rpe)\s*|\s*,?\s*(?P<at>@)\s*(?:rpe\s*)?)(?P<value>{_VALUE})"
)
_BEHIND = re.compile(rf"(?:(?P<body>.*?)[\s,;]+)?(?P<value>{_VALUE})\s*(?P<word>rir|rpe)")
_TIMES = re.compile(r"(?P<one>.*?)\s*(?:[x×*]|\bfor\b)\s*(?P<two>[^x×*\s].*)")


@dataclass(frozen=True, slots=True)
class Said:
    """What was written of a set; None where the plan holds. `left_out` when it was not done."""

    load: Load | None = None
    count: TypedCount | None = None
    rir: Decimal | None = None
    left_out: bool = False

    def meaning(self) -> tuple[object, ...]:
        """What it says, however it was spelled."""
        return self.load and self.load.kg, self.count, self.rir, self.left_out


def said(text: str, row: PlannedRow, unit: Unit) -> Said:
    """The one thing that a text can mean beside this row; raises `Unclear` when there are none or several."""
    clean = typed.plainly(text)
    if clean in typed.NOT_DONE:
        return Said(left_out=True)
    if clean in DONE:
        return Said()
    reader = _TextReader(row, unit)
    # By meaning: two ways to read a text are no doubt where both say the same.
    found = {one.meaning(): one for one in reader.readings(clean)}
    if len(found) > 1:
        raise Unclear(f"can mean {_listed(found.values(), row, unit)}", reader.help())
    if not found:
        raise reader.refusal(clean)
    return next(iter(found.values()))


def counted(text: str, row: PlannedRow) -> TypedCount:
    """A text as reps, or as time or distance where the row is counted so; raises `Unclear`."""
    if row.unit is None:
        return typed.reps(text)
    return typed.seconds(text, row.planned) if row.unit == "s" else typed.metres(text, row.planned)


def _listed(found: Iterable[Said], row: PlannedRow, unit: Unit) -> str:
    return " or ".join(_told(one, row, unit) for one in found)


def _told(one: Said, row: PlannedRow, unit: Unit) -> str:
    load = f"{plain(to_places(in_unit(one.load.kg, unit), 2))} {unit}" if one.load else ""
    reps = "" if one.count is None else row.told(int(one.count.value)) + ("" if row.unit else " reps")
    return " × ".join(filter(None, (load, reps)))


class _TextReader:
    """Every meaning that a text can have beside one row."""

    def __init__(self, row: PlannedRow, unit: Unit) -> None:
        self.row, self.unit = row, unit

    def readings(self, clean: str) -> Iterator[Said]:
        """The meanings that the plan leaves possible."""
        effort = _BEHIND.fullmatch(clean) or _EFFORT.fullmatch(clean)
        if effort is None:
            yield from self.body(clean)
            yield from self.at_load(clean)
            return
        body = (effort["body"] or "").strip(" ,;")
        rir = self.reserve(effort)
        if rir is not None:
            yield from (replace(one, rir=rir) for one in (self.body(body) if body else (Said(),)))
        # "3 @ 8" is an effort and "3 @ 82.5" a load: both are tried, and the plan leaves one.
        if effort.re is _EFFORT and effort["at"]:
            yield from self.at_load(clean)

    def reserve(self, effort: re.Match[str]) -> Decimal | None:
        """The reps in reserve of an effort; None for what is none."""
        rated = effort["word"] == "rpe" or (effort.re is _EFFORT and bool(effort["at"]))
        try:
            return typed.effort(f"{'@' if rated else ''}{effort['value']}").value
        except Unclear:
            return None

    def at_load(self, clean: str) -> Iterator[Said]:
        """"3 @ 82.5": reps at a load, where the number is no RPE."""
        reps, at, load = clean.partition("@")
        if at and reps.strip():
            for count in self.count(reps.strip()):
                yield from (Said(one, count) for one in self.load(load.strip(), bare=False))

    def body(self, text: str) -> Iterator[Said]:
        """Load and reps, or one of them."""
        if parts := _TIMES.fullmatch(text):
            one, two = parts["one"].strip(), parts["two"].strip()
            if not one:
                yield from (Said(count=count) for count in self.count(two))
                return
            straight = [Said(load, count) for load in self.load(one) for count in self.count(two)]
            # Pages print load × reps, so that order is meant wherever it can be.
            yield from straight or [Said(load, count) for count in self.count(one) for load in self.load(two)]
            return
        yield from (Said(load=one) for one in self.load(text, bare=True))
        yield from (Said(count=one) for one in self.count(text))

    def load(self, text: str, *, bare: bool = False) -> Iterator[Load]:
        """A text as a load. Alone, a number without a plus is none where loads hang from the body."""
        try:
            found = typed.load(text, self.unit)
        except Unclear:
            return
        row = self.row
        if found.added and not row.bodyweight:
            return
        if bare and row.bodyweight and not (found.added or found.named):
            return
        if found.named or found.added or row.load is None or self.near(found.kg, row.load, bare=bare):
            yield found

    def near(self, kg: Decimal, planned: Decimal, *, bare: bool) -> bool:
        """Whether a load without a unit can be meant beside the planned one."""
        close = abs(kg - planned) <= NEAR if bare else max(kg, planned) < SMALL
        return close or planned * FAR_BELOW < kg < planned * FAR_ABOVE

    def count(self, text: str) -> Iterator[TypedCount]:
        """A text as reps, or as the time or distance of a set."""
        planned = self.row.planned
        try:
            found = counted(text, self.row)
        except Unclear:
            return
        # Either will do: three times one rep is few, and twenty more than thirty may be.
        if found.value <= planned * MOST_TIMES or found.value <= planned + MOST_MORE:
            yield found

    def help(self) -> str:
        """How to write it, with this row's own numbers."""
        count = self.row.told(self.row.planned)
        if self.row.unit is not None and self.row.load is None and self.row.bodyweight:
            return f'Write it as planned, such as "{count}".'
        load = plain(to_places(in_unit(self.row.load, self.unit), 2)) if self.row.load else "20"
        one, reps = f"{load} x {count}", f"x{count}"
        return f'Write load x reps, such as "{one}", or "{reps}" for the reps alone; "rir 2" or "@8" behind it.'

    def counts(self) -> tuple[str, ...]:
        """The key of the row that its sets are counted by."""
        return ("reps",) if self.row.unit is None else ("seconds",) if self.row.unit == "s" else ("metres",)

    def refusal(self, clean: str) -> Unclear:
        """Why a text means nothing: it cannot be read, or it lies far from the plan."""
        # Read once more as if nothing had been planned: what has a meaning then is a slip, all else is no set.
        free = {"load": None} | dict.fromkeys(self.counts(), MOST_COUNT)
        wide = _TextReader(self.row.model_copy(update=free), self.unit)
        if any(wide.readings(clean)):
            load = f"{plain(to_places(in_unit(self.row.load, self.unit), 2))} {self.unit} × " if self.row.load else ""
            count = self.row.told(self.row.planned)
            help_ = f"{self.help()} Name the unit of a load that is right."
            return Unclear(f"lies far from the planned {load}{count}", help_)
        return Unclear("is not understood", self.help())


__all__ = ["Said", "counted", "said"]
