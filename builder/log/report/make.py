"""The report as sections: what matters first, then the maxes by day, then the tables and the lifter's notes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.log.progress import WeekEstimate
from builder.log.report.context import ReportContext, document
from builder.log.report.lifts import days_of, lift_drawing
from builder.log.report.tables import Table, missed_table, notes, records_table, set_text, tests_table, unread_table
from builder.log.report.totals import Course, Totals, courses, skipped, totals, weeks
from builder.log.report.weekly import axis, effort_drawing, sets_drawing, signed, volume_drawing
from builder.pages.figures.draw import Drawing
from builder.pages.figures.page import GUTTER, drawn
from builder.pages.glance import LiftChart
from builder.pages.model import Booklet, Paper, Section
from builder.values.measure import shown
from builder.words import Words

HEIGHTS, NARROW_HEIGHT = {Paper.A4: 58.0, Paper.LETTER: 54.0}, 50.0
"""Of a lift's chart, in mm: on large pages, and on those where plan and log face each other."""
BODIES, NARROW_BODY = {Paper.A4: 29.0, Paper.LETTER: 22.0}, 9.0
"""Of the columns of the charts by week, in mm: as high as they can be on the first page of one block."""
LEAST_BODY = 8.0
TITLE_LETTERS = 90
HEAD_LETTERS = 40
MOST_SKIPPED, MOST_TIRED = 12, 2


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure that matters: what it is, the number, and what it is taken of."""

    name: str
    value: str
    note: str


@dataclass(frozen=True, slots=True)
class SummaryPage:
    """The first page. `empty` takes the place of all that follows the head when nothing is written."""

    logo: str | None
    logo_alt: str
    brand: str
    title: str
    lifter: str
    blocks: tuple[str, ...]
    made: str
    empty: str
    figures: tuple[Figure, ...]
    due: str
    remarks: str
    weeks_title: str
    weeks_caption: str
    charts: tuple[Drawing, ...]
    no_effort: str


@dataclass(frozen=True, slots=True)
class LiftReport:
    """One lift: its best in a sentence, and its chart."""

    sentence: str
    chart: LiftChart


@dataclass(frozen=True, slots=True)
class LiftsPage:
    """The maxes by day, and the tests."""

    title: str
    caption: str
    none: str
    cards: tuple[LiftReport, ...]
    tables: tuple[Table, ...]


@dataclass(frozen=True, slots=True)
class DetailPage:
    """The tables, and the notes."""

    title: str
    tables: tuple[Table, ...]
    notes_title: str
    notes: tuple[tuple[str, str], ...]
    notes_remark: str
    unread: Table


def make_report(ctx: ReportContext) -> Booklet:
    """The whole report, ready for the press."""
    words, newest = ctx.words, ctx.blocks[-1].log.manifest
    lifter = ctx.text(newest.client)
    title = words("report.document", lifter=lifter)
    return document(ctx, title, lifter, tuple(_sections(ctx)), code=newest.code)


def _sections(ctx: ReportContext) -> Iterator[Section]:
    words, newest = ctx.words, ctx.blocks[-1].log.manifest
    code = " · ".join(block.log.manifest.code for block in ctx.blocks[-3:])
    title = ctx.text(newest.title, HEAD_LETTERS)
    running = words("report.running", lifter=ctx.text(newest.client, HEAD_LETTERS), title=title)
    yield Section("report", words("report.title"), "report", _summary(ctx), code=code)
    if any(block.written for block in ctx.blocks):
        yield Section("lifts", words("report.lifts"), "report_lifts", _lifts(ctx), running=running, code=code)
        yield Section("details", words("report.records"), "report_details", _details(ctx), running=running, code=code)


def _summary(ctx: ReportContext) -> SummaryPage:
    words, brand = ctx.words, ctx.brand.name if ctx.brand else ""
    written = any(block.written for block in ctx.blocks)
    charts = _charts(ctx) if written else ()
    return SummaryPage(
        logo=ctx.logo,
        logo_alt=words("report.logo", brand=brand),
        brand=brand,
        title=words("report.title"),
        lifter=ctx.text(ctx.blocks[-1].log.manifest.client),
        blocks=tuple(_block_line(ctx, number) for number in range(len(ctx.blocks))),
        made=words("report.made", day=words.date(ctx.made_on)),
        empty="" if written else words("report.empty"),
        figures=tuple(_figures(words, totals(ctx.blocks))) if written else (),
        due=words("report.due"),
        remarks=" ".join(_remarks(ctx)),
        weeks_title=words("report.weeks"),
        weeks_caption=words("report.weeks.caption"),
        charts=charts,
        no_effort=words("report.weeks.none") if charts and len(charts) < 3 else "",
    )


def _block_line(ctx: ReportContext, number: int) -> str:
    block = ctx.blocks[number]
    about = block.log.manifest
    return ctx.words(
        "report.block",
        title=ctx.text(about.title, TITLE_LETTERS),
        first=ctx.words.date(block.first),
        last=ctx.words.date(block.last),
        code=about.code,
        revision=about.revision,
    )


def _remarks(ctx: ReportContext) -> Iterator[str]:
    """The days of the sessions that were due and of which no set was done, the newest where there are many.

    Then the newest weeks of the newest block in which several lifts stalled, with what should follow.
    """
    days = [ctx.words.date(day) for day in skipped(ctx.blocks)]
    if days:
        shown = ", ".join((["…"] if len(days) > MOST_SKIPPED else []) + days[-MOST_SKIPPED:])
        yield ctx.words("report.skipped", count=len(days), days=shown)
    tired = [week for week in ctx.blocks[-1].sums.weeks if week.stalled.tired][-MOST_TIRED:]
    for week in tired:
        way = "missed" if week.stalled.told == week.stalled.missed else "lighter"
        lifts = [ctx.text(ctx.words.movement(name)) for name in week.stalled.told]
        yield ctx.words(f"report.tired.{way}", week=week.week, lifts=", ".join(lifts))
    if tired:
        yield ctx.words("report.tired")


def _figures(words: Words, sums: Totals) -> Iterator[Figure]:
    sets = sums.sets
    said = signed(words, sums.effort.drift) if sums.effort else words("report.none")
    ways = {"\N{MINUS SIGN}": "harder", "+": "easier"}
    way = ways.get(said[0], "even") if sums.effort else "none"
    values = {
        "sessions": words("report.figure.sessions.value", done=sums.sessions_done, due=sums.sessions_due),
        "adherence": words.share(sets.adherence) if sets.adherence is not None else words("report.none"),
        "missed": str(sets.missed),
        "out": str(sets.left_out),
        "volume": words.bulk(sums.tonnage_done),
        "effort": said,
        "records": str(sums.records),
        "unread": str(sums.unread),
    }
    notes_ = {
        "sessions": words("report.figure.sessions.note", planned=sums.sessions_planned),
        "adherence": words("report.figure.adherence.note", done=sets.done, planned=sets.planned),
        "out": words("report.figure.out.note", blank=sets.blank),
        "volume": " · ".join(_volume_notes(words, sums)),
        "effort": words(f"report.figure.effort.note.{way}"),
        "records": words("report.figure.records.note", best=sums.best_records),
    }
    for name, value in values.items():
        note = notes_[name] if name in notes_ else words(f"report.figure.{name}.note")
        yield Figure(words(f"report.figure.{name}"), value, note)


def _volume_notes(words: Words, sums: Totals) -> Iterator[str]:
    """What was planned, and what counts apart: loads found by feel, time and distance."""
    yield words("report.figure.volume.note", planned=words.bulk(sums.tonnage_planned))
    apart = sums.lengths
    if apart.by_feel:
        yield words("report.figure.volume.feel", load=words.bulk(apart.by_feel))
    both = ((apart.done_seconds, apart.planned_seconds, "s"), (apart.done_metres, apart.planned_metres, "m"))
    for done, planned, unit in both:
        if planned:
            told = {"done": shown(done, unit), "planned": shown(planned, unit)}  # type: ignore[arg-type]
            yield words("report.figure.volume.length", **told)


def _charts(ctx: ReportContext) -> tuple[Drawing, ...]:
    """Sets, volume and reserve below each other, on one axis; those that have something to show."""
    planned = [block for block in ctx.blocks if block.sums.weeks]
    if not planned:
        return ()
    names = [ctx.text(block.log.manifest.title) for block in planned]
    columns = axis(weeks(planned), names, ctx.sheet.width, _body(ctx))
    effort = effort_drawing(ctx.words, columns, ctx.accent)
    charts = (sets_drawing(ctx.words, columns, ctx.accent), volume_drawing(ctx.words, columns, ctx.accent), effort)
    return tuple(drawn(chart, ctx.theme) for chart in charts if chart is not None)


def _body(ctx: ReportContext) -> float:
    """Lower columns where the head is longer, so that the charts stay on the first page."""
    more = 2.0 * (len(ctx.blocks) - 1) + 3.0 * len(list(_remarks(ctx)))
    most = NARROW_BODY if ctx.sheet.facing else BODIES[ctx.paper]
    return max(LEAST_BODY, most - more)


def _lifts(ctx: ReportContext) -> LiftsPage:
    words, every = ctx.words, courses(ctx.blocks, ctx.tests)
    page = ctx.sheet
    width = page.width if page.facing or len(every) == 1 else (page.width - GUTTER) / 2
    size = (round(width, 2), NARROW_HEIGHT if page.facing else HEIGHTS[ctx.paper])
    tests = tests_table(ctx)
    return LiftsPage(
        title=words("report.lifts"),
        caption=" ".join(_captions(ctx, every, width)),
        none="" if every else words("report.lifts.none"),
        cards=tuple(_card(ctx, course, size) for course in every),
        tables=(tests,) if tests.rows else (),
    )


def _captions(ctx: ReportContext, every: tuple[Course, ...], width: float) -> Iterator[str]:
    """What the charts show, as far as there is something of it."""
    words = ctx.words
    if every:
        yield words("report.lifts.caption")
    if any(course.tests for course in every):
        yield words("report.lifts.tests")
    if any(days_of(course, width).early for course in every):
        yield words("report.lifts.tests.squeezed")
    if own := [ctx.lift(course.movement) for course in every if course.own]:
        yield words("report.lifts.own", lifts=", ".join(own))


def _card(ctx: ReportContext, course: Course, size: tuple[float, float]) -> LiftReport:
    words = ctx.words
    # Of equal ones that which is no lower bound.
    best = max(course.points, key=lambda one: (one.estimate, not one.least))
    before = course.spans[-1].before
    apart = words.mass(abs(best.estimate - before))
    sign = "+" if best.estimate > before else "\N{MINUS SIGN}" if best.estimate < before else ""
    sentence = words(
        "report.lifts.best",
        best=_worth(words, best),
        day=words.date(best.on),
        set=set_text(words, ctx.load(best.load, course.own), str(best.reps), best.rir),
        before=words.mass(before),
        apart=f"{sign}{apart}",
    )
    name = ctx.lift(course.movement)
    return LiftReport(sentence, LiftChart(name, drawn(lift_drawing(words, name, course, size, ctx.accent), ctx.theme)))


def _worth(words: Words, one: WeekEstimate) -> str:
    mass = words.mass(one.estimate)
    return words("report.lifts.least", mass=mass) if one.least else mass


def _details(ctx: ReportContext) -> DetailPage:
    written, remark = notes(ctx)
    return DetailPage(
        title=ctx.words("report.records"),
        tables=(records_table(ctx), missed_table(ctx)),
        notes_title=ctx.words("report.notes") if written else "",
        notes=written,
        notes_remark=remark,
        unread=unread_table(ctx),
    )
