"""The back matter in its order; here the records and the trend."""

from __future__ import annotations

from dataclasses import dataclass

from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.page import drawn
from builder.pages.figures.trend import trend_drawing
from builder.pages.model import Edition, Paper, Section
from builder.pages.names import movement_title
from builder.pages.reference import after_section, again_section, reference_section
from builder.pages.tables import effort_section, load_section
from builder.pages.testday import tested_lifts
from builder.plan.model import LiftNumbers, Plan
from builder.plan.numbers import carried
from builder.training.records import Performance
from builder.values.fields import FieldSpec, RecordField, RecordPart, TrendField, write
from builder.words import Words

MOST_REPS = 10
MOST_LIFTS = {True: 2, False: 4}
"""Lifts in one record table, on small paper and on large, so that a date is written with ease."""
PARTS: tuple[RecordPart, ...] = ("load", "date")
TREND_HEIGHTS = {Paper.A4: 56.0, Paper.LETTER: 48.0, Paper.A5: 51.0, Paper.HALF_LETTER: 55.0}
TREND_ENLARGED = 44.0
"""mm of a trend with the cells below it."""
MOST_WEEKS, CELL, APART = 12, 8.0, 4.0
"""Cells below a trend, one for each week, or for each second or third of a long block; mm of their height in
print, and between two trends."""
ACROSS = {True: 4, False: 6}
"""Cells in a row, on small paper and on large."""


@dataclass(frozen=True, slots=True)
class RecordCell:
    """A record as printed, with its date or the reps it was lifted for, "" where there is none yet; beside it the
    fields of a new one.
    """

    load: str
    note: str
    new_load: str
    new_date: str


@dataclass(frozen=True, slots=True)
class Trend:
    """How the max of a lift goes: its chart, and below it a cell for each of some weeks, by its number and field."""

    lift: str
    chart: Drawing
    weeks: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class RecordTable:
    """The records of some lifts by reps, with room beside each for a new one, and the trend of these lifts."""

    lifts: tuple[str, ...]
    rows: tuple[tuple[str, tuple[RecordCell, ...]], ...]
    trends: tuple[Trend, ...]


@dataclass(frozen=True, slots=True)
class RecordPages:
    """Record tables and trends; with `apart` all trends stand behind all tables."""

    title: str
    lead: str
    corner: str
    best: str
    new: str
    tables: tuple[RecordTable, ...]
    trend_title: str
    trend_caption: str
    across: int
    cell_mm: float
    apart: bool


def back_sections(ctx: Context) -> tuple[Section, ...]:
    """Records, load table, effort table, and what comes after the block; the coach's copy has all texts besides."""
    loads = load_section(ctx)
    records = records_section(ctx)
    return (
        *((records,) if records else ()),
        *((loads,) if loads else ()),
        effort_section(ctx),
        *((reference_section(ctx), again_section(ctx)) if ctx.edition is Edition.COACH else (after_section(ctx),)),
    )


def records_section(ctx: Context) -> Section | None:
    """The record tables and trends of the tested lifts; None when there is none."""
    words = ctx.words
    if not ctx.plan.lifts:
        return None
    page = RecordPages(
        words("records.title"),
        words("records.lead", unit=words.unit),
        words("records.reps"),
        words("records.best"),
        words("records.new"),
        tuple(_record_table(ctx, lifts) for lifts in _shared_out(ctx)),
        words("records.trend"),
        words("records.trend.caption", unit=words.unit),
        ACROSS[ctx.paper.small],
        _cell(ctx),
        ctx.sheet.enlarged,
    )
    return Section("records", page.title, "records", page, fields=_record_fields(ctx))


def record_numbers(plan: Plan) -> dict[str, int]:
    """The number of each lift in the names of its record fields: tested lifts as on test day, then the others."""
    tested = [one.slot.movement for one in tested_lifts(plan)]
    names = dict.fromkeys((*tested, *(numbers.movement for numbers in plan.lifts)))
    return {name: number for number, name in enumerate(names, 1)}


