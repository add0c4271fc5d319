"""What every test of a lift was worth, at its date, with the spread of the equations as a stroke."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal

from builder.pages.figures.draw import DARK, INK, MID, PAPER, Dot, Drawing, Label, Mark, Path, Scale, wide
from builder.pages.figures.lines import value_lines
from builder.plan.model import LiftNumbers, TestValue
from builder.values.quantity import in_unit
from builder.words import Words

TOP, FOOT = 5.5, 5.0
LEFT, INSET = 11.0, 7.0
CROSS = 1.1
MOST_SAID = 12
"""So many tests, the last ones, are told in the alternative text."""
Place = tuple[float, float]


def history_drawing(
    words: Words, numbers: LiftNumbers, revision: int, size: tuple[float, float], accent: str
) -> Drawing:
    """A dot for each test that a max can be estimated from, a cross at the load of each missed one.

    Dates are to scale. The tests of `revision` have a ring, so that they stand out in grey too.
    """
    width, height = size
    tests = sorted(numbers.tests, key=lambda t: t.test.day)
    rated = [t for t in tests if t.estimate is not None]
    across, up = _across(tests, width), _up(words, tests, height)
    places = [(across.at(t.test.day.toordinal()), up.at(_amount(words, t.estimate))) for t in rated]
    marks: list[Mark] = [*value_lines(words, up, LEFT, width, 5)]
    marks += [_stroke(words, test, place, up) for test, place in zip(rated, places, strict=True)]
    marks.append(Path(tuple(places), accent, 0.45))
    marks += [mark for t, place in zip(rated, places, strict=True) for mark in _dot(t, place, revision, accent)]
    missed = [(across.at(t.test.day.toordinal()), up.at(_amount(words, t.load))) for t in tests if t.test.missed]
    marks += [stroke for place in missed for stroke in cross(place)]
    marks += _values(words, rated, places, up, missed)
    marks += month_names(words, [t.test.day for t in tests], lambda on: across.at(on.toordinal()), height - FOOT + 3.8)
    return Drawing(width, height, _title(words, numbers.movement, tests), tuple(marks))


def _amount(words: Words, mass: Decimal | None) -> Decimal:
    return in_unit(mass or Decimal(0), words.unit)


def _across(tests: Sequence[TestValue], width: float) -> Scale:
    first, last = tests[0].test.day.toordinal(), tests[-1].test.day.toordinal()
    return Scale(first, last, LEFT + INSET, width - INSET)


def _up(words: Words, tests: Sequence[TestValue], height: float) -> Scale:
    """From a little under the lowest to a little over the highest value that is drawn."""
    spreads = [t.spread for t in tests if t.spread is not None]
    missed = [t.load for t in tests if t.test.missed]
    low = min(*(s.low for s in spreads), *missed, spreads[0].low)
    high = max(*(s.high for s in spreads), *missed, spreads[0].high)
    return Scale(float(_amount(words, low)) * 0.96, float(_amount(words, high)) * 1.04, height - FOOT, TOP)


def _stroke(words: Words, test: TestValue, place: Place, up: Scale) -> Path:
    assert test.spread is not None
    x = place[0]
    ends = (up.at(_amount(words, test.spread.low)), up.at(_amount(words, test.spread.high)))
    return Path(((x, ends[0]), (x, ends[1])), MID, 0.9)


def _dot(test: TestValue, place: Place, revision: int, accent: str) -> list[Mark]:
    x, y = place
    if test.test.revision != revision:
        return [Dot(x, y, 1.1, accent, PAPER, 0.3)]
    return [Dot(x, y, 2.0, PAPER, INK, 0.4), Dot(x, y, 1.1, accent)]


def cross(place: Place) -> list[Mark]:
    """The sign of a test that was missed."""
    x, y = place
    return [
        Path(((round(x - CROSS, 2), round(y + s * CROSS, 2)), (round(x + CROSS, 2), round(y - s * CROSS, 2))), INK, 0.4)
        for s in (1, -1)
    ]


def _values(
    words: Words, rated: Sequence[TestValue], places: Sequence[Place], up: Scale, missed: Sequence[Place]
) -> list[Mark]:
    """The value above each dot and its stroke; where dots stand close, the newer one's, and none across a cross."""
    marks: list[Mark] = []
    edge = float("inf")
    # The newest first: where two values would meet, it is the older that is left out.
    for test, (x, y) in reversed([*zip(rated, places, strict=True)]):
        text = words.amount(test.estimate or Decimal(0))
        half = wide(text, weight=600) / 2
        top = up.at(_amount(words, test.spread.high)) if test.spread else y
        base = round(min(y - 2.7, top - 0.9), 2)
        crossed = any(abs(a - x) < half + CROSS and base - 3 < b < base + CROSS for a, b in missed)
        if x + half < edge and not crossed:
            marks.append(Label(x, base, text, weight=600))
            edge = x - half - 1
    return marks


def month_names(words: Words, days: Iterable[date], at: Callable[[date], float], y: float) -> list[Mark]:
    """Month and year below days, the newer one's where they stand close."""
    marks: list[Mark] = []
    edge = float("inf")
    for on in sorted(set(days), reverse=True):
        x = at(on)
        text = words("figure.trend.month", month=words.month(on), year=f"{on.year % 100:02d}")
        half = wide(text) / 2
        if x + half < edge:
            marks.append(Label(x, round(y, 2), text, colour=DARK))
            edge = x - half - 1.5
    return marks


def _title(words: Words, movement: str, tests: Sequence[TestValue]) -> str:
    said = "; ".join(_said(words, test) for test in tests[-MOST_SAID:])
    return words("figure.history.title", lift=words.movement(movement), count=len(tests), all=said)


def _said(words: Words, test: TestValue) -> str:
    if test.estimate is not None:
        return f"{words.date(test.test.day)}: {words.mass(test.estimate)}"
    key = "missed" if test.test.missed else "refused"
    return words(f"figure.history.{key}", date=words.date(test.test.day), load=words.mass(test.load))
