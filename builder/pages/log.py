"""Log pages: a row for every working set, a note for every slot, and what is asked once a session."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from builder.pages.context import Context
from builder.pages.grid import Grid, Shape
from builder.pages.measures import (
    LOG_LIFT,
    LOG_LIFT_GAP,
    LOG_LIFT_GAP_TIGHT,
    LOG_LIFT_TIGHT,
    LOG_PLANNED,
    LOG_PLANNED_ENLARGED,
)
from builder.pages.names import slot_name
from builder.pages.setlines import effort_text, load_text, planned_text, reps_text
from builder.plan.model import PlannedSession, PlannedSet, PlannedSlot
from builder.values import fields
from builder.values.fields import FieldSpec, SessionField, SetField, SetPart, SlotNote
from builder.words import Words

HEADS = {False: (LOG_LIFT, LOG_LIFT_GAP), True: (LOG_LIFT_TIGHT, LOG_LIFT_GAP_TIGHT)}
"""mm for the name of a slot over its rows and for the gap under them, roomy and tight."""
PLANNED = {False: (LOG_PLANNED,), True: (LOG_PLANNED_ENLARGED, LOG_PLANNED)}
"""The sizes of a planned set beside its cells, the larger first, also where letters are large."""
MOST_DID = 32
"""Signs that fit what is written of a set in one field: "182.5 kg x 12, rpe 8.5"."""
CELLS: tuple[SetPart, ...] = ("load", "reps", "rir", "done")
"""What is written of a set in a row of its own."""
ASKED: tuple[fields.SessionPart, ...] = ("date", "bodyweight", "sleep")
"""What is asked once a session."""


@dataclass(frozen=True, slots=True)
class LogUnit:
    """One set to be written down: the planned set in small print and the field marks of its row.

    `effort` is told once and where it changes. What is `long` is set smaller.
    """

    number: int
    planned: str
    long: bool
    effort: str
    marks: str


@dataclass(frozen=True, slots=True)
class LogSlot:
    """One slot's rows. `rows` are whole rows, `last` a single unit beside which the note may stand.

    `note_at` is "beside" the rows, in the free "half" of the last row, or in the "head" beside the name.
    """

    number: int
    name: str
    rows: tuple[tuple[LogUnit, ...], ...]
    last: LogUnit | None
    note: str
    note_at: str
    row: float

    @property
    def height(self) -> float:
        """Height of the rows in mm."""
        return self.row * (len(self.rows) + (self.last is not None))


def log_slot(ctx: Context, session: PlannedSession, number: int, grid: Grid, row: float) -> LogSlot:
    """The log of the slot that counts `number` from 1 in its session."""
    slot = session.slots[number - 1]
    units = tuple(_unit(ctx, session, number, count, grid) for count in range(1, len(slot.work) + 1))
    note = fields.write(SlotNote(session.week, session.day, number))
    name = slot_name(slot, ctx.words)
    if grid.shape is Shape.SINGLE:
        return LogSlot(number, name, tuple((unit,) for unit in units), None, note, "beside", row)
    pairs = tuple(zip(units[::2], units[1::2], strict=False))
    last = units[-1] if len(units) % 2 else None
    return LogSlot(number, name, pairs, last, note, "half" if last else "head", row)


def _unit(ctx: Context, session: PlannedSession, number: int, count: int, grid: Grid) -> LogUnit:
    slot, words = session.slots[number - 1], ctx.words
    one = slot.work[count - 1]
    names = tuple(_name(session, number, count, part) for part in CELLS)
    # What is to be left in reserve is small print beside a cell, so it is not said anew for each set.
    new = count == 1 or slot.work[count - 2].left != one.left
    effort = effort_text(one, words) if new else ""
    planned = planned_text(slot, one, words, "set.cell")
    wide = ctx.faces.medium.width(f"{count}\N{NO-BREAK SPACE} {planned}", 1.0)
    sizes = PLANNED[ctx.sheet.enlarged]
    long = wide * sizes[0] > grid.label
    if wide * sizes[-1] > grid.label:
        # Two lines are all that the lowest row has room for.
        planned, effort = planned.replace("×", "\n×", 1) + (f" {effort}" if effort else ""), ""
    return LogUnit(count, planned, long, effort, grid.marks(names))  # type: ignore[arg-type]


def _name(session: PlannedSession, number: int, count: int, part: SetPart) -> str:
    return fields.write(SetField(session.week, session.day, number, count, part))


def slot_fields(session: PlannedSession, number: int, words: Words) -> tuple[FieldSpec, ...]:
    """The fields of one slot in the order of its page: sets, each with load, reps, effort, tick; then the note."""
    slot = session.slots[number - 1]
    specs = [
        _set_field(session, number, count, part, one, words)
        for count, one in enumerate(slot.work, 1)
        for part in CELLS
    ]
    return (*specs, jot_field(session, number, words))


def jot_field(session: PlannedSession, number: int, words: Words) -> FieldSpec:
    """The note of one slot."""
    name = fields.write(SlotNote(session.week, session.day, number))
    spoken = words("field.slot.note", **_spoken(session, session.slots[number - 1], words))
    return FieldSpec(name, "multiline", spoken, max_length=240, font_size=8)


def box_fields(session: PlannedSession, number: int, today: Sequence[int], words: Words) -> tuple[FieldSpec, ...]:
    """The fields of one slot with a box a set: today's load before the sets that are alike, then tick and write-in.

    `today` has the first of the sets that share a box for today's load.
    """
    sets = session.slots[number - 1].work
    named = [(count, "today") for count in today]
    named += [(count, part) for count in range(1, len(sets) + 1) for part in ("done", "did")]
    return tuple(_set_field(session, number, count, part, sets[count - 1], words) for count, part in named)  # type: ignore[arg-type]


def _set_field(
    session: PlannedSession, number: int, count: int, part: SetPart, one: PlannedSet, words: Words
) -> FieldSpec:
    slot = session.slots[number - 1]
    planned = {
        "load": load_text(slot, one.rung, words) or words("field.none" if slot.unloaded else "set.feel.short"),
        "reps": reps_text(one, words),
        "rir": words.effort(one.left) if one.left is not None else words("field.none"),
        "done": "",
        "did": planned_text(slot, one, words),
        "today": load_text(slot, one.rung, words) or words("set.feel.short"),
    }[part]
    counted = "" if one.length is None or part not in ("reps", "did") else f".{one.length.unit}"
    label = words(
        f"field.set.{part}{counted}",
        **_spoken(session, slot, words),
        set=count,
        sets=len(slot.work),
        planned=planned,
        unit=words.unit,
    )
    name = _name(session, number, count, part)
    # A tick says that the set was as planned, which is small print beside it: most sets take no more writing than that.
    if part == "done":
        return FieldSpec(name, "tick", label)
    if part == "did":
        return FieldSpec(name, "text", label, align="center", max_length=MOST_DID, font_size=9.5)
    return FieldSpec(name, "text", label, align="center", max_length=12, font_size=11 if part in CELLS else 9.5)


def _spoken(session: PlannedSession, slot: PlannedSlot, words: Words) -> dict[str, str | int]:
    return {"week": session.week, "day": session.day, "movement": slot_name(slot, words)}


def column_heads(slots: Sequence[PlannedSlot], words: Words) -> tuple[str, ...]:
    """The heads of the cells; that of the count says what is counted in the sets of these slots."""
    found = {one.length.unit if one.length else "reps" for slot in slots for one in slot.work}
    units = [unit for unit in ("reps", "s", "m") if unit in found]
    counted = "/".join(words(f"log.column.{unit}") for unit in units) if len(units) < 3 else words("log.column.mixed")
    return (words("log.column.load"), counted, words("log.column.rir"), words("log.column.done"))


def asked(words: Words) -> tuple[str, ...]:
    """The captions of what is asked once a session."""
    return tuple(words(f"log.ask.{part}", unit=words.unit) for part in ASKED)


def asked_names(session: PlannedSession) -> tuple[str, ...]:
    """The names of the fields asked once a session."""
    return tuple(fields.write(SessionField(session.week, session.day, part)) for part in ASKED)


def session_fields(session: PlannedSession, words: Words) -> tuple[FieldSpec, ...]:
    """The fields over the log."""
    return tuple(
        FieldSpec(
            fields.write(SessionField(session.week, session.day, part)),
            "text",
            words(f"field.session.{part}", week=session.week, day=session.day, unit=words.unit),
            align="center",
            max_length=16,
            font_size=9 if part == "date" else 10,
        )
        for part in ASKED
    )


def note_field(session: PlannedSession, words: Words) -> FieldSpec:
    """The note under the log."""
    name = fields.write(SessionField(session.week, session.day, "note"))
    label = words("field.session.note", week=session.week, day=session.day)
    return FieldSpec(name, "multiline", label, max_length=600, font_size=9)


def rows_of(slots: Sequence[PlannedSlot], shape: Shape) -> int:
    """How many writing rows the slots take."""
    if shape is Shape.SINGLE:
        return sum(len(slot.work) for slot in slots)
    return sum((len(slot.work) + 1) // 2 for slot in slots)
