"""The block at a glance: the calendar on one side, then volume, intensity and top sets week by week."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.page import drawn, half
from builder.pages.figures.tops import top_points, tops_drawing
from builder.pages.figures.weekly import week_points, weekly_drawing
from builder.pages.model import Section
from builder.pages.names import movement_title, session_title
from builder.plan.model import LiftNumbers, Plan, PlannedSession, PlannedWeek, WeekKind
from builder.plan.numbers import carried
from builder.words import Words

MOST_WIDE_WEEKS = 13
"""Up to so many weeks two charts stand side by side on large paper."""
MOST_TALL_WEEKS = 16
"""Beyond so many weeks the rows of the calendar get low and lose their second line."""


Kind = Literal["off", "session", "milestone", "test"]


@dataclass(frozen=True, slots=True)
class Cell:
    """A day of the calendar; `number` is that of the session's title in the key, None on a day without a session."""

    day: str
    kind: Kind
    number: int | None
    title: str
    starred: bool = False


@dataclass(frozen=True, slots=True)
class WeekRow:
    """A week of the calendar; `name` says what it is when it is no plain training week."""

    number: int
    kind: WeekKind
    name: str
    phase: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class LiftChart:
    """One lift's chart."""

    lift: str
    chart: Drawing


@dataclass(frozen=True, slots=True)
class GlancePage:
    """Calendar, phases and charts."""

    title: str
    lead: str
    about: str
    head: tuple[str, ...]
    weeks: tuple[WeekRow, ...]
    dense: bool
    titled: bool
    key: tuple[tuple[int, str], ...]
    milestone_key: str
    phases: tuple[tuple[str, str, str], ...]
    weekly_title: str
    weekly_caption: str
    weekly: tuple[LiftChart, ...]
    tops_title: str
    tops_caption: str
    tops: tuple[LiftChart, ...]
    paired: bool


def glance_section(ctx: Context) -> Section:
    """The section with the calendar and the charts."""
    words, plan = ctx.words, ctx.plan
    titles = session_titles(words, plan)
    weekly, tops = _charts(ctx)
    dense = len(plan.weeks) > MOST_TALL_WEEKS
    titled = not ctx.sheet.facing and not dense
    page = GlancePage(
        title=words("glance.title"),
        lead=words("glance.lead", weeks=len(plan.weeks), count=len(plan.sessions()),
                   first=words.date(plan.sessions()[0].on), last=words.date(plan.sessions()[-1].on)),
        about=plan.block.block.about or "",
        head=_head(words, plan.weeks[0].starts),
        weeks=tuple(_week_row(words, week, titles) for week in plan.weeks),
        dense=dense,
        titled=titled,
        key=() if titled else tuple((number, title) for title, number in titles.items()),
        milestone_key=words("glance.milestone") if any(s.milestone for s in plan.sessions()) else "",
        phases=tuple(_phase(words, p.title, p.weeks.low, p.weeks.high, p.aim) for p in plan.block.block.phases),
        weekly_title=words("glance.weekly"),
        weekly_caption=words("glance.weekly.caption"),
        weekly=weekly,
        tops_title=words("glance.tops"),
        tops_caption=words("glance.tops.caption"),
        tops=tops,
        paired=_paired(ctx),
    )  # fmt: skip
    return Section("glance", page.title, "glance", page)


def session_titles(words: Words, plan: Plan) -> dict[str, int]:
    """Each different title of a session with its number, in order of first appearance; a test day has its own."""
    titles: dict[str, int] = {}
    for session in plan.sessions():
        titles.setdefault(session_title(session, words), len(titles) + 1)
    return titles


def _head(words: Words, starts: date) -> tuple[str, ...]:
    return (words("glance.head"), *(words.weekday(starts + timedelta(days=n)) for n in range(7)))


def _week_row(words: Words, week: PlannedWeek, titles: dict[str, int]) -> WeekRow:
    by_day = {session.on: session for session in week.sessions}
    days = [week.starts + timedelta(days=n) for n in range(7)]
    return WeekRow(
        week.number,
        week.kind,
        "" if week.kind is WeekKind.TRAINING else words(f"tone.{week.kind}"),
        week.phase or "",
        tuple(_cell(words, week, on, by_day.get(on), titles) for on in days),
    )


def _cell(words: Words, week: PlannedWeek, on: date, session: PlannedSession | None, titles: dict[str, int]) -> Cell:
    if session is None:
        return Cell(str(on.day), "off", None, "")
    title = session_title(session, words)
    day = words("glance.date", day=on.day, month=words.month(on))
    if week.kind is WeekKind.TEST:
        return Cell(day, "test", titles[title], title)
    kind: Kind = "milestone" if session.milestone else "session"
    return Cell(day, kind, titles[title], title, session.milestone)


def _phase(words: Words, title: str, low: int, high: int, aim: str | None) -> tuple[str, str, str]:
    weeks = words("glance.weeks", low=low, high=high) if low != high else words("glance.one-week", week=low)
    return weeks, title, aim or ""


def _paired(ctx: Context) -> bool:
    return not ctx.sheet.facing and len(ctx.plan.weeks) <= MOST_WIDE_WEEKS


def _charts(ctx: Context) -> tuple[tuple[LiftChart, ...], tuple[LiftChart, ...]]:
    words, plan = ctx.words, ctx.plan
    width = half(ctx.sheet) if _paired(ctx) else ctx.sheet.width
    weekly, tops = [], []
    for numbers in main_lifts(plan):
        points = week_points(plan.weeks, numbers.movement)
        name = numbers.movement
        chart = drawn(weekly_drawing(words, name, points, width, ctx.accent), ctx.theme)
        weekly.append(LiftChart(movement_title(name, words), chart))
        heaviest = top_points(plan.weeks, numbers, points, carried(plan.client, numbers.about))
        if any(point.load is not None for point in heaviest):
            chart = drawn(tops_drawing(words, name, heaviest, width, ctx.accent), ctx.theme)
            tops.append(LiftChart(movement_title(name, words), chart))
    return tuple(weekly), tuple(tops)


def main_lifts(plan: Plan) -> tuple[LiftNumbers, ...]:
    """The tested lifts that the block trains, in the profile's order."""
    trained = {name for week in plan.weeks for name, _ in week.by_movement}
    return tuple(numbers for numbers in plan.lifts if numbers.movement in trained)
