"""One slot of a plan page: name, tags, ramp, lines of sets and the notes that belong to them, with their height."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from builder.given import Equipment
from builder.pages.context import Context
from builder.pages.decisions import decisions
from builder.pages.demos import shown_at
from builder.pages.faces import Faces
from builder.pages.grid import set_columns
from builder.pages.measures import (
    NOTE_IN,
    PLAN_NUMBER_GAP,
    PLAN_RAMP,
    PLAN_RAMP_IN,
    PLAN_SIDE_GAP,
    PLAN_SIDE_LINE,
    PLAN_TAG_GAP,
)
from builder.pages.names import slot_name
from builder.pages.reasons import reason_sentence
from builder.pages.setlines import SetLine, ramp_steps, set_lines
from builder.pages.sheet import Density
from builder.pages.widths import after, plates, turned
from builder.plan.model import PlannedSlot
from builder.training.estimate import MOST_REPS, estimate
from builder.words import Words, unbroken

BETWEEN_STEPS = "\N{NO-BREAK SPACE} \N{NO-BREAK SPACE}"
"""Keeps the steps of a ramp apart, which begin and end with figures."""


@dataclass(frozen=True, slots=True)
class Note:
    """A sentence under the sets with its mark; `kind` is next, effort, caution, cue, pins or swap.

    A small table in one line has `cells`, a head and a value each, behind its `lead`; `text` is the whole of it.
    """

    kind: str
    mark: str
    text: str
    lead: str = ""
    cells: tuple[tuple[str, str], ...] = ()


def note(words: Words, kind: str, text: str) -> Note:
    """A sentence with the mark of its kind."""
    return Note(kind, words(f"mark.{kind}"), text)


@dataclass(frozen=True, slots=True)
class SlotView:
    """What a plan page prints of one slot; `height` is in mm, the gap below included."""

    number: int
    name: str
    link: str
    tags: tuple[str, ...]
    ramp: tuple[str, ...]
    lines: tuple[SetLine, ...]
    notes: tuple[Note, ...]
    main: bool
    height: float


def slot_view(ctx: Context, slot: PlannedSlot, number: int, density: Density) -> SlotView:
    """The slot that counts `number` from 1 in its session, as set at one density."""
    words = ctx.words
    lines = set_lines(slot, words)
    ramp = ramp_steps(slot, words)
    notes = tuple(slot_notes(ctx, slot, density))
    name, tags = slot_name(slot, words), tuple(tags_of(ctx, slot))
    return SlotView(
        number=number,
        name=name,
        link=shown_at(ctx, slot),
        tags=tags,
        ramp=ramp,
        lines=lines,
        notes=notes,
        main=not slot.accessory,
        height=_height(ctx, ramp, lines, notes, density) + _turned_over(ctx, f"{number} ", name, tags, density),
    )


def _height(
    ctx: Context,
    ramp: tuple[str, ...],
    lines: tuple[SetLine, ...],
    notes: tuple[Note, ...],
    density: Density,
) -> float:
    page = ctx.sheet
    mm = page.lines(density)
    rows = sum(max(mm.work, PLAN_SIDE_LINE * _side_rows(ctx, line.side)) for line in lines)
    printed = mm.note.mm * sum(note_lines(ctx.faces, one, mm.note.points, page.plan) for one in notes)
    steps = BETWEEN_STEPS.join((ctx.words("session.ramp"), *ramp))
    ramps = turned(ctx.faces.medium.parts(steps, PLAN_RAMP), page.plan, PLAN_RAMP_IN, 0.0) if ramp else 0
    return mm.name.mm + rows + mm.ramp * ramps + printed + mm.gap


def _side_rows(ctx: Context, side: str) -> int:
    """Rows that plates take in their column."""
    at = set_columns(ctx.sheet)
    return ctx.faces.semibold.lines(plates(side), at.points, at.side - PLAN_SIDE_GAP)


def _turned_over(ctx: Context, number: str, name: str, tags: tuple[str, ...], density: Density) -> float:
    """mm for a name and its tags where they do not fit in a line."""
    page, set_in, face = ctx.sheet, ctx.sheet.lines(density).name, ctx.faces.bold
    small = 9.0 if page.enlarged else 8.5
    behind = after(PLAN_TAG_GAP, ctx.faces.text.parts(" · ".join(tags), small)) if tags else ()
    first = face.width(number, set_in.points) + PLAN_NUMBER_GAP
    # As one text: tags go on in the line where the name ends, so neither can be counted by itself.
    return set_in.mm * (turned((*face.parts(name, set_in.points), *behind), page.plan, first=first) - 1)


def note_lines(faces: Faces, told: Note, points: float, width: float) -> int:
    """The lines that a note takes behind its mark, its values in bold."""
    parts = [*faces.text.parts(f"{told.mark} {told.lead or told.text}", points)]
    for head, value in told.cells:
        *firsts, (last, _) = faces.text.parts(f"{head}\N{NO-BREAK SPACE}", points)
        (bold, gap), *rest = faces.strong.parts(value, points)
        parts += [*firsts, (last + bold, gap), *rest]
    return turned(parts, width, NOTE_IN, 0.0)


def tags_of(ctx: Context, slot: PlannedSlot) -> Iterator[str]:
    """What stands small beside the name of a slot."""
    words = ctx.words
    if slot.stress:
        yield words(f"stress.{slot.stress}")
    if slot.superset:
        yield words("tag.superset", letter=slot.superset)
    if slot.tempo:
        yield words("tag.tempo", tempo=slot.tempo)
    if slot.about.rep and not any(one.length for one in slot.work):
        yield words("tag.rep", rep=unbroken(slot.about.rep))
    if slot.about.each_side:
        yield words("tag.each_side")
    # With one bar there is nothing to tell apart.
    if slot.about.equipment is Equipment.BARBELL and len(ctx.plan.client.gym.bars) > 1:
        yield slot.implement


def slot_notes(ctx: Context, slot: PlannedSlot, density: Density, *, by_feel: bool = True) -> Iterator[Note]:
    """The notes under a slot's sets, most needed first; how a load is found `by_feel` may be told elsewhere."""
    words = ctx.words
    if slot.zone:
        yield note(words, "effort", slot.zone)
    yield from _place_notes(slot, words)
    yield from _effort_notes(slot, words, by_feel=by_feel)
    yield from _next_notes(slot, words)
    if density is not Density.DENSE:
        yield from _worth_notes(ctx, slot)
    yield from _caution_notes(slot, words, roomy=density is not Density.DENSE)
    most = ctx.sheet.lines(density).cues[slot.accessory]
    if cues := slot.cues[:most]:
        yield note(words, "cue", " ".join(words.cue(cue) for cue in cues))


