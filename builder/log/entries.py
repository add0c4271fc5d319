"""All texts of a form to a log: rows, sessions, tests, records; what cannot be read becomes a located problem.

Why nothing is guessed. What is read here moves what is expected of the lifter, and with it the loads of the next
booklet. A cell with two meanings is therefore worth less than a blank one; who wrote it is told how to write it, and
the text is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import TypeVar, get_args

from builder.log import typed
from builder.log.manifest import PlannedRow, PlannedTest
from builder.log.merge import Answers, shortened
from builder.log.model import Attempt, Entry, Log, RawCell, RecordLog, SessionLog, TestLog, TrendLog, WeekLog
from builder.log.rows import RowTexts, read_row
from builder.log.typed import Unclear
from builder.values import fields
from builder.values.fields import (
    AttemptField,
    Field,
    RecordField,
    ResultField,
    RetestNote,
    SessionField,
    SetField,
    SetPart,
    SlotNote,
    TrendField,
    WeekField,
)
from builder.values.problem import Cell, Problem, in_order
from builder.values.quantity import OnBar

T = TypeVar("T")
MOST_ATTEMPTS = 3
APART = " | "
"""Between the texts of copies that differ."""


def read_log(answers: Answers) -> tuple[Log, tuple[Problem, ...]]:
    """The log of a filled booklet, and a problem for every cell that is not clear; nothing is guessed."""
    reader = _FormReader(answers)
    manifest = answers.manifest
    log = Log(
        manifest,
        tuple(reader.sessions()),
        tuple(reader.test(number, planned) for number, planned in enumerate(manifest.tests, 1)),
        tuple(reader.records()),
        tuple(reader.others()),
        reader.text(RetestNote()),
        weeks=tuple(reader.weeks()),
        trend=tuple(reader.trend()),
    )
    unclear = in_order(reader.problems)
    return replace(log, unclear=tuple(_raw(answers, unclear))), unclear


def _raw(answers: Answers, unclear: Sequence[Problem]) -> Iterator[RawCell]:
    """What was written in each cell that counts for nothing, by its page."""
    for problem in unclear:
        if isinstance(at := problem.span, Cell):
            yield RawCell(at.page, at.field, answers.texts.get(at.field, ""), problem.fact)
    # Whatever counts for nothing goes into one list: no entry may be lost without a word.
    for name, texts in answers.torn.items():
        yield RawCell(answers.cells[name].page, name, APART.join(texts), "copies say different things")
    for one in answers.strangers:
        yield RawCell(one.at.page, one.at.field, one.text, "the booklet does not have this field")


class _FormReader:
    """Reads one form; it holds the texts and gathers the problems."""

    def __init__(self, answers: Answers) -> None:
        self.answers, self.unit = answers, answers.manifest.unit
        self.rated = answers.manifest.effort == "rpe"
        self.problems: list[Problem] = []
        self.known = frozenset(answers.manifest.fields)
        self.todays: dict[str, tuple[Decimal | None, bool]] = {}

    def text(self, field: Field) -> str:
        """What stands in a field; "" where its texts contradict each other, which the merging has told."""
        name = fields.write(field)
        return "" if name in self.answers.torn else self.answers.texts.get(name, "")

    def fault(self, field: Field, fact: str, help_: str) -> None:
        name = fields.write(field)
        at = self.answers.cells.get(name, Cell("", 0, name))
        text = self.answers.texts.get(name, "")
        self.problems.append(Problem("log-unclear", at, f'"{shortened(text)}" {fact}', help_))

    def heard(self, field: Field, read: Callable[[str], T]) -> T | None:
        """What a field says, None when it is empty or unclear; the latter is a problem."""
        text = self.text(field)
        if not text:
            return None
        try:
            return read(text)
        except Unclear as unclear:
            self.fault(field, str(unclear), unclear.help)
            return None

    def sessions(self) -> Iterator[SessionLog]:
        rows = self.answers.manifest.rows
        # Neighbours belong together, since `planned_rows` writes them in reading order.
        for (week, day), mine in groupby(rows, key=lambda row: (row.week, row.day)):
            yield self.session(week, day, tuple(mine))

    def session(self, week: int, day: int, rows: tuple[PlannedRow, ...]) -> SessionLog:
        planned = rows[0].on
        slots = sorted({row.slot for row in rows})
        notes = ((slot, self.text(SlotNote(week, day, slot))) for slot in slots)
        return SessionLog(
            week,
            day,
            planned,
            tuple(self.entry(row) for row in rows),
            done_on=self.heard(SessionField(week, day, "date"), lambda text: typed.day(text, planned)),
            bodyweight=self.heard(SessionField(week, day, "bodyweight"), self.mass),
            sleep=self.heard(SessionField(week, day, "sleep"), typed.hours),
            note=self.text(SessionField(week, day, "note")),
            notes=tuple((slot, note) for slot, note in notes if note),
        )

    def entry(self, row: PlannedRow) -> Entry:
        marks = {part: SetField(row.week, row.day, row.slot, row.set, part) for part in get_args(SetPart)}
        names = {part: fields.write(field) for part, field in marks.items()}
        if self.absent(names.values()):
            return Entry(row, "absent")
        # Told by the merging already: no second problem for the same cell.
        if any(name in self.answers.torn for name in names.values()):
            return Entry(row, "unclear", written=self.written(names))
        load, reps, rir, done, did = (self.text(marks[part]) for part in ("load", "reps", "rir", "done", "did"))
        today, unclear = self.today_of(row)
        # With a load of today in the box the printed one no longer says what was on the bar; with an unclear one
        # nothing does.
        asked = row if today is None and not unclear else row.model_copy(update={"load": today})
        entry, faults = read_row(asked, RowTexts(load, reps, rir, bool(done), did), self.unit, rated=self.rated)
        for fault in faults:
            self.fault(marks[fault.part], fault.fact, fault.help)
        if faults or (unclear and entry.state == "done" and entry.load is None):
            return Entry(row, "unclear", today=today, written=self.written(names))
        return replace(entry, row=row, today=today, as_planned=entry.as_planned and today is None)

    def today_of(self, row: PlannedRow) -> tuple[Decimal | None, bool]:
        """The load that overrules the printed one, if any, and whether what stands there is unclear."""
        field = next((field for field in self.boxes(row) if fields.write(field) in self.known), None)
        if field is None:
            return None, False
        name = fields.write(field)
        # One box stands for all sets below it: read once, so that its problem is told once.
        if name not in self.todays:
            before = len(self.problems)
            load = self.heard(field, self.load_or_added if row.bodyweight else self.mass)
            self.todays[name] = (load, name in self.answers.torn or len(self.problems) > before)
        return self.todays[name]

    def boxes(self, row: PlannedRow) -> Iterator[SetField]:
        """Where today's load of a set may stand: with it, or with the nearest set before it."""
        return (SetField(row.week, row.day, row.slot, number, "today") for number in range(row.set, 0, -1))

    def absent(self, names: Iterable[str]) -> bool:
        """Whether the booklet has some of these fields and no file has them."""
        # A set whose page is gone is neither done nor left blank, and must not count against the lifter.
        mine = [name for name in names if name in self.known]
        return bool(mine) and all(name not in self.answers.cells for name in mine)

    def written(self, names: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
        """All that stands in some cells, by part."""
        texts, torn = self.answers.texts, self.answers.torn
        return tuple((part, APART.join(torn.get(n, (texts[n],)))) for part, n in names.items() if n in texts)

    def mass(self, text: str) -> OnBar:
        """A mass that is no bodyweight-plus."""
        load = typed.load(text, self.unit)
        if load.added:
            raise Unclear("is no weight", f'Write a number such as "82.5"; without a unit it is in {self.unit}.')
        return load.kg

    def test(self, number: int, planned: PlannedTest) -> TestLog:
        mass = self.load_or_added if planned.bodyweight else self.mass
        reps = self.heard(ResultField(number, "reps"), typed.reps)
        rir = self.heard(ResultField(number, "rir"), lambda text: typed.effort(text, rated=self.rated))
        test = TestLog(
            planned,
            tuple(self.attempts(number, planned, mass)),
            load=self.heard(ResultField(number, "load"), mass),
            reps=int(reps.value) if reps else None,
            rir=rir.value if rir else None,
            on=self.heard(ResultField(number, "date"), lambda text: typed.day(text, planned.on)),
            note=self.text(ResultField(number, "note")),
        )
        good = [attempt.load for attempt in test.attempts if attempt.good]
        # A set of several reps is a test of its own, which the singles do not contradict.
        if test.load is not None and test.reps in (None, 1) and good and max(good) != test.load:
            self.fault(ResultField(number, "load"), "is not the heaviest good attempt", "Clear what is not true.")
        return test

    def load_or_added(self, text: str) -> OnBar:
        """The load that is added to the body, "bw" for none."""
        return typed.load(text, self.unit).kg

    def last_day(self) -> date:
        # Records have no planned day; the end of the block is what their dates are near.
        return max((row.on for row in self.answers.manifest.rows), default=self.answers.manifest.made_on)

    def attempts(self, lift: int, planned: PlannedTest, mass: Callable[[str], OnBar]) -> Iterator[Attempt]:
        """The attempts about which something was written: without a tick a written load is a missed one.

        A tick alone stands for the opener as printed; later attempts depend on what went before.
        """
        for number in range(1, MOST_ATTEMPTS + 1):
            field = AttemptField(lift, number, "load")
            text, good = self.text(field), bool(self.text(AttemptField(lift, number, "good")))
            # An attempt that was left out is no missed one.
            if typed.plainly(text) in typed.NOT_DONE:
                if good:
                    self.fault(field, "says left out, and the tick beside it says good", "Clear what is not true.")
                continue
            load = self.heard(field, mass)
            if good and not text:
                load = planned.opener if number == 1 else None
                if load is None:
                    self.fault(field, "is blank beside a tick: which load was good?", "Write the load.")
            if load is not None:
                yield Attempt(number, load, good)

    def records(self) -> Iterator[RecordLog]:
        for number, movement in enumerate(self.answers.manifest.recorded, 1):
            # As many counts as the name of a field has room for (`values.fields`).
            for reps in range(1, 100):
                load_at, date_at = RecordField(number, reps, "load"), RecordField(number, reps, "date")
                if not (self.text(load_at) or self.text(date_at)):
                    continue
                on = self.heard(date_at, lambda text: typed.day(text, self.last_day()))
                yield RecordLog(movement, reps, self.heard(load_at, self.load_or_added), on)

    def weeks(self) -> Iterator[WeekLog]:
        """The weeks that were looked back on."""
        for week in sorted({field.week for field in self.filled() if isinstance(field, WeekField)}):
            yield WeekLog(
                week,
                self.heard(WeekField(week, "bodyweight"), self.mass),
                self.heard(WeekField(week, "sleep"), typed.hours),
                self.text(WeekField(week, "good")),
                self.text(WeekField(week, "mend")),
            )

    def trend(self) -> Iterator[TrendLog]:
        recorded = self.answers.manifest.recorded
        for field in self.filled():
            # The description comes out of a file that anybody may have changed, so its numbers may count too far.
            if not isinstance(field, TrendField) or field.lift > len(recorded):
                continue
            if (load := self.heard(field, self.mass)) is not None:
                yield TrendLog(recorded[field.lift - 1], field.week, load)

    def filled(self) -> Iterator[Field]:
        """The fields that hold one text, in reading order."""
        written, torn = self.answers.texts, self.answers.torn
        return (fields.parse(name) for name in self.answers.manifest.fields if written.get(name) and name not in torn)

    def others(self) -> Iterator[tuple[str, str]]:
        """Fields that are kept as they were written: trials, screening, licence."""
        # What is read above. All else is kept as it was written, so that a field without a reader is not lost.
        known = (
            SetField, SlotNote, SessionField, AttemptField, ResultField, RetestNote, RecordField, WeekField, TrendField
        )  # fmt: skip
        return ((fields.write(field), self.text(field)) for field in self.filled() if not isinstance(field, known))
