"""The drills: when each walkout and pin squat comes, how heavy and how high, behind which gates."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from builder.pages.coach_pages import Flow, flow
from builder.pages.context import Context
from builder.pages.figures.draw import Drawing
from builder.pages.figures.page import drawn
from builder.pages.figures.pins import PinPoint, pin_text, pins_drawing
from builder.pages.model import Section
from builder.pages.names import DRILLS, session_anchor
from builder.pages.reasons import exact_share, reason_sentence
from builder.plan.model import PlannedSession, PlannedSlot, Reason
from builder.training.loading import side_text
from builder.words import unbroken

TEXT = "drills"
"""The text for every drill; that of one stands under its own name."""
GATES = ("safeties", "spotter", "empty", "stop")


@dataclass(frozen=True, slots=True)
class DrillDay:
    """A drill on one day of the plan."""

    session: PlannedSession
    slot: PlannedSlot


@dataclass(frozen=True, slots=True)
class DrillRow:
    """A day of a drill; its first cell leads to the session."""

    link: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DrillTable:
    """One drill of one lift: its schedule, what limits it, and the heights of its pins."""

    title: str
    head: tuple[str, ...]
    rows: tuple[DrillRow, ...]
    notes: tuple[str, ...]
    chart: Drawing | None
    caption: str


@dataclass(frozen=True, slots=True)
class DrillPage:
    """All drills of the block."""

    title: str
    lead: str
    gates_title: str
    gates: tuple[str, ...]
    tables: tuple[DrillTable, ...]
    text: Flow


def drill_sections(ctx: Context) -> tuple[Section, ...]:
    """The drill pages; none when the plan has no drills."""
    groups: dict[tuple[str, str], list[DrillDay]] = {}
    for kind, day in _days(ctx):
        groups.setdefault((kind, day.slot.movement), []).append(day)
    if not groups:
        return ()
    words = ctx.words
    names = (TEXT, *dict.fromkeys(kind.replace(" ", "-") for kind, _ in groups))
    text = "\n".join(ctx.texts.markdown[name] for name in names)
    page = DrillPage(
        words("drills.title"),
        words("drills.lead"),
        words("drills.gates"),
        tuple(words(f"drills.gate.{code}") for code in GATES),
        tuple(_table(ctx, kind, movement, days) for (kind, movement), days in groups.items()),
        flow(words, TEXT, text),
    )
    return (Section(DRILLS, page.title, "drills", page),)


def _days(ctx: Context) -> Iterator[tuple[str, DrillDay]]:
    for session in ctx.plan.sessions():
        for slot in session.slots:
            if slot.drill is not None:
                yield slot.drill, DrillDay(session, slot)


def _table(ctx: Context, kind: str, movement: str, days: list[DrillDay]) -> DrillTable:
    words = ctx.words
    pinned = all(day.slot.pin is not None for day in days)
    columns = ("week", "day", "share", "load", "side", "sets", *(("pins",) if pinned else ()))
    notes: dict[Reason, None] = dict.fromkeys(note for day in days for note in day.slot.notes)
    points = tuple(PinPoint(day.session.on, day.slot.pin, _load(day.slot)) for day in days if day.slot.pin is not None)
    chart = pins_drawing(words, movement, points, ctx.sheet.width, ctx.accent) if pinned else None
    chart = drawn(chart, ctx.theme) if chart else None
    return DrillTable(
        words("drills.of", drill=words(f"drill.{kind.replace(' ', '-')}"), lift=words.movement(movement)),
        tuple(words(f"drills.{column}") for column in columns),
        tuple(DrillRow(f"#{session_anchor(day.session)}", _cells(ctx, day, pinned)) for day in days),
        tuple(reason_sentence(words, note) for note in notes),
        chart,
        words("drills.pins.caption"),
    )


def _load(slot: PlannedSlot) -> Decimal | None:
    rung = slot.work[0].rung
    return rung.mass if rung is not None else None


def _date(ctx: Context, on: date) -> str:
    """The date of a drill; where letters are large, the day of the week would break it in three."""
    words = ctx.words
    return words("drills.on", day=on.day, month=words.month(on)) if ctx.sheet.enlarged else words.day(on)


def _cells(ctx: Context, day: DrillDay, pinned: bool) -> tuple[str, ...]:
    words, first = ctx.words, day.slot.work[0]
    rung = first.rung
    work = (
        words("drills.holds", sets=len(day.slot.work), seconds=first.seconds)
        if first.seconds is not None
        else words("drills.reps", sets=len(day.slot.work), reps=first.reps)
    )
    cells = (
        str(day.session.week),
        unbroken(_date(ctx, day.session.on)),
        exact_share(words, first.share) if first.share is not None else words("figure.none"),
        words.mass(rung.mass) if rung else words("drills.feel"),
        (words.plates(side_text(rung)) or words("side.none")) if rung else words("figure.none"),
        unbroken(work),
    )
    return (*cells, pin_text(words, day.slot.pin)) if pinned and day.slot.pin is not None else cells
