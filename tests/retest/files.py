"""A profile and a block on disk, and a press that is quick, for tests of whole retests."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from sources_for_tests import CLIENT, block, squat

from builder.log.results import DayOutcome, LiftOutcome, Result
from builder.pages.model import Edition
from builder.pdf import Pressed
from builder.values.scalars import Amount
from builder.work.publish import Choices, Published
from builder.work.retest import Job, run

BLOCK = block(
    squat("kind: wave, weeks: [{share: 70 %, sets: 3, reps: 5}, {share: 80 %, sets: 3, reps: 3}]"), weeks=2
)
DAY = date(2027, 2, 13)
PDF = b"%PDF-1.7 the new booklet"
OLD_PDF = b"%PDF-1.7 the old booklet"


def folder(path: Path, **texts: str) -> Path:
    """A folder with client.yaml and block.yaml, or with other files by name."""
    for name, text in ({"client": CLIENT, "block": BLOCK} | texts).items():
        if text:
            (path / f"{name}.yaml").write_bytes(text.encode())
    return path


def job(path: Path, **changes: object) -> Job:
    """A retest of all files of a folder, its booklet beside them."""
    usual = Job((path,), Choices(date(2027, 3, 1), edition=Edition.LOG), path / "out.pdf", replace=True)
    return replace(usual, **changes)  # type: ignore[arg-type]


def outcome(load: str = "205", lift: str = "back squat", day: date = DAY) -> DayOutcome:
    """A single of one lift."""
    return DayOutcome(day, (LiftOutcome(lift, Result(Amount(Decimal(load)), 1)),))


def quick(monkeypatch: pytest.MonkeyPatch | None = None) -> None:
    """Leaves the typesetter out: the booklet is PDF."""

    def published(*_: object) -> Published:
        return Published(Pressed(PDF, 1, 0, (), ()), None, ())

    if monkeypatch is None:
        setattr(run, "publish", published)  # noqa: B010 (the name is one that the module imported)
    else:
        monkeypatch.setattr(run, "publish", published)
