"""Planned against done, week by week, for all blocks side by side: sets, volume, and the reserve."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from builder.log.report.totals import WeekTotals
from builder.pages.figures.draw import DARK, INK, LIGHT, MID, PAPER, Box, Drawing, Label, Mark, Path, Scale, wide
from builder.values.quantity import in_unit, to_places
from builder.words import Words

TOP = 9.0
"""Where the highest column ends, with room above for the title and a value."""
FOOT = 4.2
NAMES = 3.8
APART, CLEAR = 5.0, 0.6
"""mm between two blocks, and between the values of two weeks."""
WIDEST, WIDEST_COLUMN = 9.0, 26.0
LEAST_DRIFT = Decimal("0.5")
"""Reps; the scale of the reserve reaches at least so far to both sides."""


@dataclass(frozen=True, slots=True)
class Axis:
    """The columns of the weeks: centres, width, and `end`, the place of the base line; the title of each block."""

    weeks: tuple[WeekTotals, ...]
    centres: tuple[float, ...]
    column: float
    width: float
    end: float
    names: tuple[str, ...]

    @property
    def bar(self) -> float:
        """How wide a bar is."""
        return min(self.column * 0.56, WIDEST)

    @property
    def height(self) -> float:
        """Of a whole chart."""
        return self.end + FOOT + (NAMES if len(self.names) > 1 else 0)

    def places(self) -> Iterator[tuple[WeekTotals, float]]:
        """Each week with its centre."""
        return zip(self.weeks, self.centres, strict=True)


def axis(weeks: Sequence[WeekTotals], names: Sequence[str], width: float, body: float) -> Axis:
    """Columns of equal width, blocks set apart; the highest one is `body` mm high."""
    gaps = (len(names) - 1) * APART
    column = min((width - gaps) / len(weeks), WIDEST_COLUMN)
    centres = tuple(round(column * (i + 0.5) + APART * week.block, 2) for i, week in enumerate(weeks))
    return Axis(tuple(weeks), centres, column, width, TOP + body, tuple(names))


def sets_drawing(words: Words, axis: Axis, accent: str) -> Drawing:
    """A column of the sets done, its white top those with fewer reps than planned; across it the plan."""
    scale = Scale(0, max(1, *(week.sums.count.planned for week in axis.weeks)), axis.end, TOP)
    marks: list[Mark] = []
    for week, x in axis.places():
        count = week.sums.count
        marks += _column(x, axis.bar, scale, Decimal(count.done), accent, Decimal(count.missed))
        marks += _plan(x, axis.bar, scale, Decimal(count.planned))
        if week.begun:
            parts = words("report.chart.part", done=count.done, planned=count.planned)
            marks += _value(axis, x, scale.at(max(count.planned, count.done)), parts, str(count.done))
    said = _told(words, axis, lambda week: words(
        "report.chart.said.sets", week=week.sums.week, done=week.sums.count.done, planned=week.sums.count.planned,
        missed=week.sums.count.missed,
    ))  # fmt: skip
    marks += _frame(words("report.weeks.sets"), axis)
    return Drawing(axis.width, axis.height, words("report.chart.sets", all=said), tuple(marks))


def volume_drawing(words: Words, axis: Axis, accent: str) -> Drawing:
    """A column of the tonnage done, across it the tonnage planned; valued in thousands of the lifter's unit."""
    most = max(max(week.sums.planned_tonnage, week.sums.done_tonnage) for week in axis.weeks)
    scale = Scale(0, float(most) or 1, axis.end, TOP)
    marks: list[Mark] = []
    for week, x in axis.places():
        done, planned = week.sums.done_tonnage, week.sums.planned_tonnage
        marks += _column(x, axis.bar, scale, done, accent)
        marks += _plan(x, axis.bar, scale, planned)
        if week.begun:
            short = _thousands(words, done)
            parts = words("report.chart.part", done=short, planned=_thousands(words, planned))
            marks += _value(axis, x, scale.at(max(done, planned)), parts, short)
    said = _told(words, axis, lambda week: words(
        "report.chart.said.volume", week=week.sums.week, done=words.bulk(week.sums.done_tonnage),
        planned=words.bulk(week.sums.planned_tonnage),
    ))  # fmt: skip
    marks += _frame(words("report.weeks.volume", unit=words.unit), axis)
    return Drawing(axis.width, axis.height, words("report.chart.volume", all=said), tuple(marks))


