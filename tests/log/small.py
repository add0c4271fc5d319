"""A small booklet to fill in: two weeks, a main lift, a hold, a bodyweight lift, one found by feel, and a test."""

from __future__ import annotations

import tempfile
from datetime import date
from functools import lru_cache
from pathlib import Path

from kept import once_a_run
from sources_for_tests import GYM, HEAD, IDENTITY, SCREENED, TABLE, TRAINING

from builder.intake import load
from builder.log import Log, merge, read_log
from builder.log.filled import Form
from builder.log.manifest import Manifest
from builder.pages.model import Edition, Paper
from builder.pdf.forms.form import read_forms
from builder.values.lists import Keep
from builder.values.problem import Problem
from builder.work.publish import Choices, publish

LIFTS = """lifts:
  back squat:
    tests: [{date: 2026-12-19, load: 200, reps: 1}]
    held: {load: 200, date: 2026-12-01}
  chin-up: {tests: [{date: 2026-12-19, load: 20, reps: 5}]}
"""
BLOCK = """format: 1
block: {title: Small Water, weeks: 3, suits: [intermediate], test: {week: 3, lifts: [back squat]}}
days:
  - title: The day
    slots:
      - {drill: walkout, of: back squat, progression: {kind: hold, from: 95 %, to: 97 %, every: 1 week}}
      - {movement: back squat, progression: {kind: rep_out, start: 75 %, sets: 3, reps: 5}}
      - {movement: chin-up, progression: {kind: double, sets: 2, reps: 5-8, rir: 2, add: 2.5 kg}}
      - {movement: goblet squat, progression: {kind: double, sets: 2, reps: 8-10, add: 2 kg}}
"""
ON = date(2027, 1, 4)
WRITTEN: dict[str, str | bool] = {
    "w01-d1-s2-t1-done": True,
    "w01-d1-s2-t2-reps": "4",
    "w01-d1-s2-t3-load": "170",
    "w01-d1-s2-t3-reps": "7",
    "w01-d1-s2-t3-rir": "1",
    "w01-d1-s3-t1-load": "+25",
    "w01-d1-s3-t1-reps": "5",
    "w01-d1-s3-t1-rir": "0",
    "w01-d1-s3-t2-reps": "x",
    "w02-d1-s2-t1-reps": "5",
    "w02-d1-s2-t1-rir": "3",
    "w02-d1-s2-note": '=SUM(A1)\n"quoted", yes',
    "retest-l1-a1-good": True,
    "retest-l1-a2-load": "210",
    "retest-l1-a2-good": True,
    "retest-l1-a3-load": "217,5",
}
"""Entries whose sums are worked out by hand in the tests of the log."""


TRAINED = TRAINING.replace("[mon, wed, fri]", "[mon]")
CLIENT = HEAD + IDENTITY + TRAINED + TABLE + LIFTS + GYM + SCREENED


@once_a_run
def booklet(edition: str = "log", whole: bool = True, client_text: str = CLIENT) -> bytes:
    """The finished PDF."""
    with tempfile.TemporaryDirectory() as folder:
        client, block = Path(folder, "client.yaml"), Path(folder, "block.yaml")
        client.write_text(client_text)
        block.write_text(BLOCK)
        choices = Choices(ON, Paper.A5, edition=Edition(edition), whole=whole, keep=Keep.ALL)
        done = publish(load([client, block]), choices)
    assert done.pressed is not None, [problem.as_text() for problem in done.problems]
    return done.pressed.pdf


def form(data: bytes, folder: Path, name: str = "filled.pdf") -> Form:
    """The form of a PDF that can be read."""
    path = folder / name
    path.write_bytes(data)
    found, problems = read_forms(path)
    assert found, [problem.as_text() for problem in problems]
    return found[0]


def refusal(data: bytes, folder: Path) -> Problem:
    """The one problem for which a PDF is refused."""
    path = folder / "refused.pdf"
    path.write_bytes(data)
    found, problems = read_forms(path)
    assert not found
    (problem,) = problems
    return problem


def log(*forms: Form) -> tuple[Log, tuple[Problem, ...]]:
    """The log of some forms of one booklet."""
    answers, problems = merge(forms)
    assert answers is not None
    found, unclear = read_log(answers)
    return found, (*problems, *unclear)


@lru_cache
def manifest() -> Manifest:
    """What the booklet says of itself."""
    with tempfile.TemporaryDirectory() as folder:
        return form(booklet(), Path(folder)).manifest
