"""Single values: what is accepted, exactly what it means, and what is said to the person who wrote it otherwise."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from builder.values.days import Day, Weekday
from builder.values.quantity import Unit
from builder.values.scalars import (
    Amount,
    Cadence,
    Every,
    Format,
    Load,
    LoadOrShare,
    Number,
    Prose,
    Range,
    Reps,
    Rir,
    Seconds,
    Share,
    Status,
    Text,
    Whole,
    YesNo,
)


def read(kind: Any, value: Any) -> Any:
    """The value that a kind reads."""
    return TypeAdapter(kind).validate_python(value)


def refused(kind: Any, value: Any) -> tuple[str, str, str]:
    """Code, fact and help of the one problem that a value gives."""
    with pytest.raises(ValidationError) as caught:
        read(kind, value)
    (error,) = caught.value.errors()
    context: dict[str, Any] = error.get("ctx", {})
    return error["type"], str(context.get("fact", "")), str(context.get("help", ""))


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("140", Amount(Decimal(140))),
        ("140 kg", Amount(Decimal(140), Unit.KG)),
        ("315lb", Amount(Decimal(315), Unit.LB)),
        (" 2.50  KG ", Amount(Decimal("2.50"), Unit.KG)),
        ("0", Amount(Decimal(0))),
        ("2000", Amount(Decimal(2000))),
    ],
)
def test_a_load_keeps_its_number_and_unit(text: str, amount: Amount) -> None:
    """A bare number waits for the profile's unit."""
    assert read(Load, text) == amount


def test_a_pound_is_exact() -> None:
    """1 lb = 0.45359237 kg (international agreement of 1959; NIST SP 811, App. B)."""
    assert read(Load, "225 lb").kg(Unit.KG) == Decimal("102.05828325")
    assert read(Load, "225").kg(Unit.LB) == Decimal("102.05828325")
    assert read(Load, "225").kg(Unit.KG) == 225


@pytest.mark.parametrize(
    ("kind", "text", "code", "help_"),
    [
        (Load, "2,5 kg", "decimal-comma", 'Write "2.5 kg", with a point.'),
        (Load, "102,5", "decimal-comma", 'Write "102.5", with a point.'),
        (Number, "3,25", "decimal-comma", 'Write "3.25", with a point.'),
        (Share, "82,5 %", "decimal-comma", 'Write "82.5 %", with a point.'),
        (Seconds, "1,5 min", "decimal-comma", 'Write "1.5 min", with a point.'),
        (Rir, "1,5", "decimal-comma", 'Write "1.5", with a point.'),
        (Whole, "3,0", "decimal-comma", 'Write "3.0", with a point.'),
        (Load, "225 lbs", "wrong-unit", 'Write "225 lb".'),
        (Load, "100 kilos", "wrong-unit", 'Write "100 kg".'),
        (Load, "14 stone", "wrong-unit", 'Write a load such as "140", "140 kg" or "315 lb".'),
        (Load, "heavy", "not-a-load", 'Write a load such as "140", "140 kg" or "315 lb".'),
        (Load, "1.5.2", "not-a-load", 'Write a load such as "140", "140 kg" or "315 lb".'),
        (Load, "1e3", "not-a-load", 'Write a load such as "140", "140 kg" or "315 lb".'),
        (Load, "-5", "out-of-range", 'Write "5", without the minus.'),
        (Load, "2001", "out-of-range", "Write a load from 0 to 2000."),
        (Share, "0.85", "share-without-sign", 'Write "85 %".'),
        (Share, "85", "share-without-sign", 'Write "85 %".'),
        (Share, "1", "share-without-sign", 'Write "100 %".'),
        (Share, "most", "not-a-share", 'Write a share such as "85 %".'),
        (Seconds, "3:00", "clock-time", 'Write "180 s" for that long.'),
        (Seconds, "1:30", "clock-time", 'Write "90 s" for that long.'),
        (Seconds, "180", "time-without-unit", 'Write "180 s" or "180 min".'),
        (Seconds, "2 h", "not-a-time", 'Write a time such as "90 s" or "3 min".'),
        (Day, "11.01.2027", "not-a-date", "Write 2027-01-11."),
        (Day, "31/12/2026", "not-a-date", "Write 2026-12-31."),
        (Day, "2027-1-11", "not-a-date", "Write 2027-01-11."),
        (Day, "2027-02-29", "no-such-date", "Write a date such as 2027-01-11."),
        (Weekday, "monday", "not-a-weekday", "Write mon."),
        (Weekday, "mo", "not-a-weekday", "Write mon."),
        (Weekday, "1", "not-a-weekday", "Write mon, tue, wed, thu, fri, sat or sun."),
        (Reps, "5-3", "not-a-range", 'Write "3-5".'),
        (Reps, "0", "not-a-range", 'Write "5" or "4-6", the smaller number first.'),
        (Reps, "4 to 6", "not-a-range", 'Write "4-6".'),
        (Cadence, "2", "not-a-cadence", 'Write "2 weeks" or "2 exposures".'),
        (Cadence, "0 weeks", "not-a-cadence", 'Write "2 weeks" or "3 exposures".'),
        (Cadence, "often", "not-a-cadence", 'Write "2 weeks" or "3 exposures".'),
        (YesNo, "on", "not-yes-or-no", "Write true."),
        (YesNo, "0", "not-yes-or-no", "Write false."),
        (YesNo, "maybe", "not-yes-or-no", "Write true or false."),
        (Whole, "3.5", "not-a-whole-number", "Write a whole number such as 3."),
        (Whole, "3x5", "not-a-whole-number", "Write \"sets: 3, reps: 5\"."),
        (Number, "1/2", "not-a-number", "Write a number such as 2.5."),
        (Text, "", "empty-text", "Write it, or leave the key out."),
        (Text, "a" * 121, "long-text", "Write one line of at most 120."),
        (Prose, "a" * 20_001, "long-text", "Write at most 20000."),
        (Status, "Novice", "unknown-word", 'Write "novice".'),
        (Format, "2", "unknown-word", None),
    ],
)
def test_a_slip_is_told_how_to_write_it(kind: Any, text: str, code: str, help_: str | None) -> None:
    """Each wrong writing has its own code and a help that can be typed."""
    found, fact, given_help = refused(kind, text)
    assert found == code
    assert fact
    if help_ is not None:
        assert given_help == help_


