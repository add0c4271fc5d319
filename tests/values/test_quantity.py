"""Masses are exact in both units, shown in the shortest writing, and rounded half to even."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.values.quantity import NOTHING, OnBar, Unit, in_unit, on_bar, plain, to_kg, to_places, with_body


def test_a_pound_is_exactly_what_the_agreement_of_1959_says() -> None:
    # NIST SP 811, App. B: 1 lb = 0.45359237 kg, exactly
    assert to_kg(Decimal(45), Unit.LB) == Decimal("20.41165665")
    assert in_unit(Decimal("20.41165665"), Unit.LB) == 45
    assert to_kg(Decimal("2.5"), Unit.KG) == in_unit(Decimal("2.5"), Unit.KG) == Decimal("2.5")


@pytest.mark.parametrize(
    ("number", "places", "rounded"),
    # IEEE 754-2019, 4.3.1, roundTiesToEven
    [("0.125", 2, "0.12"), ("0.135", 2, "0.14"), ("2.5", 0, "2"), ("3.5", 0, "4"), ("0.129", 2, "0.13")],
)
def test_a_number_is_rounded_half_to_even(number: str, places: int, rounded: str) -> None:
    assert to_places(Decimal(number), places) == Decimal(rounded)


@pytest.mark.parametrize(
    ("number", "text"),
    [("100", "100"), ("100.00", "100"), ("102.50", "102.5"), ("1E+2", "100"), ("-0.0", "0"), ("0E-7", "0")],
)
def test_a_number_has_one_plain_writing(number: str, text: str) -> None:
    assert plain(Decimal(number)) == text


@given(st.decimals(0, 500, places=3), st.decimals(0, 150, places=3))
def test_the_body_counts_once_on_the_way_there_and_back(load: Decimal, own: Decimal) -> None:
    whole = with_body(OnBar(load), own)
    assert whole == load + own
    assert on_bar(whole, own) == load
    assert on_bar(whole, own, Decimal("0.5")) == (load - own) / 2
    assert on_bar(with_body(NOTHING, own), own, Decimal(2)) == own
