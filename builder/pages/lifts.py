"""One lift of a session on one page: its lines with load and plates, its set boxes and the notes that belong to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import accumulate, count, pairwise

from builder.given import Equipment
from builder.pages import measures as drawn
from builder.pages.columns import Columns, Heights, columns, heights
from builder.pages.context import Context
from builder.pages.demos import shown_at
from builder.pages.faces import Faces
from builder.pages.names import slot_name
from builder.pages.planview import BETWEEN_STEPS, Note, note_lines, slot_notes, tags_of
from builder.pages.setlines import (
    SetRun,
    each_words,
    groups,
    leave_text,
    load_text,
    planned_text,
    ramp_steps,
    rest_text,
    scheme_text,
    side_words,
    told_alike,
    unit_text,
)
from builder.pages.sheet import Density
from builder.pages.widths import after, plates, turned
from builder.plan.model import PlannedSession, PlannedSlot
from builder.values import fields
from builder.values.fields import SetField, SlotNote
from builder.words import Words, unbroken

FEEL_BOX, PLATES_ROW, NOTE_BOX = 18.0, 6.4, 8.0
"""mm of the box for a load that is found by feel, of plates in a row of their own, and of the lowest note."""
TUCKED = 8.9
"""mm of a name with its sets below it, beside the load."""


@dataclass(frozen=True, slots=True)
class LoadLine:
    """Sets that are alike: what to load, and what to do with it.

    `pick` says what is taken where there are no plates, `each` that plates are those of one side, or a load that of one
    hand. `today` marks the box for a load that overrules the printed one; a lift `by_feel` has that box in place of a
    load, and one of the body alone has neither.
    One with the `same` load as the line above says only what is done; it is `raised` by so many mm where that one is
    higher than the name and the sets beside its plates.
    """

    scheme: str
    role: str
    leave: str
    rest: str
    record: str
    sign: str
    load: str
    unit: str
    side: str
    each: str
    each_below: bool
    pick: str
    today: str
    by_feel: bool
    same: bool
    milestone: bool
    line_mm: float
    height: float
    raised: float = 0.0


@dataclass(frozen=True, slots=True)
class BoxRow:
    """A row of set boxes: the number and the planned value of each, and the field mark of all."""

    boxes: tuple[tuple[int, str], ...]
    marks: str


@dataclass(frozen=True, slots=True)
class JotBox:
    """The note of a lift: its field and where it lies, in mm from the top left of the set boxes."""

    name: str
    left: float
    top: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class LaidLift:
    """One slot as it is set at one density. `name_mm` is what name and sets have beside the load, `height` all of it.

    With `tucked` the sets stand below the name, beside the load. The `ramp` stands beside them where it has room; else
    it is told, with tags and a rest that found none, on the `right` below what is picked, or in a `small` line.
    """

    number: int
    name: str
    link: str
    tags: str
    name_mm: float
    tucked: bool
    main: bool
    lines: tuple[LoadLine, ...]
    ramp: str
    right: str
    small: str
    rows: tuple[BoxRow, ...]
    box_mm: float
    under_mm: float
    jot: JotBox | None
    notes: tuple[Note, ...]
    scheme_mm: float
    small_mm: float
    log_mm: float
    height: float


def with_note(one: LaidLift, session: PlannedSession, high: float, at: Columns) -> LaidLift:
    """A lift whose set boxes leave no room for its note, with one below them that is `high` mm."""
    name = fields.write(SlotNote(session.week, session.day, one.number))
    jot, more = JotBox(name, 0.0, one.log_mm, at.log_width, round(high, 2)), high + one.under_mm
    return replace(one, jot=jot, log_mm=round(one.log_mm + more, 2), height=round(one.height + more, 2))


@dataclass(frozen=True, slots=True)
class LiftText:
    """What is said of a slot at every density; `number` counts it from 1 in its session, `room` is mm beside its load.

    The first line is as `wide` in mm with its rest and record, `unrested` without the rest, and `alone` without both.
    """

    number: int
    slot: PlannedSlot
    found: tuple[SetRun, ...]
    name: str
    tags: str
    room: float
    warm: str
    wide: float
    unrested: float
    alone: float
    lines: tuple[LoadLine, ...]
    rows: tuple[BoxRow, ...]


def lift_text(ctx: Context, session: PlannedSession, number: int) -> LiftText:
    """What is said of the slot that counts `number` from 1 in its session; its lines have no height yet."""
    slot, words, at = session.slots[number - 1], ctx.words, columns(ctx.sheet)
    found = tuple(told_alike(groups(slot), words))
    ramp = BETWEEN_STEPS.join(ramp_steps(slot, words))
    roles = slot.kind == "top_set" or len({group.one.role for group in found}) > 1
    firsts = zip(found, accumulate((group.count for group in found), initial=1), strict=False)
    lines = tuple(
        _line(ctx, session, number, group, first, at, roles=roles, same=place > 0 and _alike(found[place - 1], group))
        for place, (group, first) in enumerate(firsts)
    )
    unrested = replace(lines[0], rest="")
    return LiftText(
        number=number,
        slot=slot,
        found=found,
        name=slot_name(slot, words),
        tags=" · ".join(unbroken(tag) for tag in tags_of(ctx, slot)),
        room=_beside_load(ctx, at, [line.load for line in lines], words("set.about") if slot.estimated else ""),
        warm=f"{words('session.ramp')} {ramp}" if ramp else "",
        wide=_line_width(ctx.faces, lines[0]),
        unrested=_line_width(ctx.faces, unrested),
        alone=_line_width(ctx.faces, replace(unrested, record="")),
        lines=lines,
        rows=tuple(_rows(session, number, at, words)),
    )


def lift(
    ctx: Context, session: PlannedSession, number: int, density: Density, *, marks: float = 0.0
) -> LaidLift:  # fmt: skip
    """The slot that counts `number` from 1 in its session, at one density; mm for `marks` in the line of its sets."""
    text = lift_text(ctx, session, number)
    return laid(ctx, session, replace(text, wide=text.wide + marks, unrested=text.unrested + marks), density)


def laid(ctx: Context, session: PlannedSession, text: LiftText, density: Density) -> LaidLift:
    """A slot as it is set at one density."""
    at, mm, room, tags, faces = columns(ctx.sheet), heights(density), text.room, text.tags, ctx.faces
    dense, named = density is Density.DENSE, _name_lines(faces, text, "")
    tucked = dense and named == 1 and text.alone <= room - drawn.LIFT_IN
    below = tags if dense and _name_lines(faces, text, tags) > named else ""
    tags = "" if below else tags
    rested = not tucked or text.wide <= room - drawn.LIFT_IN
    marked = not tucked or text.unrested <= room - drawn.LIFT_IN
    first = _name_lines(faces, text, tags)
    lines = tuple(_high(faces, line, at, mm, rows=1 if place else first) for place, line in enumerate(text.lines))
    free = at.width - (text.wide if rested else text.unrested) - 4
    beside = not tucked and faces.medium.width(text.warm, drawn.LIFT_SMALL) <= free
    apart = (below, "" if marked else lines[0].record, "" if rested else lines[0].rest, "" if beside else text.warm)
    small = " · ".join(filter(None, apart))
    right = _fits_right(faces, small, lines[0], at)
    settled = _settled(faces, lines[0], at, below=right, rest=not rested, record=not marked)
    lines = (settled, *_rest_once(lines, text.found))
    lines = _raised(faces, lines, at) if tucked and not at.beside else lines
    notes = tuple(slot_notes(ctx, text.slot, density, by_feel=False))
    plan = _plan_height(ctx, lines, "" if right else small, notes, at, mm, tucked=tucked)
    log = len(text.rows) * (mm.box + mm.under)
    jot = _jot(session, text.number, at, mm, plan if at.beside else 0.0)
    if jot and jot.top >= log:
        log = jot.top + jot.height + mm.under
    body = max(plan, log) if at.beside else plan + log
    return LaidLift(
        number=text.number, name=text.name, link=shown_at(ctx, text.slot), tags=tags, name_mm=room, tucked=tucked,
        main=not text.slot.accessory, lines=lines, ramp=text.warm if beside else "", right=small if right else "",
        small="" if right else small, rows=text.rows, box_mm=mm.box, under_mm=mm.under, jot=jot, notes=notes,
        scheme_mm=mm.scheme, small_mm=mm.small, log_mm=round(log, 2), height=round(drawn.LIFT_RULE + body + mm.gap, 2),
    )  # fmt: skip


def _high(faces: Faces, line: LoadLine, at: Columns, mm: Heights, *, rows: int) -> LoadLine:
    """A line with its height beside a name of so many `rows`."""
    height = mm.scheme if line.same else max(mm.line, drawn.LIFT_UP + rows * drawn.LIFT_NAME.mm)
    bar = 0.0 if line.same else _bar_height(faces, line, at, below=bool(line.each))
    whole = height + bar if at.beside else max(height, bar)
    return replace(line, line_mm=round(height if at.beside else whole, 2), height=round(whole, 2))


def _settled(faces: Faces, line: LoadLine, at: Columns, *, below: bool, rest: bool, record: bool) -> LoadLine:
    """A line without what is told elsewhere, which may be `below` what is picked."""
    high = max(line.height, _bar_height(faces, line, at, below=True)) if below else line.height
    mm = line.line_mm + high - line.height
    rest_, record_ = "" if rest else line.rest, "" if record else line.record
    return replace(line, rest=rest_, record=record_, line_mm=round(mm, 2), height=round(high, 2))


def _rest_once(lines: tuple[LoadLine, ...], found: tuple[SetRun, ...]) -> Iterator[LoadLine]:
    """The further lines, each with its rest only where it is another one than before."""
    for line, (before, group) in zip(lines[1:], pairwise(found), strict=True):
        yield replace(line, rest="") if group.one.rest == before.one.rest else line


def _raised(faces: Faces, lines: tuple[LoadLine, ...], at: Columns) -> tuple[LoadLine, ...]:
    """The lines of a lift whose sets are tucked below its name, the second where plates of several lines leave room."""
    first, *others = lines
    free = first.line_mm - TUCKED
    if not others or not others[0].same or free <= 0 or _line_width(faces, others[0]) > at.plates - drawn.LIFT_IN - 2:
        return lines
    second = replace(others[0], raised=round(free, 2), height=round(max(others[0].height - free, 0.0), 2))
    return first, second, *others[1:]


def _beside_load(ctx: Context, at: Columns, loads: list[str], sign: str) -> float:
    """mm from the left edge to the widest load and the sign before it, or to the box for one found by feel."""
    widest = max(ctx.faces.bold.width(load, at.load_points) if load else FEEL_BOX for load in loads)
    before = ctx.faces.medium.width(f"{sign} ", drawn.LIFT_SETS.points) if sign else 0.0
    return round(at.axis - widest - before - 2.0, 2)


def _name_lines(faces: Faces, text: LiftText, tags: str) -> int:
    """The lines that a name and the tags behind it take."""
    begun = faces.bold.width(f"{text.number} ", drawn.LIFT_NAME.points) + drawn.LIFT_NUMBER_GAP
    *name, (last, space) = faces.bold.parts(text.name, drawn.LIFT_NAME.points)
    alone = turned((*name, (last, 0.0)), text.room, drawn.LIFT_IN, begun)
    if not tags:
        return alone
    # A name that leaves no room for the space behind it is set anew, and a long word in it broken where none need be.
    anew = turned((*name, (last + space, 0.0)), text.room, drawn.LIFT_IN, begun) - alone
    behind = after(drawn.LIFT_TAG_GAP, faces.medium.parts(tags, drawn.LIFT_SMALL))
    return anew + turned((*name, (last + space, 0.0), *behind), text.room, drawn.LIFT_IN, begun)


def _rest(group: SetRun, words: Words) -> str:
    rest = rest_text(group.one.rest, words)
    return unbroken(words("set.rest", rest=rest)) if rest else ""


def _fits_right(faces: Faces, small: str, line: LoadLine, at: Columns) -> bool:
    """Whether the small line fits below what is picked, behind the words for one hand."""
    each = f"{line.each} · " if line.each else ""
    if at.beside or not (small and line.pick):
        return False
    return faces.medium.width(each + small, drawn.LIFT_SMALL) <= at.plates_width


def _role(group: SetRun, words: Words) -> str:
    return words(f"set.role.{group.one.role}")


def _alike(one: SetRun, other: SetRun) -> bool:
    """Whether a group has the load of the one before it, which need not be told again."""
    mine, following = one.one.rung, other.one.rung
    return following is None if mine is None else following is not None and mine.mass == following.mass


def _line_width(faces: Faces, line: LoadLine) -> float:
    """mm of what is done, as a line says it."""
    told = " · ".join((f" {line.role}" if line.role else "", *filter(None, (line.leave, line.rest))))
    width = faces.bold.width(line.scheme, drawn.LIFT_SETS.points) + faces.medium.width(told, drawn.LIFT_SETS.points)
    if not line.record:
        return width
    width += faces.medium.width(" ", drawn.LIFT_SETS.points) + drawn.LIFT_RECORD_GAP
    return width + faces.semibold.width(line.record, drawn.LIFT_SMALL)


def _line(
    ctx: Context, session: PlannedSession, number: int, group: SetRun, first: int, at: Columns, *,
    roles: bool, same: bool,
) -> LoadLine:  # fmt: skip
    """The line of a group of sets, without its height."""
    slot, one, words = session.slots[number - 1], group.one, ctx.words
    load, side = load_text(slot, one.rung, words), side_words(slot, one.rung, words)
    boxed = not (slot.drill or same or slot.unloaded)
    today = fields.write(SetField(session.week, session.day, number, first, "today")) if boxed else ""
    pick = _pick(slot, load, words)
    each = each_words(slot, one.rung, words) or (words("hand.each") if load and slot.per_hand else "")
    return LoadLine(
        scheme=scheme_text(group, words), role=_role(group, words) if roles else "",
        leave=leave_text(one, words), rest=_rest(group, words),
        record=words("set.record", reps=one.mark.reps) if one.mark else "",
        sign=words("set.about") if slot.estimated and load else "",
        load=load, unit=str(words.unit) if unit_text(slot, one.rung, words) else "",
        side="" if same else side,
        each=each, each_below=not at.beside, pick=pick,
        today=today, by_feel=not load and not slot.unloaded, same=same, milestone=one.milestone,
        line_mm=0.0, height=0.0,
    )  # fmt: skip


def _pick(slot: PlannedSlot, load: str, words: Words) -> str:
    """What is taken in hand or set where nothing is loaded on a bar."""
    if slot.unloaded:
        return ""
    if not load:
        return words("set.feel.short")
    if slot.about.equipment in (Equipment.BARBELL, Equipment.BODYWEIGHT):
        return ""
    return words.implement(slot.implement)


def _bar_height(faces: Faces, line: LoadLine, at: Columns, *, below: bool) -> float:
    """mm of the plates of a side, or of what is picked, with a small line `below`."""
    if not (line.side or line.pick):
        return 0.0
    parts = [*faces.semibold.parts(plates(line.side) or line.pick, at.plates_points)]
    if at.beside:
        parts += [(faces.medium.width(line.each, drawn.LIFT_SMALL), 0.0)] if line.each else []
        return PLATES_ROW * turned(parts, at.plates_width)
    return drawn.SIDE_UP + drawn.SIDE_LINE * turned(parts, at.plates_width) + (drawn.SIDE_CAPTION if below else 0.0)


def _rows(session: PlannedSession, number: int, at: Columns, words: Words) -> Iterator[BoxRow]:
    slot = session.slots[number - 1]
    for start in range(0, len(slot.work), at.boxes):
        sets = slot.work[start : start + at.boxes]
        boxes = tuple(
            (place, planned_text(slot, one, words, "set.cell")) for place, one in zip(count(start + 1), sets)
        )
        yield BoxRow(boxes, _marks(session, number, [place for place, _ in boxes], at))


def _marks(session: PlannedSession, number: int, sets: list[int], at: Columns) -> str:
    """Tick and write-in of each box in shares of the row."""
    whole, marks = at.across(len(sets)), []
    for place, set_ in enumerate(sets):
        left = place * (at.box + at.gap)
        edges = (left, left + at.tick, left + at.box)
        for part, x0, x1 in zip(("done", "did"), edges, edges[1:], strict=False):
            name = fields.write(SetField(session.week, session.day, number, set_, part))  # type: ignore[arg-type]
            marks.append(f"{name}@{x0 / whole:.5f},{min(x1 / whole, 1):.5f}")
    return ";".join(marks)


def _jot(session: PlannedSession, number: int, at: Columns, mm: Heights, plan: float) -> JotBox | None:
    """The note where set boxes leave room: at the end of their last row, or below them beside a long plan."""
    sets, row = len(session.slots[number - 1].work), mm.box + mm.under
    name = fields.write(SlotNote(session.week, session.day, number))
    rows, last = divmod(sets, at.boxes)
    if last:
        left = last * (at.box + at.gap)
        return JotBox(name, round(left, 3), round(rows * row, 2), round(at.log_width - left, 3), mm.box)
    left_over = plan - rows * row
    if left_over >= NOTE_BOX:
        return JotBox(name, 0.0, round(rows * row, 2), at.log_width, round(left_over - mm.under, 2))
    return None


def _plan_height(
    ctx: Context, lines: tuple[LoadLine, ...], small: str, notes: tuple[Note, ...], at: Columns, mm: Heights, *,
    tucked: bool,
) -> float:  # fmt: skip
    told = sum(note_lines(ctx.faces, note, drawn.NOTE, at.width) for note in notes)
    told += ctx.faces.medium.lines(small, drawn.LIFT_SMALL, at.width)
    return sum(line.height for line in lines) + (0 if tucked else mm.scheme) + mm.small * told


__all__ = ["BoxRow", "JotBox", "LaidLift", "LiftText", "LoadLine", "laid", "lift", "lift_text", "with_note"]
