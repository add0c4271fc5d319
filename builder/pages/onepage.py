"""A session on one page: every lift with its load, its plates and a box a set, as roomy as the page allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from builder.pages.columns import (
    ASKED,
    ASKED_GAP,
    DENSITIES,
    HEAD,
    HEAD_UP,
    NOTE_GAP,
    NOTE_LEAST,
    NOTE_MOST,
    Columns,
    columns,
)
from builder.pages.day import Session, about, cautions, section
from builder.pages.lifts import Lift, lift
from builder.pages.log import asked, asked_names, box_fields, jot_field, note_field, session_fields
from builder.pages.model import Edition, Section
from builder.pages.names import session_title, session_tone, week_anchor
from builder.pages.paging import Run, shared_out
from builder.pages.sheet import Density, Sheet, text_lines
from builder.values.fields import FieldSpec, SetField, parse
from builder.words import Words

CAUTION = 3.6
"""mm of a line of what holds for the whole session."""
SPARE_MOST, FULL = 7.0, 0.1
"""mm that go under a lift at most from what its page has left, and mm that are kept free."""
UNSPENT = 10.0
"""mm of a large page that no gap is given: words behind long plates may turn over, which is not counted."""
LONG_TITLE = 27


@dataclass(frozen=True, slots=True)
class AskedBox:
    """Something asked once a session: its caption, its field and the width of its box in mm."""

    caption: str
    name: str
    width: float


@dataclass(frozen=True, slots=True)
class OnePage:
    """One page of a session with plan and log; `part` is "1/2" when it goes on, `note_mm` 0 means no note here.

    With `beside` the log stands beside the plan. `across` is how many cells a line with a load has. `callouts` number
    the parts of a lift by code; only in a guide, where nothing is `live`: its boxes are no fields.
    """

    title: str
    long: bool
    kicker: str
    week: str
    week_link: str
    minutes: str
    tone: str
    badge: str
    part: str
    about: str
    lifts: tuple[Lift, ...]
    spare: float
    cautions: tuple[str, ...]
    asked: tuple[AskedBox, ...]
    beside: bool
    across: int
    note: str
    note_mm: float
    said: dict[str, str]
    callouts: dict[str, int] = field(default_factory=dict)
    live: bool = True


def on_one_page(whole: Session) -> Iterator[Section]:
    """The page of a session; more than one where its lifts need them."""
    runs = shared_out(
        whole.numbers, whole.plan.slots, lambda run: _height(whole, run, DENSITIES[-1]) / _room(whole.ctx.sheet)
    )
    for index in range(len(runs)):
        page = _page(whole, runs, index)
        yield replace(section(whole, "session_page", page, index, specs=_fields(whole, page)), running="")


def _room(page: Sheet) -> float:
    return page.height - FULL


def _lifts(whole: Session, run: Run, density: Density) -> tuple[Lift, ...]:
    return tuple(lift(whole.ctx, whole.plan, number, density) for number in run)


def _height(whole: Session, run: Run, density: Density) -> float:
    """mm that the lifts take with the head, what holds for the whole session, and the least of a note."""
    return _around(whole) + sum(one.height for one in _lifts(whole, run, density))


def _around(whole: Session) -> float:
    page = whole.ctx.sheet
    told = page.about.height(about(whole), page.width) + (1.0 if about(whole) else 0.0)
    told += sum(text_lines(text, page.width - 4, page.caution.points) * CAUTION + 1.4 for text in cautions(whole))
    return HEAD - HEAD_UP + told + NOTE_GAP + NOTE_LEAST


def _page(whole: Session, runs: tuple[Run, ...], index: int) -> OnePage:
    ctx, session, words, run = whole.ctx, whole.plan, whole.ctx.words, runs[index]
    first, last = index == 0, index == len(runs) - 1
    room = _room(ctx.sheet)
    density = next((one for one in DENSITIES if _height(whole, run, one) <= room), DENSITIES[-1])
    at = columns(ctx.sheet)
    kept = UNSPENT if at.beside else 0.0
    lifts, left = _lifts(whole, run, density), max(room - _height(whole, run, density) - kept, 0.0)
    spare = round(min(left / len(run), SPARE_MOST), 2)
    title, tone = session_title(session, words), session_tone(whole.week, session)
    return OnePage(
        title=title,
        long=len(title) > LONG_TITLE,
        kicker=words.day(session.on),
        week=words("week.title", week=session.week),
        week_link=week_anchor(session.week) if ctx.edition is Edition.PERSONAL else "",
        minutes=words("session.minutes", minutes=session.minutes),
        tone=tone,
        badge=words(f"tone.{tone}") if tone != "training" else "",
        part=words("session.part.short", part=index + 1, parts=len(runs)) if len(runs) > 1 else "",
        about=about(whole) if first else "",
        lifts=lifts,
        spare=spare,
        cautions=cautions(whole) if last else (),
        asked=_asked(whole, words) if first else (),
        beside=at.beside,
        across=cells_across(at),
        note=note_field(session, words).name if last else "",
        note_mm=round(min(NOTE_LEAST + left - spare * len(run), NOTE_MOST), 2) if last else 0,
        said=said_once(words),
    )


def _asked(whole: Session, words: Words) -> tuple[AskedBox, ...]:
    zoom = whole.ctx.sheet.zoom if whole.ctx.sheet.enlarged else 1.0
    widths = (round(width / min(zoom, 1.25), 2) for width in ASKED)
    return tuple(
        AskedBox(caption, name, width)
        for caption, name, width in zip(asked(words), asked_names(whole.plan), widths, strict=True)
    )


def cells_across(at: Columns) -> int:
    """How many cells a line with a load has: plates beside the plan have a line of their own."""
    return 4 if at.beside else 5


def said_once(words: Words) -> dict[str, str]:
    """The words that every lift has."""
    keys = {
        "caution": "mark.caution", "today": "log.today", "load": "log.load",
        "jot": "log.column.note", "note": "log.note",
    }  # fmt: skip
    return {key: words(word) for key, word in keys.items()}


def _fields(whole: Session, page: OnePage) -> tuple[FieldSpec, ...]:
    session, words = whole.plan, whole.ctx.words
    specs = list(session_fields(session, words)) if page.asked else []
    for one in page.lifts:
        today = [place.set for line in one.lines if line.today and isinstance(place := parse(line.today), SetField)]
        specs += box_fields(session, one.number, today, words)
        specs += [jot_field(session, one.number, words)] if one.jot else []
    if page.note:
        specs.append(note_field(session, words))
    return tuple(specs)


__all__ = ["ASKED_GAP", "OnePage", "on_one_page"]
