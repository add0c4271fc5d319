"""What people write of a set of time or distance: with its unit, as a clock shows it, or bare, as it is printed."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from builder.log.manifest import PlannedRow
from builder.log.rows import RowTexts, read_row
from builder.log.spelled import in_one
from builder.values.quantity import Unit

USUAL: dict[str, Any] = {
    "week": 1, "day": 1, "on": date(2027, 1, 4), "slot": 1, "set": 1, "movement": "plank", "lift": None,
    "bodyweight": True, "load": None, "reps": 1, "open_ended": False, "seconds": None, "rir": None,
}  # fmt: skip
PLANK = PlannedRow(**USUAL | {"seconds": 45})
BIKE = PlannedRow(**USUAL | {"seconds": 1200, "movement": "bike"})
CARRY = PlannedRow(**USUAL | {"metres": 20, "movement": "farmer's carry", "bodyweight": False, "load": Decimal(30)})
ROWER = PlannedRow(**USUAL | {"metres": 5000, "movement": "rower"})


@pytest.mark.parametrize(
    ("row", "text", "count"),
    [
        (PLANK, "45", 45), (PLANK, "45 s", 45), (PLANK, "45s", 45), (PLANK, "0:45", 45), (PLANK, "1:10", 70),
        (PLANK, "1 min", 60), (PLANK, "1 min 10", 70), (PLANK, "45/45", 45), (PLANK, "45/45 s", 45),
        (PLANK, "x 40", 40),
        (BIKE, "25", 1500), (BIKE, "25 min", 1500), (BIKE, "22:30", 1350), (BIKE, "1500 s", 1500),
        (CARRY, "x 20 m", 20), (CARRY, "30 kg x 25 m", 25), (CARRY, "20 m", 20), (CARRY, "30x20m", 20),
        (ROWER, "5 km", 5000), (ROWER, "4.5 km", 4500), (ROWER, "4500 m", 4500), (ROWER, "5", 5000),
    ],
)  # fmt: skip
def test_a_length_is_read_from_one_field(row: PlannedRow, text: str, count: int) -> None:
    entry, faults = read_row(row, RowTexts(did=text), Unit.KG)
    assert (entry.state, entry.reps, faults) == ("done", count, ())


@pytest.mark.parametrize(("row", "text", "count"), [(PLANK, "0:40", 40), (CARRY, "25", 25), (BIKE, "21", 1260)])
def test_a_length_is_read_from_a_cell_of_its_own(row: PlannedRow, text: str, count: int) -> None:
    entry, faults = read_row(row, RowTexts(reps=text), Unit.KG)
    assert (entry.state, entry.reps, faults) == ("done", count, ())


@pytest.mark.parametrize(
    ("row", "text"),
    [(PLANK, "45/30 s"), (PLANK, "long"), (PLANK, "8:00"), (PLANK, "45 m"), (CARRY, "20 s"), (ROWER, "5 mi")],
)
def test_what_is_no_such_length_is_unclear(row: PlannedRow, text: str) -> None:
    entry, faults = read_row(row, RowTexts(did=text), Unit.KG)
    assert entry.state == "unclear" and len(faults) == 1


def test_the_help_shows_what_is_planned() -> None:
    assert read_row(PLANK, RowTexts(did="long"), Unit.KG)[1][0].help == 'Write it as planned, such as "45 s".'
    assert '"30 x 20 m"' in read_row(CARRY, RowTexts(did="far"), Unit.KG)[1][0].help


def test_a_shorter_length_is_a_miss_and_a_tick_is_as_planned() -> None:
    short, _ = read_row(PLANK, RowTexts(did="30 s"), Unit.KG)
    ticked, _ = read_row(PLANK, RowTexts(done=True), Unit.KG)
    assert short.missed and not ticked.missed and ticked.reps == 45 and ticked.as_planned


@pytest.mark.parametrize("row", [PLANK, BIKE, CARRY, ROWER])
@pytest.mark.parametrize("text", ["x 21", "33"])
def test_what_was_read_is_written_out_so_that_it_is_read_again(row: PlannedRow, text: str) -> None:
    entry, faults = read_row(row, RowTexts(reps=text.removeprefix("x ")), Unit.KG)
    assert not faults or entry.state == "unclear"
    if entry.state == "done":
        again, _ = read_row(row, RowTexts(did=in_one(entry, Unit.KG)), Unit.KG)
        assert (again.load, again.reps, again.state) == (entry.load, entry.reps, "done")
