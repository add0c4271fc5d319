"""The tables of a report: records, missed sets, test results, notes, and the cells that could not be read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.log import Entry, SessionLog, TestLog
from builder.log.progress import NewRecord
from builder.log.report.context import UNKNOWN, ReportContext
from builder.log.report.series import BlockLog, Unread
from builder.training.estimate import MOST_REPS, estimate
from builder.values.fields import (
    AttemptField,
    Field,
    RecordField,
    ResultField,
    RetestNote,
    SessionField,
    SetField,
    SlotNote,
    TrendField,
    WeekField,
    write,
)
from builder.words import Words

MOST_ROWS = 24
"""Lines of one table; older ones are left out, and counted."""
MOST_NOTES = 40
NOTE_LETTERS = 320
CELL_LETTERS = 80


@dataclass(frozen=True, slots=True)
class Table:
    """A table as printed; `kind` names its columns for the style sheet. `none` stands in its place."""

    kind: str
    title: str
    lead: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str
    none: str = ""


def records_table(ctx: ReportContext) -> Table:
    """Every record in the order in which they fell."""
    rows = [_record(ctx, block, one) for block in ctx.blocks for one in block.sums.records]
    return _table(ctx, "records", ("when", "lift", "set", "beats", "why"), rows, none=True)


def missed_table(ctx: ReportContext) -> Table:
    """Every set of fewer reps than planned."""
    rows = [
        _missed(ctx, session, entry)
        for block in ctx.blocks
        for session in block.log.sessions
        for entry in session.entries
        if entry.missed
    ]
    return _table(ctx, "missed", ("when", "lift", "set", "planned", "done"), rows, none=True)


def tests_table(ctx: ReportContext) -> Table:
    """What was written on the test pages; no rows where nothing was."""
    told = [(block, test) for block in ctx.blocks for test in block.log.tests]
    rows = [_test(ctx, block, test) for block, test in told if test.attempts or test.best]
    return _table(ctx, "tests", ("when", "lift", "attempts", "result", "worth"), rows)


def unread_table(ctx: ReportContext) -> Table:
    """The cells that count for nothing; no rows where all were clear."""
    cells = [(block, cell) for block in ctx.blocks for cell in block.unread]
    rows = [
        (ctx.text(_place(ctx, block, cell.field)), str(cell.page or ctx.words("report.none")), _written(ctx, cell))
        for block, cell in cells
    ]
    return _table(ctx, "unread", ("where", "page", "text"), rows, lead=ctx.words("report.unread.lead"))


def notes(ctx: ReportContext) -> tuple[tuple[tuple[str, str], ...], str]:
    """Where and text of each note in the order of the days, the newest where there are too many; and a remark."""
    every = [(where, ctx.text(text, NOTE_LETTERS)) for block in ctx.blocks for where, text in _notes(ctx, block)]
    kept = every[-MOST_NOTES:]
    remarks = [ctx.words("report.left", count=len(every) - len(kept))] if len(kept) < len(every) else []
    remarks += [ctx.words("report.notes.signs")] if any(UNKNOWN in text for _, text in kept) else []
    return tuple(kept), " ".join(remarks)


def set_text(words: Words, load: str | None, reps: str, rir: Decimal | None = None) -> str:
    """A set such as "120 kg × 5, 1 in reserve"; without a load it was found by feel."""
    if load is None:
        return words("report.set.feel", reps=reps)
    if rir is None:
        return words("report.set", load=load, reps=reps)
    return words("report.set.rir", load=load, reps=reps, rir=words.number(rir))


def _table(
    ctx: ReportContext,
    kind: str,
    columns: Sequence[str],
    rows: Sequence[tuple[str, ...]],
    lead: str = "",
    *,
    none: bool = False,
) -> Table:
    words = ctx.words
    left = len(rows) - MOST_ROWS
    return Table(
        kind,
        words(f"report.{kind}"),
        lead if rows else "",
        tuple(words(f"report.{kind}.head.{column}") for column in columns),
        tuple(rows[-MOST_ROWS:]),
        words("report.left", count=left) if left > 0 else "",
        words(f"report.{kind}.none") if none and not rows else "",
    )


def _when(words: Words, on: date, week: int) -> str:
    return words("report.when", day=words.date(on), week=week)


def _own(block: BlockLog, movement: str) -> Decimal:
    lift = block.log.manifest.lift(movement)
    return lift.own if lift else Decimal(0)


def _record(ctx: ReportContext, block: BlockLog, one: NewRecord) -> tuple[str, ...]:
    words, own, beats = ctx.words, _own(block, one.movement), one.mark.beats
    fallen = set_text(words, ctx.load(beats.load, own), str(beats.reps), beats.rir or None)
    if beats.on is not None:
        fallen = words("report.set.at", set=fallen, date=words.date(beats.on))
    by_estimate = one.best or one.mark.basis == "estimate"
    why = "best" if by_estimate else "heaviest" if beats.load < one.load else "load"
    mine = set_text(words, ctx.load(one.load, own), str(one.reps))
    return _when(words, one.on, one.week), ctx.lift(one.movement), mine, fallen, words(f"report.records.why.{why}")


def _missed(ctx: ReportContext, session: SessionLog, entry: Entry) -> tuple[str, ...]:
    words, row = ctx.words, entry.row
    planned = set_text(words, _load(ctx, entry, row.load), _count(words, entry.planned_count, entry), row.rir)
    done = set_text(words, _load(ctx, entry, entry.load), _count(words, entry.reps or 0, entry), entry.rir)
    return _when(words, session.when, session.week), ctx.lift(row.movement), str(row.set), planned, done


def _load(ctx: ReportContext, entry: Entry, load: Decimal | None) -> str | None:
    """The load of a log row, with a plus where the bodyweight goes along; None where it is not known."""
    if load is None:
        return None
    shown = ctx.words.mass(load)
    return ctx.words("load.plus", load=shown) if entry.row.bodyweight else shown


def _count(words: Words, count: int, entry: Entry) -> str:
    return entry.row.told(count)


def _test(ctx: ReportContext, block: BlockLog, test: TestLog) -> tuple[str, ...]:
    words, manifest = ctx.words, block.log.manifest
    attempts = ", ".join(
        words("report.tests.good" if one.good else "report.tests.missed", load=words.amount(one.load))
        for one in test.attempts
    )
    result = worth = words("report.none")
    if test.best is not None:
        load, reps, rir = test.best
        shown = words.mass(load)
        shown = words("load.plus", load=shown) if test.planned.bodyweight else shown
        result = set_text(words, shown, str(reps), rir or None)
        lift = manifest.lift(test.planned.movement)
        if lift is not None and reps + rir <= MOST_REPS:
            worth = words.mass(estimate(lift.whole(load), reps, rir, lift.equation, manifest.table))
    when = _when(words, test.when, test.planned.week)
    return when, ctx.lift(test.planned.movement), attempts or words("report.none"), result, worth


def _notes(ctx: ReportContext, block: BlockLog) -> Iterator[tuple[str, str]]:
    words, log = ctx.words, block.log
    for session in log.sessions:
        day = words.date(session.when)
        if session.note:
            yield words("report.notes.session", day=day, week=session.week), session.note
        for slot, note in session.notes:
            lift = ctx.lift(next(e.row.movement for e in session.entries if e.row.slot == slot))
            yield words("report.notes.slot", day=day, week=session.week, lift=lift), note
    for test in log.tests:
        if test.note:
            yield words("report.notes.test", lift=ctx.lift(test.planned.movement)), test.note
    if log.note:
        yield words("report.notes.retest"), log.note
    for week in log.weeks:
        for part, said in (("good", week.good), ("mend", week.mend)):
            if said:
                yield words(f"field.week.{part}", week=week.week), said
    for one in log.records:
        own = _own(block, one.movement)
        load = None if one.load is None else words.mass(one.load)
        shown = set_text(words, words("load.plus", load=load) if own and load else load, str(one.reps))
        when = words("report.set.at", set=shown, date=words.date(one.on)) if one.on else shown
        yield words("report.notes.record", lift=ctx.lift(one.movement)), when


def _written(ctx: ReportContext, cell: Unread) -> str:
    words = ctx.words
    shown = [words("report.unread.several", text=ctx.text(text, CELL_LETTERS)) for text in cell.texts]
    return words("report.unread.between").join(shown) if shown else words("report.unread.blank")


def _place(ctx: ReportContext, block: BlockLog, field: Field) -> str:
    """Where a field stands, in words."""
    words, manifest = ctx.words, block.log.manifest
    match field:
        case SetField(week, day, slot, number, part):
            lift = _of_slot(ctx, block, week, day, slot)
            return words("report.cell.set", week=week, day=day, lift=lift, set=number, part=_part(words, part))
        case SlotNote(week, day, slot):
            return words("report.cell.slot", week=week, day=day, lift=_of_slot(ctx, block, week, day, slot))
        case SessionField(week, day, part):
            return words("report.cell.session", week=week, day=day, part=_part(words, part))
        case AttemptField(lift, attempt, part):
            name = _of_test(ctx, block, lift)
            return words("report.cell.attempt", lift=name, attempt=attempt, part=_part(words, part))
        case ResultField(lift, part):
            return words("report.cell.result", lift=_of_test(ctx, block, lift), part=_part(words, part))
        case RecordField(lift, reps, part) if lift <= len(manifest.recorded):
            name = ctx.lift(manifest.recorded[lift - 1])
            return words("report.cell.record", lift=name, reps=reps, part=_part(words, part))
        case TrendField(lift, week) if lift <= len(manifest.recorded):
            return words("records.label.trend", lift=ctx.lift(manifest.recorded[lift - 1]), week=week, unit=words.unit)
        case WeekField(week, part):
            return words(f"field.week.{part}", week=week, unit=words.unit)
        case RetestNote():
            return words("report.notes.retest")
    return words("report.cell.other", name=write(field))


def _part(words: Words, part: str) -> str:
    return words(f"report.part.{part}")


def _of_slot(ctx: ReportContext, block: BlockLog, week: int, day: int, slot: int) -> str:
    rows = block.log.manifest.rows
    found = (row.movement for row in rows if (row.week, row.day, row.slot) == (week, day, slot))
    return ctx.lift(next(found, ctx.words("report.none")))


def _of_test(ctx: ReportContext, block: BlockLog, number: int) -> str:
    tests = block.log.manifest.tests
    return ctx.lift(tests[number - 1].movement) if number <= len(tests) else str(number)