def _record_fields(ctx: Context) -> tuple[FieldSpec, ...]:
    """In the order in which they are read: row by row, load before date; then the weeks of each lift."""
    specs: list[FieldSpec] = []
    trends: list[FieldSpec] = []
    for lifts in _shared_out(ctx):
        specs += (
            _record_field(ctx, numbers, reps, part)
            for reps in range(1, MOST_REPS + 1) for numbers in lifts for part in PARTS
        )  # fmt: skip
        weeks = [_trend_field(ctx, numbers, week, name) for numbers in lifts for week, name in _weeks(ctx, numbers)]
        # In large print the trends stand behind all tables, and so do their fields.
        (trends if ctx.sheet.enlarged else specs).extend(weeks)
    return (*specs, *trends)


def _record_field(ctx: Context, numbers: LiftNumbers, reps: int, part: RecordPart) -> FieldSpec:
    number = record_numbers(ctx.plan)[numbers.movement]
    label = ctx.words(f"records.label.{part}", lift=movement_title(numbers.movement, ctx.words), count=reps)
    return FieldSpec(write(RecordField(number, reps, part)), "text", label, align="center", font_size=9)


def _trend_field(ctx: Context, numbers: LiftNumbers, week: int, name: str) -> FieldSpec:
    lift = movement_title(numbers.movement, ctx.words)
    label = ctx.words("records.label.trend", lift=lift, week=week, unit=ctx.words.unit)
    return FieldSpec(name, "text", label, align="center", max_length=12, font_size=9)


def _weeks(ctx: Context, numbers: LiftNumbers) -> tuple[tuple[int, str], ...]:
    """The weeks that have a cell, each with its field."""
    last, lift = len(ctx.plan.weeks), record_numbers(ctx.plan)[numbers.movement]
    step = -(-last // MOST_WEEKS)
    return tuple((week, write(TrendField(lift, week))) for week in range(step, last + 1, step))


def _shared_out(ctx: Context) -> list[tuple[LiftNumbers, ...]]:
    """The lifts in as few tables as hold them, of nearly equal size."""
    lifts = ctx.plan.lifts
    tables = -(-len(lifts) // MOST_LIFTS[ctx.sheet.facing])
    # Nearly equal, so that no table stands with a single lift beside two full ones.
    each = -(-len(lifts) // tables)
    return [lifts[i : i + each] for i in range(0, len(lifts), each)]


def _record_table(ctx: Context, lifts: tuple[LiftNumbers, ...]) -> RecordTable:
    rows = tuple((str(reps), tuple(_best(ctx, n, reps) for n in lifts)) for reps in range(1, MOST_REPS + 1))
    width = ctx.sheet.width if len(lifts) == 1 and not ctx.sheet.enlarged else _half(ctx)
    return RecordTable(
        tuple(movement_title(n.movement, ctx.words) for n in lifts), rows, tuple(_trend(ctx, n, width) for n in lifts)
    )


def _trend(ctx: Context, numbers: LiftNumbers, width: float) -> Trend:
    weeks = _weeks(ctx, numbers)
    cells = -(-len(weeks) // ACROSS[ctx.paper.small]) * _cell(ctx)
    height = round((TREND_ENLARGED if ctx.sheet.enlarged else TREND_HEIGHTS[ctx.paper]) - cells, 2)
    drawing = trend_drawing(ctx.words, numbers, len(ctx.plan.weeks), (width, height), ctx.accent)
    return Trend(movement_title(numbers.movement, ctx.words), drawn(drawing, ctx.theme), weeks)


def _cell(ctx: Context) -> float:
    # Rounded up: magnified, no cell is lower than it has to be to be written in.
    return round(CELL / ctx.sheet.zoom + 0.005, 2)


def _best(ctx: Context, numbers: LiftNumbers, reps: int) -> RecordCell:
    words, done = ctx.words, dict(numbers.best_by_reps).get(reps)
    number = record_numbers(ctx.plan)[numbers.movement]
    load, date = (write(RecordField(number, reps, part)) for part in PARTS)
    if done is None:
        return RecordCell("", "", load, date)
    shown = words.amount(done.load - carried(ctx.plan.client, numbers.about))
    return RecordCell(shown, _best_note(words, done, reps), load, date)


def _best_note(words: Words, done: Performance, reps: int) -> str:
    if done.reps > reps:
        return words("records.from", reps=done.reps)
    if done.on is None:
        return ""
    return words("records.day", day=done.on.day, month=words.month(done.on), year=done.on.year % 100)


def _half(ctx: Context) -> float:
    """Two trends stand side by side on every paper; one by itself takes the whole width, unless letters are large."""
    return round((ctx.sheet.width - APART) / 2, 2)