def test_where_the_help_gives_a_writing_it_is_accepted() -> None:
    """Following the advice to the letter mends the value."""
    for kind, slip in [
        (Load, "2,5 kg"), (Load, "225 lbs"), (Load, "#5"), (Share, "0.85"), (Share, "0.825"), (Share, "120"),
        (Seconds, "3:00"), (Seconds, "0:45"), (Cadence, "2"), (Day, "31.12.2026"), (Weekday, "Thursday"),
    ]:  # fmt: skip
        help_ = refused(kind, slip)[2]
        advice = help_.split('"')[1] if '"' in help_ else help_.removeprefix("Write ").removesuffix(".")
        read(kind, advice)


@pytest.mark.parametrize(
    "kind", [Load, Share, Seconds, Day, Reps, Cadence, YesNo, Whole, Number, Text, Status, LoadOrShare]
)
@pytest.mark.parametrize("value", [[], ["5"], {}, {"a": "b"}])
def test_a_list_or_mapping_is_not_a_value(kind: Any, value: Any) -> None:
    """The person learns that one value is expected."""
    code, fact, help_ = refused(kind, value)
    assert code == "wrong-type"
    assert "one value is expected" in fact
    assert help_.startswith("Write ")


def test_shares_are_exact_fractions() -> None:
    """85 % is 0.85, and 0.1 % of a percent stays."""
    assert [read(Share, t) for t in ("85 %", "85%", "100.5 %", "0 %")] == [
        Decimal(x) for x in ("0.85", "0.85", "1.005", "0")
    ]


def test_a_load_or_share_is_told_by_the_sign() -> None:
    """With % it is a share, without a load."""
    assert read(LoadOrShare, "2.5 %") == Decimal("0.025")
    assert read(LoadOrShare, "2.5") == Amount(Decimal("2.5"))
    assert read(LoadOrShare, "5 lb") == Amount(Decimal(5), Unit.LB)


def test_times_dates_ranges_and_cadences() -> None:
    """Seconds as whole numbers, dates as dates, ranges with both ends counted in."""
    assert [read(Seconds, t) for t in ("90 s", "1.5 min", "3 min", "45 seconds")] == [90, 90, 180, 45]
    assert read(Day, "2028-02-29") == date(2028, 2, 29)
    assert [read(Reps, t) for t in ("5", "4-6", "4 – 6")] == [Range(5, 5), Range(4, 6), Range(4, 6)]
    assert [n in Range(4, 6) for n in (3, 4, 6, 7)] == [False, True, True, False]
    assert [read(Cadence, t) for t in ("1 week", "3 exposures")] == [Every(1, "weeks"), Every(3, "exposures")]
    assert [read(YesNo, t) for t in ("yes", "no", "True", "false")] == [True, False, True, False]
    assert read(Text, "  007 ") == "007"


@given(st.decimals(min_value=0, max_value=2000, places=2), st.sampled_from(["", "kg", "lb"]))
def test_a_load_that_can_be_written_is_read_back(number: Decimal, unit: str) -> None:
    """Number and unit survive; nothing passes through a binary fraction."""
    amount = read(Load, f"{number} {unit}".strip())
    assert (amount.number, amount.unit) == (number, Unit(unit) if unit else None)


@given(st.text(max_size=20), st.sampled_from([Load, Share, Seconds, Day, Reps, Cadence, Whole, Number, LoadOrShare]))
def test_any_text_is_a_value_or_a_told_problem(text: str, kind: Any) -> None:
    """Whatever is typed, the answer is a value or a problem with fact and help in our own words."""
    told: list[Any] = []
    try:
        read(kind, text)
    except ValidationError as error:
        told = [e.get("ctx", {}) for e in error.errors()]
    assert all({"fact", "help"} <= set(context) for context in told)
