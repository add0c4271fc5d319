"""A log told as YAML, JSON or CSV: planned beside done, set by set, and what it adds up to, in the lifter's unit."""

from __future__ import annotations

import csv
from datetime import date
from decimal import Decimal
from io import StringIO
from itertools import groupby
from typing import Any

import yaml

from builder.log.model import Entry, Log, RawCell, SessionLog, TestLog, WeekLog
from builder.log.progress import NewRecord, Progress, SetCount, WeekEstimate, WeekProgress
from builder.values import fields, mouth
from builder.values.fields import SetField
from builder.values.formats import TOLD_FORMAT
from builder.values.measure import LengthUnit
from builder.values.mouth import as_quoted_yaml, csv_cell, unseen
from builder.values.quantity import in_unit, plain, to_places

Json = dict[str, Any]
# In the order in which `line` gives the values.
COLUMNS = (
    "week", "day", "date", "slot", "set", "movement", "unit", "planned_load", "planned_reps", "planned_seconds",
    "planned_metres", "planned_rir", "today", "state", "load", "reps", "seconds", "metres", "rir", "as_planned",
    "at_least", "missed", "slot_note", "written",
)  # fmt: skip

UNITS: dict[LengthUnit | None, str] = {None: "reps", "s": "seconds", "m": "metres"}
"""What a set is counted in."""


def as_yaml(log: Log, sums: Progress) -> str:
    """The log as YAML; loads are numbers in the booklet's unit."""
    return as_quoted_yaml(
        yaml.dump(_told(log, sums), Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=120)
    )


def as_json(log: Log, sums: Progress) -> str:
    """The same as JSON; loads and shares are decimal strings."""
    return mouth.as_json(_told(log, sums), default=_plainly) + "\n"


def as_csv(log: Log) -> str:
    """One line for every planned set, then one for each other cell that counts for nothing.

    Every cell stands in quotes, and none is one that a spreadsheet takes for a formula.
    """
    text = StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n", quoting=csv.QUOTE_ALL)
    writer.writeheader()
    teller = _LogTeller(log)
    for session in log.sessions:
        for entry in session.entries:
            writer.writerow({key: _cell(value) for key, value in teller.line(session, entry).items()})
    for cell in log.unclear:
        if not _in_a_row(cell):
            writer.writerow({"state": "unclear", "written": _cell(f"{cell.field}: {cell.text}")})
    return text.getvalue()


class _Dumper(yaml.SafeDumper):
    """Writes exact numbers as they are, and every value where it stands."""

    def ignore_aliases(self, data: Any) -> bool:
        """Equal values are written out again."""
        return True


def _number(dumper: yaml.SafeDumper, value: Decimal) -> yaml.ScalarNode:
    # As a number and not a quoted text, yet never by way of a float, which would bring other digits.
    text = plain(value)
    return dumper.represent_scalar(f"tag:yaml.org,2002:{'float' if '.' in text else 'int'}", text)


def _words(dumper: yaml.SafeDumper, value: str) -> yaml.ScalarNode:
    # Only between double quotes is an escape read back (`mouth.as_quoted_yaml`).
    style = '"' if any(unseen(c) for c in value if c != "\n") else None
    return dumper.represent_scalar("tag:yaml.org,2002:str", value, style)


_Dumper.add_representer(Decimal, _number)
_Dumper.add_representer(str, _words)


def _plainly(value: object) -> str:
    if isinstance(value, Decimal):
        return plain(value)
    assert isinstance(value, date)
    return value.isoformat()


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else ""
    if isinstance(value, Decimal | date):
        return _plainly(value)
    return csv_cell(value) if isinstance(value, str) else str(value)


def _in_a_row(cell: RawCell) -> bool:
    """Whether the line of a set has it already."""
    return isinstance(fields.known(cell.field), SetField)


def _told(log: Log, sums: Progress) -> Json:
    return _LogTeller(log).log_(sums)


