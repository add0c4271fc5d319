"""Sets that are counted in time or in distance: how they are written, and how they are told in any language."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator

from builder.values import slips
from builder.values.forms import schema, words
from builder.values.scalars import _comma, one_word, wrong

LengthUnit = Literal["s", "m"]
MOST_SECONDS, MOST_METRES = 3 * 3600, 50_000
_SECONDS = {"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "min": 60, "mins": 60, "minute": 60,
            "minutes": 60, "h": 3600}  # fmt: skip
_METRES = {"m": 1, "metres": 1, "meters": 1, "km": 1000}
_OTHER = {"yd": "0.9144", "yds": "0.9144", "yards": "0.9144", "ft": "0.3048", "feet": "0.3048",
          "mi": "1609.344", "mile": "1609.344", "miles": "1609.344"}  # fmt: skip
"""Metres of other units; a yard is 0.9144 m exactly (international yard and pound agreement, 1959)."""
_SPAN = re.compile(r"(\d{1,5}(?:\.\d{1,2})?)(?:\s*[-–]\s*(\d{1,5}(?:\.\d{1,2})?))?\s*([a-zA-Z]*)")


@dataclass(frozen=True, slots=True)
class Length:
    """So many seconds or metres, or from `low` to `high` of them."""

    low: int
    high: int
    unit: LengthUnit

    @property
    def ranges(self) -> bool:
        """Whether it is a range."""
        return self.low != self.high

    def at(self, amount: int) -> Length:
        """One length of this kind."""
        return Length(amount, amount, self.unit)

    def __str__(self) -> str:
        """As a file writes it."""
        return f"{self.low}-{self.high} {self.unit}" if self.ranges else f"{self.low} {self.unit}"


def shown(amount: int, unit: LengthUnit) -> str:
    """A length as people write it in any language: "45 s", "20 min", "2:30 min", "40 m", "5 km"."""
    if unit == "m":
        return f"{amount // 1000} km" if amount >= 1000 and amount % 1000 == 0 else f"{amount} m"
    minutes, seconds = divmod(amount, 60)
    if amount <= 120 and (seconds or minutes < 2):
        return f"{amount} s"
    return f"{minutes}:{seconds:02d} min" if seconds else f"{minutes} min"


def _span(value: Any, units: dict[str, int], most: int, unit: LengthUnit, expected: str) -> Length:
    if isinstance(value, Length):
        return value
    text = one_word(value, expected)
    _comma(text)
    if clock := re.fullmatch(r"(\d{1,2}):([0-5]\d)", text):
        seconds = int(clock[1]) * 60 + int(clock[2])
        raise wrong("clock-time", f'"{text}" reads as a time of day', f'Write "{seconds} s" for that long.')
    found = _SPAN.fullmatch(text)
    word = found[3].lower() if found else ""
    if found and word in _OTHER and unit == "m":
        metres = [str(round(Decimal(number) * Decimal(_OTHER[word]))) for number in (found[1], found[2]) if number]
        raise wrong("not-a-length", f'"{text}" is not in metres', f'Write "{"-".join(metres)} m".')
    if found and not word:
        either = f'"{text} s" or "{text} min"' if unit == "s" else f'"{text} m"'
        raise wrong("not-a-length", f'"{text}" has no unit', f"Write {either}.")
    turned = slips.length(text)
    if not found or word not in units:
        help_ = f'Write "{turned}".' if turned else f"Write {expected}."
        raise wrong("not-a-length", f'"{text}" is no {"time" if unit == "s" else "distance"}', help_)
    low, high = (int(Decimal(number) * units[word]) for number in (found[1], found[2] or found[1]))
    if low > high:
        raise wrong("not-a-length", f'"{text}" falls', f'Write "{turned}".')
    if not 0 < low <= high <= most:
        raise wrong("out-of-range", f'"{text}" is out of range', f"Write at most {shown(most, unit)}.")
    return Length(low, high, unit)


def _time(value: Any) -> Any:
    return _span(value, _SECONDS, MOST_SECONDS, "s", '"45 s", "30-60 s" or "20 min"')


def _distance(value: Any) -> Any:
    return _span(value, _METRES, MOST_METRES, "m", '"20 m", "20-40 m" or "5 km"')


def _more(value: Any) -> Any:
    text = "" if isinstance(value, Length) else one_word(value, '"5 s" or "5 m"')
    word = text.rstrip().split(" ")[-1].lower().lstrip("0123456789.")
    more: Length = _distance(value) if word in _METRES or word in _OTHER else _time(value)
    if more.ranges:
        raise wrong("not-a-length", f'"{text}" is a range', f'Write one amount, such as "{more.low} {more.unit}".')
    return more


_SPREAD = r"\d{1,5}(\.\d{1,2})?(\s*[-–]\s*\d{1,5}(\.\d{1,2})?)?\s*"
_ONE = r"\d{1,5}(\.\d{1,2})?\s*"
Time = Annotated[
    Length,
    BeforeValidator(_time),
    schema(_SPREAD + words(*_SECONDS), "a time or a range: 45 s, 30-60 s, 20 min", bare=False),
]
Distance = Annotated[
    Length,
    BeforeValidator(_distance),
    schema(_SPREAD + words(*_METRES), "a distance or a range: 20 m, 20-40 m, 5 km", bare=False),
]
More = Annotated[
    Length, BeforeValidator(_more), schema(_ONE + words(*_SECONDS, *_METRES), "so much more: 5 s or 5 m", bare=False)
]

__all__ = ["Distance", "Length", "LengthUnit", "More", "Time", "shown"]