def _place_notes(slot: PlannedSlot, words: Words) -> Iterator[Note]:
    if slot.pin is not None:
        hole, height = slot.pin.hole, slot.pin.centimetres
        if hole is not None and height is not None:
            yield note(words, "pins", words("pins.both", hole=hole, centimetres=words.number(height)))
        elif hole is not None:
            yield note(words, "pins", words("pins.hole", hole=hole))
        elif height is not None:
            yield note(words, "pins", words("pins.height", centimetres=words.number(height)))
    if slot.replaces is not None:
        yield note(
            words, "swap", words("note.replaces", replaces=words.movement(slot.replaces), area=slot.replaced_for or "")
        )
    for one in slot.changed:
        told = words(f"note.changed.{one.verb}", replaces=words.movement(one.movement))
        yield note(words, "swap", " ".join(filter(None, (told, one.why))))
    for reason in slot.notes:
        yield note(words, "caution", reason_sentence(words, reason))


def _effort_notes(slot: PlannedSlot, words: Words, *, by_feel: bool) -> Iterator[Note]:
    work = slot.work
    for one in work:
        if one.bracket is not None and one.rir is not None:
            low, high = (words.amount(rung.mass) for rung in one.bracket)
            yield note(words, "effort", words("note.bracket", low=low, high=high, unit=words.unit, rir=one.rir))
    feel = next((one for one in work if one.rung is None), None)
    if feel is not None and by_feel and not slot.unloaded:
        told = words("note.feel.free") if feel.rir is None else words("note.feel", rir=feel.rir)
        yield note(words, "effort", told)
    yield from _start_notes(slot, words)
    for number, one in enumerate(work, 1):
        if one.open_ended and one.rir is not None:
            key = "note.open" if number == len(work) else "note.open.nth"
            told = words(key, number=number, rir=one.rir, most=one.most_reps or one.reps)
            yield note(words, "effort", told)


def _start_notes(slot: PlannedSlot, words: Words) -> Iterator[Note]:
    """The first time that a load is the coach's and nothing is known of the lift: how to find a better one."""
    one = slot.work[0]
    if slot.exposure == 1 and one.rung is not None and one.rir is not None and slot.belief is None:
        yield note(words, "effort", words("note.start", rir=one.rir))


def _caution_notes(slot: PlannedSlot, words: Words, *, roomy: bool) -> Iterator[Note]:
    if slot.drill is not None:
        yield note(words, "caution", words(f"caution.drill.{slot.drill.replace(' ', '-')}"))
    elif slot.about.cautions and slot.about.overhead_risk and not slot.accessory and roomy:
        yield note(words, "caution", words.cue(slot.about.cautions[0]))


def _next_notes(slot: PlannedSlot, words: Words) -> Iterator[Note]:
    """What the next exposure, or the back-off sets, take after each outcome."""
    if found := decisions(slot, words):
        yield _table(words, "next", words(_next_lead(slot)), found)


def _next_lead(slot: PlannedSlot) -> str:
    if slot.lessons:
        return "next.learn" if slot.lessons[0].off else "next.learn.top"
    return "next.back-off" if slot.outcomes[0].top else "next"


def _table(words: Words, kind: str, lead: str, cells: tuple[tuple[str, str], ...]) -> Note:
    dot = words("next.between")
    shown = tuple((f"{dot if place else ''}{head}", value) for place, (head, value) in enumerate(cells))
    text = " ".join((lead, *(f"{head} {value}" for head, value in shown)))
    return Note(kind, words(f"mark.{kind}"), text, lead, shown)


MOST_WORTHS = 5
"""Numbers of reps of an open set that are printed with the max that each of them means."""


def _worth_notes(ctx: Context, slot: PlannedSlot) -> Iterator[Note]:
    """What each number of reps of an open set says of the max, by the lift's own equation."""
    last, numbers = slot.work[-1], ctx.plan.lift(slot.lift)
    # What is loaded by the max of another lift tells nothing of that max.
    if not last.open_ended or last.rung is None or numbers is None or slot.estimated or slot.movement != slot.lift:
        return
    rir = last.rir or Decimal(0)
    most = min(last.most_reps or last.reps, last.reps + MOST_WORTHS - 1, MOST_REPS - int(rir))
    load = numbers.whole(last.rung.mass)
    maxes = [
        (reps, estimate(load, reps, rir, numbers.equation, ctx.plan.rows)) for reps in range(last.reps, most + 1)
    ]
    words = ctx.words
    cells = tuple((unbroken(words("note.worth.row", reps=reps)), words.mass(numbers.load_of(kg))) for reps, kg in maxes)
    if cells:
        yield _table(ctx.words, "effort", ctx.words("note.worth", rir=rir), cells)