class _LogTeller:
    """Tells one log; it holds the unit."""

    def __init__(self, log: Log) -> None:
        self.log, self.unit = log, log.manifest.unit

    def log_(self, sums: Progress) -> Json:
        about = self.log.manifest
        return {
            "format": TOLD_FORMAT,
            "booklet": {
                "code": about.code,
                "revision": about.revision,
                "client": about.client,
                "title": about.title,
                "unit": str(about.unit),
                "made_on": about.made_on,
            },
            "sessions_planned": sums.sessions_planned,
            "sessions_done": sums.sessions_done,
            "so_far": self.count(sums.so_far),
            "whole": self.count(sums.total),
            "weeks": [self.week(week) for week in sums.weeks],
            "estimates": [self.estimate(one) for one in sums.estimates],
            "records": [self.record(one) for one in sums.records],
            "tests": [self.test(test) for test in self.log.tests if test.written],
            "record_table": [
                {"movement": one.movement, "reps": one.reps, "load": self.mass(one.load), "date": one.on}
                for one in self.log.records
            ],
            "trend": [
                {"movement": one.movement, "week": one.week, "max": self.mass(one.load)} for one in self.log.trend
            ],
            "week_reviews": [self.review(week) for week in self.log.weeks],
            "sessions": [self.session(session) for session in self.log.sessions],
            "retest_note": self.log.note or None,
            "unclear": [
                {"page": one.page or None, "field": one.field, "written": one.text, "why": one.why}
                for one in self.log.unclear
            ],
            "other_fields": dict(self.log.others),
        }

    def mass(self, kg: Decimal | None, places: int = 3) -> Decimal | None:
        # Kilograms in pounds have no end; three places are finer than any plate.
        return None if kg is None else _short(in_unit(kg, self.unit), places)

    def count(self, count: SetCount) -> Json:
        return {
            "sets_planned": count.planned,
            "done": count.done,
            "missed": count.missed,
            "left_out": count.left_out,
            "blank": count.blank,
            "unclear": count.unclear,
            "adherence": None if count.adherence is None else _short(count.adherence, 3),
        }

    def week(self, week: WeekProgress) -> Json:
        drift = {"sets": week.effort.sets, "rir_off": _short(week.effort.drift, 2)} if week.effort else None
        return {
            "week": week.week,
            **self.count(week.count),
            "tonnage_planned": self.mass(week.planned_tonnage, 1),
            "tonnage_done": self.mass(week.done_tonnage, 1),
            "tonnage_by_feel": self.mass(week.lengths.by_feel, 1),
            "seconds_planned": week.lengths.planned_seconds,
            "seconds_done": week.lengths.done_seconds,
            "metres_planned": week.lengths.planned_metres,
            "metres_done": week.lengths.done_metres,
            "effort": drift,
            "lifts_missed": list(week.stalled.missed),
            "lifts_lighter": list(week.stalled.lighter),
            "light_week_due": week.stalled.tired,
        }

    def estimate(self, one: WeekEstimate) -> Json:
        return {
            "movement": one.movement,
            "week": one.week,
            "date": one.on,
            "estimate": self.mass(one.estimate, 1),
            "at_least": one.least,
            "spread": [self.mass(one.spread.low, 1), self.mass(one.spread.high, 1)],
            "from": {"load": self.mass(one.load), "reps": one.reps, "rir": one.rir},
        }

    def record(self, one: NewRecord) -> Json:
        beats = one.mark.beats
        return {
            "movement": one.movement,
            "week": one.week,
            "date": one.on,
            "load": self.mass(one.load),
            "reps": one.reps,
            "best_estimate": one.best,
            "beats": {"load": self.mass(beats.load), "reps": beats.reps, "rir": beats.rir, "date": beats.on},
        }

    def test(self, test: TestLog) -> Json:
        return {
            "movement": test.planned.movement,
            "date": test.on,
            "attempts": [{"number": a.number, "load": self.mass(a.load), "good": a.good} for a in test.attempts],
            "load": self.mass(test.load),
            "reps": test.reps,
            "rir": test.rir,
            "note": test.note or None,
        }

    def review(self, week: WeekLog) -> Json:
        return {
            "week": week.week,
            "bodyweight": self.mass(week.bodyweight),
            "sleep_hours": None if week.sleep is None else _short(week.sleep, 2),
            "good": week.good or None,
            "mend": week.mend or None,
        }

    def session(self, session: SessionLog) -> Json:
        return {
            "week": session.week,
            "day": session.day,
            "date": session.on,
            "done_on": session.done_on,
            "bodyweight": self.mass(session.bodyweight),
            "sleep_hours": None if session.sleep is None else _short(session.sleep, 2),
            "note": session.note or None,
            "slots": [
                self.slot(session, slot, list(entries))
                for slot, entries in groupby(session.entries, key=lambda entry: entry.row.slot)
            ],
        }

    def slot(self, session: SessionLog, slot: int, entries: list[Entry]) -> Json:
        return {
            "slot": slot,
            "movement": entries[0].row.movement,
            "note": dict(session.notes).get(slot),
            "sets": [self.set_(entry) for entry in entries],
        }

    def set_(self, entry: Entry) -> Json:
        row = entry.row
        unit = UNITS[row.unit]
        planned: Json = {"load": self.mass(row.load), unit: entry.planned_count, "rir": row.rir}
        told: Json = {"set": row.set, "planned": planned, "state": entry.state}
        if entry.today is not None:
            told["today"] = self.mass(entry.today)
        if entry.written:
            told["written"] = dict(entry.written)
        if entry.state != "done":
            return told
        told["done"] = {"load": self.mass(entry.load), unit: entry.reps, "rir": entry.rir}
        marks = ("as_planned", "at_least", "missed")
        return told | {mark: True for mark in marks if getattr(entry, mark)}

    def line(self, session: SessionLog, entry: Entry) -> Json:
        """One line of the table."""
        row, done = entry.row, entry.state == "done"
        counts = (entry.reps if done and row.unit == unit else None for unit in UNITS)
        values = (
            # One day a line: the one on which it was done, as far as that was written.
            row.week, row.day, session.when, row.slot, row.set, row.movement, str(self.unit), self.mass(row.load),
            row.reps if row.unit is None else None, row.seconds, row.metres, row.rir, self.mass(entry.today),
            entry.state, self.mass(entry.load), *counts, entry.rir,
            entry.as_planned, entry.at_least and done, entry.missed, dict(session.notes).get(row.slot),
            "; ".join(f"{part}: {text}" for part, text in entry.written) or None,
        )  # fmt: skip
        return dict(zip(COLUMNS, values, strict=True))


def _short(number: Decimal, places: int) -> Decimal:
    """The number with at most so many places."""
    return Decimal(plain(to_places(number, places)))
