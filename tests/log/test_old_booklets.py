"""A booklet with four cells a set, made before sets had one field, is read as it always was."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from log.small import form, log
from log.viewers import with_pikepdf

OLD = Path(__file__).parent / "old" / "four-cells-a-set.pdf"
WRITTEN: dict[str, str | bool] = {
    "w01-d1-s2-t1-done": True,
    "w01-d1-s2-t2-reps": "4",
    "w01-d1-s2-t3-load": "170",
    "w01-d1-s2-t3-reps": "7",
    "w01-d1-s2-t3-rir": "1",
    "w01-d1-s3-t2-reps": "x",
    "w01-d1-note": "slept badly",
}


def test_the_cells_of_an_old_booklet_read_as_before(tmp_path: Path) -> None:
    found, problems = log(form(with_pikepdf(OLD.read_bytes(), WRITTEN, tmp_path), tmp_path))
    assert problems == ()
    first = found.sessions[0]
    told = [(e.row.slot, e.row.set, e.state, e.load, e.reps, e.rir) for e in first.entries if e.state != "blank"]
    assert told == [
        (2, 1, "done", Decimal("150.0"), 5, None),
        (2, 2, "done", Decimal("150.0"), 4, None),
        (2, 3, "done", Decimal(170), 7, Decimal(1)),
        (3, 2, "left out", None, None, None),
    ]
    assert first.note == "slept badly"
    assert all(entry.today is None for entry in first.entries)
