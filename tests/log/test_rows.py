"""A row of the log: ticks, blanks, crosses and numbers beside the plan."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from builder.log.manifest import PlannedRow
from builder.log.model import Entry
from builder.log.rows import Fault, RowTexts, read_row
from builder.values.quantity import Unit

USUAL: dict[str, Any] = {
    "week": 1, "day": 1, "on": date(2027, 1, 4), "slot": 1, "set": 1, "movement": "back squat", "lift": "back squat",
    "bodyweight": False, "load": Decimal(120), "reps": 5, "open_ended": False, "seconds": None, "rir": Decimal(2),
}  # fmt: skip


def read(texts: dict[str, Any], unit: Unit = Unit.KG, **row: Any) -> tuple[Entry, tuple[Fault, ...]]:
    return read_row(PlannedRow(**USUAL | row), RowTexts(**texts), unit)


def clear(texts: dict[str, Any], **row: Any) -> Entry:
    entry, faults = read(texts, **row)
    assert faults == ()
    return entry


def test_a_blank_row_is_blank() -> None:
    assert clear({}).state == "blank"


def test_a_tick_alone_means_as_printed_and_says_nothing_of_the_reserve() -> None:
    entry = clear({"done": True})
    assert (entry.state, entry.load, entry.reps, entry.rir, entry.as_planned) == ("done", Decimal(120), 5, None, True)
    assert not entry.missed


def test_a_tick_on_an_open_set_means_at_least_the_printed_reps() -> None:
    assert clear({"done": True}, open_ended=True).at_least


@pytest.mark.parametrize("tick", [True, False])
def test_cells_left_empty_are_as_printed(tick: bool) -> None:
    entry = clear({"reps": "4", "done": tick})
    assert (entry.load, entry.reps, entry.missed, entry.as_planned) == (Decimal(120), 4, True, False)
    assert clear({"load": "117,5", "done": True}).reps == 5


def test_reps_and_a_cross_are_good_reps_and_a_miss_with_nothing_left() -> None:
    entry = clear({"reps": "5 x"})
    assert (entry.reps, entry.failed, entry.missed, entry.rir) == (5, True, True, Decimal(0))


@pytest.mark.parametrize(
    "texts", [{"reps": "x"}, {"load": "x"}, {"load": "–", "reps": "-"}, {"load": "120", "reps": "X"}]
)
def test_a_cross_or_a_dash_means_left_out(texts: dict[str, str]) -> None:
    assert clear(texts).state == "left out"


@pytest.mark.parametrize("texts", [{"reps": "x", "done": True}, {"load": "x", "reps": "5"}, {"reps": "-", "rir": "2"}])
def test_a_cross_beside_something_done_is_not_resolved(texts: dict[str, Any]) -> None:
    entry, (fault,) = read(texts)
    assert entry.state == "unclear"
    assert "left out" in fault.fact


def test_a_load_alone_does_not_say_that_it_was_lifted() -> None:
    entry, (fault,) = read({"load": "120"})
    assert (entry.state, fault.part) == ("unclear", "load")


def test_every_unclear_cell_of_a_row_is_told() -> None:
    entry, faults = read({"load": "12o", "reps": "five", "rir": "hard"})
    assert (entry.state, [fault.part for fault in faults]) == ("unclear", ["load", "reps", "rir"])


@pytest.mark.parametrize(("unit", "planned", "text"), [(Unit.KG, "102.5", "225"), (Unit.LB, "102.05828325", "102.5")])
def test_a_number_in_the_other_unit_is_not_taken(unit: Unit, planned: str, text: str) -> None:
    """225 lb are 102.06 kg (references.md, 11): a bare 225 beside a planned 102.5 kg is a slip; so is the reverse."""
    entry, (fault,) = read({"load": text, "done": True}, unit=unit, load=Decimal(planned))
    assert entry.state == "unclear"
    assert f'"{text} {Unit.LB if unit is Unit.KG else Unit.KG}"' in fault.help


def test_a_number_with_its_unit_is_taken_as_it_stands() -> None:
    assert clear({"load": "225 lb", "done": True}).load == Decimal("102.05828325")
    assert clear({"load": "40 kg", "done": True}).load == Decimal(40)


@pytest.mark.parametrize("text", ["1200", "12", "12.00"])
def test_a_slipped_digit_is_not_taken(text: str) -> None:
    assert read({"load": text, "done": True})[0].state == "unclear"


def test_bodyweight_belongs_to_bodyweight_movements_only() -> None:
    assert read({"load": "bw", "done": True})[0].state == "unclear"
    assert clear({"load": "bw", "done": True}, bodyweight=True, load=Decimal(10)).load == Decimal(0)
    assert clear({"load": "+12,5", "reps": "6"}, bodyweight=True, load=Decimal(10)).load == Decimal("12.5")


def test_a_set_found_by_feel_takes_any_load() -> None:
    assert clear({"load": "37,5", "reps": "9"}, load=None).load == Decimal("37.5")
    assert clear({"done": True}, load=None).load is None


def test_a_hold_is_counted_in_seconds() -> None:
    entry = clear({"reps": "6 s"}, seconds=8)
    assert (entry.reps, entry.planned_count, entry.missed) == (6, 8, True)


def test_a_dash_for_the_reserve_means_unknown() -> None:
    assert clear({"reps": "5", "rir": "-"}).rir is None
    assert read({"reps": "5", "rir": "x"})[0].state == "unclear"
