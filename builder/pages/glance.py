"""The block at a glance: the calendar with its top sets on one side, all charts on the next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from builder.given import Client
from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.page import GUTTER, drawn
from builder.pages.figures.tops import top_points, tops_drawing
from builder.pages.figures.weekly import WeekPoint, week_points, weekly_drawing
from builder.pages.model import Section
from builder.pages.names import movement_title, session_title
from builder.pages.reasons import reason_sentences
from builder.pages.weeks import top_text
from builder.plan.changes import told_changes
from builder.plan.model import LiftNumbers, Plan, PlannedSession, PlannedWeek, WeekKind
from builder.plan.numbers import carried
from builder.words import Words

CHARTS_HEAD, CHART, CHART_MORE, CHART_LESS = 30.0, 39.0, 20.0, -5.0
"""mm of the title of the charts, of the charts of a lift with their name, and by which they grow on a large page and
shrink where letters are large."""
MOST_TALL_WEEKS = 16
"""Beyond so many weeks the rows of the calendar get low and lose their second line."""


Kind = Literal["off", "session", "milestone", "test"]


@dataclass(frozen=True, slots=True)
class CalendarDay:
    """A day of the calendar; `number` is that of the session's title in the key, None on a day without a session.

    `top` is the heaviest set of the lift that the session is about.
    """

    day: str
    kind: Kind
    number: int | None
    title: str
    starred: bool = False
    top: str = ""


@dataclass(frozen=True, slots=True)
class WeekRow:
    """A week of the calendar; `name` says what it is when it is no plain training week, `sums` are reps and mean."""

    number: int
    kind: WeekKind
    name: str
    phase: str
    cells: tuple[CalendarDay, ...]
    sums: tuple[str, str]


@dataclass(frozen=True, slots=True)
class LiftChart:
    """One lift's chart."""

    lift: str
    chart: Drawing


@dataclass(frozen=True, slots=True)
class LiftCharts:
    """The two charts of one lift side by side, with what to see in them; `tops` is None without a computed load."""

    lift: str
    caption: str
    weekly: Drawing
    tops: Drawing | None


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
    changed_title: str
    changed: tuple[str, ...]
    open_days: tuple[bool, ...]
    charts_title: str
    charts_caption: str
    charts: tuple[LiftCharts, ...]


def glance_section(ctx: Context) -> Section:
    """The section with the calendar and the charts."""
    words, plan = ctx.words, ctx.plan
    titles = session_titles(words, plan)
    trained = {session.on.weekday() for session in plan.sessions()}
    first = plan.weeks[0].starts.weekday()
    dense = len(plan.weeks) > MOST_TALL_WEEKS
    # Where a cell has no room for the title of its session, it has a number, and a key below says whose.
    titled = not ctx.sheet.facing and not dense
    page = GlancePage(
        title=words("glance.title"),
        lead=_lead(words, plan),
        about=plan.block.block.about or "",
        head=_head(words, plan.weeks[0].starts),
        weeks=tuple(_week_row(words, week, titles, plan.client) for week in plan.weeks),
        dense=dense,
        titled=titled,
        key=() if titled else tuple((number, title) for title, number in titles.items()),
        milestone_key=words("glance.milestone") if any(s.milestone for s in plan.sessions()) else "",
        phases=tuple(_phase(words, p.title, p.weeks.low, p.weeks.high, p.aim) for p in plan.block.block.phases),
        changed_title=words("glance.changed"),
        changed=tuple(_changed(words, plan)),
        open_days=tuple((first + n) % 7 in trained for n in range(7)),
        charts_title=words("glance.charts"),
        charts_caption=words("glance.charts.caption"),
        charts=tuple(_charts(ctx)),
    )  # fmt: skip
    return Section("glance", page.title, "glance", page)


def _lead(words: Words, plan: Plan) -> str:
    """How long the block is, and when the lifter is away."""
    days = [session.on for session in plan.sessions()]
    first, last = words.date(days[0]), words.date(days[-1])
    away = (note for note in plan.notes if note.step in ("away", "away-day"))
    lead = words("glance.lead", weeks=len(plan.weeks), count=len(days), first=first, last=last)
    return " ".join([lead, *reason_sentences(words, away)])


def _changed(words: Words, plan: Plan) -> Iterator[str]:
    """What is otherwise for this lifter than in the block, each with its reason behind it."""
    for one in plan.changes:
        yield " ".join(reason_sentences(words, told_changes((one,))))


