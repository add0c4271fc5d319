"""Half-way changes: what a log gives to the rest of its block, and the entries that move into the new booklet.

Why a file on top and not a changed profile: what a person wrote stays as it is, but for a test that is appended. So
what the log adds is laid over it, and travels in the new booklet with the other sources.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from builder.given import Lift, Resume, Sources
from builder.log import typed
from builder.log.entries import read_log
from builder.log.manifest import PlannedRow
from builder.log.merge import Answers
from builder.log.model import Log
from builder.log.results import FromLog
from builder.log.shown import from_log, logged_line, record_line
from builder.log.spelled import cells, in_one
from builder.values import fields
from builder.values.fields import (
    AttemptField,
    ResultField,
    RetestNote,
    SessionField,
    SetField,
    SetPart,
    SlotNote,
    TrendField,
    WeekField,
)
from builder.values.formats import SOURCE_FORMAT
from builder.values.problem import Cell, Problem
from builder.values.quantity import Unit, plain

# As many as a profile may have (`given.lifts.Lift.logged`); the first ones, which say least by now, are left out.
MOST_LOGGED = 400


@dataclass(frozen=True, slots=True)
class Moved:
    """Entries for the new booklet by field name, and the names of those that are left in the old one.

    `otherwise` has, by the name of an entry, what says the same where a set is written down in another layout.
    """

    values: tuple[tuple[str, str], ...]
    left: tuple[str, ...]
    otherwise: Mapping[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)

    @property
    def spelled(self) -> tuple[tuple[str, str], ...]:
        """All of it, each set for pages with a field a set and for pages with a cell for each part."""
        return (*self.values, *dict.fromkeys(one for many in self.otherwise.values() for one in many))

    def lost(self, names: Collection[str]) -> tuple[str, ...]:
        """The entries that a booklet with these fields has no place for."""
        return (
            *self.left,
            *(
                name for name, _ in self.values
                if name not in names and not any(other in names for other, _ in self.otherwise.get(name, ()))
            ),
        )  # fmt: skip


def overlay(sources: Sources, resume: Resume, log: Log | None) -> tuple[str, bytes]:
    """Name and text of a source file that plans the rest of the block anew, laid over the others.

    Resumes that the profile has are kept up to that week. Records of the log, and what
    it shows of the maxes, are added to those of the profile.
    """
    assert sources.client is not None
    # A resume of this week or a later one was a plan that this one takes the place of.
    earlier = [one for one in sources.client.training.resumes if one.week < resume.week]
    resumes = (f"    - {_resume(one)}" for one in (*earlier, resume))
    lines = [f"format: {SOURCE_FORMAT}", "training:", "  resumes:", *resumes]
    new = from_log(sources, log) if log else ()
    lifts = [line for one in new for line in _lift(one, sources.client.lifts[one.movement], sources.client.unit)]
    text = "\n".join([*lines, *(["lifts:", *lifts] if lifts else []), ""])
    return f"resume-week-{resume.week:02d}.yaml", text.encode()


def _resume(one: Resume) -> str:
    on = f", on: {one.on.isoformat()}" if one.on else ""
    renew = "" if one.renew is None else f", renew: {str(one.renew).lower()}"
    share = "" if one.share is None else f", share: {plain(one.share * 100)} %"
    return f"{{week: {one.week}{on}{renew}{share}}}"


def _lift(new: FromLog, lift: Lift, unit: Unit) -> Iterator[str]:
    """The lists of one lift that grow, whole: a list that is laid over another takes its place."""
    records = (*(record_line(one, unit) for one in lift.records), *new.records) if new.records else ()
    logged = (*(logged_line(one, unit) for one in lift.logged), *new.logged) if new.logged else ()
    # Quoted as JSON, which is YAML as well, whatever signs the name of a movement has.
    yield f"  {json.dumps(new.movement, ensure_ascii=False)}:"
    for key, lines in (("records", records), ("logged", logged[-MOST_LOGGED:])):
        if lines:
            yield f"    {key}:"
            yield from (f"      - {one.text}" for one in lines)


def moved(
    answers: Answers, rows: Sequence[PlannedRow], week: int, *, rated: bool = False
) -> tuple[Moved, tuple[Problem, ...]]:
    """The entries of the weeks before `week` and those of no week, for a booklet with these rows.

    A reserve keeps its meaning where the new booklet asks for ratings (`rated`) and the old one did not, or did.

    A problem for each entry whose set is planned otherwise there than in the old booklet: it would stand beside a plan
    that it was not lifted by.
    """
    old, new = _by_place(answers.manifest.rows), _by_place(rows)
    values, left, problems = list[tuple[str, str]](), list[str](), list[Problem]()
    for name, text in answers.texts.items():
        field = fields.parse(name)
        if name in answers.torn or _week(field, answers) >= week:
            left.append(name)
        elif isinstance(field, SetField) and old.get(_place(field)) != new.get(_place(field)):
            problems.append(_differs(answers.cells[name], field))
        else:
            values.append((name, _still_meaning(field, text, was=answers.manifest.effort == "rpe", now=rated)))
    return Moved(tuple(values), tuple(left), _otherwise(answers, values)), tuple(problems)


def _otherwise(answers: Answers, values: Sequence[tuple[str, str]]) -> dict[str, tuple[tuple[str, str], ...]]:
    """Each clear entry of a set as the other layout has it: one field for its cells, or cells for its one field."""
    unit = answers.manifest.unit
    entries = {(e.row.week, e.row.day, e.row.slot, e.row.set): e for e in read_log(answers)[0].entries}
    told = dict[str, tuple[tuple[str, str], ...]]()
    for name, _ in values:
        place = fields.parse(name)
        entry = entries.get(_place(place)) if isinstance(place, SetField) else None
        if not isinstance(place, SetField) or entry is None or entry.state not in ("done", "left out"):
            continue
        # A tick says the same in both layouts, unless it stands for today's load.
        if place.part in ("load", "reps", "rir", "did") or (place.part == "done" and entry.today is not None):
            boxed = place.part in ("did", "done")
            parts: dict[SetPart, str] = cells(entry, unit) if boxed else {"did": in_one(entry, unit)}
            told[name] = tuple((fields.write(replace(place, part=part)), text) for part, text in parts.items())
    return told


def _still_meaning(field: object, text: str, *, was: bool, now: bool) -> str:
    """A bare number in a cell for effort with the sign of what it counts, where the new booklet counts otherwise."""
    asks = isinstance(field, SetField | ResultField) and field.part == "rir"
    if was == now or not asks:
        return text
    try:
        count = typed.effort(text, rated=was)
    except typed.Unclear:
        # Unclear it was and unclear it stays, but not by another unit.
        return f"@{text}" if was and text[:1].isdigit() else text
    reserve = f"{plain(count.value)}{'+' if count.at_least else ''}"
    return f"{reserve} rir" if now else reserve


def _week(field: object, answers: Answers) -> int:
    """The week that a field belongs to; those of the test are in its week, the others before every week."""
    if isinstance(field, SetField | SlotNote | SessionField | WeekField | TrendField):
        return field.week
    if isinstance(field, AttemptField | ResultField | RetestNote):
        return max((test.week for test in answers.manifest.tests), default=0)
    return 0


def _place(field: SetField) -> tuple[int, int, int, int]:
    return field.week, field.day, field.slot, field.set


def _by_place(rows: Sequence[PlannedRow]) -> Mapping[tuple[int, int, int, int], tuple[object, ...]]:
    """What each row plans, by its place; dates and tested lifts may differ."""
    return {
        (row.week, row.day, row.slot, row.set): (row.movement, row.load, row.planned, row.unit, row.open_ended)
        for row in rows
    }


def _differs(cell: Cell, field: SetField) -> Problem:
    fact = f"set {field.set} of slot {field.slot} in week {field.week}, day {field.day} is planned otherwise now"
    help_ = "Build from the files that the old booklet was made from: loadleaf unpack; add the new test to them."
    return Problem("log-differs", cell, fact, help_)
