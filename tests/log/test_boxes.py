"""A booklet with a box a set: tick, one field and today's load, filled in and read back, and moved to other pages."""

from __future__ import annotations

import tempfile
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from kept import once_a_run
from log.small import BLOCK, CLIENT, form
from log.viewers import with_pikepdf

from builder.intake import load
from builder.log import Answers, Log, merge, moved, read_log
from builder.log.entries import read_log as read_entries
from builder.pages.model import Edition, Layout, Paper
from builder.values.lists import Keep
from builder.values.problem import Problem
from builder.work.publish import Choices, publish

ON = date(2027, 1, 4)
WRITTEN: dict[str, str | bool] = {
    "w01-d1-s2-t1-done": True,
    "w01-d1-s2-t2-did": "x4",
    "w01-d1-s2-t3-did": "170 x 7 @9",
    "w01-d1-s3-t1-did": "+25 x 5, rir 0",
    "w01-d1-s3-t2-did": "x",
    "w02-d1-s2-t1-today": "145",
    "w02-d1-s2-t1-done": True,
    "w02-d1-s2-t2-did": "4",
    "w02-d1-s2-t3-did": "150x6",
}


@once_a_run
def booklet(layout: Layout = Layout.PAGE, paper: Paper = Paper.A5) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        client, block = Path(folder, "client.yaml"), Path(folder, "block.yaml")
        client.write_text(CLIENT)
        block.write_text(BLOCK)
        choices = Choices(ON, paper, edition=Edition.POCKET, layout=layout, keep=Keep.ALL)
        done = publish(load([client, block]), choices)
    assert done.pressed is not None, [problem.as_text() for problem in done.problems]
    return done.pressed.pdf


def answers(values: dict[str, str | bool], folder: Path, layout: Layout = Layout.PAGE) -> Answers:
    found, problems = merge([form(with_pikepdf(booklet(layout), values, folder), folder)])
    assert found is not None
    assert problems == ()
    return found


def read(values: dict[str, str | bool], folder: Path, layout: Layout = Layout.PAGE) -> tuple[Log, tuple[Problem, ...]]:
    return read_log(answers(values, folder, layout))


def done(log: Log) -> list[tuple[object, ...]]:
    return [
        (e.row.week, e.row.slot, e.row.set, e.state, e.load, e.reps, e.rir) for e in log.entries if e.state != "blank"
    ]


MEANT = [
    (1, 2, 1, "done", Decimal(150), 5, None),
    (1, 2, 2, "done", Decimal(150), 4, None),
    (1, 2, 3, "done", Decimal(170), 7, Decimal(1)),
    (1, 3, 1, "done", Decimal(25), 5, Decimal(0)),
    (1, 3, 2, "left out", None, None, None),
    (2, 2, 1, "done", Decimal(145), 5, None),
    (2, 2, 2, "done", Decimal(145), 4, None),
    (2, 2, 3, "done", Decimal(150), 6, None),
]


@pytest.mark.slow
def test_boxes_are_read_and_today_s_load_overrules_the_printed_one(tmp_path: Path) -> None:
    log, problems = read(WRITTEN, tmp_path)
    assert problems == ()
    assert done(log) == MEANT
    second = [e for e in log.entries if (e.row.week, e.row.slot) == (2, 2)]
    assert [(e.today, e.as_planned) for e in second] == [(Decimal(145), False)] * 3
    assert next(e for e in log.entries if e.row.slot == 2).as_planned


@pytest.mark.slow
def test_an_unclear_load_of_today_is_told_once_and_no_set_is_taken_at_the_printed_load(tmp_path: Path) -> None:
    log, problems = read(WRITTEN | {"w02-d1-s2-t1-today": "a bit less", "w02-d1-s2-t2-did": "x4"}, tmp_path)
    assert [problem.code for problem in problems] == ["log-unclear"]
    states = [(e.row.set, e.state) for e in log.entries if (e.row.week, e.row.slot) == (2, 2)]
    assert states == [(1, "unclear"), (2, "unclear"), (3, "done")]


@pytest.mark.slow
@pytest.mark.parametrize(("before", "after"), [(Layout.PAGE, Layout.SPREAD), (Layout.SPREAD, Layout.PAGE)])
def test_sets_move_between_the_layouts_and_mean_the_same(before: Layout, after: Layout, tmp_path: Path) -> None:
    written = WRITTEN
    if before is Layout.SPREAD:
        first = answers(WRITTEN, tmp_path)
        names = set(answers({}, tmp_path, Layout.SPREAD).manifest.fields)
        spelled = moved(first, first.manifest.rows, 100)[0].spelled
        written = {name: text != "on" and text for name, text in spelled if name in names}
        written = {name: text or True for name, text in written.items()}
    old = answers(written, tmp_path, before)
    entries, problems = moved(old, old.manifest.rows, 100)
    assert problems == ()
    new = answers({}, tmp_path, after)
    fields = set(new.manifest.fields)
    values = {name: True if text == "on" else text for name, text in entries.spelled if name in fields}
    log, unclear = read_entries(answers(values, tmp_path, after))
    assert unclear == ()
    assert done(log) == MEANT
    assert [name for name in entries.lost(fields) if not name.endswith("today")] == []