def session_titles(words: Words, plan: Plan) -> dict[str, int]:
    """Each different title of a session with its number, in order of first appearance; a test day has its own."""
    titles: dict[str, int] = {}
    for session in plan.sessions():
        titles.setdefault(session_title(session, words), len(titles) + 1)
    return titles


def _head(words: Words, starts: date) -> tuple[str, ...]:
    days = (words.weekday(starts + timedelta(days=n)) for n in range(7))
    return (words("glance.head"), *days, words("glance.reps"), words("glance.mean"))


def _week_row(words: Words, week: PlannedWeek, titles: dict[str, int], client: Client) -> WeekRow:
    by_day = {session.on: session for session in week.sessions}
    days = [week.starts + timedelta(days=n) for n in range(7)]
    return WeekRow(
        week.number,
        week.kind,
        "" if week.kind is WeekKind.TRAINING else words(f"tone.{week.kind}"),
        week.phase or "",
        tuple(_cell(words, week, by_day[on], titles) if on in by_day else _off(words, client, on) for on in days),
        (str(week.total.reps), words.share(week.total.intensity) if week.total.intensity is not None else ""),
    )


def _off(words: Words, client: Client, on: date) -> CalendarDay:
    """A day without a session, and whether the lifter is away."""
    away = any(on in span for span in client.training.away)
    return CalendarDay(words("glance.away", day=on.day) if away else str(on.day), "off", None, "")


def _cell(words: Words, week: PlannedWeek, session: PlannedSession, titles: dict[str, int]) -> CalendarDay:
    on = session.on
    title = session_title(session, words)
    day = words("glance.date", day=on.day, month=words.month(on))
    top = top_text(session, words)
    if week.kind is WeekKind.TEST:
        return CalendarDay(day, "test", titles[title], title, top=top)
    kind: Kind = "milestone" if session.milestone else "session"
    return CalendarDay(day, kind, titles[title], title, session.milestone, top)


def _phase(words: Words, title: str, low: int, high: int, aim: str | None) -> tuple[str, str, str]:
    weeks = words("glance.weeks", low=low, high=high) if low != high else words("glance.one-week", week=low)
    return weeks, title, aim or ""


def _charts(ctx: Context) -> Iterator[LiftCharts]:
    """Small multiples: a row for each main lift, its work on the left, its heaviest sets on the right."""
    words, plan = ctx.words, ctx.plan
    width, more = round((ctx.sheet.width - GUTTER) / 2, 2), _more(ctx)
    for numbers in main_lifts(plan):
        name, points = numbers.movement, week_points(plan.weeks, numbers.movement)
        heaviest = top_points(plan.weeks, numbers, points, carried(plan.client, numbers.about))
        loaded = any(point.load is not None for point in heaviest)
        yield LiftCharts(
            movement_title(name, words),
            _seen(words, points),
            drawn(weekly_drawing(words, name, points, width, ctx.accent, more), ctx.theme),
            drawn(tops_drawing(words, name, heaviest, width, ctx.accent, more), ctx.theme) if loaded else None,
        )


def _more(ctx: Context) -> float:
    """mm by which charts are higher on large pages, or lower where letters are large, so that a page has them all."""
    more = (ctx.sheet.height - CHARTS_HEAD) / max(len(main_lifts(ctx.plan)), 1) - CHART
    if ctx.sheet.facing:
        return round(min(more, 0.0), 2) if ctx.sheet.enlarged and more >= CHART_LESS else 0.0
    return round(min(max(more, 0.0), CHART_MORE), 2)


def _seen(words: Words, points: tuple[WeekPoint, ...]) -> str:
    """The weeks of most reps and of the heaviest mean, as the chart beside it shows them."""
    most = max(points, key=lambda point: point.reps)
    rated = [point for point in points if point.intensity is not None]
    if not rated:
        return words("glance.seen.reps", week=most.number, reps=most.reps)
    top = max(rated, key=lambda point: point.intensity or Decimal(0))
    return words("glance.seen", week=most.number, reps=most.reps, top_week=top.number, top_share=top.intensity)


def main_lifts(plan: Plan) -> tuple[LiftNumbers, ...]:
    """The tested lifts that the block trains, in the profile's order."""
    trained = {name for week in plan.weeks for name, _ in week.by_movement}
    return tuple(numbers for numbers in plan.lifts if numbers.movement in trained)
