"""Times, distances and ratings: what is taken, what is refused, and how they are told."""

from decimal import Decimal

import pytest
from pydantic import TypeAdapter, ValidationError

from builder.values.effort import Rating
from builder.values.measure import Distance, Length, Time, shown

TYPES = {"time": Time, "distance": Distance, "rating": Rating}
KINDS = {kind: TypeAdapter[object](type_) for kind, type_ in TYPES.items()}


@pytest.mark.parametrize(
    ("amount", "unit", "text"),
    [
        (45, "s", "45 s"), (90, "s", "90 s"), (120, "s", "2 min"), (119, "s", "119 s"), (150, "s", "2:30 min"),
        (1200, "s", "20 min"), (40, "m", "40 m"), (1000, "m", "1 km"), (1500, "m", "1500 m"), (5000, "m", "5 km"),
    ],
)  # fmt: skip
def test_a_length_is_told_in_its_largest_whole_unit(amount: int, unit: str, text: str) -> None:
    assert shown(amount, unit) == text  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "text", "found"),
    [
        ("time", "30-60 s", Length(30, 60, "s")), ("time", "1.5 min", Length(90, 90, "s")),
        ("time", "180 min", Length(10800, 10800, "s")), ("distance", "50 km", Length(50_000, 50_000, "m")),
        ("rating", "4", Decimal(4)), ("rating", "10", Decimal(10)), ("rating", "8.5", Decimal("8.5")),
    ],
)  # fmt: skip
def test_what_is_just_within_its_bounds_is_taken(kind: str, text: str, found: object) -> None:
    assert KINDS[kind].validate_python(text) == found


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("time", "0 s"), ("time", "60-30 s"), ("time", "181 min"), ("distance", "51 km"), ("rating", "3.9"),
        ("rating", "10.5"),
    ],
)  # fmt: skip
def test_what_is_just_beyond_them_is_refused(kind: str, text: str) -> None:
    with pytest.raises(ValidationError, match=r"out of range|falls"):
        KINDS[kind].validate_python(text)