def effort_drawing(words: Words, axis: Axis, accent: str) -> Drawing | None:
    """A column up from the line for sets that were easier than planned, down for harder ones; None without any."""
    drifts = [week.sums.effort.drift for week in axis.weeks if week.sums.effort]
    if not drifts:
        return None
    # At least half a rep each way, so that a tenth of one does not fill the chart.
    scale = Scale(float(min(*drifts, -LEAST_DRIFT)), float(max(*drifts, LEAST_DRIFT)), axis.end - 3.6, TOP)
    line = scale.at(0)
    marks: list[Mark] = []
    for week, x in axis.places():
        if week.sums.effort:
            drift = week.sums.effort.drift
            y = scale.at(drift)
            box = (round(x - axis.bar / 2, 2), min(y, line), round(axis.bar, 2), round(abs(y - line), 2))
            marks.append(Box(*box, accent if drift < 0 else PAPER, accent, 0.4))
            base, text = y - 0.9 if drift >= 0 else y + 2.8, signed(words, drift)
            marks += [Label(x, round(base, 2), text, weight=600)] if _fits(text, axis) else []
    said = _told(
        words,
        axis,
        lambda week: words(
            "report.chart.said.effort",
            week=week.sums.week,
            drift=signed(words, week.sums.effort.drift),
            count=week.sums.effort.sets,
        )
        if week.sums.effort
        else "",
    )
    marks += [Path(((a, line), (b, line)), DARK, 0.3) for a, b in _stretches(axis)]
    marks += _frame(words("report.weeks.effort"), axis, based=False)
    return Drawing(axis.width, axis.height, words("report.chart.effort", all=said), tuple(marks))


def signed(words: Words, number: Decimal) -> str:
    """A number with one decimal place and its sign."""
    short = to_places(number, 1)
    return f"+{words.number(short, 1)}" if short > 0 else words.number(short or Decimal(0), 1)


def _thousands(words: Words, kg: Decimal) -> str:
    return words.number(in_unit(kg, words.unit) / 1000, 1)


def _column(x: float, bar: float, scale: Scale, done: Decimal, accent: str, missed: Decimal = Decimal(0)) -> list[Mark]:
    """A filled column, the part for missed sets left white at its top."""
    if not done:
        return []
    left, top, full = round(x - bar / 2, 2), scale.at(done), scale.at(done - missed)
    whole = Box(left, top, round(bar, 2), round(scale.start - top, 2), PAPER, accent, 0.4)
    return [whole, Box(left, full, round(bar, 2), round(scale.start - full, 2), accent, accent, 0.4)]


def _plan(x: float, bar: float, scale: Scale, planned: Decimal) -> list[Mark]:
    """A short line at what was planned, with a white rim where it crosses a column."""
    if not planned:
        return []
    y, half = scale.at(planned), bar / 2 + 1.1
    ends = ((round(x - half, 2), y), (round(x + half, 2), y))
    return [Path(ends, PAPER, 1.3), Path(ends, INK, 0.6)]


def _value(axis: Axis, x: float, y: float, whole: str, short: str) -> list[Mark]:
    """Done and planned above a column; done alone where there is little room, nothing where there is none."""
    fit = [text for text in dict.fromkeys((whole, short)) if _fits(text, axis)]
    return [Label(x, round(y - 1.3, 2), fit[0], weight=600)] if fit else []


def _fits(text: str, axis: Axis) -> bool:
    """Whether a value stands clear of those of the weeks beside its own."""
    return wide(text, weight=600) + CLEAR <= axis.column


def _frame(title: str, axis: Axis, *, based: bool = True) -> list[Mark]:
    """The title, the base line below each block, the numbers of the weeks and the names of the blocks."""
    marks: list[Mark] = [Label(0, 2.4, title, "start", weight=600, colour=DARK)]
    every = ceil((wide("00", weight=600) + CLEAR) / axis.column)
    marks += [
        Label(x, axis.end + 3.5, str(week.sums.week), weight=600)
        for week, x in axis.places()
        if week.sums.week % every == 0
    ]
    for name, (start, end) in zip(axis.names, _stretches(axis), strict=True):
        marks.append(Path(((start, axis.end), (end, axis.end)), DARK if based else LIGHT, 0.3))
        if len(axis.names) > 1:
            marks.append(Label(start, axis.end + FOOT + 3.0, _cut(name, end - start), "start", colour=DARK))
    for (_, end), (start, _) in zip(_stretches(axis), _stretches(axis)[1:], strict=False):
        middle = round((end + start) / 2, 2)
        marks.append(Path(((middle, 4), (middle, axis.height)), MID, 0.2, "0.8 0.8"))
    return marks


def _stretches(axis: Axis) -> list[tuple[float, float]]:
    """Where the columns of each block begin and end."""
    found = []
    for number in range(len(axis.names)):
        mine = [x for week, x in axis.places() if week.block == number]
        found.append((round(mine[0] - axis.column / 2, 2), round(mine[-1] + axis.column / 2, 2)))
    return found


def _cut(text: str, room: float) -> str:
    """A text as far as it fits."""
    shown = text
    while shown and wide(f"{shown}…") > room:
        shown = shown[:-1]
    return text if wide(text) <= room else f"{shown.rstrip()}…"


def _told(words: Words, axis: Axis, say: Callable[[WeekTotals], str]) -> str:
    """The weeks in words, block by block where there are several."""
    parts = []
    for number, name in enumerate(axis.names):
        said = "; ".join(filter(None, (say(week) for week in axis.weeks if week.block == number)))
        parts.append(words("report.chart.block", title=name, all=said) if len(axis.names) > 1 else said)
    return ". ".join(parts)
