"""What people type into a log: text in, exact values out, and a plain refusal where the text could mean two things.

Every shape is matched as a whole: a text of which a part is left over may say something that we do not understand. And
every number is bounded, since texts come out of files of strangers.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from builder.values.quantity import NOTHING, OnBar, Unit, to_kg

NOT_DONE = frozenset({"x", "-", "–", "—", "×", "✗", "✘"})
"""A set with one of these was not done."""

_NUMBER = r"(?:[0-9]{1,4}(?:[.,][0-9]{1,3})?(?: [1-3]/[24])?|[1-3]/[24])"
_LOAD = re.compile(rf"(bw|bodyweight)?\s*(\+)?\s*({_NUMBER})?\s*(kgs?|lbs?|#)?")
_REPS = re.compile(r"([0-9]{1,3})\s*(\+)?\s*(?:reps?)?\s*([x×✗✘])?")
_EACH = re.compile(r"([0-9]{1,3})\s*/\s*([0-9]{1,3})")
_SECONDS = re.compile(r"([0-9]{1,5})(?:\s*/\s*([0-9]{1,5}))?\s*(\+)?\s*(s|secs?|seconds?|sek|\")?\s*(\+)?")
_METRES = re.compile(r"([0-9]{1,5})(?:\s*/\s*([0-9]{1,5}))?\s*(\+)?\s*(m|metres|meters?)?\s*(\+)?")
_KILOMETRES = re.compile(rf"({_NUMBER})\s*km\s*(\+)?")
_MINUTES = re.compile(rf"({_NUMBER})\s*(?:min|mins|minutes|minuten|')\s*(?:([0-5]?[0-9])\s*(?:s|sec|sek|\")?)?\s*(\+)?")
_TIME_OF_DAY = re.compile(r"(?:([0-9]):)?([0-9]{1,3}):([0-5][0-9])\s*(?:min|h)?\s*(\+)?")
# As in `values.measure.shown`, which prints what stands beside the cell.
IN_MINUTES = 120
"""Seconds from which a planned time is told in minutes."""
_EFFORT = re.compile(rf"(rpe|@|rir)?\s*({_NUMBER})\s*(\+)?\s*(rir)?")
_BETWEEN = re.compile(r"([0-9])\s*[-–]\s*(10|[0-9])")
_HOURS = re.compile(rf"({_NUMBER})\s*(?:h|hrs?|hours?)?")
_CLOCK = re.compile(r"([0-9]{1,2})[:h]([0-5][0-9])")
MOST_KG = 1000
CLOSE, FAR = timedelta(weeks=3), timedelta(days=400)
_PARTS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "−": "-", "⁄": "/", "\N{NO-BREAK SPACE}": " "}
# A comma for the decimal point is read; a comma before three digits is not, since it may part thousands.


class Unclear(ValueError):
    """The text cannot be read without guessing; the message says what is wrong, `help` how to write it."""

    def __init__(self, fact: str, help_: str) -> None:
        super().__init__(fact)
        self.help = help_


@dataclass(frozen=True, slots=True)
class Load:
    """A load in kg; `added` when written as bodyweight plus something, `named` when its unit was written."""

    kg: OnBar
    added: bool = False
    named: bool = False


@dataclass(frozen=True, slots=True)
class TypedCount:
    """Reps, seconds or reps in reserve; `at_least` when a plus stood behind the number, `failed` when an x did."""

    value: Decimal
    at_least: bool = False
    failed: bool = False


def load(text: str, unit: Unit) -> Load:
    """A load such as "102.5", "102,5", "225lb", "bw" or "bw+10"; without a unit it is in `unit`."""
    found = _LOAD.fullmatch(plainly(text))
    help_ = f'Write a load such as "102.5", "225 lb" or "bw+10"; without a unit it is in {unit}.'
    # "bw 10" may be the body and 10, or 10 in all: only a plus says which.
    if found is None or not (found[1] or found[3]) or (found[1] and found[3] and not found[2]):
        raise Unclear("is no load", help_)
    if not found[3]:
        if found[2] or found[4]:
            raise Unclear("is no load", help_)
        return Load(NOTHING, added=True)
    # The sign # stands for pounds (common practice, no source).
    counted = unit if not found[4] else Unit.LB if found[4] == "#" else Unit(found[4].rstrip("s"))
    kg = OnBar(to_kg(_number(found[3], help_), counted))
    if kg > MOST_KG:
        raise Unclear("is more than anyone lifts", help_)
    return Load(kg, added=bool(found[2]), named=bool(found[4]))


def reps(text: str) -> TypedCount:
    """Reps such as "8", "8+", "4 x" (four and a miss) or, for each side, "8/8"."""
    clean = plainly(text)
    found = _REPS.fullmatch(clean)
    # A plus and a cross contradict each other: more may have been there, and the next one failed.
    if found and not (found[2] and found[3]):
        return TypedCount(Decimal(found[1]), bool(found[2]), bool(found[3]))
    help_ = 'Write whole reps such as "8", or "x" for a set that was not done.'
    if found := _EACH.fullmatch(clean):
        if int(found[1]) == int(found[2]):
            return TypedCount(Decimal(found[1]))
        raise Unclear("names two different counts", help_)
    raise Unclear("is no number of reps", help_)


def seconds(text: str, planned: int = 0) -> TypedCount:
    """How long a set was: "45", "45 s", "0:45", "1 min 30", "20 min" or, for each side, "30/30 s".

    A bare number counts in what is printed beside it: minutes where so many seconds are `planned` that these are told.
    """
    clean, help_ = plainly(text), 'Write the time such as "45 s" or "1:30", or "x" for a set that was not done.'
    bare = 60 if planned >= IN_MINUTES else 1
    if found := _TIME_OF_DAY.fullmatch(clean):
        hours_, minutes, rest = int(found[1] or 0), int(found[2]), int(found[3])
        return TypedCount(Decimal(hours_ * 3600 + minutes * 60 + rest), bool(found[4]))
    if found := _MINUTES.fullmatch(clean):
        return TypedCount((_number(found[1], help_) * 60 + int(found[2] or 0)).to_integral_value(), bool(found[3]))
    return _length(_SECONDS, clean, bare, help_, "is no number of seconds")


def metres(text: str, planned: int = 0) -> TypedCount:
    """How far a set went: "20", "20 m", "5 km", "2.5 km" or, for each side, "20/20 m"; a bare number as printed."""
    clean, help_ = plainly(text), 'Write the distance such as "20 m" or "5 km", or "x" for a set that was not done.'
    if found := _KILOMETRES.fullmatch(clean):
        return TypedCount((_number(found[1], help_) * 1000).to_integral_value(), bool(found[2]))
    # Kilometres where `values.measure.shown` prints them.
    return _length(_METRES, clean, 1000 if planned >= 1000 and planned % 1000 == 0 else 1, help_, "is no distance")


def _length(shape: re.Pattern[str], clean: str, bare: int, help_: str, fact: str) -> TypedCount:
    """A count with or without its unit, or the same for both sides."""
    found = shape.fullmatch(clean)
    if found is None:
        raise Unclear(fact, help_)
    if found[2] and int(found[2]) != int(found[1]):
        raise Unclear("names two different counts", help_)
    return TypedCount(Decimal(int(found[1]) * (1 if found[4] else bare)), bool(found[3] or found[5]))


def effort(text: str, *, rated: bool = False) -> TypedCount:
    """Reps in reserve such as "2", "1/2" or "3+"; "1-2" lies half-way between.

    "@8" and "RPE 8" are 10 less the number (Zourdos 2016, see `training.effort`). In a booklet that asks for ratings
    (`rated`) so is a bare number; "2 rir" is a reserve in either.
    """
    help_ = 'Write the reps left in reserve such as "2" or "1.5".'
    if rated:
        help_ = 'Write the rating from 1 to 10 such as "8" or "8.5", or the reserve such as "2 rir".'
    clean = plainly(text)
    # As the scale has it: 8.5 is one or two left (Zourdos 2016, as quoted by others).
    if (between := _BETWEEN.fullmatch(clean)) and int(between[2]) == int(between[1]) + 1:
        middle = Decimal(between[1]) + Decimal("0.5")
        return TypedCount(10 - middle if rated else middle)
    found = _EFFORT.fullmatch(clean)
    if found is None:
        raise Unclear("is no number of reps in reserve", help_)
    value = _number(found[2], help_)
    rating = found[1] in ("rpe", "@") or (rated and "rir" not in (found[1], found[4]))
    # More of a rating is less in reserve, so a plus behind one could mean either.
    if value > 10 or (rating and (found[3] or value < 1)):
        raise Unclear("is no number of reps in reserve", help_)
    return TypedCount(10 - value if rating else value, bool(found[3]))


def hours(text: str) -> Decimal:
    """Hours such as "7", "7,5", "7 1/2 h" or "7:30"."""
    help_ = 'Write hours such as "7.5" or "7:30".'
    clean = plainly(text)
    if clock := _CLOCK.fullmatch(clean):
        value = Decimal(clock[1]) + Decimal(clock[2]) / 60
    elif found := _HOURS.fullmatch(clean):
        value = _number(found[1], help_)
    else:
        raise Unclear("is no number of hours", help_)
    if value > 24:
        raise Unclear("is more than a day has", help_)
    return value


def day(text: str, near: date) -> date:
    """A date: year-month-day, or day.month as Europe writes it, the year being the one nearest to `near`.

    With slashes either number may be the month; the date within three weeks of `near` is meant when there is just one.
    A date more than a year away is refused.
    """
    help_ = f'Write the date such as "{near.isoformat()}".'
    options = _possible(plainly(text), near)
    if len(options) > 1:
        # Swapped, day and month lie about a month apart or more, so the plan nearly always tells which is meant.
        options = {one for one in options if abs(one - near) <= CLOSE}
        if len(options) != 1:
            raise Unclear("could be two dates", help_)
    if not options:
        raise Unclear("is no date", help_)
    (meant,) = options
    if abs(meant - near) > FAR:
        raise Unclear("lies more than a year from the plan", help_)
    return meant


def _possible(clean: str, near: date) -> set[date]:
    """Every date that a writing can mean."""
    if found := re.fullmatch(r"([0-9]{4})-([0-9]{2})-([0-9]{2})", clean):
        return _dates([int(found[1])], int(found[2]), int(found[3]), near)
    found = re.fullmatch(r"([0-9]{1,2})([./])([0-9]{1,2})(?:\2([0-9]{4}|[0-9]{2})?)?", clean)
    if found is None:
        return set()
    first, second, years = int(found[1]), int(found[3]), _years(found[4], near)
    swapped = _dates(years, first, second, near) if found[2] == "/" else set()
    return _dates(years, second, first, near) | swapped


def _years(text: str | None, near: date) -> list[int]:
    # Around New Year the day before is of another year.
    if text is None:
        return [near.year - 1, near.year, near.year + 1]
    return [int(text) if len(text) == 4 else near.year // 100 * 100 + int(text)]


def _dates(years: list[int], month: int, number: int, near: date) -> set[date]:
    """The real date of these that lies nearest, as a set of none or one."""
    found = []
    for year in years:
        try:
            found.append(date(year, month, number))
        except ValueError:
            continue
    return {min(found, key=lambda one: abs(one - near))} if found else set()


def plainly(text: str) -> str:
    """Lower case, plain digits and spaces, fractions written out."""
    spelled = "".join(_PARTS.get(c, str(unicodedata.decimal(c, c))) for c in text)
    return " ".join(spelled.casefold().split())


def _number(text: str, help_: str) -> Decimal:
    if re.search(r",[0-9]{3}", text):
        raise Unclear("has a comma that may part thousands or decimals", help_)
    # In fractions, as "7 1/2" is a sum of two parts, each of them exact.
    total = sum((Fraction(part.replace(",", ".")) for part in text.split()), Fraction(0))
    return Decimal(total.numerator) / Decimal(total.denominator)
