"""What people write of a set in one field: one meaning is read, two are unclear, and nothing is guessed.

Load before reps, with x, × or *, and @ for RPE: common practice, no source. RPE 10 leaves none in reserve and each
point below one more (Zourdos et al. 2016). The decimal sign is a point or a comma (ISO 80000-1:2022, 7.3.2).
1 lb is 0.45359237 kg exactly (NIST SP 811, App. B).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.log.manifest import PlannedRow
from builder.log.model import Entry
from builder.log.rows import RowTexts, read_row
from builder.log.said import said
from builder.log.typed import Unclear
from builder.values.quantity import Unit

USUAL: dict[str, Any] = {
    "week": 1, "day": 1, "on": date(2027, 1, 4), "slot": 1, "set": 1, "movement": "bench press", "lift": "bench press",
    "bodyweight": False, "load": Decimal("85.5"), "reps": 3, "open_ended": False, "seconds": None, "rir": Decimal(4),
}  # fmt: skip


def row(**values: Any) -> PlannedRow:
    return PlannedRow(**USUAL | values)


def told(text: str, unit: Unit = Unit.KG, **values: Any) -> tuple[str | None, int | None, str | None]:
    """Load, reps and reserve that a text names."""
    one = said(text, row(**values), unit)
    load = format(one.load.kg.normalize(), "f") if one.load else None
    rir = format(one.rir.normalize(), "f") if one.rir is not None else None
    return load, int(one.count.value) if one.count else None, rir


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("82.5x3", ("82.5", 3, None)), ("82,5 × 3", ("82.5", 3, None)), ("82.5*3", ("82.5", 3, None)),
        ("82.5 X 3", ("82.5", 3, None)), ("82½x3", ("82.5", 3, None)), ("82.5 for 3", ("82.5", 3, None)),
        ("82,5 × 3 rir 1", ("82.5", 3, "1")), ("82.5x3, 1 RIR", ("82.5", 3, "1")),
        ("82.5x3 RIR1.5", ("82.5", 3, "1.5")),
        ("82.5*3 @9", ("82.5", 3, "1")), ("82.5x3@9,5", ("82.5", 3, "0.5")), ("82.5x3 @ RPE 8", ("82.5", 3, "2")),
        ("82.5x3 rpe 10", ("82.5", 3, "0")), ("82.5x3 9 rpe", ("82.5", 3, "1")), ("82.5x3 rir 1-2", ("82.5", 3, "1.5")),
        ("82.5kg x 3 reps", ("82.5", 3, None)), ("180 lb x 3", ("81.6466266", 3, None)),
        ("180# x3", ("81.6466266", 3, None)),
        ("3x82.5", ("82.5", 3, None)), ("3 x 82,5 kg", ("82.5", 3, None)), ("3 @ 82.5", ("82.5", 3, None)),
        ("3 @ 82.5 kg", ("82.5", 3, None)), ("3", (None, 3, None)), ("x3", (None, 3, None)), ("× 2", (None, 2, None)),
        ("2 reps", (None, 2, None)), ("3 rir 1", (None, 3, "1")), ("3 @8", (None, 3, "2")), ("@9", (None, None, "1")),
        ("rir 2", (None, None, "2")), ("2 rir", (None, None, "2")), ("90 kg", ("90", None, None)),
        ("90", ("90", None, None)),
        ("90 @8", ("90", None, "2")), ("8/8", (None, 8, None)), ("ok", (None, None, None)), ("✓", (None, None, None)),
    ],
)  # fmt: skip
def test_one_field_takes_a_set_in_the_ways_people_write_it(text: str, meant: tuple[object, ...]) -> None:
    assert told(text) == meant


def test_reps_tried_and_missed_or_left_open_are_kept() -> None:
    one = said("82.5x2x", row(), Unit.KG)
    assert one.count is not None and one.count.failed
    more = said("82.5x6+", row(), Unit.KG)
    assert more.count is not None and more.count.at_least
    assert said("x", row(), Unit.KG).left_out and said("–", row(), Unit.KG).left_out


@pytest.mark.parametrize(
    ("text", "meant", "values"),
    [
        ("x9", (None, 9, None), {"load": None, "reps": 8}), ("20x9", ("20", 9, None), {"load": None, "reps": 8}),
        ("+5x6", ("5", 6, None), {"bodyweight": True, "load": Decimal("2.5"), "reps": 5}),
        ("bw x 8", ("0", 8, None), {"bodyweight": True, "load": Decimal(5), "reps": 5}),
        ("bw+10x4", ("10", 4, None), {"bodyweight": True, "load": Decimal(5), "reps": 5}),
        ("6", (None, 6, None), {"bodyweight": True, "load": Decimal(5), "reps": 5}),
        ("8 s", (None, 8, None), {"seconds": 8, "reps": 1}),
        ("180 x 6 s", ("180", 6, None), {"seconds": 8, "load": Decimal(177)}),
        ("8x10", ("8", 10, None), {"load": Decimal(8), "reps": 11}),
        ("7", (None, 7, None), {"load": Decimal(24), "reps": 8}),
    ],
)  # fmt: skip
def test_the_row_decides_what_a_text_can_mean(text: str, meant: tuple[object, ...], values: dict[str, Any]) -> None:
    assert told(text, **values) == meant


@pytest.mark.parametrize(
    ("text", "fact", "values"),
    [
        ("9", "can mean 9 kg or 9 reps", {"load": Decimal(8), "reps": 11}),
        ("12", "can mean 12 kg or 12 reps", {"load": None, "reps": 8}),
        ("9 @8", "can mean", {"load": Decimal(8), "reps": 11}),
        ("185x3", "lies far from the planned 85.5 kg × 3", {}), ("85x40", "lies far", {}), ("40", "lies far", {}),
        ("82.5 3", "is not understood", {}), ("82.5, 3", "is not understood", {}), ("82,5,3", "is not understood", {}),
        ("82.5x3x2", "is not understood", {}), ("82.5x3 1", "is not understood", {}),
        ("82.5x", "is not understood", {}),
        ("3@75%", "is not understood", {}), ("82.5x3 @11", "is not understood", {}), ("heavy", "is not understood", {}),
        ("bw x 3", "is not understood", {}), ("82.5x3 rir", "is not understood", {}), ("5-6", "is not understood", {}),
        ("1,000x3", "is not understood", {}), ("82.5/3", "is not understood", {}),
    ],
)  # fmt: skip
def test_what_can_mean_two_things_or_none_is_unclear_and_says_how_to_write_it(
    text: str, fact: str, values: dict[str, Any]
) -> None:
    with pytest.raises(Unclear, match=fact) as raised:
        said(text, row(**values), Unit.KG)
    assert 'such as "' in raised.value.help


def test_a_pound_profile_reads_bare_numbers_as_pounds() -> None:
    planned = {"load": Decimal("81.6466266"), "reps": 5}
    assert told("185x5", Unit.LB, **planned) == ("83.91458845", 5, None)
    with pytest.raises(Unclear):
        said("82.5x5x", row(**planned | {"load": Decimal("200")}), Unit.LB)


LOADS = st.decimals("50", "120", places=1)
REPS, RIRS = st.integers(1, 9), st.integers(0, 5)
TIMES, SIGNS = st.sampled_from(["x", " x ", "×", " × ", "*", " X "]), st.sampled_from([".", ","])


@given(LOADS, REPS, RIRS, TIMES, SIGNS, st.sampled_from(["rir {}", "{} rir", "@{}", "rpe {}", "@ rpe {}", ""]))
def test_however_it_is_spelled_the_same_set_is_read(
    load: Decimal, reps: int, rir: int, times: str, sign: str, effort: str
) -> None:
    rated = "@" in effort or "rpe" in effort
    text = f"{load}".replace(".", sign) + f"{times}{reps} " + effort.format(10 - rir if rated else rir)
    one = said(text.strip(), row(), Unit.KG)
    assert one.load is not None and one.load.kg == load
    assert one.count is not None and one.count.value == reps
    assert one.rir == (rir if effort else None)


SIGNS_OF_SETS = st.text(st.sampled_from("0123456789.,x×*@+-/ kglbrips#"), max_size=14)


@given(SIGNS_OF_SETS, st.sampled_from([None, "8", "85.5", "177"]))
def test_any_text_is_read_or_refused_with_a_way_to_write_it(text: str, load: str | None) -> None:
    planned = row(load=Decimal(load) if load else None)
    entry_, faults = read_row(planned, RowTexts(did=text), Unit.KG)
    if entry_.state == "unclear":
        assert faults[0].fact
        assert faults[0].help
        return
    if not text or entry_.state != "done":
        return
    one = said(text, planned, Unit.KG)
    assert one.load is None or 0 <= one.load.kg <= 1000
    assert one.count is None or one.count.value <= 23
    assert one.rir is None or 0 <= one.rir <= 10


@given(st.integers(1, 30), st.integers(1, 30), st.integers(1, 20))
def test_a_number_alone_is_read_only_where_it_cannot_be_the_other(number: int, load: int, reps: int) -> None:
    """Against the two rules written out: near the load, and near the reps."""
    as_load = load / 2 < number < load * 1.9 or abs(number - load) <= 5
    as_reps = number <= reps * 3 or number <= reps + 20
    try:
        one = said(str(number), row(load=Decimal(load), reps=reps), Unit.KG)
    except Unclear:
        assert as_load == as_reps
    else:
        assert (one.load is not None, one.count is not None) == (as_load, as_reps)
        assert as_load != as_reps


def entry(did: str, *, done: bool = False, **values: Any) -> Entry:
    return read_row(row(**values), RowTexts(did=did, done=done), Unit.KG)[0]


def test_a_tick_with_a_load_is_done_and_a_load_alone_is_not_known_to_be() -> None:
    ticked, alone = entry("80", done=True), entry("80")
    assert (ticked.state, ticked.load, ticked.reps, ticked.as_planned) == ("done", Decimal(80), 3, False)
    assert alone.state == "unclear"
    assert entry("", done=True).as_planned and entry("ok").as_planned
    assert entry("x").state == "left out"
    assert entry("x", done=True).state == "unclear"


def test_fewer_reps_are_a_miss_and_reserve_is_never_taken_as_printed() -> None:
    short = entry("85.5x2")
    assert (short.missed, short.rir) == (True, None)
    assert entry("85.5x3 @8").rir == 2


def test_the_field_and_the_cells_of_another_copy_are_not_mixed() -> None:
    for part, text in product(("load", "reps", "rir"), ("3",)):
        texts = replace(RowTexts(did="85.5x3"), **{part: text})  # type: ignore[arg-type]
        found, faults = read_row(row(), texts, Unit.KG)
        assert found.state == "unclear"
        assert faults[0].part == "did"
