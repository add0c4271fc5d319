"""What people type is read exactly, or refused with a way to write it; nothing in between."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from builder.log import typed
from builder.log.typed import Load, TypedCount, Unclear
from builder.values.quantity import OnBar, Unit

NEAR = date(2027, 3, 1)


@pytest.mark.parametrize(
    ("text", "kg"),
    [
        ("102.5", "102.5"), ("102,5", "102.5"), (" 102.5 kg", "102.5"), ("102.5KG", "102.5"), ("102 1/2", "102.5"),
        ("102½", "102.5"), ("１０２．５", None), ("١٠٠", "100"), ("bw", "0"), ("BW", "0"), ("bw+10", "10"),
        ("BW + 7,5", "7.5"), ("+10", "10"), ("0", "0"), ("80 kgs", "80"),
    ],
)  # fmt: skip
def test_loads_in_kilograms(text: str, kg: str | None) -> None:
    if kg is None:
        with pytest.raises(Unclear):
            typed.load(text, Unit.KG)
    else:
        assert typed.load(text, Unit.KG).kg == Decimal(kg)


@pytest.mark.parametrize("text", ["225lb", "225 lb", "225 lbs", "225#", "225LB"])
def test_pounds_are_converted_exactly(text: str) -> None:
    """Against the unit library pint, and the exact pound (NIST SP 811, App. B; references.md, 11: 102.05828325 kg)."""
    ureg: UnitRegistry[Decimal] = UnitRegistry(non_int_type=Decimal)
    by_pint = (Decimal(225) * ureg.pound).to(ureg.kilogram).magnitude
    assert typed.load(text, Unit.KG) == Load(OnBar(Decimal("102.05828325")), named=True)
    assert abs(by_pint - Decimal("102.05828325")) < Decimal("1e-20")
    assert typed.load("225", Unit.LB).kg == Decimal("102.05828325")


@pytest.mark.parametrize(
    "text",
    ["", "kg", "1,000", "1.000.0", "12 kg 5", "bw10", "l00", "10o", "100 stone", "-20", "1e3", "5-6", "99999", "½½"],
)
def test_what_could_mean_two_things_is_no_load(text: str) -> None:
    with pytest.raises(Unclear) as refused:
        typed.load(text, Unit.KG)
    assert "102.5" in refused.value.help


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (typed.reps, "8", TypedCount(Decimal(8))),
        (typed.reps, "8+", TypedCount(Decimal(8), at_least=True)),
        (typed.reps, "8 reps", TypedCount(Decimal(8))),
        (typed.reps, "4 x", TypedCount(Decimal(4), failed=True)),
        (typed.reps, "4x", TypedCount(Decimal(4), failed=True)),
        (typed.reps, "0", TypedCount(Decimal(0))),
        (typed.reps, "5/5", TypedCount(Decimal(5))),
        (typed.seconds, "8 s", TypedCount(Decimal(8))),
        (typed.seconds, '10"', TypedCount(Decimal(10))),
        (typed.effort, "2", TypedCount(Decimal(2))),
        (typed.effort, "1/2", TypedCount(Decimal("0.5"))),
        (typed.effort, "1½", TypedCount(Decimal("1.5"))),
        (typed.effort, "1-2", TypedCount(Decimal("1.5"))),
        (typed.effort, "3+", TypedCount(Decimal(3), at_least=True)),
        (typed.effort, "1,5", TypedCount(Decimal("1.5"))),
        (typed.effort, "2 RIR", TypedCount(Decimal(2))),
    ],
)
def test_counts(read: Callable[[str], TypedCount], text: str, value: TypedCount) -> None:
    assert read(text) == value


@pytest.mark.parametrize(("rating", "rir"), [("RPE 8", "2"), ("@9.5", "0.5"), ("@ 10", "0"), ("rpe 7,5", "2.5")])
def test_a_rating_is_ten_less_the_reserve(rating: str, rir: str) -> None:
    """RPE = 10 - RIR (Zourdos MC et al. J Strength Cond Res 2016;30(1):267-275)."""
    assert typed.effort(rating).value == Decimal(rir)


@pytest.mark.parametrize(
    ("read", "text"),
    [
        (typed.reps, "1/2"), (typed.reps, "5/4"), (typed.reps, "8,5"), (typed.reps, "eight"), (typed.reps, "5x3"),
        (typed.reps, "8-10"), (typed.effort, "11"), (typed.effort, "1-3"), (typed.effort, "fail"), (typed.effort, "@0"),
        (typed.seconds, "1:70"), (typed.hours, "25"), (typed.hours, "7:75"), (typed.hours, "bad"),
    ],
)  # fmt: skip
def test_counts_that_are_refused(read: Callable[[str], object], text: str) -> None:
    with pytest.raises(Unclear):
        read(text)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2027-03-02", date(2027, 3, 2)), ("2.3.", date(2027, 3, 2)), ("02.03.2027", date(2027, 3, 2)),
        ("2.3", date(2027, 3, 2)), ("28.2.27", date(2027, 2, 28)), ("3/2", date(2027, 3, 2)), ("2/3", date(2027, 3, 2)),
        ("3/15", date(2027, 3, 15)), ("15/3/2027", date(2027, 3, 15)), ("31.12.", date(2026, 12, 31)),
    ],
)  # fmt: skip
def test_dates(text: str, day: date) -> None:
    assert typed.day(text, NEAR) == day


@pytest.mark.parametrize("text", ["31.2.", "7/8", "yesterday", "2027-13-01", "3", "1.1.1.1", "1.3.1999", "10.10.2030"])
def test_dates_that_are_refused(text: str) -> None:
    """With slashes neither reading lies near; years far away are slips of the pen."""
    with pytest.raises(Unclear):
        typed.day(text, NEAR)


@given(st.text(max_size=20))
def test_any_text_is_read_or_refused_never_a_fault(text: str) -> None:
    for read in (
        lambda t: typed.load(t, Unit.LB), typed.reps, typed.seconds, typed.effort, typed.hours,
        lambda t: typed.day(t, NEAR),
    ):  # fmt: skip
        with suppress(Unclear):
            read(text)


LOADS = st.decimals(min_value=0, max_value=999, places=2).map(lambda d: d.quantize(Decimal("0.01")))


@given(LOADS, st.sampled_from(["{}", "{} kg", "{}kg", "+{}", "bw+{}", "BW + {} kg"]), st.booleans())
def test_every_writing_of_a_load_gives_the_load(load: Decimal, form: str, comma: bool) -> None:
    text = form.format(load)
    assert typed.load(text.replace(".", ",") if comma else text, Unit.KG).kg == load
