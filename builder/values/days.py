"""How days, spans of days and days of the week are written in the source files."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from builder.values import forms, slips
from builder.values.scalars import one_word, wrong

_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def _day(value: Any) -> Any:
    if isinstance(value, date):
        return value
    text = one_word(value, "a date such as 2027-01-11")
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        return _calendar_day(text)
    meant = slips.day(text)
    help_ = f"Write {meant}." if meant else "Write year-month-day, such as 2027-01-11."
    raise wrong("not-a-date", f'"{text}" is not a date in year-month-day order', help_)


def _calendar_day(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise wrong("no-such-date", f"{text} is not in the calendar", "Write a date such as 2027-01-11.") from None
    if not 1950 <= day.year <= 2150:
        raise wrong("out-of-range", f"the year {day.year} is too far off", "Write a year from 1950 to 2150.")
    return day


@dataclass(frozen=True, slots=True)
class Days:
    """Calendar days from `first` to `last`, both counted in."""

    first: date
    last: date

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last


def _days(value: Any) -> Any:
    if isinstance(value, Days):
        return value
    text = one_word(value, "days such as 2027-02-08 to 2027-02-14")
    if found := re.fullmatch(r"(\S+)\s*(?:-|–|until|till|through|bis|/)\s*(\d{4}-\S+)", text):
        raise wrong("not-a-date", f'"{text}" are not days that are known here', f'Write "{found[1]} to {found[2]}".')
    first, _, last = text.partition(" to ")
    span = Days(_day(first.strip()), _day((last or first).strip()))
    if span.last < span.first:
        fact = f"{span.last.isoformat()} comes before {span.first.isoformat()}"
        raise wrong("days-fall", fact, f"Write {span.last.isoformat()} to {span.first.isoformat()}.")
    return span


def _weekday(value: Any) -> Any:
    text = one_word(value, "a day such as mon").lower()
    if text in _WEEKDAYS:
        return text
    if meant := slips.weekday(text):
        raise wrong("not-a-weekday", f'"{text}" is not a short day name', f"Write {meant}.")
    raise wrong("not-a-weekday", f'"{text}" is not a day', "Write mon, tue, wed, thu, fri, sat or sun.")


def each_once(days: tuple[str, ...]) -> tuple[str, ...]:
    """Days of the week, none of them twice: one of the two was to be another."""
    twice = next((day for day in days if days.count(day) > 1), None)
    if twice is not None:
        raise wrong("duplicate-day", f'"{twice}" stands twice', "Keep one, or write the day that was meant.")
    return days


Day = Annotated[date, BeforeValidator(_day), forms.schema(forms.DATE, "a date: 2027-01-11", bare=False, format="date")]
DaySpan = Annotated[
    Days,
    BeforeValidator(_days),
    forms.schema(rf"{forms.DATE}(\s* to \s*{forms.DATE})?", "a day, or days: 2027-02-08 to 2027-02-14", bare=False),
]
Weekday = Annotated[
    str,
    BeforeValidator(_weekday),
    WithJsonSchema({"anyOf": [{"enum": list(_WEEKDAYS)}, {"pattern": f"^{forms.words(*_WEEKDAYS)}$"}]}),
]
